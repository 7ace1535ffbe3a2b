package booklet

import (
	"fmt"
	"slices"
	"strings"

	"sheaf/generator/care"
	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/measure"
	"sheaf/generator/prose"
	"sheaf/generator/site"
	"sheaf/generator/source"
)

// The garden days: a page for each visit, by job, with a line for each plant or
// for a few of a bed that are treated alike.

func dayID(n int) string { return fmt.Sprintf("days/%d", n) }

// days are the garden days, unless the booklet lists its work by months.
func (c *composer) days() []Section {
	if !c.byDays() {
		return nil
	}
	var out []Section
	for i := range c.Calendar.Days {
		out = append(out, c.gardenDay(i))
	}
	return out
}

// byDays tells whether the booklet lists its work by garden days.
func (c *composer) byDays() bool { return !c.inGuide() && c.Garden.Work == garden.ByDay }

// dayName is "Garden day 3".
func (c *composer) dayName(i int) string { return c.Words.Say("day.title", "n", i+1) }

func (c *composer) gardenDay(i int) Section {
	d := &c.Calendar.Days[i]
	s := Section{ID: dayID(i + 1), Kind: Day, Part: c.Words.Say("part.days"), Title: prose.Plain(c.dayName(i)), Aside: c.anyDay(d), short: c.Words.Say("day.short", "n", i+1)}
	named := named{}
	s.Blocks = append(s.Blocks, c.visit(d))
	for _, j := range c.jobsOf(d) {
		s.Blocks = append(s.Blocks, c.chores(d, j, named))
	}
	for _, line := range c.dangers(d) {
		s.Blocks = append(s.Blocks, Text{Runs: line, Role: Warn})
	}
	late := c.Words.Say("day.late")
	if i+1 < len(c.Calendar.Days) {
		next := &c.Calendar.Days[i+1]
		late += " " + c.Words.Say("day.next", "day", fmt.Sprint(i+2), "window", c.briefly(next.From, next.To))
	}
	s.Blocks = append(s.Blocks, Text{Runs: prose.Plain(late), Role: Small})
	return s
}

// part says which part of a long task is done.
func (c *composer) part(p care.Part) string {
	if p.Of == 2 {
		return c.Words.Say([]string{"day.first half", "day.second half"}[p.N-1])
	}
	return c.Words.Say("day.part", "n", p.N, "of", p.Of)
}

// anyDay says the window of a garden day.
func (c *composer) anyDay(d *care.Day) string {
	if d.From == d.To {
		return c.dated(d.From)
	}
	return c.Words.Say("day.any", "window", c.fullSpan(d.From, d.To))
}

// fullSpan is a window with its year.
func (c *composer) fullSpan(from, to site.Day) string {
	switch {
	case from == to:
		return c.dated(from)
	case from.Year() != to.Year():
		return c.Words.To(c.dated(from), c.dated(to))
	case from.Month() == to.Month():
		y, month, last := to.Civil()
		_, _, first := from.Civil()
		return c.Words.Say("date.within year", "first", first, "last", last, "month", c.Words.Month(month), "year", fmt.Sprint(y))
	}
	return c.Words.To(c.day(from), c.dated(to))
}

// visit is the head of a garden day.
func (c *composer) visit(d *care.Day) Visit {
	v := Visit{From: d.From.String(), To: d.To.String(), Window: c.anyDay(d), Hours: d.Minutes.Say(c.Words)}
	var tools []string
	for _, p := range d.Parts {
		t := &c.Calendar.Tasks[p.Task]
		for _, tool := range care.ToolsOf(t.Rule, t.Job) {
			if !slices.Contains(tools, tool) {
				tools = append(tools, tool)
			}
		}
	}
	v.Tools = strings.Join(tools, c.Words.Say("list.between")+" ")
	if w := c.Cuttings(c.Calendar, d); w.High > 0 {
		v.Cuttings = c.amounted(c.Words.Say("day.cuttings", "volume", w.Say(c.Words)))
	}
	var after []string
	for _, n := range d.After {
		after = append(after, fmt.Sprint(n+1))
		v.Earlier = append(v.Earlier, Ref{ID: dayID(n + 1), Text: c.Words.Say("day.short", "n", n+1)})
	}
	if after != nil {
		v.After = c.Words.Say("day.after", "days", c.Words.And(after))
	}
	if d.Nearest {
		v.After = strings.TrimSpace(v.After + " " + c.Words.Say("day.nearest"))
	}
	return v
}

// jobsOf lists the jobs of a day in the order in which they are done: what comes
// after another by its own page stands after it, else as in the year.
func (c *composer) jobsOf(d *care.Day) []*entries.Job {
	var out []*entries.Job
	for _, p := range d.Parts {
		if j := c.Calendar.Tasks[p.Task].Job; !slices.Contains(out, j) {
			out = append(out, j)
		}
	}
	slices.SortStableFunc(out, func(a, b *entries.Job) int {
		return len(a.After) - len(b.After) // what waits for many others comes last: feeding, mulch
	})
	return out
}

// named are the plants that a page has named.
type named map[*plant]bool

// called is a plant in a list of a page, with its botanical name the first time.
func (c *composer) called(q *plant, on named) Called {
	out := Called{ID: q.id, Common: q.common}
	if !on[q] && q.common != q.name.String() {
		out.Latin = q.runs
	}
	on[q] = true
	return out
}

// mostTogether is how many plants share a line at most.
const mostTogether = 3

// chores are one job of a day. Plants of a bed that have the same amount share a
// line; one that stands in several beds, or of which there is more to say, has its
// own.
func (c *composer) chores(d *care.Day, job *entries.Job, on named) Chores {
	out := Chores{Job: "jobs/" + job.ID, Mark: job.Mark, Family: job.Family, Verb: capital(job.Called(c.Words))}
	type group struct {
		bed, amount, say, warn string
		tasks                  []*care.Task
		ticks                  []string
		plants                 []*plant
	}
	var groups []*group
	var minutes measure.Minutes
	for _, p := range d.Parts {
		t := &c.Calendar.Tasks[p.Task]
		if t.Job != job {
			continue
		}
		minutes = minutes.Plus(p.Minutes)
		g := &group{bed: name(t.Planting.Bed), amount: c.Words.Inner(c.leave1(t)), warn: c.warnings(t)}
		if p.Of > 1 {
			g.say = c.part(p)
		}
		q := c.of(t.Planting)
		at := slices.IndexFunc(groups, func(o *group) bool {
			return o.bed == g.bed && o.amount == g.amount && o.say == g.say && o.warn == g.warn &&
				(len(o.plants) < mostTogether || slices.Contains(o.plants, q))
		})
		if at >= 0 {
			g = groups[at]
		} else {
			groups = append(groups, g)
		}
		g.tasks = append(g.tasks, t)
		g.ticks = append(g.ticks, c.tick(t, p.N, p.Of))
		if !slices.Contains(g.plants, q) {
			g.plants = append(g.plants, q)
		}
	}
	out.Hours = minutes.Short(c.Words)
	for _, g := range groups {
		l := Chore{Tasks: g.ticks, Amount: g.amount, Say: g.say, Warn: g.warn}
		for _, q := range g.plants {
			l.Plants = append(l.Plants, c.called(q, on))
		}
		if len(g.plants) == 1 && g.say == "" {
			l.Look = sentence(g.tasks[0].Rule.LookFor)
		}
		l.Where = c.standsAt(g.bed, g.tasks)
		out.Lines = append(out.Lines, l)
	}
	return out
}

// leave1 is what a task leaves, "" for all.
func (c *composer) leave1(t *care.Task) string {
	if t.Rule.Leave.Value.IsZero() {
		return ""
	}
	return c.leave(t.Rule.Leave.Value)
}

// standsAt says where tasks of a bed are, by the numbers of its plantings, and how
// many plants they are for.
func (c *composer) standsAt(bed string, tasks []*care.Task) string {
	var numbers []string
	many, alike := 0.0, true
	for _, t := range tasks {
		n := fmt.Sprint(c.number[t.Planting])
		if !slices.Contains(numbers, n) {
			numbers = append(numbers, n)
			many += t.Planting.Row.Quantity
		}
		alike = alike && t.Planting.Entry.Type == tasks[0].Planting.Entry.Type
	}
	count := c.Words.Say("many.plants", "n", many)
	if alike {
		count = c.howMany(many, tasks[0].Planting.Entry)
	}
	if bed == "" {
		return count
	}
	return c.Words.Say("day.where", "bed", bed, "numbers", strings.Join(numbers, "\u00a0"), "many", count)
}

// warnings are what a line of work must not be read without.
func (c *composer) warnings(t *care.Task) string {
	var out []string
	if harms(t.Planting.Entry) {
		out = append(out, c.Words.Say("warn.harm"))
	}
	if care.Professional(t) {
		out = append(out, c.Words.Say("warn.qualified"))
	}
	for _, n := range t.Notes {
		out = append(out, sentence(n.String()))
	}
	return strings.Join(out, " ")
}

// nameTasks gives each task a name of its own that is the same in every build: its
// plant, bed, job and the month it begins in, numbered where a bed has the same twice.
// No name holds a space.
func (c *composer) nameTasks() {
	c.stable, c.inParts = map[*care.Task]string{}, map[*care.Task]int{}
	taken := map[string]bool{}
	for i := range c.Calendar.Tasks {
		t := &c.Calendar.Tasks[i]
		c.stable[t] = unique(strings.Join([]string{strings.TrimPrefix(c.of(t.Planting).id, "plants/"), slug(name(t.Planting.Bed)), t.Job.ID, t.From.String()[:7]}, "/"), taken)
	}
	for i := range c.Calendar.Days {
		for _, p := range c.Calendar.Days[i].Parts {
			c.inParts[&c.Calendar.Tasks[p.Task]] = p.Of
		}
	}
}

// tick is what is ticked when a part of a task is done.
func (c *composer) tick(t *care.Task, n, of int) string {
	if of <= 1 {
		return c.stable[t]
	}
	return fmt.Sprintf("%s/%d", c.stable[t], n)
}

// ticks are those of a whole task: one for each part of it.
func (c *composer) ticks(t *care.Task) []string {
	of := max(c.inParts[t], 1)
	var out []string
	for n := range of {
		out = append(out, c.tick(t, n+1, of))
	}
	return out
}

// dangers are the cautions of a day: nests, then what its plants can do to whoever
// touches them, each with their names.
func (c *composer) dangers(d *care.Day) [][]prose.Run {
	var out [][]prose.Run
	nests, touched := false, []*plant{}
	for _, p := range d.Parts {
		t := &c.Calendar.Tasks[p.Task]
		nests = nests || c.InNestSeason(t)
		if q := c.of(t.Planting); !slices.Contains(touched, q) {
			touched = append(touched, q)
		}
	}
	if nests {
		out = append(out, prose.Plain(c.Words.Say("warn.nests")))
	}
	var said []string
	for _, hazard := range entries.Hazards() {
		if !handled(hazard) {
			continue
		}
		var who []string
		for _, q := range touched {
			if has(q.entry, hazard) {
				who = append(who, q.common)
			}
		}
		if who != nil {
			said = append(said, c.Words.Term("hazard", hazard)+": "+c.Words.And(who)+".")
		}
	}
	var unknown []string
	for _, q := range touched {
		if unforeseen(q.entry) {
			unknown = append(unknown, q.common)
		}
	}
	if unknown != nil {
		said = append(said, capital(c.Words.Term("does", "unknown"))+": "+c.Words.And(unknown)+".")
	}
	if said != nil {
		out = append(out, prose.Plain(strings.Join(said, " ")))
	}
	return out
}

// handled tells a hazard that whoever works on a plant meets; the others are for
// whoever eats of it, and stand on its own page and on that on safety.
func handled(hazard string) bool {
	return hazard != "toxic if eaten" && hazard != "toxic to pets"
}

// unforeseen tells a plant of which nobody has said what it can do: it has the care of
// a group, and no kin in the library.
func unforeseen(e *entries.Entry) bool { return e.Unmeasured && len(e.Kin) == 0 }

func has(e *entries.Entry, hazard string) bool {
	return slices.ContainsFunc(e.Hazards, func(h source.At[string]) bool { return h.Value == hazard })
}
