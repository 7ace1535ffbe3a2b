package figure

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"sheaf/generator/draw"
	"sheaf/generator/words"
)

// The picture of the cover is a border seen from the front: all plants to one
// scale on one ground line, low at the left and tall at the right, behind one
// another, running off the paper at both sides. What would make all else small is
// kept down, by four rules:
//
//   - The scale is set by the plants up to lofty; what is taller than the picture
//     at that scale, as trees are, is drawn as tall as the picture, no wider than it
//     is then, and stands last, where the paper's edge cuts it.
//   - A climber is drawn as tall as what it is tied to, and on a post.
//   - A hedge is a pale ground behind what stands right of its place.
//   - Where more plants would stand over one another than can be told apart, every
//     second or third is shown, as evenly from low to tall as can be.
const (
	lofty = 300.0 // cm

	// A climber in a border is tied to a post as high as can be reached.
	postHeight, postSpread = 230.0, 100.0

	// Millimetres to the centimetre: 1:24 at the most, 1:63 at the least.
	mostScale, leastScale = 0.42, 0.16

	// The tallest up to lofty stands this share of the sky high.
	ordinary = 0.68

	// How many times over the plants would fill the width side by side: at the most,
	// and, if so many are planted, at the least.
	fullest, sparsest = 5.0, 1.7

	soilDepth = 9.0 // mm from the ground line to the foot of the picture
	skyAir    = 1.0 // mm over the tallest

	borderSegments = 11500.0
)

// BorderGround is the share of a frame's height from its top to the ground line.
func BorderGround(f Frame) float64 { return 1 - soilDepth/f.H }

// A plane is how far back a plant stands.
type plane uint8

const (
	backdrop plane = iota
	behind
	middle
	front
)

// A standing plant is one of the border: mm from the left edge, and how far back.
type standing struct {
	Plant
	at    float64
	plane plane
}

// border draws the plants of a garden as a border of the frame's width, and says
// what it shows. fine is the share of all strokes that are drawn.
func border(ps []Plant, fine float64, w *words.Words, pal Palette, f Frame) (items []draw.Item, desc string) {
	all, mm, cut := plantOut(ps, f)
	low, high := lowest(ps), highest(ps)
	shown := 0
	for _, p := range all {
		if !strings.Contains(p.Seed, drift) {
			shown++
		}
	}
	desc = low.amounts(w.Say("drawn.row", "n", shown, "low", low.name(w), "lowest", metres(low.top(), w), "high", high.name(w), "highest", metres(high.top(), w)))
	if cut {
		desc = w.Say("drawn.row cut", "row", desc)
	}
	ground := f.H - soilDepth
	total := 0.0
	for _, p := range all {
		total += p.worth(mm)
	}
	budget := borderSegments * fine
	// Few plants are not drawn with more strokes than hold a portrait twice over.
	budget = min(budget, total*700)
	for _, pl := range [...]plane{backdrop, behind, middle, front} {
		for i := len(all) - 1; i >= 0; i-- {
			p := all[i]
			if p.plane != pl {
				continue
			}
			part := p.worth(mm) / total
			density := min(max(budget*part/520, 0.02), 2.4)
			strokes := within(grow(p.Plant, mm, density, int(max(budget*part, 40*fine, 14))), p.at, f.W, ground-skyAir/2)
			t := tints(p.Plant, pal)
			put := func(strokes []stroke) {
				if fine < 1 {
					coarsen(strokes)
				}
				items = append(items, draw.Group{M: draw.Shift(p.at, ground), Items: paint(strokes, t)})
			}
			switch {
			case pl == backdrop && len(all) > 1:
				// The shade within a hedge is paler than its leaves.
				shade, leaves := split(strokes, func(st stroke) bool { return st.layer > 1 })
				t.opacity = 0.17
				put(grounded(shade, p.Height*mm*0.1))
				strokes, t.opacity = leaves, 0.22
			case pl == behind:
				t.opacity = 0.56
			}
			put(strokes)
		}
	}
	items = append(items, groundOf(ground, fine, f, pal)...)
	clip := draw.Rect(0, 0, f.W, f.H)
	return []draw.Item{draw.Group{M: draw.Identity(), Clip: &clip, Items: items}}, desc
}

// worth is a plant's weight when strokes are shared out: less than its area, so that
// small ones keep some.
func (p standing) worth(mm float64) float64 {
	h, w := p.top()*mm, p.Spread*mm
	v := math.Pow(h*max(w, h*0.4), 0.55) / 30
	if p.Evergreen && p.plane != backdrop {
		v *= 1.5 // its leaves hide the shade within
	}
	return v
}

// within leaves out the strokes that lie wholly beyond the paper, and brings a tip
// that strays over the sky down.
func within(strokes []stroke, at, width, sky float64) []stroke {
	lo, hi, ok := bounds(strokes, nil)
	if !ok {
		return strokes
	}
	if k := sky / -lo.Y; k < 1 {
		strokes = moved(strokes, draw.Scale(k, k))
		lo.X, hi.X = lo.X*k, hi.X*k
	}
	if at+lo.X >= 0 && at+hi.X <= width {
		return strokes
	}
	return slices.DeleteFunc(strokes, func(st stroke) bool {
		lo, hi, _ := bounds([]stroke{st}, nil)
		return at+hi.X < 0 || at+lo.X > width
	})
}

// coarsen gives strokes fewer shades, widths and layers, so that more of them become
// one path: on a screen paths cost as much as what is drawn.
func coarsen(strokes []stroke) {
	for i := range strokes {
		st := &strokes[i]
		st.layer -= st.layer % 3
		st.shade.tone = min(max(st.shade.tone*2, -2), 2) // dark, as it is, light
		st.line = math.Ceil(st.line*8) / 8
	}
}

// grounded lets down to the ground what ends within a height over it.
func grounded(strokes []stroke, height float64) []stroke {
	out := moved(strokes, draw.Identity())
	for _, st := range out {
		for i := range st.path.Points {
			if pt := &st.path.Points[i]; pt.Y > -height {
				pt.Y = 0
			}
		}
	}
	return out
}

func lowest(ps []Plant) Plant {
	return slices.MinFunc(ps, func(a, b Plant) int { return byHeight(a.whole(), b.whole()) }).whole()
}

func highest(ps []Plant) Plant {
	return slices.MaxFunc(ps, func(a, b Plant) int { return byHeight(a.whole(), b.whole()) }).whole()
}

func byHeight(a, b Plant) int {
	return cmp.Or(cmp.Compare(a.top(), b.top()), cmp.Compare(a.Seed, b.Seed))
}

// plantOut chooses the scale, in millimetres to the centimetre, and gives every plant
// that is shown its place, from low to tall; cut tells that one is drawn lower than it
// grows.
func plantOut(ps []Plant, f Frame) (all []standing, mm float64, cut bool) {
	shown := make([]Plant, len(ps))
	for i, p := range ps {
		p = p.whole()
		if p.Type == "climber" || p.Habit == "climber" {
			if p.Height > postHeight {
				p.Height, cut = postHeight, true
			}
			p.FlowerHeight = 0
			p.Spread = min(p.Spread, postSpread, p.Height*0.5)
		}
		shown[i] = p
	}
	slices.SortStableFunc(shown, byHeight)

	sky := f.H - soilDepth - skyAir
	tallest := 0.0
	for _, p := range shown {
		if p.top() <= lofty {
			tallest = p.top()
		}
	}
	mm = min(mostScale, ordinary*sky/tallest)
	if tallest == 0 {
		mm = min(mostScale, sky/shown[len(shown)-1].top()) // nothing but trees
	}
	width := func(p Plant) float64 { return min(p.Spread, 160) }
	sum := 0.0
	for _, p := range shown {
		sum += width(p)
	}
	if fits := fullest * f.W / sum; fits < mm {
		least := min(leastScale, mm)
		mm = max(fits, least)
		shown = evenly(shown, min(len(shown), max(1, int(float64(len(shown))*fits/mm))))
	}
	// A drift of what is planted by the dozen, where there is room.
	sum = 0
	for _, p := range shown {
		sum += width(p) * mm
	}
	drifts := slices.Clone(shown)
	for n := 2; n <= mostInDrift && sum < sparsest*f.W; n++ {
		for _, p := range shown {
			if p.Many < n || p.Type == "hedge" || sum >= sparsest*f.W {
				continue
			}
			p.Seed += drift + string(rune('0'+n))
			r := generator(p.Seed)
			k := 0.84 + 0.16*r.Float64()
			p.Height, p.FlowerHeight, p.Spread = p.Height*k, p.FlowerHeight*k, p.Spread*k
			drifts = append(drifts, p)
			sum += width(p) * mm
		}
	}
	slices.SortStableFunc(drifts, byHeight)
	for i, p := range drifts {
		if most := sky / mm; p.top() > most {
			k := most / p.top()
			p.Height, p.FlowerHeight, p.Spread = p.Height*k, p.FlowerHeight*k, p.Spread*k
			cut = true
		}
		s := standing{Plant: p, plane: behind}
		switch {
		case p.Type == "hedge":
			s.plane = backdrop
		case i%3 == 1 && p.top() < tallest*0.55:
			s.plane = front
		case (len(drifts)-1-i)%2 == 0:
			s.plane = middle
		}
		all = append(all, s)
	}
	line := func(from, to float64, which func(standing) bool) {
		var row []*standing
		for i := range all {
			if which(all[i]) {
				row = append(row, &all[i])
			}
		}
		space(row, from, to)
	}
	last := all[len(all)-1]
	out := min(0.3*last.Spread*mm, 14) // the tallest is cut by the edge
	line(1, f.W-out, func(s standing) bool { return s.plane < front })
	line(7, f.W-2.5, func(s standing) bool { return s.plane == front })
	for i := range all {
		if p := &all[i]; p.plane == backdrop {
			from, to := p.at+p.Spread*mm/2, f.W+4 // its end is behind taller ones
			if len(all) == 1 {
				from = -4
			}
			p.at, p.Spread = (from+to)/2, (to-from)/mm
		}
	}
	return all, mm, cut
}

// drift and a number after the seed tell others of one plant from the first.
const drift = "\x00drift"

// mostInDrift is how many of one plant stand in a border at the most.
const mostInDrift = 9

// evenly takes n of the plants, from the first to the last.
func evenly(ps []Plant, n int) []Plant {
	if n == 1 {
		return ps[len(ps)-1:]
	}
	out := make([]Plant, n)
	for i := range out {
		out[i] = ps[i*(len(ps)-1)/(n-1)]
	}
	return out
}

// space sets plants of one line between two places, in their order. The steps grow with
// the spreads, less than they do, so that small ones are not hidden, and are uneven.
func space(row []*standing, from, to float64) {
	if len(row) == 0 {
		return
	}
	if len(row) == 1 {
		row[0].at = from + (to-from)*0.64
		return
	}
	r := generator(row[0].Seed + "\x00border")
	steps, total := make([]float64, len(row)), 0.0
	for i := 1; i < len(row); i++ {
		steps[i] = math.Pow((row[i-1].Spread+row[i].Spread)/2, 0.75) * (0.8 + 0.4*r.Float64())
		total += steps[i]
	}
	x := from
	for i, s := range row {
		x += steps[i] / total * (to - from)
		s.at = x
	}
}

// groundOf is the ground line, and under it the grain of soil: level strokes and dots,
// fewer the deeper they lie; a share of them.
func groundOf(ground, share float64, f Frame, pal Palette) []draw.Item {
	r := generator("ground")
	var fine draw.Path
	for depth := 0.9; depth < soilDepth-2; depth += 0.7 {
		near := math.Pow(1-depth/(soilDepth-1.5), 2)
		for x := -6 * r.Float64(); x < f.W; {
			long := 0.05 + 2.6*near*math.Pow(r.Float64(), 2)
			y := ground + depth + (r.Float64()-0.5)*0.7
			fine.MoveTo(x, y).LineTo(x+long, y+(r.Float64()-0.5)*0.2)
			x += long + (0.5+5*r.Float64())/(0.18+near)/min(1, share*2)
		}
	}
	return []draw.Item{
		draw.Shape{Path: fine, Stroke: &draw.Stroke{Color: pal.Ink, Width: 0.15, Cap: draw.RoundCap}},
		draw.Shape{Path: draw.Segment(-1, ground, f.W+1, ground), Stroke: &draw.Stroke{Color: pal.Ink, Width: 0.3}},
	}
}
