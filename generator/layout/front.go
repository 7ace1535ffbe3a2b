package layout

import (
	"cmp"
	"fmt"
	"slices"

	"sheaf/generator/booklet"
	"sheaf/generator/draw"
	"sheaf/generator/prose"
)

// What leads into a booklet: the contents on one page, and the beds by their numbers.

// contents is a page: the parts in the order of their pages, the garden days with
// their windows, and all plants by common name. Where it does not hold so many names,
// the index has them.
func (l *layer) contents(s *booklet.Section) [][]Item {
	var lists [][]booklet.EntryRow
	for _, b := range s.Blocks {
		if e, ok := b.(booklet.Entries); ok {
			lists = append(lists, e.Rows)
		}
	}
	width := l.measure()
	boxes := append(l.title(s), l.parts(lists[0], false, width)...)
	if len(lists) > 1 {
		free := l.columnHeight() - height(boxes)
		if !l.form.Folds {
			free = l.columnHeight() // on a page of its own
		}
		for columns := 2; columns <= 3; columns++ {
			names := l.finder(lists[1], width, columns)
			if l.finds = names.h+names.gap <= free+slack; l.finds {
				return l.fill(box{}, append(boxes, names), 1)
			}
		}
	}
	return l.fill(box{}, append(l.title(s), l.parts(lists[0], true, width)...), 1)
}

// parts are the lines of the contents; garden days stand two side by side.
func (l *layer) parts(rows []booklet.EntryRow, index bool, width float64) []box {
	var out []box
	rows = l.byPage(slices.DeleteFunc(slices.Clone(rows), func(r booklet.EntryRow) bool {
		s := l.book.Find(r.Target)
		return s == nil || l.spare(s) || s.Kind == booklet.Index && !index || l.placed && l.pageOf[r.Target] == 0
	}))
	for i := 0; i < len(rows); {
		n := i + 1
		for n < len(rows) && rows[n].Level == 1 {
			n++
		}
		part := l.entries(rows[i:i+1], width)
		part[0].gap = 0
		out = append(out, part...)
		if under := rows[i+1 : n]; len(under) > 0 {
			out[len(out)-1].keep = true
			out = append(out, l.columns(under, width, 2, l.small()))
		}
		i = n
	}
	return out
}

// byPage sorts parts by where they came to stand, each with what is under it.
func (l *layer) byPage(rows []booklet.EntryRow) []booklet.EntryRow {
	var parts [][]booklet.EntryRow
	for _, r := range rows {
		if r.Level > 0 && len(parts) > 0 {
			parts[len(parts)-1] = append(parts[len(parts)-1], r)
		} else {
			parts = append(parts, []booklet.EntryRow{r})
		}
	}
	slices.SortStableFunc(parts, func(a, b []booklet.EntryRow) int {
		return cmp.Compare(l.pageOf[a[0].Target], l.pageOf[b[0].Target])
	})
	return slices.Concat(parts...)
}

// columns is rows of what stands where in columns, read downwards.
func (l *layer) columns(rows []booklet.EntryRow, width float64, columns int, s style) box {
	s.color = l.theme.Light.Ink
	between := l.gutter()
	wide := (width - float64(columns-1)*between) / float64(columns)
	each := (len(rows) + columns - 1) / columns
	var out box
	for c := range columns {
		y := 0.0
		for _, r := range rows[min(c*each, len(rows)):min((c+1)*each, len(rows))] {
			x := float64(c) * (wide + between)
			runs := slices.Clone(r.Runs)
			if r.Aside != "" {
				runs = append(runs, prose.Run{Text: "  " + r.Aside, Quiet: true})
			}
			lines := l.lines(runs, s, wide-l.wide("", s))
			for i, ln := range lines {
				in := 0.0
				if i > 0 {
					in = l.size(3)
				}
				out.items = moved(out.items, ln.items, x+in, y+l.baseline(s))
				y += mm(s.leading)
			}
			if ref := l.ref("", r.Target, s, x+wide, y-mm(s.leading)+l.baseline(s)); ref != nil && len(lines) > 0 {
				out.items = append(out.items, ref, Link{X: x, Y: y - float64(len(lines))*mm(s.leading), W: wide, H: float64(len(lines)) * mm(s.leading), Target: r.Target})
			}
		}
		out.h = max(out.h, y)
	}
	if columns > 1 {
		out.h = l.snap(out.h)
	}
	return out
}

// finder is all plants by their common names.
func (l *layer) finder(rows []booklet.EntryRow, width float64, columns int) box {
	title := stack(l.paragraph([]prose.Run{{Text: l.book.Words.Say("contents.finder"), Bold: true}}, l.text(), 0, width, 0))
	list := l.columns(rows, width, columns, l.small())
	title.items = moved(title.items, list.items, 0, title.h)
	title.h += list.h
	title.gap = l.grid() / 2
	return title
}

// numberWide is the column of a planting's number, in millimetres.
const numberWide = 7.0

// grown is a bed's plantings by number: names, how many, and the page.
func (l *layer) grown(rows []booklet.GrownRow, width float64) []box {
	var out []box
	s := l.small()
	s.color = l.theme.Light.Ink
	many, page := l.size(24), l.wide("", s)
	for _, r := range rows {
		runs := slices.Clone(r.Latin)
		if r.Common != "" {
			runs = append(runs, prose.Run{Text: ", " + r.Common})
		}
		x := l.size(numberWide)
		b := stack(l.paragraph(runs, s, x, width-x-many-page, 0))
		number := l.setLine([]fragment{{text: fmt.Sprint(r.Number), face: s.bold}}, s)
		b.items = moved(b.items, number.items, 0, l.baseline(s))
		count := l.word(r.Many, s.face, l.small())
		b.items = moved(b.items, count.items, width-page-count.width, b.h-mm(s.leading)+l.baseline(s))
		if ref := l.ref("", r.ID, s, width, b.h-mm(s.leading)+l.baseline(s)); ref != nil {
			b.items = append(b.items, ref, Link{X: 0, Y: 0, W: width, H: b.h, Target: r.ID})
		}
		out = append(out, b)
	}
	return out
}

// half is the title of a guide's part, with its plants in a row and, if there is room,
// by name.
func (l *layer) half(s *booklet.Section) *piece {
	l = l.another()
	p := &piece{opens: true}
	var strips []strip
	strips = append(strips, strip{set: func(uint64, bool) []box {
		boxes := l.headline(s.Title, l.display(l.form.Sizes.Heading+4), 0, l.measure(), 0)
		boxes[0].items = append(boxes[0].items, Anchor{ID: s.ID})
		b := l.under(stack(boxes))
		b.h = l.snap(b.h)
		return []box{b}
	}})
	for _, b := range s.Blocks {
		switch b := b.(type) {
		case booklet.Figure:
			bit := p.illustrate(booklet.RankOf("portrait"), pictureWorth)
			strips = append(strips, strip{bits: bit, with: bit, set: func(uint64, bool) []box {
				small := b
				small.Picture = b.Picture.Fit(l.measure(), l.size(24))
				return l.figure(small, l.measure())
			}})
		case booklet.Entries:
			bit := p.offer(booklet.RankOf("names of a part"), 20*len(b.Rows), false)
			strips = append(strips, strip{bits: bit, with: bit, set: func(uint64, bool) []box {
				return []box{l.columns(b.Rows, l.measure(), 2, l.small())}
			}})
		}
	}
	return l.stripped(s, p, strips)
}

// marked is a job's mark in a size.
func (l *layer) marked(name string, c draw.Color, size float64) draw.Picture {
	m := l.mark(name, c)
	return m.Fit(size, size)
}
