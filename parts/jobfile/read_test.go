package jobfile

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

const mm = length.Millimetre

// read reads a job that is expected to be good.
func read(t *testing.T, src string) *parts.Job {
	t.Helper()
	j, list := Read("job.yaml", []byte(src))
	if j == nil {
		t.Fatal(list)
	}
	return j
}

const head = `job: Test
materials: [{name: ply, thickness: 18, grain: yes, good_faces: 2}]
stock: [{name: s, length: 2440, width: 1220, grain: length}]
edging: [{name: oak, thickness: 2}, {name: ash, thickness: 1}]
panels:
`

// panel returns the only panel of a job with one.
func panel(t *testing.T, src string) *parts.Panel {
	t.Helper()
	j := read(t, head+src)
	if len(j.Panels) != 1 {
		t.Fatalf("%d panels", len(j.Panels))
	}
	return &j.Panels[0]
}

// The cabinet worked in the trade notes: 600 W x 720 H x 560 D, 18 mm board,
// back 6 in a groove. Sizes, hands and banded cut sizes are those of its table.
func TestCarcass(t *testing.T) {
	j, list := ReadFile(filepath.Join(goodDir, "carcass.yaml"))
	if j == nil {
		t.Fatal(list)
	}
	want := map[string][2]length.Length{
		"side-left": {720, 560}, "side-right": {720, 560}, "bottom": {564, 542}, "rail": {564, 100},
		"shelf": {562, 522}, "back": {720, 580}, "door": {716, 596},
	}
	area := 0.0
	for i := range j.Panels {
		p := &j.Panels[i]
		size := want[p.Name]
		if p.Size() != geom.Pt(size[0]*mm, size[1]*mm) {
			t.Errorf("%s is %v x %v, want %d x %d mm", p.Name, p.Size().X, p.Size().Y, size[0], size[1])
		}
		if p.Name != "back" && p.Name != "door" {
			area += p.Outline.AreaMM2() * float64(p.Quantity)
		}
	}
	if len(j.Panels) != len(want) || j.Panels[0].Hand != parts.Left || j.Panels[1].Hand != parts.Right || !j.Panels[1].Mirrored {
		t.Errorf("%d panels; the first two should be a left and a mirrored right", len(j.Panels))
	}
	if math.Abs(area/1e6-1.5183) > 0.0001 {
		t.Errorf("18 mm carcass area %.4f m2, the worked example says 1.5183", area/1e6)
	}
}

// Chord, rise and radius of arcs (geometry, published check values among them:
// R = c²/8h + h/2).
func TestArcTable(t *testing.T) {
	for _, c := range []struct{ chord, rise, radius, arc string }{
		{"48", "12", "30", "55.6377"},
		{"600", "50", "925", "611.0501"},
		{"1200", "100", "1850", "1222.1002"},
		{"2400", "300", "2550", "2498.7824"},
		{"1000", "25", "5012.5", "1001.6658"},
		{"200", "100", "100", "314.1593"},
	} {
		for _, by := range []string{"rise: " + c.rise, "radius: " + c.radius} {
			p := panel(t, `
  - name: bowed
    outline:
      profile:
        - {at: [0, 0]}
        - {at: [`+c.chord+`, 0]}
        - {at: [`+c.chord+`, 10]}
        - {at: [`+c.chord+`, 400], arc: {`+by+`}}
        - {at: [0, 400]}
`)
			r, _ := length.Parse(c.radius, length.MM)
			want, _ := length.Parse(c.arc, length.MM)
			if got := p.Outline.Radius(3); math.Abs(got-float64(r)) > 0.01*float64(mm) {
				t.Errorf("chord %s, %s: radius %.4f mm, want %s", c.chord, by, got/float64(mm), c.radius)
			}
			if got := p.Outline.SegmentLength(3); (got - want).Abs() > mm/1000 {
				t.Errorf("chord %s, %s: arc %v, want %s", c.chord, by, got, c.arc)
			}
			rise, _ := length.Parse(c.rise, length.MM)
			if got := p.Size().Y; (got - 400*mm - rise).Abs() > mm/100 {
				t.Errorf("chord %s, %s: height %v, want 400 mm and %s", c.chord, by, got, c.rise)
			}
		}
	}
}

// The same shape drawn either way round, by profile or path, is the same panel.
func TestWaysToDraw(t *testing.T) {
	want := 600*400 - 2*math.Pi*100*100/2 + 0.0 // two half circles of radius 100 cut in
	for name, src := range map[string]string{
		"counter-clockwise": `{profile: [{at: [0, 0]}, {at: [600, 0]}, {at: [600, 100], arc: {radius: 100, side: in}}, {at: [600, 300]}, {at: [600, 400]}, {at: [0, 400]}, {at: [0, 300], arc: {rise: 100, side: in}}, {at: [0, 100]}]}`,
		"clockwise":         `{profile: [{at: [0, 100], arc: {through: [100, 200]}}, {at: [0, 300]}, {at: [0, 400]}, {at: [600, 400]}, {at: [600, 300], arc: {radius: 100, side: in}}, {at: [600, 100]}, {at: [600, 0]}, {at: [0, 0]}]}`,
		"path":              `{path: "M 0 0 h 600 v 100 A 100 100 0 0 0 600 300 v 100 H 0 v -100 a 100 100 0 0 0 0 -200 z"}`,
		"beside the origin": `{path: "M 7 9 h 600 v 100 a 100 100 0 0 0 0 200 v 100 h -600 v -100 a 100 100 0 0 0 0 -200 z"}`,
	} {
		p := panel(t, "  - {name: a, outline: "+src+"}\n")
		if got := p.Outline.AreaMM2(); math.Abs(got-want) > 0.01 {
			t.Errorf("%s: %.3f mm2, want %.3f", name, got, want)
		}
		if b := p.Outline.Box(); b.Min != (geom.Point{}) || b.Size() != geom.Pt(600*mm, 400*mm) {
			t.Errorf("%s: box %v", name, b)
		}
		if p.Outline.Area2() < 0 {
			t.Errorf("%s: runs clockwise", name)
		}
	}
}

// SVG's y axis points down: a path with a notch at its top has it at the top.
func TestPathUpright(t *testing.T) {
	p := panel(t, `  - {name: a, outline: {path: "M 0 0 H 250 V 50 H 350 V 0 H 600 V 400 H 0 Z"}}`)
	ring := p.Outline.Cover(mm)
	if ring.Locate(geom.Pt(300*mm, 380*mm)) != geom.Outside || ring.Locate(geom.Pt(300*mm, 20*mm)) != geom.Inside {
		t.Error("the notch is not at the top")
	}
}

// Curves that are no circles become lines within the tolerance: an ellipse of
// half axes 300 and 200 has the area 300·200·π.
func TestEllipse(t *testing.T) {
	for _, path := range []string{
		"M 0 200 A 300 200 0 0 1 600 200 A 300 200 0 0 1 0 200 Z",
		// The usual cubic approximation, good to 0.03 % of the radius.
		"M 0 200 C 0 89.543 134.315 0 300 0 C 465.685 0 600 89.543 600 200 C 600 310.457 465.685 400 300 400 C 134.315 400 0 310.457 0 200 Z",
	} {
		p := panel(t, `  - {name: a, outline: {path: "`+path+`"}}`)
		want := math.Pi * 300 * 200
		if got := p.Outline.AreaMM2(); math.Abs(got-want) > 0.0006*want {
			t.Errorf("%.1f mm2, want %.1f", got, want)
		}
	}
}

// An opening is placed from any corner, by its corner or its centre, and follows
// the mirrored panel.
func TestOpenings(t *testing.T) {
	j := read(t, head+`
  - name: front
    pair: yes
    length: 600
    width: 400
    edges: {left: oak, all: ash}
    openings:
      - {name: a, at: [50, 60], rectangle: {length: 100, width: 40}}
      - {name: b, from: lower right, center: [100, 80], circle: {diameter: 90}}
      - {name: c, from: upper left, at: [40, 50], rectangle: {length: 100, width: 40}}
      - {name: d, from: upper right, at: [40, 50], rectangle: {length: 100, width: 40}}
`)
	if len(j.Panels) != 2 {
		t.Fatalf("%d panels, want a pair", len(j.Panels))
	}
	box := func(x, y, l, w length.Length) geom.Box {
		return geom.BoxFromSize(geom.Pt(x*mm, y*mm), geom.Pt(l*mm, w*mm))
	}
	for i, want := range []geom.Box{box(50, 60, 100, 40), box(455, 35, 90, 90), box(40, 310, 100, 40), box(460, 310, 100, 40)} {
		if got := j.Panels[0].Openings[i].Outline.Box(); got != want {
			t.Errorf("left, %s at %v, want %v", j.Panels[0].Openings[i].Name, got, want)
		}
		m := geom.Box{Min: geom.Pt(600*mm-want.Max.X, want.Min.Y), Max: geom.Pt(600*mm-want.Min.X, want.Max.Y)}
		if got := j.Panels[1].Openings[i].Outline.Box(); got != m {
			t.Errorf("right, %s at %v, want the mirror image %v", j.Panels[1].Openings[i].Name, got, m)
		}
	}
	for _, p := range j.Panels {
		for i, v := range p.Outline {
			want := "ash"
			if v.Edge == "left" {
				want = "oak"
			}
			if p.Edging[i] != want {
				t.Errorf("%s: edge %q has band %q, want %q", p.Name, v.Edge, p.Edging[i], want)
			}
		}
	}
	// The edge named left lies at the left of the left hand, at the right of the right.
	for _, v := range j.Panels[1].Outline {
		if v.Edge == "left" && v.At.X != 600*mm {
			t.Errorf("the mirrored edge starts at %v", v.At)
		}
	}
}

func TestSameAs(t *testing.T) {
	j := read(t, head+`
  - {name: copy, same_as: first, mirror: yes, quantity: 2}
  - name: first
    grain: width
    face: either
    outline: {profile: [{at: [0, 0], edge: foot}, {at: [600, 0]}, {at: [600, 100]}, {at: [0, 400]}]}
    edges: {foot: oak}
    openings: [{name: a, at: [50, 60], circle: {diameter: 100}}]
`)
	c, f := &j.Panels[0], &j.Panels[1]
	if c.Quantity != 2 || c.Grain != parts.AlongWidth || !c.EitherFace || !c.Mirrored || f.Mirrored || c.Material != "ply" {
		t.Errorf("copy %+v", c)
	}
	if c.Openings[0].Outline.Box().Min.X != 450*mm {
		t.Errorf("the mirrored opening is at %v", c.Openings[0].Outline.Box().Min)
	}
	if c.Outline.AreaMM2() != f.Outline.AreaMM2() {
		t.Error("the copy has another area")
	}
}

func TestUnits(t *testing.T) {
	j, list := ReadFile(filepath.Join(goodDir, "inches.yaml"))
	if j == nil {
		t.Fatal(list)
	}
	if j.Stock[0].Length != 96*length.Inch || j.Stock[0].Trim.Left != length.Inch/2 {
		t.Errorf("sheet %v, trim %v", j.Stock[0].Length, j.Stock[0].Trim.Left)
	}
	if got := j.Panels[0].Size(); got != geom.Pt(23*length.Inch+11*length.Inch/16, 600*mm) {
		t.Errorf("panel %v", got)
	}
	if j.Saw.Kerf != length.Inch/8 {
		t.Errorf("kerf %v", j.Saw.Kerf)
	}
}

func TestDefaults(t *testing.T) {
	j := read(t, "job: A\nmaterials: [{name: mdf, thickness: 12}]\nstock: [{name: s, length: 2440, width: 1220}, {name: r, length: 500, width: 400, offcut: yes}]\npanels: [{name: lid, length: 60, width: 30}]\n")
	s, r := j.Stock[0], j.Stock[1]
	if s.Available != parts.Unlimited || s.Trim.Left != 5*mm || s.Priced || r.Available != 1 || r.Trim.Left != 0 || !r.Offcut {
		t.Errorf("stock %+v, rack %+v", s, r)
	}
	if j.Saw.Kerf != parts.DefaultKerf || j.Router.Bit != parts.DefaultBit || j.Keep.Long != parts.DefaultKeepLong {
		t.Errorf("tools %v %v, keep %v", j.Saw, j.Router, j.Keep)
	}
	if j.Materials[0].Measured != 12*mm || j.Panels[0].Grain != parts.NoAxis || j.Panels[0].Quantity != 1 {
		t.Errorf("material %+v, panel %+v", j.Materials[0], j.Panels[0])
	}
}

// sound wants what every job that is read must have: the panels of the file, each
// with a valid outline that has its openings in it, a material and stock of it.
func sound(t *testing.T, src []byte, j *parts.Job) {
	t.Helper()
	r := &reader{}
	top := r.parse(bytes.TrimPrefix(src, []byte("\ufeff")))
	written := map[diag.Pos]bool{}
	for _, e := range top.keys {
		if e.key == "panels" {
			for _, v := range e.val.items {
				v.pos.File = j.File
				written[v.pos] = true
			}
		}
	}
	read := map[diag.Pos]bool{}
	stocked := map[string]bool{}
	for _, s := range j.Stock {
		stocked[s.Material] = true
		if b := (geom.Box{Max: geom.Pt(s.Length, s.Width)}); b.Inset(s.Trim.Left, s.Trim.Right, s.Trim.Bottom, s.Trim.Top).Empty() {
			t.Errorf("nothing is left of the sheet %q", s.Name)
		}
	}
	for i := range j.Panels {
		p := &j.Panels[i]
		if written[p.Pos] { // others are from a carcass, a drawing or a list
			read[p.Pos] = true
		}
		m := j.Material(p.Material)
		if m == nil || !stocked[p.Material] || p.Name == "" || p.Quantity < 1 || len(p.Edging) != len(p.Outline) {
			t.Fatalf("panel %+v", p)
		}
		if p.EitherFace && m.GoodFaces != 2 || p.Grain != parts.NoAxis && !m.Grained {
			t.Errorf("panel %q: face or grain against %+v", p.Name, m)
		}
		if err := p.Outline.Validate(); err != nil || p.Outline.Area2() <= 0 || p.Outline.Box().Min != (geom.Point{}) {
			t.Errorf("panel %q: %v, area %v, box %v", p.Name, err, p.Outline.Area2(), p.Outline.Box())
			continue
		}
		trace := p.Outline.Trace()
		for k, o := range p.Openings {
			if err := o.Outline.Validate(); err != nil || o.Outline.Area2() <= 0 {
				t.Errorf("panel %q, opening %q: %v", p.Name, o.Name, err)
				continue
			}
			if err := trace.Contains(o.Outline.Trace()); err != nil {
				t.Errorf("panel %q, opening %q: %v", p.Name, o.Name, err)
			}
			for _, other := range p.Openings[:k] {
				if err := other.Outline.Trace().Apart(o.Outline.Trace()); err != nil {
					t.Errorf("panel %q, openings %q and %q: %v", p.Name, other.Name, o.Name, err)
				}
			}
		}
	}
	if len(read) != len(written) {
		t.Errorf("%d of %d panels", len(read), len(written))
	}
}

func TestSound(t *testing.T) {
	for _, pattern := range []string{goodDir + "/*.yaml", "../../cmd/panelyard/demo/*.yaml"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			t.Fatal(pattern, err)
		}
		for _, file := range files {
			src, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			job, list := newReader(filepath.Base(file), beside(filepath.Dir(file))).read(src)
			if job == nil {
				t.Fatal(list)
			}
			sound(t, src, job)
		}
	}
}

// Whatever is in the file: no panic, no long wait, and a sound job or a mistake.
func FuzzRead(f *testing.F) {
	for _, dir := range []string{badDir, goodDir, "../../cmd/panelyard/demo"} {
		files, _ := filepath.Glob(filepath.Join(dir, "*.yaml"))
		for _, file := range files {
			if src, err := os.ReadFile(file); err == nil {
				f.Add(src)
			}
		}
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		start := time.Now()
		job, list := Read("fuzz.yaml", src)
		if (job == nil) != (list.Err() != nil) {
			t.Fatalf("job %v, findings %v", job != nil, list)
		}
		if job != nil {
			sound(t, src, job)
		}
		if d := time.Since(start); d > 10*time.Second {
			t.Fatalf("took %v", d)
		}
	})
}

// Quarter ellipses at a corner, bulging out and cut in.
func TestEllipticCorners(t *testing.T) {
	const board, quarter = 600 * 400.0, math.Pi * 300 * 200 / 4
	for path, want := range map[string]float64{
		"M 0 0 H 600 V 400 H 300 A 300 200 0 0 1 0 200 Z":  board - (300*200 - quarter),
		"M 0 0 H 600 V 400 H 300 A 300 200 0 0 0 0 200 Z":  board - quarter,
		"M 0 0 H 600 V 400 H 300 A 200 300 90 0 1 0 200 Z": board - (300*200 - quarter),
		"M 300 200 V 400 A 300 200 0 1 0 0 200 Z":          3 * quarter,
		"M 300 200 H 0 A 300 200 0 1 1 300 400 Z":          3 * quarter,
		"M 0 0 Q 300 400 600 0 Z":                          600 * 200 * 2 / 3.0, // Archimedes: 2/3 of the box of a parabola
	} {
		p := panel(t, `  - {name: a, outline: {path: "`+path+`"}}`)
		if got := p.Outline.AreaMM2(); math.Abs(got-want) > 40 {
			t.Errorf("%s: %.1f mm2, want %.1f", path, got, want)
		}
	}
}
