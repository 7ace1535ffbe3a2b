package layout

import (
	"math"
	"strings"

	"sheaf/generator/booklet"
	"sheaf/generator/draw"
	"sheaf/generator/figure"
	"sheaf/generator/prose"
	"sheaf/generator/theme"
)

// A plant's page: portrait beside the names, then its work, a rule and a line for each
// job with its window, and one paragraph of what there is to say.

// A strip is part of a piece: its boxes with some of its own options.
type strip struct {
	bits uint64 // of the piece's options, those that are its own
	set  func(chosen uint64, alone bool) []box
	with uint64 // left out unless one of these is chosen; 0: always there
	// tall is the height of what set gives, for strips that are tried often and whose
	// boxes have no gap before them; below 0 where it must be set to be known, nil where
	// it always must.
	tall func(chosen uint64, alone bool) float64
}

// stripped makes a piece of strips. What one of them looks like hangs on its own
// options alone, and is set once for each choice of them.
func (l *layer) stripped(s *booklet.Section, p *piece, strips []strip) *piece {
	p.section = s
	known := make([]map[variant][]box, len(strips))
	of := func(i int, chosen uint64, alone bool) []box {
		st := strips[i]
		if st.with != 0 && chosen&st.with == 0 {
			return nil
		}
		v := variant{chosen & st.bits, alone}
		boxes, ok := known[i][v]
		if !ok {
			if known[i] == nil {
				known[i] = map[variant][]box{}
			}
			boxes = st.set(v.chosen, alone)
			known[i][v] = boxes
		}
		return boxes
	}
	p.set = func(chosen uint64, alone bool) []box {
		var out []box
		for i := range strips {
			out = append(out, of(i, chosen, alone)...)
		}
		return out
	}
	p.tall = func(chosen uint64, alone bool) float64 {
		h := 0.0
		for i, st := range strips {
			if st.tall != nil {
				if own := st.tall(chosen&st.bits, alone); own >= 0 {
					h += own
					continue
				}
			}
			if boxes := of(i, chosen, alone); len(boxes) > 0 {
				if h > 0 {
					h += boxes[0].gap
				}
				h += height(boxes)
			}
		}
		return h
	}
	return p
}

// plant makes the piece of a plant.
func (l *layer) plant(s *booklet.Section) *piece {
	l = l.another()
	p := &piece{}
	var strips []strip
	fixed := func(set func(alone bool) []box) {
		strips = append(strips, strip{set: func(_ uint64, alone bool) []box { return set(alone) }})
	}
	var warn []prose.Run
	flush := func() {
		if warn == nil {
			return
		}
		runs := warn
		warn = nil
		fixed(func(bool) []box { return l.voice(booklet.Text{Runs: runs, Role: booklet.Warn}, l.measure()) })
	}
	var heading *booklet.Heading
	rank := func(i int) booklet.Rank {
		if i < len(s.Ranks) {
			return s.Ranks[i]
		}
		return booklet.Always
	}
	for i, b := range s.Blocks {
		if t, ok := b.(booklet.Text); ok && t.Role == booklet.Warn && rank(i) == booklet.Always {
			if warn != nil {
				warn = append(warn, prose.Run{Text: " "})
			}
			warn = append(warn, t.Runs...)
			heading = nil // a bar says as much
			continue
		}
		if h, ok := b.(booklet.Harm); ok && rank(i) == booklet.Always {
			if warn != nil {
				warn = append(warn, prose.Run{Text: " "})
			}
			warn = append(warn, prose.Run{Text: l.harm(h)})
			heading = nil
			continue
		}
		flush()
		switch b := b.(type) {
		case booklet.Portrait:
			photo := uint64(0)
			if b.Photo != nil {
				photo = p.illustrate(booklet.RankOf("photograph"), photoWorth)
			}
			large := p.illustrate(booklet.RankOf("portrait"), portraitWorth)
			strips = append(strips, strip{bits: large | photo, set: func(chosen uint64, alone bool) []box {
				return l.portrait(s, b, alone, chosen&large != 0, photo == 0 || chosen&photo != 0)
			}})
			if photo != 0 {
				strips = append(strips, strip{bits: photo, with: photo, set: func(uint64, bool) []box { return l.photograph(b.Photo) }})
			}
		case booklet.Work:
			strips = append(strips, l.workStrips(b, p)...)
		case booklet.Heading:
			heading = &b
			continue
		default:
			if r := rank(i); r > booklet.Always {
				strips = append(strips, l.optional(heading, b, r, p)...)
				break
			}
			if facts, ok := b.(booklet.Facts); ok {
				h := heading
				fixed(func(bool) []box { return l.noted(h, facts) })
				break
			}
			if h := heading; h != nil {
				fixed(func(bool) []box { return l.block(*h, l.measure()) })
			}
			fixed(func(bool) []box { return l.block(b, l.measure()) })
		}
		heading = nil
	}
	flush()
	return l.stripped(s, p, strips)
}

// harm is what a plant can do: in a few words where another page has it in full.
func (l *layer) harm(h booklet.Harm) string {
	if h.At == "" || l.book.Left[h.At] {
		return strings.Join(h.Full, " ")
	}
	return h.Short
}

// noted is what the place changes, or a member does otherwise: a heading runs into
// what follows it, nil for none.
func (l *layer) noted(h *booklet.Heading, f booklet.Facts) []box {
	var out []box
	for i, r := range f.Rows {
		var runs []prose.Run
		if i == 0 && h != nil {
			for _, run := range h.Runs {
				run.Bold = true
				runs = append(runs, run)
			}
			runs = append(runs, prose.Run{Text: " "})
		}
		runs = append(runs, prose.Run{Text: r.Label + "  ", Quiet: true})
		gap := 0.0
		if i == 0 {
			gap = l.grid() / 2
		}
		out = append(out, l.paragraph(append(runs, r.Text...), l.text(), 0, l.measure(), gap)...)
	}
	return out
}

// photoWorth is what a photograph is worth, in letters.
const photoWorth = 300

// optional are the strips of a block that may be left out: of a list each item for
// itself. Facts are one paragraph, into which their heading runs.
func (l *layer) optional(h *booklet.Heading, b booklet.Block, r booklet.Rank, p *piece) []strip {
	var out []strip
	offer := func(letters int, set func() []box) {
		if bit := p.offer(r, letters, false); bit != 0 {
			out = append(out, strip{bits: bit, with: bit, set: func(uint64, bool) []box { return set() }})
		}
	}
	switch b := b.(type) {
	case booklet.List:
		for _, item := range b.Items {
			one := booklet.List{Items: [][]prose.Run{item}}
			offer(len(prose.String(item)), func() []box { return l.list(one, l.measure()) })
		}
	case booklet.Facts:
		if r == booklet.Reasons { // tools
			offer(letters(b), func() []box { return l.noted(nil, b) })
			break
		}
		var runs []prose.Run
		if h != nil {
			for _, run := range h.Runs {
				run.Bold = true
				runs = append(runs, run)
			}
		}
		for _, row := range b.Rows {
			if runs != nil {
				runs = append(runs, prose.Run{Text: " "})
			}
			runs = append(append(runs, prose.Run{Text: row.Label + "  ", Quiet: true}), row.Text...)
		}
		offer(letters(b), func() []box { return l.paragraph(runs, l.text(), 0, l.measure(), l.grid()/4) })
	default:
		offer(letters(b), func() []box { return l.block(b, l.measure()) })
	}
	return out
}

// letters is how much a block says.
func letters(b booklet.Block) int {
	switch b := b.(type) {
	case booklet.Text:
		return len(prose.String(b.Runs))
	case booklet.Facts:
		n := 0
		for _, r := range b.Rows {
			n += len(r.Label) + len(prose.String(r.Text))
		}
		return n
	}
	return 100
}

// workStrips are one job of a plant: its head and notes, which are always there, and
// its options: what is said of it beyond what must be, its tools and times, its picture.
func (l *layer) workStrips(w booklet.Work, p *piece) []strip {
	var body strip
	type group struct {
		runs []prose.Run
		bit  uint64 // 0: always
	}
	var groups []group
	for _, s := range saidOf(w) {
		g := group{runs: s.runs}
		if s.rank > booklet.Always {
			if g.bit = p.offer(s.rank, s.letters, s.rank < booklet.Reasons); g.bit == 0 {
				continue
			}
			body.bits |= g.bit
		}
		groups = append(groups, g)
	}
	picture := uint64(0)
	if w.Picture != nil && !w.Later {
		picture = p.illustrate(booklet.RankOf("drawing of work"), pictureWorth)
		body.bits |= picture
	}
	says := func(chosen uint64) [][]prose.Run {
		var said [][]prose.Run
		for _, g := range groups {
			if g.bit == 0 || chosen&g.bit != 0 {
				said = append(said, g.runs)
			}
		}
		return said
	}
	heights := map[uint64]float64{}
	body.tall = func(chosen uint64, _ bool) float64 {
		if chosen&picture != 0 {
			return -1
		}
		h, ok := heights[chosen]
		if !ok {
			h = l.flow(says(chosen), l.text(), l.measure())
			heights[chosen] = h
		}
		return h
	}
	body.set = func(chosen uint64, _ bool) []box {
		said := says(chosen)
		var pic *draw.Picture
		if chosen&picture != 0 {
			pic = w.Picture
		}
		return l.workBody(said, pic, l.measure())
	}
	head := strip{set: func(_ uint64, alone bool) []box {
		return append([]box{l.workHead(w, l.measure(), alone)}, l.workNotes(w, l.measure())...)
	}}
	return []strip{head, body}
}

// pictureWorth is what the drawing of a job is worth, in letters.
const pictureWorth = 120

// Frames of portraits in print, in millimetres: on a page of its own, on one that is
// shared, and where even that has no room.
const (
	wideAlone, highAlone   = 50.0, 42.0
	wideShared, highShared = 38.0, 25.0
	wideLeast, highLeast   = 30.0, 17.5
)

// portraitWorth is what it is worth to see a plant larger, in letters.
const portraitWorth = 40

// portrait is the head of a plant's page: the drawing at the left, beside it its
// names, where it stands and, as far as there is room, what it looks like.
func (l *layer) portrait(s *booklet.Section, p booklet.Portrait, alone, large, drawing bool) []box {
	gap := l.size(6)
	w := l.measure()
	wide, high, largest := l.size(wideLeast), l.size(highLeast), l.form.Sizes.Heading+2
	switch {
	case alone && large:
		wide, high, largest = l.size(wideAlone), l.size(highAlone), l.form.Sizes.Name
	case large:
		wide, high = l.size(wideShared), l.size(highShared)
	}
	frame := figure.Frame{W: wide / l.form.Scale, H: high / l.form.Scale}
	right := w - wide - gap
	// A long word must not break: the name is set as large as it allows.
	size := largest
	for ; size > l.form.Sizes.Text; size -= 0.5 {
		if l.widest(s.Title, l.display(size)) <= right && len(l.lines(s.Title, l.display(size), right)) <= 3 {
			break
		}
	}
	boxes := l.paragraph(s.Title, l.display(size), 0, right, 0)
	if s.Aside != prose.String(s.Title) {
		aside := l.aside()
		aside.leading = l.form.Sizes.Leading
		boxes = append(boxes, l.paragraph(prose.Plain(s.Aside), aside, 0, right, 0)...)
	}
	if p.Where != nil {
		boxes = append(boxes, l.paragraph(prose.Plain(strings.Join(p.Where, "; ")+"."), l.small(), 0, right, l.grid()/4)...)
	}
	names := stack(boxes)
	room := l.snap(max(high, names.h))
	var look []box
	tells := 0 // how many of the ways to tell it, from the longest
	for i, runs := range l.asLong(p) {
		next := l.paragraph(runs, l.text(), 0, right, 0)
		if l.form.Chosen != nil && l.form.Chosen[lookOf(s.ID)] == uint64(i+1) || l.form.Chosen == nil && names.h+height(next) <= room {
			look, tells = next, i+1
			break
		}
	}
	seat := sitting{Y: max(room-l.size(0.5)-high, 0), id: s.ID, portrait: p, frame: frame, tells: tells}
	var caption []box
	if p.Photo != nil && !drawing {
		// There is no room for it across the page: it stands where the drawing would.
		pw, ph := fitted(p.Photo.Picture, wide, high)
		seat.photo = &Image{X: (wide - pw) / 2, Y: high - ph, W: pw, H: ph, Photo: p.Photo.Picture}
		caption = l.captioned(p.Photo)
	}
	b := box{items: []Item{Anchor{ID: s.ID}, seat}, keep: true}
	b.items = moved(b.items, names.items, wide+gap, 0)
	b.items = moved(b.items, stack(look).items, wide+gap, names.h)
	b.h = max(high, names.h+height(look))
	b = l.under(b)
	b.h = l.snap(b.h)
	return append([]box{b}, caption...)
}

// A sitting is the place of a portrait, until it is known with whom it shares a page.
type sitting struct {
	X, Y     float64
	id       string // of the plant's section
	tells    int    // which of the texts on what it looks like stands beside it, from 1
	portrait booklet.Portrait
	frame    figure.Frame
	photo    *Image // in place of the drawing, from its corner; nil: none
}

func (sitting) item() {}

// lookOf is under what it is noted which text on a plant's look was printed.
func lookOf(id string) string { return id + " look" }

// farApart is how many times as large one plant may be as another of its page before
// each is drawn to a scale of its own: below it the small one still shows what it is.
const farApart = 1.8

// drawn puts the portraits of a page in their places, at one scale where that serves
// all of them.
func (l *layer) drawn(boxes []box) {
	least, most := math.Inf(1), 0.0
	each := func(do func(at *Item, s sitting)) {
		for i := range boxes {
			for k := range boxes[i].items {
				if s, ok := boxes[i].items[k].(sitting); ok {
					do(&boxes[i].items[k], s)
				}
			}
		}
	}
	each(func(_ *Item, s sitting) {
		if s.portrait.Drawn != nil && s.photo == nil {
			_, scale := s.portrait.Drawn(s.frame, 0)
			least, most = min(least, scale), max(most, scale)
		}
	})
	if most > farApart*least {
		least = 0
	}
	each(func(at *Item, s sitting) {
		l.chosen(lookOf(s.id), uint64(s.tells))
		if s.photo != nil {
			*at = shift(*s.photo, s.X, s.Y)
			return
		}
		pic := s.portrait.Picture.Fit(s.frame.W, s.frame.H)
		if s.portrait.Drawn != nil {
			pic, _ = s.portrait.Drawn(s.frame, least)
		}
		*at = Picture{X: s.X, Y: s.Y, Picture: l.sized(pic)}
	})
}

// asLong is what a plant looks like and its other names, whole, then without its last
// sentences one by one: beside the portrait there is room for some of it.
func (l *layer) asLong(p booklet.Portrait) [][]prose.Run {
	var out [][]prose.Run
	whole := p.Look
	if p.Names != nil {
		out = append(out, append(append([]prose.Run{}, whole...), prose.Run{Text: " " + strings.Join(p.Names, " "), Quiet: true}))
	}
	for whole = append([]prose.Run{}, whole...); len(whole) > 0; {
		out = append(out, whole)
		whole = shorter(whole)
	}
	return out
}

// shorter is a text without its last sentence.
func shorter(runs []prose.Run) []prose.Run {
	for i := len(runs) - 1; i >= 0; i-- {
		text := strings.TrimRight(runs[i].Text, " ")
		if i == len(runs)-1 {
			text = strings.TrimRight(text, ".!?")
		}
		if at := strings.LastIndexAny(text, ".!?"); at >= 0 && (at+1 == len(text) || text[at+1] == ' ') {
			out := append([]prose.Run{}, runs[:i+1]...)
			out[i].Text = text[:at+1]
			return out
		}
	}
	return nil
}

// photograph is a photo across the page with its words below, never coarser than 100
// points to the inch.
func (l *layer) photograph(p *booklet.Photo) []box {
	pw, ph := p.Picture.Size()
	w := min(l.measure(), l.size(52)*float64(pw)/float64(ph), float64(pw)*25.4/100)
	h := w * float64(ph) / float64(pw)
	b := box{h: h + 1, gap: l.grid() / 2, keep: true, items: []Item{Image{W: w, H: h, Photo: p.Picture}}}
	return append([]box{b}, l.captioned(p)...)
}

// captioned are the words below a photograph.
func (l *layer) captioned(p *booklet.Photo) []box {
	return l.voice(booklet.Text{Runs: prose.Plain(p.Caption), Role: booklet.Small}, l.measure())
}

// widest is the width of the longest word.
func (l *layer) widest(runs []prose.Run, s style) float64 {
	most := 0.0
	for _, word := range strings.Fields(prose.String(runs)) {
		most = max(most, l.theme.Face(s.italic).Width(word, s.size))
	}
	return most
}

// work is one job of a plant, all of it.
func (l *layer) work(w booklet.Work, width float64) []box {
	var said [][]prose.Run
	for _, s := range saidOf(w) {
		said = append(said, s.runs)
	}
	boxes := append([]box{l.workHead(w, width, false)}, l.workNotes(w, width)...)
	return append(boxes, l.workBody(said, w.Picture, width)...)
}

// workHead begins a job of a plant: under a rule of its colour the mark, the job, its window
// and its garden days, with the page of the how-to at the right.
func (l *layer) workHead(w booklet.Work, width float64, alone bool) box {
	color := l.theme.Light.Family(w.Family)
	band := l.theme.Furniture.Work == theme.Band
	verb, label := l.heading(), l.small()
	verb.face, verb.bold, verb.leading = draw.Heading, draw.Bold, l.form.Sizes.Leading
	verb.size = l.form.Sizes.Text
	if alone {
		verb.size++
	}
	from := 0.0
	if band {
		from, color = l.size(1.5), bare()
		verb.color, verb.quiet, label.color = color, color, color
	}
	mark := l.size(markInLine)
	x := from + mark + l.size(1.5)
	ref := l.ref("page", w.Job, label, width-from, 0)
	runs := []prose.Run{{Text: w.Verb, Bold: true, Link: "#" + w.Job}}
	if len(w.When) > 0 {
		runs = append(runs, prose.Run{Text: "  " + strings.Join(w.When, "; ")})
	}
	for i, d := range w.Days {
		before := "  "
		if i > 0 {
			before = ", "
		}
		runs = append(runs, prose.Run{Text: before + strings.ReplaceAll(d.Text, " ", "\u00a0"), Quiet: true, Link: "#" + d.ID})
	}
	boxes := l.headline(runs, verb, x, width-x-l.wide("page", label), 0)
	for i := range boxes {
		recoloured(boxes[i].items, draw.Bold, color)
	}
	boxes[0].items = append(boxes[0].items, Picture{X: from, Y: (boxes[0].h - mark) / 2, Picture: l.marked(w.Mark, color, mark)})
	if ref != nil {
		boxes[0].items = moved(boxes[0].items, []Item{ref}, 0, l.baseline(verb))
	}
	head := stack(boxes)
	if band {
		head = banded([]box{head}, width, l.size(0.3), l.theme.Light.Family(w.Family))
		head.h += l.size(0.6)
	} else {
		head.items = append(moved(nil, head.items, 0, l.size(0.7)), rule(0, 0, width, 0.35, color))
		head.h += l.size(0.7)
	}
	head.gap, head.keep = l.grid()/4, true
	if alone {
		head.gap = l.grid() / 2
	}
	return head
}

// workNotes are what the place changes: one may forbid the job, so they stand before
// all else.
func (l *layer) workNotes(w booklet.Work, width float64) []box {
	var out []box
	for _, n := range w.Notes {
		out = append(out, l.paragraph(append([]prose.Run{{Text: n.Label + ": ", Bold: true}}, n.Text...), l.text(), 0, width, 0)...)
	}
	return out
}

// workBody is what there is to say of a job, with its picture at the right.
func (l *layer) workBody(said [][]prose.Run, pic *draw.Picture, width float64) []box {
	if pic == nil {
		return l.flowed(said, l.text(), 0, width)
	}
	p := pic.Fit(l.size(34), l.size(19))
	b := stack(l.flowed(said, l.text(), 0, width-p.W-l.size(4)))
	b.items = append(b.items, Picture{X: width - p.W, Y: l.size(1), Picture: p})
	b.h = l.snap(max(b.h, p.H+l.size(1)))
	if b.h > l.columnHeight()/2 { // it cannot be broken
		return l.flowed(said, l.text(), 0, width)
	}
	return []box{b}
}

// markInLine is the size of a job's mark in a line of text, in millimetres.
const markInLine = 4.2

// A saying is one thing to say of a job.
type saying struct {
	runs    []prose.Run
	rank    booklet.Rank
	letters int
}

// saidOf is what there is to say of a job: what stays, what to look for, how, the
// doubts, what is forbidden, tools and time.
func saidOf(w booklet.Work) []saying {
	var out []saying
	if w.Amount != "" {
		s := saying{runs: []prose.Run{{Text: w.Amount + ".", Bold: true}}, letters: len(w.Amount)}
		if w.Later {
			s.rank = booklet.RankOf("not due")
		}
		out = append(out, s)
	}
	for _, r := range w.Rows {
		label := prose.Run{Text: strings.ReplaceAll(r.Label, " ", "\u00a0") + "  ", Quiet: true}
		if r.Caution {
			label = prose.Run{Text: r.Label + ": ", Bold: true}
		}
		out = append(out, saying{append([]prose.Run{label}, r.Text...), r.Rank, len(prose.String(r.Text))})
	}
	if w.Never != "" {
		out = append(out, saying{runs: []prose.Run{{Text: w.Never, Bold: true}}})
	}
	if w.Terms != "" {
		out = append(out, saying{[]prose.Run{{Text: w.Terms, Quiet: true}}, booklet.RankOf("tools"), len(w.Terms) / 2})
	}
	return out
}
