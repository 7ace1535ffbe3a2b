package generator_test

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/go-fonts/liberation/liberationserifbold"
	"github.com/go-fonts/liberation/liberationserifregular"
	"github.com/klippa-app/go-pdfium/requests"

	"sheaf/generator"
	"sheaf/themes"
)

// dressed is the demo in a theme of its own files.
func dressed(t testing.TB, files map[string]string) generator.Options {
	t.Helper()
	o := moved(t, "plants: plants.csv", "plants: plants.csv\ntheme: looks")
	folder := fstest.MapFS{}
	for name, text := range files {
		folder[name] = &fstest.MapFile{Data: []byte(text)}
	}
	o.Theme = func(name string) (fs.FS, error) {
		if name != "looks" {
			return nil, fs.ErrNotExist
		}
		return folder, nil
	}
	return o
}

// TestThemeIsChosen: a garden's theme is one that ships, or a folder beside it,
// read within that folder and told of with its own places.
func TestThemeIsChosen(t *testing.T) {
	garden := workshop(t)
	name := filepath.Join(garden, "garden.yaml")
	plain := text(t, name)
	looks := filepath.Join(filepath.Dir(garden), "looks")
	check := func(theme string) (*generator.Plan, string) {
		t.Helper()
		write(t, name, plain+"theme: "+theme+"\n")
		o := options(t, garden)
		defer o.Close()
		p, ds, err := generator.Check(o)
		if err != nil {
			t.Fatal(err)
		}
		return p, printed(ds)
	}
	if p, said := check("seedroom"); p.Theme == nil || p.Theme.Name != "seedroom" {
		t.Error(said)
	}
	if _, said := check("seedrom"); !strings.Contains(said, `theme: seedrom`) || !strings.Contains(said, "garden/no-theme") || !strings.Contains(said, `did you mean "seedroom"?`) {
		t.Error(said)
	}
	if _, said := check("../looks"); !strings.Contains(said, "garden/no-theme") {
		t.Error(said)
	}
	write(t, filepath.Join(looks, "theme.yaml"), "theme: ours\ncolours:\n  light: {moss: \"#88aa88\"}\n")
	if _, said := check("../looks"); !strings.Contains(said, "../looks/theme.yaml:3:18: error: moss") || !strings.Contains(said, "theme/contrast") {
		t.Error(said)
	}
	write(t, filepath.Join(looks, "theme.yaml"), "theme: ours\n")
	write(t, filepath.Join(looks, "extra.html"), "{{define \"cover\"}}\n{{.Nowhere}}{{end}}")
	write(t, name, plain+"theme: ../looks\n")
	o := options(t, garden)
	o.Editions = []string{"web"}
	r, ds, err := allOf(t, o)
	if said := printed(ds); r != nil || err != nil || !strings.Contains(said, "../looks/extra.html:2:3: error: the template fails") {
		t.Error(said, err)
	}
	o.Close()
	if runtime.GOOS == "windows" {
		return // links need a right that few have there
	}
	// A link that leads out of the theme's folder is not followed.
	write(t, filepath.Join(filepath.Dir(garden), "secret.css"), "p { color: red }\n")
	if err := os.Remove(filepath.Join(looks, "extra.html")); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("../secret.css", filepath.Join(looks, "more.css")); err != nil {
		t.Fatal(err)
	}
	o = options(t, garden)
	defer o.Close()
	if _, ds, err := generator.Check(o); err != nil || !strings.Contains(printed(ds), "garden/no-theme") {
		t.Errorf("a link out of the folder was followed: %v\n%s", err, printed(ds))
	}
}

// TestSessionChangesTheme: what is kept from one build to the next never shows
// another theme than the files say, and the theme's folder is among those that
// are watched.
func TestSessionChangesTheme(t *testing.T) {
	garden := workshop(t)
	looks := filepath.Join(filepath.Dir(garden), "looks")
	file := filepath.Join(looks, "theme.yaml")
	name := filepath.Join(garden, "garden.yaml")
	write(t, name, text(t, name)+"theme: ../looks\n")
	s := generator.NewSession(garden)
	for _, theme := range []string{
		"theme: ours\n",
		"colours: {dark: {moss: \"#aaddaa\"}}\n",
		"faces: {body: Liberation Serif}\n",
		"web: {body: serif}\n",
		"colours: {light: {paper: \"#777777\"}}\n",
		"sections: [pages, how-to-use, year, months, plants, safety]\n",
		"theme: ours\n",
	} {
		write(t, file, theme)
		s.Changed([]string{file})
		files, said := built(t, s.Compose)
		want, wantSaid := built(t, fresh(garden))
		if said != wantSaid {
			t.Errorf("%sthe session says\n%s\na fresh build\n%s", theme, said, wantSaid)
		}
		for f := range want {
			if !bytes.Equal(files[f], want[f]) {
				t.Fatalf("%s%s is not that of a fresh build", theme, f)
			}
		}
		if !slices.ContainsFunc(s.Folders(), func(f generator.ReadFolder) bool { return f.Dir == looks }) {
			t.Errorf("watched are %q", s.Folders())
		}
	}
}

// TestSectionsInOrder: sections stand where the theme has them, its own pages
// among them; what it leaves out nothing leads to.
func TestSectionsInOrder(t *testing.T) {
	o := dressed(t, map[string]string{
		"theme.yaml":        "sections: [safety, how-to-use, pages, pages/practice.md, year, months, plants]\n",
		"pages/practice.md": "---\ntitle: Our practice\n---\nWho we are, and [what not to do](#safety).\n",
	})
	o.Editions = []string{"web", "onefile", "a5", "large", "sheet"}
	r, ds, err := allOf(t, o)
	if err != nil || r == nil {
		t.Fatal(err, printed(ds))
	}
	for _, d := range ds {
		if strings.HasPrefix(d.Code, "html/") {
			t.Errorf("%s: %s", d.Code, d.Message)
		}
	}
	one := string(r.Files["booklet.html"])
	at := -1
	for _, id := range []string{"safety", "how-to-use", "pages/practice", "year", "months/2027-03", "plants/taxus-baccata"} {
		i := strings.Index(one, `id="`+id+`"`)
		if i <= at {
			t.Errorf("%s stands at %d, after %d", id, i, at)
		}
		at = i
	}
	for name, data := range r.Files {
		if strings.HasPrefix(name, "jobs/") || strings.HasPrefix(name, "beds/") || name == "glossary.html" || name == "names.html" {
			t.Errorf("there is %s", name)
		}
		if strings.HasSuffix(name, ".html") && (bytes.Contains(data, []byte("jobs/")) || bytes.Contains(data, []byte("glossary.html"))) {
			t.Errorf("%s leads to what is left out", name)
		}
	}
	linksLead(t, webOnly(r.Files))
}

// webOnly is the web edition without what is for print.
func webOnly(files map[string][]byte) map[string][]byte {
	out := map[string][]byte{}
	for name, data := range files {
		if !strings.HasSuffix(name, ".pdf") {
			out[name] = data
		}
	}
	return out
}

// mark is a picture as a logo may be: a transparent PNG.
func mark(t testing.TB, w, h int) string {
	t.Helper()
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	for x := w / 4; x < w/2; x++ {
		for y := range h {
			img.Set(x, y, color.NRGBA{20, 90, 70, 255})
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestLogoAndCover: a logo is at the head of every page and on the cover, and a
// photograph takes the place of the row, in each way to set a cover.
func TestLogoAndCover(t *testing.T) {
	const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20"><path d="M0 0h40v20z" fill="#123456"/></svg>`
	for _, cover := range []string{"open", "framed"} {
		o := dressed(t, map[string]string{
			"theme.yaml": "print: {cover: " + cover + "}\nlogo: {file: ours.svg, print: ours.png, alt: Our practice}\ncover: {picture: frost.png, alt: Oats in frost}\n",
			"ours.svg":   svg, "ours.png": mark(t, 200, 100), "frost.png": mark(t, 900, 600),
		})
		o.Editions = []string{"web", "onefile", "a5", "large"}
		r := build(t, o)
		if string(r.Files["logo.svg"]) != svg+"\n" || len(r.Files["cover-picture.png"]) == 0 || r.Files["cover.svg"] != nil {
			t.Errorf("%s: the pictures are not beside the pages", cover)
		}
		for name, src := range map[string]string{"index.html": "logo.svg", "plants/taxus-baccata.html": "../logo.svg"} {
			if !strings.Contains(string(r.Files[name]), `<img class="logo" src="`+src+`" alt="Our practice"`) {
				t.Errorf("%s: %s has no logo", cover, name)
			}
		}
		if one := string(r.Files["booklet.html"]); !strings.Contains(one, `src="data:image/svg&#43;xml;base64,`) || !strings.Contains(one, `alt="Oats in frost"`) {
			t.Errorf("%s: the single file has no pictures", cover)
		}
		for _, file := range []string{"booklet.pdf", "booklet-large.pdf"} {
			if n := bytes.Count(r.Files[file], []byte("/Subtype /Image")); n != 2 {
				t.Errorf("%s: %s has %d pictures, want 2", cover, file, n)
			}
		}
	}
}

// TestFontsOfTheSystem: a typeface is found by its whole name in the folders of
// the system, whatever its file is called, and one that is not there leaves the
// default's and says so.
func TestFontsOfTheSystem(t *testing.T) {
	dir := t.TempDir()
	write(t, filepath.Join(dir, "a", "LiberationSerif-Regular.ttf"), string(liberationserifregular.TTF))
	write(t, filepath.Join(dir, "a", "broken.ttf"), "no font")
	write(t, filepath.Join(dir, "b", "f017.TTF"), string(liberationserifbold.TTF))
	o := dressed(t, map[string]string{"theme.yaml": "faces: {body: liberation serif, bold: Liberation  Serif Bold, italic: Gothic of Nowhere, heading: Liberation Serif Bold}\n"})
	o.Fonts = []string{filepath.Join(dir, "absent"), dir}
	o.Editions = []string{"a5"}
	r, ds, err := allOf(t, o)
	if err != nil || r == nil {
		t.Fatal(err, printed(ds))
	}
	var told []string
	for _, d := range ds {
		if strings.HasPrefix(d.Code, "theme/") {
			place, _, _ := d.Where(nil)
			told = append(told, d.Code+" "+place)
		}
	}
	if want := []string{"theme/no-font looks/theme.yaml:1:39", "theme/no-font looks/theme.yaml:1:71"}; !slices.Equal(told, want) {
		t.Errorf("told %q, want %q", told, want)
	}
	if r.Plan.Theme.Name != "fieldbook" {
		t.Errorf("the theme is called %s", r.Plan.Theme.Name)
	}
}

// TestReadmeTheme does what the README says: a copy of one file, three values.
// The page is held to a picture, which is not that of the default.
func TestReadmeTheme(t *testing.T) {
	readme := text(t, "../README.md")
	_, after, ok := strings.Cut(readme, "```diff\n")
	change, _, closed := strings.Cut(after, "```")
	if !ok || !closed {
		t.Fatal("the README shows no change to a theme")
	}
	look := text(t, "../themes/fieldbook/theme.yaml")
	values := 0
	var from string
	for line := range strings.Lines(change) {
		switch line[0] {
		case '-':
			from = line[1:]
		case '+':
			if strings.Count(look, from) != 1 {
				t.Fatalf("%q is in the theme %d times", from, strings.Count(look, from))
			}
			look = strings.Replace(look, from, line[1:], 1)
			values++
		}
	}
	if values != 3 {
		t.Errorf("%d values were changed", values)
	}
	o := dressed(t, map[string]string{"theme.yaml": look})
	o.Editions = []string{"a5"}
	r := build(t, o)
	data := r.Files["booklet.pdf"]
	p := reader(t)
	doc, err := p.OpenDocument(&requests.OpenDocument{File: &data})
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(pictured, func(w kept) bool { return w.name == "grass" })
	n := pageWith(t, p, doc.Document, pictured[i].has, pictured[i].hasNot)
	page, err := p.RenderPageInDPI(&requests.RenderPageInDPI{DPI: 50, Page: requests.Page{ByIndex: &requests.PageByIndex{Document: doc.Document, Index: n}}})
	if err != nil {
		t.Fatal(err)
	}
	defer page.Cleanup()
	got := grey(page.Result.RenderedImage)
	samePicture(t, filepath.Join("..", "testdata", "pages", "changed-grass.png"), got)
	if !compared(readPicture(t, filepath.Join("..", "testdata", "pages", "grass.png")), got).tells() {
		t.Error("the page looks as it did")
	}
}

// TestThemesDiffer: the shipped themes have neither a colour, nor a face, nor a
// way to furnish pages in common.
func TestThemesDiffer(t *testing.T) {
	plan := func(name string) *generator.Plan {
		p, ds, err := generator.Check(themed(t, demo, name))
		if err != nil || ds.HasErrors() {
			t.Fatal(err, printed(ds))
		}
		return p
	}
	names := themes.Names()
	if len(names) < 2 {
		t.Fatal("one theme alone ships")
	}
	a, b := plan(names[0]).Theme, plan(names[1]).Theme
	if a.Light.Ink == b.Light.Ink || a.Light.Moss == b.Light.Moss || a.Dark.Paper == b.Dark.Paper || a.Furniture.Cover == b.Furniture.Cover ||
		a.Furniture.Title == b.Furniture.Title || a.Furniture.Work == b.Furniture.Work || a.Furniture.Foot == b.Furniture.Foot ||
		a.Face(0).Name == b.Face(0).Name || bytes.Equal(a.Style(), b.Style()) {
		t.Errorf("%s and %s share more than they should", a.Name, b.Name)
	}
}

// TestThemeSpeaks: a theme changes single texts in every edition, brings a
// language of its own, and is told of what is wrong in its words.
func TestThemeSpeaks(t *testing.T) {
	o := dressed(t, map[string]string{"words/en-GB.yaml": "part: {months: The twelve months}\nlabel: {look for: Watch for}\n"})
	o.Editions = []string{"web", "ics"}
	r := build(t, o)
	o.Close()
	if page := string(r.Files["index.html"]); !strings.Contains(page, "<b>Watch for</b>") || strings.Contains(page, "<b>Look for</b>") {
		t.Error("the theme's text is not on the page")
	}
	if !strings.Contains(string(r.Files["care.ics"]), "Watch for: ") {
		t.Error("the theme's text is not in the calendar")
	}
	for text, want := range map[string]string{
		"part: {mnths: The twelve months}\n":          `looks/words/en-GB.yaml:1:8: error: unknown key "mnths" [words/unknown-key]`,
		"label:\n  look for: \"Watch for {plant}\"\n": `looks/words/en-GB.yaml:2:14: error: nothing fills {plant} here [words/place]`,
	} {
		o := dressed(t, map[string]string{"words/en-GB.yaml": text})
		_, ds, err := generator.Check(o)
		o.Close()
		if said := printed(ds); err != nil || !strings.Contains(said, want) {
			t.Errorf("%v %s, want %s", err, said, want)
		}
	}
}
