package generator

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"sheaf/generator/entries"
	"sheaf/generator/measure"
	"sheaf/generator/prose"
	"sheaf/generator/words/wordstest"
)

// british reads the usual pairs of British and American words.
func british(t *testing.T) [][2]string {
	t.Helper()
	text, err := os.ReadFile("testdata/british.txt")
	if err != nil {
		t.Fatal(err)
	}
	var out [][2]string
	for line := range strings.Lines(string(text)) {
		if from, to, ok := strings.Cut(strings.TrimSpace(line), "\t"); ok {
			out = append(out, [2]string{from, to})
		}
	}
	if len(out) < 300 {
		t.Fatalf("only %d pairs were read", len(out))
	}
	return out
}

// said is all that an owner may read of a shelf, for each file.
func said(t *testing.T, s entries.Shelf) map[string][]string {
	out := map[string][]string{}
	rules := func(file string, all []entries.Rule) {
		for _, r := range all {
			out[file] = append(out[file], r.Words()...)
			out[file] = append(append(out[file], r.Tools...), r.Leave.Value.Words)
		}
	}
	for _, e := range s.Entries {
		f := e.File.Path
		out[f] = append(append(out[f], e.Common...), e.Text())
		rules(f, e.Rules)
	}
	for _, g := range s.Groups {
		f := g.File.Path
		out[f] = append(out[f], g.Called(), g.Summary, prose.Text(g.Body))
		rules(f, g.Rules)
	}
	for _, j := range s.Jobs {
		f := j.File.Path
		out[f] = append(append(out[f], j.Called(wordstest.Of(t, "en-US")), j.Action, j.Summary, prose.Text(j.Body)), j.Tools...)
	}
	for _, p := range s.Pages {
		f := p.File.Path
		out[f] = append(out[f], p.Title, prose.Text(p.Body))
		for _, pair := range slices.Concat(p.Terms, p.Hazards, p.Risks) {
			out[f] = append(out[f], pair.Key.Value+": "+pair.Value.Value)
		}
	}
	for _, r := range s.Regions {
		if r.Code == "US" {
			f := r.File.Path
			out[f] = append(out[f], r.NestNote, r.Trees, r.Hedges, r.Waste, r.Aid, prose.Text(r.Body))
		}
	}
	return out
}

// foreign are signs that a text is not for American readers: units, and dates
// with the day first. A letter after figures may be anything but a unit only
// where the library has no such thing.
var foreign = regexp.MustCompile(`\d[\s\x{a0}]?(?:mm|cm|m|km|ml|l|L|kg|g|ha)\b|°[\s\x{a0}]?C|m[²³]|(?i:\b(?:centi|milli|kilo)?(?:metre|meter|litre|liter|gramme)s?\b)|\b\d{1,2}(?:st|nd|rd|th)?(?: of)?[ \x{a0}](?:January|February|March|April|May|June|July|August|September|October|November|December)\b`)

// TestShippedWordsAreAmerican finds a word of the usual pairs in the shipped
// library that its list does not have, and amounts that are not turned.
func TestShippedWordsAreAmerican(t *testing.T) {
	s, ds, err := builtIn().shelf(LibraryFolders(), nothing())
	if err != nil || ds.HasErrors() {
		t.Fatal(err, told(ds))
	}
	if s.WrittenIn != entries.British || s.Spelling == nil {
		t.Fatalf("the shipped library is in %q, with the list %v", s.WrittenIn, s.Spelling)
	}
	kept := regexp.MustCompile(`(?i)\bautumn (?:moor grass|fern|joy|cyclamen|monkshood)\b`) // names under which they are sold
	words := map[string]*regexp.Regexp{}
	for _, pair := range british(t) {
		words[pair[0]] = regexp.MustCompile(`(?i)\b` + regexp.QuoteMeta(pair[0]) + `\b`)
	}
	count := func(texts map[string][]string, tell func(file, what, text string)) (n int) {
		for file, all := range texts {
			for _, text := range all {
				text = kept.ReplaceAllString(text, "")
				lower := strings.ToLower(text)
				for w, form := range words {
					if strings.Contains(lower, w) && form.MatchString(text) {
						n++
						tell(file, w, text)
					}
				}
				if m := foreign.FindString(text); m != "" {
					n++
					tell(file, m, text)
				}
			}
		}
		return n
	}
	if n := count(said(t, s), func(string, string, string) {}); n < 500 {
		t.Errorf("only %d British words and metric amounts were found in the library as it is written: does the test still look?", n)
	}
	count(said(t, s.Worded(s.Spelling, measure.US, nil)), func(file, what, text string) {
		at := max(strings.Index(strings.ToLower(text), strings.ToLower(what))-30, 0)
		t.Errorf("%s: %q is left: …%s", file, what, text[at:min(at+90, len(text))])
	})
}

// TestSpellingOfPairs: each of the usual pairs that the list has is turned into
// its American word.
func TestSpellingOfPairs(t *testing.T) {
	s := ourSpelling()
	n := 0
	for _, pair := range british(t) {
		got := s.Text(pair[0])
		if got != pair[0] {
			n++
		}
		if got != pair[0] && got != pair[1] {
			t.Errorf("%q gives %q, want %q", pair[0], got, pair[1])
		}
	}
	if n < 250 {
		t.Errorf("the list has only %d of the pairs", n)
	}
}
