// Package measure reads and prints the quantities of entries and gardens:
// lengths, ranges of them, areas, temperatures, what a cut leaves, minutes,
// intervals of years. Inside, lengths are centimetres, areas square metres and
// temperatures degrees Celsius; how a figure was written is kept nowhere but
// in the file, so one garden prints all of them in its own units.
package measure

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"sheaf/generator/words"
)

// Units says how figures are printed.
type Units uint8

const (
	Metric Units = iota
	US           // feet and inches, square feet, °F
)

// Centimetres in one of each unit, exact by definition (NIST SP 811).
const (
	inch = 2.54
	foot = 30.48
)

// squareFoot in square metres, exact.
const squareFoot = 0.09290304

// Length is a range of lengths in centimetres; one length has Low = High.
type Length struct{ Low, High float64 }

// One is a length that is not a range.
func One(cm float64) Length { return Length{cm, cm} }

// IsZero tells a length that was not given.
func (l Length) IsZero() bool { return l == Length{} }

const number = `\d+(?:[.,]\d+)?`

var (
	lengthForm = regexp.MustCompile(`^(` + number + `)(?:\s*(?:to|-|–)\s*(` + number + `))?\s*(mm|cm|m|in|inch|inches|ft|foot|feet|(?:milli|centi)?met(?:re|er)s?)$`)
	areaForm   = regexp.MustCompile(`^(` + number + `)\s*(m²|m2|sq m|ft²|ft2|sq ft)$`)
	tempForm   = regexp.MustCompile(`^([-−–]?` + number + `)\s*°?\s*([CF])$`)
	spanForm   = regexp.MustCompile(`^(` + number + `)(?:\s*(?:to|-|–)\s*(` + number + `))?$`)
)

// plainSigns are those of a number as strconv reads them.
var plainSigns = strings.NewReplacer(",", ".", "−", "-", "–", "-")

func parse(s string) float64 {
	v, _ := strconv.ParseFloat(plainSigns.Replace(s), 64) // the forms above let only numbers through
	return v
}

// spelled gives the spelling of a unit by which it is looked up: "feet" has lost
// no letter, "inches" one.
var spelled = strings.NewReplacer("meter", "metre", "inche", "inch")

// ParseLength reads "35 cm", "60 to 90 cm", "1.2 m", "3 ft", "18 in".
func ParseLength(s string) (Length, error) {
	m := lengthForm.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil {
		return Length{}, fmt.Errorf("expected a length such as 35 cm or 60 to 90 cm, found %q", s)
	}
	unit := map[string]float64{"mm": 0.1, "cm": 1, "m": 100, "in": inch, "inch": inch, "inches": inch, "ft": foot, "foot": foot, "feet": foot,
		"millimetre": 0.1, "centimetre": 1, "metre": 100}[spelled.Replace(strings.TrimSuffix(m[3], "s"))]
	l := One(parse(m[1]) * unit)
	if m[2] != "" {
		l.High = parse(m[2]) * unit
		if l.High < l.Low {
			return Length{}, fmt.Errorf("the range %q runs backwards", s)
		}
	}
	return l, nil
}

// Print writes the length as files and messages have it: centimetres, metres
// from two metres on, or inches and feet.
func (l Length) Print(u Units) string { return l.print(u, false) }

// print is [Length.Print]; up never rounds to less.
func (l Length) print(u Units, up bool) string {
	low, high, unit := l.figures(u, up)
	if low == high {
		return low + Space + unit
	}
	return low + " to " + high + Space + unit
}

// Say is Print in the words of a booklet.
func (l Length) Say(u Units, w *words.Words) string { return l.say(u, w, false) }

// say is [Length.Say]; up never rounds to less.
func (l Length) say(u Units, w *words.Words, up bool) string {
	low, high, unit := l.figures(u, up)
	if low == high {
		return w.Say("unit."+unit, "n", low)
	}
	return w.Say("unit."+unit, "n", w.To(w.Figures(low), w.Figures(high)))
}

// figures are the two ends of a length in figures, with their unit.
func (l Length) figures(u Units, up bool) (low, high, unit string) {
	low, _ = amount(l.Low, l.High, u, up)
	high, unit = amount(l.High, l.High, u, up)
	return low, high, unit
}

// Space stands between a number and its unit; it does not break.
const Space = "\u00a0"

// amount writes cm in the unit that suits the larger figure of the range.
func amount(cm, largest float64, u Units, up bool) (string, string) {
	switch {
	case u == US:
		return customary(cm, largest, up)
	case largest >= 200:
		return trim(cm/100, 1), "m"
	}
	return trim(cm, 1), "cm"
}

func trim(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// Area is in square metres.
type Area float64

// ParseArea reads "14 m²" or "150 sq ft".
func ParseArea(s string) (Area, error) {
	m := areaForm.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil {
		return 0, fmt.Errorf("expected an area such as 14 m² or 150 sq ft, found %q", s)
	}
	v := parse(m[1])
	if strings.Contains(m[2], "ft") {
		v *= squareFoot
	}
	return Area(v), nil
}

// Say writes the area for the reader.
func (a Area) Say(u Units, w *words.Words) string {
	if u == US {
		return w.Say("unit.sq ft", "n", w.Figures(trim(float64(a)/squareFoot, 0)))
	}
	return w.Say("unit.m²", "n", w.Figures(trim(float64(a), 1)))
}

// Celsius is a temperature.
type Celsius float64

// ParseTemperature reads "-7 °C" or "19 °F".
func ParseTemperature(s string) (Celsius, error) {
	m := tempForm.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil {
		return 0, fmt.Errorf("expected a temperature such as -7 °C or 19 °F, found %q", s)
	}
	v := parse(m[1])
	if m[2] == "F" {
		v = (v - 32) / 1.8
	}
	return Celsius(v), nil
}

// Say writes the temperature in whole degrees.
func (c Celsius) Say(u Units, w *words.Words) string {
	if u == US {
		return w.Say("unit.°F", "n", wholeDegrees(float64(c)*1.8+32))
	}
	return w.Say("unit.°C", "n", wholeDegrees(float64(c)))
}

func wholeDegrees(v float64) string {
	return strings.Replace(trim(math.Round(v)+0, 0), "-", "−", 1)
}

// Minutes is an estimate, from low to high.
type Minutes struct{ Low, High float64 }

// ParseMinutes reads "3" or "2 to 4".
func ParseMinutes(s string) (Minutes, error) {
	m := spanForm.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil {
		return Minutes{}, fmt.Errorf("expected minutes such as 3 or 2 to 4, found %q", s)
	}
	out := Minutes{parse(m[1]), parse(m[1])}
	if m[2] != "" {
		out.High = parse(m[2])
	}
	if out.High < out.Low {
		return Minutes{}, fmt.Errorf("the range %q runs backwards", s)
	}
	return out, nil
}

// Times multiplies both ends.
func (m Minutes) Times(n float64) Minutes { return Minutes{m.Low * n, m.High * n} }

// Plus adds two estimates.
func (m Minutes) Plus(o Minutes) Minutes { return Minutes{m.Low + o.Low, m.High + o.High} }

// Say says the time as people do: "about 10 minutes", "about 2 hours". It
// names the middle of the range, rounded to what an estimate can bear.
func (m Minutes) Say(w *words.Words) string { return m.say(w, "time.") }

// Short is Say for a narrow column: "10 min", "2½ h".
func (m Minutes) Short(w *words.Words) string { return m.say(w, "short.") }

// say says the time with the texts of a group.
func (m Minutes) say(w *words.Words, key string) string {
	mid := (m.Low + m.High) / 2
	switch {
	case mid <= 0:
		return ""
	case mid < 2.5:
		return w.Say(key + "moment")
	case mid < 52.5:
		return w.Say(key+"minutes", "n", math.Round(mid/5)*5)
	case mid < 75:
		return w.Say(key + "hour")
	case mid < 570:
		half := math.Round(mid/30) / 2
		if half != math.Floor(half) {
			return w.Say(key+"hours", "n", trim(math.Floor(half), 0)+"½")
		}
		return w.Say(key+"hours", "n", half)
	}
	return w.Say(key+"hours", "n", math.Round(mid/60))
}

// A Leave is what a cut leaves: a length, a part of the plant's height, or
// words. Its zero value says nothing.
type Leave struct {
	Length   Length
	Fraction float64 // of the height; 0 when it is not a part
	Words    string  // as written, when it is neither
}

// parts of a whole that gardeners say.
var parts = []struct {
	words string
	part  float64
}{
	{"one quarter", 0.25}, {"a quarter", 0.25}, {"one third", 1. / 3}, {"a third", 1. / 3},
	{"one half", 0.5}, {"half", 0.5}, {"two thirds", 2. / 3}, {"three quarters", 0.75},
}

// ParseLeave reads "5 cm", "10 to 15 cm", "one third" or plain words such as
// "all green leaf". Only an empty text or a bare number is a fault.
func ParseLeave(s string) (Leave, error) {
	s = strings.TrimSpace(s)
	if l, err := ParseLength(s); err == nil {
		return Leave{Length: l}, nil
	}
	if spanForm.MatchString(s) {
		return Leave{}, fmt.Errorf("%q has no unit: write %s cm", s, s)
	}
	if s == "" {
		return Leave{}, fmt.Errorf("expected what stays on the plant, such as 5 cm, one third or all green leaf")
	}
	for _, p := range parts {
		if s == p.words {
			return Leave{Fraction: p.part, Words: p.words}, nil
		}
	}
	return Leave{Words: s}, nil
}

// IsZero tells a leave that was not given.
func (l Leave) IsZero() bool { return l == Leave{} }

// leastForm is a leave in words that says how much of the plant stays: a part,
// then what it is a part of, if anything is said of that. "All leaf", "at least
// two thirds of the leafy growth, with green leaf on every stem".
var leastForm = regexp.MustCompile(`^(?:at least |one )?(nearly all|all|every|any|the whole|whole|everything|most|half|two thirds|three quarters|four fifths|nine tenths|a third|third|a quarter|quarter)\b([^0-9]*)$`)

// ofPlant are the words for what a part is of: no stub and no trunk.
var ofPlant = regexp.MustCompile(`\b(leaf|leaves|leafy|growth|green|living|alive|shoots?|height|plant|blades?|needles?|stems?)\b`)

// Least is the part of the plant that stays at the least; false where the words
// do not tell. A length is told apart from it: whoever asks knows the height.
func (l Leave) Least() (float64, bool) {
	if l.Fraction > 0 {
		return l.Fraction, true
	}
	switch m := leastForm.FindStringSubmatch(strings.ToLower(l.Words)); {
	case m == nil || m[2] != "" && !strings.HasPrefix(m[2], ",") && !ofPlant.MatchString(m[2]):
		return 0, false
	default:
		return map[string]float64{"nearly all": 0.9, "most": 0.5, "half": 0.5, "two thirds": 2. / 3, "three quarters": 0.75, "four fifths": 0.8,
			"nine tenths": 0.9, "a third": 1. / 3, "third": 1. / 3, "a quarter": 0.25, "quarter": 0.25,
			"all": 1, "every": 1, "any": 1, "the whole": 1, "whole": 1, "everything": 1}[m[1]], true
	}
}

// Print writes what stays, as files and messages have it. In inches it never says
// less than was written.
func (l Leave) Print(u Units) string {
	if !l.Length.IsZero() {
		return l.Length.print(u, true)
	}
	return l.Words
}

// Say is Print in the words of a booklet; what an entry says in words stays.
func (l Leave) Say(u Units, w *words.Words) string {
	switch {
	case !l.Length.IsZero():
		return l.Length.say(u, w, true)
	case l.Fraction > 0:
		return w.Term("fraction", l.Words)
	}
	return l.Words
}

var (
	everyForm = regexp.MustCompile(`^(\d{1,2})\s*years?$`)
	yearForm  = regexp.MustCompile(`^year\s*(\d{1,2})$`)
)

// ParseEvery reads "1 year" or "3 years"; the result is at least 1.
func ParseEvery(s string) (int, error) {
	if m := everyForm.FindStringSubmatch(strings.TrimSpace(s)); m != nil {
		if n, _ := strconv.Atoi(m[1]); n >= 1 {
			return n, nil
		}
	}
	return 0, fmt.Errorf("expected an interval such as 1 year or 3 years, found %q", s)
}

// ParseYear reads "year 2": the count of growing years since planting, from 1.
func ParseYear(s string) (int, error) {
	if m := yearForm.FindStringSubmatch(strings.TrimSpace(s)); m != nil {
		if n, _ := strconv.Atoi(m[1]); n >= 1 {
			return n, nil
		}
	}
	return 0, fmt.Errorf("expected a year since planting such as year 2, found %q", s)
}
