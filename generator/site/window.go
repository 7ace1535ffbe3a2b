package site

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"sheaf/generator/words"
)

// Window is when a job may be done, as it was written: one or more spans of the
// year, told by months, dates and cues. The zero Window is none. [ParseWindow]
// makes one, [Context.Resolve] gives its days.
//
//	when     = span { " or " span }
//	span     = point [ " to " point ]
//	point    = period | relation | day month
//	period   = [early|mid|late] (month | season)
//	relation = [ [ n (days|weeks|months) ] (before|after) ] cue
//
// A point is a day or a stretch of days. As the start of a span a stretch means
// its first day, as the end its last, alone the whole of it; all days count,
// the first and the last included. These are single days: a date, a cue, and a
// number of days, weeks or months before or after one. These are stretches:
//
//   - a period; the thirds of a season are its months, the thirds of a month
//     start on the 1st, 11th and 21st
//   - flowering
//   - "before" without a number: the four weeks up to the day before the cue
//   - "after" without a number: the four weeks from the day after the cue
//
// Before flowering is before its first day, after flowering after its last.
type Window struct{ spans []span }

// span runs from the first day of one point to the last of another. Alone, a
// point is both.
type span struct{ from, to point }

// unnumbered is how long "before" and "after" are that come without a number, in days.
const unnumbered = 28

type pointKind uint8

const (
	period   pointKind = iota // part, and month or season
	date                      // day and month
	relation                  // place and cue; with beforeCue and afterCue also n (0: none) and unit
)

type point struct {
	kind   pointKind
	part   part
	month  time.Month // 0 in a season
	season season
	day    int
	place  place
	n      int
	unit   unit
	cue    Cue
}

type part uint8

const (
	whole part = iota
	early
	mid
	late
)

var partNames = [...]string{early: "early", mid: "mid", late: "late"}

type season uint8

const (
	winter season = iota
	spring
	summer
	autumn
)

var seasonNames = [...]string{winter: "winter", spring: "spring", summer: "summer", autumn: "autumn"}

// first is the first month of the season in the north; seasons are
// meteorological, three whole months each.
func (s season) first() time.Month {
	return [...]time.Month{winter: time.December, spring: time.March, summer: time.June, autumn: time.September}[s]
}

type place uint8

const (
	atCue place = iota
	beforeCue
	afterCue
)

var placeNames = [...]string{beforeCue: "before", afterCue: "after"}

type unit uint8

const (
	days unit = iota
	weeks
	months
)

var unitNames = [...]string{days: "day", weeks: "week", months: "month"}

// most is the largest number of a unit before or after a cue: half a year.
// Beyond that the day is nearer to the cue's next turn.
func (u unit) most() int {
	return [...]int{days: 183, weeks: 26, months: 6}[u]
}

// IsZero tells whether there is no window.
func (w Window) IsZero() bool { return len(w.spans) == 0 }

// UsesCues tells whether any part of the window waits for a cue, flowering included.
func (w Window) UsesCues() bool {
	return slices.ContainsFunc(w.spans, span.usesCues)
}

// Uses tells whether any part of the window waits for the cue.
func (w Window) Uses(c Cue) bool {
	return slices.ContainsFunc(w.spans, func(s span) bool { return s.uses(c) })
}

// WaitsFor tells whether any part of the window begins with a cue or after it.
func (w Window) WaitsFor(c Cue) bool {
	return slices.ContainsFunc(w.spans, func(s span) bool { return s.from.uses(c) && s.from.place != beforeCue })
}

func (s span) usesCues() bool   { return s.from.kind == relation || s.to.kind == relation }
func (s span) uses(c Cue) bool  { return s.from.uses(c) || s.to.uses(c) }
func (p point) uses(c Cue) bool { return p.kind == relation && p.cue == c }

// String gives the phrase in its usual spelling, from which [ParseWindow] makes
// the same window again.
func (w Window) String() string {
	phrases := make([]string, len(w.spans))
	for i, s := range w.spans {
		phrases[i] = s.String()
	}
	return strings.Join(phrases, " or ")
}

func (s span) String() string {
	if s.from == s.to {
		return s.from.String()
	}
	return s.from.String() + " to " + s.to.String()
}

func (p point) String() string {
	switch p.kind {
	case date:
		return fmt.Sprintf("%d %s", p.day, p.month)
	case relation:
		return p.lead() + p.cue.String()
	}
	name := seasonNames[p.season]
	if !p.isSeason() {
		name = p.month.String()
	}
	if p.part != whole {
		name = partNames[p.part] + " " + name
	}
	return name
}

// Say is the window in the words of a booklet. Months and seasons are those it
// was written with.
func (w Window) Say(in *words.Words) string {
	said := ""
	for i, s := range w.spans {
		if i == 0 {
			said = s.say(in)
		} else {
			said = in.Or([]string{said, s.say(in)})
		}
	}
	return said
}

func (s span) say(in *words.Words) string {
	if s.from == s.to {
		return s.from.say(in)
	}
	return in.To(s.from.say(in), s.to.say(in))
}

func (p point) say(in *words.Words) string {
	switch {
	case p.kind == date:
		return in.Day(p.month, p.day)
	case p.kind == relation && p.place == atCue:
		return p.cue.Say(in)
	case p.kind == relation && p.n == 0:
		return in.Say("window."+placeNames[p.place], "cue", p.cue.Say(in))
	case p.kind == relation:
		return in.Say("window.time "+placeNames[p.place], "time", in.Say("window."+unitNames[p.unit]+"s", "n", p.n), "cue", p.cue.Say(in))
	case p.isSeason():
		return in.Say("season." + strings.TrimSpace(partNames[p.part]+" "+seasonNames[p.season]))
	case p.part != whole:
		return in.Say("window."+partNames[p.part], "month", in.Month(p.month))
	}
	return in.Month(p.month)
}

// lead is what stands before the cue: "6 weeks before ".
func (p point) lead() string {
	switch {
	case p.place == atCue:
		return ""
	case p.n == 0:
		return placeNames[p.place] + " "
	case p.n == 1:
		return fmt.Sprintf("1 %s %s ", unitNames[p.unit], placeNames[p.place])
	default:
		return fmt.Sprintf("%d %ss %s ", p.n, unitNames[p.unit], placeNames[p.place])
	}
}

func (p point) isSeason() bool { return p.kind == period && p.month == 0 }

// firstDay is the first day of a period or date, as written; that of a season
// as in the north.
func (p point) firstDay() MonthDay {
	switch {
	case p.kind == date:
		return MonthDay{p.month, p.day}
	case p.isSeason() && p.part == whole:
		return MonthDay{p.season.first(), 1}
	case p.isSeason():
		return MonthDay{p.thirdOfSeason(), 1}
	case p.part == whole:
		return MonthDay{p.month, 1}
	default:
		return MonthDay{p.month, 1 + 10*int(p.part-early)}
	}
}

// lastDay is the last day of a period or date, as written; that of a season as
// in the north. 31 stands for the end of any month.
func (p point) lastDay() MonthDay {
	switch {
	case p.kind == date:
		return MonthDay{p.month, p.day}
	case p.isSeason() && p.part == whole:
		return MonthDay{(p.season.first()+1)%12 + 1, 31}
	case p.isSeason():
		return MonthDay{p.thirdOfSeason(), 31}
	case p.part == whole || p.part == late:
		return MonthDay{p.month, 31}
	default:
		return MonthDay{p.month, 10 * int(p.part-early+1)}
	}
}

func (p point) thirdOfSeason() time.Month {
	return (p.season.first()+time.Month(p.part-early)-1)%12 + 1
}
