package saw

import (
	"cmp"
	"math"
	"slices"

	"panelyard/nest"
	"panelyard/parts"
)

// kind is blanks of one size with the same turns, whatever part they are of.
type kind struct {
	w, h   int32 // as drawn, enlarged by the kerf
	copies int32
	area   int64 // in grains
	parts  []int // indices in Problem.Parts
}

// board is a stock that can be had.
type board struct {
	stock     int   // index in Problem.Stocks
	w, h      int32 // usable area, enlarged by the kerf
	available int32
	cost      int64
	area      int64 // in grains
}

// rate returns what a board costs by its area.
func (b *board) rate() float64 { return float64(b.cost) / (float64(b.w) * float64(b.h)) }

// The ways in which a kind may lie on a board and fits it.
const (
	asDrawn uint8 = 1 << iota
	turned
)

// job is the panels of one material as the search sees them. It does not change
// during a search.
//
// Areas are counted in grains, 2^shift square units, so that the largest board
// has less than 2^grainBits of them and their squares and sums stay integers:
// floating point would not be the same on every machine.
type job struct {
	p        *nest.Problem
	material string
	kerf     int32
	kinds    []kind
	boards   []board // cheapest by area first
	ways     []uint8 // of kind k on board b: ways[k*len(boards)+b]
	shift    uint
	panels   int
	largest  int64 // area of the largest kind, in grains
	bound    int64 // no plan of all panels costs less
	mixes    []mix // to be tried, the cheapest first
	// hopeless lists parts that fit no board at all, with the reason.
	hopeless []nest.Unplaced
}

const grainBits = 20

// newJob returns the job of a material.
func newJob(p *nest.Problem, material string) *job {
	j := &job{p: p, material: material, kerf: int32(p.Kerf)}
	var most int64
	for i := range p.Stocks {
		s := &p.Stocks[i]
		if s.Material != material || s.Available == 0 || s.Usable.Empty() {
			continue
		}
		b := board{
			stock: i, w: int32(s.Usable.Dx() + p.Kerf), h: int32(s.Usable.Dy() + p.Kerf),
			available: math.MaxInt32, cost: s.Cost,
		}
		if s.Available != parts.Unlimited {
			b.available = int32(min(s.Available, math.MaxInt32))
		}
		j.boards = append(j.boards, b)
		most = max(most, int64(b.w)*int64(b.h))
	}
	for most>>j.shift >= 1<<grainBits {
		j.shift++
	}
	for i := range j.boards {
		b := &j.boards[i]
		b.area = j.grains(b.w, b.h)
	}
	slices.SortStableFunc(j.boards, func(a, b board) int { return cmp.Compare(a.rate(), b.rate()) })
	type key struct {
		w, h int32
		ways string
	}
	seen := map[key]int{}
	for i := range p.Parts {
		part := &p.Parts[i]
		if part.Material != material || part.Copies <= 0 {
			continue
		}
		ways := make([]uint8, len(j.boards))
		fits := false
		for n := range j.boards {
			ways[n] = j.waysOf(i, n)
			fits = fits || ways[n] != 0
		}
		if !fits {
			j.hopeless = append(j.hopeless, nest.Unplaced{Part: i, Copies: part.Copies, Reason: j.reason(i)})
			continue
		}
		k := key{int32(part.Blank.X + p.Kerf), int32(part.Blank.Y + p.Kerf), string(ways)}
		n, ok := seen[k]
		if !ok {
			n = len(j.kinds)
			seen[k] = n
			j.kinds = append(j.kinds, kind{w: k.w, h: k.h, area: max(1, j.grains(k.w, k.h))})
			j.ways = append(j.ways, ways...)
		}
		j.kinds[n].copies += int32(part.Copies)
		j.largest = max(j.largest, j.kinds[n].area)
		j.kinds[n].parts = append(j.kinds[n].parts, i)
		j.panels += part.Copies
	}
	j.bound = j.areaBound()
	return j
}

// mix is a number of sheets of each board.
type mix struct {
	sheets []int32
	cost   int64
	area   int64 // in grains
}

// take takes over the mixes that are to be tried.
func (j *job) take(mixes [][]int) {
	for _, n := range mixes {
		m := mix{sheets: make([]int32, len(j.boards))}
		for b := range j.boards {
			bd := &j.boards[b]
			m.sheets[b] = int32(min(n[bd.stock], int(bd.available)))
			m.cost += bd.cost * int64(m.sheets[b])
			m.area += bd.area * int64(m.sheets[b])
		}
		j.mixes = append(j.mixes, m)
	}
}

// told takes over what is known of the least cost by now.
func (j *job) told(set nest.Settings) {
	if set.Least != nil {
		j.bound = max(j.bound, set.Least())
	}
}

// tooDeep reports whether blanks in a number of rows may need more stages than the
// saw allows: one a row, and one to trim what does not fill its row.
func (j *job) tooDeep(rows int32) bool {
	return j.p.Saw.Stages > 0 && int(rows) >= j.p.Saw.Stages
}

// grains returns an area in grains, rounded down.
func (j *job) grains(w, h int32) int64 { return int64(w) * int64(h) >> j.shift }

// waysOf returns the ways in which a part may lie on a board and fits.
func (j *job) waysOf(part, n int) uint8 {
	b, size := &j.boards[n], j.p.Parts[part].Blank
	w, h := size.X+j.p.Kerf, size.Y+j.p.Kerf
	var ways uint8
	for _, t := range j.p.Turns(part, b.stock) {
		switch {
		case t%180 == 0 && int64(w) <= int64(b.w) && int64(h) <= int64(b.h):
			ways |= asDrawn
		case t%180 == 90 && int64(h) <= int64(b.w) && int64(w) <= int64(b.h):
			ways |= turned
		}
	}
	if w == h && ways&asDrawn != 0 {
		ways = asDrawn
	}
	return ways
}

// The reasons why a panel finds no place, besides nest.RanOut.
const (
	tooBig  = "fits no sheet"
	noStock = "no sheet of this material"
)

// reason says why a part that fits no board does not: no sheet is large enough,
// or those that are have run out.
func (j *job) reason(part int) string {
	size, why := j.p.Parts[part].Blank, noStock
	for i := range j.p.Stocks {
		s := &j.p.Stocks[i]
		if s.Material != j.material {
			continue
		}
		if why == noStock {
			why = tooBig
		}
		for _, t := range j.p.Turns(part, i) {
			w, h := size.X, size.Y
			if t%180 == 90 {
				w, h = h, w
			}
			if t%90 == 0 && w <= s.Usable.Dx() && h <= s.Usable.Dy() {
				return nest.RanOut
			}
		}
	}
	return why
}

// areaBound returns a cost below which no plan of all panels can be: the
// cheapest board by area first, the last sheet in part. With one board the
// number of sheets is rounded up.
func (j *job) areaBound() int64 {
	need := 0.0
	for i := range j.kinds {
		k := &j.kinds[i]
		need += float64(float64(k.w) * float64(k.h) * float64(k.copies))
	}
	need *= 1 - 1e-9 // sums of rounded numbers must not raise the bound
	sum := 0.0
	for i := range j.boards {
		b := &j.boards[i]
		n := min(need/(float64(b.w)*float64(b.h)), float64(b.available))
		if len(j.boards) == 1 {
			n = math.Ceil(n)
		}
		sum += float64(n * float64(b.cost))
		need -= float64(n * float64(b.w) * float64(b.h))
		if need <= 0 {
			break
		}
	}
	return int64(math.Ceil(sum * (1 - 1e-9)))
}
