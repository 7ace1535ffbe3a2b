package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"runtime"
	"strings"

	"github.com/spf13/cobra"

	"sheaf/generator"
	"sheaf/generator/source"
)

const startHelp = `Start makes a garden or an entry to fill in. It writes over nothing.

  sheaf start garden larch-end --from plants.csv
                                        a folder with garden.yaml and the list
  sheaf start entry "Geranium phaeum"   plants/geranium-phaeum.md, here

sheaf start garden --help and sheaf start entry --help say more.
`

const startGardenHelp = `Start garden makes a garden's folder from a plant list.

  sheaf start garden larch-end --from plants.csv
  sheaf start garden . --from plants.xlsx
                                        the folder in which the list lies
  sheaf start garden larch-end --from - the list comes in, as from a pipe

The list is copied in as it is. garden.yaml has the beds that the list names;
what is not known is a question beside it. The place is a guess, so that the
garden can be built at once: say where it is before you hand anything over.
Nothing is written over, and if something fails nothing is left. Options:

  --from LIST        the plant list, a CSV or XLSX file
  --sheet NAME       the sheet of a workbook (default: the one that looks most
                     like a plant list)
`

const startEntryHelp = `Start entry makes the entry of a plant, to fill in.

  sheaf start entry "Geranium phaeum 'Album'"
                                        plants/geranium-phaeum-album.md, here
  sheaf start entry "Geranium phaeum 'Album'" larch-end
                                        in the garden or library larch-end

What entries of the same species say, or else what all of the same genus agree
on, is filled in with the words "from … : check". Keys without a value are
questions: sheaf check FILE.md tells them. Nothing is made up, and nothing is
written over.
`

// startCommand has a command of its own for each thing that can be started.
func startCommand(sys system, help func(*cobra.Command, string) *cobra.Command) *cobra.Command {
	c := &cobra.Command{Use: "start", RunE: func(cmd *cobra.Command, args []string) error {
		if len(args) == 0 {
			return usageError{errors.New("start what? a garden or an entry")}
		}
		return usageError{fmt.Errorf("start makes a garden or an entry, not %q%s", args[0], orMean(args[0], commandNames(cmd)))}
	}, Args: cobra.ArbitraryArgs}
	c.AddCommand(help(startGardenCommand(sys), startGardenHelp), help(startEntryCommand(sys), startEntryHelp))
	return c
}

func startGardenCommand(sys system) *cobra.Command {
	var r generator.GardenRequest
	c := &cobra.Command{Use: "garden DIR", RunE: func(cmd *cobra.Command, args []string) error {
		switch {
		case len(args) == 0:
			return usageError{errors.New("start garden needs a folder, such as larch-end")}
		case len(args) > 1:
			return usageError{fmt.Errorf("one garden at a time; %d are named", len(args))}
		case r.List == "":
			return usageError{errors.New("start garden needs a plant list: --from plants.csv")}
		}
		r.Dir, r.In = args[0], sys.stdin
		var err error
		if r.Now, _, err = sys.today(); err != nil {
			return err
		}
		made, ds, err := generator.StartGarden(r)
		if err != nil {
			return ledTo(err, r.List)
		}
		if err := unnoted(ds).Print(sys.stderr, sys.style("", mostShown)); err != nil {
			return err
		}
		if made == nil {
			return errContent
		}
		printGarden(sys, made)
		return nil
	}}
	c.Flags().StringVar(&r.List, "from", "", "")
	c.Flags().StringVar(&r.Sheet, "sheet", "", "")
	return c
}

// printGarden tells what was made and what comes next.
func printGarden(sys system, g *generator.StartedGarden) {
	say := func(text string, args ...any) {
		for _, l := range wrap(fmt.Sprintf(text, args...), sys.columns()) {
			fmt.Fprintln(sys.stderr, l)
		}
	}
	for _, name := range g.Files {
		fmt.Fprintln(sys.stderr, filepath.Join(g.Dir, name))
	}
	say("%s in %s", count(g.Plantings, "planting", "plantings"), count(len(g.Beds), "bed", "beds"))
	// What is to be copied stands in one line, whatever its length.
	hint := func(text string, words ...string) {
		for i := range words {
			words[i] = quoted(runtime.GOOS, words[i])
		}
		fmt.Fprintf(sys.stderr, "hint: "+text+"\n", source.Printable(strings.Join(words, " ")))
	}
	build := []string{"sheaf", "build", g.Dir}
	if n := len(g.Uncovered); n > 0 {
		named, more := g.Uncovered, ""
		if n > mostShown {
			named, more = named[:mostShown], fmt.Sprintf(" and %d more", n-mostShown)
		}
		say("without care: %s%s", strings.Join(named, ", "), more)
		hint("%s begins one of them", "sheaf", "start", "entry", g.Uncovered[0], g.Dir)
		hint("%s makes the booklet, which says that their care is still to come", append(build, "--partial")...)
	} else {
		hint("%s makes the booklet", build...)
	}
	say("hint: its place is a guess: answer the questions in %s before you hand it over", filepath.Join(g.Dir, "garden.yaml"))
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func startEntryCommand(sys system) *cobra.Command {
	return &cobra.Command{Use: "entry NAME [FOLDER]", RunE: func(cmd *cobra.Command, args []string) error {
		folder := "."
		switch len(args) {
		case 0:
			return usageError{errors.New("start entry needs a botanical name in quotes")}
		case 1:
		case 2:
			folder = args[1]
		default:
			return usageError{fmt.Errorf("put the name in quotes: %s", quoted(runtime.GOOS, strings.Join(args, " ")))}
		}
		made, err := generator.StartEntry(args[0], folder)
		var name *generator.NameError
		if errors.As(err, &name) {
			return usageError{err}
		} else if err != nil {
			return err
		}
		for _, r := range made.Read {
			fmt.Fprintln(sys.stderr, "note: "+r)
		}
		from := "from nothing: no entry is of its genus"
		if len(made.Models) > 0 {
			from = "from " + strings.Join(made.Models, ", ")
		}
		if made.Before != "" {
			fmt.Fprintf(sys.stderr, "note: it comes before %s\n", made.Before)
		}
		for _, l := range wrap(fmt.Sprintf("%s: %s, %s; %s left", made.File, made.Name, from, count(made.Asks, "question", "questions")), sys.columns()) {
			fmt.Fprintln(sys.stderr, l)
		}
		fmt.Fprintf(sys.stderr, "hint: sheaf check %s tells them\n", source.Printable(quoted(runtime.GOOS, made.File)))
		return nil
	}}
}
