package generator

import (
	"testing"

	"sheaf/content"
	"sheaf/generator/entries"
)

func TestX(t *testing.T) {
	s, ds, err := shelf(content.Library(), "built-in", libraryFolders())
	_, more := entries.Assemble([]entries.Shelf{s})
	for _, d := range append(ds, more...).Sorted() {
		p := d.Span.Pos()
		t.Errorf("%s:%d:%d %s %v", d.Span.File.Path, p.Line, p.Column, d.Message, d.Hints)
	}
	t.Log(err)
}
