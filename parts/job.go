package parts

import (
	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/money"
	"panelyard/parts/outline"
)

// Job is everything a plan is made from. Names are unique within a kind.
type Job struct {
	Name       string
	Note       string
	File       string        // the job file it was read from
	Units      length.Unit   // of bare numbers in the file, and of the papers unless Figures says another
	Figures    Figures       // how the papers write numbers
	Currency   string        // a word or sign such as EUR; may be empty
	Tolerance  length.Length // chord tolerance of the nesting polylines
	Materials  []Material
	Stock      []Stock
	Yards      []Yard
	Spare      int // sheets of each material to buy beyond those of the plan
	Bands      []Band
	Saw        Saw
	Router     Router
	Keep       KeepRule
	Components []Component
	Panels     []Panel
	Variables  []Variable
	Variants   []string  // names of all variants of the job
	Variant    string    // that this is; empty for the job as written
	Readings   []Reading // of drawings and parts lists that the job names
}

// Variable is a name for a length or a number in formulas. Value is what it comes to;
// empty when that differs from panel to panel.
type Variable struct{ Name, Text, Value string }

// Reading tells how a file that a job names was understood, as text for a terminal.
type Reading struct{ File, Text string }

// Material is a kind of board. Thickness is a measured property: joints and
// masses use Measured, the papers print both.
type Material struct {
	Name      string
	Nominal   length.Length
	Measured  length.Length // equal to Nominal when it was not measured
	Density   float64       // kg/m3; 0 when unknown
	Modulus   float64       // of elasticity along panels, N/mm2; 0 when unknown
	Grained   bool          // the board has a grain direction that shows
	GoodFaces int           // 1 or 2
	Turn      int           // step of the turns a panel may be laid in; ByGrain if 0
	Pos       diag.Pos
}

// MassKG returns the mass of an area of the material, as thick as it was measured; 0 when
// its density is unknown.
func (m *Material) MassKG(areaMM2 float64) float64 {
	return areaMM2 * m.Measured.MM() * m.Density / 1e9
}

// Axis is a direction on a sheet or a panel.
type Axis int

// The axes. On a sheet NoAxis means it has no grain; on a panel, that its
// grain may run either way.
const (
	NoAxis Axis = iota
	AlongLength
	AlongWidth
)

// String returns the word of the job file for the grain axis of a sheet.
func (a Axis) String() string {
	switch a {
	case AlongLength:
		return "length"
	case AlongWidth:
		return "width"
	}
	return "none"
}

// Unlimited is the Available of stock that can be bought in any number.
const Unlimited = -1

// Stock is a kind of sheet that can be had.
type Stock struct {
	Name      string
	Material  string
	Length    length.Length // x extent on the sheet map
	Width     length.Length
	Grain     Axis
	Price     money.Amount // a sheet
	Priced    bool         // a price was given
	Breaks    []Break      // prices by quantity, From ascending
	Yard      string       // that brings it; empty when nothing is paid for that
	Available int          // number of sheets, or Unlimited
	Trim      Trim
	Offcut    bool // a kept piece, not bought: used first at its own price
	InHand    bool // with Offcut: whole sheets that were bought before
	Pos       diag.Pos
}

// Trim is what is cut off each factory edge before it is used as a panel edge.
type Trim struct{ Left, Right, Bottom, Top length.Length }

// Band is an edge band. Its thickness is deducted from the cut size.
type Band struct {
	Name      string
	Thickness length.Length
	Price     money.Amount // a metre
	Priced    bool         // a price was given
	Pos       diag.Pos
}

// KeepRule says which offcuts are worth keeping: those with both sides at
// least Short and one at least Long.
type KeepRule struct{ Short, Long length.Length }

// Keeps reports whether an offcut of a size is worth keeping.
func (k KeepRule) Keeps(size geom.Point) bool {
	return min(size.X, size.Y) >= k.Short && max(size.X, size.Y) >= k.Long
}

// Hand tells the two panels of a mirrored pair apart.
type Hand int

// The hands. A panel that is not one of a pair has NoHand.
const (
	NoHand Hand = iota
	Left
	Right
)

// String returns the word the papers use for the hand.
func (h Hand) String() string {
	switch h {
	case Left:
		return "left"
	case Right:
		return "right"
	}
	return ""
}

// Panel is a panel to be cut, in one hand: a pair in the job file gives two
// Panels.
type Panel struct {
	Name     string
	Quantity int
	// Numbers are those of the copies where they are not 1 to Quantity: a job that goes
	// on asks for some of the Of copies that there are in all.
	Numbers  []int
	Of       int
	Material string
	Grain    Axis
	// EitherFace allows the panel to be laid face down, mirrored, on the sheet.
	// Only boards with two good faces have such panels.
	EitherFace bool
	Outline    outline.Outline // finished shape, edging included
	Openings   []Opening
	Edging     []string // the band's name on each segment of Outline; "" is none
	Banded     int      // copies whose edge band is in hand, in a job that goes on
	Hand       Hand
	Mirrored   bool   // Outline is the mirror image of what the file draws
	PairOf     string // name of the pair in the job file; empty for a single panel
	Note       string
	Bend       *Bend    // nil for a flat panel; the outline is that of the flat blank
	Load       float64  // kg that it carries as a shelf, evenly; 0 is none
	Relief     Relief   // of the inside corners of its outline
	Workings   []string // how its size was worked out, where it was
	Pos        diag.Pos
}

// Opening is a hole in a panel. Its outline is counter-clockwise, in the
// panel's frame.
type Opening struct {
	Name      string
	Outline   outline.Outline
	Component string // that it is for; empty when it is for none
	Relief    Relief
	Pos       diag.Pos
}

// Number returns the number of a copy from 1 to Quantity.
func (p *Panel) Number(copy int) int {
	if p.Numbers == nil {
		return copy
	}
	return p.Numbers[copy-1]
}

// Size returns the finished length and width of the panel.
func (p *Panel) Size() geom.Point { return p.Outline.Box().Size() }

// Material returns the material of a name, or nil.
func (j *Job) Material(name string) *Material { return byName(j.Materials, name, nameOfMaterial) }

// Band returns the band of a name, or nil.
func (j *Job) Band(name string) *Band { return byName(j.Bands, name, nameOfBand) }

// Component returns the component of a name, or nil.
func (j *Job) Component(name string) *Component { return byName(j.Components, name, nameOfComponent) }

func nameOfComponent(c *Component) string { return c.Name }
func nameOfMaterial(m *Material) string   { return m.Name }
func nameOfBand(b *Band) string           { return b.Name }

func byName[T any](list []T, name string, of func(*T) string) *T {
	for i := range list {
		if of(&list[i]) == name {
			return &list[i]
		}
	}
	return nil
}

// The defaults of a job: common practice, no source.
const (
	DefaultTolerance = 100 * length.Micrometre
	DefaultKerf      = 3200 * length.Micrometre
	DefaultAllowance = 6 * length.Millimetre
	DefaultBit       = 6 * length.Millimetre
	DefaultGap       = 500 * length.Micrometre
	DefaultMargin    = 10 * length.Millimetre
	DefaultTrim      = 5 * length.Millimetre
	DefaultKeepShort = 100 * length.Millimetre
	DefaultKeepLong  = 400 * length.Millimetre
)
