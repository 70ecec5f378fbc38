package choose

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/bound"
	"panelyard/nest/check"
	"panelyard/nest/saw"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

const allowance = 6 * mm

// shaped returns a part of the material ply with its allowance above and at the right.
func shaped(name string, copies int, r geom.Ring) nest.Part {
	p := nest.Part{Name: name, Material: "ply", Copies: copies, Shape: geom.Polygon{Outer: r}}
	p.Blank = r.Box().Max.Add(geom.Pt(allowance, allowance))
	return p
}

// gusset is a right triangle with the right angle at the lower left.
func gusset(name string, copies int, l, w length.Length) nest.Part {
	return shaped(name, copies, geom.Ring{{}, {X: l * mm}, {Y: w * mm}})
}

// mirrored returns the other hand of a part.
func mirrored(p nest.Part, name string) nest.Part {
	p.Name = name
	left, right := p.Inset.X, p.Blank.X-p.Shape.Box().Max.X-p.Inset.X
	p.Shape = p.Shape.Flipped()
	p.Shape = p.Shape.Translate(p.Shape.Box().Min.Neg())
	p.Inset.X = left + right - p.Inset.X
	return p
}

// bracket is a quarter of a ring of two radii, as the museum's curved brackets: the
// arcs are polygons that contain it.
func bracket(name string, copies int, inner, outer float64) nest.Part {
	const n = 24
	var r geom.Ring
	at := func(radius float64, k float64) geom.Point {
		s, c := math.Sincos(k / n * math.Pi / 2)
		return geom.Pt(length.Length(math.Ceil(radius*c*float64(mm))), length.Length(math.Ceil(radius*s*float64(mm))))
	}
	r = append(r, at(outer, 0))
	out := outer / math.Cos(math.Pi/4/n)
	for k := range n {
		r = append(r, at(out, float64(k)+0.5))
	}
	r = append(r, at(outer, n))
	for k := n; k >= 0; k-- {
		r = append(r, at(inner-0.01, float64(k)))
	}
	return shaped(name, copies, r.Translate(r.Box().Min.Neg()))
}

func sawProblem(list ...nest.Part) *nest.Problem {
	return &nest.Problem{
		Cut: kerf.Saw, Kerf: 3200 * length.Micrometre, Gap: 3200 * length.Micrometre, Apart: 2 * allowance,
		Parts: list, Stocks: []nest.Stock{stock("ply", "ply", 1220, 610, 60)},
		Keep: parts.KeepRule{Short: 100 * mm, Long: 400 * mm},
	}
}

// shared returns how many panels of a plan share a blank.
func shared(plan *nest.Plan) int {
	n := 0
	for i := range plan.Sheets {
		for _, pl := range plan.Sheets[i].Placements {
			if pl.IsShared() {
				n++
			}
		}
	}
	return n
}

// Two right triangles of 400 x 300, whose longest edge is 500, in one blank of 400+dx
// by 300+dy. Their long edges are (300 dx + 400 dy)/500 apart, which has to be 12, and
// dx and dy are at least the allowance of 6. dx = 6 gives dy = 10.5, a blank of
// 406 x 310.5; dy = 6 gives dx = 12, a blank of 412 x 306, which is 9 mm2 more. A round
// gap is a polygon for the search and sizes are rounded up to a tenth: a tenth more
// than either will do.
func TestGussetsByHand(t *testing.T) {
	p := sawProblem(gusset("gusset", 2, 400, 300))
	list := couples(context.Background(), p)
	if len(list) != 1 || list[0].copies != 1 {
		t.Fatalf("couples %+v, want one", list)
	}
	size := list[0].Size
	dx, dy := size.X.MM()-400, size.Y.MM()-300
	if apart := (300*dx + 400*dy) / 500; apart < 12 || apart > 12.1 || dx < 6 || dy < 6 {
		t.Errorf("a blank of %v x %v: the long edges are %.3f mm apart", size.X, size.Y, apart)
	}
	if least := 406 * 310.5; size.X.MM()*size.Y.MM() > least*1.0005 {
		t.Errorf("a blank of %v x %v, by hand it is 406 x 310.5", size.X, size.Y)
	}
	saved := 1 - 406*310.5/(2*406*306)
	if math.Abs(list[0].saved-saved) > 0.001 {
		t.Errorf("%.4f of the board is saved, by hand %.4f", list[0].saved, saved)
	}
}

// forced returns the judged plan with all couples in shared blanks.
func forced(t *testing.T, p *nest.Problem) *nest.Plan {
	t.Helper()
	list := couples(context.Background(), p)
	q := withBlanks(p, list)
	plan, _, err := saw.New().Solve(context.Background(), q, nest.Settings{Budget: 2})
	if err != nil {
		t.Fatal(err)
	}
	plan = panelsOf(p, q, list, plan)
	if err := check.Plan(p, plan); err != nil {
		t.Fatal(err)
	}
	return plan
}

// What is coupled, and with what.
func TestCouples(t *testing.T) {
	arc := bracket("bracket", 4, 300, 420)
	pair := bracket("left", 1, 300, 420)
	left := gusset("left", 3, 500, 200)
	either := left
	either.CanFlip = true
	grained := left
	grained.Grain = parts.AlongLength
	oneWay := left
	oneWay.OneWay = true
	half := left
	half.Turns = []int{0, 180}
	faces := oneWay
	faces.CanFlip = true
	for _, c := range []struct {
		name   string
		parts  []nest.Part
		stock  parts.Axis
		shared int
	}{
		{"curved brackets", []nest.Part{arc}, parts.NoAxis, 4},
		{"an odd number", []nest.Part{left}, parts.NoAxis, 2},
		{"one", []nest.Part{gusset("one", 1, 500, 200)}, parts.NoAxis, 0},
		{"left and right brackets", []nest.Part{pair, mirrored(pair, "right")}, parts.NoAxis, 2},
		// A left and a right gusset make no rectangle, unless one lies face down.
		{"both hands, three of each", []nest.Part{left, mirrored(left, "right")}, parts.NoAxis, 4},
		{"both hands, either face", []nest.Part{either, mirrored(either, "right")}, parts.NoAxis, 6},
		{"along the grain", []nest.Part{grained}, parts.AlongLength, 2},
		{"grain across the sheet", []nest.Part{grained}, parts.AlongWidth, 2},
		{"one way up", []nest.Part{oneWay}, parts.AlongLength, 0},
		{"one way up, either face", []nest.Part{faces}, parts.NoAxis, 0},
		{"half turns", []nest.Part{half}, parts.NoAxis, 2},
		{"rectangles", []nest.Part{part("shelf", "ply", 6, 700, 300)}, parts.NoAxis, 0},
		{"other sizes", []nest.Part{gusset("a", 1, 500, 200), gusset("b", 1, 500, 210)}, parts.NoAxis, 0},
		{"too large for a sheet together", []nest.Part{gusset("a", 2, 1200, 592)}, parts.NoAxis, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := sawProblem(c.parts...)
			p.Stocks[0].Grain = c.stock
			plan := forced(t, p)
			if n := shared(plan); n != c.shared {
				t.Errorf("%d panels share a blank, want %d", n, c.shared)
			}
			if plan.Placed() != p.Copies() {
				t.Errorf("%d of %d placed", plan.Placed(), p.Copies())
			}
			for _, l := range couples(context.Background(), p) {
				t.Logf("blank of %v x %v for two of %v x %v, %.1f %% saved", l.Size.X, l.Size.Y, p.Parts[0].Blank.X, p.Parts[0].Blank.Y, 100*l.saved)
			}
			p.Apart = 0
			if list := couples(context.Background(), p); list != nil {
				t.Errorf("%d couples though blanks are not to be shared", len(list))
			}
		})
	}
}

// Eight gussets of 590 x 280: four of their blanks of 596 x 286 fill a sheet of
// 1,210 x 600 inside trim, and so do four shared ones of less than 603 x 298, so that
// one sheet does where two were needed.
func TestSharingSavesSheets(t *testing.T) {
	p := sawProblem(gusset("gusset", 8, 590, 280))
	r, err := Plan(context.Background(), p, nest.Settings{Budget: 5})
	if err != nil {
		t.Fatal(err)
	}
	q := *p
	q.Apart = 0
	without, err := Plan(context.Background(), &q, nest.Settings{Budget: 5})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Plan.Sheets) >= len(without.Plan.Sheets) || shared(r.Plan) != 8 {
		t.Errorf("%d sheets with %d panels in shared blanks, %d without", len(r.Plan.Sheets), shared(r.Plan), len(without.Plan.Sheets))
	}
	if r.Bound.Sheets > len(r.Plan.Sheets) {
		t.Errorf("%d sheets, bound %+v", len(r.Plan.Sheets), r.Bound)
	}
	t.Logf("%d sheets, %d without; bound %+v", len(r.Plan.Sheets), len(without.Plan.Sheets), r.Bound)
}

// Where sharing saves nothing, nothing is shared.
func TestNoNeedToShare(t *testing.T) {
	r, err := Plan(context.Background(), sawProblem(gusset("gusset", 2, 400, 300)), nest.Settings{Budget: 2})
	if err != nil {
		t.Fatal(err)
	}
	if n := shared(r.Plan); n != 0 {
		t.Errorf("%d panels share a blank, on %d sheets", n, len(r.Plan.Sheets))
	}
}

// Same seed and budget: same plan with shared blanks, whatever the number of workers.
func TestSharingSameForAnyWorkers(t *testing.T) {
	p := sawProblem(bracket("bracket", 9, 300, 420), gusset("left", 5, 500, 200), mirrored(gusset("", 5, 500, 200), "right"), part("shelf", "ply", 4, 600, 200))
	var first []byte
	for _, workers := range []int{1, 2, 4} {
		r, err := Plan(context.Background(), p, nest.Settings{Seed: 3, Budget: 2, Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		b, err := json.Marshal(r.Plan)
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = b
			if shared(r.Plan) == 0 {
				t.Error("nothing is shared: the test shows nothing")
			}
		}
		if !bytes.Equal(first, b) {
			t.Errorf("%d workers gave another plan", workers)
		}
	}
}

// The time limit holds for all tries together.
func TestSharingDeadline(t *testing.T) {
	ctx, cancel := context.WithTimeout(context.Background(), 300*time.Millisecond)
	defer cancel()
	start := time.Now()
	p := sawProblem(bracket("bracket", 9, 300, 420), gusset("left", 5, 500, 200))
	if _, err := Plan(ctx, p, nest.Settings{Budget: -1, Workers: 2}); err != nil {
		t.Fatal(err)
	}
	if d := time.Since(start); d > 1500*time.Millisecond {
		t.Errorf("a limit of 0.3 s took %v", d)
	}
}

// No bound exceeds a judged plan in which as many blanks as possible are shared.
func TestBoundWithSharedBlanks(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 1))
	tight, sharing := 0, 0
	const n = 60
	for range n {
		var list []nest.Part
		for range 1 + rng.IntN(3) {
			l, w := length.Length(150+rng.IntN(700)), length.Length(100+rng.IntN(440))
			q := gusset("gusset", 1+rng.IntN(6), l, w)
			if rng.IntN(3) == 0 {
				q = bracket("bracket", 1+rng.IntN(6), float64(w), float64(w)*(1.1+rng.Float64()/4))
			}
			if rng.IntN(2) == 0 {
				q.Grain = parts.AlongLength
			}
			list = append(list, q)
			if rng.IntN(2) == 0 {
				list = append(list, mirrored(q, "other"))
			}
		}
		if rng.IntN(2) == 0 {
			list = append(list, part("shelf", "ply", 1+rng.IntN(4), length.Length(200+rng.IntN(900)), length.Length(100+rng.IntN(400))))
		}
		p := sawProblem(list...)
		p.Stocks = append(p.Stocks, stock("half", "ply", 610, 610, 35))
		p.Stocks[rng.IntN(2)].Grain = parts.AlongLength
		plan := forced(t, p)
		if len(plan.Unplaced) > 0 {
			continue // the bound is of what fits
		}
		b := bound.Of(context.Background(), p)
		if b.Sheets > len(plan.Sheets) || b.Cost > cost(p, plan) {
			t.Fatalf("bound %+v, a judged plan has %d sheets for %d", b, len(plan.Sheets), cost(p, plan))
		}
		if b.Sheets == len(plan.Sheets) {
			tight++
		}
		if shared(plan) > 0 {
			sharing++
		}
	}
	t.Logf("%d plans with shared blanks, %d of %d proved", sharing, tight, n)
	if sharing < n/3 || tight == 0 {
		t.Errorf("%d plans with shared blanks, %d proved: too few to show anything", sharing, tight)
	}
}

// Panels that find no place are counted as panels, not as blanks.
func TestUnplacedInSharedBlanks(t *testing.T) {
	p := sawProblem(gusset("left", 7, 590, 280), mirrored(gusset("", 2, 590, 280), "right"))
	p.Stocks[0].Available = 1
	plan := forced(t, p)
	n := 0
	for _, u := range plan.Unplaced {
		n += u.Copies
	}
	if n == 0 || n+plan.Placed() != p.Copies() || !slices.IsSortedFunc(plan.Unplaced, func(a, b nest.Unplaced) int { return a.Part - b.Part }) {
		t.Errorf("%d placed of %d, unplaced %+v", plan.Placed(), p.Copies(), plan.Unplaced)
	}
}
