package generator_test

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"sheaf/generator"
	"sheaf/generator/entries"
	"sheaf/generator/layout"
	"sheaf/generator/source"
)

// gardens are what the print checks run over: the demo, three plants, 250
// plantings, and three plants on American paper.
func gardens(t testing.TB) map[string]generator.Options {
	t.Helper()
	written := func(text string) generator.Options {
		o := moved(t)
		o.Garden = fstest.MapFS{"garden.yaml": &fstest.MapFile{Data: []byte(text)}}
		return o
	}
	const small = "garden: Small\ndate: 2027-03-20\nsite: {country: %s, latitude: 45}\nplants:\n  - plant: Panicum virgatum\n  - plant: Heuchera villosa\n  - plant: Taxus baccata\n"
	return map[string]generator.Options{
		"demo": options(t, demo), "three": written(fmt.Sprintf(small, "GB")), "letter": written(fmt.Sprintf(small, "US")),
		"many": written(many(t)),
	}
}

// many is a garden of 250 plantings: all shipped entries in turn, as the
// species and as cultivars, in six beds.
func many(t testing.TB) string {
	t.Helper()
	l, ds := shippedLibrary(t)
	if ds.HasErrors() {
		t.Fatal(printed(ds))
	}
	var b strings.Builder
	b.WriteString("garden: Many\ndate: 2027-03-20\nsite: {country: GB, latitude: 52}\nbeds:\n")
	for i := range 6 {
		fmt.Fprintf(&b, "  - {bed: Bed %d, area: 80 m²}\n", i+1)
	}
	b.WriteString("plants:\n")
	for n := 0; n < 250; n++ {
		e := l.Entries[n%len(l.Entries)]
		name := e.Name.Value.Plain()
		if round := n / len(l.Entries); round > 0 && e.Name.Value.Cultivar == "" && e.Name.Value.Trade == "" {
			name += fmt.Sprintf(" 'Form %c'", 'A'+round)
		}
		fmt.Fprintf(&b, "  - {plant: %q, quantity: %d, bed: Bed %d, planted: 2025-03-01}\n", name, 1+n%9, 1+n%6)
	}
	return b.String()
}

// millimetres of each file's pages, A4 first and Letter second (ISO 216, ANSI
// Y14.1). The year sheet may also be the next size up.
func sizes(file string, letter bool) [][2]float64 {
	type pair = [][2]float64
	a4 := map[string]pair{
		"booklet.pdf": {{148, 210}}, "booklet-fold.pdf": {{297, 210}}, "booklet-large.pdf": {{210, 297}},
		"months.pdf": {{210, 297}}, "year-sheet.pdf": {{297, 210}, {420, 297}},
	}
	us := map[string]pair{
		"booklet.pdf": {{139.7, 215.9}}, "booklet-fold.pdf": {{279.4, 215.9}}, "booklet-large.pdf": {{215.9, 279.4}},
		"months.pdf": {{215.9, 279.4}}, "year-sheet.pdf": {{279.4, 215.9}, {431.8, 279.4}},
	}
	if letter {
		return us[file]
	}
	return a4[file]
}

var pageSize = regexp.MustCompile(`Page +\d+ size: +([\d.]+) x ([\d.]+) pts`)

// TestEveryPrintedFile holds each PDF of each garden to what a printer needs:
// sound, silent, of its size, with its fonts, nothing in the margins.
func TestEveryPrintedFile(t *testing.T) {
	qpdf, info, fonts, text := tool(t, "qpdf"), tool(t, "pdfinfo"), tool(t, "pdffonts"), tool(t, "pdftotext")
	for name, o := range gardens(t) {
		r := build(t, o)
		dir := t.TempDir()
		printedFiles := 0
		for file, data := range r.Files {
			if !strings.HasSuffix(file, ".pdf") {
				continue
			}
			printedFiles++
			path := filepath.Join(dir, file)
			if err := os.WriteFile(path, data, 0o644); err != nil {
				t.Fatal(err)
			}
			t.Run(name+"/"+file, func(t *testing.T) {
				t.Parallel()
				silent(t, exec.Command(qpdf, "--check", path), "warning")
				out := silent(t, exec.Command(info, "-f", "1", "-l", "9999", path), "")
				found := pageSize.FindAllStringSubmatch(string(out), -1)
				if len(found) == 0 {
					t.Fatalf("no sizes in\n%s", out)
				}
				for _, m := range found {
					w, _ := strconv.ParseFloat(m[1], 64)
					h, _ := strconv.ParseFloat(m[2], 64)
					if !slices.ContainsFunc(sizes(file, name == "letter"), func(s [2]float64) bool {
						return math.Abs(w*25.4/72-s[0]) < 0.1 && math.Abs(h*25.4/72-s[1]) < 0.1
					}) {
						t.Fatalf("a page of %.1f × %.1f mm", w*25.4/72, h*25.4/72)
					}
				}
				for line := range strings.Lines(string(silent(t, exec.Command(fonts, path), ""))) {
					if f := strings.Fields(line); strings.Contains(line, "TrueType") && f[len(f)-5] != "yes" {
						t.Errorf("not embedded: %s", line)
					}
				}
				inMargins(t, file, silent(t, exec.Command(text, "-bbox", path, "-"), ""))
			})
		}
		if printedFiles != 5 {
			t.Errorf("%s: %d printed files", name, printedFiles)
		}
	}
}

// silent runs a tool that must succeed, say nothing on stderr, and not use a
// word.
func silent(t *testing.T, cmd *exec.Cmd, never string) []byte {
	t.Helper()
	var out, faults bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &faults
	if err := cmd.Run(); err != nil || faults.Len() > 0 || never != "" && strings.Contains(strings.ToLower(out.String()), never) {
		t.Errorf("%s: %v %s%s", filepath.Base(cmd.Path), err, faults.String(), out.String()[:min(out.Len(), 2000)])
	}
	return out.Bytes()
}

var (
	bboxPage = regexp.MustCompile(`<page width="([\d.]+)" height="([\d.]+)">`)
	bboxWord = regexp.MustCompile(`<word xMin="(-?[\d.]+)" yMin="(-?[\d.]+)" xMax="(-?[\d.]+)" yMax="(-?[\d.]+)">(.*?)</word>`)
)

// inMargins: no word nearer to the edge than the edition's margins. The box of
// a word is its font's, with room above and below the letters.
func inMargins(t *testing.T, file string, bbox []byte) {
	t.Helper()
	page, words := 0, 0
	var w, h float64
	for line := range strings.Lines(string(bbox)) {
		if m := bboxPage.FindStringSubmatch(line); m != nil {
			page++
			w, _ = strconv.ParseFloat(m[1], 64)
			h, _ = strconv.ParseFloat(m[2], 64)
		}
		m := bboxWord.FindStringSubmatch(line)
		if m == nil {
			continue
		}
		words++
		var b [4]float64
		for i := range b {
			b[i], _ = strconv.ParseFloat(m[i+1], 64)
			b[i] *= 25.4 / 72
		}
		left, right, edge := 8.0, 8.0, 4.0
		if file == "booklet.pdf" {
			left, right, edge = 16, 12, 7
			if page%2 == 0 {
				left, right = right, left
			}
		}
		const hair = 0.3
		if b[0] < left-hair || b[2] > w*25.4/72-right+hair || b[1] < edge || b[3] > h*25.4/72-edge {
			t.Errorf("page %d: %q at %.1f, %.1f to %.1f, %.1f is in the margin", page, m[5], b[0], b[1], b[2], b[3])
		}
	}
	if words < 40 {
		t.Errorf("only %d words were found", words)
	}
}

// TestEverySentenceIsPrinted: the text of the booklet, read out, holds every
// sentence of every rule of the garden whole.
func TestEverySentenceIsPrinted(t *testing.T) {
	r := build(t, options(t, demo))
	_, pages := printedPages(t, r)
	var all strings.Builder
	foot := regexp.MustCompile(`(?m)^(\d+ [A-Z][a-z ]+|[A-Z][a-z ]+ \d+)\s*$`)
	for _, p := range pages {
		// The foot would stand in the middle of a sentence that turns the page.
		lines := strings.Split(strings.TrimSpace(p), "\n")
		for len(lines) > 0 && foot.MatchString(lines[len(lines)-1]) {
			lines = lines[:len(lines)-1]
		}
		all.WriteString(strings.Join(lines, " ") + " ")
	}
	text := bare(all.String())
	missing := 0
	for i := range r.Plan.Plantings {
		for _, rule := range r.Plan.Plantings[i].Entry.Rules {
			for _, s := range []string{rule.LookFor, rule.How, rule.Why, rule.IfMissed, rule.StopIf, rule.WaitIf} {
				if s != "" && !strings.Contains(text, bare(s)) {
					if missing++; missing < 6 {
						t.Errorf("%s is not printed whole: %s", r.Plan.Plantings[i].Label(), s)
					}
				}
			}
		}
	}
	if missing > 0 {
		t.Errorf("%d sentences in all", missing)
	}
}

// bare is text without white space: extraction may part words where the font
// kerns, or join them at the end of a line.
func bare(s string) string {
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '\n' || r == '\u00a0' || r == '\t' }), "")
}

// TestSignature holds the saddle-stitch order to a published table (STANDARDS
// 5.2) and to psbook of Debian's psutils.
func TestSignature(t *testing.T) {
	table := map[int]string{
		4:  "4,1 / 2,3",
		8:  "8,1 / 2,7; 6,3 / 4,5",
		12: "12,1 / 2,11; 10,3 / 4,9; 8,5 / 6,7",
		16: "16,1 / 2,15; 14,3 / 4,13; 12,5 / 6,11; 10,7 / 8,9",
		20: "20,1 / 2,19; 18,3 / 4,17; 16,5 / 6,15; 14,7 / 8,13; 12,9 / 10,11",
		32: "32,1 / 2,31; 30,3 / 4,29; 28,5 / 6,27; 26,7 / 8,25; 24,9 / 10,23; 22,11 / 12,21; 20,13 / 14,19; 18,15 / 16,17",
	}
	for n, want := range table {
		var sheets []string
		for _, s := range layout.Signature(n) {
			sheets = append(sheets, fmt.Sprintf("%d,%d / %d,%d", s[0], s[1], s[2], s[3]))
		}
		if got := strings.Join(sheets, "; "); got != want {
			t.Errorf("%d pages: %s, want %s", n, got, want)
		}
	}
	for n := 1; n <= 64; n++ {
		for _, s := range layout.Signature(n) {
			full := (n + 3) / 4 * 4
			for _, side := range [][2]int{{s[0], s[1]}, {s[2], s[3]}} {
				if side[0] > 0 && side[1] > 0 && side[0]+side[1] != full+1 {
					t.Errorf("%d pages: %v do not add up to %d", n, side, full+1)
				}
			}
		}
	}
}

func TestSignatureAsPsbook(t *testing.T) {
	psbook := tool(t, "psbook")
	var all sync.WaitGroup
	for n := 4; n <= 64; n++ {
		all.Go(func() {
			var doc strings.Builder
			fmt.Fprintf(&doc, "%%!PS-Adobe-3.0\n%%%%Pages: %d\n%%%%EndComments\n%%%%EndProlog\n", n)
			for i := 1; i <= n; i++ {
				fmt.Fprintf(&doc, "%%%%Page: %d %d\nshowpage\n", i, i)
			}
			doc.WriteString("%%Trailer\n%%EOF\n")
			cmd := exec.Command(psbook, "-q")
			cmd.Stdin = strings.NewReader(doc.String())
			out, err := cmd.Output()
			if err != nil {
				t.Errorf("psbook of %d pages: %v", n, err)
				return
			}
			var got []int
			for _, m := range regexp.MustCompile(`(?m)^%%Page: (\S+) \d+`).FindAllStringSubmatch(string(out), -1) {
				page, _ := strconv.Atoi(m[1]) // a blank is "*"
				got = append(got, page)
			}
			var want []int
			for _, s := range layout.Signature(n) {
				want = append(want, s[:]...)
			}
			if !slices.Equal(got, want) {
				t.Errorf("%d pages: %v, psbook gives %v", n, want, got)
			}
		})
	}
	all.Wait()
}

// TestFoldedSheets reads the page numbers back from the halves of the folded
// edition's sheets.
func TestFoldedSheets(t *testing.T) {
	pdftotext := tool(t, "pdftotext")
	r := build(t, options(t, demo))
	file := filepath.Join(t.TempDir(), "fold.pdf")
	if err := os.WriteFile(file, r.Files["booklet-fold.pdf"], 0o644); err != nil {
		t.Fatal(err)
	}
	_, pages := printedPages(t, r)
	n := len(pages) - 1 // after the last form feed there is nothing
	// Crops are in points at 72 dpi: an A4 sheet on its side, by halves, only
	// the strip of the feet.
	halves := [2][]string{}
	for half := range 2 {
		out := silent(t, exec.Command(pdftotext, "-r", "72", "-x", strconv.Itoa(half*421), "-y", "545", "-W", "421", "-H", "50", file, "-"), "")
		halves[half] = strings.Split(string(out), "\f")
	}
	number := regexp.MustCompile(`\d+`)
	read := 0
	for k, sheet := range layout.Signature(n) {
		for i, page := range sheet {
			side, half := 2*k+i/2, i%2
			got := number.FindString(halves[half][side])
			if got == "" {
				continue // a blank, the cover, the back
			}
			read++
			if got != strconv.Itoa(page) {
				t.Errorf("sheet %d, side %d, half %d: page %s, want %d", k+1, side, half, got, page)
			}
		}
	}
	if read < n-4 {
		t.Errorf("only %d of %d page numbers were read", read, n)
	}
}

func shippedLibrary(t testing.TB) (*entries.Library, source.Diagnostics) {
	t.Helper()
	o := moved(t)
	p, ds, err := generator.Check(o)
	if err != nil || p == nil {
		t.Fatal(err)
	}
	return p.Library, ds
}

func BenchmarkEditions(b *testing.B) {
	for name, o := range gardens(b) {
		if name == "three" || name == "letter" {
			continue
		}
		for _, editions := range [][]string{nil, {"web"}, {"a5"}, {"fold"}, {"large"}, {"sheet"}, {"months"}, {"json"}} {
			label := "all"
			if editions != nil {
				label = editions[0]
			}
			b.Run(name+"/"+label, func(b *testing.B) {
				o.Editions = editions
				for b.Loop() {
					if _, ds, err := generator.Build(b.Context(), o); err != nil || ds.HasErrors() {
						b.Fatal(err, printed(ds))
					}
				}
			})
		}
	}
}
