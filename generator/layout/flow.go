package layout

import (
	"strconv"

	"sheaf/generator/draw"
	"sheaf/generator/prose"
	"sheaf/generator/theme"
)

// A box is what cannot be broken: a line, a row, a picture. Its items are
// placed from its own top left corner.
type box struct {
	h     float64
	gap   float64 // space above it, dropped at the top of a page
	items []Item
	keep  bool    // the next box must follow on the same page
	fresh bool    // it begins a page, or at least a column
	room  float64 // it begins a page where less than this is left; 0: anywhere
	table *table
	under *box // of a row of a table: the name that it stands under
}

// A table's head stands again at the top of each page it runs on to.
type table struct{ head box }

// fill sets boxes on pages of one or more columns, none taller than the page.
// A head stands over all columns of the first page; it may be empty.
func (l *layer) fill(head box, boxes []box, columns int) [][]Item {
	var pages [][]Item
	page := append([]Item(nil), head.items...)
	top := head.h // where the columns of the present page begin
	column, y := 0, top
	height := l.columnHeight()
	next := func() {
		if column++; column == columns {
			pages = append(pages, page)
			page, column, top = nil, 0, 0
		}
		y = top
	}
	put := func(b box) {
		page = moved(page, b.items, float64(column)*(l.columnWidth(columns)+l.gutter()), y)
		y += b.h
	}
	for i := 0; i < len(boxes); {
		last, need := chain(boxes, i)
		if need > height+slack {
			// Longer than a page: it must run on, box by box.
			last, need = i, boxes[i].h
		}
		if y > top && (boxes[i].fresh || height-y < boxes[i].room || y+boxes[i].gap+need > height+slack) || y == top && top > 0 && y+need > height+slack {
			next()
			if t := boxes[i].table; t != nil && i > 0 && boxes[i-1].table == t {
				put(t.head)
				if boxes[i].under != nil {
					put(*boxes[i].under)
				}
			}
		}
		for ; i <= last; i++ {
			if y > top {
				y += boxes[i].gap
			}
			put(boxes[i])
		}
	}
	return append(pages, page)
}

// takes is how many pages [layer.fill] sets boxes on in one column.
func (l *layer) takes(boxes []box) int {
	pages, y, height := 1, 0.0, l.columnHeight()
	for i := 0; i < len(boxes); {
		last, need := chain(boxes, i)
		if need > height+slack {
			last, need = i, boxes[i].h
		}
		if y > 0 && (boxes[i].fresh || height-y < boxes[i].room || y+boxes[i].gap+need > height+slack) {
			pages, y = pages+1, 0
		}
		for ; i <= last; i++ {
			if y > 0 {
				y += boxes[i].gap
			}
			y += boxes[i].h
		}
	}
	return pages
}

// chain is a box with all that must stay on its page: the index of the last,
// and their height together.
func chain(boxes []box, first int) (last int, need float64) {
	last, need = first, boxes[first].h
	for boxes[last].keep && last+1 < len(boxes) {
		last++
		need += boxes[last].gap + boxes[last].h
	}
	return last, need
}

// slack forgives rounding when a page is exactly full.
const slack = 0.01

func (l *layer) columnWidth(columns int) float64 {
	return (l.measure() - float64(columns-1)*l.gutter()) / float64(columns)
}

func (l *layer) gutter() float64 { return l.size(6) }

// measure is the width of the text, in millimetres.
func (l *layer) measure() float64 {
	return l.form.Sheet.W - l.form.Margins.Inner - l.form.Margins.Outer
}

// columnHeight is the height of the text in whole lines of the baseline grid.
func (l *layer) columnHeight() float64 {
	h := l.form.Sheet.H - l.form.Margins.Head - l.form.Margins.Foot
	return float64(int(h/l.grid())) * l.grid()
}

// grid is one line of text, in millimetres.
func (l *layer) grid() float64 { return mm(l.form.Sizes.Leading) }

// add puts pages of items into the document, each with its margins and foot.
func (l *layer) add(pages [][]Item, part string) {
	for _, items := range pages {
		n := len(l.doc.Pages) + 1
		left := l.form.Margins.Inner
		if n%2 == 0 {
			left = l.form.Margins.Outer
		}
		var foot []Item
		if part != "" {
			foot = l.foot(n, part)
		}
		p := Page{W: l.form.Sheet.W, H: l.form.Sheet.H, Items: make([]Item, 0, len(items)+len(foot))}
		for _, it := range items {
			if a, ok := it.(Anchor); ok {
				l.pageOf[a.ID] = n
			}
			p.Items = append(p.Items, shift(it, left, l.form.Margins.Head))
		}
		p.Items = append(p.Items, foot...)
		l.doc.Pages = append(l.doc.Pages, p)
	}
}

// footLine is the baseline of a page's foot below the text, in millimetres: a quarter of
// an inch over the edge that printers leave white (STANDARDS 5.5) with what hangs below it.
const footLine = 6.8

// foot is the page number and the running name at the outer foot.
func (l *layer) foot(n int, part string) []Item {
	if l.theme.Furniture.Foot == theme.Label {
		return l.labelled(n, part)
	}
	s := l.small()
	y := l.form.Sheet.H - l.form.Margins.Foot + footLine
	number := l.setLine([]fragment{{text: strconv.Itoa(n), face: draw.Bold}}, s)
	name := l.word(part, draw.Body, s)
	const apart = 4 // mm
	var out []Item
	if n%2 == 0 {
		x := l.form.Margins.Outer
		out = moved(out, number.items, x, y)
		return moved(out, name.items, x+number.width+apart, y)
	}
	x := l.form.Sheet.W - l.form.Margins.Outer
	out = moved(out, name.items, x-number.width-apart-name.width, y)
	return moved(out, number.items, x-number.width, y)
}

func moved(out, items []Item, dx, dy float64) []Item {
	for _, it := range items {
		out = append(out, shift(it, dx, dy))
	}
	return out
}

// paragraph makes boxes of runs, one a line, that never leave a single line
// alone at a page's foot or head.
func (l *layer) paragraph(runs []prose.Run, s style, x, width, gap float64) []box {
	return stacked(l.lines(runs, s, width), l.baseline(s), s, x, gap)
}

// stacked makes boxes of lines.
func stacked(lines []line, baseline float64, s style, x, gap float64) []box {
	boxes := make([]box, len(lines))
	for i, ln := range lines {
		boxes[i] = box{h: mm(s.leading), items: moved(nil, ln.items, x, baseline)}
	}
	for i := range boxes {
		if i == 0 {
			boxes[i].gap = gap
		}
		// Two lines at least before a break and two after it.
		boxes[i].keep = i+1 < len(boxes) && (i == 0 || i+2 == len(boxes))
	}
	return boxes
}

// headline is [layer.paragraph] with a line at least: a name of which the typeface
// has no letter still takes its place, with what hangs on it.
func (l *layer) headline(runs []prose.Run, s style, x, width, gap float64) []box {
	if boxes := l.paragraph(runs, s, x, width, gap); len(boxes) > 0 {
		return boxes
	}
	return []box{{h: mm(s.leading), gap: gap}}
}

// baseline is where letters stand in a line of the style, from its top: the
// line's white is shared two to one above and below, as eyes expect.
func (l *layer) baseline(s style) float64 {
	return mm(s.leading)*0.5 + mm(s.size)*0.34
}

// height of boxes set one under the other.
func height(boxes []box) float64 {
	h := 0.0
	for i, b := range boxes {
		h += b.h
		if i > 0 {
			h += b.gap
		}
	}
	return h
}

// stack joins boxes to one that cannot be broken.
func stack(boxes []box) box {
	var out box
	for i, b := range boxes {
		if i > 0 {
			out.h += b.gap
		}
		out.items = moved(out.items, b.items, 0, out.h)
		out.h += b.h
	}
	return out
}

// snap rounds a height up to the half lines of the grid.
func (l *layer) snap(h float64) float64 {
	half := l.grid() / 2
	n := int(h / half)
	if h > float64(n)*half+slack {
		n++
	}
	return float64(n) * half
}

// rule is a straight line as a picture.
func rule(x, y, w, weight float64, c draw.Color) Item {
	return Picture{X: x, Y: y, Picture: draw.Picture{W: w, H: weight, Items: []draw.Item{
		draw.Shape{Path: draw.Segment(0, 0, w, 0), Stroke: &draw.Stroke{Color: c, Width: weight}}}}}
}
