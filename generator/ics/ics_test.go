package ics

import (
	"fmt"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	ical "github.com/arran4/golang-ical"

	"sheaf/generator/booklet"
	"sheaf/generator/site"
	"sheaf/generator/words/wordstest"
)

func book(t testing.TB, events ...booklet.Event) *booklet.Book {
	return &booklet.Book{Words: wordstest.English(t), Title: "Dovecote Barn", Subtitle: "A year of care", Events: func() []booklet.Event { return events }, Online: "https://example.org/barn"}
}

var stamp = time.Date(2027, 3, 20, 0, 0, 0, 0, time.UTC)

func TestFoldingVector(t *testing.T) {
	// STANDARDS 6: a line of 94 octets folds to 75 and 20.
	w := newWriter()
	w.text("SUMMARY", "Calamagrostis × acutiflora ‘Overdam’ — cut back, 15 Feb–10 Mar; leave 10 cm")
	want := "SUMMARY:Calamagrostis × acutiflora ‘Overdam’ — cut back\\, 15 Feb–1\r\n 0 Mar\\; leave 10 cm\r\n"
	if got := w.buf.String(); got != want {
		t.Errorf("got\n%q, want\n%q", got, want)
	}
}

func TestEvent(t *testing.T) {
	e := booklet.Event{Key: "a\nb", From: site.Date(2026, 2, 15), To: site.Date(2026, 3, 15), Summary: "Cut back switch grass to 10 cm",
		Lines: []string{"Long border, 7 plants.", "Look for: green tips, low down."}, Tags: []string{"cut", "Long border; north"}, Section: "plants/panicum-virgatum"}
	got := string(Render(book(t, e), Settings{Stamp: stamp, Alarm: 7}))
	for _, want := range []string{
		// 15 February to 15 March, both days in: DTEND is the day after (STANDARDS 6).
		"DTSTART;VALUE=DATE:20260215\r\n", "DTEND;VALUE=DATE:20260316\r\n", "DTSTAMP:20270320T000000Z\r\n",
		"DESCRIPTION:Long border\\, 7 plants.\\nLook for: green tips\\, low down.\r\n", "CATEGORIES:cut,Long border\\; north\r\n",
		"URL:https://example.org/barn/plants/panicum-virgatum.html\r\n", "TRANSP:TRANSPARENT\r\n", "TRIGGER:-P7D\r\n",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
	if strings.Contains(string(Render(book(t, e), Settings{Stamp: stamp})), "VALARM") {
		t.Error("an alarm nobody asked for")
	}
}

func TestUID(t *testing.T) {
	a := uid("Dovecote Barn\nplants/x\ncut back\n2027")
	if a != uid("Dovecote Barn\nplants/x\ncut back\n2027") || a == uid("Dovecote Barn\nplants/x\ncut back\n2028") {
		t.Error("UIDs do not follow their keys")
	}
	if len(a) != 36 || a[14] != '5' || !strings.ContainsRune("89ab", rune(a[19])) {
		t.Errorf("%s is no UUID of version 5", a)
	}
}

// TestHostileText: no text can begin a property of its own.
func TestHostileText(t *testing.T) {
	evil := "x\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nATTACH:file:///etc/passwd\n;,\\\x00\u2028y"
	e := booklet.Event{Key: evil, From: 1, To: 2, Summary: evil, Lines: []string{evil}, Tags: []string{evil}, Section: "plants/" + evil}
	b := book(t, e)
	b.Title, b.Subtitle = evil, evil
	got := Render(b, Settings{Stamp: stamp, Alarm: 1})
	b.Online += evil
	if bad := Render(b, Settings{Stamp: stamp}); strings.Contains(string(bad), "\r\nATTACH") || strings.Contains(string(bad), "\r\nURL") {
		t.Errorf("an address with line ends was written:\n%s", bad)
	}
	cal, err := ical.ParseCalendar(strings.NewReader(string(got)))
	if err != nil || len(cal.Events()) != 1 {
		t.Fatalf("%d events, %v in\n%s", len(cal.Events()), err, got)
	}
	for line := range strings.SplitSeq(string(got), "\r\n") {
		if strings.HasPrefix(line, "ATTACH") || strings.ContainsAny(line, "\n\r\x00") || len(line) > 75 {
			t.Errorf("line %q", line)
		}
	}
}

// unfold reads content lines back (RFC 5545, 3.1).
func unfold(s string) string { return strings.ReplaceAll(s, "\r\n ", "") }

// unescape reads a text value back (RFC 5545, 3.3.11), sign by sign.
func unescape(s string) (string, error) {
	var out strings.Builder
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c == ';' || c == ',':
			return "", fmt.Errorf("bare %q at %d", c, i)
		case c != '\\':
			out.WriteByte(c)
		case i+1 == len(s):
			return "", fmt.Errorf("backslash at the end")
		default:
			i++
			switch s[i] {
			case 'n':
				out.WriteByte('\n')
			case '\\', ';', ',':
				out.WriteByte(s[i])
			default:
				return "", fmt.Errorf("escaped %q at %d", s[i], i)
			}
		}
	}
	return out.String(), nil
}

func FuzzText(f *testing.F) {
	f.Add("Calamagrostis × acutiflora ‘Overdam’ — cut back, 15 Feb–10 Mar; leave 10 cm")
	f.Add(strings.Repeat("a", 300)) // fills every line
	f.Add(strings.Repeat("é", 200))
	f.Add("x\r\nEND:VEVENT\n\\n;\\,\x00\xff")
	f.Fuzz(func(t *testing.T, value string) {
		w := newWriter()
		w.text("SUMMARY", value)
		got := w.buf.String()
		for line := range strings.SplitSeq(strings.TrimSuffix(got, "\r\n"), "\r\n") {
			if len(line) > 75 || !utf8.ValidString(line) || strings.ContainsFunc(line, func(r rune) bool { return r < ' ' || r == 0x7f }) {
				t.Fatalf("line of %d octets: %q", len(line), line)
			}
		}
		rest, ok := strings.CutPrefix(unfold(got), "SUMMARY:")
		back, err := unescape(strings.TrimSuffix(rest, "\r\n"))
		// All comes back but control characters and what is no UTF-8.
		want := strings.Map(func(r rune) rune {
			if r < ' ' && r != '\n' || r == 0x7f || r == utf8.RuneError {
				return -1
			}
			return r
		}, value)
		if !ok || err != nil || back != want {
			t.Fatalf("%q came back as %q, %v", want, back, err)
		}
	})
}

func TestReadBack(t *testing.T) {
	var events []booklet.Event
	for i := range 40 {
		events = append(events, booklet.Event{Key: fmt.Sprint(i), From: site.Date(2027, 12, 1) + site.Day(i), To: site.Date(2028, 2, 20) + site.Day(i),
			Summary: fmt.Sprintf("Trim hedge %d; leave a line, no more", i), Lines: []string{strings.Repeat("Wörter, ", 40), `a\b`}})
	}
	cal, err := ical.ParseCalendar(strings.NewReader(string(Render(book(t, events...), Settings{Stamp: stamp}))))
	if err != nil || len(cal.Events()) != len(events) {
		t.Fatalf("%v, %d events", err, len(cal.Events()))
	}
	for i, e := range cal.Events() {
		from, err1 := e.GetAllDayStartAt()
		to, err2 := e.GetAllDayEndAt()
		if err1 != nil || err2 != nil || from.Format(time.DateOnly) != events[i].From.String() || to.AddDate(0, 0, -1).Format(time.DateOnly) != events[i].To.String() {
			t.Errorf("event %d: %v to %v, %v %v", i, from, to, err1, err2)
		}
		if got := e.GetProperty(ical.ComponentPropertySummary).Value; got != events[i].Summary {
			t.Errorf("event %d: %q", i, got)
		}
		if got := e.GetProperty(ical.ComponentPropertyDescription).Value; got != strings.Join(events[i].Lines, "\n") {
			t.Errorf("event %d: %q", i, got)
		}
	}
}
