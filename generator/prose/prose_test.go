package prose

import (
	"fmt"
	"strings"
	"testing"

	"sheaf/generator/source"
)

// dump writes blocks in a short form: h2, p, ul, ol; *italic*, **bold**, [link].
func dump(blocks []Block) string {
	var b strings.Builder
	for _, block := range blocks {
		switch block := block.(type) {
		case Paragraph:
			fmt.Fprintf(&b, "p(%s)", runs(block.Runs))
		case Heading:
			fmt.Fprintf(&b, "h%d(%s)", block.Level, runs(block.Runs))
		case List:
			fmt.Fprintf(&b, "list %v{", block.Numbered)
			for _, it := range block.Items {
				b.WriteString(dump(it) + ";")
			}
			b.WriteString("}")
		}
	}
	return b.String()
}

func runs(rs []Run) string {
	var b strings.Builder
	for _, r := range rs {
		s := r.Text
		if r.Italic {
			s = "*" + s + "*"
		}
		if r.Bold {
			s = "**" + s + "**"
		}
		if r.Link != "" {
			s = "[" + s + "|" + r.Link + "]"
		}
		b.WriteString(s)
	}
	return b.String()
}

func TestParse(t *testing.T) {
	for name, c := range map[string]struct{ in, want, faults string }{
		"paragraphs":   {"One\ntwo.\n\nThree *it* **bold**.", "p(One two.)p(Three *it* **bold**.)", ""},
		"lists":        {"## How\n\n1. Tie.\n2. Cut.\n\n- a\n- b", "h2(How)list true{p(Tie.);p(Cut.);}list false{p(a);p(b);}", ""},
		"escapes":      {`A \* and &amp; and &#8212;`, "p(A * and & and \u2014)", ""},
		"links":        {"[club](https://example.org) <a@example.org>", "p([club|https://example.org] [a@example.org|mailto:a@example.org])", ""},
		"bad link":     {"See [this](javascript:alert(1)).", "p(See this.)", "3:5 entry/link"},
		"bad autolink": {"See <javascript:alert(1)>.", "p(See javascript:alert(1).)", "3:5 entry/link"},
		"raw block":    {"a\n\n<script>alert(1)</script>\n\nb", "p(a)p(b)", "5:1 entry/html"},
		"raw inline":   {"a <b onclick=x>c</b>", "p(a c)", "3:3 entry/html\n3:17 entry/html"},
		"picture":      {"a ![x](y.png)", "p(a )", "3:3 entry/image"},
		"controls":     {"a\u202eb\U000e0041c\U0001f33fd", "p(abc\U0001f33fd)", ""},
		"separators":   {"a\u2028b\u2029c\u061cd\ufeffe\u200bf\u200dg\ufe0fh\ufffei", "p(a b cdef\u200dghi)", ""},
		"references":   {"See [it][x].\n\n[x]: https://example.org", "p(See [it|https://example.org].)", ""},
		"deep style":   {strings.Repeat("*a **b ", 12) + strings.Repeat("c** d* ", 12), "p(*a ****b a b a b a b a b a b  c d c d c d c d c d c**** d*)", "3:43 entry/markdown"},
		"code":         {"    code\n", "", "3:5 entry/markdown"},
	} {
		t.Run(name, func(t *testing.T) {
			front := "---\n---\n"
			blocks, ds := Parse(source.NewFile("x.md", []byte(front+c.in)), len(front), "entry")
			if got := dump(blocks); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
			var faults []string
			for _, d := range ds.Sorted() {
				p := d.Span.Pos()
				faults = append(faults, fmt.Sprintf("%d:%d %s", p.Line, p.Column, d.Code))
			}
			if got := strings.Join(faults, "\n"); got != c.faults {
				t.Errorf("faults %q, want %q", got, c.faults)
			}
		})
	}
}

// A text of the greatest length is read, one beyond it is not; and of very many
// faults the first are told.
func TestLimits(t *testing.T) {
	if blocks, ds := Parse(source.NewFile("x.md", []byte(strings.Repeat("a", largest))), 0, "entry"); len(blocks) != 1 || len(ds) > 0 {
		t.Errorf("%d blocks, %d faults", len(blocks), len(ds))
	}
	if blocks, ds := Parse(source.NewFile("x.md", []byte(strings.Repeat("a", largest+1))), 0, "entry"); blocks != nil || len(ds) != 1 || ds[0].Code != "entry/too-large" {
		t.Errorf("%d blocks, %d faults", len(blocks), len(ds))
	}
	_, ds := Parse(source.NewFile("x.md", []byte(strings.Repeat("<b>", 1000))), 0, "entry")
	if len(ds) != mostFaults+1 || ds[mostFaults].Code != "entry/too-many" {
		t.Errorf("%d faults are told", len(ds))
	}
}

func FuzzParse(f *testing.F) {
	f.Add("# a\n\n*b* **c** [d](https://e.f)\n\n- x\n  - y\n\n<i>z</i>")
	f.Add(strings.Repeat("> ", 50) + "deep")
	f.Add("*\t  *") // once placed a fault beyond the text
	f.Fuzz(func(t *testing.T, in string) {
		_, ds := Parse(source.NewFile("x.md", []byte(in)), 0, "entry")
		for _, d := range ds {
			if d.Span.Start < 0 || d.Span.End > len(in) || d.Span.End < d.Span.Start {
				t.Errorf("%v outside", d.Span)
			}
		}
	})
}

func TestQuotes(t *testing.T) {
	for text, want := range map[string]string{
		`a pig's tail`:                   `a pig’s tail`,
		`the sort 'Annabelle', and more`: `the sort ‘Annabelle’, and more`,
		`"Leave 10 cm" says what stays`:  `“Leave 10 cm” says what stays`,
		`('Bowles's Mauve')`:             `(‘Bowles’s Mauve’)`,
		`bishops' staffs`:                `bishops’ staffs`,
		`it is ‘so’ already`:             `it is ‘so’ already`,
	} {
		if got := Sentence(text); got != want {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
	// Marks at the border of runs look at the run before.
	blocks, _ := Parse(source.NewFile("a.md", []byte("**Stipa**'s *'best'* \"side\"")), 0, "entry")
	if got, want := Text(blocks), "Stipa’s ‘best’ “side”"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// TestClean: words stand one space apart whatever stood between them.
func TestClean(t *testing.T) {
	for in, want := range map[string]string{
		"": "", " ": "", "sedge": "sedge", "two sedges": "two sedges", "two  sedges": "two sedges", " two sedges": "two sedges",
		"two sedges ": "two sedges", "two\nsedges": "two sedges", "two\u00a0sedges": "two sedges", "two \u2009 sedges": "two sedges", "a\u200bb": "ab", "\u200b ": "",
		"𠮷🌿": "𠮷🌿", "👩\u200d🌾": "👩\u200d🌾", "می\u200cخواهم": "می\u200cخواهم", "sedge\u200c": "sedge", "\u200dtwo \u200c sedges\u200d": "two sedges",
		"a\U000e0041\U000e007fb\U000e0101\U0001fffe": "ab", "\U0001d173a": "a", "❤\ufe0f": "❤", "a\u202eb\u2066c": "abc",
	} {
		if got := Clean(in); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
}
