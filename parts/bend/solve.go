package bend

import (
	"fmt"
	"math"

	"panelyard/parts/arc"
	"panelyard/parts/diag"
	"panelyard/parts/length"
)

// MinWood is the least wood between two kerfs: what is thinner breaks off (common
// practice, no source).
const MinWood = 3 * length.Millimetre

// Bend is a bend with kerfs. See the package comment for the words.
type Bend struct {
	Thickness length.Length // measured
	Web       length.Length
	Kerf      length.Length
	Outer     arc.Arc // of the outer face; its radius and angle count
	Open      bool    // the kerfs are in the outer face and gape
	// Facet is the most that the flat pieces may stand off the arc. 0 is no wish:
	// closed kerfs are then as few as close, open ones need Facet or Count.
	Facet length.Length
	// Count is the number of kerfs; 0 is as few as closing and Facet allow.
	Count int
}

// Cuts is how a bend is sawn, and what becomes of it.
type Cuts struct {
	Depth   length.Length // of the kerfs
	Hinge   length.Length // from the middle of the web to the kerfed face, rounded
	Closing arc.Angle     // that a kerf closes; 0 for open kerfs
	Least   int           // kerfs needed to close; 0 for open kerfs
	Count   int
	Each    arc.Angle     // that the board turns at each kerf
	Flat    length.Length // of the bend zone before it is bent
	Pitch   length.Length // rounded; see Positions
	Facet   length.Length // the flat pieces of the uncut face stand off the arc
	Gap     length.Length // of a kerf at its mouth, bent
	Outer   length.Length // of the outer face along the arc
	Inner   length.Length // of the inner face along the arc
}

// angle returns the angle of the bend in radians.
func (b Bend) angle() float64 { return b.Outer.Angle.Degrees() / 180 * math.Pi }

// hinge returns h in units.
func (b Bend) hinge() float64 { return float64(b.Thickness) - float64(b.Web)/2 }

// neutral returns the radius of the middle of the web in units.
func (b Bend) neutral() float64 {
	if b.Open {
		return float64(b.Outer.Radius) - b.hinge()
	}
	return float64(b.Outer.Radius) - float64(b.Web)/2
}

// uncut returns the radius of the face without kerfs in units.
func (b Bend) uncut() float64 {
	if b.Open {
		return float64(b.Outer.Radius - b.Thickness)
	}
	return float64(b.Outer.Radius)
}

// Flat returns the length that the bend zone takes of the flat blank. It needs no
// kerf, facet or count. The error is a [diag.List]; the Part of a finding is the name
// of the measure: thickness, web, radius or angle.
func (b Bend) Flat() (length.Length, error) {
	var list diag.List
	b.checkShape(&list)
	if err := list.Err(); err != nil {
		return 0, err
	}
	return nearest(b.angle() * b.neutral()), nil
}

// checkShape adds what is wrong with board and arc.
func (b Bend) checkShape(list *diag.List) {
	const mostThick = length.Metre
	switch {
	case b.Thickness <= 0:
		list.Add(diag.Pos{}, "thickness", "the board has no thickness", "measure the board")
	case b.Thickness > mostThick:
		list.Add(diag.Pos{}, "thickness", fmt.Sprintf("a board of %v is none", b.Thickness), "check the unit")
	}
	switch {
	case b.Web <= 0:
		list.Add(diag.Pos{}, "web", "no web is left under the kerfs: they would cut the board through", "leave a web, of 1 to 3 mm for a try on scrap")
	case b.Thickness > 0 && b.Web >= b.Thickness:
		list.Add(diag.Pos{}, "web", fmt.Sprintf("a web of %v leaves nothing to saw of a board of %v", b.Web, b.Thickness), "leave less, a tenth to a quarter of the thickness is usual")
	}
	if a := b.Outer.Angle; a <= 0 || a >= arc.FullCircle {
		list.Add(diag.Pos{}, "angle", fmt.Sprintf("a bend of %v degrees is none", a), "give an angle above 0 and below 360 degrees")
	}
	switch {
	case b.Outer.Radius <= 0:
		list.Add(diag.Pos{}, "radius", "the outer face has no radius", "give the radius of the outer face, above 0")
	case b.Outer.Radius > arc.MaxRadius:
		list.Add(diag.Pos{}, "radius", fmt.Sprintf("the radius is longer than %v", arc.MaxRadius), "give a smaller one")
	case b.Outer.Radius <= b.Thickness:
		list.Add(diag.Pos{}, "radius", fmt.Sprintf("the outer face has a radius of %v and the board is %v thick: nothing is left for the inner face", b.Outer.Radius, b.Thickness),
			"give the radius of the outer face, more than the thickness")
	case b.angle()*float64(b.Outer.Radius) > float64(length.Max):
		list.Add(diag.Pos{}, "radius", "the bend is longer than "+length.Max.String(), "give a smaller radius or angle")
	case len(*list) == 0 && b.angle()*b.neutral() < 1:
		list.Add(diag.Pos{}, "radius", "the bend is shorter than a ten-thousandth of a millimetre", "give a larger radius or angle")
	}
}

// Solve returns the kerfs of a bend. The error is a [diag.List] of all that is wrong;
// the Part of a finding is the name of the measure: thickness, web, kerf, radius,
// angle, facet or count.
func Solve(b Bend) (Cuts, error) {
	var list diag.List
	b.checkShape(&list)
	switch {
	case b.Kerf <= 0:
		list.Add(diag.Pos{}, "kerf", "a kerf takes no wood", "measure the kerf of the blade on scrap")
	case b.Kerf > length.Metre:
		list.Add(diag.Pos{}, "kerf", fmt.Sprintf("a kerf of %v is none", b.Kerf), "check the unit")
	}
	if b.Facet < 0 {
		list.Add(diag.Pos{}, "facet", "the height of the facets is negative", "give how far the flat pieces may stand off the arc, such as 0.5 mm")
	}
	switch {
	case b.Count < 0:
		list.Add(diag.Pos{}, "count", "the number of kerfs is negative", "give 1 or more, or leave it out")
	case b.Open && b.Facet == 0 && b.Count == 0:
		list.Add(diag.Pos{}, "facet", "nothing says how many open kerfs there are: they do not close", "give how far the flat pieces may stand off the arc, such as 0.5 mm")
	}
	if err := list.Err(); err != nil {
		return Cuts{}, err
	}
	flat := b.angle() * b.neutral()
	closing, smooth := b.least(flat)
	n := max(closing, smooth)
	if b.Count > 0 {
		n = float64(b.Count)
	}
	b.checkCount(&list, n, closing, smooth)
	if flat/n-float64(b.Kerf) < float64(MinWood) {
		b.crowded(&list, n, closing, smooth, flat)
	}
	if err := list.Err(); err != nil {
		return Cuts{}, err
	}
	pitch := flat / n
	c := Cuts{
		Depth: b.Thickness - b.Web,
		Hinge: nearest(b.hinge()),
		Count: int(n),
		Each:  toAngle(b.angle() / n),
		Flat:  nearest(flat),
		Pitch: nearest(pitch),
		Facet: nearest(pitch * pitch / (8 * b.uncut())),
		Gap:   nearest(b.gap(n)),
		Outer: nearest(b.angle() * float64(b.Outer.Radius)),
		Inner: nearest(b.angle() * float64(b.Outer.Radius-b.Thickness)),
	}
	if !b.Open {
		c.Closing, c.Least = toAngle(float64(b.Kerf)/b.hinge()), int(closing)
	}
	return c, nil
}

// gap returns what is left of a kerf at its mouth, of n of them, in units.
func (b Bend) gap(n float64) float64 {
	turn := b.hinge() * b.angle() / n
	if b.Open {
		return float64(b.Kerf) + turn
	}
	return float64(b.Kerf) - turn
}

// least returns the least number of kerfs that close, 0 where they are open, and the
// least that keeps the facets, 1 where no wish was given. A last kerf for what is not
// to be seen on the grid is none.
func (b Bend) least(flat float64) (closing, smooth float64) {
	if !b.Open {
		// With one less, each kerf would lack a part of h A/n: less than half a unit of
		// it rounds to a closed one.
		closing = max(1, math.Ceil(b.angle()*b.hinge()/(float64(b.Kerf)+0.5)))
	}
	if b.Facet > 0 {
		smooth = math.Ceil(flat / math.Sqrt(8*b.uncut()*(float64(b.Facet)+0.5)))
	}
	return closing, max(1, smooth)
}

// checkCount adds a finding when a given number of kerfs is too small.
func (b Bend) checkCount(list *diag.List, n, closing, smooth float64) {
	if b.Count == 0 {
		return
	}
	if n < closing {
		list.Add(diag.Pos{}, "count", fmt.Sprintf("%.0f kerfs of %v close before the bend is made: each would have to give %s mm", n, b.Kerf,
			fixed(b.hinge()*b.angle()/n)), fmt.Sprintf("saw %.0f kerfs or more, or a wider or deeper kerf", closing))
	}
	if n < smooth {
		list.Add(diag.Pos{}, "count", fmt.Sprintf("%.0f kerfs leave facets higher than %v", n, b.Facet), fmt.Sprintf("saw %.0f kerfs or more, or allow higher facets", smooth))
	}
}

// crowded adds the finding that n kerfs leave too little wood between them.
func (b Bend) crowded(list *diag.List, n, closing, smooth, flat float64) {
	part, remedy := "radius", "give a larger radius, a thicker web or thinner board"
	switch {
	case b.Count > 0:
		part, remedy = "count", "saw fewer kerfs"
	case smooth > closing:
		part, remedy = "facet", "allow higher facets"
	}
	list.Add(diag.Pos{}, part, fmt.Sprintf("%.0f kerfs of %v in %s mm leave %s mm of wood between them, less than %v", n, b.Kerf, fixed(flat), fixed(flat/n-float64(b.Kerf)), MinWood), remedy)
}

// Positions returns the middles of the kerfs, from the end of a blank with so much
// straight wood before the bend: half a pitch into the bend the first, then every
// pitch, rounded one by one so that errors do not add up.
func (c Cuts) Positions(from length.Length) []length.Length {
	list := make([]length.Length, c.Count)
	n := 2 * length.Length(c.Count)
	for i := range list {
		list[i] = from + ((2*length.Length(i)+1)*c.Flat+n/2)/n
	}
	return list
}

// Doubts returns warnings of a bend that can be worked out and is unusual; the Part of
// each is the name of the measure.
func (b Bend) Doubts() diag.List {
	var list diag.List
	// A sixty-fourth of an inch is the thinnest web that a tutorial names, for plywood
	// in a tight bend; half to three quarters of the thickness is what shops cut.
	const thinnest = length.Inch / 64
	switch {
	case b.Web < thinnest:
		list.Warn(diag.Pos{}, "web", fmt.Sprintf("a web of %v is thinner than 1/64 in, the thinnest that is usual", b.Web), "leave more, or make sure on scrap that saw and board are so even")
	case 2*b.Web > b.Thickness:
		list.Warn(diag.Pos{}, "web", fmt.Sprintf("a web of %v is more than half of the board", b.Web), "two thirds to three quarters of the thickness or more are sawn (common practice); try it on scrap")
	}
	return list
}

// nearest returns the nearest length.
func nearest(units float64) length.Length { return length.Length(math.Round(units)) }

// toAngle returns the nearest angle to one in radians.
func toAngle(v float64) arc.Angle {
	return arc.Angle(math.Round(v / math.Pi * float64(arc.HalfCircle)))
}

// fixed writes units in mm.
func fixed(units float64) string { return fmt.Sprintf("%.2f", units/float64(length.Millimetre)) }
