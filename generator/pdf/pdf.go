// Package pdf writes laid-out pages as a PDF. It decides nothing: each item is
// painted where layout put it. It is the only importer of a PDF library, which
// serves as a writer and not as a text engine; the fonts' own widths, line
// breaks and page numbers all come from layout.
package pdf

import (
	"bytes"
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/go-pdf/fpdf"

	"sheaf/generator/draw"
	"sheaf/generator/layout"
	"sheaf/generator/theme"
)

// Render writes the pages; stamp is the date the file bears. Drawings that other
// documents show too come from plates.
func Render(pages *layout.Pages, t *theme.Theme, plates *Plates, stamp time.Time) (out []byte, err error) {
	if len(pages.Pages) == 0 {
		return nil, fmt.Errorf("pdf: no pages")
	}
	// fpdf v0.9.0 panics on characters beyond U+FFFF. Layout lets none
	// through; should one slip by, it must not take the program down.
	defer func() {
		if r := recover(); r != nil {
			out, err = nil, fmt.Errorf("pdf: %v", r)
		}
	}()
	first := pages.Pages[0]
	p := &painter{doc: fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: first.W, Ht: first.H}}), theme: t, plates: plates,
		links: map[string]int{}, widths: map[int]bool{}, numbers: map[*form]int{}}
	p.doc.SetMargins(0, 0, 0)
	p.doc.SetAutoPageBreak(false, 0)
	p.doc.SetCompression(false) // finished does it
	p.doc.SetProducer("Sheaf", true)
	p.doc.SetTitle(plane(pages.Title), true)
	p.doc.SetAuthor(plane(pages.Author), true)
	p.doc.SetSubject(plane(pages.Subject), true)
	p.doc.SetLang(pages.Lang)
	// Both dates and the sorted catalogue make equal input give equal bytes.
	p.doc.SetCreationDate(stamp.UTC())
	p.doc.SetModificationDate(stamp.UTC())
	p.doc.SetCatalogSort(true)
	for _, role := range used(pages) {
		p.doc.AddUTF8FontFromBytes(family(role), "", bytes.Clone(t.Face(role).TTF))
	}
	p.anchors(pages)
	marks := pages.Outline
	for i, page := range pages.Pages {
		p.height = page.H
		p.doc.AddPageFormat("P", fpdf.SizeType{Wd: page.W, Ht: page.H})
		// Bookmark titles are written as Unicode only while a Unicode font is set.
		p.face(draw.Body, 10)
		for len(marks) > 0 && marks[0].Page == i+1 {
			p.doc.Bookmark(plane(marks[0].Title), marks[0].Level, marks[0].Y)
			marks = marks[1:]
		}
		for _, it := range page.Items {
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
	return finished(buf.Bytes(), p.forms, p.alphas)
}

// roles lists the faces a document may embed.
func roles() []draw.Face {
	return []draw.Face{draw.Body, draw.Bold, draw.Italic, draw.SmallCaps, draw.Heading, draw.HeadingItalic}
}

// used lists the faces that pages are set in, and the body's, in which bookmarks
// are written. Each costs a document time, and room.
func used(pages *layout.Pages) []draw.Face {
	families := map[string]bool{family(draw.Body): true}
	var labels func(items []draw.Item)
	labels = func(items []draw.Item) {
		for _, it := range items {
			switch it := it.(type) {
			case draw.Label:
				families[family(it.Face)] = true
			case draw.Group:
				labels(it.Items)
			}
		}
	}
	for _, page := range pages.Pages {
		for _, it := range page.Items {
			switch it := it.(type) {
			case layout.Text:
				families[family(it.Face)] = true
			case layout.Picture:
				labels(it.Picture.Items)
			}
		}
	}
	return slices.DeleteFunc(roles(), func(f draw.Face) bool { return !families[family(f)] })
}

func family(role draw.Face) string {
	if role == draw.Caption {
		role = draw.Body
	}
	return fmt.Sprintf("face%d", role)
}

type painter struct {
	doc    *fpdf.Fpdf
	theme  *theme.Theme
	plates *Plates
	links  map[string]int // anchor → fpdf's number for it
	// height of the present page in millimetres; PDF counts from its foot
	height float64
	widths map[int]bool // of photographs, in points

	forms   []*form // that the document shows, in order of their first places
	numbers map[*form]int
	alphas  []int // hundredths of opacity that its pages need

	set struct {
		role draw.Face
		size float64
	}
}

// anchors makes a link for every place that is led to.
func (p *painter) anchors(pages *layout.Pages) {
	for i, page := range pages.Pages {
		for _, it := range page.Items {
			if a, ok := it.(layout.Anchor); ok {
				n := p.doc.AddLink()
				p.doc.SetLink(n, max(a.Y-4, 0), i+1)
				p.links[a.ID] = n
			}
		}
	}
}

func (p *painter) item(it layout.Item) {
	switch it := it.(type) {
	case layout.Text:
		p.text(it.X, it.Y, it.Face, it.Size, it.Color, it.String)
	case layout.Picture:
		p.picture(it)
	case layout.Image:
		p.photo(it)
	case layout.Link:
		if n, ok := p.links[it.Target]; ok {
			p.doc.Link(it.X, it.Y, it.W, it.H, n)
		} else if to := escaped(it.URL); to != "" {
			p.doc.LinkString(it.X, it.Y, it.W, it.H, to)
		}
	case layout.Anchor:
		// Set before the first page, so that links may lead forward.
	}
}

// resolution of photographs in points to the inch, the usual for print.
const resolution = 300

// photo paints a photograph at 300 points to the inch. fpdf writes images in
// the order of their widths, and two of one width in any order, so each gets a
// width of its own: the next smaller that is free.
func (p *painter) photo(it layout.Image) {
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

// plane keeps the characters that fpdf v0.9.0 can write in a title: those of
// the Basic Multilingual Plane. Others would come out as wrong letters.
func plane(s string) string {
	return strings.Map(func(r rune) rune {
		if r > 0xffff {
			return -1
		}
		return r
	}, s)
}

func (p *painter) face(role draw.Face, size float64) {
	if p.set.role != role || p.set.size != size {
		// fpdf itself sets the font again at the head of each page.
		p.doc.SetFont(family(role), "", size)
		p.set.role, p.set.size = role, size
	}
}

func (p *painter) text(x, y float64, role draw.Face, size float64, c draw.Color, s string) {
	p.face(role, size)
	p.doc.SetTextColor(int(c.R), int(c.G), int(c.B))
	p.doc.Text(x, y, s)
}

// picture paints a drawing: its runs of shapes in their own coordinates, moved
// and sized into place, and its labels as words of the page.
func (p *painter) picture(it layout.Picture) {
	items, m := unwrapped(it.Picture.Items)
	x, y := m.E+it.X, m.F+it.Y
	for _, s := range p.plates.of(items) {
		if l := s.label; l != nil {
			p.label(l, m.A, x, y)
			continue
		}
		w := writer{}
		w.str("q\n")
		w.buf = strconv.AppendFloat(w.buf, m.A, 'f', -1, 64)
		w.str(" 0 0 ")
		w.buf = strconv.AppendFloat(w.buf, m.A, 'f', -1, 64)
		w.str(" ")
		w.number(x * theme.PointsPerMM)
		w.number((p.height - y) * theme.PointsPerMM)
		w.str("cm\n")
		if s.form != nil {
			w.str("/" + formName(p.number(s.form)) + " Do\n")
		} else {
			w.buf = append(w.buf, s.ops...)
			for _, a := range s.alphas {
				if !slices.Contains(p.alphas, a) {
					p.alphas = append(p.alphas, a)
				}
			}
		}
		w.str("Q")
		p.doc.RawWriteStr(string(w.buf))
	}
}

// number gives a form's number in this document.
func (p *painter) number(f *form) int {
	n, ok := p.numbers[f]
	if !ok {
		n = len(p.forms)
		p.forms, p.numbers[f] = append(p.forms, f), n
	}
	return n
}

// label paints one of a drawing that is sized and lies at x, y.
func (p *painter) label(l *draw.Label, sized, x, y float64) {
	x, y = x+l.X*sized, y+l.Y*sized
	size := l.Size * sized
	w := p.theme.Face(l.Face).Width(l.Text, size)
	switch l.Anchor {
	case draw.Middle:
		x -= w / 2
	case draw.End:
		x -= w
	}
	p.text(x, y, l.Face, size, l.Color, l.Text)
}
