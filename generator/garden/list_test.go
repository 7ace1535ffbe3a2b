package garden

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"sheaf/generator/names"
	"sheaf/generator/source"
	"sheaf/generator/source/sourcetest"
	"sheaf/generator/words/wordstest"
)

// TestTwelvePractices reads one planting list from twelve files, each as
// another practice would keep it, CSV and XLSX. What each is told stands in
// messages.txt. A workbook is made from the description beside it, see [made];
// -update makes all anew.
func TestTwelvePractices(t *testing.T) {
	const folder = "testdata/lists/"
	descriptions, _ := filepath.Glob(folder + "[0-9]*.txt")
	for _, name := range descriptions {
		if text, err := os.ReadFile(name); err != nil {
			t.Fatal(err)
		} else if *update {
			write(t, strings.TrimSuffix(name, "txt")+"xlsx", string(made(t, string(text))))
		}
	}
	text, err := os.ReadFile(folder + "want.txt")
	if err != nil {
		t.Fatal(err)
	}
	var want strings.Builder
	for line := range strings.Lines(string(text)) {
		plant, rest, _ := strings.Cut(line, "\t")
		want.WriteString(key(t, plant) + "\t" + rest)
	}
	lists, _ := filepath.Glob(folder + "[0-9]*.[cx][sl]*")
	var told strings.Builder
	for _, name := range lists {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		rs, ds := ReadList(source.NewFile(filepath.Base(name), text), nil, source.At[string]{}, "", nil)
		var got strings.Builder
		for _, r := range rs {
			fmt.Fprintf(&got, "%s\t%v\t%s\t%s\n", key(t, r.Plant), r.Quantity, strings.ToLower(r.Bed.Value), day(r))
		}
		if got.String() != want.String() {
			t.Errorf("%s: read\n%s\nwant\n%s", name, got.String(), want.String())
		}
		fmt.Fprintf(&told, "%s\n%s\n", filepath.Base(name), sourcetest.Printed(ds))
	}
	if len(lists) != 12 {
		t.Errorf("%d lists, want 12", len(lists))
	}
	golden(t, folder+"messages.txt", told.String())
}

// key is what two writings of one name have in common.
func key(t testing.TB, plant string) string {
	t.Helper()
	n, _, err := names.Parse(plant)
	if err != nil {
		t.Errorf("%q: %v", plant, err)
	}
	return n.Key()
}

func write(t testing.TB, name, text string) {
	t.Helper()
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// golden holds a text to a file.
func golden(t testing.TB, name, got string) {
	t.Helper()
	if *update {
		write(t, name, got)
	}
	if want, err := os.ReadFile(name); err != nil || string(want) != got {
		t.Errorf("%s: %v, got\n%s\nwant\n%s", name, err, got, want)
	}
}

// one reads a list of one plant with one other cell.
func one(heading, in string) ([]Row, source.Diagnostics) {
	text := heading + "\tplant\n" + in + "\tCarex elata\n"
	return ReadList(source.NewFile("plants.csv", []byte(text)), nil, source.At[string]{}, "", nil)
}

func TestQuantities(t *testing.T) {
	for in, want := range map[string]float64{
		"": 1, "7": 7, "7 no.": 7, "7no": 7, "7 nos.": 7, "7 Nr": 7, "x 7": 7, "x7": 7, "× 7": 7, "7x": 7, "X 7": 7, "14 m": 14, "7 plants": 7, "7 pcs": 7, "7 ea.": 7, "qty 7": 7,
		"2.5": 2.5, "2,5": 2.5, "0": 0, "1,000": 1000, "1,500 no.": 1500, "1 500": 1500, "12.600000000000001": 12.6, "1.125": 1.13, "0,500": 0.5,
	} {
		rs, ds := one("quantity", in)
		if len(ds) > 0 || len(rs) != 1 || rs[0].Quantity != want {
			t.Errorf("%q: %s, want %v\n%s", in, rows(rs), want, sourcetest.Printed(ds))
		}
	}
	for in, want := range map[string]string{
		"5–7": "7 list/range", "5-7 no.": "7 list/range", "7 to 5": "7 list/range", "c. 5–7": "7 list/range",
		"c. 10": "10 list/about", "c10": "10 list/about", "about 10 no.": "10 list/about", "approx. 1,500": "1500 list/about", "~10": "10 list/about", "10+": "10 list/about", "10 (approx.)": "10 list/about", "10?": "10 list/about",
		"several": "1 list/quantity", "5/m²": "1 list/quantity", "5 per m²": "1 list/quantity", "tbc": "1 list/quantity", "#REF!": "1 list/quantity", "-": "1 list/quantity", "-5": "1 list/quantity", "1,2,3": "1 list/quantity", "1e9": "1 list/quantity", "1000000": "none",
	} {
		rs, ds := one("quantity", in)
		got := "none"
		if len(rs) == 1 && len(ds) == 1 && !ds.HasErrors() {
			got = fmt.Sprint(rs[0].Quantity, " ", ds[0].Code)
		}
		if got != want {
			t.Errorf("%q: %s, want %s\n%s", in, got, want, sourcetest.Printed(ds))
		}
	}
	// Where decimals have a comma, thousands have a point.
	rs, ds := ReadList(source.NewFile("plants.csv", []byte("quantity;plant\n1.500;Carex elata\n2,5;Carex elata\n")), nil, source.At[string]{}, "", nil)
	if got := rows(rs); len(ds) > 0 || got != "2: Carex elata ×1500\n3: Carex elata ×2.5\n" {
		t.Errorf("%s\n%s", got, sourcetest.Printed(ds))
	}
}

// A list may have its quantities before or behind the names.
func TestCountedNames(t *testing.T) {
	for in, want := range map[string]string{
		"7 no. Carex elata": "2: Carex elata ×7\n", "7 Carex elata": "2: Carex elata ×7\n", "7 x Carex elata": "2: Carex elata ×7\n", "7x Carex elata": "2: Carex elata ×7\n",
		"Carex elata x 7": "2: Carex elata ×7\n", "Carex elata 7 no.": "2: Carex elata ×7\n",
		"Carex elata": "2: Carex elata ×1\n", "Salvia x sylvestris": "2: Salvia x sylvestris ×1\n", "Malus 'Evereste 4'": "2: Malus 'Evereste 4' ×1\n", "x Fatshedera lizei": "2: x Fatshedera lizei ×1\n",
	} {
		rs, ds := ReadList(source.NewFile("plants.csv", []byte("plant\n"+in+"\n")), nil, source.At[string]{}, "", nil)
		if got := rows(rs); got != want || len(ds) > 0 {
			t.Errorf("%q: %swant %s%s", in, got, want, sourcetest.Printed(ds))
		}
		if name := rs[0].Plant; rs[0].Span.Text() != name {
			t.Errorf("%q stands at %q", name, rs[0].Span.Text())
		}
	}
}

func TestDatesOfPlanting(t *testing.T) {
	for in, want := range map[string]string{
		"2026-10-24": "2026-10-24", "24/10/2026": "2026-10-24", "24-10-2026": "2026-10-24", "24.10.26": "2026-10-24", "24 10 2026": "2026-10-24", "10/24/2026": "2026-10-24",
		"4/4/2026": "2026-04-04", "2026/10/24": "2026-10-24", "2026.10.24": "2026-10-24", "2026-10-4": "2026-10-04", "20261024": "2026-10-24",
		"2026-10-24 00:00:00": "2026-10-24", "2026-10-24T08:30:00Z": "2026-10-24",
		"24 October 2026": "2026-10-24", "24 Oct 2026": "2026-10-24", "24-Oct-26": "2026-10-24", "24 OCT 2026": "2026-10-24", "24th October 2026": "2026-10-24", "1st of March, 2027": "2027-03-01",
		"October 24, 2026": "2026-10-24", "Oct. 24th 2026": "2026-10-24", "Sat 24 Oct 2026": "2026-10-24", "Saturday, 24 October 2026": "2026-10-24", "w/c 19 Oct 2026": "2026-10-19", "planted on 24 Oct 2026": "2026-10-24",
		"October 2026": "2026-10-01", "Oct 2026": "2026-10-01", "Sept. 2026": "2026-09-01", "Oct-26": "2026-10-01", "Oct '26": "2026-10-01", "2026 October": "2026-10-01",
		"10/2026": "2026-10-01", "10-2026": "2026-10-01", "2026-10": "2026-10-01", "2026/10": "2026-10-01", "2026": "2026-01-01", "": "",
	} {
		rs, ds := one("planted", in)
		ds = slices.DeleteFunc(ds, func(d source.Diagnostic) bool { return d.Code == "list/date-order" })
		if len(ds) > 0 || len(rs) != 1 || day(rs[0]) != want {
			t.Errorf("%q: %s, want %s\n%s", in, rows(rs), want, sourcetest.Printed(ds))
		}
	}
	for _, in := range []string{"last autumn", "autumn 2026", "31/02/2026", "2026-02-30", "0026-10-04x", "1726", "2026/27", "Oct 26", "4 Oct", "46296", "13/2026", "99/99/9999", "#N/A", "tbc"} {
		rs, ds := one("planted", in)
		if len(ds) != 1 || ds[0].Code != "list/date" || len(rs) != 1 || rs[0].Planted != 0 {
			t.Errorf("%q: %s\n%s", in, rows(rs), sourcetest.Printed(ds))
		}
	}
}

// A list that writes the month first shows it in one of its dates; what cannot
// be told is told.
func TestOrderOfDates(t *testing.T) {
	for _, c := range []struct{ dates, want, found string }{
		{"04/10/2026 24/10/2026", "2026-10-04 2026-10-24", ""},
		{"04/10/2026 10/24/2026", "2026-04-10 2026-10-24", "list/date-order note"},
		{"04/10/2026 04/11/2026", "2026-10-04 2026-11-04", "list/date-order note"},
		{"04/10/2026 10/24/2026 24/10/2026", "2026-10-04 2026-10-24 2026-10-24", "list/date-order warning"},
		{"04/04/2026", "2026-04-04", ""},
	} {
		rs, ds := ReadList(source.NewFile("plants.csv", []byte("planted,plant\n"+strings.ReplaceAll(c.dates, " ", ",Carex\n")+",Carex\n")), nil, source.At[string]{}, "", nil)
		var got []string
		for _, r := range rs {
			got = append(got, day(r))
		}
		found := ""
		for _, d := range ds {
			found += d.Code + " " + d.Severity.String()
		}
		if s := strings.Join(got, " "); s != c.want || found != c.found {
			t.Errorf("%s: %s, %q; want %s, %q", c.dates, s, found, c.want, c.found)
		}
	}
}

// TestRowsThatAreNoPlants parts the rows of plants from those that announce a
// bed or a kind, count, or remark.
func TestRowsThatAreNoPlants(t *testing.T) {
	for _, c := range []struct{ name, in, rows, found string }{
		{"beds in rows of their own", "plant,qty\nBED A,\nCarex elata,7\nBed: Courtyard,\nCarex elata,3\nLong border (cont.),\nStipa gigantea,1\n",
			"3: Carex elata ×7, bed BED A\n5: Carex elata ×3, bed Courtyard\n7: Stipa gigantea ×1, bed Long border\n", ""},
		{"a bed with its area", "ref,plant,qty,area m\nBed A,,,14\n1,Carex elata,7,\n", "3: Carex elata ×7, bed Bed A\n", ""},
		{"a bed in the column of beds", "bed,plant,qty\nCourtyard,,\n,Carex elata,7\nPond,Carex elata,3\n,Stipa gigantea,1\n",
			"3: Carex elata ×7, bed Courtyard\n4: Carex elata ×3, bed Pond\n5: Stipa gigantea ×1, bed Courtyard\n", ""},
		{"a bed above the headings", "Planting plan,\nBed A,\nplant,qty\nCarex elata,7\nBed B,\nplant,qty\nStipa gigantea,1\n",
			"4: Carex elata ×7, bed Bed A\n7: Stipa gigantea ×1, bed Bed B\n", "plants.csv:1:1: note: 1 row of headings skipped [list/skipped]\n"},
		{"an address above the headings", "Location: Tern Cottage,\nplant,qty\nCarex elata,7\n", "3: Carex elata ×7\n", ""},
		{"a quantity without a plant in a bed", "bed,plant,qty\nBed A,,7\n,Carex elata,7\n", "3: Carex elata ×7\n",
			"plants.csv:2:1: warning: this row names no plant and is left out [list/no-plant]\n"},
		{"kinds of plant", "plant,qty\nTREES,\nMalus,1\nOrnamental grasses & ferns:,\nCarex elata,7\nGround cover,\nCarex,1\n", "3: Malus ×1\n5: Carex elata ×7\n7: Carex ×1\n",
			"plants.csv:1:1: note: 3 rows of headings skipped [list/skipped]\n"},
		{"sums", "plant,qty\nBed A,\nCarex elata,7\nStipa gigantea,3\n,10\nBed B,\nCarex elata,5\nBed B total,5\nGRAND TOTAL,15\n,15\n,99\n", "3: Carex elata ×7, bed Bed A\n4: Stipa gigantea ×3, bed Bed A\n7: Carex elata ×5, bed Bed B\n",
			"plants.csv:1:1: note: 4 rows of totals skipped [list/skipped]\nplants.csv:11:1: warning: this row names no plant and is left out [list/no-plant]\n"},
		{"remarks", "plant,qty\nCarex elata,7\nN.B. water well,\nAll of these are to be set out by the designer herself,\n* by others,\n", "2: Carex elata ×7\n",
			"plants.csv:3:1: note: this row is read as a remark, not as a plant [list/remark]\nplants.csv:4:1: note: this row is read as a remark, not as a plant [list/remark]\nplants.csv:5:1: note: this row is read as a remark, not as a plant [list/remark]\n"},
		{"as above", "plant,bed,planted\nCarex elata,Pond,2026\nCarex elata,ditto,as above\nCarex elata,〃,do.\n",
			"2: Carex elata ×1, bed Pond, planted 2026-01-01\n3: Carex elata ×1, bed Pond, planted 2026-01-01\n4: Carex elata ×1, bed Pond, planted 2026-01-01\n", ""},
		{"genus, species, cultivar", "Genus,Species,Variety,Qty\nCarex,elata,Aurea,7\nSalvia,Salvia nemorosa,,1\n", "2: Carex elata 'Aurea' ×7\n3: Salvia nemorosa ×1\n", ""},
		{"headings with an aside", "Plant (botanical),Qty [no.],Size (l)\nCarex elata,7,2\n", "2: Carex elata ×7, size 2 l\n", ""},
		{"sep= above", "sep=;\nplant;qty\nCarex elata;7\n", "3: Carex elata ×7\n", ""},
		{"UTF-16, the low byte first", utf16("plant\tqty\r\nCarex × elata\t7\r\n", 0, "\xff\xfe"), "2: Carex × elata ×7\n", ""},
		{"UTF-16, the high byte first", utf16("plant\tqty\r\nCarex × elata\t7\r\n", 1, "\xfe\xff"), "2: Carex × elata ×7\n", ""},
		{"UTF-16 without a mark", utf16("plant\tqty\r\nCarex × elata\t7\r\n", 0, ""), "2: Carex × elata ×7\n", ""},
		{"UTF-16 without a mark, the high byte first", utf16("plant\tqty\r\nCarex × elata\t7\r\n", 1, ""), "2: Carex × elata ×7\n", ""},
		{"an area is no bed", "plant,qty\nBed A,\nArea: 14 m²,\nCarex elata,7\n", "4: Carex elata ×7, bed Bed A\n", "plants.csv:3:1: note: this row is read as a remark, not as a plant [list/remark]\n"},
		{"beds named twice are not carried", "bed,plant\nPond,Carex\nPond,Carex\n,Carex\nGravel,Carex\n,Carex\n", "2: Carex ×1, bed Pond\n3: Carex ×1, bed Pond\n4: Carex ×1\n5: Carex ×1, bed Gravel\n6: Carex ×1\n", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			rs, ds := ReadList(source.NewFile("plants.csv", []byte(c.in)), nil, source.At[string]{}, "", nil)
			if got := rows(rs); got != c.rows {
				t.Errorf("rows\n%s\nwant\n%s", got, c.rows)
			}
			if got := sourcetest.Printed(ds); got != c.found {
				t.Errorf("found\n%s\nwant\n%s", got, c.found)
			}
		})
	}
}

// utf16 writes text below U+0100 with the given byte of each letter filled.
func utf16(text string, at int, mark string) string {
	out := []byte(mark)
	for _, r := range text {
		pair := [2]byte{}
		pair[at] = byte(r)
		out = append(out, pair[:]...)
	}
	return string(out)
}

// TestDatesOfACountry: dates are read as people of the garden's country write them,
// in any of the languages there are words for. What cannot be read is told with an
// example that can.
func TestDatesOfACountry(t *testing.T) {
	for _, c := range []struct{ country, cell, want string }{
		{"DE", "5. Mai 2026", "2026-05-05"}, {"DE", "24. März 2026", "2026-03-24"}, {"DE", "1. Dez. 2026", "2026-12-01"}, {"AT", "7. Jänner 2027", "2027-01-07"},
		{"DE", "Oktober 2026", "2026-10-01"}, {"DE", "Okt. 2026", "2026-10-01"}, {"DE", "04.10.2026", "2026-10-04"}, {"DE", "4.10.26", "2026-10-04"}, {"", "5. Mai 2026", "2026-05-05"}, {"NL", "12 mei 2026", "2026-05-12"}, {"NL", "maart 2026", "2026-03-01"}, {"BE", "1 août 2026", "2026-08-01"}, {"FR", "12 févr. 2026", "2026-02-12"},
		{"US", "10/25/2026", "2026-10-25"}, {"US", "4/10/2026", "2026-04-10"}, {"US", "4/10/26", "2026-04-10"}, {"US", "October 25, 2026", "2026-10-25"}, {"US", "25 Oct 2026", "2026-10-25"},
		{"GB", "4/10/2026", "2026-10-04"}, {"", "4/10/2026", "2026-10-04"},
		{"DE", "5. Mai", `"5. Mai" has no year: write the year too, for example 5. Mai 2026`},
		{"US", "10/25", `"10/25" has no year: write the year too, for example 10/25/2026, or 10/2026 for a month`},
		{"US", "5/6", `"5/6" has no year: write the year too, for example 5/6/2026, or 5/2026 for a month`},
		{"GB", "5/6", `"5/6" has no year: write the year too, for example 5 June 2026, or 5/2026 for a month`},
		{"GB", "May 5th", `"May 5th" has no year: write the year too, for example 5 May 2026`},
		{"US", "29 February", `"29 February" has no year: write the year too, for example 2/29/2026`},
		{"DE", "bald", `"bald" is not a date of planting: write it as 2026-10-04, as 4. Oktober 2026, as October 2026 or as 2026`},
		{"US", "10/45", `"10/45" is not a date of planting: write it as 2026-10-04, as 10/4/2026, as October 2026 or as 2026`},
	} {
		rs, ds := ReadList(source.NewFile("plants.csv", []byte("plant;planted\nCarex elata;"+c.cell+"\n")), nil, source.At[string]{}, c.country, nil)
		got := ""
		for _, d := range ds {
			if d.Severity != source.Note {
				got += d.Message + ": " + strings.Join(d.Hints, "; ")
			}
		}
		if got == "" && len(rs) == 1 {
			got = day(rs[0])
		}
		if got != c.want {
			t.Errorf("%s %s: %s, want %s", c.country, c.cell, got, c.want)
		}
	}
}

// TestDatesOfGardens: the same in garden.yaml: the day of the handover, the frosts,
// and the plants that stand there.
func TestDatesOfGardens(t *testing.T) {
	for _, c := range []struct{ country, date, frost, want string }{
		{"DE", "20. März 2027", "5. Mai", "2027-03-20 5 May"}, {"DE", "20.3.2027", "5.5.", "2027-03-20 5 May"}, {"", "2027-03-20", "5. Mai", "2027-03-20 5 May"},
		{"US", "3/20/2027", "10/25", "2027-03-20 25 October"}, {"US", "March 20, 2027", "October 25", "2027-03-20 25 October"}, {"US", "3/4/2027", "3/4", "2027-03-04 4 March"},
		{"GB", "3/4/2027", "3/4", "2027-04-03 3 April"}, {"GB", "20th March 2027", "18 April", "2027-03-20 18 April"},
		{"DE", "20. März", "5. Mai", `"20. März" has no year: write the year too, for example 20. März 2027`},
		{"", "3/4/2027", "18 April", `"3/4/2027" may be either of two days: write 2027-03-04 or 2027-04-03`},
		{"CA", "2027-03-20", "3/4", `of "3/4" nobody can tell which is the month: write the month as a word, for example 18 April`},
		{"US", "spring", "18 April", `"spring" is not a date: expected a day, a month and a year: write it as 2027-03-20 or as 3/20/2027`},
		{"DE", "2027-03-20", "bald", `expected a day and a month, as in "18 April", not "bald": write it as 18. April`},
		{"US", "2027-03-20", "31/12/1", `: write it as 4/18`},
	} {
		g, ds := Parse(source.NewFile("garden.yaml", []byte(fmt.Sprintf("garden: G\ndate: %s\nsite: {country: %q, latitude: 50, frost: {last: %q}}\n", c.date, c.country, c.frost))))
		got := ""
		for _, d := range ds {
			got += d.Message + ": " + strings.Join(d.Hints, "; ")
		}
		if got == "" && g.Place.LastFrost != nil {
			got = fmt.Sprintf("%s %d %s", g.Date, g.Place.LastFrost.Day, g.Place.LastFrost.Month)
		}
		if !strings.HasSuffix(got, c.want) {
			t.Errorf("%s, %s, %s: %s, want %s", c.country, c.date, c.frost, got, c.want)
		}
	}
}

// TestGermanMonths: the names of months are those of the words that ship.
func TestGermanMonths(t *testing.T) {
	w := wordstest.Of(t, "de")
	for i, names := range germanMonths() {
		if said := w.Month(time.Month(i + 1)); names[0] != said {
			t.Errorf("month %d is %s, and the words have %s", i+1, names[0], said)
		}
	}
}
