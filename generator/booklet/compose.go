package booklet

import (
	"cmp"
	"fmt"
	"path"
	"slices"
	"strings"
	"sync"
	"time"
	"unicode"
	"unicode/utf8"

	"sheaf/generator/care"
	"sheaf/generator/draw"
	"sheaf/generator/entries"
	"sheaf/generator/figure"
	"sheaf/generator/garden"
	"sheaf/generator/measure"
	"sheaf/generator/names"
	"sheaf/generator/prose"
	"sheaf/generator/site"
	"sheaf/generator/theme"
)

// Input is what a book is composed from.
type Input struct {
	care.Input
	Calendar *care.Calendar
	Theme    *theme.Theme
	Pages    []*entries.Page // the garden's own, in order
	Sketches *figure.Sketchbook
}

// composer holds what the sections share.
type composer struct {
	Input
	pal    figure.Palette
	units  measure.Units
	year   int
	order  *names.Order // of the language of the book
	plants []*plant
	owner  map[*garden.Planting]*plant
	gaps   []gap
}

// A plant is what has a page of its own: one name, in one or more beds.
type plant struct {
	id        string
	name      names.Name
	runs      []prose.Run
	common    string
	entry     *entries.Entry
	plantings []*garden.Planting
	tasks     []int // in Calendar.Tasks
}

// Compose makes the book.
func Compose(in Input) *Book {
	c := &composer{Input: in, pal: figure.Palette(in.Theme.Light), units: in.Garden.Units, year: in.Calendar.First.Year()}
	b := &Book{
		Title: in.Garden.Name, Subtitle: in.Words.Say("booklet.subtitle"), For: in.Garden.For, By: in.Garden.By,
		Date: fmt.Sprint(c.year), Lang: in.Words.Lang, Words: in.Words,
	}
	c.order = names.NewOrder(b.Lang)
	c.gather()
	c.gaps = c.findGaps()
	if in.Garden.Date != 0 {
		b.Date = c.dated(in.Garden.Date)
	}
	if in.Garden.Kind == garden.Guide {
		b.Guide, b.Subtitle = true, in.Words.Say("guide.subtitle")
		if in.Garden.Edition != "" {
			b.Date = in.Garden.Edition + ", " + b.Date
		}
		b.Sections = c.arranged(b, c.guide(b))
	} else {
		b.Sections = c.arranged(b, slices.Concat(
			c.front(), c.glance(), c.beds(), c.years(), c.months(), c.plantPages(), c.gapPage(), c.groupPages(), c.jobPages(), c.backMatter(b)))
	}
	c.contents(b)
	b.Online = in.Garden.Online
	if in.Garden.Calendar == garden.ByMonth {
		b.Events = c.monthEvents()
	} else {
		b.Events = c.taskEvents()
	}
	b.quote()
	return b
}

// gather joins plantings of one name and sorts them as an index does.
func (c *composer) gather() {
	by := map[string]*plant{}
	c.owner = map[*garden.Planting]*plant{}
	for i := range c.Plantings {
		p := &c.Plantings[i]
		if p.Entry == nil {
			continue
		}
		name := p.Called()
		key := name.Key() + "\x00" + p.Entry.ID
		q := by[key]
		if q == nil {
			q = &plant{id: "plants/" + name.Slug(), name: name, runs: botanical(name), common: p.Entry.CommonName(), entry: p.Entry}
			by[key] = q
			c.plants = append(c.plants, q)
		}
		q.plantings = append(q.plantings, p)
		c.owner[p] = q
	}
	slices.SortStableFunc(c.plants, func(a, b *plant) int {
		return cmp.Or(c.order.Compare(a.name.Filed(), b.name.Filed()), strings.Compare(a.id, b.id))
	})
	// Two names with one slug, or two plants called the same, are told apart.
	ids, shared := map[string]bool{}, map[string]int{}
	for _, q := range c.plants {
		shared[q.common]++
		q.id = unique(q.id, ids)
	}
	for _, q := range c.plants {
		if shared[q.common] > 1 && q.name.Cultivar != "" {
			q.common += " ‘" + q.name.Cultivar + "’"
		}
	}
	for i := range c.Calendar.Tasks {
		q := c.of(c.Calendar.Tasks[i].Planting)
		q.tasks = append(q.tasks, i)
	}
}

// unique gives an ID a number when it is taken, and takes it.
func unique(id string, taken map[string]bool) string {
	const longest = 120 // bytes; common file systems take 255 for a name
	if len(id) > longest {
		id = strings.TrimRight(id[:longest], "-")
	}
	if names.Device(path.Base(id)) {
		id += "-"
	}
	for base, n := id, 2; taken[id]; n++ {
		id = fmt.Sprintf("%s-%d", base, n)
	}
	taken[id] = true
	return id
}

// of finds the plant a planting belongs to.
func (c *composer) of(p *garden.Planting) *plant { return c.owner[p] }

// drawn is what figure needs to know of an entry.
func drawn(q *plant, u measure.Units) figure.Plant {
	e := q.entry
	mid := func(l measure.Length) float64 { return (l.Low + l.High) / 2 }
	return figure.Plant{
		Name: q.common, Seed: q.id, Units: u, Type: e.Type, Habit: e.Habit, Head: e.Head,
		Height: mid(e.Height), FlowerHeight: mid(e.FlowerHeight), Spread: mid(e.Spread),
		Leaf: e.LeafColour, Flower: e.FlowerColour, Evergreen: e.Leaf == "evergreen",
	}
}

// Sizes of pictures in millimetres, at the measure of an A5 page; larger
// editions scale them.
var (
	coverFrame    = figure.Frame{W: 120, H: 62}
	portraitFrame = figure.Frame{W: 60, H: 46}
	workFrame     = figure.Frame{W: 46, H: 25}
	jobFrame      = figure.Frame{W: 90, H: 34}
)

// mostOnCover is how many of a guide's plants its cover draws.
const mostOnCover = 24

func (c *composer) front() []Section {
	var row []figure.Plant
	shown := c.plants
	if c.inGuide() && len(shown) > mostOnCover {
		shown = nil
		for i := range mostOnCover {
			shown = append(shown, c.plants[i*len(c.plants)/mostOnCover])
		}
	}
	for _, q := range shown {
		row = append(row, drawn(q, c.units))
	}
	cover := Section{ID: "cover", Kind: Cover, Title: prose.Plain(c.Garden.Name)}
	if c.Theme.Row {
		cover.Blocks = []Block{Figure{Picture: c.Sketches.Row(row, c.Words, c.pal, coverFrame)}}
	}
	out := []Section{cover, {ID: "contents", Kind: Contents, Title: prose.Plain(c.Words.Say("part.contents")), Part: c.Words.Say("part.contents")}}
	ids := map[string]bool{}
	for _, p := range c.Pages {
		out = append(out, written(unique("pages/"+p.ID, ids), Words, p, c.Words.Say("part.welcome")))
	}
	page := "how-to-use"
	if c.inGuide() {
		page = "how-to-use-guide"
	}
	if p := c.Library.Page(page); p != nil {
		s := written("how-to-use", Words, p, c.Words.Say("part.how to use"))
		if c.inGuide() {
			s.Part = p.Title
		}
		s.Blocks = append(s.Blocks, Legend{c.legend()})
		out = append(out, s)
	}
	return out
}

// written is a section of a page of words.
func written(id string, k Kind, p *entries.Page, part string) Section {
	return Section{ID: id, Kind: k, Title: prose.Plain(p.Title), Part: part, File: p.File, Blocks: blocks(p.Body)}
}

// blocks turns prose into blocks of the book.
func blocks(body []prose.Block) []Block {
	var out []Block
	for _, b := range body {
		switch b := b.(type) {
		case prose.Paragraph:
			out = append(out, Text{Runs: b.Runs})
		case prose.Heading:
			out = append(out, Heading{b.Runs})
		case prose.List:
			l := List{Numbered: b.Numbered}
			for _, item := range b.Items {
				var runs []prose.Run
				for _, inner := range item {
					if p, ok := inner.(prose.Paragraph); ok {
						if runs != nil {
							runs = append(runs, prose.Run{Text: " "})
						}
						runs = append(runs, p.Runs...)
					}
				}
				l.Items = append(l.Items, runs)
			}
			out = append(out, l)
		}
	}
	return out
}

// legend shows each mark that the garden's jobs use, once, with the jobs that
// share it.
func (c *composer) legend() []LegendMark {
	var out []LegendMark
	for _, j := range c.jobs() {
		if i := slices.IndexFunc(out, func(m LegendMark) bool { return m.Mark == j.Mark }); i >= 0 {
			if len(out[i].Name) < 24 {
				out[i].Name += ", " + j.Called(c.Words)
			}
			continue
		}
		out = append(out, LegendMark{Mark: j.Mark, Family: j.Family, Name: j.Called(c.Words), Job: "jobs/" + j.ID})
	}
	return out
}

// jobs lists the jobs that any of the garden's plants ever asks for.
func (c *composer) jobs() []*entries.Job {
	var out []*entries.Job
	for _, j := range c.Library.Jobs {
		asked := slices.ContainsFunc(c.plants, func(q *plant) bool {
			return slices.ContainsFunc(q.entry.Rules, func(r entries.Rule) bool { return r.Job.Value == j.Name.Value })
		})
		if asked || slices.ContainsFunc(c.Calendar.Tasks, func(t care.Task) bool { return t.Job == j }) {
			out = append(out, j)
		}
	}
	return out
}

func (c *composer) glance() []Section {
	s := Section{ID: "garden", Kind: Glance, Title: prose.Plain(c.Words.Say("glance.title")), Part: c.Words.Say("part.garden")}
	beds := slices.Clone(c.Garden.Beds)
	if slices.ContainsFunc(c.Plantings, func(p garden.Planting) bool { return p.Bed == nil }) {
		beds = append(beds, garden.Bed{})
	}
	for _, bed := range beds {
		rows := c.grown(bed.Name)
		if rows == nil {
			continue
		}
		title := bed.Name
		if title == "" {
			title = c.Words.Say("glance.elsewhere")
		}
		s.Blocks = append(s.Blocks, Heading{prose.Plain(title)})
		if about := c.aboutBed(bed); about != "" {
			s.Blocks = append(s.Blocks, Text{Runs: prose.Plain(about), Role: Small})
		}
		s.Blocks = append(s.Blocks, Facts{rows})
	}
	if tools := c.Calendar.Tools(); tools != nil {
		s.Blocks = append(s.Blocks, Heading{prose.Plain(c.Words.Say("glance.tools"))}, Text{Runs: prose.Plain(capital(c.Words.And(tools)) + ".")})
	}
	return []Section{s}
}

// grown is what grows in a bed, each plant with how many; "" is no bed.
func (c *composer) grown(bed string) []Fact {
	var out []Fact
	for _, q := range c.plants {
		for _, p := range q.plantings {
			if name(p.Bed) == bed {
				out = append(out, Fact{c.howMany(p.Row.Quantity, q.entry), link(q)})
			}
		}
	}
	return append(out, c.grownUntold(bed)...)
}

// beds are a page for each bed: what grows there and its work by month.
func (c *composer) beds() []Section {
	var out []Section
	ids := map[string]bool{}
	for i := range c.Garden.Beds {
		bed := &c.Garden.Beds[i]
		s := Section{ID: unique("beds/"+slug(bed.Name), ids), Kind: Bed, Title: prose.Plain(bed.Name), Part: c.Words.Say("part.garden"), Aside: c.aboutBed(*bed)}
		rows := c.grown(bed.Name)
		if rows == nil {
			continue
		}
		s.Blocks = append(s.Blocks, Heading{prose.Plain(c.Words.Say("bed.grows"))}, Facts{rows})
		for _, m := range c.Calendar.Months {
			here := m
			here.Tasks = slices.DeleteFunc(slices.Clone(m.Tasks), func(i int) bool {
				return name(c.Calendar.Tasks[i].Planting.Bed) != bed.Name
			})
			if lines := c.lines(here); lines != nil {
				y, month, _ := m.First.Civil()
				s.Blocks = append(s.Blocks, Heading{prose.Plain(c.Words.MonthOf(y, month))}, Tasks{monthID(y, month), lines})
			}
		}
		out = append(out, s)
	}
	return out
}

// slug is a name as part of an address.
func slug(s string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(s) {
		switch {
		case r < unicode.MaxASCII && (unicode.IsLetter(r) || unicode.IsDigit(r)):
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	return cmp.Or(strings.Trim(b.String(), "-"), "bed")
}

func name(b *garden.Bed) string {
	if b == nil {
		return ""
	}
	return b.Name
}

func (c *composer) aboutBed(b garden.Bed) string {
	var parts []string
	if b.Area > 0 {
		parts = append(parts, b.Area.Say(c.units, c.Words))
	}
	if b.Light != "" {
		parts = append(parts, c.Words.Say("light."+b.Light))
	}
	if b.Exposure != "" {
		parts = append(parts, c.Words.Say("exposure."+b.Exposure))
	}
	switch fertility, soil := c.Words.Term("fertility", b.Fertility), c.Words.Term("soil", b.Soil); {
	case fertility != "" && soil != "":
		parts = append(parts, c.Words.Say("bed.fertility and soil", "fertility", fertility, "soil", soil))
	case fertility+soil != "":
		parts = append(parts, c.Words.Say("bed.soil", "soil", fertility+soil))
	}
	return capital(strings.Join(parts, ", "))
}

// link is a plant's two names, leading to its page.
func link(q *plant) []prose.Run {
	var out []prose.Run
	for _, r := range q.runs {
		r.Link = "#" + q.id
		out = append(out, r)
	}
	if q.common != q.name.String() {
		out = append(out, prose.Run{Text: ", " + q.common})
	}
	return out
}

// years makes a chart for each twelve months.
func (c *composer) years() []Section {
	var out []Section
	for n := range c.Garden.Years {
		months := c.Calendar.Months[12*n : 12*n+12]
		first, last := months[0].First, months[11].Last
		along := func(d site.Day) float64 { return float64(d-first) / float64(last-first+1) }
		id, title := "year", c.Words.Say("year.title")
		if n > 0 {
			id, title = fmt.Sprintf("year-%d", n+1), c.Words.Say("year.further", "year", n+1)
		}
		y0, m0, _ := first.Civil()
		chart := Chart{Since: monthID(y0, m0)}
		for _, m := range months {
			y, mon, _ := m.First.Civil()
			chart.Months = append(chart.Months, c.Words.MonthInitial(mon))
			chart.Short = append(chart.Short, c.Words.MonthShort(mon))
			chart.Full = append(chart.Full, c.Words.MonthOf(y, mon))
		}
		cues := c.cues(first, last)
		for _, q := range cues {
			chart.Cues = append(chart.Cues, ChartCue{along(q.day), q.cue.Say(c.Words), c.dated(q.day)})
		}
		chart.Groups = c.chartGroups(first, last)
		s := Section{ID: id, Kind: Year, Title: prose.Plain(title), Part: c.Words.Say("part.year"), Blocks: []Block{chart}}
		if c.inGuide() {
			out = append(out, s)
			continue
		}
		var loads []figure.Load
		for _, m := range months {
			loads = append(loads, figure.Load{Low: m.Minutes.Low / 60, High: m.Minutes.High / 60, Label: c.Words.MonthShort(m.First.Month())})
		}
		s.Blocks = append(s.Blocks,
			Heading{prose.Plain(c.Words.Say("year.hours"))},
			Figure{Picture: figure.Workload(loads, c.pal, figure.Frame{W: 120, H: 34}),
				Caption: c.whose()},
			c.byBed(n),
			Heading{prose.Plain(c.Words.Say("year.cues"))},
			Text{Runs: prose.Plain(c.basis())}, c.cueFacts(cues))
		out = append(out, s)
	}
	return out
}

// chartGroups are the rows of a year: by bed, in a guide by type.
func (c *composer) chartGroups(first, last site.Day) []ChartGroup {
	along := func(d site.Day) float64 { return float64(d-first) / float64(last-first+1) }
	row := func(q *plant, p *garden.Planting) ChartRow {
		r := ChartRow{Plant: q.id, Name: q.common}
		for _, i := range q.tasks {
			t := &c.Calendar.Tasks[i]
			if t.Planting == p && !t.Settling && t.From <= last && t.To >= first {
				r.Bars = append(r.Bars, ChartBar{max(along(t.From), 0), min(along(t.To+1), 1), t.Job.Mark, t.Job.Family,
					t.Job.Verb(c.Words) + ", " + c.span(t.From, t.To)})
			}
		}
		return r
	}
	var out []ChartGroup
	if c.inGuide() {
		for _, p := range c.byType() {
			g := ChartGroup{Bed: p.name}
			for _, q := range p.plants {
				g.Rows = append(g.Rows, row(q, q.plantings[0]))
			}
			out = append(out, g)
		}
		return out
	}
	for _, bed := range append(slices.Clone(c.Garden.Beds), garden.Bed{}) {
		g := ChartGroup{Bed: bed.Name}
		for _, q := range c.plants {
			for _, p := range q.plantings {
				if name(p.Bed) == bed.Name {
					g.Rows = append(g.Rows, row(q, p))
				}
			}
		}
		if g.Rows != nil {
			out = append(out, g)
		}
	}
	return out
}

// whose says what the hours mean.
func (c *composer) whose() string {
	if c.Garden.Skill == garden.Owner {
		return c.Words.Say("year.estimates of an owner")
	}
	return c.Words.Say("year.estimates of a gardener")
}

// byBed is the year's work in one sentence and by bed; the beds are reckoned
// for the first twelve months only.
func (c *composer) byBed(year int) Facts {
	months := c.Calendar.Months[12*year : 12*year+12]
	var sum measure.Minutes
	peak := 0
	for i, m := range months {
		sum = sum.Plus(m.Minutes)
		if m.Minutes.High > months[peak].Minutes.High {
			peak = i
		}
	}
	_, month, _ := months[peak].First.Civil()
	var rows []Fact
	if all := sum.Say(c.Words); all != "" {
		rows = append(rows, Fact{c.Words.Say("year.in all"), prose.Plain(c.Words.Say("year.most", "all", all, "month", c.Words.Month(month), "time", months[peak].Minutes.Say(c.Words)))})
	}
	if year == 0 {
		for _, l := range c.Loads(c.Calendar) {
			if l.Bed != "" {
				rows = append(rows, Fact{l.Bed, prose.Plain(l.Minutes.Say(c.Words) + ".")})
			}
		}
	}
	return Facts{rows}
}

type cueDay struct {
	cue site.Cue
	day site.Day
}

// cues are the cue days between two days, in order.
func (c *composer) cues(first, last site.Day) []cueDay {
	var out []cueDay
	for _, cue := range site.Cues() {
		for year := first.Year() - 1; year <= last.Year()+1; year++ {
			d, ok := c.Climate.Cue(cue, year)
			if ok && d >= first && d <= last && !slices.ContainsFunc(out, func(o cueDay) bool { return o.cue == cue }) {
				out = append(out, cueDay{cue, d})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b cueDay) int { return cmp.Compare(a.day, b.day) })
	return out
}

func (c *composer) cueFacts(cues []cueDay) Facts {
	var rows []Fact
	for _, q := range cues {
		rows = append(rows, Fact{capital(q.cue.Say(c.Words)), prose.Plain(c.Words.Say("year.cue", "day", c.dated(q.day), "basis", c.amounted(c.Climate.Basis(q.cue).In(c.Words))))})
	}
	return Facts{rows}
}

// basis says what the dates rest on.
func (c *composer) basis() string {
	switch c.Garden.Place.Basis() {
	case site.FromNormals:
		if c.Garden.ClimateSource != "" {
			return c.Words.Say(c.here("from temperatures of"), "source", c.Garden.ClimateSource)
		}
		return c.Words.Say(c.here("from temperatures"))
	case site.FromFrostDates:
		return c.Words.Say(c.here("from frosts"))
	}
	return c.Words.Say(c.here("from nothing"))
}

func monthID(year int, m time.Month) string { return fmt.Sprintf("%04d-%02d", year, m) }

func (c *composer) months() []Section {
	var out []Section
	for _, m := range c.Calendar.Months {
		y, mon, _ := m.First.Civil()
		s := Section{
			ID: "months/" + monthID(y, mon), Kind: Month, Part: c.Words.Say("part.months"),
			Title: prose.Plain(c.Words.MonthOf(y, mon)), Aside: m.Minutes.Say(c.Words),
		}
		if c.inGuide() {
			n := 0
			s.Blocks, n = c.byJob(m)
			s.Aside = c.Words.Say("guide.work on", "n", n)
		} else if lines := c.lines(m); lines != nil {
			s.Blocks = []Block{Tasks{monthID(y, mon), lines}}
		}
		if s.Blocks == nil {
			s.Aside = c.Words.Say("month quiet.title")
			s.Blocks = []Block{Text{Runs: prose.Plain(c.Words.Say("month quiet.words")), Role: Lead}}
		}
		out = append(out, s)
	}
	return out
}

// joint is plantings of one plant with the same work and dates.
type joint struct {
	plant *plant
	tasks []*care.Task
}

// joined are the tasks of a month, alike ones together, without the watering
// that every new planting gets.
func (c *composer) joined(m care.Month) []joint {
	type key struct {
		plant    *plant
		job      string
		from, to site.Day
		leave    measure.Leave
	}
	var out []joint
	at := map[key]int{}
	for _, i := range m.Tasks {
		t := &c.Calendar.Tasks[i]
		if t.Settling {
			continue
		}
		k := key{c.of(t.Planting), t.Job.Name.Value, t.From, t.To, t.Rule.Leave.Value}
		if _, ok := at[k]; !ok {
			at[k] = len(out)
			out = append(out, joint{plant: k.plant})
		}
		out[at[k]].tasks = append(out[at[k]].tasks, t)
	}
	return out
}

// settling are the tasks that are the watering of new plantings.
func (c *composer) settling(m care.Month) []*care.Task {
	var out []*care.Task
	for _, i := range m.Tasks {
		if t := &c.Calendar.Tasks[i]; t.Settling {
			out = append(out, t)
		}
	}
	return out
}

// lines are a month's check list: plantings of one plant with the same work
// and dates are one line.
func (c *composer) lines(m care.Month) []TaskLine {
	var out []TaskLine
	for _, w := range c.joined(m) {
		t := w.tasks[0]
		l := TaskLine{Mark: t.Job.Mark, Family: t.Job.Family, Plant: w.plant.id, Look: t.Rule.LookFor,
			When: c.within(t.From, t.To, m)}
		l.Verb, l.Rest, l.Leave = c.action(t.Job, w.plant.common, t.Rule.Leave.Value)
		var minutes measure.Minutes
		var where []string
		for _, t := range w.tasks {
			minutes = minutes.Plus(t.Minutes)
			where = append(where, c.where(t.Planting))
		}
		l.Minutes, l.Where = minutes.Short(c.Words), strings.Join(where, "; ")
		switch {
		case c.InNestSeason(t):
			l.Warn = c.Words.Say("warn.nests")
		case care.Professional(t):
			l.Warn = c.Words.Say("warn.qualified")
		}
		out = append(out, l)
	}
	if settling := c.settling(m); settling != nil {
		out = append(out, c.settlingLine(settling, m))
	}
	return out
}

// settlingLine is the watering of everything new, as one line.
func (c *composer) settlingLine(ts []*care.Task, m care.Month) TaskLine {
	from, to := ts[0].From, ts[0].To
	var beds []string
	for _, t := range ts {
		from, to = min(from, t.From), max(to, t.To)
		if b := name(t.Planting.Bed); b != "" && !slices.Contains(beds, b) {
			beds = append(beds, b)
		}
	}
	job := ts[0].Job
	l := TaskLine{Mark: job.Mark, Family: job.Family, Where: c.Words.And(beds), Look: ts[0].Rule.LookFor,
		When: c.within(from, to, m)}
	if c.Library.Page("first-year") != nil {
		l.Plant = "first-year"
	}
	l.Verb, l.Rest, _ = c.action(job, c.Words.Say("first year.new plants"), measure.Leave{})
	return l
}

// where is where a planting stands, and how much of it; "" in a guide.
func (c *composer) where(p *garden.Planting) string {
	if p.Typical {
		return ""
	}
	many := c.howMany(p.Row.Quantity, p.Entry)
	if p.Bed == nil {
		return many
	}
	return p.Bed.Name + ", " + many
}

func (c *composer) plantPages() []Section {
	// Drawing takes most of the time a book takes, and no page looks at another.
	out := make([]Section, len(c.plants))
	var all sync.WaitGroup
	for i, q := range c.plants {
		all.Go(func() { out[i] = c.plantPage(q) })
	}
	all.Wait()
	return out
}

func (c *composer) plantPage(q *plant) Section {
	e := q.entry
	s := Section{ID: q.id, Kind: Plant, Title: q.runs, Part: c.Words.Say("part.plants"), Aside: q.common, File: e.File}
	if e.Group != nil {
		s.Group = groupID(e.Group)
	}
	head, body := c.portrait(q)
	for _, p := range q.plantings {
		head.Where = append(head.Where, c.where(p))
	}
	s.Blocks = append(s.Blocks, head)
	for _, r := range e.Rules {
		if w, ok := c.work(q, r); ok {
			s.Blocks = append(s.Blocks, w)
		}
	}
	s.Blocks = append(s.Blocks, c.takeCare(q)...)
	var notes []string
	for _, p := range q.plantings {
		for _, n := range c.PlaceNotes(p) {
			if !slices.Contains(notes, n) {
				notes = append(notes, n)
			}
		}
	}
	if notes != nil {
		s.Blocks = append(s.Blocks, Heading{prose.Plain(c.Words.Say("label.in this garden"))})
		for _, n := range notes {
			s.Blocks = append(s.Blocks, Text{Runs: prose.Plain(sentence(n))})
		}
	}
	if len(body) > 0 {
		s.Blocks = append(s.Blocks, Heading{prose.Plain(c.Words.Say("plant.why"))})
		s.Blocks = append(s.Blocks, body...)
	}
	s.Blocks = append(s.Blocks, c.credit(e)...)
	return s
}

// portrait opens a plant's page; the rest of its entry's text goes further down.
func (c *composer) portrait(q *plant) (head Portrait, rest []Block) {
	e := q.entry
	head.Picture = c.Sketches.Portrait(drawn(q, c.units), c.Words, c.pal, portraitFrame)
	if len(e.Common) > 1 {
		head.Names = append(head.Names, c.Words.Say("plant.also", "names", c.Words.And(e.Common[1:])))
	}
	if syn := c.synonyms(q); syn != "" {
		head.Names = append(head.Names, c.Words.Say("plant.labels", "names", syn))
	}
	head.Photo = c.photo(q)
	rest = blocks(e.Body)
	if len(rest) > 0 {
		if t, ok := rest[0].(Text); ok {
			head.Look, rest = t.Runs, rest[1:]
		}
	}
	return head, rest
}

// takeCare is what a plant can do to people, and winter to the plant.
func (c *composer) takeCare(q *plant) []Block {
	var warn []string
	for _, e := range append([]*entries.Entry{q.entry}, q.entry.Others...) {
		for _, h := range e.Hazards {
			if line := c.Library.Caution(h.Value); line != "" && !slices.Contains(warn, line) {
				warn = append(warn, line)
			}
		}
	}
	for _, p := range q.plantings {
		if cold, ok := c.TooCold(p, c.Words); ok {
			warn = append(warn, c.Words.Say("plant.winter", "cold", cold))
		}
	}
	if warn == nil {
		return nil
	}
	out := []Block{Heading{prose.Plain(c.Words.Say("label.take care"))}}
	for _, w := range warn {
		out = append(out, Text{Runs: prose.Plain(sentence(w)), Role: Warn})
	}
	return out
}

// photo is the photograph of a plant: the garden's own before the entry's.
func (c *composer) photo(q *plant) *Photo {
	var p *entries.Photo
	for _, in := range q.plantings {
		if p == nil || p == q.entry.Photo {
			p = in.Photo
		}
	}
	if p == nil || p.Picture == nil {
		return nil
	}
	out := &Photo{Picture: p.Picture, Alt: sentence(p.Alt), Credit: sentence(p.Credit)}
	out.Caption = out.Alt
	if out.Credit != "" {
		out.Caption += " " + c.Words.Say("plant.photograph", "credit", out.Credit)
	}
	return out
}

// synonyms lists other botanical names a label may bear.
func (c *composer) synonyms(q *plant) string {
	var out []string
	for _, n := range q.entry.Synonyms {
		out = append(out, n.Value.String())
	}
	if q.name.Key() != q.entry.Name.Value.Key() && q.name.SpeciesKey() != q.entry.Name.Value.SpeciesKey() {
		out = append([]string{q.entry.Name.Value.String()}, out...)
	}
	return c.Words.And(out)
}

// work is one job on a plant's page. It is left out only where the garden's
// places need it nowhere.
func (c *composer) work(q *plant, r entries.Rule) (Work, bool) {
	job := c.Library.Job(r.Job.Value)
	if job == nil {
		return Work{}, false
	}
	w := Work{Job: "jobs/" + job.ID, Mark: job.Mark, Family: job.Family, Verb: job.Verb(c.Words)}
	fitted, all, quantity, done := r, measure.Minutes{}, 0.0, false
	for _, p := range q.plantings {
		f, notes, ok := c.FitNow(p, r)
		if !ok {
			continue
		}
		if !done {
			fitted = f
		}
		done = true
		for _, n := range notes {
			if !slices.Contains(w.Notes, n) {
				w.Notes = append(w.Notes, n)
			}
		}
		all = all.Plus(c.Minutes(p, f, job))
		quantity += p.Row.Quantity
	}
	if !done {
		return Work{}, false
	}
	w.When, w.Later = c.windows(q, r)
	w.Amount = c.amounts(q, r, fitted)
	per := measure.Minutes{}
	if quantity > 0 {
		per = all.Times(1 / quantity)
	}
	for _, f := range []struct{ label, text string }{
		{"look for", r.LookFor}, {"how", r.How}, {"why", r.Why}, {"if missed", r.IfMissed},
		{"stop if", r.StopIf}, {"wait if", r.WaitIf}, {"take care", strings.Join(r.Cautions, " ")},
	} {
		if f.text != "" {
			w.Rows = append(w.Rows, Fact{c.Words.Say("label." + f.label), prose.Plain(sentence(f.text))})
		}
	}
	w.Terms = strings.Join(slices.DeleteFunc([]string{
		sentence(capital(c.Words.And(care.ToolsOf(r, job)))), c.times(per, all, quantity, q.entry), c.never(r),
	}, func(s string) bool { return s == "" }), " ")
	if shown(job) && !c.inGuide() { // a guide draws each plant once
		pic := c.beforeAfter(q, job, fitted.Leave.Value, workFrame)
		w.Picture = &pic
	}
	return w, true
}

// shown tells whether a plant looks different after a job, so that a picture
// on its own page is worth the room. The job's page has one in any case.
func shown(j *entries.Job) bool {
	switch j.Mark {
	case "mulch", "feed", "weed", "water", "protect", "uncover", "stake", "tie in", "check":
		return false
	}
	return true
}

func (c *composer) beforeAfter(q *plant, j *entries.Job, l measure.Leave, f figure.Frame) draw.Picture {
	return c.Sketches.BeforeAfter(drawn(q, c.units), figure.Cut{Mark: j.Mark, Leave: (l.Length.Low + l.Length.High) / 2, Fraction: l.Fraction}, c.Words, c.pal, f)
}

// amounts says what a rule leaves: one amount, or where adjustments make it
// differ, each with its bed, or with its year.
func (c *composer) amounts(q *plant, r, fitted entries.Rule) string {
	type where struct {
		beds, years []string
	}
	var order []string
	at := map[string]*where{}
	for _, i := range q.tasks {
		t := &c.Calendar.Tasks[i]
		if t.Rule.Span != r.Span {
			continue
		}
		said := c.amount(t.Rule.Leave.Value)
		if at[said] == nil {
			at[said] = &where{}
			order = append(order, said)
		}
		w := at[said]
		if b := name(t.Planting.Bed); !slices.Contains(w.beds, b) {
			w.beds = append(w.beds, b)
		}
		if y := fmt.Sprint(t.From.Year()); !slices.Contains(w.years, y) {
			w.years = append(w.years, y)
		}
	}
	switch len(order) {
	case 0:
		return c.amount(fitted.Leave.Value)
	case 1:
		return order[0]
	}
	var out []string
	for _, said := range order {
		w := at[said]
		apart := !slices.ContainsFunc(order, func(o string) bool {
			return o != said && slices.ContainsFunc(at[o].beds, func(b string) bool { return slices.Contains(w.beds, b) })
		})
		switch {
		case said == "":
			continue
		case apart && !slices.Contains(w.beds, ""):
			said = c.Words.Say("leave.in beds", "leave", said, "beds", c.Words.And(w.beds))
		default:
			said = c.Words.Say("leave.in years", "leave", said, "years", c.Words.And(w.years))
		}
		out = append(out, said)
	}
	return strings.Join(out, ". ")
}

func (c *composer) never(r entries.Rule) string {
	var out []string
	for _, n := range r.Never {
		out = append(out, n.Value.Say(c.Words))
	}
	if out == nil {
		return ""
	}
	return c.Words.Say("plant.never", "windows", c.Words.Or(out))
}

// windows says when a rule is done in the booklet's months; for one that is
// not due in them, when it will be.
func (c *composer) windows(q *plant, r entries.Rule) (said []string, later bool) {
	var out []string
	for _, i := range q.tasks {
		t := &c.Calendar.Tasks[i]
		if t.Rule.Span != r.Span {
			continue
		}
		if s := c.span(t.From, t.To); !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	if out != nil {
		return out, false
	}
	var from, to site.Day
	for _, p := range q.plantings {
		if f, t, ok := c.FirstDue(p, r); ok && (from == 0 || f < from) {
			from, to = f, t
		}
	}
	switch first := c.span(from, to); {
	case r.Only > 0:
		return []string{c.Words.Say("when.only", "year", r.Only)}, true
	case r.Every > 1 && from > 0:
		return []string{c.Words.Say("when.every", "n", r.Every, "first", first)}, true
	case from > 0:
		return []string{c.Words.Say("when.first", "first", first)}, true
	}
	return []string{capital(r.When.Value.Say(c.Words))}, true
}

// example is a plant of this garden that gets a job, to show it on, with what
// its rule leaves. Work of the first year, such as watering, has no rule; then
// it is a plant with such a task.
func (c *composer) example(j *entries.Job) (*plant, measure.Leave) {
	for _, q := range c.plants {
		for _, r := range q.entry.Rules {
			if r.Job.Value == j.Name.Value {
				return q, r.Leave.Value
			}
		}
	}
	for i := range c.Calendar.Tasks {
		if t := &c.Calendar.Tasks[i]; t.Job == j {
			return c.of(t.Planting), measure.Leave{}
		}
	}
	return nil, measure.Leave{}
}

func groupID(g *entries.Group) string { return "groups/" + g.ID }

// groupPages say why plants are kept alike, and which of this garden's are.
func (c *composer) groupPages() []Section {
	in := c.Words.Say("label.in this garden")
	if c.inGuide() {
		in = c.Words.Say("guide.in this guide")
	}
	var out []Section
	for _, g := range c.Library.Groups {
		var rows []EntryRow
		for _, q := range c.plants {
			if q.entry.Group == g {
				rows = append(rows, EntryRow{Level: 1, Runs: prose.Plain(capital(q.common)), Target: q.id, Aside: q.name.Plain()})
			}
		}
		if rows == nil {
			continue
		}
		s := Section{ID: groupID(g), Kind: CareGroup, Title: prose.Plain(capital(g.Called())), Part: c.Words.Say("part.care groups"), Aside: sentence(g.Summary), File: g.File, Blocks: blocks(g.Body)}
		s.Blocks = append(s.Blocks, Heading{prose.Plain(in)}, Entries{rows})
		out = append(out, s)
	}
	slices.SortFunc(out, func(a, b Section) int { return c.order.Compare(prose.String(a.Title), prose.String(b.Title)) })
	return out
}

func (c *composer) jobPages() []Section {
	var out []Section
	for _, j := range c.jobs() {
		s := Section{ID: "jobs/" + j.ID, Kind: JobPage, Title: prose.Plain(capital(j.Called(c.Words))), Part: c.Words.Say("part.how to"), Aside: sentence(j.Summary), File: j.File}
		if q, leave := c.example(j); q != nil {
			s.Blocks = append(s.Blocks, Figure{Picture: c.beforeAfter(q, j, leave, jobFrame), Caption: capital(q.common) + "."})
		}
		s.Blocks = append(s.Blocks, blocks(j.Body)...)
		if tools := j.Tools; tools != nil {
			s.Blocks = append(s.Blocks, Facts{[]Fact{{c.Words.Say("label.tools"), prose.Plain(capital(c.Words.And(tools)) + ".")}}})
		}
		if len(j.Risks) > 0 {
			s.Blocks = append(s.Blocks, Heading{prose.Plain(c.Words.Say("label.take care"))})
		}
		for _, r := range j.Risks {
			if line := c.Library.Caution(r.Value); line != "" {
				s.Blocks = append(s.Blocks, Text{Runs: prose.Plain(sentence(line)), Role: Warn})
			}
		}
		out = append(out, s)
	}
	return out
}

func (c *composer) backMatter(b *Book) []Section {
	var out []Section
	if p := c.Library.Page("first-year"); p != nil {
		s := written("first-year", FirstYear, p, c.Words.Say("part.first year"))
		s.Blocks = append(s.Blocks, c.establishing()...)
		out = append(out, s)
	}
	out = append(out, c.safety()...)
	if p := c.Library.Page("glossary"); p != nil {
		s := written("glossary", Glossary, p, c.Words.Say("part.glossary"))
		var t Terms
		text := c.read()
		for _, pair := range p.Terms {
			if !uses(text, pair.Key.Value, c.Words.List("grammar.endings")) {
				continue
			}
			t.Rows = append(t.Rows, Fact{pair.Key.Value, prose.Plain(prose.Sentence(pair.Value.Value))})
		}
		slices.SortStableFunc(t.Rows, func(a, b Fact) int { return c.order.Compare(a.Label, b.Label) })
		s.Blocks = append(s.Blocks, t)
		out = append(out, s)
	}
	if c.inGuide() {
		out = append(out, c.contributors()...)
	}
	return append(out, c.sources(), c.index(), c.back())
}

// read is what this booklet's owner reads, in lower case, as far as terms of a
// glossary may stand in it.
func (c *composer) read() string {
	var out []string
	for _, q := range c.plants {
		out = append(out, q.entry.Text())
		for _, o := range q.entry.Others {
			out = append(out, o.Text())
		}
		if g := q.entry.Group; g != nil {
			out = append(out, g.Called(), g.Summary, prose.Text(g.Body))
		}
	}
	for _, j := range c.jobs() {
		out = append(out, j.Summary, prose.Text(j.Body))
	}
	for _, p := range c.Library.Pages {
		out = append(out, prose.Text(p.Body))
	}
	for _, cue := range site.Cues() {
		out = append(out, cue.Say(c.Words)) // they stand in the year
	}
	return strings.ToLower(strings.Join(out, "\n"))
}

// uses tells whether a term or a form of it stands in a text of lower case.
func uses(text, term string, endings []string) bool {
	term = strings.ToLower(term)
	for rest := text; ; {
		i := strings.Index(rest, term)
		if i < 0 {
			return false
		}
		before, _ := utf8.DecodeLastRuneInString(rest[:i])
		rest = rest[i+len(term):]
		ending := rest[:len(rest)-len(strings.TrimLeftFunc(rest, unicode.IsLetter))]
		if !unicode.IsLetter(before) && (ending == "" || slices.Contains(endings, ending)) {
			return true
		}
	}
}

// establishing is what this garden needs in its first year: water, mulch,
// checks; and what its cuttings will come to.
func (c *composer) establishing() []Block {
	if c.inGuide() {
		return nil
	}
	out := []Block{Heading{prose.Plain(c.Words.Say("first year.this garden"))}}
	var rows []Fact
	if needs := c.Mulch(); needs != nil {
		var beds []string
		for _, n := range needs {
			beds = append(beds, c.Words.Say("first year.bed", "bed", n.Bed, "volume", c.bulk(n.Litres)))
		}
		rows = append(rows, Fact{c.Words.Say("label.mulch"), prose.Plain(c.Words.Say("first year.mulch", "depth", c.Garden.Mulch.Say(c.units, c.Words), "beds", c.Words.And(beds)))})
	}
	var all care.Litres
	groups, order := map[string][]string{}, []string{}
	drinks := c.Waterings(c.Calendar)
	slices.SortStableFunc(drinks, func(a, b care.Drink) int { return cmp.Compare(a.Each.Low, b.Each.Low) })
	for _, d := range drinks {
		all.Low, all.High = all.Low+d.All.Low, all.High+d.All.High
		key := c.amounted(c.Words.Say("first year.each", "volume", c.Words.Say("unit.litres", "n", c.Words.To(c.Words.Figures(litre(d.Each.Low)), c.Words.Figures(litre(d.Each.High))))))
		if groups[key] == nil {
			order = append(order, key)
		}
		if common := c.of(d.Planting).common; !slices.Contains(groups[key], common) {
			groups[key] = append(groups[key], common)
		}
	}
	if all.High > 0 {
		rows = append(rows, Fact{c.Words.Say("label.water"), prose.Plain(c.amounted(c.Words.Say("first year.water", "volume", all.Say(c.Words))))})
		for _, key := range order {
			rows = append(rows, Fact{"", prose.Plain(capital(key) + ": " + c.Words.And(groups[key]) + ".")})
		}
	}
	if checks := c.FirstYearChecks(c.Calendar); checks != nil {
		rows = append(rows, Fact{c.Words.Say("label.check"), prose.Plain(strings.Join(checks, " "))})
	}
	if w := c.Waste(c.Calendar); w.High > 0 {
		rows = append(rows, Fact{c.Words.Say("label.cuttings"), prose.Plain(c.amounted(c.Words.Say("first year.cuttings", "volume", w.Say(c.Words))))})
	}
	if rows == nil {
		return nil
	}
	return append(out, Facts{rows})
}

// litre writes a small volume.
func litre(v float64) string {
	return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0")
}

// safety is the library's page with the region's rules.
func (c *composer) safety() []Section {
	p := c.Library.Page("safety")
	if p == nil {
		return nil
	}
	s := written("safety", Safety, p, c.Words.Say("part.safety"))
	r := c.Region
	if r == nil {
		s.Blocks = append(s.Blocks, Text{Runs: prose.Plain(c.Words.Say("safety.no region")), Role: Warn})
		return []Section{s}
	}
	s.Blocks = append(s.Blocks, Heading{prose.Plain(c.Words.Say("safety.region", "region", r.Name))})
	var rows []Fact
	if r.Nest != nil {
		rows = append(rows, Fact{c.Words.Say("label.nests"), prose.Plain(c.Words.Say("safety.nests", "from", r.Nest.From.Say(c.Words), "to", r.Nest.To.Say(c.Words)) + " " + r.NestNote)})
	}
	for _, f := range []struct{ label, text string }{{"trees", r.Trees}, {"hedges", r.Hedges}, {"waste", r.Waste}, {"help", r.Aid}} {
		if f.text != "" {
			rows = append(rows, Fact{c.Words.Say("label." + f.label), prose.Plain(f.text)})
		}
	}
	s.Blocks = append(s.Blocks, Facts{rows})
	s.Blocks = append(s.Blocks, blocks(r.Body)...)
	s.Blocks = append(s.Blocks, Text{Runs: prose.Plain(c.Words.Say("safety.checked", "day", c.dated(r.Checked), "sources", strings.Join(r.Sources, "; "))), Role: Small})
	return []Section{s}
}

// sources says where the advice comes from and what is estimated.
func (c *composer) sources() Section {
	s := Section{ID: "sources", Kind: Words, Title: prose.Plain(c.Words.Say("sources.title")), Part: c.Words.Say("part.sources")}
	var all []string
	common := false
	add := func(from []string) {
		for _, src := range from {
			switch {
			case strings.EqualFold(src, "common practice"):
				common = true
			case !slices.Contains(all, src):
				all = append(all, src)
			}
		}
	}
	for _, q := range c.plants {
		add(q.entry.Sources)
		if q.entry.Group != nil {
			add(q.entry.Group.Sources)
		}
	}
	slices.Sort(all)
	s.Blocks = append(s.Blocks, Text{Runs: prose.Plain(c.Words.Say("sources.words"))})
	if common {
		said := c.Words.Say("sources.common practice")
		if all != nil {
			said += " " + c.Words.Say("sources.the rest")
		}
		s.Blocks = append(s.Blocks, Text{Runs: prose.Plain(said)})
	}
	if all != nil {
		s.Blocks = append(s.Blocks, Text{Runs: prose.Plain(strings.Join(all, "; ") + "."), Role: Small})
	}
	return s
}

func (c *composer) index() Section {
	type row struct {
		sort string
		IndexRow
	}
	var rows []row
	at := map[[2]string]int{}
	add := func(sort string, runs []prose.Run, target string) {
		key := [2]string{sort, prose.String(runs)}
		i, ok := at[key]
		if !ok {
			i, at[key] = len(rows), len(rows)
			rows = append(rows, row{sort, IndexRow{Runs: runs}})
		}
		if !slices.Contains(rows[i].Targets, target) {
			rows[i].Targets = append(rows[i].Targets, target)
		}
	}
	for _, q := range c.plants {
		add(q.name.Filed(), q.runs, q.id)
		for _, n := range q.entry.Synonyms {
			add(n.Value.Filed(), botanical(n.Value), q.id)
		}
		for _, common := range q.entry.Common {
			add(common, prose.Plain(common), q.id)
		}
	}
	for _, g := range c.gaps {
		add(g.filed, g.runs, toCome)
	}
	for _, j := range c.jobs() {
		add(j.Called(c.Words), prose.Plain(j.Called(c.Words)), "jobs/"+j.ID)
	}
	slices.SortStableFunc(rows, func(a, b row) int {
		return cmp.Or(c.order.Compare(a.sort, b.sort), strings.Compare(prose.String(a.Runs), prose.String(b.Runs)))
	})
	var out IndexList
	for _, r := range rows {
		r.Letter = c.order.Letter(r.sort)
		out.Rows = append(out.Rows, r.IndexRow)
	}
	return Section{ID: "names", Kind: Index, Title: prose.Plain(c.Words.Say("part.index")), Part: c.Words.Say("part.index"), Blocks: []Block{out}}
}

// codeWide is the width of the QR code on the back in millimetres: at arm's
// length a camera wants a tenth of the distance. Common practice, no source.
const codeWide = 28

func (c *composer) back() Section {
	s := Section{ID: "back", Kind: Back, Title: prose.Plain(c.Garden.Name)}
	var rows []Fact
	for _, k := range c.Garden.Contacts {
		rows = append(rows, Fact{k.Name, prose.Plain(k.Text)})
	}
	if rows != nil {
		s.Blocks = append(s.Blocks, Facts{rows})
	}
	if c.Garden.Online != "" {
		// A code that cannot be made leaves the address in words.
		code, _ := figure.Code(c.Garden.Online, c.Words.Say("drawn.code"), codeWide, c.pal)
		s.Blocks = append(s.Blocks, Online{c.Words.Say("back.online"), c.Garden.Online, code})
	}
	return s
}

// lastOf is the last of the sections that begin a row and are of one part.
func lastOf(all []Section) string {
	last := all[0].ID
	for _, s := range all[1:] {
		if s.Part != all[0].Part {
			break
		}
		last = s.ID
	}
	return last
}

// contents fills the contents from the sections of the finished book.
func (c *composer) contents(b *Book) {
	var rows []EntryRow
	part := ""
	for i := range b.Sections {
		s := &b.Sections[i]
		switch s.Kind {
		case Cover, Contents, Back, Bed, CareGroup:
			continue
		case Half:
			rows = append(rows, EntryRow{Level: 0, Runs: s.Title, Target: s.ID, Last: lastOf(b.Sections[i:])})
		case Month, Plant, JobPage:
			if b.Guide && s.Kind != Month {
				if s.Kind == JobPage && s.Part != part {
					rows = append(rows, EntryRow{Level: 0, Runs: prose.Plain(s.Part), Target: s.ID, Last: lastOf(b.Sections[i:])})
				}
				break // a guide's half-titles list its plants
			}
			if s.Part != part {
				rows = append(rows, EntryRow{Level: 0, Runs: prose.Plain(s.Part), Target: s.ID})
			}
			row := EntryRow{Level: 1, Runs: s.Title, Target: s.ID}
			if s.Kind == Plant && s.Aside != prose.String(s.Title) {
				row.Aside = s.Aside
			}
			rows = append(rows, row)
		default:
			rows = append(rows, EntryRow{Level: 0, Runs: s.Title, Target: s.ID})
		}
		part = s.Part
	}
	if s := b.Find("contents"); s != nil {
		s.Blocks = []Block{Entries{rows}}
	}
}
