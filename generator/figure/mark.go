package figure

import (
	"math"

	"sheaf/generator/draw"
)

const (
	markSize = 5.0  // mm square
	markLine = 0.35 // mm
)

// Mark is the sign of a kind of job, 5 mm square in one line weight. It draws
// what the hand does, seen from the side. An unknown name gives a plain ring.
func Mark(name string, c draw.Color) draw.Picture {
	var p draw.Path
	var dashed draw.Path
	curve := func(x0, y0, x1, y1, x2, y2, x3, y3 float64) { p.MoveTo(x0, y0).CubicTo(x1, y1, x2, y2, x3, y3) }
	line := func(x0, y0, x1, y1 float64) { p.MoveTo(x0, y0).LineTo(x1, y1) }
	switch name {
	case "comb":
		curve(2.0, 4.7, 1.8, 4.2, 1.2, 3.8, 0.4, 3.7)
		curve(2.2, 4.7, 2.1, 3.6, 1.8, 2.7, 1.3, 2.0)
		curve(2.4, 4.7, 2.5, 3.8, 2.5, 2.9, 2.35, 2.2)
		curve(2.6, 4.7, 2.9, 4.1, 3.5, 3.8, 4.4, 3.7)
		// Fingers from the right, hooked down into the blades.
		curve(4.6, 0.4, 2.8, 0.2, 0.9, 0.7, 0.5, 2.6)
		curve(4.6, 1.1, 3.2, 0.9, 2.0, 1.3, 1.75, 3.1)
		curve(4.6, 1.8, 3.7, 1.7, 3.2, 2.1, 3.1, 3.1)
		line(4.6, 0.4, 4.6, 1.8)
	case "groom":
		curve(1.8, 4.6, 1.6, 3.6, 1.2, 3.0, 0.4, 2.7)
		curve(2.0, 4.6, 1.9, 3.4, 1.7, 2.4, 1.1, 1.7)
		curve(2.2, 4.6, 2.3, 3.5, 2.3, 2.5, 2.4, 1.6)
		// The leaf that goes, whole.
		p.MoveTo(3.1, 3.3).CubicTo(3.1, 2.1, 3.7, 1.3, 4.6, 0.8).CubicTo(4.7, 1.9, 4.2, 2.8, 3.1, 3.3).Close()
		line(3.1, 3.3, 2.8, 3.75)
	case "cut back":
		dashed.MoveTo(0.4, 2.3).LineTo(4.6, 2.3)
		line(1.7, 4.6, 1.1, 3.1)
		line(2.1, 4.6, 1.8, 3.1)
		line(2.5, 4.6, 2.5, 3.1)
		line(2.9, 4.6, 3.2, 3.1)
		line(3.3, 4.6, 3.9, 3.1)
	case "deadhead":
		// A head with its petals, the cut, and the stem with a leaf that stays.
		p.Append(draw.Ellipse(2.5, 1.25, 0.42, 0.42))
		for i := range 9 {
			dx, dy := heading(float64(i)/9*2*math.Pi + 0.15)
			if dy < 0.9 { // below is the stem
				line(2.5+dx*0.75, 1.25+dy*0.75, 2.5+dx*1.0, 1.25+dy*1.0)
			}
		}
		line(2.5, 1.7, 2.5, 2.75)
		line(1.5, 3.1, 3.5, 2.75)
		curve(2.5, 3.4, 2.5, 3.9, 2.45, 4.3, 2.4, 4.7)
		curve(2.45, 4.5, 2.0, 4.6, 1.3, 4.3, 1.0, 3.7)
	case "remove stems":
		curve(2.5, 4.6, 2.6, 3.0, 2.6, 1.9, 2.8, 1.5)
		p.MoveTo(2.75, 1.6).CubicTo(2.5, 1.0, 2.8, 0.6, 3.1, 0.35).CubicTo(3.3, 0.8, 3.2, 1.3, 2.75, 1.6).Close()
		curve(2.2, 4.6, 2.0, 3.8, 1.5, 3.3, 0.6, 3.3)
		curve(2.8, 4.6, 3.0, 3.8, 3.5, 3.3, 4.4, 3.3)
		line(1.8, 4.2, 3.3, 3.5)
	case "thin":
		curve(2.1, 4.6, 1.8, 3.2, 1.2, 2.0, 0.5, 1.2)
		curve(2.3, 4.6, 2.1, 3.2, 1.9, 1.8, 1.6, 0.7)
		line(2.5, 4.6, 2.55, 0.5)
		curve(2.7, 4.6, 2.9, 3.2, 3.2, 1.8, 3.5, 0.7)
		curve(3.1, 4.6, 3.4, 3.4, 3.9, 2.2, 4.5, 1.3)
		line(2.7, 3.4, 4.4, 4.2)
	case "trim":
		p.MoveTo(0.7, 4.6).LineTo(0.9, 1.7).LineTo(4.1, 1.7).LineTo(4.3, 4.6)
		line(2.5, 4.6, 2.5, 2.9)
		curve(2.5, 4.1, 2.3, 3.7, 1.9, 3.5, 1.7, 3.0)
		curve(2.5, 3.7, 2.7, 3.4, 3.1, 3.2, 3.3, 2.7)
		dashed.MoveTo(0.4, 0.8).LineTo(4.6, 0.8)
	case "divide":
		p.MoveTo(1.9, 0.4).LineTo(3.1, 0.4).LineTo(2.5, 4.3).Close()
		curve(1.7, 4.6, 1.6, 3.5, 1.5, 2.6, 1.2, 1.7)
		curve(1.5, 4.6, 1.3, 3.8, 0.9, 3.1, 0.4, 2.8)
		curve(3.3, 4.6, 3.4, 3.5, 3.5, 2.6, 3.8, 1.7)
		curve(3.5, 4.6, 3.7, 3.8, 4.1, 3.1, 4.6, 2.8)
	case "mulch":
		curve(2.5, 3.2, 2.5, 2.4, 2.5, 1.4, 2.6, 0.5)
		curve(2.5, 2.4, 1.9, 2.3, 1.4, 1.9, 1.2, 1.2)
		curve(2.5, 1.9, 3.1, 1.8, 3.6, 1.4, 3.8, 0.8)
		for i := range 5 {
			p.Append(draw.Ellipse(0.5+float64(i), 3.7, 0.13, 0.13))
		}
		for i := range 4 {
			p.Append(draw.Ellipse(1+float64(i), 4.55, 0.13, 0.13))
		}
	case "water":
		drop := func(x, y float64) {
			p.MoveTo(x, y).CubicTo(x+0.65, y+0.95, x+0.45, y+1.35, x, y+1.35).CubicTo(x-0.45, y+1.35, x-0.65, y+0.95, x, y).Close()
		}
		drop(0.95, 0.4)
		drop(2.5, 1.0)
		drop(4.05, 0.4)
		curve(2.6, 2.9, 2.5, 3.5, 2.4, 4.1, 2.5, 4.7)
		curve(2.5, 3.4, 2.1, 3.7, 1.6, 3.7, 1.0, 4.3)
		curve(2.45, 3.9, 2.8, 4.0, 3.2, 4.1, 3.6, 4.6)
	case "protect":
		p.MoveTo(0.6, 4.6).CubicTo(0.5, 2.0, 1.4, 0.5, 2.5, 0.5).CubicTo(3.6, 0.5, 4.5, 2.0, 4.4, 4.6)
		curve(2.3, 4.6, 2.2, 3.7, 1.9, 3.0, 1.4, 2.6)
		line(2.5, 4.6, 2.5, 2.2)
		curve(2.7, 4.6, 2.8, 3.7, 3.1, 3.0, 3.6, 2.6)
	case "tie in":
		line(3.2, 4.7, 3.2, 0.4)
		curve(1.7, 4.7, 2.4, 3.4, 2.5, 2.2, 1.9, 0.5)
		p.Append(draw.Ellipse(2.72, 2.6, 1.25, 0.55))
	case "clear leaves":
		curve(0.5, 4.6, 0.7, 3.3, 1.5, 2.8, 2.5, 2.8)
		curve(2.5, 2.8, 3.5, 2.8, 4.3, 3.3, 4.5, 4.6)
		line(2.5, 4.6, 2.5, 3.7)
		// The leaf, with its stalk.
		p.MoveTo(1.6, 2.0).CubicTo(1.5, 0.9, 2.4, 0.3, 3.9, 0.4).CubicTo(3.9, 1.6, 2.9, 2.3, 1.6, 2.0).Close()
		line(1.6, 2.0, 1.1, 2.4)
	case "pinch":
		line(2.5, 4.7, 2.5, 2.9)
		curve(2.5, 4.1, 1.9, 4.2, 1.3, 3.8, 1.0, 3.2)
		curve(2.5, 4.1, 3.1, 4.2, 3.7, 3.8, 4.0, 3.2)
		p.MoveTo(2.5, 2.0).CubicTo(2.0, 1.5, 2.2, 0.9, 2.5, 0.4).CubicTo(2.8, 0.9, 3.0, 1.5, 2.5, 2.0).Close()
		// Finger and thumb, from either side.
		curve(0.3, 1.4, 1.0, 1.3, 1.6, 1.7, 2.0, 2.4)
		curve(4.7, 1.4, 4.0, 1.3, 3.4, 1.7, 3.0, 2.4)
	case "remove suckers":
		line(1.6, 3.0, 1.6, 0.5)
		curve(1.6, 1.6, 1.1, 1.5, 0.7, 1.1, 0.6, 0.6)
		curve(1.6, 3.0, 1.8, 3.9, 3.0, 4.2, 4.6, 4.4)
		curve(1.6, 3.0, 1.4, 3.8, 1.0, 4.2, 0.5, 4.5)
		// The sucker and the stroke at its foot.
		curve(3.5, 4.2, 3.5, 3.4, 3.6, 2.6, 3.9, 1.7)
		line(2.8, 3.2, 4.3, 3.7)
	case "renovate":
		line(0.9, 4.6, 0.5, 0.6)
		line(2.5, 4.6, 2.5, 0.4)
		line(4.1, 4.6, 4.5, 0.6)
		curve(1.7, 4.6, 1.7, 3.8, 1.5, 3.2, 1.4, 2.6)
		curve(3.3, 4.6, 3.3, 3.8, 3.5, 3.2, 3.6, 2.6)
		line(0.3, 4.0, 1.4, 3.4)
		dashed.MoveTo(1.9, 2.3).LineTo(3.1, 1.7)
	case "raise crown":
		line(2.3, 4.7, 2.3, 2.0)
		p.MoveTo(2.3, 2.2).CubicTo(0.4, 2.4, 0.2, 0.4, 2.5, 0.4).CubicTo(4.8, 0.4, 4.6, 2.4, 2.3, 2.2).Close()
		curve(2.3, 4.0, 2.9, 3.7, 3.5, 3.4, 4.5, 3.4)
		line(2.7, 3.2, 3.2, 4.3)
	case "lift":
		line(2.5, 2.0, 2.5, 0.6)
		p.MoveTo(2.5, 2.0).CubicTo(1.5, 2.2, 0.9, 3.0, 1.1, 3.5).CubicTo(1.8, 3.4, 2.3, 2.8, 2.5, 2.0).Close()
		p.MoveTo(2.5, 2.0).CubicTo(3.5, 2.2, 4.1, 3.0, 3.9, 3.5).CubicTo(3.2, 3.4, 2.7, 2.8, 2.5, 2.0).Close()
		dashed.MoveTo(0.3, 3.6).CubicTo(0.8, 5.0, 4.2, 5.0, 4.7, 3.6)
		line(4.1, 2.0, 4.1, 0.5)
		p.MoveTo(3.6, 1.1).LineTo(4.1, 0.5).LineTo(4.6, 1.1)
	case "replant":
		line(0.3, 2.3, 1.5, 2.3)
		line(3.5, 2.3, 4.7, 2.3)
		p.MoveTo(2.5, 2.8).CubicTo(1.5, 3.0, 0.9, 3.8, 1.1, 4.3).CubicTo(1.8, 4.2, 2.3, 3.6, 2.5, 2.8).Close()
		p.MoveTo(2.5, 2.8).CubicTo(3.5, 3.0, 4.1, 3.8, 3.9, 4.3).CubicTo(3.2, 4.2, 2.7, 3.6, 2.5, 2.8).Close()
		line(2.5, 0.4, 2.5, 2.0)
		p.MoveTo(2.0, 1.4).LineTo(2.5, 2.0).LineTo(3.0, 1.4)
	case "tie up":
		curve(1.9, 4.6, 2.1, 3.6, 2.1, 2.8, 0.9, 0.8)
		curve(2.3, 4.6, 2.4, 3.6, 2.4, 2.4, 2.0, 0.5)
		curve(2.7, 4.6, 2.6, 3.6, 2.6, 2.4, 3.0, 0.5)
		curve(3.1, 4.6, 2.9, 3.6, 2.9, 2.8, 4.1, 0.8)
		p.Append(draw.Ellipse(2.5, 2.9, 0.85, 0.32))
		curve(3.2, 3.1, 3.7, 3.3, 4.0, 3.6, 4.1, 4.0)
	case "uncover":
		p.MoveTo(1.6, 0.7).CubicTo(2.9, 0.3, 4.4, 1.8, 4.6, 4.6)
		dashed.MoveTo(0.5, 4.6).CubicTo(0.4, 2.6, 0.8, 1.3, 1.6, 0.7)
		curve(1.8, 4.6, 1.7, 3.7, 1.4, 3.0, 0.9, 2.6)
		line(2.0, 4.6, 2.0, 2.2)
		curve(2.2, 4.6, 2.3, 3.7, 2.6, 3.0, 3.1, 2.6)
	case "stake":
		line(0.8, 4.7, 0.8, 0.6)
		line(4.2, 4.7, 4.2, 0.6)
		curve(0.8, 2.0, 1.8, 2.6, 3.2, 2.6, 4.2, 2.0)
		curve(2.3, 4.7, 2.2, 3.6, 2.0, 2.0, 1.7, 1.0)
		curve(2.7, 4.7, 2.8, 3.6, 3.0, 2.0, 3.3, 1.0)
	case "feed":
		curve(2.5, 4.7, 2.5, 3.4, 2.5, 2.0, 2.6, 0.8)
		curve(2.5, 3.0, 1.9, 2.9, 1.4, 2.5, 1.2, 1.8)
		for _, at := range [...]draw.Point{{X: 0.5, Y: 3.2}, {X: 1.2, Y: 4.0}, {X: 0.5, Y: 4.6}, {X: 3.8, Y: 2.6}, {X: 4.5, Y: 3.6}, {X: 3.7, Y: 4.3}} {
			p.Append(draw.Ellipse(at.X, at.Y, 0.13, 0.13))
		}
	case "weed":
		line(0.3, 3.4, 1.6, 3.4)
		line(3.4, 3.4, 4.7, 3.4)
		curve(2.5, 2.2, 2.1, 1.6, 1.6, 1.2, 0.8, 1.2)
		line(2.5, 2.2, 2.5, 0.6)
		curve(2.5, 2.2, 2.9, 1.6, 3.4, 1.2, 4.2, 1.2)
		curve(2.5, 2.2, 2.4, 3.0, 2.7, 3.8, 2.5, 4.7)
		curve(2.5, 3.0, 2.2, 3.4, 1.9, 3.9, 1.8, 4.4)
	case "check":
		p.Append(draw.Ellipse(2.1, 2.0, 1.6, 1.6))
		line(3.3, 3.2, 4.6, 4.6)
		p.MoveTo(1.4, 2.7).CubicTo(1.3, 1.8, 1.8, 1.2, 2.8, 1.2).CubicTo(2.9, 2.2, 2.4, 2.8, 1.4, 2.7).Close()
	default:
		p.Append(draw.Ellipse(2.5, 2.5, 1.6, 1.6))
	}
	stroke := draw.Stroke{Color: c, Width: markLine, Cap: draw.RoundCap, Join: draw.RoundJoin}
	pic := draw.Picture{W: markSize, H: markSize, Items: []draw.Item{draw.Shape{Path: p, Stroke: &stroke}}}
	if len(dashed.Verbs) > 0 {
		s := stroke
		s.Dash = []float64{0.6, 0.7}
		pic.Items = append(pic.Items, draw.Shape{Path: dashed, Stroke: &s})
	}
	return pic
}
