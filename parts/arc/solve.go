package arc

import (
	"fmt"
	"math"
	"slices"

	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// MaxRadius bounds a radius: that of the flattest arc of the grid, with a chord of
// [length.Max] and a rise of one unit. Up to 2^53 a float64 holds every unit.
const MaxRadius length.Length = 1 << 53

// Unbounded is a length that has no bound; only an [Effect] has it.
const Unbounded length.Length = math.MaxInt64

// Arc is a circular arc. See the package comment for the words.
type Arc struct {
	Chord, Rise, Radius, Length length.Length
	Angle                       Angle
}

// Long reports whether a is longer than half a circle: its rise is more than half
// its chord.
func (a Arc) Long() bool { return a.Rise > a.Chord-a.Rise }

// Known is what is known of an arc: two of its measures; 0 is not known.
type Known struct {
	Chord, Rise, Radius, Length length.Length
	Angle                       Angle
	// Long asks for the longer of the two arcs with a chord and a radius.
	Long bool
}

// Solve returns the arc of which two measures are known: any two but the length with
// the chord or the rise. They are lengths from one unit up to [length.Max], a radius up to [MaxRadius], and an angle below
// [FullCircle]. The error is a [diag.List]; the Part of a finding is the name of
// the measure, empty when it concerns none.
func Solve(k Known) (Arc, error) {
	p, err := k.pair()
	if err != nil {
		return Arc{}, err
	}
	return p.solve()
}

// pair returns the two measures that are known.
func (k Known) pair() (pair, error) {
	var list diag.List
	var given []Quantity
	values := map[Quantity]float64{}
	for _, m := range []struct {
		of        Quantity
		v, most   int64
		unit      float64
		mostWords string
	}{
		{OfChord, int64(k.Chord), int64(length.Max), 1, length.Max.String()},
		{OfRise, int64(k.Rise), int64(length.Max), 1, length.Max.String()},
		{OfRadius, int64(k.Radius), int64(MaxRadius), 1, MaxRadius.String()},
		{OfAngle, int64(k.Angle), int64(FullCircle) - 1, math.Pi / float64(HalfCircle), "less than 360 degrees"},
		{OfLength, int64(k.Length), int64(length.Max), 1, length.Max.String()},
	} {
		if m.v == 0 {
			continue
		}
		given = append(given, m.of)
		values[m.of] = float64(m.v) * m.unit
		switch {
		case m.v < 0:
			list.Add(diag.Pos{}, m.of.String(), fmt.Sprintf("the %v is negative", m.of), "give what is measured, above 0")
		case m.v > m.most && m.of == OfAngle:
			list.Add(diag.Pos{}, m.of.String(), fmt.Sprintf("an arc of %v degrees is no arc", k.Angle), "give an angle below 360 degrees")
		case m.v > m.most:
			list.Add(diag.Pos{}, m.of.String(), fmt.Sprintf("the %v is longer than %s", m.of, m.mostWords), "give a shorter one")
		}
	}
	const remedy = "give two of chord, rise, radius and angle"
	switch {
	case len(given) != 2:
		list.Add(diag.Pos{}, "", fmt.Sprintf("an arc has two measures to start from, got %s", words(given)), remedy)
	case given[1] == OfLength && given[0] < OfRadius:
		list.Add(diag.Pos{}, OfLength.String(), fmt.Sprintf("no arc is computed from its %v and length", given[0]), remedy)
	case k.Long && !slices.Equal(given, []Quantity{OfChord, OfRadius}):
		list.Add(diag.Pos{}, "long", fmt.Sprintf("%s have one arc, not a short and a long one", words(given)), "ask for the long arc only with chord and radius")
	}
	if err := list.Err(); err != nil {
		return pair{}, err
	}
	p := pairOf(given[0], values[given[0]], given[1], values[given[1]])
	p.long = k.Long
	return p, nil
}

// words lists quantities.
func words(list []Quantity) string {
	switch len(list) {
	case 0:
		return "none"
	case 1:
		return fmt.Sprintf("only the %v", list[0])
	}
	s := list[0].String()
	for _, q := range list[1 : len(list)-1] {
		s += ", " + q.String()
	}
	return s + " and " + list[len(list)-1].String()
}

// solve returns the arc of p within the bounds.
func (p pair) solve() (Arc, error) {
	var list diag.List
	c, l := p.curve()
	if l != Curved {
		p.refuse(&list)
		return Arc{}, list
	}
	for _, m := range []struct {
		of      Quantity
		v, most float64
	}{
		{OfChord, c.chord, float64(length.Max)},
		{OfRise, c.rise, float64(length.Max)},
		{OfRadius, c.radius, float64(MaxRadius)},
		{OfLength, c.length, float64(length.Max)},
	} {
		switch v := math.Round(m.v); {
		case v > m.most:
			list.Add(diag.Pos{}, m.of.String(), fmt.Sprintf("the %v would be %.4g m; the most is %.4g m", m.of, inMetres(m.v), inMetres(m.most)),
				fmt.Sprintf("change the %v or the %v", p.a, p.b))
		case v < 1:
			list.Add(diag.Pos{}, m.of.String(), fmt.Sprintf("the %v would be less than a ten-thousandth of a millimetre", m.of),
				fmt.Sprintf("change the %v or the %v", p.a, p.b))
		}
	}
	if err := list.Err(); err != nil {
		return Arc{}, err
	}
	// With such chords and lengths the angle rounds neither to 0 nor to a full circle.
	return c.arc(), nil
}

// refuse adds why two measures that are in range have no arc. Only these three pairs
// can miss each other.
func (p pair) refuse(list *diag.List) {
	switch {
	case p.a == OfChord:
		list.Add(diag.Pos{}, OfRadius.String(), fmt.Sprintf("the radius %.3f mm is less than half the chord, %.3f mm", inMM(p.y), inMM(p.x/2)),
			"measure chord and rise instead, or correct one of the two")
	case p.a == OfRise:
		list.Add(diag.Pos{}, OfRise.String(), fmt.Sprintf("the rise %.3f mm is not less than the diameter, %.3f mm", inMM(p.x), inMM(2*p.y)),
			"measure chord and rise instead, or correct one of the two")
	default:
		list.Add(diag.Pos{}, OfLength.String(), fmt.Sprintf("the length %.3f mm is not less than the whole circle, %.3f mm", inMM(p.y), inMM(2*math.Pi*p.x)),
			"give a larger radius, or a shorter length")
	}
}

func inMM(units float64) float64     { return units / float64(length.Millimetre) }
func inMetres(units float64) float64 { return units / float64(length.Metre) }

// arc rounds c to the grid.
func (c curve) arc() Arc {
	return Arc{
		Chord: nearest(c.chord), Rise: nearest(c.rise), Radius: nearest(c.radius), Length: nearest(c.length),
		Angle: fromRadians(2 * c.half),
	}
}

// nearest returns the nearest length, Unbounded beyond every radius.
func nearest(units float64) length.Length {
	if v := math.Round(units); v <= float64(MaxRadius) {
		return length.Length(v)
	}
	return Unbounded
}
