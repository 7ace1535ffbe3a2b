package booklet

import (
	"slices"

	"sheaf/generator/entries"
	"sheaf/generator/prose"
)

func groupID(g *entries.Group) string { return "groups/" + g.ID }

// groupPages say why plants are kept alike, and which of this garden's are.
func (c *composer) groupPages() []Section {
	in := c.Words.Say("label.in this garden")
	if c.inGuide() {
		in = c.Words.Say("guide.in this guide")
	}
	var out []Section
	for _, g := range c.Library.Groups {
		var rows []EntryRow
		var of []*plant
		for _, q := range c.plants {
			if q.entry.Group == g {
				of = append(of, q)
				rows = append(rows, EntryRow{Level: 1, Runs: prose.Plain(capital(q.common)), Target: q.id, Aside: q.name.Plain()})
			}
		}
		if rows == nil {
			continue
		}
		s := Section{ID: groupID(g), Kind: CareGroup, Title: prose.Plain(capital(g.Called())), Part: c.Words.Say("part.care groups"), Aside: sentence(g.Summary), File: g.File, Blocks: append(c.shut(of, ""), blocks(g.Body)...)}
		s.Blocks = append(s.Blocks, Heading{prose.Plain(in)}, Entries{rows})
		out = append(out, s)
	}
	slices.SortFunc(out, func(a, b Section) int { return c.order.Compare(prose.String(a.Title), prose.String(b.Title)) })
	return out
}

func (c *composer) jobPages() []Section {
	var out []Section
	for _, j := range c.jobs() {
		s := Section{ID: "jobs/" + j.ID, Kind: JobPage, Title: prose.Plain(capital(j.Called(c.Words))), Part: c.Words.Say("part.how to"), Aside: sentence(j.Summary), File: j.File}
		if q, leave := c.example(j); q != nil {
			s.add(RankOf("drawing of a job"), Figure{Picture: c.beforeAfter(q, j, leave, jobFrame), Caption: capital(q.common), Latin: c.called(q, named{}).Latin})
		}
		s.add(Always, c.shut(c.plants, j.Name.Value)...)
		c.taught(&s, j)
		if risks := c.risks(j); risks != nil {
			s.add(Always, Heading{prose.Plain(c.Words.Say("label.take care"))})
			s.add(Always, risks...)
		}
		if c.watersApart(j) {
			s.Stead = wateringID
		}
		out = append(out, s)
	}
	return out
}

// taught is how a job is done, in the words of its page: the steps, which are always
// printed; how much to leave; common mistakes; and its tools.
func (c *composer) taught(s *Section, j *entries.Job) {
	for _, b := range blocks(j.Body) {
		switch b := b.(type) {
		case List:
			if b.Numbered {
				s.add(Always, b)
			} else {
				s.add(RankOf("mistakes"), b)
			}
		default:
			s.add(RankOf("how much to leave"), b)
		}
	}
	if j.Tools != nil {
		s.add(RankOf("tools"), Facts{[]Fact{{c.Words.Say("label.tools"), prose.Plain(capital(c.Words.And(j.Tools)) + ".")}}})
	}
}

// risks are the cautions of a job, whatever the plant.
func (c *composer) risks(j *entries.Job) []Block {
	var out []Block
	for _, r := range j.Risks {
		if line := c.Library.Caution(r.Value); line != "" {
			out = append(out, Text{Runs: prose.Plain(sentence(line)), Role: Warn})
		}
	}
	return out
}
