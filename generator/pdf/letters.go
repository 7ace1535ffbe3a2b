package pdf

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"sheaf/generator/draw"
)

// A census is what pages show in letters, by the faces they are set in. A face that
// is not shown is not embedded: each costs a document time, and room.
type census map[draw.Face]*letters

// add takes in a text.
func (c census) add(role draw.Face, text string) error {
	l := c[role]
	if l == nil {
		l = new(letters)
		c[role] = l
	}
	if !l.add(text) {
		return fmt.Errorf("pdf: %q cannot be written", text)
	}
	return nil
}

// merge takes in another census.
func (c census) merge(o census) {
	for role, l := range o {
		if c[role] == nil {
			c[role] = l
			continue
		}
		for i, bits := range l {
			c[role][i] |= bits
		}
	}
}

// letters are the characters set in a face, of the Basic Multilingual Plane.
type letters [0x10000 / 64]uint64

// add tells whether it knows all characters of a text.
func (l *letters) add(text string) bool {
	for _, r := range text {
		if r > 0xffff || r == utf8.RuneError {
			return false
		}
		l[r/64] |= 1 << (r % 64)
	}
	return true
}

func (l *letters) String() string {
	var b strings.Builder
	for r := rune(1); r < 0x10000; r++ {
		if l[r/64] == 0 {
			r += 63 - r%64
		} else if l[r/64]&(1<<(r%64)) != 0 {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// roles lists the faces a document may embed.
func roles() []draw.Face {
	return []draw.Face{draw.Body, draw.Bold, draw.Italic, draw.Heading, draw.SmallCaps, draw.HeadingItalic}
}
