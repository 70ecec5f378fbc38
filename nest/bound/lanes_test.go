package bound

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// Lanes give what plain code gives.
func TestBest8(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	for range 2000 {
		n := 1 + rng.IntN(40)
		values, cuts := randomCuts(rng, n, rng.IntN(12))
		var a, b [lanes]int32
		for i := range a {
			a[i] = rng.Int32N(1 << 30)
		}
		b = a
		best8(&a, values, cuts)
		best8Plain(&b, values, cuts)
		if a != b {
			t.Fatalf("%v, plain %v", a, b)
		}
	}
}

// Losses are lowered in lanes as in plain code.
func TestLower8(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 9))
	for range 2000 {
		n := 1 + rng.IntN(40)
		values, cuts := randomCuts(rng, n, rng.IntN(12))
		a, _ := randomCuts(rng, n, 0)
		b := slices.Clone(a)
		var whole [lanes]int32
		for i := range whole {
			whole[i] = rng.Int32N(1 << 30)
		}
		lower8(a, values, cuts, &whole)
		lower8Plain(b, values, cuts, &whole)
		if !slices.Equal(a, b) {
			t.Fatalf("%v, plain %v", a, b)
		}
	}
}

// randomCuts returns the lanes of n points, and cuts of them.
func randomCuts(rng *rand.Rand, n, cuts int) ([]int32, []pair) {
	values := make([]int32, n*lanes)
	for i := range values {
		values[i] = rng.Int32N(1 << 29)
	}
	list := make([]pair, cuts)
	for i := range list {
		list[i] = pair{rng.Int32N(int32(n)), rng.Int32N(int32(n))}
	}
	return values, list
}

func BenchmarkBest8(b *testing.B) {
	values, cuts := randomCuts(rand.New(rand.NewPCG(1, 1)), 1000, 200)
	var best [lanes]int32
	b.Run("vectors", func(b *testing.B) {
		for b.Loop() {
			best8(&best, values, cuts)
		}
	})
	b.Run("plain", func(b *testing.B) {
		for b.Loop() {
			best8Plain(&best, values, cuts)
		}
	})
}

// A table of a job without grain.
func BenchmarkFill(b *testing.B) {
	q, areas := boards(88, 30+87*67%271, 4, columnWork/fillings*finer)
	for b.Loop() {
		q.fill(areas)
	}
}
