package dxf

import "panelyard/parts/geom"

// entity begins an entity; class is its name in R2000.
func (p *pen) entity(kind, class string, on Layer) {
	p.text(0, kind)
	if p.flavour == R2000 {
		p.hex(5, p.handle)
		p.handle++
		p.hex(330, handleModelRecord)
		p.text(100, "AcDbEntity")
	}
	p.text(8, on.String())
	p.class(class)
}

// class names the part of an R2000 record to which the next groups belong.
func (p *pen) class(name string) {
	if p.flavour == R2000 {
		p.text(100, name)
	}
}

// at writes x, y and z of a point on the grid.
func (p *pen) at(code int, q geom.Point) { p.place(code, float64(q.X), float64(q.Y)) }

func (s Polyline) write(p *pen, on Layer) {
	closed := 0
	if s.Closed {
		closed = 1
	}
	if p.flavour == R2000 {
		p.entity("LWPOLYLINE", "AcDbPolyline", on)
		p.whole(90, len(s.Path))
		p.whole(70, closed)
		p.number(43, 0) // width of the line
		for i := range s.Path {
			p.flat(10, float64(s.Path[i].At.X), float64(s.Path[i].At.Y))
			p.bulge(s.bulge(i))
		}
		return
	}
	p.entity("POLYLINE", "", on)
	p.whole(66, 1) // vertices follow
	p.place(10, 0, 0)
	p.whole(70, closed)
	for i := range s.Path {
		p.entity("VERTEX", "", on)
		p.at(10, s.Path[i].At)
		p.bulge(s.bulge(i))
	}
	p.entity("SEQEND", "", on)
}

// bulge returns the bulge of the segment that leaves corner i; 0 where there is none.
func (s Polyline) bulge(i int) float64 {
	if i == len(s.Path)-1 && !s.Closed {
		return 0
	}
	return s.Path[i].Bulge
}

func (s Circle) write(p *pen, on Layer) {
	p.entity("CIRCLE", "AcDbCircle", on)
	x, y, r := s.middle()
	p.place(10, x, y)
	p.size(40, r)
}

func (s Line) write(p *pen, on Layer) {
	p.entity("LINE", "AcDbLine", on)
	p.at(10, s.From)
	p.at(11, s.To)
}

func (s Point) write(p *pen, on Layer) {
	p.entity("POINT", "AcDbPoint", on)
	p.at(10, s.At)
}

func (s Text) write(p *pen, on Layer) {
	p.entity("TEXT", "AcDbText", on)
	p.at(10, s.At)
	p.size(40, float64(s.Height))
	p.text(1, escaped(s.Content))
	p.number(50, float64(s.Turn))
	p.text(7, styleName)
	p.class("AcDbText") // twice: what would follow is the alignment
}
