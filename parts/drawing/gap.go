package drawing

import (
	"fmt"
	"math"

	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// steps bounds the search for a pair of ends.
const steps = 32

// open reports the ends that are joined to nothing, each with the open end that is
// nearest to it.
//
// Pairs are ends of which each is the nearest of the other: from an end go to its
// nearest, and on, until two ends are found that are nearest to each other, or
// [steps] were taken. Each step costs O(n); there are about three a finding, and no
// more findings than are listed.
func (j *joints) open() {
	var ends []int
	for e, m := range j.mate {
		if m == none {
			ends = append(ends, e)
		}
	}
	for reported := 0; len(ends) > 0; reported++ {
		if reported > diag.MaxFindings {
			j.s.mistake(j.runs[ends[0]/2].piece, fmt.Sprintf("%d more ends are joined to nothing", len(ends)), "begin with the gaps that are listed")
			return
		}
		if len(ends) == 1 {
			e := ends[0]
			j.s.mistake(j.runs[e/2].piece, "its end at "+j.s.d.place(j.at[e])+" is joined to nothing",
				"draw what is missing, or put the piece on a layer that is ignored")
			return
		}
		a, b := 0, j.nearestTo(ends, 0)
		for range steps {
			c := j.nearestTo(ends, b)
			if apart(j.at[ends[c]], j.at[ends[b]]) >= apart(j.at[ends[a]], j.at[ends[b]]) {
				break // c is a, or as near
			}
			a, b = b, c
		}
		a, b = min(a, b), max(a, b)
		j.gap(ends[a], ends[b])
		ends = append(ends[:b], ends[b+1:]...)
		ends = append(ends[:a], ends[a+1:]...)
	}
}

// nearestTo returns the index of the end nearest to that of index i.
func (j *joints) nearestTo(ends []int, i int) int {
	best, at := math.Inf(1), none
	for k, e := range ends {
		if d := apart(j.at[e], j.at[ends[i]]); k != i && d < best {
			best, at = d, k
		}
	}
	return at
}

// gap reports two open ends that are nearest to each other.
func (j *joints) gap(e, f int) {
	d := apart(j.at[e], j.at[f])
	fact := fmt.Sprintf("the outline is open: the ends at %s and %s, of %s, are %s apart",
		j.s.d.place(j.at[e]), j.s.d.place(j.at[f]), j.s.other(j.runs[f/2].piece), j.s.d.distance(d))
	if e/2 == f/2 {
		fact = fmt.Sprintf("is open: its ends at %s and %s are %s apart", j.s.d.place(j.at[e]), j.s.d.place(j.at[f]), j.s.d.distance(d))
	}
	remedy := "close the outline in the drawing, or put what is no outline on a layer that is ignored"
	if d <= float64(length.Millimetre) {
		remedy = "close the gap in the drawing, or join with a tolerance of " + least(d)
	}
	j.s.mistake(j.runs[e/2].piece, fact, remedy)
}
