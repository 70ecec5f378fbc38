package bend

import (
	"fmt"

	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// Grain says how the face grain of plywood lies to a bend.
type Grain int

// The grains. Plywood bends more easily across.
const (
	Across Grain = iota // the face grain runs along the axis of the bend
	Along               // the face grain runs round the curve
)

// String returns the word for g.
func (g Grain) String() string {
	if g == Along {
		return "along"
	}
	return "across"
}

// row is the least radius of a thickness of plywood, by grain.
type row struct {
	thickness length.Length
	radius    [2]length.Length // Across, Along
}

// table is a published table of least radii, thinnest board first. Radii grow with the
// thickness: a thinner board bends wherever a thicker one does.
type table struct {
	source string
	rows   []row
}

// trade is the table that is built by: Douglas-fir plywood as it comes.
var trade = table{
	"a trade body's table for softwood plywood, bent dry",
	[]row{
		{length.Inch * 4 / 16, [2]length.Length{2 * length.Foot, 5 * length.Foot}},
		{length.Inch * 5 / 16, [2]length.Length{2 * length.Foot, 6 * length.Foot}},
		{length.Inch * 6 / 16, [2]length.Length{3 * length.Foot, 8 * length.Foot}},
		{length.Inch * 8 / 16, [2]length.Length{6 * length.Foot, 12 * length.Foot}},
		{length.Inch * 10 / 16, [2]length.Length{8 * length.Foot, 16 * length.Foot}},
		{length.Inch * 12 / 16, [2]length.Length{12 * length.Foot, 20 * length.Foot}},
	},
}

// aircraft is the second table: good thin plywood at 10 % moisture on a cold mandrel.
// Its column of grain at 90 degrees to the axis is Along, that of 0 or 45 Across.
var aircraft = table{
	"FAA AC 43.13-1B, table 1-2, for aircraft plywood on a cold mandrel",
	[]row{
		thousandths(35, 1.1, 2.0), thousandths(70, 3.2, 5.2), thousandths(100, 5.2, 8.6), thousandths(125, 7.1, 12),
		thousandths(155, 10, 16), thousandths(160, 11, 17), thousandths(185, 13, 20), thousandths(190, 14, 21),
		thousandths(225, 17, 27), thousandths(250, 20, 31), thousandths(315, 28, 43), thousandths(375, 36, 54),
	},
}

// thousandths returns a row of a thickness in thousandths of an inch and radii in inches.
func thousandths(thickness length.Length, across, along float64) row {
	in := func(v float64) length.Length { return nearest(v * float64(length.Inch)) }
	return row{length.Inch * thickness / 1000, [2]length.Length{in(across), in(along)}}
}

// thickest returns the thickest board of the table.
func (t table) thickest() length.Length { return t.rows[len(t.rows)-1].thickness }

// least returns the radius of the row of a thickness, or of the next thicker one: on
// the safe side between rows and below the first. Beyond the last there is none.
func (t table) least(thickness length.Length, g Grain) (length.Length, bool) {
	for _, r := range t.rows {
		if r.thickness >= thickness {
			return r.radius[g], true
		}
	}
	return 0, false
}

// bends returns the thickest board of the table that bends to a radius; 0 is none.
func (t table) bends(radius length.Length, g Grain) length.Length {
	var most length.Length
	for _, r := range t.rows {
		if r.radius[g] <= radius {
			most = max(most, r.thickness)
		}
	}
	return most
}

// Dry is plywood that is to be bent as it comes, without kerfs.
type Dry struct {
	Thickness length.Length // measured
	Radius    length.Length // of the outer face
	Grain     Grain
}

// Answer says whether plywood bends dry.
type Answer int

// The answers.
const (
	TooTight Answer = iota // neither table allows it
	TryFirst               // only the table of aircraft plywood does
	Bends                  // the trade body's table does
)

// Least is the least radius of the inner face that a source gives.
type Least struct {
	Radius length.Length
	Source string
}

// Advice is what is to be known of bending plywood dry.
type Advice struct {
	Answer Answer
	Inner  length.Length // radius of the inner face, the tighter one, that is judged
	Least  []Least       // by the sources that know the thickness, the trade body's first
	// Thickest is the thickest board that bends dry to the radius by the trade body's
	// table; where that has none, by the other, and Try is set. 0 is none.
	Thickest length.Length
	// Layers of Each, glued over a form, make up the thickness and bend dry one by one;
	// 0 where no layer does.
	Layers int
	Each   length.Length
	Try    bool
}

// MaxLayers bounds a lamination.
const MaxLayers = 40

// Check says whether plywood bends dry, by two published tables of least radii. A
// radius is never computed beyond a table: a thickness above the thickest of both,
// 3/4 in, has no Least and is TooTight; between two rows the thicker one counts. The
// radius that is judged is that of the inner face. Moisture, cores and flaws differ: a
// piece of scrap has the last word. The error is a [diag.List]; the Part of a finding
// is thickness or radius.
func (d Dry) Check() (Advice, error) {
	var list diag.List
	if d.Thickness <= 0 {
		list.Add(diag.Pos{}, "thickness", "the board has no thickness", "measure the board")
	}
	if d.Radius <= d.Thickness {
		list.Add(diag.Pos{}, "radius", fmt.Sprintf("the outer face has a radius of %v and the board is %v thick: nothing is left for the inner face", d.Radius, d.Thickness),
			"give the radius of the outer face, more than the thickness")
	}
	if err := list.Err(); err != nil {
		return Advice{}, err
	}
	a := Advice{Inner: d.Radius - d.Thickness}
	for _, t := range []struct {
		table
		allows Answer
	}{{trade, Bends}, {aircraft, TryFirst}} {
		r, ok := t.least(d.Thickness, d.Grain)
		if !ok {
			continue
		}
		a.Least = append(a.Least, Least{r, t.source})
		if r <= a.Inner {
			a.Answer = max(a.Answer, t.allows)
		}
	}
	a.Thickest = trade.bends(a.Inner, d.Grain)
	if a.Thickest == 0 {
		a.Thickest = aircraft.bends(a.Inner, d.Grain)
		a.Try = a.Thickest > 0
	}
	if a.Thickest > 0 {
		if n := (d.Thickness + a.Thickest - 1) / a.Thickest; n <= MaxLayers {
			a.Layers, a.Each = int(n), d.Thickness/n
		}
	}
	return a, nil
}

// ThickestKnown is the thickest board that a table of least radii knows.
func ThickestKnown() length.Length { return max(trade.thickest(), aircraft.thickest()) }
