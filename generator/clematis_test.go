package generator

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"sheaf/generator/entries"
)

// clematisGroup is the pruning group by which an entry's care cuts: 0 for care
// that cuts nothing living, 3 for one that dies down and is cut near the ground.
func clematisGroup(e *entries.Entry) (int, error) {
	switch {
	case e.Group == nil:
		return 0, fmt.Errorf("%s has no care group", e.File.Path)
	case strings.HasPrefix(e.Group.Name.Value, "clematis pruning group "):
		return strconv.Atoi(strings.TrimPrefix(e.Group.Name.Value, "clematis pruning group "))
	case e.Type == "perennial":
		return 3, nil
	}
	return 0, nil
}

// TestClematisIsPrunedAsPublished: a cultivar that a list names with the genus
// alone is cut as published tables of pruning groups say, or less. Each name of
// testdata/clematis.tsv has an entry of its own kind, and not the cautious one.
func TestClematisIsPrunedAsPublished(t *testing.T) {
	text, err := os.ReadFile("../testdata/clematis.tsv")
	if err != nil {
		t.Fatal(err)
	}
	type printed struct {
		name, source string
		group        int
	}
	var rows []printed
	list := strings.Builder{}
	list.WriteString("plant\n")
	names := map[string]bool{}
	for _, line := range strings.Split(strings.TrimSpace(string(text)), "\n") {
		if strings.HasPrefix(line, "#") {
			continue
		}
		f := strings.Split(line, "\t")
		if len(f) != 3 {
			t.Fatalf("not a row of three: %q", line)
		}
		group, err := strconv.Atoi(f[1])
		if err != nil || group < 1 || group > 3 {
			t.Fatalf("no group: %q", line)
		}
		rows = append(rows, printed{f[0], f[2], group})
		names[f[0]] = true
		fmt.Fprintf(&list, "\"Clematis '%s'\"\n", f[0])
	}
	if len(names) < 60 {
		t.Errorf("only %d names are checked", len(names))
	}
	file := filepath.Join(t.TempDir(), "clematis.csv")
	if err := os.WriteFile(file, []byte(list.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	c, _, err := MatchList(MatchRequest{List: file})
	if err != nil || len(c.Rows) != len(rows) {
		t.Fatalf("%d of %d rows: %v", len(c.Rows), len(rows), err)
	}
	_, l, _ := shipped(t, nil)
	for i, r := range c.Rows {
		var e *entries.Entry
		for _, o := range l.Entries {
			if r.File != "" && strings.HasSuffix(r.File, o.File.Path) {
				e = o
			}
		}
		if e == nil || e.Serves.Value != "" {
			t.Errorf("%s is not sorted (%s, %s): %s says %d", r.Plant, r.How, r.File, rows[i].source, rows[i].group)
			continue
		}
		have, err := clematisGroup(e)
		if err != nil {
			t.Error(err)
		}
		if have > rows[i].group {
			t.Errorf("%s is cut as group %d by %s; %s says %d", r.Plant, have, e.File.Path, rows[i].source, rows[i].group)
		}
	}
}

// TestClematisIsSorted counts the cultivars whose pruning group is known.
func TestClematisIsSorted(t *testing.T) {
	_, l, _ := shipped(t, nil)
	by, all := map[int]int{}, 0
	for _, e := range l.Entries {
		if e.Name.Value.Genus != "Clematis" || e.Serves.Value != "" {
			continue
		}
		group, err := clematisGroup(e)
		if err != nil {
			t.Error(err)
		}
		by[group] += len(e.Cultivars)
		all += len(e.Cultivars)
	}
	t.Logf("by pruning group: %v", by)
	if all < 250 || by[1] < 50 || by[2] < 80 || by[3] < 80 {
		t.Errorf("%d cultivars of clematis are sorted: %v", all, by)
	}
}
