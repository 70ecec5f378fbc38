package saw

import (
	"testing"

	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// bare returns a plan without its cuts and offcuts, as others would find it.
func bare(plan *nest.Plan) *nest.Plan {
	b := &nest.Plan{}
	for _, s := range plan.Sheets {
		b.Sheets = append(b.Sheets, nest.Sheet{Stock: s.Stock, Placements: s.Placements})
	}
	return b
}

// spent returns what the sheets of a plan cost.
func spent(p *nest.Problem, plan *nest.Plan) int64 {
	var sum int64
	for _, s := range plan.Sheets {
		sum += p.Stocks[s.Stock].Cost
	}
	return sum
}

// A plan that costs less is taken over, with cuts that the judge accepts; it counts as a better
// one, from which all chains go on. One that costs more is left alone, and so is any where
// stages are limited.
func TestAdopts(t *testing.T) {
	p := big(120)
	good, poor := solve(t, p, nest.Settings{Seed: 1}), solve(t, p, nest.Settings{Seed: 1, Budget: 1})
	if spent(p, good) >= spent(p, poor) {
		t.Fatal("a longer search found no cheaper plan")
	}
	asked := 0
	took := solve(t, p, nest.Settings{Seed: 1, Budget: 1, Found: func() *nest.Plan { asked++; return bare(good) }})
	if spent(p, took) > spent(p, good) || asked == 0 {
		t.Errorf("a plan for %d, one for %d was told of %d times", spent(p, took), spent(p, good), asked)
	}
	left := solve(t, p, nest.Settings{Seed: 1, Budget: 1, Found: func() *nest.Plan { return bare(poor) }})
	if spent(p, left) != spent(p, poor) {
		t.Errorf("a plan for %d, want that for %d without any help", spent(p, left), spent(p, poor))
	}
	p.Saw = parts.Saw{Kind: parts.BeamSaw, Stages: 6}
	alone, told := solve(t, p, nest.Settings{Seed: 1, Budget: 1}), solve(t, p, nest.Settings{Seed: 1, Budget: 1, Found: func() *nest.Plan { return bare(good) }})
	if spent(p, alone) != spent(p, told) {
		t.Errorf("with stages a plan for %d, and for %d when told of one", spent(p, alone), spent(p, told))
	}
}

// Plans that are none of the job are not taken over: of sheets or panels that it has not, of
// more than there are, over the edge, or without a straight cut through.
func TestStateOf(t *testing.T) {
	p := &nest.Problem{Parts: []nest.Part{part("a", 4, 600*mm, 300*mm, parts.NoAxis), part("b", 1, 300*mm, 300*mm, parts.NoAxis)}}
	p.Stocks = []nest.Stock{stock("s", 910*mm, 910*mm, 5*mm, parts.NoAxis, 30, 1)}
	j := newJob(p, p.Parts[0].Material)
	at := func(i, n, turn int, x, y length.Length) nest.Placement { // in squares of 300 mm
		return nest.Placement{Part: i, Copy: n, Turn: turn, At: geom.Pt(5*mm+x*300*mm, 5*mm+y*300*mm)}
	}
	one := func(list ...nest.Placement) *nest.Plan { return &nest.Plan{Sheets: []nest.Sheet{{Placements: list}}} }
	st := j.stateOf(one(at(0, 1, 0, 0, 0), at(0, 2, 0, 0, 1), at(0, 3, 90, 2, 0)))
	if st == nil || st.count != 2 || st.open != 1 || st.cost != 30 {
		t.Fatalf("%+v of a plan that leaves two", st)
	}
	if st := j.stateOf(&nest.Plan{}); st == nil || st.count != 5 || st.open != 0 {
		t.Errorf("%+v of an empty plan", st)
	}
	wheel := one(at(0, 1, 0, 0, 0), at(0, 2, 90, 2, 0), at(0, 3, 0, 1, 2), at(0, 4, 90, 0, 1), at(1, 1, 0, 1, 1))
	two := &nest.Plan{Sheets: append(one(at(0, 1, 0, 0, 0)).Sheets, one(at(0, 2, 0, 0, 0)).Sheets...)}
	other := one(at(0, 1, 0, 0, 0))
	other.Sheets[0].Stock = 7
	for name, plan := range map[string]*nest.Plan{
		"a wheel":           wheel,
		"two sheets of one": two,
		"another stock":     other,
		"another part":      one(at(9, 1, 0, 0, 0)),
		"too many":          one(at(1, 1, 0, 0, 0), at(1, 2, 0, 1, 0)),
		"over the edge":     one(at(0, 1, 0, 0, 0), at(0, 2, 0, 2, 0)),
	} {
		if j.stateOf(plan) != nil {
			t.Errorf("%s was taken", name)
		}
	}
}
