package html

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"html/template"
	"regexp"
	"strconv"

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
func RenderOne(ctx context.Context, b *booklet.Book, t *theme.Theme, painted *Paintings, to Put) (source.Diagnostics, error) {
	e, err := newEdition(b, t, true, painted)
	if err != nil {
		return nil, err
	}
	var page bytes.Buffer
	if err := e.render(ctx, &page, e.opening(one)); err != nil {
		return nil, err
	}
	return e.ds.Sorted(), to(one, e.inPlace(page.Bytes())...)
}

// inPlace gives a page with its sections where [page.Under] kept places for them.
func (e *edition) inPlace(page []byte) [][]byte {
	var out [][]byte
	from := 0
	for _, m := range kept.FindAllSubmatchIndex(page, -1) {
		// A theme may have written the signs itself.
		if n, err := strconv.Atoi(string(page[m[2]:m[3]])); err == nil && n < len(e.sections) {
			out = append(out, page[from:m[0]], e.sections[n])
			from = m[1]
		}
	}
	return append(out, page[from:])
}

// kept is the place of a section in a page of many: its number between signs that no
// text holds once it is escaped.
var kept = regexp.MustCompile(`\x00(\d+)\x00`)

// Under renders a section for a file with more of them, whose name is above
// theirs: its headings stand one level lower than on a page of its own. It gives the
// section's place: the sections are megabytes, and templates copy what they are given.
func (p *page) Under(s *booklet.Section) (template.HTML, error) {
	p.Section, p.Kind = s, s.Kind
	p.under.Reset()
	if err := p.set.execute(&p.under, "section", p); err != nil {
		return "", err
	}
	p.sections = append(p.sections, lowered(p.under.Bytes()))
	return template.HTML(fmt.Sprintf("\x00%d\x00", len(p.sections)-1)), nil
}

// lowered gives a text whose headings of the first two levels are one level lower.
// Text of the book is escaped and holds no tags.
func lowered(text []byte) []byte {
	out := bytes.Clone(text)
	for rest := out; ; {
		i := bytes.IndexByte(rest, '<')
		if i < 0 {
			return out
		}
		rest = rest[i+1:]
		tag := bytes.TrimPrefix(rest, []byte("/"))
		if len(tag) > 1 && tag[0] == 'h' && (tag[1] == '1' || tag[1] == '2') {
			tag[1]++
		}
	}
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
