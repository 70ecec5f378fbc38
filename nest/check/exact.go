package check

import (
	"math"
	"math/bits"

	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// side is where a point lies relative to a region.
type side int

const (
	outside side = iota
	border
	inside
)

// sign returns -1, 0 or 1.
func sign(v int64) int {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

// dot returns the scalar product of b-a and d-c, up to 2^61.
func dot(a, b, c, d geom.Point) int64 {
	return int64(b.X-a.X)*int64(d.X-c.X) + int64(b.Y-a.Y)*int64(d.Y-c.Y)
}

// crossing reports whether the segments ab and cd cross in one point that is an
// end of neither.
func crossing(a, b, c, d geom.Point) bool {
	return sign(cross(a, b, c))*sign(cross(a, b, d)) < 0 && sign(cross(c, d, a))*sign(cross(c, d, b)) < 0
}

// onSegment reports whether p lies on the segment ab, ends included.
func onSegment(p, a, b geom.Point) bool {
	return p.X >= min(a.X, b.X) && p.X <= max(a.X, b.X) &&
		p.Y >= min(a.Y, b.Y) && p.Y <= max(a.Y, b.Y) && cross(a, b, p) == 0
}

// square returns a*a in 128 bits.
func square(a int64) (hi, lo uint64) {
	u := uint64(a)
	if a < 0 {
		u = -u
	}
	return bits.Mul64(u, u)
}

// pointNearer reports whether p is less than gap from the segment ab, a != b.
//
// Where the foot of the perpendicular falls on the segment, the distance is
// |cross|/len, so gap*len is compared with |cross|, both squared: cross is at
// most 2^61, gap 2^29 and len^2 2^61, so neither side passes 2^122.
func pointNearer(p, a, b geom.Point, gap length.Length) bool {
	along := dot(a, b, a, p)
	length2 := dot(a, b, a, b)
	g2 := int64(gap) * int64(gap)
	switch {
	case along <= 0:
		return dot(a, p, a, p) < g2
	case along >= length2:
		return dot(b, p, b, p) < g2
	}
	h1, l1 := square(cross(a, b, p))
	h2, l2 := bits.Mul64(uint64(g2), uint64(length2))
	return h1 < h2 || h1 == h2 && l1 < l2
}

// segmentsNearer reports whether the segments ab and cd are less than gap
// apart, gap > 0.
func segmentsNearer(a, b, c, d geom.Point, gap length.Length) bool {
	// Two segments that do not cross are nearest at an end of one of them.
	return pointNearer(a, c, d, gap) || pointNearer(b, c, d, gap) ||
		pointNearer(c, a, b, gap) || pointNearer(d, a, b, gap) || crossing(a, b, c, d)
}

// pointDistance returns the distance of p from the segment ab, for facts only.
func pointDistance(p, a, b geom.Point) float64 {
	along := float64(dot(a, b, a, p))
	length2 := float64(dot(a, b, a, b))
	switch {
	case along <= 0:
		return math.Sqrt(float64(dot(a, p, a, p)))
	case along >= length2:
		return math.Sqrt(float64(dot(b, p, b, p)))
	}
	return math.Abs(float64(cross(a, b, p))) / math.Sqrt(length2)
}

// segmentDistance returns the distance of two segments that do not cross, for
// facts only.
func segmentDistance(a, b, c, d geom.Point) float64 {
	return min(pointDistance(a, c, d), pointDistance(b, c, d), pointDistance(c, a, b), pointDistance(d, a, b))
}
