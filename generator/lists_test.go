package generator_test

import (
	"bytes"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"sheaf/generator"
	"sheaf/generator/garden"
)

// A printed row of a published planting list, and how it was matched.
type printedRow struct {
	list, plant, read, how, entry string
}

// publishedLists reads testdata/lists: planting lists as printed, their errors with
// them, from the publications named in SOURCES.md there.
func publishedLists(t *testing.T) []printedRow {
	t.Helper()
	files, err := filepath.Glob("../testdata/lists/*.csv")
	if err != nil || len(files) < 40 {
		t.Fatalf("%d lists: %v", len(files), err)
	}
	var out []printedRow
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		c, _, err := generator.MatchList(generator.MatchRequest{List: name})
		if err != nil {
			t.Fatal(err)
		}
		if printed := bytes.Count(bytes.TrimSpace(text), []byte("\n")); len(c.Rows) != printed {
			t.Errorf("%s: %d of %d rows are read", name, len(c.Rows), printed)
		}
		for _, r := range c.Rows {
			out = append(out, printedRow{strings.TrimSuffix(filepath.Base(name), ".csv"), r.Plant, r.Name, r.How, r.Entry})
		}
	}
	return out
}

// TestPublishedLists holds the share of rows that have care to what a designer
// needs on the first evening: 95 of 100 in Britain, Ireland, America, Canada,
// Germany and the Netherlands, 85 in Australia and New Zealand. How each row was
// matched stands in testdata/lists/matched.tsv, which is read by eye: no row may
// have the care of another plant.
func TestPublishedLists(t *testing.T) {
	t.Parallel()
	rows := publishedLists(t)
	var golden strings.Builder
	golden.WriteString("# How each row of the published lists comes to its care; written by go test -update.\n# list\tas printed\tas read\thow\tentry\n")
	all, held := map[string]int{}, map[string]int{}
	ways := map[string]int{}
	for _, r := range rows {
		fmt.Fprintf(&golden, "%s\t%s\t%s\t%s\t%s\n", r.list, r.plant, r.read, r.how, r.entry)
		where, _, _ := strings.Cut(r.list, "-")
		group := "north"
		if where == "au" || where == "nz" {
			group = "south"
		}
		for _, k := range []string{where, group} {
			all[k]++
			if r.entry != "" {
				held[k]++
			}
		}
		ways[r.how]++
	}
	heldTo(t, "../testdata/lists/matched.tsv", golden.String())
	for _, k := range slices.Sorted(maps.Keys(all)) {
		t.Logf("%s: %d of %d rows, %.1f %%", k, held[k], all[k], 100*float64(held[k])/float64(all[k]))
	}
	for _, k := range slices.Sorted(maps.Keys(ways)) {
		t.Logf("%s: %d", k, ways[k])
	}
	for group, least := range map[string]float64{"north": 95, "south": 85} {
		if share := 100 * float64(held[group]) / float64(all[group]); share < least {
			t.Errorf("%s: %.1f %% of the rows have care, want %.0f", group, share, least)
		}
	}
	if !slices.ContainsFunc(rows, func(r printedRow) bool { return r.how == string(garden.None) }) {
		t.Log("every row has care")
	}
}
