package bend

import (
	"errors"
	"testing"

	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// TestTradeTable: least radii of plywood bent dry as a trade body of makers of softwood
// plywood prints them, in feet, across and along the grain.
func TestTradeTable(t *testing.T) {
	for _, c := range []struct {
		sixteenths    length.Length
		across, along length.Length
	}{{4, 2, 5}, {5, 2, 6}, {6, 3, 8}, {8, 6, 12}, {10, 8, 16}, {12, 12, 20}} {
		for g, feet := range map[Grain]length.Length{Across: c.across, Along: c.along} {
			d := Dry{Thickness: in * c.sixteenths / 16, Radius: 10 * length.Metre, Grain: g}
			a, err := d.Check()
			if err != nil || a.Least[0].Radius != feet*length.Foot || a.Answer != Bends {
				t.Errorf("%d/16 in %v: %+v, %v, want %d ft", c.sixteenths, g, a, err, feet)
			}
			// At its radius the board bends, a unit below it the table does not say so.
			d.Radius = feet*length.Foot + d.Thickness
			if a, _ = d.Check(); a.Answer != Bends {
				t.Errorf("%d/16 in %v does not bend to its radius", c.sixteenths, g)
			}
			d.Radius--
			if a, _ = d.Check(); a.Answer == Bends {
				t.Errorf("%d/16 in %v bends below its radius", c.sixteenths, g)
			}
		}
	}
}

// TestAircraftTable: rows of FAA AC 43.13-1B, table 1-2, page 1-25: plywood at 10 %
// moisture on a cold mandrel; inches, the grain at 90 degrees to the axis (along the
// curve) and at 0 or 45 degrees.
func TestAircraftTable(t *testing.T) {
	for _, c := range []struct {
		thousandths, along, across length.Length // of an inch; radii in tenths
	}{
		{35, 20, 11},
		{70, 52, 32},
		{100, 86, 52},
		{125, 120, 71},
		{155, 160, 100},
		{160, 170, 110},
		{185, 200, 130},
		{190, 210, 140},
		{225, 270, 170},
		{250, 310, 200},
		{315, 430, 280},
		{375, 540, 360},
	} {
		for g, tenths := range map[Grain]length.Length{Across: c.across, Along: c.along} {
			a, err := Dry{Thickness: in * c.thousandths / 1000, Radius: 10 * length.Metre, Grain: g}.Check()
			if err != nil || len(a.Least) != 2 || a.Least[1].Radius != in*tenths/10 {
				t.Errorf("0.%03d in %v: %+v, %v, want %d/10 in", c.thousandths, g, a, err, tenths)
			}
		}
	}
}

// TestDryWorked: a skin that follows a display of 1800R, from the trade notes of this
// project: 18 mm needs 3658 across the grain, 12.7 mm 1829, just too much, 9.5 mm 915;
// so two layers of 9 mm.
func TestDryWorked(t *testing.T) {
	for _, c := range []struct {
		thickness length.Length // tenths of a mm
		answer    Answer
		least     length.Length
		layers    int
		each      length.Length
	}{
		{180, TooTight, 12 * length.Foot, 2, 9 * mm},
		{127, TooTight, 6 * length.Foot, 2, 6350 * mm / 1000},
		{95, Bends, 3 * length.Foot, 1, 95 * mm / 10},
	} {
		a, err := Dry{Thickness: c.thickness * mm / 10, Radius: 1800 * mm}.Check()
		if err != nil || a.Answer != c.answer || a.Least[0].Radius != c.least || a.Thickest != in*3/8 || a.Layers != c.layers || a.Each != c.each || a.Try {
			t.Errorf("%d/10 mm: %+v, %v", c.thickness, a, err)
		}
	}
}

// Between rows the thicker one counts, above the last there is nothing, and a thinner
// board never needs a larger radius.
func TestDrySafe(t *testing.T) {
	for _, g := range []Grain{Across, Along} {
		var last [2]length.Length
		for thickness := mm / 2; thickness <= 25*mm; thickness += mm / 20 {
			a, err := Dry{Thickness: thickness, Radius: 500 * mm, Grain: g}.Check()
			if err != nil {
				t.Fatal(err)
			}
			if known := thickness <= ThickestKnown(); known != (len(a.Least) > 0) {
				t.Fatalf("%v: %d sources, the thickest known is %v", thickness, len(a.Least), ThickestKnown())
			}
			for i, l := range a.Least {
				if l.Radius < last[i] {
					t.Fatalf("%v %v: %v, a thinner one needs %v", thickness, g, l.Radius, last[i])
				}
				last[i] = l.Radius
			}
			if len(a.Least) == 0 && a.Answer != TooTight {
				t.Fatalf("%v: %v without a source", thickness, a.Answer)
			}
			if a.Layers > 0 && (length.Length(a.Layers)*a.Thickest < thickness || a.Each > a.Thickest) {
				t.Fatalf("%v in %d layers of %v, the thickest is %v", thickness, a.Layers, a.Each, a.Thickest)
			}
		}
	}
}

// A radius that only the table of aircraft plywood allows asks for a try, and one that
// nothing bends to has no layers.
func TestDryTight(t *testing.T) {
	a, err := Dry{Thickness: 3 * mm, Radius: 253 * mm, Grain: Across}.Check()
	if err != nil || a.Answer != TryFirst || !a.Try || a.Thickest != in/8 {
		t.Errorf("%+v, %v", a, err)
	}
	a, err = Dry{Thickness: 18 * mm, Radius: 40 * mm, Grain: Across}.Check()
	if err != nil || a.Answer != TooTight || a.Layers != 0 || a.Thickest != 0 {
		t.Errorf("%+v, %v", a, err)
	}
	_, err = Dry{}.Check()
	var list diag.List
	if !errors.As(err, &list) || len(list) != 2 || list[0].Part != "thickness" || list[1].Part != "radius" {
		t.Errorf("%v", err)
	}
}
