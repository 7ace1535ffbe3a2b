package entries

import (
	"fmt"
	"slices"
	"strings"

	"sheaf/generator/site"
	"sheaf/generator/source"
)

// The order of work on one plant is held for its rules as they are and for all
// that its adjustments can make of them:
//
//   - cutting rules that have one window are twins, done in one visit: an
//     adjustment that moves one of them moves the other;
//   - a job whose page says "after:" does not begin before the jobs named there
//     that fall in the same season.

// together is how many days after one job another may begin that still belongs to
// the same round: the four weeks of "after" in the language of windows.
const together = 28

// slack is how many days a job may begin before the one it follows: both
// windows are days among which the owner chooses.
const slack = 7

// order checks a plant's rules at each of some places.
func (l *Library) order(e *Entry, places []*site.Climate, ds *source.Diagnostics) {
	o := ordering{library: l, entry: e}
	pairs := o.pairs()
	if pairs == nil {
		return
	}
	for _, p := range places {
		o.places = append(o.places, calendar{site.Context{Climate: p, WrittenFor: e.WrittenFor, Flowering: e.Flowers.Value}, map[source.Span][]site.Interval{}})
	}
	for _, c := range e.cases() {
		o.fit(c)
		pairs = slices.DeleteFunc(pairs, func(p pair) bool {
			return sameYear(o.fitted[p.i], o.fitted[p.j]) && (p.twins && o.parted(p.i, p.j, c, ds) || p.follows && o.early(p.i, p.j, c, ds))
		})
	}
}

// A pair of a plant's rules, by their places in it, that must keep an order.
type pair struct {
	i, j           int
	twins, follows bool // cutting rules of one window; i follows j
}

// pairs finds the rules of the plant that must keep an order.
func (o *ordering) pairs() []pair {
	var out []pair
	rules := o.entry.Rules
	for i := range rules {
		a := o.library.Job(rules[i].Job.Value)
		for j := range rules {
			b := o.library.Job(rules[j].Job.Value)
			if i == j || a == nil || b == nil || rules[i].When.Value.IsZero() || rules[j].When.Value.IsZero() {
				continue
			}
			p := pair{i, j, false, follows(a, b.Name.Value)}
			p.twins = i < j && len(o.entry.Adjust) > 0 && a.Family == "cut" && b.Family == "cut" && rules[i].When.Value.String() == rules[j].When.Value.String()
			if p.twins || p.follows {
				out = append(out, p)
			}
		}
	}
	return out
}

// followed checks that job pages name jobs that there are.
func (l *Library) followed(ds *source.Diagnostics) {
	for _, j := range l.Jobs {
		for _, a := range j.After {
			if l.Job(a.Value) == nil {
				var known []string
				for _, o := range l.Jobs {
					known = append(known, o.Name.Value)
				}
				ds.Add(source.Error, "job/after", a.Span, fmt.Sprintf("there is no job %q to come after", a.Value), source.Mean(a.Value, known))
			}
		}
	}
}

// An ordering is the check of one plant in one case.
type ordering struct {
	library *Library
	entry   *Entry
	places  []calendar
	fitted  []*Rule       // as the case has them; nil: not done
	moved   []source.Span // what moved each rule
}

// A calendar gives the days of windows at one place.
type calendar struct {
	site.Context
	known map[source.Span][]site.Interval
}

// days are those of a window that begins in the year of reference or next to it.
func (c calendar) days(w source.At[site.Window]) []site.Interval {
	days, ok := c.known[w.Span]
	if !ok {
		for year := referenceYear - 1; year <= referenceYear+1; year++ {
			days = append(days, c.Resolve(w.Value, year)...)
		}
		c.known[w.Span] = days
	}
	return days
}

// has tells whether a place has what a rule needs.
func (c calendar) has(r *Rule) bool {
	_, frost := c.Climate.Cue(site.FirstFrost, referenceYear)
	return r.Needs == "" || (r.Needs == Frost) == frost
}

// cases are the sets of conditions under which a plant's rules differ: none, each
// by itself, and all that can hold of one place together.
func (e *Entry) cases() [][]string {
	var all [][]string
	for _, a := range e.Adjust {
		if a.Job.Value == "" || !a.Skip && a.When.Value.IsZero() {
			continue
		}
		i := slices.IndexFunc(all, func(kind []string) bool { return axis(kind[0]) == axis(a.If) })
		switch {
		case i < 0:
			all = append(all, []string{a.If})
		case !slices.Contains(all[i], a.If):
			all[i] = append(all[i], a.If)
		}
	}
	out := [][]string{nil}
	for _, kind := range all {
		for _, c := range out[:len(out):len(out)] {
			for _, condition := range kind {
				out = append(out, append(slices.Clone(c), condition))
			}
		}
	}
	return out
}

// axis names what a condition is about: of one axis only one holds at a time.
func axis(condition string) string {
	switch {
	case slices.Contains(Light(), condition):
		return "light"
	case slices.Contains(Exposure(), condition):
		return "exposure"
	case strings.HasSuffix(condition, " garden"):
		return "winter"
	case slices.Contains(Fertility(), strings.TrimSuffix(condition, " soil")):
		return "fertility"
	case strings.HasSuffix(condition, " soil"):
		return "soil"
	}
	return condition
}

// fit makes of the plant's rules what a case makes of them.
func (o *ordering) fit(c []string) {
	o.fitted, o.moved = nil, nil
	for i := range o.entry.Rules {
		r := &o.entry.Rules[i]
		moved := r.When.Span
		if r.When.Value.IsZero() || o.library.Job(r.Job.Value) == nil {
			r = nil
		}
		for _, a := range o.entry.Adjust {
			switch {
			case r == nil || a.Job.Value != r.Job.Value || !slices.Contains(c, a.If):
			case a.Skip:
				r = nil
			case !a.When.Value.IsZero():
				fitted := *r
				fitted.When = a.When
				r, moved = &fitted, a.When.Span
			}
		}
		o.fitted, o.moved = append(o.fitted, r), append(o.moved, moved)
	}
}

// sameYear tells whether two rules can both be due in one growing year.
func sameYear(a, b *Rule) bool {
	if a == nil || b == nil {
		return false
	}
	if a.Only > 0 && b.Only > 0 {
		return a.Only == b.Only
	}
	return (a.Only == 0 || a.Only >= b.NotBefore) && (b.Only == 0 || b.Only >= a.NotBefore) && (a.Needs == b.Needs || a.Needs == "" || b.Needs == "")
}

// parted tells of twins of which a case has moved one.
func (o *ordering) parted(i, j int, c []string, ds *source.Diagnostics) bool {
	a, b := &o.entry.Rules[i], &o.entry.Rules[j]
	if o.fitted[i].When.Value.String() == o.fitted[j].When.Value.String() {
		return false
	}
	moved, stays := i, j
	if o.moved[i] == a.When.Span {
		moved, stays = j, i
	}
	d := ds.Add(source.Error, "entry/twins", at(o.entry.inOwn(o.moved[moved]), o.entry.GroupName.Span),
		fmt.Sprintf("%s and %s have one window, and %q moves only one of them", a.Job.Value, b.Job.Value, strings.Join(c, ", ")),
		fmt.Sprintf("add the same adjustment for %q", o.entry.Rules[stays].Job.Value))
	d.Related = []source.At[string]{{Value: "the other's window", Span: o.moved[stays]}}
	return true
}

// early tells of a job that begins before one that its page says it follows.
func (o *ordering) early(i, j int, c []string, ds *source.Diagnostics) bool {
	a, b := o.fitted[i], o.fitted[j]
	for _, p := range o.places {
		if !p.has(a) || !p.has(b) {
			continue
		}
		for _, w := range p.days(a.When) {
			if w.From.Year() != referenceYear || o.preceded(p, a, w) {
				continue
			}
			for _, first := range p.days(b.When) {
				if w.From < first.From-slack && first.From-w.To <= together {
					with := ""
					if c != nil {
						with = fmt.Sprintf(" where %q holds", strings.Join(c, ", "))
					}
					// A group's rule may be right for every other plant of the group.
					own := at(at(o.entry.inOwn(o.moved[i]), o.entry.inOwn(o.moved[j])), at(o.entry.GroupName.Span, o.moved[i]))
					d := ds.Add(source.Error, "entry/order", own,
						fmt.Sprintf("%s begins before %s%s, and its page says that it comes after", a.Job.Value, b.Job.Value, with),
						fmt.Sprintf("begin it with %q or later", b.When.Value))
					if o.entry.Group != nil && o.moved[i].File == o.entry.Group.File {
						d.Hints = append(d.Hints, leaveOut(a))
					}
					d.Related = []source.At[string]{{Value: a.Job.Value, Span: o.moved[i]}, {Value: "what it follows", Span: o.moved[j]}}
					return true
				}
			}
		}
	}
	return false
}

// preceded tells whether a job has been preceded by one of those it waits for: a
// mulch after the winter's pruning need not wait for the clip after flowering.
func (o *ordering) preceded(p calendar, a *Rule, w site.Interval) bool {
	for _, b := range o.fitted {
		if b == nil || !p.has(b) || !sameYear(a, b) || !follows(o.library.Job(a.Job.Value), b.Job.Value) {
			continue
		}
		for _, first := range p.days(b.When) {
			if first.From-slack <= w.From && w.From-first.To <= together {
				return true
			}
		}
	}
	return false
}

func follows(job *Job, other string) bool {
	return slices.ContainsFunc(job.After, func(a source.At[string]) bool { return a.Value == other })
}
