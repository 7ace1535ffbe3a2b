package generator

import (
	"encoding/json"
	"fmt"
	"path"
	"strings"
	"testing"

	"sheaf/generator/entries"
	"sheaf/generator/prose"
	"sheaf/generator/source"
)

// allOf is all of a joined entry that makes a difference to a booklet, but for what
// it is called in messages.
func allOf(e *entries.Entry) string {
	var b strings.Builder
	say := func(key string, v any) { fmt.Fprintf(&b, "%s: %v\n", key, v) }
	text, err := json.Marshal(e.Keys())
	if err != nil {
		return err.Error()
	}
	b.Write(text)
	say("\nid", e.ID)
	say("measures", []any{e.Height, e.FlowerHeight, e.Spread, e.LeafColour, e.FlowerColour, e.Hardy.Value, e.Zone.Value, e.Flowers.Value})
	for i := range e.Rules {
		r := e.Rules[i]
		say("rule", []any{r.Job.Value, r.When.Value, r.Leave.Value, r.Words(), r.Tools, r.NotBefore, r.Only, r.Every, r.Needs, r.Minutes, r.Hard})
		for _, n := range r.Never {
			say("never", n.Value)
		}
	}
	for _, a := range e.Adjust {
		say("adjust", []any{a.If, a.Job.Value, a.When.Value, a.Leave.Value, a.Note, a.Skip})
	}
	for _, n := range append(e.Synonyms, append(e.Except, e.Cultivars...)...) {
		say("name", n.Value)
	}
	say("stands", e.Stands)
	say("body", prose.Text(e.Body))
	return b.String()
}

// TestShownEntriesAreTheSame: every shipped entry, written out with its group, is
// read as the same entry, passes the checks, and fits the schema.
func TestShownEntriesAreTheSame(t *testing.T) {
	shelf, l, _ := shipped(t, nil)
	var own entries.Shelf
	own.About = shelf.About
	want := map[string]string{}
	for _, e := range l.Entries {
		f := source.NewFile(path.Join("own", e.File.Path), e.Write())
		read, ds := entries.ParseEntry(f)
		if len(ds) > 0 {
			t.Fatalf("%s\n%s", told(ds), f.Text)
		}
		if _, ok := entries.Glance(f); !ok {
			t.Errorf("%s: its front matter is not simple enough for a glance", f.Path)
		}
		read.WrittenFor = shelf.WrittenFor
		own.Entries = append(own.Entries, read)
		want[f.Path] = allOf(e.Resolved())
	}
	others := shelf
	others.Entries = nil
	again, ds := entries.Assemble([]entries.Shelf{own, others})
	if ds.HasErrors() {
		t.Errorf("written out they have faults:\n%s", told(ds))
	}
	if len(again.Entries) != len(l.Entries) {
		t.Errorf("%d entries are read of %d", len(again.Entries), len(l.Entries))
	}
	differ := 0
	for _, e := range again.Entries {
		if got := allOf(e); got != want[e.File.Path] && differ < 3 {
			differ++
			t.Errorf("%s: got\n%s\nwant\n%s", e.File.Path, got, want[e.File.Path])
		}
	}
}
