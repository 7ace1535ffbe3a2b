package watch

import (
	"context"
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
