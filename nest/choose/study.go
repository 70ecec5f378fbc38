package choose

import (
	"context"
	"slices"
	"sync/atomic"

	"panelyard/nest"
	"panelyard/nest/bound"
	"panelyard/nest/check"
	"panelyard/nest/order"
)

// studying is a bound that is worked out, if need be while the search goes on.
type studying struct {
	ready chan struct{} // closed when there is something to tell
	known bound.Known
	more  atomic.Pointer[bound.Known] // what is known by now, once that is more
	done  chan struct{}               // closed when nothing more is sought
}

// startStudy bounds a problem. The bound comes before the search, which it tells what to try,
// and a deadline leaves no time for it afterwards.
//
// Under a deadline a quick bound comes first. It may take a quarter of the time that ctx has
// left; with more than one worker it then goes on beside the search, and so does a better one:
// a patient one where the search has no budget. What that finds out is told at once.
func startStudy(ctx context.Context, p *nest.Problem, set nest.Settings) *studying {
	s := &studying{ready: make(chan struct{}), done: make(chan struct{})}
	look := func(ctx context.Context, e bound.Effort) bound.Known {
		w := bound.Wishes{Effort: e, Above: aboveBound, Most: mostTried}
		if e == bound.Patient {
			w.Told = func(material string, l bound.Limits) { s.add(bound.Known{material: l}) }
		}
		return bound.Study(ctx, p, w)
	}
	_, timed := ctx.Deadline()
	if !timed {
		s.known = look(ctx, bound.Usual)
		close(s.ready)
		close(s.done)
		return s
	}
	bctx, cancel := share(ctx, 1, 4)
	if set.Workers < 2 {
		defer cancel()
		s.known = look(bctx, bound.Quick)
		close(s.ready)
		s.add(look(bctx, bound.Usual))
		close(s.done)
		return s
	}
	go func() {
		defer cancel()
		defer close(s.done)
		s.known = look(ctx, bound.Quick)
		close(s.ready)
		better := bound.Patient
		if set.Budget >= 0 {
			better = bound.Usual
		}
		s.add(look(ctx, better))
	}()
	select {
	case <-s.ready:
	case <-bctx.Done():
	}
	return s
}

// add takes over what another study found out.
func (s *studying) add(known bound.Known) {
	all := s.sofar().And(known)
	s.more.Store(&all)
}

// sofar returns what is known by now, nothing at first.
func (s *studying) sofar() bound.Known {
	if all := s.more.Load(); all != nil {
		return *all
	}
	select {
	case <-s.ready:
		return s.known
	default:
		return nil
	}
}

// tell returns settings with what the bound says of a material, in numbers of its own
// parts and stocks, as far as it says anything yet.
func (s *studying) tell(set nest.Settings, material string, partOf, stockOf []int) nest.Settings {
	set.Mixes = nil
	set.Least = func() int64 { return s.sofar()[material].Cost }
	var last, own *nest.Plan
	set.Found = func() *nest.Plan {
		if plan := s.sofar()[material].Plan; plan != last {
			last, own = plan, plan.Within(partOf, stockOf)
		}
		return own
	}
	for _, mix := range s.sofar()[material].Mixes {
		n := make([]int, len(stockOf))
		for j, i := range stockOf {
			n[j] = mix[i]
		}
		set.Mixes = append(set.Mixes, n)
	}
	return set
}

// end waits for what is known in the end, which is soon where a plan is proved by what is
// known already; stop ends the study.
func (s *studying) end(p *nest.Problem, plan *nest.Plan, stop func()) bound.Known {
	<-s.ready
	if status(p, plan, s.sofar().Bound()) == nest.Proved {
		stop()
	}
	<-s.done
	return s.sofar()
}

// orStudied returns a plan of some materials put together, or the plan in which a material is
// laid out as the study of it found out, where that costs less and the judge accepts it.
func orStudied(p *nest.Problem, found map[string]*candidate, known bound.Known) *nest.Plan {
	together := func() *nest.Plan {
		all := &nest.Plan{}
		for _, m := range p.Materials() {
			all.Sheets = append(all.Sheets, found[m].Plan.Sheets...)
			all.Unplaced = append(all.Unplaced, found[m].Plan.Unplaced...)
		}
		return all
	}
	for _, m := range p.Materials() {
		was, plan := found[m].Plan, known[m].Plan
		if plan == nil || hopeless(p, m, plan) || len(was.Unplaced) == 0 && cost(p, plan) >= cost(p, was) {
			continue
		}
		cut := &nest.Plan{Sheets: slices.Clone(plan.Sheets)}
		if order.Plan(p, cut) != nil {
			continue
		}
		found[m].Plan = cut
		if check.Plan(p, together()) != nil {
			found[m].Plan = was
		}
	}
	return together()
}

// hopeless reports whether panels of a material are not in a plan of it: those that fit no
// sheet.
func hopeless(p *nest.Problem, material string, plan *nest.Plan) bool {
	sub, _, _ := p.Subset(material)
	return plan.Placed() < sub.Copies()
}
