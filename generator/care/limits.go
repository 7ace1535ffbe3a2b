package care

import (
	"fmt"
	"slices"

	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/site"
	"sheaf/generator/source"
)

// What a garden's winter does to its rules: some need frost, some must be done
// long enough before it, most wait for open ground.

// frosty tells whether the garden has a first and a last frost.
func (in *Input) frosty() bool {
	_, first := in.Climate.Cue(site.FirstFrost, in.First.Year())
	_, last := in.Climate.Cue(site.LastFrost, in.First.Year())
	return first || last
}

// lacks says what a rule needs that the garden has not, to the designer; "" if
// nothing.
func (in *Input) lacks(r entries.Rule) string {
	switch frost := in.frosty(); {
	case r.Needs == entries.Frost && !frost:
		return "it needs frost, and the mean minima here never fall as low as on the days of the first and the last frost"
	case r.Needs == entries.NoFrost && frost:
		return "it is for places without frost"
	}
	return ""
}

// DoneHere tells whether the place has what a rule needs.
func (in *Input) DoneHere(r entries.Rule) bool { return in.lacks(r) == "" }

// cold tells whether an average winter's lowest night is that of a cold garden: as
// the garden says, else as its normals let it be estimated.
func (in *Input) cold() bool {
	switch n := in.Garden.Place.Normals; {
	case in.Garden.ColdestNight != nil:
		return float64(*in.Garden.ColdestNight) <= coldNight
	case n != nil:
		return n.ColdestNight() <= coldNight
	}
	return false
}

// warmed is a rule without the times it forbids by a frost that the garden does
// not have.
func (in *Input) warmed(r entries.Rule) entries.Rule {
	byFrost := func(n source.At[site.Window]) bool {
		return n.Value.Uses(site.FirstFrost) || n.Value.Uses(site.LastFrost)
	}
	if slices.ContainsFunc(r.Never, byFrost) && !in.frosty() {
		r.Never = slices.DeleteFunc(slices.Clone(r.Never), byFrost)
	}
	return r
}

// spared is a window without the days on which its own rule forbids the job: the
// longest run that is left, and the first if there are several. A window of which
// nothing is left is false.
func spared(x site.Context, r entries.Rule, w site.Interval) (site.Interval, bool) {
	left := []site.Interval{w}
	for _, n := range r.Never {
		for year := w.From.Year() - 1; year <= w.To.Year(); year++ {
			for _, out := range x.Resolve(n.Value, year) {
				left = without(left, out)
			}
		}
	}
	if some, ok := longest(left); ok {
		return some, true
	}
	return w, false
}

// longest is the interval with most days, the first if there are several; false
// for none.
func longest(all []site.Interval) (site.Interval, bool) {
	if len(all) == 0 {
		return site.Interval{}, false
	}
	return slices.MaxFunc(all, func(a, b site.Interval) int { return days(a) - days(b) }), true
}

// days is how many days an interval has.
func days(w site.Interval) int { return int(w.To-w.From) + 1 }

// without cuts the days of one interval from others.
func without(all []site.Interval, out site.Interval) []site.Interval {
	var left []site.Interval
	for _, w := range all {
		if out.To < w.From || w.To < out.From {
			left = append(left, w)
			continue
		}
		before, after := w, w
		if before.To = out.From - 1; before.From <= before.To {
			left = append(left, before)
		}
		if after.From = out.To + 1; after.From <= after.To {
			left = append(left, after)
		}
	}
	return left
}

// openDays counts the days on which a job can be done: all of them, or for one
// that needs open ground those whose normal maximum is not below freezing.
func (in *Input) openDays(job *entries.Job, from, to site.Day) site.Day {
	if job.Ground != entries.OpenGround {
		return to - from + 1
	}
	n := site.Day(0)
	for d := from; d <= to; d++ {
		if !(in.Climate.Max(d) < 0) { // without normals nothing is known of it
			n++
		}
	}
	return n
}

// frozen warns of work that needs open ground and falls wholly into days whose
// normal maximum is below freezing.
func (in *Input) frozen(c *Calendar) source.Diagnostics {
	var ds source.Diagnostics
	for i := range c.Tasks {
		t := &c.Tasks[i]
		if in.openDays(t.Job, t.From, t.To) <= 0 && t.From <= t.To {
			ds.Add(source.Warning, "care/frozen-ground", t.Rule.When.Span,
				fmt.Sprintf("%s: all days from %s to %s are below freezing at the garden, and the job needs open ground", t.Job.For(in.English, t.Planting.Label()), t.From, t.To),
				"give another window under adjust, or in the garden's own entry")
		}
	}
	return ds
}

// leftOut lists the rules of a garden's plants that its climate leaves out.
func (in *Input) leftOut() []string {
	out := []string{}
	for i := range in.Plantings {
		p := &in.Plantings[i]
		if p.Entry == nil {
			continue
		}
		for _, r := range p.Entry.Rules {
			why := in.lacks(r)
			switch {
			case r.Needs == entries.NoFrost:
				continue // what is done elsewhere instead is no gap here
			case why == "" && in.barred(p, r):
				why = "all its days are among those on which the rule itself forbids it"
			}
			if why != "" {
				out = append(out, fmt.Sprintf("%s%s, %s: %s", rowOf(p), p.Label(), r.Job.Value, why))
			}
		}
	}
	return out
}

// barred tells whether a rule has windows in the calendar's first year and may be
// done in none of them.
func (in *Input) barred(p *garden.Planting, r entries.Rule) bool {
	if len(r.Never) == 0 {
		return false
	}
	seen := false
	for w := range in.datings(p, r, in.First.Year(), in.First.Year()+1) {
		if !w.barred {
			return false
		}
		seen = true
	}
	return seen
}
