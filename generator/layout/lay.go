package layout

import (
	"fmt"
	"runtime"
	"sync"
	"sync/atomic"

	"sheaf/generator/booklet"
	"sheaf/generator/draw"
	"sheaf/generator/figure"
	"sheaf/generator/prose"
	"sheaf/generator/source"
	"sheaf/generator/theme"
)

// A layer is the state of one layout.
type layer struct {
	book   *booklet.Book
	theme  *theme.Theme
	form   Form
	pal    figure.Palette
	doc    *Pages
	pageOf map[string]int // page of each anchor
	endOf  map[string]int // last page of each section
	told   map[rune]bool
	texts  map[textKey]text
	broken map[setKey][]line
	marks  *draw.Memo[coloured, draw.Picture]
	lacks  []lack
}

// coloured is a job's mark in a colour.
type coloured struct {
	name  string
	color draw.Color
}

func newLayer(b *booklet.Book, t *theme.Theme, form Form, doc *Pages) *layer {
	return &layer{
		book: b, theme: t, form: form, pal: figure.Palette(t.Light), doc: doc,
		pageOf: map[string]int{}, endOf: map[string]int{}, told: map[rune]bool{}, texts: map[textKey]text{}, broken: map[setKey][]line{},
		marks: new(draw.Memo[coloured, draw.Picture]),
	}
}

// Lay sets a book in a form.
func Lay(b *booklet.Book, t *theme.Theme, form Form) (*Pages, source.Diagnostics) {
	l := newLayer(b, t, form, &Pages{Title: b.Words.Say("booklet.full title", "garden", b.Title, "subtitle", b.Subtitle), Author: b.By, Subject: b.Words.Say("booklet.subject", "garden", b.Title), Lang: b.Lang})
	var kept []kept
	var plants map[*booklet.Section][][]Item
	for i := 0; i < len(b.Sections); i++ {
		s := &b.Sections[i]
		if form.Only != "" && s.Kind != form.Only {
			continue
		}
		switch s.Kind {
		case booklet.JobPage:
			// How-to pages follow one another without a new page for each.
			var boxes []box
			for ; i < len(b.Sections) && b.Sections[i].Kind == booklet.JobPage; i++ {
				next := l.section(&b.Sections[i])
				next[0].gap = 2 * l.grid()
				boxes = append(boxes, next...)
			}
			i--
			l.add(l.fill(box{}, boxes, 1), s.Part)
		case booklet.Month:
			first := i
			for i+1 < len(b.Sections) && b.Sections[i+1].Kind == booklet.Month {
				i++
			}
			months := b.Sections[first : i+1]
			lay := func() [][]Item {
				var boxes []box
				for j := range months {
					boxes = append(boxes, l.month(&months[j])...)
				}
				return l.fill(box{}, boxes, 1)
			}
			if b.Guide {
				kept = append(kept, l.keep(s, lay)) // they name the pages of plants
			} else {
				l.add(lay(), s.Part)
			}
		case booklet.Bed, booklet.CareGroup:
			// On the web only.
		case booklet.Cover:
			l.add([][]Item{l.cover(s)}, "")
		case booklet.Contents:
			kept = append(kept, l.keep(s, l.alone(s)))
		case booklet.Half:
			if len(l.doc.Pages)%2 == 1 {
				l.add([][]Item{l.notes()}, s.Part) // a half-title stands on the right
			}
			kept = append(kept, l.keep(s, l.alone(s)))
		case booklet.Index:
			l.titled(s, 2)
		case booklet.Plant:
			if plants == nil {
				plants = l.plants()
			}
			set := plants[s]
			delete(plants, s)
			if len(set) == 2 && len(l.doc.Pages)%2 == 0 && !b.Guide { // a guide has no room for notes
				l.add([][]Item{l.notes()}, s.Part)
			}
			l.add(set, s.Part)
		case booklet.Back:
			l.add([][]Item{l.back(s)}, "")
		default:
			l.titled(s, 1)
		}
		l.endOf[b.Sections[i].ID] = len(l.doc.Pages)
		l.forget()
	}
	for _, k := range kept {
		rest := l.doc.Pages[k.first+k.many:]
		l.doc.Pages = l.doc.Pages[:k.first]
		l.add(k.lay(), k.part)
		l.doc.Pages = append(l.doc.Pages, rest...)
		l.forget()
	}
	l.outline()
	return l.doc, l.found()
}

// forget lets go of lines that no other section is set in.
func (l *layer) forget() {
	clear(l.broken)
	clear(l.texts)
}

// kept are pages that name those after them: room is kept, and they are laid
// when all else is.
type kept struct {
	first, many int
	part        string
	lay         func() [][]Item
}

func (l *layer) keep(s *booklet.Section, lay func() [][]Item) kept {
	pages := lay()
	k := kept{len(l.doc.Pages), len(pages), s.Part, lay}
	l.add(pages, s.Part) // for its anchors, which the contents name
	return k
}

// alone lays a section by itself.
func (l *layer) alone(s *booklet.Section) func() [][]Item {
	return func() [][]Item { return l.fill(box{}, l.section(s), 1) }
}

// month is a month's check list. Quiet months share a page, whole; a month of
// more than half a page begins one, and so does each that is printed alone.
func (l *layer) month(s *booklet.Section) []box {
	boxes := l.section(s)
	if l.book.Guide && l.form.Only == "" {
		boxes[0].gap = 2 * l.grid() // long lists that run on
		return boxes
	}
	if l.form.Only != "" || height(boxes) > l.columnHeight()/2 {
		boxes[0].fresh = true
		return boxes
	}
	for i := range boxes[:len(boxes)-1] {
		boxes[i].keep = true
	}
	boxes[0].gap = 2 * l.grid()
	return boxes
}

// A lack is a character that a face has no glyph for.
type lack struct {
	char rune
	face *theme.Face
}

// mostLacks is how many characters are told of: a booklet in letters that its faces
// do not have has thousands.
const mostLacks = 100

// found tells what the pages lack, where it is first written. All editions say the
// same of a character, so that it is told once.
func (l *layer) found() source.Diagnostics {
	var ds source.Diagnostics
	told := l.lacks[:min(len(l.lacks), mostLacks)]
	chars := map[rune]bool{}
	for _, k := range told {
		chars[k.char] = true
	}
	places := l.book.Places(chars)
	for _, k := range told {
		ds.Add(source.Warning, "layout/no-glyph", places[k.char], fmt.Sprintf("%q (U+%04X) is left out in print: no letter for it", k.char, k.char),
			fmt.Sprintf("the typeface %s lacks it; the web edition shows it", k.face.Name))
	}
	if len(l.lacks) > mostLacks {
		ds.Add(source.Warning, "layout/no-glyph", source.Span{}, fmt.Sprintf("more than %d characters are left out in print; not all are told", mostLacks),
			"choose a theme with typefaces that have the letters of your language")
	}
	return ds
}

// missing tells of a lack; of each character once.
func (l *layer) missing(c rune, face *theme.Face) {
	if l.told[c] {
		return
	}
	l.told[c] = true
	l.lacks = append(l.lacks, lack{c, face})
}

// titled lays a section that begins on a page of its own, its title over all
// columns.
func (l *layer) titled(s *booklet.Section, columns int) {
	l.add(l.fill(stack(l.title(s)), l.blocks(s.Blocks, l.columnWidth(columns)), columns), s.Part)
}

// plants lays all plants side by side: no page of one hangs on another's, nor on
// where it will stand.
func (l *layer) plants() map[*booklet.Section][][]Item {
	var sections []*booklet.Section
	for i := range l.book.Sections {
		if s := &l.book.Sections[i]; s.Kind == booklet.Plant {
			sections = append(sections, s)
		}
	}
	pages, lacks := make([][][]Item, len(sections)), make([][]lack, len(sections))
	var next atomic.Int64
	var all sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		all.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(sections); i = int(next.Add(1)) - 1 {
				own := newLayer(l.book, l.theme, l.form, l.doc)
				own.marks = l.marks
				pages[i], lacks[i] = own.plant(sections[i]), own.lacks
			}
		})
	}
	all.Wait()
	out := map[*booklet.Section][][]Item{}
	for i, s := range sections {
		out[s] = pages[i]
		for _, k := range lacks[i] {
			l.missing(k.char, k.face)
		}
	}
	return out
}

// plant lays a plant so that it is never broken across a turn of the page: one
// that fits a spread begins on a left-hand page, and a page left over before
// it is for notes. One longer than a spread may begin anywhere. Of all ways to
// set it the most open is taken that needs the fewest pages, or two.
func (l *layer) plant(s *booklet.Section) [][]Item {
	set := func(d density) [][]Item { return l.fill(box{}, l.plantBoxes(s, d), 1) }
	open := set(full)
	if len(open) <= 2 {
		return open
	}
	// What the tightest does not make shorter, none between does.
	short := set(tight)
	if len(short) == len(open) {
		return open
	}
	if l.book.Guide {
		return short // of many hundred plants none is worth more
	}
	for _, d := range []density{leading, close, closest} {
		if pages := set(d); len(pages) <= max(len(short), 2) {
			return pages
		}
	}
	return short
}

// notes is a page of faint lines to write on.
func (l *layer) notes() []Item {
	title := l.lines(prose.Plain(l.book.Words.Say("print.notes")), l.aside(), l.measure())
	items := moved(nil, title[0].items, 0, l.baseline(l.aside()))
	for y := 3 * l.grid(); y <= l.columnHeight()+slack; y += 1.5 * l.grid() {
		items = append(items, rule(0, y, l.measure(), 0.15, l.theme.Light.Hairline))
	}
	return items
}

// outline makes the bookmarks: parts, and below them what they hold.
func (l *layer) outline() {
	part := ""
	for i := range l.book.Sections {
		s := &l.book.Sections[i]
		page, ok := l.pageOf[s.ID]
		if !ok {
			continue
		}
		title, level := prose.String(s.Title), 0
		switch s.Kind {
		case booklet.Month, booklet.Plant, booklet.JobPage:
			if s.Part != part {
				l.doc.Outline = append(l.doc.Outline, Mark{Title: s.Part, Page: page})
			}
			level = 1
		}
		part = s.Part
		l.doc.Outline = append(l.doc.Outline, Mark{Title: title, Level: level, Page: page})
	}
}

// Styles. The form gives the sizes; roles of type are LOOK's.

func (l *layer) style(face, italic draw.Face, size, leading float64, c draw.Color) style {
	s := style{face: face, bold: draw.Bold, italic: italic, size: size, leading: leading, color: c}
	if face == draw.Heading {
		s.bold = draw.Heading
	}
	if l.form.Roman {
		// Large print has no italics; a botanical name is told by its weight.
		s.italic = s.bold
	}
	return s
}

func (l *layer) text() style {
	return l.style(draw.Body, draw.Italic, l.form.Sizes.Text, l.form.Sizes.Leading, l.theme.Light.Ink)
}

func (l *layer) small() style {
	return l.style(draw.Body, draw.Italic, l.form.Sizes.Caption, l.form.Sizes.Caption*1.25, l.theme.Light.Quiet)
}

func (l *layer) aside() style {
	if l.theme.Furniture.Title == theme.Ruled {
		// Under a heavy rule and a title, a second line of that weight is one too many.
		return l.style(draw.Body, draw.Italic, l.form.Sizes.Heading-1, l.form.Sizes.Leading*1.25, l.theme.Light.Quiet)
	}
	return l.style(draw.Heading, draw.HeadingItalic, l.form.Sizes.Heading-1, l.form.Sizes.Leading*1.25, l.theme.Light.Quiet)
}

func (l *layer) heading() style {
	return l.style(draw.Heading, draw.HeadingItalic, l.form.Sizes.Heading, l.form.Sizes.Leading*1.25, l.theme.Light.Ink)
}

func (l *layer) display(size float64) style {
	return l.style(draw.Heading, draw.HeadingItalic, size, size*1.15, l.theme.Light.Ink)
}

// size is a length made for A5, in this form.
func (l *layer) size(mm float64) float64 { return mm * l.form.Scale }

// sized is a picture made for A5, in this form.
func (l *layer) sized(p draw.Picture) draw.Picture {
	if l.form.Scale == 1 {
		return p
	}
	return p.Fit(p.W*l.form.Scale, p.H*l.form.Scale)
}

// mark is a job's mark in its colour, the same drawing wherever it stands.
func (l *layer) mark(name string, c draw.Color) draw.Picture {
	return l.sized(l.marks.Of(coloured{name, c}, func() draw.Picture {
		pic := figure.Mark(name, c)
		items := pic.Items
		pic.Items = []draw.Item{&draw.Sketch{Draw: func() ([]draw.Item, string) { return items, "" }}}
		return pic
	}))
}
