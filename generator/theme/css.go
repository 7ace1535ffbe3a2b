package theme

import (
	"strings"
	"unicode/utf8"
)

// A cssToken is what of a stylesheet can load something: a word after @, the name of
// a function, or the address of a url. The value is as a browser reads it,
// without escapes; names are in small letters.
type cssToken struct {
	kind       cssKind
	value      string
	start, end int // in bytes
}

type cssKind int

const (
	cssOther    cssKind = iota
	cssAt               // @value
	cssFunction         // value(
	cssURL              // url(value), or an opened url( whose address is a string
)

// A cssReader takes a stylesheet apart by CSS Syntax Module Level 3 (W3C Candidate
// Recommendation Draft, 24 December 2021), section 4, as far as it matters to what
// is loaded: comments, strings, escapes, names, functions and urls. It never fails:
// nor does a browser.
type cssReader struct {
	text string
	at   int
}

// cssTokens lists what of a stylesheet can load something, in its order.
func cssTokens(text string) []cssToken {
	r := &cssReader{text: text}
	var out []cssToken
	for r.at < len(r.text) {
		start := r.at
		kind, value := r.next()
		if kind != cssOther {
			out = append(out, cssToken{kind, value, start, r.at})
		}
	}
	return out
}

// peek gives the byte some places ahead; 0 after the end.
func (r *cssReader) peek(n int) byte {
	if r.at+n < len(r.text) {
		return r.text[r.at+n]
	}
	return 0
}

// next reads one token (4.3.1).
func (r *cssReader) next() (cssKind, string) {
	switch c := r.peek(0); {
	case c == '/' && r.peek(1) == '*':
		if i := strings.Index(r.text[r.at+2:], "*/"); i >= 0 {
			r.at += 2 + i + 2
		} else {
			r.at = len(r.text)
		}
	case c == '"' || c == '\'':
		r.quoted()
	case c == '@':
		if r.at++; r.named() {
			return cssAt, strings.ToLower(r.name())
		}
	case c == '#':
		if r.at++; inName(r.peek(0)) || r.escape() {
			r.name()
		}
	case c >= '0' && c <= '9':
		// A number and its unit; neither loads, and 1url( is no url.
		for c := r.peek(0); c >= '0' && c <= '9' || c == '.'; c = r.peek(0) {
			r.at++
		}
		if r.named() {
			r.name()
		}
	case r.named():
		return r.word()
	default:
		r.at++
	}
	return cssOther, ""
}

// word reads a name that may be a function or a url (4.3.4).
func (r *cssReader) word() (cssKind, string) {
	name := strings.ToLower(r.name())
	if r.peek(0) != '(' {
		return cssOther, ""
	}
	r.at++
	if name != "url" {
		return cssFunction, name
	}
	r.space()
	if c := r.peek(0); c == '"' || c == '\'' {
		return cssURL, r.quoted()
	}
	return cssURL, r.address()
}

// address reads a url without quotes up to its end, also one that is spoilt (4.3.6,
// 4.3.14).
func (r *cssReader) address() string {
	var out strings.Builder
	for r.at < len(r.text) {
		switch {
		case r.peek(0) == ')':
			r.at++
			return strings.TrimRight(out.String(), " \t\r\n\f")
		case r.escape():
			out.WriteRune(r.escaped())
		default:
			out.WriteByte(r.peek(0))
			r.at++
		}
	}
	return out.String()
}

// quoted reads a string (4.3.5). One that its line leaves open ends there.
func (r *cssReader) quoted() string {
	var out strings.Builder
	quote := r.peek(0)
	for r.at++; r.at < len(r.text); {
		switch c := r.peek(0); {
		case c == quote:
			r.at++
			return out.String()
		case c == '\n' || c == '\r' || c == '\f':
			return out.String()
		case c == '\\' && r.at+1 == len(r.text):
			r.at++
		case c == '\\' && newline(r.peek(1)): // the line goes on in the next
			if r.at += 2; r.text[r.at-1] == '\r' && r.peek(0) == '\n' {
				r.at++
			}
		case c == '\\':
			out.WriteRune(r.escaped())
		default:
			out.WriteByte(c)
			r.at++
		}
	}
	return out.String()
}

// named tells whether a name begins here (4.3.9).
func (r *cssReader) named() bool {
	c := r.peek(0)
	if c == '-' {
		if c = r.peek(1); c == '-' {
			return true
		}
		return c != 0 && beginsName(c) || c == '\\' && r.at+2 < len(r.text) && !newline(r.peek(2))
	}
	return c != 0 && beginsName(c) || r.escape()
}

// name reads a name, without escapes (4.3.11).
func (r *cssReader) name() string {
	var out strings.Builder
	for r.at < len(r.text) {
		switch {
		case inName(r.peek(0)):
			out.WriteByte(r.peek(0))
			r.at++
		case r.escape():
			out.WriteRune(r.escaped())
		default:
			return out.String()
		}
	}
	return out.String()
}

// escape tells whether an escape begins here (4.3.8).
func (r *cssReader) escape() bool {
	return r.peek(0) == '\\' && r.at+1 < len(r.text) && !newline(r.peek(1))
}

// escaped reads an escape (4.3.7).
func (r *cssReader) escaped() rune {
	r.at++
	n, digits := 0, 0
	for ; digits < 6; digits++ {
		v := strings.IndexByte("0123456789abcdef", lower(r.peek(0)))
		if v < 0 {
			break
		}
		n = n*16 + v
		r.at++
	}
	if digits == 0 {
		c, size := utf8.DecodeRuneInString(r.text[r.at:])
		r.at += size
		return c
	}
	if r.peek(0) == '\r' && r.peek(1) == '\n' {
		r.at++
	}
	if c := r.peek(0); c == ' ' || c == '\t' || newline(c) {
		r.at++
	}
	if n == 0 || n > utf8.MaxRune || n >= 0xd800 && n < 0xe000 {
		return utf8.RuneError
	}
	return rune(n)
}

func (r *cssReader) space() {
	for c := r.peek(0); c == ' ' || c == '\t' || newline(c); c = r.peek(0) {
		r.at++
	}
}

func newline(c byte) bool { return c == '\n' || c == '\r' || c == '\f' }

func lower(c byte) byte {
	if c >= 'A' && c <= 'Z' {
		return c + 'a' - 'A'
	}
	return c
}

// beginsName tells letters, the underscore, and what is beyond ASCII.
func beginsName(c byte) bool {
	return c == '_' || c >= utf8.RuneSelf || lower(c) >= 'a' && lower(c) <= 'z'
}

func inName(c byte) bool { return beginsName(c) || c == '-' || c >= '0' && c <= '9' }
