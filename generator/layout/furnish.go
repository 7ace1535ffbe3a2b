package layout

import (
	"strconv"

	"sheaf/generator/booklet"
	"sheaf/generator/draw"
	"sheaf/generator/photo"
	"sheaf/generator/prose"
	"sheaf/generator/theme"
)

// The furniture of pages: what a theme chooses in one of two ways.

// bare is paper, for letters that stand in a ground of colour. Every colour of a
// theme that words are set in can be read on white, and so white on it.
func bare() draw.Color { return draw.Color{R: 255, G: 255, B: 255} }

// panel is a filled rectangle.
func panel(x, y, w, h float64, c draw.Color) Item {
	return Picture{X: x, Y: y, Picture: draw.Picture{W: w, H: h, Items: []draw.Item{draw.Shape{Path: draw.Rect(0, 0, w, h), Fill: &c}}}}
}

// frame is a rectangle's outline, within its measures.
func frame(x, y, w, h, weight float64, c draw.Color) Item {
	return Picture{X: x, Y: y, Picture: draw.Picture{W: w, H: h, Items: []draw.Item{
		draw.Shape{Path: draw.Rect(weight/2, weight/2, w-weight, h-weight), Stroke: &draw.Stroke{Color: c, Width: weight}}}}}
}

// card is a label with its corners cut, as on the drawers of a seed merchant,
// and a fine line round what it says.
func card(x, y, w, h, cut float64, c draw.Color) Item {
	outline := func(in float64) draw.Path {
		k := cut - in*0.6
		var p draw.Path
		p.MoveTo(in+k, in).LineTo(w-in-k, in).LineTo(w-in, in+k).LineTo(w-in, h-in-k).LineTo(w-in-k, h-in).LineTo(in+k, h-in).LineTo(in, h-in-k).LineTo(in, in+k).Close()
		return p
	}
	return Picture{X: x, Y: y, Picture: draw.Picture{W: w, H: h, Items: []draw.Item{
		draw.Shape{Path: outline(0), Fill: &c},
		draw.Shape{Path: outline(cut * 0.45), Stroke: &draw.Stroke{Color: bare(), Width: 0.3}}}}}
}

// under puts a title under a heavy rule, where the theme has its titles so.
func (l *layer) under(b box) box {
	if l.theme.Furniture.Title != theme.Ruled {
		return b
	}
	weight := l.size(1.1)
	down := weight + l.size(1.6)
	b.items = append(moved(nil, b.items, 0, down), rule(0, weight/2, l.measure(), weight, l.theme.Light.Ink))
	b.h += down
	return b
}

// banded puts the name of a job on a band of its colour across the page.
func banded(boxes []box, width, air float64, c draw.Color) box {
	b := stack(boxes)
	b.h += 2 * air
	b.items = append([]Item{panel(0, 0, width, b.h, c)}, moved(nil, b.items, 0, air)...)
	return b
}

// labelled is the foot of a page with its number on a label and the running name
// beside it, on a rule as wide as the text.
func (l *layer) labelled(n int, part string) []Item {
	s, number := l.small(), l.small()
	number.color = bare()
	digits := l.setLine([]fragment{{text: strconv.Itoa(n), face: draw.Bold}}, number)
	name := l.setLine([]fragment{{text: part, face: draw.Body}}, s)
	y := l.form.Sheet.H - l.form.Margins.Foot + 7.5
	high := mm(s.size) * 1.5
	wide := max(digits.width+2*l.size(2), high*1.4)
	top := y - mm(s.size)*1.1
	const apart, weight = 3, 0.35
	left, right := l.form.Margins.Inner, l.form.Sheet.W-l.form.Margins.Outer
	if n%2 == 0 {
		left, right = l.form.Margins.Outer, l.form.Sheet.W-l.form.Margins.Inner
	}
	out := []Item{rule(left, top+high, right-left, weight, l.theme.Light.Ink)}
	if n%2 == 0 {
		out = append(out, panel(left, top, wide, high, l.theme.Light.Ink))
		out = moved(out, digits.items, left+(wide-digits.width)/2, y)
		return moved(out, name.items, left+wide+apart, y)
	}
	out = append(out, panel(right-wide, top, wide, high, l.theme.Light.Ink))
	out = moved(out, name.items, right-wide-apart-name.width, y)
	return moved(out, digits.items, right-wide+(wide-digits.width)/2, y)
}

// about are the lines of the cover that say for whom and by whom it is.
func (l *layer) about() []string {
	var out []string
	if l.book.For != "" {
		out = append(out, l.book.Words.Say("booklet.for", "for", l.book.For))
	}
	if l.book.By != "" {
		out = append(out, l.book.Words.Say("booklet.made by", "by", l.book.By))
	}
	return append(out, l.book.Date)
}

// framed is a cover in a double frame: the name on a label, the picture standing
// on a line under it, and at the foot for whom and by whom.
func (l *layer) framed(s *booklet.Section) []Item {
	w, h := l.measure(), l.columnHeight()
	c := l.theme.Light
	items := []Item{Anchor{ID: s.ID}, frame(0, 0, w, h, l.size(1.1), c.Ink), frame(l.size(2.2), l.size(2.2), w-l.size(4.4), h-l.size(4.4), 0.3, c.Ink)}
	in := l.size(9)
	sub := l.aside()
	sub.color = bare()
	// A long name is set smaller until the label leaves half of the page.
	var text box
	for size := min(1.6*l.form.Sizes.Name, 44); ; size -= 2 {
		name := l.display(size)
		name.color = bare()
		said := l.centred(s.Title, name, w-2*in-l.size(14))
		said = append(said, l.centred(prose.Plain(l.book.Subtitle), sub, w-2*in-l.size(14))...)
		if text = stack(said); text.h < h*0.32 || size <= l.form.Sizes.Text {
			break
		}
	}
	high := text.h + l.size(26)
	top := l.size(22)
	items = append(items, card(in, top, w-2*in, high, l.size(5), c.Moss))
	items = moved(items, text.items, in+l.size(7), top+l.size(13))

	foot := stack(func() (out []box) {
		for _, a := range l.about() {
			out = append(out, l.centred(prose.Plain(a), l.text(), w-2*in)...)
		}
		return out
	}())
	low := h - l.size(10) - foot.h
	items = moved(items, foot.items, in, low)
	if p := l.theme.PrintLogo; p != nil {
		pw, ph := fitted(p.Photo, l.size(46), l.size(16))
		low -= ph + l.size(4)
		items = append(items, Image{X: (w - pw) / 2, Y: low, W: pw, H: ph, Photo: p.Photo})
	}
	items = append(items, rule(w/2-l.size(9), low-l.size(5), l.size(18), 0.3, c.Ink))
	return append(items, l.coverPicture(s, w, w-2*l.size(7), top+high+l.size(6), low-l.size(12))...)
}

// centred sets a paragraph with each line in the middle.
func (l *layer) centred(runs []prose.Run, s style, width float64) []box {
	var out []box
	for _, ln := range l.lines(runs, s, width) {
		out = append(out, box{h: mm(s.leading), items: moved(nil, ln.items, (width-ln.width)/2, l.baseline(s))})
	}
	return out
}

// coverPicture is the row of plants, or the theme's photograph, between two
// heights of a cover of a width. It stands on the lower.
func (l *layer) coverPicture(s *booklet.Section, width, most, top, bottom float64) []Item {
	if bottom-top < l.size(15) {
		return nil // a name that fills the cover
	}
	if p := l.theme.Cover; p != nil {
		w, h := fitted(p.Photo, most, bottom-top)
		return []Item{Image{X: (width - w) / 2, Y: bottom - h, W: w, H: h, Photo: p.Photo}}
	}
	var out []Item
	for _, b := range s.Blocks {
		if f, ok := b.(booklet.Figure); ok {
			p := f.Picture.Fit(most, bottom-top)
			out = append(out, Picture{X: (width - p.W) / 2, Y: bottom - p.H, Picture: p})
		}
	}
	return out
}

// fitted is the size of a photograph within a width and a height, and never
// coarser than 100 points to the inch.
func fitted(p *photo.Photo, w, h float64) (float64, float64) {
	pw, ph := p.Size()
	wide := min(w, h*float64(pw)/float64(ph), float64(pw)*25.4/100)
	return wide, wide * float64(ph) / float64(pw)
}
