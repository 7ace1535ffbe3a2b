package care

import (
	"slices"
	"time"

	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/site"
)

// A Note is what holds beside a rule: under a condition of the place, which is
// its label, or by the dates of a task.
type Note struct {
	Label string // "First year, to December 2027"; "" for what the dates bring
	Text  string
}

// String is the note with its condition before it.
func (n Note) String() string {
	if n.Label == "" {
		return n.Text
	}
	return n.Label + ": " + n.Text
}

// PlaceNotes are the notes on a planting as a whole that hold at some time of
// the booklet.
func (in *Input) PlaceNotes(p *garden.Planting) []Note {
	return in.noted(p, "", in.season(in.First))
}

// noted are the notes on a job of a planting that hold in a growing year; those
// on the plant as a whole have no job.
func (in *Input) noted(p *garden.Planting, job string, year int) []Note {
	var out []Note
	for _, a := range p.Entry.Adjust {
		if n := (Note{in.condition(p, a.If), a.Note}); a.Job.Value == job && a.Note != "" && in.holds(p, a.If, year) && !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

// condition names a condition that holds for a planting, with its end where it
// has one.
func (in *Input) condition(p *garden.Planting, condition string) string {
	if condition != "first year" {
		return in.Words.Say("condition." + condition)
	}
	year, month := in.firstSeason(p), time.December
	if in.Garden.Place.Hemisphere() == site.South {
		year, month = year+1, time.June
	}
	return in.Words.Say("condition.first year", "month", in.Words.MonthOf(year, month))
}

// rooted tells whether a planting has rooted in by a window, as far as a rule
// asks for it. Combing pulls at roots that do not hold yet, and a plant that is
// cut hard feeds its roots from no leaf: both wait until the second spring. What
// is dead on a plant that went in before the winter is cleared away all the same.
// Common practice, no source.
func (in *Input) rooted(p *garden.Planting, r entries.Rule, w site.Interval) bool {
	job := in.Library.Job(r.Job.Value)
	if p.Typical || job == nil || !job.Rooted || r.Only > 0 || in.growingYear(p, w.From) > 1 {
		return true
	}
	if in.summer(w.From) {
		return true
	}
	cold, ok := in.Climate.Cue(site.ColdestDay, w.From.Year())
	return ok && in.planted(p) < cold && p.Entry.Leaf == "deciduous" && !woody(p.Entry) && job.Family == "cut"
}

// summer tells whether the summer of a day's growing year has begun: on 1 June,
// in the south on 1 December.
func (in *Input) summer(d site.Day) bool {
	year, begins := in.season(d), time.June
	if in.Garden.Place.Hemisphere() == site.South {
		begins = time.December
	}
	return d >= site.Date(year, begins, 1)
}

// wintered tells whether a planting has been through a winter before a window, as
// far as a rule asks for it: what went in after the coldest day was neither covered
// nor lifted, so there is nothing to uncover or to put back.
func (in *Input) wintered(p *garden.Planting, r entries.Rule, w site.Interval) bool {
	job := in.Library.Job(r.Job.Value)
	if p.Typical || job == nil || job.Mark != "uncover" && job.Mark != "replant" || in.growingYear(p, w.From) > 1 {
		return true
	}
	cold, ok := in.Climate.Cue(site.ColdestDay, w.From.Year())
	return !ok || in.planted(p) < cold
}

// woody tells whether a plant keeps its stems.
func woody(e *entries.Entry) bool {
	switch e.Type {
	case "subshrub", "shrub", "rose", "climber", "hedge", "tree":
		return true
	}
	return false
}
