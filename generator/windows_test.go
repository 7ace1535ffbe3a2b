package generator_test

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"sheaf/generator/entries"
	"sheaf/generator/site"
	"sheaf/generator/words/wordstest"
)

// These tests try the windows of the shipped library at places nobody chose:
// 200 sites drawn by chance, always the same ones.

// A drawnSite is a place drawn by chance, of a kind.
type drawnSite struct {
	kind string
	site.Site
	years []int // to resolve in, the last a leap year
}

const drawnSites = 200

// drawSites draws sites on both halves of the world, of each kind alike many.
// The monthly means swing once a year about their mean, with a second wave
// that makes spring and autumn unlike, and some noise.
func drawSites() []drawnSite {
	rnd := rand.New(rand.NewPCG(1, 2))
	between := func(low, high float64) float64 { return low + (high-low)*rnd.Float64() }
	kinds := []struct {
		name                     string
		mean, swing, night, late [2]float64 // °C, °C, °C between day and night, months from New Year to the coldest day
	}{
		{"maritime", [2]float64{8, 13}, [2]float64{4, 7}, [2]float64{5, 9}, [2]float64{0.5, 1.4}},
		{"continental", [2]float64{6, 13}, [2]float64{10, 15}, [2]float64{8, 13}, [2]float64{0.3, 0.8}},
		{"extreme continental", [2]float64{-8, 5}, [2]float64{18, 28}, [2]float64{8, 14}, [2]float64{0.2, 0.7}},
		{"never freezing", [2]float64{16, 24}, [2]float64{2, 5}, [2]float64{5, 8}, [2]float64{0.3, 1.3}},
		{"never warm", [2]float64{-2, 5}, [2]float64{2, 4.5}, [2]float64{4, 7}, [2]float64{0.5, 1.6}},
		{"hot summer, mild winter", [2]float64{14, 19}, [2]float64{7, 11}, [2]float64{9, 13}, [2]float64{0.2, 0.8}},
		{"frost dates only", [2]float64{}, [2]float64{}, [2]float64{}, [2]float64{}},
		{"nothing known", [2]float64{}, [2]float64{}, [2]float64{}, [2]float64{}},
	}
	var out []drawnSite
	for i := range drawnSites {
		kind := kinds[i%len(kinds)]
		s := drawnSite{kind: kind.name, Site: site.Site{Latitude: between(30, 65)}}
		switch kind.name {
		case "frost dates only":
			// Last frost from February to June, first from September to December.
			s.LastFrost = dayOf(time.February+time.Month(rnd.IntN(5)), 1+rnd.IntN(28))
			s.FirstFrost = dayOf(time.September+time.Month(rnd.IntN(4)), 1+rnd.IntN(28))
		case "nothing known":
		default:
			mean, swing := between(kind.mean[0], kind.mean[1]), between(kind.swing[0], kind.swing[1])
			night, late := between(kind.night[0], kind.night[1]), between(kind.late[0], kind.late[1])
			skew := between(-0.1, 0.1) * swing
			s.Normals = &site.Normals{}
			for m := range 12 {
				x := 2 * math.Pi * (float64(m) + 0.5 - late) / 12
				v := mean - swing*math.Cos(x) + skew*math.Sin(2*x) + between(-0.3, 0.3)
				s.Normals.Min[m], s.Normals.Max[m] = v-night/2, v+night/2
			}
		}
		if i/len(kinds)%2 == 1 {
			s.Site = turnedSouth(s.Site)
		}
		s.years = []int{1950 + rnd.IntN(201), 1952 + 4*rnd.IntN(50)}
		if s.years[1]%100 == 0 && s.years[1]%400 != 0 {
			s.years[1] += 4 // 2100 is no leap year
		}
		out = append(out, s)
	}
	return out
}

// turnedSouth is the same place on the other half of the world: all is six
// months on.
func turnedSouth(s site.Site) site.Site {
	out := site.Site{Latitude: -s.Latitude}
	if s.Normals != nil {
		out.Normals = &site.Normals{}
		for m := range 12 {
			out.Normals.Min[(m+6)%12], out.Normals.Max[(m+6)%12] = s.Normals.Min[m], s.Normals.Max[m]
		}
	}
	turn := func(md *site.MonthDay) *site.MonthDay {
		if md == nil {
			return nil
		}
		return dayOf((md.Month+5)%12+1, md.Day)
	}
	out.LastFrost, out.FirstFrost = turn(s.LastFrost), turn(s.FirstFrost)
	return out
}

// A shelfWindow is one window of the library with the flowering it is
// resolved with. The same pair in several entries is one.
type shelfWindow struct {
	where      string // a file that has it
	when       site.Window
	flowering  site.Window
	writtenFor site.Hemisphere
	rule       bool // when a rule is due, not when it never is or what a place makes of it
}

func (w shelfWindow) in(c *site.Climate, year int) []site.Interval {
	return site.Context{Climate: c, WrittenFor: w.writtenFor, Flowering: w.flowering}.Resolve(w.when, year)
}

// shelfWindows gives all windows of the library: of rules and their nevers, of
// adjustments and of flowering, in entries and groups.
func shelfWindows(t *testing.T) []shelfWindow {
	t.Helper()
	l := wholeShelf(t)
	midsummer, err := site.ParseWindow("June to July")
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]shelfWindow{}
	add := func(w shelfWindow) {
		if w.when.IsZero() {
			return
		}
		if !w.when.Uses(site.Flowering) {
			w.flowering = site.Window{}
		}
		key := fmt.Sprint(w.when, "|", w.flowering, "|", w.writtenFor)
		w.rule = w.rule || found[key].rule
		found[key] = w
	}
	rules := func(where string, rules []entries.Rule, flowering site.Window, h site.Hemisphere) {
		for _, r := range rules {
			add(shelfWindow{where, r.When.Value, flowering, h, true})
			for _, never := range r.Never {
				add(shelfWindow{where, never.Value, flowering, h, false})
			}
		}
	}
	for _, e := range l.Entries {
		flowering := e.Flowers.Value
		if flowering.IsZero() {
			flowering = midsummer
		}
		rules(e.File.Path, e.Rules, flowering, e.WrittenFor)
		for _, a := range e.Adjust {
			add(shelfWindow{e.File.Path, a.When.Value, flowering, e.WrittenFor, false})
		}
		add(shelfWindow{e.File.Path, e.Flowers.Value, site.Window{}, e.WrittenFor, false})
	}
	for _, g := range l.Groups {
		rules(g.File.Path, g.Rules, midsummer, site.North)
	}
	var out []shelfWindow
	for _, key := range slices.Sorted(maps.Keys(found)) {
		out = append(out, found[key])
	}
	if len(out) < 80 {
		t.Fatalf("only %d different windows were found", len(out))
	}
	return out
}

// TestWindowsPrintAndParse: what is printed is read as the same window.
func TestWindowsPrintAndParse(t *testing.T) {
	for _, w := range shelfWindows(t) {
		again, err := site.ParseWindow(w.when.String())
		if err != nil || !reflect.DeepEqual(again, w.when) {
			t.Errorf("%s: %q is read back as %q, %v", w.where, w.when, again, err)
		}
	}
}

// TestWindowsAnywhere: at any place and in any year a window has days, in
// order, that start in the year asked for and end within 366 days. It also
// tells which windows come out empty, and are mended, at which kind of site.
func TestWindowsAnywhere(t *testing.T) {
	windows := shelfWindows(t)
	rules := 0
	for _, w := range windows {
		if w.rule {
			rules++
		}
	}
	// Empty wherever the last frost is over before first green: shows that
	// empty windows are seen.
	probe, err := site.ParseWindow("first green to last frost")
	if err != nil {
		t.Fatal(err)
	}
	probed := 0
	sites, mended := map[string]int{}, map[string]int{}
	phrases := map[string]map[string]int{}
	for i, s := range drawSites() {
		c := s.Climate()
		sites[s.kind]++
		for _, v := range (shelfWindow{when: probe}).in(c, s.years[0]) {
			if v.Mended {
				probed++
			}
		}
		if phrases[s.kind] == nil {
			phrases[s.kind] = map[string]int{}
		}
		for _, w := range windows {
			empty := false
			for _, year := range s.years {
				for _, v := range w.in(c, year) {
					switch {
					case v.From > v.To:
						t.Errorf("site %d (%s): %q in %d ends before it starts: %s to %s", i, s.kind, w.when, year, v.From, v.To)
					case v.From.Year() != year:
						t.Errorf("site %d (%s): %q in %d starts on %s", i, s.kind, w.when, year, v.From)
					case v.To-v.From+1 > 366:
						t.Errorf("site %d (%s): %q in %d lasts %d days", i, s.kind, w.when, year, v.To-v.From+1)
					}
					empty = empty || v.Mended
				}
			}
			if empty && w.rule {
				mended[s.kind]++
				phrases[s.kind][w.when.String()]++
			}
			// No season is skipped: in any three years there are days.
			year := s.years[0]
			if len(w.in(c, year-1))+len(w.in(c, year))+len(w.in(c, year+1)) == 0 {
				t.Errorf("site %d (%s): %q has no days from %d to %d", i, s.kind, w.when, year-1, year+1)
			}
		}
	}
	t.Logf("%d different windows, %d of them of rules; %q is empty at %d of %d sites", len(windows), rules, probe, probed, drawnSites)
	if probed == 0 {
		t.Errorf("%q is empty nowhere: are empty windows still told?", probe)
	}
	for _, kind := range slices.Sorted(maps.Keys(sites)) {
		t.Logf("%s: %d sites, %d windows of rules empty in all", kind, sites[kind], mended[kind])
		for _, phrase := range slices.Sorted(maps.Keys(phrases[kind])) {
			t.Logf("\tempty at %d: %s", phrases[kind][phrase], phrase)
		}
	}
}

// TestWarmerSpring: where February to May are warmer by the same amount, in the
// south August to November, first green and warm growth come no later.
//
// Two things are no fault. A cue that comes after the raised months may slip:
// the curve keeps the mean of the month that follows them, and dips there to
// make up for its warmer start. And a cue may follow its floor, 35 and 56 days
// after the coldest day (DESIGN 5): the curve keeps January's mean too, so that
// a coldest day of late December can move into January.
func TestWarmerSpring(t *testing.T) {
	floors := map[site.Cue]site.Day{site.FirstGreen: 35, site.WarmGrowth: 56}
	tried, earlier, late := 0, 0, 0
	var pushed site.Day
	for i, s := range drawSites() {
		if s.Normals == nil {
			continue
		}
		year := s.years[0]
		for _, warmer := range []float64{0.5, 1, 2, 4} {
			raised, end := *s.Normals, site.Date(year, time.June, 1)
			for m := 1; m <= 4; m++ {
				at := m
				if s.Latitude < 0 {
					at, end = m+6, site.Date(year, time.December, 1)
				}
				raised.Min[at] += warmer
				raised.Max[at] += warmer
			}
			before, after := s.Climate(), site.Site{Latitude: s.Latitude, Normals: &raised}.Climate()
			for cue, floor := range floors {
				was, _ := before.Cue(cue, year)
				is, _ := after.Cue(cue, year)
				if was >= end {
					late++
					continue
				}
				tried++
				coldest, _ := after.Cue(site.ColdestDay, year)
				switch {
				case is > max(was, coldest+floor):
					t.Errorf("site %d (%s): with %g °C more, %s moves from %s (%s) to %s (%s)", i, s.kind, warmer, cue, was, before.Basis(cue).In(wordstest.English(t)), is, after.Basis(cue))
				case is > was:
					pushed = max(pushed, is-was)
				case is < was:
					earlier++
				}
			}
		}
	}
	t.Logf("%d cues tried: %d earlier, the rest unmoved or pushed by their floor, by %d days at most; %d come after the raised months", tried, earlier, pushed, late)
	if earlier < tried/2 {
		t.Errorf("only %d of %d cues came earlier", earlier, tried)
	}
}

// TestWindowsMirrored: the same place in the south has every window half a year
// later. Half a year is 181 to 184 days; months of other lengths give or take 3.
func TestWindowsMirrored(t *testing.T) {
	windows := shelfWindows(t)
	half := func(a, b site.Day) bool { return b-a >= 181-3 && b-a <= 184+3 }
	for i, s := range drawSites() {
		if s.Normals == nil || s.Latitude < 0 {
			continue // without normals the two halves have tables of their own
		}
		north, south := s.Climate(), turnedSouth(s.Site).Climate()
		for _, w := range windows {
			year := s.years[0]
			there := append(w.in(south, year), w.in(south, year+1)...)
			for _, v := range w.in(north, year) {
				if !slices.ContainsFunc(there, func(o site.Interval) bool { return half(v.From, o.From) && half(v.To, o.To) }) {
					var days []string
					for _, o := range there {
						days = append(days, fmt.Sprintf("%s to %s (%s)", o.From, o.To, o.Why(wordstest.English(t))))
					}
					t.Errorf("site %d (%s): %q is %s to %s (%s) in the north, and in the south %s", i, s.kind, w.when, v.From, v.To, v.Why(wordstest.English(t)), strings.Join(days, ", "))
				}
			}
		}
	}
}
