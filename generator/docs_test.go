package generator_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// TestCalendarTableIsPrinted: DEVELOPERS.md prints the table as the tests
// compute it.
func TestCalendarTableIsPrinted(t *testing.T) {
	doc, err := os.ReadFile("../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	table, err := os.ReadFile("../testdata/calendars/table.md")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(doc), strings.TrimSpace(string(table))) {
		t.Error("the table in DEVELOPERS.md is not the one of testdata/calendars/table.md: copy it over")
	}
}

// TestCodesAreListed: DEVELOPERS.md lists every code of diagnostics that the
// source can give.
func TestCodesAreListed(t *testing.T) {
	doc, err := os.ReadFile("../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	listed := map[string]bool{}
	for _, m := range regexp.MustCompile("`([a-z0-9-]+/)?([a-z0-9-]+)`").FindAllStringSubmatch(string(doc), -1) {
		listed[m[2]], listed[m[1]+m[2]] = true, true
	}
	forms := []*regexp.Regexp{
		regexp.MustCompile(`source\.(?:Error|Warning|Note), "([a-z]+/[a-z-]+)"`),
		regexp.MustCompile(`\.(?:Add\(severity, |warn\()"([a-z]+/[a-z-]+)"`),
		regexp.MustCompile(`\.(?:Fail|Warn|fail|warn)\([^\n]*?, "([a-z][a-z-]*)", `),
	}
	files, err := filepath.Glob("*/*.go")
	if err != nil {
		t.Fatal(err)
	}
	top, _ := filepath.Glob("*.go")
	found := 0
	for _, name := range append(files, top...) {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, form := range forms {
			for _, m := range form.FindAllStringSubmatch(string(text), -1) {
				found++
				if !listed[m[1]] {
					t.Errorf("%s: DEVELOPERS.md does not list %q", name, m[1])
				}
			}
		}
	}
	if found < 80 {
		t.Errorf("only %d codes were found in the source: do the patterns still fit?", found)
	}
}
