package entries

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"sheaf/generator/fields"
	"sheaf/generator/measure"
	"sheaf/generator/names"
	"sheaf/generator/prose"
	"sheaf/generator/site"
	"sheaf/generator/source"
	"sheaf/generator/words"

	"golang.org/x/text/language"
)

// A Group is care shared by many plants.
type Group struct {
	File    *source.File
	ID      string
	Name    source.At[string]
	Summary string
	Types   []string // which types may name it; nil: any
	Leaf    []string // which winter leaf may; nil: any
	Stands  []string
	Rules   []Rule
	Sources []string
	Body    []prose.Block

	// WrittenFor is the hemisphere whose months and seasons the rules mean.
	WrittenFor site.Hemisphere

	said string // its name in another English; "" for the same
	lost bool   // nothing but its name could be had of the file
}

// Called is the group's name as a booklet prints it. Files know it by Name.
func (g *Group) Called() string { return cmp.Or(g.said, g.Name.Value) }

// ParseGroup reads a care group.
func ParseGroup(f *source.File) (*Group, source.Diagnostics) {
	m, at := fields.Front(f, "group")
	g := &Group{File: f, ID: ownName(m, f), lost: m.Lost()}
	g.Name, _ = m.Need("group")
	if g.lost {
		// Entries that name it are not told that it is not there.
		g.Name, _ = fields.Line(f, "group")
	}
	g.Summary = text(m, "summary")
	g.Types = values(m.Choices("types", Types()))
	g.Leaf = values(m.Choices("leaf", leafWords()))
	g.Stands = values(m.Choices("stands", stands()))
	g.Rules = rules(m)
	g.Sources = cleaned(fewTexts(m, "sources"))
	m.Done()
	ds := m.Diagnostics()
	body, more := prose.Parse(f, at, "group")
	g.Body = body
	return g, append(ds, more...)
}

// A Job is a kind of work and its how-to page.
type Job struct {
	File    *source.File
	ID      string
	Name    source.At[string]
	Action  string // "Cut back {plant}"
	Family  string
	Mark    string
	Hard    bool // cuts a woody plant to the ground or into its frame
	Risks   []source.At[string]
	Tools   []string
	Minutes [3]measure.Minutes  // per plant: small, medium, large
	Rooted  bool                // it waits until a plant has rooted in, past its first spring
	Ground  string              // [OpenGround]: not in frozen ground or under snow; "": at any time
	After   []source.At[string] // jobs of the same plant that are done before it in a season
	Summary string
	Sources []string
	Body    []prose.Block

	said string // its name in another English; "" for the same
}

// Called is the job's name in the words of a booklet.
func (j *Job) Called(w *words.Words) string {
	if key := "job." + j.Name.Value; w.Has(key) {
		return w.Say(key)
	}
	return cmp.Or(j.said, j.Name.Value)
}

// Does is the job's action with {plant} in it: its page's own, else that of the
// words, else its name before the plant.
func (j *Job) Does(w *words.Words) string {
	if j.Action != "" {
		return j.Action
	}
	if key := "action." + j.Name.Value; w.Has(key) {
		return w.Say(key)
	}
	return w.Say("do", "job", words.Capital(j.Called(w)))
}

// Verb is the action without its plant and the small word before it: "Cut back".
func (j *Job) Verb(w *words.Words) string {
	s := strings.TrimSpace(strings.ReplaceAll(j.Does(w), "{plant}", ""))
	for _, last := range w.List("trailing") {
		if r, _ := utf8.DecodeRuneInString(last); unicode.IsLetter(r) {
			last = " " + last
		}
		s = strings.TrimSuffix(s, last)
	}
	return strings.Join(strings.Fields(s), " ")
}

// For is the action for a plant: "Cut back switch grass".
func (j *Job) For(w *words.Words, plant string) string {
	return strings.ReplaceAll(j.Does(w), "{plant}", plant)
}

// MinutesFor is the usual time per plant of a height in centimetres, an
// estimate.
func (j *Job) MinutesFor(height float64) measure.Minutes {
	switch {
	case height <= Small:
		return j.Minutes[0]
	case height <= Medium:
		return j.Minutes[1]
	}
	return j.Minutes[2]
}

// ParseJob reads a job page.
func ParseJob(f *source.File) (*Job, source.Diagnostics) {
	m, at := fields.Front(f, "job")
	j := &Job{File: f, ID: ownName(m, f)}
	j.Name, _ = m.Need("job")
	if t, ok := m.Text("action"); ok {
		j.Action = prose.Clean(t.Value)
		if strings.Count(t.Value, "{plant}") != 1 {
			m.Fail(t.Span, "action", "the action must hold {plant} once", "write for example Cut back {plant}")
		}
	}
	j.Family = need(m, "family", families())
	j.Mark = need(m, "mark", marks())
	j.Hard = m.Flag("hard")
	j.Risks = m.Choices("risks", risks())
	j.Tools = cleaned(fewTexts(m, "tools"))
	if t := m.Map("minutes"); t != nil {
		for i, key := range []string{"small", "medium", "large"} {
			j.Minutes[i] = minutes(t, key)
		}
		t.Done()
	}
	j.Rooted = m.Flag("rooted")
	j.Ground = choice(m, "ground", []string{OpenGround})
	j.After = fewTexts(m, "after")
	j.Summary = text(m, "summary")
	j.Sources = cleaned(fewTexts(m, "sources"))
	m.Done()
	ds := m.Diagnostics()
	body, more := prose.Parse(f, at, "job")
	j.Body = body
	return j, append(ds, more...)
}

// A Region is a country's customs and rules as far as a booklet prints them.
type Region struct {
	File                                *source.File
	Code, Name                          string
	Union                               string // whose laws hold too, such as "EU"
	Parts                               []Part // with laws of their own, by code
	Closed                              []Closed
	Paper                               string
	Units                               measure.Units
	Nest                                *Nest
	NestNote, Trees, Hedges, Waste, Aid string
	Hardiness                           site.Scale // by which plants are rated for its winters
	Checked                             site.Day
	Sources                             []string
	Body                                []prose.Block
}

// Nest is the main nesting season: days of every year, inclusive.
type Nest struct{ From, To site.MonthDay }

// ParseRegion reads a region.
func ParseRegion(f *source.File) (*Region, source.Diagnostics) {
	m, at := fields.Front(f, "region")
	r := &Region{File: f}
	code, _ := m.Need("region")
	r.Code = code.Value
	r.Name = text(m, "name")
	r.Union = text(m, "union")
	r.Parts = parts(m)
	r.Closed = closedSeasons(m, r.Parts)
	r.Paper = choice(m, "paper", []string{"A4", "Letter"})
	if choice(m, "units", []string{"metric", "us"}) == "us" {
		r.Units = measure.US
	}
	r.Hardiness = site.USDA
	if choice(m, "hardiness", []string{"RHS", "USDA"}) == "RHS" {
		r.Hardiness = site.RHS
	}
	if n := m.Map("nest"); n != nil {
		r.Nest = &Nest{}
		r.Nest.From, r.Nest.To = monthDay(n, "from"), monthDay(n, "to")
		n.Done()
	}
	r.NestNote, r.Trees, r.Hedges = text(m, "nest-note"), text(m, "trees"), text(m, "hedges")
	r.Waste, r.Aid = text(m, "waste"), text(m, "emergency")
	r.Checked = checked(m)
	r.Sources = cleaned(fewTexts(m, "sources"))
	m.Done()
	ds := m.Diagnostics()
	body, more := prose.Parse(f, at, "region")
	r.Body = body
	return r, append(ds, more...)
}

// A Page is a page of words: how to use the booklet, safety, the glossary.
type Page struct {
	File  *source.File
	ID    string
	Title string
	// Terms of a glossary, Hazards and Risks with their cautions on the safety
	// page; in the order written.
	Terms, Hazards, Risks []fields.Pair
	Body                  []prose.Block
}

// ParsePage reads a page.
func ParsePage(f *source.File) (*Page, source.Diagnostics) {
	m, at := fields.Front(f, "page")
	p := &Page{File: f, ID: ownName(m, f)}
	p.Title = text(m, "title")
	if _, ok := m.Need("title"); ok {
		p.Terms, p.Hazards, p.Risks = m.Map("terms").Pairs(), m.Map("hazards").Pairs(), m.Map("risks").Pairs()
	}
	m.Done()
	ds := m.Diagnostics()
	body, more := prose.Parse(f, at, "page")
	p.Body = body
	return p, append(ds, more...)
}

// About is what holds for all entries of a library.
type About struct {
	WrittenFor site.Hemisphere // whose months and seasons they mean
	WrittenIn  string          // BCP 47: the language they are in; "" when not said
}

// ParseAbout reads library.yaml, the file in which a library says what it is.
func ParseAbout(f *source.File) (About, source.Diagnostics) {
	m := fields.Whole(f, "library")
	out := About{WrittenFor: site.North}
	if choice(m, "written-for", []string{"north", "south"}) == "south" {
		out.WrittenFor = site.South
	}
	if t, ok := m.Text("written-in"); ok {
		tag, err := language.Parse(t.Value)
		if err != nil {
			m.Fail(t.Span, "unknown-value", fmt.Sprintf("%q is no language", t.Value), "write its code, such as en-GB or nl")
		} else {
			out.WrittenIn = tag.String()
		}
	}
	m.Done()
	return out, m.Diagnostics()
}

// A Shelf is one library folder, parsed.
type Shelf struct {
	About
	// Spelling is the library's own list of American words; nil when it has none.
	Spelling *Spelling

	Entries []*Entry
	Groups  []*Group
	Jobs    []*Job
	Regions []*Region
	Pages   []*Page

	Regulated []*Regulation
	Pests     []*Pest

	// Fill reads the whole of files whose entries are on the shelf by a [Glance]
	// alone; nil where there are none.
	Fill func([]*source.File) []*Entry
}

// A Library is what a garden builds from: all shelves, the first found of
// each name winning.
type Library struct {
	Entries []*Entry // by sort key
	Groups  []*Group
	Jobs    []*Job
	Regions []*Region
	Pages   []*Page

	written map[*source.File]string         // the languages of files, as their shelves say
	fill    []func([]*source.File) []*Entry // by shelf: what reads the whole of files that were glanced at
	filling sync.Mutex
	called  map[string]*Entry // by the keys of names and synonyms, once [Library.Called] is asked
	calling sync.Once

	// Regulated are the regulations of all shelves: one library takes nothing from
	// another's.
	Regulated []*Regulation
	regulated map[string][]int // places in Regulated, by genus
}

// WrittenIn is the language of one of the library's files, in BCP 47; "" when its
// folder does not say.
func (l *Library) WrittenIn(f *source.File) string { return l.written[f] }

// writtenIn notes the language of a shelf's files.
func (l *Library) writtenIn(s *Shelf) {
	if s.WrittenIn == "" {
		return
	}
	for _, e := range s.Entries {
		l.written[e.File] = s.WrittenIn
	}
	for _, g := range s.Groups {
		l.written[g.File] = s.WrittenIn
	}
	for _, j := range s.Jobs {
		l.written[j.File] = s.WrittenIn
	}
	for _, r := range s.Regions {
		l.written[r.File] = s.WrittenIn
	}
	for _, p := range s.Pages {
		l.written[p.File] = s.WrittenIn
	}
}

// Job finds a job page by its name.
func (l *Library) Job(name string) *Job {
	i := slices.IndexFunc(l.Jobs, func(j *Job) bool { return j.Name.Value == name })
	if i < 0 {
		return nil
	}
	return l.Jobs[i]
}

// Region finds a region by its code.
func (l *Library) Region(code string) *Region {
	i := slices.IndexFunc(l.Regions, func(r *Region) bool { return r.Code == code })
	if i < 0 {
		return nil
	}
	return l.Regions[i]
}

// Page finds a page by the name of its file.
func (l *Library) Page(id string) *Page {
	i := slices.IndexFunc(l.Pages, func(p *Page) bool { return p.ID == id })
	if i < 0 {
		return nil
	}
	return l.Pages[i]
}

// Caution gives the safety page's line for a hazard or a risk.
func (l *Library) Caution(of string) string {
	p := l.Page("safety")
	if p == nil {
		return ""
	}
	for _, pair := range append(slices.Clone(p.Hazards), p.Risks...) {
		if pair.Key.Value == of {
			return prose.Sentence(pair.Value.Value)
		}
	}
	return ""
}

// Assemble joins shelves, fills entries from their groups and runs the checks
// that see more than one file. Two entries of one name on the same shelf are
// an error; on different shelves the first wins.
func Assemble(shelves []Shelf) (*Library, source.Diagnostics) {
	var ds source.Diagnostics
	l := &Library{written: map[*source.File]string{}}
	from := map[*source.File]int{}
	for i, s := range shelves {
		for _, e := range s.Entries {
			from[e.File] = i
		}
		l.writtenIn(&s)
		l.fill = append(l.fill, s.Fill)
		l.Groups = merge(l.Groups, s.Groups, func(g *Group) (string, source.Span) { return g.Name.Value, g.Name.Span }, "group/same-name", &ds)
		l.Jobs = merge(l.Jobs, s.Jobs, func(j *Job) (string, source.Span) { return j.Name.Value, j.Name.Span }, "job/same-name", &ds)
		l.Regions = merge(l.Regions, s.Regions, func(r *Region) (string, source.Span) { return r.Code, source.Whole(r.File) }, "region/same-name", &ds)
		l.Pages = merge(l.Pages, s.Pages, func(p *Page) (string, source.Span) { return p.ID, source.Whole(p.File) }, "page/same-name", &ds)
		l.Regulated = append(l.Regulated, s.Regulated...)
		var read, lost []*Entry
		for _, e := range s.Entries {
			if e.lost {
				lost = append(lost, e)
			} else {
				read = append(read, e)
			}
		}
		called := func(e *Entry) (string, source.Span) { return e.Name.Value.Key(), e.Name.Span }
		l.Entries = merge(l.Entries, beside(read, &ds), called, "entry/same-name", &ds)
		// A name that was guessed takes none from an entry that could be read, and
		// no more is told of its file than that it could not be.
		l.Entries = merge(l.Entries, lost, called, "entry/same-name", new(source.Diagnostics))
	}
	l.regulated = byGenus(l.Regulated)
	l.Groups = apart(l.Groups, func(g *Group) *string { return &g.ID })
	l.Jobs = apart(l.Jobs, func(j *Job) *string { return &j.ID })
	keys := make(map[*Entry]string, len(l.Entries))
	for _, e := range l.Entries {
		keys[e] = e.Name.Value.SortKey() + "\x00" + e.ID
	}
	slices.SortFunc(l.Entries, func(a, b *Entry) int { return strings.Compare(keys[a], keys[b]) })
	slices.SortFunc(l.Jobs, func(a, b *Job) int { return strings.Compare(a.Name.Value, b.Name.Value) })
	l.synonyms(from, &ds)
	l.followed(&ds)
	// Entries are joined and weighed side by side: none looks at another.
	place, places := reference(), references()
	found := make([]source.Diagnostics, len(l.Entries))
	var all sync.WaitGroup
	const run = 64
	for first := 0; first < len(l.Entries); first += run {
		all.Go(func() {
			for i := first; i < min(first+run, len(l.Entries)); i++ {
				shelf := from[l.Entries[i].File]
				l.Entries[i] = l.joined(l.Entries[i], place, places, &found[i])
				l.Entries[i].shelf = shelf
			}
		})
	}
	all.Wait()
	for _, f := range found {
		ds = append(ds, f...)
	}
	l.served(&ds)
	return l, ds
}

// beside gives the entries of a shelf with those of one plant together: the first
// has what other contributors wrote of it in its Others. Two of one name by one
// contributor, or by nobody, stay as they are.
func beside(all []*Entry, ds *source.Diagnostics) []*Entry {
	first := map[string]int{} // place in out, by key
	var out []*Entry
	for _, e := range all {
		key := e.Name.Value.Key()
		i, again := first[key]
		if !again || e.Contributor == "" || out[i].Contributor == "" || out[i].wrote(e.Contributor) {
			if !again {
				first[key] = len(out)
			}
			out = append(out, e)
			continue
		}
		d := ds.Add(source.Note, "entry/beside", e.Name.Span, fmt.Sprintf("%s wrote of this plant too: a guide prints both, and any other booklet the first", out[i].Contributor))
		d.Related = []source.At[string]{{Value: "the first", Span: out[i].Name.Span}}
		c := *out[i]
		c.Others = append(slices.Clone(c.Others), e)
		out[i] = &c
	}
	return out
}

// wrote tells whether an entry, or one beside it, is by a contributor.
func (e *Entry) wrote(contributor string) bool {
	return e.Contributor == contributor || slices.ContainsFunc(e.Others, func(o *Entry) bool { return o.Contributor == contributor })
}

// joined is an entry filled from its group and weighed, and those beside it. It
// is a copy: the parsed entry stays as it was, so it can be joined again.
func (l *Library) joined(e *Entry, place *site.Climate, places []*site.Climate, ds *source.Diagnostics) *Entry {
	out := *e
	if e.glanced {
		out.reading = new(sync.Once)
		return &out
	}
	l.join(&out, ds)
	l.sense(&out, place, ds)
	l.order(&out, places, ds)
	out.Rules = slices.DeleteFunc(out.Rules, func(r Rule) bool { return r.absent })
	out.Others = make([]*Entry, len(e.Others))
	for i, o := range e.Others {
		out.Others[i] = l.joined(o, place, places, ds)
	}
	return &out
}

// merge adds the items of a later shelf that no earlier one has.
func merge[T any](have, add []T, key func(T) (string, source.Span), code string, ds *source.Diagnostics) []T {
	where := map[string]int{}
	for i, item := range have {
		name, _ := key(item)
		where[name] = i
	}
	before := len(have)
	for _, item := range add {
		name, span := key(item)
		if name == "" {
			continue // it has an error of its own
		}
		i, taken := where[name]
		switch {
		case !taken:
			where[name] = len(have)
			have = append(have, item)
		case i >= before:
			_, first := key(have[i])
			d := ds.Add(source.Error, code, span, "this name is taken by another file", "merge the two files or rename one")
			d.Related = []source.At[string]{{Value: "the other one", Span: first}}
		}
	}
	return have
}

// apart gives items whose IDs are all different: where files of one name lie in
// several folders, copies with a number.
func apart[T any](items []*T, id func(*T) *string) []*T {
	taken := map[string]bool{}
	for i, item := range items {
		if base := *id(item); taken[base] {
			c := *item
			for n := 2; taken[*id(&c)]; n++ {
				*id(&c) = fmt.Sprintf("%s-%d", base, n)
			}
			items[i] = &c
		}
		taken[*id(items[i])] = true
	}
	return items
}

// synonyms holds entries to each other: within one shelf no synonym is the name of
// another entry. What an earlier shelf calls a plant it is: an entry of a later one
// that bears the name of its synonym is the same plant, and steps back.
func (l *Library) synonyms(from map[*source.File]int, ds *source.Diagnostics) {
	by := map[string]*Entry{}
	for _, e := range l.Entries {
		if !e.lost {
			by[e.Name.Value.Key()] = e
		}
	}
	back := map[*Entry]bool{}
	for _, e := range l.Entries {
		for _, s := range e.Synonyms {
			o := by[s.Value.Key()]
			if o == nil || s.Value.Key() == "" {
				continue
			}
			switch mine, other := from[e.File], from[o.File]; {
			case mine < other:
				back[o] = true
			case mine == other:
				d := ds.Add(source.Error, "entry/synonym-taken", s.Span, fmt.Sprintf("the synonym %s is the name of another entry", s.Value), "take it out here, or merge the two entries")
				d.Related = []source.At[string]{{Value: "that entry", Span: o.Name.Span}}
			}
		}
	}
	l.Entries = slices.DeleteFunc(l.Entries, func(e *Entry) bool { return back[e] })
}

// join fills an entry with its group's rules.
func (l *Library) join(e *Entry, ds *source.Diagnostics) {
	own := e.Rules
	e.Rules = nil
	if name := e.GroupName.Value; name != "" {
		i := slices.IndexFunc(l.Groups, func(g *Group) bool { return g.Name.Value == name })
		if i < 0 {
			var known []string
			for _, g := range l.Groups {
				known = append(known, g.Name.Value)
			}
			hint := source.Mean(name, known)
			if hint == "" {
				hint = "sheaf library lists the care groups"
			}
			ds.Add(source.Error, "entry/no-such-group", e.GroupName.Span, fmt.Sprintf("there is no care group %q", name), hint)
		} else {
			e.Group = l.Groups[i]
			e.Stands = append(slices.Clone(e.Stands), e.Group.Stands...)
			l.fits(e, ds)
		}
	}
	without := func(job string) bool {
		return slices.ContainsFunc(e.Without, func(w source.At[string]) bool { return w.Value == job })
	}
	used := make([]bool, len(own))
	if e.Group != nil && !e.Group.lost {
		for _, r := range e.Group.Rules {
			if without(r.Job.Value) {
				continue
			}
			for i, o := range own {
				if !used[i] && o.Job.Value == r.Job.Value {
					r, used[i] = overlay(r, o), true
					break
				}
			}
			e.Rules = append(e.Rules, r)
		}
		for _, w := range e.Without {
			if !slices.ContainsFunc(e.Group.Rules, func(r Rule) bool { return r.Job.Value == w.Value }) {
				ds.Add(source.Error, "entry/without", w.Span, fmt.Sprintf("the care group %q has no rule %q to leave out", e.Group.Name.Value, w.Value))
			}
		}
	}
	// Of a group that is not there, or could not be read, nobody knows what it has.
	known := e.GroupName.Value == "" || e.Group != nil && !e.Group.lost
	for i, o := range own {
		if !used[i] {
			if o.Job.Value != "" && o.When.Value.IsZero() && o.When.Span.File == nil && known {
				ds.Add(source.Error, "entry/no-window", o.Job.Span, fmt.Sprintf("the rule %q has no window", o.Job.Value), `add "when: …"; only a rule the care group has too may leave it out`)
			}
			e.Rules = append(e.Rules, o)
		}
	}
}

func (l *Library) fits(e *Entry, ds *source.Diagnostics) {
	g := e.Group
	if g.Types != nil && e.Type != "" && !slices.Contains(g.Types, e.Type) {
		ds.Add(source.Error, "entry/group-type", e.GroupName.Span,
			fmt.Sprintf("the care group %q is for %s, and the type here is %s", g.Name.Value, strings.Join(g.Types, ", "), e.Type))
	}
	if g.Leaf != nil && e.Leaf != "" && !slices.Contains(g.Leaf, e.Leaf) {
		ds.Add(source.Error, "entry/group-leaf", e.GroupName.Span,
			fmt.Sprintf("the care group %q is for plants that are %s in winter, and this is %s", g.Name.Value, strings.Join(g.Leaf, " or "), e.Leaf))
	}
}

// FromGroup makes the entry of a plant that has no file of its own and is only
// known to belong to a care group and to flower at some time, which may be none.
// What every plant of its genus in the library can do to people, it is taken to
// do as well. Its size and looks are not known, and it is not drawn.
func (l *Library) FromGroup(g *Group, name source.At[names.Name], flowers source.At[site.Window]) *Entry {
	e := &Entry{
		File: g.File, ID: name.Value.Slug(), Name: name, Flowers: flowers, Group: g, Unmeasured: true,
		GroupName: g.Name, Rules: g.Rules, Stands: g.Stands, Sources: g.Sources, Body: g.Body, WrittenFor: g.WrittenFor,
	}
	if g.WrittenFor == site.South {
		e.Flowers.Value = flowers.Value.Turned() // a list has the months of the north
	}
	if len(g.Types) == 1 {
		e.Type = g.Types[0]
	}
	if len(g.Leaf) == 1 {
		e.Leaf = g.Leaf[0]
	}
	var like *Entry // what plants of the genus look like, by the entry that has all of it
	for _, o := range l.Entries {
		if name.Value.Genus == "" || !strings.EqualFold(o.Name.Value.Genus, name.Value.Genus) {
			continue
		}
		if s := o.Serves.Value; (s == ServesGenus || s == ServesUnknown) && like == nil {
			like = o
		}
		e.Kin = append(e.Kin, o)
		for _, h := range o.Hazards {
			if !slices.ContainsFunc(e.Hazards, func(have source.At[string]) bool { return have.Value == h.Value }) {
				e.Hazards = append(e.Hazards, h)
			}
		}
	}
	l.Fill(like)
	e.lookLike(like)
	return e
}

// lookLike gives an entry made of a group the looks of its genus: names, size and
// colours. When it flowers is not among them, as that of a genus is too long to date
// work by.
func (e *Entry) lookLike(like *Entry) {
	fits := func(of []string, word string) bool { return len(of) == 0 || slices.Contains(of, word) }
	if like == nil || !fits(e.Group.Types, like.Type) || !fits(e.Group.Leaf, like.Leaf) {
		return
	}
	e.Unmeasured = false
	e.Common, e.Type, e.Leaf, e.Habit, e.Head = like.Common, like.Type, like.Leaf, like.Habit, like.Head
	e.Height, e.FlowerHeight, e.Spread = like.Height, like.FlowerHeight, like.Spread
	e.LeafColour, e.FlowerColour = like.LeafColour, like.FlowerColour
}

// AsksFlowering is a rule of an entry that cannot be dated until it says when the
// plant flowers; false if there is none.
func (e *Entry) AsksFlowering() (*Rule, bool) {
	for i := range e.Rules {
		if e.Flowers.Value.IsZero() && e.hangsOnFlowering(&e.Rules[i]) {
			return &e.Rules[i], true
		}
	}
	return nil, false
}
