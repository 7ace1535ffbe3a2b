package entries

import (
	"slices"

	"sheaf/generator/prose"
	"sheaf/generator/site"
)

// Turned gives a shelf as it is written on the other half of the world: the
// months of its windows and of its words are half a year away. So shelves of
// both can be joined. The shelf itself is left alone.
func (s Shelf) Turned() Shelf {
	words, body := site.TurnMonths, func(b []prose.Block) []prose.Block { return prose.Map(b, site.TurnMonths) }
	rules := func(all []Rule) []Rule {
		all = slices.Clone(all)
		for i := range all {
			r := &all[i]
			for _, text := range []*string{&r.LookFor, &r.How, &r.Why, &r.IfMissed, &r.StopIf, &r.WaitIf} {
				*text = words(*text)
			}
			r.Cautions = slices.Clone(r.Cautions)
			for j := range r.Cautions {
				r.Cautions[j] = words(r.Cautions[j])
			}
			r.When.Value = r.When.Value.Turned()
			r.Never = slices.Clone(r.Never)
			for j := range r.Never {
				r.Never[j].Value = r.Never[j].Value.Turned()
			}
		}
		return all
	}
	there := site.South
	if s.WrittenFor == site.South {
		there = site.North
	}
	return Shelf{
		WrittenFor: there,
		Regions:    s.Regions, // each is of one country
		Entries: copied(s.Entries, func(e *Entry) {
			e.Body, e.Rules, e.Adjust = body(e.Body), rules(e.Rules), slices.Clone(e.Adjust)
			for i := range e.Adjust {
				e.Adjust[i].Note = words(e.Adjust[i].Note)
				e.Adjust[i].When.Value = e.Adjust[i].When.Value.Turned()
			}
			e.Flowers.Value, e.WrittenFor = e.Flowers.Value.Turned(), there
		}),
		Groups: copied(s.Groups, func(g *Group) { g.Summary, g.Body, g.Rules = words(g.Summary), body(g.Body), rules(g.Rules) }),
		Jobs:   copied(s.Jobs, func(j *Job) { j.Summary, j.Body = words(j.Summary), body(j.Body) }),
		Pages:  copied(s.Pages, func(p *Page) { p.Body = body(p.Body) }),
	}
}

// copied gives changed copies of all items.
func copied[T any](items []*T, change func(*T)) []*T {
	out := make([]*T, len(items))
	for i, item := range items {
		c := *item
		change(&c)
		out[i] = &c
	}
	return out
}
