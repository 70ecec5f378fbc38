package svgpath

import (
	"errors"
	"math"
	"strings"
	"testing"

	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// Loops of path data: how many, closed or not, with true arcs where they are circular.
func TestLoops(t *testing.T) {
	mm := float64(length.Millimetre)
	for _, c := range []struct {
		data   string
		closed []bool
		area   float64 // of all, in mm2
		curved bool
	}{
		{"M0 0H100V50H0Z", []bool{true}, 5000, false},
		{"M0 0H100V50H0V0", []bool{true}, 5000, false}, // back at its beginning
		{"M0 0H100V50", []bool{false}, 2500, false},
		{"M0 0h10v10h-10zM20 0h10v10h-10z", []bool{true, true}, 200, false},
		{"M0 0h10v10h-10zh-10v10h10z", []bool{true, true}, 200, false}, // goes on from where it was closed
		{"M0 0A50 50 0 0 1 100 0A50 50 0 0 1 0 0", []bool{true}, math.Pi * 2500, false},
		{"M0 0A50 25 0 0 1 100 0A50 25 0 0 1 0 0", []bool{true}, math.Pi * 1250, true},
		// Nearly whole circles, whose ends are next to each other on the grid.
		{"M100 100A50 50 0 1 1 100 100.0003z", []bool{true}, math.Pi * 2500, false},
		{"M100 100A50 50 0 1 0 100 100.0001z", []bool{true}, math.Pi * 2500, false},
		{"M100 100A50 50 0 1 0 100.01 100.0001z", []bool{true}, math.Pi * 2500, false},
		{"M0 50A50 50 0 1 0 50 0L50 50z", []bool{true}, math.Pi * 2500 * 0.75, false},
		{"M0 50A50 50 0 1 1 50 100L50 50z", []bool{true}, math.Pi * 2500 * 0.75, false},
	} {
		p, err := Parse(c.data)
		if err != nil {
			t.Fatal(err)
		}
		loops, err := Loops(p, mm, 10*length.Micrometre)
		if err != nil || len(loops) != len(c.closed) {
			t.Errorf("%s: %d loops, %v", c.data, len(loops), err)
			continue
		}
		area := 0.0
		for i, l := range loops {
			area += math.Abs(outline.Outline(l.Path).AreaMM2())
			if l.Closed != c.closed[i] || l.Curved != c.curved {
				t.Errorf("%s: loop %d closed %v, curved %v", c.data, i, l.Closed, l.Curved)
			}
		}
		if math.Abs(area-c.area) > 3 {
			t.Errorf("%s: area %.2f, want %.2f", c.data, area, c.area)
		}
	}
	for data, want := range map[string]error{
		"":                                    ErrEmpty,
		"M0 0L1e9 0":                          length.ErrTooLong,
		"M0 0" + strings.Repeat("h1v1", 6000): ErrTooLong,
	} {
		p, err := Parse(data)
		if err == nil {
			_, err = Loops(p, mm, 10*length.Micrometre)
		}
		if !errors.Is(err, want) {
			t.Errorf("%.20s: %v, want %v", data, err, want)
		}
	}
}
