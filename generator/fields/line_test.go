package fields

import (
	"strings"
	"testing"

	"sheaf/generator/source"
)

// A key's value is found in files that are no YAML, and only on a line of its own.
func TestLine(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"plain", "---\ncontributor: Ada Marsh\nheight: [\n---\n", "Ada Marsh"},
		{"first of two", "contributor: Ada Marsh\ncontributor: Ben Tarn\n", "Ada Marsh"},
		{"never closed", "---\nbotanical: \"Carex\ncontributor: Ada Marsh", "Ada Marsh"},
		{"no front matter", "\ufeffcontributor: Ada Marsh\r\n", "Ada Marsh"},
		{"in quotes", "contributor: 'Ada Marsh' # of the club\n", "Ada Marsh"},
		{"in quotes that stay open", "contributor: \"Ada Marsh\n", "Ada Marsh"},
		{"with a note", "contributor: Ada Marsh  # asked in May\n", "Ada Marsh"},
		{"with a sign in it", "contributor: Ada #2 Marsh\n", "Ada"},
		{"letters of Windows", "contributor: Ren\xe9e Marsh\n", "Renée Marsh"},
		{"further in", "photo:\n  contributor: Ada Marsh\n", ""},
		{"in a sentence", "The contributor: Ada Marsh\n", ""},
		{"another key", "contributors: Ada Marsh\n", ""},
		{"a list", "contributor: [Ada Marsh, Ben Tarn]\n", ""},
		{"a block", "contributor: |\n  Ada Marsh\n", ""},
		{"nothing", "contributor:\n", ""},
		{"nothing but a note", "contributor: # who?\n", ""},
	} {
		got, ok := Line(source.NewFile("x.md", []byte(c.text)), "contributor")
		if got.Value != c.want || ok != (c.want != "") {
			t.Errorf("%s: %q, %v, want %q", c.name, got.Value, ok, c.want)
		}
		if at := strings.Index(c.text, "contributor: ") + len("contributor: "); ok && got.Span.Start != at {
			t.Errorf("%s: at byte %d, want %d", c.name, got.Span.Start, at)
		}
	}
}
