package parts

import (
	"testing"

	"panelyard/parts/length"
)

// The values are those of a trade body's tables of PS 1 and EN 315 and of a mill's for EN
// 622-1, read second hand. The worst sheet of 2440 x 1220 by EN 315 is 2436.5 long and
// 1.22 mm out of square over its width: worked by hand, as are the others.
func TestWorst(t *testing.T) {
	const mm = length.Millimetre
	byName := map[string]BoardStandard{}
	for _, s := range BoardStandards() {
		byName[s.Name] = s
	}
	for _, c := range []struct {
		standard     string
		l, w         length.Length
		short, lean  length.Length // of the length; of an end, over the width
		worstL, wide length.Length
	}{
		{"EN 315", 2440 * mm, 1220 * mm, 3500 * length.Micrometre, 1220 * length.Micrometre, 2435280 * length.Micrometre, 1216500 * length.Micrometre},
		// 1/16 in under; 1/64 in a foot over 4 ft is 1/16 in.
		{"PS 1", 96 * length.Inch, 48 * length.Inch, length.Inch / 16, length.Inch / 16, 96*length.Inch - length.Inch/8, 48*length.Inch - length.Inch/16},
		// 2 mm a metre: 4.88 mm, 2.44 mm; of 2800 it would be 5.6 mm, and is 5 at most.
		{"EN 622-1", 2440 * mm, 1220 * mm, 4880 * length.Micrometre, 2440 * length.Micrometre, 2432680 * length.Micrometre, 1217560 * length.Micrometre},
		{"EN 622-1", 2800 * mm, 2070 * mm, 5 * mm, 4140 * length.Micrometre, 2790860 * length.Micrometre, 2065860 * length.Micrometre},
	} {
		s := byName[c.standard]
		if got := s.Short(c.l); got != c.short {
			t.Errorf("%s: %v short of %v, want %v", c.standard, got, c.l, c.short)
		}
		if got := s.OutOfSquare(c.w); got != c.lean {
			t.Errorf("%s: %v out of square over %v, want %v", c.standard, got, c.w, c.lean)
		}
		if l, w := s.Worst(c.l, c.w); l != c.worstL || w != c.wide {
			t.Errorf("%s: worst %v x %v, want %v x %v", c.standard, l, w, c.worstL, c.wide)
		}
		if w, l := s.Worst(c.w, c.l); l != c.worstL || w != c.wide {
			t.Errorf("%s: another sheet when it lies across: %v x %v", c.standard, l, w)
		}
	}
	if s := UsualStandard(96*length.Inch, 48*length.Inch); s.Name != "PS 1" {
		t.Errorf("96 x 48 in: %s", s.Name)
	}
	if s := UsualStandard(2440*mm, 1220*mm); s.Name != "EN 315" {
		t.Errorf("2440 x 1220 mm: %s", s.Name)
	}
}
