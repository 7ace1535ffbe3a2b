package days

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"sheaf/generator/site"
)

// some makes tasks: windows of up to longest days within span, up to most minutes.
func some(r *rand.Rand, n, span, longest, most int) []Task {
	out := make([]Task, n)
	for i := range out {
		from := r.IntN(span)
		out[i] = Task{From: site.Day(from), To: site.Day(from + r.IntN(longest)), Minutes: float64(1 + r.IntN(most)), Bed: string(rune('A' + r.IntN(3))), Tools: []string{string(rune('a' + r.IntN(4)))}}
		if i > 0 && r.IntN(4) == 0 {
			out[i].Before = []int{r.IntN(i)}
		}
	}
	return out
}

// limited are limits of many kinds.
func limited(r *rand.Rand) Limits {
	l := Limits{Minutes: 240, Least: []int{1, 7}[r.IntN(2)]}
	switch r.IntN(4) {
	case 0:
		l.Weekdays = []time.Weekday{time.Saturday}
	case 1:
		l.Weekdays = []time.Weekday{time.Saturday, time.Sunday}
	}
	return l
}

// fault is what is wrong with a plan; "" if nothing is.
func fault(tasks []Task, limits Limits, p Plan) string {
	q := newProblem(tasks, limits)
	type on struct{ parts, of int }
	done := map[int]*on{}
	dayOf := map[int][]int{}
	for n, d := range p.Days {
		minutes, shortest, nearest := 0.0, math.MaxInt, false
		for _, part := range d.Parts {
			t := &tasks[part.Task]
			minutes += t.Minutes / float64(part.Of)
			if d.From < t.From || d.To > t.To {
				return fmt.Sprintf("day %d lies outside the window of task %d", n, part.Task)
			}
			o := done[part.Task]
			if o == nil {
				o = &on{of: part.Of}
				done[part.Task] = o
			}
			if o.parts++; part.N != o.parts || part.Of != o.of {
				return fmt.Sprintf("task %d: part %d of %d where %d of %d comes", part.Task, part.N, part.Of, o.parts, o.of)
			}
			if slices.Contains(dayOf[part.Task], n) {
				return fmt.Sprintf("two parts of task %d on day %d", part.Task, n)
			}
			dayOf[part.Task] = append(dayOf[part.Task], n)
			for i := range q.units {
				if u := &q.units[i]; u.task == part.Task {
					shortest, nearest = min(shortest, u.long()), nearest || u.nearest
				}
			}
		}
		long := int(d.To-d.From) + 1
		switch {
		case len(d.Parts) == 0:
			return fmt.Sprintf("nothing on day %d", n)
		case minutes > limits.Minutes+slight || math.Abs(minutes-d.Minutes) > slight:
			return fmt.Sprintf("day %d takes %v minutes and says %v", n, minutes, d.Minutes)
		case long < min(limits.Least, shortest):
			return fmt.Sprintf("day %d keeps %d days, its shortest task %d", n, long, shortest)
		case d.Nearest == q.fit(d.From, d.To):
			return fmt.Sprintf("day %d, %v to %v: nearest %v", n, d.From, d.To, d.Nearest)
		case d.Nearest && (!nearest || d.From != d.To):
			return fmt.Sprintf("day %d is the nearest to a weekday and need not be", n)
		case n > 0 && (d.From < p.Days[n-1].From || d.From == p.Days[n-1].From && d.To < p.Days[n-1].To):
			return fmt.Sprintf("day %d comes before day %d", n, n-1)
		}
	}
	for i := range tasks {
		if o := done[i]; o == nil || o.parts != o.of || o.of != max(1, int(math.Ceil(tasks[i].Minutes/limits.Minutes-slight))) {
			return fmt.Sprintf("task %d is done %v times", i, o)
		}
	}
	for i := range q.units {
		for _, j := range q.units[i].before {
			for _, b := range dayOf[q.units[i].task] {
				for _, a := range dayOf[q.units[j].task] {
					x, y := &p.Days[a], &p.Days[b]
					if a > b || x.From > y.From || x.To > y.To || a != b && x.To >= y.From && !slices.Contains(y.After, a) {
						return fmt.Sprintf("task %d on day %d must come before %d on day %d, which comes after %v", q.units[j].task, a, q.units[i].task, b, y.After)
					}
				}
			}
		}
	}
	if len(p.Days) < p.Bound {
		return fmt.Sprintf("%d days, and the bound is %d", len(p.Days), p.Bound)
	}
	return ""
}

// everything tries every way to share tasks out, by itself: each is a list that
// names each part's day. It gives the fewest days and the most that their windows
// then have together.
func everything(tasks []Task, limits Limits) (fewest, width int) {
	q := newProblem(tasks, limits)
	n := len(q.units)
	type side struct{ lo, hi site.Day }
	fewest = math.MaxInt
	on := make([]int, n)
	var try func(i, used int)
	try = func(i, used int) {
		if i < n {
			for d := 0; d <= used; d++ {
				on[i] = d
				try(i+1, max(used, d+1))
			}
			return
		}
		w := make([]side, used)
		for d := range w {
			minutes, lo, hi := 0.0, site.Day(-1000), site.Day(100000)
			for i := range n {
				if on[i] == d {
					u := &q.units[i]
					minutes, lo, hi = minutes+u.minutes, max(lo, u.from), min(hi, u.to)
					for j := range i {
						if on[j] == d && q.units[j].task == u.task {
							return
						}
					}
				}
			}
			if w[d] = (side{lo, hi}); minutes > limits.Minutes+slight || lo > hi {
				return
			}
		}
		// Of as many days as there are, none is more steps away than that.
		reach := make([][]bool, used)
		for d := range reach {
			reach[d] = make([]bool, used)
		}
		for i := range n {
			for _, j := range q.units[i].before {
				if on[i] != on[j] {
					reach[on[j]][on[i]] = true
				}
			}
		}
		for k := range used {
			for a := range used {
				for b := range used {
					reach[a][b] = reach[a][b] || reach[a][k] && reach[k][b]
				}
			}
		}
		left := slices.Clone(w)
		sum := 0
		for d := range used {
			if reach[d][d] {
				return
			}
			for e := range used {
				if reach[e][d] {
					left[d].lo = max(left[d].lo, w[e].lo)
				}
				if reach[d][e] {
					left[d].hi = min(left[d].hi, w[e].hi)
				}
			}
			shortest, nearest := math.MaxInt, false
			for i := range n {
				if on[i] == d {
					shortest, nearest = min(shortest, q.units[i].long()), nearest || q.units[i].nearest
				}
			}
			long := int(left[d].hi-left[d].lo) + 1
			if long < min(limits.Least, shortest) || !nearest && !q.fit(left[d].lo, left[d].hi) {
				return
			}
			sum += long
		}
		if used < fewest || used == fewest && sum > width {
			fewest, width = used, sum
		}
	}
	try(0, 0)
	return fewest, width
}

func wide(p Plan) (sum int) {
	for _, d := range p.Days {
		sum += int(d.To-d.From) + 1
	}
	return sum
}

// TestEverythingTried: in 2,000 small cases no way to share tasks out has fewer days
// than the plan, or wider windows with as many. Such cases are tried one and all;
// so the search that larger ones get is held to them as well.
func TestEverythingTried(t *testing.T) {
	const cases = 2000
	met, same, widest := 0, 0, 0
	for seed := range uint64(cases) {
		r := rand.New(rand.NewPCG(seed, 19))
		n := 1 + r.IntN(7)
		tasks := some(r, n, 30, 30, 150)
		if r.IntN(8) == 0 && n < 6 {
			tasks[r.IntN(n)].Minutes = 300 // two parts
		}
		limits := limited(r)
		p := Schedule(tasks, limits)
		if why := fault(tasks, limits, p); why != "" {
			t.Fatalf("seed %d: %s", seed, why)
		}
		days, width := everything(tasks, limits)
		if len(p.Days) != days || wide(p) != width {
			t.Fatalf("seed %d: %d days of %d, tried %d of %d", seed, len(p.Days), wide(p), days, width)
		}
		if p.Bound == days {
			met++
		}
		l, _ := newProblem(tasks, limits).search()
		found := l.plan()
		found.Bound = p.Bound
		if why := fault(tasks, limits, found); why != "" {
			t.Fatalf("seed %d, searched: %s", seed, why)
		}
		if len(found.Days) == days {
			same++
			if wide(found) == width {
				widest++
			}
		}
	}
	t.Logf("of %d cases the bound is met in %d; the search alone finds the fewest days in %d, with the widest windows in %d", cases, met, same, widest)
	if met < 1 || same < 1 || widest < 1 {
		t.Errorf("fewer than measured")
	}
}

// TestPlansKeepAll: plans of many sizes keep all that every plan must, and are the
// same each time.
func TestPlansKeepAll(t *testing.T) {
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 7))
		tasks := some(r, 1+r.IntN(150), 1+r.IntN(400), 1+r.IntN(90), 1+r.IntN(700))
		limits := limited(r)
		p := Schedule(tasks, limits)
		if why := fault(tasks, limits, p); why != "" {
			t.Fatalf("seed %d: %s", seed, why)
		}
		if again := Schedule(tasks, limits); fmt.Sprint(again) != fmt.Sprint(p) {
			t.Fatalf("seed %d: another plan the second time", seed)
		}
	}
}

// BenchmarkSchedule: a garden of sixty plants, and ten thousand tasks of a year.
func BenchmarkSchedule(b *testing.B) {
	for _, n := range []int{100, 1000, 10_000} {
		r := rand.New(rand.NewPCG(uint64(n), 1))
		tasks := some(r, n, 365, 60, 90)
		for i := range tasks {
			for j, a := range tasks[i].Before {
				tasks[i].Before[j] = max(a, i-4) // of one planting
			}
		}
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			var p Plan
			for b.Loop() {
				p = Schedule(tasks, Limits{Minutes: 240, Least: 7})
			}
			b.ReportMetric(float64(len(p.Days)), "days")
			b.ReportMetric(float64(p.Bound), "bound")
			b.ReportMetric(float64(p.Steps), "steps")
			b.ReportMetric(float64(wide(p))/float64(len(p.Days)), "width")
		})
	}
}
