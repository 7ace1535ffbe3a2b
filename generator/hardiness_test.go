package generator

import (
	"os"
	"strings"
	"testing"

	"sheaf/generator/care"
	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/measure"
	"sheaf/generator/site"
	"sheaf/generator/words/wordstest"
)

// published reads testdata/hardiness/zones.tsv: the coldest zone of plants, each
// with the botanical garden or university that prints it.
func published(t *testing.T) map[string]site.Hardiness {
	t.Helper()
	text, err := os.ReadFile("../testdata/hardiness/zones.tsv")
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]site.Hardiness{}
	for line := range strings.Lines(string(text)) {
		cells := strings.Split(strings.TrimSpace(line), "\t")
		if strings.HasPrefix(line, "#") {
			continue
		}
		if len(cells) != 3 || cells[2] == "" {
			t.Fatalf("%q: want a name, a zone and who says so", line)
		}
		zone, err := site.ParseHardiness("Z" + cells[1])
		if err != nil {
			t.Fatal(err)
		}
		out[cells[0]] = zone
	}
	return out
}

// TestZonesArePublished: no entry is called hardier than a published record of
// it, none more than two half-zones tenderer, and each names its source.
func TestZonesArePublished(t *testing.T) {
	_, l, _ := shipped(t, nil)
	records := published(t)
	compared := 0
	const halfZone = 5 / 1.8 // K
	for _, e := range l.Entries {
		if !strings.Contains(strings.Join(e.Sources, "\n"), "(zone)") {
			t.Errorf("%s does not say where its zone is from", e.File.Path)
		}
		record, ok := records[e.Name.Value.Plain()]
		if !ok {
			continue
		}
		compared++
		if by := e.Zone.Value.Low - record.Low; by < -0.01 || by > 4*halfZone+0.01 {
			t.Errorf("%s: zone %s, published %s", e.File.Path, e.Zone.Value.Zone(), record.Zone())
		}
	}
	if compared < 60 {
		t.Errorf("only %d entries are compared", compared)
	}
}

// TestPhiladelphia: in zone 7b (USDA Plant Hardiness Zone Map, 2023) no plant
// whose published record begins at zone 7 or colder is called too tender,
// whatever the RHS rates it.
func TestPhiladelphia(t *testing.T) {
	_, l, _ := shipped(t, nil)
	records := published(t)
	night := measure.Celsius(-15) // the lower end of zone 7b, 5 °F
	in := care.Input{Garden: &garden.Garden{ColdestNight: &night}, Library: l, Region: l.Region("US"), English: wordstest.English(t)}
	told, tender := 0, 0
	for _, e := range l.Entries {
		record, ok := records[e.Name.Value.Plain()]
		if !ok {
			continue
		}
		told++
		_, cold := in.TooCold(&garden.Planting{Entry: e}, in.English)
		if cold && record.Low <= -17 {
			t.Errorf("%s is said to be too tender; published: zone %s", e.Name.Value, record.Zone())
		}
		if !cold && record.Low > -12 && !e.Lifted {
			t.Errorf("%s is said to be hardy; published: zone %s", e.Name.Value, record.Zone())
		}
		if cold {
			tender++
		}
	}
	if tender == 0 || told < 60 {
		t.Errorf("of %d plants %d are too tender", told, tender)
	}
	for _, name := range []string{"Salvia yangii", "Lavandula angustifolia", "Hydrangea macrophylla"} {
		e := entryNamed(t, l, name)
		if _, cold := in.TooCold(&garden.Planting{Entry: e}, in.English); cold {
			t.Errorf("%s is said to be too tender for zone 7b", name)
		}
	}
}

func entryNamed(t *testing.T, l *entries.Library, name string) *entries.Entry {
	t.Helper()
	for _, e := range l.Entries {
		if e.Name.Value.Plain() == name {
			return e
		}
	}
	t.Fatalf("the library has no %s", name)
	return nil
}
