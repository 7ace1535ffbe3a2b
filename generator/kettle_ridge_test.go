package generator_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"sheaf/generator"
	"sheaf/generator/tooltest"
)

const kettleRidge = "../content/gardens/kettle-ridge"

// notAmerican are signs that a text is not for American readers: metric units,
// and dates with the day first.
var notAmerican = regexp.MustCompile(`\d[ \x{a0}]?(?:mm|cm|m|km|ml|l|L|kg|g|ha)\b|°[ \x{a0}]?C|m[²³]|(?i:\b(?:centi|milli|kilo)?(?:metre|meter|litre|liter|gramme)s?\b)|\bcm\b|\b\d{1,2}(?:st|nd|rd|th)?(?: of)?[ \x{a0}](?:January|February|March|April|May|June|July|August|September|October|November|December|Jan|Feb|Mar|Apr|Jun|Jul|Aug|Sep|Oct|Nov|Dec)\b|\b(?:1[3-9]|2\d|3[01])/\d{1,2}/\d`)

// numberedDay is the number of a garden day before its date, which is no date with the
// day first: "Day 1 May 15 to May 16".
var numberedDay = regexp.MustCompile(`\bDay \d+ ([A-Z][a-z]+ \d)`)

// TestAmericanGarden: no edition of the American garden has a metric unit, a date
// with the day first or a British word. Names of publications stay as they are.
func TestAmericanGarden(t *testing.T) {
	t.Parallel()
	o := options(t, kettleRidge)
	o.Editions = generator.Editions()
	plan, ds, err := generator.Check(o)
	if err != nil || ds.HasErrors() {
		t.Fatal(err, printed(ds))
	}
	r := build(t, o)
	british := map[string]*regexp.Regexp{}
	list, err := os.ReadFile("testdata/british.txt")
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(list)) {
		if w, _, ok := strings.Cut(line, "\t"); ok {
			british[w] = regexp.MustCompile(`(?i)\b` + w + `\b`)
		}
	}
	var sources []string
	add := func(all []string) {
		for _, s := range all {
			sources = append(sources, strings.Join(strings.Fields(s), " "))
		}
	}
	for _, e := range plan.Library.Entries {
		add(e.Sources)
	}
	for _, g := range plan.Library.Groups {
		add(g.Sources)
	}
	add(plan.Region.Sources)
	slices.SortFunc(sources, func(a, b string) int { return len(b) - len(a) })

	// Lines are kept for units and dates, as a number ends many and a letter begins
	// the next; so publications of a date are looked for over their ends.
	var dated []*regexp.Regexp
	for _, s := range sources {
		if notAmerican.MatchString(s) {
			dated = append(dated, regexp.MustCompile(strings.NewReplacer(" ", `\s+`, "-", `-\s*`).Replace(regexp.QuoteMeta(s))))
		}
	}
	read := map[string]int{} // bytes of text by kind of file
	check := func(name, text string) {
		t.Helper()
		read[filepath.Ext(name)] += len(text)
		for _, s := range dated {
			text = s.ReplaceAllString(text, "")
		}
		text = numberedDay.ReplaceAllString(text, "Day: $1")
		if m := notAmerican.FindStringIndex(text); m != nil {
			t.Errorf("%s: %q: …%s", name, text[m[0]:m[1]], around(text, m[0]))
		}
		text = strings.Join(strings.Fields(text), " ")
		for _, s := range sources {
			text = strings.ReplaceAll(text, s, "")
		}
		lower := strings.ToLower(text)
		for w, form := range british {
			if strings.Contains(lower, w) {
				if m := form.FindStringIndex(text); m != nil {
					t.Errorf("%s: %q: …%s", name, w, around(text, m[0]))
				}
			}
		}
	}
	for _, name := range slices.Sorted(maps.Keys(r.Files)) {
		data := r.Files[name]
		switch filepath.Ext(name) {
		case ".html":
			check(name, textOfHTML(t, data))
		case ".pdf":
			check(name, textOfPDF(t, data))
		case ".ics":
			check(name, strings.NewReplacer("\r\n ", "", `\n`, "\n", `\,`, ",", `\;`, ";").Replace(string(data)))
		case ".json":
			check(name, strings.Join(textOfJSON(t, data), "\n"))
		case ".svg":
			check(name, textOfHTML(t, data))
		case ".js":
			if text, ok := strings.CutPrefix(string(data), "const sections = "); ok {
				check(name, textOfSearch(t, text))
			}
		}
	}
	for ext, least := range map[string]int{".html": 500_000, ".pdf": 250_000, ".ics": 20_000, ".json": 20_000, ".js": 50_000} {
		if read[ext] < least && (ext != ".pdf" || read[ext] > 0) {
			t.Errorf("only %d bytes of text were found in %s files", read[ext], ext)
		}
	}
}

func around(text string, at int) string {
	return strings.ReplaceAll(strings.ToValidUTF8(text[max(at-40, 0):min(at+60, len(text))], ""), "\n", " / ")
}

// textOfHTML is what a page says to anybody: its text, and what is read out for
// pictures and buttons.
func textOfHTML(t *testing.T, data []byte) string {
	t.Helper()
	root, err := html.Parse(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for n := range root.Descendants() {
		switch n.Type {
		case html.TextNode:
			if n.Parent.Data != "script" && n.Parent.Data != "style" {
				b.WriteString(n.Data)
			}
		case html.ElementNode:
			for _, a := range n.Attr {
				if slices.Contains([]string{"alt", "title", "aria-label", "placeholder", "content", "value", "label"}, a.Key) || strings.HasPrefix(a.Key, "data-") && strings.Contains(a.Val, " ") {
					fmt.Fprintf(&b, "\n%s\n", a.Val)
				}
			}
			if !slices.Contains([]string{"a", "em", "i", "b", "strong", "span", "small"}, n.Data) {
				b.WriteByte('\n')
			}
		}
	}
	return b.String()
}

// textOfPDF is the text of all pages; "" without the tool that reads it.
func textOfPDF(t *testing.T, data []byte) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "it.pdf")
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
	if os.Getenv("SHEAF_TOOLS") != "require" {
		if _, err := exec.LookPath("pdftotext"); err != nil {
			return ""
		}
	}
	out, err := exec.Command(tooltest.Tool(t, "pdftotext"), "-raw", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// textOfJSON are the words of booklet.json that are for people.
func textOfJSON(t *testing.T, data []byte) []string {
	t.Helper()
	var all any
	if err := json.Unmarshal(data, &all); err != nil {
		t.Fatal(err)
	}
	var out []string
	var walk func(key string, v any)
	walk = func(key string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for k, inner := range v {
				walk(k, inner)
			}
		case []any:
			for _, inner := range v {
				walk(key, inner)
			}
		case string:
			// Places of files, and days in figures.
			if !slices.Contains([]string{"source", "entry", "file", "path", "plant", "id", "text", "line"}, key) {
				out = append(out, v)
			}
		}
	}
	walk("", all)
	slices.Sort(out)
	return out
}

// textOfSearch is what the search finds, without its addresses; the words of
// publications are left out with the page that lists them.
func textOfSearch(t *testing.T, text string) string {
	t.Helper()
	var rows []map[string]any
	if err := json.NewDecoder(strings.NewReader(text)).Decode(&rows); err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, row := range rows {
		if row["h"] == "sources.html" {
			continue
		}
		for key, v := range row {
			if s, ok := v.(string); ok && key != "h" {
				out = append(out, s)
			}
		}
	}
	slices.Sort(out)
	return strings.Join(out, "\n")
}

// TestAmericanWinter: dates of the American garden are those of a cold place, and
// what would freeze there is told. Grasses are cut in April in Iowa and from late
// April to the middle of May in Minnesota's zone 4 (Iowa State University
// Extension; University of Minnesota Extension).
func TestAmericanWinter(t *testing.T) {
	plan, ds, err := generator.Check(options(t, kettleRidge))
	if err != nil || ds.HasErrors() {
		t.Fatal(err, printed(ds))
	}
	var cold []string
	for _, d := range ds {
		if d.Code == "garden/too-cold" {
			name, _, _ := strings.Cut(d.Message, ":")
			cold = append(cold, name)
		}
	}
	if want := []string{"Buddleja davidii", "Lavandula angustifolia"}; !slices.Equal(cold, want) {
		t.Errorf("too cold for %q, want %q", cold, want)
	}
	cut := 0
	for _, task := range plan.Calendar.Tasks {
		if task.Planting.Entry.Type == "grass" && task.Job.Name.Value == "cut back" {
			cut++
			_, from, _ := task.From.Civil()
			_, to, _ := task.To.Civil()
			if from < 3 || to > 5 {
				t.Errorf("%s is cut from %s to %s", task.Planting.Label(), task.From, task.To)
			}
		}
	}
	if cut < 5 {
		t.Errorf("only %d cuts of grasses were found", cut)
	}
}
