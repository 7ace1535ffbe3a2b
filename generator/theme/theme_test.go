package theme

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/png"
	"io/fs"
	"math"
	"path"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/go-fonts/liberation/liberationserifregular"

	"sheaf/generator/draw"
	"sheaf/generator/source"
	"sheaf/themes"
)

// shippedFiles are those of a shipped theme.
func shippedFiles(t testing.TB, name string) Files {
	t.Helper()
	folder, err := themes.Shipped(name)
	if err != nil {
		t.Fatal(err)
	}
	return gathered(t, folder, name)
}

func gathered(t testing.TB, folder fs.FS, name string) Files {
	t.Helper()
	files, err := Gather(folder, func(file string) (*source.File, error) {
		text, err := fs.ReadFile(folder, file)
		return source.NewFile(path.Join(name, file), text), err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func load(t testing.TB, name string) *Theme {
	t.Helper()
	var own Files
	if name != themes.Default {
		own = shippedFiles(t, name)
	}
	th, ds := Load(shippedFiles(t, themes.Default), own, nil)
	if len(ds) > 0 {
		t.Fatal(ds)
	}
	return th
}

func TestContrastFormula(t *testing.T) {
	// Values of STANDARDS 7.2, computed from the formula of WCAG 2.2.
	for _, c := range []struct {
		a, b string
		want float64
	}{{"#000000", "#ffffff", 21}, {"#767676", "#ffffff", 4.5422}, {"#777777", "#ffffff", 4.4781}, {"#2e5d34", "#ffffff", 7.6881}} {
		a, _ := draw.ParseColor(c.a)
		b, _ := draw.ParseColor(c.b)
		if got := Contrast(a, b); math.Abs(got-c.want) > 5e-5 {
			t.Errorf("%s on %s: %.4f, want %.4f", c.a, c.b, got, c.want)
		}
	}
}

// TestColoursAreReadable: in the shipped themes ink and quiet ink have 7 to 1,
// more than is asked of others.
func TestColoursAreReadable(t *testing.T) {
	for _, name := range themes.Names() {
		coloursAreReadable(t, load(t, name))
	}
}

func coloursAreReadable(t *testing.T, th *Theme) {
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
				if got := Contrast(pair.c, paper); got < pair.want {
					t.Errorf("%s, %s %s on %s: %.2f, at least %v is needed", th.Name, name, role, paper.Hex(), got, pair.want)
				}
			}
		}
	}
}

func TestWidth(t *testing.T) {
	th := load(t, themes.Default)
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
		load(b, themes.Default)
	}
}

// TestDefaultIsWhole: what a theme may leave out the default has.
func TestDefaultIsWhole(t *testing.T) {
	th := load(t, themes.Default)
	for _, p := range []*Palette{&th.Light, &th.Dark} {
		for _, name := range colourNames() {
			if *p.named(name) == (draw.Color{}) {
				t.Errorf("no colour %s", name)
			}
		}
	}
	for _, s := range []*Setting{&th.Setting, &th.Large} {
		for _, l := range append(booklet().sizes, booklet().margins...) {
			if *s.named(l.key) == 0 {
				t.Errorf("no %s", l.key)
			}
		}
	}
	for _, w := range furniture() {
		if *w.of(&th.Furniture) == "" {
			t.Errorf("no print.%s", w.key)
		}
	}
	for _, r := range roles() {
		if th.Face(r.face) == nil {
			t.Errorf("no face %s", r.key)
		}
	}
	if th.Web.Body == "" || th.Web.Heading == "" || !slices.Equal(th.Sections, SectionNames()) {
		t.Errorf("families %+v, sections %q", th.Web, th.Sections)
	}
}

// TestJoin: a theme is what its folder says over the default, key by key and
// file by file.
func TestJoin(t *testing.T) {
	base := shippedFiles(t, themes.Default)
	own := gathered(t, fstest.MapFS{
		"theme.yaml":    {Data: []byte("colours: {light: {clay: \"#8a1538\"}}\nsizes: {title: 30}\nfaces: {heading: Liberation Serif}\nsections: [safety, pages, pages/us.md, how-to-use, year, months, plants]\n")},
		"more.css":      {Data: []byte("h1 { color: var(--clay); }\n")},
		"cover.html":    {Data: []byte(`{{define "cover"}}{{end}}`)},
		"pages/us.md":   {Data: []byte("---\ntitle: About us\n---\nWho we are.\n")},
		"notes.txt":     {Data: []byte("not read")},
		"deep/er.html":  {Data: []byte("not read")},
		".hidden.html":  {Data: []byte("not read")},
		"home.html.bak": {Data: []byte("not read")},
	}, "looks")
	if len(own) != 4 {
		t.Errorf("%d files were read", len(own))
	}
	th, ds := Load(base, own, nil)
	if len(ds) > 0 {
		t.Fatal(ds)
	}
	plain := load(t, themes.Default)
	if th.Light.Clay.Hex() != "#8a1538" || th.Light.Ink != plain.Light.Ink || th.Dark != plain.Dark || th.Sizes.Title != 30 || th.Sizes.Text != plain.Sizes.Text || th.Large != plain.Large {
		t.Errorf("joined to %+v", th)
	}
	if th.Face(draw.Heading).Name != "Liberation Serif" || th.Face(draw.Body).Name != plain.Face(draw.Body).Name {
		t.Errorf("faces %s, %s", th.Face(draw.Heading).Name, th.Face(draw.Body).Name)
	}
	if style := string(th.Style()); !strings.HasPrefix(style, string(base["base.css"].Text)) || !strings.HasSuffix(style, "var(--clay); }\n") {
		t.Error("more.css does not come after the default's style.css")
	}
	all := th.Templates()
	if last := all[len(all)-1]; last.Path != "looks/cover.html" || !th.Own(last) || th.Own(all[0]) {
		t.Errorf("the last template is %s", last.Path)
	}
	if th.Pages["pages/us.md"] == nil || th.Sections[2] != "pages/us.md" {
		t.Errorf("sections %q", th.Sections)
	}
	if !Same(own, own) || Same(own, base) || Same(own, nil) || !Same(nil, nil) {
		t.Error("themes are not told apart")
	}
}

// spoilt is a sound typeface with one change.
func spoilt(change func(ttf []byte) []byte) []byte {
	return change(bytes.Clone(liberationserifregular.TTF))
}

// table finds where a table of a font begins.
func table(ttf []byte, name string) int {
	for at := 12; ; at += 16 {
		if string(ttf[at:at+4]) == name {
			return int(binary.BigEndian.Uint32(ttf[at+8:]))
		}
	}
}

func TestFaults(t *testing.T) {
	base := shippedFiles(t, themes.Default)
	var dot bytes.Buffer
	if err := png.Encode(&dot, image.NewGray(image.Rect(0, 0, 40, 40))); err != nil {
		t.Fatal(err)
	}
	embedding := func(bits uint16) []byte {
		return spoilt(func(ttf []byte) []byte {
			binary.BigEndian.PutUint16(ttf[table(ttf, "OS/2")+8:], bits)
			return ttf
		})
	}
	folder := fstest.MapFS{
		"sound.ttf":      {Data: liberationserifregular.TTF},
		"restricted.ttf": {Data: embedding(0x0002)},
		"preview.ttf":    {Data: embedding(0x0004)},
		"whole.ttf":      {Data: embedding(0x0100)},
		"cut.ttf":        {Data: spoilt(func(ttf []byte) []byte { return ttf[:len(ttf)/2] })},
		"words.ttf":      {Data: []byte("This is no font at all.")},
		"otto.ttf":       {Data: spoilt(func(ttf []byte) []byte { return append([]byte("OTTO"), ttf[4:]...) })},
		"no-glyf.ttf":    {Data: spoilt(func(ttf []byte) []byte { return bytes.Replace(ttf, []byte("glyf"), []byte("glxf"), 1) })},
		"dot.png":        {Data: dot.Bytes()},
		"words.png":      {Data: []byte("no picture")},
		"good.svg":       {Data: []byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M0 0h9v9z" fill="#123"/></svg>`)},
		"script.svg":     {Data: []byte("<svg xmlns=\"http://www.w3.org/2000/svg\">\n<script>alert(1)</script></svg>")},
		"handler.svg":    {Data: []byte(`<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>`)},
		"loads.svg":      {Data: []byte(`<svg xmlns="http://www.w3.org/2000/svg"><image href="https://example.org/a.png"/></svg>`)},
		"style.svg":      {Data: []byte(`<svg xmlns="http://www.w3.org/2000/svg"><style>@import "a.css";</style></svg>`)},
		"entity.svg":     {Data: []byte(`<!DOCTYPE svg [<!ENTITY a "aaaa">]><svg xmlns="http://www.w3.org/2000/svg">&a;</svg>`)},
		"words.svg":      {Data: []byte(`<p>no drawing</p>`)},
		"pages/us.md":    {Data: []byte("---\ntitle: About us\n---\nWho we are.\n")},
	}
	const whole = "pages, how-to-use, year, work, plants, safety"
	for _, c := range []struct{ file, text, want string }{
		{"theme.yaml", "colour: {}", `1:1 error theme/unknown-key`},
		{"theme.yaml", "colours: {light: {ink: \"#12\"}}", `1:25 error theme/colour`},
		{"theme.yaml", "colours: {light: {clay: \"#c97b5c\"}}", `1:26 error theme/contrast`},
		{"theme.yaml", "colours:\n  dark: {paper: \"#888888\"}", `2:18 error theme/contrast`},
		{"theme.yaml", "colours: {light: {clay: \"#3f6b3a\"}}", `error theme/colour`},
		{"theme.yaml", "sizes: {text: 10}", `1:15 error theme/size`},
		{"theme.yaml", "sizes: {text: 10.5}", ``},
		{"theme.yaml", "sizes: {caption: 8.5}", `1:18 error theme/size`},
		{"theme.yaml", "sizes: {caption: 9}", ``},
		{"theme.yaml", "sizes: {leading: 12}", `1:18 error theme/size`},
		{"theme.yaml", "large: {sizes: {text: 16}}", `1:23 error theme/size`},
		{"theme.yaml", "margins: {foot: 12}", `1:17 error theme/size`},
		{"theme.yaml", "sizes: {text: 15}", `1:8 warning theme/leading`},
		{"theme.yaml", "faces: {body: sound.ttf}", ``},
		{"theme.yaml", "faces: {body: preview.ttf}", ``},
		{"theme.yaml", "faces: {body: absent.ttf}", `1:15 error theme/face`},
		{"theme.yaml", "faces: {body: restricted.ttf}", `1:15 error theme/font`},
		{"theme.yaml", "faces: {body: whole.ttf}", `1:15 error theme/font`},
		{"theme.yaml", "faces: {body: cut.ttf}", `1:15 error theme/font`},
		{"theme.yaml", "faces: {body: words.ttf}", `1:15 error theme/font`},
		{"theme.yaml", "faces: {body: otto.ttf}", `1:15 error theme/font`},
		{"theme.yaml", "faces: {body: no-glyf.ttf}", `1:15 error theme/font`},
		{"theme.yaml", "faces: {body: Book.otf}", `1:15 error theme/font`},
		{"theme.yaml", "faces: {body: ../../escape.ttf}", `1:15 error theme/face`},
		{"theme.yaml", "faces: {body: Gothic of Nowhere}", `1:15 warning theme/no-font`},
		{"theme.yaml", "web: {body: 'serif; } body { color: red'}", `1:14 error theme/web`},
		{"theme.yaml", "print: {cover: round}", `1:16 error theme/unknown-value`},
		{"theme.yaml", "logo: {file: dot.png, alt: A dot}", ``},
		{"theme.yaml", "logo: {file: good.svg, alt: A corner, print: dot.png}", ``},
		{"theme.yaml", "logo: {file: good.svg, alt: A corner}", `1:8 note theme/logo`},
		{"theme.yaml", "logo: {file: dot.png}", `error theme/missing-key`},
		{"theme.yaml", "logo: {file: none.png, alt: None}", `1:14 error theme/picture`},
		{"theme.yaml", "logo: {file: words.png, alt: Words}", `1:14 error theme/picture`},
		{"theme.yaml", "logo: {file: script.svg, alt: A script}", `script.svg:2:1 error theme/svg`},
		{"theme.yaml", "logo: {file: handler.svg, alt: A script}", `handler.svg:1:1 error theme/svg`},
		{"theme.yaml", "logo: {file: loads.svg, alt: Elsewhere}", `loads.svg:1:41 error theme/svg`},
		{"theme.yaml", "logo: {file: style.svg, alt: Elsewhere}", `style.svg:1:48 error theme/svg`},
		{"theme.yaml", "logo: {file: entity.svg, alt: Much}", `entity.svg:1:1 error theme/svg`},
		{"theme.yaml", "logo: {file: words.svg, alt: Words}", `words.svg:1:1 error theme/svg`},
		{"theme.yaml", "cover: {picture: dot.png, alt: A dot}", ``},
		{"theme.yaml", "cover: {picture: good.svg, alt: A corner}", `1:18 error theme/picture`},
		{"theme.yaml", "cover: {picture: dot.png}", `error theme/missing-key`},
		{"theme.yaml", "sections: [" + whole + ", pages/us.md]", ``},
		{"theme.yaml", "sections: [" + whole + ", pages/them.md]", `error theme/section`},
		{"theme.yaml", "sections: [" + whole + ", glosary]", `error theme/section`},
		{"theme.yaml", "sections: [" + whole + ", year]", `warning theme/section`},
		{"theme.yaml", "sections: [" + whole + ", work]", `warning theme/section`},
		{"theme.yaml", "sections: [pages, how-to-use, year, work, plants]", `1:1 error theme/section`},
		{"theme.yaml", "sections: [pages, how-to-use, year, plants, safety]", `1:1 error theme/section`},
		// Before there were garden days, work was called months.
		{"theme.yaml", "sections: [pages, how-to-use, year, months, plants, safety]", ``},
		{"theme.yaml", "sections: [" + whole + ", months]", `warning theme/section`},
		{"theme.yaml", "sections: [pages, how-to-use, year, months, plants, safety, work]", `warning theme/section`},
		{"style.css", "p {}\n@import \"more.css\";", `2:1 error theme/style`},
		{"style.css", "p { background: URL( 'http://example.org/a.png' ) }", `1:17 error theme/style`},
		{"more.css", "p { background: url(//example.org/a.png) }", `1:17 error theme/style`},
		{"more.css", "@font-face { font-family: x }", `1:1 error theme/style`},
		{"more.css", "p { background: \\75rl(//example.org/a.png) }", `1:17 error theme/style`},
		{"more.css", "p { background: \\000055 R\\6c(//example.org/a.png) }", `1:17 error theme/style`},
		{"more.css", "p {}\n@\\69mport 'more.css';", `2:1 error theme/style`},
		{"more.css", "@i\\mport 'more.css';", `1:1 error theme/style`},
		{"more.css", "p { background: u\\\nrl(a.png) }", ``},
		{"more.css", "p { background: u/**/rl(//example.org/a.png) }", ``},
		{"more.css", "p { background: url/**/(//example.org/a.png) }", ``},
		{"more.css", "p { background: url(/**/#a) }", `1:17 error theme/style`},
		{"more.css", "p { content: '/*' } q { background: url(//example.org/a.png) } /*'*/", `1:37 error theme/style`},
		{"more.css", "p { background: url('data:image/png;base64,/*AA') } q { background: url(b.png) } /**/", `1:69 error theme/style`},
		{"more.css", "p { content: 'an open string\n} q { background: url(b.png) }", `2:19 error theme/style`},
		{"more.css", "p { content: 'a string\\\nurl(b.png)' }", ``},
		{"more.css", "p { background: url(\"data\\:image/png;base64,AA\") }", ``},
		{"more.css", "p { background: url( data:image/png;base64,AA ) }", ``},
		{"more.css", "p { background: url(\\64 ata:image/png;base64,AA) url(\\68ttp://a) }", `1:50 error theme/style`},
		{"more.css", "p { background: -WEBKIT-image-set('a.png' 1x) }", `1:17 error theme/style`},
		{"more.css", "p { background: \\69mage('a.png') }", `1:17 error theme/style`},
		{"more.css", ".url\\(x { width: calc(1px*2) } #a1url { margin: 1url } @media print { p { color: red } }", ``},
		{"more.css", "p { content: '</style><script>' }", `1:15 error theme/style`},
		{"more.css", "/* url(http://example.org) */ p { background: url(\"data:image/png;base64,AA\") }", ``},
		{"more.css", strings.Repeat("p { color: red }\n", 70_000), `1:1 error theme/too-large`},
		{"booklet.js", "let a = '</SCRIPT>';", `1:10 error theme/style`},
	} {
		files := fstest.MapFS{c.file: {Data: []byte(c.text)}}
		for name, f := range folder {
			files[name] = f
		}
		th, ds := Load(base, gathered(t, files, "looks"), nil)
		var got []string
		for _, d := range ds {
			place, _, _ := d.Where(nil)
			got = append(got, fmt.Sprintf("%s %s %s", place, d.Severity, d.Code))
		}
		told := strings.Join(got, "\n")
		if c.want == "" && told != "" || len(got) > 1 && c.want != "" && !strings.Contains(c.text, "#888888") || !strings.Contains(told, c.want) {
			t.Errorf("%s: %s\n  tells %s\n  want  %s", c.file, c.text, told, c.want)
		}
		for _, r := range roles() {
			if th.Face(r.face) == nil {
				t.Errorf("%s: no face for %s", c.text, r.key)
			}
		}
	}
}

// TestSystemFonts: a typeface that neither ships nor is in the folder is looked
// for on the system, and what is found is held to the same.
func TestSystemFonts(t *testing.T) {
	own := gathered(t, fstest.MapFS{"theme.yaml": {Data: []byte("faces: {body: Gothic of Somewhere}")}}, "looks")
	var asked []string
	th, ds := Load(shippedFiles(t, themes.Default), own, func(name string) []byte {
		asked = append(asked, name)
		return liberationserifregular.TTF
	})
	if len(ds) > 0 || !slices.Equal(asked, []string{"Gothic of Somewhere"}) || th.Face(draw.Body).Name != "Gothic of Somewhere" || len(th.Faces()) != 1 {
		t.Errorf("asked for %q, set %s: %v", asked, th.Face(draw.Body).Name, ds)
	}
	_, ds = Load(shippedFiles(t, themes.Default), own, func(string) []byte { return []byte("no font") })
	if len(ds) != 1 || ds[0].Code != "theme/font" {
		t.Errorf("a broken font of the system: %v", ds)
	}
	if name := FontName(bytes.NewReader(liberationserifregular.TTF)); name != "Liberation Serif" {
		t.Errorf("the font is called %q", name)
	}
}

func TestSmallCapitals(t *testing.T) {
	for name, want := range map[string]bool{"Go Smallcaps": true, "Go Regular": false, "DejaVu Serif Condensed": false, "Liberation Sans Bold": false} {
		f, err := newFace(name, shipped(name))
		if err != nil || f.SmallCapitals != want {
			t.Errorf("%s has small capitals: %v %v", name, f.SmallCapitals, err)
		}
	}
}

// FuzzLoad: no theme.yaml, stylesheet, font or drawing brings the reader down.
func FuzzLoad(f *testing.F) {
	base := shippedFiles(f, themes.Default)
	f.Add("theme: x\nfaces: {body: a.ttf}\nlogo: {file: a.svg, alt: A}", "p { color: red }", liberationserifregular.TTF[:3000], "<svg></svg>")
	f.Fuzz(func(t *testing.T, yaml, css string, ttf []byte, svg string) {
		own := Files{}
		for name, text := range map[string][]byte{"theme.yaml": []byte(yaml), "more.css": []byte(css), "a.ttf": ttf, "a.svg": []byte(svg)} {
			own[name] = source.NewFile(name, text)
		}
		_, ds := Load(base, own, nil)
		for _, d := range ds {
			d.Where(nil)
		}
	})
}

// TestPlaces: the places of characters are those they have among kerned.
func TestPlaces(t *testing.T) {
	for i, r := range []rune(kerned) {
		if place(r) != i+1 {
			t.Errorf("%c has place %d, want %d", r, place(r), i+1)
		}
	}
	if place('é') != 0 || place(' ') != 0 {
		t.Error("what is not kerned has a place")
	}
}
