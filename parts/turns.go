package parts

import "strconv"

// Turns returns the turns, in degrees counter-clockwise, in which a panel of a
// grain axis may lie on a sheet of a grain axis. Grain along grain allows a half
// turn, no grain on either side allows quarter turns as well. The slice must not
// be changed.
func Turns(panel, sheet Axis) []int {
	switch {
	case panel == NoAxis || sheet == NoAxis:
		return quarterTurns
	case panel == sheet:
		return halfTurns
	}
	return crossTurns
}

var (
	quarterTurns = []int{0, 90, 180, 270}
	halfTurns    = []int{0, 180}
	crossTurns   = []int{90, 270}
)

// The turns of a material, as steps in degrees. Others are steps that divide 90, from
// LeastTurn up, for boards without grain.
const (
	ByGrain     = 0 // a half turn for grain along grain, else quarter turns
	OneWay      = 360
	HalfTurn    = 180
	QuarterTurn = 90
	LeastTurn   = 5
)

// TurnWord returns the word of the job file for a step of turns.
func TurnWord(step int) string {
	switch step {
	case OneWay:
		return "none"
	case HalfTurn:
		return "half"
	case QuarterTurn:
		return "quarter"
	case ByGrain:
		return "by grain"
	}
	return strconv.Itoa(step) + " degrees"
}

// TurnsOf is [Turns] for a panel of a material: one with a print that has a top and
// a bottom allows fewer, one without grain any number of steps. It is in the order
// of the angles, the panel as drawn first where that is allowed.
func (m *Material) TurnsOf(panel, sheet Axis) []int {
	list := Turns(panel, sheet)
	switch {
	case m.Turn == OneWay:
		return list[:1]
	case m.Turn == ByGrain || m.Grained:
		return list
	}
	list = nil
	for t := 0; t < 360; t += m.Turn {
		list = append(list, t)
	}
	return list
}
