// Package entries reads the library: plant entries, care groups, job pages,
// regions and pages, one Markdown file each, into checked values. A parsing
// function takes a [source.File] and never fails to return a value; faults are
// in its diagnostics, and the value is fit for use only if they hold no error.
// [Assemble] then joins the files of all libraries: it fills each entry with
// the rules of its care group and runs the checks that need more than one file.
package entries

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"sheaf/generator/draw"
	"sheaf/generator/fields"
	"sheaf/generator/measure"
	"sheaf/generator/names"
	"sheaf/generator/photo"
	"sheaf/generator/prose"
	"sheaf/generator/site"
	"sheaf/generator/source"
)

// An Entry is one plant's care.
type Entry struct {
	File     *source.File
	ID       string // the name as a slug; in file names, links and UIDs
	Name     source.At[names.Name]
	Common   []string
	Synonyms []source.At[names.Name]
	Family   string

	Type, Leaf, Growth, Habit, Head string

	Height, FlowerHeight, Spread measure.Length
	Unmeasured                   bool // made of a care group alone: nobody knows how large it is and what it looks like
	Flowers                      source.At[site.Window]
	LeafColour, FlowerColour     draw.Color
	Hardy                        source.At[site.Hardiness] // as its country rates it
	Zone                         source.At[site.Hardiness] // the coldest USDA zone in which it is kept outdoors
	Lifted                       bool                      // it winters indoors
	Light, Soil                  []string
	Fertility                    string // "" when the entry does not say
	Hazards                      []source.At[string]
	Cautions                     []string // for whoever touches the plant, whatever the job

	// Serves says whom the entry serves besides its species: one of [serves], or
	// "". Except are those it must not serve, Cultivars those that lists print with
	// the genus alone, Asks what a cautious entry wants to know.
	Serves    source.At[string]
	Except    []source.At[names.Name]
	Cultivars []source.At[names.Name] // once [Entry.ReadCultivars] was called
	Asks      *Question

	GroupName source.At[string]
	Group     *Group // set by Assemble
	Without   []source.At[string]
	Rules     []Rule // the entry's own; after Assemble, merged with the group's
	Adjust    []Adjust
	Stands    []string

	Sources     []string
	Contributor string
	Tags        []source.At[string] // words by which a guide can choose entries
	// Others are the entries of the same plant that other contributors wrote, set
	// by Assemble. A guide prints them beside this one.
	Others []*Entry
	// Kin are the entries of the genus from which one made of a care group has its
	// hazards.
	Kin   []*Entry
	Photo *Photo // nil: none
	Body  []prose.Block

	// WrittenFor is the hemisphere whose months and seasons the file means.
	WrittenFor site.Hemisphere

	bodyAt int // where in File the body begins

	shelf int // which of the library's it is from, set by Assemble
	// glanced says that no more was read than [Glance] does.
	glanced   bool
	cultivars []source.At[string] // as they are written, of one that was glanced at
	reading   *sync.Once          // of them
	lost      bool                // nothing but what [Entry.glean] found could be had of the file
}

// A Photo is a photograph of a plant: a file in the photos folder beside the
// plants, with words for those who cannot see it.
type Photo struct {
	File        source.At[string] // below the photos folder; "" when it has a fault
	Credit, Alt string
	// Develop reads the file: set by whoever knows where it is, as Picture is by
	// whoever wants it.
	Develop func() (*photo.Photo, error)
	Picture *photo.Photo
}

// ParsePhoto reads the keys of a photograph.
func ParsePhoto(m *fields.Map) *Photo {
	p := &Photo{Credit: text(m, "credit"), Alt: text(m, "alt")}
	file, ok := m.Need("file")
	name := file.Value
	switch {
	case !ok:
	case !fs.ValidPath(name), strings.ContainsAny(name, `\:`), !slices.Contains([]string{".jpg", ".jpeg", ".png"}, strings.ToLower(path.Ext(name))):
		m.Fail(file.Span, "photo", fmt.Sprintf("%q cannot be used as a photograph", name), "name a .jpg or .png file in the photos folder")
	default:
		p.File = file
	}
	if ok && p.Alt == "" {
		m.Fail(m.Span(), "photo", "the photograph is not described", `say in "alt:" what it shows, for those who cannot see it`)
	}
	return p
}

// CommonName is what the owner calls the plant: its first common name, or the
// botanical one.
func (e *Entry) CommonName() string {
	if len(e.Common) > 0 {
		return e.Common[0]
	}
	return e.Name.Value.String()
}

// Tagged tells whether the entry has a tag, whatever its capitals.
func (e *Entry) Tagged(tag string) bool {
	return slices.ContainsFunc(e.Tags, func(t source.At[string]) bool { return strings.EqualFold(t.Value, tag) })
}

// Size classes of plants, for minutes and watering: by mature height in
// centimetres.
const (
	Small  = 50  // up to
	Medium = 120 // up to; larger above
)

// Tallest is the plant's full height with its flowers, in centimetres.
func (e *Entry) Tallest() float64 { return max(e.Height.High, e.FlowerHeight.High) }

// A Rule is one job of a plant: what, when, how much, how.
type Rule struct {
	Span source.Span // the line a task names as its source
	Job  source.At[string]
	When source.At[site.Window]

	Leave                                       source.At[measure.Leave]
	LookFor, How, Why, IfMissed, StopIf, WaitIf string

	Tools     []string
	Never     []source.At[site.Window]
	NotBefore int         // first year since planting in which it is done; 0: any
	Only      int         // the one year since planting in which it is done; 0: any
	Every     int         // interval in years; 0 and 1: every year
	Waits     source.Span // of WaitIf
	// Needs is what the place must have for the rule to make sense there; "" for
	// a rule that makes sense anywhere. It is one of [needs].
	Needs    string
	Minutes  measure.Minutes
	Cautions []string
	Hard     bool                // cuts to the ground, whatever the words of Leave say
	Moved    source.Span         // the window in garden.yaml that stands in place of its own; zero for none
	Pests    []source.At[string] // that it is about: without any of them it is not done
	absent   bool                // none of its pests lives here
}

// Words are the sentences of a rule that an owner reads.
func (r *Rule) Words() []string {
	out := []string{r.LookFor, r.How, r.Why, r.IfMissed, r.StopIf, r.WaitIf}
	return slices.DeleteFunc(append(out, r.Cautions...), func(s string) bool { return s == "" })
}

// Text is all that an owner reads of an entry: its body, its rules and what
// conditions of the place add.
func (e *Entry) Text() string {
	out := []string{prose.Text(e.Body)}
	out = append(out, e.Cautions...)
	for i := range e.Rules {
		out = append(out, e.Rules[i].Words()...)
	}
	for _, a := range e.Adjust {
		out = append(out, a.Note)
	}
	return strings.Join(out, "\n")
}

// Adjust is what one condition of a place changes.
type Adjust struct {
	Span  source.Span
	If    string            // [ThisGarden] for what garden.yaml changes
	Job   source.At[string] // "" for the plant as a whole
	Leave source.At[measure.Leave]
	When  source.At[site.Window]
	Note  string
	Skip  bool
	Text  []prose.Block // of a garden's: stands in place of the entry's body
}

// Limits beyond which a figure is a slip of the pen. The tallest trees of
// gardens stay under 40 m; nothing planted is lower than 1 cm.
const (
	lowest, tallest = 1, 4000 // cm
	widest          = 3000    // cm
	coldest         = -60.0   // °C; the lower end of USDA zone 1a is −51 °C
	warmest         = 25.0
)

// most is of how many items a list of an entry, a group or a job may be: rules,
// names, tools, cautions, sources. The longest of the shipped library has 9.
const most = 40

// longestName of a plant in common speech, in bytes: it stands with every task.
const longestName = 200

// fewTexts gives a list of no more items than may be.
func fewTexts(m *fields.Map, key string) []source.At[string] {
	ts := m.Texts(key)
	return ts[:few(m, key, len(ts))]
}

// fewMaps is [fewTexts] for a list of maps.
func fewMaps(m *fields.Map, key string) []*fields.Map {
	ms := m.Maps(key)
	return ms[:few(m, key, len(ms))]
}

// few refuses a list that is too long, and gives how much of it is read.
func few(m *fields.Map, key string, n int) int {
	if n > most {
		m.Fail(m.Key(key), "too-many", fmt.Sprintf("there are %d items under %q; at most %d are read", n, key, most))
	}
	return min(n, most)
}

// ParseEntry reads a plant entry.
func ParseEntry(f *source.File) (*Entry, source.Diagnostics) {
	m, at := fields.Front(f, "entry")
	e := &Entry{File: f, bodyAt: at}
	if e.lost = m.Lost(); e.lost {
		e.glean()
	}
	if t, ok := m.Need("botanical"); ok {
		e.Name = botanical(m, t)
		e.ID = e.Name.Value.Slug()
	}
	common := fewTexts(m, "common")
	e.Common = cleaned(common)
	for _, c := range common {
		if len(c.Value) > longestName {
			m.Fail(c.Span, "too-long", fmt.Sprintf("a name of %d letters is too long; %d are the most", len(c.Value), longestName))
		}
	}
	for _, t := range fewTexts(m, "synonyms") {
		e.Synonyms = append(e.Synonyms, botanical(m, t))
	}
	e.Family = text(m, "family")
	e.Type = need(m, "type", Types())
	e.Leaf = need(m, "leaf", leafWords())
	growth, _ := m.Choice("growth", growthWords())
	e.Growth = growth.Value
	e.Habit = need(m, "habit", habits())
	e.Head = choice(m, "flower-head", heads())

	e.Height = length(m, "height", true, lowest, tallest)
	e.FlowerHeight = length(m, "flower-height", false, lowest, tallest)
	e.Spread = length(m, "spread", true, lowest, widest)
	if e.FlowerHeight.High > 0 && e.FlowerHeight.High < e.Height.High {
		m.Fail(m.Key("flower-height"), "flower-height", "the flowers stand lower than the leaf",
			"leave flower-height out when stems do not rise above the leaf")
	}
	e.Flowers = flowering(m)
	e.LeafColour, e.FlowerColour = colours(m)
	e.Hardy, e.Zone, e.Lifted = hardy(m, "hardy"), zone(m), m.Flag("lifted")
	e.Light = values(m.Choices("light", Light()))
	e.Soil = values(m.Choices("soil", Soil()))
	if likes := m.Map("likes"); likes != nil {
		e.Fertility = choice(likes, "fertility", Fertility())
		likes.Done()
	}
	e.Hazards = m.Choices("hazards", Hazards())
	e.Cautions = cautions(m)
	e.GroupName, _ = m.Text("care-group")
	e.Without = fewTexts(m, "without")
	e.Rules = rules(m)
	e.Adjust = adjusts(m)
	e.Stands = values(m.Choices("stands", stands()))
	e.Sources = cleaned(fewTexts(m, "sources"))
	if s := text(m, "contributor"); s != "" {
		e.Contributor = s
	}
	e.Tags = fewTexts(m, "tags")
	if p := m.Map("photo"); p != nil {
		e.Photo = ParsePhoto(p)
		p.Done()
	}
	e.served(m)
	m.Done()

	ds := m.Diagnostics()
	if growthOf := e.Type == "grass" || e.Type == "sedge" || e.Type == "rush" || e.Type == "bamboo"; e.Growth != "" && e.Type != "" && !growthOf {
		ds.Add(source.Error, "entry/growth", growth.Span, "only grasses, sedges, rushes and bamboos have a growth season", "leave the key out")
	}
	if e.GroupName.Value == "" && len(e.Rules) == 0 && m.Has("botanical") {
		ds.Add(source.Error, "entry/no-care", m.Span(), "the entry has neither a care-group nor rules under care", `name a group with "care-group: …"`)
	}
	body, found := prose.Parse(f, at, "entry")
	e.Body = body
	return e, append(ds, found...)
}

// glean takes what can be had of a file that cannot be read, since it is at
// fault and will be printed nowhere: whose it is, so that the fault can be sent
// to them, and of which plant, so that no other entry is taken for it.
func (e *Entry) glean() {
	if s, ok := fields.Line(e.File, "contributor"); ok {
		e.Contributor = prose.Sentence(s.Value)
	}
	if s, ok := fields.Line(e.File, "botanical"); ok {
		if n, _, err := names.Parse(s.Value); err == nil {
			e.Name = source.At[names.Name]{Value: n, Span: s.Span}
			e.ID = n.Slug()
		}
	}
}

// botanical reads a name; repairs are told, so that the file can be mended.
func botanical(m *fields.Map, t source.At[string]) source.At[names.Name] {
	n, repairs, err := names.Parse(t.Value)
	var fault *names.SyntaxError
	if errors.As(err, &fault) {
		m.Fail(t.Span.Within(fault.Offset, fault.End), "name", fault.Message, fault.Hint)
	}
	for _, r := range repairs {
		m.Warn(t.Span.Within(r.Offset, r.End), "name-form", r.Message, "write "+n.Plain())
	}
	return source.At[names.Name]{Value: n, Span: t.Span}
}

func text(m *fields.Map, key string) string {
	t, _ := m.Text(key)
	return prose.Sentence(t.Value)
}

func values(ts []source.At[string]) []string {
	var out []string
	for _, t := range ts {
		out = append(out, t.Value)
	}
	return out
}

func cleaned(ts []source.At[string]) []string {
	var out []string
	for _, t := range ts {
		// Words of which nothing can be printed, such as a name of pictures, are none.
		if s := prose.Sentence(t.Value); s != "" {
			out = append(out, s)
		}
	}
	return out
}

func need(m *fields.Map, key string, known []string) string {
	if _, ok := m.Need(key); !ok {
		return ""
	}
	return choice(m, key, known)
}

func choice(m *fields.Map, key string, known []string) string {
	t, ok := m.Choice(key, known)
	if !ok {
		return ""
	}
	return t.Value
}

func length(m *fields.Map, key string, must bool, low, high float64) measure.Length {
	get := m.Text
	if must {
		get = m.Need
	}
	t, ok := get(key)
	if !ok {
		return measure.Length{}
	}
	l, err := measure.ParseLength(t.Value)
	switch {
	case err != nil:
		m.Fail(t.Span, key, err.Error())
		return measure.Length{}
	case l.Low < low || l.High > high:
		m.Fail(t.Span, key, fmt.Sprintf("a %s of %s is not possible", strings.ReplaceAll(key, "-", " "), t.Value),
			fmt.Sprintf("from %s to %s is", measure.One(low).Print(measure.Metric), measure.One(high).Print(measure.Metric)))
		return measure.Length{}
	}
	return l
}

func flowering(m *fields.Map) source.At[site.Window] {
	w := window(m, "flowers")
	if w.Value.UsesCues() {
		m.Fail(w.Span, "flowers", "flowering is given in months or seasons, not by a cue", "write for example June to August")
		return source.At[site.Window]{Span: w.Span}
	}
	return w
}

func window(m *fields.Map, key string) source.At[site.Window] {
	t, ok := m.Text(key)
	if !ok {
		return source.At[site.Window]{}
	}
	return parseWindow(m, t)
}

func parseWindow(m *fields.Map, t source.At[string]) source.At[site.Window] {
	w, err := site.ParseWindow(t.Value)
	var fault *site.SyntaxError
	if errors.As(err, &fault) {
		hint := ""
		if fault.Hint != "" {
			hint = fmt.Sprintf("did you mean %q?", fault.Hint)
		}
		m.Fail(t.Span.Within(fault.Offset, fault.End), "window", fault.Message, hint)
	}
	return source.At[site.Window]{Value: w, Span: t.Span}
}

func colours(m *fields.Map) (leaf, flower draw.Color) {
	// A plant without colours is drawn in the greens and straws of a hedge bank.
	leaf, flower = draw.Color{R: 0x6f, G: 0x86, B: 0x57}, draw.Color{R: 0xa9, G: 0x8d, B: 0x5f}
	c := m.Map("colours")
	for key, to := range map[string]*draw.Color{"leaf": &leaf, "flower": &flower} {
		t, ok := c.Text(key)
		if !ok {
			continue
		}
		v, err := draw.ParseColor(t.Value)
		if err != nil {
			c.Fail(t.Span, "colour", err.Error(), `quote it: "#6f8657"`)
			continue
		}
		*to = v
	}
	c.Done()
	return leaf, flower
}

func hardy(m *fields.Map, key string) source.At[site.Hardiness] {
	t, ok := m.Text(key)
	if !ok {
		return source.At[site.Hardiness]{}
	}
	h, err := site.ParseHardiness(t.Value)
	switch {
	case err != nil:
		m.Fail(t.Span, "hardy", err.Error(), "write a lowest night such as -15 °C, a rating H1a to H7 or a zone such as Z6")
	case h.Low < coldest || h.Low > warmest:
		m.Fail(t.Span, "hardy", fmt.Sprintf("no garden plant is hardy to %s", t.Value), "from -60 °C to 25 °C is possible")
	}
	return source.At[site.Hardiness]{Value: h, Span: t.Span}
}

// zone reads the coldest USDA zone of a plant. Nothing else is taken for one: a
// British rating or a lowest night says nothing of winters elsewhere.
func zone(m *fields.Map) source.At[site.Hardiness] {
	h := hardy(m, "zone")
	if h.Value.Written != "" && h.Value.Scale != site.USDA {
		m.Fail(h.Span, "hardy", fmt.Sprintf("%s is no USDA zone", h.Value.Written), "write the coldest zone in which it is kept outdoors, such as Z5 or 8a, from an American source")
		return source.At[site.Hardiness]{}
	}
	return h
}

// rules reads the list under care.
func rules(m *fields.Map) []Rule {
	var out []Rule
	for _, c := range fewMaps(m, "care") {
		r := Rule{Span: c.Span()}
		r.Job, _ = c.Need("job")
		r.When = window(c, "when")
		r.Leave = leave(c)
		r.LookFor, r.How, r.Why = text(c, "look-for"), text(c, "how"), text(c, "why")
		r.IfMissed, r.StopIf, r.WaitIf = text(c, "if-missed"), text(c, "stop-if"), text(c, "postpone-if")
		r.Waits = c.Key("postpone-if")
		r.Tools = cleaned(fewTexts(c, "tools"))
		for _, t := range fewTexts(c, "never") {
			r.Never = append(r.Never, parseWindow(c, t))
		}
		r.NotBefore = counted(c, "not-before", measure.ParseYear)
		r.Only = counted(c, "only", measure.ParseYear)
		r.Every = counted(c, "every", measure.ParseEvery)
		r.Needs = choice(c, "needs", needs())
		r.Minutes = minutes(c, "minutes")
		r.Cautions = cautions(c)
		r.Hard, r.Pests = c.Flag("hard"), fewTexts(c, "pests")
		c.Done()
		out = append(out, r)
	}
	return out
}

// cautions reads whole sentences. In a list without quotes a comma parts one
// into two, which would be printed as half a warning each.
func cautions(m *fields.Map) []string {
	ts := fewTexts(m, "cautions")
	for _, t := range ts {
		if r, _ := utf8.DecodeRuneInString(prose.Clean(t.Value)); unicode.IsLower(r) {
			m.Fail(t.Span, "caution", "a caution is a whole sentence; this one begins in its middle", `write one with a comma in quotes: ["Cut canes are sharp, so wear gloves."]`)
		}
	}
	return cleaned(ts)
}

func leave(m *fields.Map) source.At[measure.Leave] {
	t, ok := m.Text("leave")
	if !ok {
		return source.At[measure.Leave]{}
	}
	v, err := measure.ParseLeave(prose.Sentence(t.Value))
	if err != nil {
		m.Fail(t.Span, "leave", err.Error())
	}
	return source.At[measure.Leave]{Value: v, Span: t.Span}
}

func counted(m *fields.Map, key string, parse func(string) (int, error)) int {
	t, ok := m.Text(key)
	if !ok {
		return 0
	}
	n, err := parse(t.Value)
	if err != nil {
		m.Fail(t.Span, key, err.Error())
	}
	return n
}

func minutes(m *fields.Map, key string) measure.Minutes {
	t, ok := m.Text(key)
	if !ok {
		return measure.Minutes{}
	}
	v, err := measure.ParseMinutes(t.Value)
	if err != nil {
		m.Fail(t.Span, "minutes", err.Error())
	}
	return v
}

func adjusts(m *fields.Map) []Adjust {
	var out []Adjust
	for _, c := range fewMaps(m, "adjust") {
		condition := ""
		if _, ok := c.Need("if"); ok {
			condition = choice(c, "if", conditions())
		}
		a := ParseAdjust(c)
		a.If = condition
		c.Done()
		out = append(out, a)
	}
	return out
}

// ParseAdjust reads the keys of an adjustment that an entry's and a garden's have
// alike: all but what it hangs on.
func ParseAdjust(c *fields.Map) Adjust {
	a := Adjust{Span: c.Span()}
	a.Job, _ = c.Text("job")
	a.Leave = leave(c)
	a.When = window(c, "when")
	a.Note = text(c, "note")
	a.Skip = c.Flag("skip")
	if a.Job.Value == "" && (a.Skip || c.Has("leave") || c.Has("when")) {
		c.Fail(c.Span(), "adjust", "an adjustment of leave, when or skip needs its job", `add "job: …"`)
	}
	return a
}

// overlay lays an entry's rule over its group's: what the entry says holds,
// the rest stays.
func overlay(group, own Rule) Rule {
	out := group
	out.Span, out.Job = own.Span, own.Job
	if !own.When.Value.IsZero() {
		out.When = own.When
	}
	if !own.Leave.Value.IsZero() {
		out.Leave = own.Leave
	}
	for _, f := range []struct{ to, from *string }{
		{&out.LookFor, &own.LookFor}, {&out.How, &own.How}, {&out.Why, &own.Why},
		{&out.IfMissed, &own.IfMissed}, {&out.StopIf, &own.StopIf}, {&out.WaitIf, &own.WaitIf},
	} {
		if *f.from != "" {
			*f.to = *f.from
		}
	}
	if own.WaitIf != "" {
		out.Waits = own.Waits
	}
	for _, f := range []struct{ to, from *int }{{&out.NotBefore, &own.NotBefore}, {&out.Only, &own.Only}, {&out.Every, &own.Every}} {
		if *f.from != 0 {
			*f.to = *f.from
		}
	}
	if own.Needs != "" {
		out.Needs = own.Needs
	}
	if own.Tools != nil {
		out.Tools = own.Tools
	}
	if own.Never != nil {
		out.Never = own.Never
	}
	if own.Minutes != (measure.Minutes{}) {
		out.Minutes = own.Minutes
	}
	if own.Pests != nil {
		out.Pests, out.absent = own.Pests, own.absent
	}
	out.Hard = group.Hard || own.Hard
	// Cautions are never taken away, only added.
	out.Cautions = append(append([]string(nil), group.Cautions...), own.Cautions...)
	return out
}

// ownName is a file's name without folder and ending, by which its page will be
// called on whatever system. A hyphen stands in it for what means something else
// in an address.
func ownName(m *fields.Map, f *source.File) string {
	name := strings.TrimSuffix(path.Base(f.Path), path.Ext(f.Path))
	const longest = 100 // bytes; 255 is the most of common file systems
	odd := strings.ContainsFunc(name, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.Is(unicode.Mn, r) && !strings.ContainsRune("-_. ,()+", r)
	})
	if odd || len(name) > longest || strings.Trim(name, ". ") != name || name == "" || names.Device(name) {
		m.Fail(source.Whole(f), "file-name", "the file's name cannot be that of a page", "name it with letters, digits and hyphens, such as cut-back.md")
	}
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.Is(unicode.Mn, r) || r == '_' || r == '.' {
			return r
		}
		return '-'
	}, name)
}
