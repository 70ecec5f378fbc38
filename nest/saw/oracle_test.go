package saw

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/length"
)

// box is the size of a pattern of straight cuts.
type box struct{ w, h int }

// boxes returns the least boxes into which straight cuts can bring each set of
// panels, by trying every way to part a set in two and to join the two side by
// side or one above the other. A set is a bit mask.
func boxes(sizes []box, turn bool) [][]box {
	list := make([][]box, 1<<len(sizes))
	for set := 1; set < len(list); set++ {
		var all []box
		if set&(set-1) == 0 {
			for i, s := range sizes {
				if set == 1<<i {
					all = append(all, s)
					if turn {
						all = append(all, box{s.h, s.w})
					}
				}
			}
		}
		for a := (set - 1) & set; a > 0; a = (a - 1) & set {
			for _, p := range list[a] {
				for _, q := range list[set&^a] {
					all = append(all, box{p.w + q.w, max(p.h, q.h)}, box{max(p.w, q.w), p.h + q.h})
				}
			}
		}
		slices.SortFunc(all, func(p, q box) int {
			if p.w != q.w {
				return p.w - q.w
			}
			return p.h - q.h
		})
		for _, b := range all {
			if n := len(list[set]); n == 0 || b.h < list[set][n-1].h {
				list[set] = append(list[set], b)
			}
		}
	}
	return list
}

// Against every pattern of straight cuts there is: on one small sheet as many
// panels are placed as can be, and when all can, on the narrowest strip.
func TestOracle(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	tight := 0
	for n := range 60 {
		turn := n%2 == 0
		k := n % 3 // kerf in mm, even in units
		w, h := 20+rng.IntN(20), 20+rng.IntN(20)
		sizes := make([]box, 2+rng.IntN(5))
		p := &nest.Problem{Cut: kerf.Saw, Kerf: length.Length(k) * mm, Gap: length.Length(k) * mm}
		grain := parts.AlongLength
		if turn {
			grain = parts.NoAxis
		}
		for i := range sizes {
			a, b := 4+rng.IntN(16), 4+rng.IntN(16)
			sizes[i] = box{a + k, b + k}
			p.Parts = append(p.Parts, part(fmt.Sprint(i), 1, length.Length(a)*mm, length.Length(b)*mm, grain))
		}
		p.Stocks = []nest.Stock{stock("sheet", length.Length(w)*mm, length.Length(h)*mm, 0, parts.AlongLength, 1, 1)}
		most, narrowest := 0, 0
		list := boxes(sizes, turn)
		for set := range list {
			count := 0
			for i := range sizes {
				count += set >> i & 1
			}
			for _, b := range list[set] {
				if b.w <= w+k && b.h <= h+k && count > most {
					most = count
				}
				if b.w <= w+k && b.h <= h+k && count == len(sizes) && (narrowest == 0 || b.w < narrowest) {
					narrowest = b.w
				}
			}
		}
		plan := solve(t, p, nest.Settings{Seed: 3, Budget: 20})
		if got := plan.Placed(); got != most {
			t.Errorf("case %d: %d of %d panels placed, %d can be", n, got, len(sizes), most)
		}
		if most < len(sizes) {
			continue
		}
		// The same on a sheet of the narrowest width, and one that is a millimetre less.
		tight++
		p.Stocks = []nest.Stock{stock("strip", length.Length(narrowest-k)*mm, length.Length(h)*mm, 0, parts.AlongLength, 1, 1)}
		if got := solve(t, p, nest.Settings{Seed: 3, Budget: 20}).Placed(); got != len(sizes) {
			t.Errorf("case %d: %d of %d panels placed on the narrowest strip", n, got, len(sizes))
		}
	}
	if tight < 10 {
		t.Errorf("only %d tight cases", tight)
	}
}

// The largest offcut that can be left of one sheet, by trying every pattern in
// every sheet that a full cut leaves.
func TestOracleOffcut(t *testing.T) {
	rng := rand.New(rand.NewPCG(33, 34))
	for n := range 25 {
		w, h := 40, 30
		sizes := make([]box, 3+rng.IntN(4))
		p := &nest.Problem{Cut: kerf.Saw, Keep: parts.KeepRule{Short: mm, Long: mm}}
		for i := range sizes {
			sizes[i] = box{3 + rng.IntN(9), 3 + rng.IntN(9)}
			p.Parts = append(p.Parts, part(fmt.Sprint(i), 1, length.Length(sizes[i].w)*10*mm, length.Length(sizes[i].h)*10*mm, parts.AlongLength))
		}
		p.Stocks = []nest.Stock{stock("sheet", length.Length(w)*10*mm, length.Length(h)*10*mm, 0, parts.AlongLength, 1, 1)}
		most := 0
		list := boxes(sizes, false)
		for _, b := range list[len(list)-1] {
			if b.w <= w && b.h <= h {
				most = max(most, (w-b.w)*h, w*(h-b.h))
			}
		}
		if most == 0 {
			continue
		}
		got := length.Length(0)
		for _, o := range solve(t, p, nest.Settings{Seed: 3, Budget: 40}).Sheets[0].Offcuts {
			got = max(got, o.Box.Dx()/mm*(o.Box.Dy()/mm)/100)
		}
		if int(got) < most {
			t.Errorf("case %d: the largest offcut has %d, it can have %d", n, got, most)
		}
	}
}
