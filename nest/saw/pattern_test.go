package saw

import (
	"context"
	"math/rand/v2"
	"testing"
)

// The hash of a sheet tells what is on it and nothing else; sheets that hold something
// else have another.
func TestPatternHash(t *testing.T) {
	rng := rand.New(rand.NewPCG(39, 40))
	j := small(rng, 10)
	c := newChain(j, 1, 0)
	seen := map[uint64]string{}
	for range 3000 {
		var s sheet
		s.reset(0, &j.boards[0])
		s.settle(j)
		for range 1 + rng.IntN(6) {
			c.put(&s, int32(rng.IntN(len(j.kinds))), rule(rng.IntN(int(rules))), 0)
		}
		p := newPattern(&s)
		text := ""
		for _, e := range p.counts {
			text += string(rune('a'+e.row)) + string(rune('0'+int(e.value)))
		}
		if was, ok := seen[p.hash]; ok && was != text {
			t.Fatalf("%s and %s have the same hash", was, text)
		}
		seen[p.hash] = text
	}
	if len(seen) < 500 {
		t.Errorf("only %d sheets differ", len(seen))
	}
}

// A pool holds a pattern once, is bounded, and keeps what is useful and what is full;
// chains learn what others found useful.
func TestPool(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 42))
	j := small(rng, 40)
	a, b := newChain(j, 1, 0), newChain(j, 2, 1)
	a.first(context.Background())
	plan := len(a.pool.list)
	if plan == 0 {
		t.Fatal("the sheets of the first plan are not remembered")
	}
	a.goal = cheaper
	a.startCheaper()
	for range 30_000 {
		a.step()
		for _, i := range a.which {
			a.remember(&a.now.sheets[i], false)
		}
		if n := len(a.pool.list); n >= 2*mostPatterns {
			t.Fatalf("%d patterns", n)
		}
	}
	if len(a.pool.list) != len(a.pool.seen) {
		t.Errorf("%d patterns, %d are known", len(a.pool.list), len(a.pool.seen))
	}
	hashes := map[uint64]bool{}
	for _, p := range a.pool.list {
		if hashes[p.hash] || !a.pool.seen[p.hash] || p.hash != p.s.hash() {
			t.Fatal("a pattern is there twice, or changed")
		}
		hashes[p.hash] = true
	}
	b.first(context.Background())
	fresh := a.pool.fresh
	share([]*chain{a, b})
	for _, p := range fresh {
		if p != nil && !b.pool.seen[p.hash] {
			t.Error("a useful pattern is not shared")
		}
	}
	if len(a.pool.fresh)+len(b.pool.fresh) > 0 {
		t.Error("what was shared is still fresh")
	}
}
