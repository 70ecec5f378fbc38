package bound

const (
	// lanes is how many values are looked at together: the whole numbers of a vector register.
	lanes = 8
	// laneGain is how many sums take as long in lanes as one by itself.
	laneGain = 5
)

// best8Plain raises the best values by those of cuts: of each lane the sum of the values of two
// points. values has the lanes of each point one after the other.
func best8Plain(best *[lanes]int32, values []int32, cuts []pair) {
	// Lanes by name stay in registers.
	v0, v1, v2, v3, v4, v5, v6, v7 := best[0], best[1], best[2], best[3], best[4], best[5], best[6], best[7]
	for _, c := range cuts {
		a, b := (*[lanes]int32)(values[c.a*lanes:]), (*[lanes]int32)(values[c.b*lanes:])
		v0, v1 = max(v0, a[0]+b[0]), max(v1, a[1]+b[1])
		v2, v3 = max(v2, a[2]+b[2]), max(v3, a[3]+b[3])
		v4, v5 = max(v4, a[4]+b[4]), max(v5, a[5]+b[5])
		v6, v7 = max(v6, a[6]+b[6]), max(v7, a[7]+b[7])
	}
	*best = [lanes]int32{v0, v1, v2, v3, v4, v5, v6, v7}
}

// lower8Plain lowers losses by those of cuts: of each lane what is lost at both points of a cut is
// no more than the whole less the sum of their values. losses and values have the lanes of each
// point one after the other.
func lower8Plain(losses, values []int32, cuts []pair, whole *[lanes]int32) {
	for _, c := range cuts {
		a, b := (*[lanes]int32)(values[c.a*lanes:]), (*[lanes]int32)(values[c.b*lanes:])
		la, lb := (*[lanes]int32)(losses[c.a*lanes:]), (*[lanes]int32)(losses[c.b*lanes:])
		for i, w := range whole {
			w -= a[i] + b[i]
			la[i] = min(la[i], w)
			lb[i] = min(lb[i], w)
		}
	}
}
