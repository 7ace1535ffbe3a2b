package site

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"sheaf/generator/words"
)

// Context is what a window is resolved against.
type Context struct {
	// Climate is the garden's; it must not be nil.
	Climate *Climate
	// WrittenFor is the hemisphere the phrase was written for. If the garden is
	// in the other one, months and dates are taken six months on. Seasons and
	// cues are the garden's own: winter in the south is June to August.
	WrittenFor Hemisphere
	// Flowering is when the plant flowers, written for the same hemisphere.
	// Without it spans that use flowering come to nothing.
	Flowering Window
}

// Interval is a window's span in a certain year, from its first day to its last,
// both included.
type Interval struct {
	From, To Day
	// Mended is set where the span would end before it starts. What is given
	// then is the later half of what is left of the season: of the days from the
	// start to the end of the meteorological season it lies in.
	Mended bool

	r resolver
	s span
	o occurrence
}

// Why tells how the days came about: "6 weeks before warm growth (30 April
// 2027: mean temperature rises through 10 °C) to warm growth". It is for who
// checks the dates and no part of a booklet, so the words are the program's.
func (i Interval) Why(english *words.Words) string { return i.r.why(english, i.s, i.o) }

// longest is how long a span that uses a cue may be, in days, if its end comes
// only in the next growing year. A longer one has missed its end: "first green
// to last frost" where the last frost comes before first green.
const longest = 240

// Resolve gives the intervals of a window that start in a civil year, in the
// order of their days: one for each span, and for each time the plant flowers
// if the span uses flowering.
//
// An end is the first one on or after the start. So windows wrap the new year:
// "October to February" for 2027 ends in February 2028. A span that uses a cue
// is empty, and mended, if that end lies in the next growing year (in the
// north: civil year) and would make it longer than 240 days. For a frost that
// the place does not have, first green stands in for the last one and growth
// end for the first.
func (x Context) Resolve(w Window, year int) []Interval {
	var found []Interval
	for _, s := range w.spans {
		for _, r := range x.resolvers(s) {
			// A span may start three years after its growing year (half a year
			// after a flowering that lasts into the year after that, in the south
			// where growing years end later anyway), or one before it.
			for g := year - 3; g <= year+1; g++ {
				if o := r.occurrence(s, g); o.from.Year() == year {
					found = append(found, Interval{o.from, o.to, o.mended, r, s, o})
				}
			}
		}
	}
	slices.SortStableFunc(found, func(a, b Interval) int {
		return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To))
	})
	return found
}

// resolver places the points of a span in growing years.
type resolver struct {
	climate *Climate
	shifted bool // months are taken six months on
	bloom   span // one time of flowering; zero in spans that do not use it
}

// resolvers gives one resolver for each way to resolve a span: one, or one for
// each time of flowering.
func (x Context) resolvers(s span) []resolver {
	plain := resolver{climate: x.Climate, shifted: x.WrittenFor != x.Climate.hemisphere}
	if !s.uses(Flowering) {
		return []resolver{plain}
	}
	var each []resolver
	for _, bloom := range x.Flowering.spans {
		if bloom.uses(Flowering) {
			continue // says nothing
		}
		r := plain
		r.bloom = bloom
		each = append(each, r)
	}
	return each
}

// occurrence is a span in a certain year.
type occurrence struct {
	from, to       Day
	mended         bool
	started, ended int // growing years in which the two points were taken
}

// occurrence places a span whose start is taken in growing year g.
func (r resolver) occurrence(s span, g int) occurrence {
	from, _ := r.point(s.from, g)
	ended := g - 1
	_, to := r.point(s.to, ended)
	for to < from {
		ended++
		_, to = r.point(s.to, ended)
	}
	o := occurrence{from: from, to: to, started: g, ended: ended}

	year := g
	if s.from.uses(Flowering) {
		year = r.climate.hemisphere.growingYear(from) // flowering may be over only in the next one
	}
	if s.usesCues() && ended > year && to-from+1 > longest {
		o.mended = true
		o.from, o.to = laterHalfOfSeason(from)
	}
	return o
}

// laterHalfOfSeason gives the later half of the days from d to the end of its
// season, rounded up.
func laterHalfOfSeason(d Day) (from, to Day) {
	year, month, _ := d.Civil()
	monthsLeft := 2 - month%3 // seasons start in December, March, June, September
	to = Date(year, month+monthsLeft+1, 1) - 1
	return d + (to-d+1)/2, to
}

// point gives the first and last day of a point in growing year g. Those of a
// period across the new year are each placed by their own month: which of the
// two comes first is for the span to see to.
func (r resolver) point(p point, g int) (first, last Day) {
	if p.kind != relation {
		return r.monthDay(p, p.firstDay(), g), r.monthDay(p, p.lastDay(), g)
	}
	first, last = r.cue(p.cue, g)
	switch {
	case p.place == beforeCue && p.n == 0:
		return first - unnumbered, first - 1
	case p.place == afterCue && p.n == 0:
		return last + 1, last + unnumbered
	case p.place == beforeCue:
		d := p.away(first, -p.n)
		return d, d
	case p.place == afterCue:
		d := p.away(last, p.n)
		return d, d
	default:
		return first, last
	}
}

// away moves a day by n of the point's units.
func (p point) away(d Day, n int) Day {
	switch p.unit {
	case weeks:
		return d + Day(7*n)
	case months:
		return d.addMonths(n)
	default:
		return d + Day(n)
	}
}

// monthDay places a day of a point, as it is written, in growing year g.
func (r resolver) monthDay(p point, written MonthDay, g int) Day {
	md := r.here(p, written)
	return md.in(r.climate.hemisphere.civilYear(g, md.Month))
}

// here moves a day of a point, as it is written, to the hemisphere of the
// garden. A season is the garden's own, whatever it was written for.
func (r resolver) here(p point, written MonthDay) MonthDay {
	south := r.climate.hemisphere == South
	if p.isSeason() && south || !p.isSeason() && r.shifted {
		written.Month = halfYearOn(written.Month)
	}
	return written
}

// cue gives the first and last day of a cue in growing year g. They differ for
// flowering only.
func (r resolver) cue(cue Cue, g int) (first, last Day) {
	if cue == Flowering {
		o := r.occurrence(r.bloom, g)
		return o.from, o.to
	}
	d := r.climate.inGrowingYear(r.climate.standIn(cue), g)
	return d, d
}

// standIn is the cue to use for one that a place may not have.
func (c *Climate) standIn(cue Cue) Cue {
	switch {
	case !c.cues[cue].none:
		return cue
	case cue == LastFrost:
		return FirstGreen
	default:
		return GrowthEnd
	}
}

// why explains how an occurrence came about.
func (r resolver) why(english *words.Words, s span, o occurrence) string {
	var b strings.Builder
	b.WriteString(r.explain(english, s.from, o.started))
	if s.from != s.to {
		b.WriteString(" to ")
		if s.from.kind == relation && s.from.cue == s.to.cue && s.to.kind == relation && o.started == o.ended {
			b.WriteString(s.to.String()) // its day has just been told
		} else {
			b.WriteString(r.explain(english, s.to, o.ended))
		}
	}
	if o.mended {
		b.WriteString("; this would end before it starts here, so it is the later half of what is left of the season")
	}
	return b.String()
}

// explain prints a point with the day of its cue and how that was found, or
// with the months it stands for if it was shifted.
func (r resolver) explain(english *words.Words, p point, g int) string {
	if p.kind != relation {
		switch {
		case p.isSeason() && r.climate.hemisphere == South:
			return fmt.Sprintf("%s (%s here)", p, r.monthsHere(p))
		case !p.isSeason() && r.shifted:
			return fmt.Sprintf("%s (%s here, six months on)", p, r.monthsHere(p))
		default:
			return p.String()
		}
	}
	if p.cue == Flowering {
		first, last := r.cue(Flowering, g)
		return fmt.Sprintf("%s (%s to %s)", p, first.inWords(), last.inWords())
	}
	day, _ := r.cue(p.cue, g)
	used := r.climate.standIn(p.cue)
	if used != p.cue {
		return fmt.Sprintf("%s (%s; %s stands in for it, %s: %s)",
			p, r.climate.Basis(p.cue).In(english), used, day.inWords(), r.climate.Basis(used).In(english))
	}
	return fmt.Sprintf("%s (%s: %s)", p, day.inWords(), r.climate.Basis(used).In(english))
}

// monthsHere tells a period or date in the months of the garden: "September",
// "June to August", "late February", "15 September".
func (r resolver) monthsHere(p point) string {
	first, last := r.here(p, p.firstDay()), r.here(p, p.lastDay())
	switch {
	case p.kind == date:
		return first.String()
	case first.Month != last.Month:
		return fmt.Sprintf("%s to %s", first.Month, last.Month)
	case !p.isSeason() && p.part != whole:
		return fmt.Sprintf("%s %s", partNames[p.part], first.Month)
	default:
		return first.Month.String()
	}
}
