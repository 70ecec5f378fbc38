package export

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// OpeningRow is an opening of a panel. Places are from the lower left corner of the
// panel as it is cut, seen from the good face, x along its length: a mirrored panel has
// its own. Every opening goes through the board.
type OpeningRow struct {
	Panel     *PanelRow
	Name      string // that of the job file, or its number in the panel: "opening 2"
	Component string // that it is for; empty when it is for none
	Form      OpeningForm
	Radius    length.Length // of the corners of a rectangle, 0 for sharp ones
	Size      geom.Point    // of its box; its diameter twice for a round one
	At        geom.Point    // the lower left corner of its box
	Middle    geom.Point    // of its box; the centre of a round one
	Shut      bool          // a router's bit does not enter it: see [toolpath.Paths]
}

// OpeningForm is what an opening looks like.
type OpeningForm int

// The forms. An opening that is neither round nor a rectangle along the edges of its
// panel is Shaped.
const (
	Shaped OpeningForm = iota
	Round
	Rectangular
)

// openings lists the openings of all panels, in the order of the cut list and within a
// panel in that of the job.
func (x *Dossier) openings() {
	for i := range x.Panels {
		row := &x.Panels[i]
		for k, o := range row.Item.CutOpenings {
			op := &row.Item.Panel.Openings[k]
			box := o.Box()
			r := OpeningRow{
				Panel: row, Name: op.Name, Component: op.Component, Size: box.Size(), At: box.Min,
				Middle: geom.Pt((box.Min.X+box.Max.X)/2, (box.Min.Y+box.Max.Y)/2),
				Shut:   slices.Contains(row.Shut, k),
			}
			if r.Name == "" {
				r.Name = fmt.Sprintf("opening %d", k+1)
			}
			r.Form, r.Radius = FormOf(o)
			x.Openings = append(x.Openings, &r)
		}
	}
}

// hair is by how much two lengths of an opening may differ that are meant to be the
// same: circles and arcs are rounded to the grid, and turned ones more than once.
const hair = 2 * length.Micrometre

// FormOf tells what an outline looks like, with the radius of the corners of a
// rectangle. A slot is a rectangle whose radius is half of its width.
func FormOf(o outline.Outline) (OpeningForm, length.Length) {
	size := o.Box().Size()
	if o.IsRectangle() {
		return Rectangular, 0
	}
	radius, arcs := length.Length(0), 0
	for i, v := range o {
		w := o[(i+1)%len(o)].At
		r := length.Length(math.Round(o.Radius(i)))
		switch {
		case r == 0 && v.At.X != w.X && v.At.Y != w.Y:
			return Shaped, 0 // a slanting edge
		case r == 0:
			continue
		case v.Bulge < 0 || arcs > 0 && (r-radius).Abs() > hair:
			return Shaped, 0
		}
		radius = r
		arcs++
	}
	if arcs == len(o) && arcs > 0 {
		if (size.X-size.Y).Abs() <= hair && (size.X-2*radius).Abs() <= hair {
			return Round, 0
		}
		return Shaped, 0
	}
	// A box with four corners of one radius is known by its area: arcs elsewhere, or
	// another number of them, would take another amount.
	r := radius.MM()
	taken := size.X.MM()*size.Y.MM() - (4-math.Pi)*r*r
	if arcs > 0 && math.Abs(o.AreaMM2()-taken) <= 2*hair.MM()*(size.X+size.Y).MM() {
		return Rectangular, radius
	}
	return Shaped, 0
}

// Title names an opening, with its component where that says more.
func (r *OpeningRow) Title() string {
	if r.Component == "" || strings.Contains(r.Name, r.Component) {
		return r.Name
	}
	return r.Name + ", for " + r.Component
}

// Form says what an opening looks like.
func (w Lengths) Form(r *OpeningRow) string {
	switch {
	case r.Form == Round:
		return "round"
	case r.Form == Rectangular && r.Radius > 0:
		return "rectangle, corners of radius " + w.Text(r.Radius)
	case r.Form == Rectangular:
		return "rectangle"
	}
	return "shaped: size of its box"
}

// Across writes the size of an opening: a diameter, or length × width. A diameter that
// a drill may have is never rounded to a fraction.
func (w Lengths) Across(r *OpeningRow) string {
	const drill = length.Inch
	switch {
	case r.Form == Round && r.Size.X <= drill:
		return "⌀ " + w.Exact(r.Size.X)
	case r.Form == Round:
		return "⌀ " + w.Text(r.Size.X)
	}
	return w.Size(r.Size)
}

// Place writes a place as x, y.
func (w Lengths) Place(p geom.Point) string { return w.Text(p.X) + "; " + w.Text(p.Y) }

// Verb says what is done about an opening that the bit does not enter.
func (r *OpeningRow) Verb() string {
	if r.Form == Round {
		return "drill"
	}
	return "cut by hand"
}

// ShutRow is the openings of a panel, of one form and size, that a router's bit does not
// enter.
type ShutRow struct {
	*OpeningRow // the first of them
	Each        int
	Middles     []geom.Point
}

// InAll returns how many there are in all copies of the panel.
func (r *ShutRow) InAll() int { return r.Each * r.Panel.Copies }

// Shut returns what a router's bit does not enter, in the order of Openings.
func (x *Dossier) Shut() []*ShutRow {
	var list []*ShutRow
next:
	for _, o := range x.Openings {
		if !o.Shut {
			continue
		}
		for _, r := range list {
			if r.Panel == o.Panel && r.Form == o.Form && r.Radius == o.Radius && r.Size == o.Size {
				r.Each++
				r.Middles = append(r.Middles, o.Middle)
				continue next
			}
		}
		list = append(list, &ShutRow{o, 1, []geom.Point{o.Middle}})
	}
	return list
}
