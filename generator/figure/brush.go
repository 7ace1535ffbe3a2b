package figure

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"sheaf/generator/draw"
)

// part says what a stroke stands for; the jobs tell parts apart.
type part uint8

const (
	wood part = iota
	stem
	leaf
	flower
	eye     // of a daisy
	support // posts and wires
)

// A shade is a colour of the plant, lighter (tone > 0) or darker (tone < 0).
type shade struct {
	of   part
	tone int8
}

// A stroke is one movement of the brush: a closed outline, or a line of a
// width. All closed outlines run clockwise, so that those of one shade can be
// painted as one path without holes where they overlap.
type stroke struct {
	path   draw.Path
	shade  shade
	line   float64 // mm; 0: a filled outline
	layer  int8    // painted from low to high
	part   part
	stem   int16 // the stem it grows on; strokes of one stem go together
	rising bool  // belongs to flower stems that rise above the leaf
}

// A sketch is a plant in the making: millimetres, the foot of the plant at the
// origin, up is negative.
type sketch struct {
	r       *rand.Rand
	h, fh   float64 // leaf and whole height
	w       float64 // spread
	mm      float64 // millimetres to a centimetre of the plant
	density float64 // 1 for a portrait, less for plants in a row
	dense   bool    // panicles are dense, as those of shrubs
	strokes []stroke
	stem    int16
	rising  bool
}

// n is how many strokes to draw where a portrait would have full.
func (s *sketch) n(full float64) int { return max(3, int(math.Round(full*s.density))) }

// about is v with a gaussian unevenness of the share sd, never far out.
func (s *sketch) about(v, sd float64) float64 { return v * (1 + s.gauss(sd)) }

// gauss is a gaussian around 0, cut off at two deviations.
func (s *sketch) gauss(sd float64) float64 {
	return sd * min(max(s.r.NormFloat64(), -2), 2)
}

// between is even between a and b.
func (s *sketch) between(a, b float64) float64 { return a + (b-a)*s.r.Float64() }

// tone is one of the tones from a to b.
func (s *sketch) tone(a, b int) int8 { return int8(a + s.r.IntN(b-a+1)) }

func (s *sketch) add(p draw.Path, sh shade, layer int, pt part) {
	s.strokes = append(s.strokes, stroke{path: p, shade: sh, layer: int8(layer), part: pt, stem: s.stem, rising: s.rising})
}

func (s *sketch) addLine(p draw.Path, sh shade, width float64, layer int, pt part) {
	s.strokes = append(s.strokes, stroke{path: p, shade: sh, line: width, layer: int8(layer), part: pt, stem: s.stem, rising: s.rising})
}

// A spine is the cubic centre line of a blade or stem.
type spine struct {
	p      [4]draw.Point
	a0, a1 float64 // direction at foot and tip, radians from upright, clockwise
}

// heading is the unit step in a direction measured from upright.
func heading(a float64) (dx, dy float64) {
	sin, cos := math.Sincos(a)
	return sin, -cos
}

// bend follows a rod of the given length that leaves (x, y) at angle a and has
// turned by droop at its tip. late is how the turning is spread: 1 is a
// circle, more keeps the foot straight and bends the tip, as weight does.
func bend(x, y, a, length, droop, late float64) spine {
	const steps = 6
	ex, ey := x, y
	for i := range steps {
		t := (float64(i) + 0.5) / steps
		dx, dy := heading(a + droop*math.Pow(t, late))
		ex, ey = ex+dx*length/steps, ey+dy*length/steps
	}
	c := spine{a0: a, a1: a + droop}
	d0x, d0y := heading(c.a0)
	d1x, d1y := heading(c.a1)
	// The Hermite ends; a late bend keeps more of the straight foot.
	k0 := length / 3 * min(1+0.25*(late-1), 1.6)
	k1 := length / 3
	c.p = [4]draw.Point{{X: x, Y: y}, {X: x + d0x*k0, Y: y + d0y*k0}, {X: ex - d1x*k1, Y: ey - d1y*k1}, {X: ex, Y: ey}}
	return c
}

// at is the point and direction at t from 0 (foot) to 1 (tip).
func (c spine) at(t float64) (x, y, angle float64) {
	u := 1 - t
	b0, b1, b2, b3 := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
	x = b0*c.p[0].X + b1*c.p[1].X + b2*c.p[2].X + b3*c.p[3].X
	y = b0*c.p[0].Y + b1*c.p[1].Y + b2*c.p[2].Y + b3*c.p[3].Y
	dx := u*u*(c.p[1].X-c.p[0].X) + 2*u*t*(c.p[2].X-c.p[1].X) + t*t*(c.p[3].X-c.p[2].X)
	dy := u*u*(c.p[1].Y-c.p[0].Y) + 2*u*t*(c.p[2].Y-c.p[1].Y) + t*t*(c.p[3].Y-c.p[2].Y)
	return x, y, math.Atan2(dx, -dy)
}

// height is how high above the ground the centre line rises.
func (c spine) height() float64 {
	top := -c.p[3].Y
	for _, t := range [...]float64{0.4, 0.55, 0.7, 0.85} {
		_, y, _ := c.at(t)
		top = max(top, -y)
	}
	return top
}

// pathOf is an empty path with room for what will be added.
func pathOf(verbs, points int) draw.Path {
	// A plant is a thousand short strokes, most of one curve.
	if verbs <= 3 && points <= 4 {
		room := new(struct {
			points [4]draw.Point
			verbs  [3]draw.Verb
		})
		return draw.Path{Verbs: room.verbs[:0:verbs], Points: room.points[:0:points]}
	}
	return draw.Path{Verbs: make([]draw.Verb, 0, verbs), Points: make([]draw.Point, 0, points)}
}

// line is the centre line as an open path.
func (c spine) line() draw.Path {
	p := pathOf(2, 4)
	p.MoveTo(c.p[0].X, c.p[0].Y).CubicTo(c.p[1].X, c.p[1].Y, c.p[2].X, c.p[2].Y, c.p[3].X, c.p[3].Y)
	return p
}

// blade is a tapered outline around the centre line: half as wide as foot at
// the bottom to each side, as belly in the middle, pointed at the tip.
func (c spine) blade(foot, belly float64) draw.Path {
	side := func(i int, a, half float64) draw.Point {
		// The normal that points to the right of the way up.
		sin, cos := math.Sincos(a)
		return draw.Point{X: c.p[i].X + cos*half, Y: c.p[i].Y + sin*half}
	}
	mid := c.a0 + (c.a1-c.a0)*0.35
	end := c.a0 + (c.a1-c.a0)*0.8
	l0, l1, l2 := side(0, c.a0, -foot/2), side(1, mid, -belly*0.6), side(2, end, -belly*0.5)
	r0, r1, r2 := side(0, c.a0, foot/2), side(1, mid, belly*0.6), side(2, end, belly*0.5)
	p := pathOf(4, 7)
	p.MoveTo(l0.X, l0.Y).CubicTo(l1.X, l1.Y, l2.X, l2.Y, c.p[3].X, c.p[3].Y).
		CubicTo(r2.X, r2.Y, r1.X, r1.Y, r0.X, r0.Y).Close()
	return p
}

// limb is a tapered outline that ends blunt, for branches.
func (c spine) limb(foot, tip float64) draw.Path {
	side := func(i int, a, half float64) (x, y float64) {
		sin, cos := math.Sincos(a)
		return c.p[i].X + cos*half, c.p[i].Y + sin*half
	}
	w1, w2 := foot+(tip-foot)*0.4, foot+(tip-foot)*0.75
	mid, end := c.a0+(c.a1-c.a0)*0.3, c.a0+(c.a1-c.a0)*0.8
	p := pathOf(5, 8)
	x0, y0 := side(0, c.a0, -foot/2)
	x1, y1 := side(1, mid, -w1/2)
	x2, y2 := side(2, end, -w2/2)
	x3, y3 := side(3, c.a1, -tip/2)
	p.MoveTo(x0, y0).CubicTo(x1, y1, x2, y2, x3, y3)
	x3, y3 = side(3, c.a1, tip/2)
	p.LineTo(x3, y3)
	x2, y2 = side(2, end, w2/2)
	x1, y1 = side(1, mid, w1/2)
	x0, y0 = side(0, c.a0, foot/2)
	p.CubicTo(x2, y2, x1, y1, x0, y0).Close()
	return p
}

// loop is a leaf or petal in one cubic, pointed at one end and round at the
// other. With the point at the tip it is ovate, with the point at the foot
// obovate.
func loop(x, y, a, length, width float64, pointedFoot bool) draw.Path {
	dx, dy := heading(a)
	sin, cos := math.Sincos(a)
	// The cubic reaches 3/4 of the way to its controls, and 0.577 of their
	// distance apart.
	k, half := length*4/3, width/0.577/2
	p := pathOf(3, 4)
	if pointedFoot {
		p.MoveTo(x, y).CubicTo(x+dx*k-cos*half, y+dy*k-sin*half, x+dx*k+cos*half, y+dy*k+sin*half, x, y).Close()
		return p
	}
	x, y = x+dx*length, y+dy*length
	p.MoveTo(x, y).CubicTo(x-dx*k+cos*half, y-dy*k+sin*half, x-dx*k-cos*half, y-dy*k-sin*half, x, y).Close()
	return p
}

// hair is a straight line from a point.
func hair(x, y, a, length float64) draw.Path {
	dx, dy := heading(a)
	return draw.Segment(x, y, x+dx*length, y+dy*length)
}

// wave is a smooth line through points (Catmull-Rom).
func wave(pts []draw.Point, closed bool) draw.Path {
	n := len(pts)
	get := func(i int) draw.Point {
		if closed {
			return pts[(i+n)%n]
		}
		return pts[min(max(i, 0), n-1)]
	}
	var p draw.Path
	p.MoveTo(pts[0].X, pts[0].Y)
	last := n - 1
	if closed {
		last = n
	}
	for i := range last {
		a, b, c, d := get(i-1), get(i), get(i+1), get(i+2)
		p.CubicTo(b.X+(c.X-a.X)/6, b.Y+(c.Y-a.Y)/6, c.X-(d.X-b.X)/6, c.Y-(d.Y-b.Y)/6, c.X, c.Y)
	}
	if closed {
		p.Close()
	}
	return p
}

// bounds is the box around the strokes that keep passes; nil keeps all.
func bounds(strokes []stroke, keep func(stroke) bool) (lo, hi draw.Point, ok bool) {
	lo, hi = draw.Point{X: math.Inf(1), Y: math.Inf(1)}, draw.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, st := range strokes {
		if keep != nil && !keep(st) {
			continue
		}
		half := st.line / 2
		ok = true
		along(st.path, func(b draw.Point) {
			lo.X, lo.Y = min(lo.X, b.X-half), min(lo.Y, b.Y-half)
			hi.X, hi.Y = max(hi.X, b.X+half), max(hi.Y, b.Y+half)
		})
	}
	return lo, hi, ok
}

// along visits points enough to know a path's box: ends, and for a cubic six
// points on the curve. It errs by far less than a line's width.
func along(p draw.Path, visit func(draw.Point)) {
	at := 0
	for _, v := range p.Verbs {
		switch v {
		case draw.Move, draw.Line:
			visit(p.Points[at])
			at++
		case draw.Cubic:
			a, b, c, d := p.Points[at-1], p.Points[at], p.Points[at+1], p.Points[at+2]
			for _, t := range [...]float64{0.15, 0.3, 0.45, 0.6, 0.75, 0.9} {
				u := 1 - t
				b0, b1, b2, b3 := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
				visit(draw.Point{X: b0*a.X + b1*b.X + b2*c.X + b3*d.X, Y: b0*a.Y + b1*b.Y + b2*c.Y + b3*d.Y})
			}
			visit(d)
			at += 3
		}
	}
}

// tint is how a run of strokes is coloured when painted.
type tint struct {
	shades  map[part]draw.Color
	opacity float64 // 0: opaque
	pale    bool    // flowers too pale for paper get a fine pen line round them
}

// light and dark are what shades are mixed with: sun and cool shadow.
func light() draw.Color { return draw.Color{R: 0xfd, G: 0xfa, B: 0xea} }
func dark() draw.Color  { return draw.Color{R: 0x16, G: 0x24, B: 0x26} }

// colour mixes a shade: towards warm light or towards a cold dark.
func (t tint) colour(sh shade) draw.Color {
	c := t.shades[sh.of]
	if sh.tone >= 0 {
		return c.Mix(light(), float64(sh.tone)*0.13)
	}
	return c.Mix(dark(), float64(-sh.tone)*0.15)
}

// paint gives the strokes as few shapes: strokes of one layer, shade and width
// become one path.
func paint(strokes []stroke, t tint) []draw.Item {
	order := make([]kind, len(strokes))
	for i, st := range strokes {
		order[i] = kind{layer: st.layer, shade: st.shade, line: st.line, i: int32(i)}
	}
	slices.SortFunc(order, kind.compare)
	var items []draw.Item
	for i := 0; i < len(order); {
		first := strokes[order[i].i]
		end, verbs, points := i, 0, 0
		for ; end < len(order) && order[end].layer == first.layer && order[end].shade == first.shade && order[end].line == first.line; end++ {
			verbs += len(strokes[order[end].i].path.Verbs)
			points += len(strokes[order[end].i].path.Points)
		}
		p := pathOf(verbs, points)
		for ; i < end; i++ {
			p.Append(strokes[order[i].i].path)
		}
		c := t.colour(first.shade)
		sh := draw.Shape{Path: p, Opacity: t.opacity}
		if first.line > 0 {
			sh.Stroke = &draw.Stroke{Color: c, Width: first.line, Cap: draw.RoundCap, Join: draw.RoundJoin}
		} else {
			sh.Fill = &c
			if first.part == flower && t.pale && t.opacity == 0 {
				sh.Stroke = &draw.Stroke{Color: c.Mix(dark(), 0.3), Width: 0.07, Join: draw.RoundJoin}
			}
		}
		items = append(items, sh)
	}
	return items
}

// A kind is what tells strokes that become one path, and the number of one.
type kind struct {
	line  float64
	i     int32
	layer int8
	shade shade
}

// compare sorts kinds by the order in which they are painted, and the strokes of
// one by theirs.
func (a kind) compare(b kind) int {
	switch {
	case a.layer != b.layer:
		return int(a.layer) - int(b.layer)
	case a.shade.of != b.shade.of:
		return int(a.shade.of) - int(b.shade.of)
	case a.shade.tone != b.shade.tone:
		return int(a.shade.tone) - int(b.shade.tone)
	case a.line != b.line:
		return cmp.Compare(a.line, b.line)
	}
	return cmp.Compare(a.i, b.i)
}

// moved gives the strokes with m applied to their points.
func moved(strokes []stroke, m draw.Matrix) []stroke {
	out := slices.Clone(strokes)
	for i := range out {
		out[i].path = out[i].path.Apply(m)
	}
	return out
}
