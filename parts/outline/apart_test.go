package outline

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	sf "github.com/peterstace/simplefeatures/geom"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// at moves an outline by millimetres.
func at(o Outline, x, y length.Length) Outline { return o.Translate(geom.Pt(x*mm, y*mm)) }

func TestContains(t *testing.T) {
	panel := Rectangle(600*mm, 400*mm)
	// A U: its box holds what its notch leaves out.
	u := loop(0, 0, 600, 0, 600, 400, 400, 400, 400, 100, 200, 100, 200, 400, 0, 400)
	for _, c := range []struct {
		name     string
		panel, o Outline
		want     error
	}{
		{"in the middle", panel, at(Circle(90*mm), 100, 100), nil},
		{"a grid unit off the edge", panel, Rectangle(mm, mm).Translate(geom.Pt(1, 1)), nil},
		{"on the edge", panel, at(Rectangle(10*mm, 10*mm), 0, 50), ErrMeets},
		{"its corner on the edge", panel, at(loop(0, 0, 10, 10, 0, 20), 590, 50), ErrMeets},
		{"circle that touches the edge", panel, at(Circle(90*mm), 100, 0), ErrMeets},
		{"across the edge", panel, at(Circle(90*mm), 550, 100), ErrMeets},
		{"beside it", panel, at(Circle(90*mm), 700, 100), ErrOutside},
		{"all round it", panel, at(Rectangle(800*mm, 600*mm), -100, -100), ErrOutside},
		{"the panel itself", panel, panel, ErrMeets},
		{"in the notch", u, at(Rectangle(50*mm, 50*mm), 250, 200), ErrOutside},
		{"across the notch", u, at(Rectangle(400*mm, 50*mm), 100, 200), ErrMeets},
		{"in an arm of the U", u, at(Rectangle(50*mm, 50*mm), 50, 200), nil},
		{"level with a corner of the U", u, at(Rectangle(50*mm, 50*mm), 50, 100), nil},
		{"in a disc, at its side", Circle(200 * mm), at(Rectangle(10*mm, 10*mm), 0, 95), ErrMeets},
		{"in a disc", Circle(200 * mm), at(Rectangle(10*mm, 10*mm), 1, 95), nil},
	} {
		if err := c.panel.Trace().Contains(c.o.Trace()); !errors.Is(err, c.want) || c.want == nil && err != nil {
			t.Errorf("%s: %v, want %v", c.name, err, c.want)
		}
	}
}

func TestApart(t *testing.T) {
	frame := bent(bent(loop(0, 0, 100, 0), 0, 0.6), 1, -0.3) // a crescent
	for _, c := range []struct {
		name string
		o, q Outline
		want error
	}{
		{"side by side", Circle(90 * mm), at(Circle(90*mm), 91, 0), nil},
		{"touching", Circle(90 * mm), at(Circle(90*mm), 90, 0), ErrMeets},
		{"crossing", Circle(90 * mm), at(Circle(90*mm), 60, 0), ErrMeets},
		{"boxes cross, circles do not", Circle(90 * mm), at(Circle(90*mm), 66, 66), nil},
		{"one in the other", Circle(90 * mm), at(Circle(50*mm), 20, 20), ErrNested},
		{"crescent in crescent", frame, at(frame, 0, -25), nil},
	} {
		for _, err := range []error{c.o.Trace().Apart(c.q.Trace()), c.q.Trace().Apart(c.o.Trace())} {
			if !errors.Is(err, c.want) || c.want == nil && err != nil {
				t.Errorf("%s: %v, want %v", c.name, err, c.want)
			}
		}
	}
}

func TestWeb(t *testing.T) {
	far := math.Inf(1)
	for _, c := range []struct {
		name string
		o, q Outline
		want float64 // mm
	}{
		{"circle from the edge", Rectangle(600*mm, 400*mm), at(Circle(90*mm), 100, 20), 20},
		{"two circles side by side", Circle(90 * mm), at(Circle(90*mm), 100, 0), 10},
		{"two circles aslant", Circle(90 * mm), at(Circle(90*mm), 80, 60), 10},
		{"circle in circle", Circle(200 * mm), at(Circle(100*mm), 60, 50), 40},
		{"corner to corner", Rectangle(10*mm, 10*mm), at(Rectangle(10*mm, 10*mm), 13, 14), 5},
	} {
		if got := c.o.Trace().Web(c.q.Trace(), far) / float64(mm); math.Abs(got-c.want) > 0.02 {
			t.Errorf("%s: %.4f mm, want %v", c.name, got, c.want)
		}
		if got := c.q.Trace().Web(c.o.Trace(), far) / float64(mm); math.Abs(got-c.want) > 0.02 {
			t.Errorf("%s, exchanged: %.4f mm, want %v", c.name, got, c.want)
		}
		limit := c.want * float64(mm) / 2
		if got := c.o.Trace().Web(c.q.Trace(), limit); got != limit {
			t.Errorf("%s: %v under a limit of %v", c.name, got, limit)
		}
	}
}

// Random straight shapes against simplefeatures: it computes distances and
// relations (OGC 06-103r4) with code of its own.
func TestApartOracle(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 9))
	shape := func(x, y, r float64) (Outline, sf.Polygon) {
		n := 3 + rng.IntN(40)
		var o Outline
		var xy []float64
		for i := range n {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			d := r * (0.3 + 0.7*rng.Float64())
			p := geom.Pt(length.Length(x+d*cos), length.Length(y+d*sin))
			o = append(o, Vertex{At: p})
			xy = append(xy, float64(p.X), float64(p.Y))
		}
		xy = append(xy, xy[0], xy[1])
		return o, sf.NewPolygon([]sf.LineString{sf.NewLineString(sf.NewSequence(xy, sf.DimXY))})
	}
	counts := map[string]int{}
	for range 1500 {
		o, po := shape(0, 0, 1000*rng.Float64()+20)
		q, pq := shape(2000*rng.Float64()-1000, 2000*rng.Float64()-1000, 300*rng.Float64()+10)
		if o.Validate() != nil || q.Validate() != nil {
			counts["not simple"]++
			continue
		}
		want, err := sf.Contains(po.AsGeometry(), pq.AsGeometry())
		if err != nil {
			t.Fatal(err)
		}
		meets := sf.Intersects(po.Boundary().AsGeometry(), pq.Boundary().AsGeometry())
		apart := !sf.Intersects(po.AsGeometry(), pq.AsGeometry())
		a, b := o.Trace(), q.Trace()
		if got := a.Contains(b) == nil; got != (want && !meets) {
			t.Fatalf("%v contains %v: %v, simplefeatures says %v", o, q, a.Contains(b), want)
		}
		if got := a.Apart(b) == nil; got != apart {
			t.Fatalf("%v apart from %v: %v, simplefeatures says %v", o, q, a.Apart(b), apart)
		}
		counts[map[bool]string{true: "meet", false: map[bool]string{true: "inside", false: "apart"}[want]}[meets]]++
		if !meets {
			d, ok := sf.Distance(po.Boundary().AsGeometry(), pq.Boundary().AsGeometry())
			if got := a.Web(b, math.Inf(1)); !ok || math.Abs(got-d) > 1e-6 {
				t.Fatalf("web of %v and %v: %v, simplefeatures says %v", o, q, got, d)
			}
		}
	}
	if counts["meet"] < 100 || counts["inside"] < 50 || counts["apart"] < 100 || counts["not simple"] > 750 {
		t.Errorf("%v are no fair test", counts)
	}
}

// Many openings in a panel of many corners.
func TestApartLadder(t *testing.T) {
	start := time.Now()
	arcs := ladder(10_000)["arcs"].Trace()
	var holes []*Trace
	for i := range 2000 {
		holes = append(holes, at(Circle(8*mm), length.Length(i%50)*10, length.Length(i/50)*10).Trace())
	}
	for i, h := range holes {
		if err := arcs.Contains(h); err != nil {
			t.Fatal(err)
		}
		for _, other := range holes[max(0, i-60):i] {
			if err := h.Apart(other); err != nil {
				t.Fatal(err)
			}
			if w := h.Web(other, float64(5*mm)); w < float64(mm) {
				t.Fatalf("web %v", w)
			}
		}
	}
	if d := time.Since(start); d > 5*time.Second { // a loaded machine
		t.Errorf("took %v", d)
	} else {
		t.Log(d)
	}
}
