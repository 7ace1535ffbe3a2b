package theme

import (
	"math"
	"testing"

	"sheaf/generator/draw"
	"sheaf/themes"
)

func load(t testing.TB) *Theme {
	files, err := themes.Shipped("fieldbook")
	if err != nil {
		t.Fatal(err)
	}
	th, ds, err := Load(files)
	if err != nil || len(ds) > 0 {
		t.Fatal(ds, err)
	}
	return th
}

// contrast is the ratio of WCAG 2.2, "contrast ratio" and "relative luminance".
func contrast(a, b draw.Color) float64 {
	lum := func(c draw.Color) float64 {
		lin := func(v uint8) float64 {
			if s := float64(v) / 255; s <= 0.04045 {
				return s / 12.92
			} else {
				return math.Pow((s+0.055)/1.055, 2.4)
			}
		}
		return 0.2126*lin(c.R) + 0.7152*lin(c.G) + 0.0722*lin(c.B)
	}
	x, y := lum(a), lum(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func TestContrastFormula(t *testing.T) {
	// Values of STANDARDS 7.2, computed from the formula of WCAG 2.2.
	for _, c := range []struct {
		a, b string
		want float64
	}{{"#000000", "#ffffff", 21}, {"#767676", "#ffffff", 4.5422}, {"#777777", "#ffffff", 4.4781}, {"#2e5d34", "#ffffff", 7.6881}} {
		a, _ := draw.ParseColor(c.a)
		b, _ := draw.ParseColor(c.b)
		if got := contrast(a, b); math.Abs(got-c.want) > 5e-5 {
			t.Errorf("%s on %s: %.4f, want %.4f", c.a, c.b, got, c.want)
		}
	}
}

func TestColoursAreReadable(t *testing.T) {
	th := load(t)
	white := draw.Color{R: 255, G: 255, B: 255}
	for name, c := range map[string]struct {
		p     Palette
		paper []draw.Color
	}{
		"light": {th.Light, []draw.Color{th.Light.Paper, white}}, // print has no paper colour
		"dark":  {th.Dark, []draw.Color{th.Dark.Paper}},
	} {
		for _, paper := range c.paper {
			for role, pair := range map[string]struct {
				c    draw.Color
				want float64
			}{
				"ink": {c.p.Ink, 7}, "quiet": {c.p.Quiet, 7}, "straw": {c.p.Straw, 4.5}, "clay": {c.p.Clay, 4.5},
				"moss": {c.p.Moss, 4.5}, "frost": {c.p.Frost, 4.5},
			} {
				if got := contrast(pair.c, paper); got < pair.want {
					t.Errorf("%s %s on %s: %.2f, at least %v is needed", name, role, paper.Hex(), got, pair.want)
				}
			}
		}
	}
}

func TestWidth(t *testing.T) {
	th := load(t)
	// Go Regular's digits share one advance of 1139/2048 em (its hmtx table).
	if got, want := th.Face(draw.Body).Width("00", 12), 2*1139./2048*12/PointsPerMM; math.Abs(got-want) > 0.01 {
		t.Errorf("two digits are %.3f mm, want %.3f", got, want)
	}
	for _, r := range "×‘’–½°²éø—…" {
		for _, f := range []draw.Face{draw.Body, draw.Bold, draw.Italic, draw.Heading, draw.HeadingItalic} {
			if !th.Face(f).Has(r) {
				t.Errorf("%s lacks %q", th.Face(f).Name, r)
			}
		}
	}
	if th.Face(draw.Body).Has('\U0001f33f') {
		t.Error("an emoji is said to be there")
	}
}

func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		load(b)
	}
}
