package generator_test

import (
	"bytes"
	"encoding/json"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	ical "github.com/arran4/golang-ical"
)

var pdfAddress = regexp.MustCompile(`(?s)/URI \(((?:[^()\\]|\\.)*)\)`)

// TestHostileWordsInOtherEditions: of the booklet whose every text attempts to
// be a script, the printed edition has no action but links to web, mail and
// telephone, and its record is JSON that a page may hold.
func TestHostileWordsInOtherEditions(t *testing.T) {
	o := hostile(t, false)
	o.Editions = []string{"a5", "large", "work", "json"}
	files := build(t, o).Files
	links := 0
	for _, name := range []string{"booklet.pdf", "booklet-large.pdf", "work.pdf"} {
		if len(files[name]) == 0 {
			t.Errorf("there is no %s", name)
		}
		if found, _ := inPDF(files[name]); len(found) > 0 {
			t.Errorf("%s holds %q", name, found)
		}
		for _, m := range pdfAddress.FindAllSubmatch(files[name], -1) {
			links++
			if to := string(m[1]); !strings.HasPrefix(to, "https://example.org/") && !strings.HasPrefix(to, "mailto:a@example.org") && !strings.HasPrefix(to, "tel:1") {
				t.Errorf("%s leads to %.100s", name, to)
			}
		}
	}
	if links < 20 {
		t.Errorf("only %d links were looked at", links)
	}
	if !json.Valid(files["booklet.json"]) {
		t.Error("booklet.json is no JSON")
	}
}

// TestNamesInTheCalendarFile: names with line ends, separators, backslashes and
// whole components in them begin no property of their own, and come back as
// they are printed. (There is no edition as CSV or as a spreadsheet, so no cell
// can be taken for a formula.)
func TestNamesInTheCalendarFile(t *testing.T) {
	const evil = "\\r\\nEND:VEVENT\\r\\nBEGIN:VEVENT\\r\\nATTACH:file:///etc/passwd\\nX-EVIL;A=b:c, d; e\\\\n \\\\; \\u2028\\u0085ATTENDEE:mailto:a@example.org"
	const printed = " END:VEVENT BEGIN:VEVENT ATTACH:file:///etc/passwd X-EVIL;A=b:c, d; e\\n \\; ATTENDEE:mailto:a@example.org"
	calendar := func(evil, by string) *ical.Calendar {
		address := ""
		if evil != "" {
			address = "a;b,c%0D%0AATTACH:x?d=e"
		}
		o := withPhotos(t, "")
		files := o.Garden.(fstest.MapFS)
		files["garden.yaml"] = &fstest.MapFile{Data: []byte("garden: \"Garden" + evil + "\"\nfor: \"Owner" + evil + "\"\ndate: 2027-03-20\nsite: {country: GB, latitude: 52}\ncalendar: " + by + "\nalarm: 7 days\n" +
			"online: \"https://example.org/" + address + "\"\nbeds: [{bed: \"Bed" + evil + "\"}]\nplants:\n  - {plant: Sesleria heufleriana, bed: \"Bed" + evil + "\"}\n  - {plant: Taxus baccata, bed: \"Bed" + evil + "\"}\n")}
		moor := string(files["plants/moor.md"].Data)
		files["plants/moor.md"] = &fstest.MapFile{Data: []byte(strings.NewReplacer("[green moor grass]", "[\"moor grass"+evil+"\"]", "---\nA low", "adjust: [{if: pot, note: \"Note"+evil+"\"}]\n---\nA low").Replace(moor))}
		o.Editions = []string{"ics"}
		data := build(t, o).Files["care.ics"]
		for line := range bytes.SplitSeq(data, []byte("\r\n")) {
			if bytes.ContainsAny(line, "\r\n\x00") || len(line) > 75 {
				t.Errorf("a line holds a line end or %d octets: %q", len(line), line)
			}
		}
		cal, err := ical.ParseCalendar(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		return cal
	}
	for _, by := range []string{"days", "tasks", "months"} {
		bad, plain := calendar(evil, by), calendar("", by)
		if len(bad.Events()) != len(plain.Events()) || len(bad.Components) != len(plain.Components) || len(plain.Events()) == 0 {
			t.Fatalf("%s: %d events in %d components, want %d in %d", by, len(bad.Events()), len(bad.Components), len(plain.Events()), len(plain.Components))
		}
		for _, p := range bad.CalendarProperties {
			if !slices.Contains([]string{"VERSION", "PRODID", "CALSCALE", "NAME", "X-WR-CALNAME"}, p.IANAToken) {
				t.Errorf("%s: the calendar has the property %s", by, p.IANAToken)
			}
			if p.IANAToken == "NAME" && !strings.HasPrefix(p.Value, "Garden"+strings.ReplaceAll(printed, "'", "’")) {
				t.Errorf("%s: the name came back as %q", by, p.Value)
			}
		}
		named := 0
		for i, e := range bad.Events() {
			for _, p := range e.Properties {
				switch p.IANAToken {
				case "UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY", "DESCRIPTION", "CATEGORIES", "URL", "TRANSP":
				default:
					t.Errorf("%s: an event has the property %s", by, p.IANAToken)
				}
				if strings.Contains(p.Value, printed) {
					named++
				}
			}
			if len(e.Properties) != len(plain.Events()[i].Properties) {
				t.Errorf("%s: an event has %d properties, want %d", by, len(e.Properties), len(plain.Events()[i].Properties))
			}
			for _, c := range e.Components {
				alarm, ok := c.(*ical.VAlarm)
				if !ok || len(alarm.Properties) != 3 {
					t.Errorf("%s: an event holds %T", by, c)
				}
			}
		}
		if named == 0 {
			t.Errorf("%s: the names came back in no event", by)
		}
	}
}
