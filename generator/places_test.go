package generator_test

import (
	"cmp"
	"fmt"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"sheaf/content"
	"sheaf/generator"
	"sheaf/generator/care"
	"sheaf/generator/entries"
	"sheaf/generator/site"
	"sheaf/generator/source"
)

// A station is a place of the library's own test: a weather station with its
// published normals.
type station struct {
	name, country string
	source        string // who publishes the figures, of which years
	site.Site
}

// WMO is the set of normals of 1991 to 2020 that the members of the World
// Meteorological Organization gave (NOAA NCEI, Accession 0253808,
// doi 10.25921/800j-vn07), read in the composite of github.com/wmo-im.
const wmo = "WMO normals 1991–2020, station "

// fourteen are the places at which every window of the library is tried, from
// the coldest to the mildest winter, at least one for each region that ships.
func fourteen() []station {
	at := func(name, country, source string, latitude float64, low, high [12]float64) station {
		return station{name, country, source, site.Site{Latitude: latitude, Normals: &site.Normals{Min: low, Max: high}}}
	}
	return []station{
		at("Minneapolis", "US", wmo+"Minneapolis St Paul", 44.88,
			[12]float64{-12.9, -10.7, -3.9, 3.1, 9.9, 15.8, 18.5, 17.1, 12.3, 5.0, -2.4, -9.3},
			[12]float64{-4.7, -1.9, 5.4, 13.7, 20.6, 26.1, 28.5, 27.1, 22.7, 14.5, 5.5, -1.8}),
		at("Ottawa", "CA", wmo+"Ottawa CDA", 45.38,
			[12]float64{-14.0, -12.9, -6.9, 1.1, 8.1, 13.3, 15.7, 14.5, 10.1, 4.1, -1.8, -8.7},
			[12]float64{-5.2, -3.3, 2.5, 11.2, 19.4, 24.2, 26.7, 25.6, 21.1, 13.3, 5.8, -1.5}),
		at("Des Moines", "US", wmo+"Des Moines", 41.53,
			[12]float64{-10.1, -7.8, -1.4, 4.8, 11.3, 16.9, 19.1, 17.9, 13.0, 6.1, -1.0, -7.0},
			[12]float64{-0.6, 2.1, 9.6, 16.7, 22.4, 27.7, 29.8, 28.7, 24.9, 17.5, 9.1, 2.1}),
		at("Munich", "DE", wmo+"München-Stadt", 48.16,
			[12]float64{-1.8, -1.4, 1.7, 5.3, 9.3, 12.9, 14.7, 14.5, 10.4, 6.5, 2.1, -0.8},
			[12]float64{4.0, 5.6, 10.1, 15.2, 19.4, 22.9, 24.9, 24.7, 19.6, 14.5, 8.2, 4.8}),
		at("Philadelphia", "US", wmo+"Philadelphia", 39.87,
			[12]float64{-3.3, -2.5, 1.3, 6.8, 12.3, 17.7, 20.9, 20.0, 16.1, 9.5, 3.8, -0.5},
			[12]float64{5.2, 6.8, 11.5, 18.2, 23.5, 28.4, 31.0, 29.9, 26.0, 19.5, 13.3, 7.8}),
		at("Braemar", "GB", "Met Office historic station series, means of 1991–2020", 57.01,
			[12]float64{-1.2, -1.1, -0.2, 1.4, 3.7, 7.0, 8.8, 8.4, 6.5, 3.8, 0.9, -1.3},
			[12]float64{4.8, 5.2, 7.2, 10.1, 13.7, 16.0, 18.0, 17.4, 15.0, 10.9, 7.4, 5.0}),
		at("Uccle", "BE", wmo+"Uccle", 50.80,
			[12]float64{1.4, 1.5, 3.5, 6.0, 9.2, 12.0, 14.1, 13.9, 11.3, 8.1, 4.6, 2.1},
			[12]float64{6.1, 7.1, 10.9, 15.0, 18.4, 21.2, 23.2, 23.0, 19.5, 14.9, 9.9, 6.6}),
		at("De Bilt", "NL", wmo+"De Bilt", 52.10,
			[12]float64{0.9, 0.7, 2.4, 4.5, 8.0, 10.8, 13.0, 12.5, 10.0, 7.1, 3.9, 1.6},
			[12]float64{6.1, 7.0, 10.5, 14.8, 18.3, 20.9, 23.1, 22.9, 19.5, 14.8, 9.9, 6.7}),
		at("Lyon", "FR", wmo+"Lyon-Bron", 45.72,
			[12]float64{1.1, 1.4, 4.2, 7.2, 11.2, 15.0, 17.0, 16.6, 12.8, 9.6, 4.9, 2.0},
			[12]float64{7.1, 9.0, 13.8, 17.4, 21.5, 25.6, 28.2, 28.0, 23.1, 17.7, 11.4, 7.7}),
		at("Manchester", "GB", "Met Office, Manchester 1981–2010", 53.36,
			[12]float64{1.7, 1.6, 3.3, 4.9, 7.7, 10.5, 12.6, 12.4, 10.3, 7.4, 4.2, 1.8},
			[12]float64{7.3, 7.6, 10.0, 12.6, 16.1, 18.6, 20.6, 20.3, 17.6, 13.9, 10.0, 7.4}),
		at("Dublin", "IE", wmo+"Dublin Airport", 53.43,
			[12]float64{2.3, 2.2, 3.0, 4.0, 6.6, 9.0, 11.3, 11.2, 9.5, 7.1, 4.3, 2.6},
			[12]float64{8.0, 8.5, 10.1, 12.3, 14.8, 17.7, 19.5, 19.1, 16.9, 13.6, 10.3, 8.3}),
		at("Atlanta", "US", wmo+"Atlanta Hartsfield", 33.63,
			[12]float64{2.0, 3.8, 7.4, 11.4, 16.3, 20.4, 22.1, 21.8, 18.9, 12.7, 6.8, 3.6},
			[12]float64{12.2, 14.5, 18.8, 23.2, 27.3, 30.6, 32.3, 31.7, 28.8, 23.6, 17.8, 13.4}),
		at("Christchurch", "NZ", wmo+"Christchurch Aero", -43.49,
			[12]float64{11.8, 11.5, 9.5, 6.6, 3.9, 1.2, 0.7, 2.0, 3.9, 5.8, 7.6, 10.4},
			[12]float64{22.5, 22.2, 20.3, 17.2, 14.7, 11.7, 11.2, 12.5, 14.8, 16.9, 18.8, 21.1}),
		at("Melbourne", "AU", wmo+"Melbourne Olympic Park", -37.83,
			[12]float64{15.7, 16.1, 14.4, 11.4, 9.8, 7.9, 7.4, 7.8, 9.4, 10.7, 12.6, 14.1},
			[12]float64{26.0, 25.7, 23.7, 20.7, 17.4, 14.8, 14.4, 15.4, 17.5, 19.8, 22.0, 23.8}),
	}
}

// enough is how many days of a window must be fit for its work, or all if it is
// shorter.
const enough = 10

// closedGround tells whether too few days of a stretch have a normal maximum of
// 0 °C or more: the soil is frozen or under snow, and frozen wood is not cut.
func closedGround(c *site.Climate, from, to site.Day) bool {
	open := site.Day(0)
	for d := from; d <= to; d++ {
		if !(c.Max(d) < 0) {
			open++
		}
	}
	return open < min(enough, to-from+1)
}

// TestNoWindowInFrozenGround: at each of fourteen places, in every window of every
// rule of the library and of what an adjustment makes of it, there are days on
// which the ground is open, where the job's page asks for that.
func TestNoWindowInFrozenGround(t *testing.T) {
	l := wholeShelf(t)
	tried := 0
	for _, p := range fourteen() {
		c := p.Climate()
		for _, e := range l.Entries {
			x := site.Context{Climate: c, WrittenFor: e.WrittenFor, Flowering: e.Flowers.Value}
			for _, r := range e.Rules {
				if l.Job(r.Job.Value).Ground != entries.OpenGround {
					continue
				}
				windows := []source.At[site.Window]{r.When}
				for _, a := range e.Adjust {
					if a.Job.Value == r.Job.Value && !a.When.Value.IsZero() {
						windows = append(windows, a.When)
					}
				}
				for _, w := range windows {
					for _, v := range x.Resolve(w.Value, 2027) {
						tried++
						if closedGround(c, v.From, v.To) {
							t.Errorf("%s (%s): %s at %s, %s: %s to %s is frozen", e.ID, w.Span.File.Path, r.Job.Value, p.name, w.Value, v.From, v.To)
						}
					}
				}
			}
		}
	}
	t.Logf("%d windows tried", tried)
	if tried < 5000 {
		t.Errorf("only %d windows were tried", tried)
	}
}

// ages are the growing years in which something is due to a plant that is not in
// all others: the first, a later one, and those in which its rules fall that are
// done every so many years.
func ages(e *entries.Entry) []int {
	out := []int{1, 8}
	for _, r := range e.Rules {
		if r.Every < 2 {
			continue
		}
		age := r.Every + 1
		for age < r.NotBefore {
			age += r.Every
		}
		if !slices.Contains(out, age) && !slices.Contains(out, age-1) { // two years are planned
			out = append(out, age)
		}
	}
	return out
}

// allOfIt plans a garden that has all plants of some entries at a place, of some
// ages in 2027, for two years from its January.
func allOfIt(t *testing.T, es []*entries.Entry, p station, ages func(*entries.Entry) []int) (*generator.Plan, source.Diagnostics) {
	t.Helper()
	var text strings.Builder
	fmt.Fprintf(&text, "garden: All of it\ndate: 2027-01-01\nyears: 2\nsite:\n  latitude: %v\n  country: %s\n", p.Latitude, p.country)
	fmt.Fprintf(&text, "  normals: {min: %s, max: %s, unit: °C, source: %q}\nplants: plants.csv\n", figures(p.Normals.Min), figures(p.Normals.Max), p.source)
	list, names := "plant,planted\n", "plant\n"
	for _, e := range es {
		names += e.Name.Value.Plain() + "\n"
		for _, age := range ages(e) {
			list += fmt.Sprintf("%s,%d-01-02\n", e.Name.Value.Plain(), 2028-age)
		}
	}
	check := func(text, list string) (*generator.Plan, source.Diagnostics, error) {
		return generator.Check(generator.Options{Now: time.Date(2027, time.January, 1, 0, 0, 0, 0, time.UTC), Folders: generator.Folders{
			Garden: fstest.MapFS{"garden.yaml": {Data: []byte(text)}, "plants.csv": {Data: []byte(list)}}, File: "garden.yaml",
			Library: func(string) (fs.FS, error) { return content.Library(), nil },
		}})
	}
	// What may not be planted there is there already.
	var forbidden []string
	_, ds, _ := check(strings.Replace(text.String(), "years: 2", "years: 1", 1), names)
	for _, d := range ds {
		if name := d.Span.Text(); d.Code == "plant/regulated" && !slices.Contains(forbidden, name) {
			forbidden = append(forbidden, name)
		}
	}
	plan, ds, err := check(text.String()+"acknowledged: ["+strings.Join(forbidden, ", ")+"]\n", list)
	if err != nil || plan == nil || ds.HasErrors() {
		t.Fatalf("%s: %v %s", p.name, err, printed(ds))
	}
	return plan, slices.DeleteFunc(ds, func(d source.Diagnostic) bool {
		return strings.HasPrefix(d.Code, "plant/regulated") || d.Code == "garden/no-part" || d.Code == "care/closed-season" || d.Code == "list/cautious"
	})
}

// closed tells of a task that lies in a closed season of its place, by a day or more.
func closed(t *testing.T, place string, plan *generator.Plan, task care.Task) {
	t.Helper()
	for _, c := range plan.ClosedTo(task.Planting, &task.Rule) {
		for year := task.From.Year() - 1; year <= task.To.Year(); year++ {
			from, to := site.Date(year, c.From.Month, c.From.Day), site.Date(year, c.To.Month, c.To.Day)
			if task.From <= to && from <= task.To {
				t.Errorf("%s: %s of %s from %s to %s lies in the closed season of %s to %s", place, task.Job.Name.Value, task.Planting.Entry.ID, task.From, task.To, from, to)
			}
		}
	}
}

// TestWorkAtFourteenPlaces: of all work that a booklet dates, after nests and
// frost have been kept clear of, none lies in frozen ground, in a closed season or on
// days that its own rule forbids, and no evergreen hedge is clipped when frost is near. What is
// representative of it stands in testdata/places/table.md.
func TestWorkAtFourteenPlaces(t *testing.T) {
	t.Parallel()
	var table strings.Builder
	table.WriteString("The cues of fourteen places in 2027, and what becomes there of some rules of the library, as booklets there date them: clear of nests, frost and frozen ground where there is room.\n\n")
	table.WriteString("| place | normals | coldest day | first green | warm growth | last frost | first frost | leaf fall | growth end | days with a maximum below 0 °C |\n|---|---|---|---|---|---|---|---|---|---|\n")
	shown := []struct{ entry, job string }{
		{"grasses/calamagrostis-acutiflora", "cut back"}, {"grasses/miscanthus-sinensis", "cut back"}, {"grasses/hakonechloa-macra", "mulch"},
		{"perennials/epimedium-versicolor", "remove old leaves"}, {"perennials/helleborus-hybridus", "remove old leaves"}, {"perennials/pulmonaria-officinalis", "cut back"},
		{"perennials/hosta-sieboldiana", "cut back"}, {"bulbs/galanthus-nivalis", "divide"}, {"bulbs/dahlia-pinnata", "lift"}, {"ferns/dicksonia-antarctica", "protect"},
		{"shrubs/rosa-penelope", "prune"}, {"shrubs/hydrangea-macrophylla", "deadhead"}, {"shrubs/cornus-alba-sibirica", "coppice"},
		{"hedges/buxus-sempervirens", "trim"}, {"hedges/taxus-baccata", "trim"}, {"hedges/crataegus-monogyna", "trim"}, {"hedges/carpinus-betulus", "renovate"},
		{"trees/malus-evereste", "prune"},
	}
	lines := make([][]string, len(shown))
	library := wholeShelf(t)
	every := representatives(library, byFlowers)
	for at, p := range fourteen() {
		var es []*entries.Entry // half of them here, the others at the next place
		for _, s := range shown {
			es = append(es, entryOfFile(t, library, s.entry))
		}
		for i, e := range every {
			if i%2 == at%2 && !slices.Contains(es, e) {
				es = append(es, e)
			}
		}
		plan, ds := allOfIt(t, es, p, ages)
		for _, d := range ds {
			if d.Severity == source.Warning {
				t.Errorf("%s: %s [%s]", p.name, d.Message, d.Code)
			}
		}
		for _, line := range plan.Report.LeftOut {
			if strings.Contains(line, "forbids") {
				t.Errorf("%s: %s", p.name, line)
			}
		}
		c := plan.Climate
		days := map[[2]string]string{}
		for _, task := range plan.Calendar.Tasks {
			e, job := task.Planting.Entry, task.Job.Name.Value
			if task.Job.Ground == entries.OpenGround && closedGround(c, task.From, task.To) {
				t.Errorf("%s: %s of %s from %s to %s lies in frozen ground", p.name, job, e.ID, task.From, task.To)
			}
			forbidden(t, p.name, c, task)
			closed(t, p.name, plan, task)
			if first, ok := c.Cue(site.FirstFrost, task.From.Year()); ok && e.Type == "hedge" && e.Leaf == "evergreen" && job == "trim" && task.To > first-6*7 && task.From < first {
				t.Errorf("%s: %s is clipped to %s, and the first frost comes on %s", p.name, e.ID, task.To, first)
			}
			if key := [2]string{strings.TrimSuffix(e.File.Path[strings.Index(e.File.Path, "plants/")+len("plants/"):], ".md"), job}; days[key] == "" {
				days[key] = dayAndMonth(task.From) + " to " + dayAndMonth(task.To)
				if len(task.Cautions) > 0 && slices.ContainsFunc(task.Cautions, func(s string) bool { return strings.HasPrefix(s, "Birds may be nesting") }) {
					days[key] += " (look for nests)"
				}
			}
		}
		cue := func(c *site.Climate, cue site.Cue) string {
			if d, ok := c.Cue(cue, 2027); ok {
				return dayAndMonth(d)
			}
			return "none"
		}
		cold := 0
		for d := site.Date(2027, time.January, 1); d < site.Date(2028, time.January, 1); d++ {
			if c.Max(d) < 0 {
				cold++
			}
		}
		table.WriteString(tableLine(p.name+", "+p.country, p.source, cue(c, site.ColdestDay), cue(c, site.FirstGreen), cue(c, site.WarmGrowth),
			cue(c, site.LastFrost), cue(c, site.FirstFrost), cue(c, site.LeafFall), cue(c, site.GrowthEnd), fmt.Sprint(cold)))
		for i, s := range shown {
			lines[i] = append(lines[i], cmp.Or(days[[2]string{s.entry, s.job}], "not done"))
		}
	}
	head, rule := []string{"plant, job"}, "|---|"
	for _, p := range fourteen() {
		head, rule = append(head, p.name), rule+"---|"
	}
	table.WriteString("\n" + tableLine(head...) + rule + "\n")
	for i, s := range shown {
		table.WriteString(tableLine(append([]string{s.entry[strings.Index(s.entry, "/")+1:] + ", " + s.job}, lines[i]...)...))
	}
	golden := filepath.Join("..", "testdata", "places", "table.md")
	heldTo(t, golden, table.String())
}

// forbidden fails where a task runs into a time in which its own rule is never done.
func forbidden(t *testing.T, place string, c *site.Climate, task care.Task) {
	t.Helper()
	e := task.Planting.Entry
	x := site.Context{Climate: c, WrittenFor: e.WrittenFor, Flowering: e.Flowers.Value}
	for _, n := range task.Rule.Never {
		for year := task.From.Year() - 1; year <= task.To.Year(); year++ {
			for _, w := range x.Resolve(n.Value, year) {
				if w.From <= task.To && task.From <= w.To {
					t.Errorf("%s: %s of %s from %s to %s runs into %q, %s to %s", place, task.Job.Name.Value, e.ID, task.From, task.To, n.Value, w.From, w.To)
					return
				}
			}
		}
	}
}

// waiting are words by which someone is told to wait for frost.
var waiting = regexp.MustCompile(`(?i)(wait|until|once|after|when)\b[^.]{0,40}\b(frost|snow)|(frost|snow) (has|have) (blackened|killed)|blackened by[^.]*frost`)

// excused are sentences in which nobody waits for frost to come, though they match.
var excused = regexp.MustCompile(`(?i)frosts? (are|is|were) (over|past|ending|done)|last (hard )?frost|no (more |hard )?frost|frosts? ends?|frost is (not )?(forecast|near)|worst frosts|until (the )?(first )?(hard )?frosts?\b|ask for it|when (hard )?frosts? are ending`)

// awaits are words by which a plant is left until frost has come to it.
var awaits = regexp.MustCompile(`(?i)(once|until|after|when) (the )?(first |hard |proper )*frosts? (has|have) (killed|blackened|flattened)[^.]*|wait for (a |the )?(first |hard |proper |more )*frosts?\b[^.]*|(keep|leave) (it|them|the [a-z]+) until (the )?(first |hard )*frosts?\.`)

// frostlessPages are the web edition of a garden of the plants that need
// protection or clearing in places with frost.
func frostlessPages(t *testing.T, p station) map[string][]byte {
	t.Helper()
	text := fmt.Sprintf("garden: Warm\ndate: 2027-01-01\nsite:\n  latitude: %v\n  country: %s\n  normals: {min: %s, max: %s, unit: °C, source: a test}\nplants:\n", p.Latitude, p.country, figures(p.Normals.Min), figures(p.Normals.Max))
	for _, name := range []string{"Dahlia pinnata", "Canna indica", "Nerine bowdenii", "Agapanthus campanulatus", "Lamprocapnos spectabilis", "Dicksonia antarctica",
		"Cortaderia selloana", "Pennisetum alopecuroides", "Fuchsia magellanica", "Monarda didyma", "Paeonia lactiflora", "Phlox paniculata", "Persicaria amplexicaulis", "Hosta sieboldiana", "Hemerocallis fulva", "Euphorbia griffithii"} {
		text += fmt.Sprintf("  - {plant: %s, planted: 2020-01-02}\n", name)
	}
	return build(t, generator.Options{Now: time.Date(2027, time.January, 1, 0, 0, 0, 0, time.UTC), Editions: []string{"web"}, Folders: generator.Folders{
		Garden: fstest.MapFS{"garden.yaml": {Data: []byte(text)}}, File: "garden.yaml",
		Library: func(string) (fs.FS, error) { return content.Library(), nil },
	}}).Files
}

// TestFrostlessGarden: where no frost comes nothing is dated that needs one, no
// task tells to wait for it, and the designer is told what is left out.
func TestFrostlessGarden(t *testing.T) {
	t.Parallel()
	places := fourteen()
	melbourne := places[slices.IndexFunc(places, func(p station) bool { return p.name == "Melbourne" })]
	grown := func(*entries.Entry) []int { return []int{8} }
	library := wholeShelf(t)
	plan, _ := allOfIt(t, library.Entries, melbourne, grown)
	if _, ok := plan.Climate.Cue(site.FirstFrost, 2027); ok {
		t.Fatal("the place has frost")
	}
	for _, task := range plan.Calendar.Tasks {
		job, e := task.Job.Name.Value, task.Planting.Entry
		if slices.Contains([]string{"protect", "uncover", "lift", "tie up", "replant"}, job) && e.ID != "ranunculus-asiaticus" { // which is lifted to rest dry
			t.Errorf("%s: %s is dated %s to %s (%s)", e.ID, job, task.From, task.To, task.Rule.When.Value)
		}
		texts := task.Rule.Words()
		for _, n := range task.Notes {
			texts = append(texts, n.Text)
		}
		for _, words := range texts {
			for _, sentence := range strings.SplitAfter(words, ". ") {
				if waiting.MatchString(sentence) && !excused.MatchString(sentence) {
					t.Errorf("%s, %s: %q", e.ID, job, sentence)
				}
			}
		}
		for _, n := range task.Rule.Never {
			if n.Value.Uses(site.FirstFrost) || n.Value.Uses(site.LastFrost) {
				t.Errorf("%s, %s: never %q, and there is no frost", e.ID, job, n.Value)
			}
		}
	}
	for name, text := range readable(t, frostlessPages(t, melbourne)) {
		if !strings.HasPrefix(name, "plants/") && !strings.HasPrefix(name, "jobs/") && !strings.HasPrefix(name, "months/") {
			continue
		}
		if slices.Contains([]string{"jobs/lift.html", "jobs/protect.html", "jobs/uncover.html", "jobs/tie-up.html", "jobs/replant.html"}, name) {
			t.Errorf("%s has nothing to do here", name)
		}
		for _, s := range awaits.FindAllString(text, -1) {
			t.Errorf("%s: %q", name, s)
		}
	}
	told := strings.Join(plan.Report.LeftOut, "\n")
	for _, want := range []string{"Dahlia pinnata, lift: it needs frost", "Dicksonia antarctica, protect: it needs frost"} {
		if !strings.Contains(told, want) {
			t.Errorf("the report does not say %q:\n%s", want, told)
		}
	}
	// And where frost comes all of it is done, and nothing that is for other places.
	plan, _ = allOfIt(t, library.Entries, places[0], grown)
	seen := map[string]bool{}
	for _, task := range plan.Calendar.Tasks {
		seen[task.Job.Name.Value] = true
		if task.Rule.Needs == entries.NoFrost {
			t.Errorf("%s: %s is for places without frost", task.Planting.Entry.ID, task.Job.Name.Value)
		}
	}
	for _, job := range []string{"protect", "uncover", "lift", "tie up", "replant"} {
		if !seen[job] {
			t.Errorf("%s is not done at %s", job, places[0].name)
		}
	}
}
