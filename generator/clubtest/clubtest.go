// Package clubtest makes the library of a club that there is not: 400 entries by
// 40 members, of which 12 have a fault each, every one of another kind. It is the
// same each time, and for tests only.
package clubtest

import (
	"fmt"
	"io/fs"
	"regexp"
	"slices"
	"strings"

	"sheaf/content"
)

// How much of everything there is.
const (
	Entries = 400
	Members = 40
)

// An Entry is one member's.
type Entry struct {
	File      string // in the library
	Botanical string
	Member    string
	Fault     string // the code of what is wrong with it; "" for nothing
	Text      []byte
}

// Library makes the entries, in the order of their files. Each has the care of a
// shipped one, of all care groups in turn, under a name of its own, and serves that alone.
func Library() []Entry {
	models := models()
	out := make([]Entry, Entries)
	for i := range out {
		model := models[i%len(models)]
		e := Entry{File: fmt.Sprintf("plants/member-%02d/plant-%03d.md", i%Members+1, i+1), Member: member(i % Members)}
		genus := strings.Fields(strings.TrimPrefix(valueOf(model, "botanical"), "× "))[0]
		e.Botanical = genus + " " + epithet(i)
		text := with(model, "botanical", e.Botanical)
		text = with(text, "common", fmt.Sprintf("[club plant %d]", i+1))
		text = with(text, "contributor", e.Member)
		for _, key := range []string{"synonyms", "photo", "serves", "except", "cultivars", "asks"} {
			text = with(text, key, "")
		}
		e.Text = []byte(text)
		out[i] = e
	}
	for n, f := range faults() {
		e := &out[f.at]
		text := f.make(string(e.Text), out)
		if text == string(e.Text) {
			panic(fmt.Sprintf("clubtest: fault %d changes nothing", n+1))
		}
		e.Text, e.Fault = []byte(text), f.code
	}
	slices.SortFunc(out, func(a, b Entry) int { return strings.Compare(a.File, b.File) })
	return out
}

// Files are a folder with the library and a garden, or a guide, that takes it:
// "library/plants/…" and "club/garden.yaml". The garden's list names every plant
// of the library once; a guide has no list, as all of its library is in it.
func Files(guide bool) map[string][]byte {
	out := map[string][]byte{}
	list := "plant,quantity\n"
	seen := map[string]bool{}
	for _, e := range Library() {
		out["library/"+e.File] = e.Text
		if name := e.Listed(); !seen[name] {
			seen[name] = true
			list += name + ",3\n"
		}
	}
	garden := `garden: Saltmarsh Growers
date: 2027-03-01
site:
  country: GB
  latitude: 52.2
  normals:
    min: [1.9, 1.8, 3.1, 4.7, 7.4, 10.5, 12.6, 12.6, 10.5, 7.9, 4.5, 2.2]
    max: [7.7, 8.3, 11.0, 14.1, 17.4, 20.4, 23.1, 22.9, 19.6, 15.1, 10.7, 8.0]
    unit: °C
    source: Met Office historic station data, Cambridge, 1991 to 2020
library: [../library, built-in]
`
	if guide {
		garden += "kind: guide\n"
	} else {
		garden += "plants: plants.csv\n"
		out["club/plants.csv"] = []byte(list)
	}
	out["club/garden.yaml"] = []byte(garden)
	return out
}

// Listed is the name under which the list of a garden has the plant: that of the
// other entry, for the one that has another's.
func (e Entry) Listed() string {
	if e.Fault == "entry/same-name" {
		return valueOf(string(e.Text), "botanical")
	}
	return e.Botanical
}

// fault is one thing that goes wrong in one entry.
type fault struct {
	at   int // of [Entries], as they are made
	code string
	make func(text string, all []Entry) string
}

// Members 3 and 7 have two entries with a fault, the one of no-front-matter names
// nobody.
func faults() []fault {
	replace := func(pattern, by string) func(string, []Entry) string {
		return func(text string, _ []Entry) string {
			return regexp.MustCompile(`(?m)`+pattern).ReplaceAllString(text, by)
		}
	}
	same := func(at int) func(string, []Entry) string {
		return func(text string, all []Entry) string { return with(text, "botanical", all[at].Botanical) }
	}
	return []fault{
		{2, "entry/unknown-key", replace(`^spread:`, "sperad: 1 m\nspread:")},
		{42, "entry/height", replace(`^height: .*$`, "height: 90 m")},
		{11, "entry/window", replace(`^flowers: .*$`, "flowers: Juny to August")},
		{12, "entry/yaml", replace(`^light: .*$`, "light: [full sun")},
		{53, "entry/no-front-matter", func(text string, _ []Entry) string {
			return strings.Replace(text, "\n---\n", "\n", 1)
		}},
		{65, "entry/no-such-group", replace(`^care-group: .*$`, "care-group: grass that sings")},
		{106, "entry/no-such-job", func(text string, _ []Entry) string {
			return with(with(text, "adjust", ""), "care", "[{job: comb out, when: March}]")
		}},
		// The same member's, since two of one plant by two members stand side by side.
		{6 + 3*Members, "entry/same-name", same(6 + 2*Members)},
		{200, "entry/synonym-taken", func(text string, all []Entry) string {
			return with(text, "synonyms", "["+all[201].Botanical+"]")
		}},
		{258, "entry/duplicate-key", replace(`^spread: .*$`, "spread: 1 m\nspread: 2 m")},
		{309, "entry/encoding", replace(`^---\n\n*(.)`, "---\n# d\xe9but\n$1")},
		{351, "entry/missing-key", func(text string, _ []Entry) string {
			return with(with(text, "contributor", ""), "type", "")
		}},
	}
}

// member is the name of one of the club's; some begin with a letter that bytes
// would put elsewhere than readers do.
func member(i int) string {
	given := []string{"Ada", "Ben", "Clara", "Dunstan", "Élodie", "Fergus", "Greta", "Åsa"}
	family := []string{"Marsh", "Tarn", "Fell", "Wray", "O'Dowd"}
	return given[i%len(given)] + " " + family[i/len(given)]
}

// epithet is a made-up one, another for each number and far from all others.
func epithet(i int) string {
	syllables := []string{"bra", "cel", "dor", "fin", "gul", "har", "jos", "kel", "lum", "mir", "nov", "pel", "quar", "ros", "sil", "tur", "vel", "wol", "xan", "zeb"}
	return syllables[i%20] + syllables[(i/20+7*i)%20] + syllables[(i/20)%20] + "ensis"
}

// models are shipped entries, each care group in turn.
func models() []string {
	var groups []string
	of := map[string][]string{}
	library := content.Library()
	err := fs.WalkDir(library, "plants", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(library, p)
		if group := valueOf(string(data), "care-group"); group != "" {
			if of[group] == nil {
				groups = append(groups, group)
			}
			of[group] = append(of[group], string(data))
		}
		return err
	})
	if err != nil {
		panic(err) // it is inside the program
	}
	slices.Sort(groups)
	var out []string
	for turn := 0; len(out) < Entries; turn++ {
		for _, g := range groups {
			out = append(out, of[g][turn%len(of[g])])
		}
	}
	return out
}

// valueOf is a key's value in front matter, where it is written on one line.
func valueOf(text, key string) string {
	m := regexp.MustCompile(`(?m)^` + key + `: *([^#\n]*)`).FindStringSubmatch(text)
	if m == nil {
		return ""
	}
	return strings.TrimSpace(m[1])
}

// with gives front matter in which a key has a value; "" takes the key away.
func with(text, key, value string) string {
	text = regexp.MustCompile(`(?m)^`+key+`:.*\n((  .*|- .*)\n)*`).ReplaceAllString(text, "")
	if value == "" {
		return text
	}
	return strings.Replace(text, "---\n", "---\n"+key+": "+value+"\n", 1)
}
