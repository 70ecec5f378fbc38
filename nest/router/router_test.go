package router

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/check"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

const mm = length.Millimetre

func part(name string, copies int, shape geom.Polygon) nest.Part {
	d := shape.Box().Min.Neg()
	shape = shape.Translate(d)
	return nest.Part{Name: name, Material: "ply", Copies: copies, Shape: shape, Blank: shape.Box().Size()}
}

func rect(l, w length.Length) geom.Polygon {
	return geom.Polygon{Outer: geom.BoxFromSize(geom.Point{}, geom.Pt(l, w)).Ring()}
}

// ell is an L of a size with legs of a thickness.
func ell(l, w, t length.Length) geom.Polygon {
	return geom.Polygon{Outer: geom.Ring{{}, {X: l}, {X: l, Y: t}, {X: t, Y: t}, {X: t, Y: w}, {Y: w}}}
}

// frame is a rectangle with a rectangular hole.
func frame(l, w, web length.Length) geom.Polygon {
	p := rect(l, w)
	hole := geom.Box{Min: geom.Pt(web, web), Max: geom.Pt(l-web, w-web)}.Ring()
	p.Holes = []geom.Ring{hole.Reversed()}
	return p
}

// bow is a rectangle with a concave top: many vertices.
func bow(l, w, rise length.Length) geom.Polygon {
	o := outline.Rectangle(l, w)
	b, _ := outline.BulgeFromRise(o[2].At, o[3].At, rise)
	o[2].Bulge = -b
	return geom.Polygon{Outer: o.Cover(mm / 10)}
}

func stock(name string, l, w length.Length, cost int64, available int) nest.Stock {
	size := geom.Pt(l, w)
	return nest.Stock{
		Name: name, Material: "ply", Size: size, Usable: geom.BoxFromSize(geom.Point{}, size).Inset(10*mm, 10*mm, 10*mm, 10*mm),
		Cost: cost, Available: available,
	}
}

func solve(t testing.TB, p *nest.Problem, set nest.Settings) *nest.Plan {
	t.Helper()
	plan, _, err := New().Solve(context.Background(), p, set)
	if err != nil {
		t.Fatal(err)
	}
	if err := check.Plan(p, plan); err != nil {
		t.Fatalf("refused by the judge: %v", err)
	}
	return plan
}

func random(rng *rand.Rand) *nest.Problem {
	p := &nest.Problem{Cut: kerf.Router, Keep: parts.KeepRule{Short: 100 * mm, Long: 400 * mm}}
	p.Kerf = length.Length(rng.IntN(3)) * 3 * mm
	p.Gap = p.Kerf
	if rng.IntN(2) == 0 {
		p.Gap += 501 * length.Micrometre
	}
	axes := []parts.Axis{parts.NoAxis, parts.AlongLength, parts.AlongWidth}
	for i := range rng.IntN(9) {
		l, w := length.Length(100+rng.IntN(900))*mm, length.Length(100+rng.IntN(500))*mm
		shapes := []geom.Polygon{
			rect(l, w), ell(l, w, min(l, w)/3), frame(l, w, min(l, w)/5), bow(l, w, w/3),
			{Outer: outline.Circle(w).Cover(mm / 10)},
			{Outer: geom.Ring{{}, {X: l}, {X: l / 3, Y: w}}},
		}
		q := part(fmt.Sprint("part ", i), 1+rng.IntN(3), shapes[rng.IntN(len(shapes))])
		q.Grain, q.CanFlip = axes[rng.IntN(3)], rng.IntN(3) == 0
		if rng.IntN(6) == 0 {
			q.Turns = []int{0, 37, 90, 211}
		}
		p.Parts = append(p.Parts, q)
	}
	for i := range 1 + rng.IntN(3) {
		available := parts.Unlimited
		if rng.IntN(3) == 0 {
			available = rng.IntN(3)
		}
		s := stock(fmt.Sprint("stock ", i), length.Length(600+rng.IntN(2000))*mm, length.Length(400+rng.IntN(900))*mm, int64(rng.IntN(90)), available)
		s.Grain = axes[rng.IntN(3)]
		p.Stocks = append(p.Stocks, s)
	}
	return p
}

func TestRandomJudged(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 60 {
		p := random(rng)
		plan := solve(t, p, nest.Settings{Seed: 5, Budget: 15})
		for _, u := range plan.Unplaced {
			if u.Reason != "stock ran out" && u.Reason != "fits no sheet" {
				t.Fatalf("reason %q", u.Reason)
			}
		}
	}
}

// Small panels go into the openings of a large one.
func TestInsideHole(t *testing.T) {
	p := &nest.Problem{
		Cut: kerf.Router, Kerf: 6 * mm, Gap: 6 * mm,
		Parts:  []nest.Part{part("frame", 1, frame(980*mm, 580*mm, 60*mm)), part("lid", 2, rect(300*mm, 300*mm))},
		Stocks: []nest.Stock{stock("sheet", 1000*mm, 600*mm, 1, parts.Unlimited)},
	}
	if n := len(solve(t, p, nest.Settings{Budget: 20}).Sheets); n != 1 {
		t.Errorf("%d sheets, want 1: both lids fit into the frame", n)
	}
}

// Two congruent right triangles make a rectangle, exactly.
func TestTouching(t *testing.T) {
	tri := geom.Polygon{Outer: geom.Ring{{}, {X: 600 * mm}, {Y: 400 * mm}}}
	p := &nest.Problem{
		Cut: kerf.Router, Parts: []nest.Part{part("half", 2, tri)},
		Stocks: []nest.Stock{{Name: "s", Material: "ply", Size: geom.Pt(600*mm, 400*mm), Usable: geom.BoxFromSize(geom.Point{}, geom.Pt(600*mm, 400*mm)), Cost: 1, Available: parts.Unlimited}},
	}
	if n := len(solve(t, p, nest.Settings{Budget: 60}).Sheets); n != 1 {
		t.Errorf("%d sheets, want 1", n)
	}
}

func TestCheapestMix(t *testing.T) {
	p := &nest.Problem{
		Cut: kerf.Router, Kerf: 6 * mm, Gap: 6 * mm,
		Parts: []nest.Part{part("panel", 3, bow(1100*mm, 500*mm, 40*mm))},
		Stocks: []nest.Stock{
			stock("whole", 2440*mm, 1220*mm, 100, parts.Unlimited), stock("half", 1220*mm, 1220*mm, 55, parts.Unlimited),
			stock("rack", 1200*mm, 530*mm, 0, 1),
		},
	}
	plan := solve(t, p, nest.Settings{})
	var cost int64
	for _, s := range plan.Sheets {
		cost += p.Stocks[s.Stock].Cost
	}
	if cost > 55 {
		t.Errorf("cost %d on %d sheets, want a half and the piece from the rack: 55", cost, len(plan.Sheets))
	}
}

func TestSameForAnyWorkers(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	for k := range 5 {
		p := random(rng)
		var first []byte
		budget := 25
		if k >= 3 {
			budget = 8 * 60 // enough for charts
		}
		if k == 4 {
			p.Strip = true
			p.Stocks = p.Stocks[:1]
			p.Stocks[0].Available = 1
		}
		for _, workers := range []int{1, 2, 5} {
			b, err := json.Marshal(solve(t, p, nest.Settings{Seed: 3, Budget: budget, Workers: workers}))
			if err != nil {
				t.Fatal(err)
			}
			if first == nil {
				first = b
			}
			if !bytes.Equal(first, b) {
				t.Errorf("%d workers gave another plan", workers)
			}
		}
	}
}

// The context ends the search promptly, and there is a plan in any case.
func TestEnds(t *testing.T) {
	p := random(rand.New(rand.NewPCG(4, 4)))
	for i := range p.Parts {
		p.Parts[i].Copies = 30
	}
	for _, d := range []time.Duration{0, 300 * time.Millisecond} {
		ctx, cancel := context.WithTimeout(context.Background(), d)
		start := time.Now()
		plan, _, err := New().Solve(ctx, p, nest.Settings{Budget: -1, Workers: 2})
		cancel()
		if err != nil {
			t.Fatal(err)
		}
		if err := check.Plan(p, plan); err != nil {
			t.Fatal(err)
		}
		if took := time.Since(start) - d; took > 3*time.Second {
			t.Errorf("a limit of %v was overrun by %v", d, took)
		}
	}
}

func TestRefuses(t *testing.T) {
	if _, _, err := New().Solve(context.Background(), &nest.Problem{Cut: kerf.Saw}, nest.Settings{}); !errors.Is(err, ErrNotRouter) {
		t.Errorf("a saw's problem gave %v", err)
	}
	flat := nest.Part{Name: "flat", Material: "ply", Copies: 1, Shape: geom.Polygon{Outer: geom.Ring{{}, {X: 10}, {X: 20}}}}
	if _, _, err := New().Solve(context.Background(), &nest.Problem{Cut: kerf.Router, Parts: []nest.Part{flat}}, nest.Settings{}); err == nil {
		t.Error("a shape without area was accepted")
	}
}

// star returns a random simple polygon around a point.
func star(rng *rand.Rand, n int, r length.Length) geom.Ring {
	var ring geom.Ring
	for k := range n {
		a := 2 * math.Pi * (float64(k) + 0.8*rng.Float64()) / float64(n)
		d := float64(r) * (0.2 + 0.8*rng.Float64())
		ring = append(ring, geom.Pt(length.Length(d*math.Cos(a)), length.Length(d*math.Sin(a))))
	}
	return ring
}

// Convex pieces are convex, cover the polygon exactly and do not overlap: their
// areas sum to its area, and points agree.
func TestConvexPieces(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 3))
	failed := 0
	const n = 400
	for range n {
		p := geom.Polygon{Outer: star(rng, 3+rng.IntN(40), 500*mm)}
		if p.Outer.Area2() <= 0 {
			continue
		}
		if rng.IntN(2) == 0 {
			for k := range 1 + rng.IntN(3) {
				h := star(rng, 3+rng.IntN(6), 20*mm).Translate(geom.Pt(length.Length(k)*45*mm-45*mm, 0))
				inside := true
				for _, q := range h {
					inside = inside && p.Outer.Locate(q) == geom.Inside
				}
				if inside && h.Area2() > 0 {
					p.Holes = append(p.Holes, h.Reversed())
				}
			}
		}
		pieces, ok := convexPieces(p)
		if !ok {
			failed++
			continue
		}
		sum := int64(0)
		for _, q := range pieces {
			if !isConvex(q) || q.Area2() <= 0 {
				t.Fatalf("%v is not convex", q)
			}
			sum += q.Area2()
		}
		if sum != p.Area2() {
			t.Fatalf("pieces %d, polygon %d", sum, p.Area2())
		}
		for range 30 {
			q := geom.Pt(length.Length(rng.Int64N(int64(1000*mm)))-500*mm, length.Length(rng.Int64N(int64(1000*mm)))-500*mm)
			in := p.Outer.Locate(q) == geom.Inside
			for _, h := range p.Holes {
				in = in && h.Locate(q) == geom.Outside
			}
			found := false
			for _, r := range pieces {
				found = found || r.Locate(q) != geom.Outside
			}
			if in && !found {
				t.Fatalf("%v is in the polygon and in no piece", q)
			}
		}
	}
	if failed > n/50 {
		t.Errorf("%d of %d polygons could not be cut", failed, n)
	}
}

// A simplified polygon contains the polygon, has its box, and stays within the
// tolerance.
func TestSimplify(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	fewer := 0
	for i := range 200 {
		p := bow(600*mm, 400*mm, length.Length(1+rng.IntN(300))*mm)
		if i%3 == 0 {
			p = geom.Polygon{Outer: outline.Circle(length.Length(50+rng.IntN(900)) * mm).Cover(mm / 10)}
		}
		if i%3 == 1 {
			p = frame(600*mm, 400*mm, 100*mm)
			p.Holes = []geom.Ring{outline.Circle(length.Length(50+rng.IntN(120)) * mm).Translate(geom.Pt(200*mm, 120*mm)).Core(mm / 10)}
		}
		const tolerance = mm / 4
		q := simplify(p, tolerance)
		if q.Box() != p.Box() {
			t.Fatalf("box %v became %v", p.Box(), q.Box())
		}
		for _, v := range p.Outer {
			if q.Outer.Locate(v) == geom.Outside {
				t.Fatalf("%v is outside the simplified outline", v)
			}
		}
		if grown := float64(q.Area2()-p.Area2()) / 2; grown < 0 || grown > float64(tolerance)*4000*float64(mm) {
			t.Fatalf("area grew by %.3f mm2", grown/float64(mm)/float64(mm))
		}
		for k, h := range q.Holes {
			for _, v := range h {
				if p.Holes[k].Locate(v) == geom.Outside {
					t.Fatalf("%v of the simplified hole is outside the hole", v)
				}
			}
		}
		if len(q.Outer) < len(p.Outer) {
			fewer++
		}
	}
	if fewer < 50 {
		t.Errorf("only %d of 200 became simpler", fewer)
	}
}

// The depth of a pair is 0 exactly when the shapes do not meet: compared with the
// judge, who shares no code with it, on random places of two shapes.
func TestPairAgainstJudge(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 7))
	charted, edges := 0, 0
	for range 150 {
		gap := length.Length(rng.IntN(2)) * 20 * mm
		a, b := geom.Polygon{Outer: star(rng, 3+rng.IntN(9), 100*mm)}, geom.Polygon{Outer: star(rng, 3+rng.IntN(9), 100*mm)}
		if a.Area2() <= 0 || b.Area2() <= 0 {
			continue
		}
		p := &nest.Problem{Cut: kerf.Router, Gap: gap, Kerf: 0, Parts: []nest.Part{part("a", 1, a), part("b", 1, b)}}
		size := geom.Pt(1000*mm, 1000*mm)
		p.Stocks = []nest.Stock{{Name: "s", Material: "ply", Size: size, Usable: geom.Box{Max: size}, Available: 1}}
		sh, err := newShop(p, "ply", fine, -1)
		if err != nil {
			t.Fatal(err)
		}
		x, y := sh.kinds[0].ways[0][0], sh.kinds[1].ways[0][0]
		if x.turn != 0 || y.turn != 0 {
			t.Fatal("the first way is not the untouched one")
		}
		// Where the shapes touch, the table still tells a unit's overlap from none.
		if c := sh.pair(x, y).charted(); c != nil {
			for _, v := range c.ends {
				if sh.meets(x, y, v) {
					t.Fatalf("gap %v: a corner of the boundary, %v, is inside", gap, v)
				}
				d := geom.Pt(v.X+length.Length(rng.IntN(9)-4), v.Y+length.Length(rng.IntN(9)-4))
				if free := !sh.meets(x, y, d); free != (sh.depth(x, y, d) == 0) {
					t.Fatalf("gap %v, %v: free %v, but depth %g", gap, d, free, sh.depth(x, y, d))
				}
				edges++
			}
		}
		for range 40 {
			d := geom.Pt(length.Length(rng.Int64N(int64(500*mm)))-250*mm, length.Length(rng.Int64N(int64(500*mm)))-250*mm)
			base := geom.Pt(400*mm, 400*mm)
			plan := &nest.Plan{Sheets: []nest.Sheet{{Placements: []nest.Placement{{Part: 0, Copy: 1, At: base}, {Part: 1, Copy: 1, At: base.Add(d)}}}}}
			legal := check.Plan(p, plan) == nil
			free := !sh.meets(x, y, d)
			if free && !legal {
				t.Fatalf("gap %v, %v: the pair sees no overlap, the judge does", gap, d)
			}
			if legal && !free && sh.pair(x, y).depth(d) > 0.03*float64(gap)+0.002*float64(200*mm) {
				t.Fatalf("gap %v, %v: legal, but %.0f units deep", gap, d, sh.pair(x, y).depth(d))
			}
			// Both measures are 0 exactly where there is no overlap, and a push leads out.
			if (sh.pair(x, y).depth(d) == 0) != free || (sh.depth(x, y, d) == 0) != free {
				t.Fatalf("gap %v, %v: free %v, depths %g and %g", gap, d, free, sh.pair(x, y).depth(d), sh.depth(x, y, d))
			}
			if free {
				continue
			}
			charted++
			vx, vy := sh.push(x, y, d)
			deep := math.Hypot(vx, vy)
			if got := sh.depth(x, y, d); math.Abs(got-deep) > 0.03*float64(300*mm) {
				t.Fatalf("depth %.0f, but the way out is %.0f long", got, deep)
			}
			out := geom.Pt(d.X+length.Length(math.Round(vx*(1+3/deep))), d.Y+length.Length(math.Round(vy*(1+3/deep))))
			if sh.meets(x, y, out) && sh.depth(x, y, out) > 5 {
				t.Fatalf("pushed by %.0f, %.0f and still %.0f deep", vx, vy, sh.depth(x, y, out))
			}
			// No way out is shorter: all around at a little less than the depth the shapes meet.
			for k := range 16 {
				sin, cos := math.Sincos(float64(k) * math.Pi / 8)
				in := geom.Pt(d.X+length.Length((deep-3)*cos), d.Y+length.Length((deep-3)*sin))
				if deep > 10 && !sh.meets(x, y, in) {
					t.Fatalf("a way out of %.0f is shorter than %.0f", deep-3, deep)
				}
			}
		}
	}
	if charted < 1000 || edges < 1000 {
		t.Errorf("only %d overlaps and %d touching places were looked at", charted, edges)
	}
}
