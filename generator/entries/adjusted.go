package entries

import (
	"slices"
	"strings"

	"sheaf/generator/prose"
	"sheaf/generator/site"
	"sheaf/generator/source"
)

// ThisGarden is the condition of what garden.yaml adjusts. It holds wherever it is
// applied, and no file can name it.
const ThisGarden = "this garden"

// Adjusted gives an entry as a garden adjusts it: a copy with what garden.yaml says
// after what the entry says of places, so that it goes before it, and with its text
// in place of the entry's. What it makes of a rule is held to the checks that the
// entry's own rules pass; here is the garden's climate.
func (l *Library) Adjusted(e *Entry, own []Adjust, here *site.Climate) (*Entry, source.Diagnostics) {
	out := *e
	out.Adjust = slices.Clone(e.Adjust)
	for _, a := range own {
		a.If = ThisGarden
		out.Adjust = append(out.Adjust, a)
		if a.Text != nil {
			out.Body = a.Text
		}
	}
	var ds source.Diagnostics
	l.adjustedSense(e, own, here, &ds)
	l.adjustedOrder(e, &out, here, &ds)
	return &out, ds
}

// adjustedSense weighs each rule as a garden has it, and tells what was not wrong
// with it before.
func (l *Library) adjustedSense(e *Entry, own []Adjust, here *site.Climate, ds *source.Diagnostics) {
	x := site.Context{Climate: here, WrittenFor: e.WrittenFor, Flowering: e.Flowers.Value}
	if e.WrittenFor == site.South {
		// The checks speak of the months of the north.
		x.Climate = reference()
	}
	for _, r := range e.Rules {
		job, fitted := l.Job(r.Job.Value), r
		var by *Adjust
		skip := false
		for i := range own {
			a := &own[i]
			if a.Job.Value != r.Job.Value {
				continue
			}
			skip = a.Skip || skip && a.When.Value.IsZero()
			if !a.Leave.Value.IsZero() {
				fitted.Leave, by = a.Leave, a
			}
			if !a.When.Value.IsZero() {
				fitted.When, by = a.When, a
			}
		}
		if job == nil || by == nil || skip {
			continue
		}
		var before, now source.Diagnostics
		e.hold(x, &r, job, &before)
		e.hold(x, &fitted, job, &now)
		for _, d := range added(before, now) {
			*ds = append(*ds, inGarden(d, by))
		}
	}
}

// adjustedOrder holds a plant's rules to the order of work, of which this garden's
// climate is enough to know.
func (l *Library) adjustedOrder(e, adjusted *Entry, here *site.Climate, ds *source.Diagnostics) {
	var moves []*Adjust
	for i := range adjusted.Adjust {
		if a := &adjusted.Adjust[i]; a.If == ThisGarden && (a.Skip || !a.When.Value.IsZero()) {
			moves = append(moves, a)
		}
	}
	if moves == nil {
		return
	}
	var before, now source.Diagnostics
	places := []*site.Climate{here}
	l.order(e, places, &before)
	l.order(adjusted, places, &now)
	for _, d := range added(before, now) {
		by := moves[0]
		for _, a := range moves {
			for _, r := range d.Related {
				if r.Span.File == a.Span.File && r.Span == a.When.Span || d.Span == a.When.Span {
					by = a
				}
			}
		}
		*ds = append(*ds, inGarden(d, by))
	}
}

// added are the messages that were not there before.
func added(before, now source.Diagnostics) source.Diagnostics {
	return slices.DeleteFunc(now, func(d source.Diagnostic) bool {
		return slices.ContainsFunc(before, func(o source.Diagnostic) bool { return o.Code == d.Code && o.Message == d.Message })
	})
}

// inGarden puts a message where the garden says what brings it about: the entry is
// right as it is.
func inGarden(d source.Diagnostic, by *Adjust) source.Diagnostic {
	file := by.Span.File
	d.Related = slices.DeleteFunc(slices.Clone(d.Related), func(r source.At[string]) bool { return r.Span.File == file })
	d.Message = strings.ReplaceAll(strings.ReplaceAll(d.Message, ` where "`+ThisGarden+`" holds`, ""), `"`+ThisGarden+`" moves`, "this moves")
	if d.Span.File != file {
		if there := func(r source.At[string]) bool { return r.Span == d.Span }; d.Span.File != nil && !slices.ContainsFunc(d.Related, there) {
			d.Related = append(d.Related, source.At[string]{Value: "what the entry says", Span: d.Span})
		}
		d.Span = at(at(by.When.Span, by.Leave.Span), by.Span)
	}
	return d
}

// TextOf reads the text that garden.yaml puts in place of an entry's body. Its
// faults are told where it begins: it is indented there, and folded.
func TextOf(t source.At[string], kind string) ([]prose.Block, source.Diagnostics) {
	body, found := prose.Parse(source.NewFile(t.Span.File.Path, []byte(t.Value)), 0, kind)
	for i := range found {
		found[i].Span = t.Span
	}
	return body, found
}
