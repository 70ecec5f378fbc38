package jobfile

import (
	"fmt"

	"panelyard/parts"
	"panelyard/parts/length"
)

// Limits of a router.
const (
	maxRPM    = 100_000
	maxFlutes = 12
	maxTabs   = 100
	maxScrews = 1000
	leastFeed = 10 * length.Millimetre // a minute
)

// router reads the router of a job. What is not given stays zero, for
// parts.Router.Filled to fill in.
func (r *reader) router(g *group) {
	m := &r.out.Router
	m.Pos = g.v.pos
	m.Bit = g.length("bit", m.Bit, 0, 50*length.Millimetre)
	m.Gap = g.length("gap", m.Gap, 0, 100*length.Millimetre)
	m.Margin = g.length("margin", m.Margin, 0, 500*length.Millimetre)
	r.feeds(g)
	m.Pass = g.length("pass", 0, length.Millimetre/10, 100*length.Millimetre)
	if m.Overcut = g.length("overcut", parts.DefaultOvercut, 0, 20*length.Millimetre); m.Overcut == 0 {
		m.Overcut = parts.NoOvercut
	}
	switch g.choice("hold", "", "tabs", "skin", "none") {
	case "tabs":
		m.Hold = parts.HoldTabs
	case "skin":
		m.Hold = parts.HoldSkin
	case "none":
		m.Hold = parts.HoldNone
	}
	if v := g.get("tabs"); v != nil && v.shape != null {
		if t := r.group(v, "tabs", g.what, "write {length: 6, height: 3, count: 4}"); t != nil {
			m.Tabs.Length = t.length("length", 0, length.Millimetre, 100*length.Millimetre)
			m.Tabs.Height = t.length("height", 0, length.Millimetre/5, 100*length.Millimetre)
			m.Tabs.Count = t.whole("count", 0, 1, maxTabs)
			t.done("length", "height", "count")
		}
	}
	m.Skin = g.length("skin", 0, length.Millimetre/20, 20*length.Millimetre)
	if g.choice("direction", "climb", "climb", "conventional") == "conventional" {
		m.Direction = parts.Conventional
	}
	r.screws(g)
	g.done("bit", "gap", "margin", "rpm", "flutes", "chip_load", "feed", "plunge", "rapid", "pass", "overcut", "hold", "tabs", "skin", "direction", "screws")
}

// feeds reads how fast the router goes: feed, or what it is worked out from.
func (r *reader) feeds(g *group) {
	m := &r.out.Router
	m.RPM = g.whole("rpm", 0, 1, maxRPM)
	m.Flutes = g.whole("flutes", 0, 1, maxFlutes)
	m.ChipLoad = g.length("chip_load", 0, length.Micrometre, 5*length.Millimetre)
	m.Feed = g.length("feed", 0, leastFeed, 0)
	m.Plunge = g.length("plunge", 0, leastFeed, 0)
	m.Rapid = g.length("rapid", 0, leastFeed, 0)
	v := g.get("chip_load")
	switch {
	case v == nil:
	case g.has("feed"):
		g.add(v, "chip_load and feed are both given", "keep one of them: feed = rpm x flutes x chip_load")
	case !g.has("rpm") || !g.has("flutes"):
		g.add(v, "chip_load alone gives no feed", "add rpm: and flutes:, or write feed:")
	case m.RPM > 0 && m.Flutes > 0 && m.ChipLoad > 0:
		if f := m.Filled().Feed; f > length.Max || f < leastFeed {
			g.add(v, fmt.Sprintf("%d x %d x %s is a feed of %s a minute", m.RPM, m.Flutes, r.size(m.ChipLoad), r.size(f)), fmt.Sprintf("it must be from %s to %s", r.size(leastFeed), r.size(length.Max)))
			m.ChipLoad = 0
		}
	}
}

// screws reads where screws hold every sheet.
func (r *reader) screws(g *group) {
	for _, v := range g.list("screws", maxScrews) {
		t := r.group(v, "screws", g.what, "write {at: [x, y], diameter: 8}")
		if t == nil {
			continue
		}
		s := parts.Screw{Pos: v.pos}
		var ok bool
		if at := t.get("at"); at != nil {
			s.At, ok = r.point(t, at, "at", -length.Max)
		} else {
			t.add(v, "a screw has no place", "add at: [x, y], from the lower left corner of the sheet")
		}
		var given bool
		s.Diameter, given = t.need("diameter")
		if s.Diameter > 200*length.Millimetre {
			t.add(t.get("diameter"), fmt.Sprintf("diameter: %s is more than %s", r.size(s.Diameter), r.size(200*length.Millimetre)), "give the diameter of its head")
			given = false
		}
		t.done("at", "diameter")
		if ok && given {
			r.out.Router.Screws = append(r.out.Router.Screws, s)
		}
	}
}

// relief reads what is done about inside corners, or returns def.
func (g *group) relief(def parts.Relief) parts.Relief {
	switch g.choice("relief", def.String(), "none", "dog-bone", "t-bone") {
	case "dog-bone":
		return parts.DogBone
	case "t-bone":
		return parts.TBone
	}
	return parts.NoRelief
}
