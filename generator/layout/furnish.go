package layout

import (
	"strconv"

	"sheaf/generator/draw"
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
	name := l.word(part, draw.Body, s)
	y := l.form.Sheet.H - l.form.Margins.Foot + footLine
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
