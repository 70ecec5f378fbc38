package saw

import (
	"context"
	"fmt"
	"math/rand/v2"
	"reflect"
	"testing"

	"panelyard/kerf"
	"panelyard/nest"
	"panelyard/parts"
	"panelyard/parts/length"
)

// sound checks a settled sheet the slow way: sizes and pieces from the blanks up,
// every child in its row, nothing beyond the sheet.
func sound(t *testing.T, j *job, s *sheet) {
	t.Helper()
	var leaves int32
	var used int64
	roomW, roomH := s.roomW, s.roomH
	if s.root != none {
		roomW, roomH = 0, 0
	}
	var walk func(n int32) (w, h int32)
	walk = func(n int32) (w, h int32) {
		q := &s.nodes[n]
		roomW, roomH = max(roomW, q.mw-q.w), max(roomH, q.mh-q.h)
		if q.kind >= 0 {
			leaves++
			used += j.kinds[q.kind].area
			k := j.kinds[q.kind]
			if q.odd {
				k.w, k.h = k.h, k.w
			}
			if q.w != k.w || q.h != k.h {
				t.Fatalf("a blank of %d x %d lies as %d x %d", k.w, k.h, q.w, q.h)
			}
			return q.w, q.h
		}
		if q.first == none {
			t.Fatal("an empty row")
		}
		for c := q.first; c != none; c = s.nodes[c].next {
			d := &s.nodes[c]
			if d.parent != n || d.kind == q.kind || d.under != q.kind {
				t.Fatalf("a child that is not in order: %+v in %+v", *d, *q)
			}
			cw, ch := walk(c)
			if q.kind == rowX {
				w, h = w+cw, max(h, ch)
			} else {
				w, h = max(w, cw), h+ch
			}
			if d.w > d.aw || d.h > d.ah || d.aw > d.mw || d.ah > d.mh {
				t.Fatalf("a piece too small or too large: %+v", *d)
			}
		}
		if w != q.w || h != q.h {
			t.Fatalf("a row needs %d x %d and says %d x %d", w, h, q.w, q.h)
		}
		return w, h
	}
	if s.root != none {
		if w, h := walk(s.root); w > s.w || h > s.h {
			t.Fatalf("%d x %d on a sheet of %d x %d", w, h, s.w, s.h)
		}
	}
	if roomW != s.roomW || roomH != s.roomH {
		t.Fatalf("a node can grow by %d or %d, the sheet says %d and %d", roomW, roomH, s.roomW, s.roomH)
	}
	if leaves != s.leaves || used != s.used {
		t.Fatalf("%d blanks of %d grains, the sheet says %d of %d", leaves, used, s.leaves, s.used)
	}
	free := j.boards[s.board].area
	if s.whole < 0 || s.whole > square(free) {
		t.Fatalf("wholeness %d of a sheet of %d grains", s.whole, free)
	}
}

// small returns a job of many small panels on one kind of sheet.
func small(rng *rand.Rand, n int) *job {
	p := &nest.Problem{Cut: kerf.Saw, Kerf: 4 * mm, Gap: 4 * mm}
	for i := range n {
		p.Parts = append(p.Parts, part(fmt.Sprint(i), 1+rng.IntN(3), length.Length(50+rng.IntN(500))*mm, length.Length(50+rng.IntN(500))*mm, parts.NoAxis))
	}
	p.Stocks = []nest.Stock{stock("sheet", 1300*mm, 900*mm, 0, parts.NoAxis, 1, parts.Unlimited)}
	return newJob(p, "ply")
}

// Blanks are put and branches taken at random; the sheet stays sound.
func TestTreeSound(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	for range 40 {
		j := small(rng, 12)
		c := newChain(j, rng.Uint64(), 0)
		var s sheet
		s.reset(0, &j.boards[0])
		s.settle(j)
		for range 150 {
			if rng.IntN(3) > 0 {
				c.put(&s, int32(rng.IntN(len(j.kinds))), rule(rng.IntN(int(rules))), uint64(rng.IntN(2)*3))
			} else if n := int32(rng.IntN(len(s.nodes) + 1)); int(n) < len(s.nodes) && s.nodes[n].kind != unused {
				s.detach(n)
				s.dissolve(j, n, nil)
				s.remeasure(j)
			}
			sound(t, j, &s)
			if rng.IntN(20) == 0 {
				s.finish(j)
				sound(t, j, &s)
			}
		}
	}
}

// A step that is undone leaves everything as it was.
func TestUndo(t *testing.T) {
	rng := rand.New(rand.NewPCG(23, 24))
	type facts struct {
		left, used  []int32
		count, open int
		area, cost  int64
		whole       int64
		sheets      string
	}
	read := func(st *state) facts {
		f := facts{append([]int32{}, st.left...), append([]int32{}, st.used...), st.count, st.open, st.area, st.cost, st.whole, ""}
		for i := range st.sheets {
			if s := &st.sheets[i]; s.board != none {
				f.sheets += fmt.Sprint(i, s.board, s.w, s.h, s.root, s.leaves, s.nodes)
			}
		}
		return f
	}
	for range 20 {
		j := small(rng, 20)
		c := newChain(j, rng.Uint64(), 0)
		c.first(context.Background())
		c.startCheaper()
		for range 50 {
			was := read(&c.now)
			c.change()
			c.undo()
			if now := read(&c.now); !reflect.DeepEqual(now, was) {
				t.Fatalf("was\n%+v\nis\n%+v", was, now)
			}
			c.step()
			var whole, area int64
			for i := range c.now.sheets {
				if s := &c.now.sheets[i]; s.board != none {
					sound(t, j, s)
					whole += s.whole
				}
			}
			for k, n := range c.now.left {
				area += int64(n) * j.kinds[k].area
			}
			if whole != c.now.whole || area != c.now.area {
				t.Fatalf("wholeness %d and area %d, the state says %d and %d", whole, area, c.now.whole, c.now.area)
			}
		}
	}
}

// Late acceptance looks farther back once a search lasts longer than by default.
func TestHistoryGrows(t *testing.T) {
	j := small(rand.New(rand.NewPCG(27, 28)), 40)
	usual := DefaultRounds(j.panels) * roundSteps
	for n, want := range [chains][]int{{40, 40, 45, 90, 400}, {40, 40, 50, 140, 400}, {40, 40, 60, 240, 400}, {40, 40, 80, 400, 400}} {
		c := newChain(j, 1, n)
		c.first(context.Background())
		for i, steps := range []int{0, usual, 2 * usual, 11 * usual, 1000 * usual} {
			c.steps, c.goal = steps, cheaper
			c.startCheaper()
			if len(c.late) != want[i] {
				t.Errorf("after %d steps chain %d looks back by %d, want %d", steps, n, len(c.late), want[i])
			}
			for _, e := range c.late {
				if e != c.energy() {
					t.Fatal("a new goal begins with what was before it")
				}
			}
			c.goal = offcut
			c.startOffcut()
			if len(c.late) != 40 {
				t.Errorf("for an offcut chain %d looks back by %d, want 40", n, len(c.late))
			}
		}
	}
}

// Once it is warm, a step takes no memory.
func TestStepAllocatesNothing(t *testing.T) {
	j := small(rand.New(rand.NewPCG(25, 26)), 40)
	c := newChain(j, 1, 0)
	c.first(context.Background())
	c.startCheaper()
	for range 3000 {
		c.step()
	}
	if n := testing.AllocsPerRun(2000, func() { c.step() }); n > 0 {
		t.Errorf("%v allocations a step", n)
	}
}
