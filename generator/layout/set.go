package layout

import (
	"cmp"
	"slices"
	"strconv"

	"sheaf/generator/booklet"
	"sheaf/generator/draw"
	"sheaf/generator/figure"
	"sheaf/generator/prose"
)

// Sizes of the parts of a page that do not follow from type, in millimetres.
const (
	markSize  = 5.0  // a job's mark (LOOK)
	fewMarks  = 14   // that a legend shows in two columns
	longName  = 15   // letters of a name that one line of three columns holds
	labelWide = 23.0 // the label column of facts
	whenWide  = 31.0 // the date column of a check list
	chartName = 40.0 // the name column of the year
	indent    = 5.0
)

// section is a section's boxes, title first.
func (l *layer) section(s *booklet.Section) []box {
	blocks := printed(s)
	close := s.Kind == booklet.FirstYear || s.Kind == booklet.Safety || s.Kind == booklet.Watering || s.ID == "contributors"
	if close {
		blocks = runIn(blocks)
	}
	boxes := l.blocks(blocks, l.measure())
	if close {
		for i := range boxes {
			boxes[i].gap = min(boxes[i].gap, l.grid()/6)
		}
	}
	return append(l.title(s), boxes...)
}

// runIn sets headings over a paragraph, and labels, in bold at its beginning.
func runIn(bs []booklet.Block) []booklet.Block {
	var out []booklet.Block
	for i := 0; i < len(bs); i++ {
		h, over := bs[i].(booklet.Heading)
		if over && i+1 < len(bs) {
			if t, ok := bs[i+1].(booklet.Text); ok && t.Role == booklet.Plain {
				var runs []prose.Run
				for _, r := range h.Runs {
					r.Bold = true
					runs = append(runs, r)
				}
				out = append(out, booklet.Text{Runs: append(append(runs, prose.Run{Text: "  "}), t.Runs...)})
				i++
				continue
			}
		}
		if f, ok := bs[i].(booklet.Facts); ok {
			for _, r := range f.Rows {
				out = append(out, booklet.Text{Runs: append([]prose.Run{{Text: r.Label, Bold: true}, {Text: "  "}}, r.Text...)})
			}
			continue
		}
		out = append(out, bs[i])
	}
	return out
}

// printed are the blocks of a section without those that are for the web edition
// alone.
func printed(s *booklet.Section) []booklet.Block {
	if s.Ranks == nil {
		return s.Blocks
	}
	var out []booklet.Block
	for i, b := range s.Blocks {
		if s.Ranks[i] < booklet.Reasons {
			out = append(out, b)
		}
	}
	return out
}

// title is the section's name, its aside and the anchor that leads there.
func (l *layer) title(s *booklet.Section) []box { return l.titleIn(s, l.form.Sizes.Title) }

func (l *layer) titleIn(s *booklet.Section, size float64) []box {
	boxes := l.headline(s.Title, l.display(size), 0, l.measure(), 0)
	boxes[0].items = append(boxes[0].items, Anchor{ID: s.ID})
	for i := range l.book.Sections {
		if other := &l.book.Sections[i]; other.Stead == s.ID {
			boxes[0].items = append(boxes[0].items, Anchor{ID: other.ID})
		}
	}
	if s.Aside != "" {
		boxes = append(boxes, l.paragraph(prose.Plain(s.Aside), l.aside(), 0, l.measure(), 0)...)
	}
	b := l.under(stack(boxes))
	b.h = l.snap(b.h + l.grid()/2)
	b.keep = true
	return []box{b}
}

// blocks sets a row of blocks to a width.
func (l *layer) blocks(bs []booklet.Block, width float64) []box {
	var out []box
	for _, b := range bs {
		out = append(out, l.block(b, width)...)
		if _, ok := b.(booklet.Figure); ok {
			out[len(out)-1].keep = true // a picture belongs to what follows it
		}
	}
	if n := len(out); n > 0 {
		out[n-1].keep = false
	}
	return out
}

func (l *layer) block(b booklet.Block, width float64) []box {
	half := l.grid() / 2
	switch b := b.(type) {
	case booklet.Text:
		return l.voice(b, width)
	case booklet.Heading:
		boxes := l.paragraph(b.Runs, l.heading(), 0, width, half)
		for i := range boxes {
			boxes[i].keep = true
		}
		return boxes
	case booklet.List:
		return l.list(b, width)
	case booklet.Facts:
		return l.facts(b.Rows, width, l.size(labelWide))
	case booklet.Terms:
		return l.terms(b.Rows, width)
	case booklet.Figure:
		return l.figure(b, width)
	case booklet.Online:
		return l.online(b, width)
	case booklet.Tasks:
		return l.tasks(b.Lines, width)
	case booklet.Chart:
		return l.chart(b, width)
	case booklet.Legend:
		return l.legend(b.Marks, width)
	case booklet.Entries:
		return l.entries(b.Rows, width)
	case booklet.IndexList:
		return l.index(b.Rows, true, width)
	case booklet.Harm:
		return l.voice(booklet.Text{Runs: prose.Plain(l.harm(b)), Role: booklet.Warn}, width)
	case booklet.Grown:
		return l.grown(b.Rows, width)
	case booklet.Work:
		return l.work(b, width)
	case booklet.Portrait, booklet.Visit, booklet.Chores:
		return nil // heads of pages, and what stands on pages of their own kind
	}
	return nil
}

// voice is a paragraph in its role.
func (l *layer) voice(t booklet.Text, width float64) []box {
	half := l.grid() / 2
	switch t.Role {
	case booklet.Small:
		boxes := l.paragraph(t.Runs, l.small(), 0, width, half/2)
		if n := len(boxes); n > 0 {
			boxes[n-1].h += l.snap(height(boxes)) - height(boxes)
		}
		return boxes
	case booklet.Warn:
		// A bar at the left and the words in full ink: never colour alone.
		boxes := l.paragraph(t.Runs, l.text(), l.size(indent), width-l.size(indent), half/2)
		for i := range boxes {
			boxes[i].items = append(boxes[i].items, bar(1, 0, boxes[i].h, l.theme.Light.Clay))
		}
		return boxes
	}
	return l.paragraph(t.Runs, l.text(), 0, width, half)
}

// bar is a thin upright stroke beside a caution.
func bar(x, y, h float64, c draw.Color) Item {
	return Picture{X: x, Y: y, Picture: draw.Picture{W: 0.8, H: h, Items: []draw.Item{
		draw.Shape{Path: draw.Segment(0.4, 0, 0.4, h), Stroke: &draw.Stroke{Color: c, Width: 0.8}}}}}
}

func (l *layer) list(b booklet.List, width float64) []box {
	var out []box
	s := l.text()
	for i, item := range b.Items {
		sign, wide := "•", l.size(indent)
		if b.Numbered {
			sign, wide = strconv.Itoa(i+1)+".", l.size(7)
		}
		boxes := l.paragraph(item, s, wide, width-wide, l.size(0.6))
		if len(boxes) == 0 {
			continue
		}
		boxes[0].items = moved(boxes[0].items, l.setLine([]fragment{{text: sign, face: draw.Body}}, s).items, 0, l.baseline(s))
		out = append(out, boxes...)
	}
	return out
}

// facts are labels beside their texts. A row of up to four lines stays whole.
func (l *layer) facts(rows []booklet.Fact, width, labels float64) []box {
	var out []box
	for _, r := range rows {
		boxes := l.paragraph(r.Text, l.text(), labels, width-labels, l.grid()/4)
		label := l.paragraph(prose.Plain(r.Label), l.small(), 0, labels-1.5, 0)
		if len(boxes) == 0 {
			continue
		}
		// The label's first line stands on the text's first baseline, and comes
		// before it when the page is read aloud.
		var items []Item
		for i, b := range label {
			items = moved(items, b.items, 0, l.baseline(l.text())-l.baseline(l.small())+float64(i)*mm(l.small().leading))
		}
		boxes[0].items = append(items, boxes[0].items...)
		if len(boxes) <= 4 {
			gap := boxes[0].gap
			b := stack(boxes)
			b.h = max(b.h, float64(len(label))*mm(l.small().leading)+1)
			b.gap = gap
			boxes = []box{b}
		}
		out = append(out, boxes...)
	}
	return out
}

// terms are words in bold with what they mean after them.
func (l *layer) terms(rows []booklet.Fact, width float64) []box {
	var out []box
	s := l.small() // many of them, to be looked up
	s.color = l.theme.Light.Ink
	for _, r := range rows {
		runs := append([]prose.Run{{Text: r.Label, Bold: true}, {Text: "  "}}, r.Text...)
		out = append(out, l.paragraph(runs, s, 0, width, l.size(0.5))...)
	}
	return out
}

func (l *layer) figure(f booklet.Figure, width float64) []box {
	p := l.sized(f.Picture)
	if p.W > width {
		p = p.Fit(width, p.H)
	}
	b := box{h: l.snap(p.H + 1), gap: l.grid() / 2, items: []Item{Picture{X: (width - p.W) / 2, Picture: p}}}
	if f.Caption == "" {
		return []box{b}
	}
	b.keep = true
	caption := l.voice(booklet.Text{Runs: prose.Plain(f.Caption), Role: booklet.Small}, width)
	return append([]box{b}, caption...)
}

// online is the address with its code at the left for a camera; the code is of
// one size in all editions.
func (l *layer) online(o booklet.Online, width float64) []box {
	w := o.Code.W
	border := w * figure.CodeBorder
	words := stack(append(l.paragraph(prose.Plain(o.Words), l.text(), 0, width-w-border, 0),
		l.paragraph([]prose.Run{{Text: o.Address, Link: o.Address}}, l.text(), 0, width-w-border, 0)...))
	b := box{h: l.snap(max(w, words.h) + border), gap: l.snap(border), items: []Item{Picture{Picture: o.Code}}}
	b.items = moved(b.items, words.items, w+border, max(w-words.h, 0)/2)
	return []box{b}
}

// tasks is the check list of a month: a box to tick, the job's mark, what to do
// and until when, and below it where, how long and what to look for.
func (l *layer) tasks(lines []booklet.TaskLine, width float64) []box {
	var out []box
	tick, air := l.size(4), l.size(2.5)
	x := tick + air + l.size(markSize) + air
	for _, t := range lines {
		main, small := l.text(), l.small()
		color := l.theme.Light.Family(t.Family)
		boxes := l.verbLine(t, main, color, x, width-x-l.size(whenWide)-2)
		detail := t.Where + "."
		if t.Minutes != "" {
			detail = t.Where + "; " + t.Minutes + "."
		}
		if t.Leave != "" {
			detail = t.Leave + ". " + detail
		}
		if t.Look != "" {
			detail += " " + l.book.Words.Say("label.look for") + ": " + l.book.Words.Inner(t.Look)
		}
		boxes = append(boxes, l.paragraph(prose.Plain(detail), small, x, width-x, 0)...)
		if t.Warn != "" {
			boxes = append(boxes, l.paragraph([]prose.Run{{Text: t.Warn, Bold: true}}, small, x, width-x, 0)...)
		}
		row := stack(boxes)
		row.items = append(row.items,
			Picture{X: 0, Y: (l.grid() - tick) / 2, Picture: tickBox(tick, l.theme.Light.Ink)},
			Picture{X: tick + air, Y: (l.grid() - l.size(markSize)) / 2, Picture: l.mark(t.Mark, color)})
		when := l.word(t.When, draw.Body, small)
		row.items = moved(row.items, when.items, width-when.width, l.baseline(main))
		row.h = l.snap(row.h + 1.5)
		row.items = append(row.items, rule(0, row.h-0.6, width, 0.15, l.theme.Light.Hairline))
		out = append(out, row)
	}
	return out
}

// verbLine sets the action: the verb in its family's colour and bold, the rest
// in ink and leading to the plant.
func (l *layer) verbLine(t booklet.TaskLine, s style, c draw.Color, x, width float64) []box {
	runs := []prose.Run{{Text: t.Verb, Bold: true}, {Text: " "}, {Text: t.Rest, Link: "#" + t.Plant}}
	boxes := l.paragraph(runs, s, x, width, 0)
	for i := range boxes {
		recoloured(boxes[i].items, draw.Bold, c)
	}
	return boxes
}

// recoloured gives the letters of a face another colour, where they stand.
func recoloured(items []Item, face draw.Face, c draw.Color) {
	for i, it := range items {
		if text, ok := it.(Text); ok && text.Face == face {
			text.Color = c
			items[i] = text
		}
	}
}

func tickBox(size float64, c draw.Color) draw.Picture {
	return draw.Picture{W: size, H: size, Items: []draw.Item{
		draw.Shape{Path: draw.Rect(0.2, 0.2, size-0.4, size-0.4), Stroke: &draw.Stroke{Color: c, Width: 0.3}}}}
}

// chart is the year on a sheet: names at the left, a strip of bars for each plant,
// its head again over every column, and the bed's name where a column goes on with it.
func (l *layer) chart(c booklet.Chart, width float64) []box {
	wide := width - l.size(chartName)
	cues := chartCues(c)
	scale := l.yearScale(c, l.size(chartName), wide, 4, sheetLanes, 0)
	t := &table{head: box{h: scale.h, items: scale.items}}
	head := t.head
	head.table, head.keep = t, true
	out := []box{head}
	s := l.inked()
	for _, g := range c.Groups {
		var under *box
		if g.Bed != "" {
			bed := l.headline([]prose.Run{{Text: g.Bed, Bold: true}}, s, 0, width, 0)
			b := box{h: l.grid(), gap: l.grid() / 4, items: moved(nil, bed[0].items, 0, l.grid()-bed[0].h), table: t, keep: true}
			out, under = append(out, b), &b
		}
		for _, r := range g.Rows {
			name := l.paragraph([]prose.Run{{Text: r.Name, Link: "#" + r.Plant}}, s, 0, l.size(chartName)-2, 0)
			var bars []figure.Bar
			for _, b := range r.Bars {
				bars = append(bars, figure.Bar{From: b.From, To: b.To, Mark: b.Mark, Family: b.Family})
			}
			h := max(l.grid(), height(name)+0.2, l.size(float64(r.Lanes(0))*2.6+0.2))
			b := stack(name)
			b.items = moved(nil, b.items, 0, (h-b.h)/2)
			b.h, b.table, b.under = h, t, under
			f := figure.Frame{W: wide / l.form.Scale, H: h / l.form.Scale}
			strip := draw.Picture{W: f.W, H: f.H, Items: []draw.Item{&draw.Sketch{Once: true, Draw: func() ([]draw.Item, string) {
				return figure.Strip(bars, len(c.Months), cues, l.pal, f).Items, ""
			}}}}
			b.items = append(b.items, Picture{X: l.size(chartName), Picture: l.sized(strip)},
				rule(0, h, width, 0.1, l.theme.Light.Hairline))
			out = append(out, b)
		}
	}
	return out
}

// legend shows marks in two columns, many of them in three so that they fit
// under the words that explain them. They stay on one page.
func (l *layer) legend(marks []booklet.LegendMark, width float64) []box {
	var out []box
	columns, between := 2, l.gutter()
	s := l.small()
	if len(marks) > fewMarks {
		columns, between = 3, l.gutter()/2
		// The long names share the last rows, where they may take two lines.
		marks = slices.Clone(marks)
		slices.SortStableFunc(marks, func(a, b booklet.LegendMark) int {
			return cmp.Compare(max(len(a.Name), longName), max(len(b.Name), longName))
		})
	}
	column := (width - float64(columns-1)*between) / float64(columns)
	for run := range slices.Chunk(marks, columns) {
		row := box{} // its height has the air between two rows
		for i, m := range run {
			x := float64(i) * (column + between)
			name := stack(l.paragraph([]prose.Run{{Text: m.Name, Link: "#" + m.Job}}, s, x+l.size(markSize)+3, column-l.size(markSize)-3, 0))
			row.items = append(row.items, Picture{X: x, Picture: l.mark(m.Mark, l.theme.Light.Family(m.Family))})
			row.items = moved(row.items, name.items, 0, max((l.size(markSize)-name.h)/2, 0))
			row.h = max(row.h, l.size(markSize), name.h)
		}
		row.h, row.keep = l.snap(row.h), true
		out = append(out, row)
	}
	if n := len(out); n > 0 {
		out[0].gap, out[n-1].keep = l.grid(), false
	}
	return out
}

// entries is a list of what stands where: what, and on which page.
func (l *layer) entries(rows []booklet.EntryRow, width float64) []box {
	var out []box
	s := l.text()
	for _, r := range rows {
		x := float64(r.Level) * l.size(indent)
		runs := slices.Clone(r.Runs)
		if r.Level == 0 {
			for i := range runs {
				runs[i].Bold = true
			}
		}
		if r.Aside != "" {
			runs = append(runs, prose.Run{Text: "  " + r.Aside, Quiet: true})
		}
		room := l.wide("", s)
		if r.Last != "" {
			room *= 2 // from page to page
		}
		b := stack(l.paragraph(runs, s, x, width-x-room, 0))
		if ref := l.ref("", r.Target, s, width, b.h-mm(s.leading)+l.baseline(s)); ref != nil {
			to := ref.(reference)
			to.last = r.Last
			b.items = append(b.items, to, Link{X: x, Y: 0, W: width - x, H: b.h, Target: r.Target})
		}
		if r.Level == 0 {
			b.gap = l.grid() / 4
		}
		out = append(out, b)
	}
	for i := range out[:max(len(out)-1, 0)] {
		// A part's name stays with the first of what it holds.
		out[i].keep = rows[i].Level == 0 && rows[i+1].Level == 1
	}
	return out
}

// names is the index, without its letters where that saves a page.
func (l *layer) names(s *booklet.Section) [][]Item {
	var out [][]Item
	for _, letters := range []bool{true, false} {
		var boxes []box
		for _, b := range s.Blocks {
			if list, ok := b.(booklet.IndexList); ok {
				boxes = append(boxes, l.index(list.Rows, letters, l.columnWidth(indexColumns))...)
			}
		}
		pages := l.fill(stack(l.title(s)), boxes, indexColumns)
		if out == nil || len(pages) < len(out) {
			out = pages
		}
	}
	return out
}

// index is names with page numbers, under their letters. Jobs are in the order of
// their names on their own pages.
func (l *layer) index(rows []booklet.IndexRow, letters bool, width float64) []box {
	var out []box
	s := l.small()
	s.color = l.theme.Light.Ink
	letter := ""
	for _, r := range rows {
		if !slices.ContainsFunc(r.Targets, func(id string) bool {
			s := l.book.Find(id)
			return s == nil || s.Kind != booklet.JobPage
		}) {
			continue
		}
		if letters && r.Letter != letter {
			letter = r.Letter
			b := l.headline([]prose.Run{{Text: letter, Bold: true}}, l.text(), 0, width, l.grid()/4)[0]
			b.keep = true
			out = append(out, b)
		}
		runs := slices.Clone(r.Runs)
		// By page, and a page once; each number leads to what stands there. Until pages
		// are known each has the room of the widest, so that the pages kept are enough.
		targets := slices.DeleteFunc(slices.Clone(r.Targets), func(t string) bool { return l.placed && l.pageOf[t] == 0 })
		slices.SortStableFunc(targets, func(a, b string) int { return cmp.Compare(l.pageOf[a], l.pageOf[b]) })
		targets = slices.CompactFunc(targets, func(a, b string) bool { return l.placed && l.pageOf[a] == l.pageOf[b] })
		for i, t := range targets {
			sep := ", "
			if i == 0 {
				sep = "  "
			}
			number := l.pages(t, "")
			if !l.placed {
				number = "000"
			}
			runs = append(runs, prose.Run{Text: sep + number, Link: "#" + t})
		}
		// A name of two lines hangs.
		lines := l.lines(runs, s, width-l.size(3))
		b := box{}
		for i, ln := range lines {
			x := 0.0
			if i > 0 {
				x = l.size(3)
			}
			b.items = moved(b.items, ln.items, x, b.h+l.baseline(s))
			b.h += mm(s.leading)
		}
		out = append(out, b)
	}
	return out
}
