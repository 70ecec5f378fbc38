package dxf

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"panelyard/parts/drawing"
	"panelyard/parts/drawing/curve"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// expansion draws entities, those of blocks wherever they are inserted.
type expansion struct {
	r        *reader
	d        *drawing.Drawing
	said     map[int]bool // lines of entities with a mistake that is in the list
	entities int
	segments int
	stopped  bool
}

// place is where entities are drawn: the view onto the grid and the INSERTs they
// come with.
type place struct {
	view   view
	layer  string // of the innermost INSERT; takes the place of layer 0
	colour string // of it
	blocks []*block
	line   int // of the outermost INSERT
}

// errFar is the error of a point beyond the lengths of a job.
var errFar = fault("check the unit of the drawing, and move it to its origin", "lies further than 33.5 m from the origin")

// draw draws entities at a place. What cannot be drawn is reported once, however
// often its block is inserted.
func (x *expansion) draw(list []entity, at place) {
	for i := range list {
		if x.stopped {
			return
		}
		e := &list[i]
		err := e.err
		if err == nil {
			err = e.shape.draw(x, e, at)
		}
		// An INSERT counts as what it draws.
		if _, ok := e.shape.(*insert); (!ok || err != nil) && !x.count(e) {
			return
		}
		if err == nil || x.said[e.source.Line] {
			continue
		}
		x.said[e.source.Line] = true
		remedy := "repair the entity or draw it again"
		if errors.Is(err, curve.ErrFine) {
			err = fmt.Errorf("needs more than %d points to be drawn within %v", MaxPoints, x.r.opt.Tolerance)
			remedy = "draw it smaller or simpler, or allow a larger tolerance"
		} else if f := new(faulty); errors.As(err, &f) {
			remedy = f.remedy
		}
		src := x.source(e, at)
		x.r.list.Add(x.r.pos(src.Line), fmt.Sprintf("%s, layer %s", src.Entity, quoted(x.layer(e, at))), strings.ReplaceAll(err.Error(), "\n", "; "), remedy)
	}
}

// count counts an entity and reports whether there may be more.
func (x *expansion) count(e *entity) bool {
	if x.entities++; x.entities > MaxEntities && !x.stopped {
		x.stop(e, fmt.Sprintf("the drawing has more than %d entities when blocks are inserted", MaxEntities), largeRemedy)
	}
	return !x.stopped
}

// stop reports why nothing more is drawn.
func (x *expansion) stop(e *entity, fact, remedy string) {
	x.r.list.Add(x.r.pos(e.source.Line), e.source.Entity, fact, remedy)
	x.stopped = true
}

// source returns the source of an entity at a place.
func (x *expansion) source(e *entity, at place) drawing.Source {
	src := e.source
	if n := len(at.blocks); n > 0 {
		src.Entity += fmt.Sprintf(" in block %s inserted in line %d", quoted(at.blocks[n-1].name), at.line)
	}
	return src
}

// layer returns the layer of an entity: within a block layer 0 is that of the
// INSERT.
func (x *expansion) layer(e *entity, at place) string {
	if e.layer == "0" && len(at.blocks) > 0 {
		return at.layer
	}
	return e.layer
}

// colour returns the colour of an entity.
func (x *expansion) colour(e *entity, at place) string {
	if e.colour == byBlock {
		return at.colour
	}
	return e.colour
}

// trail is a path that is being drawn.
type trail struct {
	x      *expansion
	path   []outline.Vertex
	within length.Length // how far it leaves what is drawn
}

// add adds a point and the bulge of the segment that leaves it.
func (t *trail) add(p vec, bulge float64) error {
	at, ok := p.OnGrid()
	if !ok {
		return errFar
	}
	t.path = append(t.path, outline.Vertex{At: at, Bulge: bulge})
	return nil
}

// piece adds a piece to the drawing.
func (x *expansion) piece(e *entity, at place, t trail, closed bool) error {
	if x.segments += len(t.path); x.segments > drawing.MaxSegments {
		x.stop(e, fmt.Sprintf("the drawing has more than %d segments", drawing.MaxSegments), largeRemedy)
		return nil
	}
	x.d.Pieces = append(x.d.Pieces, drawing.Piece{
		Source: x.source(e, at), Layer: x.layer(e, at), Colour: x.colour(e, at),
		Path: t.path, Closed: closed, Within: t.within,
	})
	return nil
}

// insert is a block drawn at a place, or many times in columns and rows.
type insert struct {
	name          string
	at            vec
	scale         vec
	turn          float64 // radians
	columns, rows int
	step          vec // from column to column, from row to row, before the turn
}

// insert reads an INSERT.
func (r *reader) insert(rec *record) (shape, error) {
	name, ok := rec.text(2)
	if !ok {
		return nil, fault("save the drawing again", "names no block")
	}
	v, err := rec.reals([]int{10, 20, 41, 42, 50, 44, 45}, 0, 0, 1, 1, 0, 0, 0)
	if err != nil {
		return nil, err
	}
	columns, err1 := rec.whole(70, 1)
	rows, err2 := rec.whole(71, 1)
	if err := errors.Join(err1, err2); err != nil {
		return nil, err
	}
	if v[2] == 0 || v[3] == 0 {
		return nil, fault("insert the block again", "inserts block %s with the scale (%g, %g)", quoted(r.decoded(name)), v[2], v[3])
	}
	return &insert{
		name: r.decoded(strings.TrimSpace(name)), at: vec{X: v[0], Y: v[1]}, scale: vec{X: v[2], Y: v[3]}, turn: v[4] * math.Pi / 180,
		columns: max(columns, 1), rows: max(rows, 1), step: vec{X: v[5], Y: v[6]},
	}, nil
}

// draw draws the block of an INSERT.
func (n *insert) draw(x *expansion, e *entity, at place) error {
	b := x.r.blocks[strings.ToLower(n.name)]
	switch {
	case b == nil:
		return fault("save the drawing again, with all its blocks", "inserts block %s, which is not in the file", quoted(n.name))
	case b.external:
		return fault("bind the other file into the drawing", "inserts %s, which is another file", quoted(n.name))
	case slices.Contains(at.blocks, b):
		return fault("save the drawing again", "inserts block %s in itself", quoted(n.name))
	case len(at.blocks) >= MaxDepth:
		return fault("explode blocks in the drawing program", "is inserted more than %d blocks deep", MaxDepth)
	}
	inner := place{layer: x.layer(e, at), colour: x.colour(e, at), line: at.line}
	inner.blocks = append(slices.Clone(at.blocks), b)
	if len(at.blocks) == 0 {
		inner.line = e.source.Line
	}
	plane := at.view.Then(e.plane)
	x1, y1 := turned(vec{X: n.scale.X, Y: 0}, n.turn), turned(vec{X: 0, Y: n.scale.Y}, n.turn)
	for row := range n.rows {
		for column := range n.columns {
			o := n.at.Add(turned(vec{X: float64(column) * n.step.X, Y: float64(row) * n.step.Y}, n.turn))
			own := view{X: x1, Y: y1, O: o}
			inner.view = plane.Then(own)
			inner.view.O = inner.view.O.Sub(inner.view.Apply(b.base))
			before := x.entities
			x.draw(b.entities, inner)
			if x.entities == before && !x.count(e) { // an empty block costs too
				return nil
			}
			if x.stopped {
				return nil
			}
		}
	}
	return nil
}

// quoted writes a name of the file.
func quoted(name string) string { return `"` + clip(name) + `"` }
