package svgmap

import (
	"cmp"
	"math"
	"slices"

	"panelyard/parts/length"
)

// dimSize is the size of the text of running dimensions, and dimGap the least
// distance of two of them.
const (
	dimSize = 2.2
	dimGap  = 2.8
)

// dimension is a running dimension from the lower left corner of the sheet.
type dimension struct {
	at   float64 // on the page
	text string
	box  rect // of the text; empty where only a tick has room
}

// dimensions chooses the running dimensions: the sides of blanks, the end of the
// sheet first, then those that most panels share. Where texts would overlap, the
// lesser one is left to a tick.
func (p *page) dimensions() {
	xs, ys := map[length.Length]int{}, map[length.Length]int{}
	for i := range p.m.Placements {
		if p.m.Placements[i].Second {
			continue // its blank has been counted
		}
		b := p.m.Placements[i].Blank
		xs[b.Min.X]++
		xs[b.Max.X]++
		ys[b.Min.Y]++
		ys[b.Max.Y]++
	}
	xs[p.m.Stock.Length] = math.MaxInt
	ys[p.m.Stock.Width] = math.MaxInt
	bottom := p.sheet.y + p.sheet.h
	p.across = p.running(xs, p.x, func(at, w float64) rect { return rect{at - dimSize/2, bottom + 2, dimSize, w} })
	p.up = p.running(ys, p.y, func(at, w float64) rect { return rect{p.sheet.x - 2 - w, at - dimSize/2, w, dimSize} })
	for _, d := range slices.Concat(p.across, p.up) {
		p.take(d.box)
	}
}

// running returns the dimensions of one side in order.
func (p *page) running(at map[length.Length]int, place func(length.Length) float64, box func(at, w float64) rect) []dimension {
	var list []length.Length
	for l := range at {
		if l > 0 {
			list = append(list, l)
		}
	}
	slices.SortFunc(list, func(a, b length.Length) int { return cmp.Or(-cmp.Compare(at[a], at[b]), cmp.Compare(a, b)) })
	var out []dimension
	for _, l := range list {
		d := dimension{at: place(l), text: p.write.Short(l)}
		d.box = box(d.at, textWidth(d.text, dimSize))
		for _, o := range out {
			if o.box != (rect{}) && math.Abs(o.at-d.at) < dimGap {
				d.box = rect{}
				break
			}
		}
		out = append(out, d)
	}
	slices.SortFunc(out, func(a, b dimension) int { return cmp.Compare(a.at, b.at) })
	return out
}
