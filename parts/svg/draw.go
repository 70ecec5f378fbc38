package svg

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"github.com/tdewolff/canvas"

	"panelyard/parts/diag"
	"panelyard/parts/drawing"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
	"panelyard/parts/svgpath"
)

// state is what holds for an element from those around it.
type state struct {
	m      canvas.Matrix // to the picture, in px
	layer  string
	stroke string
	hidden bool
	using  []*node // of use elements, from the outermost
	port   viewport
}

// drawing draws the tree.
func (r *reader) drawing(root *node) *drawing.Drawing {
	r.out = &drawing.Drawing{File: r.file, Unit: length.MM}
	r.layers = map[string]bool{}
	port, box, unit := r.size(root)
	if r.list.Err() != nil {
		return nil
	}
	s := state{m: fit(box, port, root.attrs["preserveAspectRatio"]), port: port}
	if box != nil {
		s.port = viewport{box[0], box[1], box[2], box[3]}
	}
	d := &drawer{r: r, unit: unit, bottom: port.h}
	d.children(root, s)
	r.notes()
	return r.out
}

// drawer draws elements into a drawing.
type drawer struct {
	r      *reader
	unit   float64 // of a px, in grid units
	bottom float64 // of the picture, in px
}

func (d *drawer) children(n *node, s state) {
	for _, c := range n.children {
		d.element(c, s)
	}
}

// element draws an element and what is in it.
func (d *drawer) element(n *node, s state) {
	r := d.r
	if r.full {
		return
	}
	if r.drawn++; r.drawn > MaxElements {
		r.full = true
		r.bad(n, fmt.Sprintf("the drawing has more than %d elements, repeated ones counted", MaxElements), "export the panels only, without what surrounds them")
		return
	}
	if n.attrs["display"] == "none" {
		r.note(n, "display", "it is not displayed and not read, with what is in it")
		return
	}
	switch n.attrs["visibility"] {
	case "hidden", "collapse":
		s.hidden = true
	case "visible":
		s.hidden = false
	}
	if c := n.attrs["stroke"]; c != "" {
		s.stroke = c
	}
	if t, ok := n.attrs["transform"]; ok {
		m, err := transform(t)
		if err != nil {
			r.bad(n, "transform: "+err.Error(), "save the drawing as plain SVG again")
			return
		}
		s.m = s.m.Mul(m)
	}
	for _, k := range []string{"clip-path", "mask"} {
		if v := n.attrs[k]; v != "" && v != "none" {
			r.note(n, k, "its "+k+" is not read: all of it counts")
		}
	}
	switch n.name {
	case "g", "a", "switch":
		if l := n.label(); l != "" {
			s.layer = l
		}
		d.children(n, s)
	case "svg":
		d.nested(n, s, viewport{})
	case "use":
		d.use(n, s)
	case "path", "rect", "circle", "ellipse", "line", "polyline", "polygon":
		if s.hidden {
			r.note(n, "visibility", "it is hidden and not read")
			return
		}
		d.shape(n, s)
	case "text":
		d.text(n, s)
	case "style":
		r.note(n, n.name, "style sheets are not read: what they hide or move counts as drawn")
	case "defs", "symbol", "title", "desc", "metadata", "clipPath", "mask", "marker", "pattern", "linearGradient", "radialGradient", "filter", "script", "view", "cursor":
	default:
		if !strings.HasPrefix(n.name, "foreign:") {
			r.note(n, n.name, n.name+" is not read")
		}
	}
}

// nested draws an svg in another, or a symbol that use shows in a viewport.
func (d *drawer) nested(n *node, s state, given viewport) {
	port := viewport{w: s.port.w, h: s.port.h}
	for _, f := range []struct {
		key   string
		to    *float64
		whole float64
		given float64
	}{{"x", &port.x, s.port.w, 0}, {"y", &port.y, s.port.h, 0}, {"width", &port.w, s.port.w, given.w}, {"height", &port.h, s.port.h, given.h}} {
		switch v, ok := n.attrs[f.key]; {
		case f.given > 0:
			*f.to = f.given
		case ok && v != "auto" && n.name == "svg":
			l, err := toPx(v, f.whole)
			if err != nil {
				d.r.bad(n, fmt.Sprintf("%s %q %v", f.key, clip(v), err), "write a length")
				return
			}
			*f.to = l
		}
	}
	var box []float64
	if v, ok := n.attrs["viewBox"]; ok {
		var err error
		if box, err = numbers(v); err != nil || len(box) != 4 {
			d.r.bad(n, fmt.Sprintf("viewBox %q is none", clip(v)), "write four numbers: x, y, width and height")
			return
		}
	}
	s.m = s.m.Mul(fit(box, port, n.attrs["preserveAspectRatio"]))
	if s.port = port; box != nil {
		s.port = viewport{box[0], box[1], box[2], box[3]}
	}
	d.children(n, s)
}

// use draws another element where a use element stands.
func (d *drawer) use(n *node, s state) {
	ref := n.attrs["href"]
	id, ok := strings.CutPrefix(ref, "#")
	to := d.r.ids[id]
	if !ok || to == nil {
		d.r.bad(n, fmt.Sprintf("uses %q, which is not in the file", clip(ref)), "save the drawing as plain SVG again")
		return
	}
	for _, u := range s.using {
		if u == to {
			d.r.bad(n, fmt.Sprintf("uses %q, in which it is itself", clip(ref)), "save the drawing as plain SVG again")
			return
		}
	}
	if len(s.using) >= MaxDepth {
		d.r.bad(n, fmt.Sprintf("use in use is nested more than %d deep", MaxDepth), "ungroup the drawing")
		return
	}
	s.using = append(s.using[:len(s.using):len(s.using)], to)
	x, ok1 := d.length(n, "x", s.port.w)
	y, ok2 := d.length(n, "y", s.port.h)
	w, ok3 := d.length(n, "width", s.port.w)
	h, ok4 := d.length(n, "height", s.port.h)
	if !ok1 || !ok2 || !ok3 || !ok4 {
		return
	}
	s.m = s.m.Translate(x, y)
	if to.name == "symbol" || to.name == "svg" {
		d.nested(to, s, viewport{w: w, h: h})
		return
	}
	d.element(to, s)
}

// length reads a length of an element; a missing one is 0.
func (d *drawer) length(n *node, key string, whole float64) (float64, bool) {
	v, ok := n.attrs[key]
	if !ok || v == "auto" {
		return 0, true
	}
	l, err := toPx(v, whole)
	if err != nil {
		d.r.bad(n, fmt.Sprintf("%s %q %v", key, clip(v), err), "write a length, such as 12.5 or 30mm")
		return 0, false
	}
	return l, true
}

// shape draws a basic shape or a path.
func (d *drawer) shape(n *node, s state) {
	data, ok := d.data(n, s)
	if !ok || data == "" {
		return
	}
	p, err := svgpath.Parse(data)
	if err != nil {
		d.r.bad(n, "its outline: "+diag.Brief(err), "draw it again, or save the drawing as plain SVG")
		return
	}
	loops, err := d.loops(p, s)
	if err != nil {
		d.r.bad(n, "its outline: "+diag.Brief(err), "check its size, and draw curves with fewer points")
		return
	}
	if !d.r.layers[s.layer] {
		d.r.layers[s.layer] = true
		d.r.out.Layers = append(d.r.out.Layers, drawing.Layer{Name: s.layer})
	}
	up := geom.Pt(0, length.Length(math.Round(d.bottom*d.unit)))
	for _, l := range loops {
		if len(l.Path) < 2 {
			continue
		}
		piece := drawing.Piece{Source: n.source(), Layer: s.layer, Colour: s.stroke, Closed: l.Closed, Name: n.own()}
		for _, v := range l.Path {
			piece.Path = append(piece.Path, outline.Vertex{At: v.At.Add(up), Bulge: v.Bulge})
		}
		if l.Curved {
			piece.Within = d.r.opt.Tolerance
		}
		d.r.out.Pieces = append(d.r.out.Pieces, piece)
	}
}

// loops returns the loops of a path as the picture shows it. The library may panic on
// matrices that are none.
func (d *drawer) loops(p *canvas.Path, s state) (list []svgpath.Loop, err error) {
	defer func() {
		if recover() != nil {
			list, err = nil, fmt.Errorf("its transformation cannot be done")
		}
	}()
	if det := s.m.Det(); det == 0 || math.IsNaN(det) || math.IsInf(det, 0) {
		return nil, fmt.Errorf("its transformation leaves nothing of it")
	}
	return svgpath.Loops(p.Transform(s.m), d.unit, d.r.opt.Tolerance)
}

// data returns an element as path data in its own units; nothing for one without size.
func (d *drawer) data(n *node, s state) (string, bool) {
	ok := true
	get := func(key string, whole float64) float64 {
		v, fine := d.length(n, key, whole)
		ok = ok && fine
		return v
	}
	w, h := s.port.w, s.port.h
	diagonal := math.Hypot(w, h) / math.Sqrt2
	switch n.name {
	case "path":
		return strings.TrimSpace(n.attrs["d"]), true
	case "line":
		x1, y1, x2, y2 := get("x1", w), get("y1", h), get("x2", w), get("y2", h)
		return fmt.Sprintf("M%v %vL%v %v", x1, y1, x2, y2), ok
	case "circle":
		cx, cy, r := get("cx", w), get("cy", h), get("r", diagonal)
		return round(cx, cy, r, r), ok && r > 0
	case "ellipse":
		cx, cy, rx, ry := get("cx", w), get("cy", h), get("rx", w), get("ry", h)
		return round(cx, cy, rx, ry), ok && rx > 0 && ry > 0
	case "rect":
		x, y, rw, rh := get("x", w), get("y", h), get("width", w), get("height", h)
		rx, ry := get("rx", w), get("ry", h)
		_, hasX := n.attrs["rx"]
		_, hasY := n.attrs["ry"]
		if !hasX {
			rx = ry
		}
		if !hasY {
			ry = rx
		}
		return rectangle(x, y, rw, rh, min(max(rx, 0), rw/2), min(max(ry, 0), rh/2)), ok && rw > 0 && rh > 0
	}
	v, err := numbers(n.attrs["points"])
	if err != nil || len(v)%2 != 0 {
		d.r.bad(n, "its points are no pairs of numbers", "draw it again")
		return "", false
	}
	if len(v) < 4 {
		return "", true
	}
	var b strings.Builder
	for i := 0; i < len(v); i += 2 {
		fmt.Fprintf(&b, "%c%v %v", "ML"[min(i, 1)], v[i], v[i+1])
	}
	if n.name == "polygon" {
		b.WriteString("Z")
	}
	return b.String(), true
}

// round returns an ellipse as path data.
func round(cx, cy, rx, ry float64) string {
	return fmt.Sprintf("M%v %vA%v %v 0 0 1 %v %vA%v %v 0 0 1 %v %vZ", cx+rx, cy, rx, ry, cx-rx, cy, rx, ry, cx+rx, cy)
}

// rectangle returns a rectangle with round corners as path data.
func rectangle(x, y, w, h, rx, ry float64) string {
	if rx <= 0 || ry <= 0 {
		return fmt.Sprintf("M%v %vH%vV%vH%vZ", x, y, x+w, y+h, x)
	}
	a := fmt.Sprintf("A%v %v 0 0 1 ", rx, ry)
	return fmt.Sprintf("M%v %vL%v %v%s%v %vL%v %v%s%v %vL%v %v%s%v %vL%v %v%s%v %vZ",
		x+rx, y, x+w-rx, y, a, x+w, y+ry, x+w, y+h-ry, a, x+w-rx, y+h, x+rx, y+h, a, x, y+h-ry, x, y+ry, a, x+rx, y)
}

// text adds a text with where it begins.
func (d *drawer) text(n *node, s state) {
	if s.hidden {
		return
	}
	content := strings.Join(strings.Fields(n.words()), " ")
	if content == "" {
		return
	}
	at := n
	if n.attrs["x"] == "" && len(n.children) > 0 && n.children[0].name == "tspan" {
		at = n.children[0]
	}
	first := func(key string) float64 {
		v, err := numbers(at.attrs[key])
		if err != nil || len(v) == 0 {
			l, err := toPx(at.attrs[key], 0)
			if err != nil {
				return 0
			}
			return l
		}
		return v[0]
	}
	p := s.m.Dot(canvas.Point{X: first("x"), Y: first("y")})
	x, y := p.X*d.unit, (d.bottom-p.Y)*d.unit
	if !(math.Abs(x) < float64(length.Max) && math.Abs(y) < float64(length.Max)) {
		return
	}
	d.r.out.Texts = append(d.r.out.Texts, drawing.Text{
		Source: n.source(), Layer: s.layer, At: geom.Pt(length.Length(math.Round(x)), length.Length(math.Round(y))), Content: content,
	})
}

// words returns the text in an element, the first of its spans first.
func (n *node) words() string {
	var b strings.Builder
	b.WriteString(n.text.String())
	for _, c := range n.children {
		if c.name == "tspan" || c.name == "textPath" || c.name == "a" {
			b.WriteString(" " + c.words())
		}
	}
	return b.String()
}

// title returns the title of an element.
func (n *node) title() string {
	for _, c := range n.children {
		if c.name == "title" {
			return strings.Join(strings.Fields(c.text.String()), " ")
		}
	}
	return ""
}

// generated is an id that a program gave, not a person.
var generated = regexp.MustCompile(`^[A-Za-z]*[-_.]?[0-9][-_.0-9A-Fa-f]*$`)

// label returns what a group is called.
func (n *node) label() string {
	if t := n.title(); t != "" {
		return t
	}
	if l := strings.TrimSpace(n.attrs["label"]); l != "" {
		return l
	}
	return strings.TrimSpace(n.attrs["id"])
}

// own returns what a piece is called; nothing when only a program named it.
func (n *node) own() string {
	l := n.label()
	if generated.MatchString(l) {
		return ""
	}
	return l
}
