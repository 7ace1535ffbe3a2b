package generator_test

import (
	"bytes"
	"fmt"
	"html"
	"maps"
	"math"
	"os"
	"os/exec"
	"path"
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
	"sheaf/generator/tooltest"
	"sheaf/themes"
)

// A printed garden is one the print checks run over.
type printedGarden struct {
	name string
	generator.Options
}

// gardens are all that ship in each theme, three plants, and 250 plantings.
func gardens(t testing.TB) []printedGarden {
	t.Helper()
	written := func(text string) generator.Options {
		o := moved(t)
		o.Garden = fstest.MapFS{"garden.yaml": &fstest.MapFile{Data: []byte(text)}}
		return o
	}
	const three = "garden: Small\ndate: 2027-03-20\nsite: {country: GB, latitude: 45}\nplants:\n  - plant: Panicum virgatum\n  - plant: Heuchera villosa\n  - plant: Taxus baccata\n"
	out := []printedGarden{
		{"many", written(many(t))}, // first, as it takes longest
		{"three", written(three)},
	}
	for _, garden := range shippedGardens() {
		for _, theme := range themes.Names() {
			out = append(out, printedGarden{path.Base(garden) + "/" + theme, themed(t, garden, theme)})
		}
	}
	return out
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
	// Britain forbids one, and of what is forbidden not everything is printed.
	all := slices.DeleteFunc(slices.Clone(l.Entries), func(e *entries.Entry) bool { return e.Name.Value.Plain() == "Cenchrus setaceus" })
	for n := 0; n < 250; n++ {
		e := all[n%len(all)]
		name := e.Name.Value.Plain()
		if round := n / len(all); round > 0 && e.Name.Value.Cultivar == "" && e.Name.Value.Trade == "" {
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
		"work.pdf": {{210, 297}}, "year-sheet.pdf": {{297, 210}, {420, 297}},
	}
	us := map[string]pair{
		"booklet.pdf": {{139.7, 215.9}}, "booklet-fold.pdf": {{279.4, 215.9}}, "booklet-large.pdf": {{215.9, 279.4}},
		"work.pdf": {{215.9, 279.4}}, "year-sheet.pdf": {{279.4, 215.9}, {431.8, 279.4}},
	}
	if letter {
		return us[file]
	}
	return a4[file]
}

var (
	pageSize = regexp.MustCompile(`(?m)^Page +\d+ size: +([\d.]+) x ([\d.]+) pts`)
	pageTurn = regexp.MustCompile(`(?m)^Page +\d+ rot: +[1-9]`)
)

// millimetre turns points into millimetres.
const millimetre = 25.4 / 72

// TestEveryPrintedFile holds each PDF of each garden to what a printer and a
// reader need: sound, silent, of its size, with its fonts, nothing in the
// margins; in the booklet every sentence; on folded sheets the booklet's pages.
func TestEveryPrintedFile(t *testing.T) {
	qpdf, info := tooltest.Tool(t, "qpdf"), tooltest.Tool(t, "pdfinfo")
	for _, g := range gardens(t) {
		r := build(t, g.Options)
		dir := t.TempDir()
		booklet := sync.OnceValues(func() ([]leaf, error) { return leaves(t, filepath.Join(dir, "booklet.pdf")) })
		printedFiles := 0
		for _, file := range slices.Sorted(maps.Keys(r.Files)) {
			if !strings.HasSuffix(file, ".pdf") {
				continue
			}
			printedFiles++
			path := filepath.Join(dir, file)
			if err := os.WriteFile(path, r.Files[file], 0o644); err != nil {
				t.Fatal(err)
			}
			t.Run(g.name+"/"+file, func(t *testing.T) {
				t.Parallel()
				silent(t, exec.Command(qpdf, "--check", path), "warning")
				ofSize(t, silent(t, exec.Command(info, "-f", "1", "-l", "9999", path), ""), sizes(file, strings.HasPrefix(g.name, "kettle-ridge")))
				embedded(t, path)
				read := booklet
				if file != "booklet.pdf" {
					read = func() ([]leaf, error) { return leaves(t, path) }
				}
				pages, err := read()
				if err != nil {
					t.Fatal(err)
				}
				faults, why := inMargins(t, file, pages), knownFaults()[g.name+"/"+file]
				switch {
				case why == "" && len(faults) > 0:
					t.Errorf("%d words are in a margin, such as\n%s", len(faults), strings.Join(faults[:min(len(faults), 6)], "\n"))
				case why != "" && len(faults) == 0:
					t.Errorf("no word is in a margin any more: take out the known fault %q", why)
				case why != "":
					t.Logf("%d words are in a margin: %s", len(faults), why)
				}
				switch file {
				case "booklet.pdf":
					everySentence(t, r, pages)
				case "booklet-fold.pdf":
					flat, err := booklet()
					if err != nil {
						t.Fatal(err)
					}
					folded(t, pages, flat)
				}
			})
		}
		if printedFiles != 5 {
			t.Errorf("%s: %d printed files", g.name, printedFiles)
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

// ofSize: every page is of one of the sizes, to a tenth of a millimetre, and
// not turned.
func ofSize(t *testing.T, pdfinfo []byte, sizes [][2]float64) {
	t.Helper()
	found := pageSize.FindAllSubmatch(pdfinfo, -1)
	if len(found) == 0 {
		t.Errorf("no sizes in\n%s", pdfinfo)
	}
	for i, m := range found {
		w, h := number(m[1])*millimetre, number(m[2])*millimetre
		if !slices.ContainsFunc(sizes, func(s [2]float64) bool { return math.Abs(w-s[0]) < 0.1 && math.Abs(h-s[1]) < 0.1 }) {
			t.Errorf("page %d is %.1f × %.1f mm", i+1, w, h)
			break
		}
	}
	if turned := pageTurn.Find(pdfinfo); turned != nil {
		t.Errorf("a page is turned: %s", turned)
	}
}

// embedded: every font is in the file and can be turned back into text. The
// first sixty pages use them all, and pdffonts takes long over the rest.
func embedded(t *testing.T, path string) {
	t.Helper()
	_, rows, _ := bytes.Cut(silent(t, exec.Command(tooltest.Tool(t, "pdffonts"), "-l", "60", path), ""), []byte("---\n"))
	fonts := 0
	for line := range bytes.Lines(rows) {
		// name, type, encoding, emb, sub, uni, object ID of two numbers
		f := strings.Fields(string(line))
		if fonts++; len(f) < 7 || f[len(f)-5] != "yes" || f[len(f)-3] != "yes" {
			t.Errorf("not embedded, or without its letters: %s", line)
		}
	}
	if fonts < 2 {
		t.Errorf("only %d fonts were found; words and headings need two", fonts)
	}
}

// A leaf is a printed page as it is read back: its words in the order of
// painting. Lengths are millimetres from the top left corner.
type leaf struct {
	w, h  float64
	words []word
}

// A word is in the box of its font, with room above and below the letters.
type word struct {
	left, top, right, bottom float64
	text                     string
}

var (
	bboxPage = regexp.MustCompile(`<page width="([\d.]+)" height="([\d.]+)">`)
	bboxWord = regexp.MustCompile(`<word xMin="(-?[\d.]+)" yMin="(-?[\d.]+)" xMax="(-?[\d.]+)" yMax="(-?[\d.]+)">(.*?)</word>`)
)

// leaves reads a file's pages.
func leaves(t *testing.T, path string) ([]leaf, error) {
	cmd := exec.Command(tooltest.Tool(t, "pdftotext"), "-raw", "-bbox", path, "-")
	var faults bytes.Buffer
	cmd.Stderr = &faults
	out, err := cmd.Output()
	if err != nil || faults.Len() > 0 {
		return nil, fmt.Errorf("pdftotext: %v %s", err, faults.String())
	}
	var pages []leaf
	for line := range bytes.Lines(out) {
		if m := bboxPage.FindSubmatch(line); m != nil {
			pages = append(pages, leaf{w: number(m[1]) * millimetre, h: number(m[2]) * millimetre})
		} else if m := bboxWord.FindSubmatch(line); m != nil {
			p := &pages[len(pages)-1]
			p.words = append(p.words, word{number(m[1]) * millimetre, number(m[2]) * millimetre, number(m[3]) * millimetre, number(m[4]) * millimetre,
				html.UnescapeString(string(m[5]))})
		}
	}
	return pages, nil
}

// number reads what a regular expression took for one.
func number(b []byte) float64 {
	v, _ := strconv.ParseFloat(string(b), 64)
	return v
}

// text parts a page's words, joined without white space, from those of its
// foot, which stands in the lowest 15 mm.
func (l leaf) text() (body string, foot []string) {
	var b strings.Builder
	for _, w := range l.words {
		if w.top > l.h-15 {
			foot = append(foot, w.text)
		} else {
			b.WriteString(bare(w.text))
		}
	}
	return b.String(), foot
}

// knownFaults are the files in which words stand in a margin, with the reason.
// One that is mended must be taken out.
func knownFaults() map[string]string {
	return map[string]string{}
}

// middle is where a page's words are from left to right, in the mean.
func (l leaf) middle() float64 {
	sum := 0.0
	for _, w := range l.words {
		sum += (w.left + w.right) / 2
	}
	return sum / float64(len(l.words))
}

// inMargins tells the words nearer to the edge than the edition's margins: in
// the booklet those of LOOK, mirrored, elsewhere 8 mm, as office printers leave
// 3 to 5 mm white (STANDARDS 5.5). Only the foot's line stands in the foot
// margin; it and the fold are kept clear by a quarter of an inch (STANDARDS 5.5).
func inMargins(t *testing.T, file string, pages []leaf) []string {
	t.Helper()
	const quarter, hair = 6.35, 0.1
	words := 0
	var faults []string
	for i, p := range pages {
		left, right, head, foot := 8.0, p.w-8, 8.0, p.h-8
		if file == "booklet.pdf" {
			left, right, head, foot = 15, p.w-12, 13-fontRoom, p.h-14+fontRoom
			if i%2 == 1 {
				left, right = 12, p.w-15
			}
		}
		for _, w := range p.words {
			words++
			low := foot
			if strings.HasPrefix(file, "booklet") && w.top > p.h-15 {
				low = p.h - quarter
			}
			inFold := file == "booklet-fold.pdf" && w.right > p.w/2-quarter+hair && w.left < p.w/2+quarter-hair
			if inFold || w.left < left-hair || w.right > right+hair || w.top < head || w.bottom > low {
				faults = append(faults, fmt.Sprintf("page %d: %q at %.1f, %.1f to %.1f, %.1f", i+1, w.text, w.left, w.top, w.right, w.bottom))
			}
		}
	}
	if words < 40 {
		t.Errorf("only %d words were found", words)
	}
	return faults
}

// fontRoom is by how much the box of a font may stand out of its line.
const fontRoom = 1.0

// everySentence: of every rule with work in the months of the booklet each plant's page
// holds the sign to look for and the cautions, whole. It holds all other sentences of how and when the
// work is done or not done, and the sign for work of later years, or says that there is
// more on the web edition. What print leaves out stands there.
func everySentence(t *testing.T, r *generator.Result, pages []leaf) {
	t.Helper()
	p := r.Plan
	var bodies []string
	var more []bool
	for _, page := range pages {
		body, foot := page.text()
		if said := strings.Join(foot, " "); strings.Contains(said, "Garden days") || strings.Contains(said, "The months") {
			body = "" // they say of the work what stands on the plants' pages
		}
		bodies = append(bodies, body)
		more = append(more, strings.Contains(strings.Join(foot, " "), "More on the web edition"))
	}
	var web strings.Builder
	for name, data := range r.Files {
		if strings.HasPrefix(name, "plants/") && strings.HasSuffix(name, ".html") {
			web.WriteString(bare(textOfHTML(t, data)))
		}
	}
	online := web.String()
	due := map[string]bool{}
	for i := range p.Calendar.Tasks {
		task := &p.Calendar.Tasks[i]
		due[fmt.Sprint(task.Planting.Called().Key(), task.Planting.Entry.ID, task.Rule.Span)] = true
	}
	said, cues := map[string]bool{}, 0
	for i := range p.Plantings {
		q := &p.Plantings[i]
		for _, rule := range q.Entry.Rules {
			// Plantings of one name share a page.
			once := fmt.Sprint(q.Called().Key(), q.Entry.ID, rule.Span)
			if _, _, fits := p.Fit(q, rule, p.Calendar.First.Year()); !fits || said[once] || p.Over(q, rule) {
				continue
			}
			said[once] = true
			own, tells := "", false // the pages with its name, and what is beside them
			for n, body := range bodies {
				if strings.Contains(asKey(body), asKey(bare(q.Called().Plain()))) {
					own += strings.Join(bodies[max(n-1, 0):min(n+2, len(bodies))], "")
					tells = tells || more[n]
				}
			}
			if due[once] {
				cues++
				for _, s := range append([]string{rule.LookFor}, rule.Cautions...) {
					if !strings.Contains(own, bare(s)) {
						t.Errorf("%s, %s: its page does not say whole what to look for, or a caution: %s", q.Label(), rule.Job.Value, s)
					}
				}
			}
			for _, s := range []string{rule.LookFor, rule.How, rule.IfMissed, rule.StopIf, rule.WaitIf, rule.Why} {
				if s == "" || strings.Contains(own, bare(s)) {
					continue
				}
				if s != rule.Why && !tells { // reasons are left out in silence
					t.Errorf("%s, %s: print neither says nor tells that more is on the web: %s", q.Label(), rule.Job.Value, s)
				}
				if !strings.Contains(online, bare(s)) {
					t.Errorf("%s, %s: neither in print nor on the web: %s", q.Label(), rule.Job.Value, s)
				}
			}
		}
	}
	if cues < 3 {
		t.Errorf("only %d signs were looked for", cues)
	}
}

// asKey is a name or a text with names in small letters, as small capitals are set from
// them, and with straight quotes.
func asKey(s string) string {
	return strings.ToLower(strings.NewReplacer("‘", "'", "’", "'").Replace(s))
}

// folded: the halves of the sheets carry the booklet's pages in saddle-stitch
// order, word for word, and the numbers at their feet say so.
func folded(t *testing.T, sheets, pages []leaf) {
	t.Helper()
	order := layout.Signature(len(pages))
	if len(sheets) != 2*len(order) {
		t.Fatalf("%d sides for %d pages", len(sheets), len(pages))
	}
	for i, side := range sheets {
		rest := side.words // the left page is painted first
		for half := range 2 {
			n := order[i/2][i%2*2+half]
			many := len(rest)
			if left := order[i/2][i%2*2]; half == 0 && left > 0 {
				many = min(len(pages[left-1].words), many)
			} else if half == 0 {
				many = 0
			}
			got := leaf{side.w / 2, side.h, rest[:many]}
			rest = rest[many:]
			if middle := got.middle(); len(got.words) > 0 && (middle > side.w/2) != (half == 1) {
				t.Errorf("sheet %d: page %d is on the wrong half, at %.0f mm", i/2+1, n, middle)
			}
			body, foot := got.text()
			if n == 0 {
				if len(got.words) > 0 {
					t.Errorf("sheet %d: a blank has the words %s", i/2+1, body)
				}
				continue
			}
			wantBody, wantFoot := pages[n-1].text()
			if body != wantBody || !slices.Equal(foot, wantFoot) {
				t.Fatalf("sheet %d, half %d: %q %q, want page %d: %q %q", i/2+1, half, body, foot, n, wantBody, wantFoot)
			}
			if len(got.words) == 0 {
				continue
			}
			// The inner edge lies on the fold, less what the sheets inside push out:
			// 0.1 mm each of 80 g paper (STANDARDS 5.3, 5.4).
			creep, at := min(0.1*float64(i/2), 8), pages[n-1]
			edge := side.w/2 - at.w + creep
			if half == 1 {
				edge = side.w/2 - creep
			}
			const mostCreep = 15 - 6.35 // text would come too near to the fold
			if dx := got.words[0].left - at.words[0].left; creep <= mostCreep && math.Abs(dx-edge) > 0.05 {
				t.Errorf("sheet %d: page %d begins at %.2f mm, want %.2f", i/2+1, n, dx, edge)
			}
			if len(foot) == 0 {
				if n != 1 && n != len(pages) && body != "Notes" {
					t.Errorf("page %d has no number", n)
				}
				continue
			}
			number := foot[0] // at the outer foot: first on the left half
			if half == 1 {
				number = foot[len(foot)-1]
			}
			if number != strconv.Itoa(n) {
				t.Errorf("sheet %d, half %d: page %s, want %d", i/2+1, half, number, n)
			}
		}
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
	tooltest.Tool(t, "psbook")
	var all sync.WaitGroup
	for n := 4; n <= 64; n++ {
		all.Go(func() {
			got, err := psbook(n)
			if err != nil {
				t.Errorf("psbook of %d pages: %v", n, err)
				return
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

// psbook gives the pages of a booklet of n in the order in which psbook of Debian's
// psutils puts them on sheets; a blank is 0.
func psbook(n int) ([]int, error) {
	var doc strings.Builder
	fmt.Fprintf(&doc, "%%!PS-Adobe-3.0\n%%%%Pages: %d\n%%%%EndComments\n%%%%EndProlog\n", n)
	for i := 1; i <= n; i++ {
		fmt.Fprintf(&doc, "%%%%Page: %d %d\nshowpage\n", i, i)
	}
	doc.WriteString("%%Trailer\n%%EOF\n")
	cmd := exec.Command("psbook", "-q")
	cmd.Stdin = strings.NewReader(doc.String())
	out, err := cmd.Output()
	if err != nil {
		return nil, err
	}
	var pages []int
	for _, m := range regexp.MustCompile(`(?m)^%%Page: (\S+) \d+`).FindAllStringSubmatch(string(out), -1) {
		page, _ := strconv.Atoi(m[1]) // a blank is "*"
		pages = append(pages, page)
	}
	return pages, nil
}

// mostSheets is how many sheets of paper the demo's booklet is folded of (DESIGN 8).
const mostSheets = 15

// TestFoldedAsPsbook: on the demo's folded sheets the numbers at the feet, read from each
// half of each side, follow psbook, and so do the pictures of the halves, each of which
// looks like its page more than like any other.
func TestFoldedAsPsbook(t *testing.T) {
	tooltest.Tool(t, "psbook")
	o := options(t, demo)
	o.Editions = []string{"a5", "fold"}
	r := build(t, o)
	dir := t.TempDir()
	file := func(name string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, r.Files[name], 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	flat, folded := file("booklet.pdf"), file("booklet-fold.pdf")
	pages, err := leaves(t, flat)
	if err != nil {
		t.Fatal(err)
	}
	sides, err := leaves(t, folded)
	if err != nil {
		t.Fatal(err)
	}
	order, err := psbook(len(pages))
	if err != nil {
		t.Fatal(err)
	}
	if 2*len(sides) != len(order) {
		t.Fatalf("%d sides for %d pages", len(sides), len(pages))
	}
	if sheets := len(sides) / 2; sheets > mostSheets {
		t.Errorf("%d sheets, at most %d", sheets, mostSheets)
	}
	number := func(words []word, h float64) string {
		for _, w := range words {
			if _, err := strconv.Atoi(w.text); err == nil && w.top > h-15 {
				return w.text
			}
		}
		return ""
	}
	numbered := 0
	for i, side := range sides {
		var halves [2][]word
		for _, w := range side.words {
			half := 0
			if w.left > side.w/2 {
				half = 1
			}
			halves[half] = append(halves[half], w)
		}
		for half, words := range halves {
			page := order[2*i+half]
			want := number(pages[page-1].words, pages[page-1].h)
			if got := number(words, side.h); got != want || want != "" && want != strconv.Itoa(page) {
				t.Errorf("sheet %d, side %d, half %d has the number %q; psbook puts page %d there, which has %q", i/2+1, i%2+1, half+1, got, page, want)
			}
			if want != "" {
				numbered++
			}
		}
	}
	if numbered < len(pages)*9/10 {
		t.Errorf("only %d of %d pages have a number", numbered, len(pages))
	}
	looks, sheets := rendered(t, flat), rendered(t, folded)
	for i, page := range order {
		half := sheets[i/2].half(i % 2)
		best, least := 0, math.Inf(1)
		for n := range looks {
			if d := half.from(looks[n]); d < least {
				best, least = n+1, d
			}
		}
		if best != page && half.from(looks[page-1]) > least {
			t.Errorf("sheet %d, side %d, half %d looks like page %d; psbook puts page %d there", i/4+1, i/2%2+1, i%2+1, best, page)
		}
	}
}

// A thumb is a page as a small picture in shades of grey.
type thumb struct {
	w, h   int
	points []byte
}

// rendered are the pages of a file, with about one point to 1.3 mm: the type is grey
// then, and paper that is pushed out at the fold by a millimetre changes little.
func rendered(t *testing.T, path string) []thumb {
	t.Helper()
	out, err := exec.Command(tooltest.Tool(t, "pdftoppm"), "-r", "20", "-gray", path).Output()
	if err != nil {
		t.Fatal(err)
	}
	var pages []thumb
	for len(out) > 0 {
		var g thumb
		var most int
		if _, err := fmt.Sscanf(string(out[:min(len(out), 40)]), "P5\n%d %d\n%d", &g.w, &g.h, &most); err != nil || most != 255 {
			t.Fatalf("no picture: %q", out[:min(len(out), 20)])
		}
		head := len(fmt.Sprintf("P5\n%d %d\n%d\n", g.w, g.h, most))
		g.points = out[head : head+g.w*g.h]
		out = out[head+g.w*g.h:]
		pages = append(pages, g)
	}
	return pages
}

// half is the left half of a side, or the right.
func (g thumb) half(n int) thumb {
	out := thumb{w: g.w / 2, h: g.h}
	for y := range g.h {
		from := y*g.w + n*(g.w-out.w)
		out.points = append(out.points, g.points[from:from+out.w]...)
	}
	return out
}

// from is how unlike two pictures are: the difference of their points in the mean,
// where they lie over one another best within two points.
func (g thumb) from(o thumb) float64 {
	least := math.Inf(1)
	for dx := -2; dx <= 2; dx++ {
		sum, n := 0.0, 0
		for y := range min(g.h, o.h) {
			for x := max(0, -dx); x < min(g.w, o.w-dx); x++ {
				sum += math.Abs(float64(g.points[y*g.w+x]) - float64(o.points[y*o.w+x+dx]))
				n++
			}
		}
		least = min(least, sum/float64(n))
	}
	return least
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

// BenchmarkEditions times each edition alone and all together.
func BenchmarkEditions(b *testing.B) {
	for _, g := range gardens(b) {
		if g.name != "dovecote-barn/fieldbook" && g.name != "many" {
			continue
		}
		for _, e := range append(generator.Editions(), "all") {
			o := g.Options
			if e != "all" {
				o.Editions = []string{e}
			}
			b.Run(g.name+"/"+e, func(b *testing.B) {
				for b.Loop() {
					build(b, o)
				}
			})
		}
	}
}
