package booklet

import (
	"strings"
	"testing"

	"sheaf/generator/care"
	"sheaf/generator/entries"
	"sheaf/generator/measure"
	"sheaf/generator/site"
	"sheaf/generator/words/wordstest"
)

// spaced makes no-break spaces readable in a table.
func spaced(s string) string { return strings.ReplaceAll(s, measure.Space, " ") }

func date(t *testing.T, s string) site.Day {
	t.Helper()
	d, err := site.ParseDay(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// speaker is a composer that only says things.
func speaker(t *testing.T, lang string, year int, u measure.Units) *composer {
	t.Helper()
	return &composer{Input: Input{Input: care.Input{Words: wordstest.Of(t, lang)}}, year: year, units: u}
}

func TestSpan(t *testing.T) {
	for _, c := range []struct {
		from, to   string
		year       int
		metric, us string
	}{
		{"2027-03-12", "2027-03-12", 2027, "12 March", "March 12"},
		{"2028-03-12", "2028-03-12", 2027, "12 March 2028", "March 12, 2028"},
		{"2027-03-12", "2027-04-23", 2027, "12 March to 23 April", "March 12 to April 23"},
		{"2028-03-12", "2028-04-23", 2027, "12 March to 23 April 2028", "March 12 to April 23, 2028"},
		{"2026-12-20", "2027-01-10", 2027, "20 December 2026 to 10 January 2027", "December 20, 2026 to January 10, 2027"},
		{"2027-12-20", "2028-01-10", 2027, "20 December 2027 to 10 January 2028", "December 20, 2027 to January 10, 2028"},
		{"2028-02-29", "2028-02-29", 2028, "29 February", "February 29"},
	} {
		from, to := date(t, c.from), date(t, c.to)
		if got := spaced(speaker(t, "en-GB", c.year, measure.Metric).span(from, to)); got != c.metric {
			t.Errorf("%s to %s in %d = %q, want %q", c.from, c.to, c.year, got, c.metric)
		}
		if got := spaced(speaker(t, "en-US", c.year, measure.US).span(from, to)); got != c.us {
			t.Errorf("%s to %s in %d, US = %q, want %q", c.from, c.to, c.year, got, c.us)
		}
	}
	// Day and month never part at the end of a line.
	if got := speaker(t, "en-GB", 2027, measure.Metric).day(date(t, "2027-03-12")); got != "12"+measure.Space+"March" {
		t.Errorf("day = %q", got)
	}
	if got := speaker(t, "en-US", 2027, measure.US).dated(date(t, "2027-03-12")); got != "March"+measure.Space+"12,"+measure.Space+"2027" {
		t.Errorf("dated = %q", got)
	}
}

// TestFullSpan: the window of a garden day bears its year, each part that both its days
// share once.
func TestFullSpan(t *testing.T) {
	british, american := speaker(t, "en-GB", 2027, measure.Metric), speaker(t, "en-US", 2027, measure.US)
	for _, c := range []struct{ from, to, metric, us string }{
		{"2027-03-10", "2027-03-20", "10 to 20 March 2027", "March 10 to 20, 2027"},
		{"2027-03-01", "2027-03-31", "1 to 31 March 2027", "March 1 to 31, 2027"},
		{"2027-03-10", "2027-03-10", "10 March 2027", "March 10, 2027"},
		{"2027-03-31", "2027-04-10", "31 March to 10 April 2027", "March 31 to April 10, 2027"},
		{"2027-03-10", "2028-03-10", "10 March 2027 to 10 March 2028", "March 10, 2027 to March 10, 2028"},
		// Across the new year.
		{"2027-12-20", "2028-01-10", "20 December 2027 to 10 January 2028", "December 20, 2027 to January 10, 2028"},
		{"2027-12-31", "2028-01-01", "31 December 2027 to 1 January 2028", "December 31, 2027 to January 1, 2028"},
		// The twenty-ninth of February ends its month.
		{"2028-02-01", "2028-02-29", "1 to 29 February 2028", "February 1 to 29, 2028"},
		{"2028-02-29", "2028-02-29", "29 February 2028", "February 29, 2028"},
	} {
		from, to := date(t, c.from), date(t, c.to)
		if got := spaced(british.fullSpan(from, to)); got != c.metric {
			t.Errorf("%s to %s = %q, want %q", c.from, c.to, got, c.metric)
		}
		if got := spaced(american.fullSpan(from, to)); got != c.us {
			t.Errorf("%s to %s, US = %q, want %q", c.from, c.to, got, c.us)
		}
	}
}

func TestHowMany(t *testing.T) {
	british, american := speaker(t, "en-GB", 2027, measure.Metric), speaker(t, "en-US", 2027, measure.US)
	for _, c := range []struct {
		of         string
		q          float64
		metric, us string
	}{
		{"grass", 1, "1 plant", "1 plant"},
		{"grass", 7, "7 plants", "7 plants"},
		{"grass", 0, "0 plants", "0 plants"},
		{"grass", 100000, "100000 plants", "100000 plants"},
		{"bulb", 1, "1 plant", "1 plant"},
		{"bulb", 120, "120 bulbs", "120 bulbs"},
		{"hedge", 1, "1 m of hedge", "3 ft of hedge"},
		{"hedge", 12.5, "12.5 m of hedge", "41 ft of hedge"},  // 12.5 m are 41.01 ft
		{"hedge", 18.29, "18.3 m of hedge", "60 ft of hedge"}, // a list in feet: 60 ft are 18.288 m
	} {
		e := &entries.Entry{Type: c.of}
		if got := spaced(british.howMany(c.q, e)); got != c.metric {
			t.Errorf("%v of %s = %q, want %q", c.q, c.of, got, c.metric)
		}
		if got := spaced(american.howMany(c.q, e)); got != c.us {
			t.Errorf("%v of %s, US = %q, want %q", c.q, c.of, got, c.us)
		}
	}
}

// TestHands takes its bounds from the comment at hands, which says where they
// are from; nothing is said of lengths in between.
func TestHands(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		want      string
	}{
		{0, 0, ""}, {2, 3, ""},
		{3, 3, "two or three fingers"}, {5, 5, "two or three fingers"}, {6, 6, ""}, {7, 7.9, ""},
		{7.5, 7.5, "a hand’s width"}, {8, 10, "a hand’s width"}, {12, 12, "a hand’s width"}, {10, 15, ""}, {15, 15, ""},
		{16, 16, "a hand’s length"}, {15, 20, "a hand’s length"}, {23, 23, "a hand’s length"}, {24, 24, ""}, {90, 90, ""},
	} {
		if got := speaker(t, "en-GB", 2027, measure.Metric).hands(measure.Length{Low: c.low, High: c.high}); got != c.want {
			t.Errorf("%v to %v cm = %q, want %q", c.low, c.high, got, c.want)
		}
	}
}

func leave(t *testing.T, s string) measure.Leave {
	t.Helper()
	if s == "" {
		return measure.Leave{}
	}
	l, err := measure.ParseLeave(s)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func TestAmount(t *testing.T) {
	british, american := speaker(t, "en-GB", 2027, measure.Metric), speaker(t, "en-US", 2027, measure.US)
	for _, c := range []struct{ leave, metric, us string }{
		{"", "", ""},
		{"8 to 10 cm", "Leave 8 to 10 cm, about a hand’s width", "Leave 3½ to 4 inches, about a hand’s width"},
		{"5 cm", "Leave 5 cm, about two or three fingers", "Leave 2 inches, about two or three fingers"},
		{"60 cm", "Leave 60 cm", "Leave 24 inches"},
		{"one third", "Leave one third of the height", "Leave one third of the height"},
		{"all green leaf", "Leave all green leaf", "Leave all green leaf"},
	} {
		if got := spaced(british.amount(leave(t, c.leave))); got != c.metric {
			t.Errorf("%q = %q, want %q", c.leave, got, c.metric)
		}
		if got := spaced(american.amount(leave(t, c.leave))); got != c.us {
			t.Errorf("%q, US = %q, want %q", c.leave, got, c.us)
		}
	}
}

func TestAction(t *testing.T) {
	for _, c := range []struct {
		action, family, leave string
		units                 measure.Units
		verb, rest, wantLeave string
	}{
		{"Cut back {plant}", "cut", "", measure.Metric, "Cut back", "switch grass", ""},
		{"Cut back {plant}", "cut", "10 cm", measure.Metric, "Cut back", "switch grass to 10 cm", ""},
		{"Cut back {plant}", "cut", "10 cm", measure.US, "Cut back", "switch grass to 4 inches", ""},
		{"Cut back {plant}", "cut", "one third", measure.Metric, "Cut back", "switch grass", "Leave one third of the height"},
		{"Cut back {plant}", "cut", "two buds", measure.Metric, "Cut back", "switch grass", "Leave two buds"},
		{"Cut {plant} to the ground", "cut", "5 cm", measure.Metric, "Cut", "switch grass to the ground", "Leave 5 cm"},
		// A height belongs to a cut alone: one does not comb to 10 cm.
		{"Comb {plant}", "comb", "10 cm", measure.Metric, "Comb", "switch grass", "Leave 10 cm"},
		{"Comb {plant}", "comb", "all living leaf", measure.Metric, "Comb", "switch grass", "Leave all living leaf"},
		{"Cut the spent flowers from {plant}", "cut", "", measure.Metric, "Cut the spent flowers from", "switch grass", ""},
		{"{plant}: look for slugs", "grow", "", measure.Metric, "", "switch grass: look for slugs", ""},
	} {
		verb, rest, left := speaker(t, "en-GB", 2027, c.units).action(&entries.Job{Action: c.action, Family: c.family}, "switch grass", leave(t, c.leave))
		if verb != c.verb || spaced(rest) != c.rest || spaced(left) != c.wantLeave {
			t.Errorf("%s, %q = %q, %q, %q, want %q, %q, %q", c.action, c.leave, verb, rest, left, c.verb, c.rest, c.wantLeave)
		}
	}
}

func TestTimes(t *testing.T) {
	ten := measure.Minutes{Low: 10, High: 10}
	for _, c := range []struct {
		of    string
		all   measure.Minutes
		q     float64
		units measure.Units
		want  string
	}{
		{"grass", ten.Times(9), 9, measure.Metric, "About 10 minutes a plant, about 1½ hours for all."},
		{"hedge", ten.Times(9), 9, measure.Metric, "About 10 minutes a metre, about 1½ hours for all."},
		{"hedge", ten.Times(9), 3, measure.US, "About 25 minutes a yard, about 1½ hours for all."},
		{"grass", ten, 1, measure.Metric, "About 10 minutes."},
		{"grass", ten.Times(0.5), 0.5, measure.Metric, "About 5 minutes."},
		{"grass", measure.Minutes{}, 9, measure.Metric, ""},
	} {
		if got := spaced(speaker(t, "en-GB", 2027, c.units).times(c.all, c.q, &entries.Entry{Type: c.of})); got != c.want {
			t.Errorf("%v of %s = %q, want %q", c.q, c.of, got, c.want)
		}
	}
}

func TestSentence(t *testing.T) {
	for _, c := range []struct{ in, sentence, capital string }{
		{"", "", ""},
		{"cut low", "cut low.", "Cut low"},
		{"cut low.", "cut low.", "Cut low."},
		{"dry?", "dry?", "Dry?"},
		{"stop!", "stop!", "Stop!"},
		{"éclair", "éclair.", "Éclair"},
		{"5 cm", "5 cm.", "5 cm"},
		{"½ a day", "½ a day.", "½ a day"},
		{"like thé", "like thé.", "Like thé"},
	} {
		if got := sentence(c.in); got != c.sentence {
			t.Errorf("sentence of %q = %q", c.in, got)
		}
		if got := capital(c.in); got != c.capital {
			t.Errorf("capital of %q = %q", c.in, got)
		}
	}
	if got := sentence("  cut low \n"); got != "cut low." {
		t.Errorf("sentence keeps the spaces around: %q", got)
	}
}

// TestUses: a glossary lists the words that stand in the text, in any form, and
// not those that only begin or end like one.
func TestUses(t *testing.T) {
	for _, c := range []struct {
		text, term string
		want       bool
	}{
		{"cut the awns", "awn", true}, {"mow the lawn", "awn", false}, {"awnless", "awn", false}, {"deadheading", "deadhead", true},
		{"leaf mould.", "leaf mould", true}, {"a ship, a hip", "hip", true}, {"the chip", "hip", false}, {"", "bud", false}, {"bud", "Bud", true},
	} {
		if got := uses(c.text, c.term, wordstest.English(t).List("grammar.endings")); got != c.want {
			t.Errorf("%q in %q: %v", c.term, c.text, got)
		}
	}
}
