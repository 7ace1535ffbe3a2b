package layout

import (
	"sheaf/generator/booklet"
	"sheaf/generator/draw"
	"sheaf/generator/prose"
	"sheaf/generator/source"
	"sheaf/generator/theme"
	"sheaf/generator/words"
)

// The year sheet: every plant's year on one sheet for the shed door.

// attempt is one way to fit the year on a sheet.
type attempt struct {
	sheet   Sheet
	columns int
	row     float64 // least height of a row, in millimetres
}

// attempts go from the most generous to the tightest that can be read at arm's
// length: rows under 4.4 mm do not hold 10 pt.
func attempts(letter bool) []attempt {
	small, big := A4().Landscape(), A3().Landscape()
	if letter {
		small, big = Letter().Landscape(), Tabloid().Landscape()
	}
	return []attempt{
		{small, 1, 6.4}, {small, 1, 5.2}, {small, 2, 5.6}, {small, 2, 4.8}, {small, 2, 4.4},
		{big, 2, 7.2}, {big, 2, 6}, {big, 3, 5.2}, {big, 3, 4.4},
	}
}

// YearSheet lays the year's chart on one sheet, the smallest that holds it in
// rows that can be read. A garden too large for the big sheet goes on to a
// second one, and each says so.
func YearSheet(b *booklet.Book, t *theme.Theme, letter bool) (*Pages, source.Diagnostics) {
	doc := &Pages{Title: b.Words.Say("print.sheet title", "garden", b.Title), Author: b.By, Subject: b.Words.Say("print.sheet subject", "garden", b.Title), Lang: b.Lang}
	var found source.Diagnostics
	for _, s := range b.Of(booklet.Year) {
		var chart booklet.Chart
		for _, bl := range s.Blocks {
			if c, ok := bl.(booklet.Chart); ok {
				chart = c
			}
		}
		var l *layer
		var pages [][]Item
		for _, a := range attempts(letter) {
			form := Form{Sheet: a.sheet, Scale: 1, Setting: theme.Setting{
				Sizes:   theme.Sizes{Text: 12, Leading: a.row * theme.PointsPerMM, Caption: 10, Name: 24, Title: 22, Heading: 13},
				Margins: theme.Margins{Inner: 12, Outer: 12, Head: 10, Foot: 12},
			}}
			l = newLayer(b, t, form, doc)
			pages = l.fill(l.sheetHead(s), l.chart(chart, l.columnWidth(a.columns)), a.columns)
			if len(pages) == 1 {
				break
			}
		}
		found = append(found, l.found()...)
		for i, items := range pages {
			foot := ""
			if len(pages) > 1 {
				foot = sheetOf(i+1, len(pages), b.Words)
			}
			p := Page{W: l.form.Sheet.W, H: l.form.Sheet.H}
			p.Items = moved(p.Items, items, l.form.Margins.Inner, l.form.Margins.Head)
			if foot != "" {
				line := l.setLine([]fragment{{text: foot, face: draw.Body}}, l.small())
				p.Items = moved(p.Items, line.items, l.form.Sheet.W-l.form.Margins.Outer-line.width, l.form.Sheet.H-9.5)
			}
			doc.Pages = append(doc.Pages, p)
		}
	}
	return doc, found
}

func sheetOf(n, all int, w *words.Words) string {
	if n < all {
		return w.Say("print.sheet", "n", n, "all", all)
	}
	return w.Say("print.last sheet", "n", n, "all", all)
}

// sheetHead is the garden's name, the year and the marks.
func (l *layer) sheetHead(s *booklet.Section) box {
	title := l.paragraph(append(prose.Plain(l.book.Title+": "), s.Title...), l.display(l.form.Sizes.Title), 0, l.measure(), 0)
	head := stack(title)
	// The marks in rows across the sheet, with their names.
	var marks []booklet.LegendMark
	for i := range l.book.Sections {
		for _, bl := range l.book.Sections[i].Blocks {
			if lg, ok := bl.(booklet.Legend); ok {
				marks = lg.Marks
			}
		}
	}
	x, y := 0.0, head.h+1.5
	for _, m := range marks {
		name := l.setLine([]fragment{{text: m.Name, face: draw.Body}}, l.small())
		wide := markSize + 1.5 + name.width + 6
		if x+wide-6 > l.measure() && x > 0 {
			x, y = 0, y+markSize+1.5
		}
		head.items = append(head.items, Picture{X: x, Y: y, Picture: l.mark(m.Mark, l.theme.Light.Family(m.Family))})
		head.items = moved(head.items, name.items, x+markSize+1.5, y+markSize*0.7)
		x += wide
	}
	head.h = y + markSize + 3
	return head
}
