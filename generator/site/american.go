package site

import (
	"regexp"
	"strings"
)

var dayFirst = regexp.MustCompile(`\b(\d{1,2})(?:(\s(?:to|or|and)\s|–)(\d{1,2}))?[ \x{a0}](January|February|March|April|May|June|July|August|September|October|November|December)\b(?:[ \x{a0}](\d{4})\b)?`)

// MonthFirst writes the dates of a text as Americans do: "12 March 2027" is
// March 12, 2027.
func MonthFirst(text string) string {
	if !strings.ContainsAny(text, "0123456789") {
		return text
	}
	return dayFirst.ReplaceAllStringFunc(text, func(s string) string {
		m := dayFirst.FindStringSubmatch(s)
		out := m[4] + "\u00a0" + m[1] + m[2] + m[3]
		if m[5] != "" {
			out += ",\u00a0" + m[5]
		}
		return out
	})
}
