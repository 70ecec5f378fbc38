package jobfile

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// named returns the panel of a name.
func named(t *testing.T, j *parts.Job, name string) *parts.Panel {
	t.Helper()
	i := slices.IndexFunc(j.Panels, func(p parts.Panel) bool { return p.Name == name })
	if i < 0 {
		t.Fatalf("no panel %q", name)
	}
	return &j.Panels[i]
}

// A copy of a mirrored panel is the mirrored panel, and a mirrored copy of it is
// the one that was drawn; wrong hands cost board.
func TestSameAsHands(t *testing.T) {
	j := read(t, head+`
  - name: drawn
    outline: {profile: [{at: [0, 0], edge: foot}, {at: [600, 0]}, {at: [600, 100]}, {at: [0, 400]}]}
    edges: {foot: oak}
    openings: [{name: a, center: [100, 100], circle: {diameter: 50}}]
  - {name: other hand, same_as: drawn, mirror: yes}
  - {name: another of it, same_as: other hand}
  - {name: back again, same_as: other hand, mirror: yes}
  - {name: both, same_as: other hand, pair: yes}
  - name: with its own hole
    same_as: other hand
    openings: [{name: b, center: [500, 50], circle: {diameter: 50}}]
  - name: on a wider board
    same_as: other hand
    length: 800
    width: 400
    edges: {all: ash}
`)
	for name, want := range map[string]struct {
		hole     length.Length // x of the centre of its opening
		mirrored bool
	}{
		"drawn": {100, false}, "other hand": {500, true}, "another of it": {500, true}, "back again": {100, false},
		"both-left": {500, true}, "both-right": {100, false},
		"with its own hole": {500, true},
		"on a wider board":  {700, false},
	} {
		p := named(t, j, name)
		b := p.Openings[0].Outline.Box()
		if got := (b.Min.X + b.Max.X) / 2; got != want.hole*mm || p.Mirrored != want.mirrored {
			t.Errorf("%s: opening at %v, mirrored %v, want %d mm, %v", name, got, p.Mirrored, want.hole, want.mirrored)
		}
		if name == "on a wider board" {
			continue
		}
		// The side of 400 mm is at the left as drawn.
		for i, v := range p.Outline {
			if v.Edge == "foot" && (v.At.Y != 0 || p.Edging[i] != "oak") {
				t.Errorf("%s: the foot is at %v and has %q", name, v.At, p.Edging[i])
			}
			if v.At.Y == 400*mm && (v.At.X == 0) == want.mirrored {
				t.Errorf("%s: the high side is at %v", name, v.At)
			}
		}
	}
}

// What a panel gives beside same_as overrides; what it does not give it takes,
// openings and edges into another outline as well.
func TestSameAsOverrides(t *testing.T) {
	j := read(t, `job: Test
materials: [{name: ply, thickness: 18, grain: yes, good_faces: 2}, {name: mdf, thickness: 12}, {name: oak, thickness: 20, grain: yes}]
stock:
  - {name: s, material: ply, length: 2440, width: 1220, grain: length}
  - {name: m, material: mdf, length: 2440, width: 1220}
  - {name: o, material: oak, length: 2440, width: 1220, grain: length}
edging: [{name: strip, thickness: 2}]
panels:
  - {name: longer, same_as: shelf, length: 800, width: 300}
  - {name: bare, same_as: shelf, edges: {}, openings: []}
  - {name: grained, same_as: plain, material: oak}
  - {name: free, same_as: plain, material: oak, grain: free}
  - {name: in oak, same_as: shelf, material: oak}
  - {name: in mdf, same_as: shelf, material: mdf}
  - {name: chain, same_as: longer, quantity: 3}
  - name: shelf
    material: ply
    grain: width
    face: either
    length: 600
    width: 300
    edges: {top: strip}
    openings: [{name: cable, from: upper right, at: [50, 60], circle: {diameter: 40}}]
  - {name: plain, material: mdf, length: 600, width: 300}
`)
	for _, c := range []struct {
		name, material string
		grain          parts.Axis
		either         bool
		band           string        // of the top
		hole           length.Length // left side of its opening, 0 without
		quantity       int
	}{
		{"shelf", "ply", parts.AlongWidth, true, "strip", 510, 1},
		{"longer", "ply", parts.AlongWidth, true, "strip", 710, 1},
		{"bare", "ply", parts.AlongWidth, true, "", 0, 1},
		// A board with grain does not take "may lie either way" from one without.
		{"grained", "oak", parts.AlongLength, false, "", 0, 1},
		{"free", "oak", parts.NoAxis, false, "", 0, 1},
		// Neither does a board with one good face take "either" from one with two.
		{"in oak", "oak", parts.AlongWidth, false, "strip", 510, 1},
		{"in mdf", "mdf", parts.NoAxis, false, "strip", 510, 1},
		{"chain", "ply", parts.AlongWidth, true, "strip", 710, 3},
	} {
		p := named(t, j, c.name)
		if p.Material != c.material || p.Grain != c.grain || p.EitherFace != c.either || p.Quantity != c.quantity {
			t.Errorf("%s: %d of %s, grain %v, either face %v", c.name, p.Quantity, p.Material, p.Grain, p.EitherFace)
		}
		if p.Edging[2] != c.band {
			t.Errorf("%s: the top has %q, want %q", c.name, p.Edging[2], c.band)
		}
		hole := length.Length(0)
		if len(p.Openings) > 0 {
			hole = p.Openings[0].Outline.Box().Min.X
		}
		if hole != c.hole*mm {
			t.Errorf("%s: opening at %v, want %d mm", c.name, hole, c.hole)
		}
	}
}

// A file of more warnings than are listed is still a job; one of more mistakes is
// none, and mistakes are listed before warnings.
func TestManyFindings(t *testing.T) {
	var b strings.Builder
	b.WriteString(head)
	for i := range 2 * diag.MaxFindings {
		fmt.Fprintf(&b, "  - {name: p%d, length: 600, width: 300, openings: [{at: [10, 10], circle: {diameter: 50}}]}\n", i)
	}
	j, list := Read("a.yaml", []byte(b.String()))
	if j == nil || len(list) != diag.MaxFindings+1 || !strings.Contains(list.Error(), fmt.Sprintf("%d more findings", diag.MaxFindings)) {
		t.Errorf("job %v, %d findings", j != nil, len(list))
	}
	b.WriteString("  - {name: last, length: 0, width: 300}\n")
	j, list = Read("a.yaml", []byte(b.String()))
	if m, _ := list.Split(); j != nil || len(m) != 1 || len(list) != diag.MaxFindings+1 {
		t.Errorf("job %v, %d findings", j != nil, len(list))
	}
	for i := range 2 * diag.MaxFindings {
		fmt.Fprintf(&b, "  - {name: q%d, length: -1, width: 300}\n", i)
	}
	j, list = Read("a.yaml", []byte(b.String()))
	if m, _ := list.Split(); j != nil || len(m) != diag.MaxFindings {
		t.Errorf("job %v, %d findings", j != nil, len(list))
	}
}

// The same file gives the same findings in the same order.
func TestFindingsRepeat(t *testing.T) {
	src := head + `
  - name: front
    length: 600
    width: 400
    edges: {frnt: oak, bck: oak, lft: ash, rght: ash, tp: oak, al: oak}
    openings:
      - {nme: a, frm: b, att: c, crcle: d}
`
	_, first := Read("a.yaml", []byte(src))
	for range 20 {
		if _, list := Read("a.yaml", []byte(src)); list.Error() != first.Error() {
			t.Fatalf("got\n%v\nthen\n%v", first, list)
		}
	}
	if len(first) < 10 {
		t.Errorf("%d findings", len(first))
	}
}

// What editors make of a file: byte order mark, line ends, comments, quotes,
// block and flow style. All are the same job.
func TestWaysToWrite(t *testing.T) {
	plain := "job: A\nmaterials: [{name: mdf, thickness: 12}]\nstock: [{name: s, length: 2440, width: 1220}]\npanels: [{name: lid, length: 60, width: 30}]\n"
	for name, src := range map[string]string{
		"plain":           plain,
		"byte order mark": "\ufeff" + plain,
		"CR LF":           strings.ReplaceAll(plain, "\n", "\r\n"),
		"document marks":  "---\n" + plain + "...\n",
		"directive":       "%YAML 1.2\n---\n" + plain,
		"blocks":          "job: A\nmaterials:\n- name: mdf\n  thickness: 12\nstock:\n  -\n    name: s\n    length: 2440\n    width: 1220\npanels:\n- name: lid\n  length: 60\n  width: 30",
		"comments":        "# a\njob: A # b\n# c\nmaterials: # d\n  # e\n  - name: mdf # f\n    # g\n    thickness: 12\n# h\nstock: [{name: s, length: 2440, width: 1220}] # i\npanels: [{name: lid, length: 60, width: 30}]\n# end",
		"quotes":          "'job': \"A\"\n\"materials\": [{'name': 'mdf', thickness: '12'}]\nstock: [{name: s, length: \"2440 mm\", width: 122 cm}]\npanels: [{name: ' lid ', length: 6 cm, width: 30.0}]",
		"many lines":      "job: A\nmaterials: [\n  {name: mdf,\n   thickness: 12},\n]\nstock: [{name: s,\n length: 2440,\n width: 1220}\n]\npanels: [\n{name: lid, length: 60, width: 30},\n]\n",
	} {
		j, list := Read("a.yaml", []byte(src))
		if j == nil {
			t.Errorf("%s: %v", name, list)
			continue
		}
		p := &j.Panels[0]
		if j.Name != "A" || p.Name != "lid" || p.Size() != geom.Pt(60*mm, 30*mm) || j.Stock[0].Width != 1220*mm || j.Materials[0].Name != "mdf" {
			t.Errorf("%s: %+v", name, j)
		}
	}
	// Names may look like other things.
	j := read(t, head+"  - {name: 007, length: 60, width: 30}\n  - {name: yes, length: 60, width: 30}\n  - {name: 1e3, length: 60, width: 30}\n  - {name: 0x10, length: 60, width: 30}\n  - {name: 2024-01-01, length: 60, width: 30}\n")
	for i, want := range []string{"007", "yes", "1e3", "0x10", "2024-01-01"} {
		if got := j.Panels[i].Name; got != want {
			t.Errorf("%q was read as %q", want, got)
		}
	}
}

// The polyline of a curve leaves it by less than a quarter of the tolerance and
// has its box: cubics and quadratics by their polynomials, ellipses by their
// implicit equation.
func TestCurveDeviation(t *testing.T) {
	worst := 0.0
	far := func(p *parts.Panel, on func(s float64) (x, y float64)) float64 {
		// The box of the outline was moved to the origin, and so is the curve's.
		x0, y1 := math.Inf(1), math.Inf(-1)
		const n = 4000
		for i := range n + 1 {
			x, y := on(float64(i) / n)
			x0, y1 = min(x0, x), max(y1, y)
		}
		d := 0.0
		for i := range n + 1 {
			x, y := on(float64(i) / n)
			qx, qy := (x-x0)*float64(mm), (y1-y)*float64(mm)
			near := math.Inf(1)
			for k, v := range p.Outline {
				w := p.Outline[(k+1)%len(p.Outline)]
				ux, uy := float64(w.At.X-v.At.X), float64(w.At.Y-v.At.Y)
				vx, vy := qx-float64(v.At.X), qy-float64(v.At.Y)
				s := max(0, min(1, (ux*vx+uy*vy)/(ux*ux+uy*uy)))
				near = min(near, math.Hypot(vx-s*ux, vy-s*uy))
			}
			d = max(d, near)
		}
		return d / float64(mm)
	}
	for _, c := range []struct {
		path string
		on   func(s float64) (x, y float64)
	}{
		{"M 0 0 Q 250 600 500 0 Z", func(s float64) (float64, float64) {
			return 500 * s, 2 * s * (1 - s) * 600
		}},
		{"M 0 0 C 0 300 500 300 500 0 Z", func(s float64) (float64, float64) {
			return 3*s*s*(1-s)*500 + s*s*s*500, 3 * s * (1 - s) * 300
		}},
		{"M 0 0 C 400 400 100 400 500 0 Z", func(s float64) (float64, float64) {
			return 3*s*(1-s)*(1-s)*400 + 3*s*s*(1-s)*100 + s*s*s*500, 3 * s * (1 - s) * 400
		}},
		{"M 0 0 A 300 100 0 0 0 600 0 Z", func(s float64) (float64, float64) {
			sin, cos := math.Sincos(math.Pi * s)
			return 300 - 300*cos, 100 * sin
		}},
		// Turned by 30 degrees: a half ellipse over its long axis.
		{"M 0 0 A 300 100 30 0 0 519.6152422706632 300 Z", func(s float64) (float64, float64) {
			sin, cos := math.Sincos(math.Pi * s)
			u, v := 300-300*cos, 100*sin
			return u*math.Sqrt(3)/2 - v/2, u/2 + v*math.Sqrt(3)/2
		}},
	} {
		p := panel(t, `  - {name: a, outline: {path: "`+c.path+`"}}`)
		d := far(p, c.on)
		worst = max(worst, d)
		// 0.025 mm, and the grid and the sampling of the box.
		if d > 0.0255 {
			t.Errorf("%s: the outline leaves the curve by %.4f mm", c.path, d)
		}
	}
	if worst < 0.005 {
		t.Errorf("at most %.5f mm off: this measures nothing", worst)
	}
}
