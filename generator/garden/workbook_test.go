package garden

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"sheaf/generator/source"
	"sheaf/generator/source/sourcetest"
)

// made builds a workbook from a description, so that cases can be read and
// changed: a line "[Planting]" begins a sheet, "[Old, hidden]" a hidden one;
// "!1904" counts days as old Macs do, "!merge A1:D1" merges cells, "!hide 7"
// hides a row or, named by letter, a column, "!empty 7" leaves out rows up to the seventh; every other line is a row, its cells
// parted by "|". A cell is a number, a text ('7 for a text of figures), a date
// (@2026-10-01), or a formula with its result (=SUM(B2:B3) → 12), which is
// missing from the file when nothing stands after the arrow. "¶" breaks a line.
func made(t testing.TB, description string) []byte {
	t.Helper()
	f := excelize.NewFile()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	sheet, row, mac := "", 0, false
	day, err := f.NewStyle(&excelize.Style{NumFmt: 14})
	must(err)
	for line := range strings.Lines(description) {
		line = strings.TrimSpace(line)
		switch {
		case strings.HasPrefix(line, "["):
			name, state, _ := strings.Cut(strings.Trim(line, "[]"), ", ")
			if sheet == "" {
				must(f.SetSheetName("Sheet1", name))
			} else {
				_, err := f.NewSheet(name)
				must(err)
			}
			must(f.SetSheetVisible(name, state != "hidden"))
			sheet, row = name, 0
		case line == "!1904":
			mac = true
			must(f.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &mac}))
		case strings.HasPrefix(line, "!merge "):
			from, to, _ := strings.Cut(strings.TrimPrefix(line, "!merge "), ":")
			must(f.MergeCell(sheet, from, to))
		case strings.HasPrefix(line, "!hide "):
			at := strings.TrimPrefix(line, "!hide ")
			if n, err := strconv.Atoi(at); err == nil {
				must(f.SetRowVisible(sheet, n, false))
			} else {
				must(f.SetColVisible(sheet, at, false))
			}
		case strings.HasPrefix(line, "!empty "):
			row, err = strconv.Atoi(strings.TrimPrefix(line, "!empty "))
			must(err)
		default:
			row++
			for i, c := range strings.Split(line, "|") {
				at, err := excelize.CoordinatesToCellName(i+1, row)
				must(err)
				c = strings.ReplaceAll(strings.TrimSpace(c), "¶", "\n")
				number, isNumber := strconv.ParseFloat(c, 64)
				switch {
				case c == "":
				case isNumber == nil:
					must(f.SetCellValue(sheet, at, number))
				case strings.HasPrefix(c, "@"):
					d, err := time.Parse(time.DateOnly, c[1:])
					must(err)
					must(f.SetCellValue(sheet, at, serial(d, mac)))
					must(f.SetCellStyle(sheet, at, at, day))
				case strings.HasPrefix(c, "="):
					formula, result, _ := strings.Cut(c[1:], "→")
					formula, result = strings.TrimSpace(formula), strings.TrimSpace(result)
					if n, err := strconv.ParseFloat(result, 64); err == nil {
						must(f.SetCellValue(sheet, at, n))
					} else if result != "" {
						must(f.SetCellStr(sheet, at, result))
					}
					must(f.SetCellFormula(sheet, at, formula))
				default:
					must(f.SetCellStr(sheet, at, strings.TrimPrefix(c, "'")))
				}
			}
		}
	}
	var b bytes.Buffer
	_, err = f.WriteTo(&b)
	must(err)
	return b.Bytes()
}

// serial is the number a workbook keeps for a day: 1 for 1 January 1900, with
// the 29 February that year did not have, or 0 for 1 January 1904 (ECMA-376,
// part 1, 18.17.4.1).
func serial(d time.Time, from1904 bool) float64 {
	first := time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)
	if from1904 {
		first = time.Date(1904, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	return d.Sub(first).Hours() / 24
}

func readMade(text []byte, sheet string) ([]Row, source.Diagnostics) {
	return ReadList(source.NewFile("plants.csv", text), nil, source.At[string]{Value: sheet}, "", nil)
}

// A workbook is told by its bytes, whatever its name, and a message shows the
// row and cell of the sheet with the row as its line.
func TestWorkbookPlaces(t *testing.T) {
	rs, ds := readMade(made(t, "[Planting]\nPlan|\n!empty 4\nref|plant¶name|qty\nA1|Stipa¶gigantea|several\n"), "")
	if got := rows(rs); got != "6: Stipa gigantea ×1\n" || rs[0].Span.Text() != "Stipa gigantea" {
		t.Errorf("read\n%s", got)
	}
	var b strings.Builder
	if err := ds.Print(&b, source.Style{}); err != nil {
		t.Fatal(err)
	}
	want := `plants.csv[Planting]:6:3: warning: "several" is not a quantity; 1 is taken [list/quantity]
  A1    Stipa gigantea    several
                          ^^^^^^^
1 warning
`
	if b.String() != want {
		t.Errorf("printed\n%s\nwant\n%s", b.String(), want)
	}
	rs, ds = ReadList(source.NewFile("plants.xlsx", []byte("plant\nCarex elata\n")), nil, source.At[string]{}, "", nil)
	if rows(rs) != "2: Carex elata ×1\n" || len(ds) > 0 {
		t.Errorf("text with a workbook's name: %s\n%s", rows(rs), sourcetest.Printed(ds))
	}
}

// What looks like a workbook and is none, or one too large, is an error that
// shows no bytes.
func TestNoWorkbook(t *testing.T) {
	good := made(t, "[Planting]\nplant\nCarex elata\n")
	long := made(t, "[Planting]\nplant\n!empty 20001\nCarex elata\n")
	wide := made(t, "[Planting]\nplant"+strings.Repeat("|", mostCells)+"far\nCarex elata|\n")
	// But for its size it can be read.
	bomb := parts(t, good)
	bomb["xl/media/image1.png"] = strings.Repeat(" ", largestUnzipped)
	for _, c := range []struct {
		name, want string
		text       []byte
	}{
		{"an old workbook", "list/workbook", []byte(oleMark + "\xa1\xb1\x1a\xe1 old")},
		{"cut short", "list/workbook", good[:len(good)/2]},
		{"an archive of something else", "list/workbook", packed(t, map[string]string{"a.xml": "<x/>"})},
		{"a spreadsheet of another format", "list/workbook", packed(t, map[string]string{"mimetype": "application/vnd.oasis.opendocument.spreadsheet", "content.xml": "<x/>"})},
		{"nothing written", "list/workbook", made(t, "[Planting]\n")},
		{"a zip bomb", "list/workbook", packed(t, bomb)},
		{"too long", "list/too-long", long},
		{"too wide", "list/too-long", wide},
		{"too many sheets", "list/too-long", made(t, manySheets(mostSheets+1))},
		{"no column of plants", "list/no-heading", made(t, "[Planting]\nwhat|how\nCarex elata|x\n")},
	} {
		rs, ds := readMade(c.text, "")
		if len(rs) > 0 || len(ds) != 1 || ds[0].Code != c.want || strings.Contains(sourcetest.Printed(ds), "PK") || ds[0].Code == "list/workbook" && len(ds[0].Span.File.Text) > 0 {
			t.Errorf("%s: want %s, got %d rows\n%s", c.name, c.want, len(rs), sourcetest.Printed(ds))
		}
	}
	if rs, ds := readMade(made(t, "[Planting]\nplant\n!empty 20000\nCarex elata\n"), ""); len(ds) != 1 || len(rs) != 0 {
		t.Errorf("one row more than may be: %d rows\n%s", len(rs), sourcetest.Printed(ds))
	}
	if rs, ds := readMade(made(t, "[Planting]\nplant\n!empty 19999\nCarex elata\n"), ""); ds.HasErrors() || len(rs) != 1 {
		t.Errorf("as many rows as may be: %d rows\n%s", len(rs), sourcetest.Printed(ds))
	}
}

// TestXMLAnywhere: a sheet is held to the bounds of XML wherever it lies and however
// it begins, and a picture to none but that of all parts.
func TestXMLAnywhere(t *testing.T) {
	whole := parts(t, made(t, "[Planting]\nplant\nCarex elata\n"))
	const sheet, link = "xl/worksheets/sheet1.xml", "xl/_rels/workbook.xml.rels"
	row := strings.Repeat("<a b='c'/>", 1<<10)
	tags := strings.Repeat(row, int(mostTags)/(2<<10)+1)
	large := "<a>" + strings.Repeat(" ", largestXML) + "</a>"
	put := func(name, head, more string) []byte {
		all := maps.Clone(whole)
		all[name] = head + strings.Replace(all[sheet], "</sheetData>", "</sheetData>"+more, 1)
		all[link] = strings.Replace(all[link], "worksheets/sheet1.xml", strings.TrimPrefix(name, "xl/"), 1)
		if all[link] == whole[link] {
			t.Fatal("the sheet is linked otherwise")
		}
		delete(all, sheet)
		return packed(t, all)
	}
	for _, name := range []string{"xl/media/sheet1.xml", "xl/media/image1.png", "xl/Media/a.jpeg", "xl/other/a.bin"} {
		if rs, ds := readMade(put(name, "", ""), ""); len(rs) != 1 {
			t.Errorf("%s: the library does not read it, so the test shows nothing\n%s", name, sourcetest.Printed(ds))
		}
		for _, head := range []string{"", "GIF89a", "BM", "<!--\x00-->", "<?x \x01?>"} {
			for _, more := range []string{tags, large} {
				rs, ds := readMade(put(name, head, more), "")
				if len(rs) > 0 || len(ds) != 1 || !strings.Contains(ds[0].Message, "than any plant list") && !strings.Contains(ds[0].Message, "larger than") {
					t.Errorf("%s, %q: %d rows\n%s", name, head, len(rs), sourcetest.Printed(ds))
				}
			}
		}
	}
	// Dark grey points are bytes that stand for tags in XML.
	pictures := maps.Clone(whole)
	for name, head := range map[string]string{"a.png": "\x89PNG\r\n\x1a\n", "b.bmp": "BM\x36\x00\x0c\x00\x00\x00\x00\x00", "c.jpeg": "\xff\xd8\xff\xe0\x00", "d.gif": "GIF89a\x40\x00\x40\x00", "e.emf": "\x01\x00\x00\x00"} {
		pictures["xl/media/"+name] = head + strings.Repeat("<=", largestXML/8)
	}
	if rs, ds := readMade(packed(t, pictures), ""); len(rs) != 1 || len(ds) > 0 {
		t.Errorf("pictures: %d rows\n%s", len(rs), sourcetest.Printed(ds))
	}
}

func manySheets(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "[S%d]\nplant\n", i)
	}
	return b.String()
}

// packed is a zip archive.
func packed(t testing.TB, parts map[string]string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, name := range slices.Sorted(maps.Keys(parts)) {
		w, err := z.Create(name)
		if err == nil {
			_, err = w.Write([]byte(parts[name]))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Of several sheets the one with the most known headings is read, then the one
// with the most rows, and none that is hidden.
func TestSheets(t *testing.T) {
	for _, c := range []struct{ name, in, sheet, want, code string }{
		{"titles first", "[Notes]\nplant well\n[List]\nplant|qty\nCarex|1\n", "", "List", ""},
		{"more headings", "[A]\nplant|qty\nCarex|1\nCarex|1\n[B]\nplant|qty|bed\nCarex|1|x\n", "", "B", "list/other-sheets"},
		{"more rows", "[A]\nplant|qty\nCarex|1\n[B]\nplant|qty\nCarex|1\nCarex|1\n", "", "B", "list/other-sheets"},
		{"alike: the first", "[A]\nplant|qty\nCarex|1\n[B]\nplant|qty\nCarex|1\n", "", "A", "list/other-sheets"},
		{"hidden", "[A]\nplant|qty\nCarex|1\n[B, hidden]\nplant|qty|bed\nCarex|1|x\n", "", "A", ""},
		{"headings alone are no list", "[A]\nplant|qty\n[B]\nplant|qty\nCarex|1\n", "", "B", ""},
		{"named", "[A]\nplant|qty\nCarex|1\n[B, hidden]\nplant|qty|bed\nCarex|1|x\n", "b", "B", ""},
	} {
		rs, ds := readMade(made(t, c.in), c.sheet)
		got, code := "", ""
		if len(rs) > 0 {
			got = rs[0].Span.File.Path
		}
		for _, d := range ds {
			code += d.Code
		}
		if got != "plants.csv["+c.want+"]" || code != c.code {
			t.Errorf("%s: %s, %q; want %s, %q\n%s", c.name, got, code, c.want, c.code, sourcetest.Printed(ds))
		}
	}
}

// Days are counted from 1900 or 1904; figures below 2200 are years.
func TestDaysOfAWorkbook(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"@2026-10-04", "2026-10-04"}, {"46299", "2026-10-04"}, {"46299.75", "2026-10-04"}, {"2026", "2026-01-01"}, {"'2026", "2026-01-01"}, {"October 2026", "2026-10-01"}, {"'04.10.2026", "2026-10-04"},
		{"=DATE(2026,10,4) → 46299", "2026-10-04"}, {"!1904\n@2026-10-04", "2026-10-04"}, {"!1904\n44837", "2026-10-04"}, {"1e9", ""}, {"-5", ""}, {"150000", ""},
	} {
		flag, in, ok := strings.Cut(c.in, "\n")
		if !ok {
			flag, in = "!empty 0", c.in
		}
		rs, ds := readMade(made(t, "[Planting]\n"+flag+"\nplant|planted\nCarex elata|"+in+"\n"), "")
		if len(rs) != 1 || day(rs[0]) != c.want || ds.HasErrors() || ds.Count(source.Warning) > 0 != (c.want == "") {
			t.Errorf("%q: %s\n%s", c.in, rows(rs), sourcetest.Printed(ds))
		}
	}
}

// Cells merged downwards hold for each of their rows, but a quantity for one.
func TestMergedCells(t *testing.T) {
	rs, ds := readMade(made(t, "[Planting]\nplant|qty|bed\n!merge C2:C4\nCarex|2|Pond\n!merge B2:B3\nStipa||\nMalus|1|\nSalix|1|\n!merge A6:C6\nBed B||\n!merge A7:A8\nRosa|1|\n||Gravel\n"), "")
	want := "2: Carex ×2, bed Pond\n3: Stipa ×1, bed Pond\n4: Malus ×1, bed Pond\n5: Salix ×1\n7: Rosa ×1, bed Bed B\n8: Rosa ×1, bed Gravel\n"
	if got := rows(rs); got != want || len(ds) > 0 {
		t.Errorf("%s\nwant\n%s\n%s", got, want, sourcetest.Printed(ds))
	}
}

// parts unpacks a workbook.
func parts(t testing.TB, text []byte) map[string]string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(text), int64(len(text)))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		part, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		out[f.Name] = string(part)
	}
	return out
}

// fuzzed are the parts of a workbook that a fuzzer changes.
var fuzzed = []string{"xl/worksheets/sheet1.xml", "xl/sharedStrings.xml", "xl/workbook.xml", "xl/_rels/workbook.xml.rels", "xl/styles.xml"}

// FuzzReadWorkbook: whatever stands in a workbook's parts, no panic; rows and
// messages stand inside the text form of the sheet. The archive is packed
// around the parts, as few changed bytes of one would still unpack.
func FuzzReadWorkbook(f *testing.F) {
	whole := parts(f, made(f, "[A]\n!1904\nPlan||\n!merge A1:C1\nplant|qty|planted\n!merge C3:C4\nCarex elata|=1+2 → 3|@2026-10-04\nStipa|=1+2 →|\nBed B||\nRosa|c. 2|2026\n"))
	l := library(f)
	read := func(t testing.TB, changed ...string) []Row {
		all := maps.Clone(whole)
		for i, name := range fuzzed {
			all[name] = changed[i]
		}
		text := packed(t, all)
		var out []Row
		for _, named := range []string{"", "A"} {
			rs, ds := readMade(text, named)
			_, more := Find(&Garden{Rows: rs}, l, false)
			for _, d := range append(ds, more...) {
				inside(t, d.Code, d.Span)
			}
			for _, r := range rs {
				inside(t, "row", r.Span)
			}
			sourcetest.Printed(append(ds, more...))
			out = append(out, rs...)
		}
		return out
	}
	other := `<worksheet><sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>plant</t></is></c><c t="s"><v>1</v></c></row><row><c><v>5</v></c><c t="e"><v>#REF!</v></c><c t="b"><v>1</v></c><c t="d"><v>2026-10-04T00:00:00</v></c></row></sheetData></worksheet>`
	for _, sheet := range []string{whole[fuzzed[0]], other} {
		seed := []string{sheet}
		for _, name := range fuzzed[1:] {
			seed = append(seed, whole[name])
		}
		f.Add(seed[0], seed[1], seed[2], seed[3], seed[4])
		// A seed that is not read would leave the fuzzer outside the door.
		if sheet == other && len(read(f, seed...)) == 0 {
			f.Fatal("the seed gives no rows")
		}
	}
	f.Fuzz(func(t *testing.T, sheet, strs, book, rels, styles string) { read(t, sheet, strs, book, rels, styles) })
}
