//go:build !amd64

package bound

func (r *rows) least(values []int32, lack []uint8, worth []int16, noise []int32) int32 {
	return r.leastPlain(values, lack, worth, noise)
}
