package layout

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"sheaf/generator/booklet"
	"sheaf/generator/draw"
	"sheaf/generator/figure"
	"sheaf/generator/prose"
	"sheaf/generator/words"
)

// The year on one spread: every plant's row by bed on two facing pages under one
// head, the garden days over the months, and at the foot of the right page how
// much work each month brings and what the dates rest on.

// Lengths are made for captions of 9 pt and grow with them, in millimetres.
const (
	captioned = 9.0 // points
	tallRow   = 8.6 // rows of a small garden
	shortRow  = 4.4 // the least that bears a job's mark
	markLane  = 2.6 // of each of several bars that overlap, with their marks
	bareLane  = 1.2 // the same without
	stripTall = 3.8 // more makes marks too broad for months of 5 mm, but in tall rows
	hoursHigh = 16.0
	// nameShare is how much of the measure names may take: half, so that a month
	// keeps the breadth of a day's number.
	nameShare = 0.52
	// lopsided is by how much the pages of a spread may differ in how full they are
	// for the sake of ending with a bed.
	lopsided = 0.4
	// mostLanes of garden days on a page, and on a sheet; where more overlap,
	// neighbours share a mark.
	mostLanes, sheetLanes = 5, 9
)

// A yearPlan is a year ready to be broken into pages.
type yearPlan struct {
	chart        booklet.Chart
	caption, sum string
	basis        []prose.Run

	names, wide float64 // of the column of names, and of the chart beside it
	lines       []yearLine
}

// A yearLine is a bed's name or a plant's row.
type yearLine struct {
	bed    bool
	name   []line
	latin  bool // the last line of the name is a botanical one
	bars   []booklet.ChartBar
	lanes  int // with marks
	bare   int // without
	target string
}

// A yearSetting is how closely a year is set.
type yearSetting struct {
	row    float64
	marks  bool
	levels int  // of cues' names
	alone  bool // common names without botanical ones under them
}

// yearSpread sets a year: an even number of pages, in a guide as many as it needs.
func (l *layer) yearSpread(s *booklet.Section) [][]Item {
	y := l.planYear(s)
	foot, key := l.yearFoot(y), l.yearKey(y)
	step := 2
	if l.book.Guide {
		step = 1
	}
	least := l.least(y, foot)
	for pages := max(step, least-least%step); ; pages += step {
		heads, levels := []box(nil), -1
		for _, set := range l.yearSettings(pages == step) {
			if set.levels != levels {
				heads, levels = l.yearHeads(s, y, set, pages), set.levels
			}
			rooms := make([]float64, pages)
			for i := range rooms {
				rooms[i] = l.columnHeight() - heads[i].h
			}
			rooms[pages-1] -= foot.h
			if l.airy(set) && pages > 1 {
				rooms[0] -= key.h
			}
			if cuts := l.breakYear(y, set, rooms); cuts != nil {
				return l.yearPages(y, set, heads, cuts, foot, key)
			}
		}
	}
}

// airy tells rows that are higher than they need be: not worth parting a bed, nor going
// without the key to the marks.
func (l *layer) airy(set yearSetting) bool {
	return set.marks && set.row > 5*l.form.Sizes.Caption/captioned
}

// least is a number of pages under which no setting is worth trying.
func (l *layer) least(y *yearPlan, foot box) int {
	h := foot.h
	for i := range y.lines {
		h += l.yearLineHeight(y.lines[i], yearSetting{row: l.caption(), alone: true})
	}
	return max(int(h/l.columnHeight()), 1)
}

// yearSettings go from the most generous to the tightest: first the rows shrink, then
// marks are left out, and on a single spread the names of cues too, which its foot
// has with their dates.
func (l *layer) yearSettings(single bool) []yearSetting {
	var out []yearSetting
	k := l.form.Sizes.Caption / captioned
	for row := tallRow; row > shortRow-0.05; row -= 0.1 {
		out = append(out, yearSetting{row * k, true, 4, false})
	}
	for row := shortRow * k; row > l.caption(); row -= 0.1 * k {
		out = append(out, yearSetting{row, false, 4, false})
	}
	if single && !l.book.Guide {
		for levels := 3; levels >= 0; levels-- {
			out = append(out, yearSetting{l.caption(), false, levels, false})
		}
	}
	out = append(out, yearSetting{l.caption(), false, 0, false})
	if l.form.Roman && !single {
		out = append(out, yearSetting{l.caption(), false, 4, true}, yearSetting{l.caption(), false, 0, true})
	}
	return out
}

// caption is a line of captions set close, in millimetres.
func (l *layer) caption() float64 { return mm(l.form.Sizes.Caption) * 1.2 }

// near is the style of captions set close.
func (l *layer) near() style {
	s := l.small()
	s.leading = s.size * 1.2
	return s
}

// planYear gathers what a year's section holds.
func (l *layer) planYear(s *booklet.Section) *yearPlan {
	y := &yearPlan{}
	for _, b := range s.Blocks {
		switch b := b.(type) {
		case booklet.Chart:
			y.chart = b
		case booklet.Figure:
			y.caption = b.Caption
		case booklet.Text:
			y.basis = b.Runs
		case booklet.Facts:
			if y.basis == nil && len(b.Rows) > 0 { // the year in all; the cues come later
				y.sum = b.Rows[0].Label + ": " + prose.String(b.Rows[0].Text)
			}
		}
	}
	y.names = l.nameColumn(y.chart)
	y.wide = l.measure() - y.names
	for _, g := range y.chart.Groups {
		if g.Bed != "" {
			y.lines = append(y.lines, yearLine{bed: true, name: l.lines([]prose.Run{{Text: g.Bed, Bold: true}}, l.inked(), y.names-2)})
		}
		for _, r := range g.Rows {
			name, latin := l.yearName(r, y.names-2)
			y.lines = append(y.lines, yearLine{
				name: name, latin: latin, bars: r.Bars, target: r.Plant,
				lanes: r.Lanes(markLane * l.form.Scale / y.wide), bare: r.Lanes(0),
			})
		}
	}
	return y
}

// inked is the style of what is read first in the chart.
func (l *layer) inked() style {
	s := l.near()
	s.color = l.theme.Light.Ink
	return s
}

// nameColumn is as wide as the longest name asks, within bounds.
func (l *layer) nameColumn(c booklet.Chart) float64 {
	most, widest := l.measure()*nameShare, l.measure()*0.3
	for _, g := range c.Groups {
		for _, r := range g.Rows {
			if widest < most {
				widest = max(widest, l.called(r, first(r.Latin)).width+2)
			}
		}
	}
	return min(widest, most)
}

// whole sets runs on one line, however long.
func (l *layer) whole(runs []prose.Run, s style) line {
	ps := make([]fragment, 0, len(runs))
	for _, r := range runs {
		if t := l.settable(r, s.faceOf(r)); t != "" {
			ps = append(ps, fragment{text: t, face: s.faceOf(r), link: r.Link})
		}
	}
	return l.setLine(ps, s)
}

// called is a plant's common name, which is what is looked for, with a botanical one
// beside it.
func (l *layer) called(r booklet.ChartRow, latin []prose.Run) line {
	out := l.whole([]prose.Run{{Text: r.Name, Link: "#" + r.Plant}}, l.inked())
	if latin == nil {
		return out
	}
	beside := l.whole(append([]prose.Run{{Text: " "}}, latin...), l.near())
	out.items = moved(out.items, beside.items, out.width, 0)
	out.width += beside.width
	return out
}

func first(of [][]prose.Run) []prose.Run {
	if len(of) == 0 {
		return nil
	}
	return of[0]
}

// yearName sets a plant's name on one line with its botanical name beside it, as much
// of that as fits. A name that is too long for any stands alone; in large print, which
// has the room, over its botanical name.
func (l *layer) yearName(r booklet.ChartRow, width float64) (name []line, under bool) {
	for _, latin := range r.Latin {
		if ln := l.called(r, latin); ln.width <= width {
			return []line{ln}, false
		}
	}
	if ln := l.called(r, nil); ln.width <= width {
		for _, latin := range r.Latin {
			if second := l.whole(latin, l.near()); l.form.Roman && second.width <= width {
				return []line{ln, second}, true
			}
		}
		return []line{ln}, false
	}
	return l.lines([]prose.Run{{Text: r.Name, Link: "#" + r.Plant}}, l.inked(), width), false
}

// said are the lines of a name in a setting.
func (ln yearLine) said(set yearSetting) []line {
	if ln.latin && set.alone {
		return ln.name[:len(ln.name)-1]
	}
	return ln.name
}

// yearLineHeight is the height of a line of a year in a setting.
func (l *layer) yearLineHeight(ln yearLine, set yearSetting) float64 {
	k := l.form.Sizes.Caption / captioned
	h := max(set.row, float64(len(ln.said(set)))*l.caption())
	switch {
	case ln.bed:
	case set.marks && ln.lanes > 1:
		h = max(h, float64(ln.lanes)*markLane*k)
	case !set.marks && ln.bare > 1:
		h = max(h, float64(ln.bare)*bareLane*k)
	}
	return h
}

// A yearCut is a page's part of a year: its lines, and the bed that it goes on with,
// -1 for none.
type yearCut struct{ from, to, bed int }

// breakYear shares lines out to pages with room for each; nil where they do not hold
// them. Pages part at the end of a bed if that leaves them about as full as each
// other; else they are made so.
func (l *layer) breakYear(y *yearPlan, set yearSetting, rooms []float64) []yearCut {
	heights := make([]float64, len(y.lines))
	beds := make([]int, len(y.lines))
	bed, all := -1, 0.0
	for i, ln := range y.lines {
		if heights[i] = l.yearLineHeight(ln, set); ln.bed {
			bed = i
		}
		beds[i] = bed
		all += heights[i]
	}
	if cuts := undivided(y.lines, heights, rooms); cuts != nil {
		return cuts
	}
	if l.airy(set) && len(rooms) > 1 {
		return nil
	}
	fill := func(part float64) []yearCut {
		var out []yearCut
		i := 0
		for _, room := range rooms {
			cut := yearCut{from: i, bed: -1}
			used := 0.0
			if i < len(y.lines) && !y.lines[i].bed && beds[i] >= 0 {
				cut.bed = beds[i]
				used += heights[beds[i]]
			}
			for i < len(y.lines) {
				need := heights[i]
				if y.lines[i].bed && i+1 < len(y.lines) {
					need += heights[i+1]
				}
				if used+need > room*part+slack && (i > cut.from || used+need > room) {
					break
				}
				used += heights[i]
				i++
			}
			cut.to = i
			out = append(out, cut)
		}
		if i < len(y.lines) {
			return nil
		}
		return out
	}
	out := fill(1)
	if out == nil {
		return nil
	}
	for low, high := 0.0, 1.0; high-low > 0.01; {
		mid := (low + high) / 2
		if cuts := fill(mid); cuts != nil {
			out, high = cuts, mid
		} else {
			low = mid
		}
	}
	return out
}

// undivided shares beds out to pages, none on two, so that the fullest page is as empty
// as can be; nil where that does not go, or leaves pages too unlike each other.
func undivided(lines []yearLine, heights, rooms []float64) []yearCut {
	starts := []int{0}
	for i := 1; i < len(lines); i++ {
		if lines[i].bed {
			starts = append(starts, i)
		}
	}
	n := len(rooms)
	if n > 8 || len(starts) < n || len(starts) > 64 {
		return nil
	}
	sums := make([]float64, len(lines)+1) // of the heights before a line
	for i, h := range heights {
		sums[i+1] = sums[i] + h
	}
	starts = append(starts, len(lines))
	// full is the fill of the fullest page, and next where the first page ends, for
	// the beds from one on and the pages from one on.
	type way struct {
		full float64
		next int
	}
	memo := map[[2]int]way{}
	var best func(bed, page int) way
	best = func(bed, page int) way {
		if page == n {
			if bed == len(starts)-1 {
				return way{}
			}
			return way{full: math.Inf(1)}
		}
		at := [2]int{bed, page}
		if w, ok := memo[at]; ok {
			return w
		}
		out := way{full: math.Inf(1)}
		for next := bed + 1; next < len(starts); next++ {
			own := (sums[starts[next]] - sums[starts[bed]]) / rooms[page]
			if own > 1 {
				break
			}
			if full := max(own, best(next, page+1).full); full < out.full {
				out = way{full, next}
			}
		}
		memo[at] = out
		return out
	}
	if best(0, 0).full > 1 {
		return nil
	}
	var out []yearCut
	least, most := 1.0, 0.0
	for bed, page := 0, 0; page < n; page++ {
		next := best(bed, page).next
		fill := (sums[starts[next]] - sums[starts[bed]]) / rooms[page]
		least, most = min(least, fill), max(most, fill)
		out = append(out, yearCut{starts[bed], starts[next], -1})
		bed = next
	}
	if most-least > lopsided {
		return nil
	}
	return out
}

// yearPages places all.
func (l *layer) yearPages(y *yearPlan, set yearSetting, heads []box, cuts []yearCut, foot, key box) [][]Item {
	var out [][]Item
	for i, cut := range cuts {
		rows := l.yearRows(y, set, cut)
		room := l.columnHeight() - heads[i].h - rows.h
		page := moved(nil, rows.items, 0, heads[i].h)
		page = append(l.verticals(y, heads[i], rows.h), page...)
		page = append(page, heads[i].items...)
		if i == len(cuts)-1 {
			page = moved(page, foot.items, 0, l.columnHeight()-foot.h)
		} else if i == 0 && set.marks && key.h <= room+slack {
			page = moved(page, key.items, 0, l.columnHeight()-key.h)
		}
		out = append(out, page)
	}
	return out
}

// verticals are the lines of months and cues behind the garden days and all rows.
func (l *layer) verticals(y *yearPlan, head box, rows float64) []Item {
	top := head.h - head.gap // of the days
	pic := figure.Verticals(len(y.chart.Months), chartCues(y.chart), l.pal, figure.Frame{W: y.wide / l.form.Scale, H: (head.gap + rows) / l.form.Scale})
	return []Item{Picture{X: y.names, Y: top, Picture: l.sized(pic)}}
}

func chartCues(c booklet.Chart) []figure.Cue {
	var out []figure.Cue
	for _, q := range c.Cues {
		out = append(out, figure.Cue{At: q.At, Name: q.Name})
	}
	return out
}

// yearRows are the lines of a page.
func (l *layer) yearRows(y *yearPlan, set yearSetting, cut yearCut) box {
	var out box
	line := func(ln yearLine) {
		h := l.yearLineHeight(ln, set)
		s := l.near()
		name := ln.said(set)
		top := out.h + (h-float64(len(name))*mm(s.leading))/2
		for i, part := range name {
			out.items = moved(out.items, part.items, 0, top+float64(i)*mm(s.leading)+l.baseline(s))
		}
		if len(ln.bars) > 0 {
			out.items = append(out.items, l.yearBars(y, set, ln, out.h, h))
		}
		out.h += h
		out.items = append(out.items, rule(0, out.h, l.measure(), 0.1, l.theme.Light.Hairline))
	}
	if cut.bed >= 0 {
		line(y.lines[cut.bed])
	}
	for _, ln := range y.lines[cut.from:cut.to] {
		line(ln)
	}
	return out
}

// yearBars are a row's windows.
func (l *layer) yearBars(y *yearPlan, set yearSetting, ln yearLine, top, h float64) Item {
	var bars []figure.Bar
	for _, b := range ln.bars {
		bar := figure.Bar{From: b.From, To: b.To, Family: b.Family}
		if set.marks {
			bar.Mark = b.Mark
		}
		bars = append(bars, bar)
	}
	lanes := ln.bare
	if set.marks {
		lanes = ln.lanes
	}
	one := min(max(stripTall*l.form.Scale, h*0.6), l.size(markSize))
	tall := min(h-0.3, one*float64(lanes))
	f := figure.Frame{W: y.wide / l.form.Scale, H: tall / l.form.Scale}
	strip := draw.Picture{W: f.W, H: f.H, Items: []draw.Item{&draw.Sketch{Once: true, Draw: func() ([]draw.Item, string) {
		return figure.Bars(bars, l.pal, f).Items, ""
	}}}}
	return Picture{X: y.names, Y: top + (h-tall)/2, Picture: l.sized(strip)}
}

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
	scale := l.yearScale(y.chart, y.names, y.wide, set.levels, mostLanes, high)
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
	s, ink := l.near(), l.inked()
	k := l.form.Sizes.Caption / captioned
	line := l.caption()
	var out box
	cues := slices.Clone(c.Cues)
	slices.SortStableFunc(cues, func(a, b booklet.ChartCue) int { return cmp.Compare(a.At, b.At) })
	set := make([]text1, len(cues))
	names := make([]figure.Name, len(cues))
	for i, q := range cues {
		set[i] = l.oneLine(q.Name, draw.Body, s)
		names[i] = figure.Name{At: q.At * wide, W: set[i].width}
	}
	places := figure.Arrange(names, levels, wide)
	used := 0
	for _, p := range places {
		used = max(used, p.Level+1)
	}
	label := l.oneLine(l.book.Words.Say("chart.days"), draw.Bold, ink)
	var days box
	if len(c.Days) > 0 {
		days = l.dayMarks(c.Days, x, wide, lanes)
		high += l.dayLane()
	}
	months := max(float64(used)*line+0.8*k, high-line-days.h)
	for i, p := range places {
		at := min(max(x+names[i].At, x+0.1), x+wide-0.1)
		top := months - 0.8*k
		if p.Level >= 0 {
			top = months - 0.3*k - float64(p.Level+1)*line + 0.4*k
			left := at + figure.NameAside
			if p.Before {
				left = at - figure.NameAside - set[i].width
			}
			out.items = moved(out.items, set[i].items, left, months-0.3*k-float64(p.Level)*line-line*0.2)
		}
		out.items = append(out.items, upright(at, top, months, 0.15, l.theme.Light.Quiet))
	}
	for i, m := range c.Months {
		t := l.oneLine(m, draw.Body, ink)
		mid := x + wide*(float64(i)+0.5)/float64(len(c.Months))
		out.items = moved(out.items, t.items, mid-t.width/2, months+line*0.8)
	}
	out.h = months + line
	if len(c.Days) == 0 {
		out.h += 0.6 * k
		return out
	}
	if label.width < x {
		low := out.h + l.dayLane()
		if high > low { // the title reaches down beside the days
			low = high
		}
		out.items = moved(out.items, label.items, 0, low-0.2*k)
	}
	out.items = moved(out.items, days.items, 0, out.h)
	out.h += days.h
	out.gap = days.h
	return out
}

// text1 is a text that is never broken.
type text1 = line

// oneLine sets a text on one line, without letters that its face lacks.
func (l *layer) oneLine(text string, face draw.Face, s style) text1 {
	return l.setLine([]fragment{{text: l.settable(prose.Run{Text: text}, face), face: face}}, s)
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
	number      text1
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
		m.number = l.oneLine(number, draw.Bold, s)
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
		name := l.oneLine(m.Name, draw.Body, s)
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

// yearFoot is what closes a garden's year: hours under the months, what they and the
// dates rest on, and the dates of the cues.
func (l *layer) yearFoot(y *yearPlan) box {
	if len(y.chart.Hours) == 0 {
		return box{}
	}
	s := l.near()
	k := l.form.Sizes.Caption / captioned
	out := l.yearHours(y)
	write := func(runs []prose.Run, x, width, top float64) float64 {
		for _, ln := range l.lines(runs, s, width) {
			out.items = moved(out.items, ln.items, x, top+l.baseline(s))
			top += mm(s.leading)
		}
		return top
	}
	y0 := l.size(1)
	y0 = write([]prose.Run{{Text: l.book.Words.Say("year.hours"), Bold: true}}, 0, y.names-3, y0)
	if y.sum != "" {
		y0 = write(prose.Plain(y.sum), 0, y.names-3, y0)
	}
	out.h = max(out.h, y0) + 0.8*k
	out.h = write(prose.Plain(y.caption+" "+prose.String(y.basis)), 0, l.measure(), out.h) + 0.8*k
	// Cues in columns, each down before the next.
	said := make([][]prose.Run, len(y.chart.Cues))
	widest := 1.0
	for i, q := range y.chart.Cues {
		said[i] = []prose.Run{{Text: words.Capital(q.Name), Bold: true}, {Text: " " + q.Day}}
		widest = max(widest, l.whole(said[i], s).width)
	}
	between := l.size(3)
	columns := min(max(int((l.measure()+between)/(widest+between)), 1), 4)
	width := (l.measure() - float64(columns-1)*between) / float64(columns)
	rows := (len(said) + columns - 1) / columns
	top, low := out.h, out.h
	for i, runs := range said {
		if i%rows == 0 {
			low = top
		}
		low = write(runs, float64(i/rows)*(width+between), width, low)
		out.h = max(out.h, low)
	}
	out.items = append(out.items, rule(0, 0, l.measure(), 0.1, l.theme.Light.Hairline))
	return out
}

// yearHours are the hours of the months as bars under the chart, solid to the low
// estimate and open from there to the high one.
func (l *layer) yearHours(y *yearPlan) box {
	k := l.form.Sizes.Caption / captioned
	s := l.inked()
	out := box{h: hoursHigh * k}
	hours := y.chart.Hours
	column := y.wide / float64(len(hours))
	said := make([]text1, len(hours))
	for i, h := range hours {
		said[i] = l.oneLine(figure.Hours((h.Low+h.High)/2), draw.Body, s)
	}
	if slices.ContainsFunc(said, func(t text1) bool { return t.width > column-0.4 }) {
		for i, h := range hours {
			said[i] = l.oneLine(figure.Hours(math.Round((h.Low+h.High)/2)), draw.Body, s)
		}
	}
	most := 0.5
	for _, h := range hours {
		most = max(most, h.High)
	}
	base := out.h - l.caption()
	room := base - l.caption() - 0.6*k
	w := min(column*0.5, 4*k)
	ink := l.theme.Light.Ink
	end := 0.0
	for i, h := range hours {
		mid := y.names + (float64(i)+0.5)*column
		low, high := h.Low/most*room, h.High/most*room
		if high-low > 0.4 {
			out.items = append(out.items, frame(mid-w/2, base-high, w, high, 0.2, ink))
		}
		if low > 0 {
			out.items = append(out.items, panel(mid-w/2, base-low, w, low, ink))
		}
		if from := mid - said[i].width/2; from >= end { // figures never touch
			out.items = moved(out.items, said[i].items, from, base-high-0.8*k)
			end = from + said[i].width + 0.3
		}
		if i < len(y.chart.Months) {
			m := l.oneLine(y.chart.Months[i], draw.Body, l.near())
			out.items = moved(out.items, m.items, mid-m.width/2, out.h-l.caption()*0.2)
		}
	}
	out.items = append(out.items, rule(y.names, base, y.wide, 0.2, ink))
	return out
}
