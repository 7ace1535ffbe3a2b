package html

import (
	"cmp"
	"fmt"
	"html/template"
	"net/url"
	"path"
	"slices"
	"strings"
	"time"

	"sheaf/generator/booklet"
	"sheaf/generator/draw"
	"sheaf/generator/figure"
	"sheaf/generator/prose"
	"sheaf/generator/source"
)

// A page is what the templates see. Its exported fields and methods are the
// vocabulary of a theme's templates.
type page struct {
	*edition
	File        string // its own path
	Name        string // of the title bar
	Description string
	Body        string // which template fills it: home, list or section
	Kind        booklet.Kind
	Section     *booklet.Section // nil on home and lists
	pictures    int
	marks       []string
}

// Book is the whole booklet.
func (p *page) Book() *booklet.Book { return p.book }

// Root leads from the page to the folder of the edition.
func (p *page) Root() string { return strings.Repeat("../", strings.Count(p.File, "/")) }

// Of lists the sections of a kind: plants by common name, since that is what
// a reader looks for here, the rest as they stand in the book.
func (p *page) Of(k booklet.Kind) []*booklet.Section {
	out := p.book.Of(k)
	if k == booklet.Plant {
		slices.SortStableFunc(out, func(a, b *booklet.Section) int {
			return cmp.Compare(strings.ToLower(a.Aside), strings.ToLower(b.Aside))
		})
	}
	return out
}

// Pages lists the sections that are neither month, plant nor job.
func (p *page) Pages() []*booklet.Section {
	var out []*booklet.Section
	for i := range p.book.Sections {
		switch s := &p.book.Sections[i]; s.Kind {
		case booklet.Cover, booklet.Contents, booklet.Back, booklet.Month, booklet.Plant, booklet.JobPage:
		default:
			out = append(out, s)
		}
	}
	return out
}

// An item is a link of the navigation.
type item struct {
	Label, Href string
	Current     string // "page", "true" or "", as aria-current wants it
}

// Navigation leads to the parts that the booklet has.
func (p *page) Navigation() []item {
	out := []item{p.item("This month", home, "")}
	if years := p.book.Of(booklet.Year); len(years) > 0 {
		out = append(out, p.item("Year", p.files[years[0].ID], booklet.Year))
	}
	for _, l := range lists() {
		if len(p.book.Of(l.kind)) > 0 && l.kind != booklet.Month {
			out = append(out, p.item(map[booklet.Kind]string{booklet.Plant: "Plants", booklet.JobPage: "Jobs"}[l.kind], l.file, l.kind))
		}
	}
	for _, k := range []booklet.Kind{booklet.Safety, booklet.Index} {
		if s := p.book.Of(k); len(s) > 0 {
			out = append(out, p.item(map[booklet.Kind]string{booklet.Safety: "Safety", booklet.Index: "Index"}[k], p.files[s[0].ID], k))
		}
	}
	return out
}

func (p *page) item(label, file string, k booklet.Kind) item {
	i := item{Label: label, Href: p.Root() + file}
	switch {
	case p.File == file:
		i.Current = "page"
	case k != "" && p.Kind == k:
		i.Current = "true"
	}
	return i
}

// List is the address of the list of a kind.
func (p *page) List(k booklet.Kind) string {
	for _, l := range lists() {
		if l.kind == k {
			return p.Root() + l.file
		}
	}
	return p.Root() + home
}

// Href is the address of a section, "" when the book has no such section.
func (p *page) Href(id string) string {
	file, ok := p.files[id]
	if !ok {
		p.ds.Add(source.Warning, "html/no-section", source.Span{}, fmt.Sprintf("%s leads to %q, which is not in the booklet", p.File, id))
		return ""
	}
	return p.Root() + file
}

// A link is words that lead to a section; Href is "" where they lead nowhere.
type link struct{ Href, Text string }

// To links words to a section; some jobs are for the whole garden and lead to
// none.
func (p *page) To(id, text string) link {
	if id == "" {
		return link{Text: text}
	}
	return link{p.Href(id), text}
}

// Beside gives the sections of the same kind before and after this one.
func (p *page) Beside() (out struct{ Before, After *booklet.Section }) {
	switch p.Kind {
	case booklet.Month, booklet.Plant, booklet.JobPage:
		all := p.book.Of(p.Kind)
		i := slices.Index(all, p.Section)
		if i > 0 {
			out.Before = all[i-1]
		}
		if i+1 < len(all) {
			out.After = all[i+1]
		}
	}
	return out
}

// Stem is the last part of a section's ID: "2027-03".
func (p *page) Stem(s *booklet.Section) string { return path.Base(s.ID) }

// Job gives the mark and the family of a job by its section's ID.
func (p *page) Job(id string) booklet.TaskLine { return p.jobs[id] }

// A phrase is a stretch of text under one link, or under none.
type phrase struct {
	Href    any // string, or template.URL for a telephone number; "" for none
	Outside bool
	Spans   []span
}

type span struct {
	prose.Run
	Latin bool // a botanical name, not merely stressed
}

// Runs resolves the links of a text. Neighbours with one link are one phrase,
// so that a name in italic and roman is one thing to follow.
func (p *page) Runs(runs []prose.Run) []phrase {
	var out []phrase
	for i, r := range runs {
		if i == 0 || r.Link != runs[i-1].Link {
			f := phrase{Href: ""}
			if id, ok := strings.CutPrefix(r.Link, "#"); ok {
				f.Href = p.Href(id)
			} else if r.Link != "" {
				f.Href, f.Outside = p.address(r.Link), true
			}
			out = append(out, f)
		}
		last := &out[len(out)-1]
		last.Spans = append(last.Spans, span{r, r.Italic && p.latin[strings.TrimSpace(r.Text)]})
	}
	return out
}

// Names is Runs for a botanical name, all of whose italics are Latin.
func (p *page) Names(runs []prose.Run) []phrase {
	out := p.Runs(runs)
	for _, f := range out {
		for i := range f.Spans {
			f.Spans[i].Latin = f.Spans[i].Italic
		}
	}
	return out
}

// address lets web, mail and telephone addresses pass. html/template knows no
// tel:, so the number is written anew from its digits.
func (p *page) address(link string) any {
	u, err := url.Parse(link)
	if err == nil {
		switch strings.ToLower(u.Scheme) {
		case "http", "https", "mailto":
			return link
		case "tel":
			return template.URL("tel:" + strings.Map(func(r rune) rune {
				if r >= '0' && r <= '9' || r == '+' {
					return r
				}
				return -1
			}, u.Opaque))
		}
	}
	p.ds.Add(source.Warning, "html/link", source.Span{}, fmt.Sprintf("%s: the link %q is left out", p.File, link), "links are http, https, mailto or tel addresses")
	return ""
}

// Picture paints a picture in place.
func (p *page) Picture(pic draw.Picture) template.HTML {
	p.pictures++
	return svg(pic, fmt.Sprintf("p%d", p.pictures), p.vars)
}

// Mark gives the ID of a job's mark, which the page then carries once in
// [page.Marks], however many lines bear it.
func (p *page) Mark(name string) string {
	if !slices.Contains(p.marks, name) {
		p.marks = append(p.marks, name)
	}
	return p.MarkID(slices.Index(p.marks, name))
}

// MarkID is the ID of a mark by its place in [page.Marks].
func (p *page) MarkID(i int) string { return fmt.Sprintf("mark-%d", i+1) }

// Marks paints the marks that have been asked for so far, in the colour of
// the words they stand by.
func (p *page) Marks() []template.HTML {
	var out []template.HTML
	for _, name := range p.marks {
		pic := figure.Mark(name, p.palette.Ink)
		pic.Title = "" // the verb beside it says the same
		out = append(out, svg(pic, "", map[draw.Color]string{p.palette.Ink: "--mark"}))
	}
	return out
}

// A part of a section is what stands under one heading. A job is a part of
// its own.
type part struct {
	*page
	Heading []prose.Run
	Blocks  []block
}

// A block of the book with the template that shows it.
type block struct {
	*page
	Type  string
	Value any
}

// Opening is the portrait a section begins with, nil for most.
func (p *page) Opening() *block {
	if len(p.Section.Blocks) > 0 {
		if v, ok := p.Section.Blocks[0].(booklet.Portrait); ok {
			return &block{p, "portrait", v}
		}
	}
	return nil
}

// Parts cuts a section at its headings, leaving out what is its opening.
func (p *page) Parts(s *booklet.Section) ([]part, error) {
	var out []part
	add := func(heading []prose.Run, b ...block) { out = append(out, part{p, heading, b}) }
	fresh := true // the next block begins a part
	for i, b := range s.Blocks {
		v, err := p.block(b)
		if err != nil {
			return nil, fmt.Errorf("section %q: %w", s.ID, err)
		}
		switch b := b.(type) {
		case booklet.Portrait:
			if i > 0 || p.Section != s {
				add(nil, v)
			}
			fresh = true
		case booklet.Heading:
			add(b.Runs)
			fresh = false
		case booklet.Work, booklet.Chart, booklet.IndexList:
			add(nil, v)
			fresh = true
		default:
			if fresh {
				add(nil)
			}
			fresh = false
			last := &out[len(out)-1]
			last.Blocks = append(last.Blocks, v)
		}
	}
	return out, nil
}

// block finds the template of a block.
func (p *page) block(b booklet.Block) (block, error) {
	name := ""
	switch b.(type) {
	case booklet.Text:
		name = "text"
	case booklet.Heading:
		name = "heading"
	case booklet.List:
		name = "list"
	case booklet.Facts:
		name = "facts"
	case booklet.Figure:
		name = "figure"
	case booklet.Portrait:
		name = "portrait"
	case booklet.Work:
		name = "work"
	case booklet.Tasks:
		name = "tasks"
	case booklet.Chart:
		name = "chart"
	case booklet.Entries:
		name = "entries"
	case booklet.IndexList:
		name = "index"
	case booklet.Legend:
		name = "legend"
	case booklet.Terms:
		name = "terms"
	default:
		return block{}, fmt.Errorf("no template for a %T", b)
	}
	return block{p, name, b}, nil
}

// An image is a picture in a file of its own.
type image struct {
	Src, Alt string
	W, H     int // the shape of its box in pixels
}

// Drawing is the picture a section is known by, a plant's portrait or the row
// of the cover, in a file beside its page: plants are shown in two places and
// their list would be heavy with all of them in it. It is nil where a section
// has none.
func (p *page) Drawing(s *booklet.Section) *image {
	for _, b := range s.Blocks {
		var pic draw.Picture
		alt := "Drawing of " + cmp.Or(s.Aside, prose.String(s.Title))
		switch b := b.(type) {
		case booklet.Portrait:
			pic = b.Picture
		case booklet.Figure:
			pic, alt = b.Picture, cmp.Or(b.Picture.Title, b.Caption, alt)
		default:
			continue
		}
		pic = trimmed(pic)
		file := s.ID + ".svg"
		if p.out[file] == nil {
			p.out[file] = p.standalone(pic)
		}
		const perMM = 96 / 25.4 // CSS pixels
		return &image{p.Root() + file, alt, int(pic.W*perMM + 0.5), int(pic.H*perMM + 0.5)}
	}
	return nil
}

// trimmed cuts the empty paper above what is drawn: in print it lets pictures
// stand on one line, on a screen it pushes the text out of sight.
func trimmed(p draw.Picture) draw.Picture {
	const air = 1.5 // mm
	top := p.H
	for _, d := range p.Flat() {
		if d.Label != nil {
			top = min(top, d.Label.Y-d.Label.Size*mmPerPoint)
			continue
		}
		pts, from := d.Shape.Path.Points, draw.Point{}
		for _, v := range d.Shape.Path.Verbs {
			switch {
			case v == draw.Cubic && len(pts) >= 3:
				// The curve's own middle: its control points lie far outside.
				top = min(top, pts[2].Y, (from.Y+3*pts[0].Y+3*pts[1].Y+pts[2].Y)/8)
				from, pts = pts[2], pts[3:]
			case v != draw.Close && len(pts) >= 1:
				top = min(top, pts[0].Y)
				from, pts = pts[0], pts[1:]
			}
		}
	}
	if top -= air; top <= 0 || top >= p.H-air {
		return p
	}
	p.Items = []draw.Item{draw.Group{M: draw.Shift(0, -top), Items: p.Items}}
	p.H -= top
	return p
}

// A letter of the index.
type letter struct {
	Letter string
	Rows   []booklet.IndexRow
}

// Letters cuts the index at its initials.
func (p *page) Letters(l booklet.IndexList) []letter {
	var out []letter
	for _, r := range l.Rows {
		if len(out) == 0 || out[len(out)-1].Letter != r.Letter {
			out = append(out, letter{Letter: r.Letter})
		}
		last := &out[len(out)-1]
		last.Rows = append(last.Rows, r)
	}
	return out
}

// Title is the title of a section by its ID.
func (p *page) Title(id string) []prose.Run {
	if s := p.book.Find(id); s != nil {
		return s.Title
	}
	return nil
}

// The year's strip in millimetres: at the width of a page on a desk a
// millimetre is about four pixels and a mark about twenty.
const (
	stripWidth = 190
	laneHeight = 5.2
)

// Strip paints one row of the year.
func (p *page) Strip(c booklet.Chart, r booklet.ChartRow) template.HTML {
	var bars []figure.Bar
	for _, b := range r.Bars {
		verb, _, _ := strings.Cut(b.Label, ",")
		bars = append(bars, figure.Bar{From: b.From, To: b.To, Mark: b.Mark, Family: b.Family, Label: verb})
	}
	return p.Picture(figure.Strip(bars, len(c.Months), cues(c), p.palette, figure.Frame{W: stripWidth, H: laneHeight * float64(lanes(r.Bars))}))
}

// Scale paints the head of the year.
func (p *page) Scale(c booklet.Chart) template.HTML {
	labels := c.Months
	if len(c.Full) == len(c.Months) {
		labels = nil
		for _, full := range c.Full {
			labels = append(labels, string([]rune(full)[:min(3, len([]rune(full)))]))
		}
	}
	return p.Picture(figure.Scale(labels, cues(c), p.palette, figure.Frame{W: stripWidth, H: 20}))
}

func cues(c booklet.Chart) []figure.Cue {
	var out []figure.Cue
	for _, q := range c.Cues {
		out = append(out, figure.Cue{At: q.At, Name: q.Name})
	}
	return out
}

// lanes is how many bars with their marks lie over one another at most.
func lanes(bars []booklet.ChartBar) int {
	const mark = 5.3 / stripWidth
	most := 1
	for _, a := range bars {
		n := 0
		for _, b := range bars {
			if b.From-mark <= a.From && b.To > a.From-mark {
				n++
			}
		}
		most = max(most, n)
	}
	return most
}

// Since is the first month of a chart as "2027-03", for the script that draws
// today; "" when it cannot be told.
func (p *page) Since(c booklet.Chart) string {
	if len(c.Full) == 0 {
		return ""
	}
	t, err := time.Parse("January 2006", c.Full[0])
	if err != nil {
		return ""
	}
	return t.Format("2006-01")
}
