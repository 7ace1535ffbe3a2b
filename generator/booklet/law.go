package booklet

import (
	"slices"
	"strings"

	"sheaf/generator/care"
	"sheaf/generator/entries"
	"sheaf/generator/prose"
)

// law is what regulations of the garden's place say of a plant, and of one that
// is forbidden how it is removed; the last result tells that it is. Advice without
// the force of law is not called one.
func (c *composer) law(q *plant) (out []Block, forbidden bool) {
	var lines []string
	title := "law.advice"
	add := func(s string) {
		if !slices.Contains(lines, s) {
			lines = append(lines, s)
		}
	}
	for _, p := range q.plantings {
		for _, h := range c.Regulated(p) {
			if !c.inGuide() && (h.Kind == entries.Unchecked || h.Kind == entries.Advised && h.Remembered()) {
				continue // the designer is told; the owner can do nothing with it
			}
			add(c.holding(h))
			if h.Kind != entries.Advised {
				title = "law.title"
			}
		}
		forbidden = forbidden || c.Forbidden(p)
	}
	if lines == nil {
		return nil, false
	}
	if forbidden {
		add(c.Words.Say("law.keep"))
		add(c.Words.Say("law.remove"))
	}
	out = append(out, Heading{prose.Plain(c.Words.Say(title))})
	for _, l := range lines {
		out = append(out, Text{Runs: prose.Plain(l), Role: Warn})
	}
	return out, forbidden
}

func (c *composer) holding(h care.Holding) string {
	said := []string{c.Words.Say("law.holds", "where", capital(h.Place), "law", h.Law, "year", h.Year, "status", h.Status, "source", strings.TrimSuffix(h.Source, "."))}
	if h.From > c.First {
		said = append(said, c.Words.Say("law.coming", "day", c.dated(h.From)))
	}
	if h.Asks || h.SomeCultivars {
		said = append(said, c.Words.Say("law.some cultivars"))
	}
	if h.Unsure() {
		said = append(said, c.Words.Say("law.unsure"))
	}
	return strings.Join(said, " ")
}

// closedSeasons are those of the garden's place that bind it, or those of which
// gardens are exempt, so that nobody has to wonder.
func (c *composer) closedSeasons(exempt bool) []Fact {
	var rows []Fact
	for _, s := range c.Seasons() {
		if (s.Exempt != "") != exempt {
			continue
		}
		said := []string{c.Words.Say("law.season", "from", s.From.Say(c.Words), "to", s.To.Say(c.Words), "law", s.Law)}
		if s.Exempt != "" {
			said = append(said, c.Words.Say("law.garden exempt", "why", sentence(s.Exempt)))
		}
		if s.Note != "" {
			said = append(said, sentence(s.Note))
		}
		said = append(said, c.Words.Say("law.season source", "source", strings.TrimSuffix(s.Source, ".")))
		label := ""
		if rows == nil {
			label = c.Words.Say("label.closed")
		}
		rows = append(rows, Fact{label, prose.Plain(strings.Join(said, " "))})
	}
	return rows
}

// shut tells of closed seasons that are about some work of plants, before words
// that know nothing of them; "" stands for every job.
func (c *composer) shut(plants []*plant, job string) []Block {
	var lines []string
	for _, q := range plants {
		for _, r := range q.entry.Rules {
			if job != "" && r.Job.Value != job {
				continue
			}
			for _, s := range c.ClosedTo(q.plantings[0], &r) {
				line := c.Words.Say("law.before", "from", s.From.Say(c.Words), "to", s.To.Say(c.Words), "law", s.Law)
				if !slices.Contains(lines, line) {
					lines = append(lines, line)
				}
			}
		}
	}
	var out []Block
	for _, l := range lines {
		out = append(out, Text{Runs: prose.Plain(l), Role: Warn})
	}
	return out
}

// refuses tells whether some work of a plant is not done here for a closed season:
// then nothing is said of when it is best done.
func (c *composer) refuses(q *plant) bool {
	return slices.ContainsFunc(q.entry.Rules, func(r entries.Rule) bool {
		_, _, refused := c.Bound(q.plantings[0], r)
		return refused
	})
}

// bound tells whether a closed season is about a job of a plant: then no time is
// printed but those that are dated.
func (c *composer) bound(q *plant, job string) bool {
	return slices.ContainsFunc(q.entry.Rules, func(r entries.Rule) bool {
		if r.Job.Value != job {
			return false
		}
		note, _, _ := c.Bound(q.plantings[0], r)
		return note != ""
	})
}
