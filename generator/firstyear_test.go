package generator

import (
	"regexp"
	"slices"
	"testing"
	"time"

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

// TestNothingIsBroughtBackThatWasNotPutAway: what goes in after the coldest day is
// replanted only once it was lifted, and uncovered only once it was covered. What
// went in in autumn is uncovered in the first spring.
func TestNothingIsBroughtBackThatWasNotPutAway(t *testing.T) {
	_, l, _ := shipped(t, nil)
	read := 0
	for _, e := range l.Entries {
		for _, pair := range [][2]string{{"lift", "replant"}, {"protect", "uncover"}} {
			if !slices.ContainsFunc(e.Rules, func(r entries.Rule) bool { return r.Job.Value == pair[0] }) ||
				!slices.ContainsFunc(e.Rules, func(r entries.Rule) bool { return r.Job.Value == pair[1] }) {
				continue
			}
			first := func(planted, job string) site.Day {
				for _, task := range tasks(t, l, e, cambridge(), "GB", planted, 2) {
					if task.Job.Name.Value == job {
						return task.From
					}
				}
				return 0
			}
			if away := first("2027-03-01", pair[0]); away != 0 {
				read++
				if back := first("2027-03-01", pair[1]); back < away {
					t.Errorf("%s: %s from %s, and %s from %s", e.File.Path, pair[1], back, pair[0], away)
				}
				if back := first("2026-10-10", pair[1]); back == 0 || back > site.Date(2027, time.June, 30) {
					t.Errorf("%s, planted in autumn: %s from %s", e.File.Path, pair[1], back)
				}
			}
		}
	}
	if read < 4 {
		t.Errorf("only %d entries were read", read)
	}
}
