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

// guide makes the sections of a guide.
func (c *composer) guide(b *Book) []Section {
	return slices.Concat(c.front(), c.climatePage(), c.years(), c.months(), c.parts(), c.gapPage(), c.groupPages(), c.jobPages(), c.backMatter(b))
}

// inGuide tells whether the book is one.
func (c *composer) inGuide() bool { return c.Garden.Kind == garden.Guide }

// here is what the book is about.
func (c *composer) here() string {
	if c.inGuide() {
		return "this place"
	}
	return "this garden"
}

// kindOfPlants is the name of a part of a guide.
func kindOfPlants(t string) string {
	return map[string]string{
		"grass": "Grasses", "sedge": "Sedges", "rush": "Rushes", "bamboo": "Bamboos", "perennial": "Perennials", "bulb": "Bulbs", "fern": "Ferns",
		"subshrub": "Sub-shrubs", "shrub": "Shrubs", "rose": "Roses", "climber": "Climbers", "hedge": "Hedges", "tree": "Trees", "annual": "Annuals", "tender": "Tender plants",
	}[t]
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
		p := part{name: kindOfPlants(t), id: "parts/" + t}
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
			row = append(row, drawn(p.plants[i*len(p.plants)/n])) // some from all over the part
		}
		for _, q := range p.plants {
			r := EntryRow{Level: 1, Runs: prose.Plain(capital(q.common)), Target: q.id}
			if q.common != q.name.String() {
				r.Aside = q.name.Plain()
			}
			rows = append(rows, r)
		}
		slices.SortStableFunc(rows, func(a, b EntryRow) int { return c.order.Compare(prose.String(a.Runs), prose.String(b.Runs)) })
		s.Blocks = []Block{Figure{Picture: c.Sketches.Row(row, c.pal, partFrame)}, Entries{rows}}
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
	s.Blocks = append(s.Blocks, head, Facts{c.nature(e)})
	for _, r := range e.Rules {
		if w, ok := c.work(q, r); ok {
			w.Picture = nil
			w.Amount = strings.Join(slices.DeleteFunc([]string{w.Amount, rhythm(r)}, func(s string) bool { return s == "" }), ". ")
			s.Blocks = append(s.Blocks, w)
		}
	}
	s.Blocks = append(s.Blocks, c.takeCare(q)...)
	var places []Fact
	for _, a := range e.Adjust {
		if said := c.adjusted(a); said != "" {
			places = append(places, Fact{capital(a.If), prose.Plain(said)})
		}
	}
	if places != nil {
		s.Blocks = append(s.Blocks, Heading{prose.Plain("In other places")}, Facts{places})
	}
	if len(body) > 0 {
		s.Blocks = append(s.Blocks, Heading{prose.Plain("Why, and what to expect")})
		s.Blocks = append(s.Blocks, body...)
	}
	s.Blocks = append(s.Blocks, credit(e)...)
	for _, o := range e.Others {
		s.Blocks = append(s.Blocks, c.other(q, o)...)
	}
	return s
}

// nature is how a plant grows and what it likes.
func (c *composer) nature(e *entries.Entry) []Fact {
	var rows []Fact
	add := func(label string, parts ...string) {
		parts = slices.DeleteFunc(parts, func(s string) bool { return s == "" })
		if len(parts) > 0 {
			rows = append(rows, Fact{label, prose.Plain(sentence(capital(strings.Join(parts, ", "))))})
		}
	}
	var soil string
	if e.Soil != nil {
		soil = either(e.Soil) + " soil"
	}
	if e.Fertility != "" {
		soil = strings.TrimSpace(e.Fertility + ", " + soil)
	}
	add("Place", either(e.Light), soil)
	size := e.Height.Print(c.units) + " high"
	if !e.FlowerHeight.IsZero() {
		size += ", " + e.FlowerHeight.Print(c.units) + " in flower"
	}
	add("Size", size, e.Spread.Print(c.units)+" broad")
	if !e.Flowers.Value.IsZero() {
		add("Flowers", e.Flowers.Value.String())
	}
	if h := e.Hardy; h.Span.File != nil {
		add("Winter", fmt.Sprintf("stands %s (%s)", measure.Celsius(h.Value.Low).Print(c.units), h.Value.Written))
	}
	return rows
}

// rhythm says in which years a rule is done, where not in each.
func rhythm(r entries.Rule) string {
	var out []string
	if r.Every > 1 {
		out = append(out, fmt.Sprintf("every %d years", r.Every))
	}
	if r.NotBefore > 1 {
		out = append(out, fmt.Sprintf("not before year %d after planting", r.NotBefore))
	}
	return capital(strings.Join(out, ", "))
}

// adjusted is what a condition of a place changes, in words.
func (c *composer) adjusted(a entries.Adjust) string {
	var out []string
	job := c.Library.Job(a.Job.Value)
	switch {
	case job == nil:
	case a.Skip:
		out = append(out, capital(job.Name.Value)+": leave it undone.")
	case !a.When.Value.IsZero():
		out = append(out, capital(job.Name.Value)+": "+a.When.Value.String()+".")
	}
	if !a.Leave.Value.IsZero() && job != nil {
		out = append(out, job.Verb()+": "+strings.ToLower(amount(a.Leave.Value, c.units)[:1])+amount(a.Leave.Value, c.units)[1:]+".")
	}
	if a.Note != "" {
		out = append(out, sentence(a.Note))
	}
	return strings.Join(out, " ")
}

// other is what another contributor says of a plant, as far as it differs, side
// by side with what stands before.
func (c *composer) other(q *plant, o *entries.Entry) []Block {
	e := q.entry
	stand := garden.Planting{Row: garden.Row{Quantity: 1}, Name: o.Name.Value, Entry: o, How: garden.Exact, Typical: true}
	var rows []Fact
	for _, r := range o.Rules {
		job := c.Library.Job(r.Job.Value)
		if job == nil {
			continue
		}
		var base entries.Rule
		same := slices.IndexFunc(e.Rules, func(b entries.Rule) bool { return b.Job.Value == r.Job.Value })
		if same >= 0 {
			base = e.Rules[same]
		}
		var said []string
		if same < 0 || r.When.Value.String() != base.When.Value.String() {
			if from, to, ok := c.FirstDue(&stand, r); ok {
				said = append(said, capital(span(from, to, c.year, c.units)))
			}
		}
		if r.Leave.Value != base.Leave.Value {
			said = append(said, amount(r.Leave.Value, c.units))
		}
		for _, f := range [][3]string{
			{"Look for: ", r.LookFor, base.LookFor}, {"", r.How, base.How}, {"", r.Why, base.Why}, {"If missed: ", r.IfMissed, base.IfMissed},
			{"Stop if: ", r.StopIf, base.StopIf}, {"Wait if: ", r.WaitIf, base.WaitIf},
		} {
			if f[1] != "" && f[1] != f[2] {
				said = append(said, f[0]+f[1])
			}
		}
		for _, caution := range r.Cautions {
			if !slices.Contains(base.Cautions, caution) {
				said = append(said, "Take care: "+caution)
			}
		}
		for i := range said {
			said[i] = sentence(said[i])
		}
		if said = slices.DeleteFunc(said, func(s string) bool { return s == "" }); said != nil {
			rows = append(rows, Fact{job.Verb(), prose.Plain(strings.Join(said, " "))})
		}
	}
	for _, r := range e.Rules {
		job := c.Library.Job(r.Job.Value)
		if job != nil && !slices.ContainsFunc(o.Rules, func(b entries.Rule) bool { return b.Job.Value == r.Job.Value }) {
			rows = append(rows, Fact{job.Verb(), prose.Plain("Not done.")})
		}
	}
	out := []Block{Heading{prose.Plain("As " + o.Contributor + " keeps it")}}
	if rows != nil {
		out = append(out, Facts{rows})
	} else {
		out = append(out, Text{Runs: prose.Plain("In the same way.")})
	}
	return append(append(out, blocks(o.Body)...), credit(o)...)
}

// credit is who wrote an entry.
func credit(e *entries.Entry) []Block {
	if e.Contributor == "" {
		return nil
	}
	return []Block{Text{Runs: prose.Plain(sentence("Written by " + e.Contributor)), Role: Small}}
}

// byJob is the work of a month by job, each with the plants that it is for: one
// line a plant, as there are many, which leads to what there is to say.
func (c *composer) byJob(m care.Month) (out []Block, plants int) {
	rows := map[*entries.Job][]EntryRow{}
	seen := map[*plant]bool{}
	for _, w := range c.joined(m) {
		t := w.tasks[0]
		said := []string{within(t.From, t.To, m, c.units)}
		if t.Rule.Every > 1 {
			said = append(said, fmt.Sprintf("every %d years", t.Rule.Every))
		}
		if c.InNestSeason(t) {
			said = append(said, "look for nests first")
		}
		if care.Professional(t) {
			said = append(said, "out of reach from the ground, a qualified person's work")
		}
		rows[t.Job] = append(rows[t.Job], EntryRow{Level: 1, Runs: prose.Plain(capital(w.plant.common)), Target: w.plant.id, Aside: strings.Join(said, ", ")})
		seen[w.plant] = true
	}
	for _, j := range c.jobs() {
		if of := rows[j]; of != nil {
			slices.SortStableFunc(of, func(a, b EntryRow) int { return c.order.Compare(prose.String(a.Runs), prose.String(b.Runs)) })
			out = append(out, Heading{[]prose.Run{{Text: capital(j.Name.Value), Link: "#jobs/" + j.ID}}}, Entries{of})
		}
	}
	return out, len(seen)
}

// climatePage is the place of a guide: its cues, its frosts and the year's
// temperatures as a curve.
func (c *composer) climatePage() []Section {
	months := c.Calendar.Months[:12]
	first, last := months[0].First, months[11].Last
	s := Section{ID: "climate", Kind: Glance, Title: prose.Plain("The climate here"), Part: "The climate", Aside: c.position()}
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
			w.Months = append(w.Months, m.First.Month().String()[:3])
		}
		for i, q := range cues {
			w.Cues = append(w.Cues, figure.Cue{At: float64(q.day-first) / float64(last-first+1), Name: fmt.Sprint(i + 1)})
			rows[i].Label = fmt.Sprintf("%d %s", i+1, rows[i].Label)
		}
		s.Blocks = append(s.Blocks, Figure{Picture: figure.Temperatures(w, c.pal, climateFrame),
			Caption: "The year's mean temperature, with the mean of the coldest and the warmest hour of each day. The numbers are those of the cues below."})
	}
	s.Blocks = append(s.Blocks, Heading{prose.Plain("The cues of this place")}, Facts{rows})
	return []Section{s}
}

var climateFrame = figure.Frame{W: 120, H: 64}

// position is where a place is.
func (c *composer) position() string {
	side := "north"
	lat := c.Garden.Place.Latitude
	if lat < 0 {
		side, lat = "south", -lat
	}
	out := fmt.Sprintf("%.1f° %s", lat, side)
	if !c.Garden.Elevation.IsZero() {
		out += ", " + c.Garden.Elevation.Print(c.units) + " above the sea"
	}
	if c.Garden.ColdestNight != nil {
		out += ", the coldest night of a usual winter " + c.Garden.ColdestNight.Print(c.units)
	}
	return out
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
		if p := q.photo(); p != nil && p.Credit != "" {
			photos = append(photos, Fact{capital(q.common), prose.Plain(p.Credit)})
		}
	}
	if names == nil && photos == nil && c.Garden.Permissions == nil {
		return nil
	}
	slices.SortStableFunc(names, func(a, b string) int { return cmp.Or(c.order.Compare(surname(a), surname(b)), c.order.Compare(a, b)) })
	s := Section{ID: "contributors", Kind: Words, Title: prose.Plain("Who wrote this"), Part: "Who wrote this"}
	s.Blocks = append(s.Blocks, Text{Runs: prose.Plain("Members wrote these entries from their own gardens. Where they differ, both stand side by side: cut less, and later.")})
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
		s.Blocks = append(s.Blocks, Heading{prose.Plain("Photographs")}, Facts{photos})
	}
	if c.Garden.Permissions != nil {
		s.Blocks = append(s.Blocks, Heading{prose.Plain("Printed with leave")})
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
