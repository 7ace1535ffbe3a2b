package garden

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"sheaf/generator/entries"
	"sheaf/generator/fields"
	"sheaf/generator/names"
	"sheaf/generator/source"
)

// An Adjust is what garden.yaml changes of a plant's care in this garden. It has no
// condition: whoever writes it knows the garden, and names the bed.
type Adjust struct {
	entries.Adjust
	Plant source.At[string]
	Bed   source.At[string] // "" for all
}

// mostAdjusts is of how many adjustments a garden may be: some for each of its plants.
const mostAdjusts = 500

// adjusts reads the list under adjust.
func (g *Garden) adjusts(m *fields.Map) {
	all := m.Maps("adjust")
	if len(all) > mostAdjusts {
		m.Fail(m.Key("adjust"), "too-many", fmt.Sprintf("there are %d items under %q; at most %d are read", len(all), "adjust", mostAdjusts))
		all = all[:mostAdjusts]
	}
	for _, c := range all {
		a := Adjust{Adjust: entries.ParseAdjust(c)}
		a.Plant, _ = c.Need("plant")
		a.Bed, _ = c.Text("bed")
		text, written := c.Text("text")
		if written {
			body, found := entries.TextOf(text, "garden")
			a.Text = body
			for _, d := range found {
				c.Warn(d.Span, "markdown", d.Message, d.Hints...)
			}
		}
		switch {
		case slices.ContainsFunc(c.Keys(), func(k source.At[string]) bool { return k.Value == "if" }) && c.Has("if"): // asked for only so
			c.Fail(c.Key("if"), "adjust", "an adjustment of a garden has no condition: it is known what this garden is like", "name the bed, or say it in the plant's entry")
		case a.Skip && (c.Has("when") || c.Has("leave")):
			c.Fail(c.Key("skip"), "adjust", "a job that is not done has no window and leaves nothing", "take out skip, or the others")
		case written && (a.Bed.Value != "" || a.Job.Value != ""):
			c.Fail(c.Key("text"), "adjust", "a text is of the plant as a whole: its page is one for all its beds and jobs", "say what is of one bed or job in a note")
		case a.Plant.Value != "" && !a.Skip && a.Note == "" && a.Text == nil && !c.Has("when") && !c.Has("leave"):
			c.Warn(c.Span(), "adjust", "this adjustment changes nothing", "add when, leave, note, skip or text")
		}
		c.Done()
		g.Adjust = append(g.Adjust, a)
	}
}

// Apply gives the plantings that garden.yaml adjusts entries that say so; see
// [entries.Library.Adjusted]. The entries of the library are left alone.
func (g *Garden) Apply(plantings []Planting, l *entries.Library) source.Diagnostics {
	if g.Adjust == nil {
		return nil
	}
	var ds source.Diagnostics
	of := make([][]int, len(plantings)) // by planting: its adjustments
	known := make([]goingBy, len(plantings))
	for i := range plantings {
		known[i] = namesOf(&plantings[i])
	}
	for n := range g.Adjust {
		g.aim(n, plantings, known, of, &ds)
	}
	here := g.Place.Climate()
	made := map[string]*entries.Entry{}
	for i := range plantings {
		p := &plantings[i]
		if of[i] == nil || p.Entry == nil {
			continue
		}
		key := fmt.Sprintf("%p %v", p.Entry, of[i])
		if made[key] == nil {
			var own []entries.Adjust
			for _, n := range of[i] {
				own = append(own, g.Adjust[n].Adjust)
			}
			e, more := l.Adjusted(p.Entry, own, here)
			made[key] = e
			for _, d := range more {
				if !slices.ContainsFunc(ds, func(o source.Diagnostic) bool { return o.Code == d.Code && o.Span == d.Span && o.Message == d.Message }) {
					ds = append(ds, d)
				}
			}
		}
		p.Entry = made[key]
	}
	return ds
}

// aim finds the plantings that an adjustment is for, and tells what it names that
// is not there.
func (g *Garden) aim(n int, plantings []Planting, known []goingBy, of [][]int, ds *source.Diagnostics) {
	a := &g.Adjust[n]
	if a.Plant.Value == "" {
		return // told as a missing key
	}
	found := find(known, a.Plant.Value)
	if found == nil {
		ds.Add(source.Error, "garden/adjust-plant", a.Plant.Span, fmt.Sprintf("the garden has no plant %q to adjust", a.Plant.Value), nearestPlant(a.Plant.Value, plantings))
		return
	}
	if a.Bed.Value != "" {
		in := slices.DeleteFunc(slices.Clone(found), func(i int) bool { return !plantings[i].stands(a.Bed.Value) })
		if len(in) == 0 {
			var beds []string
			for _, i := range found {
				if b := plantings[i].Row.Bed.Value; b != "" && !slices.Contains(beds, b) {
					beds = append(beds, b)
				}
			}
			ds.Add(source.Error, "garden/adjust-bed", a.Bed.Span, fmt.Sprintf("%s does not stand in a bed %q", a.Plant.Value, a.Bed.Value), source.Mean(a.Bed.Value, beds))
			return
		}
		found = in
	}
	for _, i := range found {
		e := plantings[i].Entry
		if e == nil {
			continue // its row, or its entry, has a fault of its own
		}
		if job := a.Job.Value; job != "" && !slices.ContainsFunc(e.Rules, func(r entries.Rule) bool { return r.Job.Value == job }) {
			var jobs []string
			for _, r := range e.Rules {
				if !slices.Contains(jobs, r.Job.Value) {
					jobs = append(jobs, r.Job.Value)
				}
			}
			ds.Add(source.Error, "garden/adjust-job", a.Job.Span, fmt.Sprintf("%s has no rule %q to adjust", plantings[i].Label(), job), source.Mean(job, jobs),
				"a job that is new to it belongs into an entry of this garden's own: sheaf library show prints one to begin with")
			return
		}
		of[i] = append(of[i], n)
	}
}

// stands tells whether the list puts the planting into a bed.
func (p *Planting) stands(bed string) bool {
	if p.Bed != nil {
		return strings.EqualFold(p.Bed.Name, bed)
	}
	return strings.EqualFold(p.Row.Bed.Value, bed)
}

// goingBy is what a planting may be called: as the list or the booklet has it, also by
// common names and synonyms, and as its entry. Names are by their keys, what people say
// is in small letters.
type goingBy struct{ own, also, entry []string }

func spoken(name string) string { return "said " + strings.ToLower(strings.TrimSpace(name)) }

func namesOf(p *Planting) goingBy {
	out := goingBy{own: []string{spoken(p.Row.Plant)}}
	if !p.Name.IsZero() {
		out.own = append(out.own, p.Name.Key())
	}
	if p.Entry != nil {
		out.own = append(out.own, p.Called().Key())
	}
	e := cmp.Or(p.Entry, p.Mended)
	if e == nil {
		return out
	}
	out.entry = []string{e.Name.Value.Key()}
	for _, c := range e.Common {
		out.also = append(out.also, spoken(c))
	}
	if !p.borrows() { // synonyms are the species'
		for _, s := range e.Synonyms {
			out.also = append(out.also, s.Value.Key())
		}
	}
	return out
}

// calling tells of what a planting is called whether it is a name.
func calling(name string) func(string) bool {
	wanted := []string{spoken(name)}
	if n, _, err := names.Parse(name); err == nil && !n.IsZero() {
		wanted = append(wanted, n.Key())
	}
	return func(s string) bool { return slices.Contains(wanted, s) }
}

// find gives the plantings of a name: those that the list or the booklet calls so, and
// only where there are none those whose entry bears it.
func find(all []goingBy, name string) []int {
	is := calling(name)
	var own, entry []int
	for i, g := range all {
		switch {
		case slices.ContainsFunc(g.own, is):
			own = append(own, i)
		case slices.ContainsFunc(g.also, is), slices.ContainsFunc(g.entry, is):
			entry = append(entry, i)
		}
	}
	if own != nil {
		return own
	}
	return entry
}

// nearestPlant is the hint for a name that no planting has.
func nearestPlant(name string, plantings []Planting) string {
	var known []string
	for i := range plantings {
		p := &plantings[i]
		add := []string{p.Label()}
		if p.Entry != nil {
			add = append([]string{p.Called().Plain(), p.Entry.Name.Value.Plain()}, p.Entry.Common...)
		}
		for _, n := range add {
			if !slices.Contains(known, n) {
				known = append(known, n)
			}
		}
	}
	return source.Mean(name, known)
}
