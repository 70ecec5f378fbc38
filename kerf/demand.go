package kerf

import (
	"panelyard/parts"
	"panelyard/parts/bend"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// Cut is a way to cut.
type Cut int

// The ways to cut: straight edge-to-edge cuts, or true shapes.
const (
	Saw Cut = iota
	Router
)

// String returns saw or router.
func (c Cut) String() string {
	if c == Router {
		return "router"
	}
	return "saw"
}

// Demand is what has to come out of the sheets.
type Demand struct {
	Job    *parts.Job
	Cut    Cut
	Kerf   length.Length // width the tool takes: blade, or bit diameter; even
	Gap    length.Length // least distance of two panels: Kerf, plus the router's gap
	Items  []Item        // one a panel of the job, in its order
	Sheets []Sheet       // one a stock of the job, in its order
}

// Item is a panel at its cut size.
type Item struct {
	Panel  *parts.Panel
	Copies int
	// CutOutline is the panel without its edge bands, and CutOpenings the
	// openings, both moved so that the box of CutOutline starts at the origin.
	CutOutline  outline.Outline
	CutOpenings []outline.Outline
	// Shape contains the panel, and its holes are contained in the openings,
	// within the job's tolerance. The box of Shape is that of CutOutline.
	Shape geom.Polygon
	// Blank is the size of the rectangle that is freed from the sheet, and
	// Inset the place of the lower left corner of Shape's box in it. For the
	// router Blank is the box of Shape and Inset is zero.
	Blank geom.Point
	Inset geom.Point
	// KerfLines are the kerfs of a panel that is bent, from its lower left, and Bend what
	// becomes of them; nil for a flat panel.
	KerfLines []KerfLine
	Bend      *bend.Cuts
	home      geom.Point // that is added to a place of the panel for one of CutOutline
}

// Shaped reports whether the panel is shaped after its blank is sawn.
func (it *Item) Shaped() bool { return !it.CutOutline.IsRectangle() }

// Sheet is a kind of sheet with the area that panels may use.
type Sheet struct {
	Stock *parts.Stock
	// Usable is the area inside trim, for the router also inside the hold-down
	// margin, in sheet coordinates: origin at the lower left of the raw sheet.
	Usable geom.Box
}
