package booklet

import (
	"cmp"
	"fmt"
	"path"
	"slices"
	"strings"
	"sync"

	"sheaf/generator/care"
	"sheaf/generator/entries"
	"sheaf/generator/figure"
	"sheaf/generator/garden"
	"sheaf/generator/measure"
	"sheaf/generator/names"
	"sheaf/generator/prose"
	"sheaf/generator/theme"
)

// Input is what a book is composed from.
type Input struct {
	care.Input
	Calendar *care.Calendar
	Theme    *theme.Theme
	Pages    []*entries.Page // the garden's own, in order
	Sketches *figure.Sketchbook
}

// composer holds what the sections share.
type composer struct {
	Input
	pal    figure.Palette
	units  measure.Units
	year   int
	order  *names.Order // of the language of the book
	plants []*plant
	owner  map[*garden.Planting]*plant
	number map[*garden.Planting]int // in its bed, from 1, in the order of the list
	// Of each task its own name, and on how many garden days it is done.
	stable  map[*care.Task]string
	inParts map[*care.Task]int
	daysOf  map[int][]int // the garden days of a task, from 0
	gaps    []gap
}

// A plant is what has a page of its own: one name, in one or more beds.
type plant struct {
	id        string
	name      names.Name
	runs      []prose.Run
	common    string
	entry     *entries.Entry
	plantings []*garden.Planting
	tasks     []int // in Calendar.Tasks
}

// Compose makes the book.
func Compose(in Input) *Book {
	c := &composer{Input: in, pal: figure.Palette(in.Theme.Light), units: in.Garden.Units, year: in.Calendar.First.Year()}
	b := &Book{
		Title: in.Garden.Name, Subtitle: c.subtitle(), For: in.Garden.For, By: in.Garden.By,
		Date: fmt.Sprint(c.year), Lang: in.Words.Lang, Words: in.Words,
		written: in.written(),
	}
	c.order = names.NewOrder(b.Lang)
	c.gather()
	c.gaps = c.findGaps()
	if in.Garden.Date != 0 {
		b.Date = c.dated(in.Garden.Date)
	}
	if in.Garden.Kind == garden.Guide {
		b.Guide, b.Subtitle = true, in.Words.Say("guide.subtitle")
		if in.Garden.Edition != "" {
			b.Date = in.Garden.Edition + ", " + b.Date
		}
		b.Sections = c.arranged(b, together(
			c.front, c.climatePage, c.years, c.months, c.parts, c.gapPage, c.groupPages, c.jobPages, c.backMatter))
	} else {
		b.Sections = c.arranged(b, together(
			c.front, c.glance, c.beds, c.years, c.days, c.months, c.plantPages, c.gapPage, c.groupPages, c.jobPages, c.watering, c.backMatter))
	}
	c.contents(b)
	b.Online = in.Garden.Online
	b.Events = func() []Event { return b.quoted(c.events()) }
	b.quote()
	return b
}

// subtitle says what the booklet is and for which years.
func (c *composer) subtitle() string {
	first, last := c.Calendar.First.Year(), c.Calendar.Last.Year()
	key := "booklet.subtitle"
	switch {
	case last == first+1:
		key = "booklet.subtitle two years"
	case last > first:
		key = "booklet.subtitle years"
	}
	return c.Words.Say(key, "first", first, "last", last)
}

// together composes parts of a book side by side, and gives them in their order: none
// looks at another.
func together(parts ...func() []Section) []Section {
	made := make([][]Section, len(parts))
	var all sync.WaitGroup
	for i, part := range parts {
		all.Go(func() { made[i] = part() })
	}
	all.Wait()
	return slices.Concat(made...)
}

// gather joins plantings of one name and sorts them as an index does.
func (c *composer) gather() {
	by := map[string]*plant{}
	c.owner, c.number = map[*garden.Planting]*plant{}, map[*garden.Planting]int{}
	in := map[string]int{} // plantings in a bed so far
	for i := range c.Plantings {
		p := &c.Plantings[i]
		in[name(p.Bed)]++
		c.number[p] = in[name(p.Bed)]
		if p.Entry == nil {
			continue
		}
		name := p.Called()
		key := name.Key() + "\x00" + p.Entry.ID
		q := by[key]
		if q == nil {
			q = &plant{id: "plants/" + name.Slug(), name: name, runs: botanical(name), common: c.Words.Quoted(p.Entry.CommonName()), entry: p.Entry}
			by[key] = q
			c.plants = append(c.plants, q)
		}
		q.plantings = append(q.plantings, p)
		c.owner[p] = q
	}
	slices.SortStableFunc(c.plants, func(a, b *plant) int {
		return cmp.Or(c.order.Compare(a.name.Filed(), b.name.Filed()), strings.Compare(a.id, b.id))
	})
	// Two names with one slug, or two plants called the same, are told apart.
	ids, shared := map[string]bool{}, map[string]int{}
	for _, q := range c.plants {
		shared[q.common]++
		q.id = unique(q.id, ids)
	}
	for _, q := range c.plants {
		if shared[q.common] > 1 && q.name.Cultivar != "" {
			q.common += " ‘" + q.name.Cultivar + "’"
		}
	}
	c.daysOf = map[int][]int{}
	for n := range c.Calendar.Days {
		for _, p := range c.Calendar.Days[n].Parts {
			c.daysOf[p.Task] = append(c.daysOf[p.Task], n)
		}
	}
	for i := range c.Calendar.Tasks {
		q := c.of(c.Calendar.Tasks[i].Planting)
		q.tasks = append(q.tasks, i)
	}
	c.nameTasks()
}

// unique gives an ID a number when it is taken, and takes it.
func unique(id string, taken map[string]bool) string {
	const longest = 120 // bytes; common file systems take 255 for a name
	if len(id) > longest {
		id = strings.TrimRight(id[:longest], "-")
	}
	if names.Device(path.Base(id)) {
		id += "-"
	}
	for base, n := id, 2; taken[id]; n++ {
		id = fmt.Sprintf("%s-%d", base, n)
	}
	taken[id] = true
	return id
}

// of finds the plant a planting belongs to.
func (c *composer) of(p *garden.Planting) *plant { return c.owner[p] }

// drawn is what figure needs to know of an entry.
func drawn(q *plant, u measure.Units) figure.Plant {
	e := q.entry
	mid := func(l measure.Length) float64 { return (l.Low + l.High) / 2 }
	return figure.Plant{
		Name: q.common, Seed: q.id, Units: u, Type: e.Type, Habit: e.Habit, Head: e.Head,
		Height: mid(e.Height), FlowerHeight: mid(e.FlowerHeight), Spread: mid(e.Spread),
		Leaf: e.LeafColour, Flower: e.FlowerColour, Evergreen: e.Leaf == "evergreen", Unknown: e.Unmeasured,
	}
}

// Sizes of pictures in millimetres, at the measure of an A5 page; larger
// editions scale them.
var (
	coverFrame    = figure.Frame{W: 154, H: 86} // the page's width and 3 mm more at each side
	portraitFrame = figure.Frame{W: 60, H: 46}
	workFrame     = figure.Frame{W: 46, H: 25}
	jobFrame      = figure.Frame{W: 90, H: 34}
)

// mostOnCover is how many of a guide's plants its cover is chosen from.
const mostOnCover = 200

func (c *composer) front() []Section {
	var row []figure.Plant
	shown := c.plants
	if c.inGuide() && len(shown) > mostOnCover {
		shown = nil
		for i := range mostOnCover {
			shown = append(shown, c.plants[i*len(c.plants)/mostOnCover])
		}
	}
	for _, q := range shown {
		p := drawn(q, c.units)
		for _, planting := range q.plantings {
			p.Many += int(min(planting.Row.Quantity, 1000))
		}
		row = append(row, p)
	}
	cover := Section{ID: "cover", Kind: Cover, Title: prose.Plain(c.Garden.Name)}
	if c.Theme.Row {
		cover.Blocks = []Block{Figure{
			Picture: c.Sketches.Border(row, false, c.Words, c.pal, coverFrame), Ground: figure.BorderGround(coverFrame),
			Screen: c.Sketches.Border(row, true, c.Words, c.pal, coverFrame),
		}}
	}
	out := []Section{cover, {ID: "contents", Kind: Contents, Title: prose.Plain(c.Words.Say("part.contents")), Part: c.Words.Say("part.contents")}}
	ids := map[string]bool{}
	for _, p := range c.Pages {
		out = append(out, written(unique("pages/"+p.ID, ids), Words, p, c.Words.Say("part.welcome")))
	}
	page := "how-to-use"
	if c.inGuide() {
		page = "how-to-use-guide"
	}
	if p := c.Library.Page(page); p != nil {
		s := written("how-to-use", Words, p, c.Words.Say("part.how to use"))
		if c.inGuide() {
			s.Part = p.Title
		}
		s.Blocks = append(s.Blocks, Legend{c.legend()})
		out = append(out, s)
	}
	return out
}

// written is a section of a page of words.
func written(id string, k Kind, p *entries.Page, part string) Section {
	return Section{ID: id, Kind: k, Title: prose.Plain(p.Title), Part: part, File: p.File, Blocks: blocks(p.Body)}
}

// blocks turns prose into blocks of the book.
func blocks(body []prose.Block) []Block {
	var out []Block
	for _, b := range body {
		switch b := b.(type) {
		case prose.Paragraph:
			out = append(out, Text{Runs: b.Runs})
		case prose.Heading:
			out = append(out, Heading{b.Runs})
		case prose.List:
			l := List{Numbered: b.Numbered}
			for _, item := range b.Items {
				var runs []prose.Run
				for _, inner := range item {
					if p, ok := inner.(prose.Paragraph); ok {
						if runs != nil {
							runs = append(runs, prose.Run{Text: " "})
						}
						runs = append(runs, p.Runs...)
					}
				}
				l.Items = append(l.Items, runs)
			}
			out = append(out, l)
		}
	}
	return out
}

// legend shows each mark that the garden's jobs use, once, with the jobs that
// share it.
func (c *composer) legend() []LegendMark {
	var out []LegendMark
	for _, j := range c.jobs() {
		if i := slices.IndexFunc(out, func(m LegendMark) bool { return m.Mark == j.Mark }); i >= 0 {
			if len(out[i].Name) < 24 {
				out[i].Name += ", " + j.Called(c.Words)
			}
			continue
		}
		out = append(out, LegendMark{Mark: j.Mark, Family: j.Family, Name: j.Called(c.Words), Job: "jobs/" + j.ID})
	}
	return out
}

// jobs lists the jobs that any of the garden's plants ever asks for.
func (c *composer) jobs() []*entries.Job {
	var out []*entries.Job
	for _, j := range c.Library.Jobs {
		asked := slices.ContainsFunc(c.plants, func(q *plant) bool {
			return slices.ContainsFunc(q.entry.Rules, func(r entries.Rule) bool { return r.Job.Value == j.Name.Value && c.DoneHere(r) && c.done(q, r) })
		})
		if asked || slices.ContainsFunc(c.Calendar.Tasks, func(t care.Task) bool { return t.Job == j }) {
			out = append(out, j)
		}
	}
	return out
}

// lastOf is the last of the sections that begin a row and are of one part.
func lastOf(all []Section) string {
	last := all[0].ID
	for _, s := range all[1:] {
		if s.Part != all[0].Part {
			break
		}
		last = s.ID
	}
	return last
}

// contents fills the contents from the sections of the finished book: the parts, the
// garden days, and the plants by their common names.
func (c *composer) contents(b *Book) {
	var rows []EntryRow
	part := ""
	for i := range b.Sections {
		s := &b.Sections[i]
		first := s.Part != part
		switch s.Kind {
		case Cover, Contents, Back, Bed, CareGroup:
			continue
		case Month, Plant, JobPage, Day, Half:
			if s.Kind == Month && len(b.Of(Day)) > 0 {
				continue
			}
			if first && s.Kind != Plant && s.Kind != Half || s.Kind == Plant && !b.Guide && first || s.Kind == Half {
				rows = append(rows, EntryRow{Level: 0, Runs: prose.Plain(s.Part), Target: s.ID, Last: lastOf(b.Sections[i:])})
			}
			if s.Kind == Day {
				d := &c.Calendar.Days[slices.IndexFunc(b.Of(Day), func(o *Section) bool { return o == s })]
				rows = append(rows, EntryRow{Level: 1, Runs: []prose.Run{{Text: s.short + " ", Bold: true}, {Text: c.briefly(d.From, d.To)}}, Target: s.ID})
			}
		default:
			rows = append(rows, EntryRow{Level: 0, Runs: s.Title, Target: s.ID})
		}
		part = s.Part
	}
	s := b.Find("contents")
	if s == nil {
		return
	}
	s.Blocks = []Block{Entries{rows}}
	if names := c.byCommonName(); names != nil {
		s.Blocks = append(s.Blocks, Entries{names})
	}
}

// byCommonName leads to every plant of a garden by the names its owner knows.
func (c *composer) byCommonName() []EntryRow {
	if c.inGuide() {
		return nil // its parts and its index list them
	}
	var out []EntryRow
	for _, q := range c.plants {
		runs := prose.Plain(q.common)
		if len(q.entry.Common) == 0 {
			runs = q.runs
		}
		out = append(out, EntryRow{Level: 1, Runs: runs, Target: q.id})
	}
	slices.SortStableFunc(out, func(a, b EntryRow) int { return c.order.Compare(prose.String(a.Runs), prose.String(b.Runs)) })
	return out
}
