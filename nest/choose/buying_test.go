package choose

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/check"
	"panelyard/parts"
	"panelyard/parts/length"
	"panelyard/parts/money"
	"panelyard/parts/outline"
)

// yards returns a job of n panels of 1000 x 500 and m backs of 600 x 500, which fill
// sheets of 1000 x 500 and 600 x 500 one each, from two yards.
func yards(n, m int) *parts.Job {
	j := &parts.Job{
		Name: "Buoy cupboard", Tolerance: parts.DefaultTolerance,
		Materials: []parts.Material{{Name: "ply", Nominal: 18 * mm, Measured: 18 * mm, GoodFaces: 1}, {Name: "mdf", Nominal: 6 * mm, Measured: 6 * mm, GoodFaces: 1}},
		Yards:     []parts.Yard{{Name: "near"}, {Name: "mill", Drop: 50 * money.One, Sheets: 8}},
		Saw:       parts.Saw{Kerf: parts.DefaultKerf, Allowance: parts.DefaultAllowance},
		Keep:      parts.KeepRule{Short: parts.DefaultKeepShort, Long: parts.DefaultKeepLong},
	}
	add := func(name, material, yard string, l, w length.Length, price int, breaks ...parts.Break) {
		j.Stock = append(j.Stock, parts.Stock{
			Name: name, Material: material, Length: l * mm, Width: w * mm, Price: money.Amount(price) * money.One, Priced: true,
			Yard: yard, Available: parts.Unlimited, Breaks: breaks,
		})
	}
	add("near ply", "ply", "near", 1000, 500, 30)
	add("mill ply", "ply", "mill", 1000, 500, 25, parts.Break{From: 6, Price: 18 * money.One})
	add("near mdf", "mdf", "near", 600, 500, 9)
	add("mill mdf", "mdf", "mill", 600, 500, 7)
	panel := func(name, material string, copies int, l, w length.Length) {
		if copies > 0 {
			o := outline.Rectangle(l*mm, w*mm)
			j.Panels = append(j.Panels, parts.Panel{Name: name, Quantity: copies, Material: material, Outline: o, Edging: make([]string, len(o))})
		}
	}
	panel("side", "ply", n, 1000, 500)
	panel("back", "mdf", m, 600, 500)
	return j
}

func demandOf(t *testing.T, j *parts.Job) (*kerf.Demand, *nest.Problem) {
	t.Helper()
	d, list := kerf.Build(j, kerf.Saw)
	if err := list.Err(); err != nil {
		t.Fatal(err)
	}
	return d, nest.FromDemand(d)
}

// Every panel takes a sheet, so that all ways to buy can be tried: the plan costs the
// least of them, and is proved to.
func TestBuyingAsTryingAll(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 5))
	mixed, spared := 0, 0
	for n := range 12 {
		for m := range 5 {
			j := yards(n, m)
			j.Spare = rng.IntN(2)
			j.Yards[1].Sheets = []int{0, 4, 8}[rng.IntN(3)]
			j.Yards[0].Drop = money.Amount(rng.IntN(2)*15) * money.One
			if n+m == 0 {
				continue
			}
			d, p := demandOf(t, j)
			r, err := Plan(context.Background(), p, nest.Settings{Budget: 2})
			if err != nil {
				t.Fatal(err)
			}
			if err := check.Plan(p, r.Plan); err != nil {
				t.Fatal(err)
			}
			least := int64(math.MaxInt64)
			for a := range n + 1 {
				for b := range m + 1 {
					least = min(least, p.Bill([]int{a, n - a, b, m - b}))
				}
			}
			count := p.Count(r.Plan)
			got := p.Bill(count)
			if len(r.Plan.Unplaced) > 0 || got != least || r.Status != nest.Proved || r.Bound.Cost != least {
				t.Errorf("%d and %d: %v for %d, %d by trying all; status %v, bound %d", n, m, count, got, least, r.Status, r.Bound.Cost)
			}
			if count[0] > 0 && count[1] > 0 || count[2] > 0 && count[3] > 0 {
				mixed++
			}
			bill := nest.BillOf(d, count)
			for _, l := range bill.Lines {
				spared += l.Spare
			}
		}
	}
	if mixed == 0 || spared == 0 {
		t.Errorf("%d plans mix yards, %d sheets to spare: the test shows too little", mixed, spared)
	}
}

// Stock that is limited, missing or kept is respected, and what has no yard.
func TestBuyingLimits(t *testing.T) {
	j := yards(5, 0)
	j.Stock[1].Available = 3
	j.Stock = append(j.Stock, parts.Stock{Name: "kept", Material: "ply", Length: 1000 * mm, Width: 500 * mm, Available: 1, Offcut: true})
	_, p := demandOf(t, j)
	r, err := Plan(context.Background(), p, nest.Settings{Budget: 2})
	if err != nil {
		t.Fatal(err)
	}
	// One from the rack, four from near for 120; three from the mill would be 75 + 50.
	if got := fmt.Sprint(p.Count(r.Plan)); got != "[4 0 0 0 1]" {
		t.Errorf("%s, want four of the near yard and the kept one", got)
	}
	j.Stock[0].Available = 0
	_, p = demandOf(t, j)
	if r, err = Plan(context.Background(), p, nest.Settings{Budget: 2}); err != nil {
		t.Fatal(err)
	}
	if got := fmt.Sprint(p.Count(r.Plan)); got != "[0 3 0 0 1]" || r.Status != nest.Incomplete {
		t.Errorf("%s, %v: want all there are, and one without a place", got, r.Status)
	}
	j.Stock[0].Available, j.Stock[0].Yard = parts.Unlimited, ""
	_, p = demandOf(t, j)
	if r, err = Plan(context.Background(), p, nest.Settings{Budget: 2}); err != nil {
		t.Fatal(err)
	}
	if got := fmt.Sprint(p.Count(r.Plan)); got != "[4 0 0 0 1]" || r.Bound.Cost != int64(120*money.One) {
		t.Errorf("%s, bound %d: want what nobody brings", got, r.Bound.Cost)
	}
}

// Same plan whatever the workers; a context that has ended gives a plan at once.
func TestBuyingRepeats(t *testing.T) {
	_, p := demandOf(t, yards(7, 3))
	var first string
	for _, workers := range []int{1, 4} {
		r, err := Plan(context.Background(), p, nest.Settings{Seed: 3, Budget: 3, Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		if s := fmt.Sprint(r.Plan.Sheets); first == "" {
			first = s
		} else if s != first {
			t.Errorf("%d workers gave another plan", workers)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	start := time.Now()
	r, err := Plan(ctx, p, nest.Settings{Budget: -1})
	if err != nil || r.Plan.Placed() != 10 {
		t.Fatalf("%v, %v", r, err)
	}
	if d := time.Since(start); d > 5*time.Second {
		t.Errorf("took %v", d)
	}
}
