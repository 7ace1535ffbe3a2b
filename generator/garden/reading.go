package garden

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"sheaf/generator/names"
	"sheaf/generator/source"
)

// Lists are written by hand and read by people who know plants: Hosta Blue Angel,
// G. macrorrhizum below a row of Geranium, Phormiums, Calam. Karl F. What such a
// row means hangs on what genera and epithets there are. A reading writes it out
// as the Codes have it, by what the library and the other rows of the list know,
// before it is parsed; what it cannot tell it leaves as it was typed.

// A reading is a row's text as it is meant.
type reading struct {
	text    string
	span    source.Span // of the row
	told    source.Diagnostics
	slip    bool   // the genus was misspelt
	written string // the genus as it was written, where another is read
	guess   bool   // words were read for others, or left out, that may be part of the name
}

// note tells of something that was read otherwise than it stands.
func (r *reading) note(format string, args ...any) {
	r.told.Add(source.Note, "list/name-form", r.span, fmt.Sprintf(format, args...))
}

func isWord(s string) bool {
	return s != "" && strings.IndexFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && r != '-' && r != '.' }) < 0
}

var (
	// latin tells a word that looks like an epithet from English by its ending
	// (common practice, no source): asked only of words that nobody knows.
	latin = regexp.MustCompile(`(?i)(?:a|i|o|us|um|is|os|on|ns|x|or|er|ys|es|ae|ale|are|ile|ense|estre|oides)$`)
	// looks are epithets that cultivars have as often as species do.
	looks  = regexp.MustCompile(`(?i)^(?:alb|aure|nan|rose|rubr|plen|superb|purpure|atropurpure|variegat|compact|pendul|fastigiat|elegantissim|splendens|grandiflor|marginat|argente|coccine|lute|caerule|gracillim|magnific|robust|major|minor|prostrat|nigr|viridis|sulphure|violace|pyramidal)(?:a|us|um|is|e)?$`)
	notes  = regexp.MustCompile(`[*†‡§¹²³⁴#]+`)
	from   = regexp.MustCompile(`\s+ex\s+(?:\p{Lu}\S*\s*)+$`)
	either = regexp.MustCompile(`^(.*?\S)(?:\s+or\s+|\s*/\s*)(\S.*)$`)
	// stuck is a quoted cultivar without a space before it: purpurea'The King'.
	stuck = regexp.MustCompile(`(\p{Ll}{3})(['‘"“„]\p{Lu})`)
	// orCultivar is the same as either behind a cultivar in quotes.
	orCultivar = regexp.MustCompile(`^(.*?['’"”])\s*(?:,?\s+or\s+|\s*/\s*)(['‘"“\p{L}].*)$`)
)

// read gives what a row means.
func (x *keys) read(row *Row, list *wordsOfList, at int) reading {
	r := reading{text: row.Plant, span: row.Span}
	text := strings.TrimSpace(r.text)
	if t := strings.TrimSpace(notes.ReplaceAllString(text, " ")); t != "" {
		text = t
	}
	text = stuck.ReplaceAllString(text, "$1 $2")
	if rose, climbs := climbingRose(text); climbs {
		r.note("read as %s: its climbing form", rose)
		text, r.guess = rose, true
	}
	if name, aside := x.withoutAside(text); aside != "" {
		r.note("%q left out: how the plant is bought or grown, not part of the name", aside)
		text = name
	}
	of := either
	if strings.ContainsAny(text, "'‘’‚`´\"“”„«»") {
		of = orCultivar
	}
	if m := of.FindStringSubmatch(text); m != nil {
		r.note("%q is left out: one of two that are named", m[2])
		text, r.guess = m[1], true
	}
	if m := from.FindString(text); m != "" {
		r.note("%q left out: where it is from", strings.TrimSpace(m))
		text = strings.TrimSuffix(text, m)
	}
	sign, words := "", strings.Fields(text)
	if len(words) > 1 && (words[0] == "×" || words[0] == "x" || words[0] == "X" || words[0] == "+") {
		sign, words = words[0]+" ", words[1:]
	}
	if len(words) == 0 {
		return r
	}
	if n, e := x.byCommonName(words); e != nil {
		r.note("%q read as %s: its English name", strings.Join(words[:n], " "), e.Name.Value)
		r.guess = true
		r.text = strings.Join(append([]string{e.Name.Value.String()}, words[n:]...), " ")
		return r
	}
	genus, how := x.genus(words, list, at)
	switch {
	case genus == "" || genus == strings.ToLower(words[0]):
		genus = strings.ToLower(words[0])
	case how == slipOfGenus:
		r.slip, r.written = true, words[0]
		r.told.Add(source.Warning, "list/spelling", r.span, fmt.Sprintf("%s is taken to be %s", words[0], titled(genus)), ifRight)
		words[0] = titled(genus)
	default:
		r.written, r.guess = words[0], how != plainLetters
		r.note("%q read as %s: %s", words[0], titled(genus), how)
		words[0] = titled(genus)
	}
	r.text = sign + strings.Join(x.parts(genus, words, list, &r), " ")
	return r
}

// unaccented writes a word in plain letters.
func unaccented(word string) string {
	parts := strings.Split(word, "-")
	for i, p := range parts {
		parts[i] = names.Folded(p)
	}
	return strings.Join(parts, "-")
}

func titled(genus string) string {
	r, n := utf8.DecodeRuneInString(genus)
	return string(unicode.ToUpper(r)) + genus[n:]
}

// parts writes what follows the genus: epithets that are known, and a cultivar in
// quotes. What holds quotes already, or is all in capitals, is left to the parser.
func (x *keys) parts(genus string, words []string, list *wordsOfList, r *reading) []string {
	i, out := 1, words[:1:1]
	if len(words) == 2 || strings.ToUpper(words[0]) == words[0] { // GERANIUM ROZANNE, Geranium (Rozanne)
		if rest := strings.Trim(strings.Join(words[1:], " "), "()[]"); !strings.ContainsAny(rest, "'‘’\"“”()") && x.cultivarOf(genus, rest) && !x.knows(genus, strings.ToLower(rest)) {
			return []string{words[0], "'" + rest + "'"}
		}
	}
	if strings.ToUpper(words[0]) == words[0] && len(words[0]) > 1 && r.written == "" {
		return words
	}
	epithets := 0
	for ; i < len(words); i++ {
		w := words[i]
		low := strings.ToLower(w)
		if folded := strings.ToLower(unaccented(w)); x.knows(genus, folded) {
			w, low = folded, folded
		}
		switch {
		case low == "x" || w == "×":
			out = append(out, w)
			continue
		case apostrophe.MatchString(w) || i+1 < len(words) && title.MatchString(w):
			return append(out, x.asCultivar(genus, out, words[i:], r)...)
		case !isWord(w) || epithets == 2 || rankWord.MatchString(low) || aboutKind.MatchString(low):
			return append(out, words[i:]...) // the parser's
		case i+1 < len(words) && groupWord.MatchString(strings.ToLower(words[i+1])) && (!x.knows(genus, low) || x.group(genus, low)):
			return append(append(out, titled(low)), words[i+1:]...) // a Group, in whatever letters
		case strings.HasSuffix(w, ".") && epithets == 0 && w == low:
			if full := cmp.Or(x.epithet(genus, strings.TrimSuffix(w, ".")), list.epithet(genus, strings.TrimSuffix(w, "."))); full != "" {
				r.note("%q read as %s", w, full)
				r.guess = true
				out = append(out, full)
				epithets++
				continue
			}
			if i+1 < len(words) { // an epithet that nobody can write out
				r.note("%q left out: it stands for more than one name", w)
				r.guess = true
				continue
			}
			return append(out, words[i:]...)
		case strings.HasSuffix(w, "."):
			return append(out, words[i:]...)
		}
		if i+1 < len(words) && epithets == 0 { // Felix Mas
			if joined := low + "-" + strings.ToLower(words[i+1]); x.knows(genus, joined) || x.slipOfJoined(genus, joined) {
				out = append(out, joined)
				epithets++
				i++
				continue
			}
		}
		known := x.knows(genus, low) || list.epithets[genus+" "+low] || x.slipOf(genus, low)
		switch {
		case known:
			out = append(out, low)
			epithets++
			continue
		case x.mayBeEpithet(genus, words[i:], epithets == 0):
			out = append(out, w)
			epithets++
			continue
		}
		return append(out, x.asCultivar(genus, out, words[i:], r)...)
	}
	return out
}

// mayBeEpithet tells, of words behind a genus or its epithet, whether the first is an
// epithet that nobody here knows: by its small letter and its ending, or as the only
// one before a cultivar. A capital one must be an epithet of some genus: Hosta Halcyon
// is no species.
func (x *keys) mayBeEpithet(genus string, words []string, first bool) bool {
	w, low := words[0], strings.ToLower(words[0])
	last := len(words) == 1
	switch {
	case w == low && latin.MatchString(low):
		return true
	case !first || x.cultivarOf(genus, strings.Join(words, " ")):
		return false
	case w == low: // Galium aparine, and not Hosta blue angel
		return last || words[1] != strings.ToLower(words[1])
	}
	return !looks.MatchString(low) && x.epithets()[low]
}

var (
	// apostrophe is a word of a cultivar with an apostrophe in it: Jackman's, d'Or.
	apostrophe = regexp.MustCompile(`^\p{L}+['’]\p{L}+$`)
	title      = regexp.MustCompile(`^(?:Mrs|Mr|Dr|Mme|St|Ste|Prof|Frau|Mlle|Gen|Col|Sir)\.?$`)
	rankWord   = regexp.MustCompile(`^(?:subsp|ssp|var|f|fo|forma|cv|convar|subvar|syn)\.?$`)
	aboutKind  = regexp.MustCompile(`^(?:spp?|species|hybrids?|cvs?|mix(?:ed|ture)?|varieties|cultivars?|seedlings?|in|agg|cf|aff|assorted|various)\.?$`)
)

// asCultivar puts quotes round the words that are left, if they can be the name of
// a cultivar; small words behind a species are a remark, unless it is one's name.
func (x *keys) asCultivar(genus string, before, words []string, r *reading) []string {
	if i := slices.IndexFunc(words, func(w string) bool { return w[0] == '(' || w[0] == '[' }); i > 0 { // what is in brackets is the parser's
		return append(x.asCultivar(genus, before, words[:i:i], r), words[i:]...)
	}
	for i, w := range words {
		if apostrophe.MatchString(w) {
			words[i] = strings.Replace(w, "'", "’", 1)
		}
	}
	text := strings.Join(words, " ")
	low := strings.ToLower(text)
	switch {
	case !x.held(genus) && !unicode.IsUpper([]rune(words[0])[0]):
		return words // of a genus that nobody knows
	case strings.ContainsAny(apostrophes.ReplaceAllString(text, ""), "'‘’\"“”„()[]=«»®™,+×"), groupWord.MatchString(low):
		return words
	case text == low && len(before) > 1 && !x.cultivarOf(genus, text):
		r.note("%q left out: read as a remark", text)
		r.guess = true
		return nil
	case text == strings.ToUpper(text) && len(text) > 3:
		return words // a selling name
	}
	if abbreviated := strings.HasSuffix(text, "."); abbreviated {
		if full := x.cultivarBegins(genus, strings.TrimSuffix(text, ".")); full != "" {
			r.note("%q read as ‘%s’", text, full)
			r.guess = true
			return []string{"'" + full + "'"}
		}
	}
	for i, w := range words {
		if w == strings.ToLower(w) && (i == 0 || !smallWord.MatchString(w)) {
			words[i] = titled(w)
		}
	}
	text = strings.Join(words, " ")
	n, _, err := names.Parse(titled(genus) + " '" + text + "'")
	if err != nil || n.Cultivar == "" {
		return words
	}
	r.note("%q read as the cultivar ‘%s’", text, n.Cultivar)
	return []string{"'" + text + "'"}
}

var (
	apostrophes = regexp.MustCompile(`\b’\b`)
	groupWord   = regexp.MustCompile(`\b(?:group|grp|gp|grex|strain|series)\b`)
	smallWord   = regexp.MustCompile(`^(?:&|a|am|an|and|at|de|der|des|du|in|la|le|les|of|on|the|to|van|von)$`)
)
