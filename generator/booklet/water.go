package booklet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"sheaf/generator/care"
	"sheaf/generator/entries"
	"sheaf/generator/prose"
	"sheaf/generator/site"
)

// Watering hangs on the weather and is on no garden day: it has a page of its own
// that says how to tell, how much and until when.

const wateringID = "watering"

func (c *composer) watering() []Section {
	if c.inGuide() || len(c.Calendar.Apart) == 0 {
		return nil
	}
	s := Section{ID: wateringID, Kind: Watering, Title: prose.Plain(c.Words.Say("watering.title")), Part: c.Words.Say("watering.title")}
	if from, to, ok := c.settling(); ok {
		s.Blocks = append(s.Blocks,
			Text{Runs: prose.Plain(c.Words.Say("watering.tell")), Role: Lead},
			Facts{c.drinks(from, to)})
	}
	if rows := c.watered(); rows != nil {
		s.Blocks = append(s.Blocks, Heading{prose.Plain(c.Words.Say("watering.in dry weather"))}, Facts{rows})
	}
	if job := c.Calendar.Tasks[c.Calendar.Apart[0]].Job; job != nil {
		s.Blocks = append(s.Blocks, c.risks(job)...)
	}
	return []Section{s}
}

// watersApart tells whether a page on watering stands for that of a job.
func (c *composer) watersApart(job *entries.Job) bool {
	return !c.inGuide() && len(c.Calendar.Apart) > 0 && c.Calendar.Tasks[c.Calendar.Apart[0]].Job == job
}

// settling is the time in which what is new is watered; false where nothing is.
func (c *composer) settling() (from, to site.Day, ok bool) {
	for _, i := range c.Calendar.Apart {
		if t := &c.Calendar.Tasks[i]; t.Settling {
			if !ok {
				from, to, ok = t.From, t.To, true
			}
			from, to = min(from, t.From), max(to, t.To)
		}
	}
	return from, to, ok
}

// drinks say how often and how much new plants are watered, by their numbers in
// their beds, the thirstiest last.
func (c *composer) drinks(from, to site.Day) []Fact {
	rows := []Fact{
		{c.Words.Say("watering.until"), prose.Plain(c.Words.Say("watering.window", "window", c.fullSpan(from, to)))},
		{c.Words.Say("watering.often"), prose.Plain(c.Words.Say("watering.rhythm"))},
	}
	var all care.Litres
	var order []string
	beds, at := map[string][]string{}, map[string]map[string][]string{}
	drinks := c.Waterings(c.Calendar)
	slices.SortStableFunc(drinks, func(a, b care.Drink) int { return cmp.Compare(a.Each.Low, b.Each.Low) })
	for _, d := range drinks {
		all.Low, all.High = all.Low+d.All.Low, all.High+d.All.High
		key := c.amounted(c.Words.Say("first year.each", "volume", c.Words.Say("unit.litres", "n", c.Words.To(c.Words.Figures(litre(d.Each.Low)), c.Words.Figures(litre(d.Each.High))))))
		bed := name(d.Planting.Bed)
		if at[key] == nil {
			order, at[key] = append(order, key), map[string][]string{}
		}
		if at[key][bed] == nil {
			beds[key] = append(beds[key], bed)
		}
		number := fmt.Sprint(c.number[d.Planting])
		if bed == "" {
			number = c.of(d.Planting).common
		}
		at[key][bed] = append(at[key][bed], number)
	}
	for _, key := range order {
		var said []string
		for _, bed := range beds[key] {
			if bed == "" {
				said = append(said, c.Words.And(at[key][bed]))
				continue
			}
			said = append(said, bed+" "+strings.Join(at[key][bed], "\u00a0"))
		}
		rows = append(rows, Fact{capital(key), prose.Plain(strings.Join(said, "; ") + ".")})
	}
	if all.High > 0 {
		rows = append(rows, Fact{c.Words.Say("watering.all"), prose.Plain(c.amounted(c.Words.Say("watering.volume", "volume", all.Say(c.Words))))})
	}
	return rows
}

// watered are the plants that are watered by rules of their own.
func (c *composer) watered() []Fact {
	var rows []Fact
	on := named{}
	for _, q := range c.plants {
		for _, i := range q.tasks {
			t := &c.Calendar.Tasks[i]
			if t.Settling || t.Job.Mark != "water" {
				continue
			}
			runs := c.names(q, on)
			runs[0].Text = capital(runs[0].Text)
			runs = append(runs, prose.Run{Text: ". " + strings.TrimSpace(strings.Join([]string{sentence(c.where(t.Planting)), sentence(t.Rule.LookFor)}, " "))})
			rows = append(rows, Fact{c.span(t.From, t.To), runs})
		}
	}
	return rows
}
