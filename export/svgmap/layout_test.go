package svgmap

import (
	"fmt"
	"testing"
	"time"

	"pgregory.net/rapid"

	"panelyard/export"
	"panelyard/parts"
	"panelyard/parts/length"
)

// written is a text, a number or an arrow with its place.
type written struct {
	what string
	box  rect
}

// everything returns all that a map says, with its place.
func everything(p *page) []written {
	var all []written
	add := func(box rect, format string, args ...any) {
		all = append(all, written{fmt.Sprintf(format, args...), box})
	}
	line := func(x, y, w, size float64, s string) { add(rect{x, y - 0.8*size, w, size}, "%q", s) }
	for i, l := range p.labels {
		if l.lines != nil {
			add(l.box, "label %d %q", i, l.lines)
		}
	}
	for _, l := range p.offcuts {
		if l.lines != nil {
			add(l.box, "offcut %q", l.lines)
		}
	}
	for i, a := range p.arrows {
		add(a.box, "arrow %d", i)
	}
	for _, n := range p.numbers {
		add(n.box(), "cut %d", n.n)
	}
	for _, d := range append(p.across, p.up...) {
		if d.box != (rect{}) {
			add(d.box, "dimension %s", d.text)
		}
	}
	for _, r := range p.key.rows {
		size := p.key.size
		line(r.x, r.y, textWidth(r.key, size), size, "key "+r.key)
		line(r.x+p.key.name, r.y, textWidth(r.name, size), size, "name "+r.name)
		line(r.x+p.key.tail, r.y, textWidth(r.tail, size), size, "figures "+r.tail)
	}
	if p.key.remark != "" {
		line(p.key.at.x, p.key.at.y, textWidth(p.key.remark, keySizes[0]), keySizes[0], p.key.remark)
	}
	for _, s := range p.signs {
		line(s.x, s.y, signW+1+textWidth(s.text, signSize), signSize, "sign "+s.text)
	}
	return all
}

// apart checks that no two things written on a map overlap and all are on the
// page, below its title lines.
func apart(t rapid.TB, p *page) {
	t.Helper()
	sheet := rect{margin, margin + 14, p.paper.W - 2*margin, p.paper.H - 2*margin - 14}.grown(1e-6)
	all := everything(p)
	for i, a := range all {
		if !sheet.contains(a.box) {
			t.Errorf("%s is off the page: %v", a.what, a.box)
		}
		for _, b := range all[:i] {
			if a.box.overlaps(b.box) {
				t.Errorf("%s lies on %s", a.what, b.what)
			}
		}
	}
	if !sheet.contains(p.sheet) {
		t.Errorf("the sheet is off the page: %v", p.sheet)
	}
	if got := len(p.numbers) + p.unnumbered; got != len(p.m.Cuts) {
		t.Errorf("%d numbers and %d cuts without make no %d cuts", len(p.numbers), p.unnumbered, len(p.m.Cuts))
	}
	unlabelled := 0
	for i, l := range p.labels {
		pl := &p.m.Placements[i]
		box := p.box(pl.Shape.Box())
		switch {
		case l.lines == nil:
			unlabelled++
		case l.leader == nil:
			if !box.grown(1e-6).contains(l.box) {
				t.Errorf("label %q sticks out of its panel", l.lines)
			}
			for _, h := range pl.Shape.Holes {
				if p.box(h.Box()).overlaps(l.box) {
					t.Errorf("label %q lies on an opening", l.lines)
				}
			}
		case !box.contains(rect{l.leader.x, l.leader.y, 0, 0}):
			t.Errorf("the line from %q leads past its panel", l.lines)
		}
	}
	if unlabelled != p.unlabelled {
		t.Errorf("%d panels without a label, %d counted", unlabelled, p.unlabelled)
	}
	if (p.unlabelled > 0 || p.unnumbered > 0) != (p.key.remark != "") && len(p.key.rows) == len(p.keyRows()) {
		t.Errorf("%d unlabelled, %d unnumbered, and the remark is %q", p.unlabelled, p.unnumbered, p.key.remark)
	}
}

func TestNothingOverlaps(t *testing.T) {
	for name, d := range dossiers(t) {
		for i := range d.Sheets {
			t.Run(name+"/"+d.Sheets[i].ID, func(t *testing.T) {
				p := layout(d, i, Look{})
				apart(t, p)
				if name == "many" {
					// Between small panels there is no room for a third of two hundred
					// numbers; all panels have a label.
					if p.unlabelled > 0 || p.unnumbered > len(p.m.Cuts)*2/5 {
						t.Errorf("%d of %d panels unlabelled, %d of %d cuts unnumbered", p.unlabelled, len(p.labels), p.unnumbered, len(p.m.Cuts))
					}
					return
				}
				if p.unlabelled > 0 || p.unnumbered > 0 || p.key.remark != "" {
					t.Errorf("%d unlabelled, %d unnumbered, %q", p.unlabelled, p.unnumbered, p.key.remark)
				}
				for _, l := range p.labels {
					if l.leader != nil {
						t.Errorf("%q found no room in its panel", l.lines)
					}
				}
			})
		}
	}
}

// Sheets of all sizes, divided in all ways, with all sorts of names.
func TestNothingOverlapsAnywhere(t *testing.T) {
	inside, led, none, numbered := 0, 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := layout(anySheet(t), 0, anyLook(t))
		apart(t, p)
		for _, l := range p.labels {
			switch {
			case l.lines == nil:
				none++
			case l.leader != nil:
				led++
			default:
				inside++
			}
		}
		numbered += len(p.numbers)
	})
	t.Logf("%d labels inside, %d with a line, %d none, %d cuts numbered", inside, led, none, numbered)
	if inside == 0 || led == 0 || none == 0 || numbered == 0 {
		t.Error("the test has lost its point: a way to label was never met")
	}
}

// Labels say key, name, hand and cut size; of a shaped panel the blank that is
// sawn.
func TestLabels(t *testing.T) {
	for _, c := range []struct {
		plan, panel string
		want        [][]string
	}{
		{"saw", "side-left", [][]string{{"1  side-left", "900 × 420", "blank 900 × 426"}}},
		{"router", "side-left", [][]string{{"1  side-left", "900 × 420"}}},
		{"saw", "shelf", [][]string{{"4  shelf", "664 × 279", "1 of 3"}, {"4  shelf", "664 × 279", "2 of 3"}, {"4  shelf", "664 × 279", "3 of 3"}}},
		{"whole", "table top", [][]string{{"1  table top", "95.669 × 47.638"}}}, // 2430 and 1210 mm
	} {
		d := dossiers(t)[c.plan]
		var got [][]string
		for i := range d.Sheets {
			p := layout(d, i, Look{})
			for k, l := range p.labels {
				if p.m.Placements[k].Row.Name == c.panel {
					got = append(got, l.lines)
				}
			}
		}
		if len(got) != len(c.want) {
			t.Errorf("%s: %d labels of %s, want %d", c.plan, len(got), c.panel, len(c.want))
			continue
		}
	next:
		for _, w := range c.want {
			for _, g := range got {
				if fmt.Sprint(g) == fmt.Sprint(w) {
					continue next
				}
			}
			t.Errorf("%s: no label %q in %q", c.plan, w, got)
		}
	}
	r := &export.PanelRow{Key: "7", Name: "door", Hand: 2}
	if got := title(r); got != "7  door, right" {
		t.Errorf("title %q", got)
	}
}

// The arrow of a panel whose grain must run along the sheet's lies along it; a
// panel that is free has none.
func TestGrainArrows(t *testing.T) {
	d := dossiers(t)["saw"]
	for i := range d.Sheets {
		p := layout(d, i, Look{})
		bound := 0
		for k := range p.m.Placements {
			if p.bound(p.m.Placements[k].Row) {
				bound++
			}
		}
		if len(p.arrows) != bound {
			t.Errorf("%s: %d arrows, %d panels with grain", p.m.ID, len(p.arrows), bound)
		}
		for _, a := range p.arrows {
			if a.upright || a.box.w < a.box.h {
				t.Errorf("%s: an arrow across the grain of the sheet", p.m.ID)
			}
		}
	}
}

// A cut that runs out at the upper or right edge has its number beyond it.
func TestNumbersBeyondTheEdge(t *testing.T) {
	d := dossiers(t)["saw"]
	p := layout(d, 0, Look{})
	beyond := 0
	for _, n := range p.numbers {
		if b := n.box(); b.y+b.h < p.sheet.y || b.x > p.sheet.x+p.sheet.w {
			beyond++
		}
	}
	if beyond < 3 {
		t.Errorf("%d of %d numbers stand beyond the edge", beyond, len(p.numbers))
	}
}

// The key leaves out first what the map says in full, and says so.
func TestKeyOfManyKinds(t *testing.T) {
	d := dossiers(t)["many"]
	p := layout(d, 0, Look{})
	box := p.key.box
	all := len(p.keyRows())
	for _, h := range []float64{26, 12, 6, 0} {
		p.fillKey(rect{box.x, box.y, box.w, h})
		listed := map[string]bool{}
		for _, r := range p.key.rows {
			listed[r.key] = true
		}
		if len(listed) < all && p.key.remark == "" {
			t.Errorf("a key of %g mm lists %d of %d kinds and does not say so", h, len(listed), all)
		}
		if h == 12 {
			if listed["1"] || !listed["10"] {
				t.Errorf("the key lists %v: panel 1 is named on the map, panel 10 is not", listed)
			}
		}
	}
}

func TestScale(t *testing.T) {
	for _, c := range []struct {
		l, w   length.Length
		scale  float64
		beside bool
	}{
		{2440, 1220, 10, false},
		{3050, 1525, 12, false},
		{1525, 1525, 12, true},
		{1220, 2440, 20, true},
		{100, 50, 1, true},
		{33554, 33554, 250, true},
	} {
		p := &page{paper: A4, m: &export.SheetMap{Stock: &parts.Stock{Length: c.l * mm, Width: c.w * mm}}}
		beside := p.place()
		if p.scale != c.scale || beside != c.beside {
			t.Errorf("%d × %d mm: scale 1:%g, key beside %t, want 1:%g, %t", c.l, c.w, p.scale, beside, c.scale, c.beside)
		}
	}
}

// The time of a map grows gently: one of a hundred and forty panels with two
// hundred cuts takes a small part of a second.
func TestFast(t *testing.T) {
	d := dossiers(t)["many"]
	start := time.Now()
	const n = 10
	for range n {
		drawMap(t, d, 0)
	}
	each := time.Since(start) / n
	t.Logf("%d panels, %d cuts: %v", len(d.Sheets[0].Placements), len(d.Sheets[0].Cuts), each)
	if each > 500*time.Millisecond {
		t.Errorf("a map of %d panels takes %v", len(d.Sheets[0].Placements), each)
	}
}

// anyLook returns a way to draw a map.
func anyLook(t *rapid.T) Look {
	return Look{Paper: rapid.SampledFrom([]Paper{{}, A4, A3, Letter}).Draw(t, "paper"), Mirrored: rapid.Bool().Draw(t, "mirrored")}
}
