package jobfile

import (
	"errors"
	"fmt"

	"panelyard/parts/diag"
	"panelyard/parts/length"
	"panelyard/parts/outline"
	"panelyard/parts/svgpath"
)

// path reads SVG path data, its numbers in the unit of the job and its y axis pointing
// down, as one closed loop. Curves become lines within a quarter of the job's
// tolerance.
func (r *reader) path(g *group, v *value) outline.Outline {
	s, at := g.word("path")
	if at == nil {
		return nil
	}
	o, err := fromPath(s, r.out.Units, r.out.Tolerance/4)
	if err != nil {
		g.add(v, "path: "+diag.Brief(err), `write one closed loop of SVG path data, such as "M0 0 H600 V400 H0 Z"`)
		return nil
	}
	return o
}

// The faults of path data for an outline.
var (
	errUnclosed = errors.New("the path is not closed")
	errTwoLoops = errors.New("the path has more than one loop")
	errLongPath = fmt.Errorf("the path needs more than %d corners", MaxVertices)
)

// fromPath makes an outline of path data.
func fromPath(s string, unit length.Unit, tolerance length.Length) (outline.Outline, error) {
	p, err := svgpath.Parse(s)
	if err != nil {
		return nil, err
	}
	loops, err := svgpath.Loops(p, float64(unit.Size), tolerance)
	switch {
	case err != nil:
		return nil, err
	case len(loops) > 1:
		return nil, errTwoLoops
	case len(loops) == 0:
		return nil, svgpath.ErrEmpty
	case !loops[0].Closed:
		return nil, errUnclosed
	case len(loops[0].Path) > MaxVertices:
		return nil, errLongPath
	}
	return loops[0].Path, nil
}
