package theme

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strings"

	"sheaf/generator/draw"
	"sheaf/generator/source"
)

// stackPattern is a list of font families in CSS, names in quotes or bare, that
// ends with one every browser has.
const stackPattern = `^(("[^"\\,;{}()<>]+"|[A-Za-z0-9 -]+), *)*(serif|sans-serif|system-ui|monospace)$`

var stackForm = regexp.MustCompile(stackPattern)

// Contrast is the ratio of two colours by WCAG 2.2, "contrast ratio" and
// "relative luminance": from 1 to 21.
func Contrast(a, b draw.Color) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func luminance(c draw.Color) float64 {
	linear := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}

// leastContrast is what WCAG 2.2 asks of text at level AA (1.4.3).
const leastContrast = 4.5

// contrast holds every colour in which words or marks are set to the paper under
// them: the theme's, and in print white.
func (l *loader) contrast() {
	for _, mode := range []string{"light", "dark"} {
		p := &l.Light
		if mode == "dark" {
			p = &l.Dark
		}
		where := func(name string) source.Span {
			if at, ok := l.at[mode+"."+name]; ok {
				return at
			}
			return l.at[mode+".paper"]
		}
		seen := map[draw.Color]string{}
		for _, name := range colourNames() {
			c := *p.named(name)
			if first, twice := seen[c]; twice {
				l.fail("theme/colour", where(name), fmt.Sprintf("%s and %s are both %s, %s", first, name, c.Hex(), mode), "pictures take their colours by these roles: change one a little")
				continue
			}
			seen[c] = name
			if name == "paper" || name == "hairline" {
				continue
			}
			grounds := []draw.Color{p.Paper}
			if mode == "light" {
				grounds = append(grounds, draw.Color{R: 255, G: 255, B: 255})
			}
			for _, g := range grounds {
				if got := Contrast(c, g); got < leastContrast {
					l.fail("theme/contrast", where(name), fmt.Sprintf("%s %s on %s has a contrast of %.2f to 1, %s; at least %v is needed (WCAG 2.2, 1.4.3)", name, c.Hex(), g.Hex(), got, mode, leastContrast),
						toward(c, g))
					break
				}
			}
		}
	}
}

// toward is the nearest shade of a colour that can be read on a ground.
func toward(c, ground draw.Color) string {
	end := draw.Color{}
	if luminance(ground) < 0.18 {
		end = draw.Color{R: 255, G: 255, B: 255}
	}
	for t := 0.02; t <= 1; t += 0.02 {
		if shade := c.Mix(end, t); Contrast(shade, ground) >= leastContrast {
			return fmt.Sprintf("%q can be read", shade.Hex())
		}
	}
	return ""
}

// elsewhere is what makes a stylesheet load something: an @import, or a url of
// more than a place in the page or a picture within.
var elsewhere = regexp.MustCompile(`(?i)@import\b|@font-face\b|url\(\s*["']?([^"')\s]*)|\bimage-set\(|\bsrc\(`)

// style holds the theme's own stylesheets and scripts to what lets a page work
// from a folder and inside one file: nothing is loaded, and the element they are
// put in is not closed.
func (l *loader) style() {
	for _, name := range styles() {
		f := l.own[name]
		if f == nil {
			continue
		}
		for _, m := range elsewhere.FindAllSubmatchIndex(blanked(f.Text), -1) {
			at := source.Span{File: f, Start: m[0], End: m[1]}
			if to := ""; m[2] >= 0 {
				if to = strings.ToLower(string(f.Text[m[2]:m[3]])); strings.HasPrefix(to, "#") || strings.HasPrefix(to, "data:image/") {
					continue
				}
			}
			l.fail("theme/style", at, fmt.Sprintf("the stylesheet loads something: %s", at.Text()), "a page must show without a request to anywhere; a small picture can stand in the stylesheet as data:image/png;base64,…")
		}
		l.closes(f, "</style")
	}
	for _, name := range []string{"booklet.js", "search.js"} {
		if f := l.own[name]; f != nil {
			l.closes(f, "</script")
			l.closes(f, "<!--")
		}
	}
}

// closes tells of text that would end the element the file is put in, or hide
// what it says.
func (l *loader) closes(f *source.File, text string) {
	if i := bytes.Index(bytes.ToLower(f.Text), []byte(text)); i >= 0 {
		l.fail("theme/style", source.Span{File: f, Start: i, End: i + len(text)}, fmt.Sprintf("%q cannot stand here: the file is also put into a page", text), "write the letter itself, or leave it out")
	}
}

// blanked is a stylesheet with its comments turned to spaces, so that places
// stay what they are.
func blanked(css []byte) []byte {
	out := bytes.Clone(css)
	for from := 0; ; {
		i := bytes.Index(out[from:], []byte("/*"))
		if i < 0 {
			return out
		}
		i += from
		end := len(out)
		if j := bytes.Index(out[i+2:], []byte("*/")); j >= 0 {
			end = i + 2 + j + 2
		}
		for k := i; k < end; k++ {
			if out[k] != '\n' {
				out[k] = ' '
			}
		}
		from = end
	}
}

// unsafeSVG tells what in a drawing could run, load or grow without bound, and
// where; "" for nothing. Pages show it as a picture, where no browser runs
// scripts, but a reader may open the file by itself.
func unsafeSVG(f *source.File) (source.Span, string) {
	d := xml.NewDecoder(bytes.NewReader(f.Text))
	d.CharsetReader = func(string, io.Reader) (io.Reader, error) { return nil, errors.New("it is not UTF-8") }
	first := true
	for {
		from := int(d.InputOffset())
		token, err := d.Token()
		at := source.Span{File: f, Start: from, End: int(d.InputOffset())}
		switch {
		case err == io.EOF && !first:
			return source.Span{}, ""
		case err != nil:
			return at, "it is no SVG: " + err.Error()
		}
		switch t := token.(type) {
		case xml.Directive:
			if bytes.Contains(bytes.ToUpper(t), []byte("ENTITY")) {
				return at, "it declares entities"
			}
		case xml.ProcInst:
			if t.Target != "xml" {
				return at, fmt.Sprintf("it has an instruction %q", t.Target)
			}
		case xml.CharData:
			if loads(string(t)) {
				return at, "its style loads something"
			}
		case xml.StartElement:
			name := strings.ToLower(t.Name.Local)
			if first && name != "svg" {
				return at, "it is no SVG"
			}
			first = false
			switch name {
			case "script", "foreignobject", "iframe", "object", "embed", "handler", "listener":
				return at, fmt.Sprintf("it has an element %q", t.Name.Local)
			}
			for _, a := range t.Attr {
				key, value := strings.ToLower(a.Name.Local), strings.ToLower(strings.TrimSpace(a.Value))
				switch {
				case strings.HasPrefix(key, "on"):
					return at, fmt.Sprintf("it has an attribute %q", a.Name.Local)
				case key == "href" && !strings.HasPrefix(value, "#") && !strings.HasPrefix(value, "data:image/png") && !strings.HasPrefix(value, "data:image/jpeg"),
					key == "src", key == "attributename" && strings.HasSuffix(value, "href"), loads(value):
					return at, fmt.Sprintf("its attribute %q leads elsewhere", a.Name.Local)
				}
			}
		}
	}
}

// loads tells of CSS that loads something.
func loads(css string) bool {
	for _, m := range elsewhere.FindAllStringSubmatch(css, -1) {
		if !strings.HasPrefix(m[1], "#") {
			return true
		}
	}
	return strings.Contains(css, `\`) && strings.Contains(css, "(")
}
