package fields

import (
	"fmt"
	"strings"
	"testing"

	"sheaf/generator/source"
)

// printed gives one line a message: line:column · code · message · hints.
func printed(ds source.Diagnostics) string {
	var b strings.Builder
	for _, d := range ds.Sorted() {
		p := d.Span.Pos()
		fmt.Fprintln(&b, strings.Join(append([]string{posText(p), d.Code, d.Message}, d.Hints...), " · "))
	}
	return b.String()
}

func posText(p source.Pos) string { return fmt.Sprintf("%d:%d", p.Line, p.Column) }

// read asks for the keys of a small made-up record.
func read(text string) (got map[string]string, ds source.Diagnostics, body string) {
	f := source.NewFile("x.md", []byte(text))
	m, at := Front(f, "entry")
	got = map[string]string{}
	for _, k := range []string{"height", "name"} {
		if t, ok := m.Text(k); ok {
			got[k] = t.Value + "@" + posText(t.Span.Pos()) + "=" + t.Span.Text()
		}
	}
	for _, t := range m.Choices("light", []string{"full sun", "part shade", "shade"}) {
		got["light"] += t.Value + "@" + posText(t.Span.Pos()) + ";"
	}
	if c := m.Map("colours"); c != nil {
		t, _ := c.Text("leaf")
		got["leaf"] = t.Value + "@" + posText(t.Span.Pos())
		c.Done()
	}
	for _, r := range m.Maps("care") {
		t, _ := r.Need("job")
		got["job"] += t.Value + "@" + posText(t.Span.Pos()) + ";"
		r.Done()
	}
	m.Done()
	return got, m.Diagnostics(), text[min(at, len(text)):]
}

func TestValuesKnowTheirPlace(t *testing.T) {
	got, ds, body := read("\ufeff\n---\nname: 'Größe × x'  # comment\nheight: 35 cm\nlight: [full sun, shade]\n" +
		"colours: {leaf: \"#c7b24a\"}\ncare:\n  - job: comb\n  - job: groom\n---\nBody\n")
	if len(ds) > 0 {
		t.Fatalf("unexpected\n%s", printed(ds))
	}
	for k, want := range map[string]string{
		"name":   "Größe × x@3:8=Größe × x",
		"height": "35 cm@4:9=35 cm",
		"light":  "full sun@5:9;shade@5:19;",
		"leaf":   "#c7b24a@6:18",
		"job":    "comb@8:10;groom@9:10;",
	} {
		if got[k] != want {
			t.Errorf("%s = %q, want %q", k, got[k], want)
		}
	}
	if body != "Body\n" {
		t.Errorf("body %q", body)
	}
}

func TestFaults(t *testing.T) {
	for name, c := range map[string]struct{ in, want string }{
		"unknown key": {"---\nhieght: 3\n---\n", `2:1 · entry/unknown-key · unknown key "hieght" · did you mean "height"?`},
		"duplicate":   {"---\nname: a\nname: b\n---\n", `3:1 · entry/duplicate-key · key "name" is written twice · keep one of the two`},
		"word":        {"---\nlight: [full sin]\n---\n", `2:9 · entry/unknown-value · "full sin" is not a value of "light" · did you mean "full sun"?`},
		"unclosed":    {"---\nname: a\n", `1:1 · entry/no-front-matter · no front matter found · close the front matter with a line ---`},
		"none":        {"name: a\n", `1:1 · entry/no-front-matter · no front matter found · begin the file with a line --- , then the keys, then a line ---`},
		"not a map":   {"---\n- a\n---\n", `2:1 · entry/type · expected keys and values here, found a list`},
		"list wanted": {"---\ncare: comb\n---\n", `2:7 · entry/type · expected a list under "care", found "comb" · begin each item with "- "`},
		"missing":     {"---\ncare:\n  - why: x\n---\n", "3:5 · entry/missing-key · key \"job\" is missing\n3:5 · entry/unknown-key · unknown key \"why\" · known here: job"},
		"alias":       {"---\nname: &a x\nheight: *a\n---\n", `3:9 · entry/type · expected text, found an alias, which is not used here`},
		"not UTF-8":   {"---\nname: \xff\n---\n", `2:7 · entry/encoding · the file is not UTF-8 text · save it as UTF-8`},
		"empty":       {"---\n---\n", `1:1 · entry/empty · nothing is written here · write each key with its value on a line of its own, as name: value`},
	} {
		t.Run(name, func(t *testing.T) {
			_, ds, _ := read(c.in)
			if got := strings.TrimSpace(printed(ds)); got != c.want {
				t.Errorf("got\n%s\nwant\n%s", got, c.want)
			}
		})
	}
}

func TestSyntaxErrorsStandAtTheFilesLine(t *testing.T) {
	_, ds, _ := read("\n---\nname: a\nheight: a: b\n---\n")
	if len(ds) != 1 || ds[0].Code != "entry/yaml" || ds[0].Span.Pos().Line != 4 {
		t.Errorf("got %s", printed(ds))
	}
	t.Log(printed(ds))
}

func FuzzFront(f *testing.F) {
	f.Add("---\nname: a\nlight: [shade]\ncare:\n  - job: comb\n---\nBody")
	f.Add("---\ncolours: {leaf: x}\n---")
	f.Add("\ufeff---\r\nname: \"a\\nb\"\r\n---\r\n")
	f.Fuzz(func(t *testing.T, text string) {
		_, ds, _ := read(text)
		for _, d := range ds {
			if d.Span.Start < 0 || d.Span.End < d.Span.Start || d.Span.End > len(text) {
				t.Errorf("%s points outside the file: %d to %d of %d", d.Code, d.Span.Start, d.Span.End, len(text))
			}
			d.Span.Pos()
		}
	})
}
