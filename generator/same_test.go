package generator_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// program builds the program into a folder of the test's.
func program(t testing.TB) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "sheaf.exe") // Windows asks for the ending
	cmd := exec.Command("go", "build", "-o", name, "./cmd/sheaf")
	cmd.Dir = ".."
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return name
}

// filesIn reads a folder whole.
func filesIn(t testing.TB, dir string) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	root := os.DirFS(dir)
	err := fs.WalkDir(root, ".", func(p string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			out[p], err = fs.ReadFile(root, p)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// TestSameBytesAnywhere builds the demo with the program itself under three
// time zones, locales, numbers of processors and places, every two values of
// two of them together once (an orthogonal array of 9 runs and strength 2): all
// editions have the same bytes each time.
func TestSameBytesAnywhere(t *testing.T) {
	sheaf := program(t)
	top, err := filepath.Abs("..")
	if err != nil {
		t.Fatal(err)
	}
	// The library and the gardens as they lie beside each other, elsewhere.
	copied := filepath.Join(t.TempDir(), "Gärten für später", "content")
	if err := os.CopyFS(copied, os.DirFS(filepath.Join(top, "content"))); err != nil {
		t.Fatal(err)
	}
	zones := []string{"UTC", "Pacific/Auckland", "America/St_Johns"}
	locales := []string{"C", "de_DE.UTF-8", "tr_TR.UTF-8"}
	processors := []string{"1", "2", "7"}
	places := []struct{ from, garden string }{
		{top, "content/gardens/dovecote-barn"},
		{t.TempDir(), filepath.Join(top, "content", "gardens", "dovecote-barn", "garden.yaml")},
		{filepath.Join(copied, "gardens", "dovecote-barn"), "."},
	}
	var first map[string][]byte
	for run := range 9 {
		a, b := run/3, run%3
		zone, locale, procs, place := zones[a], locales[b], processors[(a+b)%3], places[(a+2*b)%3]
		name := fmt.Sprintf("TZ=%s LC_ALL=%s GOMAXPROCS=%s %s", zone, locale, procs, place.garden)
		out := filepath.Join(t.TempDir(), "out")
		cmd := exec.Command(sheaf, "build", place.garden, "--out", out)
		cmd.Dir = place.from
		cmd.Env = append(os.Environ(), "TZ="+zone, "LANG="+locale, "LC_ALL="+locale, "GOMAXPROCS="+procs, "PWD="+place.from, "SOURCE_DATE_EPOCH=")
		if said, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", name, err, said)
		}
		files := filesIn(t, out)
		if first == nil {
			first = files
			for _, edition := range []string{"index.html", "booklet.html", "booklet.pdf", "booklet-fold.pdf", "booklet-large.pdf", "year-sheet.pdf", "work.pdf", "care.ics", "booklet.json"} {
				if len(first[edition]) == 0 {
					t.Errorf("there is no %s", edition)
				}
			}
			continue
		}
		if got, want := slices.Sorted(maps.Keys(files)), slices.Sorted(maps.Keys(first)); !slices.Equal(got, want) {
			t.Errorf("%s: the files are\n%s\nwant\n%s", name, strings.Join(got, " "), strings.Join(want, " "))
		}
		for file, data := range files {
			if !bytes.Equal(data, first[file]) {
				t.Errorf("%s: %s differs:\n%.400s", name, file, firstDifference(string(data), string(first[file])))
			}
		}
	}
	// What the environment may ask for does arrive, so the runs did differ in it.
	out := filepath.Join(t.TempDir(), "out")
	cmd := exec.Command(sheaf, "build", places[0].garden, "--editions", "ics", "--out", out)
	cmd.Dir, cmd.Env = top, append(os.Environ(), "SOURCE_DATE_EPOCH=86400")
	if said, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	if bytes.Equal(filesIn(t, out)["care.ics"], first["care.ics"]) {
		t.Error("SOURCE_DATE_EPOCH does not reach the program")
	}
}
