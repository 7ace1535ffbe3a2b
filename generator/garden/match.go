package garden

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"sheaf/generator/entries"
	"sheaf/generator/names"
	"sheaf/generator/source"
)

// Match is how a planting came to its entry.
type Match string

const (
	Exact    Match = "exact"
	Synonym  Match = "synonym"
	Species  Match = "species"  // a cultivar on its species' entry
	Spelling Match = "spelling" // the unique name within two letters
	Group    Match = "group"    // care named in the list itself
	None     Match = "none"
)

// A Planting is a row of the list with the entry that holds its care.
type Planting struct {
	Row   Row
	Name  names.Name // as read; zero when it cannot be read as a name
	Entry *entries.Entry
	How   Match
	Bed   *Bed           // nil when the list names none
	Photo *entries.Photo // nil: none
}

// Label is the plant's name as the list means it.
func (p *Planting) Label() string {
	if p.Name.IsZero() {
		return p.Row.Plant
	}
	return p.Name.String()
}

// Find matches every row with an entry, in the order of DESIGN 6: exact name,
// synonym, cultivar to species, spelling, care group. A row that fits nothing
// is an error, or under partial a warning and a planting without entry.
func Find(g *Garden, l *entries.Library, partial bool) ([]Planting, source.Diagnostics) {
	var ds source.Diagnostics
	x := index(l)
	var out []Planting
	for _, row := range g.Rows {
		p := Planting{Row: row, How: None}
		name, repairs, err := names.Parse(row.Plant)
		var fault *names.SyntaxError
		switch {
		case errors.As(err, &fault):
			ds.Add(source.Warning, "list/name", row.Span, fmt.Sprintf("%q cannot be read as a plant name: %s", row.Plant, fault.Message), fault.Hint)
		default:
			p.Name = name
			for _, r := range repairs {
				ds.Add(source.Note, "list/name-form", row.Span.Within(r.Offset, r.End), r.Message)
			}
			p.Entry, p.How = x.find(name, row, &ds)
		}
		if p.Entry == nil && row.Care.Value != "" {
			p.Entry, p.How = x.byCare(row, p.Name)
			if p.Entry == nil {
				ds.Add(source.Error, "list/care", row.Care.Span, fmt.Sprintf("there is no care group %q", row.Care.Value), source.Mean(row.Care.Value, x.groups))
			}
		}
		if p.Entry == nil {
			severity := source.Error
			if partial {
				severity = source.Warning
			}
			ds.Add(severity, "list/uncovered", row.Span, fmt.Sprintf("no entry covers %s", row.Plant), x.nearest(name),
				"write an entry in the garden's plants folder, or name a care group in a column \"care\"")
		}
		if row.Bed.Value != "" {
			if p.Bed = g.BedNamed(row.Bed.Value); p.Bed == nil {
				var known []string
				for _, b := range g.Beds {
					known = append(known, b.Name)
				}
				ds.Add(source.Error, "list/no-such-bed", row.Bed.Span, fmt.Sprintf("the garden has no bed %q", row.Bed.Value), source.Mean(row.Bed.Value, known))
			}
		}
		out = append(out, p)
	}
	g.show(out, &ds)
	return out, ds
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

type keys struct {
	exact, synonym, species map[string][]*entries.Entry
	all                     []string // every exact and synonym key, sorted
	groups                  []string
	library                 *entries.Library
}

func index(l *entries.Library) *keys {
	x := &keys{exact: map[string][]*entries.Entry{}, synonym: map[string][]*entries.Entry{}, species: map[string][]*entries.Entry{}, library: l}
	put := func(m map[string][]*entries.Entry, key string, e *entries.Entry) {
		if key != "" && !slices.Contains(m[key], e) {
			m[key] = append(m[key], e)
		}
	}
	for _, e := range l.Entries {
		for _, k := range e.Name.Value.Keys() {
			put(x.exact, k, e)
		}
		// An entry for a species, not one for a cultivar, answers for the
		// species' other cultivars.
		for _, n := range append([]source.At[names.Name]{e.Name}, e.Synonyms...) {
			if n.Value.Cultivar == "" && n.Value.Trade == "" {
				put(x.species, n.Value.SpeciesKey(), e)
			}
		}
		for _, s := range e.Synonyms {
			for _, k := range s.Value.Keys() {
				put(x.synonym, k, e)
			}
		}
	}
	for _, m := range []map[string][]*entries.Entry{x.exact, x.synonym} {
		for k := range m {
			x.all = append(x.all, k)
		}
	}
	slices.Sort(x.all)
	x.all = slices.Compact(x.all)
	for _, g := range l.Groups {
		x.groups = append(x.groups, g.Name.Value)
	}
	return x
}

func (x *keys) find(n names.Name, row Row, ds *source.Diagnostics) (*entries.Entry, Match) {
	for _, step := range []struct {
		in   map[string][]*entries.Entry
		keys []string
		how  Match
	}{
		{x.exact, n.Keys(), Exact},
		{x.synonym, n.Keys(), Synonym},
		{x.species, []string{n.SpeciesKey()}, Species},
	} {
		for _, k := range step.keys {
			if e := x.one(step.in[k], row, ds); e != nil {
				switch {
				case len(step.in[k]) > 1: // told as an error
				case step.how == Synonym:
					ds.Add(source.Note, "list/synonym", row.Span, fmt.Sprintf("%s is read as %s, its name in the library", n, e.Name.Value))
				case step.how == Species:
					ds.Add(source.Note, "list/species", row.Span, fmt.Sprintf("%s has no entry of its own and is given the care of %s", n, e.Name.Value))
				}
				return e, step.how
			}
		}
	}
	return x.spelt(n, row, ds)
}

// one gives the entry of a list of one. Several that fit alike are an error:
// the choice is the designer's.
func (x *keys) one(es []*entries.Entry, row Row, ds *source.Diagnostics) *entries.Entry {
	if len(es) > 1 {
		d := ds.Add(source.Error, "list/ambiguous", row.Span, fmt.Sprintf("%s fits %d entries alike", row.Plant, len(es)), "write the full name, with its cultivar or subspecies")
		for _, e := range es {
			d.Related = append(d.Related, source.At[string]{Value: e.Name.Value.String(), Span: e.Name.Span})
		}
	}
	if len(es) == 0 {
		return nil
	}
	return es[0]
}

// slips is how many letters a misspelt name may be off.
const slips = 2

// spelt finds the one key within two letters. The genus alone never counts.
func (x *keys) spelt(n names.Name, row Row, ds *source.Diagnostics) (*entries.Entry, Match) {
	if n.SpeciesKey() == "" && n.Cultivar == "" {
		return nil, None
	}
	for _, key := range []string{n.Key(), n.SpeciesKey()} {
		if key == "" {
			continue
		}
		best, found := slips+1, map[*entries.Entry]bool{}
		for _, k := range x.all {
			d := source.Edits(key, k)
			if d > best || d > slips {
				continue
			}
			if d < best {
				best = d
				clear(found)
			}
			for _, e := range append(slices.Clone(x.exact[k]), x.synonym[k]...) {
				found[e] = true
			}
		}
		if len(found) == 1 {
			for e := range found {
				ds.Add(source.Warning, "list/spelling", row.Span, fmt.Sprintf("%s is taken to be %s", row.Plant, e.Name.Value), "correct the list if that is right, or write an entry if it is not")
				return e, Spelling
			}
		}
	}
	return nil, None
}

// byCare gives a planting the care of a group: an entry made of nothing else.
func (x *keys) byCare(row Row, n names.Name) (*entries.Entry, Match) {
	i := slices.IndexFunc(x.library.Groups, func(g *entries.Group) bool { return strings.EqualFold(g.Name.Value, row.Care.Value) })
	if i < 0 {
		return nil, None
	}
	return entries.FromGroup(x.library.Groups[i], source.At[names.Name]{Value: n, Span: row.Span}), Group
}

// nearest hints at the names that look most alike.
func (x *keys) nearest(n names.Name) string {
	key := n.Key()
	if key == "" {
		return ""
	}
	type near struct {
		edits int
		name  string
	}
	var all []near
	for _, e := range x.library.Entries {
		d := source.Edits(key, e.Name.Value.Key())
		if strings.EqualFold(e.Name.Value.Genus, n.Genus) {
			d -= 8 // a plant of the same genus is worth a look before one that only sounds alike
		}
		all = append(all, near{d, e.Name.Value.String()})
	}
	slices.SortFunc(all, func(a, b near) int { return cmp.Or(cmp.Compare(a.edits, b.edits), cmp.Compare(a.name, b.name)) })
	var words []string
	for _, a := range all[:min(3, len(all))] {
		if a.edits <= len(key)/2 {
			words = append(words, a.name)
		}
	}
	if words == nil {
		return ""
	}
	return "nearest in the library: " + strings.Join(words, "; ")
}

// Called is the name a planting goes by in the booklet: the entry's own for a
// synonym or a slip of the pen, the list's for a cultivar without an entry.
func (p *Planting) Called() names.Name {
	if p.How == Species || p.How == Group {
		return p.Name
	}
	return p.Entry.Name.Value
}
