// Package photo reads the photographs of entries and gardens and makes them fit
// for print and screen: upright, no larger than needed, and without anything
// the camera wrote beside the picture. In go the bytes of a JPEG or PNG file,
// out come a [Photo] and from it JPEG files of a width.
//
// Colours are taken for sRGB, as most cameras write them: a profile in the file
// is not applied.
package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"sync"

	"golang.org/x/image/draw"
)

// Limits of what is decoded: a small file can stand for a picture that fills
// memory, so its size is asked for first.
const (
	LargestFile   = 40 << 20 // bytes
	largestPixels = 60e6
	// largestDecoded is in bytes: 50 million points of 8 bits with transparency,
	// or 26 million of a progressive JPEG as cameras make them, whose decoder
	// keeps four bytes more for each sample.
	largestDecoded = 192 << 20
	// mostPasses a JPEG may take. Progressive ones are sent in about ten; each may
	// be a few hundred bytes and walks through the whole picture.
	mostPasses = 50
	leastSide  = 16 // points of what is kept; less shows nothing
)

// longestSide of what is kept, in points: the booklet shows at most 120 mm,
// which is 1417 points at 300 to the inch, the web edition 1200 points, and
// large print still has 250 to the inch. A picture of 12 million points kept
// whole would take 48 MB for each plant.
const longestSide = 1420

// A Photo is a decoded picture, upright.
type Photo struct {
	img *image.RGBA
	// clear is the picture without the paper under it; nil if that was not asked for.
	clear *image.RGBA
	// made are the files made of it by their forms and widths: editions, and builds of
	// one session, ask for the same ones.
	mu   sync.Mutex
	made map[form]file
}

// A form is what a file is made in.
type form struct {
	kind  string // jpeg or png
	width int
}

type file struct {
	data []byte
	w, h int
}

// Read decodes a photograph and turns it upright.
func Read(data []byte) (*Photo, error) { return read(data, false) }

// ReadClear is Read for a mark such as a logo, which may be transparent in [Photo.PNG].
func ReadClear(data []byte) (*Photo, error) { return read(data, true) }

func read(data []byte, clear bool) (*Photo, error) {
	if len(data) > LargestFile {
		return nil, fmt.Errorf("the picture has more than %d MB", LargestFile>>20)
	}
	config, format, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil || format != "jpeg" && format != "png" {
		return nil, errors.New("this is no JPEG or PNG picture")
	}
	w, h := config.Width, config.Height
	if long := max(w, h); long > longestSide {
		w, h = w*longestSide/long, h*longestSide/long
	}
	if float64(config.Width)*float64(config.Height) > largestPixels || min(w, h) < leastSide {
		return nil, fmt.Errorf("a picture of %d × %d points cannot be used: it is too large, too small or too narrow", config.Width, config.Height)
	}
	if float64(config.Width)*float64(config.Height)*weight(data, config, format) > largestDecoded {
		return nil, fmt.Errorf("a picture of %d × %d points of this kind takes too much memory: make it smaller", config.Width, config.Height)
	}
	// The bytes that begin a pass stand nowhere within one (T.81, B.1.1.5).
	if format == "jpeg" && bytes.Count(data, []byte{0xff, 0xda}) > mostPasses {
		return nil, fmt.Errorf("the picture is sent in more than %d passes: save it again", mostPasses)
	}
	img, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("the %s picture is damaged: %w", format, err)
	}
	small := scaled(flat(img, w, h, image.White), w, h)
	if format == "jpeg" {
		small = upright(small, orientation(data))
	}
	p := &Photo{img: small}
	if clear {
		if p.clear = small; format == "png" {
			p.clear = scaled(flat(img, w, h, image.Transparent), w, h)
		}
	}
	return p, nil
}

// weight is how many bytes a point takes while it is decoded.
func weight(data []byte, config image.Config, format string) float64 {
	if format == "jpeg" {
		return jpegWeight(data)
	}
	switch config.ColorModel {
	case color.GrayModel:
		return 1
	case color.Gray16Model:
		return 2
	case color.RGBAModel, color.NRGBAModel:
		return 4
	case color.RGBA64Model, color.NRGBA64Model:
		return 8
	}
	return 1 // a palette
}

// jpegWeight finds the frame of a JPEG (T.81, B.2.2): a byte for each sample,
// and four more where the picture comes in passes. One that is built in no
// plain way is taken for the heaviest there is.
func jpegWeight(data []byte) float64 {
	const heaviest = 4 * 5
	for at := 2; at+4 <= len(data) && data[at] == 0xff; {
		kind, size := data[at+1], int(binary.BigEndian.Uint16(data[at+2:]))
		end := at + 2 + size
		if size < 2 || end > len(data) {
			return heaviest
		}
		if kind < 0xc0 || kind > 0xc2 {
			at = end
			continue
		}
		frame := data[at+4 : end]
		if len(frame) < 6 || len(frame) < 6+3*int(frame[5]) {
			return heaviest
		}
		samples, wide, high := 0, 1, 1
		for c := range int(frame[5]) {
			h, v := int(frame[7+3*c]>>4), int(frame[7+3*c]&15)
			samples, wide, high = samples+h*v, max(wide, h), max(high, v)
		}
		bytes := float64(samples) / float64(wide*high)
		if kind == 0xc2 {
			bytes *= 5
		}
		return bytes
	}
	return heaviest
}

// flat lays a picture on a ground: white, as paper is under what is transparent, or
// nothing. One that
// is to be made smaller than half is halved at once, two rows at a time: whole
// it would take four bytes for each point beside those it was decoded to.
func flat(img image.Image, w, h int, ground *image.Uniform) *image.RGBA {
	b := img.Bounds()
	lay := func(out *image.RGBA, from image.Point) {
		draw.Draw(out, out.Rect, ground, image.Point{}, draw.Src)
		draw.Draw(out, out.Rect, img, from, draw.Over)
	}
	if b.Dx() < 2*w || b.Dy() < 2*h {
		out := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
		lay(out, b.Min)
		return out
	}
	out := image.NewRGBA(image.Rect(0, 0, b.Dx()/2, b.Dy()/2))
	rows := image.NewRGBA(image.Rect(0, 0, b.Dx(), 2))
	for y := range out.Rect.Dy() {
		lay(rows, b.Min.Add(image.Pt(0, 2*y)))
		copy(out.Pix[y*out.Stride:], halved(rows).Pix)
	}
	return out
}

// scaled makes a picture smaller. It is halved as often as it can be first,
// which takes half the time for a picture of 12 million points and moves its
// colours by 0.3 of 255 on average.
func scaled(img *image.RGBA, w, h int) *image.RGBA {
	for img.Rect.Dx() >= 2*w && img.Rect.Dy() >= 2*h {
		img = halved(img)
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.CatmullRom.Scale(out, out.Rect, img, img.Rect, draw.Src, nil)
	return out
}

// halved makes a point of the mean of each four; an odd last row or column is
// left out.
func halved(img *image.RGBA) *image.RGBA {
	out := image.NewRGBA(image.Rect(0, 0, img.Rect.Dx()/2, img.Rect.Dy()/2))
	for y := range out.Rect.Dy() {
		upper, lower := img.Pix[2*y*img.Stride:], img.Pix[(2*y+1)*img.Stride:]
		row := out.Pix[y*out.Stride : (y+1)*out.Stride]
		for i := range row {
			at := i/4*8 + i%4
			row[i] = uint8((int(upper[at]) + int(upper[at+4]) + int(lower[at]) + int(lower[at+4]) + 2) / 4)
		}
	}
	return out
}

// Size is the picture's width and height in points.
func (p *Photo) Size() (w, h int) { return p.img.Bounds().Dx(), p.img.Bounds().Dy() }

// quality is that of the JPEG files made: no difference can be seen in print.
const quality = 85

// JPEG makes a file of the given width in points, or of the picture's own if
// that is less, and tells its size. It holds the picture and nothing else.
func (p *Photo) JPEG(width int) (data []byte, w, h int, err error) {
	return p.file(form{"jpeg", width}, p.img, func(to *bytes.Buffer, img *image.RGBA) error {
		return jpeg.Encode(to, img, &jpeg.Options{Quality: quality})
	})
}

// PNG is JPEG for a picture that was read by [ReadClear].
func (p *Photo) PNG(width int) (data []byte, w, h int, err error) {
	if p.clear == nil {
		return nil, 0, 0, errors.New("photo: the picture was not read to be transparent")
	}
	return p.file(form{"png", width}, p.clear, func(to *bytes.Buffer, img *image.RGBA) error { return png.Encode(to, img) })
}

// file makes a file of a picture, once for each form.
func (p *Photo) file(as form, img *image.RGBA, encode func(to *bytes.Buffer, img *image.RGBA) error) (data []byte, w, h int, err error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if f, ok := p.made[as]; ok {
		return f.data, f.w, f.h, nil
	}
	if w, h = p.Size(); as.width < w {
		w, h = as.width, max(h*as.width/w, 1)
		img = scaled(img, w, h)
	}
	var buf bytes.Buffer
	if err := encode(&buf, img); err != nil {
		return nil, 0, 0, err
	}
	if p.made == nil {
		p.made = map[form]file{}
	}
	p.made[as] = file{buf.Bytes(), w, h}
	return buf.Bytes(), w, h, nil
}

// orientation is tag 0x0112 of a JPEG's EXIF block (Exif 2.3, 4.6.4): how the
// camera was held, 1 to 8; 1 when nothing is said or nothing can be read.
func orientation(data []byte) int {
	const soi, app1, sos = 0xd8, 0xe1, 0xda
	if len(data) < 4 || data[0] != 0xff || data[1] != soi {
		return 1
	}
	for at := 2; at+4 <= len(data) && data[at] == 0xff && data[at+1] != sos; {
		if data[at+1] == 0xff { // padding before a marker
			at++
			continue
		}
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
func upright(img *image.RGBA, how int) *image.RGBA {
	// Where a point of the upright picture is taken from: with x and y swapped,
	// then counted from the far side (Exif 2.3, 4.6.4).
	turn := [...]struct{ swap, fromRight, fromFoot bool }{
		2: {fromRight: true}, 3: {fromRight: true, fromFoot: true}, 4: {fromFoot: true},
		5: {swap: true}, 6: {swap: true, fromFoot: true}, 7: {true, true, true}, 8: {swap: true, fromRight: true},
	}[how]
	w, h := img.Rect.Dx(), img.Rect.Dy()
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	if turn.swap {
		out = image.NewRGBA(image.Rect(0, 0, h, w))
	}
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			fx, fy := x, y
			if turn.swap {
				fx, fy = y, x
			}
			if turn.fromRight {
				fx = w - 1 - fx
			}
			if turn.fromFoot {
				fy = h - 1 - fy
			}
			out.SetRGBA(x, y, img.RGBAAt(fx, fy))
		}
	}
	return out
}
