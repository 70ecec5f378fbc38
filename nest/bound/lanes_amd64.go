package bound

import (
	"unsafe"

	"golang.org/x/sys/cpu"
)

// best8 is best8Plain, eight lanes at a time where the processor has them.
func best8(best *[lanes]int32, values []int32, cuts []pair) {
	if !cpu.X86.HasAVX2 {
		best8Plain(best, values, cuts)
		return
	}
	if len(cuts) > 0 {
		best8AVX2(best, unsafe.SliceData(values), unsafe.SliceData(cuts), len(cuts))
	}
}

// best8AVX2 is in lanes_amd64.s. It trusts that points are within the values.
//
//go:noescape
func best8AVX2(best *[lanes]int32, values *int32, cuts *pair, n int)
