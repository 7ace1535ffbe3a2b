package generator_test

import (
	"bytes"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"sheaf/content"
	"sheaf/generator"
	"sheaf/generator/source"
)

// workshop is the demo garden on the disk with a library of its own, so that
// any file can be changed.
func workshop(t testing.TB) (garden string) {
	t.Helper()
	dir := t.TempDir()
	garden = filepath.Join(dir, "garden")
	if err := os.CopyFS(garden, os.DirFS(demo)); err != nil {
		t.Fatal(err)
	}
	if err := os.CopyFS(filepath.Join(dir, "library"), content.Library()); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(garden, "garden.yaml")
	write(t, name, strings.Replace(text(t, name), "library: [../../, built-in]", "library: [../library]", 1))
	return garden
}

func write(t testing.TB, name, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func text(t testing.TB, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

var may = time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC)

// built is what a session or a fresh build comes to, in words.
func built(t *testing.T, compose func(generator.Options) (*generator.Proof, source.Diagnostics, error)) (map[string][]byte, string) {
	t.Helper()
	p, ds, err := compose(generator.Options{Now: may})
	if err != nil {
		return nil, err.Error()
	}
	if p == nil {
		return nil, printed(ds)
	}
	files, ds, err := p.Print(t.Context(), []string{"web", "ics", "json"})
	if err != nil {
		t.Fatal(err)
	}
	return files, printed(ds)
}

// fresh composes a garden as it is.
func fresh(garden string) func(generator.Options) (*generator.Proof, source.Diagnostics, error) {
	return func(o generator.Options) (*generator.Proof, source.Diagnostics, error) {
		var err error
		if o.Folders, err = generator.Open(garden); err != nil {
			return nil, nil, err
		}
		defer o.Close()
		return generator.Compose(o)
	}
}

// TestSessionIsAsGoodAsNew changes files at random, the faulty kinds too, and
// holds what the session makes of it to a fresh build, in bytes and in words.
func TestSessionIsAsGoodAsNew(t *testing.T) {
	garden := workshop(t)
	library := filepath.Join(garden, "..", "library")
	s := generator.NewSession(garden)
	r := rand.New(rand.NewPCG(8, 1))
	originals := map[string]string{}
	for _, p := range []string{"plants/*/*.md", "groups/*.md", "jobs/*.md"} {
		files, err := filepath.Glob(filepath.Join(library, filepath.FromSlash(p)))
		if err != nil || len(files) == 0 {
			t.Fatal(p, err)
		}
		for _, f := range files {
			originals[f] = text(t, f)
		}
	}
	for _, f := range []string{"garden.yaml", "plants.csv"} {
		f = filepath.Join(garden, f)
		originals[f] = text(t, f)
	}
	names := slices.Sorted(maps.Keys(originals))
	outcomes := map[bool]int{}
	for round := range 25 {
		var changed []string
		for range 1 + r.IntN(3) {
			name := names[r.IntN(len(names))]
			if r.IntN(4) == 0 {
				name = names[len(names)-1-r.IntN(2)] // of the garden
			}
			was := originals[name]
			switch r.IntN(6) {
			case 0:
				if err := os.Remove(name); err != nil && !os.IsNotExist(err) {
					t.Fatal(err)
				}
			case 1:
				write(t, name, strings.Replace(was, "care-group:", "care-grupp:", 1))
			case 2:
				write(t, name, was+fmt.Sprintf("\nMore words in round %d.\n", round))
			default:
				write(t, name, was)
			}
			changed = append(changed, name)
		}
		if round%5 == 4 { // back to where it was, for builds without a fault
			for name, was := range originals {
				write(t, name, was)
			}
			changed = nil
		}
		s.Changed(changed)
		got, said := built(t, s.Compose)
		want, say := built(t, fresh(garden))
		if said != say {
			t.Fatalf("round %d, %v: the session says\n%s\na fresh build\n%s", round, changed, said, say)
		}
		if !maps.EqualFunc(got, want, bytes.Equal) {
			t.Fatalf("round %d, %v: the session makes other files", round, changed)
		}
		outcomes[got != nil]++
	}
	if outcomes[true] < 5 || outcomes[false] < 5 {
		t.Errorf("%d builds made files and %d told faults; both should be tried", outcomes[true], outcomes[false])
	}
}

// TestSessionLooksAtSizeAndTime: without being told, a session sees a file that
// differs in either; one that differs in neither it must be told of.
func TestSessionLooksAtSizeAndTime(t *testing.T) {
	garden := workshop(t)
	s := generator.NewSession(garden)
	name := filepath.Join(garden, "..", "library", "plants", "grasses", "sesleria-autumnalis.md")
	was := text(t, name)
	first, said := built(t, s.Compose)
	if first == nil {
		t.Fatal(said)
	}
	const page = "plants/sesleria-autumnalis.html"
	if first[page] == nil {
		t.Fatalf("the demo has no %s", page)
	}
	shows := func(word string) bool {
		files, _ := built(t, s.Compose)
		return bytes.Contains(files[page], []byte(word))
	}
	write(t, name, was+"\nWagtail.\n")
	if !shows("Wagtail") {
		t.Error("a longer file is not read again")
	}
	info, err := os.Stat(name)
	if err != nil {
		t.Fatal(err)
	}
	write(t, name, was+"\nBunting.\n")
	if err := os.Chtimes(name, info.ModTime(), info.ModTime()); err != nil {
		t.Fatal(err)
	}
	s.Changed([]string{name})
	if !shows("Bunting") {
		t.Error("a file that was named is not read again")
	}
	write(t, name, was+"\nCourser.\n")
	if err := os.Chtimes(name, info.ModTime(), info.ModTime()); err != nil {
		t.Fatal(err)
	}
	s.Changed(nil)
	if !shows("Courser") {
		t.Error("not all files are read again")
	}
}

// BenchmarkRebuild is what a save costs: one entry has changed, and the web
// edition is made anew.
func BenchmarkRebuild(b *testing.B) {
	garden := workshop(b)
	name := filepath.Join(garden, "..", "library", "plants", "grasses", "sesleria-autumnalis.md")
	was := text(b, name)
	s := generator.NewSession(garden)
	for n := 0; b.Loop(); n++ {
		write(b, name, fmt.Sprintf("%s\nA word in passing, %d.\n", was, n))
		s.Changed([]string{name})
		p, ds, err := s.Compose(generator.Options{Now: may})
		if err != nil || p == nil {
			b.Fatal(err, printed(ds))
		}
		if _, _, err := p.Print(b.Context(), []string{"web"}); err != nil {
			b.Fatal(err)
		}
	}
}
