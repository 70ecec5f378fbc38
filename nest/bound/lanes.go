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
	for _, c := range cuts {
		a, b := (*[lanes]int32)(values[c.a*lanes:]), (*[lanes]int32)(values[c.b*lanes:])
		for i := range best {
			best[i] = max(best[i], a[i]+b[i])
		}
	}
}
