package care

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/measure"
	"sheaf/generator/site"
	"sheaf/generator/words"
)

// A Report is for the designer's eyes: what is uncovered, unsuitable or risky.
// It is printed by check, written to booklet.json, and in no edition.
type Report struct {
	Uncovered    []string `json:"uncovered"`    // rows without care
	Species      []string `json:"species"`      // rows on their species' entry, or that of which they are a cultivar
	Genus        []string `json:"genus"`        // rows on the entry of their genus or its hybrids
	Cautious     []string `json:"cautious"`     // rows that are given only what harms none of their genus, as nobody says more
	Unsuitable   []string `json:"unsuitable"`   // plants in a place they do not like
	Unrated      []string `json:"unrated"`      // plants of which nobody says what winter they stand
	Crowding     []Crowd  `json:"crowding"`     // beds by how full they will be
	Hazards      []string `json:"hazards"`      // plants that can harm
	Nests        []string `json:"nests"`        // tasks in the nesting season
	Professional []string `json:"professional"` // tasks for a qualified person
	LeftOut      []string `json:"leftOut"`      // rules that the place's climate leaves out
	Peak         string   `json:"peak"`         // the busiest month of the first twelve
	Skill        string   `json:"skill"`        // whose minutes are reckoned
	Year         string   `json:"year"`         // all the work of twelve months
	Beds         []Load   `json:"beds"`         // work by bed
	Mulch        []Need   `json:"mulch"`        // litres by bed, at the garden's depth
	Waste        Litres   `json:"waste"`        // loose cuttings of twelve months, when grown
	Water        Litres   `json:"water"`        // one watering of all that is new
	Regulated    []string `json:"regulated"`    // plants that laws or lists of the place name
	Closed       []string `json:"closed"`       // closed seasons of the place, and for which gardens are exempt
}

// A Crowd is how much of a bed its plants will cover when grown: 1 is covered
// once over.
type Crowd struct {
	Bed   string  `json:"bed"`
	Ratio float64 `json:"ratio"`
}

// potColder is how much colder a pot is than the ground: two USDA zones of
// 10 °F (a popular rule, no trial found; Royal Horticultural Society hardiness
// ratings warn likewise for H4 to H6).
const potColder = 2 * 10 / 1.8

// Survey makes the report.
func Survey(in Input, c *Calendar) Report {
	r := Report{Uncovered: []string{}, Species: []string{}, Genus: []string{}, Cautious: []string{}, Unsuitable: []string{}, Unrated: []string{}, Crowding: []Crowd{}, Hazards: []string{}, Nests: []string{}, Professional: []string{}}
	for i := range in.Plantings {
		p := &in.Plantings[i]
		if p.Entry == nil {
			line := rowOf(p) + p.Row.Plant
			if p.Mended != nil {
				line += ", whose entry is left out"
			}
			r.Uncovered = append(r.Uncovered, line)
			continue
		}
		by := fmt.Sprintf("%s%s, by %s", rowOf(p), p.Label(), p.Entry.Name.Value)
		switch p.How {
		case garden.Species, garden.Cultivar:
			r.Species = append(r.Species, by)
		case garden.Genus, garden.Hybrids:
			r.Genus = append(r.Genus, by)
		case garden.Cautious:
			r.Cautious = append(r.Cautious, by)
		}
		for _, why := range in.unsuitable(p) {
			r.Unsuitable = append(r.Unsuitable, fmt.Sprintf("%s%s: %s", rowOf(p), p.Label(), why))
		}
		if _, known := in.hardiness(p.Entry); !known && !p.Entry.Lifted {
			r.Unrated = append(r.Unrated, rowOf(p)+p.Label())
		}
		if len(p.Entry.Hazards) > 0 {
			var words []string
			for _, h := range p.Entry.Hazards {
				words = append(words, h.Value)
			}
			r.Hazards = append(r.Hazards, fmt.Sprintf("%s%s: %s", rowOf(p), p.Label(), strings.Join(words, ", ")))
		}
	}
	for _, b := range in.Garden.Beds {
		if b.Area > 0 && !in.potted(&b) {
			r.Crowding = append(r.Crowding, Crowd{b.Name, in.crowd(&b)})
		}
	}
	r.Regulated, r.Closed = []string{}, []string{}
	for i := range in.Plantings {
		p := &in.Plantings[i]
		for _, h := range in.Regulated(p) {
			line := fmt.Sprintf("%s%s: %s: %s", rowOf(p), p.Label(), h.Kind, h.Line())
			if h.Kind == entries.Banned && in.Acknowledged(p) {
				line += ", acknowledged"
			}
			r.Regulated = append(r.Regulated, line)
		}
	}
	for _, s := range in.Seasons() {
		line := fmt.Sprintf("%s to %s: %s", s.From, s.To, s.Law)
		if s.Exempt != "" {
			line += ". Gardens are exempt: " + s.Exempt
		}
		r.Closed = append(r.Closed, fmt.Sprintf("%s Source: %s; %s", strings.TrimSuffix(line, ".")+".", s.Source, s.Seen))
	}
	for i := range c.Tasks {
		t := &c.Tasks[i]
		line := fmt.Sprintf("%s, %s: %s to %s", t.Job.For(in.English, t.Planting.Label()), bedName(t.Planting), t.From, t.To)
		if in.InNestSeason(t) {
			r.Nests = append(r.Nests, line)
		}
		if Professional(t) {
			r.Professional = append(r.Professional, line)
		}
	}
	r.LeftOut = in.leftOut()
	r.Skill, r.Year = string(in.Garden.Skill), c.Year().Say(in.English)
	r.Beds, r.Mulch, r.Waste = append([]Load{}, in.Loads(c)...), append([]Need{}, in.Mulch()...), in.Waste(c)
	for _, d := range in.Waterings(c) {
		r.Water = r.Water.plus(d.All)
	}
	if peak := c.Peak(); peak >= 0 {
		y, m, _ := c.Months[peak].First.Civil()
		r.Peak = fmt.Sprintf("%s %d, %s", m, y, c.Months[peak].Minutes.Say(in.English))
	}
	return r
}

func bedName(p *garden.Planting) string {
	if p.Bed == nil {
		return "no bed"
	}
	return p.Bed.Name
}

// unsuitable lists what a planting's place has that its plant does not like.
func (in *Input) unsuitable(p *garden.Planting) []string {
	e, b := p.Entry, p.Bed
	var out []string
	if b != nil {
		if b.Light != "" && e.Light != nil && !slices.Contains(e.Light, b.Light) {
			out = append(out, fmt.Sprintf("the bed has %s, the plant likes %s", b.Light, strings.Join(e.Light, " or ")))
		}
		if b.Soil != "" && e.Soil != nil && !p.Row.Pot && !slices.Contains(e.Soil, b.Soil) {
			out = append(out, fmt.Sprintf("the soil is %s, the plant likes it %s", b.Soil, strings.Join(e.Soil, " or ")))
		}
		if b.Fertility == "rich" && e.Fertility == "lean" || b.Fertility == "lean" && e.Fertility == "rich" {
			out = append(out, fmt.Sprintf("the soil is %s, the plant likes it %s", b.Fertility, e.Fertility))
		}
	}
	if cold, ok := in.TooCold(p, in.English); ok {
		out = append(out, cold)
	}
	return out
}

// TooCold tells, in some words, when a planting will meet nights colder than its
// plant stands. What winters indoors meets none.
func (in *Input) TooCold(p *garden.Planting, w *words.Words) (string, bool) {
	h, known := in.hardiness(p.Entry)
	if in.Garden.ColdestNight == nil || !known || p.Entry.Lifted {
		return "", false
	}
	night := float64(*in.Garden.ColdestNight)
	key := "care.too cold"
	if p.Row.Pot {
		night -= potColder
		key = "care.too cold in a pot"
	}
	if night >= h.Low {
		return "", false
	}
	u := in.Garden.Units
	lowest, stands := measure.Celsius(night).Say(u, w), measure.Celsius(h.Low).Say(u, w)
	if lowest == stands {
		return "", false // zone 5 ends at −28.9 °C: nobody's −29 is colder than that
	}
	switch h.Scale {
	case site.USDA:
		stands = w.Say("care.rated", "stands", stands, "written", w.Say("care.zone", "zone", h.Zone()))
	case site.RHS:
		stands = w.Say("care.rated", "stands", stands, "written", h.Written)
	}
	return w.Say(key, "night", lowest, "stands", stands), true
}

// hardiness is what is known of a plant on the scale that speaks of the garden's
// winters: the RHS's where the region says so, the American zones elsewhere, and
// a plain temperature anywhere. No figure is made of one on another scale: of 25
// plants that Philadelphia grows, zones made of RHS ratings called 19 too tender.
func (in *Input) hardiness(e *entries.Entry) (site.Hardiness, bool) {
	scale := site.USDA
	if in.Region != nil {
		scale = in.Region.Hardiness
	}
	figures := []site.Hardiness{e.Zone.Value, e.Hardy.Value}
	for _, fits := range []site.Scale{scale, site.Degrees} {
		for _, h := range figures {
			if h.Written != "" && h.Scale == fits {
				return h, true
			}
		}
	}
	return site.Hardiness{}, false
}

// rowOf names the row of the list that a planting is from; a guide's are from
// none.
func rowOf(p *garden.Planting) string {
	if p.Typical {
		return ""
	}
	return fmt.Sprintf("row %d: ", p.Row.Line)
}

// potted tells a bed whose plants all stand in pots: it has no soil to cover, be
// it with leaves or with mulch.
func (in *Input) potted(b *garden.Bed) bool {
	pots := 0
	for i := range in.Plantings {
		if p := &in.Plantings[i]; p.Bed != nil && p.Bed.Name == b.Name {
			if !p.Row.Pot {
				return false
			}
			pots++
		}
	}
	return pots > 0
}

// crowd is the area of all mature circles over the area of the bed.
func (in *Input) crowd(b *garden.Bed) float64 {
	sum := 0.0
	for i := range in.Plantings {
		p := &in.Plantings[i]
		if p.Entry != nil && !p.Row.Pot && p.Bed != nil && p.Bed.Name == b.Name {
			spread := (p.Entry.Spread.Low + p.Entry.Spread.High) / 2 / 100
			sum += p.Row.Quantity * math.Pi / 4 * spread * spread
		}
	}
	return math.Round(sum/float64(b.Area)*100) / 100
}

// reach is the height in centimetres above which a cut cannot be made from
// the ground: a person's reach of about 2 m and a little of tool. An estimate.
const reach = 300

// Professional tells a task that belongs to a qualified person: cutting what
// stands higher than can be reached from the ground.
func Professional(t *Task) bool {
	e := t.Planting.Entry
	if l := t.Rule.Leave.Value.Length; !l.IsZero() && l.High < reach {
		return false // cut low down, however high it grows
	}
	return t.Job.Family == "cut" && e.Tallest() > reach && (e.Type == "tree" || e.Type == "hedge" || e.Type == "climber") && !entries.Lightly(t.Job.Name.Value)
}

// CueDays are the days of the booklet's cues: of each cue the one that falls
// within the calendar's first twelve months; nil where the place has none.
func CueDays(c *Calendar, climate *site.Climate) map[string]*site.Day {
	out := map[string]*site.Day{}
	end := c.Months[min(len(c.Months), 12)-1].Last
	for _, cue := range site.Cues() {
		out[cue.String()] = nil
		for year := c.First.Year() - 1; year <= end.Year()+1; year++ {
			if d, ok := climate.Cue(cue, year); ok && d >= c.First && d <= end {
				out[cue.String()] = &d
				break
			}
		}
	}
	return out
}

// ToolsOf gives a rule's tools, or its job's when it names none.
func ToolsOf(r entries.Rule, j *entries.Job) []string {
	if r.Tools != nil {
		return r.Tools
	}
	return j.Tools
}
