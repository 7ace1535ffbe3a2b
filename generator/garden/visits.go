package garden

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"sheaf/generator/fields"
)

// How long garden days are, and on which days of the week they fall.

// Usual lengths of a garden day in hours: what an owner does on a free morning or
// afternoon with a rest in between, and a gardener's working day. Common practice,
// no source.
const (
	ownerDay    = 4
	gardenerDay = 7
)

// hoursForm is how the length of a day is written, from half an hour to twelve.
const hoursForm = `^([1-9]|1[0-2]|0[.,]5|[1-9][.,]5|1[01][.,]5) ?(h|hours?)$`

// visits reads how long a garden day is and when it can be.
func (g *Garden) visits(m *fields.Map) {
	g.Day = ownerDay * 60
	if g.Skill == Gardener {
		g.Day = gardenerDay * 60
	}
	if t, ok := m.Text("day"); ok {
		if at := regexp.MustCompile(hoursForm).FindStringSubmatch(t.Value); at != nil {
			hours, _ := strconv.ParseFloat(strings.Replace(at[1], ",", ".", 1), 64) // the form lets only numbers through
			g.Day = hours * 60
		} else {
			m.Fail(t.Span, "day", fmt.Sprintf("%q is no length of a garden day", t.Value), "write for example day: 4 hours; half hours too, from 0.5 to 12")
		}
	}
	for _, t := range m.Choices("weekdays", weekdays()) {
		// In full and short in turn, from Monday on.
		d := time.Weekday(slices.Index(weekdays(), t.Value)/2+1) % 7
		if !slices.Contains(g.Weekdays, d) {
			g.Weekdays = append(g.Weekdays, d)
		}
	}
}

// weekdays are the days of the week in English, each in full and short.
func weekdays() []string {
	var out []string
	for d := range time.Weekday(7) {
		day := (d + time.Monday) % 7
		out = append(out, day.String(), day.String()[:3])
	}
	return out
}
