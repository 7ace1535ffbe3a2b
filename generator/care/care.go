// Package care dates the work of a garden: every rule of every planting, made
// to fit its bed, its age and the year, with what it leaves, how long it takes
// and what to beware of. In go a garden, its plantings and the library; out
// comes the [Calendar] that every edition prints, and the designer's [Report].
package care

import (
	"cmp"
	"fmt"
	"iter"
	"slices"
	"strings"
	"sync"
	"time"

	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/measure"
	"sheaf/generator/site"
	"sheaf/generator/source"
	"sheaf/generator/words"
)

// A Task is one rule of one planting in one year.
type Task struct {
	Planting *garden.Planting
	Job      *entries.Job
	Rule     entries.Rule // after adjustment
	From, To site.Day     // inclusive
	Why      string       // how the dates came about
	Minutes  measure.Minutes
	Cautions []string
	Notes    []Note
	// Year counts growing years since planting, from 1.
	Year int
	// Law is the closed season that its work is held to; nil for none.
	Law *entries.Closed
	// Settling is the watering every new planting gets in its first year; lists
	// name it once for all.
	Settling bool
}

// A Month is one month of the booklet.
type Month struct {
	First, Last site.Day
	Tasks       []int // indices into Calendar.Tasks, by window
	Minutes     measure.Minutes
}

// A Calendar is the booklet's span of months with all that falls in it.
type Calendar struct {
	First, Last site.Day
	Months      []Month
	Tasks       []Task // by first day, plant, job
	// Days are the garden days, by first day; each task is on one, but those that
	// are Apart. A guide has none. No plan has fewer than LeastDays.
	Days      []Day
	LeastDays int
	Apart     []int // tasks that hang on the weather and are on no day: watering
}

// Input is what a calendar is made from.
type Input struct {
	Garden    *garden.Garden
	Plantings []garden.Planting
	Library   *entries.Library
	Region    *entries.Region // nil when the country is not in the library
	Climate   *site.Climate
	First     site.Day     // first day of the first month
	Words     *words.Words // of the booklet
	English   *words.Words // of what is told to the designer
}

// Plan dates every rule that falls into the garden's years.
func Plan(in Input) (*Calendar, source.Diagnostics) {
	var ds source.Diagnostics
	c := &Calendar{First: in.First}
	year, month, _ := in.First.Civil()
	for i := range 12 * in.Garden.Years {
		first := monthStart(year, month, i)
		c.Months = append(c.Months, Month{First: first, Last: monthStart(year, month, i+1) - 1})
	}
	c.Last = c.Months[len(c.Months)-1].Last
	// Plantings are dated side by side: none looks at another.
	type dated struct {
		tasks []Task
		ds    source.Diagnostics
		key   string
	}
	all := make([]dated, len(in.Plantings))
	keys := map[*garden.Planting]string{}
	var done sync.WaitGroup
	for i := range in.Plantings {
		p, d := &in.Plantings[i], &all[i]
		if p.Entry == nil {
			continue
		}
		done.Go(func() {
			for _, r := range p.Entry.Rules {
				d.tasks = append(d.tasks, in.tasks(p, r, c, &d.ds)...)
			}
			d.tasks = append(d.tasks, in.settling(p, c)...)
			d.key = p.Entry.Name.Value.SortKey()
		})
	}
	done.Wait()
	for i, d := range all {
		c.Tasks, ds = append(c.Tasks, d.tasks...), append(ds, d.ds...)
		keys[&in.Plantings[i]] = d.key
	}
	slices.SortStableFunc(c.Tasks, func(a, b Task) int {
		return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To),
			strings.Compare(keys[a.Planting], keys[b.Planting]),
			cmp.Compare(a.Planting.Row.Line, b.Planting.Row.Line), strings.Compare(a.Job.Name.Value, b.Job.Name.Value))
	})
	c.fill()
	if in.Garden.Kind == garden.Handover {
		in.schedule(c)
	}
	return c, append(ds, in.frozen(c)...)
}

// monthStart is the first day of the month n months after another.
func monthStart(year int, month time.Month, n int) site.Day {
	t := time.Date(year, month+time.Month(n), 1, 0, 0, 0, 0, time.UTC)
	return site.Date(t.Year(), t.Month(), 1)
}

// A dating is one window of a rule at a planting's place, due or not.
type dating struct {
	site.Interval
	rule  entries.Rule // after adjustment
	notes []Note
	year  int // growing year of the planting
	due   bool
	// spared: part of the window is not used, as the rule forbids those days;
	// barred: nothing is left of it.
	spared, barred bool

	law     *entries.Closed // the closed season that is about the rule; nil: none
	moved   string          // why its days are others than were meant; "": they are not
	refused bool            // no lawful time is left
}

// datings resolves a rule for civil years, each interval once. The growing year
// of an interval is that of its first day: what begins before a plant is old
// enough waits for the next time.
func (in *Input) datings(p *garden.Planting, r entries.Rule, first, last int) iter.Seq[dating] {
	return func(yield func(dating) bool) {
		var begun []site.Day
		x := site.Context{Climate: in.Climate, WrittenFor: p.Entry.WrittenFor, Flowering: p.Entry.Flowers.Value}
		for year := first; year <= last; year++ {
			// What is fitted may depend on the growing year, and a window of one
			// civil year may begin in the growing year before it, in it or after.
			for growing := year - 1; growing <= year+1; growing++ {
				fitted, notes, done := in.Fit(p, r, growing)
				if !done {
					continue
				}
				for _, w := range x.Resolve(fitted.When.Value, year) {
					if in.season(w.From) != growing || slices.Contains(begun, w.From) {
						continue
					}
					begun = append(begun, w.From)
					age := in.growingYear(p, w.From)
					d := dating{Interval: w, rule: fitted, notes: notes, year: age, due: p.Typical && fitted.Only == 0 || due(fitted, age) && in.rooted(p, fitted, w) && in.wintered(p, fitted, w)}
					left, some := spared(x, fitted, w)
					d.spared, d.barred = left.From != w.From || left.To != w.To, !some
					d.Interval, d.due = left, d.due && some
					if some {
						in.keepLaw(p, x, &d)
					}
					if planted := in.planted(p); d.To >= planted {
						d.From = max(d.From, planted) // nothing is done to a plant that is not there
					}
					if !yield(d) {
						return
					}
				}
			}
		}
	}
}

// tasks dates one rule of one planting.
func (in *Input) tasks(p *garden.Planting, r entries.Rule, c *Calendar, ds *source.Diagnostics) []Task {
	job := in.Library.Job(r.Job.Value)
	if job == nil || r.When.Value.IsZero() || in.Barred(p, job) {
		return nil
	}
	var out []Task
	last := c.Last.Year()
	if len(in.closedOn(p)) > 0 {
		last++ // a window of the year after may be moved before a closed season
	}
	// A window that begins before the first month may still run into it.
	for w := range in.datings(p, r, c.First.Year()-1, last) {
		if !w.due || w.To < in.handover() || w.From > c.Last || w.To < in.planted(p) {
			continue
		}
		if w.refused {
			refuse(p, &w, ds)
			continue
		}
		t := Task{Planting: p, Job: job, Rule: w.rule, From: w.From, To: w.To, Why: in.reason(w.Why(in.English) + w.moved), Notes: slices.Clone(w.notes), Year: w.year, Law: w.law}
		if w.spared {
			t.Why += "; without the days that the rule forbids"
		}
		if w.law != nil {
			t.Notes = append(t.Notes, Note{Text: in.lawful(w.law)})
		}
		if w.Mended {
			t.Notes = append(t.Notes, Note{Text: in.Words.Say("care.nearest")})
			ds.Add(source.Warning, "care/empty-window", w.rule.When.Span,
				fmt.Sprintf("for %s this window is empty at the garden: it would end before it begins", p.Label()),
				"the later half of what is left of the season is used; give another window under adjust, or in the garden's own entry")
		}
		t.Minutes = in.Minutes(p, w.rule, job)
		t.Cautions = in.cautions(p, w.rule, job)
		if Drift(p) && parted(job) && p.Row.Quantity > mostClumps {
			t.Notes = append(t.Notes, Note{Text: in.Words.Say("care.part of a drift", "n", mostClumps)})
		}
		in.block(&t)
		if w.spared && Disturbs(&t) && in.InNestSeason(&t) {
			t.Notes = append(t.Notes, Note{Text: in.Words.Say("care.no room")})
		}
		if t.To >= in.handover() && t.From <= c.Last {
			out = append(out, t)
		}
	}
	return out
}

// settling is the watering of a planting in its first growing year, from the
// first green to leaf fall, unless its entry says how to water it. A bulb brings
// its own water, and many want a dry rest in summer. The time is not counted: it hangs on the weather (University of Minnesota Extension,
// watering newly planted trees and shrubs: until the roots are established).
func (in *Input) settling(p *garden.Planting, c *Calendar) []Task {
	job := in.Library.Job("water")
	if job == nil || p.Entry.Type == "bulb" || in.Barred(p, job) || slices.ContainsFunc(p.Entry.Rules, func(r entries.Rule) bool { return r.Job.Value == "water" }) {
		return nil
	}
	var out []Task
	for year := c.First.Year() - 1; year <= c.Last.Year(); year++ {
		from, _ := in.Climate.Cue(site.FirstGreen, year)
		to, _ := in.Climate.Cue(site.LeafFall, year)
		if from > to {
			// In the south leaf fall follows in the next civil year.
			to, _ = in.Climate.Cue(site.LeafFall, year+1)
		}
		if from = max(from, in.planted(p)); from > to || to < in.handover() || from > c.Last || in.growingYear(p, to) != 1 {
			continue
		}
		out = append(out, Task{
			Planting: p, Job: job, Rule: entries.Rule{Span: job.Name.Span, Job: job.Name, LookFor: in.Words.Say("care.dry soil")},
			From: from, To: to, Why: "first growing year: first green, or planting, to leaf fall", Year: 1, Settling: true,
			Cautions: in.cautions(p, entries.Rule{}, job),
		})
	}
	return out
}

// due tells whether a rule is done in a growing year of a plant.
func due(r entries.Rule, year int) bool {
	switch {
	case r.Only > 0:
		return year == r.Only
	case year < r.NotBefore:
		return false
	case r.Every > 1:
		// Counted from planting: every 3 years means in years 4, 7, 10.
		return year > 1 && (year-1)%r.Every == 0
	}
	return true
}

// grown is how many days ago a planting went in that stands for any grown one.
const grown = 40 * 366

// planted is when a planting went in: its own date, else the handover.
func (in *Input) planted(p *garden.Planting) site.Day {
	if p.Typical {
		return in.First - grown
	}
	return cmp.Or(p.Row.Planted, in.Garden.Date, in.First)
}

// handover is the day the booklet is handed over when that is in its first
// month: what had to be done before is done.
func (in *Input) handover() site.Day {
	year, month, _ := in.First.Civil()
	if d := in.Garden.Date; in.Garden.Kind == garden.Handover && d >= in.First && d < monthStart(year, month, 1) {
		return d
	}
	return in.First
}

// growingYear counts the growing years of a planting up to a day, from 1. A
// growing year is the civil year in the north and July to June in the south;
// what is planted after high summer has its first growing year in the next.
func (in *Input) growingYear(p *garden.Planting, d site.Day) int {
	return max(in.season(d)-in.firstSeason(p)+1, 1)
}

// firstSeason is the first growing year of a planting. One of August to
// December, in the south of February to June, starts with the next: its roots
// have not seen a summer. Common practice, no source.
func (in *Input) firstSeason(p *garden.Planting) int {
	const afterSummer = 5 // months from August on to the next growing year
	year, month, _ := in.planted(p).Civil()
	return in.season(monthStart(year, month, afterSummer))
}

func (in *Input) season(d site.Day) int {
	year, month, _ := d.Civil()
	if in.Garden.Place.Hemisphere() == site.South && month < time.July {
		return year - 1
	}
	return year
}

// FitNow is Fit for the growing year in which the booklet begins, or for the
// next one if the rule is not done in that yet. Its notes hold in one of them,
// and in one in which the rule is due.
func (in *Input) FitNow(p *garden.Planting, r entries.Rule) (entries.Rule, []Note, bool) {
	now := in.season(in.First)
	notes := in.noted(p, r.Job.Value, now)
	fitted, _, done := in.Fit(p, r, now)
	if !done {
		fitted, _, done = in.Fit(p, r, now+1)
	} else if !p.Typical && !in.comesIn(p, r, now) {
		later := in.noted(p, r.Job.Value, now+1)
		notes = slices.DeleteFunc(notes, func(n Note) bool { return !slices.Contains(later, n) })
	}
	return fitted, notes, done
}

// comesIn tells whether a rule is still due in a growing year after the handover.
// A note that ends with that year says nothing of work that only begins later.
func (in *Input) comesIn(p *garden.Planting, r entries.Rule, year int) bool {
	for d := range in.datings(p, r, in.First.Year()-1, in.First.Year()+1) {
		if d.due && !d.refused && in.season(d.From) == year && d.To >= in.handover() {
			return true
		}
	}
	return false
}

// Fit lays the adjustments for a planting's place over a rule for one growing
// year. The last result is false when the rule is not done there at all.
func (in *Input) Fit(p *garden.Planting, r entries.Rule, year int) (entries.Rule, []Note, bool) {
	if in.lacks(r) != "" {
		return r, nil, false
	}
	r = in.warmed(r)
	skipped := false
	for _, a := range p.Entry.Adjust {
		if a.Job.Value != r.Job.Value || !in.holds(p, a.If, year) {
			continue
		}
		skipped = skipped || a.Skip
		if !a.Leave.Value.IsZero() {
			r.Leave = a.Leave
		}
		if !a.When.Value.IsZero() {
			r.When = a.When
		}
		if a.If == entries.ThisGarden && !a.When.Value.IsZero() {
			// Who dates a job in this very garden wants it done there.
			skipped, r.Moved = false, a.When.Span
		}
	}
	if skipped {
		return r, nil, false
	}
	return r, in.noted(p, r.Job.Value, year), true
}

// Cold and warm gardens. Cold: an average winter's lowest night of −10 °C or
// less, the top of the RHS band H5 (STANDARDS 2.2); warm: a mean that never
// falls below the 5 °C of the ETCCDI growing season (STANDARDS 1.1).
const (
	coldNight  = -10.0
	warmWinter = 5.0
)

// holds tells whether a condition is true of a planting in a growing year.
func (in *Input) holds(p *garden.Planting, condition string, year int) bool {
	bed := garden.Bed{}
	if p.Bed != nil {
		bed = *p.Bed
	}
	switch condition {
	case entries.ThisGarden:
		return true
	case "pot":
		return p.Row.Pot
	case "first year":
		return year <= in.firstSeason(p)
	case "cold garden":
		return in.cold()
	case "warm garden":
		cold, ok := in.Climate.Cue(site.ColdestDay, year)
		return ok && in.Garden.Place.Normals != nil && in.Climate.Mean(cold) >= warmWinter
	}
	return condition == bed.Light || condition == bed.Exposure ||
		bed.Soil != "" && condition == bed.Soil+" soil" || bed.Fertility != "" && condition == bed.Fertility+" soil"
}

// FirstDue is the first window in which a rule is due for a planting, after the
// handover; false if there is none.
func (in *Input) FirstDue(p *garden.Planting, r entries.Rule) (from, to site.Day, ok bool) {
	for w := range in.datings(p, r, in.First.Year()-1, in.First.Year()+farthest) {
		if w.due && !w.refused && w.To >= in.handover() && w.To >= in.planted(p) {
			return w.From, w.To, true
		}
	}
	return 0, 0, false
}

// Over tells a rule of one growing year whose last window in that year ended
// before the handover, or before planting: it is never done for this planting.
func (in *Input) Over(p *garden.Planting, r entries.Rule) bool {
	if r.Only == 0 || p.Typical {
		return false
	}
	for w := range in.datings(p, r, in.First.Year()-1, in.First.Year()+r.Only+1) {
		if w.year == r.Only && w.To >= in.handover() && w.To >= in.planted(p) {
			return false
		}
	}
	return true
}

// DueInYear gives the windows of a rule that fall due within a year of the first
// of them: two for one that is done in spring and again in autumn.
func (in *Input) DueInYear(p *garden.Planting, r entries.Rule) (out []site.Interval) {
	for w := range in.datings(p, r, in.First.Year()-1, in.First.Year()+farthest) {
		switch {
		case !w.due || w.refused || w.To < in.handover() || w.To < in.planted(p):
		case out != nil && w.From >= site.Date(out[0].From.Year()+1, out[0].From.Month(), 1):
			return out
		default:
			out = append(out, w.Interval)
		}
	}
	return out
}

// farthest is how many years ahead a rule is looked for that is not due yet.
const farthest = 25

// Minutes is the time for all plants of a planting: the rule's figure, else
// the job's usual one for a plant of that size, by as many as are worked. An
// estimate.
func (in *Input) Minutes(p *garden.Planting, r entries.Rule, job *entries.Job) measure.Minutes {
	per := r.Minutes
	if per == (measure.Minutes{}) {
		per = job.MinutesFor(p.Entry.Tallest())
	}
	all := per.Times(worked(p, job))
	if in.Garden.Skill == garden.Owner {
		all.Low, all.High = all.Low*ownerLow, all.High*ownerHigh
	}
	return all
}

// An owner new to the work takes half as long again to twice as long as a
// practised gardener: an estimate, no source.
const ownerLow, ownerHigh = 1.5, 2.0

// cautions joins what the plant, the job and the rule warn of.
func (in *Input) cautions(p *garden.Planting, r entries.Rule, job *entries.Job) []string {
	var out []string
	add := func(s string) {
		if s != "" && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	for _, line := range in.Harm(p.Entry) {
		add(line)
	}
	for _, risk := range job.Risks {
		add(in.Library.Caution(risk.Value))
	}
	for _, c := range r.Cautions {
		add(c)
	}
	return out
}

// Harm is what a plant can do to people and animals: a caution for each hazard,
// then those of its own; where nobody knows, that.
func (in *Input) Harm(e *entries.Entry) []string {
	if e.Unmeasured && len(e.Kin) == 0 {
		return []string{in.Words.Say("care.unknown hazards")}
	}
	var out []string
	for _, h := range e.Hazards {
		if line := in.Library.Caution(h.Value); line != "" {
			out = append(out, line)
		}
	}
	return append(out, e.Cautions...)
}

// block holds a task to what forbids it for a time: nests and frost.
func (in *Input) block(t *Task) {
	in.keepFromNests(t)
	if in.InNestSeason(t) {
		t.Cautions = append(t.Cautions, in.Words.Say("care.nests", "region", in.Region.Name, "from", in.Region.Nest.From.Say(in.Words), "to", in.Region.Nest.To.Say(in.Words)))
	}
	// Cut evergreens and sub-shrubs are the first to suffer from frost after a
	// cut (common practice, no source). A rule's own words come first.
	e := t.Planting.Entry
	if t.Job.Family == "cut" && t.Rule.WaitIf == "" && (e.Leaf == "evergreen" || e.Type == "subshrub") {
		if last, ok := in.Climate.Cue(site.LastFrost, t.From.Year()); ok && t.From < last && t.To > last-season {
			t.Notes = append(t.Notes, Note{Text: in.Words.Say("care.frost")})
		}
	}
}

// reason says how dates came about, in the garden's own units.
func (in *Input) reason(why string) string {
	if in.Garden.Units == measure.US {
		return measure.Customary(site.MonthFirst(why))
	}
	return why
}

// season is how long before the last frost of spring frost is a matter, in days.
const season = 120

// leastClear is the shortest part of a window, in days, that is worth keeping
// to for the sake of nests.
const leastClear = 10

// keepFromNests moves a task that may disturb nests to the part of its window
// that lies outside the nesting season, where that leaves time enough.
func (in *Input) keepFromNests(t *Task) {
	if !Disturbs(t) {
		return
	}
	for _, n := range in.nestSeasons(t) {
		before, after := in.openDays(t.Job, t.From, n[0]-1), in.openDays(t.Job, n[1]+1, t.To)
		switch {
		case t.From > n[1] || t.To < n[0]:
			continue
		case after >= leastClear && after >= before:
			t.From = n[1] + 1
		case before >= leastClear:
			t.To = n[0] - 1
		default:
			continue
		}
		t.Why += "; kept out of the nesting season"
		t.Notes = append(t.Notes, Note{Text: in.Words.Say("care.kept out")})
	}
}

// InNestSeason tells whether a task for which nests are looked for overlaps the
// region's nesting season.
func (in *Input) InNestSeason(t *Task) bool {
	return branches(t) && slices.ContainsFunc(in.nestSeasons(t), func(n [2]site.Day) bool { return t.From <= n[1] && n[0] <= t.To })
}

// nestSeasons are the region's nesting seasons around a task.
func (in *Input) nestSeasons(t *Task) [][2]site.Day {
	if in.Region == nil || in.Region.Nest == nil {
		return nil
	}
	n := in.Region.Nest
	var out [][2]site.Day
	for year := t.From.Year() - 1; year <= t.To.Year(); year++ {
		from, to := site.Date(year, n.From.Month, n.From.Day), site.Date(year, n.To.Month, n.To.Day)
		if to < from {
			to = site.Date(year+1, n.To.Month, n.To.Day)
		}
		out = append(out, [2]site.Day{from, to})
	}
	return out
}

// branches tells whether a task cuts what a nest may be in. Nests are looked for
// before any of them; only those that [Disturbs] names give way to the season, as
// a shrub that is pruned after its flowers cannot wait for autumn.
func branches(t *Task) bool {
	switch t.Planting.Entry.Type {
	case "hedge", "climber", "shrub", "rose", "tree":
		return t.Job.Family == "cut" && !entries.Lightly(t.Job.Name.Value)
	}
	return false
}

// Disturbs tells whether a task is of a kind that birds nest in: hedges,
// climbers, and the thinning of shrubs (TRADE 5.3).
func Disturbs(t *Task) bool {
	job := t.Job.Name.Value
	if !branches(t) {
		return false
	}
	switch t.Planting.Entry.Type {
	case "hedge", "climber":
		return true
	case "shrub", "rose", "tree":
		return job == "thin" || job == "trim" || job == "renovate" || job == "raise crown"
	}
	return false
}

// fill sorts tasks into months. A task counts in every month it touches; its
// minutes are shared among them by days, so that the months of a year add up
// to the year.
func (c *Calendar) fill() {
	for i := range c.Months {
		m := &c.Months[i]
		for j := range c.Tasks {
			t := &c.Tasks[j]
			days := min(t.To, m.Last) - max(t.From, m.First) + 1
			if days <= 0 {
				continue
			}
			m.Tasks = append(m.Tasks, j)
			within := min(t.To, c.Last) - max(t.From, c.First) + 1
			m.Minutes = m.Minutes.Plus(t.Minutes.Times(float64(days) / float64(within)))
		}
	}
}
