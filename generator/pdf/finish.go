package pdf

import (
	"bytes"
	"cmp"
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
// each time, the drawings are added as objects of their own, and the table of
// objects is written anew.

// ours ends what fpdf writes at the head of a page's content: a comment.
const ours = "%sheaf"

var (
	// plain is the head of an object whose content fpdf has not compressed.
	plain = regexp.MustCompile(`^(\d+ 0 obj\n)<</Length (\d+)>>\nstream\n`)
	// sizeOf is the entry of the trailer that counts the objects.
	sizeOf = regexp.MustCompile(`/Size \d+`)
	// fontOf is a face among what all pages may use.
	fontOf = regexp.MustCompile(`/F([0-9a-f]{40}) (\d+) 0 R`)
)

// resources is the number of the object that fpdf keeps for what all pages may
// use.
const resources = 2

// finished gives the same document with its pages' contents, and with the forms,
// the faces and the graphics states of some opacity that they name.
func finished(in []byte, pages []content, faces []draw.Face, plates *Plates) ([][]byte, error) {
	offsets, table, err := objects(in)
	if err != nil {
		return nil, fmt.Errorf("compressing: %w", err)
	}
	// Objects by their place in the file: numbers 1 and 2 are written late.
	order := make([]int, len(offsets))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(offsets[a], offsets[b]) })
	forms, alphas := gathered(pages)
	var out parts
	moved := make([]int, len(offsets), len(offsets)+len(forms))
	out.add(in[:offsets[order[0]]])
	for i, n := range order {
		end := table
		if i+1 < len(order) {
			end = offsets[order[i+1]]
		}
		object := in[offsets[n]:end]
		moved[n] = out.n
		if n+1 == resources {
			if object, err = withNames(object, len(offsets), forms, alphas, faces); err != nil {
				return nil, err
			}
		}
		m := plain.FindSubmatchIndex(object)
		if m == nil {
			out.add(object)
			continue
		}
		length, err := strconv.Atoi(string(object[m[4]:m[5]]))
		if err != nil || m[1]+length > len(object) {
			return nil, fmt.Errorf("compressing: object %d is shorter than it says", n+1)
		}
		// The pages come first and in their order.
		text := object[m[1] : m[1]+length]
		var packed []byte
		if len(pages) > 0 {
			_, photos, ok := bytes.Cut(text, []byte(ours+"\n"))
			if !ok {
				return nil, fmt.Errorf("compressing: object %d is not a page", n+1)
			}
			if packed = pages[0].packed; packed == nil {
				packed = plates.pack(slices.Concat(photos, pages[0].plain))
			}
			pages = pages[1:]
		} else {
			packed = plates.pack(text)
		}
		out.addf("%s<</Filter /FlateDecode /Length %d>>\nstream\n", object[m[2]:m[3]], len(packed))
		out.add(packed)
		out.add(object[m[1]+length:])
	}
	for i, f := range forms {
		moved = append(moved, out.n)
		b := f.box
		out.addf("%d 0 obj\n<</Type /XObject /Subtype /Form /BBox [%.2f %.2f %.2f %.2f ] /Resources <<%s>> /Filter /FlateDecode /Length %d>>\nstream\n",
			len(offsets)+i+1, b[0]*theme.PointsPerMM, b[1]*theme.PointsPerMM, b[2]*theme.PointsPerMM, b[3]*theme.PointsPerMM, states(f.alphas), len(f.packed))
		out.add(f.packed)
		out.add([]byte("\nendstream\nendobj\n"))
	}
	start := out.n
	var xref bytes.Buffer
	fmt.Fprintf(&xref, "xref\n0 %d\n0000000000 65535 f \n", len(moved)+1)
	for _, at := range moved {
		fmt.Fprintf(&xref, "%010d 00000 n \n", at)
	}
	out.add(xref.Bytes())
	trailer := in[table:]
	from, to := bytes.Index(trailer, []byte("trailer")), bytes.LastIndex(trailer, []byte("startxref"))
	if from < 0 || to < from {
		return nil, fmt.Errorf("compressing: no trailer was found")
	}
	out.add(sizeOf.ReplaceAll(trailer[from:to], fmt.Appendf(nil, "/Size %d", len(moved)+1)))
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

// withNames adds forms to the resources of all pages, the objects that follow
// the n of fpdf, and gives the faces the names that pages know them by.
func withNames(object []byte, n int, forms []named, alphas []int, faces []draw.Face) ([]byte, error) {
	// fpdf numbers the faces in the order of their families' names.
	var numbers []int
	for _, m := range fontOf.FindAllSubmatch(object, -1) {
		number, _ := strconv.Atoi(string(m[2]))
		numbers = append(numbers, number)
	}
	slices.Sort(numbers)
	if len(numbers) != len(faces) {
		return nil, fmt.Errorf("compressing: %d faces, and %d are used", len(numbers), len(faces))
	}
	object = fontOf.ReplaceAllFunc(object, func(entry []byte) []byte {
		number, _ := strconv.Atoi(string(fontOf.FindSubmatch(entry)[2]))
		return fmt.Appendf(nil, "/%s %d 0 R", fontName(faces[slices.Index(numbers, number)]), number)
	})
	const head = "/XObject <<\n"
	i := bytes.Index(object, []byte(head))
	if i < 0 {
		return nil, errors.New("compressing: the pages' resources have no place for drawings")
	}
	out := bytes.NewBuffer(nil)
	out.Write(object[:i])
	if len(alphas) > 0 {
		out.WriteString(states(alphas) + "\n")
	}
	out.WriteString(head)
	for k, f := range forms {
		fmt.Fprintf(out, "/%s %d 0 R\n", f.name, n+k+1)
	}
	out.Write(object[i+len(head):])
	return out.Bytes(), nil
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

// row is the length of a line of the table of objects (PDF 32000-1, 7.5.4).
const row = 20

// objects reads the table at the end of a document: where each object begins,
// by its number less one, and where the table does.
func objects(in []byte) (offsets []int, table int, err error) {
	i := bytes.LastIndex(in, []byte("startxref\n"))
	if i < 0 {
		return nil, 0, errors.New("no startxref was found")
	}
	if _, err := fmt.Sscanf(string(in[i:]), "startxref\n%d", &table); err != nil || table > i {
		return nil, 0, errors.New("startxref leads nowhere")
	}
	var n int
	if _, err := fmt.Sscanf(string(in[table:min(table+40, i)]), "xref\n0 %d\n", &n); err != nil {
		return nil, 0, fmt.Errorf("the table of objects cannot be read: %w", err)
	}
	// The first row is of the free object 0.
	first := bytes.Index(in[table:i], []byte("65535 f"))
	if first < 0 || n < 2 {
		return nil, 0, errors.New("the table of objects is empty")
	}
	rows := in[table+first+len("65535 f \n") : i]
	if len(rows) < row*(n-1) {
		return nil, 0, errors.New("the table of objects is cut off")
	}
	for k := range n - 1 {
		at, err := strconv.Atoi(string(rows[k*row : k*row+10]))
		if err != nil || at <= 0 || at >= table {
			return nil, 0, fmt.Errorf("object %d is not where the table says", k+1)
		}
		offsets = append(offsets, at)
	}
	return offsets, table, nil
}
