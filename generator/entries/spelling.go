package entries

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"sheaf/generator/fields"
	"sheaf/generator/prose"
	"sheaf/generator/source"
)

// A Spelling is how a library's words are written elsewhere: British words and
// phrases, and what takes their place in another English. It is read from a file
// of the folder spellings of a library.
type Spelling struct {
	words map[string]string // by the words in small letters, single spaces between
	begin map[string]int    // by the first word: how many words has the longest phrase
	sum   string            // of the files it was read from: two of one sum are alike
}

func newSpelling() *Spelling { return &Spelling{words: map[string]string{}, begin: map[string]int{}} }

// ParseSpelling reads the words of a spelling. Each is written in small letters
// with all its forms, as nothing is guessed: autumn, autumns.
func ParseSpelling(f *source.File) (*Spelling, source.Diagnostics) {
	m := fields.Whole(f, "spelling")
	s := newSpelling()
	s.sum = string(f.Sum[:])
	for _, p := range m.Map("words").Pairs() {
		from, to := prose.Sentence(p.Key.Value), prose.Sentence(p.Value.Value)
		switch {
		case from == "" || from != strings.ToLower(from) || !firstLetter(from):
			m.Fail(p.Key.Span, "unknown-value", fmt.Sprintf("%q is no word to look for", p.Key.Value), "write it in small letters, without signs before it")
		case to == "":
			m.Fail(p.Value.Span, "no-value", fmt.Sprintf("nothing takes the place of %q", from), "write the word that stands there instead, or the same word where it stays")
		default:
			s.add(from, to)
		}
	}
	m.Done()
	return s, m.Diagnostics()
}

func firstLetter(s string) bool {
	r, _ := utf8.DecodeRuneInString(s)
	return unicode.IsLetter(r)
}

func (s *Spelling) add(from, to string) {
	s.words[from] = to
	words := cutWords(from)
	first := from[:words[0][1]]
	s.begin[first] = max(s.begin[first], len(words))
}

// Over gives the words of s, and those of base that s has not; either may be nil.
func (s *Spelling) Over(base *Spelling) *Spelling {
	out := newSpelling()
	for _, part := range []*Spelling{base, s} {
		if part != nil {
			out.sum += part.sum
			for from, to := range part.words {
				out.add(from, to)
			}
		}
	}
	return out
}

// Text writes a text in the other spelling: whole words, the longest phrase
// first, with the capitals they had. A name in single quotation marks, as of a
// cultivar, is left alone. A nil spelling changes nothing.
func (s *Spelling) Text(text string) string {
	if s == nil {
		return text
	}
	lower := strings.ToLower(text)
	if len(lower) != len(text) {
		return text // a letter whose small form has another length; none of the list has one
	}
	words := cutWords(text)
	var out strings.Builder
	at := 0
	for i := 0; i < len(words); i++ {
		longest, known := s.begin[lower[words[i][0]:words[i][1]]]
		if end := named(text, words[i][0]); end > 0 {
			for i+1 < len(words) && words[i+1][0] < end {
				i++
			}
			continue
		}
		if !known {
			continue
		}
		for n := min(longest, len(words)-i); n > 0; n-- {
			from, end := words[i][0], words[i+n-1][1]
			old, key := text[from:end], lower[from:end]
			if n > 1 {
				key = strings.ReplaceAll(key, "\u00a0", " ")
			}
			to, ok := s.words[key]
			if !ok {
				continue
			}
			if to != key { // a phrase that stays, stays with all its capitals
				out.WriteString(agree(text[at:from], old, to))
				out.WriteString(capitals(old, to))
				at = end
			}
			i += n - 1
			break
		}
	}
	if at == 0 {
		return text
	}
	out.WriteString(text[at:])
	return out.String()
}

// cutWords finds where words begin and end. Hyphens and apostrophes part them.
func cutWords(text string) [][2]int {
	var out [][2]int
	in := false
	for i, r := range text {
		letter := unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.Is(unicode.Mn, r)
		switch {
		case letter && !in:
			out = append(out, [2]int{i, len(text)})
		case !letter && in:
			out[len(out)-1][1] = i
		}
		in = letter
	}
	return out
}

// longestCultivar in bytes is what is looked through for its closing mark.
const longestCultivar = 60

// named tells where a name in single quotation marks ends that begins at a place
// of a text; 0 when none does.
func named(text string, at int) int {
	if r, _ := utf8.DecodeRuneInString(text[at:]); !strings.HasSuffix(text[:at], "‘") || !unicode.IsUpper(r) {
		return 0
	}
	rest := text[at:]
	for i := 0; i < min(len(rest), longestCultivar); {
		k := strings.Index(rest[i:], "’")
		if k < 0 {
			return 0
		}
		i += k + len("’")
		if r, _ := utf8.DecodeRuneInString(rest[i:]); i == len(rest) || !unicode.IsLetter(r) {
			return at + i
		}
	}
	return 0
}

// agree ends a text with the form of the article that goes with a word, where
// that it stands for asks for the other: an autumn, a fall.
func agree(before, old, to string) string {
	vowel := func(s string) bool { return strings.ContainsAny(strings.ToLower(s[:1]), "aeiou") }
	for _, from := range []string{" a ", " an ", " a\u00a0", " an\u00a0"} {
		if rest, ok := strings.CutSuffix(strings.ToLower(" "+before), from); ok && vowel(old) != vowel(to) {
			at := len(rest) // of the article, as the space before it is one more
			form := before[at : at+1]
			if vowel(to) {
				form += "n"
			}
			_, space := utf8.DecodeLastRuneInString(before)
			return before[:at] + form + before[len(before)-space:]
		}
	}
	return before
}

// capitals writes a word with the capitals of the one it stands for.
func capitals(old, to string) string {
	switch first, size := utf8.DecodeRuneInString(old); {
	case len(old) > size && old == strings.ToUpper(old) && old != strings.ToLower(old):
		return strings.ToUpper(to)
	case unicode.IsUpper(first):
		first, size := utf8.DecodeRuneInString(to)
		return string(unicode.ToUpper(first)) + to[size:]
	}
	return to
}
