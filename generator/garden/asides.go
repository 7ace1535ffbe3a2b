package garden

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// What lists write behind a name: how the plant is bought and grown, what is to be
// done with it, what may stand in its place.

var (
	// size tells a number of a size, a count, an age or a rootstock: 12-14cm, 7.5L, C5,
	// 60/80, 1+1, #2, 3xv, M26.
	size = regexp.MustCompile(`(?i)^(?:` +
		`\d+(?:[.,]\d+)?(?:l|lt|ltr|lit|litres?|cm|mm|m|gal|gallon|in|ft|no|nr|x|st|stk|xv)?` +
		`|\d+(?:[.,]\d+)?[-–/x×]\d+(?:[.,]\d+)?(?:cm|mm|m|l)?` +
		`|\d\+\d(?:\+\d)?|[cp]b?\d{1,3}(?:[.,]\d)?|#\d+|mm?\d{1,3}|½|¾` +
		`)$`)
	// bought are words about the plant that was bought, or the place it has.
	bought = wordSet(`pot pots potted tuber tubers bulb bulbs corm corms plug plugs tubestock tube tubes tray trays
		rb br cg co cont container containers containerised grown pot-grown container-grown rootball root-ball rootballed
		root-balled bareroot bare-root bare root roots ball cone lollipop hedge hedging hedges multistem multi-stem multistems
		multi-stems multistemmed multi-stemmed feathered specimen specimens std stds standard standards half half-std
		half-standard girth stu clear stem espalier espaliered pleached topiary mature instant mixed colour colours color
		existing retain retained tbc to be confirmed or similar approved equal equivalent high tall ht height min no nr
		approx xv mb stück stuks non-climbing gal gallon litre litres l cm mm m`)
)

func wordSet(words string) map[string]bool {
	out := map[string]bool{}
	for _, w := range strings.Fields(words) {
		out[w] = true
	}
	return out
}

// withoutAside parts the end of a row that is no part of the plant's name; of a row
// that is nothing else, nothing.
func (x *keys) withoutAside(text string) (name, aside string) {
	words := strings.Fields(text)
	n := len(words)
	for n > 1 {
		w := strings.TrimSuffix(strings.Trim(words[n-1], ",;()–-"), ".")
		low := strings.ToLower(w)
		if w != "" && !size.MatchString(w) && !bought[low] && !hedgePlants(words[:n]) || x.named(words[:n], low) {
			break
		}
		n--
	}
	if n == len(words) {
		return text, ""
	}
	return strings.TrimRight(strings.Join(words[:n], " "), " ,;–-"), strings.Join(words[n:], " ")
}

// hedgePlants tells plants for a hedge from an ice plant.
func hedgePlants(words []string) bool {
	n := len(words)
	last := strings.ToLower(words[n-1])
	return n > 2 && (last == "plants" || last == "plant") && bought[strings.ToLower(words[n-2])]
}

// named tells that the last of some words belongs to a cultivar's name and not to how
// the plant was grown: of Pittosporum Golf Ball both words are capital, and no
// cultivar is called Golf. A Buxus Ball and a Quercus ilex Standard are bought so.
func (x *keys) named(words []string, low string) bool {
	last, before := words[len(words)-1], words[:len(words)-1]
	if len(before) < 2 || last == strings.ToLower(last) || last == strings.ToUpper(last) || !bought[low] {
		return false
	}
	if r, _ := utf8.DecodeRuneInString(before[len(before)-1]); !unicode.IsUpper(r) || !isWord(before[len(before)-1]) {
		return false
	}
	return !x.cultivarOf(strings.ToLower(before[0]), strings.Join(before[1:], " "))
}

// climbing sports of bush roses bear the bush's name and are pruned in another way:
// 'Iceberg', climbing; Climbing rose 'Iceberg'; 'Iceberg' Cl.
var climbing = regexp.MustCompile(`(?i)(?:^|[\s(])(?:climbing|climber|clg|cl|kletter\p{L}*|klim\p{L}*|grimpant)\b[.)]*`)

// climbingRose gives a row of a rose that is said to climb the name that its sport
// has: Rosa 'Climbing Iceberg'.
func climbingRose(text string) (string, bool) {
	first, _, _ := strings.Cut(strings.ToLower(strings.TrimSpace(climbing.ReplaceAllString(text, " "))), " ")
	open := strings.IndexAny(text, "'‘\"“")
	if !strings.HasPrefix(first, "ros") || open < 0 {
		return text, false
	}
	rest := text[open:]
	if _, size := utf8.DecodeRuneInString(rest); len(rest) > size {
		end := strings.IndexAny(rest[size:], "'’\"”")
		inner, said := "", climbing.MatchString(text[:open])
		if end > 0 {
			inner = rest[size : size+end]
			said = said || climbing.MatchString(rest[size+end:])
		}
		if said && inner != "" && !climbing.MatchString(inner) {
			return "Rosa 'Climbing " + inner + "'", true
		}
	}
	return text, false
}
