package toolpath

import (
	"math"
	"slices"
)

// stitch joins pieces end to start into loops. Pieces that lead nowhere are left
// out: stubs beyond a crossing that are within the tolerance. Lost is how many of
// them do not lie along a loop, which would be a fault of ours.
func stitch(all []piece) (loops [][]piece, lost int) {
	s := &stitching{all: all, next: make([][]int, len(all)), used: make([]bool, len(all))}
	s.link()
	s.prune()
	for i := range all {
		if !s.used[i] {
			if loop := s.walk(i); loop != nil {
				loops = append(loops, whole(loop))
			}
		}
	}
	for _, i := range s.stubs {
		if all[i].len > depth*depth && !along(&all[i].curve, loops) {
			lost++
		}
	}
	return loops, lost
}

type stitching struct {
	all   []piece
	next  [][]int // the pieces that start where each ends, the nearest first
	used  []bool
	stubs []int
}

// link finds the pieces that start near the end of each: those within tight, or
// where there is none within loose.
func (s *stitching) link() {
	type cell struct{ x, y int64 }
	of := func(p vec, dx, dy int64) cell {
		return cell{int64(math.Floor(p.x/loose)) + dx, int64(math.Floor(p.y/loose)) + dy}
	}
	starts := map[cell][]int{}
	for i := range s.all {
		c := of(s.all[i].a, 0, 0)
		starts[c] = append(starts[c], i)
	}
	for i := range s.all {
		end := s.all[i].b
		for dx := int64(-1); dx <= 1; dx++ {
			for dy := int64(-1); dy <= 1; dy++ {
				for _, j := range starts[of(end, dx, dy)] {
					if end.to(s.all[j].a) <= loose {
						s.next[i] = append(s.next[i], j)
					}
				}
			}
		}
		slices.Sort(s.next[i])
	}
}

// prune leaves out pieces that nothing leads to, or that lead to nothing, until
// there are none.
func (s *stitching) prune() {
	in := make([]int, len(s.all))
	before := make([][]int, len(s.all))
	out := make([]int, len(s.all))
	for i, list := range s.next {
		out[i] = len(list)
		for _, j := range list {
			in[j]++
			before[j] = append(before[j], i)
		}
	}
	var todo []int
	for i := range s.all {
		if in[i] == 0 || out[i] == 0 {
			todo = append(todo, i)
		}
	}
	for len(todo) > 0 {
		i := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if s.used[i] {
			continue
		}
		s.used[i] = true
		s.stubs = append(s.stubs, i)
		for _, j := range s.next[i] {
			if in[j]--; in[j] == 0 {
				todo = append(todo, j)
			}
		}
		for _, j := range before[i] {
			if out[j]--; out[j] == 0 {
				todo = append(todo, j)
			}
		}
	}
}

// walk follows pieces from one until it comes back. It returns nil when it does not,
// and the pieces are stubs then.
func (s *stitching) walk(first int) []piece {
	list := []int{first}
	s.used[first] = true
	for at := first; ; {
		j, ok := s.choose(at, first)
		if !ok {
			// Walk back: what led here is no loop, but its start may be one's.
			s.stubs = append(s.stubs, at)
			list = list[:len(list)-1]
			if len(list) == 0 {
				return nil
			}
			at = list[len(list)-1]
			continue
		}
		if j == first {
			loop := make([]piece, len(list))
			for k, i := range list {
				loop[k] = s.all[i]
			}
			return loop
		}
		s.used[j] = true
		list = append(list, j)
		at = j
	}
}

// choose returns the piece to follow at the end of another: of those that start
// there, or failing these close by, the one that turns right most, since the waste
// lies on the right and a place where two loops touch is to part them.
func (s *stitching) choose(at, first int) (int, bool) {
	p := &s.all[at]
	best, found := 0, false
	for _, reach := range [2]float64{tight, loose} {
		least := 0.0
		for _, j := range s.next[at] {
			q := &s.all[j]
			if s.used[j] && j != first || p.b.to(q.a) > reach {
				continue
			}
			if turn := turnBetween(&p.curve, &q.curve); !found || turn < least {
				best, least, found = j, turn, true
			}
		}
		if found {
			break
		}
	}
	return best, found
}

// look is how far along a curve its direction is taken, so that curves that leave a
// point along each other are told apart: 0.05 mm.
const look = 400

// turnBetween returns the angle from p into q, between -π and π, right negative;
// turning back on itself is the last choice.
func turnBetween(p, q *curve) float64 {
	d := min(look, p.len, q.len)
	u, v := p.b.sub(p.at(p.len-d)), q.at(d).sub(q.a)
	turn := math.Atan2(u.cross(v), u.dot(v))
	if turn < 1e-6-math.Pi {
		turn = math.Pi
	}
	return turn
}

// whole joins the pieces of a loop that follow each other on one track.
func whole(loop []piece) []piece {
	follows := func(p, q *piece) bool { return p.track == q.track && p.to == q.from }
	start := 0
	for start < len(loop) && follows(&loop[(start+len(loop)-1)%len(loop)], &loop[start]) {
		start++
	}
	if start == len(loop) {
		start = 0 // one track all round
	}
	var list []piece
	for k := range loop {
		p := loop[(start+k)%len(loop)]
		if n := len(list); n > 0 && follows(&list[n-1], &p) {
			q := &list[n-1]
			q.to, q.b, q.len, q.sweep = p.to, p.b, q.len+p.len, q.sweep+p.sweep
		} else {
			list = append(list, p)
		}
	}
	return list
}

// along reports whether the middle of a stub lies on a loop, within the tolerance.
func along(stub *curve, loops [][]piece) bool {
	m := stub.at(stub.len / 2)
	for _, loop := range loops {
		for i := range loop {
			if loop[i].distance(m) <= 2*depth {
				return true
			}
		}
	}
	return false
}
