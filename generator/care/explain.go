package care

import (
	"fmt"
	"strings"

	"sheaf/generator/entries"
	"sheaf/generator/garden"
)

// A Story is how the dates of one rule of one planting came about.
type Story struct {
	Job    string   `json:"job"`
	When   string   `json:"when"`   // the phrase, as parsed
	Source string   `json:"source"` // file:line
	Steps  []string `json:"steps"`
}

// Explain tells for each rule of a planting how its windows in the calendar
// came about: the phrase, what its place changes, the cues and shifts, whether
// it is due, and what blocks it.
func Explain(in Input, c *Calendar, p *garden.Planting) []Story {
	var out []Story
	for _, r := range p.Entry.Rules {
		s := Story{Job: r.Job.Value, When: r.When.Value.String(), Source: fmt.Sprintf("%s:%d", r.Span.File.Path, r.Span.Pos().Line)}
		say := func(format string, args ...any) { s.Steps = append(s.Steps, fmt.Sprintf(format, args...)) }
		for _, a := range p.Entry.Adjust {
			if a.Job.Value != r.Job.Value {
				continue
			}
			state := "does not hold here"
			if in.holds(p, a.If, in.season(in.First)) {
				state = "holds here"
			}
			var does []string
			if a.Skip {
				does = append(does, "not done")
			}
			if !a.When.Value.IsZero() {
				does = append(does, "when "+a.When.Value.String())
			}
			if !a.Leave.Value.IsZero() {
				does = append(does, "leave "+a.Leave.Value.Print(in.Garden.Units))
			}
			if a.Note != "" {
				does = append(does, "a note")
			}
			if a.If == entries.ThisGarden {
				say("%s:%d adjusts it (%s)", a.Span.File.Path, a.Span.Pos().Line, strings.Join(does, ", "))
				continue
			}
			say("adjust if %s (%s): %s", a.If, strings.Join(does, ", "), state)
		}
		job := in.Library.Job(r.Job.Value)
		for w := range in.datings(p, r, c.First.Year()-1, c.Last.Year()) {
			if w.To < c.First || w.From > c.Last {
				continue
			}
			line := fmt.Sprintf("%s to %s, growing year %d: %s", w.From, w.To, w.year, w.Why(in.English))
			switch {
			case w.To < in.planted(p):
				say("%s. Before it was planted, on %s", line, in.planted(p))
				continue
			case w.To < in.handover():
				say("%s. Over before the handover", line)
				continue
			case w.barred:
				say("%s. Not done: the rule forbids all these days", line)
				continue
			case !w.due:
				say("%s. Not due: %s", line, notDue(r.Only, r.NotBefore, r.Every))
				continue
			}
			if w.spared {
				line += ", without the days that the rule forbids"
			}
			if w.refused {
				say("%s. Not dated: it lies in the closed season of %s to %s (%s)", line, w.law.From, w.law.To, w.law.Law)
				continue
			}
			line += w.moved
			if w.Mended {
				line += ". Empty at this place, so the later half of what is left of the season"
			}
			say("%s", line)
			if job == nil {
				continue
			}
			t := Task{Planting: p, Job: job, Rule: w.rule, From: w.From, To: w.To}
			in.block(&t)
			if t.From != w.From || t.To != w.To {
				say("kept out of the nesting season: %s to %s", t.From, t.To)
			}
			for _, caution := range t.Cautions {
				say("blocker: %s", caution)
			}
			if w.rule.WaitIf != "" {
				say("postpone if: %s", w.rule.WaitIf)
			}
		}
		for _, line := range in.daysOf(c, p, &r) {
			say("%s", line)
		}
		if why := in.lacks(r); why != "" {
			say("not done here: %s", why)
		}
		if len(s.Steps) == 0 {
			say("not in this booklet's months")
		}
		out = append(out, s)
	}
	return out
}

// Noted tells what garden.yaml says of a planting as a whole.
func Noted(p *garden.Planting) []string {
	var out []string
	for _, a := range p.Entry.Adjust {
		where := ""
		if a.If == entries.ThisGarden && a.Job.Value == "" {
			where = fmt.Sprintf("%s:%d", a.Span.File.Path, a.Span.Pos().Line)
		}
		if where != "" && a.Note != "" {
			out = append(out, where+" adds a note")
		}
		if where != "" && a.Text != nil {
			out = append(out, where+" puts a text in place of the entry's")
		}
	}
	return out
}

// daysOf says on which garden days a rule of a planting is done, and what leaves
// them less than its own windows.
func (in *Input) daysOf(c *Calendar, p *garden.Planting, r *entries.Rule) []string {
	var out []string
	for n := range c.Days {
		d := &c.Days[n]
		for _, part := range d.Parts {
			t := &c.Tasks[part.Task]
			if t.Planting != p || t.Rule.Span != r.Span {
				continue
			}
			which := ""
			if part.Of > 1 {
				which = fmt.Sprintf(", part %d of %d, as it takes longer than a day", part.N, part.Of)
			}
			out = append(out, fmt.Sprintf("on garden day %d, %s to %s%s: %s", n+1, d.From, d.To, which, in.narrowed(c, n, part.Task)))
		}
	}
	return out
}

// notDue says why a rule waits.
func notDue(only, notBefore, every int) string {
	switch {
	case only > 0:
		return fmt.Sprintf("only in year %d", only)
	case notBefore > 0 && every > 1:
		return fmt.Sprintf("not before year %d, then every %d years", notBefore, every)
	case notBefore > 0:
		return fmt.Sprintf("not before year %d", notBefore)
	case every > 1:
		return fmt.Sprintf("every %d years", every)
	}
	return "it waits until the plant has rooted in, or has been through a winter"
}
