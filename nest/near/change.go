package near

import (
	"fmt"
	"slices"
	"strings"

	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// Kind is a kind of change.
type Kind int

// The kinds of change.
const (
	Size  Kind = iota // of a variable, a carcass or a panel
	Kerf              // of the saw
	Bit               // of the router
	Trim              // of one edge of a kind of sheet
	Grain             // of a panel, freed
	Join              // of a panel from two pieces
)

// String returns a word for the kind.
func (k Kind) String() string {
	return [...]string{"smaller size", "thinner kerf", "smaller bit", "less trim", "grain freed", "joined panel"}[k]
}

// What a change that has no length of its own weighs, in millimetres of a size (ours).
const (
	weightOfTool  = 10 // another blade or bit, for this job
	weightOfGrain = 5  // a panel whose grain may run across
	weightOfJoin  = 20 // a joint to be glued
)

// Weights tells in words what changes without a length of their own weigh.
var Weights = fmt.Sprintf("To be ranked with sizes and trim, another blade or bit counts as %d mm, a panel whose grain is freed as %d mm, a joint as %d mm (ours).", weightOfTool, weightOfGrain, weightOfJoin)

// Change is one change of a job, by one amount.
type Change struct {
	Kind     Kind
	Of       string        // what is changed: variable "width"
	Material string        // of the panel, or of the sheet; empty where it is not one
	From, To length.Length // of sizes, tools and trim; 0 otherwise
	Copies   int           // of the panel, for grain and joints; 0 otherwise
	Pos      diag.Pos      // of what is changed in the job file, where it has a place
}

// Weight returns how much of a change it is, in millimetres.
func (c *Change) Weight() float64 {
	switch c.Kind {
	case Size, Trim:
		return (c.From - c.To).MM()
	case Grain:
		return weightOfGrain * float64(c.Copies)
	case Join:
		return weightOfJoin * float64(c.Copies)
	}
	return weightOfTool
}

// candidate is a change with its amounts.
type candidate struct {
	Change
	amounts []length.Length // by which it can be less, rising; nil when copies are counted
	most    int             // amounts, or copies
	// job returns the job with amount n, from 1 to most, or why it cannot be.
	job func(n int) (*parts.Job, error)
	// grows reports that the change makes something larger as well, so that a plan for
	// one amount need not be one for a larger amount.
	grows bool
	// size is set where panels change with it, and what they need is to be looked at.
	size bool
}

// at returns the change by amount n.
func (c *candidate) at(n int) Change {
	out := c.Change
	if c.amounts != nil {
		out.To = out.From - c.amounts[n-1]
	} else {
		out.Copies = n
	}
	return out
}

// steps returns the multiples of a step up to most.
func steps(step, most length.Length) []length.Length {
	var list []length.Length
	for l := step; l <= most && len(list) < maxAmounts; l += step {
		list = append(list, l)
	}
	return list
}

// maxAmounts bounds the amounts of a change.
const maxAmounts = 1000

// Moved is a panel whose size follows a change.
type Moved struct {
	Panel    string
	Copies   int
	From, To geom.Point // finished size
}

// moved returns the panels whose size is another. The jobs have the same panels.
func moved(a, b *parts.Job) []Moved {
	var list []Moved
	if len(a.Panels) != len(b.Panels) {
		return nil
	}
	for i := range a.Panels {
		if from, to := a.Panels[i].Size(), b.Panels[i].Size(); from != to {
			list = append(list, Moved{a.Panels[i].Name, a.Panels[i].Quantity, from, to})
		}
	}
	return list
}

// fresh returns the first finding of a list that another does not have, or nil. The
// figures in it do not tell findings apart: a shelf that sags less still sags.
func fresh(list, known diag.List) *diag.Finding {
	said := func(f *diag.Finding) string {
		return f.Part + strings.Map(func(r rune) rune {
			if '0' <= r && r <= '9' || r == '.' {
				return -1
			}
			return r
		}, f.Fact)
	}
	for i := range list {
		if !slices.ContainsFunc(known, func(f diag.Finding) bool { return said(&f) == said(&list[i]) }) {
			return &list[i]
		}
	}
	return nil
}

// because returns a finding as a reason.
func because(f *diag.Finding) error {
	if f.Part == "" {
		return fmt.Errorf("%s", f.Fact)
	}
	return fmt.Errorf("%s: %s", f.Part, f.Fact)
}
