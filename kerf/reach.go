package kerf

import (
	"fmt"

	"panelyard/parts/diag"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// reach warns of places of an item where a round bit does not get to: openings
// narrower than it, and inside curves of a smaller radius. Inside corners keep the
// bit's radius in any case; they and notches are for kerf/toolpath to name.
func (d *Demand) reach(it *Item, list *diag.List) {
	bit := d.Job.Router.Bit
	part := fmt.Sprintf("panel %q", it.Panel.Name)
	for i, o := range it.CutOpenings {
		op := &it.Panel.Openings[i]
		if TooNarrow(o, bit) {
			size := o.Box().Size()
			list.Warn(op.Pos, part, fmt.Sprintf("opening %q is %s mm across, a bit of %s mm does not enter it", op.Name, round(min(size.X, size.Y)), bit.Decimal()),
				"use a thinner bit, or drill it")
			continue
		}
		if r, ok := tightest(o, true); ok && 2*r < bit {
			list.Warn(op.Pos, part, fmt.Sprintf("opening %q has a curve of radius %s mm, a bit of %s mm leaves %s mm", op.Name, round(r), bit.Decimal(), (bit/2).Decimal()),
				"use a thinner bit or a larger radius")
		}
	}
	if r, ok := tightest(it.CutOutline, false); ok && 2*r < bit {
		list.Warn(it.Panel.Pos, part, fmt.Sprintf("the outline has an inside curve of radius %s mm, a bit of %s mm leaves %s mm", round(r), bit.Decimal(), (bit/2).Decimal()),
			"use a thinner bit or a larger radius")
	}
}

// TooNarrow reports whether the box of an opening is narrower than a bit, which then
// does not enter it. Package kerf/toolpath finds the others that it does not.
func TooNarrow(o outline.Outline, bit length.Length) bool {
	size := o.Box().Size()
	return min(size.X, size.Y) < bit
}

// tightest returns the least radius of the arcs of an outline that bulge out, or
// in: what a bit inside an opening, or outside a panel, has to follow from within.
func tightest(o outline.Outline, out bool) (length.Length, bool) {
	least, found := length.Length(0), false
	for i, v := range o {
		if v.Bulge == 0 || (v.Bulge > 0) != out {
			continue
		}
		// Up to a thousandth of a millimetre more, so that an arc drawn to the bit's
		// radius is not called too tight for its rounding.
		r := length.Length(o.Radius(i)) + length.Micrometre
		if !found || r < least {
			least, found = r, true
		}
	}
	return least, found
}
