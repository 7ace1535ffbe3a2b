package generator

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"time"

	"sheaf/generator/booklet"
	"sheaf/generator/entries"
	"sheaf/generator/source"
	"sheaf/generator/theme"
	"sheaf/themes"
)

// A Result is a finished booklet: its files by their paths in the output
// folder.
type Result struct {
	Plan  *Plan
	Files map[string][]byte
}

// Build makes the files of a garden's booklet. With an error among the
// diagnostics there is no result: a booklet is built whole or not at all.
func Build(ctx context.Context, o Options) (*Result, source.Diagnostics, error) {
	p, ds, err := Check(o)
	if err != nil || p == nil || ds.HasErrors() {
		return nil, ds, err
	}
	pages, more, err := o.pages(p)
	ds = append(ds, more...)
	if err != nil {
		return nil, ds, err
	}
	files, err := themes.Shipped("fieldbook")
	if err != nil {
		return nil, ds, err
	}
	t, more, err := theme.Load(files)
	ds = append(ds, more...)
	if err != nil || ds.HasErrors() {
		return nil, ds, err
	}
	out := &Result{Plan: p, Files: map[string][]byte{}}
	editions := o.Editions
	if len(editions) == 0 {
		editions = Editions()
	}
	var book *booklet.Book
	if len(editions) > 1 || editions[0] != "json" {
		book = booklet.Compose(booklet.Input{Input: p.Input, Calendar: p.Calendar, Theme: t, Pages: pages})
	}
	press := newPress(book, t, p.Garden, o.stamp(p))
	for _, made := range press.run(ctx, editions) {
		ds = append(ds, made.ds...)
		if made.err != nil {
			return nil, ds, made.err
		}
		maps.Copy(out.Files, made.files)
	}
	if slices.Contains(editions, "json") {
		if out.Files["booklet.json"], err = record(p, ds.Sorted()); err != nil {
			return nil, ds, err
		}
	}
	if ds.HasErrors() {
		return nil, ds, nil
	}
	return out, ds, nil
}

// stamp is the date written into files: the one asked for, else the
// handover's, else the booklet's first day. It is never the clock's, so that
// the same input gives the same bytes.
func (o Options) stamp(p *Plan) time.Time {
	if !o.Stamp.IsZero() {
		return o.Stamp
	}
	day := p.Garden.Date
	if day == 0 {
		day = p.Calendar.First
	}
	y, m, d := day.Civil()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// pages reads the garden's own pages, in the order its file names them.
func (o Options) pages(p *Plan) ([]*entries.Page, source.Diagnostics, error) {
	var out []*entries.Page
	var ds source.Diagnostics
	for _, name := range p.Garden.Pages {
		clean := path.Clean(name.Value)
		f, err := read(o.Garden, "", clean)
		switch {
		case errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrInvalid):
			ds.Add(source.Error, "garden/no-page", name.Span, fmt.Sprintf("the page %q cannot be read", name.Value), "the name counts from the garden's own folder")
			continue
		case err != nil:
			return nil, ds, err
		}
		page, more := entries.ParsePage(f)
		ds = append(ds, more...)
		out = append(out, page)
	}
	return out, ds, nil
}
