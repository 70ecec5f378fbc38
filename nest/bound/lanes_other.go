//go:build !amd64

package bound

func best8(best *[lanes]int32, values []int32, cuts []pair) { best8Plain(best, values, cuts) }
