package layout

import "sheaf/generator/booklet"

// yearSpread lays a year.
func (l *layer) yearSpread(s *booklet.Section) [][]Item {
	return l.fill(stack(l.title(s)), l.blocks(s.Blocks, l.measure()), 1)
}
