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

// lower8 is lower8Plain, eight lanes at a time where the processor has them.
func lower8(losses, values []int32, cuts []pair, whole *[lanes]int32) {
	if !cpu.X86.HasAVX2 {
		lower8Plain(losses, values, cuts, whole)
		return
	}
	if len(cuts) > 0 {
		lower8AVX2(unsafe.SliceData(losses), unsafe.SliceData(values), unsafe.SliceData(cuts), len(cuts), whole)
	}
}

// lower8AVX2 is in lanes_amd64.s. It trusts that points are within losses and values.
//
//go:noescape
func lower8AVX2(losses, values *int32, cuts *pair, n int, whole *[lanes]int32)
