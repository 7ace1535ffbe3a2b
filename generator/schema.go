package generator

import (
	"fmt"
	"slices"

	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/schema"
	"sheaf/generator/theme"
)

// SchemaKinds are the kinds of file that have a schema.
func SchemaKinds() []string { return []string{"entry", "group", "garden", "theme"} }

// Schema gives the JSON Schema of a kind of file, for editors. The names of
// care groups, jobs and countries that it offers are those that ship.
func Schema(kind string) ([]byte, error) {
	l, _, _, err := beside("", false)
	if err != nil {
		return nil, err
	}
	var known entries.Known
	for _, g := range l.Groups {
		known.Groups = append(known.Groups, g.Name.Value)
	}
	for _, j := range l.Jobs {
		known.Jobs = append(known.Jobs, j.Name.Value)
	}
	var countries []string
	for _, r := range l.Regions {
		countries = append(countries, r.Code)
	}
	slices.Sort(known.Groups)
	slices.Sort(countries)
	switch kind {
	case "entry":
		return schema.Document("Sheaf: a plant entry", entries.EntrySchema(known))
	case "group":
		return schema.Document("Sheaf: a care group", entries.GroupSchema(known))
	case "garden":
		return schema.Document("Sheaf: garden.yaml", garden.Schema(countries))
	case "theme":
		return schema.Document("Sheaf: theme.yaml", theme.Schema())
	}
	return nil, fmt.Errorf("there is no schema for %q", kind)
}
