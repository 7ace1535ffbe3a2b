// Package sourcetest writes diagnostics as the want files of tests hold them.
package sourcetest

import (
	"fmt"
	"strings"

	"sheaf/generator/source"
)

// Printed gives the messages in order, a line each, with what they relate to
// and their hints below them.
func Printed(ds source.Diagnostics) string {
	var b strings.Builder
	for _, d := range ds.Sorted() {
		fmt.Fprintf(&b, "%s: %s: %s [%s]\n", Place(d.Span), d.Severity, d.Message, d.Code)
		for _, r := range d.Related {
			fmt.Fprintf(&b, "  %s: %s\n", Place(r.Span), r.Value)
		}
		for _, h := range d.Hints {
			fmt.Fprintf(&b, "  hint: %s\n", h)
		}
	}
	return b.String()
}

// Place is where something stands: file, line and column.
func Place(s source.Span) string {
	if s.File == nil {
		return "nowhere"
	}
	p := s.Pos()
	return fmt.Sprintf("%s:%d:%d", s.File.Path, p.Line, p.Column)
}
