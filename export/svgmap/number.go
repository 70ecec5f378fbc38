package svgmap

import (
	"math"
	"slices"

	"panelyard/nest"
)

// number is the order of a cut, in a circle.
type number struct {
	n    int // from 1
	x, y float64
	r    float64 // of the circle
}

func (n number) box() rect { return rect{n.x - n.r, n.y - n.r, 2 * n.r, 2 * n.r} }

// circles are the radii of the circles that are tried.
var circles = [...]float64{1.75, 1.45}

// numberCuts puts the order of every cut in a circle: beyond the edge of the
// sheet where the cut ends there, otherwise on its line as near to an end as may
// be, clear of everything written. A cut whose number finds no place is counted:
// the cut list has it.
func (p *page) numberCuts() {
	for i := range p.m.Cuts {
		if n, ok := p.numberOf(&p.m.Cuts[i]); ok {
			n.n = i + 1
			p.numbers = append(p.numbers, n)
			p.take(n.box())
		} else {
			p.unnumbered++
		}
	}
}

// alongs are the places on a cut that are tried, as parts of its length.
var alongs = [...]float64{0.03, 0.97, 0.12, 0.88, 0.22, 0.78, 0.34, 0.66, 0.5, 0.43, 0.57, 0.28, 0.72, 0.17, 0.83, 0.07, 0.93}

func (p *page) numberOf(c *nest.Cut) (number, bool) {
	a, b := spot{p.x(c.From.X), p.y(c.From.Y)}, spot{p.x(c.To.X), p.y(c.To.Y)}
	long := math.Hypot(b.x-a.x, b.y-a.y)
	for _, r := range circles {
		if n, ok := p.beyond(c, r); ok && p.free(n.box()) {
			return n, true
		}
		tries := alongs[:]
		if long > 0 {
			// Just past an end, where another cut or the edge runs.
			tries = append(slices.Clone(tries), -0.9*r/long, 1+0.9*r/long)
		}
		for _, t := range tries {
			n := number{x: a.x + t*(b.x-a.x), y: a.y + t*(b.y-a.y), r: r}
			n.x = max(p.sheet.x, min(p.sheet.x+p.sheet.w, n.x))
			n.y = max(p.sheet.y, min(p.sheet.y+p.sheet.h, n.y))
			if p.free(n.box()) {
				return n, true
			}
		}
	}
	return number{}, false
}

// beyond returns the place of a number past the upper or right edge of the sheet,
// if its cut runs out there: nothing but trim lies between them.
func (p *page) beyond(c *nest.Cut, r float64) (number, bool) {
	const near, gap = 2.0, 0.5
	u := p.m.Usable.Max
	if c.From.X == c.To.X {
		if end := max(c.From.Y, c.To.Y); end >= u.Y && p.y(end)-p.sheet.y <= near {
			return number{x: p.x(c.From.X), y: p.sheet.y - gap - r, r: r}, true
		}
		return number{}, false
	}
	if end := max(c.From.X, c.To.X); end >= u.X && p.sheet.x+p.sheet.w-p.x(end) <= near {
		return number{x: p.sheet.x + p.sheet.w + gap + r, y: p.y(c.From.Y), r: r}, true
	}
	return number{}, false
}
