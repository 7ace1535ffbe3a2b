package care

import (
	"fmt"
	"slices"

	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/site"
	"sheaf/generator/source"
)

// Closed seasons: what a law forbids for a time is never dated in it.

// Bounds of what a window becomes that a closed season takes. Common practice, no
// source: a week is the least in which an owner finds a fit day; work that would
// move by more than six weeks is other work.
const (
	leastOpen    = 7  // days a window keeps at least; below it the work is moved
	mostMoved    = 28 // days a moved window has at most
	farthestMove = 42 // days between the window that was meant and where it goes
)

// part is the part of the country the garden lies in; nil when it does not say.
func (in *Input) part() *entries.Part {
	if in.Region == nil {
		return nil
	}
	return in.Region.Part(in.Garden.Part.Value)
}

// Seasons are the closed seasons of the garden's place, gardens exempt or not. A
// garden that does not say in which part of its country it lies keeps to those of
// every part.
func (in *Input) Seasons() []*entries.Closed {
	if in.Region == nil {
		return nil
	}
	var out []*entries.Closed
	part := in.part()
	for i := range in.Region.Closed {
		c := &in.Region.Closed[i]
		if c.In == nil || part == nil || slices.Contains(c.In, part.Code) {
			out = append(out, c)
		}
	}
	return out
}

// closedOn gives the closed seasons that forbid some work on a planting here.
func (in *Input) closedOn(p *garden.Planting) []*entries.Closed {
	if in.Region == nil || in.Region.Closed == nil {
		return nil
	}
	return slices.DeleteFunc(in.Seasons(), func(c *entries.Closed) bool { return c.Exempt != "" || !c.On(p.Entry) })
}

// ClosedTo gives the closed seasons that forbid a rule of a planting here.
func (in *Input) ClosedTo(p *garden.Planting, r *entries.Rule) []*entries.Closed {
	out := in.closedOn(p)
	if len(out) == 0 {
		return nil
	}
	job := in.Library.Job(r.Job.Value)
	return slices.DeleteFunc(out, func(c *entries.Closed) bool { return job == nil || !c.Means(p.Entry, r, job) })
}

// around gives the days of a closed season in the years around an interval.
func around(c *entries.Closed, w site.Interval) []site.Interval {
	var out []site.Interval
	for year := w.From.Year() - 1; year <= w.To.Year()+1; year++ {
		s := site.Interval{From: site.Date(year, c.From.Month, c.From.Day), To: site.Date(year, c.To.Month, c.To.Day)}
		if s.To < s.From {
			s.To = site.Date(year+1, c.To.Month, c.To.Day)
		}
		out = append(out, s)
	}
	return out
}

// keepLaw holds a dating to the closed seasons: its window is cut to the longest
// part that lies outside them; where less than a week is left it goes to the last
// weeks before, or to the first weeks after, whichever is nearer and keeps clear
// of the rule's never; where neither does, it is refused.
func (in *Input) keepLaw(p *garden.Planting, x site.Context, d *dating) {
	closed := in.ClosedTo(p, &d.rule)
	if len(closed) == 0 {
		return
	}
	d.law = closed[0]
	// What an entry says of a time that was missed knows nothing of the law.
	d.rule.IfMissed = ""
	meant := d.Interval
	open := []site.Interval{meant}
	var shut []site.Interval
	for _, c := range closed {
		for _, s := range around(c, d.Interval) {
			shut = append(shut, s)
			if s.From <= meant.To && s.To >= meant.From {
				d.law = c
			}
			open = without(open, s)
		}
	}
	if len(open) == 1 && open[0].From == meant.From && open[0].To == meant.To {
		return
	}
	best, found := longest(open)
	if !found || days(best) < leastOpen && days(best) < days(meant) {
		moved, ok := in.beside(x, d, meant, shut)
		if !ok {
			d.refused = true
			return
		}
		best = moved
		d.rule.LookFor = "" // is seen at the time that was meant
	}
	d.From, d.To = best.From, best.To
	d.moved = fmt.Sprintf("; moved out of the closed season of %s to %s (%s)", d.law.From, d.law.To, d.law.Law)
}

// beside is the nearest time to a window, before or after the closed days it lies
// in, that keeps clear of all closed days and of what its rule forbids.
func (in *Input) beside(x site.Context, d *dating, meant site.Interval, shut []site.Interval) (site.Interval, bool) {
	long := site.Day(min(max(days(meant), 2*leastOpen), mostMoved))
	var never []site.Interval
	for _, n := range d.rule.Never {
		for year := meant.From.Year() - 1; year <= meant.To.Year()+1; year++ {
			never = append(never, x.Resolve(n.Value, year)...)
		}
	}
	var best site.Interval
	gap, found := site.Day(farthestMove+1), false
	for _, s := range shut {
		if s.From > meant.To || s.To < meant.From {
			continue
		}
		tries := []site.Interval{{From: s.To + 1, To: s.To + long}}
		if !d.rule.When.Value.Uses(site.LastFrost) { // what waits for the end of frost is not done before it
			tries = append(tries, site.Interval{From: s.From - long, To: s.From - 1})
		}
		for _, try := range tries {
			left := []site.Interval{try}
			for _, out := range slices.Concat(shut, never) {
				left = without(left, out)
			}
			got, ok := longest(left)
			if !ok || days(got) < leastOpen {
				continue
			}
			if far := max(meant.From-got.To, got.From-meant.To); far < gap {
				best, gap, found = got, far, true
			}
		}
	}
	return best, found
}

// lawOf names the law of a closed season, and where it holds if it may not be here.
func (in *Input) lawOf(c *entries.Closed) string {
	if c.In == nil || in.part() != nil {
		return c.Law
	}
	var where []string
	for _, code := range c.In {
		where = append(where, in.Region.Part(code).Name)
	}
	return c.Law + "; " + in.Words.And(where)
}

// lawful is the note of a rule that a closed season is about.
func (in *Input) lawful(c *entries.Closed) string {
	return in.Words.Say("care.closed", "law", in.lawOf(c), "from", c.From.Say(in.Words), "to", c.To.Say(in.Words))
}

// refuse tells the designer of work that no lawful time is left for.
func refuse(p *garden.Planting, d *dating, ds *source.Diagnostics) {
	ds.Add(source.Warning, "care/closed-season", d.rule.When.Span,
		fmt.Sprintf("%s: %q falls into a closed season (%s, %s to %s) and has no lawful time near it, so it is not dated", p.Label(), d.rule.Job.Value, d.law.Law, d.law.From, d.law.To),
		"give another window under adjust or in the garden's own entry, or choose another plant")
}

// Bound tells what a closed season makes of a rule of a planting: what to print of
// it, whether its time was moved to where its cue is not seen, and whether it is
// not done here at all. The note is "" where no season is about it.
func (in *Input) Bound(p *garden.Planting, r entries.Rule) (note string, moved, refused bool) {
	if len(in.closedOn(p)) == 0 {
		return "", false, false
	}
	for d := range in.datings(p, r, in.First.Year(), in.First.Year()+1) {
		if d.law == nil {
			continue
		}
		note = in.lawful(d.law)
		if d.refused {
			return in.Words.Say("care.refused", "law", in.lawOf(d.law), "from", d.law.From.Say(in.Words), "to", d.law.To.Say(in.Words)), false, true
		}
		moved = moved || d.moved != "" && d.rule.LookFor == ""
	}
	return note, moved, false
}
