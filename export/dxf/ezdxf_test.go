package dxf

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
	"panelyard/parts/partstest"
)

// found is what testdata/read.py found in a file.
type found struct {
	Faults   []string
	Version  string
	Units    int
	Metric   int
	Extent   [2][2]float64
	Layers   map[string]int
	Entities []foundEntity
}

type foundEntity struct {
	Kind, Layer, Text, Style   string
	Closed                     bool
	Points                     [][3]float64 // x, y, bulge
	Area, Radius, Height, Turn float64
}

// on returns the entities on a layer, in order.
func (f *found) on(l Layer) []foundEntity {
	var list []foundEntity
	for _, e := range f.Entities {
		if e.Layer == l.String() {
			list = append(list, e)
		}
	}
	return list
}

// document returns the bytes of a drawing.
func document(t testing.TB, d Drawing, f Flavour) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, d, f); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

const python = "/usr/bin/python3" // Debian's, which sees its modules

// imports returns nil where ezdxf and shapely are installed.
var imports = sync.OnceValue(func() error {
	if out, err := exec.Command(python, "-c", "import ezdxf, shapely").CombinedOutput(); err != nil {
		return fmt.Errorf("%w: %s", err, out)
	}
	return nil
})

// filesOf writes drawings into files and returns their paths.
func filesOf(t *testing.T, f Flavour, drawings ...Drawing) []string {
	t.Helper()
	dir := t.TempDir()
	var paths []string
	for i, d := range drawings {
		path := filepath.Join(dir, fmt.Sprintf("%d.dxf", i))
		if err := os.WriteFile(path, document(t, d, f), 0o644); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, path)
	}
	return paths
}

// scripted returns what a script prints.
func scripted(t *testing.T, args ...string) []byte {
	t.Helper()
	var stderr bytes.Buffer
	cmd := exec.Command(python, args...)
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, &stderr)
	}
	return out
}

// readAll writes drawings and has ezdxf, a library that we did not write, read them:
// it must find nothing to repair. The unit of all figures is that of the drawing.
func readAll(t *testing.T, f Flavour, drawings ...Drawing) []found {
	t.Helper()
	partstest.Need(t, "python3-ezdxf and python3-shapely", imports())
	out := scripted(t, append([]string{"testdata/read.py"}, filesOf(t, f, drawings...)...)...)
	var list []found
	if err := json.Unmarshal(out, &list); err != nil || len(list) != len(drawings) {
		t.Fatalf("%d files of %d, %v", len(list), len(drawings), err)
	}
	for i := range list {
		if n := len(list[i].Faults); n > 0 {
			t.Errorf("%v, drawing %d: ezdxf finds %q", f, i, list[i].Faults)
		}
		if want := map[Flavour]string{R12: "AC1009", R2000: "AC1015"}[f]; list[i].Version != want {
			t.Errorf("%v: version %s, want %s", f, list[i].Version, want)
		}
	}
	return list
}

// Sheets and panels, as ezdxf 0.18 reads them: unit, layers, outlines corner by
// corner, areas with their arcs, labels.
func TestEzdxf(t *testing.T) {
	partstest.Need(t, "python3-ezdxf and python3-shapely", imports())
	turns := map[int]int{}
	for name, d := range dossiers(t) {
		unit, code := length.MM, 4
		if d.Job.Units == length.IN {
			unit, code = length.IN, 1
		}
		for f := range flavours {
			t.Run(fmt.Sprintf("%s, %v", name, f), func(t *testing.T) {
				var drawings []Drawing
				for i := range d.Sheets {
					drawings = append(drawings, Sheet(d, i))
				}
				for i := range d.Panels {
					drawings = append(drawings, Panel(d, i))
				}
				list := readAll(t, f, drawings...)
				for i := range list {
					if list[i].Units != code || list[i].Metric != code/4 {
						t.Errorf("$INSUNITS %d, $MEASUREMENT %d, want %d", list[i].Units, list[i].Metric, code)
					}
					for l := range layers {
						if c, ok := list[i].Layers[l.String()]; !ok || c != layerTable[l].colour {
							t.Errorf("layer %v has colour %d", l, c)
						}
					}
				}
				for i := range d.Sheets {
					sameSheet(t, &d.Sheets[i], &list[i], unit, legends[d.Demand.Cut])
					for _, pl := range d.Sheets[i].Placements {
						turns[pl.Turn]++
					}
				}
				for i := range d.Panels {
					r, got := &d.Panels[i], &list[len(d.Sheets)+i]
					same(t, got.on(Outline), []outline.Outline{r.Item.CutOutline}, unit)
					same(t, append(got.on(Opening), got.on(Drill)...), r.Item.CutOpenings, unit)
					label := got.on(Label)
					if len(label) != 2+legends[d.Demand.Cut] || label[0].Text != r.Name {
						t.Errorf("labels %+v, want %q first", label, r.Name)
					}
				}
			})
		}
	}
	odd := 0
	for turn, n := range turns {
		if turn%90 != 0 {
			odd += n
		}
	}
	if len(turns) < 3 || odd == 0 {
		t.Errorf("panels turned by %v are no fair test", turns)
	}
}

// legends is how many lines say what the lines of a drawing are.
var legends = map[kerf.Cut]int{kerf.Router: 2}

// sameSheet compares a sheet with what was read.
func sameSheet(t *testing.T, m *export.SheetMap, got *found, unit length.Unit, legend int) {
	t.Helper()
	var outlines, openings []outline.Outline
	var titles []string
	for i := range m.Placements {
		pl := &m.Placements[i]
		outlines = append(outlines, pl.Outline)
		openings = append(openings, pl.Openings...)
		s := pl.Row.Name
		if pl.Row.Copies > 1 {
			s = fmt.Sprintf("%s, copy %d of %d", s, pl.Copy, pl.Row.Copies)
		}
		if pl.Flip {
			s += ", face down"
		}
		titles = append(titles, s)
	}
	same(t, got.on(Outline), outlines, unit)
	same(t, got.on(Opening), openings, unit)
	same(t, got.on(Board), []outline.Outline{outline.Rectangle(m.Stock.Length, m.Stock.Width)}, unit)
	u := m.Usable
	same(t, got.on(Trim), []outline.Outline{outline.Rectangle(u.Dx(), u.Dy()).Translate(u.Min)}, unit)
	var kept []outline.Outline
	for _, o := range m.Offcuts {
		if o.Keep {
			kept = append(kept, outline.Rectangle(o.Box.Dx(), o.Box.Dy()).Translate(o.Box.Min))
		}
	}
	same(t, got.on(Offcut), kept, unit)
	labels := got.on(Label)
	if len(labels) != len(titles)+1+legend {
		t.Fatalf("%d labels for %d panels", len(labels), len(titles))
	}
	for i, want := range titles {
		if labels[i].Text != want {
			t.Errorf("label %q, want %q", labels[i].Text, want)
		}
	}
}

// same compares outlines with what was read: corners and bulges to a tenth of our
// unit, areas to 0.01 mm2.
func same(t *testing.T, got []foundEntity, want []outline.Outline, unit length.Unit) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%d outlines, want %d", len(got), len(want))
	}
	size := float64(unit.Size)
	inMM := unit.Size.MM()
	for i, o := range want {
		e := got[i]
		if area := e.Area * inMM * inMM; math.Abs(area-o.Area2()/2/float64(mm)/float64(mm)) > 0.01 {
			t.Errorf("area %.4f mm2, want %.4f, of %v", area, o.AreaMM2(), o)
		}
		if e.Kind == "CIRCLE" {
			b := o.Box()
			for _, p := range [][3]float64{
				{e.Points[0][0] * size * 2, float64(b.Min.X + b.Max.X), 4},
				{e.Points[0][1] * size * 2, float64(b.Min.Y + b.Max.Y), 4},
				{e.Radius * size * 2, float64(b.Dx()), 4},
			} {
				if math.Abs(p[0]-p[1]) > p[2] {
					t.Errorf("circle %+v, want that of the box %v", e, b)
				}
			}
			continue
		}
		if !e.Closed || len(e.Points) != len(o) {
			t.Errorf("%+v is not %v", e, o)
			continue
		}
		for k, v := range o {
			p := e.Points[k]
			if math.Abs(p[0]*size-float64(v.At.X)) > 0.1 || math.Abs(p[1]*size-float64(v.At.Y)) > 0.1 || p[2] != v.Bulge {
				t.Errorf("corner %d: %v, want %v", k, p, v)
			}
		}
	}
}

// Panels of three metres with flat, steep and major arcs: areas agree to 0.01 mm2
// in millimetres and in inches.
func TestLargeAreas(t *testing.T) {
	large := outline.Outline{
		{At: geom.Pt(1, 3)},
		{At: geom.Pt(3000*mm+5, 7), Bulge: 1e-7},
		{At: geom.Pt(3000*mm+1, 2900*mm+1), Bulge: -0.0123456789},
		{At: geom.Pt(1700*mm+7, 2600*mm+3), Bulge: 0.7},
		{At: geom.Pt(900*mm+1, 2600*mm), Bulge: 1.9},
		{At: geom.Pt(0, 2500*mm-1)},
	}
	all := []outline.Outline{large, outline.Circle(3000*mm + 1), large.Flipped(), large.Turned(90)}
	for f := range flavours {
		for _, unit := range []length.Unit{length.MM, length.IN} {
			d := Drawing{Units: unit}
			for _, o := range all {
				d.Add(Outline, Loop(o))
			}
			list := readAll(t, f, d)
			same(t, list[0].on(Outline), all, unit)
			if k := list[0].Entities[1].Kind; k != "CIRCLE" {
				t.Errorf("a circle is read as %s", k)
			}
		}
	}
}

// Every kind of entity on every layer, read back by its numbers.
func TestEveryEntity(t *testing.T) {
	path := []outline.Vertex{{At: geom.Pt(0, 0)}, {At: geom.Pt(100*mm, 0), Bulge: 0.5}, {At: geom.Pt(100*mm, 50*mm), Bulge: 9}}
	for f := range flavours {
		d := Drawing{Units: length.MM}
		for l := range layers {
			d.Add(l,
				Polyline{Path: path},
				Circle{geom.Pt(-10*mm, 0), geom.Pt(-10*mm, 5*mm+1)},
				Line{geom.Pt(1, 2), geom.Pt(-3*mm, 4*mm)},
				Point{geom.Pt(7*mm, -8*mm)},
				Text{At: geom.Pt(10*mm, 20*mm), Height: 5 * mm, Turn: 90, Content: "relief"},
			)
		}
		got := readAll(t, f, d)[0]
		if len(got.Entities) != 5*int(layers) {
			t.Fatalf("%v: %d entities", f, len(got.Entities))
		}
		// The arc of bulge 0.5 over the chord of 50 mm rises by 12.5 mm; the circle
		// reaches to -10 - (5.000125/2).
		if want := [2][2]float64{{-12.5000625, -8}, {112.5, 50}}; math.Abs(got.Extent[0][0]-want[0][0]) > 1e-9 ||
			got.Extent[0][1] != want[0][1] || got.Extent[1] != want[1] {
			t.Errorf("%v: extent %v, want %v", f, got.Extent, want)
		}
		for l := range layers {
			e := got.on(l)
			if len(e) != 5 {
				t.Fatalf("%v: %d entities on %v", f, len(e), l)
			}
			switch {
			case e[0].Closed || len(e[0].Points) != 3 || e[0].Points[1] != [3]float64{100, 0, 0.5} || e[0].Points[2] != [3]float64{100, 50, 0}:
				t.Errorf("%v: open polyline %+v", f, e[0])
			case e[1].Kind != "CIRCLE" || e[1].Points[0] != [3]float64{-10, 2.5000625} || e[1].Radius != 2.5000625:
				t.Errorf("%v: circle %+v", f, e[1])
			case e[2].Kind != "LINE" || e[2].Points[0] != [3]float64{0.000125, 0.00025} || e[2].Points[1] != [3]float64{-3, 4}:
				t.Errorf("%v: line %+v", f, e[2])
			case e[3].Kind != "POINT" || e[3].Points[0] != [3]float64{7, -8}:
				t.Errorf("%v: point %+v", f, e[3])
			case e[4].Kind != "TEXT" || e[4].Points[0] != [3]float64{10, 20} || e[4].Height != 5 || e[4].Turn != 90 || e[4].Text != "relief" || e[4].Style != styleName:
				t.Errorf("%v: text %+v", f, e[4])
			}
		}
	}
}

// Names of all sorts come back as they are; line breaks come back as what the format
// has for them, which ezdxf leaves out of a text of one line. %%% for a percent sign
// is not known to ezdxf 0.18.
func TestNames(t *testing.T) {
	names := append([]string{" blank at both ends ", "^J is no line break", `\U+0041`, `\u+0041\M+1B0A1`, "50 %", "", "\x7f\u0085", "\ufeffa", "ä\u0308ß𝔘"}, exporttest.Nasty...)
	for f := range flavours {
		d := Drawing{Units: length.MM}
		for _, s := range names {
			d.Add(Label, Text{Height: mm, Content: s})
		}
		d.Add(Label, Text{Height: mm, Content: "two\r\nlines"})
		got := readAll(t, f, d)[0].Entities
		if len(got) != len(names)+1 {
			t.Fatalf("%v: %d texts, want %d", f, len(got), len(names)+1)
		}
		for i, want := range names {
			if got[i].Text != want {
				t.Errorf("%v: %q, want %q", f, got[i].Text, want)
			}
		}
		if last := got[len(names)].Text; last != "twolines" {
			t.Errorf("%v: %q", f, last)
		}
	}
}

// An empty drawing is a whole file.
func TestEmpty(t *testing.T) {
	for f := range flavours {
		if got := readAll(t, f, Drawing{Units: length.IN})[0]; len(got.Entities) > 0 {
			t.Errorf("%v: %+v", f, got.Entities)
		}
	}
}
