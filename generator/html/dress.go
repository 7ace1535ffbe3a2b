package html

import (
	"context"
	"encoding/base64"
	"errors"
	"fmt"
	"html/template"
	"io"
	"regexp"
	"strconv"
	"strings"

	"sheaf/generator/draw"
	"sheaf/generator/source"
	"sheaf/generator/theme"
)

// parsed gives the theme's templates, in which each step asks for leave.
func parsed(t *theme.Theme) (*template.Template, error) {
	all := template.New("theme").Funcs(new(budget).functions())
	for _, f := range t.Templates() {
		if _, err := all.New(f.Path).Parse(string(f.Text)); err != nil {
			return nil, fmt.Errorf("html: %w", err)
		}
	}
	if err := stepped(all); err != nil {
		return nil, fmt.Errorf("html: %w", err)
	}
	return all, nil
}

// Check finds what is wrong with a theme's own templates before there is a book
// to show: that they cannot be parsed, or that text would be put where it could
// not be kept from being taken for markup.
func Check(t *theme.Theme) source.Diagnostics {
	all, err := parsed(t)
	if err == nil {
		// Executing checks the whole set first, and then has nothing to show.
		if _, err = all.New(checking).Parse(`{{if .}}{{template "page" .}}{{end}}`); err == nil {
			err = all.ExecuteTemplate(io.Discard, checking, nil)
		}
		if unsafe := (*template.Error)(nil); !errors.As(err, &unsafe) {
			return nil
		}
	}
	return Fault(t, err)
}

// checking is the template that is executed to look through the others.
const checking = "a theme's templates"

// place finds the file, line and column in an error of the template packages:
// "template: FILE:LINE:COLUMN: …".
var place = regexp.MustCompile(`(?:html/)?template: ?([^\s:][^:]*):(\d+)(?::(\d+))?: (.*)`)

// Fault turns the error of a template that failed into a diagnostic at its
// place; nil for other errors.
func Fault(t *theme.Theme, err error) source.Diagnostics {
	if err == nil || errors.Is(err, context.Canceled) {
		return nil
	}
	text := strings.ReplaceAll(err.Error(), "html/template:", "template: ")
	m := place.FindStringSubmatch(text)
	if m == nil {
		return nil
	}
	var ds source.Diagnostics
	for _, f := range t.Templates() {
		if f.Path != m[1] {
			continue
		}
		hint := ""
		switch {
		case errors.Is(err, errSpent):
			hint = "look for a range over too much, or a template that calls itself without an end"
		case !t.Own(f):
			hint = "the template is the default theme's: one of the theme's own took the place of what it calls"
		}
		ds.Add(source.Error, "theme/template", spot(f, m[2], m[3]), "the template fails: "+plainly(m[4]), hint)
		return ds
	}
	// A template that is called and not defined has no place in any file.
	ds.Add(source.Error, "theme/template", source.Whole(t.File("theme.yaml")), "the templates fail: "+plainly(m[0]))
	return ds
}

// plainly is an error of a template without what repeats its place.
func plainly(s string) string {
	if _, after, ok := strings.Cut(s, ">: "); ok && strings.HasPrefix(s, "executing ") {
		return strings.TrimPrefix(after, "error calling "+stepName+": ")
	}
	return s
}

// spot is a line and a column of a file, which counts bytes from 0 and may be
// missing.
func spot(f *source.File, line, column string) source.Span {
	n, _ := strconv.Atoi(line)
	at := 0
	for range n - 1 {
		i := strings.IndexByte(string(f.Text[at:]), '\n')
		if i < 0 {
			break
		}
		at += i + 1
	}
	end := len(f.Text)
	if i := strings.IndexByte(string(f.Text[at:]), '\n'); i >= 0 {
		end = at + i
	}
	c, _ := strconv.Atoi(column)
	return source.Span{File: f, Start: min(at+c, end), End: min(at+c+1, end)}
}

// shown is a picture of the theme for a page: a file beside the pages, or in
// place.
func (p *page) shown(pic *theme.Picture, name string) (*image, error) {
	if pic == nil {
		return nil, nil
	}
	p.spend(drawnSteps)
	out := &image{Alt: pic.Alt}
	data, kind := pic.Drawing, "image/svg+xml"
	var err error
	switch {
	case pic.SVG():
		name += ".svg"
	case strings.HasSuffix(strings.ToLower(pic.Base()), ".png"): // a logo may be transparent
		kind, name = "image/png", name+".png"
		data, out.W, out.H, err = pic.Photo.PNG(p.photoWide())
	default:
		kind, name = "image/jpeg", name+".jpg"
		data, out.W, out.H, err = pic.Photo.JPEG(p.photoWide())
	}
	if err != nil {
		return nil, err
	}
	if p.One {
		out.Src = template.URL("data:" + kind + ";base64," + base64.StdEncoding.EncodeToString(data))
		return out, nil
	}
	p.put(name, data)
	out.Src = template.URL(p.Root() + name)
	return out, nil
}

// Logo is the theme's logo; nil for none.
func (p *page) Logo() (*image, error) { return p.shown(p.theme.Logo, "logo") }

// CoverPicture is the theme's picture for the cover; nil for none.
func (p *page) CoverPicture() (*image, error) { return p.shown(p.theme.Cover, "cover-picture") }

// family is a list of font families as CSS: that of a face of the theme, then
// what the theme names for browsers.
func family(f *theme.Face, then string) string {
	return strconv.Quote(f.Family()) + ", " + then
}

// families are the lists for running text and for headings as CSS variables.
func families(t *theme.Theme) string {
	return fmt.Sprintf("  --body: %s;\n  --heading: %s;\n", family(t.Face(draw.Body), t.Web.Body), family(t.Face(draw.Heading), t.Web.Heading))
}
