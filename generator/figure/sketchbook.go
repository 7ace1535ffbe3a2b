package figure

import (
	"fmt"
	"slices"
	"sync"
	"sync/atomic"

	"sheaf/generator/draw"
	"sheaf/generator/words"
)

// A Sketchbook gives drawings of plants, and keeps them from one build of a booklet
// to the next: a drawing hangs on its arguments alone, and drawing is a sixth of a
// build. Nothing is drawn before it is painted. A nil one keeps nothing.
type Sketchbook struct {
	made draw.Memo[any, draw.Picture]

	mu   sync.Mutex
	held []*notion // those that are kept as drawn, the oldest first
}

// Portrait draws the whole plant on a ground line, to the scale of a ruler at
// its side. A hand of 20 cm stands beside a small plant and the outline of a
// person of 1.7 m beside a tall one.
func (s *Sketchbook) Portrait(p Plant, w *words.Words, pal Palette, f Frame) draw.Picture {
	type key struct {
		Plant
		*words.Words
		Palette
		Frame
	}
	return s.of(key{p, w, pal, f}, f, p.name(w), func() ([]draw.Item, string) { return portrait(p, w, pal, f) })
}

// To is the portrait that is drawn for one frame in another, to a scale, in millimetres
// to a centimetre of the plant, for plants that are seen together; it is not larger than
// its frame lets it be. The plant is drawn once for both.
func (s *Sketchbook) To(scale float64, p Plant, w *words.Words, pal Palette, drawn, f Frame) draw.Picture {
	type key struct {
		float64
		Plant
		*words.Words
		Palette
		drawn, f Frame
	}
	return s.of(key{scale, p, w, pal, drawn, f}, f, p.name(w), func() ([]draw.Item, string) {
		if p.Unknown {
			return standIn(p, w, pal, f)
		}
		return reset(s.Portrait(p, w, pal, drawn).Drawn(), p.whole(), pal, drawn, f, scale)
	})
}

// Scale is the largest scale at which a plant's portrait fits a frame, in millimetres
// to a centimetre.
func (p Plant) Scale(f Frame) float64 { return setStage(p.whole(), f, true).mm }

// BeforeAfter shows a job on a plant in one picture: what stays in full
// colour, what goes pale, and the hand's work in the colour of its family.
func (s *Sketchbook) BeforeAfter(p Plant, c Cut, w *words.Words, pal Palette, f Frame) draw.Picture {
	type key struct {
		Plant
		Cut
		*words.Words
		Palette
		Frame
	}
	title := w.Say("drawn.title", "plant", p.name(w), "mark", w.Say("mark."+c.Mark))
	return s.of(key{p, c, w, pal, f}, f, title, func() ([]draw.Item, string) { return beforeAfter(p, c, w, pal, f) })
}

// Row is the picture of a part of a guide: the plants side by side to one scale, low
// to high, on one ground line beside a ruler. Neighbours overlap where there
// are many, the lower before the taller.
func (s *Sketchbook) Row(ps []Plant, w *words.Words, pal Palette, f Frame) draw.Picture {
	type key struct {
		plants string
		*words.Words
		Palette
		Frame
	}
	title := w.Say("drawn.row title")
	ps = slices.DeleteFunc(slices.Clone(ps), func(p Plant) bool { return p.Unknown })
	if len(ps) == 0 {
		return draw.Picture{W: f.W, H: f.H, Title: title}
	}
	return s.of(key{fmt.Sprintf("%#v", ps), w, pal, f}, f, title, func() ([]draw.Item, string) { return row(ps, w, pal, f) })
}

// Border is the picture of the cover: the plants to one scale on one ground line, low
// to high, as a border seen from the front that fills the frame from edge to edge.
// light has it drawn with fewer strokes, for screens.
func (s *Sketchbook) Border(ps []Plant, light bool, w *words.Words, pal Palette, f Frame) draw.Picture {
	type key struct {
		plants string
		light  bool
		*words.Words
		Palette
		Frame
	}
	title := w.Say("drawn.row title")
	ps = slices.DeleteFunc(slices.Clone(ps), func(p Plant) bool { return p.Unknown })
	if len(ps) == 0 {
		return draw.Picture{W: f.W, H: f.H, Title: title}
	}
	fine := 1.0
	if light {
		fine = 0.32
	}
	return s.of(key{fmt.Sprintf("%#v", ps), light, w, pal, f}, f, title, func() ([]draw.Item, string) { return border(ps, fine, w, pal, f) })
}

// of gives a picture that was asked for before, or a new one that is yet to be drawn.
func (s *Sketchbook) of(key any, f Frame, title string, by func() ([]draw.Item, string)) draw.Picture {
	sketched := func() draw.Picture {
		return draw.Picture{W: f.W, H: f.H, Title: title, Items: []draw.Item{&draw.Sketch{Draw: (&notion{book: s, by: by}).draw}}}
	}
	if s == nil {
		return sketched()
	}
	return s.made.Of(key, sketched)
}

// Turn begins a build: what the build before did not ask for is forgotten.
func (s *Sketchbook) Turn() { s.made.Turn() }

// mostHeld is how many drawings are kept as they were drawn, with 60 KB each, for
// whoever else paints them soon: screen and print are seldom further apart.
const mostHeld = 240

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
	book  *Sketchbook
	by    func() ([]draw.Item, string)
	mu    sync.Mutex // of drawing
	drawn atomic.Pointer[drawing]
}

// A drawing is what a picture holds, and shows in words.
type drawing struct {
	items []draw.Item
	desc  string
}

func (n *notion) draw() ([]draw.Item, string) {
	d := n.drawn.Load()
	if d == nil {
		n.mu.Lock()
		defer n.mu.Unlock()
		if d = n.drawn.Load(); d == nil { // nobody else has drawn it meanwhile
			items, desc := n.by()
			d = &drawing{items, desc}
			if n.book != nil {
				n.drawn.Store(d)
				n.book.hold(n)
			}
		}
	}
	return d.items, d.desc
}
