package garden

import (
	"flag"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"sheaf/generator/entries"
	"sheaf/generator/fields"
	"sheaf/generator/measure"
	"sheaf/generator/source"
	"sheaf/generator/source/sourcetest"
)

var update = flag.Bool("update", false, "write the want files anew")

// unpack reads an archive.
func unpack(t testing.TB, name string) *txtar.Archive {
	t.Helper()
	a, err := txtar.ParseFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// library is the small library of testdata/base: a dozen plants, two groups.
func library(t testing.TB, own ...txtar.File) *entries.Library {
	t.Helper()
	var s entries.Shelf
	var ds source.Diagnostics
	parts := unpack(t, "testdata/base/library.txtar").Files
	for _, p := range append(parts, own...) {
		f := source.NewFile(p.Name, p.Data)
		var more source.Diagnostics
		switch path.Dir(p.Name) {
		case "plants":
			var e *entries.Entry
			e, more = entries.ParseEntry(f)
			s.Entries = append(s.Entries, e)
		case "groups":
			var g *entries.Group
			g, more = entries.ParseGroup(f)
			s.Groups = append(s.Groups, g)
		case "jobs":
			var j *entries.Job
			j, more = entries.ParseJob(f)
			s.Jobs = append(s.Jobs, j)
		}
		ds = append(ds, more...)
	}
	l, more := entries.Assemble([]entries.Shelf{s})
	if ds = append(ds, more...); len(ds) > 0 {
		t.Fatalf("the library of the tests has faults:\n%s", sourcetest.Printed(ds))
	}
	return l
}

// read takes a case's garden through all of the package: garden file, plant
// list, matching. A workbook is described as [made] reads it.
func read(t testing.TB, parts []txtar.File) (*Garden, []Planting, source.Diagnostics) {
	get := func(name string) *source.File {
		for _, p := range parts {
			if p.Name == name && strings.HasSuffix(name, ".xlsx") {
				return source.NewFile(name, made(t, string(p.Data)))
			}
			if p.Name == name {
				return source.NewFile(name, p.Data)
			}
		}
		return nil
	}
	g, ds := Parse(get("garden.yaml"))
	if f := get(g.List.Value); f != nil {
		rows, more := ReadList(f, g.Columns, g.Sheet, g.Country, Knows(library(t, parts...)))
		g.Rows = append(g.Rows, rows...)
		ds = append(ds, more...)
	}
	l := library(t, parts...)
	find := func() ([]Planting, source.Diagnostics) { return Find(g, l, false) }
	if g.Kind == Guide {
		find = func() ([]Planting, source.Diagnostics) {
			return Choose(g, l, func(e *entries.Entry) bool { return true }, false)
		}
	}
	ps, more := find()
	ds = append(ds, more...)
	return g, ps, append(ds, g.Apply(ps, l)...)
}

// TestDiagnostics holds every archive's garden to the messages in its want
// file.
func TestDiagnostics(t *testing.T) {
	cases, err := filepath.Glob("testdata/*.txtar")
	if err != nil || len(cases) == 0 {
		t.Fatalf("no cases: %v", err)
	}
	for _, name := range cases {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			a := unpack(t, name)
			want := ""
			if i := slices.IndexFunc(a.Files, func(f txtar.File) bool { return f.Name == "want" }); i >= 0 {
				want = string(a.Files[i].Data)
				a.Files = slices.Delete(a.Files, i, i+1)
			}
			_, _, ds := read(t, a.Files)
			got := sourcetest.Printed(ds)
			switch {
			case got == want:
			case *update:
				a.Files = append(a.Files, txtar.File{Name: "want", Data: []byte(got)})
				if err := os.WriteFile(name, txtar.Format(a), 0o644); err != nil {
					t.Fatal(err)
				}
			default:
				t.Errorf("got\n%s\nwant\n%s", got, want)
			}
		})
	}
}

var (
	codeForms = []*regexp.Regexp{
		regexp.MustCompile(`\.(?:Fail|Warn)\((?:[^"\n]|n\.Key\("[a-z]+"\)|m\.Key\(key\))*?, "([a-z-]+)",`),
		regexp.MustCompile(`"((?:list|guide)/[a-z-]+)"`),
	}
	codePrinted = regexp.MustCompile(`(?m)\[([a-z]+)/([a-z-]+)\]$`)
)

// TestEveryCodeHasACase finds the codes in the source, so that a new one
// without a case fails.
func TestEveryCodeHasACase(t *testing.T) {
	shown := map[string]bool{"list/too-large": true, "list/too-long": true, "list/encoding": true, "list/workbook": true, // TestListLimits, TestReadList, TestNoWorkbook
		"list/hazards": true, "list/flowering": true} // TestCareOfTheList
	cases, _ := filepath.Glob("testdata/*.txtar")
	for _, name := range cases {
		parts := unpack(t, name).Files
		for _, m := range codePrinted.FindAllStringSubmatch(string(parts[len(parts)-1].Data), -1) {
			shown[m[2]], shown[m[1]+"/"+m[2]] = true, true
		}
	}
	found := 0
	files, _ := filepath.Glob("*.go")
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, form := range codeForms {
			for _, m := range form.FindAllSubmatch(text, -1) {
				found++
				if code := string(m[1]); !shown[code] {
					t.Errorf("%s: no case in testdata shows %q", name, code)
				}
			}
		}
	}
	if found < 30 {
		t.Errorf("only %d codes were found in the source: do the patterns still fit?", found)
	}
}

// TestParse reads a garden in which every key is written, the example of
// DESIGN 6.
func TestParse(t *testing.T) {
	parts := unpack(t, "testdata/base/garden.txtar").Files
	g, ps, ds := read(t, parts)
	if len(ds) > 0 {
		t.Fatalf("unexpected\n%s", sourcetest.Printed(ds))
	}
	bed := g.BedNamed("COURTYARD")
	if bed == nil || len(ps) != 1 || g.ColdestNight == nil || g.Place.Normals == nil || g.Place.LastFrost == nil {
		t.Fatalf("incomplete: %+v", g)
	}
	for _, c := range []struct{ what, got, want string }{
		{"garden", g.Name, "Tern Cottage"},
		{"kind", g.Kind, "handover"},
		{"for", g.For, "the owners"},
		{"date", g.Date.String(), "2027-03-20"},
		{"years", fmt.Sprint(g.Years), "2"},
		{"hemisphere", g.Place.Hemisphere().String(), "north"},
		{"basis", g.Place.Basis().String(), "normals"},
		{"frost", g.Place.LastFrost.String() + ", " + g.Place.FirstFrost.String(), "18 April, 2 November"},
		{"minimum of July", fmt.Sprint(g.Place.Normals.Min[6]), "11"},
		{"coldest night", fmt.Sprint(*g.ColdestNight), fmt.Sprint(measure.Celsius(-7))},
		{"elevation", g.Elevation.Print(measure.Metric), measure.One(1200).Print(measure.Metric)},
		{"climate's source", g.ClimateSource, "invented"},
		{"bed", strings.Join([]string{bed.Light, bed.Soil, bed.Fertility, bed.Exposure, fmt.Sprint(bed.Area, " m²")}, ", "), "part shade, moist, average, sheltered, " + fmt.Sprint(measure.Area(14), " m²")},
		{"libraries", fmt.Sprint(len(g.Libraries)), "2"},
		{"paper", g.Paper, "A4"},
		{"contact", g.Contacts[0].Name, "The practice"},
		{"row", row(g.Rows[0]), "25: Hakonechloa macra ×7, bed courtyard, planted 2027-03-01, pot, size 2 litre, notes by the door, care reed"},
		{"row's bed", ps[0].Bed.Name, "Courtyard"},
		{"match", string(ps[0].How), "exact"},
	} {
		if c.got != c.want {
			t.Errorf("%s: got %q, want %q", c.what, c.got, c.want)
		}
	}
}

// A garden may give its winter as a rating or zone, whose lower end counts
// (RHS hardiness ratings: H4 is −10 to −5 °C; USDA zone 8b is 15 to 20 °F),
// and its normals in °F.
func TestOtherScales(t *testing.T) {
	for in, want := range map[string]float64{"-7 °C": -7, "19 °F": -7.2222, "H4": -10, "Z8b": -9.4444, "USDA 8b": -9.4444} {
		c, err := coldestNight(in)
		if err != nil || float64(c)-want > 0.001 || want-float64(c) > 0.001 {
			t.Errorf("%s: %v, %v; want %v", in, c, err, want)
		}
	}
	g, ds := Parse(source.NewFile("garden.yaml", []byte("garden: x\nsite:\n  latitude: 33.6\n  normals:\n    unit: °F\n"+
		"    min: [32, 32, 41, 50, 59, 68, 68, 68, 59, 50, 41, 32]\n    max: [50, 50, 59, 68, 77, 86, 86, 86, 77, 68, 59, 50]\n")))
	if len(ds) > 0 || g.Place.Normals == nil || g.Place.Normals.Min[2] != 5 || g.Place.Normals.Max[5] != 30 {
		t.Errorf("normals %+v\n%s", g.Place.Normals, sourcetest.Printed(ds))
	}
}

// row prints a row with what it holds beside the plant.
func row(r Row) string {
	s := fmt.Sprintf("%d: %s ×%v", r.Line, r.Plant, r.Quantity)
	for _, f := range []struct{ what, text string }{{"bed", r.Bed.Value}, {"planted", day(r)}, {"pot", ""}, {"size", r.Size}, {"notes", r.Notes}, {"care", r.Care.Value}} {
		switch {
		case f.what == "pot" && r.Pot:
			s += ", pot"
		case f.text != "":
			s += ", " + f.what + " " + f.text
		}
	}
	return s
}

func day(r Row) string {
	if r.Planted == 0 {
		return ""
	}
	return r.Planted.String()
}

func rows(rs []Row) string {
	var b strings.Builder
	for _, r := range rs {
		fmt.Fprintln(&b, row(r))
	}
	return b.String()
}

// TestReadList reads lists as designers keep them (DESIGN 6).
func TestReadList(t *testing.T) {
	const plain = "2: Carex elata ×7, bed Pond\n3: Stipa gigantea ×3, bed Gravel\n"
	for _, c := range []struct{ name, in, rows, found string }{
		{"comma", "plant,quantity,bed\nCarex elata,7,Pond\nStipa gigantea,3,Gravel\n", plain, ""},
		{"semicolon", "plant;quantity;bed\nCarex elata;7;Pond\nStipa gigantea;3;Gravel\n", plain, ""},
		{"tab", "plant\tquantity\tbed\nCarex elata\t7\tPond\nStipa gigantea\t3\tGravel\n", plain, ""},
		{"semicolon, with commas in the text", "plant;quantity;notes\nCarex elata;7;wet, sun, front, by the pond, low\nStipa gigantea;3;dry, sun, back\n",
			"2: Carex elata ×7, notes wet, sun, front, by the pond, low\n3: Stipa gigantea ×3, notes dry, sun, back\n", ""},
		{"byte order mark", "\ufeffplant,quantity,bed\nCarex elata,7,Pond\nStipa gigantea,3,Gravel\n", plain, ""},
		{"CRLF", "plant,quantity,bed\r\nCarex elata,7,Pond\r\nStipa gigantea,3,Gravel\r\n", plain, ""},
		{"no line end at the end", "plant,quantity,bed\nCarex elata,7,Pond\nStipa gigantea,3,Gravel", plain, ""},
		{"Windows-1252", "plant,notes\nCalamagrostis \xd7 acutiflora \x91Overdam\x92,caf\xe9\n", "2: Calamagrostis × acutiflora ‘Overdam’ ×1, notes café\n",
			"plants.csv:1:1: note: the list is not UTF-8 and was read as Windows-1252 [list/encoding]\n"},
		{"UTF-8", "plant,notes\nCalamagrostis × acutiflora ‘Overdam’,café\n", "2: Calamagrostis × acutiflora ‘Overdam’ ×1, notes café\n", ""},
		{"quoted fields", "plant,quantity,notes\n\"Geranium \"\"Rozanne\"\"\",7,\"front,\nin groups\"\n\"Carex elata\",3,back\n",
			"2: Geranium \"Rozanne\" ×7, notes front, in groups\n4: Carex elata ×3, notes back\n", ""},
		{"inch marks", "plant,size,notes\nCarex elata,4\" pot,\nStipa gigantea,3 litre,12\" apart\n",
			"2: Carex elata ×1, size 4\" pot\n3: Stipa gigantea ×1, size 3 litre, notes 12\" apart\n", ""},
		{"headings in another order", "Notes,Location,Qty.,Botanical Name\nlow,Pond,7,Carex elata\n", "2: Carex elata ×7, bed Pond, notes low\n", ""},
		{"capitals and colons", "LATIN NAME: ,  No. ,ZONE\nCarex elata,7,Pond\n", "2: Carex elata ×7, bed Pond\n", ""},
		{"species, nr, position", "Species,Nr,Position,Pot size,Comments,Date planted,Care group\nCarex elata,7,Pond,2 l,low,2026-10-04,reed\n",
			"2: Carex elata ×7, bed Pond, planted 2026-10-04, size 2 l, notes low, care reed\n", ""},
		{"two headings for the plant: the better known", "Plant name,Latin name,qty\ngolden oats,Stipa gigantea,3\n", "2: Stipa gigantea ×3\n", ""},
		{"columns nobody asked for", "Ref,plant,price\nA1,Carex elata,9.50\n", "2: Carex elata ×1\n", ""},
		{"cultivar in its own column", "plant,cultivar\nCarex elata,Aurea\nCarex elata 'Aurea',Aurea\nStipa gigantea,\n",
			"2: Carex elata 'Aurea' ×1\n3: Carex elata 'Aurea' ×1\n4: Stipa gigantea ×1\n", ""},
		{"title rows above", "Planting plan,,\nTern Cottage,rev B,\n,,\nplant,qty,bed\nCarex elata,7,Pond\n", "5: Carex elata ×7, bed Pond\n", ""},
		{"a title that is a heading's word", "Plants,,\nbotanical name,qty,bed\nCarex elata,7,Pond\n", "3: Carex elata ×7, bed Pond\n", ""},
		{"blank rows and totals", "plant,qty,bed\nCarex elata,7,Pond\n,,\nSub-total,7,\n , ,\nStipa gigantea,3,Gravel\nTotals:,10,\n,,Total 10\n",
			"2: Carex elata ×7, bed Pond\n6: Stipa gigantea ×3, bed Gravel\n",
			"plants.csv:1:1: note: 2 blank rows and 3 rows of totals skipped [list/skipped]\n"},
		{"a note that begins with total", "plant,qty,notes\nCarex elata,7,total shade by noon\n", "2: Carex elata ×7, notes total shade by noon\n", ""},
		{"a row without a plant", "plant,qty,bed\n,7,Pond\nCarex elata,7,Pond\n", "3: Carex elata ×7, bed Pond\n",
			"plants.csv:2:1: warning: this row names no plant and is left out [list/no-plant]\n"},
		{"short and long rows", "plant,qty,bed\nCarex elata\nStipa gigantea,3,Gravel,extra,more\n", "2: Carex elata ×1\n3: Stipa gigantea ×3, bed Gravel\n", ""},
		{"pots by bed and notes, not by size", "plant,bed,size,notes\nCarex elata,Blue pots,,\nCarex elata,Pond,3 l pot,\nCarex elata,Pond,,in a trough\nCarex elata,Pond,,potato patch\n",
			"2: Carex elata ×1, bed Blue pots, pot\n3: Carex elata ×1, bed Pond, size 3 l pot\n4: Carex elata ×1, bed Pond, pot, notes in a trough\n5: Carex elata ×1, bed Pond, notes potato patch\n", ""},
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

// Every row keeps the place of its plant's name, whatever comes before it.
func TestRowsKnowTheirPlace(t *testing.T) {
	for _, in := range []string{
		"\ufeffqty,plant,bed\n7,Carex elata,Pond\n",
		"\ufeffplant,qty\r\n\"Carex elata\",7\r\n",
		"qty;plant\n\n7;Carex elata\n",
		"notes,plant\n\"two\nlines × wide\",Carex elata\n",
		"plant\nCarex elata",
	} {
		rs, ds := ReadList(source.NewFile("plants.csv", []byte(in)), nil, source.At[string]{}, "", nil)
		if len(ds) > 0 || len(rs) != 1 || rs[0].Span.Text() != "Carex elata" {
			t.Errorf("%q: %v\n%s", in, rows(rs), sourcetest.Printed(ds))
		}
	}
}

// A garden may name its own headings (DESIGN 6, columns).
func TestOwnColumns(t *testing.T) {
	g, ds := Parse(source.NewFile("garden.yaml", []byte("garden: x\nsite: {latitude: 54}\ncolumns: {What: plant, How many: Qty, Where: bed}\n")))
	rs, more := ReadList(source.NewFile("plants.csv", []byte("Where;what;how MANY\nPond;Carex elata;7\n")), g.Columns, source.At[string]{}, g.Country, nil)
	if ds = append(ds, more...); len(ds) > 0 || rows(rs) != "2: Carex elata ×7, bed Pond\n" {
		t.Errorf("%s\n%s", rows(rs), sourcetest.Printed(ds))
	}
}

func TestListLimits(t *testing.T) {
	for text, want := range map[string]string{
		"plant\n" + strings.Repeat("x", largestList):                           "list/too-large",
		"plant\n" + strings.Repeat("x", largestText):                           "list/too-large",
		strings.Repeat("plant\n", mostRows+1):                                  "list/too-long",
		"plant,ref\nCarex elata," + strings.Repeat("x", longestCell) + "\n":    "",
		"plant,a\nCarex elata," + strings.Repeat("x", longestCell+1) + "\n":    "list/too-long",
		"plant,ref\nCarex elata" + strings.Repeat(",x", mostCells-1) + "\n":    "",
		"plant,a\nCarex elata" + strings.Repeat(",x", mostCells) + "\n":        "list/too-long",
		"plant,a\nCarex elata,\"" + strings.Repeat("Carex elata,\n", mostRows): "list/csv",
	} {
		rs, ds := ReadList(source.NewFile("plants.csv", []byte(text)), nil, source.At[string]{}, "", nil)
		code := ""
		for _, d := range ds {
			if d.Severity != source.Note {
				code += d.Code
			}
		}
		if code != want || (len(rs) > 0) != (want == "") {
			t.Errorf("%.40q: want %q alone, got %d rows\n%.600s", text, want, len(rs), sourcetest.Printed(ds))
		}
	}
}

// TestFind takes rows through every step of DESIGN 6, in its order.
func TestFind(t *testing.T) {
	l := library(t)
	for _, c := range []struct {
		name, care, entry string
		how               Match
		code              string // of the one message that is not a note on form
	}{
		// Exact, whatever the form of the name.
		{"Hakonechloa macra", "", "Hakonechloa macra", Exact, ""},
		{"HAKONECHLOA MACRA", "", "Hakonechloa macra", Exact, ""},
		{"Carex elata \"Aurea\"", "", "Carex elata ‘Aurea’", Exact, ""},
		{"Calamagrostis x acutiflora", "", "Calamagrostis × acutiflora", Exact, ""},
		{"Geranium ROZANNE ('Gerwat')", "", "Geranium ROZANNE (‘Gerwat’)", Exact, ""},
		{"Geranium 'Rozanne'", "", "Geranium ROZANNE (‘Gerwat’)", Exact, ""},
		{"Geranium 'Gerwat'", "", "Geranium ROZANNE (‘Gerwat’)", Exact, ""},
		// A name of its own comes before the same name as another's synonym or species.
		{"Salvia nemorosa 'Caradonna'", "", "Salvia nemorosa ‘Caradonna’", Exact, ""},
		{"Salvia nemorosa", "", "Salvia nemorosa", Exact, ""},
		{"Hakonechloa macra", "reed", "Hakonechloa macra", Exact, ""},
		// Synonym.
		{"Perovskia atriplicifolia", "", "Salvia yangii", Synonym, "list/synonym"},
		{"PEROVSKIA ATRIPLICIFOLIA", "", "Salvia yangii", Synonym, "list/synonym"},
		{"Sedum 'Herbstfreude'", "", "Hylotelephium ‘Herbstfreude’", Synonym, "list/synonym"},
		// Cultivar to species, by name or synonym.
		{"Hakonechloa macra 'Albovariegata'", "", "Hakonechloa macra", Species, "list/species"},
		{"Perovskia atriplicifolia 'Blue Spire'", "", "Salvia yangii", Species, "list/species"},
		{"Salvia nemorosa 'Amethyst'", "", "Salvia nemorosa", Species, "list/species"},
		// Spelling, a slip in one word or two, with and without a cultivar.
		{"Hakonecloa macra", "", "Hakonechloa macra", Spelling, "list/spelling"},
		{"Hakonecloa maccrum", "", "Hakonechloa macra", Spelling, "list/spelling"},
		{"Perovskia atriplicifola", "", "Salvia yangii", Spelling, "list/spelling"},
		{"Hakonecloa macra 'Albovariegata'", "", "Hakonechloa macra", Species, "list/spellinglist/species"},
		{"Carex elata 'Aurae'", "", "Carex elata ‘Aurea’", Spelling, "list/spelling"},
		{"Molinia carulea", "", "Molinia caerulea", Spelling, "list/spelling"},
		// A genus two letters off, whose species no other genus has.
		{"Hakonecla macra", "", "Hakonechloa macra", Spelling, "list/spelling"},
		// Another letter in an epithet, or two names as near: no.
		{"Hakonechloa macro", "", "", None, "list/uncovered"},
		{"Salix elba", "", "", None, "list/uncovered"},
		// What is below a species has its care; a species has not its cultivar's.
		{"Molinia caerulea subsp. arundinacea", "", "Molinia caerulea", Species, "list/species"},
		{"Carex elata", "", "", None, "list/uncovered"},
		// A genus alone never implies care (TRADE 3.8).
		{"Hakonechloa", "", "", None, "list/uncovered"},
		{"Hakonechloa sp.", "", "", None, "list/uncovered"},
		{"Carex 'Aurea'", "", "", None, "list/uncovered"},
		{"Hydrangea arborescens", "", "", None, "list/uncovered"},
		// A care group named in the list comes last.
		{"Panicum virgatum", "reed", "Panicum virgatum", Group, "list/no-hazards"},
		{"Panicum virgatum", "REED", "Panicum virgatum", Group, "list/no-hazards"},
		{"Panicum", "reed", "Panicum", Group, "list/no-hazards"},
		{"Hakonecloa macra", "reed", "Hakonechloa macra", Spelling, "list/spelling"},
	} {
		g := &Garden{Rows: []Row{{Plant: c.name, Care: source.At[string]{Value: c.care}}}}
		ps, ds := Find(g, l, false)
		got := ""
		if ps[0].Entry != nil {
			got = ps[0].Entry.Name.Value.String()
		}
		ds = slices.DeleteFunc(ds, func(d source.Diagnostic) bool { return d.Code == "list/name-form" })
		code := ""
		for _, d := range ds {
			code += d.Code
		}
		if got != c.entry || ps[0].How != c.how || code != c.code {
			t.Errorf("%s (care %q): %q by %s, %q; want %q by %s, %q", c.name, c.care, got, ps[0].How, code, c.entry, c.how, c.code)
		}
	}
}

// Two names equally near are no match: the choice is the designer's.
func TestTwoNamesAsNear(t *testing.T) {
	ps, ds := Find(&Garden{Rows: []Row{{Plant: "Salvia albo"}}}, library(t), false)
	if ps[0].How != None || len(ds) != 1 || ds[0].Code != "list/uncovered" || len(ds[0].Hints) != 2 || !strings.Contains(ds[0].Hints[0], "Salvia alba") {
		t.Errorf("%s\n%s", ps[0].How, sourcetest.Printed(ds))
	}
}

// A name that two entries claim alike is an error and names both.
func TestAmbiguous(t *testing.T) {
	_, ds := Find(&Garden{Rows: []Row{{Plant: "Aster amellus"}}}, library(t), false)
	if len(ds) == 0 || ds[0].Code != "list/ambiguous" || ds[0].Severity != source.Error || len(ds[0].Related) != 2 {
		t.Errorf("got\n%s", sourcetest.Printed(ds))
	}
}

// Under partial a row without an entry is a gap, told as a warning; nothing
// else is let through.
func TestPartial(t *testing.T) {
	g := &Garden{Rows: []Row{{Plant: "Panicum virgatum"}, {Plant: "Hakonechloa macra", Bed: source.At[string]{Value: "Nowhere"}}}}
	for partial, want := range map[bool]string{false: "list/uncovered error, list/no-such-bed error", true: "list/uncovered warning, list/no-such-bed error"} {
		ps, ds := Find(g, library(t), partial)
		var got []string
		for _, d := range ds {
			got = append(got, d.Code+" "+d.Severity.String())
		}
		if s := strings.Join(got, ", "); s != want || len(ps) != 2 || ps[0].Entry != nil || ps[0].Label() != "Panicum virgatum" {
			t.Errorf("partial %v: %s, want %s", partial, s, want)
		}
	}
}

// What a planting is called in the booklet (DESIGN 6: a cultivar keeps its
// name, a slip of the pen does not).
func TestCalled(t *testing.T) {
	g := &Garden{Rows: []Row{
		{Plant: "Hakonechloa macra 'Albovariegata'"}, {Plant: "Hakonecloa macra"}, {Plant: "Perovskia atriplicifolia"},
		{Plant: "Panicum virgatum 'Shenandoah'", Care: source.At[string]{Value: "reed"}}, {Plant: "Hakonecloa macra 'Albovariegata'"},
	}}
	ps, _ := Find(g, library(t), false)
	for i, want := range []string{"Hakonechloa macra ‘Albovariegata’", "Hakonechloa macra", "Salvia yangii", "Panicum virgatum ‘Shenandoah’", "Hakonechloa macra ‘Albovariegata’"} {
		if got := ps[i].Called().String(); got != want {
			t.Errorf("%s is called %s, want %s", g.Rows[i].Plant, got, want)
		}
	}
	if e := ps[3].Entry; len(e.Rules) != 1 || e.Rules[0].Job.Value != "cut back" {
		t.Errorf("care by group has the rules %v", e.Rules)
	}
}

// FuzzReadList: whatever the bytes, no panic; rows and messages stand inside
// the list.
func FuzzReadList(f *testing.F) {
	for _, s := range []string{
		"plant,qty,bed,planted,care\nCarex elata,7,Pond,2026,reed\n", "\ufeffLatin name;No.\r\n\"Stipa\n\"\"x\"\"\";x 7\r\n", "plant\tcultivar\nCarex\t\xd7\x91A\x92\n",
		"plant\n,\nTotal\n\"", "a,b\nplant,\"x\n", "Latin nale;No.\n\"Saipt \"\"\";\n",
		"Bed A\ngenus;species;no.;date;bed\nBed: B;;;;\nCarex;elata;5–7;10/24/26;ditto\n;;7;;\nNote: x;;;;\nTrees;;;;\n", "plant,bed\n7 no. Carex,A\nCarex x 7,\nCarex,\nCarex,B\n",
		"\xff\xfep\x00l\x00a\x00n\x00t\x00\n\x00", string(made(f, "[A]\nplant|qty|planted\n!merge C2:C3\nCarex|=1+2 →|@2026-10-04\nCarex|c. 2|\n")),
	} {
		f.Add([]byte(s))
	}
	l := library(f)
	own := []fields.Pair{{Key: source.At[string]{Value: "a"}, Value: source.At[string]{Value: "plant"}}}
	f.Fuzz(func(t *testing.T, text []byte) {
		for _, names := range [][]fields.Pair{nil, own} {
			f := source.NewFile("plants.csv", text)
			rs, ds := ReadList(f, names, source.At[string]{}, "", Knows(l))
			g := &Garden{Rows: rs}
			ps, more := Find(g, l, false)
			if fixed, _ := Fixed(f, source.At[string]{}, l, ps); names == nil && len(rs) > 0 {
				if _, again := ReadList(source.NewFile("plants.csv", fixed), nil, source.At[string]{}, "", Knows(l)); again.HasErrors() && !ds.HasErrors() {
					t.Errorf("the list put right cannot be read: %q\n%s", fixed, sourcetest.Printed(again))
				}
			}
			for _, d := range append(ds, more...) {
				inside(t, d.Code, d.Span)
			}
			for _, r := range rs {
				inside(t, "row", r.Span)
			}
			sourcetest.Printed(append(ds, more...))
		}
	})
}

func inside(t testing.TB, what string, s source.Span) {
	if s.File != nil && (s.Start < 0 || s.End < s.Start || s.End > len(s.File.Text)) {
		t.Errorf("%s points outside the file: %d to %d of %d", what, s.Start, s.End, len(s.File.Text))
	}
}

// FuzzParse reads any garden.yaml without a panic, and every message points
// inside the file.
func FuzzParse(f *testing.F) {
	f.Add("garden: x\nkind: handover\ndate: 2027-03-20\nyears: 3\nskill: owner\nmulch: 7.5 cm\nsite:\n  country: GB\n  latitude: -43\n  elevation: 12 m\n" +
		"  normals: {min: [1,1,1,1,1,1,1,1,1,1,1,1], max: [9,9,9,9,9,9,9,9,9,9,9,9], unit: °F, source: y}\n  frost: {last: 18 April, first: 2 November}\n  coldest-night: H4\n" +
		"units: us\npaper: Letter\nlibrary: [../../, built-in]\nbeds:\n  - {bed: A, light: shade, soil: wet, fertility: rich, exposure: coastal, style: steppe, area: 150 sq ft}\n" +
		"plants:\n  - {plant: Carex, quantity: 3, bed: A, planted: May 2026, pot: true, size: P9, notes: z, care: q}\npages: [a.md]\ncontacts: [{name: a, text: b}]\nonline: https://example.org\n")
	f.Add("garden: x\nsite: {latitude: 1e309}\nplants: [a, b]\ncolumns: {a: plant}\n")
	f.Fuzz(func(t *testing.T, text string) {
		g, ds := Parse(source.NewFile("garden.yaml", []byte(text)))
		g.Place.Climate()
		for _, d := range ds {
			if d.Span.File != nil && (d.Span.Start < 0 || d.Span.End < d.Span.Start || d.Span.End > len(text)) {
				t.Errorf("%s points outside the file", d.Code)
			}
		}
	})
}

// FuzzGarden takes a garden.yaml and its list through all of the package as a
// build does: no panic, each message prints and stands inside its file, and a
// garden without errors has a bed for each bed that a row names.
func FuzzGarden(f *testing.F) {
	f.Add("garden: x\nsite: {latitude: 54}\nbeds: [{bed: Pond, area: 4 m²}]\nplants: plants.csv\ncolumns: {What: plant, How many: quantity}\nsheet: A\n",
		"What;How many;bed;planted\nCarex elata;5–7;Pond;10/24/26\nStipa;c. 2;pond;\n")
	f.Add("garden: x\nsite: {latitude: -43}\nplants:\n  - {plant: Carex elata, quantity: 3, bed: A, planted: May 2026, pot: true, care: reed}\nphotos: [{plant: Carex elata, file: a.jpg, alt: b}]\n", "")
	f.Add("garden: x\nsite: {latitude: 0}\nbeds: [{bed: \"\\u202eA\\n\"}]\nplants: a\n", "plant,bed\r\"Carex\nelata\",\u202eA\r")
	l := library(f)
	f.Fuzz(func(t *testing.T, yaml, list string) {
		g, ds := Parse(source.NewFile("garden.yaml", []byte(yaml)))
		rs, more := ReadList(source.NewFile("plants.csv", []byte(list)), g.Columns, g.Sheet, g.Country, Knows(l))
		g.Rows = append(g.Rows, rs...)
		ds = append(ds, more...)
		for _, partial := range []bool{false, true} {
			ps, more := Find(g, l, partial)
			all := append(slices.Clone(ds), more...)
			for _, d := range all {
				inside(t, d.Code, d.Span)
			}
			sourcetest.Printed(all)
			if len(ps) != len(g.Rows) {
				t.Errorf("%d plantings of %d rows", len(ps), len(g.Rows))
			}
			for _, p := range ps {
				if !all.HasErrors() && (p.Row.Bed.Value != "" && p.Bed == nil || p.Entry == nil && !partial) {
					t.Errorf("row %d, %q in %q, is nowhere", p.Row.Line, p.Row.Plant, p.Row.Bed.Value)
				}
			}
		}
	})
}
