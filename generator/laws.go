package generator

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"sheaf/generator/care"
	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/source"
)

// laws tells what laws and lists of the garden's place say of its plants: in a
// handover a plant that is forbidden is an error, unless the garden says that it
// is known to be there.
func laws(in care.Input) source.Diagnostics {
	var ds source.Diagnostics
	g := in.Garden
	if r := in.Region; r != nil && g.Part.Value != "" && r.Part(g.Part.Value) == nil {
		var known []string
		for _, p := range r.Parts {
			known = append(known, p.Code)
		}
		hint := "leave region out of site"
		if known != nil {
			hint = "known: " + strings.Join(known, ", ")
		}
		ds.Add(source.Error, "garden/no-such-part", g.Part.Span, fmt.Sprintf("%s has no part %q in the library", r.Name, g.Part.Value), hint)
	}
	inParts := map[string][]string{} // plants, by where
	for i := range in.Plantings {
		p := &in.Plantings[i]
		for _, h := range in.Regulated(p) {
			tellLaw(in, p, h, &ds)
		}
		if g.Kind == garden.Guide {
			continue // it prints what holds in each part
		}
		if p.Entry != nil {
			for i := range p.Entry.Rules {
				for _, c := range in.ClosedTo(p, &p.Entry.Rules[i]) {
					for _, part := range c.In {
						if where := in.Region.Code + "-" + part; g.Part.Value == "" && !slices.Contains(inParts[where], c.Law) {
							inParts[where] = append(inParts[where], c.Law)
						}
					}
				}
			}
		}
		for _, h := range in.RegulatedInParts(p) {
			if h.Kind != entries.Unchecked && !slices.Contains(inParts[h.Where], p.Label()) {
				inParts[h.Where] = append(inParts[h.Where], p.Label())
			}
		}
	}
	if len(inParts) > 0 {
		parts := slices.Sorted(maps.Keys(inParts))
		var where []string
		for _, part := range parts {
			where = append(where, part+" "+strings.Join(inParts[part], ", "))
		}
		ds.Add(source.Warning, "garden/no-part", g.Span, fmt.Sprintf("the site does not say in which part of %s it lies, and some of them have laws or lists on its plants or its work: %s", in.Region.Name, strings.Join(where, "; ")),
			fmt.Sprintf("write its letters under site, for example region: %s", strings.TrimPrefix(parts[0], in.Region.Code+"-")))
	}
	for _, t := range g.Acknowledged {
		if !slices.ContainsFunc(in.Plantings, func(p garden.Planting) bool { return care.Means(t.Value, &p) && in.Regulated(&p) != nil }) {
			ds.Add(source.Warning, "garden/acknowledged", t.Span, fmt.Sprintf("no plant of this garden that is regulated here is called %q", t.Value), "take it out, or write the name as in the plant list")
		}
	}
	return ds
}

// tellLaw adds what one regulation says of a planting.
func tellLaw(in care.Input, p *garden.Planting, h care.Holding, ds *source.Diagnostics) {
	message := p.Label() + " is regulated here. " + h.Line()
	switch {
	case h.Kind == entries.Banned && in.Garden.Kind == garden.Handover && !in.Acknowledged(p):
		ds.Add(source.Error, "plant/regulated", p.Row.Span, message,
			"plant another in its place; if it is there already, write acknowledged: ["+p.Label()+"] in garden.yaml, and the booklet prints the law and how to remove it")
	case h.Kind == entries.Banned:
		ds.Add(source.Note, "plant/regulated-known", p.Row.Span, message, "the plant's page prints the law and how to remove it")
	case h.Kind == entries.Limited && in.Garden.Kind == garden.Handover:
		ds.Add(source.Warning, "plant/regulated-advice", p.Row.Span, message, "the plant's page prints it")
	default:
		ds.Add(source.Note, "plant/regulated-advice", p.Row.Span, message)
	}
}
