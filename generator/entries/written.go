package entries

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"sheaf/generator/fields"
	"sheaf/generator/measure"
	"sheaf/generator/names"
	"sheaf/generator/site"
	"sheaf/generator/source"
)

// An entry is written out with what its care group brings, as a file to be saved and
// changed. The group itself is left out of it: what stands in the file is then all
// that holds, and a rule that is taken out of it is gone.

// Keys are an entry's front matter, in the order of [EntrySchema].
type Keys []Key

// A Key is one of them. Its value is a text, a list of texts, true, other keys or a
// list of these.
type Key struct {
	Name    string
	Value   any
	comment string // above the item that it begins
}

// MarshalJSON writes keys as an object in their order.
func (ks Keys) MarshalJSON() ([]byte, error) {
	var out bytes.Buffer
	out.WriteByte('{')
	for i, k := range ks {
		if i > 0 {
			out.WriteByte(',')
		}
		for n, part := range []any{k.Name, k.Value} {
			if n == 1 {
				out.WriteByte(':')
			}
			text, err := json.Marshal(part)
			if err != nil {
				return nil, err
			}
			out.Write(text)
		}
	}
	out.WriteByte('}')
	return out.Bytes(), nil
}

// Resolved gives the entry as it is without its care group: the group's rules, what it
// bears and the sources of its care are its own. It must be joined.
func (e *Entry) Resolved() *Entry {
	out := *e
	out.Group, out.GroupName, out.Without = nil, source.At[string]{}, nil
	out.Stands = slices.Compact(slices.Sorted(slices.Values(e.Stands)))
	if e.Group != nil {
		for _, s := range e.Group.Sources {
			if !slices.Contains(out.Sources, s) {
				out.Sources = append(slices.Clip(out.Sources), s)
			}
		}
	}
	return &out
}

// body is the text of the entry's file below the front matter.
func (e *Entry) body() []byte { return bytes.TrimLeft(e.File.Text[e.bodyAt:], "\r\n") }

// BodyText is the entry's text as its file has it, in Markdown.
func (e *Entry) BodyText() string { return string(e.body()) }

// Keys gives the front matter of a joined entry with its group resolved.
func (e *Entry) Keys() Keys {
	r := e.Resolved()
	w := &writer{}
	w.text("botanical", r.Name.Value.Plain())
	w.list("common", r.Common)
	w.list("synonyms", plainNames(r.Synonyms))
	w.text("serves", r.Serves.Value)
	w.list("except", plainNames(r.Except))
	w.list("cultivars", cultivarNames(r))
	if r.Asks != nil {
		w.keys = append(w.keys, Key{Name: "asks", Value: asked(r.Asks)})
	}
	w.text("family", r.Family)
	w.text("type", r.Type)
	w.text("leaf", r.Leaf)
	w.text("growth", r.Growth)
	w.text("habit", r.Habit)
	w.text("flower-head", r.Head)
	w.text("height", lengthText(r.Height))
	w.text("flower-height", lengthText(r.FlowerHeight))
	w.text("spread", lengthText(r.Spread))
	w.window("flowers", r.Flowers)
	w.keys = append(w.keys, Key{Name: "colours", Value: Keys{{Name: "leaf", Value: r.LeafColour.Hex()}, {Name: "flower", Value: r.FlowerColour.Hex()}}})
	w.text("zone", r.Zone.Value.Written)
	w.flag("lifted", r.Lifted)
	w.text("hardy", r.Hardy.Value.Written)
	w.list("light", r.Light)
	w.list("soil", r.Soil)
	if r.Fertility != "" {
		w.keys = append(w.keys, Key{Name: "likes", Value: Keys{{Name: "fertility", Value: r.Fertility}}})
	}
	w.keys = append(w.keys, Key{Name: "hazards", Value: append([]string{}, values(r.Hazards)...)})
	w.list("cautions", r.Cautions)
	w.keys = append(w.keys, Key{Name: "care", Value: e.rulesWritten()})
	var adjust []Keys
	for i := range r.Adjust {
		adjust = append(adjust, adjustWritten(&r.Adjust[i]))
	}
	if adjust != nil {
		w.keys = append(w.keys, Key{Name: "adjust", Value: adjust})
	}
	w.list("stands", r.Stands)
	w.list("sources", r.Sources)
	w.text("contributor", r.Contributor)
	w.list("tags", values(r.Tags))
	if p := r.Photo; p != nil {
		in := &writer{}
		in.text("file", p.File.Value)
		in.text("alt", p.Alt)
		in.text("credit", p.Credit)
		w.keys = append(w.keys, Key{Name: "photo", Value: in.keys})
	}
	return w.keys
}

// A writer collects the keys that have a value.
type writer struct{ keys Keys }

func (w *writer) text(name, value string) {
	if value != "" {
		w.keys = append(w.keys, Key{Name: name, Value: value})
	}
}

func (w *writer) list(name string, values []string) {
	if len(values) > 0 {
		w.keys = append(w.keys, Key{Name: name, Value: values})
	}
}

func (w *writer) flag(name string, value bool) {
	if value {
		w.keys = append(w.keys, Key{Name: name, Value: true})
	}
}

func (w *writer) window(name string, v source.At[site.Window]) {
	if !v.Value.IsZero() {
		w.text(name, v.Value.String())
	}
}

func (w *writer) leave(l measure.Leave) {
	if !l.Length.IsZero() {
		w.text("leave", lengthText(l.Length))
		return
	}
	w.text("leave", l.Words)
}

func (w *writer) counted(name, form string, n int) {
	if n > 0 {
		w.text(name, fmt.Sprintf(form, n))
	}
}

func plainNames(ns []source.At[names.Name]) []string {
	var out []string
	for _, n := range ns {
		out = append(out, n.Value.Plain())
	}
	return out
}

// cultivarNames are written without their genus, as an entry has them.
func cultivarNames(e *Entry) []string {
	var out []string
	for _, c := range e.Cultivars {
		text := strings.TrimPrefix(c.Value.Plain(), e.Name.Value.Genus+" ")
		if plain := strings.Trim(text, "'"); plain != text {
			if n, ok := e.cultivarNamed(plain); ok && n == c.Value {
				text = plain
			}
		}
		out = append(out, text)
	}
	return out
}

func asked(q *Question) Keys {
	var answers []Keys
	for _, a := range q.Answers {
		answers = append(answers, Keys{{Name: "answer", Value: a.Text}, {Name: "care", Value: a.Care.Value}})
	}
	return Keys{{Name: "question", Value: q.Text}, {Name: "answers", Value: answers}}
}

// lengthText writes a length so that it is read as the same one.
func lengthText(l measure.Length) string {
	if l.IsZero() {
		return ""
	}
	if text := plain(l.Print(measure.Metric)); sameLength(text, l) {
		return text
	}
	if l.Low == l.High {
		return figure(l.Low) + " cm"
	}
	return figure(l.Low) + " to " + figure(l.High) + " cm"
}

// figure writes a number so that it is read as the same one.
func figure(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func sameLength(text string, l measure.Length) bool {
	read, err := measure.ParseLength(text)
	return err == nil && read == l
}

// rulesWritten are the rules with where each comes from.
func (e *Entry) rulesWritten() []Keys {
	out := make([]Keys, 0, len(e.Rules))
	used := map[int]bool{}
	for i := range e.Rules {
		r := &e.Rules[i]
		w := &writer{}
		w.text("job", r.Job.Value)
		w.window("when", r.When)
		w.leave(r.Leave.Value)
		w.text("look-for", r.LookFor)
		w.text("how", r.How)
		w.text("why", r.Why)
		w.text("if-missed", r.IfMissed)
		w.text("stop-if", r.StopIf)
		w.text("postpone-if", r.WaitIf)
		w.list("tools", r.Tools)
		var never []string
		for _, n := range r.Never {
			never = append(never, n.Value.String())
		}
		w.list("never", never)
		w.counted("not-before", "year %d", r.NotBefore)
		w.counted("only", "year %d", r.Only)
		w.text("every", yearly(r.Every))
		w.text("needs", r.Needs)
		if m := r.Minutes; m != (measure.Minutes{}) {
			text := figure(m.Low)
			if m.High != m.Low {
				text += " to " + figure(m.High)
			}
			w.text("minutes", text)
		}
		w.flag("hard", r.Hard)
		w.list("pests", values(r.Pests))
		w.list("cautions", r.Cautions)
		w.keys[0].comment = e.origin(r, used)
		out = append(out, w.keys)
	}
	return out
}

func yearly(n int) string {
	switch n {
	case 0:
		return ""
	case 1:
		return "1 year"
	}
	return fmt.Sprintf("%d years", n)
}

// origin tells where a rule is written: in the entry, in its care group, or there with
// the entry's laid over it.
func (e *Entry) origin(r *Rule, used map[int]bool) string {
	where := func(s source.Span) string { return fmt.Sprintf("%s:%d", s.File.Path, s.Pos().Line) }
	if e.Group == nil {
		return "from " + where(r.Span)
	}
	if r.Span.File == e.Group.File {
		for i, g := range e.Group.Rules {
			if g.Span == r.Span {
				used[i] = true
			}
		}
		return "from the care group, " + where(r.Span)
	}
	for i, g := range e.Group.Rules {
		if !used[i] && g.Job.Value == r.Job.Value {
			used[i] = true
			return "from " + where(r.Span) + ", over " + where(g.Span)
		}
	}
	return "from " + where(r.Span)
}

func adjustWritten(a *Adjust) Keys {
	w := &writer{}
	w.text("if", a.If)
	w.text("job", a.Job.Value)
	w.leave(a.Leave.Value)
	w.window("when", a.When)
	w.text("note", a.Note)
	w.flag("skip", a.Skip)
	return w.keys
}

// Write writes a joined entry, its care group resolved, as one Markdown file.
func (e *Entry) Write() []byte {
	var out strings.Builder
	out.WriteString("---\n")
	remark := e.File.Path + " as it is read. In the plants folder of a garden this file stands in its place."
	if e.Group != nil {
		remark = fmt.Sprintf("%s with the rules of its care group, %s (%s), written out: this file names no care group, and what it says is all that holds. In the plants folder of a garden it stands in place of that entry.", e.File.Path, e.Group.Name.Value, e.Group.File.Path)
	}
	comment(&out, "", remark)
	for _, k := range e.Keys() {
		k.write(&out, "")
	}
	out.WriteString("---\n")
	out.Write(e.body())
	if body := e.body(); len(body) > 0 && body[len(body)-1] != '\n' {
		out.WriteByte('\n')
	}
	return []byte(out.String())
}

// written is how long a line of the front matter becomes before a list or a remark
// goes on in the next. Sentences stand in one line.
const written = 100

func comment(out *strings.Builder, indent, text string) {
	line := indent + "#"
	for _, word := range strings.Fields(text) {
		if utf8.RuneCountInString(line+" "+word) > written && line != indent+"#" {
			out.WriteString(line + "\n")
			line = indent + "#"
		}
		line += " " + word
	}
	out.WriteString(line + "\n")
}

// write writes a key with what is below it.
func (k Key) write(out *strings.Builder, indent string) {
	switch v := k.Value.(type) {
	case string:
		fmt.Fprintf(out, "%s%s: %s\n", indent, k.Name, fields.Quote(v))
	case bool:
		fmt.Fprintf(out, "%s%s: %t\n", indent, k.Name, v)
	case []string:
		fmt.Fprintf(out, "%s\n", bracketed(indent+k.Name+": ", indent+"  ", v))
	case Keys:
		if short := v.braced(); short != "" {
			fmt.Fprintf(out, "%s%s: %s\n", indent, k.Name, short)
			return
		}
		fmt.Fprintf(out, "%s%s:\n", indent, k.Name)
		for _, in := range v {
			in.write(out, indent+"  ")
		}
	case []Keys:
		fmt.Fprintf(out, "%s%s:\n", indent, k.Name)
		for _, item := range v {
			if c := item[0].comment; c != "" {
				comment(out, indent+"  ", c)
			}
			var text strings.Builder
			for _, in := range item {
				in.write(&text, indent+"    ")
			}
			out.WriteString(indent + "  - " + strings.TrimPrefix(text.String(), indent+"    "))
		}
	}
}

// braced writes keys of short texts in one line; "" if they are not such.
func (ks Keys) braced() string {
	var parts []string
	for _, k := range ks {
		s, ok := k.Value.(string)
		if !ok || len(s) > written/2 {
			return ""
		}
		parts = append(parts, k.Name+": "+fields.QuoteItem(s))
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

// bracketed writes a list behind its key, in as many lines as it needs.
func bracketed(key, indent string, items []string) string {
	line, out := key+"[", ""
	for i, s := range items {
		s = fields.QuoteItem(s)
		if i < len(items)-1 {
			s += ","
		}
		switch {
		case i == 0:
			line += s
		case utf8.RuneCountInString(line+" "+s) > written:
			out += line + "\n"
			line = indent + s
		default:
			line += " " + s
		}
	}
	return out + line + "]"
}
