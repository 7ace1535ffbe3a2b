package main

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

func TestQuoted(t *testing.T) {
	for _, c := range []struct{ word, posix, windows string }{
		{"larch-end", `larch-end`, `larch-end`},
		{"gardens/Gärten/plants.csv", `gardens/Gärten/plants.csv`, `gardens/Gärten/plants.csv`},
		{`C:\gardens\larch`, `'C:\gardens\larch'`, `C:\gardens\larch`},
		{"my lists/p.csv", `"my lists/p.csv"`, `"my lists/p.csv"`},
		{"Geranium phaeum 'Album'", `"Geranium phaeum 'Album'"`, `"Geranium phaeum 'Album'"`},
		{"a$b", `'a$b'`, `"a$b"`},
		{"it's `x` $(y)!", `'it'\''s ` + "`x`" + ` $(y)!'`, "\"it's `x` $(y)!\""},
		{"~", `"~"`, `"~"`},
		{"a;b&c|d*e?", `"a;b&c|d*e?"`, `"a;b&c|d*e?"`},
		{"", `""`, `""`},
	} {
		if got := quoted("linux", c.word); got != c.posix {
			t.Errorf("%q is quoted %s, want %s", c.word, got, c.posix)
		}
		if got := quoted("windows", c.word); got != c.windows {
			t.Errorf("%q is quoted on Windows %s, want %s", c.word, got, c.windows)
		}
		// A shell reads what was written.
		if sh, err := exec.LookPath("sh"); err == nil {
			out, err := exec.Command(sh, "-c", "printf %s "+quoted("linux", c.word)).Output()
			if err != nil || string(out) != c.word {
				t.Errorf("the shell reads %q of %q: %v", out, c.word, err)
			}
		}
	}
}

// TestShowsWholePaths: a file of a library that is named by its whole path is told
// by that, from whichever folder.
func TestShowsWholePaths(t *testing.T) {
	whole, err := filepath.Abs(filepath.Join("club", "plants", "x.md"))
	if err != nil {
		t.Fatal(err)
	}
	show := system{env: func(string) string { return "" }}.style("gardens/larch-end", 0).Show
	if got := show(filepath.ToSlash(whole)); got != whole {
		t.Errorf("%s is shown as %s", whole, got)
	}
	if got, want := show("plants/x.md"), filepath.Join("gardens", "larch-end", "plants", "x.md"); got != want {
		t.Errorf("shown as %s, want %s", got, want)
	}
	if got := show("built-in/plants/x.md"); !strings.HasPrefix(got, "built-in") {
		t.Errorf("shown as %s", got)
	}
}
