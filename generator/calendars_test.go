package generator_test

import (
	"cmp"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"sheaf/content"
	"sheaf/generator"
	"sheaf/generator/entries"
	"sheaf/generator/site"
)

var update = flag.Bool("update", false, "write expected tables and pictures anew")

// A calendar is a published source of work times.
type calendar struct {
	label string // short, in the lines of the table
	name  string // in full, in the list below it
	place string

	fromNotes bool // not read again for this table

	at   func() []weather // what the windows are computed with; the first is printed
	also func() []weather // told in the remark only
}

// An almanacRow is one work time of a calendar beside the entry of the shipped
// library that answers to it. A calendar's row that names several plants is here
// several times.
type almanacRow struct {
	calendar
	row int    // its number in STANDARDS 9; 0 if it is not from there
	tag string // the tag of its source in the facts of the trade

	plant     string // as published, if that is not the entry's name
	when      string // as published, in months and dates of the place, or an event; "" for "is never cut down"
	not       bool   // published as the time in which the job must not be done
	says      string // an event that no window can tell: the line rests on handbooks
	handbooks string // months that handbooks give for the event, from memory: told

	entry string // its file in plants/, without .md; "" if the library has none
	kind  string // why the entry stands for another plant; "" if it is of the plant itself
	job   string // the job concerned
	nth   int    // which of several rules of that job, from 1; 0 if there is only one

	remark string // for a row without an entry: what the library lacks
}

// A weather is the climate of a place, with what it rests on.
type weather struct {
	name string
	rest rest
	site.Site
}

type rest uint8

const (
	onPublished rest = iota // figures published, or computed from published data
	onMemory                // figures from memory: told, never held against a window
	onLatitude              // nothing but the hemisphere: likewise
)

// publishedSpread is by how many days published calendars differ among
// themselves: Britain's cut Miscanthus from late February to April
// (STANDARDS 9, "Use").
const publishedSpread = 21

type missKey struct{ calendar, entry, job string }

func fahrenheitYear(v [12]float64) [12]float64 {
	for i := range v {
		v[i] = (v[i] - 32) / 1.8
	}
	return v
}

func dayOf(month time.Month, day int) *site.MonthDay { return &site.MonthDay{Month: month, Day: day} }

// Manchester stands for Britain: it lies in the middle. Normals of 1981 to 2010,
// Met Office as quoted by liquisearch.com/geography_of_greater_manchester/climate.
func britain() []weather {
	return []weather{{"Manchester 1981–2010", onPublished, site.Site{Latitude: 53.4, Normals: &site.Normals{
		Min: [12]float64{1.7, 1.6, 3.3, 4.9, 7.7, 10.5, 12.6, 12.4, 10.3, 7.4, 4.2, 1.8},
		Max: [12]float64{7.3, 7.6, 10.0, 12.6, 16.1, 18.6, 20.6, 20.3, 17.6, 13.9, 10.0, 7.4}}}}}
}

// Britain's mild and cold ends: means of 1991 to 2020 computed from the Met
// Office historic station series (Open Government Licence).
func endsOfBritain() []weather {
	return []weather{
		{"Heathrow", onPublished, site.Site{Latitude: 51.5, Normals: &site.Normals{
			Min: [12]float64{2.7, 2.6, 4.1, 6.0, 9.1, 12.0, 14.2, 14.1, 11.6, 8.8, 5.3, 3.1},
			Max: [12]float64{8.4, 9.0, 11.7, 15.0, 18.4, 21.6, 23.9, 23.4, 20.2, 15.8, 11.5, 8.8}}}},
		{"Braemar", onPublished, site.Site{Latitude: 57.0, Normals: &site.Normals{
			Min: [12]float64{-1.2, -1.1, -0.2, 1.4, 3.7, 7.0, 8.8, 8.4, 6.5, 3.8, 0.9, -1.3},
			Max: [12]float64{4.8, 5.2, 7.2, 10.1, 13.7, 16.0, 18.0, 17.4, 15.0, 10.9, 7.4, 5.0}}}},
	}
}

// newYork are means of 2012 to 2015, from the daily values of NOAA in
// weather.csv of the npm package vega-datasets. They stand in for places
// further south of which no monthly figures are at hand, and err to the cold.
func newYork() *site.Normals {
	return &site.Normals{
		Min: [12]float64{-3.4, -3.5, 0.8, 6.3, 12.7, 17.5, 21.5, 20.3, 16.6, 11.2, 4.2, 2.8},
		Max: [12]float64{4.4, 4.2, 9.1, 15.8, 21.4, 25.9, 29.5, 28.5, 25.3, 19.0, 12.1, 9.3}}
}

// Frost dates of American places are medians of NOAA's normals of 1981 to 2010
// at 32 °F.

func virginia() []weather {
	last, first := dayOf(time.March, 28), dayOf(time.November, 17) // Washington Reagan
	return []weather{
		{"New York 2012–2015, frosts of Washington", onPublished, site.Site{Latitude: 38.85, Normals: newYork(), LastFrost: last, FirstFrost: first}},
		// Washington Reagan 1981-2010, °F. [M] from memory.
		{"Washington, from memory", onMemory, site.Site{Latitude: 38.85, LastFrost: last, FirstFrost: first, Normals: &site.Normals{
			Min: fahrenheitYear([12]float64{28.6, 30.9, 37.6, 47.0, 56.5, 66.3, 71.1, 69.7, 62.4, 50.6, 41.2, 32.5}),
			Max: fahrenheitYear([12]float64{43.4, 47.1, 55.9, 66.6, 75.4, 84.2, 88.4, 86.5, 79.5, 68.4, 57.9, 46.8})}}},
	}
}

func iowa() []weather {
	last, first := dayOf(time.April, 17), dayOf(time.October, 17) // Des Moines
	return []weather{
		{"frost dates of Des Moines", onPublished, site.Site{Latitude: 41.5, LastFrost: last, FirstFrost: first}},
		// Des Moines 1981-2010, °F. [M] from memory.
		{"Des Moines, from memory", onMemory, site.Site{Latitude: 41.5, LastFrost: last, FirstFrost: first, Normals: &site.Normals{
			Min: fahrenheitYear([12]float64{14, 18.5, 29, 40.5, 52, 62, 66.5, 64.5, 54.5, 42, 29.5, 17.5}),
			Max: fahrenheitYear([12]float64{31, 36, 49, 62, 72.5, 82, 86, 84, 76, 63, 48, 34})}}},
	}
}

func atlanta() []weather {
	last, first := dayOf(time.March, 20), dayOf(time.November, 21) // Atlanta Hartsfield
	return []weather{
		{"frost dates of Atlanta", onPublished, site.Site{Latitude: 33.63, LastFrost: last, FirstFrost: first}},
		{"Atlanta, from memory", onMemory, site.Site{Latitude: 33.63, LastFrost: last, FirstFrost: first, Normals: atlantaNormals()}},
	}
}

// atlantaNormals are those of Hartsfield 1981 to 2010. [M] from memory.
func atlantaNormals() *site.Normals {
	return &site.Normals{
		Min: fahrenheitYear([12]float64{34.3, 37.7, 44.1, 51.5, 60.3, 68.2, 71.3, 70.7, 64.8, 53.9, 44.5, 36.6}),
		Max: fahrenheitYear([12]float64{52.3, 56.6, 64.6, 72.5, 79.9, 86.4, 89.1, 88.1, 82.2, 72.7, 63.6, 54.0})}
}

func maryland() []weather {
	last, first := dayOf(time.April, 12), dayOf(time.October, 29) // Baltimore
	return []weather{
		{"New York 2012–2015, frosts of Baltimore", onPublished, site.Site{Latitude: 39.2, Normals: newYork(), LastFrost: last, FirstFrost: first}},
		{"frost dates of Baltimore", onPublished, site.Site{Latitude: 39.2, LastFrost: last, FirstFrost: first}},
	}
}

func southCarolina() []weather {
	last, first := dayOf(time.March, 31), dayOf(time.November, 7) // Greer
	return []weather{
		{"frost dates of Greer", onPublished, site.Site{Latitude: 34.9, LastFrost: last, FirstFrost: first}},
		{"Atlanta, from memory, frosts of Greer", onMemory, site.Site{Latitude: 34.9, LastFrost: last, FirstFrost: first, Normals: atlantaNormals()}},
	}
}

func australia() []weather {
	return []weather{
		// Bureau of Meteorology 086071, all years, from public copies.
		{"Melbourne", onPublished, site.Site{Latitude: -37.81, Normals: &site.Normals{
			Min: [12]float64{14.3, 14.6, 13.2, 10.8, 8.7, 6.9, 6.0, 6.7, 8.0, 9.5, 11.2, 12.9},
			Max: [12]float64{25.9, 25.8, 23.9, 20.3, 16.7, 14.1, 13.5, 15.0, 17.2, 19.7, 22.0, 24.2}}}},
		// Bureau of Meteorology, 2007 to 2017, computed from the data set
		// weatherAUS of the R package rattle.data.
		{"Canberra 2007–2017", onPublished, site.Site{Latitude: -35.3, Normals: &site.Normals{
			Min: [12]float64{14.1, 13.6, 11.2, 6.8, 2.3, 1.5, 0.3, 0.9, 3.1, 5.8, 10.0, 12.0},
			Max: [12]float64{30.0, 27.7, 25.3, 20.6, 16.7, 13.5, 12.4, 14.1, 17.7, 21.2, 25.3, 26.9}}}},
	}
}

// melbourne is of Australia's places the one that hardly has frost, for
// calendars of a coast without.
func melbourne() []weather { return australia()[:1] }

func newZealand() []weather {
	return []weather{
		// Auckland 1981-2010. [M] from memory.
		{"Auckland, from memory", onMemory, site.Site{Latitude: -36.9, Normals: &site.Normals{
			Min: [12]float64{15.2, 15.8, 14.4, 12.1, 10.3, 8.1, 7.1, 7.5, 8.9, 10.4, 12.0, 14.0},
			Max: [12]float64{23.1, 23.7, 22.4, 20.1, 17.7, 15.5, 14.7, 15.1, 16.5, 17.8, 19.5, 21.6}}}},
		{"latitude alone", onLatitude, site.Site{Latitude: -36.9}},
	}
}

// Seattle 2012 to 2015, from the same data set as [newYork].
func seattle() []weather {
	return []weather{{"Seattle 2012–2015", onPublished, site.Site{Latitude: 47.6, Normals: &site.Normals{
		Min: [12]float64{2.7, 4.1, 4.9, 6.4, 9.6, 12.2, 14.2, 14.8, 12.4, 9.4, 4.7, 3.3},
		Max: [12]float64{8.2, 9.9, 12.4, 15.0, 19.3, 22.4, 26.0, 26.1, 21.9, 16.4, 11.0, 8.2}}}}}
}

func northEast() []weather {
	return []weather{{"New York 2012–2015, frosts of New York", onPublished, site.Site{Latitude: 40.8, Normals: newYork(),
		LastFrost: dayOf(time.April, 1), FirstFrost: dayOf(time.November, 18)}}} // Central Park
}

func philadelphia() []weather {
	return []weather{{"New York 2012–2015, frosts of Philadelphia", onPublished, site.Site{Latitude: 39.9, Normals: newYork(),
		LastFrost: dayOf(time.April, 2), FirstFrost: dayOf(time.November, 10)}}}
}

func minnesota() []weather {
	last, first := dayOf(time.April, 25), dayOf(time.October, 10) // Minneapolis
	return []weather{
		{"frost dates of Minneapolis", onPublished, site.Site{Latitude: 44.9, LastFrost: last, FirstFrost: first}},
		// Minneapolis 1981-2010, °F. [M] from memory.
		{"Minneapolis, from memory", onMemory, site.Site{Latitude: 44.9, LastFrost: last, FirstFrost: first, Normals: &site.Normals{
			Min: fahrenheitYear([12]float64{7.5, 12.8, 24.3, 37.2, 48.9, 58.8, 64.1, 61.8, 52.4, 39.7, 26.2, 12.3}),
			Max: fahrenheitYear([12]float64{23.7, 28.9, 41.3, 57.8, 69.4, 78.8, 83.4, 80.5, 71.7, 58.0, 41.2, 27.1})}}},
	}
}

// Armagh stands for Ireland: means of 1991 to 2020, from the same series as
// [endsOfBritain].
func ireland() []weather {
	return []weather{{"Armagh", onPublished, site.Site{Latitude: 54.4, Normals: &site.Normals{
		Min: [12]float64{2.2, 2.0, 3.1, 4.6, 7.0, 9.8, 11.7, 11.6, 9.7, 7.0, 4.3, 2.4},
		Max: [12]float64{7.8, 8.6, 10.4, 13.0, 15.9, 18.2, 19.7, 19.4, 17.3, 13.7, 10.3, 7.8}}}}}
}

// Sydney Observatory Hill, 1981 to 2010, computed from the sample data of Climpact.
func sydney() []weather {
	return []weather{{"Sydney", onPublished, site.Site{Latitude: -33.9, Normals: &site.Normals{
		Min: [12]float64{19.6, 19.7, 18.1, 15.3, 12.5, 9.7, 8.7, 9.7, 12.0, 14.4, 16.3, 18.3},
		Max: [12]float64{26.5, 26.5, 25.4, 23.3, 20.6, 18.0, 17.4, 18.9, 21.2, 22.8, 23.7, 25.5}}}}}
}

// Ballarat, 2008 to 2017, from the same data set as Canberra, with the medians
// of its counted frosts.
func ballarat() []weather {
	return []weather{{"Ballarat", onPublished, site.Site{Latitude: -37.6, LastFrost: dayOf(time.October, 1), FirstFrost: dayOf(time.May, 22), Normals: &site.Normals{
		Min: [12]float64{11.9, 12.3, 10.7, 7.9, 5.4, 3.5, 3.4, 3.7, 4.9, 6.3, 8.6, 9.7},
		Max: [12]float64{26.8, 26.3, 23.0, 18.4, 14.2, 11.2, 10.4, 11.7, 14.4, 17.8, 21.3, 23.9}}}}}
}

func westernCape() []weather {
	return []weather{
		// Cape Town airport 1961-1990. [M] from memory.
		{"Cape Town, from memory", onMemory, site.Site{Latitude: -33.97, Normals: &site.Normals{
			Min: [12]float64{15.7, 15.6, 14.2, 11.9, 9.4, 7.8, 7.0, 7.5, 8.7, 10.6, 13.2, 14.9},
			Max: [12]float64{26.1, 26.5, 25.4, 23.0, 20.3, 18.1, 17.5, 17.8, 19.2, 21.3, 23.5, 24.9}}}},
		{"latitude alone", onLatitude, site.Site{Latitude: -33.97}},
	}
}

// kinds are the folders of the library's plants, in the order of the table.
func kinds() [][2]string {
	return [][2]string{
		{"grasses", "Grasses and sedges"}, {"perennials", "Perennials"}, {"bulbs", "Bulbs and tubers"}, {"ferns", "Ferns"},
		{"shrubs", "Shrubs"}, {"climbers", "Climbers"}, {"hedges", "Hedges"}, {"trees", "Trees"}, {"", "Plants the library has not"},
	}
}

// A tally counts the lines of the table by what came of them.
type tally struct{ lines, meets, byEvent, near, misses, told, lacking int }

// TestPublishedCalendars lays the windows of the shipped library beside
// published work times from four continents, and writes the comparison to
// testdata/calendars/table.md. Windows are those of rules as written, without
// the adjustments for beds, in 2027.
//
// It fails where a window that rests on published climate lies further from its
// calendar than calendars lie from each other, or runs into a time that a
// calendar forbids, unless that is a known miss; and where a known miss no
// longer misses.
func TestPublishedCalendars(t *testing.T) {
	library := wholeShelf(t)
	misses, missed := knownMisses(), map[missKey]bool{}
	groups := map[string][]string{}
	var sum tally
	rows := almanac()
	for _, r := range rows {
		kind, line := "", ""
		sum.lines++
		if r.entry == "" {
			sum.lacking++
			line = tableLine(r.plant, "–", r.when, r.by(), "–", "no entry", "–", "–", "the library has "+r.remark)
		} else {
			kind, _, _ = strings.Cut(r.entry, "/")
			line = compare(t, library, r, misses[r.key()], missed, &sum)
		}
		groups[kind] = append(groups[kind], line)
	}
	for key := range misses {
		if !missed[key] {
			t.Errorf("%v is a known miss, and no longer misses", key)
		}
	}
	for _, n := range almanacNumbers() {
		if !slices.ContainsFunc(rows, func(r almanacRow) bool { return r.row == n }) {
			t.Errorf("row %d of the published calendars is left out", n)
		}
	}
	for _, tag := range almanacTags() {
		if !slices.ContainsFunc(rows, func(r almanacRow) bool { return r.tag == tag }) {
			t.Errorf("source %s of the facts of the trade is left out", tag)
		}
	}

	var table strings.Builder
	for _, kind := range kinds() {
		lines := groups[kind[0]]
		slices.SortStableFunc(lines, func(a, b string) int { return strings.Compare(plantOf(a), plantOf(b)) })
		fmt.Fprintf(&table, "### %s\n\n", kind[1])
		table.WriteString("| plant | job | published | by | computed for 2027 | days apart | days shared | climate | remark |\n|---|---|---|---|---|---|---|---|---|\n")
		table.WriteString(strings.Join(lines, ""))
		table.WriteString("\n")
	}
	table.WriteString("### The calendars\n\n")
	var told []string
	for _, r := range rows {
		if !slices.Contains(told, r.label) {
			told = append(told, r.label)
			notes := ""
			if r.fromNotes {
				notes = " (from notes of an earlier reading)"
			}
			fmt.Fprintf(&table, "- %s: %s%s\n", r.by(), r.name, notes)
		}
	}
	var without []string
	for _, e := range library.Entries {
		if !slices.ContainsFunc(rows, func(r almanacRow) bool {
			return r.entry != "" && strings.HasSuffix(e.File.Path, "plants/"+r.entry+".md")
		}) {
			without = append(without, e.Name.Value.Plain())
		}
	}
	fmt.Fprintf(&table, "\nEntries of which this table has no published work time: %d of %d.\n", len(without), len(library.Entries))
	fmt.Fprintf(&table, "\n%d lines, for %d of %d entries: %d meet, %d of these by the entry's own flowering months; %d lie within %d days; "+
		"known misses: %d; told only, as their climate or their months are from memory: %d; without an entry in the library: %d.\n",
		sum.lines, len(library.Entries)-len(without), len(library.Entries), sum.meets, sum.byEvent, sum.near, publishedSpread, sum.misses, sum.told, sum.lacking)

	t.Log("\n" + table.String())
	golden := filepath.Join("..", "testdata", "calendars", "table.md")
	heldTo(t, golden, table.String())
}

// heldTo compares a table with the file that keeps it; -update writes that.
func heldTo(t *testing.T, golden, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("the table differs from %s (go test ./generator -run %s -update writes it):\n%s", golden, t.Name(), firstDifference(got, string(want)))
	}
}

func (r almanacRow) key() missKey { return missKey{r.label, r.entry, r.job} }

// by tells the calendar and, if its label does not, the place.
func (r almanacRow) by() string {
	if strings.Contains(r.label, r.place) {
		return r.label
	}
	return r.label + ", " + r.place
}

func tableLine(cells ...string) string { return "| " + strings.Join(cells, " | ") + " |\n" }

// plantOf is what a line of the table is sorted by: the name of its entry.
func plantOf(line string) string {
	_, after, found := strings.Cut(strings.Split(line, " | ")[0], "*")
	if !found {
		return line
	}
	name, _, _ := strings.Cut(after, "*")
	return strings.ReplaceAll(name, "× ", "")
}

// compare makes the line of a row whose plant the library has, judges it, and
// counts it. The excuse is why it is known to miss; "" if it should not.
func compare(t *testing.T, library *entries.Library, r almanacRow, excuse string, missed map[missKey]bool, sum *tally) string {
	t.Helper()
	e := entryOfFile(t, library, r.entry)
	name := "*" + e.Name.Value.Plain() + "*"
	plant := name
	switch {
	case r.kind != "":
		plant = fmt.Sprintf("%s, by %s (%s)", r.plant, name, r.kind)
	case r.plant != "":
		plant = fmt.Sprintf("%s (%s)", name, r.plant)
	}
	if r.when == "" && r.says == "" {
		sum.meets++
		if job := cutsDown(library, e); job != "" {
			t.Errorf("%s has the rule %q, and is never cut down (%s)", r.entry, job, r.name)
		}
		return tableLine(plant, "cut down", "never", r.by(), "combed and groomed", "0", "–", "none needed", "–")
	}

	rule := ruleOf(t, e, r.job, r.nth)
	published, period := r.when, r.when
	if r.says != "" {
		published, period = fmt.Sprintf("%s (%s, by handbooks)", r.says, r.handbooks), r.handbooks
	}
	if r.not {
		published = "not " + period
	}
	climates := r.at()
	if !usesClimate(t, rule.When.Value, period) {
		climates = []weather{{"none needed", onPublished, climates[0].Site}} // it is the same everywhere in the hemisphere
	}
	judged := r.says == "" && climates[0].rest == onPublished
	var first comparison
	var remarks []string
	var missing []string
	for i, w := range climates {
		c := beside(t, e, rule, period, w)
		if i == 0 {
			first = c
		} else {
			remarks = append(remarks, w.name+": "+c.apart(r.not))
		}
		if !judged || w.rest != onPublished || c.fits(r.not) {
			continue
		}
		missing = append(missing, w.name)
		if excuse == "" {
			t.Errorf("%s at %s: %s is due %s, published is %s (%s): %s apart", r.entry, w.name, r.job, c.computed, published, r.name, c.apart(r.not))
		}
	}
	if r.also != nil && climates[0].name != "none needed" {
		for _, w := range r.also() {
			remarks = append(remarks, w.name+": "+beside(t, e, rule, period, w).apart(r.not))
		}
	}
	if r.says == "" && r.handbooks != "" {
		remarks = append(remarks, fmt.Sprintf("handbooks: %s, %s", r.handbooks, beside(t, e, rule, r.handbooks, climates[0]).apart(false)))
	}
	if r.remark != "" {
		remarks = slices.Insert(remarks, 0, r.remark)
	}
	apart := first.apart(r.not)
	switch {
	case !judged:
		sum.told++
		apart += ", told"
	case len(missing) > 0:
		sum.misses++
		missed[r.key()] = true
		apart += ", known miss"
		if missing[0] != climates[0].name {
			apart += " at " + strings.Join(missing, ", ")
		}
		remarks = slices.Insert(remarks, 0, excuse)
	case r.not || first.shared > 0:
		sum.meets++
		if window(t, period).Uses(site.Flowering) {
			sum.byEvent++
		}
	default:
		sum.near++
	}
	shared := "–"
	if first.shared > 0 && !r.not {
		shared = fmt.Sprintf("%d of %d", first.shared, first.length)
	}
	return tableLine(plant, r.job, published, r.by(), first.computed, apart, shared, climates[0].name, cmp.Or(strings.Join(remarks, "; "), "–"))
}

// wholeShelf reads the shipped library, by way of a garden of one plant.
func wholeShelf(t *testing.T) *entries.Library {
	t.Helper()
	plan, ds, err := generator.Check(generator.Options{Now: time.Date(2027, time.January, 1, 0, 0, 0, 0, time.UTC), Folders: generator.Folders{
		Garden:  fstest.MapFS{"garden.yaml": {Data: []byte("garden: Empty\nsite: {country: GB, latitude: 52}\nplants:\n  - plant: Hakonechloa macra\n")}},
		File:    "garden.yaml",
		Library: func(string) (fs.FS, error) { return content.Library(), nil },
	}})
	if err != nil || plan == nil || ds.HasErrors() {
		t.Fatalf("the shipped library cannot be read: %v %s", err, printed(ds))
	}
	plan.Library.Fill(plan.Library.Entries...)
	return plan.Library
}

func entryOfFile(t *testing.T, l *entries.Library, name string) *entries.Entry {
	t.Helper()
	i := slices.IndexFunc(l.Entries, func(e *entries.Entry) bool { return strings.HasSuffix(e.File.Path, "plants/"+name+".md") })
	if i < 0 {
		t.Fatalf("the library has no entry %s", name)
	}
	return l.Entries[i]
}

// ruleOf gives an entry's rule of a job: the nth, or with 0 the only one.
func ruleOf(t *testing.T, e *entries.Entry, job string, nth int) entries.Rule {
	t.Helper()
	var found []entries.Rule
	for _, r := range e.Rules {
		if r.Job.Value == job {
			found = append(found, r)
		}
	}
	if nth == 0 && len(found) != 1 || nth > len(found) {
		t.Fatalf("%s has %d rules %q", e.File.Path, len(found), job)
	}
	return found[max(nth, 1)-1]
}

// cutsDown gives a job of an entry that cuts more than its flower stems.
func cutsDown(l *entries.Library, e *entries.Entry) string {
	for _, r := range e.Rules {
		if job := r.Job.Value; l.Job(job).Family == "cut" && job != "remove stems" && job != "deadhead" {
			return job
		}
	}
	return ""
}

// usesClimate tells whether a rule's window, or the published one, depends on the place.
func usesClimate(t *testing.T, w site.Window, published string) bool {
	t.Helper()
	p := window(t, published)
	return slices.ContainsFunc(site.Cues(), w.Uses) || slices.ContainsFunc(site.Cues(), p.Uses)
}

func window(t *testing.T, phrase string) site.Window {
	t.Helper()
	w, err := site.ParseWindow(phrase)
	if err != nil {
		t.Fatalf("%q: %v", phrase, err)
	}
	return w
}

// A comparison is a rule's window beside a published one.
type comparison struct {
	computed string // the days of the rule
	shared   int    // days that the rule's window shares with the published one
	length   int    // days of that window
	gap      int    // 0 if any day is shared; else by how many days one would have to move to share one
	late     bool   // whether the gap lies before the rule's window
}

// apart tells the gap in words, or of a forbidden time what stays clear of it.
func (c comparison) apart(not bool) string {
	switch {
	case not && c.shared > 0:
		return fmt.Sprintf("%d d inside", c.shared)
	case not:
		return fmt.Sprintf("clear by %d", c.gap-1)
	case c.gap == 0:
		return "0"
	case c.late:
		return fmt.Sprintf("%d late", c.gap)
	}
	return fmt.Sprintf("%d early", c.gap)
}

// fits tells whether a window lies as near to its calendar as calendars lie to
// each other, or out of a forbidden time.
func (c comparison) fits(not bool) bool {
	if not {
		return c.shared == 0
	}
	return c.gap <= publishedSpread
}

// beside computes a rule's window in 2027 and lays it beside the published one.
func beside(t *testing.T, e *entries.Entry, r entries.Rule, published string, w weather) comparison {
	t.Helper()
	const year = 2027
	c := w.Climate()
	var want []site.Interval
	for y := year - 1; y <= year+1; y++ {
		want = append(want, site.Context{Climate: c, WrittenFor: whoseMonths(t, e, published, w), Flowering: e.Flowers.Value}.Resolve(window(t, published), y)...)
	}
	got := site.Context{Climate: c, WrittenFor: e.WrittenFor, Flowering: e.Flowers.Value}.Resolve(r.When.Value, year)
	if len(got) == 0 || len(want) == 0 {
		t.Fatalf("%s: %q or %q has no days in %d at %s", e.File.Path, r.When.Value, published, year, w.name)
	}
	var all []string
	result := comparison{gap: 366}
	for _, g := range got {
		all = append(all, dayAndMonth(g.From)+" to "+dayAndMonth(g.To))
		for _, p := range want {
			shared := int(min(g.To, p.To)-max(g.From, p.From)) + 1
			gap := max(0, 1-shared) // next to each other is a gap of one day
			if gap > result.gap || gap == result.gap && shared <= result.shared {
				continue
			}
			result.shared, result.length = max(0, shared), int(g.To-g.From)+1
			result.gap, result.late = gap, g.From > p.To
		}
	}
	result.computed = strings.Join(all, " and ")
	return result
}

// whoseMonths is the hemisphere that a published window means: its months are
// those of its place, but the flowering months of an event are the entry's.
func whoseMonths(t *testing.T, e *entries.Entry, published string, w weather) site.Hemisphere {
	t.Helper()
	if window(t, published).Uses(site.Flowering) {
		return e.WrittenFor
	}
	return w.Hemisphere()
}

func dayAndMonth(d site.Day) string {
	_, month, day := d.Civil()
	return fmt.Sprintf("%d %s", day, month)
}

// firstDifference shows the first line in which two texts differ.
func firstDifference(got, want string) string {
	a, b := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return "got  " + a[i] + "\nwant " + b[i]
		}
	}
	return fmt.Sprintf("got %d lines, want %d", len(a), len(b))
}
