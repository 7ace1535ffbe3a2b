package garden

import (
	"maps"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"sheaf/generator/entries"
	"sheaf/generator/names"
)

// A misspelt name is told from the name of another plant word by word. To be
// taken for a name of the library, each of its words must be that name's, or
// sound like it, or be one slip of the pen from it. The slips are those a hand
// makes without knowing; a letter changed for any other is none of them, because
// plants are told apart that way: Salvia microphylla and macrophylla, Sesleria
// nitida and rigida, Astrantia major and minor. What is only near is suggested
// and never taken.

// mostSlips is how many words of a name may be misspelt (DESIGN 6: two edits).
const mostSlips = 2

// shortestSlip is how long a word must be for a slip to be sure: one letter of
// four is a quarter of the word, and Rosa, Poa, Ilex and Ulex are near to much.
const shortestSlip = 5

// slipped tells whether one slip makes written of meant: a letter dropped or
// added, two neighbours swapped, e for i or m for n. The first letter stands,
// but for m and n: Potentilla recta and erecta are two plants. A word with
// digits is a breeder's code and has no nearly.
func slipped(written, meant string) bool {
	// Most pairs end here: a list's names are held to thousands of a library's.
	if n := utf8.RuneCountInString(written) - utf8.RuneCountInString(meant); n < -1 || n > 1 {
		return false
	}
	a0, _ := utf8.DecodeRuneInString(written)
	b0, _ := utf8.DecodeRuneInString(meant)
	if a0 != b0 && !alike(a0, b0, "mn") {
		return false
	}
	a, b := []rune(written), []rune(meant)
	if min(len(a), len(b)) < shortestSlip || strings.ContainsFunc(written, unicode.IsDigit) || strings.ContainsFunc(meant, unicode.IsDigit) {
		return false
	}
	for len(a) > 0 && len(b) > 0 && a[0] == b[0] {
		a, b = a[1:], b[1:]
	}
	for len(a) > 0 && len(b) > 0 && a[len(a)-1] == b[len(b)-1] {
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	switch {
	case len(a)+len(b) == 1:
		return true
	case len(a) == 1 && len(b) == 1:
		return alike(a[0], b[0], "mn") || alike(a[0], b[0], "ei")
	}
	return len(a) == 2 && len(b) == 2 && a[0] == b[1] && a[1] == b[0]
}

func alike(a, b rune, pair string) bool {
	return strings.ContainsRune(pair, a) && strings.ContainsRune(pair, b)
}

// letters gives the letters that gardeners write for each other, because most
// languages say them alike. After them a double letter is one.
func letters() *strings.Replacer {
	return strings.NewReplacer(
		"ph", "f", "th", "t", "rh", "r", // Greek letters in Latin dress
		"ae", "e", "oe", "e", // caespitosa, cespitosa, coespitosa
		"y", "i", "j", "i", // sylvestris, silvestris; Buddleja, Buddleia
	)
}

// sound is what is left of a word when letters that sound alike are one letter
// and, of an epithet, the ending that only follows the gender of the genus:
// -us, -um, -a; -is, -e and with them -ensis, -ense. That -ii and -i are one
// comes from the double letter. Names of one genus that differ by no more are
// not two plants: the ICN (Art. 53.2, from memory) rejects the later of two
// names so much alike. A genus keeps its ending, it is part of the word.
func (x *speller) sound(word string, epithet bool) string {
	if strings.ContainsFunc(word, unicode.IsDigit) {
		return word
	}
	s := strings.Join(slices.Compact(strings.Split(x.letters.Replace(word), "")), "")
	if !epithet {
		return s
	}
	for _, e := range [][2]string{{"us", "-us"}, {"um", "-us"}, {"a", "-us"}, {"is", "-is"}, {"e", "-is"}} {
		if stem, ok := strings.CutSuffix(s, e[0]); ok {
			return stem + e[1]
		}
	}
	return s
}

// split parts a key (see [names.Name.Key]) into its words; what stands in
// quotes or brackets is one word, with them.
func split(key string) []string {
	var out []string
	for key = strings.TrimSpace(key); key != ""; {
		end := strings.IndexByte(key, ' ')
		if i := strings.IndexByte("'([", key[0]); i >= 0 {
			end = 2 + strings.IndexByte(key[1:], "')]"[i])
		}
		if end < 0 || end > len(key) {
			end = len(key)
		}
		out = append(out, key[:end])
		key = strings.TrimLeft(key[end:], " ")
	}
	return out
}

// isPhrase tells a word in quotes or brackets.
func isPhrase(word string) bool { return word[0] == '\'' || word[0] == '(' || word[0] == '[' }

// A spelling is one way to write the name of an entry.
type spelling struct {
	key, sound string
	words      []string
	sounds     []string // of each word
	name       names.Name
	entry      *entries.Entry
	species    bool // answers for the cultivars of the species
}

// A speller knows every spelling in the library.
type speller struct {
	letters *strings.Replacer
	all     map[string]*genus // by their names and those of synonyms
	genera  func() *wordlist  // the names of genera
	akin    []*genus          // those near to the last one that was asked for
	akinOf  string
	// epithets of the library: none is a misspelling of another, as macrophylla
	// of microphylla where both are known.
	epithets func() map[string]bool
}

func (x *speller) spelling(key string, n names.Name, e *entries.Entry) spelling {
	s := spelling{key: key, words: split(key), name: n, entry: e}
	for i, w := range s.words {
		s.sounds = append(s.sounds, x.sound(w, i > 0 && !isPhrase(w)))
	}
	s.sound = strings.Join(s.sounds, " ")
	return s
}

// generaSpelt are the names of the genera, in alphabetical order.
func (x *speller) generaSpelt() *wordlist {
	out := &wordlist{}
	for _, name := range slices.Sorted(maps.Keys(x.all)) {
		out.add(x.spelling(name, names.Name{}, nil))
	}
	return out
}

// of gives a genus with its spellings; nil if the library does not have it.
func (x *speller) of(name string) *genus {
	if !x.held(name) {
		return nil
	}
	g := x.filed(name)
	g.spelling.Do(func() {
		for _, l := range g.learnt {
			for _, k := range l.name.Keys() {
				s := x.spelling(k, l.name, l.entry)
				s.species = k == l.name.SpeciesKey()
				if len(s.words) > 1 { // a genus alone is never enough
					g.add(s)
				}
			}
		}
	})
	return g
}

// slips counts the words of written that are misspelt words of meant; more than
// mostSlips when one of them is another word.
func (x *speller) slips(written, meant *spelling) int {
	if len(written.words) != len(meant.words) {
		return mostSlips + 1
	}
	n := 0
	for i := len(written.words) - 1; i >= 0; i-- { // the genus last: it is mostly the same
		w, m := written.words[i], meant.words[i]
		switch phrase := isPhrase(w); {
		case w == m:
			continue
		case phrase != isPhrase(m), phrase && w[0] != m[0]:
			return mostSlips + 1
		case written.sounds[i] == meant.sounds[i]:
		case phrase && slipped(w[1:len(w)-1], m[1:len(m)-1]):
		case !phrase && slipped(w, m) && !(i > 0 && x.epithets()[w]):
		default:
			return mostSlips + 1
		}
		n++
	}
	return n
}

// mend finds the names that a misspelt key is surely meant to be: those with
// the fewest slips, one for each entry; of species only, if so asked.
func (x *speller) mend(keys []string, species bool) []spelling {
	var found []spelling
	best := mostSlips
	for _, key := range keys {
		written := x.spelling(key, names.Name{}, nil)
		outline := outlineOf(&written)
		for _, of := range x.akinTo(&written) {
			for i := range of.spellings {
				s := &of.spellings[i]
				if !of.outlines[i].mayBe(&outline) || species && !s.species {
					continue
				}
				n := x.slips(&written, s)
				if n > best {
					continue
				}
				if n < best {
					found, best = nil, n
				}
				if !slices.ContainsFunc(found, func(f spelling) bool { return f.entry == s.entry }) {
					found = append(found, *s)
				}
			}
		}
	}
	return found
}

// kin finds the entries of the same species, such as a cultivar where the list
// leaves it out, and those of the same genus and cultivar, where it leaves out
// the species.
func (x *speller) kin(key string) []*entries.Entry {
	var out []*entries.Entry
	written := split(key)
	if len(written) < 2 {
		return nil
	}
	last := written[len(written)-1]
	of := x.of(written[0])
	for i := 0; of != nil && i < len(of.spellings) && len(out) < mostNear; i++ {
		s := &of.spellings[i]
		same := written[1] == s.words[1] || isPhrase(last) && last == s.words[len(s.words)-1]
		if same && !slices.Contains(out, s.entry) {
			out = append(out, s.entry)
		}
	}
	return out
}
