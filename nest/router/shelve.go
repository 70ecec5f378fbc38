package router

import "panelyard/parts/length"

// shelve lays the boxes of items that have no place in rows on new boards, as they
// come: a place in next to no time, when there is none for a better one.
func (s *searcher) shelve(items []int32) {
	rows := map[int]*shelves{} // of the open board of a stock
	for _, i := range items {
		if s.cur.places[i].board >= 0 {
			continue
		}
		done := false
		for _, j := range s.stocks {
			if r := rows[j]; r != nil && s.shelf(i, r) {
				done = true
				break
			}
		}
		if done {
			continue
		}
		if b, ok := s.open(i, false); ok {
			r := &shelves{board: b}
			rows[s.cur.boards[b].stock] = r
			s.shelf(i, r)
		}
	}
}

// shelves is a board that is filled in rows along its length.
type shelves struct {
	board   int32
	x, y, h length.Length // where the next box goes, and the height of the row
}

// shelf lays an item at the end of the row, or begins a new one. It reports whether
// there was room.
func (s *searcher) shelf(i int32, r *shelves) bool {
	bd := &s.cur.boards[r.board]
	for _, newRow := range []bool{false, true} {
		x, y := r.x, r.y
		if newRow {
			x, y = 0, r.y+r.h
			if r.h > 0 {
				y += s.gap
			}
		}
		for _, sh := range s.kinds[s.items[i]].ways[bd.stock] {
			if x+sh.w > bd.w || y+sh.h > bd.h {
				continue
			}
			if newRow {
				r.h = 0
			}
			r.x, r.y, r.h = x+sh.w+s.gap, y, max(r.h, sh.h)
			s.move(i, place{r.board, sh, x, y})
			return true
		}
	}
	return false
}
