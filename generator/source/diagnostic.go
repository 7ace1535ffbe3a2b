package source

import (
	"bufio"
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"
)

// Severity says what a message does to a build.
type Severity int

const (
	// Note tells what was read or changed; it never fails a build.
	Note Severity = iota
	// Warning is a doubt; it fails a build only under --strict.
	Warning
	// Error stops a build: nothing is written.
	Error
)

func (s Severity) String() string { return [...]string{"note", "warning", "error"}[s] }

// A Diagnostic is one message about one place.
type Diagnostic struct {
	Severity Severity
	Code     string // stable, such as "entry/unknown-key"; DEVELOPERS.md lists them
	Span     Span   // zero when it is about the run and not a file
	Message  string // lower case, no full stop
	Hints    []string
	Related  []At[string] // other places that matter: "first written here"
}

// Diagnostics is what every stage returns beside its result.
type Diagnostics []Diagnostic

// Add reports one message. Hints that are empty are left out, so that a
// caller can pass the outcome of a search as it is.
func (ds *Diagnostics) Add(severity Severity, code string, span Span, message string, hints ...string) *Diagnostic {
	hints = slices.DeleteFunc(hints, func(h string) bool { return h == "" })
	for i := range hints {
		hints[i] = brief(hints[i])
	}
	*ds = append(*ds, Diagnostic{Severity: severity, Code: code, Span: span, Message: brief(message), Hints: hints})
	return &(*ds)[len(*ds)-1]
}

// longest is in how many bytes a message or a hint says what it must: one that
// repeats a cell of a hostile list could fill the terminal.
const longest = 600

// brief cuts a text that is too long, never within a character.
func brief(s string) string {
	if len(s) <= longest {
		return s
	}
	cut := longest
	for cut > 0 && !utf8.RuneStart(s[cut]) {
		cut--
	}
	return s[:cut] + "…"
}

// HasErrors tells whether a build must stop.
func (ds Diagnostics) HasErrors() bool { return ds.Count(Error) > 0 }

// Count is the number of messages of one severity.
func (ds Diagnostics) Count(s Severity) int {
	n := 0
	for _, d := range ds {
		if d.Severity == s {
			n++
		}
	}
	return n
}

// Sorted gives the messages by file, place and code, each said once.
func (ds Diagnostics) Sorted() Diagnostics {
	sorted := slices.Clone(ds)
	slices.SortStableFunc(sorted, func(a, b Diagnostic) int {
		return cmp.Or(
			cmp.Compare(path(a), path(b)),
			cmp.Compare(a.Span.Start, b.Span.Start),
			cmp.Compare(b.Severity, a.Severity),
			cmp.Compare(a.Code, b.Code),
			cmp.Compare(a.Message, b.Message))
	})
	return slices.CompactFunc(sorted, func(a, b Diagnostic) bool {
		return a.Code == b.Code && a.Span == b.Span && a.Message == b.Message
	})
}

func path(d Diagnostic) string {
	if d.Span.File == nil {
		return ""
	}
	return d.Span.File.Path
}

// Style is how messages are printed.
type Style struct {
	Color bool
	// Show turns a file's path into what the reader should see; nil keeps it.
	Show func(path string) string
	// Most is how many messages are printed in full; 0 prints all.
	Most int
}

// Print writes the messages as
//
//	path:line:column: error: message [code]
//	  the line
//	     ^
//	hint: …
//
// and closes with a line that counts them.
func (ds Diagnostics) Print(w io.Writer, style Style) error {
	out := bufio.NewWriter(w)
	sorted := ds.Sorted()
	shown := sorted
	if style.Most > 0 && len(sorted) > style.Most {
		// Errors first: a capped list must not hide what stopped the build.
		slices.SortStableFunc(shown, func(a, b Diagnostic) int { return cmp.Compare(b.Severity, a.Severity) })
		shown = shown[:style.Most]
	}
	for _, d := range shown {
		d.print(out, style)
	}
	if rest := len(sorted) - len(shown); rest > 0 {
		fmt.Fprintf(out, "and %d more\n", rest)
	}
	if sum := ds.Summary(); sum != "" {
		fmt.Fprintln(out, sum)
	}
	return out.Flush()
}

// Summary counts errors and warnings: "2 errors, 1 warning"; empty for none.
func (ds Diagnostics) Summary() string {
	var parts []string
	sorted := ds.Sorted()
	for s := Error; s >= Note; s-- {
		switch n := sorted.Count(s); n {
		case 0:
		case 1:
			parts = append(parts, "1 "+s.String())
		default:
			parts = append(parts, fmt.Sprintf("%d %ss", n, s))
		}
	}
	return strings.Join(parts, ", ")
}

func (d Diagnostic) print(w io.Writer, style Style) {
	paint := func(code, s string) string {
		if !style.Color {
			return s
		}
		return "\x1b[" + code + "m" + s + "\x1b[0m"
	}
	// Two forms of weight beside the word itself: colour never carries meaning alone.
	weight := map[Severity]string{Error: "1;31", Warning: "1;33", Note: "1;36"}[d.Severity]
	place, line, caret := d.Where(style.Show)
	if place != "" {
		place += ": "
	}
	fmt.Fprintf(w, "%s%s %s [%s]\n", place, paint(weight, d.Severity.String()+":"), inLine(d.Message), d.Code)
	if caret != "" {
		fmt.Fprintf(w, "  %s\n  %s\n", line, paint(weight, caret))
	}
	for _, r := range d.Related {
		fmt.Fprintf(w, "%s: %s\n", r.Span.where(style.Show), inLine(r.Value))
	}
	for _, h := range d.Hints {
		fmt.Fprintf(w, "%s %s\n", paint("1", "hint:"), inLine(h))
	}
}

// Where gives what is told of a message's place: "path:line:column", the line,
// and carets under what is meant; empty for one about the run. show turns a
// path into what the reader should see; nil keeps it.
func (d Diagnostic) Where(show func(path string) string) (place, line, caret string) {
	if d.Span.File == nil {
		return "", "", ""
	}
	if len(d.Span.File.Text) > 0 {
		line, caret = underline(d.Span)
	}
	return d.Span.where(show), line, caret
}

func (s Span) where(show func(path string) string) string {
	p := s.Pos()
	name := s.File.Path
	if show != nil {
		name = show(name)
	}
	return fmt.Sprintf("%s:%d:%d", inLine(name), p.Line, p.Column)
}

// widest keeps a line of a hostile file from flooding the terminal.
const widest = 160

// underline gives the source line, tabs opened and control characters shown,
// and a line of carets under the span, both in characters.
func underline(s Span) (line, caret string) {
	before, text := s.line()
	at := utf8.RuneCount(before)
	length := max(utf8.RuneCountInString(strings.SplitN(s.Text(), "\n", 2)[0]), 1)
	var a, b strings.Builder
	first := max(0, at-widest/2)
	i := 0
	for _, r := range string(text) {
		if i >= first && i < first+widest {
			cell := string(r)
			if r == '\t' {
				cell = "    "
			} else if !visible(r) {
				cell = "·"
			}
			a.WriteString(cell)
			mark := " "
			if i >= at && i < at+length {
				mark = "^"
			}
			b.WriteString(strings.Repeat(mark, utf8.RuneCountInString(cell)))
		}
		i++
	}
	if at >= i {
		b.WriteString("^")
	}
	return a.String(), strings.TrimRight(b.String(), " ")
}

// inLine is [Printable] of what stands in one line: nothing in it can begin a
// message of its own.
func inLine(s string) string { return strings.ReplaceAll(Printable(s), "\n", "·") }

// Printable keeps text from steering the terminal.
func Printable(s string) string {
	return strings.Map(func(r rune) rune {
		if r != '\n' && !visible(r) {
			return '·'
		}
		return r
	}, s)
}

func visible(r rune) bool {
	switch {
	case r < 0x20, r >= 0x7f && r < 0xa0, r == utf8.RuneError:
		return false
	case r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069, r == 0x200e, r == 0x200f, r == 0x061c:
		return false // direction overrides can make a line read as another
	case r == 0x2028, r == 0x2029:
		return false // ends of lines, for some terminals
	}
	return true
}

// MarshalJSON writes the form of booklet.json's "diagnostics".
func (d Diagnostic) MarshalJSON() ([]byte, error) {
	p := d.Span.Pos()
	return json.Marshal(struct {
		File     string   `json:"file"`
		Line     int      `json:"line"`
		Column   int      `json:"column"`
		Severity string   `json:"severity"`
		Code     string   `json:"code"`
		Message  string   `json:"message"`
		Hints    []string `json:"hints"`
	}{path(d), p.Line, p.Column, d.Severity.String(), d.Code, d.Message, append([]string{}, d.Hints...)})
}

// Closest finds the one known word that word was most likely meant to be: at
// most a third of its letters off, and nearer than every other. It gives ""
// when there is none or the choice is not clear.
func Closest(word string, known []string) string {
	const longest = 100 // far above any word that is known; a hostile one has a million letters
	if len(word) > longest {
		return ""
	}
	best, second, found := len(word)/3+2, len(word)/3+2, ""
	for _, k := range known {
		switch d := Edits(strings.ToLower(word), strings.ToLower(k)); {
		case d < best:
			best, second, found = d, best, k
		case d < second && k != found:
			second = d
		}
	}
	if found == "" || best == second || best > max(1, len(word)/3+1) {
		return ""
	}
	return found
}

// Mean is the hint for a word that is not known: the nearest known one, or
// all of them when they are few.
func Mean(word string, known []string) string {
	if near := Closest(word, known); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	if len(known) > 0 && len(known) <= 16 {
		return "known here: " + strings.Join(known, ", ")
	}
	return ""
}

// Edits counts the letters to add, drop, change or swap with a neighbour to
// turn a into b (optimal string alignment distance).
func Edits(a, b string) int {
	x, y := []rune(a), []rune(b)
	older, last, row := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(x); i++ {
		older, last, row = last, row, older
		row[0] = i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], older[j-2]+1)
			}
		}
	}
	return row[len(y)]
}
