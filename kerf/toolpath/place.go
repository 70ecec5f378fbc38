package toolpath

import (
	"math"
	"slices"

	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// Length returns the length of the line of a path, without leads.
func (p *Path) Length() length.Length { return developed(p.Line, p.Closed) }

// CutLength returns what the bit cuts in one pass: the line with its leads.
func (p *Path) CutLength() length.Length {
	return p.Length() + developed(p.Lead, false) + developed(p.Exit, false)
}

// Start returns where the bit goes down.
func (p *Path) Start() geom.Point {
	if p.Lead != nil {
		return p.Lead[0].At
	}
	return p.Line[0].At
}

// End returns where the bit comes up.
func (p *Path) End() geom.Point {
	switch {
	case p.Exit != nil:
		return p.Exit[len(p.Exit)-1].At
	case p.Closed:
		return p.Line[0].At
	}
	return p.Line[len(p.Line)-1].At
}

// At returns the place at a distance along the line of a path from its first vertex.
func (p *Path) At(distance length.Length) geom.Point {
	list := curves(p.Line, p.Closed)
	left := float64(distance)
	for i := range list {
		if left <= list[i].len || i == len(list)-1 {
			return round(list[i].at(min(max(left, 0), list[i].len)))
		}
		left -= list[i].len
	}
	return p.Line[0].At // a hole
}

func developed(line []outline.Vertex, closed bool) length.Length {
	sum := 0.0
	for _, c := range curves(line, closed) {
		sum += c.len
	}
	return length.Length(math.Round(sum))
}

// curves returns the curves of a line.
func curves(line []outline.Vertex, closed bool) []curve {
	var list []curve
	for i := range line {
		if i < len(line)-1 || closed {
			list = append(list, segment(line, i))
		}
	}
	return list
}

// curves returns all that the bit runs along in a pass. A hole that is drilled is a
// line of no length.
func (p *Path) curves() []curve {
	if len(p.Line) == 1 {
		v := exactly(p.Line[0].At)
		return []curve{line(v, v)}
	}
	return slices.Concat(curves(p.Lead, false), curves(p.Line, p.Closed), curves(p.Exit, false))
}

// Place returns the paths of a panel as it lies on a sheet: flipped about the y axis
// where it lies face down, then turned counter-clockwise by degrees, then moved; the
// way in which a placement is read. A flipped path runs the other way round, so that
// climb stays climb. Quarter turns are exact, others round the vertices by at most
// half a unit a coordinate.
func (ps Paths) Place(flip bool, turn int, shift geom.Point, copyNo int) Paths {
	placed := func(o outline.Outline) outline.Outline {
		if flip {
			o = o.Flipped()
		}
		return o.Turned(turn).Translate(shift)
	}
	q := ps
	q.Outline = placed(ps.Outline)
	q.Openings = nil
	for _, o := range ps.Openings {
		q.Openings = append(q.Openings, placed(o))
	}
	q.List = make([]Path, len(ps.List))
	for i, p := range ps.List {
		p.Copy = copyNo
		if flip {
			p = p.flipped()
		}
		for _, line := range []*[]outline.Vertex{&p.Line, &p.Lead, &p.Exit} {
			*line = outline.Outline(*line).Turned(turn).Translate(shift)
		}
		p.Reliefs = slices.Clone(p.Reliefs)
		for k, at := range p.Reliefs {
			p.Reliefs[k] = at.Turned(turn).Add(shift)
		}
		q.List[i] = p
	}
	return q
}

// flipped returns the mirror image of a path, a closed one run the other way round.
func (p Path) flipped() Path {
	total := p.Length()
	p.Line, p.Lead, p.Exit = mirrored(p.Line), mirrored(p.Lead), mirrored(p.Exit)
	p.Reliefs = slices.Clone(p.Reliefs)
	for i := range p.Reliefs {
		p.Reliefs[i].X = -p.Reliefs[i].X
	}
	if !p.Closed {
		return p
	}
	p.Line = outline.Outline(p.Line).Reversed() // its first vertex stays the first
	p.Lead, p.Exit = backwards(p.Exit), backwards(p.Lead)
	tabs := slices.Clone(p.Tabs)
	slices.Reverse(tabs)
	for i, t := range tabs {
		tabs[i].From, tabs[i].To = total-t.To, total-t.From
	}
	p.Tabs = tabs
	return p
}

func mirrored(line []outline.Vertex) []outline.Vertex {
	list := slices.Clone(line)
	for i, v := range list {
		list[i].At.X, list[i].Bulge = -v.At.X, -v.Bulge
	}
	return list
}

// backwards returns an open line run the other way.
func backwards(line []outline.Vertex) []outline.Vertex {
	var list []outline.Vertex
	for i := len(line) - 1; i >= 0; i-- {
		v := outline.Vertex{At: line[i].At}
		if i > 0 {
			v.Bulge = -line[i-1].Bulge
		}
		list = append(list, v)
	}
	return list
}
