package prose

import (
	"math"
	"slices"
	"testing"
)

func TestSentences(t *testing.T) {
	for text, want := range map[string][]string{
		"":                                 {},
		"One. Two? Three!":                 {"One", "Two", "Three"},
		"Leave 1.5 m. Then go.":            {"Leave 1.5 m", "Then go"},
		"A heading\nAn item\nA line.":      {"A heading", "An item", "A line"},
		"It is called “the sheaf.” Cut it": {"It is called “the sheaf", "Cut it"},
	} {
		if got := Sentences(text); !slices.Equal(got, want) {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// The figures are worked by hand from the formula in [ReadingAge].
func TestReadingAge(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
	}{
		{"", 0},
		{"— …", 0},
		// 18 characters, 5 words, 1 sentence.
		{"Comb out the dead leaf.", 4.71*18/5 + 0.5*5 - 21.43 + 5},
		// 15 characters, 3 words, 2 sentences.
		{"Cut it. Evergreens!", 4.71*15/3 + 0.5*3/2 - 21.43 + 5},
	} {
		if got := ReadingAge(c.text); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%q: %.2f, want %.2f", c.text, got, c.want)
		}
	}
}
