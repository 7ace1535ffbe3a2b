package main

import (
	"errors"
	"fmt"
	"runtime"
	"strings"

	"github.com/spf13/cobra"

	"sheaf/generator"
	"sheaf/generator/source"
)

const showHelp = `Show prints the entry of a plant with the rules of its care group written out, as
a file that can be saved in the plants folder of a garden and changed there.

  sheaf library show "Sesleria autumnalis"
  sheaf library show "Geranium phaeum" > larch-end/plants/geranium-phaeum.md
  sheaf library show Perovskia --json   the same as data, with how it was found

The name is matched as a row of a plant list is: a synonym and a slip of the pen
are told. It ends with 1 when no entry serves it. Options:

  --library DIR      a library folder that comes before the shipped one
  --json             print the diagnostics and the entry as JSON
`

func showCommand(sys system) *cobra.Command {
	var r generator.ShowRequest
	var asJSON bool
	c := &cobra.Command{Use: "show NAME", RunE: func(cmd *cobra.Command, args []string) error {
		switch len(args) {
		case 0:
			return usageError{errors.New("library show needs a plant's name in quotes")}
		case 1:
			r.Name = args[0]
		default:
			return usageError{fmt.Errorf("put the name in quotes: %s", quoted(runtime.GOOS, strings.Join(args, " ")))}
		}
		shown, ds, err := generator.ShowEntry(r)
		if err != nil {
			return err
		}
		if asJSON {
			var report any
			if shown != nil {
				report = shown
			}
			if err := printJSON(sys, ds, report); err != nil {
				return err
			}
		} else {
			sys.tellName(ds)
		}
		if shown == nil {
			return errContent
		}
		if !asJSON {
			_, err = sys.stdout.Write(shown.Written)
		}
		return err
	}}
	f := c.Flags()
	f.StringVar(&r.Library, "library", "", "")
	f.BoolVar(&asJSON, "json", false, "")
	return c
}

// tellName prints what was told of a name that was typed, which has no place in a file,
// and nothing of what a list could do about it.
func (sys system) tellName(ds source.Diagnostics) {
	for _, d := range ds {
		if d.Span.File != nil {
			continue
		}
		fmt.Fprintf(sys.stderr, "sheaf: %s: %s\n", d.Severity, source.Printable(d.Message))
		if d.Code == "list/cautious" {
			continue // its hints are for the list
		}
		for _, h := range d.Hints {
			if d.Code == "list/uncovered" && h == d.Hints[len(d.Hints)-1] {
				h = `sheaf library lists the plants; sheaf start entry begins another`
			}
			fmt.Fprintf(sys.stderr, "hint: %s\n", source.Printable(h))
		}
	}
}
