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
	Cultivar  Match = "cultivar"  // a cultivar that the list names with the genus alone
	Species   Match = "species"   // what is below a species on the species' entry
	Hybrids   Match = "hybrids"   // genus and cultivar, on the entry of the genus' hybrids
	Genus     Match = "genus"     // on an entry that serves all of the genus
	Cautious  Match = "cautious"  // on one that does what harms none of the genus
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
	Near  []*entries.Entry   // that may be meant, when none is taken or a cautious one
	Told  source.Diagnostics // each step on the way to the entry
	Bed   *Bed               // nil when the list names none
	// Mended is the entry that holds the care, while it is left out for its faults
	// and Entry is nil.
	Mended *entries.Entry
	Photo  *entries.Photo // nil: none
	// Typical says that it stands for any of its kind, long grown and in no bed of
	// its own, as in a guide.
	Typical bool

	// Guessed says that words of the row were read for others or left out, such as a
	// slip, an abbreviated genus, an English name, a remark.
	Guessed bool

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
	taken := make([]*entries.Entry, 0, len(out))
	for i := range out {
		taken = append(taken, out[i].Entry)
	}
	l.Fill(taken...)
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

// MatchRows matches rows with entries: by the exact name, a synonym, a cultivar of
// the genus, the species, a spelling of these, the care that the list gives, the entry
// of the genus' hybrids or of all the genus, and last the cautious entry. What the
// designer says in the list so comes before what would be guessed of a genus. A
// slip in a species comes before the genus as well: its entry says more, and what is
// right for all of the genus is right for it. A row that fits nothing is an error, or
// under partial a warning and a planting without entry.
func MatchRows(rows []Row, l *entries.Library, partial bool) ([]Planting, source.Diagnostics) {
	x := index(l)
	list := wordsOf(rows)
	out := make([]Planting, len(rows))
	var next atomic.Int64
	var all sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(rows)) {
		all.Go(func() {
			own := *x // its memory of the last genus
			for i := int(next.Add(1)) - 1; i < len(rows); i = int(next.Add(1)) - 1 {
				out[i] = own.match(rows[i], &list, i, partial)
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
func (x *keys) match(row Row, list *wordsOfList, at int, partial bool) Planting {
	p := Planting{Row: row, How: None}
	read := x.read(&row, list, at)
	name, repairs, err := names.Parse(read.text)
	if err != nil && read.text != row.Plant {
		read = reading{text: row.Plant}
		name, repairs, err = names.Parse(row.Plant)
	}
	p.Told, p.Guessed = read.told, read.guess || read.slip
	var fault *names.SyntaxError
	switch {
	case errors.As(err, &fault):
		p.tell(source.Warning, "list/name", fmt.Sprintf("%q cannot be read as a plant name: %s", row.Plant, fault.Message), fault.Hint)
	default:
		p.Name = name
		if read.slip {
			p.meant = name
		}
		if read.text == row.Plant { // else it is told what was read
			for _, r := range repairs {
				p.Told.Add(source.Note, "list/name-form", row.Span.Within(r.Offset, r.End), r.Message)
			}
		}
		x.find(&p)
		x.slipped(&p, &read)
	}
	// What the list says of this very plant goes before what is right for its genus.
	if row.Care.Value != "" && (p.How == None || p.How == Hybrids || p.How == Genus) {
		p.Entry, p.How = nil, None
		p.Told = slices.DeleteFunc(p.Told, func(d source.Diagnostic) bool { return d.Code == "list/genus" })
		x.byCare(&p, partial)
	}
	if p.How == None {
		x.cautiously(&p)
	}
	if p.How == None {
		x.uncovered(&p, partial)
	}
	return p
}

// slipped tells of a genus that was misspelt, and of all that was with it.
func (x *keys) slipped(p *Planting, read *reading) {
	i := slices.IndexFunc(p.Told, func(d source.Diagnostic) bool { return d.Code == "list/spelling" })
	if !read.slip || i < 0 {
		return
	}
	if j := slices.IndexFunc(p.Told[i+1:], func(d source.Diagnostic) bool { return d.Code == "list/spelling" }); j >= 0 {
		p.Told = slices.Delete(p.Told, i, i+1) // the other says the whole
		return
	}
	if p.How == Exact || p.How == Synonym {
		p.How = Spelling
	}
	if p.Entry != nil {
		p.Told[i].Message = fmt.Sprintf("%s is taken to be %s", p.Row.Plant, p.Called())
	}
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
			if !p.borrows() {
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
	is, of := calling(name), namesOf(p)
	return slices.ContainsFunc(of.own, is) || slices.ContainsFunc(of.also, is)
}

// borrows tells that the entry is not of this very plant, but of its species or
// genus: it does not look like it, and bears another name.
func (p *Planting) borrows() bool {
	switch p.How {
	case Cultivar, Species, Hybrids, Genus, Cautious, Group:
		return true
	}
	return false
}

// A step is one way to an entry: keys, and among what they are looked for.
type step struct {
	in   map[string][]*entries.Entry
	keys []string
	how  Match
	asks bool // it is taken only where nothing else fits alike
}

// find looks for the entry of a name that could be read. Under each heading the
// whole name comes before its parts, such as a selling name without the
// cultivar behind it.
func (x *keys) find(p *Planting) {
	n, g := p.Name, x.filed(names.Folded(p.Name.Genus))
	forms := n.Keys()
	alone := n.Species == "" && !n.IsGenus() && n.Hybrid != names.Formula // a cultivar with the genus alone
	var withGenus, below []string
	if n.Cultivar+n.Trade != "" {
		if withGenus = forms; !alone {
			bare := n
			bare.Species, bare.Rank, bare.Infra, bare.Hybrid = "", "", "", names.None
			withGenus = bare.Keys()
		}
	}
	if n.Infra != "" {
		below = []string{n.BinomialKey()}
	}
	var first []string
	if alone {
		first = withGenus
	}
	switch {
	case n.IsGenus():
	case x.try(p,
		step{g.exact, forms[:1], Exact, false},
		step{g.exact, forms[1:], Exact, false},
		step{g.synonym, forms[:1], Synonym, false},
		step{g.synonym, forms[1:], Synonym, false},
		step{g.cultivars, first, Cultivar, true}):
		return
	case n.Cultivar+n.Trade+n.Infra != "" && (x.speltBelow(p) || x.elsewhere(p, g)):
		return
	case x.try(p,
		step{g.species, []string{n.SpeciesKey()}, Species, false},
		step{g.species, below, Species, false},
		step{g.cultivars, withGenus, Cultivar, true}):
		return
	case n.Hybrid != names.Formula && x.spelt(p):
		return
	}
	if e := g.serving[entries.ServesHybrids]; alone && n.Cultivar+n.Trade+n.Group+n.Grex != "" && e != nil && !e.Excepts(n) {
		x.take(p, []*entries.Entry{e}, Hybrids)
		return
	}
	if e := g.serving[entries.ServesGenus]; e != nil && !e.Excepts(n) {
		x.take(p, []*entries.Entry{e}, Genus)
	}
}

// try takes the first step that leads to an entry.
func (x *keys) try(p *Planting, steps ...step) bool {
	for _, s := range steps {
		var fit []*entries.Entry
		for _, k := range s.keys {
			for _, e := range s.in[k] {
				if !slices.Contains(fit, e) && (s.how == Exact || !e.Excepts(p.Name)) {
					fit = append(fit, e)
				}
			}
		}
		if len(fit) > 0 && !(s.asks && len(fit) > 1) {
			x.take(p, fit, s.how)
			return true
		}
	}
	return false
}

// cautiously gives a planting what is right for all plants of a genus whose plants
// are kept in several ways, and asks in which way this one is.
func (x *keys) cautiously(p *Planting) {
	e := x.filed(names.Folded(p.Name.Genus)).serving[entries.ServesUnknown]
	if e == nil || e.Excepts(p.Name) {
		return
	}
	x.library.Fill(e) // for its question
	p.Entry, p.How = e, Cautious
	var answers []string
	if !p.Name.IsGenus() {
		if p.Near = x.near(forms(p), veryNear); len(p.Near) > 0 {
			answers = append(answers, "did you mean "+called(p.Near, "or")+"?")
		}
	}
	for _, a := range e.Asks.Answers {
		answers = append(answers, fmt.Sprintf("%s: write %q in the column care", a.Text, a.Care.Value))
	}
	p.tell(source.Warning, "list/cautious", fmt.Sprintf("%s is given only what is safe for every %s: %s", p.Label(), p.Name.Genus, e.Asks.Text), answers...)
}

// mostFits is how many entries are named that fit a row alike.
const mostFits = 6

// take gives a planting the one entry that fits. Several that fit alike are an
// error: the choice is the designer's.
func (x *keys) take(p *Planting, fit []*entries.Entry, how Match) {
	e := fit[0]
	if how == Cultivar && e.Name.Value.Cultivar+e.Name.Value.Trade != "" && len(e.Cultivars) == 0 {
		how = Synonym // the very plant, without its species
	}
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
	case Cultivar:
		p.tell(source.Note, "list/cultivar", fmt.Sprintf("%s is given the care of %s, whose cultivar it is", p.Called(), e.Name.Value))
	case Hybrids, Genus:
		meant := x.orCultivar(p)
		p.Guessed = p.Guessed || meant != ""
		why := "%s has no entry of its own and is given the care of all %s"
		if p.Name.IsGenus() {
			why = "%s is given the care of all %s, as the list names no kind"
		}
		p.tell(source.Note, "list/genus", fmt.Sprintf(why, p.Called(), e.Name.Value.Genus), meant)
	}
}

// orCultivar asks after a cultivar with an entry of its own that is spelt much
// alike: a misspelt cultivar is given the care of its species before that, and a
// misspelt species that of its genus.
func (x *keys) orCultivar(p *Planting) string {
	for _, e := range x.near(p.Name.Keys(), veryNear) {
		// Of a genus, a species that is spelt much alike.
		alike := p.How == Genus && p.Name.Species != "" && !e.Name.Value.IsGenus()
		if e != p.Entry && (alike || e.Name.Value.SpeciesKey() == p.Entry.Name.Value.SpeciesKey()) {
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
func (x *keys) spelt(p *Planting) bool {
	forms := p.Name.Keys()
	found := x.mend(forms, false)
	if len(found) == 1 {
		p.Entry, p.How, p.Guessed = found[0].entry, Spelling, true
		of := found[0].name
		if slices.ContainsFunc(p.Entry.Cultivars, func(c source.At[names.Name]) bool {
			return c.Value.Cultivar == of.Cultivar && c.Value.Trade == of.Trade
		}) {
			p.meant, p.How = of, Cultivar
			p.meant.Genus = p.Name.Genus
			if p.Name.Genus != of.Genus && !x.held(names.Folded(p.Name.Genus)) {
				p.meant.Genus = titled(of.Genus)
			}
		}
		p.tell(source.Warning, "list/spelling", fmt.Sprintf("%s is taken to be %s", p.Row.Plant, p.Called()), ifRight)
		return true
	}
	key := p.Name.SpeciesKey()
	if len(found) > 0 || key == "" || key == forms[0] {
		return false
	}
	if found = x.mend([]string{key}, true); len(found) != 1 {
		return false
	}
	p.meant, p.Guessed = p.Name, true
	of := found[0].name
	p.meant.Hybrid, p.meant.Genus, p.meant.Species, p.meant.Rank, p.meant.Infra = of.Hybrid, of.Genus, of.Species, of.Rank, of.Infra
	p.tell(source.Warning, "list/spelling", fmt.Sprintf("%s is taken to be %s", p.Row.Plant, p.meant), ifRight)
	x.take(p, []*entries.Entry{found[0].entry}, Species)
	return true
}

// speltBelow takes what is below a species for the one with an entry of its own that
// is a slip away, before the species: 'Mid Winter Fire' is pruned as 'Midwinter Fire'
// and not as a common dogwood.
func (x *keys) speltBelow(p *Planting) bool {
	whole := func(n names.Name) bool { return n.Cultivar+n.Trade+n.Infra == "" }
	found := slices.DeleteFunc(x.mend(p.Name.Keys(), false), func(s spelling) bool { return whole(s.name) || whole(s.entry.Name.Value) })
	if len(found) != 1 {
		return false
	}
	p.Entry, p.How, p.Guessed = found[0].entry, Spelling, true
	p.tell(source.Warning, "list/spelling", fmt.Sprintf("%s is taken to be %s", p.Row.Plant, p.Called()), ifRight)
	return true
}

// elsewhere takes a cultivar that stands below the wrong species in the list, and is
// one of another entry of the genus: 'Grosso' is no Lavandula angustifolia. Epithets
// that recur in a genus tell nothing.
func (x *keys) elsewhere(p *Planting, g *genus) bool {
	n := p.Name
	if n.Cultivar+n.Trade == "" || looks.MatchString(n.Cultivar) {
		return false
	}
	own := names.Name{Genus: n.Genus, Cultivar: n.Cultivar, Trade: n.Trade}
	fit := g.cultivars[own.Key()]
	if len(fit) != 1 || fit[0].Excepts(n) || fit[0].Serves.Value != "" {
		return false
	}
	for _, key := range []string{n.SpeciesKey(), n.BinomialKey()} {
		if slices.Contains(g.species[key], fit[0]) {
			return false
		}
	}
	x.take(p, fit, Cultivar)
	p.Guessed = true
	return true
}

const ifRight = "correct the list if that is right, or write an entry if it is not"

// byCare gives a planting the care of a group: an entry made of that, of the
// hazards of its genus, and of what the list says of its flowers.
func (x *keys) byCare(p *Planting, partial bool) {
	care := p.Row.Care
	group := x.library.Group(care.Value)
	if group == nil {
		if e := x.library.Called(care.Value); e != nil {
			p.Entry, p.How = e, Group
			p.tell(source.Note, "list/species", fmt.Sprintf("%s is given the care of %s, as the list says", p.Label(), e.Name.Value))
			return
		}
		var known []string
		for _, g := range x.library.Groups {
			known = append(known, g.Name.Value)
		}
		p.Told.Add(source.Error, "list/care", care.Span, fmt.Sprintf("there is no care group %q", care.Value), source.Mean(care.Value, known))
		return
	}
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
	if p.Near = x.near(forms(p), far); len(p.Near) == 0 {
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
	case p.borrows():
		return p.Name
	case p.How == Synonym && p.Name.Cultivar+p.Name.Trade != "" && p.Entry.Name.Value.Cultivar+p.Entry.Name.Value.Trade == "":
		n := p.Entry.Name.Value // Sedum ‘Matrona’ is more than an orpine
		n.Cultivar, n.Trade = p.Name.Cultivar, p.Name.Trade
		return n
	}
	return p.Entry.Name.Value
}
