package layout

import (
	"cmp"
	"maps"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"sheaf/generator/booklet"
)

// A booklet is a thickness before it is anything else: what stands on a page of a
// plant, a job or a garden day is chosen so that the whole can be folded. A piece is
// one of them. Its parts of rank [booklet.Always] are printed whatever happens; the
// rest are options, taken in the order of their ranks until the page is full.

// Budget is the number of pages a booklet of so many plants may have: 28 for ten, 40
// for 25, 60 for 48 (DESIGN 8), and on in the same way, in whole sheets of four.
func Budget(plants int) int { return (20 + (4*plants+4)/5 + 3) / 4 * 4 }

// weight is what a letter of a rank is worth, when pages compete for room.
func weight(r booklet.Rank) float64 {
	switch r {
	case booklet.Doubts:
		return 4
	case booklet.Manner:
		return 2
	}
	return 1
}

// emptyPage is what a page costs that is less than half full; a letter is 1.
const emptyPage = 600

// together is how many pieces of a kind share a page at most: of jobs and days three, where
// there is no room for two.
func together(p *piece) int {
	if p.section.Kind == booklet.JobPage || p.section.Kind == booklet.Day {
		return 3
	}
	return 2
}

// A piece is a plant, a job or a garden day.
type piece struct {
	section *booklet.Section
	options []option
	// set gives the boxes with some of the options, which are the bits of chosen, for
	// a page of its own or for one that is shared.
	set  func(chosen uint64, alone bool) []box
	tall func(chosen uint64, alone bool) float64 // the height of those boxes
	// opens is a title over the pieces that follow: it shares a page with the next.
	opens bool
	known map[variant]float64
}

type variant struct {
	chosen uint64
	alone  bool
}

// An option is what a piece may do without.
type option struct {
	rank  booklet.Rank
	cost  float64 // of leaving it out
	lines int     // that it takes at the least
	words bool    // of how the work is done: the page tells where it can be read
	image bool    // a picture, or its size: other editions choose for themselves
}

const mostOptions = 64

// mostOnLine is how many letters a line of a booklet never has: what would not even fit
// so is not set to see.
const mostOnLine = 90

// offer adds an option and gives its bit; none beyond the most there can be, which
// are then always left out.
func (p *piece) offer(r booklet.Rank, letters int, words bool) uint64 {
	if len(p.options) == mostOptions {
		return 0
	}
	p.options = append(p.options, option{rank: r, cost: weight(r) * float64(letters), lines: letters / mostOnLine, words: words})
	return 1 << (len(p.options) - 1)
}

// illustrate adds an option that is a picture, or a larger one.
func (p *piece) illustrate(r booklet.Rank, worth int) uint64 {
	bit := p.offer(r, worth, false)
	if bit != 0 {
		p.options[len(p.options)-1].image = true
		p.options[len(p.options)-1].lines = 0 // it may stand beside words
	}
	return bit
}

// images are the bits of the options that are pictures.
func (p *piece) images() uint64 {
	var out uint64
	for i, o := range p.options {
		if o.image {
			out |= 1 << i
		}
	}
	return out
}

func (p *piece) height(chosen uint64, alone bool) float64 {
	v := variant{chosen, alone}
	h, ok := p.known[v]
	if !ok {
		h = p.tall(chosen, alone)
		if p.known == nil {
			p.known = map[variant]float64{}
		}
		p.known[v] = h
	}
	return h
}

// all has every option of a piece.
func (p *piece) all() uint64 {
	if len(p.options) == mostOptions {
		return math.MaxUint64
	}
	return 1<<len(p.options) - 1
}

// A leaf is one page or a spread with the pieces on them and what was chosen of each.
type leaf struct {
	pieces []*piece
	chosen []uint64
	pages  int     // more than one: a piece that no page holds
	alone  bool    // set as on a page of its own
	cost   float64 // of what is left out, and of white
}

// between is the room between two pieces where there are so many.
func (l *layer) between(pieces int) float64 {
	switch {
	case pieces > 3: // on two pages
		return 0.5 * l.grid()
	case pieces > 2:
		return l.grid()
	}
	return 1.25 * l.grid()
}

// page fills one page with pieces; false when they do not fit with the least of each.
// One that is alone is set larger, unless that leaves out too much.
func (l *layer) page(ps []*piece, fixed map[string]uint64) (leaf, bool) {
	small, ok := l.pageAs(ps, fixed, false)
	if len(ps) > 1 {
		return small, ok
	}
	if large, fits := l.pageAs(ps, fixed, true); fits && (!ok || large.cost <= small.cost+aloneWorth) {
		return large, true
	}
	return small, ok
}

// aloneWorth is what the larger look of a piece with a page of its own is worth, in
// letters.
const aloneWorth = 80

func (l *layer) pageAs(ps []*piece, fixed map[string]uint64, alone bool) (leaf, bool) {
	room := l.columnHeight() + slack - float64(len(ps)-1)*l.between(len(ps))
	out := leaf{pieces: ps, chosen: make([]uint64, len(ps)), pages: 1, alone: alone}
	heights := make([]float64, len(ps))
	used := 0.0
	for i, p := range ps {
		if fixed != nil {
			out.chosen[i] = fixed[p.section.ID] &^ p.images()
		}
		heights[i] = p.height(out.chosen[i], alone)
		used += heights[i]
	}
	if used > room {
		return leaf{}, false
	}
	for _, c := range inOrder(ps, fixed) {
		bit := uint64(1) << c.option
		if out.chosen[c.piece]&bit != 0 {
			continue
		}
		if used+float64(ps[c.piece].options[c.option].lines)*l.grid() > room {
			out.cost += ps[c.piece].options[c.option].cost
			continue
		}
		with := ps[c.piece].height(out.chosen[c.piece]|bit, alone)
		if grown := used - heights[c.piece] + with; grown <= room {
			used, heights[c.piece] = grown, with
			out.chosen[c.piece] |= bit
		} else {
			out.cost += ps[c.piece].options[c.option].cost
		}
	}
	used += float64(len(ps)-1) * l.between(len(ps))
	if full := used / l.columnHeight(); full < 0.5-1e-9 {
		out.cost += emptyPage * (1.5 - full)
	}
	return out, true
}

// choice is an option of one of some pieces.
type choice struct{ piece, option int }

// inOrder are the options of pieces in the order in which they are taken; with fixed
// choices those that are pictures.
func inOrder(ps []*piece, fixed map[string]uint64) []choice {
	var order []choice
	for i, p := range ps {
		for o, opt := range p.options {
			if fixed == nil || opt.image {
				order = append(order, choice{i, o})
			}
		}
	}
	slices.SortStableFunc(order, func(a, b choice) int {
		return cmp.Or(cmp.Compare(ps[a.piece].options[a.option].rank, ps[b.piece].options[b.option].rank), cmp.Compare(a.option, b.option))
	})
	return order
}

// spread is a piece that no page holds, with the titles over it: on two pages, or if
// even what must be printed is longer, on as few as it takes.
func (l *layer) spread(ps []*piece, fixed map[string]uint64) leaf {
	out := leaf{pieces: ps, chosen: make([]uint64, len(ps)), pages: 2, alone: len(ps) == 1}
	for i, p := range ps {
		if fixed != nil {
			out.chosen[i] = fixed[p.section.ID] &^ p.images()
		}
	}
	out.pages = max(l.takes(l.boxes(out)), 2)
	for _, c := range inOrder(ps, fixed) {
		bit := uint64(1) << c.option
		if out.chosen[c.piece]&bit != 0 {
			continue
		}
		if out.chosen[c.piece] |= bit; l.tall(out) > float64(out.pages)*l.columnHeight()+slack || l.takes(l.boxes(out)) > out.pages {
			out.chosen[c.piece] &^= bit
			out.cost += ps[c.piece].options[c.option].cost
		}
	}
	return out
}

// loosen adds pages to a run that are taken where all others are too many: with three
// plants; and of jobs and garden days two that face each other, where one of them runs on
// from the left page to the right.
func (l *layer) loosen(r *run) {
	for i, p := range r.pieces {
		if p.section.Kind != booklet.JobPage && p.section.Kind != booklet.Day {
			on := r.pieces[i:min(i+3, len(r.pieces))]
			if lf, ok := l.page(on, nil); ok && len(on) == 3 && !slices.ContainsFunc(on, func(p *piece) bool { return p.opens }) {
				lf.cost += runsOver
				r.next[i] = append(r.next[i], lf)
			}
			continue
		}
		for n := 3; n <= mostFacing && i+n <= len(r.pieces); n++ {
			on := r.pieces[i : i+n]
			if l.tall(leaf{pieces: on, chosen: make([]uint64, n)}) > 2*l.columnHeight()+slack {
				break
			}
			lf := l.spread(on, nil)
			if lf.pages > 2 {
				break
			}
			lf.cost += runsOver
			r.next[i] = append(r.next[i], lf)
		}
	}
}

// mostFacing is how many jobs or days share two pages at most, and runsOver what such
// pages cost for their looks, in letters.
const (
	mostFacing = 7
	runsOver   = 150
)

// tall is the height that a leaf takes at the least, were its pages one.
func (l *layer) tall(lf leaf) float64 {
	h := 0.0
	for i, p := range lf.pieces {
		h += p.height(lf.chosen[i], lf.alone)
	}
	return h
}

// set gives the boxes of a leaf, to be placed.
func (l *layer) set(lf leaf) []box {
	out := l.boxes(lf)
	for k := range out {
		out[k].items = slices.Clone(out[k].items)
	}
	return out
}

// boxes are those of a leaf, whose items are its pieces' own.
func (l *layer) boxes(lf leaf) []box {
	var out []box
	for i, p := range lf.pieces {
		next := slices.Clone(p.set(lf.chosen[i], lf.alone))
		for k := range next {
			next[k].keep = next[k].keep && lf.pages != 1
		}
		if i > 0 && len(next) > 0 {
			next[0].gap = l.apart(lf, i)
		}
		out = append(out, next...)
	}
	return out
}

// A run is pieces that follow one another, with all pages that some of them may make:
// those that begin with each piece.
type run struct {
	pieces []*piece
	next   [][]leaf
	faces  bool // two pages of one piece face each other
}

// newRun finds the pages of a run. With fixed choices, by the IDs of sections, nothing
// is chosen: so the editions of a booklet say the same.
func (l *layer) newRun(ps []*piece, fixed map[string]uint64) run {
	r := run{ps, make([][]leaf, len(ps)), l.form.Folds}
	alone := make([]leaf, len(ps))
	fits := make([]bool, len(ps))
	parallel(len(ps), func(i int) { alone[i], fits[i] = l.page(ps[i:i+1], fixed) })
	for i := range ps {
		real := 0
		for j := i; j < len(ps); j++ {
			if !ps[j].opens {
				real++
			}
			if real > together(ps[j]) {
				break
			}
			if ps[j].opens && j+1 < len(ps) {
				continue // it is not the last of its page
			}
			made, ok := alone[i], fits[i]
			if j > i {
				made, ok = l.page(ps[i:j+1], fixed)
			}
			if !ok {
				break
			}
			r.next[i] = append(r.next[i], made)
		}
		if r.next[i] == nil {
			// Not even alone.
			n := 1
			for ps[i+n-1].opens && i+n < len(ps) {
				n++
			}
			r.next[i] = []leaf{l.spread(ps[i:i+n], fixed)}
		}
	}
	return r
}

// A way is how the pieces up to one are set: the last page, and what is before it.
type way struct {
	cost float64
	last leaf
	from [2]int // pieces and pages before it
}

// ways finds the cheapest way for each number of pages, on from an even or an odd
// page. Order is kept, so that a page has pieces that follow one another, and each
// step is a page or a spread: what is best for the first pieces on so many pages is
// part of the best for all (dynamic programming, exact).
func (r run) ways(even bool) []map[int]way {
	best := make([]map[int]way, len(r.pieces)+1)
	for i := range best {
		best[i] = map[int]way{}
	}
	best[0][0] = way{}
	for i := range r.pieces {
		befores := slices.Sorted(maps.Keys(best[i])) // of two ways that cost the same the first is kept
		for _, lf := range r.next[i] {
			at := best[i+len(lf.pieces)]
			for _, pages := range befores {
				w, used := best[i][pages], pages+lf.pages
				if lf.pages == 2 && r.faces && (pages%2 == 0) != even {
					used++ // a page for notes before it
				}
				if old, ok := at[used]; !ok || w.cost+lf.cost < old.cost-1e-9 {
					at[used] = way{w.cost + lf.cost, lf, [2]int{i, pages}}
				}
			}
		}
	}
	return best
}

// leaves walks back from the end of a run.
func leaves(best []map[int]way, pages int) []leaf {
	var out []leaf
	for i := len(best) - 1; i > 0; {
		w := best[i][pages]
		out = append(out, w.last)
		i, pages = w.from[0], w.from[1]
	}
	slices.Reverse(out)
	return out
}

// parallel does n things side by side.
func parallel(n int, f func(i int)) {
	var next atomic.Int64
	var all sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		all.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				f(i)
			}
		})
	}
	all.Wait()
}
