package figure

import (
	"math"

	"sheaf/generator/draw"
)

// Work above the ground that no level cut shows: tips, lowest branches, old
// wood taken over years, and what is tied, uncovered or looked at.

// clearLeaves draws leaves of other plants lying in the crown, and the hand
// that lifts them out.
func (b *bench) clearLeaves() string {
	b.full(b.strokes)
	h, w := b.p.Height*b.stage.mm, b.p.Spread*b.stage.mm
	r := generator(b.p.Seed + " fallen")
	// A fallen leaf is about 7 cm long, but must be seen.
	size := min(max(7*b.stage.mm, 2), 4)
	autumn := [...]draw.Color{{R: 0xb0, G: 0x7a, B: 0x3a}, {R: 0x9a, G: 0x5a, B: 0x32}, {R: 0xc2, G: 0x9a, B: 0x48}}
	fallen := func(i int, x, y, a float64) {
		c := autumn[i%len(autumn)]
		l := size * (0.85 + 0.3*r.Float64())
		dx, dy := heading(a)
		x, y = b.room(x, l+0.2), max(y, l+0.3-b.stage.ground)
		// Around its middle, as a leaf lies.
		x, y = x-dx*l*0.5, min(y-dy*l*0.5, -0.2)
		p := loop(x, y, a, l, l*0.9, false)
		rib := hair(x, y, a, l*0.85)
		for i := range p.Points {
			p.Points[i].Y = min(p.Points[i].Y, 0)
		}
		for i := range rib.Points {
			rib.Points[i].Y = min(rib.Points[i].Y, 0)
		}
		b.items = append(b.items, draw.Shape{Path: p, Fill: &c, Opacity: 0.85},
			draw.Shape{Path: rib, Stroke: &draw.Stroke{Color: c.Mix(dark(), 0.4), Width: 0.14, Cap: draw.RoundCap}, Opacity: 0.85})
	}
	for i := range 9 {
		u := (float64(i)+0.3+0.4*r.Float64())/4.5 - 1
		rise := h * math.Sqrt(max(0, 1-u*u*0.8))
		fallen(i, u*w*0.46, -rise*(0.2+0.55*r.Float64()), 1.2+r.Float64()*2.4)
	}
	// Two are on their way, with the hand's movement under them.
	for i, side := range [...]float64{-1, 1} {
		x, y := side*w*0.42, -h*0.75
		c := bend(x*0.75, y*0.75, side*0.45, min(max(h*0.34, 3.2), 7), side*0.8, 1)
		fallen(i, c.p[3].X+side*size*0.8, c.p[3].Y-size*0.2, side*0.9)
		b.arrow(c)
	}
	return b.w.Say("drawn.clear leaves", "plant", b.p.name(b.w))
}

// until is the part of the centre line from its foot to t (de Casteljau).
func (c spine) until(t float64) spine {
	mid := func(a, b draw.Point) draw.Point { return draw.Point{X: a.X + (b.X-a.X)*t, Y: a.Y + (b.Y-a.Y)*t} }
	p := c.p
	for n := 3; n > 0; n-- {
		for i := 3; i > 3-n; i-- {
			p[i] = mid(p[i-1], p[i])
		}
	}
	_, _, a := c.at(t)
	return spine{p: p, a0: c.a0, a1: a}
}

// spineOf reads the centre line back from the stroke of a stem: a line is one,
// and of a limb's outline it is the left side.
func spineOf(st stroke) (spine, bool) {
	var c spine
	if st.part != wood && st.part != stem || len(st.path.Points) < 4 {
		return c, false
	}
	copy(c.p[:], st.path.Points)
	_, _, c.a0 = c.at(0.001)
	_, _, c.a1 = c.at(0.999)
	return c, true
}

// shootful gives plants that are drawn as a heap of leaves the stems that a
// pinched plant has.
func shootful(p Plant) Plant {
	p.Head, p.FlowerHeight = "none", 0
	switch p.Habit {
	case "mound", "mat", "rosette", "tuft", "fountain":
		if p.Type != "shrub" && p.Type != "subshrub" && p.Type != "rose" && p.Type != "tree" {
			p.Habit = "dome"
		}
	}
	return p
}

// reaches is how far a stroke's middle lies along the chord of c, which is 1
// long.
func (c spine) reaches(st stroke) float64 {
	lo, hi, _ := bounds([]stroke{st}, nil)
	x, y := (lo.X+hi.X)/2-c.p[0].X, (lo.Y+hi.Y)/2-c.p[0].Y
	vx, vy := c.p[3].X-c.p[0].X, c.p[3].Y-c.p[0].Y
	return (x*vx + y*vy) / (vx*vx + vy*vy)
}

// pinch takes the soft tip of each stem.
func (b *bench) pinch() string {
	const t = 0.86 // of each stem with its leaves stays
	stems, tip := map[int16]spine{}, map[int16]float64{}
	var order []int16
	for _, st := range b.strokes {
		if c, ok := spineOf(st); ok && st.stem > 0 {
			if _, seen := stems[st.stem]; !seen && c.length() > b.p.Height*b.stage.mm*0.3 {
				stems[st.stem] = c
				order = append(order, st.stem)
			}
		}
	}
	for _, st := range b.strokes {
		if c, ok := stems[st.stem]; ok && st.part == leaf {
			tip[st.stem] = max(tip[st.stem], c.reaches(st))
		}
	}
	stays, gone := split(b.strokes, func(st stroke) bool {
		c, ok := stems[st.stem]
		return ok && st.part == leaf && c.reaches(st) > t*tip[st.stem]
	})
	for i, st := range stays {
		if c, ok := stems[st.stem]; ok && st.line > 0 && len(st.path.Points) == 4 && st.path.Points[0] == c.p[0] {
			stays[i].path = c.until(t).line()
		}
	}
	b.pale(gone, 0.3)
	b.full(stays)
	// A tick at every tip would be a hedge of its own.
	every := max(1, len(order)/7)
	for i := 0; i < len(order); i += every {
		c, at := stems[order[i]], t*tip[order[i]]
		x, y, a := c.at(min(at, 1))
		if at > 1 { // the leaves reach beyond the wood
			dx, dy := heading(a)
			x, y = x+dx*(at-1)*c.length(), y+dy*(at-1)*c.length()
		}
		b.tick(x, y, a, 2)
	}
	return b.w.Say("drawn.pinch", "plant", b.p.name(b.w))
}

// renovate shows one year's share of a work of several: of a hedge one side,
// of a shrub some of its old stems.
func (b *bench) renovate() string {
	if b.p.Type == "hedge" {
		return b.oneSide()
	}
	b.takeStems(1. / 3)
	return b.w.Say("drawn.renovate", "plant", b.p.name(b.w))
}

// oneSide cuts one side of a hedge, which is drawn from its end, back towards
// its stems. The other side waits.
func (b *bench) oneSide() string {
	keep := 2. / 3
	if b.c.Fraction > 0 && b.c.Fraction < 1 {
		keep = b.c.Fraction
	}
	half := b.p.Spread * b.stage.mm / 2
	x := half - 2*half*keep
	top, foot := -b.stage.ground, b.f.H-b.stage.ground
	left := draw.Rect(-b.stage.x, top, b.stage.x+x, b.f.H)
	right := draw.Rect(x, top, b.f.W-b.stage.x-x, b.f.H)
	var goes, stays []stroke
	for _, st := range b.strokes {
		lo, hi, _ := bounds([]stroke{st}, nil)
		if lo.X < x && st.part != wood {
			goes = append(goes, st)
		}
		if hi.X > x && st.part != wood {
			stays = append(stays, st)
		}
	}
	items := b.items
	b.items = nil
	b.pale(goes, 0.24)
	ghost := draw.Group{M: draw.Identity(), Clip: &left, Items: b.items}
	b.items = nil
	b.full(stays)
	face := draw.Group{M: draw.Identity(), Clip: &right, Items: b.items}
	b.items = append(items, ghost)
	stems, _ := split(b.strokes, func(st stroke) bool { return st.part != wood })
	b.full(stems)
	b.items = append(b.items, face)
	b.draw(draw.Segment(x, max(-b.p.Height*b.stage.mm-1.2, top+0.3), x, min(0.6, foot)), 1.3, 1)
	y := -b.p.Height * b.stage.mm * 0.55
	b.beside(b.w.Say("drawn.this year"), -half-2, y, draw.End)
	b.beside(b.w.Say("drawn.later"), half+2, y, draw.Start)
	return b.w.Say("drawn.one side", "plant", b.p.name(b.w))
}

// beside writes a word next to the plant, where the frame has room for it.
func (b *bench) beside(text string, x, y float64, anchor draw.Anchor) {
	w := textWidth(text, captionSize) + 0.5
	if anchor == draw.End && b.stage.x+x < w || anchor == draw.Start && b.f.W-b.stage.x-x < w {
		return
	}
	b.items = append(b.items, draw.Label{X: x, Y: y, Face: draw.Caption, Size: captionSize, Anchor: anchor, Text: text, Color: b.family})
}

// raiseCrown takes the lowest branches of a tree, each at the collar.
func (b *bench) raiseCrown() string {
	h, half := b.p.Height*b.stage.mm, b.p.Spread*b.stage.mm/2
	line := h / 3
	if b.c.Fraction > 0 && b.c.Fraction < 1 {
		line = h * (1 - b.c.Fraction)
	}
	stays, gone := split(b.strokes, func(st stroke) bool {
		if st.stem == 0 || st.part == wood {
			return false
		}
		lo, hi, _ := bounds([]stroke{st}, nil)
		return (lo.Y+hi.Y)/2 > -line
	})
	b.pale(gone, 0.3)
	// The branches in question, which a tidy portrait does not have.
	trunk := min(max(0.45, h*0.028), 3.2) * 0.6
	ticks := [3]draw.Point{}
	for i := range ticks {
		side := sign(float64(i%2) - 0.5)
		y := -line * (0.42 + 0.2*float64(i))
		l := half * (0.62 - 0.08*float64(i))
		s := &sketch{r: generator(b.p.Seed + " low"), h: h, w: 2 * half, mm: b.stage.mm, density: 1}
		c := bend(0, y, side*1.1, l, side*0.2, 1)
		s.add(c.limb(trunk*0.8, trunk*0.3), shade{wood, 0}, 1, wood)
		s.dress(c, leafShape{length: 0.05, width: 0.5}, 12, 0.35, 2, 0)
		b.pale(s.strokes, 0.4)
		ticks[i] = draw.Point{X: side * (trunk + 0.5), Y: y - 0.35}
	}
	b.full(stays)
	for i, pt := range ticks {
		b.tick(pt.X, pt.Y, sign(float64(i%2)-0.5)*(math.Pi/2-0.2), 2)
	}
	b.draw(draw.Segment(b.room(-half-2, 0.5), -line, b.room(half+2, 0.5), -line), 1.3, 1)
	return b.w.Say("drawn.raise crown", "plant", b.p.name(b.w))
}

// gathered draws the strokes together towards a waist at the share t of their
// height; k is how narrow.
func gathered(strokes []stroke, top, t, k float64) []stroke {
	out := moved(strokes, draw.Identity())
	for _, st := range out {
		for i := range st.path.Points {
			pt := &st.path.Points[i]
			v := min(max(-pt.Y/top, 0), 1.2)
			var g float64
			if v < t {
				g = math.Sin(v / t * math.Pi / 2)
			} else {
				g = 1 - 0.45*math.Pow((v-t)/(1-t), 1.3)
			}
			pt.X *= 1 - k*max(g, 0)
		}
	}
	return out
}

// tieUp gathers the leaves into a sheaf with string round its waist.
func (b *bench) tieUp() string {
	top := b.p.Height * b.stage.mm
	const waist, k = 0.58, 0.74
	bound := gathered(b.strokes, max(top, 1), waist, k)
	// Every second stroke is enough of a shadow of how it stood.
	i := 0
	shadow, _ := split(b.strokes, func(stroke) bool { i++; return i%2 == 0 })
	b.pale(shadow, 0.2)
	b.full(bound)
	half := max(b.p.Spread*b.stage.mm/2*(1-k)*0.95, 1.4)
	for _, y := range [...]float64{waist, waist - 0.04} {
		b.draw(draw.Ellipse(0, -top*y, half, min(half*0.25, 0.7)))
	}
	// The ends of the bow.
	b.draw(bend(half*0.3, -top*(waist-0.05), math.Pi-0.5, min(top*0.14, 3), 0.3, 1).line())
	b.draw(bend(half*0.3, -top*(waist-0.05), math.Pi+0.2, min(top*0.14, 3), -0.3, 1).line())
	w := b.p.Spread * b.stage.mm / 2
	for _, side := range [...]float64{-1, 1} {
		x := b.room(side*w*0.95, 1)
		l := math.Abs(x) - half - 2.5
		if l > 2 {
			b.arrow(bend(x, -top*(waist-0.2), -side*1.05, min(l, 9), -side*0.3, 1))
		}
	}
	return b.w.Say("drawn.tie up", "plant", b.p.name(b.w))
}

// uncover lifts the hood off: dashed where it was, and on its way.
func (b *bench) uncover() string {
	b.full(b.strokes)
	hood, half, top := b.hood()
	b.draw(hood, 1.3, 1)
	x := half * 0.62
	b.arrow(bend(x, -top*0.88, 0.75, min(b.f.W-b.stage.x-x-1, 7), 0.9, 1))
	return b.w.Say("drawn.uncover", "plant", b.p.name(b.w))
}

// stake sets capped canes round the plant, with string from cane to cane.
func (b *bench) stake() string {
	h := b.p.top() * b.stage.mm * 2 / 3
	w := max(b.p.Spread*b.stage.mm*0.36, 2)
	cane := func(x, y float64) {
		b.items = append(b.items, draw.Shape{Path: draw.Segment(x, y, x, y-h), Stroke: &draw.Stroke{Color: b.pal.Quiet, Width: 0.5, Cap: draw.RoundCap}})
		b.draw(draw.Ellipse(x, y-h, 0.5, 0.5))
	}
	ring := min(w*0.16, 0.9)
	rings := [...]float64{0.45, 0.88}
	// The far side of the string and its cane stand behind the plant.
	cane(0, -0.2)
	for _, y := range rings {
		b.draw(bow(w, -h*y, -ring))
	}
	b.full(b.strokes)
	cane(-w, 0)
	cane(w, 0)
	for _, y := range rings {
		b.draw(bow(w, -h*y, ring))
	}
	return b.w.Say("drawn.stake", "plant", b.p.name(b.w))
}

// bow is half of a flat ring of half width w, sagging by d.
func bow(w, y, d float64) draw.Path {
	var p draw.Path
	p.MoveTo(-w, y).CubicTo(-w*0.6, y+d*4/3, w*0.6, y+d*4/3, w, y)
	return p
}

// check holds a lens over the plant: most of the work is to look.
func (b *bench) check() string {
	b.full(b.strokes)
	h := b.p.top() * b.stage.mm
	r := min(max(h*0.16, 2.6), 5)
	x := b.room(b.p.Spread*b.stage.mm*0.24, r+5)
	y := -max(h*0.55, r+1)
	b.items = append(b.items, draw.Shape{Path: draw.Ellipse(x, y, r, r), Fill: &b.pal.Paper, Opacity: 0.2})
	b.draw(draw.Ellipse(x, y, r, r))
	dx, dy := heading(math.Pi - 0.8)
	b.draw(draw.Segment(x+dx*r, y+dy*r, x+dx*(r+4), min(y+dy*(r+4), 0)))
	return b.w.Say("drawn.check", "plant", b.p.name(b.w))
}
