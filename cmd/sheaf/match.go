package main

import (
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"sheaf/generator"
	"sheaf/generator/garden"
	"sheaf/generator/source"
)

func matchCommand(sys system) *cobra.Command {
	var r generator.MatchRequest
	var strict, asJSON, fix bool
	var out string
	c := &cobra.Command{Use: "match LIST", RunE: func(cmd *cobra.Command, args []string) error {
		switch len(args) {
		case 0:
			return usageError{fmt.Errorf("match needs a plant list, such as plants.csv")}
		case 1:
			r.List = args[0]
		default:
			return usageError{fmt.Errorf("one plant list at a time; %d are named", len(args))}
		}
		switch {
		case out != "" && !fix:
			return usageError{fmt.Errorf("--out names the file that --fix writes: add --fix")}
		case fix && out == "" && r.List == generator.Stdin:
			return usageError{fmt.Errorf("a list that comes in has no name to write beside: --out plants-fixed.csv")}
		case out == "":
			out = generator.FixedName(r.List)
		}
		r.In = sys.stdin
		cover, ds, err := generator.MatchList(r)
		if err != nil {
			return ledTo(err, r.List)
		}
		var fixed garden.Fix
		if fix = fix && len(cover.Rows) > 0; fix {
			if fixed, err = cover.Fix(out); err != nil {
				return hinted{err, "--out FILE writes to another file"}
			}
		}
		all := append(slices.Clone(ds), cover.Told()...)
		if asJSON {
			if err := printJSON(sys, all, cover); err != nil {
				return err
			}
			return verdict(all, strict)
		}
		if err := ds.Print(sys.stderr, sys.style("", 0)); err != nil {
			return err
		}
		if len(cover.Rows) > 0 {
			printCoverage(sys.stdout, cover, sys.columns())
		}
		if fix {
			fmt.Fprintf(sys.stderr, "%s: %s put right, %s to answer, %s without care\n", source.Printable(out), count(fixed.Renamed, "name", "names"), count(fixed.Asked, "question", "questions"), count(fixed.Without, "row", "rows"))
		}
		return verdict(all, strict)
	}}
	f := c.Flags()
	f.StringVar(&r.Sheet, "sheet", "", "")
	f.StringVar(&r.Library, "library", "", "")
	f.BoolVar(&fix, "fix", false, "")
	f.StringVar(&out, "out", "", "")
	f.BoolVar(&strict, "strict", false, "")
	f.BoolVar(&asJSON, "json", false, "")
	return c
}
