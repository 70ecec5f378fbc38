package choose

import (
	"context"

	"panelyard/nest"
	"panelyard/nest/bound"
)

// studying is a bound that is worked out, if need be while the search goes on.
type studying struct {
	ready  chan struct{} // closed when the rest is there
	bound  nest.Bound
	limits map[string]bound.Limits
}

// startStudy bounds a problem. The bound comes before the search, which it tells what to try,
// and a deadline leaves no time for it afterwards. It may take a quarter of the time that
// ctx has left; with more than one worker it then goes on beside the search, until ctx
// ends.
func startStudy(ctx context.Context, p *nest.Problem, workers int) *studying {
	s := &studying{ready: make(chan struct{})}
	work := func(ctx context.Context) {
		s.bound, s.limits = bound.Study(ctx, p, aboveBound, mostTried)
		close(s.ready)
	}
	bctx, cancel := share(ctx, 1, 4)
	defer cancel()
	if _, timed := ctx.Deadline(); !timed || workers < 2 {
		work(bctx)
		return s
	}
	go work(ctx)
	select {
	case <-s.ready:
	case <-bctx.Done():
	}
	return s
}

// tell returns settings with what the bound says of a material, in numbers of its own
// stocks, or with a worker less while it says nothing yet.
func (s *studying) tell(set nest.Settings, material string, stockOf []int) nest.Settings {
	set.Least, set.Mixes = 0, nil
	select {
	case <-s.ready:
	default:
		set.Workers--
		return set
	}
	known := s.limits[material]
	set.Least = known.Cost
	for _, mix := range known.Mixes {
		n := make([]int, len(stockOf))
		for j, i := range stockOf {
			n[j] = mix[i]
		}
		set.Mixes = append(set.Mixes, n)
	}
	return set
}
