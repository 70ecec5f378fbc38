package saw

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
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

func part(name string, copies int, l, w length.Length, grain parts.Axis) nest.Part {
	size := geom.Pt(l, w)
	return nest.Part{
		Name: name, Material: "ply", Copies: copies, Blank: size, Grain: grain,
		Shape: geom.Polygon{Outer: geom.BoxFromSize(geom.Point{}, size).Ring()},
	}
}

func stock(name string, l, w, trim length.Length, grain parts.Axis, cost int64, available int) nest.Stock {
	size := geom.Pt(l, w)
	return nest.Stock{
		Name: name, Material: "ply", Size: size, Usable: geom.BoxFromSize(geom.Point{}, size).Inset(trim, trim, trim, trim),
		Grain: grain, Cost: cost, Available: available,
	}
}

// solve plans a problem and has the plan judged.
func solve(t testing.TB, p *nest.Problem, set nest.Settings) *nest.Plan {
	t.Helper()
	plan, _, err := New().Solve(context.Background(), p, set)
	if err != nil {
		t.Fatal(err)
	}
	if err := check.Plan(p, plan); err != nil {
		t.Fatalf("refused by the judge: %v", err)
	}
	return plan
}

// How many fit in a row: n = floor((S+k)/(p+k)), with S the usable length, p the
// panel and k the kerf (computed).
func TestGridCounts(t *testing.T) {
	const k = 3200 * length.Micrometre
	for _, c := range []struct {
		name                string
		l, trim, pl, sheets length.Length
		copies              int
	}{
		{"six of 400 in 2440", 2440 * mm, 0, 400 * mm, 1, 6},
		{"seven of 400 in 2440 do not fit", 2440 * mm, 0, 400 * mm, 2, 7},
		{"twelve strips of 200 need 2435.2", 2440 * mm, 0, 200 * mm, 1, 12},
		{"twelve strips do not fit after 5 mm trim", 2440 * mm, 5 * mm, 200 * mm, 2, 12},
		{"exactly twelve strips and their kerfs", 2435200 * length.Micrometre, 0, 200 * mm, 1, 12},
		{"a micrometre less", 2435199 * length.Micrometre, 0, 200 * mm, 2, 12},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := &nest.Problem{
				Cut: kerf.Saw, Kerf: k, Gap: k,
				Parts:  []nest.Part{part("strip", c.copies, c.pl, 300*mm, parts.AlongLength)},
				Stocks: []nest.Stock{stock("sheet", c.l, 300*mm+2*c.trim, c.trim, parts.AlongLength, 1, parts.Unlimited)},
			}
			if got := len(solve(t, p, nest.Settings{Budget: 5}).Sheets); got != int(c.sheets) {
				t.Errorf("%d sheets, want %d", got, c.sheets)
			}
		})
	}
}

// The cabinet worked in the trade notes, 18 mm panels of 600 W x 720 H x 560 D:
// together 51.0 % of a sheet of 2440 x 1220, and it fits one.
func TestCarcass(t *testing.T) {
	g := parts.AlongLength
	p := &nest.Problem{
		Cut: kerf.Saw, Kerf: 3200 * length.Micrometre, Gap: 3200 * length.Micrometre,
		Parts: []nest.Part{
			part("side-left", 1, 720*mm, 560*mm, g), part("side-right", 1, 720*mm, 560*mm, g),
			part("bottom", 1, 564*mm, 542*mm, g), part("rail", 2, 564*mm, 100*mm, g), part("shelf", 1, 562*mm, 522*mm, g),
		},
		Stocks: []nest.Stock{stock("sheet", 2440*mm, 1220*mm, 5*mm, g, 1, parts.Unlimited)},
		Keep:   parts.KeepRule{Short: 100 * mm, Long: 400 * mm},
	}
	area := 0.0
	for _, q := range p.Parts {
		area += q.Blank.X.MM() * q.Blank.Y.MM() * float64(q.Copies)
	}
	if share := area / 2440 / 1220; share < 0.5095 || share > 0.5105 {
		t.Errorf("the panels are %.4f of the sheet, the worked example says 0.510", share)
	}
	plan := solve(t, p, nest.Settings{})
	if len(plan.Sheets) != 1 {
		t.Errorf("%d sheets, want 1", len(plan.Sheets))
	}
	kept := false
	for _, o := range plan.Sheets[0].Offcuts {
		kept = kept || o.Keep
	}
	if !kept {
		t.Error("half a sheet is left and nothing of it is kept")
	}
}

// random returns a problem of up to n parts; everything that can vary varies.
func random(rng *rand.Rand, n int) *nest.Problem {
	p := &nest.Problem{Cut: kerf.Saw, Keep: parts.KeepRule{Short: 100 * mm, Long: 400 * mm}}
	p.Kerf = length.Length(rng.IntN(3)) * 1600 * length.Micrometre
	p.Gap = p.Kerf
	p.Saw = parts.Saw{Kind: parts.SawKind(rng.IntN(3))}
	if p.Saw.Kind == parts.BeamSaw {
		p.Saw.Stages = []int{0, 2, 3, 4}[rng.IntN(4)]
	}
	axes := []parts.Axis{parts.NoAxis, parts.AlongLength, parts.AlongWidth}
	for i := range rng.IntN(n + 1) {
		p.Parts = append(p.Parts, part(fmt.Sprint("part ", i), 1+rng.IntN(4), length.Length(20+rng.IntN(1500))*mm,
			length.Length(20+rng.IntN(900))*mm+length.Length(rng.IntN(3)), axes[rng.IntN(3)]))
	}
	for i := range 1 + rng.IntN(3) {
		available := parts.Unlimited
		if rng.IntN(3) == 0 {
			available = rng.IntN(3)
		}
		p.Stocks = append(p.Stocks, stock(fmt.Sprint("stock ", i), length.Length(600+rng.IntN(2000))*mm,
			length.Length(300+rng.IntN(1000))*mm, length.Length(rng.IntN(3))*3*mm, axes[rng.IntN(3)], int64(rng.IntN(100)), available))
	}
	return p
}

func TestRandomJudged(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		p := random(rng, 12)
		plan := solve(t, p, nest.Settings{Seed: 7, Budget: 2})
		for _, u := range plan.Unplaced {
			if u.Reason != "stock ran out" && u.Reason != "fits no sheet" {
				t.Fatalf("reason %q", u.Reason)
			}
		}
	}
}

// Panels that fill a sheet in three stages, and in no fewer: two strips, of which one
// is cut across into a panel and two that lie on each other (solved by hand). A beam
// saw of two stages needs a second sheet.
func TestStages(t *testing.T) {
	g := parts.AlongLength
	for _, c := range []struct{ stages, sheets int }{{0, 1}, {3, 1}, {2, 2}} {
		p := &nest.Problem{
			Cut: kerf.Saw, Saw: parts.Saw{Kind: parts.BeamSaw, Stages: c.stages},
			Parts: []nest.Part{
				part("strip", 1, 1000*mm, 300*mm, g), part("panel", 1, 600*mm, 400*mm, g), part("half", 1, 400*mm, 150*mm, g),
				part("other half", 1, 400*mm, 250*mm, g),
			},
			Stocks: []nest.Stock{stock("sheet", 1000*mm, 700*mm, 0, g, 1, parts.Unlimited)},
		}
		if got := len(solve(t, p, nest.Settings{Budget: 50}).Sheets); got != c.sheets {
			t.Errorf("%d stages: %d sheets, want %d", c.stages, got, c.sheets)
		}
	}
}

// Sheets cut at random by straight cuts into panels, kerf and all: one sheet is
// known to be enough.
func TestKnownOptimum(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	const tries = 40
	one := 0
	for range tries {
		k := length.Length(rng.IntN(2)) * 3200 * length.Micrometre
		p := &nest.Problem{Cut: kerf.Saw, Kerf: k, Gap: k}
		var dissect func(w, h length.Length, depth int)
		dissect = func(w, h length.Length, depth int) {
			if rng.IntN(2) == 0 {
				w, h = h, w
			}
			if depth == 0 || w < 300*mm {
				p.Parts = append(p.Parts, part(fmt.Sprint(len(p.Parts)), 1, w, h, parts.NoAxis))
				return
			}
			a := 100*mm + length.Length(rng.Int64N(int64(w-200*mm-k)/int64(mm)))*mm
			dissect(a, h, depth-1)
			dissect(w-a-k, h, depth-1)
		}
		dissect(2440*mm, 1220*mm, 3)
		p.Stocks = []nest.Stock{stock("sheet", 2440*mm, 1220*mm, 0, parts.NoAxis, 1, parts.Unlimited)}
		if len(solve(t, p, nest.Settings{Budget: 40, Workers: 2}).Sheets) == 1 {
			one++
		}
	}
	t.Logf("one sheet in %d of %d dissections without any waste", one, tries)
	if one < tries*9/10 {
		t.Errorf("one sheet in only %d of %d dissections", one, tries)
	}
}

// What one sheet, or none, settles.
func TestEdges(t *testing.T) {
	const k = 3200 * length.Micrometre
	g, none := parts.AlongLength, parts.NoAxis
	for _, c := range []struct {
		name             string
		part             nest.Part
		stock            nest.Stock
		sheets, unplaced int
		cuts             int // on the first sheet
		turn             int
		reason           string
	}{
		{"a panel that is the sheet needs no cut", part("a", 1, 600*mm, 400*mm, g), stock("s", 600*mm, 400*mm, 0, g, 1, 1), 1, 0, 0, 0, ""},
		{"trim alone frees it", part("a", 1, 590*mm, 390*mm, g), stock("s", 600*mm, 400*mm, 5*mm, g, 1, 1), 1, 0, 4, 0, ""},
		{"what is left is less than the kerf", part("a", 1, 599*mm, 399*mm, g), stock("s", 600*mm, 400*mm, 0, g, 1, 1), 1, 0, 2, 0, ""},
		{"it fits only turned", part("a", 1, 300*mm, 500*mm, none), stock("s", 600*mm, 400*mm, 0, g, 1, 1), 1, 0, 2, 90, ""},
		{"grain across the sheet turns it", part("a", 1, 300*mm, 500*mm, parts.AlongWidth), stock("s", 600*mm, 400*mm, 0, g, 1, 1), 1, 0, 2, 90, ""},
		{"grain forbids the turn", part("a", 2, 300*mm, 500*mm, g), stock("s", 600*mm, 400*mm, 0, g, 1, 1), 0, 2, 0, 0, tooBig},
		{"larger than the sheet", part("a", 1, 700*mm, 300*mm, none), stock("s", 600*mm, 400*mm, 0, g, 1, 1), 0, 1, 0, 0, tooBig},
		{"trim makes it too large", part("a", 1, 600*mm, 300*mm, none), stock("s", 600*mm, 400*mm, 5*mm, g, 1, 1), 0, 1, 0, 0, tooBig},
		{"stock runs out", part("a", 5, 300*mm, 400*mm, g), stock("s", 610*mm, 400*mm, 0, g, 1, 2), 2, 1, 2, 0, nest.RanOut},
		{"there is none in stock", part("a", 1, 300*mm, 400*mm, g), stock("s", 600*mm, 400*mm, 0, g, 1, 0), 0, 1, 0, 0, nest.RanOut},
		{"another material", part("a", 1, 300*mm, 400*mm, g), nest.Stock{Name: "oak", Material: "oak", Size: geom.Pt(mm, mm)}, 0, 1, 0, 0, noStock},
		{"no copies", part("a", 0, 300*mm, 400*mm, g), stock("s", 600*mm, 400*mm, 0, g, 1, 1), 0, 0, 0, 0, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := &nest.Problem{Cut: kerf.Saw, Kerf: k, Gap: k, Parts: []nest.Part{c.part}, Stocks: []nest.Stock{c.stock}}
			plan := solve(t, p, nest.Settings{Budget: 2})
			if len(plan.Sheets) != c.sheets {
				t.Fatalf("%d sheets, want %d", len(plan.Sheets), c.sheets)
			}
			if c.sheets > 0 {
				if s := plan.Sheets[0]; len(s.Cuts) != c.cuts || s.Placements[0].Turn != c.turn {
					t.Errorf("%d cuts and a turn of %d, want %d and %d", len(s.Cuts), s.Placements[0].Turn, c.cuts, c.turn)
				}
			}
			unplaced, reason := 0, ""
			for _, u := range plan.Unplaced {
				unplaced, reason = unplaced+u.Copies, u.Reason
			}
			if unplaced != c.unplaced || reason != c.reason {
				t.Errorf("%d unplaced, %q, want %d, %q", unplaced, reason, c.unplaced, c.reason)
			}
		})
	}
	if plan := solve(t, &nest.Problem{Cut: kerf.Saw}, nest.Settings{}); len(plan.Sheets)+len(plan.Unplaced) != 0 {
		t.Error("a plan for nothing")
	}
}

// Materials keep to their own sheets, and parts of one size share their copies.
func TestMaterials(t *testing.T) {
	p := &nest.Problem{Cut: kerf.Saw, Kerf: 2 * mm, Gap: 2 * mm}
	for i, m := range []string{"ply", "oak", "ply", "pine"} {
		q := part(fmt.Sprint("part ", i), 3, 500*mm, 300*mm, parts.AlongLength)
		q.Material = m
		p.Parts = append(p.Parts, q)
	}
	for _, m := range []string{"oak", "ply"} {
		s := stock(m, 1004*mm, 604*mm, 0, parts.AlongLength, 5, 1)
		s.Material = m
		p.Stocks = append(p.Stocks, s)
	}
	plan := solve(t, p, nest.Settings{Budget: 3})
	if len(plan.Sheets) != 2 || plan.Placed() != 7 {
		t.Fatalf("%d panels on %d sheets, want 7 on 2", plan.Placed(), len(plan.Sheets))
	}
	want := []nest.Unplaced{{Part: 2, Copies: 2, Reason: nest.RanOut}, {Part: 3, Copies: 3, Reason: noStock}}
	if !slices.Equal(plan.Unplaced, want) {
		t.Errorf("unplaced %v, want %v", plan.Unplaced, want)
	}
}

// Progress is told one at a time, and each plan is better than the one before.
func TestWatch(t *testing.T) {
	var told []nest.Progress
	solve(t, big(60), nest.Settings{Seed: 1, Budget: 20, Workers: 4, Watch: func(p nest.Progress) { told = append(told, p) }})
	if len(told) == 0 {
		t.Fatal("nothing was told")
	}
	for i, p := range told[1:] {
		if p.Cost > told[i].Cost || p.Round <= told[i].Round && i > 0 {
			t.Errorf("%+v after %+v", p, told[i])
		}
	}
}

func TestSameForAnyWorkers(t *testing.T) {
	for _, c := range []struct {
		name   string
		p      *nest.Problem
		budget int
		mixes  [][]int
	}{
		{"random", random(rand.New(rand.NewPCG(5, 6)), 30), 10, nil},
		// Long enough for some dives.
		{"big", big(80), 150, [][]int{{2, 3}, {3, 2}, {4, 1}}},
	} {
		var first []byte
		for _, workers := range []int{1, 2, 4, 9} {
			b, err := json.Marshal(solve(t, c.p, nest.Settings{Seed: 11, Budget: c.budget, Workers: workers, Mixes: c.mixes}))
			if err != nil {
				t.Fatal(err)
			}
			if first == nil {
				first = b
			}
			if !bytes.Equal(b, first) {
				t.Errorf("%s: %d workers gave another plan", c.name, workers)
			}
		}
	}
}

func TestEnds(t *testing.T) {
	p := big(2000)
	for _, d := range []time.Duration{0, 100 * time.Millisecond} {
		ctx, cancel := context.WithTimeout(context.Background(), d)
		start := time.Now()
		plan, _, err := New().Solve(ctx, p, nest.Settings{Budget: -1, Workers: 2})
		cancel()
		if err != nil {
			t.Fatal(err)
		}
		if err := check.Plan(p, plan); err != nil {
			t.Fatal(err)
		}
		if took := time.Since(start); took > d+1500*time.Millisecond {
			t.Errorf("a limit of %v took %v", d, took)
		}
	}
}

func TestRefuses(t *testing.T) {
	if _, _, err := New().Solve(context.Background(), &nest.Problem{Cut: kerf.Router}, nest.Settings{}); !errors.Is(err, ErrNotSaw) {
		t.Errorf("a router's problem gave %v", err)
	}
	p := &nest.Problem{Cut: kerf.Saw, Parts: []nest.Part{part("a", 1, 10*mm, 10*mm, parts.NoAxis)}}
	p.Parts[0].Turns = []int{45}
	if _, _, err := New().Solve(context.Background(), p, nest.Settings{}); err == nil {
		t.Error("a turn of 45 degrees was accepted")
	}
}

// Without a budget a search ends when a bound proves its plan, and only then.
func TestEndsWhenProved(t *testing.T) {
	p := big(60)
	cost := spent(p, solve(t, p, nest.Settings{Seed: 1}))
	for _, c := range []struct {
		least int64
		limit time.Duration
		ends  bool
	}{{cost, time.Minute, true}, {1, 200 * time.Millisecond, false}} {
		ctx, cancel := context.WithTimeout(context.Background(), c.limit)
		plan, stats, err := New().Solve(ctx, p, nest.Settings{Seed: 1, Budget: -1, Workers: 2, Least: func() int64 { return c.least }})
		if err != nil {
			t.Fatal(err)
		}
		if err := check.Plan(p, plan); err != nil {
			t.Error(err)
		}
		if ended := ctx.Err() == nil; ended != c.ends || c.ends && stats.Rounds < DefaultRounds(60) {
			t.Errorf("least cost %d: ended by itself is %v after %d rounds", c.least, ended, stats.Rounds)
		}
		cancel()
	}
}

// A cheaper mix: two halves cost less than a whole, and the rack comes first.
func TestCheapestMix(t *testing.T) {
	p := &nest.Problem{
		Cut: kerf.Saw, Kerf: 3200 * length.Micrometre, Gap: 3200 * length.Micrometre,
		Parts: []nest.Part{part("panel", 3, 1100*mm, 500*mm, parts.NoAxis)},
		Stocks: []nest.Stock{
			stock("whole", 2440*mm, 1220*mm, 5*mm, parts.NoAxis, 100, parts.Unlimited),
			stock("half", 1220*mm, 1220*mm, 5*mm, parts.NoAxis, 55, parts.Unlimited),
			stock("rack", 1200*mm, 510*mm, 0, parts.NoAxis, 0, 1),
		},
	}
	plan := solve(t, p, nest.Settings{})
	if cost := spent(p, plan); cost != 55 || len(plan.Sheets) != 2 {
		t.Errorf("cost %d on %d sheets, want one half and the piece from the rack", cost, len(plan.Sheets))
	}
}

// big returns a job of n panels of cabinet sizes.
func big(n int) *nest.Problem {
	rng := rand.New(rand.NewPCG(9, uint64(n)))
	p := &nest.Problem{
		Cut: kerf.Saw, Kerf: 3200 * length.Micrometre, Gap: 3200 * length.Micrometre,
		Keep: parts.KeepRule{Short: 100 * mm, Long: 400 * mm},
		Stocks: []nest.Stock{
			stock("large", 2440*mm, 1220*mm, 5*mm, parts.AlongLength, 92, parts.Unlimited),
			stock("square", 1525*mm, 1525*mm, 5*mm, parts.AlongLength, 71, parts.Unlimited),
		},
	}
	for i := 0; n > 0; i++ {
		c := min(n, 1+rng.IntN(4))
		n -= c
		axis := parts.AlongLength
		if rng.IntN(4) == 0 {
			axis = parts.NoAxis
		}
		p.Parts = append(p.Parts, part(fmt.Sprint("part ", i), c, length.Length(200+rng.IntN(900))*mm, length.Length(80+rng.IntN(500))*mm, axis))
	}
	return p
}

func BenchmarkSolve(b *testing.B) {
	for _, n := range []int{30, 300, 1000, 10000} {
		b.Run(fmt.Sprint(n, "panels"), func(b *testing.B) {
			p := big(n)
			area := 0.0
			for _, q := range p.Parts {
				area += float64(q.Copies) * q.Blank.X.MM() * q.Blank.Y.MM()
			}
			for b.Loop() {
				plan, _, err := New().Solve(context.Background(), p, nest.Settings{Seed: 1, Workers: 2})
				if err != nil {
					b.Fatal(err)
				}
				board, cost := 0.0, int64(0)
				for _, s := range plan.Sheets {
					st := &p.Stocks[s.Stock]
					board += st.Size.X.MM() * st.Size.Y.MM()
					cost += st.Cost
				}
				b.ReportMetric(float64(len(plan.Sheets)), "sheets")
				b.ReportMetric(float64(cost), "cost")
				b.ReportMetric(100*area/board, "%yield")
			}
		})
	}
}
