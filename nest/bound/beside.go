package bound

import (
	"math"
	"slices"

	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// member is a part that lies in a shared blank in one way: rectangles that lie in its
// shape, and the size of its own blank, whose lower left corner is the origin.
type member struct {
	rectangles []geom.Box
	blank      geom.Point
}

// slabs is how many slabs a shape is cut into to find rectangles in it.
const slabs = 16

// newMember returns a part turned and flipped.
func newMember(p *nest.Problem, part, turn int, flip bool) member {
	shape, blank := p.Place(nest.Placement{Part: part, Turn: turn, Flip: flip})
	return member{filled(shape), blank.Size()}
}

// filled returns rectangles that lie in a shape and off its holes: of each slab the
// stretches that no edge enters, rounded inwards.
func filled(s geom.Polygon) []geom.Box {
	rings := append([]geom.Ring{s.Outer}, s.Holes...)
	box := s.Box()
	var list []geom.Box
	for k := range length.Length(slabs) {
		lo, hi := box.Min.Y+box.Dy()*k/slabs, box.Min.Y+box.Dy()*(k+1)/slabs
		var taken [][2]length.Length
		for _, r := range rings {
			for i, a := range r {
				if from, to, ok := crossed(a, r[(i+1)%len(r)], lo, hi); ok {
					taken = append(taken, [2]length.Length{from, to})
				}
			}
		}
		slices.SortFunc(taken, func(a, b [2]length.Length) int { return int(a[0] - b[0]) })
		reach := box.Min.X
		for _, t := range taken {
			if t[0] > reach && hi > lo && inShape(rings, geom.Pt((reach+t[0])/2, (lo+hi)/2)) {
				list = append(list, geom.Box{Min: geom.Pt(reach, lo), Max: geom.Pt(t[0], hi)})
			}
			reach = max(reach, t[1])
		}
	}
	return list
}

// crossed returns the stretch along x of a segment between two levels, rounded outwards.
func crossed(a, b geom.Point, lo, hi length.Length) (from, to length.Length, ok bool) {
	if a.Y > b.Y {
		a, b = b, a
	}
	if b.Y <= lo || a.Y >= hi {
		return 0, 0, false
	}
	at := func(y length.Length) float64 {
		if y <= a.Y {
			return float64(a.X)
		}
		if y >= b.Y {
			return float64(b.X)
		}
		return float64(a.X) + float64(b.X-a.X)*float64(y-a.Y)/float64(b.Y-a.Y)
	}
	x, y := at(lo), at(hi)
	return length.Length(math.Floor(min(x, y))) - 1, length.Length(math.Ceil(max(x, y))) + 1, true
}

// inShape reports whether a point is in the outer one of some rings and in no other.
func inShape(rings []geom.Ring, p geom.Point) bool {
	for i, r := range rings {
		if (r.Locate(p) == geom.Inside) != (i == 0) {
			return false
		}
	}
	return true
}

// most returns the largest area of a blank that two parts may share: it must save
// nest.LeastSaved of their own.
func most(a, b *nest.Part) float64 {
	return (area2(a.Blank) + area2(b.Blank)) * (100 - nest.LeastSaved) / 100 * (1 + 1e-9)
}

func area2(size geom.Point) float64 { return float64(size.X) * float64(size.Y) }

// tooLarge reports whether one of the blanks, or both shapes, are larger than a blank
// may be that two parts share.
func tooLarge(a, b *nest.Part) bool {
	return max(area2(a.Blank), area2(b.Blank), float64(a.Shape.Area2()+b.Shape.Area2())/2) > most(a, b)
}

// couldShare reports whether there is room for two parts in a blank that they may share,
// in any of the ways in which they may lie. It is certain only when it says no.
func couldShare(p *nest.Problem, i, j int) bool {
	a, b := &p.Parts[i], &p.Parts[j]
	type way struct {
		turn         int
		flipA, flipB bool
	}
	seen := map[way]bool{}
	flips := func(t *nest.Part) []bool {
		if t.CanFlip {
			return []bool{false, true}
		}
		return []bool{false}
	}
	for s := range p.Stocks {
		for _, ta := range p.Turns(i, s) {
			for _, tb := range p.Turns(j, s) {
				for _, fa := range flips(a) {
					for _, fb := range flips(b) {
						seen[way{(tb - ta + 360) % 360, fa, fb}] = true
					}
				}
			}
		}
	}
	for w := range seen {
		if w.turn%90 == 0 && beside(newMember(p, i, 0, w.flipA), newMember(p, j, w.turn, w.flipB), p.Apart, most(a, b)) {
			return true
		}
	}
	return false
}

// beside reports whether two members can lie so that their rectangles are Apart or more
// from each other and both blanks lie in one of an area of most.
//
// With the first fixed, the second may not lie where two rectangles are nearer than
// Apart/√2 along both axes: its places are the plane without open rectangles. From any
// place it can be moved along x, and then along y, without making the blank larger, until
// it meets a side of one of these or its blank is flush with a side of the first. So only
// the places on such lines need to be looked at.
func beside(a, b member, apart length.Length, most float64) bool {
	reach := length.Length(math.Floor(float64(apart) / math.Sqrt2 * (1 - 1e-12)))
	var barred []geom.Box
	xs := []length.Length{0, a.blank.X - b.blank.X}
	ys := []length.Length{0, a.blank.Y - b.blank.Y}
	for _, r := range a.rectangles {
		for _, q := range b.rectangles {
			f := geom.Box{Min: r.Min.Sub(q.Max), Max: r.Max.Sub(q.Min)}.Inset(-reach, -reach, -reach, -reach)
			barred = append(barred, f)
			xs = append(xs, f.Min.X, f.Max.X)
			ys = append(ys, f.Min.Y, f.Max.Y)
		}
	}
	// The largest first: they bar most.
	slices.SortStableFunc(barred, func(f, g geom.Box) int { return -int(f.Dx() - g.Dx()) })
	slices.Sort(xs)
	slices.Sort(ys)
	span := func(at, a, b length.Length) float64 { return float64(max(a, at+b) - min(0, at)) }
	for _, x := range slices.Compact(xs) {
		l := span(x, a.blank.X, b.blank.X)
		for _, y := range slices.Compact(ys) {
			if l*span(y, a.blank.Y, b.blank.Y) > most {
				continue
			}
			if !slices.ContainsFunc(barred, func(f geom.Box) bool { return x > f.Min.X && x < f.Max.X && y > f.Min.Y && y < f.Max.Y }) {
				return true
			}
		}
	}
	return false
}
