package figure

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"sheaf/generator/words/wordstest"
)

// gardenOf makes a garden of n plants of all kinds, from mats to trees.
func gardenOf(n int) (ps []Plant) {
	for i := range n {
		p := plant(kinds[i%len(kinds)], habits[i*7%len(habits)], flowerHeads[i%len(flowerHeads)])
		p.Seed, p.Many = fmt.Sprint("plant ", i), 1+i*i%11
		p.Height, p.Spread = 10+float64(i*i*13%190), 15+float64(i*17%120)
		p.FlowerHeight = p.Height * 1.25
		switch p.Type {
		case "tree":
			p.Height, p.FlowerHeight, p.Spread = 500+float64(i%5)*100, 0, 400
		case "climber":
			p.Height, p.FlowerHeight, p.Spread = 450, 0, 300
		case "hedge":
			p.Height, p.FlowerHeight, p.Spread = 180, 0, 80
		}
		ps = append(ps, p)
	}
	return ps
}

var coverFrame = Frame{154, 86}

// TestBorder: every kind of garden fills its frame from edge to edge, keeps below its
// sky and above its foot, is drawn from low to tall, and the same each time.
func TestBorder(t *testing.T) {
	said := wordstest.English(t)
	for _, n := range []int{1, 2, 3, 10, 35, 48, 200, 300} {
		ps := gardenOf(n)
		for _, light := range []bool{false, true} {
			name := fmt.Sprintf("%d plants, light %v", n, light)
			pic := (*Sketchbook)(nil).Border(ps, light, said, palette(), coverFrame).Drawn()
			if !reflect.DeepEqual(pic, (*Sketchbook)(nil).Border(ps, light, said, palette(), coverFrame).Drawn()) {
				t.Errorf("%s: two drawings differ", name)
			}
			most := 12000
			if light {
				most = 5600
			}
			if got := check(t, name, pic); got > most {
				t.Errorf("%s: %d segments", name, got)
			}
			left, right := math.Inf(1), math.Inf(-1)
			for _, q := range pic.Flat() {
				if len(q.Clips) == 0 {
					t.Fatalf("%s: a shape is not clipped to the frame", name)
				}
				for _, pt := range ends(q.Shape.Path) {
					left, right = min(left, pt.X), max(right, pt.X)
					if pt.Y < 0 || pt.Y > coverFrame.H {
						t.Fatalf("%s: a stroke at %.2f, %.2f lies over the sky or under the soil", name, pt.X, pt.Y)
					}
				}
			}
			if left > 0 || right < coverFrame.W {
				t.Errorf("%s: drawn from %.1f to %.1f, not off both edges", name, left, right)
			}
		}
	}
}

// TestBorderOrder: in each line plants stand from low to tall; those in front are lower
// than half of what may be tallest; a plant is as tall as the scale says, or as the sky.
func TestBorderOrder(t *testing.T) {
	for _, n := range []int{2, 10, 48, 300} {
		ps := gardenOf(n)
		whole := map[string]Plant{}
		for _, p := range ps {
			whole[p.Seed] = p.whole()
		}
		all, mm, _ := plantOut(ps, coverFrame)
		sky := coverFrame.H - soilDepth - skyAir
		seen := map[plane]standing{}
		for _, p := range all {
			line := p.plane
			if line == behind || line == backdrop {
				line = middle
			}
			if last, ok := seen[line]; ok && p.plane != backdrop && last.plane != backdrop && (p.at < last.at || p.top() < last.top()) {
				t.Errorf("%d plants: %s, %.0f cm at %.1f mm, comes after %.0f cm at %.1f", n, p.Seed, p.top(), p.at, last.top(), last.at)
			}
			seen[line] = p
			if p.top()*mm > sky+0.01 {
				t.Errorf("%d plants: %s is %.1f mm tall under a sky of %.1f", n, p.Seed, p.top()*mm, sky)
			}
			seed, _, more := strings.Cut(p.Seed, drift)
			grown := whole[seed].top()
			if !more && grown <= lofty && p.Type != "climber" && p.Habit != "climber" && math.Abs(p.top()-grown) > 0.01 && p.top()*mm < sky-0.01 {
				t.Errorf("%d plants: %s is drawn %.0f cm tall and is %.0f", n, p.Seed, p.top(), grown)
			}
			if p.plane == front && p.top()*mm > sky*ordinary*0.55+0.01 {
				t.Errorf("%d plants: %s stands in front and is %.1f mm tall", n, p.Seed, p.top()*mm)
			}
		}
	}
}

// TestNothingDwarfs: a tree, a trellis and a hedge leave a garden of perennials the size
// it has without them, or nearly.
func TestNothingDwarfs(t *testing.T) {
	var ps []Plant
	for i := range 20 {
		p := plant("perennial", "upright", "daisy")
		p.Seed, p.Height, p.FlowerHeight = fmt.Sprint(i), 30+float64(i)*4, 0
		ps = append(ps, p)
	}
	_, alone, cut := plantOut(ps, coverFrame)
	if cut {
		t.Error("something is cut in a garden of perennials")
	}
	tall := append(slices.Clone(ps),
		Plant{Seed: "tree", Type: "tree", Habit: "dome", Height: 1500, Spread: 1000},
		Plant{Seed: "trellis", Type: "climber", Habit: "climber", Height: 800, Spread: 600})
	all, mm, cut := plantOut(tall, coverFrame)
	if !cut || mm < alone*0.5 {
		t.Errorf("with a tree and a trellis the scale is %.2f mm to the centimetre, without %.2f", mm, alone)
	}
	if last := all[len(all)-1]; last.Seed != "tree" || last.at+last.Spread*mm/2 < coverFrame.W {
		t.Errorf("%s is last, at %.0f mm, and the edge does not cut it", last.Seed, last.at)
	}
	for _, p := range all {
		if p.Seed == "trellis" && (p.top() > postHeight || p.Spread >= p.Height*0.55) {
			t.Errorf("the climber is %.0f by %.0f cm", p.top(), p.Spread)
		}
	}
}

// TestDrifts: a garden of few kinds fills its border with as many as are planted, and no
// more.
func TestDrifts(t *testing.T) {
	p := plant("grass", "upright", "spike")
	for many, want := range map[int]int{0: 1, 1: 1, 4: 4, 500: mostInDrift} {
		p.Many = many
		if all, _, _ := plantOut([]Plant{p}, coverFrame); len(all) != want {
			t.Errorf("of %d planted %d are drawn, want %d", many, len(all), want)
		}
	}
	full := gardenOf(48)
	if all, _, _ := plantOut(full, coverFrame); len(all) > len(full) {
		t.Errorf("a full border shows %d of %d plants", len(all), len(full))
	}
}

func BenchmarkBorder(b *testing.B) {
	ps, pal, said := gardenOf(48), palette(), wordstest.English(b)
	b.ReportAllocs()
	for b.Loop() {
		(*Sketchbook)(nil).Border(ps, false, said, pal, coverFrame).Drawn()
	}
}
