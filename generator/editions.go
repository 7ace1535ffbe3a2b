package generator

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"sheaf/generator/booklet"
	"sheaf/generator/html"
	"sheaf/generator/ics"
	"sheaf/generator/layout"
	"sheaf/generator/pdf"
	"sheaf/generator/source"
	"sheaf/generator/theme"
)

// Editions lists the forms a booklet can be built in.
func Editions() []string {
	return []string{"web", "a5", "fold", "large", "sheet", "work", "ics", "onefile", "json"}
}

// A press makes editions of one book.
type press struct {
	book   func() *booklet.Book // composed once, when the first edition asks for it
	theme  *theme.Theme
	letter bool    // Letter paper instead of A4
	clear  bool    // the booklet in clear type
	gsm    float64 // weight of the paper the folded edition is printed on
	stamp  time.Time
	alarm  int // days before an event of the calendar file
	web    func() (*html.Web, error)
	// Drawings, as they were painted for pages and for print.
	length atomic.Int64 // of the booklet, in pages; 0 until it is laid

	last      bool // no other build will ask for them
	paintings *html.Paintings
	plates    *pdf.Plates
}

func newPress(in booklet.Input, stamp time.Time, m *memory) *press {
	g, t := in.Garden, in.Theme
	p := &press{theme: t, letter: g.Paper == "Letter", clear: g.ClearType, gsm: g.PaperWeight, stamp: stamp, alarm: g.Alarm, last: !m.session, paintings: m.dressed.paintings, plates: &m.plates}
	p.book = sync.OnceValue(func() *booklet.Book { return booklet.Compose(in) })
	p.web = sync.OnceValues(func() (*html.Web, error) { return html.NewWeb(p.book(), t, p.paintings) })
	return p
}

// printed is what one edition came to.
type printed struct {
	ds  source.Diagnostics
	err error
}

// run makes editions side by side, as they share nothing that changes, and tells
// what they came to in the order asked for.
func (p *press) run(ctx context.Context, editions []string, to Put) []printed {
	out := make([]printed, len(editions))
	if p.last && !slices.Contains(editions, "onefile") {
		p.paintings = nil // each drawing is in one file of the web edition
	}
	// The booklet is laid and painted once for two editions.
	pages := sync.OnceValue(func() paged { return p.pages(slices.Contains(editions, "fold")) })
	var all sync.WaitGroup
	for i, e := range editions {
		all.Go(func() {
			if out[i].err = ctx.Err(); out[i].err == nil {
				out[i].ds, out[i].err = p.edition(ctx, e, pages, to)
				// A template of the theme that fails over this book is its fault.
				if ds := html.Fault(p.theme, out[i].err); ds != nil {
					out[i] = printed{ds: ds}
				}
			}
		})
	}
	all.Wait()
	return out
}

// paged is the booklet laid, and painted or about to be.
type paged struct {
	painting *pdf.Painting
	chosen   map[string]uint64 // what was printed of each section
	found    source.Diagnostics
	sheets   *layout.Pages // on which the pages are folded; nil for none
	thick    source.Diagnostics
}

// pages lays the pages of the booklet and begins to paint them.
func (p *press) pages(fold bool) paged {
	var out paged
	pages, ds := layout.Lay(p.book(), p.theme, layout.Booklet(p.theme, p.letter))
	out.chosen = pages.Chosen
	if p.clear {
		usual := len(pages.Pages)
		pages, ds = layout.Lay(p.book(), p.theme, layout.Clear(p.theme, p.letter))
		out.chosen = pages.Chosen
		ds.Add(source.Note, "layout/clear-type", source.Span{}, fmt.Sprintf("clear type takes %d pages; the usual size would take %d", len(pages.Pages), usual))
	}
	out.found = ds
	p.length.Store(int64(len(pages.Pages)))
	if fold {
		paper := layout.A4()
		if p.letter {
			paper = layout.Letter()
		}
		out.sheets, out.thick = layout.Fold(pages, paper, p.gsm)
	}
	out.painting = pdf.Paint(pages, p.theme, p.plates)
	return out
}

// edition makes the files of one edition; pages gives the booklet's.
func (p *press) edition(ctx context.Context, name string, pages func() paged, to Put) (source.Diagnostics, error) {
	switch name {
	case "web":
		web, err := p.web()
		if err != nil {
			return nil, err
		}
		return web.Files(ctx, to)
	case "a5":
		laid := pages()
		return laid.found, p.pdf("booklet.pdf", to, laid.painting.File)
	case "fold":
		laid := pages() // a5 tells what was found
		return laid.thick, p.pdf("booklet-fold.pdf", to, func(stamp time.Time) ([][]byte, error) {
			return laid.painting.Folded(laid.sheets, stamp)
		})
	case "large":
		// It prints what was chosen for the booklet.
		pages, ds := layout.Lay(p.book(), p.theme, layout.Large(p.theme, p.letter, pages().chosen))
		return ds, p.pdf("booklet-large.pdf", to, pdf.Paint(pages, p.theme, p.plates).File)
	case "sheet":
		pages, ds := layout.YearSheet(p.book(), p.theme, p.letter)
		return ds, p.pdf("year-sheet.pdf", to, pdf.Paint(pages, p.theme, p.plates).File)
	case "work":
		pages, ds := layout.Lay(p.book(), p.theme, layout.Work(p.theme, p.letter))
		return ds, p.pdf("work.pdf", to, pdf.Paint(pages, p.theme, p.plates).File)
	case "ics":
		return nil, to("care.ics", ics.Render(p.book(), ics.Settings{Stamp: p.stamp, Alarm: p.alarm}))
	case "onefile":
		_, err := html.RenderOne(ctx, p.book(), p.theme, p.paintings, to) // web tells its diagnostics
		return nil, err
	case "json":
		// Made last, by Print: it holds what the other editions found.
		return nil, nil
	}
	return nil, fmt.Errorf("there is no edition %q; there are %s", name, strings.Join(Editions(), ", "))
}

// pdf makes one PDF file.
func (p *press) pdf(name string, to Put, file func(stamp time.Time) ([][]byte, error)) error {
	data, err := file(p.stamp)
	if err != nil {
		return err
	}
	return to(name, data...)
}
