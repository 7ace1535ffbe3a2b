package generator_test

import (
	"html"
	"io/fs"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"
	"unicode"

	"sheaf/content"
	"sheaf/generator"
	"sheaf/generator/site"
)

// southern is the club's guide that ships from the other half of the world. Its
// members' entries are written for the south, those of the library for the north.
const southern = "../content/gardens/lanternwood"

// Where the dates of the southern table come from. A published calendar binds to
// within what calendars differ by among themselves ([publishedSpread]).
const (
	abcGrasses   = "Gardening Australia, December 2018 (STANDARDS 9, row 64)"
	nzRoses      = "sculptgardens.co.nz, roses in Waikato and Auckland (STANDARDS 9, row 67)"
	nzJuly       = "totallookdesign.co.nz (STANDARDS 9, row 66)"
	nswJuly      = "The Land, New South Wales, July 2022 (TRADE, S80c)"
	midVictoria  = "a garden calendar for central Victoria (TRADE, S80b)"
	illawarra    = "a garden club's year, Wollongong (TRADE, S80f)"
	noPublished  = "common practice, no source"
	bloomDecides = "common practice, no source: by the flowers, whose months are from memory"
)

// A southernRow is a job of a plant with the months that its days may lie in.
type southernRow struct {
	plant, job string
	months     string // all of the window lies in these
	published  string // those of the source; "" for none
	source     string
}

// southernWork is all work of the guide.
var southernWork = []southernRow{
	{"Agapanthus praecox", "groom", "August to October", "", noPublished},
	{"Agapanthus praecox", "remove stems", "January to March", "February", illawarra},
	{"Amaryllis belladonna", "deadhead", "March to May", "", bloomDecides},
	{"Amaryllis belladonna", "remove old leaves", "November to January", "", bloomDecides},
	{"Amaryllis belladonna", "divide", "December to January", "", noPublished},
	{"Anemanthele lessoniana", "comb", "July to October", "", noPublished},
	{"Anigozanthos flavidus", "remove stems", "February to April", "", bloomDecides},
	{"Anigozanthos flavidus", "divide", "March to May", "", noPublished},
	{"Brachyscome multifida", "replant", "March to May", "", noPublished},
	{"Brachyscome multifida", "shear", "April to May", "", noPublished},
	{"Camellia japonica", "water", "December to March", "", noPublished},
	{"Camellia japonica", "deadhead", "June to November", "", bloomDecides},
	{"Camellia japonica", "prune", "October to December", "", bloomDecides},
	{"Carex testacea", "groom", "March to May", "", noPublished},
	{"Carex testacea", "comb", "August to October", "", noPublished},
	{"Choisya ternata", "prune", "October to December", "", bloomDecides}, // New Zealand trims in April (STANDARDS 9, row 66); the library never does in autumn
	{"Correa alba", "prune", "September to October", "", bloomDecides},
	{"Dietes iridioides", "groom", "July to September", "", noPublished},
	{"Dietes iridioides", "deadhead", "November to April", "", bloomDecides},
	{"Echinacea purpurea", "cut back", "July to August", "August", midVictoria},
	{"Echinacea purpurea", "chop", "November to December", "", noPublished},
	{"Ficinia nodosa", "comb", "August to October", "", noPublished},
	{"Ficinia nodosa", "divide", "September to October", "", noPublished},
	{"Grevillea rosmarinifolia", "prune", "November to December", "", bloomDecides},
	{"Hardenbergia violacea", "prune", "October to December", "", bloomDecides},
	{"Hardenbergia violacea", "tie in", "March to April", "", noPublished},
	{"Helleborus × hybridus", "remove old leaves", "May to August", "August", midVictoria},
	{"Helleborus × hybridus", "remove stems", "October to November", "", bloomDecides},
	{"Hydrangea macrophylla", "deadhead", "July to September", "July", nzJuly},
	{"Hydrangea macrophylla", "thin", "July to September", "", noPublished},
	{"Hydrangea macrophylla", "mulch", "August to September", "", noPublished},
	{"Hylotelephium ‘Herbstfreude’", "cut back", "July to August", "August", midVictoria},
	{"Hylotelephium ‘Herbstfreude’", "divide", "July to September", "", noPublished}, // New South Wales divides in July (TRADE, S80c); the library once growth moves
	{"Hylotelephium ‘Herbstfreude’", "chop", "November to December", "", noPublished},
	{"Lagerstroemia indica", "prune", "June to September", "June to August", illawarra},
	{"Lavandula angustifolia", "shear", "January to March", "", bloomDecides}, // New Zealand trims in April (STANDARDS 9, row 66); the library when the flowers are over
	{"Leptospermum scoparium", "prune", "November to December", "", bloomDecides},
	{"Leucophyta brownii", "shear", "January to March", "", bloomDecides},
	{"Lomandra longifolia", "comb", "August to October", "", noPublished},
	{"Lomandra longifolia", "groom", "March to May", "", noPublished},
	{"Lomandra longifolia", "remove stems", "January to March", "", bloomDecides},
	{"Melaleuca citrina", "prune", "November to December", "", bloomDecides},
	{"Miscanthus sinensis", "cut back", "July to September", "August", abcGrasses},
	{"Miscanthus sinensis", "divide", "September to November", "", noPublished},
	{"Nepeta × faassenii", "shear", "December to February", "", bloomDecides},
	{"Nepeta × faassenii", "cut back", "July to August", "", noPublished},
	{"Nepeta × faassenii", "divide", "August to September", "", noPublished},
	{"Nerine bowdenii", "deadhead", "May to June", "", bloomDecides},
	{"Nerine bowdenii", "remove old leaves", "January to March", "", bloomDecides},
	{"Phormium tenax", "groom", "July to October", "July", nswJuly}, // in the dead of winter there; the library from first green on
	{"Phormium tenax", "remove stems", "March to May", "", bloomDecides},
	{"Poa labillardierei", "comb", "August to October", "", noPublished},
	{"Poa labillardierei", "remove stems", "July to August", "", noPublished},
	{"Poa labillardierei", "divide", "August to October", "", noPublished},
	{"Polystichum proliferum", "remove old leaves", "August to September", "", noPublished},
	{"Polystichum proliferum", "mulch", "August to September", "", noPublished},
	{"Polystichum proliferum", "water", "December to February", "", noPublished},
	{"Rosa PEACE (‘Madame A. Meilland’)", "prune", "July to September", "August", nzRoses},
	{"Rosa PEACE (‘Madame A. Meilland’)", "shorten", "April to June", "", noPublished},
	{"Rosa PEACE (‘Madame A. Meilland’)", "deadhead", "November to April", "", bloomDecides},
	{"Rosa PEACE (‘Madame A. Meilland’)", "remove suckers", "October to January", "", noPublished},
	{"Rosa PEACE (‘Madame A. Meilland’)", "feed", "August to October", "", noPublished},
	{"Rosa PEACE (‘Madame A. Meilland’)", "mulch", "August to October", "", noPublished},
	{"Salvia microphylla", "prune", "August to October", "", noPublished},
	{"Salvia microphylla", "shear", "January to February", "", noPublished},
	{"Sophora microphylla", "prune", "October to December", "", bloomDecides},
	{"Sophora microphylla", "check", "March", "", noPublished},
	{"Themeda triandra", "cut back", "August to September", "August", abcGrasses},
	{"Themeda triandra", "weed", "October to November", "", noPublished},
	{"Trachelospermum jasminoides", "prune", "July to September", "", noPublished},
	{"Trachelospermum jasminoides", "tie in", "October to January", "", noPublished},
	{"Westringia fruticosa", "trim", "February to March", "", noPublished},
}

// winterWork is done in winter, or as it ends, and nowhere near the northern one.
var winterWork = []string{"Miscanthus sinensis cut back", "Themeda triandra cut back", "Nepeta × faassenii cut back", "Echinacea purpurea cut back",
	"Hylotelephium ‘Herbstfreude’ cut back", "Rosa PEACE (‘Madame A. Meilland’) prune", "Lagerstroemia indica prune", "Hydrangea macrophylla deadhead",
	"Helleborus × hybridus remove old leaves", "Poa labillardierei remove stems"}

// TestSouthernWork: each date of the southern guide lies in the months that
// southern calendars and gardeners give for it, and there is no work without them.
func TestSouthernWork(t *testing.T) {
	o := options(t, southern)
	o.Editions = []string{"json"}
	b := decode(t, build(t, o).Files["booklet.json"])
	if b.Site.Hemisphere != "south" || b.Garden.Kind != "guide" {
		t.Fatalf("%+v %+v", b.Garden, b.Site)
	}
	name := map[string]string{}
	for _, p := range b.Plants {
		name[p.ID] = p.Botanical
	}
	seen := map[int]bool{}
	for _, task := range b.Tasks {
		from, to := dayRead(t, task.From), dayRead(t, task.To)
		what := name[task.Plant] + " " + task.Job
		i := slices.IndexFunc(southernWork, func(w southernRow) bool { return w.plant+" "+w.job == what })
		if i < 0 {
			t.Errorf("%s, %s to %s: nothing in the table says when it is due in the south", what, task.From, task.To)
			continue
		}
		seen[i] = true
		row := southernWork[i]
		if !slices.ContainsFunc(inTheSouth(t, row.months), func(m site.Interval) bool { return m.From <= from && to <= m.To }) {
			t.Errorf("%s is due from %s to %s, want %s (%s)", what, task.From, task.To, row.months, row.source)
		}
		if row.published != "" && !slices.ContainsFunc(inTheSouth(t, row.published), func(m site.Interval) bool {
			return m.From-publishedSpread <= to && from <= m.To+publishedSpread
		}) {
			t.Errorf("%s is due from %s to %s, more than %d days from %s (%s)", what, task.From, task.To, publishedSpread, row.published, row.source)
		}
		if slices.Contains(winterWork, what) {
			seen[-1-slices.Index(winterWork, what)] = true
			if middle := (from + to) / 2; middle.Month() < time.June || middle.Month() > time.August {
				t.Errorf("%s is winter's work, and due from %s to %s", what, task.From, task.To)
			}
		}
	}
	for i, w := range southernWork {
		if !seen[i] {
			t.Errorf("%s %s is in the table and not in the guide", w.plant, w.job)
		}
	}
	for i, w := range winterWork {
		if !seen[-1-i] {
			t.Errorf("%s is no work of the guide", w)
		}
	}
}

// inTheSouth gives the days of months that a southern source names.
func inTheSouth(t *testing.T, months string) []site.Interval {
	t.Helper()
	x := site.Context{Climate: site.Site{Latitude: -37.8}.Climate(), WrittenFor: site.South}
	var out []site.Interval
	for year := 2026; year <= 2028; year++ {
		out = append(out, x.Resolve(window(t, months), year)...)
	}
	return out
}

func dayRead(t *testing.T, s string) site.Day {
	t.Helper()
	d, err := site.ParseDay(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

const (
	monthNames  = "January|February|March|April|May|June|July|August|September|October|November|December"
	seasonNames = "spring|summer|autumn|winter"
)

var (
	sentenceEnd = regexp.MustCompile(`[.;:?!•"]\s|[\n\r]`)
	aMonth      = regexp.MustCompile(`\b(` + monthNames + `)\b`)
	aSeason     = regexp.MustCompile(`(?i)\b(?:mid)?(` + seasonNames + `)s?\b`)
	aTag        = regexp.MustCompile(`(?s)<(style|script)\b.*?</(style|script)>|<[^>]*>`)
	// notInTheSouth is what no reader of a metric guide in the south should meet.
	notInTheSouth = regexp.MustCompile(`(?i)\b(christmas|easter|thanksgiving|bank holiday|bonfire night|hedgehogs?)\b|°\s?F\b|\binch(es)?\b|\bft\b|\b(in|early|mid|late|last|next|this|every) fall\b|\b(south|north)[- ]facing\b`)
)

// seasonsOf are the seasons that a month may be named with: its own, and the one
// that it borders on.
func seasonsOf(m string, south bool) []string {
	i := slices.Index(strings.Split(monthNames, "|"), m)
	if south {
		i += 6
	}
	order := []string{"winter", "spring", "summer", "autumn"}
	at := (i + 1) % 12 // December comes first
	out := []string{order[at/3]}
	switch at % 3 {
	case 0:
		out = append(out, order[(at/3+3)%4])
	case 2:
		out = append(out, order[(at/3+1)%4])
	}
	return out
}

// misfits are the sentences of a text that name a month and a season, and no
// season that fits a month.
func misfits(text string, south bool) []string {
	var out []string
	for _, s := range sentenceEnd.Split(text, -1) {
		var seasons []string
		for _, m := range aSeason.FindAllStringSubmatch(s, -1) {
			seasons = append(seasons, strings.ToLower(m[1]))
		}
		months := aMonth.FindAllString(s, -1)
		if seasons == nil || months == nil {
			continue
		}
		fits := func(m string) bool {
			return slices.ContainsFunc(seasonsOf(m, south), func(season string) bool { return slices.Contains(seasons, season) })
		}
		if !slices.ContainsFunc(months, fits) {
			out = append(out, strings.Join(strings.Fields(s), " "))
		}
	}
	return out
}

// TestSouthernWords: no edition of the southern guide names a month beside a season
// that it does not belong to here, a feast that is kept in another season, or a
// unit or a word of elsewhere.
func TestSouthernWords(t *testing.T) {
	o := options(t, southern)
	o.Editions = generator.Editions()
	files := maps.Clone(build(t, o).Files)
	delete(files, "booklet-fold.pdf") // the same pages as booklet.pdf, but read across
	months, both := 0, 0
	for name, text := range readable(t, files) {
		months += len(aMonth.FindAllString(text, -1))
		for _, at := range notInTheSouth.FindAllStringIndex(text, -1) {
			t.Errorf("%s: %q", name, text[max(0, at[0]-60):min(len(text), at[1]+30)])
		}
		if path.Ext(name) == ".js" {
			continue // words for searching, in no sentence
		}
		for _, m := range misfits(text, true) {
			t.Errorf("%s: %q", name, m)
		}
		both += len(misfits(text, false))
	}
	if months < 1000 || both < 10 {
		t.Errorf("%d months, and %d sentences that would not fit the north: too little to tell", months, both)
	}
}

// TestSouthernLibrary: what the library says with a month, written for the north,
// stands in the southern guide with the month half a year on, or not at all.
func TestSouthernLibrary(t *testing.T) {
	o := options(t, southern)
	o.Editions = []string{"web"}
	var all strings.Builder
	pages := readable(t, build(t, o).Files)
	for _, name := range slices.Sorted(maps.Keys(pages)) {
		all.WriteString(letters(pages[name]) + "|")
	}
	guide := all.String()
	bloom := 0
	err := fs.WalkDir(content.Library(), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || path.Ext(p) != ".md" || strings.HasPrefix(p, "regions/") {
			return err
		}
		text, err := fs.ReadFile(content.Library(), p)
		for line := range strings.Lines(string(text)) {
			key, said, ok := strings.Cut(strings.TrimPrefix(strings.TrimSpace(line), "- "), ": ")
			switch {
			case ok && slices.Contains([]string{"when", "never", "sources", "common", "synonyms"}, key), strings.HasPrefix(line, "#"):
				continue
			case ok && key == "flowers":
				page := pages["plants/"+strings.TrimSuffix(path.Base(p), ".md")+".html"]
				own, _ := fs.Glob(o.Garden, "plants/"+strings.TrimSuffix(path.Base(p), ".md")+"*.md")
				if page == "" || len(own) > 0 { // that page is by a member
					continue
				}
				bloom++
				if want := letters("Flowers" + halfYearLater(said) + ". "); !strings.Contains(letters(page), want) {
					t.Errorf("%s flowers from %s, and the page does not say %s", p, strings.TrimSpace(said), halfYearLater(said))
				}
				continue
			case ok && aKey.MatchString(key):
				line = said
			}
			for _, s := range sentenceEnd.Split(line, -1) {
				if here := letters(s); aMonth.MatchString(s) && len(here) >= 20 {
					if strings.Contains(guide, here) {
						t.Errorf("%s: %q", p, s)
					}
				}
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if bloom < 12 {
		t.Errorf("%d plants in flower: too little to tell", bloom)
	}
}

// aKey is a key of front matter, whose line goes on with words.
var aKey = regexp.MustCompile(`^[a-z-]+$`)

// halfYearLater names the months of a text half a year on.
func halfYearLater(text string) string {
	names := strings.Split(monthNames, "|")
	return aMonth.ReplaceAllStringFunc(text, func(m string) string { return names[(slices.Index(names, m)+6)%12] })
}

// letters are a text's letters and figures, small and joined.
func letters(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, s)
}

// readable gives what a reader meets in each file of an edition.
func readable(t *testing.T, files map[string][]byte) map[string]string {
	t.Helper()
	out := map[string]string{}
	sheets := map[string][]byte{}
	for name, data := range files {
		text := string(data)
		switch path.Ext(name) {
		case ".html":
			text = html.UnescapeString(aTag.ReplaceAllString(text, "\n"))
		case ".ics":
			text = strings.ReplaceAll(text, "\r\n ", "") // unfolded (RFC 5545, 3.1)
		case ".json":
			text = printedOf(t, data)
		case ".pdf":
			sheets[name] = data
			continue
		case ".js":
			if name != "search-data.js" {
				continue
			}
		default:
			continue
		}
		out[name] = text
	}
	maps.Copy(out, wordsOf(t, sheets))
	return out
}

// printedOf is what booklet.json says that is in print too. How a date came about
// is told there in the words of the entry, northern months and all.
func printedOf(t *testing.T, data []byte) string {
	var out []string
	for _, task := range decode(t, data).Tasks {
		out = append(append(append(out, task.Leave), task.Cautions...), task.Notes...)
	}
	return strings.Join(out, "\n")
}

// A plant of the list that has no entry and is given a care group is dated in the
// months of its own half of the world, once: by the group's months and by those of
// its flowers, which a list has in months of the north.
func TestSouthernCareGroups(t *testing.T) {
	site := "garden: G\nkind: handover\ndate: 2027-05-20\nsite: {country: AU, region: VIC, latitude: -37.8, " +
		"normals: {min: [15.7, 16.1, 14.4, 11.4, 9.8, 7.9, 7.4, 7.8, 9.4, 10.7, 12.6, 14.1], max: [26, 25.7, 23.7, 20.7, 17.4, 14.8, 14.4, 15.4, 17.5, 19.8, 22, 23.8], unit: °C, source: Melbourne}}\n" +
		"library: [built-in]\nplants: plants.csv\n"
	list := "Botanical name,Qty,Planted,Care,Flowers\nXyla fruticosa,12 m,Apr 2020,evergreen hedge,\nXyla alba,3,Apr 2020,pruning group 8,March to April\n"
	f := generator.Folders{Garden: fstest.MapFS{"garden.yaml": {Data: []byte(site)}, "plants.csv": {Data: []byte(list)}}, File: "garden.yaml",
		Library: func(string) (fs.FS, error) { return content.Library(), nil }}
	b := decode(t, build(t, generator.Options{Folders: f, Editions: []string{"json"}, Now: time.Date(2027, 5, 1, 0, 0, 0, 0, time.UTC)}).Files["booklet.json"])
	want := map[string]string{"trim": "2028-02-21 to 2028-03-20", "prune": "2027-11-01 to 2027-11-28"}
	for _, task := range b.Tasks {
		if w, ok := want[task.Job]; ok {
			if got := task.From + " to " + task.To; got != w {
				t.Errorf("%s: %s, want %s", task.Job, got, w)
			}
			delete(want, task.Job)
		}
	}
	if len(want) > 0 {
		t.Errorf("not dated: %v", want)
	}
}
