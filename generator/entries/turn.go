package entries

import (
	"cmp"
	"slices"
	"sync"

	"sheaf/generator/draw"
	"sheaf/generator/fields"
	"sheaf/generator/measure"
	"sheaf/generator/prose"
	"sheaf/generator/site"
)

// Turned gives a shelf as it is written on the other half of the world: the
// months of its windows and of its words are half a year away. So shelves of
// both can be joined. The shelf itself is left alone.
func (s Shelf) Turned() Shelf {
	there := site.South
	if s.WrittenFor == site.South {
		there = site.North
	}
	out := s.reworded(site.TurnMonths)
	out.WrittenFor, out.Regions = there, s.Regions // each is of one country
	turn := func(rules []Rule) {
		for i := range rules {
			r := &rules[i]
			r.When.Value = r.When.Value.Turned()
			r.Never = slices.Clone(r.Never)
			for j := range r.Never {
				r.Never[j].Value = r.Never[j].Value.Turned()
			}
		}
	}
	for n, e := range out.Entries {
		e.Common = s.Entries[n].Common // may is also a hawthorn
		turn(e.Rules)
		for i := range e.Adjust {
			e.Adjust[i].When.Value = e.Adjust[i].When.Value.Turned()
		}
		e.Flowers.Value, e.WrittenFor = e.Flowers.Value.Turned(), there
	}
	for _, g := range out.Groups {
		turn(g.Rules)
		g.WrittenFor = there
	}
	return out
}

// American is an English in which a booklet may be worded, with a list of that
// name in the folder spellings of a library.
const American = "en-US"

// British is the English of the shipped library.
const British = "en-GB"

// Worded gives a shelf as Americans write it: dates with the month first, and the
// words of a shelf in British English as a spelling has them. With units the
// metric amounts within its sentences are turned as well, for a shelf that says
// it is in English. What is a name or a source stays. The shelf itself is left
// alone.
func (s Shelf) Worded(spelling *Spelling, units measure.Units, kept *Wordings) Shelf {
	english := s.WrittenIn == British || s.WrittenIn == American
	if !english || spelling == nil && units == measure.Metric {
		return s
	}
	if s.WrittenIn != British {
		spelling = nil
	}
	key := wording{units: units}
	if spelling != nil {
		key.spelling = spelling.sum
	}
	return s.reworded(func(text string) string {
		key := key
		key.text = text
		return kept.memo().Of(key, func() string {
			if units == measure.US {
				text = measure.Customary(text)
			}
			if spelling != nil {
				text = spelling.Text(site.MonthFirst(text))
			}
			return text
		})
	})
}

// Wordings keeps texts that were worded from one build of a booklet to the next:
// one hangs on nothing but itself, the units and the list of words. A nil one
// keeps nothing.
type Wordings draw.Memo[wording, string]

type wording struct {
	text, spelling string
	units          measure.Units
}

func (w *Wordings) memo() *draw.Memo[wording, string] { return (*draw.Memo[wording, string])(w) }

// Turn begins a build: what the build before did not ask for is forgotten.
func (w *Wordings) Turn() { w.memo().Turn() }

// reworded gives a shelf with all changed that an owner reads in sentences:
// never what names a plant by the Codes, a person or a publication. Care groups
// and jobs keep the names by which files know them, and are called otherwise.
func (s Shelf) reworded(words func(string) string) Shelf {
	body := func(b []prose.Block) []prose.Block { return prose.Map(b, words) }
	list := func(texts []string) []string {
		texts = slices.Clone(texts)
		for i := range texts {
			texts[i] = words(texts[i])
		}
		return texts
	}
	leave := func(l *measure.Leave) {
		if l.Length.IsZero() && l.Fraction == 0 {
			l.Words = words(l.Words)
		}
	}
	rules := func(all []Rule) []Rule {
		all = slices.Clone(all)
		for i := range all {
			r := &all[i]
			for _, text := range []*string{&r.LookFor, &r.How, &r.Why, &r.IfMissed, &r.StopIf, &r.WaitIf} {
				*text = words(*text)
			}
			leave(&r.Leave.Value)
			r.Cautions, r.Tools = list(r.Cautions), list(r.Tools)
		}
		return all
	}
	pairs := func(ps []fields.Pair, keys bool) []fields.Pair {
		ps = slices.Clone(ps)
		for i := range ps {
			ps[i].Value.Value = words(ps[i].Value.Value)
			if keys {
				ps[i].Key.Value = words(ps[i].Key.Value)
			}
		}
		return ps
	}
	out := s
	out.Entries = copied(s.Entries, func(e *Entry) {
		e.Common, e.Cautions, e.Body = list(e.Common), list(e.Cautions), body(e.Body)
		e.Rules, e.Adjust = rules(e.Rules), slices.Clone(e.Adjust)
		for i := range e.Adjust {
			e.Adjust[i].Note = words(e.Adjust[i].Note)
			leave(&e.Adjust[i].Leave.Value)
		}
		if e.Photo != nil {
			p := *e.Photo
			p.Alt = words(p.Alt)
			e.Photo = &p
		}
	})
	out.Groups = copied(s.Groups, func(g *Group) {
		g.said = words(g.Called())
		g.Summary, g.Body, g.Rules = words(g.Summary), body(g.Body), rules(g.Rules)
	})
	out.Jobs = copied(s.Jobs, func(j *Job) {
		j.said = words(cmp.Or(j.said, j.Name.Value))
		j.Action, j.Summary, j.Tools, j.Body = words(j.Action), words(j.Summary), list(j.Tools), body(j.Body)
	})
	out.Regions = copied(s.Regions, func(r *Region) {
		for _, text := range []*string{&r.NestNote, &r.Trees, &r.Hedges, &r.Waste, &r.Aid} {
			*text = words(*text)
		}
		r.Body = body(r.Body)
	})
	out.Pages = copied(s.Pages, func(p *Page) {
		p.Title, p.Body = words(p.Title), body(p.Body)
		p.Terms, p.Hazards, p.Risks = pairs(p.Terms, true), pairs(p.Hazards, false), pairs(p.Risks, false)
	})
	return out
}

// copied gives changed copies of all items, made side by side: none looks at
// another.
func copied[T any](items []*T, change func(*T)) []*T {
	out := make([]*T, len(items))
	var all sync.WaitGroup
	const run = 32
	for first := 0; first < len(items); first += run {
		all.Go(func() {
			for i := first; i < min(first+run, len(items)); i++ {
				c := *items[i]
				change(&c)
				out[i] = &c
			}
		})
	}
	all.Wait()
	return out
}
