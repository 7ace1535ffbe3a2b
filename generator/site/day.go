package site

import (
	"fmt"
	"time"

	"sheaf/generator/words"
)

// Day is a civil day of the proleptic Gregorian calendar, counted from
// 1 January 1970 (day 0). It has no time of day and no zone, so days can be
// subtracted and stepped through as plain numbers.
type Day int32

const secondsPerDay = 24 * 60 * 60

// Date gives the day of a civil date. A day or month past its end runs on into
// the next one, as in [time.Date].
func Date(year int, month time.Month, day int) Day {
	return Day(time.Date(year, month, day, 0, 0, 0, 0, time.UTC).Unix() / secondsPerDay)
}

// ParseDay reads a date written year-month-day, as in "2027-03-20" (ISO 8601).
func ParseDay(s string) (Day, error) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return 0, fmt.Errorf("%q is not a date: expected year-month-day, as in 2027-03-20", s)
	}
	return Date(t.Date()), nil
}

// Civil gives the date of a day.
func (d Day) Civil() (year int, month time.Month, day int) {
	return time.Unix(int64(d)*secondsPerDay, 0).UTC().Date()
}

// Year is the civil year the day falls in.
func (d Day) Year() int {
	year, _, _ := d.Civil()
	return year
}

// Month is the civil month the day falls in.
func (d Day) Month() time.Month {
	_, month, _ := d.Civil()
	return month
}

// String prints the day as ISO 8601 does: "2027-03-20".
func (d Day) String() string {
	year, month, day := d.Civil()
	return fmt.Sprintf("%04d-%02d-%02d", year, month, day)
}

// inWords prints the day for a reader: "20 March 2027".
func (d Day) inWords() string {
	year, month, day := d.Civil()
	return fmt.Sprintf("%d %s %d", day, month, year)
}

// addMonths moves a day by whole months; a day the other month does not have
// becomes that month's last.
func (d Day) addMonths(n int) Day {
	year, month, day := d.Civil()
	first := Date(year, month+time.Month(n), 1)
	year, month, _ = first.Civil()
	return MonthDay{month, day}.in(year)
}

// MonthDay is a day of every year. 29 February falls on the 28th in years that
// have no 29th.
type MonthDay struct {
	Month time.Month
	Day   int
}

// String prints the day as "18 April".
func (md MonthDay) String() string {
	return fmt.Sprintf("%d %s", md.Day, md.Month)
}

// Say is the day in the words of a booklet.
func (md MonthDay) Say(w *words.Words) string { return w.Day(md.Month, md.Day) }

// in gives the day in a year; one past the month's end becomes its last.
func (md MonthDay) in(year int) Day {
	return Date(year, md.Month, min(md.Day, daysIn(year, md.Month)))
}

// monthDay gives the day of every year on which d falls.
func (d Day) monthDay() MonthDay {
	_, month, day := d.Civil()
	return MonthDay{month, day}
}

// daysIn is the number of days of a month.
func daysIn(year int, month time.Month) int {
	_, _, last := Date(year, month+1, 0).Civil()
	return last
}

// isLeap tells whether a year has a 29 February.
func isLeap(year int) bool {
	return daysIn(year, time.February) == 29
}
