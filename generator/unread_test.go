package generator

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"sheaf/generator/source"
)

// TestNothingIsLost: of what lies in the folders of a library all is read, told or
// nobody's loss, whoever reads it: a build, a session or the inventory.
func TestNothingIsLost(t *testing.T) {
	garden := t.TempDir()
	write := func(name, text string) {
		name = filepath.Join(garden, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	const entry = "---\nbotanical: Sesleria heufleriana\ncommon: [green moor grass]\ntype: grass\nleaf: evergreen\nhabit: mound\nheight: 40 cm\nspread: 45 cm\ncare-group: evergreen combed grass\n---\nWords.\n"
	write("garden.yaml", "garden: Gate House\ndate: 2027-03-20\nsite: {country: GB, latitude: 52.2}\nlibrary: [lib, built-in]\nbeds: [{bed: Yard}]\nplants: plants.csv\n")
	write("plants.csv", "plant,bed\nSesleria heufleriana,Yard\n")
	write("plants/MOOR.MD", entry)
	for name, text := range map[string]string{
		"iris.md.txt": "Iris", "rose.markdown": "Rosa", "Salvia.MarkDown": "Salvia", "aster.mdx": "Aster", "b/c.mkd": "x", "pink.docx": "PK", "plain": entry, "note.txt": "\ufeff---\r\nbotanical: x\n", "odd.md ": "x",
		// Nobody's loss.
		"README": "Read me", "notes.txt": "To do", "moor.jpg": "x", "moor.md~": entry, "moor.md.bak": entry, "#moor.md#": entry, ".moor.md.swp": entry, ".hidden/rose.markdown": entry,
	} {
		write("lib/plants/"+name, text)
	}
	write("lib/jobs/comb.markdown", "x")
	write("lib/pages/a.md.txt", "x")
	write("shared/other.md", strings.Replace(entry, "heufleriana", "nitida", 1))
	for name, to := range map[string]string{
		"lib/plants/shared": "../../shared", "lib/plants/itself": ".", "lib/plants/b/nowhere": "none", "lib/groups/shared": "/", "lib/regions": "../shared", "plants/shared": "../shared",
		"lib/plants/linked": "rose.markdown", "lib/plants/read.md": "../more/read.md",
	} {
		name = filepath.Join(garden, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.Symlink(to, name); err != nil {
			t.Skip(err) // some systems ask for a right to make links
		}
	}
	write("lib/more/read.md", strings.Replace(entry, "heufleriana", "autumnalis", 1))
	lib := []string{
		"group/not-read lib/groups/shared", "job/not-read lib/jobs/comb.markdown", "page/not-read lib/pages/a.md.txt", "region/not-read lib/regions",
		"entry/not-read lib/plants/Salvia.MarkDown", "entry/not-read lib/plants/aster.mdx", "entry/not-read lib/plants/b/c.mkd", "entry/not-read lib/plants/b/nowhere",
		"entry/not-read lib/plants/iris.md.txt", "entry/not-read lib/plants/itself", "entry/not-read lib/plants/note.txt", "entry/not-read lib/plants/odd.md ",
		"entry/not-read lib/plants/pink.docx", "entry/not-read lib/plants/plain", "entry/not-read lib/plants/rose.markdown", "entry/not-read lib/plants/shared",
	}
	told := func(ds source.Diagnostics) []string {
		var out []string
		for _, d := range ds {
			if strings.HasSuffix(d.Code, "/not-read") {
				if len(d.Hints) != 1 {
					t.Errorf("%s: no mend is told", d.Span.File.Path)
				}
				out = append(out, d.Code+" "+strings.TrimPrefix(d.Span.File.Path, filepath.ToSlash(garden)+"/"))
			}
		}
		slices.Sort(out)
		return out
	}
	slices.Sort(lib)
	want := append(slices.Clone(lib), "entry/not-read plants/shared")
	slices.Sort(want)

	in, err := Open(garden)
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	p, ds, err := Check(Options{Folders: in})
	if err != nil || !slices.Equal(told(ds), want) {
		t.Errorf("check: %v\n%s\nwant\n%s", err, strings.Join(told(ds), "\n"), strings.Join(want, "\n"))
	}
	if e := p.Plantings[0].Entry; e == nil || e.File.Path != "plants/MOOR.MD" {
		t.Error("MOOR.MD is not read")
	}
	s := NewSession(garden)
	for range 2 {
		if _, ds, err = s.Compose(Options{}); err != nil || !slices.Equal(told(ds), want) {
			t.Errorf("session: %v\n%s", err, strings.Join(told(ds), "\n"))
		}
	}
	inv, ds, err := TakeInventory(filepath.Join(garden, "lib"))
	if err != nil || !slices.Equal(told(ds), lib) || len(inv.Entries) != 1 {
		t.Errorf("inventory: %v\n%s", err, strings.Join(told(ds), "\n"))
	}
}
