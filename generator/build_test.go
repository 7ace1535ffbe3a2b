package generator_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"sheaf/content"
	"sheaf/generator"
	"sheaf/generator/source"
	"sheaf/generator/tooltest"
	"sheaf/themes"
)

const demo = "../content/gardens/dovecote-barn"

// build makes a garden's files, without a message worse than a warning.
func build(t testing.TB, o generator.Options) *generator.Result {
	t.Helper()
	r, ds, err := allOf(t, o)
	if err != nil || r == nil {
		t.Fatalf("%v %s", err, printed(ds))
	}
	return r
}

// allOf is a booklet with all its files, of which qpdf reads those it can; nil with
// an error among the diagnostics.
func allOf(t testing.TB, o generator.Options) (*generator.Result, source.Diagnostics, error) {
	t.Helper()
	p, ds, err := generator.Compose(o)
	if err != nil || p == nil {
		return nil, ds, err
	}
	files, ds, err := p.Print(t.Context(), o.Editions)
	if err != nil || ds.HasErrors() {
		return nil, ds, err
	}
	tooltest.PDFs(t, files)
	return &generator.Result{Plan: p.Plan, Files: files}, ds, nil
}

func printed(ds source.Diagnostics) string {
	var b strings.Builder
	ds.Print(&b, source.Style{})
	return b.String()
}

func options(t testing.TB, garden string) generator.Options {
	t.Helper()
	f, err := generator.Open(garden)
	if err != nil {
		t.Fatal(err)
	}
	return generator.Options{Folders: f, Now: time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC)}
}

// moved is the demo garden with changes to its garden.yaml.
func moved(t testing.TB, changes ...string) generator.Options {
	t.Helper()
	files := fstest.MapFS{}
	root := os.DirFS(demo)
	err := fs.WalkDir(root, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(root, p)
		if p == "garden.yaml" {
			text := strings.NewReplacer(changes...).Replace(string(data))
			if text == string(data) && len(changes) > 0 {
				t.Fatal("nothing was changed")
			}
			data = []byte(text)
		}
		files[p] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return generator.Options{Now: time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC), Folders: generator.Folders{
		Garden: files, File: "garden.yaml",
		Library: func(string) (fs.FS, error) { return content.Library(), nil },
	}}
}

// shippedGardens are all that ship: a handover, an American one, a southern
// guide.
func shippedGardens() []string { return []string{demo, kettleRidge, southern} }

// each runs a test over every shipped garden in every shipped theme.
func each(t *testing.T, test func(t *testing.T, garden, theme string)) {
	for _, garden := range shippedGardens() {
		for _, theme := range themes.Names() {
			t.Run(path.Base(garden)+"/"+theme, func(t *testing.T) {
				t.Parallel() // browsers and checkers leave a processor idle
				test(t, garden, theme)
			})
		}
	}
}

// themed is a garden in a theme.
func themed(t testing.TB, garden, theme string) generator.Options {
	t.Helper()
	o := options(t, garden)
	text, err := fs.ReadFile(o.Garden, "garden.yaml")
	if err != nil {
		t.Fatal(err)
	}
	chosen := regexp.MustCompile(`(?m)^theme:.*\n`).ReplaceAllString(string(text), "") + "\ntheme: " + theme + "\n"
	o.Garden = instead{o.Garden, fstest.MapFS{"garden.yaml": {Data: []byte(chosen)}}}
	return o
}

// instead is a folder with some files in place of its own.
type instead struct {
	fs.FS
	of fstest.MapFS
}

func (in instead) Open(name string) (fs.File, error) {
	if in.of[name] != nil {
		return in.of.Open(name)
	}
	return in.FS.Open(name)
}

// booklet is booklet.json as a program of someone else would read it.
type booklet struct {
	Format int
	Garden struct{ Name, Kind, Date, Units, Paper string }
	Site   struct {
		Hemisphere, Basis string
		Cues              map[string]*string
	}
	Plants []struct {
		ID, Botanical, Entry, Bed, Match string
		Common                           []string
		Quantity                         float64
		Row                              int
	}
	Tasks []struct {
		Plant, Bed, Job, From, To, Leave, Source string
		Minutes                                  struct{ Low, High float64 }
		Cautions, Notes                          []string
	}
	Months []struct {
		Month   string
		Minutes struct{ Low, High float64 }
		Tasks   []int
	}
	Report      map[string]any
	Diagnostics []struct {
		File, Severity, Code, Message string
		Line, Column                  int
		Hints                         []string
	}
}

func decode(t testing.TB, data []byte) booklet {
	t.Helper()
	var b booklet
	if err := json.Unmarshal(data, &b); err != nil {
		t.Fatal(err)
	}
	return b
}

func TestDemoRecord(t *testing.T) {
	r := build(t, options(t, demo))
	data := r.Files["booklet.json"]
	b := decode(t, data)

	// Every field of DESIGN 8 is there by its name.
	var raw map[string]any
	if err := json.Unmarshal(data, &raw); err != nil {
		t.Fatal(err)
	}
	has := func(at string, v any, keys ...string) {
		m, ok := v.(map[string]any)
		if !ok {
			t.Errorf("%s is no object", at)
			return
		}
		for _, k := range keys {
			if _, ok := m[k]; !ok {
				t.Errorf("%s has no %q", at, k)
			}
		}
	}
	first := func(key string) any { return raw[key].([]any)[0] }
	has("booklet", raw, "format", "garden", "site", "plants", "tasks", "months", "report", "diagnostics")
	has("garden", raw["garden"], "name", "kind", "date", "units", "paper")
	has("site", raw["site"], "hemisphere", "basis", "cues")
	has("cues", raw["site"].(map[string]any)["cues"], "coldest day", "first green", "warm growth", "hottest day", "growth end", "leaf fall", "last frost", "first frost")
	has("plant", first("plants"), "id", "botanical", "common", "entry", "bed", "quantity", "row", "match")
	has("task", first("tasks"), "plant", "bed", "job", "from", "to", "leave", "minutes", "cautions", "notes", "source")
	has("month", first("months"), "month", "minutes", "tasks")
	has("report", raw["report"], "uncovered", "unsuitable", "crowding")
	has("diagnostic", first("diagnostics"), "file", "line", "column", "severity", "code", "message", "hints")

	if b.Format != 1 || b.Garden.Name != "Dovecote Barn" || b.Site.Basis != "normals" || b.Site.Hemisphere != "north" || b.Garden.Paper != "A4" {
		t.Errorf("format, garden or site: %+v %+v", b.Garden, b.Site)
	}
	if len(b.Plants) < 30 || len(b.Months) != 12 || b.Months[0].Month != "2027-03" {
		t.Errorf("%d plantings, %d months from %s", len(b.Plants), len(b.Months), b.Months[0].Month)
	}

	// The rows that need help are helped, each in its own way.
	how := map[string]string{}
	ids := map[string]bool{}
	quantity := 0.0
	for _, p := range b.Plants {
		how[p.Botanical] = p.Match
		if ids[p.ID] {
			t.Errorf("two plantings have the id %s", p.ID)
		}
		ids[p.ID] = true
		quantity += p.Quantity
	}
	for name, want := range map[string]string{
		"Nassella tenuissima": "synonym", "Phlomis russeliana": "spelling", "Helleborus × hybridus": "exact",
		"Salvia nemorosa ‘Caradonna’": "species", "Calamagrostis × acutiflora ‘Karl Foerster’": "species", "Carex oshimensis ‘Evergold’": "exact",
	} {
		if how[name] != want {
			t.Errorf("%s is matched by %q, want %q", name, how[name], want)
		}
	}
	if quantity != 406 {
		t.Errorf("the quantities add up to %v; the list's own total is 406", quantity)
	}

	// Every planting has work, every task a line it comes from.
	worked := map[string]int{}
	sum := 0.0
	for _, task := range b.Tasks {
		worked[task.Plant]++
		sum += task.Minutes.High
		if task.From > task.To {
			t.Errorf("%s of %s ends before it begins", task.Job, task.Plant)
		}
		file, line, _ := strings.Cut(task.Source, ".md:")
		n, err := strconv.Atoi(line)
		text, err2 := os.ReadFile(filepath.Join(demo, filepath.FromSlash(file+".md")))
		if err != nil || err2 != nil {
			t.Errorf("source %q: %v %v", task.Source, err, err2)
			continue
		}
		if lines := bytes.Split(text, []byte("\n")); n < 1 || n > len(lines) || !bytes.Contains(lines[n-1], []byte(task.Job)) {
			t.Errorf("line %d of %s does not name the job %q", n, file, task.Job)
		}
	}
	for id := range ids {
		if worked[id] == 0 {
			t.Errorf("%s has no task", id)
		}
	}
	// Months list the tasks that touch them, and their minutes add up to all.
	months := 0.0
	for _, m := range b.Months {
		months += m.Minutes.High
		for _, i := range m.Tasks {
			if task := b.Tasks[i]; task.From[:7] > m.Month || task.To[:7] < m.Month {
				t.Errorf("%s lists a task from %s to %s", m.Month, task.From, task.To)
			}
		}
	}
	if diff := months - sum; diff > 0.01 || diff < -0.01 {
		t.Errorf("the months have %.2f minutes, the tasks %.2f", months, sum)
	}
}

func TestSameInputSameBytes(t *testing.T) {
	a := build(t, options(t, demo))
	o := options(t, demo)
	o.Now = o.Now.AddDate(3, 2, 1) // the clock must not matter
	b := build(t, o)
	for name, data := range a.Files {
		if !bytes.Equal(data, b.Files[name]) {
			t.Errorf("%s differs between two builds", name)
		}
	}
	if len(a.Files) != len(b.Files) {
		t.Errorf("%d and %d files", len(a.Files), len(b.Files))
	}
}

// TestMovedSouth takes the same garden to latitude 43 south, with the year's
// temperatures turned by six months: months and seasons shift by six months,
// cues follow the garden's own normals.
func TestMovedSouth(t *testing.T) {
	own := func(o generator.Options) generator.Options {
		o.Garden.(fstest.MapFS)["plants/oats.md"] = &fstest.MapFile{Data: []byte("---\nbotanical: Stipa gigantea\ncommon: [golden oats]\ntype: grass\nleaf: evergreen\nhabit: fountain\n" +
			"height: 70 cm\nspread: 1 m\ncare:\n  - job: comb\n    when: first green to 5 weeks after first green\n    look-for: Fresh leaves at the end of May.\n    if-missed: Wait for May.\n---\nIts heads rise above your own head in June.\n")}
		return o
	}
	up := build(t, own(moved(t)))
	north := decode(t, up.Files["booklet.json"])
	o := moved(t,
		"latitude: 52.2", "latitude: -43",
		"min: [1.9, 1.8, 3.1, 4.7, 7.4, 10.5, 12.6, 12.6, 10.5, 7.9, 4.5, 2.2]", "min: [12.6, 12.6, 10.5, 7.9, 4.5, 2.2, 1.9, 1.8, 3.1, 4.7, 7.4, 10.5]",
		"max: [7.7, 8.3, 11.0, 14.1, 17.4, 20.4, 23.1, 22.9, 19.6, 15.1, 10.7, 8.0]", "max: [23.1, 22.9, 19.6, 15.1, 10.7, 8.0, 7.7, 8.3, 11.0, 14.1, 17.4, 20.4]")
	down := build(t, own(o))
	south := decode(t, down.Files["booklet.json"])
	if south.Site.Hemisphere != "south" {
		t.Fatalf("hemisphere %q", south.Site.Hemisphere)
	}
	apart := func(a, b string) int {
		x, err := time.Parse(time.DateOnly, a)
		y, err2 := time.Parse(time.DateOnly, b)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		return ((int(x.Sub(y).Hours())/24)%365 + 365) % 365
	}
	for cue, day := range north.Site.Cues {
		if south.Site.Cues[cue] == nil || day == nil {
			t.Errorf("%s: %v and %v", cue, day, south.Site.Cues[cue])
			continue
		}
		// Mirrored monthly means, so about half a year; months differ in length.
		if d := apart(*south.Site.Cues[cue], *day); d < 177 || d > 188 {
			t.Errorf("%s: %s in the north, %s in the south: %d days", cue, *day, *south.Site.Cues[cue], d)
		}
	}
	// Months that a writer names in words move too, though the shipped library
	// names none: golden oats flower in June there, and here in December.
	for _, c := range []struct{ page, north, south string }{
		{"plants/stipa-gigantea.html", "above your own head in June", "above your own head in December"},
		{"plants/stipa-gigantea.html", "Wait for May.", "Wait for November."},
		{"plants/stipa-gigantea.html", "at the end of May", "at the end of November"},
		{"plants/hylotelephium-herbstfreude.html", "Never in July to August", "Never in January to February"},
	} {
		for _, side := range []struct {
			files     map[string][]byte
			has, lack string
		}{{up.Files, c.north, c.south}, {down.Files, c.south, c.north}} {
			if text := string(side.files[c.page]); !strings.Contains(text, side.has) || strings.Contains(text, side.lack) {
				t.Errorf("%s has %q: %v, has %q: %v", c.page, side.has, strings.Contains(text, side.has), side.lack, strings.Contains(text, side.lack))
			}
		}
	}
	// Windows written in months and seasons move by exactly six of them.
	starts := func(b booklet, plant, job string) string {
		for _, task := range b.Tasks {
			if task.Plant == plant && task.Job == job {
				return task.From[5:] + " to " + task.To[5:]
			}
		}
		return ""
	}
	for _, c := range []struct{ plant, job, north, south string }{
		{"nepeta-faassenii", "shear", "06-21 to 07-31", "12-21 to 01-31"},
		{"carex-oshimensis-evergold", "groom", "09-01 to 10-31", "03-01 to 04-30"},
	} {
		if got := starts(north, c.plant, c.job); got != c.north {
			t.Errorf("%s %s in the north: %s, want %s", c.plant, c.job, got, c.north)
		}
		if got := starts(south, c.plant, c.job); got != c.south {
			t.Errorf("%s %s in the south: %s, want %s", c.plant, c.job, got, c.south)
		}
	}
}

// TestThreeFaults: an entry with three faults gives all three in one run, each
// at its place with the mend, and no files.
func TestThreeFaults(t *testing.T) {
	o := moved(t)
	o.Garden.(fstest.MapFS)["plants/reed.md"] = &fstest.MapFile{Data: []byte(`---
botanical: Calamagrostis arundinacea
common: [reed grass]
type: grass
leaf: deciduous
growth: cool-season
habit: upright
hieght: 90 cm
height: 90 m
spread: 50 cm
care-group: deciduous cool-season grass
care:
  - job: cut back
    when: 4 weeks before frist green to first green
---
An upright grass.
`)}
	r, ds, err := allOf(t, o)
	if err != nil || r != nil {
		t.Fatalf("a result came out, or %v", err)
	}
	var got []string
	for _, d := range ds.Sorted() {
		if d.Severity == source.Error {
			p := d.Span.Pos()
			got = append(got, fmt.Sprintf("%s:%d:%d %s %s | %s", d.Span.File.Path, p.Line, p.Column, d.Code, d.Message, strings.Join(d.Hints, "; ")))
		}
	}
	want := []string{
		`plants/reed.md:8:1 entry/unknown-key unknown key "hieght" | did you mean "height"?`,
		"plants/reed.md:9:9 entry/height a height of 90 m is not possible | from 1\u00a0cm to 40\u00a0m is",
	}
	if len(got) != 3 || got[0] != want[0] || got[1] != want[1] {
		t.Fatalf("got\n%s\nwant\n%s\nand a fault in the window", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	// "frist" begins at column 26 of line 14.
	if !strings.HasPrefix(got[2], "plants/reed.md:14:26 entry/window ") || !strings.Contains(got[2], "first") {
		t.Errorf("got %s", got[2])
	}
}

func TestEmptyFolderWithOnlyAGarden(t *testing.T) {
	dir := t.TempDir()
	text := "garden: Small\nsite: {country: GB, latitude: 52}\nplants:\n  - plant: Hakonechloa macra\n"
	if err := os.WriteFile(filepath.Join(dir, "garden.yaml"), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	r := build(t, options(t, dir))
	for _, name := range []string{"index.html", "booklet.pdf", "booklet.json"} {
		if len(r.Files[name]) == 0 {
			t.Errorf("no %s", name)
		}
	}
	if b := decode(t, r.Files["booklet.json"]); b.Site.Basis != "none" || len(b.Tasks) == 0 {
		t.Errorf("basis %q, %d tasks", b.Site.Basis, len(b.Tasks))
	}
}

// printedPages gives the demo's PDF as a file and the text of each page.
func printedPages(t *testing.T, r *generator.Result) (string, []string) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "booklet.pdf")
	if err := os.WriteFile(file, r.Files["booklet.pdf"], 0o644); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(tooltest.Tool(t, "pdftotext"), "-raw", file, "-") // in the order it is painted
	var faults bytes.Buffer
	cmd.Stderr = &faults
	out, err := cmd.Output()
	if err != nil || faults.Len() > 0 {
		t.Fatalf("pdftotext: %v %s", err, faults.String())
	}
	return file, strings.Split(string(out), "\f")
}

func TestPDFIsSound(t *testing.T) {
	r := build(t, options(t, demo))
	file, pages := printedPages(t, r)
	out, err := exec.Command(tooltest.Tool(t, "qpdf"), "--check", file).CombinedOutput()
	if err != nil || bytes.Contains(bytes.ToLower(out), []byte("warning")) {
		t.Errorf("qpdf: %v\n%s", err, out)
	}
	out, err = exec.Command(tooltest.Tool(t, "pdfinfo"), file).CombinedOutput()
	if err != nil || !bytes.Contains(out, []byte("Dovecote Barn")) || !bytes.Contains(out, []byte("419.53 x 595.28 pts")) {
		t.Errorf("pdfinfo: %v\n%s", err, out)
	}
	out, err = exec.Command(tooltest.Tool(t, "pdffonts"), file).Output()
	if err != nil {
		t.Fatal(err)
	}
	fonts := 0
	for line := range strings.Lines(string(out)) {
		if f := strings.Fields(line); len(f) > 6 && strings.HasPrefix(f[0], "utf8") || strings.Contains(line, "TrueType") {
			fonts++
			if f[len(f)-5] != "yes" {
				t.Errorf("not embedded: %s", line)
			}
		}
	}
	if fonts < 5 {
		t.Errorf("%d fonts were found in\n%s", fonts, out)
	}
	if n := len(pages) - 1; n < 52 || n > 60 { // a page feed ends each (DESIGN 8)
		t.Errorf("%d pages", n)
	}
}

// TestNamesAreWhereTheContentsSay reads the printed contents, lists of beds and index
// and looks for each plant's names on the pages they give: in a handover the contents
// lead to each common name, and the beds at a glance to each botanical one; in a guide,
// whose contents lead to parts, the index leads to both.
func TestNamesAreWhereTheContentsSay(t *testing.T) {
	for garden, lead := range map[string]struct{ common, botanical []string }{
		demo:     {[]string{"contents"}, []string{"the garden"}},
		southern: {[]string{"index"}, []string{"index"}},
	} {
		r := build(t, options(t, garden))
		_, pages := printedPages(t, r)
		lists := func(feet []string) string {
			var out strings.Builder
			for _, p := range pages {
				foot := regexp.MustCompile(`^\d+ |[.]? \d+$`).ReplaceAllString(lastLine(p), "")
				if slices.Contains(feet, strings.ToLower(foot)) {
					out.WriteString(" " + flat(p))
				}
			}
			return out.String()
		}
		common, botanical := lists(lead.common), lists(lead.botanical)
		for _, p := range decode(t, r.Files["booklet.json"]).Plants {
			name, called := flat(p.Botanical), flat(p.Common[0])
			page := pageAfter(common, called)
			if page < 1 || page > len(pages) {
				t.Errorf("%s: %v do not give %s", garden, lead.common, called)
				continue
			}
			// The plant's page says the name and what the plant is called in English.
			if text := flat(pages[page-1]); !strings.Contains(text, name) || !strings.Contains(text, called) {
				t.Errorf("%s: %s is not on page %d, where %v send to:\n%s", garden, p.Botanical, page, lead.common, text)
			}
			after := name
			if garden == demo { // name, common name, its number, how many, page
				after += ", " + called
			}
			if in := pageAfter(afterQuantity(botanical, after), after); in != page {
				t.Errorf("%s: %v send %s to page %d, the common name to %d", garden, lead.botanical, p.Botanical, in, page)
			}
		}
	}
}

// flat is text in small letters, as small capitals are set from them, with single
// spaces, and none where a line ends in a hyphen.
func flat(s string) string {
	return strings.ToLower(strings.ReplaceAll(strings.Join(strings.Fields(s), " "), "- ", "-"))
}

func lastLine(s string) string {
	lines := strings.Split(strings.TrimSpace(s), "\n")
	return lines[len(lines)-1]
}

// afterQuantity is text without the number and the quantity that a list of beds has
// after a name: "1 15 plants 26".
func afterQuantity(text, name string) string {
	return regexp.MustCompile(`(`+regexp.QuoteMeta(name)+`) \d+ (?:[\d.]+ )?(?:[a-z]+ )*?(?:plants?|bulbs?|m of hedge) `).ReplaceAllString(text, "$1 ")
}

// pageAfter gives the first number after a name.
func pageAfter(text, name string) int {
	_, after, ok := strings.Cut(text, name)
	if !ok {
		return 0
	}
	for _, w := range strings.Fields(after) {
		if n, err := strconv.Atoi(strings.TrimRight(w, ",")); err == nil {
			return n
		}
	}
	return 0
}

func BenchmarkCheck(b *testing.B) {
	for b.Loop() {
		if _, _, err := generator.Check(options(b, demo)); err != nil {
			b.Fatal(err)
		}
	}
}
