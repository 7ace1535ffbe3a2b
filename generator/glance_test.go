package generator

import (
	"fmt"
	"testing"

	"sheaf/content"
	"sheaf/generator/entries"
	"sheaf/generator/names"
	"sheaf/generator/source"
)

// TestGlance: of every shipped entry as much is had by a glance as by parsing the
// whole, in the same places.
func TestGlance(t *testing.T) {
	fsys := content.Library()
	found, err := markdown(fsys, "plants")
	if err != nil {
		t.Fatal(err)
	}
	at := func(s source.Span) string { return fmt.Sprintf("%d-%d", s.Start, s.End) }
	names := func(ns []source.At[names.Name]) string {
		out := ""
		for _, n := range ns {
			out += n.Value.String() + " " + at(n.Span) + "; "
		}
		return out
	}
	seen := func(e *entries.Entry) string {
		out := fmt.Sprintf("%s %s %s\n%q\n%s\n%s %s\n%s\n%s\n%s\n", e.ID, e.Name.Value, at(e.Name.Span), e.Common, names(e.Synonyms),
			e.Serves.Value, at(e.Serves.Span), names(e.Except), names(e.Cultivars), e.Type)
		for _, h := range e.Hazards {
			out += h.Value + " " + at(h.Span) + "; "
		}
		return out
	}
	for _, w := range found {
		f, err := folder{FS: fsys}.read(w.name)
		if err != nil {
			t.Fatal(err)
		}
		e, ok := entries.Glance(f)
		if !ok {
			t.Errorf("%s: its front matter is not simple enough for a glance", w.name)
			continue
		}
		e.ReadCultivars()
		whole, _ := entries.ParseEntry(f)
		if got, want := seen(e), seen(whole); got != want {
			t.Errorf("%s: a glance has\n%s\nthe whole\n%s", w.name, got, want)
		}
	}
}

// BenchmarkMatchList reads a list of 33 rows and matches it with the shipped library.
func BenchmarkMatchList(b *testing.B) {
	for b.Loop() {
		if _, _, err := MatchList(MatchRequest{List: "../testdata/lists/gb-council-01.csv"}); err != nil {
			b.Fatal(err)
		}
	}
}
