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

	mu   sync.Mutex
	held []*notion // those that are kept as drawn, the oldest first
}

// Portrait is [Portrait] from the book.
func (s *Sketchbook) Portrait(p Plant, w *words.Words, pal Palette, f Frame) draw.Picture {
	type key struct {
		Plant
		*words.Words
		Palette
		Frame
	}
	return s.of(key{p, w, pal, f}, func(s *Sketchbook) draw.Picture { return sketchPortrait(p, w, pal, f, s) })
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
	return s.of(key{p, c, w, pal, f}, func(s *Sketchbook) draw.Picture { return sketchBeforeAfter(p, c, w, pal, f, s) })
}

// Row is [Row] from the book.
func (s *Sketchbook) Row(ps []Plant, w *words.Words, pal Palette, f Frame) draw.Picture {
	type key struct {
		plants string
		*words.Words
		Palette
		Frame
	}
	return s.of(key{fmt.Sprintf("%#v", ps), w, pal, f}, func(s *Sketchbook) draw.Picture { return sketchRow(ps, w, pal, f, s) })
}

func (s *Sketchbook) of(key any, sketched func(*Sketchbook) draw.Picture) draw.Picture {
	if s == nil {
		return sketched(nil)
	}
	return s.made.Of(key, func() draw.Picture { return sketched(s) })
}

// Turn begins a build: what the build before did not ask for is forgotten.
func (s *Sketchbook) Turn() { s.made.Turn() }

// mostHeld is how many drawings are kept as they were drawn, for whoever else paints
// them soon; with 60 KB each, all of a garden of eighty plants.
const mostHeld = 300

// hold keeps one more, and lets go of the oldest.
func (s *Sketchbook) hold(n *notion) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.held = append(s.held, n); len(s.held) > mostHeld {
		s.held[0].drawn.Store(nil)
		s.held = append(s.held[:0], s.held[1:]...)
	}
}

// A notion is a drawing that may not be there yet, or no longer.
type notion struct {
	mu    sync.Mutex // of drawing
	drawn atomic.Pointer[drawing]
	by    func() ([]draw.Item, string)
}

// A drawing is what a picture holds, and shows in words.
type drawing struct {
	items []draw.Item
	desc  string
}

// sketch gives a picture that is drawn when it is painted.
func (s *Sketchbook) sketch(pic draw.Picture, by func() ([]draw.Item, string)) draw.Picture {
	n := &notion{by: by}
	pic.Items = []draw.Item{&draw.Sketch{Draw: func() ([]draw.Item, string) {
		d := n.drawn.Load()
		if d == nil {
			n.mu.Lock()
			defer n.mu.Unlock()
			if d = n.drawn.Load(); d == nil { // nobody else has drawn it meanwhile
				items, desc := n.by()
				d = &drawing{items, desc}
				if s != nil {
					n.drawn.Store(d)
					s.hold(n)
				}
			}
		}
		return d.items, d.desc
	}}}
	return pic
}
