package days

import (
	"cmp"
	"slices"

	"sheaf/generator/site"
)

// A layout is units on days, with the days' windows, which it keeps up as units are
// put and taken.
type layout struct {
	*problem
	at    []int // the day of each unit; none: on none
	days  []visit
	width int // the lengths of all windows
	steps int
	// Scratch, for counting and for settling.
	seen         []int
	mark         int
	looked, work []int
}

const none = -1

// A visit is a day of a layout.
type visit struct {
	units    []int
	minutes  float64
	from, to site.Day // what its windows have in common
	lo, hi   site.Day // what the order leaves of that
	width    int      // its length, as it is counted in the layout's
	long     int      // the length of its shortest window
	nearest  bool
}

func (p *problem) empty() *layout {
	l := &layout{problem: p, at: make([]int, len(p.units)), seen: make([]int, p.kits)}
	for i := range l.at {
		l.at[i] = none
	}
	return l
}

// open adds a day without work.
func (l *layout) open() int {
	l.days = append(l.days, visit{})
	l.own(len(l.days) - 1)
	return len(l.days) - 1
}

// own finds what a day has of its units alone.
func (l *layout) own(d int) {
	v := &l.days[d]
	v.minutes, v.from, v.to, v.long, v.nearest = 0, -1<<30, 1<<30, 1<<30, false
	for _, i := range v.units {
		v.add(&l.units[i])
	}
	l.leave(d, v.from, v.to)
	l.steps += len(v.units)
}

// leave notes what is left of a day's window.
func (l *layout) leave(d int, lo, hi site.Day) {
	v := &l.days[d]
	l.width -= v.width
	v.lo, v.hi, v.width = lo, hi, 0
	if len(v.units) > 0 {
		v.width = int(hi-lo) + 1
	}
	l.width += v.width
}

func (v *visit) add(u *unit) {
	v.minutes += u.minutes
	v.from, v.to, v.long = max(v.from, u.from), min(v.to, u.to), min(v.long, u.long())
	v.nearest = v.nearest || u.nearest
}

// take takes a unit off its day, which is not looked at again: it may be left with
// too short a window.
func (l *layout) take(i int) {
	d := l.at[i]
	v := &l.days[d]
	v.units = slices.DeleteFunc(v.units, func(j int) bool { return j == i })
	l.at[i] = none
	l.own(d)
	l.settle(d, i)
}

// put puts a unit on a day if all days keep what they must; if not nothing changes.
func (l *layout) put(i, d int) bool {
	if !l.hopeful(i, d) {
		return false
	}
	v := &l.days[d]
	v.units, l.at[i] = append(v.units, i), d
	l.own(d)
	for _, t := range l.settle(d, none) {
		if !l.keeps(t) {
			l.take(i)
			return false
		}
	}
	if l.circles(d) {
		l.take(i)
		return false
	}
	return true
}

// hopeful tells quickly whether a unit may fit a day.
func (l *layout) hopeful(i, d int) bool {
	l.steps++
	u, v := &l.units[i], &l.days[d]
	lo, hi := max(v.from, u.from), min(v.to, u.to)
	return v.minutes+u.minutes <= l.Minutes+slight && int(hi-lo)+1 >= l.need(min(v.long, u.long())) &&
		!(u.split && slices.ContainsFunc(v.units, func(j int) bool { return l.units[j].task == u.task }))
}

// settle finds again what the order leaves of the windows of a day and of all that
// hang on it, also by a unit that was taken off it. It gives the days it looked at,
// until it is called again.
func (l *layout) settle(d, taken int) []int {
	looked, work := append(l.looked[:0], d), append(l.work[:0], d)
	defer func() { l.looked, l.work = looked, work }()
	linked := func(i int) {
		for _, side := range [2][]int{l.units[i].before, l.units[i].after} {
			for _, j := range side {
				if e := l.at[j]; e != none && !slices.Contains(work, e) {
					work = append(work, e)
				}
			}
		}
	}
	if taken != none {
		linked(taken)
	}
	for told := false; len(work) > 0; {
		e := work[len(work)-1]
		work = work[:len(work)-1]
		v := &l.days[e]
		lo, hi := v.from, v.to
		for _, i := range v.units {
			for _, j := range l.units[i].before {
				if b := l.at[j]; b != none && b != e {
					lo = max(lo, l.days[b].lo)
				}
			}
			for _, j := range l.units[i].after {
				if b := l.at[j]; b != none && b != e {
					hi = min(hi, l.days[b].hi)
				}
			}
		}
		l.steps += len(v.units)
		if changed := lo != v.lo || hi != v.hi; changed || e == d && !told {
			told = told || e == d
			l.leave(e, lo, hi)
			if !slices.Contains(looked, e) {
				looked = append(looked, e)
			}
			for _, i := range v.units {
				linked(i)
			}
		}
	}
	return looked
}

// keeps tells whether a day is as it must be, and leaves room for what waits to be
// put somewhere.
func (l *layout) keeps(d int) bool {
	v := &l.days[d]
	if len(v.units) == 0 {
		return true
	}
	good := func(lo, hi site.Day, long int, nearest bool) bool {
		return int(hi-lo)+1 >= l.need(long) && (nearest || l.fit(lo, hi))
	}
	if !good(v.lo, v.hi, v.long, v.nearest) {
		return false
	}
	for _, i := range v.units {
		for _, j := range l.units[i].after {
			if u := &l.units[j]; l.at[j] == none && !good(max(u.from, v.lo), u.to, u.long(), u.nearest) {
				return false
			}
		}
		for _, j := range l.units[i].before {
			if u := &l.units[j]; l.at[j] == none && !good(u.from, min(u.to, v.hi), u.long(), u.nearest) {
				return false
			}
		}
	}
	return true
}

// circles tells whether a day comes after itself by way of others. All days of such
// a circle have one window.
func (l *layout) circles(d int) bool {
	seen := []int{d}
	for n := 0; n < len(seen); n++ {
		for _, i := range l.days[seen[n]].units {
			for _, j := range l.units[i].after {
				switch e := l.at[j]; {
				case e == none || e == seen[n] || l.days[e].lo != l.days[d].lo || l.days[e].hi != l.days[d].hi:
				case e == d:
					return true
				case !slices.Contains(seen, e):
					seen = append(seen, e)
				}
			}
		}
	}
	return false
}

// A worth is what plans are compared by.
type worth struct{ days, width, kits int }

func (w worth) compare(o worth) int {
	return cmp.Or(cmp.Compare(w.days, o.days), cmp.Compare(o.width, w.width), cmp.Compare(w.kits, o.kits))
}

func (l *layout) worth() worth {
	w := worth{width: l.width}
	for d := range l.days {
		w.count(l, d)
	}
	return w
}

// local counts the days, tools and beds of two days only.
func (l *layout) local(x, y int) worth {
	w := worth{width: l.width}
	w.count(l, x)
	w.count(l, y)
	return w
}

func (w *worth) count(l *layout, d int) {
	if units := l.days[d].units; len(units) > 0 {
		w.days, w.kits = w.days+1, w.kits+l.takes(units)
	}
}

// takes counts the tools and beds of some units.
func (l *layout) takes(units []int) int {
	l.mark++
	n := 0
	for _, i := range units {
		for _, k := range l.units[i].kit {
			if l.seen[k] != l.mark {
				l.seen[k] = l.mark
				n++
			}
		}
	}
	l.steps += len(units)
	return n
}

// plan gives the days in their order.
func (l *layout) plan() Plan {
	var sorted []int
	for d := range l.days {
		if len(l.days[d].units) > 0 {
			slices.Sort(l.days[d].units)
			sorted = append(sorted, d)
		}
	}
	slices.SortFunc(sorted, func(a, b int) int {
		v, w := &l.days[a], &l.days[b]
		return cmp.Or(cmp.Compare(v.lo, w.lo), cmp.Compare(v.hi, w.hi), cmp.Compare(v.units[0], w.units[0]))
	})
	// Of days with one window those come first that others wait for.
	number := make([]int, len(l.days))
	var order []int
	var visit func(d int)
	visit = func(d int) {
		if number[d] != 0 {
			return
		}
		number[d] = none
		for _, e := range l.preceding(d) {
			visit(e)
		}
		order = append(order, d)
		number[d] = len(order)
	}
	for _, d := range sorted {
		visit(d)
	}
	var out Plan
	of, n := map[int]int{}, map[int]int{}
	for i := range l.units {
		of[l.units[i].task]++
	}
	for _, d := range order {
		v := &l.days[d]
		day := Day{From: v.lo, To: v.hi, Minutes: v.minutes, Nearest: v.nearest && !l.fit(v.lo, v.hi)}
		for _, i := range v.units {
			t := l.units[i].task
			n[t]++
			day.Parts = append(day.Parts, Part{t, n[t], of[t]})
		}
		for _, e := range l.preceding(d) {
			if l.days[e].hi >= v.lo {
				day.After = append(day.After, number[e]-1)
			}
		}
		slices.Sort(day.After)
		out.Days = append(out.Days, day)
	}
	return out
}

// preceding are the days that come before one, by the order.
func (l *layout) preceding(d int) []int {
	var out []int
	for _, i := range l.days[d].units {
		for _, j := range l.units[i].before {
			if e := l.at[j]; e != d && !slices.Contains(out, e) {
				out = append(out, e)
			}
		}
	}
	return out
}
