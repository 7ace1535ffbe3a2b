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

// An almanacRow is one plant of a published work calendar beside the entry of
// the shipped library that answers to it. Rows have the numbers of STANDARDS 9;
// a row that names several plants is here several times.
type almanacRow struct {
	row    int
	place  string
	plant  string // as published
	when   string // as published, in months and dates of the place; "" for "is never cut down"
	source string

	entry string // its file in plants/, without .md; "" if the library has none
	kind  string // why the entry stands for another plant; "" if it is of the plant itself
	job   string // the job concerned, of which the entry has one rule

	at     []weather // what the windows are computed with
	also   []weather // told in the remark only
	remark string    // for a row without an entry: what the library lacks
}

// A weather is the climate of a row, with what it rests on.
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

// knownMisses are the rows with published climate that lie further from their
// calendar than calendars lie from each other.
func knownMisses() map[missKey]string {
	return map[missKey]string{
		{24, "climbers/lonicera-periclymenum"}:   "the calendar means bush honeysuckles that flower in early spring; the entry is a climber that flowers to August and is cut after that",
		{43, "grasses/pennisetum-alopecuroides"}: "the library cuts it late, as the RHS has it for fountain grass (row 38): its old stems shelter the crown",
		{43, "grasses/pennisetum-orientale"}:     "the library cuts it late, as the RHS has it (row 38): its old stems shelter the crown",
		{55, "shrubs/buddleja-davidii"}:          "with frost dates alone its spring is that of a maritime garden, never before mid March; the temperatures of Atlanta mend it",
		{66, "shrubs/lavandula-angustifolia"}:    "the calendar trims in autumn; the library shears when the flowers are over, so that no soft growth meets winter",
		{66, "shrubs/choisya-ternata"}:           "the calendar trims in autumn; the library prunes when the spring flowers are over, and never in autumn",
	}
}

type missKey struct {
	row   int
	entry string
}

func fahrenheitYear(v [12]float64) [12]float64 {
	for i := range v {
		v[i] = (v[i] - 32) / 1.8
	}
	return v
}

func dayOf(month time.Month, day int) *site.MonthDay { return &site.MonthDay{Month: month, Day: day} }

// Manchester stands for Britain: it lies in the middle. Normals of 1981 to 2010,
// Met Office as quoted by liquisearch.com/geography_of_greater_manchester/climate.
func middleBritain() []weather {
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

func newZealand() []weather {
	return []weather{
		// Auckland 1981-2010. [M] from memory.
		{"Auckland, from memory", onMemory, site.Site{Latitude: -36.9, Normals: &site.Normals{
			Min: [12]float64{15.2, 15.8, 14.4, 12.1, 10.3, 8.1, 7.1, 7.5, 8.9, 10.4, 12.0, 14.0},
			Max: [12]float64{23.1, 23.7, 22.4, 20.1, 17.7, 15.5, 14.7, 15.1, 16.5, 17.8, 19.5, 21.6}}}},
		{"latitude alone", onLatitude, site.Site{Latitude: -36.9}},
	}
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

// almanac holds all rows of STANDARDS 9.
func almanac() []almanacRow {
	const (
		miscanthus    = "grasses/miscanthus-sinensis"
		calamagrostis = "grasses/calamagrostis-acutiflora"
		panicum       = "grasses/panicum-virgatum"
		cortaderia    = "grasses/cortaderia-selloana"
		buddleja      = "shrubs/buddleja-davidii"
		paniculata    = "shrubs/hydrangea-paniculata"
		weigela       = "shrubs/weigela-florida"
		choisya       = "shrubs/choisya-ternata"
		tinus         = "shrubs/viburnum-tinus"
		rose          = "shrubs/rosa-penelope"
	)
	var all []almanacRow
	from := func(place, source string, at, also []weather, rows ...almanacRow) {
		for _, r := range rows {
			r.place, r.source, r.at, r.also = place, source, at, also
			all = append(all, r)
		}
	}

	// Shrub pruning calendar, zones 6 to 8: months marked best; after Deutzia
	// "pruning okay", by virginiahorticulture.com.
	from("Virginia", "Virginia Cooperative Extension 430-462", virginia(), nil,
		almanacRow{row: 1, plant: "Abelia", when: "November to February", remark: "no half-evergreen shrub of summer"},
		almanacRow{row: 3, plant: "Arborvitae", when: "November to March or June to July", entry: "hedges/taxus-baccata", job: "trim", kind: "a clipped conifer", remark: "kept clear of the nesting season"},
		almanacRow{row: 5, plant: "Azalea", when: "May to July", entry: choisya, job: "prune", kind: "an evergreen of spring flowers"},
		almanacRow{row: 7, plant: "Bayberry", when: "March to June", remark: "no evergreen shrub grown for its leaf alone"},
		almanacRow{row: 9, plant: "Beautybush", when: "June to July", entry: weigela, job: "prune", kind: "same family, flowers at the same time on last year's wood"},
		almanacRow{row: 11, plant: "Broom", when: "June to July", entry: "shrubs/salvia-rosmarinus", job: "shear", kind: "spring flowers, never cut into bare wood"},
		almanacRow{row: 13, plant: "Camellia japonica", when: "April to June", entry: tinus, job: "prune", kind: "an evergreen of winter flowers"},
		almanacRow{row: 15, plant: "Chastetree", when: "January to March", entry: buddleja, job: "prune", kind: "flowers on this year's wood"},
		almanacRow{row: 17, plant: "Clethra alnifolia", when: "November to March", entry: paniculata, job: "prune", kind: "flowers on this year's wood"},
		almanacRow{row: 18, plant: "Cotoneaster, evergreen", when: "November to February", remark: "no evergreen shrub grown for its berries"},
		almanacRow{row: 20, plant: "Daphne odora", when: "April to July", entry: "shrubs/sarcococca-confusa", job: "prune", kind: "an evergreen of scented winter flowers"},
		almanacRow{row: 22, plant: "Forsythia", when: "April to July", entry: weigela, job: "prune", kind: "flowers on last year's wood, but later"},
		almanacRow{row: 24, plant: "Honeysuckle", when: "April to June", entry: "climbers/lonicera-periclymenum", job: "prune", kind: "another of its genus"},
		almanacRow{row: 26, plant: "Winter jasmine", when: "April to July", entry: tinus, job: "prune", kind: "winter flowers"},
		almanacRow{row: 28, plant: "Pieris", when: "May to July", entry: choisya, job: "prune", kind: "an evergreen of spring flowers"},
		almanacRow{row: 30, plant: "Pittosporum", when: "February to May", remark: "no evergreen shrub grown for its leaf alone"},
		almanacRow{row: 32, plant: "Serviceberry", when: "April to June", entry: "shrubs/amelanchier-lamarckii", job: "prune", remark: "the calendar waits for the flowers, the library prunes at rest"},
		almanacRow{row: 34, plant: "Viburnum, deciduous", when: "May to July", entry: weigela, job: "prune", kind: "late spring flowers on last year's wood"},
	)

	britain, ends := middleBritain(), endsOfBritain()
	// "Early spring" is taken as March, "spring" as March to May.
	from("Britain", "RHS, advice 434", britain, ends,
		almanacRow{row: 35, plant: "Calamagrostis × acutiflora", when: "March", entry: calamagrostis, job: "cut back"},
		almanacRow{row: 37, plant: "Miscanthus", when: "15 March to 30 April", entry: miscanthus, job: "cut back"},
		almanacRow{row: 38, plant: "Pennisetum orientale", when: "late April", entry: "grasses/pennisetum-orientale", job: "cut back"},
		almanacRow{row: 39, plant: "Festuca glauca", when: "March to May", entry: "grasses/festuca-glauca", job: "shear"},
		almanacRow{row: 40, plant: "Cortaderia selloana", when: "March", entry: cortaderia, job: "remove stems", remark: "the calendar cuts hard, the library takes out stems and combs"},
		almanacRow{row: 42, plant: "Carex, evergreen", entry: "grasses/carex-oshimensis-evergold"},
		almanacRow{row: 42, plant: "Carex, evergreen", entry: "grasses/carex-testacea"},
		almanacRow{row: 42, plant: "Luzula", entry: "grasses/luzula-nivea"},
	)
	from("Britain", "Gardens Illustrated, 22 November 2022", britain, ends,
		almanacRow{row: 43, plant: "Calamagrostis", when: "late February to early March", entry: calamagrostis, job: "cut back"},
		almanacRow{row: 43, plant: "Miscanthus", when: "late February to early March", entry: miscanthus, job: "cut back"},
		almanacRow{row: 43, plant: "Panicum", when: "late February to early March", entry: panicum, job: "cut back"},
		almanacRow{row: 43, plant: "Pennisetum", when: "late February to early March", entry: "grasses/pennisetum-alopecuroides", job: "cut back"},
		almanacRow{row: 43, plant: "Pennisetum", when: "late February to early March", entry: "grasses/pennisetum-orientale", job: "cut back"},
		almanacRow{row: 43, plant: "Molinia", when: "late February to early March", entry: "grasses/molinia-caerulea-arundinacea", job: "cut back"},
		almanacRow{row: 43, plant: "Hakonechloa", when: "late February to early March", entry: "grasses/hakonechloa-macra", job: "cut back"},
		almanacRow{row: 43, plant: "Deschampsia", when: "late February to early March", entry: "grasses/deschampsia-cespitosa", job: "remove stems", remark: "the calendar cuts down, the library takes out stems and combs"},
		almanacRow{row: 43, plant: "Chasmanthium", when: "late February to early March", entry: panicum, job: "cut back", kind: "a deciduous warm-season grass"},
		almanacRow{row: 43, plant: "Eragrostis", when: "late February to early March", entry: "grasses/sporobolus-heterolepis", job: "cut back", kind: "a deciduous warm-season grass, near kin"},
		almanacRow{row: 43, plant: "Imperata", when: "late February to early March", entry: "grasses/schizachyrium-scoparium", job: "cut back", kind: "a deciduous warm-season grass, near kin"},
	)

	from("Iowa", "Iowa State University Extension, 24 October 2014 and 14 November 2015", iowa(), nil,
		almanacRow{row: 47, plant: "ornamental grasses", when: "April", entry: miscanthus, job: "cut back"},
		almanacRow{row: 47, plant: "ornamental grasses", when: "April", entry: calamagrostis, job: "cut back"},
	)
	from("Iowa", "Iowa State University Extension, by tricountytimes", iowa(), nil,
		almanacRow{row: 48, plant: "peony", when: "late October to early November", entry: "perennials/paeonia-lactiflora", job: "cut back"},
	)
	from("Iowa", "Iowa State University Extension", iowa(), nil,
		almanacRow{row: 49, plant: "most perennials, after hard freeze", when: "November", entry: "perennials/persicaria-amplexicaulis", job: "cut back", kind: "a perennial that frost fells"},
		almanacRow{row: 49, plant: "daylily, hosta", when: "November", remark: "neither plant, and the row above is of their kind"},
	)
	from("Atlanta", "a Georgia gardener's calendar, greenshooz.com 2012 and 2016", atlanta(), nil,
		almanacRow{row: 55, plant: "pampas grass", when: "February", entry: cortaderia, job: "remove stems", remark: "the calendar cuts down, the library takes out stems and combs"},
		almanacRow{row: 55, plant: "maiden grass", when: "February", entry: miscanthus, job: "cut back"},
		almanacRow{row: 55, plant: "liriope, mown", when: "February", remark: "no perennial that is mown"},
		almanacRow{row: 55, plant: "butterfly bush", when: "February", entry: buddleja, job: "prune"},
	)
	// No figures of the Lower South itself are at hand; Atlanta lies at its edge.
	from("Lower South, USA", "National Gardening Association, February 2009", atlanta(), nil,
		almanacRow{row: 56, plant: "clump grasses", when: "February", entry: panicum, job: "cut back"},
		almanacRow{row: 56, plant: "clump grasses", when: "February", entry: calamagrostis, job: "cut back"},
	)
	from("Maryland", "University of Maryland, ask.extension.org 159612", maryland(), nil,
		almanacRow{row: 58, plant: "butterfly bush", when: "March", entry: buddleja, job: "prune"},
		almanacRow{row: 58, plant: "rose of Sharon", when: "March", entry: paniculata, job: "prune", kind: "flowers on this year's wood"},
	)
	from("South Carolina", "Clemson, greensc.org", southCarolina(), nil,
		almanacRow{row: 60, plant: "Miscanthus", when: "March", entry: miscanthus, job: "cut back", remark: "published: when wholly brown, or early spring; the later is taken"},
	)
	from("Australia, temperate", "Gardening Australia, December 2018", australia(), nil,
		almanacRow{row: 64, plant: "deciduous grasses", when: "August", entry: miscanthus, job: "cut back"},
		almanacRow{row: 64, plant: "deciduous grasses", when: "August", entry: calamagrostis, job: "cut back"},
	)
	from("New Zealand", "totallookdesign.co.nz", newZealand(), nil,
		almanacRow{row: 66, plant: "hydrangea", when: "July", entry: "shrubs/hydrangea-macrophylla", job: "deadhead"},
		almanacRow{row: 66, plant: "rose", when: "July", entry: rose, job: "prune"},
		almanacRow{row: 66, plant: "hibiscus", when: "September", remark: "no tender shrub"},
		almanacRow{row: 66, plant: "lavender", when: "April", entry: "shrubs/lavandula-angustifolia", job: "shear"},
		almanacRow{row: 66, plant: "hebe", when: "April", remark: "no evergreen shrub of summer flowers"},
		almanacRow{row: 66, plant: "choisya", when: "April", entry: choisya, job: "prune"},
		almanacRow{row: 66, plant: "coprosma", when: "April", remark: "no evergreen shrub grown for its leaf alone"},
	)
	from("Waikato and Auckland", "sculptgardens.co.nz", newZealand(), nil,
		almanacRow{row: 67, plant: "roses", when: "August", entry: rose, job: "prune"},
	)
	from("Western Cape", "stodels.com, July 2018", westernCape(), nil,
		almanacRow{row: 68, plant: "hybrid, tea and miniature roses", when: "15 July to 7 August", entry: rose, job: "prune", kind: "a shrub rose"},
	)
	return all
}

// almanacNumbers are the row numbers that STANDARDS 9 prints.
func almanacNumbers() []int {
	return []int{
		1, 3, 5, 7, 9, 11, 13, 15, 17, 18, 20, 22, 24, 26, 28, 30, 32, 34, // Virginia
		35, 37, 38, 39, 40, 42, 43, 47, 48, 49, 55, 56, 58, 60, 64, 66, 67, 68,
	}
}

// TestPublishedCalendars lays the windows of the shipped library beside
// published work calendars from four continents, and writes the comparison to
// testdata/calendars/table.md. Windows are those of rules as written, without
// the adjustments for beds, in 2027.
//
// It fails where a window that rests on published climate lies further from its
// calendar than calendars lie from each other.
func TestPublishedCalendars(t *testing.T) {
	library := wholeShelf(t)
	misses := knownMisses()
	stillMissed := map[missKey]bool{}
	var table strings.Builder
	var overlaps, gaps, missed, lacking, remembered int

	line := func(r almanacRow, plant, published, computed, verdict, climate string, remarks ...string) {
		remarks = slices.DeleteFunc(remarks, func(s string) bool { return s == "" })
		fmt.Fprintf(&table, "| %d | %s | %s | %s | %s | %s | %s | %s |\n", r.row, r.place, plant, published, computed, verdict, climate,
			cmp.Or(strings.Join(remarks, "; "), "–"))
	}
	table.WriteString("| row | place | plant | published | computed for 2027 | verdict | climate used | remark |\n|---|---|---|---|---|---|---|---|\n")
	for _, r := range almanac() {
		published := cmp.Or(r.when, "never cut down")
		if r.entry == "" {
			lacking++
			line(r, r.plant, published, "–", "no entry", "–", "the library has "+r.remark)
			continue
		}
		e := entryOfFile(t, library, r.entry)
		plant := r.plant
		if r.kind != "" {
			plant += fmt.Sprintf(", by *%s* (%s)", e.Name.Value.Plain(), r.kind)
		} else if !strings.EqualFold(plant, e.Name.Value.Plain()) {
			plant += fmt.Sprintf(": *%s*", e.Name.Value.Plain())
		}
		if r.when == "" {
			verdict := "agrees"
			if job := cutsDown(library, e); job != "" {
				verdict = "differs"
				t.Errorf("row %d: %s has the rule %q, and is never cut down (%s)", r.row, r.entry, job, r.source)
			}
			overlaps++
			line(r, plant, published, "combed and groomed", verdict, "none needed", r.remark)
			continue
		}

		rule := oneRule(t, e, r.job)
		key := missKey{r.row, r.entry}
		for _, w := range r.at {
			climate, rest := w.name, w.rest
			if !slices.ContainsFunc(site.Cues(), rule.When.Value.Uses) {
				climate, rest = "none needed", onPublished
			}
			computed, verdict, days := beside(t, e, rule, r.when, w)
			remark := r.remark
			for _, other := range r.also {
				_, verdict, _ := beside(t, e, rule, r.when, other)
				remark = strings.TrimPrefix(remark+"; "+other.name+": "+verdict, "; ")
			}
			var excuse string
			switch {
			case rest != onPublished:
				remembered++
			case days < -publishedSpread:
				missed++
				stillMissed[key] = true
				why, known := misses[key]
				if !known {
					t.Errorf("row %d at %s: %s is due %s, published is %s (%s): %s", r.row, w.name, r.entry, computed, r.when, r.source, verdict)
				}
				excuse = "known miss: " + why
			case days > 0:
				overlaps++
			default:
				gaps++
			}
			line(r, plant, published, r.job+", "+computed, verdict, climate, excuse, remark)
			if climate == "none needed" {
				break // it is the same everywhere in the hemisphere
			}
		}
	}
	for key := range misses {
		if !stillMissed[key] {
			t.Errorf("row %d, %s: is a known miss, and no longer misses", key.row, key.entry)
		}
	}
	for _, n := range almanacNumbers() {
		if !slices.ContainsFunc(almanac(), func(r almanacRow) bool { return r.row == n }) {
			t.Errorf("row %d of the published calendars is left out", n)
		}
	}
	for i, r := range almanac() {
		if i == 0 || almanac()[i-1].source != r.source {
			fmt.Fprintf(&table, "\n- From row %d, %s: %s", r.row, r.place, r.source)
		}
	}
	fmt.Fprintf(&table, "\n\n%d lines for the %d rows: %d overlap or agree, %d lie within %d days, %d are known misses, "+
		"%d have no entry in the library, %d rest on climate from memory or on latitude alone and are not judged.\n",
		overlaps+gaps+missed+lacking+remembered, len(almanacNumbers()), overlaps, gaps, publishedSpread, missed, lacking, remembered)

	t.Log("\n" + table.String())
	golden := filepath.Join("..", "testdata", "calendars", "table.md")
	if *update {
		if err := os.WriteFile(golden, []byte(table.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if got := table.String(); got != string(want) {
		t.Errorf("the table differs from %s (go test ./generator -run PublishedCalendars -update writes it):\n%s", golden, firstDifference(got, string(want)))
	}
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

// oneRule gives an entry's rule of a job.
func oneRule(t *testing.T, e *entries.Entry, job string) entries.Rule {
	t.Helper()
	var found []entries.Rule
	for _, r := range e.Rules {
		if r.Job.Value == job {
			found = append(found, r)
		}
	}
	if len(found) != 1 {
		t.Fatalf("%s has %d rules %q, not one", e.File.Path, len(found), job)
	}
	return found[0]
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

// beside computes a rule's window in 2027 and tells, also in words, by how many
// days it overlaps the published one. A gap is negative: by so many days one
// would have to move to share a day with the other.
func beside(t *testing.T, e *entries.Entry, r entries.Rule, published string, w weather) (computed, verdict string, days int) {
	t.Helper()
	const year = 2027
	months, err := site.ParseWindow(published)
	if err != nil {
		t.Fatalf("%q: %v", published, err)
	}
	c := w.Climate()
	var want []site.Interval
	for y := year - 1; y <= year+1; y++ {
		want = append(want, site.Context{Climate: c, WrittenFor: w.Hemisphere()}.Resolve(months, y)...)
	}
	got := site.Context{Climate: c, WrittenFor: e.WrittenFor, Flowering: e.Flowers.Value}.Resolve(r.When.Value, year)
	if len(got) == 0 {
		t.Fatalf("%s: %q has no days in %d", e.File.Path, r.When.Value, year)
	}
	var all []string
	days = -366
	for _, g := range got {
		all = append(all, dayAndMonth(g.From)+" to "+dayAndMonth(g.To))
		for _, p := range want {
			shared := int(min(g.To, p.To)-max(g.From, p.From)) + 1
			if shared <= 0 {
				shared-- // next to each other is a gap of one day
			}
			if shared > days {
				days, verdict = shared, fmt.Sprintf("overlap %d of %d d", shared, g.To-g.From+1)
			}
		}
	}
	if days < 0 {
		verdict = fmt.Sprintf("gap %d d", -days)
	}
	return strings.Join(all, " and "), verdict, days
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
