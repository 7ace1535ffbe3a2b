package garden

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"sheaf/generator/prose"
	"sheaf/generator/source"
)

// text reads a list kept as CSV.
func (l *list) text(f *source.File) {
	l.file = decoded(f, l.found)
	l.read()
	top := make([][]string, min(len(l.lines), deepestHead))
	for i := range top {
		for _, c := range l.lines[i] {
			top[i] = append(top[i], c.text)
		}
	}
	l.head = l.words.heading(top)
}

// decoded gives the list as UTF-8. Spreadsheets save "Unicode text" as UTF-16
// and still know the Windows code page; its quotes and × are told by bytes that
// are no UTF-8.
func decoded(f *source.File, ds *source.Diagnostics) *source.File {
	if order, ok := utf16Order(f.Text); ok {
		return source.NewFile(f.Path, utf8Of(f.Text, unicode.UTF16(order, unicode.UseBOM)))
	}
	if utf8.Valid(f.Text) {
		return f
	}
	f = source.NewFile(f.Path, utf8Of(f.Text, charmap.Windows1252))
	ds.Add(source.Note, "list/encoding", source.Whole(f), "the list is not UTF-8 and was read as Windows-1252")
	return f
}

func utf8Of(text []byte, e encoding.Encoding) []byte {
	out, err := e.NewDecoder().Bytes(text)
	if err != nil {
		return bytes.ToValidUTF8(text, []byte("?"))
	}
	return out
}

// utf16Order tells UTF-16 by its mark, or by the zero byte of a first letter:
// no text in UTF-8 holds one.
func utf16Order(text []byte) (unicode.Endianness, bool) {
	switch {
	case len(text) < 2:
	case text[0] == 0xff && text[1] == 0xfe, text[0] != 0 && text[1] == 0:
		return unicode.LittleEndian, true
	case text[0] == 0xfe && text[1] == 0xff, text[0] == 0 && text[1] != 0:
		return unicode.BigEndian, true
	}
	return unicode.LittleEndian, false
}

func (l *list) read() {
	text := l.file.Text
	skip := 0
	if bytes.HasPrefix(text, []byte("\ufeff")) {
		skip = len("\ufeff")
	}
	r := csv.NewReader(bytes.NewReader(text[skip:]))
	r.Comma = separator(text[skip:], l.words)
	r.FieldsPerRecord = -1
	r.LazyQuotes = true
	l.commas = r.Comma == ';'
	starts := []int{skip}
	for i, b := range text {
		if b == '\n' {
			starts = append(starts, i+1)
		}
	}
	for len(l.lines) <= mostRows {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			l.unclosed()
			return
		}
		if err != nil {
			l.found.Add(source.Error, "list/csv", source.Whole(l.file), fmt.Sprintf("the list cannot be read as CSV: %v", err))
			return
		}
		// One more than may be, so that it is told.
		row := make([]cell, min(len(record), mostCells+1))
		for i, t := range record[:len(row)] {
			line, col := r.FieldPos(i)
			at := min(starts[line-1]+col-1, len(text))
			row[i] = cell{text: prose.Clean(t[:min(len(t), longestCell+1)]), span: l.place(at, t)}
			if len(t) > longestCell { // nothing more of the list is read
				row[i].text = t
				l.lines = append(l.lines, row[:i+1])
				if i == len(record)-1 {
					l.unclosed()
				}
				return
			}
		}
		l.lines = append(l.lines, row)
	}
}

// unclosed reports a quote that opens the last field and never closes: it has
// swallowed whatever rows came after it.
func (l *list) unclosed() {
	if len(l.lines) == 0 {
		return
	}
	row := l.lines[len(l.lines)-1]
	last, text := row[len(row)-1].span, l.file.Text
	if last.Start == 0 || text[last.Start-1] != '"' || bytes.HasSuffix(bytes.TrimSpace(text), []byte(`"`)) {
		return
	}
	l.found.Add(source.Error, "list/csv", last.Within(-1, 0), "a quote opens here and is never closed", "close it, or write a quote within a field twice")
}

// place is the span of a field's text; csv gives the place of its quote.
func (l *list) place(at int, t string) source.Span {
	if at < len(l.file.Text) && l.file.Text[at] == '"' && !strings.HasPrefix(t, `"`) {
		at++
	}
	return source.Span{File: l.file, Start: at, End: min(at+len(t), len(l.file.Text))}
}

// separator is the mark that makes the most known headings of one of the first
// lines. Counting marks alone is no guide: notes are full of commas. Only of a list
// without headings it is the mark that most of the first lines hold.
func separator(text []byte, words *lexicon) rune {
	best, most := ',', 0
	held := map[rune]int{}
	n := 0
	for line := range bytes.Lines(text) {
		if n++; n > deepestHead {
			break
		}
		const longest = 8 << 10 // of a line that is looked at; headings have 200 letters
		line = line[:min(len(line), longest)]
		for _, c := range ",;\t" {
			known := 0
			for f := range strings.SplitSeq(string(line), string(c)) {
				// "plant;" is the heading of no list with commas.
				if _, ok := words.column(strings.Trim(strings.TrimSpace(f), `"`)); ok && !strings.ContainsAny(f, ";\t") {
					known++
				}
			}
			if known > most {
				best, most = c, known
			}
			if bytes.ContainsRune(line, c) {
				held[c]++
			}
		}
	}
	if most > 0 {
		return best
	}
	for _, c := range "\t;" { // a comma may stand in a note
		if held[c] > held[best] || held[c] > 0 && held[c] == held[best] {
			best = c
		}
	}
	return best
}
