package generator

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"sheaf/generator/prose"
)

// These tests hold the words and figures of the shipped library to what a
// reader is promised: plain language, cues before months, amounts that
// handbooks print.

// TestLibraryIsWhole counts what ships, by type.
func TestLibraryIsWhole(t *testing.T) {
	inv, ds, err := TakeInventory("")
	if err != nil || len(ds) > 0 {
		t.Fatalf("%v %s", err, told(ds))
	}
	have := map[string]int{}
	for _, c := range inv.Types {
		have[c.Type] = c.Entries
	}
	for _, c := range []struct {
		types string
		least int
	}{
		{"grass sedge rush", 45}, {"perennial", 60}, {"shrub subshrub rose", 30}, {"climber", 12}, {"hedge", 8},
		{"fern", 10}, {"bulb tender", 10}, {"tree", 8}, {"bamboo", 4},
	} {
		n := 0
		for _, typ := range strings.Fields(c.types) {
			n += have[typ]
		}
		if n < c.least {
			t.Errorf("%d entries of %s; at least %d are promised", n, c.types, c.least)
		}
	}
	if len(inv.Entries) < 180 || len(inv.Groups) < 30 || len(inv.Jobs) < 30 || len(inv.Regions) < 10 {
		t.Errorf("%d entries, %d groups, %d jobs, %d countries", len(inv.Entries), len(inv.Groups), len(inv.Jobs), len(inv.Regions))
	}
	for _, genus := range []string{"Phormium", "Yucca", "Kniphofia", "Wisteria", "Rosa", "Lonicera", "Hydrangea"} {
		if !slices.ContainsFunc(inv.Entries, func(e EntryLine) bool { return strings.HasPrefix(e.Botanical, genus) }) {
			t.Errorf("no entry of %s", genus)
		}
	}
}

// TestReadingAge: nobody needs to be older than 12 to read an entry with ease,
// and half of them are easy at 9. Plain-language guides ask for 9 to 12.
func TestReadingAge(t *testing.T) {
	inv, _, err := TakeInventory("")
	if err != nil {
		t.Fatal(err)
	}
	var ages []float64
	for _, e := range inv.Entries {
		ages = append(ages, e.ReadingAge)
		if e.ReadingAge > 12 {
			t.Errorf("%s reads at %.1f years", e.File, e.ReadingAge)
		}
	}
	slices.Sort(ages)
	median, worst := ages[len(ages)/2], ages[len(ages)-1]
	t.Logf("median %.1f years, highest %.1f", median, worst)
	if median > 9 {
		t.Errorf("the median is %.1f years", median)
	}
}

// byTheCalendar are jobs whose window may be one of months or seasons: what is
// in flower, in berry or in a nest decides them, or nothing that waits for
// growth or frost.
func byTheCalendar() map[string]string {
	return map[string]string{
		"deadhead":     "goes on while the plant flowers",
		"shear":        "follows the flowers, and stops while there is time to grow again",
		"chop":         "is early enough for flower buds to form again (TRADE 1.2 T15)",
		"remove stems": "follows the flowers or the seed",
		"check":        "is a look",
		"water":        "is for dry weather",
		"weed":         "is for seedlings",
		"groom":        "is a tidy in autumn",
		"mulch":        "is for moist soil",
		"clear leaves": "is for fallen leaves",
		"trim":         "waits for the nests (TRADE 5.3)",
	}
}

// Windows of months in other jobs, with their reasons.
func dated() map[string]string {
	return map[string]string{
		"climbers/wisteria prune":                       "its summer cut, of whips that have stopped (TRADE T28)",
		"climbers/wisteria-floribunda prune":            "its summer cut, of whips that have stopped (TRADE T28)",
		"climbers/wisteria-frutescens prune":            "its summer cut, of whips that have stopped (TRADE T28)",
		"climbers/wisteria-sinensis prune":              "its summer cut, of whips that have stopped (TRADE T28)",
		"hedges/cuprocyparis-leylandii prune":           "with the trim, after the nests",
		"hedges/taxus-media prune":                      "with the trim, after the nests",
		"hedges/thuja-occidentalis prune":               "with the trim, after the nests",
		"hedges/taxus-baccata prune":                    "with the trim, after the nests",
		"hedges/thuja-plicata prune":                    "with the trim, after the nests",
		"shrubs/escallonia-rubra prune":                 "after the nests, while growth can still harden",
		"trees/magnolia-soulangeana prune":              "high summer, when wounds close",
		"trees/prunus-kanzan raise crown":               "high summer, because of silver leaf",
		"trees/prunus-kanzan prune":                     "high summer, because of silver leaf",
		"bulbs/cyclamen-hederifolium remove old leaves": "its leaves die in early summer, whatever the spring was",
		"bulbs/nerine-bowdenii remove old leaves":       "its leaves die in late summer, before the flowers",
	}
}

// TestWindowsByCue: growth and frost are dated by what is seen in the garden.
func TestWindowsByCue(t *testing.T) {
	_, l, _ := shipped(t, nil)
	calendar, named := byTheCalendar(), dated()
	byCue, byMonth := 0, 0
	for _, e := range l.Entries {
		for _, r := range e.Rules {
			if r.When.Value.UsesCues() {
				byCue++
				continue
			}
			byMonth++
			key := strings.TrimSuffix(strings.TrimPrefix(e.File.Path, "plants/"), ".md") + " " + r.Job.Value
			if calendar[r.Job.Value] == "" && named[key] == "" {
				t.Errorf("%s: %q has the window %q, by no cue", e.File.Path, r.Job.Value, r.When.Value)
			}
			delete(named, key)
		}
	}
	for key := range named {
		t.Errorf("%s needs no exception any more", key)
	}
	t.Logf("%d windows by cue, %d by months or seasons", byCue, byMonth)
}

// termsOfArt are words a gardener knows and a beginner may not: those that
// glossaries of botany and pruning explain (from memory), and the tools.
func termsOfArt() []string {
	return strings.Split("anther, arborist, awn, axil, bare-rooted, basal, blight, bole, bract, callus, cambium, cane, canker, catkin, chlorosis, collar, "+
		"coppice, corm, crozier, crown, culm, cultivar, deadhead, deciduous, decurrent, dieback, dioecious, divide, espalier, etiolated, evergreen, fastigiate, "+
		"fireblight, fleece, floret, flush, framework, frond, gauntlets, graft, hardy, haw, herbaceous, hip, humus, hybrid, inflorescence, internode, keel, "+
		"lateral, leader, leaf mould, ligule, loppers, mildew, mulch, mycorrhiza, node, offset, panicle, peduncle, perennial, petiole, pinnate, plume, pollard, "+
		"raceme, reversion, rhizome, rootball, rootstock, rosette, runner, rust, sapwood, scape, scion, secateurs, semi-evergreen, sepal, silver leaf, spadix, "+
		"spathe, species, spring-tine rake, spur, stamen, sterile, stipule, stolon, stub, sucker, taproot, tendril, tepal, thatch, tiller, topiary, tuber, "+
		"tussock, umbel, variegated, water shoot, whip, whorl", ", ")
}

// TestTermsAreExplained: every term of art that the library uses stands in the
// glossary.
func TestTermsAreExplained(t *testing.T) {
	t.Parallel()
	_, l, _ := shipped(t, nil)
	glossary := map[string]bool{}
	for _, term := range l.Page("glossary").Terms {
		glossary[strings.ToLower(term.Key.Value)] = true
	}
	used := map[string]string{} // where
	for _, term := range termsOfArt() {
		word := regexp.MustCompile(`(?i)\b` + regexp.QuoteMeta(term) + `(s|es|ed|d|ing)?\b`)
		look := func(path, text string) {
			if used[term] == "" && word.MatchString(text) {
				used[term] = path
			}
		}
		for _, e := range l.Entries {
			look(e.File.Path, strings.Join(ruleTexts(e.Rules, e.Adjust), "\n")+"\n"+prose.Text(e.Body))
		}
		for _, g := range l.Groups {
			look(g.File.Path, g.Summary+"\n"+prose.Text(g.Body))
		}
		for _, j := range l.Jobs {
			look(j.File.Path, j.Summary+"\n"+prose.Text(j.Body))
		}
	}
	for term, where := range used {
		if where != "" && !glossary[term] {
			t.Errorf("%s uses %q, which the glossary does not explain", where, term)
		}
	}
	if len(used) < 40 {
		t.Errorf("only %d terms are used: are texts still read?", len(used))
	}
}

// TestAmountsOfHandbooks: what a cut leaves lies within what handbooks print,
// in centimetres. A longer stub by up to 5 cm is the cautious side.
func TestAmountsOfHandbooks(t *testing.T) {
	_, l, _ := shipped(t, nil)
	const cautious = 5
	for _, c := range []struct {
		path, job string
		low, high float64
		source    string
	}{
		{"grasses/andropogon-gerardii", "cut back", 0, 10, "University of Nebraska, A sea of grass; a specialist grower, British Columbia, 2010"},
		{"grasses/bouteloua-gracilis", "cut back", 4, 8, "Sunset, Grooming grasses: plants under 90 cm"},
		{"grasses/calamagrostis-acutiflora", "cut back", 0, 60, "RHS 434: ground level; a specialist grower, British Columbia, 2010: one third"},
		{"grasses/calamagrostis-brachytricha", "cut back", 0, 40, "RHS 434; a specialist grower, British Columbia, 2010: one third"},
		{"grasses/carex-muskingumensis", "cut back", 0, 5, "a specialist grower, British Columbia: right down"},
		{"grasses/achnatherum-calamagrostis", "cut back", 0, 30, "a nursery's fact sheet: to the ground; RHS trial, April 2015: 30 cm"},
		{"grasses/hakonechloa-macra", "cut back", 0, 5, "a nursery's page: to the ground before new shoots"},
		{"grasses/miscanthus-sinensis", "cut back", 8, 15, "a specialist grower, British Columbia, 2010; Sunset: plants of 90 to 180 cm"},
		{"grasses/miscanthus-giganteus", "cut back", 8, 15, "as Miscanthus sinensis"},
		{"grasses/molinia-caerulea-caerulea", "cut back", 0, 8, "a newspaper column, 6 February 2021: low mound"},
		{"grasses/muhlenbergia-capillaris", "cut back", 0, 20, "RHS 434: just above ground; gardeners' pages: 15 to 20 cm"},
		{"grasses/panicum-virgatum", "cut back", 5, 10, "Iowa State University Extension, 2014; a specialist grower, British Columbia, 2010"},
		{"grasses/pennisetum-alopecuroides", "cut back", 5, 10, "Iowa State University Extension, 2014; a specialist grower, British Columbia, 2010"},
		{"grasses/pennisetum-orientale", "cut back", 5, 10, "as Pennisetum alopecuroides"},
		{"grasses/schizachyrium-scoparium", "cut back", 8, 10, "a specialist grower, British Columbia, 2010"},
		{"grasses/sorghastrum-nutans", "cut back", 8, 10, "a specialist grower, British Columbia, 2010"},
		{"grasses/sporobolus-heterolepis", "cut back", 4, 10, "Sunset; a specialist grower, British Columbia, 2010"},
		{"climbers/clematis-viticella", "prune", 30, 45, "The Herald, late clematis"},
		{"climbers/clematis-tangutica", "prune", 30, 45, "The Herald, late clematis"},
		{"hedges/crataegus-monogyna", "prune", 15, 30, "RHS 353, hedge trimming: at planting"},
		{"shrubs/buddleja-davidii", "prune", 5, 60, "Bay Weekly: within inches; common practice to 60 cm"},
		{"shrubs/cornus-alba-sibirica", "coppice", 5, 10, "Gardens Illustrated: 7 to 10 cm; a gardening firm: 5 cm"},
		{"shrubs/hydrangea-arborescens", "prune", 30, 45, "Canadian Gardening"},
		{"shrubs/hydrangea-paniculata", "prune", 45, 60, "Daily Mail, 11 March 2023: about 45 cm; Which? Gardening: a higher framework where height is wanted"},
		{"bulbs/dahlia-pinnata", "cut back", 5, 13, "RHS advisory service; Amateur Gardening, 2 October 2021"},
		{"perennials/paeonia-lactiflora", "cut back", 0, 8, "Iowa State University Extension, Hortline: near the ground; The Buffalo News, 29 October 2004: 7 to 8 cm"},
	} {
		e := entry(t, l, c.path)
		seen := 0
		for _, r := range e.Rules {
			leave := r.Leave.Value
			if r.Job.Value != c.job || leave.Length.IsZero() {
				continue
			}
			seen++
			if leave.Length.Low < c.low || leave.Length.High > c.high+cautious {
				t.Errorf("%s: %q leaves %s; %s prints %.0f to %.0f cm", c.path, c.job, r.Leave.Span.Text(), c.source, c.low, c.high)
			}
		}
		if seen == 0 {
			t.Errorf("%s: %q leaves no length", c.path, c.job)
		}
	}
}

// TestWoodyEntriesHaveTheirGroup: a woody plant is pruned as its group is.
func TestWoodyEntriesHaveTheirGroup(t *testing.T) {
	_, l, _ := shipped(t, nil)
	for _, e := range l.Entries {
		switch e.Type {
		case "shrub", "subshrub", "rose", "climber", "hedge", "tree":
			if e.Group == nil {
				t.Errorf("%s has no care group", e.File.Path)
			}
		}
	}
}
