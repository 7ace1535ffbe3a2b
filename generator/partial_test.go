package generator_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"sheaf/content"
	"sheaf/generator"
	"sheaf/generator/clubtest"
	"sheaf/generator/source"
)

// under is what stands below a folder, as a file system of its own.
func under(files map[string][]byte, dir string) fstest.MapFS {
	out := fstest.MapFS{}
	for p, data := range files {
		if name, ok := strings.CutPrefix(p, dir+"/"); ok {
			out[name] = &fstest.MapFile{Data: data}
		}
	}
	return out
}

// clubOptions is the club of clubtest, or any files with the folders club and
// library.
func clubOptions(files map[string][]byte) generator.Options {
	return generator.Options{Now: time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC), Editions: []string{"web", "json"}, Folders: generator.Folders{
		Garden: under(files, "club"), File: "garden.yaml",
		Library: func(name string) (fs.FS, error) {
			if name == generator.BuiltIn {
				return content.Library(), nil
			}
			return under(files, strings.TrimPrefix(name, "../")), nil
		},
	}}
}

// TestClub builds the garden and the guide of a club of which twelve entries are
// at fault: with --partial the other 388 are in the output and the editor is told
// of the twelve, without it of their faults alone.
func TestClub(t *testing.T) {
	faulty := map[string]clubtest.Entry{}
	sound := map[string]bool{}
	for _, e := range clubtest.Library() {
		if e.Fault == "" {
			sound["../library/"+e.File] = true
		} else {
			faulty["../library/"+e.File] = e
		}
	}
	if len(faulty) != 12 || len(sound) != 388 {
		t.Fatalf("%d entries with a fault, %d without", len(faulty), len(sound))
	}
	for _, kind := range []string{"garden", "guide"} {
		t.Run(kind, func(t *testing.T) {
			o := clubOptions(clubtest.Files(kind == "guide"))
			r, ds, err := allOf(t, o)
			if r != nil || err != nil || !ds.HasErrors() {
				t.Fatalf("without --partial: %v, %v", r != nil, err)
			}
			codes := map[string]string{}
			for _, d := range ds.Sorted() {
				// A row whose entry does not even give its name is told of as well.
				if d.Severity == source.Error && !strings.HasPrefix(d.Code, "list/") {
					codes[d.Span.File.Path] += d.Code
				}
			}
			for p, e := range faulty {
				if codes[p] != e.Fault {
					t.Errorf("%s: %q, want %s", p, codes[p], e.Fault)
				}
			}
			if len(codes) != len(faulty) {
				t.Errorf("faults in %d files", len(codes))
			}

			o.Partial = true
			r, ds, err = allOf(t, o)
			if r == nil || err != nil || ds.HasErrors() {
				t.Fatalf("with --partial: %v\n%s", err, printed(ds))
			}
			told := map[string]string{}
			for _, d := range ds.Sorted() {
				switch {
				case d.Code == "entry/left-out" && d.Severity == source.Warning:
					told[d.Span.File.Path] += d.Message
				case d.Severity == source.Error && !d.Aside:
					t.Errorf("%s stands in the way", d.Message)
				}
			}
			for p, e := range faulty {
				by := ", by " + strings.ReplaceAll(e.Member, "'", "’") + ","
				if e.Fault == "entry/missing-key" {
					by = ", which names no contributor,"
				}
				if want := e.Listed() + by + " is left out for 1 fault"; told[p] != want {
					t.Errorf("%s: %q, want %q", p, told[p], want)
				}
			}
			if len(told) != len(faulty) {
				t.Errorf("%d entries are told of as left out", len(told))
			}
			var b booklet
			if err := json.Unmarshal(r.Files["booklet.json"], &b); err != nil {
				t.Fatal(err)
			}
			in := map[string]bool{}
			for _, p := range b.Plants {
				if p.Entry != "" {
					in[p.Entry] = true
					if r.Files["plants/"+p.ID+".html"] == nil {
						t.Errorf("%s has no page", p.ID)
					}
				}
			}
			if !maps.Equal(in, sound) {
				t.Errorf("%d entries are in the output", len(in))
			}
			page := string(r.Files["to-come.html"])
			gaps := strings.Count(page, "Its entry is being mended")
			// The one that took another's name is in the list under that; a guide has
			// no list that asks for any.
			if want := map[string]int{"garden": 11, "guide": 0}[kind]; gaps != want {
				t.Errorf("%d plants are named as still to come, want %d", gaps, want)
			}

			again, more, err := allOf(t, o)
			if err != nil || printed(more) != printed(ds) {
				t.Errorf("told otherwise the second time: %v", err)
			}
			for name, data := range r.Files {
				if !bytes.Equal(data, again.Files[name]) {
					t.Errorf("%s differs the second time", name)
				}
			}
		})
	}
}

// sedge is an entry with its front matter's first lines as they are given.
func sedge(lines ...string) []byte {
	return []byte("---\n" + strings.Join(lines, "\n") + `
type: sedge
leaf: deciduous
habit: mound
height: 50 cm
spread: 50 cm
care:
  - {job: cut back, when: March, leave: 10 cm}
---
A sedge.
`)
}

// TestPartial: what is left out, and what still stands in the way.
func TestPartial(t *testing.T) {
	const wrong = "sperad: 1 m"
	for _, c := range []struct {
		name  string
		rows  string // of the list
		files map[string][]byte
		want  string // what is left out, and what stands in the way
		match string // how each row came to its entry
	}{
		{"a fault of its own", "Carex elata", map[string][]byte{"library/plants/a.md": sedge("botanical: Carex elata", wrong)},
			"left out: ../library/plants/a.md", "none"},
		{"of the garden's own plants", "Carex elata", map[string][]byte{"club/plants/a.md": sedge("botanical: Carex elata", wrong)},
			"left out: plants/a.md", "none"},
		{"and no other library's entry is taken for it", "Carex elata", map[string][]byte{
			"club/plants/a.md": sedge("botanical: Carex elata", wrong), "library/plants/a.md": sedge("botanical: Carex elata")},
			"left out: plants/a.md", "none"},
		{"nor its species", "Carex elata 'Nobody'; Carex elata 'Somebody'", map[string][]byte{
			"library/plants/a.md": sedge("botanical: Carex elata 'Nobody'", wrong), "library/plants/b.md": sedge("botanical: Carex elata")},
			"left out: ../library/plants/a.md", "none species"},
		{"not even of a file that cannot be read", "Carex elata 'Nobody'", map[string][]byte{
			"library/plants/a.md": sedge("botanical: Carex elata 'Nobody'", "common: [a"), "library/plants/b.md": sedge("botanical: Carex elata")},
			"left out: ../library/plants/a.md", "none"},
		{"two of one name: the later", "Carex elata", map[string][]byte{
			"library/plants/a.md": sedge("botanical: Carex elata"), "library/plants/b.md": sedge("botanical: Carex elata")},
			"left out: ../library/plants/b.md, as ../library/plants/a.md stays", "exact"},
		{"two of one name, the first with a fault", "Carex elata", map[string][]byte{
			"library/plants/a.md": sedge("botanical: Carex elata", wrong), "library/plants/b.md": sedge("botanical: Carex elata")},
			"left out: ../library/plants/a.md\nleft out: ../library/plants/b.md", "none"},
		{"of two contributors the one without a fault", "Carex elata", map[string][]byte{
			"library/plants/a.md": sedge("botanical: Carex elata", "contributor: Ada Marsh", wrong),
			"library/plants/b.md": sedge("botanical: Carex elata", "contributor: Ben Tarn")},
			"left out: ../library/plants/a.md", "exact"},
		{"a synonym that is a name: where the synonym stands, in whichever order", "Carex elata; Carex remota; Carex pendula; Carex riparia", map[string][]byte{
			"library/plants/a.md": sedge("botanical: Carex elata", "synonyms: [Carex remota]"), "library/plants/b.md": sedge("botanical: Carex remota"),
			"library/plants/c.md": sedge("botanical: Carex pendula"), "library/plants/d.md": sedge("botanical: Carex riparia", "synonyms: [Carex pendula]")},
			"left out: ../library/plants/a.md\nleft out: ../library/plants/d.md", "none exact exact none"},
		{"a photograph that is none", "Carex elata", map[string][]byte{
			"library/plants/a.md": sedge("botanical: Carex elata", "photo: {file: a.jpg, alt: A sedge}"), "library/photos/a.jpg": []byte("none")},
			"left out: ../library/plants/a.md", "none"},
		{"a care group that does not suit it", "Carex elata", map[string][]byte{
			"library/plants/a.md": sedge("botanical: Carex elata", "care-group: yew hedge")},
			"left out: ../library/plants/a.md", "none"},
		{"a care group that cannot be read", "Carex elata; Carex remota", map[string][]byte{
			"library/groups/g.md": []byte("---\ngroup: bog\ntypes: [\n---\n"),
			"library/plants/a.md": sedge("botanical: Carex elata", "care-group: bog"), "library/plants/b.md": sedge("botanical: Carex remota", "care-group: bog", wrong)},
			"in the way: ../library/groups/g.md group/yaml\nleft out: ../library/plants/b.md", "exact none"},
		{"a care group with a fault", "Carex elata", map[string][]byte{
			"library/groups/g.md": []byte("---\ngroup: bog\ncare:\n  - {job: dance, when: March}\n---\n"),
			"library/plants/a.md": sedge("botanical: Carex elata", "care-group: bog")},
			"in the way: ../library/groups/g.md entry/no-such-job", "exact"},
		{"a job's page", "Carex elata", map[string][]byte{
			"library/jobs/j.md": []byte("---\njob: dance\n---\n"), "library/plants/a.md": sedge("botanical: Carex elata", wrong)},
			"in the way: ../library/jobs/j.md job/missing-key\nleft out: ../library/plants/a.md", "none"},
		{"a safety page without a caution", "Carex elata", map[string][]byte{
			"library/pages/safety.md": []byte("---\ntitle: Safety\n---\nWords.\n"), "library/plants/a.md": sedge("botanical: Carex elata", "hazards: [sharp edges]")},
			"in the way: ../library/pages/safety.md entry/no-caution", "exact"},
		{"the list", "Carex elata, 3, Nowhere", map[string][]byte{"library/plants/a.md": sedge("botanical: Carex elata", wrong)},
			"in the way: plants.csv list/no-such-bed\nleft out: ../library/plants/a.md", "none"},
		{"a row without an entry", "Carex elata; Secale cereale", map[string][]byte{"library/plants/a.md": sedge("botanical: Carex elata")},
			"", "exact none"},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := maps.Clone(c.files)
			files["club/garden.yaml"] = []byte("garden: Club\nsite: {country: GB, latitude: 52}\nlibrary: [../library, built-in]\nplants: plants.csv\n")
			files["club/plants.csv"] = []byte("plant,quantity,bed\n" + strings.ReplaceAll(c.rows, "; ", "\n") + "\n")
			o := clubOptions(files)
			o.Partial = true
			plan, ds, err := generator.Check(o)
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, d := range ds.Sorted() {
				switch {
				case d.Code == "entry/left-out":
					said := "left out: " + d.Span.File.Path
					for _, r := range d.Related {
						said += ", as " + r.Span.File.Path + " stays"
					}
					got = append(got, said)
				case d.Severity == source.Error && !d.Aside:
					got = append(got, "in the way: "+d.Span.File.Path+" "+d.Code)
				}
			}
			slices.Sort(got)
			if s := strings.Join(slices.Compact(got), "\n"); s != c.want {
				t.Errorf("got\n%s\nwant\n%s\nof\n%s", s, c.want, printed(ds))
			}
			var match []string
			for _, p := range plan.Plantings {
				match = append(match, string(p.How))
				if (p.Entry == nil) != (p.How == "none") {
					t.Errorf("%s: %s, and an entry: %v", p.Row.Plant, p.How, p.Entry != nil)
				}
			}
			if s := strings.Join(match, " "); s != c.match {
				t.Errorf("rows are matched by %s, want %s", s, c.match)
			}
			o.Partial = false
			if _, plain, err := generator.Check(o); err != nil || c.want != "" && !plain.HasErrors() || slices.ContainsFunc(plain, func(d source.Diagnostic) bool { return d.Aside || d.Code == "entry/left-out" }) {
				t.Errorf("without --partial: %v\n%s", err, printed(plain))
			}
		})
	}
}

// What is left of a plant that two wrote of is the one whose entry has no fault,
// with the others that have none beside it.
func TestPartialBeside(t *testing.T) {
	of := func(name string, more ...string) []byte {
		return sedge(append([]string{"botanical: Carex elata", "contributor: " + name}, more...)...)
	}
	o := clubOptions(map[string][]byte{
		"club/garden.yaml":    []byte("garden: Club\nkind: guide\nsite: {country: GB, latitude: 52}\nlibrary: [../library, built-in]\n"),
		"library/plants/a.md": of("Ada Marsh", "sperad: 1 m"), "library/plants/b.md": of("Ben Tarn"),
		"library/plants/c.md": of("Clara Fell", "height: 90 m"), "library/plants/d.md": of("Greta Wray"),
	})
	o.Partial = true
	plan, ds, err := generator.Check(o)
	if err != nil || ds.HasErrors() || len(plan.Plantings) != 1 {
		t.Fatalf("%v\n%s", err, printed(ds))
	}
	e := plan.Plantings[0].Entry
	if got := fmt.Sprintf("%s, %d, %s", e.Contributor, len(e.Others), e.Others[0].Contributor); got != "Ben Tarn, 1, Greta Wray" {
		t.Errorf("what is left: %s", got)
	}
	// With no entry left there is no guide.
	o = clubOptions(map[string][]byte{
		"club/garden.yaml":    []byte("garden: Club\nkind: guide\nsite: {country: GB, latitude: 52}\nlibrary: [../library, built-in]\n"),
		"library/plants/a.md": of("Ada Marsh", "sperad: 1 m"),
	})
	o.Partial = true
	if _, ds, err = generator.Check(o); err != nil || !strings.Contains(printed(ds), "guide/empty") || !ds.HasErrors() {
		t.Errorf("%v\n%s", err, printed(ds))
	}
}

// A session leaves an entry out while it has a fault and takes it back when it is
// mended, as fresh builds do.
func TestPartialSession(t *testing.T) {
	garden := workshop(t)
	s := generator.NewSession(garden)
	name := filepath.Join(filepath.Dir(garden), "library", "plants", "grasses", "sesleria-autumnalis.md")
	sound := text(t, name)
	const page = "plants/sesleria-autumnalis.html"
	var first []byte
	for i, c := range []struct {
		entry string
		has   bool
	}{{sound, true}, {strings.Replace(sound, "spread:", "sperad:", 1), false}, {sound, true}} {
		write(t, name, c.entry)
		s.Changed([]string{name})
		var out []map[string][]byte
		var told []string
		for _, compose := range []func(generator.Options) (*generator.Proof, source.Diagnostics, error){s.Compose, fresh(garden)} {
			p, ds, err := compose(generator.Options{Now: may, Partial: true})
			if err != nil || p == nil {
				t.Fatalf("%v\n%s", err, printed(ds))
			}
			files, ds, err := p.Print(t.Context(), []string{"web", "json"})
			if err != nil {
				t.Fatal(err)
			}
			out, told = append(out, files), append(told, printed(ds))
		}
		if (out[0][page] != nil) != c.has || (out[0]["to-come.html"] == nil) != c.has {
			t.Errorf("build %d: the plant has a page: %v", i, out[0][page] != nil)
		}
		if !maps.EqualFunc(out[0], out[1], bytes.Equal) || told[0] != told[1] {
			t.Errorf("build %d differs from a fresh one:\n%s\n%s", i, told[0], told[1])
		}
		if i == 0 {
			first = out[0][page]
		} else if c.has && !bytes.Equal(out[0][page], first) {
			t.Error("the page is another after the entry was mended")
		}
	}
}
