package booklet

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"sheaf/generator/care"
)

// ticks lists what is ticked on the pages of a kind, each as often as it stands there.
func ticks(b *Book, k Kind) []string {
	var out []string
	for _, s := range b.Of(k) {
		for _, work := range found[Chores](s) {
			for _, l := range work.Lines {
				out = append(out, l.Tasks...)
			}
		}
		for _, list := range found[Tasks](s) {
			for _, l := range list.Lines {
				out = append(out, l.Tasks...)
			}
		}
	}
	slices.Sort(out)
	return out
}

// TestTicksAreOne: each task stands once among the garden days and once among the
// months, under one name; the pages of the beds have those of their plants.
func TestTicksAreOne(t *testing.T) {
	double := []string{"{plant: Hakonechloa macra 'Aureola', quantity: 3, bed: Border}",
		"{plant: Hakonechloa macra 'Aureola', quantity: 3, bed: Border}\n  - {plant: Hakonechloa macra 'Aureola', quantity: 4, bed: Border}"}
	for _, c := range []struct {
		name    string
		replace []string
		split   bool // a task is on two days
	}{{name: "as written"}, {name: "a plant twice in a bed", replace: double}, {name: "a task in parts", split: true}} {
		in := input(t, c.replace...)
		parts := 0
		if c.split {
			first := &in.Calendar.Days[0].Parts[0]
			*first = care.Part{Task: first.Task, N: 1, Of: 2, Minutes: first.Minutes}
			last := &in.Calendar.Days[len(in.Calendar.Days)-1]
			last.Parts = append(last.Parts, care.Part{Task: first.Task, N: 2, Of: 2, Minutes: first.Minutes})
		}
		for _, d := range in.Calendar.Days {
			parts += len(d.Parts)
		}
		b := Compose(in)
		days, months, beds := ticks(b, Day), ticks(b, Month), ticks(b, Bed)
		if len(days) != parts {
			t.Errorf("%s: %d ticks for %d parts of tasks", c.name, len(days), parts)
		}
		if len(slices.Compact(slices.Clone(days))) != len(days) {
			t.Errorf("%s: two tasks have one name: %q", c.name, days)
		}
		if !slices.Equal(days, months) {
			t.Errorf("%s: the days have\n%q\nand the months\n%q", c.name, days, months)
		}
		for _, tick := range beds {
			if !slices.Contains(days, tick) {
				t.Errorf("%s: a bed has %q, the days have not", c.name, tick)
			}
		}
		if len(beds) == 0 {
			t.Errorf("%s: no ticks on the pages of the beds", c.name)
		}
		for _, tick := range days {
			if strings.Contains(tick, " ") {
				t.Errorf("%s: %q has a space", c.name, tick)
			}
		}
		if both := slices.ContainsFunc(months, func(tick string) bool { return strings.HasSuffix(tick, "/2") }); both != c.split {
			t.Errorf("%s: a second part is ticked: %v", c.name, both)
		}
	}
}

// TestTicksStayOneBuildToTheNext: a tick outlives a change of quantity, of another
// plant, and of the order of the list.
func TestTicksStayOneBuildToTheNext(t *testing.T) {
	before := ticks(Compose(input(t)), Day)
	after := ticks(Compose(input(t,
		"quantity: 9, bed", "quantity: 5, bed",
		"  - {plant: Taxus baccata, quantity: 12, bed: Border}\n", "",
		"  - {plant: Salvia nemorosa 'Caradonna', quantity: 5, bed: Border}\n", "",
		"  - {plant: Bergenia", "  - {plant: Salvia nemorosa 'Caradonna', quantity: 5, bed: Border}\n  - {plant: Bergenia")), Day)
	for _, tick := range before {
		if !strings.HasPrefix(tick, "taxus") && !slices.Contains(after, tick) {
			t.Errorf("%q is lost", tick)
		}
	}
}

// TestDaysOfWindows: a garden day stands beside the window of a plant that it lies in.
func TestDaysOfWindows(t *testing.T) {
	in := input(t, "date: 2027-03-20\n", "date: 2027-03-20\nyears: 3\n")
	first := in.Calendar.First.Year()
	b := Compose(in)
	several := 0
	for _, s := range b.Of(Plant) {
		for _, w := range found[Work](s) {
			for _, ref := range w.Days {
				day := b.Find(ref.ID)
				if day == nil || day.Kind != Day || ref.When < 0 || ref.When >= len(w.When) {
					t.Fatalf("%s, %s: %q leads to %q, beside window %d of %q", s.ID, w.Verb, ref.Text, ref.ID, ref.When, w.When)
				}
				if len(w.When) == 1 {
					continue
				}
				several++
				// A window bears its year, unless that is the first.
				year, window := found[Visit](day)[0].From[:4], w.When[ref.When]
				if !strings.Contains(window, year) && (year != fmt.Sprint(first) || strings.Contains(window, "\u00a020")) {
					t.Errorf("%s, %s: %s of %s stands beside %q", s.ID, w.Verb, ref.Text, year, window)
				}
			}
		}
	}
	if several < 5 {
		t.Errorf("only %d days beside one of several windows", several)
	}
}
