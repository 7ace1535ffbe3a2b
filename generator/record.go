package generator

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"maps"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"sheaf/generator/care"
	"sheaf/generator/garden"
	"sheaf/generator/measure"
	"sheaf/generator/site"
	"sheaf/generator/source"
)

// The form of booklet.json (DESIGN 8). Fields are only ever added.

type document struct {
	Format      int                `json:"format"`
	Garden      recordGarden       `json:"garden"`
	Site        recordSite         `json:"site"`
	Plants      []recordPlant      `json:"plants"`
	Tasks       []recordTask       `json:"tasks"`
	Months      []recordMonth      `json:"months"`
	Days        []recordDay        `json:"days"`      // a guide has none
	LeastDays   int                `json:"leastDays"` // no schedule has fewer
	Report      care.Report        `json:"report"`
	Diagnostics source.Diagnostics `json:"diagnostics"`
}

type recordGarden struct {
	Name  string `json:"name"`
	Kind  string `json:"kind"`
	Date  string `json:"date"`
	Units string `json:"units"`
	Paper string `json:"paper"`
}

type recordSite struct {
	Hemisphere string             `json:"hemisphere"`
	Basis      string             `json:"basis"`
	Cues       map[string]*string `json:"cues"`
}

type recordPlant struct {
	ID        string      `json:"id"`
	Botanical string      `json:"botanical"`
	Common    []string    `json:"common"`
	Entry     string      `json:"entry"`
	Bed       string      `json:"bed"`
	Quantity  float64     `json:"quantity"`
	Row       int         `json:"row"`
	Match     string      `json:"match"`
	Laws      []recordLaw `json:"laws"` // what laws and lists of the place say of it
}

type recordLaw struct {
	Where  string `json:"where"`
	Law    string `json:"law"`
	Kind   string `json:"kind"`
	Status string `json:"status"`
	Year   int    `json:"year"`
	From   string `json:"from,omitempty"` // of a ban that is to come
	Source string `json:"source"`
	Seen   string `json:"seen"`
	Known  bool   `json:"acknowledged"`
}

type recordMinutes struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

type recordTask struct {
	Plant    string        `json:"plant"`
	Bed      string        `json:"bed"`
	Job      string        `json:"job"`
	From     string        `json:"from"`
	To       string        `json:"to"`
	Leave    string        `json:"leave"`
	Minutes  recordMinutes `json:"minutes"`
	Cautions []string      `json:"cautions"`
	Notes    []string      `json:"notes"`
	Law      string        `json:"law,omitempty"` // that closes its work for a part of the year
	Source   string        `json:"source"`
	Year     int           `json:"growingYear"`     // since planting, from 1
	Apart    bool          `json:"apart,omitempty"` // it hangs on the weather and is on no day
	Why      string        `json:"why"`
}

type recordMonth struct {
	Month   string        `json:"month"`
	Minutes recordMinutes `json:"minutes"`
	Tasks   []int         `json:"tasks"`
}

// A recordDay is a garden day. Tasks are by their places in tasks, days by theirs
// in days.
type recordDay struct {
	From    string        `json:"from"`
	To      string        `json:"to"`
	Minutes recordMinutes `json:"minutes"`
	Tasks   []int         `json:"tasks"`
	Parts   []recordPart  `json:"parts,omitempty"` // of tasks that take longer than a day
	Tools   []string      `json:"tools"`
	Beds    []string      `json:"beds"`
	After   []int         `json:"after,omitempty"`   // days to be done first, whose windows meet this one's
	Nearest bool          `json:"nearest,omitempty"` // it is on none of the garden's weekdays
}

type recordPart struct {
	Task int `json:"task"`
	Part int `json:"part"` // from 1
	Of   int `json:"of"`
}

// recordDays are the garden days of a calendar.
func recordDays(c *care.Calendar) []recordDay {
	out := []recordDay{}
	for i := range c.Days {
		d := &c.Days[i]
		r := recordDay{From: d.From.String(), To: d.To.String(), Minutes: recordMinutes{d.Minutes.Low, d.Minutes.High}, Tools: []string{}, Beds: []string{}, After: d.After, Nearest: d.Nearest}
		for _, p := range d.Parts {
			t := &c.Tasks[p.Task]
			r.Tasks = append(r.Tasks, p.Task)
			if p.Of > 1 {
				r.Parts = append(r.Parts, recordPart{p.Task, p.N, p.Of})
			}
			for _, tool := range care.ToolsOf(t.Rule, t.Job) {
				if !slices.Contains(r.Tools, tool) {
					r.Tools = append(r.Tools, tool)
				}
			}
			if b := t.Planting.Bed; b != nil && !slices.Contains(r.Beds, b.Name) {
				r.Beds = append(r.Beds, b.Name)
			}
		}
		slices.Sort(r.Tools)
		slices.Sort(r.Beds)
		out = append(out, r)
	}
	return out
}

// record writes booklet.json: everything computed, for other programs and for
// tests.
func record(p *Plan, ds source.Diagnostics) ([]byte, error) {
	r := document{
		Format: 1,
		Garden: recordGarden{Name: p.Garden.Name, Kind: p.Garden.Kind, Units: "metric", Paper: p.Garden.Paper},
		Site:   recordSite{Hemisphere: p.Garden.Place.Hemisphere().String(), Basis: p.Garden.Place.Basis().String(), Cues: map[string]*string{}},
		Plants: []recordPlant{}, Tasks: []recordTask{}, Report: p.Report, Diagnostics: source.Diagnostics{},
	}
	within := within(p.Garden)
	for _, d := range ds {
		if d.Span.File != nil {
			f := *d.Span.File
			f.Path = within(f.Path)
			d.Span.File = &f
		}
		r.Diagnostics = append(r.Diagnostics, d)
	}
	r.Diagnostics = r.Diagnostics.Sorted()
	if p.Garden.Units == measure.US {
		r.Garden.Units = "us"
	}
	if p.Garden.Date != 0 {
		r.Garden.Date = p.Garden.Date.String()
	}
	for name, day := range care.CueDays(p.Calendar, p.Climate) {
		r.Site.Cues[name] = iso(day)
	}
	ids := map[*garden.Planting]string{}
	used := map[string]int{}
	for i := range p.Plantings {
		q := &p.Plantings[i]
		rp := recordPlant{Botanical: q.Label(), Common: []string{}, Quantity: q.Row.Quantity, Row: q.Row.Line, Match: string(q.How), ID: "row"}
		if q.Entry != nil {
			rp.Botanical, rp.Entry = q.Called().String(), within(q.Entry.File.Path)
			rp.Common = append(rp.Common, q.Entry.Common...)
			rp.ID = q.Called().Slug()
		}
		if q.Bed != nil {
			rp.Bed = q.Bed.Name
		}
		// One plant in several beds is several plantings, told apart by number.
		if used[rp.ID]++; used[rp.ID] > 1 {
			rp.ID = fmt.Sprintf("%s-%d", rp.ID, used[rp.ID])
		}
		rp.Laws = []recordLaw{}
		for _, h := range p.Regulated(q) {
			l := recordLaw{Where: h.Where, Law: h.Law, Kind: string(h.Kind), Status: h.Status, Year: h.Year, Source: h.Source, Seen: h.Seen, Known: p.Acknowledged(q)}
			if h.From != 0 {
				l.From = h.From.String()
			}
			rp.Laws = append(rp.Laws, l)
		}
		ids[q] = rp.ID
		r.Plants = append(r.Plants, rp)
	}
	for i := range p.Calendar.Tasks {
		t := &p.Calendar.Tasks[i]
		at := t.Rule.Span
		if t.Rule.Moved.File != nil {
			at = t.Rule.Moved
		}
		rt := recordTask{
			Plant: ids[t.Planting], Job: t.Job.Name.Value, From: t.From.String(), To: t.To.String(), Leave: t.Rule.Leave.Value.Print(p.Garden.Units),
			Minutes:  recordMinutes{t.Minutes.Low, t.Minutes.High},
			Cautions: append([]string{}, t.Cautions...), Notes: []string{},
			Source: fmt.Sprintf("%s:%d", within(at.File.Path), at.Pos().Line), Why: t.Why, Year: t.Year,
		}
		for _, n := range t.Notes {
			rt.Notes = append(rt.Notes, n.String())
		}
		if t.Law != nil {
			rt.Law = t.Law.Law
		}
		if t.Planting.Bed != nil {
			rt.Bed = t.Planting.Bed.Name
		}
		r.Tasks = append(r.Tasks, rt)
	}
	for _, i := range p.Calendar.Apart {
		r.Tasks[i].Apart = true
	}
	r.Days, r.LeastDays = recordDays(p.Calendar), p.Calendar.LeastDays
	for _, m := range p.Calendar.Months {
		y, month, _ := m.First.Civil()
		r.Months = append(r.Months, recordMonth{
			Month: fmt.Sprintf("%04d-%02d", y, month), Minutes: recordMinutes{m.Minutes.Low, m.Minutes.High}, Tasks: append([]int{}, m.Tasks...)})
	}
	var buf bytes.Buffer
	enc := json.NewEncoder(&buf)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	if err := enc.Encode(r); err != nil {
		return nil, fmt.Errorf("booklet.json: %w", err)
	}
	return buf.Bytes(), nil
}

// within gives what tells the path of a file as booklet.json does: a library or
// theme that the garden names by its whole path is called by its folder alone,
// with a number if there is another of that name. Where it lies on this machine is
// nobody's business, and would make other bytes of the same garden on another.
func within(g *garden.Garden) func(file string) string {
	called := map[string]string{} // by the paths that files begin with
	used := map[string]bool{}
	for _, w := range append(slices.Clone(g.Libraries), g.Theme) {
		name := path.Clean(w.Value)
		if !filepath.IsAbs(filepath.FromSlash(name)) {
			used[name] = true
		} else if called[name] == "" {
			base := cmp.Or(strings.Trim(filepath.Base(filepath.FromSlash(name)), `/\`), "library")
			call := base
			for n := 2; used[call]; n++ {
				call = fmt.Sprintf("%s-%d", base, n)
			}
			called[name], used[call] = call, true
		}
	}
	// One may lie in another.
	longest := slices.SortedFunc(maps.Keys(called), func(a, b string) int { return cmp.Compare(len(b), len(a)) })
	return func(file string) string {
		for _, name := range longest {
			if rest, ok := strings.CutPrefix(file, strings.TrimSuffix(name, "/")+"/"); ok {
				return path.Join(called[name], rest)
			}
		}
		return file
	}
}

func iso(d *site.Day) *string {
	if d == nil {
		return nil
	}
	s := d.String()
	return &s
}
