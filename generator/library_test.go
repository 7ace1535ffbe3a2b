package generator

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"sheaf/content"
	"sheaf/generator/care"
	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/prose"
	"sheaf/generator/site"
	"sheaf/generator/source"
	"sheaf/generator/words/wordstest"
)

// These tests hold the shipped library as a whole to DESIGN and to the
// fixtures of TRADE part 8. What they find is printed by file.

// shipped reads the shipped library; change may rewrite a file before it is
// parsed. The shelf has the entries as they are written, the library as joined.
func shipped(t *testing.T, change func(path, text string) string) (entries.Shelf, *entries.Library, source.Diagnostics) {
	t.Helper()
	fsys := content.Library()
	var s shelving
	for _, dir := range LibraryFolders() {
		found, err := markdown(fsys, dir)
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range found {
			f, err := folder{FS: fsys}.read(w.name)
			if err != nil {
				t.Fatal(err)
			}
			if change != nil {
				f = source.NewFile(f.Path, []byte(change(f.Path, string(f.Text))))
			}
			s.parse(dir, f)
		}
	}
	s.place()
	l, more := entries.Assemble([]entries.Shelf{s.shelf})
	return s.shelf, l, append(s.found, more...)
}

func told(ds source.Diagnostics) string {
	var b strings.Builder
	for _, d := range ds.Sorted() {
		p := d.Span.Pos()
		fmt.Fprintf(&b, "%s:%d:%d: %s: %s [%s]\n", d.Span.File.Path, p.Line, p.Column, d.Severity, d.Message, d.Code)
	}
	return b.String()
}

// entry finds a joined entry by its file.
func entry(t *testing.T, l *entries.Library, path string) *entries.Entry {
	t.Helper()
	i := slices.IndexFunc(l.Entries, func(e *entries.Entry) bool { return e.File.Path == "plants/"+path+".md" })
	if i < 0 {
		t.Fatalf("the library has no entry %s", path)
	}
	return l.Entries[i]
}

func TestLibraryHasNoFaults(t *testing.T) {
	_, _, ds := shipped(t, nil)
	if len(ds) > 0 {
		t.Errorf("the shipped library has faults:\n%s", told(ds))
	}
}

// TestNothingIsIdle: every group has an entry, and every job an entry that asks
// for it.
func TestNothingIsIdle(t *testing.T) {
	inv, _, err := TakeInventory("")
	if err != nil {
		t.Fatal(err)
	}
	for _, g := range inv.Groups {
		if g.Entries == 0 {
			t.Errorf("%s: no entry names this group", g.File)
		}
	}
	for _, j := range inv.Jobs {
		if j.Entries == 0 {
			t.Errorf("%s: no entry has this job", j.File)
		}
	}
}

// TestEntriesAreComplete: what a reader needs of every entry.
func TestEntriesAreComplete(t *testing.T) {
	_, l, _ := shipped(t, nil)
	for _, e := range l.Entries {
		var lacks []string
		need := func(ok bool, what string) {
			if !ok {
				lacks = append(lacks, what)
			}
		}
		need(len(e.Sources) > 0, "sources")
		need(len(e.Common) > 0, "a common name")
		need(e.Family != "", "its family")
		need(len(e.Light) > 0 && len(e.Soil) > 0, "light and soil")
		need(e.Zone.Span.File != nil, "its coldest USDA zone")
		if n := len(strings.Fields(prose.Text(e.Body))); n < 12 || n > 180 {
			lacks = append(lacks, fmt.Sprintf("a body of 12 to 180 words: it has %d", n))
		}
		need(len(e.Rules) > 0, "rules")
		for i, r := range e.Rules {
			// Main rules are the first and all that cut or comb.
			if family := l.Job(r.Job.Value).Family; i > 0 && family != "cut" && family != "comb" {
				continue
			}
			for _, f := range []struct{ what, text string }{{"look-for", r.LookFor}, {"why", r.Why}, {"how", r.How}} {
				need(f.text != "", fmt.Sprintf("%s of %q", f.what, r.Job.Value))
			}
		}
		if lacks != nil {
			t.Errorf("%s lacks %s", e.File.Path, strings.Join(lacks, "; "))
		}
	}
	for _, g := range l.Groups {
		if len(g.Sources) == 0 || g.Summary == "" || len(g.Body) == 0 {
			t.Errorf("%s lacks sources, summary or body", g.File.Path)
		}
	}
}

// A number to ring in an emergency, and a word of poisoning.
var emergencyLine = regexp.MustCompile(`^Call \d{2,3}\b.*\b[Pp]oison`)

// TestRegionsAreComplete: each country has a nesting season, its rules, whom to
// ring, a source and the day it was checked, and leaves the last word to others.
func TestRegionsAreComplete(t *testing.T) {
	_, l, _ := shipped(t, nil)
	if len(l.Regions) < 10 {
		t.Errorf("%d regions; 10 are promised", len(l.Regions))
	}
	for _, r := range l.Regions {
		var lacks []string
		need := func(ok bool, what string) {
			if !ok {
				lacks = append(lacks, what)
			}
		}
		need(r.Name != "" && r.Paper != "", "its name and paper")
		need(r.Nest != nil && r.NestNote != "", "a nesting season with a note")
		need(r.Trees != "" && r.Hedges != "" && r.Waste != "", "rules on trees, hedges and waste")
		need(emergencyLine.MatchString(r.Aid), "an emergency number and help with poisoning")
		need(r.Checked >= site.Date(2026, time.November, 25), "the day it was checked")
		need(len(r.Sources) > 0, "sources")
		need(strings.Contains(prose.Text(r.Body), "not legal advice") && strings.Contains(prose.Text(r.Body), "Check with"), "whom to check with")
		for _, text := range []string{r.NestNote, r.Trees, r.Hedges, r.Waste, r.Aid, prose.Text(r.Body)} {
			for _, line := range prose.Sentences(text) {
				need(len(strings.Fields(line)) <= 25, "a shorter sentence for: "+line)
			}
		}
		if lacks != nil {
			t.Errorf("%s lacks %s", r.File.Path, strings.Join(lacks, "; "))
		}
	}
}

// ruleTexts are the words of rules and adjustments that an owner reads.
func ruleTexts(rules []entries.Rule, adjust []entries.Adjust) []string {
	var out []string
	for i := range rules {
		out = append(out, rules[i].Words()...)
	}
	for _, a := range adjust {
		out = append(out, a.Note)
	}
	return out
}

// longestSentence is the most words in a sentence of instruction; plain-language
// guides ask for 15 to 20 (DESIGN 3), and this is where patience ends.
const longestSentence = 24

func TestSentencesAreShort(t *testing.T) {
	s, _, _ := shipped(t, nil)
	texts := map[string][]string{}
	for _, e := range s.Entries {
		texts[e.File.Path] = ruleTexts(e.Rules, e.Adjust)
	}
	for _, g := range s.Groups {
		texts[g.File.Path] = ruleTexts(g.Rules, nil)
	}
	for _, path := range sorted(texts) {
		for _, text := range texts[path] {
			for _, line := range prose.Sentences(text) {
				if n := len(strings.Fields(line)); n > longestSentence {
					t.Errorf("%s: %d words: %s", path, n, line)
				}
			}
		}
	}
}

// No sentence of six words or more stands in two entries: what plants share
// belongs in their group.
func TestNoSentenceTwice(t *testing.T) {
	s, _, _ := shipped(t, nil)
	first := map[string]string{}
	for _, e := range s.Entries {
		for _, text := range append(ruleTexts(e.Rules, e.Adjust), prose.Text(e.Body)) {
			for _, line := range prose.Sentences(text) {
				if len(strings.Fields(line)) < 6 {
					continue
				}
				key := strings.ToLower(line)
				if other := cmp.Or(first[key], e.File.Path); other != e.File.Path {
					t.Errorf("%s and %s both say: %s", other, e.File.Path, line)
				}
				first[key] = e.File.Path
			}
		}
	}
}

func sorted[V any](m map[string]V) []string {
	var keys []string
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// A locality is a garden's site, with monthly normals in °C.
type locality struct {
	name     string
	latitude float64
	min, max [12]float64
}

// Met Office historic station series, means of 1991 to 2020, Manchester of
// 1971 to 2000 (Open Government Licence; STANDARDS 1.8).
func heathrow() locality {
	return locality{"Heathrow", 51.5, [12]float64{2.7, 2.6, 4.1, 6.0, 9.1, 12.0, 14.2, 14.1, 11.6, 8.8, 5.3, 3.1}, [12]float64{8.4, 9.0, 11.7, 15.0, 18.4, 21.6, 23.9, 23.4, 20.2, 15.8, 11.5, 8.8}}
}

func cambridge() locality {
	return locality{"Cambridge", 52.2, [12]float64{1.9, 1.8, 3.1, 4.7, 7.4, 10.5, 12.6, 12.6, 10.5, 7.9, 4.5, 2.2}, [12]float64{7.7, 8.3, 11.0, 14.1, 17.4, 20.4, 23.1, 22.9, 19.6, 15.1, 10.7, 8.0}}
}

func manchester() locality {
	return locality{"Manchester", 53.4, [12]float64{1.5, 1.6, 3.1, 4.5, 7.4, 10.1, 12.4, 12.1, 10.0, 7.2, 3.9, 2.3}, [12]float64{6.9, 7.3, 9.5, 11.9, 15.7, 18.0, 20.3, 20.1, 17.1, 13.5, 9.6, 7.6}}
}

// south moves a place to the other half of the world with the same climate.
func south(p locality) locality {
	out := locality{name: p.name + ", mirrored", latitude: -p.latitude}
	for i := range 12 {
		out.min[(i+6)%12], out.max[(i+6)%12] = p.min[i], p.max[i]
	}
	return out
}

func north() []locality { return []locality{heathrow(), cambridge(), manchester()} }

// tasks dates the rules of one plant at a place, for the years from 2027 on.
func tasks(t *testing.T, l *entries.Library, e *entries.Entry, p locality, country, planted string, years int) []care.Task {
	t.Helper()
	text := fmt.Sprintf("garden: x\nyears: %d\nsite:\n  country: %s\n  latitude: %v\n  normals: {min: %s, max: %s}\nplants:\n  - plant: %q\n    planted: %s\n",
		years, country, p.latitude, figures(p.min), figures(p.max), e.Name.Value.Plain(), planted)
	g, ds := garden.Parse(source.NewFile("garden.yaml", []byte(text)))
	if ds.HasErrors() {
		t.Fatalf("%s: %s", e.File.Path, told(ds))
	}
	// The entry is known: that a list finds it is for other tests.
	l.Fill(e)
	ps := []garden.Planting{{Row: g.Rows[0], Name: e.Name.Value, Entry: e, How: garden.Exact}}
	c, _ := care.Plan(care.Input{Garden: g, Plantings: ps, Library: l, Region: l.Region(country), Climate: g.Place.Climate(), First: site.Date(2027, time.January, 1), Words: wordstest.English(t), English: wordstest.English(t)})
	return slices.DeleteFunc(c.Tasks, func(t care.Task) bool { return t.Settling })
}

func figures(v [12]float64) string {
	return strings.ReplaceAll(fmt.Sprint(v), " ", ", ")
}

const longAgo = "2015-03-20"

// windows gives the windows of one job at a place.
func windows(t *testing.T, l *entries.Library, path, job string, p locality) []care.Task {
	t.Helper()
	out := slices.DeleteFunc(tasks(t, l, entry(t, l, path), p, "GB", longAgo, 1), func(t care.Task) bool { return t.Job.Name.Value != job })
	if out == nil {
		t.Errorf("%s: no task %q at %s", path, job, p.name)
	}
	return out
}

// touches tells whether a window has a day in any of the months.
func touches(task care.Task, months ...time.Month) bool {
	for d := task.From; d <= task.To; d++ {
		if slices.Contains(months, d.Month()) {
			return true
		}
	}
	return false
}

// cuts tells whether an entry has a rule of a job, or of a cutting job for "".
func cuts(l *entries.Library, e *entries.Entry, job string) bool {
	return slices.ContainsFunc(e.Rules, func(r entries.Rule) bool { return r.Job.Value == job })
}

// What is never cut to a stub (TRADE 2.10, the never-cut-hard set: rows 8 to
// 11, 18, 24, 47, 49; TRADE 8) has no cutting rule but for its flower stems.
func TestNeverCutHard(t *testing.T) {
	_, l, _ := shipped(t, nil)
	for _, path := range []string{"grasses/stipa-gigantea", "grasses/carex-testacea", "grasses/helictotrichon-sempervirens"} {
		e := entry(t, l, path)
		if !cuts(l, e, "comb") {
			t.Errorf("%s: is not combed", path)
		}
		for _, r := range e.Rules {
			if l.Job(r.Job.Value).Family == "cut" && r.Job.Value != "remove stems" {
				t.Errorf("%s: has the rule %q", path, r.Job.Value)
			}
		}
	}
	// The deciduous sedge is the one that is cut (TRADE 2.10 row 14, 3.8).
	if !cuts(l, entry(t, l, "grasses/carex-elata-aurea"), "cut back") {
		t.Error("Carex elata is not cut back")
	}
}

// Oriental fountain grass is not cut before late April (Royal Horticultural
// Society, advice 434, by TRADE 2.10 row 40), in the south not before late
// October.
func TestPennisetumIsCutLate(t *testing.T) {
	_, l, _ := shipped(t, nil)
	for _, p := range append(north(), south(heathrow()), south(cambridge())) {
		earliest := site.Date(2027, time.April, 21)
		if p.latitude < 0 {
			earliest = site.Date(2027, time.October, 21)
		}
		for _, task := range windows(t, l, "grasses/pennisetum-orientale", "cut back", p) {
			if task.From < earliest {
				t.Errorf("%s: cut from %s to %s", p.name, task.From, task.To)
			}
		}
	}
}

// Feather reed grass in the south is cut in August and September (TRADE 2.10
// row 5, TRADE 8), in the north in February and March.
func TestCalamagrostis(t *testing.T) {
	_, l, _ := shipped(t, nil)
	for _, c := range []struct {
		place  locality
		months []time.Month
	}{
		{south(cambridge()), []time.Month{time.August, time.September}},
		{south(manchester()), []time.Month{time.August, time.September}},
		{cambridge(), []time.Month{time.February, time.March}},
		{manchester(), []time.Month{time.February, time.March}},
	} {
		for _, task := range windows(t, l, "grasses/calamagrostis-acutiflora", "cut back", c.place) {
			for d := task.From; d <= task.To; d++ {
				if !slices.Contains(c.months, d.Month()) {
					t.Errorf("%s: cut from %s to %s", c.place.name, task.From, task.To)
					break
				}
			}
		}
	}
}

// Lavender is never cut below half its height, always with green leaf left
// (Amateur Gardening, 12 August 2023; Fine Gardening, pruning subshrubs).
func TestLavender(t *testing.T) {
	_, l, _ := shipped(t, nil)
	e := entry(t, l, "shrubs/lavandula-angustifolia")
	if slices.Contains(e.Stands, "bare wood") {
		t.Error("lavender is said to stand a cut into bare wood")
	}
	for _, r := range e.Rules {
		if l.Job(r.Job.Value).Family == "cut" && r.Leave.Value.Fraction < 0.5 && !strings.Contains(r.Leave.Value.Words, "green leaf") {
			t.Errorf("%q leaves %q", r.Job.Value, r.Leave.Span.Text())
		}
	}
	for _, p := range north() {
		for _, task := range windows(t, l, "shrubs/lavandula-angustifolia", "shear", p) {
			if touches(task, time.October, time.November, time.December, time.January, time.February) {
				t.Errorf("%s: sheared from %s to %s", p.name, task.From, task.To)
			}
		}
	}
}

// Months in which the knife stays in its sheath, by TRADE 8.
func TestNotInTheseMonths(t *testing.T) {
	_, l, _ := shipped(t, nil)
	winter := []time.Month{time.December, time.January, time.February}
	for _, c := range []struct {
		path   string
		months []time.Month
	}{
		// Old heads shelter the buds (TRADE 3.2 row 97).
		{"shrubs/hydrangea-macrophylla", winter},
		// Flowers on this year's wood (TRADE 3.2 row 98).
		{"shrubs/hydrangea-paniculata", []time.Month{time.June, time.July, time.August}},
		// Flowers on last year's wood (TRADE 8).
		{"climbers/clematis-montana", winter},
	} {
		e := entry(t, l, c.path)
		for _, p := range north() {
			for _, task := range tasks(t, l, e, p, "GB", longAgo, 1) {
				if task.Job.Family == "cut" && touches(task, c.months...) {
					t.Errorf("%s at %s: %s from %s to %s", c.path, p.name, task.Job.Name.Value, task.From, task.To)
				}
			}
		}
	}
}

// The old leaves of a Lenten rose come off before its flowers, over the
// new year (TRADE 3.1 row 40).
func TestHelleboreWrapsTheYear(t *testing.T) {
	_, l, _ := shipped(t, nil)
	e := entry(t, l, "perennials/helleborus-hybridus")
	var got []string
	for _, task := range tasks(t, l, e, cambridge(), "GB", longAgo, 2) {
		if task.Job.Name.Value == "remove old leaves" {
			got = append(got, task.From.String()+"/"+task.To.String())
		}
	}
	if len(got) != 3 {
		t.Errorf("got %q, want one window a winter", got)
	}
	for _, w := range got {
		from, to := w[5:7], w[16:18]
		if from < "11" || to > "02" {
			t.Errorf("%s does not run over the new year, from November at the earliest to February at the latest", w)
		}
	}
}

// Every spurge warns of its sap and the eyes (Archives of Ophthalmology 118,
// 2000, PubMed 10636407).
func TestEuphorbiaWarnsOfTheEyes(t *testing.T) {
	_, l, _ := shipped(t, nil)
	seen := 0
	for _, e := range l.Entries {
		if e.Name.Value.Genus != "Euphorbia" {
			continue
		}
		seen++
		for _, task := range tasks(t, l, e, cambridge(), "GB", longAgo, 1) {
			if caution := l.Caution("sap eyes"); caution == "" || !slices.Contains(task.Cautions, caution) {
				t.Errorf("%s: %s without the caution", e.File.Path, task.Job.Name.Value)
			}
		}
	}
	if seen == 0 {
		t.Error("no spurge in the library")
	}
}

// Barrenwort keeps its leaves for its first two years (University of
// Washington Botanic Gardens, 30 December 2014; TRADE 8).
func TestEpimedium(t *testing.T) {
	_, l, _ := shipped(t, nil)
	e := entry(t, l, "perennials/epimedium-versicolor")
	var years []int
	for _, task := range tasks(t, l, e, cambridge(), "GB", "2027-03-20", 4) {
		if task.Job.Family == "cut" {
			years = append(years, task.Year)
		}
	}
	if len(years) == 0 || slices.Min(years) < 3 {
		t.Errorf("leaves cut in the years %v", years)
	}
}

// Hedges are trimmed outside March to July, and any cut within the nesting
// season says so (TRADE 5.3; the months are common practice).
func TestHedges(t *testing.T) {
	t.Parallel()
	_, l, _ := shipped(t, nil)
	nesting := []time.Month{time.March, time.April, time.May, time.June, time.July}
	for _, e := range l.Entries {
		if e.Type != "hedge" {
			continue
		}
		for _, p := range north() {
			for _, planted := range []string{longAgo, "2026-11-20"} {
				for _, task := range tasks(t, l, e, p, "GB", planted, 2) {
					warned := slices.ContainsFunc(task.Cautions, func(s string) bool { return strings.HasPrefix(s, "Birds may be nesting") })
					switch {
					case task.Job.Name.Value == "trim" && touches(task, nesting...):
						t.Errorf("%s at %s: trimmed from %s to %s", e.File.Path, p.name, task.From, task.To)
					case task.Job.Family == "cut" && touches(task, nesting...) && !warned:
						t.Errorf("%s at %s: %s from %s to %s without a word of nests", e.File.Path, p.name, task.Job.Name.Value, task.From, task.To)
					}
				}
			}
		}
	}
}

// A hedge cut in May warns in Germany (Federal Nature Conservation Act §39(5):
// 1 March to 30 September).
func TestHedgeInMayInGermany(t *testing.T) {
	_, l, _ := shipped(t, nil)
	in := care.Input{Library: l, Region: l.Region("DE")}
	p := garden.Planting{Entry: entry(t, l, "hedges/carpinus-betulus")}
	for day, want := range map[site.Day]bool{
		site.Date(2027, time.May, 10): true, site.Date(2027, time.March, 1): true, site.Date(2027, time.September, 30): true,
		site.Date(2027, time.October, 1): false, site.Date(2027, time.February, 28): false,
	} {
		if got := in.InNestSeason(&care.Task{Planting: &p, Job: l.Job("trim"), From: day, To: day}); got != want {
			t.Errorf("%s: %v", day, got)
		}
	}
}

// Where published advice disagrees, a comment of the entry or its group keeps
// the doubt for who revises it; the text decides (TRADE 8.1 rows 2 to 6 and 11).
func TestConflictsAreNoted(t *testing.T) {
	_, l, _ := shipped(t, nil)
	for _, path := range []string{"grasses/deschampsia-cespitosa", "grasses/stipa-gigantea", "grasses/nassella-tenuissima", "grasses/festuca-glauca", "grasses/cortaderia-selloana"} {
		e := entry(t, l, path)
		text := string(e.File.Text)
		if e.Group != nil {
			text += string(e.Group.File.Text)
		}
		if !strings.Contains(text, "ractice differs") {
			t.Errorf("%s does not note that practice differs", path)
		}
	}
}

var ownWhen = regexp.MustCompile(`(?m)^    when: .*\n`)

// TestWrongAdviceIsRefused puts wrong advice into the shipped library: each is
// an error of its own (TRADE 8).
func TestWrongAdviceIsRefused(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ path, wrong, code string }{
		{"grasses/stipa-gigantea", "  - job: cut back\n    when: March\n    leave: ground level\n", "entry/evergreen-stub"},
		{"grasses/stipa-gigantea", "  - job: cut back\n    when: March\n    leave: 15 cm\n", "entry/evergreen-stub"},
		{"grasses/carex-testacea", "  - job: cut back\n    when: April\n", "entry/evergreen-stub"},
		{"grasses/miscanthus-sinensis", "  - job: cut back\n    when: November\n", "entry/before-cold"},
		{"grasses/pennisetum-orientale", "    when: late February to March\n", "entry/never-overlap"},
		{"shrubs/lavandula-angustifolia", "  - job: cut back\n    when: April\n    leave: 15 cm\n", "entry/bare-wood"},
		{"shrubs/lavandula-angustifolia", "  - job: shear\n    leave: one third\n", "entry/bare-wood"},
		{"shrubs/hydrangea-macrophylla", "  - job: thin\n    when: January\n", "entry/never-overlap"},
		{"shrubs/hydrangea-paniculata", "  - job: prune\n    when: July\n", "entry/never-overlap"},
		{"climbers/clematis-montana", "  - job: prune\n    when: February\n", "entry/winter-cut"},
		{"hedges/carpinus-betulus", "  - job: trim\n    when: May\n", "entry/never-overlap"},
		{"perennials/helleborus-hybridus", "  - job: remove old leaves\n    when: June\n", "entry/never-overlap"},
	} {
		_, _, ds := shipped(t, func(path, text string) string {
			if path != "plants/"+c.path+".md" {
				return text
			}
			if strings.HasPrefix(c.wrong, "    when:") {
				return ownWhen.ReplaceAllString(text, c.wrong)
			}
			// In front of the entry's own rules, so that it is the one laid
			// over the group's.
			return strings.Replace(text, "\ncare:\n", "\ncare:\n"+c.wrong, 1)
		})
		if !slices.ContainsFunc(ds, func(d source.Diagnostic) bool { return d.Code == c.code }) {
			t.Errorf("%s with\n%swant %s, got\n%s", c.path, c.wrong, c.code, told(ds))
		}
	}
}

// TestJobsAreSaid: each shipped job has a name and an action in every language,
// and there is none of a job that does not ship.
func TestJobsAreSaid(t *testing.T) {
	var jobs []string
	_, l, _ := shipped(t, nil)
	for _, j := range l.Jobs {
		jobs = append(jobs, j.Name.Value)
	}
	for _, lang := range []string{"en-GB", "en-US", "de"} {
		w := wordstest.Of(t, lang)
		for _, group := range []string{"job.", "action."} {
			var said []string
			for _, key := range w.Keys() {
				if job, ok := strings.CutPrefix(key, group); ok {
					said = append(said, job)
					if group == "action." && strings.Count(w.Say(key), "{plant}") != 1 {
						t.Errorf("%s: %s does not name its plant once", lang, key)
					}
				}
			}
			if !slices.Equal(said, jobs) {
				t.Errorf("%s: the jobs of %s are %q, not %q", lang, group, said, jobs)
			}
		}
	}
}
