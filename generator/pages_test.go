package generator_test

import (
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/klippa-app/go-pdfium"
	"github.com/klippa-app/go-pdfium/references"
	"github.com/klippa-app/go-pdfium/requests"
	"github.com/klippa-app/go-pdfium/webassembly"
)

// reader opens PDFs in plain Go: PDFium as WebAssembly, for tests only.
func reader(t *testing.T) pdfium.Pdfium {
	t.Helper()
	pool, err := webassembly.Init(webassembly.Config{MinIdle: 1, MaxIdle: 1, MaxTotal: 1})
	if err != nil {
		t.Fatal(err)
	}
	p, err := pool.GetInstance(time.Minute)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { pool.Close() })
	return p
}

// pictured are the pages whose pictures are kept: the first of an edition that
// has all the words and none of those it must lack.
var pictured = []struct {
	name, file  string
	has, hasNot []string
}{
	{"cover", "booklet.pdf", []string{"Dovecote Barn", "For the Ferriby family"}, nil},
	{"contents", "booklet.pdf", []string{"Contents", "How to use this booklet"}, nil},
	{"how-to-use", "booklet.pdf", []string{"Watch for the cue first"}, nil},
	{"glance", "booklet.pdf", []string{"The garden at a glance", "34 m²"}, []string{"Contents"}},
	{"year", "booklet.pdf", []string{"The year", "first green", "Courtyard"}, []string{"Contents", "at a glance"}},
	{"month", "booklet.pdf", []string{"April 2027", "Comb", "until 13 April"}, []string{"Contents"}},
	{"grass", "booklet.pdf", []string{"feather reed grass", "Long border, 9 plants", "Cut back"}, []string{"Contents", "at a glance", "The months"}},
	{"shrub", "booklet.pdf", []string{"English lavender", "Gravel garden, 14 plants"}, []string{"Contents", "at a glance", "The months"}},
	{"job", "booklet.pdf", []string{"Comb", "Draw gloved fingers"}, []string{"Contents"}},
	{"index", "booklet.pdf", []string{"Index", "alumroot"}, []string{"Contents"}},
	{"large", "booklet-large.pdf", []string{"feather reed grass", "Long border, 9 plants", "Cut back"}, []string{"Contents", "at a glance", "The months"}},
	{"sheet", "year-sheet.pdf", []string{"Dovecote Barn: The year"}, nil},
}

// TestPagePictures compares pages with the pictures kept in testdata/pages.
// -update takes the pages as they are now: look at them before you commit.
func TestPagePictures(t *testing.T) {
	files := build(t, options(t, demo)).Files
	p := reader(t)
	docs := map[string]references.FPDF_DOCUMENT{}
	for _, want := range pictured {
		t.Run(want.name, func(t *testing.T) {
			if docs[want.file] == "" {
				data := files[want.file]
				doc, err := p.OpenDocument(&requests.OpenDocument{File: &data})
				if err != nil {
					t.Fatal(err)
				}
				docs[want.file] = doc.Document
			}
			n := pageWith(t, p, docs[want.file], want.has, want.hasNot)
			r, err := p.RenderPageInDPI(&requests.RenderPageInDPI{DPI: 50, Page: requests.Page{ByIndex: &requests.PageByIndex{Document: docs[want.file], Index: n}}})
			if err != nil {
				t.Fatal(err)
			}
			defer r.Cleanup()
			samePicture(t, filepath.Join("..", "testdata", "pages", want.name+".png"), grey(r.Result.RenderedImage))
		})
	}
}

// pageWith finds the first page with some words and without others.
func pageWith(t *testing.T, p pdfium.Pdfium, doc references.FPDF_DOCUMENT, has, hasNot []string) int {
	t.Helper()
	count, err := p.FPDF_GetPageCount(&requests.FPDF_GetPageCount{Document: doc})
	if err != nil {
		t.Fatal(err)
	}
	for i := range count.PageCount {
		got, err := p.GetPageText(&requests.GetPageText{Page: requests.Page{ByIndex: &requests.PageByIndex{Document: doc, Index: i}}})
		if err != nil {
			t.Fatal(err)
		}
		text := strings.Join(strings.Fields(got.Text), " ")
		fits := true
		for _, h := range has {
			fits = fits && strings.Contains(text, h)
		}
		for _, h := range hasNot {
			fits = fits && !strings.Contains(text, h)
		}
		if fits {
			return i
		}
	}
	t.Fatalf("no page has %q", has)
	return 0
}

func grey(img image.Image) *image.Gray {
	out := image.NewGray(img.Bounds())
	for y := out.Rect.Min.Y; y < out.Rect.Max.Y; y++ {
		for x := out.Rect.Min.X; x < out.Rect.Max.X; x++ {
			out.Set(x, y, color.GrayModel.Convert(img.At(x, y)))
		}
	}
	return out
}

// Tolerances: a mean difference of two levels in 256, and few pixels that
// differ clearly. A line of text set elsewhere moves both far beyond.
const (
	meanOff  = 2.0
	clearOff = 48
	partOff  = 0.01
)

func samePicture(t *testing.T, file string, got *image.Gray) {
	t.Helper()
	if *update {
		writePicture(t, file, got)
		return
	}
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	want := grey(img)
	if want.Rect != got.Rect {
		t.Fatalf("%s is %v, the page %v", file, want.Rect, got.Rect)
	}
	sum, far := 0, 0
	for i := range want.Pix {
		d := int(want.Pix[i]) - int(got.Pix[i])
		if d < 0 {
			d = -d
		}
		if sum += d; d > clearOff {
			far++
		}
	}
	n := float64(len(want.Pix))
	if mean := float64(sum) / n; mean > meanOff || float64(far)/n > partOff {
		name := filepath.Join(os.TempDir(), "sheaf-"+filepath.Base(file))
		writePicture(t, name, got)
		t.Errorf("the page differs from %s: by %.2f levels in the mean, clearly in %.1f %% of it; as it is now: %s", file, mean, 100*float64(far)/n, name)
	}
}

func writePicture(t *testing.T, file string, img image.Image) {
	t.Helper()
	f, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(f, img); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(fmt.Errorf("%s: %w", file, err))
	}
}
