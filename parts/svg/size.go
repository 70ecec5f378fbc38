package svg

import (
	"fmt"
	"math"
	"strings"

	"panelyard/parts/drawing/curve"
	"panelyard/parts/length"
)

// pixels is how many of them are an inch (CSS Values and Units Level 3, section
// 6.2).
const pixels = 96

// extent is the width or the height of the svg element.
type extent struct {
	units float64 // of the grid; NaN when it does not say
	unit  string
	told  bool // it has a unit, so it says how large the drawing is
}

// page reads how large the drawing is (SVG 2, sections 8.2 and 8.6, "The initial
// viewport", "The viewBox attribute"). It has y up: the bottom of the viewport is at
// 0, or the x axis when the height is not known.
func (r *reader) page(root *node) page {
	p := page{inch: pixels, unit: length.MM, taken: "px at 96 per inch", size: curve.Vec{X: math.NaN(), Y: math.NaN()}}
	user := float64(length.Inch) / pixels
	if u := r.opt.Unit; u.Size > 0 { // for what does not say
		user = float64(u.Size)
	}
	w, h := r.extent(root, "width", user), r.extent(root, "height", user)
	p.told = w.told || h.told
	switch {
	case !p.told && r.opt.Unit.Size > 0:
		p.told, p.unit = true, r.opt.Unit
		p.inch = float64(length.Inch) / user
	case !p.told:
		p.untold = r.untold(root)
	default:
		user = float64(length.Inch) / pixels
		if u := w.unit + h.unit; strings.HasSuffix(u, "in") {
			p.unit = length.IN
		} else if strings.HasSuffix(u, "cm") {
			p.unit = length.CM
		}
	}
	if _, ok := root.attr("transform"); ok {
		r.list.Add(r.pos(root.line), "svg", "transform: the whole drawing is transformed, which is not read", "put a group with the transform into the svg element")
	}
	box, ok, err := root.viewBox()
	if err != nil {
		r.list.Add(r.pos(root.line), "svg", err.Error(), remedyOf(err))
		return p
	}
	if ok {
		switch {
		case math.IsNaN(w.units) && math.IsNaN(h.units):
			w.units, h.units = box.size.X*user, box.size.Y*user
		case math.IsNaN(w.units):
			w.units = h.units / box.size.Y * box.size.X
		case math.IsNaN(h.units):
			h.units = w.units / box.size.X * box.size.Y
		}
		fit, err := root.aspect()
		if err != nil {
			r.list.Add(r.pos(root.line), "svg", err.Error(), remedyOf(err))
		}
		p.view = fit.view(box, curve.Vec{X: w.units, Y: h.units})
		p.size = box.size
	} else {
		p.view = curve.View{X: curve.Vec{X: user}, Y: curve.Vec{Y: user}}
		p.size = curve.Vec{X: w.units / user, Y: h.units / user}
	}
	up := curve.View{X: curve.Vec{X: 1}, Y: curve.Vec{Y: -1}}
	if !math.IsNaN(h.units) {
		up.O.Y = h.units
	}
	p.view = up.Then(p.view)
	return p
}

// extent reads width or height of the svg element; user is what a user unit is on
// the grid if the file does not say.
func (r *reader) extent(root *node, name string, user float64) extent {
	none := extent{units: math.NaN()}
	s, ok := root.attr(name)
	if !ok || strings.TrimSpace(s) == "auto" {
		return none
	}
	m, err := readMeasure(s)
	if err == nil && !(m.value > 0) {
		err = fault("write how large the drawing is", "is %v", m.value)
	}
	if err == nil {
		switch per, ok := inches(m.unit); {
		case ok:
			return extent{m.value * per * float64(length.Inch), m.unit, true}
		case m.unit == "px":
			return extent{m.value * float64(length.Inch) / pixels, m.unit, true}
		case m.unit == "":
			return extent{units: m.value * user}
		case m.unit == "%":
			return none
		}
		err = m.unknown()
	}
	r.list.Add(r.pos(root.line), "svg", name+": "+oneLine(err), remedyOf(err))
	return none
}

// untold says why it is not known how large the drawing is.
func (r *reader) untold(root *node) string {
	var says []string
	for _, name := range []string{"width", "height"} {
		if s, ok := root.attr(name); ok {
			says = append(says, name+" "+quoted(s))
		}
	}
	if len(says) == 0 {
		return "the drawing has no width and height"
	}
	return "the size of the drawing has no unit of length (" + strings.Join(says, ", ") + ")"
}

// rectangle is a viewBox.
type rectangle struct{ at, size curve.Vec }

// viewBox reads the viewBox of an element, if it has one.
func (n *node) viewBox() (rectangle, bool, error) {
	s, ok := n.attr("viewBox")
	if !ok {
		return rectangle{}, false, nil
	}
	if len(s) > maxValue {
		return rectangle{}, false, fault(repairRemedy, "viewBox: has %d characters, %d at most", len(s), maxValue)
	}
	v, err := numbers(s, 4)
	switch {
	case err != nil:
		return rectangle{}, false, fmt.Errorf("viewBox: %w", err)
	case len(v) != 4:
		return rectangle{}, false, fault("write x, y, width and height of what is seen", "viewBox: has %d numbers, not 4", len(v))
	case !(v[2] > 0 && v[3] > 0):
		return rectangle{}, false, fault("write x, y, width and height of what is seen", "viewBox: is %v wide and %v high", v[2], v[3])
	}
	return rectangle{curve.Vec{X: v[0], Y: v[1]}, curve.Vec{X: v[2], Y: v[3]}}, true, nil
}

// fitting is a preserveAspectRatio: how a viewBox lies in its viewport.
type fitting struct {
	stretch bool      // to both sides of the viewport
	fill    bool      // slice: cover the viewport, else lie in it
	align   curve.Vec // 0 to the left or top, 0.5 in the middle, 1 to the right or bottom
}

// aspect reads the preserveAspectRatio of an element.
func (n *node) aspect() (fitting, error) {
	f := fitting{align: curve.Vec{X: 0.5, Y: 0.5}}
	s, ok := n.attr("preserveAspectRatio")
	if !ok {
		return f, nil
	}
	bad := fault(`write a word such as xMidYMid, and meet or slice, or none`, "preserveAspectRatio: %s is not read", quoted(s))
	if len(s) > maxValue {
		return f, bad
	}
	words := strings.Fields(s)
	if len(words) > 0 && words[0] == "defer" { // SVG 1.1, for images
		words = words[1:]
	}
	if len(words) == 0 || len(words) > 2 {
		return f, bad
	}
	if len(words) == 2 {
		f.fill = words[1] == "slice"
		if !f.fill && words[1] != "meet" {
			return f, bad
		}
	}
	if words[0] == "none" {
		f.stretch = true
		return f, nil
	}
	x, y, ok := strings.Cut(words[0], "Y")
	ax, okX := alignment(strings.TrimPrefix(x, "x"))
	ay, okY := alignment(y)
	if !ok || !okX || !okY || !strings.HasPrefix(x, "x") {
		return f, bad
	}
	f.align = curve.Vec{X: ax, Y: ay}
	return f, nil
}

func alignment(s string) (float64, bool) {
	switch s {
	case "Min":
		return 0, true
	case "Mid":
		return 0.5, true
	case "Max":
		return 1, true
	}
	return 0, false
}

// view returns the view from a viewBox to a viewport with its corner at 0 (SVG 2,
// section 8.2, "Computing the equivalent transform of an SVG viewport").
func (f fitting) view(box rectangle, size curve.Vec) curve.View {
	sx, sy := size.X/box.size.X, size.Y/box.size.Y
	switch {
	case f.stretch:
	case f.fill:
		sx = max(sx, sy)
		sy = sx
	default:
		sx = min(sx, sy)
		sy = sx
	}
	return curve.View{
		X: curve.Vec{X: sx}, Y: curve.Vec{Y: sy},
		O: curve.Vec{
			X: (size.X-box.size.X*sx)*f.align.X - box.at.X*sx,
			Y: (size.Y-box.size.Y*sy)*f.align.Y - box.at.Y*sy,
		},
	}
}
