package layout

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"sheaf/generator/booklet"
	"sheaf/generator/draw"
	"sheaf/generator/figure"
	"sheaf/generator/prose"
)

// What stands over the rows of a year: cues, months, garden days, and what the bars
// and their marks mean.

// yearHeads are the heads of pages: the title on the first, on the second what the
// bars' patterns mean, and on each the cues, the months and the garden days.
func (l *layer) yearHeads(s *booklet.Section, y *yearPlan, set yearSetting, pages int) []box {
	corners := make([]box, pages)
	corners[0] = stack(l.headline(s.Title, l.display(l.form.Sizes.Title), 0, y.names-2, 0))
	if n := len(y.chart.Full); n > 0 {
		span := l.lines(prose.Plain(l.book.Words.To(y.chart.Full[0], y.chart.Full[n-1])), l.near(), y.names-2)
		for _, ln := range span {
			corners[0].items = moved(corners[0].items, ln.items, 0, corners[0].h+l.baseline(l.near()))
			corners[0].h += l.caption()
		}
	}
	if pages > 1 {
		corners[1] = l.families(y)
	}
	high := 0.0
	for _, c := range corners {
		high = max(high, c.h)
	}
	scale := l.yearScale(y.chart, y.names, y.wide, set.levels, set.lanes(), high)
	out := make([]box, pages)
	for i, c := range corners {
		items := append(c.items[:len(c.items):len(c.items)], scale.items...)
		if i == 0 {
			items = append(items, Anchor{ID: s.ID})
		}
		out[i] = l.under(box{h: scale.h, gap: scale.gap, items: items})
	}
	return out
}

// yearScale is the head of a chart that begins at x: names of cues on levels, months,
// and garden days in lanes. It is high enough for what stands to its left over the
// words that say what the numbers are. Its gap is what the days take of its height.
func (l *layer) yearScale(c booklet.Chart, x, wide float64, levels, lanes int, high float64) box {
	ink := l.inked()
	k := l.form.Sizes.Caption / captioned
	days := box{h: 0.6 * k} // air, where there are none
	if len(c.Days) > 0 {
		days = l.dayMarks(c.Days, x, wide, lanes)
		high += l.dayLane()
	}
	cues := l.cueNames(c.Cues, x, wide, levels)
	top := max(cues.h, high-l.caption()-days.h) // of the months
	out := box{h: top + l.caption(), items: moved(nil, cues.items, 0, top-cues.h)}
	for i, m := range c.Months {
		t := l.word(m, draw.Body, ink)
		mid := x + wide*(float64(i)+0.5)/float64(len(c.Months))
		out.items = moved(out.items, t.items, mid-t.width/2, top+l.caption()*0.8)
	}
	if label := l.word(l.book.Words.Say("chart.days"), draw.Bold, ink); len(c.Days) > 0 && label.width < x {
		// Beside the first lane, or lower where the title reaches down beside it.
		low := max(out.h+l.dayLane(), high)
		out.items = moved(out.items, label.items, 0, low-0.2*k)
	}
	out.items = moved(out.items, days.items, 0, out.h)
	out.h += days.h
	if len(c.Days) > 0 {
		out.gap = days.h
	}
	return out
}

// cueNames are the names of cues over the lines that lead down to their days. One that
// finds no room is left out; its line stays.
func (l *layer) cueNames(all []booklet.ChartCue, x, wide float64, levels int) box {
	s, k, step := l.near(), l.form.Sizes.Caption/captioned, l.caption()
	cues := slices.Clone(all)
	slices.SortStableFunc(cues, func(a, b booklet.ChartCue) int { return cmp.Compare(a.At, b.At) })
	said := make([]line, len(cues))
	names := make([]figure.Name, len(cues))
	for i, q := range cues {
		said[i] = l.word(q.Name, draw.Body, s)
		names[i] = figure.Name{At: q.At * wide, W: said[i].width}
	}
	places := figure.Arrange(names, levels, wide)
	used := 0
	for _, p := range places {
		used = max(used, p.Level+1)
	}
	out := box{h: float64(used)*step + 0.8*k}
	for i, p := range places {
		at := min(max(x+names[i].At, x+0.1), x+wide-0.1)
		top := out.h - 0.8*k
		if p.Level >= 0 {
			top = out.h + 0.1*k - float64(p.Level+1)*step
			left := at + figure.NameAside
			if p.Before {
				left = at - figure.NameAside - said[i].width
			}
			out.items = moved(out.items, said[i].items, left, out.h-0.3*k-(float64(p.Level)+0.2)*step)
		}
		out.items = append(out.items, upright(at, top, out.h, 0.15, l.theme.Light.Quiet))
	}
	return out
}

// upright is a thin line.
func upright(x, top, bottom, weight float64, c draw.Color) Item {
	h := bottom - top
	return Picture{X: x - weight/2, Y: top, Picture: draw.Picture{W: weight, H: h, Items: []draw.Item{
		draw.Shape{Path: draw.Segment(weight/2, 0, weight/2, h), Stroke: &draw.Stroke{Color: c, Width: weight}}}}}
}

// dayLane is the height of a garden day's mark: figures reach 0.73 of their size
// above their line, in both faces that ship.
func (l *layer) dayLane() float64 {
	return mm(l.form.Sizes.Caption)*0.73 + 0.75*l.form.Sizes.Caption/captioned
}

// A dayMark is a garden day in its place, or several where too many overlap.
type dayMark struct {
	first, last *booklet.ChartDay
	from, to    float64 // of its window, in millimetres
	number      line
	at          float64 // of the number, before the bar where there is room
	left, right float64 // of both
	lane        int
}

// dayMarks are the garden days over a chart, in as few lanes as keep them apart.
func (l *layer) dayMarks(days []booklet.ChartDay, x, wide float64, most int) box {
	marks := make([]dayMark, len(days))
	for i := range days {
		d := &days[i]
		marks[i] = dayMark{first: d, last: d, from: d.From * wide, to: d.To * wide}
	}
	lanes := l.layDays(marks, wide)
	for lanes > most && len(marks) > 1 {
		// Neighbours that take the least room together share a mark.
		best := 0
		room := func(i int) float64 {
			return max(marks[i].to, marks[i+1].to) - min(marks[i].from, marks[i+1].from)
		}
		for i := range marks[:len(marks)-1] {
			if room(i) < room(best) {
				best = i
			}
		}
		a, b := &marks[best], marks[best+1]
		a.last, a.from, a.to = b.last, min(a.from, b.from), max(a.to, b.to)
		marks = slices.Delete(marks, best+1, best+2)
		lanes = l.layDays(marks, wide)
	}
	k := l.form.Sizes.Caption / captioned
	out := box{h: float64(lanes)*l.dayLane() + 0.9*k}
	figures := mm(l.form.Sizes.Caption) * 0.73
	for _, m := range marks {
		base := float64(m.lane+1)*l.dayLane() - 0.2*k
		out.items = append(out.items, panel(x+m.at-0.2, base-figures-0.2, m.number.width+0.4, figures+0.4, bare()))
		out.items = moved(out.items, m.number.items, x+m.at, base)
		out.items = append(out.items, panel(x+m.from, base-figures/2-0.5*k, m.to-m.from, 1*k, l.theme.Light.Ink),
			Link{X: x + m.left, Y: base - figures - 0.3*k, W: m.right - m.left, H: l.dayLane(), Target: m.first.ID})
	}
	return out
}

// layDays puts marks into lanes and tells how many there are.
func (l *layer) layDays(marks []dayMark, wide float64) int {
	s := l.inked()
	spans := make([][2]float64, len(marks))
	for i := range marks {
		m := &marks[i]
		number := strconv.Itoa(m.first.Number)
		if m.first != m.last {
			number = fmt.Sprintf("%d–%d", m.first.Number, m.last.Number)
		}
		m.number = l.word(number, draw.Bold, s)
		m.to = max(m.to, m.from+0.5) // a line, at the least
		if m.to > wide {
			m.from, m.to = m.from-(m.to-wide), wide
		}
		const apart = 0.5
		m.at = m.from - apart - m.number.width
		if m.at < 0 {
			m.at = m.to + apart
		}
		m.left, m.right = min(m.at, m.from), max(m.at+m.number.width, m.to)
		spans[i] = [2]float64{m.left, m.right}
	}
	lanes, n := figure.Lanes(spans, 0.7)
	for i := range marks {
		marks[i].lane = lanes[i]
	}
	return n
}

// families tell the patterns of the kinds of work.
func (l *layer) families(y *yearPlan) box {
	var out box
	s := l.near()
	for _, family := range []string{"comb", "cut", "grow", "protect"} {
		if !slices.ContainsFunc(y.lines, func(ln yearLine) bool {
			return slices.ContainsFunc(ln.bars, func(b booklet.ChartBar) bool { return b.Family == family })
		}) {
			continue
		}
		w := l.size(9)
		pic := figure.Bars([]figure.Bar{{To: 1, Family: family}}, l.pal, figure.Frame{W: w / l.form.Scale, H: 2 / 0.44})
		high := pic.H * l.form.Scale
		out.items = append(out.items, Picture{Y: out.h + (l.caption()-high)/2, Picture: l.sized(pic)})
		for i, ln := range l.lines(prose.Plain(l.book.Words.Say("chart."+family)), s, y.names-2-w-l.size(2)) {
			if i > 0 {
				out.h += l.caption()
			}
			out.items = moved(out.items, ln.items, w+l.size(2), out.h+l.baseline(s))
		}
		out.h += l.caption()
	}
	return out
}

// yearKey are the marks of the bars with their names, in columns.
func (l *layer) yearKey(y *yearPlan) box {
	var marks []booklet.LegendMark
	for i := range l.book.Sections {
		for _, b := range l.book.Sections[i].Blocks {
			if lg, ok := b.(booklet.Legend); ok {
				marks = lg.Marks
			}
		}
	}
	marks = slices.DeleteFunc(slices.Clone(marks), func(m booklet.LegendMark) bool {
		return !slices.ContainsFunc(y.lines, func(ln yearLine) bool {
			return slices.ContainsFunc(ln.bars, func(b booklet.ChartBar) bool { return b.Mark == m.Mark })
		})
	})
	if marks == nil {
		return box{}
	}
	s := l.near()
	size, k := stripTall*l.form.Scale, l.form.Sizes.Caption/captioned
	out := box{h: l.grid() / 2} // the air above it
	x := 0.0
	high := max(size, l.caption()) + 0.8*k
	for _, m := range marks {
		name := l.word(m.Name, draw.Body, s)
		w := size + 1.2*k + name.width
		if x > 0 && x+w > l.measure() {
			x, out.h = 0, out.h+high
		}
		pic := l.mark(m.Mark, l.theme.Light.Family(m.Family))
		out.items = append(out.items, Picture{X: x, Y: out.h + (high-size)/2, Picture: pic.Fit(size, size)})
		out.items = moved(out.items, name.items, x+size+1.2*k, out.h+(high-mm(s.leading))/2+l.baseline(s))
		if m.Job != "" {
			out.items = append(out.items, Link{X: x, Y: out.h, W: w, H: high, Target: m.Job})
		}
		x += w + 4*k
	}
	out.h += high
	return out
}
