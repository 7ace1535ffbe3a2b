package generator_test

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"sheaf/content"
	"sheaf/generator"
	"sheaf/generator/care"
	"sheaf/generator/garden"
	"sheaf/generator/site"
)

// handedOver plans a garden of plantings at a place, handed over on 1 March 2027, with
// files of its own. What may not be planted there is there already.
func handedOver(t testing.TB, p station, rows string, own fstest.MapFS) *generator.Plan {
	t.Helper()
	text := fmt.Sprintf("garden: Days\ndate: 2027-03-01\nskill: owner\nsite:\n  latitude: %v\n  country: %s\n  normals: {min: %s, max: %s, unit: °C, source: %q}\nbeds: [{bed: A}, {bed: B}, {bed: C}, {bed: D}]\nplants:\n%s",
		p.Latitude, p.country, figures(p.Normals.Min), figures(p.Normals.Max), p.source, rows)
	forbidden := ""
	for {
		files := fstest.MapFS{"garden.yaml": {Data: []byte(text + forbidden)}}
		for name, f := range own {
			files[name] = f
		}
		plan, ds, err := generator.Check(generator.Options{Now: time.Date(2027, time.January, 1, 0, 0, 0, 0, time.UTC), Folders: generator.Folders{
			Garden: files, File: "garden.yaml",
			Library: func(string) (fs.FS, error) { return content.Library(), nil },
		}})
		if err == nil && plan != nil && !ds.HasErrors() {
			return plan
		}
		var names []string
		for _, d := range ds {
			if name := d.Span.Text(); d.Code == "plant/regulated" && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
		if names == nil || forbidden != "" {
			t.Fatalf("%s: %v %s", p.name, err, printed(ds))
		}
		forbidden = "acknowledged: [" + strings.Join(names, ", ") + "]\n"
	}
}

// plantedAtRandom are some plantings of the library, drawn by a seed.
func plantedAtRandom(l []string, n int, seed uint64) string {
	r := rand.New(rand.NewPCG(seed, 19))
	var b strings.Builder
	for range n {
		fmt.Fprintf(&b, "  - {plant: %q, quantity: %d, bed: %c, planted: %d-04-01}\n", l[r.IntN(len(l))], 1+r.IntN(12), 'A'+r.IntN(4), 2018+r.IntN(9))
	}
	return b.String()
}

// keptDays fails where the garden days of a plan are not as they must be: a task lost
// or done twice, outside its window, before the handover, in a closed season, in a time
// that its rule forbids or in nesting time that its window keeps clear of; more hours
// than a day has; and what waits for a cut before it.
func keptDays(t *testing.T, name string, plan *generator.Plan) {
	t.Helper()
	c := plan.Calendar
	parts, of, on := map[int]int{}, map[int]int{}, map[int][]int{}
	for n, d := range c.Days {
		sum := 0.0
		if d.From < c.First || d.From < plan.Garden.Date {
			t.Errorf("%s: day %d begins on %s, before the handover", name, n+1, d.From)
		}
		for _, p := range d.Parts {
			task := c.Tasks[p.Task]
			parts[p.Task]++
			of[p.Task] = p.Of
			on[p.Task] = append(on[p.Task], n)
			sum += (p.Minutes.Low + p.Minutes.High) / 2
			if p.N != parts[p.Task] || d.From < task.From || d.To > task.To || d.From > d.To {
				t.Errorf("%s: day %d, %s to %s, has part %d of %s of %s, %s to %s", name, n+1, d.From, d.To, p.N, task.Job.Name.Value, task.Planting.Label(), task.From, task.To)
			}
			clear := care.Disturbs(&task) && !plan.InNestSeason(&task)
			task.From, task.To = d.From, d.To
			closed(t, name, plan, task)
			forbidden(t, name, plan.Climate, task)
			if clear && plan.InNestSeason(&task) {
				t.Errorf("%s: day %d is in nesting time", name, n+1)
			}
		}
		if sum > plan.Garden.Day+0.001 {
			t.Errorf("%s: day %d takes %.0f minutes of %.0f", name, n+1, sum, plan.Garden.Day)
		}
	}
	for i := range c.Tasks {
		if apart := slices.Contains(c.Apart, i); apart != (c.Tasks[i].Job.Mark == "water") || apart != (parts[i] == 0) || parts[i] != of[i] {
			t.Errorf("%s: %d parts of %d of %s of %s are on days", name, parts[i], of[i], c.Tasks[i].Job.Name.Value, c.Tasks[i].Planting.Label())
		}
		for j := range c.Tasks {
			a, b := &c.Tasks[i], &c.Tasks[j]
			if a.Planting != b.Planting || a.From > b.From || on[i] == nil || on[j] == nil {
				continue
			}
			for _, after := range b.Job.After {
				if after.Value == a.Job.Name.Value && on[i][len(on[i])-1] > on[j][0] && a.From <= b.To && a.To >= b.From {
					t.Errorf("%s: %s of %s is on day %d, after %s on day %d", name, after.Value, a.Planting.Label(), on[i][0]+1, b.Job.Name.Value, on[j][0]+1)
				}
			}
		}
	}
	if len(c.Days) < c.LeastDays {
		t.Errorf("%s: %d days, and none is said to have fewer than %d", name, len(c.Days), c.LeastDays)
	}
}

// TestDaysKeepSeasons: at each of fourteen places, in all regions, a garden of a third
// of what the library tells apart has its days in none of the times in which its work
// must not be done.
func TestDaysKeepSeasons(t *testing.T) {
	t.Parallel()
	library := wholeShelf(t)
	regions := map[string]bool{}
	held := 0
	every := representatives(library, byFlowers)
	for at, p := range fourteen() {
		regions[p.country] = true
		var rows strings.Builder
		for i, e := range every {
			if i%3 != at%3 { // each of them at five places of all latitudes
				continue
			}
			fmt.Fprintf(&rows, "  - {plant: %q, planted: 2019-01-02}\n", e.Name.Value.Plain())
		}
		plan := handedOver(t, p, rows.String(), nil)
		keptDays(t, p.name, plan)
		for i := range plan.Calendar.Tasks {
			if plan.Calendar.Tasks[i].Law != nil {
				held++
			}
		}
	}
	if len(regions) < 10 || held == 0 {
		t.Errorf("%d regions, %d tasks that a law holds", len(regions), held)
	}
}

// TestGardenDays: ten gardens, of their work, its days, and how many there must be. The
// two handovers that ship have at most one day more than the bound.
func TestGardenDays(t *testing.T) {
	t.Parallel()
	var named []string
	for _, e := range wholeShelf(t).Entries {
		named = append(named, e.Name.Value.Plain())
	}
	place := func(name string) station {
		return fourteen()[slices.IndexFunc(fourteen(), func(s station) bool { return s.name == name })]
	}
	var table strings.Builder
	table.WriteString("Ten gardens and their garden days. Hours are means, of an owner, in twelve months, without watering; windows are in days. No schedule has fewer days than the bound.\n\n")
	table.WriteString("| garden | tasks | hours | days | bound | narrowest window | mean window |\n|---|---|---|---|---|---|---|\n")
	line := func(name string, plan *generator.Plan) {
		keptDays(t, name, plan)
		c := plan.Calendar
		hours, narrowest, sum := 0.0, site.Day(1000), site.Day(0)
		for _, d := range c.Days {
			hours += (d.Minutes.Low + d.Minutes.High) / 120
			narrowest, sum = min(narrowest, d.To-d.From+1), sum+d.To-d.From+1
		}
		table.WriteString(tableLine(name, fmt.Sprint(len(c.Tasks)-len(c.Apart)), fmt.Sprintf("%.1f", hours), fmt.Sprint(len(c.Days)), fmt.Sprint(c.LeastDays), fmt.Sprint(int(narrowest)), fmt.Sprintf("%.1f", float64(sum)/float64(len(c.Days)))))
	}
	for _, g := range []string{demo, kettleRidge} {
		plan, _, err := generator.Check(options(t, g))
		if err != nil || plan == nil {
			t.Fatal(err)
		}
		line(plan.Garden.Name, plan)
		if c := plan.Calendar; len(c.Days) > c.LeastDays+1 {
			t.Errorf("%s: %d days, the bound is %d", g, len(c.Days), c.LeastDays)
		}
	}
	guide, _, err := generator.Check(options(t, southern))
	if err != nil || guide == nil || guide.Garden.Kind != garden.Guide || len(guide.Calendar.Days) > 0 {
		t.Fatalf("a guide has days: %v", err)
	}
	var rows strings.Builder
	for i := range guide.Plantings {
		if e := guide.Plantings[i].Entry; slices.Contains(named, e.Name.Value.Plain()) {
			fmt.Fprintf(&rows, "  - {plant: %q, quantity: 3, bed: A, planted: 2022-05-01}\n", e.Name.Value.Plain())
		}
	}
	line("the shipped plants of "+guide.Garden.Name+", 3 of each, as a handover", handedOver(t, station{guide.Garden.Name, "AU", guide.Garden.ClimateSource, guide.Garden.Place}, rows.String(), nil))
	for i, name := range []string{"Minneapolis", "Munich", "Manchester", "Atlanta", "Christchurch"} {
		n := 20 + 15*i
		line(fmt.Sprintf("%d plantings at %s", n, name), handedOver(t, place(name), plantedAtRandom(named, n, uint64(i)), nil))
	}
	week := fstest.MapFS{"plants/weekly.md": {Data: []byte("---\nbotanical: Sesleria insularis\ncommon: [island moor grass]\ntype: grass\nleaf: deciduous\ngrowth: cool-season\nhabit: mound\nheight: 40 cm\nspread: 45 cm\ncare:\n  - {job: cut back, when: 1 April to 7 April, leave: 8 to 10 cm, minutes: 4 to 9}\n---\nA low mound.\n")}}
	rows.Reset()
	for i := range 40 {
		fmt.Fprintf(&rows, "  - {plant: Sesleria insularis, quantity: %d, bed: %c, planted: 2019-01-02}\n", 1+i%7, 'A'+i%4)
	}
	line("40 plantings, all due in one week", handedOver(t, place("Manchester"), rows.String(), week))
	line("300 plantings at De Bilt", handedOver(t, place("De Bilt"), plantedAtRandom(named, 300, 300), nil))
	heldTo(t, filepath.Join("..", "testdata", "days", "table.md"), table.String())
}

// TestDaysOfWeek: a garden that is worked on Saturdays has days whose windows hold
// one, or that say that they do not.
func TestDaysOfWeek(t *testing.T) {
	plan, _, err := generator.Check(moved(t, "skill: owner", "skill: owner\nday: 5 hours\nweekdays: [Saturday]"))
	if err != nil || plan == nil {
		t.Fatal(err)
	}
	keptDays(t, "Saturdays", plan)
	nearest := 0
	for n, d := range plan.Calendar.Days {
		saturday := false
		for day := d.From; day <= d.To; day++ {
			y, m, date := day.Civil()
			saturday = saturday || time.Date(y, m, date, 0, 0, 0, 0, time.UTC).Weekday() == time.Saturday
		}
		if d.Nearest == saturday || d.Nearest && d.From != d.To {
			t.Errorf("day %d, %s to %s: nearest %v", n+1, d.From, d.To, d.Nearest)
		}
		if d.Nearest {
			nearest++
		}
	}
	t.Logf("%d days of at most 5 hours, %d without a Saturday", len(plan.Calendar.Days), nearest)
}

// TestDaysExplained: of each task it is told on which day it is, and where that day
// leaves it less than its own window, which other task or day takes the rest.
func TestDaysExplained(t *testing.T) {
	for name, o := range map[string]generator.Options{"demo": options(t, demo), "Kettle Ridge": options(t, kettleRidge), "short days": moved(t, "skill: owner", "skill: owner\nday: 0.5 hours\nweekdays: [Sun]")} {
		plan, _, err := generator.Check(o)
		if err != nil || plan == nil {
			t.Fatal(err)
		}
		c, said, whole := plan.Calendar, 0, 0
		type rule struct {
			*garden.Planting
			job string
		}
		told := map[rule]string{}
		for i := range plan.Plantings {
			p := &plan.Plantings[i]
			if p.Entry == nil {
				continue
			}
			for _, s := range care.Explain(plan.Input, c, p) {
				told[rule{p, s.Job}] += strings.Join(s.Steps, "\n") + "\n"
			}
		}
		for n, d := range c.Days {
			for _, part := range d.Parts {
				task := &c.Tasks[part.Task]
				line := fmt.Sprintf("on garden day %d, %s to %s", n+1, d.From, d.To)
				if part.Of > 1 {
					line += fmt.Sprintf(", part %d of %d, as it takes longer than a day", part.N, part.Of)
				}
				_, why, ok := strings.Cut(told[rule{task.Planting, task.Job.Name.Value}], line+": ")
				why, _, _ = strings.Cut(why, "\n")
				from := max(task.From, plan.Garden.Date)
				if !ok || (why == "its whole window") != (from == d.From && task.To == d.To) ||
					strings.Contains(why, "first day") != (from < d.From && !d.Nearest) || strings.Contains(why, "last day") != (task.To > d.To && !d.Nearest) {
					t.Errorf("%s: %s of %s, %s to %s, is %s: %q", name, task.Job.Name.Value, task.Planting.Label(), from, task.To, line, why)
				}
				if said++; why == "its whole window" {
					whole++
				}
			}
		}
		if said < 40 || whole == said {
			t.Errorf("%s: %d tasks explained, %d of them whole", name, said, whole)
		}
	}
}

// TestDaysRecorded: booklet.json has the garden days, each task on one or said to be
// apart, with the parts of long ones, tools and beds.
func TestDaysRecorded(t *testing.T) {
	o := moved(t, "skill: owner", "skill: owner\nday: 1 hour")
	o.Editions = []string{"json"}
	var b struct {
		Tasks []struct {
			From, To, Bed string
			Apart         bool
		}
		Days []struct {
			From, To    string
			Minutes     struct{ Low, High float64 }
			Tasks       []int
			Parts       []struct{ Task, Part, Of int }
			Tools, Beds []string
			After       []int
		}
		LeastDays int
	}
	if err := json.Unmarshal(build(t, o).Files["booklet.json"], &b); err != nil {
		t.Fatal(err)
	}
	on, parts := map[int]int{}, 0
	for n, d := range b.Days {
		if len(d.Tasks) == 0 || len(d.Tools) == 0 || len(d.Beds) == 0 || (d.Minutes.Low+d.Minutes.High)/2 > 60.001 || d.Minutes.High <= 0 {
			t.Errorf("day %d: %+v", n, d)
		}
		for _, i := range d.Tasks {
			on[i]++
			if task := b.Tasks[i]; d.From < task.From || d.To > task.To || !slices.Contains(d.Beds, task.Bed) {
				t.Errorf("day %d, %s to %s, has %+v", n, d.From, d.To, task)
			}
		}
		for _, p := range d.Parts {
			parts++
			if on[p.Task] != p.Part || p.Of < p.Part || !slices.Contains(d.Tasks, p.Task) {
				t.Errorf("day %d: %+v", n, p)
			}
		}
	}
	for i, task := range b.Tasks {
		if task.Apart != (on[i] == 0) {
			t.Errorf("task %d is on %d days, apart %v", i, on[i], task.Apart)
		}
	}
	if parts == 0 || b.LeastDays == 0 || b.LeastDays > len(b.Days) {
		t.Errorf("%d parts; %d days, at least %d", parts, len(b.Days), b.LeastDays)
	}
}

// BenchmarkGardenDays dates the work of sixty plants and makes days of it.
func BenchmarkGardenDays(b *testing.B) {
	plan, _, err := generator.Check(grown(b, 60))
	if err != nil || plan == nil {
		b.Fatal(err)
	}
	for b.Loop() {
		care.Plan(plan.Input)
	}
}
