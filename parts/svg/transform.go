package svg

import (
	"math"

	"panelyard/parts/drawing/curve"
)

// maxTransforms is how many transforms an element may have.
const maxTransforms = 1000

// readTransform reads a list of transforms (SVG 1.1, section 7.6): the last one is
// applied first.
func readTransform(s string) (curve.View, error) {
	view := curve.Identity()
	c := scanner{s: s}
	c.blanks()
	if s[c.i:] == "none" { // SVG 2
		return view, nil
	}
	for n := 0; !c.end(); c.comma() {
		if n++; n > maxTransforms {
			return view, fault("join the transforms", "transform: there are more than %d", maxTransforms)
		}
		v, err := c.transform()
		if err != nil {
			return view, err
		}
		view = view.Then(v)
	}
	return view, nil
}

// transform reads one transform.
func (c *scanner) transform() (curve.View, error) {
	const known = "use translate, scale, rotate, skewX, skewY and matrix with plain numbers"
	bad := func(what string) (curve.View, error) {
		return curve.View{}, fault(known, "transform: %s at character %d", what, c.i+1)
	}
	from := c.i
	for b := c.peek() | 0x20; b >= 'a' && b <= 'z'; b = c.peek() | 0x20 {
		c.i++
	}
	name := c.s[from:c.i]
	c.blanks()
	if c.peek() != '(' {
		return bad("there is " + c.next() + " where the bracket of a transform belongs")
	}
	c.i++
	var v []float64
	c.blanks()
	for comma := false; c.peek() != ')' || comma; comma = c.comma() {
		x, err := c.number()
		if err != nil {
			return bad(err.Error())
		}
		if v = append(v, x); len(v) > 6 {
			return bad("a transform has more than 6 numbers")
		}
	}
	c.i++
	c.blanks()
	view, ok := transformOf(name, v)
	if !ok {
		return bad("there is no transform " + quoted(name) + " with " + count(len(v), "number") + "")
	}
	return view, nil
}

// transformOf returns the transform of a name and its numbers.
func transformOf(name string, v []float64) (curve.View, bool) {
	id := curve.Identity()
	n := len(v)
	switch {
	case name == "matrix" && n == 6:
		return curve.View{X: curve.Vec{X: v[0], Y: v[1]}, Y: curve.Vec{X: v[2], Y: v[3]}, O: curve.Vec{X: v[4], Y: v[5]}}, true
	case name == "translate" && (n == 1 || n == 2):
		id.O = curve.Vec{X: v[0]}
		if n == 2 {
			id.O.Y = v[1]
		}
		return id, true
	case name == "scale" && (n == 1 || n == 2):
		return curve.View{X: curve.Vec{X: v[0]}, Y: curve.Vec{Y: v[n-1]}}, true
	case name == "rotate" && (n == 1 || n == 3):
		sin, cos := turn(v[0])
		t := curve.View{X: curve.Vec{X: cos, Y: sin}, Y: curve.Vec{X: -sin, Y: cos}}
		if n == 3 {
			centre := curve.Vec{X: v[1], Y: v[2]}
			t.O = centre.Sub(t.Apply(centre))
		}
		return t, true
	case name == "skewX" && n == 1:
		id.Y.X = math.Tan(v[0] * math.Pi / 180)
		return id, true
	case name == "skewY" && n == 1:
		id.X.Y = math.Tan(v[0] * math.Pi / 180)
		return id, true
	}
	return id, false
}

// turn returns sine and cosine of degrees, exact for quarter turns.
func turn(deg float64) (sin, cos float64) {
	switch math.Mod(math.Mod(deg, 360)+360, 360) {
	case 0:
		return 0, 1
	case 90:
		return 1, 0
	case 180:
		return 0, -1
	case 270:
		return -1, 0
	}
	return math.Sincos(math.Mod(deg, 360) * math.Pi / 180)
}
