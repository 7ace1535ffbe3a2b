package html_test

import (
	"bytes"
	"context"
	stdhtml "html"
	"path"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"sheaf/generator/booklet"
	"sheaf/generator/draw"
	"sheaf/generator/html"
	"sheaf/generator/prose"
	"sheaf/generator/source"
	"sheaf/generator/theme"
	"sheaf/generator/theme/themetest"
	"sheaf/generator/words/wordstest"
	"sheaf/themes"
)

// hostile is put wherever a book has text.
const hostile = `<script>alert(1)</script> "quoted" 'so' & ]]> --> </style>`

func picture() draw.Picture {
	ink := draw.Color{R: 0x1e, G: 0x2a, B: 0x24}
	return draw.Picture{W: 60, H: 40, Title: hostile, Desc: hostile, Items: []draw.Item{
		draw.Shape{Path: draw.Segment(5, 20, 55, 38), Stroke: &draw.Stroke{Color: ink, Width: 0.4}},
		draw.Label{X: 5, Y: 30, Text: hostile, Size: 9, Color: ink},
	}}
}

// everything is a small book with each kind of section and each type of block.
func everything(t testing.TB) *booklet.Book {
	pic := picture()
	runs := []prose.Run{
		{Text: hostile}, {Text: "bold", Bold: true}, {Text: "italic", Italic: true}, {Text: "SELLING", SmallCaps: true},
		{Text: "Stipa", Italic: true, Link: "#plants/stipa"}, {Text: " ‘A’", Link: "#plants/stipa"},
		{Text: "web", Link: "https://example.org/a?b=c&d"}, {Text: "call", Link: "tel:+44 20 7946 0000"}, {Text: "bad", Link: "javascript:alert(1)"},
	}
	rows := []booklet.Fact{{Label: hostile, Text: runs}}
	details := []booklet.Detail{{Fact: rows[0]}}
	tasks := booklet.Tasks{Month: "2027-03", Lines: []booklet.TaskLine{
		{Tasks: []string{"stipa/yard/comb/2027-03", "stipa/yard/comb/2027-04"}, Mark: "comb", Family: "comb", Verb: hostile, Rest: hostile, Plant: "plants/stipa", Where: hostile, Look: hostile, When: "all month", Minutes: "5 min", Warn: hostile},
		{Tasks: []string{"new/water"}, Mark: "water", Family: "protect", Verb: "Water", Rest: "the new plants"},
	}}
	latin := []prose.Run{{Text: "Stipa", Italic: true}, {Text: " ‘A’"}}
	called := booklet.Called{ID: "plants/stipa", Common: "oats " + hostile, Latin: latin}
	day := func(window string, lines ...booklet.Chore) []booklet.Block {
		return []booklet.Block{
			booklet.Visit{From: "2027-03-20", To: "2027-04-02", Window: window, Hours: "about 4 hours", After: hostile, Earlier: []booklet.Ref{{ID: "days/1", Text: "Day 1"}}, Tools: hostile, Cuttings: hostile},
			booklet.Chores{Job: "jobs/comb", Mark: "comb", Family: "comb", Verb: "Comb", Hours: "2 h", Lines: lines},
			booklet.Text{Runs: runs, Role: booklet.Warn},
		}
	}
	return &booklet.Book{
		Words: wordstest.English(t),
		Title: hostile, Subtitle: "A year of care", For: hostile, By: hostile, Date: hostile, Lang: "en-GB",
		Sections: []booklet.Section{
			{ID: "cover", Kind: booklet.Cover, Title: prose.Plain(hostile), Blocks: []booklet.Block{booklet.Figure{Picture: pic}}},
			{ID: "contents", Kind: booklet.Contents, Title: prose.Plain("Contents")},
			{ID: "pages/welcome", Kind: booklet.Words, Title: runs, Blocks: []booklet.Block{
				booklet.Text{Runs: runs, Role: booklet.Lead}, booklet.Heading{Runs: runs}, booklet.Text{Runs: runs, Role: booklet.Warn},
				booklet.List{Items: [][]prose.Run{runs}}, booklet.List{Numbered: true, Items: [][]prose.Run{runs}},
				booklet.Facts{Rows: rows}, booklet.Figure{Picture: pic, Caption: hostile}, booklet.Portrait{Picture: pic, Look: runs},
				booklet.Entries{Rows: []booklet.EntryRow{{Runs: runs, Target: "year", Aside: hostile}}},
				booklet.Legend{Marks: []booklet.LegendMark{{Mark: "comb", Family: "comb", Name: hostile, Job: "jobs/comb"}}},
				booklet.Terms{Rows: rows},
			}},
			{ID: "year", Kind: booklet.Year, Title: prose.Plain("The year"), Blocks: []booklet.Block{booklet.Chart{
				Since: "2027-03", Months: []string{"M", "A"}, Short: []string{"Mar", "Apr"}, Full: []string{"March 2027", "April 2027"},
				Cues: []booklet.ChartCue{{At: 0.5, Name: hostile, Date: hostile}},
				Groups: []booklet.ChartGroup{{Bed: hostile, Rows: []booklet.ChartRow{{Plant: "plants/stipa", Name: hostile, Bars: []booklet.ChartBar{
					{From: 0.1, To: 0.4, Mark: "comb", Family: "comb", Label: hostile}, {From: 0.2, To: 0.6, Mark: "trim", Family: "cut", Label: "Trim, March"}}}}}},
			}}},
			{ID: "days/1", Kind: booklet.Day, Title: prose.Plain("Garden day 1"), Aside: "any day " + hostile, Blocks: day(hostile, booklet.Chore{
				Tasks: []string{"stipa/yard/comb/2027-03", "stipa/yard/comb/2027-04"}, Plants: []booklet.Called{called, {ID: "plants/stipa", Common: "oats"}},
				Where: "Yard 6\u00a09, 17 plants", Amount: hostile, Say: hostile, Look: hostile, Warn: hostile})},
			{ID: "days/2", Kind: booklet.Day, Title: prose.Plain("Garden day 2"), Aside: hostile, Blocks: day(hostile, booklet.Chore{Tasks: []string{"stipa/yard/comb/2027-05/1"}, Plants: []booklet.Called{called}, Where: hostile})},
			{ID: "watering", Kind: booklet.Watering, Title: prose.Plain("Watering"), Blocks: []booklet.Block{booklet.Facts{Rows: []booklet.Fact{rows[0], {Label: "1 litre each", Text: prose.Plain("Yard 6\u00a07.")}}}}},
			{ID: "months/2027-03", Kind: booklet.Month, Title: prose.Plain("March 2027"), Aside: hostile, Blocks: []booklet.Block{tasks}},
			{ID: "months/2027-04", Kind: booklet.Month, Title: prose.Plain("April 2027"), Blocks: []booklet.Block{tasks}},
			{ID: "plants/stipa", Kind: booklet.Plant, Title: []prose.Run{{Text: "Stipa", Italic: true}, {Text: " ‘A’"}}, Aside: hostile, Group: "groups/combed", Blocks: []booklet.Block{
				booklet.Portrait{Picture: pic, Names: []string{hostile}, Look: runs, Where: []string{hostile + ", 9 plants"}},
				booklet.Harm{Short: "in few words", Full: []string{"Wear gloves " + hostile, "Let nobody eat of it."}, At: "pages/welcome"},
				booklet.Work{Job: "jobs/comb", Mark: "comb", Family: "comb", Verb: hostile, When: []string{"in March", hostile}, Days: []booklet.Ref{{ID: "days/1", Text: "Day 1"}, {ID: "days/2", Text: "Day 2", When: 1}},
					Never: "Never " + hostile, Amount: hostile, Picture: &pic, Rows: details, Notes: rows},
			}},
			{ID: "groups/combed", Kind: booklet.CareGroup, Title: prose.Plain("Combed " + hostile), Aside: hostile, Blocks: []booklet.Block{booklet.Text{Runs: runs}, booklet.Entries{Rows: []booklet.EntryRow{{Runs: runs[:1], Target: "plants/stipa"}}}}},
			{ID: "jobs/comb", Kind: booklet.JobPage, Title: prose.Plain("Comb"), Aside: hostile, Blocks: []booklet.Block{booklet.Text{Runs: runs}}},
			{ID: "names", Kind: booklet.Index, Title: prose.Plain("Index"), Blocks: []booklet.Block{booklet.IndexList{Rows: []booklet.IndexRow{
				{Runs: runs[:4], Letter: "S", Targets: []string{"plants/stipa"}}, {Runs: prose.Plain("both"), Letter: "T", Targets: []string{"plants/stipa", "jobs/comb"}}}}}},
			{ID: "garden", Kind: booklet.Glance, Title: prose.Plain("The garden"), Blocks: []booklet.Block{booklet.Heading{Runs: prose.Plain(hostile)}, booklet.Facts{Rows: rows}}},
			{ID: "beds/hostile", Kind: booklet.Bed, Title: prose.Plain(hostile), Aside: hostile, Blocks: []booklet.Block{booklet.Heading{Runs: runs}, tasks}},
			{ID: "beds/yard", Kind: booklet.Bed, Title: prose.Plain("Yard"), Aside: hostile, Blocks: []booklet.Block{booklet.Heading{Runs: runs},
				booklet.Grown{Rows: []booklet.GrownRow{{Number: 6, Called: called, Many: hostile}, {Number: 9, Called: booklet.Called{ID: "plants/stipa", Latin: latin}, Many: "1 plant"}}}, tasks}},
			{ID: "back", Kind: booklet.Back, Title: prose.Plain(hostile), Blocks: []booklet.Block{booklet.Facts{Rows: rows}}},
		},
	}
}

// render gives all files of a web edition.
func render(b *booklet.Book, t *theme.Theme) (map[string][]byte, source.Diagnostics, error) {
	w, err := html.NewWeb(b, t, nil)
	if err != nil {
		return nil, nil, err
	}
	out := map[string][]byte{}
	ds, err := w.Files(context.Background(), into(out))
	return out, ds, err
}

// into keeps files in a map.
func into(files map[string][]byte) html.Put {
	var mu sync.Mutex
	return func(name string, parts ...[]byte) error {
		mu.Lock()
		defer mu.Unlock()
		files[name] = slices.Concat(parts...)
		return nil
	}
}

func TestRender(t *testing.T) {
	out, ds, err := render(everything(t), themetest.Fieldbook(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range ds {
		if d.Code != "html/link" || !strings.Contains(d.Message, "javascript:") {
			t.Errorf("unexpected: %s [%s]", d.Message, d.Code)
		}
	}
	if len(ds) == 0 {
		t.Error("nothing said about the link to javascript:")
	}
	for _, want := range []string{"index.html", "style.css", "booklet.js", "cover.svg", "plants/index.html", "plants/stipa.html", "plants/stipa.svg",
		"days/index.html", "days/1.html", "watering.html", "months/index.html", "months/2027-03.html", "jobs/index.html", "jobs/comb.html", "pages/welcome.html", "year.html", "names.html"} {
		if out[want] == nil {
			t.Errorf("%s is missing", want)
		}
	}
	again, _, err := render(everything(t), themetest.Fieldbook(t))
	if err != nil {
		t.Fatal(err)
	}
	for name, b := range out {
		if !bytes.Equal(b, again[name]) {
			t.Errorf("%s differs from one run to the next", name)
		}
		if len(b) > 250_000 { // the art direction's limit of a page
			t.Errorf("%s has %d bytes", name, len(b))
		}
		switch path.Ext(name) {
		case ".html":
			checkPage(t, name, string(b), out)
		case ".svg":
			if bytes.Contains(b, []byte("<script")) {
				t.Errorf("%s: markup of the book is not escaped", name)
			}
		}
	}
}

var (
	tags      = regexp.MustCompile(`<[a-zA-Z][^>]*>`)
	addresses = regexp.MustCompile(`(?:href|src)="([^"]*)"`)
	ids       = regexp.MustCompile(` id="([^"]*)"`)
	headings  = regexp.MustCompile(`<h([1-6])`)
	nested    = regexp.MustCompile(`<a [^>]*>(?:[^<]|<[^/a][^>]*>|</[^a][^>]*>)*<a [^>]*>`)
	handlers  = regexp.MustCompile(`\s(?:on[a-z]+|style)\s*=`)
)

func checkPage(t *testing.T, name, page string, out map[string][]byte) {
	t.Helper()
	scripts := 1 // the theme's
	if name == "search.html" {
		scripts = 3 // and its own two
	}
	if n := strings.Count(page, "<script"); n != scripts {
		t.Errorf("%s: %d scripts, want %d", name, n, scripts)
	}
	if strings.Contains(page, "ZgotmplZ") {
		t.Errorf("%s: a value was refused by the templates", name)
	}
	for _, tag := range tags.FindAllString(page, -1) {
		if handlers.MatchString(regexp.MustCompile(`"[^"]*"`).ReplaceAllString(tag, "")) {
			t.Errorf("%s: inline code or style in %s", name, tag)
		}
	}
	seen := map[string]bool{}
	for _, m := range ids.FindAllStringSubmatch(page, -1) {
		if seen[m[1]] {
			t.Errorf("%s: two elements are %q", name, m[1])
		}
		seen[m[1]] = true
	}
	if m := nested.FindString(page); m != "" {
		t.Errorf("%s: a link within a link: %s", name, m)
	}
	// Headings begin with the page's name and never skip a level downwards.
	level := byte('0')
	for _, m := range headings.FindAllStringSubmatch(page, -1) {
		if m[1][0] > level+1 {
			t.Errorf("%s: h%s after h%c", name, m[1], level)
		}
		level = m[1][0]
	}
	for _, m := range addresses.FindAllStringSubmatch(page, -1) {
		to, fragment, _ := strings.Cut(stdhtml.UnescapeString(m[1]), "#")
		switch {
		case strings.HasPrefix(to, "https://example.org/"), to == "tel:+442079460000":
			continue
		case strings.Contains(to, ":"), strings.HasPrefix(to, "/"):
			t.Errorf("%s leads to %s, which is not in the book", name, m[1])
			continue
		}
		target := name
		if to != "" {
			target = path.Join(path.Dir(name), to)
		}
		if out[target] == nil {
			t.Errorf("%s leads to %s, which is not there", name, m[1])
		} else if fragment != "" && !bytes.Contains(out[target], []byte(` id="`+fragment+`"`)) {
			t.Errorf("%s leads to %s, which has no such place", name, m[1])
		}
	}
}

// TestRenderOne holds the single file to what every page is held to.
func TestRenderOne(t *testing.T) {
	out := map[string][]byte{}
	if _, err := html.RenderOne(t.Context(), everything(t), themetest.Fieldbook(t), nil, into(out)); err != nil {
		t.Fatal(err)
	}
	if len(out) != 1 {
		t.Errorf("%d files", len(out))
	}
	checkPage(t, "booklet.html", string(out["booklet.html"]), out)
	for _, want := range []string{`<article class="sheet plant" id="plants/stipa">`, `<article class="sheet day" id="days/1">`, `<a href="#days/2">`, `<a href="#plants/stipa"><i lang="la">Stipa</i> ‘A’</a>`,
		`<h2><i lang="la">Stipa</i> ‘A’</h2>`, `style-src &#39;sha256-`, "--paper: #fbf9f3"} {
		if !strings.Contains(string(out["booklet.html"]), want) {
			t.Errorf("the file lacks %s", want)
		}
	}
	if strings.Contains(string(out["booklet.html"]), "<img") {
		t.Error("a drawing is not in place")
	}
}

// TestWords looks for what each type of block must say.
func TestWords(t *testing.T) {
	out, _, err := render(everything(t), themetest.Fieldbook(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ file, want string }{
		{"pages/welcome.html", `<strong>bold</strong><i>italic</i><span class="selling">SELLING</span>`},
		{"pages/welcome.html", `<a href="../plants/stipa.html"><i lang="la">Stipa</i> ‘A’</a>`},
		{"pages/welcome.html", `<a href="https://example.org/a?b=c&amp;d" rel="noopener">web</a>`},
		{"pages/welcome.html", `<a href="tel:+442079460000" rel="noopener">call</a>bad`},
		{"plants/stipa.html", `<h1><i lang="la">Stipa</i> ‘A’</h1>`},
		{"plants/stipa.html", `aria-current="true">Plants<`},
		{"plants/index.html", `aria-current="page">Plants<`},
		{"months/2027-03.html", `type="checkbox"`},
		{"months/2027-03.html", `rel="next" href="../months/2027-04.html"`},
		{"garden.html", `<h2><a href="beds/hostile.html">`},
		{"plants/stipa.html", `<li><a href="../beds/hostile.html">`},
		{"beds/yard.html", `data-month="2027-03"`},
		{"plants/stipa.html", `Care group: <a href="../groups/combed.html">combed `},
		{"groups/combed.html", `href="../plants/stipa.html"`},
		{"year.html", `data-since="2027-03"`},
		{"year.html", `<li class="cut">Trim, March</li>`},
		{"index.html", `<details data-from="2027-03-20" data-to="2027-04-02" id="day-1" open>`},
		{"index.html", `href="months/2027-03.html"`},
		{"days/1.html", `aria-current="true">Days<`},
		{"days/index.html", `aria-current="page">Days<`},
		{"days/index.html", `<a href="../watering.html">`},
		{"watering.html", `aria-current="true">Days<`},
		{"days/1.html", `<label class="chore"><input type="checkbox" data-tasks="stipa/yard/comb/2027-03 stipa/yard/comb/2027-04">`},
		{"months/2027-03.html", `data-tasks="stipa/yard/comb/2027-03 stipa/yard/comb/2027-04" aria-label=`},
		{"days/1.html", `</a> <span class="botanical"><i lang="la">Stipa</i> ‘A’</span>, <a href="../plants/stipa.html">oats</a></span>`},
		{"days/1.html", `<a href="../beds/yard.html">Yard</a> <b>6` + "\u00a0" + `9</b>, 17 plants</span>`},
		{"days/1.html", `rel="next" href="../days/2.html"`},
		{"days/2.html", ` <span class="on"><a href="../days/1.html">Day 1</a></span></p>`},
		{"days/1.html", `<a href="../days/index.html">All garden days</a>`},
		{"days/1.html", `href="../jobs/comb.html">Comb</a></h2>`},
		{"index.html", `href="jobs/comb.html">Comb</a></h4>`},
		{"days/1.html", `<meta name="description" content="Garden day 1, any day `},
		{"plants/stipa.html", `<p class="window">in March <span class="on"><a href="../days/1.html">Day 1</a></span></p>`},
		{"plants/stipa.html", ` <span class="on"><a href="../days/2.html">Day 2</a></span></p>`},
		{"plants/stipa.html", `<p class="never">Never `},
		{"plants/stipa.html", `<p class="warn">Let nobody eat of it.</p>`},
		{"beds/yard.html", `<li value="6"><b class="number">6</b> `},
		{"watering.html", `<a href="beds/yard.html">Yard</a> <b>6</b>&nbsp;<a href="plants/stipa.html">oats `},
		{"search-data.js", `"a":"Garden day: any day`},
		{"style.css", "--paper: #fbf9f3"},
	} {
		if !strings.Contains(string(out[c.file]), c.want) {
			t.Errorf("%s lacks %s", c.file, c.want)
		}
	}
}

func TestRefused(t *testing.T) {
	section := func(id string, b ...booklet.Block) booklet.Section {
		return booklet.Section{ID: id, Kind: booklet.Words, Title: prose.Plain("A page"), Blocks: b}
	}
	for _, c := range []struct {
		name     string
		sections []booklet.Section
	}{
		{"no block", []booklet.Section{section("a", nil)}},
		{"unknown block", []booklet.Section{section("a", &booklet.Text{})}},
		{"path out of the folder", []booklet.Section{section("../a")}},
		{"two sections in one place", []booklet.Section{section("a"), section("a")}},
		{"a section in the place of the opening page", []booklet.Section{section("index")}},
	} {
		if _, _, err := render(&booklet.Book{Words: wordstest.English(t), Title: "A garden", Sections: c.sections}, themetest.Fieldbook(t)); err == nil {
			t.Errorf("%s: no error", c.name)
		}
	}
}

// TestTemplateFaults: what is wrong with a theme's templates is told at its
// place, before there is a book where that can be.
func TestTemplateFaults(t *testing.T) {
	for _, c := range []struct {
		name, file, text string
		checked          bool // without a book
		want             string
	}{
		{"not closed", "home.html", "{{define \"home\"}}\n<p>{{if .Book}}</p>", true, "looks/home.html:2:"},
		{"a word that is none", "extra.html", "<p>\n  {{nonsense .}}", true, "looks/extra.html:2:"},
		{"text that would be taken for markup", "extra.html", "{{define \"look\"}}\n<a href=\"{{if .Group}}x\">{{end}}{{end}}", true, "looks/extra.html:2:"},
		{"a template that is not there", "extra.html", "{{define \"look\"}}\n {{template \"none\" .}}{{end}}", true, "looks/extra.html:2:"},
		{"a word the page has not", "extra.html", "{{define \"cover\"}}\n  {{.Nothing}}{{end}}", false, "looks/extra.html:2:"},
	} {
		own := themetest.Of(t, fstest.MapFS{c.file: {Data: []byte(c.text)}}, "looks")
		th, ds := theme.Load(themetest.Files(t, themes.Default), own, nil)
		if len(ds) > 0 {
			t.Fatal(ds)
		}
		ds = html.Check(th)
		if c.checked != ds.HasErrors() {
			t.Errorf("%s: checked without a book: %v", c.name, ds)
		}
		if !c.checked {
			_, _, err := render(everything(t), th)
			ds = html.Fault(th, err)
		}
		if len(ds) != 1 || ds[0].Code != "theme/template" {
			t.Errorf("%s: %v", c.name, ds)
			continue
		}
		if place, _, _ := ds[0].Where(nil); !strings.HasPrefix(place, c.want) {
			t.Errorf("%s: told at %s (%s), want %s", c.name, place, ds[0].Message, c.want)
		}
	}
	if ds := html.Check(themetest.Fieldbook(t)); len(ds) > 0 {
		t.Errorf("the default: %v", ds)
	}
}

// TestDeadLink holds that a link to no section is told and not made.
func TestDeadLink(t *testing.T) {
	b := &booklet.Book{Words: wordstest.English(t), Title: "A garden", Sections: []booklet.Section{{ID: "a", Kind: booklet.Words, Title: prose.Plain("A page"),
		Blocks: []booklet.Block{booklet.Text{Runs: []prose.Run{{Text: "gone", Link: "#plants/gone"}}}}}}}
	out, ds, err := render(b, themetest.Fieldbook(t))
	if err != nil {
		t.Fatal(err)
	}
	if len(ds) != 1 || ds[0].Code != "html/no-section" {
		t.Errorf("got %v", ds)
	}
	if !slices.Contains(regexp.MustCompile(`<p[^>]*>[^<]*</p>`).FindAllString(string(out["a.html"]), -1), "<p>gone</p>") {
		t.Error("the words are lost or linked")
	}
}

// TestNeverBeforeHow: what must not be done stands under the window, before how it is done.
func TestNeverBeforeHow(t *testing.T) {
	out, _, err := render(everything(t), themetest.Fieldbook(t))
	if err != nil {
		t.Fatal(err)
	}
	page := string(out["plants/stipa.html"])
	window, never, how := strings.Index(page, `class="window"`), strings.Index(page, `class="never"`), strings.LastIndex(page, `class="facts"`)
	if window < 0 || never < window || how < never {
		t.Errorf("the window is at %d, never at %d, how at %d", window, never, how)
	}
}

// TestWithoutDays: a booklet by months has its month on home and no list of days.
func TestWithoutDays(t *testing.T) {
	b := everything(t)
	b.Sections = slices.DeleteFunc(b.Sections, func(s booklet.Section) bool { return s.Kind == booklet.Day })
	for i := range b.Sections {
		for j, block := range b.Sections[i].Blocks {
			if w, ok := block.(booklet.Work); ok {
				w.Days = nil
				b.Sections[i].Blocks[j] = w
			}
		}
	}
	out, _, err := render(b, themetest.Fieldbook(t))
	if err != nil {
		t.Fatal(err)
	}
	if home := string(out["index.html"]); !strings.Contains(home, `<details data-month="2027-03" open>`) || !strings.Contains(home, ">This month<") || strings.Contains(home, ">Days<") {
		t.Error("home is not by month")
	}
	if out["days/index.html"] != nil {
		t.Error("there is a list of days")
	}
}
