// Package prose turns the Markdown body of a file into a small tree of blocks
// that both editions set: paragraphs, headings, lists. Anything a booklet
// cannot print, raw HTML above all, is left out and reported at its line, so
// nothing a contributor writes reaches a page as markup. It is the only
// importer of a Markdown library.
package prose

import (
	"fmt"
	"net/url"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"sheaf/generator/source"
)

// A Block is a Paragraph, a Heading or a List.
type Block interface{ block() }

// Paragraph is a run of text.
type Paragraph struct{ Runs []Run }

// Heading stands over what follows it; Level counts from 1.
type Heading struct {
	Level int
	Runs  []Run
}

// List is a row of items, numbered or not.
type List struct {
	Numbered bool
	Items    [][]Block
}

func (Paragraph) block() {}
func (Heading) block()   {}
func (List) block()      {}

// A Run is text in one style.
type Run struct {
	Text      string
	Bold      bool
	Italic    bool
	SmallCaps bool
	// Quiet is a label among words, "Look for", where print sets one small; entries
	// cannot ask for it.
	Quiet bool
	// Link is where the run leads: an address (http, https, mailto, tel) or,
	// in a booklet, "#" and the ID of a section.
	Link string
}

// Plain is one run without style.
func Plain(s string) []Run { return []Run{{Text: s}} }

// String gives the text of runs without their styles.
func String(runs []Run) string {
	var b strings.Builder
	for _, r := range runs {
		b.WriteString(r.Text)
	}
	return b.String()
}

// Limits of a text.
const (
	// deepest is how far blocks and styles may nest before the rest is left out.
	deepest = 12
	// largest is 5000 words, some twenty pages of a booklet. The parser takes the
	// square of a text's length for open brackets, emphasis and quotes: a second
	// for 100 KB, minutes for a megabyte.
	largest = 32 << 10
	// mostFaults is how many are told of one text.
	mostFaults = 100
)

// markdown is CommonMark and nothing else. Setting up a parser takes longer than most
// texts.
var markdown = goldmark.DefaultParser()

// Parse reads Markdown from byte offset from of the file to its end. kind
// starts the codes of diagnostics, as in fields.
func Parse(f *source.File, from int, kind string) ([]Block, source.Diagnostics) {
	body := f.Text[min(from, len(f.Text)):]
	p := &parser{file: f, from: from, body: body, kind: kind}
	if len(body) > largest {
		p.found.Add(source.Error, kind+"/too-large", source.Span{File: f, Start: from, End: from}, fmt.Sprintf("the text has %d bytes; at most %d are read", len(body), largest), "shorten it, or make several pages of it")
		return nil, p.found
	}
	root := markdown.Parse(text.NewReader(body))
	return p.blocks(root, 0), p.found
}

type parser struct {
	file  *source.File
	from  int
	body  []byte
	kind  string
	found source.Diagnostics
}

func (p *parser) warn(n ast.Node, code, message string, hints ...string) {
	if len(p.found) > mostFaults {
		return
	}
	if len(p.found) == mostFaults {
		code, message, hints = "too-many", fmt.Sprintf("more than %d faults; those after them are not told", mostFaults), nil
	}
	at := n.Pos()
	for q := n; at < 0 && q != nil; q = q.Parent() {
		at = q.Pos()
	}
	at = max(at, 0) + p.from
	// goldmark counts the columns of a tab, and may place what follows one beyond
	// the end of the text.
	at = min(at, len(p.file.Text))
	p.found.Add(source.Warning, p.kind+"/"+code, source.Span{File: p.file, Start: at, End: min(at+1, len(p.file.Text))}, message, hints...)
}

func (p *parser) blocks(parent ast.Node, depth int) []Block {
	var out []Block
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		if depth > deepest {
			p.warn(n, "markdown", "this is nested too deeply and is left out")
			return out
		}
		switch n := n.(type) {
		case *ast.Paragraph, *ast.TextBlock:
			if runs := p.runs(n); len(runs) > 0 {
				out = append(out, Paragraph{runs})
			}
		case *ast.Heading:
			out = append(out, Heading{n.Level, p.runs(n)})
		case *ast.List:
			list := List{Numbered: n.IsOrdered()}
			for item := n.FirstChild(); item != nil; item = item.NextSibling() {
				list.Items = append(list.Items, p.blocks(item, depth+1))
			}
			out = append(out, list)
		case *ast.Blockquote:
			out = append(out, p.blocks(n, depth+1)...)
		case *ast.HTMLBlock:
			p.warn(n, "html", "HTML is left out of booklets", "write it in Markdown")
		case *ast.CodeBlock, *ast.FencedCodeBlock:
			p.warn(n, "markdown", "a block of code is left out of booklets", "begin the lines without four spaces or a fence")
		case *ast.ThematicBreak, *ast.LinkReferenceDefinition:
			// A rule between paragraphs: the booklet's own spacing does its work.
			// An address given below the text stands where the text uses it.
		default:
			p.warn(n, "markdown", "this kind of block is left out of booklets: "+n.Kind().String())
		}
	}
	return out
}

func (p *parser) runs(n ast.Node) []Run {
	var out []Run
	p.inline(&out, n, Run{}, 0)
	for len(out) > 0 && strings.TrimSpace(out[len(out)-1].Text) == "" {
		out = out[:len(out)-1]
	}
	return out
}

func (p *parser) inline(out *[]Run, parent ast.Node, style Run, depth int) {
	if depth > deepest {
		p.warn(parent, "markdown", "this is nested too deeply and is left out")
		return
	}
	add := func(s string, run Run) {
		s = strings.Map(keep, s)
		if s == "" {
			return
		}
		before := ' '
		if n := len(*out); n > 0 {
			before, _ = utf8.DecodeLastRuneInString((*out)[n-1].Text)
		}
		s = quoted(s, before)
		run.Text = s
		if n := len(*out); n > 0 {
			if last := &(*out)[n-1]; last.Bold == run.Bold && last.Italic == run.Italic && last.Link == run.Link {
				last.Text += s
				return
			}
		}
		*out = append(*out, run)
	}
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		inner := style
		switch n := n.(type) {
		case *ast.Text:
			add(string(plain(n.Segment.Value(p.body))), style)
			if n.SoftLineBreak() || n.HardLineBreak() {
				add(" ", style)
			}
		case *ast.String:
			add(string(n.Value), style)
		case *ast.Emphasis:
			if n.Level > 1 {
				inner.Bold = true
			} else {
				inner.Italic = true
			}
			p.inline(out, n, inner, depth+1)
		case *ast.CodeSpan:
			p.inline(out, n, style, depth+1)
		case *ast.Link:
			if safe(string(n.Destination)) {
				inner.Link = string(n.Destination)
			} else {
				p.outside(n)
			}
			p.inline(out, n, inner, depth+1)
		case *ast.AutoLink:
			inner.Link = string(n.URL(p.body))
			if n.AutoLinkType == ast.AutoLinkEmail && !strings.HasPrefix(inner.Link, "mailto:") {
				inner.Link = "mailto:" + inner.Link
			}
			if !safe(inner.Link) {
				inner.Link = ""
				p.outside(n)
			}
			add(string(n.Label(p.body)), inner)
		case *ast.RawHTML:
			p.warn(n, "html", "HTML is left out of booklets", "write it in Markdown")
		case *ast.Image:
			p.warn(n, "image", "a picture within the text is left out of booklets")
		default:
			p.warn(n, "markdown", "this is left out of booklets: "+n.Kind().String())
		}
	}
}

// outside tells of a link to what is no address for a reader.
func (p *parser) outside(n ast.Node) {
	p.warn(n, "link", "a booklet links to web, mail and telephone addresses only", "begin the address with https://, mailto: or tel:")
}

// plain resolves backslash escapes and character references, which the parser
// leaves to a renderer.
func plain(b []byte) []byte {
	return util.UnescapePunctuations(util.ResolveEntityNames(util.ResolveNumericReferences(b)))
}

// keep drops what must not stand in a booklet: control characters, marks that
// turn the direction of text, and signs that nobody sees. Those that join letters,
// or part them, and make one picture of several are seen in what they join. Ends of
// lines are spaces.
func keep(r rune) rune {
	switch {
	case r == '\n', r == '\t', r == 0x2028, r == 0x2029:
		return ' '
	case r < 0x20, r >= 0x7f && r < 0xa0, r == utf8.RuneError,
		r > 0xffff && unicode.In(r, unicode.Cf, unicode.Variation_Selector, unicode.Other_Default_Ignorable_Code_Point),
		r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069, r == 0x200e, r == 0x200f, r == 0x061c,
		r == 0x200b, r == 0x2060, r == 0xfeff, r >= 0xfe00 && r <= 0xfe0f, r >= 0xfff9 && r <= 0xfffb,
		r&0xfffe == 0xfffe, r >= 0xfdd0 && r <= 0xfdef: // no characters at all
		return -1
	}
	return r
}

// joiners join two letters or part them: U+200D and U+200C.
const joiners = "\u200d\u200c"

// joining drops the joiners that stand at the end of a word: text that is pasted has
// them, and names are compared.
func joining(s string) string {
	if !strings.ContainsAny(s, joiners) {
		return s
	}
	in := []rune(s)
	end := func(i int) bool {
		return i < 0 || i >= len(in) || unicode.IsSpace(in[i]) || strings.ContainsRune(joiners, in[i])
	}
	var out strings.Builder
	for i, r := range in {
		if !strings.ContainsRune(joiners, r) || !end(i-1) && !end(i+1) {
			out.WriteRune(r)
		}
	}
	return out.String()
}

// Clean is keep for a line of text that is not Markdown: names, notes.
func Clean(s string) string {
	s = joining(strings.Map(keep, s))
	if spaced(s) {
		return s
	}
	return strings.Join(strings.Fields(s), " ")
}

// spaced tells a text whose words stand one space apart, with none around them.
func spaced(s string) bool {
	before := ' '
	for _, r := range s {
		if unicode.IsSpace(r) && (r != ' ' || before == ' ') {
			return false
		}
		before = r
	}
	return before != ' ' || s == ""
}

// Sentence is Clean for words that are printed as they are, with the quotation
// marks and apostrophes of print.
func Sentence(s string) string { return quoted(Clean(s), ' ') }

// quoted gives straight quotation marks the shapes of print, by what stands
// before them: after a space or a bracket they open. before is what stands
// before the text.
func quoted(s string, before rune) string {
	if !strings.ContainsAny(s, `'"`) {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		opens := unicode.IsSpace(before) || strings.ContainsRune("([{/–—‘“", before)
		switch {
		case r == '\'' && opens:
			r = '‘'
		case r == '\'':
			r = '’'
		case r == '"' && opens:
			r = '“'
		case r == '"':
			r = '”'
		}
		b.WriteRune(r)
		before = r
	}
	return b.String()
}

// safe tells whether an address may stand in a booklet.
func safe(s string) bool {
	u, err := url.Parse(s)
	return err == nil && slices.Contains([]string{"http", "https", "mailto", "tel"}, strings.ToLower(u.Scheme))
}
