package theme

import (
	"io/fs"
	"math"
	"strings"
	"testing"

	"sheaf/generator/draw"
	"sheaf/generator/source"
	"sheaf/generator/source/sourcetest"
	"sheaf/themes"
)

// FuzzValues reads any theme.yaml over the default's without a panic: every
// message points inside the file, and a theme without errors has all that the
// editions ask of it.
func FuzzValues(f *testing.F) {
	files, err := themes.Shipped(themes.Default)
	if err != nil {
		f.Fatal(err)
	}
	base, err := Gather(files, func(name string) (*source.File, error) {
		text, err := fs.ReadFile(files, name)
		return source.NewFile(name, text), err
	})
	if err != nil {
		f.Fatal(err)
	}
	whole := string(base["theme.yaml"].Text)
	f.Add(whole)
	f.Add(strings.NewReplacer("Go Bold", "Go Bald", "text: 12", "text: .nan", "#fbf9f3", "red").Replace(whole))
	f.Add(strings.NewReplacer("large:", "faces: &a {body: *a}\nlarge: *a\n<<: *a\nwide:", "inner: 16", "inner: -1e999").Replace(whole))
	f.Add("theme: x\ncolours: {light: [], dark: }\nfaces: {body: Go Regular}\nsizes: 3\nmargins: {inner: {}}\nlarge: {sizes: {}, margins: {}}\n")
	f.Add("logo: {file: a.svg, alt: A}\ncover: {picture: b.png, alt: B}\nsections: [plants, pages/us.md, none]\nweb: {body: \"x; }\"}\nprint: {cover: framed, foot: label}\n")
	f.Fuzz(func(t *testing.T, text string) {
		own := source.NewFile("looks/theme.yaml", []byte(text))
		th, ds := Load(base, Files{"theme.yaml": own}, nil)
		for _, d := range ds {
			if s := d.Span; s.File != nil && (s.Start < 0 || s.End < s.Start || s.End > len(s.File.Text)) {
				t.Errorf("%s points outside the file", d.Code)
			}
		}
		sourcetest.Printed(ds)
		if ds.HasErrors() {
			return
		}
		for _, role := range []draw.Face{draw.Body, draw.Bold, draw.Italic, draw.SmallCaps, draw.Heading, draw.HeadingItalic} {
			if th.Face(role) == nil {
				t.Errorf("no face for role %v", role)
			}
		}
		for _, c := range []struct {
			Setting
			limits
		}{{th.Setting, booklet()}, {th.Large, largePrint()}} {
			for _, k := range append(c.sizes, c.margins...) {
				if v := *c.named(k.key); math.IsNaN(v) || v < k.low || v > k.high {
					t.Errorf("%s of %v", k.key, v)
				}
			}
		}
	})
}
