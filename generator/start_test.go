package generator_test

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"sheaf/generator"
	"sheaf/generator/entries"
	"sheaf/generator/garden"
	botanical "sheaf/generator/names"
	"sheaf/generator/source"
)

// started makes a garden from a list.
func started(t *testing.T, dir, list string) (*generator.StartedGarden, error) {
	t.Helper()
	g, ds, err := generator.StartGarden(generator.GardenRequest{Dir: dir, List: list, Now: time.Date(2027, 3, 20, 0, 0, 0, 0, time.UTC)})
	if err == nil && g == nil {
		t.Fatalf("%s: %s", list, printed(ds))
	}
	return g, err
}

// TestGardenThatBegins: from each of the lists of testdata and that of the demo
// a garden without a fault, with the beds that the list names.
func TestGardenThatBegins(t *testing.T) {
	lists, err := filepath.Glob("garden/testdata/lists/[01]*.*")
	if err != nil {
		t.Fatal(err)
	}
	lists = slices.DeleteFunc(lists, func(p string) bool { return filepath.Ext(p) == ".txt" })
	if lists = append(lists, demo+"/plants.csv"); len(lists) != 13 {
		t.Fatalf("%d lists", len(lists))
	}
	beds := 0
	for _, list := range lists {
		dir := filepath.Join(t.TempDir(), "new", "larch-end")
		g, err := started(t, dir, list)
		if err != nil {
			t.Errorf("%s: %v", list, err)
			continue
		}
		o := options(t, dir)
		o.Partial = true
		plan, ds, err := generator.Check(o)
		if err != nil || ds.HasErrors() {
			t.Errorf("%s: %v %s", list, err, printed(ds))
			continue
		}
		if plan.Garden.Name != "Larch End" || plan.Garden.Date.String() != "2027-03-20" || len(plan.Plantings) != g.Plantings {
			t.Errorf("%s: %s, %s, %d plantings of %d", list, plan.Garden.Name, plan.Garden.Date, len(plan.Plantings), g.Plantings)
		}
		if len(plan.Garden.Beds) != len(g.Beds) || len(g.Uncovered) != len(plan.Report.Uncovered) {
			t.Errorf("%s: beds %q, without care %q; the check says %d and %q", list, g.Beds, g.Uncovered, len(plan.Garden.Beds), plan.Report.Uncovered)
		}
		beds += len(g.Beds)
		was, _ := os.ReadFile(list)
		if is, err := os.ReadFile(filepath.Join(dir, filepath.Base(list))); err != nil || !bytes.Equal(is, was) {
			t.Errorf("%s is not copied as it is: %v", list, err)
		}
	}
	if beds < 20 {
		t.Errorf("only %d beds were found", beds)
	}
}

// TestGardenThatBeginsIsBuilt: at once, without a further word.
func TestGardenThatBeginsIsBuilt(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "larch-end")
	if _, err := started(t, dir, demo+"/plants.csv"); err != nil {
		t.Fatal(err)
	}
	o := options(t, dir)
	o.Editions = []string{"web", "json"}
	if files := build(t, o).Files; len(files) < 100 {
		t.Errorf("only %d files", len(files))
	}
}

// TestAnswersOfADraft: what a new garden.yaml suggests can be used by taking
// away the mark before it.
func TestAnswersOfADraft(t *testing.T) {
	suggestion := regexp.MustCompile(`(?m)^( *)# ( *(?:- )?[a-z-]+:)`)
	for _, beds := range [][]string{nil, {"Yard", "Owner's walk", "Bed: 4", "Bed # 5", "12", "true", "- x", "[x", `"x" y`}} {
		text := string(garden.Beginning{Name: "Larch End", List: "a list.csv", Date: 1, Beds: beds}.Draft())
		g, ds := garden.Parse(source.NewFile("garden.yaml", []byte(text)))
		if len(ds) > 0 {
			t.Errorf("as it is: %s", printed(ds))
		}
		for i, b := range beds {
			if g.Beds[i].Name != b {
				t.Errorf("the bed %q is read back as %q", b, g.Beds[i].Name)
			}
		}
		marks := len(suggestion.FindAllString(text, -1))
		text = suggestion.ReplaceAllString(text, "$1$2")
		text = strings.ReplaceAll(text, "[twelve figures]", "[1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1]")
		if _, ds := garden.Parse(source.NewFile("garden.yaml", []byte(text))); len(ds) > 0 || marks < 18 {
			t.Errorf("%d suggestions taken: %s", marks, printed(ds))
		}
	}
}

// below lists what lies in a folder, with the text of each file.
func below(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			out[p] = ""
			return err
		}
		text, err := os.ReadFile(p)
		out[p] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// TestStartWritesOverNothing: what is in the way stops it, and a start that is
// stopped leaves all as it was.
func TestStartWritesOverNothing(t *testing.T) {
	const plants = "plant,bed\nSesleria autumnalis,Yard\n"
	for name, c := range map[string]struct {
		there     map[string]string // files that are there already
		dir, list string
		says      string
	}{
		"garden.yaml":        {map[string]string{"g/garden.yaml": "mine", "a.csv": plants}, "g", "a.csv", "garden.yaml is there already"},
		"another list":       {map[string]string{"g/a.csv": "mine", "a.csv": plants}, "g", "a.csv", "a.csv is there already"},
		"list in the way":    {map[string]string{"garden.yaml": plants}, "new/one", "garden.yaml", "garden.yaml is there already"},
		"folder is a file":   {map[string]string{"g": "mine", "a.csv": plants}, "g/deep", "a.csv", "g"},
		"no list":            {nil, "new/one", "a.csv", "a.csv"},
		"list has no plants": {map[string]string{"a.csv": "plant,bed\n"}, "new/one", "a.csv", ""},
		"list has no names":  {map[string]string{"a.csv": "x,y\n1,2\n"}, "new/one", "a.csv", ""},
		"name of the list":   {map[string]string{" a.csv": plants}, "new/one", " a.csv", "give the file another name"},
	} {
		t.Run(name, func(t *testing.T) {
			root := t.TempDir()
			for p, text := range c.there {
				p = filepath.Join(root, p)
				if err := os.MkdirAll(filepath.Dir(p), 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(p, []byte(text), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			was := below(t, root)
			g, ds, err := generator.StartGarden(generator.GardenRequest{Dir: filepath.Join(root, c.dir), List: filepath.Join(root, c.list)})
			switch {
			case c.says == "" && (err != nil || g != nil || !ds.HasErrors()):
				t.Errorf("%v, %v, %s", g, err, printed(ds))
			case c.says != "" && (err == nil || !strings.Contains(err.Error(), c.says)):
				t.Errorf("the error is %v, want %q", err, c.says)
			}
			is := below(t, root)
			for p, text := range is {
				if w, ok := was[p]; !ok || w != text {
					t.Errorf("%s is left or changed: %q", p, text)
				}
			}
			if len(is) != len(was) {
				t.Errorf("%d files and folders were %d", len(is), len(was))
			}
		})
	}
}

// TestGardenAroundItsList: a list that lies in the folder is not copied.
func TestGardenAroundItsList(t *testing.T) {
	dir := t.TempDir()
	list := filepath.Join(dir, "plants: rev C.csv")
	if err := os.WriteFile(list, []byte("plant\nSesleria autumnalis\nSecale cereale\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	g, err := started(t, dir, list)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(g.Files, []string{"garden.yaml"}) || !slices.Equal(g.Uncovered, []string{"Secale cereale"}) || g.Beds != nil {
		t.Errorf("%+v", g)
	}
	o := options(t, dir)
	o.Partial = true
	if plan, ds, err := generator.Check(o); err != nil || ds.HasErrors() || len(plan.Plantings) != 2 {
		t.Errorf("%v %s", err, printed(ds))
	}
}

var toCheck = regexp.MustCompile(`(?m)^([a-z-]+): (.*?) +# from (.*): check`)

// TestDraftsMakeNothingUp: for a plant of each species and of each genus of the
// library, what a draft fills in is what all it was made from say, and what it
// leaves open is all that is wrong with it.
func TestDraftsMakeNothingUp(t *testing.T) {
	l := wholeShelf(t)
	filled := map[string]int{}
	for _, e := range l.Entries {
		for _, of := range []string{"", "species", "same name"} {
			n := e.Name.Value
			n.Cultivar, n.Trade, n.Group = "Of Our Own", "", ""
			if of == "species" && n.Species != "" {
				n = botanical.Name{Genus: n.Genus, Hybrid: n.Hybrid, Species: "sinedomo"}
			}
			if of == "same name" {
				n = e.Name.Value
			}
			text, models := entries.Draft(n, l)
			got, ds := entries.ParseEntry(source.NewFile("plants/x.md", text))
			if got.Name.Value != n || len(models) == 0 {
				t.Errorf("%s is read back as %s, made from %d", n, got.Name.Value, len(models))
			}
			if of == "same name" && len(got.Synonyms) != len(e.Synonyms) {
				t.Errorf("%s has %d synonyms of %d", n, len(got.Synonyms), len(e.Synonyms))
			}
			open := 0
			for _, d := range ds {
				switch d.Code {
				case "entry/missing-key", "entry/no-value":
					open++
				case "entry/no-care":
				default:
					t.Errorf("%s: %s: %s", n, d.Code, d.Message)
				}
			}
			if open < 8 || !got.Height.IsZero() || !got.Flowers.Value.IsZero() || got.Hardy.Value.Written != "" {
				t.Errorf("%s: %d questions, height %v", n, open, got.Height)
			}
			same := n.Species != "" && slices.ContainsFunc(models, func(m *entries.Entry) bool { return m.Name.Value.BinomialKey() == n.BinomialKey() })
			if got.GroupName.Value != "" && !same {
				t.Errorf("%s is given care by its genus", n)
			}
			for _, m := range models {
				if m.Name.Value.Genus != n.Genus || same && m.Name.Value.BinomialKey() != n.BinomialKey() {
					t.Errorf("%s is made from %s", n, m.Name.Value)
				}
				for _, v := range [][2]string{{got.Family, m.Family}, {got.Type, m.Type}, {got.Leaf, m.Leaf}, {got.Growth, m.Growth}, {got.Habit, m.Habit}, {got.Head, m.Head}, {got.GroupName.Value, m.GroupName.Value}} {
					if v[0] != "" && v[0] != v[1] {
						t.Errorf("%s has %q, and %s %q", n, v[0], m.Name.Value, v[1])
					}
				}
				for _, h := range m.Hazards {
					if !slices.ContainsFunc(got.Hazards, func(o source.At[string]) bool { return o.Value == h.Value }) {
						t.Errorf("%s lacks the hazard %q of %s", n, h.Value, m.Name.Value)
					}
				}
			}
			for _, m := range toCheck.FindAllStringSubmatch(string(text), -1) {
				filled[m[1]]++
			}
		}
	}
	for _, key := range []string{"family", "type", "leaf", "growth", "habit", "hazards", "care-group", "flower-head"} {
		if filled[key] < 20 {
			t.Errorf("%s was filled in %d times only", key, filled[key])
		}
	}
}

// TestDraftTellsWhatDiffers: where a genus does not agree nothing is chosen,
// and all that is said of it stands below the question.
func TestDraftTellsWhatDiffers(t *testing.T) {
	n, _, err := botanical.Parse("Carex nobilis")
	if err != nil {
		t.Fatal(err)
	}
	l := wholeShelf(t)
	sedges := strings.Fields("carex-buchananii carex-elata-aurea carex-flagellifera carex-morrowii-ice-dance carex-muskingumensis carex-oshimensis-evergold carex-pensylvanica carex-testacea")
	l.Entries = slices.DeleteFunc(l.Entries, func(e *entries.Entry) bool {
		return e.Name.Value.Genus == "Carex" && !slices.Contains(sedges, e.ID)
	})
	text, _ := entries.Draft(n, l)
	for _, want := range []string{
		"\ntype: sedge               # from Carex buchananii, Carex elata 'Aurea' and 6 more: check\n",
		"\nleaf:                     # its leaves in winter: deciduous, semi-evergreen or evergreen?\n" +
			"                          # evergreen in Carex buchananii, Carex flagellifera and 3 more\n" +
			"                          # deciduous in Carex elata 'Aurea' and Carex muskingumensis\n",
		"\ncare-group:               # which care? sheaf library lists the groups\n" +
			"                          # evergreen sedge and wood-rush in Carex buchananii, Carex flagellifera and 3 more\n",
		"# Carex buchananii leaves out: divide\n",
	} {
		if !strings.Contains(string(text), want) {
			t.Errorf("the draft lacks\n%s\nin\n%s", want, text)
		}
	}
}

// TestStartedEntry: where it goes, and which names are refused.
func TestStartedEntry(t *testing.T) {
	dir := t.TempDir()
	made, err := generator.StartEntry("GERANIUM PHAEUM 'ALBUM'", dir)
	if err != nil {
		t.Fatal(err)
	}
	if made.File != filepath.Join(dir, "plants", "geranium-phaeum-album.md") || made.Name != "Geranium phaeum ‘Album’" || len(made.Read) == 0 || !slices.Equal(made.Models, []string{"Geranium phaeum"}) || made.Before != "" {
		t.Errorf("%+v", made)
	}
	if _, ds, err := generator.CheckFiles([]string{made.File}); err != nil || ds.Count(source.Error) == 0 || strings.Count(printed(ds), "has no value")+strings.Count(printed(ds), "nothing is said") != made.Asks {
		t.Errorf("%d questions; %v %s", made.Asks, err, printed(ds))
	}
	if made, err := generator.StartEntry("Salvia yangii", dir); err != nil || made.Before != "built-in/plants/shrubs/salvia-yangii.md" {
		t.Errorf("an entry before a shipped one: %+v, %v", made, err)
	} else if text, err := os.ReadFile(made.File); err != nil || !regexp.MustCompile(`(?m)^synonyms: \[.*Perovskia atriplicifolia.*\] +# from Salvia yangii: check$`).Match(text) {
		t.Errorf("an entry before a shipped one lost its synonyms: %v\n%s", err, text)
	}
	if err := os.MkdirAll(filepath.Join(dir, "plants", "grasses"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(filepath.Join(dir, "plants", "salvia-yangii.md"), filepath.Join(dir, "plants", "grasses", "mine.md")); err != nil {
		t.Fatal(err)
	}
	was := below(t, dir)
	for name, says := range map[string]string{
		"Geranium phaeum 'Album'":  "has an entry: see " + filepath.ToSlash(dir) + "/plants/geranium-phaeum-album.md",
		"Salvia yangii":            "plants/grasses/mine.md",
		"Perovskia atriplicifolia": "another name of Salvia yangii",
		"Carex":                    "Carex is a genus",
		"H. macra":                 "the genus is abbreviated",
		"":                         "cannot be read",
	} {
		_, err := generator.StartEntry(name, dir)
		var refused *generator.NameError
		if !errors.As(err, &refused) || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, want %q", name, err, says)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "plants", "carex-comans.md"), []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := generator.StartEntry("Carex comans", dir); err == nil || !strings.Contains(err.Error(), "is there already") {
		t.Errorf("a file in the way: %v", err)
	}
	if _, err := generator.StartEntry("Carex comans", filepath.Join(dir, "nowhere")); err == nil {
		t.Error("a folder that is not there is made")
	}
	is := below(t, dir)
	if len(is) != len(was)+1 || is[filepath.Join(dir, "plants", "carex-comans.md")] != "mine" {
		t.Errorf("files were left or changed: %v", is)
	}
}
