// Package source holds the files a build reads and the one kind of message
// the whole program speaks in: a [Diagnostic] that knows the bytes it is about.
//
// Every other package carries a [Span] with each value it reads and reports
// through [Diagnostics]; lines and columns are computed only when a message is
// printed.
package source

import (
	"bytes"
	"crypto/sha256"
	"slices"
	"unicode/utf8"
)

// A File is one input, read once and never changed.
type File struct {
	// Path is how the file is named in messages and in booklet.json: relative
	// to the garden folder, with forward slashes.
	Path string
	Text []byte
	Sum  [sha256.Size]byte
	// Table says that Text is a sheet of a workbook: a line is a row, a tab
	// ends a cell, and columns are counted in cells.
	Table bool
	ends  []int // where each line ends: a list of 5000 rows asks for each of them
}

// NewFile keeps text under the name path. The caller must not change text
// afterwards.
func NewFile(path string, text []byte) *File {
	f := &File{Path: path, Text: text, Sum: sha256.Sum256(text), ends: make([]int, 0, bytes.Count(text, []byte("\n")))}
	for i, b := range text {
		if b == '\n' {
			f.ends = append(f.ends, i)
		}
	}
	return f
}

// NewTable keeps a sheet of a workbook, written as [File.Table] says.
func NewTable(path string, text []byte) *File {
	f := NewFile(path, text)
	f.Table = true
	return f
}

// A Span is a range of bytes in a file. The zero Span belongs to no file.
type Span struct {
	File       *File
	Start, End int
}

// Whole is the span that stands for a file as a whole: its first byte.
func Whole(f *File) Span { return Span{File: f} }

// Within gives the part of s from byte offset start to end, counted from the
// beginning of s and kept inside the file.
func (s Span) Within(start, end int) Span {
	if s.File == nil {
		return s
	}
	limit := len(s.File.Text)
	from := min(max(s.Start+start, 0), limit)
	return Span{s.File, from, min(max(s.Start+end, from), limit)}
}

// Text is the written form of the span.
func (s Span) Text() string {
	if s.File == nil {
		return ""
	}
	return string(s.File.Text[s.Start:s.End])
}

// A Pos is a place for people: line from 1, column from 1 in characters, in a
// table in cells.
type Pos struct{ Line, Column int }

// Pos is where the span starts. A span without a file gives the zero Pos.
func (s Span) Pos() Pos {
	if s.File == nil {
		return Pos{}
	}
	before, _ := s.line()
	line, _ := slices.BinarySearch(s.File.ends, min(s.Start, len(s.File.Text)))
	p := Pos{Line: 1 + line, Column: 1 + utf8.RuneCount(before)}
	if s.File.Table {
		p.Column = 1 + bytes.Count(before, []byte("\t"))
	}
	return p
}

// bom may start a file; it takes no column.
const bom = "\ufeff"

// line gives the source line on which the span starts, without its end: what
// stands before the span, and the whole.
func (s Span) line() (before, whole []byte) {
	at := min(s.Start, len(s.File.Text))
	begin := bytes.LastIndexByte(s.File.Text[:at], '\n') + 1
	if begin == 0 && bytes.HasPrefix(s.File.Text, []byte(bom)) {
		begin = len(bom)
	}
	whole, _, _ = bytes.Cut(s.File.Text[begin:], []byte("\n"))
	return s.File.Text[min(begin, at):at], bytes.TrimRight(whole, "\r")
}

// At is a value together with the place where it was written.
type At[T any] struct {
	Value T
	Span  Span
}
