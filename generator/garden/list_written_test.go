package garden

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"sheaf/generator/fields"
	"sheaf/generator/source"
	"sheaf/generator/source/sourcetest"
)

// readText reads a list by a library that knows its plants.
func readText(t testing.TB, text string) ([]Row, source.Diagnostics) {
	t.Helper()
	return ReadList(source.NewFile("plants.csv", []byte(text)), nil, source.At[string]{}, "", Knows(library(t)))
}

// TestHeadingsInFourLanguages reads the same row under headings as practices in four
// countries write them.
func TestHeadingsInFourLanguages(t *testing.T) {
	for _, headings := range []string{
		"Botanical name;Quantity;Area / bed;Size;Remarks;Common name", "Species;No. off;Border;Pot size (litres);Comments;English name", "Plant;Qty;Location;Spec;Notes;Common",
		"Botanischer Name;Anzahl;Beet;Größe;Bemerkung;Deutscher Name", "Pflanze;Stück;Fläche;Qualität;Bemerkungen;Trivialname", "Art;Stk.;Standort;Groesse;Hinweis;Deutsche Bezeichnung", "Wissenschaftlicher Name;Menge;Bereich;Topf;Anmerkung;deutscher Name",
		"Botanische naam;Aantal;Vak;Maat;Opmerking;Nederlandse naam", "Plantnaam;Stuks;Plantvak;Potmaat;Opmerkingen;Volksnaam", "Latijnse naam;Aantal stuks / aantal;Border;Kwaliteit;Toelichting;Nederlandse naam",
		"Nom botanique;Quantité;Massif;Taille;Remarques;Nom commun", "Plante;Qté;Emplacement;Conditionnement;Observations;Nom français", "Espèce;Nombre;Zone;Force;Remarque;Nom vernaculaire",
		"BOTANISCHER NAME:;NR.;BEET-NR.;GRÖSSE (L);BEMERKUNGEN;DEUTSCHER NAME", "Art/Sorte;Anzahl;Beet;Pflanzgröße;Notiz;Volksname",
	} {
		if strings.HasPrefix(headings, "Latijnse") {
			headings = strings.Replace(headings, "Aantal stuks / aantal", "Aantal", 1)
		}
		rs, ds := readText(t, headings+"\nCarex elata;7;Pond;2 l;low;a sedge\nStipa gigantea;3;Gravel;2 l;high;golden oats\n")
		want := "2: Carex elata ×7, bed Pond, size 2 l, notes low\n3: Stipa gigantea ×3, bed Gravel, size 2 l, notes high\n"
		if got := rows(rs); got != want || len(ds) > 0 {
			t.Errorf("%s\n%s\n%s", headings, got, sourcetest.Printed(ds))
		}
	}
}

func TestMeaningOfHeadings(t *testing.T) {
	x := newLexicon(nil)
	for heading, want := range map[string]column{
		"Girth cm": girthColumn, "Stammumfang (cm)": girthColumn, "StU": girthColumn, "Stamomtrek": girthColumn, "Circonférence": girthColumn, "Height mm": sizeColumn, "Form": sizeColumn,
		"Plan ref.": markColumn, "Key": markColumn, "Abbr.": markColumn, "Kürzel": markColumn, "Pflanzdatum": plantedColumn, "Plantdatum": plantedColumn, "Date de plantation": plantedColumn,
		"Nom commun": commonColumn, "Gattung": genusColumn, "Sorte": cultivarColumn, "Variété": cultivarColumn, "No./m²": privateColumn, "Area (m²)": privateColumn, "Fläche m²": privateColumn, "Price each (£)": privateColumn, "Stück/m²": privateColumn,
		"Plants per m2": privateColumn, "N°": quantityColumn, "Blütezeit": flowersColumn,
	} {
		if m, ok := x.column(heading); !ok || m.column != want {
			t.Errorf("%s: column %d, %v, want %d", heading, m.column, ok, want)
		}
	}
	for _, heading := range []string{"", "Supplier code", "RHS", "No./bag of seed", "Carex elata", "7", "Total"} {
		if m, ok := x.column(heading); ok {
			t.Errorf("%q is taken for column %d", heading, m.column)
		}
	}
	for _, name := range columnNames() {
		if _, ok := x.named(name); !ok {
			t.Errorf("%q names no column", name)
		}
		if m, ok := x.column(name); !ok || columnNames()[min(int(m.column), int(columns))] != name && name != "private" {
			t.Errorf("%q stands over column %d", name, m.column)
		}
	}
}

// What a column holds may belie its heading, but not what the garden says of it.
func TestCellsAgainstHeadings(t *testing.T) {
	running := "No.,Plant,Qty wanted\n1,Carex elata,3\n2,Stipa gigantea,3\n3,Carex elata,5\n4,Stipa gigantea,7\n5,Carex elata,9\n"
	for _, c := range []struct{ in, own, want, code string }{
		{running, "", "2: Carex elata ×1", "list/column list/column"},
		{running, "No.", "2: Carex elata ×1", "list/unread-columns"},
		{strings.Replace(running, "5,Carex", "6,Carex", 1), "", "2: Carex elata ×1", "list/unread-columns"},
		{"Plant,Area\nCarex elata,12.5\nStipa gigantea,3\n", "", "2: Carex elata ×1", "list/unread-columns"},
		{"Plant,Botanical name\nBox,\na sedge,Carex elata\n", "", "2: Box ×1", ""},
		{"Plant,Zone\nCarex elata,1\nStipa gigantea,2\n", "", "2: Carex elata ×1, bed 1", ""},
		{"Plant,Qty,\nCarex elata,1,xy\nStipa gigantea,1,yz\n", "", "2: Carex elata ×1", "list/unread-columns"},
	} {
		var own []fields.Pair
		if c.own != "" {
			own = []fields.Pair{{Key: source.At[string]{Value: c.own}, Value: source.At[string]{Value: "quantity"}}}
		}
		rs, ds := ReadList(source.NewFile("plants.csv", []byte(c.in)), own, source.At[string]{}, "", Knows(library(t)))
		var codes []string
		for _, d := range ds {
			codes = append(codes, d.Code)
		}
		first, _, _ := strings.Cut(rows(rs), "\n")
		if got := strings.Join(codes, " "); first != c.want || got != c.code {
			t.Errorf("%q: %s, %s; want %s, %s", c.in, first, got, c.want, c.code)
		}
	}
}

// A second line of headings, above or below, is read with the first.
func TestTwoLinesOfHeadings(t *testing.T) {
	for in, want := range map[string]string{
		"Plants,,Supply,\nBotanical name,No.,Girth,Pot\nCarex elata,7,,2 l\n": "3: Carex elata ×7, size 2 l\n",
		"Planting,Quantity,Bed\nBotanical name,,\nCarex elata,7,Pond\n":       "3: Carex elata ×7, bed Pond\n",
		"Botanical name,Quantity,Supply\n,(no.),Size\nCarex elata,7,2 l\n":    "3: Carex elata ×7, size 2 l\n",
		"Botanical name,Quantity,Pot\n,no.,litres\nCarex elata,7,2\n":         "3: Carex elata ×7, size 2\n",
	} {
		rs, ds := readText(t, in)
		if got := rows(rs); got != want || ds.Count(source.Warning) > 0 {
			t.Errorf("%q: %swant %s%s", in, got, want, sourcetest.Printed(ds))
		}
	}
}

// TestWrittenQuantities reads quantities with the words of four languages, and those
// that are written otherwise than as one figure.
func TestWrittenQuantities(t *testing.T) {
	for in, want := range map[string]float64{
		"25 Stk.": 25, "12 Stück": 12, "10 st": 10, "3 St.": 3, "100 stuks": 100, "12 pièces": 12, "7 u.": 7, "7 Ex.": 7, "9 No. off": 9, "50 plugs": 50, "14 lfm": 14, "14 lfd. m": 14, "14 m1": 14, "14 ml": 14, "14 lin m": 14, "30 plantes": 30,
	} {
		rs, ds := one("quantity", in)
		if len(ds) > 0 || len(rs) != 1 || rs[0].Quantity != want {
			t.Errorf("%q: %s, want %v\n%s", in, rows(rs), want, sourcetest.Printed(ds))
		}
	}
	for in, want := range map[string]string{
		"ca. 12": "12", "ca 12 Stk.": "12", "etwa 12": "12", "env. 12": "12", "5 x 100": "500", "3 × 25": "75", "5x100 no.": "500", "2 trays of 40": "80", "3 groups of 5": "15", "3 no. groups of 5": "15", "3 Gruppen à 7": "21", "2 caisses de 12": "24",
		"42no. @ 3/m": "42", "42 @ 5/m²": "42", "42 at 300mm centres": "42", "42 (5/m²)": "42", "42 Stk. (5 Stk./m²)": "42", "10m (5/m)": "10", "10 lfm (4/m)": "10", "5 x 100 @ 9/m²": "500",
		"1 pair": "2", "a pair": "2", "2 pairs": "4", "pair": "2", "one": "1", "three": "3", "drei": "3", "deux": "2", "dozen": "12", "half a dozen": "6", "2 dozen": "24", "ein": "1", "3+5+4": "12", "3 + 5": "8",
	} {
		rs, ds := one("quantity", in)
		if len(ds) != 1 || ds[0].Code != "list/about" || len(rs) != 1 || fmt.Sprint(rs[0].Quantity) != want {
			t.Errorf("%q: %s, want %s\n%s", in, rows(rs), want, sourcetest.Printed(ds))
		}
	}
	for _, in := range []string{"as shown", "various", "tbc", "nach Plan", "divers", "99999 x 99999", "@ 5/m²", "5/m²", "x", "()", "a few dozen"} {
		rs, ds := one("quantity", in)
		if len(rs) != 1 || rs[0].Quantity != 1 || len(ds) == 0 || ds[len(ds)-1].Code != "list/quantity" {
			t.Errorf("%q: %s\n%s", in, rows(rs), sourcetest.Printed(ds))
		}
	}
}

// A quantity may stand with the name, in the name's own cell.
func TestCountedNamesAsWritten(t *testing.T) {
	for in, want := range map[string]string{
		"Carex elata (x 7)": "Carex elata ×7", "Carex elata - 7": "Carex elata ×7", "Carex elata – 7 no.": "Carex elata ×7", "Carex elata (7)": "Carex elata ×7", "Carex elata (7 Stk.)": "Carex elata ×7", "Carex elata: 7": "Carex elata ×7",
		"25 Stk. Carex elata": "Carex elata ×25", "5 x 100 Carex elata": "Carex elata ×500", "42no. Carex elata @ 5/m²": "Carex elata ×42", "Carex elata @ 5/m2": "Carex elata ×1", "12 Carex elata (5/m²)": "Carex elata ×12", "7 × Carex elata": "Carex elata ×7",
		"Carex elata": "Carex elata ×1", "Malus 'Evereste 4'": "Malus 'Evereste 4' ×1", "Carex elata - low": "Carex elata - low ×1", "Rosa 'Chapeau (7)'": "Rosa 'Chapeau (7)' ×1", "3 Sorbus x kewensis": "Sorbus x kewensis ×3",
	} {
		rs, ds := readText(t, "plant,bed\n"+in+",Pond\n")
		got := ""
		if len(rs) == 1 {
			got = fmt.Sprintf("%s ×%v", rs[0].Plant, rs[0].Quantity)
			if !strings.Contains(in, rs[0].Span.Text()) || rs[0].Span.Text() != rs[0].Plant {
				t.Errorf("%q stands at %q", in, rs[0].Span.Text())
			}
		}
		if got != want || ds.Count(source.Warning) > 0 {
			t.Errorf("%q: %s, want %s\n%s", in, got, want, sourcetest.Printed(ds))
		}
	}
}

// TestBedsByTheirNames reads rows without a plant as the beds of the rows below.
func TestBedsByTheirNames(t *testing.T) {
	const head, plants = "plant,qty,size\n", "Hakonechloa macra,7,2 l\nSalvia yangii,5,2 l\n"
	for row, bed := range map[string]string{
		"Courtyard,,": "Courtyard", "Front garden,,": "Front garden", "Pond edge,,": "Pond edge", "Terrasse,,": "Terrasse", "Beet 2,,": "Beet 2", "Zone A - Entrance,,": "Zone A - Entrance", "1. LONG BORDER (full sun),,": "1. LONG BORDER (full sun)",
		"\"Long border, 24 m²\",,": "Long border", "Long border (24 sqm):,,": "Long border", "Courtyard,24 m²,": "Courtyard", "Courtyard,12,": "Courtyard", "The Old Orchard,12,": "The Old Orchard", "By Annie's shed,,": "By Annie's shed", "Kitchen window,12,": "Kitchen window",
		"BED 3 – SHADE,,": "BED 3 – SHADE", "Bed: Courtyard,,": "Courtyard", "Vak A,,": "Vak A", "Achtertuin,,": "Achtertuin", "Massif 2,,": "Massif 2", "Jardin d'hiver,,": "Jardin d'hiver", "Courtyard (cont'd),,": "Courtyard",
		// No beds: kinds, remarks, plants.
		"Trees,,": "", "Perennials & grasses,,": "", "Stauden,,": "", "Bäume,,": "", "Sträucher:,,": "", "Vaste planten,,": "", "Heesters,,": "", "Arbres,,": "", "Vivaces,,": "", "Bulbs,,": "", "Zwiebeln,,": "", "Trees,12,": "",
		"Note: water well,,": "", "Hinweis: gut wässern,,": "", "Water well in the first year.,,": "",
	} {
		rs, ds := readText(t, head+plants+row+"\n"+plants)
		if len(rs) != 4 {
			t.Errorf("%s: %d rows\n%s%s", row, len(rs), rows(rs), sourcetest.Printed(ds))
			continue
		}
		if got := rs[3].Bed.Value; got != bed || rs[1].Bed.Value != "" {
			t.Errorf("%s: bed %q, want %q\n%s", row, got, bed, sourcetest.Printed(ds))
		}
		if rs[3].Bed.Value != "" && !strings.Contains(row, rs[3].Bed.Span.Text()[:3]) {
			t.Errorf("%s: the bed stands at %q", row, rs[3].Bed.Span.Text())
		}
	}
	// A plant that nobody knows, or without a quantity, is a plant.
	for _, row := range []string{"Zelkova serrata,,", "Zelkova 'Green Vase',,", "Hakonechloa,,", "Hakonecloa macra,,", "Soleiloria,,", "Zelkova,3,", "Alchemlla,3,3 l", "Oak trees from the farm,3,3 l", "H. macra,,"} {
		rs, ds := readText(t, head+plants+row+"\n"+plants)
		if len(rs) != 5 || rs[4].Bed.Value != "" {
			t.Errorf("%s: %d rows\n%s%s", row, len(rs), rows(rs), sourcetest.Printed(ds))
		}
	}
	// In a list of names alone only a place's name is a bed.
	rs, _ := readText(t, "plant\nFront garden\nHakonechloa macra\nZelkova\nSalvia yangii\n")
	if got := rows(rs); got != "3: Hakonechloa macra ×1, bed Front garden\n4: Zelkova ×1, bed Front garden\n5: Salvia yangii ×1, bed Front garden\n" {
		t.Error(got)
	}
	// Notes below the list are no beds.
	rs, ds := readText(t, head+plants+"Notes:,,\nWater in the first year,,\nStake all trees,,\n")
	if len(rs) != 2 || ds.Count(source.Note) != 3 {
		t.Errorf("%s%s", rows(rs), sourcetest.Printed(ds))
	}
}

// TestListsWithoutHeadings reads lists by what their cells hold.
func TestListsWithoutHeadings(t *testing.T) {
	for in, want := range map[string]string{
		"Hakonechloa macra\nSalvia yangii\n":                      "1: Hakonechloa macra ×1\n2: Salvia yangii ×1\n",
		"Hakonechloa macra\t7\nSalvia yangii\t3\n":                "1: Hakonechloa macra ×7\n2: Salvia yangii ×3\n",
		"7;Hakonechloa macra;Pond, low\n3;Salvia yangii;Gravel\n": "1: Hakonechloa macra ×7\n2: Salvia yangii ×3\n",
		"Planting for the lane\n\nFront garden\n7 x Hakonechloa macra\nBack garden\nSalvia yangii - 3\nNotes\nwater them well\n": "4: Hakonechloa macra ×7, bed Front garden\n6: Salvia yangii ×3, bed Back garden\n",
		"7 x Hakonechloa macra\n3 no. Salvia yangii\n":                                                    "1: Hakonechloa macra ×7\n2: Salvia yangii ×3\n",
		"what,how many wanted\nHakonechloa macra,7\nSalvia yangii,3\n":                                    "2: Hakonechloa macra ×7\n3: Salvia yangii ×3\n",
		"1,Hakonechloa macra\n2,Salvia yangii\n3,Zelkova serrata\n4,Hakonechloa macra\n5,Salvia yangii\n": "1: Hakonechloa macra ×1\n2: Salvia yangii ×1\n3: Zelkova serrata ×1\n4: Hakonechloa macra ×1\n5: Salvia yangii ×1\n",
	} {
		rs, ds := readText(t, in)
		if got := rows(rs); got != want || len(ds) == 0 || ds[0].Code != "list/headless" {
			t.Errorf("%q: %swant %s%s", in, got, want, sourcetest.Printed(ds))
		}
	}
	for _, in := range []string{"dear all,\nhere are the plants\n", "", "a,b\n1,2\n"} {
		if rs, ds := readText(t, in); len(rs) > 0 || !ds.HasErrors() {
			t.Errorf("%q: %s", in, rows(rs))
		}
	}
}

// TestScheduleOfATender reads a workbook as a practice keeps it, without an edit: titles,
// headings in two lines and merged, prices, girths, beds and kinds in rows of their own,
// subtotals, a hidden row and column, headings once more, notes below.
func TestScheduleOfATender(t *testing.T) {
	const folder = "testdata/workbooks/"
	text, err := os.ReadFile(folder + "fold-house.txt")
	if err != nil {
		t.Fatal(err)
	}
	rs, ds := ReadList(source.NewFile("fold-house.xlsx", made(t, string(text))), nil, source.At[string]{}, "", Knows(library(t)))
	if ds.HasErrors() || len(rs) != 60 {
		t.Errorf("%d rows", len(rs))
	}
	var b strings.Builder
	for _, r := range rs {
		fmt.Fprintf(&b, "%s", row(r))
		for _, more := range []string{r.Mark, r.Girth} {
			fmt.Fprintf(&b, " | %s", more)
		}
		b.WriteString("\n")
	}
	golden(t, folder+"fold-house.want", b.String()+sourcetest.Printed(ds))
}

// worst are long lists of one kind of row each.
func worst() map[string]func(i int) string {
	return map[string]func(i int) string{
		"plants":    func(i int) string { return fmt.Sprintf("Hakonechloa macra,%d,2 l", i%9+1) },
		"strangers": func(i int) string { return fmt.Sprintf("Xyqwv%c%c blabla,%d,2 l", 'a'+i%26, 'a'+i/26%26, i%9+1) },
		"beds in turn": func(i int) string {
			return []string{fmt.Sprintf("Yard %d,,", i), "Hakonechloa macra,3,2 l", "Salvia yangii,3,2 l"}[i%3]
		},
		"words alone": func(i int) string { return []string{fmt.Sprintf("Wordx%d,,", i), "Hakonechloa macra,3,2 l"}[i%2] },
		"sums": func(i int) string {
			return []string{"Hakonechloa macra,1,2 l", fmt.Sprintf("Foo %d,%d,", i, i)}[min(i%10000/5000, 1)]
		},
		"remarks":           func(int) string { return "Notes:,," },
		"slips of a genus":  func(i int) string { return fmt.Sprintf("Hakonechloa%d,,", i) },
		"quantities":        func(int) string { return "Hakonechloa macra,5 x 100 @ 9/m²,2 l" },
		"counted names":     func(int) string { return "\"12 Stk. Hakonechloa macra (5/m²)\",,2 l" },
		"beds of a column":  func(i int) string { return fmt.Sprintf("Hakonechloa macra,3,2 l,bed %d", i) },
		"ditto":             func(int) string { return "Hakonechloa macra,3,2 l,ditto" },
		"sums of all above": func(i int) string { return []string{"Hakonechloa macra,1,2 l", fmt.Sprintf(",%d,", i/2+1)}[i%2] },
	}
}

// BenchmarkReadList reads lists as long as may be, and as half of that: the time is to
// grow with the rows and no faster.
func BenchmarkReadList(b *testing.B) {
	l := library(b)
	for name, row := range worst() {
		for _, many := range []int{mostRows / 2, mostRows - 1} {
			var text strings.Builder
			text.WriteString("plant,qty,size,bed\n")
			for i := range many {
				text.WriteString(row(i) + "\n")
			}
			f := source.NewFile("plants.csv", []byte(text.String()))
			b.Run(fmt.Sprintf("%s/%d", strings.ReplaceAll(name, " ", "-"), many), func(b *testing.B) {
				for b.Loop() {
					if _, ds := ReadList(f, nil, source.At[string]{}, "", Knows(l)); ds.HasErrors() {
						b.Fatal(sourcetest.Printed(ds[:1]))
					}
				}
			})
		}
	}
}
