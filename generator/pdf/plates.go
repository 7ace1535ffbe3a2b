package pdf

import (
	"bytes"
	"math"
	"slices"
	"strconv"
	"sync"

	"github.com/klauspost/compress/zlib"

	"sheaf/generator/draw"
	"sheaf/generator/theme"
)

// Plates keeps what the booklet, its folded form and large print have in common:
// drawings as the operators that paint them, the large ones compressed and ready to
// stand in a document as form XObjects (PDF 32000-1, 8.10), and typefaces cut down
// to the letters that are shown. Each is made once for all. It is safe for use by
// several documents at once.
type Plates struct {
	made    draw.Memo[drawing, []step]
	faces   draw.Memo[cut, embedding]
	packers sync.Pool
}

// drawing tells a picture by its items, which nobody changes.
type drawing struct {
	first *draw.Item
	n     int
}

// drawingOf tells which drawing it is. A rule or a strip of the year is none: it stands
// in one place of one document.
func drawingOf(items []draw.Item) (key drawing, ok bool) {
	if len(items) == 0 {
		return drawing{}, false
	}
	sketch, ok := items[0].(*draw.Sketch)
	return drawing{&items[0], len(items)}, ok && !sketch.Once
}

// A step is a run of shapes or one label.
type step struct {
	ops    []byte // in points, from the drawing's top left corner
	form   *form  // the same as an object of its own; nil where that does not pay
	alphas []int  // hundredths of opacity that it needs
	label  *draw.Label
}

// A form is a run of shapes, compressed.
type form struct {
	packed []byte
	box    [4]float64 // left, bottom, right, top
	alphas []int
}

// worth is from how many bytes of operators on a run of shapes is an object of
// its own: marks and bars of charts stay in their pages.
const worth = 2000

// Turn begins a build: what the build before did not ask for is forgotten.
func (s *Plates) Turn() {
	s.made.Turn()
	s.faces.Turn()
}

// of gives the steps of a drawing.
func (s *Plates) of(items []draw.Item) []step {
	key, ok := drawingOf(items)
	if !ok {
		return s.make(items, false)
	}
	return s.made.Of(key, func() []step { return s.make(items, true) })
}

// make paints a picture; with forms for what is large.
func (s *Plates) make(items []draw.Item, forms bool) []step {
	var steps []step
	flat := draw.Picture{Items: items}.Placed()
	for len(flat) > 0 {
		if l := flat[0].Label; l != nil {
			steps = append(steps, step{label: l})
			flat = flat[1:]
			continue
		}
		n := slices.IndexFunc(flat, func(q draw.Painted) bool { return q.Label != nil })
		if n < 0 {
			n = len(flat)
		}
		room := 0
		for _, q := range flat[:n] {
			room += 60 + 14*len(q.Shape.Path.Points)
		}
		w := writer{coarse: forms && room >= worth, buf: make([]byte, 0, room), box: [4]float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}}
		for run := flat[:n]; len(run) > 0; {
			many := 1
			for many < len(run) && sameClips(run[0].Clips, run[many].Clips) {
				many++
			}
			w.clipped(run[:many])
			run = run[many:]
		}
		flat = flat[n:]
		made := step{ops: w.buf, alphas: w.alphas}
		if forms && len(w.buf) >= worth {
			made.form = &form{packed: s.pack(w.buf), box: w.box, alphas: w.alphas}
			made.ops = nil
		}
		steps = append(steps, made)
	}
	return steps
}

func (s *Plates) pack(ops []byte) []byte {
	p, ok := s.packers.Get().(*packer)
	if !ok {
		z, _ := zlib.NewWriterLevel(nil, zlib.BestSpeed) // the level is a valid one
		p = &packer{z: z}
	}
	defer s.packers.Put(p)
	p.out.Reset()
	p.z.Reset(&p.out)
	p.z.Write(ops) // a buffer takes all
	p.z.Close()
	return bytes.Clone(p.out.Bytes())
}

// A packer is a compressor, which takes half a megabyte and more, and its room.
type packer struct {
	z   *zlib.Writer
	out bytes.Buffer
}

// writer writes the operators of shapes (PDF 32000-1, 8.4 and 8.5). What is set
// already is not set again.
type writer struct {
	buf    []byte
	coarse bool // points of paths are written to a tenth of their unit
	box    [4]float64
	alphas []int

	settings
}

// settings are the graphics state in force, which closing a clip takes back.
type settings struct {
	fill, ink *draw.Color
	pen       draw.Stroke
	penSet    bool
	alpha     int
}

// clipped writes neighbours that lie in the same clips, which open once for all.
func (w *writer) clipped(run []draw.Painted) {
	before := w.settings
	for _, clip := range run[0].Clips {
		w.str("q\n")
		w.path(clip, draw.Identity())
		w.str("W n\n")
	}
	for _, q := range run {
		w.shape(q)
	}
	for range run[0].Clips {
		w.str("Q\n")
		w.settings = before
	}
}

func sameClips(a, b []draw.Path) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}

func (w *writer) shape(q draw.Painted) {
	s := q.Shape
	if s.Fill == nil && s.Stroke == nil {
		return
	}
	w.opacity(s.Opacity)
	paint := byte('n')
	if s.Fill != nil {
		if w.fill == nil || *w.fill != *s.Fill {
			w.fill = s.Fill
			w.color(*s.Fill, "rg\n")
		}
		paint = 'f'
	}
	if k := s.Stroke; k != nil {
		w.stroke(k)
		if paint = 'S'; s.Fill != nil {
			paint = 'B'
		}
	}
	w.path(s.Path, q.M)
	w.bounds(s, q.M)
	w.buf = append(w.buf, paint)
	if s.EvenOdd && s.Fill != nil {
		w.buf = append(w.buf, '*')
	}
	w.buf = append(w.buf, '\n')
}

func (w *writer) str(s string) { w.buf = append(w.buf, s...) }

// opacity is set through a graphics state named by its hundredths.
func (w *writer) opacity(o float64) {
	a := 100
	if o > 0 && o < 1 {
		a = int(o*100 + 0.5)
	}
	if a == w.alpha || w.alpha == 0 && a == 100 {
		return
	}
	w.alpha = a
	if !slices.Contains(w.alphas, a) {
		w.alphas = append(w.alphas, a)
	}
	w.str("/" + alphaName(a) + " gs\n")
}

func alphaName(hundredths int) string { return "a" + strconv.Itoa(hundredths) }

func (w *writer) stroke(k *draw.Stroke) {
	if w.ink == nil || *w.ink != k.Color {
		w.ink = &k.Color
		w.color(k.Color, "RG\n")
	}
	if !w.penSet || w.pen.Width != k.Width {
		w.number(k.Width * theme.PointsPerMM)
		w.str("w\n")
	}
	if !w.penSet || w.pen.Cap != k.Cap {
		w.str([...]string{draw.ButtCap: "0 J\n", draw.RoundCap: "1 J\n"}[k.Cap])
	}
	if !w.penSet || w.pen.Join != k.Join {
		w.str([...]string{draw.MiterJoin: "0 j\n", draw.RoundJoin: "1 j\n"}[k.Join])
	}
	if !w.penSet || !slices.Equal(w.pen.Dash, k.Dash) {
		w.str("[")
		for _, d := range k.Dash {
			w.number(d * theme.PointsPerMM)
		}
		w.str("] 0 d\n")
	}
	w.pen, w.penSet = *k, true
}

// number writes hundredths of a point, finer than any press, and a space.
func (w *writer) number(points float64) { w.hundredths(draw.Hundredths(points)) }

func (w *writer) hundredths(v int) {
	w.buf = append(draw.AppendHundredths(w.buf, v, false), ' ')
}

func (w *writer) color(c draw.Color, operator string) {
	for _, v := range [3]uint8{c.R, c.G, c.B} {
		w.buf = append(strconv.AppendFloat(w.buf, math.Round(float64(v)/255*1000)/1000, 'f', -1, 64), ' ')
	}
	w.str(operator)
}

func (w *writer) path(path draw.Path, m draw.Matrix) {
	pts := path.Points
	// A large drawing is no less sharp with tenths of a point, which are finer than
	// a dot of a press of 600 to the inch, and shorter by a fifth.
	unit := 1.0
	if w.coarse {
		unit = 10
	}
	point := func() {
		p := m.Apply(pts[0])
		w.hundredths(draw.Hundredths(p.X*theme.PointsPerMM/unit) * int(unit))
		w.hundredths(draw.Hundredths(-p.Y*theme.PointsPerMM/unit) * int(unit)) // PDF counts upwards
		pts = pts[1:]
	}
	for _, v := range path.Verbs {
		switch v {
		case draw.Move:
			point()
			w.str("m\n")
		case draw.Line:
			point()
			w.str("l\n")
		case draw.Cubic:
			point()
			point()
			point()
			w.str("c\n")
		case draw.Close:
			w.str("h\n")
		}
	}
}

// bounds widens the box by a shape: by its points, which no curve passes, and
// the width of its line, which a mitre may pass by ten times (8.4.3.5).
func (w *writer) bounds(s *draw.Shape, m draw.Matrix) {
	air := 0.1
	if s.Stroke != nil {
		air += s.Stroke.Width / 2 * 10
	}
	for _, p := range s.Path.Points {
		p = m.Apply(p)
		w.box[0], w.box[1] = min(w.box[0], p.X-air), min(w.box[1], -p.Y-air)
		w.box[2], w.box[3] = max(w.box[2], p.X+air), max(w.box[3], -p.Y+air)
	}
}

// unwrapped takes off a picture the groups that only scale and move it: a drawing
// is the same one in every size.
func unwrapped(items []draw.Item) (inner []draw.Item, m draw.Matrix) {
	m = draw.Identity()
	for len(items) == 1 {
		g, ok := items[0].(draw.Group)
		if !ok || g.Clip != nil || !g.M.Even() {
			break
		}
		items, m = g.Items, g.M.Then(m)
	}
	return items, m
}
