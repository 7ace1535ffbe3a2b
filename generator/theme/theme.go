// Package theme reads the look of all editions: colours, type, sizes, margins,
// furniture, templates and stylesheet. A theme is a folder of files, and what
// it leaves out comes from the default theme: file by file, and in theme.yaml
// key by key. In go the files of both, out come a [Theme] and what is wrong
// with it. The web edition gets the colours as CSS variables, the printed ones
// get them as numbers, so each exists once. It also measures type: layout
// trusts no other widths.
package theme

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"sheaf/generator/draw"
	"sheaf/generator/entries"
	"sheaf/generator/photo"
	"sheaf/generator/source"
	"sheaf/generator/words"
)

// Palette is the colours of one mode. figure draws with the same fields.
type Palette struct{ Paper, Ink, Quiet, Straw, Clay, Moss, Frost, Hairline draw.Color }

// Sizes are in points.
type Sizes struct{ Text, Leading, Caption, Name, Title, Heading float64 }

// AtLeast are sizes in which text has so many points at least, all of them in their
// proportion.
func (s Sizes) AtLeast(text float64) Sizes {
	f := max(text/s.Text, 1)
	return Sizes{s.Text * f, s.Leading * f, s.Caption * f, s.Name * f, s.Title * f, s.Heading * f}
}

// Margins are in millimetres.
type Margins struct{ Inner, Outer, Head, Foot float64 }

// A Setting is the sizes and margins of an edition.
type Setting struct {
	Sizes   Sizes
	Margins Margins
}

// Furniture is how printed pages are furnished, each in one of two ways.
type Furniture struct {
	Cover string // Open: the name on bare paper; Framed: on a label in a frame
	Title string // Plain; or Ruled: under a heavy rule
	Work  string // Ruled: the job's name under a rule of its colour; Band: on a band of it
	Foot  string // Plain: number and name; Label: the number on a label, the name on a rule
}

// The words of [Furniture].
const (
	Open   = "open"
	Framed = "framed"
	Plain  = "plain"
	Ruled  = "ruled"
	Band   = "band"
	Label  = "label"
)

// Stacks are lists of font families as CSS writes them, for running text and
// for headings.
type Stacks struct{ Body, Heading string }

// A Picture is made of a file of the theme and shown on screens, and on paper unless
// it is an SVG. The file's own bytes are in no edition.
type Picture struct {
	File    *source.File
	Alt     string
	Photo   *photo.Photo // decoded; nil for an SVG
	Drawing []byte       // an SVG, written anew; nil for others
}

// SVG tells whether the picture is a drawing for screens.
func (p *Picture) SVG() bool { return strings.HasSuffix(strings.ToLower(p.File.Path), ".svg") }

// Base is the file's name without folders.
func (p *Picture) Base() string { return path.Base(p.File.Path) }

// A Theme is all of it.
type Theme struct {
	Name        string
	Light, Dark Palette
	Setting             // of the booklet
	Large       Setting // of large print
	Furniture   Furniture
	Web         Stacks
	Logo        *Picture // for screens; nil for none
	PrintLogo   *Picture // for paper; nil for none
	Cover       *Picture // instead of the row of plants; nil for none
	Row         bool     // the cover shows the garden's plants in a row
	Sections    []string // the order of sections, and the theme's own pages by their file names
	Pages       map[string]*entries.Page
	files       Files
	own         Files // of files, those of the theme's own folder
	faces       map[draw.Face]*Face
}

// PointsPerMM is exact: an inch is 72 points and 25.4 mm.
const PointsPerMM = 72 / 25.4

// Files are what a theme is made of, by their names in its folder.
type Files map[string]*source.File

// Limits of a theme's folder: a hostile one is refused before it fills memory.
const (
	mostFiles = 200
	MostBytes = 64 << 20 // of all files
	mostText  = 1 << 20  // of a template, stylesheet or script
	pagesDir  = "pages"
)

// Gather finds the files of a theme's folder: those of a kind that themes are
// made of, in the folder itself, of pages in the folder pages and of languages in
// the folder words. read takes one of them.
func Gather(folder fs.FS, read func(name string) (*source.File, error)) (Files, error) {
	out := Files{}
	sum := 0
	for _, dir := range []string{".", pagesDir, words.Dir} {
		list, err := fs.ReadDir(folder, dir)
		if dir != "." && errors.Is(err, fs.ErrNotExist) {
			continue
		} else if err != nil {
			return nil, err
		}
		for _, d := range list {
			name := path.Join(dir, d.Name())
			if d.IsDir() || strings.HasPrefix(d.Name(), ".") || !belongs(name) {
				continue
			}
			f, err := read(name)
			if errors.Is(err, fs.ErrNotExist) {
				continue // it went while the folder was read
			} else if err != nil {
				return nil, err
			}
			out[name] = f
			if sum += len(f.Text); len(out) > mostFiles || sum > MostBytes {
				return nil, fmt.Errorf("the folder has more than %d files or %d MB for a theme", mostFiles, MostBytes>>20)
			}
		}
	}
	return out, nil
}

// belongs tells files that themes are made of by their names.
func belongs(name string) bool {
	ext := strings.ToLower(path.Ext(name))
	switch path.Dir(name) {
	case pagesDir:
		return ext == ".md"
	case words.Dir:
		return ext == ".yaml"
	}
	return name == "theme.yaml" || slices.Contains([]string{".css", ".html", ".js", ".ttf", ".svg", ".png", ".jpg", ".jpeg"}, ext)
}

// Fonts finds a typeface of the system by its whole name; nil when there is
// none. A nil Fonts finds nothing.
type Fonts func(name string) []byte

// Load makes a theme of the default's files and of its own, which may be nil for
// the default itself. Faults are diagnostics, also in the default's files.
func Load(base, own Files, fonts Fonts) (*Theme, source.Diagnostics) {
	l := &loader{Theme: &Theme{files: Files{}, own: own, faces: map[draw.Face]*Face{}, Pages: map[string]*entries.Page{}, Row: true}, fonts: fonts, at: map[string]source.Span{}, faceNames: map[string]string{}}
	l.read(base)
	l.shippedFaces()
	if own != nil {
		l.ours = true
		clear(l.at)
		l.read(own)
		l.ownFaces()
	}
	l.contrast()
	l.style()
	return l.Theme, l.found.Sorted()
}

// File gives one of the theme's files, or the default's of that name; nil when
// neither has it.
func (t *Theme) File(name string) *source.File { return t.files[name] }

// Templates are the HTML templates in the order in which they are parsed: those
// of the default, then the theme's own, so that a template defined there takes
// the place of one of that name.
func (t *Theme) Templates() []*source.File {
	var first, then []*source.File
	for name, f := range t.files {
		switch {
		case path.Ext(name) != ".html":
		case t.own[name] != nil:
			then = append(then, f)
		default:
			first = append(first, f)
		}
	}
	byPath := func(a, b *source.File) int { return strings.Compare(a.Path, b.Path) }
	slices.SortFunc(first, byPath)
	slices.SortFunc(then, byPath)
	return append(first, then...)
}

// Own tells whether a file is of the theme's own folder and not the default's.
func (t *Theme) Own(f *source.File) bool {
	for _, o := range t.own {
		if o == f {
			return true
		}
	}
	return false
}

// Style is the stylesheet: base.css, which any look needs, style.css, and after
// it more.css, for themes that only add to it.
func (t *Theme) Style() []byte {
	var out []byte
	for _, name := range styles() {
		if f := t.files[name]; f != nil {
			out = append(out, f.Text...)
		}
	}
	return out
}

func styles() []string { return []string{"base.css", "style.css", "more.css"} }

// Faces gives the typefaces of the theme's own that are put into PDF files.
func (t *Theme) Faces() []*Face {
	var out []*Face
	for _, role := range roles() {
		if f := t.faces[role.face]; f != nil && f.own && !slices.Contains(out, f) {
			out = append(out, f)
		}
	}
	return out
}

// role is a key of faces.
type role struct {
	key, about string
	face       draw.Face
}

func roles() []role {
	return []role{
		{"body", "Running text and captions.", draw.Body},
		{"bold", "Words that stand out.", draw.Bold},
		{"italic", "Botanical names in running text.", draw.Italic},
		{"small-caps", "Selling names; without small capitals of its own, capitals are set smaller.", draw.SmallCaps},
		{"heading", "Headings and titles.", draw.Heading},
		{"heading-italic", "Botanical names in headings.", draw.HeadingItalic},
	}
}

// Face gives the font that plays a role. Captions are set in the body face.
func (t *Theme) Face(role draw.Face) *Face {
	if role == draw.Caption {
		role = draw.Body
	}
	return t.faces[role]
}

// Family gives the colour of a family of jobs.
func (p Palette) Family(name string) draw.Color {
	switch name {
	case "comb":
		return p.Straw
	case "cut":
		return p.Clay
	case "grow":
		return p.Moss
	case "protect":
		return p.Frost
	}
	return p.Ink
}

// Same tells whether two themes are of the same files, by their bytes.
func Same(a, b Files) bool {
	if len(a) != len(b) || (a == nil) != (b == nil) {
		return false
	}
	for name, f := range a {
		if g := b[name]; g == nil || f.Path != g.Path || f.Sum != g.Sum || !bytes.Equal(f.Text, g.Text) {
			return false
		}
	}
	return true
}
