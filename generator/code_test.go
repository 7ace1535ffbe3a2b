package generator_test

import (
	"testing"

	"github.com/klippa-app/go-pdfium/requests"
	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
)

// TestCodeOnTheBack reads the code on the back cover as a camera does, in a
// picture of the page at 150 points to the inch.
func TestCodeOnTheBack(t *testing.T) {
	o := options(t, demo)
	o.Editions = []string{"a5", "large"}
	files := build(t, o).Files
	p := reader(t)
	for _, file := range []string{"booklet.pdf", "booklet-large.pdf"} {
		data := files[file]
		doc, err := p.OpenDocument(&requests.OpenDocument{File: &data})
		if err != nil {
			t.Fatal(err)
		}
		back := pageWith(t, p, doc.Document, []string{"999 in an emergency", "The same booklet on a screen"}, nil)
		page, err := p.RenderPageInDPI(&requests.RenderPageInDPI{DPI: 150, Page: requests.Page{ByIndex: &requests.PageByIndex{Document: doc.Document, Index: back}}})
		if err != nil {
			t.Fatal(err)
		}
		seen, err := gozxing.NewBinaryBitmapFromImage(page.Result.RenderedImage)
		if err != nil {
			t.Fatal(err)
		}
		code, err := qrcode.NewQRCodeReader().Decode(seen, nil)
		page.Cleanup()
		if err != nil {
			t.Errorf("%s: %v", file, err)
			continue
		}
		if got, want := code.GetText(), "https://example.org/dovecote-barn"; got != want {
			t.Errorf("%s: the code says %q, want %q", file, got, want)
		}
	}
}
