package generator

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"sheaf/generator/entries"
)

var wordForm = regexp.MustCompile(`[a-z]+`)

// protects is a sentence on what to put on; in how a rule is done only these are
// cautions. What to do when harm is done hangs on the harm.
var (
	protects = regexp.MustCompile(`^\s*(?:Wear|Put on)\b`)
	helps    = regexp.MustCompile(`medical help at once`)
)

// plainWords are those that tell nothing of what a sentence warns of.
var plainWords = strings.Fields("a an and the of or to it its in on from with for is are be can may that this your you as at after before when if any each all not never do because")

// carried are the words of a sentence that carry its sense.
func carried(sentence string) []string {
	var out []string
	for _, w := range wordForm.FindAllString(strings.ToLower(sentence), -1) {
		w = strings.TrimSuffix(w, "s")
		if !slices.Contains(plainWords, w) && !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return out
}

// alike tells whether two sentences warn of the same: three of four words of the
// shorter one, and at least three, stand in the longer one.
func alike(a, b string) bool {
	x, y := carried(a), carried(b)
	if len(x) > len(y) {
		x, y = y, x
	}
	common := 0
	for _, w := range x {
		if slices.Contains(y, w) {
			common++
		}
	}
	return common >= 3 && common*4 >= len(x)*3
}

// twice gives the warnings of each rule of an entry that say what its hazards say
// or what stands in the rule before.
func twice(l *entries.Library, e *entries.Entry) []string {
	var of []string
	for _, h := range e.Hazards {
		of = append(of, sentences(l.Caution(h.Value))...)
	}
	var out []string
	for _, r := range e.Rules {
		before := slices.Clone(of)
		for _, text := range append([]string{r.How}, r.Cautions...) {
			for _, s := range sentences(text) {
				if text == r.How && !protects.MatchString(s) || helps.MatchString(s) {
					before = append(before, s)
					continue
				}
				if i := slices.IndexFunc(before, func(b string) bool { return alike(b, s) }); i >= 0 {
					out = append(out, fmt.Sprintf("%s, %s: %q after %q", e.File.Path, r.Job.Value, s, before[i]))
				}
				before = append(before, s)
			}
		}
	}
	return out
}

func sentences(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return r == '.' || r == '!' })
}

// TestNoCautionTwice: what a plant's hazards say, or the rule itself has said, is
// not said again in other words.
func TestNoCautionTwice(t *testing.T) {
	_, l, _ := shipped(t, nil)
	for _, e := range l.Entries {
		for _, line := range twice(l, e) {
			t.Error(line)
		}
	}
	_, l, _ = shipped(t, func(path, text string) string {
		if path == "plants/perennials/euphorbia-griffithii.md" {
			text = strings.Replace(text, "\ncare:\n  - job: cut back\n", "\ncare:\n  - job: cut back\n    cautions: [\"Rinse an eye that sap gets in with plenty of water, and get medical help.\"]\n", 1)
		}
		return text
	})
	if got := twice(l, entry(t, l, "perennials/euphorbia-griffithii")); len(got) == 0 {
		t.Error("a caution that says what the hazard says is not found")
	}
}
