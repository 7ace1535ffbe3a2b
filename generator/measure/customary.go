package measure

import (
	"math"
	"regexp"
	"slices"
	"strings"
)

// Litres in one of each unit, exact by definition (NIST SP 811).
const (
	gallon    = 3.785411784
	quart     = gallon / 4
	pint      = gallon / 8
	ounce     = gallon / 128 // of a fluid
	cubicFoot = 28.316846592
	cubicYard = 27 * cubicFoot
)

// Kilograms in a pound, exact.
const pound = 0.45359237

// Customary gives an English text with its metric amounts in feet and inches,
// gallons, pounds and °F, rounded as those of an entry's own keys are: "2.5 m"
// is 8 ft, "5 °C" is 41 °F, and "5 °C warmer" is 9 °F warmer. What a sentence
// says is left on a plant is rounded up, all else to the nearest. A text without
// metric amounts comes back as it is.
func Customary(text string) string {
	if !strings.ContainsAny(text, "0123456789°") && !strings.Contains(text, "metre") && !strings.Contains(text, "litre") && !strings.Contains(text, "degree") || !mayBeMetric.MatchString(text) {
		return text
	}
	for _, p := range pairs {
		if !strings.Contains(text, "met") && !strings.Contains(text, "m²") && !strings.Contains(text, "sq") {
			break // all have one of these
		}
		text = p.form.ReplaceAllStringFunc(text, func(s string) string { return p.say(p.form.FindStringSubmatch(s)) })
	}
	var out strings.Builder
	at := 0
	for _, m := range metricForm.FindAllStringSubmatchIndex(text, -1) {
		part := func(n int) string {
			if m[2*n] < 0 {
				return ""
			}
			return text[m[2*n]:m[2*n+1]]
		}
		low, ok := figure(part(2))
		if !ok {
			continue
		}
		a := written{sign: part(1), low: low, high: low, joined: part(3), hyphen: part(6) == "-", unit: part(7), before: text[at:m[0]], after: text[m[1]:]}
		if part(5) != "" {
			a.highSign = part(4)
			if a.high, ok = figure(part(5)); !ok {
				continue
			}
		}
		if !strings.ContainsAny(part(2), "0123456789") && len(a.unit) <= 3 {
			continue // "one L" is no amount
		}
		if a.joined == "" && article.MatchString(a.before) && noun.MatchString(a.after) {
			a.hyphen = true // "a 5 cm cut"
		}
		said := a.say()
		out.WriteString(agree(a.before, said))
		out.WriteString(said)
		at = m[1]
	}
	out.WriteString(text[at:])
	return bare(out.String())
}

// units of prose, the longer before those they begin with.
const proseUnits = `(?:m²|m³)|(?:°\s?C|degrees? (?:Celsius|centigrade|C)|square (?:metres?|meters?)|cubic (?:metres?|meters?)|(?:kilo|centi|milli)?(?:metres?|meters?|litres?|liters?|grams?|grammes?)|m2|m3|km|cm|mm|ml|kg|L|l|m|g|hectares?|ha)\b`

const proseNumber = `\d+(?:[.,]\d+)?|half an?|an?|one|two|three|four|five|six|seven|eight|nine|ten`

var (
	metricForm = regexp.MustCompile(`(?:\b|([-−–]|\bminus ))(` + proseNumber + `)(?:(\s+(?:to|or|and)\s+|\s?[–-]\s?)([-−–])?(\d+(?:[.,]\d+)?))?([\s` + Space + `]|-|)(` + proseUnits + `)`)
	// mayBeMetric is quick, and finds too much rather than too little.
	mayBeMetric = regexp.MustCompile(`°|degree|(?:met|lit)(?:re|er)|gramm?e?s?\b|hectare|m[²³]|\d[\s` + Space + `-]?(?:[ckm]?m|m[23]|[mM]?[lL]|k?g|ha)\b`)
)

// figure reads a number in figures or in a word.
func figure(s string) (float64, bool) {
	switch strings.ToLower(s) {
	case "":
		return 0, false
	case "half a", "half an":
		return 0.5, true
	case "a", "an":
		return 1, true
	}
	for i, word := range []string{"one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"} {
		if strings.EqualFold(s, word) {
			return float64(i + 1), true
		}
	}
	return parse(s), true
}

var anFigure = regexp.MustCompile(`^(?:8|11(?:\D|$)|18(?:\D|$))`)

// agree ends a text with the form of the article that goes with a figure.
func agree(before, figure string) string {
	form := article.FindString(before)
	if form == "" {
		return before
	}
	a := form[:1]
	if anFigure.MatchString(figure) {
		a += "n"
	}
	return strings.TrimSuffix(before, form) + a + form[len(strings.TrimRight(form, " "+Space)):]
}

// aCartful in litres is more than anybody pours: it is mulch or cuttings.
const aCartful = 200

// written is one amount of a text.
type written struct {
	sign, highSign string
	low, high      float64
	joined         string // " to " and the like; "" for one figure
	hyphen         bool   // "a 10-litre can"
	unit           string
	before, after  string
}

var (
	article = regexp.MustCompile(`\b[Aa]n?[\s` + Space + `]$`)
	noun    = regexp.MustCompile(`^[\s` + Space + `]\pL`)
	differs = regexp.MustCompile(`^[\s` + Space + `](?:warmer|colder|cooler|milder|hotter|higher|lower|more|less|above|of frost)\b`)
	byHow   = regexp.MustCompile(`(?i)\b(?:by|within|difference of|rise of|rises|drop of|drops|falls?|another)(?:\s+(?:about|up to|some|around))?\s*$`)
	// stays are sentences on what a cut leaves; takes are words before an amount
	// that goes, or is the most.
	stays = regexp.MustCompile(`(?i)\b(?:leave|leaves|leaving|keep|cut|cuts|clip|shear|saw|stubs?|above|stays?|shorten|safe)\b`)
	takes = regexp.MustCompile(`(?i)\b(?:by|off|up to|at most|than|under|below|over|about|within|of)\s*$`)
	loose = regexp.MustCompile(`(?i)\b(?:barrow|mulch|compost|bark|cuttings|straw|bags?)\b`)
	wet   = regexp.MustCompile(`(?i)\b(?:water|pour|soak|give|can|trickle|drink)\w*\b`)
)

// say writes the amount in the units of American readers.
func (a written) say() string {
	unit := strings.ToLower(a.unit)
	switch {
	case strings.HasPrefix(unit, "°"), strings.HasPrefix(unit, "degree"):
		return a.temperature()
	case strings.HasPrefix(unit, "square"), unit == "m²", unit == "m2":
		return a.with(func(v float64) string { return whole(v / squareFoot) }, "square foot", "square feet")
	case strings.HasPrefix(unit, "cubic"), unit == "m³", unit == "m3":
		return a.with(func(v float64) string { return trim(v*1000/cubicYard, 1) }, "cubic yard", "cubic yards")
	case unit == "ha", strings.HasPrefix(unit, "hectare"):
		const acre = 0.40468564224 // hectares
		return a.with(func(v float64) string { return trim(v/acre, 1) }, "acre", "acres")
	case unit == "kg", strings.HasPrefix(unit, "kilog"):
		return a.with(func(v float64) string { return halves(v / pound) }, "lb", "lb")
	case unit == "g", strings.HasPrefix(unit, "gram"):
		return a.with(func(v float64) string { return halves(v / pound * 16 / 1000) }, "oz", "oz")
	case unit == "km", strings.HasPrefix(unit, "kilomet"):
		const mile = 1.609344
		return a.with(func(v float64) string { return halves(v / mile) }, "mile", "miles")
	case unit == "l", unit == "ml", strings.Contains(unit, "lit"):
		return a.volume(unit)
	}
	return a.length(unit)
}

func (a written) temperature() string {
	signed := func(v float64, sign string) float64 {
		if sign != "" {
			return -v
		}
		return v
	}
	// "-10 to 5 °C" has one sign for its first figure alone.
	low, high := signed(a.low, a.sign), signed(a.high, a.highSign)
	if a.joined == "" {
		high = low
	}
	warmth := func(c float64) string { return wholeDegrees(c*1.8 + 32) }
	if differs.MatchString(a.after) || byHow.MatchString(a.before) {
		warmth = func(c float64) string { return whole(math.Abs(c) * 1.8) }
	}
	return a.range_(warmth(low), warmth(high)) + Space + "°F"
}

func (a written) length(unit string) string {
	in := 1.0 // centimetres
	switch {
	case unit == "mm", strings.HasPrefix(unit, "milli"):
		in = 0.1
	case unit == "m", strings.HasPrefix(unit, "met"):
		in = 100
	}
	low, high := a.low*in, a.high*in
	sentence := a.before[strings.LastIndexAny(a.before, ".;:?!")+1:]
	up := stays.MatchString(sentence) && !takes.MatchString(sentence)
	one, _ := customary(low, max(low, high), up)
	two, name := customary(high, max(low, high), up)
	if a.hyphen {
		name = strings.Replace(strings.TrimSuffix(name, "es"), "feet", "foot", 1)
	}
	return a.range_(one, two) + a.space() + name
}

func (a written) volume(unit string) string {
	litres := 1.0
	if unit == "ml" || strings.HasPrefix(unit, "milli") {
		litres = 0.001
	}
	high := max(a.low, a.high) * litres
	per, one, many := gallon, "gallon", "gallons"
	sentence := a.before[strings.LastIndexAny(a.before, ".;:?!")+1:]
	dry := loose.MatchString(sentence) || high >= aCartful
	switch {
	case dry && !wet.MatchString(sentence) && high >= cubicYard:
		per, one, many = cubicYard, "cubic yard", "cubic yards"
	case dry && !wet.MatchString(sentence) && high >= cubicFoot/2:
		per, one, many = cubicFoot, "cubic foot", "cubic feet"
	case high < 0.1:
		per, one, many = ounce, "fl oz", "fl oz"
	case high < 0.9:
		per, one, many = pint, "pint", "pints"
	case high < 0.95*gallon:
		per, one, many = quart, "quart", "quarts"
	}
	return a.with(func(v float64) string { return halves(v * litres / per) }, one, many)
}

// with writes both figures and the unit, which is singular for one and before a
// noun: "a 5-gallon can".
func (a written) with(print func(float64) string, one, many string) string {
	low, high := print(a.low), print(a.high)
	figures := a.range_(low, high)
	if a.hyphen || slices.Contains([]string{"¼", "½", "¾", "1"}, high) {
		many = one
	}
	return figures + a.space() + many
}

func (a written) space() string {
	if a.hyphen {
		return "-"
	}
	return Space
}

// range_ joins two figures as the text does, or says one that is both.
func (a written) range_(low, high string) string {
	if a.joined == "" || low == high {
		return low
	}
	return low + a.joined + high
}

// A pair is a way to write an amount of which the unit alone says too little.
type pair struct {
	form *regexp.Regexp
	say  func(m []string) string
}

// pairs are amounts for an amount, which have to be turned together.
var pairs = []pair{
	// A hedge is reckoned by the metre. An amount of work is as good for a yard,
	// which is a tenth less; what a plant list counts is not.
	{regexp.MustCompile(`(?i)(minutes are )(?:for|per) (?:1 |one |a )?running metre\b`), func(m []string) string { return m[1] + "for 1" + Space + "running yard" }},
	{regexp.MustCompile(`(?i)\b(?:1|one|a) running metre\b`), func(m []string) string { return "3¼" + Space + "running feet" }},
	{regexp.MustCompile(`(?i)\brunning metre\b`), func(m []string) string { return "running yard" }},
	{regexp.MustCompile(`(\d+(?:[.,]\d+)?)[\s` + Space + `]?(?:litres|L|l) (?:a|per|for each|for every) (?:square metre|m²)`), func(m []string) string {
		// Ten square feet, as a tenth of a gallon is no measure of a can.
		return halves(parse(m[1])/gallon*squareFoot*10) + Space + "gallons for each 10" + Space + "square feet"
	}},
	{regexp.MustCompile(`(\d+(?:[.,]\d+)?)[\s` + Space + `]?(?:litres|L|l) (?:a|per|for each|for every) centimetre`), func(m []string) string {
		return halves(parse(m[1])*inch/gallon) + Space + "gallons for each inch"
	}},
	{regexp.MustCompile(`(\d+(?:[.,]\d+)?)[\s` + Space + `]?(?:g|grams) (?:a|per|for each|for every) (?:square metre|m²)`), func(m []string) string {
		return halves(parse(m[1])/1000/pound*16*9*squareFoot) + Space + "oz a square yard"
	}},
	{regexp.MustCompile(`(?i)\b(a) few (?:centi|milli)metres\b`), func(m []string) string { return m[1] + "n inch or two" }},
	{regexp.MustCompile(`(?i)\bsq(?:uare)? m\b`), func(m []string) string { return "m²" }},
}

// bareUnits are units without a figure: "several metres from the last cane".
var bareUnits = []struct {
	form *regexp.Regexp
	say  string
}{
	{regexp.MustCompile(`\bsquare metre(s?)\b`), "square yard$1"},
	{regexp.MustCompile(`\bkilometre(s?)\b`), "mile$1"},
	{regexp.MustCompile(`\b(?:centi|milli)metres\b`), "inches"},
	{regexp.MustCompile(`\b(?:centi|milli)metre\b`), "inch"},
	{regexp.MustCompile(`\bmetre(s?)\b`), "yard$1"},
	{regexp.MustCompile(`\blitre(s?)\b`), "gallon$1"},
}

func bare(text string) string {
	if strings.Contains(text, "metre") || strings.Contains(text, "litre") {
		for _, b := range bareUnits {
			text = b.form.ReplaceAllString(text, b.say)
		}
	}
	return text
}

// customary writes centimetres in inches, or in feet where the larger figure of
// a range has three or more. A step is what a tape is read to: quarters of an
// inch below one, halves below a foot, whole inches above, half feet, feet from
// ten on.
func customary(cm, largest float64, up bool) (string, string) {
	v, step, one, unit := cm/inch, 1.0, "inch", "inches"
	switch {
	case largest >= 3*foot:
		v, step, one, unit = cm/foot, 0.5, "foot", "feet"
		if v >= 9.75 {
			step = 1
		}
	case v < 0.9:
		step = 0.25
	case v < 11.9:
		step = 0.5
	}
	n := math.Round(v / step)
	// A twentieth of a step is no difference: 5 cm are 2 inches.
	if up && v/step-n > 0.05 {
		n++
	}
	if n = max(n, 1); n*step <= 1 {
		unit = one
	}
	return fraction(n * step), unit
}

// halves writes a number by halves, from ten on whole; below a half by quarters.
func halves(v float64) string {
	switch {
	case v >= 10:
		return whole(v)
	case v < 0.4:
		return fraction(max(math.Round(v*4), 1) / 4)
	}
	return fraction(max(math.Round(v*2), 1) / 2)
}

func whole(v float64) string { return trim(math.Round(v), 0) }

// fraction writes quarters as Americans do.
func fraction(v float64) string {
	n := math.Floor(v)
	part := map[float64]string{0: "", 0.25: "¼", 0.5: "½", 0.75: "¾"}[v-n]
	if n == 0 && part != "" {
		return part
	}
	return trim(n, 0) + part
}
