package html

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"html/template"
	"strings"

	"sheaf/generator/booklet"
	"sheaf/generator/source"
	"sheaf/generator/theme"
)

// one is the edition in a single file.
const one = "booklet.html"

// RenderOne gives the whole booklet as one HTML file to send by e-mail: the
// sections one after another, links between them as places in the file, style,
// script and pictures within it. Its policy lets that style and that script
// work by their hashes and nothing else.
func RenderOne(b *booklet.Book, t *theme.Theme, painted *Paintings, to Put) (source.Diagnostics, error) {
	e, err := newEdition(b, t, true, painted)
	if err != nil {
		return nil, err
	}
	var page bytes.Buffer
	if err := e.render(&page, e.opening(one)); err != nil {
		return nil, err
	}
	return e.ds.Sorted(), to(one, page.Bytes())
}

// Under renders a section for a file with more of them, whose name is above
// theirs: its headings stand one level lower than on a page of its own.
func (p *page) Under(s *booklet.Section) (template.HTML, error) {
	p.Section, p.Kind = s, s.Kind
	var b bytes.Buffer
	if err := p.pages.ExecuteTemplate(&b, "section", p); err != nil {
		return "", err
	}
	// Text of the book is escaped and holds no tags.
	lower := strings.NewReplacer("<h1", "<h2", "</h1>", "</h2>", "<h2", "<h3", "</h2>", "</h3>")
	return template.HTML(lower.Replace(b.String())), nil
}

// Style and Script are what the policy of the single file lets work.
func (p *page) Style() template.CSS { return template.CSS(p.style) }
func (p *page) Script() template.JS { return template.JS(p.script) }

// Policy is the content security policy of a page. Pages are also opened from
// a folder, where the origin is opaque: Chromium takes 'self' for files too;
// file: is named for browsers that do not, and opens nothing to pages that are
// served.
func (p *page) Policy() string {
	style, script, pictures := "'self' file:", "'self' file:", "'self' file: data:"
	if p.One {
		style, script, pictures = hash(p.style), hash(p.script), "data:"
	}
	return fmt.Sprintf("default-src 'none'; style-src %s; script-src %s; img-src %s; base-uri 'none'; form-action 'none'", style, script, pictures)
}

func hash(b []byte) string {
	sum := sha256.Sum256(b)
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}
