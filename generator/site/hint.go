package site

import (
	"slices"
	"strconv"
	"strings"
	"time"
)

// Words a hint may offer, by what may stand at a place.

func monthWords() []string {
	var words []string
	for m := time.January; m <= time.December; m++ {
		words = append(words, m.String())
	}
	return words
}

func periodWords() []string {
	return append(monthWords(), append(seasonNames[:], "fall")...)
}

func cueStarts() []string {
	words := []string{Flowering.String()}
	for _, cue := range Cues() {
		first, _, _ := strings.Cut(cue.String(), " ")
		if !slices.Contains(words, first) {
			words = append(words, first)
		}
	}
	return words
}

func pointWords() []string {
	return slices.Concat(periodWords(), cueStarts(), partNames[early:], placeNames[beforeCue:])
}

// quotedList joins words as in: "green" or "frost".
func quotedList(words []string) string {
	quoted := make([]string, len(words))
	for i, word := range words {
		quoted[i] = strconv.Quote(word)
	}
	return strings.Join(quoted, " or ")
}

// otherWords are words and signs people write for those of the language.
var otherWords = [...]struct{ written, meant string }{
	{"-", "to"}, {"–", "to"}, {"—", "to"}, {"until", "to"}, {"till", "to"}, {"through", "to"},
	{",", "or"}, {";", "or"}, {"/", "or"}, {"and", "or"}, {"&", "or"},
	{"beginning", "early"}, {"middle", "mid"}, {"end", "late"},
	{"one", "1"}, {"two", "2"}, {"three", "3"}, {"four", "4"}, {"five", "5"}, {"six", "6"},
	{"seven", "7"}, {"eight", "8"}, {"nine", "9"}, {"ten", "10"}, {"twelve", "12"},
}

// instead gives what someone who wrote a word most likely meant: another word
// for one of those that fit, the one it abbreviates, or the one nearest in
// spelling, at most two slips away. It is empty unless there is just one.
func instead(written string, fitting []string) string {
	for _, o := range otherWords {
		if o.written == written && (isNumber(o.meant) || slices.Contains(fitting, o.meant)) {
			return o.meant
		}
	}
	if isNumber(written) || len(written) < 3 {
		return ""
	}
	best, nearest, alone := "", 3, false
	for _, word := range fitting {
		lower := strings.ToLower(word)
		slips := editDistance(written, lower)
		if strings.HasPrefix(lower, written) || strings.HasPrefix(written, lower) {
			slips = 0
		}
		switch {
		case slips < nearest:
			best, nearest, alone = word, slips, true
		case slips == nearest:
			alone = false
		}
	}
	if !alone {
		return ""
	}
	return best
}

// editDistance counts the letters to add, drop or change, or the neighbours to
// swap, to make b of a (Damerau's slips, optimal string alignment).
func editDistance(a, b string) int {
	x, y := []rune(a), []rune(b)
	rows := make([][]int, len(x)+1)
	for i := range rows {
		rows[i] = make([]int, len(y)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(x); i++ {
		for j := 1; j <= len(y); j++ {
			change := 1
			if x[i-1] == y[j-1] {
				change = 0
			}
			rows[i][j] = min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+change)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(x)][len(y)]
}
