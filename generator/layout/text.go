package layout

import (
	"regexp"
	"strings"

	"github.com/rivo/uniseg"
	"golang.org/x/text/unicode/norm"

	"sheaf/generator/draw"
	"sheaf/generator/prose"
	"sheaf/generator/theme"
)

// A style is how a paragraph is set. Sizes are points.
type style struct {
	face, bold, italic draw.Face
	size, leading      float64
	color              draw.Color
	// Of labels within a line.
	label draw.Face
	small float64
	quiet draw.Color
}

// A line is set text on one baseline, from x 0.
type line struct {
	items []Item
	width float64
}

// mm turns points into millimetres.
func mm(points float64) float64 { return points / theme.PointsPerMM }

// fragment is text of one look within a paragraph.
type fragment struct {
	text  string
	face  draw.Face
	link  string
	at    int  // where the paragraph's text has it
	quiet bool // a label
}

// faceOf picks the face for a run in a style.
func (s style) faceOf(r prose.Run) draw.Face {
	switch {
	case r.SmallCaps:
		return draw.SmallCaps
	case r.Bold:
		return s.bold
	case r.Italic:
		return s.italic
	case r.Quiet:
		return s.label
	}
	return s.face
}

// lines breaks runs into lines of a width in millimetres, by the Unicode line
// breaking rules (UAX 14), greedily and without hyphens. A piece that no rule
// can break and that is wider than the line is broken between characters, so
// that nothing ever runs out of its box.
func (l *layer) lines(runs []prose.Run, s style, width float64) []line {
	if len(runs) == 0 {
		return nil
	}
	// A plant is set in several densities, most of its paragraphs alike in
	// each. The key holds on to the runs, so no other text can take their place.
	key := setKey{&runs[0], len(runs), s, width}
	if out, ok := l.broken[key]; ok {
		return out
	}
	out := l.breakLines(runs, s, width)
	l.broken[key] = out
	return out
}

// setKey tells one paragraph set in one way.
type setKey struct {
	runs  *prose.Run
	n     int
	style style
	width float64
}

// A text is a paragraph before it has a size and a width.
type text struct {
	pieces []fragment
	whole  string
	breaks []lineBreak
}

// textKey tells one paragraph in one choice of faces.
type textKey struct {
	runs                      *prose.Run
	n                         int
	face, bold, italic, label draw.Face
}

// ready makes runs ready to be set. A paragraph is set in several sizes and widths,
// and is the same text in all.
func (l *layer) ready(runs []prose.Run, s style) text {
	key := textKey{&runs[0], len(runs), s.face, s.bold, s.italic, s.label}
	if out, ok := l.texts[key]; ok {
		return out
	}
	var out text
	at := 0
	for _, r := range runs {
		if t := l.settable(r, s.faceOf(r)); t != "" {
			out.pieces = append(out.pieces, fragment{t, s.faceOf(r), r.Link, at, r.Quiet})
			at += len(t)
		}
	}
	if len(out.pieces) == 1 {
		out.whole = out.pieces[0].text // mostly the book's own
	} else {
		var whole strings.Builder
		whole.Grow(at)
		for _, p := range out.pieces {
			whole.WriteString(p.text)
		}
		out.whole = whole.String()
	}
	out.breaks = breaks(out.whole)
	l.texts[key] = out
	return out
}

func (l *layer) breakLines(runs []prose.Run, s style, width float64) []line {
	return l.breakText(l.ready(runs, s), s, width)
}

// flowed sets groups of runs as one paragraph, a space between each two. Each group
// keeps what was found of it: a paragraph is tried with more of them and with fewer.
func (l *layer) flowed(groups [][]prose.Run, s style, x, width float64) []box {
	return stacked(l.breakText(l.run(groups, s), s, width), l.baseline(s), s, x, 0)
}

// flow is the height of [layer.flowed].
func (l *layer) flow(groups [][]prose.Run, s style, width float64) float64 {
	n := 0
	l.eachLine(l.run(groups, s), s, width, func([]fragment) { n++ })
	return float64(n) * mm(s.leading)
}

// run is groups of runs as one text.
func (l *layer) run(groups [][]prose.Run, s style) text {
	var out text
	for _, g := range groups {
		t := l.ready(g, s)
		if t.whole == "" {
			continue
		}
		if out.whole != "" {
			// The space is the last thing on its line: a line may end after it.
			out.breaks[len(out.breaks)-1] = lineBreak{at: len(out.whole) + 1}
			last := &out.pieces[len(out.pieces)-1]
			last.text += " "
			out.whole += " "
		}
		at := len(out.whole)
		for _, p := range t.pieces {
			p.at += at
			out.pieces = append(out.pieces, p)
		}
		for _, b := range t.breaks {
			b.at += at
			out.breaks = append(out.breaks, b)
		}
		out.whole += t.whole
	}
	return out
}

func (l *layer) breakText(t text, s style, width float64) []line {
	var out []line
	l.eachLine(t, s, width, func(current []fragment) {
		out = append(out, l.setLine(trimmed(current[:0], current), s))
	})
	return out
}

// eachLine gives the lines of a text one by one, not yet set.
func (l *layer) eachLine(t text, s style, width float64, line func([]fragment)) {
	whole, pieces, breaks := t.whole, t.pieces, t.breaks
	var current []fragment
	used := 0.0
	flush := func() {
		line(current)
		current, used = current[:0], 0
	}
	var parts, bare []fragment
	at := 0
	for i := 0; i < len(breaks); i++ {
		b := breaks[i]
		parts = cut(parts[:0], pieces, at, b.at)
		// A hyphenated epithet such as novae-angliae stays on one line, and so
		// does the part of an address that holds a hyphen.
		for n := len(parts); !b.must && i+1 < len(breaks) && whole[b.at-1] == '-' && (parts[n-1].face == s.italic || outside(parts[n-1].link)); n = len(parts) {
			i++
			b = breaks[i]
			parts = cut(parts[:0], pieces, at, b.at)
		}
		at = b.at
		full := l.width(parts, s)
		w := full
		if used+w > width { // without the space at its end it may fit
			bare = trimmed(bare[:0], parts)
			w = l.width(bare, s)
		}
		if used > 0 && used+w > width {
			flush()
		}
		if w > width {
			// Fill the rest of the line letter by letter.
			for _, p := range parts {
				g := uniseg.NewGraphemes(p.text)
				for g.Next() {
					from, to := g.Positions()
					letter := fragment{p.text[from:to], p.face, p.link, p.at + from, p.quiet}
					lw := l.width([]fragment{letter}, s)
					if used > 0 && used+lw > width && strings.TrimSpace(letter.text) != "" {
						flush()
					}
					current = appendFragment(current, letter, whole)
					used += lw
				}
			}
		} else {
			for _, p := range parts {
				current = appendFragment(current, p, whole)
			}
			used += full
		}
		if b.must && i+1 < len(breaks) {
			flush()
		}
	}
	if len(current) > 0 {
		flush()
	}
}

// lineBreak is a place where a line may end, or must.
type lineBreak struct {
	at   int // bytes of the text before it
	must bool
}

// breaks finds where the lines of a text may end; the last is the text's end.
func breaks(text string) []lineBreak {
	out := make([]lineBreak, 0, len(text)/5+1) // words have five letters
	for state, rest := -1, text; len(rest) > 0; {
		var b lineBreak
		_, rest, b.must, state = uniseg.FirstLineSegmentInString(rest, state)
		b.at = len(text) - len(rest)
		out = append(out, b)
	}
	return out
}

// outside tells a link that leads out of the booklet.
func outside(link string) bool { return link != "" && !strings.HasPrefix(link, "#") }

// cut adds the pieces between two bytes of the paragraph.
func cut(out, pieces []fragment, from, to int) []fragment {
	at := 0
	for _, p := range pieces {
		a, b := max(from-at, 0), min(to-at, len(p.text))
		if a < b {
			out = append(out, fragment{p.text[a:b], p.face, p.link, p.at + a, p.quiet})
		}
		at += len(p.text)
	}
	return out
}

// appendFragment adds the piece of a text that follows the others.
func appendFragment(ps []fragment, p fragment, text string) []fragment {
	if n := len(ps); n > 0 && ps[n-1].face == p.face && ps[n-1].link == p.link && ps[n-1].quiet == p.quiet {
		ps[n-1].text = text[ps[n-1].at : p.at+len(p.text)]
		return ps
	}
	return append(ps, p)
}

// trimmed adds pieces without the spaces at a line's end, which have no width
// there.
func trimmed(out, ps []fragment) []fragment {
	out = append(out, ps...)
	for n := len(out); n > 0; n = len(out) {
		t := strings.TrimRight(out[n-1].text, " ")
		if t != "" {
			out[n-1].text = t
			break
		}
		out = out[:n-1]
	}
	return out
}

// smallCapital is the size of a capital that stands for a small one, as a part of
// the type size: about the height of small letters with room to be read.
const smallCapital = 0.8

// sizeOf is the size in which a style sets a face. One for selling names that
// has no small capitals of its own sets capitals smaller.
func (l *layer) sizeOf(p fragment, s style) float64 {
	size := s.size
	if p.quiet {
		size = s.small
	}
	if p.face == draw.SmallCaps && !l.theme.Face(p.face).SmallCapitals {
		return size * smallCapital
	}
	return size
}

func (l *layer) width(ps []fragment, s style) float64 {
	w := 0.0
	for _, p := range ps {
		w += l.theme.Face(p.face).Width(p.text, l.sizeOf(p, s))
	}
	return w
}

// word sets a few words of the book on one line, without what their face has no letter
// for.
func (l *layer) word(said string, face draw.Face, s style) line {
	return l.setLine([]fragment{{text: l.settable(prose.Run{Text: said}, face), face: face}}, s)
}

// setLine places each piece at its own x, parted where the font moves two
// letters together, since a PDF viewer knows no kerning.
func (l *layer) setLine(ps []fragment, s style) line {
	var out line
	for _, p := range ps {
		from := out.width
		face, size, color := l.theme.Face(p.face), l.sizeOf(p, s), s.color
		if p.quiet {
			color = s.quiet
		}
		for _, part := range kernedParts(face, p.text) {
			w := face.Width(part.text, size)
			out.width += mm(part.kern * size)
			out.items = append(out.items, Text{String: part.text, X: out.width, W: w, Size: float32(size), Face: p.face, Color: color})
			out.width += w
		}
		if p.link != "" {
			link := Link{X: from, Y: -mm(s.size) * ascent, W: out.width - from, H: mm(s.leading)}
			if id, ok := strings.CutPrefix(p.link, "#"); ok {
				link.Target = id
			} else {
				link.URL = p.link
			}
			out.items = append(out.items, link)
		}
	}
	return out
}

// kernedPart is text that needs no kerning within, and by how much, in ems, it
// moves from its place after what stands before it.
type kernedPart struct {
	kern float64
	text string
}

// kernedParts parts text where the font kerns two letters.
func kernedParts(face *theme.Face, text string) []kernedPart {
	parts := []kernedPart{{text: text}}
	var before rune
	start := 0
	for i, r := range text {
		if k := face.Kern(before, r); k != 0 {
			last := &parts[len(parts)-1]
			last.text = text[start:i]
			parts = append(parts, kernedPart{kern: k, text: text[i:]})
			start = i
		}
		before = r
	}
	return parts
}

// ascent is how far a line's letters reach above its baseline, as a part of
// the type size: the ascender of Go Regular and DejaVu Serif is under 0.95.
const ascent = 0.95

// measured is what no line break may part from the number before it.
var measured = regexp.MustCompile(`^(?:mm|cm|m|m²|°C|°F|in|ft|L|litres|min|h|plants?|bulbs|days?|weeks?|months?|years?|minutes|hours)\b`)

// bound gives a text whose numbers stay with their units.
func bound(text string) string {
	var out strings.Builder
	from := 0
	for i := 1; i < len(text); i++ {
		if text[i] == ' ' && text[i-1] >= '0' && text[i-1] <= '9' && measured.MatchString(text[i+1:]) {
			out.WriteString(text[from:i] + "\u00a0")
			from = i + 1
		}
	}
	if from == 0 {
		return text
	}
	return out.String() + text[from:]
}

// settable gives the text a face can set: composed (NFC), without soft
// hyphens, and without characters the face has no glyph for, each of which is
// told once.
func (l *layer) settable(r prose.Run, role draw.Face) string {
	text := bound(norm.NFC.String(r.Text))
	face := l.theme.Face(role)
	if role == draw.SmallCaps && face.SmallCapitals {
		// Selling names come in capitals; in that face the small letters are the
		// small capitals.
		text = strings.ToLower(text)
	}
	return strings.Map(func(c rune) rune {
		switch {
		case c == '\u00ad':
			return -1
		case c == '\u202f' || c == '\u2009':
			return '\u00a0'
		case face.Has(c):
			return c
		}
		l.missing(c, face)
		return -1
	}, text)
}
