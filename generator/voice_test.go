package generator

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"sheaf/generator/entries"
	"sheaf/generator/fields"
	"sheaf/generator/prose"
)

// These tests hold what an owner reads in the shipped library to one voice. It
// says what is seen in the garden and what to do. It names no month: turned by
// half a year for the south it is still one country's, and June at Cambridge is
// early May at Lisbon. It speaks to the owner and to nobody else, and of the
// plant and not of the book that is printed; where publications disagree the
// cautious advice stands alone, and the doubt is a comment. What every garden
// gets names nothing that a garden may lack.

// A habit is a way of speaking that no owner should meet.
type habit struct {
	name string
	words,
	but *regexp.Regexp // what is meant, and what looks like it and is not; nil: nothing
	// free are files of which it may be said, and why.
	free map[string]string
}

func habits() []habit {
	return []habit{
		// Months are written with a capital, may and march without one are verbs.
		{"a month", regexp.MustCompile(`\b(?:January|February|March|April|May|June|July|August|September|October|November|December|Jan|Feb|Apr|Aug|Sept?|Oct|Nov|Dec)\b`), nil, nil},
		{"the designer", regexp.MustCompile(`(?i)\b(?:(?:in|on|of) (?:the|your) (?:plant(?:ing)? )?(?:list|schedule|plan)|(?:the|your) (?:plant(?:ing)? list|planting plan|plant schedule|clients?)|(?:the|your) owner'?s?|handover|designers?|front matter|(?:this|the) entry|entries)\b`), nil, nil},
		{"the book", regexp.MustCompile(`(?i)\b(?:this|the|our) (?:book(?:let)?|guide|handbook|manual|page|text|library)\b|\b(?:practices?|advice|opinions?|sources?|publications?|authors?|books|nurseries|readings|growers) (?:differs?|disagrees?|var(?:y|ies)|(?:is|are) divided)\b|\bthe sources\b`),
			// Pages are for finding one's way; a job's page sends one to the plant's.
			regexp.MustCompile(`(?i)\b(?:the page (?:says|asks|tells|gives|of|for)|(?:says?|said) on the page|unless the page)\b`),
			map[string]string{
				"pages/how-to-use.md":       "it is about the booklet",
				"pages/how-to-use-guide.md": "it is about the guide",
			}},
	}
}

// ownersTexts gives by file what an owner reads of a library's entries, groups, jobs
// and pages, text by text. Names are not among it, nor the law of a region,
// which has dates of its own.
func ownersTexts(s entries.Shelf) map[string][]string {
	out := map[string][]string{}
	kept := func(rules []entries.Rule) (leaves []string) {
		for i := range rules {
			leaves = append(leaves, rules[i].Leave.Span.Text())
		}
		return leaves
	}
	pairs := func(ps []fields.Pair) (texts []string) {
		for _, p := range ps {
			texts = append(texts, p.Value.Value)
		}
		return texts
	}
	for _, e := range s.Entries {
		out[e.File.Path] = slices.Concat([]string{prose.Text(e.Body)}, ruleTexts(e.Rules, e.Adjust), kept(e.Rules))
	}
	for _, g := range s.Groups {
		out[g.File.Path] = slices.Concat([]string{g.Summary, prose.Text(g.Body)}, ruleTexts(g.Rules, nil), kept(g.Rules))
	}
	for _, j := range s.Jobs {
		out[j.File.Path] = []string{j.Summary, prose.Text(j.Body)}
	}
	for _, p := range s.Pages {
		out[p.File.Path] = slices.Concat([]string{p.Title, prose.Text(p.Body)}, pairs(p.Terms), pairs(p.Hazards), pairs(p.Risks))
	}
	return out
}

// slips gives the sentences of a library in which a habit is met, each with its file.
func (h habit) slips(s entries.Shelf) []string {
	var out []string
	texts := ownersTexts(s)
	for _, path := range sorted(texts) {
		if h.free[path] != "" {
			continue
		}
		for _, text := range texts[path] {
			for _, line := range prose.Sentences(text) {
				if h.in(line) {
					out = append(out, path+": "+line)
				}
			}
		}
	}
	return out
}

func (h habit) in(line string) bool {
	if h.but != nil {
		line = h.but.ReplaceAllString(line, "")
	}
	return h.words.MatchString(line)
}

func TestOwnersAreSpokenTo(t *testing.T) {
	s, _, _ := shipped(t, nil)
	for _, h := range habits() {
		for _, line := range h.slips(s) {
			t.Errorf("%s is named in %s", h.name, line)
		}
	}
}

// TestSlipsAreHeard puts each habit into a text of every kind of file, each in
// its own key or body, and finds it there.
func TestSlipsAreHeard(t *testing.T) {
	t.Parallel()
	said := []string{"Plumes open in June.", "Reckon 1 plant in your list as 1 running metre.", "Practice differs on the height."} // by habit
	var known [][]string
	clean, _, _ := shipped(t, nil)
	for _, h := range habits() {
		known = append(known, h.slips(clean))
	}
	for _, at := range []struct{ path, before string }{
		{"plants/grasses/miscanthus-sinensis.md", "\n---\n"},        // the body
		{"plants/grasses/miscanthus-sinensis.md", "    look-for: "}, // a rule
		{"plants/grasses/miscanthus-sinensis.md", "    note: "},     // an adjustment
		{"groups/deciduous-warm-season-grass.md", "\n---\n"},
		{"groups/deciduous-warm-season-grass.md", "summary: "},
		{"groups/deciduous-warm-season-grass.md", "    if-missed: "},
		{"jobs/cut-back.md", "\n---\n"},
		{"jobs/cut-back.md", "summary: "},
		{"pages/first-year.md", "\n---\n"},
		{"pages/safety.md", "  thorns: "},
		{"pages/glossary.md", "  awn: "},
	} {
		s, _, _ := shipped(t, func(path, text string) string {
			if path != at.path {
				return text
			}
			return strings.Replace(text, at.before, at.before+strings.Join(said, " ")+" ", 1)
		})
		for i, h := range habits() {
			got := slices.DeleteFunc(h.slips(s), func(line string) bool { return slices.Contains(known[i], line) })
			if want := at.path + ": " + strings.TrimSuffix(said[i], "."); !slices.Equal(got, []string{want}) {
				t.Errorf("%s after %q in %s: got %q", h.name, at.before, at.path, got)
			}
		}
	}
}

// TestHabits shows each habit with what it is and what it is not.
func TestHabits(t *testing.T) {
	for _, c := range []struct {
		habit   string
		is, not []string
	}{
		{"a month",
			[]string{"New leaf shows early, often in February", "By October the mound is orange", "Wait for May", "Clip it in mid-July", "from Sept to the frosts"},
			[]string{"It may flower again", "Ants march over the buds", "Augustan urns", "in its second month", "Leave it until the first frost"}},
		{"the designer",
			[]string{"1 plant in your list is 1 running metre", "In the list, read 1 plant as 1 running metre", "Tell the owner so", "Marked on the planting plan", "What this entry says"},
			[]string{"A list of weeds is kept by the state", "You planted it for its bark", "The minutes are for 1 running metre", "a weed list of the region"}},
		{"the book",
			[]string{"This booklet leaves a short stub", "Practice differs", "On this, practice differs: some mow it", "The sources differ", "Nurseries differ on this", "This page serves all garden dahlias", "Advice varies"},
			[]string{"Give the height on the plant's page", "The page says so", "the page asks for it", "Its kinds differ in height", "The leaves vary in colour"}},
	} {
		i := slices.IndexFunc(habits(), func(h habit) bool { return h.name == c.habit })
		for _, line := range c.is {
			if !habits()[i].in(line) {
				t.Errorf("%s is not met in %q", c.habit, line)
			}
		}
		for _, line := range c.not {
			if habits()[i].in(line) {
				t.Errorf("%s is met in %q", c.habit, line)
			}
		}
	}
}

// lacking gives each kind of plant and each job that stands in a page which every
// garden gets, by a list of the jobs. The glossary is not among those pages, as it
// prints only terms that are used, nor the page on safety, which tells of risks
// that a garden has without a plant of the list: old trees, ladders, fires.
func lacking(s entries.Shelf) []string {
	// What every garden has in its first year, or of which no more is said than
	// that it is left alone or may be there.
	first := []string{"water", "weed", "mulch", "check", "feed", "stake"}
	words := entries.Types()
	for _, j := range s.Jobs {
		words = append(words, j.Name.Value)
	}
	var out []string
	for _, p := range s.Pages {
		if p.ID == "glossary" || p.ID == "safety" {
			continue
		}
		for _, w := range words {
			if p.ID == "first-year" && slices.Contains(first, w) {
				continue
			}
			if found := regexp.MustCompile(`(?i)\b` + w + `(?:e?s)?\b`).FindString(prose.Text(p.Body)); found != "" {
				out = append(out, p.File.Path+": "+found)
			}
		}
	}
	return out
}

func TestPagesSuitAnyGarden(t *testing.T) {
	s, _, _ := shipped(t, nil)
	for _, line := range lacking(s) {
		t.Errorf("a garden may have none of what is named in %s", line)
	}
	for said, want := range map[string]string{
		"Do not cut new grasses hard.": "grasses",
		"Do not coppice.":              "coppice",
		"Give a shrub half a can.":     "shrub",
	} {
		s, _, _ := shipped(t, func(path, text string) string {
			if path != "pages/first-year.md" {
				return text
			}
			return text + "\n" + said + "\n"
		})
		if got := lacking(s); !slices.Equal(got, []string{"pages/first-year.md: " + want}) {
			t.Errorf("%q: %q", said, got)
		}
	}
}
