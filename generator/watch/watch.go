// Package watch tells which files have changed below some folders: in go
// [Root]s, out come [Batch]es of changes. Either the system is asked to tell, or
// the folders are looked through every so often, as must be done on network
// drives, where the system tells nothing. The output is the same.
//
// A change only says "look again". What happened is never taken from the
// system's word for it, as editors save in many ways and systems tell of each
// in their own. Nor is the reader's result ever owed to a save coming in one
// batch: whoever reads again what each batch names, after it came, ends with
// what is on the disk.
package watch

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"reflect"
	"slices"
	"time"

	"github.com/fsnotify/fsnotify"
)

const (
	// quiet is how long nothing must have changed before a batch is handed over.
	// Within one save by vim, ed, sed or perl, one checkout of 220 files by git
	// and one copy of 100, changes came at most 4.0 ms apart on two cores; what is
	// slower than this only makes two batches of one.
	quiet = 10 * time.Millisecond
	// patience is the same for a batch in which a file is empty or not there, or
	// a folder was lost: most often the half of a save. It spares the reader a
	// fault that mends itself.
	patience = 100 * time.Millisecond
	// longest is how long a batch may grow, so that a long copy is told of while
	// it goes on.
	longest = 150 * time.Millisecond
	// often is how often roots are looked for that are not there, or may have
	// been replaced behind the system's back.
	often = 250 * time.Millisecond
)

// A Root is a folder to watch, with what is in it. Names of editors' litter and
// those that begin with a dot are left out, and links inside are not followed:
// a link is told of when it is itself changed.
type Root struct {
	Dir  string   // may be a link, and need not be there yet
	Into []string // names of the folders in Dir that are gone into; nil for all
	Skip []string // folders, at any depth, that are left out; they need not be there yet
}

// Options say how to watch.
type Options struct {
	Poll  bool          // look, and do not ask the system
	Every time.Duration // how often to look; 0 for twice a second
}

// A Change is one file to look at again: written, new or gone.
type Change struct {
	Root string // as in Root.Dir
	Path string // in it, with slashes
}

// A Batch is what changed within a short time.
type Batch struct {
	Changes []Change // what is known to have changed, sorted; a file in two roots is in it twice
	// Everything says that more may have changed than Changes has: a folder was
	// lost, renamed or came back, or the system lost count.
	Everything bool
	// Err says, once, why the system was not asked any longer and folders are
	// looked through instead.
	Err error
}

// A Watcher watches until its context ends.
type Watcher struct {
	// Batches is closed when the context has ended and nothing runs any longer.
	// While nobody receives, changes are gathered into one batch.
	Batches <-chan Batch

	replace chan []Root
	done    <-chan struct{}
	every   time.Duration

	// What follows belongs to the one goroutine of run.
	roots   []Root
	real    []string           // of each root its folder without links; "" while it is not there
	folders map[string]*folder // by their paths without links
	files   map[string]file    // likewise; nil unless polling
	system  *fsnotify.Watcher  // nil when polling
	events  <-chan []fsnotify.Event
	next    map[Change]string // the batch being gathered: what changed → its file
	all     bool              // its Everything
	err     error             // its Err
	news    bool              // something was added to it
}

// Start watches the roots. What changes after it returns is told.
func Start(ctx context.Context, roots []Root, o Options) *Watcher {
	batches := make(chan Batch)
	w := &Watcher{
		Batches: batches, replace: make(chan []Root), done: ctx.Done(),
		every: cmp.Or(o.Every, 500*time.Millisecond), roots: roots, next: map[Change]string{},
	}
	if !o.Poll {
		system, err := fsnotify.NewWatcher()
		if err != nil {
			w.refuse(err)
		} else {
			w.system, w.events = system, gather(system)
		}
	}
	w.walk(ctx)
	w.next, w.all = map[Change]string{}, false // all was new
	go w.run(ctx, batches)
	return w
}

// Replace sets other roots. If they differ, a batch of everything follows, as
// files may have changed between the reader's first look at them and now.
func (w *Watcher) Replace(roots []Root) {
	select {
	case w.replace <- roots:
	case <-w.done:
	}
}

// run is the loop: it takes in what happens and hands over batches.
func (w *Watcher) run(ctx context.Context, batches chan<- Batch) {
	defer close(batches)
	defer w.stop()
	pace := often
	if w.system == nil {
		pace = w.every
	}
	look := time.NewTicker(pace)
	defer look.Stop()
	still, late := time.NewTimer(quiet), time.NewTimer(longest)
	defer still.Stop()
	defer late.Stop()
	if w.err == nil { // else there is a first batch
		still.Stop()
		late.Stop()
	}
	var ready, waited, overdue bool
	for ctx.Err() == nil {
		var to chan<- Batch
		var b Batch
		if ready {
			to, b = batches, w.batch()
		}
		empty := len(w.next) == 0 && !w.all && w.err == nil
		w.news = false
		select {
		case <-ctx.Done():
		case to <- b:
			w.next, w.all, w.err = map[Change]string{}, false, nil
			ready, waited, overdue = false, false, false
			still.Stop()
			late.Stop()
		case got, ok := <-w.events:
			if !ok {
				w.events = nil
				w.refuse(fsnotify.ErrClosed)
				w.walk(ctx)
			} else if w.take(got) {
				w.walk(ctx)
			}
		case <-look.C:
			if w.system == nil || w.moved() {
				w.walk(ctx)
			}
		case roots := <-w.replace:
			if !reflect.DeepEqual(roots, w.roots) {
				w.roots = roots
				w.everything()
				w.walk(ctx)
			}
		case <-still.C:
			if !overdue && !waited && w.halfway() {
				waited = true
				still.Reset(patience)
			} else {
				ready = true
			}
		case <-late.C:
			ready, overdue = true, true
		}
		if w.system == nil && pace != w.every {
			pace = w.every
			look.Reset(pace)
		}
		if w.news {
			ready, waited = overdue, false
			still.Reset(quiet)
			if empty {
				late.Reset(longest)
			}
		}
	}
}

// gather receives from the system without ever keeping it waiting: adding a
// folder may need the goroutine that sends events, which would then stand
// still for ever.
func gather(system *fsnotify.Watcher) <-chan []fsnotify.Event {
	out := make(chan []fsnotify.Event)
	go func() {
		defer close(out)
		events, errs := system.Events, system.Errors
		var got []fsnotify.Event
		for events != nil || errs != nil {
			var to chan<- []fsnotify.Event
			if len(got) > 0 {
				to = out
			}
			select {
			case e, ok := <-events:
				if !ok {
					events = nil
				} else {
					got = append(got, e)
				}
			case _, ok := <-errs: // above all that events were lost
				if !ok {
					errs = nil
				} else {
					got = append(got, fsnotify.Event{})
				}
			case to <- got:
				got = nil
			}
		}
	}()
	return out
}

// stop ends the system's part and waits for its end.
func (w *Watcher) stop() {
	if w.system == nil {
		return
	}
	w.system.Close()
	for w.events != nil {
		if _, ok := <-w.events; !ok {
			w.events = nil
		}
	}
	w.system = nil
}

// refuse goes over to looking, because of an error of the system: most often
// its limit of watched folders, which is "no space left on device" on Linux and
// "too many open files" elsewhere.
func (w *Watcher) refuse(err error) {
	w.stop()
	w.err = fmt.Errorf("the system does not tell of changes (%w): looking for them every %v instead, as --poll does", err, w.every)
	w.everything()
}

// take notes what the system tells, and says whether folders must be walked.
func (w *Watcher) take(events []fsnotify.Event) (walk bool) {
	for _, e := range events {
		name := filepath.Clean(e.Name)
		if e.Op == 0 {
			w.everything()
			walk = true
		} else if f := w.folders[name]; f != nil {
			f.lost = f.lost || e.Has(fsnotify.Remove|fsnotify.Rename)
			// Some systems call it a write to a folder when there is news in it,
			// which its own watch tells.
			walk = walk || e.Op&^(fsnotify.Write|fsnotify.Chmod) != 0
		} else if !litter(filepath.Base(name)) {
			info, err := os.Lstat(name)
			switch {
			case err == nil && info.IsDir():
				walk = true
			case e.Op == fsnotify.Chmod && (err != nil || info.Size() > 0):
				// A change of rights is none of the text, but one that is emptied
				// tells nothing else on macOS.
			default:
				w.tell(name)
			}
		}
	}
	return walk
}

// tell adds a file to the batch, once for each root it is in.
func (w *Watcher) tell(file string) {
	f := w.folders[filepath.Dir(file)]
	if f == nil {
		return
	}
	for _, p := range f.places {
		w.next[Change{p.Root, path.Join(p.Path, filepath.Base(file))}] = file
		w.news = true
	}
}

func (w *Watcher) everything() { w.all, w.news = true, true }

// halfway says whether the batch looks like the half of a save.
func (w *Watcher) halfway() bool {
	if w.all {
		return true
	}
	for _, file := range w.next {
		info, err := os.Lstat(file)
		if errors.Is(err, fs.ErrNotExist) || err == nil && info.Mode().IsRegular() && info.Size() == 0 {
			return true
		}
	}
	return false
}

func (w *Watcher) batch() Batch {
	b := Batch{Everything: w.all, Err: w.err}
	for c := range w.next {
		b.Changes = append(b.Changes, c)
	}
	slices.SortFunc(b.Changes, func(a, b Change) int {
		return cmp.Or(cmp.Compare(a.Root, b.Root), cmp.Compare(a.Path, b.Path))
	})
	return b
}
