package main

import (
	"context"
	"fmt"
	"io"
	"time"

	"panelyard/nest"
	"panelyard/nest/bound/cabinets"
	"panelyard/nest/choose"
)

// verdict is how near a plan is to its bound.
type verdict int

const (
	proved verdict = iota
	withinSheet
	worse
	verdicts
)

func (v verdict) String() string { return [verdicts]string{"proved", "within 1 sheet", "worse"}[v] }

// judge says how near a plan is to its bound. Within one sheet it is when it costs no
// more above the bound than the dearest sheet it uses.
func judge(p *nest.Problem, r *nest.Result) (v verdict, cost int64) {
	var dearest int64
	for i := range r.Plan.Sheets {
		c := p.Stocks[r.Plan.Sheets[i].Stock].Cost
		cost += c
		dearest = max(dearest, c)
	}
	switch {
	case r.Status == nest.Proved:
		return proved, cost
	case r.Status == nest.Heuristic && cost-r.Bound.Cost <= dearest:
		return withinSheet, cost
	}
	return worse, cost
}

// cabinetWishes spreads jobs over 30 to 300 panels and 1 to 4 kinds of sheet.
func cabinetWishes(i int) cabinets.Wishes {
	return cabinets.Wishes{Panels: 30 + i*67%271, Stocks: 1 + i%4}
}

// runCabinets plans generated jobs and prints a row each, then sums by number of panels
// and of kinds of sheet. It returns the exit code.
func runCabinets(ctx context.Context, o *options, stdout io.Writer, fail func(error)) int {
	var failed error
	print := func(format string, args ...any) {
		if _, err := fmt.Fprintf(stdout, format, args...); err != nil && failed == nil {
			failed = err
		}
	}
	budget := -1
	if o.rounds > 0 {
		budget = o.rounds
	}
	counts := map[string]*[verdicts]int{}
	count := func(key string, v verdict) {
		if counts[key] == nil {
			counts[key] = &[verdicts]int{}
		}
		counts[key][v]++
	}
	gaps, costs := 0.0, int64(0)
	print("%6s %7s %6s %7s %7s %9s %9s %7s %8s  %s\n", "seed", "panels", "stocks", "sheets", "bound", "cost", "bound", "gap %", "seconds", "")
	for i := range o.cabinets {
		seed := o.seed + uint64(i)
		w := cabinetWishes(i)
		p := cabinets.New(seed, w)
		start := time.Now()
		limited, cancel := context.WithTimeout(ctx, o.limit)
		r, err := choose.Plan(limited, p, nest.Settings{Seed: o.seed, Budget: budget, Workers: o.threads})
		cancel()
		if err != nil {
			fail(fmt.Errorf("cabinets of seed %d: %w", seed, err))
			return exitBad
		}
		if ctx.Err() != nil {
			return exitInterrupted // the plan had less time than others: it does not count
		}
		v, cost := judge(p, r)
		gap := 100 * float64(cost-r.Bound.Cost) / float64(max(cost, 1))
		gaps, costs = gaps+gap, costs+cost
		print("%6d %7d %6d %7d %7d %9d %9d %7.2f %8.1f  %s\n", seed, p.Copies(), w.Stocks, len(r.Plan.Sheets), r.Bound.Sheets,
			cost/10_000, r.Bound.Cost/10_000, gap, time.Since(start).Seconds(), v)
		count(fmt.Sprintf("%d stocks", w.Stocks), v)
		least := w.Panels / 100 * 100
		count(fmt.Sprintf("%d to %d panels", max(30, least), min(300, least+99)), v)
		count("all", v)
	}
	print("\nmean: cost %.1f, gap %.2f %%\n", float64(costs)/10_000/float64(max(1, o.cabinets)), gaps/float64(max(1, o.cabinets)))
	print("\n%-20s %8s %15s %8s\n", "", proved, withinSheet, worse)
	for _, key := range []string{"30 to 99 panels", "100 to 199 panels", "200 to 299 panels", "300 to 300 panels", "1 stocks", "2 stocks", "3 stocks", "4 stocks", "all"} {
		if c := counts[key]; c != nil {
			print("%-20s %8d %15d %8d\n", key, c[proved], c[withinSheet], c[worse])
		}
	}
	if failed != nil {
		fail(failed)
		return exitBad
	}
	return exitDone
}
