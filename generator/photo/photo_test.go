package photo

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"testing"
)

// card is a picture of 48 by 32 points, its left upper quarter red, the right
// upper green, the left lower blue, the right lower white.
func card() image.Image {
	img := image.NewRGBA(image.Rect(0, 0, 48, 32))
	for y := range 32 {
		for x := range 48 {
			c := color.RGBA{255, 255, 255, 255}
			switch {
			case x < 24 && y < 16:
				c = color.RGBA{255, 0, 0, 255}
			case y < 16:
				c = color.RGBA{0, 255, 0, 255}
			case x < 24:
				c = color.RGBA{0, 0, 255, 255}
			}
			img.Set(x, y, c)
		}
	}
	return img
}

// shot is the card as a JPEG whose EXIF block says how it was held.
func shot(t testing.TB, order binary.AppendByteOrder, how uint16) []byte {
	var buf bytes.Buffer
	if err := jpeg.Encode(&buf, card(), &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	mark := "II*\x00"
	if order.String() == "BigEndian" {
		mark = "MM\x00*"
	}
	tiff := order.AppendUint32([]byte(mark), 8)
	tiff = order.AppendUint16(tiff, 2) // entries
	for _, e := range [][2]uint16{{0x0100, 48}, {0x0112, how}} {
		tiff = order.AppendUint16(tiff, e[0])
		tiff = order.AppendUint16(tiff, 3)
		tiff = order.AppendUint32(tiff, 1)
		tiff = order.AppendUint16(tiff, e[1])
		tiff = order.AppendUint16(tiff, 0)
	}
	block := append([]byte("Exif\x00\x00"), tiff...)
	out := append([]byte{0xff, 0xd8, 0xff, 0xe1}, binary.BigEndian.AppendUint16(nil, uint16(len(block)+2))...)
	out = append(out, block...)
	return append(out, buf.Bytes()[2:]...)
}

// corner names the colour in the upper left corner of a picture, then going
// right and down.
func corners(img image.Image) string {
	b := img.Bounds()
	name := func(x, y int) string {
		r, g, bl, _ := img.At(x, y).RGBA()
		switch {
		case r > 0x8000 && g > 0x8000:
			return "w"
		case r > 0x8000:
			return "r"
		case g > 0x8000:
			return "g"
		case bl > 0x8000:
			return "b"
		}
		return "?"
	}
	return name(b.Min.X+3, b.Min.Y+3) + name(b.Max.X-4, b.Min.Y+3) + name(b.Min.X+3, b.Max.Y-4) + name(b.Max.X-4, b.Max.Y-4)
}

func TestUpright(t *testing.T) {
	// What each value means is in Exif 2.3, 4.6.4: which side row 0 is.
	for how, want := range map[uint16]string{0: "rgbw", 1: "rgbw", 2: "grwb", 3: "wbgr", 4: "bwrg", 5: "rbgw", 6: "brwg", 7: "wgbr", 8: "gwrb", 9: "rgbw"} {
		for _, order := range []binary.AppendByteOrder{binary.LittleEndian, binary.BigEndian} {
			p, err := Read(shot(t, order, how))
			if err != nil {
				t.Fatal(err)
			}
			if got := corners(p.img); got != want {
				t.Errorf("orientation %d: %s, want %s", how, got, want)
			}
			if w, h := p.Size(); (how >= 5 && how <= 8) != (w == 32 && h == 48) {
				t.Errorf("orientation %d: %d × %d", how, w, h)
			}
		}
	}
}

func TestJPEG(t *testing.T) {
	p, err := Read(shot(t, binary.LittleEndian, 6))
	if err != nil {
		t.Fatal(err)
	}
	a, w, h, err := p.JPEG(16)
	if err != nil || w != 16 || h != 24 {
		t.Fatalf("%d × %d, %v", w, h, err)
	}
	if b, _, _, _ := p.JPEG(16); !bytes.Equal(a, b) {
		t.Error("the same picture gives other bytes")
	}
	if bytes.Contains(a, []byte("Exif")) {
		t.Error("what the camera wrote is still there")
	}
	img, err := jpeg.Decode(bytes.NewReader(a))
	if err != nil || corners(img) != "brwg" {
		t.Errorf("%s, %v", corners(img), err)
	}
	// Never larger than it is.
	if _, w, h, _ := p.JPEG(5000); w != 32 || h != 48 {
		t.Errorf("enlarged to %d × %d", w, h)
	}
}

func TestFaults(t *testing.T) {
	whole := shot(t, binary.LittleEndian, 1)
	var huge bytes.Buffer
	if err := png.Encode(&huge, image.NewGray(image.Rect(0, 0, 1, 1))); err != nil {
		t.Fatal(err)
	}
	// A PNG that claims 60,000 × 60,000 points.
	claim := huge.Bytes()
	binary.BigEndian.PutUint32(claim[16:], 60000)
	binary.BigEndian.PutUint32(claim[20:], 60000)
	// A GIF is decoded by what fpdf links in, whatever the file is called.
	var other bytes.Buffer
	if err := gif.Encode(&other, card(), nil); err != nil {
		t.Fatal(err)
	}
	var thin bytes.Buffer
	if err := png.Encode(&thin, image.NewGray(image.Rect(0, 0, 900, 15))); err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string][]byte{"gif": other.Bytes(), "thin": thin.Bytes(), "large": make([]byte, LargestFile+1), "nothing": nil, "text": []byte("<svg onload=alert(1)>"), "half": whole[:len(whole)/2], "claim": claim, "mislabelled": []byte("\xff\xd8\xff\xe1\xff\xff")} {
		if _, err := Read(data); err == nil {
			t.Errorf("%s was read", name)
		}
	}
}

// A file cut off anywhere is a fault or a picture, and what is before its
// picture is never mistaken for how it was held.
func TestCutOff(t *testing.T) {
	whole := shot(t, binary.BigEndian, 8)
	for n := range whole {
		if p, err := Read(whole[:n]); err == nil {
			if w, h := p.Size(); w != 32 || h != 48 {
				t.Fatalf("cut to %d bytes: %d × %d", n, w, h)
			}
		}
	}
	padded := append([]byte{0xff, 0xd8, 0xff, 0xff}, whole[2:]...)
	if got := orientation(padded); got != 8 {
		t.Errorf("orientation %d behind padding, want 8", got)
	}
}

// What is kept is no larger than needed, and paper shows through.
func TestKept(t *testing.T) {
	var buf bytes.Buffer
	if err := png.Encode(&buf, image.NewNRGBA(image.Rect(0, 0, 700, 2400))); err != nil {
		t.Fatal(err)
	}
	p, err := Read(buf.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if w, h := p.Size(); w != 414 || h != longestSide {
		t.Errorf("kept %d × %d", w, h)
	}
	if got := corners(p.img); got != "wwww" {
		t.Errorf("nothing at all is shown as %s", got)
	}
}

// A picture that is halved while it is laid on paper is the one that is halved
// afterwards, point by point; odd rows and columns too.
func TestFlatInRows(t *testing.T) {
	img := image.NewNRGBA(image.Rect(3, 5, 3+101, 5+67))
	for i := range img.Pix {
		img.Pix[i] = byte(i * 31)
	}
	whole := flat(img, 101, 67, image.White)
	if whole.Rect.Dx() != 101 || !bytes.Equal(flat(img, 25, 16, image.White).Pix, halved(whole).Pix) {
		t.Error("the halved picture is another")
	}
}

// The weights are counted by hand from the sampling factors (T.81, A.1.1): a
// byte for a sample, five where the picture comes in passes.
func TestWeight(t *testing.T) {
	frame := func(kind byte, factors ...byte) []byte {
		out := []byte{0xff, 0xd8, 0xff, 0xe0, 0, 4, 1, 1, 0xff, kind, 0, byte(8 + 3*len(factors)), 8, 0, 9, 0, 9, byte(len(factors))}
		for i, f := range factors {
			out = append(out, byte(i+1), f, 0)
		}
		return out
	}
	for _, c := range []struct {
		data []byte
		want float64
	}{
		{frame(0xc0, 0x11), 1}, {frame(0xc0, 0x22, 0x11, 0x11), 1.5}, {frame(0xc1, 0x11, 0x11, 0x11), 3},
		{frame(0xc2, 0x11), 5}, {frame(0xc2, 0x22, 0x11, 0x11), 7.5}, {frame(0xc2, 0x21, 0x11, 0x11), 10},
		{frame(0xc2, 0x22, 0x11, 0x11)[:20], 20}, {[]byte("\xff\xd8 no marker"), 20}, {nil, 20},
	} {
		if got := jpegWeight(c.data); got != c.want {
			t.Errorf("% x: %v, want %v", c.data, got, c.want)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add(shot(f, binary.LittleEndian, 6))
	f.Add(shot(f, binary.BigEndian, 3))
	f.Add([]byte("\xff\xd8\xff\xe1\x00\x20Exif\x00\x00II*\x00\xff\xff\xff\x7f"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if p, err := Read(data); err == nil {
			if _, _, _, err := p.JPEG(8); err != nil {
				t.Error(err)
			}
		}
	})
}
