package toolpath

import (
	"cmp"
	"fmt"
	"slices"

	"panelyard/parts"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// A panel of less than SmallArea, in mm2, or narrower than SmallWidth comes loose
// easily: common practice, no source.
const (
	SmallArea  = 100_000.0
	SmallWidth = 100 * length.Millimetre
)

// IsSmall reports whether a panel of an outline comes loose easily when it is freed.
func IsSmall(o outline.Outline) bool {
	size := o.Box().Size()
	return o.AreaMM2() < SmallArea || min(size.X, size.Y) < SmallWidth
}

// MaxPasses is how many passes a path may take.
const MaxPasses = 200

// Depths returns the depths of the passes through a board, below its top: equal steps
// of at most pass down to overcut below it; with a skin, down to where that is left
// and then through in one. A pass that would need more than [MaxPasses] is taken
// deeper.
func Depths(thickness, overcut, pass, skin length.Length) []length.Length {
	down := thickness + overcut
	if skin > 0 && skin < thickness {
		down = thickness - skin
	} else {
		skin = 0
	}
	n := length.Length(MaxPasses)
	if pass > 0 {
		n = min(n, (down+pass-1)/pass)
	}
	var list []length.Length
	for k := length.Length(1); k <= n; k++ {
		list = append(list, down*k/n)
	}
	if skin > 0 {
		list = append(list, thickness+overcut)
	}
	return list
}

// TabHeight returns the height of tabs where the job does not say: a quarter of the
// thickness, from 1.5 to 3 mm and at most half the thickness (common practice, no
// source).
func TabHeight(thickness length.Length) length.Length {
	h := min(max(thickness/4, parts.LeastTabHeight), parts.MostTabHeight)
	return min(h, thickness/2)
}

// The number of tabs: one for each stretch of tabEvery, four or more. Fewer than
// leastTabs do not hold a panel. Common practice, no source.
const (
	tabEvery  = 600 * length.Millimetre
	usualTabs = 4
	leastTabs = 3
)

// hold says how the panel is held while the path round it is cut.
func (f *finder) hold(p *Path) {
	how := f.router.Hold
	if p.Kind != Outline || how == parts.HoldNone {
		return
	}
	pos, t := f.item.Panel.Pos, f.paths.Thickness
	asked := how == parts.HoldTabs
	if how == parts.HoldAuto {
		how = parts.HoldTabs
		if p.Small {
			how = parts.HoldSkin
		}
	}
	if how == parts.HoldTabs {
		height := f.router.Tabs.Height
		if height >= t {
			f.list.Warn(pos, f.part(), fmt.Sprintf("tabs of %s mm are as high as the board of %s mm, half of it is taken", height.Decimal(), t.Decimal()), "give a lesser height")
			height = t / 2
		}
		if height == 0 {
			height = TabHeight(t)
		}
		want := cmp.Or(f.router.Tabs.Count, max(usualTabs, int((p.Length()+tabEvery-1)/tabEvery)))
		p.Tabs = tabs(p, f.router.Tabs.Length+f.paths.Bit, f.paths.Bit, t-height, want)
		least := leastTabs
		if f.router.Tabs.Count > 0 {
			least = min(least, f.router.Tabs.Count)
		}
		if len(p.Tabs) >= least {
			if len(p.Tabs) < f.router.Tabs.Count {
				f.list.Warn(pos, f.part(), fmt.Sprintf("its straight edges have room for %d tabs, %d are asked for", len(p.Tabs), f.router.Tabs.Count), "ask for fewer or shorter ones, or say hold: skin")
			}
			return
		}
		p.Tabs = nil
		if asked {
			f.list.Warn(pos, f.part(), "its straight edges have no room for three tabs, a skin holds it", "say hold: skin, or ask for shorter tabs")
		}
	}
	p.Skin = f.router.Skin
	if p.Skin >= t {
		f.list.Warn(pos, f.part(), fmt.Sprintf("a skin of %s mm is as thick as the board, nothing holds it", p.Skin.Decimal()), "give a lesser skin")
		p.Skin = 0
	}
}

// tabs returns up to want tabs of a span on the straight pieces of a closed path,
// spread evenly, off the ends of the pieces by the width of the bit and two spans
// apart from middle to middle.
func tabs(p *Path, span, bit, depth length.Length, want int) []Tab {
	type stretch struct{ from, to length.Length } // where the middle of a tab may be
	var free []stretch
	total := length.Length(0)
	o := outline.Outline(p.Line)
	for i, v := range o {
		l := o.SegmentLength(i)
		if s := (stretch{total + bit + span/2, total + l - bit - span/2}); v.Bulge == 0 && s.from <= s.to {
			free = append(free, s)
		}
		total += l
	}
	var at []length.Length
	apart := func(a, b length.Length) length.Length {
		d := (a - b).Abs()
		return min(d, total-d)
	}
	add := func(m length.Length) {
		if len(at) < want && !slices.ContainsFunc(at, func(a length.Length) bool { return apart(a, m) < 2*span }) {
			at = append(at, m)
		}
	}
	for k := range want {
		ideal := total * length.Length(2*k+1) / length.Length(2*want)
		best, found := length.Length(0), false
		for _, s := range free {
			m := min(max(ideal, s.from), s.to)
			// Across the start of the path the other end of a stretch may be nearer.
			if apart(s.from, ideal) < apart(m, ideal) {
				m = s.from
			}
			if apart(s.to, ideal) < apart(m, ideal) {
				m = s.to
			}
			if !found || apart(m, ideal) < apart(best, ideal) {
				best, found = m, true
			}
		}
		if found {
			add(best)
		}
	}
	slices.SortStableFunc(free, func(a, b stretch) int { return cmp.Compare(b.to-b.from, a.to-a.from) })
	for _, s := range free {
		add((s.from + s.to) / 2)
	}
	slices.Sort(at)
	var list []Tab
	for _, m := range at {
		list = append(list, Tab{m - span/2, m - span/2 + span, depth})
	}
	return list
}
