package booklet

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"sheaf/generator/entries"
	"sheaf/generator/measure"
	"sheaf/generator/names"
	"sheaf/generator/prose"
	"sheaf/generator/site"
	"sheaf/generator/words"
)

// How the booklet says things: dates, amounts, quantities. One place, so that
// every page says them alike.

// day writes "12 March".
func (c *composer) day(d site.Day) string {
	_, m, n := d.Civil()
	return c.Words.Day(m, n)
}

// dated is day with the year.
func (c *composer) dated(d site.Day) string {
	y, m, n := d.Civil()
	return c.Words.Date(y, m, n)
}

// span writes a window: "12 March to 23 April", with the year where it is not
// that of the booklet.
func (c *composer) span(from, to site.Day) string {
	switch {
	case from == to && from.Year() == c.year:
		return c.day(from)
	case from == to:
		return c.dated(from)
	case from.Year() != to.Year():
		return c.Words.To(c.dated(from), c.dated(to))
	case from.Year() != c.year:
		return c.Words.To(c.day(from), c.dated(to))
	}
	return c.Words.To(c.day(from), c.day(to))
}

// briefly is a window in short months, with the year of its end.
func (c *composer) briefly(from, to site.Day) string {
	year, month, n := to.Civil()
	end := c.Words.Say("date.full", "day", n, "month", c.Words.MonthShort(month), "year", fmt.Sprint(year))
	if from == to {
		return end
	}
	return c.Words.To(c.dayShort(from), end)
}

// short is a window of one year in short months.
func (c *composer) short(from, to site.Day) string {
	if from == to {
		return c.dayShort(from)
	}
	return c.Words.To(c.dayShort(from), c.dayShort(to))
}

func (c *composer) dayShort(d site.Day) string {
	_, m, n := d.Civil()
	return c.Words.Say("date.day", "day", n, "month", c.Words.MonthShort(m))
}

// howMany says a quantity: plants, or metres of hedge.
func (c *composer) howMany(q float64, e *entries.Entry) string {
	switch {
	case e.Type == "hedge" && c.units == measure.US:
		return c.Words.Say("many.feet of hedge", "n", math.Round(q/0.3048))
	case e.Type == "hedge":
		return c.Words.Say("many.metres of hedge", "n", math.Round(q*10)/10) // a list may be in feet
	case e.Type == "bulb" && q > 1:
		return c.Words.Say("many.bulbs", "n", q)
	}
	return c.Words.Say("many.plants", "n", q)
}

// hands puts a length beside a hand, for those without a rule in the pocket:
// a palm is about 9 cm broad and a hand about 19 cm long, between the means of
// men and women (from memory; anthropometric handbooks give 7.5 to 9 cm
// without the thumb, 17 to 20 cm). Printed with "about".
func (c *composer) hands(l measure.Length) string {
	if l.IsZero() {
		return ""
	}
	switch mid := (l.Low + l.High) / 2; {
	case mid >= 3 && mid < 6:
		return c.Words.Say("hand.fingers")
	case mid >= 7.5 && mid <= 12:
		return c.Words.Say("hand.width")
	case mid >= 16 && mid <= 23:
		return c.Words.Say("hand.length")
	}
	return ""
}

// amount says what stays: "Leave 8 to 10 cm, about a hand's width".
func (c *composer) amount(l measure.Leave) string {
	if l.IsZero() {
		return ""
	}
	if h := c.hands(l.Length); h != "" {
		return c.Words.Say("leave.by hand", "amount", l.Say(c.units, c.Words), "hand", h)
	}
	return c.leave(l)
}

// leave is amount without a hand to measure it by.
func (c *composer) leave(l measure.Leave) string {
	if l.Fraction > 0 {
		return c.Words.Say("leave.part", "part", l.Say(c.units, c.Words))
	}
	return c.Words.Say("leave.amount", "amount", l.Say(c.units, c.Words))
}

// action is the sentence of a check list: the verb in front, the rest with the
// height of a cut, and apart from it what stays when that needs words.
func (c *composer) action(j *entries.Job, plant string, l measure.Leave) (verb, rest, leave string) {
	verb, after, _ := strings.Cut(j.Does(c.Words), "{plant}")
	rest = plant + after
	switch {
	case l.IsZero():
	case !l.Length.IsZero() && j.Family == "cut" && strings.TrimSpace(after) == "":
		rest = c.Words.Say("cut to", "plant", rest, "length", l.Say(c.units, c.Words))
	default:
		leave = c.leave(l)
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

// bulk is a volume of what is laid on a bed.
func (c *composer) bulk(litres float64) string {
	const mulch = "mulch "
	return strings.TrimPrefix(c.amounted(mulch+c.Words.Say("unit.litres", "n", litres)), mulch)
}

// yard in metres, exact (NIST SP 811).
const yard = 0.9144

// times says how long a job takes, for one of some plants and for all.
func (c *composer) times(all measure.Minutes, q float64, e *entries.Entry) string {
	if all == (measure.Minutes{}) {
		return ""
	}
	if q <= 1 {
		return capital(all.Say(c.Words)) + "."
	}
	key, per := "times.plant", all.Times(1/q)
	switch {
	case e.Type == "hedge" && c.units == measure.US:
		key, per = "times.yard", per.Times(yard)
	case e.Type == "hedge":
		key = "times.metre"
	}
	return c.Words.Say(key, "each", capital(per.Say(c.Words)), "all", all.Say(c.Words))
}

func capital(s string) string { return words.Capital(s) }

// botanical sets a name by the Codes: genus and epithets italic, the rest
// roman, selling names in small capitals.
func botanical(n names.Name) []prose.Run {
	var out []prose.Run
	for _, r := range n.Runs() {
		out = append(out, prose.Run{Text: r.Text, Italic: r.Style == names.Italic, SmallCaps: r.Style == names.SmallCaps})
	}
	return out
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
