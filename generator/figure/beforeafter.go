package figure

import (
	"math"

	"sheaf/generator/draw"
	"sheaf/generator/words"
)

// A Cut is what a job does to a plant.
type Cut struct {
	Mark     string  // the job, by the name of its mark
	Leave    float64 // cm left, 0: none given
	Fraction float64 // of the height left, 0: none given
	Label    string  // written at the cut line, as "10 cm"; may be empty
}

// beforeAfter is a job on a plant and what it shows in words.
func beforeAfter(p Plant, c Cut, w *words.Words, pal Palette, f Frame) (items []draw.Item, desc string) {
	p = p.whole()
	if c.Mark == "pinch" {
		p = shootful(p)
	}
	b := bench{p: p, c: c, w: w, pal: pal, f: f, family: pal.family(familyOf(c.Mark))}
	b.stage = setStage(p, f, false)
	switch c.Mark {
	case "divide", "water", "remove suckers", "weed":
		// Room for roots under the ground line.
		root := min(f.H*0.16, 7)
		b.stage = setStage(p, Frame{f.W, f.H - root}, false)
	case "lift", "replant":
		// Tubers take more.
		b.stage = setStage(p, Frame{f.W, f.H - min(f.H*0.22, 9)}, false)
	case "protect", "uncover":
		b.stage = setStage(p, Frame{f.W, f.H - 3}, false)
		b.stage.ground += 3
	case "cut back", "trim":
		if c.Label != "" {
			w := textWidth(c.Label, captionSize) + 3
			b.stage = setStage(p, Frame{f.W - w, f.H}, false)
		}
	}
	b.strokes = fit(grow(p, b.stage.mm, 0.8, 560), b.stage, Frame{f.W, b.stage.ground + 1.2})
	desc = p.amounts(b.work())
	items = append(items, draw.Group{M: draw.Shift(b.stage.x, b.stage.ground), Items: b.items})
	return append(items, groundLine(b.stage.ground, 0, f.W, pal)...), desc
}

// A bench is where a before-and-after is put together, in millimetres around
// the foot of the plant.
type bench struct {
	p       Plant
	c       Cut
	w       *words.Words
	pal     Palette
	f       Frame
	family  draw.Color
	stage   stage
	strokes []stroke
	items   []draw.Item
}

func (b *bench) work() string {
	switch b.c.Mark {
	case "cut back":
		return b.level(0.15)
	case "trim":
		switch b.p.Habit {
		case "dome", "mound", "tuft", "mat", "standard":
			if b.p.Type != "hedge" {
				return b.dome()
			}
		}
		return b.level(0.85)
	case "deadhead":
		return b.deadhead()
	case "remove stems":
		return b.removeStems()
	case "thin":
		return b.thin()
	case "comb":
		return b.comb()
	case "groom":
		return b.groom()
	case "divide":
		return b.divide()
	case "mulch":
		return b.mulch()
	case "water":
		return b.water()
	case "protect":
		return b.protect()
	case "tie in":
		return b.tieIn()
	case "clear leaves":
		return b.clearLeaves()
	case "pinch":
		return b.pinch()
	case "remove suckers":
		return b.removeSuckers()
	case "renovate":
		return b.renovate()
	case "raise crown":
		return b.raiseCrown()
	case "lift":
		return b.lift()
	case "replant":
		return b.replant()
	case "tie up":
		return b.tieUp()
	case "uncover":
		return b.uncover()
	case "stake":
		return b.stake()
	case "feed":
		return b.feed()
	case "weed":
		return b.weed()
	case "check":
		return b.check()
	}
	b.full(b.strokes)
	return b.w.Say("drawn.sentence", "said", b.p.say(b.w))
}

// full paints what stays.
func (b *bench) full(strokes []stroke) {
	b.items = append(b.items, paint(strokes, tints(b.p, b.pal))...)
}

// pale paints what goes: the plant's own colours, nearly gone.
func (b *bench) pale(strokes []stroke, opacity float64) {
	t := tints(b.p, b.pal)
	t.opacity = opacity
	b.items = append(b.items, paint(flat(strokes), t)...)
}

// dead paints dead leaves in straw.
func (b *bench) dead(strokes []stroke, opacity float64) {
	t := tints(b.p, b.pal)
	straw := draw.Color{R: 0xb8, G: 0x9a, B: 0x5c}
	t.shades[leaf], t.shades[stem] = straw, straw
	t.opacity = opacity
	b.items = append(b.items, paint(flat(strokes), t)...)
}

// flat leaves two tones and few layers, which is all that pale colour shows.
func flat(strokes []stroke) []stroke {
	out := moved(strokes, draw.Identity())
	for i := range out {
		out[i].layer = out[i].layer / 6 * 6
		if out[i].shade.tone > 0 {
			out[i].shade.tone = 1
		} else {
			out[i].shade.tone = -1
		}
		if out[i].line > 0 {
			out[i].line = max(out[i].line, 0.16)
		}
	}
	return out
}

// split sorts strokes by what goes.
func split(strokes []stroke, goes func(stroke) bool) (stays, gone []stroke) {
	for _, st := range strokes {
		if goes(st) {
			gone = append(gone, st)
		} else {
			stays = append(stays, st)
		}
	}
	return stays, gone
}

// draw adds a line of the family's colour.
func (b *bench) draw(p draw.Path, dash ...float64) {
	b.items = append(b.items, draw.Shape{Path: p, Stroke: &draw.Stroke{Color: b.family, Width: 0.4, Dash: dash, Cap: draw.RoundCap, Join: draw.RoundJoin}})
}

// arrow adds a line with a head at its end.
func (b *bench) arrow(c spine) {
	b.draw(c.line())
	x, y, a := c.p[3].X, c.p[3].Y, c.a1
	const l = 1.3
	ax, ay := heading(a + math.Pi - 0.5)
	bx, by := heading(a + math.Pi + 0.5)
	var p draw.Path
	p.MoveTo(x+ax*l, y+ay*l).LineTo(x, y).LineTo(x+bx*l, y+by*l)
	b.draw(p)
}

// left is the height in mm that stays, or share of the leaf's height.
func (b *bench) left(share float64) float64 {
	h := b.p.Height * share
	switch {
	case b.c.Leave > 0:
		h = b.c.Leave
	case b.c.Fraction > 0:
		h = b.p.Height * b.c.Fraction
	}
	return min(h, b.p.top()*0.98) * b.stage.mm
}

// parted is the plant in two pieces at the height of cut: what goes, pale, and
// what stays.
func (b *bench) parted(cut float64) (ghost, stub draw.Group) {
	x0, x1 := -b.stage.x, b.f.W-b.stage.x
	var under, over []stroke
	for _, st := range b.strokes {
		lo, hi, _ := bounds([]stroke{st}, nil)
		if lo.Y < -cut {
			over = append(over, st)
		}
		if hi.Y > -cut {
			under = append(under, st)
		}
	}
	sky := draw.Rect(x0, -b.stage.ground, x1-x0, b.stage.ground-cut)
	soil := draw.Rect(x0, -cut, x1-x0, cut+b.f.H-b.stage.ground)
	items := b.items
	b.items = nil
	b.pale(over, 0.24)
	ghost = draw.Group{M: draw.Identity(), Clip: &sky, Items: b.items}
	b.items = nil
	b.full(under)
	stub = draw.Group{M: draw.Identity(), Clip: &soil, Items: b.items}
	b.items = items
	return ghost, stub
}

// level cuts everything at one height.
func (b *bench) level(share float64) string {
	cut := b.left(share)
	x0, x1 := -b.stage.x, b.f.W-b.stage.x
	ghost, stub := b.parted(cut)
	b.items = append(b.items, ghost, stub)
	half := b.p.Spread * b.stage.mm / 2
	from, to := max(-half*1.05-1.5, x0+0.5), min(half*1.05+1.5, x1-0.5)
	if b.c.Label != "" {
		w := textWidth(b.c.Label, captionSize)
		to = min(to, x1-w-1.5)
		b.items = append(b.items, draw.Label{X: to + 1, Y: -cut + captionSize*mmPerPoint*0.35, Face: draw.Caption, Size: captionSize, Text: b.c.Label, Color: b.family})
	}
	b.draw(draw.Segment(from, -cut, to, -cut), 1.3, 1)
	return b.w.Say("drawn.level", "plant", b.p.name(b.w), "length", metres(cut/b.stage.mm, b.w))
}

// dome trims along a rounded outline.
func (b *bench) dome() string {
	keep := b.left(0.8)
	h := b.p.Height * b.stage.mm
	k := keep / h
	rx := b.p.Spread * b.stage.mm / 2 * (0.5 + 0.5*k)
	cy, ry := 0.0, keep
	var outline draw.Path
	if b.p.Habit == "standard" {
		r := h * 0.24 * k
		cy, ry = -h*0.76, r
		rx *= 0.95
		outline = draw.Ellipse(0, cy, rx, r)
	} else {
		const kappa = 0.5522847498307936
		outline.MoveTo(-rx, 0).CubicTo(-rx, -ry*kappa, -rx*kappa, -ry, 0, -ry).CubicTo(rx*kappa, -ry, rx, -ry*kappa, rx, 0)
	}
	inside := func(x, y float64) bool { return math.Hypot(x/rx, (y-cy)/ry) < 1 }
	var in, out []stroke
	for _, st := range b.strokes {
		some, all := false, true
		along(st.path, func(pt draw.Point) {
			if inside(pt.X, pt.Y) {
				some = true
			} else {
				all = false
			}
		})
		if b.p.Habit == "standard" && st.part == wood {
			some, all = true, true
		}
		if some && !st.rising {
			in = append(in, st)
		}
		if !all || st.rising {
			out = append(out, st)
		}
	}
	b.pale(out, 0.24)
	items := b.items
	b.items = nil
	b.full(in)
	clip := outline
	if b.p.Habit == "standard" {
		// The stem stays whole under the ball.
		stemBox := draw.Rect(-rx*0.3, cy, rx*0.6, -cy+1)
		clip = draw.Path{}
		clip.Append(outline).Append(stemBox)
	} else {
		var c draw.Path
		c.MoveTo(-rx, 1).LineTo(-rx, 0).CubicTo(outline.Points[1].X, outline.Points[1].Y, outline.Points[2].X, outline.Points[2].Y, 0, -ry).
			CubicTo(outline.Points[4].X, outline.Points[4].Y, outline.Points[5].X, outline.Points[5].Y, rx, 0).LineTo(rx, 1).Close()
		clip = c
	}
	b.items = append(items, draw.Group{M: draw.Identity(), Clip: &clip, Items: b.items})
	b.draw(outline, 1.3, 1)
	return b.w.Say("drawn.dome", "plant", b.p.name(b.w))
}

// tick is a short cut across a stem.
func (b *bench) tick(x, y, a, l float64) {
	dx, dy := heading(a + math.Pi/2 + 0.25)
	b.draw(draw.Segment(x-dx*l/2, y-dy*l/2, x+dx*l/2, y+dy*l/2))
}

// necks finds where each flower head meets its stem.
func necks(strokes []stroke) []draw.Point {
	seen := map[int16]bool{}
	var out []draw.Point
	for _, st := range strokes {
		if st.part != flower || seen[st.stem] {
			continue
		}
		seen[st.stem] = true
		// The lowest point of the head.
		low := draw.Point{Y: math.Inf(-1)}
		for _, o := range strokes {
			if o.part != flower || o.stem != st.stem {
				continue
			}
			along(o.path, func(pt draw.Point) {
				if pt.Y > low.Y {
					low = pt
				}
			})
		}
		out = append(out, low)
	}
	return out
}

func (b *bench) deadhead() string {
	stays, gone := split(b.strokes, func(st stroke) bool { return st.part == flower })
	b.full(stays)
	b.pale(gone, 0.4)
	for _, n := range necks(gone) {
		b.tick(n.X, n.Y+0.5, 0, 2.2)
	}
	return b.w.Say("drawn.deadhead", "plant", b.p.name(b.w))
}

// foot is where a stem begins.
func foot(strokes []stroke, id int16) (x, y float64, ok bool) {
	for _, st := range strokes {
		if st.stem == id && (st.part == wood || st.part == stem || st.part == leaf) {
			a, z := st.path.Points[0], st.path.Points[len(st.path.Points)-1]
			if st.line > 0 {
				z = a
			}
			return (a.X + z.X) / 2, (a.Y + z.Y) / 2, true
		}
	}
	return 0, 0, false
}

// low is a point a little above the foot of a stem, and its direction there.
func low(strokes []stroke, id int16) (x, y, a float64, ok bool) {
	for _, st := range strokes {
		if st.stem == id && (st.part == wood || st.part == stem) && len(st.path.Points) >= 4 {
			var c spine
			copy(c.p[:], st.path.Points)
			x, y, a = c.at(0.22)
			return x, y, a, true
		}
	}
	return 0, 0, 0, false
}

func (b *bench) removeStems() string {
	ids := map[int16]bool{}
	for _, st := range b.strokes {
		if st.rising {
			ids[st.stem] = true
		}
	}
	if len(ids) == 0 {
		return b.thin()
	}
	stays, gone := split(b.strokes, func(st stroke) bool { return ids[st.stem] })
	b.full(stays)
	b.pale(gone, 0.4)
	lo, hi := math.Inf(1), math.Inf(-1)
	for id := range ids {
		if x, _, ok := foot(gone, id); ok {
			lo, hi = min(lo, x), max(hi, x)
		}
	}
	y := -max(0.03*b.p.Height*b.stage.mm, 0.9)
	b.draw(draw.Segment(min(lo-1.5, -2.5), y, max(hi+1.5, 2.5), y), 1.3, 1)
	return b.w.Say("drawn.remove stems", "plant", b.p.name(b.w))
}

// stemsOf lists the stems of a plant in the order they are drawn, or its
// leaves if it has no stems.
func stemsOf(strokes []stroke) (order []int16) {
	seen := map[int16]bool{}
	for _, st := range strokes {
		if st.stem > 0 && st.stem < 200 && (st.part == wood || st.part == stem) && !seen[st.stem] {
			seen[st.stem] = true
			order = append(order, st.stem)
		}
	}
	if len(order) > 0 {
		return order
	}
	for _, st := range strokes {
		if st.stem > 0 && !seen[st.stem] {
			seen[st.stem] = true
			order = append(order, st.stem)
		}
	}
	return order
}

// takeStems takes a share of the stems, or what the job does not leave, each
// struck at its foot.
func (b *bench) takeStems(share float64) {
	if b.c.Fraction > 0 && b.c.Fraction < 1 {
		share = 1 - b.c.Fraction
	}
	order := stemsOf(b.strokes)
	gone := map[int16]bool{}
	due := 0.4
	for _, id := range order {
		if due += share; due >= 1 {
			due--
			gone[id] = true
		}
	}
	stays, out := split(b.strokes, func(st stroke) bool { return gone[st.stem] })
	b.pale(out, 0.3)
	b.full(stays)
	for _, id := range order {
		if !gone[id] {
			continue
		}
		if x, y, a, ok := low(out, id); ok {
			b.tick(x, y, a, 2.2)
		}
	}
}

func (b *bench) thin() string {
	b.takeStems(0.28)
	return b.w.Say("drawn.thin", "plant", b.p.name(b.w))
}

func (b *bench) comb() string {
	i := 0
	stays, gone := split(b.strokes, func(st stroke) bool {
		if st.part != leaf || st.rising {
			return false
		}
		i++
		return i%3 == 0
	})
	b.full(stays)
	b.dead(gone, 0.75)
	// Four strokes of the fingers, from the foot outwards through the blades.
	h, w := b.p.Height*b.stage.mm, b.p.Spread*b.stage.mm
	for k := range 4 {
		q := float64(k)
		a := 0.35 + 0.2*q
		l := math.Min(1/math.Hypot(math.Cos(a)/h, math.Sin(a)/(w/2))*0.72, h*1.1)
		dx, dy := heading(a)
		b.arrow(bend(dx*l*0.35, dy*l*0.35, a, l*0.8, 0.35, 1))
	}
	return b.w.Say("drawn.comb", "plant", b.p.name(b.w))
}

func (b *bench) groom() string {
	ids := map[int16]bool{}
	var order []int16
	for _, st := range b.strokes {
		if st.part == leaf && !st.rising && !ids[st.stem] && st.stem > 0 {
			ids[st.stem] = true
			order = append(order, st.stem)
		}
	}
	pick := map[int16]bool{}
	for i := 0; i < len(order) && len(pick) < 4; i++ {
		// Outer leaves come first in the drawing.
		if i%3 == 1 || len(order) < 10 {
			pick[order[i]] = true
		}
	}
	stays, gone := split(b.strokes, func(st stroke) bool { return pick[st.stem] && !st.rising })
	b.full(stays)
	b.dead(gone, 0.85)
	h, w := b.p.Height*b.stage.mm, b.p.Spread*b.stage.mm
	b.arrow(bend(w*0.3, -h*0.42, 0.75, math.Min(w*0.26, 9), 1.1, 1))
	b.arrow(bend(-w*0.3, -h*0.42, -0.75, math.Min(w*0.26, 9), -1.1, 1))
	return b.w.Say("drawn.groom", "plant", b.p.name(b.w))
}

func (b *bench) divide() string {
	part := b.p
	part.Spread *= 0.54
	mm := b.stage.mm * 0.92
	w := part.Spread * mm
	h := b.p.top() * mm
	for k, side := range [...]float64{-1, 1} {
		q := part
		q.Seed += [...]string{" left", " right"}[k]
		turn := side * 0.13
		m := draw.Rotate(turn).Then(draw.Shift(side*(w*0.5+1.6), 0))
		strokes := moved(grow(q, mm, 0.6, 400), m)
		lim := fit(strokes, b.stage, Frame{b.f.W, b.stage.ground + 1.2})
		b.full(lim)
		// Its roots.
		var roots draw.Path
		depth := b.depth()
		for i := range 7 {
			u := float64(i)/3 - 1
			c := bend(side*(w*0.5+1.6)+u*w*0.12, 0.2, math.Pi-u*0.7, depth*(0.95-0.25*math.Abs(u)), -u*0.3*side, 1)
			roots.Append(c.line())
		}
		b.roots(roots)
	}
	// A spade between them.
	top := min(max(h*0.62, 12), b.stage.ground-2)
	blade := top * 0.36
	half := blade * 0.3
	var spade draw.Path
	spade.MoveTo(-half, -blade+2).LineTo(half, -blade+2).CubicTo(half, 0, half*0.5, 1.4, 0, 2.2).CubicTo(-half*0.5, 1.4, -half, 0, -half, -blade+2).Close()
	b.items = append(b.items, draw.Shape{Path: spade, Fill: &b.pal.Paper})
	b.draw(spade)
	b.draw(draw.Segment(0, -blade+2, 0, -top))
	b.draw(draw.Segment(-half*0.7, -top, half*0.7, -top))
	return b.w.Say("drawn.divide", "plant", b.p.name(b.w))
}

func (b *bench) mulch() string {
	b.full(b.strokes)
	w := max(b.p.Spread*b.stage.mm*0.6, 6)
	r := generator(b.p.Seed + " mulch")
	var dots draw.Path
	for row := range 3 {
		for x := w * 0.16; x < w; x += 1.5 {
			for _, side := range [...]float64{-1, 1} {
				px := side * (x + r.Float64()*0.5 + float64(row)*0.5)
				if math.Abs(px) < w-float64(row)*0.8 {
					dots.Append(loop(px, -0.35-0.75*float64(row), r.Float64()*3, 0.8, 0.55, false))
				}
			}
		}
	}
	b.items = append(b.items, draw.Shape{Path: dots, Fill: &b.family})
	return b.w.Say("drawn.mulch", "plant", b.p.name(b.w))
}

func (b *bench) water() string {
	b.full(b.strokes)
	depth := b.depth()
	var roots draw.Path
	reach := min(max(b.p.Spread*b.stage.mm*0.3, 5), 12)
	for i := range 9 {
		u := float64(i)/4 - 1
		c := bend(u*reach*0.15, 0.2, math.Pi-u*1.1, math.Hypot(depth*0.9, u*reach*0.9), u*0.5, 1)
		l := c.line()
		for j := range l.Points {
			l.Points[j].Y = min(l.Points[j].Y, depth)
		}
		roots.Append(l)
	}
	b.roots(roots)
	for k, x := range [...]float64{-1.5, -0.75, 0.75, 1.5} {
		px := x * min(reach*0.75, 7)
		py := -2.6 - float64(k%2)*2.6
		var p draw.Path
		p.MoveTo(px, py-1.6).CubicTo(px+1, py-0.3, px+0.6, py+0.4, px, py+0.4).CubicTo(px-0.6, py+0.4, px-1, py-0.3, px, py-1.6).Close()
		b.items = append(b.items, draw.Shape{Path: p, Fill: &b.pal.Paper})
		b.draw(p)
	}
	return b.w.Say("drawn.water", "plant", b.p.name(b.w))
}

// hood is the outline of a cover over the whole plant, with its half width and
// height.
func (b *bench) hood() (hood draw.Path, half, top float64) {
	lo, hi, _ := bounds(b.strokes, nil)
	half = min(max(-lo.X, hi.X)+1.2, b.stage.x-0.6, b.f.W-b.stage.x-0.6)
	top = min(-lo.Y+2.2, b.stage.ground-0.6)
	hood.MoveTo(-half, 0).CubicTo(-half*1.05, -top*0.75, -half*0.6, -top, 0, -top).CubicTo(half*0.6, -top, half*1.05, -top*0.75, half, 0)
	return hood, half, top
}

func (b *bench) protect() string {
	b.full(b.strokes)
	hood, _, _ := b.hood()
	b.items = append(b.items, draw.Shape{Path: hood, Fill: &b.family, Opacity: 0.1})
	b.draw(hood)
	return b.w.Say("drawn.protect", "plant", b.p.name(b.w))
}

func (b *bench) tieIn() string {
	b.full(b.strokes)
	top := b.p.top() * b.stage.mm
	w := b.p.Spread * b.stage.mm
	x := w * 0.1
	b.items = append(b.items, draw.Shape{Path: draw.Segment(x, 0, x, -top*0.9), Stroke: &draw.Stroke{Color: b.pal.Quiet, Width: 0.5, Cap: draw.RoundCap}})
	for _, y := range [...]float64{0.28, 0.55, 0.8} {
		b.draw(draw.Ellipse(x-w*0.05, -top*y, max(w*0.1, 1.6), 0.8))
	}
	return b.w.Say("drawn.tie in", "plant", b.p.name(b.w))
}
