package site

import (
	"fmt"
	"math"
	"testing"
	"time"
)

// The input of Epstein's example, Madison (J. Climate 4, 1991), and one for
// Australia, as printed with figure 15 of Bartlein and Shafer, Geosci. Model
// Dev. 12 (2019), 3889-3913, file Fig15.txt of their PaleoCalAdjust data.
var (
	madison   = year{-6.77, -4.33, 1.52, 8.35, 14.74, 20.29, 23.22, 22.17, 16.94, 10.35, 3.08, -4.29}
	australia = year{25.32, 24.93, 22.63, 19.73, 16.17, 13.00, 12.38, 14.04, 17.36, 19.78, 22.52, 24.04}
)

func monthMeans(daily []float64, of int) (means year, annual float64) {
	for i, v := range daily {
		d := Date(of, time.January, 1) + Day(i)
		means[d.Month()-1] += v / float64(daysIn(of, d.Month()))
		annual += v / float64(len(daily))
	}
	return means, annual
}

// Output demo_1yr_epstein.txt of the same authors' repository mp-interp. The
// demo has the sign of December turned.
func TestCurveAgainstPublishedDemo(t *testing.T) {
	input := madison
	input[11] = 4.29
	daily := throughMonths(input).days(2001)

	first := []float64{-0.92, -1.46, -2.00, -2.54, -3.07, -3.60, -4.12, -4.63, -5.11, -5.59, -6.04, -6.47, -6.87, -7.25, -7.60}
	last := []float64{3.82, 3.44, 3.03, 2.60, 2.14, 1.67, 1.17, 0.67, 0.15, -0.38}
	compare := func(what string, got, want []float64) {
		for i := range want {
			if g, w := fmt.Sprintf("%.2f", got[i]), fmt.Sprintf("%.2f", want[i]); g != w {
				t.Errorf("%s %d: %s, want %s", what, i+1, g, w)
			}
		}
	}
	compare("first day", daily, first)
	compare("last day", daily[365-10:], last)

	means, _ := monthMeans(daily, 2001)
	want := year{-6.771, -4.330, 1.520, 8.350, 14.740, 20.290, 23.220, 22.170, 16.940, 10.350, 3.079, 4.291}
	for i := range want {
		if g, w := fmt.Sprintf("%.3f", means[i]), fmt.Sprintf("%.3f", want[i]); g != w {
			t.Errorf("mean of month %d: %s, want %s", i+1, g, w)
		}
	}
}

// Annual means of Fig15.txt; coefficients and daily values computed from the
// published formulas in a second program.
func TestCurveAgainstFigure15(t *testing.T) {
	for _, c := range []struct {
		name   string
		input  year
		annual string
		days   map[int]float64 // by day of the year
	}{
		{"Madison", madison, "8.843013", map[int]float64{
			1: -6.584, 15: -6.979, 32: -6.157, 60: -1.744, 91: 5.128, 105: 8.267, 121: 11.692, 152: 17.892, 182: 22.372,
			197: 23.385, 213: 23.437, 244: 20.008, 274: 13.505, 305: 6.891, 335: -1.167, 365: -6.509}},
		{"Australia", australia, "19.291782", map[int]float64{
			1: 24.709, 32: 25.589, 60: 23.897, 91: 21.196, 121: 18.047, 152: 14.172, 182: 12.303, 213: 12.778,
			244: 15.808, 274: 18.659, 305: 21.224, 335: 23.517, 365: 24.658}},
	} {
		daily := throughMonths(c.input).days(2001)
		means, annual := monthMeans(daily, 2001)
		if got := fmt.Sprintf("%.6f", annual); got != c.annual {
			t.Errorf("%s: annual mean %s, want %s", c.name, got, c.annual)
		}
		for i := range means {
			if math.Abs(means[i]-c.input[i]) > 0.0015 { // "to 0.001"
				t.Errorf("%s: mean of month %d comes back as %.4f, want %.2f", c.name, i+1, means[i], c.input[i])
			}
		}
		for day, want := range c.days {
			if g, w := fmt.Sprintf("%.3f", daily[day-1]), fmt.Sprintf("%.3f", want); g != w {
				t.Errorf("%s: day %d: %s, want %s", c.name, day, g, w)
			}
		}
	}

	a := []float64{8.7725, -12.2899, -0.6274, -0.0148, -0.1904, -0.1717, -0.0249}
	b := []float64{0, -8.3057, -0.3371, -0.5387, -0.0890, 0.0218, 0}
	for j, h := range throughMonths(madison) {
		if math.Abs(real(h)-a[j]) > 0.00005 || math.Abs(-imag(h)-b[j]) > 0.00005 {
			t.Errorf("Madison: wave %d: a %.4f, b %.4f; want %.4f, %.4f", j, real(h), -imag(h), a[j], b[j])
		}
	}
}

// NOAA's own daily normals of Amherst MA, 1981-2010, rise through 41 °F on 9
// April and fall through it on 2 November; the curve through their monthly
// means was found to do so on 10 April and 4 November.
func TestCurveAgainstDailyNormals(t *testing.T) {
	c := amherst.site().Climate()
	for _, w := range []struct {
		cue  Cue
		want Day
	}{
		{FirstGreen, Date(2027, time.April, 9)},
		{GrowthEnd, Date(2027, time.November, 2)},
	} {
		if got, _ := c.Cue(w.cue, 2027); distance(got, w.want) > 2 {
			t.Errorf("%s: %s, want %s within 2 days", w.cue, got, w.want)
		}
	}
}
