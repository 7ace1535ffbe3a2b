package site

import (
	"regexp"
	"slices"
	"strings"
	"time"
)

// Turned is the window as it is said on the other half of the world: months and
// dates half a year away. Seasons and cues are the same words in both.
func (w Window) Turned() Window {
	turned := func(p point) point {
		if p.month != 0 {
			p.month = halfYearOn(p.month)
			p.day = min(p.day, daysIn(2028, p.month)) // a leap year
		}
		return p
	}
	out := Window{slices.Clone(w.spans)}
	for i, s := range out.spans {
		out.spans[i] = span{turned(s.from), turned(s.to)}
	}
	return out
}

var monthName = regexp.MustCompile(`\b(?:January|February|March|April|May|June|July|August|September|October|November|December)\b`)

// TurnMonths moves the months that a text names by half a year, as advice of
// one hemisphere reads in the other: "in late June" becomes "in late December".
// Seasons are the same words in both and stay. "May be", the verb, is no month.
func TurnMonths(text string) string {
	var out strings.Builder
	at := 0
	for _, m := range monthName.FindAllStringIndex(text, -1) {
		name := text[m[0]:m[1]]
		if name == "May" && strings.HasPrefix(text[m[1]:], " be ") {
			continue
		}
		for month := time.January; month <= time.December; month++ {
			if month.String() == name {
				out.WriteString(text[at:m[0]])
				out.WriteString(halfYearOn(month).String())
				at = m[1]
			}
		}
	}
	out.WriteString(text[at:])
	return out.String()
}
