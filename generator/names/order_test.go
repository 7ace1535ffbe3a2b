package names

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// TestOrder: the Codes give no sort rule; that signs and rank words do not
// count is common practice. Letters go as in Unicode's CLDR: Danish and Swedish
// put å ä ö (å æ ø) after z, German and English with the letter they come from.
func TestOrder(t *testing.T) {
	for _, row := range []struct {
		lang string
		want []string // in order, as Filed
	}{
		{"en-GB", []string{"Abelia", "× Achnella", "Agrostis × Polypogon", "Aster × frikartii", "Aster novi-belgii", "Asteromoea mongolica", "Isoëtes lacustris", "Isoetes velata", "+ Laburnocytisus 'Adamii'", "Molinia caerulea", "Molinia caerulea subsp. arundinacea", "Molinia caerulea 'Moorhexe'", "Rosa ICEBERG ('Korbin')", "Rosa 'Immensee'"}},
		{"de", []string{"Aster 'Ochsen'", "Aster 'Österreich'", "Aster 'Otto'", "Aster 'Zar'"}},
		{"sv", []string{"Aster 'Ochsen'", "Aster 'Otto'", "Aster 'Zar'", "Aster 'Årets'", "Aster 'Änglar'", "Aster 'Österreich'"}},
		{"da", []string{"Aster 'Zar'", "Aster 'Ærø'", "Aster 'Øland'", "Aster 'Århus'"}},
		{"no such language", []string{"Aster 'Ochsen'", "Aster 'Österreich'", "Aster 'Otto'"}},
	} {
		o := NewOrder(row.lang)
		var want []string
		for _, s := range row.want {
			want = append(want, parse(t, s).Filed())
		}
		got := slices.Clone(want)
		dice := rand.New(rand.NewPCG(1, 1))
		for range 20 {
			dice.Shuffle(len(got), func(i, j int) { got[i], got[j] = got[j], got[i] })
			slices.SortFunc(got, o.Compare)
			if !slices.Equal(got, want) {
				t.Errorf("%s\n got %q\nwant %q", row.lang, got, want)
				break
			}
		}
	}
	if o := NewOrder("en"); o.Compare("Rosa", "Rosa") != 0 || o.Compare("ROSA", "Rosa")*o.Compare("Rosa", "ROSA") != -1 {
		t.Error("only the same text is nowhere before or after")
	}
}

func TestLetter(t *testing.T) {
	for _, row := range []struct{ lang, text, want string }{
		{"en-GB", parse(t, "× Fatshedera").Filed(), "F"}, {"en", "aster", "A"}, {"en", "'Éclair'", "E"}, {"en", "E\u0301clair", "E"},
		{"en", "100 Tage", "1"}, {"en", "--", ""}, {"en", "桜", "桜"},
		{"de", "Österreich", "O"}, {"sv", "Österreich", "Ö"}, {"sv", "Årets", "Å"}, {"da", "Ærø", "Æ"}, {"en", "Ærø", "A"},
	} {
		if got := NewOrder(row.lang).Letter(row.text); got != row.want {
			t.Errorf("%s: %q is under %q, want %q", row.lang, row.text, got, row.want)
		}
	}
}
