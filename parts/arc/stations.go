package arc

import (
	"fmt"
	"math"

	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// MaxStations bounds the stations of an arc.
const MaxStations = 1000

// Station is a point to set out an arc by: a distance along the chord from one of
// its ends, and the offset of the arc from the chord there, at a right angle.
type Station struct{ Along, Offset length.Length }

// Stations returns n points of the arc, 3 to [MaxStations], evenly along the chord,
// both ends included, the same from either end. Offsets are computed where the
// rounded station lies, from the rounded chord and rise, within a unit of the arc.
// A long arc hangs over its chord, so it has no stations: the error is a
// [diag.List], its Part "stations".
func (a Arc) Stations(n int) ([]Station, error) {
	var list diag.List
	if n < 3 || n > MaxStations {
		list.Add(diag.Pos{}, "stations", fmt.Sprintf("got %d stations", n), fmt.Sprintf("use 3 to %d", MaxStations))
	}
	if a.Long() {
		list.Add(diag.Pos{}, "stations", "the arc is longer than half a circle and hangs over its chord",
			"draw it from its centre, or set it out as two arcs of half the angle")
	}
	if a.Chord <= 0 || a.Rise <= 0 || a.Chord > length.Max {
		list.Add(diag.Pos{}, "stations", "there is no arc", "take an arc that Solve returned")
	}
	if err := list.Err(); err != nil {
		return nil, err
	}
	c, h := float64(a.Chord), float64(a.Rise)
	r := c*c/(8*h) + h/2
	s := make([]Station, n)
	parts := length.Length(n - 1)
	for i := range (n + 1) / 2 {
		along := (2*length.Length(i)*a.Chord + parts) / (2 * parts)
		x := c/2 - float64(along) // from the middle
		// The offset is h less the rise of the arc over the chord 2x.
		y := h - x*x/(r+math.Sqrt(max((r-x)*(r+x), 0)))
		offset := min(max(length.Length(math.Round(y)), 0), a.Rise)
		s[i] = Station{along, offset}
		s[n-1-i] = Station{a.Chord - along, offset}
	}
	return s, nil
}
