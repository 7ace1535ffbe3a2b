package garden

import (
	"cmp"
	"slices"
	"unicode/utf8"

	"sheaf/generator/entries"
	"sheaf/generator/names"
	"sheaf/generator/source"
)

// What a name may be meant for is found among all names of its genus, of which a
// library may have thousands, for each of the thousands of rows of a list. Nearly
// all of them are told to be far by their letters alone; the others are measured
// by machine words instead of letter by letter.

// How many letters a name may be from what is suggested: where nothing else is known
// of the plant, and where its genus has care for it.
const far, veryNear = 9, 2

// mostNear is how many entries are suggested.
const mostNear = 3

// A nearby is an entry and how many letters it is away.
type nearby struct {
	edits int
	entry *entries.Entry
}

func (a nearby) compare(b nearby) int {
	return cmp.Or(cmp.Compare(a.edits, b.edits), cmp.Compare(a.entry.Name.Value.String(), b.entry.Name.Value.String()))
}

// near finds the entries that a name may be meant for by their distance, the
// nearest first: within three letters of a short name, and five of one with a long
// cultivar, or within fewer.
func (x *speller) near(keys []string, limit int) []*entries.Entry {
	var best []nearby // each entry once
	for i, key := range keys {
		written := x.spelling(key, names.Name{}, nil)
		if len(written.words) < 2 || slices.Contains(keys[:i], key) {
			continue
		}
		most := min(limit, 2+len(key)/10)
		g := gaugeOf(&written)
		for _, of := range x.akinTo(&written) {
			for i := range of.spellings {
				if len(best) == mostNear {
					most = min(most, best[mostNear-1].edits)
				}
				if n := g.distance(&of.wordlist, i, most); n <= most {
					best = nearest(best, nearby{n, of.spellings[i].entry})
				}
			}
		}
	}
	var out []*entries.Entry
	for _, b := range best {
		out = append(out, b.entry)
	}
	return out
}

// nearest adds an entry to the nearest, behind those that are as near.
func nearest(best []nearby, b nearby) []nearby {
	if i := slices.IndexFunc(best, func(o nearby) bool { return o.entry == b.entry }); i >= 0 {
		if best[i].edits <= b.edits {
			return best
		}
		best = slices.Delete(best, i, i+1)
	}
	at := len(best)
	for at > 0 && b.compare(best[at-1]) < 0 {
		at--
	}
	best = slices.Insert(best, at, b)
	return best[:min(len(best), mostNear)]
}

// A wordlist has the spellings of names that are held to each other: those of a genus, or
// those of all genera. What tells most of them to be far stands apart from them: it is
// read for each name of a list, and the rest is not.
type wordlist struct {
	spellings       []spelling
	outlines        []outline
	written, spoken []bag // of keys and sounds
}

func (g *wordlist) add(s spelling) {
	g.spellings, g.outlines = append(g.spellings, s), append(g.outlines, outlineOf(&s))
	g.written, g.spoken = append(g.written, bagOf(s.key)), append(g.spoken, bagOf(s.sound))
}

// akinTo gives the genus of a name or, where the library does not have it, those
// at most two letters from it: a genus of the library is no misspelling of
// another, as Malus (baccata) of Taxus. It remembers the last, since each row is
// looked for in several ways.
func (x *speller) akinTo(written *spelling) []*genus {
	name := written.words[0]
	if own := x.of(name); own != nil {
		return []*genus{own}
	}
	if x.akinOf != name {
		x.akin, x.akinOf = nil, name
		alone := x.spelling(name, names.Name{}, nil)
		g := gaugeOf(&alone)
		genera := x.genera()
		for i := range genera.spellings {
			if g.distance(genera, i, mostSlips) <= mostSlips {
				x.akin = append(x.akin, x.of(genera.spellings[i].key))
			}
		}
	}
	return x.akin
}

// An outline is what of a name's last word is quickly held to another's. Whatever
// its misspelling, either the word begins with the same letter and is as long, or
// one letter longer or shorter; or its sound is the same.
type outline struct {
	words         uint16 // a name has at most 300 letters
	bracket       byte   // before the word; 0 for none
	letter, sound initial
}

// An initial is the first letter of a word and how many it has.
type initial struct {
	letter rune
	of     int32
}

func outlineOf(s *spelling) outline {
	n := len(s.words)
	out := outline{words: uint16(n)}
	if n == 0 {
		return out
	}
	word, sound := s.words[n-1], s.sounds[n-1]
	if isPhrase(word) {
		out.bracket = word[0]
		word, sound = word[1:], sound[1:]
	}
	out.letter, out.sound = initialOf(word), initialOf(sound)
	if out.letter.letter == 'm' {
		out.letter.letter = 'n' // as slipped has it
	}
	return out
}

func initialOf(word string) initial {
	r, _ := utf8.DecodeRuneInString(word)
	return initial{r, int32(utf8.RuneCountInString(word))}
}

// mayBe tells whether a name of one outline may be a misspelling of one of another.
func (o *outline) mayBe(p *outline) bool {
	longer := o.letter.of - p.letter.of
	return o.words == p.words && o.bracket == p.bracket &&
		(o.sound == p.sound || o.letter.letter == p.letter.letter && longer >= -1 && longer <= 1)
}

// A bag counts the letters of a text in 32 bytes, up to 127 each; letters that
// differ by a multiple of 32 are one.
type bag [4]uint64

func bagOf(s string) bag {
	var counts [32]uint8
	for _, r := range s {
		if i := r & 31; counts[i] < 127 {
			counts[i]++
		}
	}
	var out bag
	for i, n := range counts {
		out[i/8] |= uint64(n) << (i % 8 * 8)
	}
	return out
}

// beyond is how many letters of a text are not in another, or fewer: each takes an
// edit. The bytes of eight counts are subtracted at once, kept apart by a bit that
// stays where the difference is not negative.
func (b *bag) beyond(o *bag) int {
	const high, even = 0x8080808080808080, 0x00ff00ff00ff00ff
	var sum uint64
	for i, w := range b {
		d := (w | high) - o[i]
		more := d & high
		d &= more - more>>7
		sum += d&even + d>>8&even
	}
	return int(sum * 0x0001000100010001 >> 48)
}

// within tells whether two texts may be at most so many edits apart.
func (b *bag) within(o *bag, most int) bool { return b.beyond(o) <= most && o.beyond(b) <= most }

// A gauge measures how many letters names are from one, in writing or in sound,
// whichever are less. It is the distance of optimal string alignment, the
// restricted form of Damerau and Levenshtein's: neighbours may be swapped, but
// nothing is written between them afterwards. The full form finds "ca" two
// edits from "abc" where this one finds three; no hand slips like that, and a
// suggestion made of it would be a guess.
type gauge struct{ written, spoken rule }

func gaugeOf(s *spelling) *gauge { return &gauge{ruleOf(s.key), ruleOf(s.sound)} }

// distance is that to the i-th name of a genus: exact up to most, and some number
// beyond for all that are further.
func (g *gauge) distance(of *wordlist, i, most int) int {
	n := most + 1
	if g.written.bag.within(&of.written[i], most) {
		n = g.written.edits(of.spellings[i].key, most)
	}
	if g.spoken.bag.within(&of.spoken[i], most) {
		n = min(n, g.spoken.edits(of.spellings[i].sound, most))
	}
	return n
}

// A rule measures texts against one of at most 64 letters, by a bit for each of
// them.
type rule struct {
	text  string
	bag   bag
	bits  int             // 0: the text is too long
	ascii [128]uint64     // where the text has the letter
	more  map[rune]uint64 // likewise
}

func ruleOf(s string) rule {
	out := rule{text: s, bag: bagOf(s)}
	for _, r := range s {
		if out.bits == 64 {
			out.bits = 0
			break
		}
		bit := uint64(1) << out.bits
		out.bits++
		if r < 128 {
			out.ascii[r] |= bit
		} else {
			if out.more == nil {
				out.more = map[rune]uint64{}
			}
			out.more[r] |= bit
		}
	}
	return out
}

// edits is the distance to a text, if it is at most so much, or some number beyond.
// A column of the table of distances is two words: where it rises from one row to
// the next and where it falls (Hyyrö, A bit-vector algorithm for computing
// Levenshtein and Damerau edit distances, 2003).
func (r *rule) edits(s string, most int) int {
	if r.bits == 0 {
		return source.EditsWithin(r.text, s, most)
	}
	last := uint64(1) << (r.bits - 1)
	rises, falls := ^uint64(0), uint64(0)
	var diagonal, before uint64
	score := r.bits
	for i, c := range s {
		var has uint64
		if c < 128 {
			has = r.ascii[c]
		} else {
			has = r.more[c]
		}
		swapped := (^diagonal & has) << 1 & before
		diagonal = ((has & rises) + rises ^ rises) | has | falls | swapped
		right, left := falls|^(diagonal|rises), diagonal&rises
		if right&last != 0 {
			score++
		} else if left&last != 0 {
			score--
		}
		if score-(len(s)-i) > most { // each letter to come takes away one at most
			return most + 1
		}
		right, left = right<<1|1, left<<1
		rises, falls = left|^(diagonal|right), right&diagonal
		before = has
	}
	return score
}
