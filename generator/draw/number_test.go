package draw

import "testing"

func TestHundredths(t *testing.T) {
	tests := []struct {
		v       float64
		follows bool
		want    string
	}{
		{0, false, "0"}, {0, true, " 0"}, {1, false, "1"}, {-1, true, "-1"}, {0.5, true, " .5"}, {-0.05, false, "-.05"},
		{10.1, false, "10.1"}, {99.994, false, "99.99"}, {99.996, false, "100"}, {-0.004, true, " 0"}, {123.45, true, " 123.45"},
	}
	for _, tt := range tests {
		if got := string(AppendHundredths(nil, Hundredths(tt.v), tt.follows)); got != tt.want {
			t.Errorf("%v: %q, want %q", tt.v, got, tt.want)
		}
	}
}
