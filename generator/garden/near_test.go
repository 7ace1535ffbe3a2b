package garden

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"sheaf/generator/entries"
	"sheaf/generator/names"
	"sheaf/generator/source"
)

// nearByEach is [speller.near] by measuring every name in full: slow, and plain to see.
func (x *speller) nearByEach(keys []string) []*entries.Entry {
	type candidate struct {
		edits int
		entry *entries.Entry
	}
	distance := func(written, meant, itsSound, meantSound string) int {
		return min(source.Edits(written, meant), source.Edits(itsSound, meantSound))
	}
	var all []candidate
	for _, key := range keys {
		written := x.spelling(key, names.Name{}, nil)
		if len(written.words) < 2 {
			continue
		}
		var among []spelling
		if own := x.of(written.words[0]); own != nil {
			among = own.spellings
		} else {
			for _, g := range x.genera().spellings {
				if distance(written.words[0], g.key, written.sounds[0], g.sound) <= mostSlips {
					among = append(among, x.of(g.key).spellings...)
				}
			}
		}
		most := 2 + len(key)/10
		for _, s := range among {
			if edits := distance(key, s.key, written.sound, s.sound); edits <= most {
				all = append(all, candidate{edits, s.entry})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b candidate) int {
		return cmp.Or(cmp.Compare(a.edits, b.edits), cmp.Compare(a.entry.Name.Value.String(), b.entry.Name.Value.String()))
	})
	var out []*entries.Entry
	for _, c := range all {
		if !slices.Contains(out, c.entry) && len(out) < mostNear {
			out = append(out, c.entry)
		}
	}
	return out
}

// A maker makes up plant names of a few syllables, so that many are near to others.
type maker struct{ *rand.Rand }

func (m maker) word(syllables int) string {
	out := ""
	for range syllables {
		out += []string{"ca", "re", "phy", "lla", "ni", "mo", "ru", "tha", "se", "lo", "ae", "ster", "um", "us"}[m.IntN(14)]
	}
	return out
}

func (m maker) genus(of int) string {
	return []string{"Carex", "Carox", "Salvia", "Salva", "Phylla", "Filla", "Rosa", "Rhusa"}[m.IntN(of)]
}

// name is one in a genus; some have a cultivar, and letters that take two bytes.
func (m maker) name(genus string) string {
	out := genus + " " + m.word(1+m.IntN(4))
	switch m.IntN(6) {
	case 0:
		out += " '" + m.word(2+m.IntN(3)) + "'"
	case 1:
		out += " '" + m.word(2) + "жук " + m.word(12+m.IntN(12)) + "'" // some beyond 64 letters
	case 2:
		out += " subsp. " + m.word(3)
	}
	return out
}

// TestNearAsByEach: what is skipped because it cannot be near is never near.
func TestNearAsByEach(t *testing.T) {
	m := maker{rand.New(rand.NewPCG(11, 7))}
	for _, genera := range []int{1, 8} {
		var all [][]string
		for range 200 {
			all = append(all, []string{m.name(m.genus(genera)), m.name(m.genus(genera))})
		}
		x := index(shelved(t, all...))
		some, empty := 0, 0
		for range 2000 {
			p := Planting{Row: Row{Plant: m.name(m.genus(8))}}
			if m.IntN(4) == 0 {
				p.Row.Plant = m.word(3) + " " + m.word(3)
			}
			if m.IntN(8) > 0 { // else one that could not be read
				p.Name, _, _ = names.Parse(p.Row.Plant)
			}
			got, want := x.near(forms(&p), far), x.nearByEach(forms(&p))
			if !slices.Equal(got, want) {
				t.Fatalf("%q: %s, want %s", p.Row.Plant, called(got, "and"), called(want, "and"))
			}
			if len(got) > 0 {
				some++
			} else {
				empty++
			}
		}
		if some < 150 || empty < 150 {
			t.Errorf("%d near, %d not: the names show nothing", some, empty)
		}
	}
}

// crowd is a library of n entries of one genus and as many rows as may be of others of
// it, or, with many genera, each name in one of its own.
func crowd(t testing.TB, n, rows int, oneGenus bool) (*entries.Library, []Row) {
	m := maker{rand.New(rand.NewPCG(5, 19000))}
	name := func(i int) string {
		genus := "Carex"
		if !oneGenus {
			genus = fmt.Sprintf("C%sx", m.word(3))
		}
		if i%2 == 0 {
			return genus + " " + m.word(3) + " '" + m.word(4) + "'"
		}
		return genus + " " + m.word(4)
	}
	l := &entries.Library{}
	for i := range n {
		read, _, err := names.Parse(name(i))
		if err != nil {
			t.Fatal(err)
		}
		l.Entries = append(l.Entries, &entries.Entry{Name: source.At[names.Name]{Value: read}})
	}
	var out []Row
	for i := range rows {
		out = append(out, Row{Plant: name(i)})
	}
	return l, out
}

// TestCrowd: rows of which none is covered, in a library as large as one may be. A
// list may have 5000; those took 462 s when each name was measured in full.
func TestCrowd(t *testing.T) {
	for _, oneGenus := range []bool{true, false} {
		l, rows := crowd(t, 19000, 1000, oneGenus)
		began := time.Now()
		MatchRows(rows, l, true)
		took := time.Since(began)
		t.Logf("one genus %v: %.1f s", oneGenus, took.Seconds())
		if took > 40*time.Second { // forty times what it takes, as the machine may be busy
			t.Errorf("one genus %v: %.0f s", oneGenus, took.Seconds())
		}
	}
}

// BenchmarkCrowd is [TestCrowd] with as many rows as may be.
func BenchmarkCrowd(b *testing.B) {
	for _, oneGenus := range []bool{true, false} {
		b.Run(fmt.Sprintf("one genus %v", oneGenus), func(b *testing.B) {
			l, rows := crowd(b, 19000, 5000, oneGenus)
			for b.Loop() {
				MatchRows(rows, l, true)
			}
		})
	}
}
