package saw

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"panelyard/nest"
)

// Tidying keeps what lies on each sheet and the offcuts, and never asks for more.
func TestTidy(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	fewer := 0
	for range 60 {
		p := random(rng, 14)
		r := newRun(p, nest.Settings{Seed: 3, Budget: 2}, time.Now())
		r.each(func(c *chain) { c.first(context.Background()) })
		for i, j := range r.jobs {
			if len(r.chains[i]) == 0 {
				continue
			}
			var st state
			st.copyFrom(&bestOf(r.chains[i]).best)
			before := make([][]int32, len(st.sheets))
			var old []effort
			var most, all []int64
			for n := range st.sheets {
				s := &st.sheets[n]
				if s.board == none || s.leaves == 0 {
					old, most, all = append(old, effort{}), append(most, 0), append(all, 0)
					continue
				}
				before[n] = content(s)
				e, err := j.effort(s)
				if err != nil {
					t.Fatal(err)
				}
				m, a := j.kept(s)
				old, most, all = append(old, e), append(most, m), append(all, a)
			}
			if err := j.tidy(&st, 3); err != nil {
				t.Fatal(err)
			}
			for n := range st.sheets {
				s := &st.sheets[n]
				if before[n] == nil {
					continue
				}
				e, err := j.effort(s)
				if err != nil {
					t.Fatal(err)
				}
				m, a := j.kept(s)
				if !slices.Equal(content(s), before[n]) || e.compare(old[n]) > 0 || m < most[n] || a < all[n] {
					t.Fatalf("sheet %d: %v became %v, kept %d of %d, %d of %d", n, old[n], e, m, most[n], a, all[n])
				}
				if e.settings < old[n].settings {
					fewer++
				}
			}
		}
	}
	if fewer == 0 {
		t.Error("no sheet needs fewer settings: the test shows nothing")
	}
}

// content returns the kinds on a sheet.
func content(s *sheet) []int32 {
	var list []int32
	for i := range s.nodes {
		if k := s.nodes[i].kind; k >= 0 {
			list = append(list, k)
		}
	}
	slices.Sort(list)
	return list
}
