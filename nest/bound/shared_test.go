package bound

import (
	"context"
	"math/rand/v2"
	"slices"
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
	const n = 150
	for i := range n {
		p, mix, cost := dissect(rng)
		sheets := sum(mix)
		p.Apart = max(p.Kerf, length.Length(1+rng.IntN(12))*mm/4)
		for k := range p.Parts {
			if rng.IntN(2) == 0 {
				halve(p, k)
				shared += p.Parts[k].Copies - 1
			}
		}
		b, _ := studied(context.Background(), p, 8, someWork)
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

// Two that leave no room for each other are seen as such, so that their blanks count in
// full: a left and a right that may not be turned against each other, as sides of a
// kiosk with a curved front; two lefts that may be turned half around do share.
func TestCouldShare(t *testing.T) {
	side := func(copies int) nest.Part {
		q := part(copies, 1450*mm, 480*mm, parts.AlongLength)
		q.Shape.Outer = geom.Ring{{}, {X: 1450 * mm}, {X: 1450 * mm, Y: 230 * mm}, {X: 1010 * mm, Y: 250 * mm}, {X: 760 * mm, Y: 480 * mm}, {Y: 480 * mm}}
		return q
	}
	right := side(1)
	right.Shape = right.Shape.Flipped()
	right.Shape = right.Shape.Translate(right.Shape.Box().Min.Neg())
	for _, c := range []struct {
		name  string
		parts []nest.Part
		want  []bool
	}{
		{"left and right", []nest.Part{side(1), right}, []bool{false, false}},
		{"two lefts", []nest.Part{side(2), right}, []bool{true, false}},
		{"one", []nest.Part{side(1)}, []bool{false}},
		{"a large and a small one", []nest.Part{side(1), {
			Material: "ply", Copies: 3, Blank: geom.Pt(100*mm, 100*mm), Grain: parts.AlongLength,
			Shape: geom.Polygon{Outer: geom.Ring{{}, {X: 100 * mm}, {Y: 100 * mm}}},
		}}, []bool{false, true}},
	} {
		p := &nest.Problem{Cut: kerf.Saw, Kerf: 4 * mm, Gap: 4 * mm, Apart: 12 * mm, Parts: c.parts, Stocks: []nest.Stock{stock(2440*mm, 1220*mm, 5*mm, 10, parts.Unlimited)}}
		if got := sharers(context.Background(), p, "ply"); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// What is called filled lies in the shape: points of the rectangles do, for shapes with
// curves and holes; and they fill most of it.
func TestFilled(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 9))
	for i := range 60 {
		s := geom.Polygon{Outer: wheel(rng, i%2 == 0)}
		if i%3 == 0 {
			s.Holes = []geom.Ring{{geom.Pt(950, 950), geom.Pt(950, 1050), geom.Pt(1050, 1050), geom.Pt(1050, 950)}}
		}
		area := 0.0
		for _, b := range filled(s) {
			area += area2(b.Size())
			for range 20 {
				q := geom.Pt(b.Min.X+length.Length(rng.Int64N(int64(b.Dx())+1)), b.Min.Y+length.Length(rng.Int64N(int64(b.Dy())+1)))
				if s.Outer.Locate(q) == geom.Outside || len(s.Holes) > 0 && s.Holes[0].Locate(q) == geom.Inside {
					t.Fatalf("%v of %v is not in the shape %v", q, b, s)
				}
			}
		}
		if whole := float64(s.Area2()) / 2; area > whole || area < 0.6*whole {
			t.Errorf("%.0f of %.0f is filled", area, whole)
		}
	}
}
