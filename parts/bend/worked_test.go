package bend

import (
	"math"
	"testing"

	"panelyard/parts/arc"
	"panelyard/parts/length"
)

const (
	mm = length.Millimetre
	in = length.Inch
)

// outer returns the arc of an outer face.
func outer(t *testing.T, radius length.Length, degrees float64) arc.Arc {
	t.Helper()
	a, err := arc.Solve(arc.Known{Radius: radius, Angle: arc.Angle(math.Round(degrees * float64(arc.Degree)))})
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// solve returns the kerfs of a bend that can be made.
func solve(t *testing.T, b Bend) Cuts {
	t.Helper()
	c, err := Solve(b)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// TestWorked: bends A, B and D of the trade notes of this project, worked by hand and by
// a script before this package was written, and C in inches, whose developed length of
// 10.5 in is printed by a public calculator as well; no other source. Lengths in mm,
// with the digits of the notes.
func TestWorked(t *testing.T) {
	for _, c := range []struct {
		name                         string
		thickness, web, kerf, radius length.Length
		degrees                      float64
		count                        int
		flat, pitch, facet           string
		wish                         length.Length
		wishCount                    int
		wishPitch, gap               string
		pitchPlaces                  int
	}{
		{"A", 18 * mm, 2 * mm, 3200 * mm / 1000, 300 * mm, 90, 9, "469.67", "52.19", "1.135", mm / 4, 20, "23.48", "1.865", 2},
		{"B", 12 * mm, 1500 * mm / 1000, 2200 * mm / 1000, 150 * mm, 180, 17, "468.88", "27.58", "0.634", mm / 4, 28, "16.75", "0.938", 2},
		{"D", 18 * mm, 2 * mm, 2200 * mm / 1000, 1800 * mm, 38, 6, "1193.14", "198.9", "2.75", mm / 4, 20, "59.66", "1.636", 1},
	} {
		b := Bend{Thickness: c.thickness, Web: c.web, Kerf: c.kerf, Outer: outer(t, c.radius, c.degrees)}
		got := solve(t, b)
		if got.Count != c.count || got.Least != c.count {
			t.Errorf("%s: %d kerfs, %d to close, want %d", c.name, got.Count, got.Least, c.count)
		}
		if s := got.Flat.Fixed(2); s != c.flat {
			t.Errorf("%s: flat length %s, want %s", c.name, s, c.flat)
		}
		if s := got.Pitch.Fixed(c.pitchPlaces); s != c.pitch {
			t.Errorf("%s: pitch %s, want %s", c.name, s, c.pitch)
		}
		if s := got.Facet.Fixed(len(c.facet) - 2); s != c.facet {
			t.Errorf("%s: facet %s, want %s", c.name, s, c.facet)
		}
		if got.Depth != c.thickness-c.web {
			t.Errorf("%s: depth %v", c.name, got.Depth)
		}
		b.Facet = c.wish
		got = solve(t, b)
		if got.Count != c.wishCount || got.Facet > c.wish {
			t.Errorf("%s: %d kerfs with facets of %v, want %d", c.name, got.Count, got.Facet, c.wishCount)
		}
		if s := got.Pitch.Fixed(2); s != c.wishPitch {
			t.Errorf("%s: pitch %s, want %s", c.name, s, c.wishPitch)
		}
		if s := got.Gap.Fixed(3); s != c.gap {
			t.Errorf("%s: gap %s, want %s", c.name, s, c.gap)
		}
	}
}

// TestPublishedCalculator: bend C. A public calculator prints, for 3/4 in board, a web
// and a kerf of 1/8 in and a quarter turn of 6 3/4 in outside, a length of 10.5 in and,
// with margins and a wished spacing of 1/2 in, 21 kerfs at 0.475 in (as the trade notes
// quote it).
func TestPublishedCalculator(t *testing.T) {
	b := Bend{Thickness: in * 3 / 4, Web: in / 8, Kerf: in / 8, Outer: outer(t, in*27/4, 90)}
	c := solve(t, b)
	if c.Count != 9 || math.Abs(c.Flat.Inches()-10.505) > 0.0005 || math.Abs(c.Pitch.Inches()-1.167) > 0.0005 || math.Abs(c.Facet.Inches()-0.025) > 0.0005 {
		t.Errorf("%d kerfs, %v in at %v in, facet %v in", c.Count, c.Flat.Inches(), c.Pitch.Inches(), c.Facet.Inches())
	}
	if got := math.Round(c.Flat.Inches()*10) / 10; got != 10.5 {
		t.Errorf("length %v in, printed 10.5", got)
	}
	if spaces := math.Floor((c.Flat.Inches() - 1) / 0.475); spaces != 20 || math.Abs((c.Flat.Inches()-1)/spaces-0.475) > 0.0005 {
		t.Errorf("%v spaces inside margins, printed 20 of 0.475 in", spaces)
	}
	b.Count = 21
	if c = solve(t, b); c.Count != 21 || c.Gap <= 0 {
		t.Errorf("its 21 kerfs do not close: %+v", c)
	}
}

// TestPublishedShop: a workshop bends 3/4 in plywood to a radius of 4 in with kerfs 5/8
// in deep every 1/2 in over 5 1/2 in, 12 of them, a web of 1/8 in, and the facets show
// on the outside (as the trade notes quote it). The blade is taken for 1/8 in, which is
// not printed. A quarter turn then takes 9 kerfs or more, so that its 12 can close; and
// the facets are those of a bend that shows them.
func TestPublishedShop(t *testing.T) {
	b := Bend{Thickness: in * 3 / 4, Web: in / 8, Kerf: in / 8, Outer: outer(t, 4*in, 90)}
	if c := solve(t, b); c.Least != 9 || c.Depth != in*5/8 {
		t.Errorf("least %d, depth %v in", c.Least, c.Depth.Inches())
	}
	b.Count = 12
	c := solve(t, b)
	// Half an inch a kerf, as it was sawn: 12 kerfs have 11 spaces, 5.5 in.
	if math.Abs(c.Pitch.Inches()-0.5) > 0.02 || c.Gap < 0 {
		t.Errorf("pitch %v in, gap %v", c.Pitch.Inches(), c.Gap)
	}
	if c.Facet < 20*length.Micrometre {
		t.Errorf("facets of %v do not show", c.Facet)
	}
	b.Count = 8
	if _, err := Solve(b); err == nil {
		t.Error("8 kerfs make the bend")
	}
}

// TestOpen: an open bend worked by hand: no outside source. Board of 18 mm, web 2,
// kerf 3.2, 300 mm outside, a quarter turn: L = pi/2 (282 + 1) = 444.54; for facets of
// 0.25 mm sqrt(8 x 282 x 0.25) = 23.75 mm apart: 19 kerfs at 23.40; each opens by
// 17 pi/2 / 19 = 1.4055 to 4.6055.
func TestOpen(t *testing.T) {
	b := Bend{Thickness: 18 * mm, Web: 2 * mm, Kerf: 3200 * mm / 1000, Outer: outer(t, 300*mm, 90), Open: true, Facet: mm / 4}
	c := solve(t, b)
	if c.Count != 19 || c.Flat.Fixed(1) != "444.5" || c.Pitch.Fixed(2) != "23.40" || c.Gap.Fixed(2) != "4.61" {
		t.Errorf("%+v", c)
	}
	if c.Closing != 0 || c.Least != 0 {
		t.Errorf("open kerfs close: %+v", c)
	}
	if c.Outer.Fixed(2) != "471.24" || c.Inner.Fixed(2) != "442.96" {
		t.Errorf("faces %v and %v", c.Outer, c.Inner)
	}
}

// TestPositions: the kerfs of bend A from the end of a blank: half a pitch into the
// bend, and half a pitch before its end.
func TestPositions(t *testing.T) {
	c := solve(t, Bend{Thickness: 18 * mm, Web: 2 * mm, Kerf: 3200 * mm / 1000, Outer: outer(t, 300*mm, 90)})
	list := c.Positions(200 * mm)
	if len(list) != 9 || list[0].Fixed(2) != "226.09" || list[1].Fixed(2) != "278.28" || list[8].Fixed(2) != "643.58" {
		t.Errorf("%v", list)
	}
	if got := list[0] + list[8] - 400*mm - c.Flat; got.Abs() > 1 {
		t.Errorf("the ends differ by %v", got)
	}
}
