package figure

import (
	"math"
	"slices"

	"sheaf/generator/draw"
)

// grow draws the plant at mm millimetres to the centimetre. density thins the
// strokes of plants that stand in a row; a plant of more than most segments is
// drawn again with fewer strokes.
func grow(p Plant, mm, density float64, most int) []stroke {
	var strokes []stroke // of the try before, whose room is used again
	for {
		s := &sketch{
			r: generator(p.Seed + "\x00" + p.Habit + p.Type),
			h: p.Height * mm, fh: p.FlowerHeight * mm, w: p.Spread * mm, mm: mm, density: density, strokes: slices.Grow(strokes[:0], most),
		}
		s.form(p)
		strokes = s.strokes
		n := segments(strokes)
		if n <= most || density < 0.02 {
			s.settle()
			return s.strokes
		}
		density *= max(0.97*float64(most)/float64(n), 0.5)
	}
}

// segments counts the lines and curves of the strokes.
func segments(strokes []stroke) (n int) {
	for _, st := range strokes {
		for _, v := range st.path.Verbs {
			if v == draw.Line || v == draw.Cubic {
				n++
			}
		}
	}
	return n
}

// form sends a plant to the way of drawing its kind and habit.
func (s *sketch) form(p Plant) {
	bladed := false
	switch p.Type {
	case "grass", "sedge", "rush":
		bladed = true
	case "fern":
		s.fern(p)
		return
	case "hedge":
		s.hedge(p)
		return
	case "climber":
		s.climber(p)
		return
	case "bamboo":
		s.bamboo(p)
		return
	case "tree":
		s.woody(p)
		return
	case "bulb":
		bladed = true
	}
	switch p.Habit {
	case "climber":
		s.climber(p)
	case "shuttlecock":
		s.fern(p)
	case "sword":
		s.swords(p)
	case "standard":
		s.woody(p)
	case "tuft":
		s.blades(p)
	default:
		switch {
		case bladed:
			s.blades(p)
		case p.Type == "shrub" || p.Type == "subshrub" || p.Type == "rose":
			s.woody(p)
		case p.Habit == "dome" || p.Habit == "column" || p.Habit == "vase":
			s.leafyStems(p)
		case p.Habit == "rosette":
			s.rosette(p)
		case p.Habit == "mat":
			s.mat(p)
		case p.Habit == "mound":
			s.leafyMound(p)
		case p.Habit == "fountain":
			s.blades(p)
		default:
			s.leafyStems(p)
		}
	}
}

// settle brings the drawing to its true size: the leaf to the leaf's height
// and spread, the flower stems to the height in flower.
func (s *sketch) settle() {
	lo, hi, ok := bounds(s.strokes, func(st stroke) bool { return !st.rising })
	kx, ky := 1.0, 1.0
	if ok {
		kx = min(max(s.w/(hi.X-lo.X), 0.45), 2)
		ky = min(max(s.h/-lo.Y, 0.45), 2)
	}
	shift := 0.0
	if ok {
		shift = -(lo.X + hi.X) / 2 * kx * 0.6
	}
	m := draw.Matrix{A: kx, D: ky, E: shift}
	mf := m
	if lo, hi, ok := bounds(s.strokes, func(st stroke) bool { return st.rising }); ok && s.fh > 0 {
		fy := min(max(s.fh/-lo.Y, 0.6), 1.5)
		// Flower stems may lean out a little beyond the leaf.
		fx := min(1, s.w*0.62/max(hi.X, -lo.X))
		mf = draw.Matrix{A: max(fx, 0.5), D: fy, E: shift}
	}
	for i := range s.strokes {
		st := &s.strokes[i]
		by := m
		if st.rising {
			by = mf
		}
		for j, pt := range st.path.Points {
			pt = by.Apply(pt)
			pt.Y = min(pt.Y, 0) // nothing grows into the ground
			st.path.Points[j] = pt
		}
	}
}

// reach is how far an ellipse of the plant's height and half spread lies from
// its foot in a direction from upright.
func (s *sketch) reach(a float64) float64 {
	sin, cos := math.Sincos(a)
	return 1 / math.Hypot(cos/s.h, sin/(s.w/2))
}

// sign is -1 or 1.
func sign(v float64) float64 {
	if v < 0 {
		return -1
	}
	return 1
}

// A blade form is a habit of grass-like leaves.
type bladeForm struct {
	count      float64
	base       float64 // half width of the foot, of the half spread
	fan        float64 // outermost lean, radians
	droop, out float64 // bend of the inner blades, and what the outer add
	late       float64 // how late they bend
	width      float64 // of a blade, of its length
	fall       float64 // how much shorter the outer blades are
	uneven     float64
}

func formOf(habit string) bladeForm {
	switch habit {
	case "tuft":
		return bladeForm{count: 140, base: 0.16, fan: 1.35, droop: 0.12, out: 0.3, late: 1.3, width: 0.02, uneven: 0.12}
	case "mound":
		return bladeForm{count: 170, base: 0.14, fan: 0.75, droop: 1.5, out: 0.7, late: 1.1, width: 0.024, fall: 0.05, uneven: 0.14}
	case "upright":
		return bladeForm{count: 130, base: 0.34, fan: 0.2, droop: 0.1, out: 0.45, late: 2.2, width: 0.013, fall: 0.3, uneven: 0.13}
	case "arching":
		return bladeForm{count: 140, base: 0.1, fan: 0.46, droop: 1.35, out: 0.75, late: 4, width: 0.016, fall: 0.1, uneven: 0.12}
	case "vase":
		return bladeForm{count: 130, base: 0.07, fan: 0.66, droop: 0.03, out: 0.2, late: 2.5, width: 0.016, fall: -0.12, uneven: 0.06}
	case "column":
		return bladeForm{count: 120, base: 0.8, fan: 0.05, droop: 0.05, out: 0.08, late: 2, width: 0.012, fall: 0.1, uneven: 0.08}
	case "dome":
		return bladeForm{count: 150, base: 0.4, fan: 1.2, droop: 0.75, out: 0.3, late: 1.2, width: 0.02, uneven: 0.03}
	case "spire":
		return bladeForm{count: 120, base: 0.4, fan: 0.62, droop: -0.1, out: 0.25, late: 1.6, width: 0.016, fall: 0.68, uneven: 0.06}
	case "clump":
		return bladeForm{count: 130, base: 0.5, fan: 0.55, droop: 0.45, out: 0.7, late: 1.8, width: 0.022, fall: 0.15, uneven: 0.16}
	}
	return bladeForm{count: 150, base: 0.12, fan: 0.85, droop: 0.9, out: 0.85, late: 1.5, width: 0.018, fall: 0.02, uneven: 0.13} // fountain
}

// blades draws grasses, sedges, rushes and the leaves of bulbs.
func (s *sketch) blades(p Plant) {
	switch p.Habit {
	case "mat":
		s.bladeMat(p)
		return
	case "rosette":
		s.rosette(p)
		return
	case "sword":
		s.swords(p)
		return
	}
	f := formOf(p.Habit)
	width := f.width
	switch p.Type {
	case "rush":
		f.droop, f.out, f.late = f.droop*0.3, f.out*0.4, 1
	case "bulb":
		f.count, width = 13, 0.07
		f.uneven, f.fan, f.droop, f.out = 0.1, max(f.fan*0.7, 0.3), 0.15, 0.6
	case "perennial", "annual", "tender":
		width *= 1.3
	}
	s.stems(p, 0.5)
	n := s.n(f.count)
	half := s.w / 2
	for i := range n {
		// Outer blades first, alternately left and right, so that the inner
		// ones stand in front.
		u := (1 - float64(i)/float64(n)) * sign(float64(i%2)-0.5)
		u = min(max(u+s.gauss(0.1), -1), 1)
		depth := float64(i) / float64(n)
		a := u*f.fan + s.gauss(0.06)
		d := sign(u+s.gauss(0.25)) * s.about(f.droop+f.out*math.Abs(u), 0.25)
		chord := a + d*0.4
		l := s.about(s.reach(min(max(chord, -1.5), 1.5))*(1-f.fall*math.Abs(u)), f.uneven)
		if s.r.Float64() < 0.25 {
			l *= s.between(0.45, 0.8) // young leaves, low in the middle
		}
		// A bent blade is longer than its chord.
		l *= 1 + d*d*0.06
		x := u*f.base*half + s.gauss(0.05*half*f.base)
		if p.Habit == "clump" {
			// Three tufts grown together.
			x = (float64(i%3)-1)*half*0.5 + s.gauss(0.06)*half
			l *= 1 - 0.12*math.Abs(float64(i%3)-1)
		}
		w := max(l*width*s.between(0.75, 1.25), 0.13)
		if s.density < 1 {
			w *= 1.35
		}
		c := bend(x, 0, a, l, d, f.late)
		// An even canopy: no single blade stands out of it.
		if top, want := c.height(), s.h*s.between(0.84, 1); top > want {
			c = bend(x, 0, a, l*want/top, d, f.late)
		}
		if p.Habit == "mound" {
			c = s.overhang(x, depth)
		}
		layer := 1 + int(depth*6)
		tone := s.tone(-2, 0)
		switch {
		case depth > 0.75:
			tone = s.tone(-1, 2)
		case depth > 0.35:
			tone = s.tone(-2, 2)
		}
		s.stem = int16(i)
		s.add(c.blade(w*0.75, w), shade{leaf, tone}, layer, leaf)
	}
	s.stem = 0
	s.heads(p, nil)
}

// overhang is a blade of a mound: up, over and down to the ground, those in
// front lower. depth runs from 0 at the back to 1 in front.
func (s *sketch) overhang(x, depth float64) spine {
	far := s.between(-1, 1)
	if s.r.Float64() < 0.35 {
		far = sign(far) * s.between(0.7, 1)
	}
	far *= 1 - 0.3*depth
	top := s.h * math.Sqrt(1-0.72*far*far) * s.between(0.86, 1) * (1 - 0.68*depth*depth)
	end := top * s.between(0, 0.5) * (1 - 0.65*math.Abs(far))
	to := far * s.w / 2
	c := spine{p: [4]draw.Point{{X: x, Y: 0}, {X: x + (to-x)*0.24, Y: -top * 1.02}, {X: x + (to-x)*0.68, Y: -top * 1.48}, {X: to, Y: -end}}}
	_, _, c.a0 = c.at(0.001)
	_, _, c.a1 = c.at(0.999)
	return c
}

// bladeMat is many short tufts side by side.
func (s *sketch) bladeMat(p Plant) {
	s.stems(p, 0.25)
	tufts := s.n(11)
	each := s.n(130) / tufts
	for i := range tufts {
		x := (float64(i)+0.5)/float64(tufts)*2 - 1
		x = (x*0.9 + s.gauss(0.02)) * s.w / 2
		edge := 1 - 0.35*math.Abs(x/(s.w/2))
		for j := range each {
			u := s.between(-1, 1)
			l := s.about(min(s.h*1.15, s.w*0.3)*edge, 0.18)
			w := max(l*0.045, 0.13)
			c := bend(x+u*s.w*0.02, 0, u*0.95, l, u*s.between(0.3, 0.9), 1.4)
			s.add(c.blade(w*0.8, w), shade{leaf, s.tone(-2, 2)}, 1+j*5/each, leaf)
		}
	}
	s.heads(p, nil)
}

// swords draws stiff flat leaves in fans: iris and its like.
func (s *sketch) swords(p Plant) {
	s.stems(p, 0.3)
	fans := 3
	if p.Spread < p.Height*0.5 {
		fans = 2
	}
	each := max(4, s.n(21)/fans)
	for k := range fans {
		x0 := ((float64(k)+0.5)/float64(fans) - 0.5) * s.w * 0.5
		lean := ((float64(k)+0.5)/float64(fans) - 0.5) * 0.5
		for i := range each {
			u := (1 - float64(i)/float64(each)) * sign(float64(i%2)-0.5)
			l := s.about(s.h*(1.02-0.3*math.Abs(u)), 0.07)
			w := min(max(s.h*0.045, s.w*0.03), s.w*0.07) * s.between(0.85, 1.15)
			x := x0 + u*w*1.1
			late := 0.04
			if s.r.Float64() < 0.15 {
				late = 0.5 // a leaf that has broken over
			}
			c := bend(x, 0, lean+u*0.33+s.gauss(0.03), l, sign(u)*s.between(0, 0.12)+sign(u)*late*math.Abs(u), 3)
			layer := 1 + k%2*2 + i*4/each
			tone := s.tone(-2, 1)
			s.stem = int16(k*each + i)
			s.add(c.blade(w*0.85, w), shade{leaf, tone}, layer, leaf)
			// The rib that makes a flat leaf read as folded.
			if s.density >= 0.6 {
				var rib draw.Path
				rx, ry, _ := c.at(0.85)
				rib.MoveTo(x, 0).CubicTo(c.p[1].X, c.p[1].Y, c.p[2].X, c.p[2].Y, rx, ry)
				s.addLine(rib, shade{leaf, tone + 2}, 0.12, layer, leaf)
			}
		}
	}
	s.stem = 0
	s.heads(p, nil)
}

// bamboo draws canes with nodes and sprays of narrow leaves.
func (s *sketch) bamboo(p Plant) {
	canes := s.n(11)
	leaves := s.n(300) / canes
	for i := range canes {
		u := (float64(i)+0.5)/float64(canes)*2 - 1
		u += s.gauss(0.06)
		s.stem = int16(i + 1)
		l := s.about(s.h*1.02*(1-0.2*math.Abs(u)), 0.07)
		c := bend(u*s.w*0.22, 0, u*0.2, l, sign(u)*s.between(0.25, 0.6)*(0.5+math.Abs(u)), 2.6)
		layer := 1 + i%3*2
		w := max(0.35, s.h*0.012)
		s.add(c.limb(w, w*0.4), shade{stem, s.tone(-1, 2)}, layer, stem)
		for k := 1; k < 9 && s.density >= 0.6; k++ {
			x, y, a := c.at(float64(k) / 10)
			dx, dy := heading(a + math.Pi/2)
			s.addLine(draw.Segment(x-dx*w*0.6, y-dy*w*0.6, x+dx*w*0.6, y+dy*w*0.6), shade{stem, -3}, 0.15, layer, stem)
		}
		for range leaves {
			t := math.Sqrt(s.between(0.12, 1))
			x, y, a := c.at(t)
			side := sign(s.r.Float64() - 0.5)
			out := s.between(0.02, 0.09) * s.h
			dx, dy := heading(a + side*s.between(0.5, 1.2))
			x, y = x+dx*out, y+dy*out*0.6
			ll := s.between(0.07, 0.11) * s.h
			s.add(loop(x, y, side*s.between(1.2, 2.4), ll, ll*0.24, false), shade{leaf, s.tone(-2, 2)}, layer+1, leaf)
		}
	}
	s.stem = 0
}
