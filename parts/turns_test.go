package parts

import (
	"slices"
	"testing"
)

// Grain against grain, and what a material says beyond it.
func TestTurnsOf(t *testing.T) {
	for _, c := range []struct {
		m            Material
		panel, sheet Axis
		want         []int
	}{
		{Material{}, NoAxis, NoAxis, []int{0, 90, 180, 270}},
		{Material{Grained: true}, AlongLength, AlongLength, []int{0, 180}},
		{Material{Grained: true}, AlongWidth, AlongLength, []int{90, 270}},
		{Material{Grained: true}, NoAxis, AlongWidth, []int{0, 90, 180, 270}},
		{Material{Grained: true, Turn: OneWay}, AlongLength, AlongLength, []int{0}},
		{Material{Grained: true, Turn: OneWay}, AlongWidth, AlongLength, []int{90}},
		{Material{Grained: true, Turn: HalfTurn}, AlongWidth, AlongWidth, []int{0, 180}},
		{Material{Turn: OneWay}, NoAxis, NoAxis, []int{0}},
		{Material{Turn: HalfTurn}, NoAxis, NoAxis, []int{0, 180}},
		{Material{Turn: QuarterTurn}, NoAxis, NoAxis, []int{0, 90, 180, 270}},
		{Material{Turn: 45}, NoAxis, NoAxis, []int{0, 45, 90, 135, 180, 225, 270, 315}},
	} {
		if got := c.m.TurnsOf(c.panel, c.sheet); !slices.Equal(got, c.want) {
			t.Errorf("%s, %v on %v: %v, want %v", TurnWord(c.m.Turn), c.panel, c.sheet, got, c.want)
		}
	}
}
