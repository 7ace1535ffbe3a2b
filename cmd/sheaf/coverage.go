package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"sheaf/generator"
	"sheaf/generator/garden"
	"sheaf/generator/source"
)

// The report on a plant list is read by a designer between two calls. What needs a
// decision comes first, with what to write; then what was read otherwise than it
// stands, to be looked over; then what has its care from something wider than
// itself, a line for each row; and what is in the library by its own name is only
// counted.

// Between two columns, and the least a column of names can be: a word such as
// Calamagrostis and some.
const (
	gap       = "  "
	leastName = 18
)

// A coverage is a report being written.
type coverage struct {
	w          io.Writer
	width      int
	row        int // columns of the row numbers
	read, care int // of the names as written and of the care; 0: they stand below each other
}

// printCoverage writes the report, in lines of at most width columns.
func printCoverage(w io.Writer, c *generator.Coverage, width int) {
	p := &coverage{w: w, width: width, row: len(fmt.Sprint(lastRow(c.Rows)))}
	p.columns(c.Rows)
	var decide, look, wider, own []generator.RowLine
	for _, r := range c.Rows {
		switch how := garden.Match(r.How); {
		case how == garden.None, how == garden.Ambiguous, how == garden.Cautious:
			decide = append(decide, r)
		case r.Guessed, how == garden.Group:
			look = append(look, r)
		case how == garden.Exact:
			own = append(own, r)
		default:
			wider = append(wider, r)
		}
	}
	p.part("To decide", decide, p.decision)
	p.part("To look over", look, p.taken)
	p.part("By a synonym, the species or the genus", wider, p.taken)
	if len(own) > 0 {
		p.heading("By their own names", own)
		p.lines(ranges(own), p.row+len(gap))
		fmt.Fprintln(w)
	}
	p.counts(c)
}

func lastRow(rows []generator.RowLine) int {
	n := 0
	for _, r := range rows {
		n = max(n, r.Row)
	}
	return n
}

// columns shares the width between the names as written and what they were taken for.
func (p *coverage) columns(rows []generator.RowLine) {
	for _, r := range rows {
		p.read = max(p.read, utf8.RuneCountInString(r.Plant))
		p.care = max(p.care, utf8.RuneCountInString(careOf(r)))
	}
	names := p.width - p.row - 2*len(gap)
	if names < 2*leastName {
		p.read, p.care = 0, 0
		return
	}
	if p.read+p.care > names { // the shorter column keeps what it needs, up to a half
		p.read = max(min(p.read, names/2), names-p.care)
		p.care = names - p.read
	}
}

// part writes a heading and its rows.
func (p *coverage) part(heading string, rows []generator.RowLine, line func([]generator.RowLine)) {
	if len(rows) == 0 {
		return
	}
	p.heading(heading, rows)
	line(rows)
	fmt.Fprintln(p.w)
}

func (p *coverage) heading(text string, rows []generator.RowLine) {
	count := fmt.Sprintf("%d rows", len(rows))
	if len(rows) == 1 {
		count = "1 row"
	}
	fmt.Fprintf(p.w, "%s: %s\n", text, count)
}

// decision writes rows that wait for the designer. Those of one genus that ask the
// same stand together above the question.
func (p *coverage) decision(rows []generator.RowLine) {
	asked := map[string]bool{}
	for i, r := range rows {
		if r.Asks == nil {
			p.line(r)
			p.notes(r)
			continue
		}
		if asked[r.Entry] {
			continue
		}
		asked[r.Entry] = true
		for _, o := range rows[i:] {
			if o.Asks != nil && o.Entry == r.Entry {
				p.line(o)
				p.notes(o)
			}
		}
		p.question(r.Asks)
	}
}

// question writes what is asked, and what to write in the list for each answer.
func (p *coverage) question(a *generator.Asked) {
	indent := p.row + 2*len(gap)
	p.lines(a.Question+" Write what stands at the left in the column care:", indent)
	care := 0
	for _, o := range a.Answers {
		care = max(care, utf8.RuneCountInString(o.Care))
	}
	if indent+care+len(gap)+leastName > p.width {
		for _, o := range a.Answers {
			p.lines(o.Care+": "+o.Text, indent+len(gap))
		}
		return
	}
	for _, o := range a.Answers {
		for i, l := range wrap(o.Text, p.width-indent-care-2*len(gap)) {
			head := ""
			if i == 0 {
				head = o.Care
			}
			fmt.Fprintf(p.w, "%*s%s%s%s\n", indent+len(gap), "", pad(head, care), gap, l)
		}
	}
}

// taken writes rows with what they were taken for.
func (p *coverage) taken(rows []generator.RowLine) {
	for _, r := range rows {
		p.line(r)
		p.notes(r)
	}
}

// line writes a row: as it stands, and whose care it is given.
func (p *coverage) line(r generator.RowLine) {
	number := fmt.Sprint(r.Row)
	if p.read == 0 {
		inner := p.width - p.row - len(gap)
		for _, l := range slices.Concat(wrap(r.Plant, inner), wrap("→ "+careOf(r), inner)) {
			fmt.Fprintf(p.w, "%*s%s%s\n", p.row, number, gap, l)
			number = ""
		}
		return
	}
	left, right := wrap(r.Plant, p.read), wrap(careOf(r), p.care)
	for i := range max(len(left), len(right)) {
		text := fmt.Sprintf("%*s%s%s%s%s", p.row, number, gap, pad(at(left, i), p.read), gap, at(right, i))
		fmt.Fprintln(p.w, strings.TrimRight(text, " "))
		number = ""
	}
}

// careOf says whose care a row is given and, where its words were read for others,
// for which.
func careOf(r generator.RowLine) string {
	care := ""
	switch garden.Match(r.How) {
	case garden.None:
		return "no care"
	case garden.Ambiguous:
		return "fits alike: " + strings.Join(r.Near, ", ")
	case garden.Synonym:
		return "now " + r.Entry
	case garden.Cautious:
		care = "only what is safe for every " + r.Entry
	case garden.Genus:
		care = "as all " + r.Entry
		if strings.Contains(r.Entry, " ") { // a genus with one species in gardens
			care = "as " + r.Entry
		}
	case garden.Hybrids:
		care = "as hybrids of " + r.Entry
	default:
		care = "as " + r.Entry
	}
	switch {
	case !r.Guessed:
		return care
	case r.Meant == r.Entry:
		return "read as " + r.Meant
	}
	return "read as " + r.Meant + "; " + care
}

// notes writes below a row what else its designer must know.
func (p *coverage) notes(r generator.RowLine) {
	for _, n := range notesOf(r) {
		for i, l := range wrap(n, p.width-p.row-2*len(gap)-len("- ")) {
			mark := "- "
			if i > 0 {
				mark = "  "
			}
			fmt.Fprintf(p.w, "%*s%s%s\n", p.row+2*len(gap), "", mark, l)
		}
	}
}

func notesOf(r generator.RowLine) []string {
	var out []string
	for _, d := range r.Told {
		switch d.Code {
		case "list/uncovered": // its last hint is for all such rows alike
			out = append(out, d.Hints[:len(d.Hints)-1]...)
		case "list/species", "list/genus", "list/ambiguous": // a cultivar that may be meant
			out = append(out, d.Hints...)
		case "list/cautious":
			if len(r.Near) > 0 {
				out = append(out, "or is "+strings.Join(r.Near, " or ")+" meant?")
			}
		case "list/name-form", "list/synonym", "list/cultivar", "list/spelling":
		default:
			out = append(append(out, d.Message), d.Hints...)
		}
	}
	return out
}

// ranges names rows in few words: rows 2 to 7, 9 and 12.
func ranges(rows []generator.RowLine) string {
	var parts []string
	for i := 0; i < len(rows); {
		j := i
		for j+1 < len(rows) && rows[j+1].Row == rows[j].Row+1 {
			j++
		}
		part := fmt.Sprint(rows[i].Row)
		switch {
		case j == i+1:
			part += fmt.Sprintf(", %d", rows[j].Row)
		case j > i:
			part += fmt.Sprintf(" to %d", rows[j].Row)
		}
		parts = append(parts, part)
		i = j + 1
	}
	word := "rows "
	if len(rows) == 1 {
		word = "row "
	}
	return word + strings.Join(parts, ", ")
}

// lines writes text under an indent.
func (p *coverage) lines(text string, indent int) {
	for _, l := range wrap(text, p.width-indent) {
		fmt.Fprintf(p.w, "%*s%s\n", indent, "", l)
	}
}

// counts writes how many rows came to an entry in each way.
func (p *coverage) counts(c *generator.Coverage) {
	counts := map[string]int{}
	for _, r := range c.Rows {
		counts[r.How]++
	}
	var parts []string
	for _, how := range []garden.Match{garden.Exact, garden.Synonym, garden.Cultivar, garden.Species, garden.Hybrids, garden.Genus,
		garden.Spelling, garden.Group, garden.Cautious, garden.Ambiguous, garden.None} {
		if n := counts[string(how)]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, how))
		}
	}
	p.lines(fmt.Sprintf("%s: %d of %d rows have care: %s", c.List, c.Covered, len(c.Rows), strings.Join(parts, ", ")), 0)
	if c.Covered < len(c.Rows) {
		p.lines("hint: for a row without care, correct its name, write an entry, or name a care group in a column \"care\"", 0)
	}
}

// wrap breaks text between words into lines of at most width characters, and
// within a word that is longer than a line.
func wrap(text string, width int) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(source.Printable(text)) {
		if line != "" && utf8.RuneCountInString(line+" "+word) <= width {
			line += " " + word
			continue
		}
		if line != "" {
			out = append(out, line)
		}
		runes := []rune(word)
		for ; len(runes) > width; runes = runes[width:] {
			out = append(out, string(runes[:width]))
		}
		line = string(runes)
	}
	return append(out, line)
}

func at(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return ""
}

func pad(s string, width int) string {
	return s + strings.Repeat(" ", max(0, width-utf8.RuneCountInString(s)))
}
