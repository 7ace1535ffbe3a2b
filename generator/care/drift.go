package care

import (
	"math"

	"sheaf/generator/entries"
	"sheaf/generator/garden"
)

// A drift is many small plants that are worked as one: nobody counts the bulbs
// they deadhead. Up to so many are done one by one.
const (
	singleBulbs  = 10 // in clumps of that many they are planted
	singlePlants = 50
)

// mostClumps is how many clumps of a drift are lifted and divided in one year:
// a day's work for two. The rest wait, and are none the worse. Common practice,
// no source.
const mostClumps = 12

// Drift tells whether a planting is worked as a drift.
func Drift(p *garden.Planting) bool {
	return !woody(p.Entry) && p.Row.Quantity > singles(p.Entry)
}

func singles(e *entries.Entry) float64 {
	if e.Type == "bulb" {
		return singleBulbs
	}
	return singlePlants
}

// worked is the number of plants by which the time for one of them is taken:
// all of them, or of a drift fewer. Beyond what is done one by one, four times as
// many take twice as long, as the hand goes over the whole: an estimate, no
// source. Of what is lifted and divided only [mostClumps] are done in a year.
func worked(p *garden.Planting, job *entries.Job) float64 {
	n := p.Row.Quantity
	switch one := singles(p.Entry); {
	case !Drift(p):
		return n
	case parted(job):
		return min(n, mostClumps)
	default:
		return one * math.Sqrt(n/one)
	}
}

// parted tells a job that takes plants out of the ground and apart.
func parted(job *entries.Job) bool { return job.Mark == "divide" || job.Mark == "replant" }
