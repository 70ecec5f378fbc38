package router

import (
	"math"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// spot is what has to be known of a placed item to cost a place beside it. The
// spots of a board lie side by side in memory, because most of the time of the
// search goes into walking along them.
type spot struct {
	x0, y0, x1, y1 int32   // its box, moved out by the gap on the right and above
	item           int32   // the item
	shape          int32   // id of its shape
	weight         float32 // of an overlap with the item that looks for a place, a millimetre deep
	square         bool
}

// look gathers the spots of a board for item i to look for a place there. They
// hold until an item is moved or a weight is changed.
func (s *searcher) look(i, b int32) {
	s.spots = s.spots[:0]
	row := s.weight[int(i)*len(s.items):]
	size := s.kinds[s.items[i]].size
	for _, j := range s.cur.boards[b].items {
		if j == i {
			continue
		}
		p := &s.cur.places[j]
		s.spots = append(s.spots, spot{
			int32(p.x), int32(p.y), int32(p.x + p.sh.w + s.gap), int32(p.y + p.sh.h + s.gap),
			j, int32(p.sh.id), row[j] * scale(size, s.kinds[s.items[j]].size), p.sh.square,
		})
	}
}

// scale is how much an overlap of two sizes counts: two large panels matter more.
func scale(a, b float64) float32 {
	return float32(math.Sqrt(min(a, b) / float64(length.Millimetre)))
}

// tooth is added to depths in millimetres, so that no overlap costs nearly nothing.
const tooth = 1e-3

// cost returns the weighted overlap a shape would have at a place on the board that
// is looked at. It stops, with a value of at least bound, once that is reached.
func (s *searcher) cost(sh *shape, x, y length.Length, bound float64) float64 {
	const unit = 1 / float64(length.Millimetre)
	x0, y0 := int32(x), int32(y)
	x1, y1 := int32(x+sh.w+s.gap), int32(y+sh.h+s.gap)
	sum := 0.0
	for k := range s.spots {
		p := &s.spots[k]
		least := min(x1-p.x0, p.x1-x0, y1-p.y0, p.y1-y0)
		if least <= 0 {
			continue
		}
		depth := float64(least)
		if !p.square || !sh.square {
			at := geom.Pt(length.Length(x0-p.x0), length.Length(y0-p.y0))
			if depth = s.depthByID(p.shape, sh, at); depth == 0 {
				continue
			}
		}
		sum += (depth*unit + tooth) * float64(p.weight)
		if sum >= bound {
			return sum
		}
	}
	return sum
}

// depthByID is depth for a shape fixed that is given by its number, two that are not
// both rectangles.
func (s *shop) depthByID(a int32, b *shape, d geom.Point) float64 {
	if s.loose {
		return looseDepth(s.shapes[a], b, d)
	}
	p := s.pairs[int(a)*len(s.shapes)+b.id].Load()
	if p == nil {
		p = s.pair(s.shapes[a], b)
	}
	return s.within(p, d)
}
