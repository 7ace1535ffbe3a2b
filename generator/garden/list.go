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
	flowersColumn
	genusColumn
	columns       // how many are read
	privateColumn // known and never read: what is between the designer and others
)

// headings gives the words designers write above each column, lower case and
// without points; the first is the column's own name, as used in garden.yaml.
func headings() [columns][]string {
	return [columns][]string{
		plantColumn: {"plant", "plants", "botanical name", "botanical", "latin name", "latin", "species", "plant name", "name", "taxon", "scientific name",
			"plant species", "full botanical name", "latin plant name", "plant list", "planting"},
		cultivarColumn: {"cultivar", "variety", "var", "cv", "form", "variety or cultivar"},
		quantityColumn: {"quantity", "qty", "no", "number", "nos", "nr", "amount", "count", "total no",
			"quantity required", "qty required", "no required", "no of plants", "number of plants", "plant nos", "total qty", "total quantity", "how many"},
		bedColumn: {"bed", "area", "location", "zone", "border", "position", "planting area", "bed name", "bed no", "bed ref", "bed reference", "where"},
		plantedColumn: {"planted", "date", "date planted", "planting date", "year", "year planted",
			"planted on", "plant date", "date of planting", "when planted", "installed", "date installed", "install date", "installation date"},
		sizeColumn: {"size", "pot", "pot size", "supplied", "supply size", "container", "spec", "specification",
			"container size", "size supplied", "supplied as", "plant size", "height", "form and size"},
		notesColumn:   {"notes", "note", "remarks", "comments", "comment", "description"},
		careColumn:    {"care", "care group"},
		flowersColumn: {"flowers", "flowering", "flowering time", "flowering period", "flowering months", "flower months", "bloom", "blooms", "bloom time"},
		genusColumn:   {"genus"},
	}
}

// private gives the words above columns that are not read. That they are known
// helps to tell the mark between columns, and no other heading can be meant; the
// first is for garden.yaml, to leave out a column that would be read.
func private() []string {
	return []string{"private", "internal", "internal notes", "office notes", "client", "client notes", "supplier", "nursery", "price", "unit price", "price each",
		"rate", "cost", "unit cost", "total cost", "total price", "margin", "order no", "order ref"}
}

// Limits of a plant list: more than these no garden has, and a hostile file is
// refused before it fills memory.
const (
	largestList = 8 << 20 // a workbook, which may hold pictures
	largestText = 2 << 20 // 5000 rows of 400 letters
	mostRows    = 5000
	mostCells   = 256  // in a row
	longestCell = 2000 // bytes; names have 300, notes some sentences
)

// ReadList reads a plant list kept as text (comma, semicolon or tab; UTF-8 with
// or without a byte order mark, UTF-16 or Windows-1252) or as an XLSX workbook;
// which of the two, the bytes tell and not the file's name. Headings stand in
// any order; names gives those of the garden's own. Of a workbook the sheet
// that looks most like a plant list is read, or the one that sheet names. The country
// it is in, "" for none, decides how dates are written that can be read in two ways.
//
// Rows of a workbook have their places in a text form of the sheet whose path
// is "plants.xlsx[Planting]". What is skipped, chosen or doubtful is told.
func ReadList(f *source.File, names []fields.Pair, sheet source.At[string], in string) ([]Row, source.Diagnostics) {
	var ds source.Diagnostics
	l := &list{found: &ds, country: country(in)}
	switch {
	case len(f.Text) > largestList:
		ds.Add(source.Error, "list/too-large", source.Whole(unseen(f)), fmt.Sprintf("the list is larger than %d MB, and no more is read", largestList>>20), "save the plant list alone, as .xlsx or CSV, without pictures")
	case !isWorkbook(f.Text) && len(f.Text) > largestText:
		ds.Add(source.Error, "list/too-large", source.Whole(unseen(f)), fmt.Sprintf("the list is larger than %d MB", largestText>>20), "save the plant list alone")
	case isWorkbook(f.Text):
		l.workbook(f, names, sheet)
	default:
		l.text(f, names)
		if sheet.Value != "" {
			ds.Add(source.Warning, "list/no-sheet", sheet.Span, "the plant list is kept as text and has no sheets", "leave out sheet, or name a workbook under plants")
		}
	}
	if ds.HasErrors() {
		return nil, ds
	}
	l.limit()
	if l.head.line < 0 && !ds.HasErrors() {
		ds.Add(source.Error, "list/no-heading", source.Whole(l.file), "no column of plant names was found",
			`head one column "plant" or "botanical name"`, `or name it in garden.yaml: columns: {"your heading": plant}`)
	}
	if ds.HasErrors() {
		return nil, ds
	}
	return l.rows(names), ds
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
	lines      [][]cell
	head       heading
	commas     bool // decimals are written with a comma, thousands with a point
	monthFirst bool // dates are written month first
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
	cols        [columns]int
}

// findHeading finds the line that holds the most headings, a plant's among
// them. The most, because a title above may read "Plants". Of two headings for
// one column the better known counts.
func findHeading(lines [][]string, names []fields.Pair) heading {
	head := heading{line: -1}
	for i, row := range lines[:min(len(lines), deepestHead)] {
		h := heading{line: i}
		var ranks [columns]int
		for c := range h.cols {
			h.cols[c] = -1
		}
		for j, text := range row {
			c, rank, ok := columnOf(text, names)
			if !ok || c == privateColumn {
				continue // a list of prices is no better list of plants
			}
			h.known++
			if h.cols[c] < 0 || rank < ranks[c] {
				h.cols[c], ranks[c] = j, rank
			}
		}
		if h.cols[plantColumn] >= 0 && h.known > head.known {
			head = h
		}
	}
	return head
}

// aside is what a heading adds in brackets: "Size (litres)".
var aside = regexp.MustCompile(`\s*[(\[].*?[)\]]`)

// columnOf tells which column a heading stands over and how plainly it says so:
// 0 is the column's own name.
func columnOf(heading string, names []fields.Pair) (column, int, bool) {
	word := strings.ToLower(strings.Trim(strings.ReplaceAll(aside.ReplaceAllString(heading, ""), ".", ""), " :*"))
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
	r := slices.Index(private(), word)
	return privateColumn, r, r >= 0
}

// cell gives what a row holds in a column; the zero cell where there is none.
func (l *list) cell(row []cell, c column) cell {
	if j := l.head.cols[c]; j >= 0 && j < len(row) {
		return row[j]
	}
	return cell{}
}

// rows reads the lines below the headings. A bed announced in a row of its own
// holds for the rows below it that name none.
func (l *list) rows(names []fields.Pair) []Row {
	var out []Row
	var skipped skips
	bed := l.bedAbove()
	var lastBed, lastPlanted cell
	var sum, sums float64 // of quantities: since the last heading of a bed, and in all
	l.orderOfDates()
	for _, row := range l.lines[l.head.line+1:] {
		plant := l.cell(row, plantColumn)
		if title, ok := l.bedTitle(row); ok {
			bed, sum = title, 0
			continue
		}
		switch {
		case !plant.hollow && !slices.ContainsFunc(row, func(c cell) bool { return c.text != "" }):
			skipped.blank++
			continue
		case isTotal(plant.text), plant.text == "" && slices.ContainsFunc(row, func(c cell) bool { return isTotal(c.text) }), l.bareSum(row, sum, sums):
			skipped.totals++
			continue
		case l.repeatsHeading(row, names), isKinds(alone(row).text):
			skipped.headings++
			continue
		case isRemark(alone(row).text):
			l.found.Add(source.Note, "list/remark", alone(row).span, "this row is read as a remark, not as a plant")
			continue
		case plant.text == "" && !plant.hollow:
			l.found.Add(source.Warning, "list/no-plant", row[0].span, "this row names no plant and is left out")
			continue
		}
		r := l.row(row)
		if r.Plant == "" {
			continue // a formula without its result, told
		}
		own := sameAs(l.cell(row, bedColumn), lastBed)
		if lastBed = own; own.text == "" {
			own = bed
		}
		r.Bed = source.At[string]{Value: own.text, Span: own.span}
		lastPlanted = sameAs(l.cell(row, plantedColumn), lastPlanted)
		r.Planted = l.date(lastPlanted)
		r.Pot = potted(r)
		sum, sums = sum+r.Quantity, sums+r.Quantity
		out = append(out, r)
	}
	if told := skipped.String(); told != "" {
		l.found.Add(source.Note, "list/skipped", source.Whole(l.file), told+" skipped")
	}
	l.carryBeds(out)
	return out
}

// row reads what needs no other row.
func (l *list) row(row []cell) Row {
	for c := range columns {
		if h := l.cell(row, c); h.hollow {
			l.found.Add(source.Error, "list/formula", h.span, "the workbook holds a formula here but not its result",
				"open the workbook in the program that made it, save it, and read it again")
		}
	}
	plant, quantity := l.cell(row, plantColumn), l.cell(row, quantityColumn)
	if l.head.cols[quantityColumn] < 0 {
		plant, quantity = counted(plant)
	}
	if g := l.cell(row, genusColumn); g.text != "" && !strings.HasPrefix(strings.ToLower(plant.text), strings.ToLower(g.text)) {
		plant.text = g.text + " " + plant.text
	}
	if cv := l.cell(row, cultivarColumn).text; cv != "" && !strings.Contains(plant.text, cv) {
		plant.text += " '" + strings.Trim(cv, `'"‘’“”`) + "'"
	}
	care, flowers := l.cell(row, careColumn), l.cell(row, flowersColumn)
	return Row{
		Span: plant.span, Line: plant.span.Pos().Line, Plant: plant.text,
		Quantity: l.quantity(quantity),
		Size:     l.cell(row, sizeColumn).text, Notes: l.cell(row, notesColumn).text,
		Care: source.At[string]{Value: care.text, Span: care.span}, Flowers: source.At[string]{Value: flowers.text, Span: flowers.span},
	}
}

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

var (
	// bedLabel drops the word before a bed's name, bedNamed keeps it as part of
	// the name: "Bed: Courtyard", "BED A", "Long border".
	bedLabel  = regexp.MustCompile(`(?i)^(?:bed|border|area|zone|location|planting area)(?: name| no\.?| ref\.?)?\s*(?::|\s[–—-]\s)\s*(\S.*)$`)
	bedNamed  = regexp.MustCompile(`(?i)^(?:bed|border|zone|area|planter)(?:\s+\S+){1,4}$`)
	bedEnding = regexp.MustCompile(`(?i)^\S+(?:\s\S+){0,2}\s(?:beds?|borders?|planters?)$`)
	continued = regexp.MustCompile(`(?i)[\s,]*[(\[]?\b(?:continued|cont'?d|cont)\b\.?[)\]]?$`)
	square    = regexp.MustCompile(`(?i)\d\s*(?:m2|m²|sq\.? ?(?:m|ft)|sqm)`)
)

// bedTitle gives the bed that a row announces. One with a word for bed before
// the name may have other cells (its area, a sum) but no plant; else the name
// stands alone in its row, in whatever column, or in the list's column of beds.
func (l *list) bedTitle(row []cell) (cell, bool) {
	i := slices.IndexFunc(row, func(c cell) bool { return c.text != "" })
	if i < 0 {
		return cell{}, false
	}
	title, single := row[i], alone(row).text != ""
	title.text = continued.ReplaceAllString(title.text, "")
	inPlants := i == l.head.cols[plantColumn]
	switch plant, quantity := l.cell(row, plantColumn), l.cell(row, quantityColumn); {
	case isTotal(title.text), plant.text != "" && !inPlants, plant.hollow, quantity.text != "" && (inPlants || i == l.head.cols[bedColumn]):
		return cell{}, false
	}
	if m := bedLabel.FindStringSubmatchIndex(title.text); m != nil && !square.MatchString(title.text[m[2]:m[3]]) {
		title.span, title.text = title.span.Within(m[2], m[3]), title.text[m[2]:m[3]]
		return title, true
	}
	if isRemark(title.text) {
		return cell{}, false
	}
	named := bedNamed.MatchString(title.text) || single && bedEnding.MatchString(title.text)
	return title, named || single && i == l.head.cols[bedColumn]
}

// address is what a title may say of the garden and not of a bed.
var address = regexp.MustCompile(`(?i)^(?:location|area)\b`)

// bedAbove gives the bed named right above the headings, of a list that has
// headings above each bed.
func (l *list) bedAbove() cell {
	for i := l.head.line - 1; i >= 0 && l.head.cols[bedColumn] < 0; i-- {
		if title := alone(l.lines[i]); title.text != "" {
			if bed, ok := l.bedTitle(l.lines[i]); ok && !address.MatchString(title.text) {
				return bed
			}
			break
		}
	}
	return cell{}
}

// kindWords make up headings by kind of plant: "Trees and shrubs".
const kindWords = " trees shrubs perennials herbaceous grasses sedges ferns bulbs climbers hedge hedges hedging groundcover herbs annuals biennials bamboos roses palms succulents subshrubs "

// kindMore may stand beside them.
const kindMore = " and & / + ornamental evergreen deciduous specimen wall multi-stem flowering spring summer autumn winter herbaceous ground cover plants planting "

// isKinds tells a heading by kind of plant from a plant.
func isKinds(text string) bool {
	named := false
	for w := range strings.FieldsSeq(strings.ToLower(text)) {
		w = strings.Trim(w, ",:")
		kind := strings.Contains(kindWords, " "+w+" ")
		if !kind && !strings.Contains(kindMore, " "+w+" ") {
			return false
		}
		named = named || kind
	}
	return named || strings.EqualFold(strings.Trim(text, ":"), "ground cover")
}

var (
	total  = regexp.MustCompile(`(?i)^(?:grand |overall |bed |sub-?\s?)?totals?\b|\b(?:sub-?)?totals?:?$`)
	remark = regexp.MustCompile(`(?i)^(?:\*|area:|(?:notes?|n\.?b|key|remarks?|comments?|prepared|drawn|checked|revision|rev|source|please|all (?:plants|quantities|sizes)|plants? to be)\b)`)
)

func isTotal(text string) bool { return total.MatchString(text) }

// longestName is in how many words a plant is named at most: a row of one cell
// with more is a sentence.
const longestName = 8

// isRemark tells a line of words from a plant.
func isRemark(text string) bool {
	return remark.MatchString(text) || len(strings.Fields(text)) > longestName
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
func (l *list) repeatsHeading(row []cell, names []fields.Pair) bool {
	again := 0
	for c := range columns {
		if text := l.cell(row, c).text; text != "" {
			if of, _, ok := columnOf(text, names); ok && of == c {
				again++
			} else if c == plantColumn {
				return false
			}
		}
	}
	return again > 1 && l.cell(row, plantColumn).text != ""
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
