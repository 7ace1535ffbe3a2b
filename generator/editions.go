package generator

import (
	"context"
	"fmt"
	"strings"
	"sync"
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
	return []string{"web", "a5", "fold", "large", "sheet", "months", "ics", "onefile", "json"}
}

// A press makes editions of one book.
type press struct {
	book   func() *booklet.Book // composed once, when the first edition asks for it
	theme  *theme.Theme
	letter bool    // Letter paper instead of A4
	gsm    float64 // weight of the paper the folded edition is printed on
	stamp  time.Time
	alarm  int // days before an event of the calendar file
	web    func() (*html.Web, error)
	// Drawings, as they were painted for pages and for print.
	paintings *html.Paintings
	plates    *pdf.Plates
	// booklet lays the A5 pages once for both editions that print them.
	booklet func() (*layout.Pages, source.Diagnostics)
}

func newPress(in booklet.Input, stamp time.Time, painted *html.Paintings, plates *pdf.Plates) *press {
	g, t := in.Garden, in.Theme
	p := &press{theme: t, letter: g.Paper == "Letter", gsm: g.PaperWeight, stamp: stamp, alarm: g.Alarm, paintings: painted, plates: plates}
	p.book = sync.OnceValue(func() *booklet.Book { return booklet.Compose(in) })
	p.web = sync.OnceValues(func() (*html.Web, error) { return html.NewWeb(p.book(), t, painted) })
	p.booklet = sync.OnceValues(func() (*layout.Pages, source.Diagnostics) {
		return layout.Lay(p.book(), t, layout.Booklet(t, p.letter))
	})
	return p
}

// printed is what one edition came to.
type printed struct {
	files map[string][]byte
	ds    source.Diagnostics
	err   error
}

// run makes editions side by side, as they share nothing that changes, and
// gives them in the order asked for.
func (p *press) run(ctx context.Context, editions []string) []printed {
	out := make([]printed, len(editions))
	var all sync.WaitGroup
	for i, e := range editions {
		all.Go(func() {
			if out[i].err = ctx.Err(); out[i].err == nil {
				out[i] = p.edition(e)
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

// edition makes the files of one edition.
func (p *press) edition(name string) printed {
	switch name {
	case "web":
		web, err := p.web()
		if err != nil {
			return printed{err: err}
		}
		files, ds, err := web.Files()
		return printed{files, ds, err}
	case "a5":
		pages, ds := p.booklet()
		return p.pdf("booklet.pdf", pages, ds)
	case "fold":
		pages, _ := p.booklet() // a5 tells its diagnostics
		paper := layout.A4()
		if p.letter {
			paper = layout.Letter()
		}
		folded, ds := layout.Fold(pages, paper, p.gsm)
		return p.pdf("booklet-fold.pdf", folded, ds)
	case "large":
		pages, ds := layout.Lay(p.book(), p.theme, layout.Large(p.theme, p.letter))
		return p.pdf("booklet-large.pdf", pages, ds)
	case "sheet":
		pages, ds := layout.YearSheet(p.book(), p.theme, p.letter)
		return p.pdf("year-sheet.pdf", pages, ds)
	case "months":
		pages, ds := layout.Lay(p.book(), p.theme, layout.Months(p.theme, p.letter))
		return p.pdf("months.pdf", pages, ds)
	case "ics":
		return printed{files: map[string][]byte{"care.ics": ics.Render(p.book(), ics.Settings{Stamp: p.stamp, Alarm: p.alarm})}}
	case "onefile":
		files, _, err := html.RenderOne(p.book(), p.theme, p.paintings) // web tells its diagnostics
		return printed{files: files, err: err}
	case "json":
		// Written last, by Print: it holds what the other editions found.
		return printed{}
	}
	return printed{err: fmt.Errorf("there is no edition %q; there are %s", name, strings.Join(Editions(), ", "))}
}

func (p *press) pdf(name string, pages *layout.Pages, ds source.Diagnostics) printed {
	data, err := pdf.Render(pages, p.theme, p.plates, p.stamp)
	return printed{map[string][]byte{name: data}, ds, err}
}
