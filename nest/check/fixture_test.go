package check

import (
	"errors"
	"math"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// mm returns a number of millimetres with at most three decimals as a length.
func mm(v float64) length.Length { return length.Length(math.Round(v * 8000)) }

func mmPt(x, y float64) geom.Point { return geom.Point{X: mm(x), Y: mm(y)} }

func mmBox(x0, y0, x1, y1 float64) geom.Box { return geom.Box{Min: mmPt(x0, y0), Max: mmPt(x1, y1)} }

// ring returns a ring of x, y pairs in millimetres.
func ring(xy ...float64) geom.Ring {
	var r geom.Ring
	for i := 0; i < len(xy); i += 2 {
		r = append(r, mmPt(xy[i], xy[i+1]))
	}
	return r
}

// rect returns a part that is a rectangle of a size in millimetres.
func rect(name string, w, h float64, copies int) nest.Part {
	return nest.Part{
		Name: name, Material: "birch 18", Copies: copies, Blank: mmPt(w, h),
		Shape: geom.Polygon{Outer: ring(0, 0, w, 0, w, h, 0, h)},
	}
}

// level and upright return a cut in millimetres.
func level(y, x0, x1, fence float64) nest.Cut {
	return nest.Cut{From: mmPt(x0, y), To: mmPt(x1, y), Fence: mm(fence)}
}

func upright(x, y0, y1, fence float64) nest.Cut {
	return nest.Cut{From: mmPt(x, y0), To: mmPt(x, y1), Fence: mm(fence)}
}

// kiosk is the sheet of a tide-table kiosk cut with a saw, worked out by hand:
// a blade of 3.2 mm, trim of 5 mm on three edges and of 1 mm on the lower one,
// where the blade runs half off the sheet, and cuts on four levels.
func kiosk() (*nest.Problem, *nest.Plan) {
	side := rect("SIDE", 800, 600, 2)
	side.Grain = parts.AlongLength
	shelf := rect("SHELF", 500, 250, 2)
	shelf.Grain = parts.AlongLength
	// A back with a gable, shaped after sawing, 6 mm of blank all round, drawn
	// standing: its grain runs along its width.
	back := nest.Part{
		Name: "BACK", Material: "birch 18", Copies: 1, Grain: parts.AlongWidth,
		Blank: mmPt(600, 1000), Inset: mmPt(6, 6),
		Shape: geom.Polygon{Outer: ring(0, 0, 588, 0, 588, 900, 294, 988, 0, 900)},
	}
	p := &nest.Problem{
		Cut: kerf.Saw, Kerf: mm(3.2), Gap: mm(3.2),
		Parts: []nest.Part{side, shelf, back},
		Stocks: []nest.Stock{{
			Name: "full sheet", Material: "birch 18", Size: mmPt(2440, 1220),
			Usable: mmBox(5, 1, 2435, 1215), Grain: parts.AlongLength, Available: 1,
		}},
		Keep: parts.KeepRule{Short: mm(100), Long: mm(400)},
	}
	plan := &nest.Plan{Sheets: []nest.Sheet{{
		Placements: []nest.Placement{
			{Part: 0, Copy: 1, At: mmPt(5, 1)},
			{Part: 0, Copy: 2, Turn: 180, At: mmPt(808.2, 1)},
			{Part: 1, Copy: 1, At: mmPt(1611.4, 1)},
			{Part: 1, Copy: 2, At: mmPt(1611.4, 254.2)},
			{Part: 2, Copy: 1, Turn: 90, At: mmPt(5, 604.2)},
		},
		Cuts: []nest.Cut{
			level(-0.6, 0, 2440, 1219), // trim of 1 mm: the line is beside the sheet
			level(1216.6, 0, 2440, 1214),
			upright(3.4, 1, 1215, 1.8), // the fence against the strip that comes off
			upright(2436.6, 1, 1215, 2430),
			level(602.6, 5, 2435, 600),
			upright(806.6, 1, 601, 800),
			upright(1609.8, 1, 601, 800),
			upright(2113, 1, 601, 500),
			level(252.6, 1611.4, 2111.4, 250),
			level(505.8, 1611.4, 2111.4, 250),
			upright(1006.6, 604.2, 1215, 1000),
			level(1205.8, 5, 1005, 600),
		},
		Offcuts: []nest.Offcut{
			{Box: mmBox(2114.6, 1, 2435, 601), Keep: true},
			{Box: mmBox(1611.4, 507.4, 2111.4, 601)},
			{Box: mmBox(1008.2, 604.2, 2435, 1215), Keep: true},
		},
	}}}
	for i := range 4 {
		plan.Sheets[0].Cuts[i].Trim = true
	}
	return p, plan
}

// disc returns a polygon of n corners round a circle of a radius, its box moved
// to the origin, all in millimetres.
func disc(r float64, n int) geom.Ring {
	var out geom.Ring
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		out = append(out, mmPt(math.Round(r*math.Cos(a)*100)/100, math.Round(r*math.Sin(a)*100)/100))
	}
	b := boxOf(out)
	for i := range out {
		out[i].X -= b.Min.X
		out[i].Y -= b.Min.Y
	}
	return out
}

// routerPart returns a part for the router with its blank.
func routerPart(name string, copies int, outer geom.Ring, holes ...geom.Ring) nest.Part {
	return nest.Part{
		Name: name, Material: "birch 18", Copies: copies, Blank: boxOf(outer).Max,
		Shape: geom.Polygon{Outer: outer, Holes: holes},
	}
}

// porthole is a router plan of two sheets worked out by hand, with a gap of 5 mm:
// a frame with an opening that holds a dial, two brackets interlocked exactly a
// gap apart, and a flipped wedge whose slope keeps exactly a gap from a corner.
func porthole() (*nest.Problem, *nest.Plan) {
	frame := routerPart("FRAME", 1, ring(0, 0, 400, 0, 400, 300, 0, 300), ring(100, 75, 100, 225, 300, 225, 300, 75))
	dial := routerPart("DIAL", 2, disc(50, 24))
	bracket := routerPart("BRACKET", 2, ring(0, 0, 200, 0, 200, 50, 50, 50, 50, 200, 0, 200))
	wedge := routerPart("WEDGE", 1, ring(0, 0, 300, 0, 300, 400))
	wedge.CanFlip = true
	p := &nest.Problem{
		Cut: kerf.Router, Kerf: mm(5), Gap: mm(5),
		Parts: []nest.Part{frame, dial, bracket, wedge},
		Stocks: []nest.Stock{
			{Name: "half sheet", Material: "birch 18", Size: mmPt(1000, 600), Usable: mmBox(10, 10, 990, 590), Available: 2},
			{Name: "poplar", Material: "poplar 9", Size: mmPt(1000, 600), Usable: mmBox(10, 10, 990, 590), Available: parts.Unlimited},
		},
		Keep: parts.KeepRule{Short: mm(100), Long: mm(400)},
	}
	plan := &nest.Plan{Sheets: []nest.Sheet{
		{
			Placements: []nest.Placement{
				{Part: 0, Copy: 1, At: mmPt(10, 10)},
				{Part: 1, Copy: 1, At: mmPt(150, 110)}, // in the opening
				// Interlocked: each has an arm in the angle of the other.
				{Part: 2, Copy: 1, At: mmPt(535, 10)},
				{Part: 2, Copy: 2, Turn: 180, At: mmPt(440, 65)},
			},
			Offcuts: []nest.Offcut{{Box: mmBox(10, 315, 990, 590), Keep: true}},
		},
		{
			Placements: []nest.Placement{
				// Flipped: corners (10,10) (310,10) (10,410); the slope runs along
				// 4x + 3y = 1270, sheet coordinates in mm.
				{Part: 3, Copy: 1, Flip: true, At: mmPt(10, 10)},
				{Part: 1, Copy: 2, At: mmPt(500, 400)},
			},
			// The corner (208.25, 154) is (4*208.25 + 3*154 - 1270)/5 = 5 from the slope.
			Offcuts: []nest.Offcut{{Box: mmBox(208.25, 154, 495, 590), Keep: true}},
		},
	}}
	return p, plan
}

// cloneProblem and clonePlan return deep copies.
func cloneProblem(p *nest.Problem) *nest.Problem {
	q := *p
	q.Parts = append([]nest.Part(nil), p.Parts...)
	for i := range q.Parts {
		t := &q.Parts[i]
		t.Shape = t.Shape.Translate(geom.Point{})
		if t.Turns != nil {
			t.Turns = append([]int{}, t.Turns...)
		}
	}
	q.Stocks = append([]nest.Stock(nil), p.Stocks...)
	return &q
}

func clonePlan(p *nest.Plan) *nest.Plan {
	q := &nest.Plan{Unplaced: append([]nest.Unplaced(nil), p.Unplaced...)}
	for _, s := range p.Sheets {
		s.Placements = append([]nest.Placement(nil), s.Placements...)
		s.Cuts = append([]nest.Cut(nil), s.Cuts...)
		s.Offcuts = append([]nest.Offcut(nil), s.Offcuts...)
		q.Sheets = append(q.Sheets, s)
	}
	return q
}

// kindsOf returns the kinds a verdict names, each once, in order of finding.
func kindsOf(t testing.TB, err error) []Kind {
	t.Helper()
	if err == nil {
		return nil
	}
	var all *Violations
	if !errors.As(err, &all) {
		t.Fatalf("verdict is a %T, not *Violations", err)
	}
	var list []Kind
	seen := map[Kind]bool{}
	for _, v := range all.List {
		if !seen[v.Kind] {
			seen[v.Kind] = true
			list = append(list, v.Kind)
		}
	}
	return list
}

// rectangles returns a problem and a plan of n equal rectangles in columns and
// rows, a gap apart, with all cuts for the saw; every sheet takes cols * rows.
func rectangles(cut kerf.Cut, n, cols, rows int) (*nest.Problem, *nest.Plan) {
	const w, h, k = 300.0, 200.0, 3.2
	p := &nest.Problem{
		Cut: cut, Kerf: mm(k), Gap: mm(k), Parts: []nest.Part{rect("DOOR", w, h, n)},
		Stocks: []nest.Stock{{
			Name: "sheet", Material: "birch 18", Available: parts.Unlimited,
			Size: mmPt(float64(cols)*(w+k), float64(rows)*(h+k)),
		}},
	}
	p.Stocks[0].Usable = geom.Box{Max: p.Stocks[0].Size}
	plan := &nest.Plan{}
	for copy := 1; copy <= n; {
		s := nest.Sheet{}
		for r := range rows {
			if copy > n {
				break
			}
			y := float64(r) * (h + k)
			if cut == kerf.Saw {
				s.Cuts = append(s.Cuts, level(y+h+k/2, 0, float64(cols)*(w+k), h))
			}
			for c := 0; c < cols && copy <= n; c++ {
				x := float64(c) * (w + k)
				s.Placements = append(s.Placements, nest.Placement{Copy: copy, At: mmPt(x, y)})
				if cut == kerf.Saw {
					s.Cuts = append(s.Cuts, upright(x+w+k/2, y, y+h, w))
				}
				copy++
			}
		}
		plan.Sheets = append(plan.Sheets, s)
	}
	return p, plan
}
