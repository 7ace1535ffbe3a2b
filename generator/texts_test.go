package generator

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"sheaf/generator/entries"
	"sheaf/generator/prose"
)

var (
	// A month's name. "May" that begins a sentence is the verb.
	monthInText = regexp.MustCompile(`\b(January|February|March|April|June|July|August|September|October|November|December)\b|[a-z,] May\b`)
	// Words that speak of the book or to its maker, or leave the choice open.
	notForOwners = regexp.MustCompile(`(?i)\b(this|the) (booklet|book|guide)\b|\bpractice differs\b|\bsources (differ|disagree)\b|\byour list\b`)
	// Folders of the library whose texts are held to it.
	heldToPlainTexts = []string{"plants/perennials/"}
)

// unplain gives each sentence an owner reads that names a month, which holds in
// one country alone, or that speaks of anything but the plant and the work.
func unplain(l *entries.Library) []string {
	var out []string
	for _, e := range l.Entries {
		if !slices.ContainsFunc(heldToPlainTexts, func(dir string) bool { return strings.HasPrefix(e.File.Path, dir) }) {
			continue
		}
		for _, text := range append(ruleTexts(e.Rules, e.Adjust), prose.Text(e.Body)) {
			for _, line := range prose.Sentences(text) {
				if monthInText.MatchString(line) || notForOwners.MatchString(line) {
					out = append(out, e.File.Path+": "+line)
				}
			}
		}
	}
	return out
}

// TestTextsSayWhatIsSeen: a text names what is seen, or a season, and no month;
// it tells what to do, and not that books disagree on it.
func TestTextsSayWhatIsSeen(t *testing.T) {
	_, l, _ := shipped(t, nil)
	for _, line := range unplain(l) {
		t.Error(line)
	}
	// Each kind is found where it is put in.
	for _, wrong := range []string{"The plates open in May and last.", "It flowers from late July.", "Practice differs: some cut it.", "This booklet leaves it whole."} {
		_, l, _ := shipped(t, func(path, text string) string {
			if path != "plants/perennials/achillea-filipendulina.md" {
				return text
			}
			return strings.Replace(text, "\nIt thrives on neglect.", "\n"+wrong+" It thrives on neglect.", 1)
		})
		if got := unplain(l); len(got) != 1 || !strings.HasSuffix(got[0], strings.TrimSuffix(wrong, ".")) {
			t.Errorf("%q is told as %q", wrong, got)
		}
	}
}

// cautionsSay tells whether the cautions of a rule, its group's among them, hold all the words.
func cautionsSay(r *entries.Rule, words ...string) bool {
	text := strings.Join(r.Cautions, " ")
	return !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, w) })
}

// TestMonkshoodWarnsInEveryJob: the poison of monkshood goes through skin, so each
// job that touches it asks for gloves, a wash and a distance from food (Royal
// Horticultural Society, advice 524, potentially harmful plants).
func TestMonkshoodWarnsInEveryJob(t *testing.T) {
	_, l, _ := shipped(t, nil)
	seen := 0
	for _, e := range l.Entries {
		if e.Name.Value.Genus != "Aconitum" {
			continue
		}
		for i := range e.Rules {
			seen++
			if r := &e.Rules[i]; !cautionsSay(r, "gloves", "wash your hands", "food", "skin") {
				t.Errorf("%s: %s warns only: %q", e.File.Path, r.Job.Value, r.Cautions)
			}
		}
	}
	if seen < 2 {
		t.Errorf("%d jobs of monkshood", seen)
	}
}
