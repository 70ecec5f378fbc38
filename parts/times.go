package parts

import "slices"

// Times returns the job for n of what it builds, n at least 1: every panel n times as
// often, so that pairs stay pairs. Stock is not multiplied: what there is, is all there
// is. A job that goes on from a plan, with Numbers of copies, is not one to multiply.
func (j *Job) Times(n int) *Job {
	out := *j
	out.Panels = slices.Clone(j.Panels)
	for i := range out.Panels {
		out.Panels[i].Quantity *= n
	}
	return &out
}
