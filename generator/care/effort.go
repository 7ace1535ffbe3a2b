package care

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"

	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/measure"
	"sheaf/generator/site"
	"sheaf/generator/words"
)

// What a garden takes and gives besides the work itself: hours by bed, mulch
// and water in, cuttings out. All of it is estimated and named so.

// A Load is the work of one bed in the calendar's first twelve months.
type Load struct {
	Bed     string          `json:"bed"`
	Minutes measure.Minutes `json:"-"`
	Low     float64         `json:"low"`  // minutes
	High    float64         `json:"high"` // minutes
	// PerArea is minutes per m² of the bed for a practised gardener, 0 without
	// an area.
	PerArea measure.Minutes `json:"-"`
	// Published is what trials took for that style of planting, in words.
	Published string `json:"published,omitempty"`
}

// Loads adds up the minutes of each bed.
func (in *Input) Loads(c *Calendar) []Load {
	var out []Load
	end := c.Months[min(len(c.Months), 12)-1].Last
	for _, b := range append(append([]garden.Bed(nil), in.Garden.Beds...), garden.Bed{}) {
		l := Load{Bed: b.Name}
		for i := range c.Tasks {
			if t := &c.Tasks[i]; bedOf(t.Planting) == b.Name && t.From <= end {
				l.Minutes = l.Minutes.Plus(t.Minutes)
			}
		}
		if l.Minutes == (measure.Minutes{}) {
			continue
		}
		l.Low, l.High = l.Minutes.Low, l.Minutes.High
		if b.Area > 0 {
			practised := l.Minutes
			if in.Garden.Skill == garden.Owner {
				practised.Low, practised.High = practised.Low/ownerLow, practised.High/ownerHigh
			}
			l.PerArea = practised.Times(1 / float64(b.Area))
			l.Published = published(b.Style, l.PerArea, in.Garden.Units)
		}
		out = append(out, l)
	}
	return out
}

func bedOf(p *garden.Planting) string {
	if p.Bed == nil {
		return ""
	}
	return p.Bed.Name
}

// trial is what care of a style of planting took a year, in minutes per m²,
// weeding and all: more than ten years of records at the trial garden
// Hermannshof, Weinheim (C. Schmidt, Neue Wege: Umsetzung von Pflegestufen in
// der Staudenpflege, Neue Landschaft). The display figure is a lower bound.
func trial(style string) (low, high float64) {
	switch style {
	case "under trees":
		return 1.9, 5.8
	case "meadow":
		return 3.1, 7.3
	case "woodland edge":
		return 4.4, 7.7
	case "steppe":
		return 7.2, 10.9
	case "grouped":
		return 6.4, 12.5
	case "display":
		return 17.5, math.Inf(1)
	}
	return 1.9, 12.5 // all styles but display
}

// published sets a bed's minutes beside the trial's.
func published(style string, m measure.Minutes, u measure.Units) string {
	low, high := trial(style)
	area := "m²"
	if u == measure.US {
		const squareYard = 0.83612736 // m², exact (NIST SP 811)
		area, low, high, m = "square yard", low*squareYard, high*squareYard, m.Times(squareYard)
	}
	kind := style
	if kind == "" {
		kind = "all styles but display"
	}
	figure := fmt.Sprintf("%.1f to %.1f", low, high)
	if math.IsInf(high, 1) {
		figure = fmt.Sprintf("%.1f and more", low)
	}
	verdict := "they overlap"
	switch {
	case m.High < low:
		verdict = "less than that: weeding is not in our figure"
	case m.Low > high:
		verdict = "more than that"
	}
	return fmt.Sprintf("%.1f to %.1f min per %s and year without weeding; trials took %s with it (%s): %s", m.Low, m.High, area, figure, kind, verdict)
}

// Litres is a volume, from low to high.
type Litres struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

func (l Litres) plus(o Litres) Litres   { return Litres{l.Low + o.Low, l.High + o.High} }
func (l Litres) times(n float64) Litres { return Litres{l.Low * n, l.High * n} }

// A Need is what one bed takes of mulch.
type Need struct {
	Bed    string  `json:"bed"`
	Litres float64 `json:"litres"`
}

// Mulch is the volume that covers each bed to the garden's depth: 10 litres per
// m² and centimetre. Crowns, lavender and gravel stay bare, so it is the most
// that is needed.
func (in *Input) Mulch() []Need {
	var out []Need
	for _, b := range in.Garden.Beds {
		if b.Area > 0 && !in.potted(&b) {
			out = append(out, Need{b.Name, math.Round(10 * float64(b.Area) * in.Garden.Mulch.High)})
		}
	}
	return out
}

// A Drink is what a new planting takes at each watering.
type Drink struct {
	Planting *garden.Planting
	Each     Litres // a plant
	All      Litres // the planting
	Seasons  string // how long it is watered
}

// Waterings lists the plantings still settling in the calendar's first year
// with their water. A tree whose girth the list gives gets 1.5 to 2.2 litres for each
// centimetre of its stem's thickness, and takes 0.6 years for each to settle (the same,
// by calliper 15 cm above the ground; the girth, taken at a metre, gives a little less).
// Shrubs, climbers, hedges and trees get a quarter to a third
// of the volume of the pot they came in, as other trees do (University of Minnesota Extension,
// watering newly planted trees and shrubs); the same part is taken for
// perennials and grasses: common practice, no source.
func (in *Input) Waterings(c *Calendar) []Drink {
	var out []Drink
	for i := range in.Plantings {
		p := &in.Plantings[i]
		if p.Entry == nil || in.growingYear(p, c.First) > 1 {
			continue
		}
		pot := potLitres(p.Row.Size)
		if pot == 0 {
			pot = usualPot(p.Entry)
		}
		d := Drink{Planting: p, Each: Litres{pot / 4, pot / 3}, Seasons: "the first season"}
		switch p.Entry.Type {
		case "shrub", "rose", "climber", "hedge", "subshrub":
			d.Seasons = "1 to 2 years"
		case "tree":
			d.Seasons = "2 years and more"
			if g := p.Row.StemGirth(); !g.IsZero() {
				thin, thick := g.Low/math.Pi, g.High/math.Pi
				d.Each = Litres{thin * 1.5, thick * 2.2}
				d.Seasons = fmt.Sprintf("%.0f years", math.Ceil(thick*0.6))
			}
		case "bulb":
			continue // a bulb brings its own water
		}
		d.All = Litres{d.Each.Low * p.Row.Quantity, d.Each.High * p.Row.Quantity}
		out = append(out, d)
	}
	return out
}

// trade is the size of a numbered American container, in litres for each number:
// the American Standard for Nursery Stock lets a #1 hold 2.5 to 4.1 (from
// memory).
const (
	trade  = 3.0
	gallon = 3.785411784 // litres, exact
)

var (
	numberForm = regexp.MustCompile(`^(?:#|[Nn]o\.\s?)\s*(\d{1,2})\b`)
	gallonForm = regexp.MustCompile(`(?i)^(\d{1,2}(?:\.\d+)?)[\s-]*gal(?:lons?)?\b`)
)

var potForm = regexp.MustCompile(`(?i)^(?:C\s*)?(\d+(?:[.,]\d+)?)\s*(?:l|lt|ltr|litres?)\b`)

// potLitres reads the size a plant was bought in: "10 L", "P9" (a pot 9 cm
// square, about half a litre), "C3 L", "2 gal", "#5".
func potLitres(size string) float64 {
	if m := potForm.FindStringSubmatch(size); m != nil {
		v, err := strconv.ParseFloat(strings.Replace(m[1], ",", ".", 1), 64)
		if err == nil && v <= 1000 {
			return v
		}
	}
	for form, litres := range map[*regexp.Regexp]float64{numberForm: trade, gallonForm: gallon} {
		if m := form.FindStringSubmatch(size); m != nil {
			v, _ := strconv.ParseFloat(m[1], 64) // the form lets only numbers through
			return v * litres
		}
	}
	if strings.EqualFold(strings.ReplaceAll(size, " ", ""), "P9") {
		return 0.5
	}
	return 0
}

// usualPot is the pot a plant is most often sold in, in litres: an estimate.
func usualPot(e *entries.Entry) float64 {
	switch e.Type {
	case "tree":
		return 25
	case "shrub", "rose", "climber", "hedge":
		return 5
	}
	return 2
}

// Waste is the loose volume that the calendar's first twelve months of cutting
// give when the garden is grown: litres, a wide range.
func (in *Input) Waste(c *Calendar) Litres {
	var sum Litres
	end := c.Months[min(len(c.Months), 12)-1].Last
	for i := range c.Tasks {
		if t := &c.Tasks[i]; t.From <= end {
			sum = sum.plus(cuttings(t))
		}
	}
	return sum
}

// Cuttings is the loose volume that a garden day's cuts give when the garden is
// grown.
func (in *Input) Cuttings(c *Calendar, d *Day) Litres {
	var sum Litres
	for _, p := range d.Parts {
		sum = sum.plus(cuttings(&c.Tasks[p.Task]).times(1 / float64(p.Of)))
	}
	return sum
}

// cuttings is the loose volume of one cut. Mixed borders 20 to 50 litres per m²,
// grasses 30 to 80, hedges 3 to 8 per m² of face and cut, bush roses 10 to 20 each
// (TRADE 4.3, estimates; one published check: half a barrow for a grown Stipa
// gigantea, A. Jury).
func cuttings(t *Task) Litres {
	p := t.Planting
	if t.Job.Family != "cut" || t.Job.Name.Value == "deadhead" {
		return Litres{}
	}
	spread := (p.Entry.Spread.Low + p.Entry.Spread.High) / 2 / 100
	area := p.Row.Quantity * math.Pi / 4 * spread * spread
	switch p.Entry.Type {
	case "hedge":
		face := 2 * p.Row.Quantity * p.Entry.Height.High / 100 // both sides, a metre a plant
		return Litres{3 * face, 8 * face}
	case "rose":
		return Litres{10 * p.Row.Quantity, 20 * p.Row.Quantity}
	case "grass", "sedge", "rush", "bamboo":
		return Litres{30 * area, 80 * area}
	case "bulb", "tree":
		return Litres{}
	}
	return Litres{20 * area, 50 * area}
}

// Say says a volume as people order it: litres, or cubic metres from one on.
func (l Litres) Say(w *words.Words) string {
	if l.High >= 1000 {
		return w.Say("volume.about", "volume", w.Say("unit.m³", "n", w.To(w.Figures(tenth(l.Low/1000)), w.Figures(tenth(l.High/1000)))))
	}
	return w.Say("volume.about", "volume", w.Say("unit.litres", "n", w.To(fmt.Sprintf("%.0f", round5(l.Low)), fmt.Sprintf("%.0f", round5(l.High)))))
}

func tenth(v float64) string {
	return strings.TrimSuffix(strconv.FormatFloat(v, 'f', 1, 64), ".0")
}

func round5(v float64) float64 {
	if v < 20 {
		return math.Ceil(v)
	}
	return math.Round(v/5) * 5
}

// Year adds up the minutes of the calendar's first twelve months.
func (c *Calendar) Year() measure.Minutes {
	var sum measure.Minutes
	for _, m := range c.Months[:min(len(c.Months), 12)] {
		sum = sum.Plus(m.Minutes)
	}
	return sum
}

// Peak is the busiest of the calendar's first twelve months, -1 when there is no
// work in them.
func (c *Calendar) Peak() int {
	peak := -1
	for i, m := range c.Months[:min(len(c.Months), 12)] {
		if len(m.Tasks) > 0 && (peak < 0 || m.Minutes.High > c.Months[peak].Minutes.High) {
			peak = i
		}
	}
	return peak
}

// checkMonths are the middles of spring and autumn, when stakes, ties and
// guards are looked over (common practice; northern months).
func checkMonths(h site.Hemisphere, w *words.Words) string {
	if h == site.South {
		return w.And([]string{w.Month(time.October), w.Month(time.April)})
	}
	return w.And([]string{w.Month(time.April), w.Month(time.October)})
}

// A Check is something on a new planting that is looked at in its first year.
type Check struct {
	Planting *garden.Planting
	Ties     bool   // of a climber; else stake and tie of a tree
	Months   string // "April and October"
}

// FirstYearChecks lists what is looked at in the first year of this garden.
func (in *Input) FirstYearChecks(c *Calendar) []Check {
	var out []Check
	for i := range in.Plantings {
		p := &in.Plantings[i]
		if p.Entry == nil || in.growingYear(p, c.First) > 1 {
			continue
		}
		if t := p.Entry.Type; t == "tree" || t == "climber" {
			out = append(out, Check{p, t == "climber", checkMonths(in.Garden.Place.Hemisphere(), in.Words)})
		}
	}
	return out
}
