package names

import (
	"strings"
	"unicode"
)

// oneOf looks s up in a list written with spaces between.
func oneOf(s, list string) bool {
	for w := range strings.FieldsSeq(list) {
		if w == s {
			return true
		}
	}
	return false
}

// rank gives the canonical rank word for the spellings in use, or "".
func rank(s string) string {
	switch s = strings.TrimSuffix(strings.ToLower(s), "."); s {
	case "ssp":
		return "subsp."
	case "nothossp":
		return "nothosubsp."
	case "fo", "forma":
		return "f."
	case "subsp", "var", "f", "subvar", "subf", "convar", "nothosubsp", "nothovar", "nothof":
		return s + "."
	}
	return ""
}

// isCultivarWord: the ICNCP no longer allows "cv." (Art. 14).
func isCultivarWord(s string) bool { return oneOf(strings.ToLower(s), "cv cv. c.v.") }

func isGroupWord(s string) bool { return oneOf(strings.ToLower(s), "group gp gp. grp grp.") }

// isGrexWord: "g." stands in some catalogues, but G. is somebody's initial.
func isGrexWord(s string) bool { return oneOf(strings.ToLower(s), "grex gx gx.") || s == "g." }

// isPlaceholder: words that stand where a list does not know the plant.
func isPlaceholder(s string) bool {
	return isMixture(s) || oneOf(strings.ToLower(s), "sp sp. spp spp. cvs cvs. hybrid hybrids species cultivar cultivars seedling seedlings assorted various unknown")
}

// isMixture: what is sold as seed or bulbs of many kinds. The ICNCP allows none
// of these as an epithet (its summary for orchid hybrids, 2017).
func isMixture(s string) bool { return oneOf(strings.ToLower(s), "mixed mix mixture") }

// isDoubt: words before an epithet that is only likely.
func isDoubt(s string) bool { return oneOf(s, "cf cf. aff aff.") }

// isSense: words on how widely a name is meant.
func isSense(s string) bool { return oneOf(s, "agg agg. s.l. s.s. s.str. sens.lat.") }

func isSynonymWord(s string) bool { return oneOf(strings.ToLower(s), "syn syn. syns syns. synonym") }

// isMark: notes on plant breeders' rights, patents, awards and RHS hardiness.
func isMark(s string) bool {
	s = strings.ReplaceAll(strings.ToUpper(s), ".", "")
	return oneOf(s, "PBR PVR PPAF AGM RHS TM H1A H1B H1C H2 H3 H4 H5 H6 H7")
}

// isSmallWord: words inside a cultivar that keep a small initial.
func isSmallWord(s string) bool {
	return oneOf(strings.ToLower(s), "& a am an and at de der des du in la le les of on the to van von")
}

// isConnective: words between and after the names of authors.
func isConnective(s string) bool { return oneOf(s, "& al al. and de der et ex f. fil. in van von") }

// isReserved: words that mean something by themselves, so that no epithet,
// Group, grex or selling name is made of them.
func isReserved(s string) bool {
	return isMark(s) || isGroupWord(s) || isCultivarWord(s) || isPlaceholder(s) || rank(s) != "" || isGrexWord(s) ||
		isDoubt(s) || isSense(s) || isSynonymWord(s)
}

// looksAuthor: an abbreviation, but not a title as in 'Dr. Clifford Parks', or
// one of a few authors often cited in gardening without a full stop.
func looksAuthor(s string) bool {
	if oneOf(s, "auct. Aiton Benth Bunge DC Hance Honda Hook hort. Kunth L Lindl Link Makino Mill Moench Nash Nees Pursh Regel Rehder Roth Salisb Schott Siebold Steud Thunb Trin Vahl Veldkamp Zucc") {
		return true
	}
	return strings.HasSuffix(s, ".") && startsUpper(s) && !oneOf(strings.ToLower(s), "dr. mlle. mme. mr. mrs. mt. prof. st. ste.")
}

// isSellingName reports whether s, in capitals, reads back as a trade
// designation: plain words, one of them of two letters or more.
func isSellingName(s string) bool {
	p := parser{input: s}
	if p.lex() != nil {
		return false
	}
	long := false
	for _, t := range p.tokens[:len(p.tokens)-1] {
		w := t.text
		if t.kind != word || isReserved(w) || looksAuthor(w) {
			return false
		}
		long = long || isCapitals(w)
	}
	return long
}

// isLatin reports whether s can be a genus or epithet.
func isLatin(s string) bool {
	letters := 0
	for _, r := range s {
		switch {
		case unicode.Is(unicode.Latin, r):
			letters++
		case r != '-':
			return false
		}
	}
	return letters >= 2 && strings.Trim(s, "-") == s
}

// mayBeLatin reports whether s can be a species epithet by its last letter:
// those taken from Latin and Greek end in a vowel or in m, n, r, s or x.
// Common practice, no source; asked only of a word written with a capital.
func mayBeLatin(s string) bool {
	s = strings.ToLower(foldAccents(s))
	return s != "" && strings.ContainsRune("aeioumnrsx", rune(s[len(s)-1]))
}

func startsUpper(s string) bool {
	for _, r := range s {
		return unicode.IsUpper(r)
	}
	return false
}

// isLower reports whether s has letters and all are lower case.
func isLower(s string) bool {
	return strings.ToLower(s) == s && strings.ContainsFunc(s, unicode.IsLetter)
}

// isCapitals reports whether s has two letters or more and all are capitals.
func isCapitals(s string) bool {
	capitals := strings.Map(func(r rune) rune {
		if unicode.IsUpper(r) {
			return r
		}
		return -1
	}, s)
	return strings.ToUpper(s) == s && len([]rune(capitals)) > 1
}

func isInitials(s string) bool {
	for part := range strings.SplitSeq(strings.TrimSuffix(s, "."), ".") {
		if len([]rune(part)) != 1 {
			return false
		}
	}
	return strings.HasSuffix(s, ".")
}

func isYear(s string) bool { return len(s) == 4 && strings.Trim(s, "0123456789") == "" }

func capitalise(s string) string {
	for i, r := range s {
		return string(unicode.ToUpper(r)) + s[i+len(string(r)):]
	}
	return s
}

// titleCase writes a cultivar as the ICNCP does: capital initials but for
// small words inside (Art. 21).
func titleCase(s string) string {
	words := strings.Fields(strings.ToLower(s))
	for i, w := range words {
		if i == 0 || !isSmallWord(w) {
			words[i] = capitalise(w)
		}
	}
	return strings.Join(words, " ")
}
