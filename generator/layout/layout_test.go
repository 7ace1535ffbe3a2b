package layout

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
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

// maker makes n words, numbered so that each can be looked for on the pages: those that
// must be printed begin with w, those that may be left out with o.
type maker struct {
	r   *rand.Rand
	n   int
	may bool
}

func (w *maker) some(least, most int) string {
	var out []string
	sign := "w"
	if w.may {
		sign = "o"
	}
	for range least + w.r.IntN(most-least+1) {
		w.n++
		out = append(out, fmt.Sprintf("%s%d%s", sign, w.n, strings.Repeat("x", w.r.IntN(9))))
	}
	return strings.Join(out, " ")
}

func (w *maker) runs(least, most int) []prose.Run {
	return []prose.Run{{Text: w.some(least, most)}, {Text: " " + w.some(1, 3), Italic: true}, {Text: " " + w.some(1, 2), Bold: true}}
}

// optional is w for what has a rank.
func (w *maker) ranked(r booklet.Rank) *maker {
	w.may = r > booklet.Always
	return w
}

// made is a booklet of every kind of section and block with texts of every length: of a
// garden, or a guide.
func made(t testing.TB, seed uint64) *booklet.Book {
	w := &maker{r: rand.New(rand.NewPCG(seed, 1))}
	b := &booklet.Book{Words: wordstest.English(t), Title: "Made", Subtitle: "A year", By: w.some(1, 3), Date: "2027", Lang: "en", Guide: seed%4 == 3}
	add := func(s booklet.Section) { b.Sections = append(b.Sections, s) }
	add(booklet.Section{ID: "cover", Kind: booklet.Cover, Title: w.runs(1, 6)})
	add(booklet.Section{ID: "contents", Kind: booklet.Contents, Title: prose.Plain("Contents"), Part: "Contents"})
	if w.r.IntN(4) > 0 {
		add(booklet.Section{ID: "how-to-use", Kind: booklet.Words, Title: w.runs(1, 3), Part: "How to use", Blocks: []booklet.Block{booklet.Text{Runs: w.runs(20, 200)}}})
	}
	for i := range w.r.IntN(3) {
		var list booklet.List
		for range w.r.IntN(20) {
			list.Items = append(list.Items, w.runs(1, 40))
		}
		add(booklet.Section{ID: fmt.Sprintf("pages/%d", i), Kind: booklet.Words, Title: w.runs(1, 9), Part: "Words", Blocks: []booklet.Block{
			booklet.Text{Runs: w.runs(1, 300)}, booklet.Heading{Runs: w.runs(1, 5)}, list, booklet.Heading{Runs: w.runs(1, 3)},
			booklet.Text{Runs: w.runs(1, 60), Role: booklet.Warn}, booklet.Text{Runs: w.runs(1, 90), Role: booklet.Small}}})
	}
	plants := 1 + w.r.IntN(9)
	called := func() booklet.Called {
		return booklet.Called{ID: fmt.Sprintf("plants/%d", w.r.IntN(plants)), Common: w.some(1, 3), Latin: prose.Plain(w.some(1, 2))}
	}
	if !b.Guide {
		var grown booklet.Grown
		for i := range plants {
			grown.Rows = append(grown.Rows, booklet.GrownRow{Number: i + 1, Called: called(), Many: "9 plants"})
		}
		add(booklet.Section{ID: "beds", Kind: booklet.Glance, Title: w.runs(1, 3), Part: "Beds", Blocks: []booklet.Block{booklet.Heading{Runs: w.runs(1, 3)}, grown}})
	}
	add(w.year(plants))
	days := 0
	if !b.Guide {
		days = w.r.IntN(8)
	}
	for i := range days {
		add(w.day(i+1, called))
	}
	if b.Guide {
		var rows []booklet.EntryRow
		for i := range 1 + w.r.IntN(60) {
			rows = append(rows, booklet.EntryRow{Level: 1, Runs: w.runs(1, 4), Target: fmt.Sprintf("plants/%d", i%plants)})
		}
		add(booklet.Section{ID: "months/1", Kind: booklet.Month, Title: w.runs(1, 2), Part: "Months", Blocks: []booklet.Block{booklet.Heading{Runs: w.runs(1, 3)}, booklet.Entries{Rows: rows}}})
	} else if days == 0 {
		var tasks booklet.Tasks
		for i := range 1 + w.r.IntN(40) {
			tasks.Lines = append(tasks.Lines, booklet.TaskLine{Mark: "comb", Family: "comb", Verb: w.some(1, 2), Rest: w.some(1, 12), Plant: fmt.Sprintf("plants/%d", i),
				Where: w.some(1, 6), Look: w.some(0, 20), When: "12 to 20 March", Minutes: "5 min", Leave: w.some(0, 8)})
		}
		add(booklet.Section{ID: "months/1", Kind: booklet.Month, Title: w.runs(1, 2), Part: "Months", Blocks: []booklet.Block{tasks}})
	}
	var index booklet.IndexList
	var names []booklet.EntryRow
	for i := range plants {
		if b.Guide && w.r.IntN(4) == 0 || b.Guide && i == 0 {
			add(booklet.Section{ID: fmt.Sprintf("parts/%d", i), Kind: booklet.Half, Title: w.runs(1, 2), Part: "Part " + strconv.Itoa(i)})
		}
		s := w.plant(i)
		add(s)
		index.Rows = append(index.Rows, booklet.IndexRow{Runs: s.Title, Letter: string(rune('A' + i)), Targets: []string{s.ID}})
		names = append(names, booklet.EntryRow{Level: 1, Runs: s.Title, Target: s.ID})
	}
	for i := range 1 + w.r.IntN(7) {
		add(w.job(i))
	}
	if w.r.IntN(2) == 0 {
		add(booklet.Section{ID: "first-year", Kind: booklet.FirstYear, Title: w.runs(1, 3), Part: "First year", Blocks: []booklet.Block{booklet.Text{Runs: w.runs(9, 200)}}})
	}
	add(booklet.Section{ID: "safety", Kind: booklet.Safety, Title: w.runs(1, 3), Part: "Safety", Blocks: []booklet.Block{booklet.Text{Runs: w.runs(9, 200)}, booklet.Heading{Runs: w.runs(1, 2)}, booklet.Text{Runs: w.runs(9, 90)}}})
	w.may = true // where there is room
	add(booklet.Section{ID: "glossary", Kind: booklet.Glossary, Title: w.runs(1, 3), Part: "Glossary", Blocks: []booklet.Block{booklet.Terms{Rows: []booklet.Fact{{Label: w.some(1, 1), Text: w.runs(1, 400)}}}}})
	w.may = false
	add(booklet.Section{ID: "names", Kind: booklet.Index, Title: prose.Plain("Index"), Part: "Index", Blocks: []booklet.Block{index}})
	add(booklet.Section{ID: "back", Kind: booklet.Back, Title: w.runs(1, 3), Blocks: []booklet.Block{booklet.Facts{Rows: []booklet.Fact{{Label: "Help", Text: w.runs(1, 30)}}}}})
	var rows []booklet.EntryRow
	part := ""
	for _, s := range b.Sections[2 : len(b.Sections)-1] {
		if s.Part != part {
			rows = append(rows, booklet.EntryRow{Level: 0, Runs: prose.Plain(s.Part), Target: s.ID})
		}
		if part = s.Part; s.Kind == booklet.Day {
			rows = append(rows, booklet.EntryRow{Level: 1, Runs: s.Title, Target: s.ID})
		}
	}
	b.Sections[1].Blocks = []booklet.Block{booklet.Entries{Rows: rows}}
	if !b.Guide {
		b.Sections[1].Blocks = append(b.Sections[1].Blocks, booklet.Entries{Rows: names})
	}
	return b
}

// year is a chart with a bar for each plant.
func (w *maker) year(plants int) booklet.Section {
	chart := booklet.Chart{Since: "2027-03", Months: strings.Split("MAMJJASONDJF", "")}
	for _, m := range chart.Months {
		chart.Short, chart.Full = append(chart.Short, m), append(chart.Full, m)
	}
	group := booklet.ChartGroup{Bed: "Bed"}
	for i := range plants {
		group.Rows = append(group.Rows, booklet.ChartRow{Plant: fmt.Sprintf("plants/%d", i), Name: "Plant", Bars: []booklet.ChartBar{{From: 0.1, To: 0.4, Mark: "comb", Family: "comb"}}})
	}
	chart.Groups = []booklet.ChartGroup{group}
	return booklet.Section{ID: "year", Kind: booklet.Year, Title: prose.Plain("The year"), Part: "The year", Blocks: []booklet.Block{chart}}
}

// day is a garden day; one in five is longer than a page.
func (w *maker) day(n int, called func() booklet.Called) booklet.Section {
	s := booklet.Section{ID: fmt.Sprintf("days/%d", n), Kind: booklet.Day, Title: prose.Plain(fmt.Sprintf("Day %d", n)), Part: "Garden days"}
	s.Blocks = append(s.Blocks, booklet.Visit{Window: w.some(1, 6), Hours: w.some(1, 4), After: w.some(0, 3), Tools: w.some(1, 9), Cuttings: w.some(0, 6)})
	most := 8
	if w.r.IntN(5) == 0 {
		most = 40
	}
	for i := range 1 + w.r.IntN(3) {
		chores := booklet.Chores{Job: fmt.Sprintf("jobs/%d", i), Mark: "comb", Family: "comb", Verb: w.some(1, 2), Hours: "1 h"}
		for range 1 + w.r.IntN(most) {
			line := booklet.Chore{Plants: []booklet.Called{called()}, Where: w.some(1, 5), Amount: w.some(0, 4), Say: w.some(0, 2), Warn: w.some(0, 4)}
			line.Look = w.ranked(booklet.Manner).some(0, 20)
			w.may = false
			chores.Lines = append(chores.Lines, line)
		}
		s.Blocks = append(s.Blocks, chores)
	}
	s.Blocks = append(s.Blocks, booklet.Text{Runs: w.runs(0, 30), Role: booklet.Warn})
	return s
}

// plant is a plant with up to ten jobs.
func (w *maker) plant(i int) booklet.Section {
	s := booklet.Section{ID: fmt.Sprintf("plants/%d", i), Kind: booklet.Plant, Title: w.runs(1, 5), Aside: w.some(1, 6), Part: "Plants"}
	head := booklet.Portrait{Picture: draw.Picture{W: 60, H: 46}, Where: []string{w.some(1, 9)}}
	w.may = true // beside the portrait, as far as it goes
	head.Names, head.Look = []string{w.some(0, 20)}, w.runs(1, 60)
	w.may = false
	s.Blocks = append(s.Blocks, head)
	if w.r.IntN(3) == 0 {
		s.Blocks = append(s.Blocks, booklet.Heading{Runs: prose.Plain("Take care")}, booklet.Harm{Short: w.some(1, 9), Full: []string{"full"}, At: "safety"},
			booklet.Text{Runs: w.runs(1, 30), Role: booklet.Warn})
	}
	s.Ranks = make([]booklet.Rank, len(s.Blocks))
	pic := draw.Picture{W: 46, H: 25}
	for range w.r.IntN(10) {
		work := booklet.Work{Job: "jobs/0", Mark: "comb", Family: "comb", Verb: w.some(1, 4), When: []string{w.some(1, 5)}, Amount: w.some(1, 12), Never: w.some(0, 4)}
		if work.Later = w.r.IntN(3) == 0; work.Later {
			work.Amount = strings.ReplaceAll(work.Amount, "w", "o")
		}
		if w.r.IntN(2) == 0 {
			work.Picture = &pic
		}
		for range w.r.IntN(6) {
			r := booklet.Rank(w.r.IntN(4))
			work.Rows = append(work.Rows, booklet.Detail{Fact: booklet.Fact{Label: "If missed", Text: w.ranked(r).runs(1, 50)}, Rank: r})
		}
		w.may = true
		work.Terms = w.some(0, 20)
		w.may = false
		s.Blocks, s.Ranks = append(s.Blocks, work), append(s.Ranks, booklet.Always)
	}
	w.may = true
	s.Blocks = append(s.Blocks, booklet.Heading{Runs: w.runs(1, 4)}, booklet.Text{Runs: w.runs(1, 120)})
	s.Ranks = append(s.Ranks, booklet.Reasons, booklet.Reasons)
	w.may = false
	return s
}

// job is a job's page.
func (w *maker) job(i int) booklet.Section {
	s := booklet.Section{ID: fmt.Sprintf("jobs/%d", i), Kind: booklet.JobPage, Title: w.runs(1, 3), Part: "How to"}
	s.Aside = w.ranked(booklet.Doubts).some(0, 9)
	add := func(r booklet.Rank, b booklet.Block) {
		s.Blocks, s.Ranks = append(s.Blocks, b), append(s.Ranks, r)
		w.may = false
	}
	add(booklet.Manner, booklet.Figure{Picture: draw.Picture{W: 90, H: 34}, Caption: "As it is done."})
	steps := booklet.List{Numbered: true}
	for range 1 + w.r.IntN(7) {
		steps.Items = append(steps.Items, w.runs(1, 20))
	}
	add(booklet.Always, steps)
	add(booklet.Manner, booklet.Heading{Runs: prose.Plain("Common mistakes")})
	add(booklet.Manner, booklet.List{Items: [][]prose.Run{w.ranked(booklet.Manner).runs(1, 20), w.runs(1, 20)}})
	add(booklet.Always, booklet.Heading{Runs: prose.Plain("Take care")})
	add(booklet.Always, booklet.Text{Runs: w.runs(1, 30), Role: booklet.Warn})
	add(booklet.Reasons, booklet.Facts{Rows: []booklet.Fact{{Label: "Tools", Text: w.ranked(booklet.Reasons).runs(1, 9)}}})
	return s
}

// numbered collects every numbered word of a text.
func numbered(v string, into map[string]bool) {
	for _, w := range strings.FieldsFunc(strings.ToLower(v), func(r rune) bool { return strings.ContainsRune(" \u00a0.,;:{}[]()", r) }) {
		if strings.Trim(w, "wox0123456789") == "" && len(w) > 1 && (w[0] == 'w' || w[0] == 'o') {
			into[w] = true
		}
	}
}

// textOf is all that is said on a page.
func textOf(p Page) string {
	var out strings.Builder
	for _, it := range p.Items {
		if text, ok := it.(Text); ok {
			out.WriteString(text.String + " ")
		}
	}
	return out.String()
}

// wordsOn are the numbered words of pages, those too that are broken over lines.
func wordsOn(pages *Pages) map[string]bool {
	out := map[string]bool{}
	for _, p := range pages.Pages {
		numbered(textOf(p), out)
		for _, w := range brokenWord.FindAllString(strings.ToLower(strings.ReplaceAll(textOf(p), " ", "")), -1) {
			out[w] = true
		}
	}
	return out
}

var brokenWord = regexp.MustCompile("[wo][0-9]+x*")

// TestPagesOfMadeBooks: nothing leaves the margins or lies over another, no heading or
// line stands alone, all that must be printed is, the last page is the back of the cover
// and of a whole sheet.
func TestPagesOfMadeBooks(t *testing.T) {
	var looks []*theme.Theme
	for _, name := range themes.Names() {
		looks = append(looks, themetest.Shipped(t, name))
	}
	leftOut := 0
	for seed := range uint64(80) {
		b, th := made(t, seed), looks[seed%uint64(len(looks))]
		pages, ds := Lay(b, th, Booklet(th, false))
		if len(ds) > 0 {
			t.Fatalf("book %d: %s", seed, ds[0].Message)
		}
		for n, page := range pages.Pages {
			var texts []Text
			for _, it := range page.Items {
				switch it := it.(type) {
				case Text:
					texts = append(texts, it)
				case reference, sitting:
					t.Errorf("book %d page %d: %T is not set", seed, n+1, it)
				}
			}
			inside(t, seed, n+1, page, texts, th)
			apart(t, seed, n+1, texts)
		}
		lone(t, seed, b, pages)
		on, whole := wordsOn(pages), map[string]bool{}
		for _, s := range b.Sections {
			numbered(prose.String(s.Title), whole)
			for _, bl := range s.Blocks {
				numbered(fmt.Sprintf("%v", bl), whole)
			}
		}
		missing := 0
		for w := range whole {
			switch {
			case on[w]:
			case w[0] == 'o':
				leftOut++
			case missing < 4:
				missing++
				for _, s := range b.Sections {
					for _, bl := range append(slices.Clone(s.Blocks), booklet.Heading{Runs: s.Title}) {
						if strings.Contains(fmt.Sprintf("%v", bl), w) {
							t.Errorf("book %d: %s is on no page: %s %.300v", seed, w, s.ID, fmt.Sprintf("%T %v", bl, bl))
						}
					}
				}
			}
		}
		last := pages.Pages[len(pages.Pages)-1]
		if !anchored(last, "back") || len(pages.Pages)%4 != 0 {
			t.Errorf("book %d: %d pages, and back is on the last: %v", seed, len(pages.Pages), anchored(last, "back"))
		}
		for i, m := range pages.Outline {
			if m.Level > 0 && (i == 0 || pages.Outline[i-1].Level < m.Level-1) || m.Page < 1 || m.Page > len(pages.Pages) {
				t.Errorf("book %d: the outline skips at %q", seed, m.Title)
			}
		}
	}
	if leftOut < 500 {
		t.Errorf("only %d words are left out: the books are too short to try anything", leftOut)
	}
}

func anchored(p Page, id string) bool {
	return slices.ContainsFunc(p.Items, func(it Item) bool { a, ok := it.(Anchor); return ok && a.ID == id })
}

// pagesOf are the pages on which sections begin.
func pagesOf(pages *Pages) map[string]int {
	first := map[string]int{}
	for n, p := range pages.Pages {
		for _, it := range p.Items {
			if a, ok := it.(Anchor); ok && first[a.ID] == 0 {
				first[a.ID] = n + 1
			}
		}
	}
	return first
}

// TestFacingPages: the year begins on a left-hand page, the contents have how to use the
// booklet beside them, and a garden day of two pages shows both at once.
func TestFacingPages(t *testing.T) {
	th := themetest.Fieldbook(t)
	long, beside := 0, 0
	for seed := range uint64(40) {
		b := made(t, seed)
		pages, _ := Lay(b, th, Booklet(th, false))
		at := pagesOf(pages)
		year := b.Find("year")
		l := newLayer(b, th, Booklet(th, false), new(Pages))
		if n := len(l.yearSpread(year)); n > 1 && at["year"]%2 != 0 {
			t.Errorf("book %d: a year of %d pages begins on page %d", seed, n, at["year"])
		}
		if use := at["how-to-use"]; use > 0 {
			beside++
			if at["contents"] != 2 || use != 3 {
				t.Errorf("book %d: contents on page %d, how to use on page %d", seed, at["contents"], use)
			}
		}
		for _, s := range b.Of(booklet.Day) {
			on := map[string]bool{}
			for _, bl := range s.Blocks {
				numbered(fmt.Sprintf("%v", bl), on)
			}
			last := at[s.ID]
			for n := at[s.ID]; n < len(pages.Pages); n++ {
				words := map[string]bool{}
				numbered(textOf(pages.Pages[n-1]), words)
				for w := range words {
					if on[w] {
						last = n
					}
				}
			}
			if last == at[s.ID]+1 {
				if long++; at[s.ID]%2 != 0 {
					t.Errorf("book %d: %s is on pages %d and %d", seed, s.ID, at[s.ID], last)
				}
			}
		}
	}
	if long < 2 || beside < 15 {
		t.Errorf("%d days of two pages and %d pages on how to use were tried", long, beside)
	}
}

// TestReferences: each number of a page that is printed is the page of what it leads to,
// none leads to what is left out, and the contents go up from page to page.
func TestReferences(t *testing.T) {
	th := themetest.Fieldbook(t)
	checked, gone := 0, 0
	for seed := range uint64(40) {
		b := made(t, seed)
		b.Left = map[string]bool{}
		if seed%3 == 0 { // a theme leaves a job out
			b.Sections = slices.DeleteFunc(b.Sections, func(s booklet.Section) bool { return s.ID == "jobs/0" })
			b.Left["jobs/0"] = true
		}
		pages, _ := Lay(b, th, Booklet(th, false))
		at := pagesOf(pages)
		for n, p := range pages.Pages {
			for i, it := range p.Items {
				link, ok := it.(Link)
				if !ok || link.Target == "" || i == 0 {
					continue
				}
				text, ok := p.Items[i-1].(Text)
				if !ok || strings.Trim(text.String, "0123456789") != "" && !strings.HasPrefix(text.String, "p. ") && !strings.HasPrefix(text.String, "how: page ") {
					continue
				}
				number := text.String[strings.LastIndexAny(text.String, " \u00a0")+1:]
				// One without a page would lead to page 0.
				if checked++; number != strconv.Itoa(at[link.Target]) {
					t.Errorf("book %d page %d: %q leads to page %d", seed, n+1, text.String, at[link.Target])
				}
			}
		}
		if b.Left["jobs/0"] && at["jobs/0"] == 0 {
			gone++
		}
		// The contents, read line by line: the parts at the left edge with their pages.
		before := 0
		var parts []Link
		for _, it := range pages.Pages[1].Items {
			if link, ok := it.(Link); ok && link.X < th.Margins.Outer+1 && link.W > 60 {
				parts = append(parts, link)
			}
		}
		slices.SortStableFunc(parts, func(a, b Link) int { return int(a.Y*100) - int(b.Y*100) })
		for _, link := range parts {
			if at[link.Target] < before {
				t.Errorf("book %d: in the contents %s, page %d, stands after page %d", seed, link.Target, at[link.Target], before)
			}
			before = at[link.Target]
		}
	}
	if checked < 500 || gone == 0 {
		t.Errorf("only %d numbers were looked at", checked)
	}
}

// TestSameTwice: the same booklet laid twice has the same pages.
func TestSameTwice(t *testing.T) {
	th := themetest.Fieldbook(t)
	for seed := range uint64(10) {
		one, _ := Lay(made(t, seed), th, Booklet(th, false))
		two, _ := Lay(made(t, seed), th, Booklet(th, false))
		if fmt.Sprint(places(one)) != fmt.Sprint(places(two)) {
			t.Errorf("book %d is another one the second time", seed)
		}
	}
}

// places are the items of pages with where they are; of drawings the size.
func places(pages *Pages) (out [][]any) {
	for _, p := range pages.Pages {
		var on []any
		for _, it := range p.Items {
			if pic, ok := it.(Picture); ok {
				it = Picture{X: pic.X, Y: pic.Y, Picture: draw.Picture{W: pic.Picture.W, H: pic.Picture.H}}
			}
			on = append(on, it)
		}
		out = append(out, on)
	}
	return out
}

// TestLargePrintSaysTheSame: of plants, jobs and garden days large print and clear type
// have the words of the booklet, no more and no fewer.
func TestLargePrintSaysTheSame(t *testing.T) {
	th := themetest.Fieldbook(t)
	for seed := range uint64(40) {
		b := made(t, seed)
		usual, _ := Lay(b, th, Booklet(th, false))
		want := wordsOn(usual)
		for name, form := range map[string]Form{"large print": Large(th, false, usual.Chosen), "large print on Letter": Large(th, true, usual.Chosen)} {
			pages, _ := Lay(b, th, form)
			got := wordsOn(pages)
			for _, s := range b.Sections {
				if s.Kind != booklet.Plant && s.Kind != booklet.JobPage && s.Kind != booklet.Day {
					continue
				}
				of := map[string]bool{}
				for _, bl := range s.Blocks {
					numbered(fmt.Sprintf("%v", bl), of)
				}
				for w := range of {
					if want[w] != got[w] {
						t.Errorf("book %d: %s of %s is in the booklet: %v, in %s: %v", seed, w, s.ID, want[w], name, got[w])
						break
					}
				}
			}
		}
	}
}

// TestPagesSayWhatIsLeftOut: the foot of a page tells where more is to be read if
// something of how work is done was left out on it, and only then.
func TestPagesSayWhatIsLeftOut(t *testing.T) {
	th := themetest.Fieldbook(t)
	tells, silent := 0, 0
	for seed := range uint64(40) {
		b := made(t, seed)
		pages, _ := Lay(b, th, Booklet(th, false))
		on, at := wordsOn(pages), pagesOf(pages)
		short := map[int]bool{} // pages that lack something
		for _, s := range b.Of(booklet.Plant) {
			for _, bl := range s.Blocks {
				work, ok := bl.(booklet.Work)
				if !ok {
					continue
				}
				of := map[string]bool{}
				for _, r := range work.Rows {
					if r.Rank < booklet.Reasons {
						numbered(prose.String(r.Text), of)
					}
				}
				numbered(work.Amount, of)
				for w := range of {
					short[at[s.ID]] = short[at[s.ID]] || !on[w]
				}
			}
		}
		for _, s := range b.Of(booklet.Plant) {
			says := strings.Contains(textOf(pages.Pages[at[s.ID]-1]), b.Words.Say("print.more"))
			if says != short[at[s.ID]] {
				t.Errorf("book %d page %d: something is left out: %v, it says so: %v", seed, at[s.ID], short[at[s.ID]], says)
			}
			if says {
				tells++
			} else {
				silent++
			}
		}
	}
	if tells < 10 || silent < 10 {
		t.Errorf("%d pages tell of more, %d do not", tells, silent)
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
		for i, bl := range s.Blocks {
			p, ok := bl.(booklet.Text)
			if !ok {
				continue
			}
			if i > 0 {
				if _, heads := s.Blocks[i-1].(booklet.Heading); heads {
					continue // it may run into the paragraph
				}
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
				t.Errorf("book %d page %d: %q at %.1f, %.1f and %q at %.1f, %.1f overlap", seed, n, a.String, a.X, a.Y, b.String, b.X, b.Y)
				return
			}
		}
	}
}

// TestSellingNames: they are small capitals, or smaller capitals in a face that
// has no small ones.
func TestSellingNames(t *testing.T) {
	for name, want := range map[string]Text{
		"fieldbook": {Size: 10.5, String: "rozanne"}, "seedroom": {Size: 10.5 * smallCapital, String: "ROZANNE"},
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
		{"leave 10 cm of it", 20, []string{"leave", "10\u00a0cm of it"}}, // the unit stays with its number
		{"soft\u00adhyphen", 60, []string{"softhyphen"}},                 // unseen
		{"e\u0301te\u0301", 60, []string{"été"}},                         // composed
		{"a   ", 60, []string{"a"}},                                      // no space at the end
		{"wwwwwwwwww", 17.5, []string{"wwwwww", "wwww"}},                 // nothing runs out of its box
		{"well-known name", 24, []string{"well-known", "name"}},          // may break after a hyphen
		{"feather reed grass", 22, []string{"feather reed", "grass"}},
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
		return booklet.Section{ID: id, Kind: booklet.Year, Title: prose.Plain(id), Part: "Words"}
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
	for _, p := range pages.Pages {
		if !anchored(p, "names") {
			continue
		}
		for i, it := range p.Items {
			if l, ok := it.(Link); ok {
				leads = append(leads, strings.Trim(p.Items[i-1].(Text).String, " ,")+" "+l.Target)
			}
		}
	}
	at := pagesOf(pages)
	if got, want := strings.Join(leads, ", "), fmt.Sprintf("%d earlier, %d later", at["earlier"], at["later"]); got != want || at["earlier"] >= at["later"] {
		t.Errorf("the numbers lead to %q, want %q", got, want)
	}
}
