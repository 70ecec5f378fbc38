package main

import (
	"context"
	"fmt"
	"sync"
	"time"

	"panelyard/nest"
)

// meter shows the progress of a search on one line of a terminal, and nothing
// elsewhere.
type meter struct {
	s     streams
	seen  func(what string)
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
func newMeter(ctx context.Context, s streams, stops string) *meter {
	m := &meter{s: s, on: s.terminal(), stops: stops, stopc: make(chan struct{}), seen: func(string) {}}
	if s.reached != nil {
		m.seen = func(what string) { s.reached(ctx, what) }
	}
	m.seen("begins")
	if m.on {
		m.wg.Add(1)
		go m.loop()
	}
	return m
}

// watch takes a better plan.
func (m *meter) watch(p nest.Progress) {
	m.mu.Lock()
	m.best = &p
	m.mu.Unlock()
	m.seen("plan")
}

// tell takes a text on how far a longer search is.
func (m *meter) tell(text string) {
	m.mu.Lock()
	m.told = text
	m.mu.Unlock()
	m.seen(text)
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
