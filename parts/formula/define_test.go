package formula

import (
	"fmt"
	"strings"
	"testing"

	"panelyard/parts/length"
)

// Names that need themselves are told with the way around, and names that are none.
func TestDefinitions(t *testing.T) {
	var d Definitions
	for _, v := range [][2]string{{"a", "b + 1"}, {"b", "2*c"}, {"c", "a - 1"}, {"own", "own"}, {"user", "a + 1"}, {"fine", "600"}} {
		if p := d.Add(v[0], v[1], length.MM); p != nil {
			t.Fatal(p)
		}
	}
	// Before the circles are looked for, a name in one has no value either.
	if v, ok := d.At(nil).Value("a"); !ok || !v.none() {
		t.Error("a name in a circle has a value")
	}
	got := d.Circles()
	for name, want := range map[string]string{"a": "a b c a", "b": "b c a b", "c": "c a b c", "own": "own own"} {
		if strings.Join(got[name], " ") != want {
			t.Errorf("%s: %v, want %s", name, got[name], want)
		}
	}
	if len(got) != 4 {
		t.Errorf("circles %v", got)
	}
	s := d.At(nil)
	if v, ok := s.Value("user"); !ok || !v.none() {
		t.Error("a name that needs a circle has a value")
	}
	if v, _ := s.Value("fine"); v.none() {
		t.Error("a name beside a circle has no value")
	}
	if p := d.Add("fine", "3", length.MM); len(p) != 1 || !strings.Contains(p[0].Fact, "defined twice") {
		t.Errorf("twice: %v", p)
	}
	if v, _ := d.At(nil).Value("fine"); v.none() || v.float() != 600 {
		t.Errorf("the second definition counts: %v", v)
	}
	for _, name := range []string{"cut-depth", "2nd", "", "max", "pi", "mm", "in", "not", "a b", "ft", "x²", "let", "ꀀ", "ꀀ2", "a.b"} {
		if p := d.Add(name, "1", length.MM); len(p) != 1 || p[0].Col != 0 || p[0].Remedy == "" {
			t.Errorf("the name %q: %v", name, p)
		}
	}
	for _, name := range []string{"höhe_2", "Breite", "_a", "ширина", "x٣", "count", "length", "first"} {
		if p := d.Add(name, "1", length.MM); p != nil {
			t.Error(p)
		}
		if l, p := work(t, name+" + 1", length.MM, d.At(nil)); p != nil || l != 2*mm {
			t.Errorf("%s: %v %v", name, l, p)
		}
	}
}

// What is given hides a definition, and is worked with wherever it is needed.
func TestGiven(t *testing.T) {
	var d Definitions
	d.Add("inside", "600 mm - 2*thickness", length.MM)
	d.Add("thickness", "99 mm", length.MM)
	for _, given := range []length.Length{18 * mm, 12 * mm} {
		s := d.At(map[string]Value{"thickness": OfLength(given)})
		if l, p := work(t, "inside", length.MM, s); p != nil || l != 600*mm-2*given {
			t.Errorf("%v: %v %v", given, l, p)
		}
		if n := s.Names(); strings.Join(n, " ") != "inside thickness" {
			t.Errorf("names %v", n)
		}
	}
}

// What needs a name is found in time that grows with the definitions: each of these uses
// the two before it, and ways multiply as Fibonacci's numbers do.
func TestNeeds(t *testing.T) {
	var d Definitions
	d.Add("v0", "thickness", length.MM)
	d.Add("v1", "1", length.MM)
	for i := 2; i < 400; i++ {
		if p := d.Add(fmt.Sprintf("v%d", i), fmt.Sprintf("v%d/2 + v%d/2", i-1, i-2), length.MM); p != nil {
			t.Fatal(p)
		}
	}
	if c := d.Circles(); len(c) > 0 {
		t.Fatal(c)
	}
	last := d.Formula("v399")
	for name, want := range map[string]bool{"thickness": true, "v0": true, "v398": true, "v399": false, "width": false} {
		if d.Needs(last, name) != want {
			t.Errorf("Needs(%s) = %v", name, !want)
		}
	}
	// (2 v0 + v1...)/3: the recurrence x(i) = (x(i-1)+x(i-2))/2 tends to (x0 + 2 x1)/3.
	l, p := work(t, "v399", length.MM, d.At(map[string]Value{"thickness": OfLength(18 * mm)}))
	if want := 20 * mm / 3; p != nil || (l-want).Abs() > 1 {
		t.Errorf("v399 = %v %v, want %v", l, p, want)
	}
}

func TestNames(t *testing.T) {
	f, _ := Parse("max(b, a, b) + pi*sqrt(c) - 3 mm > d ? true ? e : f : 4' 6\"", length.MM)
	if got := strings.Join(f.Names(), " "); got != "b a c d e f" {
		t.Error(got)
	}
	for text, want := range map[string]bool{"600": true, " 18 mm ": true, "4' 6\"": true, "-3": false, "a": false, "3 + 4": false} {
		if f, _ := Parse(text, length.MM); f.IsNumber() != want {
			t.Errorf("%q: IsNumber is %v", text, !want)
		}
	}
}

// A formula that counts with a length among its numbers is found, also by the name of a
// number.
func TestUses(t *testing.T) {
	var d Definitions
	d.Add("board", "18", length.MM)
	d.Add("sum", "17 + 1", length.MM)
	for text, want := range map[string]bool{
		"600 - 2*18": true, "600 - 1.8 cm": true, "600 - 2*board": true, "600 - sum": false, "180": false, "x": false,
	} {
		if f, _ := Parse(text, length.MM); f.Uses(18*mm, &d) != want {
			t.Errorf("%q: Uses is %v", text, !want)
		}
	}
}
