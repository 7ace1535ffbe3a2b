package booklet

// Rank is how much something on a plant's, a job's or a garden day's page matters to
// whoever does the work. Where a printed page is full, what has the highest rank is left
// out first; the web edition has all.
type Rank uint8

const (
	Always  Rank = iota // never left out
	Doubts              // goes last
	Manner              // before that
	Reasons             // first
)

// RankOf is the table of what print may leave out (DESIGN 8), by what it is. All that it
// does not name is always printed: names, place and the law; cautions and hazards; of
// work its window, amount, cue and never; of a job its steps.
func RankOf(what string) Rank {
	switch what {
	case "stop if", "wait if", "if missed", // when to stop, to wait, and what if it is late
		"not due",                                              // amount and cue of work that is not due in this booklet
		"drawing of a job", "about a job", "how much to leave", // of a job's page
		"likes",    // of a plant in a guide
		"next day", // which the contents tell too
		"portrait": // its larger size
		return Doubts
	case "how", // where it differs from the job's page
		"mistakes", "other places", "cue of a day", "names of a part":
		return Manner
	case "why", "expect", "tools", "drawing of work", "photograph", "publications", "law of others":
		return Reasons
	}
	return Always
}
