// Package generator is the whole line from a garden's folder to the files of
// its booklet:
//
//	read → entries.Assemble → garden.Find → care.Plan → booklet.Compose
//	     → html.NewWeb, layout.Lay → pdf.Paint, booklet.json
//
// [Check] goes as far as the plan, [Compose] to the booklet and [Proof.PrintTo] to the
// end; [Result.WriteTo] puts the files in place. A [Session] does the same again
// and again, reading only what changed. Beside the watcher it is the only package
// that touches the disk.
package generator

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"time"

	"sheaf/generator/care"
	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/measure"
	"sheaf/generator/names"
	"sheaf/generator/site"
	"sheaf/generator/source"
	"sheaf/generator/theme"
)

// Options say what to build.
type Options struct {
	Folders
	// Year moves the booklet to another year; 0 keeps the garden's date.
	Year int
	// Now dates a garden that has no date of its own. Nothing else depends on
	// it, so that the same input gives the same bytes.
	Now time.Time
	// Stamp is the date written into files that must carry one; zero means the
	// handover's.
	Stamp time.Time
	// Editions to make; nil makes all.
	Editions []string
	// Fonts are folders in which typefaces of the system are looked for, those
	// that a theme names and that neither ship nor lie in its folder.
	Fonts []string
	// Partial lets rows without an entry pass as gaps, and leaves out entries that
	// have errors of their own.
	Partial bool

	memory *memory // of a [Session]
}

// A Plan is a garden with everything computed.
type Plan struct {
	care.Input
	Calendar *care.Calendar
	Report   care.Report
	// Read is where on the disk the garden and its libraries were read.
	Read  []ReadFolder
	Theme *theme.Theme
	// Authors say whose the entries of the garden and its libraries are.
	Authors Authors
}

// Named finds the plantings of a name: botanical, as in the list or the entry,
// or common. Without any it gives the nearest name there is.
func (p *Plan) Named(name string) (found []*garden.Planting, nearest string) {
	var known []string
	typed := func(s string) string { return strings.ReplaceAll(strings.ToLower(s), "’", "'") }
	wanted := typed(strings.TrimSpace(name))
	parsed, _, _ := names.Parse(name)
	for i := range p.Plantings {
		q := &p.Plantings[i]
		if q.Entry == nil {
			continue
		}
		hit := strings.EqualFold(q.Row.Plant, name)
		for _, n := range []names.Name{q.Name, q.Called(), q.Entry.Name.Value} {
			hit = hit || !parsed.IsZero() && (n.Key() == parsed.Key() || n.SpeciesKey() != "" && n.SpeciesKey() == parsed.Key())
			known = append(known, strings.ToLower(n.Plain()))
		}
		for _, common := range q.Entry.Common {
			hit = hit || typed(common) == wanted
			known = append(known, typed(common))
		}
		if hit {
			found = append(found, q)
		}
	}
	slices.Sort(known)
	return found, source.Closest(wanted, slices.Compact(known))
}

// Check reads, parses, matches and dates. The plan is nil when the garden
// cannot even be read; else it is complete as far as the diagnostics allow.
// The error is for files that cannot be read at all.
func Check(o Options) (*Plan, source.Diagnostics, error) {
	if o.memory == nil {
		o.memory = &memory{}
	}
	o.memory.opens(o.Folders)
	file, err := o.garden().read(o.File)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil, fmt.Errorf("no %s here: name a garden's folder or its garden.yaml", o.File)
	} else if err != nil {
		return nil, nil, fmt.Errorf("%s cannot be read: %s", o.File, o.garden().why(o.File, err))
	}
	g, ds := garden.Parse(file)
	o.memory.reads(g.List.Value)
	for _, p := range g.Pages {
		o.memory.reads(p.Value)
	}
	l, authors, more, err := o.libraries(g)
	ds = append(ds, more...)
	if err != nil {
		return nil, ds, err
	}
	if g.List.Value != "" {
		rows, more := o.list(g, l)
		g.Rows = append(g.Rows, rows...)
		ds = append(ds, more...)
	}
	if len(g.Rows) == 0 && g.Kind == garden.Handover && !ds.HasErrors() {
		ds.Add(source.Error, "garden/no-plants", g.Span, "the garden has no plants", "name a plant list: plants: plants.csv")
	}
	if g.Place.Normals == nil && !ds.HasErrors() {
		ds.Add(source.Note, "garden/no-normals", g.Span, "no monthly temperatures are given: cues are those of a mild coastal place, moved to the garden's frost dates where it has them",
			"give twelve monthly minima and maxima under site, normals")
	}
	region := l.Region(g.Country)
	if region == nil {
		why := "the garden names no country"
		if g.Country != "" {
			why = fmt.Sprintf("the library has no region %q", g.Country)
		}
		ds.Add(source.Warning, "garden/no-region", g.Span, why+": nest season and local rules are left general", "known: "+regions(l))
	}
	for _, p := range g.Photos {
		o.garden().locate(p.Photo, "garden/photo", &ds)
	}
	plantings, more := o.plantings(g, l)
	ds = append(ds, more...)
	if err := o.begins(g, plantings); err != nil {
		return nil, ds, err
	}
	if n := work(plantings, g.Years); n > mostTasks && g.Kind == garden.Handover || n > 4*mostTasks {
		ds.Add(source.Error, "garden/too-much", g.Span, fmt.Sprintf("the garden has about %d tasks; a booklet of more than %d is not made", n, mostTasks), "make a booklet of fewer years, or one for each part of the garden")
		plantings = nil
	}
	ds = append(ds, develop(g, plantings)...)
	if o.Partial {
		plantings, ds = authors.leaveOut(plantings, ds)
		if g.Kind == garden.Guide && len(plantings) == 0 && !ds.HasErrors() {
			ds.Add(source.Error, "guide/empty", g.Span, "every plant of the guide is left out", "mend at least one entry")
		}
	}
	ds = append(ds, g.Apply(plantings, l)...)
	d, more, err := o.theme(g)
	if err != nil {
		return nil, append(ds, more...), err
	}
	said, english, unsaid := d.speak(g)
	in := care.Input{Garden: g, Plantings: plantings, Library: l, Region: region, Climate: g.Place.Climate(), First: o.first(g), Words: said, English: english}
	told := slices.Concat(more, unsaid)
	if !unsaid.HasErrors() {
		told = append(told, untranslated(in, o.Partial)...)
	}
	c, more := care.Plan(in)
	ds = append(ds, more...)
	ds = append(ds, tooCold(in)...)
	ds = append(ds, laws(in)...)
	ds = append(ds, told...)
	return &Plan{Input: in, Calendar: c, Report: care.Survey(in, c), Read: o.memory.folders, Theme: d.theme, Authors: authors}, ds, nil
}

// YearsOfCalendar are the first and the last year that a booklet can tell of: those
// in which a garden can be handed over.
func YearsOfCalendar() (first, last int) { return garden.FirstYear, garden.LastYear }

// A YearError is a year that was asked for in which a garden's booklet cannot
// begin.
type YearError struct{ Year, First, Last int }

func (e *YearError) Error() string {
	if e.Year < e.First {
		return fmt.Sprintf("%d: nothing of this garden is planted yet in that year; its booklet can begin in a year from %d to %d", e.Year, e.First, e.Last)
	}
	return fmt.Sprintf("%d: the calendar ends with %d; the booklet of this garden can begin in a year from %d to %d", e.Year, garden.LastYear, e.First, e.Last)
}

// begins holds the year that was asked for to the garden: it is none before that of
// the handover or of the first planting, and all of the booklet's years are in the
// calendar. A guide and a garden without a date are of any year.
func (o Options) begins(g *garden.Garden, plantings []garden.Planting) error {
	if o.Year == 0 {
		return nil
	}
	first, last := YearsOfCalendar()
	last -= g.Years - 1
	if g.Kind == garden.Handover && g.Date != 0 {
		first = g.Date.Year()
		for _, p := range plantings {
			if p.Row.Planted != 0 {
				first = min(first, p.Row.Planted.Year())
			}
		}
	}
	if o.Year < first || o.Year > last {
		return &YearError{o.Year, first, last}
	}
	return nil
}

// plantings finds the plants of the booklet.
func (o Options) plantings(g *garden.Garden, l *entries.Library) ([]garden.Planting, source.Diagnostics) {
	if g.Kind != garden.Guide {
		return garden.Find(g, l, o.Partial)
	}
	own := func(e *entries.Entry) bool { return !strings.HasPrefix(e.File.Path, BuiltIn+"/") }
	out, ds := garden.Choose(g, l, own, o.Partial)
	if len(out) == 0 && !ds.HasErrors() {
		ds.Add(source.Error, "guide/empty", g.Span, "the guide has no plants", "write entries into the folder plants, or name what to include")
	}
	return out, ds
}

// mostTasks is what 300 plantings ask for in ten years. Each task takes up to
// 40 KB until all editions are made.
const mostTasks = 15000

// work is about how many tasks plantings have in some years.
func work(plantings []garden.Planting, years int) int {
	n := 0
	for _, p := range plantings {
		if p.Entry != nil {
			n += len(p.Entry.Rules) * years
		}
	}
	return n
}

// first is the first day of the booklet: of the handover's month, or of
// January when the garden is not handed over on a day.
func (o Options) first(g *garden.Garden) site.Day {
	year, month := o.Now.Year(), time.January
	if g.Date != 0 {
		year, month, _ = g.Date.Civil()
	}
	if g.Kind == garden.Guide {
		month = time.January // of a whole year, for all who read it
	}
	if o.Year != 0 {
		year = o.Year
	}
	return site.Date(year, month, 1)
}

func (o Options) list(g *garden.Garden, l *entries.Library) ([]garden.Row, source.Diagnostics) {
	f, err := o.garden().readMost(g.List.Value, largestList)
	if err != nil {
		var ds source.Diagnostics
		why, hint := ": "+o.garden().why(g.List.Value, err), "put the list itself into the garden's folder"
		if errors.Is(err, fs.ErrNotExist) || !fs.ValidPath(g.List.Value) {
			why, hint = "", "the name counts from the garden's own folder"
		}
		ds.Add(source.Error, "garden/no-list", g.List.Span, fmt.Sprintf("the plant list %q cannot be read%s", g.List.Value, why), hint)
		return nil, ds
	}
	return garden.ReadList(f, g.Columns, g.Sheet, g.Country, garden.Knows(l))
}

func regions(l *entries.Library) string {
	var codes []string
	for _, r := range l.Regions {
		codes = append(codes, r.Code)
	}
	slices.Sort(codes)
	return strings.Join(codes, ", ")
}

// tooCold warns of plants that will meet colder nights than they stand.
func tooCold(in care.Input) source.Diagnostics {
	var ds source.Diagnostics
	for i := range in.Plantings {
		p := &in.Plantings[i]
		if p.Entry == nil || p.Typical {
			continue // a guide serves many gardens, and says so on the page
		}
		if why, cold := in.TooCold(p, in.English); cold {
			ds.Add(source.Warning, "garden/too-cold", p.Row.Span, fmt.Sprintf("%s: %s", p.Label(), strings.ReplaceAll(why, measure.Space, " ")), "the booklet prints a winter caution")
		}
	}
	return ds
}
