// Package words holds what the program says in a booklet, in the language of
// the booklet: a file of texts for each language, with named places for what
// changes, plurals by the rules of CLDR, and the words for days, amounts and
// windows. In go the files ([Load]), out come [Words], which every package asks
// that has something to print. Messages, reports and the forms of files are the
// program's own and stay English.
//
// A text is called by the keys under which its file has it, from the outermost
// to its own, with full stops between them: "nav.months".
package words

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
)

// Words are the texts of one language. They never change and may be used from
// many goroutines at once.
type Words struct {
	// Lang is the language as BCP 47 writes it: "de", "en-GB".
	Lang  string
	tag   language.Tag
	texts map[string]text
}

// A text is what stands under one key.
type text struct {
	plain string
	forms map[plural.Form]string // instead of plain, by the number n
	list  []string               // instead of both
}

// A Phrase is something to say, in no language yet: a key of the words and the
// names and values of its places.
type Phrase struct {
	Key    string
	Values []any
}

// Of makes a phrase.
func Of(key string, values ...any) Phrase { return Phrase{key, values} }

// In says the phrase.
func (p Phrase) In(w *Words) string { return w.Say(p.Key, p.Values...) }

// place is a named place of a text: {plant}.
var place = regexp.MustCompile(`\{([a-z]+)\}`)

// Say gives the text of a key with its places filled: names and values by
// turns. A value is a text, or a number, which is written as the language writes
// numbers; the number n chooses among plural forms. A key that there is not is
// given back in brackets: a test holds every key in the code to the files.
func (w *Words) Say(key string, values ...any) string {
	t, ok := w.texts[key]
	if !ok {
		return "[" + key + "]"
	}
	said := t.plain
	if t.forms != nil {
		said = t.forms[plural.Other]
		for i := 0; i+1 < len(values); i += 2 {
			if values[i] != "n" {
				continue
			}
			if form, ok := t.forms[w.plural(figures(values[i+1]))]; ok {
				said = form
			}
		}
	}
	if !strings.Contains(said, "{") {
		return said
	}
	var b strings.Builder
	for {
		before, rest, more := strings.Cut(said, "{")
		b.WriteString(before)
		if !more {
			return b.String()
		}
		name, after, _ := strings.Cut(rest, "}")
		filled := "{" + name + "}"
		for i := 0; i+1 < len(values); i += 2 {
			if values[i] != name {
				continue
			}
			var ok bool
			if filled, ok = values[i+1].(string); !ok {
				filled = w.Figures(figures(values[i+1]))
			}
			break
		}
		b.WriteString(filled)
		said = after
	}
}

// Has tells whether there is a text of a key.
func (w *Words) Has(key string) bool {
	_, ok := w.texts[key]
	return ok
}

// Term is the word for one of the words that files are written in, such as a
// job or a kind of soil; a word of the writer's own stays as it is.
func (w *Words) Term(group, word string) string {
	if key := group + "." + word; w.Has(key) {
		return w.Say(key)
	}
	return word
}

// List gives the texts of a key that has several.
func (w *Words) List(key string) []string { return w.texts[key].list }

// Forms gives the text of a key for a script: a text, or its plural forms by
// their names in CLDR, or a list.
func (w *Words) Forms(key string) any {
	t, ok := w.texts[key]
	switch {
	case !ok:
		return "[" + key + "]"
	case t.list != nil:
		return t.list
	case t.forms == nil:
		return t.plain
	}
	out := map[string]string{}
	for name, form := range categories() {
		if s, ok := t.forms[form]; ok {
			out[name] = s
		}
	}
	return out
}

// All gives every form of a text, or every part of one that has several.
func (w *Words) All(key string) []string { return w.texts[key].all() }

// categories are the plural categories of CLDR.
func categories() map[string]plural.Form {
	return map[string]plural.Form{"zero": plural.Zero, "one": plural.One, "two": plural.Two, "few": plural.Few, "many": plural.Many, "other": plural.Other}
}

// figures writes a number with a full stop and no more decimals than it has.
func figures(v any) string {
	switch v := v.(type) {
	case int:
		return strconv.Itoa(v)
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return fmt.Sprint(v)
}

// plural finds the form for a number in figures, by the operands of CLDR: its
// whole part, and its decimals with and without noughts at the end (Unicode
// Technical Standard 35, part 3, Plural Operand Meanings).
func (w *Words) plural(number string) plural.Form {
	// Texts such as "2½" or "12 to 14" are many of what they count.
	whole, decimals, _ := strings.Cut(number, ".")
	i, err := strconv.Atoi(whole)
	if err != nil {
		return plural.Other
	}
	f, _ := strconv.Atoi(decimals)
	short := strings.TrimRight(decimals, "0")
	t, _ := strconv.Atoi(short)
	const enough = 10000000 // MatchPlural wants numbers that fit
	return plural.Cardinal.MatchPlural(w.tag, int(math.Abs(float64(i)))%enough, len(decimals), len(short), f, t)
}

// Figures writes a number that stands in figures with the language's decimal
// sign.
func (w *Words) Figures(number string) string {
	return strings.Replace(number, ".", w.Say("number.decimal"), 1)
}

// Month is the name of a month; MonthShort is its short form for charts and
// MonthInitial its first letter.
func (w *Words) Month(m time.Month) string        { return w.of("month.names", m) }
func (w *Words) MonthShort(m time.Month) string   { return w.of("month.short", m) }
func (w *Words) MonthInitial(m time.Month) string { return w.of("month.initials", m) }

func (w *Words) of(key string, m time.Month) string {
	if list := w.List(key); len(list) == 12 {
		return list[m-1]
	}
	return "[" + key + "]"
}

// Day writes a day of every year: "12 March".
func (w *Words) Day(m time.Month, day int) string {
	return w.Say("date.day", "day", day, "month", w.Month(m))
}

// Date writes a day of one year: "12 March 2027".
func (w *Words) Date(year int, m time.Month, day int) string {
	return w.Say("date.full", "day", day, "month", w.Month(m), "year", strconv.Itoa(year))
}

// MonthOf writes a month of one year: "March 2027".
func (w *Words) MonthOf(year int, m time.Month) string {
	return w.Say("date.month", "month", w.Month(m), "year", strconv.Itoa(year))
}

// To joins the two ends of a span: "12 March to 23 April".
func (w *Words) To(from, to string) string { return w.Say("span", "from", from, "to", to) }

// And lists words: "a, b and c"; Or with the other word at the end.
func (w *Words) And(words []string) string { return w.join(words, "list.and") }
func (w *Words) Or(words []string) string  { return w.join(words, "list.or") }

func (w *Words) join(words []string, last string) string {
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return words[0]
	default:
		return w.Say(last, "list", strings.Join(words[:n-1], w.Say("list.between")+" "), "last", words[n-1])
	}
}

// Capital begins a text with a capital letter.
func Capital(s string) string {
	if s == "" {
		return s
	}
	r, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[size:]
}

// Small writes words that began a line as they stand inside one: in small
// letters, unless the language writes its nouns with capitals.
func (w *Words) Small(s string) string {
	if w.nouns() {
		return s
	}
	return strings.ToLower(s)
}

// Inner is Small for the first word of a sentence alone. An abbreviation or a
// name of one letter keeps its capital.
func (w *Words) Inner(s string) string {
	r := []rune(s)
	if w.nouns() || len(r) < 2 || (r[1] < 'a' || r[1] > 'z') && r[1] != ' ' {
		return s
	}
	return strings.ToLower(string(r[0])) + string(r[1:])
}

func (w *Words) nouns() bool { return w.Say("grammar.nouns") == "capital" }

// Quoted gives a text whose double quotation marks were set the English way,
// “so”, the marks of the language.
func (w *Words) Quoted(s string) string {
	if !strings.Contains(s, "”") {
		return s
	}
	return quoted.ReplaceAllStringFunc(s, func(q string) string {
		return w.Say("quote", "text", strings.TrimSuffix(strings.TrimPrefix(q, "“"), "”"))
	})
}

var quoted = regexp.MustCompile(`“[^“”„]*”`)

// Keys are the keys of all texts, sorted.
func (w *Words) Keys() []string {
	var out []string
	for k := range w.texts {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}
