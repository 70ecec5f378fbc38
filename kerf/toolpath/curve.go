package toolpath

import (
	"math"

	"panelyard/parts/outline"
)

// vec is a point or a vector, in units, before it is rounded to the grid.
type vec struct{ x, y float64 }

func (a vec) add(b vec) vec       { return vec{a.x + b.x, a.y + b.y} }
func (a vec) sub(b vec) vec       { return vec{a.x - b.x, a.y - b.y} }
func (a vec) mul(k float64) vec   { return vec{a.x * k, a.y * k} }
func (a vec) dot(b vec) float64   { return a.x*b.x + a.y*b.y }
func (a vec) cross(b vec) float64 { return a.x*b.y - a.y*b.x }
func (a vec) norm() float64       { return math.Hypot(a.x, a.y) }
func (a vec) to(b vec) float64    { return math.Hypot(a.x-b.x, a.y-b.y) }
func (a vec) left() vec           { return vec{-a.y, a.x} }
func polar(r, angle float64) vec  { sin, cos := math.Sincos(angle); return vec{r * cos, r * sin} }
func mid(a, b vec) vec            { return vec{(a.x + b.x) / 2, (a.y + b.y) / 2} }

// flat is the rise, in units, below which an arc is taken as a line: 1/4 micrometre.
const flat = 2

// curve is a directed piece of a line or of a circle. Places on it are given by the
// distance from its start.
type curve struct {
	a, b  vec
	arc   bool
	c     vec     // centre of an arc
	r     float64 // radius of an arc
	from  float64 // angle of a seen from c
	sweep float64 // signed angle, + is counter-clockwise
	len   float64
	u     vec // direction of a line
}

func line(a, b vec) curve {
	c := curve{a: a, b: b, len: a.to(b)}
	if c.len > 0 {
		c.u = b.sub(a).mul(1 / c.len)
	}
	return c
}

// arcAbout returns the arc about c from an angle through a sweep.
func arcAbout(c vec, r, from, sweep float64) curve {
	return curve{
		a: c.add(polar(r, from)), b: c.add(polar(r, from+sweep)),
		arc: true, c: c, r: r, from: from, sweep: sweep, len: r * math.Abs(sweep),
	}
}

// segment returns segment i of an outline.
func segment(o outline.Outline, i int) curve {
	p, q := o[i].At, o[(i+1)%len(o)].At
	a, b := vec{float64(p.X), float64(p.Y)}, vec{float64(q.X), float64(q.Y)}
	return bulged(a, b, o[i].Bulge)
}

// bulged returns the line or the arc from a to b.
func bulged(a, b vec, bulge float64) curve {
	chord := a.to(b)
	if math.Abs(bulge)*chord/2 < flat {
		return line(a, b)
	}
	half := 2 * math.Atan(bulge) // half the signed angle
	u := b.sub(a).mul(1 / chord)
	c := mid(a, b).add(u.left().mul(chord / 2 / math.Tan(half)))
	r := chord / 2 / math.Abs(math.Sin(half))
	from := math.Atan2(a.y-c.y, a.x-c.x)
	return curve{a: a, b: b, arc: true, c: c, r: r, from: from, sweep: 2 * half, len: r * math.Abs(2*half)}
}

// at returns the point at a distance from the start.
func (c *curve) at(s float64) vec {
	switch {
	case s <= 0:
		return c.a
	case s >= c.len:
		return c.b
	case c.arc:
		return c.c.add(polar(c.r, c.from+c.sweep*s/c.len))
	}
	return c.a.add(c.u.mul(s))
}

// heading returns the unit direction of travel at a distance from the start.
func (c *curve) heading(s float64) vec {
	if !c.arc {
		return c.u
	}
	d := polar(1, c.from+c.sweep*s/c.len).left()
	if c.sweep < 0 {
		return d.mul(-1)
	}
	return d
}

// part returns the piece of c between two distances from its start.
func (c *curve) part(s, t float64) curve {
	if !c.arc {
		p := line(c.at(s), c.at(t))
		p.u = c.u // better than that of a short piece
		return p
	}
	p := *c
	p.a, p.b = c.at(s), c.at(t)
	p.from, p.sweep, p.len = c.from+c.sweep*s/c.len, c.sweep*(t-s)/c.len, t-s
	return p
}

// turnedTo returns how far an arc has come, as a distance from its start, where it
// passes an angle, and whether it does.
func (c *curve) turnedTo(angle float64) (float64, bool) {
	d := angle - c.from
	if c.sweep < 0 {
		d = -d
	}
	d = math.Mod(d, 2*math.Pi)
	if d < 0 {
		d += 2 * math.Pi
	}
	return d * c.r, d <= math.Abs(c.sweep)
}

// distance returns the distance of a point from c.
func (c *curve) distance(p vec) float64 {
	if c.arc {
		v := p.sub(c.c)
		if _, ok := c.turnedTo(math.Atan2(v.y, v.x)); ok {
			return math.Abs(v.norm() - c.r)
		}
		return min(p.to(c.a), p.to(c.b))
	}
	v := p.sub(c.a)
	switch s := v.dot(c.u); {
	case s <= 0:
		return p.to(c.a)
	case s >= c.len:
		return p.to(c.b)
	}
	return math.Abs(v.cross(c.u))
}

// box is an axis-parallel rectangle.
type box struct{ lo, hi vec }

func (b box) grown(d float64) box {
	return box{vec{b.lo.x - d, b.lo.y - d}, vec{b.hi.x + d, b.hi.y + d}}
}

func (b box) meets(c box) bool {
	return b.lo.x <= c.hi.x && c.lo.x <= b.hi.x && b.lo.y <= c.hi.y && c.lo.y <= b.hi.y
}

func (b box) with(c box) box {
	return box{
		vec{min(b.lo.x, c.lo.x), min(b.lo.y, c.lo.y)},
		vec{max(b.hi.x, c.hi.x), max(b.hi.y, c.hi.y)},
	}
}

func (c *curve) box() box {
	b := box{
		vec{min(c.a.x, c.b.x), min(c.a.y, c.b.y)},
		vec{max(c.a.x, c.b.x), max(c.a.y, c.b.y)},
	}
	if c.arc {
		for k := range 4 {
			if _, ok := c.turnedTo(float64(k) * math.Pi / 2); ok {
				p := c.c.add(polar(c.r, float64(k)*math.Pi/2))
				b = b.with(box{p, p})
			}
		}
	}
	return b
}

// moved returns c moved to its right by d, of an arc with its centre kept, and
// whether anything is left of it: an arc about a centre on the right becomes
// smaller, and may vanish.
func (c *curve) moved(d float64) (curve, bool) {
	if !c.arc {
		n := c.u.left().mul(-d)
		m := *c
		m.a, m.b = c.a.add(n), c.b.add(n)
		return m, c.len > 0
	}
	r := c.r + d
	if c.sweep < 0 {
		r = c.r - d
	}
	if r <= fits {
		return curve{}, false
	}
	return arcAbout(c.c, r, c.from, c.sweep), true
}

// circle appends the distances along c at which it meets the circle about p.
func (c *curve) circle(list []float64, p vec, r float64) []float64 {
	v := p.sub(c.a)
	if !c.arc {
		foot, off := v.dot(c.u), v.cross(c.u)
		h := r*r - off*off
		if h < 0 {
			return list
		}
		h = math.Sqrt(h)
		return c.inside(list, foot-h, foot+h)
	}
	v = p.sub(c.c)
	d := v.norm()
	if d == 0 || d > c.r+r || d < math.Abs(c.r-r) {
		return list
	}
	// The angle between the centres' line and a common point, from half angles: it
	// stays accurate where the circles nearly touch.
	x := (d + r - c.r) * (r + c.r - d)
	half := math.Atan2(math.Sqrt(max(x, 0)), math.Sqrt(max((d+c.r-r)*(d+c.r+r), 0)))
	dir := math.Atan2(v.y, v.x)
	for _, angle := range [2]float64{dir - 2*half, dir + 2*half} {
		if s, ok := c.turnedTo(angle); ok {
			list = c.inside(list, s)
		}
	}
	return list
}

// straight appends the distances along c at which it meets the endless line through
// p along u.
func (c *curve) straight(list []float64, p, u vec) []float64 {
	if !c.arc {
		k := c.u.cross(u)
		if math.Abs(k) < 1e-12 {
			return list
		}
		return c.inside(list, p.sub(c.a).cross(u)/k)
	}
	v := c.c.sub(p)
	foot, off := v.dot(u), v.cross(u)
	h := c.r*c.r - off*off
	if h < 0 {
		return list
	}
	h = math.Sqrt(h)
	for _, t := range [2]float64{foot - h, foot + h} {
		q := p.add(u.mul(t)).sub(c.c)
		if s, ok := c.turnedTo(math.Atan2(q.y, q.x)); ok {
			list = c.inside(list, s)
		}
	}
	return list
}

// inside appends those of the distances that lie within c, off its ends.
func (c *curve) inside(list []float64, at ...float64) []float64 {
	for _, s := range at {
		if s > 0 && s < c.len {
			list = append(list, s)
		}
	}
	return list
}
