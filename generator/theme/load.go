package theme

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"sheaf/generator/draw"
	"sheaf/generator/entries"
	"sheaf/generator/fields"
	"sheaf/generator/photo"
	"sheaf/generator/source"
)

// A loader reads the files of one theme over those of another.
type loader struct {
	*Theme
	fonts     Fonts
	ours      bool // what is read now is the theme's own folder
	found     source.Diagnostics
	at        map[string]source.Span // where the values of the theme's own theme.yaml are written
	faceNames map[string]string      // by their keys
}

func (l *loader) fail(code string, at source.Span, message string, hints ...string) {
	l.found.Add(source.Error, code, at, message, hints...)
}

// read takes over the files and what theme.yaml says.
func (l *loader) read(files Files) {
	for name, f := range files {
		if slices.Contains([]string{".html", ".css", ".js"}, path.Ext(name)) && len(f.Text) > mostText {
			l.fail("theme/too-large", source.Span{File: f}, fmt.Sprintf("the file has more than %d MB", mostText>>20), "make a picture in it smaller")
			continue
		}
		l.files[name] = f
	}
	f := files["theme.yaml"]
	if f == nil {
		return
	}
	m := fields.Whole(f, "theme")
	if n, ok := m.Text("theme"); ok {
		l.Name = n.Value
	}
	if c := m.Map("colours"); c != nil {
		l.palette(c, "light", &l.Light)
		l.palette(c, "dark", &l.Dark)
		c.Done()
	}
	l.setting(m, &l.Setting, booklet())
	if large := m.Map("large"); large != nil {
		l.setting(large, &l.Large, largePrint())
		large.Done()
	}
	if c := m.Map("faces"); c != nil {
		for _, r := range roles() {
			if n, ok := c.Text(r.key); ok {
				l.faceNames[r.key], l.at[r.key] = n.Value, n.Span
			}
		}
		c.Done()
	}
	if w := m.Map("web"); w != nil {
		l.stack(w, "body", &l.Web.Body)
		l.stack(w, "heading", &l.Web.Heading)
		w.Done()
	}
	if p := m.Map("print"); p != nil {
		for _, c := range furniture() {
			if t, ok := p.Choice(c.key, c.words); ok {
				*c.of(&l.Furniture) = t.Value
			}
		}
		p.Done()
	}
	if c := m.Map("logo"); c != nil {
		l.logo(c)
		c.Done()
	}
	if c := m.Map("cover"); c != nil {
		if c.Has("row") {
			l.Row = c.Flag("row")
		}
		if c.Has("picture") {
			alt, _ := c.Need("alt")
			if l.Cover = l.picture(c, "picture", alt.Value, false); l.Cover != nil {
				l.Row = false
			}
		}
		c.Text("alt") // known without a picture too
		c.Done()
	}
	if m.Has("sections") {
		l.sections(m)
	}
	m.Done()
	l.found = append(l.found, m.Diagnostics()...)
}

// palette reads the colours of one mode.
func (l *loader) palette(c *fields.Map, mode string, to *Palette) {
	m := c.Map(mode)
	for _, name := range colourNames() {
		t, ok := m.Text(name)
		if !ok {
			continue
		}
		v, err := draw.ParseColor(t.Value)
		if err != nil {
			m.Fail(t.Span, "colour", err.Error(), "write it in quotes, as a # would begin a remark")
			continue
		}
		*to.named(name) = v
		l.at[mode+"."+name] = t.Span
	}
	m.Done()
}

// colourNames are the keys of a palette.
func colourNames() []string {
	return []string{"paper", "ink", "quiet", "straw", "clay", "moss", "frost", "hairline"}
}

func (p *Palette) named(name string) *draw.Color {
	return map[string]*draw.Color{"paper": &p.Paper, "ink": &p.Ink, "quiet": &p.Quiet, "straw": &p.Straw,
		"clay": &p.Clay, "moss": &p.Moss, "frost": &p.Frost, "hairline": &p.Hairline}[name]
}

// A limit is the least and the most of a figure.
type limit struct {
	key, about string
	low, high  float64
}

// limits are those of an edition's sizes, in points, and margins, in
// millimetres, in the order in which they are best written.
type limits struct{ sizes, margins []limit }

// booklet is what A5 bears: text of 10.5 pt at the least and captions of 9 (the
// project's art direction; its face is as large as others at 12), a foot that holds
// the page's number clear of what printers leave white, and a measure in which a
// plant's name stands beside its picture.
func booklet() limits {
	return limits{
		sizes: []limit{{"text", "Running text.", 10.5, 16}, {"leading", "From one line to the next.", 12.5, 24}, {"caption", "Captions and notes.", 9, 14},
			{"name", "A plant's name above its pages.", 16, 36}, {"title", "Titles of chapters.", 16, 40}, {"heading", "Headings within a chapter.", 12, 22}},
		margins: []limit{{"inner", "At the fold.", 12, 24}, {"outer", "At the outer edge.", 8, 22}, {"head", "Above the text.", 10, 30}, {"foot", "Below the text, with the page number.", 13, 34}},
	}
}

// largePrint is 18 pt at the least, as the edition promises (UKAAF G003: large
// print is 16 pt and over, and best at 18), with captions of 16.
func largePrint() limits {
	return limits{
		sizes: []limit{{"text", "Running text.", 18, 24}, {"leading", "From one line to the next.", 21, 36}, {"caption", "Captions and notes.", 16, 20},
			{"name", "A plant's name above its pages.", 22, 50}, {"title", "Titles of chapters.", 22, 56}, {"heading", "Headings within a chapter.", 18, 32}},
		margins: []limit{{"inner", "At the left and right.", 12, 34}, {"outer", "At the right and left.", 12, 34}, {"head", "Above the text.", 12, 40}, {"foot", "Below the text, with the page number.", 16, 44}},
	}
}

func (s *Setting) named(name string) *float64 {
	return map[string]*float64{"text": &s.Sizes.Text, "leading": &s.Sizes.Leading, "caption": &s.Sizes.Caption,
		"name": &s.Sizes.Name, "title": &s.Sizes.Title, "heading": &s.Sizes.Heading,
		"inner": &s.Margins.Inner, "outer": &s.Margins.Outer, "head": &s.Margins.Head, "foot": &s.Margins.Foot}[name]
}

// setting reads sizes and margins.
func (l *loader) setting(m *fields.Map, to *Setting, bounds limits) {
	read := func(key string, all []limit) {
		c := m.Map(key)
		for _, k := range all {
			n, ok := c.Number(k.key)
			switch {
			case !ok:
			case n.Value < k.low || n.Value > k.high:
				c.Fail(n.Span, "size", fmt.Sprintf("%s is between %v and %v here", k.key, k.low, k.high), tooSmall(k, n.Value))
			default:
				*to.named(k.key) = n.Value
			}
		}
		c.Done()
	}
	read("sizes", bounds.sizes)
	read("margins", bounds.margins)
	// Less than 1.2 of the size and the letters of two lines touch.
	if s := to.Sizes; s.Leading < 1.2*s.Text {
		at := m.Span()
		if c := m.Map("sizes"); c != nil {
			at = c.Span()
		}
		l.found.Add(source.Warning, "theme/leading", at, fmt.Sprintf("lines of %v pt type are set %v pt apart, and their letters nearly touch", s.Text, s.Leading),
			fmt.Sprintf("a leading of %.0f is usual", 1.33*s.Text))
	}
}

func tooSmall(k limit, v float64) string {
	if v < k.low && (k.key == "text" || k.key == "caption") {
		return "it is read in poor light by people of any age"
	}
	return ""
}

// stack reads a list of families for CSS, in which nothing may end the
// declaration it is put into.
func (l *loader) stack(m *fields.Map, key string, to *string) {
	t, ok := m.Text(key)
	if !ok {
		return
	}
	if !stackForm.MatchString(t.Value) {
		m.Fail(t.Span, "web", fmt.Sprintf("%q is no list of font families", t.Value), `write for example: Georgia, "Noto Serif", serif; the last is what every browser has`)
		return
	}
	*to = t.Value
}

// A way is a key of print with its words.
type way struct {
	key, about string
	words      []string
	of         func(*Furniture) *string
}

func furniture() []way {
	return []way{
		{"cover", "The name on bare paper, or on a label in a frame.", []string{Open, Framed}, func(f *Furniture) *string { return &f.Cover }},
		{"title", "Titles plain, or under a heavy rule.", []string{Plain, Ruled}, func(f *Furniture) *string { return &f.Title }},
		{"work", "A plant's jobs under a rule of their colour, or on a band of it.", []string{Ruled, Band}, func(f *Furniture) *string { return &f.Work }},
		{"foot", "The page's number plain, or on a label with the chapter's name on a rule.", []string{Plain, Label}, func(f *Furniture) *string { return &f.Foot }},
	}
}

// shippedFaces finds the default's faces, which all ship.
func (l *loader) shippedFaces() {
	for _, r := range roles() {
		l.faces[r.face] = l.face(r.key, l.faceNames[r.key])
	}
}

// ownFaces finds the faces the theme names itself. One that is not there leaves
// the default's in its place.
func (l *loader) ownFaces() {
	for _, r := range roles() {
		if _, named := l.at[r.key]; !named {
			continue
		}
		if f := l.face(r.key, l.faceNames[r.key]); f != nil {
			l.faces[r.face] = f
		}
	}
}

// face finds one typeface: of those that ship, of the theme's folder by the name
// of its file, or of the system by its whole name.
func (l *loader) face(key, name string) *Face {
	for _, f := range l.faces {
		if f != nil && f.Name == name {
			return f
		}
	}
	at, own := l.at[key], false
	ttf := shipped(name)
	switch ext := strings.ToLower(path.Ext(name)); {
	case ttf != nil:
	case ext == ".ttf":
		own = true
		if f := l.own[name]; f != nil {
			ttf = f.Text
		} else {
			l.fail("theme/face", at, fmt.Sprintf("the typeface %q is not in the theme's folder", name), source.Mean(name, l.named(".ttf")))
			return nil
		}
	case ext == ".otf" || ext == ".ttc" || ext == ".woff" || ext == ".woff2":
		l.fail("theme/font", at, fmt.Sprintf("the typeface %q is no TrueType font", name), "give its TrueType file, which ends in .ttf")
		return nil
	default:
		own = true
		if l.fonts != nil {
			ttf = l.fonts(name)
		}
		if ttf == nil {
			hint := source.Closest(name, shippedNames())
			if hint != "" {
				hint = fmt.Sprintf("did you mean %q?", hint)
			}
			l.found.Add(source.Warning, "theme/no-font", at, fmt.Sprintf("there is no typeface %q on this machine: %s is set in its place", name, l.instead(key)),
				hint, "a file of the theme's folder, name.ttf, is there on every machine")
			return nil
		}
	}
	if err := printable(ttf); err != nil {
		l.fail("theme/font", at, fmt.Sprintf("the typeface %q cannot be printed: %v", name, err))
		return nil
	}
	f, err := newFace(name, ttf)
	if err != nil {
		l.fail("theme/font", at, fmt.Sprintf("the typeface %q cannot be used: %v", name, err))
		return nil
	}
	if f.own = own; strings.HasSuffix(strings.ToLower(name), ".ttf") {
		if called := FontName(strings.NewReader(string(ttf))); called != "" {
			f.Name = called
		}
	}
	if missing := f.lacks(vital); missing != "" {
		l.fail("theme/glyph", at, fmt.Sprintf("the typeface %q lacks the letters %s", name, missing), "it cannot set words: choose another")
		return nil
	}
	if missing := f.lacks(wanted); missing != "" && key != "small-caps" {
		l.found.Add(source.Warning, "theme/glyph", at, fmt.Sprintf("the typeface %q lacks %s, which are left out where they stand", name, missing))
	}
	return f
}

// instead names the face that is set where one is missing.
func (l *loader) instead(key string) string {
	for _, r := range roles() {
		if f := l.faces[r.face]; r.key == key && f != nil {
			return f.Name
		}
	}
	return "none"
}

// named lists the files of the theme's folder with one of some endings.
func (l *loader) named(ends ...string) []string {
	var out []string
	for name := range l.own {
		if slices.Contains(ends, strings.ToLower(path.Ext(name))) {
			out = append(out, name)
		}
	}
	slices.Sort(out)
	return out
}

// logo reads the mark of who made the garden.
func (l *loader) logo(m *fields.Map) {
	alt, _ := m.Need("alt")
	if !m.Has("file") {
		m.Missing("file")
	}
	l.Logo = l.picture(m, "file", alt.Value, true)
	if l.PrintLogo = l.Logo; m.Has("print") {
		l.PrintLogo = l.picture(m, "print", alt.Value, false)
	} else if l.Logo != nil && l.Logo.SVG() {
		l.PrintLogo = nil
		l.found.Add(source.Note, "theme/logo", m.Key("file"), "the logo is an SVG and is shown on screens alone", "give a PNG for paper beside it: print: logo.png")
	}
}

// picture finds a picture of the theme's folder.
func (l *loader) picture(m *fields.Map, key, alt string, drawing bool) *Picture {
	t, ok := m.Text(key)
	if !ok {
		return nil
	}
	kinds := []string{".png", ".jpg", ".jpeg"}
	if drawing {
		kinds = append(kinds, ".svg")
	}
	f := l.own[t.Value]
	if f == nil || !slices.Contains(kinds, strings.ToLower(path.Ext(t.Value))) {
		l.fail("theme/picture", t.Span, fmt.Sprintf("the picture %q is not in the theme's folder, or of no kind that can be shown here", t.Value),
			source.Mean(t.Value, l.named(kinds...)), "kinds: "+strings.Join(kinds, ", "))
		return nil
	}
	p := &Picture{File: f, Alt: alt}
	if p.SVG() {
		var fault *svgFault
		if p.Drawing, fault = redrawn(f); fault != nil {
			l.fail("theme/svg", fault.at, "the drawing cannot be shown: "+fault.why, "save it as a plain SVG of shapes and text, or give a PNG")
			return nil
		}
		return p
	}
	var err error
	if p.Photo, err = photo.ReadClear(f.Text); err != nil {
		l.fail("theme/picture", t.Span, fmt.Sprintf("the picture %q cannot be shown: %v", t.Value, err))
		return nil
	}
	return p
}

// sections reads the order of a booklet's sections.
func (l *loader) sections(m *fields.Map) {
	l.Sections = nil
	for _, t := range m.Texts("sections") {
		if t.Value == "months" { // as it was called before there were garden days
			t.Value = "work"
		}
		switch {
		case slices.Contains(l.Sections, t.Value):
			m.Warn(t.Span, "section", fmt.Sprintf("the section %q is named twice and stands where it is named first", t.Value))
		case slices.Contains(SectionNames(), t.Value):
			l.Sections = append(l.Sections, t.Value)
		case strings.HasSuffix(t.Value, ".md"):
			l.page(m, t)
		default:
			m.Fail(t.Span, "section", fmt.Sprintf("there is no section %q", t.Value), source.Mean(t.Value, SectionNames()), "a page of the theme's own is named by its file: pages/about-us.md")
		}
	}
	for _, must := range Lasting() {
		if !slices.Contains(l.Sections, must) {
			m.Fail(m.Key("sections"), "section", fmt.Sprintf("the section %q is left out, and a booklet must have it", must), "it can be moved to any place in the list")
		}
	}
}

// page reads a page of the theme's own.
func (l *loader) page(m *fields.Map, t source.At[string]) {
	f := l.own[t.Value]
	if f == nil {
		m.Fail(t.Span, "section", fmt.Sprintf("the page %q is not in the theme's folder", t.Value), source.Mean(t.Value, l.named(".md")))
		return
	}
	page, ds := entries.ParsePage(f)
	l.found = append(l.found, ds...)
	l.Pages[t.Value] = page
	l.Sections = append(l.Sections, t.Value)
}

// SectionNames are the names of a booklet's sections in the order in which they
// stand if a theme says nothing. The cover comes before them and the contacts
// after.
func SectionNames() []string {
	return []string{"contents", "how-to-use", "pages", "garden", "year", "work", "plants", "jobs", "first-year", "safety", "glossary", "sources", "index"}
}

// Lasting are the sections that can be moved and not left out: without them
// there is no care, no key to its marks, or no word of what can hurt.
func Lasting() []string {
	return []string{"pages", "how-to-use", "year", "work", "plants", "safety"}
}
