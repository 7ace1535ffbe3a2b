package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"sheaf/generator"
)

const schemaHelp = `Schema prints what an editor needs to complete and check a file while it is
written: a JSON Schema, edition 2020-12.

  sheaf schema garden > garden.schema.json
  sheaf schema entry                    the front matter of a plant's entry
  sheaf schema group                    the front matter of a care group
  sheaf schema theme                    theme.yaml

For a garden, write as the first line of garden.yaml:

  # yaml-language-server: $schema=garden.schema.json
`

func schemaCommand(sys system) *cobra.Command {
	return &cobra.Command{Use: "schema KIND", RunE: func(cmd *cobra.Command, args []string) error {
		kinds := generator.SchemaKinds()
		if len(args) != 1 {
			return usageError{fmt.Errorf("schema needs one kind of file: %s", strings.Join(kinds, ", "))}
		}
		if !slices.Contains(kinds, args[0]) {
			return usageError{fmt.Errorf("there is no schema for %q; there are %s", args[0], strings.Join(kinds, ", "))}
		}
		text, err := generator.Schema(args[0])
		if err != nil {
			return err
		}
		_, err = sys.stdout.Write(text)
		return err
	}}
}
