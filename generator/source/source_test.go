package source

import (
	"strings"
	"testing"
)

func TestEdits(t *testing.T) {
	// Distances counted by hand.
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"", "abc", 3}, {"abc", "", 3}, {"comb", "comb", 0}, {"comb", "cmob", 1},
		{"kitten", "sitting", 3}, {"divide", "devide", 1}, {"×", "x", 1}, {"ca", "abc", 3},
	} {
		if got := Edits(c.a, c.b); got != c.want {
			t.Errorf("Edits(%q, %q) = %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

func TestClosest(t *testing.T) {
	known := []string{"comb", "groom", "cut back", "divide", "when", "why"}
	for word, want := range map[string]string{
		"cutback": "cut back", "devide": "divide", "wen": "when", "xylophone": "", "grom": "groom", "wh": "why",
	} {
		if got := Closest(word, known); got != want {
			t.Errorf("Closest(%q) = %q, want %q", word, got, want)
		}
	}
}

func TestPosCountsCharactersAndSkipsTheMark(t *testing.T) {
	f := NewFile("a.md", []byte("\ufeffün × x\nzwei\r\ndrei"))
	for _, c := range []struct {
		at   string
		want Pos
	}{{"ün", Pos{1, 1}}, {"×", Pos{1, 4}}, {"zwei", Pos{2, 1}}, {"rei", Pos{3, 2}}} {
		i := strings.Index(string(f.Text), c.at)
		if got := (Span{f, i, i + 1}).Pos(); got != c.want {
			t.Errorf("%q is at %v, want %v", c.at, got, c.want)
		}
	}
}

// A place in a table is a row and a cell; the carets still stand under the text.
func TestPosInATable(t *testing.T) {
	f := NewTable("plants.xlsx[Planting]", []byte("plant\tqty\n\nCarex × y\tmany\n"))
	at := strings.Index(string(f.Text), "many")
	var ds Diagnostics
	ds.Add(Warning, "list/quantity", Span{f, at, at + 4}, "no quantity")
	var b strings.Builder
	if err := ds.Print(&b, Style{}); err != nil {
		t.Fatal(err)
	}
	want := "plants.xlsx[Planting]:3:2: warning: no quantity [list/quantity]\n  Carex × y    many\n               ^^^^\n1 warning\n"
	if b.String() != want {
		t.Errorf("printed\n%s\nwant\n%s", b.String(), want)
	}
}

// A message that repeats what was written stays short, and whole letters.
func TestLongMessage(t *testing.T) {
	var ds Diagnostics
	ds.Add(Note, "garden/rows", Span{}, "a"+strings.Repeat("é", 1<<20), strings.Repeat("x", 601))
	if m := ds[0].Message; m != "a"+strings.Repeat("é", 299)+"…" {
		t.Errorf("%d bytes", len(m))
	}
	if h := ds[0].Hints[0]; h != strings.Repeat("x", 600)+"…" {
		t.Errorf("a hint of %d bytes", len(h))
	}
	if got := Closest(strings.Repeat("x", 1<<20), []string{"x"}); got != "" {
		t.Errorf("near to %q", got)
	}
}

func TestPrint(t *testing.T) {
	f := NewFile("plants/a.md", []byte("---\n\thieght: 35 cm\n---\n"))
	at := strings.Index(string(f.Text), "hieght")
	var ds Diagnostics
	ds.Add(Error, "entry/unknown-key", Span{f, at, at + 6}, `unknown key "hieght"`, `did you mean "height"?`, "")
	ds.Add(Error, "entry/unknown-key", Span{f, at, at + 6}, `unknown key "hieght"`) // said once
	ds.Add(Note, "garden/rows", Span{}, "2 rows were \x1b[31mempty\u061c\u2028\nerror: x")
	var b strings.Builder
	if err := ds.Print(&b, Style{Show: func(p string) string { return "garden/" + p }}); err != nil {
		t.Fatal(err)
	}
	want := `note: 2 rows were ·[31mempty···error: x [garden/rows]
garden/plants/a.md:2:2: error: unknown key "hieght" [entry/unknown-key]
      hieght: 35 cm
      ^^^^^^
hint: did you mean "height"?
1 error, 1 note
`
	if b.String() != want {
		t.Errorf("printed\n%s\nwant\n%s", b.String(), want)
	}
}
