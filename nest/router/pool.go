package router

import (
	"math"
	"math/rand/v2"
)

// pool keeps the layouts of least overlap that a length was given up with.
type pool struct {
	list []pooled
	n    int
}

type pooled struct {
	layout
	raw float64
}

const poolSize = 6

func (p *pool) clear() { p.n = 0 }

// add keeps a layout when it is among the best, in order of overlap.
func (p *pool) add(l *layout, raw float64) {
	if len(p.list) == 0 {
		p.list = make([]pooled, poolSize)
	}
	if p.n == poolSize {
		if raw >= p.list[p.n-1].raw {
			return
		}
		p.n--
	}
	p.list[p.n].copyFrom(l)
	p.list[p.n].raw = raw
	p.n++
	for i := p.n - 1; i > 0 && p.list[i].raw < p.list[i-1].raw; i-- {
		p.list[i], p.list[i-1] = p.list[i-1], p.list[i]
	}
}

// pick copies one of the layouts, mostly one of the better.
func (p *pool) pick(to *layout, rng *rand.Rand) {
	i := int(math.Abs(rng.NormFloat64()) * 0.25 * float64(p.n))
	to.copyFrom(&p.list[min(i, p.n-1)].layout)
}
