package care

import (
	"cmp"
	"slices"

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

// schedule puts every task of a calendar on one garden day, watering apart.
func (in *Input) schedule(c *Calendar) {
	const day = 240.0
	var order []int
	for i := range c.Tasks {
		if t := &c.Tasks[i]; t.Settling || t.Job.Mark == "water" {
			c.Apart = append(c.Apart, i)
		} else {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(c.Tasks[a].To, c.Tasks[b].To) })
	for _, i := range order {
		t := &c.Tasks[i]
		mean := func(m measure.Minutes) float64 { return (m.Low + m.High) / 2 }
		from := max(t.From, in.handover())
		put := false
		for j := range c.Days {
			d := &c.Days[j]
			if lo, hi := max(d.From, from), min(d.To, t.To); lo <= hi && mean(d.Minutes)+mean(t.Minutes) <= day {
				d.From, d.To, put = lo, hi, true
				d.Parts, d.Minutes = append(d.Parts, Part{i, 1, 1, t.Minutes}), d.Minutes.Plus(t.Minutes)
				break
			}
		}
		if !put {
			c.Days = append(c.Days, Day{From: from, To: t.To, Parts: []Part{{i, 1, 1, t.Minutes}}, Minutes: t.Minutes})
		}
	}
	slices.SortStableFunc(c.Days, func(a, b Day) int { return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To)) })
	c.LeastDays = len(c.Days)
}
