package booklet

import (
	"bytes"
	"maps"
	"regexp"
	"strconv"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"sheaf/generator/entries"
	"sheaf/generator/source"
)

// written lists the files whose words the book says, those first that say little else:
// in a list stands much that is not printed.
func (in Input) written() []*source.File {
	var out []*source.File
	have := map[*source.File]bool{nil: true}
	add := func(f *source.File) {
		if !have[f] {
			have[f] = true
			out = append(out, f)
		}
	}
	pages := func(ps []*entries.Page) {
		for _, p := range ps {
			add(p.File)
		}
	}
	pages(in.Pages)
	for i := range in.Plantings {
		if e := in.Plantings[i].Entry; e != nil {
			add(e.File)
			if e.Group != nil {
				add(e.Group.File)
			}
		}
	}
	for _, j := range in.Library.Jobs {
		add(j.File)
	}
	if in.Region != nil {
		add(in.Region.File)
	}
	pages(in.Library.Pages)
	add(in.Garden.File)
	for i := range in.Plantings {
		add(in.Plantings[i].Row.Span.File)
	}
	return out
}

// coded is a character that is not written itself: an escape of YAML (1.2.2, 5.7) or
// a reference of Markdown.
var coded = regexp.MustCompile(`\\u([0-9A-Fa-f]{4})|\\U([0-9A-Fa-f]{8})|&#[Xx]([0-9A-Fa-f]{1,6});|&#([0-9]{1,7});`)

// Places finds where each of some characters is first written in the files whose words
// the book says. One that no file has, such as a character of the theme's own words,
// has no place.
func (b *Book) Places(chars map[rune]bool) map[rune]source.Span {
	out, rest := map[rune]source.Span{}, maps.Clone(chars)
	for _, f := range b.written {
		if len(rest) == 0 {
			break
		}
		for c, s := range places(f, rest) {
			out[c] = s
			delete(rest, c)
		}
	}
	return out
}

// places finds where in a file characters are first written.
func places(f *source.File, chars map[rune]bool) map[rune]source.Span {
	out := map[rune]source.Span{}
	found := func(c rune, from, to int) {
		if s, ok := out[c]; chars[c] && (!ok || from < s.Start) {
			out[c] = source.Span{File: f, Start: from, End: to}
		}
	}
	if bytes.Contains(f.Text, []byte(`\`)) || bytes.Contains(f.Text, []byte("&#")) {
		for _, m := range coded.FindAllSubmatchIndex(f.Text, -1) {
			for group, base := range []int{1: 16, 16, 16, 10} {
				if group > 0 && m[2*group] >= 0 {
					n, _ := strconv.ParseInt(string(f.Text[m[2*group]:m[2*group+1]]), base, 32)
					found(rune(n), m[0], m[1])
				}
			}
		}
	}
	before := 0 // where the character before begins
	for at := 0; at < len(f.Text); {
		c, size := utf8.DecodeRune(f.Text[at:])
		if c >= utf8.RuneSelf {
			found(c, at, at+size)
			found(unicode.ToLower(c), at, at+size) // small capitals are set from small letters
			if unicode.Is(unicode.Mn, c) {
				if whole, n := utf8.DecodeRune(norm.NFC.Bytes(f.Text[before : at+size])); n > size {
					found(whole, before, at+size) // what pages have is composed
				}
			}
		}
		before, at = at, at+size
	}
	return out
}
