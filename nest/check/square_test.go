package check

import (
	"fmt"
	"slices"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// squaredSquare is the perfect squared square of lowest order, 21 different
// squares that fill a square of 112: A. J. W. Duijvestijn, "Simple perfect
// squared square of lowest order", Journal of Combinatorial Theory B 25 (1978)
// 240-243 (citation and code from memory; that the squares fill the square
// exactly is checked below). In Bouwkamp's code a group lists squares from left
// to right whose upper edges lie on one line; each group fills the leftmost of
// the highest places left.
var squaredSquare = [][]int{
	{50, 35, 27},
	{8, 19},
	{15, 17, 11},
	{6, 24},
	{29, 25, 9, 2},
	{7, 18},
	{16},
	{42},
	{4, 37},
	{33},
}

// layBouwkamp lays a code from the bottom up: each square goes to the leftmost
// of the lowest places.
func layBouwkamp(t *testing.T, code [][]int, side int) (*nest.Problem, *nest.Plan) {
	t.Helper()
	p := &nest.Problem{
		Cut: kerf.Router,
		Stocks: []nest.Stock{{
			Name: "square", Size: geom.Point{X: length.Length(side), Y: length.Length(side)},
			Usable:    geom.Box{Max: geom.Point{X: length.Length(side), Y: length.Length(side)}},
			Available: 1,
		}},
	}
	plan := &nest.Plan{Sheets: make([]nest.Sheet, 1)}
	height := make([]int, side)
	area := 0
	for _, s := range slices.Concat(code...) {
		x := slices.Index(height, slices.Min(height))
		y := height[x]
		if x+s > side {
			t.Fatalf("square %d at %d passes the edge", s, x)
		}
		for i := x; i < x+s; i++ {
			if height[i] != y {
				t.Fatalf("square %d at %d, %d does not lie flat", s, x, y)
			}
			height[i] = y + s
		}
		area += s * s
		r := geom.Ring{{}, {X: length.Length(s)}, {X: length.Length(s), Y: length.Length(s)}, {Y: length.Length(s)}}
		p.Parts = append(p.Parts, nest.Part{
			Name: fmt.Sprint(s), Copies: 1, Shape: geom.Polygon{Outer: r}, Blank: r[2],
		})
		plan.Sheets[0].Placements = append(plan.Sheets[0].Placements, nest.Placement{
			Part: len(p.Parts) - 1, Copy: 1, At: geom.Point{X: length.Length(x), Y: length.Length(y)},
		})
	}
	if area != side*side {
		t.Fatalf("the squares cover %d, not %d", area, side*side)
	}
	return p, plan
}

func TestSquaredSquare(t *testing.T) {
	p, plan := layBouwkamp(t, squaredSquare, 112)
	if n := len(p.Parts); n != 21 {
		t.Fatalf("%d squares, not 21", n)
	}
	// Chamfers turn rectangles into general shapes: the same verdicts must come
	// from the exact test of polygons. A collinear point in an edge does that.
	general := cloneProblem(p)
	for i := range general.Parts {
		o := &general.Parts[i].Shape.Outer
		*o = slices.Insert(*o, 1, geom.Point{X: 1})
	}
	for name, p := range map[string]*nest.Problem{"boxes": p, "polygons": general} {
		t.Run(name, func(t *testing.T) {
			if err := Plan(p, plan); err != nil {
				t.Fatalf("the perfect square is refused: %v", err)
			}
			for i := range plan.Sheets[0].Placements {
				for turn := 0; turn < 360; turn += 90 {
					q := clonePlan(plan)
					q.Sheets[0].Placements[i].Turn = turn
					if err := Plan(p, q); err != nil {
						t.Errorf("square %s turned by %d: %v", p.Parts[i].Name, turn, err)
					}
				}
				for _, d := range []geom.Point{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}} {
					q := clonePlan(plan)
					at := &q.Sheets[0].Placements[i].At
					at.X, at.Y = at.X+d.X, at.Y+d.Y
					// Every square touches others or the edge on all sides.
					side := p.Parts[i].Blank.X
					want := []Kind{Overlap}
					if at.X < 0 || at.Y < 0 || at.X+side > 112 || at.Y+side > 112 {
						want = []Kind{OutsideUsable}
					}
					if got := kindsOf(t, Plan(p, q)); !slices.Equal(got, want) {
						t.Errorf("square %s moved by %v: %v, want %v", p.Parts[i].Name, d, got, want)
					}
				}
				q := clonePlan(plan)
				q.Sheets[0].Placements = slices.Delete(q.Sheets[0].Placements, i, i+1)
				if got := kindsOf(t, Plan(p, q)); !slices.Equal(got, []Kind{WrongCount}) {
					t.Errorf("square %s dropped: %v", p.Parts[i].Name, got)
				}
				q = clonePlan(plan)
				q.Sheets[0].Placements = append(q.Sheets[0].Placements, q.Sheets[0].Placements[i])
				if got := kindsOf(t, Plan(p, q)); !slices.Equal(got, []Kind{CopyTwice, Overlap}) {
					t.Errorf("square %s doubled: %v", p.Parts[i].Name, got)
				}
				q.Sheets[0].Placements[21].Copy = 2
				two := cloneProblem(p)
				two.Parts[i].Copies = 2
				if got := kindsOf(t, Plan(two, q)); !slices.Equal(got, []Kind{Overlap}) {
					t.Errorf("a second square %s on the first: %v", p.Parts[i].Name, got)
				}
				gap := cloneProblem(p)
				gap.Gap = 1
				if got := kindsOf(t, Plan(gap, plan)); !slices.Equal(got, []Kind{TooClose}) {
					t.Errorf("a gap of one unit: %v", got)
				}
			}
		})
	}
	saw := cloneProblem(p)
	saw.Cut = kerf.Saw
	if got := kindsOf(t, Plan(saw, plan)); !slices.Equal(got, []Kind{CutsMissing}) {
		t.Errorf("without cuts on a saw: %v", got)
	}
	// No straight cut goes through: every line from edge to edge hits a square.
	for c := range length.Length(111) {
		for _, cut := range []nest.Cut{
			{From: geom.Point{X: c + 1}, To: geom.Point{X: c + 1, Y: 112}, Fence: c + 1},
			{From: geom.Point{Y: c + 1}, To: geom.Point{X: 112, Y: c + 1}, Fence: c + 1},
		} {
			q := clonePlan(plan)
			q.Sheets[0].Cuts = []nest.Cut{cut}
			if got := kindsOf(t, Plan(saw, q)); !slices.Equal(got, []Kind{BlankNotFreed}) {
				t.Errorf("cut at %d: %v", int64(c)+1, got)
			}
		}
	}
}
