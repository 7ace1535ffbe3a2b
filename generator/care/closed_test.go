package care

import (
	"fmt"
	"strings"
	"testing"

	"sheaf/generator/entries"
	"sheaf/generator/measure"
	"sheaf/generator/source"
)

// closedIn is a region with one closed season.
func closedIn(from, to, more string) string {
	return fmt.Sprintf("closed:\n  - {law: the Act, jobs: [cut], objects: [hedge], from: %s, to: %s, source: a test, seen: seen, checked: 2026-11-25%s}\n", from, to, more)
}

// TestKeepLaw: a window is cut to what is open, moved to the nearest lawful weeks
// or refused.
func TestKeepLaw(t *testing.T) {
	const summer = "closed:\n  - {law: Act 1, jobs: [trim], objects: [hedge], from: 1 March, to: 31 May, source: a test, seen: seen, checked: 2026-11-25}\n  - {law: Act 2, jobs: [cut], objects: [hedge], from: 15 May, to: 30 September, source: a test, seen: seen, checked: 2026-11-25}\n"
	for _, c := range []struct {
		name, when, more, region string
		want                     string // "" for not dated
	}{
		{"clear of it", "1 January to 20 February", "", closedIn("1 March", "31 August", ""), "2027-01-01 to 2027-02-20"},
		{"its end is cut off", "10 February to 20 March", "", closedIn("1 March", "31 August", ""), "2027-02-10 to 2027-02-28"},
		{"its beginning is cut off", "1 August to 20 September", "", closedIn("1 March", "31 August", ""), "2027-09-01 to 2027-09-20"},
		{"cut in two, the longer part", "1 May to 31 August", "", closedIn("1 June", "30 June", ""), "2027-07-01 to 2027-08-31"},
		{"two days are left", "27 February to 20 March", "", closedIn("1 March", "31 August", ""), "2027-02-07 to 2027-02-28"},
		{"moved before", "10 March to 24 March", "", closedIn("1 March", "31 August", ""), "2027-02-14 to 2027-02-28"},
		{"moved after", "10 August to 24 August", "", closedIn("1 March", "31 August", ""), "2027-09-01 to 2027-09-15"},
		{"before is never", "10 March to 24 March", "    never: [winter]\n", closedIn("1 March", "31 August", ""), ""},
		{"part of before is never", "10 March to 24 March", "    never: [1 January to 18 February]\n", closedIn("1 March", "31 August", ""), "2027-02-19 to 2027-02-28"},
		{"too far from either side", "20 May to 10 June", "", closedIn("1 March", "31 August", ""), ""},
		{"waits for the end of frost", "last frost to 2 weeks after last frost", "", closedIn("10 April", "31 August", ""), ""},
		{"over the new year", "5 January to 20 January", "", closedIn("1 November", "31 January", ""), "2027-02-01 to 2027-02-16"},
		{"the first day is closed", "1 April to 20 April", "", closedIn("20 April", "20 April", ""), "2027-04-01 to 2027-04-19"},
		{"two seasons in a row", "20 May to 10 June", "", summer, ""},
		{"gardens are exempt", "10 March to 24 March", "", closedIn("1 March", "31 August", ", exempt: Gardens are not meant."), "2027-03-10 to 2027-03-24"},
	} {
		s := scene{plant: "type: hedge\nleaf: evergreen\nheight: 200 cm\n", region: c.region,
			care:   "  - job: trim\n    when: " + c.when + "\n    leave: the line\n    if-missed: Do it later.\n" + c.more,
			garden: "site: {latitude: 53, country: XX, normals: " + cambridge + "}\nplants: [{plant: Salvia nemorosa, planted: 2015-01-01}]\n"}
		cal, ds := Plan(s.input(t))
		got := ""
		for _, task := range cal.Tasks {
			got = fmt.Sprintf("%s to %s", task.From, task.To)
			if held := !strings.Contains(c.region, "exempt"); held != (task.Law != nil) || held && task.Rule.IfMissed != "" {
				t.Errorf("%s: law %v, if missed %q", c.name, task.Law, task.Rule.IfMissed)
			}
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
		if told := len(ds) == 1 && ds[0].Code == "care/closed-season"; told != (c.want == "") {
			t.Errorf("%s: told %v", c.name, ds)
		}
		in := s.input(t)
		p := &in.Plantings[0]
		note, _, refused := in.Bound(p, p.Entry.Rules[0])
		if refused != (c.want == "") || (note == "") != strings.Contains(c.region, "exempt") {
			t.Errorf("%s: bound %q, refused %v", c.name, note, refused)
		}
		if _, _, ok := in.FirstDue(p, p.Entry.Rules[0]); ok == refused {
			t.Errorf("%s: first due %v", c.name, ok)
		}
	}
}

// TestPartsOfSeasons: a season of a part holds there and where the part is not
// known.
func TestPartsOfSeasons(t *testing.T) {
	region := "parts: {AA: Upland, BB: Lowland}\n" + closedIn("1 March", "31 August", ", in: [AA]")
	for part, want := range map[string]int{"AA": 1, "Upland": 1, "XX-AA": 1, "BB": 0, "": 1} {
		s := scene{region: region, garden: fmt.Sprintf("site: {latitude: 53, country: XX, region: %q}\n", part)}
		if part == "" {
			s.garden = ""
		}
		in := s.input(t)
		if got := len(in.Seasons()); got != want {
			t.Errorf("%q: %d seasons", part, got)
		}
	}
}

// TestHard: what counts as a cut to the ground. Half of the height is our own
// line, see [entries.Hard].
func TestHard(t *testing.T) {
	for _, c := range []struct {
		leave string
		want  bool
	}{
		{"10 cm", true}, {"40 to 90 cm", true}, {"15 cm, and more where buds sit higher", true}, {"one third", true},
		{"100 cm", true}, {"130 cm", false}, {"half", false}, {"two thirds of the stems", false}, {"the line of last year's cut", false}, {"50 cm clear round gutters", false},
	} {
		l, err := measure.ParseLeave(c.leave)
		if err != nil {
			t.Fatal(err)
		}
		e := &entries.Entry{Type: "shrub", Height: measure.Length{Low: 200, High: 250}}
		r := entries.Rule{Leave: source.At[measure.Leave]{Value: l}}
		if got := entries.Hard(e, &r, &entries.Job{Family: "cut"}); got != c.want {
			t.Errorf("%q: %v", c.leave, got)
		}
		if entries.Hard(e, &r, &entries.Job{Family: "grow"}) {
			t.Errorf("%q of work that cuts nothing", c.leave)
		}
	}
	if !entries.Hard(&entries.Entry{}, &entries.Rule{}, &entries.Job{Family: "cut", Hard: true}) || !entries.Hard(&entries.Entry{}, &entries.Rule{Hard: true}, &entries.Job{Family: "cut"}) {
		t.Error("what a page or an entry says")
	}
}
