package site

import "testing"

func TestTurnMonths(t *testing.T) {
	for text, want := range map[string]string{
		"":                                  "",
		"Cut it in late June.":              "Cut it in late December.",
		"From November to mid-January":      "From May to mid-July",
		"May be cut. In May it may flower.": "May be cut. In November it may flower.",
		"Marching in spring":                "Marching in spring",
		"August":                            "February",
	} {
		got := TurnMonths(text)
		if got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
		if back := TurnMonths(got); back != text {
			t.Errorf("%q turned twice is %q", text, back)
		}
	}
}

func TestTurned(t *testing.T) {
	for phrase, want := range map[string]string{
		"late June to July":                      "late December to January",
		"15 March to 31 August":                  "15 September to 29 February",
		"early spring":                           "early spring",
		"4 weeks before first green to May":      "4 weeks before first green to November",
		"November to January or after flowering": "May to July or after flowering",
	} {
		w, err := ParseWindow(phrase)
		if err != nil {
			t.Fatal(err)
		}
		if got := w.Turned().String(); got != want {
			t.Errorf("%q: %q, want %q", phrase, got, want)
		}
	}
}
