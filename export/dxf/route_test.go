package dxf

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/arc"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
	"panelyard/parts/partstest"
)

// jig is a job for a bit of 6 mm with all that a router does: holes narrower than the
// bit, just as wide and wider, corners relieved in both ways, kerfs of a bend, a panel
// held by tabs, one by a skin, and one that has no place.
func jig() *parts.Job {
	j := exporttest.Job()
	at := func(o outline.Outline, x, y length.Length) outline.Outline { return o.Translate(geom.Pt(x*mm, y*mm)) }
	add := func(p parts.Panel) {
		p.Quantity, p.Material, p.Edging = 1, "birch 18", make([]string, len(p.Outline))
		j.Panels = append(j.Panels, p)
	}
	add(parts.Panel{
		Name: "jig", Outline: outline.Rectangle(500*mm, 400*mm),
		Openings: []parts.Opening{
			{Name: "screw", Outline: at(outline.Circle(4*mm), 20, 20)},
			{Name: "pin", Outline: at(outline.Circle(6*mm), 40, 20)},
			{Name: "cable", Outline: at(outline.Circle(8*mm), 60, 20)},
			{Name: "window", Outline: at(outline.Rectangle(120*mm, 80*mm), 60, 80), Relief: parts.DogBone},
			{Name: "slot", Outline: at(outline.Rectangle(80*mm, 18*mm), 260, 80), Relief: parts.TBone},
			{Name: "meter", Outline: at(outline.Rectangle(90*mm, 90*mm), 260, 200)},
		},
	})
	notch := outline.Outline{ // its inside corners are those of a half-lap
		{At: geom.Pt(0, 0)},
		{At: geom.Pt(400*mm, 0)},
		{At: geom.Pt(400*mm, 300*mm)},
		{At: geom.Pt(220*mm, 300*mm)},
		{At: geom.Pt(220*mm, 150*mm)},
		{At: geom.Pt(180*mm, 150*mm)},
		{At: geom.Pt(180*mm, 300*mm)},
		{At: geom.Pt(0, 300*mm)},
	}
	add(parts.Panel{Name: "half-lap", Outline: notch, Relief: parts.DogBone})
	skirt := &parts.Bend{
		Outer: arc.Arc{Radius: 300 * mm, Angle: 90 * arc.Degree}, Thickness: j.Materials[0].Measured, Web: 2 * mm,
		From: 50 * mm, To: 50 * mm, Along: parts.AlongLength,
	}
	skirt.Flat, _ = skirt.Kerfed(0).Flat()
	add(parts.Panel{Name: "skirt", Outline: outline.Rectangle(100*mm+skirt.Flat, 90*mm), Bend: skirt})
	j.Stock[0].Available = 1
	for i := range 4 {
		add(parts.Panel{Name: fmt.Sprintf("table %d", i), Outline: outline.Rectangle(2000*mm, 900*mm)})
	}
	return j
}

// measured is what testdata/paths.py found in a file, in mm.
type measured struct {
	Paths, Reliefs, Leads                int
	Tabs                                 []float64
	Off, Corner, Radius, Tab, Lead, Bite float64
}

// The middle of the bit lies half the bit from the edges, within 0.01 mm, all the way,
// as ezdxf and shapely measure it; reliefs go through their corners; tabs lie on
// paths; leads end where paths start, and bite into nothing. Both flavours, and both
// units.
func TestPaths(t *testing.T) {
	partstest.Need(t, "python3-ezdxf and python3-shapely", imports())
	d := exporttest.Dossier(t, jig(), kerf.Router)
	reliefs, tabs, leads, unplaced := 0, 0, 0, 0
	for _, c := range []struct {
		name    string
		d       *export.Dossier
		flavour Flavour
	}{{"R12", d, R12}, {"R2000", d, R2000}, {"inches", inInches(d), R12}, {"turned", dossiers(t)["router"], R2000}} {
		t.Run(c.name, func(t *testing.T) {
			d := c.d
			var drawings []Drawing
			var want []int
			for i := range d.Sheets {
				drawings = append(drawings, Sheet(d, i))
				want = append(want, len(d.Sheets[i].Paths))
			}
			for i := range d.Panels {
				drawings = append(drawings, Panel(d, i))
				want = append(want, len(d.Panels[i].Paths))
				if d.Panels[i].Sheets[0] == "" {
					unplaced++
				}
			}
			args := []string{"testdata/paths.py", fmt.Sprint(d.Job.Router.Bit.MM())}
			out := scripted(t, append(args, filesOf(t, c.flavour, drawings...)...)...)
			var list []measured
			if err := json.Unmarshal(out, &list); err != nil || len(list) != len(drawings) {
				t.Fatal(err, len(list))
			}
			for i, m := range list {
				if m.Paths != want[i] || m.Paths == 0 {
					t.Errorf("drawing %d: %d paths, want %d", i, m.Paths, want[i])
				}
				for what, v := range map[string]float64{"path off": m.Off, "relief off its corner": m.Corner, "relief too wide": m.Radius, "tab off": m.Tab, "lead off": m.Lead, "lead bites": m.Bite} {
					if v > 0.01 {
						t.Errorf("drawing %d: %s by %.4f mm", i, what, v)
					}
				}
				for _, l := range m.Tabs {
					if want := (parts.DefaultTabLength + d.Job.Router.Bit).MM(); math.Abs(l-want) > 0.001 {
						t.Errorf("drawing %d: a tab of %.4f mm, want %.4f", i, l, want)
					}
				}
				reliefs, tabs, leads = reliefs+m.Reliefs, tabs+len(m.Tabs), leads+m.Leads
			}
		})
	}
	if reliefs == 0 || tabs == 0 || leads == 0 || unplaced == 0 {
		t.Errorf("%d reliefs, %d tabs, %d leads, %d panels without a place are no fair test", reliefs, tabs, leads, unplaced)
	}
	t.Log(reliefs, "reliefs,", tabs, "tabs,", leads, "leads,", unplaced, "panels without a place")
}

// What the panel jig has on each layer, counted by hand: four corners of a window, four of a
// slot; two holes that the bit does not go round in; one of them, just as wide, is a
// point of the path.
func TestLayersOfPanel(t *testing.T) {
	d := exporttest.Dossier(t, jig(), kerf.Router)
	for i := range d.Panels {
		if d.Panels[i].Name != "jig" {
			continue
		}
		kinds := map[string]int{}
		for _, e := range Panel(d, i).Entities {
			kinds[e.Layer.String()+" "+strings.TrimPrefix(fmt.Sprintf("%T", e.Shape), "dxf.")]++
		}
		for kind, want := range map[string]int{
			"DRILL Circle": 2, "OPENING Circle": 1, "OPENING Polyline": 3, "OUTLINE Polyline": 1, "RELIEF Circle": 8,
			"PATH Point": 1, "PATH Polyline": 5, "LABEL Text": 4,
		} {
			if kinds[kind] != want {
				t.Errorf("%d of %s, want %d: %v", kinds[kind], kind, want, kinds)
			}
		}
		return
	}
	t.Error("no jig")
}

// A board of 17.7 mm with a web of 2 mm is kerfed 15.7 mm deep, in the back, which the
// drawings do not show: they say so.
func TestKerfs(t *testing.T) {
	d := exporttest.Dossier(t, jig(), kerf.Router)
	i := slices.IndexFunc(d.Panels, func(r export.PanelRow) bool { return r.Name == "skirt" })
	const want = "KERF: in the back, 15.7 mm deep; the drawing is seen from the good face"
	on := slices.IndexFunc(d.Sheets, func(m export.SheetMap) bool {
		return slices.ContainsFunc(m.Placements, func(p export.PlacedPanel) bool { return p.Row.Name == "skirt" })
	})
	if i < 0 || on < 0 {
		t.Fatal("no kerfed panel on a sheet")
	}
	for what, dr := range map[string]Drawing{"panel": Panel(d, i), "sheet": Sheet(d, on)} {
		lines, said := 0, false
		for _, e := range dr.Entities {
			if e.Layer == Kerf {
				lines++
			}
			if text, ok := e.Shape.(Text); ok && text.Content == want {
				said = true
			}
		}
		if n := len(d.Panels[i].Item.KerfLines); lines != n || n == 0 || !said {
			t.Errorf("%s: %d kerfs, want %d; depth said: %v", what, lines, n, said)
		}
	}
}

// A plan that is sawn has no bit: no paths, no drilled holes, and nothing is said of
// them.
func TestSawn(t *testing.T) {
	d := exporttest.Dossier(t, jig(), kerf.Saw)
	for i := range d.Panels {
		for _, e := range Panel(d, i).Entities {
			switch e.Layer {
			case Path, Lead, Tab, Relief, Drill:
				t.Errorf("panel %s has something on %v", d.Panels[i].Name, e.Layer)
			case Label:
				if strings.Contains(e.Shape.(Text).Content, "bit") {
					t.Errorf("panel %s: %v", d.Panels[i].Name, e.Shape)
				}
			}
		}
	}
}
