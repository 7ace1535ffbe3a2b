package figure

import "sheaf/generator/draw"

// A Cut is what a job does to a plant.
type Cut struct {
	Mark     string  // the job, by the name of its mark
	Leave    float64 // cm left, 0: none given
	Fraction float64 // of the height left, 0: none given
	Label    string  // written at the cut line, as "10 cm"; may be empty
}

func BeforeAfter(p Plant, c Cut, pal Palette, f Frame) draw.Picture { return Portrait(p, pal, f) }
func Row(ps []Plant, pal Palette, f Frame) draw.Picture {
	return draw.Picture{W: f.W, H: f.H}
}
func Mark(name string, c draw.Color) draw.Picture {
	return draw.Picture{W: 5, H: 5, Items: []draw.Item{draw.Shape{Path: draw.Ellipse(2.5, 2.5, 2, 2), Stroke: &draw.Stroke{Color: c, Width: .35}}}}
}

// A Bar is one window on a year strip.
type Bar struct {
	From, To float64 // along the strip, 0 to 1; clipped to it
	Mark     string
	Family   string // comb cut grow protect
	Label    string
}

// A Cue is something seen in the garden, dated.
type Cue struct {
	At   float64 // along the strip, 0 to 1
	Name string
}

// A Load is the work of one month, in hours.
type Load struct {
	Low, High float64
	Label     string // the month
}

func Strip(bars []Bar, months int, cues []Cue, pal Palette, f Frame) draw.Picture {
	return draw.Picture{W: f.W, H: f.H}
}
func Scale(labels []string, cues []Cue, pal Palette, f Frame) draw.Picture {
	return draw.Picture{W: f.W, H: f.H}
}
func Workload(ls []Load, pal Palette, f Frame) draw.Picture {
	return draw.Picture{W: f.W, H: f.H}
}
