package html

import (
	"cmp"
	"fmt"
	"html/template"
	"net/url"
	"path"
	"slices"
	"strconv"
	"strings"

	"sheaf/generator/booklet"
	"sheaf/generator/names"
	"sheaf/generator/prose"
)

// A page is what the templates see. Its exported fields and methods are the
// vocabulary of a theme's templates.
type page struct {
	*edition
	set         *set   // the templates that make it
	File        string // its own path
	Name        string // of the title bar
	Description string
	Body        string // which template fills it: home, list or section
	Kind        booklet.Kind
	Section     *booklet.Section // nil on home and lists
	pictures    int
	asked       []string // the marks that it shows
}

// Book is the whole booklet.
func (p *page) Book() *booklet.Book { return p.book }

// Say gives a text of the words, by its keys and full stops between them, with
// its places filled by names and values in turns. A text may have a place more than
// once: the error is for values of templates that grow with each saying.
func (p *page) Say(key string, values ...any) (string, error) {
	sum := 0
	for _, v := range values {
		sum += length(v)
	}
	if sum > longestSaid {
		return "", fmt.Errorf("what is filled into a text has more than %d KB: %w", longestSaid>>10, errSpent)
	}
	said := p.say(key, values...)
	return said, p.set.make(len(said))
}

func (p *page) say(key string, values ...any) string { return p.book.Words.Say(key, values...) }

// Subtitle is the book's, with whom it is for.
func (p *page) Subtitle() string {
	if p.book.For == "" {
		return p.book.Subtitle
	}
	return p.say("booklet.subtitle for", "subtitle", p.book.Subtitle, "for", p.book.For)
}

// Plainly is a section's title without its styles.
func (p *page) Plainly(s *booklet.Section) string { return prose.String(s.Title) }

// Root leads from the page to the folder of the edition.
func (p *page) Root() string { return strings.Repeat("../", strings.Count(p.File, "/")) }

// Of lists the sections of a kind: plants by common name, since that is what
// a reader looks for here, the rest as they stand in the book.
func (p *page) Of(k booklet.Kind) []*booklet.Section {
	out := p.of[k]
	p.spend(len(out))
	if k == booklet.Plant {
		out = slices.Clone(out)
		order := names.NewOrder(p.book.Lang)
		slices.SortStableFunc(out, func(a, b *booklet.Section) int { return order.Compare(a.Aside, b.Aside) })
	}
	return out
}

// Sections lists the pages of the booklet in their order.
func (p *page) Sections() []*booklet.Section {
	p.spend(len(p.book.Sections))
	var out []*booklet.Section
	for i := range p.book.Sections {
		if s := &p.book.Sections[i]; own(s.Kind) {
			out = append(out, s)
		}
	}
	return out
}

// Pages lists the sections that are neither garden day, month, plant, half-title, care
// group nor job.
func (p *page) Pages() []*booklet.Section {
	var out []*booklet.Section
	for _, s := range p.Sections() {
		switch s.Kind {
		case booklet.Day, booklet.Month, booklet.Half, booklet.Plant, booklet.CareGroup, booklet.JobPage:
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
	var out []item
	place := "nav.garden"
	if p.book.Guide {
		place = "nav.climate"
	}
	days := len(p.of[booklet.Day]) > 0
	if days {
		out = append(out, p.item(p.say("nav.days"), p.list(booklet.Day), booklet.Day))
	}
	switch {
	case p.One || p.book.Guide:
		out = append(out, p.item(p.say("nav.months"), p.list(booklet.Month), booklet.Month))
	case !days:
		out = append(out, p.item(p.say("nav.this month"), home, ""))
	}
	for _, n := range []struct {
		label string
		kind  booklet.Kind
	}{{"nav.year", booklet.Year}, {place, booklet.Glance}, {"nav.plants", booklet.Plant}, {"nav.jobs", booklet.JobPage}, {"nav.safety", booklet.Safety}, {"nav.index", booklet.Index}} {
		if all := p.of[n.kind]; len(all) > 0 {
			out = append(out, p.item(p.say(n.label), cmp.Or(p.list(n.kind), p.files[all[0].ID]), n.kind))
		}
	}
	if p.One {
		return out // whatever shows one file can search in it
	}
	return append(out, p.item(p.say("nav.search"), searchPage, ""))
}

func (p *page) item(label, file string, k booklet.Kind) item {
	i := item{Label: label, Href: p.Root() + file}
	switch {
	case p.File == file:
		i.Current = "page"
	case p.One:
	case k != "" && p.Kind == k, k == booklet.Glance && p.Kind == booklet.Bed, k == booklet.Day && p.Kind == booklet.Watering, k == booklet.Plant && (p.Kind == booklet.CareGroup || p.Kind == booklet.Half):
		i.Current = "true"
	}
	return i
}

// List is the address of the list of a kind.
func (p *page) List(k booklet.Kind) string { return p.Root() + cmp.Or(p.list(k), home) }

// Href is the address of a section, "" when the book has no such section.
func (p *page) Href(id string) string {
	file, ok := p.files[id]
	if !ok && p.book.Left[id] {
		return ""
	}
	if !ok {
		p.warn("html/no-section", fmt.Sprintf("%s leads to %q, which is not in the booklet", p.File, id))
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

// Group links a plant to its care group; nil for none.
func (p *page) Group() *link {
	if p.Section == nil || p.Section.Group == "" {
		return nil
	}
	g := p.placed[p.Section.Group]
	if g.Section == nil {
		return nil
	}
	to := p.To(g.ID, p.book.Words.Small(prose.String(g.Title)))
	return &to
}

// At links a place, the name of a bed alone or before a comma, to the bed's
// page.
func (p *page) At(place string) link {
	// A bed's name may hold a comma itself: the longest that fits is meant.
	for name := place; name != ""; name = name[:max(strings.LastIndex(name, ", "), 0)] {
		if id := p.beds[name]; id != "" {
			return p.To(id, place)
		}
	}
	return link{Text: place}
}

// Beside gives the sections of the same kind before and after this one.
func (p *page) Beside() (out struct{ Before, After *booklet.Section }) {
	if p.One || p.Section == nil {
		return out
	}
	switch p.Kind {
	case booklet.Day, booklet.Month, booklet.Plant, booklet.JobPage:
		all, i := p.of[p.Kind], p.placed[p.Section.ID].n
		if i > 0 {
			out.Before = all[i-1]
		}
		if i+1 < len(all) {
			out.After = all[i+1]
		}
	}
	return out
}

// A day is a garden day: its head, and its work by job.
type day struct {
	booklet.Visit
	Work []booklet.Chores
}

// Day is the garden day of a section.
func (p *page) Day(s *booklet.Section) day {
	p.spend(len(s.Blocks))
	return outing(s)
}

// Small gives a word that begins a line as it stands inside one.
func (p *page) Small(word string) string { return p.book.Words.Small(word) }

func outing(s *booklet.Section) day {
	var d day
	for _, b := range s.Blocks {
		switch b := b.(type) {
		case booklet.Visit:
			d.Visit = b
		case booklet.Chores:
			d.Work = append(d.Work, b)
		}
	}
	return d
}

// A stand is where plants stand, cut into the name of the bed with its address, their
// numbers on the plan, and the rest.
type stand struct {
	Bed           link
	Numbers, Rest string
	Plants        []numbered // what has these numbers
}

// numbered is a plant by its number in a bed.
type numbered struct {
	Number string
	Plant  link
}

// Stand cuts a place such as "Long border 6 9 12, 17 plants". What begins with no bed is
// all rest.
func (p *page) Stand(where string) stand {
	for bed := where; bed != ""; bed = bed[:max(strings.LastIndex(bed, " "), 0)] {
		id := p.beds[bed]
		if id == "" {
			continue
		}
		rest := where[len(bed):]
		numbers := rest[:len(rest)-len(strings.TrimLeft(rest, " \u00a00123456789"))]
		s := stand{Bed: p.To(id, bed), Numbers: strings.TrimSpace(numbers), Rest: rest[len(numbers):]}
		for _, number := range strings.Fields(numbers) {
			n, _ := strconv.Atoi(number)
			called := p.grown[id][n]
			s.Plants = append(s.Plants, numbered{number, p.To(called.ID, called.Common)})
		}
		return s
	}
	return stand{Rest: where}
}

// Stands cuts a text of many places with semicolons between them, as that on watering
// has them; nil where the page or the text is another.
func (p *page) Stands(text []prose.Run) []stand {
	if p.Kind != booklet.Watering || len(text) != 1 {
		return nil
	}
	var out []stand
	for _, where := range strings.Split(strings.TrimSuffix(text[0].Text, "."), "; ") {
		s := p.Stand(where)
		if s.Plants == nil || s.Rest != "" {
			return nil
		}
		out = append(out, s)
	}
	p.spend(len(out))
	return out
}

// Stem is the last part of a section's ID: "2027-03".
func (p *page) Stem(s *booklet.Section) string { return path.Base(s.ID) }

// Job gives the mark and the family of a job by its section's ID.
func (p *page) Job(id string) booklet.TaskLine { return p.jobs[id] }

// Runs sets a text, with its links. Neighbours with one link are one phrase, so
// that a name in italic and roman is one thing to follow. It is written here and
// not in a template, as there is nothing in a booklet that there is more of.
func (p *page) Runs(runs []prose.Run) template.HTML {
	p.spend(len(runs))
	var b strings.Builder
	for i := 0; i < len(runs); {
		n := i + 1
		for n < len(runs) && runs[n].Link == runs[i].Link {
			n++
		}
		href, outside := p.follow(runs[i].Link)
		if href != "" {
			b.WriteString(`<a href="` + template.HTMLEscapeString(href) + `"`)
			if outside {
				b.WriteString(` rel="noopener"`)
			}
			b.WriteString(">")
		}
		for _, r := range runs[i:n] {
			writeRun(&b, r, r.Italic && p.latin[strings.TrimSpace(r.Text)])
		}
		if href != "" {
			b.WriteString("</a>")
		}
		i = n
	}
	return template.HTML(b.String())
}

// Names is Runs for titles and names: their italics are Latin, and as they
// are often links themselves they hold none.
func (p *page) Names(runs []prose.Run) template.HTML {
	p.spend(len(runs))
	var b strings.Builder
	for _, r := range runs {
		writeRun(&b, r, r.Italic)
	}
	return template.HTML(b.String())
}

// writeRun writes a stretch of text in one style; latin says that its italics
// are a botanical name and not merely stress.
func writeRun(b *strings.Builder, r prose.Run, latin bool) {
	ends := ""
	open := func(tag, end string) {
		b.WriteString(tag)
		ends = end + ends
	}
	if r.Bold {
		open("<strong>", "</strong>")
	}
	switch {
	case r.Italic && latin:
		open(`<i lang="la">`, "</i>")
	case r.Italic:
		open("<i>", "</i>")
	}
	if r.SmallCaps {
		open(`<span class="selling">`, "</span>")
	}
	b.WriteString(template.HTMLEscapeString(r.Text))
	b.WriteString(ends)
}

// follow gives where a run's link leads, "" for nowhere, and whether that is
// out of the booklet.
func (p *page) follow(link string) (href string, outside bool) {
	if id, ok := strings.CutPrefix(link, "#"); ok {
		return p.Href(id), false
	}
	if link == "" {
		return "", false
	}
	return p.address(link), true
}

// address lets web, mail and telephone addresses pass, with what cannot stand
// in an address escaped; "" for all others.
func (p *page) address(link string) string {
	u, err := url.Parse(link)
	if err == nil {
		switch strings.ToLower(u.Scheme) {
		case "http", "https", "mailto":
			return u.String()
		case "tel":
			// The number is written anew from its digits.
			return "tel:" + strings.Map(func(r rune) rune {
				if r >= '0' && r <= '9' || r == '+' {
					return r
				}
				return -1
			}, u.Opaque)
		}
	}
	p.warn("html/link", fmt.Sprintf("%s: the link %q is left out", p.File, link), "links are http, https, mailto or tel addresses")
	return ""
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
			return &block{p, "Portrait", v}
		}
	}
	return nil
}

// Parts cuts a section at its headings, leaving out what is its opening.
func (p *page) Parts(s *booklet.Section) ([]part, error) {
	p.spend(len(s.Blocks))
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
			runs := b.Runs
			if id := p.beds[prose.String(runs)]; id != "" && s.Kind == booklet.Glance {
				runs = []prose.Run{{Text: prose.String(runs), Link: "#" + id}}
			}
			add(runs)
			fresh = false
		case booklet.Work, booklet.Visit, booklet.Chores, booklet.Chart, booklet.IndexList:
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

// block finds the template of a block: they are named as the types are.
func (p *page) block(b booklet.Block) (block, error) {
	name, ok := strings.CutPrefix(fmt.Sprintf("%T", b), "booklet.")
	if !ok || p.set.pages.Lookup(name) == nil {
		return block{}, fmt.Errorf("no template for a block of type %T", b)
	}
	return block{p, name, b}, nil
}

// A letter of the index.
type letter struct {
	Letter string
	Rows   []booklet.IndexRow
}

// Letters cuts the index at its initials.
func (p *page) Letters(l booklet.IndexList) []letter {
	p.spend(len(l.Rows))
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
	if s := p.placed[id]; s.Section != nil {
		return s.Title
	}
	return nil
}

// Families names the kinds of work in a row of the year, for its filter.
func (p *page) Families(r booklet.ChartRow) string {
	var out []string
	for _, b := range r.Bars {
		if !slices.Contains(out, b.Family) {
			out = append(out, b.Family)
		}
	}
	return strings.Join(out, " ")
}

// Repeats tells whether a block of facts has a label twice.
func (b block) Repeats() bool {
	seen := map[string]bool{}
	var rows []booklet.Fact
	switch v := b.Value.(type) {
	case booklet.Facts:
		rows = v.Rows
	case booklet.Work:
		for _, d := range v.Rows {
			rows = append(rows, d.Fact)
		}
	}
	for _, r := range rows {
		if seen[r.Label] {
			return true
		}
		seen[r.Label] = true
	}
	return false
}
