package check

import (
	"fmt"
	"strings"

	"panelyard/parts/geom"
)

// Kind says what is wrong.
type Kind int

// The kinds of violations. The comment says what Violation.Index counts.
const (
	BadProblem      Kind = iota + 1 // the problem contradicts itself; Problem.Parts or Stocks
	OutOfRange                      // a coordinate is beyond Limit; the list At stands in
	NoSuchStock                     // Sheet.Stock is no index
	NoSuchPart                      // Placement.Part or Unplaced.Part is no index; that list
	NoSuchCopy                      // Placement.Copy is not in 1..Copies; Placements
	CopyTwice                       // a copy is placed again; Placements
	WrongCount                      // placed and unplaced are not Copies; Problem.Parts or Unplaced
	WrongMaterial                   // part and stock differ; Placements
	WrongTurn                       // a turn grain does not allow; Placements
	WrongFace                       // flipped though it may not be; Placements
	StockRanOut                     // more sheets than there are; Problem.Stocks
	SecondStrip                     // a strip problem on two sheets
	OutsideUsable                   // not in the usable area; Placements
	Overlap                         // two panels overlap; Placements
	TooClose                        // two panels are closer than Gap; Placements
	CutsMissing                     // panels on a sawn sheet without cuts
	CutsOnRouter                    // cuts listed for a router
	CutNotStraight                  // not parallel to an edge, or without length; Cuts
	CutNotThrough                   // not from edge to edge of one piece; Cuts
	WrongFence                      // Fence is the size of neither side; Cuts
	TooManyStages                   // more changes of direction than the saw allows; Cuts
	BlankNotFreed                   // no piece is the blank; Placements
	BlankShared                     // a piece holds two blanks; Placements
	NotToShare                      // a shared blank where there may be none; Placements
	SharedByOthers                  // a shared blank does not hold two panels; Placements
	SharedInVain                    // a shared blank saves too little; Placements
	OutsideShared                   // a blank is not in the one it is shared as; Placements
	OffcutNotThere                  // where no free material is; Offcuts
	OffcutOverlap                   // two offcuts claim the same material; Offcuts
	OffcutTooClose                  // closer than Gap to a routed panel; Offcuts
	OffcutWrongKeep                 // Keep is not what the rule says; Offcuts
	kinds           int  = iota     // how many kinds there are
)

var kindNames = [...]string{
	BadProblem:      "broken problem",
	OutOfRange:      "out of range",
	NoSuchStock:     "no such stock",
	NoSuchPart:      "no such part",
	NoSuchCopy:      "no such copy",
	CopyTwice:       "copy placed twice",
	WrongCount:      "wrong count",
	WrongMaterial:   "wrong material",
	WrongTurn:       "wrong turn",
	WrongFace:       "wrong face",
	StockRanOut:     "stock ran out",
	SecondStrip:     "second strip",
	OutsideUsable:   "outside the usable area",
	Overlap:         "overlap",
	TooClose:        "too close",
	CutsMissing:     "cuts missing",
	CutsOnRouter:    "cuts on a router",
	CutNotStraight:  "cut not straight",
	CutNotThrough:   "cut not through one piece",
	WrongFence:      "wrong fence setting",
	TooManyStages:   "too many stages",
	BlankNotFreed:   "blank not freed",
	BlankShared:     "blank shares its piece",
	NotToShare:      "blank not to be shared",
	SharedByOthers:  "shared blank not of two",
	SharedInVain:    "blank shared in vain",
	OutsideShared:   "outside the shared blank",
	OffcutNotThere:  "offcut not there",
	OffcutOverlap:   "offcuts overlap",
	OffcutTooClose:  "offcut too close",
	OffcutWrongKeep: "offcut kept wrongly",
}

// String returns the kind in words.
func (k Kind) String() string {
	if k < 1 || int(k) >= len(kindNames) {
		return fmt.Sprintf("kind %d", int(k))
	}
	return kindNames[k]
}

// A Violation is one thing that is wrong with a plan. Indices count from zero;
// the text of Error counts sheets from one, as the shop does.
type Violation struct {
	Kind  Kind
	Sheet int    // index in Plan.Sheets, or -1 when it is not about a sheet
	Index int    // index in the list the Kind names, or -1
	Part  string // name of the part or stock, if there is one
	Copy  int    // the copy, or 0
	// Other and OtherCopy are the second panel of a pair; Other is empty when
	// there is none.
	Other     string
	OtherCopy int
	At        geom.Point // where, in sheet coordinates: lower left of the panel, start of the cut, ...
	Fact      string     // what was measured
}

// Error returns the violation in one line.
func (v *Violation) Error() string {
	var b strings.Builder
	if v.Sheet >= 0 {
		fmt.Fprintf(&b, "sheet %d: ", v.Sheet+1)
	}
	if v.Part != "" {
		fmt.Fprintf(&b, "%q ", v.Part)
		if v.Copy != 0 {
			fmt.Fprintf(&b, "copy %d ", v.Copy)
		}
	}
	if v.Sheet >= 0 && v.Index >= 0 {
		fmt.Fprintf(&b, "at %s ", at(v.At))
	}
	fmt.Fprintf(&b, "%v: %s", v.Kind, v.Fact)
	return b.String()
}

// MaxListed is the number of violations of one kind that are listed. Those
// beyond it are counted, except that the search for pairs of panels stops when
// Overlap, TooClose, OffcutOverlap or OffcutTooClose is full.
const MaxListed = 20

// Violations is everything found wrong with a plan, problem first, then the
// counts, then sheet by sheet.
type Violations struct {
	List    []*Violation
	Found   int  // number found; List holds at most MaxListed of each kind
	Stopped bool // the search for pairs was stopped: there may be more
}

// Error returns a line a violation.
func (v *Violations) Error() string {
	var b strings.Builder
	for i, x := range v.List {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(x.Error())
	}
	if more := v.Found - len(v.List); more > 0 {
		fmt.Fprintf(&b, "\nand %d more", more)
	}
	if v.Stopped {
		b.WriteString("\nthe search for pairs was stopped: there may be more")
	}
	return b.String()
}

// Unwrap returns the list, so that errors.As finds a *Violation.
func (v *Violations) Unwrap() []error {
	list := make([]error, len(v.List))
	for i, x := range v.List {
		list[i] = x
	}
	return list
}

// Has reports whether a violation of a kind was found.
func (v *Violations) Has(k Kind) bool {
	for _, x := range v.List {
		if x.Kind == k {
			return true
		}
	}
	return false
}

// at writes a point for a fact.
func at(p geom.Point) string { return fmt.Sprintf("(%v, %v)", p.X, p.Y) }

// spread writes a box for a fact.
func spread(b geom.Box) string { return at(b.Min) + " to " + at(b.Max) }
