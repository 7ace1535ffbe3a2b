package html

import (
	"html/template"
	"math"
	"slices"
	"strconv"
	"strings"

	"sheaf/generator/draw"
	"sheaf/generator/figure"
)

// faceClass is the class of a text by the role of its face; the style sheet
// says which font plays the role.
var faceClass = [...]string{
	draw.Body:          "f-body",
	draw.Bold:          "f-bold",
	draw.Italic:        "f-italic",
	draw.Heading:       "f-heading",
	draw.Caption:       "f-caption",
	draw.SmallCaps:     "f-smallcaps",
	draw.HeadingItalic: "f-heading-italic",
}

// mmPerPoint is the size of a typographic point: 25.4 mm / 72.
const mmPerPoint = 25.4 / 72

// svg paints p as an inline SVG element whose user unit is one millimetre; the
// style sheet gives it its width. vars names the CSS custom property of each
// colour of the theme ("--ink"), so that pictures follow dark mode; other
// colours are written as they are. prefix keeps the ids of several pictures on
// one page apart; it is written as it is.
func svg(p draw.Picture, prefix string, vars map[draw.Color]string) template.HTML {
	return painted(p, prefix, vars, 1).element(p.Title)
}

// element is the whole SVG element. The title is "" for a picture that another text
// names.
func (c canvas) element(title string) template.HTML {
	var w svgWriter
	w.b.Grow(len(c.inner) + len(title) + len(c.desc) + 300)
	w.str(`<svg viewBox="0 0 `)
	w.num(c.w)
	w.str(" ")
	w.num(c.h)
	// Most of what is drawn are lines with round ends.
	w.str(`" fill="none" stroke-linecap="round" stroke-linejoin="round`)
	if title == "" {
		w.str(`" aria-hidden="true">`)
	} else {
		w.str(`" role="img"><title>`)
		w.text(title)
		w.str("</title>")
		if c.desc != "" {
			w.str("<desc>")
			w.text(c.desc)
			w.str("</desc>")
		}
	}
	w.str(c.inner)
	w.str("</svg>")
	return template.HTML(w.b.String())
}

// painted is what [svg] puts into its element, with coordinates of grid hundredths of a
// millimetre. A coarse grid makes light pictures: with 5, a whole number is 0.05 mm and
// nothing is moved by more than a tenth of a pixel on a screen.
func painted(p draw.Picture, prefix string, vars map[draw.Color]string, grid float64) canvas {
	w := svgWriter{prefix: prefix, vars: vars, whole: grid > 1}
	p = p.Drawn()
	size := figure.Frame{W: p.W, H: p.H}
	if w.whole {
		p = p.Fit(p.W*100/grid, p.H*100/grid)
	}
	flat := p.Placed()
	points := 0
	for _, q := range flat {
		if q.Shape != nil {
			points += len(q.Shape.Path.Points)
		}
	}
	w.b.Grow(200 + 100*len(flat)/4 + 7*points)
	for i := 0; i < len(flat); {
		// Neighbours within the same clips share one <g>.
		n := 1
		for i+n < len(flat) && sameClips(flat[i].Clips, flat[i+n].Clips) {
			n++
		}
		w.run(flat[i : i+n])
		i += n
	}
	return canvas{w: p.W, h: p.H, inner: w.b.String(), desc: p.Desc, named: w.clips > 0, size: size}
}

type svgWriter struct {
	b      strings.Builder
	prefix string
	vars   map[draw.Color]string
	whole  bool // coordinates are whole numbers
	clips  int
	// A step of a path and a number, as they are written.
	rel, abs, number []byte
}

func (w *svgWriter) str(s string) { w.b.WriteString(s) }
func (w *svgWriter) text(s string) {
	template.HTMLEscape(&w.b, []byte(strings.ToValidUTF8(s, "\uFFFD")))
}
func (w *svgWriter) num(v float64) {
	w.number = draw.AppendHundredths(w.number[:0], draw.Hundredths(v), false)
	w.b.Write(w.number)
}

// run paints neighbours that lie in the same clips.
func (w *svgWriter) run(ps []draw.Painted) {
	for _, clip := range ps[0].Clips {
		w.clips++
		id := w.prefix + "c" + strconv.Itoa(w.clips)
		w.str(`<clipPath id="` + id + `"><path d="`)
		w.path(&pathPen{}, clip, draw.Identity())
		w.str(`"/></clipPath><g clip-path="url(#` + id + `)">`)
	}
	for i := 0; i < len(ps); {
		if ps[i].Label != nil {
			w.label(ps[i].Label)
			i++
			continue
		}
		n := 1
		for i+n < len(ps) && ps[i+n].Shape != nil && joinable(ps[i].Shape, ps[i+n].Shape) {
			n++
		}
		w.shape(ps[i : i+n])
		i += n
	}
	for range ps[0].Clips {
		w.str("</g>")
	}
}

// shape writes shapes of one style as one path.
func (w *svgWriter) shape(ps []draw.Painted) {
	s := ps[0].Shape
	if s.Fill == nil && s.Stroke == nil {
		return
	}
	w.str(`<path`)
	if s.Fill != nil {
		w.color("fill", *s.Fill)
		if s.EvenOdd {
			w.str(` fill-rule="evenodd"`)
		}
	}
	if st := s.Stroke; st != nil {
		w.color("stroke", st.Color)
		w.attr("stroke-width", st.Width)
		if len(st.Dash) > 0 {
			w.str(` stroke-dasharray="`)
			for i, d := range st.Dash {
				if i > 0 {
					w.str(" ")
				}
				w.num(d)
			}
			w.str(`"`)
		}
		if st.Cap != draw.RoundCap {
			w.str(` stroke-linecap="butt"`)
		}
		if st.Join != draw.RoundJoin {
			w.str(` stroke-linejoin="miter"`)
		}
	}
	if s.Opacity > 0 && s.Opacity < 1 {
		w.attr("opacity", s.Opacity)
	}
	w.str(` d="`)
	var pen pathPen
	for _, p := range ps {
		w.path(&pen, p.Shape.Path, p.M)
	}
	w.str(`"/>`)
}

func (w *svgWriter) label(l *draw.Label) {
	if l.Text == "" {
		return
	}
	w.str(`<text class="` + faceClass[l.Face] + `"`)
	w.attr("x", l.X)
	w.attr("y", l.Y)
	w.attr("font-size", l.Size*mmPerPoint)
	switch l.Anchor {
	case draw.Middle:
		w.str(` text-anchor="middle"`)
	case draw.End:
		w.str(` text-anchor="end"`)
	}
	w.color("fill", l.Color)
	w.str(">")
	w.text(l.Text)
	w.str("</text>")
}

func (w *svgWriter) attr(name string, v float64) {
	w.str(" " + name + `="`)
	w.num(v)
	w.str(`"`)
}

// color writes a colour of the theme as its custom property.
func (w *svgWriter) color(name string, c draw.Color) {
	if v, ok := w.vars[c]; ok {
		w.str(" " + name + `="var(` + template.HTMLEscapeString(v) + `)"`)
		return
	}
	w.str(" " + name + `="` + shortHex(c) + `"`)
}

// shortHex is #rgb where that says the same as #rrggbb.
func shortHex(c draw.Color) string {
	h := c.Hex()
	if h[1] == h[2] && h[3] == h[4] && h[5] == h[6] {
		return string([]byte{'#', h[1], h[3], h[5]})
	}
	return h
}

// pathPen is where the pen stands between commands, in hundredths of a
// millimetre: relative steps are taken between rounded points, so that
// rounding never adds up.
type pathPen struct {
	x, y, startX, startY int
	last                 byte // last command letter, which need not be repeated
	drawn                bool
}

func (w *svgWriter) at(v float64) int {
	if w.whole {
		return draw.Hundredths(math.Round(v))
	}
	return draw.Hundredths(v)
}

// path writes path data with each command absolute or relative, whichever is
// shorter.
func (w *svgWriter) path(pen *pathPen, p draw.Path, m draw.Matrix) {
	rel, abs := w.rel, w.abs
	at := 0
	for _, v := range p.Verbs {
		if v == draw.Close {
			w.str("z")
			pen.last, pen.x, pen.y = 'z', pen.startX, pen.startY
			continue
		}
		n := 1
		if v == draw.Cubic {
			n = 3
		}
		if at+n > len(p.Points) {
			return
		}
		letter := "mlc"[v]
		rel, abs = rel[:0], abs[:0]
		var x, y int
		for i, pt := range p.Points[at : at+n] {
			pt = m.Apply(pt)
			x, y = w.at(pt.X), w.at(pt.Y)
			rel = draw.AppendHundredths(rel, x-pen.x, i > 0)
			rel = draw.AppendHundredths(rel, y-pen.y, true)
			abs = draw.AppendHundredths(abs, x, i > 0)
			abs = draw.AppendHundredths(abs, y, true)
		}
		at += n
		step := rel
		if !pen.drawn || len(abs) < len(rel) { // a path starts with a capital M
			letter -= 'a' - 'A'
			step = abs
		}
		if letter != pen.last || v == draw.Move {
			w.b.WriteByte(letter)
		} else if step[0] != '-' {
			w.b.WriteByte(' ')
		}
		w.b.Write(step)
		pen.x, pen.y, pen.last, pen.drawn = x, y, letter, true
		if v == draw.Move {
			pen.startX, pen.startY = x, y
		}
	}
	w.rel, w.abs = rel, abs
}

// joinable says whether two shapes in a row look the same painted as one path:
// only opaque lines of one style do. Fills that overlap could cancel to holes,
// and translucent ones would no longer darken each other.
func joinable(a, b *draw.Shape) bool {
	if a.Fill != nil || b.Fill != nil {
		return false
	}
	op := func(s *draw.Shape) bool { return s.Opacity == 0 || s.Opacity == 1 }
	if a.Stroke == nil || b.Stroke == nil || !op(a) || !op(b) {
		return false
	}
	return a.Stroke.Color == b.Stroke.Color && a.Stroke.Width == b.Stroke.Width &&
		a.Stroke.Cap == b.Stroke.Cap && a.Stroke.Join == b.Stroke.Join &&
		slices.Equal(a.Stroke.Dash, b.Stroke.Dash)
}

// sameClips compares by identity: Flat gives neighbours in one group the very
// same list.
func sameClips(a, b []draw.Path) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}
