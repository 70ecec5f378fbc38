package planjson

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/big"
	"strings"

	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// MaxSize is the size in bytes of the largest file that is read.
const MaxSize = 256 << 20

// The errors of [Read]: what is read is no plan of ours, or of a later version.
var (
	ErrNoPlan  = errors.New("this is no plan that panelyard wrote")
	ErrVersion = errors.New("the plan has a version that this panelyard does not know")
)

// Read reads a plan. Keys that it does not know are passed over. IDs of sheets have
// [MaxID] characters at most, all safe in names of files. The error says what is wrong
// with the file, not whether the plan can be cut: that is for the judge.
func Read(r io.Reader) (*Document, error) {
	src, err := io.ReadAll(io.LimitReader(r, MaxSize+1))
	switch {
	case err != nil:
		return nil, err
	case len(src) > MaxSize:
		return nil, fmt.Errorf("the plan is larger than %d MiB", MaxSize>>20)
	}
	var d Document
	if err := json.Unmarshal(src, &d); err != nil {
		// Half of a file, or another format, is told apart by its head.
		if !strings.Contains(string(src[:min(len(src), 200)]), Format) {
			return nil, ErrNoPlan
		}
		return nil, fmt.Errorf("the plan is damaged: %w", err)
	}
	switch {
	case d.Format != Format:
		return nil, ErrNoPlan
	case d.Version != Version:
		return nil, fmt.Errorf("%w: %d", ErrVersion, d.Version)
	}
	if err := d.checkIDs(); err != nil {
		return nil, err
	}
	return &d, nil
}

// Length returns a number of the file as a length. The error is for what is no
// number, or lies off the grid or beyond [length.Max].
func Length(n json.Number) (length.Length, error) {
	// A long exponent would take long to expand.
	if len(n) > 24 || strings.ContainsAny(string(n), "eE/") {
		return 0, fmt.Errorf("%q is no length", n)
	}
	q, ok := new(big.Rat).SetString(string(n))
	if !ok {
		return 0, fmt.Errorf("%q is no length", n)
	}
	q.Mul(q, new(big.Rat).SetInt64(int64(length.Millimetre)))
	most := new(big.Rat).SetInt64(2 * int64(length.Max))
	if !q.IsInt() || q.Cmp(most) > 0 || q.Neg(q).Cmp(most) > 0 {
		return 0, fmt.Errorf("%s mm is no length that panelyard writes", n)
	}
	return length.Length(-q.Num().Int64()), nil
}

// reading collects what is wrong with the numbers of a file.
type reading struct{ errs []error }

func (r *reading) length(n json.Number) length.Length {
	l, err := Length(n)
	if err != nil {
		r.errs = append(r.errs, err)
	}
	return l
}

func (r *reading) point(p Point) geom.Point { return geom.Pt(r.length(p[0]), r.length(p[1])) }

func (r *reading) box(b Box) geom.Box {
	return geom.BoxFromSize(geom.Pt(r.length(b.X), r.length(b.Y)), geom.Pt(r.length(b.Length), r.length(b.Width)))
}

// Box returns a rectangle of the file.
func (b Box) Box() (geom.Box, error) {
	var r reading
	box := r.box(b)
	return box, errors.Join(r.errs...)
}

// Plan returns the plan of the file as one for a problem, by the names of parts and
// stocks, sheets in order. The error lists what the problem does not have and what is
// no number, each with its sheet. Whether the plan is right is for the judge to say.
func (d *Document) Plan(p *nest.Problem) (*nest.Plan, error) {
	parts, stocks := map[string]int{}, map[[2]string]int{}
	for i := range p.Parts {
		parts[p.Parts[i].Name] = i
	}
	for i := range p.Stocks {
		stocks[[2]string{p.Stocks[i].Name, p.Stocks[i].Material}] = i
	}
	plan := &nest.Plan{}
	var errs []error
	for i := range d.Sheets {
		s := &d.Sheets[i]
		sheet, err := s.sheet(p, parts, stocks)
		for _, e := range err {
			errs = append(errs, fmt.Errorf("sheet %s: %w", s.ID, e))
		}
		plan.Sheets = append(plan.Sheets, sheet)
	}
	for _, u := range d.Unplaced {
		n, ok := parts[u.Part]
		if !ok {
			errs = append(errs, fmt.Errorf("there is no panel %q", u.Part))
			continue
		}
		plan.Unplaced = append(plan.Unplaced, nest.Unplaced{Part: n, Copies: u.Copies, Reason: u.Reason})
	}
	return plan, errors.Join(errs...)
}

// sheet returns a sheet of the file as one of a plan.
func (s *Sheet) sheet(p *nest.Problem, parts map[string]int, stocks map[[2]string]int) (nest.Sheet, []error) {
	var r reading
	stock, ok := stocks[[2]string{s.Stock, s.Material}]
	if !ok {
		r.errs = append(r.errs, fmt.Errorf("there is no stock %q of %q", s.Stock, s.Material))
	}
	sheet := nest.Sheet{Stock: stock}
	for i := range s.Placements {
		q := &s.Placements[i]
		part, ok := parts[q.Part]
		if !ok {
			r.errs = append(r.errs, fmt.Errorf("there is no panel %q", q.Part))
			continue
		}
		if q.Rotation < 0 || q.Rotation >= 360 || len(q.Outline) == 0 {
			r.errs = append(r.errs, fmt.Errorf("panel %q copy %d has no outline, or a turn of %d degrees", q.Part, q.Copy, q.Rotation))
			continue
		}
		pl := nest.Placement{Part: part, Copy: q.Copy, Turn: q.Rotation, Flip: q.Flipped}
		ring := make(geom.Ring, len(q.Outline))
		for k, pt := range q.Outline {
			ring[k] = r.point(pt)
		}
		// The place of a blank follows from that of the shape in it.
		shape, _ := p.Place(pl)
		pl.At = ring.Box().Min.Sub(shape.Box().Min)
		if q.Shared {
			pl.Shared = r.box(q.Blank)
		}
		sheet.Placements = append(sheet.Placements, pl)
	}
	for i := range s.Cuts {
		c := &s.Cuts[i]
		sheet.Cuts = append(sheet.Cuts, nest.Cut{
			From: r.point(c.From), To: r.point(c.To), Fence: r.length(c.Fence), Trim: c.Trim, BreakDown: c.First, Stage: c.Stage,
		})
	}
	for _, o := range s.Offcuts {
		sheet.Offcuts = append(sheet.Offcuts, nest.Offcut{Box: r.box(o.Box), Keep: o.Keep})
	}
	return sheet, r.errs
}
