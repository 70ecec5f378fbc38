package nest

import (
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// Plan is an answer to a Problem.
type Plan struct {
	Sheets   []Sheet
	Unplaced []Unplaced
}

// Sheet is one sheet of a plan.
type Sheet struct {
	Stock      int // index in Problem.Stocks
	Placements []Placement
	Cuts       []Cut // for the saw: all cuts in the order they are made
	Offcuts    []Offcut
	ID         string // in the papers; empty for its number in the plan
}

// Placement is one panel on a sheet; the package comment says how it is read.
type Placement struct {
	Part int // index in Problem.Parts
	Copy int // from 1 to Copies; every copy occurs once in a plan
	Turn int // degrees counter-clockwise, 0 <= Turn < 360
	Flip bool
	At   geom.Point // lower left corner of the turned blank, in sheet coordinates
	// Shared is the blank on the sheet that this panel shares with another, and is
	// sawn in the place of both blanks; it is zero for a panel with a blank of its own.
	Shared geom.Box
}

// IsShared reports whether the panel shares its blank with another.
func (pl *Placement) IsShared() bool { return pl.Shared != geom.Box{} }

// Cut is a straight cut through a piece, from edge to edge of it. From and To
// are the ends of its centre line, on the piece's edges. It takes half the
// kerf on either side, or less where the piece ends.
type Cut struct {
	From, To geom.Point
	// Fence is the distance of the near side of the cut from the edge of the
	// piece that lies against the fence: the size of the part that comes off
	// or stays.
	Fence length.Length
	Trim  bool // takes off a factory edge or squares a piece rather than freeing a panel
	// BreakDown says that the cut makes a piece that can be carried out of one that
	// cannot; it is made where the sheet lies.
	BreakDown bool
	// Stage counts the changes of direction: 1 for the first cuts through a sheet, 2
	// for the cuts across those strips. It is 0 for cuts made before the first stage.
	Stage int
}

// Divide returns what a cut of a kerf leaves of a piece below and above it, or at its
// left and right; one is empty where the blade takes all there is. It reports false
// when the cut does not run through the piece from edge to edge.
func (c *Cut) Divide(piece geom.Box, kerf length.Length) (low, high geom.Box, ok bool) {
	low, high = piece, piece
	half := kerf / 2
	if c.From.X == c.To.X {
		low.Max.X, high.Min.X = c.From.X-half, c.From.X+half
		ok = min(c.From.Y, c.To.Y) == piece.Min.Y && max(c.From.Y, c.To.Y) == piece.Max.Y &&
			low.Max.X < piece.Max.X && high.Min.X > piece.Min.X
	} else {
		low.Max.Y, high.Min.Y = c.From.Y-half, c.From.Y+half
		ok = min(c.From.X, c.To.X) == piece.Min.X && max(c.From.X, c.To.X) == piece.Max.X &&
			low.Max.Y < piece.Max.Y && high.Min.Y > piece.Min.Y
	}
	return low, high, ok
}

// Sliver is the least width of a remainder that is called an offcut.
const Sliver = 10 * length.Millimetre

// Offcut is a rectangle that is left of a sheet.
type Offcut struct {
	Box  geom.Box
	Keep bool // large enough for the job's rule
}

// Unplaced is copies of a part that found no place.
type Unplaced struct {
	Part   int
	Copies int
	Reason string // for the user: [RanOut], ...
}

// RanOut is the reason of panels for which there is no sheet left.
const RanOut = "stock ran out"

// Placed returns how many panels lie on sheets.
func (p *Plan) Placed() int {
	n := 0
	for i := range p.Sheets {
		n += len(p.Sheets[i].Placements)
	}
	return n
}

// Place returns a part's shape and its own blank as a placement puts them on the
// sheet.
func (p *Problem) Place(pl Placement) (geom.Polygon, geom.Box) {
	shape, blank, d := p.turned(pl)
	return shape.Translate(d), blank.Translate(d)
}

// Shift returns by how much a part is moved that was flipped and turned, both about
// the corner of its blank.
func (p *Problem) Shift(pl Placement) geom.Point {
	_, _, d := p.turned(pl)
	return d
}

// turned returns a part's shape and blank flipped and turned about the corner of the
// blank, and by how much they are then moved. A blank turned by a free angle is no
// box; the shape's own box counts.
func (p *Problem) turned(pl Placement) (shape geom.Polygon, blank geom.Box, d geom.Point) {
	part := &p.Parts[pl.Part]
	ring := geom.BoxFromSize(geom.Point{}, part.Blank).Ring()
	shape = part.Shape.Translate(part.Inset)
	if pl.Flip {
		ring, shape = ring.Flipped(), shape.Flipped()
	}
	shape = shape.Turned(pl.Turn)
	if pl.Turn%90 == 0 {
		blank = ring.Turned(pl.Turn).Box()
	} else {
		blank = shape.Box()
	}
	return shape, blank, pl.At.Sub(blank.Min)
}
