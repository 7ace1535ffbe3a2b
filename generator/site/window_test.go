package site

import (
	"errors"
	"reflect"
	"strings"
	"testing"

	"sheaf/generator/words"
	"sheaf/generator/words/wordstest"
)

func mustWindow(t testing.TB, s string) Window {
	t.Helper()
	w, err := ParseWindow(s)
	if err != nil {
		t.Fatalf("%q: %v", s, err)
	}
	return w
}

// phrases holds every form of the language, each in its usual spelling.
var phrases = []string{
	"March",
	"early March",
	"mid March to late April",
	"late February",
	"spring",
	"winter",
	"early winter",
	"mid winter to late winter",
	"autumn to early spring",
	"October to February",
	"15 March",
	"15 March to 10 April",
	"29 February to 31 August",
	"first green",
	"coldest day to hottest day",
	"6 weeks before warm growth to warm growth",
	"1 day before growth end",
	"10 days after last frost to mid June",
	"2 months before first frost to first frost",
	"before first green",
	"after leaf fall",
	"after leaf fall to before first green",
	"flowering",
	"after flowering",
	"before flowering to flowering",
	"1 month after flowering",
	"after flowering to August",
	"late winter to first green",
	"growth end to first green",
	"leaf fall to late winter",
	"first green to growth end",
	"first green to last frost",
	"March or September",
	"after flowering or late winter to 1 week before first green",
}

func TestWindowPrintsAsWritten(t *testing.T) {
	for _, phrase := range phrases {
		w := mustWindow(t, phrase)
		if got := w.String(); got != phrase {
			t.Errorf("%q prints as %q", phrase, got)
		}
		if again := mustWindow(t, w.String()); !reflect.DeepEqual(again, w) {
			t.Errorf("%q: read again from its printing it is %#v, was %#v", phrase, again, w)
		}
	}
}

func TestOtherSpellings(t *testing.T) {
	for in, want := range map[string]string{
		"  MARCH   to\tapril ":           "March to April",
		"fall":                           "autumn",
		"late fall to leaf fall":         "late autumn to leaf fall",
		"mid-March":                      "mid March",
		"March 15 to April 3":            "15 March to 3 April",
		"1 weeks before Last Frost":      "1 week before last frost",
		"2 week after flowering":         "2 weeks after flowering",
		"March to March":                 "March",
		"006 weeks before first green":   "6 weeks before first green",
		"late winter or 15 march or May": "late winter or 15 March or May",
	} {
		if got := mustWindow(t, in).String(); got != want {
			t.Errorf("%q prints as %q, want %q", in, got, want)
		}
	}
}

func TestSyntaxErrors(t *testing.T) {
	for _, c := range []struct {
		phrase, at, message, hint string // at: the part of the phrase at fault
	}{
		{"", "", `expected a month, a season, a date or a cue here`, ""},
		{"Febuary", "Febuary", `expected a month, a season, a date or a cue, not "Febuary"`, "February"},
		{"Sept to Oct", "Sept", `expected a month, a season, a date or a cue, not "Sept"`, "September"},
		{"Ju", "Ju", `expected a month, a season, a date or a cue, not "Ju"`, ""},
		{"frist green", "frist", `expected a month, a season, a date or a cue, not "frist"`, "first"},
		{"first gren", "gren", `expected "green" or "frost", not "gren"`, "green"},
		{"warm frost", "frost", `expected "growth", not "frost"`, ""},
		{"first", "", `expected "green" or "frost" here`, ""},
		{"March to ", "", `expected a month, a season, a date or a cue here`, ""},
		{"March-May", "-", `expected "to" or "or", not "-"`, "to"},
		{"March – May", "–", `expected "to" or "or", not "–"`, "to"},
		{"March, May", ",", `expected "to" or "or", not ","`, "or"},
		{"March to May and June", "and", `expected "or", not "and"`, "or"},
		{"March to May to June", "to", `expected "or", not "to"`, ""},
		{"early", "", `expected a month or a season here`, ""},
		{"late first green", "first", `expected a month or a season, not "first"`, ""},
		{"end March", "end", `expected a month, a season, a date or a cue, not "end"`, "late"},
		{"6 weeks warm growth", "warm", `expected "before" or "after" a cue, not "warm"`, ""},
		{"6 weeks befor warm growth", "befor", `expected "before" or "after" a cue, not "befor"`, "before"},
		{"6 wekes before warm growth", "wekes", `expected days, weeks, months or the name of a month, not "wekes"`, "weeks"},
		{"6", "", `expected days, weeks, months or the name of a month here`, ""},
		{"six weeks before warm growth", "six", `expected a month, a season, a date or a cue, not "six"`, "6"},
		{"0 days after flowering", "0", `expected 1 to 183 days`, ""},
		{"30 weeks before warm growth", "30", `expected 1 to 26 weeks`, ""},
		{"99999999999999999999 days after flowering", "99999999999999999999", `expected 1 to 183 days`, ""},
		{"31 April", "31", `April has days 1 to 30`, ""},
		{"15 to 20 March", "to", `expected days, weeks, months or the name of a month, not "to"`, ""},
		{"after March", "March", `expected a cue, such as first green or last frost, not "March"`, ""},
		{"after flowring", "flowring", `expected a cue, such as first green or last frost, not "flowring"`, "flowering"},
		{"März", "März", `expected a month, a season, a date or a cue, not "März"`, ""},
	} {
		_, err := ParseWindow(c.phrase)
		var e *SyntaxError
		if !errors.As(err, &e) {
			t.Errorf("%q: error %v", c.phrase, err)
			continue
		}
		if at := c.phrase[e.Offset:e.End]; at != c.at || e.Message != c.message || e.Hint != c.hint {
			t.Errorf("%q:\n got %q: %s [%s]\nwant %q: %s [%s]", c.phrase, at, e.Message, e.Hint, c.at, c.message, c.hint)
		}
	}
	if _, err := ParseWindow("Febuary"); err.Error() != `expected a month, a season, a date or a cue, not "Febuary"; did you mean "February"?` {
		t.Error(err)
	}
	var e *SyntaxError
	if _, err := ParseWindow("March to  "); !errors.As(err, &e) || e.Offset != 8 || e.End != 8 {
		t.Errorf("what is missing at the end is missed at %+v", e)
	}
}

func TestUses(t *testing.T) {
	for _, c := range []struct {
		phrase          string
		cues, flowering bool
	}{
		{"March to April", false, false},
		{"15 March", false, false},
		{"March to first green", true, false},
		{"March or after flowering", true, true},
	} {
		w := mustWindow(t, c.phrase)
		if w.UsesCues() != c.cues || w.Uses(Flowering) != c.flowering {
			t.Errorf("%q: cues %t, flowering %t", c.phrase, w.UsesCues(), w.Uses(Flowering))
		}
	}
	if !(Window{}).IsZero() || mustWindow(t, "March").IsZero() {
		t.Error("IsZero")
	}
}

func FuzzParseWindow(f *testing.F) {
	for _, phrase := range phrases {
		f.Add(phrase)
	}
	f.Add("March – Juin")
	f.Add("6 wekes befor frist gren")
	f.Add("\xff 31 fèvrier")
	climates := []*Climate{manchester.site().Climate(), melbourne.site().Climate()}
	bloom, err := ParseWindow("June or October to February")
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, phrase string) {
		w, err := ParseWindow(phrase)
		if err != nil {
			var e *SyntaxError
			if !errors.As(err, &e) {
				t.Fatalf("%q: error of type %T", phrase, err)
			}
			if e.Offset < 0 || e.End < e.Offset || len(phrase) < e.End {
				t.Fatalf("%q: error at %d to %d", phrase, e.Offset, e.End)
			}
			return
		}
		printed := w.String()
		again, err := ParseWindow(printed)
		if err != nil || again.String() != printed || !reflect.DeepEqual(again, w) {
			t.Fatalf("%q prints as %q, read again as %q, %v", phrase, printed, again, err)
		}
		if len(w.spans) > 20 {
			return // nothing new, only slow
		}
		for _, c := range climates {
			for _, i := range (Context{Climate: c, Flowering: bloom}).Resolve(w, 2027) {
				if i.To < i.From || i.From.Year() != 2027 || i.To-i.From > 366 {
					t.Fatalf("%q: %s to %s", phrase, i.From, i.To)
				}
			}
		}
	})
}

// TestWindowSay: a window is said in the language of a booklet; its file's form
// stays English.
func TestWindowSay(t *testing.T) {
	english, american, german := wordstest.English(t), wordstest.Of(t, "en-US"), wordstest.Of(t, "de")
	for _, c := range []struct{ phrase, american, german string }{
		{"6 weeks before warm growth to warm growth", "6 weeks before warm growth to warm growth", "6 Wochen vor Wärmebeginn bis Wärmebeginn"},
		{"1 day after last frost", "1 day after last frost", "1 Tag nach Frostende"},
		{"after flowering", "after flowering", "nach Blüte"},
		{"before first green", "before first green", "vor Austrieb"},
		{"15 March to late April", "March 15 to late April", "15. März bis Ende April"},
		{"mid March", "mid March", "Mitte März"},
		{"mid spring or early autumn or winter", "mid spring or early fall or winter", "Vollfrühling oder Frühherbst oder Winter"},
		{"leaf fall", "leaf fall", "Laubfall"},
	} {
		w := mustWindow(t, c.phrase)
		for _, said := range []struct{ got, want string }{{w.Say(english), c.phrase}, {w.Say(american), c.american}, {w.Say(german), c.german}} {
			if got := strings.ReplaceAll(said.got, "\u00a0", " "); got != said.want {
				t.Errorf("%s: %q, want %q", c.phrase, got, said.want)
			}
		}
	}
	for _, w := range []*words.Words{english, american, german} {
		for _, season := range seasonNames {
			for _, part := range partNames {
				if said := mustWindow(t, strings.TrimSpace(part+" "+season)).Say(w); strings.Contains(said, "[") {
					t.Error(said)
				}
			}
		}
		for _, cue := range append(Cues(), Flowering) {
			if said := cue.Say(w); strings.Contains(said, "[") {
				t.Error(said)
			}
		}
	}
}
