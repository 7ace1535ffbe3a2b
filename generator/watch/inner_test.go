package watch

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/fsnotify/fsnotify"
)

// next gives the next batch.
func next(t *testing.T, w *Watcher) Batch {
	t.Helper()
	select {
	case b := <-w.Batches:
		return b
	case <-time.After(30 * time.Second):
		t.Fatal("no batch came")
		return Batch{}
	}
}

// TestLostCount: when the system has lost events, everything is looked at.
func TestLostCount(t *testing.T) {
	w := Start(t.Context(), []Root{{Dir: t.TempDir()}}, Options{})
	w.system.Errors <- fsnotify.ErrEventOverflow
	if b := next(t, w); !b.Everything || b.Err != nil || len(b.Changes) > 0 {
		t.Errorf("got %+v", b)
	}
}

// TestSystemEnds: when the system tells no more, folders are looked through.
func TestSystemEnds(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	dir := t.TempDir()
	w := Start(ctx, []Root{{Dir: dir}}, Options{Every: 10 * time.Millisecond})
	w.system.Close()
	if b := next(t, w); !b.Everything || b.Err == nil {
		t.Errorf("got %+v", b)
	}
	if err := os.WriteFile(filepath.Join(dir, "entry.md"), []byte("entry\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if b := next(t, w); b.Everything || b.Err != nil || len(b.Changes) != 1 || b.Changes[0] != (Change{dir, "entry.md"}) {
		t.Errorf("got %+v", b)
	}
	stop()
	for range w.Batches {
	}
}

// TestHalfway: a batch with an empty or missing file, or without a folder, may
// be the half of a save, and is waited for longer.
func TestHalfway(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{"full": "entry\n", "empty": ""} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		names []string
		all   bool
		want  bool
	}{
		{[]string{"full"}, false, false},
		{[]string{"full", "empty"}, false, true},
		{[]string{"full", "gone"}, false, true},
		{[]string{"full"}, true, true},
	} {
		w := Watcher{next: map[Change]string{}, all: c.all}
		for _, name := range c.names {
			w.next[Change{dir, name}] = filepath.Join(dir, name)
		}
		if got := w.halfway(); got != c.want {
			t.Errorf("%v, everything %v: got %v", c.names, c.all, got)
		}
	}
}

// BenchmarkLook is one look of polling through 10,000 files in 20 folders.
func BenchmarkLook(b *testing.B) {
	dir := b.TempDir()
	for i := range 10000 {
		kind := filepath.Join(dir, fmt.Sprint("kind-", i%20))
		if err := errors.Join(os.MkdirAll(kind, 0o755), os.WriteFile(filepath.Join(kind, fmt.Sprint(i)), []byte("entry\n"), 0o644)); err != nil {
			b.Fatal(err)
		}
	}
	ctx, stop := context.WithCancel(b.Context())
	w := Start(ctx, []Root{{Dir: dir}}, Options{Poll: true})
	stop()
	for range w.Batches { // when it has ended, its tables are ours
	}
	for b.Loop() {
		w.walk(b.Context())
	}
}
