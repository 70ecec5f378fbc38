package cabinets

import (
	"reflect"
	"testing"

	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// A base unit 600 x 720 x 560 of 18 mm board with a back of 6 mm: a worked example of
// common practice, no source.
func TestBaseUnit(t *testing.T) {
	j := &job{Problem: &nest.Problem{}, grain: true}
	j.unit(unit{"base", 600 * mm, 720 * mm, 560 * mm, true, 1, 1})
	want := map[string][3]length.Length{
		"base 600 side":   {2, 720, 560},
		"base 600 bottom": {1, 564, 542},
		"base 600 rail":   {2, 564, 100},
		"base 600 shelf":  {1, 562, 522},
		"base 600 back":   {1, 720, 580},
		"base 600 door":   {1, 716, 596},
	}
	for _, p := range j.Parts {
		w, ok := want[p.Name]
		if !ok || p.Copies != int(w[0]) || p.Blank != geom.Pt(w[1]*mm, w[2]*mm) {
			t.Errorf("%s: %d of %v x %v, want %v", p.Name, p.Copies, p.Blank.X, p.Blank.Y, w)
		}
		delete(want, p.Name)
	}
	if len(want) > 0 {
		t.Errorf("missing: %v", want)
	}
	j = &job{Problem: &nest.Problem{}}
	j.unit(unit{"base", 600 * mm, 720 * mm, 560 * mm, true, 1, 2})
	if d := j.Parts[len(j.Parts)-1]; d.Copies != 2 || d.Blank != geom.Pt(716*mm, 297*mm) {
		t.Errorf("a pair of doors: %d of %v", d.Copies, d.Blank)
	}
}

// Jobs repeat by their seed, have what was wished for, and every panel fits a sheet.
func TestNew(t *testing.T) {
	for seed := range uint64(200) {
		w := Wishes{Panels: 30 + int(seed)%271, Stocks: 1 + int(seed)%4}
		p := New(seed, w)
		if !reflect.DeepEqual(p, New(seed, w)) {
			t.Fatalf("seed %d: two jobs", seed)
		}
		if n := p.Copies(); n > w.Panels || n < w.Panels-12 {
			t.Errorf("seed %d: %d panels, %d were wished for", seed, n, w.Panels)
		}
		if n := len(p.Stocks); n != w.Stocks+1 {
			t.Errorf("seed %d: %d kinds of sheet, want %d and one for backs", seed, n, w.Stocks)
		}
		for i, q := range p.Parts {
			fits := false
			for j, s := range p.Stocks {
				for _, turn := range p.Turns(i, j) {
					size := q.Blank
					if turn%180 != 0 {
						size = geom.Pt(size.Y, size.X)
					}
					fits = fits || size.X <= s.Usable.Dx() && size.Y <= s.Usable.Dy()
				}
			}
			if !fits {
				t.Errorf("seed %d: %s, %v x %v, fits no sheet", seed, q.Name, q.Blank.X, q.Blank.Y)
			}
		}
		for _, s := range p.Stocks {
			if s.Cost <= 0 {
				t.Errorf("seed %d: %s costs nothing", seed, s.Name)
			}
		}
	}
}
