package garden

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"sheaf/generator/entries"
	"sheaf/generator/source"
	"sheaf/generator/source/sourcetest"
)

// TestSlipped: what one slip makes of a word, and what it does not. The pairs
// that are none are two plants each.
func TestSlipped(t *testing.T) {
	for _, c := range []struct {
		written, meant string
		want           bool
	}{
		{"macar", "macra", true}, {"hakonecloa", "hakonechloa", true}, {"hakonecchloa", "hakonechloa", true},
		{"autumnalsi", "autumnalis", true}, {"memorosa", "nemorosa", true}, {"siberica", "sibirica", true},
		{"microphylla", "macrophylla", false}, {"minor", "major", false}, {"rigida", "nitida", false}, {"flava", "fulva", false},
		{"recta", "erecta", false}, {"malus", "taxus", false}, {"flacca", "flava", false}, {"repens", "rubens", false},
		{"longiflora", "longifolia", false}, {"chilensis", "chinensis", false}, {"pubescens", "rubescens", false},
		{"ulex", "ilex", false}, {"roas", "rosa", false}, // too short to be sure
		{"carfit10", "carfit01", false},                 // a code has no nearly
		{"macra", "macra", false}, {"", "macra", false}, // no slip, no word
	} {
		if got := slipped(c.written, c.meant); got != c.want {
			t.Errorf("slipped(%q, %q) = %v", c.written, c.meant, got)
		}
	}
}

// TestSound: epithets that sound alike are one, and no others.
func TestSound(t *testing.T) {
	x := speller{letters: letters()}
	for _, alike := range [][]string{
		{"albus", "alba", "album"}, {"davidii", "davidi"}, {"sinensis", "sinense"}, {"officinalis", "officinale"},
		{"sylvestris", "silvestris", "silvestre"}, {"cespitosa", "caespitosa", "coespitosum"}, {"macrorrhizum", "macrorhiza", "macrorizum"},
		{"microphylla", "microfila"}, {"lanata", "lannata"}, {"aquilegiifolium", "aquilegifolium"},
	} {
		for _, w := range alike[1:] {
			if a, b := x.sound(alike[0], true), x.sound(w, true); a != b {
				t.Errorf("%s sounds %q and %s %q", alike[0], a, w, b)
			}
		}
	}
	for _, apart := range [][2]string{
		{"sieboldii", "sieboldiana"}, {"nivalis", "nivea"}, {"henryi", "henryae"}, {"minor", "major"}, {"flava", "fulva"}, {"alba", "alpina"}, {"virgata", "virgaurea"},
	} {
		if a, b := x.sound(apart[0], true), x.sound(apart[1], true); a == b {
			t.Errorf("%s and %s sound alike: %q", apart[0], apart[1], a)
		}
	}
	if x.sound("carex", false) != "carex" || x.sound("malus", false) == x.sound("malum", false) {
		t.Error("the ending of a genus is part of its name")
	}
}

func TestSplit(t *testing.T) {
	for key, want := range map[string]string{
		"rosa 'peace' 'madame a meilland'":         "rosa|'peace'|'madame a meilland'",
		"hydrangea macrophylla (lacecap) 'blue w'": "hydrangea|macrophylla|(lacecap)|'blue w'",
		"paphiopedilum [shin tung]":                "paphiopedilum|[shin tung]",
		"carex '":                                  "carex|'", "": "", " a  b ": "a|b",
	} {
		if got := strings.Join(split(key), "|"); got != want {
			t.Errorf("split(%q) = %q, want %q", key, got, want)
		}
	}
}

// shelved makes a library of entries with these names; the first of each is
// its own, the others synonyms.
func shelved(t testing.TB, all ...[]string) *entries.Library {
	t.Helper()
	var s entries.Shelf
	for i, names := range all {
		text := fmt.Sprintf("---\nbotanical: %q\nsynonyms: [%s]\ncommon: plant %d\ntype: grass\nleaf: evergreen\ngrowth: cool-season\nhabit: mound\n"+
			"height: 30 cm\nspread: 40 cm\nhardy: H6\nsources: common practice\ncare: [{job: comb, when: April}]\n---\nA plant.\n", names[0], quoted(names[1:]), i)
		e, ds := entries.ParseEntry(source.NewFile(fmt.Sprintf("plants/%d.md", i), []byte(text)))
		if ds.HasErrors() {
			t.Fatal(sourcetest.Printed(ds))
		}
		s.Entries = append(s.Entries, e)
	}
	l, _ := entries.Assemble([]entries.Shelf{s})
	return l
}

func quoted(names []string) string {
	var out []string
	for _, n := range names {
		out = append(out, fmt.Sprintf("%q", n))
	}
	return strings.Join(out, ", ")
}

// TestNeverAnother: names near to an entry's that are another plant's, or may
// be, in libraries made for it. Where it can be asked, it is asked.
func TestNeverAnother(t *testing.T) {
	for _, c := range []struct {
		library [][]string
		row     string
		how     Match
		near    string
	}{
		// A word that is known in its place is no misspelling.
		{[][]string{{"Hydrangea macrophylla"}, {"Salvia micropylla"}}, "Salvia macrophylla", None, "Salvia micropylla"},
		{[][]string{{"Vinca minor"}, {"Vinca difformis"}}, "Vinca major", None, "Vinca minor"},
		// Two plants that are one letter apart, and two that are two.
		{[][]string{{"Potentilla recta"}}, "Potentilla erecta", None, "Potentilla recta"},
		{[][]string{{"Hemerocallis fulva"}}, "Hemerocallis flava", None, "Hemerocallis fulva"},
		{[][]string{{"Taxus baccata"}}, "Malus baccata", None, "Taxus baccata"},
		{[][]string{{"Taxus baccata"}, {"Malus 'Evereste'"}}, "Malus baccata", None, ""},
		// Two names as near.
		{[][]string{{"Carex pallens"}, {"Carex palllensis"}}, "Carex palens", Spelling, ""},
		{[][]string{{"Aster carinata"}, {"Aster carnata"}}, "Aster carniata", None, "Aster carinata, Aster carnata"},
		// A selling name of one entry with the cultivar of another.
		{[][]string{{"Rosa PEACE ('Madame A. Meilland')"}, {"Rosa 'Penelope'"}}, "Rosa PEACE ('Penelope')", Ambiguous, "Rosa PEACE (‘Madame A. Meilland’), Rosa ‘Penelope’"},
		{[][]string{{"Rosa PEACE ('Madame A. Meilland')"}, {"Rosa 'Penelope'"}}, "Rosa 'Peach'", None, "Rosa PEACE (‘Madame A. Meilland’)"},
		// A genus alone is never enough, even where an entry is no more than that.
		{[][]string{{"Rosa"}}, "Rosa", None, ""},
		{[][]string{{"Rosa"}}, "Rossa mixed", None, ""},
		// A Group does not answer for its species, nor for other cultivars.
		{[][]string{{"Hydrangea macrophylla Lacecap Group"}}, "Hydrangea macrophylla", None, "Hydrangea macrophylla Lacecap Group"},
		{[][]string{{"Hydrangea macrophylla Lacecap Group"}}, "Hydrangea macrophylla 'Madame Mouillère'", None, "Hydrangea macrophylla Lacecap Group"},
		// A species is asked about where only cultivars of it are covered.
		{[][]string{{"Carex elata 'Aurea'"}, {"Carex testacea"}}, "Carex elata", None, "Carex elata ‘Aurea’"},
		// Genus and cultivar without the species are asked about.
		{[][]string{{"Carex elata 'Aurea'"}}, "Carex 'Aurea'", None, "Carex elata ‘Aurea’"},
		// A code has no nearly.
		{[][]string{{"Carex oshimensis 'Carfit01'"}}, "Carex oshimensis 'Carfit011'", None, "Carex oshimensis ‘Carfit01’"},
		// What cannot be read is asked about too.
		{[][]string{{"Helleborus hybridus"}}, "Helleorus hybrids 'Anna', three", None, "Helleborus hybridus"},
	} {
		ps, ds := MatchRows([]Row{{Plant: c.row}}, shelved(t, c.library...), false)
		var near []string
		for _, e := range ps[0].Near {
			near = append(near, e.Name.Value.String())
		}
		slices.Sort(near)
		if got := strings.Join(near, ", "); ps[0].How != c.how || got != c.near {
			t.Errorf("%s among %v: %s, near %q; want %s, near %q\n%s", c.row, c.library, ps[0].How, got, c.how, c.near, sourcetest.Printed(ds))
		}
	}
}

// An entry whose name could not be read, told elsewhere, fits nothing.
func TestEntryWithoutName(t *testing.T) {
	ps, _ := MatchRows([]Row{{Plant: "Carex elata"}, {Plant: "?"}, {Plant: ""}}, &entries.Library{Entries: []*entries.Entry{{}}}, false)
	for _, p := range ps {
		if p.Entry != nil || p.How != None || len(p.Near) > 0 {
			t.Errorf("%q: %s", p.Row.Plant, p.How)
		}
	}
}

// A cultivar with an entry of its own is taken for it a slip away, and not for its
// species, which may be cut otherwise.
func TestMisspeltCultivarOfSpecies(t *testing.T) {
	ps, ds := MatchRows([]Row{{Plant: "Salvia nemorosa 'Caradona'"}}, library(t), false)
	if ps[0].How != Spelling || len(ds) != 1 || ps[0].Entry.Name.Value.Cultivar != "Caradonna" {
		t.Errorf("%s\n%s", ps[0].How, sourcetest.Printed(ds))
	}
}

// FuzzMatch: whatever the name, no panic; and what a planting is called in the
// booklet comes to the same entry, so that a list put right stays right.
func FuzzMatch(f *testing.F) {
	for _, s := range []string{"Hakonecloa macra 'Albovariegata'", "PEROVSKIA ATRIPLICIFOLIA", "Carex 'Aurae'", "Salvia nemerosa", "(a × b) × 'c", "Geranium ROZANNE ('Gerwat')", "Molinia coerulea"} {
		f.Add(s)
	}
	x := index(library(f))
	f.Fuzz(func(t *testing.T, name string) {
		p := x.match(Row{Plant: name}, &wordsOfList{}, 0, false)
		if p.Entry == nil {
			return
		}
		called := p.Called().String()
		if again := x.match(Row{Plant: called}, &wordsOfList{}, 0, false); again.Entry != p.Entry {
			t.Errorf("%q comes to %s and is called %s, which does not", name, p.Entry.Name.Value, called)
		}
	})
}
