package kerf

import (
	"fmt"

	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// Build turns a job into the demand of a way to cut. The list holds what is
// wrong with single panels, each with its place in the job file: an edge band
// that cannot be deducted, a bend that the tool's kerf does not make, a panel that
// fits no sheet. The demand is nil when
// the list holds a mistake. Cost: the vertices of all panels, times the kinds of
// sheet.
func Build(job *parts.Job, cut Cut) (*Demand, diag.List) {
	d := &Demand{Job: job, Cut: cut}
	d.Kerf = job.Saw.Kerf.EvenUp()
	d.Gap = d.Kerf
	if cut == Router {
		d.Kerf = job.Router.Bit.EvenUp()
		d.Gap = d.Kerf + job.Router.Gap
	}
	for i := range job.Stock {
		s := &job.Stock[i]
		d.Sheets = append(d.Sheets, Sheet{Stock: s, Usable: usable(s, job, cut)})
	}
	var list diag.List
	for i := range job.Panels {
		p := &job.Panels[i]
		it, err := newItem(job, p, cut)
		if err != nil {
			list = append(list, diag.Finding{
				Pos: p.Pos, Part: fmt.Sprintf("panel %q", p.Name), Fact: err.Error(),
				Remedy: "use bands of one thickness on edges that meet smoothly, or a thinner band", Err: err,
			})
			continue
		}
		d.bend(&it, &list)
		d.Items = append(d.Items, it)
		d.fits(&it, &list)
		if cut == Router {
			d.reach(&it, &list)
		}
	}
	if list.Err() != nil {
		return nil, list
	}
	return d, list
}

// usable returns the area of a sheet that panels may use.
func usable(s *parts.Stock, job *parts.Job, cut Cut) geom.Box {
	left, right, bottom, top := s.Trim.Left, s.Trim.Right, s.Trim.Bottom, s.Trim.Top
	if cut == Router {
		m := job.Router.Margin
		left, right, bottom, top = max(left, m), max(right, m), max(bottom, m), max(top, m)
	}
	return geom.BoxFromSize(geom.Point{}, geom.Pt(s.Length, s.Width)).Inset(left, right, bottom, top)
}

func newItem(job *parts.Job, p *parts.Panel, cut Cut) (Item, error) {
	deduct := make([]length.Length, len(p.Outline))
	for i, name := range p.Edging {
		if b := job.Band(name); b != nil {
			deduct[i] = b.Thickness
		}
	}
	o, err := Deduct(p.Outline, deduct)
	if err != nil {
		return Item{}, err
	}
	home := o.Box().Min.Neg()
	it := Item{Panel: p, Copies: p.Quantity, CutOutline: o.Translate(home), home: home}
	it.Shape.Outer = it.CutOutline.Cover(job.Tolerance)
	for _, op := range p.Openings {
		h := op.Outline.Translate(home)
		it.CutOpenings = append(it.CutOpenings, h)
		// A hole smaller than the tolerance may have nothing left of it.
		if core := h.Core(job.Tolerance); len(core) > 2 && core.Area2() < 0 {
			it.Shape.Holes = append(it.Shape.Holes, core)
		}
	}
	it.Blank = it.CutOutline.Box().Size()
	if cut == Saw {
		it.addAllowance(job.Saw.Allowance)
	}
	return it, nil
}

// addAllowance grows the blank beyond each side of the panel's box that is
// shaped after sawing: one that less than half of is a straight edge of the
// panel. The other sides are sawn to size.
func (it *Item) addAllowance(by length.Length) {
	box := it.CutOutline.Box()
	var straight [4]length.Length // left, right, bottom, top
	o := it.CutOutline
	for i, v := range o {
		w := o[(i+1)%len(o)]
		if v.Bulge != 0 {
			continue
		}
		dx, dy := (w.At.X - v.At.X).Abs(), (w.At.Y - v.At.Y).Abs()
		switch {
		case dx == 0 && v.At.X == box.Min.X:
			straight[0] += dy
		case dx == 0 && v.At.X == box.Max.X:
			straight[1] += dy
		case dy == 0 && v.At.Y == box.Min.Y:
			straight[2] += dx
		case dy == 0 && v.At.Y == box.Max.Y:
			straight[3] += dx
		}
	}
	var add [4]length.Length
	for side, of := range [4]length.Length{box.Dy(), box.Dy(), box.Dx(), box.Dx()} {
		if 2*straight[side] < of {
			add[side] = by
		}
	}
	it.Blank = it.Blank.Add(geom.Pt(add[0]+add[1], add[2]+add[3]))
	it.Inset = geom.Pt(add[0], add[2])
}
