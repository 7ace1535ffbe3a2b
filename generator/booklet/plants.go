package booklet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync"

	"sheaf/generator/care"
	"sheaf/generator/draw"
	"sheaf/generator/entries"
	"sheaf/generator/figure"
	"sheaf/generator/garden"
	"sheaf/generator/measure"
	"sheaf/generator/prose"
	"sheaf/generator/site"
)

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
	law, forbidden := c.law(q)
	s.Blocks = append(s.Blocks, law...)
	// What the place changes may forbid a job: it is read before the jobs.
	if notes := c.notes(q, c.PlaceNotes); notes != nil && !forbidden {
		s.Blocks = append(s.Blocks, Heading{prose.Plain(c.Words.Say("label.in this garden"))}, Facts{notes})
	}
	s.Blocks = append(s.Blocks, c.takeCare(q)...) // before whoever reads a job begins it
	for _, r := range e.Rules {
		if w, ok := c.work(q, r); ok {
			s.Blocks = append(s.Blocks, w)
		}
	}
	if forbidden {
		// Nothing more is said of how it is best grown.
		s.Blocks = append(s.Blocks, c.credit(e)...)
		return s
	}
	s.Ranks = make([]Rank, len(s.Blocks))
	if len(body) > 0 && !c.refuses(q) {
		s.add(RankOf("expect"), Heading{prose.Plain(c.Words.Say("plant.why"))})
		s.add(RankOf("expect"), c.shut([]*plant{q}, "")...)
		s.add(RankOf("expect"), body...)
	}
	s.add(Always, c.credit(e)...)
	return s
}

// add puts blocks of a rank at the end of a section.
func (s *Section) add(r Rank, blocks ...Block) {
	for _, b := range blocks {
		s.Blocks, s.Ranks = append(s.Blocks, b), append(s.Ranks, r)
	}
}

// notes are what some plantings of a plant have, each once, under its condition;
// of one that does not hold for all of them the beds are named.
func (c *composer) notes(q *plant, of func(*garden.Planting) []care.Note) []Fact {
	var order []care.Note
	beds := map[care.Note][]string{}
	for _, p := range q.plantings {
		for _, n := range of(p) {
			if beds[n] == nil {
				order = append(order, n)
			}
			beds[n] = append(beds[n], name(p.Bed))
		}
	}
	var out []Fact
	for _, n := range order {
		label := n.Label
		if in := slices.DeleteFunc(slices.Compact(beds[n]), func(bed string) bool { return bed == "" }); len(beds[n]) < len(q.plantings) && len(in) > 0 {
			label = c.Words.Say("condition.in beds", "condition", label, "beds", c.Words.And(in))
		}
		out = append(out, Fact{label, prose.Plain(sentence(n.Text))})
	}
	return out
}

// portrait opens a plant's page; the rest of its entry's text goes further down.
func (c *composer) portrait(q *plant) (head Portrait, rest []Block) {
	e := q.entry
	plant := drawn(q, c.units)
	head.Picture = c.Sketches.Portrait(plant, c.Words, c.pal, portraitFrame)
	head.Drawn = func(f figure.Frame, scale float64) (draw.Picture, float64) {
		if largest := plant.Scale(f); scale == 0 || scale > largest {
			scale = largest
		}
		return c.Sketches.To(scale, plant, c.Words, c.pal, portraitFrame, f), scale
	}
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
	var harm Harm
	var short, warn []string
	add := func(to *[]string, line string) {
		if line != "" && !slices.Contains(*to, line) {
			*to = append(*to, line)
		}
	}
	for _, e := range append([]*entries.Entry{q.entry}, q.entry.Others...) {
		own := c.Harm(e)
		for _, h := range e.Hazards {
			full := c.Library.Caution(h.Value)
			if !slices.Contains(own, full) {
				continue
			}
			add(&harm.Full, sentence(full))
			add(&short, c.Words.Term("caution", h.Value))
		}
		for _, line := range own {
			if !slices.Contains(harm.Full, sentence(line)) {
				add(&warn, line)
			}
		}
	}
	for _, p := range q.plantings {
		if cold, ok := c.TooCold(p, c.Words); ok && !c.Forbidden(p) {
			add(&warn, c.Words.Say("plant.winter", "cold", cold))
		}
	}
	if harm.Full == nil && warn == nil {
		return nil
	}
	out := []Block{Heading{prose.Plain(c.Words.Say("label.take care"))}}
	if harm.Full != nil {
		harm.Short = strings.Join(short, " ")
		if c.Library.Page("safety") != nil {
			harm.At = "safety"
		}
		out = append(out, harm)
	}
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

// work is one job on a plant's page. It is left out where it would keep a
// forbidden plant or make more of it, and where none of the garden's plantings
// asks for it. Of one that no lawful time is left for there is the law and nothing
// of how it is done.
func (c *composer) work(q *plant, r entries.Rule) (Work, bool) {
	job := c.Library.Job(r.Job.Value)
	if job == nil || slices.ContainsFunc(q.plantings, func(p *garden.Planting) bool { return c.Barred(p, job) }) {
		return Work{}, false
	}
	d, ok := c.demand(q, r, job)
	if !ok {
		return Work{}, false
	}
	w := Work{Job: "jobs/" + job.ID, Mark: job.Mark, Family: job.Family, Verb: job.Verb(c.Words)}
	w.Notes = c.notes(q, func(p *garden.Planting) []care.Note { return d.notes[p] })
	if d.refused {
		w.Later = true
		return w, true
	}
	r = d.rule
	w.When, w.Later = c.windows(q, r)
	w.Amount = c.amounts(q, r, d.fitted)
	for _, f := range []struct{ label, text string }{
		{"look for", r.LookFor}, {"how", r.How}, {"why", r.Why}, {"if missed", r.IfMissed},
		{"stop if", r.StopIf}, {"wait if", r.WaitIf}, {"take care", strings.Join(r.Cautions, " ")},
	} {
		if f.text != "" {
			w.Rows = append(w.Rows, Detail{Fact{c.Words.Say("label." + f.label), prose.Plain(sentence(f.text))}, RankOf(f.label), f.label == "take care"})
		}
	}
	if w.Later {
		for i := range w.Rows { // not due in the months of this booklet
			if !w.Rows[i].Caution {
				w.Rows[i].Rank = max(w.Rows[i].Rank, RankOf("not due"))
			}
		}
	}
	w.Days = c.onDays(q, r, w.When)
	w.Never = c.never(d.fitted)
	w.Terms = strings.Join(slices.DeleteFunc([]string{
		sentence(capital(c.Words.And(care.ToolsOf(r, job)))), c.times(d.minutes, d.quantity, q.entry),
	}, func(s string) bool { return s == "" }), " ")
	if shown(job) && !c.inGuide() && !q.entry.Unmeasured { // a guide draws each plant once
		pic := c.beforeAfter(q, job, d.fitted.Leave.Value, workFrame)
		w.Picture = &pic
	}
	return w, true
}

// A demand is what the plantings of a plant ask of one of its rules.
type demand struct {
	rule     entries.Rule // without what a closed season makes untrue of it
	fitted   entries.Rule // as the first of them has it
	notes    map[*garden.Planting][]care.Note
	minutes  measure.Minutes // for all of them
	quantity float64         // of plants; 1 for a drift, of which the time for one is no figure
	refused  bool            // closed seasons leave no time for it
}

// demand gathers what plantings ask of a rule; false where none does.
func (c *composer) demand(q *plant, r entries.Rule, job *entries.Job) (demand, bool) {
	d := demand{rule: r, notes: map[*garden.Planting][]care.Note{}}
	done, drift := false, false
	for _, p := range q.plantings {
		if c.Over(p, r) {
			continue
		}
		fitted, notes, asked := c.FitNow(p, r)
		if d.notes[p] = notes; !asked { // its note may say why
			continue
		}
		if law, moved, refused := c.Bound(p, r); law != "" {
			note := care.Note{Label: c.Words.Say("law.label"), Text: law}
			if d.notes[p] = append([]care.Note{note}, notes...); refused {
				d.notes[p] = []care.Note{note}
			}
			if d.rule.IfMissed = ""; moved {
				d.rule.LookFor = ""
			}
			d.refused = d.refused || refused
		}
		if !done {
			d.fitted = fitted
		}
		done, drift = true, drift || care.Drift(p)
		d.minutes = d.minutes.Plus(c.Minutes(p, fitted, job))
		d.quantity += p.Row.Quantity
	}
	if drift {
		d.quantity = 1
	}
	return d, done
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
	_, month, _ := from.Civil()
	season := c.Words.Say("when.season", "season", c.Words.Say("season."+c.Garden.Place.Hemisphere().Season(month)), "year", fmt.Sprint(from.Year()))
	switch window := c.Words.To(c.day(from), c.day(to)); {
	case r.Only > 0:
		return []string{c.Words.Say("when.only", "year", r.Only)}, true
	case r.Every > 1 && from > 0:
		return []string{c.Words.Say("when.every", "n", r.Every, "season", season, "window", window)}, true
	case from > 0:
		return []string{c.Words.Say("when.first", "season", season, "window", window)}, true
	}
	return []string{capital(r.When.Value.Say(c.Words))}, true
}

// onDays are the garden days on which a rule of a plant is done, by its windows as they
// are said.
func (c *composer) onDays(q *plant, r entries.Rule, when []string) []Ref {
	if !c.byDays() {
		return nil
	}
	var out []Ref
	for _, i := range q.tasks {
		t := &c.Calendar.Tasks[i]
		if t.Rule.Span != r.Span {
			continue
		}
		for _, n := range c.daysOf[i] {
			ref := Ref{dayID(n + 1), c.Words.Say("day.short", "n", n+1), max(slices.Index(when, c.span(t.From, t.To)), 0)}
			if !slices.Contains(out, ref) {
				out = append(out, ref)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Ref) int { return cmp.Compare(a.When, b.When) })
	return out
}

// done tells that a rule holds for one planting of a plant at least.
func (c *composer) done(q *plant, r entries.Rule) bool {
	return slices.ContainsFunc(q.plantings, func(p *garden.Planting) bool {
		_, _, ok := c.FitNow(p, r)
		return ok && !c.Over(p, r)
	})
}

// example is a plant of this garden that gets a job, to show it on, with what
// its rule leaves. Work of the first year, such as watering, has no rule; then
// it is a plant with such a task.
func (c *composer) example(j *entries.Job) (*plant, measure.Leave) {
	for _, q := range c.plants {
		for _, r := range q.entry.Rules {
			if r.Job.Value == j.Name.Value && !q.entry.Unmeasured && c.done(q, r) {
				return q, r.Leave.Value
			}
		}
	}
	for i := range c.Calendar.Tasks {
		if t := &c.Calendar.Tasks[i]; t.Job == j && !t.Planting.Entry.Unmeasured {
			return c.of(t.Planting), measure.Leave{}
		}
	}
	return nil, measure.Leave{}
}
