package pdf

import (
	"bytes"
	"cmp"
	"compress/zlib"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"sheaf/generator/theme"
)

// fpdf makes a new compressor of 1.2 MB for every page, which took a fifth of
// the time and most of the memory of a booklet. So it writes pages plain, and
// they are compressed here with one compressor for all, object by object; the
// drawings are added as objects of their own, and the table of objects is
// written anew.

var (
	// plainPage is the head of a page's content as fpdf writes it.
	plainPage = regexp.MustCompile(`^(\d+ 0 obj\n)<</Length (\d+)>>\nstream\n`)
	// sizeOf is the entry of the trailer that counts the objects.
	sizeOf = regexp.MustCompile(`/Size \d+`)
)

// resources is the number of the object that fpdf keeps for what all pages may
// use.
const resources = 2

// finished gives the same document with its pages' contents compressed and with
// the forms and the graphics states of some opacity that its pages name.
func finished(in []byte, forms []*form, alphas []int) ([]byte, error) {
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
	room := len(in) / 2
	for _, f := range forms {
		room += len(f.packed) + 200
	}
	out := bytes.NewBuffer(make([]byte, 0, room))
	var packed bytes.Buffer
	z, err := zlib.NewWriterLevel(&packed, zlib.BestSpeed)
	if err != nil {
		return nil, err
	}
	moved := make([]int, len(offsets), len(offsets)+len(forms))
	out.Write(in[:offsets[order[0]]])
	for i, n := range order {
		end := table
		if i+1 < len(order) {
			end = offsets[order[i+1]]
		}
		object := in[offsets[n]:end]
		moved[n] = out.Len()
		if n+1 == resources {
			if object, err = withForms(object, len(offsets), len(forms), alphas); err != nil {
				return nil, err
			}
		}
		m := plainPage.FindSubmatchIndex(object)
		if m == nil {
			out.Write(object)
			continue
		}
		length, err := strconv.Atoi(string(object[m[4]:m[5]]))
		if err != nil || m[1]+length > len(object) {
			return nil, fmt.Errorf("compressing: object %d is shorter than it says", n+1)
		}
		packed.Reset()
		z.Reset(&packed)
		if _, err := z.Write(object[m[1] : m[1]+length]); err != nil {
			return nil, err
		}
		if err := z.Close(); err != nil {
			return nil, err
		}
		fmt.Fprintf(out, "%s<</Filter /FlateDecode /Length %d>>\nstream\n", object[m[2]:m[3]], packed.Len())
		out.Write(packed.Bytes())
		out.Write(object[m[1]+length:])
	}
	for i, f := range forms {
		moved = append(moved, out.Len())
		fmt.Fprintf(out, "%d 0 obj\n<</Type /XObject /Subtype /Form /BBox [", len(offsets)+i+1)
		for _, v := range f.box {
			fmt.Fprintf(out, "%.2f ", v*theme.PointsPerMM)
		}
		fmt.Fprintf(out, "] /Resources <<%s>> /Filter /FlateDecode /Length %d>>\nstream\n", states(f.alphas), len(f.packed))
		out.Write(f.packed)
		out.WriteString("\nendstream\nendobj\n")
	}
	start := out.Len()
	fmt.Fprintf(out, "xref\n0 %d\n0000000000 65535 f \n", len(moved)+1)
	for _, at := range moved {
		fmt.Fprintf(out, "%010d 00000 n \n", at)
	}
	trailer := in[table:]
	from, to := bytes.Index(trailer, []byte("trailer")), bytes.LastIndex(trailer, []byte("startxref"))
	if from < 0 || to < from {
		return nil, fmt.Errorf("compressing: no trailer was found")
	}
	out.Write(sizeOf.ReplaceAll(trailer[from:to], fmt.Appendf(nil, "/Size %d", len(moved)+1)))
	fmt.Fprintf(out, "startxref\n%d\n%%%%EOF\n", start)
	return out.Bytes(), nil
}

// withForms adds forms to the resources of all pages; they are the objects that
// follow the n of fpdf.
func withForms(object []byte, n, forms int, alphas []int) ([]byte, error) {
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
	for k := range forms {
		fmt.Fprintf(out, "/%s %d 0 R\n", formName(k), n+k+1)
	}
	out.Write(object[i+len(head):])
	return out.Bytes(), nil
}

// formName is what pages call a form by its number.
func formName(n int) string { return "D" + strconv.Itoa(n) }

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
