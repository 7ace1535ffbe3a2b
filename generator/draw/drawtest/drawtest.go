// Package drawtest holds awkward pictures. Each painter of draw.Picture paints
// them all in its tests and compares what comes out, so that what one can do
// the other does too.
package drawtest

import (
	"math"

	"sheaf/generator/draw"
)

// A Case is a picture and what is awkward about it.
type Case struct {
	Name    string // a file name without its extension
	Picture draw.Picture
}

// Cases gives the pictures, always the same ones in the same order.
func Cases() []Case {
	ink, clay, moss := draw.Color{R: 0x1e, G: 0x2a, B: 0x24}, draw.Color{R: 0x9c, G: 0x45, B: 0x26}, draw.Color{R: 0x3f, G: 0x6b, B: 0x3a}
	pic := func(items ...draw.Item) draw.Picture { return draw.Picture{W: 40, H: 30, Items: items} }
	fill := func(p draw.Path, c draw.Color) draw.Shape { return draw.Shape{Path: p, Fill: &c} }
	line := func(p draw.Path, c draw.Color, w float64) draw.Shape {
		return draw.Shape{Path: p, Stroke: &draw.Stroke{Color: c, Width: w}}
	}
	join := func(ps ...draw.Path) (out draw.Path) {
		for _, p := range ps {
			out.Append(p)
		}
		return out
	}
	var bow, star, reversed draw.Path
	bow.MoveTo(5, 25).CubicTo(5, 5, 35, 5, 35, 25)
	for i := range 5 {
		sin, cos := math.Sincos(float64(i) * 4 * math.Pi / 5)
		if i == 0 {
			star.MoveTo(20, 3)
			continue
		}
		star.LineTo(20+12*sin, 15-12*cos)
	}
	star.Close()
	reversed.MoveTo(15, 10).LineTo(15, 20).LineTo(25, 20).LineTo(25, 10).Close()
	quad := func() (p draw.Path) { p.MoveTo(5, 25).QuadTo(20, -5, 35, 25); return }()
	clip := draw.Ellipse(20, 15, 10, 10)
	inner := draw.Rect(0, 0, 20, 15)
	everything := func() draw.Shape {
		s := fill(draw.Rect(10, 8, 20, 14), moss)
		s.Stroke = &draw.Stroke{Color: ink, Width: 1, Join: draw.RoundJoin}
		return s
	}

	return []Case{
		{"empty", pic()},
		{"no-paint", pic(draw.Shape{Path: draw.Rect(1, 1, 5, 5)})},
		{"described", draw.Picture{W: 40, H: 30, Title: `Rush & sedge <"two">`, Desc: "A line under a\nword", Items: []draw.Item{line(bow, ink, 0.5)}}},
		{"fill-and-stroke", pic(everything())},
		{"opacity", pic(func() draw.Item { s := everything(); s.Opacity = 0.25; return s }(), fill(draw.Ellipse(20, 15, 4, 4), clay))},
		{"opacity-zero-is-opaque", pic(func() draw.Item { s := everything(); s.Opacity = 0; return s }())},
		{"even-odd", pic(func() draw.Item { s := fill(star, clay); s.EvenOdd = true; return s }())},
		{"nonzero-star", pic(fill(star, clay))},
		{"hole-by-winding", pic(fill(join(draw.Rect(5, 5, 30, 20), reversed), moss))},
		{"dashes", pic(
			draw.Shape{Path: bow, Stroke: &draw.Stroke{Color: ink, Width: 0.5, Dash: []float64{2, 1, 0.5, 1}}},
			draw.Shape{Path: draw.Segment(5, 28, 35, 28), Stroke: &draw.Stroke{Color: clay, Width: 0.8, Dash: []float64{0, 1.6}, Cap: draw.RoundCap}},
			line(draw.Segment(5, 2, 35, 2), ink, 0.5), // the dashes must not leak into it
		)},
		{"caps-and-joins", pic(
			draw.Shape{Path: star, Stroke: &draw.Stroke{Color: ink, Width: 1.2, Cap: draw.RoundCap, Join: draw.RoundJoin}},
			draw.Shape{Path: star.Apply(draw.Scale(0.5, 0.5)), Stroke: &draw.Stroke{Color: ink, Width: 1.2}},
		)},
		{"quadratic", pic(line(quad, ink, 0.4))},
		{"thin-and-thick", pic(line(draw.Segment(5, 5, 35, 5), ink, 0.01), line(draw.Segment(5, 15, 35, 15), ink, 6))},
		{"rounding", pic(line(func() (p draw.Path) {
			// A hundred steps of a third of a hundredth add up only if they
			// are taken between rounded places.
			p.MoveTo(1, 15)
			for i := range 100 {
				p.LineTo(1+float64(i+1)/300, 15+float64(i%2)/300)
			}
			p.LineTo(39.999, 29.995)
			return
		}(), ink, 0.2))},
		{"many-closed", pic(fill(join(draw.Rect(1, 1, 3, 3), draw.Ellipse(20, 15, 5, 3), draw.Rect(30, 20, -4, -4)), moss))},
		{"same-style-neighbours", pic(line(draw.Segment(1, 1, 9, 9), ink, 0.4), line(draw.Segment(9, 1, 1, 9), ink, 0.4), line(draw.Segment(1, 5, 9, 5), clay, 0.4))},
		{"moved", pic(draw.Group{M: draw.Scale(2, 2).Then(draw.Rotate(0.3)).Then(draw.Shift(10, 2)), Items: []draw.Item{
			draw.Shape{Path: draw.Rect(0, 0, 8, 5), Fill: &moss, Stroke: &draw.Stroke{Color: ink, Width: 0.3, Dash: []float64{1, 0.5}}},
			draw.Label{X: 1, Y: 3, Size: 5, Text: "moved", Color: clay},
		}})},
		{"mirrored", pic(draw.Group{M: draw.Scale(-1, 1).Then(draw.Shift(40, 0)), Items: []draw.Item{line(bow, ink, 0.6), fill(draw.Rect(2, 2, 6, 3), clay)}})},
		{"clipped", pic(
			draw.Group{M: draw.Identity(), Clip: &clip, Items: []draw.Item{fill(draw.Rect(0, 0, 40, 30), moss), line(bow, ink, 1)}},
			fill(draw.Rect(36, 1, 3, 3), clay), // outside the clip, so whole
		)},
		{"clip-in-clip", pic(draw.Group{M: draw.Identity(), Clip: &clip, Items: []draw.Item{
			fill(draw.Rect(0, 0, 40, 30), moss),
			draw.Group{M: draw.Shift(12, 4), Clip: &inner, Items: []draw.Item{fill(draw.Rect(-10, -10, 60, 60), clay)}},
			line(draw.Segment(0, 15, 40, 15), ink, 0.5),
		}})},
		{"labels", pic(
			draw.Label{X: 2, Y: 5, Size: 10, Text: "start", Color: ink},
			draw.Label{X: 20, Y: 10, Size: 10, Face: draw.Italic, Anchor: draw.Middle, Text: "middle", Color: ink},
			draw.Label{X: 38, Y: 15, Size: 10, Face: draw.Bold, Anchor: draw.End, Text: "end", Color: clay},
			draw.Label{X: 2, Y: 20, Size: 14, Face: draw.Heading, Text: "Köln – ½ × “quoted”", Color: ink},
			draw.Label{X: 2, Y: 24, Size: 8, Face: draw.SmallCaps, Text: "small caps", Color: moss},
			draw.Label{X: 2, Y: 28, Size: 8, Face: draw.Caption, Text: `<b> & "so" 'on'`, Color: ink},
			draw.Label{X: 30, Y: 28, Size: 8, Text: "", Color: ink},
		)},
		{"fitted", pic(line(bow, ink, 1), draw.Label{X: 20, Y: 28, Size: 9, Anchor: draw.Middle, Text: "half", Color: ink}).Fit(20, 40)},
		{"theme-colours", pic(fill(draw.Rect(0, 0, 40, 30), draw.Color{R: 0xfb, G: 0xf9, B: 0xf3}), fill(draw.Rect(2, 2, 5, 5), draw.Color{R: 0xff, G: 0xff, B: 0xff}), fill(draw.Rect(9, 2, 5, 5), ink))},
	}
}
