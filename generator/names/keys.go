package names

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// Key is equal for names that differ only in case, accents, signs (× +), kind
// of quotes, rank words or punctuation. Different cultivars have different
// keys; a Group is told apart from an epithet by brackets, a grex by square
// ones, a cultivar or trade designation by quotes. The key of a formula keeps
// its signs, but not the order of the parents.
func (n Name) Key() string {
	if n.Hybrid == Formula {
		return formulaKey(strings.ToLower(foldAccents(n.Plain())))
	}
	return n.keyOf(n.Group, n.Trade, n.Cultivar)
}

// Keys lists every key n may be known by, Key first: with and without its
// Group, by trade designation and cultivar together and by each alone. A trade
// designation has the key of a cultivar of that name, because lists often put
// selling names in quotes. A last epithet without a rank may be a cultivar that
// lost its quotes and capital: Rosa rugosa alba for 'Alba'. The genus with the
// cultivar alone is not among them: epithets such as 'Alba' recur within a genus.
func (n Name) Keys() []string {
	keys := []string{n.Key()}
	if n.Trade+n.Cultivar == "" {
		if n.Infra != "" && n.Rank == "" && n.Group == "" {
			keys = append(keys, Name{Genus: n.Genus, Species: n.Species, Cultivar: n.Infra}.Key())
		}
		return keys
	}
	for _, group := range []string{n.Group, ""} {
		for _, k := range [][2]string{{n.Trade, n.Cultivar}, {n.Trade, ""}, {"", n.Cultivar}} {
			key := n.keyOf(group, k[0], k[1])
			if k[0]+k[1] != "" && !slices.Contains(keys, key) {
				keys = append(keys, key)
			}
		}
	}
	return keys
}

// SpeciesKey is the key of genus, species and lower rank alone; empty without
// a species epithet, since a genus alone never implies care.
func (n Name) SpeciesKey() string {
	if n.Species == "" {
		return ""
	}
	return fold(n.Genus + " " + n.Species + " " + n.Infra)
}

// BinomialKey is the key of genus and species alone; empty without a species.
func (n Name) BinomialKey() string {
	if n.Species == "" {
		return ""
	}
	return fold(n.Genus + " " + n.Species)
}

func (n Name) keyOf(group, trade, cultivar string) string {
	key := fold(n.Genus + " " + n.Species + " " + n.Infra)
	if n.Grex != "" {
		key += " [" + fold(n.Grex) + "]"
	}
	if group != "" {
		key += " (" + fold(group) + ")"
	}
	for _, s := range []string{trade, cultivar} {
		if s != "" {
			key += " '" + fold(s) + "'"
		}
	}
	return key
}

// formulaKey puts the parents of a formula in the order of the alphabet, as the
// ICN advises (Rec. H.2A), and gives a parent written as "d. grandiflora" the
// genus of the one before it. A formula with brackets or both signs is left as
// it stands.
func formulaKey(text string) string {
	for _, sign := range []string{" × ", " + "} {
		parents := strings.Split(text, sign)
		if len(parents) == 1 || strings.ContainsAny(text, "()") || sign == " × " && strings.Contains(text, " + ") {
			continue
		}
		genus := ""
		for i, parent := range parents {
			first, rest, more := strings.Cut(parent, " ")
			initial, short := strings.CutSuffix(first, ".")
			if short && more && strings.HasPrefix(genus, initial) {
				parents[i], first = genus+" "+rest, genus
			}
			genus = first
		}
		slices.Sort(parents)
		return strings.Join(parents, sign)
	}
	return text
}

// SortKey orders names where no language is known: signs, rank words, case and
// punctuation do not count. The Codes give no sort rule; this is common practice.
func (n Name) SortKey() string { return fold(n.filed()) }

// Filed is the text an Order files n by: SortKey with its accents and capitals,
// which languages sort each in their own way.
func (n Name) Filed() string { return bare(n.filed()) }

func (n Name) filed() string {
	grex, group := n.Grex, n.Group
	if grex != "" {
		grex += " grex"
	}
	if group != "" {
		group += " Group"
	}
	return strings.Join([]string{n.Text, n.Genus, n.Species, n.Infra, grex, group, n.Trade, n.Cultivar}, " ")
}

// Slug is the SortKey for file names and ids: lower-case ASCII and hyphens.
// Letters that have no ASCII form are written as their code point in hex.
func (n Name) Slug() string {
	var b strings.Builder
	for _, r := range n.SortKey() {
		switch {
		case r == ' ':
			b.WriteByte('-')
		case r < unicode.MaxASCII:
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, "%x", r)
		}
	}
	return b.String()
}

// Device tells names that Windows keeps for its devices, whatever their ending:
// no file there can bear them (Microsoft, Naming Files, Paths, and Namespaces).
func Device(name string) bool {
	name, _, _ = strings.Cut(strings.ToLower(name), ".")
	if len(name) == 4 && (strings.HasPrefix(name, "com") || strings.HasPrefix(name, "lpt")) {
		return name[3] >= '0' && name[3] <= '9'
	}
	return slices.Contains([]string{"con", "prn", "aux", "nul"}, name)
}

// Folded is a word as keys have it.
func Folded(word string) string { return fold(word) }

// fold keeps the letters and digits of s in lower case without accents;
// apostrophes and full stops vanish, anything else parts words.
func fold(s string) string {
	if out, ok := foldASCII(s); ok {
		return out
	}
	return bare(strings.ToLower(foldAccents(s)))
}

// foldASCII is fold of a text without accents, as most are: keys are made by
// the thousand.
func foldASCII(s string) (string, bool) {
	out := make([]byte, 0, len(s))
	for i := range len(s) {
		c := s[i]
		switch {
		case c >= utf8.RuneSelf:
			return "", false
		case c == '.' || isQuote(rune(c)):
			continue
		case c >= 'A' && c <= 'Z':
			c += 'a' - 'A'
		case c >= 'a' && c <= 'z' || c >= '0' && c <= '9':
		default:
			if c = ' '; len(out) == 0 || out[len(out)-1] == ' ' {
				continue
			}
		}
		out = append(out, c)
	}
	return string(bytes.TrimRight(out, " ")), true
}

// bare is fold that leaves case and accents alone.
func bare(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r == '.' || isQuote(r):
			return -1
		case unicode.In(r, unicode.L, unicode.M, unicode.N):
			return r
		}
		return ' '
	}, s)
	return strings.Join(strings.Fields(s), " ")
}

// foldAccents removes the accents of Latin letters and spells out the letters
// that do not decompose. Marks of other scripts stay, they make other words.
func foldAccents(s string) string {
	s = strings.Map(func(r rune) rune {
		if r >= 0x300 && r <= 0x36F {
			return -1
		}
		return r
	}, norm.NFKD.String(s))
	return undecomposed.Replace(s)
}

// undecomposed spells out letters that Unicode does not take apart.
var undecomposed = strings.NewReplacer("ß", "ss", "ẞ", "ss", "æ", "ae", "Æ", "ae", "œ", "oe", "Œ", "oe", "ø", "o", "Ø", "o",
	"ł", "l", "Ł", "l", "đ", "d", "Đ", "d", "ð", "d", "Ð", "d", "þ", "th", "Þ", "th", "ı", "i")
