package bound

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// odds are how likely each pattern is to be on a sheet, of all the ways to give each sheet of a
// mix a pattern at random the one that says least and in the mean has what is wanted: the
// distribution of greatest entropy, of Jaynes, "Information theory and statistical mechanics",
// Physical Review 106, 1957 (from memory). A pattern has a probability that goes with
//
//	exp(sum of tilt[k] * copies of kind k)
//
// of the tilts, none below 0, that make this least, over the kinds of sheet with n sheets each:
//
//	sum of n * log(sum of exp(...) over its patterns) - sum of tilt[k] * wanted[k]
//
// Each way that holds all adds at least 1 to what that is the logarithm of. So where it is below
// 0 there is none, and tilts tell which kinds are in want.
//
// Of 12,000 patterns some 100 to 3,000 mostly have nine tenths of all probability on a kind of
// sheet, and plans are found among those 3 to 100 times as soon.
type odds struct {
	*choice
	of   [][]int32 // patterns of each kind of sheet
	tilt []float64
	logs []float64 // of all patterns, the logarithms of their probabilities
	some bool      // there are any: the patterns may hold what is wanted

	ranked [][]int32 // patterns of each kind of sheet, the likeliest first, once they were asked for
}

const (
	// oddsSteps is how many steps of Newton's method are done at most, and oddsGap how many
	// copies may be missing in the mean after the last one.
	oddsSteps, oddsGap = 100, 1e-3
	// impossible is the value below which there is no way, with something for rounding, and
	// hopeless one at which nothing better is sought.
	impossible, hopeless = -1e-3, -200
)

// newOdds returns the odds of all patterns.
func newOdds(t *choice) *odds {
	o := &odds{choice: t, of: t.ofSheets(), tilt: make([]float64, len(t.wanted)), logs: make([]float64, len(t.columns))}
	o.solve()
	return o
}

// ofSheets returns the patterns of each kind of sheet of the mix.
func (t *choice) ofSheets() [][]int32 {
	of := make([][]int32, len(t.mix))
	for c := range t.columns {
		if j := t.columns[c].sheet; t.mix[j] > 0 {
			of[j] = append(of[j], int32(c))
		}
	}
	return of
}

// among returns the odds where there are some of the patterns only.
func (o *odds) among(of [][]int32) *odds {
	n := &odds{choice: o.choice, of: of, tilt: slices.Clone(o.tilt), logs: make([]float64, len(o.logs))}
	n.solve()
	return n
}

// likeliest returns for each kind of sheet the likeliest patterns, as many as have a share of all
// probability together, in the order of patterns.
func (o *odds) likeliest(share float64) [][]int32 {
	if o.ranked == nil {
		for _, columns := range o.of {
			all := slices.Clone(columns)
			slices.SortStableFunc(all, func(a, b int32) int { return cmp.Compare(o.logs[b], o.logs[a]) })
			o.ranked = append(o.ranked, all)
		}
	}
	list := make([][]int32, len(o.of))
	for j, all := range o.ranked {
		sum, n := 0.0, 0
		for ; n < len(all) && sum < share; n++ {
			sum += math.Exp(o.logs[all[n]])
		}
		list[j] = slices.Clone(all[:n])
		slices.Sort(list[j])
	}
	return list
}

// solve seeks the tilts by Newton's method, damped as in Marquardt, "An algorithm for
// least-squares estimation of nonlinear parameters", Journal of the Society for Industrial and
// Applied Mathematics 11, 1963 (from memory).
func (o *odds) solve() {
	for j, n := range o.mix {
		if n > 0 && len(o.of[j]) == 0 {
			return
		}
	}
	value, damping := o.value(o.tilt), 0.1
	for range oddsSteps {
		if value < hopeless || o.spent() {
			return
		}
		gap, curve := o.slopes()
		most := 0.0
		for k, g := range gap {
			if !o.held(k, g) {
				most = max(most, math.Abs(g))
			}
		}
		if most < oddsGap || damping > 1e6 {
			break
		}
		next, lower := o.next(gap, curve, damping, value)
		if next == nil {
			o.value(o.tilt) // its logarithms again
			damping *= 10
			continue
		}
		o.tilt, value = next, lower
		damping = max(damping/3, 1e-9)
	}
	o.some = value >= impossible
}

// held reports whether a tilt stays at 0, because there is more of the kind than wanted.
func (o *odds) held(k int, gap float64) bool { return o.tilt[k] <= 0 && gap > 0 }

// value returns what is to be made least, and keeps the logarithms of the probabilities.
func (o *odds) value(tilt []float64) float64 {
	value := 0.0
	for k, n := range o.wanted {
		value -= tilt[k] * float64(n)
	}
	for j, columns := range o.of {
		if o.mix[j] == 0 {
			continue
		}
		top := math.Inf(-1)
		for _, c := range columns {
			e := 0.0
			for _, s := range o.columns[c].shares {
				e += tilt[s.kind] * float64(s.copies)
			}
			o.logs[c] = e
			top = max(top, e)
			*o.work += len(o.columns[c].shares)
		}
		sum := 0.0
		for _, c := range columns {
			sum += math.Exp(o.logs[c] - top)
		}
		all := top + math.Log(sum)
		for _, c := range columns {
			o.logs[c] -= all
		}
		*o.work += 20 * len(columns)
		value += float64(o.mix[j]) * all
	}
	return value
}

// slopes returns how many copies of each kind there are more than wanted in the mean, and how
// these go together: the covariances, summed over all sheets.
func (o *odds) slopes() (gap []float64, curve *mat.SymDense) {
	const none = 1e-14 // too little to count
	kinds := len(o.wanted)
	gap, sums := make([]float64, kinds), make([]float64, kinds*kinds)
	for k, n := range o.wanted {
		gap[k] = -float64(n)
	}
	mean := make([]float64, kinds)
	for j, columns := range o.of {
		n := float64(o.mix[j])
		clear(mean)
		for _, c := range columns {
			p := math.Exp(o.logs[c])
			if p < none {
				continue
			}
			shares := o.columns[c].shares
			for i, a := range shares {
				x := p * float64(a.copies)
				mean[a.kind] += x
				row := sums[int(a.kind)*kinds:]
				for _, b := range shares[i:] {
					row[b.kind] += n * x * float64(b.copies)
				}
			}
			*o.work += len(shares) * len(shares)
		}
		for a, x := range mean {
			gap[a] += n * x
			for b := a; b < kinds; b++ {
				sums[a*kinds+b] -= n * x * mean[b]
			}
		}
	}
	return gap, mat.NewSymDense(kinds, sums)
}

// next returns better tilts than there are, and their value; nil when damping is too weak.
func (o *odds) next(gap []float64, curve *mat.SymDense, damping, value float64) ([]float64, float64) {
	kinds := len(gap)
	step := mat.NewVecDense(kinds, nil)
	for k, g := range gap {
		if o.held(k, g) {
			for i := range kinds {
				curve.SetSym(k, i, 0)
			}
			curve.SetSym(k, k, 1)
			continue
		}
		curve.SetSym(k, k, curve.At(k, k)+damping)
		step.SetVec(k, -g)
	}
	var root mat.Cholesky
	if !root.Factorize(curve) || root.SolveVecTo(step, step) != nil {
		return nil, 0
	}
	next := make([]float64, kinds)
	for part := 1.0; part > 1e-6; part /= 2 {
		for k := range next {
			next[k] = max(0, o.tilt[k]+part*step.AtVec(k))
		}
		if v := o.value(next); v < value {
			return next, v
		}
	}
	return nil, 0
}
