package bound

import (
	"unsafe"

	"golang.org/x/sys/cpu"
)

// least is leastPlain, some kinds and patterns at a time where the processor can.
func (r *rows) least(values []int32, lack []uint8, worth []int16, noise []int32) int32 {
	if !cpu.X86.HasAVX2 {
		return r.leastPlain(values, lack, worth, noise)
	}
	n := len(r.columns)
	_, _, _, _ = values[n-1], noise[n-1], lack[r.width-1], worth[r.width-1]
	return leastAVX2(unsafe.SliceData(values), unsafe.SliceData(r.copies), r.width/rowBlock, n,
		unsafe.SliceData(lack), unsafe.SliceData(worth), unsafe.SliceData(noise))
}

// leastAVX2 is in rows_amd64.s. It trusts lengths.
//
//go:noescape
func leastAVX2(values *int32, copies *uint8, blocks, n int, lack *uint8, worth *int16, noise *int32) int32
