package export

import (
	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts/geom"
)

// areas divides a sheet. What trim and hold-down margin take counts with the
// kerf, but for kept offcuts that reach into them. The kerf of a saw is exact;
// what a bit takes is at most its width along every outline, less where two
// panels share a pass, and never more than there is.
func (x *Dossier) areas(m *SheetMap) Areas {
	raw := geom.BoxFromSize(geom.Point{}, geom.Pt(m.Stock.Length, m.Stock.Width))
	a := Areas{Sheet: boxMM2(raw)}
	for i := range m.Placements {
		a.Panels += m.Placements[i].Row.AreaMM2
	}
	edge := a.Sheet - boxMM2(m.Usable)
	for _, o := range m.Offcuts {
		if o.Keep {
			a.Kept += boxMM2(o.Box)
			edge -= boxMM2(o.Box) - boxMM2(o.Box.Meet(m.Usable))
		}
	}
	free := a.Sheet - a.Panels - a.Kept
	edge = max(0, min(edge, free))
	if x.Demand.Cut == kerf.Saw {
		for i := range m.Cuts {
			a.Kerf += boxMM2(x.strip(&m.Cuts[i]).Meet(m.Usable))
		}
	} else {
		for i := range m.Placements {
			it := m.Placements[i].Row.Item
			around := it.CutOutline.Perimeter()
			for _, o := range it.CutOpenings {
				around += o.Perimeter()
			}
			a.Kerf += around.MM() * x.Demand.Kerf.MM()
		}
	}
	a.Kerf = max(0, min(a.Kerf, free-edge))
	a.KerfTrim = edge + a.Kerf
	a.Waste = max(0, free-a.KerfTrim)
	return a
}

// strip returns what the blade takes along a cut.
func (x *Dossier) strip(c *nest.Cut) geom.Box {
	half := x.Demand.Kerf / 2
	b := geom.Box{
		Min: geom.Pt(min(c.From.X, c.To.X), min(c.From.Y, c.To.Y)),
		Max: geom.Pt(max(c.From.X, c.To.X), max(c.From.Y, c.To.Y)),
	}
	if c.From.X == c.To.X {
		return b.Inset(-half, -half, 0, 0)
	}
	return b.Inset(0, 0, -half, -half)
}

// boxMM2 returns the area of a box in square millimetres, 0 for an empty one.
func boxMM2(b geom.Box) float64 {
	if b.Empty() {
		return 0
	}
	return b.Dx().MM() * b.Dy().MM()
}

// total sums the sheets up.
func (x *Dossier) total() {
	t := &x.Totals
	t.Sheets, t.Priced = len(x.Sheets), true
	for i := range x.Sheets {
		s := &x.Sheets[i]
		t.Panels += len(s.Placements)
		t.Areas.Sheet += s.Areas.Sheet
		t.Areas.Panels += s.Areas.Panels
		t.Areas.Kept += s.Areas.Kept
		t.Areas.KerfTrim += s.Areas.KerfTrim
		t.Areas.Kerf += s.Areas.Kerf
		t.Areas.Waste += s.Areas.Waste
		t.Priced = t.Priced && (s.Stock.Priced || s.Stock.Offcut)
		for k := range s.Placements {
			t.MassKG += s.Placements[k].Row.MassKG
		}
		x.cutting(s)
	}
	for i := range x.Buy {
		t.Board += x.Buy[i].Cost
	}
	for i := range x.Drops {
		t.Delivery += x.Drops[i].Cost
	}
	for i := range x.Bands {
		t.Priced = t.Priced && x.Bands[i].Band.Priced
		t.Edging += x.Bands[i].Cost
	}
	t.Cost = t.Board + t.Delivery + t.Edging
	if t.Areas.Sheet > 0 {
		t.Yield = t.Areas.Panels / t.Areas.Sheet
	}
}

// cutting adds the cut length of a sheet and its fence settings: how often the
// fence is moved when its cuts are made in order.
func (x *Dossier) cutting(s *SheetMap) {
	t := &x.Totals
	if x.Demand.Cut == kerf.Router {
		for i := range s.Placements {
			it := s.Placements[i].Row.Item
			t.CutLength += it.CutOutline.Perimeter()
			for _, o := range it.CutOpenings {
				t.CutLength += o.Perimeter()
			}
		}
		return
	}
	for i := range s.Steps {
		c := &s.Steps[i]
		t.CutLength += c.Long()
		t.Stages = max(t.Stages, c.Stage)
		if c.Reset {
			t.Fences++
		}
	}
}
