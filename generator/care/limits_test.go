package care

import (
	"strings"
	"testing"
)

// melbourne has no frost and minneapolis a long one (WMO normals 1991-2020,
// Melbourne Olympic Park and Minneapolis St Paul).
const (
	melbourne   = "{min: [15.7, 16.1, 14.4, 11.4, 9.8, 7.9, 7.4, 7.8, 9.4, 10.7, 12.6, 14.1], max: [26.0, 25.7, 23.7, 20.7, 17.4, 14.8, 14.4, 15.4, 17.5, 19.8, 22.0, 23.8]}"
	minneapolis = "{min: [-12.9, -10.7, -3.9, 3.1, 9.9, 15.8, 18.5, 17.1, 12.3, 5.0, -2.4, -9.3], max: [-4.7, -1.9, 5.4, 13.7, 20.6, 26.1, 28.5, 27.1, 22.7, 14.5, 5.5, -1.8]}"
)

// grownAt is a garden with one plant that was planted long ago.
func grownAt(latitude, normals string) string {
	return "site: {latitude: " + latitude + ", country: XX, normals: " + normals + "}\nplants:\n  - plant: Salvia nemorosa\n    planted: 2015-03-20\n"
}

// TestNeeds: a rule is done only where the place has what it needs.
func TestNeeds(t *testing.T) {
	rules := "  - job: divide\n    when: first frost to 2 weeks after first frost\n    needs: frost\n" +
		"  - job: cut back\n    when: growth end\n    needs: no frost\n"
	for _, c := range []struct{ latitude, normals, job, report string }{
		{"44.9", minneapolis, "divide", ""},
		{"-37.8", melbourne, "cut back", "divide: it needs frost"},
	} {
		in := scene{garden: grownAt(c.latitude, c.normals), care: rules}.input(t)
		plan, _ := Plan(in)
		for _, task := range ruled(plan) {
			if task.Job.Name.Value != c.job {
				t.Errorf("at %s %s is dated", c.latitude, task.Job.Name.Value)
			}
		}
		if len(ruled(plan)) == 0 {
			t.Errorf("at %s nothing is dated", c.latitude)
		}
		if got := strings.Join(Survey(in, plan).LeftOut, "\n"); c.report == "" && got != "" || !strings.Contains(got, c.report) {
			t.Errorf("at %s the report leaves out %q", c.latitude, got)
		}
		told := false
		for _, s := range Explain(in, plan, &in.Plantings[0]) {
			told = told || strings.HasPrefix(s.Steps[0], "not done here: ") && s.Job != c.job
		}
		if !told {
			t.Errorf("at %s it is not explained why a rule is left out", c.latitude)
		}
	}
}

// TestNeverAtTheGarden: a window keeps out of what its rule forbids at the garden,
// wherever it is clear of it at the place of reference.
func TestNeverAtTheGarden(t *testing.T) {
	for _, c := range []struct{ when, never, latitude, normals, want string }{
		{"3 weeks after first green to 7 weeks after first green", "winter", "-37.8", melbourne, "2027-09-01/2027-09-26"},
		{"late August to mid September", "6 weeks before first frost to 8 weeks after first frost", "44.9", minneapolis, "2027-08-21/2027-09-05"},
		{"late August to mid September", "6 weeks before first frost to 8 weeks after first frost", "-37.8", melbourne, "2027-02-21/2027-03-20"},
		{"first green to 1 week after first green", "winter", "-37.8", melbourne, ""}, // nothing is left
	} {
		s := scene{garden: grownAt(c.latitude, c.normals), care: "  - job: cut back\n    when: " + c.when + "\n    never: [" + c.never + "]\n"}
		in := s.input(t)
		plan, _ := Plan(in)
		if got := dates(plan); got != c.want {
			t.Errorf("%s, never %s, at %s: %s, want %s", c.when, c.never, c.latitude, got, c.want)
		}
		if left := Survey(in, plan).LeftOut; (c.want == "") != (len(left) == 1) {
			t.Errorf("%s, never %s, at %s: the report leaves out %q", c.when, c.never, c.latitude, left)
		}
	}
}

// TestNestsLeaveOpenGround: a window is not moved out of the nesting season into
// days on which the ground is frozen, and not past the days that its rule allows.
func TestNestsLeaveOpenGround(t *testing.T) {
	nests := "nest: {from: 1 March, to: 31 August}\n"
	for _, c := range []struct{ care, want string }{
		// 10 to 28 February lie before the nests, but only from the 24th does it thaw.
		{"  - job: trim\n    when: 10 February to 26 March\n", "2027-02-10/2027-03-26"},
		{"  - job: trim\n    when: late August to mid September\n", "2027-09-01/2027-09-20"},
		{"  - job: trim\n    when: late August to mid September\n    never: [6 weeks before first frost to first frost]\n", "2027-08-21/2027-09-05"},
	} {
		plan := scene{garden: grownAt("44.9", minneapolis), plant: "type: hedge\n", care: c.care, region: nests}.plan(t)
		if got := dates(plan); got != c.want {
			t.Errorf("%s: %s, want %s", c.care, got, c.want)
		}
		said := len(ruled(plan)[0].Notes) > 0 && strings.HasPrefix(ruled(plan)[0].Notes[0].Text, "No days here are clear")
		if tight := strings.Contains(c.care, "never"); said != tight {
			t.Errorf("%s: it is said that there is no room: %t, want %t", c.care, said, tight)
		}
	}
}

// TestFrozenGround: work that falls wholly into frozen ground is warned of.
func TestFrozenGround(t *testing.T) {
	for when, want := range map[string]bool{"1 January to 10 February": true, "1 January to 10 March": false} {
		_, ds := Plan(scene{garden: grownAt("44.9", minneapolis), care: "  - job: trim\n    when: " + when + "\n"}.input(t))
		if got := len(ds) > 0 && ds[0].Code == "care/frozen-ground"; got != want {
			t.Errorf("%s: warned %t, want %t (%v)", when, got, want, ds)
		}
	}
}
