package generator

import (
	"io"
	"path/filepath"
	"strings"

	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/source"
)

// A Coverage tells row by row which entry of a library holds the care of a
// plant list.
type Coverage struct {
	List    string    `json:"list"` // its path, of a workbook with the sheet
	Rows    []RowLine `json:"rows"`
	Covered int       `json:"covered"` // how many rows have care

	file      *source.File
	sheet     string
	library   *entries.Library
	plantings []garden.Planting
}

// A RowLine is one row of the list.
type RowLine struct {
	Row   int      `json:"row"`
	Plant string   `json:"plant"`           // as written
	Name  string   `json:"name"`            // as read; as written, if it cannot be read
	Meant string   `json:"meant,omitempty"` // what the booklet calls it, if it has care
	Entry string   `json:"entry,omitempty"` // the entry's name; of care by group, the group's
	File  string   `json:"file,omitempty"`  // where the care stands
	How   string   `json:"how"`             // see [garden.Match]
	Steps []string `json:"steps"`           // each step on the way to the entry
	Near  []string `json:"near"`            // entries that may be meant, when none is taken or a cautious one
	// Guessed says that words were read for others or left out: an English name, a
	// genus in short, a remark.
	Guessed bool   `json:"guessed"`
	Asks    *Asked `json:"asks,omitempty"` // by a cautious entry

	Told source.Diagnostics `json:"-"` // the same, with what else a message has
}

// An Asked is the question whose answer tells the care of a row; it goes into the
// list's column "care".
type Asked struct {
	Question string   `json:"question"`
	Answers  []Answer `json:"answers"`
}

// An Answer is one that the plant may give, and the care it leads to.
type Answer struct {
	Text string `json:"answer"`
	Care string `json:"care"`
}

// Told gives what the rows were told, one after the other.
func (c *Coverage) Told() source.Diagnostics {
	var ds source.Diagnostics
	for _, r := range c.Rows {
		ds = append(ds, r.Told...)
	}
	return ds
}

// A MatchRequest says what is matched with what.
type MatchRequest struct {
	List    string    // the path of a CSV or XLSX file; [Stdin] for In
	In      io.Reader // of a list without a file
	Sheet   string    // of a workbook; "" finds the one that looks most like a plant list
	Library string    // a folder that comes before the shipped library; "" is the shipped one alone
}

// MatchList reads a plant list by itself, without a garden, and matches it with
// a library. The diagnostics are those of the list and the library as wholes;
// what is told of a row is with the row. The error is for what cannot be read
// at all.
func MatchList(r MatchRequest) (*Coverage, source.Diagnostics, error) {
	l, _, ds, err := beside(r.Library, true)
	if err != nil {
		return nil, nil, err
	}
	f, err := readList(r.List, r.In)
	if err != nil {
		return nil, nil, err
	}
	rows, more := garden.ReadList(f, nil, source.At[string]{Value: r.Sheet, Span: source.Whole(f)}, "", garden.Knows(l))
	ds = append(ds, more...)
	plantings, _ := garden.MatchRows(rows, l, false)
	c := &Coverage{List: f.Path, Rows: []RowLine{}, file: f, sheet: r.Sheet, library: l, plantings: plantings}
	for i := range plantings {
		p := &plantings[i]
		if file := p.Row.Span.File; file != nil {
			c.List = file.Path
		}
		if p.Entry != nil {
			c.Covered++
		}
		c.Rows = append(c.Rows, rowLine(p))
	}
	return c, ds, nil
}

// FixedName is where a list is written to that is put right, unless another file is
// named: beside it.
func FixedName(list string) string {
	return strings.TrimSuffix(list, filepath.Ext(list)) + "-fixed.csv"
}

// Fix writes the list that was matched, put right, into a file that is not there yet;
// see [garden.Fixed].
func (c *Coverage) Fix(to string) (garden.Fix, error) {
	text, fix := garden.Fixed(c.file, source.At[string]{Value: c.sheet, Span: source.Whole(c.file)}, c.library, c.plantings)
	return fix, create(filepath.Dir(to), newFile{filepath.Base(to), text})
}

func rowLine(p *garden.Planting) RowLine {
	line := RowLine{Row: p.Row.Line, Plant: p.Row.Plant, Name: p.Label(), How: string(p.How), Steps: []string{}, Near: []string{}, Guessed: p.Guessed, Told: p.Told}
	if p.How == garden.Cautious {
		line.Asks = &Asked{Question: p.Entry.Asks.Text, Answers: []Answer{}}
		for _, a := range p.Entry.Asks.Answers {
			line.Asks.Answers = append(line.Asks.Answers, Answer{a.Text, a.Care.Value})
		}
	}
	switch {
	case p.Entry == nil:
	case p.How == garden.Group:
		line.Entry, line.File = p.Row.Care.Value, p.Entry.File.Path
	default:
		line.Entry, line.File = p.Entry.Name.Value.String(), p.Entry.File.Path
	}
	if p.Entry != nil {
		line.Meant = p.Called().String()
	}
	for _, d := range p.Told {
		line.Steps = append(line.Steps, d.Message)
	}
	for _, e := range p.Near {
		line.Near = append(line.Near, e.Name.Value.String())
	}
	return line
}
