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
	if settling := c.settling(m); settling != nil {
		out = append(out, c.settlingLine(settling, m))
	}
	return out
}

// harms tells whether a list of work must send its reader to a plant's cautions: its
// sap can take the sight of an eye or burn the skin, or its entry has cautions of
// its own for whoever touches it.
func harms(e *entries.Entry) bool {
	return len(e.Cautions) > 0 || slices.ContainsFunc(e.Hazards, func(h source.At[string]) bool { return h.Value == "sap eyes" || h.Value == "phototoxic sap" })
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
