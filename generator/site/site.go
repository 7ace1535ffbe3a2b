// Package site knows a garden's place and climate, and turns the trade's way of
// saying when a job is due into dates.
//
// In go the latitude of a garden with its monthly temperatures or frost dates
// (a [Site]), and phrases such as "6 weeks before warm growth to warm growth"
// ([ParseWindow]). Out come the days of the year's cues there ([Climate.Cue])
// and the first and last day of each window in a year ([Context.Resolve]),
// each with a clause that says how it was found. The package also reads
// hardiness ratings ([ParseHardiness]).
//
// Package entries parses windows and hardiness with it, package garden fills in
// the Site, package care dates the tasks.
package site

import "time"

// Site is where a garden is and what is known of its climate. Its figures are
// taken as they are: whoever reads them checks them.
type Site struct {
	Latitude   float64   // degrees, south negative
	Normals    *Normals  // nil: none
	LastFrost  *MonthDay // median last frost of spring; nil: computed
	FirstFrost *MonthDay // median first frost of autumn; nil: computed
}

// Normals are mean daily minima and maxima of the months in °C, January first.
type Normals struct{ Min, Max [12]float64 }

// Hemisphere tells which half of the world a garden is in, or which one a
// phrase was written for.
type Hemisphere uint8

const (
	North Hemisphere = iota
	South
)

// Season is the meteorological season of a month, as windows name it.
func (h Hemisphere) Season(m time.Month) string {
	n := int(m) % 12 / 3
	if h == South {
		n = (n + 2) % 4
	}
	return []string{"winter", "spring", "summer", "autumn"}[n]
}

// String gives "north" or "south".
func (h Hemisphere) String() string {
	if h == South {
		return "south"
	}
	return "north"
}

// Hemisphere is the half of the world the site lies in; the equator counts as north.
func (s Site) Hemisphere() Hemisphere {
	if s.Latitude < 0 {
		return South
	}
	return North
}

// Basis is what the cues of a site rest on.
type Basis uint8

const (
	FromNormals Basis = iota
	FromFrostDates
	FromNothing
)

// String gives "normals", "frost dates" or "none".
func (b Basis) String() string {
	switch b {
	case FromNormals:
		return "normals"
	case FromFrostDates:
		return "frost dates"
	default:
		return "none"
	}
}

// Basis tells what the cues of the site rest on: its normals if it has them,
// else its frost dates, else a table.
func (s Site) Basis() Basis {
	switch {
	case s.Normals != nil:
		return FromNormals
	case s.LastFrost != nil || s.FirstFrost != nil:
		return FromFrostDates
	default:
		return FromNothing
	}
}
