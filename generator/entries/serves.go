package entries

import (
	"fmt"
	"slices"
	"strings"

	"sheaf/generator/fields"
	"sheaf/generator/names"
	"sheaf/generator/source"
)

// Whom an entry serves besides its own species (DESIGN 3).
const (
	ServesGenus   = "genus"   // every garden plant of the genus
	ServesHybrids = "hybrids" // names of genus and cultivar alone
	ServesUnknown = "unknown" // all of a genus whose plants are kept in several ways, cautiously
)

func serves() []string { return []string{ServesGenus, ServesHybrids, ServesUnknown} }

// A Question is what a cautious entry asks of its plant, for one to answer by
// looking at it. The answer goes into the list's column "care".
type Question struct {
	Span    source.Span
	Text    string
	Answers []Answer
}

// An Answer names the care that it leads to: a care group, or another entry by
// its botanical name.
type Answer struct {
	Text string
	Care source.At[string]
}

// mostCultivars an entry may name: the roses of a class, the clematis of a pruning
// group.
const mostCultivars = 400

// served reads the keys that say whom an entry serves.
func (e *Entry) served(m *fields.Map) {
	e.Serves, _ = m.Choice("serves", serves())
	for _, t := range fewTexts(m, "except") {
		e.Except = append(e.Except, botanical(m, t))
	}
	cultivars := m.Texts("cultivars")
	if len(cultivars) > mostCultivars {
		m.Fail(m.Key("cultivars"), "too-many", fmt.Sprintf("there are %d items under %q; at most %d are read", len(cultivars), "cultivars", mostCultivars))
		cultivars = cultivars[:mostCultivars]
	}
	for _, t := range cultivars {
		e.cultivar(m, t)
	}
	if a := m.Map("asks"); a != nil {
		e.Asks = question(a)
		e.Asks.Span = m.Key("asks")
		a.Done()
	}
}

// cultivar reads a cultivar or selling name, with or without its quotes.
func (e *Entry) cultivar(m *fields.Map, t source.At[string]) {
	if e.Name.Value.Genus == "" {
		return // its name has an error of its own
	}
	n, ok := e.cultivarNamed(t.Value)
	if !ok {
		m.Fail(t.Span, "cultivar", fmt.Sprintf("%q cannot be read as the name of a cultivar of %s", t.Value, e.Name.Value.Genus), "write it without the genus, such as Blue Spire")
		return
	}
	e.Cultivars = append(e.Cultivars, source.At[names.Name]{Value: n, Span: t.Span})
}

// cultivarNamed is a cultivar of the entry's genus, by its name alone.
func (e *Entry) cultivarNamed(text string) (names.Name, bool) {
	text = strings.TrimSpace(text)
	if plainCultivar(text) {
		return names.Name{Genus: e.Name.Value.Genus, Cultivar: text}, true
	}
	if quoted := strings.IndexAny(text, `'‘"“(`) == 0; !quoted && !strings.Contains(text, "(") && strings.ToUpper(text) != text {
		text = "'" + text + "'"
	}
	n, _, err := names.Parse(e.Name.Value.Genus + " " + text)
	return n, err == nil && n.Species == "" && n.Cultivar+n.Trade+n.Group != ""
}

// plainCultivar tells a name that is a cultivar as it stands: words of letters, the
// first with a capital, and not all in capitals as selling names are. Libraries have
// thousands.
func plainCultivar(s string) bool {
	lower := false
	for i := range len(s) {
		c := s[i]
		switch {
		case c >= 'A' && c <= 'Z':
		case c >= 'a' && c <= 'z' && i > 0:
			lower = true
		case c == ' ' && i > 0 && s[i-1] != ' ':
		default:
			return false
		}
	}
	return lower && !strings.HasPrefix(s, "Mix")
}

func question(m *fields.Map) *Question {
	q := &Question{}
	if _, ok := m.Need("question"); ok {
		q.Text = text(m, "question")
	}
	if !m.Has("answers") {
		m.Fail(m.Span(), "missing-key", `key "answers" is missing`)
	}
	for _, a := range fewMaps(m, "answers") {
		var out Answer
		if _, ok := a.Need("answer"); ok {
			out.Text = text(a, "answer")
		}
		out.Care, _ = a.Need("care")
		q.Answers = append(q.Answers, out)
		a.Done()
	}
	return q
}

// Genera are those of which an entry may serve plants that it does not name: its
// own, and those among its synonyms that stand there alone because they are no
// more, such as Perovskia of Salvia yangii. Alone tells that the whole of the genus
// is meant.
func (e *Entry) Genera() (own string, sunk []names.Name) {
	for _, s := range e.Synonyms {
		if s.Value.IsGenus() {
			sunk = append(sunk, s.Value)
		}
	}
	return e.Name.Value.Genus, sunk
}

// Before tells that an entry is from an earlier library than another.
func (e *Entry) Before(o *Entry) bool { return e.shelf < o.shelf }

// Excepts tells whether an entry must not serve a name.
func (e *Entry) Excepts(n names.Name) bool {
	for _, x := range e.Except {
		switch v := x.Value; {
		case v.Cultivar+v.Trade+v.Group != "":
			for _, k := range n.Keys() {
				if k == v.Key() {
					return true
				}
			}
			if v.Species == "" && v.Genus == n.Genus && v.Cultivar != "" && v.Cultivar == n.Cultivar {
				return true
			}
		case v.Infra != "":
			if n.SpeciesKey() == v.SpeciesKey() {
				return true
			}
		case v.Species != "":
			if n.BinomialKey() == v.BinomialKey() {
				return true
			}
		}
	}
	return false
}

// served holds entries to each other: a genus is served once in each way, and a
// cultivar that is told by the genus alone by one entry. What an earlier shelf
// serves, it serves first; within one the choice would be nobody's.
func (l *Library) served(ds *source.Diagnostics) {
	taken := map[string]*Entry{}
	claim := func(e *Entry, key string, where source.Span, code string, message func() string, hint string) {
		switch o := taken[key]; {
		case o == nil || e.shelf < o.shelf:
			taken[key] = e
		case o.shelf == e.shelf && o != e:
			d := ds.Add(source.Error, code, where, message(), hint)
			d.Related = []source.At[string]{{Value: "the other one", Span: o.Name.Span}}
		}
	}
	doubtful := l.doubtful()
	for _, e := range l.Entries {
		if e.lost || e.glanced && !e.among(doubtful) {
			continue
		}
		own, sunk := e.Genera()
		if s := e.Serves; s.Value != "" {
			claim(e, s.Value+" "+strings.ToLower(own), s.Span, "entry/serves-taken",
				func() string { return fmt.Sprintf("another entry serves %s of %s too", s.Value, own) }, "a genus has one entry for each of genus, hybrids and unknown")
		}
		for _, n := range sunk {
			claim(e, "genus "+strings.ToLower(n.Genus), e.Name.Span, "entry/serves-taken",
				func() string { return fmt.Sprintf("another entry has all of %s too", n) }, "a genus among the synonyms says that the whole of it is meant here")
		}
		e.ReadCultivars()
		for _, c := range e.Cultivars {
			claim(e, c.Value.Key(), c.Span, "entry/cultivar-taken",
				func() string { return fmt.Sprintf("another entry has the cultivar %s too", c.Value) }, "take it out of one of the two")
		}
		e.asked(ds)
		if e.Asks != nil {
			for _, a := range e.Asks.Answers {
				if a.Care.Value != "" && l.Group(a.Care.Value) == nil && l.Called(a.Care.Value) == nil {
					var known []string
					for _, g := range l.Groups {
						known = append(known, g.Name.Value)
					}
					ds.Add(source.Error, "entry/no-such-group", a.Care.Span, fmt.Sprintf("there is neither a care group nor an entry %q", a.Care.Value), source.Mean(a.Care.Value, known))
				}
			}
		}
	}
}

// doubtful are the genera, in small letters, of entries that were read whole. Those
// that were glanced at are as shipped, and at odds with none but them.
func (l *Library) doubtful() map[string]bool {
	out := map[string]bool{}
	for _, e := range l.Entries {
		if !e.glanced {
			own, sunk := e.Genera()
			out[names.Folded(own)] = true
			for _, n := range sunk {
				out[names.Folded(n.Genus)] = true
			}
		}
	}
	return out
}

// among tells whether an entry serves one of some genera.
func (e *Entry) among(genera map[string]bool) bool {
	if len(genera) == 0 {
		return false
	}
	own, sunk := e.Genera()
	return genera[names.Folded(own)] || slices.ContainsFunc(sunk, func(n names.Name) bool { return genera[names.Folded(n.Genus)] })
}

// mostAnswers is how many a person reads before choosing.
const mostAnswers = 8

// asked: a genus alone says whom it serves, and who serves cautiously asks.
func (e *Entry) asked(ds *source.Diagnostics) {
	if e.glanced {
		return
	}
	switch cautious := e.Serves.Value == ServesUnknown; {
	case cautious && e.Asks == nil:
		ds.Add(source.Error, "entry/asks", e.Serves.Span, "a cautious entry asks nothing, so nobody learns how its plant is kept", `add "asks:" with a question that is answered by looking, and its answers`)
	case e.Asks == nil:
	case !cautious:
		ds.Add(source.Error, "entry/asks", e.Asks.Span, "only a cautious entry asks", `say "serves: unknown", or leave the question out`)
	case len(e.Asks.Answers) < 2 || len(e.Asks.Answers) > mostAnswers:
		ds.Add(source.Error, "entry/asks", e.Asks.Span, fmt.Sprintf("a question needs 2 to %d answers", mostAnswers), "an answer is {answer: …, care: …}")
	}
	if n := e.Name.Value; n.IsGenus() && e.Serves.Value == "" {
		ds.Add(source.Error, "entry/serves", e.Name.Span, fmt.Sprintf("%s is a whole genus, and the entry does not say that it serves one", n),
			`name the species, or say "serves: genus" if the care is right for every garden plant of the genus`)
	}
}

// Group finds a care group by its name.
func (l *Library) Group(name string) *Group {
	for _, g := range l.Groups {
		if strings.EqualFold(g.Name.Value, name) {
			return g
		}
	}
	return nil
}

// Called finds an entry by its botanical name or, where that is no entry's, by a
// synonym; nil if there is none.
func (l *Library) Called(name string) *Entry {
	n, _, err := names.Parse(name)
	if err != nil {
		return nil
	}
	l.calling.Do(func() {
		l.called = map[string]*Entry{}
		also := map[string]*Entry{}
		for _, e := range l.Entries {
			if e.lost {
				continue
			}
			l.called[e.Name.Value.Key()] = e
			for _, s := range e.Synonyms {
				also[s.Value.Key()] = e
			}
		}
		for key, e := range also {
			if l.called[key] == nil {
				l.called[key] = e
			}
		}
	})
	return l.called[n.Key()]
}
