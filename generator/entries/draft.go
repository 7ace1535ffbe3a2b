package entries

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"sheaf/generator/fields"
	"sheaf/generator/measure"
	"sheaf/generator/names"
	"sheaf/generator/source"
)

// Draft begins the entry of a plant: the file's text. What the library's
// entries of the same species say, or where there is none what all of its genus
// agree on, is filled in and marked to be checked. The rest are questions: keys
// that wait for a value, which the checks tell. Nothing is made up. Figures are
// never filled in, as cultivars differ, and a care group only from the same
// species, as a genus alone never implies care (DESIGN 6).
//
// models are the entries the draft was made from, l is a library that
// [Assemble] has joined.
func Draft(n names.Name, l *Library) (text []byte, models []*Entry) {
	d := &draft{models: akin(l, n.BinomialKey(), func(e *Entry) string { return e.Name.Value.BinomialKey() })}
	d.species = d.models != nil
	if !d.species {
		d.models = akin(l, strings.ToLower(n.Genus), func(e *Entry) string { return strings.ToLower(e.Name.Value.Genus) })
	}
	d.line("---")
	d.line("botanical: " + fields.Quote(n.Plain()))
	d.ask("common", "what do people call it? the first name is used in sentences")
	d.synonyms(n)
	d.fill("family", "which family?", func(e *Entry) string { return e.Family })
	d.fill("type", either(Types())+"?", func(e *Entry) string { return e.Type })
	d.fill("leaf", "its leaves in winter: "+either(leafWords())+"?", func(e *Entry) string { return e.Leaf })
	grows := func(e *Entry) string { return e.Growth }
	if slices.ContainsFunc(d.models, func(e *Entry) bool { return e.Growth != "" }) || d.models == nil {
		d.fill("growth", "of a grass, sedge, rush or bamboo: "+either(growthWords())+"? else leave the line out", grows)
	}
	d.fill("habit", "how is it drawn? "+either(habits()), func(e *Entry) string { return e.Habit })
	if d.species {
		d.fill("flower-head", either(heads())+"?", func(e *Entry) string { return e.Head })
	} else {
		d.ask("flower-head", either(heads())+"?")
	}
	d.measured("height", "how high do the leaves stand when it is grown? such as 35 cm or 60 to 90 cm")
	d.measured("flower-height", "how high do the flowers stand? leave the line out if not above the leaves")
	d.measured("spread", "how broad does it grow?")
	d.measured("flowers", "when does it flower? such as June to August")
	d.ask("colours", `of leaf and flower in the drawing? such as {leaf: "#6f8657", flower: "#a98d5f"}`)
	d.measured("hardy", "what cold does it stand? such as -15 °C or H6")
	d.measured("zone", "the coldest USDA zone in which it is kept outdoors, such as Z5; name the American source")
	d.measured("light", either(Light())+"? the best first, in [ ]")
	d.measured("soil", either(Soil())+"? the best first, in [ ]")
	d.ask("likes", "such as {fertility: average}; "+either(Fertility()))
	d.hazards()
	d.group()
	d.ask("sources", `where do the facts come from? "common practice" for what has no published source`)
	d.line("# Below the next line: what it looks like, in one or two sentences, so that they")
	d.line("# find it by this. Then why it is cared for so, and what to expect.")
	d.line("---")
	return []byte(d.text.String()), d.models
}

// akin gives the entries that have a key in common.
func akin(l *Library, key string, of func(*Entry) string) []*Entry {
	var out []*Entry
	for _, e := range l.Entries {
		if key != "" && of(e) == key {
			out = append(out, e)
		}
	}
	return out
}

// draft is an entry on its way.
type draft struct {
	text    strings.Builder
	models  []*Entry
	species bool // the models are of the same species, not only of the genus
}

// aside is the column in which what is asked begins.
const aside = 26

func (d *draft) line(s string) { d.text.WriteString(s + "\n") }

// note writes a line with something beside it.
func (d *draft) note(s, beside string) {
	d.line(s + strings.Repeat(" ", max(1, aside-utf8.RuneCountInString(s))) + "# " + beside)
}

// ask leaves a key without its value.
func (d *draft) ask(key, question string) { d.note(key+":", question) }

// fill takes a value over if all models say the same, and else asks and tells
// what they say.
func (d *draft) fill(key, question string, of func(*Entry) string) {
	value, agreed := "", d.models != nil
	for i, e := range d.models {
		if i == 0 {
			value = of(e)
		}
		agreed = agreed && of(e) == value
	}
	if agreed && value != "" {
		d.note(key+": "+fields.Quote(value), d.check(d.models))
		return
	}
	d.ask(key, question)
	d.told(of)
}

// check says where a value comes from.
func (d *draft) check(from []*Entry) string { return "from " + some(from) + ": check" }

// told writes what each of the models says, one line a value.
func (d *draft) told(of func(*Entry) string) {
	var values []string
	by := map[string][]*Entry{}
	for _, e := range d.models {
		v := of(e)
		if v == "" {
			continue
		}
		if by[v] == nil {
			values = append(values, v)
		}
		by[v] = append(by[v], e)
	}
	for _, v := range values {
		d.note("", v+" in "+some(by[v]))
	}
}

// measured asks for what differs from plant to plant, and tells what the same
// species has.
func (d *draft) measured(key, question string) {
	d.ask(key, question)
	if !d.species {
		return
	}
	d.told(func(e *Entry) string {
		switch key {
		case "height":
			return plain(e.Height.Print(measure.Metric))
		case "flower-height":
			if e.FlowerHeight.IsZero() {
				return ""
			}
			return plain(e.FlowerHeight.Print(measure.Metric))
		case "spread":
			return plain(e.Spread.Print(measure.Metric))
		case "flowers":
			return e.Flowers.Span.Text()
		case "hardy":
			return e.Hardy.Value.Written
		case "zone":
			return e.Zone.Value.Written
		case "light":
			return strings.Join(e.Light, ", ")
		case "soil":
			return strings.Join(e.Soil, ", ")
		}
		return ""
	})
}

// synonyms takes over those of an entry of the very same name, which the new
// one will stand in for.
func (d *draft) synonyms(n names.Name) {
	for i, e := range d.models {
		var others []string
		for _, s := range e.Synonyms {
			others = append(others, fields.Quote(s.Value.Plain()))
		}
		if others != nil && e.Name.Value.Key() == n.Key() {
			d.note("synonyms: ["+strings.Join(others, ", ")+"]", d.check(d.models[i:i+1]))
		}
	}
}

// hazards takes over every hazard of any model: a caution too many is taken out
// by whoever knows better, one too few hurts.
func (d *draft) hazards() {
	var all []string
	var from []*Entry
	for _, e := range d.models {
		for _, h := range e.Hazards {
			if !slices.Contains(all, h.Value) {
				all = append(all, h.Value)
			}
		}
		if len(e.Hazards) > 0 {
			from = append(from, e)
		}
	}
	if all == nil {
		d.ask("hazards", either(Hazards())+"? in [ ], or [] if none")
		return
	}
	d.note("hazards: ["+strings.Join(all, ", ")+"]", d.check(from)+"; there are also "+and(slices.DeleteFunc(Hazards(), func(h string) bool { return slices.Contains(all, h) })))
}

// group names the care group, and tells where the models have rules of their
// own that the group does not know.
func (d *draft) group() {
	name := func(e *Entry) string { return e.GroupName.Value }
	if d.species {
		d.fill("care-group", "which care? sheaf library lists the groups", name)
	} else {
		d.ask("care-group", "which care? sheaf library lists the groups")
		d.told(name)
	}
	for _, e := range d.models[:min(len(d.models), mostNamed)] {
		var own, without []string
		for _, r := range e.Rules {
			if r.Span.File == e.File {
				own = append(own, r.Job.Value)
			}
		}
		for _, w := range e.Without {
			without = append(without, w.Value)
		}
		if own != nil {
			d.note("", fmt.Sprintf("%s has its own words on: %s (%s)", e.Name.Value.Plain(), strings.Join(own, ", "), e.File.Path))
		}
		if without != nil {
			d.note("", fmt.Sprintf("%s leaves out: %s", e.Name.Value.Plain(), strings.Join(without, ", ")))
		}
	}
}

// mostNamed is how many entries a remark names before it counts the rest.
const mostNamed = 2

// some names entries.
func some(es []*Entry) string {
	var out []string
	for _, e := range es {
		out = append(out, e.Name.Value.Plain())
	}
	if n := len(out); n > mostNamed+1 {
		out = append(out[:mostNamed], fmt.Sprintf("%d more", n-mostNamed))
	}
	return and(out)
}

func either(words []string) string { return joined(words, "or") }
func and(words []string) string    { return joined(words, "and") }

func joined(words []string, last string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " " + last + " " + words[n-1]
	}
	return strings.Join(words, "")
}

// plain is a printed figure as it is typed.
func plain(s string) string { return strings.ReplaceAll(s, measure.Space, " ") }

// NameTaken tells which entry has a name already: as its own, or among its
// synonyms, under which a second entry would be a fault.
func (l *Library) NameTaken(n names.Name) (by *Entry, synonym bool) {
	for _, e := range l.Entries {
		if e.Name.Value.Key() == n.Key() {
			return e, false
		}
	}
	for _, e := range l.Entries {
		if slices.ContainsFunc(e.Synonyms, func(s source.At[names.Name]) bool { return s.Value.Key() == n.Key() }) {
			return e, true
		}
	}
	return nil, false
}
