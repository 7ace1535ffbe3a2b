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
	held := sync.OnceValue(func() *nursery { return nurseryOf(l) })
	return func(text string) bool { return held().knows(text) }
}

// A nursery is what a library knows by name.
type nursery struct {
	genera map[string]bool
	near   map[string][]string // genera by their first letter
	common map[string]bool
	asked  map[string]bool // genera that are held nearly
}

func nurseryOf(l *entries.Library) *nursery {
	n := &nursery{genera: map[string]bool{}, near: map[string][]string{}, common: map[string]bool{}, asked: map[string]bool{}}
	add := func(genus string) {
		if genus = names.Folded(genus); genus != "" && !n.genera[genus] {
			n.genera[genus] = true
			first, _ := utf8.DecodeRuneInString(genus)
			n.near[string(first)] = append(n.near[string(first)], genus)
		}
	}
	for _, e := range l.Entries {
		add(e.Name.Value.Genus)
		for _, s := range e.Synonyms {
			add(s.Value.Genus)
		}
		for _, c := range e.Common {
			n.common[names.Folded(c)] = true
		}
	}
	for _, r := range l.Regulated {
		for _, p := range r.Plants {
			add(p.Value.Genus)
		}
	}
	return n
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
	case n.genera[first]:
		return true
	case isPlace(text):
		return false
	case n.genera[strings.TrimSuffix(first, "s")], n.common[names.Folded(text)]:
		return true
	case strings.HasSuffix(words[0], ".") && len(words) > 1 && n.abbreviated(first):
		return true
	case n.almost(first), len(words) == 1 && genusAlone.MatchString(words[0]):
		return true
	}
	return isBinomial(words)
}

// abbreviated tells the beginning of a genus: G. macrorrhizum, Calam. Karl F.
func (n *nursery) abbreviated(short string) bool {
	if short == "" || short[0] >= '0' && short[0] <= '9' {
		return false
	}
	first, _ := utf8.DecodeRuneInString(short)
	for _, g := range n.near[string(first)] {
		if strings.HasPrefix(g, short) {
			return true
		}
	}
	return false
}

// almost tells a genus that is misspelt.
func (n *nursery) almost(word string) bool {
	if known, asked := n.asked[word]; asked {
		return known
	}
	found := false
	first, _ := utf8.DecodeRuneInString(word)
	for _, g := range n.near[string(first)] {
		if found = slipped(word, g); found {
			break
		}
	}
	n.asked[word] = found
	return found
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
