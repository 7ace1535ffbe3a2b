package generator_test

import (
	"io/fs"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"sheaf/generator"
)

// wort is a word that can only be a plant's, whether the library knows it or not.
var wort = regexp.MustCompile(`^[a-z]+(wort|bane|weed)$`)

// strangers gives the plants that a garden's own pages name and its list does not
// hold: words that are the last of a common name in the library, or a genus, or
// end as only a plant's does.
func strangers(t *testing.T, plan *generator.Plan, files fs.FS) []string {
	t.Helper()
	last := func(names []string) (out []string) {
		for _, n := range names {
			words := strings.Fields(strings.ToLower(n))
			out = append(out, strings.TrimSuffix(words[len(words)-1], "s"))
		}
		return out
	}
	plants, held := map[string]bool{}, map[string]bool{}
	for _, e := range plan.Library.Entries {
		for _, w := range append(last(e.Common), strings.ToLower(e.Name.Value.Genus)) {
			plants[w] = true
		}
	}
	for i := range plan.Plantings {
		p := &plan.Plantings[i]
		if p.Entry == nil {
			continue
		}
		for _, w := range append(last(p.Entry.Common), strings.ToLower(p.Entry.Name.Value.Genus), strings.ToLower(p.Name.Genus)) {
			held[w] = true
		}
	}
	for _, plain := range []string{"may", "plant", "prairie", "garden", "head", "spring", "snow", "drop"} { // hawthorn is may, and a common name may end with any of them
		delete(plants, plain)
	}
	var out []string
	for _, page := range plan.Garden.Pages {
		text, err := fs.ReadFile(files, page.Value)
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range strings.FieldsFunc(strings.ToLower(string(text)), func(r rune) bool { return r < 'a' || r > 'z' }) {
			if w = strings.TrimSuffix(w, "s"); (plants[w] || wort.MatchString(w)) && !held[w] {
				out = append(out, w)
			}
		}
	}
	return out
}

// TestWelcomePagesNameWhatTheGardenHolds: a demo's own pages speak of no plant that
// is not in it, and a plant that is taken off the list is missed.
func TestWelcomePagesNameWhatTheGardenHolds(t *testing.T) {
	for _, o := range []generator.Options{moved(t), options(t, kettleRidge)} {
		plan, ds, err := generator.Check(o)
		if err != nil || ds.HasErrors() {
			t.Fatal(err, printed(ds))
		}
		if got := strangers(t, plan, o.Garden); len(got) > 0 {
			t.Errorf("%s speaks of %q, which it has not", plan.Garden.Name, got)
		}
	}
	o := moved(t)
	o.Garden.(fstest.MapFS)["pages/welcome.md"] = &fstest.MapFile{Data: []byte("---\ntitle: Welcome\n---\nThe sicklewort and the wisteria may seed.\n")}
	plan, _, err := generator.Check(o)
	if err != nil {
		t.Fatal(err)
	}
	if got := strangers(t, plan, o.Garden); len(got) != 2 {
		t.Errorf("two plants that are not there: %q", got)
	}
}
