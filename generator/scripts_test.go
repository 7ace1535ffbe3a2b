package generator_test

import (
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"sheaf/content"
	"sheaf/generator"
	"sheaf/generator/prose"
	"sheaf/generator/source"
	"sheaf/generator/tooltest"
)

// attempts are texts that would run, or become elements, wherever one of the
// forms that pages are written in is left: HTML, its attributes, script, JSON,
// style, comments, templates. Each sets a mark on the window.
func attempts() []string {
	return []string{
		`<script>window.ran=1</script>`,
		`<img src=x onerror=window.ran=1>`,
		`"><svg onload=window.ran=1>`,
		`' onmouseover='window.ran=1' x='`,
		`" autofocus onfocus="window.ran=1" x="`,
		`</title><script>window.ran=1</script>`,
		`</script><script>window.ran=1</script>`,
		`</style><script>window.ran=1</script>`,
		`</textarea></noscript><img src=x onerror=window.ran=1>`,
		`<!--<script>window.ran=1</script>`,
		`--><script>window.ran=1</script>`,
		`]]><script>window.ran=1</script>`,
		`";window.ran=1;//`,
		`'];window.ran=1;//`,
		"\u2028window.ran=1\u2029",
		"`${window.ran=1}`",
		`{{"<script>window.ran=1</script>"}}{{template "page" .}}`,
		`&lt;script&gt;window.ran=1&lt;/script&gt;`,
		`&#60;img src=x onerror=window.ran=1&#62;`,
		`<a href=javascript:window.ran=1>x</a>`,
		`<iframe srcdoc="<script>parent.ran=1</script>">`,
		`<base href=//example.org/><link rel=stylesheet href=//example.org/x.css>`,
		`\"><script>window.ran=1</script>`,
		`<math><mtext><style><img src=x onerror=window.ran=1></style></mtext></math>`,
		"<\u202escript>window.ran=1</script>",
		`url(javascript:window.ran=1)</style>`,
		`<form action=javascript:window.ran=1><button autofocus>x`,
		`<template><script>window.ran=1</script></template><custom-x></custom-x>`,
	}
}

// hostile is a garden and a library whose every text is an attempt, in turn.
// With tame the attempts are the same words without the signs that make them
// such, and Markdown has nothing that is left out of booklets: a booklet of the
// same shape.
func hostile(t *testing.T, tame bool) generator.Options {
	t.Helper()
	turn := 0
	// A text as YAML, after a capital letter as names and sentences have it.
	text := func() string {
		a := attempts()[turn%len(attempts())]
		turn++
		if tame {
			a = strings.NewReplacer("<", "‹", ">", "›", `"`, "”", "'", "’", "{", "(", "}", ")", "`", "’", "&", "+", "=", "-").Replace(a)
		}
		data, err := json.Marshal(fmt.Sprintf("A%d %s", turn, a))
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	body := func() string {
		var b strings.Builder
		b.WriteString("A plain first line.\n\n")
		for i, a := range attempts() {
			fmt.Fprintf(&b, "Words %d stand here: %s and `%s`\n\n", i, a, a)
		}
		for _, to := range []string{"javascript:window.ran=1", "JaVaScRiPt:window.ran=1", "&#106;avascript:window.ran=1", "java%0ascript:window.ran=1", "data:text/html,<script>window.ran=1</script>",
			"vbscript:x", "//example.org/x", "file:///etc/passwd", "x.html", "#plants", `https://example.org/"onmouseover="window.ran=1`, "https://example.org/'><script>window.ran=1</script>",
			`mailto:a@example.org?subject="><script>`, `tel:1"onclick="window.ran=1`} {
			fmt.Fprintf(&b, "A [word](<%s>) and ![picture](<%s>), <%s>.\n\n", to, to, to)
		}
		b.WriteString("<div onclick=\"window.ran=1\">\n\n</div>\n\n<style>@import '//example.org/x.css'</style>\n\n")
		for _, a := range attempts() { // as paragraphs of their own
			b.WriteString(a + "\n\n")
		}
		if !tame {
			return b.String()
		}
		// Of the same paragraphs and links with nothing in them.
		blocks, _ := prose.Parse(source.NewFile("x.md", []byte(b.String())), 0, "page")
		b.Reset()
		for _, block := range blocks {
			p, ok := block.(prose.Paragraph)
			if !ok {
				t.Fatalf("a block of the kind %T", block)
			}
			for _, run := range p.Runs {
				if run.Link == "" {
					b.WriteString("words ")
				} else if strings.HasPrefix(run.Link, "tel:") {
					b.WriteString("[word](tel:1) ")
				} else {
					b.WriteString("[word](https://example.org/) ")
				}
			}
			b.WriteString("\n\n")
		}
		return b.String()
	}
	list := func(n int) string {
		var out []string
		for range n {
			out = append(out, text())
		}
		return "[" + strings.Join(out, ", ") + "]"
	}
	rule := func(job string) string {
		return "  - job: " + job + "\n    when: March to April\n    leave: " + text() + "\n    look-for: " + text() + "\n    how: " + text() + "\n    why: " + text() + "\n    if-missed: " + text() +
			"\n    stop-if: " + text() + "\n    postpone-if: " + text() + "\n    tools: " + list(3) + "\n    cautions: " + list(3) + "\n    minutes: 3\n"
	}
	club, garden := fstest.MapFS{}, fstest.MapFS{}
	put := func(in fstest.MapFS, name, words string) { in[name] = &fstest.MapFile{Data: []byte(words)} }

	jobs := []string{text(), text(), text()}
	for i, job := range jobs {
		put(club, fmt.Sprintf("jobs/work-%d.md", i), "---\njob: "+job+"\naction: "+strings.TrimSuffix(text(), `"`)+" {plant}\"\nfamily: cut\nmark: cut back\nminutes: {small: 1, medium: 2, large: 3}\ntools: "+list(2)+"\nsummary: "+text()+"\nsources: "+list(2)+"\n---\n"+body())
	}
	group := text()
	put(club, "groups/kept.md", "---\ngroup: "+group+"\nsummary: "+text()+"\nsources: "+list(2)+"\ncare:\n"+rule(jobs[0])+"---\n"+body())
	put(club, "pages/how-to-use.md", "---\ntitle: "+text()+"\n---\n"+body())
	put(club, "pages/glossary.md", "---\ntitle: "+text()+"\nterms:\n  "+text()+": "+text()+"\n  "+text()+": "+text()+"\n---\n"+body())
	put(club, "regions/QQ.md", "---\nregion: QQ\nname: "+text()+"\npaper: A4\nunits: metric\nnest: {from: 1 March, to: 31 August}\nnest-note: "+text()+"\ntrees: "+text()+"\nhedges: "+text()+
		"\nwaste: "+text()+"\nemergency: "+text()+"\nchecked: 2026-11-25\nsources: "+list(2)+"\n---\n"+body())
	var rows strings.Builder
	beds := []string{text(), text()}
	put(garden, "photos/shot.png", string(plainPNG(t)))
	for i, cultivar := range []string{"A<script>window.ran=1</script>", `B"><img src=x onerror=window.ran=1>`, "C{{.}}</title><svg onload=window.ran=1>"} {
		if tame {
			cultivar = strings.NewReplacer("<", "‹", ">", "›", `"`, "”", "{", "[", "}", "]", "=", "-").Replace(cultivar)
		}
		name, err := json.Marshal("Panicum virgatum '" + cultivar + "'")
		if err != nil {
			t.Fatal(err)
		}
		put(club, fmt.Sprintf("plants/grass-%d.md", i), "---\nbotanical: "+string(name)+"\ncommon: "+list(3)+"\nfamily: "+text()+"\ntype: grass\nleaf: deciduous\nhabit: mound\nheight: 40 cm\nspread: 45 cm\nflowers: July to August\n"+
			"care-group: "+group+"\ncare:\n"+rule(jobs[1])+rule(jobs[2])+"adjust:\n  - {if: rich soil, note: "+text()+"}\n  - {if: rich soil, job: "+jobs[1]+", leave: "+text()+", note: "+text()+"}\nsources: "+list(2)+"\ncontributor: "+text()+
			"\nphoto: {file: shot.png, credit: "+text()+", alt: "+text()+"}\n---\n"+body())
		fmt.Fprintf(&rows, "  - {plant: %s, quantity: %d, bed: %s, size: %s, notes: %s}\n", name, i+3, beds[i%2], text(), text())
	}
	put(garden, "pages/welcome.md", "---\ntitle: "+text()+"\n---\n"+body())
	online := `"https://example.org/'onmouseover='window.ran=1'//*/-alert(1)"` // more is refused
	if tame {
		online = "https://example.org/"
	}
	put(garden, "garden.yaml", "garden: "+text()+"\nfor: "+text()+"\nby: "+text()+"\ndate: 2027-03-20\nsite:\n  country: QQ\n  latitude: 52\n  normals: {min: [1, 1, 3, 4, 7, 10, 12, 12, 10, 7, 4, 2], max: [7, 8, 11, 14, 17, 20, 23, 22, 19, 15, 10, 8], unit: °C, source: "+text()+"}\n"+
		"library: [club, built-in]\npages: [pages/welcome.md]\nbeds:\n  - {bed: "+beds[0]+", fertility: rich, area: 20 m²}\n  - {bed: "+beds[1]+", fertility: rich}\n"+
		"contacts:\n  - {name: "+text()+", text: "+text()+"}\n  - {name: "+text()+", text: "+text()+"}\nonline: "+online+"\nplants:\n"+rows.String())
	// The library's photographs lie in its own folder.
	club["photos/shot.png"] = garden["photos/shot.png"]
	if turn < 2*len(attempts()) {
		t.Errorf("only %d texts are attempts", turn)
	}
	o := moved(t)
	o.Garden, o.Editions = garden, []string{"web", "onefile", "a5", "ics", "json"}
	o.Library = func(name string) (fs.FS, error) {
		if name == "club" {
			return club, nil
		}
		return content.Library(), nil
	}
	return o
}

// watcher runs in each page before anything of its own does.
const watcher = `
window.refused = [];
document.addEventListener("securitypolicyviolation", (e) => window.refused.push(e.violatedDirective + " " + e.blockedURI + " " + e.sample));
`

// shape lists a page's elements with the names of their attributes, one a line
// and set in by depth. Of pictures only the names within them are told, each
// once: how many lines a drawing has follows from the plant's name.
const shape = `(() => {
  const out = [];
  const named = (e) => e.localName + "[" + [...e.attributes].map((a) => a.name).sort().join(" ") + "]";
  const walk = (e, depth) => {
    if (e.localName === "svg") {
      out.push(depth + "svg " + [...new Set([...e.querySelectorAll("*")].map((c) => c.localName))].filter((n) => !["g", "path", "clipPath", "text"].includes(n)).sort().join(" "));
      return;
    }
    out.push(depth + named(e));
    for (const c of e.children) walk(c, depth + " ");
  };
  walk(document.documentElement, "");
  return out.join("\n");
})()`

// addresses lists whatever a page leads to or loads, as the browser reads it,
// and every attribute that could hold a script.
const addresses = `[...document.querySelectorAll("*")].flatMap((e) => [...e.attributes].filter((a) =>
  ["href", "src", "srcset", "action", "formaction", "data", "poster", "srcdoc", "style", "xlink:href"].includes(a.name) || a.name.startsWith("on"))
  .map((a) => a.name === "href" && e instanceof HTMLAnchorElement ? "a " + e.href :
    a.name === "href" && e instanceof SVGAElement ? "a " + new URL(e.href.baseVal, document.baseURI).href : a.name === "src" ? e.localName + " " + e.src : e.localName + "@" + a.name + " " + a.value))`

// seenPage is what a browser makes of a page.
type seenPage struct {
	shape     string
	addresses []string
	ran       bool
	refused   []string
	attempts  int // that stand in it as text
}

func (s *seenPage) read() chromedp.Action {
	return chromedp.Tasks{
		chromedp.Evaluate(shape, &s.shape), chromedp.Evaluate(addresses, &s.addresses),
		chromedp.Evaluate(`"ran" in window`, &s.ran), chromedp.Evaluate("window.refused", &s.refused),
		chromedp.Evaluate(`document.body.textContent.split("window.ran=1").length - 1`, &s.attempts),
	}
}

// safeAddress tells what a page may lead to or load: its own files, and from a
// link web, mail and telephone addresses.
func safeAddress(said, base string, files map[string][]byte) bool {
	what, to, _ := strings.Cut(said, " ")
	if strings.HasPrefix(to, "#") && (what == "use@href" || what == "a@href") {
		return true
	}
	if what == "link@href" {
		return files[strings.TrimLeft(to, "./")] != nil
	}
	if what == "img" && strings.HasPrefix(to, "data:image/jpeg;base64,") {
		return true
	}
	if own, ok := strings.CutPrefix(to, base+"/"); ok {
		own, _, _ = strings.Cut(own, "#")
		if own == "" || strings.HasSuffix(own, "/") { // as a server calls it
			own += "index.html"
		}
		own, err := url.PathUnescape(own)
		_, there := files[own]
		ending := path.Ext(own)
		return err == nil && there && (what == "a" && ending == ".html" || what == "img" && (ending == ".svg" || ending == ".jpg") || what == "script" && ending == ".js")
	}
	return what == "a" && (strings.HasPrefix(to, "https://example.org/") || strings.HasPrefix(to, "mailto:a@example.org") || to == "tel:11")
}

// TestScriptsInContent: of a booklet whose every text attempts to be a script,
// nothing runs, nothing becomes an element or an attribute, nothing leads to or
// loads what it may not, and the policy has nothing to refuse: each page has
// the very elements of a booklet without the attempts. So from a server and
// from a folder, as pages and as one file, and among what the search finds.
func TestScriptsInContent(t *testing.T) {
	ctx := tooltest.Browser(t)
	bad, tame := build(t, hostile(t, false)).Files, build(t, hostile(t, true)).Files
	dir := t.TempDir()
	for name, files := range map[string]map[string][]byte{"bad": bad, "tame": tame} {
		if err := writeTo(t, &generator.Result{Files: files}, filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	names := pagesOf(bad)
	if want := pagesOf(tame); !slices.Equal(names, want) {
		t.Fatalf("the pages are\n%q, want\n%q", names, want)
	}
	if err := chromedp.Run(ctx, chromedp.ActionFunc(func(c context.Context) error {
		_, err := page.AddScriptToEvaluateOnNewDocument(watcher).Do(c)
		return err
	})); err != nil {
		t.Fatal(err)
	}
	visit := func(at string) seenPage {
		var s seenPage
		if err := chromedp.Run(ctx, chromedp.Navigate(at), s.read()); err != nil {
			t.Fatalf("%s: %v", at, err)
		}
		return s
	}
	quiet := func(at, base string, got seenPage) {
		if got.ran {
			t.Errorf("%s: a script ran", at)
		}
		if len(got.refused) > 0 {
			t.Errorf("%s: the policy refused %q", at, got.refused)
		}
		for _, a := range got.addresses {
			if !safeAddress(a, base, bad) {
				t.Errorf("%s: it holds %.200s", at, a)
			}
		}
	}
	server, folder := served(t, bad), "file://"+filepath.ToSlash(filepath.Join(dir, "bad"))
	calm := served(t, tame)
	shown := 0
	for _, name := range names {
		want := visit(calm + "/" + name)
		for _, base := range []string{server, folder} {
			got := visit(base + "/" + name)
			quiet(base+"/"+name, base, got)
			shown += got.attempts
			if got.shape != want.shape {
				t.Errorf("%s/%s has other elements:\n%.600s", base, name, firstDifference(got.shape, want.shape))
			}
		}
	}
	if shown < 1000 {
		t.Errorf("only %d attempts are there to be read: do the pages hold them?", shown)
	}
	// Each attempt is looked for, whole and by what would be its elements, as it
	// is typed and as it stands in the address.
	for _, base := range []string{server, folder} {
		at, found := base+"/search.html", 0
		if got := visit(at + "#" + url.PathEscape(attempts()[1])); got.ran {
			t.Errorf("%s: a script in its address ran", at)
		}
		for _, asked := range append(attempts(), "script", "onerror", "window ran", "iframe", "A1", "panicum") {
			word, err := json.Marshal(asked)
			if err != nil {
				t.Fatal(err)
			}
			var hits []string
			if err := chromedp.Run(ctx, chromedp.Evaluate(`(() => {
				const query = document.getElementById("query");
				query.value = `+string(word)+`;
				query.dispatchEvent(new Event("input"));
				query.dispatchEvent(new Event("change"));
				return [...document.querySelectorAll("#results *")].map((e) => e.localName + [...e.attributes].map((a) => "@" + a.name).join(""));
			})()`, &hits)); err != nil {
				t.Fatal(err)
			}
			found += len(hits) / 3
			for _, h := range hits {
				if !slices.Contains([]string{"li", "a@href", "span@class"}, h) {
					t.Errorf("%s for %q: a result holds %s", at, asked, h)
				}
			}
			var s seenPage
			if err := chromedp.Run(ctx, s.read()); err != nil {
				t.Fatal(err)
			}
			quiet(at+" for "+asked, base, s)
		}
		if found < 50 {
			t.Errorf("%s: only %d results", at, found)
		}
	}
	// What the checks above rest on does tell: the same page with an attempt let
	// in, with its policy and without.
	index := string(bad["index.html"])
	let := strings.Replace(index, "</main>", attempts()[1]+attempts()[0]+"</main>", 1)
	open := policy.ReplaceAllString(let, "")
	for name, text := range map[string]string{"let.html": let, "open.html": open} {
		if err := os.WriteFile(filepath.Join(dir, "bad", name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want := visit(folder + "/index.html")
	if got := visit(folder + "/let.html"); got.ran || len(got.refused) < 2 || got.shape == want.shape || !slices.ContainsFunc(got.addresses, func(a string) bool { return !safeAddress(a, folder, bad) }) {
		t.Errorf("an attempt under the policy: ran is %v, refused %q", got.ran, got.refused)
	}
	if got := visit(folder + "/open.html"); !got.ran {
		t.Error("an attempt without a policy does not run: it is none")
	}
}

// TestScriptsRefused: what cannot be shown safely is refused at its place.
func TestScriptsRefused(t *testing.T) {
	for name, c := range map[string]struct{ old, new, want string }{
		"a botanical name":     {"botanical: Sesleria heufleriana", "botanical: Sesleria <script>window.ran=1</script>", `entry/name '<' has no place in a plant name`},
		"an address":           {"plants:\n", "online: javascript:window.ran=1\nplants:\n", "garden/online the address of the web edition begins with https://"},
		"a data address":       {"plants:\n", "online: 'data:text/html,<script>1</script>'\nplants:\n", "garden/online the address of the web edition begins with https://"},
		"a picture as a photo": {"photo: {file: moor.jpg", "photo: {file: moor.svg", `entry/photo "moor.svg" cannot be used as a photograph`},
		"a window":             {"spread: 45 cm", "spread: 45 cm\nflowers: <script>window.ran=1</script>", "entry/window"},
		"a colour":             {"spread: 45 cm", "spread: 45 cm\ncolours: {leaf: 'url(javascript:window.ran=1)'}", "entry/colour"},
		"a word of a list":     {"habit: mound", "habit: '\"><script>'", "entry/unknown-value"},
	} {
		o := withPhotos(t, "")
		files := o.Garden.(fstest.MapFS)
		changed := false
		for _, file := range []string{"garden.yaml", "plants/moor.md"} {
			text := string(files[file].Data)
			if strings.Contains(text, c.old) && !changed {
				changed = true
				files[file] = &fstest.MapFile{Data: []byte(strings.Replace(text, c.old, c.new, 1))}
			}
		}
		r, ds, err := allOf(t, o)
		if err != nil {
			t.Fatal(err)
		}
		var told strings.Builder
		for _, d := range ds {
			fmt.Fprintf(&told, "%s %s\n", d.Code, d.Message)
		}
		if r != nil || !changed || !strings.Contains(told.String(), c.want) {
			t.Errorf("%s: built is %v, told\n%s\nwant %s", name, r != nil, told.String(), c.want)
		}
	}
	// A drawing under a photograph's name is none.
	o := withPhotos(t, "")
	o.Garden.(fstest.MapFS)["photos/grass.jpg"] = &fstest.MapFile{Data: []byte(`<svg xmlns="http://www.w3.org/2000/svg" onload="window.ran=1"><script>window.ran=1</script></svg>`)}
	if r, ds, err := allOf(t, o); err != nil || r != nil || !strings.Contains(printed(ds), "this is no JPEG or PNG picture") {
		t.Errorf("a drawing as a photograph: %v %s", err, printed(ds))
	}
}
