package generator_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"sheaf/generator"
)

// TestCopyTellsAllFaults: of a copy of the shipped library in which something was
// changed as much is told as when all of it is parsed, as it is once the garden has a
// care group of its own.
func TestCopyTellsAllFaults(t *testing.T) {
	told := func(t *testing.T, garden string) string {
		t.Helper()
		o := options(t, garden)
		defer o.Close()
		_, ds, err := generator.Check(o)
		if err != nil {
			t.Fatal(err)
		}
		return printed(ds)
	}
	change := func(from, to string) func(t *testing.T, name string) {
		return func(t *testing.T, name string) {
			was := text(t, name)
			if !strings.Contains(was, from) {
				t.Fatalf("%s has no %q", name, from)
			}
			write(t, name, strings.Replace(was, from, to, 1))
		}
	}
	remove := func(t *testing.T, name string) {
		if err := os.Remove(name); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		what, file string
		change     func(t *testing.T, name string)
		code       string // of a fault that the change makes; "" for none
	}{
		{"nothing", "plants/grasses/sesleria-autumnalis.md", func(*testing.T, string) {}, ""},
		{"an entry's words", "plants/grasses/sesleria-autumnalis.md", change("autumn moor grass", "moor grass"), ""},
		{"an entry's care", "plants/grasses/sesleria-autumnalis.md", change("care-group:", "care-grupp:"), "entry/unknown-key"},
		{"an entry's cultivars", "plants/grasses/sesleria-autumnalis.md", change("[Campo Verde]", "[Campo Verde, Campo Azul, Campo Verde]"), ""},
		{"an entry among answers", "plants/perennials/vinca-minor.md", remove, "entry/no-such-group"},
		{"the types of a group", "groups/annual-cleared-at-first-frost.md", change("types: [annual, tender]", "types: [tender]"), "entry/group-type"},
		{"a group", "groups/annual-cleared-at-first-frost.md", remove, "entry/no-such-group"},
		{"a job", "jobs/comb.md", remove, "entry/no-such-job"},
		{"the half of the world", "library.yaml", change("written-for: north", "written-for: south"), ""},
	} {
		t.Run(c.what, func(t *testing.T) {
			garden := workshop(t)
			c.change(t, filepath.Join(garden, "..", "library", filepath.FromSlash(c.file)))
			got := told(t, garden)
			group := text(t, filepath.Join("..", "content", "groups", "box-hedge.md"))
			write(t, filepath.Join(garden, "groups", "own.md"), strings.Replace(group, "group: ", "group: own ", 1))
			if want := told(t, garden); got != want {
				t.Errorf("a copy tells\n%s\nthe whole\n%s", got, want)
			}
			if !strings.Contains(got, c.code) {
				t.Errorf("no %s is told:\n%s", c.code, got)
			}
		})
	}
}
