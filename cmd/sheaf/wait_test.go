package main

import (
	"context"
	"net"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"sheaf/generator"
)

// small writes a garden of one plant.
func small(t *testing.T) (dir string) {
	t.Helper()
	dir = t.TempDir()
	text := "garden: Small\ndate: 2027-03-20\nsite: {country: GB, latitude: 52}\nplants:\n  - plant: Hakonechloa macra\n"
	if err := os.WriteFile(filepath.Join(dir, "garden.yaml"), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return dir
}

// call runs the program until it ends or is told to stop.
func call(t *testing.T, args ...string) (told *said, ended chan int, stop func()) {
	t.Helper()
	ctx, cancel := context.WithCancel(t.Context())
	told, ended = &said{}, make(chan int, 1)
	go func() {
		ended <- run(args, system{
			stdout: told, stderr: told, env: func(string) string { return "" }, now: time.Now,
			interrupted: func() (context.Context, context.CancelFunc) { return context.WithCancel(ctx) },
		})
	}()
	t.Cleanup(cancel)
	return told, ended, cancel
}

// TestWaitsForAnotherBuild: build and watch wait for a build that has the output
// folder, say so once, and write when it is done; watch ends while it waits.
func TestWaitsForAnotherBuild(t *testing.T) {
	t.Parallel()
	out := filepath.Join(t.TempDir(), "out")
	note := "sheaf: note: " + out + ": another build is writing to the folder; this one waits for it to end\n"
	held := func() *generator.Output {
		t.Helper()
		o, err := generator.OpenOutput(t.Context(), out, func(s string) { t.Error(s) })
		if err != nil {
			t.Fatal(err)
		}
		return o
	}
	until := func(told *said, what string) {
		t.Helper()
		for range 3000 {
			if strings.Contains(told.String(), what) {
				return
			}
			time.Sleep(20 * time.Millisecond)
		}
		t.Fatalf("waited a minute for %q\n%s", what, told)
	}
	garden := small(t)

	other := held()
	told, ended, _ := call(t, "build", garden, "--out", out, "--editions", "json")
	until(told, note)
	if err := other.Close(); err != nil {
		t.Fatal(err)
	}
	if code := <-ended; code != exitDone || strings.Count(told.String(), "note: ") != 1 || !strings.Contains(told.String(), "1 files\n") {
		t.Errorf("it ends with %d\n%s", code, told)
	}

	other = held()
	told, ended, stop := call(t, "watch", garden, "--out", out, "--no-browser")
	until(told, note)
	if err := other.Close(); err != nil {
		t.Fatal(err)
	}
	until(told, "  written: ")
	stop()
	<-ended

	other = held()
	defer other.Close()
	told, ended, stop = call(t, "watch", garden, "--out", out, "--no-browser")
	until(told, note)
	stop()
	select {
	case code := <-ended:
		if code != exitDone || strings.Contains(told.String(), "error") {
			t.Errorf("it ends with %d\n%s", code, told)
		}
	case <-time.After(patience / 2):
		t.Error("it cannot be stopped while it waits")
	}
}

// TestBusyPort tells of a port in words, with the way out.
func TestBusyPort(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	_, port, _ := net.SplitHostPort(l.Addr().String())
	told, ended, _ := call(t, "watch", small(t), "--port", port, "--no-browser")
	want := "sheaf: error: port " + port + " is used by another program on this machine, which may be another sheaf watch\n" +
		"hint: choose another with --port, or leave --port away to get a free one\n"
	if code := <-ended; code != exitSystem || told.String() != want {
		t.Errorf("it ends with %d and says\n%s", code, told)
	}
}
