package figure

import (
	"fmt"
	"math"

	"sheaf/generator/draw"
	"sheaf/generator/measure"
	"sheaf/generator/words"
)

const (
	mmPerPoint  = 25.4 / 72
	captionSize = 9.0 // points: the least the booklet sets
	// portraitSegments keeps a picture under about 40 KB of SVG.
	portraitSegments = 780
	// digit is the width of a figure in ems, a little more than most faces
	// have (0.56 in the text face).
	digit = 0.6
)

// A stage is where a plant stands in a frame.
type stage struct {
	mm       float64 // millimetres to a centimetre of the plant
	x        float64 // of the plant's middle
	ground   float64 // of the ground line
	ruler    float64 // x of the ruler; 0: none
	top      float64 // height of the ruler, cm
	units    measure.Units
	beside   string  // hand, figure or nothing
	besideX  float64 // left edge of what stands beside
	besideCM float64 // its width
}

const (
	handCM   = 20.0
	figureCM = 170.0
)

// setStage finds the largest scale at which the plant, its ruler and what
// stands beside it fit the frame.
func setStage(p Plant, f Frame, ruler bool) stage {
	return stageTo(p, f, ruler, math.Inf(1))
}

// stageTo is setStage at no more than a scale.
func stageTo(p Plant, f Frame, ruler bool, most float64) stage {
	st := stage{units: p.Units}
	foot := max(1.2, f.H*0.03)
	head := 1.0
	left, right := 1.0, 1.0
	if f.W < 28 || f.H < 16 {
		ruler = false
	}
	width, top := p.Spread, p.top()
	if p.FlowerHeight > 0 {
		width = max(width*1.08, min(p.FlowerHeight*0.3, p.Spread*1.2))
	}
	if ruler {
		left = rulerRoom(math.Ceil(max(top, handCM)/10) * 10) // its last number is the next ten
		head = 2.2                                            // half a line of type over the top tick
		switch {
		case top <= 60:
			st.beside, st.besideCM = "hand", 11
			top = max(top, handCM)
		case top >= 130:
			st.beside, st.besideCM = "figure", 52
			top = max(top, figureCM)
		}
		st.ruler = left - 1.2
	}
	st.mm = min((f.H-foot-head)/top, (f.W-left-right)/(width+st.besideCM), most)
	st.ground = f.H - foot
	st.top = math.Ceil(top/10-0.001) * 10
	if st.top*st.mm > f.H-foot-head+0.75 { // its number must stay in the frame
		st.top -= 10
	}
	st.besideX = left + 1
	free := f.W - left - right - (width+st.besideCM)*st.mm
	st.x = left + st.besideCM*st.mm + free*0.5 + width*st.mm/2
	if st.beside != "" {
		st.besideX = left + min(free*0.18, 4)
		st.x = min(st.x, f.W-right-width*st.mm/2)
	}
	return st
}

// rulerRoom is the width of a ruler of top cm with its numbers.
func rulerRoom(top float64) float64 {
	digits := math.Floor(math.Log10(max(top, 10))) + 1
	return digits*digit*captionSize*mmPerPoint + 3.3
}

// tints are the colours of a plant's parts.
func tints(p Plant, pal Palette) tint {
	shaft := p.Leaf.Mix(draw.Color{R: 0x8a, G: 0x72, B: 0x4a}, 0.35)
	if p.Type == "grass" || p.Type == "sedge" || p.Type == "rush" {
		shaft = p.Leaf.Mix(draw.Color{R: 0x7d, G: 0x5c, B: 0x38}, 0.6)
	}
	// Rec. 709 weights: enough to tell a pale flower from a dark one.
	light := 0.2126*float64(p.Flower.R) + 0.7152*float64(p.Flower.G) + 0.0722*float64(p.Flower.B)
	return tint{pale: light > 185, shades: map[part]draw.Color{
		wood: {R: 0x6b, G: 0x58, B: 0x48}, stem: shaft, leaf: p.Leaf, flower: p.Flower,
		eye: {R: 0xa8, G: 0x7c, B: 0x24}, support: pal.Quiet,
	}}
}

// portrait is the whole plant and its description.
func portrait(p Plant, w *words.Words, pal Palette, f Frame) (items []draw.Item, desc string) {
	if p.Unknown {
		return standIn(p, w, pal, f)
	}
	p = p.whole()
	st := setStage(p, f, true)
	desc = p.say(w)
	if st.ruler > 0 {
		key := "drawn.ruler"
		if st.beside != "" {
			key = "drawn.ruler and " + st.beside
		}
		desc = w.Say(key, "plant", desc)
	}
	items = append(items, st.scenery(pal, f)...)
	t := tints(p, pal)
	strokes := fit(grow(p, st.mm, 1, portraitSegments), st, f)
	items = append(items, draw.Group{M: draw.Shift(st.x, st.ground), Items: paint(strokes, t)})
	items = append(items, groundLine(st.ground, st.left(), f.W, pal)...)
	return items, p.amounts(w.Say("drawn.sentence", "said", desc))
}

// reset puts a portrait that was drawn for one frame into another, with a ruler of its
// own: the plant is the same, at no more than a scale.
func reset(pic draw.Picture, p Plant, pal Palette, drawn, f Frame, most float64) ([]draw.Item, string) {
	from, st := setStage(p, drawn, true), stageTo(p, f, true, most)
	items := st.scenery(pal, f)
	for _, it := range flatGroups(pic.Items) {
		// The plant is the group that stands where its stage has it.
		if g, ok := it.(draw.Group); ok && g.M == draw.Shift(from.x, from.ground) {
			k := st.mm / from.mm
			g.M = draw.Scale(k, k).Then(draw.Shift(st.x, st.ground))
			items = append(items, g)
		}
	}
	return append(items, groundLine(st.ground, st.left(), f.W, pal)...), pic.Desc
}

// flatGroups are items without the groups that only hold what was sketched.
func flatGroups(items []draw.Item) []draw.Item {
	var out []draw.Item
	for _, it := range items {
		if g, ok := it.(draw.Group); ok && g.M == draw.Identity() {
			out = append(out, flatGroups(g.Items)...)
		} else {
			out = append(out, it)
		}
	}
	return out
}

// standIn is what stands for a plant that nobody has measured: a dashed mound
// without a ruler, and words that say so.
func standIn(p Plant, w *words.Words, pal Palette, f Frame) ([]draw.Item, string) {
	ground, left, right, top := f.H-2, f.W*0.28, f.W*0.72, f.H*0.36
	var mound draw.Path
	mound.MoveTo(left, ground).CubicTo(left-f.W*0.05, top, right+f.W*0.05, top, right, ground)
	items := append(groundLine(ground, 1, f.W-1, pal), draw.Shape{Path: mound, Stroke: &draw.Stroke{Color: pal.Quiet, Width: 0.3, Dash: []float64{1.2, 1.2}}})
	const line = captionSize * mmPerPoint * 1.3
	for i, said := range w.List("drawn.not drawn") {
		items = append(items, draw.Label{X: f.W / 2, Y: line * float64(i+1), Face: draw.Caption, Size: captionSize, Anchor: draw.Middle, Text: said, Color: pal.Quiet})
	}
	return items, w.Say("drawn.unknown", "plant", p.name(w))
}

func (st stage) left() float64 {
	if st.ruler > 0 {
		return st.ruler
	}
	return 0
}

// fit keeps strokes within the frame: a stray tip shrinks the whole by a
// little rather than being cut off.
func fit(strokes []stroke, st stage, f Frame) []stroke {
	lo, hi, ok := bounds(strokes, nil)
	if !ok {
		return strokes
	}
	k := 1.0
	room := func(have, want float64) {
		if want > have {
			k = min(k, have/want)
		}
	}
	room(st.x-st.left()-0.3, -lo.X)
	room(f.W-0.3-st.x, hi.X)
	room(st.ground-0.3, -lo.Y)
	if k < 1 {
		strokes = moved(strokes, draw.Scale(k, k))
	}
	// Nothing grows below the ground.
	if hi.Y*k > f.H-st.ground-0.2 {
		for i := range strokes {
			for j := range strokes[i].path.Points {
				pt := &strokes[i].path.Points[j]
				pt.Y = min(pt.Y, f.H-st.ground-0.3)
			}
		}
	}
	return strokes
}

// groundLine is a ruled line with the unevenness of soil hinted under it.
func groundLine(y, x0, x1 float64, pal Palette) []draw.Item {
	return []draw.Item{draw.Shape{Path: draw.Segment(x0, y, x1, y), Stroke: &draw.Stroke{Color: pal.Ink, Width: 0.2, Cap: draw.RoundCap}}}
}

// scenery is the ruler and what stands beside the plant.
func (st stage) scenery(pal Palette, f Frame) []draw.Item {
	var items []draw.Item
	if st.ruler == 0 {
		return nil
	}
	items = append(items, rulerItems(st.ruler, st.ground, st.top, st.mm, st.units, pal)...)
	line := &draw.Stroke{Color: pal.Hairline, Width: 0.25, Cap: draw.RoundCap, Join: draw.RoundJoin}
	var p draw.Path
	switch st.beside {
	case "hand":
		p = hand()
	case "figure":
		p = person()
	default:
		return items
	}
	p = p.Apply(draw.Scale(st.mm, st.mm).Then(draw.Shift(st.besideX+st.besideCM*st.mm/2, st.ground)))
	return append(items, draw.Shape{Path: p, Stroke: line})
}

// A scale is how a ruler is divided: its unit in centimetres, and how many units
// may lie from tick to tick and from number to number.
type scale struct {
	unit           string
	cm             float64
	ticks, numbers []float64
}

// scaleOf is centimetres, or inches up to a yard and feet above.
func scaleOf(top float64, u measure.Units) scale {
	const inch = 2.54
	switch {
	case u == measure.US && top <= 36*inch:
		return scale{"in", inch, []float64{2, 4, 12}, []float64{2, 4, 12}}
	case u == measure.US:
		return scale{"ft", 12 * inch, []float64{1, 2, 10}, []float64{1, 2, 4, 10, 20, 50}}
	}
	return scale{"cm", 1, []float64{10, 50, 100, 500, 1000}, []float64{10, 20, 50, 100, 200, 500, 1000, 2000, 5000}}
}

// rulerItems is a ruler of top cm with a tick every 10 cm, every 2 inches or
// every foot, or as many as can be told apart, and numbers that do not touch.
func rulerItems(x, ground, top, mm float64, u measure.Units, pal Palette) []draw.Item {
	sc := scaleOf(top, u)
	mm, top = mm*sc.cm, top/sc.cm // a unit of the scale in millimetres
	tick := 0.0
	for _, tick = range sc.ticks {
		if tick*mm >= 0.9 {
			break
		}
	}
	named := tick
	for _, named = range sc.numbers {
		if named >= tick && math.Mod(named, tick) == 0 && named*mm >= captionSize*mmPerPoint*2.4 {
			break
		}
	}
	top = math.Floor(top/tick+0.001) * tick
	var line draw.Path
	line.MoveTo(x, ground).LineTo(x, ground-top*mm)
	// The unit stands where nought would.
	items := []draw.Item{draw.Label{X: x - 0.8, Y: ground, Face: draw.Caption, Size: captionSize, Anchor: draw.End, Text: sc.unit, Color: pal.Quiet}}
	for i := 1; float64(i)*tick <= top+0.001; i++ {
		v := float64(i) * tick
		y := ground - v*mm
		l := 0.8
		if math.Mod(v, named) < 0.001 {
			l = 1.6
			items = append(items, draw.Label{X: x - 2.1, Y: y + captionSize*mmPerPoint*0.35, Face: draw.Caption, Size: captionSize,
				Anchor: draw.End, Text: fmt.Sprintf("%.0f", v), Color: pal.Quiet})
		}
		line.MoveTo(x-l, y).LineTo(x, y)
	}
	return append([]draw.Item{draw.Shape{Path: line, Stroke: &draw.Stroke{Color: pal.Quiet, Width: 0.18}}}, items...)
}

// hand is the outline of an open hand, 20 cm from wrist to finger tip, in
// centimetres around its middle, standing on the ground line.
func hand() draw.Path {
	pts := [][2]float64{
		{-2.4, 0}, {-2.6, -2.4}, {-3.6, -5.2}, {-4.0, -8.6},
		{-4.6, -11.6}, {-5.1, -14.0}, {-4.5, -15.0}, {-3.7, -14.3}, {-3.2, -11.9}, {-2.6, -10.3},
		{-2.5, -13.6}, {-2.6, -17.4}, {-1.9, -18.5}, {-1.1, -17.6}, {-0.9, -14.0}, {-0.5, -10.9},
		{-0.2, -14.4}, {0.0, -18.9}, {0.7, -20}, {1.4, -18.9}, {1.3, -14.4}, {1.4, -10.9},
		{1.9, -13.8}, {2.4, -17.2}, {3.2, -18.1}, {3.8, -17.1}, {3.4, -13.4}, {3.3, -9.6},
		{3.7, -7.6}, {4.7, -9.4}, {5.6, -11.2}, {6.5, -11.3}, {6.7, -10.3}, {5.9, -8.0}, {4.6, -5.0}, {3.2, -2.6}, {2.7, 0},
	}
	return outlineOf(pts, false)
}

// person is the outline of someone standing, 1.7 m, in centimetres around the
// middle.
func person() draw.Path {
	side := [][2]float64{
		{0, -170}, {5, -168.8}, {7.6, -163}, {7.2, -155}, {4.6, -149}, {4.8, -145}, {10, -142}, {16, -139.5}, {19.5, -134},
		{21, -120}, {22, -106}, {23.4, -92}, {24.6, -82}, {23.4, -74}, {21.2, -78}, {20, -90}, {17.6, -104}, {15.4, -118}, {14.4, -126},
		{13.6, -112}, {13, -102}, {15, -90}, {15.6, -76}, {13.8, -48}, {12.8, -34}, {10.6, -8}, {12, -2}, {11, 0}, {4.6, 0}, {4.2, -8}, {4.6, -30}, {3, -48}, {1.4, -76}, {0, -79},
	}
	pts := append([][2]float64(nil), side...)
	for i := len(side) - 2; i > 0; i-- {
		pts = append(pts, [2]float64{-side[i][0], side[i][1]})
	}
	return outlineOf(pts, true)
}

// outlineOf is a smooth line through places given in centimetres.
func outlineOf(pts [][2]float64, closed bool) draw.Path {
	q := make([]draw.Point, len(pts))
	for i, p := range pts {
		q[i] = draw.Point{X: p[0], Y: p[1]}
	}
	return wave(q, closed)
}
