package router

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"testing"
	"time"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/check"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// wave is a disc with a wavy edge of n corners.
func wave(n int, r length.Length) geom.Polygon {
	var ring geom.Ring
	for k := range n {
		a := 2 * math.Pi * float64(k) / float64(n)
		d := float64(r) * (1 + 0.05*math.Sin(40*a))
		ring = append(ring, geom.Pt(length.Length(d*math.Cos(a)), length.Length(d*math.Sin(a))))
	}
	return geom.Polygon{Outer: ring}
}

// Outlines at the edge of what an outline may be are planned, and judged.
func TestOddShapes(t *testing.T) {
	plate := rect(400*mm, 300*mm)
	inner := func(x0, y0, x1, y1 length.Length) geom.Ring {
		return geom.Box{Min: geom.Pt(x0, y0), Max: geom.Pt(x1, y1)}.Ring().Reversed()
	}
	straight := geom.Polygon{Outer: geom.Ring{{}, {X: 100 * mm}, {X: 200 * mm}, {X: 400 * mm}, {X: 400 * mm, Y: 100 * mm}, {X: 400 * mm, Y: 300 * mm}, {X: 200 * mm, Y: 300 * mm}, {Y: 300 * mm}, {Y: 200 * mm}}}
	var many geom.Ring
	for k := range 5000 {
		many = append(many, geom.Pt(length.Length(k)*100, 0))
	}
	for k := range 5000 {
		many = append(many, geom.Pt(500_000-length.Length(k)*100, 200*mm))
	}
	holes := plate
	for x := range 10 {
		for y := range 8 {
			o := geom.Pt(length.Length(10+38*x)*mm, length.Length(10+35*y)*mm)
			holes.Holes = append(holes.Holes, inner(o.X, o.Y, o.X+20*mm, o.Y+20*mm))
		}
	}
	for _, c := range []struct {
		name  string
		shape geom.Polygon
	}{
		{"corners in a line", straight},
		{"10,000 corners in two lines", geom.Polygon{Outer: many}},
		{"10,000 corners in a wave", wave(10_000, 150*mm)},
		{"sliver", geom.Polygon{Outer: geom.Ring{{}, {X: 400 * mm}, {X: 400 * mm, Y: mm / 50}}}},
		{"sliver of a unit", geom.Polygon{Outer: geom.Ring{{}, {X: 400 * mm}, {X: 400 * mm, Y: 1}}}},
		{"web of a unit", geom.Polygon{Outer: plate.Outer, Holes: []geom.Ring{inner(1, 1, 400*mm-1, 300*mm-1)}}},
		{"hole that touches an edge with a corner", geom.Polygon{Outer: plate.Outer, Holes: []geom.Ring{{{}, {X: 50 * mm, Y: 100 * mm}, {X: 100 * mm, Y: 50 * mm}}}}},
		{"hole that touches the outline along an edge", geom.Polygon{Outer: plate.Outer, Holes: []geom.Ring{inner(0, 100*mm, 100*mm, 200*mm)}}},
		{"holes that touch each other", geom.Polygon{Outer: plate.Outer, Holes: []geom.Ring{inner(50*mm, 50*mm, 100*mm, 100*mm), inner(100*mm, 100*mm, 150*mm, 150*mm)}}},
		{"80 holes", holes},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := &nest.Problem{Cut: kerf.Router, Gap: 6 * mm, Stocks: []nest.Stock{stock("sheet", 1220*mm, 800*mm, 1, parts.Unlimited)}}
			p.Parts = []nest.Part{part(c.name, 3, c.shape), part("ell", 3, ell(300*mm, 200*mm, 60*mm)), part("plate", 2, plate)}
			ctx, cancel := context.WithTimeout(context.Background(), 100*time.Millisecond)
			defer cancel()
			start := time.Now()
			plan, _, err := New().Solve(ctx, p, nest.Settings{Seed: 1, Budget: -1, Workers: 2})
			if err != nil {
				t.Fatal(err)
			}
			// Half a second is what it should be; the machine may be busy.
			if took := time.Since(start); took > 3*time.Second {
				t.Errorf("a limit of 0.1 s was overrun, it took %v", took)
			}
			if err := check.Plan(p, plan); err != nil {
				t.Fatal(err)
			}
			if plan.Placed() != 8 {
				t.Errorf("%d of 8 panels are placed", plan.Placed())
			}
		})
	}
}

// 500 different shapes stay within 2 GiB, and the search ends soon after its limit.
func TestManyShapes(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	rng := rand.New(rand.NewPCG(9, 9))
	p := &nest.Problem{Cut: kerf.Router, Gap: 6 * mm, Stocks: []nest.Stock{stock("sheet", 2440*mm, 1220*mm, 1, parts.Unlimited)}}
	for k := range 500 {
		p.Parts = append(p.Parts, part(fmt.Sprint(k), 1, geom.Polygon{Outer: star(rng, 6+rng.IntN(40), length.Length(50+rng.IntN(150))*mm)}))
	}
	const limit = 2 * time.Second
	ctx, cancel := context.WithTimeout(context.Background(), limit)
	defer cancel()
	done := make(chan uint64)
	stop := make(chan struct{})
	go func() {
		var most uint64
		for {
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			most = max(most, m.HeapInuse)
			select {
			case <-stop:
				done <- most
				return
			case <-time.After(50 * time.Millisecond):
			}
		}
	}()
	start := time.Now()
	plan, _, err := New().Solve(ctx, p, nest.Settings{Seed: 1, Budget: -1, Workers: 2})
	took := time.Since(start)
	close(stop)
	most := <-done
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%v, %d MiB, %d sheets", took, most>>20, len(plan.Sheets))
	if most > 2<<30 {
		t.Errorf("%d MiB of memory", most>>20)
	}
	if err := check.Plan(p, plan); err != nil {
		t.Fatal(err)
	}
	// A few hundredths of a second on an idle machine; this one may be busy.
	if over := took - limit; over > 2*time.Second {
		t.Errorf("the limit was overrun by %v", over)
	}
}
