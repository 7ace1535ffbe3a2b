// Package fields reads YAML in which every key and value knows where it was
// written: the front matter of entries, groups, jobs, pages and regions, and
// whole files such as a garden or a theme.
//
// A caller opens a file with [Front] or [Whole], asks the resulting [Map] for
// the keys it knows and calls [Map.Done], which reports every key nobody asked
// for. Faults collect in the document and are fetched once with
// [Map.Diagnostics]. It is the only importer of a YAML or front matter library.
package fields

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/adrg/frontmatter"
	"go.yaml.in/yaml/v4"

	"sheaf/generator/source"
)

// largest is more YAML than any honest file here holds; the longest entry of
// the shipped library has about 4 KB.
const largest = 1 << 20

// Limits of what stands in the YAML: a megabyte of it can hold half a million
// values, and everything after this package would take each of them up.
const (
	deepest    = 10    // maps and lists within each other; honest files have 4
	mostItems  = 2000  // in one list or map: a garden written in one file
	mostValues = 30000 // in all: 2000 plants with all their keys
	// longest is a value's bytes: names are printed with every task, sentences
	// have 300.
	longest = 2000
	// mostFaults is how many are told of one file.
	mostFaults = 2000
)

// document is what all maps of one file share.
type document struct {
	file  *source.File
	kind  string // first half of diagnostic codes: "entry", "garden", …
	lines []int  // byte offset at which each line of the file begins
	first int    // lines of the file before the YAML's own first line
	last  spot   // the place that was asked for before
	found source.Diagnostics
}

// A spot is where a line and column of the YAML lie in the file.
type spot struct{ line, column, at int }

// A Map is a YAML mapping. A nil Map is empty and silent, so that callers can
// go on after a fault and find the next.
type Map struct {
	doc   *document
	span  source.Span
	pairs []pair
	lost  bool // the file could not be read: what is missing is not told as well
}

type pair struct {
	key   source.At[string]
	node  *yaml.Node
	asked bool
	told  bool // that it must have a value and has none
}

// blank tells a key that is written and waits for its value.
func (p *pair) blank() bool {
	return p.node != nil && p.node.Kind == yaml.ScalarNode && p.node.Tag == "!!null"
}

// Front reads the front matter of a Markdown file. The second result is the
// byte at which the body begins. kind starts the codes of diagnostics.
func Front(f *source.File, kind string) (*Map, int) {
	doc := newDocument(f, kind)
	text := bytes.TrimPrefix(f.Text, []byte("\ufeff"))
	if !doc.readable(text) {
		return doc.empty(), len(f.Text)
	}
	var node yaml.Node
	closed := false
	format := frontmatter.NewFormat("---", "---", func(data []byte, v any) error {
		closed = true
		return yaml.Unmarshal(data, v)
	})
	for line := range bytes.Lines(text) {
		doc.first++
		if len(bytes.TrimSpace(line)) > 0 {
			break
		}
	}
	rest, err := frontmatter.MustParse(bytes.NewReader(text), &node, format)
	switch {
	case errors.Is(err, frontmatter.ErrNotFound):
		hint := "begin the file with a line --- , then the keys, then a line ---"
		if bytes.HasPrefix(bytes.TrimSpace(text), []byte("---")) {
			hint = "close the front matter with a line ---"
		}
		doc.fail(source.Whole(f), "no-front-matter", "no front matter found", hint)
		return doc.empty(), len(f.Text)
	case err != nil && closed:
		doc.syntax(err)
		return doc.empty(), len(f.Text)
	case err != nil:
		doc.fail(source.Whole(f), "no-front-matter", "front matter cannot be read: "+err.Error())
		return doc.empty(), len(f.Text)
	}
	return doc.root(&node), len(f.Text) - len(rest)
}

// Whole reads a file that is YAML from its first line to its last.
func Whole(f *source.File, kind string) *Map {
	doc := newDocument(f, kind)
	text := bytes.TrimPrefix(f.Text, []byte("\ufeff"))
	if !doc.readable(text) {
		return doc.empty()
	}
	var node, more yaml.Node
	d := yaml.NewDecoder(bytes.NewReader(text))
	err := d.Decode(&node)
	if err == nil {
		if err = d.Decode(&more); err == nil { // it would be lost without a word
			doc.fail(doc.span(&more), "yaml", "a second document begins here, and a file holds one", "take out the line --- or ... above it")
			return doc.empty()
		}
	}
	if !errors.Is(err, io.EOF) {
		doc.syntax(err)
		return doc.empty()
	}
	return doc.root(&node)
}

func newDocument(f *source.File, kind string) *document {
	doc := &document{file: f, kind: kind, lines: []int{0}}
	for i, b := range f.Text {
		if b == '\n' {
			doc.lines = append(doc.lines, i+1)
		}
	}
	return doc
}

func (doc *document) readable(text []byte) bool {
	if len(text) > largest {
		doc.fail(source.Whole(doc.file), "too-large", fmt.Sprintf("the file is larger than %d bytes, and no more is read", largest), "keep in it what is meant to be read, and nothing else")
		return false
	}
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRune(text[i:])
		if r == utf8.RuneError && n < 2 {
			at := len(doc.file.Text) - len(text) + i
			doc.fail(source.Span{File: doc.file, Start: at, End: at + 1}, "encoding", "the file is not UTF-8 text", "save it as UTF-8")
			return false
		}
		i += n
	}
	return true
}

// add reports a fault, unless there are too many.
func (doc *document) add(severity source.Severity, code string, span source.Span, message string, hints ...string) *source.Diagnostic {
	switch n := len(doc.found); {
	case n == mostFaults:
		doc.found.Add(source.Error, doc.kind+"/too-many", span, fmt.Sprintf("more than %d faults; those after them are not told", mostFaults))
		fallthrough
	case n > mostFaults:
		return new(source.Diagnostic)
	}
	return doc.found.Add(severity, doc.kind+"/"+code, span, message, hints...)
}

func (doc *document) empty() *Map { return &Map{doc: doc, span: source.Whole(doc.file), lost: true} }

func (doc *document) fail(span source.Span, code, message string, hints ...string) {
	doc.add(source.Error, code, span, message, hints...)
}

// syntax reports what the YAML parser found, at the file's own line.
func (doc *document) syntax(err error) {
	var many *yaml.LoadErrors
	var one *yaml.LoadError
	switch {
	case errors.As(err, &many) && len(many.Errors) > 0:
		one = many.Errors[0]
	case errors.As(err, &one):
	default:
		doc.fail(source.Whole(doc.file), "yaml", "not YAML: "+err.Error())
		return
	}
	span := doc.at(max(one.Mark.Line, 1), max(one.Mark.Column, 1))
	doc.fail(span, "yaml", "not YAML here: "+trimYAML(one.Error()),
		"quote a value that holds \": \" or begins with one of # @ ` % & * ! | > { [ ' \"")
}

var yamlPlace = regexp.MustCompile(`(?i)^(yaml: |go-yaml |load error[^:]*: |while [^:]*: )+|(in "<[^"]*>", )?\(?(at )?line \d+(, column \d+)?[:)]?\s*`)

// trimYAML drops the parser's own idea of the place, which counts from the
// block and not from the file.
func trimYAML(s string) string {
	return strings.TrimSpace(yamlPlace.ReplaceAllString(s, ""))
}

// at turns a line and column of the YAML, both from 1 and in characters, into
// a place in the file: the one spot where that is done.
func (doc *document) at(line, column int) source.Span {
	line += doc.first - 1
	if line >= len(doc.lines) {
		end := len(doc.file.Text)
		return source.Span{File: doc.file, Start: end, End: end}
	}
	// From the last place on that line, onwards or back: a file of one long line
	// would else be walked through from its start for each value.
	from := doc.last
	if from.line != line || from.column == 0 {
		from = spot{line: line, column: 1, at: doc.lines[line]}
		if from.at == 0 && bytes.HasPrefix(doc.file.Text, []byte("\ufeff")) {
			from.at += len("\ufeff")
		}
	}
	text := doc.file.Text
	for ; from.column < column && from.at < len(text) && text[from.at] != '\n'; from.column++ {
		_, n := utf8.DecodeRune(text[from.at:])
		from.at += n
	}
	for ; from.column > column; from.column-- {
		_, n := utf8.DecodeLastRune(text[:from.at])
		from.at -= n
	}
	doc.last = from
	return source.Span{File: doc.file, Start: from.at, End: from.at}
}

// endOf gives the end of a line of the file, without its own mark.
func (doc *document) endOf(at int) int {
	line, found := slices.BinarySearch(doc.lines, at)
	if found {
		line++
	}
	if line == len(doc.lines) {
		return len(doc.file.Text)
	}
	return doc.lines[line] - 1
}

// span is the written form of a node: for a scalar its text without quotes
// where that text is the value, so that offsets in the value are offsets in
// the file.
func (doc *document) span(n *yaml.Node) source.Span {
	s := doc.at(max(n.Line, 1), max(n.Column, 1))
	rest := doc.file.Text[s.Start:]
	if n.Kind == yaml.ScalarNode {
		inner := rest
		if n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) != 0 && len(rest) > 0 {
			inner = rest[1:]
		}
		if bytes.HasPrefix(inner, []byte(n.Value)) {
			s.Start += len(rest) - len(inner)
			s.End = s.Start + len(n.Value)
			return s
		}
	}
	s.End = s.Start + len(bytes.TrimRight(rest[:doc.endOf(s.Start)-s.Start], " \r\t"))
	return s
}

func (doc *document) root(n *yaml.Node) *Map {
	if n.Kind == yaml.DocumentNode && len(n.Content) == 1 {
		n = n.Content[0]
	}
	if n.Kind == 0 || n.Kind == yaml.DocumentNode {
		doc.fail(source.Whole(doc.file), "empty", "nothing is written here", "write each key with its value on a line of its own, as name: value")
		return doc.empty()
	}
	if !doc.modest(n, 1, new(int)) {
		return doc.empty()
	}
	return doc.mapping(n)
}

// modest tells whether the YAML keeps to its limits; values counts on.
func (doc *document) modest(n *yaml.Node, depth int, values *int) bool {
	items := len(n.Content)
	if n.Kind == yaml.MappingNode {
		items /= 2
	}
	*values++
	switch {
	case depth > deepest && items > 0:
		doc.fail(doc.span(n), "too-large", fmt.Sprintf("lists and keys stand in each other more than %d deep", deepest))
	case items > mostItems:
		hint := ""
		if doc.kind == "garden" {
			hint = "keep a long plant list in a file of its own: plants: plants.csv"
		}
		doc.fail(doc.span(n), "too-large", fmt.Sprintf("there are %d items here; at most %d are read", items, mostItems), hint)
	case len(n.Value) > longest:
		doc.fail(doc.span(n), "too-large", fmt.Sprintf("there are %d letters here; at most %d are read", len(n.Value), longest))
	case *values > mostValues:
		doc.fail(doc.span(n), "too-large", fmt.Sprintf("the file holds more than %d values", mostValues))
	default:
		return !slices.ContainsFunc(n.Content, func(c *yaml.Node) bool { return !doc.modest(c, depth+1, values) })
	}
	return false
}

func (doc *document) mapping(n *yaml.Node) *Map {
	m := &Map{doc: doc, span: doc.span(n)}
	if n.Kind != yaml.MappingNode {
		m.lost = true
		doc.fail(m.span, "type", "expected keys and values here, found "+kindWord(n))
		return m
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		key := source.At[string]{Value: k.Value, Span: doc.span(k)}
		if k.Kind != yaml.ScalarNode {
			doc.fail(key.Span, "type", "a key must be plain text, found "+kindWord(k))
			continue
		}
		if j := slices.IndexFunc(m.pairs, func(p pair) bool { return p.key.Value == key.Value }); j >= 0 {
			doc.add(source.Error, "duplicate-key", key.Span, fmt.Sprintf("key %q is written twice", key.Value), "keep one of the two").
				Related = []source.At[string]{{Value: "first written here", Span: m.pairs[j].key.Span}}
			continue
		}
		m.pairs = append(m.pairs, pair{key: key, node: v})
	}
	return m
}

// kindWord names what stands where something else was expected. Aliases have
// no other use here, so a few bytes of them never stand for gigabytes.
func kindWord(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "keys and values"
	case yaml.SequenceNode:
		return "a list"
	case yaml.AliasNode:
		return "an alias, which is not used here"
	}
	if n.Tag == "!!null" {
		return "nothing"
	}
	return strconv.Quote(short(n.Value))
}

func short(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}

// Diagnostics is everything found so far in the whole file.
func (m *Map) Diagnostics() source.Diagnostics { return m.doc.found }

// Span is where the map is written.
func (m *Map) Span() source.Span { return m.span }

// Key is where a key is written; the map's own place if it is not there.
func (m *Map) Key(key string) source.Span {
	for i := range m.pairs {
		if m.pairs[i].key.Value == key && m.pairs[i].node != nil {
			return m.pairs[i].key.Span
		}
	}
	return m.span
}

// Fail adds an error of the caller's own; code is the part after the kind.
func (m *Map) Fail(span source.Span, code, message string, hints ...string) {
	m.doc.fail(span, code, message, hints...)
}

// Warn adds a warning of the caller's own.
func (m *Map) Warn(span source.Span, code, message string, hints ...string) {
	m.doc.add(source.Warning, code, span, message, hints...)
}

func (m *Map) get(key string) *yaml.Node {
	if m == nil {
		return nil
	}
	for i := range m.pairs {
		if p := &m.pairs[i]; p.key.Value == key {
			p.asked = true
			if p.blank() {
				return nil // "synonyms:" with nothing after it is as good as absent
			}
			return p.node
		}
	}
	m.pairs = append(m.pairs, pair{key: source.At[string]{Value: key}, asked: true})
	return nil
}

// Has tells whether the key is written with a value.
func (m *Map) Has(key string) bool { return m.get(key) != nil }

// Text gives a key's text: any scalar as it is written.
func (m *Map) Text(key string) (source.At[string], bool) {
	n := m.get(key)
	if n == nil {
		return source.At[string]{}, false
	}
	return m.scalar(n, "text")
}

func (m *Map) scalar(n *yaml.Node, want string) (source.At[string], bool) {
	at := source.At[string]{Value: strings.TrimSpace(n.Value), Span: m.doc.span(n)}
	if n.Kind != yaml.ScalarNode || n.Tag == "!!null" {
		m.doc.fail(at.Span, "type", "expected "+want+", found "+kindWord(n))
		return at, false
	}
	return at, true
}

// Need is Text for a key that must be there.
func (m *Map) Need(key string) (source.At[string], bool) {
	if !m.Has(key) {
		m.Missing(key)
		return source.At[string]{}, false
	}
	return m.Text(key)
}

// Missing reports a key that must be there and is not, unless the map itself
// could not be read: one fault is told once. A key that waits for its value is
// told where it waits.
func (m *Map) Missing(key string, hints ...string) {
	if m == nil || m.lost {
		return
	}
	for i := range m.pairs {
		if p := &m.pairs[i]; p.key.Value == key && p.blank() {
			p.told = true
			m.doc.fail(p.key.Span, "missing-key", fmt.Sprintf("key %q has no value", key), hints...)
			return
		}
	}
	m.doc.fail(m.span, "missing-key", fmt.Sprintf("key %q is missing", key), hints...)
}

// Texts gives a list of texts; one text alone is a list of one.
func (m *Map) Texts(key string) []source.At[string] {
	n := m.get(key)
	if n == nil {
		return nil
	}
	nodes := []*yaml.Node{n}
	if n.Kind == yaml.SequenceNode {
		nodes = n.Content
	}
	var out []source.At[string]
	for _, c := range nodes {
		if t, ok := m.scalar(c, "text"); ok {
			out = append(out, t)
		}
	}
	return out
}

// Choice gives one word out of known; another is an error with the nearest.
func (m *Map) Choice(key string, known []string) (source.At[string], bool) {
	t, ok := m.Text(key)
	return t, ok && m.known(key, t, known)
}

// Choices gives a list of words out of known, each once.
func (m *Map) Choices(key string, known []string) []source.At[string] {
	var out []source.At[string]
	for _, t := range m.Texts(key) {
		if m.known(key, t, known) && !slices.ContainsFunc(out, func(o source.At[string]) bool { return o.Value == t.Value }) {
			out = append(out, t)
		}
	}
	return out
}

func (m *Map) known(key string, t source.At[string], known []string) bool {
	if slices.Contains(known, t.Value) {
		return true
	}
	m.doc.fail(t.Span, "unknown-value", fmt.Sprintf("%q is not a value of %q", short(t.Value), key), source.Mean(t.Value, known))
	return false
}

// Number gives a key's number.
func (m *Map) Number(key string) (source.At[float64], bool) {
	t, ok := m.Text(key)
	if !ok {
		return source.At[float64]{}, false
	}
	return m.number(t)
}

func (m *Map) number(t source.At[string]) (source.At[float64], bool) {
	v, err := strconv.ParseFloat(strings.Replace(t.Value, "−", "-", 1), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		m.doc.fail(t.Span, "type", fmt.Sprintf("expected a number, found %q", short(t.Value)))
		return source.At[float64]{Span: t.Span}, false
	}
	return source.At[float64]{Value: v, Span: t.Span}, true
}

// Numbers gives a list of numbers.
func (m *Map) Numbers(key string) []source.At[float64] {
	var out []source.At[float64]
	for _, t := range m.Texts(key) {
		if v, ok := m.number(t); ok {
			out = append(out, v)
		}
	}
	return out
}

// Flag gives true or false.
func (m *Map) Flag(key string) bool {
	t, ok := m.Choice(key, []string{"true", "false"})
	return ok && t.Value == "true"
}

// Map gives the map under a key, nil when it is not there.
func (m *Map) Map(key string) *Map {
	n := m.get(key)
	if n == nil {
		return nil
	}
	return m.doc.mapping(n)
}

// Maps gives a list of maps.
func (m *Map) Maps(key string) []*Map {
	n := m.get(key)
	if n == nil {
		return nil
	}
	if n.Kind != yaml.SequenceNode {
		m.doc.fail(m.doc.span(n), "type", fmt.Sprintf("expected a list under %q, found %s", key, kindWord(n)), "begin each item with \"- \"")
		return nil
	}
	var out []*Map
	for _, c := range n.Content {
		out = append(out, m.doc.mapping(c))
	}
	return out
}

// List is Maps for a key that may hold something else than a list; the second
// result tells whether it is one.
func (m *Map) List(key string) ([]*Map, bool) {
	n := m.get(key)
	if n == nil || n.Kind != yaml.SequenceNode {
		return nil, false
	}
	return m.Maps(key), true
}

// A Pair is a key of a map whose keys are the writer's own.
type Pair struct{ Key, Value source.At[string] }

// Pairs gives all keys with their texts, in the order written.
func (m *Map) Pairs() []Pair {
	if m == nil {
		return nil
	}
	var out []Pair
	for i := range m.pairs {
		p := &m.pairs[i]
		if p.node == nil {
			continue
		}
		p.asked = true
		if t, ok := m.scalar(p.node, "text"); ok {
			out = append(out, Pair{p.key, t})
		}
	}
	return out
}

// Keys gives the keys that are written with a value, in their order.
func (m *Map) Keys() []source.At[string] {
	if m == nil {
		return nil
	}
	var out []source.At[string]
	for i := range m.pairs {
		if p := &m.pairs[i]; p.node != nil && !p.blank() {
			out = append(out, p.key)
		}
	}
	return out
}

// A Form is what stands under a key.
type Form uint8

const (
	None Form = iota
	Scalar
	Sequence
	Mapping
)

// Form tells what stands under a key, for one that may hold one thing or
// another.
func (m *Map) Form(key string) Form {
	n := m.get(key)
	switch {
	case n == nil:
		return None
	case n.Kind == yaml.SequenceNode:
		return Sequence
	case n.Kind == yaml.MappingNode:
		return Mapping
	}
	return Scalar
}

// Done reports every key that is written and was never asked for, and notes
// every one that still waits for a value.
func (m *Map) Done() {
	if m == nil {
		return
	}
	var known []string
	for _, p := range m.pairs {
		if p.asked {
			known = append(known, p.key.Value)
		}
	}
	for _, p := range m.pairs {
		switch {
		case !p.asked:
			m.doc.fail(p.key.Span, "unknown-key", fmt.Sprintf("unknown key %q", short(p.key.Value)), source.Mean(p.key.Value, known))
		case p.blank() && !p.told:
			m.doc.add(source.Note, "no-value", p.key.Span, fmt.Sprintf("key %q has no value yet", p.key.Value))
		}
	}
}
