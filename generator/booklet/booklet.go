// Package booklet composes the document both editions print: sections of
// blocks, in reading order, with every word, picture and link decided and no
// page, no tag and no millimetre of layout in it. In go the plan of a garden,
// the library and the theme's colours ([Compose]); html renders the result as
// files, layout sets it on pages.
package booklet

import (
	"sheaf/generator/draw"
	"sheaf/generator/figure"
	"sheaf/generator/photo"
	"sheaf/generator/prose"
	"sheaf/generator/site"
	"sheaf/generator/source"
	"sheaf/generator/words"
)

// A Book is a whole booklet.
type Book struct {
	Title    string // the garden
	Subtitle string
	For, By  string
	Date     string       // "20 March 2027", or the year; of a guide after its edition
	Lang     string       // BCP 47
	Words    *words.Words // in which editions say what is theirs
	Guide    bool         // many plants of a place, and not one garden's
	Sections []Section
	// Events are for calendar programs, in order of their days. They are written when
	// they are asked for: only one edition has them.
	Events func() []Event
	Online string // where the web edition stands, "" when nowhere
	// Left are the IDs of sections that the theme leaves out. What would lead to
	// one is words alone.
	Left map[string]bool

	written []*source.File // whose words it says
}

// An Event is work in a span of days.
type Event struct {
	Key      string // tells it from all others of the garden, build after build
	From, To site.Day
	Summary  string   // "Cut back switch grass to 10 cm"
	Lines    []string // what else there is to say, a paragraph each
	Tags     []string // the family of the job, the beds
	Section  string   // ID of the section that says more
}

// Kind is what a section is; editions place and style sections by it.
type Kind string

const (
	Cover    Kind = "cover"
	Contents Kind = "contents"
	Words    Kind = "page" // a page of words, such as how to use the booklet
	Glance   Kind = "glance"
	Bed      Kind = "bed" // on the web only: paper has the glance and the months
	// CareGroup is on the web only: on paper the plants' pages give its reasons.
	CareGroup Kind = "group"
	Year      Kind = "year"
	Day       Kind = "day"   // a garden day
	Month     Kind = "month" // in print only where there are no days
	Watering  Kind = "watering"
	Half      Kind = "part" // a half-title: what a part of the plants holds
	Plant     Kind = "plant"
	JobPage   Kind = "job"
	FirstYear Kind = "first-year"
	Safety    Kind = "safety"
	Glossary  Kind = "glossary"
	Index     Kind = "index"
	Back      Kind = "back"
)

// A Section is one thing to turn to. Links lead to its ID.
type Section struct {
	ID    string
	Kind  Kind
	Title []prose.Run
	Part  string // the running name at the foot of its pages: "The months"
	// Aside is a second line under the title: a common name, the hours.
	Aside  string
	Group  string       // of a plant: the ID of its care group's section, "" for none
	File   *source.File // that its words are of; nil when they are of many
	Blocks []Block
	// Ranks say of each block what print may leave out for want of room; nil where
	// nothing may.
	Ranks []Rank
	// Stead is the section that stands for this one in print; "" for none.
	Stead string

	short string // of a garden day: "Day 3"
}

// A Block is one of the types below; the set is closed.
type Block interface{ block() }

// Text is a paragraph.
type Text struct {
	Runs []prose.Run
	Role Role
}

// Role is the voice a paragraph speaks in.
type Role uint8

const (
	Plain Role = iota
	Lead       // the first words about something
	Small      // captions and asides
	Warn       // what could hurt someone or the plant
)

// Heading stands over part of a section.
type Heading struct{ Runs []prose.Run }

// List is a row of items, numbered or not.
type List struct {
	Numbered bool
	Items    [][]prose.Run
}

// Facts are label and text, side by side.
type Facts struct{ Rows []Fact }

// A Fact is one row of Facts.
type Fact struct {
	Label string
	Text  []prose.Run
}

// Figure is a picture with a line beneath it.
type Figure struct {
	Picture draw.Picture
	Caption string
	Latin   []prose.Run  // the botanical name of the plant it shows; nil for none
	Ground  float64      // of a cover's: the share of its height down to the ground line
	Screen  draw.Picture // the same with fewer strokes, if there is one
}

// Online leads to the booklet on a screen, in words and as a QR code for paper.
type Online struct {
	Words, Address string
	Code           draw.Picture // empty when the address is too long for one
}

// Portrait opens a plant's section.
type Portrait struct {
	Picture draw.Picture
	// Drawn is the portrait for a frame of a printed page, to a scale of so many
	// millimetres to a centimetre of the plant or a smaller one; it gives the scale too.
	// 0 is the largest. nil: the picture itself is all there is.
	Drawn func(f figure.Frame, scale float64) (draw.Picture, float64)
	Names []string // common names after the first, synonyms: what labels may say
	Look  []prose.Run
	Where []string // "Long border, 9 plants"
	Photo *Photo   // nil: none
}

// A Photo is a photograph with the words that belong to it.
type Photo struct {
	Picture     *photo.Photo
	Alt, Credit string
	Caption     string // what stands below it in print
}

// Work is one job of a plant.
type Work struct {
	Job     string // ID of the job's section
	Mark    string
	Family  string
	Verb    string
	When    []string // "12 March to 23 April", one a window
	Days    []Ref    // the garden days it is done on
	Amount  string   // "Leave 8 to 10 cm, about a hand's width"
	Never   string   // "Never in autumn."
	Later   bool     // not due in the months of this booklet
	Picture *draw.Picture
	Rows    []Detail // look for, how, why …
	Terms   string   // tools and time, in a few words
	Notes   []Fact   // what the place changes, by the condition under which it holds
}

// A Detail is one fact of a job, with what it matters.
type Detail struct {
	Fact
	Rank    Rank
	Caution bool
}

// A Ref leads to a garden day by a word or two: "Day 11". Of a plant's job When tells
// which of its windows that day lies in, from 0.
type Ref struct {
	ID, Text string
	When     int
}

// Tasks is the check list of a month, "2027-03".
type Tasks struct {
	Month string
	Lines []TaskLine
}

// A TaskLine is one thing to do in one month.
type TaskLine struct {
	Tasks        []string // the stable names of the tasks that it is
	Mark, Family string
	Verb, Rest   string // "Cut back", "switch grass to 10 cm"
	Plant        string // ID of the plant's section; "" leads nowhere
	Leave        string // what stays, when Rest does not say it: "Leave all living leaf"
	Where        string // "Long border, 7 plants"
	Look         string // the cue
	When         string // the whole window: "12 March to 20 April"
	Minutes      string
	Warn         string // what must not be missed on the day: nests, ladders
}

// Harm is what a plant can do to whoever touches or eats it. Print says it in a few
// words where another section has it in full.
type Harm struct {
	Short string
	Full  []string
	At    string // the section that has it in full; "" for none
}

// A Visit is the head of a garden day.
type Visit struct {
	From, To string // the first and the last day that will do, "2028-02-16"
	Window   string // "any day from 16 to 29 February 2028"
	Hours    string // "about 4 hours"
	After    string // "After day 4."
	Earlier  []Ref  // the days that After names
	Tools    string
	Cuttings string // "about 100 to 300 litres of cuttings"
}

// Chores are one job of a garden day, for all plants that get it.
type Chores struct {
	Job, Mark, Family, Verb string // ID of the job's section, and its look
	Hours                   string
	Lines                   []Chore
}

// A Chore is one line to tick: one plant, or some of a bed with the same amount.
type Chore struct {
	Tasks  []string // the stable names of the tasks that it is
	Plants []Called
	Where  string // "Long border 6 9 12, 17 plants"
	Amount string // "leave 5 to 10 cm"
	Say    string // which part of a long task it is
	Look   string // the cue
	Warn   string // what must not be missed on the day
}

// Called is a plant's name in a list: the botanical name stands beside the common
// one where a page names it first, and is nil after that.
type Called struct {
	ID, Common string
	Latin      []prose.Run
}

// Grown is what grows in a bed, by its numbers on the plan.
type Grown struct{ Rows []GrownRow }

// A GrownRow is a planting of a bed.
type GrownRow struct {
	Number int
	Called
	Many string // "9 plants"
}

// Chart is the year: rows of bars by bed.
type Chart struct {
	Since  string   // the first month, "2027-03"
	Months []string // initials, "M" for March
	Short  []string // "Mar"
	Full   []string // "March 2027"
	Days   []ChartDay
	Cues   []ChartCue
	Groups []ChartGroup
	Hours  []figure.Load // of each month; nil in a guide
}

// A ChartDay is a garden day in its window, along the year from 0 to 1. A window
// that runs over the year's ends is cut there.
type ChartDay struct {
	Number   int
	From, To float64
	ID       string // of its section
	Label    string // "Garden day 3: 12 March to 4 April 2027, about 4 hours"
	Window   string // "12 Mar to 4 Apr"
	Hours    string // "4 h"
	Jobs     string // "cut back, comb"
}

// A ChartCue is a thin line with a name.
type ChartCue struct {
	At   float64 // along the year, 0 to 1
	Name string
	Date string // "9 March 2027"
	Day  string // "9 March"
}

// A ChartGroup is a bed, in a guide a type of plants.
type ChartGroup struct {
	Bed  string
	Rows []ChartRow
}

// A ChartRow is a plant in a bed with its windows.
type ChartRow struct {
	Plant string // ID of its section
	Name  string
	// Latin is its botanical name, the whole and then ever shorter: with the genus by
	// its initial, and of that the species alone. Nil where it is called by that.
	Latin [][]prose.Run
	Bars  []ChartBar
}

// Lanes is how many bars lie over one another at most, each with room before
// it for its mark, as a part of the year.
func (r ChartRow) Lanes(mark float64) int {
	most := 1
	for _, a := range r.Bars {
		n := 0
		for _, b := range r.Bars {
			if b.From-mark <= a.From && b.To > a.From-mark {
				n++
			}
		}
		most = max(most, n)
	}
	return most
}

// A ChartBar is one window, along the year from 0 to 1.
type ChartBar struct {
	From, To     float64
	Mark, Family string
	Label        string // "Cut back, 12 March to 23 April"
}

// Entries is a list of sections with where they are: the contents.
type Entries struct{ Rows []EntryRow }

// An EntryRow leads to a section. Level 0 is a part, 1 what is in it.
type EntryRow struct {
	Level  int
	Runs   []prose.Run
	Target string
	Last   string // ID of the last section of what the row names; "" for one alone
	Aside  string
}

// IndexList is the alphabetical index.
type IndexList struct{ Rows []IndexRow }

// An IndexRow is one name with the sections it leads to.
type IndexRow struct {
	Runs    []prose.Run
	Letter  string // its initial, for headings
	Targets []string
}

// Legend shows the marks with their names.
type Legend struct{ Marks []LegendMark }

// A LegendMark is one mark.
type LegendMark struct{ Mark, Family, Name, Job string }

// Terms are words with what they mean.
type Terms struct{ Rows []Fact }

func (Text) block()      {}
func (Heading) block()   {}
func (List) block()      {}
func (Facts) block()     {}
func (Figure) block()    {}
func (Online) block()    {}
func (Portrait) block()  {}
func (Work) block()      {}
func (Tasks) block()     {}
func (Harm) block()      {}
func (Visit) block()     {}
func (Chores) block()    {}
func (Grown) block()     {}
func (Chart) block()     {}
func (Entries) block()   {}
func (IndexList) block() {}
func (Legend) block()    {}
func (Terms) block()     {}

// Find gives the section of an ID, nil when there is none.
func (b *Book) Find(id string) *Section {
	for i := range b.Sections {
		if b.Sections[i].ID == id {
			return &b.Sections[i]
		}
	}
	return nil
}

// Of lists the sections of a kind.
func (b *Book) Of(k Kind) []*Section {
	var out []*Section
	for i := range b.Sections {
		if b.Sections[i].Kind == k {
			out = append(out, &b.Sections[i])
		}
	}
	return out
}
