package theme

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/go-fonts/dejavu/dejavusans"
	"github.com/go-fonts/dejavu/dejavusansbold"
	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-fonts/dejavu/dejavusanscondensedbold"
	"github.com/go-fonts/dejavu/dejavusanscondensedboldoblique"
	"github.com/go-fonts/dejavu/dejavusanscondensedoblique"
	"github.com/go-fonts/dejavu/dejavusansoblique"
	"github.com/go-fonts/dejavu/dejavuserifcondensed"
	"github.com/go-fonts/dejavu/dejavuserifcondensedbold"
	"github.com/go-fonts/dejavu/dejavuserifcondensedbolditalic"
	"github.com/go-fonts/dejavu/dejavuserifcondenseditalic"
	"github.com/go-fonts/liberation/liberationsansbold"
	"github.com/go-fonts/liberation/liberationsansitalic"
	"github.com/go-fonts/liberation/liberationsansregular"
	"github.com/go-fonts/liberation/liberationserifbold"
	"github.com/go-fonts/liberation/liberationserifitalic"
	"github.com/go-fonts/liberation/liberationserifregular"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/gofont/gosmallcaps"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// A Face is one font with its measures.
type Face struct {
	Name string
	TTF  []byte
	// SmallCapitals says that its small letters are small capitals.
	SmallCapitals bool

	own  bool // of the theme's folder or the system, not shipped
	font *sfnt.Font
	// common holds the advances of the characters booklets are made of, so
	// that measuring a line touches no font table; NaN marks a missing glyph.
	common [0x2300]float64
	// kerns holds, in ems, the distance by which the font moves a second
	// letter towards or from a first, by their places among kerned; nil for none.
	kerns *[len(kerned) + 1][len(kerned) + 1]float64
}

// kerned are the characters whose pairs are looked up in the font: capitals and
// small letters with the points that follow them.
const kerned = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz.,‘’"

// place is where a character stands among kerned, from 1; 0 for nowhere.
func place(r rune) int {
	switch {
	case r >= 'A' && r <= 'Z':
		return int(r-'A') + 1
	case r >= 'a' && r <= 'z':
		return int(r-'a') + 27
	case r == '.':
		return 53
	case r == ',':
		return 54
	case r == '‘':
		return 55
	case r == '’':
		return 56
	}
	return 0
}

// vital are the characters without which nothing can be set in a face, wanted
// the others that every booklet has.
const (
	vital  = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789.,:;()- "
	wanted = "×‘’“”–—…°²½¼é•"
)

// shippedFace is a typeface that comes with the program, as a module.
type shippedFace struct {
	name string
	ttf  []byte
}

func shippedFaces() []shippedFace {
	return []shippedFace{
		{"Go Regular", goregular.TTF}, {"Go Bold", gobold.TTF}, {"Go Italic", goitalic.TTF}, {"Go Smallcaps", gosmallcaps.TTF},
		{"DejaVu Sans", dejavusans.TTF}, {"DejaVu Sans Bold", dejavusansbold.TTF}, {"DejaVu Sans Oblique", dejavusansoblique.TTF},
		{"DejaVu Sans Condensed", dejavusanscondensed.TTF}, {"DejaVu Sans Condensed Bold", dejavusanscondensedbold.TTF},
		{"DejaVu Sans Condensed Oblique", dejavusanscondensedoblique.TTF}, {"DejaVu Sans Condensed Bold Oblique", dejavusanscondensedboldoblique.TTF},
		{"DejaVu Serif Condensed", dejavuserifcondensed.TTF}, {"DejaVu Serif Condensed Bold", dejavuserifcondensedbold.TTF},
		{"DejaVu Serif Condensed Italic", dejavuserifcondenseditalic.TTF}, {"DejaVu Serif Condensed Bold Italic", dejavuserifcondensedbolditalic.TTF},
		{"Liberation Sans", liberationsansregular.TTF}, {"Liberation Sans Bold", liberationsansbold.TTF}, {"Liberation Sans Italic", liberationsansitalic.TTF},
		{"Liberation Serif", liberationserifregular.TTF}, {"Liberation Serif Bold", liberationserifbold.TTF}, {"Liberation Serif Italic", liberationserifitalic.TTF},
	}
}

func shippedNames() []string {
	var out []string
	for _, f := range shippedFaces() {
		out = append(out, f.name)
	}
	return out
}

// shipped gives the bytes of a typeface that ships; nil when none has the name.
func shipped(name string) []byte {
	all := shippedFaces()
	if i := slices.IndexFunc(all, func(f shippedFace) bool { return f.name == name }); i >= 0 {
		return all[i].ttf
	}
	return nil
}

// FontName is the whole name of a TrueType font, such as "Gentium Bold"; "" for
// what is none.
func FontName(r io.ReaderAt) string {
	f, err := sfnt.ParseReaderAt(r)
	if err != nil {
		return ""
	}
	name, err := f.Name(nil, sfnt.NameIDFull)
	if err != nil {
		return ""
	}
	return strings.TrimSpace(name)
}

// printable tells why a font cannot be put into a PDF file, nil if it can: it
// must have TrueType outlines, and its maker must allow that it is put there in
// part (OpenType 1.9.1, OS/2, fsType: bit 1 restricted licence, bit 8 no
// subsetting, bit 9 bitmaps only).
func printable(ttf []byte) error {
	if len(ttf) < 12 {
		return errors.New("it is no TrueType font")
	}
	switch kind := string(ttf[:4]); kind {
	case "\x00\x01\x00\x00", "true":
	case "OTTO":
		return errors.New("it has PostScript outlines, and only TrueType ones can be printed")
	case "ttcf":
		return errors.New("it is a collection of fonts, and one alone is needed")
	default:
		return errors.New("it is no TrueType font")
	}
	tables := map[string][]byte{}
	for i := range int(binary.BigEndian.Uint16(ttf[4:])) {
		at := 12 + 16*i
		if at+16 > len(ttf) {
			return errors.New("it is damaged: its list of tables is cut off")
		}
		from, size := int64(binary.BigEndian.Uint32(ttf[at+8:])), int64(binary.BigEndian.Uint32(ttf[at+12:]))
		if from+size > int64(len(ttf)) {
			return fmt.Errorf("it is damaged: its table %q is cut off", ttf[at:at+4])
		}
		tables[string(ttf[at:at+4])] = ttf[from : from+size]
	}
	for _, t := range []string{"cmap", "glyf", "head", "hhea", "hmtx", "loca", "maxp", "name", "post", "OS/2"} {
		if len(tables[t]) < 6 {
			return fmt.Errorf("it is no whole TrueType font: it lacks the table %q", t)
		}
	}
	if os2 := tables["OS/2"]; len(os2) < 10 {
		return errors.New("it is damaged: its table \"OS/2\" is cut off")
	} else if may := binary.BigEndian.Uint16(os2[8:]); may&0xf == 2 || may&0x0300 != 0 {
		return fmt.Errorf("its maker does not allow that it is embedded in a file in part (fsType %#04x)", may)
	}
	return nil
}

func newFace(name string, ttf []byte) (*Face, error) {
	parsed, err := sfnt.Parse(ttf)
	if err != nil {
		return nil, fmt.Errorf("it cannot be read: %w", err)
	}
	f := &Face{Name: name, TTF: ttf, font: parsed}
	var buf sfnt.Buffer
	for r := range f.common {
		f.common[r] = math.NaN()
		// Latin, then punctuation, arrows and mathematical signs.
		if r >= 0x20 && r < 0x250 || r >= 0x2000 {
			f.common[r] = f.measure(&buf, rune(r))
		}
	}
	f.readKerns(&buf)
	// In small capitals h is as high as x; elsewhere it has an ascender.
	h, x := f.rise(&buf, 'h'), f.rise(&buf, 'x')
	f.SmallCapitals = x > 0 && h < 1.1*x
	return f, nil
}

// rise is how far a letter reaches above its baseline, in units.
func (f *Face) rise(buf *sfnt.Buffer, r rune) float64 {
	g, err := f.font.GlyphIndex(buf, r)
	if err != nil || g == 0 {
		return 0
	}
	box, _, err := f.font.GlyphBounds(buf, g, fixed.I(units), font.HintingNone)
	if err != nil {
		return 0
	}
	return -float64(box.Min.Y) / 64
}

// lacks lists the characters of some that the face cannot set.
func (f *Face) lacks(some string) string {
	var out strings.Builder
	for _, r := range some {
		if !f.Has(r) {
			out.WriteRune(r)
		}
	}
	return out.String()
}

// Family is the name by which a browser knows the face's family.
func (f *Face) Family() string {
	name := f.Name
	for _, end := range []string{" Bold Oblique", " Bold Italic", " Oblique", " Italic", " Bold", " Regular"} {
		name = strings.TrimSuffix(name, end)
	}
	return name
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
				if f.kerns == nil {
					f.kerns = new([len(kerned) + 1][len(kerned) + 1]float64)
				}
				f.kerns[place(a)][place(b)] = float64(k) / 64 / units
			}
		}
	}
}

// Kern is how far the font moves b from its place after a, in ems.
func (f *Face) Kern(a, b rune) float64 {
	if f.kerns == nil {
		return 0
	}
	return f.kerns[place(a)][place(b)]
}

// advance is the width of a character in ems, NaN when the face lacks it.
func (f *Face) advance(r rune) float64 {
	if int(r) < len(f.common) && (r < 0x250 || r >= 0x2000) {
		return f.common[r]
	}
	var buf sfnt.Buffer
	return f.measure(&buf, r)
}

// Has tells whether the face can set a character. None sets those beyond the Basic
// Multilingual Plane, whatever its font has: it is embedded by codes of two bytes.
func (f *Face) Has(r rune) bool { return r <= 0xffff && !math.IsNaN(f.advance(r)) }

// Usual lists those of the face's characters that every booklet may have.
func (f *Face) Usual() string {
	return strings.Map(func(r rune) rune {
		if f.Has(r) {
			return r
		}
		return -1
	}, vital+wanted)
}

// Width is the length of text at a size in points, kerned, in millimetres.
func (f *Face) Width(text string, size float64) float64 {
	sum := 0.0
	var before rune
	for _, r := range text {
		if a := f.advance(r); !math.IsNaN(a) {
			sum += a
		}
		sum += f.Kern(before, r)
		before = r
	}
	return sum * size / PointsPerMM
}
