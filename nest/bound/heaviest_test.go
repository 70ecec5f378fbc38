package bound

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"panelyard/nest/bound/cabinets"
)

// boards returns the pricing of the thick boards of a job, with tables of so many additions at most,
// and areas as weights.
func boards(seed uint64, panels, stocks, most int) (*pricing, []float64) {
	const m = "board 18"
	p := cabinets.New(seed, cabinets.Wishes{Panels: panels, Stocks: stocks})
	sheets, index := sheetsOf(p, m)
	kinds := rectanglesOf(panelsOf(p, m, sheets, index, make([]bool, len(p.Parts))))
	q := newPricing(kinds, sheets, most)
	return q, q.boxAreas()
}

// askedOf returns a question about so many sheets of each kind.
func askedOf(q *pricing, sheets int) *whole {
	mix := make([]int, len(q.sheets))
	for j := range mix {
		mix[j] = sheets
	}
	work := 0
	return &whole{ctx: context.Background(), b: &single{patterns: mostListed}, mix: mix, until: columnWork, work: &work}
}

// What grows from list to list has the heaviest patterns of all that weigh as much as its last one,
// in the same order, and is as long as wanted or has all there are.
func TestGrown(t *testing.T) {
	compared := 0
	for seed := uint64(1); seed < 24; seed += 4 {
		q, areas := boards(seed, 30+int(seed), 1, columnWork/fillings)
		sum := 0.0
		for k, a := range areas {
			sum += a * q.kinds[k].copies
		}
		w := askedOf(q, 1+int(sum/boxArea(q.sheets[0].w, q.sheets[0].h)))
		w.b.kinds = q.sheets
		duals, least := w.weights(q)
		if duals == nil || least < 0 {
			continue // one sheet more is needed
		}
		for _, most := range []int{1, 300} {
			c, slack, best := w.question(q, duals, most)
			c.lister.best = true
			list := c.grown(0, slack/firstPart, slack)
			n, s := len(list)/c.lister.stride(), c.lister.stride()
			full, _, _ := w.question(q, duals, mostListed)
			if n == 0 {
				if all, ok := full.near(0, slack, columnWork/100); ok && len(all) > 0 {
					t.Errorf("job %d: no patterns of %d", seed, len(all)/s)
				}
				continue
			}
			all, ok := full.near(0, int32(best[0])-int32(list[(n-1)*s]), columnWork/10)
			if !ok || len(all) < len(list) || !slices.Equal(all[:len(list)], list) {
				t.Errorf("job %d: %d patterns are not the heaviest", seed, n)
			}
			compared += n
			if n < most {
				if all, ok := full.near(0, slack, columnWork/100); ok && len(all) != len(list) {
					t.Errorf("job %d: %d patterns, want %d of %d", seed, n, most, len(all)/s)
				}
			}
		}
	}
	if compared < 1000 {
		t.Errorf("only %d patterns were compared", compared)
	}
}

// Weights that lean to others have little more slack, whatever these are.
func TestTowards(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 13))
	q, areas := boards(9, 90, 2, columnWork/fillings)
	w := askedOf(q, 3)
	leant := 0
	for range 20 {
		tilt := make([]float64, len(areas))
		for k := range tilt {
			if rng.IntN(4) == 0 {
				tilt[k] = 1000 * rng.Float64()
			}
		}
		tilt[rng.IntN(len(tilt))]++
		before := slackOf(q, w.mix, areas)
		list := w.towards(q, areas, tilt)
		if after := slackOf(q, w.mix, list); after > moreSlack*before*(1+1e-6) {
			t.Errorf("the slack was %v, and is %v", before, after)
		}
		if !slices.Equal(list, leanedTo(q, areas, tilt, 0)) {
			leant++
		}
	}
	if leant < 20 {
		t.Errorf("only %d of 20 lean", leant)
	}
}

// Two lists together have each pattern of one or both once.
func TestAddOf(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 31))
	for i := range 300 {
		draw := func() *choice {
			c := &choice{wanted: make([]int, 3)}
			seen := map[filling]bool{}
			for range rng.IntN(12) {
				row := []uint8{uint8(rng.IntN(3)), uint8(rng.IntN(2)), uint8(rng.IntN(2))}
				sheet := rng.IntN(2)
				if f := (filling{sheet, string(row)}); !seen[f] {
					seen[f] = true
					c.addRow(sheet, row)
				}
			}
			return c
		}
		a, b := draw(), draw()
		want := a.known()
		fresh := false
		for f := range a.known() {
			fresh = fresh || !b.known()[f]
		}
		for f := range b.known() {
			want[f] = true
		}
		if got := a.addOf(b); got != fresh {
			t.Errorf("case %d: has others %v, want %v", i, got, fresh)
		}
		if got := a.known(); len(got) != len(want) || len(a.columns) != len(want) {
			t.Errorf("case %d: %d patterns, %d of them different, want %d", i, len(a.columns), len(got), len(want))
		}
		if !a.addOf(nil) {
			t.Errorf("case %d: nothing takes something away", i)
		}
	}
}
