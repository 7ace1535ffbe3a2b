package garden

import (
	"iter"
	"maps"
	"slices"
	"strings"
	"sync"

	"sheaf/generator/entries"
	"sheaf/generator/names"
)

// A list names fifty genera of a library's thousand. Entries are therefore laid by
// genus when a list comes, and the names of a genus are filed, with all their keys
// and spellings, when a row first asks for it.

// keys holds the entries of a library as a list asks for them.
type keys struct {
	library *entries.Library
	speller

	english    func() *commonNames
	realGenera func() map[string]bool // genera that are none of the library's, and no slip
}

// A genus has the entries with a name in it, by the keys of their names (see
// [names.Name.Key]), and the spellings that are held to each other.
type genus struct {
	name    string // in small letters
	entries []*entries.Entry

	filing                             sync.Once
	exact, synonym, cultivars, species map[string][]*entries.Entry
	serving                            map[string]*entries.Entry // by how, see [entries.Entry.Serves]
	within                             map[string]bool           // epithets
	called                             map[string]string         // cultivars, by their keys

	spelling sync.Once
	learnt   []learnt // its names, of which the spellings are made
	wordlist
}

// A learnt is a name of an entry.
type learnt struct {
	name  names.Name
	entry *entries.Entry
}

func index(l *entries.Library) *keys {
	x := &keys{library: l, speller: speller{letters: letters(), all: map[string]*genus{}}}
	for _, e := range l.Entries {
		x.lay(e, e.Name.Value)
		for _, s := range e.Synonyms {
			x.lay(e, s.Value)
		}
	}
	x.genera = sync.OnceValue(x.generaSpelt)
	x.epithets = sync.OnceValue(func() map[string]bool { return epithetsOf(l) })
	x.english = sync.OnceValue(func() *commonNames { return commonNamesOf(l) })
	x.realGenera = sync.OnceValue(func() map[string]bool {
		out := map[string]bool{}
		for _, r := range l.Regulated {
			for _, n := range r.Plants {
				if g := names.Folded(n.Value.Genus); !x.held(g) {
					out[g] = true
				}
			}
		}
		return out
	})
	return x
}

// lay puts an entry with the genus of one of its names.
func (x *keys) lay(e *entries.Entry, n names.Name) {
	name := names.Folded(n.Genus)
	if name == "" {
		return
	}
	g := x.all[name]
	if g == nil {
		g = &genus{name: name}
		x.all[name] = g
	}
	if k := len(g.entries); k == 0 || g.entries[k-1] != e {
		g.entries = append(g.entries, e)
	}
}

// held tells whether the library has a genus.
func (x *speller) held(name string) bool { return x.all[name] != nil }

// filed gives a genus with its names filed; an empty one if the library has it not.
func (x *speller) filed(name string) *genus {
	g := x.all[name]
	if g == nil {
		return &genus{}
	}
	g.filing.Do(func() {
		of := func() map[string][]*entries.Entry { return map[string][]*entries.Entry{} }
		g.exact, g.synonym, g.cultivars, g.species = of(), of(), of(), of()
		g.serving, g.within, g.called = map[string]*entries.Entry{}, map[string]bool{}, map[string]string{}
		for _, e := range g.entries {
			g.file(e)
		}
	})
	return g
}

// file puts an entry under all that it serves in the genus.
func (g *genus) file(e *entries.Entry) {
	for i := range 1 + len(e.Synonyms) {
		n := e.Name.Value
		if i > 0 {
			n = e.Synonyms[i-1].Value
		}
		if names.Folded(n.Genus) != g.name {
			continue
		}
		if n.IsGenus() {
			g.serves(e, i > 0)
			continue
		}
		if i == 0 {
			g.serves(e, false)
		}
		of := g.synonym
		if i == 0 {
			of = g.exact
		}
		for _, k := range n.Keys() {
			put(of, k, e)
		}
		// An entry for a species, not one for a cultivar or a Group,
		// answers for the species' other cultivars.
		if n.Key() == n.SpeciesKey() {
			put(g.species, n.SpeciesKey(), e)
		}
		for _, epithet := range []string{n.Species, n.Infra} {
			if epithet != "" && n.Species != "" {
				g.within[epithet] = true
			}
		}
		g.learnt = append(g.learnt, learnt{n, e})
	}
	e.ReadCultivars()
	for _, c := range e.Cultivars {
		c.Value.Genus = g.name
		g.cultivar(c.Value, e)
	}
	// Epithets such as 'Alba' recur within a genus: they tell no plant by themselves.
	if n := e.Name.Value; n.Cultivar+n.Trade != "" && !looks.MatchString(n.Cultivar) {
		g.cultivar(names.Name{Genus: g.name, Trade: n.Trade, Cultivar: n.Cultivar}, e)
	}
}

func put(m map[string][]*entries.Entry, key string, e *entries.Entry) {
	if of := m[key]; key != "" && (len(of) == 0 || of[len(of)-1] != e) {
		m[key] = append(of, e)
	}
}

// serves files an entry under how it serves the genus; what an earlier library
// serves stays its own. A genus among the synonyms is no more, and whoever has it
// serves all of it.
func (g *genus) serves(e *entries.Entry, sunk bool) {
	how := e.Serves.Value
	if sunk && how == "" {
		how = entries.ServesGenus
	}
	if o := g.serving[how]; how != "" && (o == nil || e.Before(o)) {
		g.serving[how] = e
	}
}

// cultivar files an entry under a cultivar with the genus alone.
func (g *genus) cultivar(n names.Name, e *entries.Entry) {
	for _, k := range n.Keys() {
		put(g.cultivars, k, e)
	}
	if n.Cultivar != "" {
		g.called[names.Name{Genus: n.Genus, Cultivar: n.Cultivar}.Key()] = n.Cultivar
	}
	g.learnt = append(g.learnt, learnt{n, e})
}

// epithetsOf are all epithets of a library.
func epithetsOf(l *entries.Library) map[string]bool {
	out := map[string]bool{}
	add := func(n names.Name) {
		for _, w := range []string{n.Species, n.Infra} {
			if w != "" {
				out[names.Folded(w)] = true
			}
		}
	}
	for _, e := range l.Entries {
		add(e.Name.Value)
		for _, s := range e.Synonyms {
			add(s.Value)
		}
	}
	return out
}

// knows tells whether the library has an epithet in a genus.
func (x *keys) knows(genus, epithet string) bool { return x.filed(genus).within[epithet] }

// slipOf tells a misspelt epithet of a genus.
func (x *keys) slipOf(genus, word string) bool {
	if x.epithets()[word] {
		return false
	}
	of := x.of(genus)
	if of == nil {
		return false
	}
	sound := x.sound(word, true)
	for i := range of.spellings {
		s := &of.spellings[i]
		if len(s.words) > 1 && !isPhrase(s.words[1]) && (s.sounds[1] == sound || slipped(word, s.words[1])) {
			return true
		}
	}
	return false
}

// slipOfJoined tells a misspelt epithet of two words joined by a hyphen, which a key
// holds as two.
func (x *keys) slipOfJoined(genus, word string) bool {
	return slices.ContainsFunc(x.filed(genus).learnt, func(l learnt) bool {
		return strings.Contains(l.name.Species, "-") && slipped(word, l.name.Species)
	})
}

// epithet finds the one epithet of a genus that begins so.
func (x *keys) epithet(genus, short string) string {
	of := x.of(genus)
	if of == nil || short == "" {
		return ""
	}
	return theOne(func(yield func(string) bool) {
		for i := range of.spellings {
			if w := of.spellings[i].words; len(w) > 1 && !isPhrase(w[1]) && !yield(w[1]) {
				return
			}
		}
	}, short)
}

// theOne gives the one word that begins so; "" for none, and for several.
func theOne(words iter.Seq[string], short string) string {
	found := ""
	for w := range words {
		if !strings.HasPrefix(w, short) || w == found {
			continue
		}
		if found != "" {
			return ""
		}
		found = w
	}
	return found
}

// cultivarOf tells whether a genus has a cultivar of that name.
func (x *keys) cultivarOf(genus, name string) bool {
	return len(x.filed(genus).cultivars[names.Name{Genus: genus, Cultivar: name}.Key()]) > 0
}

// group tells whether a genus has a Group of that name.
func (x *keys) group(genus, name string) bool {
	key := names.Name{Genus: genus, Group: name}.Key()
	of := x.filed(genus)
	return len(of.exact[key])+len(of.synonym[key]) > 0
}

// cultivarBegins finds the one cultivar of a genus that begins so: Karl F.
func (x *keys) cultivarBegins(genus, short string) string {
	called := x.filed(genus).called
	return called[theOne(maps.Keys(called), strings.TrimSuffix(names.Name{Genus: genus, Cultivar: short}.Key(), "'"))]
}
