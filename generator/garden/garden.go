// Package garden reads one garden: its site, beds and plant list, and matches
// every planting with an entry of the library. The garden file and the list
// keep the place of each value; rows of the list keep their own line.
package garden

import (
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"sheaf/generator/entries"
	"sheaf/generator/fields"
	"sheaf/generator/measure"
	"sheaf/generator/prose"
	"sheaf/generator/site"
	"sheaf/generator/source"
)

// A Garden is what garden.yaml says.
type Garden struct {
	File          *source.File
	Name          string
	Kind          string // Handover or Guide
	For, By       string
	Date          site.Day // of handover, of a guide its issue; 0 when not given
	Edition       string   // of a guide: "Second edition"
	Include       *Include // of a guide: what is chosen; nil for all
	Permissions   []string // of a guide: whose leave to print it has
	Skill         Skill
	Mulch         measure.Length // depth of mulch, centimetres
	Years         int
	Country       string
	Part          source.At[string]   // of the country, with laws of its own; "" when not given
	Acknowledged  []source.At[string] // regulated plants that are there and are known to be
	Place         site.Site
	Elevation     measure.Length // zero when not given
	ClimateSource string
	ColdestNight  *measure.Celsius
	Units         measure.Units
	UnitsGiven    bool
	Language      source.At[string] // of the booklet, in BCP 47; "" when not given
	Paper         string            // "" when not given: the region's
	PaperWeight   float64           // g/m², for the folded edition
	Calendar      string            // ByTask or ByMonth
	Work          string            // ByDay or ByMonth: how the booklet lists it
	Day           float64           // the longest garden day, in minutes
	Weekdays      []time.Weekday    // on which the garden is worked; none: any
	ClearType     bool              // the booklet is set in 12 pt
	Alarm         int               // days before an event; 0: none
	Libraries     []source.At[string]
	Beds          []Bed
	List          source.At[string] // file name of the plant list
	Sheet         source.At[string] // of the list, when it is a workbook; "" when not given
	Columns       []fields.Pair
	Rows          []Row // plants: written in garden.yaml itself
	Pages         []source.At[string]
	Photos        []Photo
	Adjust        []Adjust          // what this garden changes of its plants' care
	Theme         source.At[string] // a shipped theme or a folder; "" when not given
	Contacts      []Contact
	Online        string
	Span          source.Span
}

// Kinds of booklet.
const (
	Handover = "handover" // one garden's plants, for its owners
	Guide    = "guide"    // many plants of a place, for a club's members
)

// Skill is whose time is reckoned with.
type Skill string

const (
	Gardener Skill = "gardener" // practised
	Owner    Skill = "owner"    // new to it
)

// defaultMulch is the usual depth in centimetres (Royal Horticultural Society,
// Hyde Hall mulch notes: 5 cm at least, 7.5 cm usual; here the cautious one).
const defaultMulch = 5

// How work is told: an event a task, a day's work at a time, or a month's.
const (
	ByDay   = "days"
	ByTask  = "tasks"
	ByMonth = "months"
)

// officePaper is the weight of plain printing paper in g/m².
const officePaper = 80

// A Bed is a place in the garden.
type Bed struct {
	Span                             source.Span
	Name                             string
	Light, Soil, Fertility, Exposure string
	Style                            string // of planting, for published care times; "" when not given
	Area                             measure.Area
}

// Styles of planting for which care times have been published.
func Styles() []string {
	return []string{"under trees", "woodland edge", "meadow", "steppe", "grouped", "display"}
}

// A Photo is a photograph of one of the garden's plants.
type Photo struct {
	Plant source.At[string]
	*entries.Photo
}

// A Contact is a line on the back cover.
type Contact struct{ Name, Text string }

// A Row is one line of the plant list, as read.
type Row struct {
	Span     source.Span // the plant's name, or the line
	Line     int
	Plant    string
	Quantity float64
	Bed      source.At[string]
	Planted  site.Day // 0 when not given: the handover
	Pot      bool
	Size     string            // as bought; never printed
	Notes    string            // never printed: only whether they speak of a pot is looked at
	Care     source.At[string] // a care group the list names itself
	Flowers  source.At[string] // when it flowers, read only for a plant with such a group
	Girth    string            // of a tree's stem, as bought; never printed
	Mark     string            // what stands for the plant on the plan; never printed
}

// Parse reads garden.yaml. The plant list, when it is a file of its own, is
// read by [ReadList].
func Parse(f *source.File) (*Garden, source.Diagnostics) {
	m := fields.Whole(f, "garden")
	g := &Garden{File: f, Span: m.Span()}
	g.Name = need(m, "garden")
	named(m, "garden")
	g.Kind = Handover
	if t, ok := m.Choice("kind", kinds()); ok {
		g.Kind = t.Value
	}
	g.For, g.By = text(m, "for"), text(m, "by")
	named(m, "for")
	named(m, "by")
	g.guide(m)
	g.Skill = Gardener
	if t, ok := m.Choice("skill", skills()); ok {
		g.Skill = Skill(t.Value)
	}
	g.Mulch = measure.One(defaultMulch)
	if t, ok := m.Text("mulch"); ok {
		g.Mulch = length(m, t)
		if g.Mulch.Low < 1 || g.Mulch.High > 20 {
			m.Fail(t.Span, "length", fmt.Sprintf("a mulch %s deep is not possible", t.Value), "5 to 7.5 cm is usual")
		}
	}
	g.Years = 1
	if n, ok := m.Number("years"); ok {
		g.Years = int(n.Value)
		if n.Value != float64(g.Years) || g.Years < 1 || g.Years > 10 {
			m.Fail(n.Span, "years", "years is a whole number from 1 to 10")
			g.Years = 1
		}
	}
	if s := m.Map("site"); s != nil {
		g.place(s)
	} else {
		m.Missing("site", "a site needs at least its latitude")
	}
	g.handover(m)
	if t, ok := m.Choice("units", systems()); ok {
		g.UnitsGiven = true
		if t.Value == "us" {
			g.Units = measure.US
		}
	}
	g.Language, _ = m.Text("language")
	if t, ok := m.Choice("paper", papers()); ok {
		g.Paper = t.Value
	}
	g.PaperWeight = officePaper
	if f := m.Map("fold"); f != nil {
		if n, ok := f.Number("gsm"); ok {
			g.PaperWeight = n.Value
			if n.Value < 40 || n.Value > 400 {
				f.Fail(n.Span, "gsm", fmt.Sprintf("paper of %v g/m² cannot be folded into a booklet", n.Value), "80 to 120 is usual")
			}
		}
		f.Done()
	}
	g.Work = ByDay
	if t, ok := m.Choice("work", works()); ok {
		g.Work = t.Value
	}
	g.visits(m)
	if t, ok := m.Choice("type", typeSizes()); ok {
		g.ClearType = t.Value == "clear"
	}
	g.Calendar = ByDay
	if t, ok := m.Choice("calendar", calendars()); ok {
		g.Calendar = t.Value
	}
	if t, ok := m.Text("alarm"); ok {
		n, isDays := strings.CutSuffix(strings.TrimSuffix(t.Value, "s"), " day")
		if days, err := strconv.Atoi(n); isDays && err == nil && days >= 0 && days <= 60 {
			g.Alarm = days
		} else {
			m.Fail(t.Span, "alarm", fmt.Sprintf("%q is no time before an event", t.Value), "write for example alarm: 7 days, at most 60")
		}
	}
	g.Libraries = m.Texts("library")
	for _, b := range m.Maps("beds") {
		g.Beds = append(g.Beds, bed(b, g.Beds))
	}
	g.plants(m)
	g.Sheet, _ = m.Text("sheet")
	if c := m.Map("columns"); c != nil {
		g.Columns = c.Pairs()
		known, words := columnNames(), newLexicon(nil)
		for _, p := range g.Columns {
			if _, ok := words.named(p.Value.Value); !ok {
				c.Fail(p.Value.Span, "columns", fmt.Sprintf("%q is not what a column can hold", p.Value.Value), source.Mean(p.Value.Value, known))
			}
		}
	}
	g.Pages = m.Texts("pages")
	g.Theme, _ = m.Text("theme")
	for _, p := range m.Maps("photos") {
		plant, _ := p.Need("plant")
		g.Photos = append(g.Photos, Photo{plant, entries.ParsePhoto(p)})
		p.Done()
	}
	g.adjusts(m)
	for _, c := range m.Maps("contacts") {
		g.Contacts = append(g.Contacts, Contact{Name: text(c, "name"), Text: text(c, "text")})
		c.Done()
	}
	if t, ok := m.Text("online"); ok {
		g.Online = t.Value
		u, err := url.Parse(t.Value)
		switch {
		case !strings.HasPrefix(t.Value, "https://") && !strings.HasPrefix(t.Value, "http://"):
			m.Fail(t.Span, "online", "the address of the web edition begins with https://")
		case err != nil || u.Host == "" || prose.Clean(t.Value) != t.Value || strings.ContainsAny(t.Value, " <>\"\\^`{|}\u200c\u200d"):
			m.Fail(t.Span, "online", "this is no address of the web", "write for example online: https://example.org/garden, and a space in it as %20")
		}
		// A printed code of more than 200 characters has modules finer than
		// the 0.4 mm that cameras read well.
		if len(t.Value) > 200 {
			m.Fail(t.Span, "online", "an address of more than 200 characters is too long for the code on the back cover")
		}
	}
	g.Acknowledged = m.Texts("acknowledged")
	m.Texts("private") // the designer's own words: read, so that they are no fault, and kept nowhere
	m.Done()
	return g, m.Diagnostics()
}

// longestNamed is how long a name is at most that stands on every page or with
// every task, in bytes.
const longestNamed = 200

// named refuses a name that is too long.
func named(m *fields.Map, key string) {
	if t, ok := m.Text(key); ok && len(t.Value) > longestNamed {
		m.Fail(t.Span, "too-long", fmt.Sprintf("a name of %d letters is too long; %d are the most", len(t.Value), longestNamed))
	}
}

func text(m *fields.Map, key string) string {
	t, _ := m.Text(key)
	return prose.Sentence(t.Value)
}

func need(m *fields.Map, key string) string {
	t, _ := m.Need(key)
	return prose.Sentence(t.Value)
}

// handover reads the day of the handover, as it is written in the garden's country.
func (g *Garden) handover(m *fields.Map) {
	t, ok := m.Text("date")
	if !ok {
		return
	}
	d, hint, err := country(g.Country).handover(t.Value)
	if err != nil {
		m.Fail(t.Span, "date", err.Error(), hint)
	}
	g.Date = d
}

func (g *Garden) place(s *fields.Map) {
	g.Country = text(s, "country")
	g.Part, _ = s.Text("region")
	if n, ok := s.Number("latitude"); ok {
		g.Place.Latitude = n.Value
		if n.Value < -90 || n.Value > 90 {
			s.Fail(n.Span, "latitude", "a latitude lies between -90 and 90", "south of the equator it is negative")
		}
	} else if !s.Has("latitude") {
		s.Fail(s.Span(), "latitude", "the site has no latitude: without it north and south cannot be told apart", "write for example latitude: 54.4")
	}
	if t, ok := s.Text("elevation"); ok {
		g.Elevation = length(s, t)
		if g.Elevation.High > highest {
			s.Fail(t.Span, "length", fmt.Sprintf("no garden lies %s high", t.Value))
		}
	}
	if n := s.Map("normals"); n != nil {
		g.normals(n)
	}
	if fr := s.Map("frost"); fr != nil {
		for key, to := range map[string]**site.MonthDay{"last": &g.Place.LastFrost, "first": &g.Place.FirstFrost} {
			if t, ok := fr.Text(key); ok {
				d, hint, err := country(g.Country).frost(t.Value)
				if err != nil {
					fr.Fail(t.Span, "date", err.Error(), hint)
					continue
				}
				*to = &d
			}
		}
		fr.Done()
	}
	if t, ok := s.Text("coldest-night"); ok {
		c, err := coldestNight(t.Value)
		if err != nil {
			s.Fail(t.Span, "coldest-night", err.Error())
		} else {
			g.ColdestNight = &c
		}
	}
	s.Done()
}

// coldestNight is a temperature, or a hardiness rating or zone whose lower end
// is taken.
func coldestNight(s string) (measure.Celsius, error) {
	if c, err := measure.ParseTemperature(s); err == nil {
		return c, nil
	}
	h, err := site.ParseHardiness(s)
	if err != nil {
		return 0, fmt.Errorf("expected the lowest night of an average winter, such as -7 °C, H4 or Z8b, found %q", s)
	}
	return measure.Celsius(h.Low), nil
}

func length(m *fields.Map, t source.At[string]) measure.Length {
	l, err := measure.ParseLength(t.Value)
	if err != nil {
		m.Fail(t.Span, "length", err.Error())
	}
	return l
}

// normals reads twelve mean minima and maxima.
func (g *Garden) normals(n *fields.Map) {
	fahrenheit := false
	if t, ok := n.Choice("unit", temperatureUnits()); ok {
		fahrenheit = strings.HasSuffix(t.Value, "F")
	}
	var out site.Normals
	good := true
	for _, side := range []struct {
		key string
		to  *[12]float64
	}{{"min", &out.Min}, {"max", &out.Max}} {
		values := n.Numbers(side.key)
		if len(values) != 12 {
			n.Fail(n.Key(side.key), "normals", fmt.Sprintf("normals need twelve monthly figures under %q, January first; there are %d", side.key, len(values)))
			good = false
			continue
		}
		for i, v := range values {
			c := v.Value
			if fahrenheit {
				c = (c - 32) / 1.8
			}
			if c < -60 || c > 55 {
				n.Fail(v.Span, "normals", fmt.Sprintf("%v is no monthly mean temperature", v.Value), "is the unit right? unit: °C or °F")
				good = false
			}
			side.to[i] = c
		}
	}
	for i := range out.Min {
		if good && out.Min[i] > out.Max[i] {
			n.Fail(n.Key("min"), "normals", fmt.Sprintf("in month %d the mean minimum is above the mean maximum", i+1))
			good = false
		}
	}
	g.ClimateSource = text(n, "source")
	n.Done()
	if good {
		g.Place.Normals = &out
	}
}

func bed(b *fields.Map, before []Bed) Bed {
	name, _ := b.Need("bed")
	named(b, "bed")
	out := Bed{Span: name.Span, Name: prose.Clean(name.Value)}
	if slices.ContainsFunc(before, func(o Bed) bool { return strings.EqualFold(o.Name, out.Name) }) {
		b.Fail(name.Span, "bed", fmt.Sprintf("the bed %q is written twice", out.Name))
	}
	for _, k := range []struct {
		key   string
		known []string
		to    *string
	}{
		{"light", entries.Light(), &out.Light}, {"soil", entries.Soil(), &out.Soil},
		{"fertility", entries.Fertility(), &out.Fertility}, {"exposure", entries.Exposure(), &out.Exposure},
		{"style", Styles(), &out.Style},
	} {
		if t, ok := b.Choice(k.key, k.known); ok {
			*k.to = t.Value
		}
	}
	if t, ok := b.Text("area"); ok {
		a, err := measure.ParseArea(t.Value)
		if err != nil {
			b.Fail(t.Span, "area", err.Error())
		} else if a <= 0 || a > largestBed {
			b.Fail(t.Span, "area", fmt.Sprintf("a bed of %s is not possible", t.Value))
		}
		out.Area = a
	}
	b.Done()
	return out
}

// plants is either the name of a file or a list of rows.
func (g *Garden) plants(m *fields.Map) {
	if !m.Has("plants") {
		return
	}
	if ms, isList := m.List("plants"); isList {
		for _, r := range ms {
			row := Row{Span: r.Span(), Line: r.Span().Pos().Line, Quantity: 1}
			if t, ok := r.Need("plant"); ok {
				row.Plant, row.Span = prose.Clean(t.Value), t.Span
			}
			if n, ok := r.Number("quantity"); ok {
				row.Quantity = n.Value
				if n.Value < 0 || n.Value > most {
					r.Fail(n.Span, "quantity", fmt.Sprintf("a quantity of %v is not possible", n.Value))
				}
			}
			row.Bed, _ = r.Text("bed")
			row.Bed.Value = prose.Clean(row.Bed.Value) // as the bed's own name
			if t, ok := r.Text("planted"); ok {
				c := country(g.Country)
				d, hint, err := c.planted(t.Value, c.monthFirst())
				if err != nil {
					r.Fail(t.Span, "date", err.Error(), hint)
				}
				row.Planted = d
			}
			row.Size, row.Notes = text(r, "size"), text(r, "notes")
			row.Pot = r.Flag("pot")
			row.Care, _ = r.Text("care")
			row.Flowers, _ = r.Text("flowers")
			r.Done()
			if row.Plant != "" {
				g.Rows = append(g.Rows, row)
			}
		}
		return
	}
	g.List, _ = m.Text("plants")
}

// Limits beyond which a figure is a slip of the pen.
const (
	most       = 100000 // of one plant
	largestBed = 1e6    // m²; a hundred hectares are no bed
	highest    = 600000 // cm; no settlement lies higher than 5.1 km
)

// FirstYear and LastYear are those of a calendar.
const FirstYear, LastYear = 1900, 2199

// BedNamed finds a bed whatever its capitals.
func (g *Garden) BedNamed(name string) *Bed {
	i := slices.IndexFunc(g.Beds, func(b Bed) bool { return strings.EqualFold(b.Name, name) })
	if i < 0 {
		return nil
	}
	return &g.Beds[i]
}
