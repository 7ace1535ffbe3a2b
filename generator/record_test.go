package generator_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"
)

// TestRecordHoldsNoPlace: booklet.json of a garden whose libraries and theme lie
// elsewhere and are named by whole paths, with messages about each, holds no whole
// path, and two libraries of one name are told apart.
func TestRecordHoldsNoPlace(t *testing.T) {
	entry := func(botanical, more string) *fstest.MapFile {
		return &fstest.MapFile{Data: []byte("---\nbotanical: " + botanical + "\ncommon: [green moor grass]\ntype: grass\nleaf: evergreen\ngrowth: cool-season\nhabit: mound\nheight: 40 cm\nspread: 45 cm\ncare-group: evergreen combed grass\n" + more + "---\nA low evergreen mound.\n")}
	}
	record := func(top string) []byte {
		dir := func(name string) string { return filepath.Join(top, filepath.FromSlash(name)) }
		slash := func(name string) string { return filepath.ToSlash(dir(name)) }
		files := fstest.MapFS{
			"garden/garden.yaml": {Data: []byte("garden: Small\ntheme: " + slash("looks/plain") + "\nlibrary: [\"" + slash("one/club/") + "\", \"" + slash("two/club") + "\", ../three/club, " + slash("one") + ", built-in]\n" +
				"site: {country: GB, latitude: 52, coldest-night: -12 °C}\nplants: plants.csv\n")},
			"garden/plants.csv":        {Data: []byte("plant,quantity,care\nSesleria heufleriana,3,\nSesleria nitida,3,\nSesleria sadleriana,4,\nSesleria insularis,1,\nHakonechloa macra,5,\nCarex morrowi,2,\nXyla vulgaris,2,\n")},
			"garden/plants/own.md":     entry("Sesleria insularis", "hardy: -1 °C\n"),
			"one/club/plants/a.md":     entry("Sesleria heufleriana", "hardy: -2 °C\ncontributor: A. N. Member\n"),
			"one/club/plants/fault.md": entry("Sesleria caerulea", "no-such-key: 1\n"),
			"one/plants/outer.md":      entry("Sesleria argentea", "no-such-key: 1\n"),
			"two/club/plants/b.md":     entry("Sesleria nitida", "hardy: -2 °C\n"),
			"two/club/plants/html.md":  {Data: append(entry("Sesleria rigida", "contributor: B\n").Data, "\n[far](nowhere.html) and <b>bold</b>\n"...)},
			"three/club/plants/c.md":   entry("Sesleria sadleriana", "photo: {file: none.jpg, alt: none}\n"),
			"looks/plain/theme.yaml":   {Data: []byte("theme: Plain\nfaces: {body: Nowhere Serif}\nsizes: {text: 14, leading: 15}\n")},
		}
		if err := os.CopyFS(top, files); err != nil {
			t.Fatal(err)
		}
		o := options(t, dir("garden"))
		defer o.Close()
		o.Partial, o.Editions, o.Fonts = true, []string{"web", "onefile", "ics", "json"}, []string{dir("fonts")}
		made := build(t, o).Files
		for name, data := range made {
			if bytes.Contains(data, []byte(top)) || bytes.Contains(data, []byte(filepath.ToSlash(top))) {
				t.Errorf("%s says where the garden lies", name)
			}
		}
		return made["booklet.json"]
	}
	top := filepath.Join(t.TempDir(), "gardens")
	data := record(top)
	var all any
	if err := json.Unmarshal(data, &all); err != nil {
		t.Fatal(err)
	}
	whole := regexp.MustCompile(`(?:^|[\s"'(\[:=,])(?:/[^\s/]|[A-Za-z]:[/\\]|\\\\)`)
	var told []string
	var walk func(any)
	walk = func(v any) {
		switch v := v.(type) {
		case string:
			told = append(told, v)
			if whole.MatchString(v) {
				t.Errorf("a whole path in %q", v)
			}
		case []any:
			for _, e := range v {
				walk(e)
			}
		case map[string]any:
			for _, e := range v {
				walk(e)
			}
		}
	}
	walk(all)
	// Each place is there, by another name.
	text := strings.Join(told, "\n")
	for _, want := range []string{"club/plants/a.md", "club-2/plants/b.md", "../three/club/plants/c.md", "plants/own.md", "club/plants/fault.md", "one/plants/outer.md", "plain/theme.yaml", "built-in/plants/"} {
		if !regexp.MustCompile(`(?m)^` + regexp.QuoteMeta(want)).MatchString(text) {
			t.Errorf("nothing is told of %s", want)
		}
	}
	if other := record(filepath.Join(t.TempDir(), "elsewhere")); !bytes.Equal(data, other) {
		t.Errorf("the same garden in another place:\n%s", firstDifference(string(other), string(data)))
	}
}
