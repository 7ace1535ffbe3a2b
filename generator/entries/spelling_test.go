package entries

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"sheaf/generator/fields"
	"sheaf/generator/measure"
	"sheaf/generator/prose"
	"sheaf/generator/site"
	"sheaf/generator/source"
	"sheaf/generator/words/wordstest"
)

const someWords = `words:
  autumn: fall
  autumn fern: autumn fern
  colour: color
  grey: gray
  leaf mould: leaf mold
  mould: mold
  secateurs: hand pruners
  bonfire: open fire
  council: city or county
  round the: around the
  round the sides: round the sides
`

func spelling(t *testing.T, text string) (*Spelling, source.Diagnostics) {
	t.Helper()
	return ParseSpelling(source.NewFile("spellings/en-US.yaml", []byte(text)))
}

func TestSpelling(t *testing.T) {
	s, ds := spelling(t, someWords)
	if len(ds) > 0 {
		t.Fatal(ds)
	}
	for in, want := range map[string]string{
		"Cut in autumn.":               "Cut in fall.",
		"Autumn comes.":                "Fall comes.",
		"AUTUMN":                       "FALL",
		"an autumn, An autumn":         "a fall, A fall",
		"Light a bonfire.":             "Light an open fire.",
		"grey-green leaf mould":        "gray-green leaf mold",
		"Ask the council’s office.":    "Ask the city or county’s office.",
		"autumnalis, discolour":        "autumnalis, discolour", // whole words
		"Sesleria ‘Autumn Grey’, grey": "Sesleria ‘Autumn Grey’, gray",
		"the council’s autumn":         "the city or county’s fall",
		"‘grey’ they say":              "‘gray’ they say", // no name: it begins small
		"An autumn fern in autumn":     "An autumn fern in fall",
		"Dig round the clump.":         "Dig around the clump.",
		"Round the sides.":             "Round the sides.",
		"leaf\u00a0mould":              "leaf mold",
		"":                             "",
	} {
		if got := s.Text(in); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
	if got := (*Spelling)(nil).Text("autumn"); got != "autumn" {
		t.Errorf("no spelling gives %q", got)
	}
	own, _ := spelling(t, "words: {autumn: the fall}")
	if got := own.Over(s).Text("grey autumn"); got != "gray the fall" {
		t.Errorf("a library's own words over others give %q", got)
	}
}

func TestSpellingFaults(t *testing.T) {
	for in, want := range map[string]string{
		"words:\n  Autumn: fall\n":   `2:3 spelling/unknown-value`,
		"words:\n  \"-ise\": -ize\n": `2:4 spelling/unknown-value`,
		"words:\n  autumn: ' '\n":    `spelling/no-value`,
		"wrods:\n  autumn: fall\n":   `1:1 spelling/unknown-key`,
	} {
		_, ds := spelling(t, in)
		var told []string
		for _, d := range ds {
			p := d.Span.Pos()
			told = append(told, fmt.Sprintf("%d:%d %s", p.Line, p.Column, d.Code))
		}
		if all := strings.Join(told, "\n"); !strings.Contains(all, want) {
			t.Errorf("%q: told %q, want %q", in, all, want)
		}
	}
}

// TestWorded: what an owner reads is turned; what names a plant, a person, a
// publication, or a group and a job in files is not.
func TestWorded(t *testing.T) {
	words, _ := spelling(t, someWords)
	const text = "Leave 10 cm in autumn, by 12 October."
	const turned = "Leave 4 inches in fall, by October 12."
	body := []prose.Block{prose.Paragraph{Runs: prose.Plain(text)}}
	at := func(s string) source.At[string] { return source.At[string]{Value: s} }
	rule := Rule{Job: at("clear autumn leaves"), How: text, Tools: []string{"secateurs"}, Cautions: []string{text},
		Leave: source.At[measure.Leave]{Value: measure.Leave{Words: "10 cm of stem"}}}
	made := func(in string) Shelf {
		return Shelf{
			About:   About{WrittenFor: site.North, WrittenIn: in},
			Entries: []*Entry{{Common: []string{"grey grass"}, Contributor: "Autumn Grey", Sources: []string{"Autumn colour, 12 October"}, Family: "Poaceae", Rules: []Rule{rule}, Adjust: []Adjust{{Note: text}}, Body: body, Photo: &Photo{Alt: text, Credit: "Autumn Grey"}, GroupName: at("autumn group")}},
			Groups:  []*Group{{Name: at("autumn group"), Summary: text, Rules: []Rule{rule}, Sources: []string{"Autumn colour"}, Body: body}},
			Jobs:    []*Job{{Name: at("clear autumn leaves"), Action: "Clear the autumn leaves off {plant}", Tools: []string{"secateurs"}, Summary: text, Body: body}},
			Regions: []*Region{{Name: "Autumnland", Trees: text, Sources: []string{"Autumn colour"}, Body: body}},
			Pages:   []*Page{{Title: "Autumn", Terms: []fields.Pair{{Key: at("secateurs"), Value: at(text)}}, Hazards: []fields.Pair{{Key: at("grey sap"), Value: at(text)}}, Body: body}},
		}
	}
	was := made(British)
	s := was.Worded(words, measure.US, nil)
	e, g, j, r, p := s.Entries[0], s.Groups[0], s.Jobs[0], s.Regions[0], s.Pages[0]
	for what, pair := range map[string][2]string{
		"common name": {e.Common[0], "gray grass"}, "contributor": {e.Contributor, "Autumn Grey"}, "sources": {e.Sources[0], "Autumn colour, 12 October"},
		"how": {e.Rules[0].How, turned}, "tools": {e.Rules[0].Tools[0], "hand pruners"}, "cautions": {e.Rules[0].Cautions[0], turned},
		"leave": {e.Rules[0].Leave.Value.Words, "4 inches of stem"}, "job of a rule": {e.Rules[0].Job.Value, "clear autumn leaves"},
		"note": {e.Adjust[0].Note, turned}, "body": {prose.Text(e.Body), turned}, "alt": {e.Photo.Alt, turned}, "credit": {e.Photo.Credit, "Autumn Grey"},
		"group of an entry": {e.GroupName.Value, "autumn group"}, "name of a group": {g.Name.Value, "autumn group"}, "a group is called": {g.Called(), "fall group"},
		"summary": {g.Summary, turned}, "rule of a group": {g.Rules[0].How, turned}, "sources of a group": {g.Sources[0], "Autumn colour"},
		"name of a job": {j.Name.Value, "clear autumn leaves"}, "a job is called": {j.Called(wordstest.Of(t, "en-US")), "clear fall leaves"}, "action": {j.Action, "Clear the fall leaves off {plant}"},
		"trees": {r.Trees, turned}, "region": {r.Name, "Autumnland"}, "sources of a region": {r.Sources[0], "Autumn colour"},
		"title": {p.Title, "Fall"}, "term": {p.Terms[0].Key.Value, "hand pruners"}, "meaning": {p.Terms[0].Value.Value, turned},
		"key of a hazard": {p.Hazards[0].Key.Value, "grey sap"}, "hazard": {p.Hazards[0].Value.Value, turned},
	} {
		if got := strings.ReplaceAll(pair[0], "\u00a0", " "); got != pair[1] {
			t.Errorf("%s: %q, want %q", what, got, pair[1])
		}
	}
	if was.Entries[0].Rules[0].How != text || was.Entries[0].Photo.Alt != text || was.Pages[0].Terms[0].Key.Value != "secateurs" {
		t.Error("the shelf itself was changed")
	}
	how := func(s Shelf) string { return strings.ReplaceAll(s.Entries[0].Rules[0].How, "\u00a0", " ") }
	for _, c := range []struct {
		in       string
		spelling *Spelling
		units    measure.Units
		want     string
	}{
		{British, nil, measure.US, "Leave 4 inches in autumn, by 12 October."},
		{British, words, measure.Metric, "Leave 10 cm in fall, by October 12."},
		{British, nil, measure.Metric, text},
		{American, words, measure.US, "Leave 4 inches in autumn, by 12 October."}, // has its own words
		{"", words, measure.US, text},
		{"nl", words, measure.US, text},
	} {
		if got := how(made(c.in).Worded(c.spelling, c.units, nil)); got != c.want {
			t.Errorf("written in %q, units %d: %q, want %q", c.in, c.units, got, c.want)
		}
	}
}

func TestAbout(t *testing.T) {
	for in, want := range map[string]About{
		"written-for: south\nwritten-in: en-gb\n": {site.South, "en-GB"},
		"written-in: nl\n":                        {site.North, "nl"},
		"written-for: north\n":                    {site.North, ""},
	} {
		if got, ds := ParseAbout(source.NewFile("library.yaml", []byte(in))); got != want || len(ds) > 0 {
			t.Errorf("%q is %v, %v, want %v", in, got, ds, want)
		}
	}
	_, ds := ParseAbout(source.NewFile("library.yaml", []byte("written-in: British English\n")))
	if !slices.ContainsFunc(ds, func(d source.Diagnostic) bool { return d.Code == "library/unknown-value" }) {
		t.Errorf("a language that is none: %v", ds)
	}
}
