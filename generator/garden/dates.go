package garden

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"sheaf/generator/site"
	"sheaf/generator/source"
)

// A country decides how days are written in it: which of 04/10/2026 is the month.
type country string

// monthFirst tells the one country that writes the month first in figures (Unicode
// CLDR 46, short dates of en-US and of the other countries there are regions for).
func (c country) monthFirst() bool { return c == "US" }

// bothWays tells countries in which both ways are met, so that nobody can know.
func (c country) bothWays() bool { return c == "" || c == "CA" }

// says writes a day as people of the country do; without a year for 0.
func (c country) says(year int, month time.Month, day int) string {
	out := ""
	switch c {
	case "US":
		if out = fmt.Sprintf("%d/%d", int(month), day); year != 0 {
			out += fmt.Sprintf("/%d", year)
		}
		return out
	case "DE", "AT", "CH":
		out = fmt.Sprintf("%d. %s", day, germanMonths()[month-1][0])
	default:
		out = fmt.Sprintf("%d %s", day, month)
	}
	if year != 0 {
		out += fmt.Sprintf(" %d", year)
	}
	return out
}

// germanMonths are the names of the months that English has not, whole and short,
// January first; the first of each as it is written in a sentence.
func germanMonths() [12][]string {
	return [12][]string{{"Januar", "Jänner", "Jaenner", "Jän"}, {"Februar", "Feber"}, {"März", "Maerz", "Mär", "Mrz"}, {"April"}, {"Mai"}, {"Juni"}, {"Juli"}, {"August"},
		{"September"}, {"Oktober", "Okt"}, {"November"}, {"Dezember", "Dez"}}
}

// otherMonths are those of Dutch and French that neither English nor German has.
func otherMonths() [12][]string {
	return [12][]string{{"januari", "janvier", "janv"}, {"februari", "février", "fevrier", "févr", "fév"}, {"maart", "mrt", "mars"}, {"avril", "avr"}, {"mei"}, {"juin"}, {"juillet", "juil"}, {"augustus", "août", "aout"},
		{"septembre"}, {"octobre"}, {"novembre"}, {"décembre", "decembre", "déc"}}
}

// inEnglish puts English names of months for those of the other languages that the
// program has words for.
func inEnglish(text string) string {
	return monthWord.ReplaceAllStringFunc(text, func(word string) string {
		for _, months := range [][12][]string{germanMonths(), otherMonths()} {
			for i, names := range months {
				if slices.ContainsFunc(names, func(n string) bool { return strings.EqualFold(n, word) }) {
					return time.Month(i + 1).String()
				}
			}
		}
		return word
	})
}

// dateHint says how a day of planting is written.
func (c country) dateHint() string {
	return fmt.Sprintf("write it as 2026-10-04, as %s, as October 2026 or as 2026", c.says(2026, time.October, 4))
}

var (
	monthWord  = regexp.MustCompile(`\p{L}+`)
	beforeDate = regexp.MustCompile(`(?i)^(?:(?:mon|tues?|wed(?:nes)?|thu(?:rs)?|fri|sat(?:ur)?|sun)(?:day)?\.?,?\s+|w/c\.?\s+|week commencing\s+|planted\s+(?:on\s+|in\s+)?)+`)
	clock      = regexp.MustCompile(`[T ]\d{1,2}:\d{2}(?::\d{2}(?:\.\d+)?)?Z?$`)
	inFigures  = regexp.MustCompile(`^(\d{1,2})\s*[/. -]\s*(\d{1,2})\s*[/. -]\s*(\d{4}|\d{2})$`)
	ordinal    = regexp.MustCompile(`(?i)\b(\d{1,2})(?:st|nd|rd|th)\b(?:\s+of\b)?`)
	// "Oct 26" may be a day or a year; "Oct-26", as spreadsheets print months,
	// and "Oct '26" are years.
	dayOrYear = regexp.MustCompile(`^\p{L}+\.? \d{2}$`)
	// "10/25" and "5.10." have no year.
	noYear  = regexp.MustCompile(`^(\d{1,2})\s*[/.]\s*(\d{1,2})\.?$`)
	between = regexp.MustCompile(`[\s,./'’-]+`)
)

// planted reads a full date, a month and year, or a year alone; the last two
// mean the first of the month and 1 January. Of 04/10/2026 the day is first unless
// monthFirst. The error says what is wrong, the hint how it is written in the country.
func (c country) planted(s string, monthFirst bool) (d site.Day, hint string, err error) {
	if d, ok := dateIn(s, monthFirst, append(fullForms(), "2006-1", "2006/1", "1-2006", "1/2006", "1.2006", "2006",
		"January 2006", "Jan 2006", "January 06", "Jan 06", "2006 January", "2006 Jan")); ok {
		return d, "", nil
	}
	if month, day, ok := c.dayOfYear(s); ok {
		hint = "write the year too, for example " + c.says(2026, month, day)
		if m := noYear.FindStringSubmatch(s); m != nil {
			hint += ", or " + m[1] + "/2026 for a month"
		}
		return 0, hint, fmt.Errorf("%q has no year", s)
	}
	return 0, c.dateHint(), fmt.Errorf("%q is not a date of planting", s)
}

// handover reads a full date.
func (c country) handover(s string) (d site.Day, hint string, err error) {
	hint = "write it as 2027-03-20"
	if c != "" {
		hint += " or as " + c.says(2027, time.March, 20)
	}
	first, ok := dateIn(s, c.monthFirst(), fullForms())
	if !ok {
		if _, err := site.ParseDay(s); err == nil {
			return 0, fmt.Sprintf("the years %d to %d are", FirstYear, LastYear), fmt.Errorf("a handover on %s is not possible", s)
		}
		if month, day, ok := c.dayOfYear(s); ok {
			return 0, "write the year too, for example " + c.says(2027, month, day), fmt.Errorf("%q has no year", s)
		}
		return 0, hint, fmt.Errorf("%q is not a date: expected a day, a month and a year", s)
	}
	if other, _ := dateIn(s, !c.monthFirst(), fullForms()); other != first && c.bothWays() {
		return 0, fmt.Sprintf("write %s or %s", min(first, other), max(first, other)), fmt.Errorf("%q may be either of two days", s)
	}
	return first, "", nil
}

// frost reads a day of every year.
func (c country) frost(s string) (d site.MonthDay, hint string, err error) {
	if noYear.MatchString(s) && c.bothWays() {
		return d, "write the month as a word, for example 18 April", fmt.Errorf("of %q nobody can tell which is the month", s)
	}
	if month, day, ok := c.dayOfYear(s); ok {
		s = fmt.Sprintf("%d %s", day, month)
	}
	d, err = site.ParseMonthDay(s)
	return d, "write it as " + c.says(0, time.April, 18), err
}

// dayOfYear reads a day without a year: "5. Mai", "May 5th", "10/25" in America.
func (c country) dayOfYear(s string) (time.Month, int, bool) {
	s = strings.TrimSpace(s)
	first, second := "2 1", "1 2"
	if c.monthFirst() {
		first, second = second, first
	}
	forms := []string{"2 January", "2 Jan", "January 2", "Jan 2"}
	text := spelt(s)
	if m := noYear.FindStringSubmatch(s); m != nil {
		text, forms = m[1]+" "+m[2], []string{first, second}
	}
	for _, form := range forms {
		// Of a leap year, as 29 February is a day.
		if t, err := time.Parse("2006 "+form, "2024 "+text); err == nil {
			return t.Month(), t.Day(), true
		}
	}
	return 0, 0, false
}

// fullForms are those of a day, a month by its name and a year, and of figures that
// begin with the year.
func fullForms() []string {
	return []string{"2006-1-2", "2006/1/2", "2006.1.2", "20060102",
		"2 January 2006", "2 Jan 2006", "January 2 2006", "Jan 2 2006", "2 January 06", "2 Jan 06", "2006 January 2", "2006 Jan 2"}
}

// dateIn reads a date in one of some forms, or in figures with the year last.
func dateIn(s string, monthFirst bool, forms []string) (site.Day, bool) {
	text := strings.TrimSpace(clock.ReplaceAllString(beforeDate.ReplaceAllString(s, ""), ""))
	if m := inFigures.FindStringSubmatch(text); m != nil {
		text = strings.Join(m[1:], " ")
		forms = []string{"2 1 2006", "2 1 06", "1 2 2006", "1 2 06"}
		if monthFirst {
			forms = []string{"1 2 2006", "1 2 06", "2 1 2006", "2 1 06"}
		}
	} else if dayOrYear.MatchString(text) {
		return 0, false
	} else if strings.ContainsFunc(text, unicode.IsLetter) {
		text = spelt(text)
	}
	for _, form := range forms {
		if t, err := time.Parse(form, text); err == nil && possible(t) {
			return site.Date(t.Date()), true
		}
	}
	return 0, false
}

// spelt is a date with a month by its name in the one form that is read: "5 may 2026".
func spelt(text string) string {
	text = strings.TrimSpace(between.ReplaceAllString(ordinal.ReplaceAllString(inEnglish(text), "$1"), " "))
	return strings.TrimSpace(strings.Replace(strings.ToLower(text)+" ", "sept ", "sep ", 1))
}

// possible keeps a slip of the pen from being read as a year.
func possible(t time.Time) bool { return t.Year() >= FirstYear && t.Year() <= LastYear }

// orderOfDates finds whether the list writes the month first: it does when one
// of its dates can be read in no other way, or the country does, and none is to be
// read only with the day first.
func (l *list) orderOfDates() {
	var month, either cell
	dayFirst := false
	for _, row := range l.lines[l.head.line+1:] {
		c := l.cell(row, plantedColumn)
		m := inFigures.FindStringSubmatch(c.text)
		if m == nil {
			continue
		}
		first, _ := strconv.Atoi(m[1])
		second, _ := strconv.Atoi(m[2])
		switch {
		case first > 12:
			dayFirst = true
		case second > 12:
			month = c
		case first != second && either.text == "":
			either = c
		}
	}
	l.monthFirst = !dayFirst && (month.text != "" || l.country.monthFirst())
	switch {
	case l.monthFirst && month.text == "":
		if either.text != "" {
			l.found.Add(source.Note, "list/date-order", either.span, fmt.Sprintf("%s is read month first, as in the garden's country", either.text))
		}
	case l.monthFirst && l.country.monthFirst():
	case l.monthFirst:
		l.found.Add(source.Note, "list/date-order", month.span, fmt.Sprintf("%s can only be read month first: so are the list's other dates", month.text))
	case either.text != "" && month.text != "":
		l.found.Add(source.Warning, "list/date-order", either.span, fmt.Sprintf("the list writes dates in two orders: %s is read day first", either.text), "write dates as 2026-10-04")
	case either.text != "" && !dayFirst:
		l.found.Add(source.Note, "list/date-order", either.span, fmt.Sprintf("%s is read day first, as nothing in the list tells which is meant", either.text), "write dates as 2026-10-04")
	}
}
