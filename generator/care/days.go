package care

import (
	"fmt"
	"slices"
	"strings"

	visits "sheaf/generator/days"
	"sheaf/generator/garden"
	"sheaf/generator/measure"
	"sheaf/generator/site"
)

// A Day is one visit to the garden: work whose windows meet.
type Day struct {
	From, To site.Day // any day of these will do
	Parts    []Part
	Minutes  measure.Minutes
	// After are the days of the calendar that come first although their windows meet
	// this one's: what is spread or split on it waits for a cut.
	After []int
	// Nearest tells that its work may be done on none of the garden's weekdays; it is
	// then a single day, the nearest.
	Nearest bool
}

// A Part is a task on a garden day, or a part of one that takes longer than a day.
type Part struct {
	Task    int // in Calendar.Tasks
	N, Of   int // the part, from 1, and how many there are
	Minutes measure.Minutes
}

// leastWindow is how many days a garden day may be chosen from, where its tasks
// allow it: a week, so that it holds a weekend.
const leastWindow = 7

// schedule puts every task of a calendar on one garden day, watering apart.
func (in *Input) schedule(c *Calendar) {
	var sets [][]int
	of := map[*garden.Planting][]int{} // the sets of each
	for i := range c.Tasks {
		p := c.Tasks[i].Planting
		if hangsOnWeather(&c.Tasks[i]) {
			c.Apart = append(c.Apart, i)
			continue
		}
		if at := slices.IndexFunc(of[p], func(n int) bool { return in.twins(c, sets[n], i) }); at >= 0 {
			n := of[p][at]
			sets[n] = append(sets[n], i)
			continue
		}
		of[p], sets = append(of[p], len(sets)), append(sets, []int{i})
	}
	plan := visits.Schedule(in.jobsOf(c, sets, of), visits.Limits{Minutes: in.Garden.Day, Least: leastWindow, Weekdays: in.Garden.Weekdays})
	for _, d := range plan.Days {
		out := Day{From: d.From, To: d.To, After: d.After, Nearest: d.Nearest}
		for _, p := range d.Parts {
			for _, i := range sets[p.Task] {
				part := Part{i, p.N, p.Of, c.Tasks[i].Minutes.Times(1 / float64(p.Of))}
				out.Parts, out.Minutes = append(out.Parts, part), out.Minutes.Plus(part.Minutes)
			}
		}
		slices.SortFunc(out.Parts, func(a, b Part) int { return a.Task - b.Task })
		c.Days = append(c.Days, out)
	}
	c.LeastDays = plan.Bound
}

// hangsOnWeather tells a task that no day can be named for: watering.
func hangsOnWeather(t *Task) bool { return t.Settling || t.Job.Mark == "water" }

// twins tells whether a task is done in one visit with some others, if they fit a
// day: two kinds of cut of one planting that have the same window, as a thinning
// with its pruning.
func (in *Input) twins(c *Calendar, set []int, i int) bool {
	t := &c.Tasks[i]
	if t.Job.Family != "cut" {
		return false
	}
	minutes := mean(t.Minutes)
	for _, j := range set {
		o := &c.Tasks[j]
		if o.Planting != t.Planting || o.Job.Family != "cut" || o.From != t.From || o.To != t.To {
			return false
		}
		minutes += mean(o.Minutes)
	}
	return minutes <= in.Garden.Day
}

// mean is what a time counts for in a day's hours.
func mean(m measure.Minutes) float64 { return (m.Low + m.High) / 2 }

// jobsOf puts sets of tasks as they are asked to be scheduled.
func (in *Input) jobsOf(c *Calendar, sets [][]int, of map[*garden.Planting][]int) []visits.Task {
	out := make([]visits.Task, len(sets))
	for n, set := range sets {
		d := &out[n]
		for _, i := range set {
			t := &c.Tasks[i]
			d.From, d.To, d.Bed = in.begins(t), t.To, bedOf(t.Planting)
			d.Minutes += mean(t.Minutes)
			d.Tools = append(d.Tools, ToolsOf(t.Rule, t.Job)...)
		}
		for _, m := range of[c.Tasks[set[0]].Planting] {
			if m != n && slices.ContainsFunc(set, func(i int) bool {
				return slices.ContainsFunc(sets[m], func(j int) bool { return in.follows(&c.Tasks[i], &c.Tasks[j]) })
			}) {
				d.Before = append(d.Before, m)
			}
		}
	}
	return out
}

// begins is the first day on which a task can be done: none is before the handover.
func (in *Input) begins(t *Task) site.Day { return max(t.From, in.handover()) }

// waits is how many days before another a task may begin and still wait for it: as
// for a library's own check, both windows are days to choose from. What begins
// earlier has another cut to follow: a mulch after the winter's pruning does not wait
// for the clip after flowering.
const waits = 7

// follows tells whether a task waits for another, of its own planting, by its job's
// page.
func (in *Input) follows(t, other *Task) bool {
	if t.Planting != other.Planting || other.From > t.From+waits || in.begins(other) > t.To || other.To < in.begins(t) {
		return false
	}
	for _, a := range t.Job.After {
		if a.Value == other.Job.Name.Value {
			return true
		}
	}
	return false
}

// narrowed tells which tasks and days leave a task's garden day less than its own
// window.
func (in *Input) narrowed(c *Calendar, n, task int) string {
	d, t := &c.Days[n], &c.Tasks[task]
	var out []string
	if d.From > in.begins(t) {
		by := ""
		for _, p := range d.Parts {
			if o := &c.Tasks[p.Task]; in.begins(o) == d.From {
				by = in.named(o)
				break
			}
		}
		for _, a := range d.After {
			if by == "" && c.Days[a].From == d.From {
				by = fmt.Sprintf("day %d, which comes first", a+1)
			}
		}
		if by != "" {
			out = append(out, "its first day is that of "+by)
		}
	}
	if d.To < t.To {
		by := ""
		for _, p := range d.Parts {
			if o := &c.Tasks[p.Task]; o.To == d.To {
				by = in.named(o)
				break
			}
		}
		for l := range c.Days {
			if by == "" && c.Days[l].To == d.To && slices.Contains(c.Days[l].After, n) {
				by = fmt.Sprintf("day %d, which comes after it", l+1)
			}
		}
		if by != "" {
			out = append(out, "its last day is that of "+by)
		}
	}
	if d.Nearest {
		out = append(out, "it holds none of the garden's weekdays, and this is the nearest day")
	}
	if out == nil {
		return "its whole window"
	}
	return strings.Join(out, "; ")
}

// named says for the designer which task is meant.
func (in *Input) named(t *Task) string {
	return fmt.Sprintf("%s (%s)", t.Job.For(in.English, t.Planting.Label()), bedName(t.Planting))
}
