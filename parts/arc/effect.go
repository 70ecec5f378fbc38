package arc

import (
	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// Errors is how far a measure may be off, either way: lengths by Length, an angle
// by Angle.
type Errors struct {
	Length length.Length
	Angle  Angle
}

// Effect is what an error in one measure does to an arc while the other measure
// stays: the arcs at both ends of the error, computed anew, not by a slope.
type Effect struct {
	Of         Quantity // what was measured
	Less, More End      // with Of smaller, and larger, by the error
	turns      []Arc
}

// End is the arc at one end of an error, or what it comes to where the error is so
// large that no arc is left: lengths may be [Unbounded] there.
type End struct {
	Arc   Arc
	Limit Limit
}

// leastLength is half the angle, in radians, of the arc that is the shortest of all
// with the same rise, and the one with the greatest rise of all with the same
// length: the root of tan(t/2) = t, where t/(1 - cos t) has its least value.
const leastLength = 2.331122370414422613667835955

// Effects returns what an error does, a measure at a time, in the order of
// [Quantity]. The errors are above 0; k must have an arc. The error is a
// [diag.List].
func Effects(k Known, e Errors) ([]Effect, error) {
	p, err := k.pair()
	if err != nil {
		return nil, err
	}
	if _, err := p.solve(); err != nil {
		return nil, err
	}
	var list diag.List
	for _, m := range []struct {
		name string
		v    int64
		most int64
		say  string
	}{
		{"error", int64(e.Length), int64(length.Max), length.Max.String()},
		{"angle error", int64(e.Angle), int64(FullCircle), "360 degrees"},
	} {
		if m.v <= 0 || m.v > m.most {
			list.Add(diag.Pos{}, m.name, "an error of measuring is above 0 and at most "+m.say, "give how far a measure may be off")
		}
	}
	if err := list.Err(); err != nil {
		return nil, err
	}
	var effects []Effect
	for _, of := range [2]Quantity{p.a, p.b} {
		by := float64(e.Length)
		if of == OfAngle {
			by = e.Angle.radians()
		}
		effects = append(effects, p.effect(of, by))
	}
	return effects, nil
}

// effect changes one measure of p both ways.
func (p pair) effect(of Quantity, by float64) Effect {
	kept, v := p.b, p.y
	if of == p.b {
		kept, v = p.a, p.x
	}
	end := func(by float64) (curve, Limit) {
		q := p
		if of == p.a {
			q.x += by
		} else {
			q.y += by
		}
		c, l := q.curve()
		if l != Curved {
			c = limit(kept, v, l)
		}
		return c, l
	}
	less, lessLimit := end(-by)
	more, moreLimit := end(by)
	f := Effect{Of: of, Less: End{less.arc(), lessLimit}, More: End{more.arc(), moreLimit}}
	// The angle runs one way from end to end. Where it passes a half circle the
	// radius or the chord turns, and at leastLength the length or the rise.
	for _, turn := range [2]float64{HalfCircle.radians() / 2, leastLength} {
		if min(less.half, more.half) < turn && turn < max(less.half, more.half) {
			if c, l := pairOf(kept, v, OfAngle, 2*turn).curve(); l == Curved {
				f.turns = append(f.turns, c.arc())
			}
		}
	}
	return f
}

// Range returns the least and the greatest value of each measure anywhere between
// the two ends. They are those of an end, or where the arc passes a half circle
// those of an arc between: neither lo nor hi need be an arc.
func (f Effect) Range() (lo, hi Arc) {
	lo, hi = f.Less.Arc, f.Less.Arc
	for _, a := range append([]Arc{f.More.Arc}, f.turns...) {
		lo = Arc{min(lo.Chord, a.Chord), min(lo.Rise, a.Rise), min(lo.Radius, a.Radius), min(lo.Length, a.Length), min(lo.Angle, a.Angle)}
		hi = Arc{max(hi.Chord, a.Chord), max(hi.Rise, a.Rise), max(hi.Radius, a.Radius), max(hi.Length, a.Length), max(hi.Angle, a.Angle)}
	}
	return lo, hi
}
