package shelf

import (
	"fmt"
	"math"
	"testing"

	"panelyard/parts/length"
)

const (
	psi = 0.45359237 * gravity / (25.4 * 25.4) // N/mm2: a pound-force on a square inch
	psf = 0.45359237 / (0.3048 * 0.3048)       // kg/m2: a pound on a square foot
)

// TestPublishedSpans holds all twelve spans of the table of shelves in the
// Architectural Woodwork Standards, first edition, 4.4.14.10: whole inches, for an
// evenly spread load at L/144 without creep. The column exact is the span that the
// formula gives before it is rounded down, with 0.05 in allowed (the table prints 46
// for 45.98). The standard calls the third material red oak; the first two are
// given by their moduli.
func TestPublishedSpans(t *testing.T) {
	for _, c := range []struct {
		modulus   float64 // psi
		sixteenth length.Length
		load      float64 // lb/ft2
		want      int     // in
		exact     float64
	}{
		{0.95e6, 12, 40, 40, 40.03},
		{0.95e6, 12, 50, 37, 37.16},
		{0.95e6, 16, 40, 53, 53.37},
		{0.95e6, 16, 50, 49, 49.54},
		{1.8e6, 12, 40, 49, 49.53},
		{1.8e6, 12, 50, 46, 45.98},
		{1.8e6, 16, 40, 66, 66.04},
		{1.8e6, 16, 50, 61, 61.30},
		{1.82e6, 12, 40, 49, 49.71},
		{1.82e6, 12, 50, 46, 46.15},
		{1.82e6, 16, 40, 66, 66.28},
		{1.82e6, 16, 50, 61, 61.53},
	} {
		name := fmt.Sprintf("%g psi, %d/16 in, %g lb/ft2", c.modulus, c.sixteenth, c.load)
		s := Shelf{Depth: 12 * length.Inch, Thickness: c.sixteenth * length.Inch / 16, Modulus: c.modulus * psi}
		load := Load{c.load * psf, PerArea}
		span, err := s.MaxSpan(load, Over(UsualOver))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if math.Abs(span.Inches()-c.exact) > 0.005 {
			t.Errorf("%s: span %.4f in, want %.2f", name, span.Inches(), c.exact)
		}
		if got := int(math.Floor(0.05 + span.Inches())); got != c.want {
			t.Errorf("%s: span %d in, printed %d", name, got, c.want)
		}
		// And the other way: the printed span, those 0.05 in shorter, keeps the limit; the next
		// inch does not.
		for inch, keeps := range map[int]bool{c.want: true, c.want + 1: false} {
			s.Span = length.Length(inch)*length.Inch - length.Inch/20
			sag, err := s.Sag(load)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			allowed := Over(UsualOver).Allowed(s.Span)
			if (sag.Now <= allowed) != keeps {
				t.Errorf("%s: %d in sag %v, allowed %v", name, inch, sag.Now, allowed)
			}
		}
	}
}

// TestWorkedSags: the formula of a trade body's page on shelves (its example has
// E 2500), worked to these values; the limits are the L/144 of the Architectural
// Woodwork Standards and the 0.02 in a foot and 50 % of creep of that page. The sags
// were worked by hand, no source prints them.
func TestWorkedSags(t *testing.T) {
	for _, c := range []struct {
		name                string
		modulus             float64
		span                length.Length
		mass                float64
		now, later, allowed string // mm
		strict              string
		keepsNow, keepsThen bool
	}{
		{"MDF 800, 30 kg", 2500, 800, 30, "5.38", "8.07", "5.56", "1.33", true, false},
		{"plywood 900, 25 kg", 8000, 900, 25, "2.00", "2.99", "6.25", "1.50", true, true},
		{"MDF 900, 25 kg", 2200, 900, 25, "7.26", "10.88", "6.25", "1.50", false, false},
	} {
		s := Shelf{Span: c.span * length.Millimetre, Depth: 300 * length.Millimetre, Thickness: 18 * length.Millimetre, Modulus: c.modulus, Creep: DefaultCreep}
		sag, err := s.Sag(Load{Mass: c.mass})
		if err != nil {
			t.Fatal(err)
		}
		if got := sag.Now.Fixed(2); got != c.now {
			t.Errorf("%s: sag %s mm, want %s", c.name, got, c.now)
		}
		if got := sag.Later.Fixed(2); got != c.later {
			t.Errorf("%s: sag in the long run %s mm, want %s", c.name, got, c.later)
		}
		allowed := Over(UsualOver).Allowed(s.Span)
		if got := allowed.Fixed(2); got != c.allowed {
			t.Errorf("%s: allowed %s mm, want %s", c.name, got, c.allowed)
		}
		if got := PerFoot(StrictPerFoot).Allowed(s.Span).Fixed(2); got != c.strict {
			t.Errorf("%s: allowed by the stricter habit %s mm, want %s", c.name, got, c.strict)
		}
		if (sag.Now <= allowed) != c.keepsNow || (sag.Later <= allowed) != c.keepsThen {
			t.Errorf("%s: sags %v and %v against %v allowed", c.name, sag.Now, sag.Later, allowed)
		}
	}
}

// TestDefinitions: the strict limit and a psi come to what they are defined as
// (1 in = 25.4 mm, standard gravity; from memory).
func TestDefinitions(t *testing.T) {
	if StrictPerFoot != 508*length.Micrometre {
		t.Errorf("0.02 in is %v", StrictPerFoot)
	}
	// A psi is 6894.757 Pa (NIST SP 811, appendix B.8, from memory).
	if math.Abs(psi*1e6-6894.757) > 0.001 {
		t.Errorf("a psi is %v Pa", psi*1e6)
	}
}
