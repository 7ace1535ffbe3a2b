// Package days makes visits of dated work: tasks whose windows meet are done on
// one day, which has what the windows have in common as its own. In go tasks with
// their windows, minutes, tools and beds, and how long a day is; out come the days
// and how few there can be at all.
//
// What is sought, in this order: the fewest days; the widest windows, by the sum of
// their lengths; the fewest tools taken out and beds gone to, added up over the
// days.
//
// What holds of every plan:
//
//   - Each task is on one day. One that takes longer than a day is split into the
//     fewest equal parts, each on a day of its own.
//   - A day lies within the windows of all its tasks and takes no more than its
//     hours.
//   - A day keeps Limits.Least days, or the whole window of the shortest of its
//     tasks where that has fewer.
//   - A task that comes after another is on the same day or on a later one: later
//     means a higher number, and neither a first nor a last day that comes before
//     the other's. So whenever the first is done within its window, time is left for
//     what waits for it. Windows are narrowed to what this leaves of them.
//   - A window holds one of Limits.Weekdays; where a task's own window has none its
//     day is the one day of it that is nearest to one.
//
// Not looked at: whether there are as many days in a week as visits that must fall
// into it. Whoever has ten days' work due in a week has to see that for themselves.
//
// # Method
//
// With up to eight tasks every way to share them out is tried. With more, four plans
// are made: by last days into the first day with room and into that which loses least
// of its window, and both mirrored, by first days from the end. From each plan days are
// then taken away, the emptiest first, their tasks put on others, where one more task
// may have to make way (ejection); then single tasks are moved and pairs exchanged as
// long as windows widen or, at the same width, tools and beds get fewer. In the best
// of the four the tasks of each two and three days that meet are shared out among them
// in every way, if they are few. All of it depends on the input alone: an effort counted
// in steps ends it, never a clock. That it is the best is certain only for up to eight
// tasks; that it has the fewest days, also where their number is the bound.
//
// # Bound
//
// A day begins, as its own window does, within each of its tasks' windows; and by
// the least window, no later than that leaves room for. So each task has a stretch
// in which its day begins. Choose ranges of time that do not meet: a day with a task
// whose stretch lies within a range begins there, and in no other range. So at least
// the sum over the ranges of what each takes for itself is needed: one day if any
// stretch lies in it; the hours of those tasks over the hours of a day; or as many
// days as long tasks need that leave gaps which nothing fills, of which two tasks of
// more than half a day are the plainest. Whichever is most counts. The ranges with
// the highest sum are found by dynamic programming over the stretches' ends. Ranges
// that hold one stretch each give the stabbing number of the intervals, one range of
// all time gives hours over day length: the bound is at least both. It is not always
// met: of the small cases of the test in nine of ten.
package days

import (
	"math"
	"slices"
	"time"

	"sheaf/generator/site"
)

// A Task is work that is done on one day of its window.
type Task struct {
	From, To site.Day // inclusive
	Minutes  float64
	Tools    []string
	Bed      string
	// Before are the tasks that come before it. What the windows do not let be kept
	// is left out: all of the other's days come later.
	Before []int
}

// Limits are what a day must keep.
type Limits struct {
	Minutes  float64        // the longest day
	Least    int            // days that a day's window has at least
	Weekdays []time.Weekday // of which a window holds one; none: any day
}

// A Day is one visit.
type Day struct {
	From, To site.Day
	Parts    []Part // by task
	Minutes  float64
	After    []int // days that come first although their windows meet this one's
	Nearest  bool  // it falls on none of the weekdays
}

// A Part is a task, or one of the equal parts of one that is longer than a day.
type Part struct {
	Task  int
	N, Of int // from 1
}

// A Plan is all days by first, then last day.
type Plan struct {
	Days  []Day
	Bound int // no plan has fewer days
	Steps int // of the search, for who wants to know what it cost
}

// Schedule finds the days of some tasks. Tasks that end before they begin are not
// allowed.
func Schedule(tasks []Task, limits Limits) Plan {
	p := newProblem(tasks, limits)
	var best *layout
	steps := 0
	if len(p.units) <= fewest {
		best = p.exact()
	} else {
		best, steps = p.search()
	}
	out := best.plan()
	out.Bound, out.Steps = p.bound(), steps
	return out
}

// mostParts is how many days one task is split into at most: a day of each of a year.
const mostParts = 366

// fewest is up to how many parts of tasks every plan is tried: 4,140 of 8.
const fewest = 8

// slight is what sums of minutes may be off by.
const slight = 1e-6

// A unit is a task, or a part of one.
type unit struct {
	from, to      site.Day // as the order leaves them
	minutes       float64
	task          int
	split         bool
	nearest       bool  // its window has no weekday
	kit           []int // its tools and its bed
	before, after []int // units
	depth         int   // how many come before it in a row
}

// long is the length of its window in days.
func (u *unit) long() int { return int(u.to-u.from) + 1 }

type problem struct {
	Limits
	units []unit
	kits  int
}

func newProblem(tasks []Task, limits Limits) *problem {
	p := &problem{Limits: limits}
	p.Least = max(p.Least, 1)
	known := map[string]int{}
	kit := func(name string) int {
		if _, ok := known[name]; !ok {
			known[name] = len(known)
		}
		return known[name]
	}
	windows, before := p.windows(tasks)
	parts := make([][]int, len(tasks))
	for i := range tasks {
		t := &tasks[i]
		if t.Minutes > mostParts*p.Minutes || math.IsNaN(t.Minutes) { // nobody has so many plants
			t.Minutes = mostParts * p.Minutes
		}
		n := max(1, int(math.Ceil(t.Minutes/p.Minutes-slight)))
		u := unit{from: windows[i].from, to: windows[i].to, nearest: windows[i].nearest, depth: windows[i].depth, minutes: t.Minutes / float64(n), task: i, split: n > 1}
		for _, tool := range t.Tools {
			u.kit = append(u.kit, kit("tool "+tool))
		}
		if t.Bed != "" {
			u.kit = append(u.kit, kit("bed "+t.Bed))
		}
		for range n {
			parts[i] = append(parts[i], len(p.units))
			p.units = append(p.units, u)
		}
	}
	for b := range tasks {
		for _, a := range before[b] {
			for _, v := range parts[b] {
				p.units[v].before = append(slices.Clip(p.units[v].before), parts[a]...)
			}
			for _, u := range parts[a] {
				p.units[u].after = append(slices.Clip(p.units[u].after), parts[b]...)
			}
		}
	}
	p.kits = len(known)
	return p
}

// A window of a task, as the others leave it.
type window struct {
	from, to site.Day
	nearest  bool
	depth    int
}

// windows narrows the tasks' windows so that what comes after another neither begins
// nor ends before it, and gives the order that is kept: whatever comes before a task
// by way of others is named by it too.
func (p *problem) windows(tasks []Task) ([]window, [][]int) {
	out := make([]window, len(tasks))
	for i, t := range tasks {
		out[i] = window{from: t.From, to: t.To}
	}
	before := make([][]int, len(tasks))
	var done []int // in order: before a task come those that it waits for
	state := make([]int, len(tasks))
	var visit func(b int)
	visit = func(b int) {
		state[b] = 1
		for _, a := range tasks[b].Before {
			if state[a] == 0 {
				visit(a)
			}
			// An order that runs in a circle is none.
			if state[a] == 1 || max(out[a].from, out[b].from) > out[b].to || out[a].from > out[b].to || out[a].to < out[b].from {
				continue
			}
			out[b].from = max(out[b].from, out[a].from)
			for _, c := range append([]int{a}, before[a]...) {
				if !slices.Contains(before[b], c) {
					before[b] = append(before[b], c)
				}
			}
			out[b].depth = max(out[b].depth, out[a].depth+1)
		}
		state[b] = 2
		done = append(done, b)
	}
	for b := range tasks {
		if state[b] == 0 {
			visit(b)
		}
	}
	keep := func() {
		for _, b := range done {
			for _, a := range before[b] {
				out[b].from = max(out[b].from, out[a].from)
			}
		}
		for _, b := range slices.Backward(done) {
			for _, a := range before[b] {
				out[a].to = min(out[a].to, out[b].to)
			}
		}
	}
	keep()
	for i := range out {
		if w := &out[i]; !p.fit(w.from, w.to) {
			w.from = p.nearest(w.from, w.to)
			w.to, w.nearest = w.from, true
		}
	}
	keep()
	return out, before
}

// fit tells whether a window holds one of the weekdays.
func (p *problem) fit(from, to site.Day) bool {
	if len(p.Weekdays) == 0 || to-from >= 6 {
		return true
	}
	for d := from; d <= to; d++ {
		if slices.Contains(p.Weekdays, weekday(d)) {
			return true
		}
	}
	return false
}

// nearest is the day of a window that is the nearest to one of the weekdays, which
// it has not: its first or its last.
func (p *problem) nearest(from, to site.Day) site.Day {
	for away := site.Day(1); ; away++ {
		switch {
		case p.fit(from-away, from-away):
			return from
		case p.fit(to+away, to+away):
			return to
		}
	}
}

// weekday is that of a day: day 0, 1 January 1970, was a Thursday.
func weekday(d site.Day) time.Weekday {
	return time.Weekday(((int(d)+int(time.Thursday))%7 + 7) % 7)
}

// need is how many days the window of a day must have whose shortest task has so
// many.
func (p *problem) need(long int) int { return min(p.Least, long) }

// bound is a number of days that no plan goes below.
func (p *problem) bound() int {
	if len(p.units) == 0 {
		return 0
	}
	first, last := p.units[0].from, p.units[0].to
	for i := range p.units {
		first, last = min(first, p.units[i].from), max(last, p.units[i].to)
	}
	// starts has the first days of windows shorter than the least, by their length.
	starts := make([][]site.Day, p.Least)
	for i := range p.units {
		if u := &p.units[i]; u.long() < p.Least {
			starts[u.long()] = append(starts[u.long()], u.from)
		}
	}
	for _, s := range starts {
		slices.Sort(s)
	}
	// The window of a day is as long as the least, or as the shortest window in it,
	// which lies within all others.
	room := func(u *unit) int {
		for long, s := range starts {
			if i, _ := slices.BinarySearch(s, u.from); i < len(s) && s[i] <= u.to-site.Day(long)+1 {
				return long
			}
		}
		return p.need(u.long())
	}
	n := int(last-first) + 1
	ends := make([][]int, n)
	stretch := make([]int, len(p.units))
	for i := range p.units {
		u := &p.units[i]
		stretch[i] = int(u.from - first)
		end := int(u.to-first) - room(u) + 1
		ends[end] = append(ends[end], i)
	}
	counts := counts()
	sums := make([][]float64, n) // by first day, of stretches that have ended; nil: of none
	best := make([]int, n+1)     // in the first so many days
	all := make([]float64, len(counts))
	for end := range n {
		best[end+1] = best[end]
		for _, i := range ends[end] {
			if sums[stretch[i]] == nil {
				sums[stretch[i]] = make([]float64, len(counts))
			}
			for k, count := range counts {
				sums[stretch[i]][k] += count(p.units[i].minutes / p.Minutes)
			}
		}
		if len(ends[end]) == 0 {
			continue
		}
		clear(all)
		for from := end; from >= 0; from-- {
			if sums[from] == nil {
				continue
			}
			takes := 1
			for k := range all {
				all[k] += sums[from][k]
				takes = max(takes, int(math.Ceil(all[k]-slight)))
			}
			best[end+1] = max(best[end+1], best[from]+takes)
		}
	}
	return best[n]
}

// counts are functions that tell what a part of a day counts for, in days: of parts
// that fit a day together none counts for more than a day. The part itself is one;
// the others see that long parts leave gaps that nothing fills (dual feasible
// functions: S. Fekete and J. Schepers, New classes of fast lower bounds for bin
// packing problems, Mathematical Programming 91, 2001; from memory).
func counts() []func(part float64) float64 {
	out := []func(float64) float64{func(part float64) float64 { return part }}
	for k := 1.0; k <= 5; k++ {
		out = append(out, func(part float64) float64 {
			whole := math.Floor((k + 1) * part)
			if (k+1)*part-whole < slight {
				return part
			}
			return whole / k
		})
	}
	for _, small := range []float64{0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5} {
		out = append(out, func(part float64) float64 {
			switch {
			case part > 1-small+slight:
				return 1
			case part < small+slight:
				return 0
			}
			return part
		})
	}
	return out
}
