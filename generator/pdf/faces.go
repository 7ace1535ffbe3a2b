package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"hash/fnv"
	"strings"

	"github.com/go-pdf/fpdf"

	"sheaf/generator/theme"
)

// A cut is a typeface with some of its letters.
type cut struct {
	face *theme.Face
	has  letters
}

// An embedding is a cut as objects of a PDF file, the first of which is the font
// that pages name (PDF 32000-1, 9.7).
type embedding struct {
	objects []object
	fault   error
}

// embed gives a cut ready for a document. It has the letters that every booklet may
// have, too: so nearly all documents take the same one. Making it takes 4 ms, letters
// that are not shown take a document up to 20 KB.
func (s *Plates) embed(f *theme.Face, shown *letters) ([]object, error) {
	all := *shown
	all.add(f.Usual())
	made := s.faces.Of(cut{f, all}, func() embedding {
		objects, err := embedded(f, all.String())
		for i := range objects {
			objects[i].pack(s)
		}
		return embedding{objects, err}
	})
	return made.objects, made.fault
}

// Try tells whether a typeface can be put into a PDF file: a font that a theme
// brings may be damaged in ways only its embedding finds.
func Try(f *theme.Face) error {
	_, err := embedded(f, "Abc 123")
	return err
}

// embedded has fpdf embed a face in a document without anything else. It embeds
// the letters that it was given to set.
func embedded(f *theme.Face, shown string) (font []object, err error) {
	defer func() {
		if r := recover(); r != nil {
			font, err = nil, errors.New("it is damaged")
		}
	}()
	const family = "face"
	doc := fpdf.New("P", "mm", "A5", "")
	doc.SetCompression(false) // of what is not a font
	doc.AddUTF8FontFromBytes(family, "", bytes.Clone(f.TTF))
	doc.AddPage()
	doc.SetFont(family, "", 12)
	doc.Text(0, 0, shown)
	var out bytes.Buffer
	if err := doc.Output(&out); err != nil {
		return nil, fmt.Errorf("it cannot be embedded: %w", err)
	}
	whole, err := takeApart(out.Bytes())
	if err != nil {
		return nil, err
	}
	// The font's objects stand together, before what pages may use.
	for _, o := range whole.objects {
		switch {
		case o.number == resources:
			if font == nil {
				return nil, errors.New("fpdf embedded no font")
			}
			return font, nil
		case font != nil || bytes.Contains(o.dict, []byte("/Subtype /Type0")):
			o.dict = bytes.ReplaceAll(o.dict, []byte("/utf8"+family), []byte("/"+cutName(f.Name, shown)))
			font = append(font, o)
		}
	}
	return nil, errors.New("fpdf wrote nothing that pages may use")
}

// cutName is the name of a font of which letters are left out: six capitals that
// tell it from other cuts, a plus and the font's own (PDF 32000-1, 9.6.4).
func cutName(face, shown string) string {
	h := fnv.New64a()
	h.Write([]byte(shown))
	var tag [6]byte
	for i, sum := 0, h.Sum64(); i < len(tag); i, sum = i+1, sum/26 {
		tag[i] = 'A' + byte(sum%26)
	}
	return string(tag[:]) + "+" + strings.Map(func(r rune) rune {
		if r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-' {
			return r
		}
		return -1
	}, face)
}
