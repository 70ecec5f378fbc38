package drawing

import (
	"math"
	"math/rand/v2"
	"testing"
)

// cabinet is closed outlines whose area is known by formula: a plate with a round
// and a square opening, a panel in that, a half disc, a disc.
func cabinet() (pieces []Piece, area float64) {
	disc := corners(true, 700, 0, 900, 0)
	disc.Path[0].Bulge = -1 // above the chord
	pieces = []Piece{
		rectangle(0, 0, 600, 400), circle(100, 100, 50), rectangle(200, 50, 300, 300), rectangle(250, 100, 100, 100),
		disc, circle(1200, 0, 75),
	}
	area = 600*400 - math.Pi*50*50 - 300*300 + 100*100 + math.Pi*100*100/2 + math.Pi*75*75
	return pieces, area
}

// Whatever the order and the direction of the pieces, the panels are the same; the
// area is that of closed formulas, within what ends are moved by.
func TestJoin(t *testing.T) {
	pieces, area := cabinet()
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 1))
		by := []float64{0, 0.001, 0.0176}[seed%3] // two ends are at most 0.05 apart
		panels := panelsOf(t, sheet(broken(r, pieces, by)), Options{})
		if len(panels) != 4 {
			t.Fatalf("seed %d: %d panels", seed, len(panels))
		}
		openings := 0
		for _, p := range panels {
			openings += len(p.Openings)
		}
		const around = 2400 + 1200 + 400 + 2*math.Pi*50 + 514 + 2*math.Pi*75
		if got := net(panels); openings != 2 || math.Abs(got-area) > around*0.05*by/0.0176+0.001*area/1000 {
			t.Fatalf("seed %d: %d openings, area %.3f, want %.3f", seed, openings, got, area)
		}
		if by == 0 && math.Abs(net(panels)-area) > 0.01 {
			t.Fatalf("seed %d: area %.3f, want %.3f", seed, net(panels), area)
		}
	}
}

// A rectangle of lines that do not quite meet is a rectangle again: lines are
// produced to where they meet.
func TestRectangleStaysOne(t *testing.T) {
	d := sheet([]Piece{
		line(0.03, 0, 599.98, 0), line(600, 0.04, 600, 400.02), line(599.97, 400, 0, 400), line(0, 399.99, 0, -0.02),
	})
	panels := panelsOf(t, d, Options{})
	if len(panels) != 1 || !panels[0].Outline.IsRectangle() || panels[0].Outline.AreaMM2() != 600*400 {
		t.Errorf("%+v", panels)
	}
	// At a line and an arc it is the arc that is moved.
	d = sheet([]Piece{arc(100.02, 0.01, 100, 100, 1), line(0, 0, 100, 0), line(0, 100, 0, 0), line(0, 100, 100, 100)})
	for _, v := range panelsOf(t, d, Options{})[0].Outline {
		if x, y := v.At.X%(100*mm), v.At.Y%(100*mm); x != 0 || y != 0 {
			t.Errorf("a corner at %v", v.At)
		}
	}
}

// The tolerance, at and beyond.
func TestTolerance(t *testing.T) {
	open := func(gap float64) *Drawing {
		return sheet([]Piece{corners(false, 0, gap, 0, 300, 500, 300, 500, 0, 0, 0)})
	}
	panelsOf(t, open(0.05), Options{})
	_, list := Panels(open(0.051), Options{})
	says(t, list, `a:1: LINE, layer "CUT": is open: its ends at (0, 0.051) and (0, 0) are 0.051 mm apart`)
	if got := list[0].Remedy; got != "close the gap in the drawing, or join with a tolerance of 0.06 mm" {
		t.Error(got)
	}
	panelsOf(t, open(0.051), Options{Tolerance: 60 * mm / 1000})
	for _, bad := range []Options{{Tolerance: -1}, {Tolerance: MaxTolerance + 1}, {Arcs: -1}} {
		_, list := Panels(open(0), bad)
		says(t, list, "tolerance of")
	}
}

// The nearest ends are joined, not the first that are near enough.
func TestNearestFirst(t *testing.T) {
	d := sheet([]Piece{
		line(0, 0, 500, 0), line(500, 0, 500, 300), line(500, 300, 0, 300),
		// A line of 0.04 mm between two ends that are 0.05 mm apart.
		line(0, 300, 0, 0.05), line(0, 0.045, 0, 0.005),
	})
	panels := panelsOf(t, d, Options{})
	if len(panels) != 1 || math.Abs(net(panels)-500*300) > 20 {
		t.Errorf("%+v", panels)
	}
}

func TestUnjoined(t *testing.T) {
	square := sides(0, 0, 100, 100)
	for _, c := range []struct {
		name   string
		pieces [][]Piece
		want   []string
	}{
		{"nothing", nil, []string{"no line, arc or curve"}},
		{"one line", [][]Piece{{line(0, 0, 10, 0)}}, []string{"is open: its ends at (0, 0) and (10, 0) are 10 mm apart"}},
		{"a short line beside", [][]Piece{square, {line(200, 0, 200.03, 0)}}, []string{"is no longer than the tolerance and joins nothing, at (200, 0)"}},
		{"a line without length", [][]Piece{square, {line(7, 7, 7, 7), {Source: Source{Entity: "LINE"}, Layer: "CUT"}}}, []string{"has no length at (7, 7)", "has no length;"}},
		{"drawn twice", [][]Piece{square, square}, []string{"a:5: warning", "a:6: warning", "a:7: warning", "a:8: warning"}},
		{"drawn twice, turned", [][]Piece{square, {corners(false, 100, 0, 0, 0)}}, []string{"is drawn twice, from (100, 0): LINE, line 1 (layer \"CUT\")"}},
		{"drawn twice, as polyline and lines", [][]Piece{{rectangle(0, 0, 100, 100)}, square[:1], square[2:3]}, []string{"a:2: warning", "a:3: warning"}},
		{"drawn twice but for a hair", [][]Piece{square, {line(0.02, -0.02, 100.03, 0.01)}}, []string{"a:5: warning"}},
		{"circles drawn twice", [][]Piece{{circle(0, 0, 5), circle(0, 0, 5)}}, []string{"a:2: warning"}},
		{"the other half is not the same", [][]Piece{{arc(0, 0, 10, 0, 1), arc(0, 0, 10, 0, -1)}}, nil},
		{"arcs drawn twice, turned", [][]Piece{{arc(0, 0, 10, 0, 1), arc(0, 0, 10, 0, -1), arc(10, 0, 0, 0, 1)}}, []string{"a:3: warning"}},
		{"three at a corner", [][]Piece{square, {line(100, 100, 150, 150)}}, []string{"3 ends meet at (100, 100)", "its end at (150, 150) is joined to nothing"}},
		{"three near a corner", [][]Piece{square, {line(100.03, 100.03, 150, 150)}}, []string{"3 ends meet within 0.05 mm of (100, 100)", "(150, 150)"}},
		{"an eight", [][]Piece{square, sides(100, 100, 50, 50)}, []string{"4 ends meet at (100, 100)"}},
		{"crosses itself", [][]Piece{{corners(true, 0, 0, 100, 0, 0, 100, 100, 100)}}, []string{"a:1: LINE, layer \"CUT\": the outline crosses or touches itself at (50, 50)"}},
		{"lines that cross", [][]Piece{{line(0, 0, 100, 100), line(100, 100, 100, 0), line(100, 0, 0, 100), line(0, 100, 0, 0)}}, []string{"at (50, 50), where it meets LINE, line 3"}},
		{"there and back", [][]Piece{{corners(false, 0, 0, 100, 0, 0, 0)}}, []string{"an outline needs three corners"}},
		{"two that cross", [][]Piece{{rectangle(0, 0, 100, 100), rectangle(50, 50, 100, 100)}}, []string{"a:2: LWPOLYLINE, layer \"CUT\": crosses or touches another outline at (100, 50): LWPOLYLINE, line 1"}},
		{"two that touch", [][]Piece{{rectangle(0, 0, 100, 100), circle(80, 50, 20)}}, []string{"crosses or touches another outline at (100, 50)"}},
		{"three gaps", [][]Piece{{
			corners(false, 0, 0, 100, 0, 100, 100, 0, 100, 0, 0.2), corners(false, 200, 0, 300, 0, 300, 99), corners(false, 200, 0.3, 200, 100, 300, 100), corners(false, 500, 0, 600, 0, 600, 100, 500, 100),
		}}, []string{"are 0.2 mm apart", "at (200, 0) and (200, 0.3), of LINE, line 3", "at (300, 99) and (300, 100)", "its ends at (500, 0) and (500, 100) are 100 mm"}},
		{"too far off", [][]Piece{{rectangle(40000, 0, 100, 100)}}, []string{"further than 33.5 m"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, list := Panels(sheet(c.pieces...), Options{})
			says(t, list, c.want...)
		})
	}
}
