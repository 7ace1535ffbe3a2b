package names

import (
	"cmp"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/collate"
	"golang.org/x/text/language"
	"golang.org/x/text/unicode/norm"
)

// Order puts names and other words in the order of a language, word by word:
// Aster comes before Asteromoea.
type Order struct {
	mu   sync.Mutex // of the collators, which write on their own paper
	full *collate.Collator
	base *collate.Collator // sees letters only, not accents or case
}

// NewOrder gives the order of a language written as in BCP 47 ("en-GB"). A
// language that is not known has the order common to most.
func NewOrder(lang string) *Order {
	tag := language.Make(lang)
	return &Order{full: collate.New(tag), base: collate.New(tag, collate.Loose)}
}

// Compare puts a before b (-1), after it (1) or, if they are the same text,
// nowhere (0). Texts the language does not tell apart go by their bytes, so
// that a list comes out alike from whatever order it went in. Names are given
// as Name.Filed, without their signs.
func (o *Order) Compare(a, b string) int {
	o.mu.Lock()
	defer o.mu.Unlock()
	return cmp.Or(o.full.CompareString(a, b), strings.Compare(a, b))
}

// Letter is the heading a text stands under in an index: its first letter or
// digit, without the accent where the language files both together (É under E,
// but in Swedish Å after Z). It is empty for a text without either.
func (o *Order) Letter(s string) string {
	o.mu.Lock()
	defer o.mu.Unlock()
	for _, r := range norm.NFC.String(s) {
		if !isLetterOrDigit(r) {
			continue
		}
		letter := string(unicode.ToUpper(r))
		if plain := foldAccents(letter); o.base.CompareString(letter, plain) == 0 {
			for _, first := range plain {
				return string(unicode.ToUpper(first))
			}
		}
		return letter
	}
	return ""
}
