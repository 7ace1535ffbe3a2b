package html_test

import (
	"slices"
	"strings"
	"testing"

	"sheaf/generator/booklet"
	"sheaf/generator/theme/themetest"
)

// TestDaysInTheYear: the chart's head has a row of the garden days, each at its window,
// told in words and leading to its page; without days there is no such row.
func TestDaysInTheYear(t *testing.T) {
	b := everything(t)
	th := themetest.Fieldbook(t)
	out, _, err := render(b, th)
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(out["year.html"]), `class="days"`) {
		t.Error("a year without garden days has a row for them")
	}
	s := b.Find("year")
	chart := s.Blocks[0].(booklet.Chart)
	chart.Days = []booklet.ChartDay{
		{Number: 1, From: 0.25, To: 0.5, ID: "days/1", Label: "Garden day 1, <12> March & on"},
		{Number: 2, From: 0.3, To: 0.32, ID: "days/2", Label: "Garden day 2, 20 March"}}
	s.Blocks[0] = chart
	if out, _, err = render(b, th); err != nil {
		t.Fatal(err)
	}
	page := string(out["year.html"])
	for _, want := range []string{
		`<tr class="days"><th scope="row">Garden days</th>`,
		`<a href="days/1.html" aria-label="Garden day 1, &lt;12&gt; March &amp; on">`, `<a href="days/2.html" aria-label="Garden day 2, 20 March">`,
		`<rect x="47.5" y="6.8" width="47.5" height="1.6"`, // from 0.25 to 0.5 of 190 mm
	} {
		if !strings.Contains(page, want) {
			t.Errorf("the year has no %s", want)
		}
	}
	// A theme that leaves out the pages of days: what else leads to them is words alone.
	b.Left = map[string]bool{"days/1": true, "days/2": true}
	b.Sections = slices.DeleteFunc(b.Sections, func(s booklet.Section) bool { return s.Kind == booklet.Day })
	if out, _, err = render(b, th); err != nil {
		t.Fatal(err)
	}
	if page = string(out["year.html"]); strings.Contains(page, `href="days`) || !strings.Contains(page, ">2</text>") {
		t.Error("a theme without the pages of days has marks that lead to them, or none")
	}
}
