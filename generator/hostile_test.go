package generator_test

import (
	"bytes"
	"context"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"runtime/metrics"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"golang.org/x/net/html"
	"golang.org/x/tools/txtar"

	"sheaf/generator"
	"sheaf/generator/source"
)

// Ceilings of one hostile garden, from its files to its editions. They are
// bounds of safety, not of speed: what passes them has no bound at all.
const (
	// hostileTime is ten times what the slowest case takes on two cores, so that
	// a machine that is busy with other things does not fail.
	hostileTime = time.Minute
	// hostileMemory is what the program has from the system at any moment. The
	// shipped library and the fonts take 50 MB of it, two of the largest
	// photographs at once, or as many plantings as may be, up to 950. A small
	// computer has 4 GB.
	hostileMemory = 1500 << 20
)

// A hostileCase is a garden as a stranger may send it in.
type hostileCase struct {
	name string
	// make writes the garden's files over those of the harmless one.
	make func(g *hostileGarden)
	// shown are lines "page: words" and "page! words": that a page of the output
	// holds them or does not; "*" is all pages and drawings.
	shown []string
	said  string // the diagnostics, printed
	flags string
}

// A hostileGarden is a garden's folder on the disk.
type hostileGarden struct {
	testing.TB
	dir string
}

// write makes a file of the garden, in whatever folder.
func (g *hostileGarden) write(name, text string) {
	g.Helper()
	p := filepath.Join(g.dir, filepath.FromSlash(name))
	if err := errors.Join(os.MkdirAll(filepath.Dir(p), 0o755), os.WriteFile(p, []byte(text), 0o644)); err != nil {
		g.Fatal(err)
	}
}

// link makes a symbolic link of the garden.
func (g *hostileGarden) link(target, name string) {
	g.Helper()
	p := filepath.Join(g.dir, filepath.FromSlash(name))
	os.RemoveAll(p)
	if err := errors.Join(os.MkdirAll(filepath.Dir(p), 0o755), os.Symlink(target, p)); err != nil {
		g.Skip(err)
	}
}

const (
	hostileFolder = "../testdata/hostile"
	hostileMade   = hostileFolder + "/made.txtar"
	// secret stands in files outside the garden; nothing may print it.
	secret = "kept-to-ourselves"
	// hostileEnv names to a child process the case to run and, after a line, the
	// file for what came of it.
	hostileEnv = "SHEAF_HOSTILE_CASE"
)

// hostileCases are the archives of the folder and those that Go code makes.
func hostileCases(t testing.TB) []hostileCase {
	t.Helper()
	names, err := filepath.Glob(hostileFolder + "/*.txtar")
	if err != nil {
		t.Fatal(err)
	}
	var out []hostileCase
	for _, name := range names {
		if name == filepath.FromSlash(hostileMade) || strings.HasSuffix(name, "base.txtar") {
			continue
		}
		a := archive(t, name)
		c := hostileCase{name: strings.TrimSuffix(filepath.Base(name), ".txtar")}
		c.make = func(g *hostileGarden) { g.unpack(a) }
		for _, f := range a.Files {
			switch f.Name {
			case "want":
				c.said = string(f.Data)
			case "shown":
				c.shown = strings.Split(strings.TrimSpace(string(f.Data)), "\n")
			case "flags":
				c.flags = string(f.Data)
			}
		}
		out = append(out, c)
	}
	said := archive(t, hostileMade)
	for _, c := range madeCases() {
		if i := slices.IndexFunc(said.Files, func(f txtar.File) bool { return f.Name == c.name }); i >= 0 {
			c.said = string(said.Files[i].Data)
		}
		out = append(out, c)
	}
	return out
}

func archive(t testing.TB, name string) *txtar.Archive {
	t.Helper()
	a, err := txtar.ParseFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func (g *hostileGarden) unpack(a *txtar.Archive) {
	for _, f := range a.Files {
		if f.Name != "want" && f.Name != "shown" && f.Name != "flags" {
			g.write(f.Name, string(f.Data))
		}
	}
}

// An outcome is what came of a case.
type outcome struct {
	Said   string
	Faults []string
	Peak   uint64 // bytes
	Time   time.Duration
}

// TestHostile: whatever is sent in is told at its place or is rendered as
// harmless words, within the ceilings. Each case runs in a process of its own,
// so that one that fills memory or never ends takes nothing with it.
func TestHostile(t *testing.T) {
	cases := hostileCases(t)
	if len(cases) < 60 {
		t.Errorf("only %d cases", len(cases))
	}
	came := make([]outcome, len(cases))
	t.Run("cases", func(t *testing.T) {
		for i, c := range cases {
			t.Run(c.name, func(t *testing.T) {
				t.Parallel()
				came[i] = inChild(t, c.name)
				for _, f := range came[i].Faults {
					t.Error(f)
				}
				if came[i].Said != c.said && !*update {
					t.Errorf("got\n%s\nwant\n%s", came[i].Said, c.said)
				}
			})
		}
	})
	told := func(i int) { t.Logf("%-32s %6.2f s %4d MB", cases[i].name, came[i].Time.Seconds(), came[i].Peak>>20) }
	slowest, largest := 0, 0
	for i, o := range came {
		if testing.Verbose() {
			told(i)
		}
		if o.Time > came[slowest].Time {
			slowest = i
		}
		if o.Peak > came[largest].Peak {
			largest = i
		}
	}
	t.Log("the slowest and the largest:")
	told(slowest)
	told(largest)
	if *update {
		takeSaid(t, cases, came)
	}
}

// inChild runs a case in a process of its own.
func inChild(t *testing.T, name string) outcome {
	ctx, cancel := context.WithTimeout(t.Context(), hostileTime)
	defer cancel()
	to := filepath.Join(t.TempDir(), "outcome.json")
	cmd := exec.CommandContext(ctx, os.Args[0], "-test.run=^TestHostileChild$", "-test.v")
	cmd.Env = append(os.Environ(), hostileEnv+"="+name+"\n"+to)
	out, err := cmd.CombinedOutput()
	if ctx.Err() != nil {
		t.Fatalf("not done after %v", hostileTime)
	}
	if bytes.Contains(out, []byte("--- SKIP")) {
		t.Skipf("%s", out)
	}
	var o outcome
	data, missing := os.ReadFile(to)
	if err := errors.Join(err, missing); err != nil {
		t.Fatalf("%v\n%.4000s", err, out)
	}
	if err := json.Unmarshal(data, &o); err != nil {
		t.Fatal(err)
	}
	return o
}

// TestHostileChild is one case, in the process that [inChild] starts.
func TestHostileChild(t *testing.T) {
	name, to, ok := strings.Cut(os.Getenv(hostileEnv), "\n")
	if !ok {
		return
	}
	cases := hostileCases(t)
	i := slices.IndexFunc(cases, func(c hostileCase) bool { return c.name == name })
	if i < 0 {
		t.Fatalf("there is no case %q", name)
	}
	c := cases[i]
	dir := t.TempDir()
	g := &hostileGarden{t, filepath.Join(dir, "garden")}
	for _, name := range []string{"secret.md", "secret.csv", "secret.jpg", "plants/secret.md"} {
		g.write("../outside/"+name, "---\ntitle: "+secret+"\n---\n"+secret+"\n")
	}
	g.unpack(archive(t, hostileFolder+"/base.txtar"))
	c.make(g)

	debug.FreeOSMemory() // of what the case was made with
	peak := watchMemory()
	start := time.Now()
	folders, err := generator.Open(g.dir)
	if err != nil {
		t.Fatal(err)
	}
	defer folders.Close()
	r, ds, err := allOf(t, generator.Options{
		Folders: folders, Now: time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC),
		Partial:  strings.Contains(c.flags, "--partial"),
		Editions: generator.Editions(),
	})
	var said strings.Builder
	const most = 20 // as the program prints
	if err := ds.Print(&said, source.Style{Most: most}); err != nil {
		t.Fatal(err)
	}
	if err != nil {
		fmt.Fprintf(&said, "cannot go on: %s\n", strings.ReplaceAll(err.Error(), dir, "DIR"))
	}
	o := outcome{Said: said.String(), Time: time.Since(start), Peak: peak.Load()}
	if r != nil {
		o.Faults = append(o.Faults, unsafe(r.Files)...)
		o.Faults = append(o.Faults, c.missing(r.Files)...)
	} else if len(c.shown) > 0 {
		o.Faults = append(o.Faults, "nothing was rendered")
	}
	for name, data := range files(r) {
		if bytes.Contains(data, []byte(secret)) {
			o.Faults = append(o.Faults, name+" holds what stands outside the garden")
		}
	}
	if strings.Contains(o.Said, secret) {
		o.Faults = append(o.Faults, "a message shows what stands outside the garden")
	}
	data, err := json.Marshal(o)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(to, data, 0o644); err != nil {
		t.Fatal(err)
	}
}

func files(r *generator.Result) map[string][]byte {
	if r == nil {
		return nil
	}
	return r.Files
}

// watchMemory looks every few milliseconds how much memory the process has and
// ends it at the ceiling. It keeps the most that was seen.
func watchMemory() *atomic.Uint64 {
	peak := new(atomic.Uint64)
	samples := []metrics.Sample{{Name: "/memory/classes/total:bytes"}, {Name: "/memory/classes/heap/released:bytes"}}
	look := func() {
		metrics.Read(samples)
		if now := samples[0].Value.Uint64() - samples[1].Value.Uint64(); now > peak.Load() {
			peak.Store(now)
		}
		if peak.Load() > hostileMemory {
			fmt.Printf("more than %d MB of memory\n", hostileMemory>>20)
			os.Exit(1)
		}
	}
	go func() {
		for {
			look()
			time.Sleep(3 * time.Millisecond)
		}
	}()
	return peak
}

// missing holds the output to the lines of the case.
func (c hostileCase) missing(files map[string][]byte) []string {
	var out []string
	for _, line := range c.shown {
		page, words, wanted := strings.Cut(line, ": ")
		if p, w, ok := strings.Cut(line, "! "); ok && (!wanted || len(p) < len(page)) {
			page, words, wanted = p, w, false
		}
		found, seen := false, false
		for name, data := range files {
			if name == page || page == "*" && slices.Contains([]string{".html", ".svg"}, filepath.Ext(name)) {
				text := string(data)
				if filepath.Ext(name) == ".ics" {
					text = strings.ReplaceAll(text, "\r\n ", "")
				}
				seen, found = true, found || strings.Contains(text, words)
			}
		}
		switch {
		case !seen:
			out = append(out, "there is no "+page)
		case found && !wanted:
			out = append(out, page+" holds "+words)
		case !found && wanted:
			out = append(out, page+" does not hold "+words)
		}
	}
	return out
}

// takeSaid writes what the cases said into their archives.
func takeSaid(t *testing.T, cases []hostileCase, came []outcome) {
	made := &txtar.Archive{Comment: []byte("What the cases of hostile_made_test.go are told.\n")}
	for i, c := range cases {
		name := hostileFolder + "/" + c.name + ".txtar"
		if _, err := os.Stat(name); err != nil {
			made.Files = append(made.Files, txtar.File{Name: c.name, Data: []byte(came[i].Said)})
			continue
		}
		a := archive(t, name)
		a.Files = slices.DeleteFunc(a.Files, func(f txtar.File) bool { return f.Name == "want" })
		a.Files = append(a.Files, txtar.File{Name: "want", Data: []byte(came[i].Said)})
		if err := os.WriteFile(name, txtar.Format(a), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(hostileMade, txtar.Format(made), 0o644); err != nil {
		t.Fatal(err)
	}
}

// unsafe holds the files of a booklet to what no content may bring about.
func unsafe(files map[string][]byte) []string {
	var out []string
	seen := map[string]bool{}
	for name, data := range files {
		var faults []string
		ext := filepath.Ext(name)
		switch seen[ext] = true; ext {
		case ".html":
			faults = unsafePage(name, data)
		case ".svg":
			faults = unsafePicture(data)
		case ".ics":
			faults = unsafeCalendar(data)
		case ".pdf":
			faults = unsafePDF(data)
		case ".json":
			if !json.Valid(data) {
				faults = []string{"this is not JSON"}
			}
		case ".js":
			// The search's data is one constant, as JSON.
			if text, ok := bytes.CutPrefix(data, []byte("const sections = ")); ok && !json.Valid(bytes.TrimSuffix(text, []byte(";\n"))) {
				faults = []string{"this is not one constant"}
			}
		}
		for _, f := range faults {
			out = append(out, name+": "+f)
		}
	}
	for _, ext := range []string{".html", ".ics", ".pdf", ".json", ".js"} {
		if !seen[ext] {
			out = append(out, "no file "+ext+" was made")
		}
	}
	slices.Sort(out)
	return out
}

// safeTargets are what a link of a booklet may begin with; others are names of
// its own files or places in them.
var safeTargets = regexp.MustCompile(`^(?:https?:|mailto:|tel:)`)

// unsafePage reads a page as browsers do.
func unsafePage(name string, data []byte) []string {
	const one = "booklet.html"
	var out []string
	policies, scripts := 0, 0
	for z := html.NewTokenizer(bytes.NewReader(data)); ; {
		kind := z.Next()
		if kind == html.ErrorToken {
			break
		}
		tok := z.Token()
		if kind != html.StartTagToken && kind != html.SelfClosingTagToken {
			continue
		}
		attr := map[string]string{}
		for _, a := range tok.Attr {
			attr[a.Key] = a.Val
			switch v := strings.ToLower(a.Val); {
			case strings.HasPrefix(a.Key, "on"), a.Key == "style", a.Key == "srcdoc", a.Key == "formaction", a.Key == "action", a.Key == "background":
				out = append(out, fmt.Sprintf("<%s %s=%q>", tok.Data, a.Key, a.Val))
			case a.Key == "src" && name == one && strings.HasPrefix(v, "data:image/jpeg;base64,"):
			case a.Key == "href" || a.Key == "src" || a.Key == "xlink:href":
				if strings.ContainsAny(v, ":") && !safeTargets.MatchString(v) || strings.HasPrefix(v, "//") {
					out = append(out, fmt.Sprintf("<%s> leads to %q", tok.Data, a.Val))
				}
			}
		}
		switch tok.Data {
		case "script":
			scripts++
			if name != one && !regexp.MustCompile(`^(?:\.\./)*(?:booklet|search|search-data)\.js$`).MatchString(attr["src"]) {
				out = append(out, fmt.Sprintf("a script %q", attr["src"]))
			}
		case "meta":
			switch strings.ToLower(attr["http-equiv"]) {
			case "":
			case "content-security-policy":
				policies++
				if !strings.HasPrefix(attr["content"], "default-src 'none'; ") || strings.Contains(attr["content"], "unsafe") {
					out = append(out, "the policy is "+attr["content"])
				}
			default:
				out = append(out, fmt.Sprintf("%v", tok))
			}
		case "iframe", "object", "embed", "base", "foreignobject", "frame", "frameset", "applet", "audio", "video", "animate", "set", "marquee", "template":
			out = append(out, fmt.Sprintf("an element %v", tok))
		}
	}
	if policies != 1 {
		out = append(out, fmt.Sprintf("%d policies", policies))
	}
	if name == one && scripts != 1 {
		out = append(out, fmt.Sprintf("%d scripts", scripts))
	}
	return out
}

// unsafePicture looks through a drawing: shapes and words, nothing that acts.
func unsafePicture(data []byte) []string {
	for d := xml.NewDecoder(bytes.NewReader(data)); ; {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return []string{err.Error()}
		}
		e, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		if !slices.Contains([]string{"svg", "style", "g", "path", "text", "title", "desc", "clipPath"}, e.Name.Local) {
			return []string{"an element " + e.Name.Local}
		}
		for _, a := range e.Attr {
			if n := strings.ToLower(a.Name.Local); strings.HasPrefix(n, "on") || n == "href" {
				return []string{fmt.Sprintf("%s=%q", n, a.Value)}
			}
		}
	}
}

// unsafeCalendar unfolds a calendar file (RFC 5545, 3.1) and holds each line to
// the properties that a booklet writes.
func unsafeCalendar(data []byte) []string {
	known := strings.Fields("BEGIN END VERSION PRODID CALSCALE NAME X-WR-CALNAME UID DTSTAMP DTSTART DTEND SUMMARY DESCRIPTION CATEGORIES URL TRANSP ACTION TRIGGER")
	var out []string
	text := strings.ReplaceAll(string(data), "\r\n ", "")
	for _, line := range strings.Split(strings.TrimSuffix(text, "\r\n"), "\r\n") {
		name, value, _ := strings.Cut(line, ":")
		name, parameter, _ := strings.Cut(name, ";")
		within := map[string]string{"BEGIN": "VCALENDAR VEVENT VALARM", "END": "VCALENDAR VEVENT VALARM"}[name]
		switch {
		case !slices.Contains(known, name), parameter != "" && parameter != "VALUE=DATE", within != "" && !slices.Contains(strings.Fields(within), value):
			out = append(out, fmt.Sprintf("a line %q", line))
		case strings.ContainsFunc(line, func(r rune) bool { return r < 0x20 || r == 0x7f }):
			out = append(out, fmt.Sprintf("a control character in %q", line))
		case name == "URL" && !safeTargets.MatchString(value):
			out = append(out, fmt.Sprintf("it leads to %q", value))
		}
	}
	for _, part := range []string{"VCALENDAR", "VEVENT", "VALARM"} {
		if strings.Count(text, "\nBEGIN:"+part+"\r") != strings.Count(text, "\nEND:"+part+"\r") && part != "VCALENDAR" {
			out = append(out, part+" is not closed")
		}
	}
	return out
}

var (
	pdfStream = regexp.MustCompile(`(?s)\bstream\r?\n.*?\bendstream`)
	pdfAction = regexp.MustCompile(`/(?:JavaScript|JS|Launch|AA|SubmitForm|ImportData|GoToR|GoToE|EmbeddedFile|RichMedia|Movie|Sound|Rendition|XFA|AcroForm)\b`)
	pdfTarget = regexp.MustCompile(`/URI \(([^)]*)\)`)
)

// unsafePDF looks through the objects of a PDF for actions (ISO 32000-1, 12.6):
// none is there but links within the file and to safe addresses.
func unsafePDF(data []byte) []string {
	objects := pdfStream.ReplaceAll(data, nil)
	var out []string
	if m := pdfAction.Find(pdfString.ReplaceAll(objects, []byte("()"))); m != nil {
		out = append(out, "an action "+string(m))
	}
	for _, m := range pdfTarget.FindAllSubmatch(objects, -1) {
		if !safeTargets.Match(m[1]) {
			out = append(out, fmt.Sprintf("it leads to %q", m[1]))
		}
	}
	if bytes.Count(objects, []byte("/URI")) != 2*len(pdfTarget.FindAllSubmatch(objects, -1)) { // "/S /URI /URI (…)"
		out = append(out, "an address that could not be read")
	}
	return out
}

// What TestHostile looks for is seen when it is there.
func TestUnsafeIsSeen(t *testing.T) {
	const (
		policy = `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'self'">`
		ics    = "BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\n%s\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n"
		pdf    = "1 0 obj\n<< /A << /S /URI /URI (%s) >> %s >>\nstream\n/Launch\nendstream\nendobj"
	)
	for name, texts := range map[string][]string{
		"a.html": {
			policy + `<a href="../b.html#c">b</a><a href="https://example.org/?a:b">c</a><script src="../booklet.js"></script>`,
			"", policy + policy, strings.Replace(policy, "none", "unsafe-inline", 1),
			policy + `<p onclick=x>`, policy + `<p style="a:b">`, policy + `<a href="javascript:x">`, policy + `<a href=" JAVASCRIPT:x">`,
			policy + `<a href=//example.org>`, policy + `<img src="data:text/html,x">`, policy + `<script>x</script>`, policy + `<script src="x.js"></script>`,
			policy + `<meta http-equiv=refresh content=0>`, policy + `<iframe>`, policy + `<svg><foreignObject>`, policy + `<base href=x>`,
		},
		"booklet.html": {policy + `<script>x</script><img src="data:image/jpeg;base64,x">`, policy, policy + `<script>x</script><script>y</script>`, policy + `<script>x</script><img src="data:image/svg+xml,x">`},
		"a.svg":        {`<svg><g><path d="M0 0"/></g></svg>`, `<svg><script/></svg>`, `<svg><a href="x"/></svg>`, `<svg onload="x"/>`, `<svg><g></svg>`, `<svg><text href="x"/></svg>`},
		"a.ics": {
			fmt.Sprintf(ics, "SUMMARY:a\\nATTENDEE:b\r\n c"), fmt.Sprintf(ics, "SUMMARY:a\r\nATTENDEE:b"), fmt.Sprintf(ics, "SUMMARY:a\nb"), fmt.Sprintf(ics, "URL:javascript:x"),
			fmt.Sprintf(ics, "BEGIN:VALARM"), fmt.Sprintf(ics, "BEGIN:VTODO\r\nEND:VTODO"), fmt.Sprintf(ics, "SUMMARY;ALTREP=x:a"),
		},
		"a.pdf": {
			fmt.Sprintf(pdf, "https://example.org/JavaScript", "(a /Launch)"), fmt.Sprintf(pdf, "file:///x", ""), fmt.Sprintf(pdf, "https://a", "/S /Launch"),
			fmt.Sprintf(pdf, "https://a", "/OpenAction << /S /JavaScript /JS (x) >>"), fmt.Sprintf(pdf, "https://a", "/URI <6162>"),
		},
		"a.json":         {`{}`, `{`},
		"search-data.js": {"const sections = [];\n", "const sections = [];alert(1);\n"},
	} {
		for i, text := range texts {
			var faults []string
			for _, f := range unsafe(map[string][]byte{name: []byte(text)}) {
				if !strings.HasPrefix(f, "no file ") {
					faults = append(faults, f)
				}
			}
			if (len(faults) > 0) != (i > 0) {
				t.Errorf("%s: %s: %q", name, text, faults)
			}
		}
	}
}
