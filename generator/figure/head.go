package figure

import (
	"math"

	"sheaf/generator/draw"
)

// A head form is how many flower heads of a kind a plant carries and how large
// they are, as a share of its height in flower.
type headForm struct {
	count, size float64
	mass        bool // as broad as it is high, and held within the leaf's width
}

func headFormOf(kind string) headForm {
	switch kind {
	case "spike":
		return headForm{count: 15, size: 0.2}
	case "plume":
		return headForm{count: 12, size: 0.22}
	case "panicle":
		return headForm{count: 10, size: 0.25}
	case "bottlebrush":
		return headForm{count: 17, size: 0.13}
	case "umbel":
		return headForm{count: 9, size: 0.17, mass: true}
	case "daisy":
		return headForm{count: 13, size: 0.12, mass: true}
	case "globe":
		return headForm{count: 11, size: 0.12, mass: true}
	case "bell":
		return headForm{count: 9, size: 0.17, mass: true}
	case "cup":
		return headForm{count: 11, size: 0.11, mass: true}
	case "flat":
		return headForm{count: 10, size: 0.18, mass: true}
	case "cloud":
		return headForm{count: 9, size: 0.3, mass: true}
	}
	return headForm{}
}

// headSize is the length of a head in millimetres.
func (s *sketch) headSize(p Plant) float64 {
	f := headFormOf(p.Head)
	size := f.size * max(s.h, s.fh)
	switch {
	case p.Head == "spike" && p.Habit == "spire":
		size *= 2
	case p.Head == "spike" && s.fh > 0 && (p.Type == "subshrub" || p.Type == "perennial"):
		size = min(size*1.25, max(s.fh-s.h, size*0.7))
	}
	if f.mass {
		size = min(size, s.w*0.24)
		// Flowers of trees and tall climbers do not grow with them.
		size = min(size, max(24*s.mm, 0.04*s.h))
	}
	// A plant with more strokes than a portrait has smaller ones.
	return max(size/max(1, math.Sqrt(s.density)), 1)
}

// stems draws the flower stems that rise above the leaf, with their heads. fan
// is how far the outermost lean, in radians.
func (s *sketch) stems(p Plant, fan float64) {
	f := headFormOf(p.Head)
	if s.fh <= 0 || f.count == 0 {
		return
	}
	switch p.Habit {
	case "upright", "column", "spire":
		fan = min(fan, 0.13)
	case "fountain", "arching", "vase", "mound":
		fan = min(fan, 0.42)
	}
	s.rising = true
	size := s.headSize(p)
	n := s.n(f.count)
	nod := 0.12
	switch p.Head {
	case "plume":
		nod = 0.4
	case "panicle", "cloud":
		nod = 0.25
	case "bottlebrush":
		nod = 0.5
	case "bell":
		nod = 0.5
	}
	if p.Habit == "arching" {
		nod += 0.5
	}
	dome := p.Type == "subshrub" || p.Habit == "dome" || p.Habit == "tuft"
	switch {
	case p.Type == "bulb":
		n, fan, dome = min(n, 5), 0.12, false
	case p.Habit == "spire":
		n = min(n, 7)
	case dome:
		n = s.n(f.count * 1.15)
		fan = max(fan, min(math.Atan2(s.w*0.48, s.fh*0.9), 1.1))
		if p.Habit == "tuft" {
			size *= 0.75
		}
	}
	if p.Habit == "mat" {
		size = min(size, s.fh*0.4)
	}
	for i := range n {
		u := (float64(i)+0.5)/float64(n)*2 - 1
		u = u + s.gauss(0.5/float64(n))
		s.stem = int16(200 + i)
		a := u*fan + s.gauss(0.03)
		long := s.fh - size*0.75
		if dome {
			r := 1 / math.Hypot(math.Cos(a)/s.fh, math.Sin(a)/(s.w*0.55))
			long = max(r-size*0.8, s.fh*0.2)
		}
		l := s.about(long*(1-0.12*math.Abs(u)), 0.07)
		if i == n/2 {
			l = long
		}
		x := u * s.w * 0.09
		switch p.Habit {
		case "mat":
			x, a = u*s.w*0.44, u*0.25+s.gauss(0.08)
			l = s.about(s.fh-size*0.8, 0.1)
		case "clump", "upright", "column", "":
			x = u * s.w * 0.2
		}
		c := bend(x, 0, a, l, sign(u+s.gauss(0.2))*s.about(nod, 0.3), 2.2)
		width := min(max(0.16, s.fh*0.0045), 0.45)
		s.addLine(c.line(), shade{stem, s.tone(-1, 1)}, width, 3+i%3*2, stem)
		tx, ty, ta := c.at(1)
		s.head(p.Head, tx, ty, ta, size*s.between(0.85, 1.12), 20+i%3*2)
	}
	s.rising, s.stem = false, 0
}

// heads puts flowers within the leaf: at the tips of the stems, or scattered
// over the sunny side.
func (s *sketch) heads(p Plant, tips []spine) {
	f := headFormOf(p.Head)
	if s.fh > 0 || f.count == 0 {
		return
	}
	size := s.headSize(p)
	if !f.mass {
		size *= 0.7
	}
	n := s.n(f.count)
	if p.Habit == "mat" {
		s.strew(p, size)
		return
	}
	if len(tips) > 0 {
		back := 0.55
		if !f.mass {
			back = 0.35
		}
		for i, c := range s.choose(tips, n) {
			x, y, a := c.at(1)
			dx, dy := heading(a)
			// Heads turn up to the light.
			s.head(p.Head, x-dx*size*back, y-dy*size*back, a*0.6, size*s.between(0.85, 1.1), 20+i%3*2)
			for j := len(s.strokes) - 1; j >= 0 && s.strokes[j].stem == 0 && s.strokes[j].part == flower; j-- {
				s.strokes[j].stem = int16(200 + i)
			}
		}
		return
	}
	for i := range n {
		u := (float64(i)+0.5)/float64(n)*2 - 1
		a := u*1.1 + s.gauss(0.08)
		r := s.reach(a)*s.between(0.72, 1) - size*0.8
		dx, dy := heading(a)
		s.stem = int16(200 + i)
		s.head(p.Head, dx*r, min(dy*r, -size*0.3), a*0.6, size*s.between(0.85, 1.1), 20+i%3*2)
	}
	s.stem = 0
}

// strew puts small flowers over a carpet.
func (s *sketch) strew(p Plant, size float64) {
	size = min(size, s.h*0.35, s.w*0.05)
	for i := range s.n(26) {
		x := s.between(-0.9, 0.9)
		y := -s.h * 0.86 * math.Pow(1-math.Pow(math.Abs(x), 3), 0.6) * s.between(0.55, 1)
		s.stem = int16(200 + i)
		for k := range 4 {
			s.petal(x*s.w/2, y, float64(k)*1.6+s.gauss(0.3)-2.4, size*0.6, size*0.5, true, s.tone(-1, 2), 20)
		}
	}
	s.stem = 0
}

// choose takes n of the tips, spread as far apart as they can be.
func (s *sketch) choose(tips []spine, n int) []spine {
	high := tips[:0:0]
	for _, c := range tips {
		if -c.p[3].Y > s.h*0.35 {
			high = append(high, c)
		}
	}
	if len(high) <= n {
		return high
	}
	far := make([]float64, len(high))
	for i := range far {
		far[i] = math.Inf(1)
	}
	out := make([]spine, 0, n)
	next := s.r.IntN(len(high))
	for range n {
		out = append(out, high[next])
		best := -1.0
		at := high[next].p[3]
		for i, c := range high {
			far[i] = min(far[i], math.Hypot(c.p[3].X-at.X, c.p[3].Y-at.Y))
			// The outer ones by preference.
			if v := far[i] * (0.6 + math.Hypot(c.p[3].X/(s.w/2), c.p[3].Y/s.h)); v > best {
				best, next = v, i
			}
		}
	}
	return out
}

// petal adds one filled loop of the flower colour.
func (s *sketch) petal(x, y, a, length, width float64, pointedFoot bool, tone int8, layer int) {
	s.add(loop(x, y, a, length, width, pointedFoot), shade{flower, tone}, layer, flower)
}

// fine is a count of the small parts of a head, fewer where plants are small.
func (s *sketch) fine(full float64) int {
	return max(3, int(full*min(1, 0.2+0.8*s.density)))
}

// head draws one flower head that begins at (x, y) and points along a.
func (s *sketch) head(kind string, x, y, a, size float64, layer int) {
	hairWidth := min(max(size*0.035, 0.13), 0.3)
	switch kind {
	case "spike":
		c := bend(x, y, a, size, s.gauss(0.12), 1)
		n := s.fine(17 * min(max(size/8, 1), 1.7))
		w := min(size*0.22, max(size*0.1, 1.4))
		for i := range n {
			t := float64(i) / float64(n)
			px, py, pa := c.at(t)
			side := sign(float64(i%2) - 0.5)
			l := w * (1.25 - 0.75*t) * s.between(0.85, 1.15)
			s.petal(px, py, pa+side*(0.75-0.4*t), l*1.25, l*0.75, false, s.tone(-2, 2), layer)
		}
		px, py, pa := c.at(0.9)
		s.petal(px, py, pa, size*0.1, w*0.4, false, 0, layer)
	case "plume":
		c := bend(x, y, a, size, sign(a)*s.between(0.25, 0.7), 1.4)
		n := s.fine(19)
		for i := range n {
			t := float64(i) / float64(n)
			px, py, pa := c.at(t)
			side := sign(float64(i%2) - 0.5)
			l := size * (0.36 - 0.2*t) * s.between(0.8, 1.2)
			h := bend(px, py, pa+side*s.between(0.25, 0.55), l, sign(a)*s.between(0.5, 1.1), 1)
			s.add(h.blade(hairWidth, hairWidth*2.2), shade{flower, s.tone(-1, 3)}, layer+i%2, flower)
		}
		s.addLine(c.line(), shade{flower, -2}, hairWidth, layer, flower)
	case "bottlebrush":
		c := bend(x, y, a, size, sign(a)*s.between(0.1, 0.5), 1.2)
		s.add(c.blade(size*0.1, size*0.17), shade{flower, -2}, layer, flower)
		n := s.fine(26)
		for i := range n {
			t := (float64(i) + 0.5) / float64(n)
			px, py, pa := c.at(t)
			side := sign(float64(i%2) - 0.5)
			l := size * 0.21 * math.Pow(math.Sin(math.Pi*(0.15+0.75*t)), 0.6) * s.between(0.85, 1.15)
			s.addLine(hair(px, py, pa+side*(1.15-0.75*t), l), shade{flower, s.tone(-1, 3)}, hairWidth, layer+1, flower)
		}
	case "panicle":
		if s.dense {
			s.cone(x, y, a, size, layer)
			return
		}
		c := bend(x, y, a, size, sign(a)*s.between(0.05, 0.3), 1.2)
		s.addLine(c.line(), shade{flower, -2}, hairWidth*0.8, layer, flower)
		n := s.fine(9)
		grain := min(max(size*0.05, 0.34), 0.8)
		for i := range n {
			t := 0.05 + 0.9*float64(i)/float64(n)
			px, py, pa := c.at(t)
			side := sign(float64(i%2) - 0.5)
			l := size * (0.38 - 0.28*t) * s.between(0.75, 1.15)
			b := bend(px, py, pa+side*s.between(0.5, 0.8), l, side*s.between(0.1, 0.5), 1)
			s.addLine(b.line(), shade{flower, -1}, hairWidth*0.6, layer, flower)
			for k := range 3 {
				gx, gy, ga := b.at(1 - 0.3*float64(k))
				s.petal(gx, gy, ga+s.gauss(0.5), grain*1.5, grain*0.8, false, s.tone(-2, 2), layer+1)
			}
		}
		gx, gy, ga := c.at(1)
		s.petal(gx, gy, ga, grain*1.6, grain*0.7, false, 0, layer+1)
	case "umbel":
		rays := s.fine(9)
		for i := range rays {
			u := (float64(i)+0.5)/float64(rays)*2 - 1
			ra := a*0.5 + u*1.15
			l := size * (0.5 + 0.12*math.Abs(u)) * s.between(0.95, 1.05)
			h := bend(x, y, ra, l, -u*0.35, 1)
			s.addLine(h.line(), shade{stem, 0}, hairWidth*0.7, layer, flower)
			ex, ey, _ := h.at(1)
			for range 4 {
				d := size * 0.11
				s.petal(ex+s.between(-1, 1)*d*1.1, ey+s.between(-0.6, 0.3)*d, s.between(-1.2, 1.2), d, d*0.9, true, s.tone(-1, 2), layer+1)
			}
		}
	case "daisy":
		tilt := s.between(0.45, 0.9)
		r := size * 0.5
		n := s.fine(13)
		for i := range n {
			pa := float64(i)/float64(n)*2*math.Pi + s.gauss(0.08)
			sin, cos := math.Sincos(pa)
			fx, fy := sin, -cos*tilt
			l := r * math.Hypot(fx, fy) * s.between(0.88, 1.05)
			s.petal(x, y, math.Atan2(fx, -fy), l, r*0.34*(0.5+0.5*tilt), true, s.tone(-1, 2), layer)
		}
		e := draw.Ellipse(x, y-r*0.06, r*0.27, r*0.27*max(tilt, 0.6))
		s.add(e, shade{eye, 0}, layer+1, flower)
	case "globe":
		r := size / 2
		dx, dy := heading(a)
		cx, cy := x+dx*r, y+dy*r
		n := s.fine(34)
		for i := range n {
			// A sunflower's spiral spreads them evenly; the rim first.
			q := math.Sqrt(1 - (float64(i)+0.5)/float64(n))
			th := float64(i) * 2.399963
			sin, cos := math.Sincos(th)
			px, py := cx+sin*q*r*0.78, cy-cos*q*r*0.78
			tone := s.tone(-1, 0)
			if sin-(-cos) < 0.4-q || (sin < 0.2 && cos > -0.2) {
				tone = s.tone(0, 2)
			}
			if cos < -0.5 && q > 0.5 {
				tone = -2
			}
			l, w := r*0.44, r*0.32
			if s.dense {
				l, w = r*0.4, r*0.4 // florets side by side, not rays
			}
			s.petal(px-sin*l*0.45, py+cos*l*0.45, th+s.gauss(0.15), l, w, true, tone, layer+i*2/n)
		}
	case "bell":
		// A nodding tip with bells along its under side.
		lean := sign(a + s.gauss(0.1))
		c := bend(x, y, a, size, lean*1.3, 1.2)
		s.addLine(c.line(), shade{stem, 0}, hairWidth, layer, flower)
		bells := 4
		if s.density < 0.4 {
			bells = 2
		}
		for i := range bells {
			px, py, _ := c.at(1 - 0.24*float64(i))
			l := size * (0.22 + 0.02*float64(i)) * s.between(0.9, 1.1)
			// Each on a stalk of its own, clear of its neighbours.
			turn := -lean*0.12 + lean*float64(i)*0.16
			sin, cos := math.Sincos(-turn)
			drop := size * 0.07
			s.addLine(draw.Segment(px, py, px+sin*drop, py+cos*drop), shade{stem, 0}, hairWidth*0.8, layer, flower)
			s.bell(px+sin*drop, py+cos*drop, l, turn, layer+1+i%2)
		}
	case "cup":
		w := size * 0.62
		type pet struct{ lean, length, width float64 }
		size *= s.between(0.72, 1)
		w *= s.between(0.85, 1.1)
		for i, q := range [...]pet{{-0.32, 0.98, 0.62}, {0.32, 0.98, 0.62}, {0, 1, 0.6}, {-0.62, 0.85, 0.55}, {0.62, 0.85, 0.55}, {0.04, 0.82, 0.72}} {
			tone := [...]int8{-2, -2, -1, 1, 0, 2}[i]
			s.petal(x, y, a+q.lean+s.gauss(0.05), size*q.length*s.between(0.93, 1.05), w*q.width*1.25, true, tone, layer+i/3)
		}
	case "flat":
		r := size / 2
		for i := range 5 {
			u := float64(i)/2 - 1
			s.addLine(draw.Segment(x, y, x+u*r*0.8, y-size*0.2), shade{stem, 0}, hairWidth*0.8, layer, flower)
		}
		n := s.fine(30)
		for i := range n {
			q := math.Sqrt((float64(i) + 0.5) / float64(n))
			sin, cos := math.Sincos(float64(i) * 2.399963)
			px, py := x+sin*q*r*0.92, y-size*0.24-cos*q*r*0.2
			d := size * 0.15
			tone := s.tone(-1, 2)
			if cos < -0.3 {
				tone = s.tone(-2, -1)
			}
			s.petal(px, py+d*0.5, s.gauss(0.5), d*0.95, d*0.9, true, tone, layer+1)
		}
	case "cloud":
		n := s.fine(7)
		grain := min(max(size*0.05, 0.4), 0.9)
		for i := range n {
			u := (float64(i)+0.5)/float64(n)*2 - 1
			b := bend(x, y, a*0.6+u*0.55+s.gauss(0.08), size*(1-0.3*math.Abs(u))*s.between(0.8, 1), u*0.5, 1)
			s.addLine(b.line(), shade{stem, 1}, hairWidth*0.5, layer, flower)
			for k := range 6 {
				t := 0.25 + 0.13*float64(k)
				gx, gy, ga := b.at(t)
				side := sign(float64(k%2) - 0.5)
				off := size * s.between(0.03, 0.12)
				dx, dy := heading(ga + side*0.9)
				s.petal(gx+dx*off, gy+dy*off, ga+side*0.6, grain*1.4, grain, false, s.tone(-1, 2), layer+1)
			}
		}
	}
}

// bell is one hanging bell: a waist, a flared rim with three lobes.
func (s *sketch) bell(x, y, l, lean float64, layer int) {
	w := l * 0.42
	var p draw.Path
	p.MoveTo(0, 0).
		CubicTo(w*0.9, 0, w*0.7, l*0.55, w*1.05, l*0.9).
		CubicTo(w*0.8, l*1.1, w*0.5, l*1.05, w*0.35, l*0.9).
		CubicTo(w*0.2, l*1.12, -w*0.2, l*1.12, -w*0.35, l*0.9).
		CubicTo(-w*0.5, l*1.05, -w*0.8, l*1.1, -w*1.05, l*0.9).
		CubicTo(-w*0.7, l*0.55, -w*0.9, 0, 0, 0).Close()
	s.add(p.Apply(draw.Rotate(lean).Then(draw.Shift(x, y))), shade{flower, s.tone(-1, 2)}, layer, flower)
}

// cone is the dense panicle of a shrub: florets over a pointed egg.
func (s *sketch) cone(x, y, a, size float64, layer int) {
	c := bend(x, y, a, size, s.gauss(0.15), 1)
	n := s.fine(28)
	d := size * 0.22
	for i := range n {
		t := float64(i) / float64(n) * 0.94
		px, py, pa := c.at(t)
		half := size * 0.24 * math.Sin(math.Pi*(0.22+0.78*math.Pow(t, 0.8)))
		u := float64(i%3) - 1 + s.gauss(0.2)
		sin, cos := math.Sincos(pa)
		tone := s.tone(-1, 1)
		if u < -0.3 {
			tone = s.tone(0, 2)
		} else if u > 0.5 {
			tone = s.tone(-2, -1)
		}
		s.petal(px+cos*u*half*0.6, py+sin*u*half*0.6, pa+u*0.8, d*(1-0.4*t), d*0.75*(1-0.4*t), true, tone, layer+i%2)
	}
}
