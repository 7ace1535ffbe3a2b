package booklet

import (
	"fmt"
	"testing"

	"sheaf/generator/source"
)

// TestPlaces: a character is found where it is first written, in whatever way.
func TestPlaces(t *testing.T) {
	b := &Book{written: []*source.File{
		source.NewFile("a.md", []byte("plain\nthe 𠮷 and 𠮷, &#x1f33F; and &#8205;.\n")),
		source.NewFile("b.yaml", []byte("a: 𠮷\nb: \"\\U0001F41D \\u8349 草\"\nc: e\u0323\u0302 Ǆ\n")),
		source.NewTable("c.csv[Plants]", []byte("plant\tbed\nCarex\t庭 🌿\n")),
	}}
	want := map[rune]string{
		'𠮷': "a.md:2:5", '🌿': "a.md:2:14", '\u200d': "a.md:2:28", '🐝': "b.yaml:2:5", '草': "b.yaml:2:16",
		'ẹ': "b.yaml:3:4", 'ǆ': "b.yaml:3:8", '庭': "c.csv[Plants]:2:2", '⚘': "",
	}
	chars := map[rune]bool{}
	for c := range want {
		chars[c] = true
	}
	places := b.Places(chars)
	for c, at := range want {
		got := ""
		if s, ok := places[c]; ok {
			got = fmt.Sprintf("%s:%d:%d", s.File.Path, s.Pos().Line, s.Pos().Column)
		}
		if got != at {
			t.Errorf("%q is at %q, want %q", c, got, at)
		}
	}
}
