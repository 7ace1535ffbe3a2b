package figure

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"sheaf/generator/draw"
	"sheaf/generator/words"
)

// Weather is the year's temperatures at a place, from the first day shown to the
// last, evenly spaced, in the unit that is printed.
type Weather struct {
	Low, Mean, High []float64
	Unit            string  // "°C"
	Freezing        float64 // in that unit
	Months          []string
	Cues            []Cue // Name is a number or a letter: there is room for no more
}

// Temperatures is the year as three curves over a scale: the mean thick, the
// means of the lowest and highest thin, and between those a tint. The line of
// freezing is drawn through where the year meets it.
func Temperatures(w Weather, said *words.Words, pal Palette, f Frame) draw.Picture {
	pic := draw.Picture{W: f.W, H: f.H, Title: said.Say("drawn.temperatures title")}
	if len(w.Mean) < 2 || len(w.Low) != len(w.Mean) || len(w.High) != len(w.Mean) {
		return pic
	}
	const line = captionSize * mmPerPoint * 1.25
	left, top, base := 9.0, line+1, f.H-line-0.5
	low, high := slices.Min(w.Low), slices.Max(w.High)
	step := 5.0
	for (high-low)/step > 7 {
		step *= 2
	}
	from, to := math.Floor(low/step)*step, math.Ceil(high/step)*step
	y := func(t float64) float64 { return base - (t-from)/(to-from)*(base-top) }
	x := func(i int) float64 { return left + (f.W-left)*float64(i)/float64(len(w.Mean)-1) }

	// The scale.
	var grid draw.Path
	for t := from; t <= to+step/2; t += step {
		grid.MoveTo(left, y(t)).LineTo(f.W, y(t))
		pic.Items = append(pic.Items, draw.Label{X: left - 1, Y: y(t) + captionSize*mmPerPoint*0.34, Face: draw.Caption, Size: captionSize, Anchor: draw.End, Text: degrees(t), Color: pal.Quiet})
	}
	for i := range len(w.Months) + 1 {
		at := left + (f.W-left)*float64(i)/float64(len(w.Months))
		grid.MoveTo(at, top).LineTo(at, base)
	}
	pic.Items = append(pic.Items,
		draw.Label{X: left - 1, Y: line * 0.75, Face: draw.Caption, Size: captionSize, Anchor: draw.End, Text: w.Unit, Color: pal.Quiet},
		draw.Shape{Path: grid, Stroke: &draw.Stroke{Color: pal.Hairline, Width: 0.12}})
	for i, m := range w.Months {
		pic.Items = append(pic.Items, draw.Label{X: left + (f.W-left)*(float64(i)+0.5)/float64(len(w.Months)), Y: f.H - line*0.2, Face: draw.Caption, Size: captionSize, Anchor: draw.Middle, Text: m, Color: pal.Ink})
	}

	// The band between the curves, the curves, and freezing.
	along := func(path *draw.Path, t []float64) {
		for i := range t {
			if i == 0 && len(path.Verbs) == 0 {
				path.MoveTo(x(i), y(t[i]))
			} else {
				path.LineTo(x(i), y(t[i]))
			}
		}
	}
	var band draw.Path
	along(&band, w.Low)
	for i := len(w.High) - 1; i >= 0; i-- {
		band.LineTo(x(i), y(w.High[i]))
	}
	band.Close()
	pic.Items = append(pic.Items, draw.Shape{Path: band, Fill: &pal.Straw, Opacity: 0.18})
	for _, c := range []struct {
		t     []float64
		width float64
	}{{w.Low, 0.2}, {w.High, 0.2}, {w.Mean, 0.55}} {
		var path draw.Path
		along(&path, c.t)
		pic.Items = append(pic.Items, draw.Shape{Path: path, Stroke: &draw.Stroke{Color: pal.Ink, Width: c.width, Join: draw.RoundJoin}})
	}
	if low < w.Freezing && w.Freezing < high {
		pic.Items = append(pic.Items, draw.Shape{Path: draw.Segment(left, y(w.Freezing), f.W, y(w.Freezing)), Stroke: &draw.Stroke{Color: pal.Frost, Width: 0.4, Dash: []float64{1.6, 0.9}}})
	}
	pic.Items = append(pic.Items, numbered(w.Cues, left, top, base, line, pal, f)...)
	pic.Desc = said.Say("drawn.temperatures", "low", degrees(slices.Min(w.Mean)), "high", degrees(slices.Max(w.Mean)), "unit", w.Unit)
	return pic
}

// numbered are the lines of cues with their numbers over them; numbers that
// would touch stand apart.
func numbered(cues []Cue, left, top, base, line float64, pal Palette, f Frame) []draw.Item {
	sorted := slices.Clone(cues)
	slices.SortStableFunc(sorted, func(a, b Cue) int { return cmp.Compare(a.At, b.At) })
	var lines draw.Path
	var out []draw.Item
	last := left - 3.0
	for _, c := range sorted {
		if c.At < 0 || c.At > 1 {
			continue
		}
		at := left + (f.W-left)*c.At
		place := min(max(at, last+1.2+textWidth(c.Name, captionSize)), f.W-textWidth(c.Name, captionSize)/2)
		last = place
		lines.MoveTo(at, top).LineTo(at, base)
		if place-at > 0.3 {
			lines.MoveTo(at, top).LineTo(place, top-0.8)
		}
		out = append(out, draw.Label{X: place, Y: line * 0.75, Face: draw.Caption, Size: captionSize, Anchor: draw.Middle, Text: c.Name, Color: pal.Ink})
	}
	if len(lines.Verbs) == 0 {
		return nil
	}
	return append([]draw.Item{draw.Shape{Path: lines, Stroke: &draw.Stroke{Color: pal.Quiet, Width: 0.2, Dash: []float64{0.6, 0.6}}}}, out...)
}

// degrees writes a temperature with a real minus sign.
func degrees(t float64) string {
	if n := math.Round(t); n < 0 {
		return fmt.Sprintf("−%.0f", -n)
	}
	return fmt.Sprintf("%.0f", math.Abs(math.Round(t)))
}
