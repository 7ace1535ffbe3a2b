package booklet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"sheaf/generator/care"
	"sheaf/generator/entries"
	"sheaf/generator/figure"
	"sheaf/generator/prose"
	"sheaf/generator/site"
	"sheaf/generator/source"
)

func (c *composer) backMatter() []Section {
	var out []Section
	if p := c.Library.Page("first-year"); p != nil {
		s := written("first-year", FirstYear, p, c.Words.Say("part.first year"))
		s.Blocks = append(s.Blocks, c.establishing()...)
		out = append(out, s)
	}
	out = append(out, c.safety()...)
	if p := c.Library.Page("glossary"); p != nil {
		s := written("glossary", Glossary, p, c.Words.Say("part.glossary"))
		var t Terms
		stand := c.standing(p)
		for i, pair := range p.Terms {
			if stand[i] {
				t.Rows = append(t.Rows, Fact{pair.Key.Value, prose.Plain(prose.Sentence(pair.Value.Value))})
			}
		}
		slices.SortStableFunc(t.Rows, func(a, b Fact) int { return c.order.Compare(a.Label, b.Label) })
		s.Blocks = append(s.Blocks, t)
		out = append(out, s)
	}
	if c.inGuide() {
		out = append(out, c.contributors()...)
	}
	return append(out, c.sources(), c.index(), c.back())
}

// standing tells which terms of a glossary stand in the booklet.
func (c *composer) standing(glossary *entries.Page) []bool {
	out, left := make([]bool, len(glossary.Terms)), len(glossary.Terms)
	endings := c.Words.List("grammar.endings")
	for _, read := range c.read() {
		if left == 0 {
			break
		}
		text := strings.ToLower(read())
		for i, pair := range glossary.Terms {
			if !out[i] && uses(text, pair.Key.Value, endings) {
				out[i], left = true, left-1
			}
		}
	}
	return out
}

// read lists what this booklet's owner reads, as far as terms of a glossary may stand in
// it. Texts are put together one by one: all of a large guide take 100 MB.
func (c *composer) read() []func() string {
	var texts []func() string
	groups := map[*entries.Group]bool{}
	for _, q := range c.plants {
		texts = append(texts, q.entry.Text)
		for _, o := range q.entry.Others {
			texts = append(texts, o.Text)
		}
		if g := q.entry.Group; g != nil && !groups[g] {
			groups[g] = true
			texts = append(texts, func() string { return g.Called() + "\n" + g.Summary + "\n" + prose.Text(g.Body) })
		}
	}
	for _, j := range c.jobs() {
		texts = append(texts, func() string { return j.Summary + "\n" + prose.Text(j.Body) })
	}
	for _, p := range c.Library.Pages {
		texts = append(texts, func() string { return prose.Text(p.Body) })
	}
	for _, cue := range site.Cues() { // they stand in the year
		texts = append(texts, func() string { return cue.Say(c.Words) })
	}
	return texts
}

// uses tells whether a term or a form of it stands in a text of lower case.
func uses(text, term string, endings []string) bool {
	term = strings.ToLower(term)
	for rest := text; ; {
		i := strings.Index(rest, term)
		if i < 0 {
			return false
		}
		before, _ := utf8.DecodeLastRuneInString(rest[:i])
		rest = rest[i+len(term):]
		ending := rest[:len(rest)-len(strings.TrimLeftFunc(rest, unicode.IsLetter))]
		if !unicode.IsLetter(before) && (ending == "" || slices.Contains(endings, ending)) {
			return true
		}
	}
}

// establishing is what this garden needs in its first year: water, mulch,
// checks; and what its cuttings will come to.
func (c *composer) establishing() []Block {
	if c.inGuide() {
		return nil
	}
	out := []Block{Heading{prose.Plain(c.Words.Say("first year.this garden"))}}
	var rows []Fact
	if needs := c.Mulch(); needs != nil {
		var beds []string
		for _, n := range needs {
			beds = append(beds, c.Words.Say("first year.bed", "bed", n.Bed, "volume", c.bulk(n.Litres)))
		}
		rows = append(rows, Fact{c.Words.Say("label.mulch"), prose.Plain(c.Words.Say("first year.mulch", "depth", c.Garden.Mulch.Say(c.units, c.Words), "beds", c.Words.And(beds)))})
	}
	var checks []prose.Run
	on := named{}
	for _, k := range c.FirstYearChecks(c.Calendar) {
		key, q := "first year.stakes", c.of(k.Planting)
		if k.Ties {
			key = "first year.ties"
		}
		if checks != nil {
			checks = append(checks, prose.Run{Text: " "})
		}
		before, after, _ := strings.Cut(c.Words.Say(key, "plant", q.common, "months", k.Months), q.common)
		checks = append(append(append(checks, prose.Run{Text: before}), c.names(q, on)...), prose.Run{Text: after})
	}
	if checks != nil {
		rows = append(rows, Fact{c.Words.Say("label.check"), checks})
	}
	if w := c.Waste(c.Calendar); w.High > 0 {
		rows = append(rows, Fact{c.Words.Say("label.cuttings"), prose.Plain(c.amounted(c.Words.Say("first year.cuttings", "volume", w.Say(c.Words))))})
	}
	if rows == nil {
		return nil
	}
	return append(out, Facts{rows})
}

// litre writes a small volume.
func litre(v float64) string {
	return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0")
}

// safety is the library's page with the region's rules.
func (c *composer) safety() []Section {
	p := c.Library.Page("safety")
	if p == nil {
		return nil
	}
	s := written("safety", Safety, p, c.Words.Say("part.safety"))
	if told := c.harmful(p); told != nil {
		title := "safety.in this garden"
		if c.inGuide() {
			title = "safety.in this guide"
		}
		s.Blocks = append(append(s.Blocks, Heading{prose.Plain(c.Words.Say(title))}), told...)
	}
	r := c.Region
	if r == nil {
		s.Blocks = append(s.Blocks, Text{Runs: prose.Plain(c.Words.Say("safety.no region")), Role: Warn})
		return []Section{s}
	}
	s.Blocks = append(s.Blocks, Heading{prose.Plain(c.Words.Say("safety.region", "region", r.Name))})
	var rows []Fact
	if r.Nest != nil {
		rows = append(rows, Fact{c.Words.Say("label.nests"), prose.Plain(c.Words.Say("safety.nests", "from", r.Nest.From.Say(c.Words), "to", r.Nest.To.Say(c.Words)) + " " + r.NestNote)})
	}
	for _, f := range []struct{ label, text string }{{"trees", r.Trees}, {"hedges", r.Hedges}, {"waste", r.Waste}, {"help", r.Aid}} {
		if f.text != "" {
			rows = append(rows, Fact{c.Words.Say("label." + f.label), prose.Plain(f.text)})
		}
		if f.label == "hedges" {
			rows = append(rows, c.closedSeasons(false)...)
		}
	}
	s.Ranks = make([]Rank, len(s.Blocks))
	s.add(Always, Facts{rows})
	if exempt := c.closedSeasons(true); exempt != nil {
		s.add(RankOf("law of others"), Facts{exempt}) // print has no room for what binds others
	}
	body := blocks(r.Body)
	checked := prose.Run{Text: c.Words.Say("safety.checked", "day", c.dated(r.Checked))}
	if n := len(body); n > 0 {
		if t, ok := body[n-1].(Text); ok {
			checked.Text = " " + checked.Text
			t.Runs = append(slices.Clone(t.Runs), checked)
			body[n-1], checked.Text = t, ""
		}
	}
	s.add(Always, body...)
	if checked.Text != "" {
		s.add(Always, Text{Runs: []prose.Run{checked}})
	}
	s.add(RankOf("publications"), Text{Runs: prose.Plain(c.Words.Say("safety.sources", "sources", strings.Join(r.Sources, "; "))), Role: Small})
	return []Section{s}
}

func risks(j *entries.Job, kind string) bool {
	return slices.ContainsFunc(j.Risks, func(r source.At[string]) bool { return r.Value == kind })
}

// harmful is what the plants of a garden can do, each hazard once with what to do
// about it, in the order of the safety page; then the plants by name, with where they
// stand and which of it they do. Those in which birds nest when they are cut, and
// those too tall to be cut from the ground, are among them. In a guide each plant's
// own page names what it can do.
func (c *composer) harmful(page *entries.Page) []Block {
	var cautions []Fact
	told := map[*plant][]string{}
	add := func(key, label, caution string, does func(*plant) bool) {
		any := false
		for _, q := range c.plants {
			if does(q) {
				any, told[q] = true, append(told[q], key)
			}
		}
		if any && caution != "" {
			cautions = append(cautions, Fact{label, prose.Plain(sentence(caution))})
		}
	}
	for _, h := range page.Hazards {
		add(h.Key.Value, c.Words.Term("hazard", h.Key.Value), c.Library.Caution(h.Key.Value), func(q *plant) bool {
			return has(q.entry, h.Key.Value) || slices.ContainsFunc(q.entry.Others, func(e *entries.Entry) bool { return has(e, h.Key.Value) })
		})
	}
	add("unknown", "", "", func(q *plant) bool { return unforeseen(q.entry) })
	of := func(what func(*care.Task) bool) func(*plant) bool {
		return func(q *plant) bool {
			return slices.ContainsFunc(q.tasks, func(i int) bool { return what(&c.Calendar.Tasks[i]) })
		}
	}
	nests := c.Library.Caution("nests")
	if slices.ContainsFunc(c.Calendar.Tasks, func(t care.Task) bool { return risks(t.Job, "nests") }) {
		nests = "" // the job's own page says it
	}
	add("nests", c.Words.Say("label.nests"), nests, of(c.InNestSeason))
	add("ladder", "", "", of(care.Professional))
	var out []Block
	if cautions != nil {
		out = append(out, Facts{cautions})
	}
	if c.inGuide() {
		return out
	}
	// Plants that do the same stand together.
	var list Terms
	var order []string
	alike := map[string][]*plant{}
	for _, q := range c.plants {
		if does := c.does(told[q]); does != "" {
			if alike[does] == nil {
				order = append(order, does)
			}
			alike[does] = append(alike[does], q)
		}
	}
	on := named{}
	for _, does := range order {
		var runs []prose.Run
		for _, q := range alike[does] {
			if runs != nil {
				runs = append(runs, prose.Run{Text: "; "})
			}
			runs = append(runs, c.names(q, on)...)
			if where := c.stands(q); where != "" {
				runs = append(runs, prose.Run{Text: " " + where})
			}
		}
		list.Rows = append(list.Rows, Fact{capital(does) + ":", append(runs, prose.Run{Text: "."})})
	}
	if list.Rows != nil {
		out = append(out, list)
	}
	return out
}

// does says what a plant can do, in a few words; whom it poisons in one.
func (c *composer) does(keys []string) string {
	var out, whom []string
	for _, key := range keys {
		if c.Words.Has("poisonous." + key) {
			whom = append(whom, c.Words.Say("poisonous."+key))
		} else {
			out = append(out, c.Words.Term("does", key))
		}
	}
	if whom != nil {
		out = append(out, c.Words.Say("does.poison", "whom", strings.Join(whom, c.Words.Say("list.between")+" ")))
	}
	return strings.Join(out, "; ")
}

// names are a plant's common name and, the first time on a page, its botanical one.
func (c *composer) names(q *plant, on named) []prose.Run {
	called := c.called(q, on)
	out := []prose.Run{{Text: called.Common, Link: "#" + q.id}}
	if called.Latin != nil {
		out = append(append(out, prose.Run{Text: " "}), called.Latin...)
	}
	return out
}

// stands is where a plant is, by its numbers in its beds: "(Long border 4)".
func (c *composer) stands(q *plant) string {
	var where []string
	for _, p := range q.plantings {
		if p.Bed != nil {
			where = append(where, c.Words.Say("safety.stands", "bed", p.Bed.Name, "number", c.number[p]))
		}
	}
	if where == nil {
		return ""
	}
	return "(" + strings.Join(where, ", ") + ")"
}

// sources says where the advice comes from and what is estimated.
func (c *composer) sources() Section {
	s := Section{ID: "sources", Kind: Words, Title: prose.Plain(c.Words.Say("sources.title")), Part: c.Words.Say("part.sources")}
	var all []string
	common := false
	add := func(from []string) {
		for _, src := range from {
			switch {
			case strings.EqualFold(src, "common practice"):
				common = true
			case !slices.Contains(all, src):
				all = append(all, src)
			}
		}
	}
	for _, q := range c.plants {
		add(q.entry.Sources)
		if q.entry.Group != nil {
			add(q.entry.Group.Sources)
		}
	}
	slices.Sort(all)
	s.Blocks = append(s.Blocks, Text{Runs: prose.Plain(c.Words.Say("sources.words"))})
	if common {
		said := c.Words.Say("sources.common practice")
		if all != nil {
			said += " " + c.Words.Say("sources.the rest")
		}
		s.Blocks = append(s.Blocks, Text{Runs: prose.Plain(said)})
	}
	if all != nil {
		s.Blocks = append(s.Blocks, Text{Runs: prose.Plain(strings.Join(all, "; ") + "."), Role: Small})
	}
	return s
}

func (c *composer) index() Section {
	type row struct {
		sort string
		IndexRow
	}
	var rows []row
	at := map[[2]string]int{}
	add := func(sort string, runs []prose.Run, target string) {
		key := [2]string{sort, prose.String(runs)}
		i, ok := at[key]
		if !ok {
			i, at[key] = len(rows), len(rows)
			rows = append(rows, row{sort, IndexRow{Runs: runs}})
		}
		if !slices.Contains(rows[i].Targets, target) {
			rows[i].Targets = append(rows[i].Targets, target)
		}
	}
	for _, q := range c.plants {
		add(q.name.Filed(), q.runs, q.id)
		for _, n := range q.entry.Synonyms {
			add(n.Value.Filed(), botanical(n.Value), q.id)
		}
		for _, common := range q.entry.Common {
			add(common, prose.Plain(common), q.id)
		}
	}
	for _, g := range c.gaps {
		add(g.filed, g.runs, toCome)
	}
	for _, j := range c.jobs() {
		add(j.Called(c.Words), prose.Plain(j.Called(c.Words)), "jobs/"+j.ID)
	}
	slices.SortStableFunc(rows, func(a, b row) int {
		return cmp.Or(c.order.Compare(a.sort, b.sort), strings.Compare(prose.String(a.Runs), prose.String(b.Runs)))
	})
	var out IndexList
	for _, r := range rows {
		r.Letter = c.order.Letter(r.sort)
		out.Rows = append(out.Rows, r.IndexRow)
	}
	return Section{ID: "names", Kind: Index, Title: prose.Plain(c.Words.Say("part.index")), Part: c.Words.Say("part.index"), Blocks: []Block{out}}
}

// codeWide is the width of the QR code on the back in millimetres: at arm's
// length a camera wants a tenth of the distance. Common practice, no source.
const codeWide = 28

func (c *composer) back() Section {
	s := Section{ID: "back", Kind: Back, Title: prose.Plain(c.Garden.Name)}
	var rows []Fact
	for _, k := range c.Garden.Contacts {
		rows = append(rows, Fact{k.Name, prose.Plain(k.Text)})
	}
	if rows != nil {
		s.Blocks = append(s.Blocks, Facts{rows})
	}
	if c.Garden.Online != "" {
		// A code that cannot be made leaves the address in words.
		code, _ := figure.Code(c.Garden.Online, c.Words.Say("drawn.code"), codeWide, c.pal)
		s.Blocks = append(s.Blocks, Online{c.Words.Say("back.online"), c.Garden.Online, code})
	}
	return s
}
