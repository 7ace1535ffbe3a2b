// Package names reads and writes the botanical names of cultivated plants as
// the two Codes form them: the ICN (International Code of Nomenclature for
// algae, fungi, and plants) for genus, species and ranks below, the ICNCP
// (International Code of Nomenclature for Cultivated Plants) for cultivars,
// Groups, greges and trade designations. Article numbers in comments are from memory.
//
// In goes one name as a plant list or an entry writes it; out comes a Name,
// what was read differently from what was written, or an error at a byte
// offset. Plant entries and garden lists call Parse and match on the keys;
// booklets and pages call Runs, Plain and Slug, and put names in Order by Filed.
package names

import (
	"strings"
	"unicode/utf8"
)

// Hybrid says whether and where a name carries a hybrid or graft sign.
type Hybrid int

const (
	None    Hybrid = iota
	Species        // nothospecies: Calamagrostis × acutiflora (ICN Art. H.3)
	Genus          // nothogenus: × Fatshedera (ICN Art. H.6)
	Graft          // graft-chimaera: + Laburnocytisus (ICNCP Art. 24)
	Formula        // parents joined by × or + (ICN Art. H.2); only Name.Text is set
)

// Name is one botanical name. It is comparable: names that print alike are
// equal. Apostrophes inside it are kept straight.
type Name struct {
	Hybrid         Hybrid
	Genus, Species string
	Rank, Infra    string // "subsp.", "var.", "f." and the epithet; Rank is empty if none was written
	Grex           string // "Shantung" for Shantung grex
	Group          string // "Lacecap" for Lacecap Group
	Trade          string // trade designation, in capitals: "ROZANNE"
	Cultivar       string // without quotes: "Gerwat"
	Text           string // the whole of a formula, as String prints it
}

// Style is how a Run is set.
type Style int

const (
	Roman     Style = iota
	Italic          // genus and epithets
	SmallCaps       // trade designations; Run.Text is in capitals already
)

// Run is a piece of a printed name in one style.
type Run struct {
	Text  string
	Style Style
}

// IsZero reports whether n names nothing.
func (n Name) IsZero() bool { return n == Name{} }

// IsGenus reports whether n is no more than a genus: it never implies care.
func (n Name) IsGenus() bool {
	return n.Genus != "" && n.Species+n.Grex+n.Group+n.Trade+n.Cultivar+n.Text == ""
}

// Abbreviated is n with its genus by the initial, as a list has it that says the
// whole elsewhere: C. × acutiflora ‘Karl Foerster’. A bare genus and a formula
// stay whole.
func (n Name) Abbreviated() Name {
	if first, size := utf8.DecodeRuneInString(n.Genus); size > 0 && !n.IsGenus() && n.Hybrid != Formula {
		n.Genus = string(first) + "."
	}
	return n
}

// OfSpecies is n without what is below its species, for where there is no room for
// more; a name without a species, and a formula, stay whole.
func (n Name) OfSpecies() Name {
	if n.Species == "" || n.Hybrid == Formula {
		return n
	}
	return Name{Hybrid: n.Hybrid, Genus: n.Genus, Species: n.Species}
}

// String prints n in the one form Parse reads back to n, without repairs unless
// a rank word is lacking: × with a space after it, rank words with a full stop, cultivars in single curly
// quotes, the trade designation before the bracketed cultivar.
func (n Name) String() string {
	var b strings.Builder
	for _, r := range n.Runs() {
		b.WriteString(r.Text)
	}
	return b.String()
}

// Plain is String with straight quotes; × stays ×.
func (n Name) Plain() string { return straight(n.String()) }

// Runs splits String for typesetting: genus and epithets italic; signs, rank
// words, cultivars with their quotes, greges and Groups roman (RHS Recommended
// Style for Printing Plant Names, 2004); trade designations in small capitals,
// never in quotes (ICNCP). The joined texts equal String. Every edition prints
// from these runs: large print sets what is Italic here upright, which the ICN
// allows (its Preface sets no binding style), and text files take String.
func (n Name) Runs() []Run {
	if n.Hybrid == Formula {
		return formulaRuns(n.Text)
	}
	var runs []Run
	add := func(style Style, text string) {
		if text != "" {
			runs = appendRun(runs, style, curly(text), len(runs) > 0)
		}
	}
	switch n.Hybrid {
	case Genus:
		add(Roman, "×")
	case Graft:
		add(Roman, "+")
	}
	add(Italic, n.Genus)
	if n.Hybrid == Species {
		add(Roman, "×")
	}
	add(Italic, n.Species)
	add(Roman, n.Rank)
	add(Italic, n.Infra)
	if n.Grex != "" {
		add(Roman, n.Grex+" grex")
	}
	switch {
	case n.Group != "" && n.Trade+n.Cultivar != "": // in brackets between species and cultivar
		add(Roman, "("+n.Group+" Group)")
	case n.Group != "":
		add(Roman, n.Group+" Group")
	}
	add(SmallCaps, n.Trade)
	switch {
	case n.Trade != "" && n.Cultivar != "":
		add(Roman, "(‘"+n.Cultivar+"’)")
	case n.Cultivar != "":
		add(Roman, "‘"+n.Cultivar+"’")
	}
	return runs
}

// appendRun joins text to runs. The space between two styles goes to the roman
// side where there is one, so that no italic run starts or ends in a space.
func appendRun(runs []Run, style Style, text string, space bool) []Run {
	last := len(runs) - 1
	if space {
		if last >= 0 && runs[last].Style == Roman {
			runs[last].Text += " "
		} else {
			text = " " + text
		}
	}
	if last >= 0 && runs[last].Style == style {
		runs[last].Text += text
		return runs
	}
	return append(runs, Run{text, style})
}

// formulaRuns sets the first word after each sign in italic (a genus, written
// out or as "D.", or an epithet) and every later lower-case word but ranks,
// and words in capitals in small capitals.
func formulaRuns(text string) []Run {
	p := parser{input: text}
	if p.lex() != nil {
		return []Run{{text, Roman}}
	}
	var runs []Run
	first := true
	for _, t := range p.tokens {
		if t.kind == end {
			break
		}
		style := Roman
		switch {
		case t.kind != word:
		case first || isLower(t.text) && rank(t.text) == "":
			style = Italic
		case isCapitals(t.text):
			style = SmallCaps
		}
		if t.kind != open {
			first = t.kind == times || t.kind == plus
		}
		space := t.start > 0 && text[t.start-1] == ' '
		runs = appendRun(runs, style, text[t.start:t.end], space)
	}
	return runs
}

func curly(s string) string { return strings.ReplaceAll(s, "'", "’") }

func straight(s string) string {
	return strings.Map(func(r rune) rune {
		if isQuote(r) {
			return '\''
		}
		return r
	}, s)
}
