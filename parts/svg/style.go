package svg

import (
	"errors"
	"slices"
	"strings"

	"panelyard/parts/drawing"
	"panelyard/parts/drawing/curve"
)

// style is what elements take over from those they lie in.
type style struct {
	visible      bool
	fill, stroke string // as written; empty when nothing says
}

// colour returns the colour of the line, or that of the area when there is none.
func (s style) colour() string {
	if s.stroke != "" && s.stroke != "none" {
		return s.stroke
	}
	if s.fill != "none" {
		return s.fill
	}
	return ""
}

// of returns the style of an element in another of style s.
func (s style) of(o *own) style {
	if o.fill != "" {
		s.fill = o.fill
	}
	if o.stroke != "" {
		s.stroke = o.stroke
	}
	switch o.visibility {
	case "visible":
		s.visible = true
	case "hidden", "collapse":
		s.visible = false
	}
	return s
}

// moving reports whether a property that SVG 2 lets a style attribute have moves or
// shapes what is drawn. Such a style is a mistake: SVG 1.1 does not know it, and
// what is drawn depends on the program.
func moving(property string) bool {
	return slices.Contains([]string{
		"transform", "transform-origin", "translate", "rotate", "scale", "offset-path",
		"d", "x", "y", "width", "height", "cx", "cy", "r", "rx", "ry",
	}, property)
}

// self returns what an element says of itself.
func (n *node) self() *own {
	if n.own != nil {
		return n.own
	}
	o := &own{view: curve.Identity(), label: n.label()}
	n.own = o
	property := func(name, value string) {
		switch name {
		case "display":
			o.hidden = value == "none"
		case "visibility":
			o.visibility = value
		case "fill", "stroke":
			if value == "inherit" {
				value = ""
			}
			if name == "fill" {
				o.fill = clip(value)
			} else {
				o.stroke = clip(value)
			}
		}
	}
	for _, name := range []string{"display", "visibility", "fill", "stroke"} {
		if s, ok := n.attr(name); ok {
			property(name, strings.TrimSpace(s))
		}
	}
	if s, ok := n.attr("style"); ok {
		for declaration := range strings.SplitSeq(s, ";") {
			name, value, _ := strings.Cut(declaration, ":")
			name = strings.ToLower(strings.TrimSpace(name))
			value, _, _ = strings.Cut(value, "!") // !important
			if property(name, strings.TrimSpace(value)); moving(name) {
				o.err = errors.Join(o.err, fault("write it as an attribute of its own", "style: %s in a style is not read", name))
			}
		}
	}
	if s, ok := n.attr("transform"); ok {
		var err error
		if o.view, err = readTransform(s); err != nil {
			o.view = curve.Identity()
			o.err = errors.Join(o.err, err)
		}
		if _, ok := n.attr("transform-origin"); ok {
			o.err = errors.Join(o.err, fault("write the origin into the transform, as rotate with three numbers", "transform-origin: is not read"))
		}
	}
	return o
}

// label is what an element is called.
type label struct {
	name      string
	generated bool // it looks as if a program had made it up
}

// label returns the title of an element, or a label that a program keeps in a
// namespace of its own, or else its id.
func (n *node) label() label {
	for _, c := range n.nodes {
		if c.kind == "title" {
			if s := strings.Join(strings.Fields(c.content()), " "); s != "" {
				return label{name: cut(s, drawing.MaxName)}
			}
		}
	}
	for i := range n.attrs {
		a := &n.attrs[i]
		if s := strings.TrimSpace(a.Value); a.Name.Local == "label" && a.Name.Space != "" && a.Name.Space != svgSpace && s != "" {
			return label{name: cut(s, drawing.MaxName)}
		}
	}
	id, _ := n.attr("id")
	id = cut(id, drawing.MaxName)
	return label{name: id, generated: generated(id)}
}

// generated reports whether an id looks as if a program had made it up: letters,
// then nothing but digits, with signs between them, as path1234 or g12-3.
func generated(id string) bool {
	rest := strings.TrimLeft(id, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ")
	return rest != "" && rest != id && strings.Trim(rest, "0123456789-_.") == "" && strings.ContainsAny(rest, "0123456789")
}
