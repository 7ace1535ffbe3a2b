package generator

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/names"
	"sheaf/generator/site"
	"sheaf/generator/source"
)

// A NameError is a plant's name that an entry cannot be started for.
type NameError struct{ Why, Hint string }

func (e *NameError) Error() string {
	if e.Hint == "" {
		return e.Why
	}
	return e.Why + ": " + e.Hint
}

// A StartedEntry tells of an entry that was begun.
type StartedEntry struct {
	File   string   // where it is
	Name   string   // as it was read
	Read   []string // what was read otherwise than it was written
	Models []string // the entries it was made from
	Asks   int      // how many keys wait for a value, and the text
	Before string   // the shipped entry that it comes before; "" for none
}

// StartEntry writes the beginning of an entry into the plants folder of a
// garden or library; see [entries.Draft]. It writes over nothing. A name that
// cannot have an entry is a [*NameError].
func StartEntry(name, folder string) (*StartedEntry, error) {
	n, repairs, err := names.Parse(name)
	var fault *names.SyntaxError
	switch {
	case errors.As(err, &fault):
		return nil, &NameError{fmt.Sprintf("%q cannot be read as a plant name, %s", name, fault.Message), fault.Hint}
	case n.IsGenus():
		return nil, &NameError{fmt.Sprintf("%s is a genus, which does not say how a plant is cared for", n), "name its species"}
	}
	l, _, _, err := beside(folder, false)
	if err != nil {
		return nil, err
	}
	out := &StartedEntry{Name: n.String(), File: filepath.Join(folder, "plants", n.Slug()+".md")}
	for _, r := range repairs {
		out.Read = append(out.Read, r.Message)
	}
	switch by, synonym := l.NameTaken(n); {
	case by == nil:
	case synonym:
		return nil, &NameError{fmt.Sprintf("%s is another name of %s, which has an entry", n, by.Name.Value), "see " + by.File.Path}
	case strings.HasPrefix(by.File.Path, BuiltIn+"/"):
		out.Before = by.File.Path
	default:
		return nil, &NameError{fmt.Sprintf("%s has an entry", n), "see " + by.File.Path}
	}
	text, models := entries.Draft(n, l)
	for _, m := range models {
		out.Models = append(out.Models, m.Name.Value.String())
	}
	out.Asks = 1 // the text below the keys
	_, ds := entries.ParseEntry(source.NewFile(out.File, text))
	for _, d := range ds {
		if d.Code == "entry/missing-key" || d.Code == "entry/no-value" {
			out.Asks++
		}
	}
	return out, create(folder, newFile{path.Join("plants", n.Slug()+".md"), text})
}

// A GardenRequest says from what a garden is started.
type GardenRequest struct {
	Dir   string    // the garden's folder; made if it is not there
	List  string    // the path of a CSV or XLSX file; [Stdin] for In
	In    io.Reader // of a list without a file
	Sheet string    // of a workbook; "" finds the one that looks most like a plant list
	Now   time.Time // the day of the handover, until another is given
}

// A StartedGarden tells of a garden that was begun.
type StartedGarden struct {
	Dir       string
	Files     []string // written there
	Beds      []string
	Plantings int
	Uncovered []string // plants without care, each once
}

// StartGarden makes a garden's folder from a plant list: garden.yaml and a copy
// of the list, unless that lies in the folder already. It writes over nothing
// and, if it fails, leaves nothing behind; a list with errors fails it.
func StartGarden(r GardenRequest) (*StartedGarden, source.Diagnostics, error) {
	own := "" // a library that lies in the folder already
	if _, err := os.Stat(r.Dir); err == nil {
		own = r.Dir
	}
	in, ds, err := r.read(own)
	if in == nil {
		return nil, ds, err
	}
	name, err := titled(r.Dir)
	if err != nil {
		return nil, ds, err
	}
	out := &StartedGarden{Dir: r.Dir, Beds: garden.BedsOf(in.rows), Plantings: len(in.rows)}
	plantings, _ := garden.MatchRows(in.rows, in.library, true)
	named := map[string]bool{}
	for i := range plantings {
		if p := &plantings[i]; p.Entry == nil && !named[p.Label()] {
			named[p.Label()] = true
			out.Uncovered = append(out.Uncovered, p.Label())
		}
	}
	b := garden.Beginning{Name: name, List: in.name, Sheet: r.Sheet, Date: site.Date(r.Now.Date()), Beds: out.Beds}
	files := []newFile{{"garden.yaml", b.Draft()}}
	if r.List == Stdin || !same(r.List, filepath.Join(r.Dir, in.name)) {
		files = append(files, newFile{in.name, in.file.Text})
	}
	for _, f := range files {
		out.Files = append(out.Files, f.name)
	}
	return out, ds, create(r.Dir, files...)
}

// A listed garden has no more than its plant list yet.
type listed struct {
	file    *source.File
	name    string // that the list's file has in the garden
	rows    []garden.Row
	library *entries.Library
}

// read reads the request's list by what a library knows, with own, a folder, before the
// shipped one. It is nil if the list has errors or no plants.
func (r GardenRequest) read(own string) (*listed, source.Diagnostics, error) {
	f, err := readList(r.List, r.In)
	if err != nil {
		return nil, nil, err
	}
	l, _, _, err := beside(own, true)
	if err != nil {
		return nil, nil, err
	}
	rows, ds := garden.ReadList(f, nil, source.At[string]{Value: r.Sheet, Span: source.Whole(f)}, "", garden.Knows(l))
	if ds.HasErrors() {
		return nil, ds, nil
	}
	if len(rows) == 0 {
		ds.Add(source.Error, "garden/no-plants", source.Whole(f), "the list has no plants")
		return nil, ds, nil
	}
	name := filepath.Base(r.List)
	if r.List == Stdin {
		name = garden.FileName(f.Text)
	}
	if !utf8.ValidString(name) || strings.TrimSpace(name) != name || !fs.ValidPath(name) {
		return nil, ds, fmt.Errorf("the list's name %q cannot be written down: give the file another name", name)
	}
	return &listed{f, name, rows, l}, ds, nil
}

// Stdin is the path of a list that is no file but comes in.
const Stdin = "-"

// readList takes the file of a plant list by its path, or what comes in.
func readList(list string, in io.Reader) (*source.File, error) {
	if list == Stdin && in != nil {
		text, err := io.ReadAll(io.LimitReader(in, largestList))
		if err != nil {
			return nil, fmt.Errorf("the list that comes in cannot be read: %w", err)
		}
		return source.NewFile("stdin", text), nil
	}
	root, err := os.OpenRoot(filepath.Dir(list))
	if err != nil {
		return nil, err
	}
	defer root.Close()
	d := folder{FS: root.FS(), name: filepath.ToSlash(filepath.Dir(list))}
	f, err := d.readMost(filepath.Base(list), largestList)
	if err != nil {
		return nil, fmt.Errorf("%s cannot be read: %s", list, d.why(filepath.Base(list), err))
	}
	return f, nil
}

// same tells whether two paths lead to one file.
func same(a, b string) bool {
	x, err := os.Stat(a)
	if err != nil {
		return false
	}
	y, err := os.Stat(b)
	return err == nil && os.SameFile(x, y)
}

// titled makes a garden's name of its folder's: "dovecote-barn" is Dovecote
// Barn.
func titled(dir string) (string, error) {
	abs, err := filepath.Abs(dir)
	if err != nil {
		return "", err
	}
	words := strings.FieldsFunc(strings.ToValidUTF8(filepath.Base(abs), ""), func(r rune) bool {
		return r == '-' || r == '_' || unicode.IsSpace(r) || !unicode.IsPrint(r) || r == filepath.Separator
	})
	for i, w := range words {
		r, n := utf8.DecodeRuneInString(w)
		words[i] = string(unicode.ToUpper(r)) + w[n:]
	}
	if len(words) == 0 {
		return "Garden", nil
	}
	return strings.Join(words, " "), nil
}

// A newFile is a file to be made; its name is below the folder and has forward
// slashes.
type newFile struct {
	name string
	text []byte
}

// create makes files that are not there yet, with the folders they need: all
// of them, or on a failure none.
func create(dir string, files ...newFile) (err error) {
	var made []string
	defer func() {
		if err == nil {
			return
		}
		for _, p := range slices.Backward(made) {
			os.Remove(p)
		}
	}()
	for _, f := range files {
		p := filepath.Join(dir, filepath.FromSlash(f.name))
		folders, err := makeFolders(filepath.Dir(p))
		made = append(made, folders...)
		if err != nil {
			return err
		}
		// The system itself refuses a file or a link that is there already.
		to, err := os.OpenFile(p, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
		if errors.Is(err, fs.ErrExist) {
			return fmt.Errorf("%s is there already, and nothing is written over", p)
		} else if err != nil {
			return err
		}
		made = append(made, p)
		_, err = to.Write(f.text)
		if err := errors.Join(err, to.Close()); err != nil {
			return err
		}
	}
	return nil
}

// makeFolders makes a folder and those above it, and gives the ones that were
// not there.
func makeFolders(dir string) (made []string, err error) {
	if info, err := os.Stat(dir); err == nil {
		if !info.IsDir() {
			return nil, fmt.Errorf("%s is a file, not a folder", dir)
		}
		return nil, nil
	}
	if above := filepath.Dir(dir); above != dir {
		if made, err = makeFolders(above); err != nil {
			return made, err
		}
	}
	if err := os.Mkdir(dir, 0o755); err != nil {
		return made, err
	}
	return append(made, dir), nil
}
