package bound

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// rowsOf returns the patterns of the first kind of sheet, all as likely.
func rowsOf(t *choice) *rows {
	o := evenOdds(t)
	return newRows(t, o.of[0], o.logs)
}

// What patterns leave missing is the same in vectors, in plain code, and kind by kind.
func TestRows(t *testing.T) {
	rng := rand.New(rand.NewPCG(32, 4))
	for range 400 {
		kinds := 1 + rng.IntN(100)
		patterns := randomPatterns(rng, kinds, 1+rng.IntN(30))
		for i := range patterns {
			patterns[i][rng.IntN(kinds)] += rng.IntN(mostCopies - 9)
		}
		r := rowsOf(asked([]int{1}, make([]int, kinds), map[int][][]int{0: patterns}))
		if r.count != len(patterns) {
			t.Fatalf("%d rows of %d patterns", r.count, len(patterns))
		}
		lack, worth := make([]uint8, r.width), make([]int16, r.width)
		for k := range kinds {
			lack[k], worth[worthAt(k)] = uint8(rng.IntN(256)), int16(1+rng.IntN(mostWorth))
		}
		noise := make([]int32, len(r.columns))
		for i := range noise {
			noise[i] = rng.Int32N(200_000) - 100_000
		}
		vectors, plain := make([]int32, len(noise)), make([]int32, len(noise))
		least := int32(math.MaxInt32)
		a, b := r.least(vectors, lack, worth, noise), r.leastPlain(plain, lack, worth, noise)
		for i, c := range r.columns {
			sum := noise[i]
			for k, n := range patterns[c] {
				sum += int32(max(int(lack[k])-n, 0)) * int32(worth[worthAt(k)])
			}
			least = min(least, sum)
			if vectors[i] != sum || plain[i] != sum {
				t.Fatalf("pattern %d of %d with %d kinds: %d and %d, want %d", i, len(r.columns), kinds, vectors[i], plain[i], sum)
			}
		}
		if a != least || b != least {
			t.Fatalf("%d and %d, want %d", a, b, least)
		}
	}
}

// An unlikely pattern is drawn as if it had more energy, the more so the warmer it is; one that is
// certain is not. There is an end to it.
func TestBias(t *testing.T) {
	q := asked([]int{1}, []int{1, 1, 1}, map[int][][]int{0: {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}})
	r := newRows(q, []int32{0, 1, 2}, []float64{0, -2, -1000})
	for _, heat := range []float64{10, 1000} {
		r.bias(heat)
		if want := []int32{0, int32(2 * trust * heat), int32(-leastOdds * trust * heat), 0}; !slices.Equal(r.biases, want) {
			t.Errorf("%v, want %v", r.biases, want)
		}
	}
}

// Patterns that are dropped are met no more, and the last one cannot be.
func TestRowsDrop(t *testing.T) {
	q := asked([]int{1}, []int{1, 1, 1}, map[int][][]int{0: {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}})
	r := newRows(q, []int32{0, 1, 2}, []float64{-1, -2, -1000})
	if !r.drop(q, []int32{0, 2}) || r.count != 1 || r.columns[r.count-1] != 1 || r.copies[0] != 0 || r.copies[1] != 1 || r.odds[0] != -2 {
		t.Errorf("%+v", r)
	}
	if r.drop(q, []int32{1}) {
		t.Error("there are more")
	}
}

// As many patterns as are listed.
func BenchmarkLeast(b *testing.B) {
	rng := rand.New(rand.NewPCG(12, 32))
	const kinds = 30
	r := rowsOf(asked([]int{1}, make([]int, kinds), map[int][][]int{0: randomPatterns(rng, kinds, mostHeaviest[0])}))
	lack, worth := make([]uint8, rowBlock), make([]int16, rowBlock)
	for k := range kinds {
		lack[k], worth[k] = uint8(rng.IntN(4)), int16(1+rng.IntN(mostWorth))
	}
	values, noise := make([]int32, len(r.columns)), make([]int32, len(r.columns))
	b.Run("vectors", func(b *testing.B) {
		for b.Loop() {
			r.least(values, lack, worth, noise)
		}
	})
	b.Run("plain", func(b *testing.B) {
		for b.Loop() {
			r.leastPlain(values, lack, worth, noise)
		}
	})
}
