package site

import (
	"testing"
	"time"
)

func TestDay(t *testing.T) {
	if d := Date(1970, time.January, 1); d != 0 {
		t.Errorf("1 January 1970 is day %d, want 0", d)
	}
	// Day numbers from the Julian day numbers of noon less 2440588: J2000 is
	// JD 2451545 on 1 January 2000; JD 2299161 is 15 October 1582, the first
	// day of the Gregorian calendar (Meeus, Astronomical Algorithms, chapter 7,
	// from memory).
	for _, c := range []struct {
		iso string
		day Day
	}{
		{"2000-01-01", 2451545 - 2440588},
		{"1582-10-15", 2299161 - 2440588},
	} {
		d, err := ParseDay(c.iso)
		if err != nil || d != c.day || d.String() != c.iso {
			t.Errorf("%s: day %d (%s), %v; want %d", c.iso, d, d, err, c.day)
		}
	}
	for d := Date(1896, time.January, 1); d < Date(2110, time.January, 1); d++ {
		if back := Date(d.Civil()); back != d {
			t.Fatalf("day %d is %s, which is day %d", d, d, back)
		}
	}
	for _, bad := range []string{"", "2027-2-3", "2027-02-29", "20 March 2027", "2027-03-20T00:00"} {
		if d, err := ParseDay(bad); err == nil {
			t.Errorf("ParseDay(%q) = %s, want an error", bad, d)
		}
	}
}

func TestMonthDay(t *testing.T) {
	for _, c := range []struct {
		in   string
		want string
	}{
		{"18 April", "18 April"},
		{"April 18", "18 April"},
		{" 1  march ", "1 March"},
		{"29 February", "29 February"},
	} {
		md, err := ParseMonthDay(c.in)
		if err != nil || md.String() != c.want {
			t.Errorf("ParseMonthDay(%q) = %s, %v; want %s", c.in, md, err, c.want)
		}
	}
	for _, bad := range []string{"", "April", "18", "31 April", "30 February", "0 May", "18 Aprl", "18 April 2027", "99999999999999999999 May"} {
		if md, err := ParseMonthDay(bad); err == nil {
			t.Errorf("ParseMonthDay(%q) = %s, want an error", bad, md)
		}
	}
	leapDay := MonthDay{time.February, 29}
	if d := leapDay.in(2028); d.String() != "2028-02-29" {
		t.Errorf("29 February in 2028: %s", d)
	}
	if d := leapDay.in(2027); d.String() != "2027-02-28" {
		t.Errorf("29 February in 2027: %s", d)
	}
	if d := Date(2027, time.March, 31).addMonths(-1); d.String() != "2027-02-28" {
		t.Errorf("a month before 31 March 2027: %s", d)
	}
	if d := Date(2027, time.November, 30).addMonths(3); d.String() != "2028-02-29" {
		t.Errorf("3 months after 30 November 2027: %s", d)
	}
}
