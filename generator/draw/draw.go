// Package draw is the one model of vector pictures: portraits, marks, charts.
// figure makes them, html paints them as SVG and pdf paints them on paper, so
// it holds exactly what both can do and nothing else.
//
// All lengths are millimetres; the origin is the top left corner and y runs
// downwards.
package draw

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Color is an opaque sRGB colour.
type Color struct{ R, G, B uint8 }

// ParseColor reads "#rrggbb".
func ParseColor(s string) (Color, error) {
	var c Color
	if len(s) != 7 || s[0] != '#' {
		return c, fmt.Errorf("%q is not a colour written #rrggbb", s)
	}
	for i, p := range []*uint8{&c.R, &c.G, &c.B} {
		var v uint8
		for _, d := range []byte(s[1+2*i : 3+2*i]) {
			switch {
			case d >= '0' && d <= '9':
				d -= '0'
			case d >= 'a' && d <= 'f':
				d -= 'a' - 10
			case d >= 'A' && d <= 'F':
				d -= 'A' - 10
			default:
				return Color{}, fmt.Errorf("%q is not a colour written #rrggbb", s)
			}
			v = v<<4 | d
		}
		*p = v
	}
	return c, nil
}

// Hex writes the colour as "#rrggbb".
func (c Color) Hex() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// Mix goes from c to o: t = 0 gives c, 1 gives o.
func (c Color) Mix(o Color, t float64) Color {
	m := func(a, b uint8) uint8 {
		return uint8(math.Round(min(max(float64(a)+(float64(b)-float64(a))*t, 0), 255)))
	}
	return Color{m(c.R, o.R), m(c.G, o.G), m(c.B, o.B)}
}

// Verb is one step of a path.
type Verb uint8

const (
	Move  Verb = iota // one point
	Line              // one point
	Cubic             // two control points and the end
	Close             // no point
)

// Point is a place in millimetres.
type Point struct{ X, Y float64 }

// A Path is a row of verbs and the points they use, in order.
type Path struct {
	Verbs  []Verb
	Points []Point
}

func (p *Path) MoveTo(x, y float64) *Path { return p.add(Move, Point{x, y}) }
func (p *Path) LineTo(x, y float64) *Path { return p.add(Line, Point{x, y}) }
func (p *Path) CubicTo(x1, y1, x2, y2, x, y float64) *Path {
	return p.add(Cubic, Point{x1, y1}, Point{x2, y2}, Point{x, y})
}
func (p *Path) Close() *Path { return p.add(Close) }

// QuadTo adds a quadratic curve as the cubic that is the same curve.
func (p *Path) QuadTo(cx, cy, x, y float64) *Path {
	from := Point{}
	if n := len(p.Points); n > 0 {
		from = p.Points[n-1]
	}
	return p.CubicTo(from.X+2./3*(cx-from.X), from.Y+2./3*(cy-from.Y), x+2./3*(cx-x), y+2./3*(cy-y), x, y)
}

// Append adds all of another path.
func (p *Path) Append(q Path) *Path {
	p.Verbs, p.Points = append(p.Verbs, q.Verbs...), append(p.Points, q.Points...)
	return p
}

func (p *Path) add(v Verb, pts ...Point) *Path {
	p.Verbs = append(p.Verbs, v)
	p.Points = append(p.Points, pts...)
	return p
}

// Rect is a closed rectangle.
func Rect(x, y, w, h float64) Path {
	var p Path
	p.MoveTo(x, y).LineTo(x+w, y).LineTo(x+w, y+h).LineTo(x, y+h).Close()
	return p
}

// Segment is an open straight line.
func Segment(x1, y1, x2, y2 float64) Path {
	var p Path
	p.MoveTo(x1, y1).LineTo(x2, y2)
	return p
}

// kappa places the control points of a quarter circle drawn as one cubic:
// 4/3·(√2−1).
const kappa = 0.5522847498307936

// Ellipse is a closed ellipse around (x, y).
func Ellipse(x, y, rx, ry float64) Path {
	var p Path
	kx, ky := rx*kappa, ry*kappa
	p.MoveTo(x+rx, y).
		CubicTo(x+rx, y+ky, x+kx, y+ry, x, y+ry).
		CubicTo(x-kx, y+ry, x-rx, y+ky, x-rx, y).
		CubicTo(x-rx, y-ky, x-kx, y-ry, x, y-ry).
		CubicTo(x+kx, y-ry, x+rx, y-ky, x+rx, y).Close()
	return p
}

// Cap and Join are the ends and corners of a stroke.
type (
	Cap  uint8
	Join uint8
)

const (
	ButtCap Cap = iota
	RoundCap
)

const (
	MiterJoin Join = iota
	RoundJoin
)

// A Stroke is a line along a path, Width in millimetres.
type Stroke struct {
	Color Color
	Width float64
	Dash  []float64 // on, off, … in millimetres; empty is solid
	Cap   Cap
	Join  Join
}

// An Item is a Shape, a Group, a Label or a Sketch.
type Item interface{ item() }

// A Shape is a path that is filled, stroked or both.
type Shape struct {
	Path    Path
	Fill    *Color // nil: not filled
	EvenOdd bool
	Stroke  *Stroke // nil: not stroked
	// Opacity from 0 to 1; 0 is read as 1, so that a plain Shape is opaque.
	Opacity float64
}

// A Group moves and may clip what it holds.
type Group struct {
	M     Matrix
	Clip  *Path // nil: not clipped; in the group's own coordinates
	Items []Item
}

// Face is a role of type; the theme says which font plays it.
type Face uint8

const (
	Body Face = iota
	Bold
	Italic
	Heading
	Caption
	SmallCaps
	HeadingItalic
)

// Anchor is which part of a label stands at its X.
type Anchor uint8

const (
	Start Anchor = iota
	Middle
	End
)

// A Label is one line of text; X, Y is a point on its baseline, Size its type
// size in points.
type Label struct {
	X, Y   float64
	Face   Face
	Size   float64
	Anchor Anchor
	Text   string
	Color  Color
}

// A Sketch is what a picture holds instead of its items as long as nobody paints
// it: drawings are the larger part of a booklet of a thousand plants. Draw gives
// the same each time, and what the picture shows in words.
type Sketch struct {
	Draw func() (items []Item, desc string)
	// Once is of what stands in one place, and need not be kept as it was painted.
	Once bool
}

func (Shape) item()   {}
func (Group) item()   {}
func (Label) item()   {}
func (*Sketch) item() {}

// A Picture is a drawing of W by H millimetres. Title names it and Desc says
// in words what it shows, for those who cannot see it.
type Picture struct {
	W, H        float64
	Title, Desc string
	Items       []Item
}

// Matrix maps (x, y) to (A·x + C·y + E, B·x + D·y + F), as SVG's matrix(…).
type Matrix struct{ A, B, C, D, E, F float64 }

// Identity leaves points where they are; Shift and Scale move and size them.
func Identity() Matrix            { return Matrix{A: 1, D: 1} }
func Shift(x, y float64) Matrix   { return Matrix{A: 1, D: 1, E: x, F: y} }
func Scale(sx, sy float64) Matrix { return Matrix{A: sx, D: sy} }

// Rotate turns by an angle in radians, clockwise on the page.
func Rotate(a float64) Matrix {
	s, c := math.Sincos(a)
	return Matrix{A: c, B: s, C: -s, D: c}
}

// Then is m followed by n.
func (m Matrix) Then(n Matrix) Matrix {
	return Matrix{
		A: n.A*m.A + n.C*m.B, B: n.B*m.A + n.D*m.B,
		C: n.A*m.C + n.C*m.D, D: n.B*m.C + n.D*m.D,
		E: n.A*m.E + n.C*m.F + n.E, F: n.B*m.E + n.D*m.F + n.F,
	}
}

// Apply maps one point.
func (m Matrix) Apply(p Point) Point {
	return Point{m.A*p.X + m.C*p.Y + m.E, m.B*p.X + m.D*p.Y + m.F}
}

// Even tells a matrix that moves and sizes evenly and does nothing else.
func (m Matrix) Even() bool { return m.A == m.D && m.A > 0 && m.B == 0 && m.C == 0 }

// size is how much m stretches lengths: the root of the area it makes of a
// unit square. It sizes strokes and type.
func (m Matrix) size() float64 { return math.Sqrt(math.Abs(m.A*m.D - m.B*m.C)) }

// Apply maps a whole path.
func (p Path) Apply(m Matrix) Path {
	out := Path{Verbs: p.Verbs, Points: make([]Point, len(p.Points))}
	for i, pt := range p.Points {
		out.Points[i] = m.Apply(pt)
	}
	return out
}

// Drawn gives the picture with what its sketches stand for.
func (p Picture) Drawn() Picture {
	p.Items = p.drawn(p.Items)
	return p
}

func (p *Picture) drawn(items []Item) []Item {
	for i, it := range items {
		switch it := it.(type) {
		case *Sketch:
			inner, desc := it.Draw()
			p.Desc = cmp.Or(p.Desc, desc)
			items = slices.Clone(items)
			items[i] = Group{M: Identity(), Items: inner}
		case Group:
			if inner := p.drawn(it.Items); len(inner) > 0 && &inner[0] != &it.Items[0] {
				items = slices.Clone(items)
				it.Items = inner
				items[i] = it
			}
		}
	}
	return items
}

// Flat gives the picture's shapes and labels with all groups applied to their
// points, in painting order, each with the clips it lies in. Painters walk
// this list, so no back end keeps a state that could leak.
func (p Picture) Flat() []Painted {
	out := p.Placed()
	for i, q := range out {
		if q.Shape != nil {
			q.Shape.Path = q.Shape.Path.Apply(q.M)
			out[i].M = Identity()
		}
	}
	return out
}

// Placed is Flat with each shape's points as they were drawn, for painters that
// apply its matrix as they go: a portrait has thousands of points.
func (p Picture) Placed() []Painted {
	p = p.Drawn()
	var f flattener
	f.count(p.Items)
	f.flat(p.Items, Identity(), nil)
	return f.out
}

// Painted is one shape or label in the picture's own coordinates.
type Painted struct {
	Shape *Shape
	Label *Label
	Clips []Path
	M     Matrix // of the shape's points
}

// A flattener holds what a flat picture is made of in long rows.
type flattener struct {
	out    []Painted
	shapes []Shape
}

// count makes room for what items hold.
func (f *flattener) count(items []Item) {
	var painted, shapes int
	var visit func([]Item)
	visit = func(items []Item) {
		for _, it := range items {
			switch it := it.(type) {
			case Shape:
				painted, shapes = painted+1, shapes+1
			case Label:
				painted++
			case Group:
				visit(it.Items)
			}
		}
	}
	visit(items)
	f.out, f.shapes = make([]Painted, 0, painted), make([]Shape, 0, shapes)
}

func (f *flattener) flat(items []Item, m Matrix, clips []Path) {
	for _, it := range items {
		switch it := it.(type) {
		case Shape:
			if it.Stroke != nil && m.size() != 1 {
				s := *it.Stroke
				s.Width *= m.size()
				s.Dash = nil
				for _, d := range it.Stroke.Dash {
					s.Dash = append(s.Dash, d*m.size())
				}
				it.Stroke = &s
			}
			f.shapes = append(f.shapes, it)
			f.out = append(f.out, Painted{Shape: &f.shapes[len(f.shapes)-1], Clips: clips, M: m})
		case Label:
			at := m.Apply(Point{it.X, it.Y})
			it.X, it.Y, it.Size = at.X, at.Y, it.Size*m.size()
			f.out = append(f.out, Painted{Label: &it, Clips: clips})
		case Group:
			inner := it.M.Then(m)
			within := clips
			if it.Clip != nil {
				within = append(append([]Path(nil), clips...), it.Clip.Apply(inner))
			}
			f.flat(it.Items, inner, within)
		}
	}
}

// Fit gives the picture scaled evenly to lie in w by h millimetres.
func (p Picture) Fit(w, h float64) Picture {
	s := min(w/p.W, h/p.H)
	return Picture{W: p.W * s, H: p.H * s, Title: p.Title, Desc: p.Desc,
		Items: []Item{Group{M: Scale(s, s), Items: p.Items}}}
}
