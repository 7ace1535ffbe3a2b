package main

import (
	"context"
	"flag"
	"os"
	"os/signal"
	"path/filepath"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "write the expected output into the scripts")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"sheaf": func() {
		os.Exit(run(os.Args[1:], system{
			stdout: os.Stdout, stderr: os.Stderr, env: os.Getenv,
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
			return nil
		},
	})
}
