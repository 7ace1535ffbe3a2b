package draw

import (
	"math"
	"testing"
)

func TestParseColor(t *testing.T) {
	for _, s := range []string{"#000000", "#ffffff", "#1e2a24", "#9c4526"} {
		c, err := ParseColor(s)
		if err != nil {
			t.Errorf("%s: %v", s, err)
		}
		if c.Hex() != s {
			t.Errorf("%s came back as %s", s, c.Hex())
		}
	}
	if c, err := ParseColor("#FFAA00"); err != nil || c != (Color{0xff, 0xaa, 0}) {
		t.Errorf("capitals: %v %v", c, err)
	}
	for _, s := range []string{"", "#fff", "ffffff", "#ggffff", "#1e2a2", "#1e2a24 "} {
		if _, err := ParseColor(s); err == nil {
			t.Errorf("%q was taken for a colour", s)
		}
	}
}

func TestMix(t *testing.T) {
	black, white := Color{}, Color{255, 255, 255}
	for _, tt := range []struct {
		t    float64
		want Color
	}{{0, black}, {1, white}, {0.5, Color{128, 128, 128}}, {2, white}, {-1, black}} {
		if got := black.Mix(white, tt.t); got != tt.want {
			t.Errorf("mixed at %v: %v, want %v", tt.t, got, tt.want)
		}
	}
}

func TestMatrix(t *testing.T) {
	near := func(a, b Point) bool { return math.Hypot(a.X-b.X, a.Y-b.Y) < 1e-12 }
	tests := []struct {
		name     string
		m        Matrix
		in, want Point
	}{
		{"identity", Identity(), Point{3, 4}, Point{3, 4}},
		{"scale then shift", Scale(2, 3).Then(Shift(10, 20)), Point{1, 1}, Point{12, 23}},
		{"shift then scale", Shift(10, 20).Then(Scale(2, 3)), Point{1, 1}, Point{22, 63}},
		{"a quarter turn clockwise on the page", Rotate(math.Pi / 2), Point{1, 0}, Point{0, 1}},
	}
	for _, tt := range tests {
		if got := tt.m.Apply(tt.in); !near(got, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
}

// A quadratic as a cubic is the same curve: compared at its middle, where a
// quadratic is (p0 + 2c + p1)/4.
func TestQuadTo(t *testing.T) {
	var p Path
	p.MoveTo(0, 0).QuadTo(10, 20, 30, 0)
	mid := func(a, b, c, d float64) float64 { return (a + 3*b + 3*c + d) / 8 }
	q := p.Points
	x, y := mid(q[0].X, q[1].X, q[2].X, q[3].X), mid(q[0].Y, q[1].Y, q[2].Y, q[3].Y)
	if math.Abs(x-12.5) > 1e-12 || math.Abs(y-10) > 1e-12 {
		t.Errorf("middle at %v, %v, want 12.5, 10", x, y)
	}
}

// Four cubics with κ = 4/3·(√2−1) stay within 2.73e-4 of a unit circle; the
// greatest error is known from the usual analysis of this approximation.
func TestEllipseIsRound(t *testing.T) {
	p := Ellipse(0, 0, 1, 1)
	worst := 0.0
	for i := 0; i+3 < len(p.Points); i += 3 {
		for k := range 101 {
			t := float64(k) / 100
			u := 1 - t
			a, b, c, d := p.Points[i], p.Points[i+1], p.Points[i+2], p.Points[i+3]
			x := u*u*u*a.X + 3*u*u*t*b.X + 3*u*t*t*c.X + t*t*t*d.X
			y := u*u*u*a.Y + 3*u*u*t*b.Y + 3*u*t*t*c.Y + t*t*t*d.Y
			worst = max(worst, math.Abs(math.Hypot(x, y)-1))
		}
	}
	if worst > 2.74e-4 {
		t.Errorf("off the circle by %v", worst)
	}
}

func TestFlat(t *testing.T) {
	c := Color{1, 2, 3}
	clip := Rect(0, 0, 1, 1)
	inner := Rect(0, 0, 2, 2)
	stroke := &Stroke{Color: c, Width: 1, Dash: []float64{2, 1}}
	pic := Picture{W: 10, H: 10, Items: []Item{
		Shape{Path: Segment(0, 0, 1, 0), Stroke: stroke},
		Group{M: Scale(2, 2).Then(Shift(1, 0)), Clip: &clip, Items: []Item{
			Shape{Path: Segment(0, 0, 1, 0), Stroke: stroke},
			Label{X: 1, Y: 1, Size: 10},
			Group{M: Shift(1, 1), Clip: &inner, Items: []Item{Label{Size: 10}}},
		}},
	}}
	flat := pic.Flat()
	if len(flat) != 4 {
		t.Fatalf("%d things, want 4", len(flat))
	}
	if s := flat[0].Shape; s.Stroke.Width != 1 || len(flat[0].Clips) != 0 {
		t.Errorf("outside the group: %+v, clips %v", s.Stroke, flat[0].Clips)
	}
	s := flat[1].Shape
	if s.Path.Points[1] != (Point{3, 0}) || s.Stroke.Width != 2 || s.Stroke.Dash[0] != 4 {
		t.Errorf("in the group: %v %+v", s.Path.Points, s.Stroke)
	}
	if l := flat[2].Label; l.X != 3 || l.Y != 2 || l.Size != 20 {
		t.Errorf("label at %v, %v of %v points", l.X, l.Y, l.Size)
	}
	if n := len(flat[3].Clips); n != 2 {
		t.Errorf("%d clips, want 2", n)
	} else if got := flat[3].Clips[1].Points[2]; got != (Point{7, 6}) {
		t.Errorf("inner clip ends at %v, want {7 6}", got)
	}
	if stroke.Width != 1 || stroke.Dash[0] != 2 {
		t.Error("flattening changed the picture")
	}
}

func TestFit(t *testing.T) {
	p := Picture{W: 40, H: 30, Title: "a", Desc: "b"}.Fit(20, 20)
	if p.W != 20 || p.H != 15 || p.Title != "a" || p.Desc != "b" {
		t.Errorf("fitted: %+v", p)
	}
}

// TestSketches: a picture is drawn when it is flattened, with what it shows in words
// where none are given, and the picture itself stays as it was.
func TestSketches(t *testing.T) {
	drawn := 0
	sketch := &Sketch{Draw: func() ([]Item, string) {
		drawn++
		return []Item{Shape{Path: Rect(1, 2, 3, 4)}}, "a square"
	}}
	pic := Picture{W: 10, H: 10, Items: []Item{Group{M: Scale(2, 2), Items: []Item{sketch}}}}
	if drawn != 0 {
		t.Error("it is drawn before it is asked for")
	}
	whole := pic.Drawn()
	if whole.Desc != "a square" || pic.Desc != "" || pic.Items[0].(Group).Items[0] != Item(sketch) {
		t.Errorf("%q, and of the sketch %q", whole.Desc, pic.Desc)
	}
	flat, placed := pic.Flat(), pic.Placed()
	if len(flat) != 1 || len(placed) != 1 || flat[0].Shape.Path.Points[0] != (Point{2, 4}) || placed[0].Shape.Path.Points[0] != (Point{1, 2}) || placed[0].M != Scale(2, 2) || drawn != 3 {
		t.Errorf("flat %v, placed %v, drawn %d times", flat, placed, drawn)
	}
}
