package garden

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"sheaf/generator/entries"
	"sheaf/generator/fields"
	"sheaf/generator/site"
)

// A Beginning is what is known of a garden before anyone answered for it.
type Beginning struct {
	Name  string
	List  string // file name of the plant list
	Sheet string // of a workbook; "" when none was named
	Date  site.Day
	Beds  []string
}

// Guess is the latitude a new garden is given so that it can be built at once:
// the middle of the British Isles, whose mild coastal climate dates rest on
// until a place is given.
const Guess = 52

// BedsOf gives the beds of a list in the order in which they come.
func BedsOf(rows []Row) []string {
	var out []string
	seen := map[string]bool{}
	for _, r := range rows {
		name := r.Bed.Value
		if low := strings.ToLower(name); name != "" && !seen[low] {
			seen[low] = true
			out = append(out, name)
		}
	}
	return out
}

// Draft writes the garden.yaml of a garden that begins. What is not known is a
// question beside an answer that is commented out; only what a booklet cannot
// do without is given a value, and said to be a guess.
func (b Beginning) Draft() []byte {
	var out strings.Builder
	line := func(s, beside string) {
		if beside != "" {
			s += strings.Repeat(" ", max(1, questions-utf8.RuneCountInString(s))) + "# " + beside
		}
		out.WriteString(s + "\n")
	}
	words := func(of []string) string {
		return strings.Join(of[:len(of)-1], ", ") + " or " + of[len(of)-1] + "?"
	}
	line("# A garden to fill in. Questions stand on the right. Where a line begins with #,", "")
	line("# take the # away and put your answer in place of what is there.", "")
	line("garden: "+fields.Quote(b.Name), "")
	line("# for: the owners", "for whom is the booklet?")
	line("# by: a designer", "who made the garden?")
	line("date: "+b.Date.String(), "when is it handed over? today, until you say")
	line("skill: owner", "who does the work? "+words(skills())+" an owner takes longer")
	line("years: 1", "how many years should the booklet cover?")
	line("site:", "")
	line("  # country: GB", "which country? for nesting season, rules, paper and units")
	line(fmt.Sprintf("  latitude: %d", Guess), "where is it? degrees north, minus if south; a guess")
	line("  # elevation: 26 m", "how high above the sea?")
	line("  # The dates of all work come from the climate. Without it they are those of a", "")
	line("  # mild coastal place. Best are the normals of the nearest weather station:", "")
	line("  # normals:", "")
	line("  #   min: [twelve figures]", "the mean minimum of each month, January first?")
	line("  #   max: [twelve figures]", "the mean maximum?")
	line("  #   unit: °C", "")
	line("  #   source: a weather service", "who published them?")
	line("  # Or what people there know:", "")
	line("  # frost:", "")
	line("  #   last: 18 April", "when is the last frost of spring?")
	line("  #   first: 2 November", "when is the first frost of autumn?")
	line("  # coldest-night: -7 °C", "how cold is the lowest night of an average winter?")
	bed := func(mark, name, beside string) {
		line(mark+"  - bed: "+fields.Quote(name), beside)
		indent := "    # "
		if mark != "" {
			indent = mark + "    "
		}
		line(indent+"light: part shade", words(entries.Light()))
		line(indent+"soil: moist", words(entries.Soil()))
		line(indent+"fertility: average", words(entries.Fertility()))
		line(indent+"exposure: sheltered", words(entries.Exposure()))
		line(indent+"area: 14 m²", "how large is it?")
	}
	if len(b.Beds) == 0 {
		line("# beds:", "the list names none; what is each like?")
		bed("# ", "Courtyard", "")
	} else {
		line("beds:", "as the list has them; what is each like?")
	}
	for _, name := range b.Beds {
		bed("", name, "")
	}
	line("plants: "+fields.Quote(b.List), "")
	if b.Sheet != "" {
		line("sheet: "+fields.Quote(b.Sheet), "")
	}
	line("# contacts:", "whom can the owners ask?")
	line("#   - name: a name", "")
	line("#     text: when and how to reach them", "")
	return []byte(out.String())
}

// questions is the column in which questions begin.
const questions = 34

// FileName is what a list is called that came without a name.
func FileName(text []byte) string {
	if isWorkbook(text) {
		return "plants.xlsx"
	}
	return "plants.csv"
}
