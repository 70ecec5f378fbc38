package jobfile

import (
	"fmt"
	"strings"

	"panelyard/parts"
	"panelyard/parts/diag"
)

// banding is an edge and its band, as written.
type banding struct {
	edge, band string
	pos        diag.Pos
}

// edges reads which edges are banded.
func (r *reader) edges(d *draft) {
	v := d.g.get("edges")
	if v == nil || v.shape == null {
		return
	}
	g := r.group(v, "edges", d.g.what, "write {top: name of a band}")
	if g == nil {
		return
	}
	for _, e := range v.keys {
		if e.val.shape != scalar {
			g.add(e.val, fmt.Sprintf("edge %q: expected the name of a band, got %s", clip(e.key), describe(e.val)), "write "+clip(e.key)+": name of a band")
			continue
		}
		band := strings.TrimSpace(e.val.text)
		if r.out.Band(band) == nil {
			remedy := "add it to edging"
			if len(r.out.Bands) > 0 {
				var names []string
				for i := range r.out.Bands[:min(20, len(r.out.Bands))] {
					names = append(names, clip(r.out.Bands[i].Name))
				}
				remedy = "known bands: " + strings.Join(names, ", ")
			}
			g.add(e.val, fmt.Sprintf("unknown edge band %q", clip(band)), remedy)
			continue
		}
		d.edges = append(d.edges, banding{e.key, band, e.pos})
	}
}

// bandEdges puts the bands on the segments of the edges that have their names. A
// single edge given beside all wins.
func (r *reader) bandEdges(d *draft, p *parts.Panel) {
	p.Edging = make([]string, len(p.Outline))
	segments := map[string][]int{}
	var names []string
	for i, v := range p.Outline {
		if v.Edge == "" {
			continue
		}
		if len(segments[v.Edge]) == 0 {
			names = append(names, v.Edge)
		}
		segments[v.Edge] = append(segments[v.Edge], i)
	}
	for _, e := range d.edges {
		if e.edge == allEdges {
			for i := range p.Edging {
				p.Edging[i] = e.band
			}
		}
	}
	for _, e := range d.edges {
		if e.edge == allEdges {
			continue
		}
		if len(segments[e.edge]) == 0 && e.pos.Line > 0 {
			remedy := "name the edges of the profile with edge:, or use all"
			if len(names) > 0 {
				remedy = "its edges: " + strings.Join(names[:min(20, len(names))], ", ") + "; or all"
			}
			r.list.Add(e.pos, d.g.what, fmt.Sprintf("there is no edge %q", clip(e.edge)), remedy)
		}
		for _, i := range segments[e.edge] {
			p.Edging[i] = e.band
		}
	}
}
