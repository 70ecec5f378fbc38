package bound

import (
	"math/rand/v2"
	"slices"
	"testing"

	"panelyard/parts"
	"panelyard/parts/length"
)

// byRecursion works a table out as its recursion says, value by value.
func byRecursion(t *table, weight []int32) [][]int32 {
	var f [][]int32
	for x := range t.x.points {
		f = append(f, make([]int32, len(t.y.points)))
		for y := range t.y.points {
			v := int32(0)
			if x > 0 {
				v = max(v, f[x-1][y])
			}
			if y > 0 {
				v = max(v, f[x][y-1])
			}
			for _, b := range t.blanks {
				if int(b.x) == x && int(b.y) == y {
					v = max(v, weight[b.kind])
				}
			}
			for _, c := range t.x.cuts[x] {
				v = max(v, f[c.a][y]+f[c.b][y])
			}
			for _, c := range t.y.cuts[y] {
				v = max(v, f[x][c.a]+f[x][c.b])
			}
			f[x][y] = v
		}
	}
	return f
}

// Tables filled in tiles are those of the recursion, with rasters from a few points to many, and
// so are those of a second filling.
func TestTiles(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	points := 0
	for range 300 {
		p := randomPricing(rng)
		for range 2 {
			duals := make([]float64, len(p.kinds))
			for k := range duals {
				duals[k] = rng.Float64()
			}
			weight, _ := p.fill(duals)
			for _, s := range p.tables {
				for x, row := range byRecursion(s, weight) {
					if !slices.Equal(s.row(int32(x)), row) {
						t.Fatalf("row %d of %d: %v, not %v", x, len(s.x.points), s.row(int32(x)), row)
					}
				}
				points = max(points, len(s.x.points), len(s.y.points))
			}
		}
	}
	if points < 10*lanes {
		t.Errorf("no raster has more than %d points", points)
	}
}

// randomPricing returns one of random kinds for random sheets, on rasters that count exactly or
// are about as fine as that.
func randomPricing(rng *rand.Rand) *pricing {
	sheets := make([]sheet, 1+rng.IntN(2))
	for j := range sheets {
		sheets[j] = sheet{w: length.Length(200 + rng.Int64N(400)), h: length.Length(100 + rng.Int64N(300)), cost: 1, available: parts.Unlimited}
	}
	kinds := make([]rectangle, 1+rng.IntN(6))
	for k := range kinds {
		a, b := 5+rng.Int64N(150), 5+rng.Int64N(90)
		kinds[k] = rectangle{w: length.Length(max(a, b)), h: length.Length(min(a, b)), copies: 3}
		for range sheets {
			kinds[k].ways = append(kinds[k].ways, byte(1+rng.IntN(3)))
		}
	}
	return newPricing(kinds, sheets, 1<<(8+rng.IntN(16)))
}
