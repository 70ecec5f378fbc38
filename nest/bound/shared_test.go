package bound

import (
	"context"
	"math/rand/v2"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// halve replaces a rectangle by two right triangles that share it as their blank, Apart
// from each other: with legs l and w in a blank of l+x by w+y their long edges are
// (w x + l y)/sqrt(l^2+w^2) apart. Their own blanks are their boxes.
func halve(p *nest.Problem, i int) {
	q := &p.Parts[i]
	l, w := q.Blank.X-p.Apart, q.Blank.Y-p.Apart // more than enough
	if l < 20*mm || w < 20*mm {
		return
	}
	q.Shape.Outer = geom.Ring{{}, {X: l}, {Y: w}}
	q.Blank = geom.Pt(l, w)
	q.Copies *= 2
}

// No bound exceeds a plan that is known, in which some blanks are those of two
// triangles, without waste but for the kerf and what lies between the triangles.
func TestNeverAboveAPlanWithSharedBlanks(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 4))
	stronger, tight, shared := 0, 0, 0
	const n = 1000
	for i := range n {
		p, sheets, cost := dissect(rng)
		p.Apart = max(p.Kerf, length.Length(1+rng.IntN(12))*mm/4)
		for k := range p.Parts {
			if rng.IntN(2) == 0 {
				halve(p, k)
				shared += p.Parts[k].Copies - 1
			}
		}
		b := Of(context.Background(), p)
		if b.Sheets > sheets || b.Cost > cost {
			t.Fatalf("instance %d: bound %d sheets, cost %d by %q; a plan has %d, %d", i, b.Sheets, b.Cost, b.Method, sheets, cost)
		}
		if b.Method == dualFeasible.String() {
			stronger++
		}
		if b.Sheets == sheets {
			tight++
		}
	}
	t.Logf("%d of %d proved the number of sheets, %d by dual feasible functions; %d shared blanks", tight, n, stronger, shared)
	if stronger == 0 || tight == 0 || shared < n {
		t.Error("too few to show anything")
	}
}

// Two triangles of half a sheet each, less what lies between them, fit one sheet when
// they may share a blank, and two otherwise. Panels larger than half a sheet count
// half: four of them take two sheets. One alone has nobody to share with.
func TestSharingByHand(t *testing.T) {
	triangle := func(copies int, l, w length.Length) nest.Part {
		q := part(copies, l, w, parts.AlongLength)
		q.Shape.Outer = geom.Ring{{}, {X: l}, {Y: w}}
		return q
	}
	for _, c := range []struct {
		name   string
		apart  length.Length
		parts  []nest.Part
		sheets int
	}{
		{"two that share", 12 * mm, []nest.Part{triangle(2, 980*mm, 480*mm)}, 1},
		{"two that do not", 0, []nest.Part{triangle(2, 980*mm, 480*mm)}, 2},
		{"four that share", 12 * mm, []nest.Part{triangle(4, 700*mm, 300*mm)}, 2},
		{"one and a large rectangle", 12 * mm, []nest.Part{triangle(1, 700*mm, 300*mm), part(1, 700*mm, 300*mm, parts.AlongLength)}, 2},
		{"rectangles never share", 12 * mm, []nest.Part{part(4, 700*mm, 300*mm, parts.AlongLength)}, 4},
	} {
		p := &nest.Problem{
			Cut: kerf.Saw, Kerf: 4 * mm, Gap: 4 * mm, Apart: c.apart, Parts: c.parts,
			Stocks: []nest.Stock{stock(1000*mm, 500*mm, 0, 10, parts.Unlimited)},
		}
		if b := Of(context.Background(), p); b.Sheets != c.sheets {
			t.Errorf("%s: %+v, want %d sheets", c.name, b, c.sheets)
		}
	}
}
