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
)

// A bound that is not there yet tells nothing and takes a worker; then it tells the mixes
// of a material in numbers of its own stocks.
func TestTell(t *testing.T) {
	s := &studying{ready: make(chan struct{})}
	set := nest.Settings{Seed: 3, Workers: 2, Least: 7, Mixes: [][]int{{9}}}
	if got := s.tell(set, "ply", []int{1, 2}); !reflect.DeepEqual(got, nest.Settings{Seed: 3, Workers: 1}) {
		t.Errorf("%+v before the bound is there", got)
	}
	s.limits = map[string]bound.Limits{"ply": {Cost: 150, Mixes: [][]int{{0, 1, 1}, {0, 0, 3}}}}
	close(s.ready)
	want := nest.Settings{Seed: 3, Workers: 2, Least: 150, Mixes: [][]int{{1, 1}, {0, 3}}}
	if got := s.tell(set, "ply", []int{1, 2}); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// Under a deadline the bound is the same whether it comes before the search or goes on
// beside it, as long as there is time for it, and a plan comes within the deadline.
func TestStudyBeside(t *testing.T) {
	p := problem(kerf.Saw)
	want := bound.Of(context.Background(), p)
	for _, workers := range []int{1, 2} {
		ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
		s := startStudy(ctx, p, workers)
		<-s.ready
		cancel()
		if s.bound != want {
			t.Errorf("%d workers: %+v, want %+v", workers, s.bound, want)
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
