package parts

import (
	"math"
	"testing"

	"panelyard/parts/length"
)

// The table of performance categories of PS 1 (a trade body's reprint), in inches, and
// what EN 315 gives for 18 mm, +0.7/-0.9, as a mill's table has it.
func TestUsualThickness(t *testing.T) {
	for _, c := range []struct {
		nominal     length.Length
		least, most float64
	}{
		{length.Inch / 4, 0.219, 0.281},
		{length.Inch * 15 / 32, 0.438, 0.500},
		{length.Inch / 2, 0.469, 0.531},
		{length.Inch * 5 / 8, 0.594, 0.656},
		{length.Inch * 23 / 32, 0.688, 0.750},
		{length.Inch * 3 / 4, 0.719, 0.781},
	} {
		least, most, source := UsualThickness(c.nominal)
		if source != "PS 1" || math.Abs(least.Inches()-c.least) > 0.0006 || math.Abs(most.Inches()-c.most) > 0.0006 {
			t.Errorf("%v: %.4f to %.4f in by %s, want %.3f to %.3f", c.nominal, least.Inches(), most.Inches(), source, c.least, c.most)
		}
	}
	least, most, source := UsualThickness(18 * mm)
	if source != "EN 315" || math.Abs(most.MM()-18.7) > 0.05 || math.Abs(least.MM()-17.1) > 0.05 {
		t.Errorf("18 mm: %v to %v by %s", least, most, source)
	}
	// The averages of a birch mill's data sheet are all within it.
	for nominal, average := range map[length.Length]float64{4: 3.8, 9: 9.2, 12: 12, 15: 14.9, 18: 17.7, 21: 20.5, 24: 23.4, 27: 26.5, 30: 29.4} {
		if least, most, _ := UsualThickness(nominal * mm); average < least.MM() || average > most.MM() {
			t.Errorf("%d mm: an average of %.1f is not from %v to %v", nominal, average, least, most)
		}
	}
}
