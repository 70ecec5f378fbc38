package rest

import (
	"slices"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
)

// Taken is sheets of a kind of the job file that plans bought, spare ones included, or
// took from the rack.
type Taken struct {
	Stock, Material string
	Count           int
}

// Taken returns what is gone of the stock of a job file after a plan of d: what was gone
// before, and what the plan bought or has begun. Boards of the rack that are not begun
// are there still. A list of kinds in the order of the file, without those of which
// nothing is gone.
func (r *Rest) Taken(d *kerf.Demand, plan *nest.Plan, file *parts.Job, before []Taken) []Taken {
	used, whole := r.sheets(d, plan)
	var list []Taken
	for k := range file.Stock {
		t := Taken{Stock: file.Stock[k].Name, Material: file.Stock[k].Material}
		for _, b := range before {
			if b.Stock == t.Stock && b.Material == t.Material {
				t.Count += b.Count
			}
		}
		for i := range d.Sheets {
			if s := d.Sheets[i].Stock; same(s, &file.Stock[k]) {
				t.Count += used[i]
				if s.Offcut {
					t.Count -= whole[i]
				}
			}
		}
		if t.Count > 0 {
			list = append(list, t)
		}
	}
	return list
}

// Left returns the boards in hand that a plan of d does not take: pieces of begun sheets
// and sheets that were bought before, as stock of which so many are available. The
// boards of the job file are not among them.
func Left(d *kerf.Demand, plan *nest.Plan, file *parts.Job) []parts.Stock {
	used := count(d, plan)
	var list []parts.Stock
	for i := range d.Sheets {
		s := *d.Sheets[i].Stock
		if slices.ContainsFunc(file.Stock, func(t parts.Stock) bool { return same(&s, &t) }) {
			continue
		}
		if s.Available -= used[i]; s.Available > 0 {
			list = append(list, s)
		}
	}
	return list
}

func same(a, b *parts.Stock) bool { return a.Name == b.Name && a.Material == b.Material }

// count returns how many sheets of each stock a plan takes.
func count(d *kerf.Demand, plan *nest.Plan) []int {
	n := make([]int, len(d.Sheets))
	for i := range plan.Sheets {
		n[plan.Sheets[i].Stock]++
	}
	return n
}

// sheets returns of each stock how many sheets a plan takes, and how many of them, or
// bought to spare with them, are whole. What is to spare is taken, too.
func (r *Rest) sheets(d *kerf.Demand, plan *nest.Plan) (used, whole []int) {
	used, whole = count(d, plan), make([]int, len(d.Sheets))
	for _, i := range r.Uncut {
		whole[plan.Sheets[i].Stock]++
	}
	bill := nest.BillOf(d, used)
	for i := range bill.Lines {
		whole[i] += bill.Lines[i].Spare
		used[i] += bill.Lines[i].Spare
	}
	return used, whole
}

// banded returns of how many missing copies of each panel the edge band is in hand: it was
// bought for all that the plan places, and with a spoiled copy its band is spoiled.
func (r *Rest) banded(d *kerf.Demand, plan *nest.Plan) []int {
	n := make([]int, len(d.Items))
	for i := range plan.Sheets {
		for _, pl := range plan.Sheets[i].Placements {
			n[pl.Part]++
		}
	}
	for i := range n {
		n[i] = max(n[i], d.Items[i].Panel.Banded)
	}
	for _, x := range r.Done {
		n[x.Part]--
	}
	for _, x := range r.Spoiled {
		n[x.Part]--
	}
	return n
}
