// Package figure draws: plants to scale from their measures and colours,
// before and after a cut, the border on the cover, the marks of the jobs and the
// charts of the year. In go plain measures, out come draw.Pictures; booklet
// calls it and html and pdf paint what it returns.
//
// A drawing depends on its arguments alone: the unevenness of the hand comes
// from a generator seeded with the plant's Seed.
package figure

import (
	"fmt"
	"hash/fnv"
	"math/rand/v2"
	"strings"

	"sheaf/generator/draw"
	"sheaf/generator/measure"
	"sheaf/generator/words"
)

// Palette is the colours of the theme that pictures share with the page.
type Palette struct {
	Paper, Ink, Quiet, Straw, Clay, Moss, Frost, Hairline draw.Color
}

// family is the colour of a family of jobs.
func (pal Palette) family(name string) draw.Color {
	switch name {
	case "comb":
		return pal.Straw
	case "cut":
		return pal.Clay
	case "grow":
		return pal.Moss
	case "protect":
		return pal.Frost
	}
	return pal.Quiet
}

// familyOf is the family of jobs a mark belongs to.
func familyOf(mark string) string {
	switch mark {
	case "comb", "groom", "clear leaves":
		return "comb"
	case "divide", "replant", "mulch", "feed", "weed", "stake", "tie in", "check":
		return "grow"
	case "water", "protect", "uncover", "lift", "tie up":
		return "protect"
	}
	return "cut"
}

// A Plant is what a drawing needs to know. Lengths are centimetres.
type Plant struct {
	Name              string // what the plant is called, for those who cannot see it
	Seed              string // same seed, same drawing
	Type, Habit, Head string
	Height            float64 // of the leaf
	FlowerHeight      float64 // 0: flowers within the leaf
	Spread            float64
	Leaf, Flower      draw.Color
	Evergreen         bool
	Unknown           bool          // nobody knows what it looks like: an empty outline stands for it
	Units             measure.Units // of its ruler, and of what is said of it
	Many              int           // of them grow in the garden: a border may show a drift
}

// A Frame is the size in millimetres that a picture fills.
type Frame struct{ W, H float64 }

// whole gives p with its gaps filled, so that the drawing code never meets a
// plant without size or colour.
func (p Plant) whole() Plant {
	if p.Height <= 0 {
		p.Height = max(p.FlowerHeight*0.6, p.Spread*0.8)
	}
	if p.Height <= 0 {
		p.Height = 40
	}
	if p.Spread <= 0 {
		p.Spread = p.Height * 0.8
	}
	if p.FlowerHeight <= p.Height {
		p.FlowerHeight = 0
	}
	if p.Leaf == (draw.Color{}) {
		p.Leaf = draw.Color{R: 0x5f, G: 0x80, B: 0x4c}
	}
	if p.Flower == (draw.Color{}) {
		p.Flower = draw.Color{R: 0xa9, G: 0x8d, B: 0x5f}
	}
	if p.Habit == "" {
		p.Habit = usualHabit(p.Type)
	}
	return p
}

// usualHabit is how a plant of a type grows when nothing else is said.
func usualHabit(kind string) string {
	switch kind {
	case "grass", "sedge":
		return "fountain"
	case "rush", "bamboo", "bulb":
		return "upright"
	case "fern":
		return "shuttlecock"
	case "shrub", "subshrub", "tree":
		return "dome"
	case "rose":
		return "arching"
	case "climber":
		return "climber"
	}
	return "clump"
}

// top is the height of the whole plant, flowers and all, in centimetres.
func (p Plant) top() float64 { return max(p.Height, p.FlowerHeight) }

// say describes the plant in words.
func (p Plant) say(w *words.Words) string {
	habit, height := w.Say("habit."+p.Habit), metres(p.Height, w)
	if p.FlowerHeight > 0 {
		return w.Say("drawn.plant in flower", "plant", p.name(w), "habit", habit, "height", height, "flower", metres(p.FlowerHeight, w))
	}
	return w.Say("drawn.plant", "plant", p.name(w), "habit", habit, "height", height)
}

// name is what the pictures call the plant.
func (p Plant) name(w *words.Words) string {
	if p.Name != "" {
		return p.Name
	}
	if p.Seed == "" {
		return w.Say("drawn.a plant")
	}
	return p.Seed
}

// metres writes a length given in centimetres, from a metre up in metres.
func metres(cm float64, w *words.Words) string {
	if cm < 100 {
		return w.Say("drawn.cm", "n", fmt.Sprintf("%.0f", cm))
	}
	return w.Say("drawn.m", "n", w.Figures(strings.TrimSuffix(fmt.Sprintf("%.1f", cm/100), ".0")))
}

// amounts gives what is said of a drawing in the units of the plant.
func (p Plant) amounts(said string) string {
	if p.Units == measure.US {
		return measure.Customary(said)
	}
	return said
}

// generator is the unevenness of the hand, the same for the same seed.
func generator(seed string) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(seed))
	return rand.New(rand.NewPCG(h.Sum64(), 0x5eaf))
}
