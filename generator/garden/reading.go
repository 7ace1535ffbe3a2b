package garden

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"sheaf/generator/entries"
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
	told    source.Diagnostics
	slip    bool   // the genus was misspelt
	written string // the genus as it was written, where another is read
	guess   bool   // words were read for others, or left out, that may be part of the name
}

// The list's own words, as far as other rows may refer to them.
type wordsOfList struct {
	genera   [][]string // of the rows before each row, the nearest first, each once
	epithets map[string]bool
}

// wordsOf reads the genera and epithets of a list: an epithet is a lower-case word
// behind a genus.
func wordsOf(rows []Row) wordsOfList {
	w := wordsOfList{genera: make([][]string, len(rows)), epithets: map[string]bool{}}
	var before []string
	for i, r := range rows {
		w.genera[i] = before
		f := strings.Fields(r.Plant)
		if len(f) == 0 || !isWord(f[0]) || utf8.RuneCountInString(f[0]) < 4 || strings.HasSuffix(f[0], ".") {
			continue
		}
		genus := strings.ToLower(f[0])
		if len(before) == 0 || before[0] != genus {
			at := slices.Index(before, genus)
			next := make([]string, 0, len(before)+1)
			next = append(next, genus)
			for j, g := range before {
				if j != at && len(next) < mostBefore {
					next = append(next, g)
				}
			}
			before = next
		}
		if len(f) > 1 && isWord(f[1]) && f[1] == strings.ToLower(f[1]) && latin.MatchString(f[1]) {
			w.epithets[genus+" "+f[1]] = true
		}
	}
	return w
}

// epithet finds the one epithet of a genus in the list that begins so.
func (w *wordsOfList) epithet(genus, short string) string {
	found := ""
	for key := range w.epithets {
		if rest, ok := strings.CutPrefix(key, genus+" "); ok && strings.HasPrefix(rest, short) {
			if found != "" {
				return ""
			}
			found = rest
		}
	}
	return found
}

// mostBefore is how many genera an abbreviation may refer back to.
const mostBefore = 40

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
	// orCultivar is the same behind a cultivar in quotes.
	orCultivar = regexp.MustCompile(`^(.*?['’"”])\s*(?:,?\s+or\s+|\s*/\s*)(['‘"“\p{L}].*)$`)
)

// read gives what a row means.
func (x *keys) read(row *Row, list *wordsOfList, at int) reading {
	r := reading{text: row.Plant}
	note := func(code, message string, severity source.Severity, hints ...string) {
		r.told.Add(severity, code, row.Span, message, hints...)
	}
	text := strings.TrimSpace(r.text)
	if t := strings.TrimSpace(notes.ReplaceAllString(text, " ")); t != text && t != "" {
		text = t
	}
	text = spaced(text)
	if rose, climbs := climbingRose(text); climbs {
		note("list/name-form", fmt.Sprintf("read as %s: its climbing form", rose), source.Note)
		text, r.guess = rose, true
	}
	if name, aside := x.withoutAside(text); aside != "" {
		note("list/name-form", fmt.Sprintf("%q left out: how the plant is bought or grown, not part of the name", aside), source.Note)
		text = name
	}
	of := either
	if strings.ContainsAny(text, "'‘’‚`´\"“”„«»") {
		of = orCultivar
	}
	if m := of.FindStringSubmatch(text); m != nil {
		note("list/name-form", fmt.Sprintf("%q is left out: one of two that are named", m[2]), source.Note)
		text, r.guess = m[1], true
	}
	if m := from.FindString(text); m != "" {
		note("list/name-form", fmt.Sprintf("%q left out: where it is from", strings.TrimSpace(m)), source.Note)
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
		note("list/name-form", fmt.Sprintf("%q read as %s: its English name", strings.Join(words[:n], " "), e.Name.Value), source.Note)
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
		note("list/spelling", fmt.Sprintf("%s is taken to be %s", words[0], titled(genus)), source.Warning, ifRight)
		words[0] = titled(genus)
	default:
		r.written, r.guess = words[0], how != plainLetters
		note("list/name-form", fmt.Sprintf("%q read as %s: %s", words[0], titled(genus), how), source.Note)
		words[0] = titled(genus)
	}
	r.text = sign + strings.Join(x.parts(genus, words, list, &r, note), " ")
	return r
}

// spaced parts a quoted cultivar from the word before it: purpurea'The King'.
func spaced(s string) string {
	return stuck.ReplaceAllString(s, "$1 $2")
}

var stuck = regexp.MustCompile(`(\p{Ll}{3})(['‘"“„]\p{Lu})`)

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
func (x *keys) parts(genus string, words []string, list *wordsOfList, r *reading, note func(code, message string, severity source.Severity, hints ...string)) []string {
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
			return append(out, x.asCultivar(genus, out, words[i:], r, note)...)
		case !isWord(w) || epithets == 2 || rankWord.MatchString(low) || aboutKind.MatchString(low):
			return append(out, words[i:]...) // the parser's
		case i+1 < len(words) && groupWord.MatchString(strings.ToLower(words[i+1])) && (!x.knows(genus, low) || x.group(genus, low)):
			return append(append(out, titled(low)), words[i+1:]...) // a Group, in whatever letters
		case strings.HasSuffix(w, ".") && epithets == 0 && w == low:
			if full := cmp.Or(x.epithet(genus, strings.TrimSuffix(w, ".")), list.epithet(genus, strings.TrimSuffix(w, "."))); full != "" {
				note("list/name-form", fmt.Sprintf("%q read as %s", w, full), source.Note)
				r.guess = true
				out = append(out, full)
				epithets++
				continue
			}
			if i+1 < len(words) { // an epithet that nobody can write out
				note("list/name-form", fmt.Sprintf("%q left out: it stands for more than one name", w), source.Note)
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
		return append(out, x.asCultivar(genus, out, words[i:], r, note)...)
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
func (x *keys) asCultivar(genus string, before, words []string, r *reading, note func(code, message string, severity source.Severity, hints ...string)) []string {
	if i := slices.IndexFunc(words, func(w string) bool { return w[0] == '(' || w[0] == '[' }); i > 0 { // what is in brackets is the parser's
		return append(x.asCultivar(genus, before, words[:i:i], r, note), words[i:]...)
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
		note("list/name-form", fmt.Sprintf("%q left out: read as a remark", text), source.Note)
		r.guess = true
		return nil
	case text == strings.ToUpper(text) && len(text) > 3:
		return words // a selling name
	}
	if abbreviated := strings.HasSuffix(text, "."); abbreviated {
		if full := x.cultivarBegins(genus, strings.TrimSuffix(text, ".")); full != "" {
			note("list/name-form", fmt.Sprintf("%q read as ‘%s’", text, full), source.Note)
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
	note("list/name-form", fmt.Sprintf("%q read as the cultivar ‘%s’", text, n.Cultivar), source.Note)
	return []string{"'" + text + "'"}
}

var (
	apostrophes = regexp.MustCompile(`\b’\b`)
	groupWord   = regexp.MustCompile(`\b(?:group|grp|gp|grex|strain|series)\b`)
	smallWord   = regexp.MustCompile(`^(?:&|a|am|an|and|at|de|der|des|du|in|la|le|les|of|on|the|to|van|von)$`)
)

// How a genus is read otherwise than it is written.
const (
	slipOfGenus    = "a slip"
	shortGenus     = "the genus in short"
	vernacular     = "its English name"
	pluralOfGenus  = "a plural"
	beginsTheGenus = "how the genus begins"
	plainLetters   = "its plain letters"
)

// genus finds the genus that the first word of a row means, in small letters; ""
// when nobody can tell.
func (x *keys) genus(words []string, list *wordsOfList, at int) (genus, how string) {
	first := strings.ToLower(names.Folded(words[0]))
	next := epithetOf(words[1:])
	if short, ok := strings.CutSuffix(strings.ToLower(words[0]), "."); ok || utf8.RuneCountInString(words[0]) == 1 {
		return x.abbreviated(short, next, list, at), shortGenus
	}
	switch {
	case !isWord(words[0]), hybridGenus.MatchString(words[0]):
		return "", ""
	case (next == "" || strings.IndexAny(words[1], "'‘’\"“”„«»") == 0) && x.otherwise(first):
		return x.english().genera[first], vernacular
	case x.held(first) && first == strings.ToLower(words[0]):
		return first, ""
	case x.held(first):
		return first, plainLetters
	}
	_, phrase := x.english().plants[commonKey(strings.Join(words, " "))] // of two plants, so of neither
	english := !x.isCompound(words) && !(phrase && len(words) > 1)
	if g := x.english().genera[first]; g != "" && english {
		return g, vernacular
	}
	for _, one := range singulars(first) {
		if x.held(one) {
			return one, pluralOfGenus
		}
		if g := x.english().genera[one]; g != "" && english {
			return g, vernacular
		}
	}
	if g := x.slipOfGenus(first, next); g != "" {
		return g, slipOfGenus
	}
	const least, most = 6, 4 // letters of the word, and those that may be wanting
	if len(first) >= least && next == "" || len(first) >= least && strings.ContainsAny(words[len(words)-1], "'’\"”“") {
		found := ""
		for g := range x.all {
			if strings.HasPrefix(g, first) && len(g)-len(first) <= most {
				if found != "" {
					return "", ""
				}
				found = g
			}
		}
		if found != "" {
			return found, beginsTheGenus
		}
	}
	return "", ""
}

// hybridGenus is a genus with its sign: xCupressocyparis.
var hybridGenus = regexp.MustCompile(`^[x×]\p{Lu}`)

// epithetOf gives the epithet that follows a genus, in small letters; "" for a cultivar
// or for words such as spp. Clethra Barbinervis has one, Artemisia Powis Castle none.
func epithetOf(words []string) string {
	for i, w := range words {
		low := strings.TrimSuffix(strings.ToLower(w), ".")
		switch {
		case low == "x" || low == "×":
			continue
		case !isWord(w), aboutKind.MatchString(low), rankWord.MatchString(low):
			return ""
		case w == strings.ToLower(w), latin.MatchString(low) && (i+1 == len(words) || !isWord(words[i+1])):
			return low
		}
		return ""
	}
	return ""
}

// otherwise tells a genus of which the library has single species alone, and whose
// name is what people call another: a row of nasturtium is no watercress.
func (x *keys) otherwise(genus string) bool {
	if g := x.english().genera[genus]; g == "" || g == genus {
		return false
	}
	return len(x.filed(genus).serving) == 0
}

// isCompound tells English names of two words from a genus in English with a
// cultivar: a gentian sage, an oxeye daisy and a spurge laurel are what their last
// word says, or nothing of the two.
func (x *keys) isCompound(words []string) bool {
	if len(words) < 2 {
		return false
	}
	last := strings.ToLower(names.Folded(words[len(words)-1]))
	if second := strings.ToLower(words[1]); isWord(words[1]) && second == words[1] && !aboutKind.MatchString(second) && !x.knows(x.english().genera[strings.ToLower(words[0])], second) {
		return true // an epithet of something else: Croton tiglium is no croton
	}
	if !isWord(words[len(words)-1]) || x.knows(x.english().genera[strings.ToLower(words[0])], last) {
		return false
	}
	_, english := x.english().genera[last]
	_, one := x.english().genera[strings.TrimSuffix(last, "s")]
	return english || one || x.held(last)
}

// byCommonName finds the one entry that goes by the English name at the head of a
// row, and how many words it has: all before a cultivar in quotes. One word is
// left to [keys.genus], but where only one entry has it.
func (x *keys) byCommonName(words []string) (int, *entries.Entry) {
	n := len(words)
	for i, w := range words {
		if strings.ContainsAny(w[:1], "'\"") || strings.HasPrefix(w, "‘") || strings.HasPrefix(w, "“") {
			n = i
			break
		}
	}
	if n == 0 || n > mostCommonWords || n == 1 && x.held(strings.ToLower(names.Folded(words[0]))) {
		return 0, nil
	}
	name := commonKey(strings.Join(words[:n], " "))
	if n == 1 && x.english().genera[name] != "" {
		return 0, nil
	}
	for _, key := range append([]string{name, strings.ReplaceAll(name, " ", "")}, singulars(name)...) {
		if e := x.english().plants[key]; e != nil {
			return n, e
		}
	}
	return 0, nil
}

const mostCommonWords = 5

// singulars are what a word may be the plural of: lilies, phloxes, tulips.
func singulars(word string) []string {
	var out []string
	for _, e := range [][2]string{{"ies", "y"}, {"s", ""}, {"es", ""}} {
		if stem, ok := strings.CutSuffix(word, e[0]); ok {
			out = append(out, stem+e[1])
		}
	}
	return out
}

// commonKey is by what a common name is told: small letters, without what joins
// words or marks a possession.
func commonKey(s string) string {
	var out strings.Builder
	for _, r := range strings.ToLower(names.Folded(s)) { // which leaves apostrophes out
		switch {
		case unicode.IsLetter(r):
			out.WriteRune(r)
		case out.Len() > 0 && !strings.HasSuffix(out.String(), " "):
			out.WriteByte(' ')
		}
	}
	return strings.TrimSuffix(out.String(), " ")
}

// abbreviated finds the genus of G. or Calam.: one of a row before it that has the
// epithet, the only one of the library that has it, or the only one before it. Of
// several it is none: Penstemon below a Perovskia is no Perovskia.
func (x *keys) abbreviated(short, next string, list *wordsOfList, at int) string {
	if short == "" {
		return ""
	}
	var before []string
	if at < len(list.genera) {
		for _, g := range list.genera[at] {
			if one := strings.TrimSuffix(g, "s"); !x.held(g) && x.held(one) {
				g = one
			} else if !x.held(g) { // a row above may have it misspelt
				g = cmp.Or(x.slipOfGenus(g, ""), g)
			}
			if strings.HasPrefix(g, short) && !slices.Contains(before, g) {
				before = append(before, g)
			}
		}
	}
	for _, g := range before {
		if next != "" && (x.knows(g, next) || list.epithets[g+" "+next]) {
			return g
		}
	}
	holds, begins := "", ""
	several, many := false, false
	for g := range x.all {
		if !strings.HasPrefix(g, short) {
			continue
		}
		many, begins = many || begins != "", g
		if next != "" && x.knows(g, next) {
			several, holds = several || holds != "", g
		}
	}
	switch {
	case holds != "" && !several && (len(before) == 0 || slices.Contains(before, holds)):
		return holds
	case len(before) > 0 && next == "":
		return before[0]
	case len(before) == 1 && holds == "": // of two that fit, neither is taken
		return before[0]
	case len(before) > 0 && holds != "" && !several:
		return holds
	case begins != "" && !many && len(short) > 3:
		return begins
	}
	return ""
}

// slipOfGenus finds the genus that a misspelt word is: one whose species the next
// word is, up to three letters away in a long word; else one a slip of the pen
// away, if there is no other; else of a long word one two letters away. Where an
// epithet follows that is none of its own, only what sounds alike is a slip: Cladium
// is no Caladium, nor Moringa a Morina.
func (x *keys) slipOfGenus(first, next string) string {
	const shortest, long, safe, veryLong = 5, 8, 10, 12
	if len(first) < shortest || x.realGenera()[first] {
		return ""
	}
	most := 1
	if len(first) >= long {
		most = 2
	}
	if len(first) >= veryLong {
		most = 3
	}
	alone := x.spelling(first, names.Name{}, nil)
	g := gaugeOf(&alone)
	var holding, sure, likely []string
	genera := x.genera()
	for i := range genera.spellings {
		s := genera.spellings[i]
		n := g.distance(genera, i, most)
		if n > most {
			continue
		}
		if next != "" && (x.knows(s.key, next) || n <= 1 && x.slipOf(s.key, next)) && (n <= 1 || first[0] == s.key[0]) {
			holding = append(holding, s.key)
		}
		switch {
		case s.sound == alone.sound, next == "" && slipped(first, s.key):
			sure = append(sure, s.key)
		case next == "" && n <= 2 && len(first) >= safe && len(s.key) >= safe && first[0] == s.key[0]:
			likely = append(likely, s.key)
		}
	}
	switch {
	case len(holding) == 1:
		return holding[0]
	case len(holding) == 0 && len(sure) == 1 && len(first) > shortest:
		return sure[0]
	case len(holding)+len(sure) == 0 && len(likely) == 1:
		return likely[0]
	}
	return ""
}

// knows tells whether the library has an epithet in a genus.
func (x *keys) knows(genus, epithet string) bool { return x.filed(genus).within[epithet] }

// slipOf tells a misspelt epithet of a genus.
func (x *keys) slipOf(genus, word string) bool {
	if x.epithets()[word] {
		return false
	}
	of := x.of(genus)
	if of == nil {
		return false
	}
	sound := x.sound(word, true)
	for i := range of.spellings {
		s := &of.spellings[i]
		if len(s.words) > 1 && !isPhrase(s.words[1]) && (s.sounds[1] == sound || slipped(word, s.words[1])) {
			return true
		}
	}
	return false
}

// slipOfJoined tells a misspelt epithet of two words joined by a hyphen, which a key
// holds as two.
func (x *keys) slipOfJoined(genus, word string) bool {
	return slices.ContainsFunc(x.filed(genus).learnt, func(l learnt) bool {
		return strings.Contains(l.name.Species, "-") && slipped(word, l.name.Species)
	})
}

// epithet finds the one epithet of a genus that begins so.
func (x *keys) epithet(genus, short string) string {
	found := ""
	of := x.of(genus)
	if of == nil || short == "" {
		return ""
	}
	for i := range of.spellings {
		w := of.spellings[i].words
		if len(w) < 2 || isPhrase(w[1]) || !strings.HasPrefix(w[1], short) || w[1] == found {
			continue
		}
		if found != "" {
			return ""
		}
		found = w[1]
	}
	return found
}

// cultivarOf tells whether a genus has a cultivar of that name.
func (x *keys) cultivarOf(genus, name string) bool {
	return len(x.filed(genus).cultivars[names.Name{Genus: genus, Cultivar: name}.Key()]) > 0
}

// group tells whether a genus has a Group of that name.
func (x *keys) group(genus, name string) bool {
	key := names.Name{Genus: genus, Group: name}.Key()
	of := x.filed(genus)
	return len(of.exact[key])+len(of.synonym[key]) > 0
}

// cultivarBegins finds the one cultivar of a genus that begins so: Karl F.
func (x *keys) cultivarBegins(genus, short string) string {
	want := strings.TrimSuffix(names.Name{Genus: genus, Cultivar: short}.Key(), "'")
	found := ""
	for key, name := range x.filed(genus).called {
		if strings.HasPrefix(key, want) && name != found {
			if found != "" {
				return ""
			}
			found = name
		}
	}
	return found
}
