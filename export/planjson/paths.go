package planjson

import (
	"encoding/json"
	"strconv"

	"panelyard/kerf/toolpath"
	"panelyard/parts/outline"
)

// newPath returns path i of a sheet.
func newPath(i int, p *toolpath.Path) Path {
	q := Path{
		Order: i + 1, Part: p.Panel, Copy: p.Copy, Kind: p.Kind.String(), Opening: p.Opening, Closed: p.Closed,
		Line: line(p.Line), Lead: line(p.Lead), Exit: line(p.Exit), Ramp: mm(p.Ramp), Depths: []json.Number{},
	}
	for _, d := range p.Depths {
		q.Depths = append(q.Depths, mm(d))
	}
	for _, t := range p.Tabs {
		q.Tabs = append(q.Tabs, Tab{mm(t.From), mm(t.To), mm(t.Depth)})
	}
	return q
}

// line returns a line with its bulges, which are written as exactly as they are.
func line(vertices []outline.Vertex) [][3]json.Number {
	list := make([][3]json.Number, len(vertices))
	for i, v := range vertices {
		list[i] = [3]json.Number{mm(v.At.X), mm(v.At.Y), json.Number(strconv.FormatFloat(v.Bulge, 'f', -1, 64))}
	}
	return list
}
