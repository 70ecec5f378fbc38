package bound

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/length"
)

// layouts returns all numbers of blanks that straight cuts get out of a rectangle, by trying
// each cut at each unit; no more of a kind than are wanted.
func layouts(w, h int, blanks [][2]int, wanted []int, memo map[[2]int]map[string]bool) map[string]bool {
	if set, ok := memo[[2]int{w, h}]; ok {
		return set
	}
	set := map[string]bool{string(make([]byte, len(blanks))): true}
	for i, b := range blanks {
		if b[0] <= w && b[1] <= h && wanted[i] > 0 {
			one := make([]byte, len(blanks))
			one[i] = 1
			set[string(one)] = true
		}
	}
	join := func(a, b map[string]bool) {
		for p := range a {
			for q := range b {
				sum := []byte(p)
				most := true
				for i := range sum {
					sum[i] += q[i]
					most = most && int(sum[i]) <= wanted[i]
				}
				if most {
					set[string(sum)] = true
				}
			}
		}
	}
	for a := 1; a <= w/2; a++ {
		join(layouts(a, h, blanks, wanted, memo), layouts(w-a, h, blanks, wanted, memo))
	}
	for a := 1; a <= h/2; a++ {
		join(layouts(w, a, blanks, wanted, memo), layouts(w, h-a, blanks, wanted, memo))
	}
	memo[[2]int{w, h}] = set
	return set
}

// small returns random kinds of blanks that lie in one way only and are no shorter than a unit,
// in a sheet of w x h, and a table in such units for it.
func small(rng *rand.Rand, w, h, unit int) (*table, [][2]int, []rectangle) {
	var blanks [][2]int
	var kinds []rectangle
	var xs, ys []span
	for range 1 + rng.IntN(4) {
		a, b := 1+rng.IntN(w), 1+rng.IntN(h)
		if rng.IntN(3) > 0 {
			a, b = 1+rng.IntN(1+w/2), 1+rng.IntN(1+h/2)
		}
		a, b = max(a, unit), max(b, unit)
		copies := 1 + rng.IntN(3)
		blanks = append(blanks, [2]int{a, b})
		kinds = append(kinds, rectangle{w: length.Length(a), h: length.Length(b), copies: float64(copies)})
		xs, ys = append(xs, span{length.Length(a), 1}), append(ys, span{length.Length(b), 1})
	}
	x, y := newRaster(xs, []length.Length{length.Length(w)}, length.Length(unit)), newRaster(ys, []length.Length{length.Length(h)}, length.Length(unit))
	var list []blank
	for i, b := range blanks {
		list = append(list, blank{kind: i, x: x.over(length.Length(b[0])), y: y.over(length.Length(b[1]))})
	}
	return newTable(x, y, list), blanks, kinds
}

// weighed returns random weights of kinds, and how many are wanted.
func weighed(rng *rand.Rand, kinds []rectangle) (weight []int32, wanted []int) {
	for i := range kinds {
		weight, wanted = append(weight, int32(1+rng.IntN(60))), append(wanted, int(kinds[i].copies))
	}
	return weight, wanted
}

// The patterns that are listed are all that weigh enough, of those that trying each cut at each
// length finds, and weigh what they say; where the rasters round lengths to units, as well. How
// each is cut makes those blanks of it, in a sheet that is large enough.
func TestNearAsTryingAll(t *testing.T) {
	for _, unit := range []int{1, 2, 3} {
		nearAsTryingAll(t, unit)
	}
}

func nearAsTryingAll(t *testing.T, unit int) {
	rng := rand.New(rand.NewPCG(20, 8))
	listed, less := 0, 0
	for n := range 1500 * unit {
		w, h := unit+2+rng.IntN(9), unit+2+rng.IntN(9)
		tb, blanks, kinds := small(rng, w, h, unit)
		weight, wanted := weighed(rng, kinds)
		tb.fill(weight)
		x, y := tb.x.at(length.Length(w)), tb.y.at(length.Length(h))
		best := tb.row(x)[y]
		slack := int32(rng.IntN(150))
		l := newLister(kinds, unit == 1, wanted, 5000)
		list, ok := l.near(context.Background(), &losses{corner: corner{tb, x, y, length.Length(w), length.Length(h)}}, slack, columnWork)
		if !ok {
			t.Fatalf("case %d: too many", n)
		}
		for i, b := range l.listed {
			cut := make([]byte, len(kinds))
			tree := l.tree(tb, b)
			blanksOf(tree, cut)
			tree.measure()
			if tree.w > length.Length(w) || tree.h > length.Length(h) {
				t.Fatalf("case %d: cuts for a sheet of %d x %d, it is %d x %d", n, tree.w, tree.h, w, h)
			}
			for k := range cut {
				if p := list[i*l.stride():][:l.stride()]; int(cut[k]) != copiesOf(p, k) {
					t.Fatalf("case %d: cuts make %v of %v", n, cut, p)
				}
			}
		}
		got := map[string]bool{}
		for i := 0; i < len(list); i += l.stride() {
			p := list[i : i+l.stride()]
			counts, sum := make([]byte, len(kinds)), int32(0)
			for k := range counts {
				counts[k] = byte(copiesOf(p, k))
				sum += weight[k] * int32(counts[k])
			}
			if int32(p[0]) != sum || sum < best-slack || i > 0 && p[0] > list[i-l.stride()] {
				t.Fatalf("case %d: %v weighs %d, it says %d; the best is %d", n, counts, sum, p[0], best)
			}
			got[string(counts)] = true
		}
		want, heaviest := 0, int32(0)
		all := layouts(w, h, blanks, wanted, map[[2]int]map[string]bool{})
		for p := range all {
			sum := int32(0)
			for k := range kinds {
				sum += weight[k] * int32(p[k])
			}
			if sum >= best-slack && sum > 0 {
				if want++; !got[p] {
					t.Fatalf("case %d: %v of %d is not listed, the best is %d, the slack %d", n, []byte(p), sum, best, slack)
				}
			}
			heaviest = max(heaviest, sum)
		}
		if heaviest < best {
			less++
		}
		if len(got) != want {
			t.Fatalf("case %d: %d patterns, trying all finds %d", n, len(got), want)
		}
		listed += want
	}
	if listed < 2000 || less < 50 {
		t.Errorf("units of %d: only %d patterns; %d sheets hold less of them than the table says", unit, listed, less)
	}
}

// blanksOf counts the blanks of a piece.
func blanksOf(q *piece, counts []byte) {
	if q.parts[0] == nil {
		counts[q.kind]++
		return
	}
	blanksOf(q.parts[0], counts)
	blanksOf(q.parts[1], counts)
}

// A list that would be too long says so, and one of an ended context.
func TestNearTooMany(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	tb, _, kinds := small(rng, 12, 12, 1)
	weight, wanted := make([]int32, len(kinds)), make([]int, len(kinds))
	for i := range weight {
		weight[i], wanted[i] = 1, 9
	}
	tb.fill(weight)
	x, y := tb.x.at(12), tb.y.at(12)
	slack := tb.row(x)[y]
	all, ok := newLister(kinds, true, wanted, 5000).near(context.Background(), &losses{corner: corner{tb, x, y, 12, 12}}, slack, columnWork)
	if !ok || len(all) < 6 {
		t.Fatalf("%d words, %v", len(all), ok)
	}
	if _, ok := newLister(kinds, true, wanted, 2).near(context.Background(), &losses{corner: corner{tb, x, y, 12, 12}}, slack, columnWork); ok {
		t.Error("more patterns than wanted are listed")
	}
	if _, ok := newLister(kinds, true, wanted, 5000).near(context.Background(), &losses{corner: corner{tb, x, y, 12, 12}}, slack, 50); ok {
		t.Error("more additions than wanted are made")
	}
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	if _, ok := newLister(kinds, true, wanted, 5000).near(ended, &losses{corner: corner{tb, x, y, 12, 12}}, slack, columnWork); ok {
		t.Error("an ended context lists all patterns")
	}
}

// fewPanels returns a problem of few panels, whose sheets can be found by trying.
func fewPanels(rng *rand.Rand) *nest.Problem {
	p := &nest.Problem{Cut: kerf.Saw}
	w, h := 6+rng.IntN(6), 6+rng.IntN(6)
	p.Stocks = []nest.Stock{stock(length.Length(w)*mm, length.Length(h)*mm, 0, int64(w*h), parts.Unlimited)}
	for range 2 + rng.IntN(3) {
		a, b := 2+rng.IntN(w-2), 2+rng.IntN(h-2)
		p.Parts = append(p.Parts, part(1+rng.IntN(3), length.Length(a)*mm, length.Length(b)*mm, parts.AlongLength))
	}
	return p
}

// fewest returns the fewest sheets of a problem of one kind of sheet, by trying all patterns.
func fewest(p *nest.Problem, w, h int) int {
	var blanks [][2]int
	var wanted []int
	for _, q := range p.Parts {
		blanks = append(blanks, [2]int{int(q.Blank.X / mm), int(q.Blank.Y / mm)})
		wanted = append(wanted, q.Copies)
	}
	var all [][]byte
	for s := range layouts(w, h, blanks, wanted, map[[2]int]map[string]bool{}) {
		all = append(all, []byte(s))
	}
	memo := map[string]int{}
	var least func(left []int) int
	least = func(left []int) int {
		if slices.Max(left) == 0 {
			return 0
		}
		key := fmt.Sprint(left)
		if n, ok := memo[key]; ok {
			return n
		}
		best := 99
		first := slices.IndexFunc(left, func(n int) bool { return n > 0 })
		for _, pat := range all {
			if pat[first] == 0 {
				continue
			}
			rest := slices.Clone(left)
			for k, n := range pat {
				rest[k] = max(0, rest[k]-int(n))
			}
			best = min(best, 1+least(rest))
		}
		memo[key] = best
		return best
	}
	return least(wanted)
}

// Lengths are counted exactly where one unit divides them all and few are reached.
func TestExactRaster(t *testing.T) {
	spans := []span{{600 * mm, 1}, {450 * mm, 2}}
	r := exactRaster(spans, []length.Length{2430 * mm})
	if r == nil || r.unit != 150*mm || r.at(2430*mm) != int32(len(r.points)-1) {
		t.Fatalf("%+v", r)
	}
	if last := r.points[len(r.points)-1]; last != 16 {
		t.Errorf("the last point is %d units, want 16: 2400 of 2430", last)
	}
	fine := []span{{600*mm + 1, 1}, {450 * mm, 2}}
	if exactRaster(fine, []length.Length{2430 * mm}) != nil {
		t.Error("a raster of more units than there may be")
	}
	var dense []span
	for n := range length.Length(40) {
		dense = append(dense, span{100*mm + n*mm/10, 1})
	}
	if exactRaster(dense, []length.Length{2430 * mm}) != nil {
		t.Error("a raster of more points than there may be")
	}
}
