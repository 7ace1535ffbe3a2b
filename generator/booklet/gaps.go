package booklet

import (
	"slices"
	"strconv"

	"sheaf/generator/garden"
	"sheaf/generator/measure"
	"sheaf/generator/prose"
)

// A gap is a plant that grows here and whose care is not in the book: no entry
// covers it, or the one that does is being mended.
type gap struct {
	runs   []prose.Run
	filed  string // by which it is sorted
	mended bool
	of     []*garden.Planting
}

// toCome is the ID of the section that names the gaps.
const toCome = "to-come"

// gaps lists the plants without care, each once, as an index sorts them.
func (c *composer) gaps() []gap {
	var out []gap
	at := map[string]int{}
	for i := range c.Plantings {
		p := &c.Plantings[i]
		if p.Entry != nil {
			continue
		}
		g := gap{filed: prose.Clean(p.Row.Plant), mended: p.Mended != nil}
		g.runs = prose.Plain(g.filed)
		if !p.Name.IsZero() {
			g.runs, g.filed = botanical(p.Name), p.Name.Filed()
		}
		key := prose.String(g.runs)
		if _, ok := at[key]; !ok {
			at[key] = len(out)
			out = append(out, g)
		}
		out[at[key]].of = append(out[at[key]].of, p)
	}
	slices.SortStableFunc(out, func(a, b gap) int { return c.order.Compare(a.filed, b.filed) })
	return out
}

// gapPage says which plants have no care in the book, so that nobody thinks
// they need none. It is one page, for it stays only until the next edition.
func (c *composer) gapPage() []Section {
	gaps := c.gaps()
	if gaps == nil {
		return nil
	}
	var rows []Fact
	for _, g := range gaps {
		why := "it has no entry yet"
		if g.mended {
			why = "its entry is being mended"
		}
		for i, p := range g.of {
			if c.inGuide() && i > 0 {
				break // it tells of no beds
			}
			said := ": " + why + "."
			if p.Bed != nil {
				said = ", " + p.Bed.Name + said
			}
			rows = append(rows, Fact{c.gapCount(p), append(slices.Clone(g.runs), prose.Run{Text: said})})
		}
	}
	return []Section{{ID: toCome, Kind: Words, Title: prose.Plain("Still to come"), Part: "The plants", Blocks: []Block{
		Text{Runs: prose.Plain("The care of these plants is not in this " + c.called() + " yet."), Role: Lead},
		Text{Runs: prose.Plain("Do not cut them by guess: ask first. Until you know more, wear gloves and let nobody eat of them."), Role: Warn},
		Facts{rows},
	}}}
}

// called is what the book calls itself.
func (c *composer) called() string {
	if c.inGuide() {
		return "guide"
	}
	return "booklet"
}

// gapCount is how many there are of a plant of which nothing else is known.
func (c *composer) gapCount(p *garden.Planting) string {
	switch q := p.Row.Quantity; {
	case c.inGuide() || q <= 0:
		return ""
	case q == 1:
		return "1" + measure.Space + "plant"
	default:
		return strconv.FormatFloat(q, 'f', -1, 64) + measure.Space + "plants"
	}
}

// grownUntold are the gaps of a bed, as [composer.grown] is of the plants; each
// leads to where it is said that its care is still to come.
func (c *composer) grownUntold(bed string) []Fact {
	var out []Fact
	for _, g := range c.gaps() {
		for _, p := range g.of {
			if name(p.Bed) != bed {
				continue
			}
			runs := slices.Clone(g.runs)
			for i := range runs {
				runs[i].Link = "#" + toCome
			}
			out = append(out, Fact{c.gapCount(p), append(runs, prose.Run{Text: ", care still to come"})})
		}
	}
	return out
}
