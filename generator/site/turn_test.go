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
