package bound

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/optimize"
)

// evenOdds returns odds by which all patterns of a question are as likely.
func evenOdds(t *choice) *odds {
	return &odds{choice: t, of: t.ofSheets(), logs: make([]float64, len(t.columns))}
}

// The die of Jaynes, "Where do we stand on maximum entropy?", in The Maximum Entropy Formalism,
// 1978 (from memory): its spots are 4.5 in the mean.
func TestOddsOfDie(t *testing.T) {
	die := [][]int{{1}, {2}, {3}, {4}, {5}, {6}}
	o := newOdds(asked([]int{2}, []int{9}, map[int][][]int{0: die}))
	for i, want := range []float64{0.05435, 0.07877, 0.11416, 0.16545, 0.23977, 0.34749} {
		if p := math.Exp(o.logs[i]); math.Abs(p-want) > 2e-4 {
			t.Errorf("%d spots have %.5f, want %.5f", i+1, p, want)
		}
	}
	// Of fewer than all dice have in the mean nothing follows.
	o = newOdds(asked([]int{2}, []int{6}, map[int][][]int{0: die}))
	if p := math.Exp(o.logs[0]); math.Abs(p-1.0/6) > 1e-9 || o.tilt[0] != 0 {
		t.Errorf("a probability of %.5f and a tilt of %.5f, want a sixth and none", p, o.tilt[0])
	}
}

// hidden returns a question whose patterns hold what is wanted.
func hidden(rng *rand.Rand, kinds, patterns int, mix []int) *choice {
	wanted, all := make([]int, kinds), map[int][][]int{}
	for j := range mix {
		all[j] = randomPatterns(rng, kinds, patterns)
		for range mix[j] {
			for k, n := range all[j][rng.IntN(patterns)] {
				wanted[k] += n
			}
		}
	}
	return asked(mix, wanted, all)
}

// In the mean sheets have what is wanted, and no more where it is the tilt that makes it so. No
// tilts are better, as BFGS of gonum finds them.
func TestOdds(t *testing.T) {
	rng := rand.New(rand.NewPCG(19, 57))
	for i := range 40 {
		q := hidden(rng, 2+rng.IntN(5), 60+rng.IntN(100), []int{3 + rng.IntN(5), 1 + rng.IntN(4)})
		o := newOdds(q)
		if !o.some {
			t.Fatalf("case %d: no odds", i)
		}
		for k, n := range q.wanted {
			mean, all := 0.0, make([]float64, len(q.mix))
			for c := range q.columns {
				p := math.Exp(o.logs[c])
				mean += p * float64(q.row(int32(c))[k]) * float64(q.mix[q.columns[c].sheet])
				all[q.columns[c].sheet] += p
			}
			if mean < float64(n)-2*oddsGap || o.tilt[k] > 0 && mean > float64(n)+2*oddsGap {
				t.Errorf("case %d: %.4f of kind %d in the mean with a tilt of %.4f, %d are wanted", i, mean, k, o.tilt[k], n)
			}
			for j, sum := range all {
				if math.Abs(sum-1) > 1e-9 {
					t.Errorf("case %d: patterns of sheet %d have %.9f together", i, j, sum)
				}
			}
		}
		tilts := func(x []float64) []float64 {
			tilt := make([]float64, len(x))
			for k := range x {
				tilt[k] = x[k] * x[k]
			}
			return tilt
		}
		start := make([]float64, len(q.wanted))
		for k := range start {
			start[k] = 0.5
		}
		w := evenOdds(q)
		problem := optimize.Problem{
			Func: func(x []float64) float64 { return w.value(tilts(x)) },
			Grad: func(grad, x []float64) {
				w.value(tilts(x))
				gap, _ := w.slopes()
				for k := range grad {
					grad[k] = 2 * x[k] * gap[k]
				}
			},
		}
		r, err := optimize.Minimize(problem, start, nil, &optimize.BFGS{})
		if r == nil {
			t.Fatal(err)
		}
		if v := o.value(o.tilt); v > r.F+1e-5 {
			t.Errorf("case %d: %.7f, gonum finds %.7f", i, v, r.F)
		}
	}
}

// Where patterns hold what is wanted there are odds, and where they cannot there are none.
func TestOddsOfNone(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 200))
	for i := range 2000 {
		kinds := 1 + rng.IntN(8)
		q := hidden(rng, kinds, 1+rng.IntN(40), []int{1 + rng.IntN(6), rng.IntN(3)})
		if !newOdds(q).some {
			t.Fatalf("case %d: there are no odds of a plan", i)
		}
		k, most, sheets := rng.IntN(kinds), make([]int, 2), 0
		for c := range q.columns {
			j := q.columns[c].sheet
			most[j] = max(most[j], int(q.row(int32(c))[k]))
		}
		for j, n := range q.mix {
			sheets += n * most[j]
		}
		q.wanted[k] = sheets + 1
		if newOdds(q).some {
			t.Fatalf("case %d: there are odds of what cannot be", i)
		}
	}
	if newOdds(asked([]int{1, 1}, []int{1}, map[int][][]int{0: {{1}}})).some {
		t.Error("there are odds of a sheet without a pattern")
	}
}

// The likeliest patterns have their share and none more than they need; those left out are no
// likelier.
func TestLikeliest(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 7))
	for i := range 200 {
		q := hidden(rng, 2+rng.IntN(5), 20+rng.IntN(200), []int{2 + rng.IntN(5), 1 + rng.IntN(5)})
		o := newOdds(q)
		share := 0.3 + 0.69*rng.Float64()
		for j, list := range o.likeliest(share) {
			sum, least := 0.0, math.Inf(1)
			for _, c := range list {
				sum += math.Exp(o.logs[c])
				least = min(least, o.logs[c])
			}
			if sum < share-1e-9 || sum-math.Exp(least) > share+1e-9 {
				t.Fatalf("case %d: %d patterns have %.4f, want %.4f", i, len(list), sum, share)
			}
			for _, c := range o.of[j] {
				if !slices.Contains(list, c) && o.logs[c] > least+1e-9 {
					t.Fatalf("case %d: pattern %d is left out, and likelier", i, c)
				}
			}
		}
	}
}
