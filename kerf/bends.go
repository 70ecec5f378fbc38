package kerf

import (
	"errors"
	"fmt"

	"panelyard/parts"
	"panelyard/parts/bend"
	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// KerfLine is the middle of a kerf that lets a panel bend: sawn nearly through it, from
// edge to edge, at the width of the tool.
type KerfLine struct {
	From, To geom.Point    // in the frame of CutOutline
	Depth    length.Length // of the cut, from the kerfed face
	// Inner says that it is in the inner, concave face of the bend, where it closes;
	// else it is in the outer face and gapes. Either is the back of the panel.
	Inner bool
}

// width returns what a kerf of the tool takes, as it is stated: [Demand.Kerf] is
// rounded up for nesting.
func (d *Demand) width() length.Length {
	if d.Cut == Router {
		return d.Job.Router.Bit
	}
	return d.Job.Saw.Kerf
}

// bend works out the kerfs of an item that is bent, and adds what is against it. Both
// panels of a pair have the same kerfs: they are told of once.
func (d *Demand) bend(it *Item, list *diag.List) {
	b := it.Panel.Bend
	if b == nil {
		return
	}
	part := fmt.Sprintf("panel %q", it.Panel.Name)
	tool := "kerf of the saw"
	if d.Cut == Router {
		tool = "bit of the router"
	}
	found := func(fact, remedy string) {
		if it.Panel.Hand != parts.Right {
			list.Add(b.Pos, part, fmt.Sprintf("bend with the %s, %v: %s", tool, d.width(), fact), remedy)
		}
	}
	cuts, err := bend.Solve(b.Kerfed(d.width()))
	if err != nil {
		var faults diag.List
		errors.As(err, &faults)
		for _, f := range faults {
			found(f.Fact, f.Remedy)
		}
		return
	}
	it.Bend = &cuts
	size := it.CutOutline.Box().Size()
	for _, at := range cuts.Positions(b.From) {
		l := KerfLine{Depth: cuts.Depth, Inner: !b.Open}
		end := size.X
		if b.Along == parts.AlongWidth {
			at += it.home.Y
			end = size.Y
			l.From, l.To = geom.Pt(0, at), geom.Pt(size.X, at)
		} else {
			at += it.home.X
			l.From, l.To = geom.Pt(at, 0), geom.Pt(at, size.Y)
		}
		if 2*at < d.width() || 2*(end-at) < d.width() {
			found("a kerf comes to lie in the edge band at the end of the panel", "leave straight wood before and after the bend: from: and to:")
			it.KerfLines = nil
			return
		}
		it.KerfLines = append(it.KerfLines, l)
	}
	d.broken(it, list)
}

// broken warns of openings that kerfs run into.
func (d *Demand) broken(it *Item, list *diag.List) {
	if it.Panel.Hand == parts.Right {
		return
	}
	for i, o := range it.CutOpenings {
		box, n := o.Box(), 0
		for _, l := range it.KerfLines {
			low, high, at := box.Min.X, box.Max.X, l.From.X
			if it.Panel.Bend.Along == parts.AlongWidth {
				low, high, at = box.Min.Y, box.Max.Y, l.From.Y
			}
			if 2*(at-low) > -d.width() && 2*(high-at) > -d.width() {
				n++
			}
		}
		if n > 0 {
			op := &it.Panel.Openings[i]
			list.Warn(op.Pos, fmt.Sprintf("panel %q", it.Panel.Name), fmt.Sprintf("opening %q lies in the bend: %s into it", op.Name, runs(n)),
				"move it to straight wood, or cut it after bending, backed by a strip; try it on scrap")
		}
	}
}

// runs writes a number of kerfs with its verb.
func runs(n int) string {
	if n == 1 {
		return "a kerf runs"
	}
	return fmt.Sprintf("%d kerfs run", n)
}
