package svg

import (
	"errors"
	"fmt"
	"math"

	"panelyard/parts/drawing"
	"panelyard/parts/drawing/curve"
)

// expansion draws elements, those that are used wherever they are.
type expansion struct {
	r        *reader
	d        *drawing.Drawing
	inch     float64        // in user units
	said     map[*node]bool // elements with a mistake that is in the list
	elements int
	segments int
	stopped  bool
}

// place is where elements are drawn.
type place struct {
	view  curve.View
	size  curve.Vec // of the viewport, of which percentages are; NaN when not known
	layer label
	style style
	uses  []*node // that the place came about by
	name  label   // what the use of the element is called
	line  int     // of the outermost use
}

// enter returns the place of what lies in an element that is drawn at another.
func (x *expansion) enter(n *node, at place) place {
	o := n.self()
	at.view = at.view.Then(o.view)
	at.style = at.style.of(o)
	if n.kind == "g" {
		if o.label.name != "" && (!o.label.generated || at.layer.name == "" || at.layer.generated) {
			at.layer = o.label
		}
	}
	if o.err != nil {
		x.mistake(n, at, o.err)
	}
	return at
}

// children draws what lies in an element.
func (x *expansion) children(n *node, at place) {
	for _, c := range n.nodes {
		if x.stopped {
			return
		}
		if c.kind != "" {
			x.element(c, at)
		}
	}
}

// What is noted of elements that are not drawn.
var (
	styles    = note{"styles of a style element or another file are not read", "write display and visibility into the elements themselves if they matter"}
	undrawn   = note{"what is not displayed (display: none) is ignored", "display it if it belongs to a panel"}
	invisible = note{"what is not visible (visibility) is ignored", "make it visible if it belongs to a panel"}
	clipped   = note{"clip-path and mask are not applied: what they cut off is read, too", "draw the outline itself"}
	animation = note{"animations are not read", "draw the panel as it is to be cut"}
	sizeless  = note{"shapes without a size draw nothing", "take them out of the drawing"}
	choice    = note{"of a switch the first part is read that needs no extension", "leave one part"}
)

// element draws an element.
func (x *expansion) element(n *node, at place) {
	// What is not drawn costs time, too.
	if x.elements++; x.elements > MaxElements {
		x.stop(n, fmt.Sprintf("the drawing has more than %d elements when those that are used are counted each time", MaxElements))
		return
	}
	switch n.kind {
	case "defs", "title", "desc", "metadata", "symbol", "clipPath", "mask", "pattern", "marker",
		"linearGradient", "radialGradient", "filter", "script", "view", "cursor":
		return // none of them is drawn where it stands
	case "style":
		x.r.notRead(styles, n.line)
		return
	case "animate", "animateMotion", "animateTransform", "animateColor", "set":
		x.r.notRead(animation, n.line)
		return
	case "g", "a", "svg", "use", "switch", "text":
	default:
		if !isShape(n.kind) {
			x.r.notRead(note{clip(n.kind) + " is not read", "turn it into paths if it belongs to a panel"}, n.line)
			return
		}
	}
	if n.self().hidden {
		x.r.notRead(undrawn, n.line)
		return
	}
	for _, name := range []string{"clip-path", "mask"} {
		if s, ok := n.attr(name); ok && s != "none" {
			x.r.notRead(clipped, n.line)
		}
	}
	if x.said[n] && isShape(n.kind) {
		return // it has a mistake wherever it is used
	}
	in := x.enter(n, at)
	if !in.style.visible && (n.kind == "text" || isShape(n.kind)) {
		x.r.notRead(invisible, n.line)
		return
	}
	var err error
	switch n.kind {
	case "g", "a":
		x.children(n, in.unnamed())
	case "switch":
		x.choose(n, in.unnamed())
	case "svg":
		err = x.viewport(n, in.unnamed(), nil)
	case "use":
		err = x.use(n, in)
	case "text":
		err = x.text(n, in)
	default:
		var runs []run
		if runs, err = x.geometry(n, in); err == nil {
			err = x.runs(n, in, runs)
			if len(runs) == 0 {
				x.r.notRead(sizeless, n.line)
			}
		}
	}
	if err != nil {
		x.mistake(n, in, err)
	}
}

// unnamed returns the place of several elements: none of them has the name of the
// use they came about by.
func (at place) unnamed() place {
	at.name = label{}
	return at
}

// choose draws the first part of a switch that needs no extension.
func (x *expansion) choose(n *node, at place) {
	x.r.notRead(choice, n.line)
	for _, c := range n.nodes {
		if s, ok := c.attr("requiredExtensions"); c.kind != "" && (!ok || s == "") {
			x.element(c, at)
			return
		}
	}
}

// viewport draws what lies in an svg element or a symbol, whose corner and size are
// those of the use it is drawn by, if that says any.
func (x *expansion) viewport(n *node, at place, use *node) error {
	m := measures{n: n, inch: x.inch, size: at.size}
	corner := curve.Vec{X: m.length("x", across, 0), Y: m.length("y", upright, 0)}
	w := m.positive("width", across, at.size.X)
	h := m.positive("height", upright, at.size.Y)
	if use != nil {
		u := measures{n: use, inch: x.inch, size: at.size}
		w, h = u.positive("width", across, w), u.positive("height", upright, h)
		m.errs = append(m.errs, u.errs...)
	}
	for _, name := range []string{"refX", "refY"} {
		if _, ok := n.attr(name); ok {
			m.errs = append(m.errs, fault("move the symbol where it is used", "%s: is not read", name))
		}
	}
	box, ok, err := n.viewBox()
	if err != nil {
		m.errs = append(m.errs, err)
	}
	fit, err := n.aspect()
	if err != nil {
		m.errs = append(m.errs, err)
	}
	in := at
	in.view = in.view.Then(curve.View{X: curve.Vec{X: 1}, Y: curve.Vec{Y: 1}, O: corner})
	in.size = curve.Vec{X: w, Y: h}
	if ok {
		switch {
		case math.IsNaN(w) || math.IsNaN(h):
			m.errs = append(m.errs, fault("write width and height into it", "has a viewBox, but how large it is is not known"))
		case w == 0 || h == 0:
			x.r.notRead(sizeless, n.line)
			return join(m.errs)
		default:
			in.view = in.view.Then(fit.view(box, in.size))
		}
		in.size = box.size
	}
	x.children(n, in)
	return join(m.errs)
}

// mistake reports an error of an element, once however often it is used.
func (x *expansion) mistake(n *node, at place, err error) {
	if x.said[n] {
		return
	}
	x.said[n] = true
	remedy := remedyOf(err)
	switch {
	case errors.Is(err, curve.ErrFine):
		err = fmt.Errorf("needs more than %d points to be drawn within %v", curve.MaxPoints, x.r.opt.Tolerance)
		remedy = "draw it smaller or simpler, or allow a larger tolerance"
	case errors.Is(err, curve.ErrFar):
		err, remedy = errFar(), farRemedy
	}
	src := x.source(n, at)
	x.r.list.Add(x.r.pos(src.Line), fmt.Sprintf("%s, layer %s", src.Entity, quoted(at.layer.name)), oneLine(err), remedy)
}

// stop reports why nothing more is drawn.
func (x *expansion) stop(n *node, fact string) {
	if !x.stopped {
		x.r.list.Add(x.r.pos(n.line), n.kind, fact, simplerRemedy)
	}
	x.stopped = true
}

// source returns the source of an element at a place.
func (x *expansion) source(n *node, at place) drawing.Source {
	entity := clip(n.kind)
	if id, ok := n.attr("id"); ok {
		entity += ", id " + clip(id)
	}
	if len(at.uses) > 0 {
		entity += fmt.Sprintf(", used in line %d", at.line)
	}
	return drawing.Source{Entity: entity, Line: n.line}
}

// name returns what an element at a place is called, or else what a use of it is;
// nothing when only a program gave it a name.
func (x *expansion) name(n *node, at place) string {
	for _, l := range [2]label{at.name, n.self().label} {
		if !l.generated && l.name != "" {
			return l.name
		}
	}
	return ""
}

// join joins errors; the remedy is that of the first.
func join(errs []error) error {
	var err error
	for _, e := range errs {
		if e != nil {
			err = errors.Join(err, e)
		}
	}
	return err
}

// remedyOf returns what to do about an error.
func remedyOf(err error) string {
	if f := new(faulty); errors.As(err, &f) {
		return f.remedy
	}
	return "repair the element or draw it again"
}

// count counts things.
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
