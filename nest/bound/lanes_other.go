//go:build !amd64

package bound

func best8(best *[lanes]int32, values []int32, cuts []pair) { best8Plain(best, values, cuts) }

func lower8(losses, values []int32, cuts []pair, whole *[lanes]int32) {
	lower8Plain(losses, values, cuts, whole)
}
