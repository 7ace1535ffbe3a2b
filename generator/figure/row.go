package figure

import (
	"cmp"
	"math"
	"slices"

	"sheaf/generator/draw"
	"sheaf/generator/words"
)

// row is plants on one ground line, and the lowest and highest in words.
func row(ps []Plant, w *words.Words, pal Palette, f Frame) (items []draw.Item, desc string) {
	all := make([]Plant, len(ps))
	for i, p := range ps {
		all[i] = p.whole()
	}
	slices.SortStableFunc(all, func(a, b Plant) int {
		return cmp.Or(cmp.Compare(a.top(), b.top()), cmp.Compare(a.Seed, b.Seed))
	})
	low, high := all[0], all[len(all)-1]
	desc = low.amounts(w.Say("drawn.row", "n", len(all), "low", low.name(w), "lowest", metres(low.top(), w), "high", high.name(w), "highest", metres(high.top(), w)))

	const foot, head = 1.4, 2.2
	left := rulerRoom(high.top())
	width := 0.0
	for _, p := range all {
		width += p.Spread
	}
	// Planted as close as a full border, so that the picture can be larger: up
	// to three fifths of a plant stand behind its neighbours.
	const overlap = 0.6
	room := f.W - left - 2
	mm := min((f.H-foot-head)/high.top(), room/(width*(1-overlap)+all[0].Spread*overlap/2+high.Spread*overlap/2))
	ground := f.H - foot
	ruler := math.Ceil(high.top()/10-0.001) * 10
	if ruler*mm > ground-1 {
		ruler -= 10
	}
	items = append(items, rulerItems(left-1.2, ground, ruler, mm, low.Units, pal)...)

	// Steps between middles are in proportion to the spreads; the slack of a
	// small garden goes between them.
	steps := 0.0
	for i := 1; i < len(all); i++ {
		steps += (all[i-1].Spread + all[i].Spread) / 2 * mm
	}
	ends := (low.Spread + high.Spread) / 2 * mm
	k := 1.0
	if steps > 0 {
		k = min((room-ends)/steps, 1.25)
	}
	x := left + (room-ends-steps*k)/2 + low.Spread*mm/2
	at := make([]float64, len(all))
	for i, p := range all {
		if i > 0 {
			x += (all[i-1].Spread + p.Spread) / 2 * mm * k
		}
		at[i] = x
	}
	// Strokes are shared out by size on the page.
	const rowSegments = 3400.0
	shares := 0.0
	share := func(p Plant) float64 { return math.Pow(p.top()*max(p.Spread, p.top()*0.4), 0.35) }
	for _, p := range all {
		shares += share(p)
	}
	for i := len(all) - 1; i >= 0; i-- {
		p := all[i]
		st := stage{mm: mm, x: at[i], ground: ground, ruler: left - 1.2}
		part := share(p) / shares
		density := min(max(rowSegments/550*part, 0.04), 0.75)
		strokes := fit(grow(p, mm, density, int(rowSegments*part)), st, f)
		items = append(items, draw.Group{M: draw.Shift(at[i], ground), Items: paint(strokes, tints(p, pal))})
	}
	items = append(items, groundLine(ground, left-1.2, f.W, pal)...)
	return items, desc
}
