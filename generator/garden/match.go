package garden

import (
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"unicode"

	"sheaf/generator/entries"
	"sheaf/generator/names"
	"sheaf/generator/site"
	"sheaf/generator/source"
)

// Match is how a planting came to its entry.
type Match string

const (
	Exact     Match = "exact"
	Synonym   Match = "synonym"
	Species   Match = "species"   // a cultivar on its species' entry
	Spelling  Match = "spelling"  // a name misspelt, see [speller]
	Group     Match = "group"     // care named in the list itself
	Ambiguous Match = "ambiguous" // two entries fit alike, and neither is taken
	None      Match = "none"
)

// A Planting is a row of the list with the entry that holds its care.
type Planting struct {
	Row   Row
	Name  names.Name // as read; zero when it cannot be read as a name
	Entry *entries.Entry
	How   Match
	Near  []*entries.Entry   // that may be meant, when none is taken
	Told  source.Diagnostics // each step on the way to the entry
	Bed   *Bed               // nil when the list names none
	// Mended is the entry that holds the care, while it is left out for its faults
	// and Entry is nil.
	Mended *entries.Entry
	Photo  *entries.Photo // nil: none
	// Typical says that it stands for any of its kind, long grown and in no bed of
	// its own, as in a guide.
	Typical bool

	meant names.Name // Name as it should be spelt, of a cultivar on its species' entry
}

// Label is the plant's name as the list means it.
func (p *Planting) Label() string {
	if p.Name.IsZero() {
		return p.Row.Plant
	}
	return p.Name.String()
}

// Find matches every row with an entry, as [MatchRows] does, and gives it its
// bed and photograph.
func Find(g *Garden, l *entries.Library, partial bool) ([]Planting, source.Diagnostics) {
	out, ds := MatchRows(g.Rows, l, partial)
	for i := range out {
		p := &out[i]
		if p.Row.Bed.Value == "" {
			continue
		}
		if p.Bed = g.BedNamed(p.Row.Bed.Value); p.Bed == nil {
			var known []string
			for _, b := range g.Beds {
				known = append(known, b.Name)
			}
			ds.Add(source.Error, "list/no-such-bed", p.Row.Bed.Span, fmt.Sprintf("the garden has no bed %q", p.Row.Bed.Value), source.Mean(p.Row.Bed.Value, known))
		}
	}
	g.show(out, &ds)
	return out, ds
}

// MatchRows matches rows with entries, in the order of DESIGN 6: exact name,
// synonym, cultivar to species, spelling, care group. A row that fits nothing
// is an error, or under partial a warning and a planting without entry.
func MatchRows(rows []Row, l *entries.Library, partial bool) ([]Planting, source.Diagnostics) {
	x := index(l)
	out := make([]Planting, len(rows))
	var next atomic.Int64
	var all sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(rows)) {
		all.Go(func() {
			own := *x // its memory of the last genus
			for i := int(next.Add(1)) - 1; i < len(rows); i = int(next.Add(1)) - 1 {
				out[i] = own.match(rows[i], partial)
			}
		})
	}
	all.Wait()
	var ds source.Diagnostics
	for i := range out {
		ds = append(ds, out[i].Told...)
	}
	return out, ds
}

// match takes one row through all steps.
func (x *keys) match(row Row, partial bool) Planting {
	p := Planting{Row: row, How: None}
	name, repairs, err := names.Parse(row.Plant)
	var fault *names.SyntaxError
	switch {
	case errors.As(err, &fault):
		p.tell(source.Warning, "list/name", fmt.Sprintf("%q cannot be read as a plant name: %s", row.Plant, fault.Message), fault.Hint)
	default:
		p.Name = name
		for _, r := range repairs {
			p.Told.Add(source.Note, "list/name-form", row.Span.Within(r.Offset, r.End), r.Message)
		}
		x.find(&p)
	}
	if p.How == None && row.Care.Value != "" {
		x.byCare(&p, partial)
	}
	if p.How == None {
		x.uncovered(&p, partial)
	}
	return p
}

// tell adds a message about the planting's row.
func (p *Planting) tell(severity source.Severity, code, message string, hints ...string) *source.Diagnostic {
	return p.Told.Add(severity, code, p.Row.Span, message, hints...)
}

// show gives each planting its photograph: the garden's own, else its entry's.
// A cultivar that only borrows the care of its species does not look like it
// and is not shown by the species' photograph.
func (g *Garden) show(plantings []Planting, ds *source.Diagnostics) {
	var known []string
	for i := range plantings {
		if p := &plantings[i]; p.Entry != nil {
			known = append(known, p.Called().Plain())
			if p.How != Species {
				p.Photo = p.Entry.Photo
			}
		}
	}
	shown := map[*Planting]bool{}
	for _, photo := range g.Photos {
		if photo.Plant.Value == "" {
			continue // told as a missing key
		}
		found, before := false, false
		for i := range plantings {
			if p := &plantings[i]; p.goesBy(photo.Plant.Value) {
				found, before = true, before || shown[p]
				p.Photo, shown[p] = photo.Photo, true
			}
		}
		switch {
		case !found:
			ds.Add(source.Warning, "garden/photo", photo.Plant.Span, fmt.Sprintf("the garden has no plant %q to show", photo.Plant.Value), source.Mean(photo.Plant.Value, known))
		case before:
			ds.Add(source.Warning, "garden/photo", photo.Plant.Span, fmt.Sprintf("%s has a photograph already; this one is shown", photo.Plant.Value))
		}
	}
}

// goesBy tells whether a name is one of the planting's: as the list or the
// booklet has it, a synonym, or a common name.
func (p *Planting) goesBy(name string) bool {
	if p.Entry == nil {
		return false
	}
	if slices.ContainsFunc(p.Entry.Common, func(c string) bool { return strings.EqualFold(c, name) }) {
		return true
	}
	own := []names.Name{p.Name, p.Called()}
	if p.How != Species { // synonyms are the species'
		for _, s := range p.Entry.Synonyms {
			own = append(own, s.Value)
		}
	}
	wanted, _, err := names.Parse(name)
	return err == nil && slices.ContainsFunc(own, func(n names.Name) bool { return n.Key() == wanted.Key() })
}

// keys holds the entries by the keys of their names (see [names.Name.Key]).
type keys struct {
	exact, synonym, species map[string][]*entries.Entry
	library                 *entries.Library
	speller
}

func index(l *entries.Library) *keys {
	x := &keys{exact: map[string][]*entries.Entry{}, synonym: map[string][]*entries.Entry{}, species: map[string][]*entries.Entry{}, library: l}
	x.speller = speller{letters: letters(), all: map[string]*genus{}, epithets: map[string]bool{}}
	put := func(m map[string][]*entries.Entry, key string, e *entries.Entry) {
		if key != "" && !slices.Contains(m[key], e) {
			m[key] = append(m[key], e)
		}
	}
	for _, e := range l.Entries {
		for i, n := range append([]source.At[names.Name]{e.Name}, e.Synonyms...) {
			of := x.synonym
			if i == 0 {
				of = x.exact
			}
			for _, k := range n.Value.Keys() {
				put(of, k, e)
			}
			// An entry for a species, not one for a cultivar or a Group,
			// answers for the species' other cultivars.
			if n.Value.Key() == n.Value.SpeciesKey() {
				put(x.species, n.Value.SpeciesKey(), e)
			}
			x.learn(n.Value, e)
		}
	}
	return x
}

// find looks for the entry of a name that could be read. Under each heading the
// whole name comes before its parts, such as a selling name without the
// cultivar behind it.
func (x *keys) find(p *Planting) {
	n := p.Name
	if n.IsGenus() {
		return
	}
	forms := n.Keys()
	for _, step := range []struct {
		in   map[string][]*entries.Entry
		keys []string
		how  Match
	}{
		{x.exact, forms[:1], Exact},
		{x.exact, forms[1:], Exact},
		{x.synonym, forms[:1], Synonym},
		{x.synonym, forms[1:], Synonym},
		{x.species, []string{n.SpeciesKey()}, Species},
	} {
		var fit []*entries.Entry
		for _, k := range step.keys {
			for _, e := range step.in[k] {
				if !slices.Contains(fit, e) {
					fit = append(fit, e)
				}
			}
		}
		if len(fit) > 0 {
			x.take(p, fit, step.how)
			return
		}
	}
	if n.Hybrid != names.Formula {
		x.spelt(p)
	}
}

// mostFits is how many entries are named that fit a row alike.
const mostFits = 6

// take gives a planting the one entry that fits. Several that fit alike are an
// error: the choice is the designer's.
func (x *keys) take(p *Planting, fit []*entries.Entry, how Match) {
	e := fit[0]
	if n := len(fit); n > 1 {
		names := called(fit, "and")
		if n > mostFits {
			fit = fit[:mostFits]
			names = called(fit, "and") + ", and more"
		}
		p.How, p.Near = Ambiguous, fit
		d := p.tell(source.Error, "list/ambiguous", fmt.Sprintf("%s fits %d entries alike: %s", p.Row.Plant, n, names),
			"write in the list the one that is meant, as its entry has it")
		for _, e := range fit {
			d.Related = append(d.Related, source.At[string]{Value: e.Name.Value.String(), Span: e.Name.Span})
		}
		return
	}
	p.Entry, p.How = e, how
	switch how {
	case Synonym:
		p.tell(source.Note, "list/synonym", fmt.Sprintf("%s is read as %s, its name in the library", p.Name, e.Name.Value))
	case Species:
		p.tell(source.Note, "list/species", fmt.Sprintf("%s has no entry of its own and is given the care of %s", p.Called(), e.Name.Value), x.orCultivar(p))
	}
}

// orCultivar asks after a cultivar with an entry of its own that is spelt much
// alike: a misspelt cultivar is given the care of its species before that.
func (x *keys) orCultivar(p *Planting) string {
	for _, e := range x.near(p.Name.Keys()) {
		if e != p.Entry && e.Name.Value.SpeciesKey() == p.Entry.Name.Value.SpeciesKey() {
			return fmt.Sprintf("did you mean %s?", e.Name.Value)
		}
	}
	return ""
}

// called lists entries by name.
func called(es []*entries.Entry, and string) string {
	var words []string
	for _, e := range es {
		words = append(words, e.Name.Value.String())
	}
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " " + and + " " + words[n-1]
	}
	return strings.Join(words, "")
}

// spelt finds the one name that is meant by a misspelt one: the whole of it or,
// for a cultivar, its species.
func (x *keys) spelt(p *Planting) {
	forms := p.Name.Keys()
	found := x.mend(forms, false)
	if len(found) == 1 {
		p.Entry, p.How = found[0].entry, Spelling
		p.tell(source.Warning, "list/spelling", fmt.Sprintf("%s is taken to be %s", p.Row.Plant, p.Entry.Name.Value), ifRight)
		return
	}
	key := p.Name.SpeciesKey()
	if len(found) > 0 || key == "" || key == forms[0] {
		return
	}
	if found = x.mend([]string{key}, true); len(found) == 1 {
		p.meant = p.Name
		of := found[0].name
		p.meant.Hybrid, p.meant.Genus, p.meant.Species, p.meant.Rank, p.meant.Infra = of.Hybrid, of.Genus, of.Species, of.Rank, of.Infra
		p.tell(source.Warning, "list/spelling", fmt.Sprintf("%s is taken to be %s", p.Row.Plant, p.meant), ifRight)
		x.take(p, []*entries.Entry{found[0].entry}, Species)
	}
}

const ifRight = "correct the list if that is right, or write an entry if it is not"

// byCare gives a planting the care of a group: an entry made of that, of the
// hazards of its genus, and of what the list says of its flowers.
func (x *keys) byCare(p *Planting, partial bool) {
	care := p.Row.Care
	i := slices.IndexFunc(x.library.Groups, func(g *entries.Group) bool { return strings.EqualFold(g.Name.Value, care.Value) })
	if i < 0 {
		var known []string
		for _, g := range x.library.Groups {
			known = append(known, g.Name.Value)
		}
		p.Told.Add(source.Error, "list/care", care.Span, fmt.Sprintf("there is no care group %q", care.Value), source.Mean(care.Value, known))
		return
	}
	group := x.library.Groups[i]
	p.Entry, p.How = x.library.FromGroup(group, source.At[names.Name]{Value: p.Name, Span: p.Row.Span}, p.flowers()), Group
	switch hazards := p.Entry.Hazards; {
	case len(p.Entry.Kin) == 0:
		p.tell(source.Warning, "list/no-hazards", fmt.Sprintf("nothing is known of what %s can do to people and animals, as the library has no %s", p.Label(), p.Name.Genus),
			"find out, and write an entry if it is poisonous, sharp or bad for the skin")
	case len(hazards) > 0:
		var words []string
		for _, h := range hazards {
			words = append(words, h.Value)
		}
		p.tell(source.Note, "list/hazards", fmt.Sprintf("%s is taken to be as harmful as the library's other %s: %s", p.Label(), p.Name.Genus, strings.Join(words, ", ")))
	}
	if r, asks := p.Entry.AsksFlowering(); asks {
		severity := source.Error
		if partial {
			severity = source.Warning
		}
		d := p.tell(severity, "list/flowering", fmt.Sprintf("%q hangs on when %s flowers, and the list does not say", r.Job.Value, p.Label()),
			`add a column "flowers", such as April to May in months of the north`)
		d.Related = []source.At[string]{{Value: "the care group's rule", Span: r.When.Span}}
	}
}

// flowers reads when a row's plant flowers, where the list says so.
func (p *Planting) flowers() source.At[site.Window] {
	said := p.Row.Flowers
	if said.Value == "" {
		return source.At[site.Window]{}
	}
	w, err := site.ParseWindow(said.Value)
	if err != nil || w.UsesCues() {
		p.Told.Add(source.Error, "list/flowering", said.Span, fmt.Sprintf("%q does not say when a plant flowers", said.Value), "write months, such as April to May")
		return source.At[site.Window]{}
	}
	return source.At[site.Window]{Value: w, Span: said.Span}
}

// uncovered tells of a row without an entry, and what may be meant.
func (x *keys) uncovered(p *Planting, partial bool) {
	severity, hint := source.Error, ""
	if partial {
		severity = source.Warning
	}
	if p.Near = x.near(forms(p)); len(p.Near) == 0 {
		p.Near = x.kin(p.Name.Key())
	}
	switch same := x.ofGenus(p.Name.Genus); {
	case len(p.Near) > 0:
		hint = "did you mean " + called(p.Near, "or") + "?"
	case p.Name.IsGenus():
		hint = "a genus alone does not say how a plant is cared for: write its species"
		if len(same) == 0 { // perhaps no genus at all
			hint += fmt.Sprintf("; if it is a bed, write %q", "Bed: "+p.Row.Plant)
		}
	case len(same) > 0:
		hint = "of the same genus: " + called(same, "and")
	}
	p.tell(severity, "list/uncovered", "no entry covers "+p.Row.Plant, hint,
		"write an entry in the garden's plants folder, or name a care group in a column \"care\"")
}

// forms gives the keys by which to look for what a row may mean. One that could
// not be read is looked for by its letters, and by its first two words.
func forms(p *Planting) []string {
	if !p.Name.IsZero() {
		return append(p.Name.Keys(), p.Name.SpeciesKey())
	}
	words := strings.FieldsFunc(strings.ToLower(p.Row.Plant), func(r rune) bool { return !unicode.IsLetter(r) })
	return []string{strings.Join(words, " "), strings.Join(words[:min(2, len(words))], " ")}
}

// ofGenus gives some entries of a genus: none is meant, but one may serve as a
// model.
func (x *keys) ofGenus(genus string) []*entries.Entry {
	var out []*entries.Entry
	for _, e := range x.library.Entries {
		if len(out) == mostNear || genus == "" {
			break
		}
		if strings.EqualFold(e.Name.Value.Genus, genus) {
			out = append(out, e)
		}
	}
	return out
}

// Called is the name a planting goes by in the booklet: the entry's own for a
// synonym or a slip of the pen, the list's for a cultivar without an entry.
func (p *Planting) Called() names.Name {
	switch {
	case !p.meant.IsZero():
		return p.meant
	case p.How == Species || p.How == Group:
		return p.Name
	}
	return p.Entry.Name.Value
}
