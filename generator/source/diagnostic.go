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
	// Aside says that what an error is about was left out of the build: it is told
	// as any other and stops nothing.
	Aside bool
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
func (ds Diagnostics) HasErrors() bool {
	return slices.ContainsFunc(ds, func(d Diagnostic) bool { return d.Severity == Error && !d.Aside })
}

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
	// Width is how many characters a line of [Diagnostics.Letter] may have.
	Width int
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
		// Errors first: a capped list must not hide what stopped the build, nor
		// that something was left out behind the reasons why.
		slices.SortStableFunc(shown, func(a, b Diagnostic) int {
			return cmp.Or(cmp.Compare(b.weight(), a.weight()), cmp.Compare(b.Severity, a.Severity))
		})
		shown = shown[:style.Most]
	}
	for _, d := range shown {
		d.print(out, style, 0)
	}
	if rest := len(sorted) - len(shown); rest > 0 {
		fmt.Fprintf(out, "and %d more\n", rest)
	}
	if sum := ds.Summary(); sum != "" {
		fmt.Fprintln(out, sum)
	}
	return out.Flush()
}

// weight is the severity by what a message does to a build: an error that stops
// nothing weighs less than a warning that something was left out.
func (d Diagnostic) weight() Severity {
	if d.Aside {
		return Note
	}
	return d.Severity
}

// Letter writes the messages as [Diagnostics.Print] does, for somebody to whom
// they are sent: each with an empty line before it, no line longer than
// style.Width allows, and none left away or counted.
func (ds Diagnostics) Letter(w io.Writer, style Style) error {
	out := bufio.NewWriter(w)
	for _, d := range ds.Sorted() {
		fmt.Fprintln(out)
		d.print(out, style, style.Width)
	}
	return out.Flush()
}

// Summary counts errors and warnings: "2 errors, 1 warning"; empty for none.
// Errors that stop nothing come last, with where they are.
func (ds Diagnostics) Summary() string {
	var parts []string
	count := func(n int, of Severity, where string) {
		switch {
		case n == 1:
			parts = append(parts, "1 "+of.String()+where)
		case n > 1:
			parts = append(parts, fmt.Sprintf("%d %ss%s", n, of, where))
		}
	}
	sorted := ds.Sorted()
	aside := 0
	for _, d := range sorted {
		if d.Severity == Error && d.Aside {
			aside++
		}
	}
	count(sorted.Count(Error)-aside, Error, "")
	count(sorted.Count(Warning), Warning, "")
	count(sorted.Count(Note), Note, "")
	count(aside, Error, " in what is left out")
	return strings.Join(parts, ", ")
}

// print writes one message; width is how many characters a line may have, 0 for
// as many as it takes.
func (d Diagnostic) print(w io.Writer, style Style, width int) {
	paint := func(code, s string) string {
		if !style.Color {
			return s
		}
		return "\x1b[" + code + "m" + s + "\x1b[0m"
	}
	// Two forms of weight beside the word itself: colour never carries meaning alone.
	weight := map[Severity]string{Error: "1;31", Warning: "1;33", Note: "1;36"}[d.Severity]
	// say writes a message after what stands before it: its place, which is never
	// broken, and a painted word.
	say := func(place, code, word, text string) {
		at := 0
		put := func(s, painted string) {
			n := utf8.RuneCountInString(s)
			switch {
			case at == 0:
			case width > 0 && at+1+n > width:
				fmt.Fprintln(w)
				at = 0
			default:
				fmt.Fprint(w, " ")
				at++
			}
			fmt.Fprint(w, painted)
			at += n
		}
		if place != "" {
			put(place+":", place+":")
		}
		if word != "" {
			put(word, paint(code, word))
		}
		if width == 0 {
			put(text, text)
		} else {
			for _, s := range strings.Fields(text) {
				put(s, s)
			}
		}
		fmt.Fprintln(w)
	}
	place, line, caret := d.where(style.Show, width)
	say(place, weight, d.Severity.String()+":", fmt.Sprintf("%s [%s]", inLine(d.Message), d.Code))
	if caret != "" {
		fmt.Fprintf(w, "  %s\n  %s\n", line, paint(weight, caret))
	}
	for _, r := range d.Related {
		say(r.Span.where(style.Show), "", "", inLine(r.Value))
	}
	for _, h := range d.Hints {
		say("", "1", "hint:", inLine(h))
	}
}

// Where gives what is told of a message's place: "path:line:column", the line,
// and carets under what is meant; empty for one about the run. show turns a
// path into what the reader should see; nil keeps it.
func (d Diagnostic) Where(show func(path string) string) (place, line, caret string) {
	return d.where(show, 0)
}

// where is [Diagnostic.Where] with no more of the line than fits a width; 0 for
// any.
func (d Diagnostic) where(show func(path string) string, width int) (place, line, caret string) {
	if d.Span.File == nil {
		return "", "", ""
	}
	if len(d.Span.File.Text) > 0 {
		most := widest
		if width > 0 {
			most = min(most, max(width-len("  "), 1))
		}
		line, caret = underline(d.Span, most)
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
// and a line of carets under the span, both in characters: of a line of more
// than most characters the part around the span.
func underline(s Span, most int) (line, caret string) {
	before, text := s.line()
	at := utf8.RuneCount(before)
	length := max(utf8.RuneCountInString(strings.SplitN(s.Text(), "\n", 2)[0]), 1)
	var a, b strings.Builder
	first := max(0, at-most/2)
	if most < widest { // narrow: as much as there is room for
		first = max(0, min(first, utf8.RuneCount(text)-most))
	}
	i := 0
	for _, r := range string(text) {
		if i >= first && i < first+most {
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
		LeftOut  bool     `json:"leftOut,omitempty"` // an error that stops nothing, see Aside
	}{path(d), p.Line, p.Column, d.Severity.String(), d.Code, d.Message, append([]string{}, d.Hints...), d.Aside})
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
func Edits(a, b string) int { return EditsWithin(a, b, len(a)+len(b)) }

// EditsWithin is Edits of texts that are at most so far apart; for others it is
// some number beyond.
func EditsWithin(a, b string, most int) int {
	x, y := []rune(a), []rune(b)
	older, last, row := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	before := 0 // the least of the row before
	for i := 1; i <= len(x); i++ {
		older, last, row = last, row, older
		row[0] = i
		least := i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], older[j-2]+1)
			}
			least = min(least, row[j])
		}
		if least > most && before > most { // a swap reaches over one row
			return most + 1
		}
		before = least
	}
	return row[len(y)]
}
