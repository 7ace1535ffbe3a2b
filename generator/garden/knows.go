package garden

import (
	"regexp"
	"strings"
	"sync"
	"unicode/utf8"

	"sheaf/generator/entries"
	"sheaf/generator/names"
)

// Knows tells, of a library, whether a text is that of a plant: its genus is held or
// nearly, people call a plant so, or it is written as a genus and an epithet are. It
// is for [ReadList], by which a plant is parted from the name of a bed.
//
// What it gives remembers; it is for one list at a time.
func Knows(l *entries.Library) func(string) bool {
	held := sync.OnceValue(func() *nursery { return &nursery{keys: index(l), asked: map[string]bool{}} })
	return func(text string) bool { return held().knows(text) }
}

// A nursery is what a library knows by name, and what a law of some place names.
type nursery struct {
	*keys
	asked map[string]bool // genera that are held nearly
}

func (n *nursery) knows(text string) bool {
	words := strings.Fields(text)
	for len(words) > 1 && (words[0] == "×" || strings.EqualFold(words[0], "x") || words[0] == "+") {
		words = words[1:]
	}
	if len(words) == 0 {
		return false
	}
	first := names.Folded(strings.TrimRight(words[0], ",;:"))
	switch {
	case n.real(first):
		return true
	case isPlace(text):
		return false
	case n.real(strings.TrimSuffix(first, "s")), n.called(text):
		return true
	case strings.HasSuffix(words[0], ".") && len(words) > 1 && n.abbreviated(first):
		return true
	case n.almost(first), len(words) == 1 && genusAlone.MatchString(words[0]):
		return true
	}
	return isBinomial(words)
}

// real tells a genus that is held or regulated.
func (n *nursery) real(genus string) bool { return n.held(genus) || n.realGenera()[genus] }

// called tells what people call some plant.
func (n *nursery) called(text string) bool {
	_, is := n.english().plants[commonKey(text)]
	return is
}

// some tells whether a genus is such.
func (n *nursery) some(is func(genus string) bool) bool {
	for g := range n.all {
		if is(g) {
			return true
		}
	}
	for g := range n.realGenera() {
		if is(g) {
			return true
		}
	}
	return false
}

// abbreviated tells the beginning of a genus: G. macrorrhizum, Calam. Karl F.
func (n *nursery) abbreviated(short string) bool {
	return short != "" && (short[0] < '0' || short[0] > '9') && n.some(func(g string) bool { return strings.HasPrefix(g, short) })
}

// almost tells a genus that is misspelt.
func (n *nursery) almost(word string) bool {
	known, asked := n.asked[word]
	if !asked {
		known = n.some(func(g string) bool { return word != "" && g[0] == word[0] && slipped(word, g) })
		n.asked[word] = known
	}
	return known
}

// genusAlone tells a word that looks like a genus by its ending (common practice, no
// source): Soleiloria is sooner a slip of the pen than a bed.
var genusAlone = regexp.MustCompile(`^\p{L}{3,}(?:ia|us|um|is|dendron|opsis|anthus)$`)

// isBinomial tells a genus with a Latin epithet, or with a cultivar in quotes, of
// whatever plant: "Zelkova serrata", "Zelkova 'Green Vase'".
func isBinomial(words []string) bool {
	if len(words) < 2 || !isWord(words[0]) || utf8.RuneCountInString(words[0]) < 4 || !strings.Contains(strings.ToUpper(words[0][:1]), words[0][:1]) {
		return false
	}
	second := words[1]
	if (second == "x" || second == "×" || second == "X") && len(words) > 2 {
		second = words[2]
	}
	if first, _ := utf8.DecodeRuneInString(second); strings.ContainsRune("'‘\"“„", first) {
		return true
	}
	return isWord(second) && second == strings.ToLower(second) && latin.MatchString(second) && utf8.RuneCountInString(second) > 3
}
