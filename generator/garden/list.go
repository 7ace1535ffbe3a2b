package garden

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"sheaf/generator/fields"
	"sheaf/generator/site"
	"sheaf/generator/source"
)

// Limits of a plant list: more than these no garden has, and a hostile file is
// refused before it fills memory.
const (
	largestList = 8 << 20 // a workbook, which may hold pictures
	largestText = 4 << 20 // 20,000 rows of 200 letters
	mostRows    = 20000
	mostCells   = 256  // in a row
	longestCell = 2000 // bytes; names have 300, notes some sentences
)

// ReadList reads a plant list kept as text (comma, semicolon or tab; UTF-8 with
// or without a byte order mark, UTF-16 or Windows-1252) or as an XLSX workbook;
// which of the two, the bytes tell and not the file's name. Headings stand in
// any order; names gives those of the garden's own. Of a workbook the sheet
// that looks most like a plant list is read, or the one that sheet names. The country
// it is in, "" for none, decides how dates are written that can be read in two ways.
// What plants there are, plant knows (see [Knows]): it parts a plant from a bed that is
// named in a row of its own, and finds the plants of a list without headings. Without
// it, nil, such a row is a plant and such a list is refused.
//
// Rows of a workbook have their places in a text form of the sheet whose path
// is "plants.xlsx[Planting]". What is skipped, chosen or doubtful is told.
func ReadList(f *source.File, names []fields.Pair, sheet source.At[string], in string, plant func(string) bool) ([]Row, source.Diagnostics) {
	var ds source.Diagnostics
	l := openList(f, names, sheet, in, plant, &ds)
	if ds.HasErrors() {
		return nil, ds
	}
	return l.rows(), ds
}

// openList reads a list as far as its cells and its headings.
func openList(f *source.File, names []fields.Pair, sheet source.At[string], in string, plant func(string) bool, ds *source.Diagnostics) *list {
	l := &list{found: ds, country: country(in), words: newLexicon(names), plant: plant}
	switch {
	case len(f.Text) > largestList:
		ds.Add(source.Error, "list/too-large", source.Whole(unseen(f)), fmt.Sprintf("the list is larger than %d MB, and no more is read", largestList>>20), "save the plant list alone, as .xlsx or CSV, without pictures")
	case !isWorkbook(f.Text) && len(f.Text) > largestText:
		ds.Add(source.Error, "list/too-large", source.Whole(unseen(f)), fmt.Sprintf("the list is larger than %d MB", largestText>>20), "save the plant list alone")
	case isWorkbook(f.Text):
		l.workbook(f, sheet)
	default:
		l.text(f)
		if sheet.Value != "" {
			ds.Add(source.Warning, "list/no-sheet", sheet.Span, "the plant list is kept as text and has no sheets", "leave out sheet, or name a workbook under plants")
		}
	}
	if ds.HasErrors() {
		return l
	}
	l.limit()
	if ds.HasErrors() {
		return l
	}
	if l.head.line < 0 && !l.byContent() {
		ds.Add(source.Error, "list/no-heading", source.Whole(l.file), "no column of plant names was found",
			`head one column "plant" or "botanical name"`, `or name it in garden.yaml: columns: {"your heading": plant}`)
		return l
	}
	l.reconsider()
	return l
}

// unseen is the file without its bytes, for messages about a file whose first
// line would tell a reader nothing.
func unseen(f *source.File) *source.File { return source.NewFile(f.Path, nil) }

// cell is one field with its place.
type cell struct {
	text string
	span source.Span
	// hollow marks a formula of a workbook whose result was not saved.
	hollow bool
}

type list struct {
	file       *source.File // the text, or the text form of a sheet
	found      *source.Diagnostics
	words      *lexicon
	plant      func(string) bool // nil: nobody knows plants
	lines      [][]cell
	head       heading
	hidden     []int // rows of a sheet, from 1
	byCells    bool  // columns were found by what they hold
	commas     bool  // decimals are written with a comma, thousands with a point
	monthFirst bool  // dates are written month first
	country    country
}

// limit refuses lists longer or wider than any garden's.
func (l *list) limit() {
	if len(l.lines) > mostRows {
		l.found.Add(source.Error, "list/too-long", source.Whole(l.file), fmt.Sprintf("the list has more than %d rows", mostRows))
	}
	for _, row := range l.lines {
		if len(row) > mostCells {
			l.found.Add(source.Error, "list/too-long", row[mostCells].span, fmt.Sprintf("the row has more than %d cells", mostCells))
			return
		}
		for _, c := range row {
			if len(c.text) > longestCell {
				l.found.Add(source.Error, "list/too-long", c.span, fmt.Sprintf("the cell has more than %d letters", longestCell), "a quote that is never closed makes one cell of many rows")
				return
			}
		}
	}
}

// deepestHead is how many lines of titles may stand above the headings.
const deepestHead = 20

// heading is the line that names the columns.
type heading struct {
	line, known int // the line's index, -1 when there is none; how many of its cells are known
	below       int // how many lines below it are headings too
	cols        [columns]int
}

// heading finds the line that holds the most headings, a plant's among
// them. The most, because a title above may read "Plants". Of two headings for
// one column the better known counts.
func (x *lexicon) heading(lines [][]string) heading {
	head := noHeading(-1)
	for i, row := range lines[:min(len(lines), deepestHead)] {
		h := noHeading(i)
		var ranks [columns]int
		for j, text := range row {
			m, ok := x.column(text)
			if !ok || m.column == privateColumn {
				continue // a list of prices is no better list of plants
			}
			h.known++
			c := m.column
			if h.cols[c] < 0 || m.rank < ranks[c] {
				j, h.cols[c], ranks[c] = h.cols[c], j, m.rank
			}
			if c == plantColumn && j >= 0 && h.cols[commonColumn] < 0 {
				h.cols[commonColumn] = j // "Plant" beside "Botanical name"
				ranks[commonColumn] = len(x.words)
			}
		}
		for _, c := range []column{commonColumn, genusColumn} { // what is there is better than nothing
			if h.cols[plantColumn] < 0 && h.cols[c] >= 0 {
				h.cols[plantColumn], h.cols[c] = h.cols[c], -1
			}
		}
		if h.cols[plantColumn] >= 0 && h.known > head.known {
			head = h
		}
	}
	if head.line >= 0 {
		x.second(&head, lines)
	}
	return head
}

func noHeading(line int) heading {
	h := heading{line: line}
	for c := range h.cols {
		h.cols[c] = -1
	}
	return h
}

// second adds what a second line of headings says, right above or below: "Supply" over
// "Girth" and "Height", "(no.)" under "Quantity".
func (x *lexicon) second(head *heading, lines [][]string) {
	at := func(i, j int) string {
		if i < 0 || i >= len(lines) || j >= len(lines[i]) {
			return ""
		}
		return lines[i][j]
	}
	take := func(i int, only func(j int) bool) {
		for j, text := range lines[i] {
			if m, ok := x.column(text); ok && m.column < columns && head.cols[m.column] < 0 && only(j) {
				head.cols[m.column] = j
				head.known++
			}
		}
	}
	if i := head.line - 1; i >= 0 {
		take(i, func(j int) bool { return at(head.line, j) == "" })
	}
	i := head.line + 1
	if i >= len(lines) {
		return
	}
	filled := 0
	for _, text := range lines[i] {
		if text == "" {
			continue
		}
		filled++
		if _, ok := x.column(text); !ok && !unitsAlone.MatchString(text) {
			return
		}
	}
	if filled > 0 {
		head.below = 1
		take(i, func(int) bool { return true })
	}
}

// unitsAlone is what stands below a heading to say in what it is counted.
var unitsAlone = regexp.MustCompile(`(?i)^(?:[(\[].*[)\]]|cm|mm|m|l|lt|ltr|litres?|no\.?|nr\.?|each|m²|m2|stk\.?|st\.?|€|£|\$)$`)

// body gives the lines below the headings.
func (l *list) body() [][]cell { return l.lines[l.head.line+1+l.head.below:] }

// cell gives what a row holds in a column; the zero cell where there is none.
func (l *list) cell(row []cell, c column) cell {
	if j := l.head.cols[c]; j >= 0 && j < len(row) {
		return row[j]
	}
	return cell{}
}

// rows reads the lines below the headings. A bed announced in a row of its own
// holds for the rows below it that name none.
func (l *list) rows() []Row {
	r := rowReader{list: l, bed: l.bedAbove(), filled: l.mostlyFilled()}
	l.orderOfDates()
	body := l.body()
	for i := range body {
		if r.passes(body, i) {
			continue
		}
		r.take(body[i])
	}
	r.unused()
	if told := r.skipped.String(); told != "" {
		l.found.Add(source.Note, "list/skipped", source.Whole(l.file), told+" skipped")
	}
	r.tellBeds()
	l.carryBeds(r.out)
	l.tellColumns(r.taken, r.counted, r.beds)
	return r.out
}

// A rowReader goes through the rows of a list, one after the other.
type rowReader struct {
	*list
	filled               bool // the list's plants have more cells than their name
	bed                  cell // announced in a row of its own
	lastBed, lastPlanted cell
	sum, sums            float64 // of quantities: since the last heading of a bed, and in all
	skipped              skips
	remarks              bool   // below a heading of notes
	guessed              cell   // a row read as the name of a bed, without a plant yet
	named                []cell // such rows with plants
	beds                 bool   // beds are announced in rows of their own
	counted              bool   // quantities stand with the names
	taken                [][]cell
	out                  []Row
}

// take reads a row of a plant.
func (r *rowReader) take(row []cell) {
	one, counted := r.row(row)
	if one.Plant == "" {
		return // a formula without its result, told
	}
	r.counted = r.counted || counted
	own := sameAs(r.cell(row, bedColumn), r.lastBed)
	if r.lastBed = own; own.text == "" {
		own = r.bed
	}
	one.Bed = source.At[string]{Value: own.text, Span: own.span}
	r.lastPlanted = sameAs(r.cell(row, plantedColumn), r.lastPlanted)
	one.Planted = r.date(r.lastPlanted)
	one.Pot = potted(one)
	r.sum, r.sums = r.sum+one.Quantity, r.sums+one.Quantity
	if r.guessed.text != "" {
		r.named, r.guessed = append(r.named, r.guessed), cell{}
	}
	r.remarks = false
	r.taken, r.out = append(r.taken, row), append(r.out, one)
}

// passes tells a row that is no plant, and does with it what it asks for.
func (r *rowReader) passes(body [][]cell, i int) bool {
	row := body[i]
	plant, single := r.plantCell(row), alone(row)
	if title, ok := r.bedTitle(row); ok {
		r.unused()
		r.bed, r.sum, r.remarks, r.beds = r.withoutArea(title), 0, false, true
		return true
	}
	switch {
	case !plant.hollow && !slices.ContainsFunc(row, func(c cell) bool { return c.text != "" }):
		r.skipped.blank++
		return true
	case isTotal(plant.text), plant.text == "" && slices.ContainsFunc(row, func(c cell) bool { return isTotal(c.text) }), r.bareSum(row, r.sum, r.sums):
		r.skipped.totals++
		return true
	case r.repeatsHeading(row), isKinds(single.text):
		r.skipped.headings++
		return true
	case isRemark(single.text), r.isSentence(single.text), r.remarks && single.text != "" && (r.filled || !r.knows(single.text)):
		r.remarks = r.remarks || remarksBelow.MatchString(single.text)
		r.found.Add(source.Note, "list/remark", single.span, "this row is read as a remark, not as a plant")
		return true
	}
	switch title, kinds, ok := r.subheading(body, i); {
	case kinds:
		r.skipped.headings++
		return true
	case ok:
		r.unused()
		r.guessed = r.withoutArea(title)
		r.bed, r.sum, r.beds = r.guessed, 0, true
		for _, c := range row {
			if c.text != "" && c != title && square.MatchString(c.text) {
				r.tellArea(c.span, c.text)
			}
		}
		return true
	case plant.text == "" && !plant.hollow:
		r.found.Add(source.Warning, "list/no-plant", row[0].span, "this row names no plant and is left out")
		return true
	}
	return false
}

// row reads what needs no other row, and tells whether the quantity stood with the
// name.
func (l *list) row(row []cell) (Row, bool) {
	for c := range columns {
		if h := l.cell(row, c); h.hollow {
			l.found.Add(source.Error, "list/formula", h.span, "the workbook holds a formula here but not its result",
				"open the workbook in the program that made it, save it, and read it again")
		}
	}
	plant, quantity := l.cell(row, plantColumn), l.cell(row, quantityColumn)
	name, within := counted(plant)
	if quantity.text == "" {
		quantity = within
	}
	plant = name
	if g := l.cell(row, genusColumn); g.text != "" && !strings.HasPrefix(strings.ToLower(plant.text), strings.ToLower(g.text)) {
		plant.text = g.text + " " + plant.text
	}
	if cv := l.cell(row, cultivarColumn).text; cv != "" && !strings.Contains(plant.text, cv) {
		plant.text += " '" + strings.Trim(cv, `'"‘’“”`) + "'"
	}
	if common := l.cell(row, commonColumn); plant.text == "" && !plant.hollow {
		plant = common
	}
	care, flowers := l.cell(row, careColumn), l.cell(row, flowersColumn)
	return Row{
		Span: plant.span, Line: plant.span.Pos().Line, Plant: plant.text,
		Quantity: l.quantity(quantity),
		Size:     l.size(row), Notes: l.cell(row, notesColumn).text,
		Care: source.At[string]{Value: care.text, Span: care.span}, Flowers: source.At[string]{Value: flowers.text, Span: flowers.span},
		Girth: l.cell(row, girthColumn).text, Mark: l.cell(row, markColumn).text,
	}, within.text != ""
}

// size gives a row's size, with the unit that stands in its heading.
func (l *list) size(row []cell) string {
	text := l.cell(row, sizeColumn).text
	if figureForm.MatchString(text) && inLitres.MatchString(l.headingText(l.head.cols[sizeColumn])) {
		return text + " l"
	}
	return text
}

var inLitres = regexp.MustCompile(`(?i)[\s(\[](?:l|lt|ltr|lit(?:re|er)s?)\.?[)\]]?$`)

// sameAs gives the cell above for one that holds a mark of repetition.
func sameAs(c, above cell) cell {
	if slices.Contains([]string{`"`, "”", "″", "〃", "''", "ditto", "do", "do.", "as above"}, strings.ToLower(c.text)) {
		return above
	}
	return c
}

// alone gives a row's one filled cell; the zero cell when it has several.
func alone(row []cell) cell {
	var one cell
	for _, c := range row {
		switch {
		case c.text == "":
		case one.text != "":
			return cell{}
		default:
			one = c
		}
	}
	return one
}

// bareSum tells a row that holds nothing but the sum of the quantities above.
func (l *list) bareSum(row []cell, sums ...float64) bool {
	one, quantity := alone(row), l.cell(row, quantityColumn)
	if one.text == "" || one != quantity {
		return false
	}
	v, ok := l.figure(one.text)
	return ok && v > 0 && slices.Contains(sums, v)
}

// repeatsHeading tells a row that names the columns again, as above each bed.
func (l *list) repeatsHeading(row []cell) bool {
	is := func(c column) bool {
		text := l.cell(row, c).text
		if strings.EqualFold(text, l.headingText(l.head.cols[c])) {
			return true
		}
		m, ok := l.words.words[foldHeading(text)]
		return ok && m.column == c
	}
	if l.cell(row, plantColumn).text == "" || !is(plantColumn) {
		return false // as nearly every row is
	}
	again := 0
	for c := range columns {
		if l.head.cols[c] >= 0 && l.cell(row, c).text != "" && is(c) {
			again++
		}
	}
	return again > 1
}

// carryBeds fills in the bed of rows left blank below the first of each bed, as
// a list has them whose cells were merged before it was saved as text. It does
// so only where nothing else can be meant: the first row has a bed, no bed is
// written twice, and at least two rows are blank.
func (l *list) carryBeds(rows []Row) {
	seen, blank := map[string]bool{}, 0
	for _, r := range rows {
		name := strings.ToLower(r.Bed.Value)
		if name == "" {
			blank++
		} else if seen[name] {
			return
		}
		seen[name] = name != ""
	}
	if blank < 2 || len(seen) < 3 || rows[0].Bed.Value == "" { // two beds and the blank
		return
	}
	for i := range rows {
		if rows[i].Bed.Value == "" {
			rows[i].Bed = rows[i-1].Bed
			rows[i].Pot = potted(rows[i])
		}
	}
	l.found.Add(source.Note, "list/beds-carried", rows[0].Bed.Span, fmt.Sprintf("%s without a bed are read as standing in the bed named above them", plural(blank, "row")),
		"write the bed in every row if that is not so")
}

// skips counts the rows that are passed over.
type skips struct{ blank, totals, headings int }

func (s skips) String() string {
	var parts []string
	for _, p := range []struct {
		n    int
		what string
	}{{s.blank, "blank row"}, {s.totals, "row of totals"}, {s.headings, "row of headings"}} {
		if p.n > 0 {
			parts = append(parts, plural(p.n, p.what))
		}
	}
	if n := len(parts); n > 2 {
		parts = []string{strings.Join(parts[:n-1], ", "), parts[n-1]}
	}
	return strings.Join(parts, " and ")
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

// date reads a cell's day of planting; 0 when it holds none.
func (l *list) date(c cell) site.Day {
	if c.text == "" {
		return 0
	}
	d, hint, err := l.country.planted(c.text, l.monthFirst)
	if err != nil {
		l.found.Add(source.Warning, "list/date", c.span, err.Error(), hint)
	}
	return d
}
