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

// An error about what is left out stops nothing, is counted by itself and, in a
// list that is cut short, comes after the warnings.
func TestAside(t *testing.T) {
	f := NewFile("a.md", []byte("one\ntwo\nthree\n"))
	ds := Diagnostics{
		{Severity: Error, Code: "entry/height", Span: Span{f, 0, 3}, Message: "too high", Aside: true},
		{Severity: Warning, Code: "entry/left-out", Span: Span{f, 4, 7}, Message: "it is left out"},
		{Severity: Error, Code: "entry/spread", Span: Span{f, 8, 13}, Message: "too broad", Aside: true},
	}
	if ds.HasErrors() {
		t.Error("it would stop a build")
	}
	if got, want := ds.Summary(), "1 warning, 2 errors in what is left out"; got != want {
		t.Errorf("counted as %q, want %q", got, want)
	}
	var b strings.Builder
	if err := ds.Print(&b, Style{Most: 1}); err != nil {
		t.Fatal(err)
	}
	if want := "a.md:2:1: warning: it is left out [entry/left-out]\n  two\n  ^^^\nand 2 more\n1 warning, 2 errors in what is left out\n"; b.String() != want {
		t.Errorf("cut short\n%s\nwant\n%s", b.String(), want)
	}
	ds[0].Aside = false
	if !ds.HasErrors() || ds.Summary() != "1 error, 1 warning, 1 error in what is left out" {
		t.Errorf("with one that stops it: %s", ds.Summary())
	}
}

// A letter keeps to its width: words go on in the next line, a place is never
// broken, and of a long line the part is shown that is meant.
func TestLetter(t *testing.T) {
	text := "how: Gather the top in one hand, tie it, and cut below the tie with the shears.\n"
	f := NewFile("plants/a-name.md", []byte(text))
	at := strings.Index(text, "shears")
	var ds Diagnostics
	ds.Add(Error, "entry/how", Span{f, at, at + 6}, "these are no tool that anybody here has ever heard of", "name one of those that are known")
	var b strings.Builder
	if err := ds.Letter(&b, Style{Width: 40, Color: true}); err != nil {
		t.Fatal(err)
	}
	want := `
plants/a-name.md:1:73: error: these are
no tool that anybody here has ever heard
of [entry/how]
  and cut below the tie with the shears.
                                 ^^^^^^
hint: name one of those that are known
`
	got := strings.NewReplacer("\x1b[1;31m", "", "\x1b[1m", "", "\x1b[0m", "").Replace(b.String())
	if got == b.String() {
		t.Error("there is no colour in it")
	}
	for i, l := range strings.Split(got, "\n") {
		if len(l) > 40 {
			t.Errorf("line %d has %d characters: %s", i+1, len(l), l)
		}
	}
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}
