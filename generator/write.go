package generator

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"syscall"
)

const (
	// manifest lists the files of an output folder that are ours, one a line,
	// below a line that says so. Only files it lists are ever removed.
	manifest     = "sheaf-files.txt"
	manifestHead = "# Files written by sheaf. It removes only what is listed here."
	// staging is the folder in the output folder where new files wait until all
	// of them are whole, in a folder of each process, by its number.
	staging = ".sheaf-new"
)

// A FolderError is an output folder that must not be written to.
type FolderError struct{ Dir, Why string }

func (e *FolderError) Error() string { return fmt.Sprintf("%s: %s", e.Dir, e.Why) }

// WriteTo puts the files of a result into dir; see [Output].
func (r *Result) WriteTo(dir string) error {
	out, err := OpenOutput(dir)
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
// or one of ours. Whatever ends it, each file in the folder is whole and what it
// leads to is there:
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
	dir     string
	made    bool // the folder was not there before
	staging string
	root    *os.Root
	old     map[string]bool // ours from before, by their names in the list

	mu                   sync.Mutex          // of what follows
	folders              map[string]*os.Root // where files are staged
	same, added, changed []string
}

// OpenOutput begins to write to a folder.
func OpenOutput(dir string) (*Output, error) {
	old, err := owned(dir)
	if err != nil {
		return nil, err
	}
	_, err = os.Lstat(dir)
	o := &Output{dir: dir, made: errors.Is(err, fs.ErrNotExist), old: map[string]bool{}, folders: map[string]*os.Root{}}
	for _, name := range old {
		o.old[name] = true
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, err
	}
	if o.root, err = os.OpenRoot(dir); err != nil {
		return nil, err
	}
	o.staging = path.Join(staging, strconv.Itoa(os.Getpid()))
	if err := o.tidy(); err != nil {
		return nil, errors.Join(err, o.root.Close())
	}
	return o, nil
}

// tidy removes what builds that were stopped have left; others may be under way.
func (o *Output) tidy() error {
	left, err := fs.ReadDir(o.root.FS(), staging)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	for _, e := range left {
		if pid, err := strconv.Atoi(e.Name()); err == nil && pid != os.Getpid() && running(pid) {
			continue
		}
		if err := o.root.RemoveAll(path.Join(staging, e.Name())); err != nil {
			return err
		}
	}
	return nil
}

// running tells whether there is a process of a number.
func running(pid int) bool {
	p, err := os.FindProcess(pid)
	if err != nil {
		return false
	}
	defer p.Release()
	// Not all systems can ask so; there a process that was found is one.
	return !errors.Is(p.Signal(syscall.Signal(0)), os.ErrProcessDone)
}

// unstage removes all that is staged.
func (o *Output) unstage() error {
	err := o.root.RemoveAll(o.staging)
	o.root.Remove(staging) // fails if another build is under way
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
	at := filepath.FromSlash(path.Join(o.staging, name))
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
	if err := replace(o.root, manifest, list(both)); err != nil {
		return 0, err
	}
	o.made = false // it is a booklet's from here on
	if err := o.settle(); err != nil {
		return 0, err
	}
	for _, name := range old {
		if _, keep := slices.BinarySearch(names, name); !keep {
			if err := remove(o.root, name); err != nil {
				return 0, err
			}
		}
	}
	return len(names), errors.Join(o.unstage(), replace(o.root, manifest, list(names)))
}

// Close ends the writing. If the files were not settled, the folder is as it was.
func (o *Output) Close() error {
	err := errors.Join(o.closed(), o.unstage(), o.root.Close())
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
			if err := o.root.Rename(path.Join(o.staging, name), name); err != nil {
				return err
			}
			continue
		}
		done, known := whole[top]
		if !known {
			if _, err := o.root.Lstat(top); errors.Is(err, fs.ErrNotExist) {
				if err := o.root.Rename(path.Join(o.staging, top), top); err != nil {
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
		if err := o.root.Rename(filepath.FromSlash(path.Join(o.staging, name)), to); err != nil {
			return err
		}
	}
	return nil
}

// remove takes away a file that is no longer made, and the folders that it
// leaves empty.
func remove(root *os.Root, name string) error {
	at := filepath.FromSlash(name)
	if err := root.Remove(at); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	for d := filepath.Dir(at); d != "."; d = filepath.Dir(d) {
		if root.Remove(d) != nil {
			break // something else is in it
		}
	}
	return nil
}

// replace writes one file whole or not at all.
func replace(root *os.Root, name string, data []byte) error {
	temp := name + ".sheaf-new"
	if err := root.WriteFile(temp, data, 0o644); err != nil {
		return errors.Join(err, root.Remove(temp))
	}
	return root.Rename(temp, name)
}

func list(names []string) []byte {
	return []byte(manifestHead + "\n" + strings.Join(names, "\n") + "\n")
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
	// A first build that was stopped has left no more than what it staged.
	entries = slices.DeleteFunc(entries, func(e fs.DirEntry) bool {
		return e.Name() == staging || e.Name() == manifest+".sheaf-new"
	})
	if len(entries) == 0 {
		return nil, nil
	}
	text, err := os.ReadFile(filepath.Join(dir, manifest))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, &FolderError{dir, "the folder holds files that were not written by sheaf; choose an empty one with --out"}
	}
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
