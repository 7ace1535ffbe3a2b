package entries

import (
	"regexp"
	"slices"
	"strings"

	"sheaf/generator/prose"
	"sheaf/generator/source"
)

// Absent are the pests of shelves that are not known in a country. The first
// shelf that has a pest decides.
func Absent(shelves []Shelf, country string) []*Pest {
	var out []*Pest
	seen := map[string]bool{}
	for _, s := range shelves {
		for _, p := range s.Pests {
			if !seen[p.Name] && !slices.Contains(p.In, country) {
				out = append(out, p)
			}
			seen[p.Name] = true
		}
	}
	return out
}

// Named tells whether a text names a pest: one of its words, also with an ending
// of one letter or two, as in "beetles".
func (p *Pest) Named(text string) bool {
	return p.namedIn(strings.ToLower(text))
}

func (p *Pest) namedIn(lower string) bool {
	return slices.ContainsFunc(p.Words, func(w string) bool { return uses(lower, w) })
}

// uses tells whether a word stands in a text by itself, both in lower case.
func uses(text, word string) bool {
	for rest, before := text, byte(' '); ; {
		i := strings.Index(rest, word)
		if i < 0 {
			return false
		}
		if i > 0 {
			before = rest[i-1]
		}
		after := rest[i+len(word):]
		ending := len(after) - len(strings.TrimLeft(after, "abcdefghijklmnopqrstuvwxyz"))
		if !letter(before) && ending <= 2 {
			return true
		}
		rest, before = after, word[len(word)-1]
	}
}

func letter(c byte) bool { return c >= 'a' && c <= 'z' }

// sentences are a text's sentences with the marks at their ends and the space
// that follows.
var sentence = regexp.MustCompile(`(?s)[^.?!]*(?:[.?!]+["”’')]*(?:\s+|$)|$|[.?!])`)

// Without gives a shelf in which nothing is said of some pests: no sentence that
// names one, and no rule that is about them alone.
func (s Shelf) Without(pests []*Pest) Shelf {
	if len(pests) == 0 {
		return s
	}
	named := func(text string) bool {
		// Most texts name none. Words begin sentences, so their first letters may be
		// capitals.
		if !slices.ContainsFunc(pests, func(p *Pest) bool {
			return slices.ContainsFunc(p.Words, func(w string) bool { return strings.Contains(text, w[1:]) })
		}) {
			return false
		}
		lower := strings.ToLower(text)
		return slices.ContainsFunc(pests, func(p *Pest) bool { return p.namedIn(lower) })
	}
	drop := func(text string) string {
		if !named(text) {
			return text
		}
		var kept strings.Builder
		// Some words hold a full stop within: what is cut too small is put together.
		for _, part := range sentence.FindAllString(text, -1) {
			if !named(part) {
				kept.WriteString(part)
			}
		}
		return strings.TrimSpace(kept.String())
	}
	gone := func(r Rule) bool {
		return r.Pests != nil && !slices.ContainsFunc(r.Pests, func(t source.At[string]) bool {
			return !slices.ContainsFunc(pests, func(p *Pest) bool { return p.Name == t.Value })
		})
	}
	// What is gone goes when entries are joined with their groups: they may speak of
	// it, and that is no fault of theirs.
	mark := func(all []Rule) {
		for i := range all {
			r := &all[i]
			r.absent = gone(*r)
			r.Cautions = slices.DeleteFunc(r.Cautions, func(s string) bool { return s == "" })
		}
	}
	out := s.reworded(drop)
	for i, e := range out.Entries {
		mark(e.Rules)
		e.Common, e.Body = s.Entries[i].Common, filled(e.Body)
		e.Adjust = slices.DeleteFunc(e.Adjust, func(a Adjust) bool {
			return a.Note == "" && !a.Skip && a.Leave.Value.IsZero() && a.When.Value.IsZero()
		})
	}
	for i, g := range out.Groups {
		mark(g.Rules)
		g.said, g.Body = s.Groups[i].said, filled(g.Body)
	}
	for i, j := range out.Jobs {
		j.said, j.Action, j.Tools = s.Jobs[i].said, s.Jobs[i].Action, s.Jobs[i].Tools
		j.Body = filled(j.Body)
	}
	for i, p := range out.Pages {
		// A glossary explains what stands in the booklet and nothing else.
		p.Title, p.Terms, p.Body = s.Pages[i].Title, s.Pages[i].Terms, filled(p.Body)
	}
	return out
}

// filled gives blocks without those that have no words left.
func filled(blocks []prose.Block) []prose.Block {
	return slices.DeleteFunc(blocks, func(b prose.Block) bool {
		p, ok := b.(prose.Paragraph)
		return ok && strings.TrimSpace(prose.String(p.Runs)) == ""
	})
}
