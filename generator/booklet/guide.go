package booklet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync"

	"sheaf/generator/care"
	"sheaf/generator/entries"
	"sheaf/generator/figure"
	"sheaf/generator/garden"
	"sheaf/generator/measure"
	"sheaf/generator/prose"
	"sheaf/generator/site"
)

// A guide is the book of many plants at one place: what a club knows, each entry
// with who wrote it, the year for all members, and no quantities.

// inGuide tells whether the book is one.
func (c *composer) inGuide() bool { return c.Garden.Kind == garden.Guide }

// here is the key of a text on what the dates rest on: there is one for a guide's
// place and one for a garden.
func (c *composer) here(key string) string {
	if c.inGuide() {
		return "guide." + key
	}
	return "year." + key
}

// A part is the plants of one type.
type part struct {
	name, id string
	plants   []*plant
}

// byType are the parts of a guide, in the order of the types.
func (c *composer) byType() []part {
	var out []part
	for _, t := range entries.Types() {
		p := part{name: c.Words.Say("plants." + t), id: "parts/" + t}
		for _, q := range c.plants {
			if q.entry.Type == t {
				p.plants = append(p.plants, q)
			}
		}
		if p.plants != nil {
			out = append(out, p)
		}
	}
	return out
}

// mostInRow is how many plants a half-title draws side by side.
const mostInRow = 9

// parts are the plants of a guide, each type under a half-title.
func (c *composer) parts() []Section {
	var out []Section
	for _, p := range c.byType() {
		s := Section{ID: p.id, Kind: Half, Title: prose.Plain(p.name), Part: p.name}
		var row []figure.Plant
		var rows []EntryRow
		n := min(len(p.plants), mostInRow)
		for i := range n {
			row = append(row, drawn(p.plants[i*len(p.plants)/n], c.units)) // some from all over the part
		}
		for _, q := range p.plants {
			r := EntryRow{Level: 1, Runs: prose.Plain(capital(q.common)), Target: q.id}
			if q.common != q.name.String() {
				r.Aside = q.name.Plain()
			}
			rows = append(rows, r)
		}
		slices.SortStableFunc(rows, func(a, b EntryRow) int { return c.order.Compare(prose.String(a.Runs), prose.String(b.Runs)) })
		s.Blocks = []Block{Figure{Picture: c.Sketches.Row(row, c.Words, c.pal, partFrame)}, Entries{rows}}
		out = append(out, s)
		pages := make([]Section, len(p.plants))
		var all sync.WaitGroup
		for i, q := range p.plants {
			all.Go(func() { pages[i] = c.guidePage(q, p.name) })
		}
		all.Wait()
		out = append(out, pages...)
	}
	return out
}

// partFrame is the picture of a half-title.
var partFrame = figure.Frame{W: 120, H: 46}

// guidePage is a plant in a guide: what it is and likes, its work, what differs
// from place to place and from member to member, and who says so.
func (c *composer) guidePage(q *plant, part string) Section {
	e := q.entry
	s := Section{ID: q.id, Kind: Plant, Title: q.runs, Part: part, Aside: q.common, File: e.File}
	if e.Group != nil {
		s.Group = groupID(e.Group)
	}
	head, body := c.portrait(q)
	law, forbidden := c.law(q)
	s.add(Always, append([]Block{head}, law...)...)
	if !forbidden {
		s.add(RankOf("likes"), Facts{c.nature(e)})
	}
	if notes := c.notes(q, c.ownNotes); notes != nil && !forbidden {
		s.add(Always, Heading{prose.Plain(c.Words.Say("label.in this garden"))}, Facts{notes})
	}
	for _, r := range e.Rules {
		if w, ok := c.work(q, r); ok {
			w.Amount = strings.Join(slices.DeleteFunc([]string{w.Amount, c.rhythm(r)}, func(s string) bool { return s == "" }), ". ")
			s.add(Always, w)
		}
	}
	s.add(Always, c.takeCare(q)...)
	if forbidden {
		// Nothing more is said of how it is best grown.
		s.add(Always, c.credit(e)...)
		return s
	}
	var places []Fact
	for _, a := range e.Adjust {
		if a.If == entries.ThisGarden {
			continue // it is in the rules and in the notes
		}
		if said := c.adjusted(q, a); said != "" {
			places = append(places, Fact{capital(c.Words.Say("if." + a.If)), prose.Plain(said)})
		}
	}
	if places != nil {
		s.add(RankOf("other places"), Heading{prose.Plain(c.Words.Say("guide.other places"))}, Facts{places})
	}
	if len(body) > 0 && !c.refuses(q) {
		s.add(RankOf("expect"), Heading{prose.Plain(c.Words.Say("plant.why"))})
		s.add(RankOf("expect"), c.shut([]*plant{q}, "")...)
		s.add(RankOf("expect"), body...)
	}
	s.add(Always, c.credit(e)...)
	for _, o := range e.Others {
		c.other(&s, q, o)
	}
	return s
}

// ownNotes are the notes on a plant as a whole that garden.yaml adds: what an entry
// says of a place is told with all places.
func (c *composer) ownNotes(p *garden.Planting) []care.Note {
	var out []care.Note
	for _, a := range p.Entry.Adjust {
		if a.If == entries.ThisGarden && a.Job.Value == "" && a.Note != "" {
			out = append(out, care.Note{Label: c.Words.Say("condition." + a.If), Text: a.Note})
		}
	}
	return out
}

// nature is how a plant grows and what it likes.
func (c *composer) nature(e *entries.Entry) []Fact {
	var rows []Fact
	add := func(key string, parts ...string) {
		parts = slices.DeleteFunc(parts, func(s string) bool { return s == "" })
		if len(parts) > 0 {
			rows = append(rows, Fact{c.Words.Say("label." + key), prose.Plain(sentence(capital(strings.Join(parts, ", "))))})
		}
	}
	any := func(group string, of []string) string {
		var said []string
		for _, word := range of {
			said = append(said, c.Words.Term(group, word))
		}
		return c.Words.Or(said)
	}
	soil, fertility := any("soil", e.Soil), c.Words.Term("fertility", e.Fertility)
	switch {
	case soil != "" && fertility != "":
		soil = c.Words.Say("guide.fertility and soil", "fertility", fertility, "soil", soil)
	case soil != "":
		soil = c.Words.Say("guide.soil", "soil", soil)
	case fertility != "":
		soil = c.Words.Say("guide.fertility", "fertility", fertility)
	}
	add("place", any("light", e.Light), soil)
	flower := ""
	if !e.FlowerHeight.IsZero() {
		flower = c.Words.Say("guide.in flower", "height", e.FlowerHeight.Say(c.units, c.Words))
	}
	add("size", c.Words.Say("guide.high", "height", e.Height.Say(c.units, c.Words)), flower, c.Words.Say("guide.broad", "spread", e.Spread.Say(c.units, c.Words)))
	if !e.Flowers.Value.IsZero() {
		add("flowers", e.Flowers.Value.Say(c.Words))
	}
	var stands []string
	for _, h := range []site.Hardiness{e.Hardy.Value, e.Zone.Value} {
		switch {
		case h.Written == "":
		case h.Scale == site.USDA:
			stands = append(stands, c.Words.Say("guide.stands zone", "zone", h.Zone()))
		case h.Scale == site.RHS:
			stands = append(stands, c.Words.Say("guide.stands", "low", measure.Celsius(h.Low).Say(c.units, c.Words), "written", h.Written))
		default:
			stands = append(stands, c.Words.Say("guide.stands as written", "low", measure.Celsius(h.Low).Say(c.units, c.Words)))
		}
	}
	add("winter", stands...)
	return rows
}

// rhythm says in which years a rule is done, where not in each.
func (c *composer) rhythm(r entries.Rule) string {
	var out []string
	if r.Every > 1 {
		out = append(out, c.Words.Say("guide.every", "n", r.Every))
	}
	if r.NotBefore > 1 {
		out = append(out, c.Words.Say("guide.not before", "year", r.NotBefore))
	}
	return capital(strings.Join(out, ", "))
}

// adjusted is what a condition of a place changes, in words.
func (c *composer) adjusted(q *plant, a entries.Adjust) string {
	var out []string
	job := c.Library.Job(a.Job.Value)
	switch {
	case job == nil:
	case a.Skip:
		out = append(out, c.Words.Say("guide.undone", "job", capital(job.Called(c.Words))))
	case !a.When.Value.IsZero() && !c.bound(q, a.Job.Value):
		out = append(out, capital(job.Called(c.Words))+": "+a.When.Value.Say(c.Words)+".")
	}
	if !a.Leave.Value.IsZero() && job != nil {
		out = append(out, job.Verb(c.Words)+": "+c.Words.Inner(c.amount(a.Leave.Value))+".")
	}
	if a.Note != "" {
		out = append(out, sentence(a.Note))
	}
	return strings.Join(out, " ")
}

// other is what another contributor says of a plant, as far as it differs, side
// by side with what stands before.
func (c *composer) other(s *Section, q *plant, o *entries.Entry) {
	e := q.entry
	stand := garden.Planting{Row: garden.Row{Quantity: 1}, Name: o.Name.Value, Entry: o, How: garden.Exact, Typical: true}
	var rows []Fact
	for _, r := range o.Rules {
		job := c.Library.Job(r.Job.Value)
		if job == nil || !c.DoneHere(r) {
			continue
		}
		note, _, refused := c.Bound(&stand, r)
		if note != "" {
			r.IfMissed = ""
		}
		if refused {
			rows = append(rows, Fact{job.Verb(c.Words), prose.Plain(note)})
			continue
		}
		var base entries.Rule
		same := slices.IndexFunc(e.Rules, func(b entries.Rule) bool { return b.Job.Value == r.Job.Value })
		if same >= 0 {
			base = e.Rules[same]
		}
		var said []string
		if note != "" {
			said = append(said, note)
		}
		if same < 0 || r.When.Value.String() != base.When.Value.String() {
			var windows []string
			for _, w := range c.DueInYear(&stand, r) {
				windows = append(windows, c.span(w.From, w.To))
			}
			said = append(said, capital(c.Words.And(windows)))
		}
		if r.Every != base.Every || r.NotBefore != base.NotBefore {
			said = append(said, c.rhythm(r))
		}
		if r.Leave.Value != base.Leave.Value {
			said = append(said, c.amount(r.Leave.Value))
		}
		for _, f := range [][3]string{
			{c.label("look for"), r.LookFor, base.LookFor}, {"", r.How, base.How}, {"", r.Why, base.Why}, {c.label("if missed"), r.IfMissed, base.IfMissed},
			{c.label("stop if"), r.StopIf, base.StopIf}, {c.label("wait if"), r.WaitIf, base.WaitIf},
		} {
			if f[1] != "" && f[1] != f[2] {
				said = append(said, f[0]+f[1])
			}
		}
		for _, caution := range r.Cautions {
			if !slices.Contains(base.Cautions, caution) {
				said = append(said, c.label("take care")+caution)
			}
		}
		for i := range said {
			said[i] = sentence(said[i])
		}
		if said = slices.DeleteFunc(said, func(s string) bool { return s == "" }); said != nil {
			rows = append(rows, Fact{job.Verb(c.Words), prose.Plain(strings.Join(said, " "))})
		}
	}
	for _, r := range e.Rules {
		job := c.Library.Job(r.Job.Value)
		if job != nil && !slices.ContainsFunc(o.Rules, func(b entries.Rule) bool { return b.Job.Value == r.Job.Value }) {
			rows = append(rows, Fact{job.Verb(c.Words), prose.Plain(c.Words.Say("guide.not done"))})
		}
	}
	s.add(Always, Heading{prose.Plain(c.Words.Say("guide.as kept", "name", o.Contributor))})
	if rows != nil {
		s.add(Always, Facts{rows})
	} else {
		s.add(Always, Text{Runs: prose.Plain(c.Words.Say("guide.same way"))})
	}
	s.add(RankOf("expect"), blocks(o.Body)...)
	s.add(Always, c.credit(o)...)
}

// credit is who wrote an entry.
func (c *composer) credit(e *entries.Entry) []Block {
	if e.Contributor == "" {
		return nil
	}
	return []Block{Text{Runs: prose.Plain(sentence(c.Words.Say("plant.written by", "name", e.Contributor))), Role: Small}}
}

// byJob is the work of a month by job, each with the plants that it is for: one
// line a plant, as there are many, which leads to what there is to say.
func (c *composer) byJob(m care.Month) (out []Block, plants int) {
	rows := map[*entries.Job][]EntryRow{}
	seen := map[*plant]bool{}
	for _, w := range c.joined(m) {
		t := w.tasks[0]
		said := []string{c.short(t.From, t.To)}
		if t.Rule.Every > 1 {
			said = append(said, c.Words.Say("guide.every", "n", t.Rule.Every))
		}
		if c.InNestSeason(t) {
			said = append(said, c.Words.Say("guide.nests"))
		}
		if care.Professional(t) {
			said = append(said, c.Words.Say("guide.qualified"))
		}
		rows[t.Job] = append(rows[t.Job], EntryRow{Level: 1, Runs: prose.Plain(capital(w.plant.common)), Target: w.plant.id, Aside: strings.Join(said, ", ")})
		seen[w.plant] = true
	}
	for _, j := range c.Library.Jobs {
		if of := rows[j]; of != nil {
			slices.SortStableFunc(of, func(a, b EntryRow) int { return c.order.Compare(prose.String(a.Runs), prose.String(b.Runs)) })
			out = append(out, Heading{[]prose.Run{{Text: capital(j.Called(c.Words)), Link: "#jobs/" + j.ID}}}, Entries{of})
		}
	}
	return out, len(seen)
}

// climatePage is the place of a guide: its cues, its frosts and the year's
// temperatures as a curve.
func (c *composer) climatePage() []Section {
	months := c.Calendar.Months[:12]
	first, last := months[0].First, months[11].Last
	s := Section{ID: "climate", Kind: Glance, Title: prose.Plain(c.Words.Say("guide.climate here")), Part: c.Words.Say("guide.climate"), Aside: c.position()}
	s.Blocks = append(s.Blocks, Text{Runs: prose.Plain(c.basis())})
	cues := c.cues(first, last)
	rows := c.cueFacts(cues).Rows
	if c.Garden.Place.Basis() == site.FromNormals {
		shown := func(t float64) float64 {
			if c.units == measure.US {
				return t*9/5 + 32
			}
			return t
		}
		w := figure.Weather{Unit: "°C", Freezing: shown(0)}
		if c.units == measure.US {
			w.Unit = "°F"
		}
		for d := first; d <= last; d += 3 {
			w.Low = append(w.Low, shown(c.Climate.Min(d)))
			w.Mean = append(w.Mean, shown(c.Climate.Mean(d)))
			w.High = append(w.High, shown(c.Climate.Max(d)))
		}
		for _, m := range months {
			w.Months = append(w.Months, c.Words.MonthShort(m.First.Month()))
		}
		for i, q := range cues {
			w.Cues = append(w.Cues, figure.Cue{At: float64(q.day-first) / float64(last-first+1), Name: fmt.Sprint(i + 1)})
			rows[i].Label = fmt.Sprintf("%d %s", i+1, rows[i].Label)
		}
		s.Blocks = append(s.Blocks, Figure{Picture: figure.Temperatures(w, c.Words, c.pal, climateFrame),
			Caption: c.Words.Say("guide.temperatures")})
	}
	s.Blocks = append(s.Blocks, Heading{prose.Plain(c.Words.Say("guide.cues"))}, Facts{rows})
	return []Section{s}
}

var climateFrame = figure.Frame{W: 120, H: 64}

// position is where a place is.
func (c *composer) position() string {
	side, lat := "guide.north", c.Garden.Place.Latitude
	if lat < 0 {
		side, lat = "guide.south", -lat
	}
	out := []string{c.Words.Say(side, "degrees", c.Words.Figures(fmt.Sprintf("%.1f", lat)))}
	if !c.Garden.Elevation.IsZero() {
		out = append(out, c.Words.Say("guide.above the sea", "height", c.Garden.Elevation.Say(c.units, c.Words)))
	}
	if c.Garden.ColdestNight != nil {
		out = append(out, c.Words.Say("guide.coldest night", "night", c.Garden.ColdestNight.Say(c.units, c.Words)))
	}
	return strings.Join(out, ", ")
}

// contributors are all who wrote the guide, with their plants, and whose leave it
// has.
func (c *composer) contributors() []Section {
	wrote := map[string][]*plant{}
	var names []string
	var photos []Fact
	add := func(e *entries.Entry, q *plant) {
		if e.Contributor == "" {
			return
		}
		if wrote[e.Contributor] == nil {
			names = append(names, e.Contributor)
		}
		wrote[e.Contributor] = append(wrote[e.Contributor], q)
	}
	for _, q := range c.plants {
		add(q.entry, q)
		for _, o := range q.entry.Others {
			add(o, q)
		}
		if p := c.photo(q); p != nil && p.Credit != "" {
			photos = append(photos, Fact{capital(q.common), prose.Plain(p.Credit)})
		}
	}
	if names == nil && photos == nil && c.Garden.Permissions == nil {
		return nil
	}
	slices.SortStableFunc(names, func(a, b string) int { return cmp.Or(c.order.Compare(surname(a), surname(b)), c.order.Compare(a, b)) })
	s := Section{ID: "contributors", Kind: Words, Title: prose.Plain(c.Words.Say("guide.who wrote")), Part: c.Words.Say("guide.who wrote")}
	s.Blocks = append(s.Blocks, Text{Runs: prose.Plain(c.Words.Say("guide.members"))})
	var rows []Fact
	for _, n := range names {
		var runs []prose.Run
		for i, q := range wrote[n] {
			if i > 0 {
				runs = append(runs, prose.Run{Text: ", "})
			}
			runs = append(runs, prose.Run{Text: q.common, Link: "#" + q.id})
		}
		rows = append(rows, Fact{n, append(runs, prose.Run{Text: "."})})
	}
	if rows != nil {
		s.Blocks = append(s.Blocks, Facts{rows})
	}
	if photos != nil {
		s.Blocks = append(s.Blocks, Heading{prose.Plain(c.Words.Say("guide.photographs"))}, Facts{photos})
	}
	if c.Garden.Permissions != nil {
		s.Blocks = append(s.Blocks, Heading{prose.Plain(c.Words.Say("guide.leave"))})
		for _, p := range c.Garden.Permissions {
			s.Blocks = append(s.Blocks, Text{Runs: prose.Plain(sentence(p))})
		}
	}
	return []Section{s}
}

// surname is the last word of a name, by which people are listed.
func surname(name string) string {
	name, _, _ = strings.Cut(name, ",") // "Ann Lee, Coast Road"
	return name[strings.LastIndexByte(name, ' ')+1:]
}
