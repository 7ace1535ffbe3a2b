package days

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
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
	// Windows are no narrower than tasks and order leave them.
	lo, hi := make([]site.Day, len(p.Days)), make([]site.Day, len(p.Days))
	for n, d := range p.Days {
		lo[n], hi[n] = -1<<30, 1<<30
		for i := range q.units {
			if u := &q.units[i]; slices.ContainsFunc(d.Parts, func(part Part) bool { return part.Task == u.task }) {
				lo[n], hi[n] = max(lo[n], u.from), min(hi[n], u.to)
			}
		}
	}
	for n := range p.Days {
		for i := range q.units {
			for _, j := range q.units[i].before {
				for _, a := range dayOf[q.units[j].task] {
					if slices.Contains(dayOf[q.units[i].task], n) {
						lo[n] = max(lo[n], lo[a])
					}
					if b := len(p.Days) - 1 - n; slices.Contains(dayOf[q.units[j].task], b) {
						for _, c := range dayOf[q.units[i].task] {
							hi[b] = min(hi[b], hi[c])
						}
					}
				}
			}
		}
	}
	for n, d := range p.Days {
		if d.From != lo[n] || d.To != hi[n] {
			return fmt.Sprintf("day %d is %d to %d, and might be %d to %d", n, d.From, d.To, lo[n], hi[n])
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
	if met < 1873 || same < cases || widest < 1999 {
		t.Errorf("fewer than was measured: the bound met in 1,873, the fewest days in all, the widest windows in 1,999")
	}
}

// TestPlansKeepAll: plans of many sizes keep all that every plan must, and are the
// same each time.
func TestPlansKeepAll(t *testing.T) {
	for seed := range uint64(40) {
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

// FuzzSchedule: whatever tasks and limits there are, the plan keeps what it must.
func FuzzSchedule(f *testing.F) {
	f.Add([]byte{0, 10, 60, 0, 5, 10, 90, 1, 3, 2, 30, 2}, uint8(1))
	f.Add([]byte{0, 2, 200, 0, 0, 2, 250, 1, 1, 0, 9, 3, 7, 90, 255, 0}, uint8(30))
	f.Fuzz(func(t *testing.T, data []byte, kind uint8) {
		var tasks []Task
		for ; len(data) >= 4 && len(tasks) < 60; data = data[4:] {
			task := Task{From: site.Day(data[0]), To: site.Day(data[0]) + site.Day(data[1]), Minutes: float64(data[2]) * 2, Bed: string(rune('A' + data[3]%3))}
			for _, back := range []int{int(data[3] >> 2 & 7), int(data[3] >> 5)} {
				if back > 0 && back <= len(tasks) {
					task.Before = append(task.Before, len(tasks)-back)
				}
			}
			tasks = append(tasks, task)
		}
		if len(tasks) > 2 && kind >= 128 {
			tasks[0].Before = []int{len(tasks) - 1} // in a circle, it may be
		}
		limits := Limits{Minutes: []float64{60, 240, 420}[kind%3], Least: []int{1, 7, 14}[kind/3%3]}
		for d := range time.Weekday(7) {
			if kind&4 != 0 && data != nil && int(kind)>>3&int(1<<d) != 0 {
				limits.Weekdays = append(limits.Weekdays, d)
			}
		}
		if why := fault(tasks, limits, Schedule(tasks, limits)); why != "" {
			t.Fatal(why)
		}
	})
}

// TestRules: what a day keeps to, in cases made by hand. Day 0 is a Thursday.
func TestRules(t *testing.T) {
	work := func(from, to site.Day, minutes float64, before ...int) Task {
		return Task{From: from, To: to, Minutes: minutes, Before: before}
	}
	weekend := []time.Weekday{time.Saturday, time.Sunday}
	for _, c := range []struct {
		name     string
		least    int
		weekdays []time.Weekday
		tasks    []Task
		want     string // window, tasks, which days come first
		bound    int
	}{
		{"no work", 7, nil, nil, "", 0},
		{"windows that meet", 7, nil, []Task{work(0, 20, 60), work(10, 30, 60)}, "10-20:0,1", 1},
		{"for less than a week", 7, nil, []Task{work(0, 12, 60), work(10, 30, 60)}, "0-12:0 10-30:1", 2},
		{"for less than a week, which is enough", 1, nil, []Task{work(0, 12, 60), work(10, 30, 60)}, "10-12:0,1", 1},
		{"for as long as a short one takes", 7, nil, []Task{work(0, 12, 60), work(10, 30, 60), work(10, 12, 60)}, "10-12:0,1,2", 1},
		{"more than a day's hours", 7, nil, []Task{work(0, 20, 150), work(0, 20, 100)}, "0-20:0 0-20:1", 2},
		{"longer than a day", 7, nil, []Task{work(0, 20, 500)}, "0-20:0(1/3) 0-20:0(2/3) 0-20:0(3/3)", 3},
		{"one after the other", 7, nil, []Task{work(0, 20, 200, 1), work(0, 20, 200)}, "0-20:1 0-20:0<1", 2},
		{"one after the other on one day", 7, nil, []Task{work(0, 20, 100, 1), work(0, 20, 100)}, "0-20:0,1", 1},
		{"what waits begins later", 7, nil, []Task{work(0, 30, 200, 1), work(10, 40, 200)}, "10-30:1 10-30:0<1", 2},
		{"and that it waits for ends no later", 7, nil, []Task{work(0, 60, 200), work(10, 20, 200, 0)}, "0-20:0 10-20:1<1", 2},
		{"windows that do not meet need no order", 7, nil, []Task{work(30, 40, 10, 1), work(0, 20, 10)}, "0-20:1 30-40:0", 2},
		{"an order that cannot be", 7, nil, []Task{work(0, 10, 10, 1), work(20, 30, 10)}, "0-10:0 20-30:1", 2},
		{"an order in a circle", 7, nil, []Task{work(0, 10, 200, 1), work(0, 10, 200, 0)}, "0-10:1 0-10:0<1", 2},
		{"a window with a weekend", 1, weekend, []Task{work(0, 2, 10), work(2, 5, 10)}, "2-2:0,1", 1},
		{"windows that meet on weekdays alone", 1, weekend, []Task{work(3, 6, 10), work(5, 9, 10)}, "3-6:0 5-9:1", 1},
		{"a window without a weekend, nearer to that before", 1, weekend, []Task{work(4, 6, 10)}, "4-4:0!", 1},
		{"nearer to that after", 1, weekend, []Task{work(6, 8, 10)}, "8-8:0!", 1},
		{"with what can be done then too", 1, weekend, []Task{work(6, 8, 10), work(0, 20, 10)}, "8-8:0,1!", 1},
		{"before 1970", 1, weekend, []Task{work(-10, -8, 10)}, "-10--10:0!", 1},
	} {
		limits := Limits{Minutes: 240, Least: c.least, Weekdays: c.weekdays}
		p := Schedule(c.tasks, limits)
		var said []string
		for _, d := range p.Days {
			var parts []string
			for _, part := range d.Parts {
				s := fmt.Sprint(part.Task)
				if part.Of > 1 {
					s += fmt.Sprintf("(%d/%d)", part.N, part.Of)
				}
				parts = append(parts, s)
			}
			s := fmt.Sprintf("%d-%d:%s", int(d.From), int(d.To), strings.Join(parts, ","))
			for _, a := range d.After {
				s += fmt.Sprintf("<%d", a+1)
			}
			if d.Nearest {
				s += "!"
			}
			said = append(said, s)
		}
		if got := strings.Join(said, " "); got != c.want || p.Bound != c.bound {
			t.Errorf("%s: %q, bound %d; want %q, %d", c.name, got, p.Bound, c.want, c.bound)
		}
		if why := fault(c.tasks, limits, p); why != "" {
			t.Errorf("%s: %s", c.name, why)
		}
	}
}

// TestKits: of plans with as many days and as wide windows that is taken which takes
// out the fewest tools and goes to the fewest beds.
func TestKits(t *testing.T) {
	var tasks []Task
	for i := range 12 {
		tasks = append(tasks, Task{From: 0, To: 30, Minutes: 60, Tools: []string{[]string{"spade", "shears", "rake"}[i%3]}, Bed: []string{"A", "B", "C"}[i%3]})
	}
	for n, want := range map[int]int{8: 4, 12: 3} { // one and all tried, and searched
		p := Schedule(tasks[:n], Limits{Minutes: 240, Least: 7})
		taken := 0
		for _, d := range p.Days {
			kit := map[string]bool{}
			for _, part := range d.Parts {
				kit[tasks[part.Task].Bed] = true
			}
			taken += len(kit)
		}
		if len(p.Days) != n/4 || taken != want {
			t.Errorf("%d tasks: %d days, %d beds, want %d", n, len(p.Days), taken, want)
		}
	}
}

// TestManyTasks: ten thousand tasks are done with in a known number of steps.
func TestManyTasks(t *testing.T) {
	tasks := many(10_000)
	limits := Limits{Minutes: 240, Least: 7}
	p := Schedule(tasks, limits)
	if why := fault(tasks, limits, p); why != "" {
		t.Fatal(why)
	}
	if p.Steps > 70_000_000 || len(p.Days) > p.Bound+p.Bound/100 {
		t.Errorf("%d steps, %d days, bound %d", p.Steps, len(p.Days), p.Bound)
	}
}

// many are tasks of a year, some of which wait for one before.
func many(n int) []Task {
	r := rand.New(rand.NewPCG(uint64(n), 1))
	tasks := some(r, n, 365, 60, 90)
	for i := range tasks {
		for j, a := range tasks[i].Before {
			tasks[i].Before[j] = max(a, i-4) // of one planting
		}
	}
	return tasks
}

// BenchmarkSchedule: the tasks of a garden of sixty plants, and of very large ones.
func BenchmarkSchedule(b *testing.B) {
	for _, n := range []int{100, 1000, 10_000} {
		tasks := many(n)
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
