package pdf

import (
	"errors"
	"fmt"
	"io"

	"github.com/go-pdf/fpdf"

	"sheaf/generator/theme"
)

// Try tells whether a typeface can be put into a PDF file: a font that a theme
// brings may be damaged in ways only its embedding finds.
func Try(f *theme.Face) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = errors.New("it is damaged")
		}
	}()
	doc := fpdf.New("P", "mm", "A5", "")
	doc.AddUTF8FontFromBytes("tried", "", append([]byte(nil), f.TTF...))
	doc.AddPage()
	doc.SetFont("tried", "", 12)
	doc.Text(10, 10, "Abc 123")
	if err := doc.Output(io.Discard); err != nil {
		return fmt.Errorf("it cannot be embedded: %w", err)
	}
	return nil
}
