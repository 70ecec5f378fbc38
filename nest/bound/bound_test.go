package bound

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

const mm = length.Millimetre

func part(copies int, l, w length.Length, grain parts.Axis) nest.Part {
	size := geom.Pt(l, w)
	return nest.Part{Material: "ply", Copies: copies, Blank: size, Grain: grain, Shape: geom.Polygon{Outer: geom.BoxFromSize(geom.Point{}, size).Ring()}}
}

func stock(l, w, trim length.Length, cost int64, available int) nest.Stock {
	size := geom.Pt(l, w)
	return nest.Stock{
		Material: "ply", Size: size, Usable: geom.BoxFromSize(geom.Point{}, size).Inset(trim, trim, trim, trim),
		Grain: parts.AlongLength, Cost: cost, Available: available,
	}
}

func TestByHand(t *testing.T) {
	const g, any = parts.AlongLength, parts.NoAxis
	const k = 3200 * length.Micrometre
	for _, c := range []struct {
		name   string
		parts  []nest.Part
		stocks []nest.Stock
		sheets int
		cost   int64
	}{
		// Grid counts: n = floor((S+k)/(p+k)), computed.
		{"seven strips of 400 in 2440", []nest.Part{part(7, 400*mm, 1220*mm, g)}, []nest.Stock{stock(2440*mm, 1220*mm, 0, 90, parts.Unlimited)}, 2, 180},
		{"six strips of 400 in 2440", []nest.Part{part(6, 400*mm, 1220*mm, g)}, []nest.Stock{stock(2440*mm, 1220*mm, 0, 90, parts.Unlimited)}, 1, 90},
		{"twelve of 200 after 5 mm trim", []nest.Part{part(12, 200*mm, 1210*mm, g)}, []nest.Stock{stock(2440*mm, 1220*mm, 5*mm, 90, parts.Unlimited)}, 2, 180},
		// Each is wider and longer than half the sheet: one a sheet, though four
		// have less than twice the area.
		{"four large panels", []nest.Part{part(4, 1300*mm, 620*mm, g)}, []nest.Stock{stock(2440*mm, 1220*mm, 0, 90, parts.Unlimited)}, 4, 360},
		{"large panels that may turn", []nest.Part{part(3, 1300*mm, 1250*mm, any)}, []nest.Stock{stock(1525*mm, 1525*mm, 0, 70, parts.Unlimited)}, 3, 210},
		// The half is cheaper for one of them, and only one fits it.
		{"cheapest mix", []nest.Part{part(3, 1100*mm, 500*mm, g)}, []nest.Stock{stock(2440*mm, 1220*mm, 5*mm, 100, parts.Unlimited), stock(1220*mm, 1220*mm, 5*mm, 55, parts.Unlimited)}, 1, 100},
		{"rack first", []nest.Part{part(1, 1100*mm, 500*mm, g)}, []nest.Stock{stock(2440*mm, 1220*mm, 5*mm, 100, parts.Unlimited), stock(1200*mm, 600*mm, 0, 0, 1)}, 1, 0},
		{"stock that is not enough proves nothing", []nest.Part{part(9, 2000*mm, 1000*mm, g)}, []nest.Stock{stock(2440*mm, 1220*mm, 5*mm, 100, 2)}, 0, 0},
		{"functions see that the stock is not enough", []nest.Part{part(2, 1300*mm, 620*mm, g)}, []nest.Stock{stock(2440*mm, 1220*mm, 0, 100, 1)}, 0, 0},
		{"nothing", nil, []nest.Stock{stock(2440*mm, 1220*mm, 5*mm, 100, 2)}, 0, 0},
		{"a panel that fits no sheet is left out", []nest.Part{part(1, 3000*mm, 500*mm, g), part(1, 300*mm, 500*mm, g)}, []nest.Stock{stock(2440*mm, 1220*mm, 5*mm, 100, parts.Unlimited)}, 1, 100},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := Of(context.Background(), &nest.Problem{Cut: kerf.Saw, Kerf: k, Gap: k, Parts: c.parts, Stocks: c.stocks})
			if b.Sheets != c.sheets || b.Cost != c.cost {
				t.Errorf("%d sheets, cost %d (%s); want %d, %d", b.Sheets, b.Cost, b.Method, c.sheets, c.cost)
			}
		})
	}
}

// dissect cuts sheets of several sizes at random into panels, so that a plan is
// known, and returns the problem with the sheets of each stock and the cost of that plan.
func dissect(rng *rand.Rand) (p *nest.Problem, mix []int, cost int64) {
	k := length.Length(rng.IntN(3)) * 1600 * length.Micrometre
	p = &nest.Problem{Cut: kerf.Saw, Kerf: k, Gap: k}
	for range 1 + rng.IntN(4) {
		available := parts.Unlimited
		if rng.IntN(3) == 0 {
			available = 1 + rng.IntN(3)
		}
		p.Stocks = append(p.Stocks, stock(length.Length(400+rng.IntN(2100))*mm, length.Length(300+rng.IntN(1200))*mm,
			length.Length(rng.IntN(2))*5*mm, int64(rng.IntN(100)), available))
	}
	var cut func(w, h length.Length, depth int)
	cut = func(w, h length.Length, depth int) {
		if rng.IntN(10) == 0 {
			return // waste
		}
		least := 60*mm + k
		if depth == 0 || max(w, h) < 2*least {
			grain := parts.AlongLength
			if rng.IntN(2) == 0 {
				grain = parts.NoAxis
				if rng.IntN(2) == 0 {
					w, h = h, w
				}
			}
			p.Parts = append(p.Parts, part(1, w, h, grain))
			return
		}
		if (rng.IntN(2) == 0 || h < 2*least) && w >= 2*least {
			a := least + length.Length(rng.Int64N(int64(w-2*least)+1))
			cut(a, h, depth-1)
			cut(w-a-k, h, depth-1)
		} else {
			a := least + length.Length(rng.Int64N(int64(h-2*least)+1))
			cut(w, a, depth-1)
			cut(w, h-a-k, depth-1)
		}
	}
	depth := rng.IntN(5)
	for j := range p.Stocks {
		st := &p.Stocks[j]
		n := rng.IntN(4)
		if st.Available != parts.Unlimited {
			n = min(n, st.Available)
		}
		mix = append(mix, n)
		for range n {
			cost += st.Cost
			cut(st.Usable.Dx(), st.Usable.Dy(), depth)
		}
	}
	return p, mix, cost
}

// sum returns the number of sheets of a mix.
func sum(mix []int) int {
	n := 0
	for _, k := range mix {
		n += k
	}
	return n
}

// someWork is for tests that bound many problems: rasters are coarser, and rounding
// shows more.
const someWork = 1_000_000

// No bound exceeds a plan that is known.
func TestNeverAboveAPlan(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 4))
	stronger, tight, mixed := 0, 0, 0
	const n = 1500
	for i := range n {
		p, mix, cost := dissect(rng)
		sheets := sum(mix)
		b, limits := studied(context.Background(), p, 8, someWork)
		if list := limits[p.Stocks[0].Material].Mixes; len(list) > 0 {
			mixed++
			last := priceOf(p, list[len(list)-1])
			if cost < last && !slices.ContainsFunc(list, func(m []int) bool { return slices.Equal(m, mix) }) {
				t.Fatalf("instance %d: the plan of %v for %d is not among the mixes up to %d: %v", i, mix, cost, last, list)
			}
		}
		if b.Sheets > sheets || b.Cost > cost {
			t.Fatalf("instance %d: bound %d sheets, cost %d by %q; a plan has %d, %d", i, b.Sheets, b.Cost, b.Method, sheets, cost)
		}
		if b.Method == dualFeasible.String() {
			stronger++
		}
		if b.Sheets == sheets {
			tight++
		}
		// The same rectangles for the router, at most as far apart.
		p.Cut = kerf.Router
		if r := Of(context.Background(), p); r.Sheets > sheets || r.Cost > cost {
			t.Fatalf("instance %d, router: bound %d sheets, cost %d; a plan has %d, %d", i, r.Sheets, r.Cost, sheets, cost)
		}
	}
	t.Logf("%d of %d proved the number of sheets, %d by dual feasible functions", tight, n, stronger)
	if stronger == 0 || tight == 0 || mixed < n/3 {
		t.Errorf("the functions never gave the bound, or only %d had mixes", mixed)
	}
}

// Each function is what it claims: no row of lengths is worth more than the
// length it takes up.
func TestFunctionsSuperadditive(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 2))
	for range 3000 {
		whole := length.Length(100 + rng.IntN(1000))
		var some []length.Length
		for range 1 + rng.IntN(8) {
			some = append(some, 1+length.Length(rng.Int64N(int64(whole))))
		}
		for _, f := range family(some, whole) {
			if v := f.at(whole, whole); v < 1-1e-12 || v > 1+1e-12 {
				t.Fatalf("%+v: the whole is worth %v", f, v)
			}
			for range 20 {
				a := length.Length(rng.Int64N(int64(whole) + 1))
				b := length.Length(rng.Int64N(int64(whole-a) + 1))
				if f.at(a, whole)+f.at(b, whole) > f.at(a+b, whole)+1e-12 {
					t.Fatalf("%+v of %d: f(%d)+f(%d) = %v+%v > f(%d) = %v", f, whole, a, b, f.at(a, whole), f.at(b, whole), a+b, f.at(a+b, whole))
				}
			}
		}
	}
}

// leastCost against trying every mix.
func TestLeastCost(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	for range 2000 {
		var kinds []kind
		for range 1 + rng.IntN(3) {
			kinds = append(kinds, kind{float64(1 + rng.IntN(20)), int64(rng.IntN(30)), rng.IntN(5) - 1})
		}
		demand := float64(rng.IntN(60))
		best, reach := int64(-1), 0.0
		var try func(j int, left float64, cost int64)
		try = func(j int, left float64, cost int64) {
			if left <= 0 && (best < 0 || cost < best) {
				best = cost
			}
			if j == len(kinds) {
				return
			}
			most := kinds[j].available
			if most == parts.Unlimited {
				most = 60
			}
			for n := range most + 1 {
				try(j+1, left-float64(n)*kinds[j].capacity, cost+int64(n)*kinds[j].cost)
			}
		}
		try(0, demand, 0)
		for _, k := range kinds {
			if k.available == parts.Unlimited {
				reach += 1e9
			}
			reach += k.capacity * float64(max(k.available, 0))
		}
		if reach < demand {
			continue // the caller does not ask
		}
		if got := leastCost(demand, kinds); got != best {
			t.Fatalf("%v of %v: %d, trying all gives %d", demand, kinds, got, best)
		}
	}
}

// thousand returns a job of 1,000 kinds of panels on five kinds of sheets.
func thousand() *nest.Problem {
	rng := rand.New(rand.NewPCG(4, 4))
	p := &nest.Problem{Cut: kerf.Saw, Kerf: 3 * mm, Gap: 3 * mm}
	for range 1000 {
		p.Parts = append(p.Parts, part(1+rng.IntN(3), length.Length(50+rng.IntN(1100))*mm, length.Length(50+rng.IntN(1100))*mm, parts.NoAxis))
	}
	for i := range 5 {
		p.Stocks = append(p.Stocks, stock(length.Length(1220+300*i)*mm, length.Length(1220+10*i)*mm, 5*mm, int64(400_007+110_301*i), parts.Unlimited))
	}
	return p
}

// The job takes 30 ms where it was measured; the limit leaves room for a busy
// machine, and still shows a step that grew with the square of the panels.
func TestFast(t *testing.T) {
	p := thousand()
	start := time.Now()
	b := Of(context.Background(), p)
	if d := time.Since(start); d > time.Second {
		t.Errorf("1,000 kinds of panels took %v", d)
	}
	if b.Sheets == 0 || b.Cost == 0 {
		t.Errorf("no bound: %+v", b)
	}
}

func BenchmarkThousand(b *testing.B) {
	p := thousand()
	for b.Loop() {
		Of(context.Background(), p)
	}
}

// Kinds of one capacity and cost are one, and what they cost stays the same.
func TestUnited(t *testing.T) {
	list := united(sorted([]kind{{4, 3, 2}, {5, 3, 1}, {4, 3, 5}, {4, 2, 1}, {5, 3, parts.Unlimited}, {4, 2, 1}}))
	if want := []kind{{4, 2, 2}, {5, 3, parts.Unlimited}, {4, 3, 7}}; !slices.Equal(list, want) {
		t.Errorf("%v, want %v", list, want)
	}
}

// studied returns the bound with so much work, and what is known by material.
func studied(ctx context.Context, p *nest.Problem, above int64, work int) (nest.Bound, Known) {
	known := study(ctx, p, Wishes{Effort: Usual, Above: above, Most: mostMixes}, work)
	return known.Bound(), known
}
