package booklet

import (
	"slices"

	"sheaf/generator/garden"
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

// findGaps lists the plants without care, each once, as an index sorts them.
func (c *composer) findGaps() []gap {
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
	if c.gaps == nil {
		return nil
	}
	var rows []Fact
	for _, g := range c.gaps {
		why := c.Words.Say("to come.missing")
		if g.mended {
			why = c.Words.Say("to come.mended")
		}
		for i, p := range g.of {
			if c.inGuide() && i > 0 {
				break // it tells of no beds
			}
			said := ". " + why
			if p.Bed != nil {
				said = ", " + p.Bed.Name + said
			}
			rows = append(rows, Fact{c.gapCount(p), append(slices.Clone(g.runs), prose.Run{Text: said})})
		}
	}
	about := c.Words.Say("to come.booklet")
	if c.inGuide() {
		about = c.Words.Say("to come.guide")
	}
	return []Section{{ID: toCome, Kind: Words, Title: prose.Plain(c.Words.Say("to come.title")), Part: c.Words.Say("part.plants"), Blocks: []Block{
		Text{Runs: prose.Plain(about), Role: Lead},
		Text{Runs: prose.Plain(c.Words.Say("to come.caution")), Role: Warn},
		Facts{rows},
	}}}
}

// gapCount is how many there are of a plant of which nothing else is known.
func (c *composer) gapCount(p *garden.Planting) string {
	if c.inGuide() || p.Row.Quantity <= 0 {
		return ""
	}
	return c.Words.Say("many.plants", "n", p.Row.Quantity)
}

// grownUntold are the gaps of a bed, as [composer.grown] is of the plants; each
// leads to where it is said that its care is still to come.
func (c *composer) grownUntold(bed string) []Fact {
	var out []Fact
	for _, g := range c.gaps {
		for _, p := range g.of {
			if name(p.Bed) != bed {
				continue
			}
			runs := slices.Clone(g.runs)
			for i := range runs {
				runs[i].Link = "#" + toCome
			}
			out = append(out, Fact{c.gapCount(p), append(runs, prose.Run{Text: ", " + c.Words.Say("to come.aside")})})
		}
	}
	return out
}
