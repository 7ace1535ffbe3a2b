package site

import (
	"math"
	"slices"
	"time"

	"sheaf/generator/words"
)

// Climate is what a [Site] amounts to: daily temperature curves and the days of
// the cues. It never changes and may be used from many goroutines at once.
type Climate struct {
	hemisphere Hemisphere
	curves     *curves // nil: no normals
	cues       [numClimateCues]cueDay
}

type curves struct{ mean, min, max harmonics }

// cueDay is when a cue comes and how that was found. Leap years have their own
// day, so that "35 days after the coldest day" is 35 days in them too.
type cueDay struct {
	none         bool
	common, leap MonthDay
	basis        words.Phrase
}

func everyYear(md MonthDay, basis words.Phrase) cueDay {
	return cueDay{common: md, leap: md, basis: basis}
}

// in gives the day of the cue that falls in a civil year.
func (c cueDay) in(year int) Day {
	if isLeap(year) {
		return c.leap.in(year)
	}
	return c.common.in(year)
}

// nearest gives, of the days of the cue in all years, the one nearest to d.
func (c cueDay) nearest(d Day) Day {
	best := c.in(d.Year())
	for _, year := range [...]int{d.Year() - 1, d.Year() + 1} {
		if other := c.in(year); distance(other, d) < distance(best, d) {
			best = other
		}
	}
	return best
}

func distance(a, b Day) Day { return max(a-b, b-a) }

// Climate computes the curves and cues of a site.
func (s Site) Climate() *Climate {
	c := &Climate{hemisphere: s.Hemisphere()}
	if s.Normals != nil {
		c.curves = throughNormals(s.Normals)
		c.cues = c.curves.cues()
	} else {
		c.cues = cuesWithoutNormals(s)
	}
	if s.LastFrost != nil {
		c.cues[LastFrost] = everyYear(*s.LastFrost, words.Of("basis.given"))
	}
	if s.FirstFrost != nil {
		c.cues[FirstFrost] = everyYear(*s.FirstFrost, words.Of("basis.given"))
	}
	return c
}

// Cue gives the day of a cue in a year. It is false for a frost a place does
// not have, and for flowering, which is a matter of the plant.
//
// Cues go together by season: those of spring follow the coldest day given for
// the same year, those of autumn the hottest. As a rule all fall in the civil
// year. The exceptions are a coldest day in the last days of December, which
// is given for the year whose spring it precedes (in the south likewise the
// hottest day and autumn), and a northern autumn cue that comes only after New
// Year, which is given for the year whose summer it follows.
func (c *Climate) Cue(cue Cue, year int) (Day, bool) {
	if cue >= Flowering || c.cues[cue].none {
		return 0, false
	}
	growing := year
	if c.hemisphere == South && cue.middle() >= time.July {
		growing-- // a southern civil year holds the summer and autumn of the growing year before
	}
	return c.inGrowingYear(cue, growing), true
}

// inGrowingYear gives the day of a cue in growing year g.
func (c *Climate) inGrowingYear(cue Cue, g int) Day {
	return c.cues[cue].nearest(cue.seasonMiddle(c.hemisphere, g))
}

// Basis says in one clause how a cue was found: "mean temperature rises through
// 5 °C".
func (c *Climate) Basis(cue Cue) words.Phrase {
	if cue >= Flowering {
		return words.Of("basis.plant")
	}
	return c.cues[cue].basis
}

// Mean is the normal mean temperature of a day in °C, half way between [Climate.Min]
// and [Climate.Max]; NaN without normals.
func (c *Climate) Mean(d Day) float64 {
	if c.curves == nil {
		return math.NaN()
	}
	return c.curves.mean.at(d)
}

// Min is the normal minimum of a day in °C; NaN without normals.
func (c *Climate) Min(d Day) float64 {
	if c.curves == nil {
		return math.NaN()
	}
	return c.curves.min.at(d)
}

// Max is the normal maximum of a day in °C; NaN without normals.
func (c *Climate) Max(d Day) float64 {
	if c.curves == nil {
		return math.NaN()
	}
	return c.curves.max.at(d)
}

func throughNormals(n *Normals) *curves {
	var mean [12]float64
	for i := range mean {
		mean[i] = (n.Min[i] + n.Max[i]) / 2
	}
	return &curves{throughMonths(mean), throughMonths(n.Min), throughMonths(n.Max)}
}

// turn says at which mean temperature a cue comes, and how far it keeps from
// the coldest day.
type turn struct {
	threshold float64 // °C
	floor     int     // days from the coldest day
}

// 5 °C and 10 °C are the usual bounds of growing seasons (5 °C: ETCCDI index
// GSL). 8 °C for the fall of leaves and all floors are the project's own: with
// them the cues meet published work calendars, and the times in which the trade
// sees the plants move, leaves come down and growth rest (see the tests).
var (
	firstGreen = turn{5, 35}
	warmGrowth = turn{10, 56}
	growthEnd  = turn{5, 35}
	leafFall   = turn{8, 49}
)

// frostNight is the mean daily minimum in °C at which the median last or first
// frost comes. No formula was found in print; it is the middle of what 14
// stations show (3 to 7 °C). Its error is 7 days on average against NOAA's
// medians, and far worse where frost comes on clear nights of a mild season.
const frostNight = 4.5

// cues finds the cues on the curves, for common and for leap years.
func (c *curves) cues() [numClimateCues]cueDay {
	const common, leap = 2001, 2000 // any such years: only the length counts
	found := c.cuesOf(common)
	for cue, other := range c.cuesOf(leap) {
		found[cue].leap = other.common
	}
	return found
}

// cuesOf finds the cues on the curves as they run through one year, over and
// over. The days are left in the field common.
func (c *curves) cuesOf(year int) [numClimateCues]cueDay {
	mean, night := newLap(&c.mean, year), newLap(&c.min, year)

	var found [numClimateCues]cueDay
	found[ColdestDay] = everyYear(mean.day(0), words.Of("basis.coldest"))
	found[HottestDay] = everyYear(mean.day(mean.peak), words.Of("basis.hottest"))
	found[FirstGreen] = firstGreen.rising(mean)
	found[WarmGrowth] = warmGrowth.rising(mean)
	found[GrowthEnd] = growthEnd.falling(mean)
	found[LeafFall] = leafFall.falling(mean)
	found[LastFrost], found[FirstFrost] = frosts(night)
	return found
}

// rising places a cue of spring: where the mean rises through the threshold for
// the last time before the hottest day, but no nearer to the coldest day than
// the floor.
func (t turn) rising(mean lap) cueDay {
	floor := min(t.floor, mean.peak)
	rise, _ := mean.warm(t.threshold)
	switch {
	case mean.neverAbove(t.threshold):
		return everyYear(mean.day(mean.peak), words.Of("basis.never above", "degrees", t.threshold))
	case mean.neverBelow(t.threshold):
		return everyYear(mean.day(floor), words.Of("basis.floor, never below", "days", floor, "degrees", t.threshold))
	case rise < floor:
		return everyYear(mean.day(floor), words.Of("basis.floor, before", "days", floor, "degrees", t.threshold))
	default:
		return everyYear(mean.day(rise), words.Of("basis.rises", "degrees", t.threshold))
	}
}

// falling places a cue of autumn: where the mean falls through the threshold
// for the first time after the hottest day, but no nearer to the coldest day
// than the floor.
func (t turn) falling(mean lap) cueDay {
	floor := min(t.floor, len(mean.values)-mean.peak)
	last := len(mean.values) - floor
	_, fall := mean.warm(t.threshold)
	switch {
	case mean.neverAbove(t.threshold):
		return everyYear(mean.day(mean.peak), words.Of("basis.never above", "degrees", t.threshold))
	case mean.neverBelow(t.threshold):
		return everyYear(mean.day(last), words.Of("basis.ceiling, never below", "days", floor, "degrees", t.threshold))
	case fall > last:
		return everyYear(mean.day(last), words.Of("basis.ceiling, after", "days", floor, "degrees", t.threshold))
	default:
		return everyYear(mean.day(fall), words.Of("basis.falls", "degrees", t.threshold))
	}
}

// frosts places the last and the first frost on the curve of mean minima.
func frosts(night lap) (last, first cueDay) {
	if night.neverBelow(frostNight) {
		none := cueDay{none: true, basis: words.Of("basis.no frost", "degrees", frostNight)}
		return none, none
	}
	if night.neverAbove(frostNight) {
		always := everyYear(night.day(night.peak), words.Of("basis.always frost"))
		return always, always
	}
	rise, fall := night.warm(frostNight)
	return everyYear(night.day(rise), words.Of("basis.minimum rises", "degrees", frostNight)),
		everyYear(night.day(fall), words.Of("basis.minimum falls", "degrees", frostNight))
}

// lap is one turn of a yearly curve, day by day from its lowest day to the eve
// of the next. Days are told as their distance from the lowest.
type lap struct {
	values []float64 // °C; the first is the lowest
	lowest Day       // in the year the curve was drawn for
	peak   int       // the warmest day
}

func newLap(curve *harmonics, year int) lap {
	values := curve.days(year)
	low := 0
	for i, v := range values {
		if v < values[low] {
			low = i
		}
	}
	l := lap{
		values: slices.Concat(values[low:], values[:low]),
		lowest: Date(year, time.January, 1) + Day(low),
	}
	for i, v := range l.values {
		if v > l.values[l.peak] {
			l.peak = i
		}
	}
	return l
}

func (l lap) neverBelow(threshold float64) bool { return l.values[0] > threshold }
func (l lap) neverAbove(threshold float64) bool { return l.values[l.peak] <= threshold }

// warm gives the first day of the run of days above a threshold around the
// warmest day, and the first day below it after that run. A day just at the
// threshold neither starts nor ends the run, as in the ETCCDI rule.
func (l lap) warm(threshold float64) (rise, fall int) {
	rise, fall = l.peak, l.peak
	for rise > 0 && l.values[rise-1] > threshold {
		rise--
	}
	for fall < len(l.values) && l.values[fall] >= threshold {
		fall++
	}
	return rise, fall
}

// day gives the date of the day so many days after the lowest.
func (l lap) day(after int) MonthDay {
	d := l.lowest + Day(after)
	if year := l.lowest.Year(); d.Year() > year {
		d -= Day(len(l.values)) // the curve runs on into the same year's January
	}
	return d.monthDay()
}
