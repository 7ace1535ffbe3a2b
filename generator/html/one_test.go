package html

import (
	"bytes"
	"testing"
)

// TestInPlace: sections come where their places are kept, and whatever else a theme
// writes stays as it is.
func TestInPlace(t *testing.T) {
	e := &edition{sections: [][]byte{[]byte("first"), []byte("second")}}
	for in, want := range map[string]string{
		"":                               "",
		"<p>":                            "<p>",
		"<\x000\x00>":                    "<first>",
		"<\x000\x00\x001\x00>":           "<firstsecond>",
		"<\x001\x00 and \x000\x00>":      "<second and first>",
		"<\x00>\x000\x00":                "<\x00>first",
		"\x007\x00 \x00x\x00 \x000\x00 ": "\x007\x00 \x00x\x00 first ",
		"\x0099999999999999999999\x00":   "\x0099999999999999999999\x00",
	} {
		if got := string(bytes.Join(e.inPlace([]byte(in)), nil)); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
}

// TestLowered: headings of two levels go down by one, all else stays.
func TestLowered(t *testing.T) {
	for in, want := range map[string]string{
		"": "", "<": "<", "</": "</", "<h": "<h", "h1": "h1", "<hr>": "<hr>", "<header>": "<header>", "<h3>a</h3>": "<h3>a</h3>",
		`<h1 id="a">a</h1><h2>b</h2>`: `<h2 id="a">a</h2><h3>b</h3>`,
	} {
		text := []byte(in)
		if got := string(lowered(text)); got != want || string(text) != in {
			t.Errorf("%q gives %q, want %q; it is now %q", in, got, want, text)
		}
	}
}
