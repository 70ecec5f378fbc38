package export

import (
	"panelyard/nest"
	"panelyard/parts/geom"
	"panelyard/parts/length"
)

// Freed is what a cut sets free: the pieces whose last side it is. Two panels that
// share a blank follow one another.
type Freed struct {
	Panels  []*PlacedPanel
	Offcuts []*nest.Offcut
}

// Freed returns, for every cut of the sheet in order, what comes free with it.
// It is for the plans of a saw whose kerf is given, as the judge accepts them: a
// piece is bounded by cuts and raw edges, and free once the last of the cuts
// along its sides is made. A piece that no cut bounds, a whole sheet, comes free
// with none. Cost: cuts times pieces.
func (m *SheetMap) Freed(kerf length.Length) []Freed {
	freed := make([]Freed, len(m.Cuts))
	for i := range m.Placements {
		p := &m.Placements[i]
		if p.Second {
			continue
		}
		if n := m.lastCut(p.Blank, kerf/2); n >= 0 {
			freed[n].Panels = append(freed[n].Panels, p)
			if p.With != nil {
				freed[n].Panels = append(freed[n].Panels, p.With)
			}
		}
	}
	for i := range m.Offcuts {
		if n := m.lastCut(m.Offcuts[i].Box, kerf/2); n >= 0 {
			freed[n].Offcuts = append(freed[n].Offcuts, &m.Offcuts[i])
		}
	}
	return freed
}

// lastCut returns the number of the last cut that runs along a whole side of b,
// half a kerf away from it, or -1.
func (m *SheetMap) lastCut(b geom.Box, half length.Length) int {
	for i := len(m.Cuts) - 1; i >= 0; i-- {
		c := &m.Cuts[i]
		if c.From.X == c.To.X {
			beside := c.From.X-half == b.Max.X || c.From.X+half == b.Min.X
			if beside && min(c.From.Y, c.To.Y) <= b.Min.Y && b.Max.Y <= max(c.From.Y, c.To.Y) {
				return i
			}
			continue
		}
		beside := c.From.Y-half == b.Max.Y || c.From.Y+half == b.Min.Y
		if beside && min(c.From.X, c.To.X) <= b.Min.X && b.Max.X <= max(c.From.X, c.To.X) {
			return i
		}
	}
	return -1
}
