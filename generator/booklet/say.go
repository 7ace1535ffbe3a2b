package booklet

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"sheaf/generator/care"
	"sheaf/generator/entries"
	"sheaf/generator/measure"
	"sheaf/generator/names"
	"sheaf/generator/prose"
	"sheaf/generator/site"
)

// How the booklet says things: dates, amounts, quantities. One place, so that
// every page says them alike.

// day writes "12 March", or "March 12" for American readers.
func day(d site.Day, u measure.Units) string {
	_, m, n := d.Civil()
	if u == measure.US {
		return fmt.Sprintf("%s%s%d", m, measure.Space, n)
	}
	return fmt.Sprintf("%d%s%s", n, measure.Space, m)
}

// dated is day with the year.
func dated(d site.Day, u measure.Units) string {
	if u == measure.US {
		return fmt.Sprintf("%s,%s%d", day(d, u), measure.Space, d.Year())
	}
	return fmt.Sprintf("%s%s%d", day(d, u), measure.Space, d.Year())
}

// span writes a window: "12 March to 23 April", with the year where it is not
// the given one.
func span(from, to site.Day, year int, u measure.Units) string {
	switch {
	case from == to && from.Year() == year:
		return day(from, u)
	case from == to:
		return dated(from, u)
	case from.Year() != to.Year():
		return dated(from, u) + " to " + dated(to, u)
	case from.Year() != year:
		return day(from, u) + " to " + dated(to, u)
	}
	return day(from, u) + " to " + day(to, u)
}

// within says a window as seen from one month.
func within(from, to site.Day, m care.Month, u measure.Units) string {
	starts, ends := from >= m.First, to <= m.Last
	switch {
	case from <= m.First && to >= m.Last:
		return "all month"
	case starts && ends && from == to:
		return day(from, u)
	case starts && ends:
		_, _, n := from.Civil()
		if u == measure.US {
			_, _, k := to.Civil()
			return fmt.Sprintf("%s to%s%d", day(from, u), measure.Space, k)
		}
		return fmt.Sprintf("%d%sto %s", n, measure.Space, day(to, u))
	case starts:
		return "from " + day(from, u)
	}
	return "until " + day(to, u)
}

// howMany says a quantity: plants, or metres of hedge.
func howMany(q float64, e *entries.Entry, u measure.Units) string {
	n := strconv.FormatFloat(q, 'f', -1, 64)
	switch {
	case e.Type == "hedge" && u == measure.US:
		return fmt.Sprintf("%.0f%sft of hedge", math.Round(q/0.3048), measure.Space)
	case e.Type == "hedge":
		return n + measure.Space + "m of hedge"
	case e.Type == "bulb" && q > 1:
		return n + measure.Space + "bulbs"
	case q == 1:
		return "1" + measure.Space + "plant"
	}
	return n + measure.Space + "plants"
}

// hands puts a length beside a hand, for those without a rule in the pocket:
// a palm is about 9 cm broad and a hand about 19 cm long, between the means of
// men and women (from memory; anthropometric handbooks give 7.5 to 9 cm
// without the thumb, 17 to 20 cm). Printed with "about".
func hands(l measure.Length) string {
	if l.IsZero() {
		return ""
	}
	switch mid := (l.Low + l.High) / 2; {
	case mid >= 3 && mid < 6:
		return "two or three fingers"
	case mid >= 7.5 && mid <= 12:
		return "a hand's width"
	case mid >= 16 && mid <= 23:
		return "a hand's length"
	}
	return ""
}

// amount says what stays: "Leave 8 to 10 cm, about a hand's width".
func amount(l measure.Leave, u measure.Units) string {
	if l.IsZero() {
		return ""
	}
	out := "Leave " + l.Print(u)
	if l.Fraction > 0 {
		out += " of the height"
	}
	if h := hands(l.Length); h != "" {
		out += ", about " + h
	}
	return out
}

// action is the sentence of a check list: the verb in front, the rest with the
// height of a cut, and apart from it what stays when that needs words.
func action(j *entries.Job, plant string, l measure.Leave, u measure.Units) (verb, rest, leave string) {
	verb, after, _ := strings.Cut(j.Action, "{plant}")
	rest = plant + after
	switch {
	case l.IsZero():
	case !l.Length.IsZero() && j.Family == "cut" && strings.TrimSpace(after) == "":
		rest += " to " + l.Print(u)
	case l.Fraction > 0:
		leave = "Leave " + l.Print(u) + " of the height"
	default:
		leave = "Leave " + l.Print(u)
	}
	return strings.TrimSpace(verb), rest, leave
}

// amounted turns the amounts of a text of the booklet's own into the garden's
// units.
func (c *composer) amounted(text string) string {
	if c.units == measure.US {
		return measure.Customary(text)
	}
	return text
}

// window says a window in the booklet's English.
func (c *composer) window(w site.Window) string {
	if c.units == measure.US {
		return w.American()
	}
	return w.String()
}

// authority is whom to ask about rules of a place.
func (c *composer) authority() string {
	if c.units == measure.US {
		return "city or county"
	}
	return "council"
}

// yard in metres, exact (NIST SP 811).
const yard = 0.9144

// times says how long a job takes, for one and for all.
func (c *composer) times(per, all measure.Minutes, q float64, e *entries.Entry) string {
	if all == (measure.Minutes{}) {
		return ""
	}
	each := "a plant"
	switch {
	case e.Type == "hedge" && c.units == measure.US:
		each, per = "a yard", per.Times(yard)
	case e.Type == "hedge":
		each = "a metre"
	}
	if q <= 1 {
		return capital(all.Print()) + "."
	}
	return fmt.Sprintf("%s %s, %s for all.", capital(per.Print()), each, all.Print())
}

func capital(s string) string {
	if s == "" {
		return s
	}
	r := []rune(s)
	return strings.ToUpper(string(r[0])) + string(r[1:])
}

// botanical sets a name by the Codes: genus and epithets italic, the rest
// roman, selling names in small capitals.
func botanical(n names.Name) []prose.Run {
	var out []prose.Run
	for _, r := range n.Runs() {
		out = append(out, prose.Run{Text: r.Text, Italic: r.Style == names.Italic, SmallCaps: r.Style == names.SmallCaps})
	}
	return out
}

// list joins words: "a, b and c"; either joins them with or.
func list(words []string) string   { return joined(words, " and ") }
func either(words []string) string { return joined(words, " or ") }

func joined(words []string, last string) string {
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], ", ") + last + words[n-1]
	}
}

func lastRune(s string) rune {
	r, _ := utf8.DecodeLastRuneInString(s)
	return r
}

// sentence ends a text with a full stop if nothing ends it.
func sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" || strings.ContainsRune(".?!…", lastRune(strings.TrimRight(s, `"”’)`))) {
		return s
	}
	return s + "."
}
