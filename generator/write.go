package generator

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// manifest lists the files of an output folder that are ours, one a line,
// below a line that says so. Only files it lists are ever removed.
const (
	manifest     = "sheaf-files.txt"
	manifestHead = "# Files written by sheaf. It removes only what is listed here."
)

// A FolderError is an output folder that must not be written to.
type FolderError struct{ Dir, Why string }

func (e *FolderError) Error() string { return fmt.Sprintf("%s: %s", e.Dir, e.Why) }

// WriteTo puts the files into dir. The folder must be new, empty or one of
// ours. New and changed files are written beside their places and renamed into
// them, equal ones are left alone, and files of an earlier build that are no
// longer made are removed last.
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
	// A file that is not ours must not be written over.
	for _, name := range names {
		if _, err := os.Lstat(filepath.Join(dir, filepath.FromSlash(name))); err == nil && !slices.Contains(old, name) {
			return &FolderError{dir, fmt.Sprintf("%s is in the way: it was not written by sheaf", name)}
		}
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return err
	}
	defer root.Close()
	// The list of old and new names is written before any of them, so that a
	// build that is stopped half way can be cleared up by the next.
	both := append(slices.Clone(old), names...)
	slices.Sort(both)
	if err := put(root, manifest, list(slices.Compact(both))); err != nil {
		return err
	}
	for _, name := range names {
		if err := put(root, name, r.Files[name]); err != nil {
			return err
		}
	}
	for _, name := range old {
		if _, keep := r.Files[name]; keep {
			continue
		}
		if err := root.Remove(filepath.FromSlash(name)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		// A folder that is now empty goes too; one that is not stays.
		for d := filepath.Dir(filepath.FromSlash(name)); d != "."; d = filepath.Dir(d) {
			if root.Remove(d) != nil {
				break
			}
		}
	}
	return put(root, manifest, list(names))
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
	case len(entries) == 0:
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

// put writes one file whole or not at all; one that is there already with the
// same bytes is left as it is.
func put(root *os.Root, name string, data []byte) error {
	name = filepath.FromSlash(name)
	if was, err := root.ReadFile(name); err == nil && bytes.Equal(was, data) {
		return nil
	}
	if dir := filepath.Dir(name); dir != "." {
		if err := root.MkdirAll(dir, 0o755); err != nil {
			return err
		}
	}
	temp := name + ".sheaf-new"
	if err := root.WriteFile(temp, data, 0o644); err != nil {
		root.Remove(temp)
		return err
	}
	if err := root.Rename(temp, name); err != nil {
		root.Remove(temp)
		return err
	}
	return nil
}
