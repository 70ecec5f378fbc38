package exporttest

import "errors"

// ErrFull is the error of a [Failing] writer.
var ErrFull = errors.New("disk full")

// Failing is a writer that takes so many bytes more, and then fails with [ErrFull].
type Failing struct{ Left int }

func (f *Failing) Write(p []byte) (int, error) {
	n := min(len(p), f.Left)
	f.Left -= n
	if n < len(p) {
		return n, ErrFull
	}
	return n, nil
}
