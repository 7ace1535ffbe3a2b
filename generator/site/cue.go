package site

import (
	"time"

	"sheaf/generator/words"
)

// Cue is something seen in the garden that starts or ends a job.
type Cue uint8

const (
	ColdestDay Cue = iota
	FirstGreen     // cool-season grasses and perennials move
	WarmGrowth     // warm-season grasses move
	HottestDay
	GrowthEnd
	LeafFall
	LastFrost
	FirstFrost
	Flowering // a matter of the plant, not of the place
)

// numClimateCues counts the cues a place has, all but flowering.
const numClimateCues = int(Flowering)

var cueNames = [...]string{
	ColdestDay: "coldest day",
	FirstGreen: "first green",
	WarmGrowth: "warm growth",
	HottestDay: "hottest day",
	GrowthEnd:  "growth end",
	LeafFall:   "leaf fall",
	LastFrost:  "last frost",
	FirstFrost: "first frost",
	Flowering:  "flowering",
}

// String gives the cue as it is written in a window: "first green".
func (c Cue) String() string { return cueNames[c] }

// Say is the cue in the words of a booklet.
func (c Cue) Say(w *words.Words) string { return w.Say("cue." + cueNames[c]) }

// Cues lists the cues that depend on the place: all but flowering.
func Cues() []Cue {
	return []Cue{ColdestDay, FirstGreen, WarmGrowth, HottestDay, GrowthEnd, LeafFall, LastFrost, FirstFrost}
}

// middle is the northern month around which a cue of one year is looked for:
// the middle month of its season. Which winter a coldest day on 26 December
// belongs to, or which autumn an end of growth on 2 January, follows from it.
func (c Cue) middle() time.Month {
	switch c {
	case ColdestDay:
		return time.January
	case FirstGreen, WarmGrowth, LastFrost:
		return time.April
	case HottestDay:
		return time.July
	default:
		return time.October
	}
}

// seasonMiddle is the middle of a cue's season in growing year g.
func (c Cue) seasonMiddle(h Hemisphere, g int) Day {
	month := c.middle()
	if h == South {
		month = halfYearOn(month)
	}
	return Date(h.civilYear(g, month), month, 15)
}

// A growing year holds one round of seasons, from winter through to autumn. In
// the north it is the civil year; in the south it starts on 1 July of the civil
// year it is named for. All reckoning with "the same year" is done in growing
// years, so that a window is as long, and as empty, in the south as the same
// one is in the north.

// civilYear is the civil year in which a month of growing year g lies.
func (h Hemisphere) civilYear(g int, month time.Month) int {
	if h == South && month < time.July {
		return g + 1
	}
	return g
}

// growingYear is the growing year in which a day lies.
func (h Hemisphere) growingYear(d Day) int {
	year, month, _ := d.Civil()
	if h == South && month < time.July {
		return year - 1
	}
	return year
}

// halfYearOn is the month six months on.
func halfYearOn(m time.Month) time.Month {
	return (m+5)%12 + 1
}
