package kerf

import (
	"math"
	"strings"
	"testing"

	"panelyard/parts"
	"panelyard/parts/arc"
	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// skirt returns a panel bent by 90 degrees to 300 mm outside with a web of 2 mm, in
// board of 18 mm: flat pi/2 x 299 mm, with 200 mm before and 100 mm after it.
func skirt(t *testing.T, change func(*parts.Bend)) parts.Panel {
	t.Helper()
	b := &parts.Bend{
		Outer: arc.Arc{Radius: 300 * mm, Angle: 90 * arc.Degree}, Thickness: 18 * mm, Web: 2 * mm,
		From: 200 * mm, To: 100 * mm, Along: parts.AlongLength, Pos: diag.Pos{File: "museum.yaml", Line: 7, Col: 5},
	}
	change(b)
	flat, err := b.Kerfed(0).Flat()
	if err != nil {
		t.Fatal(err)
	}
	b.Flat = flat
	o := outline.Rectangle(b.From+flat+b.To, 400*mm)
	if b.Along == parts.AlongWidth {
		o = outline.Rectangle(400*mm, b.From+flat+b.To)
	}
	return parts.Panel{Name: "skirt", Outline: o, Bend: b}
}

// TestKerfLines: bend A of the trade notes of this project (18 mm, web 2, 300 mm
// outside, 90 degrees: 9 kerfs of 3.2 mm every 52.19 mm) on a panel, along either side,
// with bands at its ends.
func TestKerfLines(t *testing.T) {
	for _, along := range []parts.Axis{parts.AlongLength, parts.AlongWidth} {
		p := skirt(t, func(b *parts.Bend) { b.Along = along })
		p.Edging = []string{"oak", "oak", "oak", "oak"} // 1 mm all round
		j := job(p)
		j.Saw.Kerf = 3200 * length.Micrometre
		d, list := Build(j, Saw)
		if len(list) > 0 {
			t.Fatal(list)
		}
		it := &d.Items[0]
		if len(it.KerfLines) != 9 || it.Bend.Count != 9 {
			t.Fatalf("%d kerfs, %+v", len(it.KerfLines), it.Bend)
		}
		size := it.CutOutline.Box().Size()
		for i, l := range it.KerfLines {
			from, to, side := l.From, l.To, size.Y
			if along == parts.AlongWidth {
				from, to, side = geom.Pt(from.Y, from.X), geom.Pt(to.Y, to.X), size.X
			}
			want := 200 - 1 + math.Pi/2*299/9*(float64(i)+0.5)
			if math.Abs(from.X.MM()-want) > 0.001 || from.X != to.X || from.Y != 0 || to.Y != side || side != 398*mm {
				t.Errorf("%v: kerf %d from %v to %v, want at %.3f mm", along, i+1, l.From, l.To, want)
			}
			if l.Depth != 16*mm || !l.Inner {
				t.Errorf("%v: kerf %d: %+v", along, i+1, l)
			}
		}
	}
}

// The router's kerfs are as wide as its bit: fewer close. Open kerfs are in the outer
// face.
func TestKerfLinesOfRouter(t *testing.T) {
	d, list := Build(job(skirt(t, func(*parts.Bend) {})), Router)
	if len(list) > 0 || len(d.Items[0].KerfLines) != 5 { // pi/2 x 17 / 6 = 4.45
		t.Errorf("%v", list)
	}
	d, list = Build(job(skirt(t, func(b *parts.Bend) { b.Open, b.Facet = true, mm/4 })), Saw)
	if len(list) > 0 || len(d.Items[0].KerfLines) != 19 || d.Items[0].KerfLines[0].Inner {
		t.Errorf("%v", list)
	}
}

// A bend that a kerf does not make has a finding where the bend is written, and a flat
// panel has none.
func TestBendFindings(t *testing.T) {
	opening := func(name string, x length.Length) parts.Opening {
		return parts.Opening{Name: name, Outline: outline.Rectangle(40*mm, 40*mm).Translate(geom.Pt(x, 100*mm)), Pos: diag.Pos{File: "museum.yaml", Line: 9}}
	}
	plain := func(*parts.Panel) {}
	for _, c := range []struct {
		name   string
		bend   func(*parts.Bend)
		panel  func(*parts.Panel)
		kerf   length.Length
		want   []string
		demand bool
	}{
		{"blunt", func(*parts.Bend) {}, plain, 0, []string{`museum.yaml:7:5: panel "skirt": bend with the kerf of the saw, 0 mm: a kerf takes no wood`}, false},
		{"fine facets", func(b *parts.Bend) { b.Facet = mm / 200 }, plain, 3 * mm, []string{"of wood between them, less than 3 mm"}, false},
		{"said of one hand", func(b *parts.Bend) { b.Facet = mm / 200 }, func(p *parts.Panel) { p.Hand = parts.Right }, 3 * mm, nil, true},
		{"thick band", func(b *parts.Bend) { b.From, b.Facet = 0, mm/100 }, func(p *parts.Panel) { p.Edging = []string{"", "", "", "lipping"} }, mm, []string{"a kerf comes to lie in the edge band"}, false},
		{"openings", func(*parts.Bend) {}, func(p *parts.Panel) {
			p.Openings = []parts.Opening{opening("before", 100*mm), opening("between", 232*mm), opening("in", 210*mm), opening("wide", 240*mm)}
			p.Openings[3].Outline = outline.Rectangle(200*mm, 40*mm).Translate(geom.Pt(240*mm, 200*mm))
		}, 3200 * length.Micrometre, []string{`opening "in" lies in the bend: a kerf runs into it`, `opening "wide" lies in the bend: 4 kerfs run into it`}, true},
	} {
		p := skirt(t, c.bend)
		c.panel(&p)
		j := job(p)
		j.Saw.Kerf = c.kerf
		j.Bands = append(j.Bands, parts.Band{Name: "lipping", Thickness: 10 * mm})
		d, list := Build(j, Saw)
		if (d != nil) != c.demand {
			t.Errorf("%s: a demand: %v", c.name, d != nil)
		}
		if len(list) != len(c.want) {
			t.Errorf("%s: %v", c.name, list)
			continue
		}
		for i, f := range list {
			if !strings.Contains(f.Error(), c.want[i]) || f.Remedy == "" {
				t.Errorf("%s: %v, want %q", c.name, f, c.want[i])
			}
		}
	}
	d, _ := Build(job(parts.Panel{Name: "shelf", Outline: outline.Rectangle(600*mm, 300*mm)}), Saw)
	if it := d.Items[0]; it.KerfLines != nil || it.Bend != nil {
		t.Errorf("a flat panel has kerfs: %+v", it)
	}
}
