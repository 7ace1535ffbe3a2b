package site

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"sheaf/generator/words/wordstest"
)

// when gives the day of a cue as "3 March", or "-" for none.
func when(c *Climate, cue Cue, year int) string {
	d, ok := c.Cue(cue, year)
	if !ok {
		return "-"
	}
	return d.monthDay().String()
}

func mustMonthDay(t testing.TB, s string) MonthDay {
	t.Helper()
	md, err := ParseMonthDay(s)
	if err != nil {
		t.Fatal(err)
	}
	return md
}

// The days on which curves through monthly normals cross 5 °C, computed in a
// second program from the unrounded data the normals come from (the stations
// name it). Normals rounded to 0.1 °C give the same days to within one; where
// the curve is all but level, as at Armagh in January, it is still within the
// rounding of 5 °C on the day named.
func TestDaysThroughFiveDegrees(t *testing.T) {
	for _, c := range []struct {
		station    station
		rise, fall string // empty: never below 5 °C
	}{
		{heathrow, "", ""},
		{oxford, "", ""},
		{cambridge, "17 February", "15 December"},
		{manchester7, "25 February", "13 December"},
		{manchester, "24 February", "5 December"},
		{durham, "26 February", "2 December"},
		{leuchars, "3 March", "27 November"},
		{braemar, "7 April", "8 November"},
		{lerwick, "26 March", "3 December"},
		{camborne, "", ""},
		{armagh, "17 January", "19 December"},
		{eskdalemuir, "27 March", "16 November"},
		{stockholm6, "24 April", "31 October"},
		{stockholm8, "17 April", "31 October"},
		{newYork, "17 March", "26 December"},
		{goettingen, "5 March", "14 November"},
		{kleinAltendorf, "3 March", "25 November"},
		{amherst, "10 April", "4 November"},
		{melbourne, "", ""},
		{canberra, "", ""},
		{sydney, "", ""},
		{ginini, "21 September", "8 May"},
	} {
		curve := newLap(&throughNormals(&c.station.normals).mean, 2001)
		if c.rise == "" {
			if !curve.neverBelow(5) {
				t.Errorf("%s: falls below 5 °C", c.station.name)
			}
			continue
		}
		rise, fall := curve.warm(5)
		for _, w := range []struct {
			got  MonthDay
			want string
		}{{curve.day(rise), c.rise}, {curve.day(fall), c.fall}} {
			want := mustMonthDay(t, w.want).in(2001)
			level := math.Abs(c.station.site().Climate().Mean(want)-5) <= 0.05
			if distance(w.got.in(2001), want) > 1 && !level {
				t.Errorf("%s: crosses 5 °C on %s, want %s", c.station.name, w.got, w.want)
			}
		}
	}
}

// Means of the yearly ETCCDI starts and ends of the growing season, from daily
// data of the same years. Where warm spells in winter are rare the curve meets
// them within a week. The mild places differ by weeks, so they are left out:
// there the first six warm days are no beginning of growth.
func TestGrowingSeasonAgainstETCCDI(t *testing.T) {
	for _, c := range []struct {
		station    station
		start, end string
	}{
		{stockholm6, "25 April", "2 November"},
		{stockholm8, "19 April", "2 November"},
		{newYork, "24 March", "24 December"},
		{ginini, "27 September", "12 May"}, // start 88.8 days after 1 July, length 227 days
	} {
		climate := c.station.site().Climate()
		for cue, want := range map[Cue]string{FirstGreen: c.start, GrowthEnd: c.end} {
			got, _ := climate.Cue(cue, 2027)
			off := distance(got, mustMonthDay(t, want).in(2027))
			if cue == GrowthEnd && c.station.name == newYork.name {
				continue // the floor takes over: growth ends 35 days before the coldest day
			}
			if off > 7 {
				t.Errorf("%s: %s on %s, mean of the yearly dates %s", c.station.name, cue, got, want)
			}
		}
	}
}

func TestCues(t *testing.T) {
	// Computed by this package and read over by hand: a guard against change.
	for _, c := range []struct {
		station station
		days    string // in the order of Cues
	}{
		{manchester, "6 February, 13 March, 30 April, 28 July, 5 December, 9 November, 10 April, 13 November"},
		{heathrow, "2 February, 9 March, 11 April, 29 July, 29 December, 19 November, 23 March, 22 November"},
		{braemar, "26 December, 7 April, 30 May, 23 July, 8 November, 10 October, 25 May, 8 October"},
		{melbourne, "11 July, 15 August, 5 September, 2 February, 6 June, 23 May, -, -"},
		{ginini, "28 July, 21 September, 4 November, 23 January, 8 May, 14 April, 30 October, 12 April"},
	} {
		climate := c.station.site().Climate()
		var days []string
		for _, cue := range Cues() {
			days = append(days, when(climate, cue, 2027))
		}
		if got := strings.Join(days, ", "); got != c.days {
			t.Errorf("%s:\n got %s\nwant %s", c.station.name, got, c.days)
		}
	}
}

// Cues of one year belong to one round of seasons.
func TestCuesOfOneYear(t *testing.T) {
	for _, c := range []struct {
		station station
		cue     Cue
		want    string
	}{
		{manchester, ColdestDay, "2027-02-06"},
		{braemar, ColdestDay, "2026-12-26"}, // before the spring of 2027
		{braemar, FirstGreen, "2027-04-07"},
		{melbourne, HottestDay, "2027-02-02"},
		{melbourne, GrowthEnd, "2027-06-06"},
		{melbourne, ColdestDay, "2027-07-11"},
		{melbourne, FirstGreen, "2027-08-15"},
		{camborne, GrowthEnd, "2028-01-05"}, // after the summer of 2027
	} {
		got, ok := c.station.site().Climate().Cue(c.cue, 2027)
		if !ok || got.String() != c.want {
			t.Errorf("%s: %s of 2027 is %s, want %s", c.station.name, c.cue, got, c.want)
		}
	}
}

// The times at which gardeners see these things, by kind of climate: ranges the
// trade gives (estimates). Warm growth in the south is not held against them:
// they have late September to October, the cues 5 to 21 September, the sooner
// the milder the winter, and published cutting times there are earlier still.
func TestCuesAgainstTheTrade(t *testing.T) {
	maritime, continental, south := []station{heathrow, cambridge, manchester, durham}, []station{minneapolis, boston, amherst}, []station{melbourne, canberra, ballarat, temuco}
	for _, c := range []struct {
		cue         Cue
		stations    []station
		first, last string
	}{
		{FirstGreen, maritime, "20 February", "31 March"},
		{FirstGreen, continental, "20 March", "30 April"},
		{FirstGreen, south, "1 August", "31 August"},
		{WarmGrowth, maritime, "1 April", "10 May"},
		{WarmGrowth, continental, "20 April", "20 May"},
		{LeafFall, maritime, "1 November", "30 November"},
		{LeafFall, continental, "1 October", "30 November"},
		{LeafFall, south, "1 May", "30 June"},
	} {
		for _, s := range c.stations {
			got, _ := s.site().Climate().Cue(c.cue, 2027)
			if got < mustMonthDay(t, c.first).in(2027) || got > mustMonthDay(t, c.last).in(2027) {
				t.Errorf("%s: %s on %s, the trade says %s to %s", s.name, c.cue, got, c.first, c.last)
			}
		}
	}
}

// Median dates of the last and first 32 °F: NOAA 1981-2010, files
// ann-tmin-prblst-t32Fp50 and ann-tmin-prbfst-t32Fp50 of NCEI. The monthly
// normals of the first four are from memory; those of New York are of other
// years than the frosts (Central Park).
func TestFrostsAgainstNOAA(t *testing.T) {
	var sum, n Day
	for _, c := range []struct {
		station     station
		last, first string
	}{
		{minneapolis, "25 April", "10 October"},
		{boston, "6 April", "8 November"},
		{atlanta, "20 March", "21 November"},
		{portland, "16 March", "17 November"},
		{newYork, "1 April", "18 November"},
	} {
		climate := c.station.site().Climate()
		for cue, want := range map[Cue]string{LastFrost: c.last, FirstFrost: c.first} {
			got, _ := climate.Cue(cue, 2027)
			off := distance(got, mustMonthDay(t, want).in(2027))
			if off > 21 {
				t.Errorf("%s: %s on %s, NOAA %s", c.station.name, cue, got, want)
			}
			sum, n = sum+off, n+1
		}
	}
	t.Logf("mean error %.1f days over %d dates", float64(sum)/float64(n), n)
}

// Medians of the last and first day with a minimum of 0 °C, counted in daily
// records of the years of the normals (Klein-Altendorf, Canberra, Ballarat,
// Temuco: see the stations). The rule is the worse the milder the winter. At
// Temuco, where frosts come from clear nights and not from a cold season, it
// misses the first frost by two months: a given frost date is better.
func TestFrostsAgainstDailyRecords(t *testing.T) {
	for _, c := range []struct {
		station     station
		last, first string
		within      Day
	}{
		{kleinAltendorf, "18 April", "30 October", 7},
		{canberra, "5 October", "6 May", 10},
		{ballarat, "1 October", "22 May", 26},
		{temuco, "7 October", "18 April", 66},
	} {
		climate := c.station.site().Climate()
		for cue, want := range map[Cue]string{LastFrost: c.last, FirstFrost: c.first} {
			got, _ := climate.Cue(cue, 2027)
			off := distance(got, mustMonthDay(t, want).in(2027))
			t.Logf("%s: %s on %s, counted %s: %d days off", c.station.name, cue, got, want, off)
			if off > c.within {
				t.Errorf("%s: %s is %d days off", c.station.name, cue, off)
			}
		}
	}
}

func TestBasisOfCues(t *testing.T) {
	april18, may1 := MonthDay{time.April, 18}, MonthDay{time.May, 1}
	given := manchester.site()
	given.LastFrost = &april18
	for _, c := range []struct {
		site Site
		cue  Cue
		want string
	}{
		{manchester.site(), ColdestDay, "mean temperature is lowest"},
		{manchester.site(), WarmGrowth, "mean temperature rises through 10 °C"},
		{manchester.site(), FirstGreen, "35 days after the coldest day, as the mean rises through 5 °C before that"},
		{heathrow.site(), FirstGreen, "35 days after the coldest day, as the mean never falls below 5 °C"},
		{heathrow.site(), GrowthEnd, "35 days before the coldest day, as the mean never falls below 5 °C"},
		{cambridge.site(), GrowthEnd, "mean temperature falls through 5 °C"},
		{atlanta.site(), LeafFall, "49 days before the coldest day, as the mean falls through 8 °C only after that"},
		{manchester.site(), LastFrost, "mean minimum rises through 4.5 °C"},
		{melbourne.site(), LastFrost, "no frost, as the mean minimum never falls below 4.5 °C"},
		{given, LastFrost, "frost date given for the garden"},
		{given, FirstFrost, "mean minimum falls through 4.5 °C"},
		{Site{Latitude: 54}, FirstGreen, "table for temperate maritime places, as no climate figures were given"},
		{Site{Latitude: 54, LastFrost: &may1}, WarmGrowth, "table for temperate maritime places, moved by the garden’s last frost"},
		{Site{Latitude: 54, LastFrost: &may1}, HottestDay, "table for temperate maritime places, as no temperatures were given"},
	} {
		if got := c.site.Climate().Basis(c.cue).In(wordstest.English(t)); got != c.want {
			t.Errorf("%s at %g: %q, want %q", c.cue, c.site.Latitude, got, c.want)
		}
	}
}

// The tables of gardens without normals are what the stations give that they
// name.
func TestTables(t *testing.T) {
	north, south := manchester.site(), ballarat.site()
	last, first := MonthDay{time.April, 18}, MonthDay{time.November, 9} // from the normals of 1971-2000
	north.LastFrost, north.FirstFrost = &last, &first
	counted, autumn := MonthDay{time.October, 1}, MonthDay{time.May, 22} // medians of daily records
	south.LastFrost, south.FirstFrost = &counted, &autumn
	for _, c := range []struct {
		bare Site
		like Site
	}{{Site{Latitude: 53}, north}, {Site{Latitude: -37}, south}} {
		for _, cue := range Cues() {
			if got, want := when(c.bare.Climate(), cue, 2027), when(c.like.Climate(), cue, 2027); got != want {
				t.Errorf("%s at %g: table %s, station %s", cue, c.bare.Latitude, got, want)
			}
		}
	}
	older := manchester7.site().Climate()
	if when(older, LastFrost, 2027) != last.String() || when(older, FirstFrost, 2027) != first.String() {
		t.Errorf("Manchester 1971-2000: frosts %s, %s", when(older, LastFrost, 2027), when(older, FirstFrost, 2027))
	}
}

func TestFrostDatesMoveTheTable(t *testing.T) {
	for _, c := range []struct {
		latitude    float64
		last, first string
		days        string // in the order of Cues
	}{
		{54, "18 April", "", "6 February, 13 March, 30 April, 28 July, 5 December, 9 November, 18 April, 9 November"},
		{54, "8 May", "", "6 February, 2 April, 20 May, 28 July, 5 December, 9 November, 8 May, 9 November"},
		{54, "8 May", "20 October", "6 February, 2 April, 20 May, 28 July, 15 November, 20 October, 8 May, 20 October"},
		{54, "20 January", "20 January", "6 February, 13 March, 3 April, 28 July, 2 January, 19 December, 20 January, 20 January"}, // floors hold
		{54, "30 July", "1 August", "6 February, 24 June, 28 July, 28 July, 27 August, 1 August, 30 July, 1 August"},
		{-40, "11 October", "12 May", "5 July, 19 August, 1 October, 29 January, 21 May, 7 May, 11 October, 12 May"},
	} {
		site := Site{Latitude: c.latitude}
		if c.last != "" {
			md := mustMonthDay(t, c.last)
			site.LastFrost = &md
		}
		if c.first != "" {
			md := mustMonthDay(t, c.first)
			site.FirstFrost = &md
		}
		var days []string
		for _, cue := range Cues() {
			days = append(days, when(site.Climate(), cue, 2027))
		}
		if got := strings.Join(days, ", "); got != c.days {
			t.Errorf("last frost %s, first %s:\n got %s\nwant %s", c.last, c.first, got, c.days)
		}
	}
}

func TestBasisOfSites(t *testing.T) {
	frost := MonthDay{time.May, 1}
	for _, c := range []struct {
		site              Site
		basis, hemisphere string
	}{
		{manchester.site(), "normals", "north"},
		{Site{Latitude: -40, FirstFrost: &frost}, "frost dates", "south"},
		{Site{}, "none", "north"},
	} {
		if basis, hemisphere := c.site.Basis().String(), c.site.Hemisphere().String(); basis != c.basis || hemisphere != c.hemisphere {
			t.Errorf("%+v: %s, %s; want %s, %s", c.site, basis, hemisphere, c.basis, c.hemisphere)
		}
	}
}

func TestFlowerlessAndCurveless(t *testing.T) {
	c := Site{Latitude: 50}.Climate()
	if _, ok := c.Cue(Flowering, 2027); ok {
		t.Error("a place has a flowering day")
	}
	if got := c.Basis(Flowering).In(wordstest.English(t)); got != "flowering months of the plant" {
		t.Errorf("basis of flowering: %q", got)
	}
	d := Date(2027, time.March, 1)
	for _, v := range []float64{c.Mean(d), c.Min(d), c.Max(d)} {
		if !math.IsNaN(v) {
			t.Errorf("a temperature without normals: %g", v)
		}
	}
	m := manchester.site().Climate()
	if mean, half := m.Mean(d), (m.Min(d)+m.Max(d))/2; math.Abs(mean-half) > 1e-9 {
		t.Errorf("mean %g, half way between minimum and maximum %g", mean, half)
	}
}

func TestFloorsInLeapYears(t *testing.T) {
	c := manchester.site().Climate()
	for year := 2020; year < 2036; year++ {
		coldest, _ := c.Cue(ColdestDay, year)
		green, _ := c.Cue(FirstGreen, year)
		if green-coldest != 35 {
			t.Errorf("%d: first green %s is %d days after %s", year, green, green-coldest, coldest)
		}
	}
}

// A day just at the threshold neither starts nor ends a season: strictly above
// and strictly below, as CDO documents its operator for the ETCCDI index.
func TestDaysAtTheThreshold(t *testing.T) {
	l := lap{values: []float64{3, 5, 5, 6, 7, 6, 5, 5, 4}, peak: 4}
	if rise, fall := l.warm(5); rise != 3 || fall != 8 {
		t.Errorf("rises on day %d, falls on day %d; want 3, 8", rise, fall)
	}
}

func TestExtremeClimates(t *testing.T) {
	constant := func(celsius float64) Site {
		var n Normals
		for i := range 12 {
			n.Min[i], n.Max[i] = celsius, celsius
		}
		return Site{Latitude: 5, Normals: &n}
	}
	for _, c := range []struct {
		site Site
		cue  Cue
		want string
	}{
		{constant(-20), WarmGrowth, "hottest day, as the mean never rises above 10 °C"},
		{constant(-20), LastFrost, "warmest night, as frost may come in any month"},
		{constant(25), FirstFrost, "no frost, as the mean minimum never falls below 4.5 °C"},
	} {
		if got := c.site.Climate().Basis(c.cue).In(wordstest.English(t)); got != c.want {
			t.Errorf("%s: %q, want %q", c.cue, got, c.want)
		}
	}
}

// randomSite makes up a plausible temperate to cold climate.
func randomSite(r *rand.Rand) Site {
	var n Normals
	mean, swing, day := -2+22*r.Float64(), 3+15*r.Float64(), 4+10*r.Float64()
	latitude := 25 + 40*r.Float64()
	late := 0.5 + r.Float64() // months from midwinter to the coldest time
	if r.IntN(2) == 0 {
		latitude, late = -latitude, late+6
	}
	for i := range 12 {
		t := mean - swing*math.Cos(2*math.Pi*(float64(i)+0.5-late)/12) + 1.5*(r.Float64()-0.5)
		n.Min[i], n.Max[i] = t-day/2, t+day/2
	}
	return Site{Latitude: latitude, Normals: &n}
}

func TestCuesAtRandomSites(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		s := randomSite(r)
		c, g := s.Climate(), 1990+r.IntN(60)

		order := []Cue{ColdestDay, FirstGreen, WarmGrowth, HottestDay, LeafFall, GrowthEnd}
		for i, cue := range order[1:] {
			if before := order[i]; c.inGrowingYear(cue, g) < c.inGrowingYear(before, g) {
				t.Errorf("%+v: %s %s comes before %s %s", *s.Normals, cue, c.inGrowingYear(cue, g), before, c.inGrowingYear(before, g))
			}
		}

		warmer := *s.Normals
		by := 3 * r.Float64()
		for i := range 12 {
			warmer.Min[i] += by
			warmer.Max[i] += by
		}
		w := Site{Latitude: s.Latitude, Normals: &warmer}.Climate()
		for _, cue := range []Cue{FirstGreen, WarmGrowth} {
			if was, is := c.inGrowingYear(cue, g), w.inGrowingYear(cue, g); is > was {
				t.Errorf("%+v: %.2f °C warmer moves %s from %s to %s", *s.Normals, by, cue, was, is)
			}
		}
	}
}

func BenchmarkClimate(b *testing.B) {
	s := manchester.site()
	for b.Loop() {
		s.Climate()
	}
}

func ExampleSite_Climate() {
	frost := MonthDay{time.May, 3}
	garden := Site{Latitude: 54.4, LastFrost: &frost}
	climate := garden.Climate()
	day, _ := climate.Cue(WarmGrowth, 2027)
	fmt.Println(day, climate.Basis(WarmGrowth).Key)
	// Output: 2027-05-15 basis.table, moved by last frost
}
