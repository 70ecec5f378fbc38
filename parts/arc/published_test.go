package arc

import (
	"math"
	"testing"

	"panelyard/parts/length"
)

const mm = length.Millimetre

// mustMM returns a length given in mm.
func mustMM(t *testing.T, v float64) length.Length {
	t.Helper()
	l, err := length.FromMM(v)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// near reports whether l is on the grid what a number of mm is with some decimals.
func near(l length.Length, mm float64, decimals int) bool {
	return math.Abs(l.MM()-mm) <= 0.5*math.Pow10(-decimals)+0.5*length.Length(1).MM()+1e-9
}

// TestPublishedSagitta: two worked examples of school texts on the sagitta, each with
// both arcs over the chord: radius 10, chord 12 gives a rise of 2 or 18; radius 15,
// chord 20 gives 3.82 or 26.18.
func TestPublishedSagitta(t *testing.T) {
	for _, c := range []struct {
		radius, chord length.Length
		short, long   string
	}{
		{10 * mm, 12 * mm, "2.00", "18.00"},
		{15 * mm, 20 * mm, "3.82", "26.18"},
	} {
		for long, want := range map[bool]string{false: c.short, true: c.long} {
			a, err := Solve(Known{Chord: c.chord, Radius: c.radius, Long: long})
			if err != nil || a.Rise.Fixed(2) != want || a.Long() != long {
				t.Errorf("radius %v, chord %v, long %v: %+v, %v, want a rise of %s", c.radius, c.chord, long, a, err, want)
			}
		}
	}
}

// TestArcTable: no outside source: a table of arcs that was worked with the formulas of
// the package comment before this package was written, and checked by a script; the
// first row is in inches, which is all the same.
func TestArcTable(t *testing.T) {
	for _, c := range []struct {
		chord, rise length.Length // mm
		radius      float64
		angle       string
		length      float64
	}{
		{48, 12, 30, "106.2602", 55.6377},
		{600, 50, 925, "37.8493", 611.0501},
		{1200, 100, 1850, "37.8493", 1222.1002},
		{2400, 300, 2550, "56.145", 2498.7824},
		{1000, 25, 5012.5, "11.4496", 1001.6658},
		{200, 100, 100, "180", 314.1593},
	} {
		want := Arc{Chord: c.chord * mm, Rise: c.rise * mm, Radius: mustMM(t, c.radius)}
		a, err := Solve(Known{Chord: want.Chord, Rise: want.Rise})
		if err != nil {
			t.Fatal(err)
		}
		if a.Chord != want.Chord || a.Rise != want.Rise || a.Radius != want.Radius || a.Angle.String() != c.angle || !near(a.Length, c.length, 4) {
			t.Errorf("chord %d, rise %d: %+v, want radius %v, angle %s, length %v", c.chord, c.rise, a, want.Radius, c.angle, c.length)
		}
	}
}

// TestDisplays: sizes of displays by diagonal and ratio, and the curve of those with
// a radius, both ways to read the width; worked from d·a/hypot(a, b) and the
// formulas of the package comment before this package was written, and checked by a
// script; no outside source.
func TestDisplays(t *testing.T) {
	for _, c := range []struct {
		inches             length.Length
		ratio              string
		width, height      float64
		radius             length.Length // mm; 0 is flat
		chord, rise        float64       // the width is along the curve
		acrossRise, across float64       // the width is the chord: rise, length
	}{
		{24, "16:9", 531.31, 298.86, 0, 0, 0, 0, 0},
		{27, "16:9", 597.73, 336.22, 1800, 594.98, 24.75, 24.98, 600.51},
		{32, "16:9", 708.42, 398.48, 1500, 701.85, 41.63, 42.42, 715.17},
		{34, "21:9", 793.77, 340.19, 1500, 784.54, 52.20, 53.46, 803.34},
		{34, "3440x1440", 796.62, 333.47, 0, 0, 0, 0, 0},
		{49, "32:9", 1198.12, 336.97, 1000, 1127.73, 174.13, 199.29, 1284.65},
		{49, "32:9", 1198.12, 336.97, 1800, 1176.12, 98.77, 102.61, 1221.41},
		{55, "16:9", 1217.59, 684.89, 4200, 1213.33, 44.05, 44.36, 1221.90},
	} {
		r, err := ParseRatio(c.ratio)
		if err != nil {
			t.Fatal(err)
		}
		w, h, err := r.Size(c.inches * length.Inch)
		if err != nil || !near(w, c.width, 2) || !near(h, c.height, 2) {
			t.Errorf("%d in, %s: %v x %v, %v, want %v x %v", c.inches, c.ratio, w, h, err, c.width, c.height)
		}
		if d, err := Diagonal(w, h); err != nil || (d-c.inches*length.Inch).Abs() > 1 {
			t.Errorf("%v x %v: diagonal %v, %v, want %d in", c.width, c.height, d, err, c.inches)
		}
		if c.radius == 0 {
			continue
		}
		along, across, err := Screen(c.radius*mm, w)
		if err != nil {
			t.Fatal(err)
		}
		if !near(along.Chord, c.chord, 2) || !near(along.Rise, c.rise, 2) || along.Length != w {
			t.Errorf("%d in, %dR, along: %+v, want chord %v, rise %v", c.inches, c.radius, along, c.chord, c.rise)
		}
		if !near(across.Rise, c.acrossRise, 2) || !near(across.Length, c.across, 2) || across.Chord != w {
			t.Errorf("%d in, %dR, across: %+v, want rise %v, length %v", c.inches, c.radius, across, c.acrossRise, c.across)
		}
		if d, err := Depth(60*mm, along); err != nil || d != 60*mm+along.Rise {
			t.Errorf("depth %v, %v", d, err)
		}
	}
}

// TestPublishedSlope: near chord 600, rise 25.18 the radius changes by about 70.5 mm
// for a millimetre of rise (dR/dh = 1/2 - c²/8h²); both ends, computed anew, lie
// about that far to either side, the flatter one farther.
func TestPublishedSlope(t *testing.T) {
	k := Known{Chord: 600 * mm, Rise: mustMM(t, 25.18)}
	a, err := Solve(k)
	if err != nil {
		t.Fatal(err)
	}
	effects, err := Effects(k, Errors{Length: mm, Angle: Degree})
	if err != nil {
		t.Fatal(err)
	}
	less, more := effects[1].Less.Arc.Radius-a.Radius, a.Radius-effects[1].More.Arc.Radius
	if effects[1].Of != OfRise || math.Abs((less+more).MM()/2-70.5) > 0.3 || less < 71*mm || more > 70*mm {
		t.Errorf("radius %v; %v more with the rise 1 mm smaller, %v less with it larger", a.Radius, less, more)
	}
}
