package generator

import (
	"regexp"
	"slices"
	"testing"

	"sheaf/generator/entries"
	"sheaf/generator/site"
)

var (
	noCut  = regexp.MustCompile(`(?i)\b(do not (cut|prune|shorten)|cut nothing|no cut|leave (it whole|every leaf|the bush)|keep (every|all)\b.* lea(f|ves))`)
	noMove = regexp.MustCompile(`(?i)\bdo not (lift|divide|move)`)
)

// gentle are the cuts that a note against cutting does not mean: flowers, tips and
// what is dead.
var gentle = []string{"deadhead", "pinch", "remove stems", "remove suckers", "remove old leaves"}

// TestFirstYearForbidsNothingDated: what a note for the first year forbids is not
// asked for in that year, whether the plant went in in autumn or in spring.
func TestFirstYearForbidsNothingDated(t *testing.T) {
	_, l, _ := shipped(t, nil)
	read := 0
	for _, e := range l.Entries {
		for _, a := range e.Adjust {
			if a.If != "first year" || !noCut.MatchString(a.Note) && !noMove.MatchString(a.Note) {
				continue
			}
			read++
			for _, planted := range []string{"2026-10-10", "2027-03-20"} {
				for _, task := range tasks(t, l, e, cambridge(), "GB", planted, 1) {
					job := task.Job
					if least, ok := task.Rule.Leave.Value.Least(); a.Job.Value != "" && a.Job.Value != job.Name.Value || ok && least >= 0.9 {
						continue
					}
					cuts := noCut.MatchString(a.Note) && job.Family == "cut" && !slices.Contains(gentle, job.Name.Value)
					moves := noMove.MatchString(a.Note) && (job.Mark == "divide" || job.Mark == "replant" || job.Mark == "lift")
					if task.Year == 1 && (cuts || moves) {
						t.Errorf("%s, planted %s: %s from %s, and %q", e.File.Path, planted, job.Name.Value, task.From, a.Note)
					}
				}
			}
		}
	}
	if read < 15 {
		t.Errorf("only %d notes were read", read)
	}
}

// TestNothingIsReplantedThatWasNotLifted: a root planted this spring goes back into
// the ground a year later, after its first winter in store.
func TestNothingIsReplantedThatWasNotLifted(t *testing.T) {
	_, l, _ := shipped(t, nil)
	read := 0
	for _, e := range l.Entries {
		if !slices.ContainsFunc(e.Rules, func(r entries.Rule) bool { return r.Job.Value == "lift" }) {
			continue
		}
		read++
		var lifted, replanted site.Day
		for _, task := range tasks(t, l, e, cambridge(), "GB", "2027-04-12", 2) {
			switch {
			case task.Job.Name.Value == "lift" && lifted == 0:
				lifted = task.From
			case task.Job.Name.Value == "replant" && replanted == 0:
				replanted = task.From
			}
		}
		if lifted == 0 || replanted < lifted {
			t.Errorf("%s: replanted from %s, and lifted from %s", e.File.Path, replanted, lifted)
		}
	}
	if read < 2 {
		t.Errorf("only %d entries were read", read)
	}
}
