package fields

import (
	"strings"
	"testing"

	"sheaf/generator/source"
)

// told lists the codes of what is found in a file that is YAML.
func told(text string) string {
	m := Whole(source.NewFile("garden.yaml", []byte(text)), "garden")
	m.Texts("list")
	m.Done()
	var out []string
	for _, d := range m.Diagnostics() {
		out = append(out, d.Code)
	}
	return strings.Join(out, " ")
}

// At a limit all is read, one step beyond it the file is refused.
func TestLimits(t *testing.T) {
	nested := func(n int) string { return "list: " + strings.Repeat("[", n) + "a" + strings.Repeat("]", n) }
	items := func(n int) string { return "list: [" + strings.Repeat("a,", n) + "]" }
	values := func(n int) string { // a list of lists of lists: 1 + 2 + 20·(1 + 50·(1 + n)) and keys
		row := "[" + strings.Repeat("a,", n) + "],"
		return "list: [" + strings.Repeat("["+strings.Repeat(row, 50)+"],", 20) + "]"
	}
	for name, c := range map[string]struct{ text, want string }{
		"items":      {items(mostItems), ""},
		"too many":   {items(mostItems + 1), "garden/too-large"},
		"nested":     {nested(deepest - 1), "garden/type"},
		"too deep":   {nested(deepest), "garden/too-large"},
		"values":     {values(28), strings.TrimSuffix(strings.Repeat("garden/type ", 20), " ")},
		"too much":   {values(30), "garden/too-large"},
		"letters":    {"list: " + strings.Repeat("x", longest), ""},
		"too long":   {"list: " + strings.Repeat("x", longest+1), "garden/too-large"},
		"too deep 2": {strings.Repeat("{a: ", 9000) + strings.Repeat("}", 9000), "garden/too-large"},
	} {
		if got := told(c.text); got != c.want {
			t.Errorf("%s: %s, want %s", name, got, c.want)
		}
	}
	// A list of lists, each of them a fault.
	m := Whole(source.NewFile("garden.yaml", []byte("a: ["+strings.Repeat("[],", mostItems)+"]\nb: ["+strings.Repeat("[],", mostItems)+"]\n")), "garden")
	m.Texts("a")
	m.Texts("b")
	ds := m.Diagnostics()
	if len(ds) != mostFaults+1 || ds[0].Code != "garden/type" || ds[mostFaults].Code != "garden/too-many" {
		t.Errorf("%d faults are told", len(ds))
	}
}

// Places on a line are found onwards and back, whatever was asked for before.
func TestPlacesOnALine(t *testing.T) {
	text := "\ufeffä: {ü: [é, ö], b: \"x y\"}\nc: {d: e}\n"
	m := Whole(source.NewFile("garden.yaml", []byte(text)), "garden")
	inner, other := m.Map("ä"), m.Map("c")
	b, _ := inner.Text("b")
	e, _ := other.Text("d")
	list := inner.Texts("ü")
	for _, c := range []struct {
		got  source.Span
		want string
	}{{b.Span, "x y"}, {e.Span, "e"}, {list[1].Span, "ö"}, {list[0].Span, "é"}, {inner.Span(), "{ü: [é, ö], b: \"x y\"}"}, {m.Key("c"), "c"}} {
		if c.got.Text() != c.want {
			t.Errorf("%q, want %q", c.got.Text(), c.want)
		}
	}
}
