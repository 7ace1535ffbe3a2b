// Package photo reads the photographs of entries and gardens and makes them fit
// for print and screen: upright, no larger than needed, and without anything
// the camera wrote beside the picture. In go the bytes of a JPEG or PNG file,
// out come a [Photo] and from it JPEG files of a width.
package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	_ "image/png" // PNG files are read too

	"golang.org/x/image/draw"
)

// Limits of what is decoded: a small file can stand for a picture that fills
// memory, so its size is asked for first.
const (
	largestFile   = 40 << 20 // bytes
	largestPixels = 60e6
)

// A Photo is a decoded picture, upright.
type Photo struct{ img image.Image }

// Read decodes a photograph and turns it upright.
func Read(data []byte) (*Photo, error) {
	if len(data) > largestFile {
		return nil, fmt.Errorf("the picture has %d MB; at most %d are read", len(data)>>20, largestFile>>20)
	}
	config, format, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, errors.New("this is no JPEG or PNG picture")
	}
	if n := float64(config.Width) * float64(config.Height); n > largestPixels || n == 0 {
		return nil, fmt.Errorf("a picture of %d × %d points cannot be used; at most 60 million points are read", config.Width, config.Height)
	}
	img, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("the %s picture is damaged: %w", format, err)
	}
	if format == "jpeg" {
		img = upright(img, orientation(data))
	}
	return &Photo{img}, nil
}

// Size is the picture's width and height in points.
func (p *Photo) Size() (w, h int) { return p.img.Bounds().Dx(), p.img.Bounds().Dy() }

// quality is that of the JPEG files made: no difference can be seen in print.
const quality = 85

// JPEG makes a file of the given width in points, or of the picture's own if
// that is less, and tells its size. It holds the picture and nothing else.
func (p *Photo) JPEG(width int) (data []byte, w, h int, err error) {
	w, h = p.Size()
	if width < w {
		w, h = width, max(h*width/w, 1)
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	// White under what is transparent, as paper is.
	draw.Draw(out, out.Rect, image.White, image.Point{}, draw.Src)
	draw.CatmullRom.Scale(out, out.Rect, p.img, p.img.Bounds(), draw.Over, nil)
	var buf bytes.Buffer
	err = jpeg.Encode(&buf, out, &jpeg.Options{Quality: quality})
	return buf.Bytes(), w, h, err
}

// orientation is tag 0x0112 of a JPEG's EXIF block (Exif 2.3, 4.6.4): how the
// camera was held, 1 to 8; 1 when nothing is said or nothing can be read.
func orientation(data []byte) int {
	const soi, app1, sos = 0xd8, 0xe1, 0xda
	if len(data) < 4 || data[0] != 0xff || data[1] != soi {
		return 1
	}
	for at := 2; at+4 <= len(data) && data[at] == 0xff && data[at+1] != sos; {
		size := int(binary.BigEndian.Uint16(data[at+2:]))
		end := at + 2 + size
		if size < 2 || end > len(data) {
			return 1
		}
		if block := data[at+4 : end]; data[at+1] == app1 && bytes.HasPrefix(block, []byte("Exif\x00\x00")) {
			return tiffOrientation(block[6:])
		}
		at = end
	}
	return 1
}

// tiffOrientation looks through the first directory of the TIFF structure.
func tiffOrientation(b []byte) int {
	var order binary.ByteOrder = binary.BigEndian
	switch {
	case bytes.HasPrefix(b, []byte("II*\x00")):
		order = binary.LittleEndian
	case !bytes.HasPrefix(b, []byte("MM\x00*")):
		return 1
	}
	if len(b) < 8 {
		return 1
	}
	at := int64(order.Uint32(b[4:]))
	if at+2 > int64(len(b)) {
		return 1
	}
	count := int64(order.Uint16(b[at:]))
	for i := range count {
		entry := at + 2 + 12*i
		if entry+12 > int64(len(b)) {
			return 1
		}
		const tag, short = 0x0112, 3
		if order.Uint16(b[entry:]) == tag && order.Uint16(b[entry+2:]) == short {
			if v := int(order.Uint16(b[entry+8:])); v >= 1 && v <= 8 {
				return v
			}
			return 1
		}
	}
	return 1
}

// upright turns and mirrors a picture by its orientation.
func upright(img image.Image, how int) image.Image {
	if how <= 1 {
		return img
	}
	b := img.Bounds()
	w, h := b.Dx(), b.Dy()
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	if how >= 5 {
		out = image.NewRGBA(image.Rect(0, 0, h, w))
	}
	for y := range h {
		for x := range w {
			var to image.Point
			switch how {
			case 2:
				to = image.Pt(w-1-x, y)
			case 3:
				to = image.Pt(w-1-x, h-1-y)
			case 4:
				to = image.Pt(x, h-1-y)
			case 5:
				to = image.Pt(y, x)
			case 6:
				to = image.Pt(h-1-y, x)
			case 7:
				to = image.Pt(h-1-y, w-1-x)
			case 8:
				to = image.Pt(y, w-1-x)
			}
			out.Set(to.X, to.Y, img.At(b.Min.X+x, b.Min.Y+y))
		}
	}
	return out
}
