package layout

import (
	"strings"

	"sheaf/generator/booklet"
	"sheaf/generator/draw"
	"sheaf/generator/photo"
	"sheaf/generator/prose"
	"sheaf/generator/theme"
)

// The cover: the garden's name over its plants, which stand on a line a third up and
// run off the paper at both sides; or, in a theme with frames, off its frame. It is laid
// in the page's own millimetres, and its lengths go with the width of the sheet: large
// print is a larger sheet.

// groundAt is how far down the page the plants stand.
const groundAt = 2.0 / 3

// largest is the size of the name in points on a page of A5, if it fits.
const largest = 36.0

// cover is the first page.
func (l *layer) cover(s *booklet.Section) []Item {
	items := l.openCover(s)
	if l.theme.Furniture.Cover == theme.Framed {
		items = l.framedCover(s)
	}
	// All other pages are laid from where their text begins.
	return moved([]Item{Anchor{ID: s.ID}}, items, -l.form.Margins.Inner, -l.form.Margins.Head)
}

// sheet is a length on a cover of A5, on this one.
func (l *layer) sheet(mm float64) float64 { return mm * l.form.Sheet.W / A5().W }

// atLeast is a style in a size that a cover of A5 needs, or its own if that is larger.
func (l *layer) atLeast(s style, points float64) style {
	if k := points * l.form.Sheet.W / A5().W / s.size; k > 1 {
		s.size, s.leading = s.size*k, s.leading*k
	}
	return s
}

// openCover has the name on bare paper, from the text's left edge.
func (l *layer) openCover(s *booklet.Section) []Item {
	left, w := l.form.Margins.Inner, l.measure()
	ground := l.form.Sheet.H * groundAt
	top := l.form.Sheet.H * 0.115
	name := stack(l.called(s.Title, l.theme.Light.Ink, w, l.skyline(s, l.form.Sheet.W+2*bleed, ground)-top, l.left))
	items := l.coverPicture(s, 0, l.form.Sheet.W, top+name.h+l.sheet(4), ground)
	items = moved(items, name.items, left, top)

	bottom, room := l.form.Sheet.H-l.form.Margins.Foot, w
	if p := l.theme.PrintLogo; p != nil {
		pw, ph := fitted(p.Photo, l.sheet(40), l.sheet(16))
		items = append(items, Image{X: left + w - pw, Y: bottom - ph, W: pw, H: ph, Photo: p.Photo})
		room -= pw + l.sheet(4)
	}
	var about []box
	for i, a := range l.about() {
		st := l.atLeast(l.small(), 10)
		if i == 0 {
			st = l.atLeast(l.text(), 12)
		}
		about = append(about, l.left(prose.Plain(a), st, room)...)
	}
	foot := stack(about)
	items = moved(items, foot.items, left, bottom-foot.h)
	return items
}

// framedCover has the name on a label in a double frame, within which the plants run
// from side to side, and the lines at the foot in the middle.
func (l *layer) framedCover(s *booklet.Section) []Item {
	c := l.theme.Light
	edge := l.sheet(10) // from the paper's, on all sides
	w, h := l.form.Sheet.W-2*edge, l.form.Sheet.H-2*edge
	line := l.sheet(2.2)
	in := edge + l.sheet(9)
	wide := l.form.Sheet.W - 2*in
	ground := l.form.Sheet.H * groundAt
	top := edge + l.sheet(11)
	pad := l.sheet(8.5)
	label := stack(l.called(s.Title, bare(), wide-l.sheet(14), l.skyline(s, l.form.Sheet.W-2*(edge+line), ground)-top-2*pad-l.sheet(3), l.centred))
	high := label.h + 2*pad
	items := l.coverPicture(s, edge+line, l.form.Sheet.W-2*(edge+line), top+high+l.sheet(4), ground)
	items = append(items, frame(edge, edge, w, h, l.sheet(1.1), c.Ink), frame(edge+line, edge+line, w-2*line, h-2*line, 0.3, c.Ink))
	items = append(items, card(in, top, wide, high, l.sheet(5), c.Moss))
	items = moved(items, label.items, in+l.sheet(7), top+pad)

	var about []box
	for _, a := range l.about() {
		about = append(about, l.centred(prose.Plain(a), l.atLeast(l.text(), 11), wide)...)
	}
	foot := stack(about)
	bottom := edge + h - line - l.sheet(6)
	room := bottom - ground - l.sheet(soilRoom)
	low := bottom - foot.h
	if p := l.theme.PrintLogo; p != nil {
		if ph := min(l.sheet(16), room-foot.h-l.sheet(3)); ph > l.sheet(5) {
			pw, ph := fitted(p.Photo, l.sheet(46), ph)
			low -= ph + l.sheet(3)
			items = append(items, Image{X: (l.form.Sheet.W - pw) / 2, Y: bottom - ph, W: pw, H: ph, Photo: p.Photo})
		}
	} else {
		low -= max(0, room-foot.h) / 2 // in the middle of what is left
	}
	return moved(items, foot.items, in, low)
}

// soilRoom is how far down below the plants nothing is said, on A5.
const soilRoom = 8.0

// called is the name as large as no word of it is broken and it leaves the height for
// the picture, and what the booklet is under it.
func (l *layer) called(title []prose.Run, c draw.Color, width, height float64, set func([]prose.Run, style, float64) []box) []box {
	for size := largest * l.form.Sheet.W / A5().W; ; size-- {
		name, sub := l.display(size), l.atLeast(l.aside(), 14)
		name.color, name.leading = c, size*1.1
		if c != l.theme.Light.Ink {
			sub.color = c // on a label
		}
		// What stands under a name is no larger than it.
		if k := size * 0.9 / sub.size; k < 1 {
			sub.size, sub.leading = sub.size*k, sub.leading*k
		}
		said := set(title, name, width)
		about := set(prose.Plain(l.book.Subtitle), sub, width)
		if len(about) > 0 {
			about[0].gap = l.sheet(1.5)
		}
		said = append(said, about...)
		if size <= l.form.Sizes.Caption || l.longest(title, name) <= width && stack(said).h <= height {
			return said
		}
	}
}

// longest is the width of the longest part of a text that no line may end in.
func (l *layer) longest(runs []prose.Run, s style) float64 {
	if len(runs) == 0 {
		return 0
	}
	most, from := 0.0, 0
	t := l.ready(runs, s)
	for _, b := range t.breaks {
		most = max(most, l.theme.Face(s.face).Width(strings.TrimSpace(t.whole[from:b.at]), s.size))
		from = b.at
	}
	return most
}

// about are the lines of the cover that say for whom and by whom it is, and when.
func (l *layer) about() []string {
	var out []string
	if l.book.For != "" {
		out = append(out, l.book.Words.Say("booklet.for", "for", l.book.For))
	}
	if l.book.By != "" {
		out = append(out, l.book.Words.Say("booklet.made by", "by", l.book.By))
	}
	return append(out, l.book.Date)
}

// left sets a paragraph with each line at the left.
func (l *layer) left(runs []prose.Run, s style, width float64) []box {
	return l.ranged(runs, s, width, 0)
}

// centred sets a paragraph with each line in the middle.
func (l *layer) centred(runs []prose.Run, s style, width float64) []box {
	return l.ranged(runs, s, width, 0.5)
}

// ranged sets a paragraph in lines that are as even as can be in no more lines than
// need be, with the share of what they leave free before them.
func (l *layer) ranged(runs []prose.Run, s style, width, share float64) []box {
	set := l.lines(runs, s, width)
	longest := l.longest(runs, s)
	for narrow := width * 0.97; narrow > longest && len(set) > 1; narrow *= 0.97 {
		even := l.lines(runs, s, narrow)
		if len(even) > len(set) {
			break
		}
		set = even
	}
	var out []box
	for _, ln := range set {
		out = append(out, box{h: mm(s.leading), items: moved(nil, ln.items, (width-ln.width)*share, l.baseline(s))})
	}
	return out
}

// coverPicture is what stands on the cover's ground, from left for a width: the plants,
// which are cut at both ends, or the theme's photograph, under top.
func (l *layer) coverPicture(s *booklet.Section, left, width, top, ground float64) []Item {
	if ground-top < l.sheet(15) {
		return nil // a name that fills the cover
	}
	if p := l.theme.Cover; p != nil {
		// From edge to edge, if it is sharp and not too tall; never over them, as
		// photographs are not cut.
		bottom := ground + l.sheet(soilRoom)
		w, h := fitted(p.Photo, width, bottom-top)
		x := left + (width-w)/2
		if w < width && l.theme.Furniture.Cover != theme.Framed {
			w, h = fitted(p.Photo, l.measure(), bottom-top)
			x = l.form.Margins.Inner
		}
		return []Item{Image{X: x, Y: bottom - h, W: w, H: h, Photo: p.Photo}}
	}
	var out []Item
	for _, b := range s.Blocks {
		if f, ok := b.(booklet.Figure); ok {
			over := 0.0
			if width == l.form.Sheet.W {
				over = bleed
			}
			p := f.Picture.Fit(width+2*over, l.form.Sheet.H)
			out = append(out, Picture{X: left - over, Y: ground - p.H*f.Ground, Picture: p})
		}
	}
	return out
}

// skyline is how far down the page the tallest plants end, or might in a picture.
func (l *layer) skyline(s *booklet.Section, width, ground float64) float64 {
	for _, b := range s.Blocks {
		if f, ok := b.(booklet.Figure); ok {
			return ground - f.Picture.H*f.Ground*width/f.Picture.W
		}
	}
	return ground - width/2
}

// bleed is how far a picture runs over the paper's edge, which a printer who trims the
// pages asks for.
const bleed = 3.0

// fitted is the size of a photograph within a width and a height, and never
// coarser than 100 points to the inch.
func fitted(p *photo.Photo, w, h float64) (float64, float64) {
	pw, ph := p.Size()
	wide := min(w, h*float64(pw)/float64(ph), float64(pw)*25.4/100)
	return wide, wide * float64(ph) / float64(pw)
}
