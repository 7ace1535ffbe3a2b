package theme

import (
	"bytes"
	"fmt"
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

// loads tells whether a word of a stylesheet loads something: an @import, a
// @font-face, a function that takes the address of a picture, or a url that is none
// of a place in the page or, where it may be, of a picture within.
func (t cssToken) loads(pictures bool) bool {
	switch to := strings.ToLower(strings.TrimSpace(t.value)); t.kind {
	case cssAt:
		return t.value == "import" || t.value == "font-face"
	case cssFunction:
		return t.value == "src" || t.value == "image" || strings.HasSuffix(t.value, "image-set")
	case cssURL:
		return !strings.HasPrefix(to, "#") && !(pictures && strings.HasPrefix(to, "data:image/"))
	}
	return false
}

// mostLoads is how many places of a stylesheet are told that load something.
const mostLoads = 20

// style holds the theme's own stylesheets and scripts to what lets a page work
// from a folder and inside one file: nothing is loaded, and the element they are
// put in is not closed.
func (l *loader) style() {
	for _, name := range styles() {
		f := l.own[name]
		if f == nil {
			continue
		}
		told := 0
		for _, t := range cssTokens(string(f.Text)) {
			if !t.loads(true) {
				continue
			}
			at := source.Span{File: f, Start: t.start, End: t.end}
			l.fail("theme/style", at, fmt.Sprintf("the stylesheet loads something: %s", at.Text()), "a page must show without a request to anywhere; a small picture can stand in the stylesheet as data:image/png;base64,…")
			if told++; told == mostLoads {
				break
			}
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
