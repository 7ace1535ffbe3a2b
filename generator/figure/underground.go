package figure

import (
	"math"

	"sheaf/generator/draw"
)

// Work at the roots: what is lifted, what goes back, and what is drawn out of
// the soil. Below the ground line y is positive.

// earth is the colour of roots and tubers, the same for every plant.
func earth() draw.Color { return draw.Color{R: 0x6b, G: 0x58, B: 0x48} }

// depth is the room under the ground line.
func (b *bench) depth() float64 { return b.f.H - b.stage.ground - 0.8 }

// room keeps x within the frame with air to its side.
func (b *bench) room(x, air float64) float64 {
	return min(max(x, air-b.stage.x), b.f.W-b.stage.x-air)
}

// roots adds fine lines in the colour of earth.
func (b *bench) roots(p draw.Path) {
	b.items = append(b.items, draw.Shape{Path: p, Stroke: &draw.Stroke{Color: earth(), Width: 0.22, Cap: draw.RoundCap}})
}

// tubers is a bunch of swollen roots that hangs from its neck at (x, y).
func (b *bench) tubers(x, y, l float64) {
	const n = 7
	for i := range n {
		// The outer ones first, so that the middle ones lie in front.
		u := (1 - float64(i)/n) * sign(float64(i%2)-0.5)
		tuber := loop(x+u*l*0.12, y, math.Pi-u*1.05, l*(1-0.2*math.Abs(u)), l*0.36, true)
		c := earth().Mix(light(), 0.2+0.08*float64(i%3))
		b.items = append(b.items, draw.Shape{Path: tuber, Fill: &c, Stroke: &draw.Stroke{Color: earth(), Width: 0.12, Join: draw.RoundJoin}})
	}
}

// hole is the dashed outline of a dug hole, as wide as a bunch of tubers of
// length l needs.
func (b *bench) hole(l float64) {
	w := l * 1.35
	var p draw.Path
	p.MoveTo(-w, 0).CubicTo(-w*0.9, b.depth()*1.15, w*0.9, b.depth()*1.15, w, 0)
	b.draw(p, 0.9, 0.9)
}

// fork is a garden fork pushed into the soil at x beside the plant, its handle
// leaning away.
func (b *bench) fork(x, side, length float64) {
	const lean = 0.42
	dx, dy := heading(side * lean)
	nx, ny := heading(side*lean + math.Pi/2)
	tine := length * 0.3
	// The tines stand in the soil, the crossbar a little above it.
	hx, hy := x+dx*tine*0.2, dy*tine*0.2
	for k := -1.0; k <= 1; k++ {
		ox, oy := nx*k*tine*0.28, ny*k*tine*0.28
		b.draw(draw.Segment(hx+ox, hy+oy, hx+ox-dx*tine, hy+oy-dy*tine))
	}
	b.draw(draw.Segment(hx-nx*tine*0.28, hy-ny*tine*0.28, hx+nx*tine*0.28, hy+ny*tine*0.28))
	tx, ty := hx+dx*length*0.8, hy+dy*length*0.8
	b.draw(draw.Segment(hx, hy, tx, ty))
	b.draw(draw.Segment(tx-nx*length*0.09, ty-ny*length*0.09, tx+nx*length*0.09, ty+ny*length*0.09))
}

// lift shows the tubers out of their hole, under the stub that is left of the
// top.
func (b *bench) lift() string {
	cut := b.left(0.12)
	l := b.depth() * 0.82
	up := l + 0.8
	over, under := b.parted(cut)
	b.hole(l)
	b.items = append(b.items, over, draw.Group{M: draw.Shift(0, -up), Items: []draw.Item{under}})
	b.tubers(0, -up, l)
	b.fork(b.room(-l*1.7-2, 4), -1, min(b.stage.ground*0.55, 14))
	x := b.room(l*1.35+2.2, 2)
	b.arrow(bend(x, b.depth()*0.5, 0, b.depth()*0.5+up, 0, 1))
	return b.w.Say("drawn.lift", "plant", b.p.name(b.w), "length", metres(cut/b.stage.mm, b.w))
}

// replant shows the tubers back in the ground, under the pale plant that will
// rise from them.
func (b *bench) replant() string {
	b.pale(b.strokes, 0.2)
	l := b.depth() * 0.64
	b.hole(l)
	b.tubers(0, b.depth()*0.2, l)
	x := b.room(l*1.35+2.2, 2)
	h := min(b.stage.ground*0.5, 9)
	b.arrow(bend(x, -h, math.Pi, h+b.depth()*0.5, 0, 1))
	return b.w.Say("drawn.replant", "plant", b.p.name(b.w))
}

// shoot is a young stem with a few leaves, from (x, y) upwards.
func (b *bench) shoot(x, y, lean, l float64) []stroke {
	s := &sketch{r: generator(b.p.Seed + " shoot"), h: l, w: l, mm: b.stage.mm, density: 1}
	c := bend(x, y, lean, l, -lean*0.8, 1.5)
	s.addLine(c.line(), shade{stem, 0}, max(0.2, l*0.03), 1, stem)
	s.dress(c, leafShape{length: 0.22, width: 0.42}, 9, 0.3, 2, 0)
	return s.strokes
}

// removeSuckers draws shoots that rise from the roots beside the plant and
// leave it at the root, not at the surface.
func (b *bench) removeSuckers() string {
	b.full(b.strokes)
	d := b.depth()
	half := b.p.Spread * b.stage.mm / 2
	reach := min(max(half*0.85, 6), 16)
	var roots draw.Path
	var level [2]spine // the roots that run out to the left and right
	for i, side := range [...]float64{-1, 1} {
		far := math.Abs(b.room(side*(reach+4), 1))
		level[i] = bend(side*0.4, 0.2, side*(math.Pi-0.95), far, -side*0.62, 0.8)
		roots.Append(level[i].line()).Append(bend(side*0.2, 0.2, side*(math.Pi-0.4), d*0.9, -side*0.2, 1).line())
	}
	b.roots(roots)
	tall := min(max(b.p.top()*b.stage.mm*0.34, 5), 10)
	for _, at := range [...]struct {
		root int
		t, l float64
	}{{0, 0.66, 0.8}, {1, 0.6, 1}, {1, 0.86, 0.62}} {
		x, y, _ := level[at.root].at(at.t)
		b.pale(b.shoot(x, y, (float64(at.root)-0.5)*0.5, y+tall*at.l), 0.55)
		b.tick(x, y-0.15, 0, 2.2)
	}
	return b.w.Say("drawn.remove suckers", "plant", b.p.name(b.w))
}

// weed draws a weed beside the plant, root and all.
func (b *bench) weed() string {
	b.full(b.strokes)
	half := b.p.Spread * b.stage.mm / 2
	s := &sketch{r: generator(b.p.Seed + " weed"), h: 4, w: 6, mm: b.stage.mm, density: 1}
	for i := range 9 {
		u := float64(i)/4 - 1
		c := bend(0, 0, u*1.25, 3.6*(1-0.25*math.Abs(u)), u*0.5, 1.4)
		s.add(c.blade(0.4, 0.9), shade{leaf, s.tone(-1, 1)}, 1+i%3, leaf)
	}
	const up = 2.6
	x := b.room(half+5, 5)
	at := draw.Shift(x, -up)
	b.pale(moved(s.strokes, at), 0.6)
	var roots draw.Path
	for i := range 5 {
		u := float64(i)/2 - 1
		roots.Append(bend(x, -up, math.Pi-u*0.5, up+b.depth()*0.6-math.Abs(u), u*0.3, 1).line())
	}
	b.roots(roots)
	b.arrow(bend(x+3.6, b.depth()*0.5, 0, up+b.depth()*0.5+3, 0, 1))
	return b.w.Say("drawn.weed", "plant", b.p.name(b.w))
}

// feed strews a thin ring of grains, clear of the stems.
func (b *bench) feed() string {
	b.full(b.strokes)
	w := max(b.p.Spread*b.stage.mm*0.55, 6)
	r := generator(b.p.Seed + " feed")
	var dots draw.Path
	for i := range 16 {
		for _, side := range [...]float64{-1, 1} {
			x := b.room(side*w*(0.35+0.65*(float64(i)+r.Float64())/16), 1)
			y := -0.3
			if i%3 == 0 {
				y -= 1.2 + 3*r.Float64() // still falling
			}
			dots.Append(draw.Ellipse(x, y, 0.24, 0.24))
		}
	}
	b.items = append(b.items, draw.Shape{Path: dots, Fill: &b.family})
	return b.w.Say("drawn.feed", "plant", b.p.name(b.w))
}
