package dxf

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"panelyard/parts/drawing"
	"panelyard/parts/drawing/curve"
)

// entity is something drawn, in the coordinates of the file or of its block.
type entity struct {
	source drawing.Source
	layer  string
	colour string // empty when it is that of the layer
	plane  view
	shape  shape
	err    error // it could not be read; told where it is drawn
}

// shape is the geometry of an entity.
type shape interface {
	// draw draws the shape, seen through the view of the place.
	draw(x *expansion, e *entity, at place) error
}

// byBlock is the colour of an entity that has that of the INSERT it comes with.
const byBlock = "by block"

// colourOf returns the colour of a record: a true colour, or the number of one of
// the palette.
func colourOf(rec *record, index int, byBlock, byLayer string) string {
	if v, err := rec.whole(420, none); err == nil && v >= 0 && v < 1<<24 {
		return fmt.Sprintf("#%06x", v)
	}
	switch {
	case index == 0:
		return byBlock
	case index > 0 && index < 256:
		return strconv.Itoa(index)
	}
	return byLayer
}

// entity reads the entity of a record, and those that follow and belong to it. It
// reports whether there is anything to draw.
func (r *reader) entity(g *groups, rec record) (entity, bool, error) {
	e := entity{source: drawing.Source{Entity: rec.label(), Line: rec.line}, plane: curve.Identity()}
	layer, _ := rec.text(8)
	if e.layer = r.decoded(strings.TrimSpace(layer)); e.layer == "" {
		e.layer = "0"
	}
	var followers []record
	if rec.kind == "POLYLINE" {
		var err error
		if followers, err = r.vertices(g); err != nil {
			return e, false, err
		}
	}
	index, err1 := rec.whole(62, 256)
	paper, err2 := rec.whole(67, 0)
	unseen, err3 := rec.whole(60, 0)
	e.colour = colourOf(&rec, index, byBlock, "")
	switch e.err = errors.Join(err1, err2, err3); {
	case paper != 0:
		r.paper++
		return e, false, nil
	case unseen != 0:
		return e, false, nil
	}
	if e.err == nil {
		var known bool
		if known, e.err = r.shape(&e, &rec, followers); !known {
			return e, false, nil
		}
	}
	if e.err == nil && rec.raised(followers) {
		if r.raised++; r.raised == 1 {
			r.first = e.source
		}
	}
	return e, true, nil
}

// raised reports whether an entity lies at a height.
func (r *record) raised(followers []record) bool {
	flat := func(r *record) bool {
		for _, g := range r.groups {
			switch g.code {
			case 30, 31, 38:
				if v, err := g.number(); err == nil && math.Abs(v) > 1e-6 {
					return false
				}
			}
		}
		return true
	}
	for i := range followers {
		if !flat(&followers[i]) {
			return true
		}
	}
	return !flat(r)
}

// shape reads what a record draws, and reports whether it is to be drawn.
func (r *reader) shape(e *entity, rec *record, followers []record) (known bool, err error) {
	switch rec.kind {
	case "LINE":
		e.shape, err = rec.straight()
	case "CIRCLE", "ARC":
		if e.plane, err = rec.plane(); err == nil {
			e.shape, err = rec.arc()
		}
	case "ELLIPSE":
		e.shape, err = rec.ellipse()
	case "LWPOLYLINE":
		if e.plane, err = rec.plane(); err == nil {
			e.shape, err = rec.polyline()
		}
	case "POLYLINE":
		flags, bad := rec.whole(70, 0)
		const mesh, polyface, spatial = 16, 64, 8
		if bad == nil && flags&(mesh|polyface) != 0 {
			r.notRead("POLYLINE mesh", e.source)
			return false, nil
		}
		if e.plane, err = rec.plane(); err == nil || flags&spatial != 0 {
			if flags&spatial != 0 {
				e.plane = curve.Identity()
			}
			e.shape, err = oldPolyline(flags, bad, followers)
		}
	case "SPLINE":
		e.shape, err = rec.spline()
	case "INSERT":
		if e.plane, err = rec.plane(); err == nil {
			e.shape, err = r.insert(rec)
		}
	case "TEXT", "ATTRIB":
		if e.plane, err = rec.plane(); err == nil {
			e.shape, err = r.text(rec)
		}
		hidden, _ := rec.whole(70, 0)
		return rec.kind == "TEXT" || hidden&1 == 0, err
	case "MTEXT":
		e.shape, err = r.mtext(rec)
	case "SEQEND", "ATTDEF", "ENDSEC", "VIEWPORT":
		return false, nil
	default:
		r.notRead(rec.kind, e.source)
		return false, nil
	}
	return true, err
}

// notRead counts an entity of a kind that is not read.
func (r *reader) notRead(kind string, src drawing.Source) {
	const most = 100 // kinds; there are fewer
	u := r.unread[kind]
	if u == nil {
		if len(r.unread) >= most {
			kind = "another kind"
		}
		if u = r.unread[kind]; u == nil {
			u = &unread{first: src}
			r.unread[kind] = u
		}
	}
	u.count++
}

// plane returns the view of the plane that an entity is drawn in.
func (r *record) plane() (view, error) {
	up, err := r.up()
	if err != nil {
		return curve.Identity(), err
	}
	if up {
		return curve.Identity(), nil
	}
	return mirrored, nil
}

// up reports whether an entity is extruded upwards; it must be up or down.
func (r *record) up() (bool, error) {
	n, err := r.reals([]int{210, 220, 230}, 0, 0, 1)
	if err != nil {
		return false, err
	}
	if math.Hypot(n[0], n[1]) > 1e-9*math.Abs(n[2]) {
		return false, fault("draw panels flat, seen from above", "lies in a plane that is not seen from above: its extrusion is (%g, %g, %g)", n[0], n[1], n[2])
	}
	return n[2] > 0, nil
}

// straight reads a LINE.
func (r *record) straight() (shape, error) {
	v, err := r.required(10, 20, 11, 21)
	if err != nil {
		return nil, err
	}
	return &polyline{corners: []corner{{at: vec{X: v[0], Y: v[1]}}, {at: vec{X: v[2], Y: v[3]}}}}, nil
}

// arc reads a CIRCLE or an ARC.
func (r *record) arc() (shape, error) {
	v, err := r.required(10, 20, 40)
	if err != nil {
		return nil, err
	}
	if v[2] <= 0 {
		return nil, fault("take it out of the drawing, or give it a radius", "has the radius %g", v[2])
	}
	from, to := 0.0, 360.0
	if r.kind == "ARC" {
		a, err := r.required(50, 51)
		if err != nil {
			return nil, err
		}
		from, to = a[0], a[1]
	}
	c := circular(vec{X: v[0], Y: v[1]}, v[2], from, to)
	return &c, nil
}

// ellipse reads an ELLIPSE, whose coordinates are those of the drawing: an
// extrusion downwards turns it the other way.
func (r *record) ellipse() (shape, error) {
	up, err := r.up()
	if err != nil {
		return nil, err
	}
	v, err := r.required(10, 20, 11, 21, 40)
	if err != nil {
		return nil, err
	}
	ends, err := r.reals([]int{41, 42}, 0, 2*math.Pi)
	if err != nil {
		return nil, err
	}
	u := vec{X: v[2], Y: v[3]}
	if u.Long() == 0 || v[4] <= 0 {
		return nil, fault("take it out of the drawing, or draw it again", "has the half axis %g and the ratio %g", u.Long(), v[4])
	}
	c := conic{curve.Conic{Centre: vec{X: v[0], Y: v[1]}, U: u, V: vec{X: -u.Y, Y: u.X}.By(v[4])}}
	if !up {
		c.V = c.V.By(-1)
	}
	c.between(ends[0], ends[1])
	return &c, nil
}
