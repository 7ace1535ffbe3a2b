package names

import (
	"io/fs"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/gnames/gnlib/ent/nomcode"
	"github.com/gnames/gnparser"

	"sheaf/content"
	"sheaf/generator/fields"
	"sheaf/generator/source"
)

// oracleNames are those of gnparser's own cultivar tests (MIT, testdata/
// test_data_cultivars.md) that stand in no other table here.
var oracleNames = []string{
	"Sarracenia flava 'Maxima'", "Colocasia esculenta 'Black Magic'", `Amorphophallus konjac "Nightstick"`,
	"Sarracenia alata cv Black Tube x Sarracenia leucophylla", "Spathiphyllum Schott “Mauna Loa”", "+Crataegomespilus",
}

// oracleDiffers lists what gnparser v1.14.2 (cultivar mode) reads otherwise
// than Parse, with its canonical form; empty where it reads nothing. The reason
// says what gnparser does.
var oracleDiffers = []struct {
	reason string
	names  map[string]string
}{
	{"the cultivar after a named hybrid is lost", map[string]string{
		"Calamagrostis × acutiflora 'Overdam'":   "Calamagrostis × acutiflora",
		"Calamagrostis x acutiflora 'Overdam'":   "Calamagrostis × acutiflora",
		"Calamagrostis ×acutiflora ‘Overdam’":    "Calamagrostis × acutiflora",
		"Mahonia × media 'Charity'":              "Mahonia × media",
		"Lavandula × intermedia 'Grosso' P.B.R.": "Lavandula × intermedia",
	}},
	{"the genus must be in capital and small letters", map[string]string{
		"miscanthus sinensis":               "",
		"MISCANTHUS SINENSIS 'GRACILLIMUS'": "",
		"MAHONIA X MEDIA":                   "",
		"PLEIONE SHANTUNG GX 'DUCAT'":       "",
		"× CUPROCYPARIS LEYLANDII":          "",
		"phlox paniculata blue paradise":    "",
		"brassica oleracea italica group":   "",
	}},
	{"the selling name is taken for an author, or dropped", map[string]string{
		"Rosa PEACE ('Madame A. Meilland')":               "Rosa",
		"Geranium ROZANNE ('Gerwat')":                     "Geranium",
		"Rosa ICEBERG ['Korbin']":                         "Rosa",
		"Carex oshimensis EVERCOLOR EVEREST ('Carfit01')": "Carex oshimensis",
		"Geranium Rozanne ('Gerwat') (PBR)":               "Geranium",
		"Geranium ROZANNE = 'Gerwat'":                     "Geranium",
		"Geranium ROZANNE® 'Gerwat' PBR":                  "Geranium",
		"Geranium 'Rozanne' ('Gerwat')":                   "",
		"Geranium 'Gerwat' (ROZANNE)":                     "Geranium ‘Gerwat’",
		"Rosa ICEBERG®":                                   "Rosa",
		"Geranium Rozanne®":                               "Geranium",
		"Geranium Rozanne ® 'Gerwat'":                     "Geranium",
		"Rosa Iceberg (TM) ('Korbin')":                    "Rosa",
		"Rosa ICEBERG (R) ('Korbin')":                     "Rosa",
		"Rosa 'Korbin' = ICEBERG":                         "Rosa ‘Korbin’",
		"Rosa 'Korbin' = Iceberg":                         "Rosa ‘Korbin’",
		"Rosa ICEBERG syn. 'Korbin'":                      "Rosa",
		"Rosa ICEBERG ('Korbin') × Rosa 'Peace'":          "Rosa",
	}},
	{"the grex is taken for an author", map[string]string{
		"Pleione Shantung grex 'Muriel Harberd'":             "Pleione",
		"Pleione (Shantung grex) 'Muriel Harberd'":           "Pleione",
		"Pleione Shantung g. 'Ducat'":                        "Pleione",
		"Cymbidium Alexanderi grex (Foo Group) 'Westonbirt'": "Cymbidium",
	}},
	{"the Group is taken for an author", map[string]string{
		"Hydrangea macrophylla (Lacecap Group) 'Blue Wave'": "Hydrangea macrophylla",
		"Brassica oleracea Italica Group":                   "Brassica oleracea",
		"Iris (Tall Bearded Group) 'Jane Phillips'":         "Iris",
		"Iris (tall bearded gp) 'Jane Phillips":             "Iris",
		"Hydrangea macrophylla [Lacecap Group] 'Blue Wave'": "Hydrangea macrophylla",
	}},
	{"a cultivar needs two like quotes, an epithet a small letter", map[string]string{
		"Miscanthus Sinensis":               "Miscanthus",
		"Miscanthus sinensis `Gracillimus´": "Miscanthus sinensis",
		"Miscanthus sinensis Gracillimus":   "Miscanthus sinensis",
		"Molinia caerulea 'Moorhexe":        "Molinia caerulea",
		"Molinia caerulea Moorhexe'":        "Molinia caerulea",
		"Salix alba var. 'Britzensis'":      "Salix alba",
		"Mahonia x 'Charity'":               "Mahonia ×",
		"Rosa Iceberg":                      "Rosa",
		"Salvia Hot Lips":                   "Salvia",
		"Lavandula Angustifolia Hidcote":    "Lavandula",
	}},
	{"the cultivar is left as it is written", map[string]string{
		"Miscanthus sinensis ''Gracillimus''":                  "Miscanthus sinensis ‘'Gracillimus'’",
		"Miscanthus sinensis 'gracillimus'":                    "Miscanthus sinensis ‘gracillimus’",
		"Mahonia X Media 'Charity'":                            "Mahonia × Media ‘Charity’",
		"Rosa 'Iceberg™'":                                      "Rosa ‘Iceberg™’",
		"Phyllostachys vivax cv aureocaulis":                   "Phyllostachys vivax ‘aureocaulis’",
		"Ligusticum sinense cv 'chuanxiong' S.H. Qiu & et al.": "Ligusticum sinense ‘chuanxiong’",
	}},
	{"words for a plant nobody named are taken for epithets", map[string]string{
		"Crocus 'Mixed'":                  "Crocus ‘Mixed’",
		"Crocus in var.":                  "Crocus in",
		"Tulipa mixed hybrids":            "Tulipa mixed hybrids",
		"Helleborus × hybridus seedlings": "Helleborus × hybridus seedlings",
	}},
	{"the genus of a second parent is written out", map[string]string{
		"Digitalis purpurea x D. grandiflora":          "Digitalis purpurea × Digitalis grandiflora",
		"Digitalis purpurea L. × D. grandiflora Mill.": "Digitalis purpurea × Digitalis grandiflora",
	}},
	{"the earlier rank stays; we keep the last (ICN Art. 24.1)", map[string]string{
		"Saxifraga aizoon var. aizoon subf. surculosa": "Saxifraga aizoon var. aizoon subf. surculosa",
	}},
	{"the diaeresis is dropped; we keep it (ICN Art. 60.7)", map[string]string{
		"Isoëtes lacustris": "Isoetes lacustris",
	}},
	{"the sign stays as it is written", map[string]string{
		"× Fatshedera × lizei": "× Fatshedera × lizei",
		"Potentilla xtonguei":  "Potentilla xtonguei",
	}},
}

// TestOracle holds the printed names to the canonical forms of gnparser where
// it can read them. A difference that is not listed fails, and so does one that
// is listed and not there any more.
func TestOracle(t *testing.T) {
	oracle := gnparser.New(gnparser.NewConfig(gnparser.OptCode(nomcode.Cultivars)))
	all := slices.Concat(oracleNames, libraryNames(t))
	for _, row := range slices.Concat(thirty, repaired) {
		all = append(all, row.in)
	}
	slices.Sort(all)
	all = slices.Compact(all)
	listed := map[string]string{}
	for _, group := range oracleDiffers {
		maps.Copy(listed, group.names)
	}
	agreed, short := 0, 0
	for _, in := range all {
		want, differs := listed[in]
		delete(listed, in)
		theirs, ours := "", parse(t, in).Plain()
		if p := oracle.ParseName(in); p.Parsed {
			theirs = p.Canonical.Full
		}
		switch same := straight(theirs) == ours; {
		case differs && theirs != want:
			t.Errorf("%q: gnparser reads %q, listed as %q", in, theirs, want)
		case differs && same:
			t.Errorf("%q: gnparser agrees; take it off the list", in)
		case !differs && !same && unread(straight(theirs), parse(t, in)):
			short++
		case !differs && !same:
			t.Errorf("%q: gnparser reads %q, Parse %q", in, theirs, ours)
		case same:
			agreed++
		}
	}
	for in := range listed {
		t.Errorf("%q is listed and in no table", in)
	}
	t.Logf("%d of %d names agree, %d more as far as the oracle reads", agreed, len(all), short)
}

// unread tells that the oracle stops before a Group, a selling name or the cultivar
// of a hybrid species, none of which it knows, and agrees as far as it goes.
func unread(theirs string, n Name) bool {
	if n.Group+n.Trade == "" && (n.Hybrid == None || n.Cultivar == "") {
		return false
	}
	n.Group, n.Trade, n.Cultivar = "", "", ""
	return theirs == n.Plain()
}

// libraryNames are the names of the shipped entries and their synonyms.
func libraryNames(t *testing.T) []string {
	t.Helper()
	var all []string
	library := content.Library()
	err := fs.WalkDir(library, "plants", func(path string, d fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, ".md") {
			return err
		}
		text, err := fs.ReadFile(library, path)
		if err != nil {
			return err
		}
		front, _ := fields.Front(source.NewFile(path, text), "entry")
		name, ok := front.Text("botanical")
		if !ok {
			t.Errorf("%s has no botanical name", path)
			return nil
		}
		all = append(all, name.Value)
		for _, synonym := range front.Texts("synonyms") {
			all = append(all, synonym.Value)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 100 {
		t.Fatalf("only %d names in the library", len(all))
	}
	return all
}

// TestLibraryNames: every name of the library is written as it is printed, but
// for the kind of quotes, and is read back from its print.
func TestLibraryNames(t *testing.T) {
	for _, s := range libraryNames(t) {
		n, repairs, err := Parse(s)
		if err != nil || repairs != nil || n.Plain() != straight(s) {
			t.Errorf("%q prints %q: %v, %v", s, n, repairs, err)
		}
		for _, again := range []string{n.String(), n.Plain()} {
			if m := parse(t, again); m != n || m.String() != n.String() {
				t.Errorf("%q read back: %+v", again, m)
			}
		}
	}
}
