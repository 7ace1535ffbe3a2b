package garden

import (
	"fmt"
	"testing"
)

func TestStemGirth(t *testing.T) {
	for _, c := range []struct{ girth, size, want string }{
		{"12-14", "", "12 14"}, {"16/18", "", "16 18"}, {"14-16 cm", "", "14 16"}, {"StU 18-20", "", "18 20"}, {"14", "", "14 14"}, {"", "12-14cm", "12 14"}, {"", "16/18", "16 18"},
		{"", "H., 3xv., mB, 18-20", "18 20"}, {"", "HSt 4xv mDb 20-25", "20 25"}, {"", "14 cm girth", "14 14"}, {"", "StU 30-35", "30 35"}, {"12-14", "3.5-4 m", "12 14"},
		{"", "60-80 cm", "0 0"}, {"", "20-30", "0 0"}, {"", "3.5-4m", "0 0"}, {"", "25L", "0 0"}, {"", "P9", "0 0"}, {"", "EHS", "0 0"}, {"", "2-4 l", "0 0"}, {"900", "", "0 0"}, {"multi-stem", "", "0 0"}, {"", "", "0 0"}, {"18-16", "", "0 0"},
	} {
		g := Row{Girth: c.girth, Size: c.size}.StemGirth()
		if got := fmt.Sprint(g.Low, g.High); got != c.want {
			t.Errorf("%q, %q: %s, want %s", c.girth, c.size, got, c.want)
		}
	}
}
