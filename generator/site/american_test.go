package site

import (
	"strings"
	"testing"
)

func TestMonthFirst(t *testing.T) {
	plain := func(s string) string { return strings.ReplaceAll(s, "\u00a0", " ") }
	for in, want := range map[string]string{
		"by 12 March":                        "by March 12",
		"from 1 March to 31 August":          "from March 1 to August 31",
		"5 to 10 May, in a late year":        "May 5 to 10, in a late year",
		"(23 April 2027: the mean rises)":    "(April 23, 2027: the mean rises)",
		"8\u00a0March\u00a02028":             "March 8, 2028",
		"in April 2027, and 3 plants in May": "in April 2027, and 3 plants in May",
		"March 12, 2027":                     "March 12, 2027",
	} {
		if got := plain(MonthFirst(in)); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
}
