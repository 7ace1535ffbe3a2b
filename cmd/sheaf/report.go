package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"sheaf/generator"
	"sheaf/generator/care"
	"sheaf/generator/garden"
	"sheaf/generator/measure"
	"sheaf/generator/preview"
)

// reportOf puts the designer's report into words.
func reportOf(p *generator.Plan) preview.Report {
	r := p.Report
	out := preview.Report{Title: p.Garden.Name, Lines: []string{
		fmt.Sprintf("%d plantings, %d tasks from %s to %s", len(p.Plantings), len(p.Calendar.Tasks), p.Calendar.First, p.Calendar.Last),
		"dates from " + basis(p),
	}}
	part := func(title string, lines []string) {
		if len(lines) > 0 {
			out.Parts = append(out.Parts, preview.Part{Title: title, Lines: lines})
		}
	}
	part("Without care", r.Uncovered)
	part("Given only what is safe for all of their genus, until you say more", r.Cautious)
	part("Given the care of their species", r.Species)
	part("Given the care of their genus", r.Genus)
	part("In a place they do not like", r.Unsuitable)
	part("Nobody says what winter they stand here", r.Unrated)
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
	part("Plants that laws or lists of the place name", r.Regulated)
	part("Closed seasons of the place", r.Closed)
	part("Plants that can harm", r.Hazards)
	part("Work in the nesting season", r.Nests)
	part("Work for a qualified person, if it cannot be reached from the ground", r.Professional)
	part("Rules that this climate leaves out", r.LeftOut)
	if p.Garden.Kind == garden.Guide {
		part("Written by", p.Contributors())
		return out // whose quantities are each reader's own
	}
	part(yearAsDays(p.Calendar), dayLines(p))
	work := []string{fmt.Sprintf("%s in all; busiest month %s", r.Year, r.Peak)}
	for _, b := range r.Beds {
		name := b.Bed
		if name == "" {
			name = "no bed"
		}
		work = append(work, fmt.Sprintf("%-24s %s", name, b.Minutes.Say(p.English)))
		if b.Published != "" {
			work = append(work, fmt.Sprintf("%-24s %s", "", b.Published))
		}
	}
	part(fmt.Sprintf("Work in the first twelve months, for %s, without watering and weeding", article(r.Skill)), work)
	amounted := func(what, s string) string {
		if p.Garden.Units == measure.US {
			s = plainSpace(strings.TrimPrefix(measure.Customary(what+" "+s), what+" "))
		}
		return s
	}
	var mulch []string
	for _, n := range r.Mulch {
		mulch = append(mulch, fmt.Sprintf("%-24s %s", n.Bed, amounted("mulch", fmt.Sprintf("%.0f litres", n.Litres))))
	}
	part(fmt.Sprintf("Mulch at %s, at most; order a tenth more", plainSpace(p.Garden.Mulch.Print(p.Garden.Units))), mulch)
	var litres []string
	if r.Water.High > 0 {
		litres = append(litres, "one watering of all that is new: "+amounted("water", plainSpace(r.Water.Say(p.English))))
	}
	part("Water and cuttings", append(litres, "cuttings of a year, loose, when the garden is grown: "+amounted("cuttings", plainSpace(r.Waste.Say(p.English)))))
	return out
}

// yearAsDays says how many garden days there are, and how few there can be.
func yearAsDays(c *care.Calendar) string {
	if len(c.Days) == 1 {
		return "The year as garden days: 1 day"
	}
	fewer := fmt.Sprintf("no schedule has fewer than %d", c.LeastDays)
	if c.LeastDays == len(c.Days) {
		fewer = "no schedule has fewer"
	}
	return fmt.Sprintf("The year as garden days: %d days; %s", len(c.Days), fewer)
}

// dayLines are the garden days, a line each: window, hours, tasks and jobs.
func dayLines(p *generator.Plan) []string {
	var out []string
	for i, d := range p.Calendar.Days {
		var jobs []string
		for _, part := range d.Parts {
			if j := p.Calendar.Tasks[part.Task].Job.Called(p.English); !slices.Contains(jobs, j) {
				jobs = append(jobs, j)
			}
		}
		tasks := fmt.Sprintf("%d tasks", len(d.Parts))
		if len(d.Parts) == 1 {
			tasks = "1 task"
		}
		line := fmt.Sprintf("%2d  %s to %s  %-22s %s: %s", i+1, d.From, d.To, plainSpace(d.Minutes.Say(p.English)), tasks, strings.Join(jobs, ", "))
		if d.Nearest {
			line += "; it holds none of the garden's weekdays"
		}
		for n, a := range d.After {
			if n == 0 {
				line += "; after day"
			}
			line += fmt.Sprintf(" %d", a+1)
		}
		out = append(out, line)
	}
	return out
}

// printReport writes the designer's report as text.
func printReport(w io.Writer, p *generator.Plan) {
	r := reportOf(p)
	fmt.Fprintf(w, "%s: %s\n", r.Title, strings.Join(r.Lines, "\n"))
	for _, part := range r.Parts {
		fmt.Fprintf(w, "\n%s\n", part.Title)
		for _, l := range part.Lines {
			fmt.Fprintf(w, "  %s\n", l)
		}
	}
}

// printInventory writes what a library holds as text, in lines of at most width
// characters.
func printInventory(w io.Writer, inv *generator.Inventory, width int) {
	part := func(count int, one, many string) {
		if count == 1 {
			many = one
		}
		fmt.Fprintf(w, "%d %s\n", count, many)
	}
	part(len(inv.Entries), "entry", "entries")
	for _, t := range inv.Types {
		fmt.Fprintf(w, "  %-40s %4d\n", t.Type, t.Entries)
	}
	if n := len(inv.Entries); n > 0 {
		ages := make([]float64, n)
		worst := &inv.Entries[0]
		for i := range inv.Entries {
			ages[i] = inv.Entries[i].ReadingAge
			if ages[i] > worst.ReadingAge {
				worst = &inv.Entries[i]
			}
		}
		slices.Sort(ages)
		age := fmt.Sprintf("reading age by the Automated Readability Index: median %.1f years, highest %.1f, %s", ages[n/2], worst.ReadingAge, worst.File)
		for _, l := range wrap(age, width-2) {
			fmt.Fprintf(w, "  %s\n", l)
		}
	}
	for _, t := range inv.Types {
		fmt.Fprintln(w)
		printPlants(w, t.Type, inv.Entries, width)
	}
	fmt.Fprintln(w)
	part(len(inv.Groups), "care group", "care groups, and how many entries are in each")
	for _, g := range inv.Groups {
		fmt.Fprintf(w, "  %-40s %4d\n", g.Name, g.Entries)
	}
	fmt.Fprintln(w)
	part(len(inv.Jobs), "job", "jobs, and how many entries ask for each")
	for _, j := range inv.Jobs {
		fmt.Fprintf(w, "  %-40s %4d\n", j.Name, j.Entries)
	}
	fmt.Fprintln(w)
	part(len(inv.Regions), "country", "countries, and when their rules were last looked up")
	for _, r := range inv.Regions {
		fmt.Fprintf(w, "  %s %-37s %s\n", r.Code, r.Name, r.Checked)
	}
}

// printPlants writes the entries of a type, each with how many names it serves and
// whom besides. Where there is no room for what people call it, that is left out.
func printPlants(w io.Writer, kind string, all []generator.EntryLine, width int) {
	const left, names, also = 2, len("names"), len("cautious")
	botanical := width - left - names - also - 2*len(gap)
	common := 0
	if half := (botanical - len(gap)) / 2; half >= leastName {
		botanical, common = botanical-len(gap)-half+leastName/4, half-leastName/4
	}
	line := func(name, called, count, serves string) {
		first, second := wrap(name, botanical), wrap(called, max(common, 1))
		for i := range max(len(first), min(len(second), common)) {
			if i > 0 {
				count, serves = "", ""
			}
			text := strings.Repeat(" ", left) + pad(at(first, i), botanical)
			if common > 0 {
				text += gap + pad(at(second, i), common)
			}
			fmt.Fprintln(w, strings.TrimRight(fmt.Sprintf("%s%s%*s%s%s", text, gap, names, count, gap, serves), " "))
		}
	}
	n := 0
	for _, e := range all {
		if e.Type != kind {
			continue
		}
		if n++; n == 1 {
			fmt.Fprintf(w, "%s\n", kind)
			line("", "", "names", "also")
		}
		called := ""
		if len(e.Common) > 0 {
			called = e.Common[0]
		}
		line(e.Botanical, called, fmt.Sprint(e.Serves.Names), e.Serves.Also)
	}
}

func article(skill string) string {
	if strings.HasPrefix(skill, "o") {
		return "an " + skill
	}
	return "a " + skill
}

func plainSpace(s string) string { return strings.ReplaceAll(s, measure.Space, " ") }

// explain prints how each date of a plant came about.
func explain(w io.Writer, p *generator.Plan, name string) error {
	found, near := p.Named(name)
	if found == nil {
		hint := ""
		if near != "" {
			hint = fmt.Sprintf("; did you mean %q?", near)
		}
		return usageError{fmt.Errorf("no planting is called %q%s", name, hint)}
	}
	for _, q := range found {
		fmt.Fprintf(w, "%s, row %d", q.Label(), q.Row.Line)
		if q.Bed != nil {
			fmt.Fprintf(w, ", %s", q.Bed.Name)
		}
		fmt.Fprintf(w, "\n  entry %s, matched by %s\n", q.Entry.File.Path, q.How)
		for _, line := range care.Noted(q) {
			fmt.Fprintf(w, "  %s\n", line)
		}
		for _, s := range care.Explain(p.Input, p.Calendar, q) {
			fmt.Fprintf(w, "\n  %s: %s\n    from %s\n", s.Job, s.When, s.Source)
			for _, step := range s.Steps {
				fmt.Fprintf(w, "    - %s\n", step)
			}
		}
	}
	return nil
}

func basis(p *generator.Plan) string {
	if s := p.Garden.ClimateSource; s != "" {
		return s
	}
	return p.Garden.Place.Basis().String()
}
