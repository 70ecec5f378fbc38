package main

import (
	"bytes"
	"encoding/xml"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panelyard/parts/arc"
	"panelyard/parts/bend"
	"panelyard/parts/length"
)

// bentSheet draws a bend that can be made, or skips.
func bentSheet(t *rapid.T) bendSheet {
	mm := func(name string, least, most float64) length.Length {
		l, err := length.FromMM(rapid.Float64Range(least, most).Draw(t, name))
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	unit := rapid.SampledFrom([]length.Unit{length.MM, length.IN}).Draw(t, "unit")
	x := bendSheet{write: newMeasures(unit)}
	x.bend = bend.Bend{Thickness: mm("thickness", 3, 40), Kerf: mm("kerf", 0.5, 6), Open: rapid.Bool().Draw(t, "open"), Facet: mm("facet", 0.02, 5)}
	x.bend.Web = max(1, x.bend.Thickness/length.Length(rapid.IntRange(2, 12).Draw(t, "web")))
	var err error
	x.bend.Outer, err = arc.Solve(arc.Known{Radius: mm("radius", 40, 4000), Angle: arc.Angle(rapid.Float64Range(1, 359).Draw(t, "angle") * float64(arc.Degree))})
	if err != nil {
		t.Skip(err)
	}
	if x.cuts, err = bend.Solve(x.bend); err != nil {
		t.Skip(err)
	}
	if rapid.Bool().Draw(t, "straight") {
		x.from, x.to = mm("from", 0.001, 3000), mm("to", 0.001, 3000)
	}
	if rapid.Bool().Draw(t, "wide") {
		x.width = mm("width", 10, 2000)
	}
	x.positions = x.cuts.Positions(x.from)
	return x
}

// Everything in a picture lies on the page, with a margin for what is written, and the
// running measures have room beside each other.
func TestBendPictureOnPage(t *testing.T) {
	place := regexp.MustCompile(`translate\(([\d.]+),([\d.]+)\)`)
	rapid.Check(t, func(t *rapid.T) {
		x := bentSheet(t)
		var b bytes.Buffer
		x.draw(&b)
		if strings.Contains(b.String(), "NaN") || strings.Contains(b.String(), "Inf") {
			t.Fatal("the picture has a number that is none")
		}
		last, kerfs := -math.MaxFloat64, 0
		d := xml.NewDecoder(&b)
		for {
			token, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatal(err)
			}
			e, ok := token.(xml.StartElement)
			if !ok {
				continue
			}
			on := func(name string, v, most float64) {
				if v < 0 || v > most {
					t.Fatalf("%s: %s is %v", e.Name.Local, name, v)
				}
			}
			for _, a := range e.Attr {
				v, _ := strconv.ParseFloat(a.Value, 64)
				switch a.Name.Local {
				case "x", "x1", "x2":
					on(a.Name.Local, v, pageW)
				case "y", "y1", "y2":
					on(a.Name.Local, v, pageH)
				case "points":
					for _, p := range strings.Fields(a.Value) {
						px, py, _ := strings.Cut(p, ",")
						fx, _ := strconv.ParseFloat(px, 64)
						fy, _ := strconv.ParseFloat(py, 64)
						on("x of a point", fx, pageW-10)
						on("y of a point", fy, pageH-5)
					}
				case "class":
					if a.Value == "kerf" {
						kerfs++
					}
				case "transform":
					m := place.FindStringSubmatch(a.Value)
					if m == nil {
						t.Fatalf("transform %q", a.Value)
					}
					px, _ := strconv.ParseFloat(m[1], 64)
					on("x of a measure", px, pageW-10)
					if px-last < tightly { // the text is so high, upright
						t.Fatalf("a measure at %v, the one before at %v", px, last)
					}
					last = px
				}
			}
		}
		if kerfs != x.cuts.Count {
			t.Fatalf("%d kerfs are drawn of %d", kerfs, x.cuts.Count)
		}
	})
}

// The bent board of the picture: its ends make the angle, two blocks leave the gap
// between the mouths of a kerf, and all of them together are as long as the blank.
func TestBendSection(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := bentSheet(t)
		pieces := x.section()
		if len(pieces) != 2*x.cuts.Count+1 {
			t.Fatalf("%d pieces of %d kerfs", len(pieces), x.cuts.Count)
		}
		heading := func(p [][2]float64) float64 { return math.Atan2(p[1][1]-p[0][1], p[1][0]-p[0][0]) }
		turned := heading(pieces[len(pieces)-1]) - heading(pieces[0])
		if d := math.Remainder(turned-x.bend.Outer.Angle.Degrees()/180*math.Pi, 2*math.Pi); math.Abs(d) > 1e-4 {
			t.Fatalf("the ends are off by %v", d)
		}
		long := 0.0
		for i, p := range pieces {
			if i%2 == 0 {
				long += math.Hypot(p[1][0]-p[0][0], p[1][1]-p[0][1])
			}
			if i%2 == 0 || i+1 == len(pieces) {
				continue
			}
			mouth := [2]int{2, 3} // corners of the blocks beside the web, at the inner face
			if x.bend.Open {
				mouth = [2]int{1, 0}
			}
			a, b := pieces[i-1][mouth[0]], pieces[i+1][mouth[1]]
			turn := x.cuts.Each.Degrees() / 180 * math.Pi
			got, want := math.Hypot(a[0]-b[0], a[1]-b[1]), x.cuts.Gap.MM()
			if math.Abs(got-want) > 0.001+turn*turn/12*(want+x.bend.Kerf.MM()) {
				t.Fatalf("kerf %d: %v mm at the mouth, want %v", i/2+1, got, want)
			}
		}
		if want := x.blank().MM() - float64(x.cuts.Count)*x.bend.Kerf.MM(); math.Abs(long-want) > 0.01 {
			t.Fatalf("the blocks are %v long together, want %v", long, want)
		}
	})
}

// FuzzBendFlags: whatever stands in the flags, the command ends with a result and
// nothing else, or with findings and no result.
func FuzzBendFlags(f *testing.F) {
	for _, s := range []string{
		"--thickness=18|--web=2|--radius=300|--angle=90|--from=200|--to=100|--width=600", "--thickness=3/4|--web=1/8|--kerf=1/8|--radius=6.75|--angle=90|--count=21|--units=in",
		"--thickness=18|--web=2|--chord=600|--rise=25.18|--facet=0.25|--open|--json|--grain=along", "--thickness=0.000125|--web=1|--radius=33 m|--angle=359.999999",
		"--thickness=18|--web=2|--radius=300|--angle=0.000001|--kerf=1000", "--thickness=18|--web=17.999875|--radius=18.000125|--angle=359|--facet=0.000125", "--count=-1", "x",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) { runFlags(t, "bend", s) })
}
