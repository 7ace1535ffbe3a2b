package generator_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// A licence by its SPDX identifier and how its text is known: by phrases that
// must stand in it, and by its length in words, so that a text with a clause
// added is not taken for the one it begins as. The identifiers are those of the
// SPDX licence list, from memory; the phrases are those of the texts themselves.
type licence struct {
	id          string
	has, lacks  []string
	least, most int // words; 0: any
}

func licences() []licence {
	const (
		source = "redistributions of source code must retain the above copyright notice"
		binary = "redistributions in binary form must reproduce the above copyright notice"
		names  = "neither the name"
	)
	return []licence{
		{id: "Apache-2.0", has: []string{"apache license version 2.0, january 2004", "terms and conditions for use, reproduction, and distribution"}, least: 1300, most: 1750},
		{id: "BSD-3-Clause", has: []string{source, binary, names}, least: 180, most: 280},
		{id: "BSD-2-Clause", has: []string{source, binary}, lacks: []string{names}, least: 150, most: 230},
		{id: "MIT", has: []string{"permission is hereby granted, free of charge, to any person obtaining a copy of this software and associated documentation files",
			"the above copyright notice and this permission notice shall be included in all copies or substantial portions of the software"}, least: 150, most: 220},
		{id: "ISC", has: []string{"permission to use, copy, modify, and/or distribute this software for any purpose with or without fee is hereby granted"}, least: 90, most: 160},
		// One text for the Bitstream Vera, Arev and TeX Gyre parts of the DejaVu
		// fonts, whose licences differ by the names in them alone.
		{id: "Bitstream-Vera", has: []string{"bitstream vera fonts copyright", "dejavu changes are in public domain", "only if the fonts are renamed to names not containing either the words \"bitstream\" or the word \"vera\""}, least: 1000, most: 1500},
		{id: "OFL-1.1", has: []string{"sil open font license version 1.1"}, least: 500, most: 900},
		{id: "MPL-2.0", has: []string{"mozilla public license version 2.0"}, least: 2000, most: 3000},
		// These are known so that they can be refused by name.
		{id: "GPL", has: []string{"gnu general public license"}, lacks: []string{"mozilla public license"}},
		{id: "LGPL", has: []string{"gnu lesser general public license"}},
		{id: "AGPL", has: []string{"gnu affero general public license"}, lacks: []string{"mozilla public license"}},
		{id: "EPL", has: []string{"eclipse public license"}},
		{id: "CC-BY-SA", has: []string{"attribution-sharealike"}},
	}
}

// copyleft tells the licences that ask something of whoever passes the program
// on: "" for those that must not be among its parts, else what is asked.
func copyleft() map[string]string {
	return map[string]string{
		"GPL": "", "LGPL": "", "AGPL": "", "EPL": "", "CC-BY-SA": "",
		"MPL-2.0": "a change to a file under it is passed on under it",
	}
}

// classify gives the identifier of a licence's text, "" when it is not known.
func classify(text string) string {
	text = strings.Join(strings.Fields(strings.ToLower(text)), " ")
	words := strings.Count(text, " ") + 1
	for _, l := range licences() {
		contains := func(phrase string) bool { return strings.Contains(text, phrase) }
		lacks := func(phrase string) bool { return !contains(phrase) }
		if !slices.ContainsFunc(l.has, lacks) && !slices.ContainsFunc(l.lacks, contains) && words >= l.least && (l.most == 0 || words <= l.most) {
			return l.id
		}
	}
	return ""
}

func TestClassify(t *testing.T) {
	own, err := os.ReadFile("../LICENSE")
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]string{
		string(own): "Apache-2.0",
		string(own) + strings.Repeat(" The Software shall be used on Sundays only.", 40): "",
		"GNU GENERAL PUBLIC LICENSE Version 3, 29 June 2007":                             "GPL",
		"All rights reserved.": "",
		"Permission is hereby granted, free of charge, to any person obtaining a copy of this software and associated documentation files": "",
		"": "",
	} {
		if got := classify(text); got != want {
			t.Errorf("%.60q is taken for %q, want %q", text, got, want)
		}
	}
}

// A third is a module, or the fonts within one, with what its licence is.
type third struct {
	name, version string
	ids           []string
	texts         []string // paths of the licence's files
	more          []string // and of the notices beside them
	folders       []string // of the packages used, within the module
}

var (
	// forFiles heads a part of a licence's text that is only for some files, after
	// a line of strokes.
	forFiles = regexp.MustCompile(`(?m)^-{10,}\n+Files: `)
	filesOf  = regexp.MustCompile(`(?m)^Files: (.+)$`)
)

// applies leaves out the parts of a licence's text that are for files not used.
func (p third) applies(text string) string {
	parts := forFiles.FindAllStringIndex(text, -1)
	if len(parts) == 0 {
		return text
	}
	out := text[:parts[0][0]]
	for i, m := range parts {
		end := len(text)
		if i+1 < len(parts) {
			end = parts[i+1][0]
		}
		part := text[m[0]:end]
		if slices.ContainsFunc(filesOf.FindAllStringSubmatch(part, -1), func(m []string) bool {
			of := strings.TrimSuffix(m[1], "/*")
			return slices.ContainsFunc(p.folders, func(f string) bool { return f == of || strings.HasPrefix(f, of+"/") })
		}) {
			out += part
		}
	}
	return out
}

func TestApplies(t *testing.T) {
	const text = "one\n\n------------------\n\nFiles: a/b/*\n\ntwo\n------------------\n\nFiles: e/*\nFiles: c\n\nthree\n"
	for folder, want := range map[string]string{"d": "one", "a": "one", "a/b": "one two", "a/b/x": "one two", "c": "one three", "e": "one three"} {
		got := third{folders: []string{folder}}.applies(text)
		words := strings.Fields(regexp.MustCompile(`-+|Files: \S+`).ReplaceAllString(got, ""))
		if strings.Join(words, " ") != want {
			t.Errorf("%s: %q, want %q", folder, words, want)
		}
	}
}

var (
	licenceFile = regexp.MustCompile(`(?i)^(licen[cs]e|copying|unlicense)`)
	noticeFile  = regexp.MustCompile(`(?i)^(notice|patents|copyright)`)
	spdxHeader  = regexp.MustCompile(`(?m)^// SPDX-License-Identifier: (.+)$`)
)

// goFonts is the package of a module that holds a licence of its own: that of
// the Go fonts is in the README beside the files they are made from.
const goFonts = "golang.org/x/image/font/gofont"

// compiledIn lists what the program is made of on the systems it is built for,
// with the Go files of each: modules by their path.
func compiledIn(t *testing.T) map[string]*compiled {
	t.Helper()
	out := map[string]*compiled{}
	for _, system := range []string{"linux/amd64", "darwin/arm64", "windows/amd64"} {
		goos, goarch, _ := strings.Cut(system, "/")
		cmd := exec.Command("go", "list", "-deps", "-json=ImportPath,Dir,GoFiles,Module,Standard", "./cmd/sheaf")
		cmd.Dir = ".."
		cmd.Env = append(os.Environ(), "GOOS="+goos, "GOARCH="+goarch, "CGO_ENABLED=0", "GOFLAGS=-mod=readonly")
		var faults strings.Builder
		cmd.Stderr = &faults
		list, err := cmd.Output()
		if err != nil {
			t.Fatalf("go list: %v\n%s", err, faults.String())
		}
		for dec := json.NewDecoder(bytes.NewReader(list)); ; {
			var p struct {
				ImportPath, Dir string
				GoFiles         []string
				Standard        bool
				Module          *struct {
					Path, Version, Dir string
					Main               bool
				}
			}
			if err := dec.Decode(&p); err == io.EOF {
				break
			} else if err != nil {
				t.Fatal(err)
			}
			switch {
			case p.Standard || p.Module.Main:
				continue
			case p.Module.Dir == "":
				t.Fatalf("the module %s is not on this machine", p.Module.Path)
			}
			m := out[p.Module.Path]
			if m == nil {
				m = &compiled{path: p.Module.Path, version: p.Module.Version, dir: p.Module.Dir, packages: map[string]string{}}
				out[m.path] = m
			}
			m.packages[p.ImportPath] = p.Dir
			for _, f := range p.GoFiles {
				m.files = append(m.files, filepath.Join(p.Dir, f))
			}
		}
	}
	return out
}

type compiled struct {
	path, version, dir string
	packages           map[string]string // folders by import paths
	files              []string
}

// third finds a module's licences: the files of that name in its folder and in
// those of the packages used, up to it, and what the used files say at their
// heads.
func (m *compiled) third(t *testing.T) third {
	t.Helper()
	out := third{name: m.path, version: m.version}
	folders := map[string]bool{m.dir: true}
	for path, dir := range m.packages {
		out.folders = append(out.folders, strings.TrimPrefix(strings.TrimPrefix(path, m.path), "/"))
		for ; len(dir) > len(m.dir); dir = filepath.Dir(dir) {
			folders[dir] = true
		}
	}
	for _, dir := range slices.Sorted(maps.Keys(folders)) {
		files, err := os.ReadDir(dir)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			name := filepath.Join(dir, f.Name())
			switch {
			case f.IsDir() || filepath.Ext(name) == ".go":
			case licenceFile.MatchString(f.Name()):
				out.texts = append(out.texts, name)
			case noticeFile.MatchString(f.Name()):
				out.more = append(out.more, name)
			}
		}
	}
	slices.Sort(m.files)
	for _, f := range slices.Compact(m.files) {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, said := range spdxHeader.FindAllStringSubmatch(string(text), -1) {
			out.ids = append(out.ids, strings.Split(strings.TrimSpace(said[1]), " AND ")...)
		}
	}
	return out
}

// thirds lists all parts.
func thirds(t *testing.T) []third {
	t.Helper()
	modules := compiledIn(t)
	var out []third
	for _, path := range slices.Sorted(maps.Keys(modules)) {
		m := modules[path]
		out = append(out, m.third(t))
		for p := range m.packages {
			if strings.HasPrefix(p, goFonts+"/") {
				out = append(out, third{name: goFonts, version: m.version, texts: []string{filepath.Join(m.dir, "font", "gofont", "ttfs", "README")}})
				break
			}
		}
	}
	// The Go project gives its library and its modules one licence, to the
	// letter; where the library's own lies differs between installations.
	library := third{name: "the Go standard library", version: "of the compiler"}
	library.texts, library.more = []string{filepath.Join(modules["golang.org/x/text"].dir, "LICENSE")}, []string{filepath.Join(modules["golang.org/x/text"].dir, "PATENTS")}
	return append(out, library)
}

// TestThirdParty: THIRD_PARTY.md names all that is compiled into the program,
// on each system, with its licence and the licence's text, fonts included. The
// texts come from the modules as the module cache holds them, whose sums go.sum
// vouches for. A licence that is not known fails, as does one that asks for
// more than is noted.
func TestThirdParty(t *testing.T) {
	var table, texts strings.Builder
	numbers := map[string]int{} // of a text, by its words
	number := func(p third, name string) int {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		words := strings.Join(strings.Fields(string(data)), " ")
		if n := numbers[words]; n > 0 {
			return n
		}
		numbers[words] = len(numbers) + 1
		fmt.Fprintf(&texts, "\n### Text %d: %s of %s\n\n", len(numbers), filepath.Base(name), p.name)
		for line := range strings.Lines(strings.ReplaceAll(strings.Trim(string(data), "\n")+"\n", "\r", "")) {
			texts.WriteString(strings.TrimRight("    "+line, " \t\n") + "\n")
		}
		return len(numbers)
	}
	all := thirds(t)
	for _, p := range all {
		var of []string
		for _, name := range p.texts {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			text := string(data)
			if filepath.Base(name) == "LICENSE.libyaml" || filepath.Base(name) == "README" {
				// A few lines on what it is for stand before it.
				_, after, _ := strings.Cut(text, "Copyright")
				text = after
			}
			text = p.applies(text)
			id := classify(text)
			if id == "" {
				t.Errorf("%s: the licence in %s is not known", p.name, filepath.Base(name))
			}
			p.ids = append(p.ids, id)
			of = append(of, fmt.Sprint(number(p, name)))
		}
		if len(p.texts) == 0 {
			t.Errorf("%s has no licence", p.name)
		}
		for _, name := range p.more {
			of = append(of, fmt.Sprint(number(p, name)))
		}
		slices.Sort(p.ids)
		p.ids = slices.Compact(p.ids)
		var notes []string
		for _, id := range p.ids {
			asks, is := copyleft()[id]
			switch {
			case is && asks == "":
				t.Errorf("%s is under %s, which asks the same of the whole program", p.name, id)
			case is:
				notes = append(notes, asks)
			}
			if !slices.ContainsFunc(licences(), func(l licence) bool { return l.id == id }) {
				t.Errorf("%s: a file names the licence %q, which is not known", p.name, id)
			}
		}
		fmt.Fprintf(&table, "| %s | %s | %s | %s |\n", p.name, p.version, strings.Join(append([]string{strings.Join(p.ids, " and ")}, notes...), ": "), strings.Join(of, ", "))
	}
	got := thirdPartyHead + table.String() + thirdPartyMiddle + texts.String()
	const golden = "../THIRD_PARTY.md"
	if *update {
		if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs (go test ./generator -run ThirdParty -update writes it):\n%s", golden, firstDifference(got, string(want)))
	}
}

const thirdPartyHead = `# What others made

The program holds, besides its own code and words, what is listed here, on
Linux, macOS and Windows together. Nothing of it is changed. The names of the
licences are SPDX identifiers; the texts follow below.

| part | version | licence | texts |
| --- | --- | --- | --- |
`

const thirdPartyMiddle = `
The fonts are those of go-fonts/dejavu and golang.org/x/image/font/gofont. A
booklet as PDF holds the parts of them that it is set in. Tables of characters
in rivo/uniseg and golang.org/x/text are made from data of the Unicode Character
Database; <https://www.unicode.org/license.html>.

## Texts

Texts that agree word for word are printed once.
`
