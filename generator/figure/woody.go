package figure

import (
	"math"

	"sheaf/generator/draw"
)

// A crown is the outline of a woody plant's leaf: half its width, as a share
// of the half spread, at the share t of the height between its foot and top.
type crown struct {
	clear float64 // height of the foot of the leaf, of the plant's height
	half  func(t float64) float64
}

func crownOf(p Plant) crown {
	ball := func(t float64) float64 { return math.Sqrt(max(0, 1-(2*t-1)*(2*t-1))) }
	switch p.Habit {
	case "standard":
		return crown{0.52, ball}
	case "column":
		return crown{0.03, func(t float64) float64 { return math.Pow(max(0, math.Sin(math.Pi*(0.14+0.85*t))), 0.55) }}
	case "spire":
		return crown{0.06, func(t float64) float64 { return math.Pow(1-t, 0.85) * min(1, 0.75+t*3) }}
	case "upright":
		return crown{0.1, func(t float64) float64 { return math.Pow(max(0, math.Sin(math.Pi*(0.16+0.8*t))), 0.7) }}
	case "vase":
		return crown{0.16, func(t float64) float64 {
			return (0.3 + 0.7*math.Pow(t, 0.8)) * math.Sqrt(max(0, 1-math.Pow(t, 5)))
		}}
	case "mat":
		return crown{0, func(t float64) float64 { return math.Sqrt(max(0, 1-t*t*t)) }}
	}
	if p.Type == "tree" {
		return crown{0.3, func(t float64) float64 {
			return math.Pow(max(0, math.Sin(math.Pi*(0.12+0.86*math.Pow(t, 0.85)))), 0.6)
		}}
	}
	return crown{0.05, func(t float64) float64 {
		return math.Sqrt(max(0, 1-math.Pow(t, 2.3))) * min(1, 0.82+t)
	}}
}

// woody draws shrubs, roses, sub-shrubs and trees.
func (s *sketch) woody(p Plant) {
	switch p.Habit {
	case "arching", "fountain", "clump", "rosette":
		if p.Type != "tree" {
			s.canes(p)
			return
		}
	case "dome", "mound", "tuft":
		if p.Type == "subshrub" {
			s.canes(p)
			return
		}
	case "mat":
		s.mat(p)
		return
	}
	s.dense = true
	s.stems(p, 0.3)
	cr := crownOf(p)
	if p.Type == "tree" && cr.clear < 0.15 && p.Habit != "spire" && p.Habit != "column" {
		cr.clear = 0.25
	}
	foot, height := cr.clear*s.h, (1-cr.clear)*s.h
	half := s.w / 2
	oneTrunk := p.Type == "tree" || p.Habit == "standard" || p.Habit == "spire" || p.Habit == "column"
	needles := p.Evergreen && (p.Habit == "column" || p.Habit == "spire")

	inside := func(q draw.Point) bool {
		t := (-q.Y - foot) / height
		return t > 0 && t < 0.93 && math.Abs(q.X) < cr.half(t)*half*0.88
	}

	// Limbs: from the trunk or the ground to points within the crown.
	var limbs []spine
	trunk := min(max(0.45, s.h*0.028), 3.2)
	if oneTrunk {
		up := foot + height*0.55
		if p.Habit == "standard" {
			trunk *= 0.8
			up = foot + height*0.3
		}
		trunkLayer := 4
		if p.Evergreen {
			trunkLayer = 0
		}
		c := bend(0, 0, s.gauss(0.02), up, s.gauss(0.06), 1)
		s.stem = 0
		s.add(c.limb(trunk*1.25, trunk*0.5), shade{wood, 0}, trunkLayer, wood)
		for k := range s.n(3) {
			// Bark: a few strokes along the shaded side.
			x, y, a := c.at(0.08 + 0.22*float64(k))
			s.addLine(bend(x+trunk*0.2*s.between(0.3, 1), y, a, up*s.between(0.1, 0.2), 0, 1).line(), shade{wood, -3}, 0.12, trunkLayer, wood)
		}
		n := s.n(9)
		for i := range n {
			t := 0.45 + 0.55*float64(i)/float64(n)
			if p.Habit == "standard" {
				t = 0.85 + 0.15*float64(i)/float64(n)
			}
			x, y, a := c.at(t)
			side := sign(float64(i%2) - 0.5)
			lean := side * s.between(0.35, 0.9) * (1.25 - 0.8*(t-0.4))
			l := min(half*0.95/max(math.Abs(math.Sin(lean)), 0.35), height*0.62) * s.between(0.75, 1)
			limbs = append(limbs, bend(x, y, a+lean, l, -lean*s.between(0.2, 0.6), 1))
		}
	} else {
		n := s.n(9)
		spread := math.Atan2(half*0.8, s.h*0.9)
		for i := range n {
			u := (float64(i)+0.5)/float64(n)*2 - 1
			a := u*spread*1.25 + s.gauss(0.05)
			l := s.reach(u*spread) * s.between(0.72, 0.88)
			limbs = append(limbs, bend(u*half*0.16, 0, a, l, -u*0.35, 1.2))
		}
	}
	for i, c := range limbs {
		for range 6 {
			if inside(c.p[3]) {
				break
			}
			c = c.shorter(0.88)
		}
		limbs[i] = c
		s.stem = int16(i + 1)
		w := trunk * 0.42
		layer := 3 + i%2*2
		if p.Evergreen {
			layer = 0 // hidden in the shade of the leaf
		}
		s.add(c.limb(w, w*0.3), shade{wood, s.tone(-1, 1)}, layer, wood)
		for k := range 3 {
			x, y, a := c.at(0.4 + 0.2*float64(k) + s.gauss(0.05))
			side := sign(float64(k%2) - 0.5)
			tw := bend(x, y, a+side*s.between(0.4, 0.8), c.length()*s.between(0.25, 0.4), -side*0.4, 1)
			if p.Evergreen || s.density < 0.2 || !inside(tw.p[3]) {
				continue // no bare twig sticks out of the leaf
			}
			s.addLine(tw.line(), shade{wood, 0}, max(w*0.3, 0.14), layer, wood)
		}
	}

	if p.Evergreen {
		s.mass(cr, foot, height)
	}

	// Sprays of leaves, evenly strewn: each next one is the farthest from the
	// others out of a few tries.
	sprays, perSpray := s.n(66), 8
	if headFormOf(p.Head).count > 0 {
		sprays = s.n(50)
	}
	switch {
	case needles:
		sprays, perSpray = s.n(100), 5
	case s.density < 1:
		sprays, perSpray = max(s.n(70), 8), 5
	}
	tries := 7
	if p.Evergreen {
		tries = 4 // the more tries, the more of them at the rim
	}
	at := make([]draw.Point, 0, sprays)
	for range sprays {
		var best draw.Point
		far := -1.0
		for range tries {
			t := s.r.Float64()
			x := s.between(-1, 1)
			if math.Abs(x) > cr.half(t) {
				t = s.r.Float64()
				x *= cr.half(t)
			}
			pt := draw.Point{X: x * half * 0.86, Y: -(foot + height*(0.05+t*0.87))}
			d := math.Inf(1)
			for _, q := range at {
				d = min(d, math.Hypot(pt.X-q.X, pt.Y-q.Y))
			}
			if d > far {
				best, far = pt, d
			}
		}
		at = append(at, best)
	}
	leafLen := min(max(0.078*min(s.h-foot, s.w), 0.7), 4) * min(1.7, 1/math.Sqrt(s.density))
	width, twigLow, twigHigh := s.between(0.5, 0.7), 1.5, 2.4
	switch {
	case needles:
	case p.Evergreen:
		leafLen *= 0.9
		perSpray = 6
	case headFormOf(p.Head).mass || p.Head == "panicle" || s.r.Float64() < 0.35:
		// Broad leaves, few to a twig.
		leafLen, width = leafLen*1.45, s.between(0.62, 0.78)
		perSpray = 5
		twigLow, twigHigh = 0.7, 1.2
		if p.Type == "tree" {
			leafLen *= 0.75
		}
	}
	leafLen = min(leafLen, 0.12*min(s.h-foot, s.w))
	if p.Evergreen {
		// Leaves in the shade, between the mass and the sprays.
		for range s.n(130) {
			t, x := s.between(0.04, 0.88), s.between(-0.85, 0.85)
			x *= cr.half(t) * half
			a := x/half*1.2 + s.gauss(0.6)
			l := leafLen * s.between(0.9, 1.3)
			w := width
			if needles {
				w = 0.22
			}
			s.add(loop(x, -(foot+height*t), a, l, l*w, false), shade{leaf, s.tone(-3, 0)}, 2, leaf)
		}
	}
	midY := -(foot + height*0.35)
	var tips []spine
	for i, q := range at {
		depth := float64(i) / float64(len(at))
		// Outwards from the middle of the crown, and up.
		nx, ny := q.X/half, (q.Y-midY)/(height*0.7)
		out := math.Atan2(nx, 0.55-ny)
		if needles {
			out = nx*0.7 + s.gauss(0.1)
		}
		lit := -nx*0.5 - ny*0.9 + s.gauss(0.25)
		if p.Evergreen {
			lit += 0.45 // the shade behind is dark enough
		}
		twig := leafLen * s.between(twigLow, twigHigh)
		dx, dy := heading(out)
		c := bend(q.X-dx*twig*0.5, q.Y-dy*twig*0.5, out, twig, s.gauss(0.3), 1)
		s.stem = int16(nearest(limbs, q) + 1)
		layer := 2 + int(depth*3)*2
		s.addLine(c.line(), shade{wood, 1}, 0.13, layer, stem)
		for j := range perSpray {
			t := float64(j) / float64(perSpray-1)
			x, y, a := c.at(t)
			side := sign(float64(j%2) - 0.5)
			if j == perSpray-1 {
				side = 0
			}
			l := leafLen * s.between(0.8, 1.15) * (1.1 - 0.3*t)
			spread := 0.95
			if needles {
				spread = 0.5
			}
			tone := int8(math.Round(min(max(lit*1.8+s.gauss(0.7), -3), 3)))
			if needles {
				tone += s.tone(-1, 1)
				s.addLine(hair(x, y, a+side*spread+s.gauss(0.15), l), shade{leaf, tone}, max(0.24, l*0.13), layer+1, leaf)
				continue
			}
			s.add(loop(x, y, a+side*spread+s.gauss(0.15), l, l*width, false), shade{leaf, tone}, layer+1, leaf)
		}
		if t := -q.Y / s.h; t > 0.3 && math.Hypot(nx, ny) > 0.45 {
			tips = append(tips, c)
		}
	}
	s.stem = 0
	s.heads(p, tips)
}

// mass is the shade within a dense evergreen crown: an uneven outline behind
// the leaves.
func (s *sketch) mass(cr crown, foot, height float64) {
	const steps = 11
	var pts []draw.Point
	for k := range 2 * steps {
		side := -1.0
		if k >= steps {
			side = 1
		}
		// Closer at foot and top, where the outline turns.
		t := (1 - math.Cos(math.Pi*(float64(k)+0.5)/steps)) / 2
		x := side * cr.half(t) * s.w / 2 * s.between(0.6, 0.8) * min(1, 0.55+2.5*t)
		pts = append(pts, draw.Point{X: x, Y: -(foot + height*(0.05+t*0.84))})
	}
	s.add(wave(pts, true), shade{leaf, -2}, 1, leaf)
}

// shorter is the centre line scaled down about its foot.
func (c spine) shorter(k float64) spine {
	for i := 1; i < 4; i++ {
		c.p[i].X = c.p[0].X + (c.p[i].X-c.p[0].X)*k
		c.p[i].Y = c.p[0].Y + (c.p[i].Y-c.p[0].Y)*k
	}
	return c
}

// length is a fair guess of the length of the centre line: its chord.
func (c spine) length() float64 { return math.Hypot(c.p[3].X-c.p[0].X, c.p[3].Y-c.p[0].Y) }

// nearest is the limb whose outer part passes closest to q.
func nearest(limbs []spine, q draw.Point) int {
	best, far := 0, math.Inf(1)
	for i, c := range limbs {
		for _, t := range [...]float64{0.5, 0.75, 1} {
			x, y, _ := c.at(t)
			if d := math.Hypot(x-q.X, y-q.Y); d < far {
				best, far = i, d
			}
		}
	}
	return best
}

// canes draws shrubs and sub-shrubs whose stems all rise from the foot and
// carry leaves for most of their length.
func (s *sketch) canes(p Plant) {
	n, perCane := s.n(19), s.n(20)
	base, fan, droop, late, bare := 0.18, 0.75, 0.5, 1.8, 0.3
	width, length := s.between(0.32, 0.5), s.between(0.085, 0.11)
	thick := min(max(0.3, s.h*0.014), 1.2)
	switch {
	case p.Type == "subshrub":
		// Lavender and its kind: many fine shoots from a woody foot.
		n, perCane = s.n(44), s.n(8)
		base, fan, droop, late, bare = 0.3, 1.3, -0.12, 1, 0.35
		width, length = s.between(0.16, 0.24), 0.17
		thick = min(max(0.16, s.h*0.007), 0.4)
	case p.Habit == "arching":
		fan, droop, late = 0.55, 1.35, 2.2
	case p.Habit == "fountain":
		fan, droop, late = 0.5, 1.9, 1.7
	}
	s.dense = true
	s.stems(p, 0.9)
	length *= min(1.7, 1/math.Sqrt(s.density))
	if s.density < 1 {
		perCane = max(perCane, 6)
	}
	var tips []spine
	for i := range n {
		depth := float64(i) / float64(n)
		u := (1 - depth) * sign(float64(i%2)-0.5)
		a := u*fan + s.gauss(0.06)
		d := sign(u) * s.about(droop, 0.25) * (0.35 + 0.65*math.Abs(u))
		l := s.about(s.reach(min(max(a+d*0.4, -1.5), 1.5)), 0.07) * (1 + d*d*0.07)
		if depth > 0.6 && p.Type == "subshrub" {
			l *= s.between(0.7, 1)
		}
		c := bend(u*base*s.w/2, 0, a, l, d, late)
		s.stem = int16(i + 1)
		layer := 1 + int(depth*4)*2
		if p.Type == "subshrub" {
			s.addLine(c.line(), shade{wood, s.tone(-1, 1)}, thick, layer, wood)
		} else {
			s.add(c.limb(thick, thick*0.35), shade{wood, s.tone(-1, 1)}, layer, wood)
		}
		for j := range perCane {
			t := bare + (1-bare)*(float64(j)+s.between(0, 0.6))/float64(perCane)
			x, y, ang := c.at(min(t, 1))
			side := sign(float64(j%2) - 0.5)
			ll := min(length*s.h, 6.5) * s.between(0.75, 1.15)
			spread := s.between(0.6, 1.2)
			if p.Type == "subshrub" {
				spread = s.between(0.25, 0.6)
			}
			if j == perCane-1 {
				spread *= 0.2
			}
			tone := s.tone(-2, 0)
			if depth > 0.45 || side < 0 {
				tone = s.tone(-1, 2)
			}
			s.add(loop(x, y, ang+side*spread, ll, ll*width, false), shade{leaf, tone}, layer+1, leaf)
		}
		tips = append(tips, c)
	}
	s.stem = 0
	s.heads(p, tips)
}

// hedge draws a length of clipped hedge.
func (s *sketch) hedge(p Plant) {
	half := s.w / 2
	batter := 0.04 * s.w // narrower at the top, so that the foot has light
	n := s.n(640)
	size := min(max(0.045*s.h, 0.8), 2.2)
	for i := range s.n(9) {
		x := (float64(i)+0.5)/float64(s.n(9))*2 - 1
		c := bend(x*half*0.9, 0, s.gauss(0.1), s.h*0.3, s.gauss(0.3), 1)
		s.stem = int16(i + 1)
		s.add(c.limb(s.h*0.02, s.h*0.008), shade{wood, -1}, 0, wood)
	}
	s.stem = 0
	var mass draw.Path
	mass.MoveTo(-half, -s.h*0.07).LineTo(-half+batter, -s.h*0.99).LineTo(half-batter, -s.h*0.99).LineTo(half, -s.h*0.07).Close()
	s.add(mass, shade{leaf, -2}, 1, leaf)
	for i := range n {
		t := (float64(i) + s.r.Float64()) / float64(n)
		x := s.between(-1, 1)
		// Light from the upper left, broken by the unevenness of the face.
		lit := -x*0.9 + (t-0.45)*1.8 + 0.8*math.Sin(x*9+t*5)*math.Sin(t*11-x*4) + 0.5 + s.gauss(0.5)
		if i%16 == 0 {
			x = sign(x) // the clipped sides
		}
		reach := half - batter*t - size*0.3
		y := -(s.h*0.06 + (s.h*0.94-size*0.75)*t)
		a := s.gauss(0.5) + x*0.3
		tone := int8(math.Round(min(max(lit*1.3, -3), 3)))
		if p.Evergreen {
			s.add(loop(x*reach, y, a, size*s.between(1, 1.4), size*0.5, false), shade{leaf, tone}, 2+int(t*2), leaf)
		} else {
			s.add(loop(x*reach, y, a, size*s.between(0.8, 1.1), size*0.55, false), shade{leaf, tone}, 2+int(t*2), leaf)
		}
	}
	// The clipped top: level strokes side by side.
	for i := range s.n(60) {
		x := -half + batter + (s.w-2*batter)*(float64(i)+0.5)/float64(s.n(60))
		s.add(loop(x, -s.h+size*0.75, s.gauss(0.25), size*0.75, size*0.4, false), shade{leaf, s.tone(1, 3)}, 5, leaf)
	}
}

// climber draws a plant on wires, or on a post if it is much taller than wide.
func (s *sketch) climber(p Plant) {
	half := s.w / 2
	size := min(max(0.078*min(s.h, s.w*1.3), 0.9), 4.5) * min(1.6, 1/math.Sqrt(s.density))
	width := s.between(0.45, 0.62)
	post := max(0.5, s.h*0.016)
	line := func(x1, y1, x2, y2, w float64) {
		s.addLine(draw.Segment(x1, y1, x2, y2), shade{support, 0}, w, 0, support)
	}
	leaves := func(c spine, n int, from float64, layer int) {
		for j := range n {
			t := from + (1-from)*(float64(j)+s.r.Float64())/float64(n)
			x, y, a := c.at(min(t, 1))
			side := sign(float64(j%2) - 0.5)
			// Leaves turn to the light and hang a little.
			ang := a + side*s.between(0.7, 1.5)
			ang = ang*0.7 + sign(math.Sin(ang))*0.7
			l := size * s.between(0.75, 1.2)
			tone := s.tone(-2, 1)
			if j%3 == 0 {
				tone = s.tone(0, 2)
			}
			s.add(loop(x, y, ang, l, l*width, false), shade{leaf, tone}, layer, leaf)
		}
	}
	var tips []spine
	if s.w < s.h*0.55 {
		line(0, 0, 0, -s.h*0.97, post)
		n := 3
		for i := range n {
			s.stem = int16(i + 1)
			x, y, lean := s.gauss(0.1)*half, 0.0, sign(float64(i%2)-0.5)
			for y > -s.h*0.9 {
				step := s.h * s.between(0.16, 0.22)
				a := math.Atan2(-x+lean*half*0.3, step)
				c := bend(x, y, a+lean*0.5, step, -lean*1.0, 1)
				s.addLine(c.line(), shade{wood, s.tone(-1, 1)}, max(0.2, s.h*0.006), 1+i%2*3, wood)
				leaves(c, s.n(9), 0, 2+i%2*3)
				sx, sy, _ := c.at(s.between(0.2, 0.9))
				t := -sy / s.h
				reach := half * (0.65 + 0.5*t) * s.between(0.5, 1.05)
				side := bend(sx, sy, lean*s.between(0.2, 1.2), reach, lean*s.between(0.3, 1.3), 1)
				s.addLine(side.line(), shade{wood, 1}, 0.16, 1+i%2*3, wood)
				leaves(side, s.n(12), 0.1, 3+i%2*3)
				if t > 0.15 {
					tips = append(tips, side)
				}
				x, y, _ = c.at(1)
				lean = -lean
			}
		}
	} else {
		for _, x := range [...]float64{-half * 0.97, half * 0.97} {
			line(x, 0, x, -s.h*0.99, post)
		}
		wires := 4
		if s.density < 0.25 {
			wires = 2
		}
		for k := range wires {
			y := -s.h * (0.28 + 0.68*float64(k)/float64(wires-1))
			line(-half*0.97, y, half*0.97, y, 0.14)
		}
		trunk := max(0.4, s.h*0.016)
		main := bend(-half*0.06, 0, 0.12, s.h*0.93, -0.2, 1)
		s.add(main.limb(trunk, trunk*0.45), shade{wood, 0}, 3, wood)
		second := bend(half*0.02, 0, -0.25, s.h*0.6, 0.5, 1)
		s.add(second.limb(trunk*0.7, trunk*0.35), shade{wood, -1}, 2, wood)
		for k := range wires {
			y := -s.h * (0.28 + 0.68*float64(k)/float64(wires-1))
			for _, side := range [...]float64{-1, 1} {
				s.stem = int16(k*2 + 1 + int(side+1)/2)
				x0, y0, _ := main.at(min(1, -y/s.h*1.02-0.06))
				l := (half*0.94 - side*x0*0.5) * s.between(0.85, 1)
				arm := bend(x0, y0, side*s.between(1.05, 1.3), l, side*s.between(0.3, 0.6), 0.7)
				s.addLine(arm.line(), shade{wood, s.tone(-1, 1)}, max(0.2, trunk*0.35), 3, wood)
				leaves(arm, s.n(20), 0.05, 4)
				shoots := max(1, int(5*s.density+0.5))
				for j := range shoots {
					x, y, _ := arm.at((float64(j) + s.between(0.3, 1)) / float64(shoots+1))
					shoot := bend(x, y, side*s.between(-0.4, 1.1), s.h*s.between(0.08, 0.17), side*s.between(0.6, 2.0), 1)
					s.addLine(shoot.line(), shade{wood, 1}, 0.14, 4, wood)
					leaves(shoot, s.n(7), 0.2, 5)
					tips = append(tips, shoot)
				}
			}
		}
	}
	s.stem = 0
	f := headFormOf(p.Head)
	if f.count == 0 {
		return
	}
	n := s.n(max(f.count, 16))
	size = s.headSize(p)
	if f.mass {
		size = min(size*1.4, max(0.085*s.h, 1.6))
	} else {
		size = min(0.17*s.h, 55*s.mm)
	}
	for i := range n {
		c := tips[i*len(tips)/n]
		x, y, a := c.at(0.8)
		s.stem = int16(200 + i)
		switch {
		case f.mass:
			s.head(p.Head, x, y, a*0.5, size*s.between(0.8, 1.15), 20+i%3*2)
		default:
			// Long heads hang, as wisteria's.
			s.head("spike", x, y, math.Pi+s.gauss(0.08), size*s.between(0.75, 1.1), 20+i%3*2)
		}
	}
	s.stem = 0
}
