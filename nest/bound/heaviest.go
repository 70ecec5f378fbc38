package bound

import "math"

const (
	// mostHeavier is how many additions listing those of a kind of sheet may take.
	mostHeavier = columnWork / 14
	// mostLeaning is how often patterns are listed that are to hold everything.
	mostLeaning = 3
	// fewShare is which part of the work of seeking a plan it is sought among fewer patterns.
	fewShare = 4
	// firstPart is which part of the slack the first list has, and leanedPart by weights that lean:
	// no sheet may reach what they say then.
	firstPart, leanedPart = 64, 512
	// mostGrowth and leastGrowth are by how much the slack grows from list to list; steeper by how
	// much more than before the number of patterns is thought to grow with it then, and fewGrown how
	// many there must be to tell.
	mostGrowth, leastGrowth, steeper, fewGrown = 1.5, 1.1, 1.3, 20
)

// mostHeaviest is of how many patterns of a kind of sheet the likely ones are put together, the
// first time and the next.
var mostHeaviest = []int{12_000, 60_000}

// sought seeks a plan among the heaviest patterns with a part of the work that is left, and reports
// whether one was found: among fewer of them first, that are listed soon.
func (w *whole) sought(p *pricing, duals []float64, part int) bool {
	w = w.within(part)
	weights := leaning(p, duals)
	var all annealers
	var t *choice
	for i, most := range mostHeaviest {
		var o *odds
		if t, o = w.heaviest(p, weights, most, t); o != nil {
			all.add(o, i)
		}
		now := w
		if i < len(mostHeaviest)-1 {
			now = w.within(fewShare)
		}
		if held := all.seek(now); held != nil {
			return w.lays(held)
		}
	}
	return false
}

// heaviest lists some of the patterns that weigh enough, the heaviest of each kind of sheet, and adds
// those of another question, if any: a plan in which many sheets give away a little has no others.
// Where they cannot hold everything, more are listed by weights that lean to what they lack. It
// returns their odds, too, if there are any.
func (w *whole) heaviest(p *pricing, weights []float64, most int, t *choice) (*choice, *odds) {
	part := int32(firstPart)
	var o *odds
	for n := 0; n < mostLeaning && !w.spent(); n++ {
		if o != nil {
			weights, part = w.towards(p, weights, o.tilt), leanedPart
		}
		more := w.heaviestBy(p, weights, most, part)
		if more == nil {
			break
		}
		if fresh := more.addOf(t); !fresh && o != nil {
			continue // they lean more the next time
		}
		t = more
		if o = newOdds(t); o.some {
			return t, o
		}
	}
	return t, nil
}

// heaviestBy lists the heaviest patterns of each kind of sheet by some weights, with a part of the
// slack first. It returns nil when even those are too many.
func (w *whole) heaviestBy(p *pricing, weights []float64, most int, part int32) *choice {
	t, slack, _ := w.question(p, weights, min(w.b.patterns, most))
	if t == nil {
		return nil
	}
	t.lister.best = true
	for _, j := range w.largestFirst(p) {
		best := t.grown(j, slack/part, slack)
		if len(best) == 0 {
			return nil
		}
		t.addAll(j, best)
	}
	t.lister.release()
	if p.exact {
		t.addFound()
	}
	return t
}

// grown lists the heaviest patterns of a kind of sheet: with a share of the slack first, and then
// with more as long as they are few and more are listed in time.
func (t *choice) grown(j int, share, slack int32) (best []uint64) {
	var last round
	for {
		*t.work += t.losses(j).spread(share)
		before := *t.work
		list, ok := t.near(j, share, mostHeavier)
		if !ok {
			return best
		}
		best = list
		now := round{float64(share), float64(len(list) / t.lister.stride()), float64(len(t.lister.all))}
		if share == slack || now.patterns >= float64(t.lister.most) {
			return best
		}
		inTime := now.builds * mostHeavier / float64(max(*t.work-before, 1))
		more := min(mostGrowth,
			now.until(last, now.patterns, last.patterns, 1.1*float64(t.lister.most)),
			now.until(last, now.builds, last.builds, min(mostBuilds, inTime)))
		if more < leastGrowth {
			return best
		}
		last = now
		share = int32(min(float64(slack), float64(share)*more+1))
	}
}

// round is with which slack patterns were listed, how many, and how many builds that took.
type round struct{ slack, patterns, builds float64 }

// until returns how many times the slack a number reaches most that was before with the last one:
// it goes with a power of the slack, which grows itself.
func (r *round) until(last round, now, before, most float64) float64 {
	if before < fewGrown {
		return mostGrowth
	}
	power := steeper * math.Log(now/before) / math.Log(r.slack/last.slack)
	return math.Pow(most/now, 1/max(power, 1))
}
