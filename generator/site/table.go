package site

import "sheaf/generator/words"

// The cues of a temperate maritime garden, for gardens without normals.
//
// North: what the rules of this package give for Manchester Ringway, from
// normals of 1981-2010 (Met Office); the frosts from the colder normals of
// 1971-2000, which is the cautious side. South: the same for Ballarat, Victoria,
// 2008-2017 (Bureau of Meteorology), with the median frosts counted there; it
// has the mild winter of Melbourne's district and, unlike the city, frosts.
// All lie within the times at which the trade sees these things happen in
// maritime gardens of the north and in New Zealand and south-east Australia.
var (
	maritimeNorth = [numClimateCues]MonthDay{
		ColdestDay: {2, 6},
		FirstGreen: {3, 13},
		WarmGrowth: {4, 30},
		HottestDay: {7, 28},
		GrowthEnd:  {12, 5},
		LeafFall:   {11, 9},
		LastFrost:  {4, 18},
		FirstFrost: {11, 9},
	}
	maritimeSouth = [numClimateCues]MonthDay{
		ColdestDay: {7, 5},
		FirstGreen: {8, 9},
		WarmGrowth: {9, 21},
		HottestDay: {1, 29},
		GrowthEnd:  {5, 31},
		LeafFall:   {5, 17},
		LastFrost:  {10, 1},
		FirstFrost: {5, 22},
	}
)

// cuesWithoutNormals takes the cues from the table of the site's hemisphere. A
// frost date given for the garden moves them: the last frost those of spring,
// the first frost those of autumn, each by as many days as it differs from the
// table's, since a garden late in spring is early in autumn. The coldest and
// the hottest day stay, and the other cues keep their floors from them.
func cuesWithoutNormals(s Site) [numClimateCues]cueDay {
	table, basis := &maritimeNorth, words.Of("basis.table")
	if s.Hemisphere() == South {
		table = &maritimeSouth
	}
	if s.Basis() == FromFrostDates {
		basis = words.Of("basis.table, frost known")
	}
	var cues [numClimateCues]cueDay
	for cue, day := range table {
		cues[cue] = everyYear(day, basis)
	}

	const g = 2001 // stands for every growing year
	on := func(cue Cue, day MonthDay) Day {
		return everyYear(day, words.Phrase{}).nearest(cue.seasonMiddle(s.Hemisphere(), g))
	}
	coldest, hottest := on(ColdestDay, table[ColdestDay]), on(HottestDay, table[HottestDay])
	move := func(cue, frost Cue, given MonthDay, earliest, latest Day) {
		day := on(cue, table[cue]) + on(frost, given) - on(frost, table[frost])
		cues[cue] = everyYear(min(max(day, earliest), latest).monthDay(),
			words.Of(map[Cue]string{LastFrost: "basis.table, moved by last frost", FirstFrost: "basis.table, moved by first frost"}[frost]))
	}
	if given := s.LastFrost; given != nil {
		move(FirstGreen, LastFrost, *given, coldest+Day(firstGreen.floor), hottest)
		move(WarmGrowth, LastFrost, *given, coldest+Day(warmGrowth.floor), hottest)
	}
	if given := s.FirstFrost; given != nil {
		nextColdest := coldest + 365
		move(GrowthEnd, FirstFrost, *given, hottest, nextColdest-Day(growthEnd.floor))
		move(LeafFall, FirstFrost, *given, hottest, nextColdest-Day(leafFall.floor))
	}
	return cues
}
