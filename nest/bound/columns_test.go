package bound

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/bound/cabinets"
	"panelyard/parts"
	"panelyard/parts/length"
)

// best returns the most weight straight cuts get out of a rectangle, by trying each cut
// at each unit: the definition, with nothing left out.
func best(w, h int, blanks [][3]int, memo map[[2]int]int) int {
	if v, ok := memo[[2]int{w, h}]; ok {
		return v
	}
	v := 0
	for _, b := range blanks {
		if b[0] <= w && b[1] <= h {
			v = max(v, b[2])
		}
	}
	for a := 1; a <= w/2; a++ {
		v = max(v, best(a, h, blanks, memo)+best(w-a, h, blanks, memo))
	}
	for a := 1; a <= h/2; a++ {
		v = max(v, best(w, a, blanks, memo)+best(w, h-a, blanks, memo))
	}
	memo[[2]int{w, h}] = v
	return v
}

// On a raster of one unit a table has the best value there is for every sheet it is made
// for, and its patterns are worth what they claim; on a coarser one it has no less.
func TestTable(t *testing.T) {
	rng := rand.New(rand.NewPCG(19, 66))
	fewer := 0
	for n := range 600 {
		w, h := 5+rng.IntN(30), 5+rng.IntN(30)
		ws, hs := []length.Length{length.Length(w)}, []length.Length{length.Length(h)}
		for range rng.IntN(3) {
			ws, hs = append(ws, length.Length(1+rng.IntN(w))), append(hs, length.Length(1+rng.IntN(h)))
		}
		kinds := make([]rectangle, 1+rng.IntN(5))
		weight := make([]int32, len(kinds))
		var all [][3]int
		for i := range kinds {
			a, b := 1+rng.IntN(1+w/(1+n%3)), 1+rng.IntN(1+h/(1+n%3))
			weight[i] = int32(1 + rng.IntN(100))
			all = append(all, [3]int{a, b, int(weight[i])})
			kinds[i] = rectangle{w: length.Length(a), h: length.Length(b), copies: 1}
		}
		memo := map[[2]int]int{}
		for unit := length.Length(1); unit <= 3; unit++ {
			var xs, ys []span
			for _, k := range kinds {
				xs, ys = append(xs, span{k.w, k.copies}), append(ys, span{k.h, k.copies})
			}
			x, y := newRaster(xs, ws, unit), newRaster(ys, hs, unit)
			if x.at(ws[0]) < int32(ws[0]/unit) {
				fewer++
			}
			var blanks []blank
			swallowed := false
			for i, k := range kinds {
				swallowed = swallowed || k.w < unit || k.h < unit
				if a, b := x.over(k.w), y.over(k.h); a > 0 && b > 0 {
					blanks = append(blanks, blank{kind: i, x: a, y: b})
				}
			}
			if swallowed {
				continue
			}
			tb := newTable(x, y, blanks)
			tb.fill(weight)
			for j := range ws {
				cx, cy := x.at(ws[j]), y.at(hs[j])
				got, want := int(tb.row(cx)[cy]), best(int(ws[j]), int(hs[j]), all, memo)
				if unit == 1 && got != want || got < want {
					t.Fatalf("case %d, unit %d, sheet %d: %d, trying all gives %d", n, unit, j, got, want)
				}
				counts := make([]float64, len(kinds))
				tb.pattern(cx, cy, counts)
				sum := 0.0
				for i, c := range counts {
					sum += c * float64(weight[i])
				}
				if int(sum) != got {
					t.Fatalf("case %d, unit %d, sheet %d: a pattern worth %v for a value of %d", n, unit, j, sum, got)
				}
			}
		}
	}
	if fewer < 300 {
		t.Errorf("only %d rasters have fewer points than units", fewer)
	}
}

// Solved by hand: in a sheet 12 x 10 lies one panel 7 x 6 with a strip 5 x 10 beside it
// for two of 5 x 5, or four of 5 x 5 alone. With weights of 1/2 and 1/4 no sheet has more
// than 1. Five and ten weigh 5; one more takes a sixth sheet, though five have the area.
func TestColumnsByHand(t *testing.T) {
	p := &nest.Problem{
		Cut:    kerf.Saw,
		Parts:  []nest.Part{part(5, 70*mm, 60*mm, parts.AlongLength), part(10, 50*mm, 50*mm, parts.AlongLength)},
		Stocks: []nest.Stock{stock(120*mm, 100*mm, 0, 10, parts.Unlimited)},
	}
	if b := Of(context.Background(), p); b.Sheets != 5 {
		t.Errorf("%+v, want 5 sheets", b)
	}
	p.Parts[1].Copies++
	if b := Of(context.Background(), p); b.Sheets != 6 || b.Cost != 60 {
		t.Errorf("%+v, want 6 sheets", b)
	}
}

// The example above on a rack in which each board is a kind of its own, every other one of
// no use: so many kinds that their rows come with their patterns.
func TestColumnsOnARack(t *testing.T) {
	for _, boards := range []int{spareRows, 3 * spareRows} {
		p := &nest.Problem{
			Cut:   kerf.Saw,
			Parts: []nest.Part{part(5, 70*mm, 60*mm, parts.AlongLength), part(11, 50*mm, 50*mm, parts.AlongLength)},
		}
		for i := range boards {
			side := 120 * mm
			if i%2 == 1 {
				side = 30 * mm
			}
			p.Stocks = append(p.Stocks, stock(side, side*5/6, 0, 10, 1))
		}
		if b := Of(context.Background(), p); b.Sheets != 6 || b.Cost != 60 {
			t.Errorf("%d boards: %+v, want 6 sheets", boards, b)
		}
	}
}

// Sheets of which each is a kind of its own bound nearly as much as the same sheets by
// kinds: there are more mixes of them than are looked through.
func TestColumnsOfSingleSheets(t *testing.T) {
	const work = 300_000_000
	for seed := range uint64(3) {
		kinds := cabinets.New(seed, cabinets.Wishes{Panels: 40, Stocks: 2})
		single := *kinds
		single.Stocks = nil
		for j := range kinds.Stocks {
			kinds.Stocks[j].Available = spareRows
			one := kinds.Stocks[j]
			one.Available = 1
			for range spareRows {
				single.Stocks = append(single.Stocks, one)
			}
		}
		a, _ := studied(context.Background(), kinds, 0, work)
		b, _ := studied(context.Background(), &single, 0, work)
		if 100*b.Cost < 95*a.Cost || a.Sheets != b.Sheets {
			t.Errorf("seed %d: %+v by kinds, %+v by sheets", seed, a, b)
		}
	}
}

// The patterns that gain most are taken, in the order of their gains.
func TestForemost(t *testing.T) {
	var list []layout
	for j := range 5 {
		list = append(list, layout{sheet: j})
	}
	for n, want := range map[int][]int{0: nil, 3: {1, 4, 0}, 9: {1, 4, 0, 2, 3}} {
		var got []int
		for _, q := range foremost(list, []float64{2, 5, 1, 0.5, 5}, n) {
			got = append(got, q.sheet)
		}
		if !slices.Equal(got, want) {
			t.Errorf("the foremost %d are %v, want %v", n, got, want)
		}
	}
}

// Same job, same bound; and it is stronger than that of other methods on cabinets.
func TestColumnsOnCabinets(t *testing.T) {
	const work = 300_000_000
	raised := 0
	for seed := range uint64(8) {
		p := cabinets.New(seed, cabinets.Wishes{Panels: 60 + 25*int(seed), Stocks: 3})
		b, _ := studied(context.Background(), p, 8, work)
		if again, _ := studied(context.Background(), p, 8, work); again != b {
			t.Errorf("seed %d: %+v, then %+v", seed, b, again)
		}
		without, _ := studied(context.Background(), p, 8, 0)
		if b.Cost < without.Cost || b.Sheets < without.Sheets {
			t.Errorf("seed %d: %+v is weaker than %+v", seed, b, without)
		}
		if b.Cost > without.Cost || b.Sheets > without.Sheets {
			raised++
		}
	}
	if raised < 2 {
		t.Errorf("column generation raised %d of 8 bounds", raised)
	}
}
