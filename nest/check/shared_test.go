package check

import (
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/geom"
)

// gussets is a sawn sheet worked out by hand: two right triangles of 400 x 300 in a
// blank of 412 x 306, their long edges (300*12 + 400*6)/500 = 12 apart, which is twice
// the allowance of 6; another alone in its blank of 406 x 306, and a shelf.
func gussets() (*nest.Problem, *nest.Plan) {
	gusset := nest.Part{
		Name: "GUSSET", Material: "birch 18", Copies: 3, Blank: mmPt(406, 306),
		Shape: geom.Polygon{Outer: ring(0, 0, 400, 0, 0, 300)},
	}
	p := &nest.Problem{
		Cut: kerf.Saw, Kerf: mm(3.2), Gap: mm(3.2), Apart: mm(12),
		Parts:  []nest.Part{gusset, rect("SHELF", 300, 306, 1)},
		Stocks: []nest.Stock{{Name: "half sheet", Material: "birch 18", Size: mmPt(1220, 610), Usable: mmBox(0, 0, 1220, 610), Available: 1}},
		Keep:   parts.KeepRule{Short: mm(100), Long: mm(400)},
	}
	blank := mmBox(0, 0, 412, 306)
	plan := &nest.Plan{Sheets: []nest.Sheet{{
		Placements: []nest.Placement{
			{Part: 0, Copy: 1, Shared: blank},
			{Part: 0, Copy: 2, Turn: 180, At: mmPt(6, 0), Shared: blank},
			{Part: 0, Copy: 3, At: mmPt(415.2, 0)},
			{Part: 1, Copy: 1, At: mmPt(824.4, 0)},
		},
		Cuts: []nest.Cut{
			level(307.6, 0, 1220, 306),
			upright(413.6, 0, 306, 412),
			upright(822.8, 0, 306, 406),
			upright(1126, 0, 306, 300),
		},
		Offcuts: []nest.Offcut{{Box: mmBox(0, 309.2, 1220, 610), Keep: true}},
	}}}
	return p, plan
}

func TestSharedBlanks(t *testing.T) {
	placement := func(plan *nest.Plan, i int) *nest.Placement { return &plan.Sheets[0].Placements[i] }
	move := func(plan *nest.Plan, d geom.Point) {
		q := placement(plan, 1)
		q.At = geom.Point{X: q.At.X + d.X, Y: q.At.Y + d.Y}
	}
	testMutations(t, gussets, []mutation{
		{"as it is", func(p *nest.Problem, plan *nest.Plan) {}, nil},
		{"least distance above by a unit", func(p *nest.Problem, plan *nest.Plan) { p.Apart++ }, []Kind{TooClose}},
		{"nearer by a unit", func(p *nest.Problem, plan *nest.Plan) { move(plan, geom.Point{X: -1}) }, []Kind{TooClose}},
		{"shapes overlap", func(p *nest.Problem, plan *nest.Plan) {
			placement(plan, 1).At, placement(plan, 1).Turn = geom.Point{}, 0
		}, []Kind{Overlap}},
		{"beyond the shared blank by a unit", func(p *nest.Problem, plan *nest.Plan) {
			move(plan, geom.Point{X: 1})
		}, []Kind{OutsideShared, SharedByOthers}},
		{"alone in a shared blank", func(p *nest.Problem, plan *nest.Plan) {
			p.Parts[0].Copies = 2
			plan.Sheets[0].Placements = append(plan.Sheets[0].Placements[:1], plan.Sheets[0].Placements[2:]...)
			placement(plan, 1).Copy = 2
		}, []Kind{SharedByOthers}},
		{"three in a shared blank", func(p *nest.Problem, plan *nest.Plan) {
			placement(plan, 2).At, placement(plan, 2).Shared = geom.Point{}, placement(plan, 0).Shared
		}, []Kind{SharedByOthers}},
		{"two blanks that overlap", func(p *nest.Problem, plan *nest.Plan) {
			placement(plan, 1).Shared.Max.Y++
		}, []Kind{SharedByOthers, Overlap, BlankNotFreed}},
		{"one does not name it", func(p *nest.Problem, plan *nest.Plan) {
			placement(plan, 1).Shared = geom.Box{}
		}, []Kind{SharedByOthers, Overlap, BlankNotFreed}},
		{"shared blank larger by a unit", func(p *nest.Problem, plan *nest.Plan) {
			placement(plan, 0).Shared.Max.X++
			placement(plan, 1).Shared.Max.X++
		}, []Kind{TooClose, BlankNotFreed}},
		{"shared blank turned inside out", func(p *nest.Problem, plan *nest.Plan) {
			b := &placement(plan, 0).Shared
			b.Min, b.Max = b.Max, b.Min
			placement(plan, 1).Shared = *b
		}, []Kind{OutsideShared}},
		{"shared blank out of range", func(p *nest.Problem, plan *nest.Plan) {
			placement(plan, 0).Shared.Max.X = 1 << 62
		}, []Kind{OutOfRange, SharedByOthers}},
		{"a shelf shares", func(p *nest.Problem, plan *nest.Plan) {
			placement(plan, 3).Shared = mmBox(824.4, 0, 1124.4, 306)
		}, []Kind{NotToShare, SharedByOthers}},
		{"nine tenths of its blank filled", func(p *nest.Problem, plan *nest.Plan) {
			// 91 % of 406 x 306; alone it may be so.
			p.Parts[0].Shape.Outer = ring(0, 0, 400, 0, 400, 300, 40, 300, 0, 260)
		}, []Kind{NotToShare, Overlap}},
		{"nothing is to be shared", func(p *nest.Problem, plan *nest.Plan) { p.Apart = 0 }, []Kind{NotToShare}},
		{"least distance below nothing", func(p *nest.Problem, plan *nest.Plan) { p.Apart = -1 }, []Kind{BadProblem}},
		{"a strip", func(p *nest.Problem, plan *nest.Plan) { p.Strip = true }, []Kind{BadProblem}},
		{"an offcut in the shared blank", func(p *nest.Problem, plan *nest.Plan) {
			plan.Sheets[0].Offcuts[0] = nest.Offcut{Box: mmBox(0, 0, 400, 306), Keep: true}
		}, []Kind{OffcutNotThere}},
		{"a cut through the shared blank", func(p *nest.Problem, plan *nest.Plan) {
			plan.Sheets[0].Cuts = append(plan.Sheets[0].Cuts, upright(200, 0, 306, 198.4))
		}, []Kind{BlankNotFreed}},
		{"shared blank that saves nothing", func(p *nest.Problem, plan *nest.Plan) {
			for i := range 2 {
				placement(plan, i).Shared.Max = mmPt(812, 306)
			}
		}, []Kind{SharedInVain, Overlap, BlankNotFreed}},
		{"face down", func(p *nest.Problem, plan *nest.Plan) { placement(plan, 1).Flip = true }, []Kind{WrongFace, Overlap}},
	})
}

// The place of a shape in its own blank counts: flipped and turned with it.
func TestSharedInset(t *testing.T) {
	for _, c := range []struct {
		turn int
		flip bool
		want geom.Box // of the shape, in a blank of 100 x 60 at (10, 20)
	}{
		{0, false, mmBox(15, 27, 95, 77)},
		{0, true, mmBox(25, 27, 105, 77)},
		{90, false, mmBox(13, 25, 63, 105)},
		{180, false, mmBox(25, 23, 105, 73)},
		{270, true, mmBox(17, 25, 67, 105)},
	} {
		part := nest.Part{Blank: mmPt(100, 60), Inset: mmPt(5, 7), Shape: geom.Polygon{Outer: ring(0, 0, 80, 0, 0, 50)}}
		got := shapeRegion(&part, nest.Placement{Turn: c.turn, Flip: c.flip, At: mmPt(10, 20)}).box
		if got != c.want {
			t.Errorf("%d degrees, flipped %t: shape on %s, want %s", c.turn, c.flip, spread(got), spread(c.want))
		}
	}
}

// A whole sheet may be a shared blank; then it needs no cut.
func TestWholeSheetShared(t *testing.T) {
	p, plan := gussets()
	p.Parts, p.Parts[0].Copies = p.Parts[:1], 2
	p.Stocks[0].Size, p.Stocks[0].Usable = mmPt(412, 306), mmBox(0, 0, 412, 306)
	s := &plan.Sheets[0]
	s.Placements, s.Cuts, s.Offcuts = s.Placements[:2], nil, nil
	if err := Plan(p, plan); err != nil {
		t.Error(err)
	}
}

// A router has no blanks to share.
func TestRouterSharesNothing(t *testing.T) {
	testMutations(t, porthole, []mutation{{"shared", func(p *nest.Problem, plan *nest.Plan) {
		plan.Sheets[0].Placements[0].Shared = mmBox(10, 10, 410, 310)
	}, []Kind{NotToShare}}})
}
