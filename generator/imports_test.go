package generator_test

import (
	"encoding/json"
	"io"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// TestImports keeps the shape of the tree: each format library has one
// importer, packages import only those before them in this list, and nothing
// below the root but the watcher touches the operating system.
func TestImports(t *testing.T) {
	order := []string{"source", "fields", "schema", "words", "measure", "names", "site", "prose", "draw", "photo", "entries", "garden", "days", "care", "figure", "theme", "booklet", "layout", "html", "pdf", "ics", "watch", "preview", ""}
	importer := map[string]string{
		"go.yaml.in/yaml/v4": "fields", "github.com/adrg/frontmatter": "fields",
		"github.com/yuin/goldmark": "prose", "github.com/go-pdf/fpdf": "pdf",
		"github.com/rivo/uniseg": "layout", "golang.org/x/image/font/sfnt": "theme",
		"github.com/fsnotify/fsnotify": "watch", "github.com/gofrs/flock": "", "github.com/boombuler/barcode": "figure", "github.com/xuri/excelize/v2": "garden", "os": "",
	}
	out, err := exec.Command("go", "list", "-json=ImportPath,Imports", "./...").Output()
	if err != nil {
		t.Fatal(err)
	}
	const root = "sheaf/generator"
	seen := 0
	for dec := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p struct {
			ImportPath string
			Imports    []string
		}
		if err := dec.Decode(&p); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		name := strings.TrimPrefix(strings.TrimPrefix(p.ImportPath, root), "/")
		if slices.Contains([]string{"clubtest", "draw/drawtest", "source/sourcetest", "theme/themetest", "words/wordstest", "tooltest"}, name) {
			continue // for tests only
		}
		seen++
		at := slices.Index(order, name)
		if at < 0 {
			t.Errorf("package %s is not in the order of packages", p.ImportPath)
			continue
		}
		for _, imp := range p.Imports {
			for lib, only := range importer {
				if (imp == lib || lib != "os" && strings.HasPrefix(imp, lib+"/")) && name != only && !(lib == "os" && name == "watch") {
					t.Errorf("%s imports %s, which only %q may", p.ImportPath, imp, only)
				}
			}
			if inner, ok := strings.CutPrefix(imp, root+"/"); ok && slices.Index(order, inner) >= at {
				t.Errorf("%s imports %s, which comes after it", p.ImportPath, inner)
			}
		}
	}
	if seen < 15 {
		t.Errorf("only %d packages were seen", seen)
	}
}
