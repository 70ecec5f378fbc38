package outline

import (
	"math"
	"math/big"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// TestClosedFormulas compares area and perimeter with the formulas of plane
// geometry, in millimetres.
func TestClosedFormulas(t *testing.T) {
	const pi = math.Pi
	segment := func(r, theta float64) (area, perimeter float64) {
		return r * r / 2 * (theta - math.Sin(theta)), r*theta + 2*r*math.Abs(math.Sin(theta/2))
	}
	// A stadium of a 3-4-5 direction: arcs that end on no axis.
	stadium := Outline{
		{At: geom.Pt(0, 0)},
		{At: geom.Pt(400*mm, 300*mm), Bulge: 1},
		{At: geom.Pt(340*mm, 380*mm)},
		{At: geom.Pt(-60*mm, 80*mm), Bulge: 1},
	}
	third := Outline{{At: geom.Pt(0, 0), Bulge: math.Tan(pi / 6)}, {At: geom.Pt(300*mm, 0)}}
	thirdArea, thirdPerimeter := segment(300/math.Sqrt(3), 2*pi/3)
	major := Outline{{At: geom.Pt(0, 0), Bulge: math.Tan(pi / 3)}, {At: geom.Pt(300*mm, 0)}}
	majorArea, majorPerimeter := segment(300/math.Sqrt(3), 4*pi/3)
	for _, c := range []struct {
		name            string
		o               Outline
		area, perimeter float64
	}{
		{"rectangle", Rectangle(600*mm, 400*mm), 240_000, 2000},
		{"circle", Circle(90 * mm), pi * 45 * 45, pi * 90},
		{"circle of an odd diameter", Circle(length.Inch / 64), pi / 4 * (25.4 / 64) * (25.4 / 64), pi * 25.4 / 64},
		{"rounded rectangle", RoundedRectangle(600*mm, 400*mm, [4]length.Length{50 * mm, 50 * mm, 50 * mm, 50 * mm}), 240_000 - (4-pi)*2500, 2000 - (8-2*pi)*50},
		{"one rounded corner", RoundedRectangle(600*mm, 400*mm, [4]length.Length{0, 0, 80 * mm, 0}), 240_000 - (1-pi/4)*6400, 2000 - (2-pi/2)*80},
		{"round ends", RoundedRectangle(600*mm, 100*mm, [4]length.Length{50 * mm, 50 * mm, 50 * mm, 50 * mm}), 500*100 + pi*2500, 1000 + pi*100},
		{"a circle by its corners", RoundedRectangle(100*mm, 100*mm, [4]length.Length{50 * mm, 50 * mm, 50 * mm, 50 * mm}), pi * 2500, pi * 100},
		{"stadium", stadium, 500*100 + pi*2500, 1000 + pi*100},
		{"segment of a third", third, thirdArea, thirdPerimeter},
		{"segment of two thirds", major, majorArea, majorPerimeter},
		{
			"a bay of a quarter circle", Outline{
				{At: geom.Pt(0, 0)},
				{At: geom.Pt(300*mm, 0)},
				{At: geom.Pt(300*mm, 100*mm), Bulge: -math.Tan(pi / 8)},
				{At: geom.Pt(200*mm, 200*mm)},
				{At: geom.Pt(0, 200*mm)},
			}, 60_000 - pi*100*100/4, 800 + pi*50,
		},
	} {
		if got := c.o.AreaMM2(); math.Abs(got-c.area) > 1e-9*c.area {
			t.Errorf("%s: area %.6f mm2, want %.6f", c.name, got, c.area)
		}
		if got := c.o.Perimeter().MM(); math.Abs(got-c.perimeter) > 0.0001 {
			t.Errorf("%s: perimeter %.6f mm, want %.6f", c.name, got, c.perimeter)
		}
		if err := c.o.Validate(); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// TestFlatArcs: the area of the segment of a flat arc is 2/3·c·h·(1 + 4h²/5c²)
// but for terms of (h/c)⁴; it must not drown in the rounding of θ - sin θ.
func TestFlatArcs(t *testing.T) {
	for _, c := range []struct{ chord, rise length.Length }{
		{2400 * mm, mm}, {2400 * mm, mm / 100}, {2400 * mm, 1}, {length.Max, 1}, {length.Max, mm}, {length.Max, 33 * mm}, {mm, 1},
	} {
		bulge, err := BulgeFromRise(geom.Point{}, geom.Pt(c.chord, 0), c.rise)
		if err != nil {
			t.Fatal(err)
		}
		o := Outline{{At: geom.Point{}, Bulge: bulge}, {At: geom.Pt(c.chord, 0)}}
		l, h := float64(c.chord), float64(c.rise)
		want := 2 * 2.0 / 3 * l * h * (1 + 0.8*h*h/l/l)
		if got := o.Area2(); math.Abs(got-want) > 1e-9*want {
			t.Errorf("chord %v, rise %v: twice the area is %v, want %v", c.chord, c.rise, got, want)
		}
		if got, want := o.SegmentLength(0), math.Round(l*(1+8.0/3*h*h/l/l)); math.Abs(float64(got)-want) > 1 {
			t.Errorf("chord %v, rise %v: arc %d, want %v units", c.chord, c.rise, got, want)
		}
		if got, want := o.Radius(0), l*l/8/h+h/2; math.Abs(got-want) > 1e-9*want {
			t.Errorf("chord %v, rise %v: radius %v, want %v", c.chord, c.rise, got, want)
		}
	}
}

// TestNextToNothing: a bulge that no grid can show is a line in all respects, down
// to the least float64; the least bulge that is an arc still is one.
func TestNextToNothing(t *testing.T) {
	flat := Rectangle(600*mm, 400*mm)
	for _, bulge := range []float64{5e-324, 1e-307, 7e-304, 1e-160, 1e-17, 0.99e-12, -1e-307, -1e-15} {
		o := Rectangle(600*mm, 400*mm)
		o[1].Bulge, o[2].Bulge = bulge, -bulge
		if !o.Straight() || !o.IsRectangle() || o.Area2() != flat.Area2() || o.Perimeter() != flat.Perimeter() || o.Radius(1) != 0 ||
			o.Box() != flat.Box() || !slices.Equal(o.Cover(800), flat.Cover(800)) || !slices.Equal(o.Core(800), flat.Core(800)) ||
			!slices.Equal(o.Points(800), flat.Points(800)) {
			t.Errorf("the bulge %v is not a line", bulge)
		}
		if err := o.Validate(); err != nil {
			t.Errorf("the bulge %v: %v", bulge, err)
		}
	}
	for _, bulge := range []float64{least, 1e-11, 1e-9, -least, -1e-10} {
		o := Rectangle(length.Max, length.Max)
		o[1].Bulge = bulge
		rise := math.Abs(bulge) * float64(length.Max) / 2
		if got := o.Area2() - flat.Area2(); o.Straight() || math.IsNaN(got) || math.Abs(o.Radius(1)*8*rise/float64(length.Max)/float64(length.Max)-1) > 1e-9 {
			t.Errorf("the bulge %v has the radius %v", bulge, o.Radius(1))
		}
		for _, p := range o.Cover(800) {
			if b := o.Box(); !b.Contains(geom.Box{Min: p, Max: p}) {
				t.Errorf("the bulge %v gives the corner %v", bulge, p)
			}
		}
	}
}

// TestSegmentArea compares the area of segments of all angles with one computed
// in 200 bits.
func TestSegmentArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		theta := drawLog(t, "theta", 1e-7, 6.28)
		o := Outline{{At: geom.Point{}, Bulge: math.Tan(theta / 4)}, {At: geom.Pt(1_000_000, 0)}}
		theta = 4 * math.Atan(o[0].Bulge)
		// θ - sin θ by its series.
		x := new(big.Float).SetPrec(200).SetFloat64(theta)
		term, sum := new(big.Float).Copy(x), new(big.Float).SetPrec(200)
		for n := int64(2); n < 80; n += 2 {
			term.Mul(term, x).Mul(term, x).Quo(term, new(big.Float).SetInt64(n*(n+1)))
			if n%4 == 2 {
				sum.Add(sum, term)
			} else {
				sum.Sub(sum, term)
			}
		}
		v, _ := sum.Float64()
		r := 1_000_000 / 2 / math.Sin(theta/2)
		if got, want := o.Area2(), r*r*v; math.Abs(got-want) > 1e-8*want {
			t.Fatalf("theta %v: twice the area is %v, want %v", theta, got, want)
		}
	})
}

func TestCircle(t *testing.T) {
	for _, d := range []length.Length{90 * mm, 2, 35 * mm, 1, 3175, length.Max - 1, length.Max} {
		o := Circle(d)
		b := o.Box()
		if b.Min != (geom.Point{}) || b.Max.X != d || b.Max.Y != d.EvenUp() {
			t.Errorf("the circle of %d units has the box %v", d, b)
		}
		if got := 2 * o.Radius(0); math.Abs(got-float64(d)) > 1e-6 {
			t.Errorf("the circle of %d units has the diameter %v", d, got)
		}
	}
}

func TestRoundedRectangle(t *testing.T) {
	r := 30 * mm
	for _, c := range []struct {
		name  string
		l, w  length.Length
		radii [4]length.Length
		edges []string // of the segments in order, "" an arc
	}{
		{"no radius", 200 * mm, 100 * mm, [4]length.Length{}, []string{"bottom", "right", "top", "left"}},
		{"all", 200 * mm, 100 * mm, [4]length.Length{r, r, r, r}, []string{"", "bottom", "", "right", "", "top", "", "left"}},
		{"lower left", 200 * mm, 100 * mm, [4]length.Length{r, 0, 0, 0}, []string{"", "bottom", "right", "top", "left"}},
		{"upper right", 200 * mm, 100 * mm, [4]length.Length{0, 0, r, 0}, []string{"bottom", "right", "", "top", "left"}},
		{"round right end", 200 * mm, 60 * mm, [4]length.Length{0, r, r, 0}, []string{"bottom", "", "", "top", "left"}},
		{"round left end", 200 * mm, 60 * mm, [4]length.Length{r, 0, 0, r}, []string{"", "bottom", "right", "top", ""}},
		{"circle", 60 * mm, 60 * mm, [4]length.Length{r, r, r, r}, []string{"", "", "", ""}},
	} {
		o := RoundedRectangle(c.l, c.w, c.radii)
		var edges []string
		for i, v := range o {
			edges = append(edges, v.Edge)
			if (v.Bulge != 0) != (v.Edge == "") {
				t.Errorf("%s: segment %d is named %q and has the bulge %v", c.name, i, v.Edge, v.Bulge)
			}
			if v.Bulge != 0 && math.Abs(o.Radius(i)-float64(r)) > 1e-6 {
				t.Errorf("%s: segment %d has the radius %v", c.name, i, o.Radius(i))
			}
		}
		if !slices.Equal(edges, c.edges) {
			t.Errorf("%s: segments %q, want %q", c.name, edges, c.edges)
		}
		if want := geom.BoxFromSize(geom.Point{}, geom.Pt(c.l, c.w)); o.Box() != want {
			t.Errorf("%s: box %v, want %v", c.name, o.Box(), want)
		}
		if err := o.Validate(); err != nil || o.Area2() <= 0 {
			t.Errorf("%s: %v, twice the area %v", c.name, err, o.Area2())
		}
		if o.Straight() != (c.radii == [4]length.Length{}) || o.IsRectangle() != o.Straight() {
			t.Errorf("%s: Straight %t, IsRectangle %t", c.name, o.Straight(), o.IsRectangle())
		}
	}
}

// TestSymmetries: mirror, reversal and turns come back to where they began, keep
// area and lengths, and keep the name of every segment with its shape.
func TestSymmetries(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var o Outline
		if rapid.Bool().Draw(t, "segment") {
			o = drawSegment(t)
		} else {
			o = drawPanel(t)
		}
		area, around := o.Area2(), o.Perimeter()
		near := func(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Abs(b) }
		if got := o.Reversed(); !slices.Equal(got.Reversed(), o) || !near(got.Area2(), -area) {
			t.Fatalf("%v reversed is %v", o, got)
		}
		if got := o.Flipped(); !slices.Equal(got.Flipped(), o) || !near(got.Area2(), area) {
			t.Fatalf("%v flipped is %v", o, got)
		}
		b := o.Box()
		f := o.Flipped().Box()
		if (f.Min.X+b.Max.X).Abs() > 1 || (f.Max.X+b.Min.X).Abs() > 1 || (f.Min.Y-b.Min.Y).Abs() > 1 || (f.Max.Y-b.Max.Y).Abs() > 1 {
			t.Fatalf("%v has the box %v, flipped %v", o, b, f)
		}
		turned := o
		for deg := 90; deg <= 360; deg += 90 {
			turned = turned.Turned(90)
			if !slices.Equal(turned, o.Turned(deg)) || !near(turned.Area2(), area) || (turned.Perimeter()-around).Abs() > 1 {
				t.Fatalf("%v turned by %d is %v", o, deg, turned)
			}
		}
		if !slices.Equal(turned, o) {
			t.Fatalf("%v is not itself after a full turn", o)
		}
		d := geom.Pt(length.Length(rapid.IntRange(-1000, 1000).Draw(t, "dx")), 5)
		if got := o.Translate(d); !slices.Equal(got.Translate(d.Neg()), o) || !near(got.Area2(), area) {
			t.Fatalf("%v moved by %v is %v", o, d, got)
		}
		if len(o) == 4 { // its sides have names
			want := map[string]length.Length{}
			for i, v := range o {
				want[v.Edge] = o.SegmentLength(i)
			}
			for _, q := range []Outline{o.Reversed(), o.Flipped(), o.Turned(90), o.Flipped().Turned(270)} {
				for i, v := range q {
					if got := q.SegmentLength(i); got != want[v.Edge] {
						t.Fatalf("side %s is %v long, want %v", v.Edge, got, want[v.Edge])
					}
				}
			}
		}
		sum := 0.0
		for i := range o {
			sum += float64(o.SegmentLength(i))
		}
		if math.Abs(sum-float64(around)) > float64(len(o)) {
			t.Fatalf("the segments of %v add up to %v, the perimeter is %v", o, sum, around)
		}
	})
}

// TestFlippedNames has the bottom stay the bottom and left and right change
// places.
func TestFlippedNames(t *testing.T) {
	o := RoundedRectangle(200*mm, 100*mm, [4]length.Length{0, 0, 40 * mm, 0}).Flipped()
	at := map[string][2]geom.Point{}
	for i, v := range o {
		a, b := o.ends(i)
		at[v.Edge] = [2]geom.Point{a, b}
	}
	for name, want := range map[string][2]geom.Point{
		"bottom": {geom.Pt(-200*mm, 0), geom.Pt(0, 0)},
		"right":  {geom.Pt(-200*mm, 60*mm), geom.Pt(-200*mm, 0)},
		"top":    {geom.Pt(0, 100*mm), geom.Pt(-160*mm, 100*mm)},
		"left":   {geom.Pt(0, 0), geom.Pt(0, 100*mm)},
	} {
		if at[name] != want {
			t.Errorf("%s runs from %v to %v, want %v", name, at[name][0], at[name][1], want)
		}
	}
}

func TestEmpty(t *testing.T) {
	var o Outline
	if o.Area2() != 0 || o.Perimeter() != 0 || o.Box() != (geom.Box{}) || !o.Straight() || o.IsRectangle() ||
		len(o.Cover(800)) != 0 || len(o.Core(800)) != 0 || len(o.Points(800)) != 0 || len(o.Flipped()) != 0 {
		t.Error("an empty outline is not empty in all respects")
	}
}
