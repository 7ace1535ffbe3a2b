package generator_test

import (
	"fmt"
	"slices"
	"strings"

	"sheaf/generator/entries"
)

// representatives are the entries among which a test of work finds what it would
// find among all of them, a third as many: each with a rule, an adjustment or a
// caution of its own, and of those that do what their care group does the first for
// each of what the test looks at.
func representatives(l *entries.Library, alike func(e *entries.Entry) string) []*entries.Entry {
	seen := map[string]bool{}
	var out []*entries.Entry
	for _, e := range l.Entries {
		own := e.Group == nil || len(e.Adjust)+len(e.Cautions) > 0 || slices.ContainsFunc(e.Rules, func(r entries.Rule) bool { return r.Job.Span.File == e.File })
		key := e.GroupName.Value + "|" + alike(e)
		if own || !seen[key] {
			out = append(out, e)
		}
		if !own {
			seen[key] = true
		}
	}
	return out
}

// byFlowers tells entries apart by what their group's windows hang on.
func byFlowers(e *entries.Entry) string { return fmt.Sprint(e.Flowers.Value, e.WrittenFor) }

// byHazards tells entries apart by what is printed to keep people and animals safe.
func byHazards(e *entries.Entry) string {
	var kinds []string
	for _, h := range e.Hazards {
		kinds = append(kinds, h.Value)
	}
	slices.Sort(kinds)
	return strings.Join(kinds, ",")
}

// listOf is a plant list of entries, each with the day on which it was planted.
func listOf(es []*entries.Entry, days ...string) string {
	list := "plant,quantity,bed,planted\n"
	for _, e := range es {
		for _, day := range days {
			list += fmt.Sprintf("%s,3,Border,%s\n", e.Name.Value.Plain(), day)
		}
	}
	return list
}
