package theme

import (
	"io/fs"
	"math"
	"slices"
	"strings"
	"testing"

	"sheaf/generator/draw"
	"sheaf/generator/source"
	"sheaf/generator/source/sourcetest"
	"sheaf/themes"
)

// FuzzRead reads any theme.yaml without a panic: every message points inside
// the file, and a theme without errors has all that the editions ask of it.
func FuzzRead(f *testing.F) {
	files, err := themes.Shipped("fieldbook")
	if err != nil {
		f.Fatal(err)
	}
	raw, err := fs.ReadFile(files, "theme.yaml")
	if err != nil {
		f.Fatal(err)
	}
	whole := string(raw)
	f.Add(whole)
	f.Add(strings.NewReplacer("Go Bold", "Go Bald", "text: 12", "text: .nan", "#fbf9f3", "red").Replace(whole))
	f.Add(strings.NewReplacer("large:", "faces: &a {body: *a}\nlarge: *a\n<<: *a\nwide:", "inner: 16", "inner: -1e999").Replace(whole))
	f.Add("theme: x\ncolours: {light: [], dark: }\nfaces: {body: Go Regular}\nsizes: 3\nmargins: {inner: {}}\nlarge: {sizes: {}, margins: {}}\n")
	f.Fuzz(func(t *testing.T, text string) {
		th, faces, ds := read(source.NewFile("theme.yaml", []byte(text)))
		for _, d := range ds {
			if d.Span.File == nil || d.Span.Start < 0 || d.Span.End < d.Span.Start || d.Span.End > len(text) {
				t.Errorf("%s points outside the file", d.Code)
			}
		}
		sourcetest.Printed(ds)
		if ds.HasErrors() {
			return
		}
		for _, role := range []draw.Face{draw.Body, draw.Bold, draw.Italic, draw.SmallCaps, draw.Heading, draw.HeadingItalic} {
			if !slices.Contains(shippedNames(), faces[role]) {
				t.Errorf("no face for role %v", role)
			}
		}
		for _, s := range []Setting{th.Setting, th.Large} {
			for _, v := range []float64{s.Sizes.Text, s.Sizes.Leading, s.Sizes.Caption, s.Sizes.Name, s.Sizes.Title, s.Sizes.Heading} {
				if math.IsNaN(v) || v < smallest || v > largest {
					t.Errorf("a size of %v", v)
				}
			}
			for _, v := range []float64{s.Margins.Inner, s.Margins.Outer, s.Margins.Head, s.Margins.Foot} {
				if math.IsNaN(v) || v < narrow || v > wide {
					t.Errorf("a margin of %v", v)
				}
			}
		}
	})
}
