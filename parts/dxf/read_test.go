package dxf

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"panelyard/parts/drawing"
	"panelyard/parts/partstest"
)

const goodDir = "testdata/good"

// found is what testdata/make.py found in a file.
type found struct {
	File   string
	Names  []string
	Panels []foundPanel
}

type foundPanel struct {
	Area, Perimeter float64 // mm2 and mm, of the panel and its openings
	Box             [4]float64
	Openings        int
}

// The files that ezdxf 0.18.1 wrote, and what ezdxf and shapely 1.8.5 found in
// them, kept in testdata.
func TestKeptFiles(t *testing.T) { compare(t, goodDir) }

// The same, made anew where the two libraries are installed.
func TestFilesOfEzdxf(t *testing.T) {
	const python = "/usr/bin/python3" // Debian's, which sees its modules
	if out, err := exec.Command(python, "-c", "import ezdxf, shapely").CombinedOutput(); err != nil {
		partstest.Need(t, "python3-ezdxf or python3-shapely", fmt.Errorf("%w: %s", err, out))
	}
	dir := t.TempDir()
	if out, err := exec.Command(python, "testdata/make.py", dir).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	compare(t, dir)
}

// compare reads the files of a folder and compares areas, circumferences, boxes
// and names with what was found there.
func compare(t *testing.T, dir string) {
	src, err := os.ReadFile(filepath.Join(dir, "expected.json"))
	if err != nil {
		t.Fatal(err)
	}
	var all []found
	if err := json.Unmarshal(src, &all); err != nil || len(all) < 13 {
		t.Fatalf("%d files, %v", len(all), err)
	}
	for _, want := range all {
		t.Run(want.File, func(t *testing.T) {
			d, list := ReadFile(filepath.Join(dir, want.File), Options{})
			if err := list.Err(); err != nil {
				t.Fatal(err)
			}
			panels, list := drawing.Panels(d, drawing.Options{KeepSegments: true})
			if err := list.Err(); err != nil {
				t.Fatal(err)
			}
			// With arcs for segments the area is still that, within the tolerances.
			round, list := drawing.Panels(d, drawing.Options{})
			if err := list.Err(); err != nil {
				t.Fatal(err)
			}
			area, around := 0.0, 0.0
			for _, p := range round {
				area += measure(p).Area
			}
			for _, p := range want.Panels {
				area, around = area-p.Area, around+p.Perimeter
			}
			within := (drawing.DefaultArcs + DefaultTolerance).MM()
			if math.Abs(area) > around*within {
				t.Errorf("with arcs the area is off by %.2f mm2", area)
			}
			var got []foundPanel
			var names []string
			for _, p := range panels {
				got = append(got, measure(p))
				for _, l := range append([]drawing.Loop{p.Loop}, p.Openings...) {
					if l.Named && l.Name != "display" {
						names = append(names, l.Name)
					}
				}
			}
			slices.Sort(names)
			if !slices.Equal(names, want.Names) {
				t.Errorf("names %q, want %q", names, want.Names)
			}
			// Boxes agree within hundredths, so order by what is further apart.
			order := func(a, b foundPanel) int {
				for i := range a.Box {
					if c := cmp.Compare(math.Round(a.Box[i]), math.Round(b.Box[i])); c != 0 {
						return c
					}
				}
				return 0
			}
			slices.SortFunc(got, order)
			slices.SortFunc(want.Panels, order)
			if len(got) != len(want.Panels) {
				t.Fatalf("%d panels %+v, want %d", len(got), got, len(want.Panels))
			}
			for i, g := range got {
				w := want.Panels[i]
				// What is flattened here leaves curves by up to 0.01 mm, so the area
				// by the circumference times that at most.
				if g.Openings != w.Openings || math.Abs(g.Area-w.Area) > w.Perimeter*0.01+0.01 || math.Abs(g.Perimeter-w.Perimeter) > 1e-3*w.Perimeter {
					t.Errorf("panel %+v, want %+v", g, w)
				}
				for k := range g.Box {
					if math.Abs(g.Box[k]-w.Box[k]) > 0.02 {
						t.Errorf("panel %d: box %v, want %v", i, g.Box, w.Box)
						break
					}
				}
			}
		})
	}
}

// measure returns what is compared of a panel.
func measure(p drawing.Panel) foundPanel {
	b := p.Outline.Box()
	f := foundPanel{
		Area: p.Outline.AreaMM2(), Perimeter: p.Outline.Perimeter().MM(), Openings: len(p.Openings),
		Box: [4]float64{b.Min.X.MM(), b.Min.Y.MM(), b.Max.X.MM(), b.Max.Y.MM()},
	}
	for _, o := range p.Openings {
		f.Area -= o.Outline.AreaMM2()
		f.Perimeter += o.Outline.Perimeter().MM()
	}
	return f
}
