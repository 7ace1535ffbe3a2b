package generator

import (
	"cmp"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/prose"
	"sheaf/generator/source"
)

// An Inventory lists what a library holds, for whoever reviews it.
type Inventory struct {
	Types   []TypeCount  `json:"types"`
	Entries []EntryLine  `json:"entries"`
	Groups  []GroupLine  `json:"groups"`
	Jobs    []JobLine    `json:"jobs"`
	Regions []RegionLine `json:"regions"`
}

// A TypeCount is how many entries are of a type.
type TypeCount struct {
	Type    string `json:"type"`
	Entries int    `json:"entries"`
}

// An EntryLine is one entry as far as a review asks. ReadingAge is that of all
// its words, those of its care group with them: see [prose.ReadingAge].
type EntryLine struct {
	ID          string   `json:"id"`
	Botanical   string   `json:"botanical"`
	Common      []string `json:"common"`
	Type        string   `json:"type"`
	Group       string   `json:"group"`
	Jobs        []JobOf  `json:"jobs"`
	Hazards     []string `json:"hazards"`
	Sources     []string `json:"sources"`
	Contributor string   `json:"contributor,omitempty"`
	Words       int      `json:"words"`
	ReadingAge  float64  `json:"readingAge"`
	File        string   `json:"file"`
	Serves      Serving  `json:"serves"`
}

// A Serving is whom an entry serves by name, and whom besides.
type Serving struct {
	Names     int      `json:"names"` // its own, its synonyms and its cultivars
	Synonyms  []string `json:"synonyms"`
	Cultivars []string `json:"cultivars"`
	// Also is "genus" for all of the genus, "hybrids" for names of genus and cultivar
	// alone, "cautious" for what is not known of the genus; else "".
	Also string `json:"also,omitempty"`
}

// servingOf tells whom an entry serves.
func servingOf(e *entries.Entry) Serving {
	out := Serving{Names: 1 + len(e.Synonyms) + len(e.Cultivars), Synonyms: []string{}, Cultivars: []string{}, Also: e.Serves.Value}
	if out.Also == entries.ServesUnknown {
		out.Also = string(garden.Cautious)
	}
	for _, n := range e.Synonyms {
		out.Synonyms = append(out.Synonyms, n.Value.String())
	}
	for _, n := range e.Cultivars {
		out.Cultivars = append(out.Cultivars, n.Value.String())
	}
	return out
}

// A JobOf is a job of an entry with its window and what it leaves, as they are
// written.
type JobOf struct {
	Job   string `json:"job"`
	When  string `json:"when"`
	Leave string `json:"leave,omitempty"`
}

// A GroupLine is one care group.
type GroupLine struct {
	Name    string   `json:"name"`
	Entries int      `json:"entries"`
	Summary string   `json:"summary"`
	Sources []string `json:"sources"`
	File    string   `json:"file"`
}

// A JobLine is one job page and how many entries ask for the job.
type JobLine struct {
	Name    string   `json:"name"`
	Entries int      `json:"entries"`
	Summary string   `json:"summary"`
	Sources []string `json:"sources"`
	File    string   `json:"file"`
}

// A RegionLine is one country.
type RegionLine struct {
	Code    string   `json:"code"`
	Name    string   `json:"name"`
	Checked string   `json:"checked"` // the day its rules were last looked up
	Sources []string `json:"sources"`
	File    string   `json:"file"`
}

// TakeInventory reads a library folder and lists it; "" is the shipped one.
// What a folder does not have, such as job pages, it takes from the shipped
// library, without listing it.
func TakeInventory(folder string) (*Inventory, source.Diagnostics, error) {
	l, own, ds, err := beside(folder, false)
	if err != nil {
		return nil, nil, err
	}
	inv := inventory(l, own)
	if len(inv.Entries)+len(inv.Groups)+len(inv.Jobs)+len(inv.Regions)+len(ds) == 0 {
		return nil, nil, fmt.Errorf("%s is no library: it has no file in plants, groups, jobs or regions", own)
	}
	return inv, ds, nil
}

// beside reads a library folder and, after it, the shipped library; "" is the
// shipped one alone. own is how the paths of the folder's files begin. Glancing, no
// more is read of shipped entries than whom they serve.
func beside(dir string, glances bool) (l *entries.Library, own string, ds source.Diagnostics, err error) {
	there := nothing()
	var shelves []entries.Shelf
	own = BuiltIn
	if dir != "" {
		root, err := os.OpenRoot(dir)
		if err != nil {
			return nil, "", nil, err
		}
		defer root.Close()
		own = filepath.ToSlash(filepath.Clean(dir))
		s, more, err := folder{FS: root.FS(), name: own}.shelf(LibraryFolders(), there)
		if err != nil {
			return nil, "", nil, err
		}
		shelves, ds = append(shelves, s), append(ds, more...)
	}
	ours := builtIn().shelve(there)
	ours.glances = glances
	folders := LibraryFolders()
	if glances {
		folders = []string{"plants", "groups"}
	}
	if err := ours.read(folders); err != nil {
		return nil, "", nil, err
	}
	s, more := ours.done()
	if glances {
		as := func(s entries.Shelf) entries.Shelf { return s }
		if len(shelves) > 0 && s.WrittenFor != shelves[0].WrittenFor {
			as = entries.Shelf.Turned
		}
		of := s
		s.Fill = func(files []*source.File) []*entries.Entry { return ours.whole(files, of, as) }
	}
	if len(shelves) > 0 && s.WrittenFor != shelves[0].WrittenFor {
		s = s.Turned()
	}
	l, joined := entries.Assemble(append(shelves, s))
	return l, own, append(append(ds, more...), joined...), nil
}

// inventory lists what lies in the folder own.
func inventory(l *entries.Library, own string) *Inventory {
	inv := &Inventory{}
	in := func(f *source.File) bool { return own == "." || strings.HasPrefix(f.Path, own+"/") }
	types, groups, jobs := map[string]int{}, map[string]int{}, map[string]int{}
	for _, e := range l.Entries {
		if !in(e.File) {
			continue
		}
		types[e.Type]++
		groups[e.GroupName.Value]++
		line := EntryLine{ID: e.ID, Botanical: e.Name.Value.String(), Common: e.Common, Type: e.Type, Group: e.GroupName.Value, Sources: e.Sources, Contributor: e.Contributor, File: e.File.Path, Serves: servingOf(e)}
		for _, h := range e.Hazards {
			line.Hazards = append(line.Hazards, h.Value)
		}
		asked := map[string]bool{}
		for _, r := range e.Rules {
			line.Jobs = append(line.Jobs, JobOf{r.Job.Value, r.When.Value.String(), r.Leave.Span.Text()})
			asked[r.Job.Value] = true
		}
		for j := range asked {
			jobs[j]++
		}
		text := e.Text()
		line.Words, line.ReadingAge = len(strings.Fields(text)), math.Round(10*prose.ReadingAge(text))/10
		inv.Entries = append(inv.Entries, line)
	}
	for typ, n := range types {
		inv.Types = append(inv.Types, TypeCount{typ, n})
	}
	slices.SortFunc(inv.Types, func(a, b TypeCount) int {
		return cmp.Or(cmp.Compare(b.Entries, a.Entries), strings.Compare(a.Type, b.Type))
	})
	for _, g := range l.Groups {
		if in(g.File) {
			inv.Groups = append(inv.Groups, GroupLine{g.Name.Value, groups[g.Name.Value], g.Summary, g.Sources, g.File.Path})
		}
	}
	for _, j := range l.Jobs {
		if in(j.File) {
			inv.Jobs = append(inv.Jobs, JobLine{j.Name.Value, jobs[j.Name.Value], j.Summary, j.Sources, j.File.Path})
		}
	}
	for _, r := range l.Regions {
		if in(r.File) {
			inv.Regions = append(inv.Regions, RegionLine{r.Code, r.Name, fmt.Sprint(r.Checked), r.Sources, r.File.Path})
		}
	}
	return inv
}
