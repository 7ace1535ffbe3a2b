package html

import (
	"strings"

	"sheaf/generator/draw"
	"sheaf/generator/figure"
)

// Paintings keeps pictures as they were painted for the pages of one build, for
// the next. It must not outlive the theme.
type Paintings = draw.Memo[painting, canvas]

// painting is a picture, known by its items, which nobody changes once they are
// drawn, and all else but the theme that decides how it is painted.
type painting struct {
	first *draw.Item
	n     int
	w, h  float64
	as    string
}

// A canvas is what was painted.
type canvas struct {
	w, h  float64 // of its coordinates
	inner string
	desc  string
	named bool         // it names parts of itself, by [ownName]
	size  figure.Frame // in millimetres
}

// ownName begins the names of what is clipped, in pictures that are kept: they get
// another on each page. No text holds this sign once it is escaped.
const ownName = "\x00"

// called gives the canvas with names that begin with prefix.
func (c canvas) called(prefix string) canvas {
	if c.named {
		c.inner = strings.ReplaceAll(c.inner, ownName, prefix)
	}
	return c
}

// paintedAs gives a picture as it was painted before, or paints it. There are
// several ways to paint one.
func (e *edition) paintedAs(p draw.Picture, as string, paint func() canvas) canvas {
	if len(p.Items) == 0 {
		return paint()
	}
	return e.paintings.Of(painting{&p.Items[0], len(p.Items), p.W, p.H, as}, paint)
}
