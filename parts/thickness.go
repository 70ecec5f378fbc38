package parts

import "panelyard/parts/length"

// UsualThickness returns the least and the most that sanded plywood of a nominal
// thickness measures, and the standard that says so: PS 1, its performance categories
// of 1/32 in either way, for a nominal thickness of whole thirty-seconds of an inch;
// else EN 315, 0.2 mm + 3 % over and 0.4 mm + 3 % under. Other boards are nearer to
// what they are called.
func UsualThickness(nominal length.Length) (least, most length.Length, source string) {
	const step = length.Inch / 32
	if nominal%step == 0 && nominal%length.Millimetre != 0 {
		return nominal - step, nominal + step, "PS 1"
	}
	share := nominal * 3 / 100
	return nominal - share - length.Millimetre*2/5, nominal + share + length.Millimetre/5, "EN 315"
}
