package layout

import (
	"strings"

	"sheaf/generator/booklet"
	"sheaf/generator/prose"
	"sheaf/generator/theme"
	"sheaf/generator/words"
)

// A garden day's page: when, how long and with what at its head; then for each job a
// heading and a line for each plant, with a box to tick, what stays and where to read
// more.

// day makes the piece of a garden day.
func (l *layer) day(s *booklet.Section) *piece {
	l = l.another()
	p := &piece{}
	var strips []strip
	final := 0 // the last job of the day
	for i, b := range s.Blocks {
		if _, ok := b.(booklet.Chores); ok {
			final = i
		}
	}
	for at, b := range s.Blocks {
		switch b := b.(type) {
		case booklet.Visit:
			strips = append(strips, strip{set: func(_ uint64, alone bool) []box { return l.visit(s, b, alone) }})
		case booklet.Chores:
			strips = append(strips, strip{set: func(_ uint64, alone bool) []box { return l.choreHead(b, alone) }})
			for i, line := range b.Lines {
				last := i == len(b.Lines)-1
				look := uint64(0)
				if line.Look != "" {
					look = p.offer(booklet.RankOf("cue of a day"), len(line.Look), false)
				}
				strips = append(strips, strip{bits: look, set: func(chosen uint64, _ bool) []box {
					cut := line
					if chosen&look == 0 {
						cut.Look = ""
					}
					boxes := l.chore(cut, last)
					boxes[0].keep = last && at == final // what to beware of stands with work
					return boxes
				}})
			}
		default:
			// Which day is next can be read in the contents too.
			next := uint64(0)
			if t, ok := b.(booklet.Text); ok && t.Role == booklet.Small {
				next = p.offer(booklet.RankOf("next day"), len(prose.String(t.Runs))/2, false)
			}
			strips = append(strips, strip{bits: next, with: next, set: func(_ uint64, alone bool) []box {
				boxes := l.block(b, l.measure())
				for i := range boxes {
					if boxes[i].keep = true; !alone {
						boxes[i].gap = min(boxes[i].gap, l.grid()/5)
					}
				}
				return boxes
			}})
		}
	}
	return l.stripped(s, p, strips)
}

// Columns of a garden day, in millimetres.
const (
	tickWide   = 3.8
	toolsWide  = 38.0
	amountWide = 27.0
)

// mostAmount is how many lines what stays has in a column of its own.
const mostAmount = 2

// visit is the head of a garden day: when, how long, and what to bring. On a page of
// its own tools and cuttings stand at the right.
func (l *layer) visit(s *booklet.Section, v booklet.Visit, alone bool) []box {
	window := l.heading()
	window.leading = l.form.Sizes.Leading * 1.15
	var b box
	if alone {
		right := l.size(toolsWide)
		left := l.measure() - right - l.size(5)
		boxes := l.headline(s.Title, l.display(l.form.Sizes.Heading+5), 0, left, 0)
		boxes = append(boxes, l.paragraph(prose.Plain(v.Window), window, 0, left, 0)...)
		boxes = append(boxes, l.paragraph(prose.Plain(sentences(v.Hours, v.After)), l.small(), 0, left, 0)...)
		b = stack(boxes)
		y := mm(l.display(l.form.Sizes.Heading+5).leading)*0.5 - mm(l.small().size)*0.4
		for _, ln := range l.lines(prose.Plain(sentences(v.Tools, v.Cuttings)), l.small(), right) {
			b.items = moved(b.items, ln.items, l.measure()-ln.width, y+l.baseline(l.small()))
			y += mm(l.small().leading)
		}
		b.h = max(b.h, y)
	} else {
		boxes := l.headline(s.Title, l.display(l.form.Sizes.Heading+2), 0, l.measure(), 0)
		when := l.word(v.Window, window.face, window)
		if at := l.measure() - when.width; at > l.size(35) {
			boxes[0].items = moved(boxes[0].items, when.items, at, l.baseline(l.display(l.form.Sizes.Heading+2)))
		} else {
			boxes = append(boxes, l.paragraph(prose.Plain(v.Window), window, 0, l.measure(), 0)...)
		}
		b = stack(append(boxes, l.paragraph(prose.Plain(sentences(v.Hours, v.After, v.Tools, v.Cuttings)), l.small(), 0, l.measure(), 0)...))
	}
	b.items = append(b.items, Anchor{ID: s.ID})
	b = l.under(b)
	b.keep = true
	if alone {
		b.h = l.snap(b.h + l.grid()/4)
	}
	return []box{b}
}

// sentences joins what is not empty, each with a capital and a full stop.
func sentences(said ...string) string {
	out := ""
	for _, s := range said {
		if s == "" {
			continue
		}
		if out != "" {
			out += " "
		}
		if s = words.Capital(s); !strings.ContainsAny(s[len(s)-1:], ".!?") {
			s += "."
		}
		out += s
	}
	return out
}

// choreHead is the name of a job of a garden day, with its time and the page of how
// it is done.
func (l *layer) choreHead(c booklet.Chores, alone bool) []box {
	color := l.theme.Light.Family(c.Family)
	s, small := l.text(), l.small()
	s.face, s.size = s.bold, l.form.Sizes.Text+1
	mark, from := l.size(markInLine), 0.0
	band := l.theme.Furniture.Work == theme.Band
	if band {
		from, color = l.size(1.5), bare()
		small.color = color
	}
	s.color = color
	x := from + mark + l.size(1.5)
	boxes := l.headline([]prose.Run{{Text: c.Verb, Link: "#" + c.Job}}, s, x, l.measure()-x-l.size(30), 0)
	head := stack(boxes)
	head.items = append(head.items, Picture{X: from, Y: (l.grid() - mark) / 2, Picture: l.marked(c.Mark, color, mark)})
	edge := l.measure() - from
	if ref := l.ref("how", c.Job, small, edge, 0); ref != nil {
		head.items = moved(head.items, []Item{ref}, 0, l.baseline(s))
		edge -= l.wide("how", small) + l.size(2)
	}
	hours := l.word(c.Hours, small.face, small)
	head.items = moved(head.items, hours.items, edge-hours.width, l.baseline(s))
	if band {
		head = banded([]box{head}, l.measure(), l.size(0.3), l.theme.Light.Family(c.Family))
		head.h += l.size(0.6)
	} else {
		head.h += l.size(0.6)
		head.items = append(head.items, rule(0, head.h-0.2, l.measure(), 0.35, color))
	}
	head.gap, head.keep = l.grid()/5, true
	if alone {
		head.gap = l.grid() / 2
	}
	return []box{head}
}

// chore is a line to tick.
func (l *layer) chore(c booklet.Chore, last bool) []box {
	s, small := l.text(), l.small()
	s.leading = l.form.Sizes.Leading * 0.93
	tick := l.size(tickWide)
	x := tick + l.size(2)
	page := l.wide("page", small)
	width := l.measure() - x - page
	amount := l.lines(prose.Plain(c.Amount), s, l.size(amountWide))
	if len(amount) > mostAmount {
		amount = nil // runs on after where
	} else if c.Amount != "" {
		width -= l.size(amountWide) + l.size(2)
	}
	var runs []prose.Run
	for i, p := range c.Plants {
		if i > 0 {
			runs = append(runs, prose.Run{Text: ", "})
		}
		runs = append(runs, prose.Run{Text: p.Common, Bold: true, Link: "#" + p.ID})
		if p.Latin != nil {
			runs = append(runs, prose.Run{Text: " "})
			for _, r := range p.Latin {
				r.Quiet = true
				runs = append(runs, r)
			}
		}
	}
	say := sentences(c.Where, c.Say)
	runs = append(runs, prose.Run{Text: " " + say, Quiet: true})
	if amount == nil && c.Amount != "" {
		runs = append(runs, prose.Run{Text: " " + sentences(c.Amount)})
	}
	if c.Look != "" {
		runs = append(runs, prose.Run{Text: " " + c.Look})
	}
	boxes := l.paragraph(runs, s, x, width, 0)
	if c.Warn != "" {
		if free := float64(len(amount))*mm(s.leading) - height(boxes); free > 0 {
			boxes = append(boxes, box{h: free}) // it runs on under the amount
		}
		boxes = append(boxes, l.paragraph([]prose.Run{{Text: c.Warn, Bold: true}}, small, x, l.measure()-x-page, 0)...)
	}
	row := stack(boxes)
	for i, ln := range amount {
		row.items = moved(row.items, ln.items, x+width+l.size(2), float64(i)*mm(s.leading)+l.baseline(s))
	}
	refs := 0
	for _, p := range c.Plants {
		if ref := l.ref("page", p.ID, small, l.measure(), 0); ref != nil {
			row.items = moved(row.items, []Item{ref}, 0, float64(refs)*mm(small.leading)+l.baseline(s))
			refs++
		}
	}
	row.items = append(row.items, Picture{Y: (mm(s.leading) - tick) / 2, Picture: tickBox(tick, l.theme.Light.Ink)})
	row.h = max(row.h, float64(len(amount))*mm(s.leading), float64(refs)*mm(small.leading)) + l.size(0.9)
	if !last {
		row.items = append(row.items, rule(0, row.h-l.size(0.5), l.measure(), 0.15, l.theme.Light.Hairline))
	}
	return []box{row}
}
