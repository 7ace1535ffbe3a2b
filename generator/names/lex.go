package names

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// maxBytes is far above any real name and keeps messages printable.
const maxBytes = 300

type kind int

const (
	end    kind = iota
	word        // letters, digits, full stops, hyphens, apostrophes between letters; or &
	quoted      // text is what stands between the quotes
	times       // ×, or a letter x standing alone
	plus
	open
	shut
	equals
	comma
	stray // a closing quote that nothing opened
)

// token is a piece of the input; start and end are byte offsets into it.
type token struct {
	kind       kind
	text       string
	start, end int
}

// lex fills p.tokens, the last of which has kind end.
func (p *parser) lex() *SyntaxError {
	if err := p.normalise(); err != nil {
		return err
	}
	for i := 0; i < len(p.runes); {
		r, from := p.runes[i], i
		kind, simple := sign(r)
		switch {
		case isSpace(r):
			for i < len(p.runes) && isSpace(p.runes[i]) {
				i++
			}
			if gap := string(p.runes[from:i]); gap != " " && from > 0 && i < len(p.runes) {
				p.repair(p.offsets[from], p.offsets[i], "odd or repeated space read as one space")
			}
			continue
		case simple:
			i++
		case isQuote(r) && p.bounded(i-1):
			var err *SyntaxError
			if i, err = p.quoted(i); err != nil {
				return err
			}
			continue
		case isQuote(r):
			kind = stray
			i++
		default:
			kind = word
			for i < len(p.runes) && (isWordRune(p.runes[i]) || p.inWord(i)) {
				i++
			}
			if i == from || unicode.Is(unicode.Mn, r) { // an accent without its letter
				return &SyntaxError{p.offsets[from], p.offsets[from+1], fmt.Sprintf("%q has no place in a plant name", r), "names use Latin letters, hyphens, quotes, brackets, × and +"}
			}
			if x := p.runes[from:i]; len(x) == 1 && (r == 'x' || r == 'X') {
				kind = times
			} else if len(x) > 3 && (r == 'x' || r == 'X') && unicode.IsUpper(x[1]) && unicode.IsLower(x[2]) { // xFatshedera
				p.emit(times, from, from+1)
				from++
			}
		}
		p.emit(kind, from, i)
	}
	p.emit(end, len(p.runes), len(p.runes))
	return nil
}

// normalise turns the input into NFC runes that remember where they began, and
// takes out trade-mark signs and pictures. Control and hidden format characters are
// errors.
func (p *parser) normalise() *SyntaxError {
	if len(p.input) > maxBytes {
		return &SyntaxError{0, len(p.input), fmt.Sprintf("a plant name of %d bytes is too long", len(p.input)), fmt.Sprintf("at most %d", maxBytes)}
	}
	for i, r := range p.input {
		_, size := utf8.DecodeRuneInString(p.input[i:])
		switch {
		case r == utf8.RuneError:
			return &SyntaxError{i, i + size, "not a character", "save the list as UTF-8"}
		case unicode.In(r, unicode.Cc, unicode.Cf) && !isSpace(r) && !isPicture(r):
			return &SyntaxError{i, i + size, fmt.Sprintf("hidden character U+%04X", r), "delete it and type the name afresh"}
		}
	}
	var it norm.Iter
	it.InitString(norm.NFC, p.input)
	for !it.Done() {
		at := it.Pos()
		composed := string(it.Next())
		same := composed == p.input[at:it.Pos()]
		for k, r := range composed {
			if isPicture(r) {
				p.mark(at, it.Pos())
				continue
			}
			switch r {
			case '®', '™', '℠', '©', '♛', 'ᴾ', 'ᴮ', 'ᴿ', 'ᵀ', 'ᴹ': // the crown is an award; raised PBR and TM
				p.mark(at, it.Pos())
				continue
			case '[':
				r = '('
			case ']':
				r = ')'
			case '‐', '‑', '–': // hyphen, non-breaking hyphen, en dash
				p.repair(at, it.Pos(), "%q read as a hyphen", r)
				r = '-'
			}
			p.runes = append(p.runes, r)
			if !same { // a rune has no place of its own in what was composed
				k = 0
			}
			p.offsets = append(p.offsets, at+k)
		}
	}
	p.offsets = append(p.offsets, len(p.input))
	if !norm.NFC.IsNormalString(string(p.runes)) { // taking out a mark joined letters
		return &SyntaxError{0, len(p.input), "cannot be read", "delete the marks in it"}
	}
	return nil
}

// mark reports a sign left out, and signs in a row together.
func (p *parser) mark(from, to int) {
	if last := len(p.repairs) - 1; last >= 0 && p.repairs[last].End == from {
		from = p.repairs[last].Offset
		p.repairs = p.repairs[:last]
	}
	p.repair(from, to, "%s left out: a mark, not part of the name", p.input[from:to])
}

func (p *parser) emit(k kind, from, to int) {
	p.tokens = append(p.tokens, token{k, straight(string(p.runes[from:to])), p.offsets[from], p.offsets[to]})
}

// quoted reads the cultivar whose opening quote is at i and returns the index
// after it. A missing closing quote is put before the next bracket or the end.
func (p *parser) quoted(i int) (int, *SyntaxError) {
	stop := p.closing(i)
	next := stop + 1
	if stop < 0 {
		for stop = i + 1; stop < len(p.runes) && p.runes[stop] != '(' && p.runes[stop] != ')'; {
			stop++
		}
		next = stop
	}
	p.emit(quoted, i, next)
	t := &p.tokens[len(p.tokens)-1]
	inside := straight(string(p.runes[i+1 : stop]))
	t.text = strings.Trim(strings.Join(strings.FieldsFunc(inside, isSpace), " "), "' ")
	if strings.IndexFunc(t.text, isLetterOrDigit) != 0 {
		return 0, &SyntaxError{t.start, t.end, "a cultivar starts with a letter or digit", ""}
	}
	return next, nil
}

// closing finds the quote that closes the one at i, or -1. An apostrophe
// between letters never closes; one at the end of a word ('Vintners' Treasure')
// does only if the next quote opens another cultivar or there is none.
func (p *parser) closing(i int) int {
	last := -1
	for j := i + 1; j < len(p.runes); j++ {
		if !isQuote(p.runes[j]) || p.inWord(j) {
			continue
		}
		opens := p.bounded(j-1) && j+1 < len(p.runes) && !isSpace(p.runes[j+1]) && p.runes[j+1] != ')'
		if last >= 0 && opens {
			return last
		}
		last = -1
		if p.bounded(j + 1) {
			last = j
		}
	}
	return last
}

// bounded reports whether the rune at i parts words, as both ends of the text do.
func (p *parser) bounded(i int) bool {
	if i < 0 || i >= len(p.runes) {
		return true
	}
	_, simple := sign(p.runes[i])
	return simple || isSpace(p.runes[i])
}

func (p *parser) inWord(i int) bool {
	return isQuote(p.runes[i]) && i > 0 && i+1 < len(p.runes) && isLetterOrDigit(p.runes[i-1]) && isLetterOrDigit(p.runes[i+1])
}

func sign(r rune) (kind, bool) {
	switch r {
	case '×', '✕', '✖', '⨯':
		return times, true
	case '+':
		return plus, true
	case '(':
		return open, true
	case ')':
		return shut, true
	case '=':
		return equals, true
	case ',':
		return comma, true
	}
	return end, false
}

func isQuote(r rune) bool { return strings.ContainsRune("'‘’‚‛′ʼ`´\"“”„″«»", r) }

// isSpace counts zero-width space, word joiner and byte order mark, which come
// with text pasted from web pages.
func isSpace(r rune) bool {
	return unicode.IsSpace(r) || r == 0x200B || r == 0x2060 || r == 0xFEFF
}

// isPicture tells a picture from a character set beyond the usual letters, with its
// shades, and what joins two of them: a cup for an award, a leaf for looks.
func isPicture(r rune) bool {
	return r > 0xffff && unicode.In(r, unicode.So, unicode.Sk) || r == 0x200c || r == 0x200d
}

func isWordRune(r rune) bool {
	return unicode.In(r, unicode.Latin, unicode.Mn) || r >= '0' && r <= '9' || strings.ContainsRune(".-&!", r)
}

func isLetterOrDigit(r rune) bool { return unicode.In(r, unicode.L, unicode.Nd) }
