package bound

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"

	"panelyard/parts"
)

// The relaxation of the covering problem against the simplex method of gonum:
// minimise c·x with a·x - s = demand, x + t = available, all at least zero.
func TestRelaxedAgainstSimplex(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 9))
	compared := 0
	for range 400 {
		n := 1 + rng.IntN(5)
		kinds := make([]kind, n)
		room := 0.0
		for i := range kinds {
			kinds[i] = kind{float64(1 + rng.IntN(50)), int64(1 + rng.IntN(90)), 1 + rng.IntN(6)}
			room += kinds[i].capacity * float64(kinds[i].available)
			if rng.IntN(3) == 0 {
				kinds[i].available = parts.Unlimited
				room = math.Inf(1)
			}
		}
		demand := float64(1 + rng.IntN(200))
		if room < demand {
			continue
		}
		limited := 0
		for _, k := range kinds {
			if k.available != parts.Unlimited {
				limited++
			}
		}
		// Columns: the kinds, a surplus, and a slack for each limited kind.
		columns := n + 1 + limited
		a := mat.NewDense(1+limited, columns, nil)
		b := make([]float64, 1+limited)
		c := make([]float64, columns)
		b[0] = demand
		a.Set(0, n, -1)
		row := 1
		for i, k := range kinds {
			a.Set(0, i, k.capacity)
			c[i] = float64(k.cost)
			if k.available != parts.Unlimited {
				a.Set(row, i, 1)
				a.Set(row, n+row, 1)
				b[row] = float64(k.available)
				row++
			}
		}
		want, _, err := lp.Simplex(c, a, b, 1e-10, nil)
		if err != nil {
			t.Fatalf("simplex: %v", err)
		}
		if got := relaxed(demand, sorted(kinds)); got != int64(math.Ceil(want-1e-6)) {
			t.Errorf("%v of %v: %d, simplex finds %.6f", demand, kinds, got, want)
		}
		compared++
	}
	if compared < 200 {
		t.Errorf("only %d problems compared", compared)
	}
}
