package html

import (
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"sheaf/generator/draw"
	"sheaf/generator/draw/drawtest"
)

var updateSVG = flag.Bool("update-svg", false, "write what svg paints to testdata/svg")

// themeVars are some colours of a theme, as the style sheet names them.
func themeVars() map[draw.Color]string {
	return map[draw.Color]string{
		{R: 0x1e, G: 0x2a, B: 0x24}: "--ink",
		{R: 0xfb, G: 0xf9, B: 0xf3}: "--paper",
	}
}

func TestSVG(t *testing.T) {
	for _, c := range drawtest.Cases() {
		t.Run(c.Name, func(t *testing.T) {
			got := string(svg(c.Picture, c.Name+"-", themeVars())) + "\n"
			wellFormed(t, got)
			if again := string(svg(c.Picture, c.Name+"-", themeVars())) + "\n"; got != again {
				t.Error("the same picture was painted in two ways")
			}
			file := filepath.Join("testdata", "svg", c.Name+".svg")
			if *updateSVG {
				if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("painted\n%swant\n%s", got, want)
			}
		})
	}
}

func wellFormed(t *testing.T, s string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(s))
	ids := map[string]bool{}
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Fatalf("not well-formed: %v\n%s", err, s)
		}
		if e, ok := tok.(xml.StartElement); ok {
			for _, a := range e.Attr {
				if a.Name.Local == "id" && ids[a.Value] {
					t.Errorf("id %q is used twice", a.Value)
				} else if a.Name.Local == "id" {
					ids[a.Value] = true
				}
			}
		}
	}
}

func TestSVGSaysWhatItShows(t *testing.T) {
	got := string(svg(draw.Picture{W: 1, H: 1, Title: "A & B", Desc: "<none>"}, "p", nil))
	for _, want := range []string{`role="img"`, "<title>A &amp; B</title>", "<desc>&lt;none&gt;</desc>"} {
		if !strings.Contains(got, want) {
			t.Errorf("%s lacks %s", got, want)
		}
	}
	got = string(svg(draw.Picture{W: 1, H: 1}, "p", nil))
	if !strings.Contains(got, `aria-hidden="true"`) || strings.Contains(got, "role") {
		t.Errorf("a picture that says nothing: %s", got)
	}
}
