package generator

import (
	"context"
	"fmt"
	"path"
	"slices"
	"strings"
	"sync"
	"time"

	"sheaf/generator/booklet"
	"sheaf/generator/entries"
	"sheaf/generator/html"
	"sheaf/generator/source"
)

// A Result is a finished booklet: its files by their paths in the output
// folder.
type Result struct {
	Plan  *Plan
	Files map[string][]byte
}

// A Put takes a file that was made, by its path with forward slashes. It is called
// by several at once and must not keep the parts.
type Put = html.Put

// A Proof is a booklet with every word in place, of which editions can be
// printed, all together or one after the other.
type Proof struct {
	Plan  *Plan
	press *press
	found source.Diagnostics // all so far
}

// Compose does all of a build that its editions share. There is no proof if the
// diagnostics hold an error.
func Compose(o Options) (*Proof, source.Diagnostics, error) {
	if o.memory == nil {
		o.memory = &memory{}
	}
	p, ds, err := Check(o)
	if err != nil || p == nil || ds.HasErrors() {
		return nil, ds, err
	}
	pages, more := o.pages(p)
	ds = append(ds, more...)
	in := booklet.Input{Input: p.Input, Calendar: p.Calendar, Theme: p.Theme, Pages: pages, Sketches: &o.memory.sketches}
	return &Proof{Plan: p, press: newPress(in, o.stamp(p), o.memory), found: ds}, ds, nil
}

// Length is how many pages the printed booklet has; 0 if it was not asked for.
func (p *Proof) Length() int { return int(p.press.length.Load()) }

// Page makes one page of the web edition, by its path, before the others; nil
// when there is none.
func (p *Proof) Page(ctx context.Context, file string) ([]byte, error) {
	web, err := p.press.web()
	if err != nil {
		return nil, err
	}
	return web.Page(ctx, file)
}

// Print makes the files of editions, nil for all, by their paths. The diagnostics
// are those of the whole build so far.
func (p *Proof) Print(ctx context.Context, editions []string) (map[string][]byte, source.Diagnostics, error) {
	files := map[string][]byte{}
	var mu sync.Mutex
	ds, err := p.PrintTo(ctx, editions, func(name string, parts ...[]byte) error {
		data := slices.Concat(parts...)
		mu.Lock()
		defer mu.Unlock()
		files[name] = data
		return nil
	})
	if err != nil {
		return nil, ds, err
	}
	return files, ds, nil
}

// PrintTo is Print for a booklet that need not be held whole.
func (p *Proof) PrintTo(ctx context.Context, editions []string, to Put) (source.Diagnostics, error) {
	if len(editions) == 0 {
		editions = Editions()
	}
	for _, made := range p.press.run(ctx, editions, to) {
		p.found = append(p.found, made.ds...)
		if made.err != nil {
			return p.found, made.err
		}
	}
	if slices.Contains(editions, "json") {
		data, err := record(p.Plan, p.found.Sorted())
		if err != nil {
			return p.found, err
		}
		return p.found, to("booklet.json", data)
	}
	return p.found, nil
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
func (o Options) pages(p *Plan) ([]*entries.Page, source.Diagnostics) {
	var out []*entries.Page
	seen := map[string]source.Span{}
	var ds source.Diagnostics
	for _, name := range p.Garden.Pages {
		clean := path.Clean(name.Value)
		f, err := o.garden().read(clean)
		if err != nil {
			ds.Add(source.Error, "garden/no-page", name.Span, fmt.Sprintf("the page %q cannot be read", name.Value), "the name counts from the garden's own folder")
			continue
		}
		page, more := entries.ParsePage(f)
		ds = append(ds, more...)
		// Some systems take A and a for one name.
		id := strings.ToLower(page.ID)
		if first, twice := seen[id]; twice {
			ds.Add(source.Error, "garden/same-page", name.Span, fmt.Sprintf("two pages would be called %s", page.ID), "give one of the files another name").
				Related = []source.At[string]{{Value: "first named here", Span: first}}
			continue
		}
		seen[id] = name.Span
		out = append(out, page)
	}
	return out, ds
}
