package layout

import (
	"strings"

	"sheaf/generator/booklet"
	"sheaf/generator/draw"
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

// density is how closely a plant's work is set, so that it keeps to a spread.
type density int

const (
	full    density = iota // every job with its picture
	leading                // only the first job with a picture
	close                  // and the facts of the others run on
	closest                // and those of the first too
	tight                  // and with less air between
)

// plantBoxes sets a plant: portrait beside the names, then its work. What is
// not due in this booklet is always set close.
func (l *layer) plantBoxes(s *booklet.Section, d density) []box {
	var out []box
	works := 0
	for _, b := range s.Blocks {
		switch b := b.(type) {
		case booklet.Portrait:
			out = append(out, l.portrait(s, b)...)
			if b.Photo != nil {
				out = append(out, l.photograph(b.Photo, d)...)
			}
		case booklet.Work:
			how := d
			switch works++; {
			case b.Later:
				how = close
			case works == 1 && d < closest:
				how = full
			case works > 1 && d >= closest:
				how = close
			case d == tight:
				how = closest
			}
			out = append(out, l.work(b, l.measure(), how)...)
		default:
			out = append(out, l.block(b, l.measure())...)
		}
	}
	if n := len(out); n > 0 {
		out[n-1].keep = false
	}
	if d == tight {
		for i := range out {
			out[i].gap /= 2
		}
	}
	return out
}

// portrait is the head of a plant's page.
func (l *layer) portrait(s *booklet.Section, p booklet.Portrait) []box {
	gap := l.size(6)
	w := l.measure()
	p.Picture = l.sized(p.Picture)
	left := p.Picture.W
	right := w - left - gap
	// A long word must not break: the name is set as large as it allows.
	size := l.form.Sizes.Name
	for ; size > l.form.Sizes.Heading; size -= 0.5 {
		if l.widest(s.Title, l.display(size)) <= right {
			break
		}
	}
	boxes := l.paragraph(s.Title, l.display(size), 0, right, 0)
	if s.Aside != prose.String(s.Title) {
		boxes = append(boxes, l.paragraph(prose.Plain(s.Aside), l.aside(), 0, right, 0)...)
	}
	if p.Where != nil {
		boxes = append(boxes, l.paragraph(prose.Plain(strings.Join(p.Where, "; ")+"."), l.small(), 0, right, l.grid()/4)...)
	}
	names := stack(boxes)
	b := box{items: []Item{Anchor{ID: s.ID}, Picture{Picture: p.Picture}}, keep: true}
	b.items = moved(b.items, names.items, left+gap, 0)
	b.h = max(p.Picture.H, names.h) + 1
	// What it looks like stands beside the picture if it fits there, and under
	// it, across the page, if it does not.
	about := l.described(p, right)
	if h := names.h + 2 + height(about); h <= p.Picture.H+l.grid() {
		b.items = moved(b.items, stack(about).items, left+gap, names.h+2)
		b.h = max(b.h, h)
		b = l.under(b)
		b.h = l.snap(b.h)
		return []box{b}
	}
	b = l.under(b)
	b.h = l.snap(b.h)
	return append([]box{b}, l.described(p, w)...)
}

// photograph is a photo across the page with its words below, the smaller the
// closer the page is set, and never coarser than 100 points to the inch.
func (l *layer) photograph(p *booklet.Photo, d density) []box {
	tallest := l.size([...]float64{full: 70, leading: 60, close: 48, closest: 36, tight: 24}[d])
	pw, ph := p.Picture.Size()
	w := min(l.measure(), tallest*float64(pw)/float64(ph), float64(pw)*25.4/100)
	h := w * float64(ph) / float64(pw)
	b := box{h: h + 1, gap: l.grid() / 2, keep: true, items: []Item{Image{W: w, H: h, Photo: p.Picture}}}
	return append([]box{b}, l.voice(booklet.Text{Runs: prose.Plain(p.Caption), Role: booklet.Small}, l.measure())...)
}

// described is what a plant looks like, and its other names.
func (l *layer) described(p booklet.Portrait, width float64) []box {
	return append(l.paragraph(p.Look, l.text(), 0, width, 0),
		l.voice(booklet.Text{Runs: prose.Plain(strings.Join(p.Names, " ")), Role: booklet.Small}, width)...)
}

func details(rows []booklet.Detail) []booklet.Fact {
	var out []booklet.Fact
	for _, r := range rows {
		out = append(out, r.Fact)
	}
	return out
}

// widest is the width of the longest word.
func (l *layer) widest(runs []prose.Run, s style) float64 {
	most := 0.0
	for _, word := range strings.Fields(prose.String(runs)) {
		most = max(most, l.theme.Face(s.italic).Width(word, s.size))
	}
	return most
}

// work is one job of a plant: what, when and how much in large, a picture
// beside it, then the facts.
func (l *layer) work(w booklet.Work, width float64, d density) []box {
	color := l.theme.Light.Family(w.Family)
	left := width
	if d == leading || d == close {
		w.Picture = nil
	}
	if w.Picture != nil {
		p := l.sized(*w.Picture)
		w.Picture = &p
		left -= p.W + l.size(4)
	}
	verb := l.heading()
	verb.face, verb.color = draw.Bold, color
	from, room, top := 0.0, left, 0.0
	band := l.theme.Furniture.Work == theme.Band
	if band {
		verb.color, from, room = bare(), l.size(1.5), width-l.size(1.5)
	}
	x := from + l.size(markSize+2.5)
	boxes := l.headline([]prose.Run{{Text: w.Verb, Link: "#" + w.Job}}, verb, x, room-x, 0)
	boxes[0].items = append(boxes[0].items, Picture{X: from, Y: (boxes[0].h - l.size(markSize)) / 2, Picture: l.mark(w.Mark, verb.color)})
	if band {
		on := banded(boxes, width, l.size(0.4), color)
		top = on.h + l.size(1)
		on.h = top
		boxes = []box{on}
	}
	// A note may forbid the job: it stands before the dates.
	for _, n := range w.Notes {
		runs := append([]prose.Run{{Text: n.Label + ": ", Bold: true}}, n.Text...)
		boxes = append(boxes, l.paragraph(runs, l.text(), 0, left, 0)...)
	}
	when := l.heading()
	if w.Later {
		when = l.text()
	}
	for _, t := range w.When {
		boxes = append(boxes, l.paragraph(prose.Plain(t), when, 0, left, 0)...)
	}
	if w.Amount != "" {
		boxes = append(boxes, l.paragraph(prose.Plain(w.Amount+"."), l.text(), 0, left, 0)...)
	}
	head := stack(boxes)
	if w.Picture != nil {
		head.items = append(head.items, Picture{X: width - w.Picture.W, Y: top, Picture: *w.Picture})
		head.h = max(head.h, top+w.Picture.H)
	}
	if !band {
		head.items = append(moved(nil, head.items, 0, 1.5), rule(0, 0, width, 0.35, color))
	}
	head.h, head.gap, head.keep = l.snap(head.h+2), l.grid()/2, true
	var facts []box
	if d >= close {
		var runs []prose.Run
		for _, r := range w.Rows {
			runs = append(runs, prose.Run{Text: r.Label + ": ", Bold: true})
			runs = append(runs, r.Text...)
			runs = append(runs, prose.Run{Text: " "})
		}
		facts = l.paragraph(runs, l.text(), 0, width, 0)
	} else {
		facts = l.facts(details(w.Rows), width, l.size(workLabel))
	}
	if w.Terms != "" {
		if n := len(facts); n > 0 {
			facts[n-1].keep = true // tools and time do not begin a page
		}
		facts = append(facts, l.voice(booklet.Text{Runs: prose.Plain(w.Terms), Role: booklet.Small}, width)...)
	}
	if len(facts) > 0 {
		facts[0].gap = 0
	}
	return append([]box{head}, facts...)
}
