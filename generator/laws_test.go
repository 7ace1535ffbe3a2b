package generator_test

import (
	"encoding/json"
	"fmt"
	"html"
	"io/fs"
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
	"sheaf/generator/garden"
	botany "sheaf/generator/names"
	"sheaf/generator/site"
	"sheaf/generator/source"
	"sheaf/generator/words/wordstest"
)

// lawPlaces are the places that the library is tried at, with Munich and a place
// where nothing is known, each also as a cold one, six degrees down.
func lawPlaces() map[string]site.Site {
	out := map[string]site.Site{"nothing known": {Latitude: 52}}
	// From memory, about those of 1991 to 2020 at the city's station.
	out["Munich"] = site.Site{Latitude: 48.1, Normals: &site.Normals{
		Min: [12]float64{-2.4, -2, 1.1, 4.6, 8.8, 12.3, 14.2, 14, 10, 6, 1.8, -1.5},
		Max: [12]float64{3.7, 5.3, 10, 15, 19.3, 22.7, 24.9, 24.6, 19.4, 14, 7.9, 4.3}}}
	for _, p := range slices.Concat(britain(), endsOfBritain(), ireland(), seattle(), northEast(), philadelphia(), minnesota()[:1], australia(), sydney(), ballarat()) {
		out[p.name] = p.Site
		if p.Normals == nil {
			continue
		}
		cold := p.Site
		cold.Normals = &site.Normals{}
		cold.LastFrost, cold.FirstFrost = nil, nil
		for i := range 12 {
			cold.Normals.Min[i], cold.Normals.Max[i] = p.Normals.Min[i]-6, p.Normals.Max[i]-6
		}
		out[p.name+", cold"] = cold
	}
	return out
}

// reed is no entry of the library; a garden may have one of its own.
const reed = `---
botanical: Phragmites australis
type: grass
leaf: deciduous
growth: warm-season
habit: upright
height: 200 cm
spread: 100 cm
care:
  - {job: cut back, when: late March to mid April, leave: 10 cm}
---
A reed.
`

// meant are the entries that a closed season of a region is about, a third as many:
// of those that do what their care group does the first of each type, flowering time
// and kind of cut.
func meant(l *entries.Library, r *entries.Region) []*entries.Entry {
	alike := func(e *entries.Entry) string {
		key := byFlowers(e) + e.Type
		for i := range e.Rules {
			key += fmt.Sprint(entries.Hard(e, &e.Rules[i], l.Job(e.Rules[i].Job.Value)))
		}
		return key
	}
	return slices.DeleteFunc(representatives(l, alike), func(e *entries.Entry) bool {
		return !slices.ContainsFunc(r.Closed, func(c entries.Closed) bool {
			return slices.ContainsFunc(e.Rules, func(r entries.Rule) bool { return c.Means(e, &r, l.Job(r.Job.Value)) })
		})
	})
}

// lawful gives the work of some plants of the library in a country and a part of
// it in one year, of grown plants in which every rule is due and of new ones.
func lawful(t *testing.T, l *entries.Library, es []*entries.Entry, r *entries.Region, part string, place site.Site) *care.Calendar {
	t.Helper()
	g := &garden.Garden{Kind: garden.Handover, Years: 1, Country: "XX", Place: place, Skill: garden.Gardener, Part: source.At[string]{Value: part}}
	var ps []garden.Planting
	for _, e := range es {
		ps = append(ps, garden.Planting{Row: garden.Row{Quantity: 1}, Name: e.Name.Value, Entry: e, How: garden.Exact, Typical: true},
			garden.Planting{Row: garden.Row{Quantity: 1, Planted: site.Date(2026, time.November, 1)}, Name: e.Name.Value, Entry: e, How: garden.Exact})
	}
	c, _ := care.Plan(care.Input{Garden: g, Plantings: ps, Library: l, Region: r, Climate: g.Place.Climate(), First: site.Date(2027, time.January, 1), Words: wordstest.English(t), English: wordstest.English(t)})
	return c
}

func withReed(t *testing.T) *entries.Library {
	t.Helper()
	l := *wholeShelf(t)
	e, ds := entries.ParseEntry(source.NewFile("plants/reed.md", []byte(reed)))
	if ds.HasErrors() {
		t.Fatal(printed(ds))
	}
	l.Entries = append(slices.Clone(l.Entries), e)
	return &l
}

// TestClosedSeasons: in no region, nor in a part of one, at no place is a task of
// work that a closed season means dated within it, not by a day; and each season
// from which gardens are not exempt moves at least one window. The dates are those
// of Bundesnaturschutzgesetz 39 (5), the Irish Wildlife Act 1976 section 40 and
// the Brussels ordinance of 2012, as the regions name their sources.
func TestClosedSeasons(t *testing.T) {
	t.Parallel()
	l := withReed(t)
	if len(l.Regions) != 10 {
		t.Fatalf("%d regions", len(l.Regions))
	}
	moved := map[string]int{}
	for _, r := range l.Regions {
		bare := *r
		bare.Closed = nil
		es := meant(l, r)
		for name, place := range lawPlaces() {
			free := map[string][]string{}
			var parts []string // with a season that means gardens
			for _, c := range r.Closed {
				if c.Exempt == "" {
					parts = append(append(parts, ""), c.In...)
				}
			}
			slices.Sort(parts)
			for _, part := range slices.Compact(parts) {
				for _, task := range lawful(t, l, es, &bare, part, place).Tasks {
					key := fmt.Sprint(part, task.Planting.Label(), task.Planting.Typical, task.Rule.Span.Pos())
					free[key] = append(free[key], fmt.Sprint(task.From, task.To))
				}
				for _, task := range lawful(t, l, es, r, part, place).Tasks {
					for i := range r.Closed {
						c := &r.Closed[i]
						if c.Exempt != "" || part != "" && c.In != nil && !slices.Contains(c.In, part) || task.Settling || !c.Means(task.Planting.Entry, &task.Rule, task.Job) {
							continue
						}
						for d := task.From; d <= task.To; d++ {
							_, m, day := d.Civil()
							if on := int(m)*100 + day; on >= int(c.From.Month)*100+c.From.Day && on <= int(c.To.Month)*100+c.To.Day {
								t.Errorf("%s %s at %s: %s of %s from %s to %s lies in %s", r.Code, part, name, task.Job.Name.Value, task.Planting.Label(), task.From, task.To, c.Law)
								break
							}
						}
						key := fmt.Sprint(part, task.Planting.Label(), task.Planting.Typical, task.Rule.Span.Pos())
						if !slices.Contains(free[key], fmt.Sprint(task.From, task.To)) {
							moved[c.Law]++
							if !strings.Contains(task.Why, c.Law) || !slices.ContainsFunc(task.Notes, func(n care.Note) bool { return strings.Contains(n.Text, c.Law) }) {
								t.Errorf("%s: %s of %s was moved and does not say that %s did it: %s %v", r.Code, task.Job.Name.Value, task.Planting.Label(), c.Law, task.Why, task.Notes)
							}
						}
					}
				}
			}
		}
	}
	for _, r := range l.Regions {
		for _, c := range r.Closed {
			switch {
			case c.Exempt == "" && moved[c.Law] == 0:
				t.Errorf("%s: %s moves no window", r.Code, c.Law)
			case c.Exempt != "" && c.Source == "":
				t.Errorf("%s: who says that gardens are exempt from %s?", r.Code, c.Law)
			}
			t.Logf("%s: %s: %d windows moved", r.Code, c.Law, moved[c.Law])
		}
	}
}

// TestNoCutToTheGroundInGermany does not ask the library what a hard cut is: from
// March to September nothing woody is coppiced, renovated or cut to less than a
// third of its height there.
func TestNoCutToTheGroundInGermany(t *testing.T) {
	t.Parallel()
	l := withReed(t)
	coppiced := 0
	es := meant(l, l.Region("DE"))
	for name, place := range lawPlaces() {
		for _, task := range lawful(t, l, es, l.Region("DE"), "", place).Tasks {
			e, job, leave := task.Planting.Entry, task.Job.Name.Value, task.Rule.Leave.Value
			woody := slices.Contains([]string{"shrub", "tree", "hedge", "climber", "rose"}, e.Type)
			low := task.Job.Family == "cut" && !leave.Length.IsZero() && leave.Length.High < e.Height.Low/3
			if !woody || job != "coppice" && job != "renovate" && !low {
				continue
			}
			coppiced++
			if slices.ContainsFunc([]site.Day{task.From, task.To}, func(d site.Day) bool { return d.Month() >= time.March && d.Month() <= time.September }) || task.To-task.From > 160 {
				t.Errorf("%s: %s of %s from %s to %s", name, job, task.Planting.Label(), task.From, task.To)
			}
		}
	}
	if coppiced < 100 {
		t.Errorf("only %d such tasks", coppiced)
	}
}

// checkAt checks a garden of some plants at a place.
func checkAt(t *testing.T, country, part, more string, plants ...string) (*generator.Plan, source.Diagnostics) {
	t.Helper()
	latitude := 52.0
	if country == "AU" || country == "NZ" {
		latitude = -37.8
	}
	text := fmt.Sprintf("garden: Lawful\ndate: 2027-03-20\nsite: {country: %s, latitude: %v", country, latitude)
	if part != "" {
		text += ", region: " + part
	}
	text += "}\n" + more + "plants: plants.csv\n"
	list := "plant,planted\n"
	for _, p := range plants {
		list += p + ",2020-03-01\n"
	}
	plan, ds, err := generator.Check(generator.Options{Now: time.Date(2027, time.January, 1, 0, 0, 0, 0, time.UTC), Partial: true, Folders: generator.Folders{
		Garden:  fstest.MapFS{"garden.yaml": {Data: []byte(text)}, "plants.csv": {Data: []byte(list)}},
		File:    "garden.yaml",
		Library: func(string) (fs.FS, error) { return content.Library(), nil },
	}})
	if err != nil || plan == nil {
		t.Fatal(err, printed(ds))
	}
	return plan, ds
}

func with(ds source.Diagnostics, code string) (out []source.Diagnostic) {
	for _, d := range ds {
		if d.Code == code {
			out = append(out, d)
		}
	}
	return out
}

// TestRegulatedPlants: every line of the list that names a plant of the library
// holds for it in its place and in no other.
func TestRegulatedPlants(t *testing.T) {
	t.Parallel()
	l := wholeShelf(t)
	named, banned := 0, 0
	for _, r := range l.Regions {
		for _, part := range append([]entries.Part{{}}, r.Parts...) {
			g := &garden.Garden{Kind: garden.Handover, Country: r.Code, Part: source.At[string]{Value: part.Code}}
			in := care.Input{Garden: g, Library: l, Region: r, First: site.Date(2027, time.March, 1)}
			for _, e := range l.Entries {
				var want, got []string
				for _, x := range l.Regulated {
					here := x.Where == r.Code || x.Where == r.Union || part.Code != "" && x.Where == r.Code+"-"+part.Code
					if here && slices.ContainsFunc(append([]botany.Name{e.Name.Value}, synonyms(e)...), x.Names) {
						want = append(want, x.Where+" "+x.Law+" "+x.Status)
						named++
					}
				}
				for _, h := range in.Regulated(&garden.Planting{Entry: e, Name: e.Name.Value, How: garden.Exact}) {
					got = append(got, h.Where+" "+h.Law+" "+h.Status)
					if h.Kind == entries.Banned {
						banned++
						if h.From > site.Date(2027, time.March, 1) {
							t.Errorf("%s: a ban that is to come: %s", e.Name.Value, h.Line())
						}
					}
				}
				slices.Sort(want)
				slices.Sort(got)
				if !slices.Equal(want, got) {
					t.Errorf("%s-%s: %s: %q, want %q", r.Code, part.Code, e.Name.Value, got, want)
				}
			}
		}
	}
	t.Logf("%d lines hold for plants of the library, %d of them bans", named, banned)
	if named < 150 || banned < 50 {
		t.Error("too few")
	}
}

// TestRegulatedIsTold: in a handover a forbidden plant is an error, any other that
// is named no more than a warning; plants that nothing names are not told of.
func TestRegulatedIsTold(t *testing.T) {
	t.Parallel()
	l := wholeShelf(t)
	var plants []string
	for _, e := range l.Entries {
		plants = append(plants, e.Name.Value.Plain())
	}
	for _, at := range [][2]string{{"NL", ""}, {"AU", "SA"}, {"US", "MA"}} {
		plan, ds := checkAt(t, at[0], at[1], "", plants...)
		errors, others := 0, 0
		for i := range plan.Plantings {
			p := &plan.Plantings[i]
			for _, h := range plan.Regulated(p) {
				found := slices.IndexFunc(ds, func(d source.Diagnostic) bool { return d.Message == p.Label()+" is regulated here. "+h.Line() })
				if found < 0 || (ds[found].Severity == source.Error) != (h.Kind == entries.Banned) {
					t.Errorf("%v: %s %s", at, p.Label(), h.Line())
				}
				if h.Kind == entries.Banned {
					errors++
				} else {
					others++
				}
			}
		}
		if n := len(with(ds, "plant/regulated")); n != errors || errors == 0 {
			t.Errorf("%v: %d errors of %d", at, n, errors)
		}
		if n := len(with(ds, "plant/regulated-advice")); n != others {
			t.Errorf("%v: %d others of %d", at, n, others)
		}
	}
}

func synonyms(e *entries.Entry) (out []botany.Name) {
	for _, s := range e.Synonyms {
		out = append(out, s.Value)
	}
	return out
}

// TestRegulatedNames: older names, cultivars and exceptions.
func TestRegulatedNames(t *testing.T) {
	for _, c := range []struct {
		country, part, plant, code string // "" for nothing told
	}{
		{"DE", "", "Pennisetum setaceum", "plant/regulated"}, // Implementing Regulation (EU) 2017/1263
		{"FR", "", "Cenchrus setaceus 'Rubrum'", "plant/regulated"},
		{"GB", "SCT", "Cenchrus setaceus", "plant/regulated"},
		{"US", "TX", "Cenchrus setaceus", ""},
		{"AU", "VIC", "Stipa tenuissima", "plant/regulated"},
		{"AU", "Victoria", "Nassella tenuissima", "plant/regulated"},
		{"AU", "VIC", "Lavandula stoechas", "plant/regulated"},
		{"AU", "NSW", "Lavandula stoechas", ""},
		{"GB", "", "Nassella tenuissima", "plant/regulated-advice"},
		{"DE", "", "Buddleja davidii", "plant/regulated-advice"},
		{"US", "OR", "Buddleja davidii", "plant/regulated"},
		{"US", "OR", "Buddleja davidii 'Miss Molly'", "plant/regulated-advice"}, // approved cultivars are left out: ask
		{"US", "NY", "Miscanthus sinensis 'Gracillimus'", "plant/regulated-advice"},
		{"US", "MA", "Miscanthus sinensis", "plant/regulated"},                  // sales end on 31 December 2026
		{"US", "NJ", "Miscanthus sinensis", "plant/regulated-advice"},           // from 2030
		{"US", "MD", "Nandina domestica 'Firepower'", "plant/regulated-advice"}, // the country's unchecked line only
		{"US", "MD", "Nandina domestica", "plant/regulated"},
		{"GB", "", "Gunnera manicata", "plant/regulated"},
	} {
		_, ds := checkAt(t, c.country, c.part, "", c.plant)
		got := ""
		for _, code := range []string{"plant/regulated", "plant/regulated-advice"} {
			if got == "" && with(ds, code) != nil {
				got = code
			}
		}
		if got != c.code {
			t.Errorf("%s %s %s: %q, want %q", c.country, c.part, c.plant, got, c.code)
		}
	}
}

// TestAcknowledged: a forbidden plant that is there is printed with the law and
// with removal; nothing is dated that makes more of it, and its flowers still go.
func TestAcknowledged(t *testing.T) {
	plan, ds := checkAt(t, "AU", "VIC", "acknowledged: [Stipa tenuissima, Rosa rugosa]\n", "Nassella tenuissima", "Lavandula stoechas")
	if got := with(ds, "plant/regulated"); len(got) != 1 || !strings.HasPrefix(got[0].Message, "Lavandula") {
		t.Errorf("%v", got)
	}
	if with(ds, "plant/regulated-known") == nil || len(with(ds, "garden/acknowledged")) != 1 {
		t.Error(printed(ds))
	}
	if !slices.ContainsFunc(plan.Report.Regulated, func(s string) bool {
		return strings.Contains(s, "Nassella tenuissima: banned") && strings.HasSuffix(s, ", acknowledged")
	}) {
		t.Errorf("%v", plan.Report.Regulated)
	}
	cut := false
	for _, task := range plan.Calendar.Tasks {
		if spreads(task) {
			t.Errorf("%s of %s is dated", task.Job.Name.Value, task.Planting.Label())
		}
		cut = cut || task.Job.Name.Value == "deadhead" || task.Job.Name.Value == "remove stems"
	}
	if !cut {
		t.Error("no work is left that takes its flowers")
	}
	for _, c := range []struct {
		country, part string
		want          bool
	}{{"US", "MA", false}, {"US", "TX", true}} {
		plan, _ := checkAt(t, c.country, c.part, "years: 10\nacknowledged: [Miscanthus sinensis]\n", "Miscanthus sinensis")
		if got := slices.ContainsFunc(plan.Calendar.Tasks, spreads); got != c.want {
			t.Errorf("%s: divided %v, want %v", c.part, got, c.want)
		}
	}
}

// spreads tells of work that makes more of a plant, keeps it or brings it through winter.
func spreads(task care.Task) bool {
	return slices.Contains([]string{"comb", "cut back", "divide", "replant", "lift", "protect", "uncover", "feed", "mulch", "water"}, task.Job.Name.Value)
}

// TestPartOfACountry: a garden that does not say in which part of its country it
// lies is told where its plants are regulated; one that names none there is told.
func TestPartOfACountry(t *testing.T) {
	_, ds := checkAt(t, "AU", "", "", "Nassella tenuissima")
	if got := with(ds, "garden/no-part"); len(got) != 1 || !strings.Contains(got[0].Message, "AU-VIC Nassella tenuissima") || strings.Contains(got[0].Message, "AU-WA") {
		t.Errorf("%v", got)
	}
	_, ds = checkAt(t, "AU", "", "", "Hakonechloa macra")
	if with(ds, "garden/no-part") != nil {
		t.Error(printed(ds))
	}
	_, ds = checkAt(t, "AU", "NY", "", "Hakonechloa macra")
	if got := with(ds, "garden/no-such-part"); len(got) != 1 || got[0].Severity != source.Error || !strings.Contains(strings.Join(got[0].Hints, ""), "VIC") {
		t.Errorf("%v", got)
	}
}

// pageAt gives a page of a garden's web edition as its reader's words.
func pageAt(t *testing.T, text, page string) string {
	t.Helper()
	proof, ds, err := generator.Compose(generator.Options{Now: time.Date(2027, time.January, 1, 0, 0, 0, 0, time.UTC), Folders: generator.Folders{
		Garden:  fstest.MapFS{"garden.yaml": {Data: []byte(text)}},
		File:    "garden.yaml",
		Library: func(string) (fs.FS, error) { return content.Library(), nil },
	}})
	if err != nil || proof == nil {
		t.Fatal(err, printed(ds))
	}
	data, err := proof.Page(t.Context(), page)
	if err != nil {
		t.Fatal(err)
	}
	return strings.ReplaceAll(html.UnescapeString(regexp.MustCompile(`<[^>]+>`).ReplaceAllString(string(data), " ")), "\u00a0", " ")
}

// TestLawsArePrinted: what an owner reads of a forbidden plant, of work that a law
// moved, and of work that it leaves no time for.
func TestLawsArePrinted(t *testing.T) {
	const germany = "garden: Hof\ndate: 2026-10-20\nyears: 2\nsite: {country: DE, latitude: 52}\nacknowledged: [Pennisetum setaceum]\nplants:\n  - {plant: Cenchrus setaceus, planted: 2020-03-01}\n  - {plant: Kerria japonica, planted: 2020-03-01}\n  - {plant: Sambucus nigra, planted: 2020-03-01}\n  - {plant: Lupinus polyphyllus, planted: 2020-03-01}\n"
	const club = "garden: Club\nkind: guide\nsite: {country: US, latitude: 42}\ninclude: {also: [Miscanthus sinensis]}\n"
	// What stands as advice in the data from memory alone is for the designer.
	const britain = "garden: Lodge\ndate: 2026-10-20\nsite: {country: GB, latitude: 52}\nplants:\n  - {plant: Nassella tenuissima, planted: 2020-03-01}\n"
	for _, c := range []struct {
		text, page string
		want, not  []string
	}{
		{britain, "plants/nassella-tenuissima.html", []string{"Comb"}, []string{"Advice on this plant", "from memory", "Ask the authority"}},
		{germany, "plants/cenchrus-setaceus.html", []string{"The law on this plant", "may not be imported, kept", "Removal: first ask the local authority", "Do not plant, divide"}, []string{"full sun", "Protect", "cuttings", "Why, and what to expect"}},
		{germany, "plants/kerria-japonica.html", []string{"By law:", "Not done here"}, []string{"May", "petals", "Take those out"}},
		{germany, "plants/sambucus-nigra.html", []string{"By law:", "February"}, []string{"2 March", "Late"}},
		{germany, "plants/lupinus-polyphyllus.html", []string{"Advice on this plant", "no legal force"}, []string{"The law on this plant"}},
		{germany, "jobs/coppice.html", []string{"From 1 March to 30 September the law forbids", "go before what is said here"}, nil},
		{germany, "safety.html", []string{"Closed seasons", "Gardens are exempt: It protects hedges in open country", "Landratsamt Forchheim"}, nil},
		{club, "plants/miscanthus-sinensis.html", []string{"New York: New York 6 NYCRR Part 575, 2015", "Massachusetts: "}, nil},
	} {
		got := pageAt(t, c.text, c.page)
		for _, want := range c.want {
			if !strings.Contains(got, want) {
				t.Errorf("%s does not say %q\n%s", c.page, want, got)
			}
		}
		for _, not := range c.not {
			if strings.Contains(got, not) {
				t.Errorf("%s says %q\n%s", c.page, not, got)
			}
		}
	}
}

// TestLawInTheRecord: booklet.json has the laws of plants and of work.
func TestLawInTheRecord(t *testing.T) {
	files := build(t, generator.Options{Now: time.Date(2027, time.January, 1, 0, 0, 0, 0, time.UTC), Editions: []string{"json"}, Folders: generator.Folders{
		Garden:  fstest.MapFS{"garden.yaml": {Data: []byte("garden: Hof\nsite: {country: DE, latitude: 52}\nacknowledged: [Gunnera tinctoria, Cenchrus setaceus]\nplants:\n  - {plant: Cenchrus setaceus}\n  - {plant: Hydrangea paniculata, planted: 2020-03-01}\n")}},
		File:    "garden.yaml",
		Library: func(string) (fs.FS, error) { return content.Library(), nil },
	}}).Files
	var got struct {
		Plants []struct {
			Laws []struct {
				Where, Kind, Source, Seen string
				Acknowledged              bool
			}
		}
		Tasks  []struct{ Job, From, To, Law, Why string }
		Report struct{ Regulated, Closed []string }
	}
	if err := json.Unmarshal(files["booklet.json"], &got); err != nil {
		t.Fatal(err)
	}
	if l := got.Plants[0].Laws; len(l) != 1 || l[0].Where != "EU" || l[0].Kind != "banned" || !l[0].Acknowledged || l[0].Source == "" || l[0].Seen != "seen" {
		t.Errorf("%+v", l)
	}
	held := false
	for _, task := range got.Tasks {
		held = held || task.Job == "prune" && strings.Contains(task.Law, "39 (5)") && strings.Contains(task.Why, "closed season") && task.To < "2027-03-01"
	}
	if !held || len(got.Report.Regulated) != 1 || len(got.Report.Closed) != 3 {
		t.Errorf("%v %+v", held, got.Report)
	}
}

// TestLawDataIsSound: what regions and lists name is there, and each line says
// whence it is and how far it was read.
func TestLawDataIsSound(t *testing.T) {
	l := wholeShelf(t)
	where := map[string]bool{}
	for _, r := range l.Regions {
		where[r.Code], where[r.Union] = true, true
		for _, p := range r.Parts {
			where[r.Code+"-"+p.Code] = true
		}
		for _, c := range r.Closed {
			if c.Source == "" || c.Seen == "" || c.Checked == 0 {
				t.Errorf("%s: %s has no source", r.Code, c.Law)
			}
			for _, job := range c.Jobs {
				if job != entries.HardCuts && !slices.ContainsFunc(l.Jobs, func(j *entries.Job) bool { return job == j.Name.Value || job == j.Family }) {
					t.Errorf("%s: there is no work %q", r.Code, job)
				}
			}
		}
	}
	for _, r := range l.Regulated {
		if !where[r.Where] || r.Where == "" || r.Source == "" || r.Seen == "" || r.Year == 0 {
			t.Errorf("%s %s: %+v", r.Where, r.Law, r)
		}
	}
	if len(l.Regulated) < 110 {
		t.Errorf("%d regulations", len(l.Regulated))
	}
	known := map[string]bool{}
	for _, p := range shippedPests(t) {
		known[p.Name] = true
		for _, country := range p.In {
			if l.Region(country) == nil {
				t.Errorf("%s lives in %s, which is no region", p.Name, country)
			}
		}
	}
	for _, e := range l.Entries {
		for _, r := range e.Rules {
			for _, p := range r.Pests {
				if !known[p.Value] {
					t.Errorf("%s: the list has no pest %q", e.File.Path, p.Value)
				}
			}
		}
	}
}

// TestJobsAreShownOnPlantsThatGetThem: the picture of a job is of a plant that the
// job is done to in this garden. A stonecrop in lean soil is not chopped.
func TestJobsAreShownOnPlantsThatGetThem(t *testing.T) {
	lean := "garden: Hof\ndate: 2026-10-20\nsite: {country: DE, latitude: 52}\nbeds:\n  - {bed: A, soil: drained, fertility: lean}\n  - {bed: B, soil: moist, fertility: rich}\nplants:\n" +
		"  - {plant: Hylotelephium 'Herbstfreude', bed: A, planted: 2020-03-01}\n  - {plant: Phlox paniculata, bed: B, planted: 2020-03-01}\n"
	got := pageAt(t, lean, "jobs/chop.html")
	if strings.Contains(got, "Border stonecrop  Hylotelephium") || !strings.Contains(got, "Border phlox  Phlox paniculata") {
		t.Errorf("the job is shown on a plant that it is not done to:\n%s", got)
	}
	// Done to none, it has no page.
	lean = strings.Join(strings.Split(lean, "\n")[:8], "\n")
	if toc := pageAt(t, lean, "index.html"); strings.Contains(toc, "Chop") {
		t.Errorf("a job that is done to no plant has a page:\n%s", toc)
	}
}
