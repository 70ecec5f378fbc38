package near

import (
	"errors"
	"fmt"
	"reflect"

	"panelyard/kerf"
	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/jobfile"
	"panelyard/parts/length"
)

// Model is a job that can be read with one size smaller; [jobfile.Model] is one. Sizes
// is asked after Job.
type Model interface {
	Job() (*parts.Job, diag.List)
	Sizes() []jobfile.Size
	Less(s jobfile.Size, by length.Length) (*parts.Job, diag.List)
}

// Limits say how much of a change is acceptable. A zero is the default.
type Limits struct {
	Size  length.Length // the most that a size, and each panel that follows it, may lose
	Share float64       // and as a share of the size, 0 to 1
	Kerf  length.Length // the most that a kerf may be thinner
}

// The default limits (ours).
const (
	DefaultSize  = 20 * length.Millimetre
	DefaultShare = 0.05
	DefaultKerf  = length.Millimetre
)

// filled returns the limits with the defaults.
func (l Limits) filled() Limits {
	if l.Size == 0 {
		l.Size = DefaultSize
	}
	if l.Share == 0 {
		l.Share = DefaultShare
	}
	if l.Kerf == 0 {
		l.Kerf = DefaultKerf
	}
	return l
}

// most returns how much a size may lose.
func (l Limits) most(size length.Length) length.Length {
	return min(l.Size, length.Length(l.Share*float64(size)))
}

// step returns the step in which sizes are tried: 1 mm, or 1/16 in.
func step(j *parts.Job) length.Length {
	if j.Units == length.IN || j.Units == length.FT {
		return length.Inch / 16
	}
	return length.Millimetre
}

// sizes returns the changes of sizes. One that is too small for a step is told of in the
// report.
func (s *search) sizes() []candidate {
	var list []candidate
	for _, size := range s.model.Sizes() {
		c := candidate{
			Change:  Change{Kind: Size, Of: size.String(), From: size.Value, Pos: size.Pos},
			amounts: steps(step(s.job), s.limits.most(size.Value)), size: true,
		}
		if c.most = len(c.amounts); c.most == 0 {
			s.note(c.Change, TooSmall, "")
			continue
		}
		c.job = func(n int) (*parts.Job, error) { return s.smaller(size, c.amounts[n-1]) }
		list = append(list, c)
	}
	return list
}

// errNoStep is why a size is not tried that small panels follow.
var errNoStep = errors.New("the step is more than the limit allows of it")

// within bounds the amounts of a size so that no panel loses more than the limits say, and
// that all can be. It returns why none is left. Cost: the job is read a few times.
func (s *search) within(c *candidate) error {
	first, err := c.job(1)
	if err != nil {
		return err
	}
	if p := len(moved(s.job, first)); p == 0 {
		return errors.New("no panel follows it")
	}
	for c.most > 0 {
		job, err := c.job(c.most)
		if err != nil {
			c.most = s.allowed(c)
			continue
		}
		over := 1.0 // the largest loss, for what is allowed
		c.grows = false
		for _, m := range moved(s.job, job) {
			for _, side := range [2][2]length.Length{{m.From.X, m.To.X}, {m.From.Y, m.To.Y}} {
				lost := side[0] - side[1]
				c.grows = c.grows || lost < 0
				if most := s.limits.most(side[0]); lost > most {
					over = max(over, float64(lost)/max(1, float64(most)))
				}
			}
		}
		if over == 1 {
			return nil
		}
		c.most = min(c.most-1, int(float64(c.most)/over))
	}
	return errNoStep
}

// allowed returns the largest amount that can be, where the smallest can and the largest
// cannot: what is a mistake stays one with more.
func (s *search) allowed(c *candidate) int {
	low, high := 1, c.most
	for high-low > 1 {
		mid := (low + high) / 2
		if _, err := c.job(mid); err != nil {
			high = mid
		} else {
			low = mid
		}
	}
	return low
}

// smaller reads the job with a size smaller. It is an error when that has a mistake, a
// warning that the job as written does not have, other panels, or other sheets or tools.
func (s *search) smaller(size jobfile.Size, by length.Length) (*parts.Job, error) {
	job, list := s.model.Less(size, by)
	mistakes, warnings := list.Split()
	if len(mistakes) > 0 {
		return nil, because(&mistakes[0])
	}
	if f := fresh(warnings, s.warnings); f != nil {
		return nil, because(f)
	}
	if !reflect.DeepEqual(job.Stock, s.job.Stock) || !reflect.DeepEqual(job.Saw, s.job.Saw) || !reflect.DeepEqual(job.Router, s.job.Router) {
		return nil, errors.New("sheets or tools follow it, which are as they are")
	}
	if len(job.Panels) != len(s.job.Panels) {
		return nil, errors.New("the job then has other panels")
	}
	for i := range job.Panels {
		a, b := &job.Panels[i], &s.job.Panels[i]
		if a.Name != b.Name || a.Quantity != b.Quantity || a.Material != b.Material {
			return nil, fmt.Errorf("panel %q is then another", b.Name)
		}
	}
	return job, nil
}

// tools returns the changes of the blade or the bit.
func (s *search) tools() []candidate {
	if s.cut == kerf.Router {
		return s.bits()
	}
	from := s.job.Saw.Kerf
	by := length.Millimetre / 10
	if step(s.job) != length.Millimetre {
		by = length.Inch / 64
	}
	c := candidate{Change: Change{Kind: Kerf, Of: "the saw's kerf", From: from, Pos: s.job.Saw.Pos}, amounts: steps(by, min(s.limits.Kerf, from-thinnest))}
	c.most = len(c.amounts)
	c.job = func(n int) (*parts.Job, error) {
		job := *s.job
		job.Saw.Kerf = from - c.amounts[n-1]
		return &job, nil
	}
	return []candidate{c}
}

// thinnest is the thinnest blade for boards (common practice, no source).
const thinnest = 1600 * length.Micrometre

// bits returns the change to a smaller bit: the next usual ones, half as thick at least, so
// that depth of pass and feed stay near what they were (common practice, no source).
func (s *search) bits() []candidate {
	from := s.job.Router.Bit
	usual := []length.Length{10 * length.Millimetre, 8 * length.Millimetre, 6 * length.Millimetre, 5 * length.Millimetre, 4 * length.Millimetre, 3 * length.Millimetre}
	if step(s.job) != length.Millimetre {
		usual = []length.Length{length.Inch / 2, length.Inch * 3 / 8, length.Inch / 4, length.Inch * 3 / 16, length.Inch / 8}
	}
	c := candidate{Change: Change{Kind: Bit, Of: "the router's bit", From: from, Pos: s.job.Router.Pos}}
	for _, bit := range usual {
		if bit < from && 2*bit >= from {
			c.amounts = append(c.amounts, from-bit)
		}
	}
	c.most = len(c.amounts)
	c.job = func(n int) (*parts.Job, error) {
		job := *s.job
		job.Router.Bit = from - c.amounts[n-1]
		return &job, nil
	}
	return []candidate{c}
}
