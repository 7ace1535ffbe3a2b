package layout

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"sheaf/generator/booklet"
	"sheaf/generator/theme/themetest"
	"sheaf/generator/words/wordstest"
)

// madePiece is a piece of made-up heights in whole lines, which are exact: what must
// be printed and each option, for a page of its own and for one that is shared.
type madePiece struct {
	kind        booklet.Kind
	opens       bool
	must, alone int
	options     []madeOption
}

type madeOption struct {
	rank  booklet.Rank
	lines int
	cost  int
	image bool
}

// piece makes the piece, in lines of a height.
func (m madePiece) piece(id int, line float64) *piece {
	p := &piece{section: &booklet.Section{ID: fmt.Sprint(id), Kind: m.kind}, opens: m.opens}
	for _, o := range m.options {
		if o.image {
			p.illustrate(o.rank, o.cost)
		} else {
			p.offer(o.rank, o.cost, false)
		}
	}
	p.set = func(chosen uint64, alone bool) []box {
		out := make([]box, m.lines(chosen, alone))
		for i := range out {
			out[i].h = line
		}
		return out
	}
	p.tall = func(chosen uint64, alone bool) float64 { return float64(m.lines(chosen, alone)) * line }
	return p
}

func (m madePiece) lines(chosen uint64, alone bool) int {
	n := m.must
	if alone {
		n = m.alone
	}
	for i, o := range m.options {
		if chosen&(1<<i) != 0 {
			n += o.lines
		}
	}
	return n
}

// madeRun is up to seven pieces, some with titles over them and some that no page
// holds.
func madeRun(r *rand.Rand, page int) []madePiece {
	kind, titles := booklet.Plant, r.IntN(2)
	if r.IntN(2) == 0 {
		kind, titles = booklet.JobPage, 0
	}
	var out []madePiece
	for range 1 + r.IntN(7) {
		m := madePiece{kind: kind, must: 1 + r.IntN(page*3/5)}
		switch r.IntN(8) {
		case 0:
			m.must = page + 1 + r.IntN(page*3/2)
		case 1:
			if titles > 0 {
				m = madePiece{kind: booklet.Half, opens: true, must: 1 + r.IntN(page/4)}
			}
		}
		m.alone = m.must + r.IntN(3)
		for range r.IntN(6) {
			lines := 1 + r.IntN(page/4)
			m.options = append(m.options, madeOption{booklet.Rank(1 + r.IntN(3)), lines, 1 + r.IntN(mostOnLine*lines), r.IntN(4) == 0})
		}
		out = append(out, m)
	}
	return out
}

// A model is the rule of pages in plain words, in whole lines.
type model struct {
	page    int // lines of a page
	line    float64
	between func(pieces int) float64
}

func modelOf(l *layer) model {
	return model{int(math.Round(l.columnHeight() / l.grid())), l.grid(), l.between}
}

// filled is one page: what must be, then the options in the order of their ranks, those
// of one rank as the pieces have them, each if there is still room. ok is false where
// what must be has no room.
func (m model) filled(ms []madePiece, room func(chosen []uint64) bool) (chosen []uint64, left float64, ok bool) {
	chosen = make([]uint64, len(ms))
	if !room(chosen) {
		return nil, 0, false
	}
	for rank := booklet.Doubts; rank <= booklet.Reasons; rank++ {
		for o := range 8 { // options
			for i, p := range ms {
				if o >= len(p.options) || p.options[o].rank != rank {
					continue
				}
				if chosen[i] |= 1 << o; !room(chosen) {
					chosen[i] &^= 1 << o
					left += weight(rank) * float64(p.options[o].cost)
				}
			}
		}
	}
	return chosen, left, true
}

// onOne is one page with pieces; a single one may be set in the larger look.
func (m model) onOne(ms []madePiece) (chosen []uint64, cost float64, ok bool) {
	look := func(alone bool) (chosen []uint64, cost float64, ok bool) {
		used := func(chosen []uint64) float64 {
			sum := float64(len(ms)-1) * m.between(len(ms))
			for i, p := range ms {
				sum += float64(p.lines(chosen[i], alone)) * m.line
			}
			return sum
		}
		high := float64(m.page) * m.line
		chosen, cost, ok = m.filled(ms, func(chosen []uint64) bool { return used(chosen) <= high+slack })
		if ok && used(chosen)/high < 0.5-1e-9 {
			cost += emptyPage * (1.5 - used(chosen)/high)
		}
		return chosen, cost, ok
	}
	chosen, cost, ok = look(false)
	if len(ms) == 1 {
		if large, c, fits := look(true); fits && (!ok || c <= cost+aloneWorth) {
			return large, c, true
		}
	}
	return chosen, cost, ok
}

// onMore is a piece that no page holds, with its titles, on two pages or as few as it
// takes.
func (m model) onMore(ms []madePiece) (chosen []uint64, cost float64, pages int) {
	takes := func(chosen []uint64) int {
		n, y := 1, 0.0
		for i, p := range ms {
			if i > 0 {
				y += m.between(len(ms)) / m.line
			}
			for range p.lines(chosen[i], len(ms) == 1) {
				if y+1 > float64(m.page)+1e-3 {
					n, y = n+1, 0
				}
				y++
			}
		}
		return n
	}
	pages = max(takes(make([]uint64, len(ms))), 2)
	chosen, cost, _ = m.filled(ms, func(chosen []uint64) bool { return takes(chosen) <= pages })
	return chosen, cost, pages
}

// everyWay tries all ways to part pieces into pages, on from an even or an odd page,
// and gives the least cost of each number of pages.
func (m model) everyWay(ms []madePiece, even, faces bool) map[int]float64 {
	best := map[int]float64{}
	var try func(from, pages int, cost float64)
	try = func(from, pages int, cost float64) {
		if from == len(ms) {
			if old, ok := best[pages]; !ok || cost < old {
				best[pages] = cost
			}
			return
		}
		any := false
		for to := from + 1; to <= len(ms); to++ {
			on := ms[from:to]
			real, most := 0, 2
			for _, m := range on {
				if !m.opens {
					real++
				}
				if m.kind == booklet.JobPage {
					most = 3
				}
			}
			if real > most {
				break
			}
			if on[len(on)-1].opens && to < len(ms) {
				continue // a title does not stand under what it does not open
			}
			if _, c, ok := m.onOne(on); ok {
				any = true
				try(to, pages+1, cost+c)
			}
		}
		if !any { // two pages, with the titles over what is on them
			to := from + 1
			for ms[to-1].opens && to < len(ms) {
				to++
			}
			_, c, n := m.onMore(ms[from:to])
			begins := pages
			if left := (begins%2 == 0) == even; faces && n == 2 && !left {
				begins++
			}
			try(to, begins+n, cost+c)
		}
	}
	try(0, 0, 0)
	return best
}

// TestPagesAreBest: of runs of up to seven pieces the way that is found for each number
// of pages costs what the best of all ways costs; it has every piece once and in order,
// two pages of one piece begin on the left where they face each other, and each page
// holds what the rule says.
func TestPagesAreBest(t *testing.T) {
	th := themetest.Fieldbook(t)
	r := rand.New(rand.NewPCG(19, 6))
	spreads, openers, shared := 0, 0, 0
	for n := range 1500 {
		form := Booklet(th, false)
		form.Folds = n%2 == 0
		l := newLayer(nil, th, form, new(Pages))
		m := modelOf(l)
		ms := madeRun(r, m.page)
		var ps []*piece
		for i, p := range ms {
			ps = append(ps, p.piece(i, l.grid()))
		}
		run := l.newRun(ps, nil)
		for _, even := range []bool{true, false} {
			want := m.everyWay(ms, even, form.Folds)
			ways := run.ways(even)
			got := ways[len(ps)]
			if len(got) != len(want) {
				t.Fatalf("run %d: %d numbers of pages, want %d", n, len(got), len(want))
			}
			for pages, cost := range want {
				w, ok := got[pages]
				if !ok || math.Abs(w.cost-cost) > 1e-6 {
					t.Fatalf("run %d, %d pages, even %v: costs %v, the best %v of %+v", n, pages, even, w.cost, cost, ms)
				}
				at, next, sum := 0, 0, 0.0
				for _, lf := range leaves(ways, pages) {
					if form.Folds && lf.pages == 2 && (at%2 == 0) != even {
						at++
					}
					on := ms[next : next+len(lf.pieces)]
					for i, p := range lf.pieces {
						if p != ps[next+i] {
							t.Fatalf("run %d: pieces are not in order", n)
						}
					}
					chosen, _, fits := m.onOne(on)
					if lf.pages > 1 {
						spreads++
						chosen, _, _ = m.onMore(on)
						fits = len(l.fill(box{}, l.set(lf), 1)) <= lf.pages && l.takes(l.boxes(lf)) == len(l.fill(box{}, l.set(lf), 1))
					}
					switch {
					case !fits || !slices.Equal(chosen, lf.chosen):
						t.Fatalf("run %d: a page has %b, want %b", n, lf.chosen, chosen)
					case on[0].opens:
						openers++
					case len(on) > 1:
						shared++
					}
					at, next, sum = at+lf.pages, next+len(on), sum+lf.cost
				}
				if at != pages || next != len(ps) || math.Abs(sum-cost) > 1e-6 {
					t.Fatalf("run %d: %d pieces on %d pages for %v, want %d on %d for %v", n, next, at, sum, len(ps), pages, cost)
				}
			}
		}
	}
	if spreads < 100 || openers < 100 || shared < 100 {
		t.Errorf("the runs try too little: %d spreads, %d titles, %d shared pages", spreads, openers, shared)
	}
}

// TestFixedPages: where another edition chose, nothing but pictures is chosen again:
// each page has the words that were chosen, and pages are as few as can be.
func TestFixedPages(t *testing.T) {
	th := themetest.Fieldbook(t)
	r := rand.New(rand.NewPCG(19, 7))
	for n := range 500 {
		l := newLayer(nil, th, Booklet(th, false), new(Pages))
		m := modelOf(l)
		ms := madeRun(r, m.page)
		var ps []*piece
		fixed := map[string]uint64{}
		for i, made := range ms {
			p := made.piece(i, l.grid())
			ps = append(ps, p)
			fixed[p.section.ID] = r.Uint64() & p.all()
		}
		run := l.newRun(ps, fixed)
		for i, leaves := range run.next {
			for _, lf := range leaves {
				lines := 0.0
				for k, p := range lf.pieces {
					if (lf.chosen[k]^fixed[p.section.ID])&^p.images() != 0 {
						t.Fatalf("run %d: of piece %d %b is printed, %b was chosen", n, i+k, lf.chosen[k], fixed[p.section.ID])
					}
					lines += float64(ms[i+k].lines(lf.chosen[k], lf.alone))
				}
				if lf.pages == 1 && lines*l.grid()+float64(len(lf.pieces)-1)*l.between(len(lf.pieces)) > l.columnHeight()+slack {
					t.Fatalf("run %d: a page of %v lines", n, lines)
				}
			}
		}
	}
}

// TestBound: of all runs of a booklet together the pages that are chosen cost the least
// that keep to its thickness; where none do they take no sheet more than the fewest, jobs
// run over facing pages, and nothing does otherwise.
func TestBound(t *testing.T) {
	th := themetest.Fieldbook(t)
	r := rand.New(rand.NewPCG(19, 8))
	over, loose := 0, 0
	for n := range 300 {
		form := Booklet(th, false)
		book := &booklet.Book{Words: wordstest.English(t)}
		l := newLayer(book, th, form, new(Pages))
		m := modelOf(l)
		var us []unit
		var made [][]madePiece
		plants := 0
		fixed := r.IntN(30) // pages of all else
		us = append(us, unit{kind: booklet.Words, pages: make([][]Item, fixed)})
		for u := range 2 {
			ms := madeRun(r, m.page)
			if u == 0 {
				for ms[0].kind == booklet.JobPage || len(ms) > 5 {
					ms = madeRun(r, m.page)
				}
			}
			var ps []*piece
			for i, p := range ms {
				ps = append(ps, p.piece(100*u+i, l.grid()))
				if p.kind == booklet.Plant {
					plants++
				}
			}
			run := l.newRun(ps, nil)
			made = append(made, ms)
			us = append(us, unit{kind: ms[0].kind, run: &run})
		}
		us = append(us, unit{kind: booklet.Back, pages: make([][]Item, 1)})
		// All ways of both runs, the second on from where the first ends.
		best := map[int]float64{}
		for a, costA := range m.everyWay(made[0], (fixed+1)%2 == 0, true) {
			for b, costB := range m.everyWay(made[1], (fixed+a+1)%2 == 0, true) {
				if old, ok := best[a+b]; !ok || costA+costB < old {
					best[a+b] = costA + costB
				}
			}
		}
		least, fewest := math.Inf(1), math.MaxInt
		for pages, cost := range best {
			fewest = min(fewest, pages)
			if pages <= Budget(plants)-fixed-1 {
				least = min(least, cost)
			}
		}
		tooThick := math.IsInf(least, 1)
		got, total := 0.0, 0
		for _, u := range l.bound(us) {
			total += len(u.pages)
			at := total
			for _, lf := range u.leaves {
				if lf.pages == 2 && at%2 == 0 {
					at++ // the next page is a right-hand one
				}
				at, got = at+lf.pages, got+lf.cost
				if len(lf.pieces) > 2 && lf.pages > 1 && !lf.pieces[0].opens {
					loose++
					if !tooThick || l.takes(l.boxes(lf)) > 2 {
						t.Errorf("booklet %d: %d pieces run over %d pages", n, len(lf.pieces), lf.pages)
					}
				}
			}
			if u.run != nil {
				total = at
			}
		}
		switch {
		case !tooThick && math.Abs(got-least) > 1e-6:
			t.Errorf("booklet %d: costs %v, the best %v", n, got, least)
		case tooThick && total > (fixed+1+fewest+3)/4*4:
			t.Errorf("booklet %d: %d pages, and %d do", n, total, fixed+1+fewest)
		case tooThick:
			over++
		}
		if total%4 != 0 {
			t.Errorf("booklet %d: %d pages", n, total)
		}
	}
	if over < 20 || over > 250 || loose < 10 {
		t.Errorf("%d booklets of 300 are too thick, on %d pairs of pages something runs over", over, loose)
	}
}

// TestBudget: 28 pages for ten plants, 40 for 25, 60 for 48 (DESIGN 8), and always whole
// sheets.
func TestBudget(t *testing.T) {
	for plants, want := range map[int]int{10: 28, 25: 40, 48: 60} {
		if got := Budget(plants); got != want {
			t.Errorf("%d plants: %d pages, want %d", plants, got, want)
		}
	}
	for n := range 400 {
		if Budget(n)%4 != 0 || Budget(n+1) < Budget(n) {
			t.Errorf("%d plants: %d pages, one more: %d", n, Budget(n), Budget(n+1))
		}
	}
}

// TestOptionsGoByRank: on no page is something printed while what matters more was
// left out that would have taken no more room.
func TestOptionsGoByRank(t *testing.T) {
	th := themetest.Fieldbook(t)
	r := rand.New(rand.NewPCG(19, 9))
	left := 0
	for range 1000 {
		l := newLayer(nil, th, Booklet(th, false), new(Pages))
		m := modelOf(l)
		ms := madeRun(r, m.page)
		var ps []*piece
		for i, p := range ms {
			ps = append(ps, p.piece(i, l.grid()))
		}
		for i, leaves := range l.newRun(ps, nil).next {
			for _, lf := range leaves {
				type choice struct {
					madeOption
					in bool
				}
				var all []choice
				for k, c := range lf.chosen {
					for o, opt := range ms[i+k].options {
						all = append(all, choice{opt, c&(1<<o) != 0})
					}
				}
				slices.SortStableFunc(all, func(a, b choice) int { return cmp.Compare(a.rank, b.rank) })
				for a, out := range all {
					if out.in {
						continue
					}
					left++
					for _, in := range all[a+1:] {
						if in.in && in.rank > out.rank && in.lines >= out.lines {
							t.Fatalf("%v is left out for %v", out, in)
						}
					}
				}
			}
		}
	}
	if left < 100 {
		t.Errorf("only %d options are left out", left)
	}
}
