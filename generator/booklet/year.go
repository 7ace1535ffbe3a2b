package booklet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"sheaf/generator/care"
	"sheaf/generator/figure"
	"sheaf/generator/garden"
	"sheaf/generator/measure"
	"sheaf/generator/prose"
	"sheaf/generator/site"
)

// years makes a chart for each twelve months.
func (c *composer) years() []Section {
	var out []Section
	all := c.listed()
	for n := range c.Garden.Years {
		months := all[12*n : 12*n+12]
		first, last := months[0].First, months[11].Last
		along := func(d site.Day) float64 { return float64(d-first) / float64(last-first+1) }
		id, title := "year", c.Words.Say("year.title")
		if n > 0 {
			id, title = fmt.Sprintf("year-%d", n+1), c.Words.Say("year.further", "year", n+1)
		}
		y0, m0, _ := first.Civil()
		chart := Chart{Since: monthID(y0, m0)}
		for _, m := range months {
			y, mon, _ := m.First.Civil()
			chart.Months = append(chart.Months, c.Words.MonthInitial(mon))
			chart.Short = append(chart.Short, c.Words.MonthShort(mon))
			chart.Full = append(chart.Full, c.Words.MonthOf(y, mon))
		}
		cues := c.cues(first, last)
		for _, q := range cues {
			chart.Cues = append(chart.Cues, ChartCue{along(q.day), q.cue.Say(c.Words), c.dated(q.day), c.day(q.day)})
		}
		chart.Days = c.chartDays(first, last)
		chart.Groups = c.chartGroups(first, last)
		if !c.inGuide() {
			for _, m := range months {
				chart.Hours = append(chart.Hours, figure.Load{Low: m.Minutes.Low / 60, High: m.Minutes.High / 60, Label: c.Words.MonthShort(m.First.Month())})
			}
		}
		s := Section{ID: id, Kind: Year, Title: prose.Plain(title), Part: c.Words.Say("part.year"), Blocks: []Block{chart}}
		if c.inGuide() {
			out = append(out, s)
			continue
		}
		s.Blocks = append(s.Blocks,
			Heading{prose.Plain(c.Words.Say("year.hours"))},
			Figure{Picture: figure.Workload(chart.Hours, c.pal, figure.Frame{W: 120, H: 34}),
				Caption: c.whose()},
			c.byBed(months, n),
			Heading{prose.Plain(c.Words.Say("year.cues"))},
			Text{Runs: prose.Plain(c.basis())}, c.cueFacts(cues))
		out = append(out, s)
	}
	return out
}

// chartGroups are the rows of a year: by bed, in a guide by type.
func (c *composer) chartGroups(first, last site.Day) []ChartGroup {
	along := func(d site.Day) float64 { return float64(d-first) / float64(last-first+1) }
	row := func(q *plant, p *garden.Planting) ChartRow {
		r := ChartRow{Plant: q.id, Name: q.common}
		if q.common != q.name.String() {
			short := q.name.Abbreviated()
			r.Latin = [][]prose.Run{q.runs, botanical(short), botanical(short.OfSpecies())}
		}
		for _, i := range q.tasks {
			t := &c.Calendar.Tasks[i]
			if t.Planting == p && !t.Settling && t.From <= last && t.To >= first {
				r.Bars = append(r.Bars, ChartBar{max(along(t.From), 0), min(along(t.To+1), 1), t.Job.Mark, t.Job.Family,
					t.Job.Verb(c.Words) + ", " + c.span(t.From, t.To)})
			}
		}
		return r
	}
	var out []ChartGroup
	if c.inGuide() {
		for _, p := range c.byType() {
			g := ChartGroup{Bed: p.name}
			for _, q := range p.plants {
				g.Rows = append(g.Rows, row(q, q.plantings[0]))
			}
			out = append(out, g)
		}
		return out
	}
	for _, bed := range append(slices.Clone(c.Garden.Beds), garden.Bed{}) {
		g := ChartGroup{Bed: bed.Name}
		for _, q := range c.plants {
			for _, p := range q.plantings {
				if name(p.Bed) == bed.Name {
					g.Rows = append(g.Rows, row(q, p))
				}
			}
		}
		if g.Rows != nil {
			out = append(out, g)
		}
	}
	return out
}

// chartDays are the garden days whose windows meet a year.
func (c *composer) chartDays(first, last site.Day) []ChartDay {
	if !c.byDays() {
		return nil
	}
	along := func(d site.Day) float64 { return float64(d-first) / float64(last-first+1) }
	var out []ChartDay
	for i := range c.Calendar.Days {
		d := &c.Calendar.Days[i]
		if d.To < first || d.From > last {
			continue
		}
		var jobs []string
		for _, j := range c.jobsOf(d) {
			jobs = append(jobs, j.Called(c.Words))
		}
		hours := d.Minutes.Say(c.Words)
		label := c.Words.Say("chart.day", "day", c.dayName(i), "window", c.fullSpan(d.From, d.To))
		if hours != "" {
			label = c.Words.Say("chart.day of hours", "day", c.dayName(i), "window", c.fullSpan(d.From, d.To), "time", hours)
		}
		out = append(out, ChartDay{
			Number: i + 1, From: max(along(d.From), 0), To: min(along(d.To+1), 1), ID: dayID(i + 1), Label: label,
			Window: c.shortSpan(d.From, d.To), Hours: d.Minutes.Short(c.Words), Jobs: strings.Join(jobs, c.Words.Say("list.between")+" "),
		})
	}
	return out
}

// shortSpan is a window for a list: "12 Mar to 4 Apr".
func (c *composer) shortSpan(from, to site.Day) string {
	short := func(d site.Day) string {
		_, m, n := d.Civil()
		return c.Words.Say("date.day", "day", n, "month", c.Words.MonthShort(m))
	}
	_, m, first := from.Civil()
	_, _, last := to.Civil()
	switch {
	case from == to:
		return short(from)
	case m == to.Month() && to-from < 31:
		return c.Words.Say("date.within", "first", first, "last", last, "month", c.Words.MonthShort(m))
	}
	return c.Words.To(short(from), short(to))
}

// whose says what the hours mean.
func (c *composer) whose() string {
	said := c.Words.Say("year.estimates of a gardener")
	if c.Garden.Skill == garden.Owner {
		said = c.Words.Say("year.estimates of an owner")
	}
	if c.byDays() {
		return said + " " + c.Words.Say("year.counted by days")
	}
	return said + " " + c.Words.Say("year.counted by months")
}

// byBed is the year's work in one sentence and by bed; the beds are reckoned
// for the first twelve months only.
func (c *composer) byBed(months []care.Month, year int) Facts {
	var sum measure.Minutes
	peak := 0
	for i, m := range months {
		sum = sum.Plus(m.Minutes)
		if m.Minutes.High > months[peak].Minutes.High {
			peak = i
		}
	}
	_, month, _ := months[peak].First.Civil()
	var rows []Fact
	if all := sum.Say(c.Words); all != "" {
		rows = append(rows, Fact{c.Words.Say("year.in all"), prose.Plain(c.Words.Say("year.most", "all", all, "month", c.Words.Month(month), "time", months[peak].Minutes.Say(c.Words)))})
	}
	if year == 0 {
		for _, l := range c.Loads(c.Calendar) {
			if l.Bed != "" {
				rows = append(rows, Fact{l.Bed, prose.Plain(l.Minutes.Say(c.Words) + ".")})
			}
		}
	}
	return Facts{rows}
}

type cueDay struct {
	cue site.Cue
	day site.Day
}

// cues are the cue days between two days, in order.
func (c *composer) cues(first, last site.Day) []cueDay {
	var out []cueDay
	for _, cue := range site.Cues() {
		for year := first.Year() - 1; year <= last.Year()+1; year++ {
			d, ok := c.Climate.Cue(cue, year)
			if ok && d >= first && d <= last && !slices.ContainsFunc(out, func(o cueDay) bool { return o.cue == cue }) {
				out = append(out, cueDay{cue, d})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b cueDay) int { return cmp.Compare(a.day, b.day) })
	return out
}

func (c *composer) cueFacts(cues []cueDay) Facts {
	var rows []Fact
	for _, q := range cues {
		rows = append(rows, Fact{capital(q.cue.Say(c.Words)), prose.Plain(c.Words.Say("year.cue", "day", c.dated(q.day), "basis", c.amounted(c.Climate.Basis(q.cue).In(c.Words))))})
	}
	return Facts{rows}
}

// basis says what the dates rest on.
func (c *composer) basis() string {
	switch c.Garden.Place.Basis() {
	case site.FromNormals:
		if c.Garden.ClimateSource != "" {
			return c.Words.Say(c.here("from temperatures of"), "source", c.Garden.ClimateSource)
		}
		return c.Words.Say(c.here("from temperatures"))
	case site.FromFrostDates:
		return c.Words.Say(c.here("from frosts"))
	}
	return c.Words.Say(c.here("from nothing"))
}
