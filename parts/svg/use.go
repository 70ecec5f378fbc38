package svg

import (
	"encoding/xml"
	"fmt"
	"slices"
	"strings"

	"panelyard/parts/drawing/curve"
)

// use draws an element again at another place (SVG 2, section 5.5).
func (x *expansion) use(n *node, at place) error {
	target, err := x.targetOf(n)
	if err != nil {
		return err
	}
	switch {
	case slices.Contains(at.uses, n):
		return fault("save the drawing again", "draws itself again: %s", circle(at.uses, n))
	case len(at.uses) >= MaxUses:
		return fault("unlink what is used in the drawing program", "is used in more than %d others", MaxUses)
	}
	m := measures{n: n, inch: x.inch, size: at.size}
	corner := curve.Vec{X: m.length("x", across, 0), Y: m.length("y", upright, 0)}
	if len(at.uses) == 0 {
		at.line = n.line
	}
	at.uses = append(slices.Clone(at.uses), n)
	at.view = at.view.Then(curve.View{X: curve.Vec{X: 1}, Y: curve.Vec{Y: 1}, O: corner})
	if l := n.self().label; at.name.name == "" || at.name.generated && l.name != "" {
		at.name = l
	}
	before := x.elements
	if kind := target.kind; kind == "symbol" || kind == "svg" {
		if !target.self().hidden {
			err = x.viewport(target, x.enter(target, at).unnamed(), n)
		}
	} else {
		x.element(target, at)
	}
	if x.elements == before { // an empty symbol costs, too
		x.elements++
	}
	if err != nil {
		x.mistake(target, at, err)
	}
	return join(m.errs)
}

// circle names the elements with use that lead to one again.
func circle(uses []*node, n *node) string {
	const most = 4
	var names []string
	for i, u := range uses[slices.Index(uses, n):] {
		if i == most {
			names = append(names, "…")
			break
		}
		names = append(names, fmt.Sprintf("line %d uses %s", u.line, quoted(u.href())))
	}
	return strings.Join(names, ", ")
}

// href returns what a use refers to; that without a namespace holds (SVG 2).
func (n *node) href() string {
	if s, ok := n.attr("href"); ok {
		return s
	}
	i := slices.IndexFunc(n.attrs, func(a xml.Attr) bool {
		// A prefix that is declared nowhere stands for itself.
		return a.Name.Local == "href" && (a.Name.Space == xlinkSpace || a.Name.Space == "xlink")
	})
	if i < 0 {
		return ""
	}
	return n.attrs[i].Value
}

// targetOf returns the element that a use draws.
func (x *expansion) targetOf(n *node) (*node, error) {
	if n.target != nil {
		return n.target, nil
	}
	s := n.href()
	id, ok := strings.CutPrefix(s, "#")
	switch {
	case len(s) > maxValue:
		return nil, fault(againRemedy, "has an href of %d characters, %d at most", len(s), maxValue)
	case s == "":
		return nil, fault(againRemedy, "does not say what it draws: it has no href")
	case !ok:
		return nil, fault("copy what it draws into the drawing", "draws a part of another file, %s, and other files are not read", quoted(s))
	}
	if n.target = x.r.ids[id]; n.target == nil {
		return nil, fault("save the drawing again, with all that is used", "draws %s, and no element has that id", quoted(id))
	}
	return n.target, nil
}
