package care

import (
	"math"
	"strings"
	"testing"
	"time"

	"sheaf/generator/measure"
	"sheaf/generator/words/wordstest"
)

func near(a, b float64) bool { return math.Abs(a-b) < 1e-6 }

func TestMulch(t *testing.T) {
	// 7.5 cm on 12 m² is 900 litres (TRADE part 8; 10 litres per m² and cm).
	s := scene{garden: "mulch: 7.5 cm\nbeds:\n  - {bed: A, area: 12 m²}\n  - {bed: B}\n"}
	in := s.input(t)
	if got := in.Mulch(); len(got) != 1 || got[0] != (Need{"A", 900}) {
		t.Errorf("got %v", got)
	}
	// One cubic yard covers 108 sq ft at 3 inches (mulch suppliers, TRADE 4.2).
	s = scene{garden: "mulch: 3 in\nbeds:\n  - {bed: A, area: 108 sq ft}\n"}
	in = s.input(t)
	if got := in.Mulch()[0].Litres; math.Abs(got-764.554857984) > 1 {
		t.Errorf("108 sq ft at 3 in: %v litres, want a cubic yard", got)
	}
}

// TestPottedBed: a bed of nothing but pots asks for no mulch and is neither full
// nor bare; one plant in the ground makes it a bed.
func TestPottedBed(t *testing.T) {
	rows := "beds:\n  - {bed: A, area: 8 m²}\nplants:\n  - {plant: Salvia nemorosa, quantity: 2, bed: A, pot: true}\n"
	for more, want := range map[string]int{"": 0, "  - {plant: Salvia nemorosa, quantity: 2, bed: A}\n": 1} {
		in := scene{garden: rows + more}.input(t)
		cal, _ := Plan(in)
		if m, c := len(in.Mulch()), len(Survey(in, cal).Crowding); m != want || c != want {
			t.Errorf("%q: %d beds with mulch and %d with cover, want %d", more, m, c, want)
		}
	}
}

// TestPeak: the busiest month is one of the twelve that the hours are told of,
// whatever comes in the years after.
func TestPeak(t *testing.T) {
	c := scene{garden: "date: 2027-01-10\nyears: 2\n", care: "  - job: cut back\n    when: May\n    minutes: 2\n  - job: divide\n    when: 10 March to 20 March\n    not-before: year 2\n    minutes: 60\n"}.plan(t)
	if y, m, _ := c.Months[c.Peak()].First.Civil(); y != 2027 || m != time.May {
		t.Errorf("the busiest month is %s %d", m, y)
	}
}

func TestSkill(t *testing.T) {
	at := func(skill string) measure.Minutes {
		return ruled(scene{garden: skill, care: "  - job: cut back\n    when: May\n    minutes: 2 to 4\n"}.plan(t))[0].Minutes
	}
	// Four plants of 2 to 4 minutes; an owner takes 1.5 to 2 times as long.
	for skill, want := range map[string]measure.Minutes{"": {Low: 8, High: 16}, "skill: gardener\n": {Low: 8, High: 16}, "skill: owner\n": {Low: 12, High: 32}} {
		if got := at(skill); got != want {
			t.Errorf("%q: %v, want %v", skill, got, want)
		}
	}
}

func TestLoads(t *testing.T) {
	rows := "plants:\n  - {plant: Salvia nemorosa, quantity: 40, bed: A}\n  - {plant: Salvia nemorosa, quantity: 2, bed: B}\n  - {plant: Salvia nemorosa}\n"
	beds := "beds:\n  - {bed: A, area: 40 m², style: grouped}\n  - {bed: B}\n  - {bed: C, area: 1 m²}\n"
	s := scene{garden: beds + rows, care: "  - job: cut back\n    when: May\n    minutes: 7\n"}
	in := s.input(t)
	c, _ := Plan(in)
	got := in.Loads(c)
	if len(got) != 3 || got[0].Bed != "A" || got[1].Bed != "B" || got[2].Bed != "" {
		t.Fatalf("got %+v", got)
	}
	// 40 m² at 7 minutes is 280 (TRADE part 8), within the trial's 6.4 to 12.5.
	if got[0].Low != 280 || got[0].PerArea.Low != 7 || !strings.Contains(got[0].Published, "6.4 to 12.5") || !strings.HasSuffix(got[0].Published, "they overlap") {
		t.Errorf("bed A: %+v", got[0])
	}
	if got[1].Low != 14 || got[1].Published != "" {
		t.Errorf("bed B: %+v", got[1])
	}
	// The trial's minutes are a gardener's: an owner's are put back to them.
	s.garden = "skill: owner\n" + s.garden
	in = s.input(t)
	c, _ = Plan(in)
	if l := in.Loads(c)[0]; l.Low != 420 || l.High != 560 || !near(l.PerArea.Low, 7) || !near(l.PerArea.High, 7) {
		t.Errorf("an owner's bed A: %+v", l)
	}
	// Sum of beds, of months and of tasks are one.
	sum := 0.0
	for _, l := range in.Loads(c) {
		sum += l.High
	}
	if y := c.Year(); !near(y.High, sum) {
		t.Errorf("beds have %v, the year %v", sum, y.High)
	}
}

func TestPublished(t *testing.T) {
	for _, c := range []struct {
		style     string
		low, high float64
		units     measure.Units
		want      string
	}{
		{"under trees", 6, 8, measure.Metric, "more than that"},
		{"steppe", 1, 2, measure.Metric, "less than that"},
		{"display", 18, 30, measure.Metric, "17.5 and more"},
		{"", 3, 5, measure.Metric, "all styles but display"},
		{"steppe", 6, 9, measure.US, "5.0 to 7.5 min per square yard and year without weeding; trials took 6.0 to 9.1 with it"},
	} {
		if got := published(c.style, measure.Minutes{Low: c.low, High: c.high}, c.units); !strings.Contains(got, c.want) {
			t.Errorf("%s %v to %v: %s", c.style, c.low, c.high, got)
		}
	}
}

func TestWaterings(t *testing.T) {
	for _, c := range []struct {
		name, plant, row string
		low, high        float64 // litres for the planting
		seasons          string
	}{
		// A quarter to a third of the pot (University of Minnesota Extension).
		{"shrub by its pot", "type: shrub\n", "quantity: 3\n    size: 12 L", 9, 12, "1 to 2 years"},
		{"perennial P9", "", "quantity: 12\n    size: P9", 1.5, 2, "the first season"},
		{"usual pot", "", "quantity: 1", 0.5, 2. / 3, "the first season"},
		{"tree", "type: tree\n", "size: 25 litres", 6.25, 25. / 3, "2 years and more"},
		// 14 to 16 cm round are 4.5 to 5.1 cm across.
		{"tree by its girth", "type: tree\n", "size: 14-16 cm girth", 14 / math.Pi * 1.5, 16 / math.Pi * 2.2, "4 years"},
		{"tree by its class", "type: tree\n", "size: H 3xv mDb 18-20", 18 / math.Pi * 1.5, 20 / math.Pi * 2.2, "4 years"},
	} {
		s := scene{garden: "date: 2027-03-20\nplants:\n  - plant: Salvia nemorosa\n    " + c.row + "\n", plant: c.plant}
		in := s.input(t)
		cal, _ := Plan(in)
		got := in.Waterings(cal)
		if len(got) != 1 || !near(got[0].All.Low, c.low) || !near(got[0].All.High, c.high) || got[0].Seasons != c.seasons {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
	old := scene{garden: "date: 2027-03-20\nplants:\n  - plant: Salvia nemorosa\n    planted: 2020-03-01\n"}
	in := old.input(t)
	cal, _ := Plan(in)
	if got := in.Waterings(cal); got != nil {
		t.Errorf("an old planting is watered: %v", got)
	}
}

func TestWaste(t *testing.T) {
	for _, c := range []struct {
		name, plant, care, row string
		low, high              float64
	}{
		// Circles of 1 m across: π/4 m² each (TRADE 4.3 for litres per m²).
		{"perennials", "spread: 100 cm\n", "", "quantity: 4", 20 * math.Pi, 50 * math.Pi},
		{"grasses", "type: grass\nspread: 100 cm\n", "", "quantity: 4", 30 * math.Pi, 80 * math.Pi},
		// 10 m of hedge 1.5 m high, two faces, cut twice.
		{"hedge", "type: hedge\nheight: 150 cm\n", "  - job: trim\n    when: June or September\n", "quantity: 10", 180, 480},
		{"roses", "type: rose\n", "", "quantity: 3", 30, 60},
		{"nothing cut", "", "  - job: comb\n    when: May\n", "quantity: 3", 0, 0},
	} {
		s := scene{garden: "plants:\n  - plant: Salvia nemorosa\n    planted: 2020-03-01\n    " + c.row + "\n", plant: c.plant, care: c.care}
		in := s.input(t)
		cal, _ := Plan(in)
		if got := in.Waste(cal); !near(got.Low, c.low) || !near(got.High, c.high) {
			t.Errorf("%s: %+v, want %v to %v", c.name, got, c.low, c.high)
		}
	}
}

func TestLitresSay(t *testing.T) {
	for want, l := range map[string]Litres{
		"about 2.2 to 5.7 m³":     {2160, 5730},
		"about 170 to 225 litres": {168, 224},
		"about 3 to 6 litres":     {2.2, 6},
		"about 0.5 to 2 m³":       {500, 2000},
	} {
		if got := strings.ReplaceAll(l.Say(wordstest.English(t)), measure.Space, " "); got != want {
			t.Errorf("%v prints %q, want %q", l, got, want)
		}
	}
}

// TestExplain: the story of a rule names its phrase, cues, conditions, why it
// is not due, and blockers.
func TestExplain(t *testing.T) {
	s := scene{
		garden: "date: 2027-03-20\nsite: {latitude: 52, country: XX, normals: " + cambridge + "}\n" +
			"beds:\n  - {bed: A, soil: wet}\nplants:\n  - {plant: Salvia nemorosa, bed: A, planted: 2026-10-01}\n",
		plant: "type: hedge\nadjust:\n  - {if: wet soil, job: trim, when: 20 August to 20 September, note: Later here.}\n  - {if: pot, job: trim, skip: true}\n",
		care: "  - job: trim\n    when: July\n    postpone-if: Birds nest in it.\n    if-missed: Trim next year.\n" +
			"  - job: divide\n    when: 2 weeks before last frost to last frost\n    every: 3 years\n" +
			"  - job: prune\n    when: January to February\n",
		region: "nest: {from: 1 March, to: 31 August}\n",
	}
	in := s.input(t)
	c, _ := Plan(in)
	got := map[string]string{}
	for _, story := range Explain(in, c, &in.Plantings[0]) {
		got[story.Job] = story.When + " @ " + story.Source + "\n" + strings.Join(story.Steps, "\n")
	}
	for job, parts := range map[string][]string{
		"trim": {"July @ plants/x.md:", "adjust if wet soil (when 20 August to 20 September, a note): holds here", "adjust if pot (not done): does not hold here",
			"2027-08-20 to 2027-09-20, growing year 1", "kept out of the nesting season: 2027-09-01 to 2027-09-20", "postpone if: Birds nest in it."},
		"divide": {"last frost (14 April 2027", "Not due: every 3 years"},
		"prune":  {"2028-01-01 to 2028-02-29, growing year 2"},
	} {
		for _, part := range parts {
			if !strings.Contains(got[job], part) {
				t.Errorf("the story of %s does not say %q:\n%s", job, part, got[job])
			}
		}
	}
}
