package figure

import (
	"fmt"
	"sync"
	"sync/atomic"

	"sheaf/generator/draw"
	"sheaf/generator/words"
)

// A Sketchbook keeps drawings from one build of a booklet to the next: a drawing
// hangs on its arguments alone, and drawing is a sixth of a build. Nothing is
// drawn before it is painted. A nil one keeps nothing.
type Sketchbook struct {
	made draw.Memo[any, draw.Picture]
	held atomic.Int64 // drawings of this build that are kept as drawn
}

// mostHeld is how many drawings a build keeps as they were drawn, for whoever else
// paints them; with 60 KB each, all of a garden of several hundred plants. What is
// beyond is drawn again.
const mostHeld = 1000

// Turn begins a build: what the build before did not ask for is forgotten.
func (s *Sketchbook) Turn() {
	s.made.Turn()
	s.held.Store(0)
}

// Portrait is [Portrait] from the book.
func (s *Sketchbook) Portrait(p Plant, w *words.Words, pal Palette, f Frame) draw.Picture {
	type key struct {
		Plant
		*words.Words
		Palette
		Frame
	}
	return s.of(key{p, w, pal, f}, func(h holder) draw.Picture { return sketchPortrait(p, w, pal, f, h) })
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
	return s.of(key{p, c, w, pal, f}, func(h holder) draw.Picture { return sketchBeforeAfter(p, c, w, pal, f, h) })
}

// Row is [Row] from the book.
func (s *Sketchbook) Row(ps []Plant, w *words.Words, pal Palette, f Frame) draw.Picture {
	type key struct {
		plants string
		*words.Words
		Palette
		Frame
	}
	return s.of(key{fmt.Sprintf("%#v", ps), w, pal, f}, func(holder) draw.Picture { return Row(ps, w, pal, f) })
}

func (s *Sketchbook) of(key any, sketched func(holder) draw.Picture) draw.Picture {
	if s == nil {
		return sketched(nil)
	}
	return s.made.Of(key, func() draw.Picture {
		return sketched(func() bool { return s.held.Add(1) <= mostHeld })
	})
}

// A holder tells whether there is room to keep one more drawing.
type holder func() bool

// sketch gives a picture that is drawn when it is painted, and then kept if there
// is room.
func (h holder) sketch(pic draw.Picture, drawn func() ([]draw.Item, string)) draw.Picture {
	var mu sync.Mutex
	var kept bool
	var items []draw.Item
	var desc string
	pic.Items = []draw.Item{&draw.Sketch{Draw: func() ([]draw.Item, string) {
		mu.Lock()
		defer mu.Unlock()
		if kept {
			return items, desc
		}
		now, said := drawn()
		if h != nil && h() {
			kept, items, desc = true, now, said
		}
		return now, said
	}}}
	return pic
}
