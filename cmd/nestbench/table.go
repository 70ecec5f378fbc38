package main

import (
	"fmt"
	"io"
	"os"
	"sync"
	"time"

	"github.com/mattn/go-isatty"
)

// table prints a row an instance as they come, and totals a set at the end. What
// is printed of lengths is rounded; --out has them in full.
type table struct {
	w     io.Writer
	name  int // width of the first column
	rows  []*result
	begun bool
	err   error // the first of writing
}

func newTable(w io.Writer, todo []*instance) *table {
	t := &table{w: w, name: len("instance")}
	for _, in := range todo {
		t.name = max(t.name, len(in.Name), len(in.set)+len(" (strips)"))
	}
	return t
}

func (t *table) print(format string, args ...any) {
	if _, err := fmt.Fprintf(t.w, format, args...); err != nil && t.err == nil {
		t.err = err
	}
}

// The columns after the first.
const columns = "  %20s  %20s  %7s  %12s  %8s%s\n"

// row prints the row of a result.
func (t *table) row(r *result) {
	if !t.begun {
		t.begun = true
		t.print("%-*s"+columns, t.name, "instance", "result", "best known", "ratio", "bound", "seconds", "")
	}
	t.rows = append(t.rows, r)
	best, ratio, note := "-", "-", ""
	if b := r.in.best(); b > 0 {
		best = r.in.measure(b)
	}
	if q, ok := r.ratio(); ok {
		ratio = fmt.Sprintf("%.4f", q)
	}
	value := "-"
	if r.bins > 0 {
		value = r.in.measure(r.value())
	}
	limit := fmt.Sprintf("%.0f", r.bound)
	if r.in.strip() {
		limit = fmt.Sprintf("%.6g", r.bound)
	}
	switch {
	case r.unplaced > 0:
		note = fmt.Sprintf("  %d pieces found no place", r.unplaced)
	case r.value() <= r.bound:
		note = "  proved"
	}
	t.print("%-*s"+columns, t.name, r.in.Name, value, best, ratio, limit, fmt.Sprintf("%.1f", r.seconds), note)
	if len(r.curve) > 0 {
		t.print("%-*s ", t.name, "")
		for _, s := range r.curve {
			v := "none"
			switch {
			case s.value > 0 && r.in.strip():
				v = fmt.Sprintf("%.2f %%", r.shown(s))
			case s.value > 0:
				v = fmt.Sprintf("%.0f", s.value)
			}
			t.print("  %g s: %s", s.seconds, v)
		}
		t.print("\n")
	}
}

// measure writes a length with the density that goes with it, or a number of bins.
func (in *instance) measure(v float64) string {
	if in.strip() {
		return fmt.Sprintf("%.6g (%.2f %%)", v, 100*in.area/(in.Container.Width*v))
	}
	return fmt.Sprintf("%.0f", v)
}

// total is the sum of a set.
type total struct {
	set     string
	strip   bool
	count   int // instances
	rated   int // of them with a best known value
	proved  int
	bins    int
	best    float64 // bins of the rated, or the sum of densities in percent
	ratedBy float64 // bins of the rated in results
	bound   float64
	ratio   float64 // sum
	density float64 // sum, in percent
	squared float64 // sum
	seconds float64
}

// totals prints a line a set, in the order in which they came.
func (t *table) totals() {
	var list []*total
	find := func(r *result) *total {
		for _, s := range list {
			if s.set == r.in.set && s.strip == r.in.strip() {
				return s
			}
		}
		list = append(list, &total{set: r.in.set, strip: r.in.strip()})
		return list[len(list)-1]
	}
	for _, r := range t.rows {
		s := find(r)
		s.count++
		s.seconds += r.seconds
		s.bins += r.bins
		s.bound += r.bound
		s.density += 100 * r.density
		s.squared += r.squared
		if r.unplaced == 0 && r.value() <= r.bound {
			s.proved++
		}
		if q, ok := r.ratio(); ok {
			s.rated++
			s.ratio += q
			s.ratedBy += float64(r.bins)
			if r.in.strip() {
				s.best += 100 * r.in.area / (r.in.Container.Width * r.in.best())
			} else {
				s.best += r.in.best()
			}
		}
	}
	if len(list) > 0 {
		t.print("\n")
	}
	for _, s := range list {
		t.print("%s\n", s.text(t.name))
	}
}

// text is the line of a set.
func (s *total) text(width int) string {
	n := float64(s.count)
	if s.strip {
		out := fmt.Sprintf("%-*s  %d instances, mean density %.2f %%", width, s.set+" (strips)", s.count, s.density/n)
		if s.rated > 0 {
			out += fmt.Sprintf(", best known %.2f %% and mean ratio %.4f on %d", s.best/float64(s.rated), s.ratio/float64(s.rated), s.rated)
		}
		return out + fmt.Sprintf(", %d proved, %.1f s", s.proved, s.seconds)
	}
	out := fmt.Sprintf("%-*s  %d instances, %d bins, bound %.0f, mean F %.4f", width, s.set+" (bins)", s.count, s.bins, s.bound, s.squared/n)
	if s.rated > 0 {
		out += fmt.Sprintf(", %.0f bins to best known %.0f and mean ratio %.4f on %d", s.ratedBy, s.best, s.ratio/float64(s.rated), s.rated)
	}
	return out + fmt.Sprintf(", %d proved, %.1f s", s.proved, s.seconds)
}

// meter shows on one line of a terminal, and nowhere else, how a search goes.
type meter struct {
	w     io.Writer
	on    bool
	what  string
	start time.Time
	mu    sync.Mutex
	last  string
	done  chan struct{}
	wg    sync.WaitGroup
}

func newMeter(w io.Writer, what string) *meter {
	m := &meter{w: w, what: what, start: time.Now(), done: make(chan struct{})}
	if f, ok := w.(*os.File); ok && isatty.IsTerminal(f.Fd()) {
		m.on = true
		m.wg.Go(m.loop)
	}
	return m
}

// show takes the value of a better layout.
func (m *meter) show(r *result, value float64) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.last = r.in.measure(value)
}

func (m *meter) loop() {
	tick := time.NewTicker(500 * time.Millisecond)
	defer tick.Stop()
	for {
		select {
		case <-m.done:
			return
		case <-tick.C:
		}
		m.mu.Lock()
		last := m.last
		m.mu.Unlock()
		fmt.Fprintf(m.w, "\r\x1b[K%s  %.0f s  %s", m.what, time.Since(m.start).Seconds(), last)
	}
}

// stop ends the meter and clears its line.
func (m *meter) stop() {
	if m.on {
		close(m.done)
		m.wg.Wait()
		fmt.Fprint(m.w, "\r\x1b[K")
	}
}
