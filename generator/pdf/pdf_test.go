package pdf

import (
	"bytes"
	"compress/zlib"
	"encoding/hex"
	"fmt"
	"io"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"sheaf/generator/draw"
	"sheaf/generator/draw/drawtest"
	"sheaf/generator/layout"
	"sheaf/generator/theme"
	"sheaf/generator/theme/themetest"
	"sheaf/generator/tooltest"
)

func stamp() time.Time { return time.Date(2027, time.March, 20, 12, 0, 0, 0, time.FixedZone("", 3600)) }

// sheets puts each item on an A5 page of its own.
func sheets(items ...layout.Item) *layout.Pages {
	out := &layout.Pages{Title: "Köln (a garden) \\ of ½ acre", Author: "A – B", Subject: "care", Lang: "en-GB"}
	for _, it := range items {
		out.Pages = append(out.Pages, layout.Page{W: layout.A5().W, H: layout.A5().H, Items: []layout.Item{it}})
	}
	return out
}

// paintedFile writes pages as one document.
func paintedFile(pages *layout.Pages, t *theme.Theme, plates *Plates, stamp time.Time) ([][]byte, error) {
	return Paint(pages, t, plates).File(stamp)
}

// render writes pages; a fault ends the test.
func render(t testing.TB, pages *layout.Pages) file {
	t.Helper()
	parts, err := paintedFile(pages, themetest.Fieldbook(t), new(Plates), stamp())
	if err != nil {
		t.Fatal(err)
	}
	return apart(t, parts)
}

// apart takes a document apart.
func apart(t testing.TB, parts [][]byte) file {
	t.Helper()
	out := slices.Concat(parts...)
	if !bytes.HasPrefix(out, []byte("%PDF-")) || !bytes.HasSuffix(bytes.TrimSpace(out), []byte("%%EOF")) {
		t.Fatal("this is not a whole PDF")
	}
	tooltest.PDF(t, "the document", out)
	f := file{raw: string(out), objects: map[int]string{}}
	for _, m := range regexp.MustCompile(`(?s)(\d+) 0 obj\n(.*?)\nendobj`).FindAllStringSubmatch(f.raw, -1) {
		f.objects[number(m[1])] = m[2]
	}
	for _, m := range regexp.MustCompile(`(\d+) 0 R`).FindAllStringSubmatch(one(f.raw, `(?s)/Type /Pages.*?/Kids \[(.*?)\]`), -1) {
		f.pages = append(f.pages, number(m[1]))
	}
	return f
}

// A file is a PDF taken apart as far as these tests need it.
type file struct {
	raw     string
	objects map[int]string
	pages   []int // object numbers
}

func number(s string) int {
	n, _ := strconv.Atoi(s)
	return n
}

// one gives the first group of a pattern, "" where it is not found.
func one(s, pattern string) string {
	if m := regexp.MustCompile(pattern).FindStringSubmatch(s); m != nil {
		return m[1]
	}
	return ""
}

// content is the stream that paints a page, counted from 0, with the drawings
// that are objects of their own in their places.
func (f file) content(t *testing.T, page int) string {
	t.Helper()
	text := f.stream(t, number(one(f.objects[f.pages[page]], `/Contents (\d+) 0 R`)))
	return regexp.MustCompile(`/(D\d+\.\d+) Do`).ReplaceAllStringFunc(text, func(do string) string {
		return f.stream(t, number(one(f.objects[resources], "/"+do[1:len(do)-3]+` (\d+) 0 R`)))
	})
}

// stream is what an object holds, its compression undone.
func (f file) stream(t *testing.T, object int) string {
	t.Helper()
	_, stream, ok := strings.Cut(f.objects[object], "stream\n")
	z, err := zlib.NewReader(strings.NewReader(stream))
	if !ok || err != nil {
		t.Fatalf("object %d has no content: %v", object, err)
	}
	out, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// operators lists a content stream's operators (ISO 32000-1, annex A), leaving
// out strings, names and numbers.
func operators(content string) []string {
	content = regexp.MustCompile(`(?s)\((?:\\.|[^\\)])*\)`).ReplaceAllString(content, " ")
	var out []string
	for _, w := range strings.FieldsFunc(content, func(r rune) bool { return strings.ContainsRune(" \n\r\t[]", r) }) {
		if w[0] >= 'A' && w[0] <= 'Z' || w[0] >= 'a' && w[0] <= 'z' {
			out = append(out, w)
		}
	}
	return out
}

// unicode reads a text string of UTF-16 in hexadecimal, without its angle brackets.
func unicode(s string) string {
	in, err := hex.DecodeString(s)
	if err != nil || !bytes.HasPrefix(in, []byte("\xfe\xff")) {
		return fmt.Sprintf("not a text string: %s", s)
	}
	var units []uint16
	for i := 2; i+1 < len(in); i += 2 {
		units = append(units, uint16(in[i])<<8|uint16(in[i+1]))
	}
	return string(utf16.Decode(units))
}

// gallery is every awkward picture on a page of its own.
func gallery() *layout.Pages {
	var items []layout.Item
	for _, c := range drawtest.Cases() {
		items = append(items, layout.Picture{X: 20, Y: 30, Picture: c.Picture})
	}
	return sheets(items...)
}

func TestGallery(t *testing.T) {
	f := render(t, gallery())
	if again := render(t, gallery()); again.raw != f.raw {
		t.Error("the same pages gave other bytes")
	}
	cases := drawtest.Cases()
	if n := len(regexp.MustCompile(`/Type /Page\n`).FindAllString(f.raw, -1)); n != len(cases) || len(f.pages) != n {
		t.Fatalf("%d pages of %d", n, len(cases))
	}
	for i, c := range cases {
		want := map[string]int{}
		var within []draw.Path
		for _, p := range c.Picture.Flat() {
			switch {
			case p.Label != nil:
				want["text"]++
				within = nil
			case p.Shape.Fill != nil || p.Shape.Stroke != nil:
				want["paint"]++
				// Neighbours share their clips.
				if len(p.Clips) > 0 && (len(within) != len(p.Clips) || &within[0] != &p.Clips[0]) {
					want["clip"] += len(p.Clips)
				}
				within = p.Clips
			}
		}
		got, depth := map[string]int{}, 0
		for _, op := range operators(f.content(t, i)) {
			switch op {
			case "S", "f", "f*", "B", "B*":
				got["paint"]++
			case "n":
				got["clip"]++
			case "Tj":
				got["text"]++
			case "q":
				depth++
			case "Q":
				if depth--; depth < 0 {
					t.Errorf("%s: Q without q", c.Name)
				}
			}
		}
		if !maps.Equal(got, want) || depth != 0 {
			t.Errorf("%s: painted %v, want %v; q without Q: %d", c.Name, got, want, depth)
		}
	}
}

// TestLargeDrawings: a drawing of many paths is one object, however often and in
// whatever size it is shown, and looks the same.
func TestLargeDrawings(t *testing.T) {
	var items []draw.Item
	for i := range 200 {
		ink := draw.Color{R: uint8(i)}
		items = append(items, draw.Shape{Path: draw.Rect(float64(i), 0, 9, 9), Fill: &ink, Opacity: 0.25 + 0.5*float64(i%2)})
	}
	pic := draw.Picture{W: 210, H: 10, Items: []draw.Item{&draw.Sketch{Draw: func() ([]draw.Item, string) { return items, "" }}}}
	plates := new(Plates)
	var sizes []int
	for range 2 {
		parts, err := paintedFile(sheets(layout.Picture{X: 10, Y: 20, Picture: pic}, layout.Picture{Picture: pic.Fit(105, 5)}), themetest.Fieldbook(t), plates, stamp())
		if err != nil {
			t.Fatal(err)
		}
		out := slices.Concat(parts...)
		sizes = append(sizes, len(out))
		if n := bytes.Count(out, []byte("/Subtype /Form")); n != 1 {
			t.Errorf("%d drawings", n)
		}
		if !bytes.Contains(out, []byte("/Resources <</ExtGState <</a25 <</ca 0.25 /CA 0.25>> /a75 <</ca 0.75 /CA 0.75>> >>>>")) {
			t.Error("the drawing does not say what its opacities are")
		}
	}
	if sizes[0] != sizes[1] {
		t.Errorf("the second document has %d bytes, the first %d", sizes[1], sizes[0])
	}
	if plates.made.Len() != 1 {
		t.Errorf("it was painted %d times", plates.made.Len())
	}
	plates.Turn() // the build that asked for it is over
	plates.Turn() // so is one that did not
	if plates.made.Len() != 0 {
		t.Error("a drawing that nobody asks for is kept")
	}
}

// TestPainting: the operators that paint, by fill, stroke and rule (ISO
// 32000-1, table 60), and what is set for them.
func TestPainting(t *testing.T) {
	ink := draw.Color{R: 255, G: 51}
	square := draw.Rect(10, 20, 30, 30)
	stroke := &draw.Stroke{Color: ink, Width: 25.4, Dash: []float64{25.4, 12.7}, Cap: draw.RoundCap, Join: draw.RoundJoin}
	for _, c := range []struct {
		shape draw.Shape
		want  []string
	}{
		{draw.Shape{Path: square, Fill: &ink}, []string{"\n1 0.2 0 rg", "\nf\n"}},
		{draw.Shape{Path: square, Fill: &ink, EvenOdd: true}, []string{"\nf*\n"}},
		{draw.Shape{Path: square, Stroke: stroke}, []string{"\n1 0.2 0 RG", "\n72 w", "\n1 J", "\n1 j", "[72 36 ] 0 d", "\nS\n"}},
		{draw.Shape{Path: square, Stroke: stroke, EvenOdd: true}, []string{"\nS\n"}},
		{draw.Shape{Path: square, Fill: &ink, Stroke: stroke}, []string{"\nB\n"}},
		{draw.Shape{Path: square, Fill: &ink, Stroke: stroke, EvenOdd: true}, []string{"\nB*\n"}},
		{draw.Shape{Path: square, Fill: &ink, Opacity: 0.5}, []string{"/a50 gs\n", "\nf\n"}},
		// 10 mm right and 20 mm down of an A5 page, 595.28 points high.
		{draw.Shape{Path: square, Fill: &ink}, []string{"1 0 0 1 0 595.28 cm", "28.35 -56.69 m", "113.39 -56.69 l", "\nh\n"}},
	} {
		got := render(t, sheets(layout.Picture{Picture: draw.Picture{W: 50, H: 50, Items: []draw.Item{c.shape}}})).content(t, 0)
		for _, w := range c.want {
			if !strings.Contains(got, w) {
				t.Errorf("no %q in\n%s", w, got)
			}
		}
	}
}

// TestLabels: a label stands at its start, middle or end, in its colour, and
// what is painted before does not show through it.
func TestLabels(t *testing.T) {
	ink := draw.Color{R: 255, G: 51}
	th := themetest.Fieldbook(t)
	width := th.Face(draw.Bold).Width("sedge", 10)
	for anchor, x := range map[draw.Anchor]float64{draw.Start: 50, draw.Middle: 50 - width/2, draw.End: 50 - width} {
		pic := draw.Picture{W: 90, H: 50, Items: []draw.Item{
			draw.Shape{Path: draw.Rect(0, 0, 9, 9), Fill: &draw.Color{}, Opacity: 0.5},
			draw.Label{X: 40, Y: 20, Size: 10, Face: draw.Bold, Anchor: anchor, Text: "sedge", Color: ink},
		}}
		got := render(t, sheets(layout.Picture{X: 10, Y: 5, Picture: pic})).content(t, 0)
		want := fmt.Sprintf("BT\n/F1 10 Tf\n1 0.2 0 rg\n%s %s Td (", operand(x*theme.PointsPerMM), operand((layout.A5().H-25)*theme.PointsPerMM))
		if !strings.Contains(got, want) {
			t.Errorf("anchor %d: no %q in\n%q", anchor, want, got)
		}
		if before, _, _ := strings.Cut(got, want); !regexp.MustCompile(`(?s)/a50 gs\n[^q]*\nQ\n`).MatchString(before) {
			t.Errorf("anchor %d: the opacity of the square is not taken back before the words:\n%s", anchor, got)
		}
	}
}

// operand is a number as pages have it.
func operand(v float64) string {
	return string(draw.AppendHundredths(nil, draw.Hundredths(v), false))
}

// TestColourAfterClip: a colour set within a clip ends with it. Words in the
// same colour after it must have it set again (ISO 32000-1, 8.4.2).
func TestColourAfterClip(t *testing.T) {
	ink, clay := draw.Color{R: 255, G: 51}, draw.Color{B: 255}
	clip := draw.Rect(0, 0, 9, 9)
	square := func(c draw.Color) draw.Item { return draw.Shape{Path: draw.Rect(0, 0, 20, 20), Fill: &c} }
	pic := draw.Picture{W: 90, H: 50, Items: []draw.Item{
		square(clay),
		draw.Group{M: draw.Identity(), Clip: &clip, Items: []draw.Item{square(ink)}},
		draw.Label{X: 40, Y: 20, Size: 10, Text: "sedge", Color: ink},
	}}
	var fills []string // the colour in force, saved by q and given back by Q
	fill, at := "", ""
	for line := range strings.Lines(render(t, sheets(layout.Picture{Picture: pic})).content(t, 0)) {
		words := strings.Fields(line)
		for i, w := range words {
			switch w {
			case "q":
				fills = append(fills, fill)
			case "Q":
				fill, fills = fills[len(fills)-1], fills[:len(fills)-1]
			case "rg":
				fill = strings.Join(words[i-3:i], " ")
			case "Tj":
				at = fill
			}
		}
	}
	if at != "1 0.2 0" {
		t.Errorf("the label is painted in %s", at)
	}
}

// TestFaces: all six faces are in the file, the picture's words in their own.
func TestFaces(t *testing.T) {
	var page []layout.Item
	for i, role := range append(roles(), draw.Caption) {
		page = append(page, layout.Text{X: 10, Y: float64(10 + 10*i), Face: role, Size: 10, String: "Leave 10 cm – ½ of it"})
	}
	pages := sheets(page[0])
	pages.Pages[0].Items = page
	f := render(t, pages)
	if n := strings.Count(f.raw, "/FontFile2 "); n != len(roles()) {
		t.Errorf("%d faces are embedded, want %d", n, len(roles()))
	}
	fonts := regexp.MustCompile(`/(F\w+) 10 Tf`).FindAllStringSubmatch(f.content(t, 0), -1)
	used := map[string]bool{}
	for _, m := range fonts {
		used[m[1]] = true
	}
	if len(used) != len(roles()) {
		t.Errorf("%d fonts are used, want %d", len(used), len(roles()))
	}
	if strings.Contains(f.raw, "/Subtype /Type1") {
		t.Error("a font is not embedded")
	}
}

// TestCuts: a face is embedded once for all documents that show usual letters, again
// for one that shows others, and is named as the part of a font that it is (PDF
// 32000-1, 9.6.4).
func TestCuts(t *testing.T) {
	th, plates := themetest.Fieldbook(t), new(Plates)
	for _, c := range []struct {
		text string
		cuts int // so far
	}{
		{"Leave 10 cm", 1}, {"Cut to ½ of it", 1}, {"Köln", 2}, {"Kölner Garten", 2},
	} {
		parts, err := paintedFile(sheets(layout.Text{X: 10, Y: 10, Size: 10, String: c.text}), th, plates, stamp())
		if err != nil {
			t.Fatal(err)
		}
		if n := plates.faces.Len(); n != c.cuts {
			t.Errorf("%q: %d cuts were made so far, want %d", c.text, n, c.cuts)
		}
		out := string(slices.Concat(parts...))
		names := regexp.MustCompile(`/(?:BaseFont|FontName) /(\S+)`).FindAllStringSubmatch(out, -1)
		if len(names) != 3 { // of the font, its descendant and its descriptor
			t.Errorf("%q: the font has %d names, want 3", c.text, len(names))
		}
		for _, m := range names {
			if !regexp.MustCompile(`^[A-Z]{6}\+GoRegular$`).MatchString(m[1]) || m[1] != names[0][1] {
				t.Errorf("%q: the font is called %s", c.text, m[1])
			}
		}
	}
}

// TestBeyondTheBasicPlane: such characters cannot be set. On a page they are an
// error, as layout leaves them out; in a drawing they are left out; titles have
// them. There is never a panic or a wrong letter.
func TestBeyondTheBasicPlane(t *testing.T) {
	const beyond = "sedge\U0001F33E end"
	for name, it := range map[string]layout.Item{
		"text":         layout.Text{X: 10, Y: 10, Size: 10, String: beyond},
		"broken UTF-8": layout.Text{X: 10, Y: 10, Size: 10, String: "cut\xe2"},
	} {
		if out, err := paintedFile(sheets(it), themetest.Fieldbook(t), new(Plates), stamp()); err == nil || out != nil {
			t.Errorf("%s: %d parts, %v", name, len(out), err)
		}
	}
	if _, err := paintedFile(&layout.Pages{}, themetest.Fieldbook(t), new(Plates), stamp()); err == nil {
		t.Error("no pages are no error")
	}
	pages := sheets(layout.Picture{Picture: draw.Picture{W: 9, H: 9, Items: []draw.Item{draw.Label{X: 1, Y: 1, Size: 9, Text: beyond}}}})
	pages.Title, pages.Author, pages.Subject = beyond, beyond, beyond
	pages.Outline = []layout.Mark{{Title: beyond, Page: 1}}
	f := render(t, pages)
	if got, want := f.content(t, 0), "\x00g\x00e\x00 \x00e\x00n\x00d) Tj"; !strings.Contains(got, want) {
		t.Errorf("the label is painted by %q", got)
	}
	if titles := f.titles(); !slices.Equal(titles, []string{beyond, beyond, beyond, beyond}) {
		t.Errorf("titles say %q", titles)
	}
}

// titles are what a document and its bookmarks are called, sorted.
func (f file) titles() []string {
	var out []string
	for _, m := range regexp.MustCompile(`/(?:Title|Author|Subject) <([0-9A-F]*)>\n`).FindAllStringSubmatch(f.raw, -1) {
		out = append(out, unicode(m[1]))
	}
	slices.Sort(out)
	return out
}

// spelling gives words whose bytes in UTF-16 are those of a text, and the same after
// one byte more.
func spelling(text string) []string {
	var out []string
	for _, s := range []string{text, "A" + text} {
		s += strings.Repeat(" ", len(s)%2)
		var word []rune
		for i := 0; i < len(s); i += 2 {
			word = append(word, rune(s[i])<<8|rune(s[i+1]))
		}
		out = append(out, string(word))
	}
	return out
}

// TestNamesThatSpell: whatever the bytes of a name spell, in whatever coding, the file
// is sound and says the name.
func TestNamesThatSpell(t *testing.T) {
	word := layout.Text{X: 10, Y: 10, Size: 10, String: "x"}
	for _, text := range []string{
		"\nstream\n", "\nendstream\n", "\nendobj\n", "endobj\n", "\n5 0 obj\n", "/Filter /FlateDecode", "/Length 9", "/Length 99999999999999999999", " 7 0 R ",
		"/Font <<\n", "/XObject <<\n", "/Subtype /Type0", "xref\n0 9\n", "65535 f ", "trailer", "startxref\n7\n%%EOF\n", "%sheaf\n", "/Size 9", ">>\n", "<<", "(", ")", "((", "))", "\\", "\\)", "\r", "\r\n", "\n", "<", ">",
	} {
		for _, name := range append(spelling(text), text) {
			pages := sheets(word, word)
			pages.Title, pages.Author, pages.Subject, pages.Lang = name, name, name, name
			pages.Outline = []layout.Mark{{Title: name, Page: 1}, {Title: name, Level: 1, Page: 2}}
			pages.Pages[0].Items = append(pages.Pages[0].Items, layout.Text{X: 10, Y: 20, Size: 10, String: name},
				layout.Link{X: 10, Y: 20, W: 30, H: 5, URL: "https://example.org/" + name}, layout.Link{X: 10, Y: 20, W: 30, H: 5, URL: "mailto:" + name + "@example.org"},
				layout.Link{X: 10, Y: 20, W: 30, H: 5, Target: name})
			pages.Pages[1].Items = append(pages.Pages[1].Items, layout.Anchor{ID: name})
			folded, _ := layout.Fold(pages, layout.A4(), 80)
			p := Paint(pages, themetest.Fieldbook(t), new(Plates))
			parts, err := p.File(stamp())
			if err != nil {
				t.Errorf("%q: %v", name, err)
				continue
			}
			if titles := apart(t, parts).titles(); !slices.Equal(titles, []string{name, name, name, name, name}) {
				t.Errorf("%q: titles say %q", name, titles)
			}
			if parts, err = p.Folded(folded, stamp()); err != nil {
				t.Errorf("%q, folded: %v", name, err)
				continue
			}
			apart(t, parts)
		}
	}
}

// TestOutline: bookmarks nest by level and lead to their pages.
func TestOutline(t *testing.T) {
	word := layout.Text{X: 10, Y: 10, Size: 10, String: "x"}
	pages := sheets(word, word, word)
	marks := []layout.Mark{
		{Title: "The months", Level: 0, Page: 1, Y: 10},
		{Title: "März (early)", Level: 1, Page: 1, Y: 50},
		{Title: "½ \\ mile", Level: 2, Page: 2, Y: 10},
		{Title: "April", Level: 1, Page: 2, Y: 90},
		{Title: "The plants", Level: 0, Page: 3, Y: 10},
		{Title: "Zwergmispel", Level: 1, Page: 3, Y: 20},
	}
	pages.Outline = marks
	f := render(t, pages)
	above := map[int]string{} // object → title
	parents := []string{"", "The months", "März (early)", "The months", "", "The plants"}
	root := number(one(f.raw, `/Outlines (\d+) 0 R`))
	for i, m := range regexp.MustCompile(`(?s)(\d+) 0 obj\n<</Title <(.*?)>\n/Parent (\d+) 0 R(.*?)/Dest \[(\d+) 0 R /XYZ 0 ([\d.]+) null\]`).FindAllStringSubmatch(f.raw, -1) {
		title, parent := unicode(m[2]), number(m[3])
		above[number(m[1])] = title
		if i >= len(marks) || title != marks[i].Title || above[parent] != parents[i] || (parents[i] == "") != (parent == root) {
			t.Errorf("mark %d is %q under %q", i, title, above[parent])
			continue
		}
		if dest := number(m[5]); dest != f.pages[marks[i].Page-1] {
			t.Errorf("%s leads to object %d, its page is %d", title, dest, f.pages[marks[i].Page-1])
		}
		if want := fmt.Sprintf("%.2f", (layout.A5().H-marks[i].Y)*theme.PointsPerMM); m[6] != want {
			t.Errorf("%s leads to %s points, want %s", title, m[6], want)
		}
	}
	if len(above) != len(marks) {
		t.Errorf("%d marks of %d", len(above), len(marks))
	}
}

func TestLinks(t *testing.T) {
	at := func(target, url string) layout.Item {
		return layout.Link{X: 10, Y: 20, W: 30, H: 5, Target: target, URL: url}
	}
	const down = "/XYZ 0 453.54 null" // 210 − 50 = 160 mm above the foot
	for _, c := range []struct {
		name string
		link layout.Item
		want string // after the rectangle; P stands for the third page
	}{
		{"ahead", at("plants/sedge", ""), "/Dest [P " + down + "]"},
		{"nowhere", at("plants/none", ""), ""},
		{"plain", at("", "https://example.org/a?b=c#d"), "/A <</S /URI /URI (https://example.org/a?b=c#d)>>"},
		{"mail", at("", "mailto:owner@example.org"), "/A <</S /URI /URI (mailto:owner@example.org)>>"},
		{"telephone", at("", "tel:+44-1234"), "/A <</S /URI /URI (tel:+44-1234)>>"},
		{"brackets", at("", "https://example.org/a_(b)"), "/A <</S /URI /URI (https://example.org/a_%28b%29)>>"},
		{"spaces", at("", "https://example.org/a b?c=d (e) f#g h"), "/A <</S /URI /URI (https://example.org/a%20b?c=d%20%28e%29%20f#g%20h)>>"},
		{"backslash", at("", `https://example.org/a?b=c\`), "/A <</S /URI /URI (https://example.org/a?b=c%5C)>>"},
		{"letters", at("", "https://example.org/möve?q=köln"), "/A <</S /URI /URI (https://example.org/m%C3%B6ve?q=k%C3%B6ln)>>"},
		{"mail with a space", at("", "mailto:a b@example.org"), "/A <</S /URI /URI (mailto:a%20b@example.org)>>"},
		{"kept escapes", at("", "https://example.org/a%20b%2Fc"), "/A <</S /URI /URI (https://example.org/a%20b%2Fc)>>"},
		{"no address", at("", "https://example.org/%zz"), ""},
		{"both", at("plants/sedge", "https://example.org"), "/Dest [P " + down + "]"},
	} {
		word := layout.Text{X: 10, Y: 10, Size: 10, String: "x"}
		f := render(t, sheets(c.link, word, layout.Anchor{ID: "plants/sedge", Y: 54}))
		annots := one(f.objects[f.pages[0]], `/Annots \[(.*)\]`)
		got := one(annots, `/Subtype /Link /Rect \[28\.35 538\.58 113\.39 524\.41\] /Border \[0 0 0\] (.*?\]|.*?>>)>>`)
		if got = strings.ReplaceAll(got, fmt.Sprintf("%d 0 R", f.pages[2]), "P"); got != c.want {
			t.Errorf("%s: %q, want %q in %q", c.name, got, c.want, annots)
		}
	}
}

// TestFolded: the booklet's pages stand on sheets in their places, as objects of their
// own that are the very streams of the booklet, and lead where they did.
func TestFolded(t *testing.T) {
	word := func(s string) layout.Item { return layout.Text{X: 10, Y: 20, Size: 10, String: s} }
	pages := sheets(word("one"), word("two"), word("three"), word("four"), word("five"))
	pages.Pages[0].Items = append(pages.Pages[0].Items, layout.Link{X: 10, Y: 20, W: 30, H: 5, Target: "five"})
	pages.Pages[4].Items = append(pages.Pages[4].Items, layout.Anchor{Y: 10, ID: "five"})
	pages.Outline = []layout.Mark{{Title: "One", Page: 1}}
	folded, _ := layout.Fold(pages, layout.A4(), 80)
	p := Paint(pages, themetest.Fieldbook(t), new(Plates))
	booklet, err := p.File(stamp())
	if err != nil {
		t.Fatal(err)
	}
	parts, err := p.Folded(folded, stamp())
	if err != nil {
		t.Fatal(err)
	}
	a, f := apart(t, booklet), apart(t, parts)
	if len(a.pages) != 5 || len(f.pages) != 4 {
		t.Fatalf("%d pages on %d sides, want 5 on 4", len(a.pages), len(f.pages))
	}
	// Eight pages: 8 1, 2 7, 6 3, 4 5, of which 6 to 8 are blank. A5 is half of A4, and
	// the inner sheet's pages are moved by the thickness of the paper, 0.1 mm.
	half, moved := operand(148.5*theme.PointsPerMM), 0.1
	for side, want := range []string{
		"1 0 0 1 " + half + " 0 cm\n/P1 Do", "1 0 0 1 " + operand((148.5-148)*theme.PointsPerMM) + " 0 cm\n/P2 Do",
		"1 0 0 1 " + operand((148.5-moved)*theme.PointsPerMM) + " 0 cm\n/P3 Do",
		"1 0 0 1 " + operand((148.5-148+moved)*theme.PointsPerMM) + " 0 cm\n/P4 Do\nQ\nq\n1 0 0 1 " + operand((148.5-moved)*theme.PointsPerMM) + " 0 cm\n/P5 Do",
	} {
		if got := f.stream(t, number(one(f.objects[f.pages[side]], `/Contents (\d+) 0 R`))); got != "q\n"+want+"\nQ\n" {
			t.Errorf("side %d is painted by\n%s\nwant\n%s", side+1, got, want)
		}
	}
	for i, page := range a.pages {
		leaf := number(one(f.objects[resources], fmt.Sprintf(`/P%d (\d+) 0 R`, i+1)))
		if got, want := f.stream(t, leaf), a.content(t, i); got != want {
			t.Errorf("page %d is painted by\n%s\non its sheet, by\n%s\nin the booklet", i+1, got, want)
		}
		if box := one(f.objects[leaf], `/BBox \[(.*?) \] /Resources 2 0 R`); box != "0.00 0.00 419.53 595.28" {
			t.Errorf("page %d, object %d, has the box %q", i+1, page, box)
		}
	}
	if !strings.Contains(f.raw, fmt.Sprintf("/Dest [%d 0 R", f.pages[3])) || strings.Contains(f.raw, "/Outlines") {
		t.Error("the link does not lead to the fourth side, or there is an outline")
	}
}

// TestSizes: each page has its own size, a lying one too.
func TestSizes(t *testing.T) {
	pages := sheets(layout.Anchor{}, layout.Anchor{})
	pages.Pages[1] = layout.Page{W: 297, H: 210}
	f := render(t, pages)
	for i, want := range []string{"419.53 595.28", "841.89 595.28"} {
		box := one(f.objects[f.pages[i]], `/MediaBox \[0 0 (.*?)\]`)
		if box == "" {
			box = one(f.objects[1], `/MediaBox \[0 0 (.*?)\]`)
		}
		if box != want {
			t.Errorf("page %d is %s points, want %s", i+1, box, want)
		}
	}
}

// TestDetails: what a reader's window shows of the document.
func TestDetails(t *testing.T) {
	f := render(t, sheets(layout.Anchor{}))
	for key, want := range map[string]string{"Title": "Köln (a garden) \\ of ½ acre", "Author": "A – B", "Subject": "care", "Producer": "Sheaf"} {
		if got := unicode(one(f.raw, `/`+key+` <(.*?)>\n`)); got != want {
			t.Errorf("%s = %q, want %q", key, got, want)
		}
	}
	for _, want := range []string{"/CreationDate (D:20270320110000", "/ModDate (D:20270320110000", "/Lang (en-GB)"} {
		if !strings.Contains(f.raw, want) {
			t.Errorf("no %s", want)
		}
	}
}

func BenchmarkRender(b *testing.B) {
	cases := drawtest.Cases()
	pages := &layout.Pages{Title: "x"}
	for i := range 100 {
		p := layout.Page{W: layout.A5().W, H: layout.A5().H}
		for line := range 40 {
			for word := range 10 {
				p.Items = append(p.Items, layout.Text{X: float64(15 + 12*word), Y: float64(15 + 4*line), Face: roles()[word%4], Size: 10, String: "cutting"})
			}
		}
		p.Items = append(p.Items, layout.Picture{X: 20, Y: 170, Picture: cases[i%len(cases)].Picture})
		pages.Pages = append(pages.Pages, p)
	}
	th := themetest.Fieldbook(b)
	b.ReportAllocs()
	for b.Loop() {
		own := *pages
		own.Pages = slices.Clone(pages.Pages) // painting takes their items
		if _, err := paintedFile(&own, th, new(Plates), stamp()); err != nil {
			b.Fatal(err)
		}
	}
}
