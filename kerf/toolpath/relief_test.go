package toolpath

import (
	"math"
	"slices"
	"strings"
	"testing"

	"panelyard/parts"
	"panelyard/parts/outline"
)

// The figures of the trade notes 2.6 (computed there from r(√2-1), r/√2, r(1-1/√2)
// and r²(1-π/4)): what stays in a right corner, how far the bit's centre is from each
// wall in a dog-bone, and how far it bites into the wall.
func TestReliefFigures(t *testing.T) {
	for _, c := range []struct{ d, residual, inset, bite, area float64 }{
		{6.35, 1.315, 2.245, 0.930, 2.163},
		{6, 1.243, 2.121, 0.879, 1.931},
		{12.7, 2.630, 4.490, 1.860, 8.653},
	} {
		window := rect(50, 50, 100, 60)
		plain := item(parts.NoRelief, rect(0, 0, 200, 150), window)
		_, list := Of(plain, bit(c.d), 18*unit)
		if want := mm(c.residual * float64(unit)); len(list) != 1 || !strings.Contains(list[0].Fact, want+" mm of board") {
			t.Errorf("bit %v: %v, want %s mm", c.d, list, want)
		}
		if got := Residual(bit(c.d).Bit/2, 90).MM(); math.Abs(got-c.residual) > 0.0006 {
			t.Errorf("bit %v: residual %.4f, want %v", c.d, got, c.residual)
		}
		// The uncut area, by Steiner: opening less what the bit sweeps.
		ps, _ := Of(plain, bit(c.d), 18*unit)
		a, r := window.AreaMM2(), c.d/2
		run := ps.List[0]
		swept := loopArea(run) + run.Length().MM()*r + math.Pi*r*r
		if got := (a - swept) / 4; math.Abs(got-c.area) > 0.002 {
			t.Errorf("bit %v: %.4f mm2 uncut in a corner, want %v", c.d, got, c.area)
		}

		ps, list = Of(item(parts.DogBone, rect(0, 0, 200, 150), window), bit(c.d), 18*unit)
		if len(list) != 0 {
			t.Errorf("bit %v: %v", c.d, list)
		}
		x, y := nearestVertex(ps.List[0], 50, 50)
		if math.Abs(x-50-c.inset) > 0.001 || math.Abs(y-50-c.inset) > 0.001 {
			t.Errorf("bit %v: dog-bone at %.4f, %.4f from the walls, want %v", c.d, x-50, y-50, c.inset)
		}
		if bite := c.d/2 - (x - 50); math.Abs(bite-c.bite) > 0.001 {
			t.Errorf("bit %v: bites %.4f, want %v", c.d, bite, c.bite)
		}
		// T-bone: on the line of the longer wall, r from the other (trade notes 2.6).
		ps, _ = Of(item(parts.TBone, rect(0, 0, 200, 150), window), bit(c.d), 18*unit)
		if x, y := nearestVertex(ps.List[0], 50, 50); math.Abs(x-50-c.d/2) > 0.001 || math.Abs(y-50) > 0.001 {
			t.Errorf("bit %v: t-bone at %.4f, %.4f from the walls", c.d, x-50, y-50)
		}
	}
}

// loopArea returns the area inside a path in mm2.
func loopArea(p Path) float64 {
	return asOutline(p.Line).AreaMM2()
}

// nearestVertex returns the vertex of a path nearest to a point, in mm.
func nearestVertex(p Path, x, y float64) (float64, float64) {
	bx, by := math.Inf(1), math.Inf(1)
	for _, v := range p.Line {
		if math.Hypot(v.At.X.MM()-x, v.At.Y.MM()-y) < math.Hypot(bx-x, by-y) {
			bx, by = v.At.X.MM(), v.At.Y.MM()
		}
	}
	return bx, by
}

// In corners of other angles r(1/sin(a/2)-1) stays (geometry).
func TestResidualAngles(t *testing.T) {
	// A triangle of 60 degrees: r.
	h := 100 * math.Sqrt(3) / 2
	_, list := Of(item(parts.NoRelief, rect(0, 0, 200, 200), loopOf(50, 50, 0, 150, 50, 0, 100, 50+h, 0)), bit(6), 18*unit)
	if len(list) != 1 || !strings.Contains(list[0].Fact, "3 inside corners") || !strings.Contains(list[0].Fact, "up to 3.000 mm") {
		t.Errorf("%v", list)
	}
	if got := Residual(3*unit, 60); got != 3*unit {
		t.Errorf("60 degrees: %v", got)
	}
	if got := Residual(3*unit, 180); got != 0 {
		t.Errorf("180 degrees: %v", got)
	}
}

// A relief that would reach a wall it does not belong to is left out and named.
func TestReliefWithoutRoom(t *testing.T) {
	o := rect(0, 0, 200, 150)
	for name, c := range map[string]struct {
		x, y float64
		want bool
	}{"near the edge": {0.5, 50, true}, "well inside": {20, 50, false}} {
		_, list := Of(item(parts.DogBone, o, rect(c.x, c.y, 50, 50)), bit(6), 18*unit)
		if got := strings.Contains(list.Error(), "no room for the relief"); got != c.want {
			t.Errorf("%s: %v", name, list)
		}
	}
	// Outlines have inside corners, too.
	l := loopOf(0, 0, 0, 300, 0, 0, 300, 100, 0, 100, 100, 0, 100, 250, 0, 0, 250, 0)
	ps, list := Of(item(parts.DogBone, l), bit(6), 18*unit)
	if x, y := nearestVertex(ps.List[0], 100, 100); len(list) > 0 || math.Abs(math.Hypot(x-100, y-100)-3) > 0.001 || x < 100 {
		t.Errorf("dog-bone at %v, %v: %v", x, y, list)
	}
}

// Relief takes board near its corners only: seeded shapes with many of them.
func TestReliefStaysNear(t *testing.T) {
	relieved := 0
	for i, c := range randoms(60) {
		for _, how := range []parts.Relief{parts.DogBone, parts.TBone} {
			c.item.Panel.Relief = how
			for k := range c.item.Panel.Openings {
				c.item.Panel.Openings[k].Relief = how
			}
			ps := mustOf(t, c)
			r := ps.Bit.MM() / 2
			walls := append([]outline.Outline{ps.Outline}, ps.Openings...)
			for _, p := range ps.List {
				for _, v := range p.Line {
					at := exactly(v.At)
					near := false // the bit's edge passes through a corner
					bites := false
					for _, o := range walls {
						bites = bites || distanceTo(o, at) < r-0.005
						for _, w := range o {
							near = near || math.Abs(exactly(w.At).to(at)/float64(unit)-r) < 0.002
						}
					}
					if bites && !near {
						t.Errorf("%d %v: the bit bites at %v away from any corner", i, how, place(at))
					}
					if bites {
						relieved++
					}
					if bites && !slices.Contains(p.Reliefs, v.At) {
						t.Errorf("%d %v: the relief at %v is not listed", i, how, place(at))
					}
				}
			}
			// The list follows its path as the panel is laid on a sheet.
			for _, turn := range []int{0, 90, 15} {
				for _, p := range ps.Place(turn != 90, turn, at(700, -300), 1).List {
					for _, at := range p.Reliefs {
						if !slices.ContainsFunc(p.Line, func(v outline.Vertex) bool { return v.At == at }) {
							t.Errorf("%d %v, turned by %d: the relief at %v is not on the path", i, how, turn, at)
						}
					}
				}
			}
		}
	}
	if relieved < 50 {
		t.Errorf("%d corners were relieved", relieved)
	}
}
