package shelf

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panelyard/parts/diag"
	"panelyard/parts/length"
)

const mm = length.Millimetre

// bend integrates the beam's equation E I y” = -M for a load of one newton over a
// span of one millimetre with E I = 1, and returns the sag at the middle: the
// reference for the closed formulas. load gives the bending moment of resting ends;
// fixed ends add the constant moment that keeps both ends level.
func bend(moment func(x float64) float64, fixed bool) float64 {
	const n = 20_000
	const dx = 1.0 / n
	mean := 0.0
	if fixed {
		for i := range n {
			mean += moment((float64(i)+0.5)*dx) * dx
		}
	}
	// Slope from -M, then deflection from the slope, both by midpoints.
	y, slope, middle := 0.0, 0.0, 0.0
	for i := range n {
		m := moment((float64(i)+0.5)*dx) - mean
		y += slope*dx - m*dx*dx/2
		slope -= m * dx
		if i == n/2-1 {
			middle = y
		}
	}
	return middle - y/2 // turned so that both ends are at the same height
}

// The four formulas against the integrated beam.
func TestFormulas(t *testing.T) {
	even := func(x float64) float64 { return x * (1 - x) / 2 }
	centre := func(x float64) float64 { return min(x, 1-x) / 2 }
	for _, c := range []struct {
		name   string
		moment func(float64) float64
		spread Spread
		ends   Ends
	}{
		{"even, resting", even, Whole, Resting},
		{"even, fixed", even, Whole, Fixed},
		{"middle, resting", centre, Middle, Resting},
		{"middle, fixed", centre, Middle, Fixed},
	} {
		b := Shelf{Depth: mm, Thickness: mm, Modulus: 12, Ends: c.ends}.beam(Load{1 / gravity, c.spread})
		if math.Abs(b.stiffness-1) > 1e-12 {
			t.Fatalf("%s: E I = %v, want 1", c.name, b.stiffness)
		}
		want := bend(c.moment, c.ends == Fixed)
		if got := b.sag(1); math.Abs(got-want) > 1e-6*want {
			t.Errorf("%s: %v, integrated %v", c.name, got, want)
		}
	}
}

// The spreads are the same load said in other words.
func TestSpreads(t *testing.T) {
	s := Shelf{Span: 800 * mm, Depth: 250 * mm, Thickness: 18 * mm, Modulus: 2200}
	whole, err := s.Sag(Load{20, Whole})
	if err != nil || whole.Now == 0 || whole.Later != whole.Now {
		t.Fatalf("%+v, %v", whole, err)
	}
	for _, l := range []Load{{25, PerMetre}, {100, PerArea}, {12.5, Middle}} { // 20 kg, of which 5/8 at the middle sags the same
		got, err := s.Sag(l)
		if err != nil || (got.Now-whole.Now).Abs() > 1 {
			t.Errorf("%+v: %+v, %v, want %+v", l, got, err, whole)
		}
	}
	// Its own weight: 0.8 x 0.25 x 0.018 m3 of 750 kg/m3 are 2.7 kg.
	heavy := s
	heavy.Density = 750
	a, errA := heavy.Sag(Load{})
	b, errB := s.Sag(Load{2.7, Whole})
	if errA != nil || errB != nil || (a.Now-b.Now).Abs() > 1 {
		t.Errorf("own weight %+v, %v, want %+v, %v", a, errA, b, errB)
	}
}

// A strip against sections worked by hand, b h³/12 + A d².
func TestStrips(t *testing.T) {
	board := Shelf{Depth: 300 * mm, Thickness: 18 * mm, Modulus: 2200}
	strip := func(w, h, drop length.Length, e float64) Strip {
		return Strip{Width: w * mm, Height: h * mm, Drop: drop * mm, Modulus: e}
	}
	for _, c := range []struct {
		name   string
		strips []Strip
		want   float64 // N mm2
	}{
		{"none", nil, 2200 * 300 * 18 * 18 * 18 / 12},
		{"flush, same board: a deeper shelf", []Strip{strip(20, 18, 0, 2200)}, 2200 * 320 * 18 * 18 * 18 / 12},
		{"flush, stiffer: as much board as it is stiffer", []Strip{strip(20, 18, 0, 11_000)}, 2200 * 400 * 18 * 18 * 18 / 12},
		{"board on board: twice the thickness", []Strip{strip(300, 18, 18, 2200)}, 2200 * 300 * 36 * 36 * 36 / 12},
		{"under and over: a third of it each", []Strip{strip(300, 18, 18, 2200), strip(300, 18, -18, 2200)}, 2200 * 300 * 54 * 54 * 54 / 12},
		// 300 x 18 of 2200 and 20 x 40 of 11,000, tops level. In board: strip 100 wide,
		// area 5400 and 4000, middles 9 and 20 down, axis (48,600+80,000)/9400 = 13.68085.
		// I = 145,800 + 5400·4.68085² + 533,333.3 + 4000·6.31915² = 957,176.
		{"lip of hardwood", []Strip{strip(20, 40, 0, 11_000)}, 2200 * 957_175.9},
	} {
		s := board
		s.Strips = c.strips
		if got := s.Stiffness(); math.Abs(got-c.want) > 1e-6*c.want {
			t.Errorf("%s: E I = %.6g, want %.6g", c.name, got, c.want)
		}
	}
}

// TestLip: what a solid edge does for a long shelf, in sag and in span.
func TestLip(t *testing.T) {
	s := Shelf{Span: 900 * mm, Depth: 300 * mm, Thickness: 18 * mm, Modulus: 2200, Creep: DefaultCreep}
	lipped := s
	lipped.Strips = []Strip{{Width: 20 * mm, Height: 40 * mm, Modulus: 11_000}}
	plain, err1 := s.Sag(Load{Mass: 25})
	with, err2 := lipped.Sag(Load{Mass: 25})
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	// 957,175.9 against 145,800 mm4.
	if r := plain.Now.MM() / with.Now.MM(); math.Abs(r-957_175.9/145_800) > 1e-3 {
		t.Errorf("sag %v with a lip, %v without: ratio %v", with.Now, plain.Now, r)
	}
	a, err1 := s.MaxSpan(Load{50, PerMetre}, Over(UsualOver))
	b, err2 := lipped.MaxSpan(Load{50, PerMetre}, Over(UsualOver))
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	// With a load a metre the span goes with the cube root of the stiffness.
	if got, want := b.MM()/a.MM(), math.Cbrt(957_175.9/145_800); math.Abs(got-want) > 1e-5 {
		t.Errorf("spans %v and %v: ratio %v, want %v", b, a, got, want)
	}
}

// drawShelf gives shelves of all kinds.
func drawShelf(t *rapid.T) (Shelf, Load) {
	l := func(name string, least, most int64) length.Length {
		return length.Length(rapid.Int64Range(least, most).Draw(t, name))
	}
	s := Shelf{
		Depth: l("depth", int64(50*mm), int64(mm*800)), Thickness: l("thickness", int64(4*mm), int64(60*mm)),
		Modulus: rapid.Float64Range(500, 20_000).Draw(t, "modulus"), Density: rapid.Float64Range(0, 1200).Draw(t, "density"),
		Ends: rapid.SampledFrom([]Ends{Resting, Fixed}).Draw(t, "ends"), Creep: rapid.SampledFrom([]float64{0, DefaultCreep, 2}).Draw(t, "creep"),
	}
	for range rapid.IntRange(0, 2).Draw(t, "strips") {
		h := l("height", int64(5*mm), int64(90*mm))
		s.Strips = append(s.Strips, Strip{
			Width: l("width", int64(3*mm), int64(50*mm)), Height: h, Drop: l("drop", -int64(h), int64(s.Thickness)),
			Modulus: rapid.Float64Range(500, 220_000).Draw(t, "strip modulus"),
		})
	}
	load := Load{rapid.Float64Range(0.5, 200).Draw(t, "mass"), Spread(rapid.IntRange(int(Whole), int(Middle)).Draw(t, "spread"))}
	return s, load
}

// The largest span keeps the limit, and one unit more does not.
func TestMaxSpanIsLargest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, load := drawShelf(t)
		limit := rapid.SampledFrom([]Limit{Over(UsualOver), Over(360), PerFoot(StrictPerFoot), Over(10)}).Draw(t, "limit")
		span, err := s.MaxSpan(load, limit)
		if err != nil {
			t.Fatal(err)
		}
		ratio := float64(limit.Sag) / float64(limit.Per)
		b := s.beam(load)
		sag := func(l length.Length) float64 { return b.sag(l.MM()) * (1 + s.Creep) }
		if span < length.Max && sag(span+1) <= (span+1).MM()*ratio {
			t.Fatalf("%v is not the largest span", span)
		}
		if sag(span) > span.MM()*ratio {
			t.Fatalf("%v is too long", span)
		}
		s.Span = span
		got, err := s.Sag(load)
		if err != nil {
			t.Fatal(err)
		}
		if allowed := limit.Allowed(span); got.Later > allowed+1 {
			t.Fatalf("span %v sags %v, allowed %v", span, got.Later, allowed)
		}
	})
}

// More of what holds sags less; strips never weaken a shelf (their weight aside); a
// mirrored section is as stiff; and the steps of a section may come in any order.
func TestMoreIsStiffer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, load := drawShelf(t)
		s.Density = 0
		base := s.Stiffness()
		thicker, fixed := s, s
		thicker.Strips, fixed.Ends = nil, Fixed
		if plain := thicker.Stiffness(); base < plain*(1-1e-12) {
			t.Fatalf("strips weaken: %v to %v", plain, base)
		}
		thin := thicker.Stiffness()
		thicker.Thickness += mm
		if thicker.Stiffness() <= thin {
			t.Fatal("a thicker board is not stiffer")
		}
		if f, r := fixed.beam(load).sag(500), s.beam(load).sag(500); f > r {
			t.Fatalf("fixed ends sag more: %v than %v", f, r)
		}
		over, other := s, s
		over.Strips, other.Strips = nil, nil
		for i, r := range s.Strips {
			r.Drop = s.Thickness - r.Drop - r.Height // upside down
			over.Strips = append(over.Strips, r)
			other.Strips = append(other.Strips, s.Strips[len(s.Strips)-1-i])
		}
		for _, x := range []Shelf{over, other} {
			if got := x.Stiffness(); math.Abs(got-base) > 1e-9*base {
				t.Fatalf("turned or reordered: %v, want %v", got, base)
			}
		}
	})
}

// Mistakes are named all at once, with what to do.
func TestMistakes(t *testing.T) {
	good := Shelf{Span: 800 * mm, Depth: 300 * mm, Thickness: 18 * mm, Modulus: 2200}
	with := func(f func(*Shelf)) Shelf { s := good; f(&s); return s }
	for _, c := range []struct {
		name string
		s    Shelf
		load Load
		want []string
	}{
		{"nothing given", Shelf{}, Load{}, []string{"depth: not above 0", "thickness: not above 0", "modulus: 0 is not from 1", "span: not above 0"}},
		{"negative", with(func(s *Shelf) { s.Depth = -1 }), Load{}, []string{"depth: not above 0"}},
		{"too long", with(func(s *Shelf) { s.Span = length.Max + 1 }), Load{}, []string{"span: longer than 33554.432 mm"}},
		{"no number", with(func(s *Shelf) { s.Modulus, s.Creep = math.NaN(), math.Inf(1) }), Load{Mass: math.NaN()}, []string{"modulus: NaN", "creep: +Inf", "load: NaN"}},
		{"negative load", good, Load{Mass: -1}, []string{"load: -1 is not from 0 to 100000 kg"}},
		{"unknown words", with(func(s *Shelf) { s.Ends = 7 }), Load{Spread: -1}, []string{"ends: unknown", "load: unknown spread"}},
		{"too heavy", good, Load{Mass: 5000}, []string{"more than a tenth of its span"}},
		{
			"strips",
			with(func(s *Shelf) { s.Strips = []Strip{{Width: mm, Height: mm, Modulus: 1000, Drop: 19 * mm}, {}} }),
			Load{},
			[]string{"strip 1: drop: the strip does not touch", "strip 2: width: not above 0", "strip 2: height: not above 0", "strip 2: modulus: 0"},
		},
		{"many strips", with(func(s *Shelf) { s.Strips = make([]Strip, MaxStrips+1) }), Load{}, []string{"strips: 101 strips"}},
	} {
		_, err := c.s.Sag(c.load)
		var list diag.List
		if !errors.As(err, &list) || len(list) != len(c.want) {
			t.Errorf("%s: %v, want %d findings", c.name, err, len(c.want))
			continue
		}
		for i, want := range c.want {
			if !strings.Contains(list[i].Error(), want) || list[i].Remedy == "" {
				t.Errorf("%s: %v (remedy %q), want %q", c.name, list[i], list[i].Remedy, want)
			}
		}
	}
	for _, l := range []Limit{{}, Over(0), Over(-3), Over(9), Over(1_000_000), {5, 10}, {-1, 10}} {
		if _, err := good.MaxSpan(Load{Mass: 5}, l); err == nil || !strings.Contains(err.Error(), "limit") {
			t.Errorf("limit %+v: %v", l, err)
		}
	}
	if got, err := good.MaxSpan(Load{}, Over(144)); err != nil || got != length.Max {
		t.Errorf("without any load: %v, %v, want %v", got, err, length.Max)
	}
	weak := Shelf{Depth: 1, Thickness: 1, Modulus: 1}
	if got, err := weak.MaxSpan(Load{Mass: 100}, Over(144)); err == nil || !strings.Contains(err.Error(), "no span") {
		t.Errorf("a hair under 100 kg: %v, %v", got, err)
	}
}

// The table of boards is complete, and each of them makes a shelf.
func TestBoards(t *testing.T) {
	seen := map[string]bool{}
	for _, b := range Boards() {
		if b.Name == "" || b.Source == "" || seen[b.Name] {
			t.Errorf("%+v: no name, no source, or twice", b)
		}
		seen[b.Name] = true
		s := Shelf{Span: 600 * mm, Depth: 250 * mm, Thickness: 18 * mm, Modulus: b.Modulus, Density: b.Density}
		if sag, err := s.Sag(Load{Mass: 10}); err != nil || sag.Now < 20*length.Micrometre || sag.Now > 3*mm {
			t.Errorf("%s: %+v, %v", b.Name, sag, err)
		}
	}
	// 1.82 million psi, as the standard has it.
	if oak := Boards()[len(Boards())-1]; math.Abs(oak.Modulus-1.82e6*psi) > 1 {
		t.Errorf("%s: %v N/mm2, want %v", oak.Name, oak.Modulus, 1.82e6*psi)
	}
}
