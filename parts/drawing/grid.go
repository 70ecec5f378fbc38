package drawing

import (
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// none is the absence of an index.
const none = -1

// crowd is how many entries a cell of a grid holds. Ends or middles closer than
// the tolerance are a mistake when there are more than two of them; the bound
// keeps a drawing that is nothing else from costing its square.
const crowd = 16

// grid finds entries near a point: a map of square cells of the size of the
// tolerance.
type grid struct {
	size  length.Length
	cells map[geom.Point][]int
}

func (g *grid) cell(p geom.Point) geom.Point {
	return geom.Pt(floorDiv(p.X, g.size), floorDiv(p.Y, g.size))
}

func floorDiv(a, b length.Length) length.Length {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

// add enters i at p, unless the cell is full.
func (g *grid) add(p geom.Point, i int) {
	if g.cells == nil {
		g.cells = map[geom.Point][]int{}
	}
	c := g.cell(p)
	if len(g.cells[c]) < crowd {
		g.cells[c] = append(g.cells[c], i)
	}
}

// near calls f with the entries of the cells about p: all that lie within the size
// of a cell, and others.
func (g *grid) near(p geom.Point, f func(i int)) {
	c := g.cell(p)
	for dx := length.Length(-1); dx <= 1; dx++ {
		for dy := length.Length(-1); dy <= 1; dy++ {
			for _, i := range g.cells[c.Add(geom.Pt(dx, dy))] {
				f(i)
			}
		}
	}
}
