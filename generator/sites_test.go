package generator_test

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"sheaf/content"
	"sheaf/generator"
	"sheaf/generator/source"
)

// TestLibraryAtTwelveSites checks a garden of every plant in the library at
// twelve places of both hemispheres: no error anywhere, and of warnings only
// those that the place and not the library is the cause of.
func TestLibraryAtTwelveSites(t *testing.T) {
	inv, _, err := generator.TakeInventory("")
	if err != nil {
		t.Fatal(err)
	}
	places := slices.Concat(britain(), endsOfBritain(), ireland(), seattle(), northEast(), philadelphia(), minnesota()[:1], australia(), sydney(), ballarat())
	if len(places) != 12 {
		t.Fatalf("%d places", len(places))
	}
	for _, p := range places {
		t.Run(p.name, func(t *testing.T) {
			text := fmt.Sprintf("garden: All of it\ndate: 2027-03-20\nyears: 2\nsite:\n  latitude: %v\n", p.Latitude)
			country := "GB"
			switch {
			case p.Latitude < 0:
				country = "AU"
			case p.Latitude < 50:
				country = "US"
			}
			text += "  country: " + country + "\n"
			if p.Normals != nil {
				text += "  normals: {min: " + figures(p.Normals.Min) + ", max: " + figures(p.Normals.Max) + ", unit: °C, source: a test}\n"
			}
			if p.LastFrost != nil {
				text += fmt.Sprintf("  frost: {last: %d %s, first: %d %s}\n", p.LastFrost.Day, p.LastFrost.Month, p.FirstFrost.Day, p.FirstFrost.Month)
			}
			text += "plants: plants.csv\n"
			list := "plant,planted\n"
			for _, e := range inv.Entries {
				list += e.Botanical + ",2020-03-01\n"
			}
			o := generator.Options{Now: time.Date(2027, time.January, 1, 0, 0, 0, 0, time.UTC), Folders: generator.Folders{
				Garden: fstest.MapFS{"garden.yaml": {Data: []byte(text)}, "plants.csv": {Data: []byte(list)}}, File: "garden.yaml",
				Library: func(string) (fs.FS, error) { return content.Library(), nil },
			}}
			plan, ds, err := generator.Check(o)
			if err != nil {
				t.Fatal(err)
			}
			for _, d := range ds {
				// Laws of the place forbid some of the library's plants there.
				if d.Severity != source.Note && !strings.HasPrefix(d.Code, "plant/regulated") && d.Code != "garden/no-part" && d.Code != "list/cautious" {
					t.Errorf("%s: %s [%s]", d.Severity, d.Message, d.Code)
				}
			}
			t.Logf("%d plants, %d tasks in two years", len(plan.Plantings), len(plan.Calendar.Tasks))
		})
	}
}

func figures(v [12]float64) string { return strings.ReplaceAll(fmt.Sprint(v), " ", ", ") }
