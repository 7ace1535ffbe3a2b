package main

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// busy is a template that calls itself twice: it runs until its steps are spent.
const busy = `{{define "home"}}{{template "twice" ""}}{{end}}{{define "twice"}}{{if lt (len .) 200}}{{template "twice" (print . "x")}}{{template "twice" (print . "x")}}{{end}}{{end}}`

// busyGarden writes the demo with a theme of its own, whose template is busy.
func busyGarden(t *testing.T) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "garden")
	if err := os.CopyFS(dir, os.DirFS("../../content/gardens/dovecote-barn")); err != nil {
		t.Fatal(err)
	}
	yaml, err := os.ReadFile(filepath.Join(dir, "garden.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"garden.yaml":      strings.Replace(string(yaml), "library: [../../, built-in]", "library: [built-in]", 1) + "theme: looks\n",
		"looks/cover.html": busy,
	} {
		if err := os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// TestBuildIsInterrupted: who ends a build while a template runs waits for nothing,
// is told so, and finds no file that was not there before.
func TestBuildIsInterrupted(t *testing.T) {
	garden := busyGarden(t)
	out := filepath.Join(t.TempDir(), "out")
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	var said said
	ended := make(chan int, 1)
	go func() {
		ended <- run([]string{"build", garden, "--out", out}, system{
			stdout: &said, stderr: &said, env: func(string) string { return "" }, now: time.Now,
			interrupted: func() (context.Context, context.CancelFunc) { return context.WithCancel(ctx) },
		})
	}()
	for range 3000 {
		if _, err := os.Stat(filepath.Join(out, ".sheaf-new")); err == nil {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	time.Sleep(50 * time.Millisecond)
	cancel()
	began := time.Now()
	select {
	case code := <-ended:
		if code != exitInterrupted || !strings.Contains(said.String(), "nothing was written") {
			t.Errorf("it ends with %d\n%s", code, said.String())
		}
		t.Logf("it ended after %v", time.Since(began))
	case <-time.After(5 * time.Second):
		t.Fatal("it goes on")
	}
	if _, err := os.Stat(out); !os.IsNotExist(err) {
		list, _ := os.ReadDir(out)
		t.Errorf("the output folder is there, with %v: %v", list, err)
	}
}

// TestWatchIsInterrupted: the same of a watcher, which ends as it was asked to.
func TestWatchIsInterrupted(t *testing.T) {
	garden := busyGarden(t)
	out := filepath.Join(t.TempDir(), "out")
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	var said said
	ended := make(chan int, 1)
	go func() {
		ended <- run([]string{"watch", garden, "--out", out, "--no-browser"}, system{
			stdout: &said, stderr: &said, env: func(string) string { return "" }, now: time.Now,
			interrupted: func() (context.Context, context.CancelFunc) { return context.WithCancel(ctx) },
		})
	}()
	for range 3000 {
		if strings.Contains(said.String(), "Ctrl-C ends it") {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	time.Sleep(400 * time.Millisecond) // the first build is at the template
	cancel()
	select {
	case code := <-ended:
		if code != exitDone {
			t.Errorf("it ends with %d\n%s", code, said.String())
		}
	case <-time.After(5 * time.Second):
		t.Fatalf("it goes on\n%s", said.String())
	}
	if strings.Contains(said.String(), "theme/template") {
		t.Errorf("the template ended by itself: the test shows nothing\n%s", said.String())
	}
}
