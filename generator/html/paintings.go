package html

import (
	"html/template"

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
	title string
	as    string
}

// canvas is what was painted and, where the page needs to know, its size in
// millimetres.
type canvas struct {
	svg   template.HTML
	size  figure.Frame
	named bool // it names parts of itself
}

// paintedAs gives a picture as it was painted before, or paints it. There are
// several ways to paint one.
func (e *edition) paintedAs(p draw.Picture, as string, paint func() canvas) canvas {
	if len(p.Items) == 0 {
		return paint()
	}
	return e.paintings.Of(painting{&p.Items[0], len(p.Items), p.W, p.H, p.Title, as}, paint)
}
