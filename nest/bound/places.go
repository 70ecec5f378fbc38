package bound

// placesOf returns of each kind the others in whose places it has room, on every kind of sheet of
// the mix: of a shelf the bottom that is a little larger. A plan that has one of those too many and
// one of these too few is none the less one.
func (t *choice) placesOf() [][]int {
	list := make([][]int, len(t.wanted))
	for k := range list {
		for u := range list {
			if k != u && t.hasRoom(k, u) {
				list[k] = append(list[k], u)
			}
		}
	}
	return list
}

// hasRoom reports whether a blank of a kind can lie where one of another lies, as that does.
func (t *choice) hasRoom(kind, other int) bool {
	a, b := &t.p.kinds[kind], &t.p.kinds[other]
	if a.w > b.w || a.h > b.h {
		return false
	}
	for j, n := range t.mix {
		if n > 0 && b.ways[j]&^a.ways[j] != 0 {
			return false
		}
	}
	return true
}

// exchange puts blanks of kinds of which there are too few in the places of others of which there
// are too many, as long as there are such, and calls do for each exchange. lacks is how many are
// missing, below 0 how many there are too many.
func exchange(lacks []int32, places [][]int, do func(kind, other int, copies int32)) {
	for k := range lacks {
		for _, u := range places[k] {
			if n := min(lacks[k], -lacks[u]); n > 0 {
				lacks[k] -= n
				lacks[u] += n
				do(k, u, n)
			}
		}
	}
}

// relabel makes the first blank of one kind in a piece one of another kind, for which there is
// room, and reports whether there is one.
func (t *choice) relabel(q *piece, from, to int) bool {
	if q.parts[0] != nil {
		return t.relabel(q.parts[0], from, to) || t.relabel(q.parts[1], from, to)
	}
	if q.kind != from {
		return false
	}
	was, k := &t.p.kinds[from], &t.p.kinds[to]
	upright := q.w != was.w
	q.kind, q.w, q.h = to, k.w, k.h
	if upright {
		q.w, q.h = k.h, k.w
	}
	return true
}
