package generator

import (
	"maps"
	"slices"
	"testing"

	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/source"
)

// A row that is an English name is that plant or nothing: a myrtle spurge is
// neither a Myrtus nor a myrtle, and a rose of Sharon, of which there are two, no
// Rosa.
func TestEnglishNamesAreReadWhole(t *testing.T) {
	_, l, _ := shipped(t, nil)
	called := map[string][]*entries.Entry{}
	for _, e := range l.Entries {
		for _, c := range e.Common {
			called[c] = append(called[c], e)
		}
	}
	list := source.NewFile("names.csv", nil)
	var rows []garden.Row
	for _, c := range slices.Sorted(maps.Keys(called)) {
		rows = append(rows, garden.Row{Plant: c, Span: source.Whole(list)})
	}
	plantings, _ := garden.MatchRows(rows, l, true)
	taken := 0
	for _, p := range plantings {
		if p.Entry == nil {
			continue
		}
		taken++
		if !slices.ContainsFunc(called[p.Row.Plant], func(e *entries.Entry) bool { return e.Name.Value.Genus == p.Entry.Name.Value.Genus }) {
			t.Errorf("%s is taken for %s", p.Row.Plant, p.Entry.Name.Value)
		}
	}
	if taken*10 < len(rows)*8 {
		t.Errorf("%d of %d names are read", taken, len(rows))
	}
}

// A genus of which the library has single species does not take what people call
// another plant by its name: a row of nasturtium is no watercress.
func TestGenusThatIsAnotherPlantInEnglish(t *testing.T) {
	_, l, _ := shipped(t, nil)
	for row, genus := range map[string]string{
		"Nasturtium":                    "Tropaeolum",
		"nasturtium 'Empress of India'": "Tropaeolum",
		"Nasturtium officinale":         "Nasturtium",
		"Nasturtium microphyllum":       "",
		"Bacopa":                        "Chaenostoma",
		"Lotus":                         "Lotus",
	} {
		plantings, _ := garden.MatchRows([]garden.Row{{Plant: row, Span: source.Whole(source.NewFile("names.csv", nil))}}, l, true)
		got := ""
		if e := plantings[0].Entry; e != nil {
			got = e.Name.Value.Genus
		}
		if got != genus {
			t.Errorf("%s is taken for %q, want %q", row, got, genus)
		}
	}
}
