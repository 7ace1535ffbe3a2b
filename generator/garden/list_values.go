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

var (
	figureForm   = regexp.MustCompile(`^(?:` + number + `)$`)
	quantityForm = regexp.MustCompile(`(?i)^(?:x\s*|×\s*|qty\.?\s*)?(` + number + `)\s*(?:no\.?|nos\.?|nr\.?|x|×|pcs|ea\.?|each|plants|m|lin\.? ?m|metres|((?:lin\.? ?|linear )?(?:ft|feet|foot)\.?|l\.?f\.?))?$`)
	rangeForm    = regexp.MustCompile(`(?i)^(?:c\.?\s*|ca\.?\s*)?(\d+)\s*(?:[-–—/]|to|or)\s*(\d+)\s*(?:no\.?|nos\.?|nr\.?|pcs|plants|m)?$`)
	roughly      = regexp.MustCompile(`(?i)^(?:c\.?|ca\.?|circa|about|approx\.?|approximately|around|roughly|some|~|≈|±|\+/-)\s*(.*\d.*)$|^(.*\d.*?)\s*(?:\+|approx\.?|\(approx\.?\)|~|\?)$`)
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

// quantity reads "7", "7 no.", "x 7", "40 ft"; nothing written means one. Of "5–7" the
// higher is taken: too much work or too full a bed is the safer mistake.
func (l *list) quantity(c cell) float64 {
	if c.text == "" {
		return 1
	}
	text := c.text
	if m := rangeForm.FindStringSubmatch(text); m != nil {
		low, _ := strconv.ParseFloat(m[1], 64)
		high, _ := strconv.ParseFloat(m[2], 64)
		text = strconv.FormatFloat(max(low, high), 'f', -1, 64)
		l.found.Add(source.Warning, "list/range", c.span, fmt.Sprintf("%q is a range; %s is taken, so that the work is not reckoned too short", c.text, text))
	} else if m := roughly.FindStringSubmatch(text); m != nil {
		text = strings.TrimSpace(m[1] + m[2])
		l.found.Add(source.Note, "list/about", c.span, fmt.Sprintf("%q is read as %s", c.text, text))
	}
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
	countBefore = regexp.MustCompile(`(?i)^(\d{1,5}\s*(?:no\.?|nos\.?|nr\.?|x|×)?)\s+(\p{L}.*)$`)
	countAfter  = regexp.MustCompile(`(?i)^(.*\S)\s+((?:x|×)\s*\d{1,5}|\d{1,5}\s*no\.?)$`)
)

// counted parts a quantity from a plant in a list that has no column for it:
// "7 no. Carex elata", "Carex elata x 7".
func counted(c cell) (plant, quantity cell) {
	part := func(m []int, n int) cell {
		return cell{text: c.text[m[2*n]:m[2*n+1]], span: c.span.Within(m[2*n], m[2*n+1])}
	}
	if m := countBefore.FindStringSubmatchIndex(c.text); m != nil {
		return part(m, 2), part(m, 1)
	}
	if m := countAfter.FindStringSubmatchIndex(c.text); m != nil {
		return part(m, 1), part(m, 2)
	}
	return c, cell{}
}
