package main

import (
	"bytes"
	"context"
	"flag"
	"io/fs"
	"os"
	"os/signal"
	"path/filepath"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"sheaf/generator/clubtest"
	"sheaf/generator/tooltest"
)

var update = flag.Bool("update", false, "write the expected output into the scripts")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"sheaf": func() {
		os.Exit(run(os.Args[1:], system{
			stdin: os.Stdin, stdout: os.Stdout, stderr: os.Stderr, env: os.Getenv,
			now: func() time.Time { return time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC) },
			interrupted: func() (context.Context, context.CancelFunc) {
				return signal.NotifyContext(context.Background(), os.Interrupt)
			},
		}))
	}})
}

// TestScripts runs the program as people do; each script is one behaviour.
func TestScripts(t *testing.T) {
	repo, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:           "testdata",
		UpdateScripts: *update,
		Setup: func(e *testscript.Env) error {
			e.Setenv("REPO", repo)
			e.Defer(func() { readPDFs(t, e.WorkDir) })
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"club": club, "until": until},
	})
}

// until waits until a file is there.
func until(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: until FILE")
	}
	for range 3000 {
		if _, err := os.Stat(ts.MkAbs(args[0])); err == nil {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	ts.Fatalf("waited a minute for %s", args[0])
}

// readPDFs has qpdf read what a script leaves.
func readPDFs(t *testing.T, dir string) {
	err := fs.WalkDir(os.DirFS(dir), ".", func(p string, e fs.DirEntry, err error) error {
		if err != nil || !e.Type().IsRegular() || filepath.Ext(p) != ".pdf" {
			return err
		}
		data, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(p)))
		if err == nil && bytes.HasPrefix(data, []byte("%PDF-")) { // and not a script's own
			tooltest.PDF(t, p, data)
		}
		return err
	})
	if err != nil {
		t.Error(err)
	}
}

// club writes the club of clubtest into the script's folder: "club garden" or
// "club guide".
func club(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 || args[0] != "garden" && args[0] != "guide" {
		ts.Fatalf("usage: club garden|guide")
	}
	for name, data := range clubtest.Files(args[0] == "guide") {
		name = ts.MkAbs(filepath.FromSlash(name))
		ts.Check(os.MkdirAll(filepath.Dir(name), 0o755))
		ts.Check(os.WriteFile(name, data, 0o644))
	}
}
