package bound

import (
	"math"
	"math/rand/v2"
	"testing"
)

// All panels together weigh 1, whatever the weights and those that they lean to; a part of nothing
// leaves them as they are, and no panel weighs nothing where weights lean to areas.
func TestLeanedTo(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 98))
	for i := range 300 {
		p, _ := randomKinds(rng, 1+rng.IntN(30))
		weights, others := make([]float64, len(p.kinds)), make([]float64, len(p.kinds))
		sum := 0.0
		for k := range p.kinds {
			p.kinds[k].copies = float64(1 + rng.IntN(9))
			if k == 0 || rng.IntN(3) > 0 {
				weights[k] = 100 * rng.Float64()
			}
			others[k] = 0.1 + rng.Float64()
			sum += weights[k] * p.kinds[k].copies
		}
		all := 0.0
		same := leanedTo(p, weights, others, 0)
		for k, w := range leanedTo(p, weights, others, rng.Float64()) {
			all += w * p.kinds[k].copies
			if math.Abs(same[k]-weights[k]/sum) > 1e-12 {
				t.Errorf("case %d: kind %d weighs %v, want %v", i, k, same[k], weights[k]/sum)
			}
		}
		if math.Abs(all-1) > 1e-9 {
			t.Errorf("case %d: all weigh %v", i, all)
		}
		for k, w := range leaning(p, weights) {
			if w <= 0 {
				t.Errorf("case %d: kind %d weighs %v", i, k, w)
			}
		}
	}
}
