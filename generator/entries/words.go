package entries

import "time"

// The words an entry may use for its plant. The lists are DESIGN's; anything
// else is an error with the nearest of these as a hint.

// Types are the kinds of plants, in the order in which a guide has them.
func Types() []string {
	return []string{"grass", "sedge", "rush", "bamboo", "perennial", "bulb", "fern", "subshrub", "shrub", "rose", "climber", "hedge", "tree", "annual", "tender"}
}

func leafWords() []string { return []string{"deciduous", "semi-evergreen", "evergreen"} }

func growthWords() []string { return []string{"cool-season", "warm-season"} }

func habits() []string {
	return []string{"tuft", "mound", "fountain", "upright", "arching", "mat", "clump", "rosette", "spire", "dome", "vase", "column", "climber", "shuttlecock", "sword", "standard"}
}

func heads() []string {
	return []string{"spike", "plume", "panicle", "bottlebrush", "umbel", "daisy", "globe", "bell", "cup", "flat", "cloud", "none"}
}

// Light, Soil, Fertility and Exposure are the words for a place; beds of a
// garden use the same ones.
func Light() []string     { return []string{"full sun", "part shade", "shade"} }
func Soil() []string      { return []string{"dry", "drained", "moist", "wet"} }
func Fertility() []string { return []string{"lean", "average", "rich"} }
func Exposure() []string  { return []string{"sheltered", "open", "exposed", "coastal"} }

// Hazards are what a plant can do to people and pets. The library's safety
// page holds a caution for each.
func Hazards() []string {
	return []string{"sap eyes", "irritant sap", "phototoxic sap", "allergen", "sharp edges", "thorns", "barbed awns", "toxic if eaten", "toxic to pets", "toxic to grazing animals"}
}

// Families of jobs; a theme has a colour and a pattern for each.
func families() []string { return []string{"comb", "cut", "grow", "protect"} }

func marks() []string {
	return []string{"comb", "groom", "clear leaves", "cut back", "deadhead", "pinch", "remove stems", "remove suckers", "thin", "renovate", "raise crown", "trim",
		"divide", "replant", "mulch", "feed", "weed", "stake", "tie in", "check", "water", "protect", "uncover", "lift", "tie up"}
}

func risks() []string {
	return []string{"blades", "power tools", "ladder", "nests", "dust", "lifting", "thorns", "eyes"}
}

// stands are the harsh things a plant may bear although its kind usually does
// not; without them the checks of sense.go refuse the advice.
func stands() []string { return []string{"hard cut", "bare wood", "winter cut"} }

// What a place has for a rule that needs it. A garden whose mean minima never
// fall to those of the frost dates has no frost.
const (
	Frost   = "frost"
	NoFrost = "no frost"
)

func needs() []string { return []string{Frost, NoFrost} }

// OpenGround is what a job page says of work that cannot be done in frozen
// ground or under snow: the soil is opened, the crown must be seen, or frozen
// wood would be cut.
const OpenGround = "open"

// conditions are what an adjustment may hang on.
func conditions() []string {
	out := append([]string{}, Light()...)
	for _, s := range Soil() {
		out = append(out, s+" soil")
	}
	for _, s := range Fertility() {
		out = append(out, s+" soil")
	}
	out = append(out, Exposure()...)
	return append(out, "pot", "first year", "cold garden", "warm garden")
}

// June is the month from which a shrub is taken to flower on the year's own
// wood; one that begins earlier has made its buds the summer before (TRADE
// 1.3, pruning groups 2 to 5 and 8 against 6 and 9).
const june = time.June
