package generator_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"sheaf/content"
	"sheaf/generator/care"
	"sheaf/generator/entries"
	"sheaf/generator/prose"
	"sheaf/generator/source"
)

// shippedPests reads the list of pests.
func shippedPests(t *testing.T) []*entries.Pest {
	t.Helper()
	data, err := content.Library().Open("regions/pests.yaml")
	if err != nil {
		t.Fatal(err)
	}
	defer data.Close()
	info, err := data.Stat()
	if err != nil {
		t.Fatal(err)
	}
	text := make([]byte, info.Size())
	if _, err := data.Read(text); err != nil {
		t.Fatal(err)
	}
	pests, ds := entries.ParsePests(source.NewFile("regions/pests.yaml", text))
	if len(ds) > 0 {
		t.Fatal(printed(ds))
	}
	return pests
}

// TestPestsOfThePlace: in a garden of any of the ten countries, with every plant of
// the library, no text names a pest that is not known there; and what a text does
// name is in the list of pests.
func TestPestsOfThePlace(t *testing.T) {
	t.Parallel()
	pests := shippedPests(t)
	l := wholeShelf(t)
	// Work is looked at in those that have some of their own, and texts in all.
	var plants []string
	for _, e := range representatives(l, func(*entries.Entry) string { return "" }) {
		plants = append(plants, e.Name.Value.Plain())
	}
	// Words by which English names a pest or a disease that does not go everywhere.
	// Mildew, rust, rot, wilt, scab and canker do (from memory).
	pestWord := regexp.MustCompile(`(?i)\b([a-z]+ )?(beetle|weevil|moth|aphid|greenfly|blackfly|blight|fireblight|eelworm|nematode|slug|snail|thrips|whitefly|sawfly|leaf miner|mite|vole|rabbit|deer|gopher|possum|tortrix|adelgid|mice|silver leaf fungus)(s|es)?\b`)
	harmless := regexp.MustCompile(`(?i)feeds moths|moths and butterflies|and moths (never|visit)|moths visit|trap moths|a moth or two lives|deer fern|rabbits?-proof`)
	named := map[string][]*entries.Pest{} // by sentence, as places have most in common
	of := func(text string) []*entries.Pest {
		out, ok := named[text]
		if !ok {
			for _, p := range pests {
				if p.Named(text) {
					out = append(out, p)
				}
			}
			named[text] = out
		}
		return out
	}
	vague := map[string]bool{}
	for _, r := range l.Regions {
		plan, _ := checkAt(t, r.Code, "", "", plants...)
		plan.Library.Fill(plan.Library.Entries...)
		texts := map[string]string{}
		about := "" // what is said in rules that are about a pest and name it once
		for _, e := range plan.Library.Entries {
			texts[e.File.Path] = e.Text()
			for i := range e.Rules {
				if e.Rules[i].Pests != nil {
					about += strings.Join(e.Rules[i].Words(), "\n")
				}
			}
		}
		for _, g := range plan.Library.Groups {
			text := g.Summary + "\n" + prose.Text(g.Body)
			for i := range g.Rules {
				text += "\n" + strings.Join(g.Rules[i].Words(), "\n")
			}
			texts[g.File.Path] = text
		}
		for _, j := range plan.Library.Jobs {
			texts[j.File.Path] = j.Summary + "\n" + prose.Text(j.Body)
		}
		for _, p := range plan.Library.Pages {
			texts[p.File.Path] = prose.Text(p.Body)
		}
		for path, text := range texts {
			for _, sentence := range prose.Sentences(text) {
				for _, p := range of(sentence) {
					if !slices.Contains(p.In, r.Code) {
						t.Errorf("%s: %s names %s: %s", r.Code, path, p.Name, sentence)
					}
				}
				says, ok := vague[sentence]
				if !ok {
					says = len(of(sentence)) == 0 && pestWord.MatchString(sentence) && !harmless.MatchString(sentence)
					vague[sentence] = says
				}
				if says && !strings.Contains(about, sentence) {
					t.Errorf("%s names a pest that the list does not have: %s", path, sentence)
				}
			}
		}
		for _, task := range plan.Calendar.Tasks {
			for _, p := range of(fmt.Sprint(task.Rule.Words(), task.Notes)) {
				if !slices.Contains(p.In, r.Code) {
					t.Errorf("%s: %s of %s names %s", r.Code, task.Job.Name.Value, task.Planting.Label(), p.Name)
				}
			}
		}
	}
}

// TestMelbourneHasNoLilyBeetle: the lily's check is about that beetle alone and is
// no work there; elsewhere it is.
func TestMelbourneHasNoLilyBeetle(t *testing.T) {
	for country, want := range map[string]bool{"AU": false, "GB": true} {
		plan, _ := checkAt(t, country, "", "", "Lilium regale")
		text := plan.Plantings[0].Entry.Text()
		if got := strings.Contains(text, "red lily beetle") || strings.Contains(text, "Lily beetle"); got != want {
			t.Errorf("%s: %v\n%s", country, got, text)
		}
		if got := slices.ContainsFunc(plan.Calendar.Tasks, func(task care.Task) bool { return task.Job.Name.Value == "check" }); got != want {
			t.Errorf("%s: checked %v", country, got)
		}
		if strings.Contains(text, "  ") || strings.Contains(text, "\n\n\n") {
			t.Errorf("%s: gaps are left: %q", country, text)
		}
	}
}
