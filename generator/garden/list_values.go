package garden

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"sheaf/generator/source"
)

// number is a figure as lists have it: "7", "2.5", "2,5", "1,500", "1 500".
const number = `\d{1,3}(?:[ ,.’']\d{3})+|\d+(?:[.,]\d+)?`

// units are the words behind a quantity in the four languages; "u." and "St." are
// French and German.
const units = `no\.? ?off|no\.?|nos\.?|nr\.?|x|×|pcs?\.?|pces?\.?|pieces?|pièces?|ea\.?|each|off|plants?|plugs?|bulbs?|stk\.?|stck\.?|stück|stueck|st\.?|exemplare?|ex\.?|pflanzen|zwiebeln|knollen|stuks|stks?\.?|planten|bollen|u\.?|un\.?|unités?|plantes?|bulbes?`

var (
	figureForm   = regexp.MustCompile(`^(?:` + number + `)$`)
	quantityForm = regexp.MustCompile(`(?i)^(?:x\s*|×\s*|qty\.?\s*)?(` + number + `)\s*(?:` + units + `|` + metres + `|((?:lin\.? ?|linear )?(?:ft|feet|foot)\.?|l\.?f\.?))?$`)
	rangeForm    = regexp.MustCompile(`(?i)^(?:c\.?\s*|ca\.?\s*)?(\d+)\s*(?:[-–—/]|to|or|bis|à|of|tot)\s*(\d+)\s*(?:` + units + `|m)?$`)
	roughly      = regexp.MustCompile(`(?i)^(?:circa|ca\.?|c\.?|about|approximately|approx\.?|around|roughly|some|etwa|ungefähr|env\.?|environ|ongeveer|~|≈|±|\+/-)\s*(.*\d.*)$|^(.*\d.*?)\s*(?:\+|approx\.?|\(approx\.?\)|~|\?)$`)
	// groups are quantities of quantities: "5 x 100", "3 × 25 no.", "2 trays of 40".
	groups = regexp.MustCompile(`(?i)^([1-9]\d{0,4})\s*(?:x|×|\*|(?:no\.?\s*)?(?:trays?|packs?|packets?|groups?|boxes|box|bags?|bundles?|drifts?|clumps?|flats?|crates?|lots?|rows?|kisten?|paletten?|gruppen?|packungen|bund|kratten|groepen|groep|groupes?|caisses?|paquets?)\s*(?:of|à|a|zu|von|van|de|x|×|@)\s*)\s*(\d{1,5})\s*(?:` + units + `)?$`)
	// sums are those of a plant that stands in several places: "3 + 5 + 4".
	sums = regexp.MustCompile(`^\d{1,5}(?:\s*\+\s*\d{1,5}){1,20}$`)
	// spacedAt is how close plants stand, behind how many there are: "42no. @ 3/m", "10m (5/m)".
	spacedAt = regexp.MustCompile(`(?i)^(.*?\d.*?)(?:\s*@.*|\s*[(\[][^()]*[)\]]|\s+(?:at|à)\s+\d.*|\s*[,;]\s+\d[^,;]*/.*)$`)
	inMetres = regexp.MustCompile(`(?i)\d\s*(?:` + metres + `)$`)
	dozen    = regexp.MustCompile(`(?i)^(half a|a|one|\d{1,3})?\s*(dozen|dutzend|dozijn|douzaine|pairs?|paar|paires?)$`)
	// thousands tells "1,500", which is many, from "2,5", which is two and a
	// half: nobody plants to a thousandth.
	thousands = regexp.MustCompile(`^[1-9]\d{0,2}(?:[ ,’']\d{3})+$`)
	points    = regexp.MustCompile(`^[1-9]\d{0,2}(?:\.\d{3})+$`)
)

// figure reads one number. Where decimals are written with a comma, "1.500" is
// fifteen hundred. Hundredths are kept: a formula's 12.600000000000001 is 12.6.
func (l *list) figure(s string) (float64, bool) {
	if !figureForm.MatchString(s) {
		return 0, false
	}
	if thousands.MatchString(s) || l.commas && points.MatchString(s) {
		s = strings.NewReplacer(" ", "", ",", "", ".", "", "’", "", "'", "").Replace(s)
	}
	v, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	return math.Round(v*100) / 100, err == nil
}

// metres are those a hedge is counted by: of a row, in four languages.
const metres = `(?:lin\.?\s?|lfd?\.?\s?|str\.?\s?|l)?m\.?|m1|ml|m\.?l\.?|metres?|meters?|meter|mètres?|linear metres?`

// inWords are quantities as words.
func inWords() map[string]string {
	return map[string]string{"one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8", "nine": "9", "ten": "10", "eleven": "11", "twelve": "12",
		"single": "1", "ein": "1", "eine": "1", "einer": "1", "zwei": "2", "drei": "3", "een": "1", "één": "1", "twee": "2", "drie": "3", "un": "1", "une": "1", "deux": "2", "trois": "3"}
}

// quantity reads "7", "7 no.", "x 7", "40 ft"; nothing written means one. Of "5–7" the
// higher is taken: too much work or too full a bed is the safer mistake.
func (l *list) quantity(c cell) float64 {
	if c.text == "" {
		return 1
	}
	text := c.text
	if quantityForm.MatchString(text) {
		return l.counts(c, text)
	}
	if m := rangeForm.FindStringSubmatch(text); m != nil {
		low, _ := strconv.ParseFloat(m[1], 64)
		high, _ := strconv.ParseFloat(m[2], 64)
		text = strconv.FormatFloat(max(low, high), 'f', -1, 64)
		l.found.Add(source.Warning, "list/range", c.span, fmt.Sprintf("%q is a range; %s is taken, so that the work is not reckoned too short", c.text, text))
		return l.counts(c, text)
	}
	if said, why := said(text); said != "" {
		l.found.Add(source.Note, "list/about", c.span, fmt.Sprintf("%q is read as %s%s", c.text, said, why))
		return l.counts(c, said)
	}
	if m := roughly.FindStringSubmatch(text); m != nil {
		text = strings.TrimSpace(m[1] + m[2])
		l.found.Add(source.Note, "list/about", c.span, fmt.Sprintf("%q is read as %s", c.text, text))
	}
	return l.counts(c, text)
}

// said gives the figure of a quantity that is written otherwise; "" for none.
func said(text string) (figure, why string) {
	product := func(a, b string) string {
		x, _ := strconv.Atoi(a) // the forms let only numbers through
		y, _ := strconv.Atoi(b)
		return strconv.Itoa(x * y)
	}
	if m := groups.FindStringSubmatch(text); m != nil {
		return product(m[1], m[2]), ""
	}
	if sums.MatchString(text) {
		sum := 0
		for part := range strings.SplitSeq(text, "+") {
			n, _ := strconv.Atoi(strings.TrimSpace(part))
			sum += n
		}
		return strconv.Itoa(sum), ""
	}
	if n := inWords()[strings.ToLower(text)]; n != "" {
		return n, ""
	}
	if m := dozen.FindStringSubmatch(text); m != nil {
		each := 12
		if strings.HasPrefix(strings.ToLower(m[2]), "pa") {
			each = 2
		}
		switch strings.ToLower(m[1]) {
		case "", "a", "one":
			return strconv.Itoa(each), ""
		case "half a":
			return strconv.Itoa(each / 2), ""
		}
		return product(m[1], strconv.Itoa(each)), ""
	}
	if m := spacedAt.FindStringSubmatch(text); m != nil {
		first := strings.TrimSpace(m[1])
		switch {
		case inMetres.MatchString(first) && quantityForm.MatchString(first):
			return quantityForm.FindStringSubmatch(first)[1], ": a hedge is counted by the metre"
		case quantityForm.MatchString(first):
			if bare := quantityForm.FindStringSubmatch(first); bare[2] == "" {
				first = bare[1] // else it is in feet
			}
			return first, ""
		}
		if figure, why := said(first); figure != "" && first != text {
			return figure, why
		}
	}
	return "", ""
}

// counts reads a plain figure with its unit.
func (l *list) counts(c cell, text string) float64 {
	m := quantityForm.FindStringSubmatch(text)
	if m == nil {
		l.found.Add(source.Warning, "list/quantity", c.span, fmt.Sprintf("%q is not a quantity; 1 is taken", c.text))
		return 1
	}
	v, ok := l.figure(m[1])
	if m[2] != "" {
		// A hedge is counted by the metre, and in America by the foot.
		const foot = 0.3048 // exact
		v = math.Round(v*foot*100) / 100
	}
	if !ok || v > most {
		l.found.Add(source.Error, "list/quantity", c.span, fmt.Sprintf("a quantity of %s is not possible", c.text))
		return 1
	}
	return v
}

var (
	countBefore = regexp.MustCompile(`(?i)^(\d{1,5}\s*(?:(?:x|×)\s*\d{1,5}\b)?\s*(?:` + units + `)?)\s+(\p{L}.*|×\s?\p{L}.*)$`)
	countAfter  = regexp.MustCompile(`(?i)^(.*\S)\s+((?:x|×)\s*\d{1,5}|\d{1,5}\s*(?:no\.?|nos\.?|nr\.?|stk\.?|stück|stuks|pcs|st\.)|\d{1,5}\s*(?:x|×)\s*\d{1,5})$`)
	// countApart is a quantity set apart behind a name: "Carex elata (x 7)", "Carex elata - 7".
	countApart = regexp.MustCompile(`(?i)^(.*?\p{L}.*?)\s*(?:[(\[]\s*((?:x|×)?\s*\d{1,5}\s*(?:` + units + `)?)\s*[)\]]|\s[–—-]+\s*((?:x|×)?\s*\d{1,5}\s*(?:` + units + `)?)|:\s*(\d{1,5}\s*(?:` + units + `)?))$`)
	// density is how close plants stand, behind a name: "Carex elata @ 5/m²".
	density = regexp.MustCompile(`(?i)\s*(?:@\s*\d.*|[(\[,]?\s*\d+(?:[.,]\d+)?\s*(?:no\.?\s*)?(?:/|per|pro|je|par)\s*(?:m²|m2|sqm|m)\s*[)\]]?)$`)
)

// counted parts a quantity from a plant in a list that has no column for it:
// "7 no. Carex elata", "Carex elata x 7". How close the plants stand is left out.
func counted(c cell) (plant, quantity cell) {
	if !strings.ContainsAny(c.text, "0123456789") {
		return c, cell{}
	}
	if m := density.FindStringIndex(c.text); m != nil && m[0] > 0 {
		c.span, c.text = c.span.Within(0, m[0]), c.text[:m[0]]
	}
	part := func(m []int, n int) cell {
		return cell{text: c.text[m[2*n]:m[2*n+1]], span: c.span.Within(m[2*n], m[2*n+1])}
	}
	if m := countBefore.FindStringSubmatchIndex(c.text); m != nil {
		return part(m, 2), part(m, 1)
	}
	if m := countApart.FindStringSubmatchIndex(c.text); m != nil {
		for n := 2; n <= 4; n++ {
			if m[2*n] >= 0 {
				return part(m, 1), part(m, n)
			}
		}
	}
	if m := countAfter.FindStringSubmatchIndex(c.text); m != nil {
		return part(m, 1), part(m, 2)
	}
	return c, cell{}
}
