package check

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// regionOf returns a region of copies of rings.
func regionOf(rings ...[]geom.Point) *region {
	var own [][]geom.Point
	for _, r := range rings {
		own = append(own, slices.Clone(r))
	}
	return newRegion(own)
}

func pt(x, y int) geom.Point { return geom.Point{X: length.Length(x), Y: length.Length(y)} }

// pts returns a ring of x, y pairs in units.
func pts(xy ...int) []geom.Point {
	var r []geom.Point
	for i := 0; i < len(xy); i += 2 {
		r = append(r, pt(xy[i], xy[i+1]))
	}
	return r
}

// TestPointNearer compares with big integers, up to the limit of coordinates.
func TestPointNearer(t *testing.T) {
	big64 := func(v length.Length) *big.Int { return big.NewInt(int64(v)) }
	slow := func(p, a, b geom.Point, gap length.Length) bool {
		mul := func(x, y *big.Int) *big.Int { return new(big.Int).Mul(x, y) }
		add := func(x, y *big.Int) *big.Int { return new(big.Int).Add(x, y) }
		sub := func(x, y *big.Int) *big.Int { return new(big.Int).Sub(x, y) }
		ux, uy := sub(big64(b.X), big64(a.X)), sub(big64(b.Y), big64(a.Y))
		vx, vy := sub(big64(p.X), big64(a.X)), sub(big64(p.Y), big64(a.Y))
		wx, wy := sub(big64(p.X), big64(b.X)), sub(big64(p.Y), big64(b.Y))
		g2 := mul(big64(gap), big64(gap))
		if add(mul(ux, vx), mul(uy, vy)).Sign() <= 0 {
			return add(mul(vx, vx), mul(vy, vy)).Cmp(g2) < 0
		}
		if add(mul(ux, wx), mul(uy, wy)).Sign() >= 0 {
			return add(mul(wx, wx), mul(wy, wy)).Cmp(g2) < 0
		}
		c := sub(mul(ux, vy), mul(uy, vx))
		return mul(c, c).Cmp(mul(g2, add(mul(ux, ux), mul(uy, uy)))) < 0
	}
	check := func(p, a, b geom.Point, gap length.Length) {
		t.Helper()
		if got, want := pointNearer(p, a, b, gap), slow(p, a, b, gap); got != want {
			t.Fatalf("pointNearer(%v, %v, %v, %d) = %t", p, a, b, gap, got)
		}
	}
	ends := []length.Length{-Limit, -Limit + 1, -1, 0, 1, Limit - 1, Limit}
	rnd := rand.New(rand.NewPCG(1, 1))
	one := func() length.Length {
		if rnd.IntN(2) == 0 {
			return ends[rnd.IntN(len(ends))]
		}
		return length.Length(rnd.Int64N(int64(2*Limit+1))) - Limit
	}
	near := 0
	for range 100_000 {
		p, a, b := geom.Point{X: one(), Y: one()}, geom.Point{X: one(), Y: one()}, geom.Point{X: one(), Y: one()}
		if a == b {
			continue
		}
		check(p, a, b, Limit)
		check(p, a, b, length.Length(rnd.Int64N(int64(Limit)))+1)
		// At the distance itself, and a unit either side of it.
		if d := length.Length(pointDistance(p, a, b)); d > 1 && d < Limit {
			for g := d - 1; g <= d+2; g++ {
				check(p, a, b, min(g, Limit))
			}
			near++
		}
	}
	if near < 30_000 {
		t.Errorf("only %d near cases", near)
	}
	// Ties: the 3-4-5 triangle, scaled to the limit. The foot of the
	// perpendicular from the origin on 3x+4y = 25k is (3k, 4k), 5k away.
	for _, k := range []int{1, 1000, int(Limit / 8)} {
		a, b := pt(7*k, k), pt(-k, 7*k)
		if pointNearer(pt(0, 0), a, b, length.Length(5*k)) || !pointNearer(pt(0, 0), a, b, length.Length(5*k+1)) {
			t.Errorf("5*%d from the origin is misjudged", k)
		}
	}
}

// TestOverlapTable holds the cases in which borders meet without an overlap, or
// overlap without crossing edges.
func TestOverlapTable(t *testing.T) {
	square := pts(0, 0, 8, 0, 8, 8, 0, 8)
	diamond := pts(4, 0, 8, 4, 4, 8, 0, 4)
	for _, c := range []struct {
		name string
		a, b *region
		want bool
	}{
		{"same square", regionOf(square), regionOf(square), true},
		{"same square with more corners", regionOf(square), regionOf(pts(0, 0, 3, 0, 8, 0, 8, 5, 8, 8, 0, 8)), true},
		{"same diamond", regionOf(diamond), regionOf(diamond), true},
		{"one edge shared", regionOf(square), regionOf(pts(8, 0, 12, 0, 12, 8, 8, 8)), false},
		{"edges shared in part", regionOf(square), regionOf(pts(8, -5, 12, -5, 12, 3, 8, 3)), false},
		{"corner on corner", regionOf(square), regionOf(pts(8, 8, 12, 8, 12, 12, 8, 12)), false},
		{"corner on an edge", regionOf(square), regionOf(pts(8, 4, 12, 0, 12, 8)), false},
		{"corner a unit inside", regionOf(square), regionOf(pts(7, 4, 12, 0, 12, 8)), true},
		{"diamond in the square, touching it", regionOf(square), regionOf(diamond), true},
		{"square in the square", regionOf(square), regionOf(pts(2, 2, 6, 2, 6, 6, 2, 6)), true},
		{"square in the square, sharing an edge", regionOf(square), regionOf(pts(2, 0, 6, 0, 6, 6, 2, 6)), true},
		{"square in the square, sharing a corner", regionOf(square), regionOf(pts(0, 0, 6, 0, 6, 6, 0, 6)), true},
		// All corners of both lie on the other's border, and no edges cross properly.
		{"diamond through corners", regionOf(pts(0, 4, 4, 0, 8, 4, 4, 8)), regionOf(pts(0, 4, 2, 2, 6, 2, 8, 4, 6, 6, 2, 6)), true},
		{"wedges crossing in their corners", regionOf(pts(0, 0, 8, 0, 4, 4)), regionOf(pts(4, 4, 8, 8, 0, 8)), false},
		{"vertex passing through a vertex", regionOf(pts(0, 0, 4, 4, 0, 8)), regionOf(pts(8, 0, 8, 8, 4, 4)), false},
		{"crossing at vertices only", regionOf(pts(4, 0, 6, 4, 4, 8, 2, 4)), regionOf(pts(0, 4, 2, 4, 4, 3, 6, 4, 8, 4, 6, 5, 2, 5)), true},
		{"through a notch, vertex on vertex", regionOf(pts(0, 0, 8, 0, 4, 4, 8, 8, 0, 8)), regionOf(pts(8, 2, 8, 6, 4, 4)), false},
		{"filling the notch", regionOf(pts(0, 0, 8, 0, 4, 4, 8, 8, 0, 8)), regionOf(pts(8, 0, 8, 8, 4, 4)), false},
		{"overfilling the notch", regionOf(pts(0, 0, 8, 0, 4, 4, 8, 8, 0, 8)), regionOf(pts(8, 0, 8, 8, 3, 4)), true},
		{"in a hole", regionOf(square, pts(2, 2, 2, 6, 6, 6, 6, 2)), regionOf(pts(3, 3, 5, 3, 5, 5, 3, 5)), false},
		{"filling the hole", regionOf(square, pts(2, 2, 2, 6, 6, 6, 6, 2)), regionOf(pts(2, 2, 6, 2, 6, 6, 2, 6)), false},
		{"touching the hole in corners", regionOf(square, pts(2, 2, 2, 6, 6, 6, 6, 2)), regionOf(pts(4, 2, 6, 4, 4, 6, 2, 4)), false},
		{"over the edge of the hole", regionOf(square, pts(2, 2, 2, 6, 6, 6, 6, 2)), regionOf(pts(1, 3, 5, 3, 5, 5, 1, 5)), true},
		{"covering the hole", regionOf(square, pts(2, 2, 2, 6, 6, 6, 6, 2)), regionOf(square), true},
		{"same ring", regionOf(square, pts(2, 2, 2, 6, 6, 6, 6, 2)), regionOf(square, pts(2, 2, 2, 6, 6, 6, 6, 2)), true},
		{"a ring in a ring's hole", regionOf(square, pts(1, 1, 1, 7, 7, 7, 7, 1)), regionOf(pts(1, 1, 7, 1, 7, 7, 1, 7), pts(2, 2, 2, 6, 6, 6, 6, 2)), false},
		{"middle half way between two units", regionOf(pts(0, 0, 1, 0, 0, 1)), regionOf(pts(1, 0, 1, 1, 0, 1)), false},
		{"the same triangle", regionOf(pts(0, 0, 1, 0, 0, 1)), regionOf(pts(0, 0, 1, 0, 1, 1, 0, 1)), true},
		// A slit: the ring runs in and out along one line.
		{"across a slit", regionOf(pts(0, 0, 8, 0, 8, 8, 4, 8, 4, 4, 4, 8, 0, 8)), regionOf(pts(4, 5, 7, 5, 7, 7, 4, 7)), true},
	} {
		var m meeter
		if got := m.overlap(c.a, c.b); got != c.want {
			t.Errorf("%s: %t", c.name, got)
		}
		if got := m.overlap(c.b, c.a); got != c.want {
			t.Errorf("%s, swapped: %t", c.name, got)
		}
	}
}

// hull returns the convex hull of points, counter-clockwise, without points in
// its edges (monotone chain, folklore).
func hull(p []geom.Point) []geom.Point {
	slices.SortFunc(p, func(a, b geom.Point) int {
		if a.X != b.X {
			return sign(int64(a.X - b.X))
		}
		return sign(int64(a.Y - b.Y))
	})
	var out []geom.Point
	for range 2 {
		base := len(out)
		for _, q := range p {
			for len(out) >= base+2 && cross(out[len(out)-2], out[len(out)-1], q) <= 0 {
				out = out[:len(out)-1]
			}
			out = append(out, q)
		}
		out = out[:len(out)-1]
		slices.Reverse(p)
	}
	return out
}

// separated reports whether the interiors of two convex polygons are disjoint:
// then an edge of one has the other on its outer side (separating axis theorem).
func separated(a, b []geom.Point) bool {
	for range 2 {
		for i, p := range a {
			q := a[(i+1)%len(a)]
			if !slices.ContainsFunc(b, func(r geom.Point) bool { return cross(p, q, r) > 0 }) {
				return true
			}
		}
		a, b = b, a
	}
	return false
}

// TestOverlapConvex compares with the separating axis theorem on small grids,
// where touching is the rule.
func TestOverlapConvex(t *testing.T) {
	rnd := rand.New(rand.NewPCG(2, 2))
	var m meeter
	verdicts := map[bool]int{}
	for n := 0; n < 60_000; {
		grid := 3 + rnd.IntN(6)
		convex := func() []geom.Point {
			var p []geom.Point
			for range 3 + rnd.IntN(6) {
				p = append(p, pt(rnd.IntN(grid+1), rnd.IntN(grid+1)))
			}
			return hull(p)
		}
		a, b := convex(), convex()
		if len(a) < 3 || len(b) < 3 {
			continue
		}
		n++
		want := !separated(a, b)
		if got := m.overlap(regionOf(a), regionOf(b)); got != want {
			t.Fatalf("%v and %v: %t", a, b, got)
		}
		verdicts[want]++
	}
	if verdicts[true] < 1000 || verdicts[false] < 1000 {
		t.Errorf("lopsided sample: %v", verdicts)
	}
}

// columns is a rectilinear shape without float or predicate: a column of unit
// cells lo <= y < hi at each x, the columns of neighbours overlapping, and holes
// of one cell.
type columns struct {
	x, y   int
	lo, hi []int
	holes  [][2]int
}

func randomColumns(rnd *rand.Rand, grid int) columns {
	c := columns{x: rnd.IntN(grid), y: rnd.IntN(grid)}
	for i := range 1 + rnd.IntN(5) {
		lo, hi := rnd.IntN(5), 0
		hi = lo + 1 + rnd.IntN(5)
		if i > 0 && (lo >= c.hi[i-1] || hi <= c.lo[i-1]) {
			lo, hi = c.lo[i-1], c.hi[i-1]
		}
		c.lo, c.hi = append(c.lo, lo), append(c.hi, hi)
	}
	for i := 1; i+1 < len(c.lo); i++ {
		// Where all eight neighbours are cells too.
		lo := max(c.lo[i-1], c.lo[i], c.lo[i+1]) + 1
		hi := min(c.hi[i-1], c.hi[i], c.hi[i+1]) - 1
		if lo < hi && rnd.IntN(2) == 0 && (len(c.holes) == 0 || c.holes[len(c.holes)-1][0] < i-1) {
			c.holes = append(c.holes, [2]int{i, lo})
		}
	}
	return c
}

// cells lists the cells by their lower left corners.
func (c columns) cells() map[[2]int]bool {
	set := map[[2]int]bool{}
	for i := range c.lo {
		for y := c.lo[i]; y < c.hi[i]; y++ {
			if !slices.Contains(c.holes, [2]int{i, y}) {
				set[[2]int{c.x + i, c.y + y}] = true
			}
		}
	}
	return set
}

// region returns the outline, with points in straight edges kept.
func (c columns) region() *region {
	var outer []geom.Point
	for i := range c.lo {
		outer = append(outer, pt(c.x+i, c.y+c.lo[i]), pt(c.x+i+1, c.y+c.lo[i]))
	}
	for i := len(c.lo) - 1; i >= 0; i-- {
		outer = append(outer, pt(c.x+i+1, c.y+c.hi[i]), pt(c.x+i, c.y+c.hi[i]))
	}
	rings := [][]geom.Point{slices.Compact(outer)}
	for _, h := range c.holes {
		x, y := c.x+h[0], c.y+h[1]
		rings = append(rings, pts(x, y, x, y+1, x+1, y+1, x+1, y))
	}
	return newRegion(rings)
}

// TestCells compares overlap and gap with shapes made of unit cells: they
// overlap if they share a cell, and their distance is that of two cells.
func TestCells(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 3))
	var m meeter
	var overlaps, ties, holes int
	for range 20_000 {
		grid := 3 + rnd.IntN(12)
		c, d := randomColumns(rnd, grid), randomColumns(rnd, grid)
		holes += len(c.holes)
		least, shared := math.MaxInt, false
		other := d.cells()
		for p := range c.cells() {
			for q := range other {
				dx, dy := max(0, abs(p[0]-q[0])-1), max(0, abs(p[1]-q[1])-1)
				least = min(least, dx*dx+dy*dy)
				shared = shared || p == q
			}
		}
		a, b := c.region(), d.region()
		if got := m.overlap(a, b); got != shared {
			t.Fatalf("overlap of %+v and %+v: %t", c, d, got)
		}
		if shared {
			overlaps++
			least = -1
		}
		for gap := 1; gap <= 6; gap++ {
			want := least < gap*gap
			if got := m.nearer(a, b, length.Length(gap)); got != want {
				t.Fatalf("%+v and %+v nearer than %d: %t, distance^2 is %d", c, d, gap, got, least)
			}
			if least == gap*gap {
				ties++
			}
		}
	}
	if overlaps < 1000 || ties < 1000 || holes < 1000 {
		t.Errorf("thin sample: %d overlaps, %d ties, %d holes", overlaps, ties, holes)
	}
}

func abs(v int) int { return max(v, -v) }

// star returns a polygon whose corners go once round a centre, or nil when
// rounding spoiled it.
func star(rnd *rand.Rand, cx, cy, r float64, n int) []geom.Point {
	var p []geom.Point
	for i := range n {
		a := 2 * math.Pi * (float64(i) + 0.8*rnd.Float64()) / float64(n)
		d := r * (0.35 + 0.65*rnd.Float64())
		p = append(p, pt(int(math.Round(cx+d*math.Cos(a))), int(math.Round(cy+d*math.Sin(a)))))
	}
	return slices.Compact(p)
}

// feature returns rings as a polygon of the reference library.
func feature(rings ...[]geom.Point) sf.Polygon {
	var lines []sf.LineString
	for _, r := range rings {
		var xy []float64
		for i := range len(r) + 1 {
			p := r[i%len(r)]
			xy = append(xy, float64(p.X), float64(p.Y))
		}
		lines = append(lines, sf.NewLineString(sf.NewSequence(xy, sf.DimXY)))
	}
	return sf.NewPolygon(lines)
}

// TestAgainstLibrary compares with simplefeatures, which computes in float64: the
// area of the intersection and the distance of random stars, some with a hole.
//
// Near ties it cannot decide and is not asked: an intersection between 0 and
// 1e-9 of the smaller shape, and a gap within 1e-6 of the distance, relative.
func TestAgainstLibrary(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 4))
	var m meeter
	var done, overlaps, apart, failed int
	for done < 2500 {
		scale := []float64{12, 100, 1e4, 1e7}[rnd.IntN(4)]
		rings := func() ([][]geom.Point, sf.Polygon) {
			for {
				cx, cy, n := scale*4*rnd.Float64(), scale*3*rnd.Float64(), 3+rnd.IntN(20)
				rings := [][]geom.Point{star(rnd, cx, cy, scale, n)}
				if rnd.IntN(3) == 0 {
					rings = append(rings, star(rnd, cx, cy, scale*0.3, 3+rnd.IntN(6)))
				}
				if slices.ContainsFunc(rings, func(r []geom.Point) bool { return len(r) < 3 }) {
					continue
				}
				if f := feature(rings...); f.Validate() == nil {
					return rings, f
				}
			}
		}
		ra, fa := rings()
		rb, fb := rings()
		a, b := regionOf(ra...), regionOf(rb...)
		both, err := sf.Intersection(fa.AsGeometry(), fb.AsGeometry())
		if err != nil {
			failed++ // the library's, seldom: counted below
			continue
		}
		done++
		share := both.Area() / min(fa.Area(), fb.Area())
		got := m.overlap(a, b)
		if share > 1e-9 && !got || share == 0 && got {
			t.Fatalf("overlap of %v and %v: %t, the library shares %g", ra, rb, got, share)
		}
		if got {
			overlaps++
			if !m.nearer(a, b, 1) {
				t.Fatalf("%v and %v overlap and keep a gap", ra, rb)
			}
			continue
		}
		d, _ := sf.Distance(fa.AsGeometry(), fb.AsGeometry())
		if below := length.Length(math.Floor(d * (1 - 1e-6))); below >= 1 && m.nearer(a, b, below) {
			t.Fatalf("%v and %v are not %d apart, the library says %v", ra, rb, below, d)
		}
		above := length.Length(math.Floor(d*(1+1e-6))) + 1
		if !m.nearer(a, b, above) {
			t.Fatalf("%v and %v are %d apart, the library says %v", ra, rb, above, d)
		}
		if got := m.distance(a, b, above); math.Abs(got-d) > 1e-6*(1+d) {
			t.Fatalf("%v and %v are said to be %v apart, the library says %v", ra, rb, got, d)
		}
		apart++
	}
	if overlaps < 300 || apart < 300 || failed > 25 {
		t.Errorf("thin sample: %d overlap, %d apart, %d failed in the library", overlaps, apart, failed)
	}
}

// TestDeepOverlap: with a free turn faults up to the tolerance are forgiven, and
// no larger ones, however the shapes lie.
func TestDeepOverlap(t *testing.T) {
	var m meeter
	const s = 1_000_000
	rnd := rand.New(rand.NewPCG(5, 5))
	square := func(deg int, cx, cy float64) []geom.Point {
		c, d := math.Cos(float64(deg)*math.Pi/180), math.Sin(float64(deg)*math.Pi/180)
		var r []geom.Point
		for _, p := range [][2]float64{{-s, -s}, {s, -s}, {s, s}, {-s, s}} {
			r = append(r, pt(int(math.Round(cx+p[0]*c-p[1]*d)), int(math.Round(cy+p[0]*d+p[1]*c))))
		}
		return r
	}
	for deg := 1; deg < 90; deg += 4 {
		a := regionOf(square(deg, 0, 0))
		c, d := math.Cos(float64(deg)*math.Pi/180), math.Sin(float64(deg)*math.Pi/180)
		for _, depth := range []float64{-1, 0, 0.4, 1, 3.6, 5, 1000} {
			// Side by side along a slanting edge, shifted along it at will.
			u, v := 2*s-depth, (rnd.Float64()-0.5)*2*s
			b := regionOf(square(deg, u*c-v*d, u*d+v*c))
			if got, want := m.overlapDeeply(a, b), depth > 3; got != want {
				t.Errorf("turned by %d, %v deep: %t", deg, depth, got)
			}
		}
		for name, b := range map[string]*region{
			"in one place":        a,
			"almost in one place": regionOf(square(deg, 0.7, 0.7)),
			"one in the other":    regionOf(pts(-1000, -1000, 1000, -1000, 0, 1000)),
			"across":              regionOf(pts(-3*s, -10, 3*s, -10, 3*s, 10, -3*s, 10)),
		} {
			if !m.overlapDeeply(a, b) || !m.overlapDeeply(b, a) {
				t.Errorf("turned by %d, %s: no overlap", deg, name)
			}
		}
		hole := regionOf(square(0, 0, 0), pts(-10, -10, -10, 10, 10, 10, 10, -10))
		if m.overlapDeeply(hole, regionOf(pts(-11, -10, 10, -10, 10, 10, -10, 10))) {
			t.Error("a plug a unit too large is refused")
		}
		if !m.overlapDeeply(hole, regionOf(pts(-14, -14, 14, -14, 14, 14, -14, 14))) {
			t.Error("a plug four units too large is accepted")
		}
	}
}

// TestFreeTurn checks a free turn against the rule written out in big floats.
func TestFreeTurn(t *testing.T) {
	rnd := rand.New(rand.NewPCG(6, 6))
	for deg := 1; deg < 360; deg++ {
		turn := turner(deg)
		for range 50 {
			p := pt(rnd.IntN(1<<29)-1<<28, rnd.IntN(1<<29)-1<<28)
			q := turn(p)
			r := math.Hypot(float64(p.X), float64(p.Y))
			a := math.Atan2(float64(p.Y), float64(p.X)) + float64(deg)*math.Pi/180
			if math.Abs(float64(q.X)-r*math.Cos(a)) > 0.51 || math.Abs(float64(q.Y)-r*math.Sin(a)) > 0.51 {
				t.Fatalf("%v turned by %d is %v", p, deg, q)
			}
			// The documented transform of geom gives the same points.
			if want := p.Turned(deg); q != want {
				t.Fatalf("%v turned by %d is %v, geom says %v", p, deg, q, want)
			}
		}
	}
	if got := roundAway(-2.5); got != -3 {
		t.Error(fmt.Sprint("-2.5 rounds to ", int64(got)))
	}
}
