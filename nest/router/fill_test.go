package router

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// cutUp cuts a sheet into convex pieces without waste, each cut a straight line
// between points of the grid on two sides of the largest piece: a jigsaw with a
// known answer, in the way of Terashima-Marin, Ross, Farias-Zarate, Lopez-Camacho &
// Valenzuela-Rendon, Annals of Operations Research 179, 2010 (from memory).
func cutUp(rng *rand.Rand, w, h length.Length, n int) []geom.Ring {
	list := []geom.Ring{geom.BoxFromSize(geom.Point{}, geom.Pt(w, h)).Ring()}
	for tries := 0; len(list) < n && tries < 1000; tries++ {
		k := 0
		for i := range list {
			if list[i].Area2() > list[k].Area2() {
				k = i
			}
		}
		r := list[k]
		a := rng.IntN(len(r))
		b := (a + 1 + rng.IntN(len(r)-1)) % len(r)
		p, okP := onGrid(rng, r[a], r[(a+1)%len(r)])
		q, okQ := onGrid(rng, r[b], r[(b+1)%len(r)])
		if !okP || !okQ {
			continue
		}
		one, other := geom.Ring{p}, geom.Ring{q}
		for i := a; i != b; i = (i + 1) % len(r) {
			one = append(one, r[(i+1)%len(r)])
		}
		for i := b; i != a; i = (i + 1) % len(r) {
			other = append(other, r[(i+1)%len(r)])
		}
		one, other = append(one, q), append(other, p)
		least := int64(w) * int64(h) / int64(4*n)
		if one.Area2() < least || other.Area2() < least {
			continue
		}
		list[k] = one
		list = append(list, other)
	}
	return list
}

// onGrid returns a point strictly between the ends of an edge that is on the grid.
func onGrid(rng *rand.Rand, a, b geom.Point) (geom.Point, bool) {
	d := b.Sub(a)
	g := gcd(int64(d.X.Abs()), int64(d.Y.Abs()))
	if g < 2 {
		return a, false
	}
	k := 1 + rng.Int64N(g-1)
	return geom.Pt(a.X+d.X/length.Length(g)*length.Length(k), a.Y+d.Y/length.Length(g)*length.Length(k)), true
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// Sheets that were cut up without waste are put together again: every piece has a
// place only where its sides lie along others.
func TestPutsTogether(t *testing.T) {
	for seed := range uint64(6) {
		rng := rand.New(rand.NewPCG(seed, 1))
		p := &nest.Problem{Cut: kerf.Router, Stocks: []nest.Stock{{
			Name: "sheet", Material: "ply", Size: geom.Pt(1000, 1000), Usable: geom.BoxFromSize(geom.Point{}, geom.Pt(1000, 1000)), Cost: 1, Available: parts.Unlimited,
		}}}
		const sheets = 4
		for s := range sheets {
			for k, r := range cutUp(rng, 1000, 1000, 5) {
				q := part(fmt.Sprintf("%d.%d", s, k), 1, geom.Polygon{Outer: r.Turned(90 * rng.IntN(4))})
				q.Turns = []int{0, 90, 180, 270}
				p.Parts = append(p.Parts, q)
			}
		}
		rng.Shuffle(len(p.Parts), func(i, j int) { p.Parts[i], p.Parts[j] = p.Parts[j], p.Parts[i] })
		plan := solve(t, p, nest.Settings{Seed: seed, Budget: 600, Workers: 2})
		if len(plan.Unplaced) > 0 || len(plan.Sheets) != sheets {
			t.Errorf("seed %d: %d sheets, want %d", seed, len(plan.Sheets), sheets)
		}
	}
}

// A side knows over which length another lies along it, at the distance of the gap.
func TestAlong(t *testing.T) {
	gap := gapPolygon(4*mm, 8)
	a, _ := sidesOf([]geom.Ring{rect(100*mm, 50*mm).Outer}, gap)
	b, around := sidesOf([]geom.Ring{rect(80*mm, 30*mm).Outer}, gap)
	if around != float64(220*mm) {
		t.Errorf("80 x 30 is %v around", around)
	}
	same, _ := sidesOf([]geom.Ring{rect(100*mm, 30*mm).Outer}, gap)
	for _, c := range []struct {
		sides []ringSide
		at    geom.Point
		want  length.Length
	}{
		{b, geom.Pt(0, 54*mm), 80 * mm},       // above, flush left
		{b, geom.Pt(60*mm, 54*mm), 40 * mm},   // beyond the end
		{b, geom.Pt(100*mm, 54*mm), 0},        // corner to corner
		{b, geom.Pt(0, 55*mm), 0},             // too far
		{b, geom.Pt(0, 50*mm), 0},             // too near
		{b, geom.Pt(104*mm, 10*mm), 30 * mm},  // right
		{b, geom.Pt(-84*mm, 40*mm), 10 * mm},  // left
		{same, geom.Pt(0, 54*mm), 150 * mm},   // all of both: half as much again
		{same, geom.Pt(0, -34*mm), 150 * mm},  // below
		{same, geom.Pt(mm, -34*mm), 99 * mm},  // moved
		{same, geom.Pt(-mm, -34*mm), 99 * mm}, // the other way
	} {
		sum := 0.0
		for k := range a {
			opposed(c.sides, &a[k], func(s *ringSide) { sum += along(&a[k], geom.Point{}, s, c.at) })
		}
		if math.Abs(sum-float64(c.want)) > 1 {
			t.Errorf("at %v: %.0f, want %d", c.at, sum, c.want)
		}
	}
}

// Every side finds the one that runs opposite to it, all around the circle.
func TestOpposed(t *testing.T) {
	for deg := range 360 {
		at := func(d int) geom.Point {
			y, x := math.Sincos(float64(d) * math.Pi / 180)
			return geom.Pt(length.Length(1e6*x), length.Length(1e6*y))
		}
		s := newSide(geom.Point{}, at(deg), nil)
		list := []ringSide{newSide(geom.Point{}, at(deg+180), nil)}
		n := 0
		opposed(list, &s, func(*ringSide) { n++ })
		if n != 1 {
			t.Errorf("%d degrees: found %d times", deg, n)
		}
		list[0] = newSide(geom.Point{}, at(deg+181), nil)
		opposed(list, &s, func(*ringSide) { t.Errorf("%d degrees: found at an angle", deg) })
	}
}

// Sheets of several sizes, few of some, are filled with none too many.
func TestFillsMixedStock(t *testing.T) {
	p := &nest.Problem{Cut: kerf.Router, Gap: 4 * mm, Stocks: []nest.Stock{
		stock("large", 1000*mm, 800*mm, 100, 1), stock("small", 500*mm, 400*mm, 10, 3),
	}}
	p.Parts = []nest.Part{part("plate", 6, rect(470*mm, 180*mm)), part("ell", 5, ell(300*mm, 300*mm, 90*mm))}
	c := chainFor(t, p)
	c.first()
	if c.best.places == nil {
		t.Fatal("no layout")
	}
	n := map[int]int{}
	for b := range c.best.boards {
		n[c.best.boards[b].stock]++
	}
	if n[0] > 1 || n[1] > 3 {
		t.Errorf("%d large and %d small sheets, there are 1 and 3", n[0], n[1])
	}
}
