package nest

import (
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// Problem is what to nest on what. It may mix materials: a part goes only on
// stock of its material.
type Problem struct {
	Cut  kerf.Cut
	Kerf length.Length // width of a cut, even
	Gap  length.Length // least distance of two parts
	// Apart is the least distance of two panels that share a blank of a saw; with 0
	// none do. A strip has no shared blanks.
	Apart  length.Length
	Parts  []Part
	Stocks []Stock
	// Bill returns what sheets cost together, so many of each stock, where that is more
	// than the sum of their costs: with prices by quantity, drops and spare sheets. It is
	// nil where it is the sum.
	Bill func(count []int) int64
	// BillAtLeast returns what no bill is under of so many sheets or more.
	BillAtLeast func(count []int) int64
	Drops       []int64 // what a drop of each yard costs
	Keep        parts.KeepRule
	Saw         parts.Saw // how a saw wants its cuts, and how many stages it allows
	// Strip makes a problem with one stock an open-ended strip: one sheet, as
	// long as the stock says at most, and the used length is minimised.
	Strip bool
}

// Part is a kind of panel, to be placed Copies times.
type Part struct {
	Name     string
	Material string
	Copies   int
	Shape    geom.Polygon // box starts at the origin; outer ring counter-clockwise, holes clockwise
	Blank    geom.Point   // size of the rectangle that is freed; for the router the box of Shape
	Inset    geom.Point   // place of Shape in the blank
	Grain    parts.Axis
	CanFlip  bool // may be laid face down
	// Turns, when set, are the turns allowed on any stock, in degrees, and
	// Grain is ignored. It is for boards without grain, and for instances from the
	// literature.
	Turns []int
	// OneWay allows only the first of the turns that grain would.
	OneWay bool
}

// Stock is a kind of sheet.
type Stock struct {
	Name      string
	Material  string
	Size      geom.Point // raw length and width
	Usable    geom.Box
	Grain     parts.Axis
	Cost      int64   // what a sheet counts in the objective, at its lowest price: ten-thousandths of the currency, or area where prices are missing
	Prices    []int64 // where there are several by quantity: all of them, that of one sheet first
	Yard      int     // that brings it, from 1; 0 when nothing is paid for that
	Available int     // or parts.Unlimited
	Offcut    bool
	KGPerM2   float64 // mass of a square metre; 0 when unknown
}

// Turns returns the turns, in degrees, in which a part may lie on a stock. It
// is empty when the materials differ. Grain along grain allows a half turn;
// no grain on either side allows quarter turns.
func (p *Problem) Turns(part, stock int) []int {
	t, s := &p.Parts[part], &p.Stocks[stock]
	switch {
	case t.Material != s.Material:
		return nil
	case t.Turns != nil:
		return t.Turns
	}
	list := parts.Turns(t.Grain, s.Grain)
	if t.OneWay {
		return list[:1]
	}
	return list
}

// LeastSaved is what a shared blank must save at least of the two blanks it stands for,
// in percent of their area: less is not worth the work of parting the panels.
const LeastSaved = 8

// MayShare reports whether a panel may share its blank: whether it leaves a tenth of
// it open or more. What fills its blank is sawn to size, or nearly so, and would gain
// next to nothing.
func (t *Part) MayShare() bool {
	const tenths = 9
	return 10*t.Shape.Outer.Area2() <= tenths*2*int64(t.Blank.X)*int64(t.Blank.Y)
}

// Copies returns how many panels the problem asks for.
func (p *Problem) Copies() int {
	n := 0
	for i := range p.Parts {
		n += p.Parts[i].Copies
	}
	return n
}
