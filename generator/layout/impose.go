package layout

import (
	"fmt"

	"sheaf/generator/source"
)

// Imposition: the booklet's pages two by two on whole sheets, in the order in
// which a stack that is printed on both sides, folded once and stapled through
// the fold reads from front to back.

// Signature gives the pages of each sheet of a booklet of n pages, from the
// outermost sheet: front left, front right, back left, back right. Pages count
// from 1; 0 is a blank, as the pages are filled up to a multiple of four at
// the end. Sheet k of S carries N−2k and 1+2k in front, 2+2k and N−1−2k behind
// (STANDARDS 5.2), so two pages on a side add up to N+1.
func Signature(n int) [][4]int {
	full := (n + 3) / 4 * 4
	page := func(i int) int {
		if i > n {
			return 0
		}
		return i
	}
	var out [][4]int
	for k := range full / 4 {
		out = append(out, [4]int{page(full - 2*k), page(1 + 2*k), page(2 + 2*k), page(full - 1 - 2*k)})
	}
	return out
}

// mostSheets is what a hand stapler and a crease bear: 64 to 80 pages (common
// practice, TRADE 7.6). mostCreep keeps text clear of the fold by 8 mm.
const (
	mostSheets = 20
	mostCreep  = 8.0
)

// Thickness is a sheet's in millimetres by its weight in g/m²: plain uncoated
// paper runs at about 1.25 cm³/g (80 g 0.100 mm, 100 g 0.125 mm, STANDARDS 5.4).
func Thickness(gsm float64) float64 { return gsm * 1.25 / 1000 }

// Fold imposes a laid-out booklet on sheets of paper laid on their side. Each
// sheet inside another is pushed out at the fold by the paper's thickness, and
// its pages are moved towards the fold by as much (STANDARDS 5.3), though never
// by more than mostCreep. What is painted on a page comes along as a leaf, all else
// moved. Print both sides and flip on the short edge. A booklet
// of more sheets than can be folded and stapled is told of in a warning.
func Fold(p *Pages, paper Sheet, gsm float64) (*Pages, source.Diagnostics) {
	var ds source.Diagnostics
	if n := len(Signature(len(p.Pages))); n > mostSheets {
		ds.Add(source.Warning, "layout/too-thick", source.Span{}, fmt.Sprintf("the folded edition has %d sheets; more than %d can hardly be folded and stapled", n, mostSheets),
			"print booklet.pdf and have it bound")
	}
	wide := paper.Landscape()
	out := &Pages{Title: p.Title, Author: p.Author, Subject: p.Subject, Lang: p.Lang}
	for k, sheet := range Signature(len(p.Pages)) {
		creep := min(float64(k)*Thickness(gsm), mostCreep)
		for side := range 2 {
			s := Page{W: wide.W, H: wide.H}
			for half := range 2 {
				n := sheet[2*side+half]
				if n == 0 {
					continue
				}
				page := p.Pages[n-1]
				// Left pages end at the fold, right ones begin there.
				x := wide.W/2 - page.W + creep
				if half == 1 {
					x = wide.W/2 - creep
				}
				y := (wide.H - page.H) / 2
				s.Items = append(s.Items, Leaf{x, y, n})
				for _, it := range page.Items {
					switch it.(type) {
					case Anchor, Link, Image:
						s.Items = append(s.Items, shift(it, x, y))
					}
				}
			}
			out.Pages = append(out.Pages, s)
		}
	}
	// Parts of the booklet are scattered over the sheets: an outline would lead
	// nowhere a reader could follow, so there is none.
	return out, ds
}
