package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"sheaf/generator"
	"sheaf/generator/source"
)

const rootHelp = `Sheaf makes a garden's care booklet: a web edition, a booklet to print, and
the same as data.

  sheaf build gardens/dovecote-barn     make every edition
  sheaf build schedule.csv              the same of a plant list alone
  sheaf watch gardens/dovecote-barn     the same on each save, in a browser
  sheaf check gardens/dovecote-barn     every fault, and the designer's report
  sheaf check plants/sesleria.md        the faults of single files
  sheaf match plants.csv                which rows of a plant list have care
  sheaf library                         the plants, groups and jobs that ship
  sheaf library show "Geranium phaeum"  one entry, to be saved and changed
  sheaf start garden larch-end --from plants.csv
                                        a garden to fill in, from a plant list
  sheaf start entry "Geranium phaeum"   a plant's entry to fill in
  sheaf schema garden                   what an editor needs to complete keys
  sheaf help build                      what a command does, and its options
  sheaf --version                       which sheaf this is

A garden is a folder with a garden.yaml in it; without one named, this folder.
`

const buildHelp = `Build checks a garden and makes its booklet.

  sheaf build                           the garden in this folder
  sheaf build gardens/dovecote-barn     writes to output/dovecote-barn
  sheaf build . --out ~/handover        writes there
  sheaf build . --editions web,json     only these editions
  sheaf build . --year 2028             the same garden, another year
  sheaf build schedule.xlsx             the garden of a plant list, without a folder
                                        for it: what is assumed is told

With a fault in the content nothing is written, nor if it is ended with Ctrl-C.
Options:

  --out DIR          where to write (default output/ and the garden's name)
  --year N           the booklet's first year (default: that of the handover)
  --editions LIST    of web, a5, fold, large, sheet, work, ics, onefile,
                     json (default all)
  --partial          let plants without an entry pass, with a warning, and leave
                     out entries with faults of their own; always so for a list
  --sheet NAME       of a list that is a workbook (default: the one that looks
                     most like a plant list)
  --strict           let warnings fail the build
  --json             print the diagnostics and the report as JSON
`

const checkHelp = `Check finds every fault and prints the designer's report; it writes nothing.

  sheaf check                           the garden in this folder
  sheaf check gardens/dovecote-barn     another garden
  sheaf check schedule.xlsx             the garden of a plant list
  sheaf check plants/sesleria.md        entries and groups by themselves
  sheaf check --explain "autumn moor grass"
                                        how each date of one plant came about
  sheaf check --by contributor          the faults of entries under the names of
                                        those who wrote them, to be sent to each

Options:

  --explain PLANT    a botanical or common name in the garden
  --by contributor   errors and warnings by who can mend them; with --json as
                     {"contributors":[{"contributor","entries","faults"}]}
  --partial          take plants without an entry as warnings, and entries with
                     faults of their own as left out
  --sheet NAME       of a list that is a workbook
  --strict           let warnings fail the check
  --json             print the diagnostics and the report as JSON
`

const matchHelp = `Match reads a plant list by itself and tells row by row which entry holds the
care, and how it was found.

  sheaf match plants.csv                against the library that ships
  sheaf match plants.xlsx --sheet Rev.C one sheet of a workbook
  sheaf match plants.csv --library club/library
                                        against another library first
  sheaf match -                         a list that comes in, as it is pasted
                                        from a spreadsheet
  sheaf match plants.csv --fix          writes plants-fixed.csv: the list with the
                                        names that were taken, and a column for
                                        each question

How a row comes to its entry, in this order:

  exact       the name is the entry's own
  synonym     it is another name of the plant
  species     a cultivar without an entry has the care of its species
  spelling    the name is one slip of the pen away, or sounds the same
  group       the list names a care group in a column "care"
  ambiguous   two entries fit alike, and neither is taken
  none        no entry; what may be meant is told below the row

It ends with 1 when a row has no care. Options:

  --sheet NAME       the sheet of a workbook (default: the one that looks most
                     like a plant list)
  --library DIR      a library folder that comes before the shipped one
  --fix              write a copy of the list that is put right; nothing is
                     written over
  --out FILE         where to (default: beside the list, with -fixed.csv)
  --strict           let warnings fail it, such as a name put right
  --json             print the diagnostics and the rows as JSON
`

const libraryHelp = `Library lists what a library holds: its plants by type, care groups, jobs and
countries. Beside a plant stands how many names it serves: its own, synonyms and
cultivars; and whom besides: all of the genus, its hybrids, or, cautiously, what is
not known of it.

  sheaf library                         what ships with sheaf
  sheaf library show "Geranium phaeum"  one entry, to be saved and changed
  sheaf library club/library            another library folder
  sheaf library --json                  every entry with its jobs, windows,
                                        hazards, sources and reading age

Options:

  --strict           let warnings fail it
  --json             print the diagnostics and the lists as JSON
`

// newRoot builds the commands; nothing outside it is shared between calls.
func newRoot(sys system) *cobra.Command {
	root := &cobra.Command{
		Use:           "sheaf",
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return usageError{fmt.Errorf("there is no command %q%s", args[0], orMean(args[0], commandNames(cmd)))}
			}
			fmt.Fprint(sys.stdout, rootHelp)
			return nil
		},
		Args: cobra.ArbitraryArgs,
	}
	help := func(c *cobra.Command, text string) *cobra.Command {
		c.SetHelpFunc(func(*cobra.Command, []string) { fmt.Fprint(sys.stdout, text) })
		c.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
			return usageError{flagFault(c, err)}
		})
		return c
	}
	root.AddCommand(help(buildCommand(sys), buildHelp), help(checkCommand(sys), checkHelp),
		help(matchCommand(sys), matchHelp), help(libraryCommand(sys, help), libraryHelp),
		help(startCommand(sys, help), startHelp), help(schemaCommand(sys), schemaHelp),
		help(watchCommand(sys), watchHelp))
	root.SetHelpCommand(helpCommand(sys))
	root.Version = version()
	root.SetVersionTemplate("{{.Version}}\n")
	return help(root, rootHelp)
}

// helpCommand shows what --help shows of a command.
func helpCommand(sys system) *cobra.Command {
	return &cobra.Command{Use: "help [COMMAND]", Hidden: true, RunE: func(cmd *cobra.Command, args []string) error {
		of := cmd.Root()
		for _, name := range args {
			i := slices.IndexFunc(of.Commands(), func(c *cobra.Command) bool { return c.Name() == name && !c.Hidden })
			if i < 0 {
				return usageError{fmt.Errorf("there is no command %q%s", name, orMean(name, commandNames(of)))}
			}
			of = of.Commands()[i]
		}
		return of.Help()
	}}
}

// version says which program this is, for a report of a fault: the version of the
// module, or of what it was built from, and by what for what.
func version() string {
	of := "sheaf, version unknown"
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" && info.Main.Version != "(devel)" {
		of = "sheaf " + info.Main.Version
	}
	return fmt.Sprintf("%s (%s, %s/%s)", of, runtime.Version(), runtime.GOOS, runtime.GOARCH)
}

func orMean(word string, known []string) string {
	if near := source.Closest(word, known); near != "" {
		return fmt.Sprintf("; did you mean %q?", near)
	}
	return ""
}

func commandNames(root *cobra.Command) []string {
	var out []string
	for _, c := range root.Commands() {
		if !c.Hidden {
			out = append(out, c.Name())
		}
	}
	return out
}

// flagFault says what is wrong with the options of a call.
func flagFault(c *cobra.Command, err error) error {
	var value *pflag.InvalidValueError
	var without *pflag.ValueRequiredError
	var unknown *pflag.NotExistError
	switch {
	case errors.As(err, &value):
		name := value.GetFlag().Name
		takes := map[string]string{"bool": "true, false or nothing", "int": "a whole number"}[value.GetFlag().Value.Type()]
		if name == "year" {
			takes = "a year such as 2027"
		}
		return fmt.Errorf("--%s takes %s, not %q", name, takes, value.GetValue())
	case errors.As(err, &without):
		return fmt.Errorf("--%s needs a value after it", without.GetSpecifiedName())
	case errors.As(err, &unknown):
		return fmt.Errorf("%w%s", err, orMean("--"+unknown.GetSpecifiedName(), flagNames(c)))
	}
	return err
}

func flagNames(c *cobra.Command) []string {
	var out []string
	c.Flags().VisitAll(func(f *pflag.Flag) { out = append(out, "--"+f.Name) })
	return out
}

// open gives the options of the garden that is named, a folder or a
// garden.yaml, and the folder its paths count from: this one when none is.
func open(sys system, args []string) (generator.Options, string, error) {
	garden := "."
	switch len(args) {
	case 0:
	case 1:
		garden = args[0]
	default:
		return generator.Options{}, "", usageError{fmt.Errorf("one garden at a time; %d are named", len(args))}
	}
	isFile := strings.HasSuffix(garden, ".yaml") || strings.HasSuffix(garden, ".yml")
	if info, err := os.Stat(garden); !isFile && err == nil && info.Mode().IsRegular() {
		return generator.Options{}, "", usageError{fmt.Errorf("%s is no garden: name its folder or its garden.yaml; the name of an entry ends in .md", garden)}
	}
	folders, err := generator.Open(garden)
	if err != nil {
		return generator.Options{}, "", err
	}
	o := generator.Options{Folders: folders, Fonts: fontFolders(runtime.GOOS, sys.env)}
	if o.Now, o.Stamp, err = sys.today(); err != nil {
		return o, "", err
	}
	folder := garden
	if isFile {
		folder = filepath.Dir(garden)
	}
	return o, folder, nil
}

// today is now or, so that the same input gives the same bytes, the time that
// SOURCE_DATE_EPOCH asks for; only then is it a stamp as well.
func (sys system) today() (now, stamp time.Time, err error) {
	s := sys.env("SOURCE_DATE_EPOCH")
	if s == "" {
		return sys.now(), time.Time{}, nil
	}
	// Dates in files have four digits for the year.
	last := time.Date(9999, time.December, 31, 23, 59, 59, 0, time.UTC).Unix()
	n, err := strconv.ParseInt(s, 10, 64)
	if err != nil || n < 0 || n > last {
		return now, stamp, usageError{fmt.Errorf("SOURCE_DATE_EPOCH=%q is not a number of seconds since 1970, from 0 to %d, which is the end of the year 9999", s, last)}
	}
	stamp = time.Unix(n, 0).UTC()
	return stamp, stamp, nil
}

// mostShown is how many messages a build prints before it says how many more
// there are; check prints all.
const mostShown = 20

func buildCommand(sys system) *cobra.Command {
	var out, editions, sheet string
	var year int
	var partial, strict, asJSON bool
	c := &cobra.Command{Use: "build [GARDEN|LIST]", RunE: func(cmd *cobra.Command, args []string) error {
		in, listed, err := openGarden(sys, args, sheet)
		if err != nil {
			return err
		}
		if in == nil {
			return sys.refuse(listed, asJSON)
		}
		o := in.Options
		o.Partial = o.Partial || partial
		if o.Year, err = yearOf(year); err != nil {
			return err
		}
		if editions != "" {
			for _, e := range strings.Split(editions, ",") {
				e = strings.TrimSpace(e)
				if !slices.Contains(generator.Editions(), e) {
					return usageError{fmt.Errorf("there is no edition %q; there are %s", e, strings.Join(generator.Editions(), ", "))}
				}
				o.Editions = append(o.Editions, e)
			}
		}
		if out, err = in.output(out); err != nil {
			return err
		}
		ctx, stop := sys.interrupted()
		defer stop()
		context.AfterFunc(ctx, stop) // who asks again need not wait for anything
		built, ds, err := sys.printTo(ctx, o, out)
		if err != nil {
			return err
		}
		if built != nil {
			defer built.Close()
		}
		verdict := verdict(in.told(ds), strict)
		if asJSON {
			var report any
			if built != nil {
				report = built.plan.Report
			}
			if err := printJSON(sys, ds, report); err != nil {
				return err
			}
		} else if err := unnoted(in.told(ds)).Print(sys.stderr, sys.style(in.folder, mostShown)); err != nil {
			return err
		}
		if verdict != nil {
			return verdict
		}
		if built.refused != nil {
			return built.refused
		}
		files, err := built.Settle()
		if err != nil {
			return err
		}
		if !asJSON {
			gaps := ""
			if n := len(built.plan.Report.Uncovered); n > 0 {
				gaps = fmt.Sprintf(", %d of them without care", n)
			}
			pages := ""
			if n := built.length; n > 0 {
				pages = fmt.Sprintf("; the booklet has %d pages, %d sheets to fold", n, (n+3)/4)
			}
			sys.assume(in, built.plan)
			fmt.Fprintf(sys.stderr, "%s: %d plantings%s, %d tasks, %d files%s\n", out, len(built.plan.Plantings), gaps, len(built.plan.Calendar.Tasks), files, pages)
		}
		return nil
	}}
	f := c.Flags()
	f.StringVar(&out, "out", "", "")
	f.StringVar(&sheet, "sheet", "", "")
	f.IntVar(&year, "year", 0, "")
	f.StringVar(&editions, "editions", "", "")
	f.BoolVar(&partial, "partial", false, "")
	f.BoolVar(&strict, "strict", false, "")
	f.BoolVar(&asJSON, "json", false, "")
	return c
}

// refuse tells what is wrong with a list of which no garden can be made.
func (sys system) refuse(ds source.Diagnostics, asJSON bool) error {
	if asJSON {
		if err := printJSON(sys, ds, nil); err != nil {
			return err
		}
	} else if err := unnoted(ds).Print(sys.stderr, sys.style("", mostShown)); err != nil {
		return err
	}
	return errContent
}

// A build is one that came to its end and has yet to be given its place.
type build struct {
	*generator.Output       // nil if refused
	refused           error // the folder must not be written to
	plan              *generator.Plan
	length            int // of the printed booklet, in pages; 0: not made
}

// Close forgets what was not given its place.
func (b *build) Close() error {
	if b.Output == nil {
		return nil
	}
	return b.Output.Close()
}

// patience is how long a build waits for another that writes to its folder. A
// guide of 10,000 entries is built in 22 s.
const patience = 30 * time.Second

// tell prints a line about a folder that is written to.
func (sys system) tell(s string) { fmt.Fprintf(sys.stderr, "sheaf: note: %s\n", s) }

// printTo builds a garden into a folder until ctx ends. There is no build if the
// diagnostics hold an error; what is wrong with the folder is told after them.
func (sys system) printTo(ctx context.Context, o generator.Options, folder string) (*build, source.Diagnostics, error) {
	var proof *generator.Proof
	var ds source.Diagnostics
	var err error
	if !unless(ctx, func() { proof, ds, err = generator.Compose(o) }) {
		return nil, nil, errInterrupted
	}
	if err != nil || proof == nil {
		return nil, ds, err
	}
	b := &build{plan: proof.Plan}
	if b.refused = outside(folder, proof.Plan.Read); b.refused == nil {
		waiting, cancel := context.WithTimeout(ctx, patience)
		defer cancel()
		b.Output, b.refused = generator.OpenOutput(waiting, folder, sys.tell)
	}
	if ctx.Err() != nil {
		return nil, nil, errors.Join(errInterrupted, b.Close())
	}
	if b.refused != nil {
		return b, ds, nil
	}
	g := &gate{put: b.Put}
	if !unless(ctx, func() { ds, err = proof.PrintTo(ctx, o.Editions, g.Put) }) || ctx.Err() != nil {
		g.shut()
		return nil, nil, errors.Join(errInterrupted, b.Close())
	}
	if err != nil || ds.HasErrors() {
		return nil, ds, errors.Join(err, b.Close())
	}
	b.length = proof.Length()
	return b, ds, nil
}

// unless does something and says whether it came to its end before ctx did. If not,
// it is left alone, and nothing of what it does may be looked at.
func unless(ctx context.Context, do func()) bool {
	done := make(chan struct{})
	go func() {
		do()
		close(done)
	}()
	select {
	case <-done:
		return true
	case <-ctx.Done():
		return false
	}
}

// A gate lets files through until it is shut.
type gate struct {
	put    generator.Put
	mu     sync.RWMutex
	closed bool
}

func (g *gate) Put(name string, parts ...[]byte) error {
	g.mu.RLock()
	defer g.mu.RUnlock()
	if g.closed {
		return errInterrupted
	}
	return g.put(name, parts...)
}

// shut returns when no file is on its way any longer.
func (g *gate) shut() {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.closed = true
}

// unnoted drops notes: a build says what is wrong, check says all.
func unnoted(ds source.Diagnostics) source.Diagnostics {
	return slices.DeleteFunc(slices.Clone(ds), func(d source.Diagnostic) bool { return d.Severity == source.Note })
}

// yearOf takes a year that was asked for; 0 for none.
func yearOf(year int) (int, error) {
	if first, last := generator.YearsOfCalendar(); year != 0 && (year < first || year > last) {
		return 0, usageError{fmt.Errorf("--year %d is not a year from %d to %d", year, first, last)}
	}
	return year, nil
}

// outputOf gives the output folder that was asked for, or else the usual one of
// a garden's folder, and refuses one that is read.
func outputOf(out, garden string) (string, error) {
	if out == "" {
		name, err := filepath.Abs(garden)
		if err != nil {
			return "", err
		}
		out = filepath.Join("output", filepath.Base(name))
	}
	dir, err := filepath.Abs(garden)
	if err != nil {
		return "", err
	}
	return out, outside(out, []generator.ReadFolder{{Dir: dir, Into: append(generator.LibraryFolders(), "photos")}})
}

// outside refuses an output folder that is read, or lies in one that is.
func outside(out string, read []generator.ReadFolder) error {
	at, err := resolved(out)
	if err != nil {
		return err
	}
	for _, r := range read {
		dir, err := resolved(r.Dir)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(dir, at)
		if err != nil {
			continue // on another drive
		}
		if rel == "." {
			return &generator.FolderError{Dir: out, Why: "the output folder is the garden's own, or a library's"}
		}
		if first, _, _ := strings.Cut(filepath.ToSlash(rel), "/"); slices.Contains(r.Into, first) {
			return &generator.FolderError{Dir: out, Why: "the output folder lies in the folder " + first + " of a garden or library, which is read"}
		}
	}
	return nil
}

// resolved is a path without links, as far as it is there already.
func resolved(name string) (string, error) {
	abs, err := filepath.Abs(name)
	if err != nil {
		return "", err
	}
	rest := ""
	for dir := abs; ; dir = filepath.Dir(dir) {
		if found, err := filepath.EvalSymlinks(dir); err == nil {
			return filepath.Join(found, rest), nil
		}
		if dir == filepath.Dir(dir) {
			return abs, nil
		}
		rest = filepath.Join(filepath.Base(dir), rest)
	}
}

func checkCommand(sys system) *cobra.Command {
	var partial, strict, asJSON bool
	var plant, by, sheet string
	c := &cobra.Command{Use: "check [GARDEN|LIST|FILE…]", RunE: func(cmd *cobra.Command, args []string) error {
		switch file := len(args) > 0 && strings.EqualFold(filepath.Ext(args[0]), ".md"); {
		case cmd.Flags().Changed("by") && by != byContributor:
			return usageError{fmt.Errorf("--by sorts by %s, not by %q%s", byContributor, by, orMean(by, []string{byContributor}))}
		case by != "" && plant != "":
			return usageError{errors.New("--explain tells of one plant and --by of all entries: choose one")}
		case file && plant != "":
			return usageError{errors.New("--explain is for a garden, as dates belong to a place")}
		case file && partial:
			return usageError{errors.New("--partial is for a garden, whose list may have gaps")}
		case asJSON && plant != "":
			return usageError{errors.New("--explain prints text and --json data: choose one")}
		case file:
			authors, ds, err := generator.CheckFiles(args)
			if err != nil {
				return ledTo(err, args[0])
			}
			switch {
			case by != "":
				err = sys.tellContributors("", authors, ds, asJSON)
			case asJSON:
				err = printJSON(sys, ds, nil)
			default:
				err = ds.Print(sys.stderr, sys.style("", 0))
			}
			if err != nil {
				return err
			}
			return verdict(ds, strict)
		}
		in, listed, err := openGarden(sys, args, sheet)
		if err != nil {
			return err
		}
		if in == nil {
			return sys.refuse(listed, asJSON)
		}
		o, folder := in.Options, in.folder
		o.Partial = o.Partial || partial
		plan, ds, err := generator.Check(o)
		if err != nil {
			return err
		}
		if !asJSON {
			ds = in.told(ds)
			defer sys.assume(in, plan)
		}
		if by != "" {
			if err := sys.tellContributors(folder, plan.Authors, ds, asJSON); err != nil {
				return err
			}
			return verdict(ds, strict)
		}
		if asJSON {
			if err := printJSON(sys, ds, plan.Report); err != nil {
				return err
			}
			return verdict(ds, strict)
		}
		if plant != "" {
			if err := unnoted(ds).Print(sys.stderr, sys.style(folder, 0)); err != nil {
				return err
			}
			if err := explain(sys.stdout, plan, plant); err != nil {
				return err
			}
			return verdict(ds, strict)
		}
		if err := ds.Print(sys.stderr, sys.style(folder, 0)); err != nil {
			return err
		}
		printReport(sys.stdout, plan)
		return verdict(ds, strict)
	}}
	f := c.Flags()
	f.StringVar(&plant, "explain", "", "")
	f.StringVar(&sheet, "sheet", "", "")
	f.StringVar(&by, "by", "", "")
	c.RegisterFlagCompletionFunc("by", cobra.FixedCompletions([]string{byContributor}, cobra.ShellCompDirectiveNoFileComp))
	f.BoolVar(&partial, "partial", false, "")
	f.BoolVar(&strict, "strict", false, "")
	f.BoolVar(&asJSON, "json", false, "")
	return c
}

func libraryCommand(sys system, help func(*cobra.Command, string) *cobra.Command) *cobra.Command {
	var strict, asJSON bool
	c := &cobra.Command{Use: "library [FOLDER]", Args: cobra.ArbitraryArgs, RunE: func(cmd *cobra.Command, args []string) error {
		folder := ""
		switch len(args) {
		case 0:
		case 1:
			folder = args[0]
		default:
			return usageError{fmt.Errorf("one library at a time; %d are named", len(args))}
		}
		inv, ds, err := generator.TakeInventory(folder)
		if err != nil {
			return err
		}
		if asJSON {
			if err := printJSON(sys, ds, inv); err != nil {
				return err
			}
			return verdict(ds, strict)
		}
		if err := ds.Print(sys.stderr, sys.style("", 0)); err != nil {
			return err
		}
		printInventory(sys.stdout, inv, sys.columns())
		return verdict(ds, strict)
	}}
	f := c.Flags()
	f.BoolVar(&strict, "strict", false, "")
	f.BoolVar(&asJSON, "json", false, "")
	c.AddCommand(help(showCommand(sys), showHelp))
	return c
}

// encode writes one object.
func encode(w io.Writer, object any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	return enc.Encode(object)
}

// printJSON writes one object; fields are only ever added.
func printJSON(sys system, ds source.Diagnostics, report any) error {
	return encode(sys.stdout, struct {
		Diagnostics []source.Diagnostic `json:"diagnostics"`
		Report      any                 `json:"report"`
	}{append([]source.Diagnostic{}, ds.Sorted()...), report})
}
