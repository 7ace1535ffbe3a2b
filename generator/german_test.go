package generator_test

import (
	"bytes"
	"html"
	"io/fs"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"sheaf/generator"
	"sheaf/generator/tooltest"
	"sheaf/generator/words/wordstest"
)

// mill is a garden all in German, with a library of its own: not a word in it is
// of the shipped one.
const mill = "../testdata/german/gardens/muehlwinkel"

// milled is that garden with changes to its garden.yaml.
func milled(t testing.TB, changes ...string) generator.Options {
	t.Helper()
	o := options(t, mill)
	files := fstest.MapFS{}
	root := os.DirFS(mill)
	if err := fs.WalkDir(root, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(root, p)
		if p == "garden.yaml" {
			for i := 0; i+1 < len(changes); i += 2 {
				if !bytes.Contains(data, []byte(changes[i])) {
					t.Errorf("the garden has no %q", changes[i])
				}
				data = bytes.ReplaceAll(data, []byte(changes[i]), []byte(changes[i+1]))
			}
		}
		files[p] = &fstest.MapFile{Data: data}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	o.Garden = files
	return o
}

var (
	unseenForm = regexp.MustCompile(`(?s)<script.*?</script>|<style.*?</style>|<!--.*?-->`)
	saidForm   = regexp.MustCompile(`\b(?:alt|aria-label|title|placeholder)="([^"]*)"|name="description" content="([^"]*)"`)
	tagForm    = regexp.MustCompile(`<[^>]*>`)
	wordForm   = regexp.MustCompile(`\p{L}+`)
	keyedForm  = regexp.MustCompile(`\[[a-z ]+\.[a-z, ]+\]`)
	proseKey   = regexp.MustCompile(`(?m)^\s*(?:- )?(?:look-for|how|why|if-missed|stop-if|postpone-if|summary|note|cautions|leave|tools|common|group|nest-note|name|title|trees|hedges|waste|emergency|sources|bed|for|by|garden|source|- \{name):.*$|^\s+- \{.*$|^  [^ ]+: [A-ZÄÖÜ].*$`)
)

// seen is what a reader sees or hears of a page.
func seen(page []byte) string {
	text := unseenForm.ReplaceAllString(string(page), " ")
	var b strings.Builder
	for _, m := range saidForm.FindAllStringSubmatch(text, -1) {
		b.WriteString(m[1] + m[2] + "\n")
	}
	return html.UnescapeString(b.String() + tagForm.ReplaceAllString(text, " "))
}

func lowerWords(text string) map[string]bool {
	out := map[string]bool{}
	for _, w := range wordForm.FindAllString(text, -1) {
		if len([]rune(w)) >= 4 {
			out[strings.ToLower(w)] = true
		}
	}
	return out
}

// english are the words of four letters and more that the interface says in
// English, and neither the German one nor the texts of the German library.
func english(t *testing.T) map[string]bool {
	t.Helper()
	placeForm := regexp.MustCompile(`\{[a-z]+\}`)
	all := func(lang string) map[string]bool {
		w := wordstest.Of(t, lang)
		var texts []string
		for _, key := range w.Keys() {
			texts = append(texts, w.All(key)...)
		}
		return lowerWords(placeForm.ReplaceAllString(strings.Join(texts, "\n"), " "))
	}
	out := all("en-GB")
	for w := range all("de") {
		delete(out, w)
	}
	if err := fs.WalkDir(os.DirFS("../testdata/german"), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path.Join("../testdata/german", p))
		text := string(data)
		front, body := text, ""
		if strings.HasPrefix(text, "---\n") {
			front, body, _ = strings.Cut(text[4:], "\n---\n")
		}
		for _, line := range proseKey.FindAllString(front, -1) {
			_, value, _ := strings.Cut(line, ":")
			body += "\n" + value
		}
		for w := range lowerWords(body) {
			delete(out, w)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	// Guards of the test itself: the keys of a file's front must not free a word.
	for _, w := range []string{"month", "plants", "leave", "look", "care", "first", "year", "about", "safety", "search"} {
		if !out[w] {
			delete(out, w)
			t.Errorf("%q is taken for German", w)
		}
	}
	return out
}

// TestGerman: a garden in German has no English word of the interface in any
// edition, in words seen or heard, and no text that is missing; kinds of booklet
// that say other things are made as well.
func TestGerman(t *testing.T) {
	t.Parallel()
	banned := english(t)
	t.Logf("%d words are looked for", len(banned))
	check := func(what, text string) {
		for _, key := range keyedForm.FindAllString(text, -1) {
			t.Errorf("%s: the text %s is missing", what, key)
		}
		var found []string
		for w := range lowerWords(text) {
			if banned[w] {
				found = append(found, w)
			}
		}
		if slices.Sort(found); found != nil {
			t.Errorf("%s: English: %s", what, strings.Join(found, ", "))
		}
	}
	noNormals := regexp.MustCompile(`(?s)  normals:.*?  coldest`)
	garden, err := os.ReadFile(mill + "/garden.yaml")
	if err != nil {
		t.Fatal(err)
	}
	normals := strings.TrimSuffix(noNormals.FindString(string(garden)), "  coldest")
	for _, c := range []struct {
		name    string
		changes []string
	}{
		{"handover", nil},
		{"months and gardener", []string{"skill: owner", "skill: gardener\ncalendar: months\nyears: 3\nalarm: 7 days"}},
		{"frosts", []string{normals, "  frost: {last: 2 May, first: 20 October}\n", "country: DE", "country: XX"}},
		{"nothing known", []string{normals, ""}},
		{"warm", []string{normals, "  normals: {min: [9,9,9,10,12,14,16,16,15,13,11,9], max: [15,15,16,18,20,23,26,26,24,21,18,15], unit: °C}\n"}},
		{"guide", []string{"date: 2027-03-12", "date: 2027-03-12\nkind: guide\nedition: Dritte Auflage", "plants: pflanzen.csv", ""}},
	} {
		o := milled(t, c.changes...)
		r := build(t, o)
		o.Close()
		for name, data := range r.Files {
			what := c.name + "/" + name
			switch path.Ext(name) {
			case ".html":
				if !bytes.Contains(data, []byte(`<html lang="de">`)) {
					t.Errorf("%s does not say its language", what)
				}
				check(what, seen(data))
			case ".ics":
				text := strings.ReplaceAll(string(data), "\r\n ", "")
				var said []string
				for line := range strings.Lines(text) {
					// What the standard names is English, and so is a UID's address.
					if key, value, ok := strings.Cut(strings.TrimSpace(line), ":"); ok && slices.Contains([]string{"SUMMARY", "DESCRIPTION", "CATEGORIES", "NAME", "X-WR-CALNAME"}, key) {
						said = append(said, strings.NewReplacer(`\n`, "\n", `\,`, ",").Replace(value))
					}
				}
				check(what, strings.Join(said, "\n"))
				if !strings.Contains(text, "//DE\r\n") {
					t.Errorf("%s does not say its language", what)
				}
			case ".js":
				if name == "search-data.js" {
					check(what, regexp.MustCompile(`"h":"[^"]*"`).ReplaceAllString(string(data), ""))
				}
				if name == "booklet.js" {
					first, _, _ := strings.Cut(string(data), "\n")
					check(what, regexp.MustCompile(`"[a-z ]+":|bookletWords`).ReplaceAllString(first, ""))
				}
			case ".pdf":
				check(what, pdfText(t, data))
			}
		}
		if c.name != "handover" {
			continue
		}
		at := func(name, want string) {
			if !strings.Contains(strings.ReplaceAll(seen(r.Files[name]), "\u00a0", " "), want) {
				t.Errorf("%s lacks %q", name, want)
			}
		}
		at("index.html", "12. März 2027")
		at("garden.html", "42,5 m²")
		at("garden.html", "1 Pflanze ")
		at("garden.html", "12,5 m Hecke")
		at("pages/willkommen.html", "„trockenes Stroh“")
		at("months/2027-10.html", "Was vom Boden aus nicht zu erreichen ist")
		at("plants/sesleria-autumnalis.html", "Stehen lassen: alles lebende Laub")
		// German files its umlauts with their letters (DIN 5007-1, from memory).
		index := seen(r.Files["names.html"])
		var places []int
		for _, name := range []string{"Teilen", "Überscheren", "Verblühtes entfernen", "Weißbuche"} {
			places = append(places, strings.Index(index, name))
		}
		if !slices.IsSorted(places) || places[0] < 0 {
			t.Errorf("the index is not in German order: %v", places)
		}
		terms := seen(r.Files["glossary.html"])
		if a, z := strings.Index(terms, "Ähre"), strings.Index(terms, "Zwiebel"); a < 0 || a > z {
			t.Errorf("the glossary is not in German order: Ähre at %d, Zwiebel at %d", a, z)
		}
	}
}

// TestLanguageIsNamed: a language without words is told with those that there
// are; a kind of one is that one.
func TestLanguageIsNamed(t *testing.T) {
	for lang, want := range map[string]string{
		"de": "", "de-AT": "", "en-US": "", "fr": "there are de, en-GB, en-US", "deutsch": `there are no words of the language "deutsch"`,
	} {
		o := milled(t, "language: de", "language: "+lang)
		_, ds, err := generator.Check(o)
		o.Close()
		said := printed(ds)
		if err != nil || strings.Contains(said, "garden/language") != (want != "") || !strings.Contains(said, want) {
			t.Errorf("%s: %v %s", lang, err, said)
		}
	}
}

// TestHalfInAnotherLanguage: a booklet whose libraries speak another language than it
// does is not made, and what is in that language is named; with partial it is told.
func TestHalfInAnotherLanguage(t *testing.T) {
	for _, c := range []struct {
		name    string
		row     string // one more of the plant list
		changes []string
		want    []string // in what is told; nothing for none
	}{
		{"its own library", "", nil, nil},
		{"its own library first", "", []string{"[../../]", "[../../, built-in]"}, nil},
		{"a plant of the other", "Miscanthus sinensis;3;Hof\n", []string{"[../../]", "[../../, built-in]"},
			[]string{"garden.yaml:7:11: error: the booklet is in de, and 2 texts of its libraries are in en-GB [garden/foreign]", "entries: Miscanthus sinensis\n", "care groups: deciduous warm-season grass\n"}},
		{"the other alone", "", []string{"[../../]", "[built-in]"},
			[]string{"garden.yaml:7:11: error: the booklet is in de, and ", "entries: ", "care groups: ", "jobs: ", "regions: DE\n", "pages: first-year, glossary, how-to-use, safety\n", `"written-in: de"`}},
		{"a kind of it", "", []string{"language: de", "language: de-AT"}, nil},
		{"a garden in English", "", []string{"language: de\n", ""},
			[]string{"garden.yaml:2:1: error: the booklet is in en-GB, and ", " texts of its libraries are in de [garden/foreign]"}},
	} {
		for _, partial := range []bool{false, true} {
			o := milled(t, c.changes...)
			list := o.Garden.(fstest.MapFS)["pflanzen.csv"]
			list.Data = append(slices.Clone(list.Data), c.row...)
			o.Partial, o.Editions = partial, []string{"json"}
			proof, ds, err := generator.Compose(o)
			o.Close()
			said := printed(ds)
			if err != nil || strings.Contains(said, "garden/foreign") != (c.want != nil) || (proof == nil) != (c.want != nil && !partial) {
				t.Errorf("%s, partial %v: %v\n%s", c.name, partial, err, said)
			}
			for _, want := range c.want {
				if partial {
					want = strings.Replace(want, "error", "warning", 1)
				}
				if !strings.Contains(said, want) {
					t.Errorf("%s, partial %v: %q is not told in\n%s", c.name, partial, want, said)
				}
			}
		}
	}
}

// pdfText is the text of a printed edition, with what its properties say.
func pdfText(t *testing.T, data []byte) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "edition.pdf")
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
	text, err := exec.Command(tooltest.Tool(t, "pdftotext"), "-raw", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	about, err := exec.Command(tooltest.Tool(t, "pdfinfo"), file).Output()
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(about)) {
		if key, value, _ := strings.Cut(line, ":"); key == "Title" || key == "Subject" {
			text = append(text, value...)
		}
	}
	return string(text)
}
