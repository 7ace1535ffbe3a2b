// Package pdf writes laid-out pages as a PDF. It decides nothing: each item is
// painted where layout put it. It is the only importer of a PDF library, which
// makes what surrounds the pages: their tree, links and outline, fonts and
// photographs. What is painted on them is written here, page beside page.
package pdf

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"net/url"
	"strconv"
	"strings"
	"time"
	"unicode/utf16"

	"github.com/go-pdf/fpdf"

	"sheaf/generator/draw"
	"sheaf/generator/layout"
	"sheaf/generator/theme"
)

// A Painting is pages as they are painted. They are painted once for the booklet and for
// the sheets that are folded.
type Painting struct {
	pages  *layout.Pages // without what is painted
	fixed  [][]layout.Item
	theme  *theme.Theme
	plates *Plates

	done     chan struct{} // closed when there is what follows
	contents []content
	shown    census
	fault    error
}

// Paint begins to paint pages, which are its own from now on. They lose their items as
// they are painted: with thousands of them there is no room for both. Drawings that
// other documents show too come from plates.
func Paint(pages *layout.Pages, t *theme.Theme, plates *Plates) *Painting {
	p := &Painting{pages: pages, fixed: fixtures(pages), theme: t, plates: plates, done: make(chan struct{})}
	go func() {
		defer close(p.done)
		p.contents, p.shown, p.fault = paint(pages, t, plates)
	}()
	return p
}

// File is the pages as a document; stamp is the date the file bears. It is in parts that
// follow one another, which nobody may change.
func (p *Painting) File(stamp time.Time) ([][]byte, error) {
	in, err := bind(p.pages, p.fixed, stamp)
	<-p.done
	if err := errors.Join(err, p.fault); err != nil {
		return nil, err
	}
	return p.whole(in, p.contents, nil)
}

// Folded is [Painting.File] of the pages on sheets, as [layout.Fold] lays them.
func (p *Painting) Folded(sheets *layout.Pages, stamp time.Time) ([][]byte, error) {
	in, err := bind(sheets, fixtures(sheets), stamp)
	<-p.done
	if err := errors.Join(err, p.fault); err != nil {
		return nil, err
	}
	var contents []content
	for _, s := range sheets.Pages {
		var w writer
		for _, it := range s.Items {
			if leaf, ok := it.(layout.Leaf); ok {
				foot := leaf.Y + p.pages.Pages[leaf.Page-1].H
				w.str("q\n1 0 0 1 ")
				w.number(leaf.X * theme.PointsPerMM)
				w.number((s.H - foot) * theme.PointsPerMM)
				w.str("cm\n/" + leafName(leaf.Page) + " Do\nQ\n")
			}
		}
		contents = append(contents, content{plain: w.buf})
	}
	return p.whole(in, contents, p.contents)
}

// whole gives the document that fpdf wrote with all that it lacks.
func (p *Painting) whole(in []byte, pages, leaves []content) (out [][]byte, err error) {
	faces := map[draw.Face][]object{}
	for role, letters := range p.shown {
		if faces[role], err = p.plates.embed(p.theme.Face(role), letters); err != nil {
			return nil, fmt.Errorf("pdf: the typeface %s: %w", p.theme.Face(role).Name, err)
		}
	}
	if out, err = finish(in, pages, leaves, faces, p.plates); err != nil {
		return nil, fmt.Errorf("pdf: what fpdf wrote: %w", err)
	}
	return out, nil
}

// bind has fpdf write a document of pages without what is painted on them.
func bind(pages *layout.Pages, fixed [][]layout.Item, stamp time.Time) (out []byte, err error) {
	if len(pages.Pages) == 0 {
		return nil, fmt.Errorf("pdf: no pages")
	}
	// fpdf v0.9.0 panics on what it cannot write, which must not take the program
	// down.
	defer func() {
		if r := recover(); r != nil {
			out, err = nil, fmt.Errorf("pdf: %v", r)
		}
	}()
	p := &binder{doc: fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: pages.Pages[0].W, Ht: pages.Pages[0].H}}), links: map[string]int{}, widths: map[int]bool{}}
	p.doc.SetMargins(0, 0, 0)
	p.doc.SetAutoPageBreak(false, 0)
	p.doc.SetCompression(false) // finish does it
	p.doc.SetProducer("Sheaf", true)
	p.doc.SetTitle(textString(pages.Title), false)
	p.doc.SetAuthor(textString(pages.Author), false)
	p.doc.SetSubject(textString(pages.Subject), false)
	p.doc.SetLang(strings.NewReplacer(`\`, `\\`, "(", `\(`, ")", `\)`, "\r", `\r`).Replace(pages.Lang)) // fpdf does not escape it
	// Both dates and the sorted catalogue make equal input give equal bytes.
	p.doc.SetCreationDate(stamp.UTC())
	p.doc.SetModificationDate(stamp.UTC())
	p.doc.SetCatalogSort(true)
	p.anchors(fixed)
	marks := pages.Outline
	for i := range pages.Pages {
		p.doc.AddPageFormat("P", fpdf.SizeType{Wd: pages.Pages[i].W, Ht: pages.Pages[i].H})
		p.doc.RawWriteStr(ours)
		for len(marks) > 0 && marks[0].Page == i+1 {
			p.doc.Bookmark(textString(marks[0].Title), marks[0].Level, marks[0].Y)
			marks = marks[1:]
		}
		for _, it := range fixed[i] {
			p.item(it)
		}
		if err := p.doc.Error(); err != nil {
			return nil, fmt.Errorf("pdf: page %d: %w", i+1, err)
		}
	}
	var buf bytes.Buffer
	if err := p.doc.Output(&buf); err != nil {
		return nil, fmt.Errorf("pdf: %w", err)
	}
	return buf.Bytes(), nil
}

// A binder puts together what surrounds the pages.
type binder struct {
	doc    *fpdf.Fpdf
	links  map[string]int // anchor → fpdf's number for it
	widths map[int]bool   // of photographs, in points
}

// fixtures gives of each page what is the binder's.
func fixtures(pages *layout.Pages) [][]layout.Item {
	out := make([][]layout.Item, len(pages.Pages))
	for i, page := range pages.Pages {
		for _, it := range page.Items {
			switch it.(type) {
			case layout.Anchor, layout.Link, layout.Image:
				out[i] = append(out[i], it)
			}
		}
	}
	return out
}

// anchors makes a link for every place that is led to.
func (p *binder) anchors(pages [][]layout.Item) {
	for i, page := range pages {
		for _, it := range page {
			if a, ok := it.(layout.Anchor); ok {
				n := p.doc.AddLink()
				p.doc.SetLink(n, max(a.Y-4, 0), i+1)
				p.links[a.ID] = n
			}
		}
	}
}

func (p *binder) item(it layout.Item) {
	switch it := it.(type) {
	case layout.Image:
		p.photo(it)
	case layout.Link:
		if n, ok := p.links[it.Target]; ok {
			p.doc.Link(it.X, it.Y, it.W, it.H, n)
		} else if to := escaped(it.URL); to != "" {
			p.doc.LinkString(it.X, it.Y, it.W, it.H, to)
		}
	}
}

// resolution of photographs in points to the inch, the usual for print.
const resolution = 300

// photo paints a photograph at 300 points to the inch. fpdf writes images in
// the order of their widths, and two of one width in any order, so each gets a
// width of its own: the next smaller that is free.
func (p *binder) photo(it layout.Image) {
	width := int(it.W / 25.4 * resolution)
	if own, _ := it.Photo.Size(); own < width {
		width = own
	}
	for p.widths[width] && width > 1 {
		width--
	}
	p.widths[width] = true
	data, _, _, err := it.Photo.JPEG(width)
	if err != nil {
		p.doc.SetError(err)
		return
	}
	name := "photo" + strconv.Itoa(width)
	options := fpdf.ImageOptions{ImageType: "JPEG"}
	p.doc.RegisterImageOptionsReader(name, options, bytes.NewReader(data))
	p.doc.ImageOptions(name, it.X, it.Y, it.W, it.H, false, options, 0, "")
}

// escaped makes an address fit to stand in a PDF string, which must be ASCII
// (ISO 32000-1, 12.6.4.7); "" for what is no address. Parsing escapes the path
// but leaves spaces and letters in a query or a mail address as they are.
func escaped(s string) string {
	u, err := url.Parse(s)
	if err != nil {
		return ""
	}
	var out strings.Builder
	for _, c := range []byte(u.String()) {
		if c <= ' ' || c > '~' || c == '(' || c == ')' || c == '\\' {
			fmt.Fprintf(&out, "%%%02X", c)
		} else {
			out.WriteByte(c)
		}
	}
	return out.String()
}

// textString is a text in UTF-16 after its mark (PDF 32000-1, 7.9.2.2). fpdf would
// make it so itself, but panics on characters beyond the Basic Multilingual Plane.
func textString(s string) string {
	if s == "" {
		return ""
	}
	out := []byte{0xfe, 0xff}
	for _, unit := range utf16.Encode([]rune(s)) {
		out = binary.BigEndian.AppendUint16(out, unit)
	}
	return string(out)
}
