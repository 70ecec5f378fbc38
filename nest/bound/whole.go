package bound

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// verdict is what is known of a mix of sheets for which there is enough in fractions of
// patterns.
type verdict int

const (
	undecided verdict = iota
	ruledOut          // no whole patterns hold all panels
	held              // some do
)

const (
	// mostListed is how many patterns of a kind of sheet are listed, and mostWhole of how
	// many kinds of blanks they may be.
	mostListed, mostWhole = 300_000, 100
	// mostListing is how many additions listing all those of a kind of sheet may take: what is
	// not known by then is hardly ever known soon, and plans are sought with the time.
	mostListing = columnWork / 20
	// leastMore is how much more of what is wanted a mix may hold, of kinds that were made
	// one.
	leastMore = 1e-4
	// firstLook is which part of the work branching takes before a plan is sought in another
	// way: mixes that can be ruled out mostly are soon. alikeShare is which part finding kinds
	// that are alike takes.
	firstLook, alikeShare = 8, 24
	// finer is by how much a table takes longer that is to decide about a mix, and
	// leastTables for how many of them there must be time.
	finer, leastTables = 4, 40
)

// whole decides whether whole patterns of a mix of sheets hold all panels. Where fractions
// of patterns do, and little is to spare, whole ones often do not:
//
//  1. Weights are sought by which the sheets of the mix hold as little as possible more
//     than what is wanted: the slack.
//  2. A plan can only take patterns that weigh as much as a sheet can hold, less the slack.
//     They are listed, with no more copies of a kind than are wanted (proper.go). Kinds
//     that are nearly alike are made one before (alike.go): then what is ruled out is. What
//     is found is no plan, and the question is asked once more of the true kinds.
//  3. Branching tells whether as many of them as there are sheets hold everything
//     (branch.go), with conditions that only whole patterns keep (cuts.go).
//  4. What it does not tell soon is sought otherwise: of the heaviest patterns those that are
//     likely in a plan (odds.go) are put together by annealing (anneal.go). That rules nothing
//     out, but finds plans much sooner.
//
// That a bound and good weights leave few variables that can be in a solution is known as
// fixing by reduced costs; listing them all is from Baldacci, Christofides & Mingozzi, "An
// exact algorithm for the vehicle routing problem based on the set partitioning
// formulation with additional cuts", Mathematical Programming 115, 2008 (from memory).
type whole struct {
	ctx   context.Context
	b     *single // that conditions met on the way are for
	mix   []int
	until int  // of the work
	work  *int // additions, about
}

func (w *whole) spent() bool { return *w.work >= w.until || w.ctx.Err() != nil }

// decide returns the verdict on the mix. Where patterns hold the panels, a plan is kept.
func (w *whole) decide(p *pricing) verdict {
	duals, slack := w.weights(p)
	switch {
	case slack < 0:
		return ruledOut
	case duals == nil || w.spent():
		return undecided
	}
	// What is nearly alike is looked at as one: that is the quicker way to rule a mix out.
	few := w.within(alikeShare)
	q := alike(p, w.mix, duals, slack+max(slack/10, leastMore), func() bool {
		*w.work += 2*p.work() + 1_000_000 // its rasters, too
		return few.spent()
	})
	less := duals
	if q != p {
		if less, slack = w.weights(q); slack < 0 {
			return ruledOut
		}
	}
	t := w.list(q, less)
	if t != nil {
		v := t.soon()
		if v == held && q != p { // of the true kinds there are more patterns
			if t = w.list(p, duals); t != nil {
				v = t.soon()
			}
		}
		if v == ruledOut || v == held && t != nil && w.lays(t) {
			return v
		}
	}
	share := 2
	if t == nil {
		share = 1 // there is nothing else to do
	}
	if w.sought(p, duals, share) {
		return held
	}
	if t == nil {
		return undecided
	}
	// Once more, with the time that is left.
	t.whole = w
	switch v := t.decide(); {
	case v == ruledOut, v == held && t.p == p && w.lays(t):
		return v
	}
	return undecided
}

// lays lays out what patterns hold, and keeps the plan. Panels that weigh nothing may find no
// room.
func (w *whole) lays(t *choice) bool {
	plan, ok := t.fill(w.b.whole, w.b.index)
	if ok {
		w.b.plan = plan
		if w.b.tell != nil {
			w.b.tell()
		}
	}
	return ok
}

// within returns w with a part of the work that is left.
func (w *whole) within(part int) *whole {
	few := *w
	few.until = *w.work + (w.until-*w.work)/part
	return &few
}

// soon decides a question with a part of the work that is left.
func (t *choice) soon() verdict {
	t.whole = t.within(firstLook)
	return t.decide()
}

// question returns the question about patterns by weights, without any yet, with its slack
// and what a sheet of each kind weighs at most. It returns nil when patterns could have too
// many copies of a kind, or weights are too coarse.
func (w *whole) question(p *pricing, duals []float64, patterns int) (t *choice, slack int32, most []float64) {
	wanted, limit := make([]int, len(p.kinds)), make([]int, len(p.kinds))
	t = &choice{whole: w, p: p, wanted: wanted, areas: areasOf(p, w.mix)}
	t.weight, most = p.fill(duals)
	*w.work += p.work()
	more := int64(holds(w.mix, most)) // whole numbers that a float64 holds
	for k := range p.kinds {
		if t.weight[k] == 0 {
			continue // any number of them weighs the same: the question is asked without them
		}
		wanted[k] = int(p.kinds[k].copies)
		if limit[k] = min(wanted[k], p.fits(k)); limit[k] > mostCopies {
			return nil, 0, nil
		}
		more -= int64(wanted[k]) * int64(t.weight[k])
	}
	if more > math.MaxInt32 {
		return nil, 0, nil
	}
	t.lister = newLister(p.kinds, p.exact, limit, patterns)
	t.lost = make([]*losses, len(p.sheets))
	return t, int32(min(max(more, 0), mostReach)), most
}

// list lists the patterns that weigh enough. It returns nil when they are too many.
func (w *whole) list(p *pricing, duals []float64) *choice {
	if duals == nil || w.spent() {
		return nil
	}
	t, slack, most := w.question(p, duals, w.b.patterns)
	if t == nil {
		return nil
	}
	for _, j := range w.largestFirst(p) {
		if !w.listOf(t, j, slack, most[j]) {
			return nil
		}
	}
	t.lister.release()
	return t
}

// largestFirst returns the kinds of sheet of the mix. Large ones have most patterns, and may
// show that they are too many.
func (w *whole) largestFirst(p *pricing) []int {
	var list []int
	for j, n := range w.mix {
		if n > 0 {
			list = append(list, j)
		}
	}
	slices.SortStableFunc(list, func(a, b int) int {
		return -cmp.Compare(boxArea(p.sheets[a].w, p.sheets[a].h), boxArea(p.sheets[b].w, p.sheets[b].h))
	})
	return list
}

// near returns the patterns of a kind of sheet that weigh as much as it can hold, less a slack.
// It reports false when they are too many or take more additions than most, or than are left.
func (t *choice) near(j int, slack int32, most int) ([]uint64, bool) {
	before := t.lister.work
	list, ok := t.lister.near(t.ctx, t.losses(j), slack, min(t.until-*t.work, most))
	*t.work += t.lister.work - before
	return list, ok
}

// listOf lists the patterns of a kind of sheet: those of a lesser slack first, whose number
// tells soon when there are too many, and what listing them takes when it would be too long.
func (w *whole) listOf(t *choice, j int, slack int32, most float64) bool {
	var list []uint64
	builds, work := 0, 0
	for part := int32(64); part >= 1; part /= 4 {
		fewer, less, done := builds, work, t.lister.work
		var ok bool
		if list, ok = t.near(j, slack/part, mostListing); !ok {
			return false
		}
		builds, work = len(t.lister.all), t.lister.work-done
		if part > 1 && (len(list)/t.lister.stride() > t.lister.most/2 ||
			tooMany(fewer, builds, mostBuilds) || tooMany(less, work, mostListing)) {
			return false
		}
	}
	t.addAll(j, list)
	if float64(slack) >= most {
		t.add(j, make([]uint64, t.lister.stride())) // a sheet that stays whole
	}
	return true
}

// tooMany reports whether a number that grew will be more than most if it grows as much once
// more. Numbers of patterns grow ever faster.
func tooMany(before, now, most int) bool { return before > 0 && now*now/before > most }
