package jobfile

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// doubts warns of panels that may be meant otherwise than they are written.
func (r *reader) doubts() {
	r.hands()
	r.nearlyEqual()
}

// hands warns of a left and a right panel, told by their names, that are not the
// mirror image of each other: with a good face, two lefts do not make a cabinet.
func (r *reader) hands() {
	lefts := map[string]*parts.Panel{}
	for i := range r.out.Panels {
		p := &r.out.Panels[i]
		if name, word := handed(p.Name); word == "left" && p.PairOf == "" {
			lefts[name] = p
		}
	}
	for i := range r.out.Panels {
		right := &r.out.Panels[i]
		name, word := handed(right.Name)
		left := lefts[name]
		if word != "right" || left == nil || right.PairOf != "" || left.Material != right.Material {
			continue
		}
		what := fmt.Sprintf("panel %q", clip(right.Name))
		if left.Quantity != right.Quantity {
			r.list.Warn(right.Pos, what, fmt.Sprintf("there are %d of it and %d of %q", right.Quantity, left.Quantity, clip(left.Name)), "check the quantities, or draw one and say pair: yes")
		}
		if m := r.out.Material(right.Material); m == nil || m.GoodFaces == 2 || left.Size() != right.Size() {
			continue
		}
		if alike(left, right) && !alike(left, turnedOver(right)) {
			r.list.Warn(right.Pos, what, fmt.Sprintf("it is drawn like %q, not mirrored: they are two of one hand", clip(left.Name)), "say mirror: yes, or draw one and say pair: yes")
		}
	}
}

// handed returns a name without its word left or right, and the word.
func handed(name string) (rest, word string) {
	list := strings.FieldsFunc(strings.ToLower(name), func(c rune) bool { return c == ' ' || c == '-' || c == '_' })
	for i, w := range list {
		if w == "left" || w == "right" {
			return strings.Join(slices.Delete(list, i, i+1), " "), w
		}
	}
	return "", ""
}

// turnedOver returns the mirror image of a panel.
func turnedOver(p *parts.Panel) *parts.Panel {
	m := mirrored(*p)
	return &m
}

// alike reports whether two panels have the same outline and openings, as drawn or
// turned half around.
func alike(a, b *parts.Panel) bool {
	size := b.Size()
	for _, turn := range [2]int{0, 180} {
		lay := func(o outline.Outline) outline.Outline {
			if turn == 180 {
				o = o.Turned(180).Translate(size)
			}
			return o
		}
		if !sameOutline(a.Outline, lay(b.Outline)) || len(a.Openings) != len(b.Openings) {
			continue
		}
		all := true
		for _, o := range a.Openings {
			all = all && slices.ContainsFunc(b.Openings, func(q parts.Opening) bool { return sameOutline(o.Outline, lay(q.Outline)) })
		}
		if all {
			return true
		}
	}
	return false
}

// sameOutline reports whether two outlines have the same corners and arcs, wherever
// they begin, to a hundredth of a millimetre.
func sameOutline(a, b outline.Outline) bool {
	const slack = length.Millimetre / 100
	near := func(p, q geom.Point) bool { return (p.X-q.X).Abs() <= slack && (p.Y-q.Y).Abs() <= slack }
	n := len(a)
	if n != len(b) || n == 0 {
		return false
	}
	for from := range b {
		if !near(a[0].At, b[from].At) {
			continue
		}
		same := true
		for i := range a {
			v := b[(from+i)%n]
			if d := a[i].Bulge - v.Bulge; !near(a[i].At, v.At) || d > 1e-4 || d < -1e-4 {
				same = false
				break
			}
		}
		if same {
			return true
		}
	}
	return false
}

// maxNearly is how many panels that are nearly equal are named.
const maxNearly = 20

// nearlyEqual warns of panels of a material that differ by a millimetre at most in
// length and width: a slip of the caliper, or a size that was changed in one place.
func (r *reader) nearlyEqual() {
	list := make([]*parts.Panel, 0, len(r.out.Panels))
	for i := range r.out.Panels {
		if p := &r.out.Panels[i]; p.Hand != parts.Right {
			list = append(list, p)
		}
	}
	slices.SortStableFunc(list, func(a, b *parts.Panel) int {
		return cmp.Or(cmp.Compare(a.Material, b.Material), cmp.Compare(a.Size().X, b.Size().X))
	})
	said := 0
	for i, p := range list {
		// The nearest few by length: of many panels of a length one is told.
		for _, q := range list[i+1 : min(len(list), i+50)] {
			d := q.Size().Sub(p.Size())
			if q.Material != p.Material || d.X > length.Millimetre {
				break
			}
			if d.Y.Abs() > length.Millimetre || d == (geom.Point{}) {
				continue
			}
			if said++; said > maxNearly {
				return
			}
			r.list.Warn(q.Pos, fmt.Sprintf("panel %q", clip(q.Name)), fmt.Sprintf("it is %s x %s and %q is %s x %s: a millimetre or less apart",
				r.print(q.Size().X), r.size(q.Size().Y), clip(p.Name), r.print(p.Size().X), r.size(p.Size().Y)), "make them the same size if that is meant; one stop then serves both")
		}
	}
}
