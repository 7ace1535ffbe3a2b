package site

import (
	"math"
	"math/cmplx"
)

// harmonics is a smooth yearly curve through twelve monthly means, as a sum of
// waves that fit one to six times into the year. Element j holds a - ib of the
// wave a cos(jx) + b sin(jx); element 0 is the yearly mean.
//
// Each wave is made taller than in a plain Fourier sum by just as much as
// averaging over a month flattens it, so the means of the months come back
// (to about 0.001 °C; the method takes months to be equally long).
//
// Source: E. S. Epstein, "On obtaining daily climatological values from monthly
// means", Journal of Climate 4 (1991), 365-368.
type harmonics [7]complex128

// throughMonths fits the curve to monthly means, January first.
func throughMonths(means [12]float64) harmonics {
	var h harmonics
	for j := range h {
		var sum complex128
		for i, mean := range means {
			sum += complex(mean, 0) * cmplx.Rect(1, -2*math.Pi*float64(j*(i+1))/12)
		}
		switch j {
		case 0:
			h[j] = sum / 12
		case 6: // the wave of two months has half the usual weight
			h[j] = sum / 12 * complex(unflatten(j), 0)
		default:
			h[j] = sum / 6 * complex(unflatten(j), 0)
		}
	}
	return h
}

// unflatten is the factor by which averaging over a month flattens the j-th wave.
func unflatten(j int) float64 {
	x := math.Pi * float64(j) / 12
	return x / math.Sin(x)
}

// at gives the curve's value on a day.
func (h harmonics) at(d Day) float64 {
	year, month, day := d.Civil()
	// In months, with the middle of January at 1 and the middle of a day
	// standing for the day.
	t := float64(month) - 0.5 + (float64(day)-0.5)/float64(daysIn(year, month))
	wave := cmplx.Rect(1, 2*math.Pi*t/12)
	var sum complex128
	for j := len(h) - 1; j > 0; j-- {
		sum = (sum + h[j]) * wave
	}
	return real(h[0] + sum)
}

// days gives the curve's value on every day of a year.
func (h harmonics) days(year int) []float64 {
	first, next := Date(year, 1, 1), Date(year+1, 1, 1)
	values := make([]float64, 0, next-first)
	for d := first; d < next; d++ {
		values = append(values, h.at(d))
	}
	return values
}
