package choose

import (
	"context"
	"reflect"
	"testing"
	"time"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/bound"
	"panelyard/nest/bound/cabinets"
	"panelyard/nest/check"
	"panelyard/parts/geom"
)

// A bound that is not there yet tells nothing; then it tells the mixes of a material in
// numbers of its own stocks, the least cost that is known in the end, and a plan that was
// found in numbers of its own parts, once.
func TestTell(t *testing.T) {
	s := &studying{ready: make(chan struct{}), done: make(chan struct{})}
	set := nest.Settings{Seed: 3, Workers: 2, Mixes: [][]int{{9}}}
	before := s.tell(set, "ply", []int{3, 4}, []int{1, 2})
	if before.Least() != 0 || before.Found() != nil || before.Mixes != nil || before.Workers != 2 || before.Seed != 3 {
		t.Errorf("%+v before the bound is there", before)
	}
	s.known = bound.Known{"ply": {Cost: 150, Mixes: [][]int{{0, 1, 1}, {0, 0, 3}}}}
	close(s.ready)
	got := s.tell(set, "ply", []int{3, 4}, []int{1, 2})
	if got.Least() != 150 || before.Least() != 150 || !reflect.DeepEqual(got.Mixes, [][]int{{1, 1}, {0, 3}}) {
		t.Errorf("%+v, want a cost of 150 and two mixes", got)
	}
	plan := &nest.Plan{Sheets: []nest.Sheet{{Stock: 2, Placements: []nest.Placement{{Part: 4, Copy: 1, At: geom.Pt(5*mm, 5*mm)}}}}}
	s.add(bound.Known{"ply": {Cost: 160, Plan: plan}})
	own := &nest.Plan{Sheets: []nest.Sheet{{Stock: 1, Placements: []nest.Placement{{Part: 1, Copy: 1, At: geom.Pt(5*mm, 5*mm)}}}}}
	if found := before.Found(); !reflect.DeepEqual(found, own) || before.Found() != found || plan.Sheets[0].Placements[0].Part != 4 {
		t.Errorf("a plan %+v was told, want %+v", found, own)
	}
	if got.Least() != 160 {
		t.Errorf("a cost of %d in the end, want 160", got.Least())
	}
}

// Under a deadline the bound is the same whether it comes before the search or goes on
// beside it, as long as there is time for it, and a plan comes within the deadline.
func TestStudyBeside(t *testing.T) {
	p := problem(kerf.Saw)
	want := bound.Of(context.Background(), p)
	for _, workers := range []int{1, 2} {
		ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
		s := startStudy(ctx, p, nest.Settings{Workers: workers})
		<-s.done
		cancel()
		if got := s.sofar().Bound(); got != want {
			t.Errorf("%d workers: %+v, want %+v", workers, got, want)
		}
	}
	large := cabinets.New(8, cabinets.Wishes{Panels: 230, Stocks: 4})
	for _, limit := range []time.Duration{0, 300 * time.Millisecond} {
		ctx, cancel := context.WithTimeout(context.Background(), limit)
		start := time.Now()
		r, err := Plan(ctx, large, nest.Settings{Budget: -1, Workers: 2})
		cancel()
		if err != nil {
			t.Fatal(err)
		}
		if err := check.Plan(large, r.Plan); err != nil {
			t.Error(err)
		}
		if took := time.Since(start); took > limit+3*time.Second {
			t.Errorf("a limit of %v took %v", limit, took)
		}
		if cost(large, r.Plan) < r.Bound.Cost {
			t.Errorf("a plan for %d, the bound is %d", cost(large, r.Plan), r.Bound.Cost)
		}
	}
}

// A plan that the study of a problem found takes the place of a dearer one, with its cuts and
// accepted by the judge; not of one that costs as much, and not when the saw cannot cut it.
func TestOrStudied(t *testing.T) {
	// Strips of which fractions of patterns need two sheets and whole ones three; see
	// bound.TestWholePublished.
	p := problem(kerf.Saw)
	p.Kerf, p.Gap = 0, 0
	p.Parts = []nest.Part{part("a", "ply", 2, 44, 10), part("b", "ply", 3, 33, 10), part("c", "ply", 6, 12, 10)}
	p.Stocks = []nest.Stock{stock("ply", "ply", 142, 20, 70)}
	const m = "ply"
	known := bound.Study(context.Background(), p, bound.Wishes{Effort: bound.Usual})
	if known[m].Plan == nil {
		t.Fatal("no plan was found by the study")
	}
	dear := &nest.Plan{} // a sheet for each panel
	for i := range p.Parts {
		for n := range p.Parts[i].Copies {
			dear.Sheets = append(dear.Sheets, nest.Sheet{Placements: []nest.Placement{{Part: i, Copy: n + 1, At: geom.Pt(5*mm, 5*mm)}}})
		}
	}
	found := map[string]*candidate{m: {Plan: dear}}
	got := orStudied(p, found, known)
	if err := check.Plan(p, got); err != nil {
		t.Fatal(err)
	}
	if len(got.Sheets) != 3 || len(got.Sheets[0].Cuts) == 0 || len(known[m].Plan.Sheets[0].Cuts) > 0 {
		t.Errorf("%d sheets, want 3; %d cuts", len(got.Sheets), len(got.Sheets[0].Cuts))
	}
	was := found[m].Plan
	if orStudied(p, found, known); found[m].Plan != was {
		t.Error("a plan took the place of one that costs as much")
	}
	found[m].Plan = dear
	p.Saw.Stages = 1
	if orStudied(p, found, known); found[m].Plan != dear {
		t.Error("a plan of more stages than the saw has took the place of another")
	}
	p.Saw.Stages = 0
	p.Parts[0].Copies++ // which fits nowhere, say
	if orStudied(p, found, known); found[m].Plan != dear {
		t.Error("a plan without a panel took the place of another")
	}
}
