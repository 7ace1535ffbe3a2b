package generator_test

import (
	"cmp"
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

	"sheaf/themes"
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

// A kept page is one whose picture is kept: the first of an edition that has all
// the words and none of those it must lack.
type kept struct {
	name, file  string
	has, hasNot []string
	theme       string // "" is the default
}

var pictured = []kept{
	{"cover", "booklet.pdf", []string{"Dovecote Barn", "For the Ferriby family"}, nil, ""},
	{"contents", "booklet.pdf", []string{"Contents", "How to use this booklet"}, nil, ""},
	{"how-to-use", "booklet.pdf", []string{"Watch for the cue first"}, nil, ""},
	{"glance", "booklet.pdf", []string{"The garden at a glance", "34 m²"}, []string{"Contents"}, ""},
	{"year", "booklet.pdf", []string{"The year", "first green", "Courtyard"}, []string{"Contents", "at a glance"}, ""},
	{"day", "booklet.pdf", []string{"Garden day 11", "tall moor grass"}, []string{"Contents"}, ""},
	{"days", "booklet.pdf", []string{"Garden day 7", "Garden day 8"}, []string{"Contents"}, ""},
	{"grass", "booklet.pdf", []string{"feather reed grass", "Long border, 9 plants", "Cut back"}, []string{"Contents", "at a glance", "Garden day"}, ""},
	{"shrub", "booklet.pdf", []string{"English lavender", "Gravel garden, 14 plants"}, []string{"Contents", "at a glance", "Garden day"}, ""},
	{"rose", "booklet.pdf", []string{"Penelope rose", "Lane side, 3 plants"}, []string{"Contents", "at a glance", "Garden day"}, ""},
	{"job", "booklet.pdf", []string{"Comb", "Start low, at the base"}, []string{"Contents"}, ""},
	{"watering", "booklet.pdf", []string{"Watering", "Push a finger into the soil beside the plant."}, []string{"Contents"}, ""},
	{"safety", "booklet.pdf", []string{"The plants of this garden"}, []string{"Contents"}, ""},
	{"back", "booklet.pdf", []string{"Three visits are included", "999 in an emergency"}, nil, ""},
	{"large", "booklet-large.pdf", []string{"feather reed grass", "Long border, 9 plants", "Cut back"}, []string{"Contents", "at a glance", "Garden day"}, ""},
	{"large-day", "booklet-large.pdf", []string{"Garden day 11", "tall moor grass"}, []string{"Contents"}, ""},
	{"sheet", "year-sheet.pdf", []string{"Dovecote Barn: The year"}, nil, ""},
	{"work", "work.pdf", []string{"Garden day 11"}, nil, ""},
	{"seedroom-cover", "booklet.pdf", []string{"Barn", "For the Ferriby family"}, nil, "seedroom"},
	{"seedroom-day", "booklet.pdf", []string{"Garden day 11", "tall moor grass"}, []string{"Contents"}, "seedroom"},
	{"seedroom-grass", "booklet.pdf", []string{"feather reed grass", "Long border, 9 plants", "Cut back"}, []string{"Contents", "at a glance", "Garden day"}, "seedroom"},
	{"seedroom-job", "booklet.pdf", []string{"Comb", "Start low, at the base"}, []string{"Contents"}, "seedroom"},
}

// TestPagePictures compares pages with the pictures kept in testdata/pages.
// -update takes the pages as they are now: look at them before you commit.
func TestPagePictures(t *testing.T) {
	files := map[string]map[string][]byte{}
	for _, name := range themes.Names() {
		files[name] = build(t, themed(t, demo, name)).Files
	}
	p := reader(t)
	docs := map[string]references.FPDF_DOCUMENT{}
	for _, want := range pictured {
		t.Run(want.name, func(t *testing.T) {
			theme := cmp.Or(want.theme, themes.Default)
			key := theme + "/" + want.file
			if docs[key] == "" {
				data := files[theme][want.file]
				doc, err := p.OpenDocument(&requests.OpenDocument{File: &data})
				if err != nil {
					t.Fatal(err)
				}
				docs[key] = doc.Document
			}
			n := pageWith(t, p, docs[key], want.has, want.hasNot)
			r, err := p.RenderPageInDPI(&requests.RenderPageInDPI{DPI: 50, Page: requests.Page{ByIndex: &requests.PageByIndex{Document: docs[key], Index: n}}})
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

// Tolerances. PDFium as WebAssembly paints the same picture on every machine;
// what may differ is the last digit of a length in the PDF, where processors
// round products in their own way. One line of text less moves both figures
// beyond, as TestPicturesTellALine shows.
const (
	meanOff  = 0.1    // levels of 256
	clearOff = 48     // levels that make a pixel differ clearly
	partOff  = 0.0002 // of all pixels
)

// A difference is how far two pictures of one size are apart.
type difference struct {
	mean, clear float64 // levels; part of the pixels
	picture     *image.Gray
}

func (d difference) tells() bool { return d.mean > meanOff || d.clear > partOff }

func compared(a, b *image.Gray) difference {
	d := difference{picture: image.NewGray(a.Rect)}
	sum, far := 0, 0
	for i := range a.Pix {
		off := int(a.Pix[i]) - int(b.Pix[i])
		if off < 0 {
			off = -off
		}
		if sum += off; off > clearOff {
			far++
		}
		d.picture.Pix[i] = 255 - uint8(off)
	}
	n := float64(len(a.Pix))
	d.mean, d.clear = float64(sum)/n, float64(far)/n
	return d
}

// samePicture leaves the page and the difference in the system's folder for
// temporary files, as those of a test are gone when it has failed.
func samePicture(t *testing.T, file string, got *image.Gray) {
	t.Helper()
	if *update {
		writePicture(t, file, got)
		return
	}
	want := readPicture(t, file)
	now := filepath.Join(os.TempDir(), "sheaf-"+filepath.Base(file))
	if want.Rect != got.Rect {
		writePicture(t, now, got)
		t.Fatalf("%s is %v, the page %v: %s", file, want.Rect, got.Rect, now)
	}
	if d := compared(want, got); d.tells() {
		off := strings.TrimSuffix(now, ".png") + "-difference.png"
		writePicture(t, now, got)
		writePicture(t, off, d.picture)
		t.Errorf("the page differs from %s: by %.2f levels in the mean, clearly in %.2f %% of it; as it is now: %s; where: %s", file, d.mean, 100*d.clear, now, off)
	}
}

// TestPicturesTellALine takes the middle line of text from each kept picture,
// a strip of 16 pt, and asks that the comparison finds it.
func TestPicturesTellALine(t *testing.T) {
	for _, p := range pictured {
		want := readPicture(t, filepath.Join("..", "testdata", "pages", p.name+".png"))
		got := image.NewGray(want.Rect)
		copy(got.Pix, want.Pix)
		const line = 16 * 50 / 72
		inked := func(y int) (n int) {
			for _, v := range want.Pix[y*want.Stride : (y+line)*want.Stride] {
				if v < 128 {
					n++
				}
			}
			return n
		}
		// The middle may be white: the nearest strip below it that has words.
		y := want.Rect.Dy() / 2
		for y < want.Rect.Dy()-2*line && inked(y) < 50 {
			y += line
		}
		for i := y * want.Stride; i < (y+line)*want.Stride; i++ {
			got.Pix[i] = 255
		}
		if !compared(want, got).tells() {
			t.Errorf("%s: a line less at %d is not told", p.name, y)
		}
		if compared(want, want).tells() {
			t.Errorf("%s differs from itself", p.name)
		}
	}
}

func readPicture(t *testing.T, file string) *image.Gray {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return grey(img)
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
