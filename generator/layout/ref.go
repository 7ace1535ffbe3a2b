package layout

import (
	"slices"
	"strconv"

	"sheaf/generator/prose"
)

// Numbers of pages that stand at the right of a line are put in when all pages are
// laid: their place does not hang on them.

// reference is a number of a page, and words with it, to be set when it is known.
type reference struct {
	style  style
	key    string // of the words: "page" for "p. 27", "how" for "how: page 52"; "" for the number alone
	target string
	last   string  // of a range of sections the last; "" for one
	right  float64 // its right edge
	y      float64 // its baseline
}

func (reference) item() {}

// ref is a reference with its right edge at x and its baseline at y; nil to what is not
// in the booklet.
func (l *layer) ref(key, target string, s style, x, y float64) Item {
	if target == "" || l.book.Left[target] {
		return nil
	}
	return reference{style: s, key: key, target: target, right: x, y: y}
}

// wide is the room that a reference takes, with a little air, where pages have up to
// three figures.
func (l *layer) wide(key string, s style) float64 {
	said := "888"
	if key != "" {
		said = l.book.Words.Say("print."+key, "page", said)
	}
	return l.theme.Face(s.face).Width(said, s.size) + mm(s.size)*0.6
}

// resolve sets all references. One to what has no page is left out.
func (l *layer) resolve() {
	for i := range l.doc.Pages {
		p := &l.doc.Pages[i]
		if !slices.ContainsFunc(p.Items, func(it Item) bool { _, ok := it.(reference); return ok }) {
			continue
		}
		items := make([]Item, 0, len(p.Items)+8)
		for _, it := range p.Items {
			r, ok := it.(reference)
			if !ok {
				items = append(items, it)
				continue
			}
			number := l.pages(r.target, r.last)
			if number == "" {
				continue
			}
			if r.key != "" {
				number = l.book.Words.Say("print."+r.key, "page", number)
			}
			line := l.setLine([]fragment{{text: l.settable(prose.Run{Text: number}, r.style.face), face: r.style.face, link: "#" + r.target}}, r.style)
			items = moved(items, line.items, r.right-line.width, r.y)
		}
		p.Items = items
	}
}

// pages is where something stands, "27", or from where to where, "12–58".
func (l *layer) pages(first, last string) string {
	from := l.pageOf[first]
	if from == 0 {
		return ""
	}
	if to := l.endOf[last]; last != "" && to > from {
		return strconv.Itoa(from) + "–" + strconv.Itoa(to)
	}
	return strconv.Itoa(from)
}
