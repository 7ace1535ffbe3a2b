package site

import (
	"math"
	"testing"
)

// TestColdestNight: the estimate lies within twice its standard error of mean
// annual minima that were counted from monthly CLIMAT reports of 2003 to 2020
// (Deutscher Wetterdienst; values averaged), with WMO normals of 1991 to 2020.
func TestColdestNight(t *testing.T) {
	sum := 0.0
	places := []struct {
		name            string
		cold            int // the coldest month
		low, high       float64
		warmLow, warmUp float64 // the month six on
		counted         float64
	}{
		{"Minneapolis", 0, -12.9, -4.7, 18.5, 28.5, -26.8},
		{"Ottawa", 0, -14.0, -5.2, 15.7, 26.7, -27.5},
		{"München-Stadt", 0, -1.8, 4.0, 14.7, 24.9, -11.2},
		{"Philadelphia", 0, -3.3, 5.2, 20.9, 31.0, -13.0},
		{"De Bilt", 0, 0.9, 6.1, 13.0, 23.1, -8.9},
		{"Uccle", 0, 1.4, 6.1, 14.1, 23.2, -7.3},
		{"Lyon, St-Exupéry", 0, 1.1, 6.6, 16.7, 27.5, -7.6},
		{"Christchurch", 6, 0.7, 11.2, 11.8, 22.5, -5.2},
		{"Melbourne Airport", 6, 5.8, 13.4, 14.2, 27.0, 0.1},
	}
	for _, p := range places {
		n := Normals{}
		for m := range 12 { // the months between do not count
			n.Min[m], n.Max[m] = (p.low+p.warmLow)/2, (p.high+p.warmUp)/2
		}
		n.Min[p.cold], n.Max[p.cold] = p.low, p.high
		n.Min[(p.cold+6)%12], n.Max[(p.cold+6)%12] = p.warmLow, p.warmUp
		got := n.ColdestNight()
		sum += math.Abs(got - p.counted)
		if math.Abs(got-p.counted) > 2*2.7 {
			t.Errorf("%s: %.1f °C, counted %.1f", p.name, got, p.counted)
		}
	}
	if mean := sum / float64(len(places)); mean > 2.7 {
		t.Errorf("mean error %.1f °C", mean)
	} else {
		t.Logf("mean error %.1f °C", mean)
	}
}
