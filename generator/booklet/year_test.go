package booklet

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"sheaf/generator/care"
	"sheaf/generator/measure"
	"sheaf/generator/prose"
)

// TestYearHoursAreOfDays: a month of the chart has the hours of the garden days that
// begin in it, as its own page has, and each task counts once.
func TestYearHoursAreOfDays(t *testing.T) {
	in := input(t)
	// A task that is split, its second part in another month.
	days := in.Calendar.Days
	last := days[len(days)-1]
	part := &days[0].Parts[0]
	part.Of, part.Minutes = 2, part.Minutes.Times(0.5)
	days[0].Minutes = measure.Minutes{}
	for _, p := range days[0].Parts {
		days[0].Minutes = days[0].Minutes.Plus(p.Minutes)
	}
	second := *part
	second.N = 2
	in.Calendar.Days = append(days, care.Day{From: last.From, To: last.To, Parts: []care.Part{second}, Minutes: second.Minutes})
	b := Compose(in)
	chart := found[Chart](b.Of(Year)[0])[0]
	months := b.Of(Month)
	if len(chart.Hours) != 12 || len(months) != 12 {
		t.Fatalf("hours of %d months, pages of %d", len(chart.Hours), len(months))
	}
	sum, want := 0.0, 0.0
	for i, h := range chart.Hours {
		sum += h.High
		if said := (measure.Minutes{Low: h.Low * 60, High: h.High * 60}).Say(in.Words); said != months[i].Aside && h.High > 0 {
			t.Errorf("%s: %q in the chart, %q on its page", chart.Full[i], said, months[i].Aside)
		}
	}
	of := make([]float64, 12)
	for _, d := range in.Calendar.Days {
		for i, m := range in.Calendar.Months {
			if d.From >= m.First && d.From <= m.Last {
				of[i] += d.Minutes.High / 60
			}
		}
		want += d.Minutes.High / 60
	}
	for i, h := range chart.Hours {
		if math.Abs(h.High-of[i]) > 0.01 {
			t.Errorf("%s has %.2f hours in the chart, its garden days %.2f", chart.Full[i], h.High, of[i])
		}
	}
	if math.Abs(sum-want) > 0.01 {
		t.Errorf("the chart has %.2f hours, the garden days %.2f", sum, want)
	}
	if caption := found[Figure](b.Of(Year)[0])[0].Caption; strings.Contains(caption, "two months") || !strings.Contains(caption, "garden day") {
		t.Errorf("the hours are explained by %q", caption)
	}
}

// TestYearHasDays: each garden day stands in the chart of the year that its window
// meets, cut at the year's ends, and leads to its page.
func TestYearHasDays(t *testing.T) {
	in := input(t, "date: 2027-03-20", "date: 2027-03-20\nyears: 2")
	// A day that runs over the end of the first year, and one from before the booklet.
	first := in.Calendar.Months[0].First
	last := in.Calendar.Months[11].Last
	in.Calendar.Days[0].From, in.Calendar.Days[1].From, in.Calendar.Days[1].To = first-9, last-9, last+10
	b := Compose(in)
	on := map[string][]ChartDay{}
	for _, s := range b.Of(Year) {
		for _, d := range found[Chart](s)[0].Days {
			on[d.ID] = append(on[d.ID], d)
			if !(0 <= d.From && d.From < d.To && d.To <= 1) {
				t.Errorf("%s: day %d runs from %v to %v", s.ID, d.Number, d.From, d.To)
			}
			if b.Find(d.ID) == nil || !strings.Contains(d.Label, fmt.Sprintf("Garden day %d", d.Number)) || d.Window == "" || d.Jobs == "" {
				t.Errorf("%s: %+v", s.ID, d)
			}
		}
	}
	for i, d := range in.Calendar.Days {
		if len(on[dayID(i+1)]) == 0 {
			t.Errorf("day %d, %s to %s, is in no chart", i+1, d.From, d.To)
		}
	}
	if one := on[dayID(1)][0]; one.From != 0 {
		t.Errorf("a window from before the booklet begins at %v", one.From)
	}
	if two := on[dayID(2)]; len(two) != 2 || two[0].To != 1 || two[1].From != 0 || math.Abs(two[1].To-10.0/365) > 0.001 {
		t.Errorf("a window over two years is %+v", two)
	}
	// A booklet by months, and a guide, have none.
	for name, in := range map[string]Input{"months": input(t, "date: 2027-03-20", "date: 2027-03-20\nwork: months"), "guide": input(t, guided()...)} {
		for _, s := range Compose(in).Of(Year) {
			if days := found[Chart](s)[0].Days; days != nil {
				t.Errorf("%s: %+v", name, days)
			}
		}
	}
}

// TestYearNamesPlants: a row has the botanical name beside the common one, whole and
// ever shorter.
func TestYearNamesPlants(t *testing.T) {
	rows := 0
	for _, g := range found[Chart](Compose(input(t)).Of(Year)[0])[0].Groups {
		for _, r := range g.Rows {
			if r.Latin == nil {
				continue
			}
			rows++
			whole := prose.String(r.Latin[0])
			genus, _, _ := strings.Cut(whole, " ")
			for _, runs := range r.Latin[1:] {
				if short := prose.String(runs); !strings.HasPrefix(short, genus[:1]+".") || strings.Contains(short, genus) || len(short) >= len(whole) {
					t.Errorf("%s is abbreviated to %q", whole, short)
				}
			}
		}
	}
	if rows == 0 {
		t.Error("no row has a botanical name")
	}
}
