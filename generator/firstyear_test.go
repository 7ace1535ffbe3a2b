package generator

import (
	"regexp"
	"slices"
	"testing"
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
