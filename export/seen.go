package export

import (
	"slices"

	"panelyard/kerf"
	"panelyard/parts/geom"
	"panelyard/parts/outline"
)

// FaceDown reports whether sheets lie with their good face down when they are cut.
func (x *Dossier) FaceDown() bool { return x.Demand.Cut == kerf.Saw && x.Job.Saw.FaceDown }

// Seen returns sheet i as it lies when it is cut: seen from the good face, or
// mirrored when that lies down.
func (x *Dossier) Seen(i int) *SheetMap {
	if x.FaceDown() {
		return x.Sheets[i].Mirrored()
	}
	return &x.Sheets[i]
}

// Mirrored returns the sheet turned over about its width: what was at the left is at
// the right. The panels of its steps are those of m.
func (m *SheetMap) Mirrored() *SheetMap {
	q := *m
	l := m.Stock.Length
	point := func(p geom.Point) geom.Point { return geom.Pt(l-p.X, p.Y) }
	box := func(b geom.Box) geom.Box {
		return geom.Box{Min: geom.Pt(l-b.Max.X, b.Min.Y), Max: geom.Pt(l-b.Min.X, b.Max.Y)}
	}
	over := func(o outline.Outline) outline.Outline { return o.Flipped().Translate(geom.Pt(l, 0)) }
	q.Usable = box(m.Usable)
	q.Placements = slices.Clone(m.Placements)
	for i := range q.Placements {
		p := &q.Placements[i]
		p.Outline, p.Blank = over(p.Outline), box(p.Blank)
		p.Openings = slices.Clone(p.Openings)
		for k := range p.Openings {
			p.Openings[k] = over(p.Openings[k])
		}
		p.Kerfs = slices.Clone(p.Kerfs)
		for k := range p.Kerfs {
			p.Kerfs[k] = over(p.Kerfs[k])
		}
		p.Shape = p.Shape.Flipped().Translate(geom.Pt(l, 0))
		if p.With != nil {
			for k := range m.Placements {
				if &m.Placements[k] == p.With {
					p.With = &q.Placements[k]
				}
			}
		}
	}
	q.Cuts = slices.Clone(m.Cuts)
	for i := range q.Cuts {
		c := &q.Cuts[i]
		c.From, c.To = point(c.From), point(c.To)
	}
	q.Offcuts = slices.Clone(m.Offcuts)
	for i := range q.Offcuts {
		q.Offcuts[i].Box = box(q.Offcuts[i].Box)
	}
	return &q
}
