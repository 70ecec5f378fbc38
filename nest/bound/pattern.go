package bound

// blank is a kind of blank on the rasters of a table.
type blank struct {
	kind    int // index of the weights
	x, y    int32
	upright bool
	cells   int64 // units of area that it takes
}

// table values what straight cuts can get out of a rectangle: a dynamic program over
// the points of two rasters.
//
//	F(x, y) = max of F(x, y-1), F(x-1, y), the weight of a blank that fits,
//	          F(a, y) + F(x-a, y) and F(x, b) + F(x, y-b)
//
// The recursion is that of Gilmore & Gomory, "The theory and computation of knapsack
// functions", Operations Research 14, 1966, on the points of Herz, "Recursive
// computational procedure for two-dimensional stock cutting", IBM Journal of Research
// and Development 16, 1972 (both from memory). It forgets how many copies of a blank
// there are, so F is an upper bound; it is exact where copies abound and the unit is fine.
//
// Time: points of x times cuts of y, and the other way round; fill.go tells how.
type table struct {
	x, y   *raster
	blanks []blank
	f      []int32 // of each point of x a row of y
	fit    [][]int32
	weight []int32
	tiles  *tiles // the same values in lanes
}

// newTable returns a table for blanks of some kinds, which has its memory from the first
// filling on: a table may be dropped for a smaller one before. Those that a unit swallows are
// left out.
func newTable(x, y *raster, blanks []blank) *table {
	t := &table{x: x, y: y, blanks: blanks}
	t.fit = make([][]int32, len(x.points))
	for i, b := range blanks {
		t.fit[b.x] = append(t.fit[b.x], int32(i))
	}
	return t
}

// work estimates the additions, one after the other, that take as long as a table.
func (t *table) work() int {
	return (len(t.y.points)*t.x.splits+len(t.x.points)*t.y.splits)/laneGain + len(t.x.points)*len(t.y.points)*4
}

// row returns the values of a point of x.
func (t *table) row(x int32) []int32 {
	n := len(t.y.points)
	return t.f[int(x)*n : (int(x)+1)*n]
}

// pattern adds to counts, by kind, what makes the value of a point.
func (t *table) pattern(x, y int32, counts []float64) {
	for x > 0 && y > 0 {
		v := t.row(x)[y]
		switch {
		case v == 0:
			return
		case t.row(x - 1)[y] >= v:
			x--
			continue
		case t.row(x)[y-1] >= v:
			y--
			continue
		}
		if i := t.single(x, y, v); i >= 0 {
			counts[t.blanks[i].kind]++
			return
		}
		if c, ok := t.cutX(x, y, v); ok {
			t.pattern(c.a, y, counts)
			x = c.b
			continue
		}
		c, ok := t.cutY(x, y, v)
		if !ok {
			return // cannot be: a value has a reason
		}
		t.pattern(x, c.a, counts)
		y = c.b
	}
}

func (t *table) single(x, y, v int32) int {
	for _, i := range t.fit[x] {
		if b := &t.blanks[i]; b.y == y && t.weight[b.kind] >= v {
			return int(i)
		}
	}
	return -1
}

func (t *table) cutX(x, y, v int32) (pair, bool) {
	for _, c := range t.x.cuts[x] {
		if t.row(c.a)[y]+t.row(c.b)[y] >= v {
			return c, true
		}
	}
	return pair{}, false
}

func (t *table) cutY(x, y, v int32) (pair, bool) {
	row := t.row(x)
	for _, c := range t.y.cuts[y] {
		if row[c.a]+row[c.b] >= v {
			return c, true
		}
	}
	return pair{}, false
}
