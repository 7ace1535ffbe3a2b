package garden

import (
	"cmp"
	"maps"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"sheaf/generator/names"
)

// The genus of a row, as its first word means it: misspelt, in short by the rows above,
// in the plural or in English.

// How a genus is read otherwise than it is written.
const (
	slipOfGenus    = "a slip"
	shortGenus     = "the genus in short"
	vernacular     = "its English name"
	pluralOfGenus  = "a plural"
	beginsTheGenus = "how the genus begins"
	plainLetters   = "its plain letters"
)

// genus finds the genus that the first word of a row means, in small letters; ""
// when nobody can tell.
func (x *keys) genus(words []string, list *wordsOfList, at int) (genus, how string) {
	first := strings.ToLower(names.Folded(words[0]))
	next := epithetOf(words[1:])
	if short, ok := strings.CutSuffix(strings.ToLower(words[0]), "."); ok || utf8.RuneCountInString(words[0]) == 1 {
		return x.abbreviated(short, next, list, at), shortGenus
	}
	switch {
	case !isWord(words[0]), hybridGenus.MatchString(words[0]):
		return "", ""
	case (next == "" || strings.IndexAny(words[1], "'‘’\"“”„«»") == 0) && x.otherwise(first):
		return x.english().genera[first], vernacular
	case x.held(first) && first == strings.ToLower(words[0]):
		return first, ""
	case x.held(first):
		return first, plainLetters
	}
	_, phrase := x.english().plants[commonKey(strings.Join(words, " "))] // of two plants, so of neither
	english := !x.isCompound(words) && !(phrase && len(words) > 1)
	if g := x.english().genera[first]; g != "" && english {
		return g, vernacular
	}
	for _, one := range singulars(first) {
		if x.held(one) {
			return one, pluralOfGenus
		}
		if g := x.english().genera[one]; g != "" && english {
			return g, vernacular
		}
	}
	if g := x.slipOfGenus(first, next); g != "" {
		return g, slipOfGenus
	}
	const least, most = 6, 4 // letters of the word, and those that may be wanting
	if len(first) >= least && next == "" || len(first) >= least && strings.ContainsAny(words[len(words)-1], "'’\"”“") {
		found := theOne(func(yield func(string) bool) {
			for g := range x.all {
				if len(g)-len(first) <= most && !yield(g) {
					return
				}
			}
		}, first)
		if found != "" {
			return found, beginsTheGenus
		}
	}
	return "", ""
}

// hybridGenus is a genus with its sign: xCupressocyparis.
var hybridGenus = regexp.MustCompile(`^[x×]\p{Lu}`)

// epithetOf gives the epithet that follows a genus, in small letters; "" for a cultivar
// or for words such as spp. Clethra Barbinervis has one, Artemisia Powis Castle none.
func epithetOf(words []string) string {
	for i, w := range words {
		low := strings.TrimSuffix(strings.ToLower(w), ".")
		switch {
		case low == "x" || low == "×":
			continue
		case !isWord(w), aboutKind.MatchString(low), rankWord.MatchString(low):
			return ""
		case w == strings.ToLower(w), latin.MatchString(low) && (i+1 == len(words) || !isWord(words[i+1])):
			return low
		}
		return ""
	}
	return ""
}

// otherwise tells a genus of which the library has single species alone, and whose
// name is what people call another: a row of nasturtium is no watercress.
func (x *keys) otherwise(genus string) bool {
	if g := x.english().genera[genus]; g == "" || g == genus {
		return false
	}
	return len(x.filed(genus).serving) == 0
}

// abbreviated finds the genus of G. or Calam.: one of a row before it that has the
// epithet, the only one of the library that has it, or the only one before it. Of
// several it is none: Penstemon below a Perovskia is no Perovskia.
func (x *keys) abbreviated(short, next string, list *wordsOfList, at int) string {
	if short == "" {
		return ""
	}
	var before []string
	if at < len(list.genera) {
		for _, g := range list.genera[at] {
			if one := strings.TrimSuffix(g, "s"); !x.held(g) && x.held(one) {
				g = one
			} else if !x.held(g) { // a row above may have it misspelt
				g = cmp.Or(x.slipOfGenus(g, ""), g)
			}
			if strings.HasPrefix(g, short) && !slices.Contains(before, g) {
				before = append(before, g)
			}
		}
	}
	for _, g := range before {
		if next != "" && (x.knows(g, next) || list.epithets[g+" "+next]) {
			return g
		}
	}
	holds, several := "", false
	for g := range x.all {
		if next != "" && strings.HasPrefix(g, short) && x.knows(g, next) {
			several, holds = several || holds != "", g
		}
	}
	switch {
	case holds != "" && !several && (len(before) == 0 || slices.Contains(before, holds)):
		return holds
	case len(before) > 0 && next == "":
		return before[0]
	case len(before) == 1 && holds == "": // of two that fit, neither is taken
		return before[0]
	case len(before) > 0 && holds != "" && !several:
		return holds
	case len(short) > 3:
		return theOne(maps.Keys(x.all), short)
	}
	return ""
}

// slipOfGenus finds the genus that a misspelt word is: one whose species the next
// word is, up to three letters away in a long word; else one a slip of the pen
// away, if there is no other; else of a long word one two letters away. Where an
// epithet follows that is none of its own, only what sounds alike is a slip: Cladium
// is no Caladium, nor Moringa a Morina.
func (x *keys) slipOfGenus(first, next string) string {
	const shortest, long, safe, veryLong = 5, 8, 10, 12
	if len(first) < shortest || x.realGenera()[first] {
		return ""
	}
	most := 1
	if len(first) >= long {
		most = 2
	}
	if len(first) >= veryLong {
		most = 3
	}
	alone := x.spelling(first, names.Name{}, nil)
	g := gaugeOf(&alone)
	var holding, sure, likely []string
	genera := x.genera()
	for i := range genera.spellings {
		s := genera.spellings[i]
		n := g.distance(genera, i, most)
		if n > most {
			continue
		}
		if next != "" && (x.knows(s.key, next) || n <= 1 && x.slipOf(s.key, next)) && (n <= 1 || first[0] == s.key[0]) {
			holding = append(holding, s.key)
		}
		switch {
		case s.sound == alone.sound, next == "" && slipped(first, s.key):
			sure = append(sure, s.key)
		case next == "" && n <= 2 && len(first) >= safe && len(s.key) >= safe && first[0] == s.key[0]:
			likely = append(likely, s.key)
		}
	}
	switch {
	case len(holding) == 1:
		return holding[0]
	case len(holding) == 0 && len(sure) == 1 && len(first) > shortest:
		return sure[0]
	case len(holding)+len(sure) == 0 && len(likely) == 1:
		return likely[0]
	}
	return ""
}

// The list's own words, as far as other rows may refer to them.
type wordsOfList struct {
	genera   [][]string // of the rows before each row, the nearest first, each once
	epithets map[string]bool
}

// wordsOf reads the genera and epithets of a list: an epithet is a lower-case word
// behind a genus.
func wordsOf(rows []Row) wordsOfList {
	w := wordsOfList{genera: make([][]string, len(rows)), epithets: map[string]bool{}}
	var before []string
	for i, r := range rows {
		w.genera[i] = before
		f := strings.Fields(r.Plant)
		if len(f) == 0 || !isWord(f[0]) || utf8.RuneCountInString(f[0]) < 4 || strings.HasSuffix(f[0], ".") {
			continue
		}
		genus := strings.ToLower(f[0])
		if len(before) == 0 || before[0] != genus {
			at := slices.Index(before, genus)
			next := make([]string, 0, len(before)+1)
			next = append(next, genus)
			for j, g := range before {
				if j != at && len(next) < mostBefore {
					next = append(next, g)
				}
			}
			before = next
		}
		if len(f) > 1 && isWord(f[1]) && f[1] == strings.ToLower(f[1]) && latin.MatchString(f[1]) {
			w.epithets[genus+" "+f[1]] = true
		}
	}
	return w
}

// epithet finds the one epithet of a genus in the list that begins so.
func (w *wordsOfList) epithet(genus, short string) string {
	return strings.TrimPrefix(theOne(maps.Keys(w.epithets), genus+" "+short), genus+" ")
}

// mostBefore is how many genera an abbreviation may refer back to.
const mostBefore = 40
