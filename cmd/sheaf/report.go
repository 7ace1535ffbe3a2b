package main

import (
	"fmt"
	"io"

	"sheaf/generator"
)

// printReport writes the designer's report as text.
func printReport(w io.Writer, p *generator.Plan) {
	r := p.Report
	fmt.Fprintf(w, "%s: %d plantings, %d tasks from %s to %s\n", p.Garden.Name, len(p.Plantings), len(p.Calendar.Tasks), p.Calendar.First, p.Calendar.Last)
	fmt.Fprintf(w, "dates from %s\n", basis(p))
	part := func(title string, lines []string) {
		if len(lines) == 0 {
			return
		}
		fmt.Fprintf(w, "\n%s\n", title)
		for _, l := range lines {
			fmt.Fprintf(w, "  %s\n", l)
		}
	}
	part("Without care", r.Uncovered)
	part("Given the care of their species", r.Species)
	part("In a place they do not like", r.Unsuitable)
	var crowds []string
	for _, c := range r.Crowding {
		word := ""
		switch {
		case c.Ratio > 1.5:
			word = ", crowded"
		case c.Ratio < 0.5:
			word = ", much bare soil"
		}
		crowds = append(crowds, fmt.Sprintf("%-24s %.2f%s", c.Bed, c.Ratio, word))
	}
	part("Mature plants over bed area", crowds)
	part("Plants that can harm", r.Hazards)
	part("Work in the nesting season", r.Nests)
	part("Work for a qualified person, if it cannot be reached from the ground", r.Professional)
	if r.Peak != "" {
		fmt.Fprintf(w, "\nBusiest month: %s\n", r.Peak)
	}
}

func basis(p *generator.Plan) string {
	if s := p.Garden.ClimateSource; s != "" {
		return s
	}
	return p.Garden.Place.Basis().String()
}
