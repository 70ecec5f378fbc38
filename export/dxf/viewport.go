package dxf

import "panelyard/parts/length"

// viewport writes the view with which a program opens the drawing: all of it from
// above, in a window half as wide again as it is high.
func (p *pen) viewport(b box) {
	const (
		aspect = 1.5
		air    = 1.05
		step   = float64(10 * length.Millimetre) // of grid and snap, which are off
	)
	up := max(b.y1-b.y0, (b.x1-b.x0)/aspect, step)
	p.record("VPORT", "AcDbViewportTableRecord", tableVPort, handleVPort, "*ACTIVE")
	p.pair(10, 0, 0) // the corners of the window on the screen
	p.pair(11, 1, 1)
	p.flat(12, (b.x0+b.x1)/2, (b.y0+b.y1)/2)
	p.flat(13, 0, 0) // where the snap begins
	p.flat(14, step, step)
	p.flat(15, step, step)
	p.pair(16, 0, 0) // seen from above, in the direction (0, 0, 1)
	p.number(36, 1)
	p.place(17, 0, 0)
	p.size(40, up*air)
	p.number(41, aspect)
	p.number(42, 50) // lens, of no effect
	for _, code := range [...]int{43, 44, 50, 51} {
		p.number(code, 0) // clipping, and no turn
	}
	p.whole(71, 0)
	p.whole(72, 1000) // smooth circles
	p.whole(73, 1)
	for code := 74; code <= 78; code++ {
		p.whole(code, 0)
	}
}

// pair writes two plain numbers.
func (p *pen) pair(code int, x, y float64) {
	p.number(code, x)
	p.number(code+10, y)
}
