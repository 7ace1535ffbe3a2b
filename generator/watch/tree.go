package watch

import (
	"context"
	"crypto/sha256"
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"time"
)

// coarse is the longest step of a file system's clock: FAT keeps the time of
// a write to 2 seconds. Within it a second write may leave a file's time as it
// was, so its content is compared once more when that time has passed. Steps
// are counted in looks, as a server's clock may differ from ours.
const coarse = 2 * time.Second

// largest is the size of files whose content is compared, beyond what is read
// of texts; photographs differ in size.
const largest = 2 << 20

// A folder is one that was met on the last walk.
type folder struct {
	info   fs.FileInfo
	places []Change // its root and its path there, for each root it is in; none if it is left out
	lost   bool     // it was renamed or removed, even if one of its name is there
}

// A file is what polling knows of one.
type file struct {
	info fs.FileInfo
	sum  [sha256.Size]byte // of its content when it was last compared; zero if it never was
	left int               // looks until its content is compared once more
}

// walk brings the table of folders, and when polling that of files, to what is
// on the disk, and tells the difference.
func (w *Watcher) walk(ctx context.Context) {
	old := w.folders
	// The watch of a folder that is gone from its place goes first: Linux has one
	// watch for one folder, whatever its path, so a renamed one could not be
	// added by its new name. When polling, files tell it all, and on some network
	// drives a folder is another one each time it is asked for.
	for dir, f := range old {
		if w.system == nil {
			break
		}
		if info, err := os.Lstat(dir); f.lost || err != nil || !os.SameFile(info, f.info) {
			w.lose(dir, f)
			delete(old, dir)
		}
	}
	t := trip{Watcher: w, old: old, files: map[string]file{}}
	if w.system != nil {
		// Asked for, not remembered: a folder renamed during a walk is met by both
		// names, and added by the first alone.
		t.watched = w.system.WatchList()
	}
	w.folders, w.real = map[string]*folder{}, nil
	for _, r := range w.roots {
		dir, info := r.find()
		w.real = append(w.real, dir)
		if dir == "" {
			continue
		}
		if f := old[dir]; f == nil || f.places == nil {
			w.everything()
		}
		t.enter(ctx, r, dir, "", info)
	}
	for dir, f := range old {
		if w.folders[dir] == nil || w.folders[dir].places == nil {
			w.lose(dir, f)
		}
	}
	for name := range w.files {
		if _, ok := t.files[name]; !ok {
			t.changed = append(t.changed, name)
		}
	}
	for _, name := range t.changed {
		w.tell(name)
	}
	if w.system == nil {
		if w.files == nil {
			w.settle(t.files)
		}
		w.files = t.files
	}
	if t.refused != nil {
		w.refuse(t.refused)
		w.walk(ctx)
	}
}

// find gives the root's folder without links, and "" while there is none.
func (r Root) find() (string, fs.FileInfo) {
	dir, err := filepath.EvalSymlinks(r.Dir)
	if err != nil {
		dir = filepath.Clean(r.Dir) // some Windows drives cannot be resolved, yet read
	}
	info, err := os.Stat(dir)
	if err != nil || !info.IsDir() {
		return "", nil
	}
	return dir, info
}

// skips says whether a folder of the root is left out.
func (r Root) skips(rel string, info fs.FileInfo) bool {
	return r.Into != nil && path.Dir(rel) == "." && !slices.Contains(r.Into, rel) ||
		slices.ContainsFunc(r.Skip, func(dir string) bool {
			skip, err := os.Stat(dir)
			return err == nil && os.SameFile(skip, info)
		})
}

// moved says whether a root came, went or is another folder. The system tells
// nothing of what happens above the folders it watches.
func (w *Watcher) moved() bool {
	for i, r := range w.roots {
		dir, info := r.find()
		if dir != w.real[i] || dir != "" && !os.SameFile(info, w.folders[dir].info) {
			return true
		}
	}
	return false
}

// lose gives up a folder's watch.
func (w *Watcher) lose(dir string, f *folder) {
	if f.places == nil {
		return
	}
	w.everything()
	if w.system != nil {
		w.system.Remove(dir) // an error says that it is gone already
	}
}

// A trip is one walk.
type trip struct {
	*Watcher
	old     map[string]*folder
	watched []string // folders that the system watches
	files   map[string]file
	changed []string
	refused error // of the system, when it would watch no more
}

// enter goes into a folder of a root, known there as rel. A folder that is in
// two roots is entered twice, and its files are looked at once.
func (t *trip) enter(ctx context.Context, r Root, dir, rel string, info fs.FileInfo) {
	f := t.folders[dir]
	first := f == nil || f.places == nil
	if first {
		os.SameFile(info, info) // Windows asks for a folder's number late: ask while it is there
		f = &folder{info: info}
		t.folders[dir] = f
		t.watch(dir)
	}
	f.places = append(f.places, Change{r.Dir, rel})
	list, err := os.ReadDir(dir) // after it is watched, so that nothing falls between
	if err != nil {
		return
	}
	for _, e := range list {
		name := filepath.Join(dir, e.Name())
		switch {
		case ctx.Err() != nil:
			return
		case litter(e.Name()):
		case e.IsDir():
			info, err := e.Info()
			rel := path.Join(rel, e.Name())
			if err != nil {
				continue
			}
			if !r.skips(rel, info) {
				t.enter(ctx, r, name, rel, info)
			} else if t.folders[name] == nil {
				t.folders[name] = &folder{info: info}
			}
		case !first:
		case t.system == nil:
			t.compare(name, e)
		case t.old[dir] == nil || t.old[dir].places == nil:
			t.changed = append(t.changed, name)
		}
	}
}

// watch asks the system to tell of a folder.
func (t *trip) watch(dir string) {
	if t.system == nil || t.refused != nil || slices.Contains(t.watched, dir) {
		return
	}
	// A folder may go, and come back, while it is added; and on macOS a file that
	// goes spoils the adding of its folder.
	for range 5 {
		err := t.system.Add(dir)
		switch _, gone := os.Lstat(dir); {
		case err == nil || gone != nil || errors.Is(err, fs.ErrPermission):
			return
		case errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ENOTDIR):
			t.system.Remove(dir)
		default:
			t.refused = err
			return
		}
	}
}

// compare holds a file to what was known of it.
func (t *trip) compare(name string, e fs.DirEntry) {
	info, err := e.Info()
	if err != nil {
		return // gone since
	}
	was, known := t.Watcher.files[name]
	now := file{info: info, sum: was.sum, left: max(was.left-1, 0)}
	changed := !known || info.Size() != was.info.Size() || info.Mode() != was.info.Mode() || !info.ModTime().Equal(was.info.ModTime())
	if t.Watcher.files != nil && (changed || was.left == 1 || !os.SameFile(info, was.info)) {
		now.sum = sum(name, info)
		changed = changed || now.sum != was.sum
	}
	if changed {
		now.left = t.looks()
		t.changed = append(t.changed, name)
	}
	t.files[name] = now
}

// settle has the files compared once more that may have been written just
// before the first look: none was written later than the newest.
func (w *Watcher) settle(files map[string]file) {
	var newest time.Time
	for _, f := range files {
		if f.info.ModTime().After(newest) {
			newest = f.info.ModTime()
		}
	}
	for name, f := range files {
		f.left = 0
		if newest.Sub(f.info.ModTime()) <= coarse {
			f.sum, f.left = sum(name, f.info), w.looks()
		}
		files[name] = f
	}
}

func (w *Watcher) looks() int { return int(coarse/w.every) + 1 }

func sum(name string, info fs.FileInfo) (s [sha256.Size]byte) {
	if info.Mode().IsRegular() && info.Size() <= largest {
		if data, err := os.ReadFile(name); err == nil {
			s = sha256.Sum256(data)
		}
	}
	return s
}

// litter says whether a name is one that editors, spreadsheets and a build give
// to files beside those they write. A rename from such a name is told of by
// the name it got.
func litter(name string) bool {
	for _, end := range []string{"~", ".swp", ".swx", ".tmp", ".sheaf-new"} {
		if strings.HasSuffix(name, end) {
			return true
		}
	}
	return strings.HasPrefix(name, ".") || strings.HasPrefix(name, "~$") || // ~$ is a spreadsheet's lock
		strings.HasPrefix(name, "#") && strings.HasSuffix(name, "#") || name == "4913" // vim tries a folder with it
}
