package bend

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"panelyard/parts/arc"
	"panelyard/parts/length"
)

// anyBend draws a bend that may or may not be possible.
func anyBend(t *rapid.T) Bend {
	draw := func(name string, least, most int64) length.Length {
		return length.Length(rapid.Int64Range(least, most).Draw(t, name))
	}
	thickness := draw("thickness", int64(3*mm), int64(40*mm))
	b := Bend{
		Thickness: thickness,
		Web:       draw("web", int64(mm/2), int64(thickness/2)),
		Kerf:      draw("kerf", int64(mm), int64(6*mm)),
		Open:      rapid.Bool().Draw(t, "open"),
	}
	b.Outer.Radius = draw("radius", int64(thickness), int64(3000*mm))
	b.Outer.Angle = arc.Angle(rapid.Int64Range(int64(arc.Degree), int64(330*arc.Degree)).Draw(t, "angle"))
	if b.Open || rapid.Bool().Draw(t, "wish") {
		b.Facet = draw("facet", int64(mm/10), int64(3*mm))
	}
	return b
}

// possible returns the kerfs of b, or skips.
func possible(t *rapid.T, b Bend) Cuts {
	c, err := Solve(b)
	if err != nil {
		t.Skip(err)
	}
	return c
}

// The laws of closed kerfs: their number does not fall with the angle or the thickness,
// does not rise with the kerf, and does not change with the radius; the pitch that just
// closes is proportional to the radius of the web's middle.
func TestClosingLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBend(t)
		b.Open, b.Facet = false, 0
		c := possible(t, b)
		more := b
		more.Outer.Angle += arc.Angle(rapid.Int64Range(0, int64(29*arc.Degree)).Draw(t, "more angle"))
		if d, err := Solve(more); err == nil && d.Count < c.Count {
			t.Fatalf("%d kerfs for %v degrees, %d for %v", c.Count, b.Outer.Angle, d.Count, more.Outer.Angle)
		}
		more = b
		more.Thickness += length.Length(rapid.Int64Range(0, int64(5*mm)).Draw(t, "more board"))
		if d, err := Solve(more); err == nil && d.Count < c.Count {
			t.Fatalf("%d kerfs in %v, %d in %v", c.Count, b.Thickness, d.Count, more.Thickness)
		}
		more = b
		more.Kerf += length.Length(rapid.Int64Range(0, int64(3*mm)).Draw(t, "more kerf"))
		if d, err := Solve(more); err == nil && d.Count > c.Count {
			t.Fatalf("%d kerfs of %v, %d of %v", c.Count, b.Kerf, d.Count, more.Kerf)
		}
		more = b
		more.Outer.Radius += length.Length(rapid.Int64Range(0, int64(2000*mm)).Draw(t, "more radius"))
		d, err := Solve(more)
		if err != nil {
			t.Fatalf("a larger radius cannot be bent: %v", err)
		}
		if d.Count != c.Count {
			t.Fatalf("%d kerfs at %v, %d at %v", c.Count, b.Outer.Radius, d.Count, more.Outer.Radius)
		}
		got := float64(d.Pitch) / float64(c.Pitch)
		want := float64(2*more.Outer.Radius-b.Web) / float64(2*b.Outer.Radius-b.Web)
		if math.Abs(got/want-1) > 2/float64(c.Pitch) {
			t.Fatalf("pitch %v at %v, %v at %v", c.Pitch, b.Outer.Radius, d.Pitch, more.Outer.Radius)
		}
		// Between the hinge at the root of the kerf and one at the uncut face.
		n := c.Count
		angle := b.Outer.Angle.Degrees() / 180 * math.Pi
		if low := angle * float64(b.Thickness-b.Web) / float64(b.Kerf); float64(n) < low-1e-3 {
			t.Fatalf("%d kerfs, fewer than %v with the hinge at the root", n, low)
		}
		if high := angle * float64(b.Thickness) / float64(b.Kerf); float64(n) > high+1 {
			t.Fatalf("%d kerfs, more than %v with the hinge at the face", n, high)
		}
	})
}

// The flat lengths of two angles add up to that of both, to what rounding costs.
func TestFlatAdds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBend(t)
		b.Outer.Angle = min(b.Outer.Angle, 170*arc.Degree)
		other := b
		other.Outer.Angle = arc.Angle(rapid.Int64Range(int64(arc.Degree), int64(170*arc.Degree)).Draw(t, "other"))
		both := b
		both.Outer.Angle += other.Outer.Angle
		l1, err1 := b.Flat()
		l2, err2 := other.Flat()
		l, err := both.Flat()
		if err != nil || err1 != nil || err2 != nil {
			t.Skip(err, err1, err2)
		}
		if d := l1 + l2 - l; d.Abs() > 1 {
			t.Fatalf("%v + %v is %v", l1, l2, l)
		}
	})
}

// What is promised of every bend that is not refused.
func TestPromises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBend(t)
		c := possible(t, b)
		switch {
		case c.Gap < 0, b.Open && c.Gap <= b.Kerf, !b.Open && c.Gap > b.Kerf:
			t.Fatalf("gap %v of kerf %v", c.Gap, b.Kerf)
		case b.Facet > 0 && c.Facet > b.Facet:
			t.Fatalf("facet %v, wanted %v", c.Facet, b.Facet)
		case c.Inner >= c.Flat || c.Flat >= c.Outer:
			t.Fatalf("inner %v, flat %v, outer %v", c.Inner, c.Flat, c.Outer)
		}
		list := c.Positions(0)
		last := -c.Pitch / 2
		for _, p := range append(list, c.Flat+c.Pitch/2) {
			if d := p - last - c.Pitch; d.Abs() > 2 {
				t.Fatalf("a kerf at %v, the one before at %v, pitch %v", p, last, c.Pitch)
			}
			last = p
		}
		if c.Count > 1 && list[1]-list[0]-b.Kerf < MinWood-1 {
			t.Fatalf("%v between two kerfs", list[1]-list[0]-b.Kerf)
		}
		// As few as possible: one less breaks what was asked for.
		if c.Count > 1 {
			b.Count = c.Count - 1
			if d, err := Solve(b); err == nil {
				t.Fatalf("%d kerfs would do, %d were asked for: %+v", d.Count, c.Count, d)
			}
		}
	})
}

// TestFold bends the flat blank kerf by kerf, which the formulas do not: the board turns
// by an equal part of the angle at the middle of each kerf and is straight between. The
// end comes out in the direction of the angle, and where an arc of the web's middle
// would end: nearer, as straight pieces are, by the share that the package comment
// gives, and no more.
func TestFold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBend(t)
		c := possible(t, b)
		angle := b.Outer.Angle.Degrees() / 180 * math.Pi
		turn := angle / float64(c.Count)
		var x, y, heading, last float64
		for _, p := range c.Positions(0) {
			x += (float64(p) - last) * math.Cos(heading)
			y += (float64(p) - last) * math.Sin(heading)
			heading += turn
			last = float64(p)
		}
		x += (float64(c.Flat) - last) * math.Cos(heading)
		y += (float64(c.Flat) - last) * math.Sin(heading)
		if math.Abs(heading-angle) > 1e-9 {
			t.Fatalf("the end points to %v, want %v", heading, angle)
		}
		// The web's middle, from the outer face inwards.
		r := float64(b.Outer.Radius) - float64(b.Web)/2
		if b.Open {
			r = float64(b.Outer.Radius) - float64(b.Thickness) + float64(b.Web)/2
		}
		chord, want := math.Hypot(x, y), 2*r*math.Sin(angle/2)
		share := angle * angle / float64(c.Count*c.Count) / 12
		if c.Count == 1 {
			return // half a board and half a board: a corner, no arc
		}
		if slack := float64(c.Count) + 2; chord > want+slack || chord < want*(1-1.2*share)-slack {
			t.Fatalf("chord %v, arc %v, %d kerfs: nearer by %v, at most %v", chord, want, c.Count, 1-chord/want, share)
		}
	})
}

// TestCloses closes a kerf by its closing angle with walls and floor as they are: the
// floor, at the middle of the web, becomes an arc of its own length, and the walls stand
// square to its ends. Their mouths then touch.
func TestCloses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBend(t)
		b.Open, b.Facet = false, 0
		c := possible(t, b)
		phi := c.Closing.Degrees() / 180 * math.Pi
		r := float64(b.Kerf) / phi // of the floor
		h := float64(b.Thickness) - float64(b.Web)/2
		// Each wall is on a line through the centre, h of it: its mouth is r - h from there.
		if gap := 2 * math.Abs(r-h) * math.Sin(min(phi, math.Pi)/2); gap > 2 {
			t.Fatalf("%v units are left of a closed kerf of %v", gap, b.Kerf)
		}
	})
}
