package bound

import (
	"context"
	"slices"

	"panelyard/parts/length"
)

// function is a superadditive dual feasible function on lengths from 0 to the
// largest sheet's: f(a)+f(b) <= f(a+b), so panels in a row that fit into a sheet
// of length W have values that sum to f(W) at most.
type function struct {
	shape byte // 'i' identity, 'u', 'e', 'c'
	k     int64
	e     length.Length
}

// at returns the value for a length of at most whole.
func (f function) at(l, whole length.Length) float64 {
	switch f.shape {
	case 'u':
		// u^(k) of Fekete & Schepers: x if (k+1)x is whole, else floor((k+1)x)/k.
		n := (f.k + 1) * int64(l)
		if n%int64(whole) == 0 {
			return float64(l) / float64(whole)
		}
		return float64(n/int64(whole)) / float64(f.k)
	case 'e':
		// U^(e): what leaves less than e beside it counts as whole, what is less
		// than e as nothing.
		switch {
		case l > whole-f.e:
			return 1
		case l < f.e:
			return 0
		}
		return float64(l) / float64(whole)
	case 'c':
		// The staircase of Carlier, Clautiaux & Moukrim 2007 (from memory), steps
		// of e: below the half floor(x/e), above it the complement.
		steps := int64(whole / f.e)
		switch {
		case 2*l < whole:
			return float64(int64(l/f.e)) / float64(steps)
		case 2*l == whole:
			return 0.5
		}
		return 1 - float64(int64((whole-l)/f.e))/float64(steps)
	}
	return float64(l) / float64(whole)
}

// family returns the functions worth trying on lengths.
func family(lengths []length.Length, whole length.Length) []function {
	list := []function{{shape: 'i'}}
	for k := int64(1); k <= 6; k++ {
		list = append(list, function{shape: 'u', k: k})
	}
	slices.Sort(lengths)
	lengths = slices.Compact(lengths)
	// Thresholds are where something changes: at a length and at its complement.
	var es []length.Length
	for _, l := range lengths {
		if 2*l <= whole {
			es = append(es, l)
		} else if l < whole {
			es = append(es, whole-l+1)
		}
	}
	es = append(es, whole/2)
	slices.Sort(es)
	es = slices.Compact(es)
	const most = 18
	for n := range min(len(es), most) {
		e := es[n*len(es)/min(len(es), most)]
		if e <= 0 || 2*e > whole {
			continue
		}
		list = append(list, function{shape: 'e', e: e}, function{shape: 'c', e: e})
	}
	return list
}

// functions raises b by the pairs of functions on lengths and widths of
// rectangles. It reports false when the stock cannot hold them.
func (b *single) functions(ctx context.Context, panels []panel, sheets []sheet) bool {
	var w, h length.Length
	for j := range sheets {
		w, h = max(w, sheets[j].w), max(h, sheets[j].h)
	}
	var xs, ys []length.Length
	for i := range panels {
		if panels[i].level {
			xs, ys = append(xs, panels[i].w), append(ys, panels[i].h)
		}
		if panels[i].upright {
			xs, ys = append(xs, panels[i].h), append(ys, panels[i].w)
		}
	}
	fs, gs := family(xs, w), family(ys, h)
	// Each function is worked out once for each panel, not once a pair: for the
	// panel level, and upright. A panel that can lie in one way only has that twice.
	value := func(f function, whole length.Length, upright bool, along func(*panel) length.Length) []float64 {
		v := make([]float64, len(panels))
		for i := range panels {
			q := panels[i]
			if q.level && (!upright || !q.upright) {
				v[i] = f.at(along(&q), whole)
			} else {
				q.w, q.h = q.h, q.w
				v[i] = f.at(along(&q), whole)
			}
		}
		return v
	}
	width := func(q *panel) length.Length { return q.w }
	height := func(q *panel) length.Length { return q.h }
	copies := make([]float64, len(panels))
	for i := range panels {
		copies[i] = panels[i].copies
	}
	var gLevel, gUpright [][]float64
	for _, g := range gs {
		gLevel = append(gLevel, value(g, h, false, height))
		gUpright = append(gUpright, value(g, h, true, height))
	}
	capacity := make([]float64, len(sheets))
	for _, f := range fs {
		if ctx.Err() != nil {
			return true
		}
		fLevel, fUpright := value(f, w, false, width), value(f, w, true, width)
		for k, g := range gs {
			demand := 0.0
			gl, gu := gLevel[k], gUpright[k]
			for q, n := range copies {
				demand += n * min(fLevel[q]*gl[q], fUpright[q]*gu[q])
			}
			for j := range sheets {
				capacity[j] = f.at(sheets[j].w, w) * g.at(sheets[j].h, h)
			}
			if !b.cover(demand, capacity, dualFeasible) {
				return false
			}
		}
	}
	return true
}
