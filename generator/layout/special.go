package layout

import (
	"sheaf/generator/booklet"
	"sheaf/generator/prose"
	"sheaf/generator/theme"
)

// The pages that are not a title and blocks: cover, plant, back.

// cover is the garden's name over the row of all its plants.
func (l *layer) cover(s *booklet.Section) []Item {
	if l.theme.Furniture.Cover == theme.Framed {
		return l.framed(s)
	}
	w := l.measure()
	items := []Item{Anchor{ID: s.ID}}
	y := l.size(26)
	put := func(runs []prose.Run, st style) {
		for _, ln := range l.lines(runs, st, w) {
			items = moved(items, ln.items, 0, y+l.baseline(st))
			y += mm(st.leading)
		}
	}
	put(s.Title, l.display(l.form.Sizes.Name*min(1.5, 48/l.form.Sizes.Name)))
	y += 2
	put(prose.Plain(l.book.Subtitle), l.aside())
	ground := l.columnHeight() - l.size(34)
	items = append(items, l.coverPicture(s, w, w, ground-l.size(80), ground)...)
	y = l.columnHeight() - l.size(22)
	for _, a := range l.about() {
		put(prose.Plain(a), l.text())
	}
	if p := l.theme.PrintLogo; p != nil {
		pw, ph := fitted(p.Photo, l.size(40), l.size(16))
		items = append(items, Image{X: w - pw, Y: l.columnHeight() - ph, W: pw, H: ph, Photo: p.Photo})
	}
	return items
}

// back is the last page: contacts, and where to read the booklet on a screen.
func (l *layer) back(s *booklet.Section) []Item {
	w := l.measure()
	boxes := l.blocks(s.Blocks, w)
	b := stack(boxes)
	items := []Item{Anchor{ID: s.ID}}
	title := stack(l.paragraph(s.Title, l.heading(), 0, w, 0))
	y := max(l.columnHeight()-b.h-title.h-10, 0)
	items = append(items, rule(0, y, w, 0.2, l.theme.Light.Hairline))
	items = moved(items, title.items, 0, y+4)
	return moved(items, b.items, 0, y+4+title.h+2)
}
