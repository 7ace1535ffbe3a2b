package entries

import (
	"fmt"
	"slices"
	"strings"

	"sheaf/generator/fields"
	"sheaf/generator/measure"
	"sheaf/generator/names"
	"sheaf/generator/prose"
	"sheaf/generator/site"
	"sheaf/generator/source"
)

// Law of a place as data: closed seasons stand in the region's file, plants that
// are regulated in regions/regulated.yaml and pests in regions/pests.yaml, both of
// which a library of one's own may have too.

// A Part of a country that has laws of its own, such as a state.
type Part struct{ Code, Name string }

// Part finds a part by its code or name, with or without the country before it:
// "VIC", "AU-VIC", "Victoria".
func (r *Region) Part(called string) *Part {
	for i := range r.Parts {
		p := &r.Parts[i]
		for _, name := range []string{p.Code, r.Code + "-" + p.Code, p.Name} {
			if strings.EqualFold(called, name) {
				return p
			}
		}
	}
	return nil
}

// parts reads the parts of a country, code: name.
func parts(m *fields.Map) []Part {
	var out []Part
	for _, p := range m.Map("parts").Pairs() {
		out = append(out, Part{p.Key.Value, prose.Sentence(p.Value.Value)})
	}
	return out
}

// HardCuts stands among the jobs of a closed season for every cut that [Hard]
// calls so, whatever its job.
const HardCuts = "hard cuts"

// A Closed is a time of every year in which a law forbids some work on some
// plants.
type Closed struct {
	Span     source.Span
	Law      string
	In       []string // parts of the country; nil: all of it
	Jobs     []string // names or families of jobs, or [HardCuts]
	Objects  []string // types of plants
	Genera   []string // genera, whatever their type
	From, To site.MonthDay
	// Exempt says why gardens are not meant. Such a season moves nothing; it is
	// printed, so that nobody has to wonder.
	Exempt       string
	Note         string // what is still allowed, and how sure it is
	Source, Seen string // where it was read, and how much of it was
	Checked      site.Day
}

func closedSeasons(m *fields.Map, known []Part) []Closed {
	var out []Closed
	for _, c := range fewMaps(m, "closed") {
		s := Closed{Span: c.Span(), Law: said(c, "law"), Note: text(c, "note"), Exempt: text(c, "exempt"), Source: said(c, "source"), Seen: said(c, "seen")}
		for _, t := range fewTexts(c, "in") {
			if !slices.ContainsFunc(known, func(p Part) bool { return p.Code == t.Value }) {
				c.Fail(t.Span, "unknown-value", fmt.Sprintf("%q is none of the region's parts", t.Value), `name it under "parts:"`)
			}
			s.In = append(s.In, t.Value)
		}
		s.Jobs = values(fewTexts(c, "jobs"))
		s.Objects, s.Genera = values(c.Choices("objects", Types())), values(fewTexts(c, "genera"))
		if s.Jobs == nil {
			c.Missing("jobs", `name jobs, families of jobs, or "hard cuts"`)
		}
		if s.Objects == nil && s.Genera == nil {
			c.Missing("objects", "name types of plants, or genera")
		}
		s.From, s.To = monthDay(c, "from"), monthDay(c, "to")
		s.Checked = checked(c)
		c.Done()
		out = append(out, s)
	}
	return out
}

func monthDay(m *fields.Map, key string) site.MonthDay {
	t, ok := m.Need(key)
	if !ok {
		return site.MonthDay{}
	}
	d, err := site.ParseMonthDay(t.Value)
	if err != nil {
		m.Fail(t.Span, "date", err.Error())
	}
	return d
}

func checked(m *fields.Map) site.Day {
	t, ok := m.Need("checked")
	if !ok {
		return 0
	}
	d, err := site.ParseDay(t.Value)
	if err != nil {
		m.Fail(t.Span, "date", err.Error())
	}
	return d
}

// On tells whether a plant is of those that a closed season is about.
func (c *Closed) On(e *Entry) bool {
	return slices.Contains(c.Objects, e.Type) || slices.ContainsFunc(c.Genera, func(g string) bool { return strings.EqualFold(g, e.Name.Value.Genus) })
}

// Means tells whether a closed season forbids a rule of a plant. Whether gardens
// are exempt, and where the garden is, is not asked.
func (c *Closed) Means(e *Entry, r *Rule, j *Job) bool {
	return c.On(e) && slices.ContainsFunc(c.Jobs, func(job string) bool {
		return job == j.Name.Value || job == j.Family && !Lightly(j.Name.Value) || job == HardCuts && Hard(e, r, j)
	})
}

// Lightly tells jobs of the family cut that take flowers, tips or root shoots: no
// law on hedges and trees means them (inference from the purpose of those laws),
// and nothing falls that a nest could sit in.
func Lightly(job string) bool { return job == "deadhead" || job == "pinch" || job == "remove suckers" }

// leastLeft is the part of a plant's height that a gentle cut leaves at least.
const leastLeft = 0.5

// Hard tells whether a rule cuts a plant to the ground or to a stub, as against a
// gentle cut that shapes it or takes the growth of a year. Jobs and rules whose
// page or entry says so are hard; so is every cut that leaves less than half of
// the plant's height, read at its worst. Where that half comes from: the
// German law allows "gentle" cuts of shape and care (Bundesnaturschutzgesetz
// section 39 (5)) and gives no figure, so this is an inference on the cautious
// side. It takes in the yearly cut to a low framework, which some hold to be care.
// Thinning, which leaves most stems whole, and a rose shortened by half are gentle.
func Hard(e *Entry, r *Rule, j *Job) bool {
	if j.Family != "cut" {
		return false
	}
	l := r.Leave.Value
	if l.Length.IsZero() && l.Fraction == 0 {
		// "15 cm, and more where the buds sit higher" is a length as well.
		first, _, _ := strings.Cut(l.Words, ",")
		l.Length, _ = measure.ParseLength(first)
	}
	return j.Hard || r.Hard || !l.Length.IsZero() && l.Length.Low < leastLeft*e.Height.High || l.Fraction > 0 && l.Fraction < leastLeft
}

// A Regulation is a law, or a list without the force of one, with the plants that
// stand in it.
type Regulation struct {
	Span         source.Span
	Law          string
	Where        string // "DE", "AU-VIC", or a union such as "EU"
	Kind         Kind
	Status       string // in plain words
	Year         int
	From         site.Day // a ban's first day, when it is to come; 0: in force
	Source, Seen string
	Plants       []source.At[names.Name]
	Except       []string // cultivars it leaves out
	// SomeCultivars says that it leaves out, or means, cultivars that are not listed
	// here: whoever plants one must ask.
	SomeCultivars bool
}

// Kind is what a regulation asks for.
type Kind string

const (
	Banned    Kind = "banned"    // may not be sold, planted, moved or kept
	Limited   Kind = "limited"   // may be, on a condition that the status names
	Advised   Kind = "advised"   // advised against, without the force of law
	Unchecked Kind = "unchecked" // said to be on a list that was not read
)

func regulationKinds() []string {
	return []string{string(Banned), string(Limited), string(Advised), string(Unchecked)}
}

// ParseRegulated reads regions/regulated.yaml.
func ParseRegulated(f *source.File) ([]*Regulation, source.Diagnostics) {
	m := fields.Whole(f, "region")
	var out []*Regulation
	for _, c := range m.Maps("regulated") {
		r := &Regulation{Span: c.Span(), Law: said(c, "law"), Where: said(c, "where"), Status: said(c, "status"),
			Source: said(c, "source"), Seen: said(c, "seen"), SomeCultivars: c.Flag("some-cultivars")}
		r.Kind = Kind(need(c, "kind", regulationKinds()))
		if n, ok := c.Number("year"); ok {
			r.Year = int(n.Value)
		}
		if t, ok := c.Text("from"); ok {
			d, err := site.ParseDay(t.Value)
			if err != nil {
				c.Fail(t.Span, "date", err.Error(), "write it as 2027-01-01")
			}
			r.From = d
		}
		for _, t := range c.Texts("plants") {
			n, _, err := names.Parse(t.Value)
			if err != nil {
				c.Fail(t.Span, "name", fmt.Sprintf("%q cannot be read as a plant name", t.Value))
				continue
			}
			r.Plants = append(r.Plants, source.At[names.Name]{Value: n, Span: t.Span})
		}
		if r.Plants == nil {
			c.Missing("plants", "name the plants it is about")
		}
		r.Except = values(fewTexts(c, "except"))
		c.Done()
		out = append(out, r)
	}
	m.Done()
	return out, m.Diagnostics()
}

// Naming gives the regulations that name a plant of one of some genera: most
// plants are in none, and a guide may have many thousands.
func (l *Library) Naming(called []names.Name) []*Regulation {
	var found []int
	for _, n := range called {
		for _, i := range l.regulated[strings.ToLower(n.Genus)] {
			if !slices.Contains(found, i) {
				found = append(found, i)
			}
		}
	}
	slices.Sort(found)
	var out []*Regulation
	for _, i := range found {
		out = append(out, l.Regulated[i])
	}
	return out
}

// byGenus indexes regulations.
func byGenus(all []*Regulation) map[string][]int {
	out := map[string][]int{}
	for i, r := range all {
		for _, p := range r.Plants {
			genus := strings.ToLower(p.Value.Genus)
			if of := out[genus]; len(of) == 0 || of[len(of)-1] != i {
				out[genus] = append(of, i)
			}
		}
	}
	return out
}

// Names tells whether a regulation is about a plant: a species with all that is
// below it and its cultivars, a subspecies or a cultivar alone, or a whole genus.
func (r *Regulation) Names(n names.Name) bool {
	if n.IsZero() || slices.ContainsFunc(r.Except, func(c string) bool { return strings.EqualFold(c, n.Cultivar) || strings.EqualFold(c, n.Trade) }) {
		return false
	}
	return slices.ContainsFunc(r.Plants, func(p source.At[names.Name]) bool {
		q := p.Value
		switch {
		case q.Cultivar+q.Trade != "":
			return slices.Contains(n.Keys(), q.Key())
		case q.Species == "":
			return strings.EqualFold(q.Genus, n.Genus)
		case q.Infra != "":
			return q.SpeciesKey() == n.SpeciesKey()
		}
		return q.BinomialKey() == n.BinomialKey()
	})
}

// A Pest is an animal or a disease of plants that is not everywhere.
type Pest struct {
	Name         string
	Words        []string // by which texts name it, in lower case
	In           []string // codes of countries in which it is known
	Source, Seen string
}

// ParsePests reads regions/pests.yaml.
func ParsePests(f *source.File) ([]*Pest, source.Diagnostics) {
	m := fields.Whole(f, "region")
	var out []*Pest
	for _, c := range m.Maps("pests") {
		p := &Pest{Name: said(c, "pest"), Source: said(c, "source"), Seen: said(c, "seen"), In: values(c.Texts("in"))}
		for _, w := range append([]string{p.Name}, values(fewTexts(c, "words"))...) {
			if w = strings.ToLower(strings.TrimSpace(w)); w != "" {
				p.Words = append(p.Words, w)
			}
		}
		c.Done()
		out = append(out, p)
	}
	m.Done()
	return out, m.Diagnostics()
}

// said is a text that must be there.
func said(m *fields.Map, key string) string {
	t, _ := m.Need(key)
	return prose.Sentence(t.Value)
}
