// Package layout sets a booklet on pages: it breaks lines, measures with the
// fonts themselves, fills pages by keep rules and numbers them. In go a
// [booklet.Book] and a theme, out come [Pages] of items at fixed millimetres,
// which pdf paints without a decision of its own.
//
// The contents come before what they list, but their length does not hang on
// any page number: they are laid out once for their length and once more, with
// the numbers, when all else stands.
package layout

import (
	"sheaf/generator/draw"
	"sheaf/generator/photo"
	"sheaf/generator/theme"
)

// Pages is a laid-out document.
type Pages struct {
	Pages   []Page
	Outline []Mark
	Title   string
	Author  string
	Subject string
	Lang    string
	// Chosen is what was printed of the sections of which some may be left out, for
	// editions that print the same.
	Chosen map[string]uint64
}

// A Page holds placed items. Lengths are millimetres, y down from the top left
// corner. Pages count from 1.
type Page struct {
	W, H  float64
	Items []Item
}

// An Item is one of the types below.
type Item interface{ item() }

// Text is a run of one face on one baseline.
type Text struct {
	String string
	X, Y   float64 // start of the baseline
	W      float64
	Size   float32 // points
	Face   draw.Face
	Color  draw.Color
}

// Picture is a drawing with its top left corner at X, Y.
type Picture struct {
	X, Y    float64
	Picture draw.Picture
}

// Image is a photograph, W by H millimetres, with its top left corner at X, Y.
type Image struct {
	X, Y, W, H float64
	Photo      *photo.Photo
}

// Link makes a rectangle lead to an anchor or an address.
type Link struct {
	X, Y, W, H float64
	Target     string // an anchor's ID, or ""
	URL        string
}

// Anchor is a place that links and the outline lead to.
type Anchor struct {
	Y  float64
	ID string
}

// Leaf is what is painted on a page of the booklet, which counts from 1, on a sheet: the
// page's top left corner lies at X, Y.
type Leaf struct {
	X, Y float64
	Page int
}

func (Text) item()    {}
func (Picture) item() {}
func (Image) item()   {}
func (Link) item()    {}
func (Anchor) item()  {}
func (Leaf) item()    {}

// A Mark is a line of the document's outline.
type Mark struct {
	Title string
	Level int // from 0, never skipping one
	Page  int
	Y     float64
}

// A Sheet is the size of a page in millimetres.
type Sheet struct{ W, H float64 }

// Sizes by ISO 216 and ANSI Y14.1. HalfLetter is half of ANSI A.
func A3() Sheet         { return Sheet{297, 420} }
func A4() Sheet         { return Sheet{210, 297} }
func A5() Sheet         { return Sheet{148, 210} }
func Tabloid() Sheet    { return Sheet{279.4, 431.8} }
func Letter() Sheet     { return Sheet{215.9, 279.4} }
func HalfLetter() Sheet { return Sheet{139.7, 215.9} }

// Landscape turns a sheet on its side.
func (s Sheet) Landscape() Sheet { return Sheet{s.H, s.W} }

// A Form is how an edition is set.
type Form struct {
	Sheet Sheet
	theme.Setting
	Scale  float64           // of pictures, marks and columns, which are made for A5
	Roman  bool              // bold instead of italics, as large print asks
	Work   bool              // only the lists of work
	Folds  bool              // on sheets of four pages
	larger float64           // how much more room text takes than in the usual size; 0: as much
	Chosen map[string]uint64 // what is printed, as another edition chose it; nil: to keep to the budget
}

// budget is the number of pages that a book of so many plants has at most.
func (f Form) budget(plants int) int {
	if f.Chosen != nil || f.Work {
		return 0 // as few as can be
	}
	return int(float64(Budget(plants))*max(f.larger, 1)) / 4 * 4
}

// Booklet is the form of the booklet: A5, or half-letter for Letter paper.
func Booklet(t *theme.Theme, letter bool) Form {
	f := Form{Sheet: A5(), Setting: t.Setting, Scale: 1, Folds: true}
	if letter {
		f.Sheet = HalfLetter()
	}
	return f
}

// Clear is the booklet in type of 12 pt at the least (UKAAF G003, clear print). It says
// about as much as the usual one, and has as many more pages as its letters are larger.
func Clear(t *theme.Theme, letter bool) Form {
	f := Booklet(t, letter)
	f.Setting.Sizes = t.Setting.Sizes.AtLeast(clearText)
	f.larger = f.Sizes.Text * f.Sizes.Leading / (t.Sizes.Text * t.Sizes.Leading)
	return f
}

// clearText is the least size of clear print, in points.
const clearText = 12

// Large is large print on whole sheets: 18 pt, no italics (UKAAF G003, clear
// print and large print), with what was chosen for the booklet.
func Large(t *theme.Theme, letter bool, chosen map[string]uint64) Form {
	f := Form{Sheet: A4(), Setting: t.Large, Roman: true, Chosen: chosen}
	if letter {
		f.Sheet = Letter()
	}
	// Columns that grow with the type would leave the text between them too narrow.
	measure := func(s Sheet, m theme.Margins) float64 { return s.W - m.Inner - m.Outer }
	f.Scale = min(t.Large.Sizes.Text/t.Setting.Sizes.Text, measure(f.Sheet, t.Large.Margins)/measure(A5(), t.Setting.Margins))
	return f
}

// Work is the lists of work alone, on whole sheets to hang up, in clear type.
func Work(t *theme.Theme, letter bool) Form {
	f := Form{Sheet: A4(), Setting: t.Setting, Scale: 1, Work: true}
	if letter {
		f.Sheet = Letter()
	}
	f.Setting.Sizes = t.Setting.Sizes.AtLeast(clearText)
	f.Margins = t.Large.Margins
	return f
}

func shift(it Item, dx, dy float64) Item {
	switch it := it.(type) {
	case Text:
		it.X, it.Y = it.X+dx, it.Y+dy
		return it
	case Picture:
		it.X, it.Y = it.X+dx, it.Y+dy
		return it
	case Image:
		it.X, it.Y = it.X+dx, it.Y+dy
		return it
	case Link:
		it.X, it.Y = it.X+dx, it.Y+dy
		return it
	case Anchor:
		it.Y += dy
		return it
	case sitting:
		it.X, it.Y = it.X+dx, it.Y+dy
		return it
	case reference:
		it.right, it.y = it.right+dx, it.y+dy
		return it
	}
	return it
}
