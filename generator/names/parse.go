package names

import (
	"fmt"
	"slices"
	"strings"

	"golang.org/x/text/unicode/norm"
)

// Repair tells what was read differently from what was written. Offset and End
// are byte offsets into the parsed string.
type Repair struct {
	Offset, End int
	Message     string
}

// SyntaxError is a fault that leaves a name unread. Offset and End are byte
// offsets into the parsed string; Hint may be empty.
type SyntaxError struct {
	Offset, End   int
	Message, Hint string
}

func (e *SyntaxError) Error() string { return e.Message }

// Parse reads one name as plant lists write it. Repairs come in the order of
// the text. The error, if any, is a *SyntaxError, and then nothing else is
// returned.
func Parse(s string) (Name, []Repair, error) {
	if n, ok := plain(s); ok {
		return n, nil, nil
	}
	p := &parser{input: s}
	err := p.lex()
	if err == nil {
		err = p.name()
	}
	if err == nil && len(p.n.String()) > maxBytes { // what is printed must be readable
		err = &SyntaxError{0, len(s), "the name is too long", fmt.Sprintf("at most %d bytes", maxBytes)}
	}
	if err != nil {
		return Name{}, nil, err
	}
	slices.SortStableFunc(p.repairs, func(a, b Repair) int { return a.Offset - b.Offset })
	return p.n, p.repairs, nil
}

// plain reads a genus, or genus and epithet with or without × between, in the Codes'
// own form, as most names of a library are: thousands are read of it, for each list.
func plain(s string) (Name, bool) {
	const shortest = 4 // letters of either word: what is shorter may be a sign or a mark
	genus, species, more := strings.Cut(s, " ")
	if len(genus) < shortest || genus[0] < 'A' || genus[0] > 'Z' || !isSmall(genus[1:]) || len(s) > maxBytes {
		return Name{}, false
	}
	if !more {
		return Name{Genus: genus}, true
	}
	n := Name{Genus: genus}
	if n.Species, more = strings.CutPrefix(species, "× "); more {
		n.Hybrid = Species
	}
	if len(n.Species) < shortest || n.Species[0] == 'x' || !isSmall(n.Species) || isReserved(n.Species) || isConnective(n.Species) || isSmallWord(n.Species) {
		return Name{}, false
	}
	return n, true
}

// isSmall tells that all of a text is letters from a to z.
func isSmall(s string) bool {
	for i := range len(s) {
		if s[i] < 'a' || s[i] > 'z' {
			return false
		}
	}
	return true
}

// parser reads tokens from left to right. Tokens that are no part of the name
// are deleted and repaired ones rewritten, so that a formula, noticed only at
// its sign, can be put together from the tokens.
type parser struct {
	input    string
	runes    []rune // input in NFC
	offsets  []int  // byte offset in input of each rune, then len(input)
	tokens   []token
	i        int // index of the next token
	n        Name
	capitals bool // the genus is in capitals: so may be epithets and cultivar
	lower    bool // the genus is in lower case: so may be the cultivar
	repairs  []Repair
}

func (p *parser) peek() *token { return &p.tokens[p.i] }

// at is the token j places ahead, or the end.
func (p *parser) at(j int) token { return p.tokens[min(p.i+j, len(p.tokens)-1)] }

// text joins the next n tokens with single spaces.
func (p *parser) text(n int) string {
	words := make([]string, n)
	for j := range words {
		words[j] = p.at(j).text
	}
	return strings.Join(words, " ")
}

func (p *parser) written(t token) string { return norm.NFC.String(p.input[t.start:t.end]) }

func (p *parser) repair(from, to int, format string, args ...any) {
	p.repairs = append(p.repairs, Repair{from, to, fmt.Sprintf(format, args...)})
}

// span is the next n tokens as one, of the kind and text given.
func (p *parser) span(n int, k kind, text string) token {
	return token{k, text, p.at(0).start, p.at(n - 1).end}
}

// merge puts one token in the place of the next n.
func (p *parser) merge(n int, t token) { p.tokens = slices.Replace(p.tokens, p.i, p.i+n, t) }

// drop deletes the next n tokens and says why.
func (p *parser) drop(n int, why string) *SyntaxError {
	t := p.span(n, word, "")
	p.repair(t.start, t.end, "%q left out: %s", p.written(t), why)
	p.tokens = slices.Delete(p.tokens, p.i, p.i+n)
	return nil
}

// rewrite takes the next token as text, with a repair if it is written otherwise.
func (p *parser) rewrite(text string) {
	t := p.peek()
	if t.text != text {
		p.repair(t.start, t.end, "%q read as %s", p.written(*t), text)
		t.text = text
	}
	p.i++
}

func (p *parser) fail(t token, message, hint string) *SyntaxError {
	return &SyntaxError{t.start, t.end, message, hint}
}

// unread is the error for a token that fits nowhere.
func (p *parser) unread(t token) *SyntaxError {
	switch t.kind {
	case end:
		return p.fail(t, "the name stops unfinished", "")
	case stray:
		return p.fail(t, "a quote closes here that nothing opens", "put the cultivar between ‘ and ’, with a space in front")
	}
	return p.fail(t, fmt.Sprintf("cannot read %q as part of a plant name", p.written(t)), "write genus, species, then the cultivar in quotes, and nothing else")
}

// name = [ "×" | "+" ] genus [ [ "×" ] epithet ] { tail } | formula
func (p *parser) name() *SyntaxError {
	switch p.peek().kind {
	case times:
		p.n.Hybrid = Genus
		p.rewrite("×")
	case plus:
		p.n.Hybrid = Graft
		p.i++
	}
	if err := p.genus(); err != nil {
		return err
	}
	if err := p.species(); err != nil {
		return err
	}
	for p.peek().kind != end {
		if err := p.tail(); err != nil {
			return err
		}
	}
	return nil
}

func (p *parser) genus() *SyntaxError {
	t := p.peek()
	switch {
	case t.kind != word:
		return p.fail(*t, "a plant name starts with its genus", "write the genus in front")
	case strings.HasSuffix(t.text, "."):
		return p.fail(*t, "the genus is abbreviated", "write the genus in full")
	}
	p.capitals, p.lower = isCapitals(t.text), isLower(t.text)
	p.n.Genus = capitalise(strings.ToLower(t.text))
	if !isLatin(p.n.Genus) || !startsUpper(p.n.Genus) {
		return p.unread(*t)
	}
	p.rewrite(p.n.Genus)
	return nil
}

// species reads the epithet, if what follows the genus is one.
func (p *parser) species() *SyntaxError {
	t := p.peek()
	switch {
	case t.kind == times:
		return p.hybridSpecies()
	case t.kind != word || isMark(t.text) || isCultivarWord(t.text) || isSynonymWord(t.text) || rank(t.text) != "":
		return nil
	case isPlaceholder(t.text) || p.inVariety():
		return nil
	case isDoubt(t.text):
		p.drop(1, "the plant was not surely known")
		return p.species()
	case !isLower(t.text) && p.group() > 0 || p.authors(false) > 0 || p.trade() > 0:
		return nil
	case !p.capitals && startsUpper(t.text) && !mayBeLatin(t.text): // Rosa Iceberg
		return nil
	}
	return p.speciesEpithet()
}

// speciesEpithet reads an epithet that may have its x stuck to it: xmedia, but
// not xanthina or xylosteum. No Latin word has x before another consonant.
func (p *parser) speciesEpithet() *SyntaxError {
	t := *p.peek()
	if low := strings.ToLower(t.text); len(low) > 3 && low[0] == 'x' && strings.IndexByte("bcdfghjklmnpqrstvwx", low[1]) >= 0 {
		p.merge(1, token{times, t.text[:1], t.start, t.start + 1})
		p.tokens = slices.Insert(p.tokens, p.i+1, token{word, t.text[1:], t.start + 1, t.end})
		return p.hybridSpecies()
	}
	return p.epithet(&p.n.Species)
}

// hybridSpecies reads what follows a × after the genus: an epithet, or the
// second parent of a formula. "Mahonia x Media" is an epithet capitalised by
// a spreadsheet; "Agrostis × Polypogon", with the true sign, is a formula.
func (p *parser) hybridSpecies() *SyntaxError {
	next, after := p.at(1), p.at(2)
	switch {
	case next.kind == quoted:
		return p.drop(1, "no epithet follows the hybrid sign")
	case next.kind != word:
		return p.fail(next, "an epithet must follow ×", "")
	case !p.capitals && startsUpper(next.text) && (strings.HasSuffix(next.text, ".") ||
		after.kind == word && isLower(after.text) && rank(after.text) == "" && !isCultivarWord(after.text) ||
		after.kind == end && p.peek().text == "×"):
		return p.formula()
	case p.n.Hybrid != None:
		p.drop(1, "the genus has its sign already")
	default:
		p.n.Hybrid = Species
		p.rewrite("×")
	}
	return p.epithet(&p.n.Species)
}

func (p *parser) epithet(to *string) *SyntaxError {
	t := p.peek()
	epithet := strings.ToLower(t.text)
	if t.kind != word || !isLatin(epithet) || !isLower(epithet) || isConnective(epithet) || isSmallWord(epithet) || isReserved(epithet) {
		return p.unread(*t)
	}
	p.rewrite(epithet)
	*to = epithet
	return nil
}

// tail reads one part after the species: a lower rank, a Group, a trade
// designation, a cultivar, or something to leave out. The order decides what
// is ambiguous.
func (p *parser) tail() *SyntaxError {
	t := p.peek()
	bare := p.n.Cultivar+p.n.Trade == ""
	species := bare && p.n.Group == "" // still among the parts the ICN governs
	switch t.kind {
	case times, plus:
		if species && p.n.Species == "" && t.kind == times { // Mentha L. × piperita
			return p.hybridSpecies()
		}
		return p.formula()
	case quoted:
		return p.cultivar()
	case open:
		return p.bracket()
	case equals: // Syringa vulgaris LUDWIG SPAETH = 'Andenken an Ludwig Spaeth'
		if p.at(1).kind == quoted {
			return p.drop(1, "the cultivar stands in brackets after its selling name")
		}
		if p.n.Cultivar != "" && p.n.Trade == "" { // Rosa 'Korbin' = ICEBERG
			return p.tradeAfterEquals()
		}
	}
	if t.kind != word {
		return p.unread(*t)
	}
	switch {
	case isMark(t.text):
		return p.drop(1, "a mark, not part of the name")
	case isPlaceholder(t.text) && p.n.Species == "":
		return p.drop(1, "only the genus is known")
	case isPlaceholder(t.text):
		return p.drop(1, "it says not which of them")
	case p.inVariety():
		return p.drop(2, "it says not which of them")
	case isSense(t.text):
		return p.drop(1, "it says how widely the name is meant")
	case isSynonymWord(t.text):
		return p.drop(len(p.tokens)-1-p.i, "read as another name of the plant")
	case isCultivarWord(t.text):
		p.drop(1, "a cultivar stands in quotes instead")
		if p.peek().kind == word {
			return p.unquoted()
		}
		return nil
	case species && rank(t.text) != "" && (t.text != "F." || p.capitals): // F. Muell. is an author
		return p.lowerRank()
	}
	if n := p.group(); n > 0 && p.groupField(n) != nil && (!isLower(t.text) || p.n.Species != "" && isLower(p.text(n-1))) {
		return p.takeGroup(n) // one in small letters throughout, or one that begins here
	}
	if n := p.authors(false); n > 0 {
		return p.drop(n, "read as the author")
	}
	if n := p.trade(); n > 0 && p.n.Trade == "" {
		return p.takeTrade(n)
	}
	switch {
	case species && isLower(t.text) && p.n.Species == "": // Stipa (Nassella) tenuissima
		return p.speciesEpithet()
	case species && p.lower && p.n.Infra == "" && isLower(t.text) && isPlain(p.at(1)): // phlox paniculata blue paradise
		return p.unquoted()
	case species && isLower(t.text) && p.n.Infra == "":
		p.repair(t.start, t.end, "no rank (subsp., var., f.) before %q", p.written(*t))
		return p.epithet(&p.n.Infra)
	case bare && startsUpper(t.text) && (p.n.Species != "" || !p.capitals && !mayBeLatin(t.text)):
		return p.unquoted()
	}
	return p.unread(*t)
}

func (p *parser) lowerRank() *SyntaxError {
	if p.at(1).kind == quoted {
		return p.drop(1, "no rank word goes with a cultivar in quotes")
	}
	if p.n.Species == "" {
		return p.fail(*p.peek(), fmt.Sprintf("%q without a species", p.written(*p.peek())), "write the species epithet in front")
	}
	if p.n.Infra != "" {
		earlier := 1 // the epithet, and its rank word if there is one
		if p.n.Rank != "" {
			earlier = 2
		}
		p.i -= earlier
		p.drop(earlier, "only the last rank counts") // ICN Art. 24.1
	}
	p.n.Rank = rank(p.peek().text)
	p.rewrite(p.n.Rank)
	return p.epithet(&p.n.Infra)
}

// bracket reads ('Code'), (Lacecap Group), a mark such as (v), or a trade
// designation after its cultivar; anything else is an author or a remark.
func (p *parser) bracket() *SyntaxError {
	n := 1 // tokens up to and with the closing bracket
	for depth := 1; depth > 0; n++ {
		switch t := p.at(n); t.kind {
		case open:
			depth++
		case shut:
			depth--
		case end:
			p.repair(p.at(0).start, p.at(0).end, "closing bracket is missing")
			p.tokens = slices.Insert(p.tokens, p.i+n, token{shut, ")", t.start, t.start})
			depth--
		}
	}
	inside := slices.Clone(p.tokens[p.i+1 : p.i+n-1])
	p.i++
	group, trade := p.group(), p.trade()
	free := group > 0 && p.groupField(group) != nil
	p.i--
	isOne := func(k kind) bool { return len(inside) == 1 && inside[0].kind == k }
	switch {
	case isOne(quoted):
		if p.n.Trade+p.n.Cultivar == "" {
			p.repair(p.at(0).start, p.at(0).end, "brackets round the cultivar left out")
		} else {
			p.tellSquare()
		}
		p.merge(n, inside[0])
		return p.cultivar()
	case free && group == len(inside):
		p.tellSquare()
		p.tokens = slices.Replace(p.tokens, p.i, p.i+n, inside...)
		return p.takeGroup(group)
	case isOne(word) && (isMark(inside[0].text) || oneOf(strings.ToLower(inside[0].text), "v r p")): // v: variegated
		return p.drop(n, "a mark, not part of the name")
	case trade > 0 && trade == len(inside) && len(inside[0].text) > 3 && p.n.Trade == "" && p.n.Cultivar != "": // but (HT), (SDB) are classes
		p.tokens = slices.Replace(p.tokens, p.i, p.i+n, inside...)
		return p.takeTrade(trade)
	}
	if !slices.ContainsFunc(inside, func(t token) bool { return isLower(t.text) && !isConnective(t.text) }) {
		p.i += n // (Steud.) Veldkamp
		author := p.authors(true)
		p.i -= n
		n += author
	}
	return p.drop(n, "read as an author or a remark")
}

// tellSquare reports a square bracket where the Codes have a round one.
func (p *parser) tellSquare() {
	if t := p.peek(); p.written(*t) == "[" {
		p.repair(t.start, t.end, "square brackets read as round ones")
	}
}

// group is the length of the run of words from here that ends in "Group" or "grex".
func (p *parser) group() int {
	if isReserved(p.peek().text) {
		return 0
	}
	for n := 1; p.at(n-1).kind == word; n++ {
		if t := p.at(n); t.kind == word && (isGroupWord(t.text) || isGrexWord(t.text)) {
			return n + 1
		}
	}
	return 0
}

// groupField is where the Group or grex of n words from here is kept; nil if
// there is one already. A grex stands before its Group.
func (p *parser) groupField(n int) *string {
	switch {
	case isGrexWord(p.at(n-1).text) && p.n.Grex+p.n.Group == "":
		return &p.n.Grex
	case isGroupWord(p.at(n-1).text) && p.n.Group == "":
		return &p.n.Group
	}
	return nil
}

func (p *parser) takeGroup(n int) *SyntaxError {
	name, field, noun := p.text(n-1), p.groupField(n), "Group"
	if field == &p.n.Grex {
		noun = "grex"
	}
	if p.capitals && isCapitals(name) || isLower(name) {
		name = titleCase(name)
	}
	if !strings.ContainsFunc(name, isLetterOrDigit) || !startsUpper(name) {
		return p.unread(*p.peek())
	}
	t := p.span(n, word, name+" "+noun)
	if p.text(n) != t.text {
		p.repair(t.start, t.end, "%q read as %s", p.written(t), t.text)
	}
	*field = name
	p.merge(n, t)
	p.i++
	return nil
}

// trade is the length of a trade designation here: words in capitals (unless
// the genus is too), or any capitalised words before a bracketed cultivar or a
// sign of a trade mark.
func (p *parser) trade() int {
	n := 0
	for p.at(n).kind == word && !isReserved(p.at(n).text) && strings.ToUpper(p.at(n).text) == p.at(n).text {
		n++
	}
	if !p.capitals && isSellingName(p.text(n)) {
		return n
	}
	n = p.capitalised()
	a, b, c := p.at(n), p.at(n+1), p.at(n+2)
	shown := a.kind == equals && b.kind == quoted || a.kind == open && c.kind == shut && (b.kind == quoted || oneOf(b.text, "R TM")) ||
		a.text == "TM" || n > 0 && p.trademarked(p.at(n-1))
	if shown && isSellingName(strings.ToUpper(p.text(n))) {
		return n
	}
	return 0
}

// capitalised is the length of the run of words from here with capital
// initials, up to and with the first that carries the sign of a trade mark.
func (p *parser) capitalised() int {
	n := 0
	for p.at(n).kind == word && !isMark(p.at(n).text) && (startsUpper(p.at(n).text) || n > 0 && isSmallWord(p.at(n).text)) {
		n++
		if p.trademarked(p.at(n - 1)) {
			break
		}
	}
	return n
}

// trademarked reports whether ® or ™ stands at the end of t or right after it;
// only selling names carry them.
func (p *parser) trademarked(t token) bool {
	rest := strings.TrimLeftFunc(p.input[t.end:], isSpace)
	for _, sign := range []string{"®", "™", "℠"} {
		if strings.HasSuffix(p.input[t.start:t.end], sign) || strings.HasPrefix(rest, sign) {
			return true
		}
	}
	return false
}

// tradeAfterEquals reads = and the selling name after it.
func (p *parser) tradeAfterEquals() *SyntaxError {
	sign := *p.peek()
	p.i++
	n := p.capitalised()
	isName := isSellingName(strings.ToUpper(p.text(n)))
	p.i--
	if n == 0 || !isName {
		return p.unread(sign)
	}
	p.drop(1, "the selling name stands before its cultivar")
	return p.takeTrade(n)
}

// inVariety: "Crocus in var." is a mixture of crocuses.
func (p *parser) inVariety() bool {
	return p.peek().text == "in" && oneOf(p.at(1).text, "var var. variety varieties")
}

// isPlain reports whether t is a lower-case word without a meaning of its own.
func isPlain(t token) bool { return t.kind == word && isLower(t.text) && !isReserved(t.text) }

func (p *parser) takeTrade(n int) *SyntaxError {
	t := p.span(n, word, strings.ToUpper(p.text(n)))
	if p.text(n) != t.text || p.capitals {
		p.repair(t.start, t.end, "%q read as the selling name %s", p.written(t), t.text)
	}
	p.n.Trade = t.text
	p.merge(n, t)
	p.i++
	return nil
}

// unquoted reads a cultivar that lacks its quotes, or one of them.
func (p *parser) unquoted() *SyntaxError {
	n := 1
	for p.at(n).kind == word && !isMark(p.at(n).text) && !isPlaceholder(p.at(n).text) && !isSynonymWord(p.at(n).text) && !looksAuthor(p.at(n).text) &&
		(!isLower(p.at(n).text) || p.lower && isPlain(p.at(n)) || isSmallWord(p.at(n).text) && p.at(n+1).kind == word) {
		n++
	}
	cultivar := p.text(n)
	if strings.IndexFunc(cultivar, isLetterOrDigit) != 0 {
		return p.unread(*p.peek())
	}
	if p.at(n).kind == stray {
		n++
	}
	p.merge(n, p.span(n, quoted, cultivar))
	return p.cultivar()
}

// cultivar takes the quoted token. A second one right behind the first shows
// that the first was a selling name: Rosa 'Iceberg' ('Korbin').
func (p *parser) cultivar() *SyntaxError {
	t, before := p.peek(), &p.tokens[p.i-1]
	if isMixture(t.text) {
		return p.drop(1, "a mixture, not a cultivar")
	}
	if p.n.Cultivar != "" {
		trade := strings.ToUpper(before.text)
		if p.n.Trade != "" || before.kind != quoted || !isSellingName(trade) {
			return p.fail(*t, fmt.Sprintf("a second cultivar ‘%s’", curly(t.text)), "one name has one cultivar")
		}
		p.repair(before.start, before.end, "%s read as the selling name %s", p.written(*before), trade)
		p.n.Trade = trade
		before.kind, before.text = word, trade
	}
	if p.capitals && isCapitals(t.text) || isLower(t.text) {
		t.text = titleCase(t.text)
	}
	p.n.Cultivar = t.text
	p.tellQuotes(*t)
	p.i++
	return nil
}

// tellQuotes reports a cultivar that is read otherwise than it is written, or
// written without single quotes.
func (p *parser) tellQuotes(t token) {
	written := p.written(t)
	if strings.NewReplacer("‘", "'", "’", "'").Replace(written) != "'"+t.text+"'" {
		p.repair(t.start, t.end, "%s read as ‘%s’", written, curly(t.text))
	}
}

// dropAuthors leaves authors and remarks out of the parents still to come; the
// first word after a sign is a genus, if only as "D.".
func (p *parser) dropAuthors() {
	from := p.i
	for p.i++; p.peek().kind != end; {
		before := p.tokens[p.i-1].kind
		n := 0
		if before != times && before != plus {
			if n = p.remark(); n == 0 && before != open {
				n = p.authors(false)
			}
		}
		if n > 0 {
			p.drop(n, "read as an author or a remark")
		} else {
			p.i++
		}
	}
	p.i = from
}

// remark is the length of a bracket here that holds words alone, and of the
// authors after it; 0 for brackets round parents or a cultivar.
func (p *parser) remark() int {
	if p.peek().kind != open {
		return 0
	}
	n := 1 // tokens up to and with the closing bracket
	for depth := 1; depth > 0; n++ {
		switch t := p.at(n); {
		case t.kind == open:
			depth++
		case t.kind == shut:
			depth--
		case t.kind != word && t.kind != comma || isGroupWord(t.text):
			return 0
		}
	}
	p.i += n
	authors := p.authors(true)
	p.i -= n
	return n + authors
}

// formula puts the written parents together: words as they stand, × for x,
// curly quotes, single spaces (ICN Art. H.2).
func (p *parser) formula() *SyntaxError {
	p.dropAuthors()
	var b strings.Builder
	for j, t := range p.tokens[:len(p.tokens)-1] {
		if j > 0 && t.kind != shut && p.tokens[j-1].kind != open {
			b.WriteByte(' ')
		}
		switch t.kind {
		case word:
			if p.capitals && isCapitals(t.text) && j >= p.i {
				t.text = strings.ToLower(t.text)
				if p.tokens[j-1].kind != word { // first of a parent
					t.text = capitalise(t.text)
				}
			}
			b.WriteString(curly(t.text))
		case quoted:
			if j >= p.i {
				p.tellQuotes(t)
			}
			cultivar := "‘" + curly(t.text) + "’"
			if j > 0 && p.n.Trade != "" && p.tokens[j-1].text == p.n.Trade { // its brackets are read already
				cultivar = "(" + cultivar + ")"
			}
			b.WriteString(cultivar)
		case times, plus:
			if next := p.tokens[j+1]; next.kind != word || !startsUpper(next.text) && !isLower(next.text) {
				return p.fail(next, "a second parent must follow "+p.written(t), "")
			}
			if t.kind == plus {
				b.WriteByte('+')
				break
			}
			if t.text != "×" {
				p.repair(t.start, t.end, "%q read as ×", p.written(t))
			}
			b.WriteString("×")
		case open, shut:
			b.WriteString(t.text)
		default:
			return p.unread(t)
		}
	}
	p.n = Name{Hybrid: Formula, Text: b.String()}
	p.i = len(p.tokens) - 1
	return nil
}

// authors is the length of the run of author citations here, such as "Trin.",
// "Siebold & Zucc." or "O. Schwarz". A word counts as an author if it looks
// like one or is expected: after a bracket, initials or a connective.
func (p *parser) authors(expected bool) int {
	for n := 0; ; n++ {
		t, next := p.at(n), p.at(n+1)
		inside := n > 0 || expected
		if inside && t.kind == comma && next.kind == word {
			continue
		}
		switch {
		case t.kind != word || isMark(t.text):
			return n
		case inside && rank(t.text) == "f." && next.kind == word && isLower(next.text) && !isConnective(next.text):
			return n // L. f. fastigiata: a rank, not "the son"
		case inside && isConnective(t.text):
			expected = true
		case inside && isYear(t.text):
		case looksAuthor(t.text), startsUpper(t.text) && expected,
			startsUpper(t.text) && isConnective(next.text) && looksAuthor(p.at(n+2).text):
			expected = isInitials(t.text) && (t.text != "L." || isInitials(next.text)) // L. alone is Linnaeus
		default:
			return n
		}
	}
}
