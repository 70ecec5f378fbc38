package export_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"panelyard/export"
	"panelyard/export/exporttest"
	"panelyard/kerf"
	"panelyard/kerf/toolpath"
	"panelyard/parts"
	"panelyard/parts/geom"
	"panelyard/parts/length"
	"panelyard/parts/outline"
)

// along returns points on a run of the bit, at most a millimetre apart.
func along(p *toolpath.Path) [][2]float64 {
	var list [][2]float64
	line := p.Line
	n := len(line)
	if !p.Closed {
		n--
	}
	for i := range n {
		a, b := line[i], line[(i+1)%len(line)]
		x, y, dx, dy := a.At.X.MM(), a.At.Y.MM(), (b.At.X - a.At.X).MM(), (b.At.Y - a.At.Y).MM()
		steps := int(math.Hypot(dx, dy)*2) + 2
		for k := range steps {
			t := float64(k) / float64(steps)
			if a.Bulge == 0 {
				list = append(list, [2]float64{x + t*dx, y + t*dy})
				continue
			}
			// The point of an arc by the angle that has been run.
			theta := 4 * math.Atan(a.Bulge)
			r := math.Hypot(dx, dy) / 2 / math.Sin(theta/2)
			turn := math.Atan2(dy, dx) - theta/2
			phi := t * theta
			c := 2 * r * math.Sin(phi/2)
			list = append(list, [2]float64{x + c*math.Cos(turn+phi/2), y + c*math.Sin(turn+phi/2)})
		}
	}
	return list
}

// far returns the distance of a point from a ring.
func far(ring geom.Ring, x, y float64) float64 {
	least := math.Inf(1)
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		ax, ay, dx, dy := a.X.MM(), a.Y.MM(), (b.X - a.X).MM(), (b.Y - a.Y).MM()
		t := max(0, min(1, ((x-ax)*dx+(y-ay)*dy)/(dx*dx+dy*dy)))
		least = min(least, math.Hypot(x-ax-t*dx, y-ay-t*dy))
	}
	return least
}

// On the sheets of a plan the bit keeps off every panel by its radius, and is within
// 0.01 mm of that along its own outline: panels turned and of both hands, arcs and
// openings included.
func TestRoutes(t *testing.T) {
	d := exporttest.Dossier(t, exporttest.Job(exporttest.Nasty...), kerf.Router)
	radius := d.Demand.Kerf.MM() / 2
	outlines, openings := 0, 0
	for i := range d.Sheets {
		m := &d.Sheets[i]
		var rings []geom.Ring
		for k := range m.Placements {
			pl := &m.Placements[k]
			for _, o := range append([]outline.Outline{pl.Outline}, pl.Openings...) {
				rings = append(rings, o.Cover(length.Micrometre))
			}
		}
		for k := range m.Paths {
			p := &m.Paths[k]
			if p.Kind == toolpath.Outline {
				outlines++
			} else {
				openings++
			}
			most := 0.0
			for _, at := range along(p) {
				least := math.Inf(1)
				for _, r := range rings {
					least = min(least, far(r, at[0], at[1]))
				}
				if least < radius-0.01 {
					t.Fatalf("%s, path %d of %s: %.4f mm from a panel at (%.3f, %.3f), the bit's radius is %v", m.ID, k+1, p.Panel, least, at[0], at[1], radius)
				}
				most = max(most, least)
			}
			if p.Kind == toolpath.Outline && most > radius+0.01 && !strings.Contains(p.Panel, "side") {
				t.Errorf("%s, path %d of %s leaves %.4f mm", m.ID, k+1, p.Panel, most-radius)
			}
		}
		if len(m.Paths) > 0 && m.Effort.Time() <= 0 {
			t.Errorf("%s: no time for %d paths", m.ID, len(m.Paths))
		}
	}
	if outlines != d.Totals.Panels || openings == 0 {
		t.Errorf("%d outlines of %d panels, %d openings", outlines, d.Totals.Panels, openings)
	}
}

// A screw in the way of the bit is told of, with its sheet.
func TestScrewInTheWay(t *testing.T) {
	j := exporttest.Job()
	j.Router.Screws = []parts.Screw{{At: geom.Pt(12*mm, 300*mm), Diameter: 8 * mm}}
	d := exporttest.Dossier(t, j, kerf.Router)
	if s := d.Warnings.Error(); !strings.Contains(s, "screw 1 at (12, 300)") || !strings.Contains(s, "S1") {
		t.Errorf("warnings: %s", s)
	}
}

func TestMinutes(t *testing.T) {
	for s, want := range map[int]string{0: "0 min", 1: "½ min", 800: "13½ min", 7200: "2 h 00 min", 15180: "4 h 13 min"} {
		if got := export.Minutes(time.Duration(s) * time.Second); got != want {
			t.Errorf("%v s: %q, want %q", s, got, want)
		}
	}
}
