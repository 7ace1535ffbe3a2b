package booklet

import (
	"slices"
	"strings"
	"testing"

	"sheaf/generator/care"
)

// TestLinesOfADay: plants of one bed that get the same share a line, up to three of
// them; what stands in another bed, leaves another amount or has a warning of its own
// has its own. Each plant has its botanical name where the page names it first.
func TestLinesOfADay(t *testing.T) {
	const hakone = "Hakone <i>grass</i> & “kin” Hakonechloa macra ‘Aureola’"
	in := func(bed string) string { return "Caradonna', quantity: 5, bed: " + bed + "}" }
	more := func(plants ...string) []string {
		rows := in("Border")
		for _, p := range plants {
			rows += "\n  - {plant: Salvia nemorosa '" + p + "', quantity: 2, bed: Border}"
		}
		return []string{in("Border"), rows}
	}
	for _, c := range []struct {
		name    string
		replace []string
		plant   string
		verb    string
		want    []string // days and lines
	}{
		{"two beds", nil, "hakonechloa-macra-aureola", "Cut back", []string{
			"days/1: " + hakone + "; " + court + " 1, 9 plants; leave 8 to 10 cm; ; Green tips & <b>straw</b>.; ",
			"days/1: Hakone <i>grass</i> & “kin”; Border 1, 3 plants; leave 8 to 10 cm; ; Green tips & <b>straw</b>.; "}},
		{"another amount", []string{"  - if: rich soil\n    note", "  - if: shade\n    job: cut back\n    leave: 15 cm\n    note"}, "hakonechloa-macra-aureola", "Cut back", []string{
			"days/1: " + hakone + "; " + court + " 1, 9 plants; leave 15 cm; ; Green tips & <b>straw</b>.; In shade: Do not feed it.",
			"days/1: Hakone <i>grass</i> & “kin”; Border 1, 3 plants; leave 8 to 10 cm; ; Green tips & <b>straw</b>.; "}},
		{"not in one bed", []string{"  - if: rich soil\n    note", "  - if: shade\n    job: cut back\n    skip: true\n    note"}, "hakonechloa-macra-aureola", "Cut back", []string{
			"days/1: " + hakone + "; Border 1, 3 plants; leave 8 to 10 cm; ; Green tips & <b>straw</b>.; "}},
		{"another in the bed", more("Amethyst"), "salvia-nemorosa-caradonna", "Cut back", []string{
			"days/2: meadow sage ‘Caradonna’ Salvia nemorosa ‘Caradonna’, meadow sage ‘Amethyst’ Salvia nemorosa ‘Amethyst’; Border 2 3, 7 plants; leave one third of the height; ; ; "}},
		{"a plant twice in a bed", more("Caradonna"), "salvia-nemorosa-caradonna", "Cut back", []string{
			"days/2: meadow sage ‘Caradonna’ Salvia nemorosa ‘Caradonna’; Border 2 3, 7 plants; leave one third of the height; ; ; "}},
		{"the fourth", more("Amethyst", "Lubecca", "Ostfriesland"), "salvia-nemorosa-ostfriesland", "Cut back", []string{
			"days/2: meadow sage ‘Ostfriesland’ Salvia nemorosa ‘Ostfriesland’; Border 5, 2 plants; leave one third of the height; ; ; "}},
		{"a hedge", nil, "taxus-baccata", "Trim", []string{
			"days/3: yew hedge Taxus baccata; Border 4, 12 m of hedge; ; ; ; These dates keep out of the main nesting season."}},
		{"of no bed", nil, "bergenia-cordifolia", "Comb", []string{
			"days/4: elephant’s ears Bergenia cordifolia; 6 plants; leave all green leaf; ; ; "}},
	} {
		if got := chores(Compose(input(t, c.replace...)), "plants/"+c.plant, c.verb); !slices.Equal(got, c.want) {
			t.Errorf("%s:\n got %q\nwant %q", c.name, got, c.want)
		}
	}
}

// TestPartsOfADay: a task on several days says on each which part of it is meant.
func TestPartsOfADay(t *testing.T) {
	for of, want := range map[int][]string{1: {""}, 2: {"First half.", "Second half."}, 3: {"Part 1 of 3.", "Part 2 of 3.", "Part 3 of 3."}} {
		in := input(t)
		days := in.Calendar.Days
		whole := days[len(days)-1].Parts[0]
		for n := range of {
			part := care.Part{Task: whole.Task, N: n + 1, Of: of, Minutes: whole.Minutes.Times(1 / float64(of))}
			days[len(days)-of+n].Parts = slices.DeleteFunc(days[len(days)-of+n].Parts, func(p care.Part) bool { return p.Task == whole.Task })
			days[len(days)-of+n].Parts = append(days[len(days)-of+n].Parts, part)
		}
		var got []string
		for _, l := range chores(Compose(in), "plants/bergenia-cordifolia", "Comb") {
			got = append(got, strings.Split(l, "; ")[3])
		}
		if !slices.Equal(got, want) {
			t.Errorf("in %d parts: %q, want %q", of, got, want)
		}
	}
}
