package fields

import (
	"testing"

	"sheaf/generator/source"
)

// TestQuote reads each text back as it was.
func TestQuote(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"Long border", "Long border"},
		{"Geranium phaeum 'Album'", "Geranium phaeum 'Album'"},
		{"× Fatshedera lizei", "× Fatshedera lizei"},
		{"+ Laburnocytisus 'Adamii'", "+ Laburnocytisus 'Adamii'"},
		{"Beds: 1 to 4", `"Beds: 1 to 4"`},
		{"Bed#4", "Bed#4"},
		{"Bed #4", `"Bed #4"`},
		{"Bed # 4", `"Bed # 4"`},
		{"12", `"12"`},
		{"true", `"true"`},
		{"null", `"null"`},
		{"~", `"~"`},
		{"", `""`},
		{"- a", `"- a"`},
		{"[a", `"[a"`},
		{"*a", `"*a"`},
		{"&a b", `"&a b"`},
		{"!a b", `"!a b"`},
		{"'a'", `"'a'"`},
		{`say "a"`, `say "a"`},
		{`"a"`, `"\"a\""`},
		{"a\nb", `"a\nb"`},
		{"tab\tin", `tab	in`},
		{" a", `" a"`},
		{"a\\b.csv", `a\b.csv`},
	} {
		got := Quote(c.text)
		if got != c.want {
			t.Errorf("%q is written %s, want %s", c.text, got, c.want)
		}
		m := Whole(source.NewFile("x.yaml", []byte("v: "+got+"   # why\n")), "x")
		if v, ok := m.raw("v"); !ok || v != c.text {
			t.Errorf("%q is read back as %q", c.text, v)
		}
	}
}

// raw is a text without the trimming of [Map.Text].
func (m *Map) raw(key string) (string, bool) {
	n := m.get(key)
	if n == nil {
		return "", false
	}
	return n.Value, true
}
