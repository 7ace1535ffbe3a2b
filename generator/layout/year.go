package layout

import (
	"math"
	"slices"

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
	easyRow   = 4.8 // with room to spare
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
	// mostLanes of garden days where rows are as close as can be, and where there is
	// room; where more overlap, neighbours share a mark.
	mostLanes, sheetLanes = 5, 11
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
	bed   bool
	name  []line
	latin bool // the last line of the name is a botanical one
	bars  []booklet.ChartBar
	lanes int // with marks
	bare  int // without
}

// A yearSetting is how closely a year is set.
type yearSetting struct {
	row    float64
	marks  bool
	levels int  // of cues' names
	alone  bool // common names without botanical ones under them
}

// lanes is how many lanes of garden days there may be.
func (set yearSetting) lanes() int {
	if set.marks && set.row > easyRow {
		return sheetLanes
	}
	return mostLanes
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
		var heads []box
		var last yearSetting
		for _, set := range l.yearSettings(pages == step) {
			if heads == nil || set.levels != last.levels || set.lanes() != last.lanes() {
				heads = l.yearHeads(s, y, set, pages)
			}
			last = set
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
				name: name, latin: latin, bars: r.Bars,
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
			if widest >= most {
				return most
			}
			var latin []prose.Run
			if len(r.Latin) > 0 {
				latin = r.Latin[0]
			}
			widest = max(widest, l.rowName(r, latin).width+2)
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

// rowName is a plant's common name, which is what is looked for, with a botanical one
// beside it.
func (l *layer) rowName(r booklet.ChartRow, latin []prose.Run) line {
	out := l.whole([]prose.Run{{Text: r.Name, Link: "#" + r.Plant}}, l.inked())
	if latin == nil {
		return out
	}
	beside := l.whole(append([]prose.Run{{Text: " "}}, latin...), l.near())
	out.items = moved(out.items, beside.items, out.width, 0)
	out.width += beside.width
	return out
}

// yearName sets a plant's name on one line with its botanical name beside it, as much
// of that as fits. A name that is too long for any stands alone; in large print, which
// has the room, over its botanical name.
func (l *layer) yearName(r booklet.ChartRow, width float64) (name []line, under bool) {
	for _, latin := range r.Latin {
		if ln := l.rowName(r, latin); ln.width <= width {
			return []line{ln}, false
		}
	}
	if ln := l.rowName(r, nil); ln.width <= width {
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
	said := make([]line, len(hours))
	for i, h := range hours {
		said[i] = l.word(figure.Hours((h.Low+h.High)/2), draw.Body, s)
	}
	if slices.ContainsFunc(said, func(t line) bool { return t.width > column-0.4 }) {
		for i, h := range hours {
			said[i] = l.word(figure.Hours(math.Round((h.Low+h.High)/2)), draw.Body, s)
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
			m := l.word(y.chart.Months[i], draw.Body, l.near())
			out.items = moved(out.items, m.items, mid-m.width/2, out.h-l.caption()*0.2)
		}
	}
	out.items = append(out.items, rule(y.names, base, y.wide, 0.2, ink))
	return out
}
