package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"sheaf/generator/draw"
	"sheaf/generator/theme"
)

// fpdf writes pages without what stands on them. Here they get it, all else that
// is plain is compressed with one compressor, where fpdf makes a new one of 1.2 MB
// each time, the drawings and the faces are added as objects of their own, and the
// table of objects is written anew.

// ours ends what fpdf writes at the head of a page's content: a comment.
const ours = "%sheaf"

var (
	objectHead = regexp.MustCompile(`^(\d+) 0 obj\n`)
	lengthOf   = regexp.MustCompile(`/Length (\d+)\b`)
	// sizeOf is the entry of the trailer that counts the objects.
	sizeOf = regexp.MustCompile(`/Size \d+`)
	// reference is to another object.
	reference = regexp.MustCompile(`(\d+) 0 R`)
)

// resources is the number of the object that fpdf keeps for what all pages may
// use.
const resources = 2

// An object is a part of a PDF file (PDF 32000-1, 7.3.10).
type object struct {
	number int
	dict   []byte // all that stands before the stream or, where there is none, at all
	stream []byte
	coded  bool // the stream is compressed, or a photograph
}

// pack compresses a stream that is plain.
func (o *object) pack(with *Plates) {
	if o.stream != nil && !o.coded {
		o.packed(with.pack(o.stream))
	}
}

// packed takes a stream that is compressed for the object's own, of which nothing
// else is told than its length.
func (o *object) packed(stream []byte) {
	o.dict = fmt.Appendf(nil, "<</Filter /FlateDecode /Length %d>>\n", len(stream))
	o.stream, o.coded = stream, true
}

// An annex is what a document gets after its last object, and what pages call it by.
type annex struct {
	last    int // of the document's own objects
	objects []object
	names
}

// next is the number of the object that is added next.
func (a *annex) next() int { return a.last + len(a.objects) + 1 }

// form adds what is painted within a box in millimetres, and uses some resources.
func (a *annex) form(name string, box [4]float64, uses string, packed []byte) {
	for i := range box {
		box[i] *= theme.PointsPerMM
	}
	a.forms = append(a.forms, fmt.Sprintf("/%s %d 0 R", name, a.next()))
	a.objects = append(a.objects, object{
		number: a.next(),
		dict: fmt.Appendf(nil, "<</Type /XObject /Subtype /Form /BBox [%.2f %.2f %.2f %.2f ] /Resources %s /Filter /FlateDecode /Length %d>>\n",
			box[0], box[1], box[2], box[3], uses, len(packed)),
		stream: packed, coded: true,
	})
}

// face adds a typeface, whose objects have the numbers they have in a document of
// their own. They are other documents' as well and are left alone.
func (a *annex) face(role draw.Face, font []object) {
	a.faces = append(a.faces, fmt.Sprintf("/%s %d 0 R", fontName(role), a.next()))
	by := a.next() - font[0].number
	for _, o := range font {
		o.number += by
		o.dict = reference.ReplaceAllFunc(o.dict, func(ref []byte) []byte {
			n, _ := strconv.Atoi(string(reference.FindSubmatch(ref)[1]))
			return fmt.Appendf(nil, "%d 0 R", n+by)
		})
		a.objects = append(a.objects, o)
	}
}

// finish gives the same document with its pages' contents, and with the leaves, the
// forms, the faces and the graphics states of some opacity that they name.
func finish(in []byte, pages, leaves []content, faces map[draw.Face][]object, plates *Plates) ([][]byte, error) {
	doc, err := takeApart(in)
	if err != nil {
		return nil, err
	}
	forms, alphas := gathered(slices.Concat(pages, leaves))
	added := annex{last: len(doc.objects), names: names{alphas: alphas}}
	for _, f := range forms {
		added.form(f.name.String(), f.box, "<<"+states(f.alphas)+">>", f.packed)
	}
	for i, leaf := range leaves {
		packed := leaf.packed
		if packed == nil {
			packed = plates.pack(leaf.plain)
		}
		added.form(leafName(i+1), [4]float64{0, 0, leaf.w, leaf.h}, fmt.Sprintf("%d 0 R", resources), packed)
	}
	for _, role := range roles() {
		if font := faces[role]; font != nil {
			added.face(role, font)
		}
	}
	var out parts
	moved := make([]int, added.next()-1)
	out.add(doc.head)
	for _, o := range slices.Concat(doc.objects, added.objects) {
		switch {
		case len(pages) > 0 && o.stream != nil: // they come first and in their order
			_, photos, page := bytes.Cut(o.stream, []byte(ours+"\n"))
			if !page {
				return nil, fmt.Errorf("object %d is not a page", o.number)
			}
			packed := pages[0].packed
			if packed == nil {
				packed = plates.pack(slices.Concat(photos, pages[0].plain))
			}
			o.packed(packed)
			pages = pages[1:]
		case o.number == resources:
			if o.dict, err = added.in(o.dict); err != nil {
				return nil, err
			}
		default:
			o.pack(plates)
		}
		moved[o.number-1] = out.n
		out.addf("%d 0 obj\n", o.number)
		out.add(o.dict)
		if o.stream != nil {
			out.add([]byte("stream\n"))
			out.add(o.stream)
			out.add([]byte("\nendstream\n"))
		}
		out.add([]byte("endobj\n"))
	}
	if len(pages) > 0 {
		return nil, fmt.Errorf("%d pages have no object", len(pages))
	}
	start := out.n
	xref := fmt.Appendf(nil, "xref\n0 %d\n0000000000 65535 f \n", len(moved)+1)
	for _, at := range moved {
		xref = fmt.Appendf(xref, "%010d 00000 n \n", at)
	}
	out.add(xref)
	out.add(sizeOf.ReplaceAll(doc.trailer, fmt.Appendf(nil, "/Size %d", len(moved)+1)))
	out.addf("startxref\n%d\n%%%%EOF\n", start)
	return out.all, nil
}

// parts are a file in the making, of n bytes so far.
type parts struct {
	all [][]byte
	n   int
}

func (p *parts) add(b []byte) {
	p.all = append(p.all, b)
	p.n += len(b)
}

func (p *parts) addf(format string, args ...any) { p.add(fmt.Appendf(nil, format, args...)) }

// gathered gives the forms that pages show, each once, and the opacities.
func gathered(pages []content) (forms []named, alphas []int) {
	for _, p := range pages {
		forms = append(forms, p.forms...)
		alphas = append(alphas, p.alphas...)
	}
	slices.SortFunc(forms, func(a, b named) int { return a.name.compare(b.name) })
	forms = slices.CompactFunc(forms, func(a, b named) bool { return a.name == b.name })
	slices.Sort(alphas)
	return forms, slices.Compact(alphas)
}

// names are what pages call things by.
type names struct {
	faces, forms []string
	alphas       []int
}

// in adds names to those of what all pages may use.
func (n names) in(dict []byte) ([]byte, error) {
	for _, list := range []struct {
		head    string
		entries []string
	}{{"/Font <<\n", n.faces}, {"/XObject <<\n", n.forms}} {
		before, after, ok := bytes.Cut(dict, []byte(list.head))
		if !ok {
			return nil, fmt.Errorf("what pages may use has no place for %s", strings.Fields(list.head)[0])
		}
		var to bytes.Buffer
		to.Write(before)
		to.WriteString(list.head)
		for _, e := range list.entries {
			to.WriteString(e + "\n")
		}
		to.Write(after)
		dict = to.Bytes()
	}
	if len(n.alphas) > 0 {
		dict = bytes.Replace(dict, []byte("/Font <<\n"), []byte(states(n.alphas)+"\n/Font <<\n"), 1)
	}
	return dict, nil
}

// states are the graphics states of some opacity, as an entry of resources;
// 100 takes it back.
func states(alphas []int) string {
	if len(alphas) == 0 {
		return ""
	}
	var b strings.Builder
	b.WriteString("/ExtGState <<")
	for _, a := range alphas {
		fmt.Fprintf(&b, "/%s <</ca %.2f /CA %.2f>> ", alphaName(a), float64(a)/100, float64(a)/100)
	}
	b.WriteString(">>")
	return b.String()
}

// A document is a PDF file of fpdf's, taken apart.
type document struct {
	head    []byte
	objects []object // in the order of the file: numbers 1 and 2 are written late
	trailer []byte
}

func takeApart(in []byte) (document, error) {
	offsets, table, err := table(in)
	if err != nil {
		return document{}, err
	}
	slices.Sort(offsets)
	out := document{head: in[:offsets[0]], objects: make([]object, len(offsets))}
	for i, at := range offsets {
		end := table
		if i+1 < len(offsets) {
			end = offsets[i+1]
		}
		if out.objects[i], err = readObject(in[at:end]); err != nil {
			return document{}, err
		}
	}
	trailer := in[table:]
	from, to := bytes.Index(trailer, []byte("trailer")), bytes.LastIndex(trailer, []byte("startxref"))
	if from < 0 || to < from {
		return document{}, errors.New("no trailer was found")
	}
	out.trailer = trailer[from:to]
	return out, nil
}

func readObject(text []byte) (object, error) {
	m := objectHead.FindSubmatch(text)
	body, whole := bytes.CutSuffix(text, []byte("endobj\n"))
	if m == nil || !whole {
		return object{}, fmt.Errorf("an object is not whole: %.20q", text)
	}
	var out object
	out.number, _ = strconv.Atoi(string(m[1]))
	dict, bare, stream, err := beforeStream(body[len(m[0]):])
	if err != nil {
		return object{}, fmt.Errorf("object %d: %w", out.number, err)
	}
	out.dict = dict
	if stream == nil {
		return out, nil
	}
	m = lengthOf.FindSubmatch(bare)
	if m == nil {
		return object{}, fmt.Errorf("object %d does not say how long it is", out.number)
	}
	length, err := strconv.Atoi(string(m[1]))
	if err != nil || length > len(stream) || !bytes.HasPrefix(stream[length:], []byte("\nendstream\n")) {
		return object{}, fmt.Errorf("object %d is not as long as it says", out.number)
	}
	out.stream, out.coded = stream[:length], bytes.Contains(bare, []byte("/Filter"))
	return out, nil
}

// beforeStream reads an object up to its stream, which is nil where there is none.
// In strings stands whatever people wrote: the bytes of a title may spell "stream", the
// name of a filter or a reference. dict has them written so that they spell nothing;
// in bare there are none.
func beforeStream(body []byte) (dict, bare, stream []byte, err error) {
	dict, bare = make([]byte, 0, min(len(body), 1<<10)), make([]byte, 0, min(len(body), 1<<10))
	for i := 0; i < len(body); i++ {
		switch c := body[i]; {
		case c == '(':
			text, n := literal(body[i:])
			if n == 0 {
				return nil, nil, nil, errors.New("a string has no end")
			}
			dict, bare = appendString(dict, text, body[i:i+n]), append(bare, "()"...)
			i += n - 1
			continue
		case c == '\n' && bytes.HasPrefix(body[i:], []byte("\nstream\n")):
			return append(dict, c), bare, body[i+len("\nstream\n"):], nil
		default:
			dict, bare = append(dict, c), append(bare, c)
		}
	}
	return dict, bare, nil, nil
}

// literal reads a string in brackets at the beginning of a text, and how many bytes
// it takes there (PDF 32000-1, 7.3.4.2); 0 for one that does not end.
func literal(in []byte) (text []byte, n int) {
	depth := 0
	for i := 0; i < len(in); i++ {
		c := in[i]
		switch c {
		case '(':
			depth++
		case ')':
			depth--
		case '\\':
			if i++; i == len(in) {
				return nil, 0
			}
			if c = in[i]; c == 'r' { // fpdf escapes no other character by a letter
				c = '\r'
			}
		}
		if depth == 0 {
			return text, i + 1
		}
		if i > 0 { // without the outer bracket
			text = append(text, c)
		}
	}
	return nil, 0
}

// appendString adds a string to a dictionary: as it was written if it is plain
// ASCII, such as an address or a date, else by its bytes in hexadecimal.
func appendString(dict, text, written []byte) []byte {
	if bytes.ContainsFunc(text, func(r rune) bool { return r <= ' ' || r > '~' }) {
		return fmt.Appendf(dict, "<%X>", text)
	}
	return append(dict, written...)
}

// row is the length of a line of the table of objects (PDF 32000-1, 7.5.4).
const row = 20

// table reads the table at the end of a document: where its objects begin, and
// where the table does.
func table(in []byte) (offsets []int, at int, err error) {
	i := bytes.LastIndex(in, []byte("startxref\n"))
	if i < 0 {
		return nil, 0, errors.New("no startxref was found")
	}
	if _, err := fmt.Sscanf(string(in[i:]), "startxref\n%d", &at); err != nil || at > i {
		return nil, 0, errors.New("startxref leads nowhere")
	}
	var n int
	if _, err := fmt.Sscanf(string(in[at:min(at+40, i)]), "xref\n0 %d\n", &n); err != nil {
		return nil, 0, fmt.Errorf("the table of objects cannot be read: %w", err)
	}
	// The first row is of the free object 0.
	first := bytes.Index(in[at:i], []byte("65535 f"))
	if first < 0 || n < 2 {
		return nil, 0, errors.New("the table of objects is empty")
	}
	rows := in[at+first+len("65535 f \n") : i]
	if len(rows) < row*(n-1) {
		return nil, 0, errors.New("the table of objects is cut off")
	}
	for k := range n - 1 {
		from, err := strconv.Atoi(string(rows[k*row : k*row+10]))
		if err != nil || from <= 0 || from >= at {
			return nil, 0, fmt.Errorf("object %d is not where the table says", k+1)
		}
		offsets = append(offsets, from)
	}
	return offsets, at, nil
}
