package booklet

import (
	"slices"
	"strings"
)

// arranged puts sections into the order of the theme, with the theme's own pages
// among them, and leaves out those that it does not name. The cover stays first
// and the back last.
func (c *composer) arranged(b *Book, all []Section) []Section {
	order := c.Theme.Sections
	if order == nil {
		return all
	}
	by := map[string][]Section{}
	name := ""
	for _, s := range all {
		name = nameOf(&s, name)
		if s.Kind == Watering && slices.Contains(order, "first-year") {
			name = "first-year" // with what else new plants need
		}
		by[name] = append(by[name], s)
	}
	out := by["cover"]
	for _, want := range order {
		if p := c.Theme.Pages[want]; p != nil {
			s := written("pages/"+p.ID, Words, p, c.Words.Say("part.welcome"))
			s.Part = p.Title
			by[want] = []Section{s}
		}
		out = append(out, by[want]...)
		delete(by, want)
	}
	back := by["contacts"]
	delete(by, "cover")
	delete(by, "contacts")
	b.Left = map[string]bool{}
	for _, left := range by {
		for _, s := range left {
			b.Left[s.ID] = true
		}
	}
	out = append(out, back...)
	ids := map[string]bool{}
	for i := range out {
		s := &out[i]
		s.ID = unique(s.ID, ids) // a page of the theme may be called as one of the garden
		for j, block := range s.Blocks {
			if list, ok := block.(IndexList); ok {
				s.Blocks[j] = c.present(b, list)
			}
		}
	}
	return out
}

// nameOf is the name under which a theme orders a section; one of a kind that
// has no name of its own goes with what stands before it.
func nameOf(s *Section, before string) string {
	switch s.Kind {
	case Cover:
		return "cover"
	case Contents:
		return "contents"
	case Glance, Bed:
		return "garden"
	case Year:
		return "year"
	case Day, Month, Watering:
		return "work"
	case Half, Plant:
		return "plants"
	case CareGroup, JobPage:
		return "jobs"
	case FirstYear:
		return "first-year"
	case Safety:
		return "safety"
	case Glossary:
		return "glossary"
	case Index:
		return "index"
	case Back:
		return "contacts"
	}
	switch {
	case strings.HasPrefix(s.ID, "pages/"):
		return "pages"
	case s.ID == "how-to-use" || s.ID == "sources":
		return s.ID
	case s.ID == "contributors":
		return "sources" // who is behind the advice
	}
	return before
}

// present is an index without what is left out.
func (c *composer) present(b *Book, list IndexList) IndexList {
	var out IndexList
	for _, r := range list.Rows {
		r.Targets = slices.DeleteFunc(slices.Clone(r.Targets), func(id string) bool { return b.Left[id] })
		if len(r.Targets) > 0 {
			out.Rows = append(out.Rows, r)
		}
	}
	return out
}
