package generator

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
)

const (
	// manifest lists the files of an output folder that are ours, one a line,
	// below a line that says so. Only files it lists are ever removed.
	manifest     = "sheaf-files.txt"
	manifestHead = "# Files written by sheaf. It removes only what is listed here."
	// staging is the folder in the output folder that is there while a build is
	// under way. It holds the build's lock, its next list, and a folder in which new
	// files wait until all of them are whole.
	staging  = ".sheaf-new"
	lockFile = "lock"
	newList  = staging + "/list"
	newFiles = staging + "/files"
)

// A FolderError is an output folder that must not be written to.
type FolderError struct{ Dir, Why string }

func (e *FolderError) Error() string { return fmt.Sprintf("%s: %s", e.Dir, e.Why) }

// WriteTo puts the files of a result into dir; see [OpenOutput].
func (r *Result) WriteTo(ctx context.Context, dir string, tell func(string)) error {
	out, err := OpenOutput(ctx, dir, tell)
	if err != nil {
		return err
	}
	defer out.Close()
	for _, name := range slices.Sorted(maps.Keys(r.Files)) {
		if err := out.Put(name, r.Files[name]); err != nil {
			return err
		}
	}
	_, err = out.Settle()
	return err
}

// An Output is a folder that a booklet is being written to, one that is new, empty
// or one of ours. It is locked until its files are settled: two builds that went by
// one list would each leave files that the other takes for someone else's. Whatever
// ends it, each file in the folder is whole and what it leads to is there:
//
//   - First all that is new or changed is put into a folder of its own. A full
//     disk shows here, with the old booklet untouched.
//   - Then files of new names are renamed into place, to which nothing leads yet,
//     the opening page last; then those that change, which may lead to them.
//   - Last go files that are no longer made, to which nothing leads any longer.
//
// So whoever starts at the opening page, in whatever moment, meets no link that
// leads nowhere. Files that are equal are left alone.
type Output struct {
	dir  string
	made bool // the folder was not there before
	lock *lock
	root *os.Root
	old  map[string]bool // ours from before, by their names in the list

	// How the folder is changed once all is staged: root's own, or a test's that
	// stops halfway.
	rename func(from, to string) error
	remove func(name string) error

	mu                   sync.Mutex          // of what follows
	folders              map[string]*os.Root // where files are staged
	same, added, changed []string
}

// OpenOutput begins to write to a folder. If another build is writing to it, it
// waits for that one to end, until ctx ends; tell is given what a person should
// know meanwhile. A folder that must not be written to is a [*FolderError].
func OpenOutput(ctx context.Context, dir string, tell func(string)) (_ *Output, err error) {
	// Nothing is put into a folder of someone else's, not even a lock.
	if _, err := owned(dir); err != nil {
		return nil, err
	}
	_, err = os.Lstat(dir)
	o := &Output{dir: dir, made: errors.Is(err, fs.ErrNotExist), old: map[string]bool{}, folders: map[string]*os.Root{}}
	defer func() {
		if err == nil {
			return
		}
		if o.lock != nil {
			err = errors.Join(err, o.lock.release())
		}
		if o.made {
			os.Remove(dir) // fails if something is in it by now
		}
	}()
	if o.lock, err = locked(ctx, dir, tell); err != nil {
		return nil, err
	}
	old, err := owned(dir) // by now another build may have written here
	if err != nil {
		return nil, err
	}
	for _, name := range old {
		o.old[name] = true
	}
	if o.root, err = os.OpenRoot(dir); err != nil {
		return nil, err
	}
	o.rename, o.remove = o.root.Rename, o.root.Remove
	if err := o.unstage(); err != nil {
		return nil, errors.Join(err, o.root.Close())
	}
	return o, nil
}

// unstage removes all that is staged, by this build or by one that was stopped.
func (o *Output) unstage() error {
	left, err := fs.ReadDir(o.root.FS(), staging)
	for _, e := range left {
		if e.Name() != lockFile {
			err = errors.Join(err, o.root.RemoveAll(path.Join(staging, e.Name())))
		}
	}
	return err
}

// end gives the folder to the next build; nil once that is done.
func (o *Output) end() error {
	if o.lock == nil {
		return nil
	}
	err := errors.Join(o.unstage(), o.lock.release())
	o.lock = nil
	return err
}

// Put takes a file of the booklet. It keeps none of the parts, and may be called
// by several at once.
func (o *Output) Put(name string, parts ...[]byte) error {
	at := filepath.FromSlash(name)
	if !filepath.IsLocal(at) {
		return fmt.Errorf("%s lies outside the output folder", name)
	}
	list := &o.changed
	info, err := o.root.Lstat(at)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		list = &o.added
	case err != nil: // a file or a link stands where a folder should
		return &FolderError{o.dir, fmt.Sprintf("%s cannot have its place: %v", name, err)}
	case !o.old[name], !info.Mode().IsRegular():
		return &FolderError{o.dir, fmt.Sprintf("%s is in the way: it was not written by sheaf", name)}
	default:
		same, err := o.holds(at, info.Size(), parts)
		if err != nil {
			return err
		}
		if same {
			list = &o.same
		}
	}
	if list != &o.same {
		if err := o.stage(name, parts); err != nil {
			return err
		}
	}
	o.mu.Lock()
	defer o.mu.Unlock()
	*list = append(*list, name)
	return nil
}

// holds tells whether a file has these bytes.
func (o *Output) holds(at string, size int64, parts [][]byte) (bool, error) {
	for _, p := range parts {
		size -= int64(len(p))
	}
	if size != 0 {
		return false, nil
	}
	f, err := o.root.Open(at)
	if err != nil {
		return false, err
	}
	defer f.Close()
	var buf [64 << 10]byte
	for _, p := range parts {
		for len(p) > 0 {
			n, err := io.ReadFull(f, buf[:min(len(buf), len(p))])
			if err != nil {
				return false, err
			}
			if !bytes.Equal(buf[:n], p[:n]) {
				return false, nil
			}
			p = p[n:]
		}
	}
	return true, nil
}

// stage writes a file to the staging folder.
func (o *Output) stage(name string, parts [][]byte) (err error) {
	folder, err := o.staged(path.Dir(name))
	if err != nil {
		return err
	}
	f, err := folder.OpenFile(path.Base(name), os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o644)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	if len(parts) == 1 {
		_, err := f.Write(parts[0])
		return err
	}
	w := bufio.NewWriterSize(f, 256<<10)
	for _, p := range parts {
		if _, err := w.Write(p); err != nil {
			return err
		}
	}
	return w.Flush()
}

// staged gives a folder within the staging folder. It stays open, as a booklet has
// thousands of files in a few folders.
func (o *Output) staged(name string) (*os.Root, error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if folder := o.folders[name]; folder != nil {
		return folder, nil
	}
	at := filepath.FromSlash(path.Join(newFiles, name))
	if err := o.root.MkdirAll(at, 0o755); err != nil {
		return nil, err
	}
	folder, err := o.root.OpenRoot(at)
	if err != nil {
		return nil, err
	}
	o.folders[name] = folder
	return folder, nil
}

// Settle gives the files their places and tells how many they are.
func (o *Output) Settle() (files int, err error) {
	if err := o.closed(); err != nil {
		return 0, err
	}
	// Names by their order: what a build does hangs on nothing that happened side
	// by side.
	for _, list := range [][]string{o.same, o.added, o.changed} {
		slices.Sort(list)
	}
	slices.SortStableFunc(o.added, func(a, b string) int { return strings.Compare(opening(a), opening(b)) })
	names := slices.Sorted(slices.Values(slices.Concat(o.same, o.added, o.changed)))
	old := slices.Sorted(maps.Keys(o.old))
	// Before any file has its place the list has its name, so that the build
	// after one that was stopped knows what is ours.
	both := slices.Compact(slices.Sorted(slices.Values(slices.Concat(old, names))))
	if err := o.enlist(both); err != nil {
		return 0, err
	}
	o.made = false // it is a booklet's from here on
	if err := o.settle(); err != nil {
		return 0, err
	}
	for _, name := range old {
		if _, keep := slices.BinarySearch(names, name); !keep {
			if err := o.discard(name); err != nil {
				return 0, err
			}
		}
	}
	if err := o.enlist(names); err != nil {
		return 0, err
	}
	return len(names), o.end()
}

// Close ends the writing. If the files were not settled, the folder is as it was.
func (o *Output) Close() error {
	err := errors.Join(o.closed(), o.end(), o.root.Close())
	if o.made {
		os.Remove(o.dir) // fails if something else is in it by now
	}
	return err
}

// closed ends the staging: some systems remove no folder that is open.
func (o *Output) closed() error {
	var faults []error
	for _, folder := range o.folders {
		faults = append(faults, folder.Close())
	}
	clear(o.folders)
	return errors.Join(faults...)
}

// opening sorts the opening page behind all others.
func opening(name string) string {
	if name == "index.html" {
		return "2"
	}
	return "1"
}

// settle renames staged files into their places, and a folder that is new with all
// that is in it.
func (o *Output) settle() error {
	whole := map[string]bool{} // by the folders at the top: it has its place
	for _, name := range slices.Concat(o.added, o.changed) {
		top, _, below := strings.Cut(name, "/")
		if !below {
			if err := o.rename(path.Join(newFiles, name), name); err != nil {
				return err
			}
			continue
		}
		done, known := whole[top]
		if !known {
			if _, err := o.root.Lstat(top); errors.Is(err, fs.ErrNotExist) {
				if err := o.rename(path.Join(newFiles, top), top); err != nil {
					return err
				}
				done = true
			}
			whole[top] = done
		}
		if done {
			continue
		}
		to := filepath.FromSlash(name)
		if err := o.root.MkdirAll(filepath.Dir(to), 0o755); err != nil {
			return err
		}
		if err := o.rename(filepath.FromSlash(path.Join(newFiles, name)), to); err != nil {
			return err
		}
	}
	return nil
}

// discard takes away a file that is no longer made, and the folders that it
// leaves empty.
func (o *Output) discard(name string) error {
	at := filepath.FromSlash(name)
	if err := o.remove(at); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	for d := filepath.Dir(at); d != "."; d = filepath.Dir(d) {
		if o.remove(d) != nil {
			break // something else is in it
		}
	}
	return nil
}

// enlist writes the list of what is ours, whole or not at all.
func (o *Output) enlist(names []string) error {
	text := manifestHead + "\n" + strings.Join(names, "\n") + "\n"
	if err := o.root.WriteFile(newList, []byte(text), 0o644); err != nil {
		return err
	}
	return o.rename(newList, manifest)
}

// owned gives the files of an earlier build. A folder that holds anything but
// has no list of ours is refused.
func owned(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, err
	}
	// A first build that is under way or was stopped has no more than what it staged.
	entries = slices.DeleteFunc(entries, func(e fs.DirEntry) bool { return e.Name() == staging })
	if len(entries) == 0 {
		return nil, nil
	}
	name := filepath.Join(dir, manifest)
	switch info, err := os.Lstat(name); {
	case errors.Is(err, fs.ErrNotExist):
		return nil, &FolderError{dir, "the folder holds files that were not written by sheaf; choose an empty one with --out"}
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular(): // a pipe is not opened until somebody writes to it
		return nil, &FolderError{dir, manifest + " is no plain file, so it is not the list that sheaf wrote"}
	}
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	lines := strings.Split(strings.TrimSpace(string(text)), "\n")
	if lines[0] != manifestHead {
		return nil, &FolderError{dir, manifest + " is not a list of sheaf's"}
	}
	return slices.DeleteFunc(lines[1:], func(s string) bool {
		return s == "" || !filepath.IsLocal(filepath.FromSlash(s))
	}), nil
}
