package pdf

import (
	"cmp"
	"errors"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"

	"sheaf/generator/draw"
	"sheaf/generator/layout"
	"sheaf/generator/theme"
)

// A content is what paints one page.
type content struct {
	w, h   float64 // of the page, in millimetres
	plain  []byte  // its operators, where a photograph of fpdf's belongs to them
	packed []byte  // or compressed
	forms  []named
	alphas []int // hundredths of opacity that it needs
}

// A named form is a drawing by what pages call it.
type named struct {
	name formName
	*form
}

// formName is a drawing's number in the document and which of its runs of shapes
// it is.
type formName struct{ drawing, step int }

func (n formName) String() string {
	return "D" + strconv.Itoa(n.drawing) + "." + strconv.Itoa(n.step)
}

func (n formName) compare(o formName) int {
	return cmp.Or(cmp.Compare(n.drawing, o.drawing), cmp.Compare(n.step, o.step))
}

// paint writes the contents of all pages, side by side, and tells which letters
// they show.
func paint(pages *layout.Pages, t *theme.Theme, plates *Plates) ([]content, census, error) {
	drawings := numbered(pages)
	out := make([]content, len(pages.Pages))
	workers := min(runtime.GOMAXPROCS(0), len(out))
	shown, faults := make([]census, workers), make([]error, workers)
	var next atomic.Int64
	var all sync.WaitGroup
	for w := range workers {
		all.Go(func() {
			p := painter{theme: t, plates: plates, drawings: drawings, shown: census{}}
			for i := int(next.Add(1)) - 1; i < len(out); i = int(next.Add(1)) - 1 {
				out[i] = p.page(pages.Pages[i])
				pages.Pages[i].Items = nil
			}
			shown[w], faults[w] = p.shown, p.fault
		})
	}
	all.Wait()
	together := census{}
	for _, c := range shown {
		together.merge(c)
	}
	return out, together, errors.Join(faults...)
}

// numbered gives the drawings of a document numbers in the order of their first
// places.
func numbered(pages *layout.Pages) map[drawing]int {
	out := map[drawing]int{}
	for _, page := range pages.Pages {
		for _, it := range page.Items {
			if pic, ok := it.(layout.Picture); ok {
				items, _ := unwrapped(pic.Picture.Items)
				key, ok := drawingOf(items)
				if _, known := out[key]; ok && !known {
					out[key] = len(out)
				}
			}
		}
	}
	return out
}

// A painter writes the operators of one page after another (PDF 32000-1, 8 and
// 9.4).
type painter struct {
	theme    *theme.Theme
	plates   *Plates
	drawings map[drawing]int // their numbers
	height   float64         // of the page in millimetres; PDF counts from its foot
	shown    census
	fault    error

	writer
	forms []named
	text  struct {
		open  bool // between BT and ET
		x, y  int  // where the last words began, in hundredths of a point
		face  draw.Face
		size  float64 // 0: none is set
		color *draw.Color
	}
}

func (p *painter) page(page layout.Page) content {
	p.height = page.H
	p.writer, p.forms = writer{buf: p.buf[:0]}, nil
	p.text.size, p.text.color = 0, nil
	photo := false
	for _, it := range page.Items {
		switch it := it.(type) {
		case layout.Text:
			p.words(it.X, it.Y, it.Face, float64(it.Size), it.Color, it.String)
		case layout.Picture:
			p.picture(it)
		case layout.Image:
			photo = true // the binder's
		}
	}
	p.close()
	out := content{w: page.W, h: page.H, forms: p.forms, alphas: p.alphas}
	if photo {
		out.plain = slices.Clone(p.buf)
	} else {
		out.packed = p.plates.pack(p.buf)
	}
	return out
}

// words sets a text on a baseline that begins at x, y.
func (p *painter) words(x, y float64, role draw.Face, size float64, c draw.Color, s string) {
	t := &p.text
	if !t.open {
		p.str("BT\n")
		t.open, t.x, t.y = true, 0, 0
	}
	if role == draw.Caption { // it has the body's face
		role = draw.Body
	}
	// Faces are embedded by their two-byte codes. Layout lets nothing through that
	// is beyond those.
	if err := p.shown.add(role, s); err != nil {
		p.fault = err
		return
	}
	if t.size != size || t.face != role {
		p.str("/" + fontName(role) + " ")
		p.number(size)
		p.str("Tf\n")
		t.face, t.size = role, size
	}
	if t.color == nil || *t.color != c {
		p.color(c, "rg\n")
		t.color = &c
	}
	// Steps between rounded places, so that rounding never adds up.
	to, up := draw.Hundredths(x*theme.PointsPerMM), draw.Hundredths((p.height-y)*theme.PointsPerMM)
	p.hundredths(to - t.x)
	p.hundredths(up - t.y)
	t.x, t.y = to, up
	p.str("Td (")
	for _, r := range s {
		for _, c := range [2]byte{byte(r >> 8), byte(r)} {
			switch c {
			case '(', ')', '\\':
				p.buf = append(p.buf, '\\', c)
			case '\r':
				p.str(`\r`)
			default:
				p.buf = append(p.buf, c)
			}
		}
	}
	p.str(") Tj\n")
}

// close ends the words, so that something else can be painted.
func (p *painter) close() {
	if p.text.open {
		p.str("ET\n")
		p.text.open = false
	}
}

// leafName is what sheets call a page of the booklet.
func leafName(page int) string { return "P" + strconv.Itoa(page) }

// fontName is what pages call a face.
func fontName(role draw.Face) string { return "F" + strconv.Itoa(int(role)) }

// picture paints a drawing: its runs of shapes in their own coordinates, moved
// and sized into place, and its labels as words of the page.
func (p *painter) picture(it layout.Picture) {
	items, m := unwrapped(it.Picture.Items)
	key, _ := drawingOf(items)
	x, y := m.E+it.X, m.F+it.Y
	for i, s := range p.plates.of(items) {
		if l := s.label; l != nil {
			p.label(l, m.A, x, y)
			continue
		}
		p.close()
		p.str("q\n")
		p.buf = strconv.AppendFloat(p.buf, m.A, 'f', -1, 64)
		p.str(" 0 0 ")
		p.buf = strconv.AppendFloat(p.buf, m.A, 'f', -1, 64)
		p.str(" ")
		p.number(x * theme.PointsPerMM)
		p.number((p.height - y) * theme.PointsPerMM)
		p.str("cm\n")
		if s.form != nil {
			name := formName{p.drawings[key], i}
			p.str("/" + name.String() + " Do\n")
			p.forms = append(p.forms, named{name, s.form})
		} else {
			p.buf = append(p.buf, s.ops...)
			for _, a := range s.alphas {
				if !slices.Contains(p.alphas, a) {
					p.alphas = append(p.alphas, a)
				}
			}
		}
		p.str("Q\n")
	}
}

// label paints one of a drawing that is sized and lies at x, y, without letters that
// its face does not have.
func (p *painter) label(l *draw.Label, sized, x, y float64) {
	x, y = x+l.X*sized, y+l.Y*sized
	size := l.Size * sized
	face := p.theme.Face(l.Face)
	text := strings.Map(func(r rune) rune {
		if !face.Has(r) {
			return -1
		}
		return r
	}, l.Text)
	w := face.Width(text, size)
	switch l.Anchor {
	case draw.Middle:
		x -= w / 2
	case draw.End:
		x -= w
	}
	p.words(x, y, l.Face, size, l.Color, text)
}
