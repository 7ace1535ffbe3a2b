package site

import (
	"fmt"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// SyntaxError tells what is wrong with a phrase, and where in it.
type SyntaxError struct {
	Offset, End int    // the bytes of the phrase that are at fault; both its length if something is missing there
	Message     string // what was expected
	Hint        string // a word to write instead; empty: none comes to mind
}

func (e *SyntaxError) Error() string {
	if e.Hint == "" {
		return e.Message
	}
	return fmt.Sprintf("%s; did you mean %q?", e.Message, e.Hint)
}

// mostSpans is one for each month.
const mostSpans = 12

// ParseWindow reads a phrase in the language described at [Window]. Upper and
// lower case are alike, "fall" is autumn, "mid-March" is mid March, "March 15"
// is 15 March. The error is a [*SyntaxError].
func ParseWindow(phrase string) (Window, error) {
	p := newParser(phrase)
	var w Window
	for {
		s, err := p.span()
		if err != nil {
			return Window{}, err
		}
		w.spans = append(w.spans, s)
		if p.atEnd() {
			return w, nil
		}
		if len(w.spans) == mostSpans {
			return Window{}, &SyntaxError{Offset: p.tokens[p.next].start, End: p.tokens[p.next].end, Message: fmt.Sprintf("a window has at most %d parts", mostSpans)}
		}
		if !p.take("or") {
			if s.from == s.to {
				return Window{}, p.expected(`"to" or "or"`, "to", "or")
			}
			return Window{}, p.expected(`"or"`, "or")
		}
	}
}

// ParseMonthDay reads a day of every year: "18 April" or "April 18". The error
// is a [*SyntaxError].
func ParseMonthDay(phrase string) (MonthDay, error) {
	p := newParser(phrase)
	md, err := p.monthDay()
	if err == nil && !p.atEnd() {
		err = p.expected("nothing after the date")
	}
	if err != nil {
		return MonthDay{}, err
	}
	return md, nil
}

// parser reads a phrase token by token. Its methods either take tokens and
// succeed, or fail with a *SyntaxError at the token they did not expect.
type parser struct {
	phrase string
	tokens []token
	next   int
}

// token is a word, a number in figures, or any other single character.
type token struct {
	text       string // lower case
	start, end int    // bytes of the phrase
}

func newParser(phrase string) *parser {
	p := &parser{phrase: phrase}
	for start := 0; start < len(phrase); {
		r, size := utf8.DecodeRuneInString(phrase[start:])
		end := start + size
		switch {
		case unicode.IsSpace(r):
			start = end
			continue
		case unicode.IsLetter(r):
			end = endOf(phrase, end, unicode.IsLetter)
		case isFigure(r):
			end = endOf(phrase, end, isFigure)
		}
		p.tokens = append(p.tokens, token{strings.ToLower(phrase[start:end]), start, end})
		start = end
	}
	return p
}

// endOf gives the end of the run of characters of a kind that goes on at start.
func endOf(s string, start int, kind func(rune) bool) int {
	for i, r := range s[start:] {
		if !kind(r) {
			return start + i
		}
	}
	return len(s)
}

func isFigure(r rune) bool { return '0' <= r && r <= '9' }

func (p *parser) atEnd() bool { return p.next == len(p.tokens) }

// peek gives the text of the next token but i; empty past the end.
func (p *parser) peek(i int) string {
	if p.next+i >= len(p.tokens) {
		return ""
	}
	return p.tokens[p.next+i].text
}

// take takes the words given, if they are what comes next.
func (p *parser) take(words ...string) bool {
	for i, word := range words {
		if p.peek(i) != word {
			return false
		}
	}
	p.next += len(words)
	return true
}

// expected is the error that something else should stand at the next token. The
// words given are those a hint may offer.
func (p *parser) expected(what string, words ...string) *SyntaxError {
	if p.atEnd() {
		end := len(strings.TrimRightFunc(p.phrase, unicode.IsSpace))
		return &SyntaxError{Offset: end, End: end, Message: fmt.Sprintf("expected %s here", what)}
	}
	t := p.tokens[p.next]
	return &SyntaxError{
		Offset: t.start, End: t.end,
		Message: fmt.Sprintf("expected %s, not %q", what, p.phrase[t.start:t.end]),
		Hint:    instead(t.text, words),
	}
}

// wrong is an error at the token just taken.
func (p *parser) wrong(format string, args ...any) *SyntaxError {
	t := p.tokens[p.next-1]
	return &SyntaxError{Offset: t.start, End: t.end, Message: fmt.Sprintf(format, args...)}
}

func (p *parser) span() (span, error) {
	from, err := p.point()
	if err != nil {
		return span{}, err
	}
	if !p.take("to") {
		return span{from, from}, nil
	}
	to, err := p.point()
	if err != nil {
		return span{}, err
	}
	return span{from, to}, nil
}

func (p *parser) point() (point, error) {
	if isNumber(p.peek(0)) {
		if _, ok := monthNamed(p.peek(1)); ok {
			return p.date()
		}
		return p.numberedRelation()
	}
	if _, ok := monthNamed(p.peek(0)); ok && isNumber(p.peek(1)) {
		return p.date()
	}
	if p.take("before") {
		return p.relation(point{kind: relation, place: beforeCue})
	}
	if p.take("after") {
		return p.relation(point{kind: relation, place: afterCue})
	}
	for part := early; part <= late; part++ {
		if p.take(partNames[part]) {
			p.take("-") // mid-March
			return p.period(part)
		}
	}
	if p.startsCue() {
		return p.relation(point{kind: relation})
	}
	if point, err := p.period(whole); err == nil {
		return point, nil
	}
	return point{}, p.expected("a month, a season, a date or a cue", pointWords()...)
}

// period reads a month or a season.
func (p *parser) period(part part) (point, error) {
	if month, ok := monthNamed(p.peek(0)); ok {
		p.next++
		return point{kind: period, part: part, month: month}, nil
	}
	for s, name := range seasonNames {
		if p.take(name) {
			return point{kind: period, part: part, season: season(s)}, nil
		}
	}
	if p.take("fall") {
		return point{kind: period, part: part, season: autumn}, nil
	}
	return point{}, p.expected("a month or a season", periodWords()...)
}

func (p *parser) date() (point, error) {
	md, err := p.monthDay()
	if err != nil {
		return point{}, err
	}
	return point{kind: date, month: md.Month, day: md.Day}, nil
}

// monthDay reads "18 April" or "April 18".
func (p *parser) monthDay() (MonthDay, error) {
	month, monthFirst := monthNamed(p.peek(0))
	if monthFirst {
		p.next++
	}
	if !isNumber(p.peek(0)) {
		return MonthDay{}, p.expected(`a day and a month, as in "18 April"`)
	}
	day, dayToken := p.number(), p.next
	p.next++
	if !monthFirst {
		var ok bool
		if month, ok = monthNamed(p.peek(0)); !ok {
			return MonthDay{}, p.expected("a month", monthWords()...)
		}
		p.next++
	}
	const leapYear = 2000 // 29 February is a date
	if last := daysIn(leapYear, month); day < 1 || day > last {
		p.next = dayToken + 1
		return MonthDay{}, p.wrong("%s has days 1 to %d", month, last)
	}
	return MonthDay{month, day}, nil
}

// numberedRelation reads "6 weeks before warm growth" from its number on.
func (p *parser) numberedRelation() (point, error) {
	r := point{kind: relation, n: p.number()}
	p.next++
	ok := false
	for u, name := range unitNames {
		if p.take(name) || p.take(name+"s") {
			r.unit, ok = unit(u), true
			break
		}
	}
	if !ok {
		return point{}, p.expected("days, weeks, months or the name of a month", append(monthWords(), "days", "weeks", "months")...)
	}
	if r.n < 1 || r.n > r.unit.most() {
		p.next--
		return point{}, p.wrong("expected 1 to %d %ss", r.unit.most(), unitNames[r.unit])
	}
	switch {
	case p.take("before"):
		r.place = beforeCue
	case p.take("after"):
		r.place = afterCue
	default:
		return point{}, p.expected(`"before" or "after" a cue`, "before", "after")
	}
	return p.relation(r)
}

// relation reads the cue of a relation whose other parts have been read.
func (p *parser) relation(r point) (point, error) {
	for cue := range Flowering + 1 {
		if p.take(strings.Fields(cue.String())...) {
			r.cue = cue
			return r, nil
		}
	}
	if !p.startsCue() {
		return point{}, p.expected("a cue, such as first green or last frost", cueStarts()...)
	}
	seconds := cueSeconds(p.peek(0))
	p.next++
	return point{}, p.expected(quotedList(seconds), seconds...)
}

// startsCue tells whether the next word is the first of a cue.
func (p *parser) startsCue() bool {
	return len(cueSeconds(p.peek(0))) > 0 || p.peek(0) == Flowering.String()
}

// number gives the value of the next token, a number. One too large for the
// machine comes out as the largest there is, and is refused later for its size.
func (p *parser) number() int {
	n, _ := strconv.Atoi(p.peek(0))
	return n
}

func isNumber(word string) bool { return word != "" && isFigure(rune(word[0])) }

// monthNamed gives the month of a name in lower case.
func monthNamed(word string) (time.Month, bool) {
	for m := time.January; m <= time.December; m++ {
		if strings.EqualFold(m.String(), word) {
			return m, true
		}
	}
	return 0, false
}

// cueSeconds gives the second words of the cues that start with a word.
func cueSeconds(first string) []string {
	var seconds []string
	for _, cue := range Cues() {
		if a, b, _ := strings.Cut(cue.String(), " "); a == first {
			seconds = append(seconds, b)
		}
	}
	return seconds
}
