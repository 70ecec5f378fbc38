package export

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"panelyard/kerf"
	"panelyard/kerf/toolpath"
	"panelyard/parts/length"
)

// route works out the paths of the bit for all panels and on all sheets, in their
// order, and what they take. What the bit leaves, and paths near a screw, become warnings. Cost: the
// vertices of the panels, and n² for n paths of a sheet.
func (x *Dossier) route() {
	router := x.Job.Router
	own := make([]*toolpath.Paths, len(x.Panels))
	of := func(part int) *toolpath.Paths {
		if own[part] == nil {
			row := &x.Panels[part]
			paths, list := toolpath.Of(row.Item, router, row.Thickness)
			own[part] = &paths
			row.Paths, row.Shut = toolpath.Order([]toolpath.Paths{paths}), paths.Shut
			x.Warnings = append(x.Warnings, list...)
		}
		return own[part]
	}
	zones := toolpath.Screws(router)
	for i := range x.Sheets {
		m := &x.Sheets[i]
		var panels []toolpath.Paths
		for k, pl := range x.Plan.Sheets[i].Placements {
			panels = append(panels, of(pl.Part).Place(pl.Flip, pl.Turn, x.Problem.Shift(pl), m.Placements[k].Copy))
		}
		m.Paths = toolpath.Order(panels)
		m.Effort = toolpath.Estimate(m.Paths, router, 0)
		x.Totals.Effort = x.Totals.Effort.Add(m.Effort)
		x.Warnings = append(x.Warnings, toolpath.Crossings(m.ID, m.Paths, zones, x.Demand.Kerf, toolpath.ScrewMargin)...)
	}
	for part := range x.Panels {
		of(part) // also of what has no place: its drawing is written
	}
}

// Held says how a path leaves its panel: by tabs, on a skin, or free.
func Held(p *toolpath.Path) string {
	switch {
	case p.Kind != toolpath.Outline:
		return ""
	case len(p.Tabs) > 0:
		return fmt.Sprintf("%d tabs", len(p.Tabs))
	case p.Skin > 0:
		return "skin until the last pass"
	}
	return "not held"
}

// What says what a path cuts.
func What(p *toolpath.Path) string {
	switch {
	case len(p.Line) == 1:
		return strings.TrimSpace("hole " + p.Opening)
	case p.Opening != "":
		return p.Kind.String() + " " + p.Opening
	}
	return p.Kind.String()
}

// Minutes writes a time rounded up to half a minute, from two hours on in hours and
// minutes.
func Minutes(t time.Duration) string {
	const half = 30 * time.Second
	t = (t + half - 1) / half * half
	if t >= 2*time.Hour {
		return fmt.Sprintf("%d h %02d min", int(t.Hours()), int(t.Minutes())%60)
	}
	whole := ""
	if n := int(t.Minutes()); n > 0 || t == 0 {
		whole = strconv.Itoa(n)
	}
	if t%time.Minute != 0 {
		whole += "½"
	}
	return whole + " min"
}

// Deepest returns how deep a path goes.
func Deepest(p *toolpath.Path) length.Length {
	if len(p.Depths) == 0 {
		return 0
	}
	return p.Depths[len(p.Depths)-1]
}

// routed reports whether a router cuts the plan.
func (x *Dossier) routed() bool { return x.Demand.Cut == kerf.Router }
