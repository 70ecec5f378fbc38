package tolerance

import (
	"fmt"

	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// Reading is a job read with boards of other thicknesses: nil when it then has mistakes.
type Reading func(thickness map[string]length.Length) (*parts.Job, diag.List)

// Measure reads the job with each material of a panel at the ends of its thickness, and
// notes the panels that change.
func (r *Report) Measure(read Reading) {
	job := r.Dossier.Job
	used := map[string]bool{}
	for i := range job.Panels {
		used[job.Panels[i].Material] = true
	}
	for i := range job.Materials {
		m := &job.Materials[i]
		if !used[m.Name] {
			continue
		}
		b := Board{Material: m}
		b.Least, b.Most, b.Source = parts.UsualThickness(m.Nominal)
		var ends [2]*parts.Job
		for k, t := range []length.Length{b.Least, b.Most} {
			other, list := read(map[string]length.Length{m.Name: t})
			if err := list.Err(); err != nil {
				mistakes, _ := list.Split()
				b.Faults = append(b.Faults, fmt.Sprintf("at %s: %s: %s", r.write.Text(t), mistakes[0].Part, mistakes[0].Fact))
				continue
			}
			ends[k] = other
		}
		if ends[0] != nil && ends[1] != nil {
			b.Changes = changes(job, ends[0], ends[1])
		}
		r.Boards = append(r.Boards, b)
	}
}

// changes lists the panels whose size differs at either end. A reading has the panels of
// the job in their order.
func changes(made, thin, thick *parts.Job) []Change {
	var list []Change
	if len(thin.Panels) != len(made.Panels) || len(thick.Panels) != len(made.Panels) {
		return nil
	}
	for i := range made.Panels {
		c := Change{made.Panels[i].Name, thin.Panels[i].Size(), made.Panels[i].Size(), thick.Panels[i].Size()}
		if c.Thin != c.Made || c.Thick != c.Made {
			list = append(list, c)
		}
	}
	return list
}

// Depends reports whether a size depends on a thickness.
func (r *Report) Depends() bool {
	for i := range r.Boards {
		if len(r.Boards[i].Changes) > 0 {
			return true
		}
	}
	return false
}

// Ends returns the thicknesses of all boards at their thin ends, and at their thick ones.
func (r *Report) Ends() (thin, thick map[string]length.Length) {
	thin, thick = map[string]length.Length{}, map[string]length.Length{}
	for i := range r.Boards {
		b := &r.Boards[i]
		thin[b.Material.Name], thick[b.Material.Name] = b.Least, b.Most
	}
	return thin, thick
}
