package arc

import "math"

// Quantity is one of the five measures of an arc.
type Quantity int

// The quantities.
const (
	OfChord Quantity = iota
	OfRise
	OfRadius
	OfAngle
	OfLength
)

// String returns the word for q.
func (q Quantity) String() string {
	return [...]string{"chord", "rise", "radius", "angle", "length"}[q]
}

// Limit says what an arc comes to where there is none.
type Limit int

// The limits.
const (
	Curved   Limit = iota // an arc as any other
	Straight              // flattened to a line
	Half                  // a larger chord, or smaller radius, has no arc: a half circle
	Closed                // a full circle
	Vanished              // shrunk to a point
)

// String returns a word or two for l; an arc as any other has none.
func (l Limit) String() string {
	return [...]string{"", "straight", "half circle", "full circle", "nothing"}[l]
}

// curve is an arc before rounding: lengths in units, half the angle in radians. An
// infinite length is unbounded.
type curve struct{ half, chord, rise, radius, length float64 }

// pair is two measures, a before b in the order of Quantity: lengths in units,
// angles in radians.
type pair struct {
	a, b Quantity
	x, y float64 // of a, of b
	long bool    // of the two arcs with a chord and a radius
}

// curve returns the arc with two measures, or the limit that it has passed.
func (p pair) curve() (curve, Limit) {
	x, y := p.x, p.y
	switch [2]Quantity{p.a, p.b} {
	case [2]Quantity{OfChord, OfRise}:
		switch {
		case x <= 0:
			return curve{}, Closed
		case y <= 0:
			return curve{}, Straight
		}
		t, r := 2*math.Atan2(2*y, x), x*x/(8*y)+y/2
		return curve{t, x, y, r, 2 * r * t}, Curved
	case [2]Quantity{OfChord, OfRadius}:
		return overChord(x, y, p.long)
	case [2]Quantity{OfRise, OfRadius}:
		switch {
		case x >= 2*y: // also where no radius is left
			return curve{}, Closed
		case x <= 0:
			return curve{}, Vanished
		}
		t := 2 * math.Atan2(math.Sqrt(x), math.Sqrt(2*y-x))
		return curve{t, 2 * math.Sqrt(x) * math.Sqrt(2*y-x), x, y, 2 * y * t}, Curved
	case [2]Quantity{OfChord, OfAngle}, [2]Quantity{OfRise, OfAngle}:
		return opened(p.a, x, y/2)
	case [2]Quantity{OfRadius, OfAngle}:
		return aboutCentre(x, y/2, x*y)
	case [2]Quantity{OfRadius, OfLength}:
		if x <= 0 {
			return curve{}, Closed
		}
		return aboutCentre(x, y/x/2, y)
	}
	// Angle and length.
	if x <= 0 {
		return curve{}, Straight
	}
	return aboutCentre(y/x, x/2, y)
}

// overChord returns the short or the long arc with a chord and a radius.
func overChord(c, r float64, long bool) (curve, Limit) {
	switch {
	case r < c/2:
		return curve{}, Half
	case c <= 0 && long:
		return curve{}, Closed
	case c <= 0:
		return curve{}, Vanished
	}
	q := math.Sqrt((r - c/2) * (r + c/2)) // the distance of centre and chord
	if long {
		t := math.Atan2(c/2, -q)
		return curve{t, c, r + q, r, 2 * r * t}, Curved
	}
	t := math.Atan2(c/2, q)
	return curve{t, c, c / 2 * (c / 2 / (r + q)), r, 2 * r * t}, Curved
}

// opened returns the arc with a chord or a rise and half its angle.
func opened(of Quantity, v, t float64) (curve, Limit) {
	switch {
	case v <= 0:
		return curve{}, Vanished
	case t <= 0:
		return curve{}, Straight
	case t >= math.Pi:
		return curve{}, Closed
	}
	if of == OfChord {
		r := v / 2 / math.Sin(t)
		return curve{t, v, v / 2 * math.Tan(t/2), r, 2 * r * t}, Curved
	}
	sin := math.Sin(t / 2)
	r := v / (2 * sin * sin)
	return curve{t, 2 * v / math.Tan(t/2), v, r, 2 * r * t}, Curved
}

// aboutCentre returns the arc with a radius and half its angle, whose length is given.
func aboutCentre(r, t, l float64) (curve, Limit) {
	switch {
	case r <= 0 || t <= 0:
		return curve{}, Vanished
	case t >= math.Pi:
		return curve{}, Closed
	}
	sin := math.Sin(t / 2)
	return curve{t, 2 * r * math.Sin(t), 2 * r * sin * sin, r, l}, Curved
}

// limit returns what an arc of which one measure is kept comes to at a limit.
func limit(kept Quantity, v float64, l Limit) curve {
	inf := math.Inf(1)
	switch l {
	case Straight:
		switch kept {
		case OfChord, OfLength:
			return curve{0, v, 0, inf, v}
		}
		return curve{0, inf, v, inf, inf} // the rise
	case Half:
		c, _ := pairOf(kept, v, OfAngle, math.Pi).curve()
		return c
	case Closed:
		switch kept {
		case OfChord:
			return curve{math.Pi, v, inf, inf, inf}
		case OfRise:
			return curve{math.Pi, 0, v, v / 2, v * math.Pi}
		case OfRadius:
			return curve{math.Pi, 0, 2 * v, v, 2 * v * math.Pi}
		}
		return curve{math.Pi, 0, v / math.Pi, v / math.Pi / 2, v} // the length
	}
	// Vanished: the radius or the angle stays.
	if kept == OfAngle {
		return curve{half: v / 2}
	}
	return curve{radius: v}
}

// pairOf returns two measures in order.
func pairOf(a Quantity, x float64, b Quantity, y float64) pair {
	if a > b {
		a, x, b, y = b, y, a, x
	}
	return pair{a: a, b: b, x: x, y: y}
}
