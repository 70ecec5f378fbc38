package outline

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// TestCover: over the whole range of arcs and down the ladder of tolerances a
// cover holds every point of the true arc, no corner of it is further out than
// the tolerance, it has the box of the outline, and it is a simple ring. A core
// is the same inwards.
func TestCover(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawSegment(t)
		a, b, bulge := o[0].At, o[1].At, o[0].Bulge
		tolerance := rapid.SampledFrom(tolerances).Draw(t, "tolerance")
		cover, core := o.Cover(tolerance), o.Core(tolerance)
		for _, p := range samples(a, b, bulge, 20) {
			if locate(cover, p) == geom.Outside && distance(cover, p) > noise {
				t.Fatalf("the cover of %v leaves out a point of the arc by %v units", o, distance(cover, p))
			}
			if locate(core, p) == geom.Inside && distance(core, p) > noise {
				t.Fatalf("the core of %v takes in a point of the arc by %v units", o, distance(core, p))
			}
		}
		limit := float64(tolerance) + noise
		// A few hundred corners of a long ring.
		for i := 0; i < len(cover); i += 1 + len(cover)/200 {
			p := cover[i]
			if d := away(exact(p), a, b, bulge); d > limit || d < -noise {
				t.Fatalf("corner %d of the cover of %v is %v units out of the arc, tolerance %v", i, o, d, tolerance)
			}
		}
		for i := 0; i < len(core); i += 1 + len(core)/200 {
			p, q := core[i], core[(i+1)%len(core)]
			if p == a && q == b || p == b && q == a {
				continue // the straight side
			}
			mid := ratPoint{mul(add(exact(p).x, exact(q).x), ratOf(0.5)), mul(add(exact(p).y, exact(q).y), ratOf(0.5))}
			for _, p := range []ratPoint{exact(p), mid} {
				if d := away(p, a, b, bulge); d < -limit || d > noise {
					t.Fatalf("the core of %v is %v units inside the arc, tolerance %v", o, -d, tolerance)
				}
			}
		}
		if got, want := cover.Box(), o.Box(); got != want {
			t.Fatalf("the cover of %v has the box %v, want %v", o, got, want)
		}
		if !o.Box().Contains(core.Box()) {
			t.Fatalf("the core of %v leaves its box", o)
		}
		if err := isSimple(cover); err != nil || cover.Area2() <= 0 {
			t.Fatalf("the cover of %v: %v at %v", o, err, err.(*Fault).At)
		}
		if len(core) >= 3 && (core.Area2() > 0 || float64(-core.Area2()) > o.Area2()*(1+1e-9)) {
			t.Fatalf("the core of %v has twice the area %v", o, core.Area2())
		}
	})
}

// drawPanel gives a valid outline: a rectangle with an arc or a line on each
// side, some bulging out and some in.
func drawPanel(t *rapid.T) Outline {
	for {
		if o := drawRectangle(t); o.Validate() == nil {
			return o
		}
	}
}

// drawRectangle gives what drawPanel chooses from; arcs may meet each other.
func drawRectangle(t *rapid.T) Outline {
	l := length.Length(rapid.IntRange(50, 2500).Draw(t, "length")) * mm
	w := length.Length(rapid.IntRange(50, 2500).Draw(t, "width")) * mm
	o := Rectangle(l, w)
	for i := range o {
		a, b := o.ends(i)
		reach := min(l, w) / 3
		rise := length.Length(rapid.IntRange(-int(reach), int(reach)).Draw(t, "rise"))
		if rapid.IntRange(0, 3).Draw(t, "line") == 0 {
			rise = 0
		}
		o[i].Bulge, _ = BulgeFromRise(a, b, rise)
	}
	return o
}

// TestCoverOfPanels: panels with arcs on all sides. The area of the cover agrees
// with simplefeatures and lies between that of the panel and the panel with a
// strip of the tolerance about it; the core is the other way round.
func TestCoverOfPanels(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawPanel(t)
		tolerance := rapid.SampledFrom(tolerances[1:]).Draw(t, "tolerance")
		cover, core := o.Cover(tolerance), o.Core(tolerance)
		for i, v := range o {
			if v.Bulge == 0 {
				continue
			}
			a, b := o.ends(i)
			for _, p := range samples(a, b, v.Bulge, 8) {
				if locate(cover, p) == geom.Outside && distance(cover, p) > noise {
					t.Fatalf("the cover of %v leaves out a point of side %d by %v", o, i, distance(cover, p))
				}
				if locate(core, p) == geom.Inside && distance(core, p) > noise {
					t.Fatalf("the core of %v takes in a point of side %d by %v", o, i, distance(core, p))
				}
			}
		}
		strip := 2 * 1.2 * float64(tolerance) * (float64(o.Perimeter()) + 8*float64(tolerance))
		area := o.Area2()
		if a := float64(cover.Area2()); a < area-1e-9*area || a > area+strip {
			t.Fatalf("twice the area of the cover is %v, of the panel %v, strip %v", a, area, strip)
		}
		if a := -float64(core.Area2()); a > area+1e-9*area || a < area-strip {
			t.Fatalf("twice the area of the core is %v, of the panel %v, strip %v", a, area, strip)
		}
		for _, r := range []geom.Ring{cover, core.Reversed()} {
			if got, want := polygonOf(t, r).Area(), float64(r.Area2())/2; math.Abs(got-want) > 1e-9*want {
				t.Fatalf("the area of a ring is %v in simplefeatures, %v here", got, want)
			}
			if err := isSimple(r); err != nil {
				t.Fatal(err)
			}
		}
		if cover.Box() != o.Box() {
			t.Fatalf("the box of the cover is %v, of the panel %v", cover.Box(), o.Box())
		}
		// Every true arc point lies in the box, and the box is tight: a point
		// comes within a unit and the step of the samples of each side.
		for deg := 90; deg < 360; deg += 90 {
			s := o.Box().Size()
			if deg != 180 {
				s = geom.Pt(s.Y, s.X)
			}
			if got := o.Turned(deg).Box().Size(); (got.X-s.X).Abs() > 1 || (got.Y-s.Y).Abs() > 1 {
				t.Fatalf("turned by %d the size is %v, want %v", deg, got, s)
			}
		}
	})
}

// TestBox: the box holds the true arc, and each of its sides is within a unit of
// it.
func TestBox(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawSegment(t)
		a, b, bulge := o[0].At, o[1].At, o[0].Bulge
		box := o.Box()
		lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
		see := func(p ratPoint) {
			x, _ := p.x.Float64()
			y, _ := p.y.Float64()
			lo = [2]float64{min(lo[0], x), min(lo[1], y)}
			hi = [2]float64{max(hi[0], x), max(hi[1], y)}
		}
		see(exact(a))
		see(exact(b))
		const n = 60
		for _, p := range samples(a, b, bulge, n) {
			see(p)
		}
		// Between two samples an arc rises by at most its sagitta.
		c := newArc(a, b, bulge)
		sag := c.radius() * (1 - math.Cos(c.theta/n/2)) * 2
		for i, side := range []float64{
			lo[0] - float64(box.Min.X), lo[1] - float64(box.Min.Y),
			float64(box.Max.X) - hi[0], float64(box.Max.Y) - hi[1],
		} {
			if side < -noise || side > 1+sag+noise {
				t.Fatalf("side %d of the box of %v is %v units outside the arc, at most %v wanted", i, o, side, 1+sag)
			}
		}
	})
}

// TestCoverAtJoints has joints at which an arc meets its neighbour in a cusp.
// A cover must stay a simple ring there: tangents of both sides run into one
// another.
func TestCoverAtJoints(t *testing.T) {
	r := 40 * mm
	for _, c := range []struct {
		name string
		o    Outline
	}{
		{"scalloped edge", Outline{
			{At: geom.Pt(0, 0)},
			{At: geom.Pt(300*mm, 0), Bulge: 1},
			{At: geom.Pt(300*mm, 2*r), Bulge: 1},
			{At: geom.Pt(300*mm, 4*r), Bulge: 1},
			{At: geom.Pt(300*mm, 6*r)},
			{At: geom.Pt(0, 6*r)},
		}},
		{"scallops of two radii", Outline{
			{At: geom.Pt(0, 0)},
			{At: geom.Pt(300*mm, 0), Bulge: 1},
			{At: geom.Pt(300*mm, 2*r), Bulge: 1},
			{At: geom.Pt(300*mm, 7*r)},
			{At: geom.Pt(0, 7*r)},
		}},
		{"scallops pointing at an angle", Outline{
			{At: geom.Pt(0, 0)},
			{At: geom.Pt(200*mm, 0), Bulge: 1},
			{At: geom.Pt(260*mm, 70*mm), Bulge: 1},
			{At: geom.Pt(320*mm, 140*mm)},
			{At: geom.Pt(0, 400*mm)},
		}},
		{"half round beside a straight ledge", Outline{
			{At: geom.Pt(0, 0)},
			{At: geom.Pt(400*mm, 0)},
			{At: geom.Pt(400*mm, 100*mm)},
			{At: geom.Pt(200*mm, 100*mm), Bulge: 3},
			{At: geom.Pt(199*mm, 100*mm)},
			{At: geom.Pt(0, 100*mm)},
		}},
		{"rounded corners", RoundedRectangle(600*mm, 400*mm, [4]length.Length{r, 2 * r, 0, r})},
		{"round ends", RoundedRectangle(600*mm, 4*r, [4]length.Length{2 * r, 2 * r, 2 * r, 2 * r})},
		{"circle", Circle(90 * mm)},
		{"crescent", Outline{{At: geom.Pt(0, 0), Bulge: 1}, {At: geom.Pt(0, 200*mm), Bulge: -0.8}}},
		{"tips of no angle", Outline{
			{At: geom.Pt(0, 0)}, {At: geom.Pt(300*mm, 0), Bulge: -math.Tan(math.Pi / 8)}, {At: geom.Pt(200*mm, 100*mm)}, {At: geom.Pt(0, 100*mm)},
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if err := c.o.Validate(); err != nil {
				t.Fatalf("the outline itself: %v", err)
			}
			for deg := 0; deg < 360; deg += 90 {
				for _, tolerance := range tolerances {
					o := c.o.Turned(deg)
					cover, core := o.Cover(tolerance), o.Core(tolerance)
					for name, r := range map[string]geom.Ring{"cover": cover, "core": core.Reversed()} {
						if err := isSimple(r); err != nil {
							t.Errorf("turned by %d, tolerance %v: the %s: %v", deg, tolerance, name, err)
						}
					}
					if deg == 0 && tolerance != 80 && tolerance != 400 {
						holds(t, o, cover, core, tolerance)
					}
				}
			}
		})
	}
}

// holds checks that a cover holds the arcs of o and a core does not take them in,
// near the joints above all, and that no corner of either is further from the
// arcs and lines of o than the tolerance.
func holds(t *testing.T, o Outline, cover, core geom.Ring, tolerance length.Length) {
	t.Helper()
	for i, v := range o {
		if v.Bulge == 0 {
			continue
		}
		a, b := o.ends(i)
		pts := samples(a, b, v.Bulge, 10)
		for k := 1e-6; k < 0.1; k *= 10 {
			pts = append(pts, truePoint(a, b, v.Bulge, ratOf(k)), truePoint(a, b, v.Bulge, ratOf(1/k)))
		}
		for _, p := range pts {
			if locate(cover, p) == geom.Outside && distance(cover, p) > noise {
				t.Errorf("tolerance %v: the cover leaves out a point of segment %d by %v", tolerance, i, distance(cover, p))
			}
			if locate(core, p) == geom.Inside && distance(core, p) > noise {
				t.Errorf("tolerance %v: the core takes in a point of segment %d by %v", tolerance, i, distance(core, p))
			}
		}
	}
	// A polyline within a unit of the outline, to measure from.
	var fine geom.Ring
	for _, p := range o.Points(Least) {
		fine = append(fine, geom.Pt(length.Length(math.Round(p[0])), length.Length(math.Round(p[1]))))
	}
	for _, r := range []geom.Ring{cover, core} {
		for _, p := range r {
			if d := distance(fine, exact(p)); d > float64(tolerance+Least)+1 {
				t.Errorf("tolerance %v: the corner %v is %v units away from the outline", tolerance, p, d)
			}
		}
	}
}

// TestTolerance: a tolerance below the least one is taken as the least.
func TestTolerance(t *testing.T) {
	o := Circle(20 * mm)
	n := len(o.Cover(8))
	for _, tolerance := range []length.Length{-1, 0, 1, 7} {
		if got := len(o.Cover(tolerance)); got != n {
			t.Errorf("tolerance %d gives %d corners, want %d", tolerance, got, n)
		}
	}
	for _, tolerance := range []length.Length{-1, 0, 1} {
		if got := len(o.Points(tolerance)); got < n/2 || got > 2*n {
			t.Errorf("%d points at the tolerance %d, about %d wanted", got, tolerance, n)
		}
	}
	for i, tolerance := range tolerances[1:] {
		if fewer, more := len(o.Cover(tolerance)), len(o.Cover(tolerances[i])); fewer > more {
			t.Errorf("%d corners at %v and %d at %v", fewer, tolerance, more, tolerances[i])
		}
	}
	// The most corners an outline can ask for: a circle at the bound, least
	// tolerance.
	if got := len(Circle(length.Max).Cover(8)); got < 5_000 || got > 20_000 {
		t.Errorf("the largest circle has %d corners", got)
	}
}

// TestPoints: the points for drawing lie on the arcs and no chord leaves them by
// more than the tolerance.
func TestPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawSegment(t)
		a, b, bulge := o[0].At, o[1].At, o[0].Bulge
		tolerance := rapid.SampledFrom(tolerances).Draw(t, "tolerance")
		pts := o.Points(tolerance)
		for i, p := range pts {
			q := pts[(i+1)%len(pts)]
			if d := away(ratPoint{ratOf(p[0]), ratOf(p[1])}, a, b, bulge); math.Abs(d) > 1e-3 {
				t.Fatalf("point %d of %v is %v units off the arc", i, o, d)
			}
			if i == len(pts)-1 { // the straight side
				continue
			}
			mid := ratPoint{mul(add(ratOf(p[0]), ratOf(q[0])), ratOf(0.5)), mul(add(ratOf(p[1]), ratOf(q[1])), ratOf(0.5))}
			if d := away(mid, a, b, bulge); d > 1e-3 || -d > float64(tolerance)+1e-3 {
				t.Fatalf("chord %d of %v is %v units inside the arc, tolerance %v", i, o, -d, tolerance)
			}
		}
	})
}
