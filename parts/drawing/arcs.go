package drawing

import (
	"math"

	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// What is taken for an arc (ours).
const (
	// MinSegments is how many segments an arc is made of at least. With MaxTurn it
	// keeps polygons: a regular one has to have 18 sides to be taken for a circle.
	MinSegments = 6
	// MaxTurn is the most, in degrees, that a corner inside an arc turns.
	MaxTurn = 20
	// maxBulge is that of an arc of 200 degrees: a circle becomes two or three arcs.
	maxBulge = 1.2
)

// Recognised tells what became of short segments.
type Recognised struct {
	Segments  int           // that became arcs
	Arcs      int           // they became
	Deviation length.Length // the most that an arc leaves its segments, rounded up
}

// Add returns the sum of r and q.
func (r Recognised) Add(q Recognised) Recognised {
	return Recognised{r.Segments + q.Segments, r.Arcs + q.Arcs, max(r.Deviation, q.Deviation)}
}

// arcs returns o with runs of short segments replaced by arcs, each within the
// tolerance of every one of its segments, and for each segment of the result the
// first of o it stands for. Vertices of o are kept or left out, none is moved.
//
// A run is extended from its first corner as far as an arc fits, by doubling and
// halving, so the time is O(n log n). Ours; not the fewest arcs there are.
func arcs(o outline.Outline, within []float64) (outline.Outline, []int, Recognised) {
	n := len(o)
	var r Recognised
	if n < MinSegments {
		return o, nil, r
	}
	// Begin where no arc can pass, or else where the longest segment ends: hardly in
	// the middle of an arc.
	slight := make([]bool, n)
	start, longest := 0, -1.0
	for i := range o {
		slight[i] = turnsSlightly(o, i)
		d := apart(o[(i+n-1)%n].At, o[i].At)
		if !slight[i] {
			d = math.Inf(1)
		}
		if d > longest {
			start, longest = i, d
		}
	}
	var out outline.Outline
	var keep []int
	for i, last := 0, 0; i < n; {
		at := (start + i) % n
		v := o[at]
		out, keep = append(out, v), append(keep, at)
		if last <= i+1 { // the run goes on up to a corner that breaks it
			last = i + 1
			for last < n && slight[(start+last)%n] {
				last++
			}
		}
		k, bulge, off := longestArc(o, within, at, last-i)
		if k == 0 {
			i++
			continue
		}
		out[len(out)-1].Bulge = bulge
		r = r.Add(Recognised{k, 1, length.Length(math.Ceil(off))})
		i += k
	}
	return out, keep, r
}

// turnsSlightly reports whether a corner is one between lines that turn by no more
// than [MaxTurn]. To which side does not matter: where segments are very short the
// rounding of their ends turns them either way.
func turnsSlightly(o outline.Outline, i int) bool {
	n := len(o)
	before := o[(i+n-1)%n]
	if before.Bulge != 0 || o[i].Bulge != 0 {
		return false
	}
	u, v := o[i].At.Sub(before.At), o[(i+1)%n].At.Sub(o[i].At)
	angle := math.Atan2(float64(u.Cross(v)), float64(u.Dot(v)))
	return math.Abs(angle) <= MaxTurn*math.Pi/180
}

// longestArc returns how many segments from that at an index, of the next most,
// make an arc, its bulge and how far it leaves them; none if there are 0.
func longestArc(o outline.Outline, within []float64, at, most int) (k int, bulge, off float64) {
	if most < MinSegments {
		return 0, 0, 0
	}
	straight := false
	try := func(n int) bool {
		b, d, rise, ok := arcOver(o, within, at, n)
		if ok {
			// One that is all but straight may become an arc when it goes on.
			k, bulge, off, straight = n, b, d, rise <= 2*within[at]
		}
		return ok
	}
	n := MinSegments
	for try(n) && n < most {
		n = min(2*n, most)
	}
	// It fits over k segments, and not over n when that is more.
	for lo, hi := k, n; k > 0 && hi-lo > 1; {
		if mid := (lo + hi) / 2; try(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	if straight {
		return 0, 0, 0
	}
	return k, bulge, off
}

// arcOver returns the bulge of the arc from the corner at an index over the next k
// segments, through the corner in the middle of them, how far they leave each
// other, and the rise of the arc. It does not hold when they leave each other by
// more than the tolerance of a segment.
func arcOver(o outline.Outline, within []float64, at, k int) (bulge, off, rise float64, ok bool) {
	n := len(o)
	a, b := o[at].At, o[(at+k)%n].At
	bulge, err := outline.BulgeThrough(a, o[(at+k/2)%n].At, b)
	if err != nil || math.Abs(bulge) > maxBulge {
		return 0, 0, 0, false
	}
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	chord := math.Hypot(dx, dy)
	radius := chord * (1 + bulge*bulge) / (4 * math.Abs(bulge))
	// The centre lies on the bisector of the chord, relative to a.
	h := (1 - bulge*bulge) / (4 * bulge)
	cx, cy := dx/2-h*dy, dy/2+h*dx
	tolerance := math.Inf(1)
	for i := range k {
		p, q := o[(at+i)%n].At, o[(at+i+1)%n].At
		tolerance = min(tolerance, within[(at+i)%n])
		px, py := float64(p.X-a.X)-cx, float64(p.Y-a.Y)-cy
		qx, qy := float64(q.X-p.X), float64(q.Y-p.Y)
		// The segment leaves the circle most at an end or where it is nearest to the
		// centre.
		t := max(0, min(1, -(px*qx+py*qy)/(qx*qx+qy*qy)))
		off = max(off, math.Abs(math.Hypot(px, py)-radius), math.Abs(math.Hypot(px+t*qx, py+t*qy)-radius))
		if off > tolerance {
			return 0, 0, 0, false
		}
	}
	return bulge, off, math.Abs(bulge) * chord / 2, true
}
