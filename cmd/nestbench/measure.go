package main

import (
	"context"
	"fmt"
	"math"
	"sync"
	"time"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/nest/bound"
	"panelyard/nest/check"
	"panelyard/nest/router"
	"panelyard/nest/saw"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// stage is a solver and its share of the time that is left when it begins.
type stage struct {
	solver nest.Solver
	cut    kerf.Cut // what the solver is asked for
	share  float64
}

// solverChoice returns the solvers for a way to cut. Later ones have what time
// is left; the best plan counts.
type solverChoice func(cut string, rectangles bool) []stage

// solversFor is the choice of the program.
func solversFor(cut string, rectangles bool) []stage {
	switch {
	case cut == "saw":
		return []stage{{saw.New(), kerf.Saw, 1}}
	case rectangles:
		// Straight cuts are one way to lay rectangles, and often the better search.
		return []stage{{saw.New(), kerf.Saw, 0.5}, {router.New(), kerf.Router, 1}}
	}
	return []stage{{router.New(), kerf.Router, 1}}
}

// result is a judged layout of an instance.
type result struct {
	in       *instance
	cut      string
	grid     *grid
	plan     *nest.Plan
	solver   string
	bins     int
	length   float64 // of a strip that is used
	density  float64 // share of the bins, or of the used strip, that pieces cover
	squared  float64 // F: mean of the squared shares of the bins
	bound    float64 // bins, or length
	unplaced int
	seconds  float64
	curve    []sample
}

// sample is how good the best layout was at a time; value is a density for a strip,
// or a number of bins, and 0 when there was no layout.
type sample struct{ seconds, value float64 }

// measure lets the solvers work on an instance and has the best layout judged.
// The error is for instances no solver takes, and for layouts the judge refuses.
func measure(ctx context.Context, in *instance, o *options, solvers solverChoice, m *meter) (*result, error) {
	_, odd := in.oddPiece()
	cut := kerf.Router
	if o.cut == "saw" {
		cut = kerf.Saw
	}
	g, err := newGrid(in, cut)
	if err != nil {
		return nil, err
	}
	r := &result{in: in, cut: o.cut, grid: g}
	start := time.Now()
	r.bound = g.bound(ctx, in)
	ctx, cancel := context.WithTimeout(ctx, o.limit)
	defer cancel()
	w := &watch{r: r, start: start, m: m, reached: cancel}
	var refused error
	for _, s := range solvers(o.cut, !odd) {
		if ctx.Err() != nil && r.plan != nil {
			break
		}
		plan, err := g.solve(ctx, s, o, w.progress)
		if err != nil {
			refused = fmt.Errorf("%s: %w", s.solver.Name(), err)
			continue
		}
		if r.plan == nil || g.worth(plan).less(g.worth(r.plan)) {
			r.plan, r.solver = plan, s.solver.Name()
		}
	}
	if refused != nil {
		return nil, refused
	}
	r.seconds = time.Since(start).Seconds()
	r.count()
	r.curve = w.curve(o.curve)
	return r, nil
}

// solve returns a plan of a solver that the judge accepts.
func (g *grid) solve(ctx context.Context, s stage, o *options, watch func(nest.Progress)) (*nest.Plan, error) {
	if end, ok := ctx.Deadline(); ok && s.share < 1 {
		var cancel context.CancelFunc
		ctx, cancel = context.WithTimeout(ctx, time.Duration(float64(time.Until(end))*s.share))
		defer cancel()
	}
	q := *g.problem
	q.Cut = s.cut
	budget := -1
	if o.rounds > 0 {
		budget = o.rounds
	}
	plan, _, err := s.solver.Solve(ctx, &q, nest.Settings{Seed: o.seed, Budget: budget, Workers: o.threads, Watch: watch})
	if err != nil {
		return nil, err
	}
	if s.cut == kerf.Saw && g.problem.Cut == kerf.Router {
		for i := range plan.Sheets {
			plan.Sheets[i].Cuts = nil
		}
	}
	if err := check.Plan(g.problem, plan); err != nil {
		return nil, fmt.Errorf("the judge refused the layout, a defect of panelyard: %w", err)
	}
	return plan, nil
}

// bound returns the least bins, or the least length in units of the instance.
func (g *grid) bound(ctx context.Context, in *instance) float64 {
	if !g.exact {
		// What was grown must not count: outlines are shrunk for the bound, and the
		// container is rounded up.
		h := &grid{scale: g.scale}
		if h.build(in, g.problem.Cut, -growth) != nil {
			return 0 // a piece has no area left: nothing is certain
		}
		st := &h.problem.Stocks[0]
		st.Size = st.Size.Add(geom.Pt(1, 1))
		st.Usable.Max = st.Size
		g = h
	}
	if g.problem.Strip {
		return float64(bound.StripLength(g.problem)) / g.scale
	}
	return float64(bound.Of(ctx, g.problem).Sheets)
}

// worth is how good a plan is; less is better.
type worth struct {
	unplaced, bins int
	used           length.Length
	squared        float64 // minus F times bins
}

func (a worth) less(b worth) bool {
	switch {
	case a.unplaced != b.unplaced:
		return a.unplaced < b.unplaced
	case a.bins != b.bins:
		return a.bins < b.bins
	case a.used != b.used:
		return a.used < b.used
	}
	return a.squared < b.squared
}

func (g *grid) worth(plan *nest.Plan) worth {
	w := worth{bins: len(plan.Sheets)}
	for _, u := range plan.Unplaced {
		w.unplaced += u.Copies
	}
	whole := g.problem.Stocks[0].Size
	for i := range plan.Sheets {
		area := 0.0
		for _, pl := range plan.Sheets[i].Placements {
			area += float64(g.problem.Parts[pl.Part].Shape.Area2()) / 2
			if g.problem.Strip {
				shape, _ := g.problem.Place(pl)
				w.used = max(w.used, shape.Box().Max.X)
			}
		}
		w.squared -= math.Pow(area/(float64(whole.X)*float64(whole.Y)), 2)
	}
	return w
}

// count works the figures of a result out.
func (r *result) count() {
	w := r.grid.worth(r.plan)
	r.bins, r.unplaced = w.bins, w.unplaced
	if r.bins == 0 {
		return
	}
	r.squared = -w.squared / float64(r.bins)
	placed := 0.0
	for i := range r.plan.Sheets {
		for _, pl := range r.plan.Sheets[i].Placements {
			placed += r.in.Pieces[pl.Part].area()
		}
	}
	c := r.in.Container
	if !r.in.strip() {
		r.density = placed / (float64(r.bins) * c.Width * c.Height)
		return
	}
	// From the true outlines, which growing for the grid does not lengthen.
	for _, pl := range r.plan.Sheets[0].Placements {
		for _, p := range r.grid.rings(r.in, pl)[0] {
			r.length = max(r.length, p[0])
		}
	}
	r.density = placed / (c.Width * r.length)
}

// best returns the best known bins or length, 0 when none is known.
func (in *instance) best() float64 {
	if in.strip() {
		return in.bestLength
	}
	return float64(in.OptimalBins)
}

// value returns the bins or the length.
func (r *result) value() float64 {
	if r.in.strip() {
		return r.length
	}
	return float64(r.bins)
}

// ratio returns the result over the best known, and whether there is one: pieces
// must all be placed.
func (r *result) ratio() (float64, bool) {
	if r.in.best() == 0 || r.unplaced > 0 || r.bins == 0 {
		return 0, false
	}
	return r.value() / r.in.best(), true
}

// watch takes the progress of the solvers of an instance.
type watch struct {
	r       *result
	start   time.Time
	m       *meter
	reached func() // called when the bound is reached

	mu   sync.Mutex
	told []sample
}

// progress takes a better plan of a solver. A solver for straight cuts does not
// tell the length of a strip.
func (w *watch) progress(p nest.Progress) {
	in, value := w.r.in, float64(p.Sheets)
	if in.strip() {
		value = float64(p.Used) / w.r.grid.scale
	}
	if value == 0 {
		return
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	if n := len(w.told); n > 0 && value >= w.told[n-1].value {
		return
	}
	w.told = append(w.told, sample{time.Since(w.start).Seconds(), value})
	w.m.show(w.r, value)
	if value <= w.r.bound {
		w.reached()
	}
}

// curve returns how good the best layout was at some times. The judged result
// stands from when the search ended.
func (w *watch) curve(at []float64) []sample {
	w.mu.Lock()
	defer w.mu.Unlock()
	list := make([]sample, 0, len(at))
	for _, t := range at {
		v := 0.0
		for _, s := range w.told {
			if s.seconds <= t {
				v = s.value
			}
		}
		if t >= w.r.seconds {
			v = w.r.value()
		}
		if v > 0 && w.r.in.strip() {
			v = w.r.in.area / (v * w.r.in.Container.Width)
		}
		list = append(list, sample{t, v})
	}
	return list
}
