package garden

import (
	"fmt"
	"testing"

	"sheaf/generator/source"
)

// TestVisits: a garden day is as long as is said, or as is usual for whoever works,
// on the days of the week that are named.
func TestVisits(t *testing.T) {
	for text, want := range map[string]string{
		"":                            "420 []",
		"skill: owner\n":              "240 []",
		"skill: gardener\n":           "420 []",
		"day: 5 hours\n":              "300 []",
		"day: 1 hour\n":               "60 []",
		"day: 2.5 h\n":                "150 []",
		"day: 0.5 hours\n":            "30 []",
		"day: 12 hours\n":             "720 []",
		"weekdays: [Saturday]\n":      "420 [Saturday]",
		"weekdays: Sunday\n":          "420 [Sunday]",
		"weekdays: [Sun, Mon, Sun]\n": "420 [Sunday Monday]",
		"weekdays: [Monday, Tuesday, Wednesday, Thursday, Friday, Saturday, Sunday, Tue, Wed, Thu, Fri, Sat]\n": "420 [Monday Tuesday Wednesday Thursday Friday Saturday Sunday]",
	} {
		g, ds := Parse(source.NewFile("garden.yaml", []byte("garden: x\nsite: {latitude: 52}\n"+text)))
		if got := fmt.Sprintf("%v %v", g.Day, g.Weekdays); got != want || len(ds) > 0 {
			t.Errorf("%q: %s %v, want %s", text, got, ds, want)
		}
	}
	for _, text := range []string{"day: 0 hours", "day: 13 hours", "day: 12.5 hours", "day: 4", "day: 90 minutes", "day: 4.25 hours"} {
		if _, ds := Parse(source.NewFile("garden.yaml", []byte("garden: x\nsite: {latitude: 52}\n"+text+"\n"))); len(ds) != 1 || ds[0].Code != "garden/day" {
			t.Errorf("%q: %v", text, ds)
		}
	}
}
