// Package theme reads the look of all editions: colours, type, sizes, margins,
// templates and stylesheet of one theme folder. The web edition gets the
// colours as CSS variables, the printed ones get them as numbers, so each
// exists once. It also measures type: layout trusts no other widths.
package theme

import (
	"fmt"
	"io/fs"
	"math"
	"slices"

	"github.com/go-fonts/dejavu/dejavuserifcondensed"
	"github.com/go-fonts/dejavu/dejavuserifcondenseditalic"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/gofont/gosmallcaps"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"sheaf/generator/draw"
	"sheaf/generator/fields"
	"sheaf/generator/source"
)

// Palette is the colours of one mode. figure draws with the same fields.
type Palette struct{ Paper, Ink, Quiet, Straw, Clay, Moss, Frost, Hairline draw.Color }

// Sizes are in points.
type Sizes struct{ Text, Leading, Caption, Name, Title, Heading float64 }

// Margins are in millimetres.
type Margins struct{ Inner, Outer, Head, Foot float64 }

// A Setting is the sizes and margins of an edition.
type Setting struct {
	Sizes   Sizes
	Margins Margins
}

// A Theme is all of it.
type Theme struct {
	Name        string
	Light, Dark Palette
	Setting             // of the booklet
	Large       Setting // of large print
	Files       fs.FS   // templates and stylesheet
	faces       map[draw.Face]*Face
}

// PointsPerMM is exact: an inch is 72 points and 25.4 mm.
const PointsPerMM = 72 / 25.4

// Load reads theme.yaml and the fonts it names. The error is for files that
// cannot be read; faults in what they say are diagnostics.
func Load(files fs.FS) (*Theme, source.Diagnostics, error) {
	raw, err := fs.ReadFile(files, "theme.yaml")
	if err != nil {
		return nil, nil, fmt.Errorf("theme: %w", err)
	}
	t, names, ds := read(source.NewFile("theme.yaml", raw))
	t.Files, t.faces = files, map[draw.Face]*Face{}
	for role, name := range names {
		if t.faces[role], err = shipped(name); err != nil {
			return nil, ds, err
		}
	}
	return t, ds, nil
}

// read reads theme.yaml; the names are those of the typefaces that play a role,
// all of them shipped ones.
func read(file *source.File) (*Theme, map[draw.Face]string, source.Diagnostics) {
	m := fields.Whole(file, "theme")
	t, names := &Theme{}, map[draw.Face]string{}
	if n, ok := m.Need("theme"); ok {
		t.Name = n.Value
	}
	c := part(m, "colours")
	t.Light, t.Dark = palette(part(c, "light")), palette(part(c, "dark"))
	c.Done()
	t.Setting = setting(m)
	large := part(m, "large")
	t.Large = setting(large)
	large.Done()
	f := part(m, "faces")
	for key, role := range map[string]draw.Face{
		"body": draw.Body, "bold": draw.Bold, "italic": draw.Italic, "small-caps": draw.SmallCaps,
		"heading": draw.Heading, "heading-italic": draw.HeadingItalic} {
		n, ok := f.Need(key)
		if !ok {
			continue
		}
		if !slices.Contains(shippedNames(), n.Value) {
			f.Fail(n.Span, "face", fmt.Sprintf("there is no typeface %q", n.Value), source.Mean(n.Value, shippedNames()))
			continue
		}
		names[role] = n.Value
	}
	f.Done()
	m.Done()
	return t, names, m.Diagnostics()
}

// part is a map that must be there; it is nil, and told, when it is not.
func part(m *fields.Map, key string) *fields.Map {
	p := m.Map(key)
	if p == nil {
		m.Missing(key)
	}
	return p
}

func palette(m *fields.Map) Palette {
	var p Palette
	for key, to := range map[string]*draw.Color{"paper": &p.Paper, "ink": &p.Ink, "quiet": &p.Quiet, "straw": &p.Straw,
		"clay": &p.Clay, "moss": &p.Moss, "frost": &p.Frost, "hairline": &p.Hairline} {
		t, ok := m.Need(key)
		if !ok {
			continue
		}
		c, err := draw.ParseColor(t.Value)
		if err != nil {
			m.Fail(t.Span, "colour", err.Error())
		}
		*to = c
	}
	m.Done()
	return p
}

func setting(m *fields.Map) Setting {
	var s Setting
	numbers(part(m, "sizes"), map[string]*float64{
		"text": &s.Sizes.Text, "leading": &s.Sizes.Leading, "caption": &s.Sizes.Caption,
		"name": &s.Sizes.Name, "title": &s.Sizes.Title, "heading": &s.Sizes.Heading}, smallest, largest)
	numbers(part(m, "margins"), map[string]*float64{
		"inner": &s.Margins.Inner, "outer": &s.Margins.Outer, "head": &s.Margins.Head, "foot": &s.Margins.Foot}, narrow, wide)
	return s
}

func numbers(m *fields.Map, to map[string]*float64, low, high float64) {
	for key, v := range to {
		if _, ok := m.Need(key); !ok {
			continue
		}
		n, ok := m.Number(key)
		if ok && (n.Value < low || n.Value > high) {
			m.Fail(n.Span, "size", fmt.Sprintf("%s is between %v and %v", key, low, high))
		}
		*v = n.Value
	}
	m.Done()
}

// Face gives the font that plays a role. Captions are set in the body face.
func (t *Theme) Face(role draw.Face) *Face {
	if role == draw.Caption {
		role = draw.Body
	}
	return t.faces[role]
}

// Family gives the colour of a family of jobs.
func (p Palette) Family(name string) draw.Color {
	switch name {
	case "comb":
		return p.Straw
	case "cut":
		return p.Clay
	case "grow":
		return p.Moss
	case "protect":
		return p.Frost
	}
	return p.Ink
}

// A Face is one font with its measures.
type Face struct {
	Name string
	TTF  []byte

	font *sfnt.Font
	// common holds the advances of the characters booklets are made of, so
	// that measuring a line touches no font table; NaN marks a missing glyph.
	common [0x2300]float64
	// kerns holds, in ems, the distance by which the font moves a second
	// letter towards or from a first, for the letters of kerned.
	kerns map[[2]rune]float64
}

// kerned are the characters whose pairs are looked up in the font: capitals and
// small letters with the points that follow them.
const kerned = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz.,‘’"

func shippedNames() []string {
	return []string{"Go Regular", "Go Bold", "Go Italic", "Go Smallcaps", "DejaVu Serif Condensed", "DejaVu Serif Condensed Italic"}
}

func shipped(name string) (*Face, error) {
	data := [][]byte{goregular.TTF, gobold.TTF, goitalic.TTF, gosmallcaps.TTF, dejavuserifcondensed.TTF, dejavuserifcondenseditalic.TTF}
	return newFace(name, data[slices.Index(shippedNames(), name)])
}

func newFace(name string, ttf []byte) (*Face, error) {
	font, err := sfnt.Parse(ttf)
	if err != nil {
		return nil, fmt.Errorf("the typeface %s cannot be read: %w", name, err)
	}
	f := &Face{Name: name, TTF: ttf, font: font, kerns: map[[2]rune]float64{}}
	var buf sfnt.Buffer
	for r := range f.common {
		f.common[r] = math.NaN()
		// Latin, then punctuation, arrows and mathematical signs.
		if r >= 0x20 && r < 0x250 || r >= 0x2000 {
			f.common[r] = f.measure(&buf, rune(r))
		}
	}
	f.readKerns(&buf)
	return f, nil
}

// units is the scale advances are read in: 1000 to the em.
const units = 1000

func (f *Face) measure(buf *sfnt.Buffer, r rune) float64 {
	g, err := f.font.GlyphIndex(buf, r)
	if err != nil || g == 0 {
		return math.NaN()
	}
	a, err := f.font.GlyphAdvance(buf, g, fixed.I(units), 0)
	if err != nil {
		return math.NaN()
	}
	return float64(a) / 64 / units
}

// readKerns fills kerns from the font's kern table, if it has one.
func (f *Face) readKerns(buf *sfnt.Buffer) {
	glyphs := map[rune]sfnt.GlyphIndex{}
	for _, r := range kerned {
		if g, err := f.font.GlyphIndex(buf, r); err == nil && g != 0 {
			glyphs[r] = g
		}
	}
	for a, g := range glyphs {
		for b, h := range glyphs {
			if k, err := f.font.Kern(buf, g, h, fixed.I(units), 0); err == nil && k != 0 {
				f.kerns[[2]rune{a, b}] = float64(k) / 64 / units
			}
		}
	}
}

// Kern is how far the font moves b from its place after a, in ems.
func (f *Face) Kern(a, b rune) float64 { return f.kerns[[2]rune{a, b}] }

// advance is the width of a character in ems, NaN when the face lacks it.
func (f *Face) advance(r rune) float64 {
	if int(r) < len(f.common) && (r < 0x250 || r >= 0x2000) {
		return f.common[r]
	}
	var buf sfnt.Buffer
	return f.measure(&buf, r)
}

// Has tells whether the face can set a character.
func (f *Face) Has(r rune) bool { return !math.IsNaN(f.advance(r)) }

// Width is the length of text at a size in points, kerned, in millimetres.
func (f *Face) Width(text string, size float64) float64 {
	sum := 0.0
	var before rune
	for _, r := range text {
		if a := f.advance(r); !math.IsNaN(a) {
			sum += a
		}
		if len(f.kerns) > 0 {
			sum += f.Kern(before, r)
		}
		before = r
	}
	return sum * size / PointsPerMM
}
