package figure

import (
	"fmt"
	"image/color"

	"github.com/boombuler/barcode/qr"

	"sheaf/generator/draw"
)

// CodeBorder is the part of its width that must stay empty on all sides of a
// [Code]: four modules (ISO/IEC 18004), of which the smallest code has 21.
const CodeBorder = 4. / 21

// Code is a QR code of the text, w millimetres wide, for light paper. Of the
// levels of error correction it takes M, which reads with 15 % of the code
// lost. The error is for a text too long for one.
func Code(text, title string, w float64, pal Palette) (draw.Picture, error) {
	code, err := qr.Encode(text, qr.M, qr.Auto)
	if err != nil {
		return draw.Picture{}, fmt.Errorf("a QR code of %d characters: %w", len(text), err)
	}
	n := code.Bounds().Dx()
	module := w / float64(n)
	// All in one path, in runs: no renderer leaves hairlines between neighbours
	// of one fill.
	var path draw.Path
	for y := range n {
		for x := 0; x < n; x++ {
			from := x
			for x < n && code.At(x, y) == color.Black {
				x++
			}
			if x > from {
				path.Append(draw.Rect(float64(from)*module, float64(y)*module, float64(x-from)*module, module))
			}
		}
	}
	return draw.Picture{W: w, H: w, Title: title, Desc: text, Items: []draw.Item{draw.Shape{Path: path, Fill: &pal.Ink}}}, nil
}
