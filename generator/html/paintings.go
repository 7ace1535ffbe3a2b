package html

import (
	"html/template"
	"sync"

	"sheaf/generator/draw"
)

// Paintings keeps pictures as they were painted for the pages of one build, for
// the next. A picture is known by its items, which nobody changes once they are
// drawn. Nil keeps nothing.
type Paintings struct {
	mu      sync.Mutex
	round   int
	painted map[painting]*easel
}

// painting is a picture and all else that decides how it is painted but the
// theme, which Paintings must not outlive.
type painting struct {
	first  *draw.Item
	n      int
	w, h   float64
	title  string
	prefix string
	grid   float64
}

// canvas is what was painted and, where the page needs to know, its size in
// millimetres.
type canvas struct {
	svg  template.HTML
	w, h float64
}

// easel holds one painting and the round that last asked for it.
type easel struct {
	once sync.Once
	canvas
	round int
}

// Turn begins a build: what the build before did not ask for is forgotten.
func (s *Paintings) Turn() {
	s.mu.Lock()
	defer s.mu.Unlock()
	for key, c := range s.painted {
		if c.round != s.round {
			delete(s.painted, key)
		}
	}
	s.round++
}

// of gives a picture as it was painted before, or paints it.
func (s *Paintings) of(p draw.Picture, prefix string, grid float64, paint func() canvas) canvas {
	if s == nil || len(p.Items) == 0 {
		return paint()
	}
	key := painting{&p.Items[0], len(p.Items), p.W, p.H, p.Title, prefix, grid}
	s.mu.Lock()
	at := s.painted[key]
	if at == nil {
		if s.painted == nil {
			s.painted = map[painting]*easel{}
		}
		at = &easel{}
		s.painted[key] = at
	}
	at.round = s.round
	s.mu.Unlock()
	at.once.Do(func() { at.canvas = paint() })
	return at.canvas
}
