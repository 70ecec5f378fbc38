package bound

import (
	"context"
	"math"
	"math/bits"
	"math/rand/v2"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// The carcass is 18 mm parts of a cabinet 600 x 720 x 560 (a worked example of
// common practice, no source): 1.5183 m2, 51 % of a sheet of 2440 x 1220. One is
// cut from a sheet, and two are 102 % of one.
func TestCarcass(t *testing.T) {
	const g = parts.AlongLength
	for n, sheets := range map[int]int{1: 1, 2: 2} {
		p := &nest.Problem{
			Cut: kerf.Saw,
			Parts: []nest.Part{
				part(2*n, 720*mm, 560*mm, g), part(n, 564*mm, 542*mm, g), part(2*n, 564*mm, 100*mm, g), part(n, 562*mm, 522*mm, g),
			},
			Stocks: []nest.Stock{stock(2440*mm, 1220*mm, 0, 90, parts.Unlimited)},
		}
		if b := Of(context.Background(), p); b.Sheets != sheets || b.Cost != int64(90*sheets) {
			t.Errorf("%d carcasses: %+v, want %d sheets", n, b, sheets)
		}
	}
}

// tiny is a bin-packing problem on squares of 1 mm, at most 32 of them a sheet.
type tiny struct {
	w, h int
	rect [][2]int
	turn bool
}

// fits reports whether the rectangles of a set can lie on one sheet, wherever.
func (b *tiny) fits(set int, taken uint32) bool {
	if set == 0 {
		return true
	}
	i := bits.TrailingZeros(uint(set))
	for turn := range 2 {
		w, h := b.rect[i][0], b.rect[i][1]
		if turn == 1 {
			if !b.turn || w == h {
				continue
			}
			w, h = h, w
		}
		for x := 0; x+w <= b.w; x++ {
			for y := 0; y+h <= b.h; y++ {
				var cells uint32
				for r := range h {
					cells |= (1<<w - 1) << (x + (y+r)*b.w)
				}
				if taken&cells == 0 && b.fits(set&^(1<<i), taken|cells) {
					return true
				}
			}
		}
	}
	return false
}

// least returns the fewest sheets, by trying every partition.
func (b *tiny) least() int {
	all := 1<<len(b.rect) - 1
	fits, best := make([]bool, all+1), make([]int, all+1)
	for set := 1; set <= all; set++ {
		fits[set] = b.fits(set, 0)
		best[set] = math.MaxInt32
		for sub := set; sub > 0; sub = (sub - 1) & set {
			if fits[sub] {
				best[set] = min(best[set], 1+best[set&^sub])
			}
		}
	}
	return best[all]
}

// Against the least number of sheets, found by trying everything.
func TestAgainstEverything(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	tight, stronger := 0, 0
	const n = 600
	for range n {
		b := tiny{w: 3 + rng.IntN(4), h: 3 + rng.IntN(2), turn: rng.IntN(2) == 0}
		grain := parts.AlongLength
		if b.turn {
			grain = parts.NoAxis
		}
		p := &nest.Problem{Cut: kerf.Saw, Stocks: []nest.Stock{stock(length.Length(b.w)*mm, length.Length(b.h)*mm, 0, 7, parts.Unlimited)}}
		p.Stocks[0].Grain = grain
		for range 1 + rng.IntN(5) {
			r := [2]int{1 + rng.IntN(b.w), 1 + rng.IntN(b.h)}
			b.rect = append(b.rect, r)
			p.Parts = append(p.Parts, part(1, length.Length(r[0])*mm, length.Length(r[1])*mm, grain))
		}
		want := b.least()
		for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
			p.Cut = cut
			got := Of(context.Background(), p)
			if got.Sheets > want || got.Cost > int64(7*want) {
				t.Fatalf("%v, %+v: bound %+v, %d sheets are enough", cut, b, got, want)
			}
			if got.Sheets == want {
				tight++
			}
			if got.Method == dualFeasible.String() {
				stronger++
			}
		}
	}
	t.Logf("%d of %d proved, %d by dual feasible functions", tight, 2*n, stronger)
	if tight < n || stronger < n/10 {
		t.Errorf("%d of %d proved, %d by dual feasible functions: weaker than it was", tight, 2*n, stronger)
	}
}

// wheel returns a ring around the middle of a square of side 2000, convex or not.
func wheel(rng *rand.Rand, round bool) geom.Ring {
	n := 3 + rng.IntN(9)
	var r geom.Ring
	for i := range n {
		a := (float64(i) + 0.3*rng.Float64()) / float64(n) * 2 * math.Pi
		l := 1000.0
		if !round {
			l *= 0.3 + 0.7*rng.Float64()
		}
		r = append(r, geom.Pt(length.Length(1000+l*math.Cos(a)), length.Length(1000+l*math.Sin(a))))
	}
	return r
}

// near reports whether a point is in a ring or within r of it.
func near(ring geom.Ring, x, y, r float64) bool {
	in := ring.Locate(geom.Pt(length.Length(x), length.Length(y))) != geom.Outside
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		ax, ay, dx, dy := float64(a.X), float64(a.Y), float64(b.X-a.X), float64(b.Y-a.Y)
		t := max(0, min(1, ((x-ax)*dx+(y-ay)*dy)/(dx*dx+dy*dy)))
		in = in || math.Hypot(x-ax-t*dx, y-ay-t*dy) <= r
	}
	return in
}

// The area of a grown shape is never overstated: counted on a raster. Steiner's
// formula is exact, the other one is a bound.
func TestSpread(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	for i := range 40 {
		ring := wheel(rng, i%2 == 0)
		gap := length.Length(2 * rng.IntN(400))
		_, spread := areas(geom.Polygon{Outer: ring}, gap, false)
		const step = 16
		count := 0
		for x := -800.0; x < 2800; x += step {
			for y := -800.0; y < 2800; y += step {
				if near(ring, x, y, float64(gap)/2) {
					count++
				}
			}
		}
		raster := float64(count) * step * step
		if spread > raster*1.02 {
			t.Errorf("%v grown by half of %d: %.0f, counted %.0f", ring, gap, spread, raster)
		}
		if convex(ring) && spread < raster*0.98 {
			t.Errorf("%v is convex, grown by half of %d: %.0f, counted %.0f", ring, gap, spread, raster)
		}
	}
}

// With a gap, panels count for more than their area. Three squares of 100 in a row
// need 320 with gaps of 10, so on a smaller sheet there are four at most, and nine
// take three sheets, though they have less area than one. Two triangles that make
// up a square of 100 do not fit it any more.
func TestGapCounts(t *testing.T) {
	squares := part(9, 100*mm, 100*mm, parts.NoAxis)
	triangles := part(2, 100*mm, 100*mm, parts.NoAxis)
	triangles.Shape.Outer = geom.Ring{geom.Pt(0, 0), geom.Pt(100*mm, 0), geom.Pt(0, 100*mm)}
	for _, c := range []struct {
		name   string
		cut    kerf.Cut
		gap    length.Length
		part   nest.Part
		side   length.Length
		sheets int
	}{
		{"routed", kerf.Router, 10 * mm, squares, 320 * mm, 1},
		{"routed, a row too many", kerf.Router, 10 * mm, squares, 310 * mm, 3},
		{"sawn", kerf.Saw, 10 * mm, squares, 320 * mm, 1},
		{"sawn, a row too many", kerf.Saw, 10 * mm, squares, 319 * mm, 3},
		{"triangles", kerf.Router, 0, triangles, 100 * mm, 1},
		{"triangles, a gap", kerf.Router, 10 * mm, triangles, 100 * mm, 2},
	} {
		p := &nest.Problem{
			Cut: c.cut, Gap: c.gap, Kerf: c.gap,
			Parts:  []nest.Part{c.part},
			Stocks: []nest.Stock{stock(c.side, c.side, 0, 1, parts.Unlimited)},
		}
		if b := Of(context.Background(), p); b.Sheets != c.sheets {
			t.Errorf("%s: %+v, want %d sheets", c.name, b, c.sheets)
		}
	}
}

// Shapes beside rectangles do not take the functions from the rectangles.
func TestMixedShapes(t *testing.T) {
	disc := part(1, 100*mm, 100*mm, parts.NoAxis)
	disc.Shape.Outer = geom.Ring{geom.Pt(0, 0), geom.Pt(100*mm, 0), geom.Pt(50*mm, 100*mm)}
	p := &nest.Problem{
		Cut: kerf.Router, Parts: []nest.Part{part(3, 1300*mm, 620*mm, parts.AlongLength), disc},
		Stocks: []nest.Stock{stock(2440*mm, 1220*mm, 0, 5, parts.Unlimited)},
	}
	if b := Of(context.Background(), p); b.Sheets != 3 || b.Method != dualFeasible.String() {
		t.Errorf("%+v, want 3 sheets, one for each large panel", b)
	}
}

// When ctx has ended, what is known by area is returned.
func TestEndedContext(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if b := Of(ctx, thousand()); b.Sheets == 0 || b.Method == dualFeasible.String() {
		t.Errorf("%+v", b)
	}
}
