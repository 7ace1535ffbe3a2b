package layout

import (
	"fmt"
	"maps"
	"slices"

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
	layers []*layer // of pieces, which are set side by side
	finds  bool     // the contents lead to every plant
	placed bool     // all pages are known
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

// another is a layer for a piece, which is set beside others.
func (l *layer) another() *layer {
	own := newLayer(l.book, l.theme, l.form, l.doc)
	own.marks = l.marks
	l.layers = append(l.layers, own)
	return own
}

// Lay sets a book in a form.
func Lay(b *booklet.Book, t *theme.Theme, form Form) (*Pages, source.Diagnostics) {
	l := newLayer(b, t, form, &Pages{Title: b.Words.Say("booklet.full title", "garden", b.Title, "subtitle", b.Subtitle), Author: b.By, Subject: b.Words.Say("booklet.subject", "garden", b.Title), Lang: b.Lang})
	l.place(l.bound(l.units()))
	l.resolve()
	l.outline()
	for _, own := range l.layers {
		for _, k := range own.lacks {
			l.missing(k.char, k.face)
		}
	}
	return l.doc, l.found()
}

// A unit is what begins a page: a section, some that run on, or a run of pieces.
type unit struct {
	kind   booklet.Kind
	part   string   // at the foot
	parts  []string // at the foot of each page, where they differ
	ids    []string // of its sections
	pages  [][]Item
	run    *run   // pieces, of which the pages hang on the room there is
	leaves []leaf // as chosen
	// late is what names the pages of others: it is laid again when all are known.
	late  func() [][]Item
	faces bool               // two pages that face each other
	of    []*booklet.Section // that run on
	spare bool               // printed where the last sheet has room for it
}

// units cuts a book into what begins a page.
func (l *layer) units() []unit {
	var out []unit
	days := len(l.book.Of(booklet.Day)) > 0
	all := l.book.Sections
	ran := map[*booklet.Section]bool{} // that stand in a unit already
	for i := 0; i < len(all); {
		s := &all[i]
		n := 1 // sections of the unit
		same := func(also ...booklet.Kind) []*booklet.Section {
			of := []*booklet.Section{s}
			for i+n < len(all) && (all[i+n].Kind == s.Kind || slices.Contains(also, all[i+n].Kind)) {
				of = append(of, &all[i+n])
				n++
			}
			return of
		}
		u := unit{kind: s.Kind, part: s.Part}
		switch {
		case ran[s]:
			i++
			continue
		case l.form.Work && s.Kind != booklet.Day && s.Kind != booklet.Month && s.Kind != booklet.Watering,
			s.Kind == booklet.Bed, s.Kind == booklet.CareGroup, // on the web only
			s.Kind == booklet.Month && days:
			i++
			continue
		case s.Kind == booklet.Cover:
			u.part = ""
			u.pages = [][]Item{l.cover(s)}
		case s.Kind == booklet.Contents:
			u.late = func() [][]Item { return l.contents(s) }
			u.pages = u.late()
		case s.Kind == booklet.Index:
			if l.dropsIndex() {
				i++
				continue
			}
			u.late = func() [][]Item { return l.names(s) }
			u.pages = u.late()
		case s.Kind == booklet.Year:
			u.pages, u.faces = l.yearSpread(s), true
		case s.Kind == booklet.Day:
			u.run = l.pieces(same(), l.day)
		case s.Kind == booklet.Month:
			var boxes []box
			for _, m := range same() {
				boxes = append(boxes, l.month(m)...)
			}
			columns := 1
			if l.book.Guide {
				columns = 2
			}
			u.pages = l.fill(box{}, boxes, columns)
		case s.Kind == booklet.Plant || s.Kind == booklet.Half:
			u.part = l.book.Words.Say("part.plants")
			u.run = l.pieces(same(booklet.Plant, booklet.Half), func(s *booklet.Section) *piece {
				if s.Kind == booklet.Half {
					return l.half(s)
				}
				return l.plant(s)
			})
		case s.Kind == booklet.JobPage:
			u.run = l.pieces(same(), l.job)
		case s.Kind == booklet.Back:
			u.part = ""
			u.pages = [][]Item{l.back(s)}
		default:
			u.of, u.spare = l.onward(all[i:]), l.spare(s)
			for _, o := range u.of {
				ran[o] = true
			}
			u.pages, u.parts = l.running(u.of)
		}
		for k := range n {
			u.ids = append(u.ids, all[i+k].ID)
		}
		for _, o := range u.of[min(1, len(u.of)):] {
			u.ids = append(u.ids, o.ID)
		}
		i += n
		out = append(out, u)
		l.forget()
	}
	return out
}

// onward are the first of some sections and those that run on from it: short ones share
// a page. What is printed only if there is room stands by itself.
func (l *layer) onward(all []booklet.Section) []*booklet.Section {
	of := []*booklet.Section{&all[0]}
	if l.form.Work || !runsOn(&all[0]) || l.spare(&all[0]) {
		return of
	}
	for i := range all[1:] {
		switch s := &all[1+i]; {
		case l.spare(s):
		case !runsOn(s):
			return of
		default:
			of = append(of, s)
		}
	}
	return of
}

// spare tells a section that is printed where the last sheet has room for it.
func (l *layer) spare(s *booklet.Section) bool {
	return s.Kind == booklet.Glossary || s.ID == "sources"
}

// dropsIndex tells whether the contents say as much as the index.
func (l *layer) dropsIndex() bool { return l.finds && !l.book.Guide }

// pieces makes the run of some sections. What each of them needs is found side by side.
func (l *layer) pieces(of []*booklet.Section, by func(*booklet.Section) *piece) *run {
	var ps []*piece
	for _, s := range of {
		if s.Stead == "" || l.book.Find(s.Stead) == nil {
			ps = append(ps, by(s))
		}
	}
	r := l.newRun(ps, l.form.Chosen)
	return &r
}

const indexColumns = 3

// runsOn tells a section of words that may share a page with others.
func runsOn(s *booklet.Section) bool {
	switch s.Kind {
	case booklet.Words, booklet.Glance, booklet.Watering, booklet.FirstYear, booklet.Safety, booklet.Glossary:
		return s.ID != "how-to-use" // it faces the contents
	}
	return false
}

// leastBegun is the part of a page's height in which another section begins.
const leastBegun = 0.2

// running sets sections one after the other; one begins a page where little is left.
// What would leave a few lines on a last page is set with less air.
func (l *layer) running(of []*booklet.Section) (pages [][]Item, parts []string) {
	var sections [][]box
	for _, s := range of {
		sections = append(sections, l.section(s))
	}
	for _, air := range []float64{1, 0.6, 0.3, 0.1} {
		next := l.runningWith(of, sections, air)
		if pages == nil || len(next) < len(pages) {
			pages = next
		}
		if filled(pages[len(pages)-1])/l.columnHeight() > leastLast {
			break
		}
	}
	by := map[string]string{}
	for _, s := range of {
		by[s.ID] = s.Part
	}
	part := of[0].Part
	for _, p := range pages {
		first, next := true, part
		for _, it := range p {
			if a, ok := it.(Anchor); ok && by[a.ID] != "" {
				if first || a.Y < l.columnHeight()/2 {
					part, first = by[a.ID], false
				}
				next = by[a.ID]
			}
		}
		parts = append(parts, part)
		part = next // goes on
	}
	return pages, parts
}

// leastLast is how full the last page of what runs on is without being squeezed.
const leastLast = 0.4

// runningWith is running with so much of the usual air between boxes.
func (l *layer) runningWith(of []*booklet.Section, sections [][]box, air float64) [][]Item {
	var boxes []box
	for i, s := range of {
		next := slices.Clone(sections[i])
		if i > 0 && air < 0.3 {
			next = append(l.titleIn(s, l.form.Sizes.Heading+4), next[1:]...)
		}
		for k := range next {
			next[k].gap *= air
		}
		if i > 0 {
			next[0].gap = l.grid() * max(2*air, 0.5)
			next[0].room = leastBegun * l.columnHeight()
		}
		boxes = append(boxes, next...)
	}
	return l.fill(box{}, boxes, 1)
}

// filled is how far down the items of a page reach.
func filled(items []Item) float64 {
	most := 0.0
	for _, it := range items {
		switch it := it.(type) {
		case Text:
			most = max(most, it.Y)
		case Picture:
			most = max(most, it.Y+it.Picture.H)
		case Image:
			most = max(most, it.Y+it.H)
		}
	}
	return most
}

// bound chooses how many pages each run gets, so that all together keep to the
// booklet's thickness and leave out as little as can be.
func (l *layer) bound(us []unit) []unit {
	us = l.facing(us)
	fixed, plants := 0, 0
	for _, u := range us {
		switch {
		case u.run != nil:
			for _, p := range u.run.pieces {
				if p.section.Kind == booklet.Plant {
					plants++
				}
			}
		case !u.spare:
			fixed += len(u.pages)
		}
	}
	most := l.form.budget(plants) - fixed
	sums := sumsOf(us)
	fewest := slices.Min(slices.Collect(maps.Keys(sums)))
	if l.form.Folds && l.form.Chosen == nil && fewest > most {
		for i := range us {
			if us[i].run != nil {
				l.loosen(us[i].run)
			}
		}
		sums = sumsOf(us)
		fewest = slices.Min(slices.Collect(maps.Keys(sums)))
		most = max(most, (fixed+fewest+3)/4*4-fixed) // the last sheet is paid for
	}
	chosen := fewest
	for _, n := range slices.Sorted(maps.Keys(sums)) {
		if n <= most && sums[n].cost < sums[chosen].cost-1e-9 {
			chosen = n
		}
	}
	at, used, before := 0, 0, 0
	for i := range us {
		u := &us[i]
		if u.run == nil {
			if !u.spare {
				before += len(u.pages)
			}
			continue
		}
		n := sums[chosen].took[at]
		u.leaves = leaves(u.run.ways((before+used+1)%2 == 0), n)
		used += n
		at++
	}
	return l.sheets(us, before+used)
}

// sum is what is best of all runs of a booklet together on so many pages: the pages of
// each.
type sum struct {
	cost float64
	took []int
}

// sumsOf finds the best of all runs by the pages they take.
func sumsOf(us []unit) map[int]sum {
	sums := map[int]sum{0: {}}
	before := 0 // pages of other units before the run
	for i := range us {
		u := &us[i]
		if u.run == nil {
			if !u.spare {
				before += len(u.pages)
			}
			continue
		}
		best := [2][]map[int]way{u.run.ways(true), u.run.ways(false)}
		next := map[int]sum{}
		for _, used := range slices.Sorted(maps.Keys(sums)) {
			s, ways := sums[used], best[(before+used+1)%2]
			last := ways[len(ways)-1]
			for _, pages := range slices.Sorted(maps.Keys(last)) {
				c := sum{s.cost + last[pages].cost, append(slices.Clone(s.took), pages)}
				if old, ok := next[used+pages]; !ok || c.cost < old.cost-1e-9 {
					next[used+pages] = c
				}
			}
		}
		sums = next
	}
	return sums
}

// facing brings units that are spreads to begin on the left: what grows where goes after
// one that would not, else the page on watering before it, else a page for notes.
func (l *layer) facing(us []unit) []unit {
	var out []unit
	n := 0
	for i := 0; i < len(us); i++ {
		u := us[i]
		if u.run != nil {
			return append(out, us[i:]...) // no spread comes after
		}
		if u.faces && l.form.Folds && len(u.pages) > 1 && (n+1)%2 == 1 {
			if k := len(out) - 1; k >= 0 && len(out[k].pages)%2 == 1 && out[k].of != nil && out[k].of[0].Kind == booklet.Glance {
				// What grows where may as well stand after the spread, and takes no page
				// more; nor does the watering, if it has room there.
				us = slices.Clone(us)
				l.joined(&out[k], us[i:])
				out = slices.Insert(out, k, u)
				n += len(u.pages)
				continue
			}
			before := l.blank()
			if k := slices.IndexFunc(us, func(o unit) bool { return o.of != nil && o.of[0].Kind == booklet.Watering }); k > i {
				us = slices.Clone(us)
				before, us[k] = l.parted(us[k])
			}
			out, n = append(out, before), n+len(before.pages)
		}
		if !u.spare {
			n += len(u.pages)
		}
		out = append(out, u)
	}
	return out
}

// joined puts the watering, with which one of some units begins, at the end of another
// unit if that takes no page more, and that one a page less.
func (l *layer) joined(to *unit, us []unit) {
	k := slices.IndexFunc(us, func(o unit) bool { return o.of != nil && o.of[0].Kind == booklet.Watering })
	if k < 0 {
		return
	}
	first, rest := l.parted(us[k])
	both := *to
	both.of = slices.Concat(to.of, first.of)
	both.ids = slices.Concat(to.ids, first.ids)
	if both.pages, both.parts = l.running(both.of); len(both.pages) > len(to.pages) || len(rest.pages) >= len(us[k].pages) {
		return
	}
	*to, us[k] = both, rest
}

// parted takes the first section of those that run on as a page of its own.
func (l *layer) parted(u unit) (first, rest unit) {
	first, rest = u, u
	first.of, rest.of = u.of[:1], u.of[1:]
	first.ids, rest.ids = u.ids[:1], u.ids[1:]
	first.pages, first.parts = l.running(first.of)
	if len(rest.of) == 0 {
		rest.of, rest.pages, rest.parts = nil, nil, nil
	} else {
		rest.pages, rest.parts = l.running(rest.of)
	}
	return first, rest
}

func (l *layer) blank() unit { return unit{part: "", pages: [][]Item{l.notes()}} }

// sheets fills the last sheet of four pages: with what is printed only where there is
// room, then with pages for notes, before the last page, which is the back of the
// cover.
func (l *layer) sheets(us []unit, pages int) []unit {
	free := 0
	if l.form.Folds {
		free = (4 - pages%4) % 4
	}
	var out []unit
	for _, u := range us {
		if u.spare {
			if len(u.pages) > free {
				continue
			}
			free -= len(u.pages)
		}
		out = append(out, u)
	}
	if n := len(out); n > 0 && out[n-1].kind == booklet.Back {
		for range free {
			out = slices.Insert(out, len(out)-1, l.blank())
		}
	}
	return out
}

// place puts units into the document.
func (l *layer) place(us []unit) {
	type kept struct {
		first, many int
		unit        unit
	}
	var late []kept
	for _, u := range us {
		first := len(l.doc.Pages)
		switch {
		case u.run != nil:
			l.bind(u)
		case u.parts != nil:
			for i := range u.pages {
				l.add(u.pages[i:i+1], u.parts[i])
			}
		default:
			l.add(u.pages, u.part)
		}
		if u.late != nil {
			late = append(late, kept{first, len(l.doc.Pages) - first, u})
		}
		for _, id := range u.ids {
			if u.run == nil || l.endOf[id] == 0 { // also of what another section stands for
				l.endOf[id] = len(l.doc.Pages)
			}
		}
	}
	l.placed = true
	for _, k := range late {
		rest := slices.Clone(l.doc.Pages[k.first+k.many:])
		l.doc.Pages = l.doc.Pages[:k.first]
		pages := k.unit.late()
		for len(pages) < k.many {
			pages = append(pages, nil) // the pages after it keep their numbers
		}
		l.add(pages[:k.many], k.unit.part)
		l.doc.Pages = append(l.doc.Pages, rest...)
		l.forget()
	}
}

// bind puts the leaves of a run into the document.
func (l *layer) bind(u unit) {
	for _, lf := range u.leaves {
		part := lf.pieces[len(lf.pieces)-1].section.Part // a part of a guide begins within a page
		cut := false
		boxes := l.set(lf)
		for i, p := range lf.pieces {
			l.chosen(p.section.ID, lf.chosen[i])
			for o, opt := range p.options {
				cut = cut || opt.words && lf.chosen[i]&(1<<o) == 0
			}
		}
		l.drawn(boxes)
		if lf.pages == 2 && u.run.faces && len(l.doc.Pages)%2 == 0 {
			l.add([][]Item{l.notes()}, part)
		}
		if cut {
			part += ". " + l.book.Words.Say("print.more")
		}
		l.add(l.fill(box{}, boxes, 1), part)
		for _, p := range lf.pieces {
			l.endOf[p.section.ID] = len(l.doc.Pages)
		}
	}
}

// apart is the room before a piece of a page: the second plant stands at its half if
// the first leaves it free.
func (l *layer) apart(lf leaf, i int) float64 {
	between := l.between(len(lf.pieces))
	if lf.pages > 1 || lf.pieces[i-1].opens {
		return between
	}
	room, above := l.columnHeight(), 0.0
	for k, p := range lf.pieces {
		h := p.height(lf.chosen[k], false)
		if room -= h; k < i {
			above += h
		}
		if k > 0 && k != i {
			room -= between
			above += between
		}
	}
	return min(max(l.columnHeight()/2-above, between), max(room, between))
}

// chosen notes what was printed of a section, for the other editions.
func (l *layer) chosen(id string, options uint64) {
	if l.doc.Chosen == nil {
		l.doc.Chosen = map[string]uint64{}
	}
	l.doc.Chosen[id] = options
}

// forget lets go of lines that no other section is set in.
func (l *layer) forget() {
	clear(l.broken)
	clear(l.texts)
}

// month is a month's check list. Months run on; each that is printed alone begins a
// page.
func (l *layer) month(s *booklet.Section) []box {
	if l.book.Guide {
		return l.guideMonth(s, l.columnWidth(2)) // long lists that run on
	}
	boxes := l.section(s)
	if l.form.Work {
		boxes[0].fresh = true
	}
	boxes[0].gap, boxes[0].room = 2*l.grid(), leastBegun*l.columnHeight()
	return boxes
}

// guideMonth is the work of a month by job, in the columns of a guide.
func (l *layer) guideMonth(s *booklet.Section, width float64) []box {
	title := l.headline(s.Title, l.display(l.form.Sizes.Heading+1), 0, width, l.grid())
	title[0].items = append(title[0].items, Anchor{ID: s.ID})
	title = append(title, l.paragraph(prose.Plain(s.Aside), l.small(), 0, width, 0)...)
	for i := range title {
		title[i].keep = true
	}
	out := title
	for _, b := range s.Blocks {
		switch b := b.(type) {
		case booklet.Heading:
			out = append(out, l.minor(b, width)...)
		case booklet.Entries:
			for _, r := range b.Rows {
				out = append(out, l.columns([]booklet.EntryRow{r}, width, 1, l.small()))
			}
		default:
			out = append(out, l.block(b, width)...)
		}
	}
	return out
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
		case booklet.Day, booklet.Month, booklet.Plant, booklet.JobPage:
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
	s := style{face: face, bold: draw.Bold, italic: italic, size: size, leading: leading, color: c,
		label: draw.Body, small: l.form.Sizes.Caption, quiet: l.theme.Light.Quiet}
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
