package bound

// tiles are the values of a table while it is filled, twice: by the points of x in lanes of y, and
// by those of y in lanes of x. A tile is lanes wide and high. What cuts give it along x is then
// found for lanes of y at a time, and the other way round, from values that lie close together.
//
//	     x
//	  +-----+-----+-----+
//	y |     |     |     |    along x: sums of two columns to the left, of the same lanes of y
//	  +-----+-----+-----+
//	  |     |     |  T  |    along y: sums of two rows below, of the same lanes of x
//	  +-----+-----+-----+
//
// Few cuts leave a point of the tile itself: those come last, point by point.
type tiles struct {
	t        *table
	nx, ny   int
	byX, byY []int32 // [block of y][x][lane], [block of x][y][lane]
	alongX   [lanes][lanes]int32
	alongY   [lanes][lanes]int32
}

// blocks is how many blocks of lanes n points take.
func blocks(n int) int { return (n + lanes - 1) / lanes }

func newTiles(t *table) *tiles {
	nx, ny := len(t.x.points), len(t.y.points)
	return &tiles{
		t: t, nx: nx, ny: ny,
		byX: make([]int32, blocks(ny)*nx*lanes),
		byY: make([]int32, blocks(nx)*ny*lanes),
	}
}

// fill works the table out for weights of kinds.
func (t *table) fill(weight []int32) {
	t.weight = weight
	if t.f == nil {
		t.x.cut()
		t.y.cut()
		t.f = make([]int32, len(t.x.points)*len(t.y.points))
		t.tiles = newTiles(t)
	}
	s := t.tiles
	for y := 0; y < s.ny; y += lanes {
		for x := 0; x < s.nx; x += lanes {
			s.tile(x, y)
		}
	}
}

// tile works out the values of a tile. Those before it along both axes are known.
func (s *tiles) tile(x0, y0 int) {
	t := s.t
	xs, ys := min(lanes, s.nx-x0), min(lanes, s.ny-y0)
	byX := s.byX[y0/lanes*s.nx*lanes:][:s.nx*lanes]
	byY := s.byY[x0/lanes*s.ny*lanes:][:s.ny*lanes]
	for i := range xs {
		x := x0 + i
		s.alongX[i] = [lanes]int32{}
		best8(&s.alongX[i], byX, t.x.cuts[x][t.x.late[x]:])
	}
	for k := range ys {
		y := y0 + k
		s.alongY[k] = [lanes]int32{}
		best8(&s.alongY[k], byY, t.y.cuts[y][t.y.late[y]:])
	}
	for i := range xs {
		x := x0 + i
		if x == 0 {
			continue // nothing is as narrow
		}
		best := &s.alongX[i]
		for k, v := range (*[lanes]int32)(byX[(x-1)*lanes:]) {
			best[k] = max(best[k], v)
		}
		best8(best, byX, t.x.cuts[x][:t.x.late[x]])
		for _, n := range t.fit[x] {
			b := &t.blanks[n]
			if k := int(b.y) - y0; k >= 0 && k < ys {
				best[k] = max(best[k], t.weight[b.kind])
			}
		}
		row, own := t.row(int32(x)), (*[lanes]int32)(byX[x*lanes:])
		below := int32(0)
		if y0 > 0 {
			below = row[y0-1]
		}
		for k := range ys {
			y := y0 + k
			below = max(below, best[k], s.alongY[k][i])
			for _, c := range t.y.cuts[y][:t.y.late[y]] {
				below = max(below, row[c.a]+row[c.b])
			}
			row[y], own[k], byY[y*lanes+i] = below, below, below
		}
	}
}
