package jobfile

import (
	"cmp"
	"fmt"
	"slices"

	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
	"panelyard/parts/shelf"
)

// draft is a panel as the file draws it, before it is mirrored or made a pair.
type draft struct {
	g      *group
	panel  parts.Panel
	again  bool // its name is taken by an earlier one
	pair   bool
	mirror bool
	// drawn are the openings of the drawing that the outline is from, cutouts those
	// written, of this panel or of the one it is the same as.
	drawn, cutouts []cutout
	openings       []placed
	workings       []string // how its size was worked out
	edges          []banding
	grain          string // the word given, here or by the panel it is the same as
	face           string
	base           string // name of the panel it is the same as
	baseAt         *value
	state          state
}

// state tells how far same_as has been followed.
type state int

const (
	waiting state = iota
	resolving
	resolved
)

// panels reads all panels, those written, those of parts lists and those taken from
// drawings: first each by itself, then what they take from each other, then pairs are
// made of them.
func (r *reader) panels(written, listed []*value, taken []taking) {
	r.drafts = map[string]*draft{}
	var order []*draft
	r.raw = map[string]*value{}
	written = r.triedEntries(OfPanel, written, "length", "width")
	listed = r.triedEntries(OfPanel, listed, "length", "width")
	for _, v := range slices.Concat(written, listed) {
		if n := v.word("name"); n != "" && r.raw[n] == nil {
			r.raw[n] = v
		}
	}
	read := func(list []*value) {
		for _, v := range list {
			if d := r.draft(v); d != nil {
				r.called(d)
				order = append(order, d)
			}
		}
	}
	read(written)
	read(listed)
	for i := range taken { // what is left of the drawings is known now
		read(taken[i].values())
	}
	total := 0
	named := map[string]diag.Pos{}
	for _, d := range order {
		r.resolve(d)
		for _, p := range r.finish(d) {
			if first, ok := named[p.Name]; ok {
				r.list.Add(p.Pos, d.g.what, fmt.Sprintf("its name %q is taken, first in %s", clip(p.Name), r.there(first)), "rename one: a pair takes NAME-left and NAME-right")
				continue
			}
			named[p.Name] = p.Pos
			total += p.Quantity
			r.out.Panels = append(r.out.Panels, p)
		}
	}
	if total > MaxPanels {
		r.list.Add(diag.Pos{File: r.file}, "", fmt.Sprintf("%d panels are too many", total), fmt.Sprintf("a job may have %d", MaxPanels))
	}
	if r.vertices > MaxCorners {
		r.list.Add(diag.Pos{File: r.file}, "", fmt.Sprintf("the panels have more than %d corners in all", MaxCorners), "draw simpler outlines, or raise quantity in place of panels that are the same")
	}
	r.stockFor()
}

// called notes the name of a draft.
func (r *reader) called(d *draft) {
	n := d.panel.Name
	if n == "" {
		return
	}
	if other, ok := r.drafts[n]; ok {
		r.list.Add(d.panel.Pos, d.g.what, "the name is taken, first in "+r.there(other.panel.Pos), "give each panel a name of its own, or raise quantity")
		d.again = true
		return
	}
	r.drafts[n] = d
}

// there names a place in the job file, or another.
func (r *reader) there(p diag.Pos) string {
	if p.File == r.file {
		return fmt.Sprintf("line %d", p.Line)
	}
	return diag.Pos{File: p.File, Line: p.Line}.String()
}

// draft reads one panel by itself.
func (r *reader) draft(v *value) *draft {
	g := r.group(v, "", called("panel", v), "write name:, length: and width:, or outline:")
	if g == nil {
		return nil
	}
	d := &draft{g: g, workings: v.workings}
	r.of = ""
	if m := r.boardOf(v); m != nil {
		r.of = m.Name
	}
	defer func() { r.of = "" }()
	p := &d.panel
	p.Pos = v.pos
	p.Name, _ = g.name("name")
	p.Quantity = g.whole("quantity", 1, 1, MaxCopies)
	p.Note = g.note("note")
	p.Load = g.number("load", shelf.MaxLoad)
	p.Relief = g.relief(parts.NoRelief)
	d.pair, d.mirror = g.yes("pair"), g.yes("mirror")
	if d.pair && d.mirror {
		g.add(g.get("mirror"), "pair and mirror are both given", "a pair has the mirrored panel already; remove mirror")
	}
	d.base, d.baseAt = g.word("same_as")
	r.panelShape(d)
	d.cutouts = r.cutouts(g, d.drawn)
	r.edges(d)
	d.grain = g.choice("grain", "", "length", "width", "free")
	d.face = g.choice("face", "", "good", "either")
	g.used["material"] = true // read when what it is the same as is known
	g.done("name", "quantity", "pair", "material", "grain", "face", "mirror", "same_as", "length", "width", "outline", "bend", "joints", "measured", "edges", "openings", "load", "relief", "note")
	return d
}

// panelShape reads the outline: length and width, outline:, or bend: and one side. A
// panel without any takes that of same_as.
func (r *reader) panelShape(d *draft) {
	g := d.g
	short := g.has("length") || g.has("width")
	v := g.get("outline")
	switch {
	case g.has("bend"):
		r.bent(d)
	case v != nil && g.has("joints"):
		g.add(g.get("joints"), "joints are for panels of length and width, and an outline is given", "draw the panel as it is cut")
	case v != nil && short:
		g.length("length", 0, 1, 0)
		g.length("width", 0, 1, 0)
		g.add(v, "length and width are given, and an outline", "give one of them")
	case v != nil:
		s := r.group(v, "outline", g.what, "write rectangle:, circle:, path:, profile: or drawing:")
		switch {
		case s == nil:
		case s.has("drawing"):
			r.drawn(d, s)
		default:
			d.panel.Outline = r.shape(s)
			s.done(shapeKeys...)
		}
	case short || d.baseAt == nil:
		l, ok1 := g.need("length")
		w, ok2 := g.need("width")
		for _, k := range []struct {
			key string
			l   length.Length
		}{{"length", l}, {"width", w}} {
			if v := g.get(k.key); v != nil && k.l > 0 {
				if s := r.working(k.key, v, k.l); s != "" {
					d.workings = append(d.workings, s)
				}
			}
		}
		if l, w, ok := r.jointed(d, l, w); ok && ok1 && ok2 {
			d.panel.Outline = outline.Rectangle(l, w)
		}
	}
}

// ownShape reports whether the panel draws a shape itself, be it faulty.
func (d *draft) ownShape() bool {
	return d.g.has("length") || d.g.has("width") || d.g.has("outline") || d.g.has("bend")
}

// resolve takes over what a panel does not give itself, and puts its openings in
// their places.
func (r *reader) resolve(d *draft) {
	if d.state == resolved {
		return
	}
	d.state = resolving
	defer func() { d.state = resolved }()
	var base *draft
	if d.baseAt != nil {
		base = r.drafts[d.base]
		switch {
		case base == nil:
			d.g.add(d.baseAt, fmt.Sprintf("same_as: there is no panel %q", clip(d.base)), "name another panel of this job")
		case base.state == resolving:
			d.g.add(d.baseAt, fmt.Sprintf("same_as: %q and %q take from each other", clip(d.panel.Name), clip(d.base)), "draw one of them")
			base = nil
		default:
			r.resolve(base)
		}
	}
	if base != nil {
		r.inherit(d, base)
	}
	r.board(d, base)
	r.vertices += d.corners()
	if d.panel.Outline == nil || r.vertices > MaxCorners {
		return // the openings have been read; there is nothing to put them in
	}
	r.place(d)
}

// inherit takes outline, openings and edges from another panel as it is cut: the
// mirror image, where that is one. The openings are put into the outline afresh,
// which may be another.
func (r *reader) inherit(d, base *draft) {
	if !d.ownShape() && base.panel.Outline != nil {
		d.panel.Outline, d.panel.Bend = base.panel.Outline, base.panel.Bend
		d.workings = base.workings
		if base.mirror {
			d.panel = mirrored(d.panel)
		}
		d.panel.Mirrored = base.panel.Mirrored != base.mirror
		d.drawn = inherited(base.drawn, base.mirror)
	}
	if !d.g.has("relief") {
		d.panel.Relief = base.panel.Relief
	}
	if !d.g.has("openings") {
		d.cutouts = inherited(base.cutouts, base.mirror)
	}
	if !d.g.has("edges") {
		d.edges = slices.Clone(base.edges)
		for i := range d.edges {
			d.edges[i].pos = diag.Pos{} // said already, where the outline is the same
			if d.ownShape() {
				d.edges[i].pos = d.baseAt.pos
			}
		}
	}
	d.grain, d.face = cmp.Or(d.grain, base.grain), cmp.Or(d.face, base.face)
}

// inherited returns openings as another panel takes them over.
func inherited(list []cutout, turned bool) []cutout {
	list = slices.Clone(list)
	for i := range list {
		list[i].inherited = true
		list[i].turned = list[i].turned != turned
	}
	return list
}

// corners counts the vertices of the panels that the draft gives.
func (d *draft) corners() int {
	n := len(d.panel.Outline)
	for _, list := range [][]cutout{d.drawn, d.cutouts} {
		for i := range list {
			n += len(list[i].outline)
		}
	}
	if d.pair {
		n *= 2
	}
	return n
}

// board reads the material, which may come from another panel, and what depends
// on it.
func (r *reader) board(d *draft, base *draft) {
	g, p := d.g, &d.panel
	if base != nil && !g.has("material") {
		p.Material = base.panel.Material
	} else if d.baseAt != nil && base == nil && !g.has("material") {
		return // said already: what it is the same as is not there
	} else if m := r.materialOf(g); m != nil {
		p.Material = m.Name
	}
	m := r.out.Material(p.Material)
	if m == nil {
		return
	}
	switch {
	case m.Grained && d.grain == "width":
		p.Grain = parts.AlongWidth
	case m.Grained && d.grain != "free":
		p.Grain = parts.AlongLength
	case !m.Grained && g.has("grain") && (d.grain == "length" || d.grain == "width"):
		g.add(g.get("grain"), fmt.Sprintf("grain: %q has no grain", clip(m.Name)), "remove it, or say grain: yes at the material")
	}
	p.EitherFace = d.face == "either" && m.GoodFaces == 2
	if d.face == "either" && m.GoodFaces != 2 && g.has("face") {
		g.add(g.get("face"), fmt.Sprintf("face: either, but %q has one good face", clip(m.Name)), "say face: good, or good_faces: 2 at the material; a panel laid face down comes out mirrored")
	}
}

// finish makes the panels of a draft: one, or the two of a pair.
func (r *reader) finish(d *draft) []parts.Panel {
	p := d.panel
	if p.Outline == nil || p.Name == "" || p.Material == "" || d.again || r.vertices > MaxCorners {
		return nil
	}
	p.Workings = d.workings
	for _, o := range d.openings {
		p.Openings = append(p.Openings, o.opening)
	}
	r.bandEdges(d, &p)
	r.sag(&p)
	r.bentBoard(d, &p)
	switch {
	case d.pair:
		left, right := p, mirrored(p)
		left.Name, left.Hand = p.Name+"-left", parts.Left
		right.Name, right.Hand = p.Name+"-right", parts.Right
		left.PairOf, right.PairOf = p.Name, p.Name
		return []parts.Panel{left, right}
	case d.mirror:
		return []parts.Panel{mirrored(p)}
	}
	return []parts.Panel{p}
}

// mirrored returns the other hand of a panel, its box at the origin again.
func mirrored(p parts.Panel) parts.Panel {
	o := p.Outline.Flipped()
	d := geom.Pt(0, 0).Sub(o.Box().Min)
	p.Outline = o.Translate(d)
	p.Bend = p.Bend.Mirrored()
	openings := make([]parts.Opening, len(p.Openings))
	for i, op := range p.Openings {
		openings[i] = op
		openings[i].Outline = op.Outline.Flipped().Translate(d)
	}
	p.Openings = openings
	// Flipped runs the segments the other way round: segment i becomes n-1-i.
	n := len(p.Edging)
	edging := make([]string, n)
	for i, b := range p.Edging {
		edging[n-1-i] = b
	}
	p.Edging = edging
	p.Mirrored = !p.Mirrored
	return p
}

// stockFor wants stock for every material that panels use. It says nothing while
// it is not known what some of the stock is made of.
func (r *reader) stockFor() {
	if r.unsure || len(r.out.Stock) == 0 {
		return
	}
	has := map[string]bool{}
	for i := range r.out.Stock {
		has[r.out.Stock[i].Material] = true
	}
	for i := range r.out.Panels {
		p := &r.out.Panels[i]
		if !has[p.Material] {
			r.list.Add(p.Pos, fmt.Sprintf("panel %q", clip(p.Name)), fmt.Sprintf("there is no stock of %q", clip(p.Material)), "add a sheet of it to stock")
			has[p.Material] = true
		}
	}
}
