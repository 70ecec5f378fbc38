package router

import (
	"context"
	"math/rand/v2"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// brackets is a job of quarter rounds and their mirror images, triangles and
// rectangles.
func brackets(rng *rand.Rand) *nest.Problem {
	p := &nest.Problem{Cut: kerf.Router, Gap: 6 * mm, Stocks: []nest.Stock{stock("sheet", 1220*mm, 1220*mm, 1, parts.Unlimited)}}
	for k := range 3 {
		r := length.Length(200+rng.IntN(300)) * mm
		tri := geom.Polygon{Outer: geom.Ring{{}, {X: r}, {Y: 2 * r / 3}}}
		left := part(string(rune('a'+k))+" left", 2+rng.IntN(3), tri)
		right := part(string(rune('a'+k))+" right", left.Copies, tri.Flipped())
		p.Parts = append(p.Parts, left, right)
	}
	for range 4 {
		p.Parts = append(p.Parts, part("shelf", 1+rng.IntN(3), rect(length.Length(150+rng.IntN(300))*mm, length.Length(100+rng.IntN(200))*mm)))
	}
	return p
}

// First layouts of jobs with many mirrored brackets are better, by and large, when
// couples are laid as one.
func TestCouplesSave(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 2))
	better, worse := 0, 0
	for range 20 {
		c := chainFor(t, brackets(rng))
		for by := range 4 {
			c.mates = nil
			c.construct(c.bySize(by), false)
			alone := c.value()
			c.mates = c.pairUp()
			c.construct(c.bySize(by), false)
			paired := c.value()
			if paired.less(alone) {
				better++
			}
			if alone.less(paired) {
				worse++
			}
		}
	}
	if better < 2*worse {
		t.Errorf("%d better, %d worse", better, worse)
	}
}

func chainFor(t *testing.T, p *nest.Problem) *chain {
	t.Helper()
	sh, err := newShop(p, "ply", coarse, 50)
	if err != nil {
		t.Fatal(err)
	}
	return newChain(context.Background(), sh, nest.Settings{Seed: 3}, 0, &watcher{})
}

// Two right triangles of a kind make a rectangle when one is turned half around;
// left and right that may not be turned save nothing, nor do rectangles.
func TestCouple(t *testing.T) {
	tri := geom.Polygon{Outer: geom.Ring{{}, {X: 600 * mm}, {Y: 400 * mm}}}
	p := &nest.Problem{Cut: kerf.Router, Parts: []nest.Part{part("half", 3, tri)}, Stocks: []nest.Stock{stock("sheet", 1220*mm, 1220*mm, 1, parts.Unlimited)}}
	p.Parts[0].Turns = []int{0, 180}
	c := chainFor(t, p)
	if len(c.couples) != 1 || c.couples[0].saved != 0.5 {
		t.Fatalf("couples %+v, want one that saves half of the boxes", c.couples)
	}
	g := c.couples[0].group
	if g.w != 600*mm || g.h != 400*mm {
		t.Errorf("box %v x %v", g.w, g.h)
	}
	m := c.pairUp()
	paired := 0
	for i, j := range m {
		if j >= 0 {
			paired++
			if m[j] != int32(i) {
				t.Errorf("item %d has %d, which has %d", i, j, m[j])
			}
		}
	}
	if paired != 2 {
		t.Errorf("%d of three are paired", paired)
	}
	p.Parts[0].Copies = 1
	p.Parts = append(p.Parts, part("other half", 1, tri.Flipped()))
	p.Parts[1].Turns = []int{0}
	p.Parts[0].Turns = []int{0}
	if c = chainFor(t, p); len(c.couples) != 0 {
		t.Errorf("left and right that may not be turned save %v", c.couples)
	}
	p.Parts = []nest.Part{part("plate", 4, rect(600*mm, 400*mm))}
	if c = chainFor(t, p); len(c.couples) != 0 {
		t.Errorf("rectangles are coupled: %+v", c.couples)
	}
}
