package days

import (
	"cmp"
	"slices"
	"sync"
)

// The effort of the search, in steps: looks at one unit of a day. A garden of sixty
// plants takes some hundred thousand.
const (
	mostAway    = 3_000_000 // for taking days away, for each of the four plans
	mostWidened = 3_000_000 // for widening windows, likewise
	mostShared  = 4_000_000 // for sharing the work of a few days out anew, for the best
)

// mostTogether is how many units two or three days have at most whose work is shared
// out anew.
const mostTogether = 11

// exact tries every plan.
func (p *problem) exact() *layout {
	best := p.alone()
	least := best.worth()
	l := p.empty()
	var next func(i int)
	next = func(i int) {
		if len(l.days) > least.days {
			return
		}
		if i == len(p.units) {
			if w := l.worthIfKept(); w.days > 0 && w.compare(least) < 0 {
				best, least = l.clone(), w
			}
			return
		}
		u := &p.units[i]
		for d := 0; d <= len(l.days); d++ {
			fresh := d == len(l.days)
			if fresh {
				l.open()
			}
			v := &l.days[d]
			if v.minutes+u.minutes <= p.Minutes+slight && max(v.from, u.from) <= min(v.to, u.to) && !(u.split && slices.ContainsFunc(v.units, func(j int) bool { return p.units[j].task == u.task })) {
				v.units, l.at[i] = append(v.units, i), d
				l.own(d)
				next(i + 1)
				v = &l.days[d]
				v.units, l.at[i] = v.units[:len(v.units)-1], none
				l.own(d)
			}
			if fresh {
				l.days = l.days[:d] // empty, and counted as nothing
				break
			}
		}
	}
	next(0)
	return best
}

// worthIfKept finds the windows of a whole layout again; no days if any is not as it
// must be.
func (l *layout) worthIfKept() worth {
	for d := range l.days {
		l.leave(d, l.days[d].from, l.days[d].to)
	}
	for d := range l.days {
		l.settle(d, none)
	}
	for d := range l.days {
		if !l.keeps(d) || l.circles(d) {
			return worth{}
		}
	}
	return l.worth()
}

func (l *layout) clone() *layout {
	out := *l
	out.at, out.seen, out.looked, out.work = slices.Clone(l.at), slices.Clone(l.seen), nil, nil
	out.days = slices.Clone(l.days)
	for d := range out.days {
		out.days[d].units = slices.Clone(out.days[d].units)
	}
	return &out
}

// alone is the plan of as many days as there are units.
func (p *problem) alone() *layout {
	l := p.empty()
	for i := range p.units {
		d := l.open()
		l.days[d].units, l.at[i] = []int{i}, d
		l.own(d)
	}
	for d := range l.days {
		l.settle(d, none)
	}
	return l
}

// search makes four plans, mends each and gives the best, with the steps of all.
func (p *problem) search() (*layout, int) {
	// None of the four hangs on another; of two that are worth the same the first is
	// taken.
	var plans [4]*layout
	var all sync.WaitGroup
	for i := range plans {
		all.Go(func() {
			plans[i] = p.construct(i >= 2, i%2 == 1)
			plans[i].lessen()
			plans[i].widen()
		})
	}
	all.Wait()
	best, steps := plans[0], 0
	for _, l := range plans {
		steps += l.steps
		if l.worth().compare(best.worth()) < 0 {
			best = l
		}
	}
	before := best.steps
	for until := best.steps + mostShared; best.steps < until && best.share(until); {
		best.lessen()
		best.widen()
	}
	return best, steps + best.steps - before
}

// share shares the work of each two and three days that meet out anew, in every way,
// and tells whether that made the plan better.
func (l *layout) share(until int) (better bool) {
	meet := func(a, b int) bool {
		v, w := &l.days[a], &l.days[b]
		l.steps += 2
		return len(v.units) > 0 && len(w.units) > 0 && v.reach(l.problem, w)
	}
	for a := range l.days {
		for b := a + 1; b < len(l.days); b++ {
			if l.steps > until {
				return better
			}
			if !meet(a, b) {
				continue
			}
			better = l.reshare(until, a, b) || better
			for c := b + 1; c < len(l.days); c++ {
				if l.steps > until {
					return better
				}
				if meet(a, c) && meet(b, c) {
					better = l.reshare(until, a, b, c) || better
				}
			}
		}
	}
	return better
}

// reach tells whether a unit of one day might be done on the other.
func (v *visit) reach(p *problem, w *visit) bool {
	fits := func(i int, w *visit) bool { return p.units[i].from <= w.to && p.units[i].to >= w.from }
	return slices.ContainsFunc(v.units, func(i int) bool { return fits(i, w) }) || slices.ContainsFunc(w.units, func(i int) bool { return fits(i, v) })
}

// reshare tries every way to share the units of some days out among them.
func (l *layout) reshare(until int, some ...int) bool {
	var units []int
	for _, d := range some {
		units = append(units, l.days[d].units...)
	}
	if len(units) > mostTogether {
		return false
	}
	slices.SortFunc(units, func(a, b int) int {
		u, v := &l.units[a], &l.units[b]
		return cmp.Or(cmp.Compare(u.to, v.to), cmp.Compare(u.depth, v.depth), cmp.Compare(u.long(), v.long()), cmp.Compare(a, b))
	})
	worth := func() worth {
		w := worth{width: l.width}
		for _, d := range some {
			w.count(l, d)
		}
		return w
	}
	best, least, better := slices.Clone(l.at), worth(), false
	for _, i := range units {
		l.take(i)
	}
	var next func(n int)
	next = func(n int) {
		if n == len(units) {
			if w := worth(); w.compare(least) < 0 {
				least, better = w, true
				copy(best, l.at)
			}
			return
		}
		for _, d := range some {
			empty := len(l.days[d].units) == 0
			if l.steps < until && l.put(units[n], d) {
				next(n + 1)
				l.take(units[n])
			}
			if empty {
				return // another empty day is as good
			}
		}
	}
	next(0)
	l.restore(best)
	return better
}

// construct puts units on days one by one: by their last days, or mirrored by their
// first ones from the end; on the first day with room, or on that which keeps the
// most of its window.
func (p *problem) construct(mirrored, widest bool) *layout {
	l := p.empty()
	order := make([]int, len(p.units))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		u, v := &p.units[a], &p.units[b]
		if mirrored {
			return cmp.Or(cmp.Compare(v.from, u.from), cmp.Compare(v.depth, u.depth), cmp.Compare(u.long(), v.long()))
		}
		return cmp.Or(cmp.Compare(u.to, v.to), cmp.Compare(u.depth, v.depth), cmp.Compare(u.long(), v.long()))
	})
	for _, i := range order {
		if !l.place(i, none, widest) {
			l.fresh(i)
		}
	}
	return l
}

// place puts a unit on one of the days, but one.
func (l *layout) place(i, but int, widest bool) bool {
	type choice struct{ day, loss int }
	var some []choice
	for d := range l.days {
		if d == but || len(l.days[d].units) == 0 || !l.hopeful(i, d) {
			continue
		}
		if !widest {
			if l.put(i, d) {
				return true
			}
			continue
		}
		u, v := &l.units[i], &l.days[d]
		some = append(some, choice{d, int(v.hi-v.lo) - int(min(v.hi, u.to)-max(v.lo, u.from))})
	}
	slices.SortStableFunc(some, func(a, b choice) int { return cmp.Compare(a.loss, b.loss) })
	for _, c := range some {
		if l.put(i, c.day) {
			return true
		}
	}
	return false
}

// fresh puts a unit on a day of its own. There always is room: what is put before
// leaves it.
func (l *layout) fresh(i int) {
	for d := range l.days {
		if len(l.days[d].units) == 0 {
			l.put(i, d)
			return
		}
	}
	l.put(i, l.open())
}

// lessen takes days away whose units find room on others.
func (l *layout) lessen() {
	until := l.steps + mostAway
	for l.steps < until {
		var order []int
		for d := range l.days {
			if len(l.days[d].units) > 0 {
				order = append(order, d)
			}
		}
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(l.days[a].minutes, l.days[b].minutes) })
		if !slices.ContainsFunc(order, func(d int) bool { return l.steps < until && l.without(d, until) }) {
			return
		}
	}
}

// without takes one day away, if it can.
func (l *layout) without(d, until int) bool {
	units := slices.Clone(l.days[d].units)
	before := slices.Clone(l.at)
	slices.SortStableFunc(units, func(a, b int) int {
		u, v := &l.units[a], &l.units[b]
		return cmp.Or(cmp.Compare(u.depth, v.depth), cmp.Compare(v.minutes, u.minutes))
	})
	for _, i := range units {
		l.take(i)
	}
	for _, i := range units {
		if !l.place(i, d, true) && !l.eject(i, d, until) {
			l.restore(before)
			return false
		}
	}
	return true
}

// eject puts a unit on a day from which another makes way for it to a third.
func (l *layout) eject(i, but, until int) bool {
	u := &l.units[i]
	for d := range l.days {
		v := &l.days[d]
		if d == but || len(v.units) == 0 || v.from > u.to || v.to < u.from {
			continue
		}
		for _, j := range slices.Clone(v.units) {
			if l.steps > until {
				return false
			}
			if l.days[d].minutes-l.units[j].minutes+u.minutes > l.Minutes+slight {
				continue
			}
			l.take(j)
			if l.put(i, d) {
				for e := range l.days {
					if e != but && e != d && len(l.days[e].units) > 0 && l.put(j, e) {
						return true
					}
				}
				l.take(i)
			}
			l.back(j, d)
		}
	}
	return false
}

// back puts a unit where it was.
func (l *layout) back(i, d int) {
	l.days[d].units, l.at[i] = append(l.days[d].units, i), d
	l.own(d)
	l.settle(d, none)
}

// restore puts all units where they were.
func (l *layout) restore(at []int) {
	for i := range at {
		if l.at[i] != none && l.at[i] != at[i] {
			l.take(i)
		}
	}
	for i := range at {
		if l.at[i] != at[i] {
			l.back(i, at[i])
		}
	}
}

// widen moves and exchanges units as long as the plan gets better, never adding a
// day.
func (l *layout) widen() {
	until := l.steps + mostWidened
	for again := true; again; {
		again = false
		for i := range l.units {
			for d := range l.days {
				if l.steps > until {
					return
				}
				if v := &l.days[d]; d == l.at[i] || len(v.units) == 0 || v.from > l.units[i].to || v.to < l.units[i].from {
					continue
				}
				if l.better(i, none, d) {
					again = true
					continue
				}
				for _, j := range slices.Clone(l.days[d].units) {
					if j > i && l.better(i, j, d) {
						again = true
						break
					}
				}
				if l.steps > until {
					return
				}
			}
		}
	}
}

// better moves a unit to a day, in exchange for one of that day if there is any, and
// takes that back unless the plan is the better for it.
func (l *layout) better(i, j, d int) bool {
	x := l.at[i]
	u, v := &l.units[i], &l.days[d]
	l.steps++
	back := 0.0
	if j != none {
		back = l.units[j].minutes
		w := &l.days[x]
		if o := &l.units[j]; o.from > w.to || o.to < w.from || w.minutes-u.minutes+back > l.Minutes+slight {
			return false
		}
	}
	if v.minutes+u.minutes-back > l.Minutes+slight {
		return false
	}
	old := l.local(x, d)
	l.take(i)
	if j != none {
		l.take(j)
	}
	good := l.put(i, d) && (j == none || l.put(j, x)) && l.keeps(x)
	if good && l.local(x, d).compare(old) < 0 {
		return true
	}
	if l.at[i] != none {
		l.take(i)
	}
	if j != none && l.at[j] != none {
		l.take(j)
	}
	l.back(i, x)
	if j != none {
		l.back(j, d)
	}
	return false
}
