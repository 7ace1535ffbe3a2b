package generator_test

import (
	"bytes"
	"encoding/json"
	"maps"
	"path"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/klippa-app/go-pdfium/requests"
	"github.com/xuri/excelize/v2"

	"sheaf/generator"
)

// unsaid is a word that stands only where nothing is meant for print.
const unsaid = "Quibblefish"

// officeBook is a plant list of three rows as an office keeps it; with the office's
// own words it has columns beside those that are read, one of them hidden, a
// hidden sheet, a remark on a cell, a name, a header and properties.
func officeBook(t *testing.T, office bool) []byte {
	t.Helper()
	f := excelize.NewFile()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(f.SetSheetName("Sheet1", "Planting"))
	rows := [][]any{{"Botanical name", "Qty", "Bed"}, {"Panicum virgatum", 7, "Yard"}, {"Taxus baccata", 3, "Yard"}, {"Sesleria heufleriana", 9, "Yard"}}
	for i, row := range rows {
		if office {
			words := []any{"Notes", "Client notes", "Supplier", "Unit price", "Internal", "Anything"}
			if i > 0 {
				words = []any{unsaid, unsaid + " dislikes it", unsaid + " Ltd", unsaid, unsaid, unsaid}
			}
			row = append(row, words...)
		}
		at, err := excelize.CoordinatesToCellName(1, i+1)
		must(err)
		must(f.SetSheetRow("Planting", at, &row))
	}
	if office {
		must(f.SetColVisible("Planting", "E:G", false))
		must(f.AddComment("Planting", excelize.Comment{Cell: "A2", Author: unsaid, Text: unsaid}))
		must(f.SetDocProps(&excelize.DocProperties{Creator: unsaid, LastModifiedBy: unsaid, Title: unsaid}))
		must(f.SetHeaderFooter("Planting", &excelize.HeaderFooterOptions{OddHeader: "&C" + unsaid}))
		_, err := f.NewSheet("Office " + unsaid)
		must(err)
		must(f.SetSheetRow("Office "+unsaid, "A1", &[]any{"Botanical name", "Qty", "Bed", "Notes"}))
		must(f.SetSheetRow("Office "+unsaid, "A2", &[]any{"Hakonechloa macra", 99, unsaid, unsaid}))
		must(f.SetSheetVisible("Office "+unsaid, false))
		must(f.SetDefinedName(&excelize.DefinedName{Name: unsaid, RefersTo: "Planting!$A$1"}))
	}
	var buf bytes.Buffer
	must(f.Write(&buf))
	return buf.Bytes()
}

// TestPrivateWordsStayPrivate: a garden has the same editions, byte for byte,
// with and without all that its designer and its entries' authors wrote beside
// what is printed; booklet.json may count lines otherwise, but has none of the
// words either.
func TestPrivateWordsStayPrivate(t *testing.T) {
	const lines = "Botanical name,Qty,Bed\nPanicum virgatum,7,Yard\nTaxus baccata,3,Yard\nSesleria heufleriana,9,Yard\n"
	const garden = "garden: Office\ndate: 2027-03-20\nsite: {country: GB, latitude: 52}\nbeds: [{bed: Yard}]\npages: [pages/welcome.md]\nplants: "
	const office = "# " + unsaid + " pays in March.\ngarden: Office\nprivate: [" + unsaid + ", 'and " + unsaid + "']\ndate: 2027-03-20 # " + unsaid + "\n" +
		"site: {country: GB, latitude: 52}\nbeds: [{bed: Yard}]\npages: [pages/welcome.md]\nphotos: []\nplants: "
	const welcome = "---\ntitle: Welcome\n---\nThe [garden](https://example.org/) is new.\n"
	shelf := func(garden []byte, more map[string]string) generator.Options {
		o := withPhotos(t, "")
		files := o.Garden.(fstest.MapFS)
		delete(files, "photos/grass.jpg")
		files["garden.yaml"] = &fstest.MapFile{Data: garden}
		files["pages/welcome.md"] = &fstest.MapFile{Data: []byte(welcome)}
		for name, text := range more {
			files[name] = &fstest.MapFile{Data: []byte(text)}
		}
		o.Editions = generator.Editions()
		return o
	}
	moor := string(withPhotos(t, "").Garden.(fstest.MapFS)["plants/moor.md"].Data)
	own := strings.NewReplacer("type: grass", "# "+unsaid+"\ntype: grass # "+unsaid, "---\nA low", "---\n<!-- "+unsaid+" -->\n\nA low").Replace(moor)
	// An entry that nobody has planted, with its author; pages and files that
	// nothing names.
	spare := strings.NewReplacer("Sesleria heufleriana", "Sesleria tatrae", "green moor grass", unsaid+" grass", "photo:", "contributor: A. "+unsaid+"\nsources: ['"+unsaid+", a book']\nphoto:").Replace(moor)
	beside := map[string]string{
		"plants/moor.md": own, "plants/spare.md": spare, "pages/" + unsaid + ".md": "---\ntitle: " + unsaid + "\n---\n" + unsaid + "\n",
		"notes.txt": unsaid, "photos/" + unsaid + ".jpg": unsaid,
		"pages/welcome.md": strings.NewReplacer("title: Welcome", "title: Welcome # "+unsaid, "org/)", "org/ \""+unsaid+"\")").Replace(welcome) + "\n[" + unsaid + "]: https://example.org/" + unsaid + "\n\n<!-- " + unsaid + " -->\n",
	}
	with := func(more map[string]string, name string, text []byte) map[string]string {
		out := maps.Clone(more)
		if out == nil {
			out = map[string]string{}
		}
		out[name] = string(text)
		return out
	}
	officeLines := strings.NewReplacer("Bed\n", "Bed,Notes,Client notes,Supplier,Price,Anything\n",
		"Yard\n", "Yard,"+unsaid+","+unsaid+","+unsaid+" Ltd,"+unsaid+","+unsaid+"\n").Replace(lines)
	for _, c := range []struct {
		name          string
		plain, office generator.Options
	}{
		{"text", shelf([]byte(garden+"plants.csv\n"), with(nil, "plants.csv", []byte(lines))), shelf([]byte(office+"plants.csv\n"), with(beside, "plants.csv", []byte(officeLines)))},
		{"workbook", shelf([]byte(garden+"plants.xlsx\n"), with(nil, "plants.xlsx", officeBook(t, false))), shelf([]byte(office+"plants.xlsx\n"), with(beside, "plants.xlsx", officeBook(t, true)))},
	} {
		plain, office := build(t, c.plain).Files, build(t, c.office).Files
		if got, want := slices.Sorted(maps.Keys(office)), slices.Sorted(maps.Keys(plain)); !slices.Equal(got, want) {
			t.Errorf("%s: the files are\n%q\nwant\n%q", c.name, got, want)
		}
		for name, data := range office {
			if name != "booklet.json" && !bytes.Equal(data, plain[name]) {
				t.Errorf("%s: %s differs:\n%.300s", c.name, name, firstDifference(string(data), string(plain[name])))
			}
			if bytes.Contains(bytes.ToLower(data), bytes.ToLower([]byte(unsaid))) {
				t.Errorf("%s: %s holds a private word", c.name, name)
			}
		}
	}
}

// wordsOf gives the text of a file of an edition, PDF pages as a reader of them
// finds it, with single spaces.
func wordsOf(t *testing.T, files map[string][]byte) map[string]string {
	t.Helper()
	p := reader(t)
	out := map[string]string{}
	for name, data := range files {
		text := string(data)
		if path.Ext(name) == ".pdf" {
			doc, err := p.OpenDocument(&requests.OpenDocument{File: &data})
			if err != nil {
				t.Fatal(err)
			}
			count, err := p.FPDF_GetPageCount(&requests.FPDF_GetPageCount{Document: doc.Document})
			if err != nil {
				t.Fatal(err)
			}
			var b strings.Builder
			for i := range count.PageCount {
				page, err := p.GetPageText(&requests.GetPageText{Page: requests.Page{ByIndex: &requests.PageByIndex{Document: doc.Document, Index: i}}})
				if err != nil {
					t.Fatal(err)
				}
				b.WriteString(page.Text + " ")
			}
			text = b.String()
		}
		out[name] = strings.Join(strings.Fields(text), " ")
	}
	return out
}

// TestReportIsInNoEdition: what the report tells the designer of rows, places
// and gaps stands in booklet.json and nowhere else, and without that file
// nowhere.
func TestReportIsInNoEdition(t *testing.T) {
	o := options(t, demo)
	files := build(t, o).Files
	var record struct {
		Report struct{ Species, Unsuitable, Nests, Professional []string }
	}
	if err := json.Unmarshal(files["booklet.json"], &record); err != nil {
		t.Fatal(err)
	}
	r := record.Report
	if len(r.Unsuitable) < 3 || len(r.Species) < 3 || len(r.Professional) < 1 {
		t.Fatalf("the report is too short to tell: %+v", r)
	}
	var needles []string
	for _, line := range slices.Concat(r.Species, r.Unsuitable, r.Nests, r.Professional) {
		needles = append(needles, line)
		if row, rest, ok := strings.Cut(line, ": "); ok && strings.HasPrefix(row, "row ") {
			if _, why, ok := strings.Cut(rest, ": "); ok {
				needles = append(needles, why)
			}
		}
	}
	files = maps.Clone(files)
	all := len(files)
	delete(files, "booklet-fold.pdf") // the same pages as booklet.pdf
	words := wordsOf(t, files)
	for name, text := range words {
		if name == "booklet.json" {
			continue
		}
		for _, n := range needles {
			if strings.Contains(text, n) {
				t.Errorf("%s says %q", name, n)
			}
		}
	}
	if !strings.Contains(words["booklet.pdf"], "Dovecote Barn") || !strings.Contains(words["booklet.json"], needles[0]) {
		t.Error("the words were not read")
	}
	o.Editions = slices.DeleteFunc(generator.Editions(), func(e string) bool { return e == "json" })
	if len(build(t, o).Files) != all-1 {
		t.Error("booklet.json cannot be left out")
	}
}
