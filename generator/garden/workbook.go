package garden

import (
	"archive/zip"
	"bufio"
	"bytes"
	"cmp"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"slices"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"sheaf/generator/prose"
	"sheaf/generator/source"
)

// Limits of a workbook beside those of every list. A sheet of 20,000 rows and eight
// columns has about 8 MB of XML in 1.2 million tags and attributes, and its texts 2 MB.
// Without the last two, 16 MB of the cheapest XML took 5 seconds and 1.3 GB.
const (
	largestUnzipped = 24 << 20 // with pictures
	largestXML      = 12 << 20 // without what can be no XML, and of all sheets that are looked through
	mostParts       = 1000
	mostSheets      = 50
	mostSheetTags   = 1.6e6 // and attributes of XML, in the sheets
	mostTags        = 300e3 // elsewhere, where the library makes a value of each
)

// The first bytes of a zip archive, and of the older files that hold a workbook
// of before 2007 or one with a password.
const (
	zipMark = "PK\x03\x04"
	oleMark = "\xd0\xcf\x11\xe0"
)

func isWorkbook(text []byte) bool {
	return bytes.HasPrefix(text, []byte(zipMark)) || bytes.HasPrefix(text, []byte(oleMark))
}

// isOpenDocument tells an .ods file: its archive begins with a part "mimetype" that is
// not packed and says so (OpenDocument 1.3, part 2, 3.3), or has content.xml where a
// workbook has its own parts.
func isOpenDocument(text []byte) bool {
	const mark = "mimetypeapplication/vnd.oasis.opendocument"
	if bytes.Contains(text[:min(len(text), 200)], []byte(mark)) {
		return true
	}
	z, err := zip.NewReader(bytes.NewReader(text), int64(len(text)))
	if err != nil || len(z.File) > mostParts {
		return false
	}
	has := func(name string) bool {
		return slices.ContainsFunc(z.File, func(f *zip.File) bool { return f.Name == name })
	}
	return has("content.xml") && has("META-INF/manifest.xml") && !has("xl/workbook.xml")
}

// A sheet is one of a workbook, read: the texts of its cells, row by row, none
// left out.
type sheet struct {
	name string
	grid [][]string
	head heading
	size int // rows that hold anything
}

// workbook reads an XLSX file.
func (l *list) workbook(f *source.File, wanted source.At[string]) {
	l.file = unseen(f)
	fail := func(message string, hints ...string) {
		l.found.Add(source.Error, "list/workbook", source.Whole(l.file), message, hints...)
	}
	if bytes.HasPrefix(f.Text, []byte(oleMark)) {
		fail("the workbook has a password or an old format", "save it as .xlsx without a password, or as CSV")
		return
	}
	if isOpenDocument(f.Text) {
		fail("the list is an OpenDocument spreadsheet (.ods), which is not read", "open it and save it as .xlsx or as CSV")
		return
	}
	if err := sift(f.Text); err != nil {
		fail(fmt.Sprintf("the workbook cannot be read: %v", err), "save the plant list alone as .xlsx, or as CSV")
		return
	}
	book, err := openBook(f.Text)
	if err != nil {
		fail(fmt.Sprintf("the workbook cannot be read: %v", err), "save it again as .xlsx, or as CSV")
		return
	}
	all := book.GetSheetList()
	if len(all) > mostSheets {
		l.found.Add(source.Error, "list/too-long", source.Whole(l.file), fmt.Sprintf("the workbook has more than %d sheets", mostSheets))
		return
	}
	if wanted.Value != "" && !slices.ContainsFunc(all, func(name string) bool { return strings.EqualFold(name, wanted.Value) }) {
		l.found.Add(source.Error, "list/no-sheet", wanted.Span, fmt.Sprintf("the workbook has no sheet %q", wanted.Value), source.Mean(wanted.Value, all))
		return
	}
	best, others, err := choose(book, all, l.words, wanted.Value)
	switch {
	case err != nil:
		fail(fmt.Sprintf("the workbook cannot be read: %v", err), "save it again as .xlsx, or as CSV")
		return
	case best == nil:
		fail("nothing is written in the workbook")
		return
	}
	l.render(f.Path, best, book)
	l.tellHidden()
	if len(others) > 0 {
		l.found.Add(source.Warning, "list/other-sheets", source.Whole(l.file), fmt.Sprintf("only the sheet %q is read; plants stand in %s too", best.name, strings.Join(others, ", ")),
			"put all plants on one sheet, or name the one to read in garden.yaml: sheet: "+best.name)
	}
}

// sift looks through an archive before the library takes it up: what its parts
// say of their sizes, and how many tags and attributes their XML has. Any part may be
// a sheet, whatever its folder and its ending: that is for other parts to say.
func sift(text []byte) error {
	z, err := zip.NewReader(bytes.NewReader(text), int64(len(text)))
	if err != nil {
		return err
	}
	if len(z.File) > mostParts {
		return fmt.Errorf("it holds more than %d files", mostParts)
	}
	var all, xmls uint64
	var tags, sheetTags int
	for _, part := range z.File {
		size := part.UncompressedSize64
		if all += min(size, largestUnzipped+1); all > largestUnzipped {
			return errTooLarge
		}
		n, binary, err := countTags(part)
		if err != nil {
			return fmt.Errorf("%s: %w", part.Name, err)
		}
		if binary {
			continue
		}
		if xmls += size; xmls > largestXML {
			return errTooLarge
		}
		if strings.HasPrefix(part.Name, "xl/worksheets/") {
			sheetTags += n
		} else {
			tags += n
		}
		if tags > mostTags || sheetTags > mostSheetTags {
			return errors.New("it holds more XML than any plant list has")
		}
	}
	return nil
}

var errTooLarge = fmt.Errorf("it is larger than %d MB unpacked, or %d MB without pictures", largestUnzipped>>20, largestXML>>20)

// countTags counts the tags and attributes of a part, or a few more, and finds
// one that is not as large as it says. It tells whether the part is binary, as
// pictures are.
func countTags(part *zip.File) (n int, binary bool, err error) {
	r, err := part.Open()
	if err != nil {
		return 0, false, err
	}
	defer r.Close()
	in := bufio.NewReader(r)
	head, _ := in.Peek(32)
	binary = isBinary(head)
	for buf := make([]byte, 32<<10); ; {
		got, err := in.Read(buf)
		n += bytes.Count(buf[:got], []byte("<")) + bytes.Count(buf[:got], []byte("="))
		if errors.Is(err, io.EOF) {
			return n, binary, nil
		} else if err != nil {
			return 0, false, err
		}
	}
}

// isBinary tells bytes that no reader takes for the beginning of XML: before the
// first tag stands what is no character of it (XML 1.0, 2.2). All formats of pictures
// begin so. Within a tag's comment readers look less closely.
func isBinary(head []byte) bool {
	i := bytes.IndexFunc(head, func(r rune) bool { return r == '<' || r < ' ' && r != '\t' && r != '\n' && r != '\r' })
	return i >= 0 && head[i] != '<'
}

// openBook opens a workbook in memory.
func openBook(text []byte) (*excelize.File, error) {
	return excelize.OpenReader(bytes.NewReader(text), excelize.Options{
		RawCellValue:   true, // else dates and figures come as a guessed locale prints them
		UnzipSizeLimit: largestUnzipped,
		// What is larger than this the library would write to disk.
		UnzipXMLSizeLimit: largestUnzipped,
	})
}

// choose reads the sheet that is wanted, or of those not hidden the one with
// the most known headings and then the most rows; others are the names of the
// sheets that look like plant lists too.
func choose(book *excelize.File, all []string, words *lexicon, wanted string) (best *sheet, others []string, err error) {
	shown := slices.DeleteFunc(slices.Clone(all), func(name string) bool {
		if wanted != "" {
			return !strings.EqualFold(name, wanted)
		}
		visible, err := book.GetSheetVisible(name)
		return !visible || err != nil
	})
	var lists []string
	size := 0 // sheets may share a part, and each reads it anew
	for _, name := range shown {
		part, _ := book.Pkg.Load(partOf(book, name))
		text, _ := part.([]byte)
		if size += len(text); size > largestXML {
			return nil, nil, fmt.Errorf("its sheets are larger than %d MB", largestXML>>20)
		}
		s, err := readSheet(book, name, words)
		if err != nil {
			return nil, nil, fmt.Errorf("the sheet %q cannot be read: %w", name, err)
		}
		if s.head.line >= 0 && s.size > 1 {
			lists = append(lists, strconv.Quote(name))
		}
		if s.size > 0 && (best == nil || cmp.Or(cmp.Compare(s.head.known, best.head.known), cmp.Compare(s.size, best.size)) > 0) {
			best = s
		}
	}
	if best != nil {
		others = slices.DeleteFunc(lists, func(l string) bool { return l == strconv.Quote(best.name) })
	}
	return best, others, nil
}

// readSheet reads a sheet's cells, row by row as they come: the library's other
// ways to a cell fill in all empty ones, which a hostile file can make cost
// gigabytes. One row or cell more than may be is kept, so that it is told.
func readSheet(book *excelize.File, name string, words *lexicon) (*sheet, error) {
	rows, err := book.Rows(name)
	if err != nil {
		return nil, err
	}
	s := &sheet{name: name}
	size := 0
	for line := 1; rows.Next(); line++ {
		texts, err := rows.Columns()
		if err != nil {
			return nil, err
		}
		for i := range texts {
			if size += len(texts[i]); size > largestText {
				return nil, fmt.Errorf("it holds more than %d MB of text", largestText>>20)
			}
			texts[i] = prose.Clean(texts[i])
		}
		for len(texts) > 0 && texts[len(texts)-1] == "" {
			texts = texts[:len(texts)-1]
		}
		if len(texts) == 0 {
			continue
		}
		for len(s.grid) < min(line, mostRows+1)-1 {
			s.grid = append(s.grid, nil)
		}
		s.size++
		s.grid = append(s.grid, slices.Clone(texts[:min(len(texts), mostCells+1)]))
		if line > mostRows || len(texts) > mostCells {
			break // the list is refused
		}
	}
	s.head = words.heading(s.grid)
	return s, rows.Close()
}

// render writes the sheet as text and gives each cell its place in it.
func (l *list) render(name string, s *sheet, book *excelize.File) {
	l.head = s.head
	marks := readMarks(book, s.name)
	s.fillMerged(marks.merged)
	for at := range marks.hollow {
		s.reach(at[0], at[1])
	}
	s.writeDates(book)
	var text bytes.Buffer
	for i, row := range s.grid {
		line := make([]cell, len(row))
		for j, t := range row {
			if j > 0 {
				text.WriteByte('\t')
			}
			start := text.Len()
			text.WriteString(t)
			line[j] = cell{text: t, span: source.Span{Start: start, End: text.Len()}, hollow: marks.hollow[[2]int{i, j}]}
		}
		text.WriteByte('\n')
		l.lines = append(l.lines, line)
	}
	l.hidden = marks.hidden
	l.file = source.NewTable(fmt.Sprintf("%s[%s]", name, s.name), text.Bytes())
	for _, line := range l.lines {
		for j := range line {
			line[j].span.File = l.file
		}
	}
}

// tellHidden warns of rows that nobody sees who opens the workbook: left by a filter,
// or of a plan that has changed. They are read, as no plant may be lost unseen.
func (l *list) tellHidden() {
	var rows []string
	var first source.Span
	for _, n := range l.hidden {
		if n-1 > l.head.line && n <= len(l.lines) && slices.ContainsFunc(l.lines[n-1], func(c cell) bool { return c.text != "" }) {
			if rows = append(rows, strconv.Itoa(n)); len(rows) == 1 {
				first = l.lines[n-1][0].span
			}
		}
	}
	if len(rows) > 0 {
		l.found.Add(source.Warning, "list/hidden-rows", first, fmt.Sprintf("%s hidden in the workbook and read all the same: %s", are(plural(len(rows), "row")), listed(rows)),
			"show them, or delete them if they are not planted")
	}
}

// writeDates turns the day numbers of the column of dates into dates. A number
// below 2200 is a year: as a day number it would lie before 1907.
func (s *sheet) writeDates(book *excelize.File) {
	if s.head.line < 0 || s.head.cols[plantedColumn] < 0 {
		return
	}
	props, _ := book.GetWorkbookProps()
	from1904 := props.Date1904 != nil && *props.Date1904
	j := s.head.cols[plantedColumn]
	for _, row := range s.grid[s.head.line+1:] {
		if j >= len(row) {
			continue
		}
		n, err := strconv.ParseFloat(row[j], 64)
		if err != nil || !(n >= 2200 && n < 1e6) {
			continue
		}
		if day, err := excelize.ExcelDateToTime(n, from1904); err == nil && possible(day) {
			row[j] = day.Format("2006-01-02")
		}
	}
}

// marks are what the rows as they come do not tell of a sheet.
type marks struct {
	merged []string        // ranges, as "B3:B7"
	hidden []int           // rows, from 1
	hollow map[[2]int]bool // row and column of formulas without a result
}

// readMarks looks through a sheet's XML. What cannot be found there is left
// out: the cells themselves have been read.
func readMarks(book *excelize.File, name string) marks {
	m := marks{hollow: map[[2]int]bool{}}
	part, ok := book.Pkg.Load(partOf(book, name))
	text, isText := part.([]byte)
	if !ok || !isText {
		return m
	}
	for d := xml.NewDecoder(bytes.NewReader(text)); ; {
		token, err := d.Token()
		if err != nil {
			return m
		}
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		switch start.Name.Local {
		case "row":
			if h := attribute(start, "hidden"); h == "1" || h == "true" {
				if n, err := strconv.Atoi(attribute(start, "r")); err == nil {
					m.hidden = append(m.hidden, n)
				}
			}
		case "mergeCell":
			m.merged = append(m.merged, attribute(start, "ref"))
		case "c":
			var c struct {
				Formula *struct{} `xml:"f"`
				Value   *string   `xml:"v"`
			}
			if err := d.DecodeElement(&c, &start); err != nil {
				return m
			}
			// An empty text is a result too, as of =IF(A1="","",1).
			missing := c.Value == nil || *c.Value == "" && attribute(start, "t") != "str"
			if col, row, err := excelize.CellNameToCoordinates(attribute(start, "r")); err == nil && c.Formula != nil && missing {
				m.hollow[[2]int{row - 1, col - 1}] = true
			}
		}
	}
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name && a.Name.Space == "" {
			return a.Value
		}
	}
	return ""
}

// partOf gives the name within the archive of a sheet's XML.
func partOf(book *excelize.File, name string) string {
	text, _ := book.Pkg.Load("xl/_rels/workbook.xml.rels")
	raw, _ := text.([]byte)
	var rels struct {
		Relationship []struct {
			ID     string `xml:"Id,attr"`
			Target string `xml:"Target,attr"`
		}
	}
	if err := xml.Unmarshal(raw, &rels); err != nil && !errors.Is(err, io.EOF) {
		return ""
	}
	for _, s := range book.WorkBook.Sheets.Sheet {
		for _, r := range rels.Relationship {
			if s.Name == name && s.ID == r.ID {
				if absolute, ok := strings.CutPrefix(r.Target, "/"); ok {
					return absolute
				}
				return path.Join("xl", r.Target)
			}
		}
	}
	return ""
}

// fillMerged writes what stands in cells merged downwards into each of their
// rows: a bed named once beside its plants. A quantity is not repeated, nor
// what is merged across, such as a title.
func (s *sheet) fillMerged(ranges []string) {
	if s.head.line < 0 {
		return
	}
	for _, r := range ranges {
		from, to, _ := strings.Cut(r, ":")
		col, top, err := excelize.CellNameToCoordinates(from)
		last, bottom, err2 := excelize.CellNameToCoordinates(to)
		if err != nil || err2 != nil || col != last || top <= s.head.line+1 || bottom > len(s.grid) || col-1 == s.head.cols[quantityColumn] || col > mostCells {
			continue
		}
		text := ""
		if row := s.grid[top-1]; col <= len(row) {
			text = row[col-1]
		}
		for i := top; i < bottom && text != ""; i++ {
			if row := s.grid[i]; len(row) == 0 || col <= len(row) && row[col-1] != "" {
				break // an empty row holds no plant; ranges may not overlap
			}
			s.reach(i, col-1)
			s.grid[i][col-1] = text
		}
	}
}

// reach lengthens a row, where there is one, to hold a column.
func (s *sheet) reach(i, j int) {
	for i < len(s.grid) && j < mostCells && len(s.grid[i]) <= j {
		s.grid[i] = append(s.grid[i], "")
	}
}
