package generator_test

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"sheaf/generator"
)

func result(files ...string) *generator.Result {
	r := &generator.Result{Files: map[string][]byte{}}
	for _, f := range files {
		r.Files[f] = []byte("text of " + f)
	}
	return r
}

func names(t *testing.T, dir string) string {
	t.Helper()
	var out []string
	err := filepath.WalkDir(dir, func(p string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() && d.Name() != "sheaf-files.txt" {
			rel, _ := filepath.Rel(dir, p)
			out = append(out, filepath.ToSlash(rel))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(out, " ")
}

func TestWriteReplacesOnlyItsOwn(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	if err := result("index.html", "plants/a.html", "plants/b.html", "jobs/c.html").WriteTo(dir); err != nil {
		t.Fatal(err)
	}
	// A reader's own file beside ours stays, and so does its folder.
	own := filepath.Join(dir, "jobs", "my notes.txt")
	if err := os.WriteFile(own, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := result("index.html", "plants/b.html").WriteTo(dir); err != nil {
		t.Fatal(err)
	}
	if got := names(t, dir); got != "index.html jobs/my notes.txt plants/b.html" {
		t.Errorf("left: %s", got)
	}
}

func TestWriteLeavesEqualFilesAlone(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	if err := result("a", "b").WriteTo(dir); err != nil {
		t.Fatal(err)
	}
	old := time.Date(2001, 1, 1, 0, 0, 0, 0, time.UTC)
	if err := os.Chtimes(filepath.Join(dir, "a"), old, old); err != nil {
		t.Fatal(err)
	}
	if err := result("a", "b").WriteTo(dir); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(filepath.Join(dir, "a")); err != nil || !info.ModTime().Equal(old) {
		t.Errorf("an equal file was written again: %v %v", info.ModTime(), err)
	}
}

func TestWriteRefuses(t *testing.T) {
	for name, prepare := range map[string]func(dir string) error{
		"a folder of someone else's": func(dir string) error {
			return os.WriteFile(filepath.Join(dir, "letter.txt"), nil, 0o644)
		},
		"a list that is not ours": func(dir string) error {
			return os.WriteFile(filepath.Join(dir, "sheaf-files.txt"), []byte("index.html\n"), 0o644)
		},
		"a file in the way": func(dir string) error {
			if err := result("b").WriteTo(dir); err != nil {
				return err
			}
			return os.WriteFile(filepath.Join(dir, "index.html"), []byte("mine"), 0o644)
		},
		"a folder in the way": func(dir string) error {
			return errors.Join(result("b").WriteTo(dir), os.Mkdir(filepath.Join(dir, "index.html"), 0o755))
		},
		"a link where a file of ours was": func(dir string) error {
			return errors.Join(result("b", "index.html").WriteTo(dir), os.Remove(filepath.Join(dir, "index.html")),
				os.Symlink("b", filepath.Join(dir, "index.html")))
		},
		"a file where a folder belongs": func(dir string) error {
			return errors.Join(result("b").WriteTo(dir), os.WriteFile(filepath.Join(dir, "plants"), []byte("mine"), 0o644))
		},
		"a link that leads out where a folder belongs": func(dir string) error {
			return errors.Join(result("b").WriteTo(dir), os.Symlink(filepath.Dir(dir), filepath.Join(dir, "plants")))
		},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			if err := prepare(dir); err != nil {
				t.Fatal(err)
			}
			before := names(t, dir)
			err := result("index.html", "plants/a.html").WriteTo(dir)
			var folder *generator.FolderError
			if !errors.As(err, &folder) {
				t.Fatalf("got %v", err)
			}
			if after := names(t, dir); after != before {
				t.Errorf("%q became %q", before, after)
			}
		})
	}
	t.Run("a path that leads out", func(t *testing.T) {
		dir := filepath.Join(t.TempDir(), "out")
		if err := result("../x").WriteTo(dir); err == nil {
			t.Error("it was written")
		}
	})
}

// TestWriteToAReadOnlyFolder fails with the folder as it was.
func TestWriteToAReadOnlyFolder(t *testing.T) {
	dir := t.TempDir()
	if err := result("index.html").WriteTo(dir); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(dir, 0o755)
	if f, err := os.Create(filepath.Join(dir, "try")); err == nil {
		f.Close()
		os.Remove(f.Name())
		t.Skip("this user may write anywhere")
	}
	if err := result("index.html", "plants/a.html").WriteTo(dir); !errors.Is(err, os.ErrPermission) {
		t.Errorf("got %v", err)
	}
	if got := names(t, dir); got != "index.html" {
		t.Errorf("left: %s", got)
	}
}

// TestTwoBuildsAtOnce: a build leaves alone what another is staging, and the later
// to settle wins; what a build that was stopped has left is cleared up.
func TestTwoBuildsAtOnce(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	if err := result("index.html").WriteTo(dir); err != nil {
		t.Fatal(err)
	}
	other := exec.Command("sleep", "60")
	if err := other.Start(); err != nil {
		t.Skip(err)
	}
	staged := filepath.Join(dir, ".sheaf-new", strconv.Itoa(other.Process.Pid), "index.html")
	if err := errors.Join(os.MkdirAll(filepath.Dir(staged), 0o755), os.WriteFile(staged, nil, 0o644)); err != nil {
		t.Fatal(err)
	}
	if err := result("index.html", "plants/a.html").WriteTo(dir); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(staged); err != nil {
		t.Errorf("the other build has lost a file: %v", err)
	}
	if err := other.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	other.Wait()
	if err := result("index.html", "plants/a.html").WriteTo(dir); err != nil {
		t.Fatal(err)
	}
	if got := names(t, dir); got != "index.html plants/a.html" {
		t.Errorf("left: %s", got)
	}
}
