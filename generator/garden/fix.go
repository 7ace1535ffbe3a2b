package garden

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"

	"sheaf/generator/entries"
	"sheaf/generator/source"
)

// Taken is the name by which a planting is known, as it can be typed: what a list would
// have to say so that nothing about it is left to tell. A plant without care keeps its
// own.
func (p *Planting) Taken() string {
	if p.Entry == nil || p.Name.IsZero() {
		return p.Row.Plant
	}
	if n := p.Called(); n.String() != p.Row.Plant {
		return n.Plain()
	}
	return p.Row.Plant
}

// A Fix counts what was written into a fixed list.
type Fix struct{ Renamed, Asked, Without int }

// Fixed writes a list again, as CSV: every row and column is kept, plants have the
// names by which they are known, and columns are added at its end for what was there
// before, and for what only the designer can answer. Read again, it gives the same
// plantings.
func Fixed(f *source.File, sheet source.At[string], l *entries.Library, plantings []Planting) ([]byte, Fix) {
	var ds source.Diagnostics
	w := fixer{list: openList(f, nil, sheet, "", Knows(l), &ds)}
	if ds.HasErrors() {
		return nil, Fix{}
	}
	w.extra = make([][]string, len(w.lines))
	at := map[int]int{} // lines by where their plants stand
	for i, row := range w.lines {
		w.wide = max(w.wide, len(row))
		if c := w.plantCell(row); c.text != "" {
			at[c.span.Pos().Line] = i
		}
	}
	known := taken(plantings, l)
	for i := range plantings {
		if line, ok := at[plantings[i].Row.Line]; ok {
			w.row(line, &plantings[i], known[i])
		}
	}
	return w.write(), w.Fix
}

// taken gives the names of plantings, each held to what it is for: one that would not
// lead to the same entry stays as it is.
func taken(plantings []Planting, l *entries.Library) []string {
	rows := make([]Row, len(plantings))
	for i := range plantings {
		rows[i] = plantings[i].Row
		rows[i].Plant = plantings[i].Taken()
	}
	again, _ := MatchRows(rows, l, true)
	out := make([]string, len(plantings))
	for i := range plantings {
		out[i] = rows[i].Plant
		// Care of a group is an entry made for the row.
		if a, p := &again[i], &plantings[i]; a.Entry != p.Entry && (a.How != Group || p.How != Group) {
			out[i] = p.Row.Plant
		}
	}
	return out
}

type fixer struct {
	*list
	Fix
	wide  int
	extra [][]string // by line: what was there, care, question, what may be meant
}

// The columns a fixed list may have more.
const (
	wasExtra = iota
	careExtra
	questionExtra
	meanExtra
	extras
)

func (w *fixer) row(line int, p *Planting, name string) {
	more := make([]string, extras)
	if name != p.Row.Plant {
		more[wasExtra] = p.Row.Plant
		w.rename(line, p, name)
		w.Renamed++
	}
	switch {
	case p.How == Cautious && p.Entry.Asks != nil:
		w.Asked++
		question := p.Entry.Asks.Text
		for i, a := range p.Entry.Asks.Answers {
			mark := " Write in care:"
			if i > 0 {
				mark = ";"
			}
			question += fmt.Sprintf("%s %s (%s)", mark, a.Care.Value, a.Text)
		}
		more[questionExtra] = question
	case p.Entry == nil:
		w.Without++
		var may []string
		for _, e := range p.Near {
			may = append(may, e.Name.Value.Plain())
		}
		more[meanExtra] = strings.Join(may, ", ")
	}
	w.extra[line] = more
}

// rename writes a name into the cell of the plant, beside a quantity that stands there.
// A genus or cultivar in a column of its own goes with it.
func (w *fixer) rename(line int, p *Planting, name string) {
	row := w.lines[line]
	put := func(c column, text string) {
		if j := w.head.cols[c]; j >= 0 && j < len(row) && row[j].text != "" {
			row[j].text = text
		}
	}
	c := plantColumn
	if w.cell(row, c).text == "" {
		c = commonColumn
	}
	whole := w.cell(row, c).text
	old, _ := counted(cell{text: whole})
	put(c, strings.Replace(whole, old.text, name, 1))
	put(genusColumn, p.Called().Genus)
	put(cultivarColumn, "")
}

func (w *fixer) write() []byte {
	used := [extras]bool{}
	for _, more := range w.extra {
		for i, text := range more {
			used[i] = used[i] || text != ""
		}
	}
	used[careExtra] = used[questionExtra] && w.head.cols[careColumn] < 0
	var b bytes.Buffer
	b.WriteString("\ufeff") // by which spreadsheets know UTF-8
	out := csv.NewWriter(&b)
	if w.commas {
		out.Comma = ';' // as its figures are read
	}
	record := func(cells []cell, more []string) {
		fields := make([]string, w.wide, w.wide+extras)
		for j, c := range cells {
			fields[j] = c.text
		}
		for i := range extras {
			switch {
			case !used[i]:
			case more == nil:
				fields = append(fields, "")
			default:
				fields = append(fields, more[i])
			}
		}
		out.Write(fields) // a buffer takes all
	}
	names := []string{wasExtra: wasHeading, careExtra: columnNames()[careColumn], questionExtra: questionHeading, meanExtra: meanHeading}
	if w.head.line < 0 {
		record(w.headings(nil), names)
	}
	for i, row := range w.lines {
		switch {
		case i == w.head.line:
			record(w.headings(row), names)
		case i < w.head.line && len(row) > 0 && strings.HasPrefix(row[0].text, "sep="):
			// it is written with another mark
		default:
			record(row, w.extra[i])
		}
	}
	out.Flush()
	return b.Bytes()
}

// headings gives the line of headings, with the columns that were found by what they
// hold named.
func (w *fixer) headings(row []cell) []cell {
	if !w.byCells {
		return row
	}
	out := slices.Clone(row)
	for c, j := range w.head.cols {
		if j < 0 {
			continue
		}
		for len(out) <= j {
			out = append(out, cell{})
		}
		out[j].text = columnNames()[c]
	}
	return out
}
