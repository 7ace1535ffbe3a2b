package measure

import (
	"math"
	"strings"
	"testing"

	"sheaf/generator/words/wordstest"
)

// plain makes no-break spaces readable in a table.
func plain(s string) string { return strings.ReplaceAll(s, Space, " ") }

func TestLength(t *testing.T) {
	for _, c := range []struct {
		in         string
		low, high  float64
		metric, us string
	}{
		{"35 cm", 35, 35, "35 cm", "14 inches"},
		{"60 to 90 cm", 60, 90, "60 to 90 cm", "24 to 35 inches"},
		{"1.2 m", 120, 120, "120 cm", "4 feet"},
		{"1,5–2,5 m", 150, 250, "1.5 to 2.5 m", "5 to 8 feet"},
		{"18 in", 45.72, 45.72, "45.7 cm", "18 inches"},
		{"3 ft", 91.44, 91.44, "91.4 cm", "3 feet"},
		{"5cm", 5, 5, "5 cm", "2 inches"},
		{"10 to 15 cm", 10, 15, "10 to 15 cm", "4 to 6 inches"},
	} {
		l, err := ParseLength(c.in)
		if err != nil || math.Abs(l.Low-c.low) > 1e-9 || math.Abs(l.High-c.high) > 1e-9 {
			t.Errorf("%q = %v, %v", c.in, l, err)
		}
		if got := plain(l.Print(Metric)); got != c.metric {
			t.Errorf("%q prints %q, want %q", c.in, got, c.metric)
		}
		if got := plain(l.Print(US)); got != c.us {
			t.Errorf("%q prints %q, want %q", c.in, got, c.us)
		}
	}
	for _, bad := range []string{"", "35", "cm", "-5 cm", "90 to 60 cm", "35 cm tall", "1e9 cm", "3 yd"} {
		if l, err := ParseLength(bad); err == nil {
			t.Errorf("%q read as %v", bad, l)
		}
	}
}

func TestAreaAndTemperature(t *testing.T) {
	// 1 m² = 10.7639104 sq ft (NIST SP 811).
	a, err := ParseArea("14 m²")
	if err != nil || plain(a.Say(US, wordstest.English(t))) != "151 sq ft" || plain(a.Say(Metric, wordstest.English(t))) != "14 m²" {
		t.Errorf("14 m²: %v %v", a, err)
	}
	if b, _ := ParseArea("150 sq ft"); math.Abs(float64(b)-13.935456) > 1e-9 {
		t.Errorf("150 sq ft = %v m²", b)
	}
	for in, want := range map[string][2]string{
		"-7 °C": {"−7 °C", "19 °F"}, "19°F": {"−7 °C", "19 °F"}, "−0.2 C": {"0 °C", "32 °F"}, "0 F": {"−18 °C", "0 °F"},
	} {
		c, err := ParseTemperature(in)
		if err != nil || plain(c.Say(Metric, wordstest.English(t))) != want[0] || plain(c.Say(US, wordstest.English(t))) != want[1] {
			t.Errorf("%q prints %q %q, want %v (%v)", in, c.Say(Metric, wordstest.English(t)), c.Say(US, wordstest.English(t)), want, err)
		}
	}
}

func TestMinutes(t *testing.T) {
	for _, c := range []struct {
		m           Minutes
		long, short string
	}{
		{Minutes{}, "", ""},
		{Minutes{1, 2}, "a minute or two", "2 min"},
		{Minutes{2, 4}, "about 5 minutes", "5 min"},
		{Minutes{20, 30}, "about 25 minutes", "25 min"},
		{Minutes{50, 62}, "about an hour", "1 h"},
		{Minutes{80, 100}, "about 1½ hours", "1½ h"},
		{Minutes{100, 140}, "about 2 hours", "2 h"},
		{Minutes{700, 740}, "about 12 hours", "12 h"},
	} {
		if got := c.m.Say(wordstest.English(t)); got != c.long {
			t.Errorf("%v prints %q, want %q", c.m, got, c.long)
		}
		if got := plain(c.m.Short(wordstest.English(t))); got != c.short {
			t.Errorf("%v is short %q, want %q", c.m, got, c.short)
		}
	}
	if _, err := ParseMinutes("4 to 2"); err == nil {
		t.Error("a backward range was read")
	}
}

func TestLeave(t *testing.T) {
	for in, want := range map[string]Leave{
		"5 cm":           {Length: One(5)},
		"one third":      {Fraction: 1. / 3, Words: "one third"},
		"all green leaf": {Words: "all green leaf"},
	} {
		if got, err := ParseLeave(in); err != nil || got != want {
			t.Errorf("%q = %v, %v", in, got, err)
		}
	}
	for _, bad := range []string{"", "5", "10 to 15"} {
		if _, err := ParseLeave(bad); err == nil {
			t.Errorf("%q was read", bad)
		}
	}
}

func TestYears(t *testing.T) {
	if n, err := ParseEvery("3 years"); n != 3 || err != nil {
		t.Error(n, err)
	}
	if n, err := ParseYear("year 2"); n != 2 || err != nil {
		t.Error(n, err)
	}
	for _, bad := range []string{"", "0 years", "three years", "1 month"} {
		if _, err := ParseEvery(bad); err == nil {
			t.Errorf("%q was read", bad)
		}
	}
}

// TestParts: each part of a height that is read can be said.
func TestParts(t *testing.T) {
	for _, lang := range []string{"en-GB", "de"} {
		w := wordstest.Of(t, lang)
		for _, p := range parts {
			if !w.Has("fraction." + p.words) {
				t.Errorf("%s has no words for %q", lang, p.words)
			}
		}
	}
	l, err := ParseLeave("one third")
	if got := l.Say(Metric, wordstest.Of(t, "de")); err != nil || got != "ein Drittel" {
		t.Error(got, err)
	}
	cut, err := ParseLeave("2.5 to 7.5 cm")
	if got := plain(cut.Say(Metric, wordstest.Of(t, "de"))); err != nil || got != "2,5 bis 7,5 cm" {
		t.Error(got, err)
	}
}
