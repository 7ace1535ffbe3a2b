package garden

import (
	"fmt"
	"strings"
	"testing"

	"sheaf/generator/entries"
	"sheaf/generator/source"
)

// TestCareOfTheList: a plant that only has a care group of the list's takes over
// what its genus can do to people, is not drawn, and asks when it flowers where a
// job hangs on that.
func TestCareOfTheList(t *testing.T) {
	file := func(name, text string) *source.File { return source.NewFile(name, []byte("---\n"+text+"---\n")) }
	job, _ := entries.ParseJob(file("jobs/cut-back.md", "job: cut back\naction: Cut back {plant}\nfamily: cut\nmark: cut back\n"))
	page, _ := entries.ParsePage(file("pages/safety.md", "title: Safety\nhazards: {sap eyes: Wear glasses., thorns: Wear gloves.}\n"))
	bulb, _ := entries.ParseGroup(file("groups/bulb.md", "group: early bulb\ntypes: [bulb]\nleaf: [deciduous]\ncare:\n  - job: cut back\n    when: after flowering\n    leave: all leaf\n"))
	plant := func(name, hazards string) *entries.Entry {
		e, _ := entries.ParseEntry(file("plants/"+name+".md", "botanical: "+name+"\ntype: perennial\nleaf: deciduous\nhabit: clump\nheight: 60 cm\nspread: 50 cm\nhazards: ["+hazards+"]\ncare:\n  - job: cut back\n    when: May\n"))
		return e
	}
	l, ds := entries.Assemble([]entries.Shelf{{
		Jobs: []*entries.Job{job}, Pages: []*entries.Page{page}, Groups: []*entries.Group{bulb},
		Entries: []*entries.Entry{plant("Aconitum carmichaelii", "sap eyes"), plant("Aconitum napellus", "thorns"), plant("Salvia nemorosa", "")},
	}})
	if len(ds) > 0 {
		t.Fatalf("%+v", ds)
	}
	for _, c := range []struct{ plant, care, flowers, codes, hazards string }{
		{"Aconitum lycoctonum", "early bulb", "June", "note list/hazards", "sap eyes thorns"},
		{"Aconitum lycoctonum", "early bulb", "", "note list/hazards; error list/flowering", "sap eyes thorns"},
		{"Salvia pratensis", "early bulb", "May to June", "", ""},
		{"Tulipa clusiana", "early bulb", "April", "warning list/no-hazards", ""},
		{"Tulipa clusiana", "early bulb", "when it likes", "error list/flowering; warning list/no-hazards; error list/flowering", ""},
		{"Tulipa clusiana", "early bulb", "after last frost", "error list/flowering; warning list/no-hazards; error list/flowering", ""},
	} {
		ps, ds := MatchRows([]Row{{Plant: c.plant, Care: source.At[string]{Value: c.care}, Flowers: source.At[string]{Value: c.flowers}}}, l, false)
		var codes, hazards []string
		for _, d := range ds {
			codes = append(codes, fmt.Sprintf("%s %s", d.Severity, d.Code))
		}
		e := ps[0].Entry
		for _, h := range e.Hazards {
			hazards = append(hazards, h.Value)
		}
		if got := strings.Join(codes, "; "); got != c.codes {
			t.Errorf("%s, flowers %q: %s, want %s", c.plant, c.flowers, got, c.codes)
		}
		if got := strings.Join(hazards, " "); got != c.hazards {
			t.Errorf("%s: hazards %q, want %q", c.plant, got, c.hazards)
		}
		if !e.Unmeasured || e.Type != "bulb" || e.Leaf != "deciduous" {
			t.Errorf("%s: %s, %s, %s", c.plant, e.Type, e.Leaf, e.Height.Print(0))
		}
	}
	rows := []Row{{Plant: "Salvia pratensis", Care: source.At[string]{Value: "early bulb"}}}
	if _, ds := MatchRows(rows, l, true); len(ds) != 1 || ds[0].Severity != source.Warning {
		t.Errorf("under partial: %+v", ds)
	}
}
