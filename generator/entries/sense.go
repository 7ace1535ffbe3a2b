package entries

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"

	"sheaf/generator/site"
	"sheaf/generator/source"
)

// sense holds an entry to what every gardener knows. Each check has a code of
// its own and a case in testdata that shows it failing.
func (l *Library) sense(e *Entry, place *site.Climate, ds *source.Diagnostics) {
	for _, h := range e.Hazards {
		if l.Caution(h.Value) != "" {
			continue
		}
		// The page lacks it, not the entry, whose word is a right one.
		where, related := h.Span, []source.At[string](nil)
		if p := l.Page("safety"); p != nil {
			where, related = source.Whole(p.File), []source.At[string]{{Value: "a plant that has it", Span: h.Span}}
		}
		ds.Add(source.Error, "entry/no-caution", where, fmt.Sprintf("no caution is written for the hazard %q", h.Value), `add it under "hazards:" in pages/safety.md`).Related = related
	}
	if e.Group != nil && e.Group.lost {
		return // half of its rules are not there, nor what the plant stands
	}
	x := site.Context{Climate: place, WrittenFor: e.WrittenFor, Flowering: e.Flowers.Value}
	for i := range e.Rules {
		r := &e.Rules[i]
		job := l.Job(r.Job.Value)
		if job == nil {
			if r.Job.Value != "" {
				var known []string
				for _, j := range l.Jobs {
					known = append(known, j.Name.Value)
				}
				ds.Add(source.Error, "entry/no-such-job", r.Job.Span, fmt.Sprintf("there is no job %q", r.Job.Value), source.Mean(r.Job.Value, known))
			}
			continue
		}
		if r.When.Value.IsZero() {
			continue
		}
		from := len(*ds)
		e.weigh(x, r, job, ds)
		l.wayOut(e, r, place, (*ds)[from:])
	}
	for _, a := range e.Adjust {
		if a.Job.Value != "" && !slices.ContainsFunc(e.Rules, func(r Rule) bool { return r.Job.Value == a.Job.Value }) {
			ds.Add(source.Error, "entry/adjust-job", a.Job.Span, fmt.Sprintf("no rule %q to adjust", a.Job.Value))
		}
		// What an adjustment makes of a rule must be as sound as the rule.
		for _, r := range e.Rules {
			job := l.Job(r.Job.Value)
			if r.Job.Value != a.Job.Value || job == nil || a.Leave.Value.IsZero() && a.When.Value.IsZero() {
				continue
			}
			if !a.Leave.Value.IsZero() {
				r.Leave = a.Leave
			}
			if !a.When.Value.IsZero() {
				r.When = a.When
			}
			e.weigh(x, &r, job, ds)
		}
	}
}

// weigh holds one rule to the checks that ask for no other file.
func (e *Entry) weigh(x site.Context, r *Rule, job *Job, ds *source.Diagnostics) {
	from := len(*ds)
	e.hold(x, r, job, ds)
	e.owns(r, (*ds)[from:])
}

// hold is [Entry.weigh] that leaves what it finds where it is written.
func (e *Entry) hold(x site.Context, r *Rule, job *Job, ds *source.Diagnostics) {
	e.overlapsNever(x, r, ds)
	// What is said and cannot be read is told at its key.
	if r.When.Value.Uses(site.Flowering) && e.Flowers.Value.IsZero() && e.Flowers.Span.File == nil {
		ds.Add(source.Error, "entry/no-flowering", e.Name.Span, fmt.Sprintf("%s hangs on flowering, and the entry does not say when it flowers", r.Job.Value), `add "flowers: June to August" with the right months`)
	}
	e.neverEnds(r, ds)
	e.waitsForFrost(r, job, ds)
	if job.Family == "cut" {
		e.stub(r, ds)
		e.bareWood(r, ds)
		e.winterCut(x, r, ds)
		e.tooEarly(x, r, ds)
	}
}

// wayOut says of what was found of a group's rule what the entry can write instead:
// nothing in the group's file is its to change.
func (l *Library) wayOut(e *Entry, r *Rule, place *site.Climate, found source.Diagnostics) {
	if e.Group == nil || r.When.Span.File != e.Group.File {
		return
	}
	for i := range found {
		d := &found[i]
		if d.Severity != source.Error || d.Span.File != e.File || d.Code == "entry/no-flowering" {
			continue
		}
		d.Hints = slices.DeleteFunc(d.Hints, func(h string) bool { return h == shortenOne })
		if others := l.fitting(e, place); len(others) > 0 {
			hint := "a care group that may suit it: care-group: " + others[0]
			if len(others) > 1 {
				hint += " (or " + strings.Join(others[1:], ", or ") + ")"
			}
			d.Hints = append(d.Hints, hint)
		}
		d.Hints = append(d.Hints, leaveOut(r))
	}
}

func leaveOut(r *Rule) string {
	return fmt.Sprintf("leave the job out here: without: [%s]", r.Job.Value)
}

// mostFitting is how many care groups are named to choose from.
const mostFitting = 3

// fitting names the care groups whose rules are sound for a plant, those whose
// names are most like that of the group it has, and none that is like it in nothing.
func (l *Library) fitting(e *Entry, place *site.Climate) []string {
	like := func(name string) int {
		n := 0
		for _, w := range strings.Fields(name) {
			if slices.Contains(strings.Fields(e.GroupName.Value), w) {
				n++
			}
		}
		return n
	}
	near := slices.DeleteFunc(slices.Clone(l.Groups), func(g *Group) bool {
		return g.lost || g == e.Group || like(g.Name.Value) == 0 ||
			g.Types != nil && !slices.Contains(g.Types, e.Type) || g.Leaf != nil && !slices.Contains(g.Leaf, e.Leaf)
	})
	slices.SortStableFunc(near, func(a, b *Group) int {
		return cmp.Or(cmp.Compare(like(b.Name.Value), like(a.Name.Value)), strings.Compare(a.Name.Value, b.Name.Value))
	})
	var out []string
	for _, g := range near {
		if len(out) < mostFitting && l.bears(e, g, place) {
			out = append(out, g.Name.Value)
		}
	}
	return out
}

// bears tells whether a plant bears every rule of a group.
func (l *Library) bears(e *Entry, g *Group, place *site.Climate) bool {
	as := *e
	as.Group, as.Rules, as.Stands = g, g.Rules, append(slices.Clone(e.Stands), g.Stands...)
	x := site.Context{Climate: place, WrittenFor: e.WrittenFor, Flowering: e.Flowers.Value}
	var ds source.Diagnostics
	for i := range as.Rules {
		r := &as.Rules[i]
		if job := l.Job(r.Job.Value); job != nil && !r.When.Value.IsZero() {
			as.weigh(x, r, job, &ds)
		}
	}
	return !ds.HasErrors()
}

// neverEnds: who is told to wait is told as well what to do if the time runs out.
func (e *Entry) neverEnds(r *Rule, ds *source.Diagnostics) {
	if r.WaitIf != "" && r.IfMissed == "" {
		ds.Add(source.Warning, "entry/no-end", at(r.Waits, r.Job.Span),
			"the rule says when to wait, and not what to do if that goes on until the window is over", `say it under "if-missed:"`)
	}
}

// waitsForFrost: a rule whose window begins with the first frost of autumn, or
// that shelters a plant by dates of frost, means nothing where none comes.
func (e *Entry) waitsForFrost(r *Rule, job *Job, ds *source.Diagnostics) {
	w := r.When.Value
	shelters := (job.Mark == "protect" || job.Mark == "uncover") && (w.Uses(site.FirstFrost) || w.Uses(site.LastFrost))
	if r.Needs == "" && (shelters || w.WaitsFor(site.FirstFrost)) {
		ds.Add(source.Warning, "entry/needs", at(r.When.Span, r.Job.Span),
			"the rule waits for frost, and some places have none", `say "needs: frost", or let it wait for another cue such as leaf fall`)
	}
}

// owns puts what was found of a rule into the entry's own file: its care group
// may be right for every other plant, and whoever wrote the entry chose it. A
// window of the group's that its own "never" forbids stays where it is.
func (e *Entry) owns(r *Rule, found source.Diagnostics) {
	for i := range found {
		d := &found[i]
		if d.Span.File == e.File {
			continue
		}
		where := at(e.inOwn(r.When.Span), e.GroupName.Span)
		if d.Code == "entry/needs" || d.Code == "entry/no-end" || d.Code == "entry/never-overlap" && r.When.Span.File != e.File && !e.hangsOnFlowering(r) {
			continue
		}
		d.Related = append([]source.At[string]{{Value: "the rule of its care group", Span: d.Span}}, d.Related...)
		d.Span = where
	}
}

// inOwn is a place if it is in the entry's own file.
func (e *Entry) inOwn(s source.Span) source.Span {
	if s.File == e.File {
		return s
	}
	return source.Span{}
}

// hangsOnFlowering tells whether a rule means other days for each plant.
func (e *Entry) hangsOnFlowering(r *Rule) bool {
	return r.When.Value.Uses(site.Flowering) || slices.ContainsFunc(r.Never, func(n source.At[site.Window]) bool { return n.Value.Uses(site.Flowering) })
}

// reference is the place by which windows are compared when no garden is
// there to ask: Manchester Ringway 1971-2000 (Met Office historic station
// data), a maritime climate in the middle of the range, for either hemisphere.
func reference() *site.Climate {
	normals := site.Normals{
		Min: [12]float64{1.5, 1.6, 3.1, 4.5, 7.4, 10.1, 12.4, 12.1, 10.0, 7.2, 3.9, 2.3},
		Max: [12]float64{6.9, 7.3, 9.5, 11.9, 15.7, 18.0, 20.3, 20.1, 17.1, 13.5, 9.6, 7.6},
	}
	return site.Site{Latitude: 53.4, Normals: &normals}.Climate()
}

// references are places as unlike as gardens are, at which the order of work is
// tried: the one of [reference], one with a long frozen winter and one without
// frost (Minneapolis St Paul and Melbourne Olympic Park, WMO normals 1991-2020).
func references() []*site.Climate {
	at := func(latitude float64, low, high [12]float64) *site.Climate {
		return site.Site{Latitude: latitude, Normals: &site.Normals{Min: low, Max: high}}.Climate()
	}
	return []*site.Climate{reference(),
		at(44.88, [12]float64{-12.9, -10.7, -3.9, 3.1, 9.9, 15.8, 18.5, 17.1, 12.3, 5.0, -2.4, -9.3},
			[12]float64{-4.7, -1.9, 5.4, 13.7, 20.6, 26.1, 28.5, 27.1, 22.7, 14.5, 5.5, -1.8}),
		at(-37.83, [12]float64{15.7, 16.1, 14.4, 11.4, 9.8, 7.9, 7.4, 7.8, 9.4, 10.7, 12.6, 14.1},
			[12]float64{26.0, 25.7, 23.7, 20.7, 17.4, 14.8, 14.4, 15.4, 17.5, 19.8, 22.0, 23.8})}
}

// referenceYear is any year that is not a leap year.
const referenceYear = 2027

// shortenOne is what whoever wrote both windows can do.
const shortenOne = "shorten one of the two"

// overlapsNever: a window must not run into what its own rule forbids.
func (e *Entry) overlapsNever(x site.Context, r *Rule, ds *source.Diagnostics) {
	var asked []site.Interval // found only if it is needed, and once
	for _, n := range r.Never {
		if n.Value.IsZero() {
			continue
		}
		if asked == nil {
			asked = x.Resolve(r.When.Value, referenceYear)
		}
		for year := referenceYear - 1; year <= referenceYear+1; year++ {
			for _, forbidden := range x.Resolve(n.Value, year) {
				for _, w := range asked {
					if w.From <= forbidden.To && forbidden.From <= w.To {
						d := ds.Add(source.Error, "entry/never-overlap", n.Span,
							fmt.Sprintf("%q is forbidden here and asked for by when: %s", n.Value, r.When.Value), shortenOne)
						d.Related = []source.At[string]{{Value: "the window", Span: r.When.Span}}
						return
					}
				}
			}
		}
	}
}

// stub: an evergreen, or a plant that is combed, must not be cut to a stub.
// (Royal Horticultural Society, advice 434; UC Marin Master Gardeners, how to
// prune ornamental grasses: never remove more than two thirds.)
func (e *Entry) stub(r *Rule, ds *source.Diagnostics) {
	combed := slices.ContainsFunc(e.Rules, func(o Rule) bool { return o.Job.Value == "comb" })
	grassy := e.Type == "grass" || e.Type == "sedge" || e.Type == "rush"
	if !combed && !(grassy && e.Leaf == "evergreen") || e.bears("hard cut") {
		return
	}
	part, ok := e.left(r)
	e.unknown(r, ok, ds)
	// "Cut back" alone means to a stub: that is what its job page says.
	if ok && part < 1./3 || r.Job.Value == "cut back" && r.Leave.Value.IsZero() {
		ds.Add(source.Error, "entry/evergreen-stub", at(r.Leave.Span, r.Job.Span),
			"an evergreen that is combed must not be cut to a stub: it may not grow again", "comb it, or leave at least one third of its height")
	}
}

// bareWood: a sub-shrub such as lavender does not shoot from bare old wood
// (Amateur Gardening 12 Aug 2023; Fine Gardening, pruning subshrubs).
func (e *Entry) bareWood(r *Rule, ds *source.Diagnostics) {
	if e.Type != "subshrub" || e.bears("bare wood") {
		return
	}
	part, ok := e.left(r)
	e.unknown(r, ok, ds)
	if ok && part < 0.5 {
		ds.Add(source.Error, "entry/bare-wood", at(r.Leave.Span, r.Job.Span),
			"a sub-shrub cut below half its height is cut into bare wood and may die", "leave two thirds, and always some green leaf")
	}
}

// unknown: of a plant that dies of a cut too low, an amount that is not
// understood is an error, since nothing can be told of it. What takes a flower
// or a shoot may name the bud or the leaf it stops at, but no measure.
func (e *Entry) unknown(r *Rule, understood bool, ds *source.Diagnostics) {
	words := strings.ToLower(r.Leave.Value.Words)
	if understood || r.Leave.Value.IsZero() || (Lightly(r.Job.Value) || r.Job.Value == "remove stems") && !lowWords.MatchString(words) {
		return
	}
	ds.Add(source.Error, "entry/leave-unknown", at(r.Leave.Span, r.Job.Span),
		fmt.Sprintf("how much %q leaves is not understood, and this plant may die of a cut too low", r.Leave.Value.Words), `write a length such as 40 cm, a part such as "two thirds", or "all green leaf"`)
}

// lowWords name a measure, a stub or the ground.
var lowWords = regexp.MustCompile(`\d|\b(hand|finger|thumb|fist|span|width|stub|stump|ground|soil|base|inch|inches|cent\w*)\b`)

// winterCut: a shrub that flowers before June carries its buds through winter
// (pruning groups 2 to 5 and 8, Royal Horticultural Society).
func (e *Entry) winterCut(x site.Context, r *Rule, ds *source.Diagnostics) {
	if e.Type != "shrub" && e.Type != "climber" || e.bears("winter cut") || e.Flowers.Value.IsZero() {
		return
	}
	for _, f := range x.Resolve(e.Flowers.Value, referenceYear) {
		// March to May: flowers of the winter itself are cut after they are over.
		if m := f.From.Month(); m < time.March || m >= june {
			continue
		}
		for _, w := range x.Resolve(r.When.Value, referenceYear) {
			if inWinter(w) {
				ds.Add(source.Error, "entry/winter-cut", at(r.When.Span, r.Job.Span),
					"a cut in winter takes the buds of a plant that flowers in spring", "cut after flowering")
				return
			}
		}
	}
}

// inWinter tells whether any day of an interval lies in December to February.
func inWinter(w site.Interval) bool {
	for d := w.From; d <= w.To; d++ {
		if m := d.Month(); m == time.December || m <= time.February {
			return true
		}
	}
	return false
}

// tooEarly: a warm-season grass keeps its old top until the coldest day is
// past (Royal Horticultural Society, advice 434; Kansas State Research and
// Extension, grasses for the landscape).
func (e *Entry) tooEarly(x site.Context, r *Rule, ds *source.Diagnostics) {
	if e.Growth != "warm-season" || r.Job.Value != "cut back" {
		return
	}
	cold, _ := x.Climate.Cue(site.ColdestDay, referenceYear)
	for year := referenceYear - 1; year <= referenceYear; year++ {
		for _, w := range x.Resolve(r.When.Value, year) {
			if w.From < cold && w.To > cold-season {
				ds.Add(source.Error, "entry/before-cold", at(r.When.Span, r.Job.Span),
					"a warm-season grass is cut before the coldest day: its old top shelters the crown", "write for example 6 weeks before warm growth to warm growth")
				return
			}
		}
	}
}

// season is half a year in days: how far back before the coldest day a cut
// still counts as made before the winter.
const season = 150

func (e *Entry) bears(what string) bool { return slices.Contains(e.Stands, what) }

// left is how much of the plant's height a rule leaves, as a part of one;
// false when it says so in other words than the ground.
func (e *Entry) left(r *Rule) (float64, bool) {
	l := r.Leave.Value
	switch {
	case !l.Length.IsZero() && e.Height.High > 0:
		// The lowest cut of the tallest plant: the worst that can be read of it.
		return l.Length.Low / e.Height.High, true
	case l.Words == "nothing", strings.Contains(l.Words, "ground level"), strings.Contains(l.Words, "to the ground"):
		return 0, true
	}
	return l.Least()
}

// at is the first of two places that is in a file.
func at(a, b source.Span) source.Span {
	if a.File != nil {
		return a
	}
	return b
}
