package main

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"sheaf/generator"
	"sheaf/generator/garden"
	"sheaf/generator/source"
)

// A plant list in place of a garden is built as start garden and build would do it one
// after the other, without a folder for the garden. What was assumed is told.

// opened is the garden of a call.
type opened struct {
	generator.Options
	folder string                // from which the paths of messages count
	slug   string                // the usual name of its output
	list   *generator.ListGarden // nil for a garden's folder
	file   string                // the list's path
}

// isList tells a plant list by its name: a garden is a folder or a garden.yaml.
func isList(name string) bool {
	if name == "-" {
		return true
	}
	endings := []string{".csv", ".tsv", ".tab", ".txt", ".xlsx", ".xlsm", ".xls", ".ods"}
	if !slices.Contains(endings, strings.ToLower(filepath.Ext(name))) {
		return false
	}
	info, err := os.Stat(name)
	return err != nil || !info.IsDir()
}

// openGarden is [open] for what may be a plant list. It is nil if the list has errors,
// which the diagnostics tell.
func openGarden(sys system, args []string, sheet string) (*opened, source.Diagnostics, error) {
	if len(args) != 1 || !isList(args[0]) {
		if sheet != "" {
			return nil, nil, usageError{fmt.Errorf("--sheet is for a plant list: a garden names the sheet in its garden.yaml")}
		}
		o, folder, err := open(sys, args)
		return &opened{Options: o, folder: folder}, nil, err
	}
	in := &opened{folder: filepath.Dir(args[0]), file: args[0]}
	in.Fonts = fontFolders(runtime.GOOS, sys.env)
	var err error
	if in.Now, in.Stamp, err = sys.today(); err != nil {
		return nil, nil, err
	}
	g, ds, err := generator.OpenList(generator.GardenRequest{List: args[0], In: sys.stdin, Sheet: sheet, Now: in.Now})
	if err != nil {
		return nil, nil, ledTo(err, args[0])
	}
	if g == nil {
		return nil, ds, nil
	}
	in.list, in.slug, in.Folders, in.Partial = g, g.Slug, g.Folders, true
	return in, nil, nil
}

// output is the folder that is written to; out is the one that was asked for, or "".
func (in *opened) output(out string) (string, error) {
	switch {
	case in.list == nil:
		return outputOf(out, in.folder)
	case out == "":
		return filepath.Join("output", in.slug), nil
	}
	return out, nil
}

// told are the messages that have a place for whoever made the call.
func (in *opened) told(ds source.Diagnostics) source.Diagnostics {
	if in.list == nil {
		return ds
	}
	return in.list.Untold(ds)
}

// assume tells in a few lines what was assumed of a list's garden, and how to keep it.
func (sys system) assume(in *opened, p *generator.Plan) {
	g := in.list
	if g == nil || p == nil {
		return
	}
	say := func(format string, args ...any) {
		text := []rune(source.Printable(fmt.Sprintf("assumed: "+format, args...)))
		if most := sys.columns(); len(text) > most { // one line each, whatever the beds are called
			text = append(text[:most-1], '…')
		}
		fmt.Fprintln(sys.stderr, string(text))
	}
	say("a temperate maritime place in the north; its dates are from a table")
	say("no country, so no law and no nesting season is looked at")
	say("handed over today, %s; an owner does the work", g.Date)
	one := ""
	if len(p.Plantings) > 1 && !slices.ContainsFunc(p.Plantings, func(q garden.Planting) bool { return q.Row.Quantity != 1 }) {
		one = "one plant a row, as the list gives no numbers"
	}
	switch n := len(g.Beds); {
	case n > 0 && one != "":
		say("%s; %s, of which nothing is known: %s", one, count(n, "bed", "beds"), strings.Join(g.Beds, ", "))
	case n > 0:
		say("%s, of which nothing is known: %s", count(n, "bed", "beds"), strings.Join(g.Beds, ", "))
	case one != "":
		say("%s, and no beds", one)
	default:
		say("no beds, as the list names none")
	}
	if n := len(p.Report.Uncovered); n > 0 {
		say("--partial, as %s without care", count(n, "planting is", "plantings are"))
	}
	from := in.file
	if from == "-" {
		from = "LIST"
	}
	var words []string
	for _, w := range []string{"sheaf", "start", "garden", g.Slug, "--from", from} {
		words = append(words, quoted(runtime.GOOS, w))
	}
	if s := g.Sheet; s != "" {
		words = append(words, "--sheet", quoted(runtime.GOOS, s))
	}
	fmt.Fprintf(sys.stderr, "hint: %s keeps it as a garden, to say where it is\n", source.Printable(strings.Join(words, " ")))
}
