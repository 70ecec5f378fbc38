package parts

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
