package fields

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"sheaf/generator/source"
)

// Lost tells whether nothing of the YAML could be read, so that what the map
// lacks says nothing.
func (m *Map) Lost() bool { return m == nil || m.lost }

// Line finds a key in a text that cannot be read as YAML: at the start of a line
// of its own, with its value behind it. It is a guess, good enough to say whom
// or what a file is about while it is at fault, and never for what is printed.
func Line(f *source.File, key string) (source.At[string], bool) {
	end := 0
	for line := range bytes.Lines(f.Text) {
		end += len(line)
		rest, ok := bytes.CutPrefix(bytes.TrimPrefix(line, []byte("\ufeff")), []byte(key+":"))
		if !ok || len(rest) > longest {
			continue
		}
		v := strings.TrimSpace(latin(rest))
		if q := v[:min(1, len(v))]; q == `"` || q == "'" {
			v, _, _ = strings.Cut(v[1:], q)
		} else {
			v, _, _ = strings.Cut(v, " #")
		}
		if v = strings.TrimSpace(v); v == "" || strings.ContainsRune("[{|>&*!#", rune(v[0])) {
			break // a list or a block: whatever follows is not on this line
		}
		written := bytes.TrimSpace(rest)
		from := end - len(rest) + bytes.Index(rest, written)
		return source.At[string]{Value: v, Span: source.Span{File: f, Start: from, End: from + len(written)}}, true
	}
	return source.At[string]{}, false
}

// latin gives the text of bytes that may be of the time before UTF-8: every
// letter of Western names has the same number in Windows-1252 as in Unicode.
func latin(b []byte) string {
	if utf8.Valid(b) {
		return string(b)
	}
	runes := make([]rune, len(b))
	for i, c := range b {
		runes[i] = rune(c)
	}
	return string(runes)
}
