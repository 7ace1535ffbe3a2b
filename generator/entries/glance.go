package entries

import (
	"bytes"
	"strings"
	"sync"
	"unicode/utf8"

	"sheaf/generator/names"
	"sheaf/generator/prose"
	"sheaf/generator/source"
)

// A garden has sixty plants and the shipped library many hundreds: what an entry
// says beyond its names is read only of those that are planted. Reading the names
// of 1,500 entries so takes 20 ms, and the whole of them 200.

// Glance reads the names of an entry, whom it serves and what it can do to people,
// in front matter as simple as the shipped library's: a key and its value on one
// line, or a list in square brackets. It is false, and the file must be parsed, where
// anything else stands there; what it gives is then filled by [Library.Fill]. Faults
// are not told: those of shipped entries are found by the tests.
func Glance(f *source.File) (*Entry, bool) {
	g := glance{file: f, text: f.Text}
	if !g.open() {
		return nil, false
	}
	e := &Entry{File: f, glanced: true, reading: new(sync.Once)}
	for g.next() {
		switch g.key {
		case "botanical":
			t, ok := g.scalar()
			n, repairs, err := names.Parse(t.Value)
			if !ok || err != nil || repairs != nil {
				return nil, false
			}
			e.Name = source.At[names.Name]{Value: n, Span: t.Span}
			e.ID = n.Slug()
		case "cultivars":
			list, ok := g.list()
			if !ok {
				return nil, false
			}
			e.cultivars = list
		case "common", "hazards", "synonyms", "except":
			list, ok := g.list()
			if !ok || !e.glanceList(g.key, list) {
				return nil, false
			}
		case "serves", "type", "contributor", "photo", "tags":
			t, ok := g.scalar()
			if !ok || g.key != "serves" && g.key != "type" {
				return nil, false
			}
			if g.key == "type" {
				e.Type = t.Value
			} else {
				e.Serves = t
			}
		}
	}
	return e, g.closed && e.Name.Span.File != nil
}

// glanceList takes a list of names or words.
func (e *Entry) glanceList(key string, list []source.At[string]) bool {
	for _, t := range list {
		switch key {
		case "common":
			e.Common = append(e.Common, prose.Sentence(t.Value))
			continue
		case "hazards":
			e.Hazards = append(e.Hazards, t)
			continue
		}
		n, repairs, err := names.Parse(t.Value)
		if err != nil || repairs != nil {
			return false
		}
		at := source.At[names.Name]{Value: n, Span: t.Span}
		if key == "synonyms" {
			e.Synonyms = append(e.Synonyms, at)
		} else {
			e.Except = append(e.Except, at)
		}
	}
	return true
}

// ReadCultivars reads the cultivars of an entry that was glanced at: they are half of
// a library's names, and a list asks for those of its own genera alone. It may be
// called by several at a time.
func (e *Entry) ReadCultivars() {
	if e.reading == nil {
		return
	}
	e.reading.Do(func() {
		for _, t := range e.cultivars {
			if n, ok := e.cultivarNamed(t.Value); ok {
				e.Cultivars = append(e.Cultivars, source.At[names.Name]{Value: n, Span: t.Span})
			}
		}
	})
}

// A glance goes through the lines of front matter.
type glance struct {
	file   *source.File
	text   []byte
	at     int // of the next line
	key    string
	from   int // where the value begins
	to     int // and the line ends
	closed bool
}

var fence = []byte("---\n")

func (g *glance) open() bool {
	g.at = len(fence)
	return bytes.HasPrefix(g.text, fence) && utf8.Valid(g.text)
}

// next finds the next key of the front matter itself; lines that belong to the
// value of another are passed over.
func (g *glance) next() bool {
	for g.at < len(g.text) {
		start := g.at
		end := bytes.IndexByte(g.text[start:], '\n')
		if end < 0 {
			return false
		}
		end += start
		g.at = end + 1
		line := g.text[start:end]
		if bytes.Equal(line, fence[:3]) {
			g.closed = true
			return false
		}
		colon := bytes.IndexByte(line, ':')
		if colon <= 0 || line[0] < 'a' || line[0] > 'z' {
			continue
		}
		g.key, g.from, g.to = string(line[:colon]), start+colon+1, end
		return true
	}
	return false
}

// scalar reads the value of the line.
func (g *glance) scalar() (source.At[string], bool) {
	return g.word(g.from, g.to)
}

// word reads one text, quoted or not.
func (g *glance) word(from, to int) (source.At[string], bool) {
	for from < to && g.text[from] == ' ' {
		from++
	}
	for to > from && g.text[to-1] == ' ' {
		to--
	}
	at := source.At[string]{Span: source.Span{File: g.file, Start: from, End: to}}
	if from == to {
		return at, false
	}
	s := string(g.text[from:to])
	switch q := s[0]; {
	case q == '"' || q == '\'':
		inner := strings.TrimSuffix(s[1:], string(q))
		if len(inner) != len(s)-2 || strings.ContainsRune(inner, '\\') {
			return at, false
		}
		if q == '\'' {
			if strings.Contains(strings.ReplaceAll(inner, "''", ""), "'") {
				return at, false
			}
			at.Value = strings.ReplaceAll(inner, "''", "'")
		} else {
			at.Value = inner
			if strings.ContainsRune(inner, '"') {
				return at, false
			}
		}
		at.Span.Start, at.Span.End = from+1, to-1
		return at, true
	case strings.ContainsAny(s[:1], "[]{}&*!|>%@`#"), strings.Contains(s, " #"), strings.Contains(s, ": "):
		return at, false
	}
	at.Value = s
	return at, true
}

// list reads texts in square brackets, on one line or several.
func (g *glance) list() ([]source.At[string], bool) {
	i := g.from
	for i < g.to && g.text[i] == ' ' {
		i++
	}
	if i >= g.to || g.text[i] != '[' {
		return nil, false
	}
	var out []source.At[string]
	start, quote := i+1, byte(0)
	for i++; i < len(g.text); i++ {
		c := g.text[i]
		switch {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case (c == '\'' || c == '"') && blank(g.text[start:i]):
			quote = c
		case c == ',' || c == ']':
			if !blank(g.text[start:i]) {
				from, to := trimmed(g.text, start, i)
				w, ok := g.word(from, to)
				if !ok || bytes.ContainsRune(g.text[from:to], '\n') {
					return nil, false
				}
				out = append(out, w)
			} else if c == ',' {
				return nil, false
			}
			if start = i + 1; c == ']' {
				end := bytes.IndexByte(g.text[i:], '\n')
				if end < 0 {
					return nil, false
				}
				if rest := bytes.TrimSpace(g.text[i+1 : i+end]); len(rest) > 0 && (rest[0] != '#' || g.text[i+1] != ' ') {
					return nil, false
				}
				g.at = i + end + 1
				return out, true
			}
		case c == '[' || c == '{' || c == '#':
			return nil, false
		}
	}
	return nil, false
}

func blank(b []byte) bool { return len(bytes.TrimSpace(b)) == 0 }

// trimmed leaves out the space at both ends.
func trimmed(text []byte, from, to int) (int, int) {
	for from < to && (text[from] == ' ' || text[from] == '\n') {
		from++
	}
	for to > from && (text[to-1] == ' ' || text[to-1] == '\n') {
		to--
	}
	return from, to
}

// Fill reads the whole of entries that were only glanced at, as the library's shelf
// says. It may be called by several at a time.
func (l *Library) Fill(wanted ...*Entry) {
	l.filling.Lock()
	defer l.filling.Unlock()
	var of [][]*Entry // by shelf
	for _, e := range wanted {
		if e == nil || !e.glanced || l.fill == nil {
			continue
		}
		for len(of) <= e.shelf {
			of = append(of, nil)
		}
		if !contains(of[e.shelf], e) {
			of[e.shelf] = append(of[e.shelf], e)
		}
	}
	place, places := reference(), references()
	for shelf, es := range of {
		if len(es) == 0 {
			continue
		}
		var files []*source.File
		for _, e := range es {
			files = append(files, e.File)
		}
		for i, whole := range l.fill[shelf](files) {
			var told source.Diagnostics // found by the tests
			joined := l.joined(whole, place, places, &told)
			joined.shelf = shelf
			*es[i] = *joined
		}
	}
}

func contains(es []*Entry, e *Entry) bool {
	for _, o := range es {
		if o == e {
			return true
		}
	}
	return false
}
