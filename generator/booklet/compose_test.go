package booklet

import (
	"fmt"
	"os"
	"path"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"golang.org/x/tools/txtar"

	"sheaf/generator/care"
	"sheaf/generator/draw"
	"sheaf/generator/entries"
	"sheaf/generator/figure"
	"sheaf/generator/garden"
	"sheaf/generator/measure"
	"sheaf/generator/prose"
	"sheaf/generator/site"
	"sheaf/generator/source"
	"sheaf/generator/theme/themetest"
	"sheaf/generator/words/wordstest"
)

// input reads the garden of testdata with some of its texts replaced, old and
// new in turn. Faults in the files end the test.
func input(t testing.TB, replace ...string) Input {
	t.Helper()
	raw, err := os.ReadFile("testdata/garden.txtar")
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i < len(replace); i += 2 {
		if !strings.Contains(string(raw), replace[i]) {
			t.Fatalf("there is no %q to replace", replace[i])
		}
	}
	var s entries.Shelf
	var gs []*garden.Garden
	var ds source.Diagnostics
	for _, file := range txtar.Parse([]byte(strings.NewReplacer(replace...).Replace(string(raw)))).Files {
		f := source.NewFile(file.Name, file.Data)
		switch path.Base(path.Dir(file.Name)) {
		case "plants":
			put(&s.Entries, &ds)(entries.ParseEntry(f))
		case "groups":
			put(&s.Groups, &ds)(entries.ParseGroup(f))
		case "jobs":
			put(&s.Jobs, &ds)(entries.ParseJob(f))
		case "regions":
			put(&s.Regions, &ds)(entries.ParseRegion(f))
		case "pages":
			put(&s.Pages, &ds)(entries.ParsePage(f))
		default:
			put(&gs, &ds)(garden.Parse(f))
		}
	}
	g := gs[0]
	l, more := entries.Assemble([]entries.Shelf{s})
	ds = append(ds, more...)
	ps, more := garden.Find(g, l, false)
	if g.Kind == garden.Guide {
		ps, more = garden.Choose(g, l, func(*entries.Entry) bool { return true }, false)
	}
	ds = append(ds, more...)
	said := wordstest.English(t)
	if g.Units == measure.US {
		said = wordstest.Of(t, "en-US")
	}
	in := care.Input{Garden: g, Plantings: ps, Library: l, Region: l.Region(g.Country), Climate: g.Place.Climate(), Words: said, English: wordstest.English(t)}
	y, m, _ := g.Date.Civil()
	in.First = site.Date(y, m, 1)
	if g.Kind == garden.Guide {
		in.First = site.Date(y, time.January, 1)
	}
	c, more := care.Plan(in)
	for _, d := range append(ds, more...) {
		// Raw HTML in an entry's text is told of, and left out of the body; so is
		// that a plant with the care of a group has no kin in the library.
		if d.Severity != source.Note && d.Code != "entry/html" && d.Code != "list/no-hazards" {
			t.Fatalf("the garden has a fault: %s [%s]", d.Message, d.Code)
		}
	}
	return Input{Input: in, Calendar: c, Theme: themetest.Fieldbook(t)}
}

// put gives a function that puts one parsed file on its list.
func put[T any](to *[]T, ds *source.Diagnostics) func(T, source.Diagnostics) {
	return func(v T, more source.Diagnostics) { *to, *ds = append(*to, v), append(*ds, more...) }
}

// walk visits every value in a book.
func walk(v reflect.Value, visit func(reflect.Value)) {
	visit(v)
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			walk(v.Elem(), visit)
		}
	case reflect.Struct:
		for field, f := range v.Fields() {
			if !field.IsExported() {
				continue // the words of a language
			}
			walk(f, visit)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			walk(v.Index(i), visit)
		}
	}
}

// texts are all words of a book, those in pictures among them: every string,
// and the runs of a text as one.
func texts(b any) []string {
	var out []string
	walk(reflect.ValueOf(b), func(v reflect.Value) {
		if v.Kind() == reflect.String {
			out = append(out, v.String())
		} else if v.Type() == reflect.TypeFor[[]prose.Run]() {
			out = append(out, prose.String(v.Interface().([]prose.Run)))
		}
	})
	return out
}

// targets are the sections that part of a book leads to.
func targets(b any) []string {
	var out []string
	walk(reflect.ValueOf(b), func(v reflect.Value) {
		if v.Kind() != reflect.Struct {
			return
		}
		switch v := v.Interface().(type) {
		case prose.Run:
			if id, ok := strings.CutPrefix(v.Link, "#"); ok {
				out = append(out, id)
			}
		case TaskLine:
			if v.Plant != "" { // a line for the whole garden leads nowhere
				out = append(out, v.Plant)
			}
		case Called:
			out = append(out, v.ID)
		case Chores:
			out = append(out, v.Job)
		case Ref:
			out = append(out, v.ID)
		case Harm:
			if v.At != "" { // no other section has it
				out = append(out, v.At)
			}
		case ChartDay:
			out = append(out, v.ID)
		case ChartRow:
			out = append(out, v.Plant)
		case Work:
			out = append(out, v.Job)
		case LegendMark:
			out = append(out, v.Job)
		case EntryRow:
			out = append(out, v.Target)
			if v.Last != "" {
				out = append(out, v.Last)
			}
		case IndexRow:
			out = append(out, v.Targets...)
		}
	})
	return out
}

// found lists the blocks of one type in a section.
func found[T Block](s *Section) []T {
	var out []T
	for _, b := range s.Blocks {
		if b, ok := b.(T); ok {
			out = append(out, b)
		}
	}
	return out
}

// lines are the lines of all months for one plant and verb, as they are read.
func lines(b *Book, plant, verb string) []string {
	var out []string
	for _, m := range b.Of(Month) {
		for _, tasks := range found[Tasks](m) {
			for _, l := range tasks.Lines {
				if l.Plant == plant && l.Verb == verb {
					out = append(out, spaced(strings.Join(strings.Fields(fmt.Sprint(m.ID, ": ", l.Verb, " ", l.Rest, "; ", l.Leave, "; ", l.Where, "; ", l.When, "; ", l.Warn)), " ")))
				}
			}
		}
	}
	return out
}

// chores are the lines of all garden days for one plant and verb, as they are read.
func chores(b *Book, plant, verb string) []string {
	var out []string
	for _, s := range b.Of(Day) {
		for _, work := range found[Chores](s) {
			for _, l := range work.Lines {
				if work.Verb != verb || !slices.Contains(targets(l), plant) {
					continue
				}
				var names []string
				for _, p := range l.Plants {
					names = append(names, strings.TrimSpace(p.Common+" "+prose.String(p.Latin)))
				}
				out = append(out, spaced(strings.Join([]string{s.ID + ": " + strings.Join(names, ", "), l.Where, l.Amount, l.Say, l.Look, l.Warn}, "; ")))
			}
		}
	}
	return out
}

// work finds a job on a plant's page.
func work(t *testing.T, b *Book, plant, verb string) Work {
	t.Helper()
	s := b.Find(plant)
	if s == nil {
		t.Fatalf("there is no %s", plant)
	}
	for _, w := range found[Work](s) {
		if w.Verb == verb {
			return w
		}
	}
	t.Fatalf("%s has no work %q", plant, verb)
	return Work{}
}

func ids(ss []*Section) []string {
	var out []string
	for _, s := range ss {
		out = append(out, s.ID)
	}
	return out
}

const court = "Court <i>&amp;</i> yard"

// variants are gardens that must all make a sound book.
func variants() map[string][]string {
	return map[string][]string{
		"as written":       nil,
		"US":               {"date: 2027-03-20", "date: 2027-03-20\nunits: us"},
		"three years":      {"date: 2027-03-20", "date: 2027-03-20\nyears: 3"},
		"by months":        {"date: 2027-03-20", "date: 2027-03-20\nwork: months"},
		"begins in autumn": {"date: 2027-03-20", "date: 2027-10-05"},
		"south":            {"latitude: 53", "latitude: -37"},
		"no region":        {"country: XX", "country: YY"},
		"no first year":    {"library/pages/first-year.md", "library/pages/second-year.md"},
		"no common names":  {"common: [meadow sage]\n", "", "common: [yew hedge]\n", ""},
		"no sources":       {"sources: [A publication]", "sources: [common practice]"},
		"no minutes":       {"minutes: {small: 2, medium: 4, large: 8}\n", ""},
	}
}

// TestLinks: no link leads to a missing section, no two sections share an ID,
// and every plant, garden day and job is reached from all the places a reader looks
// it up. Jobs stand in the contents as one row from the first to the last.
func TestLinks(t *testing.T) {
	for name, replace := range variants() {
		t.Run(name, func(t *testing.T) {
			in := input(t, replace...)
			b := Compose(in)
			have := map[string]bool{}
			for _, s := range b.Sections {
				if have[s.ID] {
					t.Errorf("two sections have the ID %s", s.ID)
				}
				have[s.ID] = true
			}
			for _, id := range targets(b) {
				if !have[id] {
					t.Errorf("a link leads to %q, which is missing", id)
				}
			}
			for _, e := range b.Events() {
				if e.Section != "" && !have[e.Section] {
					t.Errorf("an event leads to %q, which is missing", e.Section)
				}
			}
			reached := map[Kind][]string{}
			for _, s := range b.Sections {
				reached[s.Kind] = append(reached[s.Kind], targets(s)...)
			}
			if got := len(b.Of(Plant)); got != 7 {
				t.Errorf("%d plants: %q", got, ids(b.Of(Plant)))
			}
			for _, s := range b.Of(Plant) {
				from := []Kind{Contents, Glance, Year, Index}
				if slices.ContainsFunc(found[Work](s), func(w Work) bool { return !w.Later }) {
					if from = append(from, Month); in.Garden.Work == garden.ByDay {
						from = append(from, Day)
					}
				}
				for _, k := range from {
					if !slices.Contains(reached[k], s.ID) {
						t.Errorf("%s does not lead to %s", k, s.ID)
					}
				}
			}
			days := b.Of(Day)
			want := len(in.Calendar.Days)
			if in.Garden.Work == garden.ByMonth {
				want = 0
			}
			if len(days) != want || len(in.Calendar.Days) == 0 {
				t.Errorf("%d pages of %d garden days", len(days), len(in.Calendar.Days))
			}
			for _, s := range days {
				for _, k := range []Kind{Contents, Year, Plant} {
					if !slices.Contains(reached[k], s.ID) {
						t.Errorf("%s does not lead to %s", k, s.ID)
					}
				}
			}
			for _, s := range b.Of(JobPage) {
				if !slices.Contains(reached[Index], s.ID) || !within(b, s.ID) {
					t.Errorf("index or contents do not lead to %s", s.ID)
				}
			}
		})
	}
}

// within tells whether a row of the contents leads to a section: it is the row's own,
// or stands between the first and the last of what it names.
func within(b *Book, id string) bool {
	at := func(id string) int { return slices.IndexFunc(b.Sections, func(s Section) bool { return s.ID == id }) }
	for _, list := range found[Entries](b.Find("contents")) {
		for _, r := range list.Rows {
			if r.Target == id || r.Last != "" && at(r.Target) <= at(id) && at(id) <= at(r.Last) {
				return true
			}
		}
	}
	return false
}

// TestSameBook: composing is a function of its input alone.
func TestSameBook(t *testing.T) {
	for name, replace := range variants() {
		in := input(t, replace...)
		first, events := allDrawn(Compose(in))
		second, more := allDrawn(Compose(in))
		if !reflect.DeepEqual(first, second) || !reflect.DeepEqual(events, more) {
			t.Errorf("%s: the same input gave another book", name)
		}
		if second, more = allDrawn(Compose(input(t, replace...))); !reflect.DeepEqual(first, second) || !reflect.DeepEqual(events, more) {
			t.Errorf("%s: the same files gave another book", name)
		}
	}
}

// allDrawn has all pictures of a book drawn and all events written, which can be
// compared.
func allDrawn(b *Book) (*Book, []Event) {
	for at := range b.Sections {
		s := &b.Sections[at]
		for i, block := range s.Blocks {
			switch block := block.(type) {
			case Portrait:
				if block.Drawn != nil { // the picture to a scale, in place of what draws it
					scaled, scale := block.Drawn(figure.Frame{W: 40, H: 30}, 0.1)
					s.Blocks = append(s.Blocks, Figure{Picture: scaled.Drawn(), Ground: scale})
				}
				block.Picture, block.Drawn = block.Picture.Drawn(), nil
				s.Blocks[i] = block
			case Figure:
				block.Picture, block.Screen = block.Picture.Drawn(), block.Screen.Drawn()
				s.Blocks[i] = block
			case Work:
				if block.Picture != nil {
					pic := block.Picture.Drawn()
					block.Picture = &pic
				}
				s.Blocks[i] = block
			}
		}
	}
	events := b.Events()
	b.Events = nil
	return b, events
}

func TestTwoBeds(t *testing.T) {
	const hakone = "plants/hakonechloa-macra-aureola"
	const both = `Hakone <i>grass</i> & “kin”`
	for _, c := range []struct {
		name    string
		replace []string
		want    []string // in the first month
	}{
		{"alike", nil, []string{
			"Cut back " + both + " to 8 to 10 cm; ; " + court + ", 9 plants; Border, 3 plants; 20 March to 20 April;"}},
		{"another height", []string{"  - if: rich soil\n    note", "  - if: shade\n    job: cut back\n    leave: 15 cm\n    note"}, []string{
			"Cut back " + both + " to 15 cm; ; " + court + ", 9 plants; 20 March to 20 April;",
			"Cut back " + both + " to 8 to 10 cm; ; Border, 3 plants; 20 March to 20 April;"}},
		{"another time", []string{"  - if: rich soil\n    note", "  - if: full sun\n    job: cut back\n    when: 25 March to 5 April\n    note"}, []string{
			"Cut back " + both + " to 8 to 10 cm; ; " + court + ", 9 plants; 20 March to 20 April;",
			"Cut back " + both + " to 8 to 10 cm; ; Border, 3 plants; 25 March to 5 April;"}},
		{"not in one bed", []string{"  - if: rich soil\n    note", "  - if: shade\n    job: cut back\n    skip: true\n    note"}, []string{
			"Cut back " + both + " to 8 to 10 cm; ; Border, 3 plants; 20 March to 20 April;"}},
		{"only a note", []string{"  - if: rich soil\n    note", "  - if: shade\n    job: cut back\n    note"}, []string{
			"Cut back " + both + " to 8 to 10 cm; ; " + court + ", 9 plants; Border, 3 plants; 20 March to 20 April;"}},
	} {
		b := Compose(input(t, c.replace...))
		var got []string
		for _, l := range lines(b, hakone, "Cut back") {
			if l, ok := strings.CutPrefix(l, "months/2027-03: "); ok {
				got = append(got, l)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s:\n got %q\nwant %q", c.name, got, c.want)
		}
		if n := len(slices.DeleteFunc(ids(b.Of(Plant)), func(id string) bool { return id != hakone })); n != 1 {
			t.Errorf("%s: %d sections of one plant", c.name, n)
		}
		head := found[Portrait](b.Find(hakone))[0]
		if w := spaced(strings.Join(head.Where, "; ")); w != court+", 9 plants; Border, 3 plants" {
			t.Errorf("%s: where = %q", c.name, w)
		}
	}
}

// TestToldApart: plants that would be called the same bear their cultivar.
func TestToldApart(t *testing.T) {
	for _, c := range []struct {
		name    string
		replace []string
		want    string
	}{
		{"two cultivars of one entry", nil, "meadow sage ‘Blauhuegel’, meadow sage ‘Caradonna’"},
		{"one cultivar", []string{"  - {plant: Salvia nemorosa 'Caradonna', quantity: 5, bed: Border}\n", ""}, "meadow sage"},
		{"entries of their own", []string{"botanical: Salvia nemorosa", "botanical: Salvia nemorosa 'Caradonna'",
			"-- library/plants/taxus.md --", "-- library/plants/other.md --\n---\nbotanical: Salvia nemorosa 'Blauhuegel'\ncommon: [meadow sage]\ntype: perennial\nleaf: deciduous\nhabit: clump\nheight: 45 cm\nspread: 40 cm\ncare-group: cleared in spring\n---\n-- library/plants/taxus.md --"},
			"meadow sage ‘Blauhuegel’, meadow sage ‘Caradonna’"},
		{"a species and its cultivar", []string{"Salvia nemorosa 'Caradonna'", "Salvia nemorosa"}, "meadow sage, meadow sage ‘Blauhuegel’"},
	} {
		b := Compose(input(t, c.replace...))
		var asides []string
		for _, s := range b.Of(Plant) {
			if strings.HasPrefix(s.ID, "plants/salvia") {
				asides = append(asides, s.Aside)
			}
		}
		if got := strings.Join(asides, ", "); got != c.want {
			t.Errorf("%s = %q, want %q", c.name, got, c.want)
		}
	}
}

// TestHazards: the caution for each hazard is on the plant's page even when no work is
// due in the booklet's months: in full, and in a few words for print, which leads to
// the page on safety.
func TestHazards(t *testing.T) {
	b := Compose(input(t))
	safety := texts(b.Find("safety"))
	for id, want := range map[string]struct {
		full  []string
		short string
		warn  []string
	}{
		"plants/euphorbia-characias": {full: []string{"Wear eye protection.", "Keep pets away."},
			short: "Eye protection and gloves: the sap injures eyes. Poisonous to pets."},
		"plants/hakonechloa-macra-aureola": {full: []string{"Wear tough gloves."}, short: "Tough gloves and eye protection: the leaf edges cut."},
		"plants/salvia-nemorosa-caradonna": {},
		"plants/bergenia-cordifolia":       {},
		"plants/astrantia-major": {
			warn: []string{"What this plant can do to people and animals is not known. Wear gloves, and let nobody and no animal eat of it."}},
		"jobs/cut-back":                     {warn: []string{"Mind the blade."}},
		"plants/salvia-nemorosa-blauhuegel": {},
		"plants/taxus-baccata":              {},
		"jobs/divide":                       {},
	} {
		s := b.Find(id)
		if s == nil {
			t.Errorf("there is no %s", id)
			continue
		}
		var got []string
		for _, p := range found[Text](s) {
			if p.Role == Warn {
				got = append(got, prose.String(p.Runs))
			}
		}
		if !slices.Equal(got, want.warn) {
			t.Errorf("%s warns of %q, want %q", id, got, want.warn)
		}
		var harm []Harm
		if want.full != nil {
			harm = []Harm{{Short: want.short, Full: want.full, At: "safety"}}
		}
		if got := found[Harm](s); !reflect.DeepEqual(got, harm) {
			t.Errorf("%s: %q, want %q", id, got, harm)
		}
		for _, full := range want.full { // which print leaves to that page
			if !slices.Contains(safety, full) {
				t.Errorf("the page on safety has not %q", full)
			}
		}
	}
}

// TestWarnOnTheDay: a hedge cut in the nesting season says so in the list of its month
// and on its garden day.
func TestWarnOnTheDay(t *testing.T) {
	b := Compose(input(t, "when: 20 July to 10 August", "when: 5 July to 10 July"))
	listed := lines(b, "plants/taxus-baccata", "Trim")
	if len(listed) != 1 || !strings.HasSuffix(listed[0], "; Look for nests first.") {
		t.Errorf("no word of nests in %q", listed)
	}
	for _, s := range b.Of(Day) {
		trimmed := slices.ContainsFunc(found[Chores](s), func(w Chores) bool { return w.Verb == "Trim" })
		if warned(s, "Look for nests first.") != trimmed {
			t.Errorf("%s: a hedge is trimmed: %v, and its warnings say else", s.ID, trimmed)
		}
	}
}

// warned tells whether a section has a warning of these words.
func warned(s *Section, words string) bool {
	return slices.ContainsFunc(found[Text](s), func(p Text) bool { return p.Role == Warn && prose.String(p.Runs) == words })
}

// TestBothWarningsOnTheDay: of a tall plant cut in the nesting season the list of its
// month says both, who does it and to look for nests, and so does its garden day.
func TestBothWarningsOnTheDay(t *testing.T) {
	b := Compose(input(t, "when: 20 July to 10 August", "when: 5 July to 10 July", "height: 180 cm\nspread: 80 cm", "height: 400 cm\nspread: 80 cm"))
	listed := lines(b, "plants/taxus-baccata", "Trim")
	if len(listed) != 1 || !strings.Contains(listed[0], "qualified person") || !strings.HasSuffix(listed[0], "Look for nests first.") {
		t.Errorf("one warning hides the other in %q", listed)
	}
	days := chores(b, "plants/taxus-baccata", "Trim")
	if len(days) != 1 || !strings.Contains(days[0], "qualified person") || !warned(b.Find(strings.Split(days[0], ":")[0]), "Look for nests first.") {
		t.Errorf("one warning hides the other in %q", days)
	}
}

// TestDangersOnTheDay: a garden day names the plants that can hurt whoever works on
// them, by what they can do, and those of which that is not known.
func TestDangersOnTheDay(t *testing.T) {
	b := Compose(input(t, "Euphorbia characias, quantity: 1", "Euphorbia characias, quantity: 1, planted: 2024-03-20"))
	for id, want := range map[string]string{
		"plants/euphorbia-characias":       "Sap that injures eyes: Euphorbia characias.",
		"plants/hakonechloa-macra-aureola": "Sharp leaf edges: Hakone <i>grass</i> & “kin”.",
		"plants/astrantia-major":           "Not known what it can do: Astrantia major.",
	} {
		on := 0
		for _, s := range b.Of(Day) {
			worked := slices.Contains(targets(found[Chores](s)), id)
			said := slices.ContainsFunc(found[Text](s), func(p Text) bool { return p.Role == Warn && strings.Contains(prose.String(p.Runs), want) })
			if worked {
				on++
			}
			if said != worked {
				t.Errorf("%s: %s is worked on: %v, the day warns of it: %v", s.ID, id, worked, said)
			}
		}
		if on == 0 {
			t.Errorf("%s is worked on on no garden day", id)
		}
	}
}

func TestWhen(t *testing.T) {
	for _, c := range []struct {
		plant, verb string
		replace     []string
		want        string
		later       bool
	}{
		{"salvia-nemorosa-caradonna", "Cut back", nil, "1 July to 31 July", false},
		{"bergenia-cordifolia", "Comb", nil, "15 December 2027 to 20 January 2028", false},
		{"hakonechloa-macra-aureola", "Cut back", []string{"date: 2027-03-20", "date: 2027-03-20\nyears: 2"}, "20 March to 20 April; 10 March to 20 April 2028", false},
		{"hakonechloa-macra-aureola", "Cut back", []string{"date: 2027-03-20", "date: 2027-03-20\nunits: us"}, "March 20 to April 20", false},
		// Planted on the day of the handover, March 2027: years 4 and 3 after
		// planting are 2030 and 2029.
		{"hakonechloa-macra-aureola", "Divide", nil, "From spring 2030, every 3 years: 1 April to 30 April", true},
		{"salvia-nemorosa-caradonna", "Mulch around", nil, "From spring 2029: 1 March to 31 March", true},
		{"salvia-nemorosa-caradonna", "Comb", nil, "Only in year 5 after planting", true},
		{"euphorbia-characias", "Mulch around", nil, "From spring 2030: 1 March to 31 March", true},
		// Due as soon as the booklet reaches as far.
		{"salvia-nemorosa-caradonna", "Mulch around", []string{"date: 2027-03-20", "date: 2027-03-20\nyears: 3"}, "1 March to 31 March 2029", false},
		{"hakonechloa-macra-aureola", "Divide", []string{"date: 2027-03-20", "date: 2027-03-20\nyears: 4"}, "1 April to 30 April 2030", false},
		{"euphorbia-characias", "Mulch around", []string{"Euphorbia characias, quantity: 1", "Euphorbia characias, quantity: 1, planted: 2024-03-20"}, "1 March to 31 March", false},
	} {
		b := Compose(input(t, c.replace...))
		w := work(t, b, "plants/"+c.plant, c.verb)
		if got := spaced(strings.Join(w.When, "; ")); got != c.want || w.Later != c.later {
			t.Errorf("%s %s = %q, %v, want %q, %v", c.verb, c.plant, got, w.Later, c.want, c.later)
		}
		if listed := lines(b, "plants/"+c.plant, c.verb); (listed == nil) != c.later {
			t.Errorf("%s %s: later is %v, and the months list %q", c.verb, c.plant, c.later, listed)
		}
	}
}

// TestGoneByIsLeftOut: a job of one growing year is on the page while that year
// is to come, and on none of an older plant, who would have no date for it.
func TestGoneByIsLeftOut(t *testing.T) {
	has := func(replace ...string) bool {
		for _, w := range found[Work](Compose(input(t, replace...)).Find("plants/salvia-nemorosa-caradonna")) {
			if w.Verb == "Comb" {
				return true
			}
		}
		return false
	}
	if !has() {
		t.Error("year 5 is to come, and the job is not on the page")
	}
	if has("'Caradonna', quantity: 5", "'Caradonna', planted: 2017-03-20, quantity: 5") {
		t.Error("year 5 has gone by, and the job is on the page")
	}
}

// TestMonths: twelve months a year from the handover's on, each with the chart
// of its year.
func TestMonths(t *testing.T) {
	for _, c := range []struct {
		years       int
		date        string
		first, last string
		charts      string
	}{
		{1, "2027-03-20", "months/2027-03", "months/2028-02", "year"},
		{1, "2027-01-31", "months/2027-01", "months/2027-12", "year"},
		{1, "2027-12-01", "months/2027-12", "months/2028-11", "year"},
		{3, "2027-03-20", "months/2027-03", "months/2030-02", "year year-2 year-3"},
	} {
		b := Compose(input(t, "date: 2027-03-20", fmt.Sprintf("date: %s\nyears: %d", c.date, c.years)))
		months := ids(b.Of(Month))
		if len(months) != 12*c.years || months[0] != c.first || months[len(months)-1] != c.last {
			t.Errorf("%d years from %s: %q", c.years, c.date, months)
		}
		if got := strings.Join(ids(b.Of(Year)), " "); got != c.charts {
			t.Errorf("%d years from %s: charts %q", c.years, c.date, got)
		}
		y, m, _ := date(t, c.date).Civil()
		for i, s := range b.Of(Year) {
			chart := found[Chart](s)[0]
			first := time.Date(y+i, m, 1, 0, 0, 0, 0, time.UTC)
			if len(chart.Full) != 12 || len(chart.Months) != 12 || chart.Full[0] != first.Format("January 2006") || chart.Full[11] != first.AddDate(0, 11, 0).Format("January 2006") {
				t.Errorf("%s has the months %q", s.ID, chart.Full)
			}
			bars := 0
			for _, g := range chart.Groups {
				for _, r := range g.Rows {
					for _, bar := range r.Bars {
						bars++
						if !(0 <= bar.From && bar.From < bar.To && bar.To <= 1) {
							t.Errorf("%s: %s runs from %v to %v", s.ID, bar.Label, bar.From, bar.To)
						}
					}
				}
			}
			if bars == 0 {
				t.Errorf("%s has no bars", s.ID)
			}
		}
	}
}

// TestMarkup: what looks like markup in a name is text like any other.
func TestMarkup(t *testing.T) {
	b := Compose(input(t))
	if b.Title != `Tern <b>Cottage</b> & “Sons”` || b.For != "A & B <owners>" || b.By != "<The> designer" {
		t.Errorf("title page: %q, %q, %q", b.Title, b.For, b.By)
	}
	all := texts(b)
	for _, want := range []string{`Hakone <i>grass</i> & “kin”`, court, "Green tips & <b>straw</b>.", "Help <b>", "Ring & ask"} {
		if !slices.Contains(all, want) {
			t.Errorf("%q does not stand in the book as it was written", want)
		}
	}
	for _, s := range all {
		if strings.Contains(s, "&lt;") || strings.Contains(s, "&#") || strings.Contains(s, "&amp;amp;") {
			t.Errorf("escaped before its time: %q", s)
		}
	}
	// Emphasis in prose is style, not stars.
	head := found[Portrait](b.Find("plants/hakonechloa-macra-aureola"))[0]
	want := []prose.Run{{Text: "A low mound, "}, {Text: "golden", Italic: true}, {Text: " in spring."}}
	if !reflect.DeepEqual(head.Look, want) {
		t.Errorf("look = %+v", head.Look)
	}
}

// TestNothingOfTheReport: what is for the designer alone is in no edition.
func TestNothingOfTheReport(t *testing.T) {
	in := input(t)
	r := care.Survey(in.Input, in.Calendar)
	if len(r.Unsuitable) == 0 || len(r.Crowding) == 0 || len(r.Species) == 0 || r.Crowding[0].Ratio <= 1 {
		t.Fatalf("the garden has too little to report: %+v", r)
	}
	private := []string{"Private ask", "Salvia nemorosa, by", " by Salvia", "the plant likes", "unsuitable", "crowd", "covered", "uncovered"}
	for _, c := range r.Crowding {
		private = append(private, fmt.Sprint(c.Ratio))
	}
	for _, row := range slices.Concat(r.Unsuitable, r.Species, r.Hazards, r.Nests) {
		_, after, _ := strings.Cut(row, ": ")
		private = append(private, row, after)
	}
	for _, s := range texts(Compose(in)) {
		for _, p := range private {
			if strings.Contains(strings.ToLower(s), strings.ToLower(p)) {
				t.Errorf("the book says %q, which holds %q of the report", s, p)
			}
		}
	}
}

// TestNoHoles: a sentence that misses a figure or a name is not said.
// TestJobPagesHaveAPicture: each job's page shows the job on a plant of the
// garden, those of the first year too, which no entry asks for.
func TestJobPagesHaveAPicture(t *testing.T) {
	for name, replace := range variants() {
		b := Compose(input(t, replace...))
		pages := b.Of(JobPage)
		if len(pages) == 0 {
			t.Errorf("%s: no page of a job", name)
		}
		for _, s := range pages {
			if n := len(found[Figure](s)); n != 1 {
				t.Errorf("%s: %s has %d pictures", name, s.ID, n)
			}
		}
	}
}

func TestNoHoles(t *testing.T) {
	for name, replace := range variants() {
		b := Compose(input(t, replace...))
		for _, s := range b.Sections {
			for _, p := range found[Text](&s) {
				if said := strings.Trim(prose.String(p.Runs), " ."); said == "" {
					t.Errorf("%s: a paragraph of %s says nothing", name, s.ID)
				}
			}
		}
		for _, s := range texts(b) {
			for _, hole := range []string{" ,", " .", ",.", "..", ": ;", "  ", "%!", "NaN"} {
				if strings.Contains(s, hole) {
					t.Errorf("%s: %q", name, s)
				}
			}
		}
	}
}

// An ID is free, short enough for a file, and no device of Windows.
func TestUnique(t *testing.T) {
	taken := map[string]bool{}
	for _, c := range [][2]string{
		{"beds/yard", "beds/yard"}, {"beds/yard", "beds/yard-2"}, {"beds/yard", "beds/yard-3"},
		{"beds/con", "beds/con-"}, {"beds/con", "beds/con--2"}, {"plants/lpt1", "plants/lpt1-"},
		{"plants/" + strings.Repeat("x", 300), "plants/" + strings.Repeat("x", 113)},
		{"plants/" + strings.Repeat("x", 301), "plants/" + strings.Repeat("x", 113) + "-2"},
		{"plants/" + strings.Repeat("x", 112) + "-y", "plants/" + strings.Repeat("x", 112)},
	} {
		if got := unique(c[0], taken); got != c[1] {
			t.Errorf("%s: %s, want %s", c[0], got, c[1])
		}
	}
}

// TestUnmeasuredPlants: a plant known by its care group alone has an empty outline
// that says so, no picture of a job, and no place in the row on the cover.
func TestUnmeasuredPlants(t *testing.T) {
	b := Compose(input(t))
	s := b.Find("plants/astrantia-major")
	if s == nil {
		t.Fatal("the garden has no plant with the care of a group")
	}
	p := found[Portrait](s)[0].Picture.Drawn()
	if !strings.Contains(p.Desc, "not known") {
		t.Errorf("drawn as %q", p.Desc)
	}
	group, _ := p.Items[0].(draw.Group)
	if !slices.ContainsFunc(group.Items, func(item draw.Item) bool { _, label := item.(draw.Label); return label }) {
		t.Error("the picture itself does not say that it is none")
	}
	for _, w := range found[Work](s) {
		if w.Picture != nil {
			t.Errorf("%s is drawn on a plant nobody has seen", w.Verb)
		}
	}
	drawn := len(b.Of(Plant)) - 1
	if row := found[Figure](b.Find("cover"))[0].Picture.Drawn(); !strings.HasPrefix(row.Desc, fmt.Sprint(drawn)+" plants") {
		t.Errorf("the cover has %q, want %d plants", row.Desc, drawn)
	}
}

// TestSafetyNamesThePlants: the safety page says what to do about each hazard of the
// garden's plants, and which of them can do what and where they stand, each once; and
// nothing of what no plant can do.
func TestSafetyNamesThePlants(t *testing.T) {
	b := Compose(input(t, "when: 20 July to 10 August", "when: 5 July to 10 July"))
	cautions, does := map[string]string{}, map[string]string{}
	for _, f := range found[Facts](b.Find("safety")) {
		for _, r := range f.Rows {
			cautions[r.Label] = prose.String(r.Text)
		}
	}
	for _, f := range found[Terms](b.Find("safety")) {
		for _, r := range f.Rows {
			does[r.Label] = prose.String(r.Text)
		}
	}
	for label, want := range map[string]string{
		"Sap that injures eyes": "Wear eye protection.", "Poisonous to pets": "Keep pets away.", "Sharp leaf edges": "Wear tough gloves.", "Thorns and spines": "",
	} {
		if got := cautions[label]; got != want {
			t.Errorf("%s: %q, want %q", label, got, want)
		}
	}
	want := map[string]string{
		"Sap injures eyes; poisonous to pets:": "Euphorbia characias (Border 3).",
		"Sharp leaf edges:":                    "Hakone <i>grass</i> & “kin” Hakonechloa macra ‘Aureola’ (" + court + " 1, Border 1).",
		"Not known what it can do:":            "Astrantia major (" + court + " 3).",
		"Birds may nest in it when it is cut:": "yew hedge Taxus baccata (Border 4).",
	}
	if !reflect.DeepEqual(does, want) {
		t.Errorf("%q\nwant %q", does, want)
	}
}

// TestQuoted: all that a booklet says has the quotation marks of its language, whatever
// block it stands in.
func TestQuoted(t *testing.T) {
	in := input(t, `sap eyes: Wear eye protection.`, `sap eyes: Wear "goggles".`, "common: [yew hedge]", `common: ['"Irish" yew']`)
	in.Words = wordstest.Of(t, "de")
	b := Compose(in)
	for _, s := range b.Sections {
		for _, text := range texts(s) {
			if strings.ContainsAny(text, "”") {
				t.Errorf("%s says %q", s.ID, text)
			}
		}
	}
}

// TestSubtitle: the cover says for which years the booklet is.
func TestSubtitle(t *testing.T) {
	for replace, want := range map[[2]string]string{
		{"", ""}: "The care of the garden, 2027 and 2028",
		{"date: 2027-03-20\n", "date: 2027-03-20\nyears: 3\n"}: "The care of the garden, 2027 to 2030",
		{"date: 2027-03-20\n", "date: 2027-01-01\n"}:           "The care of the garden, 2027",
	} {
		var in Input
		if replace[0] == "" {
			in = input(t)
		} else {
			in = input(t, replace[0], replace[1])
		}
		if got := Compose(in).Subtitle; got != want {
			t.Errorf("%v: %q, want %q", replace, got, want)
		}
	}
}
