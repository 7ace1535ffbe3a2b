package garden

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"

	"sheaf/generator/fields"
	"sheaf/generator/prose"
	"sheaf/generator/site"
	"sheaf/generator/source"
)

// column is what a column of a plant list holds.
type column int

const (
	plantColumn column = iota
	cultivarColumn
	quantityColumn
	bedColumn
	plantedColumn
	sizeColumn
	notesColumn
	careColumn
	columns // how many there are
)

// headings gives the words designers write above each column, lower case and
// without points; the first is the column's own name, as used in garden.yaml.
func headings() [columns][]string {
	return [columns][]string{
		plantColumn:    {"plant", "plants", "botanical name", "botanical", "latin name", "latin", "species", "plant name", "name", "taxon", "scientific name"},
		cultivarColumn: {"cultivar", "variety", "var"},
		quantityColumn: {"quantity", "qty", "no", "number", "nos", "nr", "amount", "count", "total no"},
		bedColumn:      {"bed", "area", "location", "zone", "border", "position", "planting area"},
		plantedColumn:  {"planted", "date", "date planted", "planting date", "year", "year planted"},
		sizeColumn:     {"size", "pot", "pot size", "supplied", "supply size", "container", "spec", "specification"},
		notesColumn:    {"notes", "note", "remarks", "comments", "comment"},
		careColumn:     {"care", "care group"},
	}
}

// Limits of a plant list: more than these no garden has, and a hostile file is
// refused before it fills memory.
const (
	largestList = 8 << 20
	mostRows    = 20000
)

// ReadList reads a plant list kept as CSV: comma, semicolon or tab; UTF-8 with
// or without a byte order mark, or Windows-1252; headings in any order. Blank
// rows and totals are skipped, and that is told in a note.
func ReadList(f *source.File, names []fields.Pair) ([]Row, source.Diagnostics) {
	var ds source.Diagnostics
	if len(f.Text) > largestList {
		ds.Add(source.Error, "list/too-large", source.Whole(f), fmt.Sprintf("the list has %d bytes; at most %d are read", len(f.Text), largestList))
		return nil, ds
	}
	f = decoded(f, &ds)
	l := &list{file: f, found: &ds}
	l.read(names)
	if ds.HasErrors() {
		return nil, ds
	}
	head := l.header(names)
	if head < 0 {
		ds.Add(source.Error, "list/no-heading", source.Whole(f), "no column of plant names was found",
			`head one column "plant" or "botanical name"`, `or name it in garden.yaml: columns: {"your heading": plant}`)
		return nil, ds
	}
	return l.rows(head), ds
}

// decoded gives the list as UTF-8. Spreadsheets still save the Windows code
// page; its quotes and × are told by bytes that are no UTF-8.
func decoded(f *source.File, ds *source.Diagnostics) *source.File {
	if utf8.Valid(f.Text) {
		return f
	}
	text, err := charmap.Windows1252.NewDecoder().Bytes(f.Text)
	if err != nil {
		text = bytes.ToValidUTF8(f.Text, []byte("?"))
	}
	f = source.NewFile(f.Path, text)
	ds.Add(source.Note, "list/encoding", source.Whole(f), "the list is not UTF-8 and was read as Windows-1252")
	return f
}

// cell is one field with its place.
type cell struct {
	text string
	span source.Span
}

type list struct {
	file  *source.File
	found *source.Diagnostics
	lines [][]cell
	cols  [columns]int // index of each column, -1 when the list has none
}

func (l *list) read(names []fields.Pair) {
	text := l.file.Text
	skip := 0
	if bytes.HasPrefix(text, []byte("\ufeff")) {
		skip = len("\ufeff")
	}
	r := csv.NewReader(bytes.NewReader(text[skip:]))
	r.Comma = separator(text[skip:], names)
	r.FieldsPerRecord = -1
	r.LazyQuotes = true
	starts := []int{skip}
	for i, b := range text {
		if b == '\n' {
			starts = append(starts, i+1)
		}
	}
	for len(l.lines) < mostRows {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			l.unclosed()
			return
		}
		if err != nil {
			l.found.Add(source.Error, "list/csv", source.Whole(l.file), "the list cannot be read as CSV: "+err.Error())
			return
		}
		row := make([]cell, len(record))
		for i, t := range record {
			line, col := r.FieldPos(i)
			at := min(starts[line-1]+col-1, len(text))
			row[i] = cell{prose.Clean(t), l.place(at, t)}
		}
		l.lines = append(l.lines, row)
	}
	l.found.Add(source.Error, "list/too-long", source.Whole(l.file), fmt.Sprintf("the list has more than %d rows", mostRows))
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
// lines. Counting marks alone is no guide: notes are full of commas.
func separator(text []byte, names []fields.Pair) rune {
	best, most := ',', 0
	n := 0
	for line := range bytes.Lines(text) {
		if n++; n > deepestHead {
			break
		}
		for _, c := range ",;\t" {
			known := 0
			for f := range strings.SplitSeq(string(line), string(c)) {
				if _, _, ok := columnOf(strings.Trim(strings.TrimSpace(f), `"`), names); ok {
					known++
				}
			}
			if known > most {
				best, most = c, known
			}
		}
	}
	return best
}

// deepestHead is how many lines of titles may stand above the headings.
const deepestHead = 20

// header finds the line that holds the most headings, a plant's among them,
// and sets cols. The most, because a title above may read "Plants". Of two
// headings for one column the better known counts.
func (l *list) header(names []fields.Pair) int {
	head, most := -1, 0
	for i, row := range l.lines[:min(len(l.lines), deepestHead)] {
		var cols, ranks [columns]int
		for c := range cols {
			cols[c] = -1
		}
		known := 0
		for j, cell := range row {
			c, rank, ok := columnOf(cell.text, names)
			if !ok {
				continue
			}
			known++
			if cols[c] < 0 || rank < ranks[c] {
				cols[c], ranks[c] = j, rank
			}
		}
		if cols[plantColumn] >= 0 && known > most {
			head, most, l.cols = i, known, cols
		}
	}
	return head
}

// columnOf tells which column a heading stands over and how plainly it says so:
// 0 is the column's own name.
func columnOf(heading string, names []fields.Pair) (column, int, bool) {
	word := strings.ToLower(strings.Trim(strings.ReplaceAll(heading, ".", ""), " :"))
	for _, n := range names {
		if strings.EqualFold(strings.TrimSpace(n.Key.Value), heading) {
			word = strings.ToLower(n.Value.Value)
		}
	}
	for c, words := range headings() {
		if r := slices.Index(words, word); r >= 0 {
			return column(c), r, true
		}
	}
	return 0, 0, false
}

var total = regexp.MustCompile(`(?i)^(sub-?\s?)?totals?\b`)

func (l *list) rows(head int) []Row {
	var out []Row
	var blank, totals int
	for i := head + 1; i < len(l.lines); i++ {
		row := l.lines[i]
		get := func(c column) cell {
			if j := l.cols[c]; j >= 0 && j < len(row) {
				return row[j]
			}
			return cell{}
		}
		plant := get(plantColumn)
		switch {
		case total.MatchString(plant.text),
			plant.text == "" && slices.ContainsFunc(row, func(c cell) bool { return total.MatchString(c.text) }):
			totals++
			continue
		case plant.text == "" && !slices.ContainsFunc(row, func(c cell) bool { return c.text != "" }):
			blank++
			continue
		case plant.text == "":
			l.found.Add(source.Warning, "list/no-plant", row[0].span, "this row names no plant and is left out")
			continue
		}
		if cv := get(cultivarColumn).text; cv != "" && !strings.Contains(plant.text, cv) {
			plant.text += " '" + strings.Trim(cv, `'"‘’“”`) + "'"
		}
		r := Row{
			Span: plant.span, Line: plant.span.Pos().Line, Plant: plant.text,
			Quantity: l.quantity(get(quantityColumn)),
			Size:     get(sizeColumn).text, Notes: get(notesColumn).text,
		}
		bed, care := get(bedColumn), get(careColumn)
		r.Bed = source.At[string]{Value: bed.text, Span: bed.span}
		r.Care = source.At[string]{Value: care.text, Span: care.span}
		r.Pot = potted(r)
		if c := get(plantedColumn); c.text != "" {
			d, err := planted(c.text)
			if err != nil {
				l.found.Add(source.Warning, "list/date", c.span, err.Error())
			}
			r.Planted = d
		}
		out = append(out, r)
	}
	if blank+totals > 0 {
		l.found.Add(source.Note, "list/skipped", source.Whole(l.file), fmt.Sprintf("%s and %s skipped", plural(blank, "blank row"), plural(totals, "row of totals")))
	}
	return out
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	if rest, ok := strings.CutPrefix(what, "row "); ok {
		return fmt.Sprintf("%d rows %s", n, rest)
	}
	return fmt.Sprintf("%d %ss", n, what)
}

var quantityForm = regexp.MustCompile(`(?i)^(?:x\s*)?(\d{1,3}(?:,\d{3})+|\d+(?:[.,]\d+)?)\s*(?:no\.?|nos\.?|x|pcs|plants|m)?$`)

// thousands tells "1,500", which is many, from "2,5", which is two and a half:
// nobody plants to a thousandth.
var thousands = regexp.MustCompile(`^\d{1,3}(,\d{3})+$`)

// quantity reads "7", "7 no.", "x 7"; nothing written means one.
func (l *list) quantity(c cell) float64 {
	if c.text == "" {
		return 1
	}
	m := quantityForm.FindStringSubmatch(c.text)
	if m == nil {
		l.found.Add(source.Warning, "list/quantity", c.span, fmt.Sprintf("%q is not a quantity; 1 is taken", c.text))
		return 1
	}
	figure := strings.Replace(m[1], ",", ".", 1)
	if thousands.MatchString(m[1]) {
		figure = strings.ReplaceAll(m[1], ",", "")
	}
	v, err := strconv.ParseFloat(figure, 64)
	if err != nil || v > most {
		l.found.Add(source.Error, "list/quantity", c.span, fmt.Sprintf("a quantity of %s is not possible", c.text))
		return 1
	}
	return v
}

// potted tells a plant that lives in a pot from one that came in one: only the
// bed or the notes say so, never the size in which it was bought.
func potted(r Row) bool {
	words := strings.FieldsFunc(strings.ToLower(r.Bed.Value+" "+r.Notes), func(c rune) bool { return c < 'a' || c > 'z' })
	for _, w := range []string{"pot", "pots", "planter", "planters", "container", "containers", "trough", "troughs"} {
		if slices.Contains(words, w) {
			return true
		}
	}
	return false
}

// planted reads a full date, a month and year, or a year alone; the last two
// mean the first of the month and 1 January.
func planted(s string) (site.Day, error) {
	if d, err := site.ParseDay(s); err == nil {
		return d, nil
	}
	for _, form := range []string{"02/01/2006", "2/1/2006", "2 January 2006", "2 Jan 2006", "January 2006", "Jan 2006", "01/2006", "2006-01", "2006"} {
		if t, err := time.Parse(form, s); err == nil && t.Year() >= 1900 && t.Year() < 2200 {
			return site.Date(t.Year(), t.Month(), t.Day()), nil
		}
	}
	return 0, fmt.Errorf("%q is not a date of planting", s)
}
