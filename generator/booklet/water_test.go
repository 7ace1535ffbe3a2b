package booklet

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"sheaf/generator/prose"
)

// TestWateringPage: every new planting stands once on the page on watering, by its
// number in its bed or by name, under what it drinks; an old one does not, and where
// all are old, and in a guide, there is no such page. No garden day waters.
func TestWateringPage(t *testing.T) {
	old := func(n int) []string { // the first n plantings have stood for years
		var out []string
		for _, q := range []string{"quantity: 9,", "quantity: 3,", "quantity: 5,", "quantity: 4,", "quantity: 1,", "quantity: 12,", "quantity: 6}", "quantity: 2,"}[:n] {
			out = append(out, q, "planted: 2015-03-20, "+q)
		}
		return out
	}
	for _, c := range []struct {
		name    string
		replace []string
		want    []string
	}{
		{"all new", nil, []string{
			"Until when: 20 March to 9 November 2027. Shrubs need it for 1 to 2 years, trees for longer.",
			"0.5 to 0.7 litres each: " + court + " 1 2 3; Border 1 2 3; elephant’s ears.",
			"1.2 to 1.7 litres each: Border 4.",
			"In all: One watering of all that is new takes about 30 to 40 litres."}},
		{"two old", old(2), []string{
			"Until when: 20 March to 9 November 2027. Shrubs need it for 1 to 2 years, trees for longer.",
			"0.5 to 0.7 litres each: Border 2 3; " + court + " 2 3; elephant’s ears.",
			"1.2 to 1.7 litres each: Border 4.",
			"In all: One watering of all that is new takes about 25 to 30 litres."}},
		{"all old", old(8), nil},
		{"a guide", guided(), nil},
	} {
		b := Compose(input(t, c.replace...))
		var got []string
		for _, s := range b.Of(Watering) {
			for _, f := range found[Facts](s) {
				for _, r := range f.Rows {
					if r.Label != "How often" {
						got = append(got, spaced(fmt.Sprint(r.Label, ": ", prose.String(r.Text))))
					}
				}
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s:\n got %q\nwant %q", c.name, got, c.want)
		}
		for _, s := range b.Of(Day) {
			for _, work := range found[Chores](s) {
				if strings.HasSuffix(work.Job, "/water") {
					t.Errorf("%s: %s waters", c.name, s.ID)
				}
			}
		}
	}
}
