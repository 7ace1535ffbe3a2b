package layout

import (
	"sheaf/generator/booklet"
)

// The pages that are not a title and blocks: plant, back.

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
