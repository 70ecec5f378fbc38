package check

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/geom"
)

func TestHandMadePlansAreAccepted(t *testing.T) {
	for name, make := range map[string]func() (*nest.Problem, *nest.Plan){"kiosk": kiosk, "porthole": porthole} {
		p, plan := make()
		if err := Plan(p, plan); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
		if err := Plan(rectangles(cut, 70, 5, 6)); err != nil {
			t.Errorf("%v rectangles: %v", cut, err)
		}
	}
}

// mutation is one fault put into an accepted plan. The verdict must name
// exactly the kinds listed.
type mutation struct {
	name string
	make func(p *nest.Problem, plan *nest.Plan)
	want []Kind
}

func testMutations(t *testing.T, fresh func() (*nest.Problem, *nest.Plan), list []mutation) {
	for _, m := range list {
		t.Run(strings.ReplaceAll(m.name, " ", "_"), func(t *testing.T) {
			p, plan := fresh()
			m.make(p, plan)
			err := Plan(p, plan)
			got, want := kindsOf(t, err), slices.Clone(m.want)
			slices.Sort(got)
			slices.Sort(want)
			if !slices.Equal(got, want) {
				t.Errorf("verdict names %v, want %v:\n%v", got, want, err)
			}
		})
	}
}

func TestSawMutations(t *testing.T) {
	sheet := func(plan *nest.Plan) *nest.Sheet { return &plan.Sheets[0] }
	testMutations(t, kiosk, []mutation{
		{"stock index", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Stock = 1 }, []Kind{NoSuchStock}},
		{"negative stock index", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Stock = -1 }, []Kind{NoSuchStock}},
		{"part index", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Placements[4].Part = 3 }, []Kind{NoSuchPart, WrongCount}},
		{"unplaced part index", func(p *nest.Problem, plan *nest.Plan) {
			plan.Unplaced = []nest.Unplaced{{Part: -1, Copies: 1}}
		}, []Kind{NoSuchPart}},
		{"copy 0", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Placements[4].Copy = 0 }, []Kind{NoSuchCopy, WrongCount}},
		{"copy beyond", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Placements[4].Copy = 2 }, []Kind{NoSuchCopy, WrongCount}},
		{"copy twice", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Placements[1].Copy = 1 }, []Kind{CopyTwice, WrongCount}},
		{"panel dropped", func(p *nest.Problem, plan *nest.Plan) {
			sheet(plan).Placements = sheet(plan).Placements[1:]
		}, []Kind{WrongCount}},
		{"unplaced as well", func(p *nest.Problem, plan *nest.Plan) {
			plan.Unplaced = []nest.Unplaced{{Part: 1, Copies: 1}}
		}, []Kind{WrongCount}},
		{"unplaced in two entries that do not add up", func(p *nest.Problem, plan *nest.Plan) {
			p.Parts[1].Copies = 5
			plan.Unplaced = []nest.Unplaced{{Part: 1, Copies: 2}, {Part: 1, Copies: 2}}
		}, []Kind{WrongCount}},
		{"unplaced in two entries that add up", func(p *nest.Problem, plan *nest.Plan) {
			p.Parts[1].Copies = 5
			plan.Unplaced = []nest.Unplaced{{Part: 1, Copies: 1}, {Part: 1, Copies: 2}}
		}, nil},
		{"no unplaced copies", func(p *nest.Problem, plan *nest.Plan) {
			plan.Unplaced = []nest.Unplaced{{Part: 1, Copies: 0}}
		}, []Kind{WrongCount}},
		{"material", func(p *nest.Problem, plan *nest.Plan) { p.Stocks[0].Material = "poplar" }, []Kind{WrongMaterial}},
		{"grain turned", func(p *nest.Problem, plan *nest.Plan) { p.Stocks[0].Grain = parts.AlongWidth }, []Kind{WrongTurn}},
		{"grain across", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Placements[4].Turn = 270 }, nil},
		{"grain along", func(p *nest.Problem, plan *nest.Plan) { p.Parts[2].Grain = parts.AlongLength }, []Kind{WrongTurn}},
		{"no grain of the part", func(p *nest.Problem, plan *nest.Plan) { p.Parts[2].Grain = parts.NoAxis }, nil},
		{"no grain of the sheet", func(p *nest.Problem, plan *nest.Plan) { p.Stocks[0].Grain = parts.NoAxis }, nil},
		{"turns of the part", func(p *nest.Problem, plan *nest.Plan) { p.Parts[2].Turns = []int{0, 270} }, []Kind{WrongTurn}},
		{"one way up", func(p *nest.Problem, plan *nest.Plan) { p.Parts[1].OneWay = true }, nil},
		{"one way up, the other way", func(p *nest.Problem, plan *nest.Plan) { p.Parts[0].OneWay = true }, []Kind{WrongTurn}},
		{"one way up, across", func(p *nest.Problem, plan *nest.Plan) { p.Parts[2].OneWay = true }, nil},
		{"one way up, across, the other way", func(p *nest.Problem, plan *nest.Plan) {
			p.Parts[2].OneWay = true
			sheet(plan).Placements[4].Turn = 270
		}, []Kind{WrongTurn}},
		{"turns before grain", func(p *nest.Problem, plan *nest.Plan) {
			p.Parts[2].Grain, p.Parts[2].Turns = parts.AlongLength, []int{90}
		}, nil},
		{"turns but none", func(p *nest.Problem, plan *nest.Plan) { p.Parts[2].Turns = []int{} }, []Kind{WrongTurn}},
		{"turn of 360", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Placements[0].Turn = 360 }, []Kind{WrongTurn}},
		{"negative turn", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Placements[4].Turn = -90 }, []Kind{WrongTurn}},
		{"free turn with a saw", func(p *nest.Problem, plan *nest.Plan) {
			p.Parts[0].Turns = []int{0, 180, 45}
			sheet(plan).Placements[0].Turn = 45
		}, []Kind{WrongTurn}},
		{"flip", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Placements[3].Flip = true }, []Kind{WrongFace}},
		{"flip allowed", func(p *nest.Problem, plan *nest.Plan) {
			p.Parts[1].CanFlip = true
			sheet(plan).Placements[3].Flip = true
		}, nil},
		{"stock ran out", func(p *nest.Problem, plan *nest.Plan) { p.Stocks[0].Available = 0 }, []Kind{StockRanOut}},
		{"more sheets than there are", func(p *nest.Problem, plan *nest.Plan) {
			plan.Sheets = append(plan.Sheets, nest.Sheet{})
		}, []Kind{StockRanOut}},
		{"second strip", func(p *nest.Problem, plan *nest.Plan) {
			p.Strip, p.Stocks[0].Available = true, parts.Unlimited
			plan.Sheets = append(plan.Sheets, nest.Sheet{})
		}, []Kind{SecondStrip}},
		{"a strip", func(p *nest.Problem, plan *nest.Plan) { p.Strip = true }, nil},
		{"usable area smaller by a unit", func(p *nest.Problem, plan *nest.Plan) { p.Stocks[0].Usable.Min.Y++ }, []Kind{OutsideUsable}},
		{"usable area without area", func(p *nest.Problem, plan *nest.Plan) { p.Stocks[0].Usable = geom.Box{} }, []Kind{OutsideUsable}},
		{"panel moved by a unit", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Placements[3].At.X++ }, []Kind{BlankNotFreed}},
		{"panel moved into the kerf by a unit", func(p *nest.Problem, plan *nest.Plan) {
			sheet(plan).Placements[3].At.Y--
		}, []Kind{BlankNotFreed, TooClose}},
		{"panel on another", func(p *nest.Problem, plan *nest.Plan) {
			sheet(plan).Placements[3].At = sheet(plan).Placements[2].At
		}, []Kind{BlankShared, Overlap}},
		{"panels overlapping by a unit", func(p *nest.Problem, plan *nest.Plan) {
			sheet(plan).Placements[1].At.X -= p.Kerf + 1
		}, []Kind{BlankNotFreed, Overlap}},
		{"blank larger", func(p *nest.Problem, plan *nest.Plan) { p.Parts[2].Blank.X += mm(1) }, []Kind{BlankNotFreed}},
		{"gap above the kerf", func(p *nest.Problem, plan *nest.Plan) { p.Gap++ }, []Kind{TooClose}},
		{"kerf of the next blade", func(p *nest.Problem, plan *nest.Plan) { p.Kerf = mm(4) }, []Kind{WrongFence, CutNotThrough}},
		{"no cuts", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Cuts = nil }, []Kind{CutsMissing}},
		{"cut left out", func(p *nest.Problem, plan *nest.Plan) {
			sheet(plan).Cuts = slices.Delete(sheet(plan).Cuts, 9, 10)
		}, []Kind{BlankNotFreed}},
		{"last cut left out", func(p *nest.Problem, plan *nest.Plan) {
			sheet(plan).Cuts = sheet(plan).Cuts[:11]
		}, []Kind{BlankNotFreed}},
		{"cuts swapped", func(p *nest.Problem, plan *nest.Plan) {
			c := sheet(plan).Cuts
			c[4], c[5] = c[5], c[4]
		}, []Kind{CutNotThrough}},
		{"cut made twice", func(p *nest.Problem, plan *nest.Plan) {
			sheet(plan).Cuts = append(sheet(plan).Cuts, sheet(plan).Cuts[11])
		}, []Kind{CutNotThrough}},
		{"trim made twice", func(p *nest.Problem, plan *nest.Plan) {
			sheet(plan).Cuts = slices.Insert(sheet(plan).Cuts, 1, sheet(plan).Cuts[0])
		}, []Kind{CutNotThrough}},
		{"cut that takes nothing", func(p *nest.Problem, plan *nest.Plan) {
			// The kerf ends where the sheet begins.
			sheet(plan).Cuts[0] = level(-1.6, 0, 2440, 1220)
		}, []Kind{CutNotThrough}},
		{"cut that takes a unit", func(p *nest.Problem, plan *nest.Plan) {
			c := level(-1.6, 0, 2440, 1220)
			c.From.Y, c.To.Y, c.Fence = c.From.Y+1, c.To.Y+1, c.Fence-1
			sheet(plan).Cuts = slices.Insert(sheet(plan).Cuts, 0, c)
		}, nil},
		{"cut in the other direction", func(p *nest.Problem, plan *nest.Plan) {
			c := &sheet(plan).Cuts[7]
			c.From, c.To = c.To, c.From
		}, nil},
		{"cut over two pieces", func(p *nest.Problem, plan *nest.Plan) {
			sheet(plan).Cuts[10].From.Y = mm(1)
		}, []Kind{CutNotThrough}},
		{"cut short by a unit", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Cuts[10].To.Y-- }, []Kind{CutNotThrough}},
		{"cut long by a unit", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Cuts[10].To.Y++ }, []Kind{CutNotThrough}},
		{"cut beside the sheet", func(p *nest.Problem, plan *nest.Plan) {
			sheet(plan).Cuts = append(sheet(plan).Cuts, level(3000, 0, 2440, 10))
		}, []Kind{CutNotThrough}},
		{"cut aslant", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Cuts[8].To.Y++ }, []Kind{CutNotStraight}},
		{"cut without length", func(p *nest.Problem, plan *nest.Plan) {
			sheet(plan).Cuts[8].To = sheet(plan).Cuts[8].From
		}, []Kind{CutNotStraight}},
		{"cut out of range", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Cuts[8].To.X = 1 << 62 }, []Kind{OutOfRange}},
		{"cut through a panel", func(p *nest.Problem, plan *nest.Plan) {
			sheet(plan).Cuts = append(sheet(plan).Cuts, upright(300, 1, 601, 293.4))
		}, []Kind{BlankNotFreed}},
		{"cut shifted by a unit", func(p *nest.Problem, plan *nest.Plan) {
			c := &sheet(plan).Cuts[5]
			c.From.X, c.To.X, c.Fence = c.From.X+1, c.To.X+1, c.Fence+1
		}, []Kind{BlankNotFreed, WrongFence}}, // the next fence setting rests on it
		{"piece turned to dust", func(p *nest.Problem, plan *nest.Plan) {
			// A strip of 1.8 mm is narrower than the blade.
			sheet(plan).Cuts = append(sheet(plan).Cuts, upright(1, 1, 1215, 0))
		}, []Kind{WrongFence}},
		{"fence off by a unit", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Cuts[5].Fence++ }, []Kind{WrongFence}},
		{"fence of the other side", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Cuts[5].Fence = mm(2435 - 808.2) }, nil},
		{"fence to the far side of the kerf", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Cuts[5].Fence += p.Kerf }, []Kind{WrongFence}},
		{"offcut in a blank", func(p *nest.Problem, plan *nest.Plan) {
			sheet(plan).Offcuts[0].Box = mmBox(5, 1, 605, 401)
		}, []Kind{OffcutNotThere}},
		{"offcut over the kerf", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Offcuts[2].Box.Min.X-- }, []Kind{OffcutNotThere}},
		{"offcut within its piece", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Offcuts[2].Box.Min.X++ }, nil},
		{"offcut beyond the sheet", func(p *nest.Problem, plan *nest.Plan) {
			sheet(plan).Offcuts[0].Box.Max.X = mm(2441)
		}, []Kind{OffcutNotThere}},
		{"offcut empty", func(p *nest.Problem, plan *nest.Plan) {
			sheet(plan).Offcuts[0].Box.Max.X = sheet(plan).Offcuts[0].Box.Min.X
		}, []Kind{OffcutNotThere}},
		{"offcut out of range", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Offcuts[0].Box.Max.X = -1 << 63 }, []Kind{OutOfRange}},
		{"offcut twice", func(p *nest.Problem, plan *nest.Plan) {
			sheet(plan).Offcuts = append(sheet(plan).Offcuts, sheet(plan).Offcuts[0])
		}, []Kind{OffcutOverlap}},
		{"offcut in two without a cut", func(p *nest.Problem, plan *nest.Plan) {
			o := sheet(plan).Offcuts
			left, right := o[2], o[2]
			left.Box.Max.X, right.Box.Min.X = mm(1500), mm(1600)
			sheet(plan).Offcuts = append(o[:2], left, right)
		}, []Kind{OffcutOverlap}},
		{"offcut too small to keep", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Offcuts[1].Keep = true }, []Kind{OffcutWrongKeep}},
		{"offcut thrown away", func(p *nest.Problem, plan *nest.Plan) { sheet(plan).Offcuts[0].Keep = false }, []Kind{OffcutWrongKeep}},
		{"offcut just large enough", func(p *nest.Problem, plan *nest.Plan) {
			p.Keep = parts.KeepRule{Short: mm(93.6), Long: mm(500)}
			sheet(plan).Offcuts[1].Keep = true
		}, nil},
		{"offcut just too short", func(p *nest.Problem, plan *nest.Plan) {
			p.Keep = parts.KeepRule{Short: mm(93.6), Long: mm(500) + 1}
			sheet(plan).Offcuts[1].Keep = true
		}, []Kind{OffcutWrongKeep}},
		{"placed out of range", func(p *nest.Problem, plan *nest.Plan) {
			sheet(plan).Placements[0].At.X = Limit + 1
		}, []Kind{OutOfRange}},
		{"reaching out of range", func(p *nest.Problem, plan *nest.Plan) {
			sheet(plan).Placements[0].At.X = Limit
		}, []Kind{OutOfRange}},
		{"odd kerf", func(p *nest.Problem, plan *nest.Plan) { p.Kerf++ }, []Kind{BadProblem}},
		{"negative kerf", func(p *nest.Problem, plan *nest.Plan) { p.Kerf = -2 }, []Kind{BadProblem}},
		{"unknown way to cut", func(p *nest.Problem, plan *nest.Plan) { p.Cut = 7 }, []Kind{BadProblem}},
		{"shape outside its blank", func(p *nest.Problem, plan *nest.Plan) { p.Parts[2].Inset.Y += mm(6) + 1 }, []Kind{BadProblem}},
		{"shape off the origin", func(p *nest.Problem, plan *nest.Plan) { p.Parts[2].Shape.Outer[0].Y++ }, nil},
		{"shape all off the origin", func(p *nest.Problem, plan *nest.Plan) {
			p.Parts[2].Shape = p.Parts[2].Shape.Translate(geom.Point{X: 1})
		}, []Kind{BadProblem}},
		{"no shape", func(p *nest.Problem, plan *nest.Plan) { p.Parts[2].Shape.Outer = nil }, []Kind{BadProblem}},
		{"shape without area", func(p *nest.Problem, plan *nest.Plan) {
			p.Parts[2].Shape.Outer = ring(0, 0, 10, 10, 5, 5)
		}, []Kind{BadProblem}},
		{"negative copies", func(p *nest.Problem, plan *nest.Plan) {
			p.Parts = append(p.Parts, rect("NONE", 1, 1, -1))
		}, []Kind{BadProblem}},
		{"usable beyond the sheet", func(p *nest.Problem, plan *nest.Plan) { p.Stocks[0].Usable.Max.X = mm(2441) }, []Kind{BadProblem}},
		{"negative stock", func(p *nest.Problem, plan *nest.Plan) { p.Stocks[0].Available = -2 }, []Kind{BadProblem, StockRanOut}},
		{"strip of two stocks", func(p *nest.Problem, plan *nest.Plan) {
			p.Strip, p.Stocks = true, append(p.Stocks, p.Stocks[0])
		}, []Kind{BadProblem}},
	})
}

func TestRouterMutations(t *testing.T) {
	testMutations(t, porthole, []mutation{
		{"cuts", func(p *nest.Problem, plan *nest.Plan) {
			plan.Sheets[0].Cuts = []nest.Cut{level(300, 0, 1000, 300)}
		}, []Kind{CutsOnRouter}},
		{"gap above by a unit", func(p *nest.Problem, plan *nest.Plan) { p.Gap++ }, []Kind{TooClose, OffcutTooClose}},
		{"bracket nearer by a unit", func(p *nest.Problem, plan *nest.Plan) { plan.Sheets[0].Placements[3].At.X-- }, []Kind{TooClose}},
		{"bracket farther by a unit", func(p *nest.Problem, plan *nest.Plan) { plan.Sheets[0].Placements[3].At.X++ }, nil},
		{"brackets touching", func(p *nest.Problem, plan *nest.Plan) {
			plan.Sheets[0].Placements[3].At.X -= mm(5)
		}, []Kind{TooClose}},
		{"brackets overlapping by a unit", func(p *nest.Problem, plan *nest.Plan) {
			plan.Sheets[0].Placements[3].At.X -= mm(5) + 1
		}, []Kind{Overlap}},
		{"brackets touching without a gap", func(p *nest.Problem, plan *nest.Plan) {
			p.Gap = 0
			plan.Sheets[0].Placements[3].At.X -= mm(5)
		}, nil},
		{"brackets overlapping by a unit without a gap", func(p *nest.Problem, plan *nest.Plan) {
			p.Gap = 0
			plan.Sheets[0].Placements[3].At.X -= mm(5) + 1
		}, []Kind{Overlap}},
		{"bracket on the other", func(p *nest.Problem, plan *nest.Plan) {
			plan.Sheets[0].Placements[3] = nest.Placement{Part: 2, Copy: 2, At: plan.Sheets[0].Placements[2].At}
		}, []Kind{Overlap}},
		{"bracket on the other without a gap", func(p *nest.Problem, plan *nest.Plan) {
			p.Gap = 0
			plan.Sheets[0].Placements[3] = nest.Placement{Part: 2, Copy: 2, At: plan.Sheets[0].Placements[2].At}
		}, []Kind{Overlap}},
		{"dial against the opening", func(p *nest.Problem, plan *nest.Plan) {
			plan.Sheets[0].Placements[1].At.X = mm(110 + 5) // the opening begins at 110
		}, nil},
		{"dial too near the opening", func(p *nest.Problem, plan *nest.Plan) {
			plan.Sheets[0].Placements[1].At.X = mm(110+5) - 1
		}, []Kind{TooClose}},
		{"dial over the edge of the opening", func(p *nest.Problem, plan *nest.Plan) {
			plan.Sheets[0].Placements[1].At.X = mm(110) - 1
		}, []Kind{Overlap}},
		{"dial in the wood of the frame", func(p *nest.Problem, plan *nest.Plan) {
			p.Parts[1] = routerPart("DIAL", 2, disc(20, 24))
			plan.Sheets[0].Placements[1].At = mmPt(40, 100)
		}, []Kind{Overlap}},
		{"no opening", func(p *nest.Problem, plan *nest.Plan) { p.Parts[0].Shape.Holes = nil }, []Kind{Overlap}},
		{"opening run the other way", func(p *nest.Problem, plan *nest.Plan) {
			slices.Reverse(p.Parts[0].Shape.Holes[0])
			slices.Reverse(p.Parts[1].Shape.Outer)
		}, nil},
		{"flip not allowed", func(p *nest.Problem, plan *nest.Plan) { p.Parts[3].CanFlip = false }, []Kind{WrongFace}},
		{"wedge not flipped", func(p *nest.Problem, plan *nest.Plan) {
			plan.Sheets[1].Placements[0].Flip = false
		}, []Kind{OffcutTooClose}},
		{"offcut near the slope by a unit", func(p *nest.Problem, plan *nest.Plan) {
			plan.Sheets[1].Offcuts[0].Box.Min.Y--
		}, []Kind{OffcutTooClose}},
		{"offcut over a panel", func(p *nest.Problem, plan *nest.Plan) {
			plan.Sheets[0].Offcuts[0].Box.Min.Y = mm(200)
		}, []Kind{OffcutTooClose}},
		{"offcut in the opening", func(p *nest.Problem, plan *nest.Plan) {
			s := &plan.Sheets[0]
			s.Offcuts = append(s.Offcuts, nest.Offcut{Box: mmBox(260, 100, 300, 200)})
		}, nil},
		{"offcuts overlap", func(p *nest.Problem, plan *nest.Plan) {
			s := &plan.Sheets[0]
			s.Offcuts = append(s.Offcuts, nest.Offcut{Box: mmBox(900, 580, 990, 590)})
		}, []Kind{OffcutOverlap}},
		{"offcuts touch", func(p *nest.Problem, plan *nest.Plan) {
			s := &plan.Sheets[0]
			s.Offcuts = append(s.Offcuts, nest.Offcut{Box: mmBox(990, 10, 1000, 590)})
		}, nil},
		{"offcut beyond the sheet", func(p *nest.Problem, plan *nest.Plan) {
			plan.Sheets[0].Offcuts[0].Box.Max.Y = mm(601)
		}, []Kind{OffcutNotThere}},
		{"offcut thrown away", func(p *nest.Problem, plan *nest.Plan) { plan.Sheets[1].Offcuts[0].Keep = false }, []Kind{OffcutWrongKeep}},
		{"usable area smaller by a unit", func(p *nest.Problem, plan *nest.Plan) { p.Stocks[0].Usable.Min.X++ }, []Kind{OutsideUsable}},
		{"material", func(p *nest.Problem, plan *nest.Plan) { plan.Sheets[1].Stock = 1 }, []Kind{WrongMaterial}},
		{"stock ran out", func(p *nest.Problem, plan *nest.Plan) { p.Stocks[0].Available = 1 }, []Kind{StockRanOut}},
		{"free turn", func(p *nest.Problem, plan *nest.Plan) { plan.Sheets[1].Placements[1].Turn = 30 }, []Kind{WrongTurn}},
		{"free turn allowed", func(p *nest.Problem, plan *nest.Plan) {
			p.Parts[1].Turns = []int{0, 30}
			plan.Sheets[1].Placements[1].Turn = 30
		}, nil},
		{"blank not the box", func(p *nest.Problem, plan *nest.Plan) { p.Parts[1].Blank.X++ }, []Kind{BadProblem}},
		{"hole beyond the outline", func(p *nest.Problem, plan *nest.Plan) { p.Parts[0].Shape.Holes[0][0].X = -1 }, []Kind{BadProblem}},
		{"hole of two points", func(p *nest.Problem, plan *nest.Plan) {
			p.Parts[0].Shape.Holes[0] = p.Parts[0].Shape.Holes[0][:2]
		}, []Kind{BadProblem}},
		{"shape out of range", func(p *nest.Problem, plan *nest.Plan) { p.Parts[0].Shape.Outer[2].X = Limit + 1 }, []Kind{BadProblem}},
		{"reaching out of range", func(p *nest.Problem, plan *nest.Plan) {
			plan.Sheets[0].Placements[0].At.X = Limit
		}, []Kind{OutOfRange}},
	})
}

// TestPlaceOfAViolation checks that a violation says where, which and how much.
func TestPlaceOfAViolation(t *testing.T) {
	p, plan := porthole()
	plan.Sheets[0].Placements[3].At.X -= mm(1.5)
	err := Plan(p, plan)
	var v *Violation
	if !errors.As(err, &v) {
		t.Fatalf("no *Violation in %v", err)
	}
	want := Violation{
		Kind: TooClose, Sheet: 0, Index: 3, Part: "BRACKET", Copy: 2, Other: "BRACKET", OtherCopy: 1,
		At: mmPt(438.5, 65), Fact: "3.5 mm apart, the gap is 5 mm",
	}
	if *v != want {
		t.Errorf("got  %+v\nwant %+v", *v, want)
	}
	const text = `sheet 1: "BRACKET" copy 2 at (438.5 mm, 65 mm) too close: 3.5 mm apart, the gap is 5 mm`
	if err.Error() != text {
		t.Errorf("got  %s\nwant %s", err, text)
	}
}

// TestWholeSheet: a blank of the raw size needs no cut, and there is none that
// could be made.
func TestWholeSheet(t *testing.T) {
	p := &nest.Problem{
		Parts:  []nest.Part{rect("TOP", 600, 400, 1)},
		Stocks: []nest.Stock{{Material: "birch 18", Size: mmPt(600, 400), Usable: mmBox(0, 0, 600, 400), Available: 1}},
	}
	plan := &nest.Plan{Sheets: []nest.Sheet{{Placements: []nest.Placement{{Copy: 1}}}}}
	if err := Plan(p, plan); err != nil {
		t.Error(err)
	}
	p.Stocks[0].Size.X++
	if got := kindsOf(t, Plan(p, plan)); !slices.Equal(got, []Kind{CutsMissing}) {
		t.Errorf("one unit longer: %v", got)
	}
}

// TestNoKerf: a saw without a kerf (instances from the literature) cuts on lines
// strictly inside a piece.
func TestNoKerf(t *testing.T) {
	p := &nest.Problem{
		Parts:  []nest.Part{rect("HALF", 300, 400, 2)},
		Stocks: []nest.Stock{{Material: "birch 18", Size: mmPt(600, 400), Usable: mmBox(0, 0, 600, 400), Available: 1}},
	}
	plan := &nest.Plan{Sheets: []nest.Sheet{{
		Placements: []nest.Placement{{Copy: 1}, {Copy: 2, At: mmPt(300, 0)}},
		Cuts:       []nest.Cut{upright(300, 0, 400, 300)},
	}}}
	if err := Plan(p, plan); err != nil {
		t.Error(err)
	}
	for _, x := range []float64{0, 300, 600} {
		q := clonePlan(plan)
		q.Sheets[0].Cuts = append(q.Sheets[0].Cuts, upright(x, 0, 400, 300))
		if got := kindsOf(t, Plan(p, q)); !slices.Equal(got, []Kind{CutNotThrough}) {
			t.Errorf("cut on the edge x = %v: %v", x, got)
		}
	}
}

func TestNil(t *testing.T) {
	p, plan := kiosk()
	if got := kindsOf(t, Plan(nil, plan)); !slices.Equal(got, []Kind{BadProblem}) {
		t.Errorf("no problem: %v", got)
	}
	if got := kindsOf(t, Plan(p, nil)); !slices.Equal(got, []Kind{WrongCount}) {
		t.Errorf("no plan: %v", got)
	}
	if err := Plan(&nest.Problem{}, &nest.Plan{}); err != nil {
		t.Errorf("nothing asked, nothing done: %v", err)
	}
}

// TestHeap: thousands of panels in one place are judged fast, and the list stays
// short and says that it is not all.
func TestHeap(t *testing.T) {
	for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
		p, plan := rectangles(cut, 4000, 80, 50)
		for i := range plan.Sheets[0].Placements {
			plan.Sheets[0].Placements[i].At = geom.Point{}
			plan.Sheets[0].Placements[i].Turn = 45
			if i%2 == 0 {
				plan.Sheets[0].Placements[i].Turn = 0
			}
		}
		start := time.Now()
		err := Plan(p, plan)
		var all *Violations
		if !errors.As(err, &all) {
			t.Fatal(err)
		}
		if !all.Has(Overlap) || !all.Has(WrongTurn) || !all.Stopped || all.Found <= len(all.List) || len(all.List) > MaxListed*kinds {
			t.Errorf("%v: found %d, listed %d, stopped %t", cut, all.Found, len(all.List), all.Stopped)
		}
		if d := time.Since(start); d > 5*time.Second {
			t.Errorf("%v: took %v", cut, d)
		}
		if !strings.Contains(err.Error(), "there may be more") {
			t.Errorf("%v: the text does not say that the search stopped", cut)
		}
	}
}

// TestKindNames: every kind has a name of its own.
func TestKindNames(t *testing.T) {
	seen := map[string]bool{}
	for k := Kind(1); int(k) <= kinds; k++ {
		s := k.String()
		if s == "" || strings.HasPrefix(s, "kind ") || seen[s] {
			t.Errorf("kind %d is called %q", int(k), s)
		}
		seen[s] = true
	}
	if Kind(0).String() != "kind 0" || Kind(kinds+1).String() == "" {
		t.Error("a number that is no kind has a name")
	}
}
