package generator

import (
	"fmt"
	"maps"
	"slices"

	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/names"
	"sheaf/generator/source"
)

// Authors are the entries that were read, by the paths of their files as
// messages have them. Those are in it that could not be read.
type Authors map[string]Author

// An Author is who wrote an entry.
type Author struct {
	Contributor string // "" when the entry names nobody
	// File is the entry's path in its library, by which who wrote it knows it:
	// plants/sesleria.md, wherever on this machine that library is.
	File string

	entry *entries.Entry // nil when the file could not be opened
}

// A Contribution is what is wrong with the entries of one contributor.
type Contribution struct {
	Contributor string             `json:"contributor"` // "" for what no contributor can mend
	Entries     int                `json:"entries"`     // how many of theirs are told of
	Faults      source.Diagnostics `json:"faults"`      // errors and warnings, in order

	Files int `json:"-"` // how many files are told of: of "" also others than entries
}

// ByContributor sorts errors and warnings by who can mend them, in the order of
// their names; what is nobody's comes last, with the faults of all files that are
// no entries.
func (a Authors) ByContributor(ds source.Diagnostics) []Contribution {
	by := map[string]*Contribution{}
	files := map[string]map[string]bool{}
	for _, d := range ds.Sorted() {
		// That an entry is left out is the editor's concern, and for the contributor
		// its faults say why.
		if d.Severity == source.Note || d.Code == "entry/left-out" {
			continue
		}
		path := ""
		if d.Span.File != nil {
			path = d.Span.File.Path
		}
		author, entry := a[path]
		c := by[author.Contributor]
		if c == nil {
			c = &Contribution{Contributor: author.Contributor}
			by[author.Contributor], files[author.Contributor] = c, map[string]bool{}
		}
		c.Faults = append(c.Faults, d)
		if seen := files[author.Contributor]; path != "" && !seen[path] {
			seen[path] = true
			c.Files++
			if entry {
				c.Entries++
			}
		}
	}
	out := []Contribution{}
	for _, c := range by {
		out = append(out, *c)
	}
	order := names.NewOrder("en")
	slices.SortFunc(out, func(a, b Contribution) int {
		if nobody := a.Contributor == ""; nobody != (b.Contributor == "") {
			if nobody {
				return 1
			}
			return -1
		}
		return order.Compare(a.Contributor, b.Contributor)
	})
	return out
}

// Contributors are who wrote the entries of the plants, with how many each.
func (p *Plan) Contributors() []string {
	many := map[string]int{}
	for _, q := range p.Plantings {
		if q.Entry == nil {
			continue
		}
		for _, e := range append([]*entries.Entry{q.Entry}, q.Entry.Others...) {
			if e.Contributor != "" {
				many[e.Contributor]++
			}
		}
	}
	var out []string
	for _, name := range slices.Sorted(maps.Keys(many)) {
		out = append(out, fmt.Sprintf("%s: %d", name, many[name]))
	}
	return out
}

// leaveOut takes the entries that have errors out of a partial build: the errors
// are set aside, each entry is told of once, and plantings that need one become
// gaps. What is wrong in any other file is still in the way.
//
// Rows are matched before, by all names there are: a row that means an entry
// with a fault must not be given the care of its species, or another library's
// entry of that name, as if the one with the fault had never been written.
//
// Where contributors wrote of one plant side by side, the first without a fault
// comes first. A plant that stands in a guide only because its entry does is no
// gap: nobody asked for it.
func (a Authors) leaveOut(plantings []garden.Planting, ds source.Diagnostics) ([]garden.Planting, source.Diagnostics) {
	ds = slices.Clone(ds)
	faults := map[string]source.Diagnostics{}
	for i := range ds {
		d := &ds[i]
		if d.Severity != source.Error || d.Span.File == nil {
			continue
		}
		if _, entry := a[d.Span.File.Path]; entry {
			d.Aside = true
			faults[d.Span.File.Path] = append(faults[d.Span.File.Path], *d)
		}
	}
	for _, path := range slices.Sorted(maps.Keys(faults)) {
		author, found := a[path], faults[path].Sorted()
		where, what := source.Whole(found[0].Span.File), "this entry"
		if e := author.entry; e != nil && !e.Name.Value.IsZero() {
			where, what = e.Name.Span, e.Name.Value.String()
		}
		by := "which names no contributor"
		if author.Contributor != "" {
			by = "by " + author.Contributor
		}
		many := "1 fault"
		if n := len(found); n > 1 {
			many = fmt.Sprintf("%d faults", n)
		}
		d := ds.Add(source.Warning, "entry/left-out", where, fmt.Sprintf("%s, %s, is left out for %s", what, by, many),
			"sheaf check --by contributor tells each contributor theirs")
		for _, f := range found {
			// Of two entries of one name the first stays, unless it has faults too.
			for _, r := range f.Related {
				if f.Code == "entry/same-name" && faults[r.Span.File.Path] == nil {
					d.Related = append(d.Related, source.At[string]{Value: "the entry of this name that stays", Span: r.Span})
				}
			}
		}
	}
	sound := func(e *entries.Entry) bool { return faults[e.File.Path] == nil }
	plantings = slices.DeleteFunc(slices.Clone(plantings), func(p garden.Planting) bool {
		return p.Entry != nil && p.Row.Span.File == p.Entry.File && standing(p.Entry, sound) == nil
	})
	for i := range plantings {
		p := &plantings[i]
		if p.Entry == nil {
			continue
		}
		stands := standing(p.Entry, sound)
		switch {
		case stands == nil:
			p.Mended, p.Entry, p.Photo, p.How = p.Entry, nil, nil, garden.None
			continue
		case stands.File != p.Entry.File && p.Photo == p.Entry.Photo:
			p.Photo = nil // only that of the first is shown
		}
		p.Entry = stands
	}
	return plantings, ds
}

// standing gives what is left of an entry and those beside it when those with
// faults are taken out; nil for nothing.
func standing(e *entries.Entry, sound func(*entries.Entry) bool) *entries.Entry {
	all := append([]*entries.Entry{e}, e.Others...)
	if !slices.ContainsFunc(all, func(o *entries.Entry) bool { return !sound(o) }) {
		return e
	}
	all = slices.DeleteFunc(all, func(o *entries.Entry) bool { return !sound(o) })
	if len(all) == 0 {
		return nil
	}
	first := *all[0]
	first.Others = all[1:]
	return &first
}
