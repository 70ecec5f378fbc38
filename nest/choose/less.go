package choose

import (
	"cmp"
	"slices"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts/geom"
)

// lessOne puts the plan for one more than n, without the panels of one, in the place of
// that for n where it places more or costs less, and reports whether it did.
func (b *Batch) lessOne(n int, material string) bool {
	have, more := b.best[n-1][material], b.best[n][material]
	if len(more.Unplaced) > 0 || len(have.Unplaced) == 0 && cost(b.one, more) >= cost(b.one, have) {
		return false
	}
	less := b.without(more, material)
	if less == nil {
		return false
	}
	b.best[n-1][material] = less
	return true
}

// without returns a plan without the panels of one, those of the emptiest sheets first,
// or nil where they share blanks with panels that stay. What a saw frees in their place
// is an offcut.
func (b *Batch) without(plan *nest.Plan, material string) *nest.Plan {
	off := make([]int, len(b.one.Parts)) // copies that are still to be left out
	left := 0
	for i := range b.one.Parts {
		if t := &b.one.Parts[i]; t.Material == material {
			off[i] = t.Copies
			left += t.Copies
		}
	}
	order := make([]int, len(plan.Sheets))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(x, y int) int {
		return cmp.Compare(b.fill(&plan.Sheets[x]), b.fill(&plan.Sheets[y]))
	})
	out := &nest.Plan{Sheets: slices.Clone(plan.Sheets)}
	for _, i := range order {
		sh := &out.Sheets[i]
		stay := []nest.Placement{}
		sh.Offcuts = slices.Clone(sh.Offcuts)
		for _, pl := range sh.Placements {
			if pl.IsShared() || off[pl.Part] == 0 {
				stay = append(stay, pl)
				continue
			}
			off[pl.Part]--
			left--
			if b.one.Cut == kerf.Saw {
				_, blank := b.one.Place(pl)
				b.spare(sh, blank)
			}
		}
		sh.Placements = stay
		left -= b.withoutShared(sh, off)
	}
	if left > 0 {
		return nil
	}
	out.Sheets = slices.DeleteFunc(out.Sheets, func(sh nest.Sheet) bool { return len(sh.Placements) == 0 })
	return out
}

// spare adds a blank that nothing is made of to the offcuts of its sheet.
func (b *Batch) spare(sh *nest.Sheet, blank geom.Box) {
	if size := blank.Size(); min(size.X, size.Y) >= nest.Sliver {
		sh.Offcuts = append(sh.Offcuts, nest.Offcut{Box: blank, Keep: b.one.Keep.Keeps(size)})
	}
}

// withoutShared takes both panels of shared blanks off a sheet where both are to be left
// out, and returns how many panels it took.
func (b *Batch) withoutShared(sh *nest.Sheet, off []int) int {
	members := map[geom.Box][]int{} // the parts
	for _, pl := range sh.Placements {
		if pl.IsShared() {
			members[pl.Shared] = append(members[pl.Shared], pl.Part)
		}
	}
	gone := map[geom.Box]bool{}
	n := 0
	for _, pl := range sh.Placements {
		of := members[pl.Shared]
		if !pl.IsShared() || gone[pl.Shared] || len(of) != 2 {
			continue
		}
		off[of[0]]--
		off[of[1]]--
		if off[of[0]] < 0 || off[of[1]] < 0 {
			off[of[0]]++
			off[of[1]]++
			continue
		}
		gone[pl.Shared] = true
		n += 2
		b.spare(sh, pl.Shared)
	}
	sh.Placements = slices.DeleteFunc(sh.Placements, func(pl nest.Placement) bool { return gone[pl.Shared] })
	return n
}
