package pdf

import (
	"bytes"
	"errors"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/text/unicode/norm"
	"pgregory.net/rapid"

	"panelyard/export/exporttest"
	"panelyard/parts/partstest"
)

// The curves of an arc stay within ArcError of its circle, begin and end where it does
// and are few, from a millimetre to the largest panel, flat or nearly closed.
func TestArcError(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := math.Pow(10, rapid.Float64Range(0, 4.5).Draw(t, "log radius"))
		theta := rapid.Float64Range(0.01, 6.2).Draw(t, "angle")
		start := rapid.Float64Range(0, 2*math.Pi).Draw(t, "start")
		sign := rapid.SampledFrom([]float64{-1, 1}).Draw(t, "sign")
		cx, cy := 100.0, -50.0
		ax, ay := cx+r*math.Cos(start), cy+r*math.Sin(start)
		bx, by := cx+r*math.Cos(start+sign*theta), cy+r*math.Sin(start+sign*theta)
		list := arcBeziers(ax, ay, bx, by, sign*math.Tan(theta/4))
		if last := list[len(list)-1]; last.x != bx || last.y != by {
			t.Fatalf("ends at %g, %g", last.x, last.y)
		}
		if len(list) > 60 {
			t.Fatalf("%d curves", len(list))
		}
		x, y, turned := ax, ay, 0.0
		for _, b := range list {
			before := math.Atan2(y-cy, x-cx)
			for k := 1; k <= 50; k++ {
				f := float64(k) / 50
				g := 1 - f
				px := g*g*g*x + 3*g*g*f*b.x1 + 3*g*f*f*b.x2 + f*f*f*b.x
				py := g*g*g*y + 3*g*g*f*b.y1 + 3*g*f*f*b.y2 + f*f*f*b.y
				if off := math.Abs(math.Hypot(px-cx, py-cy) - r); off > ArcError*1.01+r*1e-9 {
					t.Fatalf("radius %g, %d curves: %g mm off the circle", r, len(list), off)
				}
				now := math.Atan2(py-cy, px-cx)
				turned += math.Remainder(now-before, 2*math.Pi)
				before = now
			}
			x, y = b.x, b.y
		}
		if math.Abs(turned-sign*theta) > 1e-4 {
			t.Fatalf("turns by %g, want %g", turned, sign*theta)
		}
	})
}

// A quarter of a circle of radius 1 is off by 2.73e-4: a published figure for this
// curve (from memory). A quarter of 3.6 mm is the largest in one curve of 0.001 mm.
func TestQuarter(t *testing.T) {
	quarter := math.Tan(math.Pi / 8)
	for r, want := range map[float64]int{3.6: 1, 3.7: 2} {
		if got := len(arcBeziers(r, 0, 0, r, quarter)); got != want {
			t.Errorf("radius %g: %d curves, want %d", r, got, want)
		}
	}
	// So flat that its radius is no number of use.
	for _, b := range arcBeziers(0, 0, 30_000, 0, 1e-12) {
		if math.IsNaN(b.x1+b.y1+b.x2+b.y2) || math.Abs(b.y1) > 1e-6 {
			t.Errorf("a flat arc: %+v", b)
		}
	}
}

// A line of text is as wide as the library that writes it takes it to be, to its
// rounding of widths.
func TestWidthAsTheLibrary(t *testing.T) {
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", SizeStr: "A4"})
	f.AddUTF8FontFromBytes(family, "", Regular.data())
	f.AddUTF8FontFromBytes(family, "B", Bold.data())
	for _, face := range []Face{Regular, Bold} {
		f.SetFont(family, face.style(), 10)
		f.SetFontUnitSize(10)
		for _, s := range []string{"", "shelf 300 × 80", "Größe ½ ⌀ 90 → Łódź №", strings.Repeat("WiM. ", 40)} {
			if got, want := Width(s, 10, face), f.GetStringWidth(s); math.Abs(got-want) > 0.011*float64(len(s)) {
				t.Errorf("%q: %.3f mm, the library %.3f", s, got, want)
			}
		}
	}
}

// texts are texts of all kinds.
func texts() *rapid.Generator[string] {
	return rapid.OneOf(
		rapid.SampledFrom(exporttest.Nasty), rapid.String(),
		rapid.StringOf(rapid.SampledFrom([]rune("aW. \u00ad\u200fل\u0627حøيא🪵\n\t\U00010000\uFFFF"))),
	)
}

// Fit keeps to the width, changes nothing that fits, and makes no text larger.
func TestFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := texts().Draw(t, "text")
		width := rapid.Float64Range(0, 200).Draw(t, "width")
		face := rapid.SampledFrom([]Face{Regular, Bold}).Draw(t, "face")
		got, size := Fit(s, 5, 2, width, face)
		switch was := Width(s, 5, face); {
		case Width(got, size, face) > width:
			t.Fatalf("%q is %.4f wide, %.4f allowed", got, Width(got, size, face), width)
		case was <= width && (got != s || size != 5):
			t.Fatalf("%q fits and became %q, %g", s, got, size)
		case size > 5 || size < 2:
			t.Fatalf("size %g", size)
		case got != s && got != "" && !strings.HasSuffix(got, ellipsis):
			t.Fatalf("%q does not say that it was cut", got)
		}
	})
}

// Wrap keeps to the width where a character can, and loses nothing but spaces.
func TestWrap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := strings.ToValidUTF8(texts().Draw(t, "text"), "?")
		lines := Wrap(s, 3, 40, Regular)
		for _, l := range lines {
			if Width(l, 3, Regular) > 40 {
				t.Fatalf("%q is too wide", l)
			}
		}
		if got, want := strings.Join(strings.Fields(strings.Join(lines, "")), ""), strings.Join(strings.Fields(s), ""); got != want {
			t.Fatalf("%q became %q", want, got)
		}
	})
	if got := Wrap("one two three", 3, Width("one two", 3, Regular), Regular); len(got) != 2 || got[0] != "one two" || got[1] != "three" {
		t.Errorf("%q", got)
	}
	if got := Wrap("57 13/16+ × 14 1/8", 3, Width("57 13/16+ × 14", 3, Regular), Regular); len(got) != 2 || got[0] != "57 13/16+ ×" || got[1] != "14 1/8" {
		t.Errorf("a fraction is parted: %q", got)
	}
	if got := Wrap("wide", 3, 0.1, Regular); len(got) != 4 {
		t.Errorf("narrower than a letter: %q", got)
	}
}

// Joined letters are the same text: their compatibility decomposition (Unicode Standard
// Annex 15, by golang.org/x/text) is that of the letters.
func TestJoinedIsTheSameText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringOf(rapid.SampledFrom([]rune("ابتحدرسعلموي ءآلإىپچکگی-1ًّـ"))).Draw(t, "text")
		got := joined(s, func(rune) bool { return true })
		if norm.NFKC.String(got) != norm.NFKC.String(s) {
			t.Fatalf("%q became %q", s, got)
		}
		if joined(s, func(rune) bool { return false }) != s {
			t.Fatalf("%q changed without forms", s)
		}
	})
}

// Words in the forms of the chart Arabic Presentation Forms-B of The Unicode Standard
// (from memory), as they are set from left to right.
func TestVisual(t *testing.T) {
	for s, want := range map[string]string{
		"لوح":                               "\uFEA1\uFEEE\uFEDF",    // lam initial, waw final, hah isolated
		"سلام":                              "\uFEE1\uFEFC\uFEB3",    // seen initial, lam-alef final, meem isolated
		"بيت 12":                            "12 \uFE96\uFEF4\uFE91", // beh initial, yeh medial, teh final; figures run right
		"بيت 1.5-left":                      "1.5 \uFE96\uFEF4\uFE91-left",
		"אב 12 ג: x":                        "\u05D2 12 \u05D1\u05D0: x",
		"shelf בית":                         "shelf \u05EA\u05D9\u05D1", // Hebrew does not join
		"a\u202Eb\tc":                       "a\uFFFDb c",
		"🪵 x\u00ADy":                        "[wood] xy",
		"a\U00010000":                       "a[U+10000]",
		"日\uFE0F":                           "[U+65E5]",
		"plain":                             "plain",
		"8 " + Apart("בית") + ", 407 × 300": "8 \u05EA\u05D9\u05D1, 407 × 300",
		"4 " + Apart("בית ימני") + " (1 of 3)": "4 \u05D9\u05E0\u05DE\u05D9 \u05EA\u05D9\u05D1 (1 of 3)",
		Apart("shelf") + " 2":                  "shelf 2",
	} {
		if got := Regular.visual(s); got != want {
			t.Errorf("%q is set as %+q, want %+q", s, got, want)
		}
	}
}

// document writes a document with everything in it.
func document(title string) *Doc {
	d := New(title, "a test")
	d.Page(100, 50, title)
	d.Clip(10, 10, 80, 30, func() {
		d.Fill(200, Path{From: Point{20, 20}, Steps: []Step{{To: Point{60, 20}}, {To: Point{60, 40}, Bulge: 0.4}}, Closed: true})
	})
	d.Stroke(Pen{Width: 0.2, Dash: []float64{2, 1}}, Path{From: Point{0, 0}, Steps: []Step{{To: Point{100, 50}}}})
	d.Text(Point{10, 10}, 4, Regular, 0, 0, title)
	d.Page(50, 100, "")
	d.Text(Point{10, 90}, 4, Bold, 90, 45, title)
	return d
}

// Any text makes a sound document, the same each time.
func TestDocument(t *testing.T) {
	qpdf := partstest.Tool(t, "qpdf")
	for _, s := range append(exporttest.Nasty, "", "\U00010000", "a\x00b\xff") {
		var a, b bytes.Buffer
		if err := errors.Join(document(s).Write(&a), document(s).Write(&b)); err != nil {
			t.Fatalf("%q: %v", s, err)
		}
		if !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("%q: other bytes", s)
		}
		path := filepath.Join(t.TempDir(), "t.pdf")
		if err := os.WriteFile(path, a.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		if out, err := exec.Command(qpdf, "--check", path).CombinedOutput(); err != nil {
			t.Errorf("%q: %v\n%s", s, err, out)
		}
	}
}

// A writer that fails makes Write fail.
func TestFailingWriter(t *testing.T) {
	broken := errors.New("broken")
	if err := document("x").Write(failing{broken}); !errors.Is(err, broken) {
		t.Errorf("%v", err)
	}
}

type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }

// The widest line is that of the text as it is broken by hand, and the widest word one
// that Wrap leaves whole: a measure with its fraction.
func TestWidest(t *testing.T) {
	const size = 3.0
	line, word := Widest("rail 15 11/16+ ×\n7", size, Regular)
	if want := Width("rail 15 11/16+ ×", size, Regular); line != want {
		t.Errorf("line %g, want %g", line, want)
	}
	if want := Width("15 11/16+", size, Regular); word != want {
		t.Errorf("word %g, want %g", word, want)
	}
	if got := Wrap("rail 15 11/16+ ×\n7", size, word, Regular); len(got) != 4 || got[1] != "15 11/16+" {
		t.Errorf("wrapped to the widest word: %q", got)
	}
	if line, word = Widest("", size, Regular); line != 0 || word != 0 {
		t.Errorf("nothing is %g and %g wide", line, word)
	}
}
