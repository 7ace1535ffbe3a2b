package figure

import (
	"fmt"
	"sync"

	"sheaf/generator/draw"
)

// A Sketchbook keeps what was drawn from one build of a booklet to the next: a
// drawing hangs on its arguments alone, and drawing is a third of a build. Nil
// keeps nothing. It is safe for use from several places at once.
type Sketchbook struct {
	mu    sync.Mutex
	round int
	drawn map[any]*sheet
}

// sheet is one drawing and the round that last asked for it.
type sheet struct {
	once  sync.Once
	pic   draw.Picture
	round int
}

// Turn begins a build: what the build before did not ask for is forgotten.
func (s *Sketchbook) Turn() {
	s.mu.Lock()
	defer s.mu.Unlock()
	for key, sheet := range s.drawn {
		if sheet.round != s.round {
			delete(s.drawn, key)
		}
	}
	s.round++
}

// drawing gives what the key stands for, drawn now if it is not in the book.
func (s *Sketchbook) drawing(key any, by func() draw.Picture) draw.Picture {
	if s == nil {
		return by()
	}
	s.mu.Lock()
	at := s.drawn[key]
	if at == nil {
		if s.drawn == nil {
			s.drawn = map[any]*sheet{}
		}
		at = &sheet{}
		s.drawn[key] = at
	}
	at.round = s.round
	s.mu.Unlock()
	at.once.Do(func() { at.pic = by() })
	return at.pic
}

// Portrait is [Portrait] from the book.
func (s *Sketchbook) Portrait(p Plant, pal Palette, f Frame) draw.Picture {
	type key struct {
		Plant
		Palette
		Frame
	}
	return s.drawing(key{p, pal, f}, func() draw.Picture { return Portrait(p, pal, f) })
}

// BeforeAfter is [BeforeAfter] from the book.
func (s *Sketchbook) BeforeAfter(p Plant, c Cut, pal Palette, f Frame) draw.Picture {
	type key struct {
		Plant
		Cut
		Palette
		Frame
	}
	return s.drawing(key{p, c, pal, f}, func() draw.Picture { return BeforeAfter(p, c, pal, f) })
}

// Row is [Row] from the book.
func (s *Sketchbook) Row(ps []Plant, pal Palette, f Frame) draw.Picture {
	type key struct {
		plants string
		Palette
		Frame
	}
	return s.drawing(key{fmt.Sprintf("%#v", ps), pal, f}, func() draw.Picture { return Row(ps, pal, f) })
}
