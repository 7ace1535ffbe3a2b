package generator

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"sheaf/generator/entries"
	"sheaf/generator/prose"
	"sheaf/generator/source"
)

// These tests hold the hazards of the shipped entries to published lists: what
// a list calls harmful is flagged, each flag is printed with each task, and a
// plant that some place forbids says so.

// A listing is a genus that published sources call harmful: the kinds that an
// entry of it must flag, and who says so.
type listing struct {
	genus, kinds, source string
	// exempt are entries of the genus that need not flag it, and why.
	exempt map[string]string
}

// Short names for the sources of listings. TRADE 3 has its toxicity from common
// handbooks, so a row of it alone says "handbooks".
const (
	// The Society's list of toxic plants, read in copies of its lists for cats
	// and for dogs, cats and horses.
	aspca = "American Society for the Prevention of Cruelty to Animals, toxic plants"
	// Only the part of the list from Achillea to Aralia could be read.
	davis = "University of California, Davis, safe and poisonous garden plants, 2012"
	// The page and a short copy of its list could be read; the rest is from memory.
	rhs = "Royal Horticultural Society, advice 524, potentially harmful plants"
	// Short lists of garden plants for those who keep animals.
	missouri = "University of Missouri Extension, landscape plants that are poisonous to livestock"
	horses   = "Extension Horses, plants that are toxic to horses"
	// The Botanical Dermatology Database, family pages.
	skin = "Botanical Dermatology Database"
	// The list of garden flowers, read in a copy.
	horseFarms = "The Horse, landscaping plants to avoid on horse farms"
	// The bulletin's own pages could not be read, a county agent's list after it
	// could (Rowan County, 16 May 2021: yew, rhododendron, hydrangea, cherry, box).
	northCarolina = "North Carolina State University, Poisonous Plants of North Carolina, bulletin 414"
	cornellGoats  = "Cornell University, poisonous plants for goats"
)

func listings() []listing {
	return []listing{
		// Poisonous, and for skin, by TRADE 5.1 and the trade's lists.
		{"Aconitum", "irritant sap, toxic if eaten, toxic to pets, toxic to grazing animals", "TRADE 5.1 and 3.1 row 2; " + rhs + "; " + davis + "; " + horseFarms, nil},
		{"Agapanthus", "irritant sap, toxic if eaten", "TRADE 3.1 row 3; " + davis, nil},
		{"Anemone", "irritant sap, toxic if eaten", "TRADE 3.1 row 5; " + davis, nil},
		{"Aquilegia", "irritant sap, toxic if eaten, toxic to grazing animals", "TRADE 3.1 row 6; the skin by handbooks, as in the rest of its family; HorseDVM, poisonous plants", nil},
		{"Aruncus", "toxic if eaten", "TRADE 3.1 row 7, handbooks (the seeds)", nil},
		{"Baptisia", "toxic if eaten, toxic to pets, toxic to grazing animals", "TRADE 3.1 row 12; Royal College of Physicians, garden plant database: seeds and flowers; " + horseFarms, nil},
		{"Buxus", "irritant sap, toxic if eaten, toxic to pets, toxic to grazing animals", "TRADE 3.2 row 76 and 3.4 row 138; " + aspca + "; livestock: " + missouri + "; " + horses, nil},
		{"Clematis", "irritant sap, toxic if eaten, toxic to pets, toxic to grazing animals", "TRADE 3.3 rows 125 to 128; " + aspca + " (horses from memory); eaten, by handbooks", nil},
		{"Cyclamen", "irritant sap, toxic if eaten, toxic to pets", aspca + "; the skin by handbooks", nil},
		{"Daphne", "irritant sap, toxic if eaten, toxic to pets, toxic to grazing animals", "TRADE 5.1 and 3.2 row 88; " + rhs + "; grazing animals: Canadian Poisonous Plants Information System (from memory)", nil},
		{"Delphinium", "irritant sap, toxic if eaten, toxic to pets, toxic to grazing animals", "TRADE 5.1 and 3.1 row 20; " + aspca + "; " + rhs + " (the skin from memory); " + horseFarms + "; Veterinary Toxicology, third edition: cattle", nil},
		{"Digitalis", "irritant sap, toxic if eaten, toxic to pets, toxic to grazing animals", "TRADE 5.1 and 3.1 row 23; " + aspca + "; the skin by a list of the most poisonous plants (eating and contact); " + horseFarms, nil},
		{"Euphorbia", "sap eyes, irritant sap, toxic if eaten, toxic to pets, toxic to grazing animals", "TRADE 5.1 and 3.1 rows 29 to 31; Archives of Ophthalmology 118, 2000; " + aspca + "; Colorado State University, guide to poisonous plants, for its wild kin (from memory)", nil},
		{"Eutrochium", "toxic if eaten, toxic to pets, toxic to grazing animals", "Natural Medicines Comprehensive Database, gravel root (a near kin): pyrrolizidine alkaloids; Oregon State University Extension: these harm cattle and horses, fresh and in hay", nil},
		{"Galanthus", "toxic if eaten, toxic to pets", rhs + " (from memory)", nil},
		{"Helleborus", "irritant sap, toxic if eaten, toxic to pets, toxic to grazing animals", "TRADE 3.1 rows 40 and 41; " + aspca + "; horses, too, on the animal list (from memory)", nil},
		{"Hydrangea", "irritant sap, allergen, toxic if eaten, toxic to pets, toxic to grazing animals", "TRADE 3.2 rows 97 to 100 and 3.3 row 131; " + aspca + "; " + skin + " (the allergy from memory); " + northCarolina + " (wilted leaves)", nil},
		{"Ilex", "thorns, toxic if eaten, toxic to pets", "TRADE 3.4 row 144; " + aspca, map[string]string{
			"shrubs/ilex-crenata":      "leaf without spines",
			"shrubs/ilex-glabra":       "leaf without spines",
			"shrubs/ilex-verticillata": "leaf without spines",
			"shrubs/ilex-vomitoria":    "leaf without spines",
		}},
		{"Iris", "irritant sap, toxic if eaten, toxic to pets, toxic to grazing animals", "TRADE 3.1 rows 46 and 47; " + aspca + "; " + horseFarms, nil},
		{"Lamprocapnos", "irritant sap, toxic if eaten, toxic to pets, toxic to grazing animals", "TRADE 3.1 row 22; United States Army, list of ornamental poisonous plants: skin; Warren County Master Gardeners: people and animals; " + horseFarms + "; Pet Poison Helpline: cattle and sheep", nil},
		{"Ligustrum", "toxic if eaten, toxic to pets, toxic to grazing animals", "TRADE 3.4 row 141; " + aspca + "; " + horses, nil},
		{"Lonicera", "toxic if eaten", "TRADE 3.3 row 130, handbooks (the berries)", nil},
		{"Lupinus", "toxic if eaten, toxic to grazing animals", "TRADE 3.1 row 51; " + rhs + "; Colorado State University, guide to poisonous plants: sheep, cattle, horses", nil},
		{"Matteuccia", "toxic if eaten", "Centers for Disease Control and Prevention, ostrich fern poisoning, 1994 (raw or lightly cooked)", nil},
		{"Narcissus", "irritant sap, toxic if eaten, toxic to pets, toxic to grazing animals", rhs + "; " + aspca + " (horses from memory)", nil},
		{"Nerine", "toxic if eaten, toxic to pets", "handbooks: the alkaloids of the amaryllis family, which " + aspca + " lists", nil},
		{"Papaver", "irritant sap, toxic if eaten, toxic to pets, toxic to grazing animals", "TRADE 3.1 row 56; Canadian Poisonous Plants Information System, oriental poppy; a veterinary poison line, poppy; " + horseFarms, nil},
		{"Parthenocissus", "irritant sap, toxic if eaten", "TRADE 3.3 row 134, handbooks", nil},
		{"Prunus", "toxic if eaten, toxic to pets, toxic to grazing animals", "TRADE 5.1 and 3.2 row 110; " + aspca + "; " + davis + "; livestock: " + missouri + "; " + horses, nil},
		{"Rhododendron", "toxic if eaten, toxic to pets, toxic to grazing animals", "TRADE 3.2 row 112; " + aspca + "; " + northCarolina + "; " + cornellGoats, nil},
		{"Sambucus", "toxic if eaten, toxic to grazing animals", "TRADE 3.2 row 117, handbooks (raw); grazing animals: Canadian Poisonous Plants Information System, American elder (from memory)", nil},
		{"Sarcococca", "toxic if eaten", "TRADE 3.2 row 119, handbooks (the berries)", nil},
		{"Taxus", "toxic if eaten, toxic to pets, toxic to grazing animals", "TRADE 5.1 and 3.4 row 137; " + aspca + "; livestock: " + missouri + "; " + horses, nil},
		{"Thalictrum", "toxic if eaten", "TRADE 3.1 row 68, handbooks", nil},
		{"Thuja", "irritant sap, allergen, toxic if eaten", "TRADE 3.4 row 143; " + skin + ", Cupressaceae; " + rhs + " (from memory)", nil},
		{"Tulipa", "allergen, toxic if eaten, toxic to pets, toxic to grazing animals", rhs + " (from memory); " + aspca + " (horses from memory)", nil},
		{"Viburnum", "toxic if eaten", "TRADE 3.2 row 122, handbooks (the berries)", map[string]string{
			"shrubs/viburnum-bodnantense": "TRADE 3.2 row 123 gives it no hazard, and it hardly fruits",
		}},
		{"Wisteria", "toxic if eaten, toxic to pets, toxic to grazing animals", "TRADE 5.1 and 3.3 row 129; " + aspca + " (horses from memory)", nil},
		{"Dryopteris", "toxic if eaten, toxic to pets, toxic to grazing animals", "handbooks: the rootstock of male fern", map[string]string{
			"ferns/dryopteris-erythrosora": "only male fern and its nearest kin are named as poisonous",
		}},
		{"Hylotelephium", "toxic if eaten", "TRADE 3.1 row 45, handbooks", nil},
		{"Liriope", "toxic if eaten", "North Carolina State Extension: berries, of low severity; " + aspca + " clears it for cats", nil},
		{"Persicaria", "irritant sap, toxic if eaten", "handbooks; TRADE 3.1 row 59 has none", nil},

		// Above all for animals.
		{"Achillea", "allergen, toxic to pets, toxic to grazing animals", "TRADE 3.1 row 1; " + aspca + "; " + davis + " (yarrow; that it upsets people too is not taken over, as yarrow is drunk as tea); horses, too, on the animal list (from memory)", nil},
		{"Allium", "toxic to pets, toxic to grazing animals", aspca + " (onion; horses from memory); " + davis, nil},
		{"Dahlia", "irritant sap, toxic to pets, toxic to grazing animals", "TRADE 3.1 row 19; " + aspca + " (horses from memory)", nil},
		{"Dianthus", "toxic to pets, toxic to grazing animals", aspca + "; horses, too, on the animal list (from memory)", nil},
		{"Erigeron", "toxic to pets", aspca + " (another species)", nil},
		{"Hemerocallis", "toxic to pets", "TRADE 5.1 and 3.1 row 42; " + aspca, nil},
		{"Hibiscus", "toxic to pets, toxic to grazing animals", aspca + ": toxic by older reports of the list, horses, too (from memory), cleared for cats in a newer copy; the cautious one holds", nil},
		{"Hosta", "toxic to pets, toxic to grazing animals", "TRADE 3.1 row 44; " + aspca + "; horses, too, on the animal list (from memory)", nil},
		{"Lavandula", "toxic to pets, toxic to grazing animals", aspca + "; horses, too, on the animal list (from memory)", nil},
		{"Lilium", "toxic to pets", "TRADE 5.1 and 3.6 row 160; " + aspca, nil},
		{"Malus", "toxic to pets, toxic to grazing animals", aspca + " (names crab apples; horses from memory); people eat the fruit", nil},
		{"Nepeta", "toxic to pets", aspca + " (catnip, also as catmint, for cats)", nil},
		{"Paeonia", "toxic if eaten, toxic to pets, toxic to grazing animals", "TRADE 3.1 row 55; " + aspca + "; horses, too, on the animal list (from memory)", nil},
		{"Yucca", "thorns, irritant sap, toxic to pets, toxic to grazing animals", "TRADE 5.1 and 3.2 row 124; " + aspca + "; the sap from memory; horses, too, on the animal list (from memory)", nil},

		{"Panicum", "toxic to grazing animals", "United States Agricultural Research Service, switchgrass toxicity in sheep, goats and horses, 2007", nil},
		{"Sorghastrum", "toxic to grazing animals", "United States Natural Resources Conservation Service, plant guide on indiangrass (from memory): cyanide in young growth", nil},

		// Above all for the skin.
		{"Choisya", "irritant sap, phototoxic sap", "TRADE 3.2 row 83; a textbook of contact dermatitis: light and the rue family", nil},
		{"Chrysanthemum", "allergen, irritant sap, toxic to pets, toxic to grazing animals", "TRADE 3.1 row 73; " + rhs + "; " + aspca + "; American Veterinary Medical Foundation, pet poison list: horses", nil},
		{"Cornus", "irritant sap", "TRADE 3.2 rows 85 and 86, handbooks", map[string]string{
			"trees/cornus-kousa": "TRADE 3.7 row 171 gives it no hazard; the shrubs with coloured stems are meant",
		}},
		{"Cotinus", "irritant sap, allergen", "TRADE 3.2 row 87; " + skin + ", Anacardiaceae", nil},
		{"Fatsia", "irritant sap, allergen", "TRADE 3.2 row 92; a textbook of contact dermatitis: falcarinol in the ivy family", nil},
		{"Helenium", "allergen, toxic if eaten, toxic to grazing animals", "TRADE 3.1 row 39, handbooks; University of Pennsylvania, School of Veterinary Medicine, poisonous plants", nil},
		{"Leucanthemum", "allergen, toxic to pets", "TRADE 3.1 row 49; " + aspca + " (daisy)", nil},
		{"Phlomis", "allergen", "TRADE 3.1 row 60 (hairs and dust)", nil},
		{"Rudbeckia", "allergen", "TRADE 3.1 row 63, handbooks", nil},
		{"Santolina", "irritant sap", "TRADE 3.2 row 118, handbooks", nil},
		{"Trachelospermum", "irritant sap", "TRADE 3.3 row 133, handbooks", nil},

		// Barbs, blades and spines.
		{"Nassella", "barbed awns", "common practice; a dog's eye in a gardener's diary, Texas, 2016", nil},
		{"Stipa", "barbed awns", "handbooks: awns as long as a hand", nil},
		{"Carex", "sharp edges", "TRADE 5.1", map[string]string{
			"grasses/carex-pensylvanica": "hair-fine, soft leaf that is mown like a lawn",
		}},
		{"Cenchrus", "sharp edges", "TRADE 2.8: gloves for all grasses; rough leaf by handbooks", nil},
		{"Chionochloa", "sharp edges", "TRADE 2.8: gloves for all grasses; cutting leaf by handbooks", nil},
		{"Deschampsia", "sharp edges", "TRADE 2.8: gloves for all grasses; saw-edged leaf by handbooks", nil},
		{"Poa", "sharp edges", "TRADE 2.8: gloves for all grasses; rough leaf by handbooks", nil},
		{"Kniphofia", "sharp edges", "handbooks: finely toothed leaf edges", nil},
		{"Uncinia", "sharp edges", "TRADE 5.1: a sedge, now put in Carex", nil},
		{"Cortaderia", "sharp edges", "TRADE 5.1 and 2.8", nil},
		{"Imperata", "sharp edges", "handbooks: toothed leaf edges", nil},
		{"Miscanthus", "sharp edges", "TRADE 5.1 and 2.8", nil},
		{"Phormium", "sharp edges", "TRADE 3.2 row 106", nil},
		{"Chaenomeles", "thorns", "TRADE 3.2 row 82", nil},
		{"Crataegus", "thorns", "TRADE 3.4 row 140", nil},
		{"Echinops", "thorns", "TRADE 3.1 row 25", nil},
		{"Eryngium", "thorns", "TRADE 3.1 row 27", nil},
		{"Mahonia", "thorns", "TRADE 5.1 and 3.2 row 105", nil},
		{"Rosa", "thorns", "TRADE 5.1 and 3.2 rows 114 and 115", nil},
	}
}

// allListings are the table above and testdata/hazards.tsv: a row for each genus of
// which handbooks say what the table does not (genus, kinds, source, and where
// needed the entries exempt with the reason).
func allListings(t *testing.T) []listing {
	t.Helper()
	text, err := os.ReadFile("../testdata/hazards.tsv")
	if err != nil {
		t.Fatal(err)
	}
	out := listings()
	for line := range strings.Lines(string(text)) {
		cells := strings.Split(strings.TrimSuffix(line, "\n"), "\t")
		if len(cells) < 3 {
			t.Fatalf("%q has no source", line)
		}
		row := listing{genus: cells[0], kinds: cells[1], source: cells[2], exempt: map[string]string{}}
		if len(cells) > 3 {
			who, why, _ := strings.Cut(cells[3], ": ")
			for path := range strings.SplitSeq(who, ", ") {
				row.exempt[path] = why
			}
		}
		out = append(out, row)
	}
	return out
}

// flags tells whether an entry has a hazard.
func flags(e *entries.Entry, kind string) bool {
	return slices.ContainsFunc(e.Hazards, func(h source.At[string]) bool { return h.Value == kind })
}

// key is an entry's file without folder and ending, as exemptions name it.
func key(e *entries.Entry) string {
	return strings.TrimSuffix(strings.TrimPrefix(e.File.Path, "plants/"), ".md")
}

// unflagged gives each entry that lacks a flag of its listing.
func unflagged(rows []listing, l *entries.Library) []string {
	var out []string
	for _, row := range rows {
		for _, e := range l.Entries {
			if e.Name.Value.Genus != row.genus || row.exempt[key(e)] != "" {
				continue
			}
			for _, kind := range strings.Split(row.kinds, ", ") {
				if !flags(e, kind) {
					out = append(out, fmt.Sprintf("%s lacks %q (%s)", e.File.Path, kind, row.source))
				}
			}
		}
	}
	return out
}

func TestKnownHazardsAreFlagged(t *testing.T) {
	_, l, _ := shipped(t, nil)
	for _, line := range unflagged(allListings(t), l) {
		t.Error(line)
	}
}

// The tables themselves: no genus without an entry, no kind without a word for
// it, and each exemption is of an entry that would else be at fault.
func TestListingsHold(t *testing.T) {
	_, l, _ := shipped(t, nil)
	for _, row := range allListings(t) {
		if !slices.ContainsFunc(l.Entries, func(e *entries.Entry) bool { return e.Name.Value.Genus == row.genus }) {
			t.Errorf("%s is listed but has no entry", row.genus)
		}
		for _, path := range sorted(row.exempt) {
			e := entry(t, l, path)
			lacks := slices.ContainsFunc(strings.Split(row.kinds, ", "), func(kind string) bool { return !flags(e, kind) })
			if e.Name.Value.Genus != row.genus || !lacks {
				t.Errorf("%s: %s needs no exemption", row.genus, path)
			}
		}
	}
}

// unfounded gives each flag of an entry that no listing has. What harms people
// may be flagged for pets without more (TestPoisonousMeansPetsToo).
func unfounded(rows []listing, l *entries.Library) []string {
	var out []string
	for _, e := range l.Entries {
		for _, h := range e.Hazards {
			listed := slices.ContainsFunc(rows, func(row listing) bool {
				return row.genus == e.Name.Value.Genus && slices.Contains(strings.Split(row.kinds, ", "), h.Value)
			})
			if !listed && !(h.Value == "toxic to pets" && flags(e, "toxic if eaten")) {
				out = append(out, fmt.Sprintf("%s flags %q without a source", e.File.Path, h.Value))
			}
		}
	}
	return out
}

func TestNoHazardIsInvented(t *testing.T) {
	_, l, _ := shipped(t, nil)
	for _, line := range unfounded(allListings(t), l) {
		t.Error(line)
	}
	_, l, _ = shipped(t, func(path, text string) string {
		if path == "plants/perennials/alchemilla-mollis.md" {
			text = strings.Replace(text, "\ncare:\n", "\nhazards: [thorns]\ncare:\n", 1)
		}
		return text
	})
	if got := unfounded(allListings(t), l); len(got) != 1 {
		t.Errorf("thorns on lady's mantle: %q", got)
	}
}

var (
	ownHazards = regexp.MustCompile(`(?m)^hazards: .*\n`)
	ownFlag    = func(kind string) *regexp.Regexp {
		return regexp.MustCompile(`(?m)^(hazards: .*?)(?:, )?\b` + kind + `\b(?:, )?`)
	}
)

// A flag that is taken away is missed, whichever it is.
func TestMissingFlagIsFound(t *testing.T) {
	t.Parallel()
	for path, kind := range map[string]string{
		"climbers/clematis-montana":       "irritant sap",
		"perennials/yucca-filamentosa":    "thorns",
		"bulbs/lilium-regale":             "toxic to pets",
		"perennials/euphorbia-griffithii": "sap eyes",
		"hedges/taxus-baccata":            "toxic if eaten",
		"grasses/miscanthus-sinensis":     "sharp edges",
		"shrubs/cotinus-coggygria":        "allergen",
	} {
		_, l, _ := shipped(t, func(p, text string) string {
			if p != "plants/"+path+".md" {
				return text
			}
			return ownFlag(kind).ReplaceAllString(text, "$1")
		})
		got := unflagged(allListings(t), l)
		if len(got) != 1 || !strings.HasPrefix(got[0], fmt.Sprintf("plants/%s.md lacks %q", path, kind)) {
			t.Errorf("%s without %q: %q", path, kind, got)
		}
	}
	_, l, _ := shipped(t, func(p, text string) string { return ownHazards.ReplaceAllString(text, "") })
	got := unflagged(allListings(t), l)
	for _, row := range listings() {
		if !slices.ContainsFunc(got, func(line string) bool { return strings.Contains(line, row.source) }) {
			t.Errorf("nothing is missed of %s in a library without hazards", row.genus)
		}
	}
}

// What harms people most likely harms animals too (University of California,
// Davis, list of poisonous garden plants; California Poison Control, common
// plants and their toxicity). The cautious way is to say so.
func TestPoisonousMeansPetsToo(t *testing.T) {
	exempt := map[string]string{
		"ferns/matteuccia-struthiopteris":       "raw croziers on a plate are meant",
		"perennials/hylotelephium-herbstfreude": "a mild upset; the animal list clears other stonecrops",
	}
	_, l, _ := shipped(t, nil)
	for _, e := range l.Entries {
		if flags(e, "toxic if eaten") && !flags(e, "toxic to pets") && exempt[key(e)] == "" {
			t.Errorf("%s is toxic if eaten and says nothing of pets", e.File.Path)
		}
	}
}

// Each task of a plant with hazards prints the caution of each.
func TestHazardsArePrintedWithTasks(t *testing.T) {
	_, l, _ := shipped(t, nil)
	for _, e := range l.Entries {
		if len(e.Hazards) == 0 {
			continue
		}
		all := tasks(t, l, e, cambridge(), "GB", longAgo, 1)
		if len(all) == 0 {
			t.Errorf("%s has hazards and no task to print them with", e.File.Path)
		}
		for _, task := range all {
			for _, h := range e.Hazards {
				if caution := l.Caution(h.Value); caution == "" || !slices.Contains(task.Cautions, caution) {
					t.Errorf("%s: %s without the caution for %q", e.File.Path, task.Job.Name.Value, h.Value)
				}
			}
		}
	}
}

// A kind of hazard whose line on the safety page is lost is an error of every
// entry that has it.
func TestHazardWithoutItsCautionIsRefused(t *testing.T) {
	t.Parallel()
	_, l, _ := shipped(t, nil)
	used := map[string]int{}
	for _, e := range l.Entries {
		for _, h := range e.Hazards {
			used[h.Value]++
		}
	}
	for _, kind := range sorted(used) {
		line := regexp.MustCompile(`(?m)^  ` + kind + `: .*\n`)
		_, _, ds := shipped(t, func(path, text string) string {
			if path != "pages/safety.md" {
				return text
			}
			// All of them: thorns are a hazard and a risk.
			return line.ReplaceAllString(text, "")
		})
		n := 0
		for _, d := range ds {
			if d.Code == "entry/no-caution" {
				n++
			}
		}
		if n != used[kind] {
			t.Errorf("%q without a caution: %d errors, want %d", kind, n, used[kind])
		}
	}
}

// Plants that a law or an official list of some place restricts tell the reader
// to look before planting or sharing them.
func TestRestrictedPlantsSaySo(t *testing.T) {
	words := regexp.MustCompile(`may be planted where you are|local (rules|list|advice)|([Aa]sk|[Cc]heck) (locally|before you plant)`)
	s, _, _ := shipped(t, nil)
	for path, why := range map[string]string{
		"bamboos/phyllostachys-aurea":         "North Carolina Forest Service, golden bamboo",
		"bulbs/canna-indica":                  "weed lists of New South Wales and South Africa (from memory)",
		"climbers/clematis-tangutica":         "Alberta, noxious weeds (from memory)",
		"climbers/wisteria-sinensis":          "invasive plant lists of the southern United States (from memory)",
		"grasses/anemanthele-lessoniana":      "Great Britain Non-native Species Secretariat",
		"grasses/cenchrus-setaceus":           "TRADE 2.9; European Union, Regulation 1143/2014",
		"grasses/cortaderia-selloana":         "TRADE 2.9",
		"grasses/imperata-cylindrica-rubra":   "TRADE 2.9",
		"grasses/miscanthus-sinensis":         "TRADE 2.9",
		"grasses/nassella-tenuissima":         "TRADE 2.9",
		"grasses/pennisetum-alopecuroides":    "New Zealand, National Pest Plant Accord, 2012",
		"grasses/pennisetum-orientale":        "New Zealand, National Pest Plant Accord, 2012",
		"hedges/crataegus-monogyna":           "weed lists of Victoria and South Australia (from memory)",
		"hedges/ilex-aquifolium":              "invasive plant lists of Washington State (from memory)",
		"hedges/ligustrum-ovalifolium":        "invasive plant lists of North America and New Zealand (from memory)",
		"hedges/prunus-laurocerasus":          "Switzerland, Release Ordinance, 1 September 2024",
		"perennials/centranthus-ruber":        "TRADE 3.1 row 17",
		"perennials/crocosmia-crocosmiiflora": "TRADE 3.1 row 18; Wildlife and Countryside Act 1981, Schedule 9",
		"perennials/digitalis-purpurea":       "weed lists of New Zealand and the western United States (from memory)",
		"perennials/erigeron-karvinskianus":   "TRADE 3.1 row 71",
		"perennials/hemerocallis-fulva":       "invasive plant lists of North America (from memory)",
		"perennials/lupinus-polyphyllus":      "lists of Scandinavia and New Zealand (from memory)",
		"perennials/verbena-bonariensis":      "TRADE 3.1 row 69",
		"shrubs/buddleja-davidii":             "TRADE 3.2 row 75; Switzerland, Release Ordinance, 1 September 2024",
		"shrubs/calluna-vulgaris":             "New Zealand, National Pest Plant Accord, 2012",
		"shrubs/fuchsia-magellanica":          "TRADE 3.2 row 94 (from memory)",
		"shrubs/lavandula-stoechas":           "TRADE 3.2 row 104 (from memory)",
		"shrubs/rhododendron-catawbiense":     "Wildlife and Countryside Act 1981, Schedule 9: R. ponticum and its hybrids (from memory)",
		"shrubs/spiraea-japonica":             "invasive plant lists of the eastern United States (from memory)",
	} {
		// As written: the hedge groups speak of local rules on cutting dates. A note
		// for some gardens only is not enough.
		i := slices.IndexFunc(s.Entries, func(e *entries.Entry) bool { return key(e) == path })
		if i < 0 {
			t.Errorf("the library has no entry %s", path)
			continue
		}
		e := s.Entries[i]
		if text := strings.Join(append(ruleTexts(e.Rules, nil), prose.Text(e.Body)), "\n"); !words.MatchString(text) {
			t.Errorf("%s does not say to ask whether it may be planted (%s)", e.File.Path, why)
		}
	}
}
