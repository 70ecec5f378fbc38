package kerf

import (
	"fmt"
	"strings"

	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// fits adds a finding when an item fits no sheet of its material in any turn
// that grain allows. Sheets that are out of stock count: running out is for the
// plan to say.
func (d *Demand) fits(it *Item, list *diag.List) {
	size := it.Blank
	turned := geom.Pt(size.Y, size.X)
	var asDrawn, across []Sheet // the sheets on which it may lie so
	forbidden := false
	m := d.Job.Material(it.Panel.Material)
	for _, s := range d.Sheets {
		if s.Stock.Material != it.Panel.Material {
			continue
		}
		room := s.Usable.Size()
		level, upright := false, false
		for _, t := range m.TurnsOf(it.Panel.Grain, s.Stock.Grain) {
			switch {
			case t%180 == 0:
				level = true
			case t%90 == 0:
				upright = true
			case d.Cut == Router && within(it.Shape.Turned(t).Box().Size(), room):
				return
			}
		}
		if level && within(size, room) || upright && within(turned, room) {
			return
		}
		forbidden = forbidden || within(size, room) || within(turned, room)
		if level {
			asDrawn = append(asDrawn, s)
		}
		if upright {
			across = append(across, s)
		}
	}
	f := diag.Finding{Pos: it.Panel.Pos, Part: fmt.Sprintf("panel %q", it.Panel.Name)}
	what := fmt.Sprintf("%s x %s mm", round(size.X), round(size.Y))
	if d.Cut == Saw && it.Shaped() {
		what = "its blank of " + what
	}
	var largest []string
	if s, ok := roomiest(asDrawn); ok {
		r := s.Usable.Size()
		largest = append(largest, fmt.Sprintf("%s x %s mm as drawn (on %q)", r.X.Decimal(), r.Y.Decimal(), s.Stock.Name))
	}
	if s, ok := roomiest(across); ok {
		r := s.Usable.Size()
		largest = append(largest, fmt.Sprintf("%s x %s mm turned (on %q)", r.Y.Decimal(), r.X.Decimal(), s.Stock.Name))
	}
	f.Remedy = "make it smaller, join it from two panels, or add a larger sheet to stock"
	if len(largest) > 0 {
		f.Remedy = "the largest that fits is " + strings.Join(largest, " or ") + "; " + f.Remedy
	}
	switch {
	case forbidden && m.Turn == parts.OneWay:
		f.Fact = fmt.Sprintf("%s fits a sheet of %q only turned, which turns: none forbids", what, it.Panel.Material)
	case forbidden:
		f.Fact = fmt.Sprintf("%s fits a sheet of %q only across the grain, which its grain forbids", what, it.Panel.Material)
		f.Remedy = fmt.Sprintf("set grain: free if it may run either way; %s", f.Remedy)
	default:
		f.Fact = fmt.Sprintf("%s is larger than every sheet of %q inside trim", what, it.Panel.Material)
		if d.Cut == Router {
			f.Fact += " and hold-down margin"
		}
	}
	*list = append(*list, f)
}

func within(size, room geom.Point) bool { return size.X <= room.X && size.Y <= room.Y }

// roomiest returns the sheet with the largest usable area.
func roomiest(list []Sheet) (Sheet, bool) {
	var best Sheet
	for _, s := range list {
		r, b := s.Usable.Size(), best.Usable.Size()
		if int64(r.X)*int64(r.Y) > int64(b.X)*int64(b.Y) {
			best = s
		}
	}
	return best, best.Stock != nil
}

// round writes a length rounded up to a tenth of a millimetre, without a
// needless decimal.
func round(l length.Length) string {
	const tenth = length.Millimetre / 10
	return ((l + tenth - 1) / tenth * tenth).Decimal()
}
