package generator_test

import (
	"context"
	"errors"
	"io/fs"
	"net"
	"os"
	"os/exec"
	"path/filepath"
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

// writeTo writes a result to a folder that no other build has.
func writeTo(t testing.TB, r *generator.Result, dir string) error {
	t.Helper()
	return r.WriteTo(t.Context(), dir, func(s string) { t.Errorf("told: %s", s) })
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
	if err := writeTo(t, result("index.html", "plants/a.html", "plants/b.html", "jobs/c.html"), dir); err != nil {
		t.Fatal(err)
	}
	// A reader's own file beside ours stays, and so does its folder.
	own := filepath.Join(dir, "jobs", "my notes.txt")
	if err := os.WriteFile(own, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := writeTo(t, result("index.html", "plants/b.html"), dir); err != nil {
		t.Fatal(err)
	}
	if got := names(t, dir); got != "index.html jobs/my notes.txt plants/b.html" {
		t.Errorf("left: %s", got)
	}
}

func TestWriteLeavesEqualFilesAlone(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	if err := writeTo(t, result("a", "b"), dir); err != nil {
		t.Fatal(err)
	}
	old := time.Date(2001, 1, 1, 0, 0, 0, 0, time.UTC)
	if err := os.Chtimes(filepath.Join(dir, "a"), old, old); err != nil {
		t.Fatal(err)
	}
	if err := writeTo(t, result("a", "b"), dir); err != nil {
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
			if err := writeTo(t, result("b"), dir); err != nil {
				return err
			}
			return os.WriteFile(filepath.Join(dir, "index.html"), []byte("mine"), 0o644)
		},
		"a folder in the way": func(dir string) error {
			return errors.Join(writeTo(t, result("b"), dir), os.Mkdir(filepath.Join(dir, "index.html"), 0o755))
		},
		"a link where a file of ours was": func(dir string) error {
			return errors.Join(writeTo(t, result("b", "index.html"), dir), os.Remove(filepath.Join(dir, "index.html")),
				os.Symlink("b", filepath.Join(dir, "index.html")))
		},
		"a file where a folder belongs": func(dir string) error {
			return errors.Join(writeTo(t, result("b"), dir), os.WriteFile(filepath.Join(dir, "plants"), []byte("mine"), 0o644))
		},
		"a link that leads out where a folder belongs": func(dir string) error {
			return errors.Join(writeTo(t, result("b"), dir), os.Symlink(filepath.Dir(dir), filepath.Join(dir, "plants")))
		},
		"a pipe as the list": func(dir string) error {
			return errors.Join(writeTo(t, result("b"), dir), os.Remove(filepath.Join(dir, "sheaf-files.txt")), pipe(filepath.Join(dir, "sheaf-files.txt")))
		},
		"a pipe as the list of a folder with nothing else": func(dir string) error {
			return pipe(filepath.Join(dir, "sheaf-files.txt"))
		},
		"a device as the list": func(dir string) error {
			return os.Symlink(os.DevNull, filepath.Join(dir, "sheaf-files.txt"))
		},
		"a socket as the list": func(dir string) error {
			l, err := net.Listen("unix", filepath.Join(dir, "sheaf-files.txt"))
			if err != nil {
				t.Skip(err)
			}
			t.Cleanup(func() { l.Close() })
			return nil
		},
		"a folder as the list": func(dir string) error {
			return os.Mkdir(filepath.Join(dir, "sheaf-files.txt"), 0o755)
		},
		"a file where builds stage": func(dir string) error {
			return os.WriteFile(filepath.Join(dir, ".sheaf-new"), []byte("mine"), 0o644)
		},
		"a link where builds stage": func(dir string) error {
			return os.Symlink(t.TempDir(), filepath.Join(dir, ".sheaf-new"))
		},
		"a pipe as the lock": func(dir string) error {
			return errors.Join(os.Mkdir(filepath.Join(dir, ".sheaf-new"), 0o755), pipe(filepath.Join(dir, ".sheaf-new", "lock")))
		},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			if err := prepare(dir); errors.Is(err, exec.ErrNotFound) {
				t.Skip(err)
			} else if err != nil {
				t.Fatal(err)
			}
			before := names(t, dir)
			done := make(chan error, 1)
			go func() { done <- writeTo(t, result("index.html", "plants/a.html"), dir) }()
			var folder *generator.FolderError
			select {
			case err := <-done:
				if !errors.As(err, &folder) {
					t.Fatalf("got %v", err)
				}
			case <-time.After(10 * time.Second):
				t.Fatal("it waits for someone to write to what it reads")
			}
			if after := names(t, dir); after != before {
				t.Errorf("%q became %q", before, after)
			}
		})
	}
	t.Run("a path that leads out", func(t *testing.T) {
		dir := filepath.Join(t.TempDir(), "out")
		if err := writeTo(t, result("../x"), dir); err == nil {
			t.Error("it was written")
		}
	})
}

// TestWriteToAReadOnlyFolder fails with the folder as it was.
func TestWriteToAReadOnlyFolder(t *testing.T) {
	dir := t.TempDir()
	if err := writeTo(t, result("index.html"), dir); err != nil {
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
	if err := writeTo(t, result("index.html", "plants/a.html"), dir); !errors.Is(err, os.ErrPermission) {
		t.Errorf("got %v", err)
	}
	if got := names(t, dir); got != "index.html" {
		t.Errorf("left: %s", got)
	}
}

// pipe makes a file that is not opened until someone writes to it.
func pipe(name string) error { return exec.Command("mkfifo", name).Run() }

// TestLeftByAStoppedBuild: what a build that was stopped has left, its lock among
// it, holds up no other and is cleared up.
func TestLeftByAStoppedBuild(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	if err := writeTo(t, result("index.html"), dir); err != nil {
		t.Fatal(err)
	}
	for _, left := range []string{"lock", "list", "files/index.html", "files/plants/a.html", "4711/index.html"} {
		at := filepath.Join(dir, ".sheaf-new", filepath.FromSlash(left))
		if err := errors.Join(os.MkdirAll(filepath.Dir(at), 0o755), os.WriteFile(at, []byte("left"), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	if err := writeTo(t, result("index.html", "plants/a.html"), dir); err != nil {
		t.Fatal(err)
	}
	if got := names(t, dir); got != "index.html plants/a.html" {
		t.Errorf("left: %s", got)
	}
	if _, err := os.Lstat(filepath.Join(dir, ".sheaf-new")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the folder where builds stage is left: %v", err)
	}
}

// TestWaitsForAnotherBuild: a build waits for the one that has the folder, says so
// once, and ends when it is told to or has waited long enough.
func TestWaitsForAnotherBuild(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "out")
	first, err := generator.OpenOutput(t.Context(), dir, func(s string) { t.Error(s) })
	if err != nil {
		t.Fatal(err)
	}
	defer first.Close()

	var told []string
	tell := func(s string) { told = append(told, s) }
	ctx, cancel := context.WithTimeout(t.Context(), 3*time.Second)
	defer cancel()
	_, err = generator.OpenOutput(ctx, dir, tell)
	var folder *generator.FolderError
	if !errors.As(err, &folder) || !strings.Contains(err.Error(), dir+": another build is still writing") {
		t.Errorf("after waiting: %v", err)
	}
	if len(told) != 1 || !strings.Contains(told[0], dir+": another build is writing") {
		t.Errorf("told: %q", told)
	}

	ctx, cancel = context.WithCancel(t.Context())
	time.AfterFunc(100*time.Millisecond, cancel)
	began := time.Now()
	if _, err := generator.OpenOutput(ctx, dir, tell); !errors.Is(err, context.Canceled) || time.Since(began) > 20*time.Second {
		t.Errorf("told to end: %v after %v", err, time.Since(began))
	}

	// One that failed gives the folder free, and takes it away if it has made it.
	second := make(chan error, 1)
	go func() { second <- result("index.html").WriteTo(t.Context(), dir, func(string) {}) }()
	time.Sleep(200 * time.Millisecond)
	if err := errors.Join(first.Put("plants/a.html", nil), first.Close(), <-second); err != nil {
		t.Fatal(err)
	}
	if got := names(t, dir); got != "index.html" {
		t.Errorf("left: %s", got)
	}
}
