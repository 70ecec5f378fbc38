package main

import (
	"fmt"
	"sync"
	"time"

	"panelyard/nest"
)

// meter shows the progress of a search on one line of a terminal, and nothing
// elsewhere.
type meter struct {
	s     streams
	on    bool
	stops string // what Ctrl-C does
	stopc chan struct{}
	wg    sync.WaitGroup

	mu   sync.Mutex
	best *nest.Progress
	told string // in place of the best plan
}

// newMeter starts a meter; its first line appears after half a second, so that
// short runs stay quiet.
func newMeter(s streams, stops string) *meter {
	m := &meter{s: s, on: s.terminal(), stops: stops, stopc: make(chan struct{})}
	if m.on {
		m.wg.Add(1)
		go m.loop()
	}
	return m
}

// watch takes a better plan.
func (m *meter) watch(p nest.Progress) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.best = &p
}

// tell takes a text on how far a longer search is.
func (m *meter) tell(text string) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.told = text
}

func (m *meter) loop() {
	defer m.wg.Done()
	start := time.Now()
	tick := time.NewTicker(500 * time.Millisecond)
	defer tick.Stop()
	for {
		select {
		case <-m.stopc:
			return
		case <-tick.C:
		}
		m.mu.Lock()
		text := "searching"
		switch {
		case m.told != "":
			text = m.told
		case m.best != nil:
			text = fmt.Sprintf("best so far: %s, found after %.1f s", count(m.best.Sheets, "sheet"), m.best.Elapsed.Seconds())
		}
		m.mu.Unlock()
		fmt.Fprintf(m.s.err, "\r\x1b[K%4.0f s  %s (Ctrl-C %s)", time.Since(start).Seconds(), text, m.stops)
	}
}

// stop ends the meter and clears its line.
func (m *meter) stop() {
	if m.on {
		close(m.stopc)
		m.wg.Wait()
		fmt.Fprint(m.s.err, "\r\x1b[K")
	}
}
