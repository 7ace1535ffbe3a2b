package generator

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"testing"
)

// A magazine and broadcaster that is no authority for a fact and may stand
// nowhere. Its name is put together here, so that this file does not hold it.
var noAuthority = regexp.MustCompile(`(?i)gardener(?:'|’|&#39;|&rsquo;)?s?(?:'|’|&#39;|&rsquo;)?[\s_-]*` + `worl` + `d\b`)

// TestNoAuthorityIsNamed: a fact is named after a society, a university or a
// botanical garden that says it, or is common practice. Every text file of the
// tree is read, built booklets apart.
func TestNoAuthorityIsNamed(t *testing.T) {
	for _, name := range []string{"Gardeners’ " + "World", "gardeners" + "world.com", "GARDENER'S " + "WORLD", "gardeners'\n" + "world"} {
		if !noAuthority.MatchString(name) {
			t.Errorf("%q would not be seen", name)
		}
	}
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (d.Name() == ".git" || path == filepath.Join("..", "output")):
			return fs.SkipDir
		case !d.Type().IsRegular():
			return nil
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		if bytes.IndexByte(text[:min(len(text), 8000)], 0) >= 0 { // not a text
			return nil
		}
		for _, at := range noAuthority.FindAllIndex(text, -1) {
			t.Errorf("%s:%d: %q", path, 1+bytes.Count(text[:at[0]], []byte("\n")), text[at[0]:at[1]])
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
