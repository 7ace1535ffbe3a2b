package garden

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"sheaf/generator/source"
)

// A heading that nobody understands may stand over what the booklet needs. So nothing
// is left out without a word: what is not read is named, and what looks like
// quantities or beds is a warning.

// byContent finds the columns of a list without headings that are known: the first one
// that reads as plants, and one of quantities.
func (l *list) byContent() bool {
	if l.plant == nil {
		return false
	}
	const looked, wide = 200, 12 // rows and columns
	lines := l.lines[:min(len(l.lines), looked)]
	plants := -1
	for j := range wide {
		if l.readsAsPlants(lines, j) {
			plants = j
			break
		}
	}
	if plants < 0 {
		return false
	}
	l.head, l.byCells = noHeading(-1), true
	l.head.cols[plantColumn] = plants
	what := "the list has no headings"
	if i := l.strangeHeading(lines, plants); i >= 0 {
		l.head.line = i
		what = "no heading of the list is known"
	}
	said := fmt.Sprintf("column %d is read as plants", plants+1)
	for j := range wide {
		if f := l.figures(lines[l.head.line+1:], j); j != plants && f.mostly() && !f.running {
			l.head.cols[quantityColumn] = j
			said = fmt.Sprintf("column %d is read as plants and column %d as quantities", plants+1, j+1)
			break
		}
	}
	l.found.Add(source.Note, "list/headless", source.Whole(l.file), what+": "+said, `put a row of headings above it: "plant", "quantity", "bed"`)
	return true
}

// readsAsPlants tells a column of which half and more are plants, beside names of
// places and kinds.
func (l *list) readsAsPlants(lines [][]cell, j int) bool {
	filled, plants := 0, 0
	for _, row := range lines {
		switch {
		case j >= len(row) || row[j].text == "":
		case l.knows(row[j].text):
			filled, plants = filled+1, plants+1
		case !isPlace(row[j].text) && !isKinds(row[j].text) && !isRemark(row[j].text) && !isTotal(row[j].text):
			filled++
		}
	}
	return plants > 0 && 2*plants >= filled
}

// strangeHeading finds the line of headings that nobody knows above the first plant; -1
// for none. A word alone may be the name of a bed.
func (l *list) strangeHeading(lines [][]cell, plants int) int {
	for i, row := range lines {
		if plants < len(row) && l.knows(row[plants].text) {
			break
		}
		words := 0
		for _, c := range row {
			if strings.ContainsFunc(c.text, unicode.IsLetter) {
				words++
			}
		}
		if words > 1 && plants < len(row) && row[plants].text != "" {
			return i
		}
	}
	return -1
}

// figures says what numbers a column holds.
type figures struct {
	filled, numbers int
	running         bool // they count the rows: 1, 2, 3
	parts           bool // some are not whole
}

func (f figures) mostly() bool { return f.numbers > 0 && 10*f.numbers >= 9*f.filled }

func (l *list) figures(rows [][]cell, j int) figures {
	f := figures{running: true}
	for _, row := range rows {
		if j >= len(row) || row[j].text == "" || isTotal(row[j].text) {
			continue
		}
		f.filled++
		m := quantityForm.FindStringSubmatch(row[j].text)
		v, ok := 0.0, false
		if m != nil {
			v, ok = l.figure(m[1])
		}
		if square.MatchString(row[j].text) {
			f.parts = true
		}
		if !ok {
			continue
		}
		f.numbers++
		f.running = f.running && v == float64(f.numbers)
		f.parts = f.parts || v != math.Trunc(v)
	}
	const fewest = 5 // that cannot be by chance
	f.running = f.running && f.numbers >= fewest
	return f
}

// reconsider takes back columns whose cells belie their headings: "No." over 1, 2, 3
// counts the rows, and "Area" over 12.5 is no bed.
func (l *list) reconsider() {
	body := l.body()
	own := func(j int) bool { // the garden says what it is
		_, ok := l.words.own[strings.ToLower(l.headingText(j))]
		return ok
	}
	if j := l.head.cols[quantityColumn]; j >= 0 && !own(j) && l.figures(body, j).running {
		l.head.cols[quantityColumn] = -1
		if l.head.cols[markColumn] < 0 {
			l.head.cols[markColumn] = j
		}
		l.found.Add(source.Warning, "list/column", l.headingSpan(j), fmt.Sprintf("%s counts the rows, 1, 2, 3, and is not read as quantities", l.headed(j)), l.nameIt(j, "quantity", true))
	}
	if j := l.head.cols[bedColumn]; j >= 0 && !own(j) {
		if f := l.figures(body, j); f.parts && f.mostly() {
			l.head.cols[bedColumn] = -1
		}
	}
}

// headingText is what stands above a column; "" in a list without headings.
func (l *list) headingText(j int) string {
	if l.head.line < 0 || j < 0 || j >= len(l.lines[l.head.line]) {
		return ""
	}
	return l.lines[l.head.line][j].text
}

func (l *list) headingSpan(j int) source.Span {
	if l.headingText(j) == "" {
		return source.Whole(l.file)
	}
	return l.lines[l.head.line][j].span
}

// headed names a column by its heading, or else by its number.
func (l *list) headed(j int) string {
	if t := l.headingText(j); t != "" {
		return strconv.Quote(t)
	}
	return fmt.Sprintf("column %d", j+1)
}

// nameIt says how a column is made known.
func (l *list) nameIt(j int, what string, sure bool) string {
	text := l.headingText(j)
	if text == "" {
		return fmt.Sprintf("head it %q", what)
	}
	hint := fmt.Sprintf("head it %q, or write in garden.yaml: columns: {%q: %s}", what, text, what)
	if sure {
		hint = "if it holds quantities after all, write in garden.yaml: " + fmt.Sprintf("columns: {%q: %s}", text, what)
	}
	return hint
}

// tellColumns names the columns that were not read, and warns of those that look like
// quantities or beds of a list that has none.
func (l *list) tellColumns(rows [][]cell, counted, beds bool) {
	wide := 0
	for _, row := range rows {
		wide = max(wide, len(row))
	}
	var unread []string
	noQuantity, noBed := l.head.cols[quantityColumn] < 0 && !counted, l.head.cols[bedColumn] < 0 && !beds
	for j := range wide {
		if slices.Contains(l.head.cols[:], j) {
			continue
		}
		text := l.headingText(j)
		m, known := l.words.column(text)
		if known && (m.column == privateColumn || m.column == plantColumn) {
			continue // of two names of the plant the better known is read
		}
		f := l.figures(rows, j)
		switch {
		case f.filled == 0:
			continue
		case noQuantity && f.mostly() && !f.running && 2*f.filled > len(rows) && !f.parts:
			l.found.Add(source.Warning, "list/column", l.headingSpan(j), fmt.Sprintf("no column of quantities was found, and %s holds figures: each row is read as one plant", l.headed(j)), l.nameIt(j, "quantity", false))
			continue
		case noBed && l.looksLikeBeds(rows, j):
			l.found.Add(source.Warning, "list/column", l.headingSpan(j), fmt.Sprintf("no column of beds was found, and %s holds what may be their names", l.headed(j)), l.nameIt(j, "bed", false))
			continue
		}
		if text == "" {
			if 2*f.filled <= len(rows) {
				continue // a stray word beside the list
			}
			text = l.headed(j)
		}
		unread = append(unread, text)
	}
	if len(unread) > 0 {
		l.found.Add(source.Note, "list/unread-columns", source.Whole(l.file), "columns not read: "+listed(unread))
	}
}

// looksLikeBeds tells a column of few short names, each of which stands in row after
// row, as beds do, and of which one at least is that of a place or a mark.
func (l *list) looksLikeBeds(rows [][]cell, j int) bool {
	const fewest, longest = 4, 4 // rows; words of a name
	seen := map[string]bool{}
	filled, runs, places, last := 0, 0, 0, ""
	for _, row := range rows {
		if j >= len(row) || row[j].text == "" {
			continue
		}
		text := row[j].text
		if len(strings.Fields(text)) > longest || !strings.ContainsFunc(text, unicode.IsLetter) || isKinds(text) || l.knows(text) {
			return false
		}
		filled++
		if text != last {
			runs++
		}
		if !seen[text] && (isPlace(text) || isMark(text)) {
			places++
		}
		seen[text], last = true, text
	}
	return filled >= fewest && 10*filled >= 8*len(rows) && len(seen) > 1 && 2*len(seen) <= filled && 2*runs <= 3*len(seen) && 2*places >= len(seen)
}

// isMark tells a bed's mark: "A", "B2".
func isMark(text string) bool {
	return len(text) <= 2 && text[0] >= 'A' && text[0] <= 'Z'
}
