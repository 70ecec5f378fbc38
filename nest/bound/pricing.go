package bound

import (
	"math"
	"slices"

	"panelyard/parts/length"
)

// pricing finds patterns that are worth much, for all kinds of sheets.
type pricing struct {
	sheets []sheet
	kinds  []rectangle
	tables []*table // sheets on which all blanks lie alike share one
	of     []int    // table of each kind of sheet
	x, y   []int32  // and its corner there
	cells  []int64  // least area of each kind, of any table
	most   int      // additions that the tables may take
	exact  bool     // lengths are not rounded
	coarse int      // how many patterns found come first that are of coarser rasters
	found  []layout // patterns that bettered a master problem
}

// newPricing chooses rasters and prepares the tables, which take most additions or
// hardly more.
func newPricing(kinds []rectangle, sheets []sheet, most int) *pricing {
	p := &pricing{sheets: sheets, kinds: kinds, most: most}
	groups := p.group()
	// What is counted exactly comes first: where grain keeps panels from being turned, few
	// points are reached. A raster that is too fine costs time before it is dropped.
	const finest = 8192
	p.exact = p.lay(groups, exactRasters) <= most
	if !p.exact {
		for n := int64(min(finest, max(64, most/500))); p.lay(groups, inUnits(n)) > most && n >= 50; n = n * 3 / 4 {
		}
	}
	p.finish()
	return p
}

// like returns a pricing of other kinds, of which pairs with the same ways to lie may have
// become one, in the same units.
func (p *pricing) like(kinds []rectangle) *pricing {
	q := &pricing{sheets: p.sheets, kinds: kinds, most: p.most, exact: p.exact}
	for g, ways := range q.group() {
		of := p.tables[g]
		q.tables = append(q.tables, q.table(g, ways, func(xs, ys []span, ws, hs []length.Length) (x, y *raster) {
			return newRaster(xs, ws, of.x.unit), newRaster(ys, hs, of.y.unit)
		}))
	}
	q.finish()
	return q
}

// group finds the kinds of sheets on which all blanks lie alike, and returns how they do.
func (p *pricing) group() [][]byte {
	p.of = make([]int, len(p.sheets))
	var groups [][]byte
	for j := range p.sheets {
		var ways []byte
		for i := range p.kinds {
			ways = append(ways, p.kinds[i].ways[j])
		}
		g := slices.IndexFunc(groups, func(o []byte) bool { return slices.Equal(o, ways) })
		if g < 0 {
			g = len(groups)
			groups = append(groups, ways)
		}
		p.of[j] = g
	}
	return groups
}

// rasters makes those of a table of the lengths of blanks and sheets along each axis, or none.
type rasters func(xs, ys []span, ws, hs []length.Length) (x, y *raster)

func exactRasters(xs, ys []span, ws, hs []length.Length) (x, y *raster) {
	return exactRaster(xs, ws), exactRaster(ys, hs)
}

// inUnits makes rasters with about n units along a sheet.
func inUnits(n int64) rasters {
	return func(xs, ys []span, ws, hs []length.Length) (x, y *raster) {
		w, h := int64(slices.Max(ws)), int64(slices.Max(hs))
		return newRaster(xs, ws, unitFor(xs, ws, min(n, w/2))), newRaster(ys, hs, unitFor(ys, hs, min(max(n*h/w, 25), h/2)))
	}
}

// lay prepares the tables, and returns the additions that they take: too many for anyone
// where there are no rasters.
func (p *pricing) lay(groups [][]byte, of rasters) int {
	p.tables = p.tables[:0]
	work := 0
	for g, ways := range groups {
		t := p.table(g, ways, of)
		if t == nil {
			return math.MaxInt
		}
		p.tables = append(p.tables, t)
		work += t.work()
	}
	return work
}

// finish works out what follows from the tables.
func (p *pricing) finish() {
	p.cells = make([]int64, len(p.kinds))
	for _, t := range p.tables {
		for _, b := range t.blanks {
			if p.cells[b.kind] == 0 || b.cells < p.cells[b.kind] {
				p.cells[b.kind] = b.cells
			}
		}
	}
	for j := range p.sheets {
		t := p.tables[p.of[j]]
		p.x, p.y = append(p.x, t.x.at(p.sheets[j].w)), append(p.y, t.y.at(p.sheets[j].h))
	}
}

// table returns the table of a group of sheets on rasters of its lengths, nil when there are
// none.
func (p *pricing) table(group int, ways []byte, of rasters) *table {
	var ws, hs []length.Length
	for j := range p.sheets {
		if p.of[j] == group {
			ws, hs = append(ws, p.sheets[j].w), append(hs, p.sheets[j].h)
		}
	}
	w, h := slices.Max(ws), slices.Max(hs)
	var xs, ys []span
	lying := func(way byte, do func(kind int, w, h length.Length)) {
		for i := range p.kinds {
			k := &p.kinds[i]
			if ways[i]&way == 0 {
				continue
			}
			if way == lyingLevel && k.w <= w && k.h <= h {
				do(i, k.w, k.h)
			}
			if way == lyingUpright && k.h <= w && k.w <= h {
				do(i, k.h, k.w)
			}
		}
	}
	note := func(i int, w, h length.Length) {
		xs, ys = append(xs, span{w, p.kinds[i].copies}), append(ys, span{h, p.kinds[i].copies})
	}
	lying(lyingLevel, note)
	lying(lyingUpright, note)
	if len(xs) == 0 {
		x := newRaster(nil, ws, w+1)
		return newTable(x, x, nil)
	}
	x, y := of(xs, ys, ws, hs)
	if x == nil || y == nil {
		return nil
	}
	var blanks []blank
	for _, way := range []byte{lyingLevel, lyingUpright} {
		lying(way, func(i int, w, h length.Length) {
			a, b := w/x.unit, h/y.unit
			if at, up := x.over(w), y.over(h); a > 0 && b > 0 && at > 0 && up > 0 {
				blanks = append(blanks, blank{i, at, up, way == lyingUpright, int64(a) * int64(b)})
			}
		})
	}
	return newTable(x, y, blanks)
}

// fits returns how many blanks of a kind a sheet can have, by their areas.
func (p *pricing) fits(kind int) int {
	largest := 0.0
	for j := range p.sheets {
		largest = max(largest, boxArea(p.sheets[j].w, p.sheets[j].h))
	}
	return int(largest / boxArea(p.kinds[kind].w, p.kinds[kind].h))
}

// work is what the tables take each time they are filled.
func (p *pricing) work() int {
	n := 0
	for _, t := range p.tables {
		n += t.work()
	}
	return n
}

// fill returns whole weights in proportion to some of at least 0, and what the panels of
// a sheet of each kind can weigh at most.
func (p *pricing) fill(duals []float64) (weight []int32, most []float64) {
	const scale = 1 << 29
	dense := 0.0
	for i, d := range duals {
		if p.cells[i] > 0 {
			dense = max(dense, d/float64(p.cells[i]))
		}
	}
	top := 0.0 // no sheet weighs more
	for _, t := range p.tables {
		top = max(top, dense*float64(t.x.points[len(t.x.points)-1])*float64(t.y.points[len(t.y.points)-1]))
	}
	weight = make([]int32, len(duals))
	if top > 0 {
		for i, d := range duals {
			if p.cells[i] > 0 {
				weight[i] = int32(d / top * scale)
			}
		}
	}
	for _, t := range p.tables {
		t.fill(weight)
	}
	for j := range p.sheets {
		most = append(most, float64(p.tables[p.of[j]].row(p.x[j])[p.y[j]]))
	}
	return weight, most
}

// patterns returns how many of each kind the best patterns of a kind of sheet have,
// those of some first cuts.
func (p *pricing) patterns(j int) [][]float64 {
	t := p.tables[p.of[j]]
	x, y := p.x[j], p.y[j]
	type first struct {
		value int32
		from  [2][2]int32
	}
	list := []first{{math.MaxInt32, [2][2]int32{{x, y}}}}
	for _, c := range t.x.cuts[x] {
		list = append(list, first{t.row(c.a)[y] + t.row(c.b)[y], [2][2]int32{{c.a, y}, {c.b, y}}})
	}
	for _, c := range t.y.cuts[y] {
		list = append(list, first{t.row(x)[c.a] + t.row(x)[c.b], [2][2]int32{{x, c.a}, {x, c.b}}})
	}
	slices.SortStableFunc(list, func(a, b first) int { return int(b.value) - int(a.value) })
	var found [][]float64
	for _, f := range list[:min(len(list), 4*perSheet)] {
		counts := make([]float64, len(p.kinds))
		for _, q := range f.from {
			t.pattern(q[0], q[1], counts)
		}
		if !slices.ContainsFunc(found, func(o []float64) bool { return slices.Equal(o, counts) }) {
			found = append(found, counts)
		}
		if len(found) == perSheet {
			break
		}
	}
	return found
}
