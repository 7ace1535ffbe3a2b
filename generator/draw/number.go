package draw

import (
	"math"
	"strconv"
)

// Hundredths is a coordinate in hundredths of its unit, as both painters write
// it; what is no number is 0.
func Hundredths(v float64) int {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	return int(math.Round(v * 100))
}

// AppendHundredths writes v/100 without trailing or leading zeros, after a
// space if it must be kept from a number before it: the shortest form that SVG
// path data and PDF operands both take.
func AppendHundredths(b []byte, v int, follows bool) []byte {
	if v < 0 {
		b, v = append(b, '-'), -v
	} else if follows {
		b = append(b, ' ')
	}
	// Nearly all numbers have few digits, and there are millions.
	switch n := v / 100; {
	case n >= 1000:
		b = strconv.AppendInt(b, int64(n), 10)
	case n >= 100:
		b = append(b, byte('0'+n/100), byte('0'+n/10%10), byte('0'+n%10))
	case n >= 10:
		b = append(b, byte('0'+n/10), byte('0'+n%10))
	case n > 0 || v == 0:
		b = append(b, byte('0'+n))
	}
	if f := v % 100; f != 0 {
		b = append(b, '.', byte('0'+f/10))
		if f%10 != 0 {
			b = append(b, byte('0'+f%10))
		}
	}
	return b
}
