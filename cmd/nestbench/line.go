package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
)

// line is a line of --out. Lengths and coordinates are in units of the instance,
// seen with x along a strip.
type line struct {
	Instance  string      `json:"instance"`
	Set       string      `json:"set"`
	Cut       string      `json:"cut"`
	Solver    string      `json:"solver"`
	Bins      int         `json:"bins"`
	Length    *float64    `json:"length"` // of a strip; null for bins
	Density   float64     `json:"density_pct"`
	Squared   *float64    `json:"mean_squared_use"` // F; null for a strip
	Cost      float64     `json:"cost"`             // bins, or the length of a strip
	BestKnown *float64    `json:"best_known"`       // bins or length; null when none is
	Bound     float64     `json:"bound"`            // bins or length
	Unplaced  int         `json:"unplaced"`         // pieces
	Rounded   bool        `json:"rounded"`          // whether outlines were rounded for the search
	Seconds   float64     `json:"seconds"`
	Curve     [][2]any    `json:"curve,omitempty"` // seconds and value
	Layout    []placement `json:"layout"`
}

// placement is a piece in a layout.
type placement struct {
	Bin   int            `json:"bin"`
	Piece string         `json:"piece"`
	Copy  int            `json:"copy"`
	Turn  int            `json:"rotation_deg"` // counter-clockwise
	Outer [][2]float64   `json:"outer"`
	Holes [][][2]float64 `json:"holes,omitempty"`
}

// newLine returns the line of a result.
func newLine(r *result) *line {
	l := &line{
		Instance: r.in.Name, Set: r.in.set, Cut: r.cut, Solver: r.solver, Bins: r.bins,
		Density: decimals(100*r.density, 6), Cost: r.value(), Bound: r.bound,
		Unplaced: r.unplaced, Rounded: !r.grid.exact, Seconds: decimals(r.seconds, 3),
		Layout: []placement{},
	}
	if r.in.strip() {
		l.Length = &r.length
	} else {
		f := decimals(r.squared, 9)
		l.Squared = &f
	}
	if b := r.in.best(); b > 0 {
		l.BestKnown = &b
	}
	for _, s := range r.curve {
		l.Curve = append(l.Curve, [2]any{s.seconds, decimals(r.shown(s), 6)})
	}
	for b := range r.plan.Sheets {
		for _, pl := range r.plan.Sheets[b].Placements {
			rings := r.grid.rings(r.in, pl)
			l.Layout = append(l.Layout, placement{
				Bin: b, Piece: r.in.Pieces[pl.Part].name, Copy: pl.Copy, Turn: pl.Turn, Outer: rings[0], Holes: rings[1:],
			})
		}
	}
	return l
}

// shown returns the value of a sample as it is printed: a density in percent, or bins.
func (r *result) shown(s sample) float64 {
	if r.in.strip() {
		return 100 * s.value
	}
	return s.value
}

// decimals rounds to some decimals.
func decimals(v float64, n int) float64 {
	p := math.Pow(10, float64(n))
	return math.Round(v*p) / p
}

// lineFile is the file of --out; without a name nothing is written. It is begun
// anew with the first line.
type lineFile struct {
	name string
	f    *os.File
}

// write appends the line of a result and hands it to the system.
func (l *lineFile) write(r *result) error {
	if l.name == "" {
		return nil
	}
	if l.f == nil {
		f, err := os.Create(l.name)
		if err != nil {
			return err
		}
		l.f = f
	}
	text, err := json.Marshal(newLine(r))
	if err != nil {
		return err
	}
	if _, err := l.f.Write(append(text, '\n')); err != nil {
		return fmt.Errorf("the line of %s is not complete: %w", r.in.Name, err)
	}
	return nil
}

// close closes the file, if there is one.
func (l *lineFile) close() error {
	if l.f == nil {
		return nil
	}
	return l.f.Close()
}
