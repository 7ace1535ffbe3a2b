package layout

import (
	"slices"
	"strconv"

	"sheaf/generator/booklet"
	"sheaf/generator/prose"
)

// A job's page: its name and picture, the steps, its cautions, and as far as there is
// room how much to leave, common mistakes and tools.

// job makes the piece of a job.
func (l *layer) job(s *booklet.Section) *piece {
	l = l.another()
	p := &piece{}
	var figure *booklet.Figure
	rest := s.Blocks
	ranks := s.Ranks
	if len(rest) > 0 {
		if f, ok := rest[0].(booklet.Figure); ok {
			figure, rest = &f, rest[1:]
			if len(ranks) > 0 {
				ranks = ranks[1:]
			}
		}
	}
	picture := uint64(0)
	if figure != nil {
		picture = p.illustrate(booklet.RankOf("drawing of a job"), pictureWorth)
	}
	about := uint64(0)
	if s.Aside != "" {
		about = p.offer(booklet.RankOf("about a job"), len(s.Aside), false)
	}
	strips := []strip{{bits: picture | about, set: func(chosen uint64, alone bool) []box {
		f, said := figure, s.Aside
		if chosen&picture == 0 {
			f = nil
		}
		if chosen&about == 0 {
			said = ""
		}
		return l.jobHead(s, said, f, alone)
	}}}
	var heading *booklet.Heading
	var under uint64 // the options under the heading
	place := 0       // of the heading among the strips
	shut := func() {
		if heading != nil && under != 0 {
			h := *heading
			strips[place] = strip{bits: under, with: under, set: func(uint64, bool) []box { return l.minor(h, l.measure()) }}
		}
		heading, under = nil, 0
	}
	for i, b := range joinedWarnings(rest, ranks) {
		if b == nil {
			continue
		}
		r := booklet.Always
		if i < len(ranks) {
			r = ranks[i]
		}
		if h, ok := b.(booklet.Heading); ok {
			shut()
			heading, place = &h, len(strips)
			strips = append(strips, strip{set: func(uint64, bool) []box { return nil }})
			continue
		}
		if r > booklet.Always {
			for _, st := range l.optional(nil, b, r, p) {
				under |= st.bits
				strips = append(strips, st)
			}
			continue
		}
		heading = nil // what is always there needs none: steps and cautions tell themselves
		strips = append(strips, strip{set: func(uint64, bool) []box {
			if list, ok := b.(booklet.List); ok && list.Numbered {
				return l.steps(list)
			}
			return l.block(b, l.measure())
		}})
	}
	shut()
	return l.stripped(s, p, strips)
}

// joinedWarnings are blocks with neighbouring cautions as one, at the place of the
// first; nil stands for the others.
func joinedWarnings(blocks []booklet.Block, ranks []booklet.Rank) []booklet.Block {
	out := make([]booklet.Block, len(blocks))
	last := -1
	for i, b := range blocks {
		t, warns := b.(booklet.Text)
		if warns = warns && t.Role == booklet.Warn && (i >= len(ranks) || ranks[i] == booklet.Always); warns && last >= 0 {
			all := out[last].(booklet.Text)
			all.Runs = append(append(slices.Clone(all.Runs), prose.Run{Text: " "}), t.Runs...)
			out[last] = all
			continue
		}
		if out[i] = b; warns {
			last = i
		} else {
			last = -1
		}
	}
	return out
}

// jobHead is a job's name with what it is, and its picture at the right.
func (l *layer) jobHead(s *booklet.Section, about string, f *booklet.Figure, alone bool) []box {
	width := l.measure()
	var pic *booklet.Figure
	if f != nil {
		fitted := *f
		fitted.Picture = f.Picture.Fit(l.size(48), l.size(18))
		pic, width = &fitted, width-fitted.Picture.W-l.size(5)
	}
	title := l.display(l.form.Sizes.Heading + 1)
	if alone {
		title = l.display(l.form.Sizes.Heading + 4)
	}
	boxes := l.headline(s.Title, title, 0, width, 0)
	boxes[0].items = append(boxes[0].items, Anchor{ID: s.ID})
	boxes = append(boxes, l.paragraph(prose.Plain(about), l.small(), 0, width, 0)...)
	b := stack(boxes)
	if pic != nil {
		b.items = append(b.items, Picture{X: l.measure() - pic.Picture.W, Picture: pic.Picture})
		low, wide := pic.Picture.H, l.measure()-width-l.size(5)
		for _, ln := range l.lines(append(prose.Plain(f.Caption+" "), f.Latin...), l.small(), wide) {
			b.items = moved(b.items, ln.items, l.measure()-ln.width, low+l.baseline(l.small()))
			low += mm(l.small().leading)
		}
		b.h = max(b.h, low)
	}
	b = l.under(b)
	if b.keep = true; pic != nil || alone {
		b.h = l.snap(b.h)
	}
	return []box{b}
}

// minor is a heading within a job.
func (l *layer) minor(h booklet.Heading, width float64) []box {
	var bold []prose.Run
	for _, r := range h.Runs {
		r.Bold = true
		bold = append(bold, r)
	}
	boxes := l.paragraph(bold, l.text(), 0, width, l.grid()/4)
	for i := range boxes {
		boxes[i].keep = true
	}
	return boxes
}

// steps is a numbered list without air between its items.
func (l *layer) steps(b booklet.List) []box {
	var out []box
	s := l.text()
	wide := l.size(6)
	for i, item := range b.Items {
		boxes := l.paragraph(item, s, wide, l.measure()-wide, 0)
		if len(boxes) == 0 {
			continue
		}
		number := l.setLine([]fragment{{text: strconv.Itoa(i + 1), face: s.bold}}, s)
		boxes[0].items = moved(boxes[0].items, number.items, 0, l.baseline(s))
		out = append(out, boxes...)
	}
	return out
}
