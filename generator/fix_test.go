package generator_test

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"sheaf/generator"
	"sheaf/generator/source"
)

// TestFixedLists: a list that was put right is read with the same care for the same
// plants, and of their names nothing is left to tell. The lists are the published ones,
// with the errors they were printed with.
func TestFixedLists(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("../testdata/lists/*.csv")
	if err != nil || len(files) < 40 {
		t.Fatalf("%d lists: %v", len(files), err)
	}
	put := 0
	for i, name := range files {
		if i%5 != 0 { // as much as there is time for; all of them were tried
			continue
		}
		before, _, err := generator.MatchList(generator.MatchRequest{List: name})
		if err != nil {
			t.Fatal(err)
		}
		to := filepath.Join(t.TempDir(), filepath.Base(generator.FixedName(name)))
		fix, err := before.Fix(to)
		if err != nil {
			t.Fatal(err)
		}
		put += fix.Renamed
		after, ds, err := generator.MatchList(generator.MatchRequest{List: to})
		if err != nil || ds.HasErrors() || len(after.Rows) != len(before.Rows) {
			t.Errorf("%s: %d rows of %d: %v", to, len(after.Rows), len(before.Rows), err)
			continue
		}
		for i, r := range after.Rows {
			was := before.Rows[i]
			if r.Entry != was.Entry || r.File != was.File {
				t.Errorf("%s: %s, before %s, has the care of %q, before of %q", filepath.Base(name), r.Plant, was.Plant, r.Entry, was.Entry)
			}
			if r.Entry == "" {
				continue
			}
			if i := slices.IndexFunc(r.Told, func(d source.Diagnostic) bool {
				return d.Code == "list/name-form" && !strings.HasPrefix(d.Message, "no rank") || d.Code == "list/spelling" || d.Code == "list/synonym"
			}); i >= 0 {
				t.Errorf("%s: %s, before %s: %s", filepath.Base(name), r.Plant, was.Plant, r.Told[i].Message)
			}
		}
	}
	if put < 20 {
		t.Errorf("only %d names are put right", put)
	}
}
