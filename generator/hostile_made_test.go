package generator_test

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/gif"
	"image/jpeg"
	"image/png"
	"maps"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"

	"golang.org/x/text/encoding/unicode"
)

// The harmless garden's entry and garden file, to be changed.
const (
	moorFront = "---\nbotanical: Sesleria heufleriana\ncommon: [green moor grass]\ntype: grass\nleaf: evergreen\nhabit: mound\nheight: 40 cm\nspread: 45 cm\ncare-group: evergreen combed grass\n"
	gateHouse = "garden: Gate House\ndate: 2027-03-20\nsite: {country: GB, latitude: 52.2}\nbeds:\n  - bed: Yard\nplants: plants.csv\n"
	moorPage  = "plants/sesleria-heufleriana.html"
	moorRow   = "Sesleria heufleriana,3,Yard\n"
)

// Sizes of cases that are to be too large by far.
const (
	megabyte = 1 << 20
	nearMega = megabyte - 2000 // as much as a file may have, with its front matter
)

// madeCases are the cases that are too large, or no text, to be kept in a file.
func madeCases() []hostileCase {
	again := strings.Repeat
	return []hostileCase{
		// Bytes.
		{name: "bytes-front-10-mb", make: func(g *hostileGarden) { g.front("sources: [\"" + again("x", 10*megabyte) + "\"]\n") }},
		{name: "bytes-front-1-mb", make: func(g *hostileGarden) { g.front("sources: [\"" + again("word ", nearMega/5) + "\"]\n") }},
		{name: "bytes-garden-10-mb", make: func(g *hostileGarden) { g.garden("Gate House", again("x", 10*megabyte)) }},
		{name: "bytes-page-10-mb", make: func(g *hostileGarden) {
			g.garden("plants: plants.csv\n", "plants: plants.csv\npages: [big.md]\n")
			g.write("big.md", "---\ntitle: Big\n---\n"+again("word ", 2*megabyte))
		}},
		{name: "bytes-nul", make: func(g *hostileGarden) {
			g.write("plants/moor.md", moorFront+"sources: [\"a\x00b\"]\n---\nWords.\n")
			g.list("plant,bed\nSesleria\x00 heufleriana,Yard\n")
		}},
		{name: "bytes-nul-in-words", make: func(g *hostileGarden) { g.entry("A \x00mound\x07 of\x1b[31m green\u0085.\x7f\n") }, shown: []string{moorPage + ": of[31m green"}},
		{name: "bytes-no-utf-8", make: func(g *hostileGarden) { g.entry("A mound \xff\xfe of \xc0\xaf green \xed\xa0\x80.\n") }},
		{name: "bytes-utf-16-entry", make: func(g *hostileGarden) {
			text, _ := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder().String(moorFront + "---\nWords.\n")
			g.write("plants/moor.md", text)
		}},
		{name: "bytes-mark-first", make: func(g *hostileGarden) {
			g.write("plants/moor.md", "\ufeff"+moorFront+"---\nA \ufeffmound.\n")
			g.garden("garden:", "\ufeffgarden:")
			g.list("\ufeffplant,bed\nSesleria heufleriana,Yard\n")
		}, shown: []string{moorPage + ": A mound."}},
		{name: "bytes-cr-only", make: func(g *hostileGarden) {
			g.write("plants/moor.md", strings.ReplaceAll(moorFront+"---\nWords.\n", "\n", "\r"))
			g.list("plant,quantity,bed\rSesleria heufleriana,3,Yard\r")
		}, shown: []string{moorPage + ": Words."}},
		{name: "bytes-crlf", make: func(g *hostileGarden) {
			g.write("plants/moor.md", strings.ReplaceAll(moorFront+"---\nWords\nhere.\n", "\n", "\r\n"))
			g.list("plant,quantity,bed\r\nSesleria heufleriana,3,Yard\r\n")
		}, shown: []string{moorPage + ": Words here."}},
		{name: "bytes-empty", make: func(g *hostileGarden) {
			g.write("plants/moor.md", "")
			g.write("plants.csv", "")
		}},
		{name: "bytes-list-nul-only", make: func(g *hostileGarden) { g.list(again("\x00", megabyte)) }},

		// YAML.
		{name: "yaml-deep-lists", make: func(g *hostileGarden) { g.front("sources: " + again("[", 400000) + "\n") }},
		{name: "yaml-deep-maps", make: func(g *hostileGarden) { g.front("sources: " + again("{a: ", 9000) + again("}", 9000) + "\n") }},
		{name: "yaml-deep-lines", make: func(g *hostileGarden) {
			var b strings.Builder
			for i := range 1300 {
				b.WriteString(again(" ", i) + "a:\n")
			}
			g.front(b.String())
		}},
		{name: "yaml-many-keys", make: func(g *hostileGarden) {
			var b strings.Builder
			for i := range 90000 {
				fmt.Fprintf(&b, "key%d: x\n", i)
			}
			g.front(b.String())
		}},
		{name: "yaml-many-keys-in-a-line", make: func(g *hostileGarden) {
			var b strings.Builder
			for i := range 90000 {
				fmt.Fprintf(&b, "k%d: x, ", i)
			}
			g.front("likes: {" + b.String() + "}\n")
		}},
		{name: "yaml-same-key", make: func(g *hostileGarden) { g.front(again("x: y\n", nearMega/5)) }},
		{name: "yaml-many-items", make: func(g *hostileGarden) { g.front("sources: [" + again("a,", nearMega/2) + "]\n") }},
		{name: "yaml-many-maps", make: func(g *hostileGarden) {
			g.garden("plants: plants.csv", "contacts: ["+again("{},", nearMega/3)+"]\nplants: plants.csv")
		}},
		{name: "yaml-many-anchors", make: func(g *hostileGarden) {
			var b strings.Builder
			for i := range 40000 {
				fmt.Fprintf(&b, "- &a%d x\n- *a%d\n", i, i)
			}
			g.front("sources:\n" + b.String())
		}},
		{name: "yaml-long-key", make: func(g *hostileGarden) { g.front(again("k", nearMega) + ": x\n") }},
		{name: "yaml-long-word", make: func(g *hostileGarden) { g.front("light: " + again("w", nearMega) + "\n") }},
		{name: "yaml-many-cautions", make: func(g *hostileGarden) {
			g.front("care:\n  - job: comb\n    cautions: [" + again("\"Mind.\",", 2000) + "]\n")
		}},
		{name: "yaml-many-rules", make: func(g *hostileGarden) { g.front("care:\n" + again("  - {job: comb, when: March, how: x}\n", 2000)) }},
		{name: "yaml-many-beds", make: func(g *hostileGarden) {
			var b strings.Builder
			for i := range 1990 {
				fmt.Fprintf(&b, "  - bed: Bed %d\n", i)
			}
			g.garden("  - bed: Yard\n", "  - bed: Yard\n"+b.String())
		}},
		{name: "yaml-many-columns", make: func(g *hostileGarden) {
			var b strings.Builder
			for i := range 2000 {
				fmt.Fprintf(&b, "  heading %d: notes\n", i)
			}
			g.garden("plants: plants.csv\n", "plants: plants.csv\ncolumns:\n"+b.String())
			g.list(again(again("cell,", 200)+"\n", 20) + "plant\nSesleria heufleriana\n")
		}},
		{name: "yaml-many-pages", make: func(g *hostileGarden) {
			g.garden("plants: plants.csv\n", "plants: plants.csv\npages: ["+again("a.md,", 100000)+"]\n")
		}},
		{name: "yaml-many-photos", make: func(g *hostileGarden) {
			g.garden("plants: plants.csv\n", "plants: plants.csv\nphotos:\n"+again("  - {plant: green moor grass, file: a.jpg, alt: x}\n", 2000))
		}},
		{name: "yaml-many-plants", make: func(g *hostileGarden) {
			g.garden("plants: plants.csv\n", "plants:\n"+again("  - {plant: Sesleria heufleriana}\n", 2000))
		}},

		// Windows and other phrases.
		{name: "window-10000-words", make: func(g *hostileGarden) { g.front("flowers: " + again("March to May or ", 2500) + "June\n") }},
		{name: "window-10000-cues", make: func(g *hostileGarden) {
			g.front("care:\n  - job: comb\n    when: " + again("6 weeks before first green or ", 2000) + "March\n    never: [" + again("5 days after leaf fall or ", 2000) + "June]\n")
		}},
		{name: "window-many-nevers", make: func(g *hostileGarden) {
			g.front("care:\n  - job: comb\n    when: March\n    never: [" + again("June, ", 1900) + "]\n")
		}},
		{name: "window-nonsense", make: func(g *hostileGarden) { g.front("flowers: " + again("blah ", 2000) + "\n") }},
		{name: "name-long", make: func(g *hostileGarden) {
			g.list("plant,bed\n" + again("Sesleria ", 20000) + ",Yard\nSesleria heufleriana '" + again("x", 270) + "',Yard\n")
		}},
		{name: "names-long-everywhere", make: func(g *hostileGarden) {
			long := again("n ", 95)
			g.write("plants/moor.md", strings.Replace(moorFront, "green moor grass", long, 1)+"contributor: "+long+"\n---\nWords.\n")
			g.garden("Gate House", long, "Yard", long, "plants: plants.csv", "for: "+long+"\nby: "+long+"\nplants: plants.csv")
			g.list("plant,quantity,bed\n" + again("Sesleria heufleriana,3,"+long+"\n", 1000))
		}},
		{name: "names-unbroken-everywhere", make: func(g *hostileGarden) {
			long := again("n", 195)
			g.write("plants/moor.md", strings.Replace(moorFront, "green moor grass", long, 1)+"contributor: "+long+"\n---\nWords.\n")
			g.garden("Gate House", long, "Yard", long, "plants: plants.csv", "for: "+long+"\nby: "+long+"\nplants: plants.csv")
			g.list("plant,quantity,bed\nSesleria heufleriana,3," + long + "\n")
		}},
		{name: "name-accents", make: func(g *hostileGarden) { g.list("plant,bed\nS" + again("\u0301", 140) + "esleria heufleriana,Yard\n") }},
		{name: "latitude-nan", make: func(g *hostileGarden) { g.garden("52.2", ".nan") }},
		{name: "latitude-inf", make: func(g *hostileGarden) { g.garden("52.2", "-.inf") }},
		{name: "latitude-huge", make: func(g *hostileGarden) { g.garden("52.2", "1e308") }},
		{name: "latitude-pole", make: func(g *hostileGarden) { g.garden("52.2", "-90") }},
		{name: "date-year-0", make: func(g *hostileGarden) { g.garden("2027-03-20", "0000-01-01") }},
		{name: "date-year-1", make: func(g *hostileGarden) { g.garden("2027-03-20", "0001-01-01") }},
		{name: "date-year-9999", make: func(g *hostileGarden) { g.garden("2027-03-20", "9999-12-31\nyears: 10") }},
		{name: "date-no-day", make: func(g *hostileGarden) { g.garden("2027-03-20", "2027-02-30") }},
		{name: "date-planted", make: func(g *hostileGarden) {
			g.list("plant,bed,planted\nSesleria heufleriana,Yard,9999-12-31\nSesleria heufleriana,Yard,0000\nSesleria heufleriana,Yard,99999999999\n")
		}},

		// Markdown, each as long as a text may be.
		{name: "markdown-1-mb", make: func(g *hostileGarden) { g.entry(again("word ", nearMega/5)) }},
		{name: "markdown-deep-quotes", make: func(g *hostileGarden) { g.entry(fill(">") + " deep\n") }},
		{name: "markdown-deep-quotes-lines", make: func(g *hostileGarden) { g.entry(fill(again("> ", 400) + "deep\n")) }},
		{name: "markdown-deep-lists", make: func(g *hostileGarden) {
			var b strings.Builder
			for i := range 170 {
				b.WriteString(again("  ", i) + "- deep\n")
			}
			g.entry(b.String())
		}},
		{name: "markdown-deep-lists-in-a-line", make: func(g *hostileGarden) { g.entry(fill("- ") + "deep\n") }},
		{name: "markdown-deep-emphasis", make: func(g *hostileGarden) { g.entry(fill("*a **b ") + "\n") }},
		{name: "markdown-emphasis-marks", make: func(g *hostileGarden) { g.entry(fill("*") + "a\n") }},
		{name: "markdown-emphasis-pairs", make: func(g *hostileGarden) { g.entry(fill("a**b_c") + "\n") }},
		{name: "markdown-brackets", make: func(g *hostileGarden) { g.entry(again("[", 16000) + again("]", 16000) + "\n") }},
		{name: "markdown-brackets-open", make: func(g *hostileGarden) { g.entry(fill("[a](") + "\n") }},
		{name: "markdown-brackets-nested", make: func(g *hostileGarden) { g.entry(again("[", 5000) + "a" + again("](x)", 5000) + "\n") }},
		{name: "markdown-pictures-open", make: func(g *hostileGarden) { g.entry(fill("![[]()") + "\n") }},
		{name: "markdown-links", make: func(g *hostileGarden) { g.entry(fill("[a](https://example.org/) ") + "\n") }},
		{name: "markdown-references", make: func(g *hostileGarden) {
			var b strings.Builder
			for i := range 700 {
				fmt.Fprintf(&b, "[r%d]: https://example.org/%d\n", i, i)
			}
			g.entry(b.String() + "\n" + again("[r699] ", 1000) + "\n")
		}},
		{name: "markdown-references-open", make: func(g *hostileGarden) { g.entry(fill("[a]: (\n")) }},
		{name: "markdown-backticks", make: func(g *hostileGarden) {
			var b strings.Builder
			for i := range 250 {
				b.WriteString("a" + again("`", i))
			}
			g.entry(b.String() + "\n")
		}},
		{name: "markdown-html-open", make: func(g *hostileGarden) { g.entry(fill("<a ") + "\n") }},
		{name: "markdown-comments-open", make: func(g *hostileGarden) { g.entry("a " + fill("<!-- ") + "\n") }},
		{name: "markdown-instructions-open", make: func(g *hostileGarden) { g.entry("a " + fill("<?") + "\n") }},
		{name: "markdown-html-many", make: func(g *hostileGarden) { g.entry(fill("<b>") + "\n") }},
		{name: "markdown-entities", make: func(g *hostileGarden) { g.entry(fill("&amp;&#x41;&") + "\n") }},
		{name: "markdown-table", make: func(g *hostileGarden) {
			g.entry("|" + again("a|", 100) + "\n|" + again("-|", 100) + "\n" + again("|"+again("b|", 100)+"\n", 150))
		}},
		{name: "markdown-headings", make: func(g *hostileGarden) { g.entry(fill("# a\n")) }},
		{name: "markdown-items", make: func(g *hostileGarden) { g.entry(fill("- a\n")) }},
		{name: "markdown-paragraphs", make: func(g *hostileGarden) { g.entry(fill("a\n\n")) }},
		{name: "markdown-long-word", make: func(g *hostileGarden) { g.entry(fill("x") + "\n") }},
		{name: "markdown-long-line", make: func(g *hostileGarden) { g.entry(fill("word ") + "\n") }},
		{name: "markdown-long-line-unbroken", make: func(g *hostileGarden) { g.entry(fill("word\u00a0") + "\n") }},
		{name: "markdown-tabs", make: func(g *hostileGarden) { g.entry(fill("\t") + "a\n") }},
		{name: "markdown-escapes", make: func(g *hostileGarden) { g.entry(fill(`\\`) + "\n") }},
		{name: "markdown-autolinks", make: func(g *hostileGarden) { g.entry(fill("<a@b.c><x:") + "\n") }},

		// Lists.
		{name: "list-100000-rows", make: func(g *hostileGarden) { g.list("plant,quantity,bed\n" + again(moorRow, 100000)) }},
		{name: "list-20000-rows", make: func(g *hostileGarden) { g.list("plant,quantity,bed\n" + again(moorRow, 19990)) }},
		{name: "list-5000-rows", make: func(g *hostileGarden) { g.list("plant,quantity,bed\n" + again(moorRow, 4990)) }},
		{name: "list-5000-rows-2-years", make: func(g *hostileGarden) {
			g.garden("plants: plants.csv", "years: 2\nplants: plants.csv")
			g.list("plant,quantity,bed\n" + again(moorRow, 4990))
		}},
		{name: "list-5000-strangers", make: func(g *hostileGarden) {
			var b strings.Builder
			for i := range 4990 {
				fmt.Fprintf(&b, "Sesleri%c%c %s '%s%d',1,Yard\n", 'a'+i%26, 'a'+i/26%26, again("abcde", 10), again("xyz", 60), i)
			}
			g.list("plant,quantity,bed\n" + b.String())
		}},
		{name: "list-4-mb-of-commas", make: func(g *hostileGarden) { g.list("plant\n" + again(",", 4*megabyte-100)) }},
		{name: "list-9-mb", make: func(g *hostileGarden) { g.list("plant\n" + again("x", 9*megabyte)) }},
		{name: "list-long-cell", make: func(g *hostileGarden) { g.list("plant,bed\nSesleria heufleriana," + again("x ", 900000) + "\n") }},
		{name: "list-long-plant", make: func(g *hostileGarden) { g.list("plant,quantity\n" + again("Bed 1 ", 300000) + ",1\n") }},
		{name: "list-long-quantity", make: func(g *hostileGarden) {
			g.list("plant,quantity\n" + again("Sesleria heufleriana,\""+again("1,000", 75)+"\"\n", 900))
		}},
		{name: "list-long-notes", make: func(g *hostileGarden) {
			g.list("plant,quantity,notes\n" + again("Sesleria heufleriana,1,"+again("pot word ", 60)+"\n", 900))
		}},
		{name: "list-wide", make: func(g *hostileGarden) {
			g.list("plant" + again(",x", 300) + "\n" + again("Sesleria heufleriana"+again(",x", 300)+"\n", 100))
		}},
		{name: "list-headings", make: func(g *hostileGarden) {
			g.list(again("plant,", 255) + "\n" + again("Sesleria heufleriana,", 255) + "\n")
		}},
		{name: "list-quotes", make: func(g *hostileGarden) { g.list("plant,bed\n" + again(`"`, 2000001) + "\n") }},
		{name: "list-quote-swallows", make: func(g *hostileGarden) { g.list("plant,bed\n\"" + again(moorRow, 4000)) }},
		{name: "list-separators", make: func(g *hostileGarden) { g.list(again(",;\t", 690000) + "\nplant\n") }},
		{name: "list-dates", make: func(g *hostileGarden) {
			g.list("plant,planted\n" + again("Sesleria heufleriana,"+again("1", 380)+"/1/2026\n", 900))
		}},

		// Workbooks.
		{name: "workbook-bomb", make: func(g *hostileGarden) {
			g.book(map[string]string{"xl/worksheets/sheet1.xml": "<worksheet><sheetData>" + again(" ", 64*megabyte)})
		}},
		{name: "workbook-bomb-that-lies", make: func(g *hostileGarden) {
			g.write("plants.csv", lying(g, 100, again(" ", 64*megabyte)))
		}},
		{name: "workbook-size-below-zero", make: func(g *hostileGarden) {
			g.write("plants.csv", lying(g, 1<<63+5, "<worksheet/>"))
		}},
		{name: "workbook-strings-bomb", make: func(g *hostileGarden) {
			g.book(map[string]string{"xl/sharedStrings.xml": `<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">` + again("<si/>", 298000) + "</sst>"})
		}},
		{name: "workbook-strings-runs", make: func(g *hostileGarden) {
			g.book(map[string]string{"xl/sharedStrings.xml": `<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><si>` + again("<r><t/></r>", 99000) + "</si></sst>"})
		}},
		{name: "workbook-strings-many-uses", make: func(g *hostileGarden) {
			g.book(map[string]string{
				"xl/sharedStrings.xml":     `<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><si><t>` + again("x", 1900) + `</t></si></sst>`,
				"xl/worksheets/sheet1.xml": `<worksheet><sheetData>` + again(`<row>`+again(`<c t="s"><v>0</v></c>`, 200)+`</row>`, 900) + `</sheetData></worksheet>`,
			})
		}},
		{name: "workbook-styles-bomb", make: func(g *hostileGarden) {
			g.book(map[string]string{"xl/styles.xml": `<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><cellXfs>` + again("<xf/>", 299000) + "</cellXfs></styleSheet>"})
		}},
		{name: "workbook-rows-bomb", make: func(g *hostileGarden) {
			g.book(map[string]string{"xl/worksheets/sheet1.xml": "<worksheet><sheetData>" + again("<row/>", 990000) + "</sheetData></worksheet>"})
		}},
		{name: "workbook-cells-bomb", make: func(g *hostileGarden) {
			g.book(map[string]string{"xl/worksheets/sheet1.xml": "<worksheet><sheetData><row>" + again("<c/>", 990000) + "</row></sheetData></worksheet>"})
		}},
		{name: "workbook-cells-far", make: func(g *hostileGarden) {
			g.book(map[string]string{"xl/worksheets/sheet1.xml": "<worksheet><sheetData>" + again(`<row><c r="XFD1"/></row>`, 290000) + "</sheetData></worksheet>"})
		}},
		{name: "workbook-row-far", make: func(g *hostileGarden) {
			g.book(map[string]string{"xl/worksheets/sheet1.xml": `<worksheet><sheetData><row r="1"><c t="inlineStr"><is><t>plant</t></is></c></row><row r="1048576"><c t="inlineStr"><is><t>x</t></is></c></row><row r="99999999999"/></sheetData></worksheet>`})
		}},
		{name: "workbook-merged", make: func(g *hostileGarden) {
			g.book(map[string]string{"xl/worksheets/sheet1.xml": `<worksheet><sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>plant</t></is></c></row><row r="2"><c r="A2" t="inlineStr"><is><t>Sesleria heufleriana</t></is></c></row></sheetData><mergeCells>` + again(`<mergeCell ref="A2:XFD1048576"/>`, 220000) + "</mergeCells></worksheet>"})
		}},
		{name: "workbook-deep", make: func(g *hostileGarden) {
			g.book(map[string]string{"xl/worksheets/sheet1.xml": "<worksheet><sheetData>" + again("<row>", 990000)})
		}},
		{name: "workbook-deep-cell", make: func(g *hostileGarden) {
			g.book(map[string]string{"xl/worksheets/sheet1.xml": "<worksheet><sheetData><row><c>" + again("<is>", 990000)})
		}},
		{name: "workbook-attributes", make: func(g *hostileGarden) {
			g.book(map[string]string{"xl/worksheets/sheet1.xml": `<worksheet><sheetData><row ` + again(`a="" `, 1190000) + `/></sheetData></worksheet>`})
		}},
		{name: "workbook-entities", make: func(g *hostileGarden) {
			g.book(map[string]string{"xl/sharedStrings.xml": `<?xml version="1.0"?><!DOCTYPE sst [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c SYSTEM "file:///etc/passwd">]><sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><si><t>&b;&c;</t></si></sst>`})
		}},
		{name: "workbook-sheets", make: func(g *hostileGarden) {
			var sheets, rels strings.Builder
			for i := range 5000 {
				fmt.Fprintf(&sheets, `<sheet name="S%d" sheetId="%d" r:id="rId%d"/>`, i, i+1, i+1)
				fmt.Fprintf(&rels, `<Relationship Id="rId%d" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/>`, i+1)
			}
			g.book(map[string]string{
				"xl/workbook.xml":            `<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets>` + sheets.String() + `</sheets></workbook>`,
				"xl/_rels/workbook.xml.rels": `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` + rels.String() + `</Relationships>`,
			})
		}},
		{name: "workbook-49-large-sheets", make: func(g *hostileGarden) {
			var sheets, rels strings.Builder
			for i := range 49 {
				fmt.Fprintf(&sheets, `<sheet name="S%d" sheetId="%d" r:id="rId%d"/>`, i, i+1, i+1)
				fmt.Fprintf(&rels, `<Relationship Id="rId%d" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/>`, i+1)
			}
			g.book(map[string]string{
				"xl/workbook.xml":            `<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets>` + sheets.String() + `</sheets></workbook>`,
				"xl/_rels/workbook.xml.rels": `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` + rels.String() + `</Relationships>`,
				"xl/worksheets/sheet1.xml":   "<worksheet><sheetData>" + again(`<row><c t="inlineStr"><is><t>plant</t></is></c><c><v>1</v></c></row>`, 2300) + "</sheetData></worksheet>",
			})
		}},
		{name: "workbook-paths", make: func(g *hostileGarden) {
			g.book(map[string]string{"xl/_rels/workbook.xml.rels": `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="../../../outside/secret.csv"/></Relationships>`, "../../outside/written.csv": "x"})
		}},
		{name: "workbook-external", make: func(g *hostileGarden) {
			g.book(map[string]string{
				"xl/externalLinks/externalLink1.xml":            `<externalLink xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><externalBook r:id="rId1"/></externalLink>`,
				"xl/externalLinks/_rels/externalLink1.xml.rels": `<Relationships><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/externalLinkPath" Target="file:///etc/passwd" TargetMode="External"/></Relationships>`,
				"xl/worksheets/sheet1.xml":                      `<worksheet><sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>plant</t></is></c><c r="B1" t="inlineStr"><is><t>notes</t></is></c></row><row r="2"><c r="A2" t="inlineStr"><is><t>Sesleria heufleriana</t></is></c><c r="B2"><f>[1]Sheet1!A1</f></c></row><row r="3"><c r="A3" t="str"><f>WEBSERVICE("https://example.org/")</f><v>Sesleria heufleriana</v></c></row></sheetData></worksheet>`,
			})
		}},
		{name: "workbook-truncated", make: func(g *hostileGarden) {
			whole := workbook(g, nil)
			g.write("plants.csv", whole[:len(whole)/2])
		}},
		{name: "workbook-no-parts", make: func(g *hostileGarden) { g.write("plants.csv", "PK\x03\x04"+again("\x00", 1000)) }},
		{name: "workbook-many-parts", make: func(g *hostileGarden) {
			parts := map[string]string{}
			for i := range 60000 {
				parts[fmt.Sprintf("x/%d.xml", i)] = ""
			}
			g.book(parts)
		}},
		{name: "workbook-quoted-bomb", make: func(g *hostileGarden) { g.book(map[string]string{"xl/media/picture.png": again("\x00", 64*megabyte)}) }},

		// Photographs.
		{name: "photo-svg", make: func(g *hostileGarden) {
			g.picture([]byte(`<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"><script>alert(1)</script></svg>`))
		}},
		{name: "photo-html", make: func(g *hostileGarden) { g.picture([]byte(`<!doctype html><script>alert(1)</script>`)) }},
		{name: "photo-gif-as-jpg", make: func(g *hostileGarden) { g.picture(drawn("gif")) }},
		{name: "photo-png-as-jpg", make: func(g *hostileGarden) { g.picture(drawn("png")) }, shown: []string{moorPage + `: alt="A low mound."`}},
		{name: "photo-truncated", make: func(g *hostileGarden) { g.picture(drawn("jpeg")[:700]) }},
		{name: "photo-60000-points", make: func(g *hostileGarden) { g.picture(declared("png", 60000, 60000)) }},
		{name: "photo-60000-points-jpeg", make: func(g *hostileGarden) { g.picture(declared("jpeg", 60000, 60000)) }},
		{name: "photo-largest-png", make: func(g *hostileGarden) { g.picture(bombPNG(7050, 7050, 8)) }},
		{name: "photo-largest-png-16-bit", make: func(g *hostileGarden) { g.picture(bombPNG(5000, 5000, 16)) }},
		{name: "photo-larger-png-16-bit", make: func(g *hostileGarden) { g.picture(bombPNG(7740, 7740, 16)) }},
		{name: "photo-largest-jpeg", make: func(g *hostileGarden) { g.picture(declared("jpeg", 7740, 7740)) }},
		{name: "photo-largest-passes", make: func(g *hostileGarden) { g.picture(passes(6300, 6300, 1)) }},
		{name: "photo-most-passes", make: func(g *hostileGarden) { g.picture(passes(6300, 6300, 48)) }},
		{name: "photo-many-passes", make: func(g *hostileGarden) { g.picture(passes(6300, 6300, 20000)) }},
		{name: "photo-three-largest", make: func(g *hostileGarden) {
			g.picture(passes(6300, 6300, 10))
			g.write("photos/a.png", string(bombPNG(5000, 5000, 16)))
			g.write("photos/b.jpg", string(passes(6300, 6300, 10)))
			g.garden("plants: plants.csv\n", "plants:\n  - plant: Sesleria heufleriana\n  - plant: Panicum virgatum\n  - plant: Taxus baccata\nphotos:\n  - {plant: Panicum virgatum, file: a.png, alt: Grass}\n  - {plant: Taxus baccata, file: b.jpg, alt: Yew}\n")
		}},
		{name: "photo-many", make: func(g *hostileGarden) {
			var rows strings.Builder
			g.write("photos/moor.png", string(drawn("png")))
			for i := range 301 {
				g.write(fmt.Sprintf("plants/%d.md", i), strings.Replace(moorFront, "Sesleria heufleriana", fmt.Sprintf("Sesleria 'S%d'", i), 1)+"photo: {file: moor.png, alt: A low mound}\n---\nWords.\n")
				fmt.Fprintf(&rows, "Sesleria 'S%d',1,Yard\n", i)
			}
			g.list("plant,quantity,bed\n" + rows.String())
		}},
		{name: "photo-narrow", make: func(g *hostileGarden) { g.picture(declared("png", 60000, 1)) }},
		{name: "photo-nothing", make: func(g *hostileGarden) { g.picture(nil) }},
		{name: "photo-41-mb", make: func(g *hostileGarden) { g.picture(append(drawn("jpeg"), make([]byte, 41*megabyte)...)) }},
		{name: "photo-exif-circle", make: func(g *hostileGarden) { g.picture(circling()) }, shown: []string{moorPage + `: alt="A low mound."`}},
		{name: "photo-words", make: func(g *hostileGarden) {
			g.write("photos/moor.jpg", string(drawn("jpeg")))
			g.front(`photo: {file: moor.jpg, alt: "\"><script>alert(1)</script>", credit: "<img src=x onerror=alert(1)>"}` + "\n")
		}, shown: []string{moorPage + ": &lt;img src=x onerror=alert(1)&gt;", "*! <script>alert", "*! <img src=x"}},

		// What is on the disk.
		{name: "disk-link-entry", make: func(g *hostileGarden) { g.link("../../outside/secret.md", "plants/other.md") }},
		{name: "disk-link-entry-absolute", make: func(g *hostileGarden) { g.link("/etc/passwd", "plants/other.md") }},
		{name: "disk-link-folder", make: func(g *hostileGarden) { g.link("../../outside/plants", "plants/more") }},
		{name: "disk-link-plants", make: func(g *hostileGarden) {
			os.RemoveAll(filepath.Join(g.dir, "plants"))
			g.link("../outside/plants", "plants")
		}},
		{name: "disk-link-list", make: func(g *hostileGarden) { g.link("../outside/secret.csv", "plants.csv") }},
		{name: "disk-link-page", make: func(g *hostileGarden) {
			g.garden("plants: plants.csv\n", "plants: plants.csv\npages: [pages/a.md]\n")
			g.link("../../outside/secret.md", "pages/a.md")
		}},
		{name: "disk-link-photo", make: func(g *hostileGarden) {
			g.front("photo: {file: moor.jpg, alt: x}\n")
			g.link("../../outside/secret.jpg", "photos/moor.jpg")
		}},
		{name: "disk-link-garden", make: func(g *hostileGarden) { g.link("../outside/secret.md", "garden.yaml") }},
		{name: "disk-link-circle", make: func(g *hostileGarden) {
			g.link("b.md", "plants/a.md")
			g.link("a.md", "plants/b.md")
		}},
		{name: "disk-link-folder-circle", make: func(g *hostileGarden) { g.link(".", "plants/again") }},
		{name: "disk-link-nowhere", make: func(g *hostileGarden) { g.link("none.md", "plants/a.md") }},
		{name: "disk-link-within", make: func(g *hostileGarden) {
			g.write("kept/other.md", strings.Replace(moorFront, "heufleriana", "nitida", 1)+"---\nWords.\n")
			g.link("../kept/other.md", "plants/other.md")
		}, shown: []string{moorPage + ": A low evergreen mound."}},
		{name: "disk-device-entry", make: func(g *hostileGarden) { g.link("/dev/zero", "plants/a.md") }},
		{name: "disk-device-list", make: func(g *hostileGarden) { g.link("/dev/zero", "plants.csv") }},
		{name: "disk-device-photo", make: func(g *hostileGarden) {
			g.front("photo: {file: moor.jpg, alt: x}\n")
			g.link("/dev/urandom", "photos/moor.jpg")
		}},
		{name: "disk-pipe-entry", make: func(g *hostileGarden) { g.pipe("plants/a.md") }},
		{name: "disk-pipe-list", make: func(g *hostileGarden) { g.pipe("plants.csv") }},
		{name: "disk-pipe-page", make: func(g *hostileGarden) {
			g.garden("plants: plants.csv\n", "plants: plants.csv\npages: [pages/a.md]\n")
			g.pipe("pages/a.md")
		}},
		{name: "disk-pipe-photo", make: func(g *hostileGarden) {
			g.front("photo: {file: moor.jpg, alt: x}\n")
			g.pipe("photos/moor.jpg")
		}},
		{name: "disk-pipe-garden", make: func(g *hostileGarden) { g.pipe("garden.yaml") }},
		{name: "disk-pipe-about", make: func(g *hostileGarden) { g.pipe("library.yaml") }},
		{name: "disk-socket-entry", make: func(g *hostileGarden) {
			l, err := net.Listen("unix", filepath.Join(g.dir, "plants", "a.md"))
			if err != nil {
				g.Skip(err)
			}
			g.Cleanup(func() { l.Close() })
		}},
		{name: "disk-folder-as-entry", make: func(g *hostileGarden) {
			g.write("plants/folder.md/other.txt", "x")
			g.write("plants/folder.md/more.md", strings.Replace(moorFront, "heufleriana", "nitida", 1)+"---\nWords.\n")
		}},
		{name: "disk-folder-as-list", make: func(g *hostileGarden) {
			os.Remove(filepath.Join(g.dir, "plants.csv"))
			g.write("plants.csv/a", "x")
		}},
		{name: "disk-no-leave", make: func(g *hostileGarden) {
			if os.Getuid() == 0 {
				g.Skip("the superuser may read everything")
			}
			os.Chmod(filepath.Join(g.dir, "plants/moor.md"), 0)
		}},
		{name: "disk-file-names", make: func(g *hostileGarden) {
			for _, name := range []string{"<script>alert(1)<\u2215script>", "a\nb", "a\x1b[31mb", "a\u202eb", "\xff", `a"b'c`, "a\\b", "-", strings.Repeat("x", 200)} {
				g.write("plants/"+name+".md", "no front matter\n")
			}
		}},
		{name: "disk-deep-folders", make: func(g *hostileGarden) {
			g.write("plants/"+again("a/", 900)+"a.md", strings.Replace(moorFront, "heufleriana", "nitida", 1)+"---\nWords.\n")
		}},
		{name: "disk-same-name", make: func(g *hostileGarden) {
			for i := range 4000 {
				g.write(fmt.Sprintf("plants/%d.md", i), moorFront+fmt.Sprintf("---\nWords %d.\n", i))
			}
		}},
		{name: "disk-same-synonym", make: func(g *hostileGarden) {
			for i := range 2000 {
				g.write(fmt.Sprintf("plants/%d.md", i), strings.NewReplacer("Sesleria heufleriana", fmt.Sprintf("Sesleria 'S%d'\nsynonyms: [Sesleria heufleriana, Sesleria communis]", i)).Replace(moorFront)+"---\nWords.\n")
			}
			g.list("plant,bed\nSesleria communis,Yard\n")
		}},
		{name: "disk-80-large-entries", make: func(g *hostileGarden) {
			for i := range 80 {
				g.write(fmt.Sprintf("plants/%d.md", i), fmt.Sprintf("%d", i)+again("x", 7*megabyte))
			}
		}},
	}
}

// entry writes the harmless entry with other words.
func (g *hostileGarden) entry(body string) { g.write("plants/moor.md", moorFront+"---\n"+body) }

// front writes the harmless entry with more keys.
func (g *hostileGarden) front(keys string) { g.write("plants/moor.md", moorFront+keys+"---\nWords.\n") }

// garden writes the harmless garden file with changes.
func (g *hostileGarden) garden(pairs ...string) {
	g.write("garden.yaml", strings.NewReplacer(pairs...).Replace(gateHouse))
}

// list writes the plant list.
func (g *hostileGarden) list(text string) { g.write("plants.csv", text) }

// book writes the plant list as a workbook with some parts changed or added.
func (g *hostileGarden) book(parts map[string]string) { g.list(workbook(g, parts)) }

// picture gives the harmless entry a photograph.
func (g *hostileGarden) picture(data []byte) {
	g.write("photos/moor.jpg", string(data))
	g.front("photo: {file: moor.jpg, alt: A low mound, credit: A. Member}\n")
}

// fill repeats a text as often as the words of an entry may.
func fill(text string) string { return strings.Repeat(text, (32<<10-40)/len(text)) }

// pipe makes a named pipe, which nobody will ever write to.
func (g *hostileGarden) pipe(name string) {
	g.Helper()
	p := filepath.Join(g.dir, filepath.FromSlash(name))
	os.Remove(p)
	os.MkdirAll(filepath.Dir(p), 0o755)
	if out, err := exec.Command("mkfifo", p).CombinedOutput(); err != nil {
		g.Skipf("%v %s", err, out)
	}
}

// bookParts are the parts of the smallest workbook with a plant list.
func bookParts() map[string]string {
	return map[string]string{
		"[Content_Types].xml":        `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>`,
		"_rels/.rels":                `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
		"xl/workbook.xml":            `<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="Plants" sheetId="1" r:id="rId1"/></sheets></workbook>`,
		"xl/_rels/workbook.xml.rels": `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
		"xl/worksheets/sheet1.xml":   `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>plant</t></is></c></row><row r="2"><c r="A2" t="inlineStr"><is><t>Sesleria heufleriana</t></is></c></row></sheetData></worksheet>`,
	}
}

// workbook packs a workbook with some parts changed or added.
func workbook(g *hostileGarden, parts map[string]string) string {
	g.Helper()
	all := bookParts()
	for name, text := range parts {
		all[name] = text
	}
	var buf bytes.Buffer
	z := zip.NewWriter(&buf)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		w, err := z.Create(name)
		if err == nil {
			_, err = w.Write([]byte(all[name]))
		}
		if err != nil {
			g.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		g.Fatal(err)
	}
	return buf.String()
}

// lying packs a workbook whose sheet says that it has another size.
func lying(g *hostileGarden, says uint64, text string) string {
	g.Helper()
	var packed bytes.Buffer
	f, err := flate.NewWriter(&packed, flate.BestCompression)
	if err != nil {
		g.Fatal(err)
	}
	f.Write([]byte(text))
	f.Close()
	all := bookParts()
	var buf bytes.Buffer
	z := zip.NewWriter(&buf)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		if name == "xl/worksheets/sheet1.xml" {
			w, err := z.CreateRaw(&zip.FileHeader{Name: name, Method: zip.Deflate, CRC32: crc32.ChecksumIEEE([]byte(text)), CompressedSize64: uint64(packed.Len()), UncompressedSize64: says})
			if err != nil {
				g.Fatal(err)
			}
			w.Write(packed.Bytes())
			continue
		}
		w, err := z.Create(name)
		if err != nil {
			g.Fatal(err)
		}
		w.Write([]byte(all[name]))
	}
	if err := z.Close(); err != nil {
		g.Fatal(err)
	}
	return buf.String()
}

// drawn is a small honest picture.
func drawn(format string) []byte {
	img := image.NewRGBA(image.Rect(0, 0, 64, 48))
	for i := range img.Pix {
		img.Pix[i] = byte(i * 7)
	}
	var buf bytes.Buffer
	switch format {
	case "gif":
		gif.Encode(&buf, img, nil)
	case "png":
		png.Encode(&buf, img)
	default:
		jpeg.Encode(&buf, img, nil)
	}
	return buf.Bytes()
}

// declared is a small picture that says it is of another size.
func declared(format string, w, h int) []byte {
	data := drawn(format)
	if format == "png" { // the header chunk comes first (PNG, 11.2.2)
		binary.BigEndian.PutUint32(data[16:], uint32(w))
		binary.BigEndian.PutUint32(data[20:], uint32(h))
		binary.BigEndian.PutUint32(data[29:], crc32.ChecksumIEEE(data[12:29]))
		return data
	}
	at := bytes.Index(data, []byte{0xff, 0xc0}) // start of frame (T.81, B.2.2)
	binary.BigEndian.PutUint16(data[at+5:], uint16(h))
	binary.BigEndian.PutUint16(data[at+7:], uint16(w))
	return data
}

// bombPNG is a whole picture of one colour, a thousandth of what it stands for.
func bombPNG(w, h, bits int) []byte {
	chunk := func(kind string, data []byte) []byte {
		out := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
		out = append(append(out, kind...), data...)
		return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[4:]))
	}
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, uint32(w)), uint32(h))
	head = append(head, byte(bits), 6, 0, 0, 0) // colour with transparency
	var packed bytes.Buffer
	z, _ := zlib.NewWriterLevel(&packed, zlib.BestCompression)
	line := make([]byte, 1+w*4*bits/8)
	for range h {
		z.Write(line)
	}
	z.Close()
	out := []byte("\x89PNG\r\n\x1a\n")
	out = append(out, chunk("IHDR", head)...)
	out = append(out, chunk("IDAT", packed.Bytes())...)
	return append(out, chunk("IEND", nil)...)
}

// passes is a progressive JPEG of one colour that is sent again and again: each
// pass has few bytes, as a run of empty blocks has one code (T.81, G.1.2.2).
func passes(w, h, n int) []byte {
	marker := func(kind byte, data ...byte) []byte {
		return append([]byte{0xff, kind, byte((len(data) + 2) >> 8), byte(len(data) + 2)}, data...)
	}
	out := []byte{0xff, 0xd8}
	table := make([]byte, 65)
	for i := range table {
		table[i] = 1
	}
	table[0] = 0
	out = append(out, marker(0xdb, table...)...)
	out = append(out, marker(0xc2, 8, byte(h>>8), byte(h), byte(w>>8), byte(w), 1, 1, 0x11, 0)...)
	counts := make([]byte, 16)
	counts[0] = 1
	// One code for each: the difference 0, and a run of 2^14 empty blocks with
	// 14 bits for how many more.
	out = append(out, marker(0xc4, append(append([]byte{0x00}, counts...), 0)...)...)
	out = append(out, marker(0xc4, append(append([]byte{0x10}, counts...), 0xe0)...)...)
	blocks := ((w + 7) / 8) * ((h + 7) / 8)
	out = append(out, marker(0xda, 1, 1, 0x00, 0, 0, 0x00)...)
	out = append(out, make([]byte, (blocks+7)/8)...)
	for range n {
		out = append(out, marker(0xda, 1, 1, 0x00, 1, 63, 0x00)...)
		var bits uint64
		have := 0
		for left := blocks; left > 0; left -= 1<<15 - 1 {
			bits, have = bits<<15|(1<<14-1), have+15 // the code 0, then 14 ones
			for have >= 8 {
				b := byte(bits >> (have - 8))
				out = append(out, b)
				if b == 0xff {
					out = append(out, 0)
				}
				have -= 8
			}
		}
		out = append(out, byte(bits<<(8-have))|(1<<(8-have)-1))
		if out[len(out)-1] == 0xff {
			out = append(out, 0)
		}
	}
	return append(out, 0xff, 0xd9)
}

// circling is a picture whose EXIF directory has itself for the next one and
// more entries than there are bytes.
func circling() []byte {
	tiff := []byte("II*\x00\x08\x00\x00\x00\xff\xff")
	tiff = append(tiff, "\x69\x87\x04\x00\x01\x00\x00\x00\x08\x00\x00\x00\x08\x00\x00\x00"...)
	block := append([]byte("Exif\x00\x00"), tiff...)
	out := append([]byte{0xff, 0xd8, 0xff, 0xe1}, binary.BigEndian.AppendUint16(nil, uint16(len(block)+2))...)
	return append(append(out, block...), drawn("jpeg")[2:]...)
}
