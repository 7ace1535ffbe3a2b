package generator_test

import (
	"bytes"
	"compress/zlib"
	"encoding/base64"
	"encoding/binary"
	"encoding/xml"
	"errors"
	"fmt"
	"hash/crc32"
	"html"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"sheaf/generator"
)

// What follows reads pictures and PDF files just far enough to find all that
// they hold beside the picture: JPEG by the markers of ITU-T T.81, table B.1,
// PNG by the chunks of the W3C recommendation, section 11, SVG by its elements,
// PDF by the dictionaries of ISO 32000-1.

// jpegParts lists what a JPEG file is made of, as "APP1" or "DQT", and what
// follows its end.
func jpegParts(data []byte) ([]string, error) {
	marks := map[byte]string{0xd8: "SOI", 0xd9: "EOI", 0xdb: "DQT", 0xc0: "SOF", 0xc1: "SOF", 0xc2: "SOF", 0xc4: "DHT", 0xda: "SOS", 0xdd: "DRI", 0xfe: "COM"}
	for i := range byte(16) {
		marks[0xe0+i] = fmt.Sprintf("APP%d", i)
	}
	var out []string
	for at := 0; at+1 < len(data); {
		if data[at] != 0xff || marks[data[at+1]] == "" {
			return out, fmt.Errorf("no marker at byte %d", at)
		}
		name := marks[data[at+1]]
		at += 2
		out = append(out, name)
		switch name {
		case "SOI":
			continue
		case "EOI":
			if at < len(data) {
				out = append(out, fmt.Sprintf("%d bytes after its end", len(data)-at))
			}
			return out, nil
		}
		if at+2 > len(data) || at+int(binary.BigEndian.Uint16(data[at:])) > len(data) {
			return out, fmt.Errorf("%s is cut off", name)
		}
		size := int(binary.BigEndian.Uint16(data[at:]))
		if name == "APP0" && !bytes.HasPrefix(data[at+2:at+size], []byte("JFIF\x00")) {
			out[len(out)-1] = "APP0 that is not JFIF"
		}
		at += size
		// After a start of scan comes the picture: a 0xff in it is followed by 0
		// or by one of eight marks of restart.
		for name == "SOS" && at+1 < len(data) && (data[at] != 0xff || data[at+1] == 0 || data[at+1] >= 0xd0 && data[at+1] <= 0xd7) {
			at++
		}
	}
	return out, errors.New("it has no end")
}

// pngParts lists the chunks of a PNG file.
func pngParts(data []byte) ([]string, error) {
	rest, ok := bytes.CutPrefix(data, []byte("\x89PNG\r\n\x1a\n"))
	if !ok {
		return nil, errors.New("no signature")
	}
	var out []string
	for len(rest) >= 12 {
		size := int(binary.BigEndian.Uint32(rest))
		if size < 0 || size+12 > len(rest) {
			return out, errors.New("a chunk is cut off")
		}
		out = append(out, string(rest[4:8]))
		rest = rest[size+12:]
		if out[len(out)-1] == "IEND" && len(rest) > 0 {
			out = append(out, fmt.Sprintf("%d bytes after its end", len(rest)))
			return out, nil
		}
	}
	return out, nil
}

// svgParts lists the elements of an SVG picture, its attributes with a name
// space of their own as "@", comments and instructions as they begin.
func svgParts(data []byte) ([]string, error) {
	var out []string
	d := xml.NewDecoder(bytes.NewReader(data))
	for {
		token, err := d.RawToken()
		if err == io.EOF {
			return out, nil
		} else if err != nil {
			return out, err
		}
		switch token := token.(type) {
		case xml.StartElement:
			out = append(out, strings.TrimPrefix(token.Name.Space+":"+token.Name.Local, ":"))
			for _, a := range token.Attr {
				if a.Name.Space != "" || strings.HasPrefix(a.Name.Local, "data-") || strings.HasPrefix(a.Name.Local, "on") || a.Name.Local == "href" {
					out = append(out, "@"+strings.TrimPrefix(a.Name.Space+":"+a.Name.Local, ":"))
				}
			}
		case xml.Comment:
			out = append(out, "<!--")
		case xml.ProcInst:
			out = append(out, "<?")
		case xml.Directive:
			out = append(out, "<!")
		}
	}
}

// beyond gives the parts that are not among those a clean picture has.
func beyond(parts []string, err error, clean ...string) []string {
	var out []string
	if err != nil {
		out = append(out, err.Error())
	}
	for _, p := range parts {
		if !slices.Contains(clean, p) {
			out = append(out, p)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// inPicture finds what a picture holds beside itself, by what its first bytes
// say it is.
func inPicture(data []byte) []string {
	switch {
	case bytes.HasPrefix(data, []byte{0xff, 0xd8}):
		parts, err := jpegParts(data)
		return beyond(parts, err, "SOI", "APP0", "DQT", "SOF", "DHT", "DRI", "SOS", "EOI")
	case bytes.HasPrefix(data, []byte("\x89PNG")):
		parts, err := pngParts(data)
		return beyond(parts, err, "IHDR", "PLTE", "tRNS", "IDAT", "IEND")
	case bytes.HasPrefix(data, []byte("<svg")):
		parts, err := svgParts(data)
		// A title and a description are read out by screen readers.
		return beyond(parts, err, "svg", "style", "g", "path", "rect", "clipPath", "text", "title", "desc", "symbol", "use", "@href")
	}
	return []string{"no picture that is known"}
}

// A pdfObject is one numbered object: its text, and its stream if it has one.
type pdfObject struct {
	head   string
	stream []byte
}

var (
	pdfTable  = regexp.MustCompile(`startxref\s+(\d+)\s+%%EOF\s*$`)
	pdfLength = regexp.MustCompile(`/Length (\d+)`)
	pdfString = regexp.MustCompile(`(?s)\((?:[^()\\]|\\.)*\)`)
	pdfToken  = regexp.MustCompile(`<<|>>|\[|\]|/[^\s/<>\[\]()]*|[^\s/<>\[\]()]+|\(\)`)
)

// pdfObjects reads the objects of a PDF file by its table, and the trailer.
// Strings in brackets are emptied: what stands in them is text.
func pdfObjects(data []byte) (objects []pdfObject, trailer string, err error) {
	m := pdfTable.FindSubmatch(data)
	if m == nil {
		return nil, "", errors.New("no table of objects")
	}
	at, _ := strconv.Atoi(string(m[1]))
	table, after, ok := strings.Cut(string(data[min(at, len(data)):]), "trailer")
	if !ok || !strings.HasPrefix(table, "xref") {
		return nil, "", errors.New("no trailer")
	}
	for line := range strings.Lines(table) {
		f := strings.Fields(line)
		if len(f) != 3 || f[2] != "n" {
			continue
		}
		from, _ := strconv.Atoi(f[0])
		end := bytes.Index(data[from:], []byte("endobj"))
		if end < 0 {
			return nil, "", errors.New("an object without an end")
		}
		head, _, has := bytes.Cut(data[from:from+end], []byte("stream\n"))
		o := pdfObject{head: pdfString.ReplaceAllString(string(head), "()")}
		if has {
			size := pdfLength.FindStringSubmatch(o.head)
			if size == nil {
				return nil, "", errors.New("a stream without a length")
			}
			n, _ := strconv.Atoi(size[1])
			begin := from + len(head) + len("stream\n")
			o.stream = data[begin:min(begin+n, len(data))]
		}
		objects = append(objects, o)
	}
	return objects, pdfString.ReplaceAllString(after, "()"), nil
}

// pdfKeys lists the keys of a dictionary, without those of dictionaries in it.
func pdfKeys(dict string) []string {
	var out []string
	depth, wantKey := 0, true
	for _, token := range pdfToken.FindAllString(dict, -1) {
		if token == ">>" || token == "]" {
			depth--
			continue
		}
		if depth == 1 {
			switch {
			case wantKey && strings.HasPrefix(token, "/"):
				out = append(out, token)
				wantKey = false
			default: // a value, or the rest of one that is a reference
				wantKey = true
			}
		}
		if token == "<<" || token == "[" {
			depth++
		}
	}
	return out
}

// inPDF finds what a PDF file holds that no reader is meant to read: keys of
// its information, catalogue and trailer beyond those named, any other kind of
// metadata or action, links of other kinds, and pictures that are not clean.
func inPDF(data []byte) (found []string, pictures int) {
	objects, trailer, err := pdfObjects(data)
	if err != nil {
		return []string{err.Error()}, 0
	}
	num := func(key string) int {
		m := regexp.MustCompile(key + ` (\d+) 0 R`).FindStringSubmatch(trailer)
		if m == nil {
			return 0
		}
		n, _ := strconv.Atoi(m[1])
		return n
	}
	keys := func(what, dict string, known ...string) {
		for _, k := range beyond(pdfKeys(dict), nil, known...) {
			found = append(found, what+" "+k)
		}
	}
	info, root := num("/Info"), num("/Root")
	if info < 1 || root < 1 || max(info, root) > len(objects) {
		return []string{"no information or no catalogue"}, 0
	}
	keys("information", objects[info-1].head, "/Producer", "/Title", "/Author", "/Subject", "/CreationDate", "/ModDate")
	keys("catalogue", objects[root-1].head, "/Type", "/Pages", "/Lang", "/Outlines", "/PageMode", "/Names", "/PageLayout", "/OpenAction")
	keys("trailer", trailer, "/Size", "/Root", "/Info")
	for _, o := range objects {
		for _, bad := range []string{"/Metadata", "/PieceInfo", "/EmbeddedFile", "/Filespec", "/JavaScript", "/JS", "/Launch", "/AA", "/GoToR", "/SubmitForm", "/ImportData", "/RichMedia", "/Movie", "/Thumb", "/XFA", "/AcroForm"} {
			if slices.Contains(pdfToken.FindAllString(o.head, -1), bad) {
				found = append(found, bad)
			}
		}
		for _, m := range regexp.MustCompile(`/S\s*/(\w+)`).FindAllStringSubmatch(o.head, -1) {
			if m[1] != "URI" && m[1] != "Transparency" {
				found = append(found, "an action "+m[1])
			}
		}
		if strings.Contains(o.head, "/Subtype /Image") {
			pictures++
			if !strings.Contains(o.head, "/DCTDecode") {
				found = append(found, "a picture of another kind")
			} else {
				found = append(found, inPicture(o.stream)...)
			}
		}
	}
	return found, pictures
}

// unpacked gives the contents of a PDF file's streams.
func unpacked(t *testing.T, data []byte) []byte {
	t.Helper()
	objects, _, err := pdfObjects(data)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	for _, o := range objects {
		if !strings.Contains(o.head, "/FlateDecode") {
			continue
		}
		z, err := zlib.NewReader(bytes.NewReader(o.stream))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.Copy(&out, z); err != nil {
			t.Fatal(err)
		}
	}
	return out.Bytes()
}

// told marks every text that a camera or a program wrote into the pictures.
const told = "Told by the camera"

// cameraJPEG is a photograph as a telephone writes it: an EXIF block with the
// maker, the place and a small picture within it, XMP, IPTC, a colour profile, a
// comment, and a film behind the end.
func cameraJPEG(t *testing.T) []byte {
	t.Helper()
	plain := snapshot(t, 400, 300, color.RGBA{90, 120, 40, 255})
	small := snapshot(t, 32, 24, color.RGBA{90, 120, 40, 255})
	le := binary.LittleEndian
	// Three directories of the TIFF structure (Exif 2.3, 4.6): of the picture,
	// of the place and of the small picture; then what their entries point to.
	entry := func(b []byte, tag, kind uint16, n, value uint32) []byte {
		b = le.AppendUint16(le.AppendUint16(b, tag), kind)
		return le.AppendUint32(le.AppendUint32(b, n), value)
	}
	const first, place, third = 8, 8 + 2 + 3*12 + 4, 8 + 2 + 3*12 + 4 + 2 + 4*12 + 4
	const values = third + 2 + 2*12 + 4
	maker := []byte(told + "\x00")
	tiff := le.AppendUint32([]byte("II*\x00"), first)
	tiff = le.AppendUint16(tiff, 3)
	tiff = entry(tiff, 0x010f, 2, uint32(len(maker)), values+48) // maker
	tiff = entry(tiff, 0x0112, 3, 1, 6)                          // held upright
	tiff = entry(tiff, 0x8825, 4, 1, place)
	tiff = le.AppendUint32(tiff, third)
	tiff = le.AppendUint16(tiff, 4)
	tiff = entry(tiff, 1, 2, 2, 'N')
	tiff = entry(tiff, 2, 5, 3, values) // latitude in three fractions
	tiff = entry(tiff, 3, 2, 2, 'W')
	tiff = entry(tiff, 4, 5, 3, values+24)
	tiff = le.AppendUint32(tiff, 0)
	tiff = le.AppendUint16(tiff, 2)
	tiff = entry(tiff, 0x0201, 4, 1, values+48+uint32(len(maker)))
	tiff = entry(tiff, 0x0202, 4, 1, uint32(len(small)))
	tiff = le.AppendUint32(tiff, 0)
	for _, n := range []uint32{52, 1, 12, 1, 2150, 100, 0, 1, 7, 1, 480, 100} {
		tiff = le.AppendUint32(tiff, n)
	}
	tiff = append(append(tiff, maker...), small...)

	out := []byte{0xff, 0xd8}
	segment := func(mark byte, parts ...[]byte) {
		body := slices.Concat(parts...)
		out = append(out, 0xff, mark)
		out = append(binary.BigEndian.AppendUint16(out, uint16(len(body)+2)), body...)
	}
	segment(0xe1, []byte("Exif\x00\x00"), tiff)
	segment(0xe1, []byte("http://ns.adobe.com/xap/1.0/\x00<x:xmpmeta xmlns:x='adobe:ns:meta/'>"+told+"</x:xmpmeta>"))
	segment(0xe2, []byte("ICC_PROFILE\x00\x01\x01"), []byte(told))
	segment(0xed, []byte("Photoshop 3.0\x008BIM\x04\x04\x00\x00\x00\x00\x00\x1c\x02\x50\x00\x12"+told))
	segment(0xfe, []byte(told))
	return slices.Concat(out, plain[2:], []byte("ftypmp42 "+told))
}

// cameraPNG is a picture with all that may stand beside it in a PNG file.
func cameraPNG(t *testing.T) []byte {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(plainPNG(t)))
	if err != nil {
		t.Fatal(err)
	}
	var buf bytes.Buffer
	if err := png.Encode(&buf, img); err != nil {
		t.Fatal(err)
	}
	const header = 8 + 12 + 13
	out := bytes.Clone(buf.Bytes()[:header])
	for _, c := range [][2]string{
		{"eXIf", "II*\x00" + told}, {"tEXt", "Author\x00" + told}, {"iTXt", "XML:com.adobe.xmp\x00\x00\x00\x00\x00" + told},
		{"tIME", "\x07\xeb\x03\x14\x0c\x00\x00"}, {"pHYs", "\x00\x00\x0b\x13\x00\x00\x0b\x13\x01"}, {"prVt", told},
	} {
		out = binary.BigEndian.AppendUint32(out, uint32(len(c[1])))
		out = append(out, c[0]+c[1]...)
		out = binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE([]byte(c[0]+c[1])))
	}
	return append(append(out, buf.Bytes()[header:]...), told...)
}

func plainPNG(t *testing.T) []byte {
	t.Helper()
	img := snapshot(t, 300, 200, color.RGBA{40, 90, 120, 255})
	decoded, err := jpeg.Decode(bytes.NewReader(img))
	if err != nil {
		t.Fatal(err)
	}
	var buf bytes.Buffer
	if err := png.Encode(&buf, decoded); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// TestUncleanIsFound: the readers above find each thing that is hidden in a
// picture or a PDF file.
func TestUncleanIsFound(t *testing.T) {
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"jpeg":       {cameraJPEG(t), fmt.Sprintf("%d bytes after its end, APP1, APP13, APP2, COM", len("ftypmp42 "+told))},
		"jpeg plain": {snapshot(t, 40, 40, color.Black), ""},
		"jpeg cut":   {snapshot(t, 40, 40, color.Black)[:300], "DHT is cut off"},
		"png":        {cameraPNG(t), fmt.Sprintf("%d bytes after its end, eXIf, iTXt, pHYs, prVt, tEXt, tIME", len(told))},
		"png plain":  {plainPNG(t), ""},
		"svg": {[]byte(`<svg xmlns="http://www.w3.org/2000/svg" xmlns:i="x"><!-- made by --><?x y?><metadata>who</metadata><script>1</script><g i:label="x" onload="y"/></svg>`),
			"<!--, <?, @i:label, @onload, @xmlns:i, metadata, script"},
		"svg plain": {[]byte(`<svg xmlns="http://www.w3.org/2000/svg"><g><path d="M0 0"/></g></svg>`), ""},
		"gif":       {[]byte("GIF89a"), "no picture that is known"},
	} {
		if got := strings.Join(inPicture(c.data), ", "); got != c.want {
			t.Errorf("%s: found %q, want %q", name, got, c.want)
		}
	}
	o := withPhotos(t, "")
	o.Editions = []string{"a5"}
	clean := build(t, o).Files["booklet.pdf"]
	if found, n := inPDF(clean); len(found) > 0 || n != 2 {
		t.Errorf("in a clean PDF: %q, %d pictures", found, n)
	}
	// Changes of the same length leave the table as it is.
	for _, c := range []struct{ old, new, want string }{
		{"/Producer ", "/Employer ", "information /Employer"},
		{"/Type /Catalog", "/AA   /Catalog", "/AA"},
		{"/Lang (en-GB)", "/PieceInfo 10", "catalogue /PieceInfo"},
		{"/Info ", "/ID 7 /Info ", "trailer /ID"},
		{"/Subtype /Link", "/S /JavaScript", "an action JavaScript"},
		{"\xff\xd8\xff\xdb", "\xff\xd8\xff\xfe", "COM"}, // a table of the picture becomes a comment
	} {
		found, _ := inPDF(bytes.Replace(clean, []byte(c.old), []byte(c.new), 1))
		if !slices.Contains(found, c.want) {
			t.Errorf("%q for %q: found %q, want %q", c.new, c.old, found, c.want)
		}
	}
}

var (
	dataAddress = regexp.MustCompile(`data:([a-z/+-]+);base64,([A-Za-z0-9+/=]+)`)
	inlineSVG   = regexp.MustCompile(`(?s)<svg.*?</svg>`)
)

// TestNoMetadata: no picture of any edition holds anything beside the picture,
// whatever stood in the photographs.
func TestNoMetadata(t *testing.T) {
	o := withPhotos(t, "  - {plant: yew, file: hedge.png, alt: A dark hedge}\n")
	files := o.Garden.(fstest.MapFS)
	files["photos/grass.jpg"] = &fstest.MapFile{Data: cameraJPEG(t)}
	files["photos/moor.jpg"] = &fstest.MapFile{Data: cameraJPEG(t)}
	files["photos/hedge.png"] = &fstest.MapFile{Data: cameraPNG(t)}
	o.Editions = generator.Editions()
	seen := map[string]int{}
	picture := func(kind, at string, data []byte) {
		seen[kind]++
		found := inPicture(data)
		if kind == "inline svg" { // on a page it may lead to another, as the year does to garden days
			found = slices.DeleteFunc(found, func(s string) bool { return s == "a" })
		}
		if len(found) > 0 {
			t.Errorf("%s: a picture holds %q", at, found)
		}
	}
	for name, data := range build(t, o).Files {
		text := data
		switch ext := path.Ext(name); ext {
		case ".jpg", ".jpeg", ".png", ".svg":
			picture(ext, name, data)
		case ".pdf":
			found, n := inPDF(data)
			if len(found) > 0 {
				t.Errorf("%s holds %q", name, found)
			}
			seen["in "+name] += n
			text = slices.Concat(data, unpacked(t, data))
		case ".html", ".css", ".js":
			for _, m := range dataAddress.FindAllStringSubmatch(html.UnescapeString(string(data)), -1) {
				inside, err := base64.StdEncoding.DecodeString(m[2])
				if err != nil {
					t.Errorf("%s: %v", name, err)
				}
				picture("inline "+m[1], name, inside)
				text = append(text, inside...)
			}
			for _, svg := range inlineSVG.FindAll(data, -1) {
				picture("inline svg", name, svg)
			}
			if bytes.Contains(data, []byte("<!--")) {
				t.Errorf("%s has a comment", name)
			}
		}
		if bytes.Contains(text, []byte(told)) || bytes.Contains(text, []byte("Exif")) || bytes.Contains(text, []byte("ns.adobe.com")) {
			t.Errorf("%s holds what the camera wrote", name)
		}
	}
	for kind, least := range map[string]int{".jpg": 3, ".svg": 4, "inline image/jpeg": 3, "inline svg": 100, "in booklet.pdf": 3, "in booklet-large.pdf": 3, "in booklet-fold.pdf": 3} {
		if seen[kind] < least {
			t.Errorf("only %d pictures %s were looked at", seen[kind], kind)
		}
	}
}

// TestThemeHoldsNoMetadata: the pictures of a theme are made anew as photographs
// are, upright and with their transparency, and its drawings hold nothing but what
// is drawn.
func TestThemeHoldsNoMetadata(t *testing.T) {
	svg := `<?xml version="1.0"?><!-- ` + told + ` --><svg xmlns="http://www.w3.org/2000/svg" xmlns:p="http://program" p:docname="` + told + `" viewBox="0 0 9 9"><metadata>` + told + `</metadata><p:view>` + told + `</p:view><title>` + told + `</title><path p:label="` + told + `" d="M0 0h9v9z"/></svg>`
	for logo, data := range map[string]string{"logo.svg": svg, "logo.png": string(cameraPNG(t)), "logo.jpg": string(cameraJPEG(t))} {
		for cover, photo := range map[string]string{"cover.png": string(cameraPNG(t)), "cover.jpg": string(cameraJPEG(t))} {
			o := dressed(t, map[string]string{
				"theme.yaml": "logo: {file: " + logo + ", alt: Ours}\ncover: {picture: " + cover + ", alt: Ours}\n",
				logo:         data, cover: photo,
			})
			o.Editions = []string{"web", "onefile", "a5"}
			r := build(t, o)
			for name, file := range r.Files {
				if bytes.Contains(file, []byte(told)) {
					t.Errorf("%s, %s: %s tells what the camera or the program wrote", logo, cover, name)
				}
			}
			for _, name := range []string{logo, "cover-picture" + path.Ext(cover)} {
				if found := inPicture(r.Files[name]); len(found) > 0 {
					t.Errorf("%s holds %q", name, found)
				}
			}
			if found, n := inPDF(r.Files["booklet.pdf"]); len(found) > 0 || n == 0 {
				t.Errorf("%s, %s: booklet.pdf has %d pictures and holds %q", logo, cover, n, found)
			}
			if !bytes.Equal(r.Files[logo], build(t, o).Files[logo]) {
				t.Errorf("%s is another each time", logo)
			}
		}
	}
	o := dressed(t, map[string]string{"theme.yaml": "logo: {file: logo.png, alt: Ours}\n", "logo.png": mark(t, 200, 100)})
	o.Editions = []string{"web"}
	img, err := png.Decode(bytes.NewReader(build(t, o).Files["logo.png"]))
	if err != nil {
		t.Fatal(err)
	}
	if _, _, _, a := img.At(2, 50).RGBA(); a != 0 || img.Bounds().Dx() != 200 {
		t.Errorf("the logo is %v wide and its ground is not clear: %d", img.Bounds().Dx(), a)
	}
	if r, g, b, a := img.At(75, 50).RGBA(); a>>8 != 255 || r>>8 != 20 || g>>8 != 90 || b>>8 != 70 {
		t.Errorf("the logo's colour is %d %d %d %d", r>>8, g>>8, b>>8, a>>8)
	}
}
