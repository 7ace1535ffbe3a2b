package figure

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"sheaf/generator/draw"
	"sheaf/generator/words"
	"sheaf/generator/words/wordstest"
)

var (
	habits      = strings.Fields("tuft mound fountain upright arching mat clump rosette spire dome vase column climber shuttlecock sword standard")
	kinds       = strings.Fields("grass sedge rush bamboo perennial bulb fern subshrub shrub rose climber hedge tree annual tender")
	flowerHeads = strings.Fields("spike plume panicle bottlebrush umbel daisy globe bell cup flat cloud none")
	marks       = strings.Fields("comb groom cut_back deadhead remove_stems thin trim divide mulch water protect tie_in clear_leaves pinch remove_suckers renovate raise_crown lift replant tie_up uncover stake feed weed check")
)

func colour(s string) draw.Color {
	c, err := draw.ParseColor(s)
	if err != nil {
		panic(err)
	}
	return c
}

// palette is that of the light theme.
func palette() Palette {
	return Palette{
		Paper: colour("#fbf9f3"), Ink: colour("#1e2a24"), Quiet: colour("#4a5750"), Straw: colour("#8a6a1f"),
		Clay: colour("#9c4526"), Moss: colour("#3f6b3a"), Frost: colour("#2f6380"), Hairline: colour("#cfc9b8"),
	}
}

func plant(kind, habit, head string) Plant {
	return Plant{Seed: kind + " " + habit, Type: kind, Habit: habit, Head: head, Height: 60, FlowerHeight: 90, Spread: 50,
		Leaf: colour("#5f8450"), Flower: colour("#9a6aa8")}
}

// check fails where a picture leaves its frame, holds a number that is none,
// or would paint holes: closed outlines that are painted as one must all run
// the same way.
func check(t *testing.T, what string, pic draw.Picture) (segments int) {
	t.Helper()
	const slack = 0.01
	for _, it := range pic.Flat() {
		if l := it.Label; l != nil {
			w := textWidth(l.Text, l.Size)
			left := l.X
			switch l.Anchor {
			case draw.Middle:
				left -= w / 2
			case draw.End:
				left -= w
			}
			if left < -slack || left+w > pic.W+slack || l.Y > pic.H+slack || l.Y-l.Size*mmPerPoint*0.75 < -slack {
				t.Errorf("%s: label %q at %.2f, %.2f leaves the frame", what, l.Text, l.X, l.Y)
			}
			continue
		}
		for _, pt := range ends(it.Shape.Path) {
			if math.IsNaN(pt.X) || math.IsNaN(pt.Y) {
				t.Fatalf("%s: not a number", what)
			}
			inside := pt.X >= -slack && pt.X <= pic.W+slack && pt.Y >= -slack && pt.Y <= pic.H+slack
			if !inside && len(it.Clips) == 0 {
				t.Errorf("%s: %.2f, %.2f leaves the frame of %.0f by %.0f", what, pt.X, pt.Y, pic.W, pic.H)
				return
			}
		}
		for _, v := range it.Shape.Path.Verbs {
			if v == draw.Line || v == draw.Cubic {
				segments++
			}
		}
	}
	return segments
}

// ends are points on the path itself: its corners and a few along each curve.
func ends(p draw.Path) (out []draw.Point) {
	along(p, func(pt draw.Point) { out = append(out, pt) })
	return out
}

func TestEveryHabitAndHead(t *testing.T) {
	said := wordstest.English(t)
	for _, kind := range kinds {
		for _, habit := range habits {
			for i, head := range flowerHeads {
				p := plant(kind, habit, head)
				switch i % 3 {
				case 1:
					p.FlowerHeight = 0
				case 2:
					p.Height, p.FlowerHeight, p.Spread, p.Evergreen = 300, 340, 200, true
				}
				f := []Frame{{64, 52}, {22, 18}, {100, 30}, {64, 52}}[i%4]
				what := fmt.Sprintf("%s %s %s in %.0f by %.0f", kind, habit, head, f.W, f.H)
				pic := drawnPortrait(p, said, palette(), f)
				if n := check(t, what, pic); n < 20 || n > 900 {
					t.Errorf("%s: %d segments", what, n)
				}
				if pic.Title == "" || !strings.Contains(pic.Desc, "habit") {
					t.Errorf("%s: not described: %q", what, pic.Desc)
				}
			}
		}
	}
}

func TestTrueToScale(t *testing.T) {
	for _, kind := range kinds {
		for _, habit := range habits {
			p := plant(kind, habit, "none")
			if habit == "mat" {
				p.Height = 12
			}
			p = p.whole()
			strokes := grow(p, 1, 1, portraitSegments)
			lo, hi, _ := bounds(strokes, nil)
			if h := -lo.Y; math.Abs(h-p.Height) > 0.12*p.Height {
				t.Errorf("%s %s: %.1f mm high, want %.0f", kind, habit, h, p.Height)
			}
			if w := hi.X - lo.X; math.Abs(w-p.Spread) > 0.25*p.Spread {
				t.Errorf("%s %s: %.1f mm wide, want %.0f", kind, habit, w, p.Spread)
			}
		}
	}
}

// TestRulerHasRoom: the last number of a ruler is the next ten, which may have a
// digit more than the plant's height.
func TestRulerHasRoom(t *testing.T) {
	said := wordstest.English(t)
	for top := 20.0; top < 320; top++ {
		p := plant("shrub", "dome", "flat")
		p.Height, p.FlowerHeight = top, 0
		check(t, fmt.Sprintf("%g cm", top), drawnPortrait(p, said, palette(), Frame{42, 52}))
	}
}

func TestSameSeedSameDrawing(t *testing.T) {
	said := wordstest.English(t)
	p := plant("grass", "fountain", "plume")
	f := Frame{64, 52}
	if !reflect.DeepEqual(drawnPortrait(p, said, palette(), f), drawnPortrait(p, said, palette(), f)) {
		t.Error("the same plant gave two drawings")
	}
	q := p
	q.Seed = "another"
	a, b := drawnPortrait(p, said, palette(), f), drawnPortrait(q, said, palette(), f)
	if reflect.DeepEqual(a.Items, b.Items) {
		t.Error("two seeds gave one drawing")
	}
}

// Outlines that are painted as one must run the same way, or overlaps would
// cancel to holes.
func TestOutlinesRunClockwise(t *testing.T) {
	for i, kind := range kinds {
		for j, habit := range habits {
			for _, head := range []string{flowerHeads[(i+j)%len(flowerHeads)], flowerHeads[(i+j+5)%len(flowerHeads)]} {
				for _, st := range grow(plant(kind, habit, head).whole(), 1, 1, portraitSegments) {
					if st.line == 0 && area(st.path) < -1e-3 {
						t.Fatalf("%s %s %s: an outline of part %d runs the wrong way", kind, habit, head, st.part)
					}
				}
			}
		}
	}
}

// area is positive for an outline that runs clockwise on the page.
func area(p draw.Path) float64 {
	pts := ends(p)
	sum := 0.0
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		sum += a.X*b.Y - b.X*a.Y
	}
	return sum / 2
}

func TestBeforeAfter(t *testing.T) {
	said := wordstest.English(t)
	for i, mark := range append(marks, "unknown") {
		mark = strings.ReplaceAll(mark, "_", " ")
		for j, kind := range kinds {
			for k, habit := range habits {
				p := plant(kind, habit, flowerHeads[(i+j)%len(flowerHeads)])
				f := []Frame{{56, 42}, {40, 22}}[(i+j+k)%2]
				c := []Cut{{Mark: mark}, {Mark: mark, Leave: 12, Label: "12 cm"}, {Mark: mark, Fraction: 1. / 3}}[(i+j+k)%3]
				what := fmt.Sprintf("%s of %s %s", mark, kind, habit)
				pic := drawnJob(p, c, said, palette(), f)
				if n := check(t, what, pic); n > 1000 {
					t.Errorf("%s: %d segments", what, n)
				}
				if pic.Desc == "" {
					t.Errorf("%s: not described", what)
				}
			}
		}
	}
}

// The cut line stands at its true height.
func TestCutLineHeight(t *testing.T) {
	said := wordstest.English(t)
	p := plant("grass", "upright", "none")
	p.FlowerHeight = 0
	f := Frame{60, 40}
	st := setStage(p, f, false)
	pic := drawnJob(p, Cut{Mark: "cut back", Leave: 30}, said, palette(), f)
	want := st.ground - 30*st.mm
	found := false
	for _, it := range pic.Flat() {
		if s := it.Shape; s != nil && s.Stroke != nil && len(s.Stroke.Dash) > 0 && s.Stroke.Color == palette().Clay {
			found = true
			if y := s.Path.Points[0].Y; math.Abs(y-want) > 0.01 {
				t.Errorf("cut line at %.2f mm, want %.2f", y, want)
			}
		}
	}
	if !found {
		t.Error("no cut line")
	}
}

// Every mark has a picture of its own work; only an unknown one shows no more
// than the plant.
func TestEveryMarkHasItsWork(t *testing.T) {
	said := wordstest.English(t)
	p := plant("perennial", "upright", "daisy")
	seen := map[string]string{}
	for _, mark := range append(marks, "unknown") {
		mark = strings.ReplaceAll(mark, "_", " ")
		desc := drawnJob(p, Cut{Mark: mark}, said, palette(), Frame{90, 34}).Desc
		if plain := desc == p.say(said)+"."; plain != (mark == "unknown") {
			t.Errorf("%s: %q", mark, desc)
		}
		if other, ok := seen[desc]; ok {
			t.Errorf("%s and %s: %q", mark, other, desc)
		}
		seen[desc] = mark
	}
}

// strokesOf are the lines of one colour in a picture.
func strokesOf(pic draw.Picture, c draw.Color) (out []draw.Path) {
	for _, it := range pic.Flat() {
		if s := it.Shape; s != nil && s.Stroke != nil && s.Stroke.Color == c {
			out = append(out, s.Path)
		}
	}
	return out
}

// span is how far paths reach down the page.
func span(paths []draw.Path) (top, bottom float64) {
	top, bottom = math.Inf(1), math.Inf(-1)
	for _, p := range paths {
		for _, pt := range ends(p) {
			top, bottom = min(top, pt.Y), max(bottom, pt.Y)
		}
	}
	return top, bottom
}

// Lifted tubers hang over the ground line, replanted ones lie under it, and a
// sucker is struck at the root, under the soil.
func TestWorkAtTheRoots(t *testing.T) {
	said := wordstest.English(t)
	p, f := plant("tender", "upright", "daisy"), Frame{90, 34}
	stage := setStage(p, Frame{f.W, f.H - min(f.H*0.22, 9)}, false)
	if _, low := span(strokesOf(drawnJob(p, Cut{Mark: "lift", Leave: 12}, said, palette(), f), earth())); low > stage.ground {
		t.Errorf("lifted tubers reach down to %.2f mm, the ground is at %.2f", low, stage.ground)
	}
	if top, low := span(strokesOf(drawnJob(p, Cut{Mark: "replant"}, said, palette(), f), earth())); top < stage.ground || low > f.H {
		t.Errorf("replanted tubers lie from %.2f to %.2f mm, the ground is at %.2f", top, low, stage.ground)
	}
	rose := plant("rose", "upright", "cup")
	stage = setStage(rose, Frame{f.W, f.H - min(f.H*0.16, 7)}, false)
	if top, _ := span(strokesOf(drawnJob(rose, Cut{Mark: "remove suckers"}, said, palette(), f), palette().Clay)); top < stage.ground {
		t.Errorf("a sucker is struck at %.2f mm, over the ground at %.2f", top, stage.ground)
	}
}

// A renovated hedge keeps what its rule leaves of its width, seen from its end.
func TestRenovatedHedge(t *testing.T) {
	said := wordstest.English(t)
	p, f := plant("hedge", "upright", "none"), Frame{60, 40}
	p.FlowerHeight = 0
	st := setStage(p, f, false)
	for _, c := range []struct{ leave, keeps float64 }{{0, 2. / 3}, {0.5, 0.5}} {
		want := st.x + p.Spread*st.mm*(0.5-c.keeps)
		found := false
		for _, it := range drawnJob(p, Cut{Mark: "renovate", Fraction: c.leave}, said, palette(), f).Flat() {
			if s := it.Shape; s != nil && s.Stroke != nil && len(s.Stroke.Dash) > 0 {
				found = true
				if x := s.Path.Points[0].X; math.Abs(x-want) > 0.01 {
					t.Errorf("leaving %v: cut at %.2f mm, want %.2f", c.leave, x, want)
				}
			}
		}
		if !found {
			t.Errorf("leaving %v: no line", c.leave)
		}
	}
}

// A sheaf is narrow at its string and nowhere wider than the loose leaves.
func TestGathered(t *testing.T) {
	strokes := grow(plant("grass", "fountain", "none"), 1, 1, portraitSegments)
	bound := gathered(strokes, 60, 0.58, 0.74)
	for i, st := range bound {
		for j, pt := range st.path.Points {
			loose := strokes[i].path.Points[j]
			if pt.Y != loose.Y || math.Abs(pt.X) > math.Abs(loose.X)+1e-9 {
				t.Fatalf("%v became %v", loose, pt)
			}
			if math.Abs(-pt.Y-0.58*60) < 0.5 && math.Abs(pt.X) > math.Abs(loose.X)*0.27 {
				t.Fatalf("at the string %v became %v", loose, pt)
			}
		}
	}
}

// A pinched stem ends where it is cut, and nothing of it is longer.
func TestUntil(t *testing.T) {
	c := bend(0, 0, 0.3, 20, 0.9, 1.6)
	x, y, a := c.at(0.8)
	short := c.until(0.8)
	if got := short.p[3]; math.Hypot(got.X-x, got.Y-y) > 1e-9 || math.Abs(short.a1-a) > 1e-9 {
		t.Errorf("ends at %v, want %.3f, %.3f", got, x, y)
	}
	mx, my, _ := c.at(0.4)
	if gx, gy, _ := short.at(0.5); math.Hypot(gx-mx, gy-my) > 1e-9 {
		t.Errorf("its middle is %.3f, %.3f, want %.3f, %.3f", gx, gy, mx, my)
	}
}

func TestRow(t *testing.T) {
	said := wordstest.English(t)
	for _, n := range []int{0, 1, 2, 12, 30, 60} {
		var ps []Plant
		for i := range n {
			p := plant(kinds[i%len(kinds)], habits[i%len(habits)], flowerHeads[i%len(flowerHeads)])
			p.Seed = fmt.Sprint("plant ", i)
			p.Height = 15 + float64(i*i%170)
			p.FlowerHeight = p.Height * 1.3
			ps = append(ps, p)
		}
		for _, f := range []Frame{{120, 80}, {160, 60}} {
			if segments := check(t, fmt.Sprintf("row of %d", n), drawnRow(ps, said, palette(), f)); segments > 4000 {
				t.Errorf("row of %d: %d segments", n, segments)
			}
		}
	}
}

func TestMarks(t *testing.T) {
	seen := map[string]string{}
	for _, name := range append(marks, "none of them") {
		name = strings.ReplaceAll(name, "_", " ")
		pic := Mark(name, palette().Ink)
		if pic.W != 5 || pic.H != 5 {
			t.Errorf("%s: %v by %v mm", name, pic.W, pic.H)
		}
		check(t, name, pic)
		for _, it := range pic.Flat() {
			if w := it.Shape.Stroke.Width; w != 0.35 || it.Shape.Fill != nil {
				t.Errorf("%s: not one line weight", name)
			}
		}
		key := fmt.Sprintf("%v", pic.Flat()[0].Shape.Path)
		if other, ok := seen[key]; ok {
			t.Errorf("%s and %s look the same", name, other)
		}
		seen[key] = name
	}
	a, b := Mark("no such job", palette().Ink), Mark("", palette().Ink)
	if !reflect.DeepEqual(a, b) {
		t.Error("unknown names differ")
	}
}

func TestStripLanes(t *testing.T) {
	tests := []struct {
		name string
		bars []Bar
		want int // lanes
	}{
		{"apart", []Bar{{From: 0.1, To: 0.2}, {From: 0.3, To: 0.4}}, 1},
		{"overlap", []Bar{{From: 0.1, To: 0.3}, {From: 0.2, To: 0.4}}, 2},
		{"third fits the first lane", []Bar{{From: 0.1, To: 0.3}, {From: 0.2, To: 0.4}, {From: 0.35, To: 0.5}}, 2},
		{"clipped away", []Bar{{From: -0.2, To: 0}, {From: 1, To: 1.4}}, 0},
		{"a mark needs room", []Bar{{From: 0.1, To: 0.2, Mark: "comb"}, {From: 0.22, To: 0.3, Mark: "comb"}}, 2},
	}
	for _, tt := range tests {
		if _, got := stack(tt.bars, 5, 120); got != tt.want {
			t.Errorf("%s: %d lanes, want %d", tt.name, got, tt.want)
		}
	}
}

func TestCharts(t *testing.T) {
	cues := []Cue{{0.09, "coldest day"}, {0.2, "first green"}, {0.29, "last frost"}, {0.32, "warm growth"}, {0.55, "hottest day"}, {0.84, "first frost"}, {0.87, "leaf fall"}, {0.9, "growth end"}, {1.2, "next year"}}
	labels := strings.Split("JFMAMJJASOND", "")
	for _, h := range []float64{5, 12, 18, 24} {
		pic := Scale(labels, cues, palette(), Frame{120, h})
		check(t, fmt.Sprint("scale of ", h), pic)
		for i, a := range pic.Flat() {
			for _, b := range pic.Flat()[:i] {
				if a.Label != nil && b.Label != nil && overlap(a.Label, b.Label) {
					t.Errorf("scale of %v: %q touches %q", h, a.Label.Text, b.Label.Text)
				}
			}
		}
		if h == 24 && len(labelsOf(pic)) != len(labels)+8 {
			t.Errorf("scale of 24 mm: %q, want all names", labelsOf(pic))
		}
	}
	for _, b := range [][]Bar{nil, {{-0.2, 1.3, "water", "protect", "all year"}}, {{0, 0.01, "comb", "comb", ""}, {0.99, 1, "trim", "cut", "late"}, {0.3, 0.7, "divide", "grow", "a label"}, {0.3, 0.7, "", "other", ""}}} {
		for _, f := range []Frame{{120, 6}, {60, 14}} {
			check(t, fmt.Sprint("strip of ", b), Strip(b, 12, cues, palette(), f))
		}
	}
	check(t, "workload", Workload([]Load{{1, 2, "J"}, {0, 0, "F"}, {0.1, 0.2, "M"}, {12, 14, "A"}}, palette(), Frame{60, 25}))
	check(t, "no workload", Workload(nil, palette(), Frame{60, 25}))
}

func labelsOf(p draw.Picture) (out []string) {
	for _, it := range p.Flat() {
		if it.Label != nil {
			out = append(out, it.Label.Text)
		}
	}
	return out
}

func overlap(a, b *draw.Label) bool {
	span := func(l *draw.Label) (float64, float64) {
		w := textWidth(l.Text, l.Size)
		switch l.Anchor {
		case draw.Middle:
			return l.X - w/2, l.X + w/2
		case draw.End:
			return l.X - w, l.X
		}
		return l.X, l.X + w
	}
	a0, a1 := span(a)
	b0, b1 := span(b)
	return a0 < b1 && b0 < a1 && math.Abs(a.Y-b.Y) < a.Size*mmPerPoint*0.9
}

func TestHours(t *testing.T) {
	for h, want := range map[float64]string{0: "–", 0.1: "<½", 0.4: "½", 1: "1", 1.6: "1½", 2.9: "3", 12.4: "12½"} {
		if got := Hours(h); got != want {
			t.Errorf("Hours(%v) = %q, want %q", h, got, want)
		}
	}
}

// Plants with gaps in what is known of them are still drawn.
func TestBarePlant(t *testing.T) {
	said := wordstest.English(t)
	for _, p := range []Plant{{}, {Type: "tree"}, {Type: "fern", Height: 1}, {Habit: "no such habit", Height: 3000, Spread: 1}, {Spread: 900, Height: 2}} {
		check(t, fmt.Sprint(p), drawnPortrait(p, said, palette(), Frame{60, 40}))
		check(t, fmt.Sprint(p), drawnJob(p, Cut{Mark: "cut back"}, said, palette(), Frame{60, 40}))
	}
}

func BenchmarkPortrait(b *testing.B) {
	p, pal, said := plant("grass", "fountain", "plume"), palette(), wordstest.English(b)
	b.ReportAllocs()
	for b.Loop() {
		drawnPortrait(p, said, pal, Frame{64, 52})
	}
}

// TestCode: every dark module lies in the frame, a code of the longest address
// a garden may have keeps its modules at 0.4 mm, and a text too long is told.
func TestCode(t *testing.T) {
	pic, err := Code("https://example.org/"+strings.Repeat("a", 180), "QR code", 28, palette())
	if err != nil {
		t.Fatal(err)
	}
	check(t, "code", pic)
	least := math.Inf(1)
	points := pic.Items[0].(draw.Shape).Path.Points
	for i := range points[1:] {
		if d := math.Hypot(points[i+1].X-points[i].X, points[i+1].Y-points[i].Y); d > 0 {
			least = min(least, d)
		}
	}
	if least < 0.4 {
		t.Errorf("modules of %.2f mm", least)
	}
	if _, err := Code(strings.Repeat("a", 3000), "QR code", 28, palette()); err == nil {
		t.Error("a text longer than a code holds makes one")
	}
}

// Pictures from no book, and drawn.
func drawnPortrait(p Plant, w *words.Words, pal Palette, f Frame) draw.Picture {
	return (*Sketchbook)(nil).Portrait(p, w, pal, f).Drawn()
}

func drawnJob(p Plant, c Cut, w *words.Words, pal Palette, f Frame) draw.Picture {
	return (*Sketchbook)(nil).BeforeAfter(p, c, w, pal, f).Drawn()
}

func drawnRow(ps []Plant, w *words.Words, pal Palette, f Frame) draw.Picture {
	return (*Sketchbook)(nil).Row(ps, w, pal, f).Drawn()
}

// TestLanes: no two spans of a lane touch, and there are as many lanes as spans that
// meet at one place.
func TestLanes(t *testing.T) {
	lanes, n := Lanes([][2]float64{{0, 4}, {3, 6}, {4.5, 9}, {5, 7}, {6.4, 8}}, 0.5)
	if fmt.Sprint(lanes, n) != "[0 1 0 2 3] 4" {
		t.Errorf("lanes %v of %d", lanes, n)
	}
}
