package garden

import (
	"strings"
	"unicode"

	"sheaf/generator/entries"
	"sheaf/generator/names"
)

// What people call plants: one word for a genus, some for a plant.

// commonNames are what people call plants.
type commonNames struct {
	genera map[string]string         // genera by one word; "" for what two are called
	plants map[string]*entries.Entry // by [commonKey]; nil for what two are called
}

func commonNamesOf(l *entries.Library) *commonNames {
	out := &commonNames{map[string]string{}, map[string]*entries.Entry{}}
	for _, e := range l.Entries {
		genus := names.Folded(e.Name.Value.Genus)
		for _, c := range e.Common {
			out.plant(commonKey(c), e)
			word := names.Folded(c)
			if e.Serves.Value == "" || strings.Contains(word, " ") || word == "" {
				continue
			}
			if g, taken := out.genera[word]; taken && g != genus {
				out.genera[word] = ""
			} else {
				out.genera[word] = genus
			}
		}
	}
	return out
}

// plant files an entry under a common name. Of two of one genus that share it, the
// one that serves more than its species has it; else neither.
func (c *commonNames) plant(key string, e *entries.Entry) {
	o, taken := c.plants[key]
	switch {
	case !taken || o == e || o != nil && e.Before(o):
		c.plants[key] = e
	case o == nil || o.Before(e):
	case o.Name.Value.Genus != e.Name.Value.Genus || (o.Serves.Value == "") == (e.Serves.Value == ""):
		c.plants[key] = nil
	case o.Serves.Value == "":
		c.plants[key] = e
	}
}

// isCompound tells English names of two words from a genus in English with a
// cultivar: a gentian sage, an oxeye daisy and a spurge laurel are what their last
// word says, or nothing of the two.
func (x *keys) isCompound(words []string) bool {
	if len(words) < 2 {
		return false
	}
	last := strings.ToLower(names.Folded(words[len(words)-1]))
	if second := strings.ToLower(words[1]); isWord(words[1]) && second == words[1] && !aboutKind.MatchString(second) && !x.knows(x.english().genera[strings.ToLower(words[0])], second) {
		return true // an epithet of something else: Croton tiglium is no croton
	}
	if !isWord(words[len(words)-1]) || x.knows(x.english().genera[strings.ToLower(words[0])], last) {
		return false
	}
	_, english := x.english().genera[last]
	_, one := x.english().genera[strings.TrimSuffix(last, "s")]
	return english || one || x.held(last)
}

// byCommonName finds the one entry that goes by the English name at the head of a
// row, and how many words it has: all before a cultivar in quotes. One word is
// left to [keys.genus], but where only one entry has it.
func (x *keys) byCommonName(words []string) (int, *entries.Entry) {
	n := len(words)
	for i, w := range words {
		if strings.ContainsAny(w[:1], "'\"") || strings.HasPrefix(w, "‘") || strings.HasPrefix(w, "“") {
			n = i
			break
		}
	}
	if n == 0 || n > mostCommonWords || n == 1 && x.held(strings.ToLower(names.Folded(words[0]))) {
		return 0, nil
	}
	name := commonKey(strings.Join(words[:n], " "))
	if n == 1 && x.english().genera[name] != "" {
		return 0, nil
	}
	for _, key := range append([]string{name, strings.ReplaceAll(name, " ", "")}, singulars(name)...) {
		if e := x.english().plants[key]; e != nil {
			return n, e
		}
	}
	return 0, nil
}

const mostCommonWords = 5

// singulars are what a word may be the plural of: lilies, phloxes, tulips.
func singulars(word string) []string {
	var out []string
	for _, e := range [][2]string{{"ies", "y"}, {"s", ""}, {"es", ""}} {
		if stem, ok := strings.CutSuffix(word, e[0]); ok {
			out = append(out, stem+e[1])
		}
	}
	return out
}

// commonKey is by what a common name is told: small letters, without what joins
// words or marks a possession.
func commonKey(s string) string {
	var out strings.Builder
	for _, r := range strings.ToLower(names.Folded(s)) { // which leaves apostrophes out
		switch {
		case unicode.IsLetter(r):
			out.WriteRune(r)
		case out.Len() > 0 && !strings.HasSuffix(out.String(), " "):
			out.WriteByte(' ')
		}
	}
	return strings.TrimSuffix(out.String(), " ")
}
