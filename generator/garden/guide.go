package garden

import (
	"fmt"
	"slices"

	"sheaf/generator/entries"
	"sheaf/generator/fields"
	"sheaf/generator/source"
)

// Include is what a guide takes of its libraries.
type Include struct {
	Types, Tags []source.At[string] // of its own libraries: entries of any of these
	Also        []source.At[string] // single plants, of any library
}

// guide reads the keys that a guide alone has.
func (g *Garden) guide(m *fields.Map) {
	g.Edition = text(m, "edition")
	named(m, "edition")
	for _, t := range m.Texts("permissions") {
		g.Permissions = append(g.Permissions, t.Value)
	}
	if c := m.Map("include"); c != nil {
		g.Include = &Include{Types: c.Choices("types", entries.Types()), Tags: c.Texts("tags"), Also: c.Texts("also")}
		c.Done()
	}
	if g.Kind == Guide {
		return
	}
	for _, key := range []string{"edition", "permissions", "include"} {
		if m.Has(key) {
			m.Warn(m.Key(key), "kind", fmt.Sprintf("%q is for guides, and this is a %s: it is not used", key, g.Kind), "a club's guide has kind: guide")
		}
	}
}

// Choose gives the plants of a guide: those of its list; of its own libraries the
// entries of the types and tags that it includes, or without those and without a
// list all; and what it includes also. Where its own libraries have none, the
// shipped one stands for them. own tells the entries of the two apart. A plant stands in a guide for all of its kind:
// one, long grown, in no bed.
func Choose(g *Garden, l *entries.Library, own func(*entries.Entry) bool, partial bool) ([]Planting, source.Diagnostics) {
	rows := slices.Clone(g.Rows)
	if !slices.ContainsFunc(l.Entries, own) {
		own = func(*entries.Entry) bool { return true }
	}
	taken := map[*entries.Entry]bool{}
	take := func(fits func(*entries.Entry) bool) (found bool) {
		for _, e := range l.Entries {
			if fits(e) {
				taken[e], found = true, true
			}
		}
		return found
	}
	var ds source.Diagnostics
	if in := g.Include; in != nil {
		for _, t := range in.Also {
			rows = append(rows, Row{Span: t.Span, Line: t.Span.Pos().Line, Plant: t.Value})
		}
		for _, t := range in.Types {
			if !take(func(e *entries.Entry) bool { return own(e) && e.Type == t.Value }) {
				ds.Add(source.Warning, "guide/none", t.Span, fmt.Sprintf("the libraries have no entry of the type %s", t.Value), "single plants of the shipped library are named under also")
			}
		}
		for _, t := range in.Tags {
			if !take(func(e *entries.Entry) bool { return own(e) && e.Tagged(t.Value) }) {
				ds.Add(source.Warning, "guide/none", t.Span, fmt.Sprintf("no entry has the tag %q", t.Value), source.Mean(t.Value, tags(l.Entries)))
			}
		}
	}
	if in := g.Include; len(g.Rows) == 0 && (in == nil || len(in.Types)+len(in.Tags) == 0) {
		take(own)
	}
	out, more := MatchRows(rows, l, partial)
	ds = append(ds, more...)
	seen := map[string]bool{}
	out = slices.DeleteFunc(out, func(p Planting) bool {
		if p.Entry == nil {
			return false
		}
		key := p.Called().Key()
		again := seen[key]
		seen[key] = true
		return again
	})
	for _, e := range l.Entries {
		if key := e.Name.Value.Key(); taken[e] && !seen[key] {
			seen[key] = true
			row := Row{Span: e.Name.Span, Line: e.Name.Span.Pos().Line, Plant: e.Name.Value.String()}
			out = append(out, Planting{Row: row, Name: e.Name.Value, Entry: e, How: Exact})
		}
	}
	for i := range out {
		p := &out[i]
		p.Typical, p.Row.Quantity, p.Row.Planted, p.Row.Pot, p.Row.Bed = true, 1, 0, false, source.At[string]{}
	}
	g.show(out, &ds)
	return out, ds
}

// tags are all tags that entries have, sorted.
func tags(all []*entries.Entry) []string {
	var out []string
	for _, e := range all {
		for _, t := range e.Tags {
			out = append(out, t.Value)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
