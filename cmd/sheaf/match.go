package main

import (
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"sheaf/generator"
)

func matchCommand(sys system) *cobra.Command {
	var r generator.MatchRequest
	var strict, asJSON bool
	c := &cobra.Command{Use: "match LIST", RunE: func(cmd *cobra.Command, args []string) error {
		switch len(args) {
		case 0:
			return usageError{fmt.Errorf("match needs a plant list, such as plants.csv")}
		case 1:
			r.List = args[0]
		default:
			return usageError{fmt.Errorf("one plant list at a time; %d are named", len(args))}
		}
		cover, ds, err := generator.MatchList(r)
		if err != nil {
			return ledTo(err, r.List)
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
		return verdict(all, strict)
	}}
	f := c.Flags()
	f.StringVar(&r.Sheet, "sheet", "", "")
	f.StringVar(&r.Library, "library", "", "")
	f.BoolVar(&strict, "strict", false, "")
	f.BoolVar(&asJSON, "json", false, "")
	return c
}
