package arc

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panelyard/parts/length"
)

// Stations of an arc by hand: chord 600, rise 50, radius 925. At x from the middle the
// offset is √(925² - x²) - 875: at 150, √833,125 - 875 = 37.757....
func TestStations(t *testing.T) {
	a, err := Solve(Known{Chord: 600 * mm, Rise: 50 * mm})
	if err != nil {
		t.Fatal(err)
	}
	got, err := a.Stations(5)
	if err != nil {
		t.Fatal(err)
	}
	quarter := length.Length(math.Round((math.Sqrt(833_125) - 875) * float64(mm)))
	want := []Station{{0, 0}, {150 * mm, quarter}, {300 * mm, 50 * mm}, {450 * mm, quarter}, {600 * mm, 0}}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("station %d: %+v, want %+v", i, got[i], want[i])
		}
	}
}

// Stations lie on the circle, evenly, the same from both ends; the highest is in the
// middle.
func TestStationsOnCircle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := draw(t)
		n := rapid.IntRange(3, 40).Draw(t, "n")
		s, err := a.Stations(n)
		if a.Long() {
			if err == nil || !strings.Contains(err.Error(), "hangs over") {
				t.Fatalf("%+v: %v", a, err)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if s[0] != (Station{}) || s[n-1] != (Station{a.Chord, 0}) {
			t.Fatalf("ends %+v and %+v", s[0], s[n-1])
		}
		if mid := s[n/2]; n%2 == 1 && (mid.Offset != a.Rise || (2*mid.Along-a.Chord).Abs() > 1) {
			t.Fatalf("middle %+v of %+v", mid, a)
		}
		c, h := float64(a.Chord), float64(a.Rise)
		for i, p := range s {
			if s[n-1-i] != (Station{a.Chord - p.Along, p.Offset}) && 2*i != n-1 {
				t.Fatalf("%+v and %+v do not mirror each other", p, s[n-1-i])
			}
			if even := c * float64(i) / float64(n-1); math.Abs(float64(p.Along)-even) > 0.5 {
				t.Fatalf("station %d at %v, want %v", i, p.Along, even)
			}
			// Power of the point's foot about the circle: x'(c - x') = y (2r - 2h + y),
			// with r = c²/8h + h/2. Solved for y it would be the formula; as a power it is
			// Euclid's (Elements III.35). A unit of y is worth what y's factor says.
			x, y := float64(p.Along), float64(p.Offset)
			r := c*c/(8*h) + h/2
			if off := x*(c-x) - y*(2*r-2*h+y); math.Abs(off) > 1.01*(2*r-2*h+2*y+1) {
				t.Fatalf("station %+v of %+v is off its circle", p, a)
			}
		}
	})
}

func TestStationsMistakes(t *testing.T) {
	a, err := Solve(Known{Chord: 600 * mm, Rise: 50 * mm})
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range []int{-1, 0, 2, MaxStations + 1} {
		if _, err := a.Stations(n); err == nil || !strings.Contains(err.Error(), "use 3 to 1000") {
			t.Errorf("%d stations: %v", n, err)
		}
	}
	if s, err := a.Stations(MaxStations); err != nil || len(s) != MaxStations {
		t.Errorf("%d stations, %v", len(s), err)
	}
	for _, a := range []Arc{{}, {Chord: mm}, {Chord: Unbounded, Rise: mm}} {
		if _, err := a.Stations(5); err == nil {
			t.Errorf("stations of %+v", a)
		}
	}
}
