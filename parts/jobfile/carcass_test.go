package jobfile

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"panelyard/parts"
	"panelyard/parts/length"
)

// The carcass that the trade notes work out by hand (testdata/jobs/good/carcass.yaml
// has its panels as the notes list them): 600 wide, 720 high, 560 deep of 18 mm board,
// back 6 mm in a groove of 9 set 12 from the rear, 1 mm of clearance a side, two rails, one
// shelf, one door.
func TestWorkedCarcass(t *testing.T) {
	want, list := ReadFile(goodDir + "/carcass.yaml")
	if want == nil {
		t.Fatal(list)
	}
	src := `job: Carcass
materials: [{name: birch 18, thickness: 18, density: 685, grain: yes}, {name: hardboard 6, thickness: 6}]
stock:
  - {name: birch, material: birch 18, length: 2440, width: 1220, grain: length}
  - {name: hardboard, material: hardboard 6, length: 2440, width: 1220}
edging: [{name: one, thickness: 1}, {name: two, thickness: 2}]
carcasses:
  - name: c
    material: birch 18
    width: 600
    height: 720
    depth: 560
    top: rails
    back: {material: hardboard 6, joint: groove, depth: 9}
    shelves: {count: 1}
    doors: {count: 1}
`
	job, list := Read("job.yaml", []byte(src))
	if job == nil {
		t.Fatal(list)
	}
	if len(job.Panels) != len(want.Panels) {
		t.Fatalf("%d panels, want %d", len(job.Panels), len(want.Panels))
	}
	area := 0.0
	for i := range want.Panels {
		w := &want.Panels[i]
		p := panelOf(t, job, "c "+w.Name)
		if p.Size() != w.Size() || p.Quantity != w.Quantity || p.Material != w.Material || p.Hand != w.Hand {
			t.Errorf("%s: %d of %v of %s, want %d of %v of %s", p.Name, p.Quantity, p.Size(), p.Material, w.Quantity, w.Size(), w.Material)
		}
		if p.Material == "birch 18" && !strings.Contains(p.Name, "door") {
			area += p.Outline.AreaMM2() * float64(p.Quantity) / 1e6
		}
	}
	if math.Abs(area-1.5183) > 0.00005 {
		t.Errorf("carcass area %.4f m2, the notes say 1.5183", area)
	}
	// A pair of doors, and a bottom housed by 6 mm.
	src = strings.Replace(src, "count: 1}\n    doors: {count: 1}", "count: 1}\n    doors: {count: 2}\n    joint: {joint: housed, depth: 6}", 1)
	if job, list = Read("job.yaml", []byte(src)); job == nil {
		t.Fatal(list)
	}
	if s := panelOf(t, job, "c door").Size(); s.X != 716*length.Millimetre || s.Y != 297*length.Millimetre {
		t.Errorf("doors of a pair are %v, want 716 x 297", s)
	}
	if s := panelOf(t, job, "c bottom").Size(); s.X != 576*length.Millimetre {
		t.Errorf("the housed bottom is %v long, want 576", s.X)
	}
}

// Published checks of the inside width (as the trade notes quote them): 27 in of 5/8
// board 25 3/4 in, 450 mm of 16 mm board 418 mm.
func TestCarcassInside(t *testing.T) {
	for _, c := range []struct{ units, width, thickness, want string }{
		{"in", "27", "5/8", "654.05 mm"}, // 25 3/4 in
		{"mm", "450", "16", "418 mm"},
	} {
		job, list := Read("job.yaml", fmt.Appendf(nil, `job: a
units: %s
materials: [{name: m, thickness: %s}]
stock: [{name: s, material: m, length: 2440 mm, width: 1220 mm}]
carcasses: [{name: c, width: %s, height: 720 mm, depth: 24}]
`, c.units, c.thickness, c.width))
		if job == nil {
			t.Fatal(list)
		}
		if got := panelOf(t, job, "c bottom").Size().X.String(); got != c.want {
			t.Errorf("%s wide of %s: %s inside, want %s", c.width, c.thickness, got, c.want)
		}
	}
}

func panelOf(t *testing.T, j *parts.Job, name string) *parts.Panel {
	t.Helper()
	for i := range j.Panels {
		if j.Panels[i].Name == name {
			return &j.Panels[i]
		}
	}
	t.Fatalf("no panel %q", name)
	return nil
}
