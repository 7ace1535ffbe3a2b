package booklet

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"sheaf/generator/care"
	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/measure"
	"sheaf/generator/prose"
	"sheaf/generator/site"
	"sheaf/generator/source"
)

func monthID(year int, m time.Month) string { return fmt.Sprintf("%04d-%02d", year, m) }

// listed are the months with each task once: in the month in which its garden day
// begins, in a guide in that of its own first day. A month has the minutes of the
// garden days that begin in it, also of a task's second part; a booklet that lists its
// work by months has a task's whole time where it lists the task.
func (c *composer) listed() []care.Month {
	out := slices.Clone(c.Calendar.Months)
	for i := range out {
		out[i].Tasks, out[i].Minutes = nil, measure.Minutes{}
	}
	put := map[int]bool{}
	add := func(task int, from site.Day, takes measure.Minutes) {
		from = max(from, c.Calendar.First)
		i := slices.IndexFunc(out, func(m care.Month) bool { return from <= m.Last })
		if i < 0 {
			return
		}
		if !put[task] {
			put[task] = true
			out[i].Tasks = append(out[i].Tasks, task)
			if !c.byDays() {
				takes = c.Calendar.Tasks[task].Minutes
			}
		} else if !c.byDays() {
			return
		}
		out[i].Minutes = out[i].Minutes.Plus(takes)
	}
	for i := range c.Calendar.Days {
		for _, p := range c.Calendar.Days[i].Parts {
			add(p.Task, c.Calendar.Days[i].From, p.Minutes)
		}
	}
	for i := range c.Calendar.Tasks {
		if c.inGuide() && !c.Calendar.Tasks[i].Settling {
			add(i, c.Calendar.Tasks[i].From, c.Calendar.Tasks[i].Minutes)
		}
	}
	for i := range out {
		slices.Sort(out[i].Tasks)
	}
	return out
}

func (c *composer) months() []Section {
	var out []Section
	for _, m := range c.listed() {
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

// lines are a month's check list: plantings of one plant with the same work
// and dates are one line.
func (c *composer) lines(m care.Month) []TaskLine {
	var out []TaskLine
	for _, w := range c.joined(m) {
		t := w.tasks[0]
		l := TaskLine{Mark: t.Job.Mark, Family: t.Job.Family, Plant: w.plant.id, Look: t.Rule.LookFor, When: c.span(t.From, t.To)}
		l.Verb, l.Rest, l.Leave = c.action(t.Job, w.plant.common, t.Rule.Leave.Value)
		var minutes measure.Minutes
		var where []string
		for _, t := range w.tasks {
			minutes = minutes.Plus(t.Minutes)
			where = append(where, c.where(t.Planting))
			l.Tasks = append(l.Tasks, c.ticks(t)...)
		}
		l.Minutes, l.Where = minutes.Short(c.Words), strings.Join(where, "; ")
		var warn []string
		if harms(t.Planting.Entry) {
			warn = append(warn, c.Words.Say("warn.harm"))
		}
		if care.Professional(t) {
			warn = append(warn, c.Words.Say("warn.qualified"))
		}
		if c.InNestSeason(t) {
			warn = append(warn, c.Words.Say("warn.nests"))
		}
		l.Warn = strings.Join(warn, " ")
		out = append(out, l)
	}
	return out
}

// harms tells whether a list of work must send its reader to a plant's cautions: its
// sap can take the sight of an eye or burn the skin, or its entry has cautions of
// its own for whoever touches it.
func harms(e *entries.Entry) bool {
	return len(e.Cautions) > 0 || slices.ContainsFunc(e.Hazards, func(h source.At[string]) bool { return h.Value == "sap eyes" || h.Value == "phototoxic sap" })
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
