package arc

import (
	"errors"
	"math"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// draw gives arcs by chord and rise: flat ones, ordinary ones and long ones, of all
// sizes, within the bounds.
func draw(t *rapid.T) Arc {
	chord := rapid.OneOf(rapid.Int64Range(1, int64(length.Max)), rapid.Int64Range(int64(10*mm), int64(3000*mm))).Draw(t, "chord")
	rise := rapid.OneOf(
		rapid.Int64Range(1, chord),
		rapid.Int64Range(1, 1+chord/100),
		rapid.Int64Range(max(1, chord/2-10), chord/2+10),
		rapid.Int64Range(1, int64(length.Max)/4),
	).Draw(t, "rise")
	a, err := Solve(Known{Chord: length.Length(chord), Rise: length.Length(rise)})
	if err != nil {
		t.Skip(err) // longer than a length can be, or a full circle on the grid
	}
	return a
}

// float has enough digits for every comparison here.
func float(v float64) *big.Float { return new(big.Float).SetPrec(400).SetFloat64(v) }

// halving measures an arc as Archimedes did: half the arc has the chord
// √((c/2)² + h²), and so on until chord and arc are the same for 400 bits.
func halving(chord, rise length.Length) (radius, arc float64) {
	half := func(v *big.Float) *big.Float { return new(big.Float).Quo(v, float(2)) }
	square := func(v *big.Float) *big.Float { return new(big.Float).Mul(v, v) }
	c, h := float(float64(chord)), float(float64(rise))
	s := new(big.Float).Add(square(half(c)), square(h))
	r := new(big.Float).Quo(s, new(big.Float).Mul(float(2), h))
	c, n := new(big.Float).Sqrt(s), 1
	for ; n < 60; n++ {
		q := new(big.Float).Sqrt(new(big.Float).Sub(square(r), square(half(c))))
		h = new(big.Float).Sub(r, q)
		c = new(big.Float).Sqrt(new(big.Float).Add(square(half(c)), square(h)))
	}
	radius, _ = r.Float64()
	arc, _ = c.SetMantExp(c, n).Float64()
	return radius, arc
}

// Radius and length are the nearest to those measured by halving the arc.
func TestAgainstHalving(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := draw(t)
		r, l := halving(a.Chord, a.Rise)
		for _, c := range []struct {
			name string
			got  length.Length
			want float64
		}{{"radius", a.Radius, r}, {"length", a.Length, l}} {
			if off := math.Abs(float64(c.got) - c.want); off > 0.5+1e-14*c.want {
				t.Fatalf("%+v: %s is %v units off %v", a, c.name, off, c.want)
			}
		}
		if want := l / r * float64(HalfCircle) / math.Pi; math.Abs(float64(a.Angle)-want) > 0.5+1e-4 {
			t.Fatalf("%+v: angle, want %v", a, want)
		}
	})
}

// Chord and rise give a radius; chord and radius give the rise back, and the other
// way round, as near as the grid lets them: the rise lies where the neighbours of
// the radius on the grid have theirs.
func TestInversion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := draw(t)
		rise := func(radius length.Length) length.Length {
			if 2*radius < a.Chord {
				return a.Chord / 2 // the half circle
			}
			b, err := Solve(Known{Chord: a.Chord, Radius: radius, Long: a.Long()})
			if err != nil {
				t.Skip(err) // at the border of the grid
			}
			return b.Rise
		}
		// Beyond 2^52 units a float64 has no halves: the radius is a unit off, or two.
		step := length.Length(1)
		if a.Radius > 1<<50 {
			step = 4
		}
		lo, hi := rise(a.Radius-step), rise(a.Radius+step)
		if a.Rise < min(lo, hi)-1 || a.Rise > max(lo, hi)+1 {
			t.Fatalf("%+v: rise from chord and radius, between %v and %v", a, lo, hi)
		}
		// Where the radius changes faster than the rise the rise comes back exactly.
		if flat := float64(a.Rise) < float64(a.Chord)/4; flat && step == 1 {
			if back := rise(a.Radius); back != a.Rise {
				t.Fatalf("%+v: rise comes back as %v", a, back)
			}
		}
	})
}

// Where a rise changes faster than its radius (near a half circle and beyond), it is
// the radius that comes back exactly.
func TestInversionOfRadius(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		radius := length.Length(rapid.Int64Range(1000, int64(length.Max)/8).Draw(t, "radius"))
		chord := length.Length(rapid.Int64Range(int64(radius)*17/10, int64(2*radius)).Draw(t, "chord"))
		a, err := Solve(Known{Chord: chord, Radius: radius, Long: rapid.Bool().Draw(t, "long")})
		if err != nil {
			t.Fatal(err)
		}
		b, err := Solve(Known{Chord: chord, Rise: a.Rise})
		if err != nil || (b.Radius-radius).Abs() > 1 {
			t.Fatalf("%+v, %v: radius comes back as %v", a, err, b.Radius)
		}
	})
}

// Every pair of measures gives the same arc, within what rounding them to the grid
// does to it.
func TestPairsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := draw(t)
		if a.Length < a.Chord || a.Radius*2 < a.Chord || a.Length < a.Rise {
			t.Fatalf("%+v: an arc shorter than its chord, or a chord longer than the diameter", a)
		}
		for name, k := range map[string]Known{
			"chord and rise":   {Chord: a.Chord, Rise: a.Rise},
			"chord and radius": {Chord: a.Chord, Radius: a.Radius, Long: a.Long()},
			"chord and angle":  {Chord: a.Chord, Angle: a.Angle},
			"rise and radius":  {Rise: a.Rise, Radius: a.Radius},
			"rise and angle":   {Rise: a.Rise, Angle: a.Angle},
			"radius and angle": {Radius: a.Radius, Angle: a.Angle},
			"radius, length":   {Radius: a.Radius, Length: a.Length},
			"angle, length":    {Angle: a.Angle, Length: a.Length},
		} {
			if a.Radius > length.Max && k.Radius != 0 {
				continue // an arc so flat that its radius says next to nothing
			}
			b, err := Solve(k)
			if err != nil {
				// Rounding takes arcs at the border over it.
				if a.Angle > 359*Degree || a.Rise < 100 || a.Chord < 100 || 2*a.Radius <= max(a.Chord, a.Rise)+2 || a.Length > length.Max-length.Max/1000 {
					continue
				}
				t.Fatalf("%+v, by %s: %v", a, name, err)
			}
			// The first of the two and its error by rounding, at both ends.
			effects, err := Effects(k, Errors{Length: 1, Angle: 1})
			if err != nil {
				t.Fatal(err)
			}
			lo, hi := b, b
			for _, f := range effects {
				l, h := f.Range()
				lo = least(lo, l)
				hi = most(hi, h)
			}
			if out := beyond(a, lo, hi, 2); out != "" {
				t.Fatalf("%+v, by %s: %+v, %s", a, name, b, out)
			}
		}
	})
}

func least(a, b Arc) Arc {
	return Arc{min(a.Chord, b.Chord), min(a.Rise, b.Rise), min(a.Radius, b.Radius), min(a.Length, b.Length), min(a.Angle, b.Angle)}
}

func most(a, b Arc) Arc {
	return Arc{max(a.Chord, b.Chord), max(a.Rise, b.Rise), max(a.Radius, b.Radius), max(a.Length, b.Length), max(a.Angle, b.Angle)}
}

// beyond names a measure of a that is more than slack below lo or above hi.
func beyond(a, lo, hi Arc, slack length.Length) string {
	for _, m := range []struct {
		name      string
		v, lo, hi length.Length
	}{
		{"chord", a.Chord, lo.Chord, hi.Chord},
		{"rise", a.Rise, lo.Rise, hi.Rise},
		{"radius", a.Radius, lo.Radius, hi.Radius},
		{"length", a.Length, lo.Length, hi.Length},
		{"angle", length.Length(a.Angle), length.Length(lo.Angle), length.Length(hi.Angle)},
	} {
		if m.v < m.lo-slack || m.hi < Unbounded-slack && m.v > m.hi+slack {
			return m.name + " outside " + m.lo.Decimal() + " to " + m.hi.Decimal()
		}
	}
	return ""
}

// Both ends of an error and what turns between them hold the value, and every arc
// with a measure between the ends.
func TestEffectsHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := draw(t)
		k := rapid.SampledFrom([]Known{
			{Chord: a.Chord, Rise: a.Rise},
			{Chord: a.Chord, Radius: a.Radius, Long: a.Long()},
			{Chord: a.Chord, Angle: a.Angle},
			{Rise: a.Rise, Radius: a.Radius},
			{Rise: a.Rise, Angle: a.Angle},
			{Radius: a.Radius, Angle: a.Angle},
			{Radius: a.Radius, Length: a.Length},
			{Angle: a.Angle, Length: a.Length},
		}).Draw(t, "known")
		e := Errors{
			length.Length(rapid.Int64Range(1, int64(a.Chord)).Draw(t, "error")),
			Angle(rapid.Int64Range(1, int64(40*Degree)).Draw(t, "angle error")),
		}
		effects, err := Effects(k, e)
		if err != nil {
			t.Skip(err)
		}
		if len(effects) != 2 {
			t.Fatalf("%d effects of two measures", len(effects))
		}
		for _, f := range effects {
			between := k
			move := rapid.Float64Range(-1, 1).Draw(t, "share")
			by := length.Length(move * float64(e.Length))
			switch f.Of {
			case OfChord:
				between.Chord += by
			case OfRise:
				between.Rise += by
			case OfRadius:
				between.Radius += by
			case OfAngle:
				between.Angle += Angle(move * float64(e.Angle))
			case OfLength:
				between.Length += by
			}
			lo, hi := f.Range()
			for _, k := range []Known{k, between} {
				b, err := Solve(k)
				if err != nil {
					continue // no arc there
				}
				// The twelfth digit aside, of very flat arcs.
				if out := beyond(b, lo, hi, 1+b.Radius>>40); out != "" {
					t.Fatalf("%+v by %+v, %v: %+v to %+v does not hold %+v: %s", a, k, f.Of, lo, hi, b, out)
				}
			}
		}
	})
}

// What an error comes to where no arc is left.
func TestEffectsAtLimits(t *testing.T) {
	const un = Unbounded
	r := func(v float64) length.Length { return length.Length(math.Round(v * float64(mm))) }
	for _, c := range []struct {
		name  string
		known Known
		by    length.Length
		angle Angle
		of    int
		more  bool
		limit Limit
		want  Arc
	}{
		{"rise within the error: straight", Known{Chord: 600 * mm, Rise: mm}, mm, 1, 1, false, Straight, Arc{600 * mm, 0, un, 600 * mm, 0}},
		{"chord within the error: a circle", Known{Chord: mm, Rise: 50 * mm}, mm, 1, 0, false, Closed, Arc{0, 50 * mm, 25 * mm, r(50 * math.Pi), FullCircle}},
		{"radius too small", Known{Chord: 100 * mm, Radius: 51 * mm}, 2 * mm, 1, 1, false, Half, Arc{100 * mm, 50 * mm, 50 * mm, r(50 * math.Pi), HalfCircle}},
		{"chord too large", Known{Chord: 99 * mm, Radius: 50 * mm}, 2 * mm, 1, 0, true, Half, Arc{100 * mm, 50 * mm, 50 * mm, r(50 * math.Pi), HalfCircle}},
		{"chord gone", Known{Chord: mm, Radius: 50 * mm}, 2 * mm, 1, 0, false, Vanished, Arc{Radius: 50 * mm}},
		{"chord gone, long", Known{Chord: mm, Radius: 50 * mm, Long: true}, 2 * mm, 1, 0, false, Closed, Arc{0, 100 * mm, 50 * mm, r(100 * math.Pi), FullCircle}},
		{"chord gone, angle kept", Known{Chord: mm, Angle: 90 * Degree}, 2 * mm, 1, 0, false, Vanished, Arc{Angle: 90 * Degree}},
		{"angle within the error", Known{Chord: 600 * mm, Angle: Degree}, 1, Degree, 1, false, Straight, Arc{600 * mm, 0, un, 600 * mm, 0}},
		{"angle to a circle, chord kept", Known{Chord: mm, Angle: 359 * Degree}, 1, Degree, 1, true, Closed, Arc{mm, un, un, un, FullCircle}},
		{"angle within the error, rise kept", Known{Rise: 10 * mm, Angle: Degree}, 1, Degree, 1, false, Straight, Arc{un, 10 * mm, un, un, 0}},
		{"angle to a circle, rise kept", Known{Rise: 50 * mm, Angle: 359 * Degree}, 1, Degree, 1, true, Closed, Arc{0, 50 * mm, 25 * mm, r(50 * math.Pi), FullCircle}},
		{"rise beyond the diameter", Known{Rise: 99 * mm, Radius: 50 * mm}, mm, 1, 0, true, Closed, Arc{0, 100 * mm, 50 * mm, r(100 * math.Pi), FullCircle}},
		{"radius below half the rise", Known{Rise: 99 * mm, Radius: 50 * mm}, mm, 1, 1, false, Closed, Arc{0, 99 * mm, r(49.5), r(99 * math.Pi), FullCircle}},
		{"rise gone", Known{Rise: mm, Radius: 50 * mm}, mm, 1, 0, false, Vanished, Arc{Radius: 50 * mm}},
		{"angle gone, radius kept", Known{Radius: 50 * mm, Angle: Degree}, 1, 2 * Degree, 1, false, Vanished, Arc{Radius: 50 * mm}},
		{"radius gone, angle kept", Known{Radius: mm, Angle: 90 * Degree}, mm, 1, 0, false, Vanished, Arc{Angle: 90 * Degree}},
		{"length beyond the circle", Known{Radius: 50 * mm, Length: 314 * mm}, mm, 1, 1, true, Closed, Arc{0, 100 * mm, 50 * mm, r(100 * math.Pi), FullCircle}},
		{"radius too small for the length", Known{Radius: 50 * mm, Length: 314 * mm}, mm, 1, 0, false, Closed, Arc{0, r(314 / math.Pi), r(157 / math.Pi), 314 * mm, FullCircle}},
		{"radius gone, length kept", Known{Radius: mm, Length: mm}, 2 * mm, 1, 0, false, Closed, Arc{0, r(1 / math.Pi), r(0.5 / math.Pi), mm, FullCircle}},
		{"angle gone, length kept", Known{Angle: Degree, Length: 100 * mm}, 1, Degree, 0, false, Straight, Arc{100 * mm, 0, un, 100 * mm, 0}},
	} {
		effects, err := Effects(c.known, Errors{c.by, c.angle})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		end := effects[c.of].Less
		if c.more {
			end = effects[c.of].More
		}
		if end.Limit != c.limit || end.Limit.String() == "" || end.Arc != c.want {
			t.Errorf("%s: %v %+v, want %v %+v", c.name, end.Limit, end.Arc, c.limit, c.want)
		}
	}
}

// An error that reaches over the half circle: the radius is least between the ends,
// not at one of them.
func TestEffectsTurn(t *testing.T) {
	effects, err := Effects(Known{Chord: 200 * mm, Rise: 100 * mm}, Errors{Length: mm, Angle: Degree})
	if err != nil {
		t.Fatal(err)
	}
	f := effects[1]
	if lo, _ := f.Range(); f.Less.Arc.Radius <= 100*mm || f.More.Arc.Radius <= 100*mm || lo.Radius != 100*mm {
		t.Errorf("radius %v and %v at the ends, least %v", f.Less.Arc.Radius, f.More.Arc.Radius, lo.Radius)
	}
	if math.Abs(math.Tan(leastLength/2)-leastLength) > 1e-14*math.Tan(leastLength/2) {
		t.Errorf("tan(t/2) = %v at t = %v", math.Tan(leastLength/2), leastLength)
	}
}

// Mistakes are named with what to do, all at once.
func TestMistakes(t *testing.T) {
	for _, c := range []struct {
		name  string
		known Known
		want  []string
	}{
		{"nothing", Known{}, []string{"two measures to start from, got none"}},
		{"one", Known{Chord: mm}, []string{"got only the chord"}},
		{"three", Known{Chord: mm, Rise: mm, Angle: 1}, []string{"got chord, rise and angle"}},
		{"negative, and one too many", Known{Chord: -mm, Rise: -mm, Radius: mm}, []string{"chord: the chord is negative", "rise: the rise is negative", "two measures"}},
		{"too long", Known{Chord: length.Max + 1, Radius: MaxRadius + 1}, []string{"chord: the chord is longer than 33554.432 mm", "radius: the radius is longer than"}},
		{"too far round", Known{Chord: mm, Angle: 400 * Degree}, []string{"angle: an arc of 400 degrees is no arc"}},
		{"full circle", Known{Radius: mm, Angle: FullCircle}, []string{"angle: an arc of 360 degrees"}},
		{"chord and length", Known{Chord: mm, Length: mm}, []string{"length: no arc is computed from its chord and length"}},
		{"rise and length", Known{Rise: mm, Length: mm}, []string{"no arc is computed from its rise and length"}},
		{"long without need", Known{Chord: mm, Rise: mm, Long: true}, []string{"long: chord and rise have one arc"}},
		{"small radius", Known{Chord: 200 * mm, Radius: 90 * mm}, []string{"radius: the radius 90.000 mm is less than half the chord, 100.000 mm"}},
		{"high rise", Known{Rise: 200 * mm, Radius: 90 * mm}, []string{"rise: the rise 200.000 mm is not less than the diameter, 180.000 mm"}},
		{"more than a circle", Known{Radius: 50 * mm, Length: 320 * mm}, []string{"length: the length 320.000 mm is not less than the whole circle, 314.159 mm"}},
		{"almost a circle, too long", Known{Chord: 1, Rise: length.Max / 3}, []string{"length: the length would be 35.14 m"}},
		{"long and high", Known{Radius: length.Max, Angle: 200 * Degree}, []string{"chord: the chord would be 66.09 m; the most is 33.55 m", "rise: the rise would be 39.38 m", "length: the length would be 117.1 m"}},
		{"flatter than the grid", Known{Radius: length.Max, Length: 100}, []string{"rise: the rise would be less than a ten-thousandth"}},
		{"flat beyond measure", Known{Chord: length.Max, Angle: 1}, []string{"radius: the radius would be"}},
	} {
		a, err := Solve(c.known)
		var list diag.List
		if !errors.As(err, &list) || a != (Arc{}) || len(list) != len(c.want) {
			t.Errorf("%s: %+v, %v, want %d findings", c.name, a, err, len(c.want))
			continue
		}
		for i, want := range c.want {
			if !strings.Contains(list[i].Error(), want) || list[i].Remedy == "" {
				t.Errorf("%s: %v (remedy %q), want %q", c.name, list[i], list[i].Remedy, want)
			}
		}
		if _, err := Effects(c.known, Errors{mm, Degree}); err == nil {
			t.Errorf("%s: effects without an arc", c.name)
		}
	}
	for _, e := range []Errors{{}, {mm, 0}, {-mm, Degree}, {length.Max + 1, Degree}, {mm, FullCircle + 1}} {
		if _, err := Effects(Known{Chord: 600 * mm, Rise: 50 * mm}, e); err == nil {
			t.Errorf("errors %+v are taken", e)
		}
	}
}

// The roundest arc of the grid is no full circle.
func TestRoundest(t *testing.T) {
	a, err := Solve(Known{Chord: 1, Rise: 85_445_000})
	if err != nil || a.Angle >= FullCircle || a.Length < length.Max-3000 {
		t.Errorf("%+v, %v", a, err)
	}
}

// The flattest arc of the grid has the largest radius.
func TestMaxRadius(t *testing.T) {
	a, err := Solve(Known{Chord: length.Max, Rise: 1})
	if err != nil || a.Radius != MaxRadius {
		t.Errorf("%+v, %v, want a radius of %v", a, err, MaxRadius)
	}
	b, err := Solve(Known{Chord: length.Max, Radius: MaxRadius})
	if err != nil || b.Rise != 1 || b.Angle < 1 {
		t.Errorf("%+v, %v", b, err)
	}
}
