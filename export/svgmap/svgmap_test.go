package svgmap

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/tdewolff/canvas"
	"github.com/tdewolff/font"
	"pgregory.net/rapid"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
	"panelyard/parts/partstest"
)

// element is a drawn element, read back.
type element struct {
	XMLName xml.Name
	D       string `xml:"d,attr"`
	Class   string `xml:"class,attr"`
	Style   string `xml:"style,attr"`
}

// read returns the elements and the texts of a document, which must be
// well-formed.
func read(t rapid.TB, doc []byte) (elements []element, texts []string) {
	t.Helper()
	dec := xml.NewDecoder(bytes.NewReader(doc))
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			return elements, texts
		}
		if err != nil {
			t.Fatal(err)
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			e := element{XMLName: tok.Name}
			for _, a := range tok.Attr {
				switch a.Name.Local {
				case "d":
					e.D = a.Value
				case "class":
					e.Class = a.Value
				case "style":
					e.Style = a.Value
				}
			}
			elements = append(elements, e)
		case xml.CharData:
			texts = append(texts, string(tok))
		}
	}
}

// pathArea returns the area that path data encloses, the first loop less the
// others, as a library reads it that we did not write.
func pathArea(t rapid.TB, data string) float64 {
	t.Helper()
	q, err := canvas.ParseSVGPath(data)
	if err != nil {
		t.Fatal(err)
	}
	area := 0.0
	for n, loop := range q.Flatten(1e-6).Split() {
		sum := 0.0
		c := loop.Coords()
		for i, a := range c {
			b := c[(i+1)%len(c)]
			sum += a.X*b.Y - a.Y*b.X
		}
		if n > 0 {
			sum = -math.Abs(sum)
		}
		area += sum / 2
	}
	return area
}

// The path data of the panels, in mm of the sheet, has the areas of the panels to
// a tenth of a square millimetre: arcs are arcs, openings are holes.
func TestPathsAreThePanels(t *testing.T) {
	for _, name := range []string{"saw", "router"} {
		d := dossiers(t)[name]
		for i := range d.Sheets {
			elements, _ := read(t, drawMap(t, d, i))
			var paths []string
			for _, e := range elements {
				if e.Class == "panel" {
					paths = append(paths, e.D)
				}
			}
			if len(paths) != len(d.Sheets[i].Placements) {
				t.Fatalf("%s: %d paths, %d panels", name, len(paths), len(d.Sheets[i].Placements))
			}
			for k, s := range paths {
				row := d.Sheets[i].Placements[k].Row
				if got := pathArea(t, s); math.Abs(got-row.AreaMM2) > 0.1 {
					t.Errorf("%s %s, %s: %.3f mm2 drawn, %.3f in the list", name, d.Sheets[i].ID, row.Name, got, row.AreaMM2)
				}
			}
		}
	}
}

// A path of one arc and its chord has the area of the segment of a circle, from
// flat arcs to nearly full circles, whichever way it runs.
func TestArcs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string) length.Length {
			return length.Length(rapid.IntRange(-1000000, 1000000).Draw(t, name))
		}
		o := outline.Outline{{At: geom.Pt(at("x1"), at("y1"))}, {At: geom.Pt(at("x2"), at("y2"))}}
		o[0].Bulge = rapid.Float64Range(-4, 4).Draw(t, "bulge")
		chord := math.Hypot(o[0].At.X.MM()-o[1].At.X.MM(), o[0].At.Y.MM()-o[1].At.Y.MM())
		if math.Abs(o[0].Bulge) < 0.001 || chord < 1 {
			return
		}
		theta := 4 * math.Atan(o[0].Bulge)
		r := chord / 2 / math.Sin(theta/2)
		want := r * r * (theta - math.Sin(theta)) / 2
		var b strings.Builder
		path(&b, o)
		if got := pathArea(t, b.String()); math.Abs(got-want) > 0.1+1e-6*math.Abs(want) {
			t.Fatalf("bulge %v over %v mm: %v mm2 drawn, want %v", o[0].Bulge, chord, got, want)
		}
	})
}

// Every map is well-formed, says what it must, and comes out the same again.
func TestContent(t *testing.T) {
	for name, d := range dossiers(t) {
		for i := range d.Sheets {
			b := drawMap(t, d, i)
			_, texts := read(t, b)
			all := strings.Join(texts, "\n")
			m := &d.Sheets[i]
			wants := []string{
				"scale 1:", "seen from the good face", "sheet " + m.ID + " of ", plain(m.Stock.Name), plain(m.Material.Name), "seed 1",
				"all sizes as cut, in " + d.Lengths().Word(),
			}
			if d.Demand.Cut == kerf.Saw {
				wants = append(wants, "kerf of "+d.Lengths().Text(d.Demand.Kerf))
			} else {
				wants = append(wants, "bit of "+d.Lengths().Text(d.Demand.Kerf))
			}
			for _, q := range d.Cautions {
				for _, id := range q.Sheets {
					if id == m.ID {
						wants = append(wants, q.Topic)
					}
				}
			}
			for _, o := range m.Offcuts {
				if o.Keep {
					wants = append(wants, "keep "+d.Lengths().Size(o.Box.Size()))
				}
			}
			for _, want := range wants {
				if !strings.Contains(all, want) {
					t.Errorf("%s %s does not say %q", name, m.ID, want)
				}
			}
			if !bytes.Equal(b, drawMap(t, d, i)) {
				t.Errorf("%s %s: drawn twice, different bytes", name, m.ID)
			}
		}
	}
}

// Any sheet with any names is a well-formed document in which names are text.
func TestAnySheet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anySheet(t)
		elements, _ := read(t, drawMap(t, d, 0))
		panels := 0
		for _, e := range elements {
			if e.Class == "panel" {
				panels++
			}
			if e.XMLName.Local == "script" {
				t.Error("a name became markup")
			}
			if strings.Contains(e.D+e.Style, "NaN") || strings.Contains(e.D+e.Style, "Inf") {
				t.Errorf("no number in %q", e.D+e.Style)
			}
		}
		if want := len(d.Sheets[0].Placements); panels != want {
			t.Errorf("%d panels drawn, want %d", panels, want)
		}
	})
}

// rsvg-convert draws every map; the picture is not blank, and the board of every
// panel has its grey where the map says it lies.
func TestRendered(t *testing.T) {
	convert := partstest.Tool(t, "rsvg-convert")
	for name, d := range dossiers(t) {
		for i := range d.Sheets {
			if name == "nasty" && i > 0 || name == "stands" {
				continue // one is enough: its scripts cost fonts; the other has a test of its own
			}
			file := filepath.Join(t.TempDir(), "map.svg")
			if err := os.WriteFile(file, drawMap(t, d, i), 0o644); err != nil {
				t.Fatal(err)
			}
			const wide = 594 // 2 dots a mm
			out, err := exec.Command(convert, "-w", "594", file).Output()
			if err != nil {
				t.Fatalf("%s %s: %v", name, d.Sheets[i].ID, err)
			}
			img, err := png.Decode(bytes.NewReader(out))
			if err != nil {
				t.Fatal(err)
			}
			b := img.Bounds()
			if b.Dx() != wide || b.Dy() != wide*210/297 {
				t.Errorf("the picture is %v", b)
			}
			grey := func(x, y float64) uint32 {
				r, _, _, _ := img.At(int(x*wide/A4.W), int(y*wide/A4.W)).RGBA()
				return r >> 8
			}
			dark := 0
			for y := b.Min.Y; y < b.Max.Y; y++ {
				for x := b.Min.X; x < b.Max.X; x++ {
					if r, _, _, _ := img.At(x, y).RGBA(); r < 0x6000 {
						dark++
					}
				}
			}
			if share := float64(dark) / float64(b.Dx()*b.Dy()); share < 0.002 || share > 0.3 {
				t.Errorf("%s %s: %.1f %% of the picture is ink", name, d.Sheets[i].ID, 100*share)
			}
			p := layout(d, i, Look{})
			seen := 0
			for k, l := range p.labels {
				pl := &p.m.Placements[k]
				if l.leader != nil || l.size < 2.6 || !p.box(pl.Shape.Box()).grown(-1).contains(l.box) {
					continue
				}
				// A corner of the label's box lies on the board and off the letters.
				if got := grey(l.box.x, l.box.y); got < 0xe0 || got > 0xf4 {
					t.Errorf("%s %s: grey %#x on panel %s, want the board's", name, p.m.ID, got, pl.Row.Name)
				}
				seen++
				for _, o := range pl.Openings {
					if m := p.box(o.Box()).middle(); grey(m.x, m.y) != 0xff {
						t.Errorf("%s %s: an opening of %s is not open", name, p.m.ID, pl.Row.Name)
					}
				}
			}
			if seen == 0 {
				t.Errorf("%s %s: no panel was looked at", name, p.m.ID)
			}
		}
	}
}

func TestWriterFails(t *testing.T) {
	d := dossiers(t)["saw"]
	size := len(drawMap(t, d, 0))
	for n := 0; n < size; n += 97 {
		if err := Write(&exporttest.Failing{Left: n}, d, 0, Look{}); !errors.Is(err, exporttest.ErrFull) {
			t.Fatalf("a disk full after %d of %d bytes gave %v", n, size, err)
		}
	}
	if err := Write(&exporttest.Failing{Left: size}, d, 0, Look{}); err != nil {
		t.Errorf("a disk of the right size gave %v", err)
	}
}

// A sheet without panels, and one that a single panel fills, are drawn too.
func TestFewPanels(t *testing.T) {
	d := dossiers(t)["whole"]
	if n := len(d.Sheets[0].Placements); n != 1 {
		t.Fatalf("%d panels on the sheet, want 1", n)
	}
	empty := export.SheetMap{ID: "S1", Stock: d.Sheets[0].Stock, Material: d.Sheets[0].Material, Usable: d.Sheets[0].Usable}
	e := &export.Dossier{Job: d.Job, Demand: d.Demand, Sheets: []export.SheetMap{empty}}
	read(t, drawMap(t, e, 0))
	apart(t, layout(e, 0, Look{}))
}

func TestShorten(t *testing.T) {
	if got := shorten("a very long name indeed", 2, 20); textWidth(got, 2) > 20 || !strings.HasSuffix(got, "…") {
		t.Errorf("%q is %.1f wide", got, textWidth(got, 2))
	}
	if got := shorten("short", 2, 20); got != "short" {
		t.Errorf("%q", got)
	}
}

// No character of Latin, Greek or Cyrillic script, no Hebrew letter, no letter of
// Arabic, no figure or sign of ours is wider in DejaVu Sans than the table says;
// most other faces are narrower.
func TestTextWidth(t *testing.T) {
	const dir = "/usr/share/fonts/truetype/dejavu/"
	for _, f := range []struct {
		file    string
		measure func(string, float64) float64
	}{
		{"DejaVuSans.ttf", textWidth},
		{"DejaVuSans-Oblique.ttf", textWidth},
		{"DejaVuSans-Bold.ttf", boldWidth},
	} {
		b, err := os.ReadFile(dir + f.file)
		partstest.Need(t, "the DejaVu fonts", err)
		face, err := font.ParseSFNT(b, 0)
		if err != nil {
			t.Fatal(err)
		}
		seen := 0
		for r := rune(' '); r < 0x3000; r++ {
			letters := r < 0x530 || r >= 0x590 && r < 0x700 || r >= 0x2010 && r < 0x2027
			g := face.GlyphIndex(r)
			if !letters || g == 0 || r >= 0x7f && r < 0xa0 || plain(string(r)) != string(r) || r >= 0x1c4 && r <= 0x1f3 || r >= 0x460 && r < 0x48a {
				continue // digraphs and old Cyrillic are wider than all else
			}
			seen++
			if got := float64(face.GlyphAdvance(g)) / float64(face.Head.UnitsPerEm); got > f.measure(string(r), 1)+1e-9 {
				t.Errorf("%s: %q is %.3f wide, the table says %.3f", f.file, r, got, f.measure(string(r), 1))
			}
		}
		if seen < 600 {
			t.Errorf("%s: only %d characters were measured", f.file, seen)
		}
	}
}

// A name written to the left ends with a mark that turns the line back; signs
// that would turn it are shown, not obeyed.
func TestPlain(t *testing.T) {
	for in, want := range map[string]string{
		"shelf":               "shelf",
		"a\u202Eb":            "a�b",
		"a\tb":                "a�b",
		"لوح":                 "لوح\u200e",
		"\u200eמדף\u200f 2":   "מדף� 2\u200e",
		"\xff":                "�",
		"x\u2066y\u2028z\x00": "x�y�z�",
	} {
		if got := plain(in); got != want {
			t.Errorf("plain(%q) = %q, want %q", in, got, want)
		}
	}
}

// A kerf is finer than sixteenths of an inch: it stays a decimal, above the map and in
// its key.
func TestKerfExact(t *testing.T) {
	j := exporttest.Job()
	j.Figures = parts.Figures{Unit: length.IN, Fraction: 16}
	s := string(drawMap(t, exporttest.Dossier(t, j, kerf.Saw), 0))
	for _, want := range []string{"table saw, kerf 0.126 in", "as wide as the kerf of 0.126 in"} {
		if !strings.Contains(s, want) {
			t.Errorf("no %q", want)
		}
	}
	s = string(drawMap(t, exporttest.Dossier(t, j, kerf.Router), 0))
	if want := "router, bit 0.236 in, panels 0.256 apart"; !strings.Contains(s, want) {
		t.Errorf("no %q", want)
	}
}
