package entries

import (
	"flag"
	"fmt"
	"maps"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"sheaf/generator/measure"
	"sheaf/generator/source"
	"sheaf/generator/source/sourcetest"
	"sheaf/generator/words/wordstest"
)

var update = flag.Bool("update", false, "write the want files anew")

// base is the part of a library that every case shares; a case's own file of
// the same name takes its place.
const base = "testdata/base/library.txtar"

// unpack reads an archive.
func unpack(t testing.TB, name string) *txtar.Archive {
	t.Helper()
	a, err := txtar.ParseFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// put parses one file by the folder it is in and lays it on its shelf; the
// folder above, if any, names the shelf.
func put(shelves map[string]*Shelf, p txtar.File) source.Diagnostics {
	f := source.NewFile(p.Name, p.Data)
	kind := path.Base(path.Dir(p.Name))
	shelf := path.Dir(path.Dir(p.Name))
	s := shelves[shelf]
	if s == nil {
		s = &Shelf{}
		shelves[shelf] = s
	}
	switch kind {
	case "plants":
		e, ds := ParseEntry(f)
		s.Entries = append(s.Entries, e)
		return ds
	case "groups":
		g, ds := ParseGroup(f)
		s.Groups = append(s.Groups, g)
		return ds
	case "jobs":
		j, ds := ParseJob(f)
		s.Jobs = append(s.Jobs, j)
		return ds
	case "regions":
		r, ds := ParseRegion(f)
		s.Regions = append(s.Regions, r)
		return ds
	}
	p2, ds := ParsePage(f)
	s.Pages = append(s.Pages, p2)
	return ds
}

// assemble makes a library of parts. Shelves come in the order of their names,
// the one without a name last.
func assemble(parts []txtar.File) (*Library, source.Diagnostics) {
	var ds source.Diagnostics
	shelves := map[string]*Shelf{}
	for _, p := range parts {
		ds = append(ds, put(shelves, p)...)
	}
	var in []Shelf
	for _, name := range slices.Sorted(maps.Keys(shelves)) {
		if name != "." {
			in = append(in, *shelves[name])
		}
	}
	if s := shelves["."]; s != nil {
		in = append(in, *s)
	}
	l, more := Assemble(in)
	return l, append(ds, more...)
}

// with lays a case's parts over the base.
func with(t testing.TB, parts []txtar.File) []txtar.File {
	out := unpack(t, base).Files
	return append(slices.DeleteFunc(out, func(b txtar.File) bool {
		return slices.ContainsFunc(parts, func(p txtar.File) bool { return p.Name == b.Name })
	}), parts...)
}

// TestDiagnostics holds every archive's small library to the messages in its
// want file.
func TestDiagnostics(t *testing.T) {
	cases, err := filepath.Glob("testdata/*.txtar")
	if err != nil || len(cases) == 0 {
		t.Fatalf("no cases: %v", err)
	}
	for _, name := range cases {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			a := unpack(t, name)
			want := ""
			if i := slices.IndexFunc(a.Files, func(f txtar.File) bool { return f.Name == "want" }); i >= 0 {
				want = string(a.Files[i].Data)
				a.Files = slices.Delete(a.Files, i, i+1)
			}
			_, ds := assemble(with(t, a.Files))
			got := sourcetest.Printed(ds)
			switch {
			case got == want:
			case *update:
				a.Files = append(a.Files, txtar.File{Name: "want", Data: []byte(got)})
				if err := os.WriteFile(name, txtar.Format(a), 0o644); err != nil {
					t.Fatal(err)
				}
			default:
				t.Errorf("got\n%s\nwant\n%s", got, want)
			}
		})
	}
}

// Files that do not fit an archive: too long, or not text.
func TestFilesThatAreNoText(t *testing.T) {
	for code, text := range map[string]string{
		"entry/encoding":  "---\nbotanical: Carex \xe9lata\n---\n",
		"entry/too-large": "---\nbotanical: Carex elata\n---\n" + strings.Repeat("x", 1<<20),
	} {
		_, ds := ParseEntry(source.NewFile("plants/x.md", []byte(text)))
		if !slices.ContainsFunc(ds, func(d source.Diagnostic) bool { return d.Code == code }) {
			t.Errorf("want %s, got\n%s", code, sourcetest.Printed(ds))
		}
	}
}

var (
	// A code in a call that reports: m.Fail(span, "code", …), p.warn(n, "code", …),
	// ds.Add(severity, "entry/code", …); and the keys that are codes themselves.
	codeForms = []*regexp.Regexp{
		regexp.MustCompile(`\.(?:[Ff]ail|[Ww]arn)\((?:[^"\n]|m\.Key\("[a-z-]+"\))*?, "([a-z-]+)",`),
		regexp.MustCompile(`"((?:entry|group|job|region|page)/[a-z-]+)"`),
		regexp.MustCompile(`doc\.kind\+"/([a-z-]+)"`),
		regexp.MustCompile(`(?:length|counted)\([a-z]+, "([a-z-]+)",`),
	}
	codePrinted = regexp.MustCompile(`(?m)\[([a-z]+)/([a-z-]+)\]$`)
)

// TestEveryCodeHasACase finds the codes in the source, so that a new one
// without a case fails.
func TestEveryCodeHasACase(t *testing.T) {
	shown := map[string]bool{"encoding": true, "too-large": true, "too-many": true} // TestFilesThatAreNoText; TestLimits of fields
	cases, _ := filepath.Glob("testdata/*.txtar")
	for _, name := range cases {
		parts := unpack(t, name).Files
		for _, p := range parts {
			if p.Name != "want" {
				continue
			}
			for _, m := range codePrinted.FindAllStringSubmatch(string(p.Data), -1) {
				shown[m[2]], shown[m[1]+"/"+m[2]] = true, true
			}
		}
	}
	found := 0
	files, _ := filepath.Glob("../*/*.go")
	for _, name := range files {
		dir := filepath.Base(filepath.Dir(name))
		if strings.HasSuffix(name, "_test.go") || !slices.Contains([]string{"entries", "fields", "prose"}, dir) {
			continue
		}
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, form := range codeForms {
			for _, m := range form.FindAllSubmatch(text, -1) {
				found++
				if code := string(m[1]); !shown[code] {
					t.Errorf("%s: no case in testdata shows %q", name, code)
				}
			}
		}
	}
	if found < 50 {
		t.Errorf("only %d codes were found in the source: do the patterns still fit?", found)
	}
}

// plants unpacks an archive of good entries that has no want file.
func plants(t testing.TB, name string) *Library {
	t.Helper()
	parts := unpack(t, name).Files
	l, ds := assemble(with(t, parts))
	if len(ds) > 0 {
		t.Fatalf("unexpected\n%s", sourcetest.Printed(ds))
	}
	return l
}

// TestOverlay lays an entry's rules over its group's (DESIGN 3).
func TestOverlay(t *testing.T) {
	l := plants(t, "testdata/overlay/library.txtar")
	if len(l.Entries) != 1 {
		t.Fatalf("%d entries", len(l.Entries))
	}
	e := l.Entries[0]
	var jobs []string
	for _, r := range e.Rules {
		jobs = append(jobs, r.Job.Value)
	}
	// The group's order, without what the entry leaves out; the entry's own
	// jobs follow.
	if got, want := strings.Join(jobs, ", "), "cut back, prune, prune, shear, water"; got != want {
		t.Fatalf("rules %s, want %s", got, want)
	}
	cut := e.Rules[0]
	for _, c := range []struct{ what, got, want string }{
		{"leave: the entry's", cut.Leave.Value.Print(measure.Metric), measure.One(12).Print(measure.Metric)},
		{"when: the group's", cut.When.Value.String(), "4 weeks before first green to first green"},
		{"look-for: the entry's", cut.LookFor, "Yellow tips."},
		{"how: the group's", cut.How, "Cut it."},
		{"why: the group's", cut.Why, "It is dead."},
		{"if-missed: the entry's", cut.IfMissed, "Wait."},
		{"stop-if: the group's", cut.StopIf, "It bleeds."},
		{"postpone-if: the entry's", cut.WaitIf, "It snows."},
		{"tools: the entry's alone", strings.Join(cut.Tools, ", "), "scythe"},
		{"never: the entry's alone", windows(cut), "June"},
		{"cautions add up", strings.Join(cut.Cautions, " "), "Wear gloves. Mind the bees."},
		{"not-before: the entry's", fmt.Sprint(cut.NotBefore), "3"},
		{"every: the group's", fmt.Sprint(cut.Every), "2"},
		{"minutes: the entry's", fmt.Sprint(cut.Minutes), fmt.Sprint(measure.Minutes{Low: 9, High: 11})},
		{"source: the entry's line", sourcetest.Place(cut.Span), "plants/x.md:14:5"},
		{"first of two rules of a job", e.Rules[1].How, "In the first year, a little."},
		{"second of two rules of a job", e.Rules[2].How, "Own second way."},
		{"second keeps the group's year", fmt.Sprint(e.Rules[2].NotBefore), "2"},
		{"the group's rule as it is", sourcetest.Place(e.Rules[3].Span), "groups/reed.md:34:5"},
		{"the entry's own job", e.Rules[4].When.Value.String(), "June to August"},
	} {
		if c.got != c.want {
			t.Errorf("%s: got %q, want %q", c.what, c.got, c.want)
		}
	}
	if got := len(l.Groups[0].Rules[0].Cautions); got != 1 {
		t.Errorf("the group itself has %d cautions after the overlay, want 1", got)
	}
}

func windows(r Rule) string {
	var out []string
	for _, n := range r.Never {
		out = append(out, n.Value.String())
	}
	return strings.Join(out, ", ")
}

// Joining twice gives the same: the parsed files stay as they were.
func TestAssembleTwice(t *testing.T) {
	parts := unpack(t, "testdata/overlay/library.txtar").Files
	shelves := map[string]*Shelf{}
	for _, p := range with(t, parts) {
		put(shelves, p)
	}
	a, _ := Assemble([]Shelf{*shelves["."]})
	b, ds := Assemble([]Shelf{*shelves["."]})
	if len(ds) > 0 || len(a.Entries[0].Rules) != len(b.Entries[0].Rules) || len(b.Entries[0].Rules[0].Cautions) != 2 {
		t.Errorf("the second time %d rules for %d\n%s", len(b.Entries[0].Rules), len(a.Entries[0].Rules), sourcetest.Printed(ds))
	}
}

// The first shelf that has a name wins (DESIGN 3: a user's own comes first).
func TestFirstShelfWins(t *testing.T) {
	l := plants(t, "testdata/overlay/shelves.txtar")
	if len(l.Entries) != 1 || l.Entries[0].Common[0] != "our reed" {
		t.Errorf("got %d entries, first %v", len(l.Entries), l.Entries[0].Common)
	}
	if g := l.Entries[0].Group; g == nil || g.Summary != "Ours." {
		t.Errorf("group %v", g)
	}
}

// Plants of the same height take the job's own minutes: 50 and 120 cm are the
// bounds (TRADE 1.6 and 4.5, estimates).
func TestMinutesFor(t *testing.T) {
	j := Job{Minutes: [3]measure.Minutes{{Low: 1, High: 1}, {Low: 2, High: 2}, {Low: 3, High: 3}}}
	for height, want := range map[float64]float64{1: 1, 50: 1, 50.1: 2, 120: 2, 120.1: 3, 900: 3} {
		if got := j.MinutesFor(height).Low; got != want {
			t.Errorf("%v cm: %v minutes, want %v", height, got, want)
		}
	}
}

func TestVerb(t *testing.T) {
	for action, want := range map[string]string{
		"Cut back {plant}": "Cut back", "Remove old leaves from {plant}": "Remove old leaves", "Take the stems out of {plant}": "Take the stems out",
	} {
		if got := (&Job{Action: action}).Verb(wordstest.English(t)); got != want {
			t.Errorf("%q: %q, want %q", action, got, want)
		}
	}
}

// TestAddresses: files of one name in several folders, or with signs in their
// names that no address has, have addresses that are apart and plain; what was parsed stays as it is.
func TestAddresses(t *testing.T) {
	shelf := func(paths ...string) (s Shelf) {
		for _, p := range paths {
			j, ds := ParseJob(source.NewFile(p, []byte("---\njob: "+p+"\naction: Do {plant}\nfamily: cut\nmark: comb\n---\n")))
			if ds.HasErrors() {
				t.Fatal(sourcetest.Printed(ds))
			}
			s.Jobs = append(s.Jobs, j)
		}
		return s
	}
	first, second := shelf("jobs/comb.md", "jobs/a/comb.md", "jobs/comb-2.md", "jobs/first + last (2).md"), shelf("lib/jobs/comb.md", "jobs/Äste.md")
	want := "comb, comb-2, comb-2-2, comb-3, first---last--2-, Äste"
	for range 2 {
		l, _ := Assemble([]Shelf{first, second})
		var ids []string
		for _, j := range l.Jobs {
			ids = append(ids, j.ID)
		}
		slices.Sort(ids)
		if got := strings.Join(ids, ", "); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
	if first.Jobs[1].ID != "comb" {
		t.Errorf("the parsed job has become %q", first.Jobs[1].ID)
	}
}

// TestVocabulary: each word that files are written in and a booklet prints has a
// text in every language that ships, and no text is of a word that there is not.
func TestVocabulary(t *testing.T) {
	for _, lang := range []string{"en-GB", "en-US", "de"} {
		w := wordstest.Of(t, lang)
		for group, of := range map[string][]string{
			"plants": Types(), "habit": habits(), "light": Light(), "soil": Soil(), "fertility": Fertility(), "exposure": Exposure(),
			"family": families(), "mark": marks(), "if": conditions(),
		} {
			var have []string
			for _, key := range w.Keys() {
				if word, ok := strings.CutPrefix(key, group+"."); ok {
					have = append(have, word)
				}
			}
			want := slices.Sorted(slices.Values(of))
			if !slices.Equal(have, want) {
				t.Errorf("%s: the words of %s are %q, not %q", lang, group, have, want)
			}
		}
	}
}

// FuzzParseEntry: whatever the file holds, no panic, and every message stands
// inside the file.
func FuzzParseEntry(f *testing.F) {
	cases, _ := filepath.Glob("testdata/*.txtar")
	for _, name := range append(cases, "testdata/overlay/library.txtar") {
		parts := unpack(f, name).Files
		for _, p := range parts {
			if strings.HasSuffix(p.Name, ".md") {
				f.Add(string(p.Data))
			}
		}
	}
	parts := unpack(f, base).Files
	f.Fuzz(func(t *testing.T, text string) {
		p := txtar.File{Name: "plants/x.md", Data: []byte(text)}
		_, ds := assemble(append(slices.Clone(parts), p, txtar.File{Name: "groups/x.md", Data: []byte(text)}, txtar.File{Name: "jobs/x.md", Data: []byte(text)}, txtar.File{Name: "regions/x.md", Data: []byte(text)}, txtar.File{Name: "pages/x.md", Data: []byte(text)}))
		for _, d := range ds {
			spans := []source.Span{d.Span}
			for _, r := range d.Related {
				spans = append(spans, r.Span)
			}
			for _, s := range spans {
				if s.File == nil || s.Start < 0 || s.End < s.Start || s.End > len(s.File.Text) {
					t.Errorf("%s points outside a file: %d to %d", d.Code, s.Start, s.End)
				}
			}
		}
		sourcetest.Printed(ds)
	})
}
