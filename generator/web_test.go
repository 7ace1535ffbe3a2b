package generator_test

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"sheaf/generator"
	"sheaf/generator/tooltest"
	"sheaf/themes"
)

// webOf builds the demo's web edition and the one in a single file.
func webOf(t *testing.T) map[string][]byte {
	t.Helper()
	return webIn(t, demo, themes.Default)
}

// webIn is [webOf] of a garden in a theme.
func webIn(t *testing.T, garden, theme string) map[string][]byte {
	t.Helper()
	o := themed(t, garden, theme)
	o.Editions = []string{"web", "onefile"}
	return build(t, o).Files
}

// pagesOf lists the pages of an edition.
func pagesOf(files map[string][]byte) []string {
	var out []string
	for name := range files {
		if strings.HasSuffix(name, ".html") {
			out = append(out, name)
		}
	}
	slices.Sort(out)
	return out
}

var (
	reference = regexp.MustCompile(`(?:href|src)="([^"]*)"`)
	fragment  = regexp.MustCompile(` id="([^"]*)"`)
	lazy      = regexp.MustCompile(`<img [^>]*loading="lazy"[^>]*>`)
	loads     = regexp.MustCompile(`(?:<link rel="stylesheet" href|src)="([^"#]*)"`)
)

// TestWebLinks: every relative link and fragment of every page leads somewhere,
// and nothing leads to another host but what the garden's file says.
func TestWebLinks(t *testing.T) {
	each(t, func(t *testing.T, garden, theme string) { linksLead(t, webIn(t, garden, theme)) })
}

func linksLead(t *testing.T, files map[string][]byte) {
	ids := map[string]map[string]bool{}
	for _, name := range pagesOf(files) {
		ids[name] = map[string]bool{}
		for _, m := range fragment.FindAllStringSubmatch(string(files[name]), -1) {
			if ids[name][m[1]] {
				t.Errorf("%s has the id %q twice", name, m[1])
			}
			ids[name][m[1]] = true
		}
	}
	links := 0
	for _, name := range pagesOf(files) {
		for _, m := range reference.FindAllStringSubmatch(string(files[name]), -1) {
			links++
			to, frag, _ := strings.Cut(m[1], "#")
			switch {
			case strings.HasPrefix(to, "https://example.org/"): // online, of garden.yaml
				continue
			case name == "booklet.html" && (to != "" || frag == ""):
				t.Errorf("%s needs %s", name, m[1])
				continue
			case strings.Contains(to, ":") || strings.HasPrefix(to, "/"):
				t.Errorf("%s leads to %s", name, m[1])
				continue
			}
			target := name
			if to != "" {
				target = path.Join(path.Dir(name), to)
			}
			if files[target] == nil {
				t.Errorf("%s leads to %s, which is not there", name, m[1])
			}
			if frag != "" && strings.HasSuffix(target, ".html") && !ids[target][frag] {
				t.Errorf("%s leads to %s, which has no such place", name, m[1])
			}
		}
	}
	if links < 1000 {
		t.Errorf("only %d links", links)
	}
}

// TestPageWeights: no page weighs more than 250 KB, with all it loads at once;
// the single file is one that mail takes.
func TestPageWeights(t *testing.T) {
	each(t, func(t *testing.T, garden, theme string) { weights(t, webIn(t, garden, theme)) })
}

func weights(t *testing.T, files map[string][]byte) {
	for _, name := range pagesOf(files) {
		most := 250_000
		if name == "booklet.html" {
			most = 5_000_000
		}
		weight := len(files[name])
		// Pictures that wait to be scrolled to do not count.
		page := lazy.ReplaceAllString(string(files[name]), "")
		loaded := map[string]bool{}
		for _, m := range loads.FindAllStringSubmatch(page, -1) {
			if f := path.Join(path.Dir(name), m[1]); !loaded[f] {
				loaded[f] = true
				weight += len(files[f])
			}
		}
		if weight > most {
			t.Errorf("%s weighs %d KB", name, weight/1000)
		}
	}
}

// served gives the address of the edition on a server of this machine.
func served(t *testing.T, files map[string][]byte) string {
	t.Helper()
	site := fstest.MapFS{}
	for name, data := range files {
		site[name] = &fstest.MapFile{Data: data}
	}
	s := httptest.NewServer(http.FileServerFS(site))
	t.Cleanup(s.Close)
	return s.URL
}

var policy = regexp.MustCompile(`<meta http-equiv="Content-Security-Policy"[^>]*>`)

// TestNu: the Nu HTML checker finds neither error nor warning on any page, nor
// in the stylesheet. It reads files, for which it holds the pages' own policy
// to refuse their stylesheet; browsers do not, as the tests below show, so that
// one line is left out for it.
func TestNu(t *testing.T) {
	each(t, func(t *testing.T, garden, theme string) { nuFinds(t, webIn(t, garden, theme)) })
}

func nuFinds(t *testing.T, files map[string][]byte) {
	java := tooltest.Tool(t, "java")
	jar := tooltest.Module(t, "vnu-jar/build/dist/vnu.jar")
	dir := t.TempDir()
	r := generator.Result{Files: map[string][]byte{"style.css": files["style.css"]}}
	for _, name := range pagesOf(files) {
		r.Files[name] = policy.ReplaceAll(files[name], nil)
	}
	if err := writeTo(t, &r, filepath.Join(dir, "out")); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"--skip-non-html", filepath.Join(dir, "out")}, {"--css", filepath.Join(dir, "out", "style.css")}} {
		out, err := exec.Command(java, append([]string{"-jar", jar, "--format", "text"}, args...)...).CombinedOutput()
		if said := string(out); err != nil || strings.Contains(strings.ToLower(said), "warning") {
			t.Errorf("%v\n%s", err, said[:min(len(said), 4000)])
		}
	}
}

// screen sets the width of the window and the colours the reader prefers.
func screen(width int64, scheme string) chromedp.Action {
	return chromedp.Tasks{
		emulation.SetDeviceMetricsOverride(width, 900, 1, false),
		emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}),
	}
}

// TestAxe: axe-core finds no violation on any page, light and dark, narrow and
// wide, and no page is wider than the window. Pages of the demo in the theme that
// ships first are read in all four ways, all others each in one, by turns, so that
// every kind of page is read in all. Of a folder's pages, which one template makes, the
// first are so read, and of the rest every third.
func TestAxe(t *testing.T) {
	each(t, func(t *testing.T, garden, theme string) {
		axeFinds(t, webIn(t, garden, theme), garden == demo && theme == themes.Default)
	})
}

func axeFinds(t *testing.T, files map[string][]byte, all bool) {
	script, err := os.ReadFile(tooltest.Module(t, "axe-core/axe.min.js"))
	if err != nil {
		t.Fatal(err)
	}
	ctx := tooltest.Browser(t)
	url := served(t, files)
	type way struct {
		width  int64
		scheme string
	}
	ways := []way{{360, "light"}, {360, "dark"}, {1280, "light"}, {1280, "dark"}}
	const first = 8
	in := map[string]int{} // pages by folder
	for n, name := range pagesOf(files) {
		dir := path.Dir(name)
		if in[dir]++; in[dir] > first && in[dir]%3 != 0 {
			continue
		}
		if err := chromedp.Run(ctx, chromedp.Navigate(url+"/"+name), chromedp.Evaluate(string(script)+"; 0", nil)); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for i, w := range ways {
			if !all && i != n%len(ways) {
				continue
			}
			var found string
			var over int
			err := chromedp.Run(ctx, screen(w.width, w.scheme),
				chromedp.Evaluate("document.documentElement.scrollWidth - window.innerWidth", &over),
				chromedp.Evaluate(`axe.run({runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}).then(r => JSON.stringify(r.violations.map(v => v.id + ": " + v.nodes.slice(0, 3).map(n => n.target + " " + n.failureSummary).join(" | "))))`,
					&found, awaited))
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if found != "[]" || over > 0 {
				t.Errorf("%s, %d px, %s: %d px too wide, %s", name, w.width, w.scheme, over, found)
			}
		}
	}
}

// TestLighthouse: four pages of the demo and one of each other garden score 100 for accessibility and for best
// practices. The categories and their weights are those of the pinned release.
func TestLighthouse(t *testing.T) {
	t.Parallel()
	each(t, func(t *testing.T, garden, theme string) {
		files := webIn(t, garden, theme)
		pages := []string{first(t, files, "plants/[a-hj-z]*.html")}
		if garden == demo {
			pages = append(pages, "index.html", "days/2.html", "months/2027-04.html")
		}
		lighthouse(t, files, pages)
	})
}

// first is the first page whose path fits a pattern.
func first(t *testing.T, files map[string][]byte, pattern string) string {
	t.Helper()
	for _, name := range pagesOf(files) {
		if fits, err := path.Match(pattern, name); err != nil {
			t.Fatal(err)
		} else if fits {
			return name
		}
	}
	t.Fatalf("no page is %s", pattern)
	return ""
}

func lighthouse(t *testing.T, files map[string][]byte, pages []string) {
	node, chromium, script := tooltest.Tool(t, "node"), tooltest.Tool(t, "chromium"), tooltest.Module(t, "lighthouse/cli/index.js")
	url := served(t, files)
	for _, page := range pages {
		cmd := exec.Command(node, script, url+"/"+page, "--quiet", "--only-categories=accessibility,best-practices", "--output=json", "--no-enable-error-reporting",
			"--chrome-flags=--headless=new --no-sandbox --disable-gpu")
		cmd.Env = append(os.Environ(), "CHROME_PATH="+chromium)
		var faults strings.Builder
		cmd.Stderr = &faults
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("%v\n%s", err, faults.String())
		}
		var found struct {
			Categories map[string]struct{ Score *float64 }
			Audits     map[string]struct {
				Title string
				Score *float64
			}
		}
		if err := json.Unmarshal(out, &found); err != nil {
			t.Fatal(err)
		}
		for _, c := range []string{"accessibility", "best-practices"} {
			score := found.Categories[c].Score
			if score == nil {
				t.Errorf("%s has no score for %s", page, c)
			} else if *score < 1 {
				t.Errorf("%s scores %.0f for %s", page, 100**score, c)
			}
		}
		for _, a := range found.Audits {
			if a.Score != nil && *a.Score < 1 {
				t.Errorf("%s: %s", page, a.Title)
			}
		}
	}
}

// TestBrowserPath goes from home to a garden day, a plant and a found page by the
// keyboard alone.
func TestBrowserPath(t *testing.T) {
	ctx := tooltest.Browser(t)
	url := served(t, webOf(t))
	follow := func(text string) chromedp.Action {
		// Tab until the link with these words has the focus, then Enter.
		return chromedp.ActionFunc(func(ctx context.Context) error {
			for range 400 {
				if err := chromedp.KeyEvent(kb.Tab).Do(ctx); err != nil {
					return err
				}
				var on string
				if err := chromedp.Evaluate(`document.activeElement.textContent.trim()`, &on).Do(ctx); err != nil {
					return err
				}
				if strings.HasPrefix(on, text) {
					return chromedp.KeyEvent(kb.Enter).Do(ctx)
				}
			}
			return fmt.Errorf("the keyboard does not reach %q", text)
		})
	}
	var title string
	err := chromedp.Run(ctx, screen(1280, "light"), chromedp.Navigate(url+"/index.html"),
		follow("Garden day 3"), follow("Garden day 3 on a page of its own, to print"), chromedp.WaitVisible(`article.day`),
		follow("Lenten rose"), chromedp.WaitVisible(`article.plant`),
		follow("Search"), chromedp.WaitVisible(`#query`),
		chromedp.KeyEvent("feather reed"), chromedp.WaitVisible(`#results a`), chromedp.KeyEvent(kb.Enter), chromedp.KeyEvent(kb.Enter),
		chromedp.WaitVisible(`article.plant`), chromedp.Text("h1", &title))
	if err != nil || !strings.Contains(title, "Calamagrostis") {
		t.Errorf("ended at %q: %v", title, err)
	}
}

// TestSearchFromAFolder: opened from files, the search finds a plant by its
// common name, by a synonym, and with one wrong letter.
func TestSearchFromAFolder(t *testing.T) {
	ctx := tooltest.Browser(t)
	dir := t.TempDir()
	r := generator.Result{Files: webOf(t)}
	if err := writeTo(t, &r, filepath.Join(dir, "out")); err != nil {
		t.Fatal(err)
	}
	for asked, want := range map[string]string{
		"golden oats": "golden oats", "stipa tenuissima": "Mexican feather grass", "calamagrostes": "feather reed grass", "perovskia": "Russian sage", "Bergenja": "",
		"belle etoile": "mock orange", "BELLE ÉTOILE": "mock orange", "courtyard": "Courtyard", "june": "June 2027",
		"garden day 3": "Garden day 3", "watering": "Watering", "garden days": "Garden day 1",
	} {
		var found []string
		err := chromedp.Run(ctx, chromedp.Navigate("about:blank"), chromedp.Navigate("file://"+filepath.Join(dir, "out", "search.html")),
			chromedp.WaitVisible("#query"), chromedp.SendKeys("#query", asked),
			chromedp.Evaluate(`[...document.querySelectorAll("#results a")].map(a => a.textContent)`, &found))
		if err != nil {
			t.Fatal(err)
		}
		if want == "" && len(found) > 0 || want != "" && (len(found) == 0 || found[0] != want) {
			t.Errorf("%q finds %q, want %q first", asked, found, want)
		}
	}
}

// TestTicksStay: a tick is there again after the page is loaded anew, and goes
// when it is cleared twice.
func TestTicksStay(t *testing.T) {
	ctx := tooltest.Browser(t)
	url := served(t, webOf(t))
	page := url + "/months/2027-06.html"
	var before, after, cleared bool
	err := chromedp.Run(ctx, chromedp.Navigate(page), chromedp.Click(".task input"),
		chromedp.Navigate(url+"/index.html"), chromedp.Navigate(page), chromedp.Evaluate(`document.querySelector(".task input").checked`, &before),
		chromedp.Click(".clear"), chromedp.Evaluate(`document.querySelector(".task input").checked`, &after),
		chromedp.Click(".clear"), chromedp.Navigate(page), chromedp.Evaluate(`document.querySelector(".task input").checked`, &cleared))
	if err != nil || !before || !after || cleared {
		t.Errorf("ticked %v, after one press %v, after two %v: %v", before, after, cleared, err)
	}
}

// TestTicksAgree: work has one tick on the page of its garden day, of its month and of
// its bed, and on home. A line of several plants is ticked when all their work is, and a
// press anywhere on a line but its links ticks it.
func TestTicksAgree(t *testing.T) {
	ctx := tooltest.Browser(t)
	files := webOf(t)
	url := served(t, files)
	line := regexp.MustCompile(`data-tasks="([^" ]+) ([^" ]+)[^"]*"`)
	var day, one, other string
	for _, name := range pagesOf(files) {
		if m := line.FindStringSubmatch(string(files[name])); m != nil && strings.HasPrefix(name, "days/") {
			day, one, other = name, m[1], m[2]
		}
	}
	if day == "" {
		t.Fatal("no line of a garden day is of several tasks")
	}
	box := func(task string) string { return `input[data-tasks~="` + task + `"]` }
	state := func(task string, to *string) chromedp.Action {
		return chromedp.Evaluate(`(() => { const b = document.querySelector('`+box(task)+`'); return b.indeterminate ? "some" : b.checked ? "all" : "none" })()`, to)
	}
	month := ""
	for _, name := range pagesOf(files) {
		if strings.HasPrefix(name, "months/") && strings.Contains(string(files[name]), one) {
			month = name
		}
	}
	bed := "beds/" + strings.Split(one, "/")[1] + ".html"
	var inMonth, inBed, onHome, some, all, after string
	err := chromedp.Run(ctx, screen(1280, "light"),
		// The cue or the place of the line, and no link of it.
		chromedp.Navigate(url+"/"+day), chromedp.Evaluate(`document.querySelector('`+box(one)+`').closest("label").querySelector(".place").click()`, nil), state(one, &all),
		chromedp.Navigate(url+"/"+month), state(one, &inMonth), chromedp.Navigate(url+"/"+bed), state(one, &inBed), chromedp.Navigate(url+"/index.html"), state(one, &onHome),
		chromedp.Navigate(url+"/"+month), chromedp.Click(box(other)), chromedp.Navigate(url+"/"+day), state(one, &some),
		chromedp.Click(box(one)), chromedp.Click(".clear"), chromedp.Click(".clear"), chromedp.Navigate(url+"/"+bed), state(one, &after))
	if err != nil || all != "all" || inMonth != "all" || inBed != "all" || onHome != "all" || some != "some" || after != "none" {
		t.Errorf("%s of %s: on the day %q, in the month %q, on the bed's page %q, on home %q; with one taken away %q; cleared %q: %v", one, day, all, inMonth, inBed, onHome, some, after, err)
	}
}

// TestLinesForThumbs: a line of a garden day is a label at least 44 px high, as wide as
// its column, with one box.
func TestLinesForThumbs(t *testing.T) {
	for _, theme := range themes.Names() {
		ctx, url := tooltest.Browser(t), served(t, webIn(t, demo, theme))
		for _, page := range []string{"days/2.html", "days/10.html", "index.html"} {
			var least, lines, narrow int
			err := chromedp.Run(ctx, screen(360, "light"), chromedp.Navigate(url+"/"+page),
				chromedp.Evaluate(`document.querySelectorAll("details").forEach(d => d.open = true); [...document.querySelectorAll("label.chore")].length`, &lines),
				chromedp.Evaluate(`Math.round(Math.min(...[...document.querySelectorAll("label.chore")].map(l => l.getBoundingClientRect().height)))`, &least),
				chromedp.Evaluate(`[...document.querySelectorAll("label.chore")].filter(l => l.offsetWidth < l.closest("ul").offsetWidth || l.querySelectorAll("input").length !== 1).length`, &narrow))
			if err != nil || lines == 0 || least < 44 || narrow > 0 {
				t.Errorf("%s, %s: %d lines, the lowest of %d px, %d narrow: %v", theme, page, lines, least, narrow, err)
			}
		}
	}
}

// TestDayIsDue: home opens the garden day that is due, on any day of the booklet and
// after its end, when its last year is gone through again.
func TestDayIsDue(t *testing.T) {
	ctx := tooltest.Browser(t)
	files := webOf(t)
	url := served(t, files)
	windows := regexp.MustCompile(`<details data-from="([^"]*)" data-to="([^"]*)"`).FindAllStringSubmatch(string(files["index.html"]), -1)
	if len(windows) < 8 {
		t.Fatalf("home has %d garden days", len(windows))
	}
	due := func(day string) int { return slices.IndexFunc(windows, func(w []string) bool { return w[2] >= day }) }
	for _, c := range []struct{ today, as, said string }{
		{"2026-01-05", "2026-01-05", "Next"}, {windows[3][1], windows[3][1], "Now"}, {windows[3][2], windows[3][2], "Now"},
		{windows[4][2], windows[4][2], "Now"}, {"2030-07-01", "2027-07-01", ""},
	} {
		var opened []int
		var name, said string
		err := chromedp.Run(ctx, screen(1280, "light"), chromedp.ActionFunc(func(ctx context.Context) error {
			_, err := page.AddScriptToEvaluateOnNewDocument(`{ const D = Date; Date = class extends D { constructor(...a) { if (a.length) super(...a); else super("` + c.today + `T12:00:00") } } }`).Do(ctx)
			return err
		}), chromedp.Navigate(url+"/index.html"),
			chromedp.Evaluate(`[...document.querySelectorAll("details[data-to]")].map((d, i) => d.open ? i : -1).filter(i => i >= 0)`, &opened),
			chromedp.Evaluate(`document.querySelector("details[open] h3").textContent`, &name),
			chromedp.Evaluate(`document.querySelector("details[open] .now")?.textContent ?? ""`, &said))
		if want := fmt.Sprintf("Garden day %d", due(c.as)+1); err != nil || !slices.Equal(opened, []int{0}) || name != want || said != c.said {
			t.Errorf("on %s: opened %v, %q %q, want %q %q: %v", c.today, opened, said, name, c.said, want, err)
		}
	}
}

// TestYearNarrows: beds and kinds of work can be left out of the year, down to
// single bars and what is read of them.
func TestYearNarrows(t *testing.T) {
	ctx := tooltest.Browser(t)
	url := served(t, webOf(t))
	const shown = `[...document.querySelectorAll(".chart [data-families]")].filter(r => r.offsetHeight > 0).length`
	const cuts = `[...document.querySelectorAll(".chart td li.cut, .chart td [fill='var(--clay)'], .chart td [stroke='var(--clay)']")].filter(e => getComputedStyle(e).display !== "none").length`
	var all, beds, some, allCuts, someCuts int
	var said string
	err := chromedp.Run(ctx, chromedp.Navigate(url+"/year.html"), chromedp.Evaluate(shown, &all), chromedp.Evaluate(cuts, &allCuts),
		chromedp.Click(`[value="Courtyard"]`), chromedp.Evaluate(shown, &beds),
		chromedp.Click(`[value="cut"]`), chromedp.Evaluate(shown, &some), chromedp.Evaluate(cuts, &someCuts),
		chromedp.Text(".narrow [role=status]", &said))
	if err != nil || all <= beds || beds <= some || some == 0 || allCuts < 100 || someCuts != 0 {
		t.Errorf("%d rows, %d without a bed, %d without cutting; %d and %d cuts: %v", all, beds, some, allCuts, someCuts, err)
	}
	if want := fmt.Sprintf("%d of %d rows are shown.", some, all); said != want {
		t.Errorf("said %q, want %q", said, want)
	}
}

// TestOneFile: opened as a file, the single file has its style and its script,
// which its policy lets pass, and leads to its own places.
func TestOneFile(t *testing.T) {
	ctx := tooltest.Browser(t)
	file := filepath.Join(t.TempDir(), "renamed.html")
	if err := os.WriteFile(file, webOf(t)["booklet.html"], 0o644); err != nil {
		t.Fatal(err)
	}
	var refused []string
	chromedp.ListenTarget(ctx, func(ev any) {
		if e, ok := ev.(*log.EventEntryAdded); ok {
			refused = append(refused, e.Entry.Text)
		}
	})
	var paper, top string
	var filter bool
	err := chromedp.Run(ctx, screen(1280, "light"), chromedp.Navigate("file://"+file),
		chromedp.Evaluate(`getComputedStyle(document.body).backgroundColor`, &paper),
		chromedp.Evaluate(`document.querySelector(".narrow").hidden`, &filter),
		chromedp.Click(`a[href="#plants/stipa-gigantea"]`),
		chromedp.Poll(`(() => { const at = document.elementsFromPoint(640, 60).find(e => e.id); return at && at.id === "plants/stipa-gigantea" && at.id })()`, &top, chromedp.WithPollingTimeout(10*time.Second)))
	if err != nil || paper != "rgb(251, 249, 243)" || filter || top != "plants/stipa-gigantea" || len(refused) > 0 {
		t.Errorf("paper %s, filter hidden %v, at %q, refused %q: %v", paper, filter, top, refused, err)
	}
}

// TestWithoutScripts: every plant, every garden day and every task of one can be reached.
func TestWithoutScripts(t *testing.T) {
	ctx := tooltest.Browser(t)
	files := webOf(t)
	url := served(t, files)
	var hrefs, tasks []string
	if err := chromedp.Run(ctx, emulation.SetScriptExecutionDisabled(true), chromedp.Navigate(url+"/index.html"),
		chromedp.Evaluate(`[...document.querySelectorAll("a")].map(a => a.getAttribute("href"))`, &hrefs),
		chromedp.Evaluate(`[...document.querySelectorAll("input[data-tasks]")].flatMap(i => i.dataset.tasks.split(" "))`, &tasks)); err != nil {
		t.Fatal(err)
	}
	for name := range files {
		if path.Ext(name) == ".html" && (path.Dir(name) == "plants" || path.Dir(name) == "days") && path.Base(name) != "index.html" && !slices.Contains(hrefs, name) {
			t.Errorf("home does not lead to %s", name)
		}
	}
	if len(tasks) < 60 {
		t.Errorf("home shows %d tasks", len(tasks))
	}
	var said string
	var index bool
	if err := chromedp.Run(ctx, chromedp.Navigate(url+"/search.html"), chromedp.Text("main", &said),
		chromedp.Evaluate(`document.querySelector("noscript a[href='names.html']") !== null && document.querySelector(".find").hidden`, &index)); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(said, "Search needs scripts") || !index {
		t.Errorf("the search says %q, leads to the index: %v", said, index)
	}
}

// TestWorksEverywhere: what the tests above do with the demo works in each garden
// and theme: ticks stay, the search finds a plant by its name, the year is narrowed,
// the single file has its style and leads to its own places, and without scripts
// all plants are linked.
func TestWorksEverywhere(t *testing.T) {
	each(t, func(t *testing.T, garden, theme string) {
		files := webIn(t, garden, theme)
		dir := t.TempDir()
		if err := writeTo(t, &generator.Result{Files: files}, filepath.Join(dir, "out")); err != nil {
			t.Fatal(err)
		}
		ctx, url := tooltest.Browser(t), served(t, files)
		var plant, month string
		for _, name := range pagesOf(files) {
			switch {
			case strings.HasPrefix(name, "plants/") && name != "plants/index.html":
				plant = name // the last
			case strings.HasPrefix(name, "months/") && month == "" && strings.Contains(string(files[name]), `class="task`):
				month = name
			}
		}
		if month != "" { // a guide is no one's check list
			var before, after bool
			err := chromedp.Run(ctx, screen(1280, "light"), chromedp.Navigate(url+"/"+month), chromedp.Click(".task input"),
				chromedp.Navigate(url+"/index.html"), chromedp.Navigate(url+"/"+month), chromedp.Evaluate(`document.querySelector(".task input").checked`, &before),
				chromedp.Click(".clear"), chromedp.Click(".clear"), chromedp.Navigate(url+"/"+month), chromedp.Evaluate(`document.querySelector(".task input").checked`, &after))
			if err != nil || !before || after {
				t.Fatalf("%s: ticked %v, after two presses of clear %v: %v", month, before, after, err)
			}
		}
		var known, paper string
		err := chromedp.Run(ctx, screen(1280, "light"), chromedp.Navigate(url+"/plants/index.html"), chromedp.Text(`a[href$="`+path.Base(plant)+`"]`, &known),
			chromedp.Evaluate(`getComputedStyle(document.body).backgroundColor`, &paper))
		if err != nil {
			t.Fatal(err)
		}
		var found []string
		err = chromedp.Run(ctx, chromedp.Navigate("file://"+filepath.Join(dir, "out", "search.html")), chromedp.WaitVisible("#query"), chromedp.SendKeys("#query", strings.TrimSpace(known)),
			chromedp.Evaluate(`[...document.querySelectorAll("#results a")].map(a => a.getAttribute("href"))`, &found))
		if err != nil || !slices.Contains(found, plant) {
			t.Fatalf("%q finds %q, not %s: %v", known, found, plant, err)
		}
		const shown = `[...document.querySelectorAll(".chart [data-families]")].filter(r => r.offsetHeight > 0).length`
		var all, some int
		err = chromedp.Run(ctx, chromedp.Navigate(url+"/year.html"), chromedp.Evaluate(shown, &all),
			chromedp.Evaluate(`document.querySelectorAll(".narrow input").forEach((box, i) => i % 2 || box.click())`, nil), chromedp.Evaluate(shown, &some))
		if err != nil || some >= all {
			t.Fatalf("the year has %d rows, narrowed %d: %v", all, some, err)
		}
		place := strings.TrimSuffix(plant, ".html")
		var own, at string
		err = chromedp.Run(ctx, chromedp.Navigate("file://"+filepath.Join(dir, "out", "booklet.html")),
			chromedp.Evaluate(`getComputedStyle(document.body).backgroundColor`, &own),
			chromedp.Evaluate(`document.querySelector('a[href="#`+place+`"]').click()`, nil),
			chromedp.Poll(`(() => { const top = document.getElementById("`+place+`").getBoundingClientRect().top; return Math.abs(top) < 300 && location.hash })()`, &at, chromedp.WithPollingTimeout(10*time.Second)))
		if err != nil || own != paper || at != "#"+place {
			t.Errorf("the single file's paper is %s, the pages' %s; it leads to %q: %v", own, paper, at, err)
		}
		var hrefs []string
		err = chromedp.Run(ctx, emulation.SetScriptExecutionDisabled(true), chromedp.Navigate(url+"/index.html"),
			chromedp.Evaluate(`[...document.querySelectorAll("a")].map(a => a.getAttribute("href"))`, &hrefs))
		if err != nil || !slices.Contains(hrefs, plant) && !slices.Contains(hrefs, "plants/index.html") {
			t.Errorf("home leads neither to %s nor to the list of plants: %v", plant, err)
		}
	})
}

// awaited waits for the promise that a script gives.
func awaited(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) }
