package export

import (
	"slices"
	"strings"

	"panelyard/kerf"
	"panelyard/kerf/toolpath"
	"panelyard/nest"
	"panelyard/nest/rest"
	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/money"
	"panelyard/parts/outline"
)

// Dossier is a plan and all that the papers say about it. Panels, openings, sheets,
// rows to buy and bands are in the order in which they are printed.
type Dossier struct {
	Job     *parts.Job
	Demand  *kerf.Demand
	Problem *nest.Problem
	Plan    *nest.Plan
	Seed    uint64
	Variant string
	Done    []DoneRow // what was cut before, in a plan that goes on from another one
	Before  *Before   // what was bought for those before; nil when there are none

	Panels   []PanelRow
	Openings []*OpeningRow
	Shared   []SharedRow
	Sheets   []SheetMap
	Buy      []BuyRow
	Drops    []parts.Drop // that bring them
	Bands    []BandRow
	Unplaced []UnplacedRow
	Cautions []Caution
	Warnings diag.List // of the paths of a router: what the bit leaves, and screws in its way
	Bound    BoundLine
	Totals   Totals
}

// Title returns the name of the job, with the variant when it is one.
func (x *Dossier) Title() string {
	if x.Variant == "" {
		return x.Job.Name
	}
	return x.Job.Name + ", " + x.Variant
}

// PanelRow is a line of the cut list: all copies of a panel.
type PanelRow struct {
	Item      *kerf.Item
	Key       string // short number of the panel on the maps: "1", "2", ...
	Name      string
	Hand      parts.Hand
	Copies    int
	Of        int // copies there are in all: more than Copies when others are cut already
	Material  string
	Thickness length.Length // measured
	Finished  geom.Point    // length and width with edging
	Cut       geom.Point    // length and width as cut
	Blank     geom.Point    // length and width of a blank of its own; equals Cut for a square panel
	Sharing   int           // copies that share a blank with another panel instead
	Shaped    bool          // not a plain rectangle
	Openings  int
	Grain     parts.Axis
	Edging    []EdgeLine
	AreaMM2   float64  // of one panel as cut, openings taken off
	MassKG    float64  // of one panel; 0 when the density is unknown
	Sheets    []string // IDs of the sheets that hold the copies, in order of copies; "" for an unplaced one
	Note      string
	Paths     []toolpath.Path // of a router's bit in the frame of Item, in their order
	Shut      []int           // openings of Item that a router's bit does not enter
}

// KerfsAt returns where the middles of the kerfs of a bent panel lie, from its left or
// bottom end.
func (r *PanelRow) KerfsAt() []length.Length {
	var list []length.Length
	for _, k := range r.Item.KerfLines {
		at := k.From.X
		if k.From.X != k.To.X {
			at = k.From.Y
		}
		list = append(list, at)
	}
	return list
}

// Once returns IDs of sheets, each once, without those of panels that have none.
func Once(sheets []string) []string {
	var list []string
	for _, id := range sheets {
		if id != "" && !slices.Contains(list, id) {
			list = append(list, id)
		}
	}
	return list
}

// Money writes an amount with the currency of the job.
func (x *Dossier) Money(a money.Amount) string {
	return strings.TrimSpace(x.Lengths().Amount(a) + " " + x.Job.Currency)
}

// EdgeLine is one banded edge of a panel.
type EdgeLine struct {
	Edge   string // name of the edge: "left", "front"
	Band   string
	Length length.Length // developed, finished
}

// SharedRow is the blanks of one size that two panels share, each sawn in the place
// of two.
type SharedRow struct {
	Panels [2]*PanelRow  // the same one twice when it is two copies
	Blank  [2]geom.Point // length and width, as those of either panel run
	Count  int
	Sheets []string // IDs of the sheets that hold them, one a blank
}

// SheetMap is one sheet as it is cut. Coordinates are those of the sheet seen
// from its good face: origin lower left, x along its length.
type SheetMap struct {
	ID         string // "S1", "S2", ... over the whole plan
	Stock      *parts.Stock
	Material   *parts.Material
	Usable     geom.Box
	Placements []PlacedPanel
	Cuts       []nest.Cut
	Offcuts    []nest.Offcut
	Steps      []Step          // the cuts of a saw as they are made
	Paths      []toolpath.Path // those of a router's bit, in their order
	Effort     toolpath.Effort // what they take
	MassKG     float64         // of the whole sheet; 0 when the density is unknown
	Areas      Areas
}

// PlacedPanel is a panel on a sheet, its true outline in sheet coordinates.
type PlacedPanel struct {
	Row      *PanelRow
	Copy     int
	Outline  outline.Outline
	Openings []outline.Outline
	Kerfs    []outline.Outline // the two ends of the kerfs that let it bend
	Shape    geom.Polygon      // the nesting polyline, for documents without arcs
	Blank    geom.Box          // what is sawn: its own blank, or the one it shares
	With     *PlacedPanel      // the panel that shares its blank, or nil
	Second   bool              // of the two that share a blank, the one listed later
	Turn     int
	Flip     bool
}

// BlankSize returns the length and width of what is sawn, as those of the panel run.
func (p *PlacedPanel) BlankSize() geom.Point {
	size := p.Blank.Size()
	if p.Turn%180 == 90 {
		return geom.Pt(size.Y, size.X)
	}
	return size
}

// Areas divides a sheet, or all sheets, in square millimetres. They add up:
// Sheet = Panels + Kept + KerfTrim + Waste.
type Areas struct {
	Sheet    float64
	Panels   float64 // true panel area as cut, openings taken off
	Kept     float64 // offcuts to keep
	KerfTrim float64 // blade or bit, and trim
	Kerf     float64 // the share of KerfTrim that is blade or bit
	Waste    float64 // the rest: small offcuts, what falls from shaped panels
}

// BuyRow is one line of what to buy or take from the rack.
type BuyRow struct {
	Stock  *parts.Stock
	Sheets []string     // IDs
	Count  int          // that the plan takes
	Spare  int          // bought beyond
	Price  money.Amount // of each, at that quantity
	Cost   money.Amount // of all
}

// PriceOf returns what a sheet of a stock costs at the quantity that is bought.
func (x *Dossier) PriceOf(s *parts.Stock) money.Amount {
	for i := range x.Buy {
		if x.Buy[i].Stock == s {
			return x.Buy[i].Price
		}
	}
	return s.Price
}

// BandRow is the edge band to buy.
type BandRow struct {
	Band   *parts.Band
	Length length.Length // sum of the banded edges, no waste; may exceed length.Max
	Cost   money.Amount
}

// Before is what earlier plans bought or took, for the plans that go on from this one.
type Before struct {
	Taken []rest.Taken  // of the stock of the job file
	Left  []parts.Stock // boards in hand that this plan does not take
}

// DoneRow is a panel that was cut before the plan was made.
type DoneRow struct {
	Name  string
	Copy  int
	Sheet string // its ID
}

// UnplacedRow is copies of a panel that found no place.
type UnplacedRow struct {
	Row    *PanelRow
	Copies int
	Reason string
}

// Caution is something the shop must know, with where it comes from.
type Caution struct {
	Topic  string // "heavy sheet", "narrow rip", "dust"
	Text   string
	Source string // a published source, or "common practice, no source"
	Sheets []string
}

// BoundLine says how near the plan is to what cannot be beaten.
type BoundLine struct {
	Sheets int
	Cost   money.Amount // 0 when stock has no prices
	Method string
	Proved bool
	Text   string // a sentence for people: "proved: no plan needs fewer sheets"
}

// Totals of a plan.
type Totals struct {
	Sheets    int
	Panels    int // placed
	Board     money.Amount
	Delivery  money.Amount
	Edging    money.Amount
	Cost      money.Amount // Board + Delivery + Edging
	Priced    bool         // every sheet and band used has a price
	MassKG    float64      // of the panels
	Areas     Areas
	Yield     float64         // Panels / Sheet
	CutLength length.Length   // of all saw cuts, or of all outlines; may exceed length.Max
	Fences    int             // how often the fence is set when the saw cuts are made in order
	Stages    int             // most stages of a sheet that is sawn
	Effort    toolpath.Effort // of a router
}
