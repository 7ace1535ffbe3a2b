package layout

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"sheaf/generator/booklet"
	"sheaf/generator/draw"
	"sheaf/generator/figure"
	"sheaf/generator/prose"
	"sheaf/generator/theme/themetest"
	"sheaf/generator/words/wordstest"
	"sheaf/themes"
)

// madeYear is a book of a year of some plants in beds, with garden days.
func madeYear(t testing.TB, plants, days int, seed uint64) *booklet.Book {
	r := rand.New(rand.NewPCG(seed, 7))
	chart := booklet.Chart{Since: "2027-03"}
	for i := range 12 {
		chart.Months = append(chart.Months, "MAMJJASONDJF"[i:i+1])
		chart.Full = append(chart.Full, fmt.Sprintf("month %d", i+1))
		chart.Hours = append(chart.Hours, figure.Load{Low: r.Float64() * 9, High: 9 + r.Float64()*9})
	}
	for i, name := range []string{"first green", "last frost", "warm growth", "hottest day", "leaf fall", "first frost", "growth end", "coldest day"} {
		chart.Cues = append(chart.Cues, booklet.ChartCue{At: min(float64(i)/8+r.Float64()*0.12, 1), Name: name, Date: "9 March 2027", Day: "9 March"})
	}
	at := 0.0
	for i := range days {
		at = min(at+r.Float64()*1.8/float64(days), 0.99)
		chart.Days = append(chart.Days, booklet.ChartDay{Number: i + 1, From: at, To: min(at+0.01+r.Float64()*0.08, 1), ID: fmt.Sprintf("days/%d", i+1),
			Label: "Garden day", Window: "12 Mar to 4 Apr", Hours: "4 h", Jobs: fmt.Sprintf("comb, job%d", i+1)})
	}
	word := func() string { return strings.Repeat("n", 3+r.IntN(9)) }
	beds := max(1, plants/12)
	for b := range beds {
		g := booklet.ChartGroup{Bed: fmt.Sprintf("Bed %d", b+1)}
		for i := b; i < plants; i += beds {
			row := booklet.ChartRow{Plant: fmt.Sprintf("plants/%d", i), Name: word() + " " + word()}
			epithet := word()
			row.Latin = [][]prose.Run{{{Text: "Genus " + epithet, Italic: true}, {Text: " ‘Cultivar’"}}, {{Text: "G. " + epithet, Italic: true}, {Text: " ‘Cultivar’"}}, {{Text: "G. " + epithet, Italic: true}}}
			for range r.IntN(4) {
				from := r.Float64() * 0.9
				row.Bars = append(row.Bars, booklet.ChartBar{From: from, To: min(from+0.02+r.Float64()*0.2, 1), Mark: "comb", Family: []string{"comb", "cut", "grow", "protect"}[r.IntN(4)], Label: "Comb, March"})
			}
			g.Rows = append(g.Rows, row)
		}
		chart.Groups = append(chart.Groups, g)
	}
	s := booklet.Section{ID: "year", Kind: booklet.Year, Title: prose.Plain("The year"), Part: "The year", Blocks: []booklet.Block{chart,
		booklet.Figure{Caption: strings.Repeat("Estimates for someone new to the work. ", 5)},
		booklet.Facts{Rows: []booklet.Fact{{Label: "In all", Text: prose.Plain("about 37 hours.")}}},
		booklet.Text{Runs: prose.Plain(strings.Repeat("The dates are computed. ", 8))},
		booklet.Facts{Rows: []booklet.Fact{{Label: "First green", Text: prose.Plain("about 9 March.")}}}}}
	book := &booklet.Book{Words: wordstest.English(t), Title: "Made", Lang: "en", Sections: []booklet.Section{s}}
	// The jobs, plants and days that the year leads to stand elsewhere.
	return book
}

// TestYearOnASpread: up to 60 plants have their year on two pages, in both themes and
// on both papers, more than that on four, and in large print on four at most.
func TestYearOnASpread(t *testing.T) {
	for _, name := range themes.Names() {
		th := themetest.Shipped(t, name)
		for _, letter := range []bool{false, true} {
			for seed := range uint64(12) {
				for plants, want := range map[int]int{5: 2, 25: 2, 48: 2, 60: 2, 110: 4} {
					b := madeYear(t, plants, 6+int(seed), seed)
					set := func(form Form) int { return len(newLayer(b, th, form, new(Pages)).yearSpread(&b.Sections[0])) }
					if got := set(Booklet(th, letter)); got != want {
						t.Errorf("%s, letter %v, book %d: %d plants on %d pages", name, letter, seed, plants, got)
					}
					if got := set(Large(th, letter, nil)); plants <= 60 && (got > 4 || got%2 > 0) {
						t.Errorf("%s, letter %v, book %d: %d plants on %d large pages", name, letter, seed, plants, got)
					}
				}
			}
		}
	}
}

// TestYearNothingOverlaps: no two texts of a year lie over one another, none leaves the
// margins, and no name reaches into the bars.
func TestYearNothingOverlaps(t *testing.T) {
	for _, name := range themes.Names() {
		th := themetest.Shipped(t, name)
		for seed := range uint64(40) {
			plants := 4 + int(seed*7)%100
			b := madeYear(t, plants, int(seed)%24, seed)
			for _, form := range []Form{Booklet(th, false), Booklet(th, true), Clear(th, false), Large(th, false, nil)} {
				l := newLayer(b, th, form, new(Pages))
				rows := 0
				y := l.planYear(&b.Sections[0])
				for n, page := range l.yearSpread(&b.Sections[0]) {
					var set []Text
					for _, it := range page {
						switch it := it.(type) {
						case Text:
							set = append(set, it)
							if it.X < -0.02 || it.X+it.W > y.names+y.wide+0.02 || it.Y < 0 || it.Y > l.columnHeight() {
								t.Errorf("%s, book %d page %d: %q leaves the margins", name, seed, n+1, it.String)
							}
						case Link:
							if strings.HasPrefix(it.Target, "plants/") {
								rows++
								if it.X+it.W > y.names-1 {
									t.Errorf("%s, book %d page %d: a name runs into the bars", name, seed, n+1)
								}
							}
						}
					}
					apart(t, seed, n+1, set)
				}
				if rows < plants {
					t.Errorf("%s, book %d: %d of %d plants", name, seed, rows, plants)
				}
				for _, ln := range y.lines {
					for _, set := range ln.name {
						if set.width > y.names-2+0.01 {
							t.Errorf("%s, book %d: a name of %.1f mm in %.1f", name, seed, set.width, y.names)
						}
					}
				}
			}
		}
	}
}

// TestDayMarks: a garden day's bar lies at its window, its number beside it, and both
// lead to its page. Where more days meet than there is room for, all numbers are still
// told.
func TestDayMarks(t *testing.T) {
	th := themetest.Fieldbook(t)
	l := newLayer(&booklet.Book{Words: wordstest.English(t)}, th, Booklet(th, false), new(Pages))
	days := []booklet.ChartDay{{Number: 1, From: 0, To: 0.05, ID: "days/1"}, {Number: 2, From: 0.3, To: 0.45, ID: "days/2"}, {Number: 3, From: 0.31, To: 0.4, ID: "days/3"}, {Number: 4, From: 0.99, To: 1, ID: "days/4"}}
	const x, wide = 50.0, 60.0
	set := l.dayMarks(days, x, wide, mostLanes)
	var bars, numbers, leads []string
	for _, it := range set.items {
		switch it := it.(type) {
		case Picture:
			if fill := it.Picture.Items[0].(draw.Shape).Fill; fill != nil && *fill == th.Light.Ink {
				bars = append(bars, fmt.Sprintf("%.2f-%.2f", (it.X-x)/wide, (it.X-x+it.Picture.W)/wide))
			}
		case Text:
			numbers = append(numbers, it.String)
			if it.X < x || it.X+it.W > x+wide {
				t.Errorf("number %s stands at %.1f", it.String, it.X)
			}
		case Link:
			leads = append(leads, it.Target)
		}
	}
	if got, want := strings.Join(bars, " "), "0.00-0.05 0.30-0.45 0.31-0.40 0.99-1.00"; got != want {
		t.Errorf("bars at %s, want %s", got, want)
	}
	if got := strings.Join(numbers, " "); got != "1 2 3 4" {
		t.Errorf("numbers %s", got)
	}
	if got := strings.Join(leads, " "); got != "days/1 days/2 days/3 days/4" {
		t.Errorf("they lead to %s", got)
	}
	// Thirty days in one week.
	var crowd []booklet.ChartDay
	for i := range 30 {
		crowd = append(crowd, booklet.ChartDay{Number: i + 1, From: 0.5, To: 0.52, ID: "days/1"})
	}
	set = l.dayMarks(crowd, x, wide, mostLanes)
	if most := float64(mostLanes)*l.dayLane() + 1; set.h > most {
		t.Errorf("thirty days take %.1f mm, more than %.1f", set.h, most)
	}
	told := 0
	for _, it := range set.items {
		if text, ok := it.(Text); ok && text.Face == draw.Bold {
			var a, b int
			if n, _ := fmt.Sscanf(text.String, "%d–%d", &a, &b); n == 2 {
				told += b - a + 1
			} else if n == 1 {
				told++
			}
		}
	}
	if told != 30 {
		t.Errorf("%d of 30 days are told", told)
	}
}

// TestYearNames: the botanical name stands beside the common one, shorter where the
// whole does not fit, and not at all where nothing of it does.
func TestYearNames(t *testing.T) {
	th := themetest.Fieldbook(t)
	l := newLayer(&booklet.Book{Words: wordstest.English(t)}, th, Booklet(th, false), new(Pages))
	row := booklet.ChartRow{Name: "tall moor grass", Latin: [][]prose.Run{{{Text: "Molinia caerulea", Italic: true}}, {{Text: "M. caerulea", Italic: true}}}}
	whole := l.rowName(row, row.Latin[0]).width
	short := l.rowName(row, row.Latin[1]).width
	alone := l.rowName(row, nil).width
	for width, want := range map[float64]string{whole + 0.1: "tall moor grass Molinia caerulea", whole - 0.1: "tall moor grass M. caerulea", short - 0.1: "tall moor grass", alone - 0.1: "tall moor |grass"} {
		var got []string
		name, _ := l.yearName(row, width)
		for _, ln := range name {
			said := ""
			for _, it := range ln.items {
				if text, ok := it.(Text); ok {
					said += text.String
				}
			}
			got = append(got, said)
			if ln.width > width {
				t.Errorf("%.1f mm in %.1f", ln.width, width)
			}
		}
		if strings.Join(got, "|") != strings.ReplaceAll(want, " |", "|") {
			t.Errorf("in %.1f mm %q, want %q", width, got, want)
		}
	}
	large := newLayer(&booklet.Book{Words: wordstest.English(t)}, th, Large(th, false, nil), new(Pages))
	if got, under := large.yearName(row, large.rowName(row, row.Latin[1]).width-0.1); len(got) != 2 || !under {
		t.Errorf("in large print a name has %d lines", len(got))
	}
}

// TestYearParting: pages part at the end of a bed if that leaves them alike, and all
// lines are on one page.
func TestYearParting(t *testing.T) {
	lines := func(beds ...int) []yearLine {
		var out []yearLine
		for _, n := range beds {
			out = append(out, yearLine{bed: true})
			out = append(out, make([]yearLine, n)...)
		}
		return out
	}
	th := themetest.Fieldbook(t)
	l := newLayer(&booklet.Book{Words: wordstest.English(t)}, th, Booklet(th, false), new(Pages))
	set := yearSetting{row: 4.4, marks: true}
	for _, c := range []struct {
		beds  []int
		rooms []float64
		want  string
	}{
		{[]int{13, 14, 15, 6}, []float64{150, 110}, "0-29 29-52"},
		{[]int{30}, []float64{100, 60}, "0-20 20-31"},
		{[]int{40, 5}, []float64{110, 110}, "0-24 24-47"},
		{[]int{40}, []float64{50, 50}, ""},
	} {
		y := &yearPlan{lines: lines(c.beds...)}
		var got []string
		end := 0
		for _, cut := range l.breakYear(y, set, c.rooms) {
			got = append(got, fmt.Sprintf("%d-%d", cut.from, cut.to))
			if cut.from != end {
				t.Errorf("%v: a page begins with line %d after %d", c.beds, cut.from, end)
			}
			if end = cut.to; cut.from > 0 && (cut.bed < 0) != y.lines[cut.from].bed {
				t.Errorf("%v: a page goes on with bed %d", c.beds, cut.bed)
			}
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("%v on %v: %s, want %s", c.beds, c.rooms, s, c.want)
		}
	}
}

// TestYearSheetHasDays: one sheet with the days over the chart, and in words where
// there is room.
func TestYearSheetHasDays(t *testing.T) {
	th := themetest.Fieldbook(t)
	for plants, listed := range map[int]bool{15: true, 30: true, 90: false} {
		b := madeYear(t, plants, 13, 3)
		pages, ds := YearSheet(b, th, false)
		if len(ds) > 0 || len(pages.Pages) != 1 {
			t.Fatalf("%d plants: %d sheets, %v", plants, len(pages.Pages), ds)
		}
		leads := map[string]bool{}
		var said []string
		var set []Text
		for _, it := range pages.Pages[0].Items {
			switch it := it.(type) {
			case Link:
				leads[it.Target] = true
			case Text:
				said, set = append(said, it.String), append(set, it)
			}
		}
		apart(t, uint64(plants), 1, set)
		// Over the first row of each column stands the name of its bed.
		for _, x := range set {
			if x.String == "Garden days" && x.X > 20 && x.Y < 70 && !slices.ContainsFunc(set, func(bed Text) bool {
				return strings.HasPrefix(bed.String, "Bed ") && math.Abs(bed.X-x.X) < 1 && bed.Y > x.Y && bed.Y < x.Y+40
			}) && slices.ContainsFunc(set, func(row Text) bool { return strings.HasPrefix(row.String, "nnn") && math.Abs(row.X-x.X) < 1 }) {
				t.Errorf("%d plants: a column at %.0f mm begins with no bed's name", plants, x.X)
			}
		}
		for i := range 13 {
			if !leads[fmt.Sprintf("days/%d", i+1)] {
				t.Errorf("%d plants: no mark for day %d", plants, i+1)
			}
			if at := strings.Contains(strings.Join(said, " "), fmt.Sprintf("job%d", i+1)); listed && !at {
				t.Errorf("%d plants: day %d is not told in words", plants, i+1)
			}
		}
	}
}

// TestYearHours: the hours of the months stand under their months, and never touch.
func TestYearHours(t *testing.T) {
	th := themetest.Fieldbook(t)
	l := newLayer(&booklet.Book{Words: wordstest.English(t)}, th, Booklet(th, false), new(Pages))
	y := &yearPlan{names: 61, wide: 60, chart: booklet.Chart{Months: strings.Split("MAMJJASONDJF", "")}}
	for _, scale := range []float64{0, 0.1, 1, 7, 90, 12345} {
		y.chart.Hours = nil
		for i := range 12 {
			y.chart.Hours = append(y.chart.Hours, figure.Load{Low: scale * float64(i), High: scale * float64(2*i+1)})
		}
		var set []Text
		for _, it := range l.yearHours(y).items {
			if text, ok := it.(Text); ok {
				set = append(set, text)
				if text.Y < 0 || math.IsNaN(text.Y) {
					t.Errorf("%q at %v", text.String, text.Y)
				}
			}
		}
		apart(t, uint64(scale), 1, set)
		if scale == 1 && !slices.ContainsFunc(set, func(x Text) bool { return x.String == "17" || x.String == "16½" || x.String == "17½" }) {
			t.Errorf("the last month's 11 to 23 hours are not told: %v", set)
		}
	}
}

// BenchmarkYearSpread is the year of 60 plants.
func BenchmarkYearSpread(b *testing.B) {
	th, book := themetest.Fieldbook(b), madeYear(b, 60, 14, 1)
	for b.Loop() {
		newLayer(book, th, Booklet(th, false), new(Pages)).yearSpread(&book.Sections[0])
	}
}

// BenchmarkYearSheet is the sheet of 60 plants.
func BenchmarkYearSheet(b *testing.B) {
	th, book := themetest.Fieldbook(b), madeYear(b, 60, 14, 1)
	for b.Loop() {
		YearSheet(book, th, false)
	}
}
