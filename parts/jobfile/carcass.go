package jobfile

import (
	"fmt"
	"strconv"
	"strings"

	"panelyard/parts"
	"panelyard/parts/length"
)

// carcass is a box to be worked out: sides, bottom, top or rails, back, shelves, doors.
// All lengths in it are outside, unless said otherwise.
type carcass struct {
	r      *reader
	v      *value
	what   string
	name   string
	copies int
	board  *parts.Material

	w, h, d length.Length
	over    bool          // top and bottom run over the sides, else between them
	joint   length.Length // how far top and bottom, or the sides, go in
	top     string
	rail    length.Length
	band    string
	back    *back
	panels  []*value
}

// back is the back of a carcass.
type back struct {
	board     *parts.Material
	way       string
	depth     length.Length // of groove or rabbet
	fromRear  length.Length
	clearance length.Length // a side, in its groove or rabbet
}

// The defaults of a carcass (common practice, no source).
const (
	railWidth      = 100 * length.Millimetre
	shelfClearance = length.Millimetre // a side
	shelfSetback   = 20 * length.Millimetre
	doorGap        = 2 * length.Millimetre
	backFromRear   = 12 * length.Millimetre
)

// carcasses reads the carcasses of a job and returns their panels, as if they were
// written in the job file. The formulas are those of frameless cabinets (common
// practice; worked in the test of this file).
func (r *reader) carcasses(list []*value) []*value {
	var panels []*value
	for _, v := range list {
		if c := r.carcass(v); c != nil {
			panels = append(panels, c.panels...)
		}
	}
	return panels
}

// carcass reads one; nil after a finding.
func (r *reader) carcass(v *value) *carcass {
	g := r.group(v, "", called("carcass", v), "write name:, width:, height:, depth: and what else there is")
	if g == nil {
		return nil
	}
	defer g.done("name", "quantity", "material", "width", "height", "depth", "construction", "joint", "top", "rail", "edging", "back", "shelves", "doors")
	before := len(r.list)
	c := &carcass{r: r, v: v, what: g.what}
	c.name, _ = g.name("name")
	c.copies = g.whole("quantity", 1, 1, MaxCopies)
	c.board = r.materialOf(g)
	c.w, _ = g.need("width")
	c.h, _ = g.need("height")
	c.d, _ = g.need("depth")
	c.over = g.choice("construction", "between", "between", "over") == "over"
	c.top = g.choice("top", "full", "full", "rails", "none")
	c.rail = g.length("rail", railWidth, 1, 0)
	c.band = r.bandName(g, "edging")
	if c.board != nil {
		c.joint = r.carcassJoint(g, c.board)
	}
	c.back = r.carcassBack(g)
	// A part of the group that was refused has been told of already.
	if r.list[before:].Err() != nil || c.board == nil || c.back != nil && c.back.board == nil {
		r.shelvesAndDoors(g, nil)
		return nil
	}
	c.box()
	r.shelvesAndDoors(g, c)
	if r.list[before:].Err() != nil {
		return nil
	}
	return c
}

// bandName reads the name of an edge band; empty when none is given.
func (r *reader) bandName(g *group, key string) string {
	s, v := g.word(key)
	if v != nil && r.out.Band(s) == nil {
		g.add(v, fmt.Sprintf("%s: unknown edge band %q", key, clip(s)), "add it to the edging of the job")
	}
	return s
}

// carcassJoint reads how far a board goes into the other.
func (r *reader) carcassJoint(g *group, board *parts.Material) length.Length {
	v := g.get("joint")
	if v == nil || v.shape == scalar && strings.TrimSpace(v.text) == "butt" {
		return 0
	}
	j := r.group(v, "joint", g.what, "write butt, or {joint: housed, depth: 6}")
	if j == nil {
		return 0
	}
	defer j.done("joint", "depth")
	if j.choice("joint", "butt", jointWords...) == "butt" {
		return 0
	}
	d, _ := j.need("depth")
	if d > 0 && d >= board.Measured {
		j.add(j.get("depth"), fmt.Sprintf("depth: %s goes through a board of %s", r.size(d), r.size(board.Measured)), "half the thickness is the most that is usual")
	}
	return d
}

// carcassBack reads the back; nil is none.
func (r *reader) carcassBack(g *group) *back {
	v := g.get("back")
	if v == nil || v.shape == scalar && strings.TrimSpace(v.text) == "none" {
		return nil
	}
	b := r.group(v, "back", g.what, "write {material: board 6, joint: groove, depth: 9}, or none")
	if b == nil {
		return nil
	}
	defer b.done("material", "joint", "depth", "from_rear", "clearance")
	out := &back{board: r.materialOf(b)}
	out.way = b.choice("joint", "groove", "groove", "rabbet", "applied")
	if out.way != "applied" {
		out.depth, _ = b.need("depth")
		out.clearance = b.length("clearance", length.Millimetre, 0, 0)
		if out.clearance >= out.depth && out.depth > 0 {
			b.add(v, fmt.Sprintf("the back would not reach into its %s: %s deep, less %s of clearance", out.way, r.size(out.depth), r.size(out.clearance)), "make it deeper")
		}
	}
	if out.way == "groove" {
		out.fromRear = b.length("from_rear", backFromRear, 0, 0)
	}
	return out
}

// sum is a length with how it comes about, in words and in figures.
type sum struct {
	total   length.Length
	words   string
	figures string
}

// start begins a sum with a named length.
func (c *carcass) start(words string, l length.Length) sum {
	return sum{l, words, c.r.print(l)}
}

// add returns the sum with n times a named length more, or less; nothing is added of 0.
func (s sum) add(c *carcass, n int, words string, l length.Length) sum {
	if l == 0 || n == 0 {
		return s
	}
	sign, k := " + ", n
	if n < 0 {
		sign, k = " - ", -n
	}
	s.total += length.Length(n) * l
	times := ""
	if k > 1 {
		times = strconv.Itoa(k) + " x "
	}
	s.words += sign + times + words
	s.figures += sign + times + c.r.print(l)
	return s
}

// half returns half of a sum.
func (s sum) half() sum {
	return sum{s.total / 2, "(" + s.words + ") / 2", "(" + s.figures + ") / 2"}
}

// working writes how a size came about.
func (c *carcass) working(name string, s sum) string {
	if s.words == s.figures || !strings.ContainsAny(s.words, "+-/") {
		return fmt.Sprintf("%s = %s = %s", name, s.words, c.r.size(s.total))
	}
	return fmt.Sprintf("%s = %s = %s = %s", name, s.words, s.figures, c.r.size(s.total))
}

// thick returns the measured thickness of the carcass board.
func (c *carcass) thick() length.Length { return c.board.Measured }

// inside returns the clear width.
func (c *carcass) inside() sum {
	return c.start("width", c.w).add(c, -2, "thickness", c.thick())
}

// boardDepth returns the depth of top, bottom and, before their setback, shelves.
func (c *carcass) boardDepth() sum {
	s := c.start("depth", c.d)
	switch {
	case c.back == nil:
	case c.back.way == "groove":
		s = s.add(c, -1, "from rear", c.back.fromRear).add(c, -1, "back", c.back.board.Measured)
	default:
		s = s.add(c, -1, "back", c.back.board.Measured)
	}
	return s
}

// box makes the panels of the box and its back.
func (c *carcass) box() {
	t := c.thick()
	high := c.start("height", c.h)
	long := c.inside().add(c, 2, "joint", c.joint)
	if c.over {
		n := 1
		if c.top == "full" {
			n = 2
		}
		high = high.add(c, -n, "thickness", t).add(c, n, "joint", c.joint)
		long = c.start("width", c.w)
	}
	deep := c.start("depth", c.d)
	if c.back != nil && c.back.way == "applied" {
		deep = c.boardDepth()
	}
	c.panel("side", c.board, high, deep, 1, c.front())
	across := c.boardDepth()
	if c.over && c.back != nil && c.back.way != "applied" {
		across = deep // they are grooved or rabbeted as the sides are
	}
	c.panel("bottom", c.board, long, across, 1, c.front())
	switch c.top {
	case "full":
		c.panel("top", c.board, long, across, 1, c.front())
	case "rails":
		c.panel("rail", c.board, c.inside().add(c, 2, "joint", c.joint), c.start("rail", c.rail), 2, edging{})
	}
	if b := c.back; b != nil {
		wide, tall := c.start("width", c.w), c.start("height", c.h)
		if b.way != "applied" {
			wide = c.inside().add(c, 2, b.way, b.depth).add(c, -2, "clearance", b.clearance)
			if c.over {
				tall = tall.add(c, -2, "thickness", t).add(c, 2, b.way, b.depth).add(c, -2, "clearance", b.clearance)
			}
		}
		c.panel("back", b.board, tall, wide, 1, edging{})
	}
}

// edging is which edges of a panel have a band; no band is none.
type edging struct{ edge, band string }

// front is the edging of the front edge, which is the upper one as it is drawn.
func (c *carcass) front() edging { return edging{"top", c.band} }

// panel adds a panel, its length along the first sum. Sides are a pair.
func (c *carcass) panel(part string, board *parts.Material, long, wide sum, n int, edges edging) {
	name := c.name + " " + part
	for _, s := range []struct {
		of string
		s  sum
	}{{"length", long}, {"width", wide}} {
		if s.s.total <= 0 {
			c.r.list.Add(c.v.pos, c.what, fmt.Sprintf("nothing is left of the %s of the %s: %s", s.of, part, s.s.figures), "check the sizes of the carcass")
			return
		}
	}
	text := func(s string) *value { return &value{pos: c.v.pos, shape: scalar, text: s} }
	v := &value{pos: c.v.pos, shape: mapping, workings: []string{c.working("length", long), c.working("width", wide)}}
	add := func(key string, val *value) { v.keys = append(v.keys, entry{key, c.v.pos, val}) }
	add("name", text(name))
	add("quantity", text(strconv.Itoa(n*c.copies)))
	add("material", text(board.Name))
	add("length", text(long.total.String()))
	add("width", text(wide.total.String()))
	if part == "side" {
		add("pair", text("yes"))
	}
	if edges.band != "" {
		add("edges", &value{pos: c.v.pos, shape: mapping, keys: []entry{{edges.edge, c.v.pos, text(edges.band)}}})
	}
	c.panels = append(c.panels, v)
}

// shelvesAndDoors reads shelves and doors and adds them to a carcass, if there is one.
func (r *reader) shelvesAndDoors(g *group, c *carcass) {
	if v := g.get("shelves"); v != nil {
		if s := r.group(v, "shelves", g.what, "write {count: 2}"); s != nil {
			n := s.whole("count", 1, 1, 1000)
			gap := s.length("clearance", shelfClearance, 0, 0)
			back := s.length("setback", shelfSetback, 0, 0)
			load := s.get("load")
			s.done("count", "clearance", "setback", "load")
			if c != nil {
				c.panel("shelf", c.board, c.inside().add(c, -2, "clearance", gap), c.boardDepth().add(c, -1, "setback", back), n, c.front())
				if last := len(c.panels) - 1; load != nil && last >= 0 {
					c.panels[last].set("load", load)
				}
			}
		}
	}
	v := g.get("doors")
	if v == nil {
		return
	}
	d := r.group(v, "doors", g.what, "write {count: 2}")
	if d == nil {
		return
	}
	n := d.whole("count", 1, 1, 2)
	gap := d.length("gap", doorGap, 0, 0)
	band := r.bandName(d, "edging")
	var board *parts.Material
	if d.has("material") {
		board = r.materialOf(d)
	}
	d.done("count", "gap", "edging", "material")
	if c == nil {
		return
	}
	if board == nil {
		board = c.board
	}
	wide := c.start("width", c.w).add(c, -2, "gap", gap)
	if n == 2 {
		wide = c.start("width", c.w).add(c, -3, "gap", gap).half()
	}
	c.panel("door", board, c.start("height", c.h).add(c, -2, "gap", gap), wide, n, edging{"all", band})
}
