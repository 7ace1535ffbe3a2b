package figure

import (
	"fmt"

	"sheaf/generator/draw"
)

// A Sketchbook keeps drawings from one build of a booklet to the next: a drawing
// hangs on its arguments alone, and drawing is a third of a build. A nil one
// keeps nothing.
type Sketchbook draw.Memo[any, draw.Picture]

func (s *Sketchbook) memo() *draw.Memo[any, draw.Picture] {
	return (*draw.Memo[any, draw.Picture])(s)
}

// Turn begins a build: what the build before did not ask for is forgotten.
func (s *Sketchbook) Turn() { s.memo().Turn() }

// Portrait is [Portrait] from the book.
func (s *Sketchbook) Portrait(p Plant, pal Palette, f Frame) draw.Picture {
	type key struct {
		Plant
		Palette
		Frame
	}
	return s.memo().Of(key{p, pal, f}, func() draw.Picture { return Portrait(p, pal, f) })
}

// BeforeAfter is [BeforeAfter] from the book.
func (s *Sketchbook) BeforeAfter(p Plant, c Cut, pal Palette, f Frame) draw.Picture {
	type key struct {
		Plant
		Cut
		Palette
		Frame
	}
	return s.memo().Of(key{p, c, pal, f}, func() draw.Picture { return BeforeAfter(p, c, pal, f) })
}

// Row is [Row] from the book.
func (s *Sketchbook) Row(ps []Plant, pal Palette, f Frame) draw.Picture {
	type key struct {
		plants string
		Palette
		Frame
	}
	return s.memo().Of(key{fmt.Sprintf("%#v", ps), pal, f}, func() draw.Picture { return Row(ps, pal, f) })
}
