package booklet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"sheaf/generator/care"
	"sheaf/generator/garden"
	"sheaf/generator/measure"
	"sheaf/generator/prose"
	"sheaf/generator/site"
)

// Events for calendar programs: one for each garden day, or one for each work with
// its whole window, or one a month; and the watering of everything new. None begins
// before the handover.

func (c *composer) events() []Event {
	var out []Event
	switch {
	case c.Garden.Calendar == garden.ByMonth:
		out = append(c.monthEvents(), c.wateringEvents()...)
	case c.Garden.Calendar == garden.ByDay && !c.inGuide():
		out = append(c.dayEvents(), c.wateringEvents()...)
	default:
		out = append(c.taskEvents(), c.wateringEvents()...)
		slices.SortStableFunc(out, func(a, b Event) int { return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To)) })
	}
	for i := range out {
		if !c.inGuide() {
			out[i].From = max(out[i].From, c.Garden.Date)
		}
	}
	return out
}

// dayEvents is one event for each garden day, with its list to tick and all the
// cautions of its work.
func (c *composer) dayEvents() []Event {
	var out []Event
	seen := map[string]int{}
	for i := range c.Calendar.Days {
		d := &c.Calendar.Days[i]
		var jobs []string
		e := Event{From: d.From, To: d.To}
		if c.byDays() {
			e.Section = dayID(i + 1)
		}
		v := c.visit(d)
		e.say("", capital(v.Hours))
		e.say("", v.After)
		e.say(c.label("tools"), v.Tools)
		var tasks []*care.Task
		for _, j := range c.jobsOf(d) {
			jobs = append(jobs, c.Words.Small(j.Called(c.Words)))
			work := c.chores(d, j, named{})
			for _, l := range work.Lines {
				e.say("☐ "+work.Verb+": ", c.choreLine(l))
			}
		}
		for _, p := range d.Parts {
			tasks = append(tasks, &c.Calendar.Tasks[p.Task])
		}
		for _, t := range tasks {
			if tag := c.Words.Say("family." + t.Job.Family); !slices.Contains(e.Tags, tag) {
				e.Tags = append(e.Tags, tag)
			}
		}
		e.tag(tasks)
		c.warn(&e, tasks)
		e.say("", c.Words.Say("day.late"))
		e.Summary = c.Words.Say("event.day", "day", c.dayName(i), "jobs", strings.Join(jobs, c.Words.Say("list.between")+" "))
		e.Key = c.key(seen, "garden day", c.first(d), d.From)
		out = append(out, e)
	}
	return out
}

// first is the task of a garden day whose name comes first: a day is called by it, as
// its number and its dates change with what else there is to do.
func (c *composer) first(d *care.Day) string {
	var names []string
	for _, p := range d.Parts {
		names = append(names, c.tick(&c.Calendar.Tasks[p.Task], p.N, p.Of))
	}
	return slices.Min(names)
}

// choreLine is a line of work in words.
func (c *composer) choreLine(l Chore) string {
	var names []string
	for _, p := range l.Plants {
		said := p.Common
		if p.Latin != nil {
			said += " (" + prose.String(p.Latin) + ")"
		}
		names = append(names, said)
	}
	said := c.Words.And(names)
	for _, s := range []string{l.Where, l.Amount} {
		if s != "" {
			said += "; " + s
		}
	}
	return strings.Join(strings.Fields(strings.Join([]string{sentence(said), l.Say, l.Look, l.Warn}, " ")), " ")
}

// wateringEvents is the watering of everything new, as one event.
func (c *composer) wateringEvents() []Event {
	from, to, ok := c.settling()
	if !ok {
		return nil
	}
	var tasks []*care.Task
	for _, i := range c.Calendar.Apart {
		if t := &c.Calendar.Tasks[i]; t.Settling {
			tasks = append(tasks, t)
		}
	}
	job := tasks[0].Job
	verb, rest, _ := c.action(job, c.Words.Say("first year.new plants"), measure.Leave{})
	e := Event{From: from, To: to, Summary: verb + " " + rest, Section: wateringID, Tags: []string{c.Words.Say("family." + job.Family)}}
	e.tag(tasks)
	e.say(c.label("look for"), tasks[0].Rule.LookFor)
	c.warn(&e, tasks)
	e.Key = c.key(map[string]int{}, "new plants", "water", from)
	return []Event{e}
}

// taskEvents is one event for each work and window, plantings of one plant with
// the same work joined, as in the month lists.
func (c *composer) taskEvents() []Event {
	year := care.Month{First: c.Calendar.First, Last: c.Calendar.Last}
	for i := range c.Calendar.Tasks {
		year.Tasks = append(year.Tasks, i)
	}
	var out []Event
	seen := map[string]int{}
	for _, w := range c.joined(year) {
		t := w.tasks[0]
		verb, rest, leave := c.action(t.Job, w.plant.common, t.Rule.Leave.Value)
		e := Event{From: t.From, To: t.To, Summary: verb + " " + rest, Section: w.plant.id, Tags: []string{c.Words.Say("family." + t.Job.Family)}}
		var where []string
		for _, t := range w.tasks {
			where = append(where, c.where(t.Planting))
		}
		e.tag(w.tasks)
		e.say("", leave)
		e.say("", strings.Join(where, "; "))
		e.say(c.label("look for"), t.Rule.LookFor)
		e.say(c.label("how"), t.Rule.How)
		e.say(c.label("if missed"), t.Rule.IfMissed)
		e.say(c.label("stop if"), t.Rule.StopIf)
		e.say(c.label("wait if"), t.Rule.WaitIf)
		c.warn(&e, w.tasks)
		for _, t := range w.tasks {
			for _, note := range t.Notes {
				said := note.String()
				if !every(w.tasks, note) {
					said = c.where(t.Planting) + ": " + said
				}
				e.say("", said)
			}
		}
		e.Key = c.key(seen, w.plant.id, t.Job.Name.Value, t.From)
		out = append(out, e)
	}
	return out
}

// label stands before a paragraph: "Look for: ".
func (c *composer) label(key string) string { return c.Words.Say("label."+key) + ": " }

// say adds a paragraph unless there is nothing to say, or it has been said.
func (e *Event) say(label, text string) {
	if line := sentence(label + text); text != "" && !slices.Contains(e.Lines, line) {
		e.Lines = append(e.Lines, line)
	}
}

// tag adds the beds of tasks.
func (e *Event) tag(ts []*care.Task) {
	for _, t := range ts {
		if b := name(t.Planting.Bed); b != "" && !slices.Contains(e.Tags, b) {
			e.Tags = append(e.Tags, b)
		}
	}
}

// warn adds the cautions of all tasks: one that holds for a single planting
// must not get lost among the others.
func (c *composer) warn(e *Event, ts []*care.Task) {
	for _, t := range ts {
		if care.Professional(t) {
			e.say(c.label("take care"), c.Words.Say("warn.qualified"))
		}
		for _, caution := range t.Cautions {
			e.say(c.label("take care"), caution)
		}
	}
}

// every tells whether all tasks have a note.
func every(ts []*care.Task, note care.Note) bool {
	return !slices.ContainsFunc(ts, func(t *care.Task) bool { return !slices.Contains(t.Notes, note) })
}

// key names an event by what it is about and the year it begins in, never by
// its place among others, so that it stays the same when the rest changes.
func (c *composer) key(seen map[string]int, about, job string, from site.Day) string {
	key := fmt.Sprintf("%s\n%s\n%s\n%d", c.Garden.Name, about, job, from.Year())
	if seen[key]++; seen[key] > 1 {
		key += fmt.Sprintf("\n%d", seen[key])
	}
	return key
}

// monthEvents is one event a month that lists its work.
func (c *composer) monthEvents() []Event {
	var out []Event
	for _, m := range c.listed() {
		lines := c.lines(m)
		if lines == nil {
			continue
		}
		y, month, _ := m.First.Civil()
		e := Event{
			Key: fmt.Sprintf("%s\n%04d-%02d", c.Garden.Name, y, month), From: m.First, To: m.Last,
			Summary: c.Words.Say("event.month", "month", c.Words.Month(month), "time", cmp.Or(m.Minutes.Say(c.Words), c.Words.Say("event.look round"))),
			Section: fmt.Sprintf("months/%04d-%02d", y, month),
		}
		for _, l := range lines {
			e.say("", strings.TrimSpace(sentence(l.Verb+" "+l.Rest+" ("+l.When+")")+" "+l.Warn))
		}
		out = append(out, e)
	}
	return out
}
