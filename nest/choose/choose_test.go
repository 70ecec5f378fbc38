package choose

import (
	"bytes"
	"context"
	"encoding/json"
	"testing"
	"time"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/check"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

const mm = length.Millimetre

func part(name, material string, copies int, l, w length.Length) nest.Part {
	size := geom.Pt(l*mm, w*mm)
	return nest.Part{
		Name: name, Material: material, Copies: copies, Blank: size,
		Shape: geom.Polygon{Outer: geom.BoxFromSize(geom.Point{}, size).Ring()},
	}
}

func stock(name, material string, l, w length.Length, cost int64) nest.Stock {
	size := geom.Pt(l*mm, w*mm)
	return nest.Stock{
		Name: name, Material: material, Size: size, Usable: geom.BoxFromSize(geom.Point{}, size).Inset(5*mm, 5*mm, 5*mm, 5*mm),
		Cost: cost, Available: parts.Unlimited,
	}
}

func problem(cut kerf.Cut) *nest.Problem {
	return &nest.Problem{
		Cut: cut, Kerf: 3200 * length.Micrometre, Gap: 3200 * length.Micrometre,
		Parts: []nest.Part{
			part("shelf", "ply", 6, 700, 300), part("back", "mdf", 2, 800, 600), part("side", "ply", 4, 900, 400),
		},
		Stocks: []nest.Stock{stock("mdf", "mdf", 1220, 610, 20), stock("ply", "ply", 2440, 1220, 90), stock("small", "ply", 1220, 1220, 60)},
		Keep:   parts.KeepRule{Short: 100 * mm, Long: 400 * mm},
	}
}

// The material of fewest kinds of sheet is solved first; the plan keeps the order of the
// problem.
func TestEasiestFirst(t *testing.T) {
	p := problem(kerf.Saw)
	if got := p.EasiestFirst(); len(got) != 2 || got[0] != "mdf" || got[1] != "ply" {
		t.Errorf("%v, want mdf before ply", got)
	}
	r, err := Plan(context.Background(), p, nest.Settings{Budget: 2})
	if err != nil {
		t.Fatal(err)
	}
	last := 0
	for i := range r.Plan.Sheets {
		at := map[string]int{"ply": 0, "mdf": 1}[p.Stocks[r.Plan.Sheets[i].Stock].Material]
		if at < last {
			t.Error("a sheet of ply after one of mdf")
		}
		last = at
	}
	if last != 1 {
		t.Error("no sheet of mdf")
	}
}

// Materials are solved apart and joined under their own numbers.
func TestMaterials(t *testing.T) {
	for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
		p := problem(cut)
		r, err := Plan(context.Background(), p, nest.Settings{Budget: 2})
		if err != nil {
			t.Fatal(err)
		}
		if err := check.Plan(p, r.Plan); err != nil {
			t.Errorf("%v: %v", cut, err)
		}
		if len(r.Plan.Unplaced) > 0 || r.Plan.Placed() != p.Copies() {
			t.Errorf("%v: %d of %d placed", cut, r.Plan.Placed(), p.Copies())
		}
		// 6 shelves and 4 sides are 2.7 m2: a large and a small sheet at most.
		if c := cost(p, r.Plan); c > 2*20+90+60 {
			t.Errorf("%v: cost %d on %d sheets", cut, c, len(r.Plan.Sheets))
		}
		if r.Bound.Cost > cost(p, r.Plan) || r.Bound.Sheets > len(r.Plan.Sheets) {
			t.Errorf("%v: bound %+v above the plan", cut, r.Bound)
		}
	}
}

// Same seed and budget: same plan, whatever the number of workers.
func TestSameForAnyWorkers(t *testing.T) {
	for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
		var first []byte
		for _, workers := range []int{1, 2, 4} {
			r, err := Plan(context.Background(), problem(cut), nest.Settings{Seed: 3, Budget: 3, Workers: workers})
			if err != nil {
				t.Fatal(err)
			}
			b, err := json.Marshal(r.Plan)
			if err != nil {
				t.Fatal(err)
			}
			if first == nil {
				first = b
			}
			if !bytes.Equal(first, b) {
				t.Errorf("%v: %d workers gave another plan", cut, workers)
			}
		}
	}
}

// A context that is over still gives a judged plan, at once.
func TestInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	for _, cut := range []kerf.Cut{kerf.Saw, kerf.Router} {
		start := time.Now()
		p := problem(cut)
		r, err := Plan(ctx, p, nest.Settings{Budget: -1})
		if err != nil {
			t.Fatal(err)
		}
		if r.Plan.Placed() == 0 {
			t.Errorf("%v: nothing placed", cut)
		}
		if d := time.Since(start); d > 2*time.Second {
			t.Errorf("%v: took %v", cut, d)
		}
	}
}

func TestDeadline(t *testing.T) {
	ctx, cancel := context.WithTimeout(context.Background(), 300*time.Millisecond)
	defer cancel()
	start := time.Now()
	for _, cut := range []kerf.Cut{kerf.Saw} {
		if _, err := Plan(ctx, problem(cut), nest.Settings{Budget: -1, Workers: 2}); err != nil {
			t.Fatal(err)
		}
	}
	if d := time.Since(start); d > 1500*time.Millisecond {
		t.Errorf("a limit of 0.3 s took %v", d)
	}
}

func TestEmpty(t *testing.T) {
	r, err := Plan(context.Background(), &nest.Problem{}, nest.Settings{})
	if err != nil || len(r.Plan.Sheets) != 0 || r.Status == nest.Incomplete {
		t.Errorf("%+v, %v", r, err)
	}
}

// More area placed comes first, then cost, then sheets, then the offcut.
func TestBetter(t *testing.T) {
	p := problem(kerf.Saw)
	sheet := func(stock int, keep ...geom.Box) nest.Sheet {
		s := nest.Sheet{Stock: stock}
		for _, b := range keep {
			s.Offcuts = append(s.Offcuts, nest.Offcut{Box: b, Keep: true})
		}
		return s
	}
	box := func(l, w length.Length) geom.Box { return geom.BoxFromSize(geom.Point{}, geom.Pt(l*mm, w*mm)) }
	for _, c := range []struct {
		name string
		a, b *nest.Plan
	}{
		{"placed", &nest.Plan{Sheets: []nest.Sheet{sheet(1), sheet(1)}}, &nest.Plan{Unplaced: []nest.Unplaced{{Part: 0, Copies: 1}}}},
		{"cost", &nest.Plan{Sheets: []nest.Sheet{sheet(2)}}, &nest.Plan{Sheets: []nest.Sheet{sheet(1)}}},
		{"offcut", &nest.Plan{Sheets: []nest.Sheet{sheet(1, box(900, 500))}}, &nest.Plan{Sheets: []nest.Sheet{sheet(1, box(800, 500), box(800, 500))}}},
	} {
		if !better(p, c.a, c.b) || better(p, c.b, c.a) {
			t.Errorf("%s: the better plan is not seen", c.name)
		}
	}
}
