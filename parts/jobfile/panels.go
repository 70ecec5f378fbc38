package jobfile

import (
	"fmt"
	"slices"
	"strings"

	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// draft is a panel as the file draws it, before it is mirrored or made a pair.
type draft struct {
	g        *group
	panel    parts.Panel
	pair     bool
	mirror   bool
	openings []parts.Opening
	edges    map[string]string // edge name -> band
	edgesAt  *value
	base     string // name of the panel it is the same as
	baseAt   *value
	state    int // of resolving same_as: 0 not begun, 1 begun, 2 done
}

// panels reads all panels: first each by itself, then what they take from each
// other, then pairs are made of them.
func (r *reader) panels(list []*value) {
	r.drafts = map[string]*draft{}
	var order []*draft
	for _, v := range list {
		d := r.draft(v)
		if d == nil {
			continue
		}
		if n := d.panel.Name; n != "" {
			if other, ok := r.drafts[n]; ok {
				r.list.Add(v.pos, d.g.what, fmt.Sprintf("the name is taken, first in line %d", other.panel.Pos.Line), "give each panel a name of its own, or raise quantity")
				continue
			}
			r.drafts[n] = d
		}
		order = append(order, d)
	}
	total := 0
	taken := map[string]int{}
	for _, d := range order {
		r.resolve(d)
		for _, p := range r.finish(d) {
			if line, ok := taken[p.Name]; ok {
				r.list.Add(p.Pos, d.g.what, fmt.Sprintf("its name %q is taken, first in line %d", p.Name, line), "rename one: a pair takes NAME-left and NAME-right")
				continue
			}
			taken[p.Name] = p.Pos.Line
			total += p.Quantity
			r.out.Panels = append(r.out.Panels, p)
		}
	}
	if total > MaxPanels {
		r.list.Add(diag.Pos{File: r.file}, "", fmt.Sprintf("%d panels are too many", total), fmt.Sprintf("a job may have %d", MaxPanels))
	}
	r.stockFor()
}

// draft reads one panel by itself.
func (r *reader) draft(v *value) *draft {
	g := r.group(v, called("panel", v), "write name:, length: and width:, or outline:")
	if g == nil {
		return nil
	}
	d := &draft{g: g}
	p := &d.panel
	p.Pos = v.pos
	p.Name, _ = g.name("name")
	p.Quantity = g.whole("quantity", 1, 1, MaxCopies)
	p.Note, _ = g.text("note")
	d.pair, d.mirror = g.yes("pair"), g.yes("mirror")
	if d.pair && d.mirror {
		g.add(g.get("mirror"), "pair and mirror are both given", "a pair has the mirrored panel already; remove mirror")
	}
	d.base, d.baseAt = g.text("same_as")
	d.base = strings.TrimSpace(d.base)
	if d.base == "" {
		d.baseAt = nil
	}
	r.panelShape(d)
	if v := g.get("openings"); v != nil && p.Outline != nil {
		r.openings(d)
	} else {
		g.list("openings", MaxEntries)
	}
	r.edges(d)
	for _, k := range []string{"material", "grain", "face"} {
		g.used[k] = true // read when what it is the same as is known
	}
	g.done("name", "quantity", "pair", "material", "grain", "face", "mirror", "same_as", "length", "width", "outline", "edges", "openings", "note")
	return d
}

// panelShape reads the outline: length and width, or outline:. A panel without
// any takes that of same_as.
func (r *reader) panelShape(d *draft) {
	g := d.g
	short := g.has("length") || g.has("width")
	v := g.get("outline")
	switch {
	case v != nil && short:
		g.length("length", 0, 1, 0)
		g.length("width", 0, 1, 0)
		g.add(v, "length and width are given, and an outline", "give one of them")
	case v != nil:
		if s := r.group(v, g.what, "write rectangle:, circle:, path: or profile:"); s != nil {
			d.panel.Outline = r.shape(s, true)
			s.done(shapeKeys...)
		}
	case short || d.baseAt == nil:
		l, ok1 := g.need("length")
		w, ok2 := g.need("width")
		if ok1 && ok2 {
			d.panel.Outline = outline.Rectangle(l, w)
		}
	}
	if d.panel.Outline == nil && (v != nil || short) {
		d.baseAt = nil // its own outline is faulty; nothing else is to be said
	}
}

// edges reads which edges are banded.
func (r *reader) edges(d *draft) {
	v := d.g.get("edges")
	if v == nil || v.shape == null {
		return
	}
	g := r.group(v, d.g.what, "write {top: name of a band}")
	if g == nil {
		return
	}
	d.edges, d.edgesAt = map[string]string{}, v
	for _, e := range v.keys {
		if e.val.shape != scalar {
			g.add(e.val, fmt.Sprintf("edge %q: expected the name of a band, got %s", e.key, describe(e.val)), "write "+e.key+": name of a band")
			continue
		}
		band := strings.TrimSpace(e.val.text)
		if r.out.Band(band) == nil {
			remedy := "add it to edging"
			if len(r.out.Bands) > 0 {
				var names []string
				for i := range r.out.Bands {
					names = append(names, r.out.Bands[i].Name)
				}
				remedy = "known bands: " + strings.Join(names, ", ")
			}
			g.add(e.val, fmt.Sprintf("unknown edge band %q", clip(band)), remedy)
			continue
		}
		d.edges[e.key] = band
	}
}

// resolve takes over what a panel does not give itself.
func (r *reader) resolve(d *draft) {
	if d.state == 2 {
		return
	}
	d.state = 1
	defer func() { d.state = 2 }()
	var base *draft
	if d.baseAt != nil {
		base = r.drafts[d.base]
		switch {
		case base == nil:
			d.g.add(d.baseAt, fmt.Sprintf("same_as: there is no panel %q", clip(d.base)), "name another panel of this job")
		case base.state == 1:
			d.g.add(d.baseAt, fmt.Sprintf("same_as: %q and %q take from each other", d.panel.Name, d.base), "draw one of them")
			base = nil
		default:
			r.resolve(base)
		}
		if base != nil && d.panel.Outline == nil {
			d.panel.Outline, d.openings = base.panel.Outline, base.openings
			if d.g.has("openings") {
				d.openings = nil
				if d.panel.Outline != nil {
					r.openings(d)
				}
			}
			if !d.g.has("edges") {
				d.edges, d.edgesAt = base.edges, base.edgesAt
			}
		}
	}
	r.board(d, base)
}

// board reads material, grain and face, which may come from another panel.
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
	switch word := g.choice("grain", "", "length", "width", "free"); {
	case word == "length":
		p.Grain = parts.AlongLength
	case word == "width":
		p.Grain = parts.AlongWidth
	case word == "free":
	case base != nil:
		p.Grain = base.panel.Grain
	case m.Grained:
		p.Grain = parts.AlongLength
	}
	if p.Grain != parts.NoAxis && !m.Grained {
		if g.has("grain") {
			g.add(g.get("grain"), fmt.Sprintf("grain: %q has no grain", m.Name), "remove it, or say grain: yes at the material")
		}
		p.Grain = parts.NoAxis
	}
	p.EitherFace = g.choice("face", "good", "good", "either") == "either"
	if !g.has("face") && base != nil {
		p.EitherFace = base.panel.EitherFace && m.GoodFaces == 2
	}
	if p.EitherFace && m.GoodFaces != 2 {
		g.add(g.get("face"), fmt.Sprintf("face: either, but %q has one good face", m.Name), "say face: good, or good_faces: 2 at the material; a panel laid face down comes out mirrored")
	}
}

// finish makes the panels of a draft: one, or the two of a pair.
func (r *reader) finish(d *draft) []parts.Panel {
	p := d.panel
	if p.Outline == nil || p.Name == "" || p.Material == "" {
		return nil
	}
	p.Openings = d.openings
	p.Edging = make([]string, len(p.Outline))
	if d.edges != nil {
		r.band2edges(d, &p)
	}
	r.webs(d, &p)
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

// band2edges puts the bands on the segments of the edges that have their names.
func (r *reader) band2edges(d *draft, p *parts.Panel) {
	for name, band := range d.edges {
		found := false
		for i, v := range p.Outline {
			if v.Edge == name || name == "all" {
				p.Edging[i], found = band, true
			}
		}
		if !found {
			var names []string
			for _, v := range p.Outline {
				if v.Edge != "" && !slices.Contains(names, v.Edge) {
					names = append(names, v.Edge)
				}
			}
			remedy := "name the edges of the profile with edge:, or use all"
			if len(names) > 0 {
				remedy = "its edges: " + strings.Join(names, ", ") + "; or all"
			}
			d.g.add(d.edgesAt, fmt.Sprintf("there is no edge %q", clip(name)), remedy)
		}
	}
	// A single edge given beside all wins.
	for name, band := range d.edges {
		if name == "all" {
			continue
		}
		for i, v := range p.Outline {
			if v.Edge == name {
				p.Edging[i] = band
			}
		}
	}
}

// webs warns of openings that leave little board.
func (r *reader) webs(d *draft, p *parts.Panel) {
	m := r.out.Material(p.Material)
	if m == nil {
		return
	}
	least := float64(2 * m.Measured)
	const many = 200 // openings: beyond it the pairs are not looked at
	for i, o := range p.Openings {
		pos := o.Pos
		if w := p.Outline.Web(o.Outline); w < least {
			r.list.Warn(pos, d.g.what, fmt.Sprintf("opening %q leaves a web of %.1f mm to the edge, less than twice the thickness", o.Name, w/float64(length.Millimetre)), "check that it is strong enough")
		}
		for k := 0; k < i && len(p.Openings) <= many; k++ {
			if w := p.Openings[k].Outline.Web(o.Outline); w < least {
				r.list.Warn(pos, d.g.what, fmt.Sprintf("openings %q and %q leave a web of %.1f mm between them, less than twice the thickness", p.Openings[k].Name, o.Name, w/float64(length.Millimetre)), "check that it is strong enough")
			}
		}
	}
}

// mirrored returns the other hand of a panel, its box at the origin again.
func mirrored(p parts.Panel) parts.Panel {
	o := p.Outline.Flipped()
	d := geom.Pt(0, 0).Sub(o.Box().Min)
	p.Outline = o.Translate(d)
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

// stockFor wants stock for every material that panels use.
func (r *reader) stockFor() {
	has := map[string]bool{}
	for i := range r.out.Stock {
		has[r.out.Stock[i].Material] = true
	}
	for i := range r.out.Panels {
		p := &r.out.Panels[i]
		if !has[p.Material] && len(r.out.Stock) > 0 {
			r.list.Add(p.Pos, fmt.Sprintf("panel %q", p.Name), fmt.Sprintf("there is no stock of %q", p.Material), "add a sheet of it to stock")
			has[p.Material] = true
		}
	}
}
