package figure

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"unicode/utf8"

	"sheaf/generator/draw"
)

// A Bar is one window of work on a strip of the year.
type Bar struct {
	From, To float64 // 0 to 1 along the strip; clipped to it
	Mark     string
	Family   string // comb cut grow protect
	Label    string // written after the bar where there is room
}

// A Cue is something seen in the garden, at its date.
type Cue struct {
	At   float64 // 0 to 1 along the strip
	Name string
}

// A Load is the work of one month, in hours.
type Load struct {
	Low, High float64
	Label     string // the month
}

// textWidth guesses the width in mm of a line of text: 0.54 em a letter is a
// little more than the text face needs.
func textWidth(s string, size float64) float64 {
	return float64(utf8.RuneCountInString(s)) * 0.54 * size * mmPerPoint
}

// laid is a bar in its place.
type laid struct {
	Bar
	x0, x1     float64 // of the bar
	markX      float64
	left, till float64 // with mark
	lane       int
}

// Strip is one row of the year chart: months between hairlines, thin verticals
// for the cues, and the row's bars.
func Strip(bars []Bar, months int, cues []Cue, pal Palette, f Frame) draw.Picture {
	pic := Verticals(months, cues, pal, f)
	pic.Items = append(pic.Items, Bars(bars, pal, f).Items...)
	return pic
}

// Verticals are the hairlines between months and the lines of the cues, behind
// the bars of many rows.
func Verticals(months int, cues []Cue, pal Palette, f Frame) draw.Picture {
	return draw.Picture{W: f.W, H: f.H, Items: verticals(months, cues, 0, pal, f)}
}

// Bars are a row's bars in the colour and pattern of their family, each with its
// mark at the head. Bars that overlap are stacked in lanes.
func Bars(bars []Bar, pal Palette, f Frame) draw.Picture {
	pic := draw.Picture{W: f.W, H: f.H}

	// The more lanes the flatter the bars and the smaller the marks, and the
	// smaller the marks the fewer lanes are needed: settle from the top.
	var placed []laid
	lanes := 1
	for ; ; lanes++ {
		var need int
		placed, need = stack(bars, min(f.H/float64(lanes), markSize), f.W)
		if need <= lanes {
			break
		}
	}
	laneH := f.H / float64(lanes)
	m := min(laneH, markSize)
	for _, b := range placed {
		c := pal.family(b.Family)
		mid := (float64(b.lane) + 0.5) * laneH
		pic.Items = append(pic.Items, barItems(b.x0, mid-m*0.22, b.x1-b.x0, m*0.44, b.Family, c, pal.Paper)...)
		if b.Mark != "" {
			k := m / markSize * 0.94
			if b.markX < b.x1 && b.markX+m > b.x0+0.3 {
				// A bar of the whole year has its mark upon it.
				pic.Items = append(pic.Items, draw.Shape{Path: draw.Rect(b.markX, mid-m/2, m, m), Fill: &pal.Paper})
			}
			pic.Items = append(pic.Items, draw.Group{
				M:     draw.Scale(k, k).Then(draw.Shift(b.markX, mid-k*markSize/2)),
				Items: Mark(b.Mark, c).Items,
			})
		}
		if b.Label == "" || laneH < captionSize*mmPerPoint {
			continue
		}
		w := textWidth(b.Label, captionSize)
		end := f.W
		for _, o := range placed {
			if o.lane == b.lane && o.left > b.x0 {
				end = min(end, o.left)
			}
		}
		if b.till+1+w <= end {
			pic.Items = append(pic.Items, draw.Label{X: b.till + 1, Y: mid + captionSize*mmPerPoint*0.34, Face: draw.Caption,
				Size: captionSize, Text: b.Label, Color: pal.Quiet})
		}
	}
	return pic
}

// stack places bars in as few lanes as greedy choice by start allows.
func stack(bars []Bar, mark, width float64) ([]laid, int) {
	var out []laid
	for _, b := range bars {
		b.From, b.To = max(b.From, 0), min(b.To, 1)
		if b.To <= b.From {
			continue
		}
		l := laid{Bar: b, x0: b.From * width, x1: max(b.To*width, b.From*width+0.6)}
		if l.x1 > width {
			l.x0, l.x1 = l.x0-(l.x1-width), width
		}
		l.left, l.till = l.x0, l.x1
		if b.Mark != "" {
			l.markX = l.x0 - mark - 0.3
			if l.markX < 0 && l.x1+0.3+mark <= width {
				l.markX = l.x1 + 0.3 // no room before it
			}
			l.markX = max(l.markX, 0)
			l.left, l.till = min(l.x0, l.markX), max(l.x1, l.markX+mark)
		}
		out = append(out, l)
	}
	slices.SortStableFunc(out, func(a, b laid) int { return cmp.Compare(a.left, b.left) })
	var ends []float64
	for i := range out {
		l := &out[i]
		l.lane = slices.IndexFunc(ends, func(e float64) bool { return e+0.5 <= l.left })
		if l.lane < 0 {
			l.lane = len(ends)
			ends = append(ends, 0)
		}
		ends[l.lane] = l.till
	}
	return out, len(ends)
}

// barItems is a bar in the pattern of its family: cut solid, comb hatched,
// grow open, protect dotted.
func barItems(x, y, w, h float64, family string, c, paper draw.Color) []draw.Item {
	const line = 0.3
	box := draw.Rect(x+line/2, y+line/2, max(w-line, 0.2), h-line)
	outline := &draw.Stroke{Color: c, Width: line, Join: draw.RoundJoin}
	switch family {
	case "cut":
		return []draw.Item{draw.Shape{Path: draw.Rect(x, y, w, h), Fill: &c}}
	case "comb":
		var hatch draw.Path
		for d := 0.9; d < w+h; d += 0.9 {
			// Strokes that lean to the right, cut at the box.
			x0, y0 := x+d, y
			x1, y1 := x+d-h, y+h
			if x0 > x+w {
				y0 += x0 - (x + w)
				x0 = x + w
			}
			if x1 < x {
				y1 -= x - x1
				x1 = x
			}
			hatch.MoveTo(x0, y0).LineTo(x1, y1)
		}
		return []draw.Item{draw.Shape{Path: box, Fill: &paper, Stroke: outline}, draw.Shape{Path: hatch, Stroke: &draw.Stroke{Color: c, Width: 0.25}}}
	case "protect":
		dotted := &draw.Stroke{Color: c, Width: 0.4, Dash: []float64{0, 0.75}, Cap: draw.RoundCap}
		return []draw.Item{draw.Shape{Path: box, Fill: &paper, Stroke: dotted}}
	case "grow":
		return []draw.Item{draw.Shape{Path: box, Fill: &paper, Stroke: outline}}
	}
	return []draw.Item{draw.Shape{Path: draw.Segment(x, y+h/2, x+w, y+h/2), Stroke: &draw.Stroke{Color: c, Width: 0.5}}}
}

// verticals are the hairlines between months and the lines of the cues, from
// top downwards.
func verticals(months int, cues []Cue, top float64, pal Palette, f Frame) []draw.Item {
	var grid, lines draw.Path
	for i := range months + 1 {
		x := min(max(f.W*float64(i)/float64(max(months, 1)), 0.06), f.W-0.06)
		grid.MoveTo(x, top).LineTo(x, f.H)
	}
	for _, c := range cues {
		if c.At >= 0 && c.At <= 1 {
			x := min(max(c.At*f.W, 0.1), f.W-0.1)
			lines.MoveTo(x, top).LineTo(x, f.H)
		}
	}
	items := []draw.Item{draw.Shape{Path: grid, Stroke: &draw.Stroke{Color: pal.Hairline, Width: 0.12}}}
	if len(lines.Verbs) > 0 {
		items = append(items, draw.Shape{Path: lines, Stroke: &draw.Stroke{Color: pal.Quiet, Width: 0.15, Dash: []float64{0.6, 0.6}}})
	}
	return items
}

// Scale is the head of the year chart: the labels of the months, and over them
// the names of the cues on as many levels as keep them apart. A name that
// finds no room is left out; its line stays.
func Scale(labels []string, cues []Cue, pal Palette, f Frame) draw.Picture {
	pic := draw.Picture{W: f.W, H: f.H}
	const lineH = captionSize * mmPerPoint * 1.2
	months := f.H - lineH // top of the month labels
	pic.Items = append(pic.Items, verticals(len(labels), nil, months, pal, f)...)
	for i, l := range labels {
		pic.Items = append(pic.Items, draw.Label{X: f.W * (float64(i) + 0.5) / float64(len(labels)), Y: f.H - lineH*0.25, Face: draw.Caption,
			Size: captionSize, Anchor: draw.Middle, Text: l, Color: pal.Ink})
	}
	sorted := slices.DeleteFunc(slices.Clone(cues), func(c Cue) bool { return c.At < 0 || c.At > 1 })
	slices.SortStableFunc(sorted, func(a, b Cue) int { return cmp.Compare(a.At, b.At) })
	var ticks draw.Path
	names := make([]Name, len(sorted))
	for i, c := range sorted {
		names[i] = Name{At: c.At * f.W, W: textWidth(c.Name, captionSize)}
	}
	for i, place := range Arrange(names, int((months-0.3)/lineH), f.W) {
		c := sorted[i]
		x := min(max(c.At*f.W, 0.1), f.W-0.1)
		if place.Level < 0 {
			ticks.MoveTo(x, max(months-0.8, 0)).LineTo(x, months)
			continue
		}
		ticks.MoveTo(x, months-float64(place.Level+1)*lineH).LineTo(x, months)
		label := draw.Label{X: x + NameAside, Y: months - (float64(place.Level)+0.3)*lineH, Face: draw.Caption, Size: captionSize, Text: c.Name, Color: pal.Quiet}
		if place.Before {
			label.X, label.Anchor = x-NameAside, draw.End
		}
		pic.Items = append(pic.Items, label)
	}
	if len(ticks.Verbs) > 0 {
		pic.Items = append(pic.Items, draw.Shape{Path: ticks, Stroke: &draw.Stroke{Color: pal.Quiet, Width: 0.15}})
	}
	return pic
}

// A Name is W millimetres of text that belong to a line at At.
type Name struct{ At, W float64 }

// A Place is where a name stands: on which level over the chart, from 0, -1 for
// none, and on which side of its line.
type Place struct {
	Level  int
	Before bool

	from, to float64
}

// NameAside is the air between a name and its line, in millimetres.
const NameAside = 0.6

// Arrange places as many names, in the order of their lines, as it can without one
// touching another or the line of another, which rises to the level of its own
// name. It tries all ways in order of preference, up to a number of steps no real
// year needs.
func Arrange(names []Name, levels int, width float64) []Place {
	now := make([]Place, len(names))
	best := make([]Place, len(names))
	for i := range best {
		best[i].Level = -1
	}
	most, steps := 0, 0
	fits := func(i int) bool {
		n := now[i]
		if n.from < 0 || n.to > width {
			return false
		}
		for j := range i {
			o := now[j]
			if o.Level < 0 {
				continue
			}
			if o.Level == n.Level && n.from < o.to && o.from < n.to ||
				o.Level >= n.Level && names[j].At > n.from && names[j].At < n.to ||
				n.Level >= o.Level && names[i].At > o.from && names[i].At < o.to {
				return false
			}
		}
		return true
	}
	var try func(i, placed int)
	try = func(i, placed int) {
		steps++
		if steps > 20000 || placed+len(names)-i <= most {
			return
		}
		if i == len(names) {
			most = placed
			copy(best, now)
			return
		}
		for level := range levels {
			for _, before := range [...]bool{false, true} {
				from := names[i].At + NameAside
				if before {
					from = names[i].At - NameAside - names[i].W
				}
				now[i] = Place{level, before, from - 0.4, from + names[i].W + 0.4}
				if fits(i) {
					try(i+1, placed+1)
				}
			}
		}
		now[i] = Place{Level: -1}
		try(i+1, placed)
	}
	try(0, 0)
	return best
}

// Lanes puts spans, each from and to along a line, into lanes that keep those of one
// lane apart: each, in order, into the first where it finds room. It gives the lane of
// each, and how many there are.
func Lanes(spans [][2]float64, apart float64) ([]int, int) {
	lanes := make([]int, len(spans))
	var held [][][2]float64
	for i, s := range spans {
		lane := slices.IndexFunc(held, func(in [][2]float64) bool {
			return !slices.ContainsFunc(in, func(o [2]float64) bool { return s[0] < o[1]+apart && o[0] < s[1]+apart })
		})
		if lane < 0 {
			lane = len(held)
			held = append(held, nil)
		}
		lanes[i], held[lane] = lane, append(held[lane], s)
	}
	return lanes, len(held)
}

// Workload is a small bar for each month, its hours as text: solid to the low
// estimate, open from there to the high one.
func Workload(ls []Load, pal Palette, f Frame) draw.Picture {
	pic := draw.Picture{W: f.W, H: f.H}
	if len(ls) == 0 {
		return pic
	}
	const text = captionSize * mmPerPoint * 1.25
	most := 0.5
	for _, l := range ls {
		most = max(most, l.High)
	}
	base := f.H - text
	room := base - text
	col := f.W / float64(len(ls))
	w := min(col*0.44, 6)
	for i, l := range ls {
		mid := (float64(i) + 0.5) * col
		low, high := max(l.Low, 0)/most*room, max(l.High, l.Low, 0)/most*room
		if high > 0 {
			if high-low > 0.4 {
				pic.Items = append(pic.Items, draw.Shape{Path: draw.Rect(mid-w/2+0.1, base-high+0.1, w-0.2, high-0.1), Stroke: &draw.Stroke{Color: pal.Ink, Width: 0.2, Join: draw.RoundJoin}})
			}
			if low > 0 {
				pic.Items = append(pic.Items, draw.Shape{Path: draw.Rect(mid-w/2, base-low, w, low), Fill: &pal.Ink})
			}
		}
		pic.Items = append(pic.Items,
			draw.Label{X: mid, Y: base - high - text*0.28, Face: draw.Caption, Size: captionSize, Anchor: draw.Middle, Text: Hours((l.Low + l.High) / 2), Color: pal.Ink},
			draw.Label{X: mid, Y: f.H - text*0.2, Face: draw.Caption, Size: captionSize, Anchor: draw.Middle, Text: l.Label, Color: pal.Quiet})
	}
	pic.Items = append(pic.Items, draw.Shape{Path: draw.Segment(0, base, f.W, base), Stroke: &draw.Stroke{Color: pal.Ink, Width: 0.2}})
	return pic
}

// Hours writes a rough number of hours to the half.
func Hours(h float64) string {
	half := math.Round(h * 2)
	whole := int(half / 2)
	switch {
	case h <= 0:
		return "–"
	case half == 0:
		return "<½"
	case half == 1:
		return "½"
	case math.Mod(half, 2) == 1:
		return fmt.Sprintf("%d½", whole)
	}
	return fmt.Sprint(whole)
}
