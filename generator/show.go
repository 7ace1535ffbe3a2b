package generator

import (
	"strings"

	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/source"
)

// A ShowRequest names an entry of a library.
type ShowRequest struct {
	Name    string // as a plant list may have it
	Library string // a folder that comes before the shipped library; "" is the shipped one alone
}

// A ShownEntry is an entry with its care group resolved.
type ShownEntry struct {
	Name  string       `json:"name"`            // the entry's own
	How   string       `json:"how"`             // how the name led to it, see [garden.Match]
	File  string       `json:"file"`            // where the entry is written
	Group string       `json:"group,omitempty"` // the care group whose rules it has
	Entry entries.Keys `json:"entry"`           // its front matter, as sheaf schema entry describes it
	Text  string       `json:"text"`            // what stands below it, in Markdown

	Written []byte `json:"-"` // all as one file
}

// ShowEntry finds an entry as a row of a plant list does, and writes it out with what
// its care group brings. It is nil when the name leads to none: the diagnostics, which
// have no place, say what was read and what may be meant.
func ShowEntry(r ShowRequest) (*ShownEntry, source.Diagnostics, error) {
	l, _, ds, err := beside(r.Library, true)
	if err != nil {
		return nil, nil, err
	}
	plantings, told := garden.MatchRows([]garden.Row{{Plant: strings.TrimSpace(r.Name)}}, l, false)
	ds = append(ds, told...)
	p := &plantings[0]
	if p.Entry == nil {
		return nil, ds, nil
	}
	l.Fill(p.Entry)
	e := p.Entry
	out := &ShownEntry{Name: e.Name.Value.String(), How: string(p.How), File: e.File.Path, Group: e.GroupName.Value, Entry: e.Keys(), Text: e.BodyText(), Written: e.Write()}
	return out, ds, nil
}
