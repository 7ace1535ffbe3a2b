package booklet

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"sheaf/generator/garden"
	"sheaf/generator/prose"
)

func (c *composer) glance() []Section {
	s := Section{ID: "garden", Kind: Glance, Title: prose.Plain(c.Words.Say("glance.title")), Part: c.Words.Say("part.garden")}
	beds := slices.Clone(c.Garden.Beds)
	if slices.ContainsFunc(c.Plantings, func(p garden.Planting) bool { return p.Bed == nil }) {
		beds = append(beds, garden.Bed{})
	}
	for _, bed := range beds {
		rows := c.grown(bed.Name)
		if rows == nil {
			continue
		}
		title := bed.Name
		if title == "" {
			title = c.Words.Say("glance.elsewhere")
		}
		s.Blocks = append(s.Blocks, Heading{prose.Plain(title)})
		if about := c.aboutBed(bed); about != "" {
			s.Blocks = append(s.Blocks, Text{Runs: prose.Plain(about), Role: Small})
		}
		s.Blocks = append(s.Blocks, rows...)
	}
	return []Section{s}
}

// grown is what grows in a bed by its numbers, in the order of the list; "" is no bed.
func (c *composer) grown(bed string) []Block {
	var out Grown
	for i := range c.Plantings {
		p := &c.Plantings[i]
		if q := c.owner[p]; q != nil && name(p.Bed) == bed {
			called := Called{ID: q.id, Common: q.common, Latin: q.runs}
			if q.common == q.name.String() {
				called.Common = ""
			}
			out.Rows = append(out.Rows, GrownRow{c.number[p], called, c.howMany(p.Row.Quantity, q.entry)})
		}
	}
	var blocks []Block
	if out.Rows != nil {
		blocks = append(blocks, out)
	}
	if untold := c.grownUntold(bed); untold != nil {
		blocks = append(blocks, Facts{untold})
	}
	return blocks
}

// beds are a page for each bed: what grows there and its work by month.
func (c *composer) beds() []Section {
	var out []Section
	ids := map[string]bool{}
	listed := c.listed()
	for i := range c.Garden.Beds {
		bed := &c.Garden.Beds[i]
		s := Section{ID: unique("beds/"+slug(bed.Name), ids), Kind: Bed, Title: prose.Plain(bed.Name), Part: c.Words.Say("part.garden"), Aside: c.aboutBed(*bed)}
		rows := c.grown(bed.Name)
		if rows == nil {
			continue
		}
		s.Blocks = append(append(s.Blocks, Heading{prose.Plain(c.Words.Say("bed.grows"))}), rows...)
		for _, m := range listed {
			here := m
			here.Tasks = slices.DeleteFunc(slices.Clone(m.Tasks), func(i int) bool {
				return name(c.Calendar.Tasks[i].Planting.Bed) != bed.Name
			})
			if lines := c.lines(here); lines != nil {
				y, month, _ := m.First.Civil()
				s.Blocks = append(s.Blocks, Heading{prose.Plain(c.Words.MonthOf(y, month))}, Tasks{monthID(y, month), lines})
			}
		}
		out = append(out, s)
	}
	return out
}

// slug is a name as part of an address.
func slug(s string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(s) {
		switch {
		case r < unicode.MaxASCII && (unicode.IsLetter(r) || unicode.IsDigit(r)):
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	return cmp.Or(strings.Trim(b.String(), "-"), "bed")
}

func name(b *garden.Bed) string {
	if b == nil {
		return ""
	}
	return b.Name
}

func (c *composer) aboutBed(b garden.Bed) string {
	var parts []string
	if b.Area > 0 {
		parts = append(parts, b.Area.Say(c.units, c.Words))
	}
	if b.Light != "" {
		parts = append(parts, c.Words.Say("light."+b.Light))
	}
	if b.Exposure != "" {
		parts = append(parts, c.Words.Say("exposure."+b.Exposure))
	}
	switch fertility, soil := c.Words.Term("fertility", b.Fertility), c.Words.Term("soil", b.Soil); {
	case fertility != "" && soil != "":
		parts = append(parts, c.Words.Say("bed.fertility and soil", "fertility", fertility, "soil", soil))
	case fertility+soil != "":
		parts = append(parts, c.Words.Say("bed.soil", "soil", fertility+soil))
	}
	return capital(strings.Join(parts, ", "))
}
