package router

import (
	"math/bits"
	"sync"
)

// meeting lets chains go on from the best layout that one of them has found. With
// a counted budget they wait for each other after every so many passes, so that
// what they find does not depend on how fast they are; else none waits.
type meeting struct {
	counted bool
	tokens  chan struct{} // one for each worker; a chain that waits gives its own back

	mu    sync.Mutex
	woken *sync.Cond
	in    uint64 // chains that take part, a bit each
	here  uint64 // of them, those that wait
	round int
	offer []offer
	best  offer
}

// offer is a layout with its worth. It belongs to the fine level or the coarse one.
type offer struct {
	layout
	worth worth
	fine  bool
	some  bool // there is one
}

// set makes o a copy of a layout.
func (o *offer) set(l *layout, w worth, fine bool) {
	o.copyFrom(l)
	o.worth, o.fine, o.some = w, fine, true
}

// between is the number of passes between two meetings.
const between = 50

func newMeeting(counted bool, chains, workers int) *meeting {
	m := &meeting{counted: counted, in: 1<<chains - 1, offer: make([]offer, chains), tokens: make(chan struct{}, workers)}
	m.woken = sync.NewCond(&m.mu)
	return m
}

// come begins the work of a chain.
func (m *meeting) come() { m.tokens <- struct{}{} }

// leave ends the part a chain takes.
func (m *meeting) leave(c *chain) {
	<-m.tokens
	m.mu.Lock()
	defer m.mu.Unlock()
	m.take(c)
	m.in &^= 1 << c.number
	if m.in != 0 {
		m.choose()
	}
}

// take takes the best layout of a chain as its offer.
func (m *meeting) take(c *chain) {
	if o := &m.offer[c.number]; !o.some || c.worth.less(o.worth) {
		o.set(&c.best, c.worth, c.fine == nil)
	}
}

// meet offers the best layout of a chain to the others and takes over a better one.
// It reports whether it did.
func (m *meeting) meet(c *chain) bool {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.take(c)
	if !m.counted || bits.OnesCount64(m.in) == 1 {
		m.pick()
	} else {
		m.here |= 1 << c.number
		if round := m.round; !m.choose() {
			<-m.tokens
			for round == m.round {
				m.woken.Wait()
			}
			m.mu.Unlock()
			m.tokens <- struct{}{}
			m.mu.Lock()
		}
	}
	if !m.best.worth.less(c.worth) {
		return false
	}
	c.adopt(&m.best)
	return true
}

// choose picks the best offer and wakes all when everyone is here.
func (m *meeting) choose() bool {
	if m.here != m.in {
		return false
	}
	m.pick()
	m.here = 0
	m.round++
	m.woken.Broadcast()
	return true
}

// pick makes the best offer the best layout. Those of chains that left count.
func (m *meeting) pick() {
	for k := range m.offer {
		if o := &m.offer[k]; o.some && (!m.best.some || o.worth.less(m.best.worth)) {
			m.best.set(&o.layout, o.worth, o.fine)
		}
	}
}

// adopt makes an offer the best layout of the chain.
func (c *chain) adopt(o *offer) {
	if o.fine && c.fine != nil {
		c.refine()
	}
	c.best.copyFrom(&o.layout)
	c.worth = o.worth
	if !o.fine && c.fine == nil {
		c.reshape(&c.best)
	}
}
