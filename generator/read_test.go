package generator

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"sheaf/generator/garden"
	"sheaf/generator/source"
)

func file(text string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(text)} }

// A small library of one plant, one group, one job.
func smallLibrary(common string) fstest.MapFS {
	return fstest.MapFS{
		"jobs/cut-back.md":    file("---\njob: cut back\naction: Cut back {plant}\nfamily: cut\nmark: cut back\n---\n"),
		"groups/reed.md":      file("---\ngroup: reed\ncare:\n  - job: cut back\n    when: March\n---\n"),
		"plants/wet/carex.md": file("---\nbotanical: Carex elata\ncommon: " + common + "\ntype: sedge\nleaf: deciduous\nhabit: tuft\nheight: 60 cm\nspread: 50 cm\ncare-group: reed\n---\n"),
	}
}

func TestRead(t *testing.T) {
	fsys := fstest.MapFS{
		"a.md":     file("text"),
		"big.md":   {Data: make([]byte, 10<<20)},
		"dir/x.md": file("x"),
		"pipe":     {Mode: fs.ModeNamedPipe},
	}
	f, err := folder{FS: fsys, name: "lib"}.read("a.md")
	if err != nil || f.Path != "lib/a.md" || string(f.Text) != "text" {
		t.Errorf("got %+v, %v", f, err)
	}
	if _, err := (folder{FS: fsys}).read("none.md"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a file that is not there: %v", err)
	}
	if f, err := (folder{FS: fsys}).read("big.md"); err != nil || len(f.Text) != largestText {
		t.Errorf("of a large file: %v", err)
	}
	for name, want := range map[string]string{"dir": "not a plain file", "pipe": "not a plain file"} {
		if _, err := (folder{FS: fsys}).read(name); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", name, err, want)
		}
	}
}

// Lines that end with a carriage return alone are lines; what has line feeds, or
// is no text, stays as it is.
func TestLines(t *testing.T) {
	for text, want := range map[string]string{"a\rb\r": "a\nb\n", "a\r\nb": "a\r\nb", "a\nb\r": "a\nb\r", "PK\x00\r": "PK\x00\r", "": ""} {
		if got := string(lines([]byte(text))); got != want {
			t.Errorf("%q: %q", text, got)
		}
	}
}

func TestMarkdown(t *testing.T) {
	fsys := fstest.MapFS{
		"plants/b.md": file(""), "plants/a/z.md": file(""), "plants/a.md": file(""), "plants/notes.txt": file(""),
		"plants/.hidden.md": file(""), "plants/.git/x.md": file(""), "groups/g.md": file(""),
	}
	found, err := markdown(fsys, "plants")
	var names []string
	for _, w := range found {
		names = append(names, w.name)
	}
	if got := strings.Join(names, " "); err != nil || got != "plants/a.md plants/a/z.md plants/b.md" {
		t.Errorf("got %s, %v", got, err)
	}
	if names, err := markdown(fsys, "jobs"); err != nil || names != nil {
		t.Errorf("a folder that is not there: %v, %v", names, err)
	}
}

// A garden's own entries come before those of its libraries, in the order it
// names them; a library that cannot be opened is an error at its name.
func TestLibraryOrder(t *testing.T) {
	own := smallLibrary("own sedge")
	delete(own, "jobs/cut-back.md")
	libraries := map[string]fs.FS{"club": smallLibrary("club sedge"), "other": smallLibrary("other sedge")}
	for _, c := range []struct {
		garden, yaml, want, code string
	}{
		{"own", "library: [club, other]", "own sedge from plants/wet/carex.md", ""},
		{"", "library: [club, other]", "club sedge from club/plants/wet/carex.md", ""},
		{"", "library: [other, club]", "other sedge from other/plants/wet/carex.md", ""},
		{"", "library: [nowhere, club]", "club sedge from club/plants/wet/carex.md", "garden/no-library"},
	} {
		in := Options{Folders: Folders{Garden: fstest.MapFS{}, Library: func(name string) (fs.FS, error) {
			if l := libraries[name]; l != nil {
				return l, nil
			}
			return nil, fs.ErrNotExist
		}}}
		if c.garden != "" {
			in.Garden = own
		}
		g, ds := garden.Parse(source.NewFile("garden.yaml", []byte("garden: x\nsite: {latitude: 54}\n"+c.yaml+"\n")))
		l, _, more, err := in.libraries(g)
		if err != nil || len(l.Entries) != 1 {
			t.Errorf("%v: %d entries, %v", c, len(l.Entries), err)
			continue
		}
		e := l.Entries[0]
		if got := e.CommonName() + " from " + e.File.Path; got != c.want {
			t.Errorf("%s: %s, want %s", c.yaml, got, c.want)
		}
		code := ""
		for _, d := range append(ds, more...) {
			code += d.Code
			if d.Span.Text() != "nowhere" {
				t.Errorf("%s stands at %q", d.Code, d.Span.Text())
			}
		}
		if code != c.code {
			t.Errorf("%s: %q, want %q", c.yaml, code, c.code)
		}
	}
}

// Open takes a garden by its folder or its file, and follows no link out of it.
func TestOpen(t *testing.T) {
	dir := t.TempDir()
	inside := filepath.Join(dir, "garden")
	secret := filepath.Join(dir, "secret.csv")
	for _, err := range []error{
		os.Mkdir(inside, 0o755), os.WriteFile(secret, []byte("plant\n"), 0o644),
		os.WriteFile(filepath.Join(inside, "other.yaml"), []byte("garden: x\n"), 0o644),
		os.Symlink(secret, filepath.Join(inside, "plants.csv")),
		os.Mkdir(filepath.Join(dir, "plants"), 0o755),
	} {
		if err != nil {
			t.Skip(err)
		}
	}
	for path, want := range map[string]string{inside: "garden.yaml", filepath.Join(inside, "other.yaml"): "other.yaml"} {
		f, err := Open(path)
		if err != nil || f.File != want {
			t.Fatalf("%s: %q, %v", path, f.File, err)
		}
		if _, err := (folder{FS: f.Garden}).read("plants.csv"); err == nil {
			t.Error("a link led out of the garden's folder")
		}
		if l, err := f.Library(".."); err != nil {
			t.Errorf("the folder above as a library: %v", err)
		} else if _, err := fs.Stat(l, "plants"); err != nil {
			t.Errorf("its plants: %v", err)
		}
		if _, err := f.Library("nowhere"); err == nil {
			t.Error("a library that is not there was opened")
		}
		if l, err := f.Library(BuiltIn); err != nil || l == nil {
			t.Errorf("the shipped library: %v", err)
		}
	}
	if _, err := Open(filepath.Join(dir, "none")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a folder that is not there: %v", err)
	}
}

// Check tells a garden that is not there, a list that is not there, and a
// garden without plants apart.
func TestCheckWithoutAGarden(t *testing.T) {
	in := func(files fstest.MapFS) Options {
		return Options{Folders: Folders{Garden: files, File: "garden.yaml", Library: func(string) (fs.FS, error) { return smallLibrary("sedge"), nil }}}
	}
	if _, _, err := Check(in(fstest.MapFS{})); err == nil || !strings.Contains(err.Error(), "no garden.yaml here") {
		t.Errorf("no garden: %v", err)
	}
	for yaml, want := range map[string]string{
		"plants: none.csv\n":                "garden/no-list",
		"":                                  "garden/no-plants",
		"plants:\n  - plant: Carex elata\n": "",
		"plants:\n  - plant: Carex elata 'Knight'\n": "",
	} {
		p, ds, err := Check(in(fstest.MapFS{"garden.yaml": file("garden: x\nsite: {latitude: 54, country: XX}\n" + yaml)}))
		var codes []string
		for _, d := range ds {
			if d.Severity == source.Error {
				codes = append(codes, d.Code)
			}
		}
		if got := strings.Join(codes, " "); err != nil || p == nil || got != want && !strings.HasPrefix(got, want+" ") {
			t.Errorf("%q: %q, %v, want %q", yaml, got, err, want)
		}
	}
}

// A booklet starts in January, in the handover's month, or in that month of
// the year asked for.
func TestFirstMonth(t *testing.T) {
	for _, c := range []struct {
		date string
		year int
		want string
	}{{"", 2027, "2027-01-01"}, {"date: 2027-03-20\n", 0, "2027-03-01"}, {"date: 2027-03-20\n", 2030, "2030-03-01"}} {
		g, _ := garden.Parse(source.NewFile("garden.yaml", []byte("garden: x\nsite: {latitude: 54}\n"+c.date)))
		if got := fmt.Sprint(Options{Year: c.year}.first(g)); got != c.want {
			t.Errorf("%+v: %s", c, got)
		}
	}
}
