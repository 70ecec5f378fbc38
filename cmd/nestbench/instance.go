package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// instance is an instance file: pieces, and what they go on. Lengths are in the
// instance's own unit. A strip has a Width along y and no end along x; a bin has a
// Width along x and a Height along y, and there are as many as it takes.
type instance struct {
	file string // where it was read
	set  string // its folder, and family when that is large

	Name      string
	Container struct {
		Kind   string  `json:"kind"` // strip or bin
		Width  float64 `json:"width"`
		Height float64 `json:"height"`
	} `json:"container"`
	Turns     []float64 `json:"rotations_deg"` // of pieces that have none of their own
	TotalArea float64   `json:"total_area"`
	Pieces    []piece   `json:"pieces"`

	OptimalLength float64 `json:"known_optimal_length"`
	OptimalBins   int     `json:"known_optimal_bins"`

	bestLength float64 // the best known, 0 when none is
	area       float64 // of all pieces
}

// piece is a kind of piece.
type piece struct {
	ID       any            `json:"id"`
	Quantity *int           `json:"quantity"` // one when missing
	Turns    []float64      `json:"rotations_deg"`
	Outer    [][2]float64   `json:"outer"`
	Holes    [][][2]float64 `json:"holes"`

	name   string
	copies int
	turns  []int // degrees counter-clockwise, 0 <= turn < 360
}

// strip reports whether the container is a strip.
func (in *instance) strip() bool { return in.Container.Kind == "strip" }

// errNotInstance is the error of a file that is something else.
var errNotInstance = errors.New("no instance: it has no container and pieces")

// readInstance reads an instance file. The error lists all that is wrong with it.
func readInstance(file string) (*instance, error) {
	src, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	var keys struct{ Container, Pieces json.RawMessage }
	if err := json.Unmarshal(src, &keys); err != nil || keys.Container == nil || keys.Pieces == nil {
		return nil, errNotInstance
	}
	in := &instance{file: file}
	if err := json.Unmarshal(src, in); err != nil {
		return nil, err
	}
	if in.Name == "" {
		in.Name = strings.TrimSuffix(filepath.Base(file), filepath.Ext(file))
	}
	var faults []error
	fault := func(format string, args ...any) { faults = append(faults, fmt.Errorf(format, args...)) }
	switch c := in.Container; {
	case c.Kind != "strip" && c.Kind != "bin":
		fault("container kind %q: want strip or bin", c.Kind)
	case !positive(c.Width):
		fault("container width %v: want more than 0", c.Width)
	case c.Kind == "bin" && !positive(c.Height):
		fault("container height %v: want more than 0", c.Height)
	}
	if len(in.Pieces) == 0 {
		fault("no pieces")
	}
	for i := range in.Pieces {
		p := &in.Pieces[i]
		if why := p.settle(i, in.Turns); why != nil {
			fault("piece %q: %w", p.name, why)
			continue
		}
		in.area += float64(p.copies) * p.area()
	}
	if len(faults) > 0 {
		return nil, errors.Join(faults...)
	}
	return in, nil
}

// settle works out what the file leaves to defaults, and says what is wrong.
func (p *piece) settle(index int, turns []float64) error {
	switch id := p.ID.(type) {
	case nil:
		p.name = strconv.Itoa(index)
	case string:
		p.name = id
	default:
		p.name = fmt.Sprint(id)
	}
	p.copies = 1
	if p.Quantity != nil {
		p.copies = *p.Quantity
	}
	if p.copies < 0 {
		return fmt.Errorf("quantity %d: want 0 or more", p.copies)
	}
	if p.Turns == nil {
		p.Turns = turns
	}
	for _, t := range p.Turns {
		d := math.Mod(math.Mod(t, 360)+360, 360)
		if d != math.Trunc(d) {
			return fmt.Errorf("rotation by %v degrees: want whole degrees", t)
		}
		if !slices.Contains(p.turns, int(d)) {
			p.turns = append(p.turns, int(d))
		}
	}
	if len(p.turns) == 0 {
		p.turns = []int{0}
	}
	for k, r := range slices.Concat([][][2]float64{p.Outer}, p.Holes) {
		what := "outer"
		if k > 0 {
			what = fmt.Sprintf("hole %d", k)
		}
		r = tidy(r)
		if len(r) < 3 || ringArea(r) == 0 {
			return fmt.Errorf("%s has no area: want 3 points or more that are not in a line", what)
		}
		for _, q := range r {
			if math.IsInf(q[0]+q[1], 0) || math.IsNaN(q[0]+q[1]) {
				return fmt.Errorf("%s: point %v", what, q)
			}
		}
		if k == 0 {
			p.Outer = r
		} else {
			p.Holes[k-1] = r
		}
	}
	return nil
}

func positive(v float64) bool { return v > 0 && !math.IsInf(v, 0) }

// tidy returns a ring without points that repeat the one before them.
func tidy(r [][2]float64) [][2]float64 {
	r = slices.Compact(slices.Clone(r))
	for len(r) > 1 && r[0] == r[len(r)-1] {
		r = r[:len(r)-1]
	}
	return r
}

// ringArea returns the area of a ring, positive when it runs counter-clockwise.
func ringArea(r [][2]float64) float64 {
	sum := 0.0
	for i, a := range r {
		// Relative to the first point, so that far rings lose nothing.
		b := r[(i+1)%len(r)]
		sum += (a[0]-r[0][0])*(b[1]-r[0][1]) - (a[1]-r[0][1])*(b[0]-r[0][0])
	}
	return sum / 2
}

// area returns the area of one copy.
func (p *piece) area() float64 {
	a := math.Abs(ringArea(p.Outer))
	for _, h := range p.Holes {
		a -= math.Abs(ringArea(h))
	}
	return a
}

// rectangle reports whether p is a rectangle along the axes.
func (p *piece) rectangle() bool {
	if len(p.Outer) != 4 || len(p.Holes) > 0 {
		return false
	}
	for i, a := range p.Outer {
		b, c := p.Outer[(i+1)%4], p.Outer[(i+2)%4]
		if !(a[0] == b[0] && b[1] == c[1] || a[1] == b[1] && b[0] == c[0]) {
			return false
		}
	}
	return true
}

// oddPiece returns the first piece that a saw cannot free: it is no rectangle, or
// is turned by other than quarter turns.
func (in *instance) oddPiece() (string, bool) {
	for i := range in.Pieces {
		p := &in.Pieces[i]
		if !p.rectangle() || slices.ContainsFunc(p.turns, func(t int) bool { return t%90 != 0 }) {
			return p.name, true
		}
	}
	return "", false
}

// search is what was found in files and folders.
type search struct {
	instances []*instance
	notes     []string // files in folders that are something else
	faults    []error
}

// findInstances reads the files, and every file named *.json in the folders and
// below them, in the order of their names. No file is read twice.
func findInstances(paths []string) search {
	var s search
	seen := map[string]bool{}
	read := func(file string, named bool) {
		if file = filepath.Clean(file); seen[file] {
			return
		}
		seen[file] = true
		in, err := readInstance(file)
		switch {
		case err == nil:
			s.instances = append(s.instances, in)
		case errors.Is(err, errNotInstance) && !named:
			s.notes = append(s.notes, fmt.Sprintf("%s: skipped: %v", file, err))
		default:
			s.faults = append(s.faults, fmt.Errorf("%s: %w", file, err))
		}
	}
	for _, p := range paths {
		info, err := os.Stat(p)
		if err != nil {
			s.faults = append(s.faults, err)
			continue
		}
		if !info.IsDir() {
			read(p, true)
			continue
		}
		err = filepath.WalkDir(p, func(file string, d fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			if !d.IsDir() && strings.EqualFold(filepath.Ext(file), ".json") {
				read(file, false)
			}
			return nil
		})
		if err != nil {
			s.faults = append(s.faults, err)
		}
	}
	s.faults = append(s.faults, addBestKnown(s.instances)...)
	assignSets(s.instances)
	return s
}
