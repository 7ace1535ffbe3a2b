// Package ics writes a booklet's events as a calendar file (RFC 5545): all-day
// windows with UIDs that stay the same from build to build. In go the booklet
// and a few settings, out come bytes. It is a writer of our own because the
// form is small and exact: golang-ical writes bare line feeds on most systems
// and leaves DTSTAMP to the caller.
package ics

import (
	"bytes"
	"crypto/sha1"
	"encoding/hex"
	"fmt"
	"net/url"
	"strings"
	"time"
	"unicode/utf8"

	"sheaf/generator/booklet"
	"sheaf/generator/site"
)

// Settings are what the file needs besides the booklet.
type Settings struct {
	Stamp time.Time // DTSTAMP of every event
	Alarm int       // days before an event to remind; 0: not
}

// Render writes the calendar.
func Render(b *booklet.Book, s Settings) []byte {
	w := newWriter()
	w.line("BEGIN", "VCALENDAR")
	w.line("VERSION", "2.0")
	language, _, _ := strings.Cut(b.Lang, "-")
	w.line("PRODID", "-//Sheaf//Care booklet//"+strings.ToUpper(language)) // it ends with the language of the texts (ISO 9070)
	w.line("CALSCALE", "GREGORIAN")
	name := b.Words.Say("booklet.full title", "garden", b.Title, "subtitle", b.Subtitle)
	w.text("NAME", name) // RFC 7986
	w.text("X-WR-CALNAME", name)
	for _, e := range b.Events() {
		w.event(b, e, s)
	}
	w.line("END", "VCALENDAR")
	return w.buf.Bytes()
}

func (w *writer) event(b *booklet.Book, e booklet.Event, s Settings) {
	w.line("BEGIN", "VEVENT")
	w.line("UID", uid(e.Key))
	w.line("DTSTAMP", s.Stamp.UTC().Format("20060102T150405Z"))
	w.line("DTSTART;VALUE=DATE", date(e.From))
	w.line("DTEND;VALUE=DATE", date(e.To+1)) // exclusive
	w.text("SUMMARY", e.Summary)
	if len(e.Lines) > 0 {
		w.text("DESCRIPTION", strings.Join(e.Lines, "\n"))
	}
	if len(e.Tags) > 0 {
		tags := make([]string, len(e.Tags))
		for i, t := range e.Tags {
			tags[i] = w.escape(t)
		}
		w.line("CATEGORIES", strings.Join(tags, ","))
	}
	if b.Online != "" && e.Section != "" {
		if u, err := url.Parse(b.Online); err == nil {
			w.line("URL", u.JoinPath(e.Section+".html").String())
		}
	}
	w.line("TRANSP", "TRANSPARENT") // a window does not fill its days
	if s.Alarm > 0 {
		w.line("BEGIN", "VALARM")
		w.line("ACTION", "DISPLAY")
		w.line("TRIGGER", fmt.Sprintf("-P%dD", s.Alarm))
		w.text("DESCRIPTION", e.Summary)
		w.line("END", "VALARM")
	}
	w.line("END", "VEVENT")
}

func date(d site.Day) string { return strings.ReplaceAll(d.String(), "-", "") }

// uid is a name-based UUID, version 5 (RFC 9562, 5.5), of an event's key in a
// name space of our own.
func uid(key string) string {
	// Drawn once at random; changing it would double every reader's calendar.
	space, _ := hex.DecodeString("6f1d3a0e7c5b4e3fa9d28b64c07e5512")
	sum := sha1.Sum(append(space, key...))
	u := sum[:16]
	u[6] = u[6]&0x0f | 0x50
	u[8] = u[8]&0x3f | 0x80
	return fmt.Sprintf("%x-%x-%x-%x-%x", u[0:4], u[4:6], u[6:8], u[8:10], u[10:16])
}

type writer struct {
	buf   bytes.Buffer
	signs *strings.Replacer // of what has a meaning in a text
}

func newWriter() *writer {
	return &writer{signs: strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\n", `\n`)}
}

// text writes a property whose value is text (RFC 5545, 3.3.11).
func (w *writer) text(name, value string) { w.line(name, w.escape(value)) }

// escape writes text as a value: nothing in it can end the line and begin
// another property.
func (w *writer) escape(s string) string {
	s = strings.Map(func(r rune) rune {
		if r != '\n' && (r < 0x20 || r == 0x7f || r == utf8.RuneError) {
			return -1
		}
		return r
	}, s)
	return w.signs.Replace(s)
}

// widest is the length of a line in octets, without its end (RFC 5545, 3.1).
const widest = 75

// line writes a content line, folded at 75 octets and never within a character.
func (w *writer) line(name, value string) {
	rest := name + ":" + value
	for first := true; ; first = false {
		room := widest
		if !first {
			w.buf.WriteByte(' ')
			room--
		}
		if len(rest) <= room {
			w.buf.WriteString(rest)
			w.buf.WriteString("\r\n")
			return
		}
		cut := room
		for !utf8.RuneStart(rest[cut]) {
			cut--
		}
		w.buf.WriteString(rest[:cut])
		w.buf.WriteString("\r\n")
		rest = rest[cut:]
	}
}
