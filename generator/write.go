package generator

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

const (
	// manifest lists the files of an output folder that are ours, one a line,
	// below a line that says so. Only files it lists are ever removed.
	manifest     = "sheaf-files.txt"
	manifestHead = "# Files written by sheaf. It removes only what is listed here."
	// staging is the folder in the output folder where new files wait until all
	// of them are whole.
	staging = ".sheaf-new"
)

// A FolderError is an output folder that must not be written to.
type FolderError struct{ Dir, Why string }

func (e *FolderError) Error() string { return fmt.Sprintf("%s: %s", e.Dir, e.Why) }

// WriteTo puts the files into dir, a folder that is new, empty or one of ours.
// Whatever ends it, each file in the folder is whole and what it leads to is
// there:
//
//   - First all that is new or changed is written to a folder of its own. A full
//     disk shows here, with the old booklet untouched.
//   - Then files of new names are renamed into place, to which nothing leads yet,
//     the opening page last; then those that change, which may lead to them.
//   - Last go files that are no longer made, to which nothing leads any longer.
//
// So whoever starts at the opening page, in whatever moment, meets no link that
// leads nowhere. Files that are equal are left alone.
func (r *Result) WriteTo(dir string) error {
	old, err := owned(dir)
	if err != nil {
		return err
	}
	names := make([]string, 0, len(r.Files))
	for name := range r.Files {
		if !filepath.IsLocal(filepath.FromSlash(name)) {
			return fmt.Errorf("%s lies outside the output folder", name)
		}
		names = append(names, name)
	}
	slices.Sort(names)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return err
	}
	defer root.Close()
	added, changed, err := r.compare(root, dir, names, old)
	if err != nil {
		return err
	}
	slices.SortStableFunc(added, func(a, b string) int { return strings.Compare(opening(a), opening(b)) })
	// What a build that was stopped has left.
	if err := root.RemoveAll(staging); err != nil {
		return err
	}
	if err := r.stage(root, slices.Concat(added, changed)); err != nil {
		return errors.Join(err, root.RemoveAll(staging))
	}
	// Before any file has its place the list has its name, so that the build
	// after one that was stopped knows what is ours.
	both := slices.Compact(slices.Sorted(slices.Values(slices.Concat(old, names))))
	if err := replace(root, manifest, list(both)); err != nil {
		return errors.Join(err, root.RemoveAll(staging))
	}
	for _, name := range slices.Concat(added, changed) {
		if err := r.settle(root, name); err != nil {
			return errors.Join(err, root.RemoveAll(staging))
		}
	}
	for _, name := range old {
		if _, keep := r.Files[name]; !keep {
			if err := remove(root, name); err != nil {
				return err
			}
		}
	}
	return errors.Join(root.RemoveAll(staging), replace(root, manifest, list(names)))
}

// compare tells which files are new and which are there with other bytes. What
// is there and was not written by us must not be written over.
func (r *Result) compare(root *os.Root, dir string, names, old []string) (added, changed []string, err error) {
	for _, name := range names {
		info, err := root.Lstat(filepath.FromSlash(name))
		switch {
		case errors.Is(err, fs.ErrNotExist):
			added = append(added, name)
		case err != nil: // a file or a link stands where a folder should
			return nil, nil, &FolderError{dir, fmt.Sprintf("%s cannot have its place: %v", name, err)}
		case !slices.Contains(old, name), !info.Mode().IsRegular():
			return nil, nil, &FolderError{dir, fmt.Sprintf("%s is in the way: it was not written by sheaf", name)}
		default:
			was, err := root.ReadFile(filepath.FromSlash(name))
			if err != nil {
				return nil, nil, err
			}
			if !bytes.Equal(was, r.Files[name]) {
				changed = append(changed, name)
			}
		}
	}
	return added, changed, nil
}

// opening sorts the opening page behind all others.
func opening(name string) string {
	if name == "index.html" {
		return "2"
	}
	return "1"
}

// stage writes files to the staging folder.
func (r *Result) stage(root *os.Root, names []string) error {
	for _, name := range names {
		at := filepath.FromSlash(path.Join(staging, name))
		if err := root.MkdirAll(filepath.Dir(at), 0o755); err != nil {
			return err
		}
		if err := root.WriteFile(at, r.Files[name], 0o644); err != nil {
			return err
		}
	}
	return nil
}

// settle renames a staged file into its place.
func (r *Result) settle(root *os.Root, name string) error {
	to := filepath.FromSlash(name)
	if err := root.MkdirAll(filepath.Dir(to), 0o755); err != nil {
		return err
	}
	return root.Rename(filepath.FromSlash(path.Join(staging, name)), to)
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
