package generator_test

import (
	"fmt"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"sheaf/content"
	"sheaf/generator"
	"sheaf/generator/source"
)

// TestLibraryAtTwelveSites checks a garden of every plant in the library at
// fourteen places of both hemispheres: no error anywhere, and of warnings only
// those that the place and not the library is the cause of.
func TestLibraryAtTwelveSites(t *testing.T) {
	t.Parallel()
	inv, _, err := generator.TakeInventory("")
	if err != nil {
		t.Fatal(err)
	}
	list := "plant,planted\n"
	for _, e := range inv.Entries {
		list += e.Botanical + ",2020-03-01\n"
	}
	for _, p := range fourteen() {
		t.Run(p.name, func(t *testing.T) {
			text := fmt.Sprintf("garden: All of it\ndate: 2027-03-20\nyears: 1\nsite:\n  latitude: %v\n  country: %s\n", p.Latitude, p.country)
			text += "  normals: {min: " + figures(p.Normals.Min) + ", max: " + figures(p.Normals.Max) + ", unit: °C, source: a test}\nplants: plants.csv\n"
			o := generator.Options{Now: time.Date(2027, time.January, 1, 0, 0, 0, 0, time.UTC), Folders: generator.Folders{
				Garden: fstest.MapFS{"garden.yaml": {Data: []byte(text)}, "plants.csv": {Data: []byte(list)}}, File: "garden.yaml",
				Library: func(string) (fs.FS, error) { return content.Library(), nil },
			}}
			plan, ds, err := generator.Check(o)
			if err != nil {
				t.Fatal(err)
			}
			for _, d := range ds {
				// Laws of the place forbid some of the library's plants there, and some work.
				if d.Severity != source.Note && !strings.HasPrefix(d.Code, "plant/regulated") && d.Code != "garden/no-part" && d.Code != "care/closed-season" && d.Code != "list/cautious" {
					t.Errorf("%s: %s [%s]", d.Severity, d.Message, d.Code)
				}
			}
			if len(plan.Plantings) != len(inv.Entries) || len(plan.Calendar.Tasks) < len(inv.Entries) {
				t.Errorf("%d plants of %d, %d tasks", len(plan.Plantings), len(inv.Entries), len(plan.Calendar.Tasks))
			}
		})
	}
}

func figures(v [12]float64) string { return strings.ReplaceAll(fmt.Sprint(v), " ", ", ") }
