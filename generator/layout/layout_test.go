package layout

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"sheaf/generator/booklet"
	"sheaf/generator/draw"
	"sheaf/generator/prose"
	"sheaf/generator/source"
	"sheaf/generator/theme"
	"sheaf/generator/theme/themetest"
	"sheaf/generator/words/wordstest"
	"sheaf/themes"
)

// maker makes n words, numbered so that each can be looked for on the pages.
type maker struct {
	r *rand.Rand
	n int
}

func (w *maker) some(least, most int) string {
	var out []string
	for range least + w.r.IntN(most-least+1) {
		w.n++
		out = append(out, fmt.Sprintf("w%d%s", w.n, strings.Repeat("x", w.r.IntN(9))))
	}
	return strings.Join(out, " ")
}

func (w *maker) runs(least, most int) []prose.Run {
	return []prose.Run{{Text: w.some(least, most)}, {Text: " " + w.some(1, 3), Italic: true}, {Text: " " + w.some(1, 2), Bold: true}}
}

// made is a book of every kind of block with texts of every length.
func made(t testing.TB, seed uint64) *booklet.Book {
	w := &maker{r: rand.New(rand.NewPCG(seed, 1))}
	b := &booklet.Book{Words: wordstest.English(t), Title: "Made", Subtitle: "A year", By: w.some(1, 3), Date: "2027", Lang: "en"}
	pic := draw.Picture{W: 46, H: 25}
	add := func(s booklet.Section) { b.Sections = append(b.Sections, s) }
	add(booklet.Section{ID: "cover", Kind: booklet.Cover, Title: w.runs(1, 6)})
	add(booklet.Section{ID: "contents", Kind: booklet.Contents, Title: prose.Plain("Contents"), Part: "Contents"})
	var list booklet.List
	for range w.r.IntN(20) {
		list.Items = append(list.Items, w.runs(1, 40))
	}
	add(booklet.Section{ID: "words", Kind: booklet.Words, Title: w.runs(1, 9), Part: "Words", Blocks: []booklet.Block{
		booklet.Text{Runs: w.runs(1, 300)}, booklet.Heading{Runs: w.runs(1, 5)}, list, booklet.Heading{Runs: w.runs(1, 3)},
		booklet.Text{Runs: w.runs(1, 60), Role: booklet.Warn}, booklet.Text{Runs: w.runs(1, 90), Role: booklet.Small}}})
	var tasks booklet.Tasks
	for i := range 1 + w.r.IntN(40) {
		tasks.Lines = append(tasks.Lines, booklet.TaskLine{Mark: "comb", Family: "comb", Verb: w.some(1, 2), Rest: w.some(1, 12), Plant: fmt.Sprintf("plants/%d", i),
			Where: w.some(1, 6), Look: w.some(0, 20), When: "12 to 20 March", Minutes: "5 min", Leave: w.some(0, 8)})
	}
	add(booklet.Section{ID: "months/1", Kind: booklet.Month, Title: w.runs(1, 2), Part: "Months", Blocks: []booklet.Block{tasks}})
	var index booklet.IndexList
	for i := range 1 + w.r.IntN(6) {
		id := fmt.Sprintf("plants/%d", i)
		title := w.runs(1, 5)
		s := booklet.Section{ID: id, Kind: booklet.Plant, Title: title, Aside: w.some(1, 6), Part: "Plants"}
		s.Blocks = append(s.Blocks, booklet.Portrait{Picture: draw.Picture{W: 60, H: 46}, Names: []string{w.some(0, 20)}, Look: w.runs(1, 60), Where: []string{w.some(1, 9)}})
		for range w.r.IntN(13) {
			work := booklet.Work{Mark: "comb", Family: "comb", Verb: w.some(1, 4), When: []string{w.some(1, 5)}, Amount: w.some(1, 12), Later: w.r.IntN(3) == 0, Terms: w.some(0, 30)}
			if w.r.IntN(2) == 0 {
				work.Picture = &pic
			}
			for range w.r.IntN(7) {
				work.Rows = append(work.Rows, booklet.Fact{Label: "If missed", Text: w.runs(1, 60)})
			}
			s.Blocks = append(s.Blocks, work)
		}
		s.Blocks = append(s.Blocks, booklet.Heading{Runs: w.runs(1, 4)}, booklet.Text{Runs: w.runs(1, 120)})
		add(s)
		index.Rows = append(index.Rows, booklet.IndexRow{Runs: title, Letter: string(rune('A' + i)), Targets: []string{id}})
	}
	add(booklet.Section{ID: "names", Kind: booklet.Index, Title: prose.Plain("Index"), Part: "Index", Blocks: []booklet.Block{index}})
	add(booklet.Section{ID: "back", Kind: booklet.Back, Title: w.runs(1, 3), Blocks: []booklet.Block{booklet.Facts{Rows: []booklet.Fact{{Label: "Help", Text: w.runs(1, 30)}}}}})
	var rows []booklet.EntryRow
	for _, s := range b.Sections[2:] {
		rows = append(rows, booklet.EntryRow{Level: 1, Runs: s.Title, Target: s.ID})
	}
	b.Sections[1].Blocks = []booklet.Block{booklet.Entries{Rows: rows}}
	return b
}

// said collects every numbered word of a book.
func said(v string, into map[string]bool) {
	for _, w := range strings.Fields(v) {
		if strings.HasPrefix(w, "w") {
			into[w] = true
		}
	}
}

func TestPagesOfMadeBooks(t *testing.T) {
	var looks []*theme.Theme
	for _, name := range themes.Names() {
		looks = append(looks, themetest.Shipped(t, name))
	}
	for seed := range uint64(300) {
		b, th := made(t, seed), looks[seed%uint64(len(looks))]
		pages, ds := Lay(b, th, Booklet(th, false))
		if len(ds) > 0 {
			t.Fatalf("book %d: %s", seed, ds[0].Message)
		}
		on := map[string]bool{}
		for n, page := range pages.Pages {
			var texts []Text
			for _, it := range page.Items {
				if text, ok := it.(Text); ok {
					texts = append(texts, text)
					said(text.String, on)
				}
			}
			inside(t, seed, n+1, page, texts, th)
			apart(t, seed, n+1, texts)
			stranded(t, seed, n+1, texts, th)
		}
		lone(t, seed, b, pages)
		// All words survive. A word broken over lines is put together again.
		whole := map[string]bool{}
		for _, s := range b.Sections {
			said(prose.String(s.Title), whole)
			for _, bl := range s.Blocks {
				said(fmt.Sprintf("%v", bl), whole)
			}
		}
		missing := 0
		for w := range whole {
			w = strings.Trim(w, "{}[]")
			if !on[w] && !on[w+"."] && !on[w+";"] && !on[w+":"] && strings.Trim(w, "wx0123456789") == "" {
				missing++
				if missing < 4 {
					t.Errorf("book %d: %s is on no page", seed, w)
				}
			}
		}
		for i, m := range pages.Outline {
			if m.Level > 0 && (i == 0 || pages.Outline[i-1].Level < m.Level-1) || m.Page < 1 || m.Page > len(pages.Pages) {
				t.Errorf("book %d: the outline skips at %q", seed, m.Title)
			}
		}
	}
}

// inside: no letter leaves the margins, or the foot's line.
func inside(t *testing.T, seed uint64, n int, page Page, texts []Text, th *theme.Theme) {
	left, right := th.Margins.Inner, th.Margins.Outer
	if n%2 == 0 {
		left, right = right, left
	}
	const hair = 0.02
	for _, x := range texts {
		if x.X < left-hair || x.X+x.W > page.W-right+hair || x.Y-mm(float64(x.Size)) < th.Margins.Head-2 || x.Y > page.H-th.Margins.Foot+8 {
			t.Errorf("book %d page %d: %q at %.1f, %.1f (%.1f wide) leaves the margins", seed, n, x.String, x.X, x.Y, x.W)
		}
	}
}

// stranded: no heading without two lines of text under it, or one if that is
// all there is.
func stranded(t *testing.T, seed uint64, n int, texts []Text, th *theme.Theme) {
	foot := th.Margins.Foot
	lowest := 0.0
	for _, x := range texts {
		if x.Face == draw.Body && x.Y < 210-foot+1 {
			lowest = max(lowest, x.Y)
		}
	}
	for _, x := range texts {
		if x.Face == draw.Heading && float64(x.Size) == th.Sizes.Heading && x.Y > lowest {
			t.Errorf("book %d page %d: the heading %q has nothing under it", seed, n, x.String)
		}
	}
}

// lone: no single line of a longer paragraph alone at the foot or the head of a
// page.
func lone(t *testing.T, seed uint64, b *booklet.Book, pages *Pages) {
	type at struct {
		page int
		y    int
	}
	where := map[string]at{} // of each numbered word
	for n, page := range pages.Pages {
		for _, it := range page.Items {
			if text, ok := it.(Text); ok {
				for _, w := range strings.Fields(text.String) {
					where[w] = at{n + 1, int(text.Y * 10)}
				}
			}
		}
	}
	for _, s := range b.Sections {
		for _, bl := range s.Blocks {
			p, ok := bl.(booklet.Text)
			if !ok {
				continue
			}
			lines := map[int]map[int]bool{} // page → lines on it
			all := map[at]bool{}
			for _, w := range strings.Fields(prose.String(p.Runs)) {
				if a, ok := where[w]; ok {
					if lines[a.page] == nil {
						lines[a.page] = map[int]bool{}
					}
					lines[a.page][a.y] = true
					all[a] = true
				}
			}
			for page, on := range lines {
				if len(lines) > 1 && len(on) < 2 {
					t.Errorf("book %d: of a paragraph of %d lines one stands alone on page %d: %.30q…", seed, len(all), page, prose.String(p.Runs))
				}
			}
		}
	}
}

// apart: no line of text lies over another.
func apart(t *testing.T, seed uint64, n int, texts []Text) {
	slices.SortFunc(texts, func(a, b Text) int {
		if a.Y < b.Y {
			return -1
		}
		return 1
	})
	for i, a := range texts {
		for _, b := range texts[i+1:] {
			// Letters of the lower line reach up to its x height and a little more.
			if b.Y-mm(float64(b.Size))*0.72 > a.Y+mm(float64(a.Size))*0.15 {
				continue
			}
			hair := 0.05
			if a.Y == b.Y {
				hair = mm(float64(a.Size)) * 0.12 // two letters that the font moves together
			}
			if a.X+hair < b.X+b.W && b.X+hair < a.X+a.W && a.X+a.W-hair > b.X && a != b {
				t.Errorf("book %d page %d: %q and %q overlap", seed, n, a.String, b.String)
				return
			}
		}
	}
}

// TestPlantsKeepToASpread: a plant of two pages begins on a left-hand one.
func TestPlantsKeepToASpread(t *testing.T) {
	th := themetest.Fieldbook(t)
	for seed := range uint64(60) {
		b := made(t, seed)
		pages, _ := Lay(b, th, Booklet(th, false))
		var starts []int
		for n, p := range pages.Pages {
			for _, it := range p.Items {
				if a, ok := it.(Anchor); ok && (strings.HasPrefix(a.ID, "plants/") || a.ID == "names") {
					starts = append(starts, n+1)
				}
			}
		}
		for i, n := range starts[:len(starts)-1] {
			length := starts[i+1] - n
			// A page for notes may stand before the next plant.
			if last := pages.Pages[starts[i+1]-2]; length > 1 && isNotes(last) {
				length--
			}
			if length == 2 && n%2 != 0 {
				t.Errorf("book %d: a plant of two pages begins on page %d", seed, n)
			}
		}
	}
}

func isNotes(p Page) bool {
	for _, it := range p.Items {
		if text, ok := it.(Text); ok {
			return text.String == "Notes"
		}
	}
	return false
}

// TestDensities: of all densities the most open is taken that needs the fewest pages,
// or two, though not all are tried.
func TestDensities(t *testing.T) {
	th := themetest.Fieldbook(t)
	taken := map[density]int{}
	for seed := range uint64(50) {
		b := made(t, seed)
		for _, form := range []Form{Booklet(th, false), Large(th, false)} {
			for _, s := range b.Of(booklet.Plant) {
				l := newLayer(b, th, form, new(Pages))
				var want [][]Item
				chosen := full
				for _, d := range []density{full, leading, close, closest, tight} {
					if pages := l.fill(box{}, l.plantBoxes(s, d), 1); want == nil || len(pages) < len(want) && len(want) > 2 {
						want, chosen = pages, d
					}
				}
				taken[chosen]++
				if got := newLayer(b, th, form, new(Pages)).plant(s); len(got) != len(want) || !reflect.DeepEqual(texts(got), texts(want)) {
					t.Errorf("book %d, %s: %d pages, want %d of density %v", seed, s.ID, len(got), len(want), chosen)
				}
			}
		}
	}
	if len(taken) < 4 {
		t.Errorf("the books try too little: %v", taken)
	}
}

// texts are the words of pages and their places.
func texts(pages [][]Item) (out []Text) {
	for _, page := range pages {
		for _, it := range page {
			if text, ok := it.(Text); ok {
				out = append(out, text)
			}
		}
	}
	return out
}

// TestSellingNames: they are small capitals, or smaller capitals in a face that
// has no small ones.
func TestSellingNames(t *testing.T) {
	for name, want := range map[string]Text{
		"fieldbook": {Size: 12, String: "rozanne"}, "seedroom": {Size: 12 * smallCapital, String: "ROZANNE"},
	} {
		th := themetest.Shipped(t, name)
		l := newLayer(nil, th, Booklet(th, false), nil)
		set := l.lines([]prose.Run{{Text: "ROZANNE", SmallCaps: true}}, l.text(), 80)[0]
		var got strings.Builder
		for _, it := range set.items {
			text := it.(Text)
			got.WriteString(text.String)
			if text.Size != want.Size || text.X+text.W > set.width+0.01 {
				t.Errorf("%s: %v pt from %.1f mm, %.1f mm wide, in a line of %.1f mm", name, text.Size, text.X, text.W, set.width)
			}
		}
		if got.String() != want.String {
			t.Errorf("%s: set as %q", name, got.String())
		}
	}
}

func TestLines(t *testing.T) {
	th := themetest.Fieldbook(t)
	l := &layer{book: new(booklet.Book), theme: th, form: Booklet(th, false), told: map[rune]bool{}, texts: map[textKey]text{}, broken: map[setKey][]line{}}
	s := l.text()
	for _, c := range []struct {
		in    string
		width float64
		want  []string
	}{
		{"leave 10 cm of it", 22, []string{"leave", "10\u00a0cm of it"}}, // the unit stays with its number
		{"soft\u00adhyphen", 60, []string{"softhyphen"}},                 // unseen
		{"e\u0301te\u0301", 60, []string{"été"}},                         // composed
		{"a   ", 60, []string{"a"}},                                      // no space at the end
		{"wwwwwwwwww", 20, []string{"wwwwww", "wwww"}},                   // nothing runs out of its box
		{"well-known name", 24, []string{"well-known", "name"}},          // may break after a hyphen
		{"feather reed grass", 24, []string{"feather reed", "grass"}},
	} {
		var got []string
		for _, ln := range l.lines(prose.Plain(c.in), s, c.width) {
			line := ""
			for _, it := range ln.items {
				if text, ok := it.(Text); ok {
					line += text.String
				}
			}
			got = append(got, line)
			if ln.width > c.width {
				t.Errorf("%q: a line of %.1f mm in %.1f", c.in, ln.width, c.width)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%q in %v mm: %q, want %q", c.in, c.width, got, c.want)
		}
	}
	l.lines(prose.Plain("a\U0001f33fb\U0001f33f"), s, 50)
	if len(l.found()) != 1 || l.found()[0].Severity != source.Warning {
		t.Errorf("a missing letter is told %d times", len(l.found()))
	}
}

func BenchmarkLay(b *testing.B) {
	th, book := themetest.Fieldbook(b), made(b, 3)
	for b.Loop() {
		Lay(book, th, Booklet(th, false))
	}
}

// TestIndexNumbersLeadToTheirPages: of a name that stands in two places each
// page number leads to the place on that page, in whichever order the index
// has them.
func TestIndexNumbersLeadToTheirPages(t *testing.T) {
	section := func(id string) booklet.Section {
		return booklet.Section{ID: id, Kind: booklet.Words, Title: prose.Plain(id), Part: "Words"}
	}
	rows := []booklet.IndexRow{{Runs: prose.Plain("sedge"), Letter: "S", Targets: []string{"later", "nowhere", "earlier"}}}
	b := &booklet.Book{Words: wordstest.English(t), Title: "Garden", Sections: []booklet.Section{section("first"), section("earlier"), section("later"),
		{ID: "names", Kind: booklet.Index, Title: prose.Plain("Index"), Part: "Index", Blocks: []booklet.Block{booklet.IndexList{Rows: rows}}}}}
	th := themetest.Fieldbook(t)
	pages, ds := Lay(b, th, Booklet(th, false))
	if len(ds) > 0 {
		t.Fatal(ds)
	}
	var leads []string
	for _, it := range pages.Pages[3].Items {
		if l, ok := it.(Link); ok {
			leads = append(leads, l.Target)
		}
	}
	if got := strings.Join(leads, " "); got != "earlier later" {
		t.Errorf("the numbers 2 and 3 lead to %q", got)
	}
}
