package html

import (
	"cmp"
	"encoding/base64"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"sheaf/generator/booklet"
	"sheaf/generator/draw"
	"sheaf/generator/figure"
	"sheaf/generator/prose"
)

// coarse is the grid of pictures that no page measures: see [painted].
const coarse = 5

// Picture paints a picture in place.
func (p *page) Picture(pic draw.Picture) template.HTML {
	p.spend(drawnSteps)
	p.pictures++
	c := p.paintedAs(pic, "in place", func() canvas { return painted(pic, ownName, p.vars, coarse) })
	return c.called(fmt.Sprintf("p%d", p.pictures)).element(pic.Title)
}

// Mark gives the ID of a job's mark, which the page then carries once in
// [page.Marks], however many lines bear it.
func (p *page) Mark(name string) string {
	if !slices.Contains(p.asked, name) {
		p.asked = append(p.asked, name)
	}
	return p.MarkID(slices.Index(p.asked, name))
}

// MarkID is the ID of a mark by its place in [page.Marks].
func (p *page) MarkID(i int) string { return fmt.Sprintf("mark-%d", i+1) }

// Marks paints the marks that have been asked for so far, in the colour of
// the words they stand by.
func (p *page) Marks() []template.HTML {
	p.spend(len(p.asked))
	p.mu.Lock()
	defer p.mu.Unlock()
	var out []template.HTML
	for _, name := range p.asked {
		painted, ok := p.marks[name]
		if !ok {
			pic := figure.Mark(name, p.palette.Ink)
			pic.Title = "" // the verb beside it says the same
			painted = svg(pic, "", map[draw.Color]string{p.palette.Ink: "--mark"})
			p.marks[name] = painted
		}
		out = append(out, painted)
	}
	return out
}

// An image is a picture in a file of its own, or in place in the edition that
// is one file.
type image struct {
	Src    template.URL
	Alt    string
	W, H   int           // the shape of its box in pixels
	Inline template.HTML // instead of Src
}

// Drawing is the picture a section is known by, a plant's portrait or the row
// of the cover, in a file beside its page: plants are shown in two places and
// their list would be heavy with all of them in it. It is nil where a section
// has none.
func (p *page) Drawing(s *booklet.Section) *image {
	p.spend(drawnSteps)
	for _, b := range s.Blocks {
		var pic draw.Picture
		alt := p.say("drawn.alt", "plant", cmp.Or(s.Aside, prose.String(s.Title)))
		switch b := b.(type) {
		case booklet.Portrait:
			pic = b.Picture
		case booklet.Figure:
			pic, alt = b.Picture, cmp.Or(b.Picture.Title, b.Caption, alt)
			if b.Screen.Items != nil {
				pic = b.Screen
			}
		default:
			continue
		}
		if p.One {
			p.pictures++
			return &image{Inline: p.trimmed(pic).called(fmt.Sprintf("p%d", p.pictures)).element(alt)}
		}
		size := p.filed(s.ID+".svg", pic)
		const perMM = 96 / 25.4 // CSS pixels
		return &image{Src: template.URL(p.Root() + s.ID + ".svg"), Alt: alt, W: int(size.W*perMM + 0.5), H: int(size.H*perMM + 0.5)}
	}
	return nil
}

// filed has a picture in a file and gives its size in millimetres.
func (p *page) filed(file string, pic draw.Picture) figure.Frame {
	p.mu.Lock()
	size, there := p.sizes[file]
	p.mu.Unlock()
	if there {
		return size
	}
	c := p.trimmed(pic)
	p.put(file, []byte(p.standalone(c)))
	p.mu.Lock()
	defer p.mu.Unlock()
	p.sizes[file] = c.size
	return c.size
}

// trimmed paints a picture without the empty paper above it.
func (e *edition) trimmed(pic draw.Picture) canvas {
	return e.paintedAs(pic, "trimmed", func() canvas { return painted(trimmed(pic.Drawn()), ownName, e.vars, coarse) })
}

// screenWide is the width of photographs in points: sharp on a dense screen at
// the width of the text.
const screenWide = 1200

// photoWide is less where all photographs must pass through a letter box.
func (p *page) photoWide() int {
	if p.One {
		return screenWide / 2
	}
	return screenWide
}

// Photo is the photograph of a plant's section, in a file beside its page; nil
// where there is none.
func (p *page) Photo(s *booklet.Section) (*photograph, error) {
	p.spend(stripSteps)
	for _, b := range s.Blocks {
		portrait, ok := b.(booklet.Portrait)
		if !ok || portrait.Photo == nil {
			continue
		}
		data, w, h, err := portrait.Photo.Picture.JPEG(p.photoWide())
		if err != nil {
			return nil, err
		}
		src := p.Root() + s.ID + ".jpg"
		if p.One {
			src = "data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(data)
		} else {
			p.put(s.ID+".jpg", data)
		}
		return &photograph{image{Src: template.URL(src), Alt: portrait.Photo.Alt, W: w, H: h}, portrait.Photo.Credit}, nil
	}
	return nil, nil
}

// A photograph is an image with who took it.
type photograph struct {
	image
	Credit string
}

// trimmed cuts the empty paper above what is drawn: in print it lets pictures
// stand on one line, on a screen it pushes the text out of sight.
func trimmed(p draw.Picture) draw.Picture {
	const air = 1.5 // mm
	top := highest(p.Items, draw.Identity(), p.H)
	if top -= air; top <= 0 || top >= p.H-air {
		return p
	}
	p.Items = []draw.Item{draw.Group{M: draw.Shift(0, -top), Items: p.Items}}
	p.H -= top
	return p
}

// highest is the least y that is drawn, or top if that is less.
func highest(items []draw.Item, m draw.Matrix, top float64) float64 {
	for _, it := range items {
		switch it := it.(type) {
		case draw.Group:
			top = highest(it.Items, it.M.Then(m), top)
		case draw.Label:
			top = min(top, m.Apply(draw.Point{X: it.X, Y: it.Y}).Y-it.Size*mmPerPoint)
		case draw.Shape:
			pts, from := it.Path.Points, draw.Point{}
			for _, v := range it.Path.Verbs {
				switch {
				case v == draw.Cubic && len(pts) >= 3:
					// The curve's own middle: its control points lie far outside.
					middle := draw.Point{X: (from.X + 3*pts[0].X + 3*pts[1].X + pts[2].X) / 8, Y: (from.Y + 3*pts[0].Y + 3*pts[1].Y + pts[2].Y) / 8}
					top = min(top, m.Apply(pts[2]).Y, m.Apply(middle).Y)
					from, pts = pts[2], pts[3:]
				case v != draw.Close && len(pts) >= 1:
					top = min(top, m.Apply(pts[0]).Y)
					from, pts = pts[0], pts[1:]
				}
			}
		}
	}
	return top
}

// The year's strip in millimetres: at the width of a page on a desk a
// millimetre is about four pixels and a mark about twenty.
const (
	stripWidth = 190
	laneHeight = 5.2
	markWidth  = 5.3 // of a job's mark before its bar
)

// Strip paints one row of the year.
func (p *page) Strip(c booklet.Chart, r booklet.ChartRow) template.HTML {
	p.spend(stripSteps)
	var bars []figure.Bar
	for _, b := range r.Bars {
		verb, _, _ := strings.Cut(b.Label, ",")
		bars = append(bars, figure.Bar{From: b.From, To: b.To, Mark: b.Mark, Family: b.Family, Label: verb})
	}
	return svg(figure.Strip(bars, len(c.Months), cues(c), p.palette, figure.Frame{W: stripWidth, H: laneHeight * float64(r.Lanes(markWidth/stripWidth))}), "", p.vars)
}

// Scale paints the head of the year.
func (p *page) Scale(c booklet.Chart) template.HTML {
	p.spend(drawnSteps)
	labels := c.Months
	if len(c.Short) == len(c.Months) {
		labels = c.Short
	}
	return svg(figure.Scale(labels, cues(c), p.palette, figure.Frame{W: stripWidth, H: 20}), "", p.vars)
}

func cues(c booklet.Chart) []figure.Cue {
	var out []figure.Cue
	for _, q := range c.Cues {
		out = append(out, figure.Cue{At: q.At, Name: q.Name})
	}
	return out
}

// Key explains the marks of a chart by the work they stand for.
func (p *page) Key(c booklet.Chart) block {
	for _, g := range c.Groups {
		p.spend(len(g.Rows))
	}
	var key booklet.Legend
	for _, g := range c.Groups {
		for _, r := range g.Rows {
			for _, b := range r.Bars {
				verb, _, _ := strings.Cut(b.Label, ",")
				verb = p.book.Words.Small(verb)
				i := slices.IndexFunc(key.Marks, func(m booklet.LegendMark) bool { return m.Mark == b.Mark && m.Family == b.Family })
				switch {
				case i < 0:
					key.Marks = append(key.Marks, booklet.LegendMark{Mark: b.Mark, Family: b.Family, Name: verb})
				case !slices.Contains(strings.Split(key.Marks[i].Name, ", "), verb):
					key.Marks[i].Name += ", " + verb
				}
			}
		}
	}
	return block{p, "Legend", key}
}
