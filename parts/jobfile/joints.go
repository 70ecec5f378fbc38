package jobfile

import (
	"fmt"
	"strings"

	"panelyard/parts"
	"panelyard/parts/length"
)

// jointWords are the joints a panel's end may go into. In a butt joint it stops at
// the face of the other panel; in the others it goes in by a depth.
var jointWords = []string{"butt", "dado", "groove", "rabbet", "housed"}

// joint is how an edge of a rectangular panel meets another panel.
type joint struct {
	word  string
	depth length.Length
	into  *parts.Material // the other panel's
}

// jointed reads the joints of a rectangular panel and returns the size it is cut to.
//
// A length given inside is clear between two faces: what goes into each joint is
// added. One given outside reaches to the far faces: of each other panel its thickness
// is taken off, as measured, and what goes in is added: W - 2 (t - d) between two equal
// joints (the joint formula of the trade, as worked in workshop magazines).
func (r *reader) jointed(d *draft, l, w length.Length) (length.Length, length.Length, bool) {
	g := d.g
	v := g.get("joints")
	outside := g.choice("measured", "inside", "inside", "outside") == "outside"
	if v == nil {
		if g.has("measured") {
			g.add(g.get("measured"), "measured: says how a size with joints is meant, and there are none", "add joints: {left: {joint: dado, depth: 6}}")
		}
		return l, w, true
	}
	j := r.group(v, "joints", g.what, "write {left: {joint: dado, depth: 6}}")
	if j == nil {
		return l, w, false
	}
	ok := true
	var terms [2]string
	size := [2]length.Length{l, w}
	for k, edge := range [4]string{"left", "right", "bottom", "top"} {
		e, fine := r.joint(d, j, edge)
		ok = ok && fine
		if e == nil || !fine {
			continue
		}
		axis := k / 2
		if outside {
			size[axis] -= e.into.Measured
			terms[axis] += " - " + r.print(e.into.Measured)
		}
		size[axis] += e.depth
		if e.depth > 0 {
			terms[axis] += " + " + r.print(e.depth)
		}
	}
	j.done("left", "right", "bottom", "top")
	for axis, name := range [2]string{"length", "width"} {
		given := [2]length.Length{l, w}[axis]
		if ok && size[axis] <= 0 {
			g.add(v, fmt.Sprintf("nothing is left of the %s: %s%s", name, r.print(given), terms[axis]), "check the sizes and what the panel goes into")
			ok = false
		}
		if terms[axis] != "" {
			d.workings = append(d.workings, fmt.Sprintf("%s %s%s = %s", name, r.print(given), terms[axis], r.size(size[axis])))
		}
	}
	return size[0], size[1], ok
}

// joint reads the joint of an edge: its word and depth, or butt alone.
func (r *reader) joint(d *draft, j *group, edge string) (*joint, bool) {
	v := j.get(edge)
	if v == nil {
		return nil, true
	}
	out := &joint{into: r.boardOf(d.g.v)}
	if v.shape == scalar && strings.TrimSpace(v.text) == "butt" {
		if out.word = "butt"; out.into == nil {
			j.add(v, edge+": it is not known how thick the other panel is", "write {joint: butt, into: material}")
		}
		return out, out.into != nil
	}
	g := r.group(v, edge, d.g.what, "write {joint: dado, depth: 6}, or butt")
	if g == nil {
		return nil, false
	}
	defer g.done("joint", "depth", "into")
	before := len(r.list)
	out.word = g.choice("joint", "", jointWords...)
	if out.word == "" && !g.has("joint") {
		g.add(v, edge+": has no joint", "add joint: and one of "+strings.Join(jointWords, ", "))
	}
	if name, at := g.word("into"); at != nil {
		if out.into = r.out.Material(name); out.into == nil {
			g.add(at, fmt.Sprintf("into: unknown material %q", clip(name)), "known materials: "+r.materialNames())
		}
	}
	if out.word != "butt" {
		out.depth, _ = g.need("depth")
	} else if g.has("depth") {
		g.add(g.get("depth"), "a butt joint has no depth", "remove it, or name another joint")
	}
	if out.into == nil && r.list[before:].Err() == nil {
		g.add(v, edge+": it is not known how thick the other panel is", "add into: and its material")
	}
	if r.list[before:].Err() != nil || out.into == nil {
		return nil, false // what is missing in a group that was refused in part is not said
	}
	switch t := out.into.Measured; {
	case out.depth == 0, t == 0: // a board without a thickness was told
	case out.depth >= t:
		g.add(g.get("depth"), fmt.Sprintf("depth: %s goes through the other panel, which is %s thick", r.size(out.depth), r.size(t)), "half the thickness is the most that is usual")
		return nil, false
	case 2*out.depth > t:
		r.list.Warn(g.get("depth").pos, g.what, fmt.Sprintf("a %s of %s is deeper than half of %s", out.word, r.size(out.depth), r.size(t)), "a third of the thickness is usual, more than half leaves the other panel weak (common practice, no source)")
	}
	return out, true
}

// boardOf returns the material of a panel as it is written there or in the panel that
// it is the same as, or the only one of the job, or nil.
func (r *reader) boardOf(v *value) *parts.Material {
	for range 100 { // panels that take from each other are told later
		if s := v.word("material"); s != "" {
			return r.out.Material(s)
		}
		b := r.raw[v.word("same_as")]
		if b == nil {
			break
		}
		v = b
	}
	if len(r.out.Materials) == 1 {
		return &r.out.Materials[0]
	}
	return nil
}
