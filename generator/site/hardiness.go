package site

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Hardiness is the winter cold a plant stands.
type Hardiness struct {
	Written string  // as it was written: "H4", "5b", "-20 °C"
	Scale   Scale   // of what it is written on
	Low     float64 // the lowest night it stands, in °C
}

// A Scale is that of a hardiness. None is turned into another: an RHS rating
// tells what stands a British winter, wet and all, and nothing of a zone.
type Scale uint8

const (
	Degrees Scale = iota // a temperature
	RHS                  // H1a to H7
	USDA                 // a zone, whole or half
)

// rhsBands are the RHS ratings with the low end of each in °C, mildest first
// (RHS, "Hardiness ratings" leaflet). A band includes its low end; print leaves
// that open. H7 is all below -20 °C: the band is given the width of its
// neighbours here.
var rhsBands = [...]struct {
	rating string
	low    float64
}{
	{"H1a", 15}, {"H1b", 10}, {"H1c", 5}, {"H2", 1}, {"H3", -5}, {"H4", -10}, {"H5", -15}, {"H6", -20}, {"H7", -25},
}

// The USDA zones are half-zones of 5 °F from -60 °F up: 1a, 1b, 2a to 13b, each
// with its lower bound included (USDA Plant Hardiness Zone Map).
const (
	zoneBottom = -60.0 // °F
	zoneStep   = 5.0   // °F
	halfZones  = 26
)

// ParseHardiness reads a temperature ("-20 °C", "-4 °F"), an RHS rating ("H1a"
// to "H7") or a USDA zone ("5b", "Z5", "USDA 7a", "zone 6"). A rating or zone
// counts as the low end of its band, a whole zone as that of its colder half.
//
// The scales do not measure the same: the RHS rates what a plant stands, a zone
// tells the mean of a place's coldest nights. Low is good to compare with, not
// to print as a fact.
func ParseHardiness(s string) (Hardiness, error) {
	h := Hardiness{Written: strings.TrimSpace(s)}
	text := strings.ToLower(strings.Join(strings.Fields(s), ""))
	var ok bool
	for scale, read := range map[Scale]func(string) (float64, bool){RHS: rhsLow, USDA: zoneLow, Degrees: degrees} {
		if h.Low, ok = read(text); ok {
			h.Scale = scale
			return h, nil
		}
	}
	return Hardiness{}, fmt.Errorf("%q is no hardiness: expected a temperature such as -15 °C or 5 °F, an RHS rating H1a to H7, or a USDA zone such as Z6 or 6b", s)
}

// Zone writes a USDA zone without what stood before it: "5", "8b".
func (h Hardiness) Zone() string {
	return strings.ToLower(strings.TrimLeft(h.Written, "USDAusdaZONEzone "))
}

func rhsLow(text string) (float64, bool) {
	for _, band := range rhsBands {
		if strings.ToLower(band.rating) == text {
			return band.low, true
		}
	}
	return 0, false
}

// zoneLow reads a USDA zone. A bare number is none: "7" might be degrees.
func zoneLow(text string) (float64, bool) {
	number, usda := strings.CutPrefix(text, "usda")
	number, zone := strings.CutPrefix(number, "zone")
	if !zone {
		number, zone = strings.CutPrefix(number, "z")
	}
	named := usda || zone
	half := 0
	switch {
	case strings.HasSuffix(number, "a"):
		number, named = number[:len(number)-1], true
	case strings.HasSuffix(number, "b"):
		number, named, half = number[:len(number)-1], true, 1
	}
	n, err := strconv.ParseUint(number, 10, 8)
	if err != nil || !named || n < 1 || n > halfZones/2 {
		return 0, false
	}
	return celsius(zoneBottom + zoneStep*float64(2*(int(n)-1)+half)), true
}

// degrees reads a temperature with its unit.
func degrees(text string) (float64, bool) {
	text = strings.NewReplacer("°", "", "−", "-", "–", "-", "℃", "c", "℉", "f").Replace(text)
	number, isC := strings.CutSuffix(text, "c")
	number, isF := strings.CutSuffix(number, "f")
	if isC == isF || strings.Trim(number, "+-.0123456789") != "" {
		return 0, false // no unit or two; or what strconv reads but nobody writes: 1e9, inf
	}
	value, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return 0, false
	}
	if isF {
		value = celsius(value)
	}
	return value, true
}

func celsius(fahrenheit float64) float64 { return (fahrenheit - 32) * 5 / 9 }

// USDAZone gives the USDA half-zone, "1a" to "13b", of a place whose coldest
// night of the year is on average at so many °C. What lies beyond the scale
// belongs to its first or last zone.
func USDAZone(celsius float64) string {
	fahrenheit := celsius*9/5 + 32
	const rounding = 1e-9 // a bound that went through °C and back still belongs to its zone
	k := int(math.Floor((min(max(fahrenheit, zoneBottom), 70) - zoneBottom + rounding) / zoneStep))
	k = min(k, halfZones-1)
	return fmt.Sprintf("%d%c", k/2+1, "ab"[k%2])
}
