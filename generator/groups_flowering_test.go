package generator

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"sheaf/generator/entries"
	"sheaf/generator/source"
)

// ordinary are the months, from the first to the last, in which the plants of a care
// group flower that take a job by it (common practice, no source). All other groups
// take any month.
func ordinary() map[string][2]int {
	return map[string][2]int{
		"perennial cut after flowering": {3, 8}, "perennial that dies back in summer": {4, 11}, "biennial": {4, 10},
		"lavender and its kind": {4, 9}, "spurge with two-year stems": {2, 11}, "hellebore with leafy stems": {2, 8},
		"pruning group 2": {2, 7}, "pruning group 3": {2, 7}, "pruning group 8": {2, 7}, "pruning group 11": {3, 10},
		"clematis pruning group 1": {2, 7}, "clematis pruning group 3": {6, 11}, "climber kept in bounds": {6, 11}, "rambling rose": {5, 8}, "once-flowering shrub rose": {6, 7},
		"evergreen clipped into leafy wood": {2, 8}, "phosphorus-shy evergreen": {2, 8}, "mat clipped after flowering": {3, 9},
		"perennial herb cut as it grows": {4, 8}, "bearded iris": {3, 8}, "annual left to sow itself": {4, 10},
	}
}

// flowering is an entry of a made plant in a care group.
type flowering struct {
	group, kind, leaf, months string
	ordinary                  bool
}

func (f flowering) String() string {
	return fmt.Sprintf("%s, %s, %s, flowers: %s", f.group, f.kind, f.leaf, f.months)
}

// entry writes it, with more lines of front matter.
func (f flowering) entry(t *testing.T, n int, more string) *entries.Entry {
	t.Helper()
	growth := ""
	if slices.Contains([]string{"grass", "sedge", "rush", "bamboo"}, f.kind) {
		growth = "growth: cool-season\n"
		if strings.Contains(f.group, "warm") {
			growth = "growth: warm-season\n"
		}
	}
	name := fmt.Sprintf("%c%c%c%cus", 'a'+n/17576%26, 'a'+n/676%26, 'a'+n/26%26, 'a'+n%26)
	text := fmt.Sprintf("---\nbotanical: Xyla %s\ncommon: [plant]\ntype: %s\nleaf: %s\n%shabit: clump\nheight: 60 cm\nspread: 50 cm\nflowers: %s\nhardy: H5\nzone: Z6\nlight: [full sun]\nsoil: [drained]\nhazards: []\ncare-group: %s\n%ssources: [common practice]\n---\nWords.\n",
		name, f.kind, f.leaf, growth, f.months, f.group, more)
	e, ds := entries.ParseEntry(source.NewFile("plants/"+name+".md", []byte(text)))
	if ds.HasErrors() {
		t.Fatal(ds, text)
	}
	return e
}

// floweringPlants are plants of every shipped group, of each type and winter leaf it
// allows, with every flowering time of one to four months.
func floweringPlants(groups []*entries.Group) []flowering {
	months := strings.Fields("January February March April May June July August September October November December")
	var out []flowering
	for _, g := range groups {
		kinds, leaves := g.Types, g.Leaf
		if kinds == nil {
			kinds = entries.Types()
		}
		if leaves == nil {
			leaves = []string{"deciduous", "semi-evergreen", "evergreen"}
		}
		span, bound := ordinary()[g.Name.Value]
		for _, kind := range kinds {
			for _, leaf := range leaves {
				for from := range 12 {
					for long := range 4 {
						f := flowering{g.Name.Value, kind, leaf, months[from], !bound || from+1 >= span[0] && from+1+long <= span[1]}
						if long > 0 {
							f.months += " to " + months[(from+long)%12]
						}
						out = append(out, f)
					}
				}
			}
		}
	}
	return out
}

// TestGroupsTakeOrdinaryFlowers: a care group takes a plant with an ordinary time of
// flowering. Where another time would put a job into days that the group forbids,
// that is told in the entry, with what can be written there; and whoever writes it
// has no such fault any longer.
func TestGroupsTakeOrdinaryFlowers(t *testing.T) {
	shelf, _, _ := shipped(t, nil)
	plants := floweringPlants(shelf.Groups)
	faults := func(more func(n int) string) map[int]source.Diagnostics {
		var own []*entries.Entry
		number := map[*source.File]int{}
		for n, f := range plants {
			if lines := more(n); lines != "-" {
				e := f.entry(t, n, lines)
				number[e.File] = n
				own = append(own, e)
			}
		}
		s := shelf
		s.Entries = own
		_, ds := entries.Assemble([]entries.Shelf{s})
		out := map[int]source.Diagnostics{}
		for _, d := range ds {
			n, inEntry := number[d.Span.File]
			if !inEntry {
				t.Errorf("told in a file that is not the writer's: %s", told(source.Diagnostics{d}))
				continue
			}
			out[n] = append(out[n], d)
		}
		return out
	}
	first := faults(func(int) string { return "" })
	for n, ds := range first {
		if plants[n].ordinary {
			t.Errorf("%s, which is ordinary:\n%s", plants[n], told(ds))
		}
	}
	// What the hint says is written.
	again := faults(func(n int) string {
		var without []string
		for _, d := range first[n] {
			i := slices.IndexFunc(d.Hints, func(h string) bool { return strings.Contains(h, "without: [") })
			if i < 0 {
				t.Errorf("%s: no way out: %s %q", plants[n], d.Message, d.Hints)
				return "-"
			}
			_, job, _ := strings.Cut(d.Hints[i], "without: [")
			without = append(without, strings.TrimSuffix(job, "]"))
		}
		if without == nil {
			return "-"
		}
		return "without: [" + strings.Join(without, ", ") + "]\n"
	})
	for n, ds := range again {
		t.Errorf("%s, with what the hint says:\n%s", plants[n], told(ds))
	}
	if len(first) == 0 {
		t.Error("no flowering time is refused: the test shows nothing")
	}
}
