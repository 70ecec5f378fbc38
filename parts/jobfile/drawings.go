package jobfile

import (
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"panelyard/parts"
	"panelyard/parts/diag"
	"panelyard/parts/drawing"
	"panelyard/parts/dxf"
	"panelyard/parts/length"
	"panelyard/parts/outline"
	"panelyard/parts/svg"
)

// source is a drawing that panels take their outlines from.
type source struct {
	at     *value // the entry that names it
	file   string
	panels []drawing.Panel // nil after a finding
	used   []bool          // by a panel of the job
}

// drawings reads the drawings that a job lists, and returns the panels that are
// taken from them as they are: those of a drawing that says its material.
func (r *reader) drawings(list []*value) []taking {
	var taken []taking
	for _, v := range list {
		g := r.group(v, "", "drawing", "write file: and what else there is")
		if g == nil {
			continue
		}
		file, at := g.word("file")
		if at == nil && !g.has("file") {
			g.add(v, "has no file", "add file: and the name of a DXF or SVG file")
		}
		opt := drawing.Options{Layers: r.layers(g)}
		opt.Tolerance = g.length("tolerance", 0, 1, drawing.MaxTolerance)
		opt.Arcs = g.length("arcs", 0, 1, drawing.MaxTolerance)
		opt.KeepSegments = g.yes("keep_segments")
		unit, _ := r.unitOf(g, "unit")
		t := taking{g: g}
		for _, key := range []string{"material", "grain", "quantity", "face"} {
			if e := g.get(key); e != nil {
				t.keys = append(t.keys, entry{key, e.pos, e})
			}
		}
		g.done("file", "layers", "unit", "tolerance", "arcs", "keep_segments", "material", "grain", "quantity", "face")
		if at == nil {
			continue
		}
		g.what = fmt.Sprintf("drawing %q", clip(file))
		if s := r.sources[file]; s != nil {
			g.add(at, fmt.Sprintf("the drawing is listed already in line %d", s.at.pos.Line), "list it once")
			continue
		}
		t.source = r.open(at, file, dxf.Options{Unit: unit}, opt)
		if len(t.keys) > 0 {
			taken = append(taken, t)
		}
	}
	return taken
}

// taking is panels of a drawing that are taken as they are, with what the entry says
// of them all.
type taking struct {
	g      *group
	source *source
	keys   []entry
}

// values returns a panel of the job for each panel of the drawing that no other
// panel of the job takes its outline from.
func (t *taking) values() []*value {
	var list []*value
	for i := range t.source.panels {
		p := &t.source.panels[i]
		if t.source.used[i] {
			continue
		}
		pos := diag.Pos{File: t.source.file, Line: p.Line}
		text := func(s string) *value { return &value{pos: pos, shape: scalar, text: s} }
		shape := &value{pos: pos, shape: mapping, keys: []entry{
			{"drawing", pos, text(t.source.at.text)}, {"panel", pos, text(p.Name)},
		}}
		list = append(list, &value{pos: pos, shape: mapping, keys: slices.Concat(
			[]entry{{"name", pos, text(p.Name)}, {"outline", pos, shape}}, t.keys)})
	}
	return list
}

// layers reads which layers hold what: the name of one, or a list of names, for
// each role.
func (r *reader) layers(g *group) []drawing.Rule {
	v := g.get("layers")
	if v == nil {
		return nil
	}
	l := r.group(v, "layers", g.what, "write {outline: name, opening: name, ignore: [name, name]}")
	if l == nil {
		return nil
	}
	var rules []drawing.Rule
	// What is ignored comes first, so that a pattern can make an exception.
	for _, role := range []drawing.Role{drawing.Ignore, drawing.Opening, drawing.Outline} {
		v := l.get(role.String())
		if v == nil {
			continue
		}
		names := []*value{v}
		if v.shape == sequence {
			names = v.items
		}
		for _, n := range names {
			if n.shape != scalar || strings.TrimSpace(n.text) == "" {
				l.add(n, fmt.Sprintf("%s: expected the name of a layer, got %s", role, describe(n)), "write a name; a * stands for any characters")
				continue
			}
			rules = append(rules, drawing.Rule{Pattern: strings.TrimSpace(n.text), Role: role})
		}
	}
	l.done("outline", "opening", "ignore")
	return rules
}

// unitOf reads a unit; the zero unit when none is given.
func (r *reader) unitOf(g *group, key string) (length.Unit, bool) {
	s, v := g.word(key)
	if v == nil {
		return length.Unit{}, false
	}
	u, err := length.ParseUnit(s)
	if err != nil {
		g.add(v, key+": "+err.Error(), "write mm, cm, m, in or ft")
	}
	return u, err == nil
}

// open reads a drawing and keeps it. It has no panels after a finding.
func (r *reader) open(at *value, file string, read dxf.Options, opt drawing.Options) *source {
	s := &source{at: at, file: r.beside(file)}
	if r.sources == nil {
		r.sources = map[string]*source{}
	}
	r.sources[file] = s
	src, ok := r.load(at, file, dxf.MaxBytes)
	if !ok {
		return s
	}
	var d *drawing.Drawing
	var list diag.List
	if svg.IsSVG(src) {
		d, list = svg.Read(s.file, src, svg.Options{Unit: read.Unit, Tolerance: read.Tolerance})
	} else {
		d, list = dxf.Read(s.file, src, read)
	}
	r.list = append(r.list, list...)
	if d == nil {
		return s
	}
	s.panels, list = drawing.Panels(d, opt)
	r.list = append(r.list, list...)
	s.used = make([]bool, len(s.panels))
	r.out.Readings = append(r.out.Readings, parts.Reading{File: s.file, Text: drawing.Table(d, opt, s.panels)})
	return s
}

// source returns a drawing, which is read now when the job does not list it.
func (r *reader) source(file string, at *value) *source {
	if s := r.sources[file]; s != nil {
		return s
	}
	return r.open(at, file, dxf.Options{}, drawing.Options{})
}

// MaxFiles is how many drawings and lists a job may take panels from.
const MaxFiles = 200

// beside returns the path of a file that a job names, which is beside the job file.
func (r *reader) beside(file string) string {
	if filepath.IsAbs(file) {
		return file
	}
	return filepath.Join(filepath.Dir(r.file), filepath.FromSlash(file))
}

// load reads a file that the job names.
func (r *reader) load(at *value, file string, most int) ([]byte, bool) {
	if r.files++; r.files > MaxFiles {
		if r.files == MaxFiles+1 {
			r.list.Add(at.pos, "", fmt.Sprintf("the job names more than %d files", MaxFiles), "put several panels into one drawing")
		}
		return nil, false
	}
	if r.input == nil {
		r.list.Add(at.pos, "", fmt.Sprintf("names the file %q, and other files cannot be read here", clip(file)), "read the job from its own file")
		return nil, false
	}
	src, err := r.input(r.beside(file), most)
	if err != nil {
		r.list = append(r.list, diag.Finding{
			Pos: at.pos, Part: fmt.Sprintf("file %q", clip(file)), Fact: diag.Brief(err), Err: err,
			Remedy: "names of files are meant beside the job file; check the name and the permissions",
		})
		return nil, false
	}
	return src, true
}

// drawn takes outline and openings of a panel from a drawing.
func (r *reader) drawn(d *draft, g *group) {
	defer g.done("drawing", "panel")
	file, at := g.word("drawing")
	name, nameAt := g.word("panel")
	if at == nil {
		return
	}
	s := r.source(file, at)
	if s.panels == nil {
		return // said already
	}
	k := -1
	switch {
	case nameAt == nil && g.has("panel"):
		return
	case nameAt == nil && len(s.panels) == 1:
		k = 0
	case nameAt == nil:
		g.add(at, fmt.Sprintf("drawing: %q holds %d panels", clip(file), len(s.panels)), "add panel: and one of "+panelNames(s.panels))
		return
	default:
		k = slices.IndexFunc(s.panels, func(p drawing.Panel) bool { return p.Name == name })
		if k < 0 {
			g.add(nameAt, fmt.Sprintf("panel: there is no %q in the drawing %q", clip(name), clip(file)), "its panels: "+panelNames(s.panels))
			return
		}
	}
	s.used[k] = true
	p := &s.panels[k]
	box := p.Outline.Box()
	d.panel.Outline = nameSides(p.Outline.Translate(box.Min.Neg()))
	for i := range p.Openings {
		o := &p.Openings[i]
		b := o.Outline.Box()
		d.drawn = append(d.drawn, cutout{
			v: at, name: o.Name, outline: o.Outline.Translate(b.Min.Neg()), at: b.Min.Sub(box.Min),
		})
	}
}

// panelNames lists the first names of panels.
func panelNames(list []drawing.Panel) string {
	var names []string
	for i := range list {
		if i == 20 {
			names = append(names, "…")
			break
		}
		names = append(names, clip(list[i].Name))
	}
	return strings.Join(names, ", ")
}

// nameSides names the straight edges of a drawn outline that lie along its box:
// bottom, right, top and left.
func nameSides(o outline.Outline) outline.Outline {
	size := o.Box().Size()
	for i, v := range o {
		b := o[(i+1)%len(o)].At
		switch {
		case v.Edge != "" || v.Bulge != 0:
		case v.At.Y == 0 && b.Y == 0:
			o[i].Edge = "bottom"
		case v.At.X == size.X && b.X == size.X:
			o[i].Edge = "right"
		case v.At.Y == size.Y && b.Y == size.Y:
			o[i].Edge = "top"
		case v.At.X == 0 && b.X == 0:
			o[i].Edge = "left"
		}
	}
	return o
}

// unused warns of panels of drawings that the job does not take.
func (r *reader) unused() {
	for _, file := range slices.Sorted(maps.Keys(r.sources)) {
		s := r.sources[file]
		var idle []drawing.Panel
		for i := range s.panels {
			if !s.used[i] {
				idle = append(idle, s.panels[i])
			}
		}
		if len(idle) > 0 {
			r.list.Warn(s.at.pos, fmt.Sprintf("drawing %q", clip(s.at.text)), fmt.Sprintf("of its %d panels %d not used: %s", len(s.panels), len(idle), panelNames(idle)), "name them in panels, or give the drawing a material to take them all")
		}
	}
}
