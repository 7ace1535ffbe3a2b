package figure

import (
	"math"

	"sheaf/generator/draw"
)

// leafShape is the look of a plant's leaves, chosen once from its seed.
type leafShape struct {
	length float64 // of the plant's height
	width  float64 // of the length
}

func (s *sketch) leafShape(p Plant) leafShape {
	l := leafShape{length: s.between(0.1, 0.14), width: s.between(0.32, 0.55)}
	switch p.Habit {
	case "column", "spire", "upright":
		l.length, l.width = s.between(0.1, 0.14), s.between(0.22, 0.36)
	}
	if p.Type == "annual" || p.Type == "tender" {
		l.length *= 0.75
	}
	// Fewer leaves are drawn larger.
	l.length *= min(1.7, 1/math.Sqrt(s.density))
	return l
}

// leafyStems draws perennials: a clump of stems with leaves along them.
func (s *sketch) leafyStems(p Plant) {
	type habit struct {
		stems, base, fan, droop, late, fall, bare float64
	}
	f := habit{stems: 17, base: 0.3, fan: 0.75, droop: 0.35, late: 1.5, fall: 0.12, bare: 0.12}
	switch p.Habit {
	case "upright":
		f = habit{stems: 13, base: 0.45, fan: 0.22, droop: 0.08, late: 1.5, fall: 0.15, bare: 0.1}
	case "column":
		f = habit{stems: 11, base: 0.7, fan: 0.06, droop: 0.04, late: 1.5, fall: 0.1, bare: 0.05}
	case "spire":
		f = habit{stems: 9, base: 0.35, fan: 0.24, droop: -0.06, late: 1.5, fall: 0.45, bare: 0.05}
	case "arching":
		f = habit{stems: 13, base: 0.12, fan: 0.55, droop: 1.8, late: 1.6, fall: 0, bare: 0.3}
	case "vase":
		f = habit{stems: 15, base: 0.15, fan: 0.6, droop: 0.15, late: 2, fall: 0.02, bare: 0.35}
	case "dome":
		f = habit{stems: 21, base: 0.5, fan: 1.05, droop: 0.15, late: 1.3, fall: 0.05, bare: 0.15}
	}
	s.stems(p, 0.35)
	ls := s.leafShape(p)
	n := s.n(f.stems)
	perStem := s.n(26)
	if s.density < 1 {
		perStem = max(5, perStem*3/4)
	}
	var tips []spine
	for i := range n {
		u := (1 - (float64(i)+0.5)/float64(n)) * sign(float64(i%2)-0.5)
		u += s.gauss(0.05)
		s.stem = int16(i + 1)
		a := u*f.fan + s.gauss(0.09)
		d := sign(u+s.gauss(0.3)) * s.about(f.droop, 0.25) * (0.4 + 0.6*math.Abs(u))
		l := s.about(s.reach(a+d*0.4)*(1-f.fall*math.Abs(u)), 0.07) * (1 + d*d*0.06) * 0.97
		if i > n*2/3 {
			l *= s.between(0.62, 0.95) // those in front
		}
		c := bend(u*f.base*s.w/2, 0, a, l, d, f.late)
		layer := 1 + i*3/n*3
		s.addLine(c.line(), shade{stem, s.tone(-1, 1)}, max(0.16, s.h*0.006), layer, stem)
		s.dress(c, ls, perStem, f.bare, layer+1, int8(i*3/n)-1)
		tips = append(tips, c)
	}
	s.stem = 0
	s.heads(p, tips)
}

// dress puts n leaves along a stem from bare of its length upwards, larger in
// the middle, alternately left and right; shine lightens stems in front.
func (s *sketch) dress(c spine, ls leafShape, n int, bare float64, layer int, shine int8) {
	for j := range n {
		t := bare + (1-bare)*(float64(j)+s.between(0, 0.8))/float64(n)
		x, y, a := c.at(min(t, 0.99))
		side := sign(float64(j%2) - 0.5)
		size := ls.length * s.h * (0.5 + 0.75*math.Sin(math.Pi*math.Pow(t, 0.8))) * s.between(0.75, 1.15)
		if t > 0.9 {
			side *= 0.4
		}
		angle := a + side*s.between(0.75, 1.45)
		tone := s.tone(-2, 0)
		// Light falls from the upper left.
		if math.Sin(angle) < 0.2 || t > 0.75 {
			tone = s.tone(-1, 1)
		}
		s.add(loop(x, y, angle, size, size*ls.width, false), shade{leaf, tone + shine}, layer+j%2, leaf)
	}
}

// leafyMound draws a low mound of stalked leaves: cranesbill, lady's mantle,
// plantain lily.
func (s *sketch) leafyMound(p Plant) {
	s.stems(p, 0.4)
	n := s.n(85)
	width := s.between(0.62, 0.8)
	size := min(0.3*s.h, 0.2*s.w) * min(1.4, 1/math.Sqrt(s.density))
	// Cranesbill and its like have divided leaves, drawn as three lobes.
	lobed := p.Head != "bell" && s.r.Float64() < 0.6
	if lobed {
		n = s.n(110)
		size *= 0.85
	}
	for i := range n {
		// From the back and the rim to the middle and the front.
		depth := float64(i) / float64(n)
		a := s.between(-1.45, 1.45)
		rim := 1 - 0.6*depth*s.r.Float64()
		if i < n/3 {
			a = (float64(i)/float64(n/3)*2 - 1) * 1.42
			rim = s.about(0.97, 0.05)
		}
		r := s.reach(a) * rim
		c := bend(s.gauss(0.05)*s.w, 0, a*0.6, r, a*0.5, 1.4)
		x, y, _ := c.at(1)
		layer := 1 + int(depth*5)*2
		s.stem = int16(i + 1)
		s.addLine(c.line(), shade{stem, s.tone(-1, 1)}, max(0.13, s.h*0.008), layer-1, stem)
		l := s.about(size, 0.15) * (0.8 + 0.3*depth)
		angle := a*1.1 + s.gauss(0.3)
		if a < 0.15 && a > -0.15 {
			angle += s.between(-0.8, 0.8)
		}
		tone := s.tone(-2, 0)
		if depth > 0.4 {
			tone = s.tone(-1, 2)
		}
		dx, dy := heading(angle)
		x, y = x-dx*l*0.55, min(y-dy*l*0.55, -l*0.1)
		if lobed {
			for k := -1.0; k <= 1; k++ {
				s.add(loop(x, y, angle+k*0.85, l*(0.8-0.12*math.Abs(k)), l*0.46, true), shade{leaf, tone}, layer, leaf)
			}
			continue
		}
		s.add(loop(x, y, angle, l, l*width, false), shade{leaf, tone}, layer, leaf)
		if s.density >= 0.6 && depth > 0.3 {
			s.addLine(hair(x, y, angle, l*0.8), shade{leaf, tone - 2}, 0.1, layer+1, leaf)
		}
	}
	s.stem = 0
	s.heads(p, nil)
}

// mat draws carpets of small leaves on creeping stems.
func (s *sketch) mat(p Plant) {
	s.stems(p, 0.25)
	n := s.n(430)
	size := max(min(s.h*0.46, s.w*0.055), 0.5)
	runners := s.n(16)
	for i := range runners {
		u := (float64(i)+0.5)/float64(runners)*2 - 1
		c := bend(u*s.w*0.3, -s.h*0.12, sign(u)*1.1, s.w*0.2*s.between(0.7, 1.2), sign(u)*0.35, 1)
		s.addLine(c.line(), shade{stem, -1}, 0.18, 0, stem)
	}
	for i := range n {
		depth := float64(i) / float64(n)
		x := s.between(-1, 1)
		// A carpet is level and ragged at its rim.
		rise := math.Pow(1-math.Pow(math.Abs(x), 3), 0.6) * (1 + 0.12*math.Sin(x*13+float64(n)))
		y := -s.h * 0.8 * rise * (1 - depth*0.95) * s.about(1, 0.08)
		angle := x*0.9 + s.gauss(0.7)
		l := s.about(size, 0.2)
		tone := s.tone(-2, 0)
		if depth < 0.45 {
			tone = s.tone(-1, 2)
		}
		s.stem = int16(i%runners + 1)
		s.add(loop(x*(s.w/2-l*0.6), y, angle, l, l*0.5, false), shade{leaf, tone}, 1+int(depth*4), leaf)
	}
	s.stem = 0
	s.heads(p, nil)
}

// rosette draws broad leaves that lie out from one point.
func (s *sketch) rosette(p Plant) {
	s.stems(p, 0.1)
	n := s.n(30)
	spoon := p.Height > 15 && s.r.Float64() < 0.6
	for i := range n {
		depth := float64(i) / float64(n)
		u := (1 - depth) * sign(float64(i%2)-0.5)
		a := sign(u)*(0.25+1.2*math.Abs(u)) + s.gauss(0.1)
		// The outer leaves lie, those in front point at us and look short.
		l := s.reach(min(max(a, -1.5), 1.5)) * s.between(0.75, 1.05)
		if depth > 0.6 {
			l *= s.between(0.6, 0.95)
		}
		w := l * s.between(0.24, 0.32)
		if p.Height > p.Spread*0.6 {
			w *= 0.7
		}
		c := bend(u*s.w*0.03, -s.h*0.02, a*0.85, l, sign(u)*s.between(0.15, 0.5), 1.3)
		layer := 1 + int(depth*6)*2
		tone := s.tone(-2, 1)
		s.stem = int16(i + 1)
		if spoon {
			// A stalk and a round blade at its end.
			x, y, ang := c.at(0.42)
			s.addLine(c.line(), shade{leaf, tone - 1}, max(0.25, w*0.12), layer, leaf)
			s.add(loop(x, y, ang, l*0.62, w*1.75, true), shade{leaf, tone}, layer, leaf)
		} else {
			s.add(c.blade(w*0.3, w), shade{leaf, tone}, layer, leaf)
		}
		if s.density >= 0.6 {
			var rib draw.Path
			x, y, _ := c.at(0.9)
			rib.MoveTo(c.p[0].X, c.p[0].Y).CubicTo(c.p[1].X, c.p[1].Y, c.p[2].X, c.p[2].Y, x, y)
			s.addLine(rib, shade{leaf, tone + 2}, 0.13, layer+1, leaf)
		}
	}
	s.stem = 0
	s.heads(p, nil)
}

// fern draws fronds with their pinnae.
func (s *sketch) fern(p Plant) {
	fronds, fan, droop, late, base := 12.0, 0.75, 1.05, 2.4, 0.12
	switch p.Habit {
	case "shuttlecock":
	case "upright", "column", "vase":
		fan, droop = 0.45, 0.6
	case "mat", "rosette":
		fan, droop, late, fronds, base = 1.25, 0.7, 1.4, 14, 0.4
	case "clump", "tuft":
		fan, droop, late, base = 0.85, 0.8, 1.6, 0.4
	default:
		fan, droop, late = 0.95, 1.6, 1.4
	}
	n := s.n(fronds)
	pairs := s.n(22)
	for i := range n {
		depth := float64(i) / float64(n)
		u := (1 - depth*0.92) * sign(float64(i%2)-0.5)
		if p.Habit == "shuttlecock" {
			// A ring of fronds round an open middle.
			u = (1 - depth*0.7) * sign(float64(i%2)-0.5)
		}
		a := u*fan + s.gauss(0.05)
		d := sign(u) * s.about(droop, 0.15) * (0.45 + 0.55*math.Abs(u))
		l := s.about(s.reach(a+d*0.35), 0.06) * (1 + d*d*0.08)
		if depth > 0.6 {
			l *= 0.88 // those that come towards us
		}
		c := bend(u*base*s.w/2, 0, a, l, d, late)
		if top, want := c.height(), s.h*s.between(0.86, 1)*(1-0.2*depth); top > want {
			c = bend(u*base*s.w/2, 0, a, l*want/top, d, late)
		}
		layer := 1 + i*5/n*2
		tone := s.tone(-2, 0)
		if depth > 0.5 {
			tone = s.tone(0, 2)
		}
		s.stem = int16(i + 1)
		s.addLine(c.line(), shade{leaf, tone - 2}, max(0.18, s.h*0.007), layer+1, leaf)
		for j := range pairs {
			t := 0.12 + 0.87*(float64(j)+0.5)/float64(pairs)
			x, y, ang := c.at(t)
			size := l * 0.17 * math.Pow(math.Sin(math.Pi*(0.1+0.9*math.Pow(t, 0.7))), 0.8) * s.about(1, 0.06)
			size = max(size, l*0.02)
			w := l / float64(pairs) * 0.95
			for _, side := range [2]float64{-1, 1} {
				if s.density < 0.6 && (j+int(side))%2 == 0 && j%3 == 0 {
					continue
				}
				s.add(loop(x, y, ang+side*(1.25-0.35*t)+s.gauss(0.05), size, min(w, size*0.5), false), shade{leaf, tone}, layer, leaf)
			}
		}
	}
	s.stem = 0
}
