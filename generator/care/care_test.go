package care

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/measure"
	"sheaf/generator/site"
	"sheaf/generator/source"
	"sheaf/generator/words/wordstest"
)

// Monthly normals, 1991 to 2020, computed from the Met Office historic station
// series (STANDARDS 1.8). Cambridge has a winter below 5 °C, Heathrow has not
// (its mean stays above 5.4 °C).
const (
	cambridge = "{min: [1.9, 1.8, 3.1, 4.7, 7.4, 10.5, 12.6, 12.6, 10.5, 7.9, 4.5, 2.2], max: [7.7, 8.3, 11.0, 14.1, 17.4, 20.4, 23.1, 22.9, 19.6, 15.1, 10.7, 8.0]}"
	heathrow  = "{min: [2.7, 2.6, 4.1, 6.0, 9.1, 12.0, 14.2, 14.1, 11.6, 8.8, 5.3, 3.1], max: [8.4, 9.0, 11.7, 15.0, 18.4, 21.6, 23.9, 23.4, 20.2, 15.8, 11.5, 8.8]}"
	// Cambridge six months on: July first.
	mirrored = "{min: [12.6, 12.6, 10.5, 7.9, 4.5, 2.2, 1.9, 1.8, 3.1, 4.7, 7.4, 10.5], max: [23.1, 22.9, 19.6, 15.1, 10.7, 8.0, 7.7, 8.3, 11.0, 14.1, 17.4, 20.4]}"
)

// jobs of the small library, with their families.
func jobs() [][2]string {
	return [][2]string{{"cut back", "cut"}, {"comb", "comb"}, {"trim", "cut"}, {"thin", "cut"}, {"prune", "cut"}, {"deadhead", "cut"}, {"water", "protect"}, {"divide", "grow"}}
}

// A scene is a small garden with one plant.
type scene struct {
	garden string // lines of garden.yaml after its name; may hold rows
	plant  string // lines of the entry after its size
	care   string // the entry's rules
	region string // lines of the region, "" for none
	first  site.Day
}

const rowsOfOne = "plants:\n  - plant: Salvia nemorosa\n    quantity: 4\n"

// input builds a scene; faults in its files end the test.
func (s scene) input(t testing.TB) Input {
	t.Helper()
	var ds source.Diagnostics
	var shelf entries.Shelf
	file := func(name, text string) *source.File { return source.NewFile(name, []byte(text)) }
	for _, j := range jobs() {
		job, more := entries.ParseJob(file("jobs/x.md", fmt.Sprintf("---\njob: %s\naction: Work on {plant}\nfamily: %s\nmark: trim\nground: open\nrisks: [blades]\ntools: [%s tool]\nminutes: {small: 1, medium: 2, large: 3}\n---\n", j[0], j[1], j[0])))
		shelf.Jobs, ds = append(shelf.Jobs, job), append(ds, more...)
	}
	page, more := entries.ParsePage(file("pages/safety.md", "---\ntitle: Safety\nhazards:\n  sharp edges: Wear gloves.\n  sap eyes: Wear glasses.\nrisks:\n  blades: Mind the blade.\n---\n"))
	shelf.Pages, ds = append(shelf.Pages, page), append(ds, more...)
	plant := s.plant
	for key, value := range map[string]string{"type": "perennial", "leaf": "deciduous", "habit": "clump", "height": "60 cm", "spread": "50 cm"} {
		if !strings.Contains("\n"+plant, "\n"+key+":") {
			plant += key + ": " + value + "\n"
		}
	}
	care := s.care
	if care == "" {
		care = "  - job: cut back\n    when: 10 May to 20 May\n"
	}
	e, more := entries.ParseEntry(file("plants/x.md", "---\nbotanical: Salvia nemorosa\n"+plant+"care:\n"+care+"---\n"))
	shelf.Entries, ds = append(shelf.Entries, e), append(ds, more...)
	if s.region != "" {
		r, more := entries.ParseRegion(file("regions/XX.md", "---\nregion: XX\nname: Somewhere\nchecked: 2026-11-25\n"+s.region+"---\n"))
		shelf.Regions, ds = append(shelf.Regions, r), append(ds, more...)
	}
	l, more := entries.Assemble([]entries.Shelf{shelf})
	ds = append(ds, more...)
	text := s.garden
	if !strings.Contains(text, "site:") {
		text += "site: {latitude: 53, country: XX}\n"
	}
	if !strings.Contains(text, "plants:") {
		text += rowsOfOne
	}
	g, more := garden.Parse(file("garden.yaml", "garden: x\n"+text))
	ds = append(ds, more...)
	ps, more := garden.Find(g, l, false)
	if ds = append(ds, more...); len(ds) > 0 {
		t.Fatalf("the scene has faults: %+v", ds.Sorted())
	}
	first := s.first
	if first == 0 {
		first = site.Date(2027, time.January, 1)
		if g.Date != 0 {
			y, m, _ := g.Date.Civil()
			first = site.Date(y, m, 1)
		}
	}
	return Input{Garden: g, Plantings: ps, Library: l, Region: l.Region(g.Country), Climate: g.Place.Climate(), First: first, Words: wordstest.English(t), English: wordstest.English(t)}
}

// plan dates a scene that gives no messages.
func (s scene) plan(t testing.TB) *Calendar {
	t.Helper()
	c, ds := Plan(s.input(t))
	if len(ds) > 0 {
		t.Fatalf("unexpected %+v", ds)
	}
	return c
}

// ruled lists a calendar's tasks without the watering that every new planting
// gets.
func ruled(c *Calendar) []Task {
	return slices.DeleteFunc(slices.Clone(c.Tasks), func(t Task) bool { return t.Settling })
}

// dates lists the windows of a calendar's tasks.
func dates(c *Calendar) string {
	var out []string
	for _, t := range ruled(c) {
		out = append(out, t.From.String()+"/"+t.To.String())
	}
	return strings.Join(out, " ")
}

// years lists the civil years in which tasks begin.
func years(c *Calendar) string {
	var out []string
	for _, t := range ruled(c) {
		out = append(out, fmt.Sprint(t.From.Year()))
	}
	return strings.Join(out, " ")
}

// TestGrowingYears: a growing year is the civil year in the north, July to June
// in the south; what is planted after high summer starts with the next
// (DESIGN 7; common practice). The rule falls in May, or in November south.
func TestGrowingYears(t *testing.T) {
	for _, c := range []struct {
		latitude, planted, rule, want string
	}{
		// North, planted in spring: 2027 is year 1.
		{"53", "2027-03-20", "", "2027 2028 2029 2030 2031 2032 2033 2034"},
		{"53", "2027-03-20", "every: 1 year", "2027 2028 2029 2030 2031 2032 2033 2034"},
		{"53", "2027-03-20", "every: 3 years", "2030 2033"},
		{"53", "2027-03-20", "not-before: year 3", "2029 2030 2031 2032 2033 2034"},
		{"53", "2027-03-20", "only: year 1", "2027"},
		{"53", "2027-03-20", "only: year 2", "2028"},
		{"53", "2027-03-20", "{not-before: year 5, every: 3 years}", "2033"},
		// The bounds of high summer: 31 July and 1 August.
		{"53", "2026-07-31", "only: year 2", "2027"},
		{"53", "2026-08-01", "only: year 2", "2028"},
		// North, planted in autumn: the next year is year 1.
		{"53", "2026-10-01", "only: year 1", "2027"},
		{"53", "2026-10-01", "not-before: year 3", "2029 2030 2031 2032 2033 2034"},
		{"53", "2026-10-01", "every: 3 years", "2030 2033"},
		// Planted long ago, and not yet.
		{"53", "2020-03-20", "every: 4 years", "2028 2032"},
		{"53", "2029-03-20", "", "2029 2030 2031 2032 2033 2034"},
		{"53", "2027-05-15", "only: year 1", "2027"},
		{"53", "2027-05-21", "", "2028 2029 2030 2031 2032 2033 2034"},
		// South, planted in spring (September): July 2027 to June 2028 is year 1.
		{"-43", "2027-09-20", "only: year 1", "2027"},
		{"-43", "2027-09-20", "not-before: year 3", "2029 2030 2031 2032 2033 2034"},
		{"-43", "2027-09-20", "every: 3 years", "2030 2033"},
		// South, planted in autumn (April): the growing year that starts in July.
		{"-43", "2027-04-01", "only: year 1", "2027"},
		{"-43", "2027-04-01", "not-before: year 3", "2029 2030 2031 2032 2033 2034"},
		// The bounds of high summer in the south: 31 January and 1 February.
		{"-43", "2027-01-31", "only: year 2", "2027"},
		{"-43", "2027-01-29", "only: year 2", "2027"},
		{"-43", "2027-02-01", "only: year 2", "2028"},
	} {
		s := scene{
			garden: "years: 8\nsite: {latitude: " + c.latitude + "}\nplants:\n  - plant: Salvia nemorosa\n    planted: " + c.planted + "\n",
			care:   "  - job: cut back\n    when: 10 May to 20 May\n",
		}
		for _, line := range strings.Split(strings.Trim(c.rule, "{}"), ", ") {
			s.care += "    " + line + "\n"
		}
		if got := years(s.plan(t)); got != c.want {
			t.Errorf("latitude %s, planted %s, %s: %s, want %s", c.latitude, c.planted, c.rule, got, c.want)
		}
	}
}

// A planting without a date of its own went in at the handover.
func TestPlantedAtHandover(t *testing.T) {
	s := scene{garden: "date: 2027-10-20\nyears: 3\n", care: "  - job: cut back\n    when: 10 May to 20 May\n    only: year 1\n"}
	if got := years(s.plan(t)); got != "2028" {
		t.Errorf("got %s, want 2028", got)
	}
}

// TestConditions: every condition an adjustment may hang on holds in one garden
// and not in a garden that says nothing.
func TestConditions(t *testing.T) {
	bed := func(line string) string {
		return "site: {latitude: 53}\nbeds:\n  - bed: A\n    " + line + "\nplants:\n  - plant: Salvia nemorosa\n    bed: A\n    planted: 2020-03-20\n"
	}
	for condition, with := range map[string]string{
		"full sun": bed("light: full sun"), "part shade": bed("light: part shade"), "shade": bed("light: shade"),
		"dry soil": bed("soil: dry"), "drained soil": bed("soil: drained"), "moist soil": bed("soil: moist"), "wet soil": bed("soil: wet"),
		"lean soil": bed("fertility: lean"), "average soil": bed("fertility: average"), "rich soil": bed("fertility: rich"),
		"sheltered": bed("exposure: sheltered"), "open": bed("exposure: open"), "exposed": bed("exposure: exposed"), "coastal": bed("exposure: coastal"),
		"pot":        "plants:\n  - plant: Salvia nemorosa\n    pot: true\n    planted: 2020-03-20\n",
		"first year": "plants:\n  - plant: Salvia nemorosa\n    planted: 2027-03-20\n",
		// The top of the RHS band H5 is −10 °C (STANDARDS 2.2).
		"cold garden": "site: {latitude: 53, coldest-night: -10 °C}\nplants:\n  - plant: Salvia nemorosa\n    planted: 2020-03-20\n",
		// The mean of Heathrow never falls below 5 °C (STANDARDS 1.8).
		"warm garden": "site: {latitude: 51, normals: " + heathrow + "}\nplants:\n  - plant: Salvia nemorosa\n    planted: 2020-03-20\n",
	} {
		label := wordstest.English(t).Say("condition."+condition, "month", "December 2027")
		adjust := "adjust:\n  - if: " + condition + "\n    job: cut back\n    leave: 3 cm\n    when: June\n    note: Adjusted.\n  - if: " + condition + "\n    note: For the place.\n"
		plain := "site: {latitude: 53, coldest-night: -9 °C, normals: " + cambridge + "}\nplants:\n  - plant: Salvia nemorosa\n    planted: 2020-03-20\n"
		for garden, want := range map[string]string{
			with:  fmt.Sprintf("2027-06-01/2027-06-30 [%[1]s: Adjusted.] 3\u00a0cm [%[1]s: For the place.]", label),
			plain: "2027-05-10/2027-05-20 []  []",
		} {
			in := scene{garden: garden, plant: adjust}.input(t)
			c, _ := Plan(in)
			tasks := ruled(c)
			if len(tasks) != 1 {
				t.Errorf("%s: %d tasks", condition, len(tasks))
				continue
			}
			task := tasks[0]
			got := fmt.Sprintf("%s %v %s %v", dates(c), task.Notes, task.Rule.Leave.Value.Print(measure.Metric), in.PlaceNotes(&in.Plantings[0]))
			if got != want {
				t.Errorf("%s: %s, want %s", condition, got, want)
			}
		}
	}
}

// TestNotBeforePlanting: a window that a planting falls into begins with it, and
// one that is over by then is none.
func TestNotBeforePlanting(t *testing.T) {
	for planted, want := range map[string]string{
		"2027-04-20": "2027-05-10/2027-05-20 2028-05-10/2028-05-20",
		"2027-05-15": "2027-05-15/2027-05-20 2028-05-10/2028-05-20",
		"2027-05-21": "2028-05-10/2028-05-20",
	} {
		s := scene{garden: "years: 2\nplants:\n  - plant: Salvia nemorosa\n    planted: " + planted + "\n", care: "  - job: cut back\n    when: 10 May to 20 May\n"}
		c := s.plan(t)
		if got := dates(c); got != want {
			t.Errorf("planted %s: %s, want %s", planted, got, want)
		}
	}
}

// TestRooted: a job that waits for roots is not done in a plant's first spring,
// north and south, but what is dead on one that stood the winter is cleared, and
// from summer on nothing is held back.
func TestRooted(t *testing.T) {
	for _, c := range []struct{ latitude, planted, leaf, job, when, want string }{
		{"53", "2027-03-20", "deciduous", "cut back", "May", "2028"},
		{"53", "2026-10-10", "deciduous", "cut back", "May", "2027 2028"},
		{"53", "2026-10-10", "evergreen", "cut back", "May", "2028"},
		{"53", "2026-03-20", "evergreen", "cut back", "May", "2027 2028"},
		{"53", "2026-10-10", "deciduous", "comb", "May", "2028"},
		{"53", "2027-03-20", "evergreen", "cut back", "September", "2027 2028"},
		{"53", "2027-03-20", "deciduous", "cut back", "June", "2027 2028"},
		{"53", "2027-03-20", "evergreen", "deadhead", "May", "2027 2028"},
		{"-43", "2027-09-20", "evergreen", "cut back", "May", "2028"}, // November there
		{"-43", "2027-04-20", "deciduous", "cut back", "May", "2027 2028"},
		{"-43", "2027-04-20", "evergreen", "cut back", "September", "2028"}, // March there
	} {
		s := scene{
			garden: "years: 2\nsite: {latitude: " + c.latitude + "}\nplants:\n  - plant: Salvia nemorosa\n    planted: " + c.planted + "\n",
			plant:  "leaf: " + c.leaf + "\n",
			care:   "  - job: " + c.job + "\n    when: " + c.when + "\n",
		}
		in := s.input(t)
		for _, j := range in.Library.Jobs {
			j.Rooted = j.Name.Value == "cut back" || j.Name.Value == "comb"
		}
		cal, _ := Plan(in)
		if got := years(cal); got != c.want {
			t.Errorf("%+v: %s", c, got)
		}
	}
}

// A note on a job that is left out in the first year is still read, with the
// time for which it holds, and the job is dated from the next year on.
func TestSkippedInTheFirstYear(t *testing.T) {
	in := scene{
		garden: "years: 2\nplants:\n  - plant: Salvia nemorosa\n    planted: 2027-03-20\n",
		plant:  "adjust:\n  - if: first year\n    job: cut back\n    skip: true\n    note: Do not cut it.\n",
	}.input(t)
	cal, _ := Plan(in)
	for _, task := range ruled(cal) {
		if task.From.Year() != 2028 || len(task.Notes) > 0 {
			t.Errorf("%s: %v", task.From, task.Notes)
		}
	}
	p := &in.Plantings[0]
	_, notes, done := in.FitNow(p, p.Entry.Rules[0])
	if want := "[First year, to December 2027: Do not cut it.]"; !done || fmt.Sprint(notes) != want {
		t.Errorf("%v %v, want %s", done, notes, want)
	}
}

// A note of the first year stands beside a job only if the job is still due in
// that year: it says nothing of work that begins when the year is over.
func TestNoteOfAYearWithoutWork(t *testing.T) {
	for _, c := range []struct{ date, when, want string }{
		{"2027-05-20", "June", "[]"}, // December there, when the first year, to June, is over
		{"2027-11-20", "June", "[First year, to June 2028: Take the spikes only.]"},
		{"2027-05-20", "December", "[First year, to June 2027: Take the spikes only.]"}, // June there
	} {
		planted := "2026-10-10"
		if c.date == "2027-11-20" {
			planted = "2027-10-10"
		}
		in := scene{
			garden: "date: " + c.date + "\nyears: 2\nsite: {latitude: -38}\nplants:\n  - plant: Salvia nemorosa\n    planted: " + planted + "\n",
			plant:  "adjust:\n  - if: first year\n    job: cut back\n    note: Take the spikes only.\n",
			care:   "  - job: cut back\n    when: " + c.when + "\n",
		}.input(t)
		p := &in.Plantings[0]
		if _, notes, done := in.FitNow(p, p.Entry.Rules[0]); !done || fmt.Sprint(notes) != c.want {
			t.Errorf("handed over %s, done in %s: %v %v, want %s", c.date, c.when, done, notes, c.want)
		}
	}
}

// A first year lasts as long as the growing year does, north and south, and an
// adjustment for it holds in that year alone.
func TestFirstYear(t *testing.T) {
	for _, c := range []struct{ latitude, planted, when, want string }{
		{"53", "2027-03-20", "May", "2027"},
		{"53", "2027-10-10", "May", "2028"},
		{"53", "2027-03-20", "November", "2027"},
		{"-43", "2027-09-20", "May", "2027"},    // November there
		{"-43", "2027-09-20", "August", "2028"}, // February, still the first summer
		{"-43", "2027-04-01", "August", "2028"},
	} {
		s := scene{
			garden: "years: 4\nsite: {latitude: " + c.latitude + "}\nplants:\n  - plant: Salvia nemorosa\n    planted: " + c.planted + "\n",
			plant:  "adjust:\n  - if: first year\n    job: water\n    note: Young.\n",
			care:   "  - job: water\n    when: " + c.when + "\n",
		}
		var got []string
		for _, task := range ruled(s.plan(t)) {
			if len(task.Notes) > 0 {
				got = append(got, fmt.Sprint(task.From.Year()))
			}
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("latitude %s, planted %s, %s: first year in %q, want %q", c.latitude, c.planted, c.when, s, c.want)
		}
	}
}

func TestSkip(t *testing.T) {
	s := scene{
		garden: "plants:\n  - plant: Salvia nemorosa\n    pot: true\n  - plant: Salvia nemorosa\n",
		plant:  "adjust:\n  - if: pot\n    job: divide\n    skip: true\n",
		care:   "  - job: divide\n    when: May\n  - job: water\n    when: June\n",
	}
	var got []string
	for _, task := range ruled(s.plan(t)) {
		got = append(got, fmt.Sprintf("%s pot=%v", task.Job.Name.Value, task.Planting.Row.Pot))
	}
	if s := strings.Join(got, ", "); s != "divide pot=false, water pot=true, water pot=false" {
		t.Errorf("got %s", s)
	}
}

// TestHandover: what had to be done before the handover is done; in a booklet
// of another year the whole first month counts.
func TestHandover(t *testing.T) {
	for _, c := range []struct {
		when  string
		first site.Day
		want  string
	}{
		{"1 March to 19 March", 0, ""},
		{"1 March to 20 March", 0, "2027-03-01/2027-03-20"},
		{"15 February to 5 March", 0, "2028-02-15/2028-03-05"},
		{"20 March to 5 April", 0, "2027-03-20/2027-04-05"},
		{"1 March to 19 March", site.Date(2028, time.March, 1), "2028-03-01/2028-03-19"},
		{"15 February to 5 March", site.Date(2028, time.March, 1), "2028-02-15/2028-03-05 2029-02-15/2029-03-05"},
		{"29 February", site.Date(2028, time.February, 1), "2028-02-29/2028-02-29"},
	} {
		s := scene{
			garden: "date: 2027-03-20\nplants:\n  - plant: Salvia nemorosa\n    planted: 2020-03-20\n",
			care:   "  - job: cut back\n    when: " + c.when + "\n", first: c.first,
		}
		if got := dates(s.plan(t)); got != c.want {
			t.Errorf("%s from %v: %s, want %s", c.when, c.first, got, c.want)
		}
	}
}

// TestNewYear: a window over the new year is one task in all the months it
// touches.
func TestNewYear(t *testing.T) {
	s := scene{garden: "date: 2027-03-20\n", care: "  - job: cut back\n    when: November to January\n"}
	c := s.plan(t)
	if got, want := dates(c), "2027-11-01/2028-01-31"; got != want {
		t.Fatalf("got %s, want %s", got, want)
	}
	var months []string
	for _, m := range c.Months {
		if slices.ContainsFunc(m.Tasks, func(i int) bool { return !c.Tasks[i].Settling }) {
			months = append(months, m.First.String())
		}
	}
	if got, want := strings.Join(months, " "), "2027-11-01 2027-12-01 2028-01-01"; got != want {
		t.Errorf("in the months %s, want %s", got, want)
	}
	s.garden = "plants:\n  - plant: Salvia nemorosa\n    planted: 2020-03-20\n"
	if got, want := dates(s.plan(t)), "2026-11-01/2027-01-31 2027-11-01/2028-01-31"; got != want {
		t.Errorf("a year from January: %s, want %s", got, want)
	}
}

// TestThreeYears: the months follow each other without a gap, and a yearly task
// comes three times.
func TestThreeYears(t *testing.T) {
	c := scene{garden: "date: 2027-03-20\nyears: 3\n"}.plan(t)
	if len(c.Months) != 36 || c.First.String() != "2027-03-01" || c.Last.String() != "2030-02-28" || c.Months[11].Last.String() != "2028-02-29" {
		t.Errorf("%d months from %s to %s", len(c.Months), c.First, c.Last)
	}
	for i := range len(c.Months) - 1 {
		if c.Months[i+1].First != c.Months[i].Last+1 {
			t.Errorf("a gap after %s", c.Months[i].Last)
		}
	}
	if got, want := dates(c), "2027-05-10/2027-05-20 2028-05-10/2028-05-20 2029-05-10/2029-05-20"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// TestMinutesAddUp: whatever the windows, the months' minutes add up to the
// tasks'.
func TestMinutesAddUp(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	month := func() time.Month { return time.Month(1 + r.IntN(12)) }
	for range 60 {
		s := scene{garden: fmt.Sprintf("date: 2027-%02d-%02d\nyears: %d\nplants:\n  - plant: Salvia nemorosa\n    quantity: %d\n    planted: 2020-03-20\n", month(), 1+r.IntN(28), 1+r.IntN(3), r.IntN(40))}
		for range 1 + r.IntN(6) {
			s.care += fmt.Sprintf("  - job: cut back\n    when: %d %s to %d %s\n    minutes: %d to %d\n", 1+r.IntN(28), month(), 1+r.IntN(28), month(), r.IntN(3), 3+r.IntN(9))
		}
		c := s.plan(t)
		var tasks, months measure.Minutes
		for _, task := range c.Tasks {
			tasks = tasks.Plus(task.Minutes)
		}
		for _, m := range c.Months {
			months = months.Plus(m.Minutes)
		}
		if math.Abs(tasks.Low-months.Low) > 1e-6 || math.Abs(tasks.High-months.High) > 1e-6 {
			t.Errorf("months %v, tasks %v\n%s%s", months, tasks, s.garden, s.care)
		}
	}
}

// TestSettling: a new planting that is no bulb is watered from first green, or from when it
// went in, to leaf fall of its first growing year; not if its entry says how.
func TestSettling(t *testing.T) {
	bulb := scene{garden: "plants:\n  - plant: Salvia nemorosa\n    planted: 2026-10-10\n", plant: "type: bulb\n"}
	for _, task := range bulb.plan(t).Tasks {
		if task.Settling {
			t.Errorf("a bulb, which brings its own water and may want a dry summer, is watered from %s to %s", task.From, task.To)
		}
	}

	for _, c := range []struct{ latitude, normals, planted, rule, want string }{
		{"53", cambridge, "2027-04-20", "", "from 2027-04-20, in 2027"},
		{"53", cambridge, "2027-01-20", "", "from first green, in 2027"},
		{"53", cambridge, "2026-12-20", "", "from first green, in 2027"},
		{"53", cambridge, "2026-10-10", "", "from 2026-10-10, in 2026; from first green, in 2027"},
		{"53", cambridge, "2025-04-20", "", ""},
		{"53", cambridge, "2027-04-20", "  - job: water\n    when: June\n", ""},
		{"-43", mirrored, "2027-10-20", "", "from 2027-10-20, in 2028"},
		{"-43", mirrored, "2027-06-20", "", "from first green, in 2028"},
	} {
		s := scene{
			garden: "date: 2026-01-01\nyears: 4\nsite: {latitude: " + c.latitude + ", normals: " + c.normals + "}\nplants:\n  - plant: Salvia nemorosa\n    planted: " + c.planted + "\n",
			care:   "  - job: cut back\n    when: May\n" + c.rule,
		}
		in := s.input(t)
		cal, _ := Plan(in)
		var got []string
		for _, task := range cal.Tasks {
			if !task.Settling {
				continue
			}
			from := task.From.String()
			if green, _ := in.Climate.Cue(site.FirstGreen, task.From.Year()); green == task.From {
				from = "first green"
			}
			if fall, _ := in.Climate.Cue(site.LeafFall, task.To.Year()); fall != task.To {
				t.Errorf("%s ends on %s, not at leaf fall", c.planted, task.To)
			}
			got = append(got, fmt.Sprintf("from %s, in %d", from, task.To.Year()))
		}
		if s := strings.Join(got, "; "); s != c.want {
			t.Errorf("latitude %s, planted %s: %q, want %q", c.latitude, c.planted, s, c.want)
		}
	}
}

// Minutes are the rule's, else the job's for a plant of that height with its
// flowers, times the quantity. 40 m² at 7 minutes are 280 (TRADE 8, from the
// worked figure in 4.5).
func TestMinutes(t *testing.T) {
	for _, c := range []struct{ plant, rule, quantity, want string }{
		{"", "    minutes: 7\n", "40", "280"},
		{"", "    minutes: 2 to 4\n", "3", "9"},
		{"height: 50 cm\n", "", "10", "10"},
		{"height: 50 cm\nflower-height: 120 cm\n", "", "10", "20"},
		{"height: 50 to 130 cm\n", "", "10", "30"},
		{"", "    minutes: 7\n", "0", "0"},
	} {
		s := scene{
			garden: "plants:\n  - plant: Salvia nemorosa\n    quantity: " + c.quantity + "\n",
			plant:  c.plant, care: "  - job: water\n    when: May\n" + c.rule,
		}
		m := ruled(s.plan(t))[0].Minutes
		if got := fmt.Sprint((m.Low + m.High) / 2); got != c.want {
			t.Errorf("%v: %s minutes, want %s", c, got, c.want)
		}
	}
}

// TestNests: cutting hedges and climbers, and thinning shrubs, in the nesting
// season brings the warning (TRADE 5.3; England: 1 March to 31 August in the
// Management of Hedgerows (England) Regulations 2024). The southern season,
// about August to January, wraps the year (TRADE 5.3, from memory).
func TestNests(t *testing.T) {
	north, south := "nest: {from: 1 March, to: 31 August}\n", "nest: {from: 1 August, to: 31 January}\n"
	for _, c := range []struct {
		typ, job, when, region string
		latitude               int
		want                   bool
	}{
		{"hedge", "trim", "July", north, 53, true},
		{"hedge", "trim", "1 May to 10 May", north, 53, true},
		{"hedge", "trim", "31 August", north, 53, true},
		{"hedge", "trim", "1 September", north, 53, false},
		{"hedge", "trim", "20 August to 20 September", north, 53, false}, // kept to September
		{"hedge", "trim", "20 August to 9 September", north, 53, true},   // nine days are too few to keep to
		{"hedge", "trim", "October to 1 March", north, 53, false},        // kept to February
		{"hedge", "trim", "October to 28 February", north, 53, false},
		{"hedge", "water", "July", north, 53, false},
		{"hedge", "trim", "July", "", 53, false},
		{"hedge", "trim", "July", "paper: A4\n", 53, false},
		{"climber", "prune", "June", north, 53, true},
		{"climber", "deadhead", "June", north, 53, false},
		{"shrub", "thin", "June", north, 53, true},
		{"shrub", "trim", "June", north, 53, true},
		{"shrub", "prune", "June", north, 53, true}, // by its flowers, so that it cannot wait
		{"shrub", "prune", "20 August to 20 September", north, 53, true},
		{"subshrub", "prune", "June", north, 53, false},
		{"perennial", "cut back", "June", north, 53, false},
		// Written for the north: six months on in the south.
		{"hedge", "trim", "July", south, -43, true},        // January
		{"hedge", "trim", "31 July", south, -43, true},     // 31 January
		{"hedge", "trim", "1 August", south, -43, false},   // 1 February
		{"hedge", "trim", "31 January", south, -43, false}, // 31 July
		{"hedge", "trim", "1 February", south, -43, true},  // 1 August
		{"hedge", "trim", "June to July", south, -43, true},
		{"hedge", "trim", "September to November", south, -43, false},
	} {
		s := scene{
			garden: fmt.Sprintf("site: {latitude: %d, country: XX}\nyears: 2\nplants:\n  - plant: Salvia nemorosa\n    planted: 2020-03-20\n", c.latitude),
			plant:  "type: " + c.typ + "\n", care: "  - job: " + c.job + "\n    when: " + c.when + "\n", region: c.region,
		}
		in := s.input(t)
		cal, _ := Plan(in)
		tasks := ruled(cal)
		for i := range tasks {
			task := &tasks[i]
			warned := slices.ContainsFunc(task.Cautions, func(s string) bool { return strings.HasPrefix(s, "Birds may be nesting: in Somewhere") })
			if in.InNestSeason(task) != c.want || warned != c.want {
				t.Errorf("%s, %s, %s, latitude %d, %s: season %v, warned %v, want %v", c.typ, c.job, c.when, c.latitude, task.From, in.InNestSeason(task), warned, c.want)
			}
		}
		if want := len(Survey(in, cal).Nests) > 0; want != c.want {
			t.Errorf("%s, %s, %s: in the report %v", c.typ, c.job, c.when, want)
		}
	}
}

// TestKeptFromNests: a task with a choice keeps to the longer part of its
// window outside the nesting season, of at least ten days, and says so.
func TestKeptFromNests(t *testing.T) {
	for when, want := range map[string]string{
		"20 August to 20 September": "2027-09-01 2027-09-20 true",
		"20 August to 9 September":  "2027-08-20 2027-09-09 false",
		"15 January to 20 March":    "2027-01-15 2027-02-28 true",
		"June to July":              "2027-06-01 2027-07-31 false",
		"October to November":       "2027-10-01 2027-11-30 false",
		"1 February to 30 October":  "2027-09-01 2027-10-30 true",
	} {
		s := scene{
			garden: "site: {latitude: 53, country: XX}\nplants:\n  - plant: Salvia nemorosa\n    planted: 2020-03-20\n",
			plant:  "type: hedge\n", care: "  - job: trim\n    when: " + when + "\n", region: "nest: {from: 1 March, to: 31 August}\n",
		}
		in := s.input(t)
		cal, _ := Plan(in)
		task := ruled(cal)[0]
		told := slices.Contains(task.Notes, Note{Text: "These dates keep out of the main nesting season."})
		if got := fmt.Sprintf("%s %s %v", task.From, task.To, told); got != want {
			t.Errorf("%s: %s, want %s", when, got, want)
		}
	}
}

// TestCautions: the plant's hazards, the job's risks and the rule's own, each
// once.
func TestCautions(t *testing.T) {
	s := scene{plant: "hazards: [sap eyes, sharp edges]\n", care: "  - job: cut back\n    when: May\n    cautions: [Mind the step., Wear gloves.]\n"}
	got := strings.Join(ruled(s.plan(t))[0].Cautions, " | ")
	if want := "Wear glasses. | Wear gloves. | Mind the blade. | Mind the step."; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// TestProfessional: cuts that cannot be made from the ground (DESIGN 7).
func TestProfessional(t *testing.T) {
	for _, c := range []struct {
		typ, height, job string
		want             bool
	}{
		{"hedge", "4 m", "trim", true}, {"hedge", "3 m", "trim", false}, {"hedge", "2 to 3.5 m", "trim", true},
		{"tree", "8 m", "prune", true}, {"tree", "8 m", "deadhead", false}, {"tree", "8 m", "water", false},
		{"climber", "6 m", "prune", true}, {"shrub", "4 m", "prune", false},
	} {
		s := scene{plant: "type: " + c.typ + "\nheight: " + c.height + "\n", care: "  - job: " + c.job + "\n    when: October\n"}
		in := s.input(t)
		cal, _ := Plan(in)
		if got := Professional(&ruled(cal)[0]); got != c.want || len(Survey(in, cal).Professional) > 0 != c.want {
			t.Errorf("%v: %v", c, got)
		}
	}
}

// TestUnsuitable: a place the plant does not like is in the report, and only
// there.
func TestUnsuitable(t *testing.T) {
	for _, c := range []struct{ plant, bed, row, want string }{
		{"light: [full sun]", "light: shade", "", "the bed has shade, the plant likes full sun"},
		{"light: [full sun, part shade]", "light: shade", "", "the bed has shade, the plant likes full sun or part shade"},
		{"light: [full sun, part shade]", "light: part shade", "", ""},
		{"light: [full sun]", "soil: wet", "", ""},
		{"soil: [moist, drained]", "soil: dry", "", "the soil is dry, the plant likes it moist or drained"},
		{"soil: [moist, drained]", "soil: dry", "pot: true", ""},
		{"soil: [moist, drained]", "soil: drained", "", ""},
		{"likes: {fertility: lean}", "fertility: rich", "", "the soil is rich, the plant likes it lean"},
		{"likes: {fertility: rich}", "fertility: lean", "", "the soil is lean, the plant likes it rich"},
		{"likes: {fertility: average}", "fertility: rich", "", ""},
		{"", "light: shade", "", ""},
	} {
		s := scene{garden: "beds:\n  - bed: A\n    " + c.bed + "\nplants:\n  - plant: Salvia nemorosa\n    bed: A\n    " + c.row + "\n", plant: c.plant + "\n"}
		in := s.input(t)
		cal, _ := Plan(in)
		got := strings.Join(Survey(in, cal).Unsuitable, "; ")
		if c.want != "" {
			c.want = fmt.Sprintf("row %d: Salvia nemorosa: %s", in.Plantings[0].Row.Line, c.want)
		}
		if got != c.want {
			t.Errorf("%v: %q, want %q", c, got, c.want)
		}
	}
}

// TestTooCold: pots count as two USDA zones, 20 °F or 11.1 K, colder (a popular
// rule without a trial; DESIGN 5).
func TestTooCold(t *testing.T) {
	for _, c := range []struct {
		hardy, night string
		pot          bool
		want         bool
	}{
		{"-15 °C", "-7 °C", false, false}, {"-15 °C", "-15 °C", false, false}, {"-15 °C", "-16 °C", false, true},
		{"-15 °C", "-4 °C", true, false}, {"-15 °C", "-5 °C", true, true},
		{"H5", "-15 °C", false, false}, {"H5", "H6", false, true}, // H5 stands −15 °C (RHS hardiness ratings)
		{"", "-40 °C", true, false},
		{"H3", "-40 °C", true, false}, // without a region nobody says that the RHS speaks of its winters
	} {
		s := scene{garden: fmt.Sprintf("site: {latitude: 53, coldest-night: %s}\nplants:\n  - plant: Salvia nemorosa\n    pot: %v\n", c.night, c.pot)}
		if c.hardy != "" {
			s.plant = "hardy: " + c.hardy + "\n"
		}
		in := s.input(t)
		if strings.HasPrefix(c.hardy, "H5") {
			in.Region = &entries.Region{Hardiness: site.RHS}
		}
		if why, got := in.TooCold(&in.Plantings[0], in.English); got != c.want {
			t.Errorf("%v: %v %s", c, got, why)
		}
	}
	in := scene{plant: "hardy: H1a\n"}.input(t)
	if _, got := in.TooCold(&in.Plantings[0], in.English); got {
		t.Error("too cold in a garden that does not say how cold it gets")
	}
}

// TestNoScaleIsTurnedIntoAnother: British winters go by the RHS's rating, others
// by the American zone, a plain temperature counts anywhere, and what no figure
// speaks of is unknown and told as that. What is lifted is not warned.
func TestNoScaleIsTurnedIntoAnother(t *testing.T) {
	british, american := &entries.Region{Hardiness: site.RHS}, &entries.Region{Hardiness: site.USDA}
	for _, c := range []struct {
		plant   string
		region  *entries.Region
		night   string
		cold    string // what the plant stands, as printed; "" for not too cold
		unknown bool
	}{
		{"hardy: H4\nzone: Z5\n", american, "-15 °C", "", false},
		{"hardy: H4\nzone: Z5\n", british, "-15 °C", "(H4)", false},
		{"hardy: H4\nzone: Z5\n", american, "-30 °C", "(zone 5)", false},
		{"hardy: H4\nzone: Z5\n", american, "-29 °C", "", false}, // zone 5 ends at -28.9 °C, the same when printed
		{"hardy: H4\n", american, "-30 °C", "", true},
		{"zone: 7a\n", british, "-30 °C", "", true},
		{"hardy: -10 °C\n", american, "-15 °C", "stands -10\u00a0°C", false},
		{"hardy: H2\nzone: Z10\nlifted: true\n", american, "-15 °C", "", false},
		{"", american, "-30 °C", "", true},
	} {
		in := scene{garden: "site: {latitude: 53, coldest-night: " + c.night + "}\nplants:\n  - plant: Salvia nemorosa\n", plant: c.plant}.input(t)
		in.Region = c.region
		cal, _ := Plan(in)
		said, cold := in.TooCold(&in.Plantings[0], in.English)
		if cold != (c.cold != "") || !strings.Contains(strings.ReplaceAll(said, "−", "-"), c.cold) {
			t.Errorf("%q at %s: %q, want %q", c.plant, c.night, said, c.cold)
		}
		if got := len(Survey(in, cal).Unrated) > 0; got != c.unknown {
			t.Errorf("%q: unknown %v, want %v", c.plant, got, c.unknown)
		}
	}
}

// TestCrowding: 14 plants of 50 cm spread cover 14 × π/4 × 0.25 m² = 2.75 m².
func TestCrowding(t *testing.T) {
	s := scene{garden: "beds:\n  - bed: A\n    area: 2.75 m²\n  - bed: B\n    area: 5.5 m²\n  - bed: C\nplants:\n" +
		"  - plant: Salvia nemorosa\n    quantity: 8\n    bed: A\n  - plant: Salvia nemorosa\n    quantity: 6\n    bed: a\n  - plant: Salvia nemorosa\n    quantity: 14\n    bed: B\n"}
	in := s.input(t)
	cal, _ := Plan(in)
	if got, want := fmt.Sprint(Survey(in, cal).Crowding), "[{A 1} {B 0.5}]"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// TestMended: a window that is empty at the garden warns once, at the rule's
// place, and takes the later half of what is left of the season (DESIGN 4).
func TestMended(t *testing.T) {
	s := scene{
		garden: "years: 3\nsite: {latitude: 53, normals: " + cambridge + ", frost: {last: 1 February, first: 1 December}}\nplants:\n  - plant: Salvia nemorosa\n    planted: 2020-03-20\n  - plant: Salvia nemorosa\n    planted: 2020-03-20\n",
		care:   "  - job: cut back\n    when: 6 weeks after first green to last frost\n",
	}
	c, ds := Plan(s.input(t))
	ds = ds.Sorted()
	if len(ds) != 1 || ds[0].Code != "care/empty-window" || ds[0].Severity != source.Warning || ds[0].Span.Text() != "6 weeks after first green to last frost" {
		t.Errorf("got %+v", ds)
	}
	if len(c.Tasks) != 6 {
		t.Fatalf("%d tasks, want 6", len(c.Tasks))
	}
	for _, task := range c.Tasks {
		if task.From.Month() < time.March || task.To.Month() > time.May || len(task.Notes) != 1 {
			t.Errorf("%s to %s, %v", task.From, task.To, task.Notes)
		}
	}
}

// TestMovedSouth: months and dates come six months on, seasons are the garden's
// own, cues follow the garden's own normals (DESIGN 4).
func TestMovedSouth(t *testing.T) {
	for _, c := range []struct{ when, north, south string }{
		{"April", "2027-04-01/2027-04-30", "2027-10-01/2027-10-31"},
		{"15 March", "2027-03-15/2027-03-15", "2027-09-15/2027-09-15"},
		{"late February to March", "2027-02-21/2027-03-31", "2027-08-21/2027-09-30"},
		{"summer", "2027-06-01/2027-08-31", "2026-12-01/2027-02-28 2027-12-01/2028-02-29"},
		{"mid spring", "2027-04-01/2027-04-30", "2027-10-01/2027-10-31"},
		{"November to January", "2026-11-01/2027-01-31 2027-11-01/2028-01-31", "2027-05-01/2027-07-31"},
	} {
		for latitude, want := range map[string]string{"53": c.north, "-43": c.south} {
			s := scene{garden: "site: {latitude: " + latitude + "}\nplants:\n  - plant: Salvia nemorosa\n    planted: 2020-03-20\n", care: "  - job: cut back\n    when: " + c.when + "\n"}
			if got := dates(s.plan(t)); got != want {
				t.Errorf("%s at %s: %s, want %s", c.when, latitude, got, want)
			}
		}
	}
	day := func(latitude, normals, cue string) site.Day {
		s := scene{garden: "site: {latitude: " + latitude + ", normals: " + normals + "}\nplants:\n  - plant: Salvia nemorosa\n    planted: 2020-03-20\n", care: "  - job: cut back\n    when: " + cue + "\n    needs: frost\n"}
		return ruled(s.plan(t))[0].From
	}
	for _, cue := range site.Cues() {
		north, south := day("53", cambridge, cue.String()), day("-43", mirrored, cue.String())
		// Half years are 181 to 184 days long, and the curve takes months as equal.
		if apart := max(north-south, south-north); apart < 178 || apart > 187 {
			t.Errorf("%s: %s north, %s south with the mirrored year", cue, north, south)
		}
	}
	if a, b := day("-43", mirrored, "warm growth"), day("-43", warmer(), "warm growth"); b >= a {
		t.Errorf("warm growth on %s, and on %s in a warmer place", a, b)
	}
}

// warmer is the mirrored year of Heathrow.
func warmer() string {
	return "{min: [14.2, 14.1, 11.6, 8.8, 5.3, 3.1, 2.7, 2.6, 4.1, 6.0, 9.1, 12.0], max: [23.9, 23.4, 20.2, 15.8, 11.5, 8.8, 8.4, 9.0, 11.7, 15.0, 18.4, 21.6]}"
}

// Tasks come by their first day, then their last, whatever the order of rules.
func TestOrder(t *testing.T) {
	s := scene{care: "  - job: water\n    when: June\n  - job: comb\n    when: 1 June to 10 June\n  - job: divide\n    when: May\n  - job: trim\n    when: June\n"}
	var got []string
	for _, task := range ruled(s.plan(t)) {
		got = append(got, task.Job.Name.Value)
	}
	if s := strings.Join(got, ", "); s != "divide, comb, trim, water" {
		t.Errorf("got %s", s)
	}
}

// TestTools: a rule's own tools stand in place of its job's.
func TestTools(t *testing.T) {
	s := scene{care: "  - job: water\n    when: June\n  - job: trim\n    when: June\n    tools: [scythe, string]\n  - job: water\n    when: July\n"}
	var got []string
	for _, task := range ruled(s.plan(t)) {
		got = append(got, strings.Join(ToolsOf(task.Rule, task.Job), " and "))
	}
	if s := strings.Join(got, ", "); s != "scythe and string, water tool, water tool" {
		t.Errorf("got %s", s)
	}
}

// TestFirstDue: the first year in which a rule is due from the calendar on.
func TestFirstDue(t *testing.T) {
	for rule, want := range map[string]int{"": 2027, "    not-before: year 3\n": 2029, "    every: 4 years\n": 2031, "    only: year 1\n": 2027} {
		in := scene{garden: "date: 2027-03-20\n", care: "  - job: cut back\n    when: May\n" + rule}.input(t)
		from, _, ok := in.FirstDue(&in.Plantings[0], in.Plantings[0].Entry.Rules[0])
		got := 0
		if ok {
			got = from.Year()
		}
		if got != want {
			t.Errorf("%s: %d, want %d", strings.TrimSpace(rule), got, want)
		}
	}
}

// TestOver: what is done in one growing year only is over when its window in that
// year has ended before the handover, and not before.
func TestOver(t *testing.T) {
	for _, c := range []struct {
		planted string
		only    int
		over    bool
	}{
		{"2019-10-10", 1, true}, {"2019-10-10", 2, true},
		{"2026-10-10", 1, true}, // its first growing year is 2027, and its February is past
		{"2026-10-10", 2, false}, {"2027-04-20", 1, true}, {"2027-04-20", 2, false},
	} {
		in := scene{garden: "date: 2027-04-12\nplants:\n  - {plant: Salvia nemorosa, planted: " + c.planted + "}\n", care: fmt.Sprintf("  - job: prune\n    when: 5 February to 25 February\n    only: year %d\n", c.only)}.input(t)
		if got := in.Over(&in.Plantings[0], in.Plantings[0].Entry.Rules[0]); got != c.over {
			t.Errorf("planted %s, year %d only: over is %v", c.planted, c.only, got)
		}
	}
}

// CueDays fall within the first twelve months; a place without frost has none.
func TestCueDays(t *testing.T) {
	in := scene{garden: "date: 2027-03-20\nyears: 3\nsite: {latitude: 53, normals: " + cambridge + "}\n"}.input(t)
	c, _ := Plan(in)
	days := CueDays(c, in.Climate)
	if len(days) != len(site.Cues()) {
		t.Errorf("%d cues", len(days))
	}
	for cue, d := range days {
		if d == nil || *d < c.First || *d > c.Months[11].Last {
			t.Errorf("%s: %v", cue, d)
		}
	}
	in = scene{garden: "site:\n  latitude: 25\n  normals:\n    min: [18, 18, 19, 21, 23, 25, 26, 26, 25, 23, 21, 19]\n    max: [24, 25, 26, 28, 30, 31, 32, 32, 31, 29, 27, 25]\n"}.input(t)
	c, _ = Plan(in)
	if days := CueDays(c, in.Climate); days["last frost"] != nil || days["first frost"] != nil || days["coldest day"] == nil {
		t.Errorf("in the tropics: %v", days)
	}
}

// TestDrifts: a few plants are done one by one; the time for a drift grows with
// the root of its number, is never less than for fewer, and of what is divided
// only some are done in a year, which is said.
func TestDrifts(t *testing.T) {
	minutes := func(kind, job string, n int) (float64, []Note) {
		s := scene{
			garden: fmt.Sprintf("skill: gardener\nplants:\n  - plant: Salvia nemorosa\n    quantity: %d\n    planted: 2020-03-20\n", n),
			plant:  "type: " + kind + "\n", care: "  - job: " + job + "\n    when: May\n    minutes: 10\n",
		}
		in := s.input(t)
		in.Library.Job("divide").Mark = "divide"
		c, _ := Plan(in)
		task := ruled(c)[0]
		return task.Minutes.Low, task.Notes
	}
	for _, c := range []struct {
		kind, job string
		n         int
		want      float64
		note      bool
	}{
		{"bulb", "deadhead", 10, 100, false},
		{"bulb", "deadhead", 40, 200, false},
		{"bulb", "deadhead", 1000, 1000, false},
		{"bulb", "divide", 10, 100, false},
		{"bulb", "divide", 500, 120, true},
		{"perennial", "deadhead", 50, 500, false},
		{"perennial", "deadhead", 200, 1000, false},
		{"perennial", "divide", 40, 400, false},
		{"perennial", "divide", 60, 120, true},
		{"shrub", "deadhead", 200, 2000, false},
	} {
		got, notes := minutes(c.kind, c.job, c.n)
		if math.Abs(got-c.want) > 0.5 || (len(notes) > 0) != c.note {
			t.Errorf("%d of a %s, %s: %.0f minutes %v, want %.0f", c.n, c.kind, c.job, got, notes, c.want)
		}
	}
	for n := 1; n < 2000; n += 13 {
		less, _ := minutes("bulb", "deadhead", n)
		more, _ := minutes("bulb", "deadhead", n+13)
		if more <= less {
			t.Fatalf("%d bulbs take %.0f minutes, %d %.0f", n, less, n+13, more)
		}
	}
}

// TestCautionsOfThePlant: what an entry warns whoever touches the plant of is with
// each of its tasks, the watering of its first year among them.
func TestCautionsOfThePlant(t *testing.T) {
	c := scene{
		garden: "plants:\n  - plant: Salvia nemorosa\n    planted: 2027-03-20\n",
		plant:  "cautions: [\"Cover every scratch.\"]\n", care: "  - job: cut back\n    when: May\n  - job: deadhead\n    when: July\n",
	}.plan(t)
	if len(c.Tasks) != 3 {
		t.Fatalf("%d tasks", len(c.Tasks))
	}
	for _, task := range c.Tasks {
		if !slices.Contains(task.Cautions, "Cover every scratch.") {
			t.Errorf("%s warns of %q", task.Job.Name.Value, task.Cautions)
		}
	}
}
