package formula

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/expr-lang/expr"

	"panelyard/parts/length"
)

const mm = length.Millimetre

func names(defs ...string) Scope {
	var d Definitions
	for i := 0; i < len(defs); i += 2 {
		if p := d.Add(defs[i], defs[i+1], length.MM); len(p) > 0 {
			panic(fmt.Sprint(p))
		}
	}
	d.Circles()
	return d.At(map[string]Value{"thickness": OfLength(18*mm + mm/5)})
}

func work(t *testing.T, text string, unit length.Unit, s Scope) (length.Length, []Problem) {
	t.Helper()
	f, p := Parse(text, unit)
	if len(p) > 0 {
		return 0, p
	}
	v, p := f.Eval(s)
	if len(p) > 0 {
		return 0, p
	}
	l, ok := v.Length(unit)
	if !ok {
		return 0, []Problem{{1, "no length: " + dimension(v.dim), ""}}
	}
	return l, nil
}

// What formulas come to, in millimetres.
func TestFormulas(t *testing.T) {
	s := names("depth", "560", "width", "600 mm", "height", "2*width - 480", "n", "3", "frame", "23 11/16 in")
	for _, c := range []struct{ text, want string }{
		{"depth - 2*thickness", "523.6"},
		{"600", "600"},
		{"600/3", "200"},
		{"23 11/16 in - 3 mm", "598.6625"},
		{"4' 6\"", "1371.6"},
		{"4' 6 1/2\" + 1", "1385.3"},
		{"1 ft - 1 in", "279.4"},
		{"width/2 + 1/2", "300.5"},
		{"(width - (n+1)*thickness)/n", "175.7333333333"},
		{"height", "720"},
		{"max(200, width/4, 10 in)", "254"},
		{"min(thickness, 1 in)", "18.2"},
		{"sqrt(width^2 + 800^2)", "1000"},
		{"hypot(600, 800 mm)", "1000"},
		{"round(width/7, 0.5)", "85.5"},
		{"floor(-10.2)", "-11"},
		{"ceil(width/7, 5 mm)", "90"},
		{"width > 500 ? 40 : 30", "40"},
		{"width > 500 and depth < 500 ? 40 : 30", "30"},
		{"width*sin(30)", "300"},
		{"width*cos(60) + 0*thickness", "300"},
		{"100*atan(1)/45", "100"},
		{"radius(600, 50)", "925"},
		{"rise(1200, 1850 mm)", "100"},
		{"developed(600, 50)", "611.0501"},
		{"frame", "601.6625"},
		{"-thickness + 20", "1.8"},
		{"abs(10 - thickness)", "8.2"},
		{"2*(3 mm)^2/(1 mm)", "18"},
		{"pi*100 mm", "314.159265"},
		{"0.1 + 0.2", "0.3"},
		{".5 in", "12.7"},
	} {
		got, p := work(t, c.text, length.MM, s)
		want, _ := new(big.Rat).SetString(c.want)
		w, _ := want.Float64()
		if len(p) > 0 || math.Abs(got.MM()-w) > 0.0001 {
			t.Errorf("%s = %v %v, want %s", c.text, got, p, c.want)
		}
	}
	// A plain number counts in the unit of the job.
	if got, p := work(t, "23 3/4 - 1/2", length.IN, s); got != 23*length.Inch+length.Inch/4 || p != nil {
		t.Errorf("in inches: %v %v", got, p)
	}
}

// The carcass of the trade notes (600 x 720 x 560, 18 mm, back 6 in a groove 9 deep, 12 from
// the rear) as formulas a maker would write.
func TestCarcassFormulas(t *testing.T) {
	var d Definitions
	for _, v := range [][2]string{
		{"W", "600"}, {"H", "720"}, {"D", "560"}, {"t", "thickness"}, {"gap", "2"}, {"inside", "W - 2*t"}, {"bottom_depth", "D - 12 - 6"},
	} {
		if p := d.Add(v[0], v[1], length.MM); p != nil {
			t.Fatal(p)
		}
	}
	if c := d.Circles(); len(c) > 0 {
		t.Fatal(c)
	}
	s := d.At(map[string]Value{"thickness": OfLength(18 * mm)})
	for text, want := range map[string]length.Length{
		"inside": 564, "inside + 2*6": 576, "bottom_depth": 542, "inside - 2": 562, "bottom_depth - 20": 522,
		"inside + 2*8": 580, "H - 2*gap": 716, "W - 2*gap": 596, "(W - 3*gap)/2": 297,
	} {
		if got, p := work(t, text, length.MM, s); got != want*mm || p != nil {
			t.Errorf("%s = %v %v, want %d", text, got, p, want)
		}
	}
}

// What is wrong with a formula: its place, and what to do.
func TestProblems(t *testing.T) {
	s := names("width", "600", "bad", "1/0", "area", "width*width*1 mm*1 mm")
	for _, c := range []struct {
		text string
		col  int
		want string
	}{
		{"width - tickness", 9, `unknown name "tickness"`},
		{"width / (3 - 3)", 7, "divides by zero"},
		{"width*thickness*thickness", 1, "no length: an area"},
		{"thickness*thickness + 3 mm", 21, "an area and a length cannot be added"},
		{"width +", 7, "ends too early"},
		{"(width", 6, "ends too early"},
		{"width )", 7, `")" is not expected`},
		{"sqroot(4)", 1, `there is no function "sqroot"`},
		{"sqrt(4, 5)", 1, "sqrt has 2 arguments"},
		{"sqrt(0 - 4)", 1, "the root of a negative number"},
		{"sqrt(thickness)", 1, "the root of a length"},
		{"3,5 + 1", 1, "may be two numbers or one with a decimal comma"},
		{"width > 4", 7, "a condition is no length"},
		{"width ? 1 : 2", 1, "this is no condition"},
		{"1 mm > 2 mm*1 mm ? 1 : 2", 6, "cannot be compared"},
		{"width.x", 7, "no part of a formula"},
		{"[1, 2]", 1, "no part of a formula"},
		{"map([1], # + 1)", 1, `there is no function "map"`},
		{"width ; 3", 7, ""},
		{"'text'", 1, ""},
		{"3 'x'", 1, ""},
		{"4 % 3", 3, "% is not known"},
		{"bad + 1", 0, ""},
		{"40 000 000 mm", 4, ""},
		{"10^9^9", 3, ""},
		{"2^0.5", 2, "a power is a whole number"},
		{"", 1, "empty"},
		{strings.Repeat("1+", 300) + "1", 1, "601 characters"},
		{"round(3, 0)", 1, "the step is more than zero"},
		{"sin(3 mm)", 1, "degrees"},
		{"rise(100, 20)", 1, "less than half the chord"},
		{"radius(0, 20)", 1, "more than zero"},
		{"in + 3", 1, ""},
	} {
		f, p := Parse(c.text, length.MM)
		var v Value
		if len(p) == 0 {
			v, p = f.Eval(s)
			if len(p) == 0 && v.none() && c.col == 0 {
				continue // the name has the problem
			}
		}
		if len(p) == 0 {
			_, ok := v.Length(length.MM)
			if ok {
				t.Errorf("%q is accepted: %v", c.text, v.num)
			} else if !strings.Contains("no length: "+dimension(v.dim), c.want) {
				t.Errorf("%q: %v", c.text, dimension(v.dim))
			}
			continue
		}
		if !strings.Contains(p[0].Fact, c.want) || c.want != "" && p[0].Col != c.col || p[0].Remedy == "" {
			t.Errorf("%q: %+v, want %q at %d", c.text, p[0], c.want, c.col)
		}
	}
	// All at once.
	f, p := Parse("a + b*width + sqrt(0-1)", length.MM)
	if len(p) > 0 {
		t.Fatal(p)
	}
	if _, p = f.Eval(s); len(p) != 3 {
		t.Errorf("%d problems, want three: %v", len(p), p)
	}
}

// Names that need themselves are told with the way around, and names that are none.
func TestDefinitions(t *testing.T) {
	var d Definitions
	for _, v := range [][2]string{{"a", "b + 1"}, {"b", "2*c"}, {"c", "a - 1"}, {"own", "own"}, {"user", "a + 1"}, {"fine", "600"}} {
		if p := d.Add(v[0], v[1], length.MM); p != nil {
			t.Fatal(p)
		}
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
	for _, name := range []string{"cut-depth", "2nd", "", "max", "pi", "mm", "in", "not", "a b", "ft"} {
		if p := d.Add(name, "1", length.MM); len(p) != 1 {
			t.Errorf("the name %q: %v", name, p)
		}
	}
	if p := d.Add("höhe_2", "1", length.MM); p != nil {
		t.Error(p)
	}
}

// A formula with values put in comes to the same.
func TestExplain(t *testing.T) {
	s := names("depth", "560", "n", "2")
	f, _ := Parse("depth - n*thickness", length.MM)
	text := f.Explain(s, func(l length.Length) string { return l.Decimal() + " mm" })
	if text != "560 - 2*18.2 mm" {
		t.Error(text)
	}
	a, _ := work(t, f.Text(), length.MM, s)
	b, p := work(t, text, length.MM, names())
	if a != b || p != nil {
		t.Errorf("%v and %v %v", a, b, p)
	}
}

// Sums, products and quotients are those of exact fractions, and near those that the
// expression library itself works out in floating point.
func TestAgainstLibrary(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	var build func(depth int) string
	build = func(depth int) string {
		if depth == 0 || rng.IntN(4) == 0 {
			return []string{"7", "2.5", "13", "0.125", "40"}[rng.IntN(5)]
		}
		return "(" + build(depth-1) + []string{" + ", " - ", " * ", " / "}[rng.IntN(4)] + build(depth-1) + ")"
	}
	compared := 0
	for range 500 {
		text := build(4)
		f, p := Parse(text, length.MM)
		if p != nil {
			t.Fatal(text, p)
		}
		v, p := f.Eval(names())
		ref, err := expr.Eval(text, nil)
		if err != nil {
			t.Fatal(err)
		}
		want, ok := ref.(float64)
		if n, isInt := ref.(int); isInt {
			want, ok = float64(n), true
		}
		if !ok || math.IsInf(want, 0) || math.IsNaN(want) {
			continue // the library divides by zero in silence
		}
		if p != nil {
			continue
		}
		compared++
		if got := v.float(); math.Abs(got-want) > 1e-9*max(1, math.Abs(want)) {
			t.Errorf("%s = %v, the library says %v", text, got, want)
		}
	}
	if compared < 300 {
		t.Errorf("only %d formulas were compared", compared)
	}
}

// Whatever the text: no panic, and a value or a problem with a place in the text.
func FuzzFormula(f *testing.F) {
	for _, s := range []string{"depth - 2*thickness", "23 11/16 in - 3 mm", "4' 6\"", "max(a, b)", "a > b ? c : d", "3,5", "((((", "10^9^9", "ꀀ + 1", "'", "\"", "1/0", "1e9", "0x10", "a.b", "[1]", "{a: 1}", "#", "a ?? b", "let x = 1; x", "if a {b} else {c}", "1..2", "not a", "in", "1 in 2"} {
		f.Add(s)
	}
	s := names("depth", "560", "a", "3", "b", "depth/2")
	f.Fuzz(func(t *testing.T, text string) {
		p, problems := Parse(text, length.MM)
		if (p == nil) != (len(problems) > 0) {
			t.Fatal("no formula and no problem, or both")
		}
		if p != nil {
			var v Value
			if v, problems = p.Eval(s); len(problems) == 0 && !v.none() {
				v.Length(length.MM)
			}
			p.Names()
			p.Explain(s, length.Length.Decimal)
		}
		for _, q := range problems {
			if q.Col < 1 || q.Col > len([]rune(text))+1 || q.Fact == "" || q.Remedy == "" {
				t.Fatalf("%+v", q)
			}
		}
	})
}
