package booklet

import (
	"slices"
	"strings"
	"testing"

	"sheaf/generator/prose"
)

// guided makes a guide of the garden and adds a second writer's word on one of its
// plants.
func guided(more ...string) []string {
	return append([]string{
		"date: 2027-03-20", "date: 2027-03-20\nkind: guide\nedition: Second edition\npermissions: [Drawings by leave]\ninclude: {also: [Salvia nemorosa 'Blauhuegel']}",
		"look-for: Green tips & <b>straw</b>.", "look-for: Green tips.\n    cautions: [Cut leaves are sharp.]",
		"sources: [common practice]\n---\nA low mound, *golden* in spring.", "sources: [common practice]\ncontributor: Ann Aster\n---\nA low mound, *golden* in spring.",
		"-- library/plants/salvia.md --", secondHand + "-- library/plants/salvia.md --",
		"plants:\n  - {plant: Hakonechloa macra 'Aureola', quantity: 9, bed: Court <i>&amp;</i> yard, notes: Private ask}\n  - {plant: Hakonechloa macra 'Aureola', quantity: 3, bed: Border}\n  - {plant: Salvia nemorosa 'Caradonna', quantity: 5, bed: Border}\n  - {plant: Salvia nemorosa 'Blauhuegel', quantity: 4, bed: Court <i>&amp;</i> yard}\n  - {plant: Euphorbia characias, quantity: 1, bed: Border}\n  - {plant: Taxus baccata, quantity: 12, bed: Border}\n  - {plant: Bergenia cordifolia, quantity: 6}\n  - {plant: Astrantia major, quantity: 2, bed: Court <i>&amp;</i> yard, care: cleared in spring}\n", "",
	}, more...)
}

const secondHand = `-- library/plants/hakonechloa-zinnia.md --
---
botanical: Hakonechloa macra 'Aureola'
common: [golden Hakone grass]
type: grass
growth: warm-season
leaf: deciduous
habit: mound
height: 35 cm
spread: 50 cm
hazards: [toxic to pets]
care:
  - job: cut back
    when: 20 April to 1 May or 3 May to 5 May
    every: 2 years
    leave: 12 cm
    how: Cut above the tips
    cautions: [Old stubs are sharper still.]
sources: [common practice]
contributor: Bob Zinnia
---
With us it comes late.
`

// TestGuide: many plants of a place, long grown, without quantities; each part
// under a half-title, each writer credited, what they differ in side by side.
func TestGuide(t *testing.T) {
	in := input(t, guided()...)
	b := Compose(in)
	if !b.Guide || b.Date != "Second edition, 20\u00a0March\u00a02027" {
		t.Errorf("guide %v, date %q", b.Guide, b.Date)
	}
	have := map[string]bool{}
	for _, s := range b.Sections {
		if have[s.ID] {
			t.Errorf("two sections have the ID %s", s.ID)
		}
		have[s.ID] = true
	}
	for _, id := range targets(b) {
		if !have[id] {
			t.Errorf("a link leads to %q, which is missing", id)
		}
	}
	if got, want := strings.Join(ids(b.Of(Half)), " "), "parts/grass parts/perennial parts/hedge"; got != want {
		t.Errorf("parts %q, want %q", got, want)
	}
	for _, s := range b.Of(Plant) {
		leads := func(k Kind) bool {
			return slices.ContainsFunc(b.Of(k), func(o *Section) bool { return slices.Contains(targets(o.Blocks), s.ID) })
		}
		if !leads(Half) || !leads(Year) || !leads(Index) || !leads(Month) {
			t.Errorf("%s: half-title %v, year %v, index %v, months %v lead to it", s.ID, leads(Half), leads(Year), leads(Index), leads(Month))
		}
	}
	for _, text := range texts(b) {
		for _, no := range []string{"9\u00a0plants", "Court", "for all", "In this garden", "this garden", "handed over"} {
			if strings.Contains(text, no) {
				t.Errorf("%q in a guide", text)
			}
		}
	}

	page := b.Find("plants/hakonechloa-macra-aureola")
	if page == nil {
		t.Fatal("there is no page of the grass")
	}
	all := spaced(strings.Join(texts(page.Blocks), "\n"))
	for _, want := range []string{
		"Leave 8 to 10 cm, about a hand’s width", // the first writer's
		"10 March to 20 April",
		"Every 3 years",
		"As Bob Zinnia keeps it",
		"20 April to 1 May and 3 May to 5 May. Every 2 years. Leave 12 cm, about a hand’s width. Take care: Old stubs are sharper still.",
		"Not done.", // he does not divide
		"With us it comes late.",
		"Written by Bob Zinnia.", "Written by Ann Aster.",
		in.Library.Caution("toxic to pets"), // what only he warns of
		"Rich soil", "Do not feed it.",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("the grass's page lacks %q in\n%s", want, all)
		}
	}
	if i := strings.Index(all, "As Bob Zinnia"); i >= 0 && strings.Contains(all[i:], "Cut above the tips") {
		t.Error("what both say stands twice")
	}

	who := b.Find("contributors")
	if who == nil {
		t.Fatal("nobody is credited")
	}
	rows := found[Facts](who)[0].Rows
	if len(rows) != 3 || rows[0].Label != "Ann Aster" || rows[1].Label != "A. N. Member" || !slices.Contains(targets(rows[2:]), page.ID) {
		t.Errorf("credited are %v", rows)
	}
	if said := strings.Join(texts(who.Blocks), "\n"); !strings.Contains(said, "Drawings by leave.") {
		t.Errorf("no permissions in\n%s", said)
	}

	contents := found[Entries](b.Find("contents"))[0].Rows
	i := slices.IndexFunc(contents, func(r EntryRow) bool { return r.Target == "parts/perennial" })
	if i < 0 || b.Find(contents[i].Last) == nil || b.Find(contents[i].Last).Part != "Perennials" {
		t.Errorf("contents: %v", contents)
	}
	if slices.ContainsFunc(contents, func(r EntryRow) bool { return r.Target == page.ID }) {
		t.Error("the contents of a guide list its plants")
	}
	for _, e := range b.Events() {
		if strings.Contains(strings.Join(e.Lines, "\n"), "plants") {
			t.Errorf("an event has quantities: %q", e.Lines)
		}
	}
}

// TestGuideClimate: the page of the place has its curves where there are normals,
// with a number at each cue that the list below explains.
func TestGuideClimate(t *testing.T) {
	const normals = "site: {latitude: 53, country: XX, coldest-night: -7 °C, elevation: 30 m, normals: {unit: °C, min: [1, 1, 3, 4, 7, 10, 12, 12, 10, 7, 4, 2], max: [7, 8, 11, 14, 17, 20, 23, 22, 19, 15, 10, 8]}}"
	b := Compose(input(t, guided("site: {latitude: 53, country: XX, coldest-night: -7 °C}", normals)...))
	s := b.Find("climate")
	if s == nil || s.Aside != "53.0° north, 30\u00a0m above the sea, the coldest night of a usual winter −7\u00a0°C" {
		t.Fatalf("%+v", s)
	}
	figures, rows := found[Figure](s), found[Facts](s)[0].Rows
	if len(figures) != 1 {
		t.Fatalf("%d pictures", len(figures))
	}
	shown := strings.Join(texts(figures[0]), "\n")
	for i, r := range rows {
		n, _, _ := strings.Cut(r.Label, " ")
		if n != []string{"1", "2", "3", "4", "5", "6", "7", "8", "9"}[i] || !strings.Contains("\n"+shown+"\n", "\n"+n+"\n") {
			t.Errorf("cue %q is not in the picture:\n%s", r.Label, shown)
		}
		if prose.String(r.Text) == "" {
			t.Errorf("%q has no date", r.Label)
		}
	}
	if plain := Compose(input(t, guided()...)).Find("climate"); plain == nil || len(found[Figure](plain)) != 0 {
		t.Error("a curve without temperatures")
	}
}
