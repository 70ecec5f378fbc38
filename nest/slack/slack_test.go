package slack

import (
	"context"
	"math/rand/v2"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/check"
	"panelyard/nest/choose"
	"panelyard/nest/order"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

const mm = length.Millimetre

func rectangle(name string, copies int, l, w length.Length) nest.Part {
	size := geom.Pt(l*mm, w*mm)
	return nest.Part{
		Name: name, Material: "ply", Copies: copies, Blank: size,
		Shape: geom.Polygon{Outer: geom.BoxFromSize(geom.Point{}, size).Ring()},
	}
}

// sheet returns a problem of one kind of sheet with a kerf of 4.
func sheet(cut kerf.Cut, l, w, trim length.Length, list ...nest.Part) *nest.Problem {
	size := geom.Pt(l*mm, w*mm)
	return &nest.Problem{
		Cut: cut, Kerf: 4 * mm, Gap: 4 * mm, Parts: list,
		Stocks: []nest.Stock{{
			Name: "sheet", Material: "ply", Size: size, Available: parts.Unlimited, Cost: 1,
			Usable: geom.BoxFromSize(geom.Point{}, size).Inset(trim*mm, trim*mm, trim*mm, trim*mm),
		}},
	}
}

// Solved by hand. Four panels of 1000 x 480, two by two, in the lower left corner of a
// sheet of 2200 x 1000 with 5 mm of trim: the panels and a kerf are 2004 x 964, the trims
// 10 on either axis. Of the usable 2190 x 990, 2 x 1000 and 2 x 480 leave 190 and 30 for
// the kerf.
func TestSawByHand(t *testing.T) {
	p := sheet(kerf.Saw, 2200, 1000, 5, rectangle("shelf", 4, 1000, 480))
	s := &nest.Sheet{}
	for i, at := range []geom.Point{geom.Pt(5, 5), geom.Pt(1009, 5), geom.Pt(5, 489), geom.Pt(1009, 489)} {
		s.Placements = append(s.Placements, nest.Placement{Copy: i + 1, At: geom.Pt(at.X*mm, at.Y*mm)})
	}
	if err := order.Sheet(p, s); err != nil {
		t.Fatal(err)
	}
	if err := check.Plan(p, &nest.Plan{Sheets: []nest.Sheet{*s}}); err != nil {
		t.Fatal(err)
	}
	r, err := Of(p, s)
	if err != nil {
		t.Fatal(err)
	}
	want := Room{Bare: geom.Pt(2004*mm, 964*mm), Least: geom.Pt(2014*mm, 974*mm), Widest: 30 * mm}
	if r != want {
		t.Errorf("%+v, want %+v", r, want)
	}
}

// A piece without a blank gives way, and its cut with it: one panel of 1000 x 480 alone
// needs itself, and any kerf will do.
func TestOnePanel(t *testing.T) {
	p := sheet(kerf.Saw, 2200, 1000, 0, rectangle("shelf", 1, 1000, 480))
	s := &nest.Sheet{Placements: []nest.Placement{{Copy: 1}}}
	if err := order.Sheet(p, s); err != nil {
		t.Fatal(err)
	}
	r, err := Of(p, s)
	if err != nil || r.Bare != geom.Pt(1000*mm, 480*mm) || r.Widest < 100*mm {
		t.Errorf("%+v, %v", r, err)
	}
}

// relaid puts a tree on a sheet with a kerf: the places of the blanks, by where they were.
func relaid(pc *piece, at geom.Point, k length.Length, to map[geom.Box]geom.Point) {
	switch {
	case pc == nil || !pc.holds:
	case !pc.cut:
		to[pc.box] = at
	default:
		relaid(pc.low, at, k, to)
		d := geom.Point{}
		if pc.between() {
			n := pc.low.need(k)
			d = geom.Pt(0, n.Y+k)
			if pc.upright {
				d = geom.Pt(n.X+k, 0)
			}
		}
		relaid(pc.high, at.Add(d), k, to)
	}
}

// What is said of a sheet is true of a plan that the judge accepts: the panels come out
// of the least sheet, and out of the sheet as it is with the widest kerf.
func TestJudged(t *testing.T) {
	tried := 0
	for seed := range uint64(6) {
		rng := rand.New(rand.NewPCG(seed, 8))
		var list []nest.Part
		for range 8 {
			list = append(list, rectangle("panel", 2+rng.IntN(4), length.Length(150+rng.IntN(700)), length.Length(80+rng.IntN(500))))
		}
		p := sheet(kerf.Saw, 2440, 1220, 5, list...)
		r, err := choose.Plan(context.Background(), p, nest.Settings{Seed: seed, Budget: 1})
		if err != nil {
			t.Fatal(err)
		}
		for i := range r.Plan.Sheets {
			s := &r.Plan.Sheets[i]
			room, err := Of(p, s)
			if err != nil {
				t.Fatal(err)
			}
			st := p.Stocks[s.Stock]
			if room.Least.X > st.Size.X || room.Least.Y > st.Size.Y || room.Widest < p.Kerf {
				t.Errorf("seed %d, sheet %d: room %+v of %v", seed, i, room, st.Size)
			}
			root, err := tree(p, s)
			if err != nil {
				t.Fatal(err)
			}
			for _, c := range []struct {
				what string
				size geom.Point
				k    length.Length
			}{{"least sheet", room.Least, p.Kerf}, {"widest kerf", st.Size, min(room.Widest, 40*mm)}} {
				judged(t, p, s, root, c.what, c.size, c.k)
				tried++
			}
		}
	}
	t.Logf("%d sheets judged", tried)
}

// judged lays a tree on a sheet of a size with a kerf and has it judged.
func judged(t *testing.T, p *nest.Problem, s *nest.Sheet, root *piece, what string, size geom.Point, k length.Length) {
	t.Helper()
	q := *p
	q.Kerf, q.Gap, q.Saw = k, k, parts.Saw{}
	st := p.Stocks[s.Stock]
	trim := st.Size.Sub(st.Usable.Max)
	st.Size, st.Usable.Max = size, size.Sub(trim)
	q.Stocks = []nest.Stock{st}
	to := map[geom.Box]geom.Point{}
	relaid(root, st.Usable.Min, k, to)
	out := nest.Sheet{}
	left := make([]int, len(p.Parts))
	for i := range left {
		left[i] = p.Parts[i].Copies
	}
	plan := &nest.Plan{}
	count := make([]int, len(p.Parts))
	for _, pl := range s.Placements {
		_, blank := p.Place(pl)
		count[pl.Part]++
		left[pl.Part]--
		pl.Copy, pl.At = count[pl.Part], to[blank]
		out.Placements = append(out.Placements, pl)
	}
	for i, n := range left {
		if n > 0 {
			plan.Unplaced = append(plan.Unplaced, nest.Unplaced{Part: i, Copies: n, Reason: "on other sheets"})
		}
	}
	if err := order.Sheet(&q, &out); err != nil {
		t.Errorf("%s: %v", what, err)
		return
	}
	plan.Sheets = []nest.Sheet{out}
	if err := check.Plan(&q, plan); err != nil {
		t.Errorf("%s: %v", what, err)
	}
}

// Solved by hand, for the router. Two panels of 300 x 200, 10 apart, in a usable area of
// 700 x 400: their box is 610 x 200, and spread over the 700 they are 100 apart.
func TestRouterByHand(t *testing.T) {
	p := sheet(kerf.Router, 720, 420, 10, rectangle("flap", 2, 300, 200))
	s := &nest.Sheet{Placements: []nest.Placement{{Copy: 1, At: geom.Pt(10*mm, 10*mm)}, {Copy: 2, At: geom.Pt(320*mm, 10*mm)}}}
	r, err := Of(p, s)
	want := Room{Bare: geom.Pt(610*mm, 200*mm), Least: geom.Pt(630*mm, 220*mm), Widest: 100 * mm}
	if err != nil || r != want {
		t.Errorf("%+v, %v, want %+v", r, err, want)
	}
}

// The distance of a panel in the opening of another is that of their edges; shapes that
// a spread would lay on each other are at none.
func TestClosest(t *testing.T) {
	frame := geom.Polygon{
		Outer: geom.BoxFromSize(geom.Point{}, geom.Pt(400*mm, 400*mm)).Ring(),
		Holes: []geom.Ring{geom.BoxFromSize(geom.Pt(100*mm, 100*mm), geom.Pt(200*mm, 200*mm)).Ring().Reversed()},
	}
	at := func(x, y, l, w length.Length) geom.Polygon {
		return geom.Polygon{Outer: geom.BoxFromSize(geom.Pt(x*mm, y*mm), geom.Pt(l*mm, w*mm)).Ring()}
	}
	for _, c := range []struct {
		name string
		l    layout
		want length.Length
	}{
		{"in the opening", layout{frame, at(107, 120, 100, 100)}, 7 * mm},
		{"across the edge of the opening", layout{frame, at(50, 150, 100, 100)}, 0},
		{"in the wood", layout{frame, at(10, 150, 50, 50)}, 0},
		{"corner to corner, 3-4-5", layout{at(0, 0, 100, 100), at(103, 104, 50, 50)}, 5 * mm},
		{"edge to edge", layout{at(0, 0, 100, 100), at(100, 0, 100, 100)}, 0},
		{"one alone", layout{frame}, length.Max},
	} {
		if got := c.l.closest(); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// A plan whose cuts free nothing is refused.
func TestNotFreed(t *testing.T) {
	p := sheet(kerf.Saw, 2200, 1000, 0, rectangle("shelf", 1, 1000, 480))
	if _, err := Of(p, &nest.Sheet{Placements: []nest.Placement{{Copy: 1}}}); err == nil {
		t.Error("no cuts, and no error")
	}
	s := &nest.Sheet{Cuts: []nest.Cut{{From: geom.Pt(0, 5000*mm), To: geom.Pt(10*mm, 5000*mm)}}}
	if _, err := Of(p, s); err == nil {
		t.Error("a cut beside the sheet, and no error")
	}
}
