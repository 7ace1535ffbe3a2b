// Package html renders a booklet as files for a browser: a page for each
// section, an opening page, lists of plants, months and jobs, a search, one
// stylesheet and small scripts; or all of it as one file to send by e-mail. In
// go the book and the theme with its templates, out come paths and bytes;
// generator calls it and writes them.
//
// All links are relative and nothing is fetched from anywhere, so the pages
// work from a folder. Every text of the book reaches a page through
// html/template; the only markup made outside of it is what svg returns.
package html

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"html/template"
	"io/fs"
	"path"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"sheaf/generator/booklet"
	"sheaf/generator/draw"
	"sheaf/generator/figure"
	"sheaf/generator/prose"
	"sheaf/generator/source"
	"sheaf/generator/theme"
)

// edition is what the pages of one booklet share.
type edition struct {
	One     bool // everything is in one file
	book    *booklet.Book
	theme   *theme.Theme
	pages   *template.Template // as parsed; each page is made by a set of them
	palette figure.Palette
	vars    map[draw.Color]string
	of      map[booklet.Kind][]*booklet.Section // in the order of the book
	placed  map[string]placed                   // each section by its ID
	files   map[string]string                   // where a section is, by its ID
	jobs    map[string]booklet.TaskLine         // mark and family of a job, by its section's ID
	beds    map[string]string                   // the IDs of the beds' sections, by their names
	grown   map[string]map[int]booklet.Called   // what grows in a bed by its number, by the ID of the bed's section
	latin   map[string]bool                     // the italic words of the plants' names
	scheme  string                              // the theme's colours as CSS
	style   []byte
	script  []byte

	paintings *Paintings

	// Of the edition that is one file: its sections, and where they are rendered.
	sections [][]byte
	under    bytes.Buffer

	mu    sync.Mutex               // of what follows: pages are rendered side by side
	idle  []*set                   // templates that no page uses now
	to    Put                      // nil as long as only single pages are asked for
	ahead map[string][]byte        // files made before that
	made  map[string]bool          // all files made so far
	fault error                    // of to
	sizes map[string]figure.Frame  // of drawings that are files
	marks map[string]template.HTML // as painted
	ds    source.Diagnostics
}

// A Put takes a file that was made, by its path with forward slashes. It is called
// by several at once and must not keep the parts.
type Put = func(name string, parts ...[]byte) error

// placed is a section and which of its kind it is, from 0.
type placed struct {
	*booklet.Section
	n int
}

// put adds a file, unless it is there.
func (e *edition) put(name string, data []byte) {
	e.mu.Lock()
	there, to := e.made[name], e.to
	e.made[name] = true
	if !there && to == nil {
		e.ahead[name] = slices.Clone(data)
	}
	e.mu.Unlock()
	if there || to == nil {
		return
	}
	if err := to(name, data); err != nil {
		e.mu.Lock()
		e.fault = errors.Join(e.fault, err)
		e.mu.Unlock()
	}
}

// warn tells of what a page cannot show as it is meant.
func (e *edition) warn(code, message string, hints ...string) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.ds.Add(source.Warning, code, source.Span{}, message, hints...)
}

// A Web is the web edition of a book. Its pages are rendered when they are
// asked for: one that a reader waits for need not wait for the others.
type Web struct {
	edition *edition
	pages   []page
	search  []byte // the search's script
}

// NewWeb prepares the web edition. Pictures that were painted before come from
// painted, which may be nil.
func NewWeb(b *booklet.Book, t *theme.Theme, painted *Paintings) (*Web, error) {
	e, err := newEdition(b, t, false, painted)
	if err != nil {
		return nil, err
	}
	w := &Web{edition: e, pages: []page{e.opening(home)}}
	w.search = t.File("search.js").Text
	for _, l := range lists() {
		p := page{edition: e, File: l.file, Name: b.Words.Say(l.name), Kind: l.kind, Body: "list", Description: b.Words.Say("describe.list", "list", b.Words.Say(l.name), "garden", b.Title)}
		if len(p.Of(l.kind)) > 0 {
			w.pages = append(w.pages, p)
		}
	}
	for i := range b.Sections {
		if s := &b.Sections[i]; own(s.Kind) {
			w.pages = append(w.pages, page{edition: e, File: e.files[s.ID], Name: prose.String(s.Title), Kind: s.Kind, Section: s, Body: "section", Description: e.describe(s)})
		}
	}
	w.pages = append(w.pages, page{edition: e, File: searchPage, Name: b.Words.Say("search.title"), Body: "search", Description: b.Words.Say("describe.search", "garden", b.Title)})
	return w, nil
}

// Page gives one page by its path; nil when there is none of that path.
func (w *Web) Page(ctx context.Context, file string) ([]byte, error) {
	i := slices.IndexFunc(w.pages, func(p page) bool { return p.File == file })
	if i < 0 {
		return nil, nil
	}
	var b bytes.Buffer
	if err := w.edition.render(ctx, &b, w.pages[i]); err != nil {
		return nil, err
	}
	w.edition.put(file, b.Bytes())
	return b.Bytes(), nil
}

// Files makes all files, once. The diagnostics tell of links that lead nowhere;
// the error is for templates that fail or are stopped with ctx, for books with a block
// this edition cannot show, and for files that are not taken.
func (w *Web) Files(ctx context.Context, to Put) (source.Diagnostics, error) {
	e := w.edition
	for name, data := range e.ahead {
		if err := to(name, data); err != nil {
			return nil, err
		}
	}
	e.to = to
	e.put("style.css", e.style)
	e.put("booklet.js", e.script)
	e.put("search.js", w.search)
	// Browsers show it beside a page's title, and ask a server for one that has none.
	e.put("icon.svg", []byte(e.standalone(painted(figure.Mark("comb", e.palette.Moss), ownName, e.vars, coarse))))
	pages := slices.DeleteFunc(slices.Clone(w.pages), func(p page) bool { return e.made[p.File] })
	// Lists come last: they show the drawings of all sections, which had best be drawn
	// when their own page is made.
	slices.SortStableFunc(pages, func(a, b page) int { return cmp.Compare(listed(a), listed(b)) })
	faults := make([]error, len(pages))
	var next atomic.Int64
	var all sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		all.Go(func() {
			var b bytes.Buffer
			for i := int(next.Add(1)) - 1; i < len(pages); i = int(next.Add(1)) - 1 {
				if b.Cap() > 1<<20 {
					b = bytes.Buffer{} // a list of thousands of plants is the only one of its size
				}
				if faults[i] = e.render(ctx, &b, pages[i]); faults[i] == nil {
					e.put(pages[i].File, b.Bytes())
				} else {
					next.Store(int64(len(pages))) // no page will be shown
				}
			}
		})
	}
	data, err := e.searchData()
	if err == nil {
		e.put("search-data.js", data)
	}
	all.Wait()
	for _, err := range append(faults, err, e.fault) {
		if err != nil {
			return nil, err
		}
	}
	return e.ds.Sorted(), nil
}

// listed is 1 of a page that lists sections, 0 of one that is a section's.
func listed(p page) int {
	if p.Section == nil {
		return 1
	}
	return 0
}

func newEdition(b *booklet.Book, t *theme.Theme, one bool, painted *Paintings) (*edition, error) {
	pages, err := parsed(t)
	if err != nil {
		return nil, err
	}
	e := &edition{
		One: one, book: b, theme: t, pages: pages, palette: figure.Palette(t.Light), vars: variables(t.Light),
		of: map[booklet.Kind][]*booklet.Section{}, placed: map[string]placed{}, files: map[string]string{}, jobs: map[string]booklet.TaskLine{}, beds: map[string]string{}, grown: map[string]map[int]booklet.Called{}, latin: map[string]bool{},
		paintings: painted, ahead: map[string][]byte{}, made: map[string]bool{}, sizes: map[string]figure.Frame{}, marks: map[string]template.HTML{},
	}
	if err := e.assets(t); err != nil {
		return nil, err
	}
	return e, e.survey()
}

func (e *edition) opening(file string) page {
	body := "home"
	if e.One {
		body = "onefile"
	}
	return page{edition: e, File: file, Body: body, Name: e.book.Title, Description: e.book.Words.Say("booklet.subtitle for", "subtitle", e.book.Subtitle, "for", cmp.Or(e.book.For, e.book.Title))}
}

// home is the opening page. The cover, the contents and the back are parts of
// it and not pages of their own.
const home = "index.html"

func own(k booklet.Kind) bool {
	return k != booklet.Cover && k != booklet.Contents && k != booklet.Back
}

// list is a page that leads to all sections of a kind.
type list struct {
	kind       booklet.Kind
	file, name string
}

func lists() []list {
	return []list{
		{booklet.Plant, "plants/index.html", "pages.plants"},
		{booklet.JobPage, "jobs/index.html", "pages.jobs"},
		{booklet.Day, "days/index.html", "pages.days"},
		{booklet.Month, "months/index.html", "pages.months"},
	}
}

// list is the address of the list of a kind, "" when there is none.
func (e *edition) list(k booklet.Kind) string {
	for _, l := range lists() {
		switch {
		case l.kind != k:
		case e.One:
			return "#" + path.Dir(l.file)
		default:
			return l.file
		}
	}
	return ""
}

// survey finds a file for each section, and what pages need to know of others.
func (e *edition) survey() error {
	taken := map[string]bool{home: true, searchPage: true}
	for _, l := range lists() {
		taken[l.file] = true
	}
	for i := range e.book.Sections {
		s := &e.book.Sections[i]
		e.placed[s.ID] = placed{s, len(e.of[s.Kind])}
		e.of[s.Kind] = append(e.of[s.Kind], s)
		if !own(s.Kind) {
			e.files[s.ID] = e.place("contents", home)
			continue
		}
		file := s.ID + ".html"
		if !fs.ValidPath(file) || strings.ContainsAny(file, `\:?#%`) {
			return fmt.Errorf("html: %q cannot name a file", s.ID)
		}
		if taken[file] {
			return fmt.Errorf("html: two pages would be %s", file)
		}
		taken[file] = true
		e.files[s.ID] = e.place(s.ID, file)
		if s.Kind == booklet.Bed {
			e.beds[prose.String(s.Title)] = s.ID
		}
		for _, b := range s.Blocks {
			switch b := b.(type) {
			case booklet.Work:
				e.jobs[b.Job] = booklet.TaskLine{Mark: b.Mark, Family: b.Family}
			case booklet.Chores:
				e.jobs[b.Job] = booklet.TaskLine{Mark: b.Mark, Family: b.Family}
			case booklet.Grown:
				if s.Kind == booklet.Bed {
					e.grown[s.ID] = map[int]booklet.Called{}
					for _, r := range b.Rows {
						e.grown[s.ID][r.Number] = r.Called
					}
				}
			case booklet.Legend:
				for _, m := range b.Marks {
					e.jobs[m.Job] = booklet.TaskLine{Mark: m.Mark, Family: m.Family}
				}
			}
		}
		if s.Kind == booklet.Plant {
			for _, r := range s.Title {
				if r.Italic {
					e.latin[strings.TrimSpace(r.Text)] = true
				}
			}
		}
	}
	return nil
}

// place is where a section is read: in a file of its own or further down in
// the only one.
func (e *edition) place(id, file string) string {
	if e.One {
		return "#" + id
	}
	return file
}

// render makes a page with the theme's templates, until ctx ends.
func (e *edition) render(ctx context.Context, b *bytes.Buffer, p page) error {
	b.Reset()
	s, err := e.take()
	if err != nil {
		return err
	}
	defer e.giveBack(s)
	p.set = s
	ctx, done := context.WithTimeout(ctx, s.time)
	defer done()
	s.begin(ctx)
	if err := s.execute(b, "page", &p); err != nil {
		return fmt.Errorf("html: %s: %w", p.File, err)
	}
	return nil
}

// take gives a set of the templates that no other page uses.
func (e *edition) take() (*set, error) {
	e.mu.Lock()
	defer e.mu.Unlock()
	if n := len(e.idle); n > 0 {
		s := e.idle[n-1]
		e.idle = e.idle[:n-1]
		return s, nil
	}
	return newSet(e.pages, budgetOf(len(e.book.Sections)))
}

func (e *edition) giveBack(s *set) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.idle = append(e.idle, s)
}

// assets are the stylesheet, with the theme's colours and families before it, and the
// script.
func (e *edition) assets(t *theme.Theme) error {
	// The scripts read their words from the first line of the one that is on
	// every page. It may run again, in the preview: a constant could not.
	said, err := json.Marshal(e.said())
	if err != nil {
		return fmt.Errorf("html: %w", err)
	}
	e.script = slices.Concat([]byte("var bookletWords = "), said, []byte(";\n"), t.File("booklet.js").Text)
	// The dark colours are for screens: what is printed stays light.
	e.scheme = ":root {\n" + declare(t.Light) + "}\n@media screen and (prefers-color-scheme: dark) {\n:root {\n" + declare(t.Dark) + "}\n}\n"
	e.style = slices.Concat([]byte(e.scheme), []byte(":root {\n"+families(t)+"}\n"), t.Style())
	return nil
}

// said are the words of the scripts.
func (e *edition) said() map[string]any {
	out := map[string]any{}
	for _, key := range []string{"this month", "now", "next", "clear", "sure", "cleared", "rows", "today", "nothing", "found"} {
		out[key] = e.book.Words.Forms("script." + key)
	}
	return out
}

// colour is one of the palette with its CSS custom property.
type colour struct {
	name  string
	value draw.Color
}

func colours(p theme.Palette) []colour {
	return []colour{
		{"--paper", p.Paper}, {"--ink", p.Ink}, {"--quiet", p.Quiet}, {"--straw", p.Straw}, {"--clay", p.Clay},
		{"--moss", p.Moss}, {"--frost", p.Frost}, {"--hairline", p.Hairline},
	}
}

func variables(p theme.Palette) map[draw.Color]string {
	out := map[draw.Color]string{}
	for _, c := range colours(p) {
		out[c.value] = c.name
	}
	return out
}

func declare(p theme.Palette) string {
	var b strings.Builder
	for _, c := range colours(p) {
		fmt.Fprintf(&b, "  %s: %s;\n", c.name, c.value.Hex())
	}
	return b.String()
}

// standalone is a picture as a file, with the theme's colours in it. Type in
// it is the system's own, since a picture may fetch nothing. The page's alt text names
// it.
func (e *edition) standalone(c canvas) string {
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.2f %.2f"><style>%s text { font-family: %s }</style>`, c.size.W, c.size.H, e.scheme, family(e.theme.Face(draw.Body), e.theme.Web.Body)) +
		string(c.called("").element("")) + "</svg>\n"
}

// describe sums a section up for search results and previews.
func (e *edition) describe(s *booklet.Section) string {
	text := s.Aside
	if s.Kind == booklet.Day {
		d := outing(s)
		var work []string
		for _, w := range d.Work {
			work = append(work, w.Verb)
		}
		return brief(prose.String(s.Title) + ", " + s.Aside + ", " + d.Hours + ": " + e.book.Words.Small(strings.Join(work, ", ")))
	}
	for _, b := range s.Blocks {
		switch b := b.(type) {
		case booklet.Portrait:
			return brief(s.Aside + ": " + prose.String(b.Look))
		case booklet.Text:
			if text == "" {
				text = prose.String(b.Runs)
			}
		case booklet.Tasks:
			if s.Kind != booklet.Month {
				continue
			}
			var work []string
			for _, l := range b.Lines {
				work = append(work, l.Verb+" "+l.Rest)
			}
			return brief(prose.String(s.Title) + ", " + s.Aside + ": " + e.book.Words.Small(strings.Join(work, ", ")))
		}
	}
	if text == "" {
		text = e.book.Words.Say("describe.page", "garden", e.book.Title)
	}
	return brief(prose.String(s.Title) + ". " + text)
}

// brief keeps whole words of about the length that previews show.
func brief(s string) string {
	const most = 155
	r := []rune(strings.TrimSpace(s))
	if len(r) <= most {
		return string(r)
	}
	cut := string(r[:most])
	if i := strings.LastIndexByte(cut, ' '); i > 0 {
		cut = cut[:i]
	}
	return strings.TrimRight(cut, ",;:.") + "…"
}
