package figure

import (
	"fmt"

	"sheaf/generator/draw"
	"sheaf/generator/words"
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
func (s *Sketchbook) Portrait(p Plant, w *words.Words, pal Palette, f Frame) draw.Picture {
	type key struct {
		Plant
		*words.Words
		Palette
		Frame
	}
	return s.memo().Of(key{p, w, pal, f}, func() draw.Picture { return Portrait(p, w, pal, f) })
}

// BeforeAfter is [BeforeAfter] from the book.
func (s *Sketchbook) BeforeAfter(p Plant, c Cut, w *words.Words, pal Palette, f Frame) draw.Picture {
	type key struct {
		Plant
		Cut
		*words.Words
		Palette
		Frame
	}
	return s.memo().Of(key{p, c, w, pal, f}, func() draw.Picture { return BeforeAfter(p, c, w, pal, f) })
}

// Row is [Row] from the book.
func (s *Sketchbook) Row(ps []Plant, w *words.Words, pal Palette, f Frame) draw.Picture {
	type key struct {
		plants string
		*words.Words
		Palette
		Frame
	}
	return s.memo().Of(key{fmt.Sprintf("%#v", ps), w, pal, f}, func() draw.Picture { return Row(ps, w, pal, f) })
}
