package layout

import (
	"strconv"

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
	days    bool    // with a line for each garden day
}

// attempts go from the most generous to the tightest that can be read at arm's
// length: rows under 4.4 mm do not hold 10 pt.
func attempts(letter bool) []attempt {
	small, big := A4().Landscape(), A3().Landscape()
	if letter {
		small, big = Letter().Landscape(), Tabloid().Landscape()
	}
	return []attempt{
		{small, 1, 6.4, false}, {small, 1, 5.2, false}, {small, 2, 5.6, false}, {small, 2, 4.8, false}, {small, 2, 4.4, false},
		{big, 2, 7.2, false}, {big, 2, 6, false}, {big, 3, 5.2, false}, {big, 3, 4.4, false},
	}
}

// withDays are attempts on each sheet first with a line for each garden day, and then
// without: they never ask for a larger one.
func withDays(all []attempt, days bool) []attempt {
	if !days {
		return all
	}
	var out []attempt
	for i := 0; i < len(all); {
		n := i
		for n < len(all) && all[n].sheet == all[i].sheet {
			n++
		}
		for _, a := range all[i:n] {
			a.days = true
			out = append(out, a)
		}
		out = append(out, all[i:n]...)
		i = n
	}
	return out
}

// sheetDays are the garden days in words: when, how long, what. Columns of a wide
// sheet go down before the next.
func (l *layer) sheetDays(days []booklet.ChartDay, width float64) box {
	s := l.inked()
	out := box{gap: 2 * l.caption()}
	label := l.word(l.book.Words.Say("chart.days"), draw.Bold, s)
	out.items = moved(nil, label.items, 0, l.baseline(s))
	out.h = l.caption() * 1.3
	columns := max(int((width+l.gutter())/l.size(110)), 1)
	column := (width - float64(columns-1)*l.gutter()) / float64(columns)
	var number, window, hours float64
	for _, d := range days {
		number = max(number, l.word(strconv.Itoa(d.Number), draw.Bold, s).width)
		window = max(window, l.word(d.Window, draw.Body, s).width)
		hours = max(hours, l.word(d.Hours, draw.Body, s).width)
	}
	const air = 3.0 // mm
	rows := (len(days) + columns - 1) / columns
	top, y := out.h, out.h
	for i, d := range days {
		if i%rows == 0 {
			y = top
		}
		x := float64(i/rows) * (column + l.gutter())
		n := l.word(strconv.Itoa(d.Number), draw.Bold, s)
		out.items = moved(out.items, n.items, x+number-n.width, y+l.baseline(s))
		out.items = moved(out.items, l.word(d.Window, draw.Body, s).items, x+number+air, y+l.baseline(s))
		out.items = moved(out.items, l.word(d.Hours, draw.Body, s).items, x+number+window+2*air, y+l.baseline(s))
		left := number + window + hours + 3*air
		jobs := l.lines(prose.Plain(d.Jobs), l.near(), column-left)
		for j, ln := range jobs {
			out.items = moved(out.items, ln.items, x+left, y+float64(j)*l.caption()+l.baseline(s))
		}
		y += float64(max(len(jobs), 1)) * l.caption()
		out.h = max(out.h, y)
	}
	return out
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
		for _, a := range withDays(attempts(letter), len(chart.Days) > 0) {
			form := Form{Sheet: a.sheet, Scale: 1, Setting: theme.Setting{
				Sizes:   theme.Sizes{Text: 12, Leading: a.row * theme.PointsPerMM, Caption: 10, Name: 24, Title: 22, Heading: 13},
				Margins: theme.Margins{Inner: 12, Outer: 12, Head: 10, Foot: 12},
			}}
			l = newLayer(b, t, form, doc)
			boxes := l.chart(chart, l.columnWidth(a.columns))
			if a.days {
				boxes = append(boxes, l.sheetDays(chart.Days, l.columnWidth(a.columns)))
			}
			pages = l.fill(l.sheetHead(s), boxes, a.columns)
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
				line := l.word(foot, draw.Body, l.small())
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
		name := l.word(m.Name, draw.Body, l.small())
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
