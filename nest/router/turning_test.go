package router

import (
	"math/rand/v2"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

func steps(deg int) []int {
	var list []int
	for t := 0; t < 360; t += deg {
		list = append(list, t)
	}
	return list
}

// Plans with free angles pass the judge, gap and all, and use them.
func TestFreeAnglesJudged(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	askew := 0
	for range 3 {
		p := &nest.Problem{Cut: kerf.Router, Gap: 6 * mm, Stocks: []nest.Stock{stock("sheet", 1220*mm, 800*mm, 1, parts.Unlimited)}}
		for range 4 {
			q := part("star", 1+rng.IntN(4), geom.Polygon{Outer: star(rng, 5+rng.IntN(9), length.Length(100+rng.IntN(200))*mm)})
			q.Turns = steps(15)
			p.Parts = append(p.Parts, q)
		}
		q := part("plate", 3, bow(300*mm, 120*mm, 40*mm))
		q.Turns = steps(30)
		p.Parts = append(p.Parts, q)
		for _, s := range solve(t, p, nest.Settings{Seed: 1, Budget: 20}).Sheets {
			for _, pl := range s.Placements {
				if pl.Turn%90 != 0 {
					askew++
				}
			}
		}
	}
	if askew == 0 {
		t.Error("no panel lies at a free angle")
	}
}

// Turns are thinned out evenly, quarter turns stay, and a part that fits only
// askew keeps the turn that it fits in.
func TestThin(t *testing.T) {
	p := &nest.Problem{Stocks: []nest.Stock{stock("sheet", 1020*mm, 720*mm, 1, 1)}}
	tri := part("tri", 1, geom.Polygon{Outer: geom.Ring{{}, {X: 300 * mm}, {Y: 200 * mm}}})
	tri.Turns = steps(5)
	for range 30 {
		p.Parts = append(p.Parts, tri)
	}
	l := newTurning(p, "ply")
	st := &p.Stocks[0]
	got := l.thin(&tri, st, tri.Turns)
	if len(got) > maxTurned/30+4 || len(got) < 8 {
		t.Errorf("%d of 72 turns of 30 parts are left: %v", len(got), got)
	}
	for _, want := range []int{0, 90, 180, 270} {
		found := false
		for _, v := range got {
			found = found || v == want
		}
		if !found {
			t.Errorf("%d degrees are gone: %v", want, got)
		}
	}
	plate := part("plate", 1, rect(500*mm, 100*mm))
	if got := l.thin(&plate, st, steps(5)); len(got) != 4 {
		t.Errorf("a rectangle has the turns %v", got)
	}
	batten := part("batten", 1, rect(1100*mm, 40*mm))
	if got := l.thin(&batten, st, steps(5)); len(got) != 72 {
		t.Errorf("one that fits only askew has %d turns", len(got))
	}
	batten.Turns = steps(5)
	p.Parts = []nest.Part{batten}
	p.Cut = kerf.Router
	if n := len(solve(t, p, nest.Settings{Seed: 1, Budget: 20}).Unplaced); n != 0 {
		t.Error("the batten found no place")
	}
}
